"""The log: readings count only with instruments, wires and gauges that did on that day."""

from __future__ import annotations

from typing import Any

import pytest
from log_cases import LEAD, WIRE, cells, day, judge, words

from workbook_template.office import Document
from workbook_template.sheets import instruments

INSTRUMENTS = (
    ({"instrument": None}, "No instrument named."),
    ({"instrument": "M-9"}, "Instrument M-9 not on Instruments."),
    ({"instrument": "M-1 "}, "Blanks in the number of the instrument: retype it without."),
    ({"instrument": " m-1"}, "Blanks in the number of the instrument: retype it without."),
    ({"instrument": "M-9 "}, "Instrument M-9 not on Instruments."),
    ({"instrument": "M-3"}, "Instrument M-3 is marked unfit."),
    ({"instrument": "M-4"}, "Instrument M-4 has no due date."),
    ({"instrument": "M-2", "when": day("2024-03-06")}, "Instrument M-2 was due 2024-03-05."),
    ({"instrument": "M-2", "when": day("2024-03-05") + 0.7}, ""),
    ({"instrument": "m-2"}, ""),
    ({"instrument": "M-2", "when": None}, "No date."),
    ({"instrument": "M-2", "when": "5 March"}, "The date is a text."),
)


def test_an_instrument_that_does_not_count_is_said_and_nothing_is_in(log_sheet: Document) -> None:
    found = judge(log_sheet, [{"reading": 0.76, "crest": 0.744, **row} for row, _ in INSTRUMENTS])
    for (row, sentence), result in zip(INSTRUMENTS, found):
        word = "check instrument" if sentence else "in"
        assert (result["words"], result["pitch_diameter_result"], result["crest_result"]) == (sentence, word, word), row
        assert result["pitch_diameter"] == pytest.approx(0.76 - 3 * WIRE + 0.75**0.5 / 16 - LEAD, abs=1e-6)  # kept


def test_a_reading_before_the_calibration_does_not_count(log_sheet: Document) -> None:
    """A micrometer that was overdue and is calibrated since: its new due date lets nothing in from before."""
    names = ("instrument_calibrated", "wires_calibrated")
    dates = {name: cells([day("2024-03-06")], instruments.INSTRUMENTS) for name in names}
    before, on = (
        {"reading": 0.76, "crest": 0.744, "when": when} for when in (day("2024-03-05") + 0.9, day("2024-03-06"))
    )
    log_sheet.set(dates)
    first, second = judge(log_sheet, [before, on])
    assert (first["pitch_diameter_result"], first["crest_result"]) == ("check instrument", "check instrument")
    assert first["words"].startswith(
        "Instrument M-1 was calibrated only on 2024-03-06. Wires W-1 was calibrated only on"
    )
    assert (second["pitch_diameter_result"], second["crest_result"], second["words"]) == ("in", "in", "")
    log_sheet.set({"wire_set": "W-1", "wire_in_use": None})
    first, second = judge(log_sheet, [{**before, "wires": None}, {**on, "wires": None}])
    assert "Wires W-1 was calibrated only on 2024-03-06." in first["words"]
    assert (first["pitch_diameter_result"], second["pitch_diameter_result"]) == ("check instrument", "in")
    log_sheet.set({"instrument_calibrated": cells(["5 March"], instruments.INSTRUMENTS)})
    (found,) = judge(log_sheet, [on])
    assert found["words"].startswith("Instrument M-1 has no date as day of calibration.")
    log_sheet.set({"wire_set": None})


def test_wires_of_the_row_drive_the_pitch_diameter(log_sheet: Document) -> None:
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
    found = judge(log_sheet, rows)
    first = 0.76 - 3 * WIRE + 0.75**0.5 / 16 - LEAD
    assert [row["pitch_diameter"] for row in found[:2]] == pytest.approx([first, first - 0.0003], abs=1e-6)
    verdicts = ["in", "in", "check entry", "in", "check instrument", "check instrument", "in", "high"]
    assert words(found) == verdicts
    assert found[4]["words"] == "Wires W-4 was due 2024-03-05."
    assert found[5]["words"] == "Wires W-9 not on Wire sets."
    assert found[5]["pitch_diameter"] == ""


SETS = (
    ({"wire_set": None, "wire_in_use": WIRE}, "No wire set named.", 0.0),
    ({"wire_set": "W-1", "wire_in_use": None}, "", 0.0),
    ({"wire_set": "w-2", "wire_in_use": None}, "", -0.0003),
    ({"wire_set": "W-2", "wire_in_use": 0.03621}, "", -0.00033),
    ({"wire_set": "W-2", "wire_in_use": 0.03618}, "", -0.00024),  # as far from the mean as it may be
    ({"wire_set": "W-2", "wire_in_use": 0.03617}, "The wire in use on Setup is not that of W-2.", -0.00021),
    ({"wire_set": "W-2", "wire_in_use": WIRE}, "The wire in use on Setup is not that of W-2.", 0.0),
    ({"wire_set": "W-4", "wire_in_use": None}, "Wires W-4 was due 2024-03-05.", 0.0),
    ({"wire_set": "W-9", "wire_in_use": WIRE}, "Wires W-9 not on Wire sets.", 0.0),
    ({"wire_set": "W-1 ", "wire_in_use": WIRE}, "Blanks in the number of the wires: retype it without.", 0.0),
)


@pytest.mark.parametrize(("setup", "sentence", "shift"), SETS)
def test_a_row_without_wires_has_those_of_setup(
    log_sheet: Document, setup: dict[str, Any], sentence: str, shift: float
) -> None:
    log_sheet.set(setup)
    (found,) = judge(log_sheet, [{"reading": 0.76, "wires": None, "when": day("2024-03-06")}])
    assert found["words"] == sentence
    of_another = setup["wire_set"] is not None and setup["wire_in_use"] is not None and sentence != ""
    assert log_sheet["wire_set_words"].endswith(f", not of {setup['wire_set']}") is of_another
    assert found["pitch_diameter_result"] == ("check instrument" if sentence else "in")
    assert found["pitch_diameter"] == pytest.approx(0.76 - 3 * WIRE + 0.75**0.5 / 16 - LEAD + shift, abs=1e-6)


def test_gauges(log_sheet: Document) -> None:
    log_sheet.set({"turns_rule": "not go may enter 3 turns, ASME B1.2"})
    rows = [
        {"ring": "pass", "gauge": "G-1"},
        {"ring": "Go fails", "gauge": "G-1"},
        {"ring": "not go enters", "gauge": "G-2"},
        {"ring": "tight", "gauge": "G-1"},
        {"ring": "pass"},
        {"ring": "pass", "gauge": "M-3"},
        {"serial": "7"},
    ]
    found = judge(log_sheet, rows)
    wanted = ["in", "high", "low", "check entry", "check instrument", "check instrument", ""]
    assert words(found, "ring_result") == wanted
    assert found[4]["words"] == "No gauge named."
    assert found[3]["words"] == "Ring or plug: type pass, go fails or not go enters."
    assert found[5]["words"] == "Gauge M-3 has no kind on Instruments."
    assert log_sheet.get(["count_ring_in", "count_ring_check_instrument"]) == [1, 2]
