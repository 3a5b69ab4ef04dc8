"""The columns of the sheet Instruments, with the formulas of a row: states, wires, until when readings count."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    every,
    exactly,
    first,
    given,
    here,
    known,
    no,
    say,
    sentences,
    shown,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Check
from workbook_template.sheets import contact
from workbook_template.trade import gauges
from workbook_template.trade.days import NO_DAY, is_day, written

INSTRUMENTS, WIRE_SETS = 16, 16
FIRST = 12
LAST = FIRST + INSTRUMENTS - 1
WIRES_HEAD = LAST + 5
WIRES_FIRST = WIRES_HEAD + 1
WIRES_LAST = WIRES_FIRST + WIRE_SETS - 1

DUE_SOON_DAYS = 30
"""This project's choice; a shop sets its own on the sheet."""
KINDS = ("micrometer", "thread micrometer", "comparator", "caliper", "bore gauge", *gauges.NO_SIZE, "other")
FIT = blocks.one_of(("yes", "no"), "Choose yes, or no for an instrument that must not be used.")
DAY = blocks.DAY
MATCH_LIMIT = when(the.unit.same("mm"), 0.0005, 0.00002)
"""Wires of a set may differ by this where nothing else is typed: 20 millionths of an inch, or half a micrometre.

Common practice. ASME B1.2-1983, Appendix B, and FED-STD-H28/6 ask for matched wires of this order (from memory).
"""
MOST_WIRE = 1000
"""A wire thicker than this, in either unit, is none."""


SET_ROW = xl.MATCH(exactly(the.wire_set), the.wires_id, 0)
"""The row of the list where the set chosen on Setup stands."""
SET_LIST = Check(
    "list",
    "OFFSET(wires_id,0,0,MAX(1,MAX(wires_at)),1)",
    refusal="Choose a wire set that is listed on the sheet Instruments.",
)
"""The sets to choose from: the list down to the last one in it."""


Formula = Node | Callable[[int], Node]
"""What a column holds: one tree, or one that asks for the place of the row in the list, from 0."""


class Column(NamedTuple):
    """A column of inputs or results: letter, name, heading, meaning, dimension, prompt (inputs), formula (results)."""

    letter: str
    name: str
    heading: str
    meaning: str
    dimension: str = "text"
    prompt: str = ""
    check: Check = blocks.ANYTHING
    formula: Formula | None = None
    look: str = "log_verdict"
    role: str = "result"


_WIRES = span(here.a, here.c)
_UNFIT = all_of(xl.LEN(here.fit) > 0, here.fit.differs("yes"))
_DUE_DAY = is_day(here.due)


def _listed(*cases: tuple[Part, Part], otherwise: Part = "") -> Node:
    """The first that holds, in a row with a number."""
    return first((blank(here.id), ""), *cases, otherwise=otherwise)


STATE = _listed(
    (_UNFIT, "unfit"),
    (no(_DUE_DAY), "no due date"),
    (here.due < the.as_of_used, "overdue"),
    (here.due - the.as_of_used <= the.due_soon_used, "due soon"),
    otherwise="in date",
)
"""By the due date and the mark."""
UNTIL = _listed((_UNFIT, -1), (_DUE_DAY, xl.INT(here.due)), otherwise=-1)
"""The last day on which a measurement with it counts; -1 for never."""
FAULT = _listed(
    (_UNFIT, "is marked unfit"), (_DUE_DAY, say("was due ", written(here.due))), otherwise="has no due date"
)
"""Why a measurement after that day does not count."""


NEVER_SINCE = 2958465
"""The last day a spreadsheet knows (9999-12-31): what is calibrated from there on counts for no measurement."""

_NEVER_CALIBRATED = "has no date as day of calibration"


def _from(kind: str) -> tuple[Column, ...]:
    """The working columns for the day of the calibration."""
    day = here.calibrated
    since = _listed((blank(day), 0), (is_day(day), xl.INT(day)), otherwise=NEVER_SINCE)
    only = say("was calibrated only on ", written(day))
    before = first((blank(day), ""), (is_day(day), only), otherwise=_NEVER_CALIBRATED)
    return (
        Column("S", f"{kind}_since", "since", "first day on which readings count, a day number", "count",
               formula=since, look="row", role="working"),
        Column("T", f"{kind}_before", "before", "why readings before that day don't count", formula=before,
               look="small", role="working"),
    )  # fmt: skip


