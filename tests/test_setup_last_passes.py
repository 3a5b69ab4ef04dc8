"""What is left to feed on the sheet Setup: against the function, and against arithmetic by hand."""

from __future__ import annotations

import random
from math import pi

import pytest
from workbook_cases import Case, cases, method_of

from sheetfuncs import evaluate, standards
from workbook_template.office import Document

ENDS = ("max", "mid", "min")
USUAL = {"tip_kind": "nose radius", "tip_size": 0.008, "blank_measured": 0.744, "aim_limit": "mid", "passes": 8}
USUAL |= {"pass_rule": "equal area", "compound_angle": 29.5, "dial_division": 0.001, "wire_in_use": 0.0361}


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


def usual(sheet: Document, thread: str = "3/4-16 UNF-2A", **inputs: object) -> None:
    sheet.set(Case(standards.read(thread), "in", USUAL | inputs).sheet())


def test_what_is_left_is_that_of_the_function(sheet: Document) -> None:
    draw, seen = random.Random(5), 0
    for case in cases(60, seed=11):
        sheet.set(case.sheet() | {"reading_now": None})
        constant, angle, crest, basic, pitch, wire = sheet.get(
            ["wire_constant", "angle_used", "reading_crest", "pitch_diameter_basic", "pitch", "wire_used"]
        )
        if not isinstance(constant, float):
            assert sheet.get(["feed_left_max", "feed_left_min"]) == ["", ""], case
            assert sheet["feed_words"], case
            continue
        reading = round(basic + constant + draw.uniform(-0.2, 0.2) * pitch, 5)
        sheet.set({"reading_now": reading})
        found = sheet.get([f"feed_left_{end}" for end in ENDS])
        if not isinstance(sheet["angle_cosine"], float) or reading > crest:
            assert found == [""] * 3, case
            continue
        given = case.inputs["compound_angle"]
        method = method_of(case.thread)
        call = ("THREAD_FEED_LEFT", case.callout, wire, reading)
        want = [evaluate(*call, end, given, case.unit, method) for end in ENDS]
        assert found == pytest.approx(want, rel=1e-9, abs=1e-12), case
        assert 0 <= angle <= 60
        seen += 1
    assert seen > 8


def test_worked_by_hand(sheet: Document) -> None:
    """.7721 is .0100 over .7621: .0050 on the radius, over cos 29.5 = .87036 that is .00574; 5.7 divisions of .001.

    Mid is .0025 lower: .0125 / 2 / .87036 = .00718. Low: .0150 / 2 / .87036 = .00862. The figures of the limits are
    .70790 and .70290 (ASME B1.1-2003, Table 2A) plus 3 x .0361 - .86603 / 16. The lead angle, of tangent .0282, adds
    W s^2 / 2 cos 30 cot 30 = .00002 to each reading (Machinery's Handbook, 31st ed., p. 2130).
    """
    usual(sheet, reading_now=0.7721)
    found = sheet.get([f"feed_left_{end}" for end in ENDS])
    constant = 3 * 0.0361 - 0.8660254 / 16 + 0.0361 * 0.0282**2 / 2 * 1.5
    wanted = [(0.7721 - constant - size) / 2 / 0.8703557 for size in (0.7079, 0.7054, 0.7029)]
    assert found == pytest.approx(wanted, abs=4e-7)
    assert sheet.shown(["feed_left_max", "feed_divisions_max"]) == ["0.0057", "5.7"]


SAID = (
    (None, "Type what the micrometer reads over the wires now."),
    ("0.76 ?", 'The reading is not a number. "0.76 ?" is a text: type the number alone, as in 0.375.'),
    (0.7645, "Over the high limit by 0.0024. Feed 0.0028 (2.8 div.) to mid, measure before the last of it."),
    (0.7610, "Inside, over mid by 0.0014: stop here, or feed 0.0008 (0.8 div.) to mid."),
    (0.7590, "Past mid by 0.0006, still inside: stop feeding."),
    (0.7571, "Past mid by 0.0025, still inside: stop feeding."),
    (0.7559, "STOP: past the low limit by 0.0012. Clean thread and wires, measure again, set the part aside."),
    (0.8100, "Over 0.7982 the wires lie on the crests: no reading yet. Feed on by the plan."),
    (19.31, "This reading is nowhere near the thread: check its unit and the wires."),
)


@pytest.mark.parametrize(("reading", "words"), SAID)
def test_every_reading_gets_its_words(sheet: Document, reading: object, words: str) -> None:
    usual(sheet, reading_now=reading)
    assert sheet["feed_words"] == words


def test_past_stands_in_words_and_stays_a_number(sheet: Document) -> None:
    usual(sheet, reading_now=0.7559)
    assert sheet["feed_left_min"] == pytest.approx(-0.0012 / 2 / 0.8703557, abs=2e-5)
    assert sheet.shown(["feed_left_min", "feed_divisions_min"]) == ["past 0.0007", "past 0.7"]


@pytest.mark.parametrize(
    ("thread", "words"),
    [
        (
            "3/4-16 UNF-2B",
            "Internal: no wires. Near depth try the GO plug after each division (0.0017 on the diameter).",
        ),
        ("1/2-14 NPT", "First name a wire that serves this thread."),
    ],
)
def test_without_wires_the_words_say_what_to_do(sheet: Document, thread: str, words: str) -> None:
    read = standards.read(thread)
    side = {"thread_class": "external"} if "NPT" in thread else {}
    inputs = USUAL | {"reading_now": 0.76, "blank_measured": None, "tip_size": 0.003}
    sheet.set(Case(read, "in", inputs).sheet() | side)
    assert sheet["feed_words"] == words
    assert sheet.get(["feed_left_max", "feed_left_mid", "feed_left_min"]) == [""] * 3


