"""What can't be passed over on Setup: another thread's blank and ticks, a heavy cut, a lathe of another lead."""

from __future__ import annotations

import pytest
from workbook_cases import Case, first_cells

from sheetfuncs import evaluate, standards
from sheetfuncs.passes import first_pass_most, usual_passes
from workbook_template.office import Document

USUAL = {
    "tip_kind": "nose radius", "tip_size": 0.008, "blank_measured": 0.744, "aim_limit": "mid", "passes": 10,
    "pass_rule": "equal area", "wire_in_use": 0.0361,
}  # fmt: skip
METRIC = {"tip_size": 0.2, "blank_measured": 19.8, "wire_in_use": 1.4434}
TRIED = ("M1.6-6g", "M5-6g", "M10-6g", "M16-6H", "1-8 UNC-2A", "3-4 UNC-2B", "1-5 ACME-2G", "Tr40x7-7e", "Tr10x2-7e")
DONE = "All is filled in but the sheet Lathe. Check each input against the machine."


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


def set_up(sheet: Document, thread: str = "3/4-16 UNF-2A", unit: str = "in", **inputs: object) -> None:
    sheet.set(Case(standards.read(thread), unit, USUAL | inputs).sheet())


def column(sheet: Document, name: str) -> list[float]:
    return [row[0] for row in sheet[name] if isinstance(row[0], float)]


def test_the_blank_of_another_thread_gives_no_infeed(sheet: Document) -> None:
    """5/8-18 on the blank of 3/4-16: the largest blank is .6236 (ASME B1.1-2003, Table 2A)."""
    set_up(sheet)
    assert sheet["next_step"] == DONE
    sheet.set({"thread_size": "5/8-18 UNF"})
    said = "The blank 0.7440 is over its largest size by 0.1204: made for another thread? Check size and unit."
    assert sheet["next_step"] == sheet["sharp_words"] == sheet["plan_words"] == said
    assert sheet.get(["depth", "compound_travel", "depth_sharp", "depth_flat"]) == ["–", "–", "", ""]
    assert column(sheet, "plan_compound_reading") == []
    set_up(sheet, "3/4-16 UNF-2B", blank_measured=0.72)
    said = "The bore 0.7200 is above the pitch diameter aimed at, 0.7127: this thread can't be cut on it."
    assert sheet["next_step"] == said


def test_a_tip_or_division_of_the_other_unit_is_asked_about(sheet: Document) -> None:
    """A nose of .008 in, typed so in a job of millimetres, would be fed .195 mm too deep: .203 less .008."""
    set_up(sheet, "M20x2.5-6g", "mm", **METRIC | {"tip_size": 0.008, "dial_division": 0.001})
    assert sheet.get(["tip_size_words", "dial_words"]) == ["its radius, in mm?", "in mm?"]
    deep = sheet["depth"]
    sheet.set({"tip_size": 0.2032, "dial_division": 0.02})
    assert sheet.get(["tip_size_words", "dial_words"]) == ["its radius", ""]
    assert deep - sheet["depth"] == pytest.approx(0.1952, abs=1e-9)
    sheet.set({"tip_size": 0.029, "dial_division": 0.005})  # .029 in is 0.74 mm, more than this thread takes
    assert sheet.get(["tip_size_words", "dial_words"]) == ["its radius", ""]
    sheet.set({"tip_kind": "flat", "tip_size": 0.012})
    assert sheet["tip_size_words"] == "width of its flat, in mm?"
    set_up(sheet, dial_division=0.02)
    assert sheet.get(["tip_size_words", "dial_words"]) == ["its radius", "in inches?"]
    sheet.set({"dial_division": None})


