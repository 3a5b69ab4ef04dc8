"""The sheet Lathe in a real spreadsheet program: the dial rule word for word, levers, gears, speed, feed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.utils import range_boundaries
from published_rows import rows
from whole_books import plain_book
from workbook_cases import plain_file

from sheetfuncs import CellError, evaluate, lathe, standards
from sheetfuncs.designations import Thread
from workbook_template.demo import lathe as demo_lathe
from workbook_template.file import lathe_toml
from workbook_template.file.build import build, chosen
from workbook_template.office import Document, Error, Office
from workbook_template.paper.naming import Named
from workbook_template.sheets import lathe as lathe_sheet
from workbook_template.sheets import lathe_charts


@cache
def named() -> list[Named]:
    """The names of the two sheets."""
    return [entry for entry in plain_file().entries if entry.sheet in (lathe_sheet.SHEET, lathe_charts.SHEET)]


def inputs() -> dict[str, str]:
    """The inputs among them, each with its cells."""
    return {entry.name: entry.ref for entry in named() if entry.role == "input"}


def rows_of(ref: str) -> int:
    """How many cells a column has; 0 for a single cell."""
    first, _, last = ref.partition(":")
    return int("".join(filter(str.isdigit, last))) - int("".join(filter(str.isdigit, first))) + 1 if last else 0


def filled(values: dict[str, Any]) -> dict[str, Any]:
    """Every input of the sheet, those not in `values` empty; a list fills a column from the top."""
    cells: dict[str, Any] = {}
    for name, ref in inputs().items():
        value, count = values.get(name), rows_of(ref)
        if count:
            column = [*(value or []), *[None] * count][:count]
            cells[name] = [[one] for one in column]
        else:
            cells[name] = value
    return cells


BOTH = demo_lathe.values("3/4-16 UNF-2A")


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open, with both demo lathes typed in."""
    path = tmp_path_factory.mktemp("lathe") / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as document:
        document.set(filled(BOTH))
        yield document


@pytest.fixture
def demo(sheet: Document) -> Iterator[Document]:
    """The workbook with the demo lathes as they were; what a test types is taken back."""
    yield sheet
    sheet.set({"hand": "right", "starts": 1, **filled(BOTH)})


def choice(callout: str) -> dict[str, Any]:
    """The inputs that choose a thread; a pipe thread without a side is taken as the outside one."""
    thread = standards.read(callout)
    return {**chosen(thread), **({"thread_class": "external"} if thread.system == "npt" else {})}


def choose(sheet: Document, callout: str, unit: str = "in", **inputs: Any) -> None:
    """Choose a thread, and type."""
    sheet.set({**choice(callout), "unit": unit, "thread_length": None, **inputs})


THREADS = (
    *("2 1/2-4 UNC-2A", "2-4.5 UNC-2A", "1 3/4-5 UNC-2A", "1 1/2-6 UNC-2A", "1-8 UNC-2A", "5/8-11 UNC-2A"),
    *("1-11 1/2 NPT", "1/2-13 UNC-2A", "3/4-10 UNC-2A", "7/8-14 UNF-2A", "3/4-16 UNF-2A", "1/8-27 NPT"),
    *("3/4-16 UNF-2B", "1/4-28 UNF-2A", "G 1/4 A", "M16x2-6g", "M20x2.5-6g", "M8x1.25-6g", "M10x1.5-6g", "M6x1-6g"),
)
DIALS = (
    *(("8 tpi", 32, 8), ("4 tpi", 16, 8), ("6 tpi", 18, 9), ("5 tpi", 15, 10), ("8 tpi", 30, 12)),
    *(("3 mm", 20, 4), ("6 mm", 14, 7), ("6 mm", 15, 12)),
)


SHUT_OR_OPEN = ("keep the half-nuts shut", "close the half-nuts")
NO_GEARS = "; that is with exact gears, and none are given"


def by_function(work: Thread, screw: str, teeth: int, lines: int, error: float = 0.0) -> str:
    """What the function says, less the chuck that it can not know; the sheet has a line for it."""
    words = lathe.dial(work, lathe.read_leadscrew(screw), teeth, lines, error)
    return words.removesuffix(f". {lathe.SCREWED_CHUCK}")


