"""A thread that exists: what is left by hand and by the function, its plan, its words; cells edited one at a time."""

from __future__ import annotations

from math import cos, radians

import pytest
from workbook_cases import Case

from sheetfuncs import evaluate, standards
from workbook_template.office import Document

USUAL = {"tip_kind": "nose radius", "tip_size": 0.008, "aim_limit": "mid", "passes": 3, "pass_rule": "equal area"}
USUAL |= {"compound_angle": 29.5, "dial_division": 0.001, "wire_in_use": 0.0361}


@pytest.fixture(scope="module")
def opened(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


@pytest.fixture
def sheet(opened: Document) -> Document:
    opened.set(Case(standards.read("3/4-16 UNF-2A"), "in", USUAL).sheet())
    return opened


def plan(sheet: Document, name: str) -> list[float]:
    return [row[0] for row in sheet[name] if isinstance(row[0], float)]


def test_what_is_left_by_hand(sheet: Document) -> None:
    """Reading .7680; mid reads .7054 + 3 x .0361 - .054127 + .00002 of the lead = .75960: .0042 on the radius.

    Through cos 29.5 = .87036 the compound travels .00483, five divisions of .001 less a little.
    """
    sheet.set({"thread_exists": "yes"})
    assert sheet["next_step"] == "Next: measure the existing thread over the wires and type the reading."
    assert sheet.get(["depth", "compound_travel"]) == ["–", "–"]
    sheet.set({"existing_reading": 0.768})
    aimed = 0.7054 + 3 * 0.0361 - 0.8660254 / 16 + 0.0361 * 0.0282**2 / 2 * 1.5
    left = (0.768 - aimed) / 2
    assert sheet["depth"] == pytest.approx(left, abs=4e-7)
    assert sheet["compound_travel"] == pytest.approx(left / cos(radians(29.5)), abs=5e-7)
    by_function = evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, 0.768, "mid", 0, "in", "exact")
    assert sheet["depth"] == pytest.approx(by_function, abs=1e-12)
    assert sheet["depth_head"] == "Left to feed on the radius"
    said = "THREAD EXISTS: feed 0.0042 on the radius, measure every pass: stop before 0.7571."
    assert sheet.get(["next_step", "card_state"]) == [said, said]


def test_the_plan_starts_from_the_reading(sheet: Document) -> None:
    """Five divisions in three passes of the same chip: the groove is deep already, so they take about the same."""
    sheet.set({"thread_exists": "yes", "existing_reading": 0.768})
    assert plan(sheet, "plan_compound_reading") == pytest.approx([0.002, 0.004, 0.005])
    sheet.set({"dial_division": None})
    readings = plan(sheet, "plan_compound_reading")
    assert readings[-1] == pytest.approx(sheet["compound_travel"])
    # by areas: a V of included angle 60 cut by the nose is as deep as the radial figure and the nose's own start
    depth, left = sheet.get(["existing_depth", "depth"])
    ends = [depth + reading * cos(radians(29.5)) for reading in readings]
    areas = [end**2 for end in (depth, *ends)]
    chips = [after - before for before, after in zip(areas, areas[1:])]
    assert chips == pytest.approx([chips[0]] * 3, rel=1e-6)
    new = evaluate("THREAD_DEPTH", "3/4-16 UNF-2A", "radius 0.008", "mid", sheet["blank_used"], "in")
    assert depth + left == pytest.approx(new, abs=1e-9)
    root = sheet["blank_used"] - 2 * new
    assert plan(sheet, "plan_diameter_now")[-1] == pytest.approx(root, abs=1e-9)
    assert "Pitch diameter at the end 0.7054 in." in sheet["plan_words"]
    assert "HEAVY" not in sheet["plan_words"]


def test_the_tip_changes_nothing_of_what_is_left(sheet: Document) -> None:
    sheet.set({"thread_exists": "yes", "existing_reading": 0.768})
    before = sheet["depth"]
    sheet.set({"tip_kind": "sharp"})
    assert sheet["depth"] == before
    assert sheet["sharp_words"] == "The thread exists: on its flanks every tip is fed the same."
    assert sheet.get(["depth_sharp", "depth_flat"]) == ["", ""]
    sheet.set({"blank_measured": 0.742})
    assert sheet["depth"] == before


STOPPED = (
    (0.7596, "STOP: the existing thread is at mid or past it: there is nothing left to feed."),
    (0.7571, "STOP: the existing thread is at mid or past it: there is nothing left to feed."),
    (
        0.7561,
        "STOP: the existing thread is under its low limit by 0.0010: nothing can be fed. Set the part aside.",
    ),
    (
        "0.768?",
        (
            "The reading of the existing thread is not a number more than zero. "
            '"0.768?" is a text: type the number alone, as in 0.375.'
        ),
    ),
    (19.5, "This reading is nowhere near the thread: check its unit, the wires and which thread it is."),
    (0.81, "Over 0.7980 the wires lie on the crests: not measured so. Cut it as a new thread."),
)