def _what_to_do(typed: Node) -> Node:
    """What to do with the one in this row, by its state and its day of calibration."""
    twice = xl.SUMPRODUCT(every.id.same(here.id) * 1) > 1
    nothing = "Its readings do not count: "
    no_due = when(blank(here.due), f"{nothing}type the due date.", f"{nothing}the due date {NO_DAY}.")
    return first(
        (blank(here.id), when(xl.COUNTA(typed) > 0, "Give it a number; without one no reading can name it.")),
        (twice, "This number is there twice."),
        (here.before.same(_NEVER_CALIBRATED), f"{nothing}the day of calibration {NO_DAY}."),
        (
            here.state.same("overdue"),
            say(the.as_of_used - xl.INT(here.due), " days overdue: calibrate it before use."),
        ),
        (here.state.same("due soon"), say(xl.INT(here.due) - the.as_of_used, " days left.")),
        (here.state.same("unfit"), "Not to be used."),
        (here.state.same("no due date"), no_due),
    )


def unmatched(mean: Node, wires: Node) -> Node:
    """Whether the wires of a set differ by more than the limit."""
    return when(known(mean), xl.MAX(wires) - xl.MIN(wires) > the.wire_match_used + 1e-9, False)


_UNMATCHED = unmatched(here.mean, _WIRES)
NO_MATCH = "is no matched set"
_MATCHED_FAULT = _listed((all_of(no(_UNFIT), _UNMATCHED), NO_MATCH), otherwise=FAULT)
_SHARE = when(known(here.over_max), contact.reading_share(here.over_max, here.over_min))
_CONSTANT = when(known(here.share), contact.reading_offset(here.over_min, here.share))
_MEAN = _listed(
    (xl.COUNT(_WIRES).same(0), ""),
    (xl.COUNT(_WIRES) < xl.COUNTA(_WIRES), ""),
    (any_of(xl.MIN(_WIRES) <= 0, xl.MAX(_WIRES) > MOST_WIRE), ""),
    otherwise=xl.AVERAGE(_WIRES),
)
_SERVES = first(
    (any_of(xl.COUNTA(here.id, _WIRES) < 2, no(known(the.thread_row))), ""),
    (the.no_wires, "no wires"),
    (no(known(here.mean)), when(blank(here.id), "", "not a number")),
    (here.mean <= the.wire_smallest, "too small"),
    (here.mean > the.wire_largest, "too large"),
    otherwise="yes",
)


def _over(end: str) -> Callable[[int], Node]:
    """The reading over the set in row `number` of the list, from 0."""

    def formula(number: int) -> Node:
        reading = contact.of_set(number, end)
        return when(known(reading), reading)

    return formula


def _wire_note() -> Node:
    apart = shown(xl.MAX(_WIRES) - xl.MIN(_WIRES), the.decimals + 2)
    matched = first(
        (_UNMATCHED, say("Differ by ", apart, ": no matched set, readings do not count.")),
        (xl.COUNT(_WIRES).same(2), "One wire is not given."),
    )
    return xl.TRIM(sentences(matched, _what_to_do(span(here.certificate, here.fit))))


_SHARED = (
    Column("G", "due", "Due", "day on which the next calibration is due", "date",
           "Last day of use before the next calibration. A measurement on that day still counts.", DAY),
    Column("H", "fit", "Fit for use?", "no: must not be used", "text",
           "Empty or yes: fit. no: its readings don't count, also earlier ones. After repair use a new number.",
           FIT),
)  # fmt: skip

