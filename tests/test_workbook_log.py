"""The log in a real spreadsheet program: the right word, and the right reason, for every kind of entry."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

import pytest
from workbook_cases import Case, plain_book

from sheetfuncs import CellError, evaluate, standards
from workbook_template import demo, instruments, log, log_rows
from workbook_template.office import Document, Error, Office

WIRE = 0.0361
THREAD = "3/4-16 UNF-2A"
COLUMNS = [one.name for one in log_rows.INPUTS]
RESULTS = [one.name for one in log_rows.RESULTS]
BLANK = [None] * len(COLUMNS)
ROOM = 160
"""Rows that the tests use; each test leaves the rest of them empty."""


def day(text: str) -> int:
    """A date as spreadsheets count days."""
    return (date.fromisoformat(text) - date(1899, 12, 30)).days


def cells(values: Sequence[Any], rows: int) -> list[list[Any]]:
    """A column of an input range, filled up with blanks."""
    return [[value] for value in (*values, *[None] * (rows - len(values)))]


LISTED = {
    "instrument_id": ("M-1", "M-2", "M-3", "M-4", "G-1"),
    "instrument_due": (day("2030-01-01"), day("2024-03-05"), day("2030-01-01"), None, day("2030-01-01")),
    "instrument_fit": ("yes", None, "no", "yes", None),
    "wires_id": ("W-1", "W-2", "W-3", "W-4"),
    "wires_a": (0.0361, 0.0363, 0.0200, 0.0361),
    "wires_b": (0.0361, 0.0362, None, None),
    "wires_c": (0.0361, 0.0361, None, None),
    "wires_due": (day("2030-01-01"), day("2030-01-01"), day("2030-01-01"), day("2024-03-05")),
    **dict.fromkeys(("instrument_calibrated", "wires_calibrated"), ()),
}
"""W-2 has a certified mean of .0362, W-3 is too thin for the thread, W-4 is overdue after 2024-03-05."""
USUAL = {"job_date": day("2024-03-04"), "as_of": day("2024-03-10"), "decision_rule": "simple"}
NOTHING = (
    *("expanded_uncertainty", "coverage_factor", "crest_uncertainty", "expansion", "expansion_source"),
    *("instrument_expansion", "room_temperature", "turns_rule"),
)


@pytest.fixture(scope="module")
def document(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open."""
    path = tmp_path_factory.mktemp("log") / "new.xlsx"
    path.write_bytes(plain_book()[1])
    with office.open(path) as opened:
        yield opened


@pytest.fixture
def sheet(document: Document) -> Document:
    """The same with instruments listed, nothing special asked for at the top, 3/4-16 UNF-2A, and no rows."""
    rows = {"i": instruments.INSTRUMENTS, "w": instruments.WIRE_SETS}
    listed = {name: cells(values, rows[name[0]]) for name, values in LISTED.items()}
    rows_now = document[f"Log!A{log.FIRST}:Q{log.FIRST + ROOM - 1}"]
    used = max((at for at, row in enumerate(rows_now, start=1) if row != BLANK), default=0)
    if used:
        document.set({f"Log!A{log.FIRST}:Q{log.FIRST + used - 1}": [BLANK] * used})
    change(document, {**listed, **USUAL, **dict.fromkeys(NOTHING)})
    choose(document, THREAD, "in", WIRE)
    return document


def change(sheet: Document, values: dict[str, Any]) -> None:
    """Set what is not so already; every input set makes the whole log compute."""
    now = dict(zip(values, sheet.get(values)))
    sheet.set({name: value for name, value in values.items() if now[name] != value})


def choose(sheet: Document, callout: str, unit: str, wire: float | None) -> None:
    """Choose thread, unit and the wire in use."""
    inputs = {"wire_in_use": wire, "aim_limit": "mid"}
    change(sheet, Case(standards.read(callout), unit, inputs).sheet())