def screw_and_dial(number: int, screw: str, teeth: int, lines: int) -> dict[str, Any]:
    value, unit = screw.split()
    return {
        f"leadscrew_{number}": float(value), f"leadscrew_unit_{number}": unit, f"dial_a_{number}": teeth,
        f"dial_lines_{number}": lines,
    }  # fmt: skip


def test_the_dial_rule_is_that_of_the_function(demo: Document) -> None:
    """Every lead on every dial, two dials at a time; one start and three. No gears are listed, so they are exact."""
    demo.set({name: [[None]] * 60 for n in (1, 2) for name in (f"train_a_{n}", f"box_tpi_{n}", f"box_pitch_{n}")})
    compared, kinds = 0, set()
    for place, callout in enumerate(THREADS):
        for starts in (1,) if place % 3 else (1, 3):
            work = standards.read(callout)._replace(starts=starts)
            demo.set({**choice(callout), "starts": starts})
            for pair in zip(DIALS[::2], DIALS[1::2]):
                demo.set(screw_and_dial(1, *pair[0]) | screw_and_dial(2, *pair[1]))
                found = demo.get(["lathe_dial_rule_1", "lathe_dial_rule_2", "lathe_half_nuts_1", "lathe_half_nuts_2"])
                for number, (screw, teeth, lines) in enumerate(pair):
                    words = by_function(work, screw, teeth, lines)
                    opens = words.startswith(SHUT_OR_OPEN[1])
                    assert found[number] == words + NO_GEARS * opens, (callout, starts, screw, teeth, lines)
                    assert bool(found[number + 2]) == opens, words
                    compared, kinds = compared + 1, kinds | {words[:64]}
    assert compared > 200
    assert len(kinds) >= 5


TRAINS = (
    ("1/2-13 UNC-2A", 1, "8 tpi", (20, 44, 50, 37)),  # -1843 ppm, the example of docs/lathe.md
    ("1/2-13 UNC-2A", 1, "8 tpi", (40, 65, None, None)),
    ("1/2-13 UNC-2A", 3, "8 tpi", (40, 65, 60, 20)),
    ("M5x0.8-6g", 1, "8 tpi", (63, 50, 20, 100)),
    ("M5x0.8-6g", 1, "8 tpi", (20, 80, None, None)),  # 32 threads an inch: -7812.5 ppm, yet four to each of the screw
    ("M5x0.8-6g", 1, "8 tpi", (32, 127, None, None)),
    ("M20x2.5-6g", 1, "8 tpi", (63, 80, None, None)),
    ("M20x2.5-6g", 1, "6 mm", (50, 120, None, None)),
    ("1-8 UNC-2A", 1, "6 mm", (127, 240, None, None)),
    ("1-8 UNC-2A", 2, "6 mm", (90, 85, None, None)),
    ("5/8-11 UNC-2A", 1, "8 tpi", (66, 91, None, None)),
    ("3/4-16 UNF-2A", 2, "4 tpi", (50, 101, None, None)),
)


@pytest.mark.parametrize(("callout", "starts", "screw", "gears"), TRAINS)
def test_the_dial_rule_goes_by_the_gears_in_use(
    demo: Document, callout: str, starts: int, screw: str, gears: tuple[int | None, ...]
) -> None:
    """The lead that the gears really cut, by hand from their teeth; the words of the function with that error."""
    work = standards.read(callout)._replace(starts=starts)
    ratio = gears[0] / gears[1] * (gears[2] / gears[3] if gears[2] else 1)
    number, unit = screw.split()
    own = 25.4 if work.unit == "in" else 1.0
    error = ((25.4 / float(number) if unit == "tpi" else float(number)) * ratio / (work.lead * own) - 1) * 1e6
    assert abs(error) < lathe.ANOTHER_LEAD
    error = 0.0 if abs(error) < 1e-3 else error
    choose(demo, callout, starts=starts, **dict(zip(("use_a_1", "use_b_1", "use_c_1", "use_d_1"), gears)))
    for teeth, lines in ((32, 8), (16, 8), (30, 12)):
        demo.set(screw_and_dial(1, screw, teeth, lines))
        words, may_open, found = demo.get(["lathe_dial_rule_1", "lathe_half_nuts_1", "lathe_lead_error_ppm_1"])
        assert found == pytest.approx(error, abs=1e-6)
        assert words == by_function(work, screw, teeth, lines, found)
        assert bool(may_open) == words.startswith(SHUT_OR_OPEN[1])


