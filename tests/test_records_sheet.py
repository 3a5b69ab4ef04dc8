"""The budget against derivatives by difference, the first article list, sampling by brute force."""

from __future__ import annotations

import random
from collections.abc import Iterator
from decimal import Decimal
from math import pi, radians, sin, sqrt, tan
from typing import Any

import article_by_hand
import pytest
from workbook_cases import Case, plain_file

from sheetfuncs import evaluate, standards
from workbook_template.office import Document, Error, Office
from workbook_template.read_back import recompute
from workbook_template.sheets import budget, first_article_figures
from workbook_template.sheets import sampling as sampling_sheet

THREAD = "3/4-16 UNF-2A"
ROOTS = {"rectangular": 3, "triangular": 6, "arcsine": 2, "standard": 1, "expanded (k 2)": 4}
"""A stated value over the square root of these is a standard uncertainty (JCGM 100:2008, 4.3.7 to 4.3.9)."""


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open, with a thread, wires and an instrument."""
    path = tmp_path_factory.mktemp("records") / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as document:
        choose(document, THREAD, "in", 0.0361)
        document.set({at("instrument_id", 0): "M-1", at("instrument_due", 0): 45000, "article_date": 44990})
        document.set({"article_serial": "001", "article_who": "inspector"})
        document.set({at("instrument_id", 1): "M-2", at("instrument_due", 1): 44000})
        for number, (kind, thread) in enumerate(
            (("GO ring", THREAD), ("GO ring", "3/4-16 UNF-3A"), ("other", None)), 2
        ):
            cells = {"id": f"G-{number}", "kind": kind, "thread": thread, "due": 45000}
            document.set({at(f"instrument_{name}", number): value for name, value in cells.items()})
        document.set({at("instrument_to", 0): 2})
        yield document


def choose(sheet: Document, callout: str, unit: str, wire: float | None) -> None:
    """Choose thread, unit and wire."""
    sheet.set(Case(standards.read(callout), unit, {"wire_in_use": wire}).sheet())


def at(name: str, number: int) -> str:
    """A cell of a named column, counted from 0."""
    entry = next(entry for entry in plain_file().entries if entry.name == name)
    first = entry.ref.split(":")[0]
    letter = first.rstrip("0123456789")
    return f"{entry.sheet}!{letter}{int(first[len(letter) :]) + number}"


def column(sheet: Document, name: str) -> list[Any]:
    """The values of a named column."""
    return [row[0] for row in sheet[name]]


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
            told = f" CHECK ENTRY, not used: {', '.join(hints[name] for name in wrong)}." if wrong else ""
            words = sheet["decision_words"]
            assert words.endswith(f"20 °C.{told}"), words
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
    for wrong in ("two", None, 0):
        sheet.set({"budget_factor": wrong})
        assert (sheet["budget_expanded"], "a factor k" in sheet["budget_words"]) == ("", True)
    sheet.set({"budget_factor": 2})
    for share, words in ((0.05, "fine enough"), (0.2, "usable"), (0.3, "too coarse")):
        sheet.set(
            {"budget_micrometer": share / 2 * sheet["pitch_diameter_tolerance"], "budget_micrometer_kind": "standard"}
        )
        assert words in sheet["budget_words"]


# What is typed as measured, method, instrument; the result. Limits: ASME B1.1-2003, Table 2A; the blank is the major.
MIC, GAUGE, OTHER_GAUGE, PLAIN = ("micrometer", "M-1"), ("gauge", "G-2"), ("gauge", "G-3"), ("gauge", "G-4")
ARTICLE = {
    "major_diameter": (
        (0.7485, *MIC, "in"), (0.7486, *MIC, "high"), (0.7390, *MIC, "low"), ("pass", *PLAIN, "passes"),
        (0.7390, *GAUGE, "check entry"), ("pass", *GAUGE, "check instrument"),
        ("pass", "over wires", "M-1", "check entry"),
        (0.744, "micrometer", "G-2", "check instrument"), (0.744, "by eye", "M-1", "check entry"),
    ),
    "pitch_diameter": (
        (0.7029, "over wires", "M-1", "in"), (0.7028, *MIC, "low"), (None, *MIC, "not measured"),
        ("pass", "over wires", "M-1", "check entry"), ("pass", "micrometer", "G-2", "check entry"),
        ("pass", *GAUGE, "passes"), ("pass", *OTHER_GAUGE, "check instrument"),
        ("pass", "gauge", "M-1", "check instrument"),
    ),
    "minor_diameter": (
        (0.66, *MIC, "recorded"), ("about .66", *MIC, "check entry"), ("pass", *MIC, "check entry"),
    ),
    "lead": (("pass", *GAUGE, "passes"), (0.0625, *MIC, "no limits"), ("fail", *GAUGE, "fails")),
    "length": (
        (1.3, "caliper", "M-1", "in"), (1.2, *MIC, "low"), (1.3, None, "M-1", "no method"),
        (2.1, *MIC, "check instrument"), (1e308, *MIC, "check entry"), ("pass", *GAUGE, "check instrument"),
    ),
    "hand": (
        ("right", "by eye", None, "in"),
        ("right", "by eye", "none", "in"),
        ("left", "by eye", None, "WRONG HAND"),
        ("right", "gauge", None, "no instrument"),
        ("right", "by eye", "M-2", "check instrument"),
        ("yes", "by eye", "none", "check entry"),
    ),
    "blank": (
        (0.744, *MIC, "in"),
        (0.744, "micrometer", None, "no instrument"),
        (-1, *MIC, "check entry"),
        (0.744, "micrometer", "M-2", "check instrument"),
        (0.744, "micrometer", "none", "check instrument"),
        (0.744, "micrometer", "?", "check instrument"),
        (0.744, "micrometer", "?-1", "check instrument"),
        (0.744, "by eye", "none", "check entry"),
        (0.744, "by eye", None, "no instrument"),
    ),
}  # fmt: skip


def fill_article(sheet: Document, rows: dict[str, tuple[Any, Any, Any]]) -> None:
    for number, one in enumerate(first_article_figures.ROWS):
        value, method, instrument = rows[one.key]
        sheet.set(
            {
                at("article_measured", number): value,
                at("article_method", number): method,
                at("article_instrument", number): instrument,
            }
        )


def same_again(sheet: Document) -> None:
    """The list as the rule in words judges it is the list on the sheet."""
    names = (*recompute.INPUTS, *article_by_hand.INPUTS)
    values = {
        name: [row[0] for row in value] if isinstance(value, list) else value
        for name, value in zip(names, sheet.get(names))
    }
    again = recompute.recompute({name: None if value == "" else value for name, value in values.items()}, [])
    want = article_by_hand.article_results(again.inputs, again.job)
    assert want.pop("article_result") == column(sheet, "article_result")
    assert want.pop("article_words") == sheet["article_words"]
    assert len(want) == 12
    for name, value in want.items():
        assert recompute.alike(sheet[name], value), (name, sheet[name], value)


def test_first_article_judges_each_characteristic(sheet: Document) -> None:
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set({"thread_length": 1.25})
    good = {key: cases[0][:3] for key, cases in ARTICLE.items()}
    fill_article(sheet, good)
    assert column(sheet, "article_result")[:7] == [cases[0][3] for cases in ARTICLE.values()]
    assert sheet["article_words"].startswith("ACCEPTED: all 7 characteristics")
    for number, (key, cases) in enumerate(ARTICLE.items()):
        for value, method, instrument, want in cases[1:]:
            fill_article(sheet, good | {key: (value, method, instrument)})
            assert column(sheet, "article_result")[number] == want, (key, value)
            words = sheet["article_words"]
            same_again(sheet)
            if want in ("in", "passes"):
                assert words.startswith("ACCEPTED")
                continue
            failed = want in ("low", "high", "fails", "WRONG HAND")
            assert words.startswith("NOT ACCEPTED. Outside" if failed else "NOT COMPLETE, so not accepted"), words
            assert f"({want})" in words
    fill_article(sheet, good)
    same_again(sheet)


# Limits of ASME B1.1-2003, Table 2A: pitch .7029 to .7079, major .7391 to .7485; U = .0002 on either side of each
# (ILAC-G8:09/2019, 4.2.3; ISO 14253-1). The blank has no U.
GUARDED = (
    ("pitch_diameter", 0.7077, "in"), ("pitch_diameter", 0.7078, "undecided"), ("pitch_diameter", 0.7079, "undecided"),
    ("pitch_diameter", 0.7082, "high"), ("pitch_diameter", 0.7031, "in"), ("pitch_diameter", 0.7026, "low"),
    ("major_diameter", 0.7483, "in"), ("major_diameter", 0.7485, "undecided"), ("major_diameter", 0.7390, "undecided"),
    ("major_diameter", 0.7388, "low"), ("blank", 0.7485, "in"),
)  # fmt: skip


@pytest.mark.parametrize(("key", "value", "want"), GUARDED)
def test_the_first_article_is_judged_by_the_rule_of_the_log(sheet: Document, key: str, value: float, want: str) -> None:
    choose(sheet, THREAD, "in", 0.0361)
    sheet.set({"decision_rule": "guard", "expanded_uncertainty": 0.0002, "coverage_factor": 2})
    good = {name: cases[0][:3] for name, cases in ARTICLE.items()}
    middle = {"major_diameter": (0.744, *MIC), "pitch_diameter": (0.7054, *MIC)}
    fill_article(sheet, good | middle | {key: (value, *MIC)})
    assert column(sheet, "article_result")[list(ARTICLE).index(key)] == want
    assert ("(undecided)" in sheet["article_words"]) == (want == "undecided")
    same_again(sheet)
    sheet.set({"decision_rule": "simple", "expanded_uncertainty": None, "coverage_factor": None})


def test_no_blank_characteristic_passes(sheet: Document) -> None:
    fill_article(sheet, dict.fromkeys(ARTICLE, (None, None, None)))
    assert column(sheet, "article_result")[:7] == ["not measured"] * 7
    words = sheet["article_words"]
    assert words.startswith("NOT COMPLETE")
    assert words.count("(not measured)") == 7
    fill_article(sheet, {key: cases[0][:3] for key, cases in ARTICLE.items()})
    sheet.set({at("article_other", 2): "Radius", at("article_other_high", 2): 0.5})
    assert "Radius (not measured)" in sheet["article_words"]
    same_again(sheet)
    nine = {"article_measured": 0.4, "article_method": "other", "article_instrument": "M-1"}
    sheet.set({at(name, 9): value for name, value in nine.items()})
    assert sheet["article_words"].startswith("ACCEPTED: all 8")
    sheet.set({at("article_other", 2): None})
    assert "number 10 (no name)" in sheet["article_words"]
    same_again(sheet)
    sheet.set({at(name, 9): None for name in nine} | {at("article_other_high", 2): None})
    assert sheet["article_words"].startswith("ACCEPTED: all 7")


def test_a_first_article_names_part_examiner_and_day(sheet: Document) -> None:
    choose(sheet, THREAD, "in", 0.0361)
    fill_article(sheet, {key: cases[0][:3] for key, cases in ARTICLE.items()})
    assert sheet["article_words"].startswith("ACCEPTED: all 7")
    sheet.set({"article_who": None})
    assert sheet["article_words"] == "NOT COMPLETE, so not accepted: name the part, who examined it and the day."
    same_again(sheet)
    sheet.set({"article_who": "inspector", "article_date": None})
    assert "Major diameter (check instrument)" in sheet["article_words"]  # in date on which day?
    same_again(sheet)
    sheet.set({"article_date": 44990, at("instrument_calibrated", 0): 44991})
    assert "Major diameter (check instrument)" in sheet["article_words"]  # it came back the day after
    same_again(sheet)
    sheet.set({at("instrument_calibrated", 0): 44990})
    assert "check instrument" not in sheet["article_words"]
    lead = [one.key for one in first_article_figures.ROWS].index("lead")
    sheet.set({"article_date": 44990, "article_lead_low": "0,0624", "article_lead_high": 0.0626})
    sheet.set({at("article_measured", lead): 0.01, at("article_method", lead): "micrometer"})
    sheet.set({at("article_instrument", lead): "M-1"})
    assert "Lead (check entry)" in sheet["article_words"]
    same_again(sheet)
    sheet.set({"article_lead_low": None, "article_lead_high": None})


def test_an_internal_thread_has_its_own_list(sheet: Document) -> None:
    choose(sheet, "3/4-16 UNF-2B", "in", None)
    assert sheet["article_blank_title"] == "Bore"
    same_again(sheet)
    assert [sheet[f"article_minor_diameter_{end}"] for end in ("low", "high")] == [
        0.682,
        0.696,
    ]  # ASME B1.1-2003, Table 2B
    assert (sheet["article_major_diameter_low"], sheet["article_major_diameter_high"]) == (0.75, "")
    choose(sheet, THREAD, "in", 0.0361)


# Lot, AQL, level, severity: letter, n, Ac (MIL-STD-105E, Tables I, II-A and II-B; ISO 2859-1:1999, Tables 1, 2-A, 2-B).
PLANS = (
    (1000, 1.0, "II", "normal", "J", 80, 2),
    (1000, 1.0, "II", "tightened", "J", 80, 1),
    (250, 1.0, "II", "normal", "G", 50, 1),  # the arrow leads down to H
    (500, 4.0, "II", "normal", "H", 50, 5),
    (500, 4.0, "II", "tightened", "H", 50, 3),
    (3200, 0.65, "II", "normal", "K", 125, 2),
    (10000, 2.5, "I", "normal", "J", 80, 5),
    (90, 2.5, "II", "normal", "E", 20, 1),  # down to F
    (20, 0.65, "II", "normal", "C", 20, 0),  # down to F: the sample is the lot
    (13, 1.0, "II", "normal", "B", 13, 0),  # down to E
    (12, 1.0, "II", "normal", "B", 12, 0),  # down to E: 13, more than the lot
)


@pytest.mark.parametrize(("lot", "aql", "level", "severity", "letter", "n", "accept"), PLANS)
def test_sample_is_that_of_the_published_tables(
    sheet: Document, lot: int, aql: float, level: str, severity: str, letter: str, n: int, accept: int
) -> None:
    sheet.set({"sample_lot": lot, "sample_aql": aql, "sample_level": level, "sample_severity": severity})
    found = sheet.get(["sample_code_letter", "sample_size", "sample_accept_number", "sample_reject_number"])
    assert found == [letter, n, accept, accept + 1]
    assert sheet["sample_words"].startswith("INSPECT ALL" if n >= lot else f"Inspect {n} of {lot}")


def test_what_to_mind_about_a_plan_is_told(sheet: Document) -> None:
    """G at 1.0 has an arrow down to H, H at 4.0 has a plan of its own (MIL-STD-105E, Table II-A)."""
    results = {at("sample_history", number): None for number in range(sampling_sheet.LOTS)}
    sheet.set(results | {"sample_lot": 250, "sample_aql": 1.0, "sample_level": "II", "sample_severity": "normal"})
    said = sheet["sample_mind"]
    assert "no plan for letter G" in said
    assert "leads to letter H" in said
    assert "For a single lot" in said
    assert "A small lot" in said  # 50 of 250
    sheet.set({"sample_lot": 501, "sample_aql": 4.0, at("sample_history", 0): "accepted"})
    assert sheet["sample_code_letter"] == "J"
    assert sheet["sample_mind"].startswith("A small lot")  # 80 of 501
    sheet.set({"sample_lot": 1200})
    assert sheet["sample_mind"] == ""
    sheet.set({"sample_lot": 20, "sample_aql": 0.65})
    assert "leads to letter F" in sheet["sample_mind"]
    assert "small lot" not in sheet["sample_mind"]  # every part is inspected
    sheet.set({"sample_lot": None, "quantity": None})
    assert sheet["sample_mind"] == ""
    sheet.set(results)


def test_sample_words(sheet: Document) -> None:
    sheet.set({"sample_lot": 1000, "sample_aql": 1.0, "sample_level": "II", "sample_severity": "normal"})
    for found, words in (
        (2, "ACCEPT"),
        (3, "REJECT"),
        ("x", "no number"),
        (90, "does not fit"),
        (None, "Accept the lot"),
    ):
        sheet.set({"sample_found": found})
        assert words in sheet["sample_words"]
    for wrong in (
        {"sample_lot": 1},
        {"sample_lot": "many"},
        {"sample_aql": 1.1},
        {"sample_level": "IV"},
        {"sample_aql": None},
    ):
        sheet.set({"sample_lot": 1000, "sample_aql": 1.0, "sample_level": "II"} | wrong)
        assert sheet.get(["sample_size", "sample_accept_number", "sample_reject_number"]) == ["", "", ""], wrong
        assert sheet["sample_words"].startswith("Next:")
    sheet.set({"sample_lot": None, "quantity": 200, "sample_aql": 1.0, "sample_level": "II"})
    assert sheet["sample_code_letter"] == "G"


def switched(results: list[str], start: str) -> list[str]:
    """The switching rules of ISO 2859-1:1999, 9.3 and 9.4, told lot by lot."""
    state, states, lots = start, [], []
    for result in results:
        lots.append(result)
        before = state
        if state == "normal" and lots[-5:].count("rejected") >= 2:
            state = "tightened"
        elif state == "tightened" and lots.count("rejected") >= 5:
            state = "discontinue"
        elif state == "tightened" and lots[-5:] == ["accepted"] * 5:
            state = "normal"
        if state != before:
            lots = []
        states.append(state)
    return states


def test_switching_rules_keep_the_state(sheet: Document) -> None:
    draw = random.Random(7)
    for chance in (0.1, 0.3, 0.45, 0.6, 0.8):
        for start in sampling_sheet.STATES:
            number = draw.randint(8, sampling_sheet.LOTS)
            results = ["rejected" if draw.random() < chance else "accepted" for _ in range(number)]
            cells = [[one] for one in [*results, *[None] * (sampling_sheet.LOTS - number)]]
            first, last = at("sample_history", 0), at("sample_history", sampling_sheet.LOTS - 1)
            sheet.set(
                {f"{first}:{last.split('!')[1]}": cells, "sample_starts_with": start, "sample_severity": "by the list"}
            )
            want = switched(results, start)
            assert column(sheet, "sample_inspections_next")[:number] == want, results
            assert sheet["sample_inspection_next"] == want[-1]
            stopped = want[-1] == "discontinue"
            assert sheet["sample_words"].startswith("STOP") == stopped
            for choice in sampling_sheet.STATES:
                sheet.set({"sample_severity": choice})
                words = sheet["sample_words"]
                assert words.startswith("STOP") == (sheet["sample_size"] == "") == stopped, (results, choice)
                assert (f"Choosing {choice} departs from the list" in words) == stopped
                told = words.endswith(f" NOT BY THE LIST, which says {want[-1]}.")
                assert told == (choice != want[-1] and not stopped), (results, choice)


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


def test_a_gap_in_the_list_of_lots_and_half_a_part_are_told(sheet: Document) -> None:
    results = ["accepted", "accepted", None, "rejected", "rejected", *[None] * (sampling_sheet.LOTS - 5)]
    sheet.set({at("sample_history", number): one for number, one in enumerate(results)})
    sheet.set({"sample_lot": 1000, "sample_aql": 1.0, "sample_severity": "by the list"})
    assert sheet["sample_words"].startswith("Next: fill in the list of lots without a gap")
    sheet.set({at("sample_history", number): None for number in range(len(results))} | {"sample_found": 0.5})
    assert sheet["sample_words"].endswith("The number found does not fit the sample.")
    sheet.set({"sample_found": None})


def test_a_stop_stands_before_everything_else(sheet: Document) -> None:
    """From the fifth lot rejected under tightened on, whatever is chosen or missing (ISO 2859-1:1999, 9.4)."""
    start = {"sample_starts_with": "tightened", "sample_lot": 150, "sample_aql": 1.0, "sample_level": "II"}
    for number in range(4, 9):
        sheet.set(start | {at("sample_history", lot): "rejected" for lot in range(number)})
        for asked in ({"sample_severity": "normal"}, {"sample_aql": None}, {at("sample_history", 12): "accepted"}):
            before = dict.fromkeys(asked) | {"sample_aql": 1.0, "sample_severity": "by the list"}
            sheet.set(asked)
            assert sheet["sample_words"].startswith("STOP") == (number >= 5), (number, asked)
            assert not (number >= 5 and "Accept the lot" in sheet["sample_words"])
            sheet.set(before)
    sheet.set({at("sample_history", lot): None for lot in range(8)} | {"sample_starts_with": "normal"})
