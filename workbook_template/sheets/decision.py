"""How the results of the log are decided and brought to 20 degrees C, and how many of each there are.

Both stand on the sheet Uncertainty, as what decides near a limit is the uncertainty of the measurement. Its twelve
columns are those of the budget: three of words, then one each for what is typed, its unit and so on.
"""

from __future__ import annotations

from sheetfuncs.inspection import MOST_EXPANSION
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    first,
    fixed,
    given,
    joined,
    known,
    no,
    say,
    sentences,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import log_taper
from workbook_template.sheets.inputs import (
    ANYTHING,
    IN_OR_MM,
    LENGTH,
    Check,
    Input,
    believed,
    in_text,
    in_words,
    one_of,
    retype,
)
from workbook_template.sheets.layout import NOTE, Block, Line, Piece, block, entry, gap, line, shown, words
from workbook_template.sheets.log_rows import AGAIN
from workbook_template.sheets.log_sizes import COLDEST, HOTTEST
from workbook_template.sheets.log_words import RESULT_WORDS
from workbook_template.trade import days
from workbook_template.trade.verdict import NOISE

TOO_ROUND = 10
"""So many readings must be there before all ending in one digit means anything."""

RULE = one_of(("simple", "guard"), "Choose simple or guard.")
TEMPERATURE = Check("decimal", str(COLDEST), str(HOTTEST), "between", f"Type degrees Celsius, {COLDEST} to {HOTTEST}.")
COEFFICIENT = Check(
    "decimal", "0", f"{MOST_EXPANSION:.4f}", "between",
    "Type it per degree C, as in 0.0000123 for a steel with 12.3 millionths.",
)  # fmt: skip
NO_ROOM = "U is half the tolerance or more: no room is left to be in."
FACTOR = Check("decimal", "1", "5", "between", "Type the coverage factor, 2 as a rule.")

UNIT = Input(
    "uncertainty_unit", "Lengths here are typed in", "unit that the lengths on Uncertainty are typed in", "text",
    IN_OR_MM, "in or mm. It stays as chosen when the working unit changes: no U is used until all are retyped.",
)  # fmt: skip
STALE = all_of(
    retype(the.uncertainty_unit),
    xl.COUNTA(the.budget_wires, the.budget_micrometer, the.budget_repeatability, the.budget_lead,
              the.expanded_uncertainty, the.crest_uncertainty) > 0,
)  # fmt: skip
"""Whether lengths on this sheet are of another unit than the working unit is now."""
RETYPE = say(
    "Its lengths were typed in ", in_words(the.uncertainty_unit), ", the working unit is now ", the.unit_text,
    ": type them anew, then choose ", the.unit_text, " beside them.",
)  # fmt: skip
"""What is said then: 0.0002 in would be taken as 0.0002 mm, and doubtful parts accepted."""

DECISION = (
    Input("decision_rule", "Decision rule", "how a result near a limit is decided", "text", RULE,
          "simple: on the limit is in. guard: in only if inside by the uncertainty U, out only if outside by it, else "
          "undecided. As agreed with the customer."),
    Input("expanded_uncertainty", "U, pitch diameter", "expanded uncertainty of the pitch diameter", "wire",
          LENGTH, "Expanded uncertainty of the measured pitch diameter, unit of this sheet. Empty: from the budget."),
    Input("coverage_factor", "Coverage factor k", "coverage factor of the expanded uncertainty", "0.0#", FACTOR,
          "The factor k that the U typed above was made with. The budget's U has the budget's own k."),
    Input("crest_uncertainty", "U, major diameter or bore", "expanded uncertainty of the crest diameter", "wire",
          LENGTH, "Expanded uncertainty of the major diameter or bore, unit of this sheet. Empty: that of the pitch "
          "diameter."),
    Input("expansion", "Expansion of the part, per °C", "coefficient of expansion of the part's material", "0.0000000",
          COEFFICIENT, "Per degree C: 0.0000123 for 4140 steel, 0.0000172 for 304 stainless, 0.0000236 for 6061. "
          "Empty: no correction. Name the source below."),
    Input("expansion_source", "Source of the expansion", "where the coefficient of expansion is from", "text", ANYTHING,
          "Material and source of the coefficient, as in: 4140, Callister table B.6."),
    Input("instrument_expansion", "Instrument expansion, per °C",
          "coefficient of expansion of the measuring instrument", "0.0000000", COEFFICIENT,
          "Per degree C, for the micrometer and the wires: 0.0000115 is usual for steel. Empty: no correction."),
    Input("room_temperature", "Instrument °C", "temperature of the instrument", "0.0#", TEMPERATURE,
          "Temperature of the micrometer and the room, degrees Celsius. Empty: 20."),
    Input("turns_rule", "Turns rule for not go", "how many turns a not go gauge may enter", "text", ANYTHING,
          "The rule that was applied, as in: not go may enter up to 3 turns, ASME B1.2; or 2 turns, ISO 1502."),
)  # fmt: skip
"""How results are decided.

Coefficients: Callister and Rethwisch, Fundamentals of Materials Science and Engineering, 3rd edition, Table B.6
(pp. 815 and 816, seen).
"""