def judge(sheet: Document, rows: Sequence[dict[str, Any]], first: int = log.FIRST) -> list[dict[str, Any]]:
    """What the log makes of rows; each has the instrument M-1, a date, and the wires W-1 where nothing else is said."""
    usual = {"instrument": "M-1", "when": day("2024-03-05"), "who": "inspector"}
    filled = []
    for row in rows:
        whole = {**usual, "wires": "W-1" if row.get("reading") is not None else None, **row} if row else {}
        filled.append([whole.get(name) for name in COLUMNS])
    last = first + len(rows) - 1
    sheet.set({f"Log!A{first}:Q{last}": filled})
    letters = log_rows.LETTERS[RESULTS[0]], log_rows.LETTERS[RESULTS[-1]]
    return [dict(zip(RESULTS, found)) for found in sheet[f"Log!{letters[0]}{first}:{letters[1]}{last}"]]


def words(found: Sequence[dict[str, Any]], name: str = "pitch_result") -> list[Any]:
    """One column of results."""
    return [row[name] for row in found]


# ASME B1.1-2003, Table 2A: pitch .7079/.7029, major .7485/.7391. Over wires .0361: .7621/.7571 (+ 3W - .866025P).
EXTERNAL_INCH = (
    ({}, "", ""),
    ({"serial": "1"}, "not measured", "not measured"),
    ({"serial": "1", "reading": 0.76, "crest": 0.744}, "in", "in"),
    ({"reading": 0.7621, "crest": 0.7485}, "in", "in"),
    ({"reading": 0.7571, "crest": 0.7391}, "in", "in"),
    ({"reading": 0.7622, "crest": 0.7486}, "high", "high"),
    ({"reading": 0.7570, "crest": 0.7390}, "low", "low"),
    ({"direct": 0.7079}, "in", "not measured"),
    ({"direct": 0.7029}, "in", "not measured"),
    ({"direct": 0.7080}, "high", "not measured"),
    ({"direct": 0.7028}, "low", "not measured"),
    ({"direct": 0.70790000001}, "in", "not measured"),
    ({"reading": 0.7594, "direct": 0.7053}, "in", "not measured"),
    ({"reading": 0.7594, "direct": 0.7068}, "check entry", "not measured"),
    ({"reading": "0.76", "crest": "0.744"}, "check entry", "check entry"),
    ({"reading": "about .76", "crest": "?"}, "check entry", "check entry"),
    ({"reading": 0.76, "direct": "none"}, "check entry", "not measured"),
    ({"reading": -0.76, "crest": -0.744}, "check entry", "check entry"),
    ({"reading": 0, "crest": 0}, "check entry", "check entry"),
    ({"reading": 19.304, "crest": 18.9}, "check entry", "check entry"),
    ({"direct": 0.0705, "crest": 0.0744}, "check entry", "check entry"),
    ({"crest": 0.744}, "not measured", "in"),
)


def test_words_for_an_external_thread(sheet: Document) -> None:
    found = judge(sheet, [row for row, _, _ in EXTERNAL_INCH])
    assert [(row["pitch_result"], row["crest_result"]) for row in found] == [case[1:] for case in EXTERNAL_INCH]
    for (_, pitch, _), row in zip(EXTERNAL_INCH, found):
        assert isinstance(row["pitch"], float) == (pitch in ("in", "high", "low"))


def test_words_count_up(sheet: Document) -> None:
    judge(sheet, [row for row, _, _ in EXTERNAL_INCH])
    sheet.set({"quantity": 30})
    for word in log.WORDS:
        name = word.replace(" ", "_")
        counts = [sum(row[at] == word for row in EXTERNAL_INCH) for at in (1, 2)]
        assert sheet.get([f"count_pitch_{name}", f"count_crest_{name}"]) == counts
    assert sheet.get(["parts_entered", "parts_to_make"]) == [len(EXTERNAL_INCH) - 1, 30]


def test_no_wire_no_result(sheet: Document) -> None:
    choose(sheet, THREAD, "in", None)
    rows = [{"reading": 0.76, "crest": 0.744, "wires": None}, {"direct": 0.705}]
    found = judge(sheet, rows)
    assert words(found) == ["check entry", "in"]
    assert words(found, "crest_result") == ["in", "not measured"]
    assert found[0]["words"].startswith("No wires that serve this thread.")


