"""The top of the sheet Log: limits, the decision rule, temperatures, counts; and its single working figures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    blank,
    empty,
    first,
    given,
    joined,
    known,
    no,
    node,
    say,
    sentences,
    shown,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book, Check
from workbook_template.sheets.instrument_columns import MATCH_LIMIT, SET_ROW
from workbook_template.sheets.log_rows import AGAIN, HEAD
from workbook_template.trade import days, verdict

NOISE = "0.0000001"

WORDS = tuple(styles.RESULT_WORDS)
MOST_EXPANSION = 0.0001
"""No metal expands more than this per degree C; a figure over it lacks its factor of a million."""

HINT = (
    "One row a part. Type what was measured, leave empty what was not. Every row names its instrument. "
    "To correct a row, begin a new one with the same part and say why in the column for it. "
    "To print only the rows in use, filter Part for what is not empty."
)
TOO_ROUND = 10
"""So many readings must be there before all ending in one digit means anything."""

RULE = blocks.one_of(("simple", "guard"), "Choose simple or guard.")
TEMPERATURE = Check("decimal", "0", "50", "between", "Type degrees Celsius, 0 to 50.")
COEFFICIENT = Check(
    "decimal", "0", f"{MOST_EXPANSION:.4f}", "between",
    "Type it per degree C, as in 0.0000123 for a steel with 12.3 millionths.",
)  # fmt: skip
FACTOR = Check("decimal", "1", "5", "between", "Type the coverage factor, 2 as a rule.")

DECISION = (
    ("decision_rule", "Decision rule", "how a result near a limit is decided", "text", RULE, "simple",
     ("simple: on the limit is in. guard: in only if inside by the uncertainty U, out only if outside by it, else "
     "undecided. As agreed with the customer.")),
    ("expanded_uncertainty", "Uncertainty U, pitch diameter", "expanded uncertainty of the pitch diameter", "wire",
     blocks.LENGTH, None, "Expanded uncertainty of the measured pitch diameter, working unit. Empty: from the budget."),
    ("coverage_factor", "Coverage factor k", "coverage factor of the expanded uncertainty", "0.0#", FACTOR, None,
     "The factor k that U was made with. Empty: from the budget."),
    ("crest_uncertainty", "U, major diameter or bore", "expanded uncertainty of the crest diameter", "wire",
     blocks.LENGTH, None, ("Expanded uncertainty of the major diameter or bore, working unit. Empty: that of the pitch "
     "diameter.")),
    ("expansion", "Expansion of the part, per °C", "coefficient of expansion of the part's material", "0.0000000",
     COEFFICIENT, None, ("Per degree C: 0.0000123 for 4140 steel, 0.0000172 for 304 stainless, 0.0000236 for 6061. "
     "Empty: no correction. Name the source in the next box.")),
    ("instrument_expansion", "Expansion of instrument", "coefficient of expansion of the measuring instrument",
     "0.0000000", COEFFICIENT, None, ("Per degree C, for the micrometer and the wires: 0.0000115 is usual for steel. "
     "Empty: no correction.")),
    ("room_temperature", "Instrument °C", "temperature of the instrument", "0.0#", TEMPERATURE, None,
     "Temperature of the micrometer and the room, degrees Celsius. Empty: 20."),
)  # fmt: skip
"""Name, label, meaning, dimension, check, value, message.