def _typed_or(typed: Node, otherwise: Node) -> Node:
    """What is typed, where it is a believable length; where nothing is, the other one."""
    return first((the.uncertainty_stale.same(1), ""), (blank(typed), otherwise), (believed(LENGTH, typed), typed))


def _coverage() -> Node:
    """The k that the U in use was made with (JCGM 100:2008, 7.2.3): a typed U has a typed one, the budget's its own."""
    typed, of_budget = the.coverage_factor, the.budget_coverage
    return when(
        known(the.uncertainty_used),
        first((blank(the.expanded_uncertainty), when(known(of_budget), of_budget)), (believed(FACTOR, typed), typed)),
    )


def _coverage_words() -> Node:
    """The k behind U; of which one there is none, or one that is for nothing."""
    unused = all_of(blank(the.expanded_uncertainty), no(blank(the.coverage_factor)))
    return first(
        (no(known(the.coverage_used)), ", CHECK ENTRY: type its k"),
        otherwise=say(
            ", k = ", xl.ROUND(the.coverage_used, 2),
            when(unused, "; CHECK ENTRY: k is typed without its U, and not used"),
        ),
    )  # fmt: skip


def _no_room() -> Node:
    """Whether the guard bands of both limits meet, so that no size is in."""
    bands = all_of(the.log_guard.same(1), known(the.uncertainty_used), known(the.part_tolerance))
    return when(bands, 2 * the.uncertainty_used >= the.part_tolerance - NOISE, False)


def _not_used() -> Node:
    """Entries that are filled, and not believed."""
    wanted = (
        ("expanded_uncertainty", LENGTH, "a number more than zero, as 0.0002"),
        ("crest_uncertainty", LENGTH, "a number more than zero, as 0.0002"),
        ("expansion", COEFFICIENT, "per °C, as 0.0000123"),
        ("instrument_expansion", COEFFICIENT, "per °C, as 0.0000115"),
        ("room_temperature", TEMPERATURE, f"{COLDEST} to {HOTTEST}"),
    )
    labels = {one.name: one.label.removesuffix(", per °C") for one in DECISION}
    return joined(
        "&",
        *(
            when(all_of(no(blank(the[name])), no(believed(check, the[name]))), f", {labels[name]} ({how})")
            for name, check, how in wanted
        ),
    )


WORKING = (
    Figure("decision_not_used", "entries that are not used, and how to type them", _not_used()),
    Figure("uncertainty_stale", "1 where lengths of this sheet were typed in another unit", when(STALE, 1, 0)),
)


def _decision_words() -> Node:
    """The decision rule and the temperature, as printed."""
    uncertainty, source = the.uncertainty_used, in_text(the.expansion_source)
    guard = when(
        known(uncertainty),
        "guard band w = U: in and out only where the limit is cleared by U (ILAC-G8:09/2019, 4.2.3; ISO 14253-1)",
        when(
            the.uncertainty_stale.same(1),
            "guard band, but U is of another unit: all is undecided. Type it anew",
            "guard band, but there is no U: all is undecided. Fill in U",
        ),
    )
    chosen = the.decision_rule
    is_simple = xl.IFERROR(any_of(blank(chosen), chosen.same("simple")), False)
    rule = first(
        (the.log_guard.same(1), guard),
        (no(is_simple), "CHECK ENTRY, choose simple or guard; until then simple"),
        otherwise="simple acceptance: on a limit is in (ILAC-G8:09/2019, 4.2.1)",
    )
    u = when(
        known(uncertainty), say(", U = ", fixed(uncertainty, the.decimals + 1), " ", the.unit_text, _coverage_words())
    )
    named = when(given(source), say(" (", source, ")"), "; name its source")
    at_20 = say("Sizes at 20 °C with ", the.expansion * 1000000, " millionths per °C", named)
    sizes = when(
        the.log_expansion > 0,
        say(at_20, ", rows without a temperature as at 20 °C."),
        "Sizes as measured, not brought to 20 °C.",
    )
    unused = the.decision_not_used
    not_used = when(given(unused), say("CHECK ENTRY, not used: ", xl.MID(unused, 3, 200), "."))
    by_rule, no_room = say("Decision rule: ", rule, u, "."), when(_no_room(), NO_ROOM)
    return xl.TRIM(sentences(by_rule, no_room, not_used, sizes))  # a long source is last


def _marks() -> Node:
    """What is suspicious about the readings as a whole."""
    tomorrow, again, digits = the.as_of_used + 1, the.parts_again, the.log_digit
    repeats = say(again, when(again.same(1), " row repeats", " rows repeat"), " a part: not counted.")
    later = say(xl.COUNTIF(the.log_when_used, ">=" & tomorrow), " dated after ", days.written(the.as_of_used), ".")
    alike = say("Look at this: all ", xl.COUNT(digits), " readings end in ", xl.MAX(digits), ". Were they rounded?")
    return xl.TRIM(
        sentences(
            when(again.same(0), "", repeats),
            when(xl.MAX(the.log_when_used) < tomorrow, "", later),
            first((xl.COUNT(digits) < TOO_ROUND, ""), (xl.MAX(digits).same(xl.MIN(digits)), alike)),
        )
    )