def test_gears_of_another_lead_have_no_dial_line(demo: Document) -> None:
    choose(demo, "1/2-13 UNC-2A", use_a_1=20, use_b_1=40)
    assert demo["lathe_dial_rule"] == "these gears cut another lead: first set gears for this one"
    assert demo["lathe_half_nuts"] == ""
    assert demo["estimate_power_used_1"] == ""


def test_trial_cases_of_the_dial(demo: Document) -> None:
    """11 1/2 threads per inch: on 4 tpi with 16 teeth and 8 lines, on 6 tpi with 18 teeth; metric on inch."""
    charts = ["train_a_1", "box_tpi_1"]  # what they list for this lead is not exact
    listed = dict(zip(charts, demo.get(charts)))
    none = {name: [[None]] * len(rows) for name, rows in listed.items()}
    choose(demo, "1-11 1/2 NPT", leadscrew_1=4, dial_a_1=16, dial_lines_1=8, **none)
    opposite, shut = demo.get(["lathe_dial_rule_1", "lathe_dial_rule_2"])
    demo.set(listed)
    assert "at the line you began on or the one opposite: half a turn is 23 threads" in opposite
    assert shut.startswith("keep the half-nuts shut and reverse under power: one turn of the dial is 34 1/2 threads")
    choose(demo, "M20x2.5-6g")
    assert demo["lathe_dial_rule"].startswith("keep the half-nuts shut")
    assert demo["lathe_half_nuts"] is False or demo["lathe_half_nuts"] == 0


def test_of_stacked_dial_gears_the_one_that_serves_is_named(demo: Document) -> None:
    """1.25 mm on a 3 mm screw: 2.4 threads a tooth, so 15 teeth turn in 36 threads and 14 in 33.6."""
    choose(
        demo,
        "M8x1.25-6g",
        "mm",
        leadscrew_1=3,
        leadscrew_unit_1="mm",
        dial_a_1=14,
        dial_b_1=15,
        dial_c_1=16,
        dial_lines_1=6,
        use_a_1=25,
        use_b_1=60,
    )
    words = "with the 15 tooth gear close the half-nuts at the line you began on or every 2nd from it"
    assert demo["lathe_dial_rule_1"] == f"{words} (3 lines of the 6): 2 lines are 12 threads"
    demo.set({"dial_b_1": None})
    assert demo["lathe_dial_rule_1"].startswith("keep the half-nuts shut")
    demo.set({"dial_a_1": None, "dial_c_1": None})
    assert demo["lathe_dial_rule_1"].startswith("no thread dial is given: keep the half-nuts shut")


DIAL_WRONG = "correct the thread dial on the sheet Lathe: its lines, and the teeth of each of its gears"


def test_a_dial_that_is_typed_wrong_is_told_and_not_used(demo: Document) -> None:
    """As above the 15 serves; one gear that is no number keeps the nuts shut, so that none is left out unseen."""
    screw = {"leadscrew_1": 3, "leadscrew_unit_1": "mm", "use_a_1": 25, "use_b_1": 60}
    right = {"dial_a_1": 14, "dial_b_1": 15, "dial_c_1": 16, "dial_lines_1": 6}
    for wrong in ({"dial_a_1": "14/15/16"}, {"dial_c_1": "16 t"}, {"dial_c_1": 16.5}, {"dial_c_1": 301},
                  {"dial_lines_1": "6 lines"}, {"dial_lines_1": None}, {"dial_lines_1": 0}):  # fmt: skip
        choose(demo, "M8x1.25-6g", "mm", **screw, **(right | wrong))
        assert demo["lathe_dial_rule_1"].startswith(DIAL_WRONG), wrong
        assert not demo["lathe_half_nuts_1"], wrong
    choose(demo, "M8x1.25-6g", "mm", **screw, **right)
    assert demo["lathe_dial_rule_1"].startswith("with the 15 tooth gear close the half-nuts")
    choose(demo, "M6x1-6g", "mm", **screw | {"use_b_1": 75}, **(right | {"dial_a_1": "14 t"}))
    assert demo["lathe_dial_rule_1"].startswith("close the half-nuts anywhere")  # no dial is needed


