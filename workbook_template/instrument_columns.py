"""The columns of the sheet Instruments, with the formulas of a row: states, wires, until when readings count."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from workbook_template import blocks, contact, days, gauges
from workbook_template.blocks import Check
from workbook_template.figures.notation import exactly, the, when, xl

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


class Column(NamedTuple):
    """A column of inputs or results: letter, name, heading, meaning, dimension, prompt (inputs), formula (results)."""

    letter: str
    name: str
    heading: str
    meaning: str
    dimension: str = "text"
    prompt: str = ""
    check: Check = blocks.ANYTHING
    formula: Callable[[int], str] | None = None
    look: str = "log_verdict"
    role: str = "result"


def _unfit(row: int) -> str:
    """Whether it is marked as anything but fit."""
    return f'AND(LEN(H{row})>0,H{row}<>"yes")'


def state(row: int) -> str:
    """in date, due soon, overdue, unfit, no due date: by the due date in G and the mark in H."""
    return (
        f'IF(ISBLANK(A{row}),"",IF({_unfit(row)},"unfit",IF(NOT({blocks.is_day(f"G{row}")}),"no due date",'
        f'IF(G{row}<as_of_used,"overdue",IF(G{row}-as_of_used<=due_soon_used,"due soon","in date")))))'
    )


def day_words(cell: str) -> str:
    """A date as 2024-03-05 whatever the language of the program."""
    return f'YEAR({cell})&"-"&RIGHT("0"&MONTH({cell}),2)&"-"&RIGHT("0"&DAY({cell}),2)'


def until(row: int) -> str:
    """The last day on which a measurement with it counts; -1 for never."""
    return f'IF(ISBLANK(A{row}),"",IF({_unfit(row)},-1,IF({blocks.is_day(f"G{row}")},INT(G{row}),-1)))'


def fault(row: int) -> str:
    """Why a measurement after that day does not count."""
    return (
        f'IF(ISBLANK(A{row}),"",IF({_unfit(row)},"is marked unfit",'
        f'IF({blocks.is_day(f"G{row}")},"was due "&{day_words(f"G{row}")},"has no due date")))'
    )


NEVER_SINCE = 2958465
"""The last day a spreadsheet knows (9999-12-31): what is calibrated from there on counts for no measurement."""


_NEVER_CALIBRATED = "has no date as day of calibration"


def since(row: int, letter: str) -> str:
    """The first day on which a measurement with it counts, the day of calibration in that column; 0 for none typed."""
    day = f"{letter}{row}"
    return f'IF(ISBLANK(A{row}),"",IF(ISBLANK({day}),0,IF({blocks.is_day(day)},INT({day}),{NEVER_SINCE})))'


def before(row: int, letter: str) -> str:
    """Why a measurement before that day does not count."""
    day = f"{letter}{row}"
    known = f'"was calibrated only on "&{day_words(day)}'
    return f'IF(ISBLANK({day}),"",IF({blocks.is_day(day)},{known},"{_NEVER_CALIBRATED}"))'


def _from(kind: str, letter: str) -> tuple[Column, ...]:
    """The working columns for the day of the calibration."""
    return (
        Column("S", f"{kind}_since", "since", "first day on which readings count, a day number", "count",
               formula=lambda row: since(row, letter), look="row", role="working"),
        Column("T", f"{kind}_before", "before", "why readings before that day don't count",
               formula=lambda row: before(row, letter), look="small", role="working"),
    )  # fmt: skip


def _what_to_do(row: int, first: int, last: int) -> str:
    """What to do with the one in this row, by its state in column I and its day of calibration (column T)."""
    return (
        f'IF(ISBLANK(A{row}),IF(COUNTA(B{row}:H{row})>0,"Give it a number; without one no reading can name it.",""),'
        f'IF(SUMPRODUCT((A${first}:A${last}=A{row})*1)>1,"This number is there twice.",'
        f'IF(T{row}="{_NEVER_CALIBRATED}","Its readings do not count: the day of calibration {days.NO_DAY}.",'
        f'IF(I{row}="overdue",as_of_used-INT(G{row})&" days overdue: calibrate it before use.",'
        f'IF(I{row}="due soon",INT(G{row})-as_of_used&" days left.",'
        f'IF(I{row}="unfit","Not to be used.",'
        f'IF(I{row}="no due date",IF(ISBLANK(G{row}),"Its readings do not count: type the due date.",'
        f'"Its readings do not count: the due date {days.NO_DAY}."),"")))))))'
    )


def _mean(row: int) -> str:
    wires = f"D{row}:F{row}"
    return (
        f'IF(ISBLANK(A{row}),"",IF(COUNT({wires})=0,"",IF(COUNT({wires})<COUNTA({wires}),"",'
        f'IF(OR(MIN({wires})<=0,MAX({wires})>{MOST_WIRE}),"",AVERAGE({wires})))))'
    )


def unmatched(row: int) -> str:
    """Whether the wires of a set differ by more than the limit."""
    wires = f"D{row}:F{row}"
    return f"IF(ISNUMBER(J{row}),MAX({wires})-MIN({wires})>wire_match_used+0.000000001,FALSE)"


def _matched_until(row: int) -> str:
    """The last day on which a reading over these wires counts; -1 for never."""
    return f'IF(ISBLANK(A{row}),"",IF({unmatched(row)},-1,{until(row)}))'


def _matched_fault(row: int) -> str:
    """Why a reading over these wires after that day does not count."""
    return f'IF(ISBLANK(A{row}),"",IF(AND(NOT({_unfit(row)}),{unmatched(row)}),"is no matched set",{fault(row)}))'


def _serves(row: int) -> str:
    return (
        f'IF(OR(COUNTA(A{row},D{row}:F{row})<2,NOT(ISNUMBER(thread_row))),"",IF(no_wires,"no wires",'
        f'IF(NOT(ISNUMBER(J{row})),IF(ISBLANK(A{row}),"","not a number"),IF(J{row}<=wire_smallest,"too small",'
        f'IF(J{row}>wire_largest,"too large","yes")))))'
    )


def _over(end: str) -> Callable[[int], str]:
    def formula(row: int) -> str:
        reading = contact.of_set(row - WIRES_FIRST, end)
        return f'IF(ISNUMBER({reading}),{reading},"")'

    return formula


def _share(row: int) -> str:
    return f'IF(ISNUMBER(L{row}),{contact.share(f"L{row}", f"M{row}")},"")'


def _constant(row: int) -> str:
    return f'IF(ISNUMBER(U{row}),{contact.offset(f"M{row}", f"U{row}")},"")'


def _wire_note(row: int) -> str:
    wires = f"D{row}:F{row}"
    return (
        f"TRIM(IF({unmatched(row)},"
        f'"Differ by "&FIXED(MAX({wires})-MIN({wires}),decimals+2,TRUE)&": no matched set, readings do not count. ",'
        f'IF(COUNT({wires})=2,"One wire is not given. ",""))&'
        f"{_what_to_do(row, WIRES_FIRST, WIRES_LAST)})"
    )


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
           formula=state),
    Column("J", "instrument_from", "Range from", "where the range of an instrument begins", "entry",
           "Smallest size it can measure, in the unit two columns on. Empty: no reading is too small for it."),
    Column("K", "instrument_to", "to", "where the range of an instrument ends", "entry",
           "Largest size it can measure, in the unit of the next column. Empty: no reading is too large for it."),
    Column("L", "instrument_unit", "in or mm", "unit of its range", "text",
           "Unit of its range, in or mm. Empty: the working unit.",
           blocks.one_of(("in", "mm"), "Choose in or mm, or leave it empty for the working unit.")),
    Column("M", "instrument_serves", "Gauge for this job?", "whether a gauge is for this job: yes, or why not",
           formula=gauges.for_this_job),
    Column("N", "instrument_words", "What to do", "what to do with it", look="side",
           formula=lambda row: f"TRIM({gauges.to_type(row)}&{_what_to_do(row, FIRST, LAST)})"),
    Column("P", "instrument_until", "until", "last day on which readings count, a day number, -1 for never", "count",
           formula=until, look="row", role="working"),
    Column("Q", "instrument_fault", "fault", "why readings after that day don't count", formula=fault, look="small",
           role="working"),
    *_from("instrument", "F"),
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
           formula=state),
    Column("J", "wires_mean", "Mean", "mean of the certified diameters", "wire", formula=_mean, look="log_figure"),
    Column("K", "wires_words", "Serves?", "whether it serves this thread: yes, too small, too large, no wires",
           formula=_serves),
    Column("L", "wires_over_max", "Over wires, max", "reading over wires at the largest pitch diameter", "length",
           formula=_over("max"), look="log_figure"),
    Column("M", "wires_over_min", "Over wires, min", "reading over wires at the smallest pitch diameter", "length",
           formula=_over("min"), look="log_figure"),
    Column("N", "wires_note", "What to do", "whether the wires match, and what to do", formula=_wire_note,
           look="side"),
    Column("O", "wires_calibrated", "Certified on", "day of the certificate of the wires", "date",
           "Day of the certificate. Readings before that day rest on an older one: list that by a number of its own.",
           DAY),
    Column("P", "wires_until", "until", "last day on which readings count, a day number, -1 for never", "count",
           formula=_matched_until, look="row", role="working"),
    Column("Q", "wires_fault", "fault", "why readings after that day don't count", formula=_matched_fault,
           look="small", role="working"),
    Column("R", "wires_constant", "constant", "reading less pitch diameter with this set", "wire", formula=_constant,
           look="row", role="working"),
    *_from("wires", "O"),
    Column("U", "wires_share", "share", "what is added to that constant, as a share of the reading", "wire",
           formula=_share, look="row", role="working"),
    Column("V", "wires_at", "row", "row of the list, 0 where there is no set", "count",
           formula=lambda row: f"IF(LEN(A{row})>0,{row - WIRES_FIRST + 1},0)", look="row", role="working"),
)  # fmt: skip