def test_internal_threads_have_no_wires(sheet: Document) -> None:
    """M20x2.5-6H: pitch 18.600/18.376, minor 17.744/17.294 (ISO 965-2:1998)."""
    choose(sheet, "M20x2.5-6H", "mm", 1.443)
    rows = [
        {"reading": 20.6, "crest": 17.294},
        {"direct": 18.6, "crest": 17.744, "ring": "go fails", "gauge": "G-1"},
        {"direct": 18.601, "crest": 17.745, "ring": "not go enters", "gauge": "G-1"},
        {"direct": 18.375, "crest": 17.0},
    ]
    found = judge(sheet, rows)
    assert words(found) == ["check entry", "in", "high", "low"]
    assert words(found, "crest_result") == ["in", "in", "high", "low"]
    assert words(found, "ring_result") == ["", "low", "high", ""]
    assert sheet["log_crest_title"] == "bore"
    assert found[0]["words"].startswith("No wires on this thread")


def test_a_metric_thread_in_inches(sheet: Document) -> None:
    """M20x2.5-6g: pitch 18.334/18.164 mm (ISO 965-2:1998), .72181/.71512 in; .7151 is what the sheet shows."""
    choose(sheet, "M20x2.5-6g", "in", 0.0568)
    found = judge(sheet, [{"direct": pd} for pd in (0.7218, 0.7219, 0.7151, 0.7150, 18.3)])
    assert words(found) == ["in", "high", "in", "low", "check entry"]
    assert found[-1]["words"] == "mm? 18.3 mm is 0.7205 in."


@pytest.mark.parametrize(
    ("callout", "unit", "wire"), [(THREAD, "in", WIRE), ("M8x1.25-6g", "mm", 0.722), ("1/4-20 UNC-3A", "mm", 0.74)]
)
def test_random_readings_are_judged_as_by_the_functions(sheet: Document, callout: str, unit: str, wire: float) -> None:
    """Readings in the last digit of a micrometer; those nearer to a limit than it can show are left out."""
    choose(sheet, callout, unit, None)
    wires = [[wire], *[[None]] * (instruments.WIRE_SETS - 1)]
    sheet.set({"wires_a": wires, "wires_b": wires, "wires_c": wires})
    draw = random.Random(callout)
    digits = 4 if unit == "in" else 3
    low, high = (evaluate("THREAD_OVER_WIRES", callout, wire, end, unit) for end in ("min", "max"))
    spread = high - low
    drawn = [round(draw.uniform(low - spread, high + spread), digits) for _ in range(110)]
    drawn += [round(draw.uniform(0, 3 * high), digits) for _ in range(50)]
    readings = [r for r in drawn if r and min(abs(r - low), abs(r - high)) > 0.5 * 10**-digits]
    for reading, row in zip(readings, judge(sheet, [{"reading": r} for r in readings])):
        try:
            want = evaluate("THREAD_PD_FROM_WIRES", callout, wire, reading, unit)
        except CellError:
            assert (row["pitch"], row["pitch_result"]) == ("", "check entry"), reading
            continue
        assert row["pitch"] == pytest.approx(want, rel=1e-9)
        assert row["pitch_result"] == ("low" if reading < low else "high" if reading > high else "in"), reading


def test_last_row_works_as_the_first(sheet: Document) -> None:
    found = judge(sheet, [{"serial": "2000", "reading": 0.7622, "crest": 0.744}], first=log.LAST)
    assert (found[0]["pitch_result"], found[0]["crest_result"]) == ("high", "in")
    assert log.LAST - log.FIRST + 1 == 2000
    sheet.set({f"Log!A{log.LAST}:Q{log.LAST}": [BLANK]})