def test_the_list_goes_from_over_the_limit_down_to_the_low_one(sheet: Document) -> None:
    usual(sheet)
    words, readings, feeds, divisions = (
        [row[0] for row in sheet[f"feed_list_{name}"]] for name in ("words", "reading", "feed_left", "divisions")
    )
    assert words[-3:] == ["high limit", "mid", "low limit"]
    assert readings == sorted(readings, reverse=True)
    assert [round(reading, 4) for reading in readings[-3:]] == [0.7621, 0.7596, 0.7571]
    for reading, feed, division in zip(readings, feeds, divisions):
        want = evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, reading, "mid", 29.5, "in", "exact")
        assert feed == pytest.approx(want, abs=1e-12)
        assert division == pytest.approx(feed / 0.001, abs=1e-9)
    assert divisions[0] - divisions[1] == pytest.approx(4, abs=1e-9)  # 8 and 4 divisions over the high limit


def test_dial_and_wire_come_from_where_they_are_typed(sheet: Document) -> None:
    usual(sheet, wire_in_use=None)
    assert sheet["next_step"] == "Next: choose a wire set or enter the wire in use."
    sheet.set({"wires_id": [["W-9"]] + [[None]] * 59, "wires_a": [[0.03612]] + [[None]] * 59})
    sheet.set({"wires_b": [[0.0361]] + [[None]] * 59, "wires_c": [[0.03611]] + [[None]] * 59, "wire_set": "W-9"})
    assert sheet["wire_used"] == pytest.approx(0.03611)
    assert "BUT THE SET: no due date." in sheet["wire_words"]
    sheet.set({"wire_in_use": 0.036})
    assert sheet["wire_used"] == 0.036
    sheet.set({"wire_in_use": None, "wire_set": "W-8"})
    assert sheet["wire_used"] == ""
    assert sheet["wire_words"] == "The sheet Wire sets has no diameter for the wire set W-8."


def test_the_words_go_by_what_is_aimed_at(sheet: Document) -> None:
    """3/4-16 UNF-2A over .0361: .7621 to .7571, mid .7596 (ASME B1.1-2003, Table 2A)."""
    for aim, reading, words in (
        ("min", 0.7596, "Inside, over min by"),
        ("max", 0.7630, "to max, measure before the last of it."),
        ("max", 0.7596, "Past max by"),
        ("mid", 0.7630, "to mid, measure before the last of it."),
    ):
        inputs = {"tip_kind": "nose radius", "tip_size": 0.008, "aim_limit": aim, "wire_in_use": 0.0361}
        sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", {**inputs, "reading_now": reading}).sheet())
        assert words in sheet["feed_words"], (aim, reading)


def test_a_wire_that_may_sit_below_the_crest_is_told_and_used(sheet: Document) -> None:
    """By hand, 60 degrees: .0330 reads .7029 + .0990 - .0541 = .7478 at the low limit, the crest may be .7485."""
    usual(sheet, wire_in_use=0.0361)
    assert sheet["wire_words"].startswith("This wire serves: proud of the crest")
    usual(sheet, wire_in_use=0.0330)
    assert sheet["wire_words"].startswith(
        "May sit below the crest: it reads 0.7478 at the smallest pitch diameter, and the crest may be 0.7485. "
        "Measure the crest, or take a wire over 0.03325."
    )
    lead = 0.75 * 0.0330 * (1 / 16 / (pi * 0.7054)) ** 2  # the handbook's term for the lead angle, MH31 p. 2130
    assert sheet["wire_constant"] == pytest.approx(3 * 0.0330 - 0.0541266 + lead, abs=1e-6)
    assert evaluate("THREAD_WIRE_REMARK", "3/4-16 UNF-2A", 0.0330).startswith("may sit below the crest: ")
    usual(sheet, wire_in_use=0.0280)
    assert "too small" in sheet["wire_words"]
    assert sheet["wire_constant"] == ""


@pytest.mark.parametrize(
    "callout", ["#1-64 UNC-3A", "3/4-16 UNF-3B", "M10x1.5-6H", "7/8-14 UNJF-3A", "3/8-12 ACME-2G-INT", "R 3/4"]
)
def test_the_sheet_takes_the_tip_of_the_standard_at_both_ends(sheet: Document, callout: str) -> None:
    thread = standards.read(callout)
    kind, _, largest, _ = evaluate("THREAD_TIP", callout)[0]
    blank = evaluate("THREAD_BLANK", callout)[0][2]
    given = USUAL | {"tip_kind": {"flat": "flat", "radius": "nose radius"}[kind], "tip_size": largest}
    given |= {"blank_measured": blank, "wire_in_use": None, "dial_division": None}
    for aim in ("max", "min"):
        sheet.set(Case(thread, thread.unit, given | {"aim_limit": aim}).sheet())
        want = evaluate("THREAD_DEPTH", callout, f"{kind} {largest!r}", aim, blank)
        assert sheet["depth"] == pytest.approx(want, rel=1e-9), sheet["next_step"]
