"""A workbook with all its threads is read back: in other tests of that there are few in its table."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from read_back_files import part, with_parts

from workbook_template.office import Office
from workbook_template.read_back.check import check
from workbook_template.read_back.contents import open_book
from workbook_template.sheets import threads_table

INSTRUMENTS = 3
"""Measurements of the example whose instrument doesn't count; they are meant."""
FEWEST = 19_000
LAST, OTHER = "6.452", "6.453"
"""The least minor diameter of 6-8 NPSM inside, in the last row of the table, and another.

Machinery's Handbook, 27th ed., Table 5 on p. 1865.
"""


def test_the_example_as_libreoffice_saves_it_has_none(
    built: Mapping[str, Path], office: Office, tmp_path: Path
) -> None:
    with office.open(built["demo.xlsx"]) as document:
        document.set({"made_by": "turner"})
        document.save_as(tmp_path / "saved.xlsx")
    found = check(tmp_path / "saved.xlsx")
    assert found.findings == []
    assert [one.kind for one in found.remarks] == ["instrument"] * INSTRUMENTS
    page = Path(__file__).parent.parent / "docs" / "check-and-collect.md"
    assert found.compared > FEWEST
    assert f"more than {FEWEST:,} cells" in page.read_text(encoding="utf-8")


def test_the_last_limit_of_the_table_is_compared_too(built: Mapping[str, Path], tmp_path: Path) -> None:
    content, table = built["demo.xlsx"].read_bytes(), open_book(built["demo.xlsx"]).sheets[threads_table.SHEET]
    before, held, after = part(content, table).rpartition(f"<v>{LAST}</v>".encode())
    assert held
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, {table: before + f"<v>{OTHER}</v>".encode() + after}))
    assert [one.words for one in check(path).findings] == [f"{OTHER} stands here; built was {LAST}"]
