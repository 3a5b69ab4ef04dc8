"""The log: corrections, suspicious entries and junk are told, kept, and let nothing in."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import pytest
from log_cases import BLANK, COLUMNS, FIRST, NOTHING, ONCE, THREAD, cell, choose, day, got, judge, place, typed, words
from workbook_cases import plain_file

from workbook_template.office import Document, Error, Office
from workbook_template.sheets import log_rows, log_top, log_words


def test_a_correction_replaces_the_earlier_row(log_sheet: Document) -> None:
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
        {"serial": None, "reading": 0.76, "why": "which part?"},
    ]
    found = judge(log_sheet, rows)
    assert words(found) == ["replaced", "high", "in", "replaced", "in", "in", "in", "replaced", "in", "in"]
    assert found[0]["words"] == f"Replaced by row {FIRST + 3}."
    assert found[4]["words"] == "Who corrected?"
    assert found[5]["words"] == "No earlier row of this part."
    assert found[0]["pitch_diameter"] == ""
    assert log_sheet[place("reading")] == 0.763  # the old value stays
    assert log_sheet.get(["count_pitch_diameter_replaced", "count_pitch_diameter_high", "parts_entered"]) == [3, 1, 7]


SUSPICIOUS = (
    ({"reading": 19.31}, "mm? 19.31 mm is 0.7602 in."),
    ({"direct": 17.9}, "mm? 17.9 mm is 0.7047 in."),
    ({"crest": 18.9}, "mm? 18.9 mm is 0.7441 in."),
    ({"reading": 7.6}, "Far from this thread."),
    ({"reading": "0,7601"}, "Decimal sign? One half is 0.5 here: type the reading like that."),
    ({"reading": 0.76, "reading_3b": "0,7601"}, "Decimal sign? One half is 0.5 here: type the reading like that."),
    ({"crest": "0,744"}, "Decimal sign? One half is 0.5 here: type the diameter like that."),
    ({"reading": "0.7601"}, "A reading is a text: retype it as a number."),
    ({"reading": -1}, "A reading is zero or less."),
    ({"reading": 0.7594, "direct": 0.7068}, "Reading and pitch diameter disagree."),
    ({"reading": 0.76, "when": day("2024-03-03")}, "Dated before the job."),
    ({"reading": 0.76, "when": None}, "No date."),
)


def test_suspicious_entries_are_marked_and_kept(log_sheet: Document) -> None:
    found = judge(log_sheet, [row for row, _ in SUSPICIOUS])
    assert words(found, "words") == [sentence for _, sentence in SUSPICIOUS]
    choose(log_sheet, "M20x2.5-6g", "mm", 1.443)
    assert words(judge(log_sheet, [{"direct": 0.7187}]), "words") == ["in? 0.7187 in is 18.255 mm."]


def test_the_decimal_sign_is_asked_for_as_this_program_writes_it(
    new_office: Callable[..., Office], tmp_path: Path
) -> None:
    """Where numbers have a decimal comma the point is the wrong sign, and what is typed with it becomes a text."""
    path = tmp_path / "new.xlsx"
    path.write_bytes(plain_file().content)
    first, words_at = (cell(name) for name in ("reading", "words"))
    with new_office(locale="de-DE") as german, german.open(path) as document:
        document.type({first: "0.7601"})
        assert document[first] == "0.7601"
        assert "Decimal sign? One half is 0,5 here: type the reading like that." in document[words_at]
        document.type({first: "0,7601"})
        assert document[first] == 0.7601
        assert "Decimal sign?" not in document[words_at]


def test_twenty_identical_readings_in_a_row(log_sheet: Document) -> None:
    rows = [{"reading": 0.7603}, *[{"reading": 0.7602} for _ in range(21)], {"reading": 0.7601}]
    marked = [at for at, text in enumerate(words(judge(log_sheet, rows), "words")) if "20 identical" in text]
    assert marked == [20, 21]


def test_readings_that_all_end_in_one_digit(log_sheet: Document) -> None:
    draw = random.Random(5)
    judge(log_sheet, [{"reading": round(draw.randint(7580, 7610) / 10000, 3)} for _ in range(12)])
    assert log_sheet["log_marks"] == "Look at this: all 12 readings end in 0. Were they rounded?"
    judge(log_sheet, [{"reading": 0.7603}])
    assert log_sheet["log_marks"] == ""
    log_sheet.set(typed([BLANK] * 31))
    judge(log_sheet, [{"reading": 0.76}] * 9)
    assert log_sheet["log_marks"] == ""


HUGE = (1e9, 1e308, -1e308, 1.7e308)
JUNK = (None, None, 0.76, 0.7053, "x", "0,76", -1, 0, *HUGE, "", "W-1", "M-1", "pass", "G-1", 45000, 20260131, True)


def test_no_entry_makes_an_error_value(log_sheet: Document) -> None:
    draw = random.Random(11)
    rows = 60
    shown = [one.name for one in log_rows.COLUMNS]
    for callout, unit in ((THREAD, "in"), ("M20x2.5-6H", "mm")):
        choose(log_sheet, callout, unit, None)
        log_sheet.set({name: draw.choice((None, "x", -1, *HUGE)) for name in (*NOTHING, *ONCE)})
        log_sheet.set(typed([[draw.choice(JUNK) for _ in COLUMNS] for _ in range(rows)]))
        assert _errors(log_sheet, shown, rows) == []
        for name in ("pitch_diameter_result", "crest_result", "ring_result", "worst"):
            assert {word for (word,) in got(log_sheet, [name], rows)} <= {"", *log_words.RESULT_WORDS}
    log_sheet.set(dict.fromkeys(("thread_system", "thread_size", "thread_class", "unit", "as_of")))
    assert _errors(log_sheet, shown, rows) == []


def _errors(sheet: Document, names: list[str], rows: int) -> list[str]:
    """Columns with an error value in them, and figures of the top and the end of the log."""
    figures = [
        *(one.name for one in log_top.working(30)),
        *("log_step", "log_title", "decision_words", "log_marks", "parts_entered", "log_fix_row", "log_fix_serial"),
    ]
    found = zip(names, zip(*got(sheet, names, rows)))
    single = [(name, [cell for row in value for cell in row] if isinstance(value, list) else [value])
              for name, value in zip(figures, sheet.get(figures))]  # fmt: skip
    return [name for name, cells in (*found, *single) if any(isinstance(cell, Error) for cell in cells)]


@pytest.mark.parametrize(
    ("row", "word", "words"),
    [
        ({"reading": 0.7590, "reading_3b": 0.7640, "direct": 0.7050}, "high", ""),  # .7640 over wires is .7098
        ({"reading": 0.7624, "direct": 0.7078}, "high", ""),  # .7624 is .7082, and .7079 the most
        ({"reading": 0.7600, "instrument": "*"}, "check instrument", "Instrument * not on Instruments."),
        ({"reading": 0.7600, "instrument": "M-?"}, "check instrument", "Instrument M-? not on Instruments."),
        ({"reading": 0.7600, "wires": "W-?"}, "check instrument", "Wires W-? not on Wire sets."),
        ({"reading": 0.7600, "instrument": "M-3", "when": 32874.35}, "check instrument", "M-3 is marked unfit."),
        ({"reading": 0.7600, "instrument": "M-4", "when": 32874}, "check instrument", "M-4 has no due date."),
        ({"reading": 0.7600, "when": 0.35}, "check instrument", "The date is no day between 1990 and 2099."),
        ({"reading": 0.7600, "when": 20240305}, "check instrument", "The date is no day between 1990 and 2099."),
        ({"reading": 0.7600, "instrument": "G-1"}, "check instrument", "G-1 is a GO ring: it measures no size."),
        ({"reading": 0.7052}, "check entry", "Is 0.7052 the pitch diameter? Then type it under Pitch dia. meas'd."),
        ({"reading": 0.76, "serial": "1 "}, "check entry", "Blanks in the part number: retype it without."),
        ({"reading": 0.76, "serial": "'1"}, "check entry", "Apostrophe before the part number: retype it without."),
        ({"reading": 0.76, "gauge": "zz"}, "in", "Gauge named, but not what it said."),
        ({"reading": 0.76, "place_2": 0.2}, "in", "Places are for a taper thread alone."),
        ({"reading": 1e308, "reading_2a": 1e308}, "check entry", "A reading is no size of a part."),
    ],
)
def test_nothing_gets_in_by_a_trick(log_sheet: Document, row: dict, word: str, words: str) -> None:
    """By hand for 3/4-16 UNF-2A over .0361: 3 W - .866025 P is .0542; pitch diameter .7029 to .7079."""
    (found,) = judge(log_sheet, [row])
    assert found["pitch_diameter_result"] == word
    assert words in found["words"]
