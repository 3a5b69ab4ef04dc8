"""The budget of the sheet Uncertainty against derivatives by difference, and U with its k."""

from __future__ import annotations

import random
from collections.abc import Iterator
from decimal import Decimal
from math import pi, radians, sin, sqrt, tan
from typing import Any

import pytest
from records_cases import THREAD, choose, records_book
from workbook_cases import plain_file

from sheetfuncs import evaluate
from workbook_template.office import Document, Error, Office
from workbook_template.read_back import budget_figures, recompute, thread_figures
from workbook_template.sheets import budget

ROOTS = {"rectangular": 3, "triangular": 6, "arcsine": 2, "standard": 1, "expanded (k 2)": 4}
"""A stated value over the square root of these is a standard uncertainty (JCGM 100:2008, 4.3.7 to 4.3.9)."""


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    with records_book(office, tmp_path_factory.mktemp("records") / "new.xlsx") as document:
        yield document


def over_wires(reading: float, wire: float, half: float, pitch: float) -> float:
    """Pitch diameter from a reading over wires, flanks alike (ASME B1.2-1983, Appendix B; MH31 p.2043)."""
    return reading - wire * (1 + 1 / sin(half)) + pitch / 2 / tan(half)


@pytest.mark.parametrize(
    ("callout", "unit", "half", "pitch", "wire", "basic"),
    [
        (THREAD, "in", 30, 1 / 16, 0.0361, 0.75 - 0.649519 / 16),
        (THREAD, "in", 30, 1 / 16, 0.040, 0.75 - 0.649519 / 16),
        ("M20x2.5-6g", "mm", 30, 2.5, 1.5, 18.376),
        ("1-5 ACME-2G", "in", 14.5, 0.2, 0.105, 0.9),
    ],
)
def test_budget_is_the_root_of_the_sum_of_squares(
    sheet: Document, callout: str, unit: str, half: float, pitch: float, wire: float, basic: float
) -> None:
    """Sensitivities by differences of the formula; the rest by hand as JCGM 100:2008, 5.1.2 has it."""
    choose(sheet, callout, unit, wire)
    small = 0.001 if unit == "mm" else 0.0001
    stated = {"wires": small / 2, "micrometer": small, "temperature": 2, "repeatability": small / 3, "lead": small}
    stated["angle"] = 0.2
    draw = random.Random(callout)
    kinds = {name: draw.choice(budget.KINDS) for name in stated}
    sheet.set({f"budget_{name}": value for name, value in stated.items()})
    sheet.set({f"budget_{name}_kind": kind for name, kind in kinds.items()} | {"budget_expansion": 11.5})
    step, angle = 1e-6, radians(half)
    sensitivity = {
        "wires": over_wires(1, wire + step, angle, pitch) - over_wires(1, wire - step, angle, pitch),
        "micrometer": 2 * step,
        "temperature": 2 * step * basic * 11.5e-6,
        "repeatability": 2 * step,
        "lead": over_wires(1, wire, angle, pitch + step) - over_wires(1, wire, angle, pitch - step),
        "angle": (over_wires(1, wire, angle + step, pitch) - over_wires(1, wire, angle - step, pitch)) * pi / 180,
    }
    parts = {n: abs(sensitivity[n]) / (2 * step) * stated[n] / sqrt(ROOTS[kinds[n]]) for n in stated}
    for name, part in parts.items():
        assert sheet[f"budget_{name}_contribution"] == pytest.approx(part, rel=2e-4, abs=1e-10), name
    combined = sqrt(sum(part**2 for part in parts.values()))
    assert sheet["budget_combined"] == pytest.approx(combined, rel=1e-4)
    for k in (2, 2.5):
        sheet.set({"budget_factor": k})
        assert sheet["budget_expanded"] == pytest.approx(k * combined, rel=1e-4)
        assert sheet["budget_share"] == pytest.approx(k * combined / sheet["pitch_diameter_tolerance"], rel=1e-4)
    assert sum(sheet[f"budget_{name}_share"] for name in stated) == pytest.approx(1)


