"""Spreadsheet engines other than LibreOffice, all behind the same few verbs, and the workbook in each of them.

The first is the project's own, which computes the values that a file is stored with. formualizer and formulon follow
Excel's rules: a blank that a formula ends on is the number 0, a text is more than any number. IronCalc is a third
opinion.
"""

from __future__ import annotations

import datetime
import math
from pathlib import Path
from typing import Any, NamedTuple, Protocol

import formualizer
import formulon
import ironcalc
from formulon_inside import quicker, value

from workbook_template.figures.book import Book, Problem
from workbook_template.figures.functions import serial
from workbook_template.figures.value import Computed
from workbook_template.file import store

FIRST_DAY = datetime.datetime(1899, 12, 30)


class Cell(NamedTuple):
    """A cell: its sheet's number from 0, row and column from 1."""

    sheet: int
    row: int
    column: int


class Engine(Protocol):
    """A workbook in an engine. A value is a number, a yes or no, a text (empty for blank) or an error's text."""

    def put(self, cell: Cell, value: Any) -> None:
        """A number, a text or nothing into a cell."""

    def evaluate(self) -> None:
        """Compute what depends on what was put."""

    def value(self, cell: Cell) -> Any:
        """What a cell holds."""

    def close(self) -> None:
        """Give back the memory."""


class Ours:
    """The project's own computing."""

    def __init__(self, cells: Book, titles: list[str], today: datetime.date) -> None:
        self._titles = titles
        self._computed = Computed(cells, serial(today), store.PROBABILITY)
        self._values: dict[str, Any] = {}

    def put(self, cell: Cell, value: Any) -> None:
        self._computed.put(
            self._titles[cell.sheet], cell.row, cell.column, float(value) if isinstance(value, int) else value
        )

    def evaluate(self) -> None:
        self._values = {title: self._computed.values(title) for title in self._titles}

    def value(self, cell: Cell) -> Any:
        found = self._values[self._titles[cell.sheet]][cell.row, cell.column]
        return found.code if isinstance(found, Problem) else "" if found is None else found

    def close(self) -> None:
        del self._computed


class Formualizer:
    """formualizer: quick enough for the whole file."""

    def __init__(self, path: Path, titles: list[str], today: datetime.date) -> None:
        self._titles = titles
        self._book = formualizer.load_workbook(str(path))
        self._book.set_deterministic_clock(datetime.datetime.combine(today, datetime.time(12), datetime.timezone.utc))
        # its own takes two numbers alone
        self._book.register_function(
            "GCD", lambda *numbers: math.gcd(*map(int, numbers)), min_args=1, allow_override_builtin=True
        )

    def put(self, cell: Cell, value: Any) -> None:
        self._book.set_value(self._titles[cell.sheet], cell.row, cell.column, value)

    def evaluate(self) -> None:
        self._book.evaluate_all()

    def value(self, cell: Cell) -> Any:
        found = self._book.get_value(self._titles[cell.sheet], cell.row, cell.column)
        if isinstance(found, dict):
            return ERRORS[found["kind"]]
        if isinstance(found, datetime.date):
            moment = (
                found if isinstance(found, datetime.datetime) else datetime.datetime.combine(found, datetime.time())
            )
            return (moment - FIRST_DAY) / datetime.timedelta(days=1)
        return "" if found is None else found

    def close(self) -> None:
        del self._book


ERRORS = {"Value": "#VALUE!", "Na": "#N/A", "Name": "#NAME?", "Num": "#NUM!", "Div": "#DIV/0!", "Ref": "#REF!"}


class Formulon:
    """formulon, under one of its profiles of Excel."""

    def __init__(self, path: Path, profile: str, today: datetime.date) -> None:
        quicker()
        self._book = formulon.Workbook.load(path.read_bytes())
        self._book.set_pinned_now(today.year, today.month, today.day, 12)
        self.speak(profile)

    def speak(self, profile: str) -> None:
        """Go over to another profile, as win-365-de_DE, from the next `evaluate` on."""
        self._book.set_excel_profile_id(profile)

    def put(self, cell: Cell, value: Any) -> None:
        place = cell.sheet, cell.row - 1, cell.column - 1
        if value is None:
            self._book.set_blank(*place)
        elif isinstance(value, str):
            self._book.set_text(*place, value)
        else:
            self._book.set_number(*place, float(value))

    def evaluate(self) -> None:
        self._book.recalc()

    def value(self, cell: Cell) -> Any:
        found = value(self._book, cell.sheet, cell.row - 1, cell.column - 1)
        kind = found.kind.name
        if kind == "ERROR":
            return formulon.error_display_name(found.error_code)
        return {"NUMBER": found.number, "BOOL": found.boolean, "TEXT": found.text}.get(kind, "")

    def shown(self, cell: Cell) -> str:
        """The text that the cell shows, with its number format."""
        return self._book.get_display_text(cell.sheet, cell.row - 1, cell.column - 1)[0]

    def close(self) -> None:
        self._book.close()


class IronCalc:
    """IronCalc, which does not follow Excel in everything."""

    def __init__(self, path: Path) -> None:
        self._book = ironcalc.load_from_xlsx(str(path), "en", "UTC")

    def put(self, cell: Cell, value: Any) -> None:
        if value is None:
            self._book.clear_cell_contents(*cell)
        elif isinstance(value, bool):
            self._book.update_cell_with_bool(*cell, value)
        elif isinstance(value, str):
            self._book.update_cell_with_text(*cell, value)
        else:
            self._book.update_cell_with_number(*cell, value)

    def evaluate(self) -> None:
        self._book.evaluate()

    def value(self, cell: Cell) -> Any:
        found = self._book.get_cell_value(*cell)
        return "" if found is None else found

    def close(self) -> None:
        del self._book
