"""The sheet Instruments: micrometers, gauges and wire sets, when each is due, and which wires serve the job's thread.

An instrument counts for a measurement from the day of its calibration, where that is typed, to its due date, while it
is not marked unfit; the sheet Log looks here by the number typed into its row. One without a due date does not count:
nobody can say that it was in date.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from openpyxl.formatting.rule import Rule
from openpyxl.styles import Border, Font, Side
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, contact, styles
from workbook_template.blocks import Book, Check

SHEET = "Instruments"
INSTRUMENTS, WIRE_SETS = 16, 16
FIRST = 12
LAST = FIRST + INSTRUMENTS - 1
WIRES_HEAD = LAST + 5
WIRES_FIRST = WIRES_HEAD + 1
WIRES_LAST = WIRES_FIRST + WIRE_SETS - 1

DUE_SOON_DAYS = 30
"""This project's choice; a shop sets its own on the sheet."""
KINDS = (
    "micrometer", "thread micrometer", "comparator", "caliper", "bore gauge", "GO ring", "NOT GO ring", "GO plug",
    "NOT GO plug", "setting plug", "gauge blocks", "thermometer", "other",
)  # fmt: skip
FIT = blocks.one_of(("yes", "no"), "Choose yes, or no for an instrument that must not be used.")
DAY = Check("date", "1", operator="greaterThan", refusal="Type a date, as your spreadsheet program takes dates.")
MATCH_LIMIT = 'IF(unit="mm",0.0005,0.00002)'
"""Wires of a set may differ by this where nothing else is typed: 20 millionths of an inch, or half a micrometre.

Common practice. ASME B1.2-1983, Appendix B, and FED-STD-H28/6 ask for matched wires of this order (from memory).
"""


SET_ROW = f"MATCH({blocks.exactly('wire_set')},wires_id,0)"
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
        f'IF(ISBLANK(A{row}),"",IF({_unfit(row)},"unfit",IF(NOT(ISNUMBER(G{row})),"no due date",'
        f'IF(G{row}<as_of_used,"overdue",IF(G{row}-as_of_used<=due_soon_used,"due soon","in date")))))'
    )


def day_words(cell: str) -> str:
    """A date as 2024-03-05 whatever the language of the program."""
    return f'YEAR({cell})&"-"&RIGHT("0"&MONTH({cell}),2)&"-"&RIGHT("0"&DAY({cell}),2)'


def until(row: int) -> str:
    """The last day on which a measurement with it counts; -1 for never."""
    return f'IF(ISBLANK(A{row}),"",IF({_unfit(row)},-1,IF(ISNUMBER(G{row}),INT(G{row}),-1)))'


def fault(row: int) -> str:
    """Why a measurement after that day does not count."""
    return (
        f'IF(ISBLANK(A{row}),"",IF({_unfit(row)},"is marked unfit",'
        f'IF(ISNUMBER(G{row}),"was due "&{day_words(f"G{row}")},"has no due date")))'
    )


NEVER_SINCE = 2958465
"""The last day a spreadsheet knows (9999-12-31): what is calibrated from there on counts for no measurement."""


def since(row: int, letter: str) -> str:
    """The first day on which a measurement with it counts, the day of calibration in that column; 0 for none typed."""
    day = f"{letter}{row}"
    return f'IF(ISBLANK(A{row}),"",IF(ISBLANK({day}),0,IF(ISNUMBER({day}),INT({day}),{NEVER_SINCE})))'


def before(row: int, letter: str) -> str:
    """Why a measurement before that day does not count."""
    day = f"{letter}{row}"
    known = f'"was calibrated only on "&{day_words(day)}'
    return f'IF(ISBLANK({day}),"",IF(ISNUMBER({day}),{known},"has a text as day of calibration"))'


