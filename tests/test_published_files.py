"""The files of printed rows themselves: every column is compared or said not to be, every flagged row is caught."""

from __future__ import annotations

import re
from math import sqrt
from pathlib import Path

import pytest
from published_rows import PUBLISHED, agrees, every_row, header, rows
from test_published import LIMITS, computed_limits

from sheetfuncs import CellError, evaluate, quantiles, sampling, standards, tables
from sheetfuncs.standards import pipe_taper_iso

NAMES = sorted(path.stem for path in PUBLISHED.glob("*.csv"))
TESTS = {path.name: path.read_text(encoding="utf-8") for path in Path(__file__).parent.glob("test_*.py")}


BUILT = {
    "acme_centralizing_tolerances": r"major_(ext|int)_[34]C",
    "acme_pd_allowances": r"class\d",
    "grr_aiag_data": r"part\d+",
    "infeed_passes": r"pass\d+",
    "iso_deviations": r"[efgGhH]",
    "sampling_code_letters": r"S-\d|I+",
    "sampling_package": r"[\d.]+",
    "unified_unf_mm": r"pd_max_\dB_mm",
}
"""Columns whose names a test puts together."""


@pytest.mark.parametrize("name", NAMES)
def test_a_file_says_what_it_is_and_from_where(name: str) -> None:
    said = " ".join(header(name)).lower()
    assert "source" in said
    assert "trust" in said
    assert not re.search(r"github|http|@", said), "a source is named by its title, a package by its name and version"


@pytest.mark.parametrize("name", NAMES)
def test_every_column_is_compared_or_said_not_to_be(name: str) -> None:
    """A test that reads the file must name the column, or its head says why no test does."""
    lists = [line.partition(":")[2].partition(";")[0] for line in header(name) if line.startswith("not compared:")]
    left_out = [column.strip() for text in lists for column in text.split(",")]
    built = BUILT.get(name, "$")
    users = [text for text in TESTS.values() if f'"{name}"' in text]
    assert users, f"no test reads {name}"
    for column in every_row(name)[0]:
        named = any(f'"{column}"' in text or f"'{column}'" in text for text in users)
        told = re.fullmatch(built, column) or column in (*left_out, "source", "flag", "trust", "note")
        assert named or told, f"{name}: {column}"
    assert set(left_out) <= set(every_row(name)[0])


# Flagged rows: what catches each file's, by the test's name.
CAUGHT_ELSEWHERE = {
    "acme_limits": "test_rows_that_do_not_keep_the_standard_are_caught",
    "npt_lengths_reprint": "test_the_misprinted_rows_of_the_reprints_are_caught",
    "npt_second_copy": "test_the_misprinted_rows_of_the_reprints_are_caught",
    "quantiles": "test_a_misprint_does_not_agree",
    "trapezoidal_10c": "test_the_misprinted_deviation_is_caught",
    "trapezoidal_basic": "test_misprinted_basic_sizes_are_caught",
    "trapezoidal_gauge_sheets": "test_tolerances_that_gauge_worksheets_set_down",
    "unified_limits": "test_a_misprinted_row_is_caught",
    "whitworth_basic": "test_flagged_basic_sizes_do_not_agree",
    "whitworth_series": "test_sizes_that_no_list_has_are_not_made_up",
}


def ba_inches_agree(row: dict[str, str]) -> bool:
    return agrees(standards.read(row["thread"]).diameter / 25.4, row["major_in"])


def iso_limits_agree(row: dict[str, str]) -> bool:
    found = computed_limits(row["thread"])
    return all(agrees(found[name], row[name]) for name in LIMITS if row[name])


def iso_tolerances_agree(row: dict[str, str]) -> bool:
    if row["quantity"] == "TD2":  # a grade that the standard does not have
        with pytest.raises(CellError, match="no pitch diameter grade 6"):
            standards.limits(standards.read(f"M{row['d_upto']}x{row['pitch']}-6H"))
        return False
    return agrees(-standards.limits(standards.read(f"M20x{row['pitch']}-6g")).allowance, row["value_mm"])


