"""A part that is coated afterwards: Job's blank, Setup and Card are for the lathe, the limits and Log for the part.

Worked by hand for 3/4-16 UNF-2A with .0002 to .0004 on the surface: its allowance of .0015 takes what it can. A plain
diameter grows by two thicknesses, the pitch diameter by four (2 / sin 30). Most metal: four times .0004 is .0016, .0001
more than the allowance, so .7079 becomes .7078, and .7029 less four times .0002 is .7021. Twice .0004 the allowance
takes, so the major diameter stays .7485 to .7391.
"""

from __future__ import annotations

import re
from math import sqrt

import pytest
from log_cases import cell, cells
from workbook_cases import Case

from sheetfuncs import evaluate, standards
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.read_back import thread_figures
from workbook_template.sheets.instruments import INSTRUMENTS

USUAL = {"tip_kind": "nose radius", "tip_size": 0.008, "aim_limit": "mid", "passes": 8, "pass_rule": "equal area"}
USUAL |= {"compound_angle": 29.5, "dial_division": 0.001, "wire_in_use": 0.0361, "blank_measured": 0.744}
COATED = {"thinnest_coating": 0.0002, "thickest_coating": 0.0004}
BARE = {"thinnest_coating": None, "thickest_coating": None}
LARGEST, SMALLEST = 0.7079 - 0.0001, 0.7029 - 0.0008
EQUIPMENT = {"instrument_id": ("M-1",), "instrument_due": (47000,)}
OVER = 3 * 0.0361 - sqrt(3) / 2 / 16 + 0.00002
"""Over the wires more than the pitch diameter, with what the lead adds (MH31 p. 2130)."""


