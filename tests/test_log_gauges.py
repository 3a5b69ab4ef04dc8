"""The log: a gauge counts for its own thread, class, hand and use, an instrument for what it can measure."""

from __future__ import annotations

from typing import Any

import pytest
from log_cases import FIRST, cells, choose, day, judge, words

from sheetfuncs import standards
from workbook_template.office import Document
from workbook_template.read_back import gauge_fit
from workbook_template.sheets import instruments
from workbook_template.trade import gauges


def listed(sheet: Document, *rows: dict[str, Any]) -> None:
    """List instruments, the first one the M-1 of every row; each in date."""
    rows = ({"id": "M-1"}, *rows)
    names = ("id", "kind", "thread", "from", "to", "unit", "fit", "due")
    usual = {"due": day("2030-01-01")}
    columns = {name: [{**usual, **row}.get(name) for row in rows] for name in names}
    sheet.set({f"instrument_{name}": cells(column, instruments.INSTRUMENTS) for name, column in columns.items()})


# The callout of the job, kind and marking of the gauge, what it said; the result, and what must be told of it.
# What is asked of which member: ASME B1.2-1983 and ISO 1502 (GO must enter over the full length, NOT GO must not).
GAUGINGS = (
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-2A", "pass", "in", ""),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16unf 2a go", "pass", "in", ""),
    ("3/4-16 UNF-2A", "GO ring", "3/4 – 16 UNF–2A GO PD .7079", "pass", "in", ""),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-2A-RH", "go fails", "high", ""),
    ("3/4-16 UNF-2A", "NOT GO ring", "3/4-16 UNF-2A NO-GO", "not go enters", "low", ""),
    ("3/4-16 UNF-2A", "NOT GO ring", "3/4-16 UNF-2A LO PD .7029", "not go enters", "low", ""),
    ("3/4-16 UNF-2A", "GO/NOT GO ring", "3/4-16 UNF-2A", "pass", "in", ""),
    ("3/4-16 UNF-2A", "GO/NOT GO ring", "3/4-16 UNF-2A", "not go enters", "low", ""),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-3A", "pass", "", "X is for 3/4-16 UNF-3A, not for 3/4-16 UNF-2A."),
    ("3/4-16 UNF-2A", "GO ring", "3/4-10 UNC-2A", "pass", "", "X is for 3/4-10 UNC-2A, not for 3/4-16 UNF-2A."),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-2A LH", "pass", "", "X is left hand, and this thread is right hand."),
    ("3/4-16 UNF-2A-LH", "GO ring", "3/4-16 UNF-2A", "pass", "", "X is right hand, and this thread is left hand."),
    ("3/4-16 UNF-2A-LH", "GO ring", "LH 3/4-16 UNF-2A GO", "pass", "in", ""),
    ("3/4-16 UNF-2A", "NOT GO ring", "3/4-16 UNF-2A", "pass", "", "X is NOT GO: pass and go fails need the GO gauge."),
    ("3/4-16 UNF-2A", "NOT GO ring", "3/4-16 UNF-2A", "go fails", "", "X is NOT GO: pass and go fails need"),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-2A", "not go enters", "", "X is GO: not go enters needs the NOT GO"),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-2A NOT GO", "pass", "", "X is marked NOT GO, and listed as GO ring."),
    ("3/4-16 UNF-2A", "NOT GO ring", "3/4-16 UNF-2A GO", "not go enters", "", "X is marked GO, and listed as NOT GO"),
    ("3/4-16 UNF-2A", "GO plug", "3/4-16 UNF-2A", "pass", "", "X is a plug, and this is an outside thread."),
    ("3/4-16 UNF-2A", "GO ring", None, "pass", "", "X has no thread on Instruments."),
    ("3/4-16 UNF-2A", "micrometer", "0 to 1 in", "pass", "", "X is a micrometer, no ring or plug gauge."),
    ("3/4-16 UNF-2A", "thread ring", "3/4-16 UNF-2A", "pass", "",
     "X has a kind that its list on Instruments doesn't have, thread ring: choose one there."),
    ("3/4-16 UNF-2A", None, "3/4-16 UNF-2A", "pass", "", "X has no kind on Instruments."),
    ("M20x2.5-6H", "GO plug", "M20 × 2.5 - 6H", "pass", "in", ""),
    ("M20x2.5-6H", "GO ring", "M20x2.5-6H", "pass", "", "X is a ring, and this is an inside thread."),
    ("M20x2.5-6H", "GO plug", "M20x1.5-6H", "pass", "", "X is for M20x1.5-6H, not for M20x2.5-6H."),
    ("1 1/4-7 UNC-2B", "GO plug", "1-1/4-7 UNC-2B", "pass", "in", ""),
    ("3/4-14 NPT external", "GO ring", "3/4-14 NPT", "pass", "in", ""),
    ("G 3/4 A", "GO ring", "G3/4A", "pass", "in", ""),
    ("G 3/4 A", "GO ring", "G3/4B", "pass", "", "X is for G3/4B, not for G 3/4 A."),
    ("1-5 ACME-2G", "GO ring", "1-5 ACME-2G", "pass", "in", ""),
    ("1-5 ACME-2G-INT", "GO plug", "1-5 ACME-2G", "pass", "in", ""),  # ASME B1.5 has one class name for screw and nut
    ("1-5 ACME-2G-INT", "GO plug", "1-5 ACME-2G internal GO", "pass", "in", ""),
    ("1-5 ACME-2G-INT", "GO/NOT GO plug", "1-5 ACME-2G-INT GO/NOT GO", "not go enters", "high", ""),
    ("1-5 ACME-2G-INT", "GO ring", "1-5 ACME-2G", "pass", "", "X is a ring, and this is an inside thread."),
    ("4 BA normal bolt", "GO ring", "4 BA normal", "pass", "in", ""),
)  # fmt: skip