INSTRUMENTS = (
    ({"instrument": None}, "No instrument named."),
    ({"instrument": "M-9"}, "Instrument M-9 not on Instruments."),
    ({"instrument": "M-3"}, "Instrument M-3 is marked unfit."),
    ({"instrument": "M-4"}, "Instrument M-4 has no due date."),
    ({"instrument": "M-2", "when": day("2024-03-06")}, "Instrument M-2 was due 2024-03-05."),
    ({"instrument": "M-2", "when": day("2024-03-05") + 0.7}, ""),
    ({"instrument": "m-2"}, ""),
    ({"instrument": "M-2", "when": None}, "No date."),
    ({"instrument": "M-2", "when": "5 March"}, "The date is a text."),
)


def test_an_instrument_that_does_not_count_is_said_and_nothing_is_in(sheet: Document) -> None:
    found = judge(sheet, [{"reading": 0.76, "crest": 0.744, **row} for row, _ in INSTRUMENTS])
    for (row, sentence), result in zip(INSTRUMENTS, found):
        word = "check instrument" if sentence else "in"
        assert (result["words"], result["pitch_result"], result["crest_result"]) == (sentence, word, word), row
        assert result["pitch"] == pytest.approx(0.76 - 3 * WIRE + 0.75**0.5 / 16, abs=1e-9)  # the reading is kept


def test_a_reading_before_the_calibration_does_not_count(sheet: Document) -> None:
    """A micrometer that was overdue and is calibrated since: its new due date lets nothing in from before."""
    names = ("instrument_calibrated", "wires_calibrated")
    dates = {name: cells([day("2024-03-06")], instruments.INSTRUMENTS) for name in names}
    before, on = (
        {"reading": 0.76, "crest": 0.744, "when": when} for when in (day("2024-03-05") + 0.9, day("2024-03-06"))
    )
    change(sheet, dates)
    first, second = judge(sheet, [before, on])
    assert (first["pitch_result"], first["crest_result"]) == ("check instrument", "check instrument")
    assert first["words"].startswith(
        "Instrument M-1 was calibrated only on 2024-03-06. Wires W-1 was calibrated only on"
    )
    assert (second["pitch_result"], second["crest_result"], second["words"]) == ("in", "in", "")
    change(sheet, {"wire_set": "W-1", "wire_in_use": None})
    first, second = judge(sheet, [{**before, "wires": None}, {**on, "wires": None}])
    assert "Wires W-1 was calibrated only on 2024-03-06." in first["words"]
    assert (first["pitch_result"], second["pitch_result"]) == ("check instrument", "in")
    change(sheet, {"instrument_calibrated": cells(["5 March"], instruments.INSTRUMENTS)})
    (found,) = judge(sheet, [on])
    assert found["words"].startswith("Instrument M-1 has a text as day of calibration.")
    change(sheet, {"wire_set": None})


def test_wires_of_the_row_drive_the_pitch_diameter(sheet: Document) -> None:
    """E = M - 3W + .866025P: wires that are .0001 thicker make the pitch diameter .0003 smaller."""
    rows = [
        {"reading": 0.76},
        {"reading": 0.76, "wires": "W-2"},
        {"reading": 0.76, "wires": "W-3"},
        {"reading": 0.76, "wires": "W-4", "when": day("2024-03-05")},
        {"reading": 0.76, "wires": "W-4", "when": day("2024-03-06")},
        {"reading": 0.76, "wires": "W-9"},
        {"reading": 0.7624, "wires": "W-2"},
        {"reading": 0.7625, "wires": "W-2"},
    ]
    found = judge(sheet, rows)
    first = 0.76 - 3 * WIRE + 0.75**0.5 / 16
    assert [row["pitch"] for row in found[:2]] == [pytest.approx(first), pytest.approx(first - 0.0003)]
    verdicts = ["in", "in", "check entry", "in", "check instrument", "check instrument", "in", "high"]
    assert words(found) == verdicts
    assert found[4]["words"] == "Wires W-4 was due 2024-03-05."
    assert found[5]["words"] == "Wires W-9 not on Instruments."
    assert found[5]["pitch"] == ""


