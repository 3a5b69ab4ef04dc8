"""What the tests of the log share: the thread, the instruments, and rows put to the sheet and judged."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from math import pi
from typing import Any

from openpyxl.utils import get_column_letter
from workbook_cases import Case

from sheetfuncs import standards
from workbook_template.office import Document
from workbook_template.sheets import instruments, log, log_rows, log_taper, log_top

WIRE = 0.0361
LEAD = 0.75 * WIRE * (1 / 16 / (pi * 0.7054)) ** 2
"""What the lead angle of 3/4-16 adds to a reading, .00002 in, within .000001: W s^2/2 cos 30 cot 30, MH31 p. 2130."""
THREAD = "3/4-16 UNF-2A"
COLUMNS = [one.name for one in log_rows.INPUTS]
RESULTS = [one.name for one in log_rows.RESULTS]
BLANK = [None] * len(COLUMNS)
ROOM = 160
"""Rows that the tests use; each test leaves the rest of them empty."""
FIRST = log.HEAD + 1
"""The first row of the log on the sheet."""
ONCE = tuple(one.name for one in (*log_top.ONCE, log_taper.PLACE))


def letter(name: str) -> str:
    """The letter of a column of the log."""
    return get_column_letter(log_rows.NUMBERS[name])


def place(name: str, rows: int = 1, first: int = FIRST) -> str:
    """The cells of a column of the log from a row of the sheet on."""
    return f"{log.SHEET}!{letter(name)}{first}:{letter(name)}{first + rows - 1}"


def cell(name: str, number: int = 1) -> str:
    """The cell of a column in the row of that number, counted from 1."""
    return place(name, first=log.HEAD + number).partition(":")[0]


def typed(rows: Sequence[Sequence[Any]], first: int = FIRST) -> dict[str, Any]:
    """Rows of inputs, each in the order of COLUMNS, as cells of the sheet."""
    columns = zip(COLUMNS, zip(*rows))
    return {place(name, len(rows), first): [[value] for value in values] for name, values in columns}


def got(sheet: Document, names: Sequence[str], rows: int, first: int = FIRST) -> list[list[Any]]:
    """The rows of some columns."""
    found = sheet.get([place(name, rows, first) for name in names])
    return [list(row) for row in zip(*([one] if rows == 1 else [cell for (cell,) in one] for one in found))]


def day(text: str) -> int:
    """A date as spreadsheets count days."""
    return (date.fromisoformat(text) - date(1899, 12, 30)).days


def cells(values: Sequence[Any], rows: int) -> list[list[Any]]:
    """A column of an input range, filled up with blanks."""
    return [[value] for value in (*values, *[None] * (rows - len(values)))]


LISTED = {
    "instrument_id": ("M-1", "M-2", "M-3", "M-4", "G-1", "G-2"),
    "instrument_kind": ("micrometer", None, None, None, "GO ring", "NOT GO ring"),
    "instrument_thread": (None, None, None, None, "3/4-16 UNF-2A", "3/4-16 UNF-2A"),
    **dict.fromkeys(("instrument_from", "instrument_to", "instrument_unit"), ()),
    "instrument_due": (day("2030-01-01"), day("2024-03-05"), day("2030-01-01"), None, *(day("2030-01-01"),) * 2),
    "instrument_fit": ("yes", None, "no", "yes", None, None),
    "wires_id": ("W-1", "W-2", "W-3", "W-4"),
    "wires_a": (0.0361, 0.0362, 0.0200, 0.0361),
    "wires_b": (0.0361, 0.03621, None, None),
    "wires_c": (0.0361, 0.03619, None, None),
    "wires_due": (day("2030-01-01"), day("2030-01-01"), day("2030-01-01"), day("2024-03-05")),
    **dict.fromkeys(("instrument_calibrated", "wires_calibrated"), ()),
}
"""W-2 has a certified mean of .0362, W-3 is too thin for the thread, W-4 is overdue after 2024-03-05."""
USUAL = {"job_date": day("2024-03-04"), "as_of": day("2024-03-10"), "decision_rule": "simple"}
NOTHING = (
    *("expanded_uncertainty", "coverage_factor", "crest_uncertainty", "expansion", "expansion_source"),
    *("instrument_expansion", "room_temperature", "turns_rule", "thinnest_coating", "thickest_coating"),
)


def cleared(document: Document) -> Document:
    """The workbook with instruments listed, nothing special asked for at the top, 3/4-16 UNF-2A, and no rows."""
    rows = {"i": instruments.INSTRUMENTS, "w": instruments.WIRE_SETS}
    listed = {name: cells(values, rows[name[0]]) for name, values in LISTED.items()}
    document.set(typed([BLANK] * ROOM))
    document.set({**listed, **USUAL, **dict.fromkeys((*NOTHING, *ONCE))})
    choose(document, THREAD, "in", WIRE)
    return document


def choose(sheet: Document, callout: str, unit: str, wire: float | None) -> None:
    """Choose thread, unit and the wire in use."""
    inputs = {"wire_in_use": wire, "aim_limit": "mid"}
    sheet.set(Case(standards.read(callout), unit, inputs).sheet())


def judge(sheet: Document, rows: Sequence[dict[str, Any]], first: int = FIRST) -> list[dict[str, Any]]:
    """What the log makes of rows.

    Each has a part number, the instrument M-1, a date, and the wires W-1 where nothing else is said.
    """
    usual = {"instrument": "M-1", "when": day("2024-03-05"), "who": "inspector"}
    filled = []
    for at, row in enumerate(rows, start=1):
        whole = (
            {"serial": f"part {at}", **usual, "wires": "W-1" if row.get("reading") is not None else None, **row}
            if row
            else {}
        )
        filled.append([whole.get(name) for name in COLUMNS])
    sheet.set(typed(filled, first))
    return [dict(zip(RESULTS, found)) for found in got(sheet, RESULTS, len(rows), first)]


def words(found: Sequence[dict[str, Any]], name: str = "pitch_diameter_result") -> list[Any]:
    """One column of results."""
    return [row[name] for row in found]
