"""Helpers of the Calc tests: an office with the extension, a sheet to type into, and what a cell should then hold."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import pytest
from openpyxl import Workbook

from sheetfuncs import CellError
from sheetfuncs.hosts.calc.pack import build
from workbook_template.office import Document, Error, Office

ERRORS = {"#N/A": 32767, "#VALUE!": 519, "#NUM!": 503}


def extended(office: Office, folder: Path) -> Office:
    """A LibreOffice of its own profile, with the extension added as a person adds it."""
    office.install_extension(build(folder / "threads.oxt"))
    return office


def expected(value: object) -> object:
    """What a cell shows for an answer of `evaluate`; numbers within the last digits of a float."""
    if isinstance(value, CellError):
        return Error(ERRORS[value.code], value.code)
    return value if isinstance(value, str) else pytest.approx(float(value), rel=1e-13, abs=1e-15)


def typed(cell: object) -> str:
    """An argument as a person types it into a cell."""
    return cell if isinstance(cell, str) else repr(cell)


class Cells:
    """A new sheet "Cells" in an office."""

    def __init__(self, office: Office, path: Path) -> None:
        book = Workbook()
        book.active.title = "Cells"
        book.save(path)
        self.document: Document = office.open(path)

    @staticmethod
    def formula(name: str, arguments: Sequence[object]) -> str:
        """A call as a person types it; None leaves an argument out."""
        written = [f'"{cell}"' if isinstance(cell, str) else "" if cell is None else repr(cell) for cell in arguments]
        return f"={name}({';'.join(written)})"

    def compute(self, formulas: Sequence[str]) -> list[object]:
        """The values of formulas typed one under the other in column A."""
        self.document.type({("Cells", f"A{row}"): text for row, text in enumerate(formulas, start=1)})
        return self.document.get([("Cells", f"A{row}") for row in range(1, len(formulas) + 1)])

    def __enter__(self) -> Cells:
        return self

    def __exit__(self, *_: object) -> None:
        self.document.close()