def test_coverage_factor_is_that_of_the_guide_and_of_the_function(sheet: Document) -> None:
    """k at 95.45 % for 4, 8 and 50 degrees of freedom is 2.87, 2.37 and 2.05 (JCGM 100:2008, Table G.2)."""
    choose(sheet, THREAD, "in", 0.0361)
    kinds = {"wires": "expanded (k 2)", "repeatability": "standard"}
    sheet.set({f"budget_{one.name}_kind": kinds.get(one.name, "rectangular") for one in budget.SOURCES})
    sheet.set(
        {f"budget_{one.name}": 0 for one in budget.SOURCES} | {"budget_factor": None, "budget_repeatability": 0.0001}
    )
    for freedom, k in ((4, 2.87), (8, 2.37), (50, 2.05)):
        sheet.set({"budget_repeats": freedom + 1})
        assert sheet["budget_degrees_of_freedom"] == pytest.approx(freedom)
        assert sheet["budget_coverage"] == pytest.approx(k, abs=0.005)
    sheet.set({"budget_repeatability": 0})
    assert sheet["budget_coverage"] == pytest.approx(2, abs=1e-4)
    stated = (0.00002, 0.0001, 3, 0.00005, 10, 0.0001, 0.25)
    names = ("wires", "micrometer", "temperature", "repeatability", "repeats", "lead", "angle")
    sheet.set({f"budget_{name}": value for name, value in zip(names, stated)} | {"budget_expansion": 11.5})
    rows = evaluate("THREAD_UNCERTAINTY", THREAD, 0.0361, *stated)
    parts = [sheet[f"budget_{one.name}_contribution"] for one in budget.SOURCES]
    assert parts == pytest.approx([row[5] for row in rows[-8:-2]], rel=2e-5, abs=1e-12)
    assert sheet["budget_combined"] == pytest.approx(rows[-2][5], rel=2e-5)
    assert sheet["budget_degrees_of_freedom"] == pytest.approx(rows[-2][6], rel=1e-4)
    assert sheet["budget_expanded"] == pytest.approx(rows[-1][5], rel=2e-5)


@pytest.mark.parametrize("typed", [0.0000115, 11500, 0, None, "11,5"])
def test_an_expansion_that_no_metal_has_is_told(sheet: Document, typed: object) -> None:
    """Steel is 11.5 millionths per °C (Swyt, NIST J. Res. 99): typed per °C it would make the temperature nothing."""
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set(dict.fromkeys((f"budget_{one.name}" for one in budget.SOURCES), 0.0001))
    sheet.set({"budget_repeats": 9, "budget_expansion": typed})
    assert sheet["budget_words"] == (
        "Next: the expansion of the part, in millionths per °C, 0.1 to 100, as 11.5 for 0.0000115."
    )
    assert sheet.get(["budget_temperature_sensitivity", "budget_expanded"]) == ["", ""]
    sheet.set({"budget_expansion": 11.5})
    assert sheet["budget_words"].startswith("Expanded uncertainty")


