"""What the sheet Estimate asks for: its inputs as tables, and the sentence for the first one that is missing."""

from __future__ import annotations

from collections.abc import Iterable

from sheetfuncs.estimating import NOISE
from workbook_template.figures.notation import (
    Numbered,
    all_of,
    blank,
    empty,
    fixed,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Name, Node, Part
from workbook_template.sheets.coating import ASKED as COATING_ASKED
from workbook_template.sheets.coating import REFUSED as COATING_REFUSED
from workbook_template.sheets.inputs import (
    AN_ERROR,
    ANYTHING,
    IN_OR_MM,
    LENGTH,
    LENGTH_OR_NONE,
    MINUTES,
    MORE_THAN_ZERO,
    MOST_PIECES,
    NOT_NEGATIVE,
    SPEED,
    Check,
    Input,
    chosen,
    filled,
    in_bounds,
    in_words,
    left_empty,
    none_of,
    one_of,
    retype,
    whole,
)
from workbook_template.trade.prices import MARGIN_WORDS, margin_of_all

SHARE = Check("decimal", "0", "0.999", "between", "Type a share such as 5%, less than 100%; 0 for none.")
UP_TO_ALL = Check("decimal", "0", "1", "between", "Type a share from 0% to 100%.")
SURCHARGE = Check("decimal", "0", "4", "between", "Type a share such as 50%, 400% at most; 0 for none.")
YES_NO = one_of(("yes", "no"), "Choose yes or no.")


QUANTITIES, RACK_LINES, MOST_PASSES = 5, 12, 200
QUANTITY_CELLS = tuple(the[f"estimate_quantity_{n}"] for n in range(1, QUANTITIES + 1))


QUANTITY = Input(
    "",
    "Quantity",
    "quantity to price",
    "count",
    whole(1, MOST_PIECES),
    "How many good pieces. Five quantities, rising for the chart; empty ones stay empty.",
    True,
)

BY_LATHE = (
    Input("lathe", "Lathe", "name of the lathe", "text", ANYTHING,
          "Which lathe this column is for. Empty: the one of that number on the sheet Lathe.", True),
    Input("rpm", "Spindle, rpm", "spindle speed while threading", "General", SPEED,
          "Turns a minute in threading. Empty: the speed of the sheet Lathe.", True),
    Input("passes", "Passes, spring passes too", "passes at the dials for one start", "count", whole(1, MOST_PASSES),
          "All passes of one start, spring passes among them. Empty: those of the sheet Setup.", True),
    Input("approach", "Approach", "run before the thread", "entry", LENGTH_OR_NONE,
          "Run of the tool before the thread begins, working unit; 0 for none."),
    Input("overrun", "Overrun", "run past the thread", "entry", LENGTH_OR_NONE,
          "Run of the tool past the end of the thread, working unit; 0 for none."),
    Input("return_seconds", "Seconds by hand a pass", "seconds by hand at each pass", "0.0#", MINUTES,
          "Winding back and setting the dial, seconds a pass. With power return: setting the dial alone."),
    Input("power_return", "Back under power?", "whether the half-nuts stay shut", "text", YES_NO,
          "yes where the dial rule of this lathe and thread forbids opening the half-nuts. Empty: by the sheet Lathe.",
          True),
    Input("setup_minutes", "Set up, minutes a job", "minutes to set up", "0.0#", MINUTES,
          "Minutes to set up, once a job."),
    Input("turning", "Turn, minutes a piece", "minutes of turning a piece", "0.0#", MINUTES,
          "Minutes a piece to face, turn, chamfer and part off, threading not."),
    Input("handling", "Handle, minutes a piece", "minutes of handling a piece", "0.0#", MINUTES,
          "Minutes a piece by hand: load, unload, deburr."),
)  # fmt: skip
"""Inputs that each of the two lathes has."""

BY_JOB = (
    Input("length", "Thread length", "length of thread to cut", "entry", LENGTH,
          "Length of full thread, working unit. Empty: that of the sheet Job.", True),
    Input("check_minutes", "Gauge, minutes each", "minutes to gauge one piece", "0.0#", MINUTES,
          "Minutes to measure one piece; 0 where that is in the handling."),
    Input("gauged", "Share gauged", "share of the pieces that is gauged", "0%", UP_TO_ALL,
          "100% where every piece is measured. Empty where the next line says which are.", True),
    Input("every", "Or the first and every nth", "the first and every so many pieces are gauged", "count",
          whole(1, MOST_PIECES),
          "10: pieces 1, 10, 20 and so on are measured. Empty: the share above.", True),
    Input("rest", "Rest and delay, on run time", "time allowance on the run", "0.0%", SHARE,
          "Share of all minutes but the set-up, for personal needs, fatigue and delays: as 15%; 0 for none."),
    Input("unit", "Lengths here are typed in", "unit that the lengths of this sheet are typed in", "text", IN_OR_MM,
          "in or mm. It stays as chosen when the working unit changes: then no price is shown until all are retyped."),
)  # fmt: skip

CHARGED_BY = ("whole bars", "length used", "supplied")
SUPPLIED = chosen(the.estimate_material_by, "supplied")
"""Whether the customer supplies the material, so that none is charged."""

MATERIAL = (
    Input("part_shape", "Part", "shape of the part at its largest", "text",
          one_of(("round", "hexagon"), "Choose round or hexagon."), "round, or hexagon. Empty: round.", True),
    Input("part_size", "Its diameter, or across flats", "largest diameter of the part, or across its flats", "entry",
          LENGTH, "Largest diameter, or across the flats. Empty: that of an external thread.", True),
    Input("bar_line", "Bar, line of the list", "line of the list of bars", "count", whole(1, RACK_LINES),
          "Number of the bar in the list on the sheet Bars; the next four cells stay empty. Empty: type the bar there.",
          True),
    Input("bar_shape", "Bar", "shape of the bar", "text",
          one_of(("round", "hexagon"), "Choose round or hexagon."), "round, or hexagon."),
    Input("bar_size", "Size, or across flats", "diameter or size across flats", "entry", LENGTH,
          "Diameter of the bar, or its size across flats, working unit."),
    Input("bar_length", "Bar length", "length of a bar", "entry", LENGTH, "Length of a bar as bought."),
    Input("bar_price", "Price of a bar", "price of a bar", "0.00", NOT_NEGATIVE, "What one bar costs."),
    Input("part_length", "Part length", "length of the part", "entry", LENGTH, "Length of the finished part."),
    Input("facing", "Facing", "length faced off a piece", "entry", LENGTH_OR_NONE,
          "Faced off a piece, both ends; 0 for none."),
    Input("part_off", "Part-off", "width of the part-off tool", "entry", LENGTH_OR_NONE,
          "Width of the part-off tool or saw."),
    Input("stub", "Bar stub", "end of a bar that makes no piece", "entry", LENGTH_OR_NONE,
          "What the chuck holds at the end."),
    Input("material_by", "Material is charged by", "what of the bars is charged", "text",
          one_of(CHARGED_BY, "Choose whole bars, length used or supplied."),
          "whole bars; length used where the rest of a bar goes back to the rack; supplied: bars or blanks of the "
          "customer, not charged. A supplied blank needs no bar. Empty: whole bars.", True),
    Input("density", "Weight per volume", "weight per cube of the working unit", "0.0000###", MORE_THAN_ZERO,
          "Weight of a cubic inch or cubic millimetre of the material, for the weight of a bar. May be empty.", True),
)  # fmt: skip
"""Inputs of the part and its bar."""

MONEY = (
    Input("currency", "Money", "name of the money", "text", ANYTHING,
          "What the prices are in; it heads them.", True),
    Input("rate", "Rate an hour", "rate an hour of machine and operator", "0.00", NOT_NEGATIVE,
          "Your shop's rate an hour."),
    Input("scrap", "Scrap, share of pieces", "share of the pieces that is scrap", "0.0%", SHARE, "As 5%; 0 for none."),
    Input("overhead", "Overhead on labour", "overhead as a share of labour", "0.0%", SURCHARGE, "As 50%; 0 for none."),
    Input("profit_kind", "Profit as", "margin or markup", "text",
          one_of(("margin", "markup"), "Choose margin or markup."),
          "margin: a share of the price. markup: a share of the cost. 20% margin is 25% markup."),
    Input("profit", "Margin or markup", "margin or markup", "0.0%", SURCHARGE, "As 20%; 0 for none."),
    Input("tooling", "Tooling for the job", "tooling", "0.00", NOT_NEGATIVE, "Tools for this job; 0 for none."),
    Input("gauges", "Gauges for the job", "gauges bought or hired", "0.00", NOT_NEGATIVE,
          "Bought or hired; 0 for none."),
    Input("outside", "Outside work a piece", "outside work a piece", "0.00", NOT_NEGATIVE,
          "As plating, a piece; 0 for none."),
    Input("coating", "Coating a piece", "coating, as outside work a piece", "0.00", NOT_NEGATIVE,
          "What the coater asks for a piece, for the thickness on the sheet Job. Empty: the part is not coated.", True),
    Input("learning", "Learning", "average hand time at twice the quantity", "0%",
          Check("decimal", "0.5", "0.999", "between", "Type 50% to 99%, or leave empty: no learning."),
          "Wright's rule, on hand time alone: 90% where twice the pieces take 90% of the average. The hand minutes are "
          "then those of the first piece. Empty: none.", True),
    Input("minimum_charge", "Minimum charge", "least price of a line", "0.00", NOT_NEGATIVE,
          "The least that your shop asks for a line of an order, of any quantity. On Quote too. Empty: none.",
          True),
)  # fmt: skip
"""Inputs of money."""

RACK = (
    Input("shape", "Shape", "shape of a bar of the list", "text", MATERIAL[3].check, "round, or hexagon."),
    Input("size", "Size, across flats", "its diameter or size across flats", "entry", LENGTH,
          "Diameter, or size across flats, working unit."),
    Input("length", "Bar length", "its length", "entry", LENGTH, "Length of a bar as bought."),
    Input("price", "Price of a bar", "its price", "0.00", NOT_NEGATIVE, "What one bar costs."),
)  # fmt: skip
"""Inputs of a line of the list of bars that the shop can have."""

FROM_RACK = {"bar_shape": "shape", "bar_size": "size", "bar_length": "length", "bar_price": "price"}
"""Inputs of the bar that a line of the list answers."""

NO_BAR = all_of(
    SUPPLIED, empty(say(*(the[f"estimate_{name}_used"] for name in ("bar_shape", "bar_size", "bar_length"))))
)
"""Whether the customer supplies blanks, one a piece: no bar is named then."""

NOT_ASKED = {
    "bar_price": SUPPLIED,
    **dict.fromkeys(
        ("bar_shape", "bar_size", "bar_length", "facing", "part_off", "stub"), the.estimate_blanks.same(True)
    ),
}
"""What may stay empty where the customer supplies the material."""

BAR_LINE = next(item for item in MATERIAL if item.name == "bar_line")
OF_LINE = when(blank(the.estimate_bar_line), "", say(", line ", the.estimate_bar_line, " of the list of bars"))
"""Where a bar that lacks something is from."""


Objection = tuple[Node, Part]
"""What stands against a price: a condition, and what to say where it holds."""


def used(name: str) -> str:
    """The cell that holds what counts of an input: typed, or from elsewhere in the workbook."""
    return f"estimate_{name}_used" if name in FROM_RACK else f"estimate_{name}"


def faults(number: int) -> list[Objection]:
    """What must be filled in for one of the lathes."""
    missing = [_unless(item, *_asked(item, cell)) for item, cell in _items(number) if not item.may_be_empty]
    return [
        (the.thread_fault.differs(""), say("Sheet Job: ", the.thread_fault)),
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (retype(the.estimate_unit), RETYPE),
        wrong(BAR_LINE.label, BAR_LINE.check, the.estimate_bar_line),
        (all_of(no(blank(the.estimate_bar_line)), empty(say(*(the[used(name)] for name in FROM_RACK)))),
         say("Line ", the.estimate_bar_line, " of the list of bars is empty.")),
        (all_of(no(blank(the.estimate_bar_line)), RACK_STALE), RACK_RETYPE),
        *missing,
    ]  # fmt: skip


def _unless(item: Input, lacking: Node, sentence: Part) -> Objection:
    """What is asked for, but where the customer's material answers it."""
    not_asked = NOT_ASKED.get(item.name)
    return (lacking if not_asked is None else all_of(no(not_asked), lacking)), sentence


def lacks(item: Input, cell: Node, of: str = "") -> list[Objection]:
    """What stands against a number that another sheet takes from here."""
    label = f"{item.label}{of}"
    missing = (left_empty(cell), f"Sheet Estimate: enter {label[:1].lower()}{label[1:]}.")
    return [missing, wrong(f"Sheet Estimate: {label}", item.check, cell)]


def passed_on(place: str, sentence: Node) -> Node:
    """A sentence of another sheet behind its name, without the word that begins a step; one of a third as it stands."""
    step, third = "Next: ", "Sheet "
    own = when(xl.LEFT(sentence, len(step) - 2).same(step[:-2]), xl.MID(sentence, len(step) + 1, LONGEST), sentence)
    return when(xl.LEFT(sentence, len(third)).same(third), sentence, say(f"{place}: ", own))


LONGEST = 500
"""Signs of a sentence."""


RETYPE = say(
    "The lengths on Estimate were typed in ", in_words(the.estimate_unit), ", and the working unit is now ",
    the.unit_text, ": type them and the weight per volume anew, the length on Job too, then choose ", the.unit_text,
    " beside them on Estimate.",
)  # fmt: skip
"""Why there is no price once the working unit was changed: no length that was typed is read in another unit."""


RACK_STALE = all_of(retype(the.rack_unit), xl.COUNTA(the.rack_size, the.rack_length) > 0)
"""Whether the list of bars is of another unit."""
RACK_RETYPE = say(
    "Bars was typed in ", in_words(the.rack_unit), ", the working unit is now ", the.unit_text,
    "; type its lengths anew, then choose ", the.unit_text, " over them.",
)  # fmt: skip
"""What is said of it then."""


MISTAKES = ("of_job", "of_money")
"""What is typed for both lathes; in two parts, as a formula has its bounds."""


def mistakes(number: int) -> list[Objection]:
    """What is typed for one of the lathes and can't be."""
    return _wrong_of(BY_LATHE, f"_{number}")


def mistakes_of_both() -> dict[str, list[Objection]]:
    """What is typed for both lathes and can't be."""
    quantities = [wrong(f"{QUANTITY.label} {n}", QUANTITY.check, cell) for n, cell in enumerate(QUANTITY_CELLS, 1)]
    return dict(zip(MISTAKES, (_wrong_of((*BY_JOB, *MATERIAL)), [*_wrong_of(MONEY), *quantities])))


def _wrong_of(items: Iterable[Input], suffix: str = "") -> list[Objection]:
    numbers = (item for item in items if item.dimension != "text" and item is not BAR_LINE)
    return [wrong(_label(item), item.check, the[used(item.name) + suffix]) for item in numbers]


def _label(item: Input) -> str | Node:
    """What an input is called; what a line of the list answers, with its line."""
    return say(item.label, OF_LINE) if item.name in FROM_RACK else item.label


def clashes(number: int) -> list[Objection]:
    """What does not go together, or comes from nowhere, for one of the lathes."""
    my, shape = Numbered(number), the.estimate_part_shape
    power, may_open = my.estimate_power_used, my.lathe_half_nuts
    speed_lacks = all_of(blank(my.estimate_rpm), no(blank(the.surface_speed)), the.speed_fault.differs(""))
    return [
        (none_of(shape, "", "round", "hexagon"), "Part: choose round or hexagon."),
        (speed_lacks, "Next: enter the spindle speed on Estimate; the line Speed of Lathe says what it lacks."),
        (no(known(my.estimate_rpm_used)), "Next: enter the spindle speed on Estimate, or describe the lathe on Lathe."),
        (none_of(power, "yes", "no"),
         "Next: say on Estimate whether it comes back under power, or describe the lathe on Lathe."),
        (all_of(may_open.same(False), power.same("no")),
         f"Back under power is no, but on the sheet Lathe the half-nuts stay shut on lathe {number}: empty it."),
        (all_of(no(known(my.estimate_passes_used)), no(filled(the.passes))),
         "Next: enter the passes on Estimate or on Setup."),
        (no(known(my.estimate_passes_used)), "Next: correct the passes or spring passes on Setup."),
        (no(known(the.estimate_length_used)), "Next: enter the thread length on Estimate or on Job."),
        (xl.COUNT(*QUANTITY_CELLS).same(0), "Next: type at least one quantity."),
        (no(known(the.estimate_part_used)), "Next: enter the part's largest diameter, or across its flats."),
        (all_of(blank(the.estimate_gauged), blank(the.estimate_every)),
         "Next: enter the share gauged, or the first and every nth piece."),
        (all_of(known(the.estimate_gauged), known(the.estimate_every)),
         "Share gauged, and the first and every nth piece: they exclude each other, empty one of them."),
        (all_of(known(the.estimate_bar_line), xl.COUNTA(*(the[f"estimate_{name}"] for name in FROM_RACK)) > 0),
         "Bar, line of the list, and a bar that is typed: they exclude each other, empty one of them."),
        (none_of(the.estimate_material_by, "", *CHARGED_BY),
         "Material is charged by: choose whole bars, length used or supplied."),
        (COATING_REFUSED, say("Sheet Job: ", the.coating_fault)),
        (all_of(COATING_ASKED, blank(the.estimate_coating)),
         "Next: enter the coating a piece, as the sheet Job gives its thickness; 0 where the customer coats."),
        (the.estimate_part_length < the.estimate_length_used - NOISE, "The part is shorter than its thread."),
        *smaller_than_thread(the.estimate_part_used),
        (margin_of_all(the.estimate_profit), MARGIN_WORDS),
        (when(known(the.estimate_bar_size_used), too_small(the.estimate_bar_size_used, the.estimate_bar_needed), False),
         "The bar is too small for the part."),
        (when(xl.COUNT(the.estimate_usable, the.estimate_each).same(2), the.estimate_usable < the.estimate_each, False),
         say("The bar less its stub, ", fixed(the.estimate_usable, the.decimals),
             ", is shorter than one piece with facing and part-off, ", fixed(the.estimate_each, the.decimals), ".")),
        (no(known(the.estimate_per_bar)),
         "Pieces a bar can't be counted: look over part length, facing, part-off, bar length and stub."),
    ]  # fmt: skip


def smaller_than_thread(part: Node) -> list[Objection]:
    """What stands against a part that does not hold its thread: one thinner than its crests, a nut within its bore."""
    crest = when(known(the.crest_min), the.crest_min, the.pitch_diameter_basic)
    outside, inside = the.thread_side.differs("internal"), the.thread_side.same("internal")
    return [
        (when(outside, part < crest - NOISE, False),
         say("The part is smaller than its thread: its major diameter is ", fixed(crest, the.decimals), " at least.")),
        (when(inside, part <= the.diameter, False),
         say("The part is no larger than the thread inside it, ", fixed(the.diameter, the.decimals), ".")),
    ]  # fmt: skip


def too_small(size: Node, needed: Node) -> Node:
    """Whether a bar is too small for the part, and not by the last bits of the arithmetic alone."""
    return size < needed - NOISE


def _items(number: int) -> list[tuple[Input, Name]]:
    lathe = [(item, the[f"estimate_{item.name}_{number}"]) for item in BY_LATHE]
    return lathe + [(item, the[used(item.name)]) for item in (*BY_JOB, *MATERIAL, *MONEY)]


def _asked(item: Input, cell: Node) -> Objection:
    """An input that is missing."""
    label = item.label.lower()
    if item.dimension == "text":
        words = (item.check.formula1 or "").strip('"').split(",")
        what, condition = f"Next, {label.rstrip('?')}", none_of(cell, *words)
        refusal = item.check.asked
        return condition, say(what, OF_LINE, f": {refusal}") if item.name in FROM_RACK else f"{what}: {refusal}"
    if item.name in FROM_RACK:
        where = when(blank(the.estimate_bar_line), ", on Estimate or in its line")
        return left_empty(cell), say("Next", OF_LINE, f": enter {label}", where, ".")
    return left_empty(cell), f"Next: enter {label}."


def wrong(label: str | Node, check: Check, cell: Node) -> Objection:
    """What is typed and out of range, or no number at all."""
    no_number = when(known(cell), "", say(xl.IFERROR(say('"', cell, '"'), AN_ERROR), " is no number; "))
    something = filled(cell)
    return when(known(cell), no(in_bounds(check, cell)), something), say(label, ": ", no_number, check.asked)