def test_a_gear_typed_as_a_text_is_no_gear_left_out(demo: Document) -> None:
    gears = {"use_a_1": 32, "use_b_1": 64, "use_c_1": 40, "use_d_1": 40}
    choose(demo, "3/4-16 UNF-2A", **gears)
    assert demo["lathe_lead_error_ppm_1"] == 0
    for wrong in ({"use_a_1": "32"}, {"use_c_1": "40"}, {"use_c_1": "40", "use_d_1": "40"},
                  dict.fromkeys(gears, "40")):  # fmt: skip
        choose(demo, "3/4-16 UNF-2A", **(gears | wrong))
        assert demo["lathe_gear_words_1"] == "Gears are whole numbers of teeth."
        assert demo["lathe_lead_error_ppm_1"] in ("", None)


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
    demo: Document, lathe: int, gears: dict[str, object], ratio: str
) -> None:
    """A 2-start thread of 5 to the inch wants 2 1/2: by hand from leadscrew or levers."""
    choose(demo, "1-5 ACME-2G", **gears)
    demo.set({"starts": 2})
    said = demo[f"lathe_gear_words_{lathe}"]
    demo.set({"starts": 1})
    assert said.endswith(f" in, not 0.4000 in: drivers/driven must be {ratio}"), said


def test_levers_exact_nearest_and_none(demo: Document) -> None:
    choose(demo, "3/4-10 UNC-2A")
    assert demo.get(["lathe_gear_words", "lathe_lead_error_ppm"]) == ["levers M1, usual end gears: exact", 0.0]
    choose(demo, "1/8-27 NPT", shelf_1=[[None]] * 40, **dict.fromkeys(("train_a_1", "train_c_1"), [[None]] * 60))
    words, error = demo.get(["lathe_gear_words", "lathe_lead_error_ppm"])
    assert words.startswith("no position gives it; the nearest is H4, usual end gears: cuts a lead of 0.0357 in")
    assert error == pytest.approx((27 / 28 - 1) * 1e6)
    demo.set({name: [[None]] * 60 for name in ("box_tpi_1", "box_pitch_1")})
    assert demo["lathe_gear_words"].startswith("No lever position and no gears are listed")
    assert demo["lathe_lead_error_ppm"] in ("", None)


def test_the_chart_of_gears_is_looked_up_by_lead(demo: Document) -> None:
    """M16x2: 63 stands in for 127 on the inch screw, 1 in 8000 off; the old lathe has a 127."""
    choose(demo, "M16x2-6g", "mm", thread_length=40)
    first, second = demo.get(["lathe_gear_words_1", "lathe_gear_words_2"])
    assert first == "levers M6, gears 63/50: lead error +125 ppm, +0.0050 mm over the thread"
    assert second == "gears 60/127: exact"
    assert demo.get(["lathe_lead_error_ppm_1", "lathe_lead_error_ppm_2"]) == [pytest.approx(125.0), 0.0]


