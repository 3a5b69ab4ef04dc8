"""A workbook computed by Excel's rules, without a spreadsheet program.

Each tree becomes functions of the row and column it stands at, once for all cells that share it. A formula that comes
upon a cell that is not computed yet stops, that cell is computed, and it starts again: so nothing is computed in vain
that a condition leaves out, and a column may refer to the row above for as long as it likes.

>>> from workbook_template.figures.book import Book, Cells
>>> from workbook_template.figures.parse import parse
>>> job = Cells({(1, 1): 2.0}, {(1, 2): parse('IF(A1>limit,A1&" in","")', 1, 2), (1, 3): parse("LEN(B1)", 1, 3)})
>>> computed = Computed(Book({"Job": job}, {"limit": parse("1.5")}))
>>> computed.value("Job", 1, 2), computed.value("Job", 1, 3)
('2 in', 4.0)
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from workbook_template.figures.book import Book, Place, Value
from workbook_template.figures.coerce import Fails
from workbook_template.figures.functions import NUMBERS
from workbook_template.figures.grid import WAITING, Grid, Needed
from workbook_template.figures.making import Maker


class Circular(Exception):
    """A formula needs its own result."""


class Computed:
    """A workbook, and the values of its formulas as far as they were asked for.

    `today` is the serial number of the day, `functions` more functions of numbers (of probability, say) by name.
    """

    def __init__(
        self, book: Book, today: float = 0.0, functions: Mapping[str, Callable[..., float]] | None = None
    ) -> None:
        self.grids = {name.lower(): Grid(name, sheet) for name, sheet in book.sheets.items()}
        self._formulas = {name.lower(): sheet.formulas for name, sheet in book.sheets.items()}
        self.today = today
        self._stale = False
        numbers = {**NUMBERS, "TODAY": lambda: self.today, **(functions or {})}
        self._makers = {key: Maker(grid, self.grids, book.names, numbers) for key, grid in self.grids.items()}

    def value(self, sheet: str, row: int, column: int) -> Value:
        """The value of a cell."""
        self._refresh()
        grid = self.grids[sheet.lower()]
        held = grid.columns.get(column)
        if held is not None and 0 < row <= grid.last_row and held[row] is WAITING:
            self._compute(grid, (row, column))
        return grid.get(row, column)

    def values(self, sheet: str) -> dict[Place, Value]:
        """The values of all formulas of a sheet."""
        self._refresh()
        grid = self.grids[sheet.lower()]
        formulas = self._formulas[sheet.lower()]
        for place in formulas:
            if grid.columns[place[1]][place[0]] is WAITING:
                self._compute(grid, place)
        return {(row, column): grid.get(row, column) for row, column in formulas}

    def again(self, sheet: str, row: int, column: int) -> Value:
        """What the formula of a cell gives with what stands in all others now; it is not kept."""
        key = sheet.lower()
        try:
            value = self._makers[key].run(self._formulas[key][row, column])(row, column)
        except Fails as fails:
            return fails.problem
        return 0.0 if value is None else value

    def put(self, sheet: str, row: int, column: int, value: Value) -> None:
        """Change an input; what is asked for next is computed anew."""
        if (row, column) in self._formulas[sheet.lower()]:
            raise ValueError(f"{sheet} row {row} column {column} holds a formula")
        self.grids[sheet.lower()].put(row, column, value)
        self._stale = True

    def _refresh(self) -> None:
        """Forget what was computed before an input changed."""
        if self._stale:
            self._stale = False
            for key, grid in self.grids.items():
                grid.forget(self._formulas[key])

    def _compute(self, grid: Grid, place: Place) -> None:
        stack, begun = [(grid, place)], set()
        while stack:
            grid, (row, column) = stack[-1]
            if grid.columns[column][row] is not WAITING:
                stack.pop()
                continue
            begun.add((grid.name, row, column))
            key = grid.name.lower()
            try:
                value = self._makers[key].run(self._formulas[key][row, column])(row, column)
            except Needed as needed:
                for one in reversed(needed.places):
                    if (needed.grid.name, *one) in begun:
                        raise Circular(
                            f"{needed.grid.name} row {one[0]}, column {one[1]} needs its own result"
                        ) from None
                    stack.append((needed.grid, one))
                continue
            except Fails as fails:
                value = fails.problem
            grid.put(row, column, 0.0 if value is None else value)
            stack.pop()