def counted(kind: str, word: str) -> Node:
    """How many rows have a word; a part that was logged before is counted once."""
    results = the[f"log_{kind}_result"]
    return xl.COUNTIF(results, word) if word == "replaced" else once(results, word)


def once(results: Node, word: str) -> Node:
    """In how many rows of a column a word stands, without those that repeat a part."""
    again = xl.COUNTIFS(results, word, the.log_words, f"{AGAIN}*")
    return xl.COUNTIF(results, word) - when(the.parts_again.same(0), 0, again)


LINE = 14.5
"""Height of a line of what is typed here."""

SIDE_BY_SIDE = (
    ("decision_rule", "expansion"),
    ("expanded_uncertainty", "instrument_expansion"),
    ("coverage_factor", "room_temperature"),
    ("crest_uncertainty", ""),
)
"""Two entries a line; those of words have one of their own."""


def decision() -> Block:
    """How a result is decided, and how a size is brought to 20 degrees C."""
    used = {
        "expanded_uncertainty": Figure("uncertainty_used", "expanded uncertainty used", _typed_or(
            the.expanded_uncertainty, when(believed(LENGTH, the.budget_expanded), the.budget_expanded)), "wire"),
        "coverage_factor": Figure("coverage_used", "coverage factor of the expanded uncertainty used", _coverage(),
            "0.0#"),
        "crest_uncertainty": Figure("crest_uncertainty_used", "expanded uncertainty used for the crest diameter",
            _typed_or(the.crest_uncertainty, the.uncertainty_used), "wire"),
    }  # fmt: skip
    asked = {one.name: one for one in DECISION}

    def left(one: Input) -> tuple[Piece, ...]:
        figure = used.get(one.name)
        typed = entry(1, one, look="cell_number") if figure else entry(1, one, "simple")
        beside = (shown(1, figure, "figure_right"), words(1, "used", "aside")) if figure else (gap(2),)
        return (words(3, one.label), typed, *beside)

    def right(one: Input | None) -> tuple[Piece, ...]:
        return (words(4, one.label, "label_beside"), entry(2, one, look="cell_number")) if one else ()

    said = Figure(
        "decision_words", "the decision rule and the temperature, as printed on the record", _decision_words()
    )
    return block(
        "How results of the log are decided, and brought to 20 °C",
        *(line(*left(asked[one]), *right(asked.get(other)), height=LINE) for one, other in SIDE_BY_SIDE),
        line(words(3, asked["expansion_source"].label), entry(9, asked["expansion_source"]), height=LINE),
        line(shown(3, log_taper.TURNS_LABEL, "label"), entry(9, asked["turns_rule"]), height=LINE),
        line(shown(12, said, "body_small"), height=4 * NOTE),
    )


WIDE = {"not measured": 2}
"""Columns of a count, where it is not one."""


def counts() -> Block:
    """How many rows have each word, and what is suspicious about them all."""
    kinds = (
        ("pitch_diameter", "pitch diameter", "pitch diameter"),
        ("crest", "crest diameter", the.log_crest_title & ""),
        ("ring", "ring or plug gauge", "ring or plug"),
    )

    def row(kind: str, meaning: str, label: str | Node) -> Line:
        def of(word: str) -> Piece:
            name = f"count_{kind}_{word.replace(' ', '_')}"
            figure = Figure(name, f"parts whose {meaning} is: {word}", counted(kind, word), "count")
            return shown(WIDE.get(word, 1), figure, "row_number_bold")

        return line(words(3, label), *(of(word) for word in RESULT_WORDS), height=NOTE)

    heads = (words(WIDE.get(word, 1), word, "column_head_right") for word in RESULT_WORDS)
    entered = joined(
        "+", *(the[f"count_pitch_diameter_{word.replace(' ', '_')}"] for word in RESULT_WORDS if word != "replaced")
    )
    to_make = when(known(the.ordered), the.ordered, "–")
    wires = say(
        "Over wires ", fixed(the.wire_used, the.decimals + 1),
        when(given(the.wire_set_used), say(", set ", the.wire_set_used)),
    )  # fmt: skip
    of_wires = when(
        all_of(known(the.wire_used), no(the.no_wires)),
        say(wires, ". A row that names another set has limits of its own."),
    )
    marks = Figure("log_marks", "what is suspicious about the readings as a whole", _marks())
    return block(
        "Count of the log",
        line(gap(3), *heads, height=2 * NOTE),
        *(row(*kind) for kind in kinds),
        line(
            words(3, "entered"),
            shown(1, Figure("parts_entered", "rows that count", entered, "count"), "row_number_bold"),
            words(3, "to make", "label_right"),
            shown(1, Figure("parts_to_make", "parts to make, from the sheet Job", to_make, "count"),
                  "row_number_bold"),
            height=NOTE,
        ),
        line(shown(12, Figure("log_wires_used", "the wires the limits over wires are for", of_wires), "note_9"),
             height=NOTE),
        line(shown(12, marks, "part_step"), height=2 * NOTE),
    )  # fmt: skip