def test_published_trains_typed_as_gears_in_use(demo: Document) -> None:
    """Printed trains cut the leads that are printed with them."""
    printed = {row["setup"]: row for row in rows("change_gear_examples")}
    choose(demo, "5/8-11 UNC-2A", leadscrew_1=4, use_a_1=48, use_b_1=66, use_c_1=18, use_d_1=36)
    assert printed["compound train on 4 tpi leadscrew"]["note"] == "66/48 x 36/18 x 4 = 11 tpi"
    assert demo["lathe_lead_error_ppm_1"] == 0
    demo.set({**choice("1 3/4-5 UNC-2A"), "leadscrew_1": 2, "use_a_1": 40, "use_b_1": 100, "use_c_1": None})
    assert demo["lathe_gear_words_1"].startswith("Type both gears")
    demo.set({"use_d_1": None})
    assert printed["5 tpi with 2 tpi leadscrew"]["note"].endswith("gears 40 -> 100")
    assert demo.get(["lathe_lead_error_ppm_1", "cut_lead_1"]) == [0, pytest.approx(25.4 / 5)]
    for callout, levers, gears, setup in (
        ("M16x2-6g", "M7", (17, 12, None, None), "12/17 x 18 tpi = 12.706 tpi"),
        ("M20x2.5-6g", "M4", (16, 12, 30, 29), "12/16 x 29/30 x 14 = 10.15 tpi"),
    ):
        choose(demo, callout, **dict(zip(("use_a_1", "use_b_1", "use_c_1", "use_d_1"), gears)), use_levers_1=levers)
        digits = printed[setup]["recomputed"].removeprefix("recomputed ")
        assert f"{demo['cut_lead_1']:.{len(digits.partition('.')[2])}f}" == digits
        assert demo["lathe_lead_error_ppm_1"] == pytest.approx(
            (float(digits) / standards.read(callout).lead - 1) * 1e6, abs=3
        )


def test_gears_in_use_are_checked(demo: Document) -> None:
    """Idlers by hand of the thread, the quadrant, the shafts, the shelf."""
    choose(demo, "3/4-16 UNF-2A", feed_reverse_1="idler gear", use_a_1=20, use_b_1=40, use_levers_1="M1")
    end = " Power off and locked before gears are handled."
    words = "Right hand: an idler. Idler of 25 to 90 teeth. The shelf list has too few of gear 20."
    assert demo["lathe_train_words"] == words + end
    demo.set({"hand": "left"})
    words, reverse = demo.get(["lathe_train_words", "lathe_reverse_words"])
    assert words.startswith("Left hand: two idlers. Idler of 25 to 90 teeth together.")  # 60 alone do not reach 110
    assert reverse.startswith("LEFT HAND: the carriage must go away from the headstock. One idler more or less")
    demo.set({"quadrant_min_1": 50})
    assert demo["lathe_train_words"].startswith("Left hand: two idlers, or none. Idler of 24 to 90 teeth together.")
    demo.set({"quadrant_max_1": 100})
    assert demo["lathe_train_words"].startswith("Left hand: no idler. The shelf")
    demo.set({"quadrant_min_1": 110, "quadrant_max_1": 240})
    demo.set({"hand": "right", "use_a_1": 24, "use_b_1": 30, "use_c_1": 63, "use_d_1": 72})
    assert "no idler. Gear 63 runs into the shaft of 24." in demo["lathe_train_words"]
    demo.set({"quadrant_max_1": 150})
    assert "Does not fit: 189 teeth where the quadrant takes 110 to 150." in demo["lathe_train_words"]
    demo.set({"use_levers_1": "Z9"})
    assert demo["lathe_gear_words"] == "The levers Z9 are not in the lever chart."


def test_half_a_tooth_is_no_gear_and_a_day_no_length_of_thread(demo: Document) -> None:
    """40.5 / 80 would be 1.25 % off; over 46089 in, which a typed 3/8 makes, 46 in: over one diameter .0007 in."""
    choose(demo, "3/4-16 UNF-2A", use_a_1=40.5, use_b_1=80)
    assert demo["lathe_gear_words"] == "Gears are whole numbers of teeth."
    assert demo["lathe_lead_error_ppm"] == ""
    demo.set({"use_a_1": 40})
    assert demo["lathe_gear_words"].endswith("gears 40/80: exact")
    demo.set({"use_a_1": 1001, "use_b_1": 2000, "thread_length": 46089})
    assert demo["lathe_gear_words"].endswith("lead error +1000 ppm, +0.00075 in over one diameter")
    demo.set({"thread_length": 2})
    assert demo["lathe_gear_words"].endswith("lead error +1000 ppm, +0.00200 in over the thread")


