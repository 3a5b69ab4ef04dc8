"""The sheet Instruments in a real spreadsheet program: states by their dates, wires by the published formula."""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import date, timedelta
from math import pi, sqrt
from typing import Any

import pytest
from workbook_cases import Case, demo_file, plain_file

from sheetfuncs import standards
from workbook_template.office import Document, Error, Office
from workbook_template.sheets import instrument_columns, instruments

THREAD = "3/4-16 UNF-2A"
ZERO = date(1899, 12, 30)
TODAY = date(2024, 3, 6)


TYPED = [
    f"{kind}_{one.name}"
    for kind, columns in (("instrument", instruments.COLUMNS), ("wires", instruments.WIRE_COLUMNS))
    for one in columns
    if one.typed
]


@pytest.fixture(scope="module")
def document(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    path = tmp_path_factory.mktemp("instruments") / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as opened:
        yield opened


@pytest.fixture
def sheet(document: Document) -> Document:
    """The workbook with its thread chosen and nothing listed."""
    blank = {name: column([], rows_of(name)) for name in TYPED}
    top = {"as_of": serial(TODAY), "due_soon_days": 30, "wire_match_limit": None}
    document.set(blank | top | Case(standards.read(THREAD), "in", {}).sheet())
    return document


def serial(day: date | None) -> int | None:
    """A date as spreadsheets count days."""
    return None if day is None else (day - ZERO).days


def rows_of(name: str) -> int:
    return instruments.INSTRUMENTS if name.startswith("instrument") else instruments.WIRE_SETS


def column(values: list[Any], rows: int) -> list[list[Any]]:
    """A column of an input range, filled up with blanks."""
    return [[value] for value in (*values, *[None] * (rows - len(values)))]


def fill(sheet: Document, **columns: list[Any]) -> None:
    sheet.set({name: column(values, rows_of(name)) for name, values in columns.items()})


def shown(sheet: Document, name: str, count: int) -> list[Any]:
    return [row[0] for row in sheet[name][:count]]


def expected_state(due: date | None, fit: str | None, soon: int, calibrated: date | None = None) -> str:
    """By the calendar: the due date itself is still in date; there is a day between the calibration and it, or none."""
    if fit == "no":
        return "unfit"
    if due is None:
        return "no due date"
    if calibrated is not None and calibrated > due:
        return "check dates"
    left = (due - TODAY).days
    return "overdue" if left < 0 else "due soon" if left <= soon else "in date"


@pytest.mark.parametrize("kind", ["instrument", "wires"])
def test_states_follow_the_calendar(sheet: Document, kind: str) -> None:
    draw = random.Random(kind)
    dues = [TODAY + timedelta(days) for days in (-1, 0, 1, 9, 10, 11, 29, 30, 31, 400, -400)]
    dues += [draw.choice(dues) for _ in range(3)] + [None, None]
    fits = [None] * 11 + ["no", "yes", "no", None, "no"]
    numbers = [f"X-{at}" for at in range(len(dues))]
    before = [due and due - timedelta(draw.choice((-400, -1, 0, 1, 400))) for due in dues]
    for soon, calibrated in ((30, [None] * len(dues)), (10, before)):
        sheet.set({"due_soon_days": soon})
        fill(sheet, **{f"{kind}_id": numbers, f"{kind}_due": [serial(d) for d in dues], f"{kind}_fit": fits})
        fill(sheet, **{f"{kind}_calibrated": [serial(d) for d in calibrated]})
        wanted = [expected_state(due, fit, soon, day) for due, fit, day in zip(dues, fits, calibrated)]
        assert ("check dates" in wanted) == (calibrated is before)
        assert shown(sheet, f"{kind}_state", len(dues)) == wanted
        said = sheet["instruments_sorted" if kind == "instrument" else "wires_sorted"]
        for state in set(wanted) - {"in date"}:
            listed = " ".join(number for number, one in zip(numbers, wanted) if one == state)
            assert f"{wanted.count(state)} {state} ({listed})." in said


def test_today_is_used_where_no_day_is_typed(sheet: Document) -> None:
    sheet.set({"as_of": None})
    fill(
        sheet, instrument_id=["A", "B"], instrument_due=[serial(date.today() - timedelta(2)), serial(date(2090, 1, 1))]
    )
    assert shown(sheet, "instrument_state", 3) == ["overdue", "in date", ""]
    assert sheet["as_of_used"] in (serial(date.today()), serial(date.today() - timedelta(1)))


def test_what_to_do(sheet: Document) -> None:
    fill(
        sheet,
        instrument_id=["A", "B", "A", None, "E", "F"],
        instrument_kind=["micrometer"] * 6,
        instrument_due=[serial(TODAY), serial(TODAY - timedelta(3)), None, None, None, serial(TODAY + timedelta(5))],
    )
    assert shown(sheet, "instrument_words", 6) == [
        "This number is there twice.",
        "3 days overdue: calibrate it before use.",
        "This number is there twice.",
        "Give it a number; without one no reading can name it.",
        "Its readings do not count: type the due date.",
        "5 days left.",
    ]


def test_blanks_around_a_number_are_told_where_it_is_listed(sheet: Document) -> None:
    """No reading that names M-7 finds " M-7", which looks the same."""
    told = "Blanks around a number: retype it without, or no reading finds it."
    for numbers, found in (([" M-7", "M-8"], True), (["M-7 ", None], True), (["M-7", 8], False)):
        fill(sheet, instrument_id=numbers, instrument_due=[serial(date(2030, 1, 1))] * 2)
        fill(sheet, wires_id=numbers, wires_due=[serial(date(2030, 1, 1))] * 2)
        assert [sheet[name].endswith(told) for name in ("instruments_sorted", "wires_sorted")] == [found, found]


def test_a_range_in_a_unit_that_is_none_is_told(sheet: Document) -> None:
    """A list that was pasted says inch and millimetres: both would count as the working unit."""
    units = ["in", "mm", None, "inch", "millimetres", "inch"]
    count = len(units)
    fill(sheet, instrument_id=[f"M-{at}" for at in range(count)], instrument_due=[serial(date(2030, 1, 1))] * count)
    fill(sheet, instrument_unit=units, instrument_from=[0] * (count - 1), instrument_to=[1] * (count - 1))
    told = "The unit of its range is in or mm."
    assert shown(sheet, "instrument_words", count) == ["", "", "", told, told, ""]
    fill(sheet, instrument_unit=[], instrument_from=[], instrument_to=[])


def test_a_kind_pasted_over_the_list_is_told(sheet: Document) -> None:
    kinds = ["thread ring", "GO ring", "go RING", "mike", 7, None]
    fill(sheet, instrument_id=list("abcdef"), instrument_kind=kinds, instrument_thread=["x"] * 6,
         instrument_due=[serial(TODAY)] * 6)  # fmt: skip
    said = [words.partition(" is none that ")[0] for words in shown(sheet, "instrument_words", 6)]
    none = [f"Its readings do not count: its kind, {kind}," for kind in ("thread ring", "mike", 7)]
    assert [said[0], *said[3:5]] == none
    assert not [words for words in (*said[1:3], said[5]) if "kind" in words]


@pytest.mark.parametrize(("kind", "told"), [("instrument", "instrument_words"), ("wires", "wires_note")])
def test_a_calibration_after_the_due_day_or_the_day_of_the_sheet_is_told(sheet: Document, kind: str, told: str) -> None:
    """No measurement counts with the first, none on the day of the sheet with the second; the third is in order."""
    days = [(TODAY + timedelta(50), TODAY + timedelta(40)), (TODAY + timedelta(40), TODAY + timedelta(400)),
            (TODAY, TODAY + timedelta(400))]  # fmt: skip
    fill(sheet, **{f"{kind}_id": ["A", "B", "C"], f"{kind}_calibrated": [serial(day) for day, _ in days]})
    fill(sheet, **{f"{kind}_due": [serial(due) for _, due in days]})
    assert shown(sheet, f"{kind}_state", 3) == ["check dates", "in date", "in date"]
    assert shown(sheet, told, 3) == [
        "Does not count: calibrated after it was due.",
        "Readings count from 2024-04-15 on.",
        "",
    ]
    assert sheet["undone_instruments"] == 1
    fill(sheet, **{f"{kind}_calibrated": [None, "last year"]})
    assert shown(sheet, f"{kind}_state", 2) == ["in date", "check dates"]
    assert shown(sheet, told, 2) == [
        "", "Its readings do not count: the day of calibration is no day between 1990 and 2099."
    ]  # fmt: skip


# ASME B1.1-2003, Table 2A: 3/4-16 UNF-2A pitch .7079/.7029, major .7485/.7391. Best wire .57735/16
WIRES = (
    ([0.0361, 0.0361, 0.0361], "yes", ""),
    ([0.0361, None, None], "yes", ""),
    ([0.03610, 0.03612, 0.03611], "yes", ""),
    ([0.03610, 0.03613, 0.03611], "yes", "Not matched by 0.000030: not to be used."),
    ([0.0361, 0.0361, None], "yes", "One wire is not given."),
    ([0.0280, 0.0280, 0.0280], "too small", ""),
    ([0.0630, 0.0630, 0.0630], "too large", ""),
    ([0.0450, 0.0450, 0.0450], "yes", ""),
    (["0,0361", 0.0361, 0.0361], "not a number", "One wire is not given."),
)


def test_wire_sets(sheet: Document) -> None:
    fill(
        sheet,
        wires_id=[f"W-{at}" for at in range(len(WIRES))],
        wires_due=[serial(date(2030, 1, 1))] * len(WIRES),
        **{f"wires_{letter}": [wires[at] for wires, _, _ in WIRES] for at, letter in enumerate("abc")},
    )
    count = len(WIRES)
    assert shown(sheet, "wires_words", count) == [word for _, word, _ in WIRES]
    assert shown(sheet, "wires_note", count) == [note for _, _, note in WIRES]
    for (wires, word, _), mean, high, low in zip(
        WIRES, *(shown(sheet, name, count) for name in ("wires_mean", "wires_over_wires_max", "wires_over_wires_min"))
    ):
        if word == "not a number":
            assert (mean, high, low) == ("", "", "")
            continue
        given = [wire for wire in wires if wire]
        assert mean == pytest.approx(sum(given) / len(given), abs=1e-12)
        lead = 0.75 * mean * (1 / 16 / (pi * 0.7054)) ** 2  # the handbook's term, MH31 p. 2130: .00002
        over = [pitch + 3 * mean - sqrt(3) / 2 / 16 + lead if word == "yes" else "" for pitch in (0.7079, 0.7029)]
        assert [high, low] == pytest.approx(over, abs=2e-6) if word == "yes" else [high, low] == over
    assert sheet["wires_serving"] == "Serving: W-0 W-1 W-2 W-3 (no matched set) W-4 W-7"


def test_the_limit_for_wires_of_a_set_is_a_cell_and_follows_the_unit(sheet: Document) -> None:
    fill(sheet, wires_id=["W"], wires_a=[0.0361], wires_b=[0.03613], wires_c=[0.0361], wires_due=[serial(TODAY)])
    assert sheet["wire_match_used"] == 0.00002
    sheet.set({"wire_match_limit": 0.00005})
    assert "Differ" not in sheet["wires_note"][0][0]
    sheet.set({"wire_match_limit": None, "unit": "mm"})
    assert sheet["wire_match_used"] == 0.0005


@pytest.mark.parametrize(("callout", "word"), [("M20x2.5-6H", "no wires"), ("3/4-14 NPT internal", "no wires")])
def test_threads_without_wires(sheet: Document, callout: str, word: str) -> None:
    sheet.set(Case(standards.read(callout), "mm", {}).sheet())
    fill(sheet, wires_id=["W", None], wires_a=[1.443, 1.4])
    assert shown(sheet, "wires_words", 3) == [word, "", ""]
    assert shown(sheet, "wires_over_wires_max", 1) == [""]


def test_no_entry_makes_an_error_value(sheet: Document) -> None:
    draw = random.Random(4)
    junk = (None, "x", -1, 0, 0.0361, 1e9, 1e308, -1e308, 45000, 20260131, "no", "W", "GO ring", "3/4-16 UNF-2A GO")
    for inputs in ({}, {"thread_class": None}, {"unit": None, "as_of": "x", "wire_match_limit": "x"}):
        sheet.set(inputs)
        sheet.set({name: [[draw.choice(junk)] for _ in range(rows_of(name))] for name in TYPED})
        for area in ("Instruments!A1:AK75", "Wire sets!A1:AC75"):
            assert not [cell for row in sheet[area] for cell in row if isinstance(cell, Error)]


def test_there_is_room_and_the_example_has_every_state(office: Office, tmp_path: Any) -> None:
    assert min(instruments.INSTRUMENTS, instruments.WIRE_SETS) >= 60
    path = tmp_path / "demo.xlsx"
    path.write_bytes(demo_file().content)
    with office.open(path) as opened:
        shown_states = {cell for name in ("instrument_state", "wires_state") for (cell,) in opened[name]}
        assert shown_states == {"", *instruments.STATES}


def test_the_list_of_sets_ends_with_the_last_one(sheet: Document) -> None:
    """A set may be crossed off in the middle; a number is a number of a set too. Nothing listed is one blank line."""
    sheet.type({"quantity": f"=ROWS({instrument_columns.SET_LIST.formula1})"})
    for listed, last in (([], 1), (["W-1"], 1), (["W-1", None, 36, None, "W-4"], 5), (["W-1"] * 60, 60)):
        fill(sheet, wires_id=listed)
        assert sheet["quantity"] == last
    sheet.set({"quantity": None})
