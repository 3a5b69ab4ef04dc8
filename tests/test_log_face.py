"""How the log is filled in and printed: four stops a part, what stays in sight, what is typed once, how many rows."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from pathlib import Path

import pytest
from log_cases import FIRST, THREAD, cell, day, got, judge, letter, place, words
from openpyxl.utils import get_column_letter
from whole_books import FEW_ROWS, plain_pages, with_few_threads

from sheetfuncs import standards
from workbook_template.office import Document, Office
from workbook_template.read_back import columns
from workbook_template.sheets import log, log_rows, quote
from workbook_template.sheets.layout import Made


def test_a_part_takes_four_stops() -> None:
    """Tab goes through what is unlocked and seen, from the left; the other columns are in closed groups."""
    ws = plain_pages().workbook[log.SHEET]
    stops = [
        one.column_letter
        for one in ws[FIRST]
        if not one.protection.locked and not ws.column_dimensions[one.column_letter].hidden
    ]
    assert stops == [letter(name) for name in ("serial", "reading", "crest", "ring")]
    for one in log_rows.PRINTED:
        own = ws.column_dimensions[letter(one.name)]
        assert (own.outlineLevel, own.hidden) == ((1, True) if one.grouped else (0, False)), one.name
    groups = [one.grouped for one in log_rows.PRINTED]
    ends = [at + 1 for at in range(len(groups)) if groups[at] and not (groups[at + 1 :] or [False])[0]]
    signs = [at + 1 for at, (before, one) in enumerate(zip(groups, groups[1:]), 1) if before and not one]
    assert len(ends) == 4
    assert all(ws.column_dimensions[get_column_letter(at)].collapsed for at in signs)


def test_head_and_limits_stay_within_120_pixels() -> None:
    ws = plain_pages().workbook[log.SHEET]
    assert ws.freeze_panes == f"D{FIRST}"
    assert sum(ws.row_dimensions[row].height for row in range(1, FIRST)) <= 120 * 72 / 96


@pytest.mark.parametrize(
    ("rows", "quantity", "logged", "printed"),
    [
        (200, 0, 0, 30), (200, 25, 0, 30), (200, 28, 0, 60), (200, 150, 0, 180), (45, 45, 0, 45),
        (200, 25, 26, 26), (200, 25, 3, 25), (200, 0, 3, 3),
    ],
)  # fmt: skip
def test_whole_pages_are_printed_for_what_is_to_be_made_and_else_what_is_logged(
    rows: int, quantity: int, logged: int, printed: int
) -> None:
    made = Made("in", (standards.read(THREAD),), "2024-03-04", rows, quote.ROWS, quantity, logged=logged)
    assert log.sheet(made).printed_rows == log_rows.OVER + 1 + printed


def test_what_is_typed_once_is_used_where_a_row_has_none(log_sheet: Document) -> None:
    """Rows that were measured use it; a row that was only begun names nothing, and one's own goes before."""
    none = {"instrument": None, "who": None, "when": None}
    log_sheet.set({"log_once_instrument": "M-1", "log_once_who": "turner", "log_once_when": day("2024-03-05")})
    rows = [
        {"reading": 0.76, **none},
        {"reading": 0.76, **none, "instrument": "M-2", "when": day("2024-03-06")},
        none,
        {"crest": 0.744, **none},
        {"reading": 0.76, **none, "who": "inspector"},
        {"ring": "pass", "gauge": "G-1", **none},
        {"serial": "part 1", **none, "why": "dirt"},
    ]
    found = judge(log_sheet, rows)
    assert words(found) == ["replaced", "check instrument", *["not measured"] * 2, "in", *["not measured"] * 2]
    used = got(log_sheet, ["instrument_used", "who_used", "when_used"], len(rows))
    fifth = day("2024-03-05")
    usual = ["M-1", "turner", fifth]
    assert used == [
        usual, ["M-2", "turner", day("2024-03-06")], ["", "", ""], usual, ["M-1", "inspector", fifth], usual, usual,
    ]  # fmt: skip
    assert log_sheet[place("instrument")] is None  # nothing is written into the row
    assert "M-2" in found[1]["words"]  # overdue on its own day
    log_sheet.set({"log_once_when": None})
    assert log_sheet[cell("words")] == f"Replaced by row {FIRST + 6}. No date."
    assert log_sheet[cell("words", 5)] == "No date."
    log_sheet.set({"log_once_when": "March", "log_once_instrument": "X"})
    assert log_sheet[cell("words", 5)] == "The date is a text."