def test_u_stands_with_the_k_that_it_was_made_with(sheet: Document) -> None:
    """JCGM 100:2008, 7.2.3; one reading .0001 and nothing else: U = k times .0001, k of 8 degrees 2.37 (Table G.2)."""
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set(dict.fromkeys((f"budget_{one.name}" for one in budget.SOURCES), 0))
    sheet.set({"budget_repeatability": 0.0001, "budget_repeatability_kind": "standard", "budget_repeats": 9})
    for typed, k, agreed, told in (
        (None, None, None, "U = 0.00024 in, k = 2.37."),
        (None, None, 3, "U = 0.00030 in, k = 3."),
        (None, 3, None, "U = 0.00024 in, k = 2.37; CHECK ENTRY: k is typed without its U, and not used."),
        (0.0005, 3, None, "U = 0.00050 in, k = 3."),
        (0.0005, 2.0197220474031, 3, "U = 0.00050 in, k = 2.02."),
        (0.0005, None, None, "U = 0.00050 in, CHECK ENTRY: type its k."),
        (0.0005, "two", 3, "U = 0.00050 in, CHECK ENTRY: type its k."),
        (0.0005, 20, None, "U = 0.00050 in, CHECK ENTRY: type its k."),
    ):
        sheet.set({"expanded_uncertainty": typed, "coverage_factor": k, "budget_factor": agreed})
        assert f"(ILAC-G8:09/2019, 4.2.1), {told} Sizes" in sheet["certificate_rule"]
        used, factor = sheet["uncertainty_used"], sheet["coverage_used"]
        if typed is None:
            assert used == pytest.approx(factor * 0.0001, rel=1e-9)
        else:
            assert (used, factor) == (typed, k if k in (3, 2.0197220474031) else "")
    sheet.set({"expanded_uncertainty": None, "coverage_factor": None, "budget_factor": None})


def test_a_length_of_another_unit_is_not_used(sheet: Document) -> None:
    """U = .0002 in is .00508 mm: taken as .0002 mm it would accept parts that nobody can vouch for."""
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set(
        {f"budget_{one.name}": 0.0001 for one in budget.SOURCES} | {"budget_repeats": 9, "budget_expansion": 11.5}
    )
    sheet.set({"expanded_uncertainty": 0.0002, "coverage_factor": 2, "crest_uncertainty": 0.0003})
    sheet.edit("decision_rule", "guard")
    names = ["uncertainty_used", "crest_uncertainty_used"]
    assert sheet.get(names) == [0.0002, 0.0003]
    sheet.edit("unit", "mm")
    assert sheet.get([*names, "budget_expanded"]) == ["", "", ""]
    said = "Its lengths were typed in inches, the working unit is now mm: type them anew, then choose mm beside them."
    assert sheet["budget_words"] == said
    assert "guard band, but U is of another unit: all is undecided. Type it anew." in sheet["decision_words"]
    sheet.edit("uncertainty_unit", "mm")
    assert sheet.get(names) == [0.0002, 0.0003]
    sheet.set({"unit": "in", "uncertainty_unit": "in", "decision_rule": None})
    assert sheet.get(names) == [0.0002, 0.0003]
    sheet.set({f"budget_{one.name}": None for one in budget.SOURCES})
    sheet.set({"expanded_uncertainty": None, "coverage_factor": None, "crest_uncertainty": None, "unit": "mm"})
    assert sheet["uncertainty_stale"] == 0  # nothing is typed that could be of another unit
    sheet.set({"unit": "in"})


@pytest.mark.parametrize("rule", ["simple", "guard"])
@pytest.mark.parametrize("typed", ["0,0002", "abc", 0, -0.001, 46024])
@pytest.mark.parametrize(
    ("name", "label"),
    [("expanded_uncertainty", "U, pitch diameter"), ("crest_uncertainty", "U, major diameter or bore")],
)
def test_a_u_that_is_not_believed_is_named(sheet: Document, rule: str, typed: object, name: str, label: str) -> None:
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set({"decision_rule": rule, "expanded_uncertainty": 0.0002, "coverage_factor": 2} | {name: typed})
    assert f"CHECK ENTRY, not used: {label} (a number more than zero, as 0.0002)." in sheet["decision_words"]
    sheet.set(dict.fromkeys(("decision_rule", "expanded_uncertainty", "coverage_factor", "crest_uncertainty")))