@pytest.fixture(scope="module")
def opened(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


@pytest.fixture
def sheet(opened: Document) -> Document:
    opened.set(Case(standards.read("3/4-16 UNF-2A"), "in", USUAL).sheet() | BARE)
    return opened


def test_the_figures_at_the_lathe_are_before_coating(sheet: Document) -> None:
    bare = sheet.get(["depth", "blank_aim", "blank_max", "blank_min"])
    sheet.set({"thinnest_coating": 0.0002})
    assert sheet["next_step"].startswith("Coating: type its least and its greatest thickness")
    assert sheet.get(["depth", "micrometer_preset", "blank_aim"]) == ["–", "–", ""]
    sheet.set({"thickest_coating": 0.0004})
    assert sheet.get(["cut_pitch_diameter_max", "cut_pitch_diameter_min"]) == pytest.approx([LARGEST, SMALLEST])
    by_function = evaluate("THREAD_BEFORE_COATING", "3/4-16 UNF-2A", "0.0002 in", "0.0004 in", "in")
    pitch = next(row for row in by_function if str(row[0]).startswith("pitch"))
    assert sheet.get(["cut_pitch_diameter_max", "cut_pitch_diameter_min"]) == pytest.approx(pitch[1:3])
    assert sheet.get(["blank_max", "blank_min"]) == pytest.approx([0.7485, 0.7391])
    assert sheet["blank_aim"] == pytest.approx((0.7485 + 0.7391) / 2)
    assert sheet["blank_title"] == "Blank to turn, uncoated"
    readings = sheet.get(["over_wires_max", "over_wires_min", "micrometer_preset"])
    middle = (LARGEST + SMALLEST) / 2
    assert readings == pytest.approx([LARGEST + OVER, SMALLEST + OVER, middle + OVER], abs=3e-6)
    # half of what the middle fell, deeper on the radius
    fell = (0.7079 + 0.7029) / 2 - middle
    assert sheet["depth"] == pytest.approx(bare[0] + fell / 2, abs=1e-9)
    assert sheet["setup_title"].endswith("COATED AFTERWARDS: all figures here are before coating.")
    assert sheet["card_title"] == sheet["setup_title"]
    short = SMALLEST - (middle - 2 * 0.008)  # a sharp tip's figure with a nose of .008: twice that too deep
    told = re.search(r"under its minimum by ([\d.]+): scrap\.$", sheet["sharp_words"])
    assert told
    assert float(told[1]) == pytest.approx(short, abs=5.1e-5)
    sheet.set({"reading_now": readings[0] + 0.01})
    assert sheet["feed_left_max"] == pytest.approx(0.005 / 0.8703557, abs=1e-6)
    for name in BARE:
        sheet.set({name: None})
    assert sheet.get(["depth", "blank_aim", "blank_max", "blank_min"]) == bare
    assert "COATED" not in sheet["setup_title"]


def test_the_log_judges_the_coated_part_to_basic_size(sheet: Document) -> None:
    """ASME B1.1-2003, Table 1: basic pitch diameter .7094, 2A .7079 to .7029; major .7500, 2A .7485 to .7391."""
    names = ["log_over_wires_max", "log_over_wires_min", "log_pitch_diameter_max", "log_pitch_diameter_min",
             "log_crest_max", "log_crest_min"]  # fmt: skip
    of_class = [0.7079 + OVER, 0.7029 + OVER, 0.7079, 0.7029, 0.7485, 0.7391]
    assert sheet.get(names) == pytest.approx(of_class, abs=3e-6)
    sheet.set({name: cells(values, INSTRUMENTS) for name, values in EQUIPMENT.items()})
    sizes = {0.7085: "high", 0.7094: "high", 0.7095: "high", 0.7029: "in", 0.7028: "low"}
    for row, size in enumerate(sizes, 1):
        given = {"serial": str(row), "direct": size, "crest": 0.7495, "instrument": "M-1", "when": 46000}
        sheet.set({cell(name, row): value for name, value in given.items()})
    words = [cell("pitch_diameter_result", row) for row in range(1, len(sizes) + 1)]
    crests = [cell("crest_result", row) for row in range(1, len(sizes) + 1)]
    assert sheet.get(words) == list(sizes.values())
    assert sheet.get(crests) == ["high"] * len(sizes)
    for name, value in COATED.items():
        sheet.set({name: value})
    coated = [0.7094 + OVER, 0.7029 + OVER, 0.7094, 0.7029, 0.75, 0.7391]
    assert sheet.get(names) == pytest.approx(coated, abs=3e-6)
    assert sheet.get(words) == ["in", "in", "high", "in", "low"]
    assert sheet.get(crests) == ["in"] * len(sizes)
    assert sheet.get(["pitch_diameter_max", "major_diameter_max"]) == [0.7079, 0.7485]  # on Job: of the thread
    printed = ["certificate_pitch_diameter_max", "certificate_pitch_diameter_min", "certificate_major_diameter_max"]
    assert sheet.get(printed) == ["0.7094", "0.7029", "0.7500"]
    assert sheet["certificate_unit"] == "Limits of size, coated, lengths in inches"
    assert sheet["article_pitch_diameter_high"] == 0.7094
    assert sheet["log_title"].startswith("LIMITS OF THE COATED PART: measure after coating. ")
    assert sheet["coating_words"].endswith("Log and certificate judge the coated part, to basic pitch dia. 0.7094.")
    sheet.set({"thinnest_coating": 0.0005})  # over the thickest: no coating that can be
    assert not sheet["log_title"].startswith("LIMITS OF THE COATED PART")
    assert sheet.get(names) == pytest.approx(of_class, abs=3e-6)
    for row in range(1, len(sizes) + 1):
        sheet.set({cell(name, row): None for name in given})
    sheet.set({name: cells((), INSTRUMENTS) for name in EQUIPMENT})


@pytest.mark.parametrize(
    ("callout", "unit", "limits"),
    [
        ("3/4-16 UNF-3A", "in", [0.7094, 0.7056, 0.75, 0.7406]),  # no allowance: ASME B1.1-2003, Table 1
        ("1/2-13 UNC-2B", "in", [0.4565, 0.45, 0.434, 0.417]),  # .417 is rounded up from basic .4167: no allowance
        ("M20x2.5-6e", "mm", [18.376, 18.126, 20.0, 19.585]),  # ISO 965-1: es -0.080, TD2 0.170, TD 0.335
        ("M20x2.5-6G", "mm", [18.642, 18.376, 17.786, 17.294]),  # EI +0.042, TD2 0.224, TD1 0.450
        ("1-5 ACME-2G", "in", [0.892, 0.8726, 1.0, 0.99]),  # ASME B1.5, Table 3: no standard leaves it to a coating
        ("Tr40x7-7e", "mm", [36.375, 36.02, 40.0, 39.575]),  # ISO 2903
        ("1/2-12 BSW medium bolt", "in", [0.4451, 0.4399, 0.4985, 0.4905]),  # BS 84
    ],
)
def test_a_coated_part_may_come_to_basic_size_where_its_standard_says_so(
    sheet: Document, callout: str, unit: str, limits: list[float]
) -> None:
    sheet.set(chosen(standards.read(callout)) | {"unit": unit} | COATED)
    names = ["log_pitch_diameter_max", "log_pitch_diameter_min", "log_crest_max", "log_crest_min"]
    assert sheet.get(names) == pytest.approx(limits, abs=1e-9)
    read = thread_figures.figures({name: sheet[name] for name in thread_figures.INPUTS})
    assert read is not None
    assert list(read.limits) == pytest.approx(limits, abs=1e-9)
    assert read.to_basic == sheet["coated_to_basic"]


def test_the_root_clears_the_mating_thread_after_coating(sheet: Document) -> None:
    """The coated root may not be larger than an uncoated one: .0004 on each side of the root."""
    root = sheet["root_clear"]
    for coated in (BARE, COATED):
        sheet.set(coated)
        aimed, room, half = sheet.get(["pitch_diameter_aimed", "tip_flat_room", "half_height"])
        finished = aimed - 2 * (half - room) + (2 * 0.0004 if coated is COATED else 0)
        assert finished == pytest.approx(root, abs=2.1e-4)  # the printed limits are rounded
        left = finished - root
        if coated is BARE:
            bare_left = left
    assert left == pytest.approx(bare_left, abs=1e-9)


def test_an_internal_thread_is_cut_larger(sheet: Document) -> None:
    """3/4-16 UNF-2B has no allowance: smallest .7094 and four times .0004 more, largest .7159 and four times .0002.

    Its smallest bore, printed .682, gets twice .0004, its largest, .696, twice .0002.
    """
    sheet.set({"thread_class": "2B", "blank_measured": None, "tip_size": 0.003, "wire_in_use": None})
    before = sheet["depth"]
    sheet.set(COATED)
    found = sheet.get(["cut_pitch_diameter_min", "cut_pitch_diameter_max", "blank_min", "blank_title"])
    assert found[:2] == pytest.approx([0.7094 + 0.0016, 0.7159 + 0.0008])
    assert found[2] == pytest.approx(0.682 + 0.0008, abs=1e-9)
    assert found[3] == "Bore to make, uncoated"
    grown = (found[0] + found[1] - 0.7094 - 0.7159) / 2
    bore = (0.0008 + 0.0004) / 2
    assert sheet["depth"] == pytest.approx(before + grown / 2 - bore / 2, abs=1e-9)