def test_a_blank_that_was_not_measured_is_marked(sheet: Document) -> None:
    set_up(sheet, blank_measured=None)
    assert sheet["next_step"] == "BLANK NOT MEASURED: the middle of its limits is used. Measure the blank."
    assert sheet["depth_head"] == "Feed in, BLANK NOT MEASURED"
    assert round(sheet["depth"], 4) == 0.0383  # half a .0001 less than with .7440: the middle is .7438
    sheet.set({"blank_measured": 0.744})
    assert sheet["depth_head"] == "Feed in on the radius"


def test_a_tick_is_for_its_thread_and_shows_as_old_for_any_other(sheet: Document) -> None:
    set_up(sheet)
    sheet.set({first_cells("plan_done", 2): [["3/4-16 UNF-2A"]] * 2})
    assert (sheet["ticks_old"], sheet["next_step"]) == (0, DONE)
    assert sheet.shown([first_cells("plan_done", 1).split(":")[0]]) == ["x"]
    sheet.set({"thread_class": "3A"})
    assert sheet["ticks_old"] == 2
    assert sheet["next_step"] == "Ticks of another thread stand in the plan (old): clear them."
    assert sheet["plan_words"].startswith("CLEAR THE OLD TICKS: 2 for another thread. 10 passes")
    sheet.set({"thread_class": "2A", first_cells("plan_done_more", 1): [["x"]]})  # pasted over the check of the cell
    assert sheet["ticks_old"] == 1
    sheet.set({first_cells("plan_done", 2): [[None]] * 2, first_cells("plan_done_more", 1): [[None]]})
    assert sheet["next_step"] == DONE


def test_a_lathe_that_cuts_another_lead_gives_no_infeed(sheet: Document) -> None:
    set_up(sheet)
    lathe = {"leadscrew_1": 8, "leadscrew_unit_1": "tpi", "use_a_1": 20, "use_b_1": 40}
    speed = {"surface_speed": 60, "surface_speed_unit": "ft/min", first_cells("spindle_speeds_1", 1): 200}
    assert sheet["next_step"] == DONE
    sheet.set(lathe | dict.fromkeys(("use_a_1", "use_b_1")))
    lacks = "All is filled in but {}, on the sheet Lathe. Check each input against the machine."
    assert sheet["next_step"] == lacks.format("gears and speed")
    sheet.set(lathe)  # 8 threads per inch through 20/40: 16
    assert sheet["next_step"] == lacks.format("the speed")
    sheet.set(speed)
    assert sheet["next_step"] == "All is filled in. Check each input against the machine."
    sheet.set({"use_b_1": 50})  # 20 threads per inch
    assert sheet["next_step"] == "The lathe in use does not cut this lead: see the sheet Lathe."
    assert sheet.get(["depth", "compound_travel"]) == ["–", "–"]
    sheet.set(dict.fromkeys(lathe | speed))
    assert sheet["next_step"] == DONE


def test_the_card_says_what_its_figures_hold_for(sheet: Document) -> None:
    set_up(sheet, dial_division=0.001)
    said = "For this alone: nose radius 0.0080, blank measured 0.7440, wires 0.03610. 1 div. = 0.0010."
    assert sheet["card_worked_for"] == said
    dial = {"dial_unit_1": "mm", "compound_dial_1": 0.02, "compound_dial_reads_1": "diameter"}
    set_up(sheet, dial_division=None)
    sheet.set({"leadscrew_1": 6, "leadscrew_unit_1": "mm", **dial})
    assert sheet["card_worked_for"].endswith("wires 0.03610. 1 div. = 0.02 mm on the dial.")
    first = sheet["card_plan"][1]  # so many divisions of .02 on the diameter are what the dial reads
    assert float(first[3]) == pytest.approx(0.02 * int(str(first[1]).split()[0]), abs=1e-9)
    sheet.set(dict.fromkeys((*dial, "leadscrew_1", "leadscrew_unit_1")))
    set_up(sheet, "M20x2.5-6g", "mm", **METRIC | {"dial_division": 0.0254})
    assert sheet["card_worked_for"].endswith(" 1 div. = 0.0254.")  # 14 of them are .3556 in the plan
    set_up(sheet, tip_kind="sharp", tip_size=None, blank_measured=None, wire_in_use=None, dial_division=None)
    assert sheet["card_worked_for"] == "For this alone: sharp tip, blank NOT MEASURED."
    set_up(sheet, "M20x2.5-6H", "mm", **METRIC | {"blank_measured": 17.5, "wire_in_use": None})
    assert sheet["card_worked_for"] == "For this alone: nose radius 0.200, bore measured 17.500."
    set_up(sheet, tip_size=0.02)  # too blunt: no figures
    assert sheet["card_worked_for"] == ""


