"""The workbook in a real spreadsheet program: every figure of Job and Setup against the functions."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from whole_books import SPECIALS, plain_pages
from workbook_cases import Case, cases, expected, plain_file

from sheetfuncs import standards
from workbook_template.file.build import chosen
from workbook_template.office import Document, Error, Office

CASES = 240


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open."""
    path = tmp_path_factory.mktemp("live") / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as document:
        yield document


def numbers(shown: object) -> list[float]:
    """The numbers of a column."""
    return [row[0] for row in shown if isinstance(row[0], float)] if isinstance(shown, list) else []


def compare(sheet: Document, case: Case) -> int:
    """Set a case, compare every cell; how many numbers there were."""
    sheet.set(case.sheet())
    want = expected(case)
    found = dict(zip(want, sheet.get(want)))
    seen = 0
    for name, value in want.items():
        got = found[name]
        where = f"{name} of {case}"
        if isinstance(value, list):
            assert numbers(got) == pytest.approx(value, rel=1e-9, abs=1e-12), where
            seen += len(value)
        elif value is None:
            assert isinstance(got, str), where
        else:
            assert got == pytest.approx(value, rel=1e-9, abs=1e-12), where
            seen += 1
    return seen


def test_figures_of_many_threads_are_those_of_the_functions(sheet: Document) -> None:
    drawn = cases(CASES, seed=20240304)
    kinds = {(c.thread.system, c.thread.side, c.thread.left_hand) for c in drawn}
    assert {system for system, _, _ in kinds} == set(standards.KEYS)
    assert kinds >= {
        (system, side, hand)
        for system in ("unified", "iso_metric")
        for side in ("external", "internal")
        for hand in (True, False)
    }
    assert sum(compare(sheet, case) for case in drawn) > 30 * CASES


def test_callout_reads_the_thread_back(sheet: Document) -> None:
    for case in cases(60, seed=7):
        sheet.set(case.sheet())
        callout, words, note = sheet.get(["callout", "left_hand_words", "thread_note"])
        assert standards.read(callout) == case.thread
        assert words == ("LEFT HAND THREAD" if case.thread.left_hand else "")
        assert note.startswith(case.thread.side.capitalize())
        assert standards.system(case.thread).standing(case.thread._replace(starts=1)) in note


@pytest.mark.parametrize(
    ("callout", "starts", "of_one"),
    [("2-4 BUTT-2A", 2, True), ("1-5 ACME-2G", 3, True), ("3/4-16 UNF-2A", 2, True), ("3/4-16 UNF-2A", 1, False),
     ("M20x2.5-6g", 2, False), ("Tr40x7-7e", 2, False)],
)  # fmt: skip
def test_limits_of_one_start_are_said_to_be_so(sheet: Document, callout: str, starts: int, of_one: bool) -> None:
    """ISO 965-1 and ISO 2903 widen the limits of several starts, the other standards do not, as far as was seen."""
    sheet.set({**chosen(standards.read(callout)), "starts": starts})
    assert ("limits of one start" in sheet["thread_note"]) == of_one


def test_threads_per_inch_are_shown_without_a_lone_point(sheet: Document) -> None:
    """25.4 / 1.5 is 16.9333."""
    for callout, shown in (("3/4-16 UNF-2A", "16"), ("2-4 1/2 UNC-2A", "4.5"), ("M20x1.5-6g", "16.9333")):
        sheet.set(chosen(standards.read(callout)))
        assert sheet.shown(["threads_per_inch"]) == [shown]
    assert plain_pages().workbook["Job"]["G25"].number_format == "General"  # 0.#### shows 16. in Excel


def test_worked_example(sheet: Document) -> None:
    """3/4-16 UNF-2A, blank .7440, nose radius .008: limits of ASME B1.1-2003, Table 2A; depths worked by hand."""
    inputs = {"tip_kind": "nose radius", "tip_size": 0.008, "blank_measured": 0.744, "aim_limit": "mid"}
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", inputs | {"wire_in_use": 0.0361, "passes": 8}).sheet())
    wanted = {
        "major_diameter_max": 0.7485,
        "major_diameter_min": 0.7391,
        "pitch_diameter_max": 0.7079,
        "pitch_diameter_min": 0.7029,
        "best_wire": 0.0361,
        "over_wires_max": 0.7621,
        "over_wires_min": 0.7571,
        "depth": 0.0384,
        "depth_sharp": 0.0464,
        "depth_flat": 0.0396,
    }
    found = sheet.get(wanted)
    assert [round(value, 4) for value in found] == list(wanted.values())
    assert sheet.shown(["major_diameter_max", "over_wires_max", "depth"]) == ["0.7485", "0.7621", "0.0384"]
    assert sheet["sharp_words"].endswith("0.6894 in: under its minimum by 0.0135: scrap.")
    assert sheet["micrometer_range"] == "0 to 1 in"


