"""What to gear for, the speed of the carriage and the seconds of the run-out: by the functions and by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest
from workbook_cases import Case

from sheetfuncs import evaluate, standards
from workbook_template.office import Document

LATHE = {
    "leadscrew_1": 8, "leadscrew_unit_1": "tpi", "surface_speed": 40, "surface_speed_unit": "ft/min",
    "spindle_speeds_1": [[speed] for speed in (30, 50, 70, 95, 130, 175)],
    "usable_relief": None, "reaction_spread": None,
}  # fmt: skip


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open, with a lathe."""
    rows = len(empty_workbook["spindle_speeds_1"])
    speeds = [*LATHE["spindle_speeds_1"], *[[None]] * rows][:rows]
    empty_workbook.set(LATHE | {"spindle_speeds_1": speeds})
    return empty_workbook


def choose(sheet: Document, thread: str, unit: str = "in", starts: int = 1, **inputs: object) -> None:
    sheet.set(Case(standards.read(thread)._replace(starts=starts), unit, {**inputs}).sheet())


# Worked by hand: 40 ft/min round pi x .75 in are 203.7 rpm, the listed speed under it 175; 175 / 16 = 10.9375 in a
# minute; 60 / 175 = .343 s a turn; .125 in of relief are two turns, .686 s. M20x2.5: 40 ft/min are 12 192 mm/min, over
# pi x 20 mm 194.0 rpm; 175 x 2.5 = 437.5 mm. A lead of two pitches doubles the speed.
RUNS = (
    ("3/4-16 UNF-2A", "in", 1, 0.125, 175, 10.9375, "0.34", "0.69", "10.9 in/min"),
    ("M20x2.5-6g", "mm", 1, 5.0, 175, 437.5, "0.34", "0.69", "438 mm/min"),
    ("M20x2.5-6g", "mm", 2, 5.0, 175, 875.0, "0.34", "0.34", "875 mm/min"),
)


@pytest.mark.parametrize(("thread", "unit", "starts", "relief", "rpm", "speed", "turn", "passed", "told"), RUNS)
def test_speed_and_seconds_by_hand(
    sheet: Document, thread: str, unit: str, starts: int, relief: float, rpm: int, speed: float, turn: str,
    passed: str, told: str,
) -> None:  # fmt: skip
    choose(sheet, thread, unit, starts, usable_relief=relief, reaction_spread=0.2)
    assert sheet.get(["rpm_listed", "carriage_speed", "card_carriage"]) == pytest.approx([rpm, speed, speed])
    callout = standards.write(standards.read(thread)._replace(starts=starts))
    assert sheet["carriage_speed"] == pytest.approx(evaluate("THREAD_CARRIAGE_SPEED", callout, rpm, unit))
    assert sheet["turn_seconds"] == pytest.approx(60 / rpm)
    assert sheet["runout_seconds"] == pytest.approx(relief / (speed / 60))
    words, card = sheet.get(["carriage_speed_words", "speed_words"])
    shown = f"{relief:.4f} in" if unit == "in" else f"{relief:.3f} mm"
    seconds = f"Time for the hand: {turn} s a turn of run-out, {passed} s over the relief of {shown}."
    assert words == f"{rpm} rpm: the carriage runs {told}. {seconds}"
    assert card.endswith(seconds)


def test_a_relief_left_in_the_other_unit_is_doubted(sheet: Document) -> None:
    """6 mm, then the working unit becomes the inch."""
    choose(sheet, "M20x2.5-6g", "mm", usable_relief=6, reaction_spread=0.3)
    assert "is that its unit?" not in sheet["lathe_relief_line"]
    sheet.set({"unit": "in"})
    assert sheet["lathe_relief_line"] == "A usable relief of 6.0000 in: is that its unit?"
    assert "A usable relief of 6.0000 in: is that its unit?" in sheet["speed_words"]


def test_one_entry_after_another_each_with_its_words(sheet: Document) -> None:
    """Relief, reaction and cutting speed taken out and put back one at a time."""
    choose(sheet, "3/4-16 UNF-2A", usable_relief=0.125, reaction_spread=0.2)
    sheet.set({"reaction_spread": None})
    assert sheet.get(["carriage_speed", "runout_seconds", "card_carriage"]) == ["", "", "–"]
    assert sheet["carriage_speed_words"].startswith("No speed of the carriage: give")
    sheet.set({"usable_relief": None})
    assert sheet["carriage_speed_words"].endswith(" 0.34 s a turn of run-out; no relief is typed on Lathe.")
    sheet.set({"surface_speed": None})
    assert sheet.get(["carriage_speed", "turn_seconds"]) == ["", ""]
    assert "Time for the hand" not in sheet["speed_words"]
    sheet.set({"surface_speed": 40})
    sheet.set({"thread_size": None})
    assert sheet.get(["carriage_speed_words", "card_carriage", "gear_words"]) == ["", "", ""]


def spoken(value: Fraction) -> str:
    """A number as it is said: 5, 5 1/3, 2/3."""
    full, rest = divmod(value, 1)
    return " ".join(filter(None, (str(full) if full else "", str(rest) if rest else "")))


@pytest.mark.parametrize("starts", range(1, 8))
@pytest.mark.parametrize(("thread", "per_inch"), [("3/4-16 UNF-2A", "16"), ("2-4 1/2 UNC-2A", "4.5")])
def test_threads_per_inch_of_the_lead(sheet: Document, thread: str, per_inch: str, starts: int) -> None:
    """By fractions, and the function's own words."""
    choose(sheet, thread, starts=starts)
    words = sheet["gear_words"]
    lead = Fraction(per_inch) / starts
    assert words.startswith(f"Gear for {spoken(lead)} threads per inch, ")
    assert (f" threads per inch, not {spoken(Fraction(per_inch))}, lead " in words) == (starts > 1)
    callout = standards.write(standards.read(thread)._replace(starts=starts))
    assert evaluate("THREAD_GEAR_FOR", callout)[0][3].startswith(f"gear for {spoken(lead)} threads per inch")
    if starts > 1:
        assert words.endswith(f" {starts} starts, each {round(360 / starts, 2):g} degrees of the work on.")


def test_a_metric_lead(sheet: Document) -> None:
    choose(sheet, "Tr40x7-7e", "mm", 2)
    assert sheet["gear_words"] == "Gear for a lead of 14.000 mm, not 7.000. 2 starts, each 180 degrees of the work on."