def test_speed_and_its_words(demo: Document) -> None:
    """5/8-18 with .090 usable relief, 40 ft/min and .25 s: 389 by relief, 244 by speed."""
    choose(demo, "5/8-18 UNF-2A")
    assert [round(value) for value in demo.get(["rpm_by_relief", "rpm_by_speed", "rpm_lower"])] == [389, 244, 244]
    assert demo.get(["rpm_listed", "rpm_listed_2", "lathe_relief_words"]) == [175, 200, ""]
    assert demo["lathe_rpm_words"].startswith("Cutting speed governs: 244 rpm. Relief allows 389.")
    demo.set({"usable_relief": 0.01})
    rpm, words, advice = demo.get(["rpm_listed", "lathe_rpm_words", "lathe_relief_words"])
    assert rpm in ("", None)
    assert words.startswith("Relief governs: 43 rpm.")
    assert "no speed that slow: its slowest is 45" in words
    assert "away from the shoulder" in advice
    assert advice.endswith("Mind the screwed-on chuck in reverse.")
    demo.set({"lathe_in_use": 2})
    assert demo.get(["rpm_listed", "lathe_chuck_words"]) == [28, ""]
    choose(
        demo, "M20x2.5-6g", "mm", surface_speed=10, surface_speed_unit="m/min", usable_relief=None, reaction_spread=None
    )  # fmt: skip
    assert demo["rpm_by_speed"] == pytest.approx(10 * 1000 / (3.14159265 * 20), rel=1e-6)
    assert "No relief given" in demo["lathe_rpm_words"]


@pytest.mark.parametrize("callout", ["5/8-18 UNF-2A", "M20x2.5-6g"])
@pytest.mark.parametrize(("speed", "of"), [(40, "ft/min"), (12, "m/min")])
def test_a_cutting_speed_is_never_read_in_another_unit(demo: Document, callout: str, speed: float, of: str) -> None:
    """By hand: v over the circumference, a foot being 304.8 mm; in both working units, and by the function."""
    work = standards.read(callout)
    across = work.diameter * (25.4 if work.unit == "in" else 1)
    rpm = speed * {"ft/min": 304.8, "m/min": 1000}[of] / (3.141592653589793 * across)
    nothing = {"usable_relief": None, "reaction_spread": None}
    for unit in ("in", "mm", "in"):
        choose(demo, callout, unit, surface_speed=speed, surface_speed_unit=of, **nothing)
        assert demo["rpm_by_speed"] == pytest.approx(rpm, rel=1e-12)
    assert evaluate("THREAD_RPM", callout, f"{speed} {of}")[0][0] == pytest.approx(rpm, rel=1e-12)
    demo.set({"surface_speed_unit": None})
    assert demo.get(["rpm_lower", "rpm_listed"]) == ["", ""]
    assert demo["lathe_rpm_words"] == "Choose the unit of the cutting speed beside it, ft/min or m/min."


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"reaction_spread": None}, "Relief is given without reaction: type the reaction spread too"),
        ({"usable_relief": None}, "Reaction is given without relief: type the usable relief too"),
        ({"usable_relief": "wide"}, "The usable relief is a length, a number more than zero, 20000 at most."),
        ({"usable_relief": 0}, "The usable relief is a length, a number more than zero, 20000 at most."),
        ({"usable_relief": -0.09}, "The usable relief is a length, a number more than zero, 20000 at most."),
        ({"reaction_spread": "quick"}, "The reaction spread is a number of seconds"),
        ({"reaction_spread": 0}, "The reaction spread is a number of seconds, more than zero, a billion at most."),
        ({"reaction_spread": -0.25}, "The reaction spread is a number of seconds, more than zero, a billion at most."),
        ({"surface_speed": None}, "Type the cutting speed on the sheet Lathe."),
        (
            {"surface_speed": "40 ft/min"},
            "The cutting speed is a number more than zero, a billion at most; its unit stands beside it.",
        ),
        (
            {"surface_speed": -40},
            "The cutting speed is a number more than zero, a billion at most; its unit stands beside it.",
        ),
    ],
)
def test_what_is_missing_or_wrong_of_the_speed_is_said_and_no_speed_shown(
    demo: Document, typed: dict[str, Any], sentence: str
) -> None:
    choose(demo, "5/8-18 UNF-2A", estimate_rpm_1=None)
    assert demo["rpm_listed"] == 175
    demo.set(typed)
    assert demo["lathe_rpm_words"].startswith(sentence)
    assert demo.get(["rpm_listed", "rpm_listed_1", "rpm_listed_2", "rpm_lower", "estimate_rpm_used_1"]) == [""] * 5
    assert sentence in demo["speed_words"]
    good = {"surface_speed": 40, "usable_relief": 0.09, "reaction_spread": 0.25} | typed
    cells = [None if good[name] is None else good[name] for name in good]
    if typed.get("surface_speed", 40) not in (
        "40 ft/min",
        None,
    ):  # with its unit the function takes it; blank in, blank out
        with pytest.raises(CellError):
            evaluate("THREAD_RPM", "5/8-18 UNF-2A", *cells)


