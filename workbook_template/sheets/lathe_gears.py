"""Levers and change gears of a lathe: what is nearest to the lead of the job, or is typed, and whether it can be set.

The rules for gears are those of sheetfuncs.gears.
"""

from __future__ import annotations

from sheetfuncs.gears import SHAFT_TEETH, SMALLEST_IDLER
from sheetfuncs.lathe import ANOTHER_LEAD
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    Numbered,
    all_of,
    any_of,
    first,
    fixed,
    given,
    joined,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets.inputs import (
    DECIMAL,
    LENGTH,
    MORE_THAN_ZERO,
    believed,
    chosen,
    filled,
    in_text,
    none_of,
)
from workbook_template.sheets.lathe_terms import EXACT, GEARS, HANDLE_GEARS, MM_PER_WORKING_UNIT, least, length

PER_MILLION = 1000000
_LONG_KNOWN = believed(LENGTH, the.thread_length)


def figures(my: Numbered) -> tuple[Figure, ...]:
    """The figures behind the gearing of one lathe."""
    error = my.lathe_lead_error_ppm
    both = all_of(*(believed(MORE_THAN_ZERO, one) for one in (my.end_driver, my.end_driven)))
    used = when(my.use_fault.same(""), my.use_lead)
    listed = {"box": xl.INDEX(my.box_lead, my.box_at), "train": xl.INDEX(my.train_lead, my.train_at)}
    levers = _by_choice(my, my.use_levers & "", train=xl.INDEX(my.train_levers, my.train_at) & "")
    over = when(_LONG_KNOWN, the.thread_length, the.diameter)
    return (
        Figure("end_ratio", "driver over driven of the gears that the lever chart is for",
               when(both, my.end_driver / my.end_driven)),
        Figure("box_least", "error of the nearest lever position", least(my.box_off)),
        Figure("box_at", "its row in the chart", _row(my.box_least, my.box_off)),
        Figure("train_least", "error of the nearest train of the chart", least(my.train_off)),
        Figure("train_at", "its row in the chart", _row(my.train_least, my.train_off)),
        Figure("gear_choice", "where the gearing comes from: use, box, train or none", _choice(my)),
        Figure("use_lead", "lead that the gears in use cut, mm", lead_cut(my, my.use_levers, *_gears(my, "use"))),
        Figure("use_fault", "what is missing for the gears in use", _use_fault(my)),
        Figure("cut_lead", "lead that is cut, mm", _by_choice(my, used, **listed)),
        *(Figure(f"pick_{x}", f"gear {x} of the train", _picked(my, x)) for x in GEARS),
        Figure("pick_levers", "levers of the train", levers),
        Figure("pick_teeth", "teeth of the train together", joined("+", *_gears(my, "pick"))),
        *_idlers(my),
        Figure("error_over_engagement", "error of the lead over the thread, or one diameter without a length",
               when(known(error), error / PER_MILLION * over)),
        Figure("another_lead", "whether the gears cut another lead altogether",
               when(known(error), xl.ABS(error) > ANOTHER_LEAD, False)),
        Figure("gears_wanted", "drivers over driven gears that would cut the lead of the job", _gears_wanted(my)),
        Figure("error_words", "error of the lead in words", _error_words(my)),
        Figure("shelf_words", "gears in use that the shelf does not have", _shelf_words(my)),
        Figure("room_words", "whether the quadrant takes the train", _room_words(my)),
        Figure("shaft_words", "gears that run into a shaft", _shaft_words(my)),
    )  # fmt: skip


def _gears(my: Numbered, train: str) -> tuple[Node, ...]:
    return tuple(my[f"{train}_{gear}"] for gear in GEARS)


def _gears_wanted(my: Numbered) -> Node:
    """The ratio of the end gears now, times what the lead must change; the levers stay as they are."""
    a, b, c, d = _gears(my, "pick")
    train = when(all_of(a > 0, b > 0), a / b * when(all_of(c > 0, d > 0), c / d, 1))
    now = when(my.gear_choice.same("box"), my.end_ratio, train)
    wanted = now * the.job_lead_mm / my.cut_lead
    return when(all_of(known(my.cut_lead), known(the.job_lead_mm), known(now)), xl.IFERROR(wanted, ""))


def _row(value: Node, column: Node) -> Node:
    return when(known(value), xl.MATCH(value, column, 0))


def _choice(my: Numbered) -> Node:
    box, train = my.box_least, my.train_least
    return first(
        (my.lathe_fault.differs(""), ""),
        (any_of(*(filled(one) for one in (*_gears(my, "use"), my.use_levers))), "use"),
        (no(known(box)), when(known(train), "train", "none")),
        (no(known(train)), "box"),
        (box <= train + EXACT, "box"),
        otherwise="train",
    )


def _by_choice(my: Numbered, use: Part, *, box: Part | None = None, train: Part, none: Part = "") -> Node:
    """What belongs to the gearing that is chosen."""
    kinds = (("use", use), ("box", box), ("train", train))
    return first(*((my.gear_choice.same(kind), part) for kind, part in kinds if part is not None), otherwise=none)


