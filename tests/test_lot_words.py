"""What the certificate, Start and the charts say of a lot: never kinder than the log, and each part once."""

from __future__ import annotations

import pytest
from log_cases import judge, words

from workbook_template.office import Document

GOOD = {"reading": 0.7596, "crest": 0.744}
"""3/4-16 UNF-2A: .7571 to .7621 over .0361, major .7391 to .7485 (ASME B1.1-2003, Table 2A; ASME B1.2-1983)."""
PASSED = {"ring": "pass", "gauge": "G-1", "instrument": None}
GO_ALONE = "GO alone: try the NOT GO too (list both under one number), or measure."
STILL = "ordered are still to be found in."


@pytest.fixture
def sheet(log_sheet: Document) -> Document:
    """The log of an order of three parts."""
    log_sheet.set({"quantity": 3})
    return log_sheet


def test_a_part_is_found_in_by_all_that_is_known_of_it(sheet: Document) -> None:
    """The pitch diameter is in at all three; the major diameter of the second is low, the third takes no GO ring."""
    rows = [GOOD, {**GOOD, "crest": 0.7386}, {**GOOD, "ring": "go fails", "gauge": "G-1"}]
    assert words(judge(sheet, rows), "worst") == ["in", "low", "high"]
    assert sheet["certificate_words"].endswith(f"Gauges: 0 in, 1 not. 2 of 3 {STILL}")
    assert [word for (word,) in sheet["certificate_result_1"][:4]] == ["in", "low", "high", ""]
    assert sheet.get(["start_log_state", "start_log"]) == ["next", "3 of 3 parts logged, 1 in."]
    judge(sheet, [GOOD, GOOD, GOOD])
    assert STILL not in sheet["certificate_words"]
    assert sheet.get(["start_log_state", "start_log"]) == ["done", "3 of 3 parts logged."]


def test_a_part_that_is_logged_twice_is_one(sheet: Document) -> None:
    """Corrected with a reason, or logged again without one: two parts of three are there."""
    for why in ("read again", None):
        rows = [{**GOOD, "serial": "1"}, {**GOOD, "serial": "2"}, {**GOOD, "serial": "2", "why": why}]
        judge(sheet, rows)
        assert sheet.get(["start_log_state", "start_log"]) == ["next", "2 of 3 parts logged."]
        assert sheet["certificate_words"].endswith(f"1 of 3 {STILL}")


def test_a_part_that_is_logged_again_is_no_reading_more(sheet: Document) -> None:
    """Thirteen parts, each twice: 26 readings would be enough for a capability, thirteen are not."""
    rows = [{**GOOD, "reading": 0.7590 + at / 10000, "serial": str(at)} for at in range(13)]
    judge(sheet, [*rows, *rows])
    assert sheet.get(["chart_n", "parts_again", "certificate_n"]) == [13, 13, 13]
    assert sheet["capability_words"].startswith("NOT A CAPABILITY: 13 readings, 25 are the least.")


def test_a_lot_that_was_gauged_alone_is_logged(sheet: Document) -> None:
    sheet.set(dict.fromkeys(("shop_name", "customer", "certificate_number"), "x") | {"certificate_date": 45360})
    judge(sheet, [])
    assert sheet["certificate_step"] == "Next: log the parts on the sheet Log."
    judge(sheet, [{}, {"instrument": None}])
    assert sheet["certificate_step"].startswith("Next: measure the parts:")
    assert words(judge(sheet, [PASSED] * 3), "worst") == ["not measured"] * 3
    assert words(judge(sheet, [PASSED] * 3), "reason") == [GO_ALONE] * 3
    assert sheet.get(["start_log_state", "parts_in"]) == ["next", 0]
    assert sheet["certificate_words"].startswith("NOT ALL IN. Pitch diameter: 0 in, 3 not measured.")
    kinds = sheet["instrument_kind"]
    sheet.set({"instrument_kind": [["GO/NOT GO ring" if kind == "GO ring" else kind or None] for (kind,) in kinds]})
    assert words(judge(sheet, [PASSED] * 3), "worst") == ["in"] * 3
    assert words(judge(sheet, [PASSED] * 3), "reason") == [""] * 3
    assert sheet["certificate_step"] == "Next: who inspected the lot."
    assert STILL not in sheet["certificate_words"]
    judge(sheet, [{**PASSED, "crest": 0.744, "instrument": "M-1"}] * 3)
    assert sheet["certificate_words"].startswith("Pitch diameter: 0 in, 3 not measured. Major diameter: all in. Gauges")
    judge(sheet, [PASSED] * 3)
    assert "name no listed instrument" not in sheet["certificate_instrument_words"]
    assert sheet.get(["start_log_state", "undone_parts"]) == ["done", 0]
    judge(sheet, [PASSED, {"instrument": None}, {**GOOD, "crest": None}])
    assert sheet["undone_parts"] == 1  # the second; the crest diameter of a part that is in need not be measured
    sheet.set({"instrument_kind": [[kind or None] for (kind,) in kinds]})
    judge(sheet, [PASSED, {**GOOD, **PASSED, "instrument": "M-1"}])
    assert sheet["undone_parts"] == 1  # the first: what the GO gauge passed has no size


@pytest.mark.parametrize("quantity", [0, -3, 2.5, "many"])
def test_a_quantity_that_is_none_is_asked_for(sheet: Document, quantity: object) -> None:
    sheet.set({"quantity": quantity})
    judge(sheet, [GOOD])
    assert sheet["start_job"] == "Quantity: type a whole number from 1 to 20000."
    assert sheet.get(["start_job_state", "start_log", "parts_to_make"]) == ["next", "1 part logged.", "–"]
    assert sheet["log_step"].startswith("1 part logged.")
    assert STILL not in sheet["certificate_words"]


def test_a_size_brought_to_20_degrees_says_so_where_it_is_out(sheet: Document) -> None:
    """.7621 is on the limit as read, and a millionth of an inch over it by an instrument at 21 degrees C."""
    rows = [{**GOOD, "reading": 0.7621}]
    assert words(judge(sheet, rows), "worst") == ["in"]
    sheet.set({"expansion": 12.3e-6, "instrument_expansion": 11.5e-6, "room_temperature": 21})
    found = judge(sheet, rows)
    assert (words(found, "worst"), found[0]["reason"]) == (["high"], "Pitch dia. high at 20 °C.")
