"""What the sheets tell at the lathe beside their figures: scratch pass, left hand, sharp tips, shoulder, heat."""

from __future__ import annotations

from math import radians, tan

import pytest
from log_cases import cell, cells
from workbook_cases import Case

from sheetfuncs import standards
from workbook_template.office import Document
from workbook_template.sheets import instruments

USUAL = {"tip_kind": "nose radius", "tip_size": 0.003, "aim_limit": "mid", "passes": 8, "dial_division": 0.001}


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


def usual(sheet: Document, thread: str, unit: str = "in", starts: int = 1, **inputs: object) -> None:
    read = standards.read(thread)._replace(starts=starts)
    sheet.set({"thread_length": None} | Case(read, unit, USUAL).sheet() | inputs)


# threads in an inch or 25 mm by hand; of several starts only one is scratched, so its turns are counted; a short
# thread has fewer: 0.4 in of 16 threads to the inch are 6 whole ones, .375 in
SCRATCHED = (
    ("3/4-16 UNF-2A", "in", 1, None, "16 threads = 1.0000 in.", "pitch: 16 threads = 1.0000"),
    ("M20x2.5-6g", "mm", 1, None, "10 threads = 25.000 mm.", "pitch: 10 threads = 25.000"),
    ("M12x1.75-6g", "mm", 1, None, "14 threads = 24.500 mm.", "pitch: 14 threads = 24.500"),
    ("1/2-13 UNC-2A", "in", 1, None, "13 threads = 1.0000 in.", "pitch: 13 threads = 1.0000"),
    ("3/4-16 UNF-2A", "in", 2, None, "8 turns of one start = 1.0000 in.", "pitch: 8 turns = 1.0000"),
    ("3/4-16 UNF-2A", "in", 1, 0.4, "6 threads = 0.3750 in.", "pitch: 6 threads = 0.3750"),
    ("3/4-16 UNF-2A", "in", 1, 0.0625, "1 thread = 0.0625 in.", "pitch: 1 thread = 0.0625"),
)


@pytest.mark.parametrize(("thread", "unit", "starts", "long", "told", "tick"), SCRATCHED)
def test_the_scratch_pass(
    sheet: Document, thread: str, unit: str, starts: int, long: float | None, told: str, tick: str
) -> None:
    usual(sheet, thread, unit, starts, thread_length=long)
    assert sheet["gears_words"].endswith(f" First a scratch pass, spindle stopped to measure: {told}")
    assert sheet["card_scratch"] == tick
    sheet.set({"thread_class": None})
    assert sheet.get(["scratch_length", "card_scratch"]) == ["", "pitch, by a scratch pass"]


@pytest.mark.parametrize(
    ("wire", "told"),
    [
        (None, ", wires 0.03620 of W-2."),
        (0.03622, ", wires 0.03622 of W-2."),  # as far from the mean as wires of a set may be
        (0.03623, ", wires 0.03623."),
        (0.0361, ", wires 0.03610."),
    ],
)
def test_the_card_names_a_set_for_its_own_wires_alone(sheet: Document, wire: float | None, told: str) -> None:
    sets = {"wires_id": ("W-2",), "wires_a": (0.0362,)}
    listed = {name: cells(values, instruments.WIRE_SETS) for name, values in sets.items()}
    usual(sheet, "3/4-16 UNF-2A", wire_in_use=wire, wire_set="W-2", **listed)
    assert told in sheet["card_worked_for"]
    sheet.set({"wire_set": None, "wire_in_use": None, **dict.fromkeys(sets, cells((), instruments.WIRE_SETS))})


@pytest.mark.parametrize("thread", ["3/4-16 UNF-2A", "3/4-16 UNF-2B"])
def test_left_hand_gauges_are_named(sheet: Document, thread: str) -> None:
    usual(sheet, f"{thread}-LH")
    assert "Gauges and nut marked LH" in sheet["carriage_words"]
    sheet.set({"hand": "right"})
    assert "LH" not in sheet["carriage_words"]


def test_a_sharp_tip_in_a_bore(sheet: Document) -> None:
    """By the sharp V alone: its root lies H/2 outside the pitch line; mid of .7094 and .7159 aimed at."""
    usual(sheet, "3/4-16 UNF-2B", tip_kind="sharp", tip_size=None)
    root = (0.7094 + 0.7159) / 2 + 1 / 16 / (2 * tan(radians(30)))
    assert sheet["root_cut"] == pytest.approx(root, abs=6e-5)
    said = f"A sharp tip cuts the major diameter to {root:.4f}, {root - 0.75:.4f} over basic: a thin wall and a sharp "
    assert sheet["sharp_words"] == f"{said}corner that no plug shows."
    sheet.set({"tip_kind": "flat"})
    sheet.set({"tip_size": 0.0078})
    assert "sharp corner" not in sheet["sharp_words"]
    sheet.set({"tip_kind": "sharp"})
    sheet.set({"thread_class": "2A"})
    assert sheet["sharp_words"].startswith("This is a sharp tip: its figure fits no other tip.")


def test_a_sharp_tip_in_a_pipe_is_over_the_basic_size_of_its_thread(sheet: Document) -> None:
    """ASME B1.20.1, 3/4-14: E1 = .98887 and .8 P more, 1.0460; not the pipe's 1.050."""
    usual(sheet, "3/4-14 NPT internal", tip_kind="sharp", tip_size=None)
    over = sheet["root_cut"] - (0.98887 + 0.8 / 14)
    assert f", {over:.4f} over basic: " in sheet["sharp_words"]


def test_away_from_the_shoulder_wherever_the_relief_governs(sheet: Document) -> None:
    """.1 in at 16 threads and .6 s let 160 turns a minute; 40 ft/min round .75 in are 204."""
    usual(sheet, "3/4-16 UNF-2A")
    speeds = [[speed] for speed in (60, 110, 175)] + [[None]] * 37
    sheet.set({"leadscrew_1": 8, "leadscrew_unit_1": "tpi", "spindle_speeds_1": speeds, "surface_speed": 40,
               "usable_relief": 0.1, "reaction_spread": 0.6})  # fmt: skip
    assert sheet.get(["rpm_governs", "rpm_listed"]) == ["relief", 110]
    assert "cut away from the shoulder, spindle in reverse, tool upside down or at the back" in sheet["speed_words"]
    assert "Mind the screwed-on chuck." in sheet["speed_words"]
    sheet.set({"hand": "left"})
    assert "cut away from the shoulder" not in sheet["speed_words"]
    sheet.set({"hand": "right"})
    sheet.set({"chuck_mount_1": "bolted"})
    assert "screwed-on" not in sheet["speed_words"]
    sheet.set({"reaction_spread": 0.2})
    assert "cut away from the shoulder" not in sheet["speed_words"]


@pytest.mark.parametrize(("degrees", "told"), [(20, False), (30, False), (30.5, True), (45, True), ("warm", False)])
def test_a_warm_part_is_let_cool(sheet: Document, degrees: object, told: bool) -> None:
    usual(sheet, "3/4-16 UNF-2A", wire_in_use=0.0361)
    place = cell("serial", 1), cell("reading", 1), cell("temperature", 1), cell("words", 1)
    sheet.set({place[0]: "1", place[1]: 0.7600, place[2]: degrees})
    assert ("Warm: let it cool and measure again." in sheet[place[3]]) == told