def _from(kind: str, letter: str) -> tuple[Column, ...]:
    """The working columns for the day of the calibration."""
    return (
        Column("S", f"{kind}_since", "since", "first day on which readings count, a day number", "count",
               formula=lambda row: since(row, letter), look="row", role="working"),
        Column("T", f"{kind}_before", "before", "why readings before that day don't count",
               formula=lambda row: before(row, letter), look="small", role="working"),
    )  # fmt: skip


def _what_to_do(row: int, first: int, last: int) -> str:
    """What to do with the one in this row, by its state in column I."""
    return (
        f'IF(ISBLANK(A{row}),IF(COUNTA(B{row}:H{row})>0,"Give it a number; without one no reading can name it.",""),'
        f'IF(SUMPRODUCT((A${first}:A${last}=A{row})*1)>1,"This number is there twice.",'
        f'IF(I{row}="overdue",as_of_used-INT(G{row})&" days overdue: calibrate it before use.",'
        f'IF(I{row}="due soon",INT(G{row})-as_of_used&" days left.",'
        f'IF(I{row}="unfit","Not to be used.",'
        f'IF(I{row}="no due date","Its readings do not count: type the due date.",""))))))'
    )


def _mean(row: int) -> str:
    wires = f"D{row}:F{row}"
    return (
        f'IF(ISBLANK(A{row}),"",IF(COUNT({wires})=0,"",IF(COUNT({wires})<COUNTA({wires}),"",'
        f'IF(MIN({wires})<=0,"",AVERAGE({wires})))))'
    )


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
        f"TRIM(IF(AND(COUNT({wires})=3,MAX({wires})-MIN({wires})>wire_match_used+0.000000001),"
        f'"Differ by "&FIXED(MAX({wires})-MIN({wires}),decimals+2,TRUE)&": no matched set. ",'
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
    Column("C", "instrument_range", "Range or size", "range of an instrument, size of a gauge", "text",
           "Range and division, as in 0 to 1 in, .0001. For a gauge, the thread and class it is for."),
    Column("D", "instrument_certificate", "Certificate", "number of the calibration certificate", "text",
           "Number of its last calibration certificate."),
    Column("E", "instrument_lab", "Laboratory", "who calibrated", "text", "Laboratory or person that calibrated it."),
    Column("F", "instrument_calibrated", "Calibrated", "day of the last calibration", "date",
           "Day of its last calibration. Earlier readings rest on the one before: list that by a number of its own.",
           DAY),
    *(one._replace(name=f"instrument_{one.name}") for one in _SHARED),
    Column("I", "instrument_state", "State", "in date, due soon, overdue, unfit, no due date",
           formula=state),
    Column("J", "instrument_words", "What to do", "what to do with it", look="small",
           formula=lambda row: _what_to_do(row, FIRST, LAST)),
    Column("P", "instrument_until", "until", "last day on which readings count, a day number, -1 for never", "count",
           formula=until, look="row", role="working"),
    Column("Q", "instrument_fault", "fault", "why readings after that day don't count", formula=fault, look="small",
           role="working"),
    *_from("instrument", "F"),
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
           formula=until, look="row", role="working"),
    Column("Q", "wires_fault", "fault", "why readings after that day don't count", formula=fault, look="small",
           role="working"),
    Column("R", "wires_constant", "constant", "reading less pitch diameter with this set", "wire", formula=_constant,
           look="row", role="working"),
    *_from("wires", "O"),
    Column("U", "wires_at", "row", "row of the list, 0 where there is no set", "count",
           formula=lambda row: f"IF(LEN(A{row})>0,{row - WIRES_FIRST + 1},0)", look="row", role="working"),
    Column("V", "wires_share", "share", "what is added to that constant, as a share of the reading", "wire",
           formula=_share, look="row", role="working"),
)  # fmt: skip