def test_an_external_class_is_not_taken_for_the_internal_one_of_the_same_letters(sheet: Document) -> None:
    """6g is an external thread, 6G an internal one (ISO 965-1); look-ups of spreadsheets ignore the case."""
    for text, side in (("M20x2.5-6g", "external"), ("M20x2.5-6G", "internal"), ("M20x2.5-6h", "external")):
        sheet.set(chosen(standards.read(text)))
        assert sheet.get(["thread_side", "callout"]) == [side, text]


@pytest.mark.parametrize("text", SPECIALS)
def test_special_threads_are_in_the_table(sheet: Document, text: str) -> None:
    sheet.set(chosen(standards.read(text)))
    found = standards.limits(standards.read(text))
    assert sheet["callout"] == text
    own = ["own_pitch_diameter_max", "own_pitch_diameter_min", "own_major_diameter_max"]
    assert sheet.get(own) == [found.pitch.max, found.pitch.min, found.major.max]


REFUSED = (
    ({"thread_size": "M20x2.5"}, "thread_note", "M20x2.5 is of the system ISO metric, not of Unified: choose that"),
    ({"thread_class": "6g"}, "thread_note", "6g is no class of the size 3/4-16 UNF: choose one of the list."),
    ({"hand": None}, "thread_note", "Choose the hand, right or left."),
    ({"tip_kind": None}, "next_step", "Next: choose the tool tip."),
    ({"tip_size": None}, "next_step", "Next: enter the tip size, a number more than zero, 20000 at most."),
    ({"tip_size": 0.02}, "next_step", "A nose radius of 0.0200 in is too blunt: "),
    ({"blank_measured": 19.0}, "next_step", "The blank 19.0000 is over its largest size by 18.2515: made for another "),
    ({"blank_measured": 0.7643}, "next_step", "The blank 0.7643 is over its largest size by 0.0158: made for another "),
    (
        {"blank_measured": 0.7232},
        "next_step",
        "The blank 0.7232 is under its smallest size by 0.0159: made for another",
    ),
    ({"blank_measured": 0.7}, "next_step", "The blank 0.7000 is below the pitch diameter aimed at, 0.7054: "),
    ({"blank_measured": 0.66}, "next_step", "The blank 0.6600 is below the pitch diameter aimed at, 0.7054: "),
    ({"passes": None}, "plan_words", "Next: enter the number of passes, 1 to 30; 6 to 8 are usual for this pitch."),
    ({"passes": 2.5}, "plan_words", "The number of passes is a whole number, 1 to 30."),
    ({"finishing_pass": 0.05}, "plan_words", "A finishing pass of 0.0500 does not fit in a depth of 0.0384; "),
    ({"passes": 1, "finishing_pass": 0.001}, "plan_words", "One pass can't be roughing and finishing; "),
    ({"compound_angle": 45}, "plan_words", "Use a compound angle of 0 (straight in) to 30 degrees; "),
    ({"passes": 30, "dial_division": 0.002}, "plan_words", "30 passes over a travel of 0.0441 come to less than "),
    ({"passes": 30, "dial_division": 0.00145, "finishing_pass": 0.01}, "plan_words", "A finishing pass of 0.0100 is "),
    (
        {"passes": 8, "finishing_pass": 0.005},
        "plan_words",
        "A finishing pass of 0.0050 is more than the passes before ",
    ),
    ({"compound_angle": "29,5"}, "plan_words", "The compound angle 29,5 is a text: type it as 29.5."),
    ({"compound_angle": "29.5°"}, "plan_words", "The compound angle 29.5° is a text: type it as 29.5."),
    *(
        (
            {"compound_angle": angle},
            "plan_words",
            f"The compound angle {angle} is a text: type the degrees as a number alone.",
        )
        for angle in ("steep", ".5 in", "3/4")
    ),
    ({"aim_limit": None}, "next_step", "Next: choose what to aim at, max, mid or min."),
)