def test_what_no_budget_has_is_refused_in_it(sheet: Document) -> None:
    """1/2 is the day 46024 of 2026 to a spreadsheet; 2.5 readings nobody took; nothing is measured without error."""
    choose(sheet, THREAD, "in", 0.0361)
    good = dict.fromkeys((f"budget_{one.name}" for one in budget.SOURCES), 0.0001)
    nothing = dict.fromkeys(good, 0)
    good |= {"budget_repeats": 9, "budget_expansion": 11.5, "budget_factor": None}
    for typed, words in (
        ({"budget_micrometer": 46024}, "Next: fill in micrometer and its kind"),
        ({"budget_repeatability": 46024}, "Next: fill in repeatability, one reading and its kind"),
        ({"budget_repeats": 2.5}, "Next: the readings behind the repeatability, a whole number, 2 or more"),
        (nothing, "Next: a source that is more than 0; no measurement is exact."),
    ):
        sheet.set(good | typed)
        assert sheet["budget_words"].startswith(words)
    sheet.set(good)
    assert sheet["budget_words"].startswith("Expanded uncertainty")


def test_no_room_between_the_guard_bands_is_told(sheet: Document) -> None:
    """.7079 less .7029 is .0050 (ASME B1.1-2003, Table 2A): from a U of .0025 on, max - U is not over min + U."""
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set({"coverage_factor": 2})
    for rule in ("guard", "simple"):
        for uncertainty in (0.0005, 0.0024, 0.0025, 0.003):
            sheet.set({"decision_rule": rule, "expanded_uncertainty": uncertainty})
            room = Decimal("0.7079") - Decimal("0.7029") - 2 * Decimal(str(uncertainty))
            told = "U is half the tolerance or more: no room is left to be in." in sheet["decision_words"]
            assert told == (rule == "guard" and room <= 0), (rule, uncertainty)
    sheet.set({"decision_rule": None, "expanded_uncertainty": None, "coverage_factor": None})


def test_the_budget_does_not_praise_a_u_that_is_not_used(sheet: Document) -> None:
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set(dict.fromkeys((f"budget_{one.name}" for one in budget.SOURCES), 0.00001) | {"budget_factor": 2})
    assert "fine enough" in sheet["budget_words"]
    for typed in (0.003, "small"):
        sheet.set({"expanded_uncertainty": typed})
        assert "not used: a U is typed below" in sheet["budget_words"]
        assert "fine enough" not in sheet["budget_words"]
    sheet.set({"expanded_uncertainty": None, "budget_factor": None})


def test_temperatures_and_expansions_that_are_not_used_are_told(sheet: Document) -> None:
    """Steel has 12.3 millionths per degree C (Callister, Table B.6): 12.3 is no coefficient, 68 no room in Celsius."""
    good = {"expansion": 0.0000123, "instrument_expansion": 0.0000115, "room_temperature": 21}
    hints = dict(zip(good, ("Expansion of the part (per °C, as 0.0000123)",
                            "Instrument expansion (per °C, as 0.0000115)", "Instrument °C (0 to 50)")))  # fmt: skip
    bad = {"expansion": 12.3, "instrument_expansion": 11.5, "room_temperature": 68}
    for wrong in ((), *((name,) for name in good), ("expansion", "room_temperature"), tuple(good)):
        for other in (None, "0,0000123", -0.00001):
            sheet.set(good | {name: bad[name] if other is None else other for name in wrong})
            told = f" CHECK ENTRY, not used: {', '.join(hints[name] for name in wrong)}. Sizes " if wrong else ""
            words = sheet["decision_words"]
            assert told in words, words
            assert (words.endswith("20 °C."), "CHECK ENTRY, not" in words) == (True, bool(wrong)), words
            assert ("Sizes as measured" in words) == ("expansion" in wrong)
    sheet.set(dict.fromkeys(good))
    assert "CHECK ENTRY" not in sheet["decision_words"]


