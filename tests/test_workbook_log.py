"""The log in a real spreadsheet program: the right word for every kind of entry."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

import pytest
from workbook_cases import Case, plain_book

from sheetfuncs import CellError, evaluate, standards
from workbook_template import log
from workbook_template.office import Document, Office

WIRE = 0.0361
THREAD = "3/4-16 UNF-2A"


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open."""
    path = tmp_path_factory.mktemp("log") / "new.xlsx"
    path.write_bytes(plain_book()[1])
    with office.open(path) as document:
        yield document


def choose(sheet: Document, callout: str, unit: str, wire: float | None) -> None:
    """Choose thread, unit and wire."""
    sheet.set(Case(standards.read(callout), unit, {"wire_in_use": wire, "aim_limit": "mid"}).sheet())


def judge(sheet: Document, rows: list[tuple[Any, ...]]) -> list[list[Any]]:
    """What the log makes of rows of (serial, reading, direct, crest): pitch diameter and both results."""
    last = log.FIRST + len(rows) - 1
    sheet.set({f"Log!A{log.FIRST}:D{last}": [list(row) for row in rows]})
    return sheet[f"Log!H{log.FIRST}:J{last}"]


# ASME B1.1-2003, Table 2A: pitch .7079/.7029, major .7485/.7391. Over wires .0361: .7621/.7571 (+ 3W - .866025P).
EXTERNAL_INCH = (
    ((None, None, None, None), "", ""),
    (("1", None, None, None), "not measured", "not measured"),
    (("1", 0.76, None, 0.744), "in", "in"),
    (("1", 0.7621, None, 0.7485), "in", "in"),
    (("1", 0.7571, None, 0.7391), "in", "in"),
    (("1", 0.7622, None, 0.7486), "high", "high"),
    (("1", 0.7570, None, 0.7390), "low", "low"),
    ((None, None, 0.7079, None), "in", "not measured"),
    ((None, None, 0.7029, None), "in", "not measured"),
    ((None, None, 0.7080, None), "high", "not measured"),
    ((None, None, 0.7028, None), "low", "not measured"),
    ((None, None, 0.70790000001, None), "in", "not measured"),
    (("1", 0.7594, 0.7053, None), "in", "not measured"),
    (("1", 0.7594, 0.7068, None), "check entry", "not measured"),
    (("1", "0.76", None, "0.744"), "check entry", "check entry"),
    (("1", "about .76", None, "?"), "check entry", "check entry"),
    (("1", 0.76, "none", None), "check entry", "not measured"),
    (("1", -0.76, None, -0.744), "check entry", "check entry"),
    (("1", 0, None, 0), "check entry", "check entry"),
    (("1", 19.304, None, 18.9), "check entry", "check entry"),
    (("1", None, 0.0705, 0.0744), "check entry", "check entry"),
    ((None, None, None, 0.744), "not measured", "in"),
)


def test_words_for_an_external_thread(sheet: Document) -> None:
    choose(sheet, THREAD, "in", WIRE)
    found = judge(sheet, [row for row, _, _ in EXTERNAL_INCH])
    assert [tuple(row[1:]) for row in found] == [(pitch, crest) for _, pitch, crest in EXTERNAL_INCH]
    for (_, pitch, _), (number, *_) in zip(EXTERNAL_INCH, found):
        assert isinstance(number, float) == (pitch in ("in", "high", "low"))


def test_words_count_up(sheet: Document) -> None:
    choose(sheet, THREAD, "in", WIRE)
    judge(sheet, [row for row, _, _ in EXTERNAL_INCH])
    sheet.set({"quantity": 30})
    for word in log.WORDS:
        name = word.replace(" ", "_")
        counts = [sum(row[at] == word for row in EXTERNAL_INCH) for at in (1, 2)]
        assert sheet.get([f"count_pitch_{name}", f"count_crest_{name}"]) == counts
    assert sheet.get(["parts_entered", "parts_to_make"]) == [len(EXTERNAL_INCH) - 1, 30]


def test_no_wire_no_result(sheet: Document) -> None:
    choose(sheet, THREAD, "in", None)
    assert judge(sheet, [("1", 0.76, None, 0.744), ("2", None, 0.705, None)]) == [
        ["", "check entry", "in"],
        [0.705, "in", "not measured"],
    ]


def test_internal_threads_have_no_wires(sheet: Document) -> None:
    """M20x2.5-6H: pitch 18.600/18.376, minor 17.744/17.294 (ISO 965-2:1998)."""
    choose(sheet, "M20x2.5-6H", "mm", 1.443)
    rows = [
        ("1", 20.6, None, 17.294),
        ("2", None, 18.6, 17.744),
        ("3", None, 18.601, 17.745),
        ("4", None, 18.375, 17.0),
    ]
    found = judge(sheet, rows)
    assert [row[1:] for row in found] == [["check entry", "in"], ["in", "in"], ["high", "high"], ["low", "low"]]
    assert sheet["log_crest_title"] == "bore"


def test_a_metric_thread_in_inches(sheet: Document) -> None:
    """M20x2.5-6g: pitch 18.334/18.164 mm (ISO 965-2:1998), .72181/.71512 in; .7151 is what the sheet shows."""
    choose(sheet, "M20x2.5-6g", "in", 0.0568)
    found = judge(sheet, [("1", None, pd, None) for pd in (0.7218, 0.7219, 0.7151, 0.7150, 18.3)])
    assert [row[1] for row in found] == ["in", "high", "in", "low", "check entry"]


@pytest.mark.parametrize(
    ("callout", "unit", "wire"), [(THREAD, "in", WIRE), ("M8x1.25-6g", "mm", 0.722), ("1/4-20 UNC-3A", "mm", 0.74)]
)
def test_random_readings_are_judged_as_by_the_functions(sheet: Document, callout: str, unit: str, wire: float) -> None:
    """Readings in the last digit of a micrometer; those nearer to a limit than it can show are left out."""
    choose(sheet, callout, unit, wire)
    draw = random.Random(callout)
    digits = 4 if unit == "in" else 3
    low, high = (evaluate("THREAD_OVER_WIRES", callout, wire, end, unit) for end in ("min", "max"))
    spread = high - low
    drawn = [round(draw.uniform(low - spread, high + spread), digits) for _ in range(150)]
    drawn += [round(draw.uniform(0, 3 * high), digits) for _ in range(50)]
    readings = [r for r in drawn if r and min(abs(r - low), abs(r - high)) > 0.5 * 10**-digits]
    for reading, (number, word, _) in zip(readings, judge(sheet, [("1", r, None, None) for r in readings])):
        try:
            want = evaluate("THREAD_PD_FROM_WIRES", callout, wire, reading, unit)
        except CellError:
            assert (number, word) == ("", "check entry"), reading
            continue
        assert number == pytest.approx(want, rel=1e-9)
        assert word == ("low" if reading < low else "high" if reading > high else "in"), reading


def test_last_row_works_as_the_first(sheet: Document) -> None:
    choose(sheet, THREAD, "in", WIRE)
    sheet.set({f"Log!A{log.LAST}:D{log.LAST}": [["2000", 0.7622, None, 0.744]]})
    assert sheet[f"Log!I{log.LAST}:J{log.LAST}"] == [["high", "in"]]
    assert log.LAST - log.FIRST + 1 == 2000


def test_a_row_looks_at_nothing_but_itself_and_single_cells() -> None:
    """So that a row costs the same however many there are."""
    for formula in log.row_formulas(100):
        for part in formula.replace("B100:C100", "").replace("A100:G100", "").split(":")[1:]:
            raise AssertionError(f"a range: {part}")