def test_the_card_is_not_asked_for_before_there_is_a_plan(sheet: Document) -> None:
    set_up(sheet)
    assert sheet["start_card_state"] == "next"
    for passes in (0, 18.9, 31):
        sheet.set({"passes": passes})
        assert (sheet["start_card_state"], sheet["start_card"]) == ("", "")
    set_up(sheet)


def test_wires_that_do_not_serve_are_named(sheet: Document) -> None:
    set_up(sheet, wire_in_use=0.028)
    assert sheet["next_step"] == "The wire 0.02800 is too small: not proud of the crest."
    set_up(sheet, wire_in_use=None)
    assert sheet["next_step"] == "Next: choose a wire set or enter the wire in use."
    set_up(sheet, "3/4-16 UNF-2B", blank_measured=0.69)
    assert sheet.get(["wire_set_words", "log_wires_used"]) == ["", ""]
    set_up(sheet, aim_limit=None)
    assert sheet.get(["micrometer_preset", "depth"]) == ["–", "–"]


def as_printed(sheet: Document) -> list[list[object]]:
    """The plan as the sheet shows it, heads and rows: pass, turn by, reading, diameter."""
    return [[cell for place, cell in enumerate(row) if place != 3] for row in sheet["plan_page"]]


@pytest.mark.parametrize(
    ("thread", "unit", "passes", "division", "finish", "rule"),
    [
        ("3/4-16 UNF-2A", "in", 10, 0.001, 0.002, "equal area"),
        ("3/4-16 UNF-2A", "in", 10, None, 0.0035, "equal area"),
        ("3/4-16 UNF-2A", "in", 12, 0.002, None, "equal area"),
        ("3/4-16 UNF-2A", "in", 8, 0.001, 0.004, "light first"),
        ("M20x2.5-6g", "mm", 14, 0.02, 0.05, "equal area"),
        ("M20x2.5-6g", "mm", 14, 0.05, None, "light first"),
    ],
)
def test_no_pass_is_more_than_the_one_before_it(
    sheet: Document, thread: str, unit: str, passes: int, division: float | None, finish: float | None, rule: str
) -> None:
    given = METRIC if unit == "mm" else {}
    plan = {"passes": passes, "dial_division": division, "finishing_pass": finish, "pass_rule": rule}
    set_up(sheet, thread, unit, **given, **plan)
    travels, readings = column(sheet, "plan_compound_travel"), column(sheet, "plan_compound_reading")
    first = 1 if rule == "light first" else 0
    assert len(travels) == passes
    assert all(after <= before + 1e-9 for before, after in zip(travels[first:], travels[first + 1 :]))
    assert sum(travels) == pytest.approx(sheet["compound_travel"], abs=(division or 0) / 2 + 1e-9)
    tip = "radius 0.2" if unit == "mm" else "radius 0.008"
    blank = given.get("blank_measured", 0.744)
    rows = evaluate("THREAD_INFEED", thread, tip, passes, None, finish, 0, blank, unit, division, rule)
    assert readings == pytest.approx([row[4] for row in rows[1:]], abs=1e-9)
    if division:
        assert column(sheet, "plan_divisions") == pytest.approx([travel / division for travel in travels])
        assert as_printed(sheet)[1][1] == f"{round(travels[0] / division)} div."