def test_an_unfilled_budget_says_what_is_missing(sheet: Document) -> None:
    names = [f"budget_{one.name}" for one in budget.SOURCES]
    choose(sheet, THREAD, "in", None)
    sheet.set(dict.fromkeys(names, 0.0001) | {"budget_factor": 2, "budget_repeats": None})
    assert "wires that serve" in sheet["budget_words"]
    choose(sheet, THREAD, "in", 0.0361)
    assert isinstance(sheet["budget_expanded"], float)
    assert "tenth" in sheet["budget_words"]
    for name, one in zip(names, budget.SOURCES):
        for wrong in (None, "small", -0.1):
            sheet.set({name: wrong})
            assert (sheet["budget_combined"], sheet["budget_expanded"], sheet["budget_share"]) == ("", "", "")
            assert one.label[1:] in sheet["budget_words"]
        sheet.set({name: 0})
    for wrong in ("two", None, 0, 0.2, 20):  # .2 and 20 for 2.0 would make U a tenth, or ten times as much
        sheet.set({"budget_factor": wrong})
        assert (sheet["budget_expanded"], "a factor k" in sheet["budget_words"]) == ("", True)
    sheet.set({"budget_factor": 2})
    for share, words in ((0.05, "fine enough"), (0.2, "usable"), (0.3, "too coarse")):
        sheet.set(
            {"budget_micrometer": share / 2 * sheet["pitch_diameter_tolerance"], "budget_micrometer_kind": "standard"}
        )
        assert words in sheet["budget_words"]


def test_no_measurement_is_exact(sheet: Document) -> None:
    """All sources 0 give no U, which would accept all up to the limits; one is enough."""
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set(dict.fromkeys((f"budget_{one.name}" for one in budget.SOURCES), 0) | {"budget_factor": 2})
    assert sheet.get(["budget_expanded", "budget_share"]) == ["", ""]
    assert sheet["budget_words"] == "Next: a source that is more than 0; no measurement is exact."
    sheet.set({"budget_micrometer": 0.0001, "budget_micrometer_kind": "standard"})
    assert sheet["budget_expanded"] == pytest.approx(0.0002)
    sheet.set({"budget_angle": 95, "budget_angle_kind": "rectangular"})
    assert (sheet["budget_expanded"], "alf angle error of the part" in sheet["budget_words"]) == ("", True)
    sheet.set({"budget_angle": 5})
    assert isinstance(sheet["budget_expanded"], float)


@pytest.mark.parametrize(("micrometer", "angle"), [(0, 0), (0.0001, 0), (0.0001, 95), (0.0001, 5)])
def test_a_budget_is_read_back_as_the_sheet_has_it(sheet: Document, micrometer: float, angle: float) -> None:
    choose(sheet, THREAD, "in", 0.0361)
    stated = dict.fromkeys((f"budget_{one.name}" for one in budget.SOURCES), 0.0)
    stated |= {"budget_micrometer": micrometer, "budget_angle": angle, "budget_repeats": 9.0, "budget_expansion": 11.5}
    sheet.set(stated | {"budget_factor": None, **{f"budget_{one.name}_kind": one.kind for one in budget.SOURCES}})
    inputs = {name: sheet[name] for name in budget_figures.INPUTS}
    known = thread_figures.figures({name: sheet[name] for name in thread_figures.INPUTS})
    for name, value in budget_figures.results(inputs | {"budget_factor": None}, known, 0.0361).items():
        assert recompute.alike(sheet[name], value), name


def test_nothing_is_an_error_when_all_is_empty(office: Office, tmp_path: Any) -> None:
    path = tmp_path / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as document:
        document.set({"thread_size": None, "thread_class": None})
        for entry in plain_file().entries:
            if entry.name.startswith(("budget_", "article_", "sample_")) and entry.role != "list":
                value = document[entry.name]
                cells = [cell for row in value for cell in row] if isinstance(value, list) else [value]
                assert not [cell for cell in cells if isinstance(cell, Error)], entry.name
        assert document["article_words"].startswith("Choose the thread")
        assert document["budget_words"].startswith("Choose the thread")
        assert document["sample_words"].startswith("Next: the lot size")