@pytest.mark.parametrize(("inputs", "where", "sentence"), REFUSED)
def test_what_can_not_be_cut_gets_a_sentence_and_no_numbers(
    sheet: Document, inputs: dict[str, object], where: str, sentence: str
) -> None:
    usual = {"tip_kind": "nose radius", "tip_size": 0.008, "blank_measured": 0.744, "aim_limit": "mid"}
    usual |= {"passes": 8, "pass_rule": "equal area", "wire_in_use": 0.0361}
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", usual).sheet() | inputs)
    said, plan, infeed = sheet.get([where, "plan_compound_reading", "depth"])
    assert said.startswith(sentence)
    assert numbers(plan) == []
    assert isinstance(infeed, float) == (where == "plan_words")


OVER_ZERO = "is not a number more than zero, 20000 at most"
MADE_A_DAY = (
    ("blank_measured", "next_step", f"The blank as measured {OVER_ZERO}."),
    ("tip_size", "next_step", "Next: enter the tip size, a number more than zero, 20000 at most."),
    ("wire_in_use", "wire_words", f"The wire in use {OVER_ZERO}."),
    ("finishing_pass", "plan_words", f"The finishing pass {OVER_ZERO}, or empty."),
    ("dial_division", "plan_words", f"The dial division {OVER_ZERO}, or empty."),
    ("reading_now", "feed_words", "This reading is nowhere near the thread: check its unit and the wires."),
    ("usable_relief", "lathe_rpm_words", "The usable relief is a length, a number more than zero, 20000 at most."),
    ("existing_reading", "next_step", "The reading of the existing thread is not a number more than zero."),
)


@pytest.mark.parametrize(("name", "where", "sentence"), MADE_A_DAY)
def test_a_fraction_that_became_a_day_or_a_unit_that_made_a_text_is_named(
    sheet: Document, name: str, where: str, sentence: str
) -> None:
    """Calc makes the 8th of March of a typed 3/8; a length of 25000 is no day of this century."""
    usual = {"tip_kind": "nose radius", "tip_size": 0.008, "blank_measured": 0.744, "aim_limit": "mid", "passes": 8}
    usual |= {
        "pass_rule": "equal area",
        "wire_in_use": 0.0361,
        "thread_exists": "yes" if name == "existing_reading" else None,
    }
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", usual).sheet())
    sheet.set({"surface_speed": 40, "surface_speed_unit": "ft/min", "reaction_spread": 0.2, name: None})
    sheet.edit(name, "3/8")
    told = "The program made a day of what was typed, as it does of 3/8: type the decimal, as in 0.375."
    assert sheet[where] == f"{sentence} {told}"
    sheet.set({name: 25000})
    assert sheet[where] == sentence
    no_number = "The reading is not a number." if name == "reading_now" else sentence
    for text in ("0,05", "5 mm"):
        sheet.edit(name, text)
        assert sheet[where] == f'{no_number} "{text}" is a text: type the number alone, as in 0.375.'
    sheet.set({name: None, "thread_exists": None})


def test_whole_divisions_close_exactly(sheet: Document) -> None:
    """By hand: 44 divisions of .001 hold the travel .0441; the finishing pass of .002 takes two of them."""
    inputs = {"tip_kind": "nose radius", "tip_size": 0.008, "blank_measured": 0.744, "aim_limit": "mid", "passes": 10}
    inputs |= {"dial_division": 0.001, "finishing_pass": 0.002, "spring_passes": 2, "pass_rule": "equal area"}
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", inputs).sheet())
    readings, travels = (numbers(column) for column in sheet.get(["plan_compound_reading", "plan_compound_travel"]))
    assert readings[-4:] == [0.042, 0.044, 0.044, 0.044]
    assert sum(travels) == pytest.approx(0.044, abs=1e-12)
    assert all(round(travel / 0.001, 6) == round(travel / 0.001) >= 1 for travel in travels[:10])


def test_no_cell_holds_an_error_whatever_is_chosen(sheet: Document) -> None:
    for case in cases(25, seed=3):
        sheet.set(case.sheet())
        areas = sheet.get(["Job!A1:J40", "Setup!A1:AK100", "Log!A1:M14", "Threads!A4:BK26"])
        assert not [cell for area in areas for row in area for cell in row if isinstance(cell, Error)], case
    sheet.set(dict.fromkeys(("thread_system", "thread_size", "thread_class", "hand", "starts", "unit")))
    areas = sheet.get(["Job!A1:J40", "Setup!A1:AK100", "Log!A1:M14", "Threads!A4:BK26"])
    assert not [cell for area in areas for row in area for cell in row if isinstance(cell, Error)]
    assert sheet["thread_note"] == "Choose the working unit, in or mm."
