"""The sentences of the sheet Setup that follow the thread: against the rules of lathe work and arithmetic by hand."""

from __future__ import annotations

from math import atan, degrees, pi
from pathlib import Path

import pytest
from whole_books import plain_pages, with_few_threads
from workbook_cases import Case

from sheetfuncs import standards
from workbook_template.file import store
from workbook_template.office import Document, Office
from workbook_template.sheets import cautions, diagnosis, instructions

USUAL = {"tip_kind": "nose radius", "tip_size": 0.003, "aim_limit": "mid", "passes": 8, "dial_division": 0.001}


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


def usual(sheet: Document, thread: str, **inputs: object) -> None:
    sheet.set(Case(standards.read(thread), "in", USUAL | inputs).sheet())


# Right hand outside: compound to the right, left hand outside: to the left, inside the other way round, as courses and
# army and navy manuals teach (docs/setup.md). Worked there from the motions: the leading edge has to cut.
DIRECTIONS = (
    ("3/4-16 UNF-2A", "toward the headstock", "tailstock (swung to the right)", "away from you", "headstock"),
    ("3/4-16 UNF-2A-LH", "AWAY from the headstock", "headstock (swung to the left)", "away from you", "tailstock"),
    ("3/4-16 UNF-2B", "toward the headstock", "headstock (swung to the left)", "toward you", "headstock"),
    ("3/4-16 UNF-2B-LH", "AWAY from the headstock", "tailstock (swung to the right)", "toward you", "tailstock"),
)


@pytest.mark.parametrize(("thread", "carriage", "handle", "feed", "leading"), DIRECTIONS)
def test_directions(sheet: Document, thread: str, carriage: str, handle: str, feed: str, leading: str) -> None:
    usual(sheet, thread)
    moves, compound, tool = sheet.get(["carriage_words", "compound_words", "clearance_words"])
    assert moves.startswith(f"Moves {carriage}, spindle forward")
    assert f"29.5 degrees from straight in, handle end toward the {handle}; feed with it {feed}" in compound
    assert compound.endswith("shows 60.5.")
    assert tool.startswith(f"Side toward the {leading} (it leads)")
    assert ("leadscrew reversed" in moves) == thread.endswith("LH")


def motion(hand: str, side: str) -> tuple[int, int]:
    """Which way the tool must go along the axis (+1 to the headstock) and across (+1 away from the operator)."""
    return (1 if hand == "right" else -1), (1 if side == "external" else -1)


@pytest.mark.parametrize(("thread", "carriage", "handle", "feed", "leading"), DIRECTIONS)
def test_the_swing_feeds_toward_the_leading_edge(
    thread: str, carriage: str, handle: str, feed: str, leading: str
) -> None:
    """Fed away from the operator the slide runs from its handle's end, so to the other end of the lathe."""
    read = standards.read(thread)
    along, across = motion("left" if read.left_hand else "right", read.side)
    away = feed == "away from you"
    handle_at = 1 if handle.startswith("headstock") else -1
    assert across == (1 if away else -1)
    assert along == (-handle_at if away else handle_at)


# ANSI B1.9-1973: of the pull type the 45 degree flank leads on the way to the headstock, and the 7 degree one trails. A
# push type has them the other way round; a left-hand one is cut the other way. The slide runs along the 7 degree flank:
# out of a groove whose steep wall is on the tailstock's side it goes to that side.
STEEP_WALL = (
    ("2.5-8 BUTT-2A", "tailstock", "leading"),
    ("2.5-8 BUTT-2A-LH", "tailstock", "trailing"),
    ("2.5-8 PUSH-BUTT-2A", "headstock", "trailing"),
    ("2.5-8 PUSH-BUTT-2A-LH", "headstock", "leading"),
    ("2.5-8 BUTT-2B", "headstock", "leading"),
    ("2.5-8 BUTT-2B-LH", "headstock", "trailing"),
)


def test_the_slide_runs_along_the_steep_flank(office: Office, tmp_path: Path) -> None:
    path = tmp_path / "buttress.xlsx"
    path.write_bytes(store.package(with_few_threads([standards.read(thread) for thread, *_ in STEEP_WALL])))
    with office.open(path) as sheet:
        for thread, handle, cuts in STEEP_WALL:
            usual(sheet, thread, tip_size=0.009)
            words, drawn = sheet.get(["compound_words", "flank_headstock"])
            assert f"6.5 degrees from straight in, handle end toward the {handle} (swung" in words, thread
            assert f". The {cuts} edge then cuts, the other only cleans." in words, thread
            assert drawn == (7 if "PUSH" in thread else 45), thread
            sheet.set({"compound_angle": 29.5})  # it steps the 7 degree flank
            assert sheet["plan_words"] == (
                "Use a compound angle of 0 (straight in) to 7 degrees; more would cut steps into the 7 degree flank, "
                "along which the slide runs. Swung the other way, along the 45 degree flank, it would not up to 45, "
                "but no passes are planned for that."
            )
            sheet.set({"compound_angle": 46})
            assert sheet["plan_words"].endswith("to 7 degrees; more would cut a stepped flank.")


