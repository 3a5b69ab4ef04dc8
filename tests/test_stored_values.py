"""The values that a file is stored with, computed in Python, are LibreOffice's in every cell.

Under other inputs tests/test_second_engine.py compares them, as those of any other engine.
"""

from __future__ import annotations

import os
import subprocess
import sys
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from openpyxl.utils import get_column_letter, range_boundaries
from whole_books import plain_book, with_few_threads
from workbook_cases import plain_file

from workbook_template.demo import job
from workbook_template.figures.book import Problem
from workbook_template.figures.functions import serial
from workbook_template.figures.value import Computed
from workbook_template.file import store
from workbook_template.office import Document, Error, Office
from workbook_template.paper.blocks import Book

RELATIVE = 1e-12
FEWEST = 19_000


class Case(NamedTuple):
    """One workbook, computed and open in LibreOffice."""

    computed: Computed
    document: Document
    inputs: dict[str, tuple[str, int, int]]

    def differences(self) -> tuple[list[str], int]:
        """The cells that differ, and how many there are."""
        found, count = [], 0
        for sheet in self.document.sheet_names():
            mine = self.computed.values(sheet)
            bottom, right = max(row for row, _ in mine), max(column for _, column in mine)
            other = self.document[sheet, f"A1:{get_column_letter(right)}{bottom}"]
            count += len(mine)
            for (row, column), value in mine.items():
                theirs = other[row - 1][column - 1]
                if not same(value, theirs):
                    found.append(f"{sheet}!{get_column_letter(column)}{row}: {value!r}, in LibreOffice {theirs!r}")
        return found, count


def same(mine: Any, theirs: Any) -> bool:
    """Equal texts, yes and no, errors; numbers equal but for the last digits of a sum."""
    if isinstance(mine, Problem):
        return isinstance(theirs, Error) and mine.code == theirs.text
    if isinstance(mine, float) and isinstance(theirs, float):
        return abs(mine - theirs) <= RELATIVE * max(abs(mine), abs(theirs), 1e-6)
    return (type(mine) is type(theirs) and mine == theirs) or (mine == "" and theirs is None)


def opened(office: Office, folder: Path, book: Book, content: bytes) -> Case:
    path = folder / "book.xlsx"
    path.write_bytes(content)
    computed = Computed(store.cells_of(book), serial(date.today()), store.PROBABILITY)
    document = office.open(path)
    document.recalculate()
    inputs = {}
    for entry in book.entries:
        if entry.role == "input":
            left, top, *_ = range_boundaries(entry.ref)
            inputs[entry.name] = (entry.sheet, top, left)
    return Case(computed, document, inputs)


@pytest.fixture(scope="module")
def case(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Case:
    book = with_few_threads(values=job.values(), rows=0)  # with the usual rows of the log
    return opened(office, tmp_path_factory.mktemp("stored"), book, store.package(book))


def test_the_page_says_how_many_cells_are_compared() -> None:
    page = Path(__file__).parent.parent / "docs" / "checks.md"
    assert f"more than {FEWEST:,} cells" in page.read_text(encoding="utf-8")


def test_every_value_of_the_example_is_libreoffices(case: Case) -> None:
    found, count = case.differences()
    assert found == []
    assert count >= FEWEST


def test_every_value_of_an_empty_workbook_is_libreoffices(office: Office, tmp_path: Path) -> None:
    case = opened(office, tmp_path, plain_book(), plain_file().content)
    found, count = case.differences()
    assert found == []
    assert count >= FEWEST
    case.document.close()


def test_a_wrong_value_would_be_seen(case: Case) -> None:
    """An input that differs by a part in a million is found in what depends on it."""
    case.computed.put(*case.inputs["wire_in_use"], 0.0361 * (1 + 1e-6))
    wrong, _ = case.differences()
    case.computed.put(*case.inputs["wire_in_use"], None)
    right, _ = case.differences()
    assert len(wrong) >= 3
    assert right == []


def test_a_workbook_is_made_without_an_office(tmp_path: Path) -> None:
    """Nothing of the office is asked for: there is no program to be found."""
    code = "import sys; from workbook_template.__main__ import main; sys.exit(main(sys.argv[1:]))"
    run = subprocess.run(
        [sys.executable, "-c", code, "new", str(tmp_path / "job.xlsx")],
        capture_output=True,
        text=True,
        env={**os.environ, "PATH": str(tmp_path)},
        cwd=Path(__file__).parent.parent,
    )
    assert run.returncode == 0, run.stderr
    assert run.stderr == ""
