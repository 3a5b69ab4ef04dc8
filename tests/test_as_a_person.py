"""Workbooks as a person meets them: opened with their stored values, edited one cell at a time, saved, opened again.

LibreOffice as it is installed believes stored values and computes only what depends on the edited cell. A hard
recalculation before looking hides what that gives, so it is only used on a twin of the file: after each edit every
cell must hold what a hard recalculation makes of the same inputs.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

import pytest
from log_cases import cell

from workbook_template.office import Document, Office

UNDO = "undo"
"""Stands in a walk for taking the last edit back."""

Edit = tuple[str, str] | str


class Walk(NamedTuple):
    """One file and what is typed into it: a place and its text, empty to clear.

    Where there is more to be typed `again`, LibreOffice has saved the file before, as .xlsx and as .ods, and it was
    opened once more.
    """

    file: str
    edits: tuple[Edit, ...]
    again: tuple[Edit, ...] = ()
    all_threads: bool = False  # the others have few in their table


DEMO = Walk(
    "demo.xlsx",
    (
        ("passes", "12"),
        ("blank_measured", ".7445"),
        UNDO,
        ("blank_measured", ""),
        ("aim_limit", ""),
        ("aim_limit", "max"),
        ("tip_kind", "flat"),
        ("tip_kind", "sharp"),
        ("wire_set", ""),
        ("wire_in_use", "0.04"),
        ("wire_in_use", ""),
        ("wire_set", "W-36"),
        ("reading_now", "0.7601"),
        ("compound_angle", "29,5"),
        ("compound_angle", ""),
        ("unit", "mm"),
        UNDO,
        ("hand", "left"),
        ("starts", "2"),
        ("thread_class", "2B"),
        ("thread_size", "5/8-18 UNF"),
        ("thread_system", "UNJ"),
        ("thread_size", "3/8-24 UNJF"),
        ("thread_class", "3A"),
        (cell("serial", 29), "S-40"),
        (cell("reading", 29), "0.7599"),
        (cell("reading", 29), ""),
        UNDO,
        ("log_once_instrument", "M-1"),
        ("log_once_when", "2024-03-06"),
        (cell("why", 29), "read again"),
        (cell("serial", 29), "004"),
        ("decision_rule", "guard"),
        ("as_of", "2025-01-01"),
        ("chart_first", "3"),
        ("lathe_in_use", "2"),
        ("reaction_spread", "abc"),
        ("estimate_quantity_2", "37"),
        ("quantity", "30"),
        ("Quote!D8", "12"),
        ("study_tolerance_width", ""),
        ("Instruments!H33", "no"),
    ),
    (("thread_system", "Unified"), ("thread_size", "3/4-16 UNF"), ("thread_class", "2A"), ("unit", "mm"), UNDO),
    all_threads=True,
)
NEW = Walk(
    "new.xlsx",
    (
        ("customer", "A shop"),
        ("thread_system", "Unified"),
        ("thread_size", "1/2-13 UNC"),
        ("thread_class", "2A"),
        ("unit", "in"),
        ("tip_kind", "sharp"),
        ("blank_measured", ".495"),
        ("aim_limit", "mid"),
        ("passes", "8"),
        ("wire_in_use", ".045"),
        (cell("serial", 1), "1"),
        (cell("reading", 1), "0.5100"),
        UNDO,
    ),
    (("thread_class", ""), UNDO),
    all_threads=True,
)
INTERNAL = Walk(
    "internal.xlsx",
    (
        ("tip_kind", "nose radius"),
        ("tip_size", "0.05"),
        ("aim_limit", "mid"),
        ("blank_measured", "4.2"),
        (cell("crest", 1), "4.25"),
        (cell("ring", 1), "pass"),
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
        ("wire_in_use", "3.6"),
        ("starts", "1"),
        UNDO,
        (cell("reading", 1), "41.2"),
        ("wire_in_use", ""),
        UNDO,
    ),
)
TAPER = Walk(
    "taper.xlsx",
    (
        ("tip_kind", "sharp"),
        ("aim_limit", "mid"),
        ("wire_in_use", ".04"),
        (cell("ring", 1), "pass"),
        ("thread_class", "internal"),
        ("thread_class", "external"),
    ),
)
WALKS = (DEMO, NEW, INTERNAL, FOUR_STARTS, TAPER)
FEWEST_EDITS = 60


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


def walk_on(seen: Document, twin: Document, edits: tuple[Edit, ...], where: str) -> None:
    """Make the edits in both; after each, every formula's cell must be what a hard recalculation gives.

    All other cells are what was typed, the same in both: they are compared before the first edit and after the last.
    """
    found = seen.differences(twin)
    assert not found, f"{where}, as opened, {first(found)}"
    for number, edit in enumerate(edits, start=1):
        for document in (seen, twin):
            apply(document, edit)
        twin.recalculate()
        found = seen.differences(twin, formulas_only=number < len(edits))
        assert not found, f"{where}, after edit {number}, {edit}, {first(found)}"


def test_the_walks_are_long_enough() -> None:
    assert sum(len(walk.edits) for walk in WALKS) >= FEWEST_EDITS


@pytest.mark.parametrize("walk", WALKS, ids=lambda walk: walk.file)
def test_every_cell_is_right_as_opened_and_after_each_edit(
    office: Office, built: Mapping[str, Path], built_short: Mapping[str, Path], tmp_path: Path, walk: Walk
) -> None:
    file = (built if walk.all_threads else built_short)[walk.file]
    with office.open(file) as twin:
        with office.open(file, recalculate=False) as seen:
            walk_on(seen, twin, walk.edits, "as built")
            saved = [seen.save_as(tmp_path / f"saved.{ending}") for ending in ("xlsx", "ods") if walk.again]
        for path in saved:
            with office.open(path, recalculate=False) as seen:
                walk_on(seen, twin, walk.again, f"saved as {path.suffix}")
            for _ in range(len(walk.again) - 2 * walk.again.count(UNDO)):
                twin.undo()
            twin.recalculate()


FIRST_EDITS = {
    "demo.xlsx": (
        ("hand", "left"),
        ("thread_class", "2B"),
        (cell("serial", 29), "S-40"),
        (cell("reading", 29), "0.7599"),
    ),
    "new.xlsx": ((cell("serial", 1), "1"), (cell("reading", 1), "0.5100"), ("Instruments!A9", "M-1"), ("unit", "in")),
}


@pytest.mark.parametrize("file", FIRST_EDITS)
def test_the_first_edit_reaches_what_nobody_has_looked_at(
    office: Office, built_short: Mapping[str, Path], file: str
) -> None:
    """Nothing is read before the edit: LibreOffice computes what it has to show, and that would mend what is behind."""
    with office.open(built_short[file]) as twin:
        for edit in FIRST_EDITS[file]:
            with office.open(built_short[file], recalculate=False) as seen:
                for document in (seen, twin):
                    apply(document, edit)
                twin.recalculate()
                found = seen.differences(twin, formulas_only=True)
                assert not found, f"after {edit}, {first(found)}"
            twin.undo()


def test_a_wrong_stored_value_is_seen(office: Office, built: Mapping[str, Path], tmp_path: Path) -> None:
    """The comparison would mean little if LibreOffice computed the stored values again when it opens a file."""
    from workbook_cases import changed, demo_file  # takes the whole workbook along

    sheet = next(one.sheet for one in demo_file().entries if one.name == "depth")
    part = f"sheet{demo_file().titles.index(sheet) + 1}.xml"
    content = changed(built["demo.xlsx"].read_bytes(), {part: ("<v>0.0383", "<v>0.0385")})
    path = tmp_path / "wrong.xlsx"
    path.write_bytes(content)
    with office.open(path, recalculate=False) as seen, office.open(path) as twin:
        assert seen.differences(twin)
