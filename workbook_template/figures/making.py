"""From a tree to a function of the cell it stands in: its row and column to its value."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from workbook_template.figures.book import Problem, Value
from workbook_template.figures.coerce import NO_NAME, NO_PLACE, NO_VALUE, Fails, truth
from workbook_template.figures.functions import RANGES, TESTS, VALUES
from workbook_template.figures.grid import WAITING, Given, Grid, Range
from workbook_template.figures.parts import (
    Give,
    Holder,
    Run,
    choose,
    crossing,
    failing,
    if_error,
    index,
    of_numbers,
    of_ranges,
    of_values,
    offset,
    operated,
    rows_of,
    signed,
    spread,
    tried,
)
from workbook_template.figures.tree import IF_NOT, Area, Call, Cell, Name, Node, Number, Operator, Sign, Text, YesNo

REFERENCES = (Name, Cell, Area)
LEAVES = (Number, Text, YesNo, *REFERENCES)
"""Parts of a formula with no part of their own: a few thousand stand in tens of thousands of places."""


class Maker:
    """Makes functions of the trees of one sheet. `numbers` are the functions of single numbers."""

    def __init__(
        self,
        grid: Grid,
        grids: Mapping[str, Grid],
        names: Mapping[str, Node],
        numbers: Mapping[str, Callable[..., float]],
    ) -> None:
        self.grid, self.grids, self.names, self.numbers = grid, grids, names, numbers
        self._made: dict[int, Run] = {}
        self._values: dict[Node, Run] = {}  # of the parts that stand in many formulas, each once
        self._ranges: dict[Node, Give] = {}
        self._kept: list[Node] = []  # so that no other tree gets the same identity

    def run(self, tree: Node) -> Run:
        """The function of a whole formula."""
        made = self._made.get(id(tree))
        if made is None:
            made = self._made[id(tree)] = self.value(tree)
            self._kept.append(tree)
        return made

    # single values

    def value(self, tree: Node | None) -> Run:
        """The function of a part that gives one value."""
        if tree is None:
            return lambda row, column: None
        if isinstance(tree, LEAVES):
            made = self._values.get(tree)
            if made is None:
                made = self._values[tree] = self._leaf(tree)
            return made
        if isinstance(tree, Sign):
            return signed(tree.sign, self.value(tree.part))
        if isinstance(tree, Operator) and tree.sign != ":":
            return operated(tree.sign, self.value(tree.left), self.value(tree.right))
        if isinstance(tree, Call):
            return self._call(tree)
        return self._crossed(tree)

    def _leaf(self, tree: Node) -> Run:
        if isinstance(tree, (Number, Text, YesNo)):
            constant = tree.value
            return lambda row, column: constant
        if isinstance(tree, Name):
            meant = self.names.get(tree.name.lower())
            return self.value(meant) if meant is not None else failing(NO_NAME)
        if isinstance(tree, Cell):
            return self._cell(tree)
        return self._crossed(tree)

    def _crossed(self, tree: Node) -> Run:
        give = self.given(tree)
        return lambda row, column: crossing(give(row, column), row, column)

    def _grid(self, sheet: str) -> Grid | None:
        return self.grids.get(sheet.lower()) if sheet else self.grid

    def _cell(self, cell: Cell) -> Run:
        grid = self._grid(cell.sheet)
        if grid is None:
            return failing(NO_PLACE)
        down, across = cell.row, cell.column
        columns, get = grid.columns, grid.get
        if cell.row_fixed and cell.column_fixed:
            held = columns.get(across)
            if held is None or down > grid.last_row:
                return lambda row, column: get(down, across)

            def fixed(row: int, column: int) -> Value:
                value = held[down]
                return get(down, across) if value is WAITING else value

            return fixed
        if cell.row_fixed:
            return lambda row, column: get(down, column + across)
        if cell.column_fixed:
            return lambda row, column: get(row + down, across)

        def moving(row: int, column: int) -> Value:
            try:
                value = columns[column + across][row + down]
            except (KeyError, IndexError):
                return get(row + down, column + across)
            return get(row + down, column + across) if value is WAITING else value

        return moving

    def _call(self, tree: Call) -> Run:
        name, arguments = tree.function, tree.arguments
        if name == "IF":
            return self._if(*arguments)
        if name == "IFERROR":
            return if_error(self.value(arguments[0]), self.value(arguments[1]))
        if name in TESTS:
            test, asked = TESTS[name], self.value(arguments[0])
            return lambda row, column: test(tried(asked, row, column))
        if name in ("INDEX", "OFFSET", "CHOOSE"):
            give = self.given(tree)
            return lambda row, column: crossing(give(row, column), row, column)
        if name in ("ROW", "COLUMN"):
            return self._place_of(name, arguments)
        if name == "NA":
            return failing(Problem("#N/A"))
        if name in self.numbers:
            return of_numbers(self.numbers[name], [self.value(one) for one in arguments])
        if name in VALUES:
            return of_values(VALUES[name], [self.value(one) for one in arguments])
        if name in RANGES:
            give_all = self.arrays if name == "SUMPRODUCT" else self.given
            return of_ranges(RANGES[name], [give_all(one) for one in arguments])
        return failing(NO_NAME)

    def _if(self, condition: Node | None, then: Node | None, other: Node | None = IF_NOT) -> Run:
        test, met, missed = self.value(condition), self.value(then), self.value(other)

        def run(row: int, column: int) -> Value:
            holds = test(row, column)
            if holds is True:
                return met(row, column)
            if holds is False:
                return missed(row, column)
            return met(row, column) if truth(holds) else missed(row, column)

        return run

    def _place_of(self, name: str, arguments: tuple[Node | None, ...]) -> Run:
        across = name == "COLUMN"
        if not arguments:
            return lambda row, column: float(column if across else row)
        give = self.given(arguments[0])

        def run(row: int, column: int) -> Value:
            given = give(row, column)
            if not isinstance(given, Range):
                raise Fails(NO_VALUE)
            return float(given.left if across else given.top)

        return run

    # ranges

    def given(self, tree: Node | None) -> Give:
        """The function of a part that may be a range."""
        if isinstance(tree, REFERENCES):
            made = self._ranges.get(tree)
            if made is None:
                made = self._ranges[tree] = self._reference(tree)
            return made
        if isinstance(tree, Operator) and tree.sign == ":":
            return self._joined(self.given(tree.left), self.given(tree.right))
        if isinstance(tree, Call):
            if tree.function == "INDEX":
                return index(self.given(tree.arguments[0]), *[self.value(one) for one in tree.arguments[1:]])
            if tree.function == "OFFSET":
                return offset(self.given(tree.arguments[0]), [self.value(one) for one in tree.arguments[1:]])
            if tree.function == "CHOOSE":
                return choose(self.value(tree.arguments[0]), [self.given(one) for one in tree.arguments[1:]])
            if tree.function == "IF":
                return self._given_if(*tree.arguments)
        return self.value(tree)

    def _reference(self, tree: Name | Cell | Area) -> Give:
        if isinstance(tree, Cell):
            return self._range(tree, tree)
        if isinstance(tree, Area):
            return self._range(tree.start, tree.end)
        meant = self.names.get(tree.name.lower())
        return self.given(meant) if meant is not None else failing(NO_NAME)

    def _range(self, start: Cell, end: Cell) -> Give:
        grid = self._grid(start.sheet)
        if grid is None:
            return failing(NO_PLACE)
        if start.row_fixed and start.column_fixed and end.row_fixed and end.column_fixed:
            always = Range(grid, start.row, start.column, end.row, end.column)
            return lambda row, column: always
        top, left, bottom, right = start.row, start.column, end.row, end.column
        down, across, down_too, across_too = (
            int(not fixed) for fixed in (start.row_fixed, start.column_fixed, end.row_fixed, end.column_fixed)
        )
        return lambda row, column: Range(
            grid, top + down * row, left + across * column, bottom + down_too * row, right + across_too * column
        )

    def _joined(self, start: Give, end: Give) -> Give:
        def run(row: int, column: int) -> Given:
            one, other = start(row, column), end(row, column)
            if not isinstance(one, Range) or not isinstance(other, Range) or one.grid is not other.grid:
                raise Fails(NO_PLACE)
            corners = zip(one[1:], other[1:])
            top, left, bottom, right = ((min if at < 2 else max)(pair) for at, pair in enumerate(corners))
            return Range(one.grid, top, left, bottom, right)

        return run

    def _given_if(self, condition: Node | None, then: Node | None, other: Node | None = IF_NOT) -> Give:
        test, met, missed = self.value(condition), self.given(then), self.given(other)
        return lambda row, column: met(row, column) if truth(test(row, column)) else missed(row, column)

    # arrays

    def arrays(self, tree: Node | None) -> Give:
        """The function of a part that is worked for every cell of its ranges, as SUMPRODUCT does it."""
        if isinstance(tree, Name) and (meant := self.names.get(tree.name.lower())) is not None:
            return self.arrays(meant)
        if isinstance(tree, Operator) and tree.sign != ":":
            left, right = Holder(), Holder()
            return spread(
                operated(tree.sign, left.run, right.run),
                [left, right],
                [self.arrays(tree.left), self.arrays(tree.right)],
            )
        if isinstance(tree, Sign):
            part = Holder()
            return spread(signed(tree.sign, part.run), [part], [self.arrays(tree.part)])
        if isinstance(tree, Call):
            if tree.function == "ROW" and tree.arguments:
                give = self.given(tree.arguments[0])
                return lambda row, column: rows_of(give(row, column))
            name = tree.function
            if name in VALUES or name in self.numbers or name in TESTS:
                holders = [Holder() for _ in tree.arguments]
                runs = [holder.run for holder in holders]
                if name in TESTS:
                    test, asked = TESTS[name], runs[0]
                    worked: Run = lambda row, column: test(tried(asked, row, column))  # noqa: E731
                elif name in VALUES:
                    worked = of_values(VALUES[name], runs)
                else:
                    worked = of_numbers(self.numbers[name], runs)
                return spread(worked, holders, [self.arrays(one) for one in tree.arguments])
        return self.given(tree)