SETS = (
    ({"wire_set": None, "wire_in_use": WIRE}, "No wire set named.", 0.0),
    ({"wire_set": "W-1", "wire_in_use": None}, "", 0.0),
    ({"wire_set": "w-2", "wire_in_use": None}, "", -0.0003),
    ({"wire_set": "W-2", "wire_in_use": 0.03621}, "", -0.00033),
    ({"wire_set": "W-2", "wire_in_use": WIRE}, "The wire in use on Setup is not that of W-2.", 0.0),
    ({"wire_set": "W-4", "wire_in_use": None}, "Wires W-4 was due 2024-03-05.", 0.0),
    ({"wire_set": "W-9", "wire_in_use": WIRE}, "Wires W-9 not on Instruments.", 0.0),
)


@pytest.mark.parametrize(("setup", "sentence", "shift"), SETS)
def test_a_row_without_wires_has_those_of_setup(
    sheet: Document, setup: dict[str, Any], sentence: str, shift: float
) -> None:
    change(sheet, setup)
    (found,) = judge(sheet, [{"reading": 0.76, "wires": None, "when": day("2024-03-06")}])
    assert found["words"] == sentence
    assert found["pitch_result"] == ("check instrument" if sentence else "in")
    assert found["pitch"] == pytest.approx(0.76 - 3 * WIRE + 0.75**0.5 / 16 + shift, abs=1e-9)


def _decide(values: list[float], low: float, high: float) -> float:
    """The value with the least room to a limit, by looking at each."""
    return min(values, key=lambda value: min(value - low, high - value))


def test_the_worst_station_decides(sheet: Document) -> None:
    draw = random.Random(20240305)
    names = [one for one in COLUMNS if one.startswith("reading")]
    rows, wanted = [], []
    for _ in range(80):
        middle = draw.uniform(0.757, 0.7622)
        taken = [round(middle + draw.uniform(-0.0012, 0.0012), 5) if draw.random() < 0.7 else None for _ in names]
        if taken[0] is None:
            taken[0] = round(middle, 5)
        rows.append({**dict(zip(names, taken)), "wires": "W-1"})
        wanted.append(taken)
    constant = 3 * WIRE - 0.75**0.5 / 16
    for taken, row in zip(wanted, judge(sheet, rows)):
        values = [one - constant for one in taken if one is not None]
        pitch = _decide(values, 0.7029, 0.7079)
        assert row["pitch"] == pytest.approx(pitch, abs=2e-9)
        over, under = max(values) > 0.7621 - constant + 1e-7, min(values) < 0.7571 - constant - 1e-7
        out = [word for word, is_out in (("high", over), ("low", under)) if is_out]
        assert row["pitch_result"] in (out or ["in"])
        stations = [[one for one in taken[at : at + 2] if one is not None] for at in (0, 2, 4)]
        means = [sum(one) / len(one) for one in stations if one]
        rounds = [abs(one[0] - one[1]) for one in stations if len(one) == 2]
        assert row["taper"] == ("" if len(means) < 2 else pytest.approx(max(means) - min(means), abs=1e-12))
        assert row["out_of_round"] == ("" if not rounds else pytest.approx(max(rounds), abs=1e-12))


def test_taper_and_roundness_are_compared_with_the_tolerance_in_words(sheet: Document) -> None:
    """The tolerance is .0050."""
    rows = [
        {"reading": 0.7580, "reading_1b": 0.7590, "reading_2a": 0.7600},
        {"reading": 0.7560, "reading_3a": 0.7615},
    ]
    found = judge(sheet, rows)
    assert found[0]["words"] == "Taper 30 % of the tolerance. Out of round 20 % of the tolerance."
    assert found[1]["words"] == "Taper 110 % of the tolerance: too much."