def test_what_is_typed_once_is_recorded_as_used() -> None:
    values = {
        "log_serial": ["1", "2", "3"], "log_reading": [0.76, None, 0.76], "log_instrument": [None, None, "M-2"],
        "log_once_instrument": "M-1", "log_once_when": 45356.0,
    }  # fmt: skip
    one, two, three = columns.rows_of(values)
    assert one.inputs == {"serial": "1", "reading": 0.76, "instrument": "M-1", "when": 45356.0}
    assert one.typed == {"serial": "1", "reading": 0.76}
    assert two.inputs == two.typed == {"serial": "2"}
    assert three.inputs["instrument"] == "M-2"
    assert date(1899, 12, 30).toordinal() + 45356 == date(2024, 3, 5).toordinal()


def test_the_worst_result_stands_beside_the_part(log_sheet: Document) -> None:
    """3/4-16 UNF-2A: pitch .7029 to .7079, major .7391 to .7485 (ASME B1.1-2003, Table 2A)."""
    rows = [
        {"direct": 0.7050, "crest": 0.7490},
        {"direct": 0.7090, "crest": 0.7440},
        {"direct": 0.7050, "crest": 0.7440},
        {"direct": "?", "crest": 0.7380},
        {"crest": 0.7440},
        {"direct": 0.7050, "ring": "go fails", "gauge": "G-1"},
    ]
    judge(log_sheet, rows)
    told = got(log_sheet, ["worst", "reason"], len(rows))
    assert [row[0] for row in told] == ["high", "high", "in", "low", "not measured", "high"]
    assert [row[1] for row in told][:3] == ["Major dia. high.", "Pitch dia. high.", ""]
    assert told[3][1].startswith("Major dia. low. ")
    assert told[5][1] == "Gauge: go fails."


def test_a_row_beyond_what_is_printed_is_told_before_what_the_rows_tell_themselves(
    office: Office, built: Mapping[str, Path]
) -> None:
    with office.open(built["new.xlsx"]) as document:
        for number, part in enumerate(["1", "1", *map(str, range(3, 31))], start=1):
            document.edit(cell("serial", number), part)
        assert "1 row repeats a part" in document["log_step"]
        document.edit(cell("serial", 31), "31")
        beyond = "The first 30 rows are printed, and the log goes on to row "
        told = f"{beyond}{FIRST + 30}: widen the print range."
        assert told in document["log_step"]
        for number in range(4, 30):  # the paper ends where it ended, however many rows above are empty
            document.edit(cell("serial", number), "")
        assert told in document["log_step"]
        document.edit(cell("serial", 31), "")
        assert "printed" not in document["log_step"]
        document.edit(cell("serial", 40), "1")  # a correction has no part of its own
        document.edit(cell("why", 40), "wrong key")
        assert f"{beyond}{FIRST + 39}: " in document["log_step"]


def test_more_parts_than_rows_are_told_from_the_first_part_on(office: Office, built_short: Mapping[str, Path]) -> None:
    with office.open(built_short["new.xlsx"]) as document:
        document.edit("quantity", str(FEW_ROWS))
        document.edit(cell("serial"), "1")
        assert "second workbook" not in document["log_step"]
        document.edit("quantity", str(FEW_ROWS + 1))
        assert "second workbook" in document["log_step"]


def test_every_part_that_is_given_has_a_row() -> None:
    parts = [str(number) for number in range(log_rows.ROWS + 3)]
    assert with_few_threads(values={"log_serial": parts}, rows=0).rows == len(parts)


def test_over_a_full_log_stands_how_to_go_on(office: Office, built_short: Mapping[str, Path]) -> None:
    last = FEW_ROWS
    with office.open(built_short["new.xlsx"]) as document:
        document.set({place("serial", last - 1): [[str(number)] for number in range(1, last)]})
        assert log_rows.MORE not in document["log_step"]
        document.edit(cell("serial", last), "the last")
        assert log_rows.MORE in document["log_step"]


def test_a_decision_rule_that_is_none_is_named(log_sheet: Document) -> None:
    for typed, told in (("simple", "simple acceptance"), ("", "simple acceptance"), ("maybe", "CHECK ENTRY")):
        log_sheet.edit("decision_rule", typed)
        assert told in log_sheet["decision_words"]