def lead_cut(my: Numbered, levers: Node, a: Node, b: Node, c: Node, d: Node) -> Node:
    """Lead in mm that gears cut: of the levers with their usual end gears taken out, or of the screw itself."""
    of_levers = xl.INDEX(my.box_lead, xl.MATCH(levers, my.box_position, 0)) / my.end_ratio
    of_screw = my.lathe_leadscrew_mm * when(believed(DECIMAL, my.fixed_ratio), my.fixed_ratio, 1)
    base = when(
        given(levers),
        when(known(my.end_ratio), xl.IFERROR(of_levers, "")),
        when(known(my.lathe_leadscrew_mm), of_screw),
    )
    second_pair = xl.COUNT(c, d)
    lead = base * a / b * when(second_pair.same(2), c / d, 1)
    return when(all_of(xl.COUNT(a, b).same(2), second_pair.differs(1)), xl.IFERROR(lead, ""))


def _picked(my: Numbered, gear: str) -> Node:
    in_use = my[f"use_{gear}"]
    listed = xl.INDEX(my[f"train_{gear}"], my.train_at)
    return _by_choice(my, when(known(in_use), in_use, 0), train=when(known(listed), listed, 0), none=0)


def _is_no_gear(typed: Node) -> Node:
    return when(known(typed), any_of(typed <= 0, typed.differs(xl.INT(typed))), filled(typed))


def _use_fault(my: Numbered) -> Node:
    a, b, c, d = _gears(my, "use")
    return first(
        (my.gear_choice.differs("use"), ""),
        (any_of(*(_is_no_gear(gear) for gear in (a, b, c, d))), "Gears are whole numbers of teeth."),
        (xl.COUNT(a, b, c, d).same(0), "Levers in use: type the gears that are on with them too."),
        (xl.COUNT(a, b) < 2, "Type a driver and a driven gear."),
        (xl.COUNT(c, d).same(1), "Type both gears of the second pair, or neither."),
        (all_of(given(my.use_levers), no(known(my.end_ratio))), "Type the usual end gears of the lever chart below."),
        (no(known(my.use_lead)), say("The levers ", my.use_levers, " are not in the lever chart.")),
    )


def _shelf_words(my: Numbered) -> Node:
    """The first gear in use of which the shelf has fewer than the train takes."""
    gears = _gears(my, "use")

    def short(gear: Node) -> Node:
        taken = joined("+", *(other.same(gear) for other in gears))
        return when(known(gear), xl.COUNTIF(my.shelf, gear) < taken, False)

    return first(
        (any_of(my.gear_choice.differs("use"), xl.COUNT(my.shelf).same(0)), ""),
        *((short(gear), say(" The shelf list has too few of gear ", gear, ".")) for gear in gears),
    )


def words(my: Numbered) -> Node:
    """Levers or gears for the lead of the job, or the nearest, or what is missing."""
    a, b, c, d = _gears(my, "pick")
    found = when(my.lathe_lead_error_ppm.same(0), "levers ", "no position gives it; the nearest is ")
    levers_listed = xl.INDEX(my.box_position, my.box_at)
    unnamed = "(which, that line of the lever chart does not say)"
    position = say(found, when(levers_listed.same(""), unnamed, levers_listed), ", usual end gears")
    in_use = when(my.gear_choice.same("use"), "in use: ")
    unlevered = all_of(my.gear_choice.same("use"), no(given(my.pick_levers)), xl.COUNTA(my.box_position) > 0)
    levers = when(given(my.pick_levers), say("levers ", my.pick_levers, ", gears "), "gears ")
    straight = when(unlevered, ", no levers: straight to the leadscrew")
    train = say(in_use, levers, a, "/", b, when(c > 0, say(" x ", c, "/", d)), straight)
    none = (
        "No lever position and no gears are listed: the function THREAD_GEARS searches the shelf, "
        "or type what the plate on the lathe says."
    )
    return first(
        (my.lathe_fault.differs(""), my.lathe_fault),
        (my.gear_choice.same("none"), none),
        (my.use_fault.differs(""), my.use_fault),
        otherwise=say(when(my.gear_choice.same("box"), position, train), ": ", my.error_words),
    )


def lead_error(my: Numbered) -> Node:
    """Error of the lead in millionths; an exact one is 0."""
    share = my.cut_lead / the.job_lead_mm - 1
    return when(all_of(known(my.cut_lead), known(the.job_lead_mm)), when(xl.ABS(share) < EXACT, 0, share * PER_MILLION))


def _error_words(my: Numbered) -> Node:
    error = my.lathe_lead_error_ppm
    cut, wanted = my.cut_lead / MM_PER_WORKING_UNIT, the.job_lead_mm / MM_PER_WORKING_UNIT
    ratio = xl.SUBSTITUTE(xl.ROUND(my.gears_wanted, 4) & "", ",", ".")
    other = say(
        "cuts a lead of ", length(cut), ", not ", length(wanted),
        when(known(my.gears_wanted), say(": drivers/driven must be ", ratio)),
    )  # fmt: skip
    part = when(_LONG_KNOWN, "the thread", "one diameter")
    over = say(_signed(my.error_over_engagement, the.decimals + 1), " ", the.unit_text, " over ", part)
    return first(
        (no(known(error)), ""),
        (error.same(0), "exact"),
        (my.another_lead, other),
        otherwise=say("lead error ", _signed(error, 0), " ppm, ", when(known(my.error_over_engagement), over)),
    )