def test_side_clearance_by_hand(sheet: Document) -> None:
    """Two-start 1-5 Acme, lead .4: lead angle by its tangent at each diameter; three degrees more, as practice."""
    usual(sheet, "1-0.2P-0.4L ACME-2G", tip_kind="flat", tip_size=0.068, blank_measured=1.0, compound_angle=None)
    aimed, infeed = sheet.get(["pitch_diameter_aimed", "depth"])
    root = 1.0 - 2 * infeed
    wanted = [degrees(atan(0.4 / (pi * size))) for size in (aimed, root, 1.0)]
    assert sheet.get(["lead_angle", "lead_angle_root", "lead_angle_crest"]) == pytest.approx(wanted, abs=1e-9)
    found = sheet.get(["clearance_leading", "clearance_trailing"])
    assert found == pytest.approx([wanted[1] + 3, 3 - wanted[2]], abs=1e-9)
    assert "other side: none needed, upright" in sheet["clearance_words"]
    assert "the 3 degrees beyond it are usual practice" in sheet["clearance_words"]
    assert instructions.WORKING_CLEARANCE == 3


@pytest.mark.parametrize(("starts", "turned"), [(2, "180"), (3, "120"), (4, "90")])
def test_next_start(sheet: Document, starts: int, turned: str) -> None:
    thread = standards.read("1-5 ACME-2G")._replace(starts=starts)
    inputs = USUAL | {"tip_kind": "flat", "tip_size": 0.068, "compound_angle": None}
    sheet.set(Case(thread, "in", inputs).sheet())
    label, words = sheet.get(["each_label", "each_words"])
    assert label == "Next start"
    assert f"turn the work {turned} degrees" in words
    assert "advance it one pitch, 0.2000 (200 div.)" in words
    assert f"power off and locked, slip the spindle-side gear by 1/{starts} of its teeth" in words
    assert f"(their number must divide by {starts}), if it turns as the spindle does." in words  # some studs do not


@pytest.mark.parametrize(
    ("thread", "unit", "words"),
    [
        ("M5x0.8-6g", "mm", "Gear for a lead of 0.800 mm."),
        ("M5x0.8-6g", "in", "Gear for a lead of 0.800 mm."),
        ("1/2-13 UNC-2A", "mm", "Gear for 13 threads per inch, lead 1.954 mm."),  # 25.4 / 13
        ("1-11 1/2 NPT external", "in", "Gear for 11 1/2 threads per inch, lead 0.0870 in."),
        ("G 1/4 A", "mm", "Gear for 19 threads per inch, lead 1.337 mm."),  # ISO 228-1 counts by the inch
    ],
)
def test_what_to_gear_for_is_said_as_the_thread_is_named(sheet: Document, thread: str, unit: str, words: str) -> None:
    usual(sheet, thread)
    sheet.set({"unit": unit})
    assert sheet["gear_words"] == words
    sheet.set({"unit": "in"})


def test_single_start_says_what_to_do_every_pass(sheet: Document) -> None:
    usual(sheet, "3/4-16 UNF-2A")
    label, words = sheet.get(["each_label", "each_words"])
    assert label == "Each pass"
    assert words.startswith("Touch the blank, set compound and cross-slide dials to zero.")


def test_diagnosis_shows_the_figures_of_the_job(sheet: Document) -> None:
    usual(sheet, "3/4-16 UNF-2A", tip_size=0.008, blank_measured=0.744, compound_angle=29.5, wire_in_use=0.0361)
    found = {key: sheet[f"check_{key}_words"] for key, _, _ in diagnosis.ROWS}
    assert [sheet[f"check_{key}_seen"] for key, _, _ in diagnosis.ROWS] == [seen for _, seen, _ in diagnosis.ROWS]
    assert "Major diameter over its limit (0.7485)" in found["ring"]  # ASME B1.1-2003, Table 2A
    assert "over 0.7982 in they do" in found["crest"]  # by hand: .744 + .0361 x 1.5
    assert "change it by 0.0017 in" in found["amount"]  # by hand: 2 x .001 x cos 29.5
    assert "ten turns are 0.6250 in" in found["binds"]
    usual(sheet, "3/4-16 UNF-2B", blank_measured=None)
    assert "Bore under its limit (0.6820)" in sheet["check_ring_words"]  # ASME B1.1-2003, Table 2B
    seen = {key: sheet[f"check_{key}_seen"] for key in diagnosis.INSIDE}
    assert seen == {key: title for key, (title, _) in diagnosis.INSIDE.items()}
    assert "ires" not in " ".join(sheet[f"check_{key}_words"] for key in diagnosis.INSIDE)  # there are none in a bore


