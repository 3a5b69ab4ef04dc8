"""What people see and print, in a real Calc: where Tab goes, and how many pages the whole example is."""

from __future__ import annotations

import subprocess
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.cell.cell import Cell
from read_back_files import part, with_parts

from workbook_template.file.tabs import SHEETS
from workbook_template.office import Document, Office

MOST_PAGES = 25
"""Of the whole filled example; the number may only get smaller."""

TITLES = tuple(module.SHEET for module in SHEETS)
WALKED = 120
"""Stops of a long list that are looked at."""


@pytest.fixture(scope="module")
def demo_shown(office: Office, built_short: Mapping[str, Path]) -> Iterator[Document]:
    """The example as it opens."""
    with office.open(built_short["demo.xlsx"], recalculate=False) as document:
        yield document


@pytest.fixture(scope="module")
def demo_read(built_short: Mapping[str, Path]) -> Workbook:
    """The same as another library reads it."""
    return load_workbook(built_short["demo.xlsx"])


@pytest.mark.parametrize("title", TITLES)
def test_tab_goes_through_the_entries_in_the_order_of_the_eye(
    demo_shown: Document, demo_read: Workbook, title: str
) -> None:
    """From left to right, line by line, through what can be seen; the sheet opens on one of them."""
    ws = demo_read[title]
    hidden = {column for one in ws.column_dimensions.values() if one.hidden for column in range(one.min, one.max + 1)}
    cells = (cell for row in ws.iter_rows(2) for cell in row if isinstance(cell, Cell) and cell.column not in hidden)
    wanted = [cell.coordinate for cell in cells if not cell.protection.locked]
    stops = demo_shown.stops(title, WALKED)
    assert stops == (wanted[:WALKED] or ["A2"])
    if wanted:
        assert ws.sheet_view.selection[-1].activeCell in stops


A4, LETTER = b'paperSize="9"', b'paperSize="1"'


@pytest.mark.parametrize("paper", [A4, LETTER], ids=["A4", "Letter"])
def test_the_whole_example_is_printed_on_few_pages(
    office: Office, built: Mapping[str, Path], tmp_path: Path, paper: bytes
) -> None:
    """In the order of the tabs, every sheet once."""
    content = built["demo.xlsx"].read_bytes()
    sheets = [f"xl/worksheets/sheet{number}.xml" for number in range(1, len(TITLES) + 1)]
    (tmp_path / "demo.xlsx").write_bytes(
        with_parts(content, {name: part(content, name).replace(A4, paper) for name in sheets})
    )
    pdf = tmp_path / "demo.pdf"
    with office.open(tmp_path / "demo.xlsx", recalculate=False) as document:
        document.save_as(pdf)
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True).stdout
    feet = [page.rstrip().rsplit("\n", 1)[-1].strip() for page in text.rstrip("\f").split("\f")]
    on = [max((title for title in TITLES if foot.startswith(title)), key=len) for foot in feet]
    assert list(dict.fromkeys(on)) == [*TITLES]
    assert len(on) <= MOST_PAGES, Counter(on)