def test_sizes_are_brought_to_20_degrees(sheet: Document) -> None:
    """A length L at t is L / (1 + a (t - 20)) at 20; the micrometer at room temperature shows too little if warm."""
    sheet.set({"expansion": 12.3e-6})
    rows = [{"direct": 0.7079, "crest": 0.744, "temperature": t} for t in (None, 20, 35, 8)]
    part = [Fraction("0.7079") / (1 + Fraction("0.0000123") * t) for t in (0, 0, 15, -12)]
    found = judge(sheet, rows)
    assert [row["pitch"] for row in found] == [pytest.approx(float(one), abs=1e-12) for one in part]
    assert words(found) == ["in", "in", "in", "high"]
    sheet.set({"instrument_expansion": 11.5e-6, "room_temperature": 30})
    found = judge(sheet, rows)
    warm = [one * (1 + Fraction("0.0000115") * 10) for one in part]
    assert [row["pitch"] for row in found] == [pytest.approx(float(one), abs=1e-12) for one in warm]
    bad = [{"direct": 0.705, "crest": 0.744, "temperature": t} for t in (68, "warm", -4)]
    found = judge(sheet, bad)
    assert {(row["pitch_result"], row["crest_result"], row["words"]) for row in found} == {
        ("check entry", "check entry", "Part temperature: 0 to 50 degrees C.")
    }
    assert "12.3 millionths" in sheet["decision_words"]
    assert sheet[f"Log!H{log.FIRST}"] == 0.705  # what was typed stays


# ILAC-G8:09/2019, 4.2.3 with w = U: in up to max - U, undecided up to max + U, then out. U = .0010, .7079/.7029.
GUARDED = (
    (0.7054, "in"), (0.7069, "in"), (0.70691, "undecided"), (0.7079, "undecided"), (0.7089, "undecided"),
    (0.70891, "high"), (0.7039, "in"), (0.70389, "undecided"), (0.7029, "undecided"), (0.7019, "undecided"),
    (0.70189, "low"),
)  # fmt: skip


def test_guard_band(sheet: Document) -> None:
    sheet.set({"decision_rule": "guard", "expanded_uncertainty": 0.001, "coverage_factor": 2})
    assert words(judge(sheet, [{"direct": size} for size, _ in GUARDED])) == [word for _, word in GUARDED]
    said = sheet["decision_words"]
    assert "guard band" in said
    assert "ILAC-G8:09/2019" in said
    assert "U = 0.00100 in, k = 2" in said
    sheet.set({"crest_uncertainty": 0.002})
    crests = [{"crest": size} for size in (0.7465, 0.74651, 0.7505, 0.75051, 0.7411, 0.74109, 0.7371, 0.73709)]
    wanted = ["in", "undecided", "undecided", "high", "in", "undecided", "undecided", "low"]
    assert words(judge(sheet, crests), "crest_result") == wanted
    sheet.set({"expanded_uncertainty": 0.003})  # more than half the tolerance: nothing can be in
    assert words(judge(sheet, [{"direct": 0.7054}, {"direct": 0.6998}])) == ["undecided", "low"]


def test_guard_band_without_an_uncertainty_decides_nothing(sheet: Document) -> None:
    for nothing in (None, "small", 0):
        sheet.set({"decision_rule": "guard", "expanded_uncertainty": nothing})
        used = sheet["uncertainty_used"]
        if isinstance(used, float):  # the budget has one
            continue
        assert words(judge(sheet, [{"direct": 0.7054}, {"direct": 0.75}])) == ["undecided", "undecided"]
        assert "there is no U" in sheet["decision_words"]