COLUMNS = (
    Column("A", "instrument_id", "Number", "number of the instrument or gauge", "text",
           "Number that is marked on it. The rows of the Log name it."),
    Column("B", "instrument_kind", "Kind", "kind of instrument", "text",
           "What it is. other: say what in the next column.", blocks.one_of(KINDS, "Choose a kind from the list.")),
    Column("C", "instrument_thread", "Thread of a gauge", "thread, class and hand of a gauge", "text",
           "For a ring or plug, as it is marked: 3/4-16 UNF-2A, or M20x2.5-6g LH. GO and NOT GO may stand behind it."),
    Column("D", "instrument_certificate", "Certificate", "number of the calibration certificate", "text",
           "Number of its last calibration certificate."),
    Column("E", "instrument_lab", "Laboratory", "who calibrated", "text", "Laboratory or person that calibrated it."),
    Column("F", "instrument_calibrated", "Calibrated", "day of the last calibration", "date",
           "Day of its last calibration. Earlier readings rest on the one before: list that by a number of its own.",
           DAY),
    *(one._replace(name=f"instrument_{one.name}") for one in _SHARED),
    Column("I", "instrument_state", "State", "in date, due soon, overdue, unfit, no due date",
           formula=STATE),
    Column("J", "instrument_from", "Range from", "where the range of an instrument begins", "entry",
           "Smallest size it can measure, in the unit two columns on. Empty: no reading is too small for it."),
    Column("K", "instrument_to", "to", "where the range of an instrument ends", "entry",
           "Largest size it can measure, in the unit of the next column. Empty: no reading is too large for it."),
    Column("L", "instrument_unit", "in or mm", "unit of its range", "text",
           "Unit of its range, in or mm. Empty: the working unit.",
           blocks.one_of(("in", "mm"), "Choose in or mm, or leave it empty for the working unit.")),
    Column("M", "instrument_serves", "Gauge for this job?", "whether a gauge is for this job: yes, or why not",
           formula=gauges.for_this_job()),
    Column("N", "instrument_words", "What to do", "what to do with it", look="side",
           formula=xl.TRIM(sentences(gauges.to_type(), _what_to_do(span(here.kind, here.fit))))),
    Column("P", "instrument_until", "until", "last day on which readings count, a day number, -1 for never", "count",
           formula=UNTIL, look="row", role="working"),
    Column("Q", "instrument_fault", "fault", "why readings after that day don't count", formula=FAULT, look="small",
           role="working"),
    *_from("instrument"),
    *(
        Column(letter, f"instrument_{name}", name.replace("_", " "), meaning, look="small", formula=formula,
               role="working")
        for letter, name, meaning, formula in gauges.WORKING
    ),
)  # fmt: skip

WIRE_COLUMNS = (
    Column("A", "wires_id", "Set", "number of the wire set", "text",
           "Number of the set of three wires. Setup and the rows of the Log name it."),
    Column("B", "wires_certificate", "Certificate", "number of the certificate of the wires", "text",
           "Number of the certificate that gives the diameters."),
    Column("C", "wires_lab", "Laboratory", "who certified the wires", "text", "Laboratory that measured the wires."),
    Column("D", "wires_a", "Wire a", "certified diameter of the first wire, or the mean of the set", "wire",
           "Certified diameter in the working unit. If the certificate has one figure for the set, type it here.",
           blocks.LENGTH),
    Column("E", "wires_b", "Wire b", "certified diameter of the second wire", "wire",
           "Certified diameter of the second wire, in the working unit.", blocks.LENGTH),
    Column("F", "wires_c", "Wire c", "certified diameter of the third wire", "wire",
           "Certified diameter of the third wire, in the working unit.", blocks.LENGTH),
    *(one._replace(name=f"wires_{one.name}") for one in _SHARED),
    Column("I", "wires_state", "State", "in date, due soon, overdue, unfit, no due date",
           formula=STATE),
    Column("J", "wires_mean", "Mean", "mean of the certified diameters", "wire", formula=_MEAN, look="log_figure"),
    Column("K", "wires_words", "Serves?", "whether it serves this thread: yes, too small, too large, no wires",
           formula=_SERVES),
    Column("L", "wires_over_max", "Over wires, max", "reading over wires at the largest pitch diameter", "length",
           formula=_over("max"), look="log_figure"),
    Column("M", "wires_over_min", "Over wires, min", "reading over wires at the smallest pitch diameter", "length",
           formula=_over("min"), look="log_figure"),
    Column("N", "wires_note", "What to do", "whether the wires match, and what to do", formula=_wire_note(),
           look="side"),
    Column("O", "wires_calibrated", "Certified on", "day of the certificate of the wires", "date",
           "Day of the certificate. Readings before that day rest on an older one: list that by a number of its own.",
           DAY),
    Column("P", "wires_until", "until", "last day on which readings count, a day number, -1 for never", "count",
           formula=_listed((_UNMATCHED, -1), otherwise=UNTIL), look="row", role="working"),
    Column("Q", "wires_fault", "fault", "why readings after that day don't count", formula=_MATCHED_FAULT,
           look="small", role="working"),
    Column("R", "wires_constant", "constant", "reading less pitch diameter with this set", "wire", formula=_CONSTANT,
           look="row", role="working"),
    *_from("wires"),
    Column("U", "wires_share", "share", "what is added to that constant, as a share of the reading", "wire",
           formula=_SHARE, look="row", role="working"),
    Column("V", "wires_at", "row", "row of the list, 0 where there is no set", "count",
           formula=lambda number: when(given(here.id), number + 1, 0), look="row", role="working"),
)  # fmt: skip