def test_a_gauge_counts_for_its_own_thread_hand_and_use(log_sheet: Document) -> None:
    for callout in dict.fromkeys(case[0] for case in GAUGINGS):
        choose(log_sheet, callout, "in", None)
        cases = [case for case in GAUGINGS if case[0] == callout]
        for first in range(0, len(cases), instruments.INSTRUMENTS - 1):
            some = cases[first : first + instruments.INSTRUMENTS - 1]
            listed(log_sheet, *({"id": f"X{at}", "kind": one[1], "thread": one[2]} for at, one in enumerate(some)))
            found = judge(log_sheet, [{"ring": one[3], "gauge": f"X{at}"} for at, one in enumerate(some)])
            for at, (one, row) in enumerate(zip(some, found)):
                assert row["ring_result"] == (one[4] or "check instrument"), (one, row["words"])
                told = f"Gauge {one[5].replace('X ', f'X{at} ')}" if one[5] else ""
                assert row["words"].startswith(told), (one, row["words"])
                assert told or row["words"] == "", (one, row["words"])


COATED = (
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-3A GO", "pass", True),
    ("3/4-16 UNF-2A", "GO ring", "3/4-16 UNF-2A", "pass", True),
    ("3/4-16 UNF-2A", "NOT GO ring", "3/4-16 UNF-3A NOT GO", "not go enters", False),
    ("3/4-16 UNF-2A", "GO/NOT GO ring", "3/4-16 UNF-3A", "pass", False),
    ("3/4-16 UNF-2B", "GO plug", "3/4-16 UNF-3B", "pass", False),
    ("M20x2.5-6g", "GO ring", "M20x2.5-6h", "pass", True),
    ("M20x2.5-6g", "GO ring", "M20x2.5-4h", "pass", False),
    ("M20x2.5-4g6g", "GO ring", "M20x2.5-4h6h", "pass", True),
    ("M20x2.5-6G", "GO plug", "M20x2.5-6H", "pass", True),
    ("M20x2.5-6h", "GO ring", "M20x2.5-6g", "pass", False),
    ("1-5 ACME-2G", "GO ring", "1-5 ACME-2H", "pass", False),
)  # fmt: skip


@pytest.mark.parametrize(("callout", "kind", "marked", "said", "serves"), COATED)
def test_a_coated_part_takes_the_go_gauge_of_basic_size(
    log_sheet: Document, callout: str, kind: str, marked: str, said: str, serves: bool
) -> None:
    """ASME B1.1-2003, section 7: coated, class 2A is accepted by the GO gauge of class 3A, whose maximum is basic."""
    choose(log_sheet, callout, standards.read(callout).unit, None)
    listed(log_sheet, {"id": "X", "kind": kind, "thread": marked})
    of_class = marked.removesuffix(" GO") == callout
    for coating in ((None, None), (0.0002, 0.0004)):
        log_sheet.set(dict(zip(("thinnest_coating", "thickest_coating"), coating)))
        (row,) = judge(log_sheet, [{"ring": said, "gauge": "X"}])
        wanted = serves if coating[0] else of_class
        assert (row["ring_result"] == "check instrument") == (not wanted), (coating, row)
        thread = standards.read(callout)
        to_basic = coating[0] is not None and standards.limits(thread).allowance > 0
        told = gauge_fit.why_not(kind.lower(), marked, said, thread, callout, to_basic)
        assert (told == "") == wanted, told


