"""The limits before coating on the sheets Job and Setup, in a real spreadsheet program, against the function."""

from __future__ import annotations

import random
from typing import Any

import pytest
from whole_books import SPECIALS

from sheetfuncs import CellError, evaluate, standards
from sheetfuncs.units import convert_length
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.sheets.thread_listing import listing

WHICH = ("major", "pitch", "minor")
NAMES = [f"uncoated_{which}_diameter_{end}" for which in WHICH for end in ("max", "min")]


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


def by_function(callout: str, unit: str, thin: float, thick: float) -> list[float | None] | None:
    """The limits in the order of NAMES; None where the function refuses the coating."""
    try:
        rows = evaluate("THREAD_BEFORE_COATING", callout, f"{thin:.9f} {unit}", f"{thick:.9f} {unit}", unit)[1:]
    except CellError:
        return None
    return [None if end == "" else end for row in rows for end in row[1:3]]


def drawn() -> list[tuple[str, str, float, float]]:
    """Threads of every system with coatings from none that counts to one that leaves nothing."""
    draw = random.Random(5)
    rows: dict[str, list[str]] = {}
    for row in listing([standards.read(text) for text in SPECIALS]).rows:
        rows.setdefault(row.system, []).append(row.callout)
    found = []
    for callouts in rows.values():
        for callout in draw.sample(callouts, min(4, len(callouts))):
            unit = draw.choice(("in", "mm"))
            pitch = standards.read(callout).pitch
            thick = pitch * 10 ** draw.uniform(-3.5, -1.5)
            ends = (convert_length(end, standards.read(callout).unit, unit) for end in (thick * draw.random(), thick))
            found.append((callout, unit, *(round(end, 7) for end in ends)))
    return found


def test_every_limit_is_that_of_the_function(sheet: Document) -> None:
    refused = given = 0
    for callout, unit, thin, thick in drawn():
        thread = standards.read(callout)
        sheet.set(chosen(thread) | {"unit": unit, "thinnest_coating": thin, "thickest_coating": thick})
        wanted = by_function(callout, unit, thin, thick)
        found: list[Any] = sheet.get(NAMES)
        if wanted is None:
            refused += 1
            assert not any(isinstance(one, float) for one in found), (callout, thin, thick)
            assert "leaves no tolerance" in sheet["coating_words"]
            continue
        given += 1
        for name, one, want in zip(NAMES, found, wanted):
            assert (one if isinstance(one, float) else None) == (
                None if want is None else pytest.approx(want, abs=2e-9)
            ), (callout, unit, thin, thick, name)
        assert sheet["coating_words"].startswith("COATED AFTERWARDS, ")
        assert sheet["coating_setup"] == sheet["coating_words"]
    assert refused >= 2
    assert given > 20


def test_the_printed_example_of_a_class_3a_thread(sheet: Document) -> None:
    """1/2-13 UNC-3A, .5000/.4891 by ASME B1.1, has no allowance: twice .0004 and twice .0002 less, by hand."""
    sheet.set(
        chosen(standards.read("1/2-13 UNC-3A"))
        | {"unit": "in", "thinnest_coating": 0.0002, "thickest_coating": 0.0004}
    )  # fmt: skip
    assert sheet.get(NAMES[:2]) == pytest.approx([0.5 - 0.0008, 0.4891 - 0.0004])
    assert "before it cut to major 0.4992 to 0.4887, pitch " in sheet["coating_words"]


@pytest.mark.parametrize(
    ("callout", "pitch_diameters"),
    [
        ("1/2-14 NPT external", (0.78289 - 0.0024, 0.77396 - 0.0012)),
        ("1/2-14 NPT internal", (0.78289 + 0.0012, 0.77396 + 0.0024)),
    ],
)
def test_a_tolerance_both_ways_is_no_allowance(
    sheet: Document, callout: str, pitch_diameters: tuple[float, float]
) -> None:
    """ASME B1.20.1: E1 .77843, one turn of 1/14 by the taper either way; four times .0003 and .0006, by hand."""
    sheet.set(
        chosen(standards.read(callout)) | {"unit": "in", "thinnest_coating": 0.0003, "thickest_coating": 0.0006}
    )  # fmt: skip
    assert sheet.get(NAMES[2:4]) == pytest.approx(pitch_diameters, abs=1e-5)


@pytest.mark.parametrize(
    ("thin", "thick", "words"),
    [
        (None, None, ""),
        (0.0002, None, "Coating: type its least and its greatest thickness as numbers, or empty both."),
        ("thin", 0.0003, "Coating: type its least and its greatest thickness as numbers, or empty both."),
        (0.0004, 0.0002, "Coating: the thinnest is more than the thickest; swap them."),
        (-0.1, 0.0002, "Coating: a thickness is a number more than zero."),
        (0.01, 0.02, "Coating: this thickness leaves no tolerance of the major diameter; agree another."),
        (10, 10, "Coating: this thickness fills the groove; check its unit."),  # micrometres, typed as inches
    ],
)
def test_a_thickness_that_can_not_be_is_named(sheet: Document, thin: Any, thick: Any, words: str) -> None:
    sheet.set(
        chosen(standards.read("3/4-16 UNF-2A")) | {"unit": "in", "thinnest_coating": thin, "thickest_coating": thick}
    )
    assert sheet["coating_words"] == words
    assert not any(isinstance(one, float) for one in sheet.get(NAMES))