def test_an_inch_dial_on_a_metric_job_is_read_in_inches(sheet: Document) -> None:
    """One division of .001 in is .0254 mm; a dial that counts diameters shows twice as much."""
    set_up(sheet, "M20x2.5-6g", "mm", **METRIC)
    lathe = {"leadscrew_1": 8, "leadscrew_unit_1": "tpi", "dial_unit_1": "in", "compound_dial_1": 0.001}
    sheet.set(lathe | {"compound_dial_reads_1": "radius"})
    steps, readings = column(sheet, "plan_divisions"), column(sheet, "plan_compound_reading")
    assert readings[0] == pytest.approx(steps[0] * 0.0254)
    heads, *rows = as_printed(sheet)
    assert [heads[2], rows[0][1]] == ["dial reads, in", f"{steps[0]:.0f} div."]
    assert [rows[0][2], rows[9][2]] == [f"{steps[0] / 1000:.4f}", f"{sum(steps) / 1000:.4f}"]
    sheet.set({"compound_dial_reads_1": "diameter"})
    steps = column(sheet, "plan_divisions")
    assert sum(steps) * 0.0254 / 2 == pytest.approx(sheet["compound_travel"], abs=0.0064)
    assert as_printed(sheet)[10][2] == f"{sum(steps) / 1000:.4f}"
    sheet.set(dict.fromkeys([*lathe, "compound_dial_reads_1"]))


def test_a_heavy_cut_is_told_by_the_recommended_passes(sheet: Document) -> None:
    set_up(sheet, passes=1)
    assert sheet["plan_words"].startswith("HEAVY: first pass 0.0384 on the radius; 6 to 8 are usual for this pitch. ")
    set_up(sheet, passes=6)
    assert sheet["plan_words"].startswith("6 passes. ")
    set_up(sheet, "1-8 UNC-2A", passes=2, tip_size=0.012, blank_measured=0.992, wire_in_use=None)
    assert sheet["plan_words"].startswith("HEAVY: first pass 0.05")
    assert "12 to 15 are usual" in sheet["plan_words"]


def test_a_deep_first_pass_is_told_by_the_tip(sheet: Document) -> None:
    """By hand, ten equal chips of 3/4-16 from .7440: .0464 of a sharp tip begin with .0464 / sqrt 10 = .0147.

    With the light first rule it is .0464 sqrt(.3 / 9) = .0085. A nose of .008 takes .0384 / sqrt 10 = .0121 of .016.
    """
    sharp = {"tip_kind": "sharp", "tip_size": None}
    set_up(sheet, **sharp)
    said = "DEEP FIRST PASS: 0.0147 on the radius; for this tip 0.0098 at most is usual. Choose light first, or more "
    assert sheet["plan_words"].startswith(f"{said}passes. Pitch diameter at the end 0.705")
    sheet.set({"pass_rule": "light first"})
    assert sheet["plan_words"].startswith("10 passes. ")
    assert round(column(sheet, "plan_radial_infeed")[0], 4) == 0.0085
    sheet.set({"pass_rule": "equal area"})
    sheet.set({"passes": 23})  # .0464 / sqrt 23 = .0097
    assert sheet["plan_words"].startswith("23 passes. ")
    set_up(sheet)
    assert sheet["plan_words"].startswith("10 passes. ")
    set_up(sheet, tip_size=0.003)
    assert sheet["plan_words"].startswith("DEEP FIRST PASS: 0.0137 ")
    set_up(sheet, "2-4.5 UNC-2A", **sharp, blank_measured=None, passes=14, pass_rule="light first", wire_in_use=None)
    assert "for this tip 0.0196 at most is usual. Choose more passes. " in sheet["plan_words"]
    set_up(sheet, **sharp, thread_exists="yes", existing_reading=0.79, passes=6)
    assert "DEEP" not in sheet["plan_words"]
    sheet.set({"thread_exists": None, "existing_reading": None})