Coefficients: Callister and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6
(pp. 815 and 816, seen).
"""


class Working(NamedTuple):
    """A single working figure."""

    name: str
    meaning: str
    formula: Node
    without_thread: bool = False  # it stands also where no thread is chosen


_INTERNAL = the.thread_side.same("internal")
_MM = the.unit.same("mm")


def _limits_of(which: str) -> tuple[Working, ...]:
    """Limits by the simple rule."""
    highest, lowest = the[f"{which}_max"], the[f"{which}_min"]
    return (
        Working(f"log_{which}_high", f"a {which} diameter over this is high",
                when(known(highest), verdict.highest_in(highest))),
        Working(f"log_{which}_low", f"a {which} diameter under this is low",
                when(known(lowest), verdict.lowest_in(lowest))),
    )  # fmt: skip


def _zones_of(which: str, uncertainty: Node) -> Iterator[Working]:
    """Limits with a guard band."""
    for what, word, meaning in (
        ("accept", "high", "up to this in"),
        ("accept", "low", "from this on in"),
        ("reject", "high", "over this high"),
        ("reject", "low", "under this low"),
    ):
        limit = the[f"{which}_{'max' if word == 'high' else 'min'}"]
        moved = verdict.with_band(limit, uncertainty, high=word == "high", accept=what == "accept")
        yield Working(
            f"log_{which}_{what}_{word}",
            f"with a guard band: {meaning} for the {which} diameter",
            when(all_of(known(limit), known(uncertainty)), moved),
        )


def _coefficient(given: Node) -> Node:
    """Whether a coefficient of expansion is believed."""
    return all_of(given > 0, given <= MOST_EXPANSION)


def _room_factor() -> Node:
    own = the.instrument_expansion
    return when(
        all_of(the.log_expansion > 0, known(own), known(the.room_temperature)),
        when(_coefficient(own), 1 + own * (the.room_temperature - 20), 1),
        1,
    )


def _of_set(column: str) -> Node:
    """What the list of wire sets has of the set chosen on Setup."""
    return xl.INDEX(the[f"wires_{column}"], SET_ROW)


def _set_until() -> Node:
    """What is typed for matching is not asked: how far a wire may differ from the mean and still be of the set."""
    apart = xl.ABS(the.wire_used - _of_set("mean"))
    of_the_set = when(blank(the.wire_in_use), True, apart <= MATCH_LIMIT)
    return xl.IFERROR(when(of_the_set, _of_set("until"), -2), -2)


def _set_fault() -> Node:
    return first(
        (empty(the.wire_set), "No wire set named."),
        (no(known(SET_ROW)), say("Wires ", the.wire_set, " not on Instruments.")),
        (the.log_set_until.same(-2), say("The wire in use on Setup is not that of ", the.wire_set, ".")),
        otherwise=say("Wires ", the.wire_set, " ", _of_set("fault"), "."),
    )


def _working() -> tuple[Working, ...]:
    tolerance, toleranced = the.pitch_tolerance, known(the.pitch_tolerance)
    set_before = say("Wires ", the.wire_set, " ", _of_set("before"), ".")
    return (
        *_limits_of("pitch"),
        *_limits_of("crest"),
        *_zones_of("pitch", the.uncertainty_used),
        *_zones_of("crest", the.crest_uncertainty_used),
        Working("log_reach", "how far from basic a size may be before it counts as another unit (our choice)",
                2 * the.pitch),
        Working("log_agreement", "how far reading and direct value may differ: a tenth of the tolerance (our choice)",
                when(toleranced, tolerance / 10)),
        Working("log_apart", "over this, wires keep a reading apart from a pitch diameter: three times the tolerance",
                when(toleranced, 3 * tolerance, 1000000)),
        Working("log_as_pitch_low", "a reading over wires from this on is believable as a pitch diameter",
                when(toleranced, the.pitch_min - tolerance, 0)),
        Working("log_as_pitch_high", "a reading over wires up to this is believable as a pitch diameter",
                when(toleranced, the.pitch_max + tolerance, 0)),
        Working("log_crest_basic", "middle of the crest's limits", when(known(the.blank_aim), the.blank_aim)),
        Working("log_guard", "0 for the simple rule, 1 for a guard band", when(the.decision_rule.same("guard"), 1, 0),
                True),
        Working("log_corrections", "rows that correct an earlier one", xl.COUNTA(the.log_why), True),
        Working("parts_again", "rows with a part that an earlier row has, and no reason to correct it: not counted",
                xl.COUNTIF(the.log_words, f"{AGAIN}*"), True),
        Working("log_other_unit", "the unit that is not the working unit", when(_MM, "in", "mm"), True),
        Working("log_other_factor", "from that unit to the working unit", when(_MM, 25.4, node(1) / 25.4), True),
        Working("log_scale", "last digits in a working unit", node(10) ** the.decimals, True),
        Working("log_expansion", "coefficient of the part used, 0 for no correction",
                when(known(the.expansion), when(_coefficient(the.expansion), the.expansion, 0), 0), True),
        Working("log_room_factor", "expansion of the instrument", _room_factor(), True),
        Working("log_set_until",
                "last day on which the set chosen on Setup counts; -2 where its wires are not those used",
                _set_until(), True),
        Working("log_set_fault", "why the set chosen on Setup doesn't count", _set_fault(), True),
        Working("log_set_since", "first day on which the set chosen on Setup counts",
                xl.IFERROR(_of_set("since"), 0), True),
        Working("log_set_before", "why the set chosen on Setup doesn't count before that day",
                xl.IFERROR(set_before, ""), True),
    )  # fmt: skip


def build(book: Book, ws: Worksheet) -> None:
    """Fill the rows over the table."""
    blocks.banner(book, ws, "A1:X1", "left_hand_log", "left_hand_words")
    blocks.result(book, ws, "A2:J2", "callout_log", "the thread, as on the sheet Job", the.callout, look="callout")
    part, job = when(given(the.part), the.part, "no part named"), when(given(the.job_number), the.job_number, "–")
    words = say(part, ", job ", job, ", ", the.unit_words)
    blocks.result(book, ws, "K2:X2", "log_title", "part, job and unit in words", words, look="note")
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 24, 32
    _limits(book, ws)
    _decision(book, ws)
    _summary(book, ws)
    _working_cells(book, ws)


def _limits(book: Book, ws: Worksheet) -> None:
    """The limits the results are judged by, on the page."""
    blocks.heading(book, ws, "A3:G3", "Limits")
    for ref, text in (("A4", ""), ("B4:C4", "over wires"), ("D4:E4", "pitch diameter")):
        blocks.write(book, ws, ref, text, "head")
    title = when(_INTERNAL, "bore", "major diameter")
    blocks.result(book, ws, "F4:G4", "log_crest_title", "which crest diameter is logged", title, look="head")
    for row, end in ((5, "max"), (6, "min")):
        blocks.write(book, ws, f"A{row}", end, "label")
        for ref, name in ((f"B{row}:C{row}", "over_wires"), (f"D{row}:E{row}", "pitch"), (f"F{row}:G{row}", "crest")):
            meaning = f"{name.replace('_', ' ')} {end}, as used here"
            blocks.result(book, ws, ref, f"log_{name}_{end}", meaning, the[f"{name}_{end}"], dimension="length")
    wires = say(
        "Over wires ", shown(the.wire_used, the.decimals + 1), when(given(the.wire_set), say(", set ", the.wire_set))
    )
    words = when(
        all_of(known(the.wire_used), no(the.no_wires)),
        say(wires, ". A row that names another set has limits of its own."),
    )
    blocks.result(
        book, ws, "A7:G7", "log_wires_used", "the wires the limits over wires are for", words, look="small"
    )  # fmt: skip
    blocks.write(book, ws, "A8:G10", HINT, "log_note")


def _decision(book: Book, ws: Worksheet) -> None:
    """How a result is decided, and how a size is brought to 20 degrees C."""
    blocks.heading(book, ws, "I3:N3", "Decision and temperature")
    for row, (name, label, meaning, dimension, check, value, prompt) in enumerate(DECISION, start=4):
        blocks.write(book, ws, f"I{row}:K{row}", label, "label")
        numeric = dimension != "text"
        ref = f"L{row}:M{row}"
        blocks.write(book, ws, ref, value, "input_number" if numeric else "input", dimension)
        blocks.name_input(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)
    used = (
        Figure("uncertainty_used", "expanded uncertainty used", _typed_or(
            the.expanded_uncertainty, when(known(the.budget_expanded), the.budget_expanded)), "wire"),
        Figure("coverage_used", "coverage factor used", when(
            blank(the.coverage_factor), when(known(the.budget_coverage), the.budget_coverage), the.coverage_factor),
            "0.0#"),
        Figure("crest_uncertainty_used", "expanded uncertainty used for the crest diameter", _typed_or(
            the.crest_uncertainty, the.uncertainty_used), "wire"),
    )  # fmt: skip
    for row, one in enumerate(used, start=5):
        blocks.result(
            book, ws, f"N{row}:O{row}", one.name, one.meaning, one.formula, dimension=one.dimension, look="row_bold"
        )  # fmt: skip
    blocks.write(book, ws, "N8:O8", None, "input")
    blocks.name_input(
        book, ws, "N8:O8", "expansion_source", "where the coefficient of expansion is from",
        prompt="Material and source of the coefficient, as in: 4140, Callister table B.6.",
    )  # fmt: skip


def _typed_or(typed: Node, otherwise: Node) -> Node:
    """What is typed, where it is a number more than zero; where nothing is, the other one."""
    return first((blank(typed), otherwise), (known(typed), when(typed > 0, typed)))


def _decision_words() -> Node:
    """The decision rule and the temperature, as printed."""
    uncertainty, factor, source = the.uncertainty_used, the.coverage_used, the.expansion_source
    guard = when(
        known(uncertainty),
        "guard band w = U: in and out only where the limit is cleared by U (ILAC-G8:09/2019, 4.2.3; ISO 14253-1)",
        "guard band, but there is no U: all is undecided. Fill in U",
    )
    rule = when(the.log_guard.same(1), guard, "simple acceptance: on a limit is in (ILAC-G8:09/2019, 4.2.1)")
    k = when(known(factor), say(", k = ", factor))
    u = when(known(uncertainty), say(", U = ", shown(uncertainty, the.decimals + 1), " ", the.unit, k))
    named = when(given(source), say(" (", source, ")"), "; name its source")
    at_20 = say("Sizes at 20 °C with ", the.expansion * 1000000, " millionths per °C", named)
    sizes = when(
        the.log_expansion > 0,
        say(at_20, ", rows without a temperature as at 20 °C."),
        "Sizes as measured, not brought to 20 °C.",
    )
    return say("Decision rule: ", rule, u, ". ", sizes)


def _marks() -> Node:
    """What is suspicious about the readings as a whole."""
    tomorrow, again, digits = the.as_of_used + 1, the.parts_again, the.log_digit
    repeats = say(again, when(again.same(1), " row repeats", " rows repeat"), " a part: not counted.")
    later = say(xl.COUNTIF(the.log_when, ">=" & tomorrow), " dated after ", days.written(the.as_of_used), ".")
    alike = say("Look at this: all ", xl.COUNT(digits), " readings end in ", xl.MAX(digits), ". Were they rounded?")
    return xl.TRIM(
        sentences(
            when(again.same(0), "", repeats),
            when(xl.MAX(the.log_when) < tomorrow, "", later),
            first((xl.COUNT(digits) < TOO_ROUND, ""), (xl.MAX(digits).same(xl.MIN(digits)), alike)),
        )
    )


def counted(kind: str, word: str) -> Node:
    """How many rows have a word; a part that was logged before is counted once."""
    results = the[f"log_{kind}_result"]
    found = xl.COUNTIF(results, word)
    if word == "replaced":
        return found
    again = xl.COUNTIFS(results, word, the.log_words, f"{AGAIN}*")
    return found - when(the.parts_again.same(0), 0, again)


def _summary(book: Book, ws: Worksheet) -> None:
    """How many rows have each word; the decision rule and the rule for turns, as printed."""
    blocks.heading(book, ws, "P3:X3", "Count")
    letters = dict(zip(WORDS, "QRSTUVWX"))
    blocks.write(book, ws, "P4", "", "head")
    for word, letter in letters.items():
        blocks.write(book, ws, f"{letter}4", word, "head")
    kinds = (
        (5, "pitch", "pitch diameter", "pitch dia."),
        (6, "crest", "crest diameter", ""),
        (7, "ring", "ring or plug gauge", "gauges"),
    )
    for row, kind, meaning, label in kinds:
        if label:
            blocks.write(book, ws, f"P{row}", label, "label")
        else:
            short = when(_INTERNAL, "bore", "major dia.")
            blocks.result(
                book, ws, f"P{row}", "log_crest_label", "which crest diameter is counted", short, look="label"
            )
        for word, letter in letters.items():
            name = f"count_{kind}_{word.replace(' ', '_')}"
            blocks.result(
                book, ws, f"{letter}{row}", name, f"parts whose {meaning} is: {word}", counted(kind, word),
                dimension="count", look="row_bold",
            )  # fmt: skip
    blocks.write(book, ws, "P8", "entered", "label")
    entered = joined("+", *(the[f"count_pitch_{word.replace(' ', '_')}"] for word in WORDS if word != "replaced"))
    blocks.result(
        book, ws, "Q8", "parts_entered", "rows that count", entered, dimension="count", look="row_bold"
    )  # fmt: skip
    blocks.write(book, ws, "R8", "to make", "label")
    to_make = when(known(the.quantity), the.quantity, "–")
    blocks.result(
        book, ws, "S8", "parts_to_make", "parts to make, from the sheet Job", to_make, dimension="count",
        look="row_bold",
    )  # fmt: skip
    blocks.write(book, ws, "T8:U8", "Turns rule for not go", "label")
    blocks.write(book, ws, "V8:X8", None, "input")
    blocks.name_input(
        book, ws, "V8:X8", "turns_rule", "how many turns a not go gauge may enter",
        prompt="The rule that was applied, as in: not go may enter up to 3 turns, ASME B1.2; or 2 turns, ISO 1502.",
    )  # fmt: skip
    blocks.result(
        book, ws, "P9:X9", "decision_words", "the decision rule and the temperature, as printed on the record",
        _decision_words(), look="log_note",
    )  # fmt: skip
    blocks.result(
        book, ws, "P10:X10", "log_marks", "what is suspicious about the readings as a whole", _marks(), look="next"
    )  # fmt: skip
    for row in range(4, HEAD):
        ws.row_dimensions[row].height = 28 if row in (4, 9, 10) else 20


def _working_cells(book: Book, ws: Worksheet) -> None:
    """Single working figures, to the right of what is printed and above the working columns."""
    blocks.heading(book, ws, "Z3:AK3", "Working figures (not printed)")
    places = [
        (pair, row)
        for pair in (("Z", "AA"), ("AB", "AC"), ("AD", "AE"), ("AF", "AG"), ("AH", "AI"))
        for row in range(4, 11)
    ]
    for ((left, right), row), one in zip(places, _working(), strict=False):
        formula = one.formula if one.without_thread else when(known(the.thread_row), one.formula)
        blocks.write(book, ws, f"{left}{row}", one.name.removeprefix("log_").replace("_", " "), "small")
        blocks.result(book, ws, f"{right}{row}", one.name, one.meaning, formula, role="working", look="row")