def test_a_correction_replaces_the_earlier_row(sheet: Document) -> None:
    rows = [
        {"serial": "1", "reading": 0.7630},
        {"serial": "2", "reading": 0.7630},
        {"serial": "01", "reading": 0.76},
        {"serial": "1", "reading": 0.7600, "why": "dirt under a wire"},
        {"serial": "1", "reading": 0.7601, "why": "read again", "who": None},
        {"serial": "9*", "reading": 0.76, "why": "nothing to correct"},
        {"serial": "92", "reading": 0.76},
        {"serial": "a~?", "reading": 0.7630},
        {"serial": "a~?", "reading": 0.76, "why": "dirt"},
        {"reading": 0.76, "why": "which part?"},
    ]
    found = judge(sheet, rows)
    assert words(found) == ["replaced", "high", "in", "replaced", "in", "in", "in", "replaced", "in", "in"]
    assert found[0]["words"] == f"Replaced by row {log.FIRST + 3}."
    assert found[4]["words"] == "Who corrected, and when?"
    assert found[5]["words"] == "No earlier row of this part."
    assert found[0]["pitch"] == ""
    assert sheet[f"Log!B{log.FIRST}"] == 0.763  # the old value stays
    assert sheet.get(["count_pitch_replaced", "count_pitch_high", "parts_entered"]) == [3, 1, 7]


def test_gauges(sheet: Document) -> None:
    sheet.set({"turns_rule": "not go may enter 3 turns, ASME B1.2"})
    rows = [
        {"ring": "pass", "gauge": "G-1"},
        {"ring": "Go fails", "gauge": "G-1"},
        {"ring": "not go enters", "gauge": "G-1"},
        {"ring": "tight", "gauge": "G-1"},
        {"ring": "pass"},
        {"ring": "pass", "gauge": "M-3"},
        {"serial": "7"},
    ]
    found = judge(sheet, rows)
    wanted = ["in", "high", "low", "check entry", "check instrument", "check instrument", ""]
    assert words(found, "ring_result") == wanted
    assert found[4]["words"] == "No gauge named."
    assert found[5]["words"] == "Gauge M-3 is marked unfit."
    assert sheet.get(["count_ring_in", "count_ring_check_instrument"]) == [1, 2]


SUSPICIOUS = (
    ({"reading": 19.31}, "mm? 19.31 mm is 0.7602 in."),
    ({"direct": 17.9}, "mm? 17.9 mm is 0.7047 in."),
    ({"crest": 18.9}, "mm? 18.9 mm is 0.7441 in."),
    ({"reading": 7.6}, "Far from this thread."),
    ({"reading": "0,7601"}, "Decimal comma? Type the reading with a point."),
    ({"reading": 0.76, "reading_3b": "0,7601"}, "Decimal comma? Type the reading with a point."),
    ({"crest": "0,744"}, "Decimal comma? Type the diameter with a point."),
    ({"reading": "0.7601"}, "A reading is a text: retype it as a number."),
    ({"reading": -1}, "A reading is zero or less."),
    ({"reading": 0.7594, "direct": 0.7068}, "Reading and pitch diameter disagree."),
    ({"reading": 0.76, "when": day("2024-03-03")}, "Dated before the job."),
    ({"reading": 0.76, "when": None}, "No date."),
)


def test_suspicious_entries_are_marked_and_kept(sheet: Document) -> None:
    found = judge(sheet, [row for row, _ in SUSPICIOUS])
    assert words(found, "words") == [sentence for _, sentence in SUSPICIOUS]
    choose(sheet, "M20x2.5-6g", "mm", 1.443)
    assert words(judge(sheet, [{"direct": 0.7187}]), "words") == ["in? 0.7187 in is 18.255 mm."]


def test_twenty_identical_readings_in_a_row(sheet: Document) -> None:
    rows = [{"reading": 0.7603}, *[{"reading": 0.7602} for _ in range(21)], {"reading": 0.7601}]
    marked = [at for at, text in enumerate(words(judge(sheet, rows), "words")) if "20 identical" in text]
    assert marked == [20, 21]


def test_readings_that_all_end_in_one_digit(sheet: Document) -> None:
    draw = random.Random(5)
    judge(sheet, [{"reading": round(draw.randint(7580, 7610) / 10000, 3)} for _ in range(12)])
    assert sheet["log_marks"] == "Look at this: all 12 readings end in 0. Were they rounded?"
    judge(sheet, [{"reading": 0.7603}])
    assert sheet["log_marks"] == ""
    sheet.set({f"Log!A{log.FIRST}:Q{log.FIRST + 30}": [BLANK] * 31})
    judge(sheet, [{"reading": 0.76}] * 9)
    assert sheet["log_marks"] == ""


