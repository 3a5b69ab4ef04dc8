"""Fixtures that all tests share."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from workbook_template.office import Document, Office


@pytest.fixture(scope="session")
def office() -> Iterator[Office]:
    """The one LibreOffice of the test session."""
    with Office() as running:
        yield running


FILES = {
    "new.xlsx": ("--unit", "mm", "--thread", "0.9-14 UNS-2A", "--thread", "M20x2.5-6g"),
    "internal.xlsx": ("--thread", "M5x0.8-6H LH"),
    "four_starts.xlsx": ("--thread", "Tr40x28(P7)-7e"),
    "taper.xlsx": ("--thread", "3/4-14 NPT"),
}
"""Arguments of `new`."""


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    """The files that the command makes: empty workbooks for some threads, and the example, also with macros."""
    from workbook_template.__main__ import main  # takes the whole workbook along
    from workbook_template.file.macro import add_macros

    folder = tmp_path_factory.mktemp("built")
    files = {name: folder / name for name in (*FILES, "demo.xlsx", "demo.xlsm")}
    for name, arguments in FILES.items():
        assert main(["new", str(files[name]), *arguments]) == 0
    assert main(["demo", str(files["demo.xlsx"])]) == 0
    add_macros(files["demo.xlsx"], files["demo.xlsm"])
    return files


@pytest.fixture(scope="session")
def filled(office: Office, tmp_path_factory: pytest.TempPathFactory) -> object:
    """A workbook that was filled in, as it is built with stored values, and as LibreOffice has saved it."""
    from read_back_files import fill_and_save  # takes the whole workbook along

    return fill_and_save(office, tmp_path_factory.mktemp("filled"))


@pytest.fixture(scope="module")
def log_document(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open for the tests of the log."""
    from workbook_cases import plain_book  # takes the whole workbook along

    path = tmp_path_factory.mktemp("log") / "new.xlsx"
    path.write_bytes(plain_book()[1])
    with office.open(path) as opened:
        yield opened


@pytest.fixture
def log_sheet(log_document: Document) -> Document:
    """The same as every test of the log finds it."""
    from log_cases import cleared

    return cleared(log_document)