def test_instruments_says_which_gauges_are_for_the_job(log_sheet: Document) -> None:
    listed(
        log_sheet,
        {"id": "A", "kind": "GO ring", "thread": "3/4-16 UNF-2A GO"},
        {"id": "B", "kind": "GO ring", "thread": "3/4-16 UNF-3A GO"},
        {"id": "C", "kind": "GO ring", "thread": "3/4-16 UNF-2A LH"},
        {"id": "D", "kind": "GO plug", "thread": "3/4-16 UNF-2A"},
        {"id": "E", "kind": "GO ring"},
    )
    said = [row[0] for row in log_sheet["instrument_serves"][:6]]
    assert said == ["", "yes", "other thread", "left hand", "inside only", "no marking"]
    assert log_sheet["instrument_words"][5][0] == "Type its thread as it is marked."
    choose(log_sheet, "M20x2.5-6g", "in", None)
    assert [row[0] for row in log_sheet["instrument_serves"][:3]] == ["", "other thread", "other thread"]


def test_the_kinds_are_those_of_both_authors() -> None:
    assert {kind.lower() for kind in gauges.GAUGES} == set(gauge_fit.KINDS)
    assert {kind.lower() for kind in gauges.NO_SIZE} == gauge_fit.NO_SIZE
    for kind, one in gauges.GAUGES.items():
        shape, members = gauge_fit.KINDS[kind.lower()]
        assert (shape == "ring", "go" in members, "not go" in members) == one


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ({"reading": 0.76, "instrument": "A"}, "A is a GO ring: it measures no size."),
        ({"reading": 0.76, "instrument": "B"}, "B is a thermometer: it measures no size."),
        (
            {"reading": 0.76, "instrument": "F"},
            "F has a kind that its list on Instruments doesn't have, micrometre: choose",
        ),
        (
            {"crest": 0.744, "instrument": "F"},
            "F has a kind that its list on Instruments doesn't have, micrometre: choose",
        ),
        ({"reading": 0.76, "crest": 0.744, "instrument": "C"}, "Outside the range of C."),
        ({"crest": 0.744, "instrument": "C"}, "Outside the range of C."),
        ({"reading": 0.76, "instrument": "D"}, "Outside the range of D."),  # 0 to 19 mm; .76 in is 19.304 mm
        ({"reading": 0.748, "direct": 0.6938, "instrument": "E"}, "Outside the range of E."),
    ],
)
def test_an_instrument_that_can_t_have_measured_that_does_not_count(
    log_sheet: Document, row: dict[str, Any], told: str
) -> None:
    listed(
        log_sheet,
        {"id": "A", "kind": "GO ring", "thread": "3/4-16 UNF-2A"},
        {"id": "B", "kind": "thermometer"},
        {"id": "C", "kind": "micrometer", "from": 1, "to": 2},
        {"id": "D", "kind": "micrometer", "from": 0, "to": 19, "unit": "mm"},
        {"id": "E", "kind": "other", "from": 0.7},
        {"id": "F", "kind": "micrometre"},
    )
    (found,) = judge(log_sheet, [row])
    assert told in found["words"]
    for name in ("pitch_diameter_result", "crest_result"):
        assert found[name] in ("check instrument", "not measured")


def test_what_is_inside_the_range_counts(log_sheet: Document) -> None:
    """A crest diameter under the range is no fault where the pitch diameter is in it: it takes another micrometer."""
    listed(
        log_sheet,
        {"id": "A", "kind": "micrometer", "from": 0.75, "to": 0.76},
        {"id": "B", "kind": "micrometer", "to": 20, "unit": "mm"},
        {"id": "C", "kind": "micrometer", "from": "none"},
    )
    rows = [{"reading": 0.76, "crest": 0.744, "instrument": name} for name in "ABC"]
    found = judge(log_sheet, [*rows, {"reading": 19.31, "crest": 0.744, "instrument": "A"}])
    assert words(found) == ["in", "in", "in", "check entry"]
    assert words(found, "crest_result") == ["in"] * 4
    assert found[3]["words"] == "mm? 19.31 mm is 0.7602 in."


