"""The top of the sheet Log, with its limits; the line at its end, and its single working figures."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from sheetfuncs.inspection import MOST_EXPANSION
from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    above,
    all_of,
    any_of,
    empty,
    first,
    given,
    here,
    known,
    no,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import coating, log_advice, log_taper
from workbook_template.sheets.decision import TEMPERATURE, once
from workbook_template.sheets.inputs import ANYTHING, Input, believed
from workbook_template.sheets.instrument_columns import OF_THE_SET, SET_ROW
from workbook_template.sheets.layout import (
    Block,
    Column,
    Line,
    Piece,
    Table,
    entry,
    gap,
    line,
    shown,
    words,
)
from workbook_template.sheets.log_rows import AGAIN, HEAD, LISTED, MORE, MOST_ROWS, OWN, PRINTED, wide
from workbook_template.trade import verdict
from workbook_template.trade.equipment import unlisted

ONCE = (
    Input("log_once_instrument", "Instrument", "instrument of the rows that name none", "text", ANYTHING,
          "Number of the instrument, as on Instruments. It counts for every row measured that names no other: to use "
          "another one later, leave this and name that one in the rows."),
    Input("log_once_who", "Person", "who measured the rows that name nobody", "text", ANYTHING,
          "Who measures. It counts for every row measured that names nobody else."),
    Input("log_once_when", "Day", "day of the rows that have none", "date", ANYTHING,
          "Day of the measurements. It counts for every row measured that has no day of its own: on another day leave "
          "this and type that day in the rows."),
)  # fmt: skip
"""What is typed once, and used by the rows that leave it empty."""


class Working(NamedTuple):
    """A single working figure."""

    name: str
    meaning: str
    formula: Node
    without_thread: bool = False  # it stands also where no thread is chosen


_INTERNAL = the.thread_side.same("internal")
_MM = the.unit_text.same("mm")


def _diameter(which: str) -> str:
    """A diameter in words."""
    return which.replace("_", " ") if which.endswith("diameter") else f"{which} diameter"


def _zones_of(which: str, uncertainty: Node) -> Iterator[Working]:
    """Limits with a guard band."""
    for what, word, meaning in (
        ("accept", "high", "up to this in"),
        ("accept", "low", "from this on in"),
        ("reject", "high", "over this high"),
        ("reject", "low", "under this low"),
    ):
        limit = verdict.limit(which, "max" if word == "high" else "min")
        moved = verdict.with_band(limit, uncertainty, high=word == "high", accept=what == "accept")
        yield Working(
            f"log_{which}_{what}_{word}",
            f"with a guard band: {meaning} for the {_diameter(which)}",
            when(all_of(known(limit), known(uncertainty)), moved),
        )


def _coefficient(typed: Node) -> Node:
    """Whether a coefficient of expansion is believed."""
    return all_of(typed > 0, typed <= MOST_EXPANSION)


def _room_factor() -> Node:
    own = the.instrument_expansion
    return when(
        all_of(the.log_expansion > 0, known(own), believed(TEMPERATURE, the.room_temperature)),
        when(_coefficient(own), 1 + own * (the.room_temperature - 20), 1),
        1,
    )


def _of_set(column: str) -> Node:
    """What the list of wire sets has of the set chosen on Setup."""
    return xl.INDEX(the[f"wires_{column}"], SET_ROW)


def _set_until() -> Node:
    return xl.IFERROR(when(OF_THE_SET, _of_set("until"), -2), -2)


def _set_fault() -> Node:
    return first(
        (empty(the.wire_set_used), "No wire set named."),
        (no(known(SET_ROW)), unlisted("Wires", the.wire_set_used, "wires")),
        (the.log_set_until.same(-2), say("The wire in use on Setup is not that of ", the.wire_set_used, ".")),
        otherwise=say("Wires ", the.wire_set_used, " ", _of_set("fault"), "."),
    )


def _working() -> tuple[Working, ...]:
    tolerance, toleranced = the.part_tolerance, known(the.part_tolerance)
    set_before = say("Wires ", the.wire_set_used, " ", _of_set("before"), ".")
    return (
        *_zones_of("pitch_diameter", the.uncertainty_used),
        *_zones_of("crest", the.crest_uncertainty_used),
        Working("log_reach", "how far from basic a size may be before it counts as another unit (our choice)",
                2 * the.pitch),
        Working("log_agreement", "how far reading and direct value may differ: a tenth of the tolerance (our choice)",
                when(toleranced, tolerance / 10)),
        Working("log_apart", "over this, wires keep a reading apart from a pitch diameter: three times the tolerance",
                when(toleranced, 3 * tolerance, 1000000)),
        Working("log_as_pitch_diameter_low", "a reading over wires from this on is believable as a pitch diameter",
                when(toleranced, the.part_pitch_diameter_min - tolerance, 0)),
        Working("log_as_pitch_diameter_high", "a reading over wires up to this is believable as a pitch diameter",
                when(toleranced, the.part_pitch_diameter_max + tolerance, 0)),
        Working("log_crest_basic", "middle of the crest's limits",
                when(xl.COUNT(the.crest_max, the.crest_min).same(2), (the.crest_max + the.crest_min) / 2)),
        Working("log_guard", "0 for the simple rule, 1 for a guard band",
                xl.IFERROR(when(the.decision_rule.same("guard"), 1, 0), 0), True),
        Working("log_corrections", "rows that correct an earlier one", xl.COUNT(the.log_corrects), True),
        Working("log_crest_title", "which crest diameter is logged", when(_INTERNAL, "bore", "major diameter"), True),
        Working("log_corrected_first", "the first of them", xl.MIN(the.log_corrects), True),
        Working("log_corrected_last", "the last of them", xl.MAX(the.log_corrects), True),
        Working("log_listed", "how many of them the short list has", xl.MIN(LISTED, the.log_corrections), True),
        Working("log_listed_last", "the last that is in the short list", xl.MAX(the.log_fix_row), True),
        Working("log_begun", "rows in which something is typed", xl.COUNTIF(the.log_status, ">0"), True),
        Working("parts_again", "rows with a part that an earlier row has, and no reason to correct it: not counted",
                xl.COUNTIF(the.log_words, f"{AGAIN}*"), True),
        Working("log_other_unit", "the unit that is not the working unit", when(_MM, "in", "mm"), True),
        Working("log_other_factor", "from that unit to the working unit",
                when(_MM, MM_PER_INCH, node(1) / MM_PER_INCH), True),
        Working("log_scale", "last digits in a working unit", node(10) ** the.decimals, True),
        Working("log_expansion", "coefficient of the part used, 0 for no correction",
                when(known(the.expansion), when(_coefficient(the.expansion), the.expansion, 0), 0), True),
        Working("log_room_factor", "expansion of the instrument", _room_factor(), True),
        Working("log_set_until",
                "last day on which the set chosen on Setup counts; -2 where its wires are not those used",
                _set_until(), True),
        Working("log_set_fault", "why the set chosen on Setup doesn't count", _set_fault(), True),
        Working("log_set_since", "first day on which the set chosen on Setup counts",
                when(known(_of_set("since")), _of_set("since"), 0), True),
        Working("log_set_before", "why the set chosen on Setup doesn't count before that day",
                xl.IFERROR(set_before, ""), True),
    )  # fmt: skip


def head(rows: int) -> Block:
    """What stays in sight over the rows, each limit over the column it is for."""
    part = when(given(the.part_text), the.part_text, "no part named")
    coated = when(coating.COATED, "LIMITS OF THE COATED PART: measure after coating. ")
    job = say(", job ", when(given(the.job_number_text), the.job_number_text, "–"), ", ", the.unit_words)
    asks = say("; from the ", the.taper_from, " (", the.unit_text, "):")  # the entry beside it is for this
    told = say(coated, part, when(any_of(the.tapered, coating.COATED), "", job), when(the.tapered, asks))
    title = Figure("log_title", "part, job and unit in words", told)
    left = Figure("left_hand_log", "words for a left-hand thread", the.left_hand_words & "")
    callout = Figure("callout_log", "the thread, as on the sheet Job", the.callout)
    step = Figure("log_step", "what to do next, or how the log stands", _step(rows))
    return Block(
        len(PRINTED),
        (
            line(
                shown(2, callout, "part_callout"),
                shown(1, left, "left_hand_14"),
                shown(wide("reading", "temperature"), title, "note_9"),
                entry(1, log_taper.PLACE, look="asked_part"),
                words(wide("instrument", "when_used"), "Used by every row that has none of its own:", "note_9"),
                height=23.85,
            ),
            line(
                shown(3, step, "part_step", lines=2),
                *_limit("max"),
                gap(len(OWN)),
                *(words(1, one.label, "part_end") for one in ONCE),
                height=13.5,
            ),
            line(
                gap(3), *_limit("min"), gap(len(OWN)), *(entry(1, one, look="part_typed") for one in ONCE), height=13.5
            ),
        ),
    )


def _limit(end: str) -> tuple[Piece, ...]:
    def of(name: str) -> Piece:
        meaning = f"{name.replace('_', ' ')} {end}, as used here"
        limit = the[f"part_over_wires_{end}"] if name == "over_wires" else verdict.limit(name, end)
        there = limit - log_taper.AT_PLACE[name] if name in log_taper.AT_PLACE else limit
        told = when(all_of(known(limit), known(the.log_lift_direct)), there, "–")
        # never an empty text: LibreOffice reads one over rows that repeat on paper as 0 out of an .ods
        return shown(1, Figure(f"log_{name}_{end}", meaning, told, "length"), "result")

    return (
        of("over_wires"),
        gap(wide("reading_1b", "direct")),
        of("crest"),
        words(1, end, "part_end"),
        gap(wide("gauge_turns", "temperature")),
        of("pitch_diameter"),
    )


UNPRINTED = say(
    " The first ", the.log_printed, " rows are printed, and the log goes on to row ", the.log_reaches + HEAD,
    ": widen the print range.",
)  # fmt: skip
"""A print range that grows by itself is one that LibreOffice does not know; so the paper itself says what it lacks."""
BEYOND_PAPER = the.log_reaches > the.log_printed
LAST_CORRECTION = when(the.log_corrections > 0, the.log_corrected_last - HEAD, 0)


def _step(rows: int) -> Node:
    """How the log stands, and what to do next, in a sentence or two."""
    begun, worst = the.log_begun, the.log_worst
    out = once(worst, "high") + once(worst, "low")
    asked = once(worst, "check entry") + once(worst, "check instrument")
    of_so_many = when(known(the.ordered), say(" of ", the.ordered), "")
    one_alone = all_of(the.parts_entered.same(1), no(known(the.ordered)))
    remark = first(  # of these the rows themselves and the sheet Uncertainty tell the last as well
        (BEYOND_PAPER, UNPRINTED),
        (
            all_of(known(the.ordered), the.ordered > rows),
            f" The log has {rows} rows: the rest goes into a second workbook.",
        ),
        (given(the.log_marks), say(" ", xl.LEFT(the.log_marks, 75))),
    )
    stands = say(
        the.parts_entered, of_so_many, when(one_alone, " part", " parts"), " logged",
        when(out > 0, say(", ", out, " out")), when(asked > 0, say(", ", asked, " to check")), ".",
    )  # fmt: skip
    return first(
        (no(known(the.thread_row)), "Choose the thread on Job first."),
        (coating.REFUSED, the.coating_fault),
        (
            no(known(the.log_lift_direct)),
            say("Over the pitch diameters type at what distance from the ", the.taper_from, " is measured."),
        ),
        (begun.same(0), "Type instrument, person and day once, at the right; then a part's number and its reading."),
        (begun >= rows, say(f"All {rows} rows are used: {MORE}.", when(BEYOND_PAPER, UNPRINTED))),
        otherwise=say(stands, remark),
    )


def end(rows: int) -> Line:
    """Under the last row: never a silent end."""
    told = f"This log has {rows} rows. For more {MORE} (python -m workbook_template, at most {MOST_ROWS} rows)."
    return line(words(len(PRINTED), told, "note_9"))


def fixes(rows: int) -> Table:
    """The short list of corrections, in their order: which row, of which part.

    Every row of the log looks into it. LibreOffice tells each of them of each cell here whenever a part is typed, so a
    list as long as the log would cost the square of its length.
    """
    first = when(the.log_corrections > 0, the.log_corrected_first, NO_NUMBER)
    rest = span(xl.INDEX(the.log_corrects, above.row - HEAD + 1), xl.INDEX(the.log_corrects, rows))
    following = when(known(above.row), when(above.row < the.log_corrected_last, xl.MIN(rest), NO_NUMBER), NO_NUMBER)
    return Table("log_fix", (
        Column("row", "row", "rows that correct an earlier one, in their order", role="working",
               formula=lambda number: first if number == 1 else following),
        Column("serial", "part", "their parts", role="working",
               formula=when(known(here.row), xl.INDEX(the.log_part, here.row - HEAD), "")),
    ), min(rows, LISTED))  # fmt: skip


def working(printed: int) -> tuple[Figure, ...]:
    """The single working figures; so many rows are `printed`."""
    return (
        Figure("log_printed", "rows of the log that are printed", node(printed)),
        Figure(
            "log_reaches",
            "the last row, counted from 1, that has a part of its own or corrects one",
            xl.MAX(the.log_first, the.log_begun, LAST_CORRECTION),
        ),
        *log_advice.WORKING,
        *(
            Figure(
                one.name, one.meaning, one.formula if one.without_thread else when(known(the.thread_row), one.formula)
            )
            for one in _working()
        ),
        *log_taper.WORKING,
    )
