"""Values in rows and columns while a workbook is computed: sheets, ranges of them, arrays."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import Final, NamedTuple

from workbook_template.figures.book import Cells, Place, Value


class Waiting(Enum):
    """What stands in a formula's cell until it is computed."""

    WAITING = "waiting"


WAITING: Final = Waiting.WAITING

Held = Value | Waiting


class Needed(Exception):
    """A formula came upon cells that have to be computed first."""

    def __init__(self, grid: Grid, places: list[Place]) -> None:
        self.grid, self.places = grid, places


class Array(NamedTuple):
    """Values row by row."""

    height: int
    width: int
    items: list[Value]


class Grid:
    """The values of a sheet, by columns; each column a list from row 0, which is not used."""

    __slots__ = ("columns", "last_row", "name", "waiting")

    def __init__(self, name: str, sheet: Cells) -> None:
        self.name = name
        places = [*sheet.values, *sheet.formulas]
        self.last_row = max((row for row, _ in places), default=0)
        self.columns: dict[int, list[Held]] = {
            column: [None] * (self.last_row + 1) for column in {column for _, column in places}
        }
        self.waiting = dict.fromkeys(self.columns, 0)
        for (row, column), value in sheet.values.items():
            self.columns[column][row] = value
        for row, column in sheet.formulas:
            self.columns[column][row] = WAITING
            self.waiting[column] += 1

    def get(self, row: int, column: int) -> Value:
        """The value of a cell."""
        held = self.columns.get(column)
        if held is None or not 0 < row <= self.last_row:
            return None
        value = held[row]
        if value is WAITING:
            raise Needed(self, [(row, column)])
        return value

    def put(self, row: int, column: int, value: Held) -> None:
        """Put a value into a cell."""
        if row > self.last_row:
            for held in self.columns.values():
                held += [None] * (row - self.last_row)
            self.last_row = row
        held = self.columns.setdefault(column, [None] * (self.last_row + 1))
        waits = self.waiting.setdefault(column, 0)
        self.waiting[column] = waits + (value is WAITING) - (held[row] is WAITING)
        held[row] = value

    def forget(self, places: Iterable[Place]) -> None:
        """Let formulas wait once more."""
        for row, column in places:
            held = self.columns[column]
            self.waiting[column] += held[row] is not WAITING
            held[row] = WAITING

    def column(self, column: int, top: int, bottom: int) -> list[Value]:
        """A part of a column."""
        held = self.columns.get(column)
        if held is None:
            return [None] * (bottom - top + 1)
        part = held[top : bottom + 1]
        if self.waiting[column] and WAITING in part:
            raise Needed(self, [(top + at, column) for at, value in enumerate(part) if value is WAITING])
        if bottom > self.last_row:
            part += [None] * (bottom - max(self.last_row, top - 1))
        return part  # type: ignore[return-value]  # none of them is waiting


class Range(NamedTuple):
    """A range of a sheet."""

    grid: Grid
    top: int
    left: int
    bottom: int
    right: int

    @property
    def height(self) -> int:
        return self.bottom - self.top + 1

    @property
    def width(self) -> int:
        return self.right - self.left + 1

    @property
    def items(self) -> list[Value]:
        """Its values row by row."""
        if self.left == self.right:
            return self.grid.column(self.left, self.top, self.bottom)
        if self.top == self.bottom:
            get, row = self.grid.get, self.top
            return [get(row, column) for column in range(self.left, self.right + 1)]
        columns = [self.grid.column(column, self.top, self.bottom) for column in range(self.left, self.right + 1)]
        return [value for row in zip(*columns) for value in row]


Several = (Range, Array)
"""What holds more than one value."""
Given = Value | Range | Array
"""What a function may get."""