JUNK = (None, None, 0.76, 0.7053, "x", "0,76", -1, 0, 1e9, "", "W-1", "M-1", "pass", 45000, True)


def test_no_entry_makes_an_error_value(sheet: Document) -> None:
    draw = random.Random(11)
    rows = 60
    area = f"Log!A{log.FIRST}:Q{log.FIRST + rows - 1}"
    for callout, unit in ((THREAD, "in"), ("M20x2.5-6H", "mm")):
        choose(sheet, callout, unit, None)
        sheet.set({name: draw.choice((None, "x", -1, 1e9)) for name in NOTHING})
        sheet.set({area: [[draw.choice(JUNK) for _ in COLUMNS] for _ in range(rows)]})
        found = sheet[f"Log!A1:AK{log.FIRST + rows}"]
        assert not [cell for row in found for cell in row if isinstance(cell, Error)]
        for row in found[log.FIRST - 1 : -1]:
            assert row[20] in ("", *log.WORDS)
    sheet.set(dict.fromkeys(("thread_system", "thread_size", "thread_class", "unit", "as_of")))
    assert not [cell for row in sheet[f"Log!A1:AK{log.FIRST + rows}"] for cell in row if isinstance(cell, Error)]


def test_a_row_looks_at_itself_and_at_little_else() -> None:
    """So that a row costs the same however many there are; the two look-ups of corrections are behind their guards."""
    guarded = {f"AA101:$AA${log.LAST + 1}", f"$A${log.FIRST}:$A${log.LAST}", "B81:B100", "H81:H100"}
    for one, text in zip((*log_rows.RESULTS, *log_rows.WORKING), log.row_formulas(100)):
        for found in re.findall(r"\$?[A-Z]+\$?[0-9]+:\$?[A-Z]+\$?[0-9]+", text):
            own = re.fullmatch(r"[A-Z]+100:[A-Z]+100", found)
            assert own or (found in guarded and one.name in ("status", "words")), (one.name, found)
    assert "IF(log_corrections=0,1," in log.row_formulas(100)[len(log_rows.RESULTS)]


def test_the_example_shows_every_word(office: Office, tmp_path_factory: pytest.TempPathFactory) -> None:
    from workbook_cases import demo_book

    path = tmp_path_factory.mktemp("demo") / "demo.xlsx"
    path.write_bytes(demo_book()[1])
    with office.open(path) as opened:
        shown = {word for name in ("pitch", "crest", "ring") for (word,) in opened[f"log_{name}_result"]}
    assert shown == {"", *log.WORDS}
    assert demo.values()["decision_rule"] == "guard"


@pytest.mark.parametrize(
    ("row", "word", "words"),
    [
        ({"reading": 0.7590, "reading_3b": 0.7640, "direct": 0.7050}, "high", ""),  # .7640 over wires is .7098
        ({"reading": 0.7624, "direct": 0.7078}, "high", ""),  # .7624 is .7082, and .7079 the most
        ({"reading": 0.7600, "instrument": "*"}, "check instrument", "Instrument * not on Instruments."),
        ({"reading": 0.7600, "instrument": "M-?"}, "check instrument", "Instrument M-? not on Instruments."),
        ({"reading": 0.7600, "wires": "W-?"}, "check instrument", "Wires W-? not on Instruments."),
        ({"reading": 0.7600, "instrument": "M-3", "when": 0.35}, "check instrument", "M-3 is marked unfit."),
        ({"reading": 0.7600, "instrument": "M-4", "when": 0}, "check instrument", "M-4 has no due date."),
    ],
)
def test_nothing_gets_in_by_a_trick(sheet: Document, row: dict, word: str, words: str) -> None:
    """By hand for 3/4-16 UNF-2A over .0361: 3 W - .866025 P is .0542; pitch diameter .7029 to .7079."""
    (found,) = judge(sheet, [row])
    assert found["pitch_result"] == word
    assert words in found["words"]