@pytest.mark.parametrize(("unit", "scale"), [("in", 1.0), ("mm", 25.4)])
def test_the_sheet_has_the_first_pass_of_the_function(sheet: Document, unit: str, scale: float) -> None:
    for rule in ("equal area", "light first"):
        for kind, size in (("sharp", 0.0), ("flat", 0.004), ("radius", 0.002), ("radius", 0.007), ("radius", 0.008)):
            typed = {"tip_kind": kind.replace("radius", "nose radius"), "tip_size": size * scale or None}
            set_up(sheet, unit=unit, **typed, pass_rule=rule, blank_measured=None, wire_in_use=None)
            assert sheet["first_pass_most"] == pytest.approx(first_pass_most(kind, size * scale, rule, unit)), (
                kind,
                size,
                rule,
            )


def test_a_tip_size_of_nothing_is_a_sharp_tip(sheet: Document) -> None:
    said = "A tip size of 0 is a sharp tip: choose sharp as the tool tip, or type its size."
    for kind in ("flat", "nose radius"):
        for size in (0, "0"):
            set_up(sheet, tip_kind=kind, tip_size=size)
            assert sheet["next_step"] == said
            assert sheet["depth"] == "–"
    set_up(sheet, tip_kind="nose radius", tip_size="R.008")
    assert sheet["next_step"].startswith("Next: enter the tip size, a number more than zero")
    set_up(sheet, tip_kind="sharp", tip_size=0)
    assert [sheet["next_step"], round(sheet["depth"], 4)] == [DONE, 0.0464]


def test_readings_on_both_sides_of_an_inch_take_two_micrometers(sheet: Document) -> None:
    """By hand: E of 1-5 ACME-2G is .8726 to .8920, and over a wire of .104 the reading is .1326 more: 1.0053 to 1.0246.

    .1326 is .104 (1 + 1 / sin 14.5) less .1 / tan 14.5; with .1 it is .1126, so .9852 to 1.0046.
    """
    acme = {"tip_kind": "flat", "tip_size": 0.069, "blank_measured": 0.997}
    for wire, told in ((0.104, "1 to 2 in"), (0.1, "0 to 1, 1 to 2 in")):
        set_up(sheet, "1-5 ACME-2G", **acme, wire_in_use=wire)
        assert sheet["micrometer_range"] == told
    # E of M24x2-6g is 22.493 to 22.663 (ISO 965-2); three wires less .866 025 P are 1.732, 2.408 and 2.618 more
    for wire, told in ((1.1547, "0 to 25 mm"), (1.38, "0 to 25, 25 to 50 mm"), (1.45, "25 to 50 mm")):
        set_up(sheet, "M24x2-6g", "mm", tip_size=0.2, blank_measured=None, wire_in_use=wire)
        assert sheet["micrometer_range"] == told


def test_the_sheet_has_the_passes_of_the_function(sheet: Document) -> None:
    for text in (*TRIED, "1/2-12 BSW close bolt", "2-4 BUTT-2A", "1-5 STUB ACME-2G"):
        thread = standards.read(text)
        sheet.set(Case(thread, "in", {}).sheet())
        assert tuple(sheet.get(["usual_fewest", "usual_most"])) == usual_passes(thread), text


def test_a_set_that_does_not_match_is_told_on_setup(sheet: Document) -> None:
    """Its readings do not count in the log, so the machine must know before it cuts by them."""
    wires = {first_cells(f"wires_{letter}", 1).partition(":")[0]: 0.0361 for letter in "abc"}
    number = first_cells("wires_id", 1).partition(":")[0]
    set_up(sheet, wire_in_use=None)
    sheet.set({**wires, number: "W-1", "wire_set": "W-1"})
    assert "no matched set" not in sheet["wire_words"]
    sheet.set({next(iter(wires)): 0.0363})
    assert "BUT THE SET: is no matched set." in sheet["wire_words"]
    sheet.set({**dict.fromkeys(wires), number: None, "wire_set": None})