def test_cautions_and_boxes_are_on_the_card() -> None:
    page = plain_pages().workbook["Card"]
    assert page.print_area.replace("$", "").split("!")[-1] == f"A2:L{page.max_row}"
    texts = [str(cell.value) for row in page.iter_rows() for cell in row if cell.value is not None]
    for caution in cautions.CAUTIONS:
        assert any(caution in text for text in texts)
    assert {"Set up by", "First piece checked by", "Date"} <= set(texts)
    said = " ".join(cautions.CAUTIONS).lower()
    for word in ("eye protection", "gloves", "rings", "sleeves", "hair", "chuck key", "abrasive cloth", "measuring",
                 "chips", "hook", "guards", "local rules", "manual"):  # fmt: skip
        assert word in said
    assert "safe" not in " ".join(texts).lower()


def test_a_taper_thread_tells_of_its_taper(sheet: Document) -> None:
    """1 in 16 on the diameter (ASME B1.20.1); the tool stands square to the axis."""
    usual(sheet, "1-11 1/2 NPT external")
    assert sheet["clearance_words"].startswith("Taper 1 in 16, half angle 1°47': tool square to the axis")
    assert "square to the axis, not to the cone" in sheet["clearance_words"]
    usual(sheet, "3/4-16 UNF-2A")
    assert "Taper" not in sheet["clearance_words"]


def lathe(sheet: Document, **more: object) -> None:
    """A lathe of 8 threads per inch with a dial of 32 teeth and 8 lines, geared 1 to 2 for 16 threads per inch."""
    speeds = [[speed] for speed in (60, 110, 175)] + [[None]] * 37
    described = {"leadscrew_1": 8, "leadscrew_unit_1": "tpi", "dial_a_1": 32, "dial_lines_1": 8, "use_a_1": 20,
                 "use_b_1": 40, "spindle_speeds_1": speeds, "surface_speed": 40, "usable_relief": 0.3,
                 "reaction_spread": 0.25}  # fmt: skip
    sheet.set(described | more)


def test_short_relief_is_told_by_the_hand(sheet: Document) -> None:
    """A left-hand thread already cuts away from the shoulder; a right-hand one turned round flips all the rest."""
    lathe(sheet, usable_relief=0.005, reaction_spread=0.5)
    usual(sheet, "3/4-16 UNF-2A")
    assert "start, compound and clearances are then the other way round" in sheet["speed_words"]
    usual(sheet, "3/4-16 UNF-2A-LH")
    assert "It cuts away from the shoulder already" in sheet["speed_words"]
    assert "spindle in reverse, tool upside down" not in sheet["speed_words"]


def test_the_next_start_is_told_in_lines_of_the_dial(sheet: Document) -> None:
    """1-0.2P-0.4L: 2 lines of 4 teeth are 8 threads of the screw, 1.000 in, 5 pitches: one start on."""
    lathe(sheet, use_a_1=64, use_b_1=20)
    usual(sheet, "1-5 ACME-2G", starts=2, tip_kind="flat", tip_size=0.07, compound_angle=14)
    sheet.set({"starts": 2})
    assert "Or close the half-nuts 2 lines of the dial further on." in sheet["each_words"]
    sheet.set({"dial_lines_1": 4})
    assert "Or close the half-nuts 1 line of the dial further on." in sheet["each_words"]
    sheet.set({"dial_lines_1": 8, "use_a_1": 63})  # 1.6 % off: another lead; 639/200 is 0.16 % off
    assert "half-nuts" not in sheet["each_words"].partition("driving plate")[2]
    sheet.set({"use_a_1": 639, "use_b_1": 200})
    assert "lines of the dial" not in sheet["each_words"]
    # 1-.125P-.25L, dial of 24 teeth: 1 thread of the screw is a pitch, but no line; 3 are a line, .375 in, 1 1/2 leads
    lathe(sheet, use_a_1=40, use_b_1=20, dial_a_1=24)
    usual(sheet, "1-8 UNC-2A", starts=2)
    assert "every 2nd from it (4 lines of the 8): 2 lines are 3 leads" in sheet["card_half_nuts"]
    assert "Or close the half-nuts 1 line of the dial further on." in sheet["each_words"]


def test_a_lead_error_over_the_tolerance_is_told_on_setup(sheet: Document) -> None:
    """20/39 for 20/40 is 2.6 % off: another lead; 39/79 for 1/2 is 1.27 % off; 77/155 0.65 %: .0084 of .0050."""
    lathe(sheet, use_a_1=77, use_b_1=155)
    usual(sheet, "3/4-16 UNF-2A")
    assert "The lead error takes more than the whole tolerance" in sheet["gears_words"]
    lathe(sheet)
    assert "takes more" not in sheet["gears_words"]


