"""The sheet Lathe in a real spreadsheet program: levers, gears, speed, feed. The dial is in test_lathe_dial."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from lathe_cases import BOTH, choice, choose, filled, inputs, named
from openpyxl import load_workbook
from openpyxl.utils import range_boundaries
from published_rows import rows
from whole_books import plain_pages, with_few_threads

from sheetfuncs import CellError, evaluate, standards
from workbook_template.demo import lathe as demo_lathe
from workbook_template.office import Document, Error
from workbook_template.sheets import lathe as lathe_sheet
from workbook_template.sheets import lathe_charts


def test_a_gear_typed_as_a_text_is_no_gear_left_out(lathes: Document) -> None:
    gears = {"use_a_1": 32, "use_b_1": 64, "use_c_1": 40, "use_d_1": 40}
    choose(lathes, "3/4-16 UNF-2A", **gears)
    assert lathes["lathe_lead_error_ppm_1"] == 0
    for wrong in ({"use_a_1": "32"}, {"use_c_1": "40"}, {"use_c_1": "40", "use_d_1": "40"},
                  dict.fromkeys(gears, "40")):  # fmt: skip
        choose(lathes, "3/4-16 UNF-2A", **(gears | wrong))
        assert lathes["lathe_gear_words_1"] == "Gears are whole numbers of teeth."
        assert lathes["lathe_lead_error_ppm_1"] in ("", None)


@pytest.mark.parametrize(
    ("lathe", "gears", "ratio"),
    [
        (1, {}, "2"),  # of its levers for 5 to the inch with 40/40
        (2, {}, "2.4"),  # 6 to the inch: 6 / 2.5
        (1, {"use_a_1": 30, "use_b_1": 60}, "3.2"),  # without levers 8 / 2.5
        (1, {"use_a_1": 30, "use_b_1": 60, "use_levers_1": "M6"}, "6.4"),  # 16 / 2.5
        (2, {"use_a_2": 60, "use_b_2": 30, "use_c_2": 50, "use_d_2": 50}, "2.4"),
    ],
)
def test_gears_of_another_lead_say_which_would_do(
    lathes: Document, lathe: int, gears: dict[str, object], ratio: str
) -> None:
    """A 2-start thread of 5 to the inch wants 2 1/2: by hand from leadscrew or levers."""
    choose(lathes, "1-5 ACME-2G", **gears)
    lathes.set({"starts": 2})
    said = lathes[f"lathe_gear_words_{lathe}"]
    lathes.set({"starts": 1})
    assert said.endswith(f" in, not 0.4000 in: drivers/driven must be {ratio}"), said


def test_levers_without_gears_and_a_lever_without_a_name_are_told(lathes: Document) -> None:
    """The usual gears may be off where levers are typed; and nobody sets a lever that has no name."""
    choose(lathes, "3/4-16 UNF-2A", use_levers_1="H6")
    assert lathes["lathe_gear_words_1"] == "Levers in use: type the gears that are on with them too."
    assert lathes["lathe_lead_error_ppm_1"] in ("", None)
    choose(lathes, "3/4-16 UNF-2A", use_levers_1=None)
    names = lathes["box_position_1"]
    position = lathes["lathe_gear_words_1"].removeprefix("levers ").partition(",")[0]
    lathes.set({"box_position_1": [[None if row[0] == position else row[0]] for row in names]})
    said = lathes["lathe_gear_words_1"]
    lathes.set({"box_position_1": names})
    assert said == "levers (which, that line of the lever chart does not say), usual end gears: exact"


DAY = " The program made a day of what was typed, as it does of 3/8: type the decimal, as in 0.375."
HALF = 46024.0
"""1 February 2026, which 1/2 becomes."""


@pytest.mark.parametrize(
    ("typed", "name", "sentence"),
    [
        ({"leadscrew_1": HALF}, "lathe_gear_words_1",
         "The leadscrew is a number more than zero with its unit, tpi or mm."),
        ({"fixed_ratio_2": HALF}, "lathe_gear_words_2", "The fixed ratio is a number more than zero, or empty."),
        ({"usable_relief": 0.2, "reaction_spread": HALF}, "lathe_rpm_words",
         "The reaction spread is seconds, a number more than zero, 20000 at most."),
        ({"surface_speed": HALF}, "lathe_rpm_words",
         "The cutting speed is a number more than zero, 20000 at most; its unit stands beside it."),
    ],
)  # fmt: skip
def test_a_fraction_that_became_a_day_describes_no_lathe(
    lathes: Document, typed: dict[str, object], name: str, sentence: str
) -> None:
    choose(lathes, "3/4-16 UNF-2A", **typed)
    assert lathes[name] == sentence + DAY
    if "leadscrew_1" in typed:
        assert lathes["lathe_half_nuts_1"] in ("", None)


def test_levers_exact_nearest_and_none(lathes: Document) -> None:
    choose(lathes, "3/4-10 UNC-2A")
    assert lathes.get(["lathe_gear_words", "lathe_lead_error_ppm"]) == ["levers M1, usual end gears: exact", 0.0]
    choose(lathes, "1/8-27 NPT", shelf_1=[[None]] * 40, **dict.fromkeys(("train_a_1", "train_c_1"), [[None]] * 60))
    words, error = lathes.get(["lathe_gear_words", "lathe_lead_error_ppm"])
    assert words.startswith("no position gives it; the nearest is H4, usual end gears: cuts a lead of 0.0357 in")
    assert error == pytest.approx((27 / 28 - 1) * 1e6)
    lathes.set({name: [[None]] * 60 for name in ("box_tpi_1", "box_pitch_1")})
    assert lathes["lathe_gear_words"].startswith("No lever position and no gears are listed")
    assert lathes["lathe_lead_error_ppm"] in ("", None)


def test_the_chart_of_gears_is_looked_up_by_lead(lathes: Document) -> None:
    """M16x2: 63 stands in for 127 on the inch screw, 1 in 8000 off; the old lathe has a 127."""
    choose(lathes, "M16x2-6g", "mm", thread_length=40)
    first, second = lathes.get(["lathe_gear_words_1", "lathe_gear_words_2"])
    assert first == "levers M6, gears 63/50: lead error +125 ppm, +0.0050 mm over the thread"
    assert second == "gears 60/127: exact"
    assert lathes.get(["lathe_lead_error_ppm_1", "lathe_lead_error_ppm_2"]) == [pytest.approx(125.0), 0.0]


def test_published_trains_typed_as_gears_in_use(lathes: Document) -> None:
    """Printed trains cut the leads that are printed with them."""
    printed = {row["setup"]: row for row in rows("change_gear_examples")}
    choose(lathes, "5/8-11 UNC-2A", leadscrew_1=4, use_a_1=48, use_b_1=66, use_c_1=18, use_d_1=36)
    assert printed["compound train on 4 tpi leadscrew"]["note"] == "66/48 x 36/18 x 4 = 11 tpi"
    assert lathes["lathe_lead_error_ppm_1"] == 0
    lathes.set({**choice("1 3/4-5 UNC-2A"), "leadscrew_1": 2, "use_a_1": 40, "use_b_1": 100, "use_c_1": None})
    assert lathes["lathe_gear_words_1"].startswith("Type both gears")
    lathes.set({"use_d_1": None})
    assert printed["5 tpi with 2 tpi leadscrew"]["note"].endswith("gears 40 -> 100")
    assert lathes.get(["lathe_lead_error_ppm_1", "cut_lead_1"]) == [0, pytest.approx(25.4 / 5)]
    for callout, levers, gears, setup in (
        ("M16x2-6g", "M7", (17, 12, None, None), "12/17 x 18 tpi = 12.706 tpi"),
        ("M20x2.5-6g", "M4", (16, 12, 30, 29), "12/16 x 29/30 x 14 = 10.15 tpi"),
    ):
        choose(lathes, callout, **dict(zip(("use_a_1", "use_b_1", "use_c_1", "use_d_1"), gears)), use_levers_1=levers)
        digits = printed[setup]["recomputed"].removeprefix("recomputed ")
        assert f"{lathes['cut_lead_1']:.{len(digits.partition('.')[2])}f}" == digits
        assert lathes["lathe_lead_error_ppm_1"] == pytest.approx(
            (float(digits) / standards.read(callout).lead - 1) * 1e6, abs=3
        )


def test_gears_in_use_are_checked(lathes: Document) -> None:
    """Idlers by hand of the thread, the quadrant, the shafts, the shelf."""
    choose(lathes, "3/4-16 UNF-2A", feed_reverse_1="idler gear", use_a_1=20, use_b_1=40, use_levers_1="M1")
    end = " Power off and locked before gears are handled."
    words = "Right hand: an idler. Idler of 25 to 90 teeth. The shelf list has too few of gear 20."
    assert lathes["lathe_train_words"] == words + end
    lathes.set({"hand": "left"})
    words, reverse = lathes.get(["lathe_train_words", "lathe_reverse_words"])
    assert words.startswith("Left hand: two idlers. Idler of 25 to 90 teeth together.")  # 60 alone do not reach 110
    assert reverse.startswith("LEFT HAND: the carriage must go away from the headstock. One idler more or less")
    lathes.set({"quadrant_min_1": 50})
    assert lathes["lathe_train_words"].startswith("Left hand: two idlers, or none. Idler of 24 to 90 teeth together.")
    lathes.set({"quadrant_max_1": 100})
    assert lathes["lathe_train_words"].startswith("Left hand: no idler. The shelf")
    lathes.set({"quadrant_min_1": 110, "quadrant_max_1": 240})
    lathes.set({"hand": "right", "use_a_1": 24, "use_b_1": 30, "use_c_1": 63, "use_d_1": 72})
    assert "no idler. Gear 63 runs into the shaft of 24." in lathes["lathe_train_words"]
    lathes.set({"quadrant_max_1": 150})
    assert "Does not fit: 189 teeth where the quadrant takes 110 to 150." in lathes["lathe_train_words"]
    lathes.set({"use_levers_1": "Z9"})
    assert lathes["lathe_gear_words"] == "The levers Z9 are not in the lever chart."


def test_half_a_tooth_is_no_gear_and_a_day_no_length_of_thread(lathes: Document) -> None:
    """40.5 / 80 would be 1.25 % off; over 46089 in, which a typed 3/8 makes, 46 in: over one diameter .0007 in."""
    choose(lathes, "3/4-16 UNF-2A", use_a_1=40.5, use_b_1=80)
    assert lathes["lathe_gear_words"] == "Gears are whole numbers of teeth."
    assert lathes["lathe_lead_error_ppm"] == ""
    lathes.set({"use_a_1": 40})
    assert lathes["lathe_gear_words"].endswith("gears 40/80, no levers: straight to the leadscrew: exact")
    lathes.set({"use_a_1": 1001, "use_b_1": 2000, "thread_length": 46089})
    assert lathes["lathe_gear_words"].endswith("lead error +1000 ppm, +0.00075 in over one diameter")
    lathes.set({"thread_length": 2})
    assert lathes["lathe_gear_words"].endswith("lead error +1000 ppm, +0.00200 in over the thread")


def test_speed_and_its_words(lathes: Document) -> None:
    """5/8-18 with .090 usable relief, 40 ft/min and .25 s: 389 by relief, 244 by speed."""
    choose(lathes, "5/8-18 UNF-2A")
    assert [round(value) for value in lathes.get(["rpm_by_relief", "rpm_by_speed", "rpm_lower"])] == [389, 244, 244]
    assert lathes.get(["rpm_listed", "rpm_listed_2", "lathe_relief_words"]) == [175, 200, ""]
    assert lathes["lathe_rpm_words"].startswith("Cutting speed governs: 244 rpm. Relief allows 389.")
    lathes.set({"usable_relief": 0.01})
    rpm, words, advice = lathes.get(["rpm_listed", "lathe_rpm_words", "lathe_relief_words"])
    assert rpm in ("", None)
    assert words.startswith("Relief governs: 43 rpm.")
    assert "no speed that slow: its slowest is 45" in words
    assert "away from the shoulder" in advice
    assert advice.endswith("Mind the screwed-on chuck in reverse.")
    lathes.set({"lathe_in_use": 2})
    assert lathes.get(["rpm_listed", "lathe_chuck_words"]) == [28, ""]
    choose(
        lathes, "M20x2.5-6g", "mm", surface_speed=10, surface_speed_unit="m/min", usable_relief=None,
        reaction_spread=None,
    )  # fmt: skip
    assert lathes["rpm_by_speed"] == pytest.approx(10 * 1000 / (3.14159265 * 20), rel=1e-6)
    assert "No relief given" in lathes["lathe_rpm_words"]


@pytest.mark.parametrize("callout", ["5/8-18 UNF-2A", "M20x2.5-6g"])
@pytest.mark.parametrize(("speed", "of"), [(40, "ft/min"), (12, "m/min")])
def test_a_cutting_speed_is_never_read_in_another_unit(lathes: Document, callout: str, speed: float, of: str) -> None:
    """By hand: v over the circumference, a foot being 304.8 mm; in both working units, and by the function."""
    work = standards.read(callout)
    across = work.diameter * (25.4 if work.unit == "in" else 1)
    rpm = speed * {"ft/min": 304.8, "m/min": 1000}[of] / (3.141592653589793 * across)
    nothing = {"usable_relief": None, "reaction_spread": None}
    for unit in ("in", "mm", "in"):
        choose(lathes, callout, unit, surface_speed=speed, surface_speed_unit=of, **nothing)
        assert lathes["rpm_by_speed"] == pytest.approx(rpm, rel=1e-12)
    assert evaluate("THREAD_RPM", callout, f"{speed} {of}")[0][0] == pytest.approx(rpm, rel=1e-12)
    lathes.set({"surface_speed_unit": None})
    assert lathes.get(["rpm_lower", "rpm_listed"]) == ["", ""]
    assert lathes["lathe_rpm_words"] == "Choose the unit of the cutting speed beside it, ft/min or m/min."


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"reaction_spread": None}, "Relief is given without reaction: type the reaction spread too"),
        ({"usable_relief": None}, "Reaction is given without relief: type the usable relief too"),
        ({"usable_relief": "wide"}, "The usable relief is a length, a number more than zero, 20000 at most."),
        ({"usable_relief": 0}, "The usable relief is a length, a number more than zero, 20000 at most."),
        ({"usable_relief": -0.09}, "The usable relief is a length, a number more than zero, 20000 at most."),
        ({"reaction_spread": "quick"}, "The reaction spread is seconds, a number"),
        ({"reaction_spread": 0}, "The reaction spread is seconds, a number more than zero, 20000 at most."),
        ({"reaction_spread": -0.25}, "The reaction spread is seconds, a number more than zero, 20000 at most."),
        ({"surface_speed": None}, "Type the cutting speed on the sheet Lathe."),
        (
            {"surface_speed": "40 ft/min"},
            "The cutting speed is a number more than zero, 20000 at most; its unit stands beside it.",
        ),
        (
            {"surface_speed": -40},
            "The cutting speed is a number more than zero, 20000 at most; its unit stands beside it.",
        ),
    ],
)
def test_what_is_missing_or_wrong_of_the_speed_is_said_and_no_speed_shown(
    lathes: Document, typed: dict[str, Any], sentence: str
) -> None:
    choose(lathes, "5/8-18 UNF-2A", estimate_rpm_1=None)
    assert lathes["rpm_listed"] == 175
    lathes.set(typed)
    assert lathes["lathe_rpm_words"].startswith(sentence)
    assert lathes.get(["rpm_listed", "rpm_listed_1", "rpm_listed_2", "rpm_lower", "estimate_rpm_used_1"]) == [""] * 5
    assert sentence in lathes["speed_words"]
    good = {"surface_speed": 40, "usable_relief": 0.09, "reaction_spread": 0.25} | typed
    cells = [None if good[name] is None else good[name] for name in good]
    if typed.get("surface_speed", 40) not in (
        "40 ft/min",
        None,
    ):  # with its unit the function takes it; blank in, blank out
        with pytest.raises(CellError):
            evaluate("THREAD_RPM", "5/8-18 UNF-2A", *cells)


def test_the_chuck_is_told_unless_it_can_not_come_off(lathes: Document) -> None:
    choose(lathes, "M20x2.5-6g")
    for mounting, told in (("screwed on", True), (None, True), ("cam lock", False), ("bolted", False)):
        lathes.set({"chuck_mount_1": mounting})
        words, on_setup = lathes.get(["lathe_chuck_words", "reverse_words"])
        assert ("screwed" in words.lower()) == told
        assert ("screwed" in on_setup.lower()) == told


def test_dials_and_feeds_follow_the_working_unit(lathes: Document) -> None:
    choose(lathes, "M20x2.5-6g", "mm", turning_feed=0.2)
    names = ["compound_division", "cross_division", "cross_reads", "lathe_feed_words"]
    assert lathes.get(names) == [
        pytest.approx(0.0254), pytest.approx(0.0254), "diameter",
        "levers M5: 0.193 mm a turn, the next listed at or under 0.200.",
    ]  # fmt: skip
    lathes.set({"compound_dial_reads_1": "diameter"})
    assert lathes["compound_division"] == pytest.approx(0.0127)
    lathes.set({"lathe_in_use": 2})
    assert lathes["lathe_feed_words"] == "No feeds are listed for this lathe."


def test_nothing_typed_gives_sentences_and_no_error(lathes: Document) -> None:
    lathes.set(filled({"lathe_in_use": 1}))
    results = [entry.name for entry in named() if entry.role != "input"]
    for callout in ("3/4-16 UNF-2A", None):
        lathes.set(choice(callout) if callout else {"thread_size": None})
        for name, value in zip(results, lathes.get(results)):
            cells = [cell for row in value for cell in row] if isinstance(value, list) else [value]
            assert not [cell for cell in cells if isinstance(cell, Error)], name
        assert lathes["lathe_half_nuts"] in ("", None)
    choose(lathes, "3/4-16 UNF-2A")
    assert lathes["lathe_gear_words"] == "This lathe is not described yet: type its leadscrew on the sheet Lathe."
    lathes.set(filled({**BOTH, **dict.fromkeys(("leadscrew_1", "dial_a_1", "dial_lines_1", "use_a_1"), "eight")}))
    found = lathes.get(results)
    assert not [name for name, value in zip(results, found) if isinstance(value, Error)]


def test_no_word_of_the_sheet_promises_safety() -> None:
    sheet = plain_pages().workbook[lathe_sheet.SHEET]
    texts = [str(cell.value).lower() for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert not [text for text in texts if "safe" in text]


def test_a_new_workbook_says_the_unit_of_the_cutting_speed(built_short: Mapping[str, Path]) -> None:
    """Typed at the build, for the working unit: no formula that would follow it."""
    ref = inputs()["surface_speed_unit"]
    for name, unit in (("new.xlsx", "m/min"), ("demo.xlsx", "ft/min")):
        assert load_workbook(built_short[name], read_only=True)[lathe_sheet.SHEET][ref].value == unit


@pytest.mark.parametrize("in_use", [1, 2])
def test_the_charts_of_the_lathe_in_use_are_printed(in_use: int) -> None:
    """And those of the other one are not."""
    book = with_few_threads([], values={**BOTH, "lathe_in_use": in_use})
    _, top, _, bottom = range_boundaries(book.workbook[lathe_charts.SHEET].print_area.split("!")[1].replace("$", ""))
    for lathe_number in (1, 2):
        ref = inputs()[f"train_pitch_{lathe_number}"]
        used = [number for number, one in enumerate(BOTH[f"train_pitch_{lathe_number}"], start=1) if one is not None]
        first = int(ref.partition(":")[0].strip("ABCDEFGHIJ"))
        rows_used = range(first, first + used[-1])
        assert [top < row <= bottom for row in rows_used] == [lathe_number == in_use] * len(rows_used)


def test_the_file_fills_the_sheet() -> None:
    assert set(BOTH) <= set(inputs())
    assert [one.name for one in demo_lathe.lathes()] == [BOTH["lathe_name_1"], BOTH["lathe_name_2"]]
    assert all(len(one.chart) <= lathe_charts.ROWS for one in demo_lathe.lathes())