LEFT_3, LEFT_2 = (f"Left to feed are 0.000{n} on the radius, less than a division of 0.0010:" for n in (3, 2))


@pytest.mark.parametrize(
    ("reading", "aim", "said"),
    [
        (0.7602, "mid", f"{LEFT_3} the thread is within its limits, leave it; or take a spring pass and measure."),
        (0.7625, "max", f"{LEFT_2} take spring passes, or feed by an indicator on the slide, and measure after each."),
        (0.7615, "mid", "3 passes over a travel of 0.0011 come to less than a division of 0.0010 each; use fewer"),
    ],
)  # fmt: skip
def test_less_than_a_division_that_is_left_is_told_as_it_is(
    sheet: Document, reading: float, aim: str, said: str
) -> None:
    """By hand: mid reads .75960, max .76211; half of what is over it is left. .0011 are one division, not three."""
    sheet.set({"thread_exists": "yes", "aim_limit": aim, "existing_reading": reading})
    assert sheet["plan_words"].removesuffix(" passes or a finer dial.") == said
    assert plan(sheet, "plan_compound_reading") == []
    sheet.set({"aim_limit": "mid", "passes": 1, "existing_reading": 0.7602})
    assert sheet["plan_words"].startswith("Left to feed are 0.0003 on the radius, less than a division")
    sheet.set({"dial_division": 0.0002})
    assert plan(sheet, "plan_compound_reading") == pytest.approx([0.0004])


@pytest.mark.parametrize(("reading", "said"), STOPPED)
def test_where_nothing_can_be_fed_there_is_no_number(sheet: Document, reading: object, said: str) -> None:
    sheet.set({"thread_exists": "yes", "existing_reading": reading})
    assert sheet["next_step"] == said
    assert sheet.get(["depth", "compound_travel"]) == ["–", "–"]
    assert plan(sheet, "plan_compound_reading") == []


def test_one_entry_after_another_and_back(sheet: Document) -> None:
    sheet.set({"thread_exists": "yes"})
    sheet.set({"existing_reading": 0.768})
    sheet.set({"wire_in_use": None})
    assert sheet["next_step"] == "Next: choose a wire set or enter the wire in use."
    sheet.set({"wire_in_use": 0.0361})
    sheet.set({"aim_limit": None})
    assert sheet["next_step"] == "Next: choose what to aim at, max, mid or min."
    sheet.set({"aim_limit": "max"})
    by_function = evaluate("THREAD_FEED_LEFT", "3/4-16 UNF-2A", 0.0361, 0.768, "max", 0, "in", "exact")
    assert sheet["depth"] == pytest.approx(by_function, abs=1e-12)
    words = sheet["each_words"]
    for told in ("until all play is out", "set both collars to zero", "half-nuts", "both flanks touch", "power off",
                 "chuck key out", "(shop practice)"):  # fmt: skip
        assert told.lower() in words.lower()
    assert sheet["each_label"] == "Pick it up"
    assert sheet["card_blank"].startswith("THREAD EXISTS: no blank to turn; pick it up, second page.")
    for said in ("no", None):
        sheet.set({"thread_exists": said})
        assert sheet["next_step"] == (
            "A reading is typed beside Exists, reads: choose yes there for a thread that is cut already, or empty it."
        )
        assert sheet["depth"] == "–"
    sheet.set({"existing_reading": None})
    assert sheet["next_step"].startswith("BLANK NOT MEASURED")
    assert sheet["depth"] == pytest.approx(
        evaluate("THREAD_DEPTH", "3/4-16 UNF-2A", "radius 0.008", "max", None, "in"), abs=1e-9
    )
    assert sheet["each_label"] == "Each pass"


@pytest.mark.parametrize(("callout", "name"), [("3/4-16 UNF-2B", "2B"), ("1/2-14 NPT", "external")])
def test_without_wires_there_is_no_plan(sheet: Document, callout: str, name: str) -> None:
    inputs = {"thread_exists": "yes", "existing_reading": 0.7, "tip_size": 0.003, "wire_in_use": None}
    sheet.set(Case(standards.read(callout), "in", USUAL | inputs).sheet() | {"thread_class": name})
    said = "THREAD EXISTS, internal or taper: pick it up, feed by single divisions, try the gauge after each."
    assert sheet["next_step"] == f"{said} The reading typed is not used."
    assert "clear of the flanks, then single divisions, the gauge after each." in sheet["each_words"]
    assert "degrees of side clearance or more" in sheet["clearance_words"]
    sheet.set({"existing_reading": None})
    assert sheet["next_step"] == said
    assert plan(sheet, "plan_compound_reading") == []