def _signed(part: Node, decimals: Part) -> Node:
    return say(when(part > 0, "+"), fixed(part, decimals))


def _by_lever(my: Numbered) -> Node:
    """Whether the direction is turned outside the train."""
    return any_of(chosen(my.feed_reverse, "lever"), chosen(my.feed_reverse, "tumbler"))


def _lever(my: Numbered, tumbler: Part) -> Node:
    """What the lever is called that turns the direction."""
    return when(chosen(my.feed_reverse, "lever"), "feed lever", tumbler)


def _idlers(my: Numbered) -> tuple[Figure, ...]:
    """Idlers for the hand of the thread, and whether the quadrant has room for them."""
    by_idler = all_of(the.hand_text.same("left"), none_of(my.feed_reverse, "lever", "tumbler"))
    count = when(my.pick_c > 0, 1, 2) - when(by_idler, 0, 1)
    fewest = xl.MAX(SMALLEST_IDLER * my.idlers, -xl.INT((my.pick_teeth - my.quadrant_min) / 2))
    plain = all_of(my.idlers.differs(1), my.pick_teeth >= my.quadrant_min, my.pick_teeth <= my.quadrant_max)
    between = all_of(my.idlers > 0, my.idler_min <= my.idler_max)
    return (
        Figure("idlers", "idlers for the hand of the thread",
               when(all_of(my.pick_a > 0, my.pick_b > 0, known(my.cut_lead)), count)),
        Figure("idler_min", "least teeth of the idler",
               when(all_of(known(my.idlers), known(my.quadrant_min)), fewest)),
        Figure("idler_max", "most teeth of the idler",
               when(all_of(known(my.idlers), known(my.quadrant_max)), xl.INT((my.quadrant_max - my.pick_teeth) / 2))),
        Figure("fits_plain", "whether the quadrant takes the train without an idler", when(_room(my), plain, False)),
        Figure("fits_idlers", "whether it takes it with them",
               when(all_of(known(my.idler_min), known(my.idler_max)), between, False)),
    )  # fmt: skip


def _room(my: Numbered) -> Node:
    """Whether the train and the quadrant are known."""
    return all_of(known(my.idlers), known(my.quadrant_min), known(my.quadrant_max))


def _room_words(my: Numbered) -> Node:
    takes = say(my.pick_teeth, " teeth where the quadrant takes ", my.quadrant_min, " to ", my.quadrant_max)
    idler = say(my.idler_min, " to ", my.idler_max, " teeth", when(my.idlers.same(2), " together.", "."))
    return first(
        (no(_room(my)), ""),
        (all_of(no(my.fits_plain), no(my.fits_idlers)), say("Does not fit: ", takes, ".")),
        (my.fits_idlers, say("Idler of ", idler)),
    )


def _shaft_words(my: Numbered) -> Node:
    a, b, c, d = _gears(my, "pick")

    def into(gear: Node, shaft: Node) -> Node:
        return say("Gear ", gear, " runs into the shaft of ", shaft, ".")

    return first((no(c > 0), ""), (a + b < c + SHAFT_TEETH, into(c, a)), (c + d < b + SHAFT_TEETH, into(b, d)))


def train_words(my: Numbered) -> Node:
    """How the hand is set, which idler fits, what runs into what or lacks on the shelf."""
    idlers = first(
        (my.idlers.same(0), "no idler"),
        (my.idlers.same(1), "an idler"),
        (my.fits_plain.same(my.fits_idlers), "two idlers, or none"),
        (my.fits_plain, "no idler"),
        otherwise="two idlers",
    )
    hand = when(
        _by_lever(my),
        say("The ", _lever(my, in_text(my.feed_reverse)), " sets right or left hand."),
        say(when(the.hand_text.same("left"), "Left hand: ", "Right hand: "), idlers, "."),
    )
    words = say(hand, " ", my.room_words, " ", my.shaft_words, " ", my.shelf_words, f" {HANDLE_GEARS}")
    return when(known(my.idlers), xl.TRIM(words))


def direction_words(my: Numbered) -> Node:
    """How to get the direction of the carriage."""
    left = the.hand_text.same("left")
    lever = say("Set the ", _lever(my, "tumbler"), ", spindle stopped; try the direction with the tool clear.")
    idler = "One idler more or less in the train turns the direction round; power off and locked first."
    none = "This lathe has no reverse of its feed"
    way = first(
        (_by_lever(my), lever),
        (chosen(my.feed_reverse, "idler gear"), idler),
        (
            chosen(my.feed_reverse, "none"),
            when(left, f"{none}: no left-hand thread without another idler.", f"{none}."),
        ),
        otherwise="How its feed reverses is not given.",
    )
    away = "LEFT HAND: the carriage must go away from the headstock. "
    carriage = when(left, away, "The carriage must go toward the headstock. ")
    return when(known(the.thread_row), say(carriage, way))
