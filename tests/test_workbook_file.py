"""The finished file: stored values are what a recalculation gives, pages print as pages."""

from __future__ import annotations

import io
import re
import subprocess
import zipfile
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
from lxml import etree
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet
from whole_books import demo_pages, with_few_threads
from workbook_cases import changed, demo_file

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import chosen
from workbook_template.office import Office
from workbook_template.paper.openpyxl_inside import cells_in
from workbook_template.rules.parts import spell_out

PAGES = {
    **dict.fromkeys(("Start", "Job", "Setup", "Lathe", "Diagnosis", "Sources"), 1),
    **dict.fromkeys(("Charts", "Uncertainty", "First article", "Sampling"), 1),
    "Card": 2,
}
"""Pages of the sheets that are no lists."""
Print = Callable[[dict[str, Any]], list[str]]


def test_nothing_but_values_is_added() -> None:
    book = with_few_threads(values=demo.values())
    store.package(book)  # while it writes the first time, openpyxl marks the first sheet as chosen
    content = store.package(book)
    invented = {s.title: {c.coordinate: 1.5 for c in cells_in(s).values() if c.data_type == "f"} for s in book.workbook}
    finished = store.package(book, invented)
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(io.BytesIO(finished)) as new:
        assert old.namelist() == new.namelist()
        for name in old.namelist():
            before, after = old.read(name), new.read(name)
            if name.startswith("xl/worksheets/sheet"):
                before, after = (without_values(part) for part in (before, after))
            if name not in ("xl/styles.xml", "docProps/core.xml"):
                assert before == after, name


def test_another_library_reads_every_formula_and_value_of_the_short_file() -> None:
    """openpyxl moves shared formulas by a reader of its own."""
    book, content = demo_pages(), demo_file().content
    read = load_workbook(io.BytesIO(content))
    for sheet in book.workbook:
        assert read_cells(read[sheet.title]) == read_cells(sheet), sheet.title


def read_cells(sheet: Worksheet) -> dict[str, Any]:
    """What is in the cells of a sheet that hold something; of numbers as many digits as every program keeps."""
    return {
        cell.coordinate: f"{value:.13g}" if isinstance(value, float) else str(value).removesuffix(" 00:00:00")
        for cell in cells_in(sheet).values()
        if (value := cell.value) not in (None, "")
    }


def test_the_file_is_small(built: Mapping[str, Path]) -> None:
    """With its values; a megabyte is wanted, but formulas that give an empty text can't be shared.

    Files of the tests are packed less hard than those of the command: it makes them smaller.
    """
    assert max(built[name].stat().st_size for name in ("new.xlsx", "demo.xlsx")) < 1_200_000


def without_values(data: bytes) -> bytes:
    """A sheet without the values of its formulas and without types, each cell with its own formula."""
    root = etree.fromstring(data)
    spell_out(root)
    for cell in root.iter(f"{store.MAIN}c"):
        if cell.get("t") == "n":
            del cell.attrib["t"]
        blank = not "".join(cell.itertext())
        if blank or cell.find(f"{store.MAIN}f") is not None:
            cell.attrib.pop("t", None)
            for value in cell.findall("*" if blank else f"{store.MAIN}v"):
                cell.remove(value)
    return etree.tostring(root, method="c14n")


def sheet_of(page: str) -> str:
    """The footer begins with the sheet's title."""
    return re.split(r"  +", page.rstrip().splitlines()[-1].strip())[0]


@pytest.fixture(scope="module", params=["A4", "Letter"])
def printed(
    request: pytest.FixtureRequest, office: Office, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Print]:
    """Prints the example on one paper: inputs in, the text of the pages out."""
    content = demo_file().content
    if request.param == "Letter":
        content = changed(content, {"xl/worksheets/": ('paperSize="9"', 'paperSize="1"')})
    folder = tmp_path_factory.mktemp("pages")
    path, page_file = folder / "pages.xlsx", folder / "pages.pdf"
    path.write_bytes(content)
    with office.open(path) as document:

        def pages(inputs: dict[str, Any]) -> list[str]:
            document.set(inputs)
            document.save_as(page_file)
            said = subprocess.run(
                ["pdftotext", "-layout", str(page_file), "-"], capture_output=True, text=True, check=True
            )
            return said.stdout.rstrip("\f").split("\f")

        yield pages


def test_every_sheet_has_its_pages(printed: Print) -> None:
    """With the longest plan of passes, and with the words for a left-hand thread on top."""
    inputs = chosen(standards.read("3/4-16 UNF-2A-LH")) | {"unit": "in", "passes": 30, "spring_passes": 6}
    found = printed(inputs | {"dial_division": None, "finishing_pass": None})
    count = Counter(map(sheet_of, found))
    assert {title: count[title] for title in PAGES} == PAGES
    first = {
        title: next(page for page in found if sheet_of(page) == title) for title in ("Start", "Job", "Setup", "Card")
    }
    for page in first.values():
        assert "LEFT HAND THREAD" in page
        assert "3/4-16 UNF-2A-LH" in page
    assert "With another tip: do not feed this" in first["Setup"]
    assert " 36 " in first["Card"]


def test_digits_follow_the_working_unit(printed: Print) -> None:
    """A rule changes the number format, so only the printed page shows it. M20x2.5-6g: 18.334/18.164 (ISO 965-2)."""
    inputs = dict.fromkeys(("tip_size", "blank_measured", "dial_division", "finishing_pass", "spring_passes"))
    inputs |= chosen(standards.read("M20x2.5-6g")) | {"unit": "mm", "tip_kind": "sharp", "passes": 4}
    found = printed(inputs)
    job = next(page for page in found if sheet_of(page) == "Job")
    card = next(page for page in found if sheet_of(page) == "Card")
    assert {"18.334", "18.164", "2.500"} <= set(job.split())
    assert "18.3340" not in job
    assert "LEFT HAND" not in job + card
    plan = re.findall(r"^ +[1-4] +[0-9]+ div\. +0\.[0-9]{4}\b", card, re.MULTILINE)
    assert len(plan) == 4  # the dial of the example's lathe is an inch one: its readings stand in inches