STATES = ("in date", "due soon", "overdue", "unfit", "no due date")
_BOXED = DifferentialStyle(font=Font(b=True, i=True), border=Border(*(Side("thin", styles.BLACK),) * 4))
LOOKS = {
    "overdue": styles.BANNER,
    "unfit": styles.BANNER,
    "no due date": _BOXED,
    "due soon": DifferentialStyle(font=Font(b=True)),
}
"""The looks of the states that want something done."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    letters = "ABCDEFGHIJKLMN"
    for letter, width in zip(letters, (11, 19, 21, 12, 20, 12, 13, 11, 13, 11, 11, 11, 11, 32)):
        ws.column_dimensions[letter].width = width
    blocks.widths(ws, {"O": 13, "P": 12, "Q": 22, "R": 12, "S": 12, "T": 22, "U": 8})
    blocks.banner(book, ws, "A1:O1", "left_hand_instruments", "left_hand_words")
    blocks.write(book, ws, "A2:I2", "Instruments and wires", "callout")
    blocks.result(
        book, ws, "J2:O2", "callout_instruments", "the thread, as on the sheet Job", "callout", look="callout"
    )
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 24, 32
    _settings(book, ws)
    _summary(book, ws)
    blocks.heading(book, ws, f"A{FIRST - 2}:O{FIRST - 2}", "Micrometers and gauges")
    _table(book, ws, COLUMNS, FIRST, LAST)
    blocks.result(
        book, ws, f"A{WIRES_HEAD - 1}:O{WIRES_HEAD - 1}", "wires_title", "heading of the wire sets",
        '"Wire sets, and their readings over wires for "&callout', look="block",
    )  # fmt: skip
    _table(book, ws, WIRE_COLUMNS, WIRES_FIRST, WIRES_LAST)
    for first, last in ((FIRST, LAST), (WIRES_FIRST, WIRES_LAST)):
        for word, look in LOOKS.items():
            rule = Rule(type="expression", dxf=look, formula=[f'I{first}="{word}"'], stopIfTrue=True)
            ws.conditional_formatting.add(f"I{first}:I{last}", rule)
    ws.freeze_panes = f"B{FIRST}"
    blocks.page(ws, f"A1:O{WIRES_LAST}", landscape=True)
    blocks.lock(ws)


def _settings(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A3:F3", "How due dates are read")
    rows = (
        ("as_of", "As of this day", "day on which the states are read", "date", DAY, None,
         "Day that the states are for. Empty: today.", "as_of_used", "day used",
         "IF(ISNUMBER(as_of),INT(as_of),TODAY())", "date"),
        ("due_soon_days", "Due soon means within, days", "days before the due date that count as soon", "count",
         blocks.whole(0, 366), DUE_SOON_DAYS,
         "Days before its due date from which an instrument is called due soon. Empty: 30 (our choice).",
         "due_soon_used", "days used",
         f"IF(ISNUMBER(due_soon_days),due_soon_days,{DUE_SOON_DAYS})", "count"),
        ("wire_match_limit", "Wires of a set alike within", "how far the wires of one set may differ", "wire",
         blocks.LENGTH, None,
         "Working unit. Empty: 0.00002 in or 0.0005 mm, common practice for matched sets.",
         "wire_match_used", "limit used",
         f"IF(ISNUMBER(wire_match_limit),wire_match_limit,{MATCH_LIMIT})", "wire"),
    )  # fmt: skip
    for row, (name, label, meaning, dimension, check, value, prompt, used, words, formula, form) in enumerate(rows, 4):
        blocks.write(book, ws, f"A{row}:B{row}", label, "label")
        blocks.entry(
            book, ws, f"C{row}", name, meaning, prompt=prompt, dimension=dimension, check=check, value=value
        )  # fmt: skip
        blocks.write(book, ws, f"D{row}", words, "unit")
        blocks.result(book, ws, f"E{row}:F{row}", used, f"{meaning}, as used", formula, dimension=form)
        ws.row_dimensions[row].height = 20


def _summary(book: Book, ws: Worksheet) -> None:
    """How many are in each state, and the numbers of those that must not be used."""
    blocks.heading(book, ws, "H3:O3", "Sorted out")
    for row, (title, name, first, last) in enumerate(
        (("Instruments", "instruments_sorted", FIRST, LAST), ("Wire sets", "wires_sorted", WIRES_FIRST, WIRES_LAST)), 4
    ):
        blocks.write(book, ws, f"H{row}", title, "label")
        blocks.result(
            book, ws, f"I{row}:O{row}", name, f"{title.lower()} sorted by their state, in words",
            sorted_words(first, last), look="words",
        )  # fmt: skip
        ws.row_dimensions[row].height = 30
    blocks.write(book, ws, "H6", "Serving", "label")
    serving = "&".join(
        f'IF(K{row}="yes",A{row}&IF(I{row}="in date","",IF(I{row}="due soon",""," ("&I{row}&")"))&"  ","")'
        for row in range(WIRES_FIRST, WIRES_LAST + 1)
    )
    blocks.result(
        book, ws, "I6:O6", "wires_serving", "the wire sets that serve this thread",
        f'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",IF(no_wires,{_NO_WIRES},'
        f'IF(COUNTIF(K{WIRES_FIRST}:K{WIRES_LAST},"yes")=0,"No set serves; the best wire is "&'
        f'FIXED(wire_best,decimals+1,TRUE)&" "&unit&".",TRIM({serving}))))',
        look="words",
    )  # fmt: skip
    blocks.write(book, ws, "A8:O8", HINT, "words")


_NO_WIRES = 'IF(own_taper>0,"Taper thread: no wires here.","Internal thread: no wires.")'
HINT = (
    "Type the number of an instrument into the rows of the Log. A reading with one that is not listed here, overdue or "
    "not yet calibrated on the day of the measurement, unfit or without a due date is kept, but it can't be in. The "
    "mean of the certified diameters is the wire the Log computes with: an error in it is three times as much in the "
    "pitch diameter."
)


def sorted_words(first: int, last: int) -> str:
    """1 in date, 2 overdue (M-3 M-4), as a formula."""
    parts = []
    for word in STATES:
        rows = range(first, last + 1)
        numbers = "&".join(f'IF(I{row}="{word}",A{row}&" ","")' for row in rows)
        count = f'COUNTIF(I{first}:I{last},"{word}")'
        listed = f'&" ("&TRIM({numbers})&")"' if word != "in date" else ""
        parts.append(f'IF({count}=0,"",{count}&" {word}"{listed}&".  ")')
    return f'IF(COUNTA(A{first}:A{last})=0,"None listed yet.",TRIM({"&".join(parts)}))'


def _table(book: Book, ws: Worksheet, columns: tuple[Column, ...], first: int, last: int) -> None:
    for one in columns:
        look = "head" if one.role == "working" else "log_head"
        at = f"{one.letter}{first - 1}"
        blocks.write(book, ws, f"{at}:O{first - 1}" if one.name == "instrument_words" else at, one.heading, look)
        ref = f"{one.letter}{first}:{one.letter}{last}"
        form = styles.number_format(one.dimension, book.unit)
        for row in range(first, last + 1):
            cell = ws[f"{one.letter}{row}"]
            if one.formula is None:
                look = "log_size" if one.dimension == "wire" else "log_typed"
            else:
                look, cell.value = one.look, f"={one.formula(row)}"
            styles.apply(book.known, cell, look, form)
        unit = blocks.IN_UNIT.get(one.dimension, "")
        if one.formula is None:
            blocks.name_input(
                book, ws, ref, one.name, f"{one.meaning}, one cell a row", prompt=one.prompt, dimension=one.dimension,
                check=one.check,
            )  # fmt: skip
        else:
            blocks.define(book, ws, ref, one.name, f"{one.meaning}, one cell a row", unit=unit, role=one.role)
        if one.dimension in styles.FORMATS:
            blocks.follow_unit(book, ws, ref, one.dimension)
    ws.row_dimensions[first - 1].height = 28
    for row in range(first, last + 1):
        ws.row_dimensions[row].height = 20