def test_a_dial_that_shows_something_else_is_told(sheet: Document) -> None:
    dial = {"dial_unit_1": "mm", "compound_dial_1": 0.05, "compound_dial_reads_1": "diameter"}
    lathe(sheet, **dial)
    usual(sheet, "3/4-16 UNF-2A", dial_division=None)
    said = sheet["each_words"]
    assert said.startswith("The readings of the plan are what the dial of the compound shows, in mm on the diameter. ")
    sheet.set(dict.fromkeys(dial))


@pytest.mark.parametrize("compound", ["radius", "diameter", None])
@pytest.mark.parametrize("cross", ["radius", "diameter", None])
def test_a_depth_fed_by_the_cross_slide_is_the_same_whatever_the_dials_read(
    sheet: Document, compound: str | None, cross: str | None
) -> None:
    """The last reading of the plan, as the words have it on that dial, is the travel of the slide, or twice that."""
    dials = {"dial_unit_1": "in", "compound_dial_1": 0.001, "cross_dial_1": 0.001}
    lathe(sheet, **dials, use_a_1=64, use_b_1=20, compound_dial_reads_1=compound, cross_dial_reads_1=cross)
    usual(
        sheet,
        "1-5 ACME-2G",
        starts=2,
        tip_kind="flat",
        tip_size=0.07,
        compound_angle=0,
        dial_division=None,
        pass_rule="equal area",
    )
    sheet.set({"starts": 2})
    said, travel = sheet.get(["each_words", "depth"])
    last = max(float(reads) for number, _, reads, *_ in sheet["plan_page"] if isinstance(number, float))
    half, twice = "; its dial shows half the readings", "; its dial shows twice the readings"
    on_the_dial = last * (0.5 if half in said else 2 if twice in said else 1)
    assert "the readings." in said
    assert on_the_dial == pytest.approx((2 if cross == "diameter" else 1) * travel, abs=0.0021)
    sheet.set(dict.fromkeys((*dials, "compound_dial_reads_1", "cross_dial_reads_1")))


@pytest.mark.parametrize("thread", [thread for thread, *_ in DIRECTIONS])
def test_half_nuts_that_stay_shut_are_told_with_every_hand_and_side(sheet: Document, thread: str) -> None:
    """The spindle runs on once it is stopped; back in reverse a left-hand thread leads to the chuck, or the bottom."""
    lathe(sheet)
    usual(sheet, thread)
    assert "runs on" not in sheet["carriage_words"]
    lathe(sheet, leadscrew_1=8, leadscrew_unit_1="mm", use_a_1=25, use_b_1=126)  # 1.587 mm by a metric screw
    usual(sheet, thread)
    assert sheet["half_nuts_words"].startswith("keep the half-nuts shut")
    said = sheet["carriage_words"]
    assert "runs on" in said
    assert "stay shut" in said
    assert "in reverse" in said
    assert ("stop well before" in said) == thread.endswith("LH")


@pytest.mark.parametrize("thread", [thread for thread, *_ in DIRECTIONS])
def test_half_nuts_are_not_told_to_be_opened_where_no_line_is_known(sheet: Document, thread: str) -> None:
    """Without a lathe, or with gears for another lead, nothing says that a line comes round: opened, they are lost."""
    told = ["carriage_words", "half_nuts_words", "gears_words"]
    lathe(sheet)
    usual(sheet, thread)
    assert "stay shut" not in sheet["carriage_words"]
    sheet.set({"use_a_1": 20, "use_b_1": 60})
    carriage, nuts, _ = sheet.get(told)
    assert nuts == "these gears cut another lead: first set gears for this one"
    assert "stay shut" in carriage
    assert "open the half-nuts" not in carriage
    lathe(sheet, leadscrew_1=None, use_a_1=None, use_b_1=None)
    carriage, nuts, gears = sheet.get(told)
    assert nuts.startswith("No dial described: keep them shut and reverse under power, or go by the dial chart")
    assert gears.startswith("By the chart of the lathe, for a lead of 0.0625 in. Power off and locked")
    assert "First a scratch pass" in gears
    assert "stay shut" in carriage
    assert "open the half-nuts" not in carriage
    assert "screwed-on chuck can come off" in sheet["reverse_words"]
    lathe(sheet)


def test_a_thread_that_is_there_gets_no_scratch_pass(sheet: Document) -> None:
    usual(sheet, "3/4-16 UNF-2A")
    assert "First a scratch pass" in sheet["gears_words"]
    sheet.set({"thread_exists": "yes", "existing_reading": 0.78})
    assert "scratch" not in sheet["gears_words"]
    assert "First along the groove, tool clear of it: 16 threads = 1.0000 in." in sheet["gears_words"]
    sheet.set({"thread_exists": None, "existing_reading": None})