def iso_crest_agrees(row: dict[str, str]) -> bool:
    held = {one["pitch_mm"]: one for one in tables.rows("iso_crest_tolerance")}[row["pitch_mm"]]
    return (held["TD1_6_um"], held["Td_6_um"]) == (row["TD1_6"], row["Td_6"])


def iso_deviation_agrees(row: dict[str, str]) -> bool:
    """E opens the nut: it is above zero in every other row, as F, G and H are."""
    assert all(int(one["E"]) > 0 for one in rows("iso_deviations") if one["E"])
    return int(row["E"]) > 0


def gauge_length_agrees(row: dict[str, str]) -> bool:
    return agrees(pipe_taper_iso.sizes()[row["size"]]["gauge_mm"], row["gauge_mm"])


def sampling_guide_agrees(row: dict[str, str]) -> bool:
    held = {one["letter"]: one for one in tables.rows(f"sampling_{row['severity']}")}[row["letter"]]
    aql = row["flag"].partition(":")[0]
    assert sampling.plan(row["letter"], float(aql), row["severity"]).letter > row["letter"]
    return held[aql] == row[aql]


def student_agrees(row: dict[str, str]) -> bool:
    return agrees(quantiles.t(0.95, float(row["freedom"])), row["p90"])


def unified_basic_agrees(row: dict[str, str]) -> bool:
    found = standards.limits(standards.read(f"{row['thread']}-3A")).minor.max
    return agrees(found, row["ext_minor_unr_ref"], places_off=1)


def acme_wire_agrees(row: dict[str, str]) -> bool:
    """The best wire falls slowly with the lead angle; its neighbours in the table are a few units away."""
    near = [
        float(one["best_wire_w1"])
        for one in rows("wires_acme_large_lead_angle")
        if abs(float(one["lead_angle_deg"]) - float(row["lead_angle_deg"])) < 0.25
    ]
    assert near
    return min(near) - 0.001 <= float(row["best_wire_w1"]) <= max(near) + 0.001


def over_wires_agree(row: dict[str, str]) -> bool:
    """Printed with a digit too many, 2.28211; the row holds it without the second."""
    found = evaluate("THREAD_OVER_WIRES", f"{row['major']}-{row['tpi']} UNS", row["wire"], "basic")
    return agrees(found, row["flag"].split()[1], places_off=1)


CAUGHT = {
    "ba_inches": ba_inches_agree,
    "iso_7_1_gauge_lengths": gauge_length_agrees,
    "iso_crest_tolerances": iso_crest_agrees,
    "iso_deviations": iso_deviation_agrees,
    "iso_limits": iso_limits_agree,
    "iso_tolerances": iso_tolerances_agree,
    "sampling_guide": sampling_guide_agrees,
    "student_tn1297": student_agrees,
    "unified_basic": unified_basic_agrees,
    "wires_acme_large_lead_angle": acme_wire_agrees,
    "wires_dims_over_wires_mh31": over_wires_agree,
}
FLAGGED = [(name, row) for name in NAMES for row in every_row(name) if row.get("flag")]


def test_each_file_with_flagged_rows_has_its_test() -> None:
    assert {name for name, _ in FLAGGED} == {*CAUGHT, *CAUGHT_ELSEWHERE}
    every_test = "".join(TESTS.values())
    for test in CAUGHT_ELSEWHERE.values():
        assert f"def {test}(" in every_test


@pytest.mark.parametrize(
    ("name", "row"), [(n, r) for n, r in FLAGGED if n in CAUGHT], ids=lambda part: part if isinstance(part, str) else ""
)
def test_a_flagged_row_does_not_agree(name: str, row: dict[str, str]) -> None:
    assert not CAUGHT[name](row), row


def test_forms_and_heights_beside_the_sizes() -> None:
    """Heights of the sharp triangle and of the thread that the tables print beside their sizes."""
    for row in rows("whitworth_form_mh31"):
        assert agrees(1 / (2 * float(row["tpi"]) * 0.520567050552), row["H"], 1), row  # tan 27.5 degrees
    for row in rows("gost_6357_profile"):
        assert agrees(float(row["H"]) / 6, row["H_6"], 1), row
    for row in rows("npt_truncation"):
        assert agrees(sqrt(3) / 2 / float(row["tpi"]), row["H"]), row
