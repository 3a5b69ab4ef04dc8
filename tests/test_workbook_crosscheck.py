"""The cross-check block: words without the functions, agreement with them, and a difference when there is one."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from pathlib import Path

import pytest
from calc_office import extended

from sheetfuncs import standards
from workbook_template.file.build import chosen
from workbook_template.office import Error, Office
from workbook_template.sheets.crosscheck import CHECKS

WORDS = [f"check_{name}" for name, _, _ in CHECKS]
EVERY_CELL = ("Sources", "A1:L90")


@pytest.fixture(scope="module")
def with_functions(new_office: Callable[..., Office], tmp_path_factory: pytest.TempPathFactory) -> Iterator[Office]:
    with extended(new_office(), tmp_path_factory.mktemp("addin")) as running:
        yield running


def test_without_the_functions_there_are_words_and_no_error(office: Office, built_short: Mapping[str, Path]) -> None:
    with office.open(built_short["demo.xlsx"]) as document:
        assert set(document.get(WORDS)) == {"not loaded"}
        assert "not loaded here" in document["functions_words"]
        assert not [cell for row in document[EVERY_CELL] for cell in row if isinstance(cell, Error)]


def test_with_the_functions_every_line_agrees(with_functions: Office, built_short: Mapping[str, Path]) -> None:
    with with_functions.open(built_short["demo.xlsx"]) as document:
        assert all(words.startswith("agree: ") for words in document.get(WORDS)), document.get(WORDS)
        for callout, unit, tip, wire in (
            ("M20x2.5-6g", "mm", 0.2, 1.5),
            ("5/8-11 UNC-2A-LH", "mm", 0.3, 1.4),
            ("M20xPh5P2.5-6g", "in", 0.008, 0.058),
            ("1-5 ACME-2G", "in", 0.005, 0.1033),
        ):
            inputs = {"unit": unit, "tip_size": tip, "wire_in_use": wire, "blank_measured": None, "dial_division": None}
            document.set({**chosen(standards.read(callout)), **inputs, "compound_angle": None, "finishing_pass": None})
            words = dict(zip(WORDS, document.get(WORDS)))
            assert all(text.startswith(("agree: ", "no figure yet")) for text in words.values()), (callout, words)
            assert words["check_pitch_diameter_max"].startswith("agree: ")


def test_a_difference_is_told(with_functions: Office, built_short: Mapping[str, Path]) -> None:
    with with_functions.open(built_short["demo.xlsx"]) as document:
        right = document["pitch_diameter_max"]
        document.set({"pitch_diameter_max": right + 0.0001}, force=True)
        assert document["check_pitch_diameter_max"].startswith("DIFFER: formula ")