def test_wires_that_differ_do_not_count(log_sheet: Document) -> None:
    wires = {"wires_a": [0.0361] * 3, "wires_b": [0.0361, 0.03613, 0.0361], "wires_c": [0.0361, 0.0361, 0.03612]}
    log_sheet.set({name: cells(values, instruments.WIRE_SETS) for name, values in wires.items()})
    log_sheet.set({"wires_fit": cells([], instruments.WIRE_SETS)})
    rows = [{"reading": 0.76, "wires": f"W-{at}"} for at in (1, 2, 3)]
    found = judge(log_sheet, rows)
    assert words(found) == ["in", "check instrument", "in"]
    assert found[1]["words"] == "Wires W-2 is no matched set."
    assert isinstance(found[1]["pitch_diameter"], float)
    log_sheet.set({"wire_match_limit": 0.00003})
    assert words(judge(log_sheet, rows)) == ["in"] * 3
    log_sheet.set({"wire_match_limit": None, "wire_set": "W-2", "wire_in_use": None})
    (found,) = judge(log_sheet, [{"reading": 0.76, "wires": None}])
    assert (found["pitch_diameter_result"], found["words"]) == ("check instrument", "Wires W-2 is no matched set.")
    log_sheet.set({"wire_set": None})


def test_a_pitch_diameter_in_the_column_of_readings_is_told(log_sheet: Document) -> None:
    """3/4-16 UNF-2A: .7029 to .7079, tolerance .0050; over .0361 wires .7571 to .7621."""
    rows = [{"reading": size} for size in (0.6978, 0.6979, 0.7054, 0.7129, 0.7130)]
    assert words(judge(log_sheet, rows)) == ["low", "check entry", "check entry", "check entry", "low"]
    both = [{"reading": 0.7054, "reading_1b": 0.7600}, {"reading": 0.7054, "reading_1b": 0.7060}]
    found = judge(log_sheet, both)
    assert words(found) == ["low", "check entry"]
    assert found[1]["words"].startswith("Is 0.706 the pitch diameter? Then type it under Pitch dia. meas'd.")


def test_a_hot_part_without_a_coefficient_is_told(log_sheet: Document) -> None:
    rows = [{"reading": 0.76, "temperature": t} for t in (None, 20, 28)]  # warmer is told too
    told = "Not brought to 20 °C: no expansion of the part is given."
    assert words(judge(log_sheet, rows), "words") == ["", "", told]
    assert log_sheet["log_pitch_diameter_head"] == "Pitch dia. as meas'd"
    log_sheet.set({"expansion": 12.3e-6})
    assert words(judge(log_sheet, rows), "words") == [""] * 3
    assert log_sheet["log_pitch_diameter_head"] == "Pitch dia. at\u00a020\u00a0°C"


def test_a_part_counts_once(log_sheet: Document) -> None:
    """Two parts ordered; one logged twice, the second time in, says nothing of the other."""
    log_sheet.set({"quantity": 2})
    found = judge(log_sheet, [{"serial": "1", "reading": 0.76}, {"serial": "1", "reading": 0.7601}])
    assert words(found) == ["in", "in"]
    assert found[1]["words"] == f"Part logged before, in row {FIRST}: not counted. To correct that row say why."
    assert log_sheet.get(["count_pitch_diameter_in", "parts_entered", "parts_again", "certificate_n"]) == [1, 1, 1, 1]
    assert log_sheet["log_marks"] == "1 row repeats a part: not counted."
    said = log_sheet["certificate_words"]
    assert said.startswith("NOT ALL IN. Pitch diameter: the part logged is in.")
    assert "Rows that repeat a part and are not counted: 1. 1 of 2 ordered are still to be found in." in said
    assert log_sheet["certificate_made"] == "1 part logged, 1 judged"
    rows = [{"serial": one, "crest": 0.744, "reading": 0.76} for one in ("a", "A", "7", 7, "a ", "*", None)]
    found = judge(log_sheet, [*rows, {"serial": "a", "reading": 0.76, "crest": 0.744, "why": "again"}])
    assert words(found) == ["replaced", "replaced", "in", "in", "check entry", "in", "in", "in"]
    assert words(found, "crest_result") == words(found)
    assert found[3]["words"].startswith(f"Part logged before, in row {FIRST + 2}:")
    assert found[6]["words"] == "No part number."
    assert log_sheet.get(["count_pitch_diameter_in", "count_crest_in", "parts_again"]) == [4, 4, 1]


def test_no_name_and_a_day_to_come_are_marked(log_sheet: Document) -> None:
    rows = [{"reading": 0.76, "who": None}, {"reading": 0.76, "when": day("2024-03-11")}]
    found = judge(log_sheet, [*rows, {"reading": 0.76, "when": day("2024-03-10") + 0.9}])
    assert words(found, "words") == ["Who measured?", "", ""]
    assert log_sheet["log_marks"] == "1 dated after 2024-03-10."