def test_the_chuck_is_told_unless_it_can_not_come_off(demo: Document) -> None:
    choose(demo, "M20x2.5-6g")
    for mounting, told in (("screwed on", True), (None, True), ("cam lock", False), ("bolted", False)):
        demo.set({"chuck_mount_1": mounting})
        words, on_setup = demo.get(["lathe_chuck_words", "reverse_words"])
        assert ("screwed" in words.lower()) == told
        assert ("screwed" in on_setup.lower()) == told


def test_dials_and_feeds_follow_the_working_unit(demo: Document) -> None:
    choose(demo, "M20x2.5-6g", "mm", turning_feed=0.2)
    names = ["compound_division", "cross_division", "cross_reads", "lathe_feed_words"]
    assert demo.get(names) == [
        pytest.approx(0.0254), pytest.approx(0.0254), "diameter",
        "levers M5: 0.193 mm a turn, the next listed at or under 0.200.",
    ]  # fmt: skip
    demo.set({"compound_dial_reads_1": "diameter"})
    assert demo["compound_division"] == pytest.approx(0.0127)
    demo.set({"lathe_in_use": 2})
    assert demo["lathe_feed_words"] == "No feeds are listed for this lathe."


def test_nothing_typed_gives_sentences_and_no_error(demo: Document) -> None:
    demo.set(filled({"lathe_in_use": 1}))
    results = [entry.name for entry in named() if entry.role != "input"]
    for callout in ("3/4-16 UNF-2A", None):
        demo.set(choice(callout) if callout else {"thread_size": None})
        for name, value in zip(results, demo.get(results)):
            cells = [cell for row in value for cell in row] if isinstance(value, list) else [value]
            assert not [cell for cell in cells if isinstance(cell, Error)], name
        assert demo["lathe_half_nuts"] in ("", None)
    choose(demo, "3/4-16 UNF-2A")
    assert demo["lathe_gear_words"] == "This lathe is not described yet: type its leadscrew on the sheet Lathe."
    demo.set(filled({**BOTH, **dict.fromkeys(("leadscrew_1", "dial_a_1", "dial_lines_1", "use_a_1"), "eight")}))
    found = demo.get(results)
    assert not [name for name, value in zip(results, found) if isinstance(value, Error)]


def test_no_word_of_the_sheet_promises_safety() -> None:
    sheet = plain_book().workbook[lathe_sheet.SHEET]
    texts = [str(cell.value).lower() for row in sheet.iter_rows() for cell in row if cell.value is not None]
    assert not [text for text in texts if "safe" in text]


def test_a_new_workbook_says_the_unit_of_the_cutting_speed(built: Mapping[str, Path]) -> None:
    """Typed at the build, for the working unit: no formula that would follow it."""
    ref = inputs()["surface_speed_unit"]
    for name, unit in (("new.xlsx", "m/min"), ("demo.xlsx", "ft/min")):
        assert load_workbook(built[name])[lathe_sheet.SHEET][ref].value == unit


@pytest.mark.parametrize("in_use", [1, 2])
def test_the_charts_of_the_lathe_in_use_are_printed(in_use: int) -> None:
    """And those of the other one are not."""
    book = build(values={**BOTH, "lathe_in_use": in_use})
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
    assert all(len(one.chart) <= lathe_toml.CHART_ROWS == lathe_charts.ROWS for one in demo_lathe.lathes())
    assert lathe_toml.LIST_ROWS == lathe_charts.SHELF_ROWS
