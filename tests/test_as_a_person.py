"""Workbooks as a person meets them: opened with their stored values, edited one cell at a time, saved, opened again.

LibreOffice as it is installed believes stored values and computes only what depends on the edited cell. A hard
recalculation before looking hides what that gives, so it is only used on a twin of the file: after each edit every
cell must hold what a hard recalculation makes of the same inputs.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import pytest

from workbook_template.office import Document, Office

UNDO = "undo"
"""Stands in a walk for taking the last edit back."""

Edit = tuple[str, str] | str


class Walk(NamedTuple):
    """One file and what is typed into it: a place and its text, empty to clear."""

    file: str
    edits: tuple[Edit, ...]


DEMO = Walk(
    "demo.xlsx",
    (
        ("passes", "12"),
        ("blank_measured", ".7445"),
        UNDO,
        ("blank_measured", ""),
        ("blank_measured", "0.744"),
        ("aim_limit", ""),
        ("aim_limit", "max"),
        ("tip_kind", "flat"),
        ("tip_kind", "sharp"),
        ("tip_size", ""),
        UNDO,
        ("wire_set", ""),
        ("wire_in_use", "0.04"),
        ("wire_in_use", ""),
        ("wire_set", "W-36"),
        ("reading_now", "0.7601"),
        ("compound_angle", "29,5"),
        ("compound_angle", ""),
        ("dial_division", ""),
        ("unit", "mm"),
        UNDO,
        ("hand", "left"),
        ("starts", "2"),
        ("starts", "1"),
        ("thread_class", "2B"),
        ("thread_class", "3A"),
        ("thread_size", ""),
        ("thread_size", "5/8-18 UNF"),
        ("thread_system", "ISO metric"),
        ("thread_size", "M20x2.5"),
        ("thread_class", "6g"),
        ("thread_system", "UNJ"),
        ("thread_size", "3/8-24 UNJF"),
        ("thread_class", "3A"),
        ("thread_system", "Unified"),
        ("thread_size", "3/4-16 UNF"),
        ("thread_class", "2A"),
        ("hand", "right"),
        ("Log!A40", "S-40"),
        ("Log!B40", "0.7599"),
        ("Log!L40", "M-1"),
        ("Log!P40", "2024-03-05"),
        ("Log!B40", ""),
        UNDO,
        ("Log!A40", ""),
        ("decision_rule", "guard"),
        ("as_of", "2025-01-01"),
        ("as_of", ""),
        ("chart_first", "3"),
        ("lathe_in_use", "2"),
        ("relief_usable", ""),
        ("reaction_spread", "abc"),
        ("lathe_in_use", "1"),
        ("estimate_quantity_2", "37"),
        ("estimate_bar_line", ""),
        ("quantity", "30"),
        ("offer_valid", "2030-01-31"),
        ("Quote!D8", "12"),
        ("certificate_lot", "L-9"),
        ("study_tolerance", ""),
        ("Records!H29", "0.745"),
        ("Instruments!H33", "no"),
        ("Instruments!H33", ""),
    ),
)
NEW = Walk(
    "new.xlsx",
    (
        ("customer", "A shop"),
        ("quantity", "3"),
        ("thread_system", "Unified"),
        ("thread_size", "1/2-13 UNC"),
        ("thread_class", "2A"),
        ("unit", "in"),
        ("tip_kind", "sharp"),
        ("blank_measured", ".495"),
        ("aim_limit", "mid"),
        ("passes", "8"),
        ("wire_in_use", ".045"),
        ("reading_now", ".52"),
        ("Log!A12", "1"),
        ("Log!B12", "0.5100"),
        UNDO,
        ("Log!A12", ""),
        ("thread_class", ""),
        UNDO,
    ),
)
INTERNAL = Walk(
    "internal.xlsx",
    (
        ("tip_kind", "nose radius"),
        ("tip_size", "0.05"),
        ("aim_limit", "mid"),
        ("blank_measured", "4.2"),
        ("passes", "6"),
        ("blank_measured", ""),
        ("Log!A12", "1"),
        ("Log!I12", "4.25"),
        ("Log!J12", "pass"),
        ("hand", "right"),
        UNDO,
    ),
)
FOUR_STARTS = Walk(
    "four_starts.xlsx",
    (
        ("tip_kind", "flat"),
        ("tip_size", "2.2"),
        ("aim_limit", "mid"),
        ("passes", "20"),
        ("wire_in_use", "3.6"),
        ("reading_now", "42"),
        ("starts", "1"),
        UNDO,
        ("Log!A12", "1"),
        ("Log!B12", "41.2"),
        ("wire_in_use", ""),
    ),
)
TAPER = Walk(
    "taper.xlsx",
    (
        ("tip_kind", "sharp"),
        ("aim_limit", "mid"),
        ("passes", "7"),
        ("wire_in_use", ".04"),
        ("Log!A12", "1"),
        ("Log!J12", "pass"),
        ("thread_class", "internal"),
        ("thread_class", "external"),
    ),
)
WALKS = (DEMO, NEW, INTERNAL, FOUR_STARTS, TAPER)
FEWEST_EDITS = 60

SAVED = ("as built", "xlsx", "ods")
"""How the file stands before it is opened: as the command wrote it, or saved by LibreOffice in that format."""


def apply(document: Document, edit: Edit) -> None:
    """One edit as a person makes it."""
    if isinstance(edit, str):
        document.undo()
    else:
        document.edit(*edit)


def first(found: list[tuple]) -> str:
    """The first differences in words."""
    rows = [f"{sheet}!{cell} holds {value!r} where {wanted!r} is right" for sheet, cell, value, wanted in found[:5]]
    return f"{len(found)} cells: {'; '.join(rows)}"


@pytest.fixture(scope="module", params=SAVED)
def opened(
    request: pytest.FixtureRequest, office: Office, built: dict[str, Path], tmp_path_factory: pytest.TempPathFactory
) -> Iterator[dict[str, Path]]:
    """The files, in one of the ways they can have been saved."""
    if request.param == "as built":
        return built
    folder = tmp_path_factory.mktemp(request.param)
    files = {}
    for walk in WALKS:
        with office.open(built[walk.file], recalculate=False) as document:
            files[walk.file] = document.save_as(folder / f"{Path(walk.file).stem}.{request.param}")
    return files


def test_the_walks_are_long_enough() -> None:
    assert sum(len(walk.edits) for walk in WALKS) >= FEWEST_EDITS


@pytest.mark.parametrize("walk", WALKS, ids=lambda walk: walk.file)
def test_every_cell_is_right_as_opened_and_after_each_edit(office: Office, opened: dict[str, Path], walk: Walk) -> None:
    path = opened[walk.file]
    with office.open(path, recalculate=False) as seen, office.open(path) as twin:
        found = seen.differences(twin)
        assert not found, f"as opened, {first(found)}"
        for number, edit in enumerate(walk.edits, start=1):
            for document in (seen, twin):
                apply(document, edit)
            twin.recalculate()
            found = seen.differences(twin)
            assert not found, f"after edit {number}, {edit}, {first(found)}"


def test_a_wrong_stored_value_is_seen(office: Office, built: dict[str, Path], tmp_path: Path) -> None:
    """The comparison would mean little if LibreOffice computed the stored values again when it opens a file."""
    from workbook_cases import changed  # takes the whole workbook along

    content = changed(built["demo.xlsx"].read_bytes(), {"sheet2.xml": ("<v>0.0383", "<v>0.0385")})
    path = tmp_path / "wrong.xlsx"
    path.write_bytes(content)
    with office.open(path, recalculate=False) as seen, office.open(path) as twin:
        assert seen.differences(twin)
