"""A workbook computed by Excel's rules, without a spreadsheet program.

Each tree becomes functions of the row and column it stands at, once for all cells that share it. A formula that comes
upon a cell that is not computed yet stops, that cell is computed, and it starts again: so nothing is computed in vain
that a condition leaves out, and a column may refer to the row above for as long as it likes.

>>> from workbook_template.figures.book import Book, Sheet
>>> from workbook_template.figures.parse import parse
>>> job = Sheet({(1, 1): 2.0}, {(1, 2): parse('IF(A1>limit,A1&" in","")', 1, 2), (1, 3): parse("LEN(B1)", 1, 3)})
>>> computed = Computed(Book({"Job": job}, {"limit": parse("1.5")}))
>>> computed.value("Job", 1, 2), computed.value("Job", 1, 3)
('2 in', 4.0)
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping

from workbook_template.figures.book import Book, Place, Problem, Value
from workbook_template.figures.functions import (
    BY_ZERO,
    NO_NAME,
    NO_NUMBER,
    NO_PLACE,
    NO_VALUE,
    NUMBERS,
    RANGES,
    TESTS,
    VALUES,
    Fails,
    compare,
    finite,
    number,
    truth,
    words,
)
from workbook_template.figures.grid import WAITING, Array, Given, Grid, Needed, Range, Several
from workbook_template.figures.numbers import alike
from workbook_template.figures.parse import LAST_COLUMN, LAST_ROW
from workbook_template.figures.tree import Area, Call, Cell, Name, Node, Number, Operator, Sign, Text, YesNo

Run = Callable[[int, int], Value]
"""A part of a formula: its value in the cell at a row and column."""
Give = Callable[[int, int], Given]
"""The same where it may be a range."""


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
        self._sheets = {name.lower(): sheet for name, sheet in book.sheets.items()}
        self._makers = {key: _Maker(self, grid, book.names) for key, grid in self.grids.items()}
        self.today = today
        self._stale = False
        self.numbers = {**NUMBERS, "TODAY": lambda: self.today, **(functions or {})}

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
        formulas = self._sheets[sheet.lower()].formulas
        for place in formulas:
            if grid.columns[place[1]][place[0]] is WAITING:
                self._compute(grid, place)
        return {(row, column): grid.get(row, column) for row, column in formulas}

    def put(self, sheet: str, row: int, column: int, value: Value) -> None:
        """Change an input; what is asked for next is computed anew."""
        if (row, column) in self._sheets[sheet.lower()].formulas:
            raise ValueError(f"{sheet} row {row} column {column} holds a formula")
        self.grids[sheet.lower()].put(row, column, value)
        self._stale = True

    def _refresh(self) -> None:
        """Forget what was computed before an input changed."""
        if self._stale:
            self._stale = False
            for key, grid in self.grids.items():
                for place in self._sheets[key].formulas:
                    grid.put(*place, WAITING)

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
                value = self._makers[key].run(self._sheets[key].formulas[row, column])(row, column)
            except Needed as needed:
                for one in reversed(needed.places):
                    if (needed.grid.name, *one) in begun:
                        raise Circular(f"{needed.grid.name} row {one[0]}, column {one[1]} needs its own result") from None
                    stack.append((needed.grid, one))
                continue
            except Fails as fails:
                value = fails.problem
            grid.put(row, column, 0.0 if value is None else value)
            stack.pop()


class _Maker:
    """Makes functions of the trees of one sheet."""

    def __init__(self, computed: Computed, grid: Grid, names: Mapping[str, Node]) -> None:
        self.computed, self.grid, self.names = computed, grid, names
        self._made: dict[int, Run] = {}
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
        if isinstance(tree, (Number, Text, YesNo)):
            constant = tree.value
            return lambda row, column: constant
        if tree is None:
            return lambda row, column: None
        if isinstance(tree, Name):
            meant = self.names.get(tree.name.lower())
            return self.value(meant) if meant is not None else _failing(NO_NAME)
        if isinstance(tree, Cell):
            return self._cell(tree)
        if isinstance(tree, Sign):
            return _sign(tree.sign, self.value(tree.part))
        if isinstance(tree, Operator) and tree.sign != ":":
            return _operator(tree.sign, self.value(tree.left), self.value(tree.right))
        if isinstance(tree, Call):
            return self._call(tree)
        give = self.given(tree)
        return lambda row, column: _crossing(give(row, column), row, column)

    def _grid(self, sheet: str) -> Grid | None:
        return self.computed.grids.get(sheet.lower()) if sheet else self.grid

    def _cell(self, cell: Cell) -> Run:
        grid = self._grid(cell.sheet)
        if grid is None:
            return _failing(NO_PLACE)
        down, across = cell.row, cell.column
        columns, get = grid.columns, grid.get
        if cell.row_fixed and cell.column_fixed:
            held = columns.get(across)
            if held is None or down > grid.last_row:
                return lambda row, column: get(down, across)

            def fixed(row: int, column: int) -> Value:
                value = held[down]
                return get(down, across) if value is WAITING else value  # type: ignore[return-value]

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
            return get(row + down, column + across) if value is WAITING else value  # type: ignore[return-value]

        return moving

    def _call(self, tree: Call) -> Run:
        name, arguments = tree.function, tree.arguments
        if name == "IF":
            return self._if(*arguments)
        if name == "IFERROR":
            return _if_error(self.value(arguments[0]), self.value(arguments[1]))
        if name in TESTS:
            test, asked = TESTS[name], self.value(arguments[0])
            return lambda row, column: test(_tried(asked, row, column))
        if name in ("INDEX", "OFFSET", "CHOOSE"):
            give = self.given(tree)
            return lambda row, column: _crossing(give(row, column), row, column)
        if name in ("ROW", "COLUMN"):
            return self._place_of(name, arguments)
        if name == "NA":
            return _failing(Problem("#N/A"))
        if name in self.computed.numbers:
            return _of_numbers(self.computed.numbers[name], [self.value(one) for one in arguments])
        if name in VALUES:
            return _of_values(VALUES[name], [self.value(one) for one in arguments])
        if name in RANGES:
            give_all = self.arrays if name == "SUMPRODUCT" else self.given
            return _of_ranges(RANGES[name], [give_all(one) for one in arguments])
        return _failing(NO_NAME)

    def _if(self, condition: Node | None, then: Node | None, other: Node | None = YesNo(False)) -> Run:
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
        if isinstance(tree, Name):
            meant = self.names.get(tree.name.lower())
            return self.given(meant) if meant is not None else _failing(NO_NAME)
        if isinstance(tree, Cell):
            return self._range(tree, tree)
        if isinstance(tree, Area):
            return self._range(tree.start, tree.end)
        if isinstance(tree, Operator) and tree.sign == ":":
            return self._joined(self.given(tree.left), self.given(tree.right))
        if isinstance(tree, Call):
            if tree.function == "INDEX":
                return _index(*[self.given(tree.arguments[0]), *map(self.value, tree.arguments[1:])])
            if tree.function == "OFFSET":
                return _offset(self.given(tree.arguments[0]), [self.value(one) for one in tree.arguments[1:]])
            if tree.function == "CHOOSE":
                return _choose(self.value(tree.arguments[0]), [self.given(one) for one in tree.arguments[1:]])
            if tree.function == "IF":
                return self._given_if(*tree.arguments)
        return self.value(tree)

    def _range(self, start: Cell, end: Cell) -> Give:
        grid = self._grid(start.sheet)
        if grid is None:
            return _failing(NO_PLACE)
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
            top, left, bottom, right = (
                (min if at < 2 else max)(pair) for at, pair in enumerate(corners)
            )
            return Range(one.grid, top, left, bottom, right)

        return run

    def _given_if(self, condition: Node | None, then: Node | None, other: Node | None = YesNo(False)) -> Give:
        test, met, missed = self.value(condition), self.given(then), self.given(other)
        return lambda row, column: met(row, column) if truth(test(row, column)) else missed(row, column)

    # arrays

    def arrays(self, tree: Node | None) -> Give:
        """The function of a part that is worked for every cell of its ranges, as SUMPRODUCT does it."""
        if isinstance(tree, Name) and (meant := self.names.get(tree.name.lower())) is not None:
            return self.arrays(meant)
        if isinstance(tree, Operator) and tree.sign != ":":
            left, right = _holder(), _holder()
            return _spread(_operator(tree.sign, left.run, right.run), [left, right], [self.arrays(tree.left), self.arrays(tree.right)])
        if isinstance(tree, Sign):
            part = _holder()
            return _spread(_sign(tree.sign, part.run), [part], [self.arrays(tree.part)])
        if isinstance(tree, Call):
            if tree.function == "ROW" and tree.arguments:
                give = self.given(tree.arguments[0])
                return lambda row, column: _rows_of(give(row, column))
            name = tree.function
            if name in VALUES or name in self.computed.numbers or name in TESTS:
                holders = [_holder() for _ in tree.arguments]
                runs = [holder.run for holder in holders]
                if name in TESTS:
                    test, asked = TESTS[name], runs[0]
                    worked: Run = lambda row, column: test(_tried(asked, row, column))  # noqa: E731
                elif name in VALUES:
                    worked = _of_values(VALUES[name], runs)
                else:
                    worked = _of_numbers(self.computed.numbers[name], runs)
                return _spread(worked, holders, [self.arrays(one) for one in tree.arguments])
        return self.given(tree)


class _holder:
    """One cell's value of an argument, while an array is worked."""

    __slots__ = ("value",)

    def __init__(self) -> None:
        self.value: Value = None

    def run(self, row: int, column: int) -> Value:
        return self.value


def _spread(worked: Run, holders: list[_holder], gives: list[Give]) -> Give:
    """Work a function for every place of the arrays it is given; a single row, column or value is repeated."""

    def run(row: int, column: int) -> Given:
        given = [give(row, column) for give in gives]
        shaped = [one for one in given if isinstance(one, Several)]
        height, width = max((one.height for one in shaped), default=1), max((one.width for one in shaped), default=1)
        columns = [_repeated(one, height, width) for one in given]
        items: list[Value] = []
        for values in zip(*columns):
            for holder, value in zip(holders, values):
                holder.value = value
            items.append(_tried(worked, row, column))
        return Array(height, width, items) if shaped else items[0]

    return run


def _repeated(given: Given, height: int, width: int) -> list[Value]:
    if not isinstance(given, Several):
        return [given] * (height * width)
    items = given.items
    if given.height == height and given.width == width:
        return items
    if given.height == 1 and given.width == width:
        return items * height
    if given.width == 1 and given.height == height:
        return [item for item in items for _ in range(width)]
    if given.height == given.width == 1:
        return items * (height * width)
    raise Fails(Problem("#N/A"))


def _rows_of(given: Given) -> Given:
    if not isinstance(given, Range):
        raise Fails(NO_VALUE)
    return Array(given.height, 1, [float(row) for row in range(given.top, given.bottom + 1)])


def _failing(problem: Problem) -> Run:
    def run(row: int, column: int) -> Value:
        raise Fails(problem)

    return run


def _tried(run: Run, row: int, column: int) -> Value:
    """The value, an error as a value."""
    try:
        return run(row, column)
    except Fails as fails:
        return fails.problem


def _crossing(given: Given, row: int, column: int) -> Value:
    """One value of a range: its only one, or that in the formula's own row or column."""
    if isinstance(given, Range):
        if given.top == given.bottom and given.left == given.right:
            return given.grid.get(given.top, given.left)
        if given.left == given.right and given.top <= row <= given.bottom:
            return given.grid.get(row, given.left)
        if given.top == given.bottom and given.left <= column <= given.right:
            return given.grid.get(given.top, column)
        raise Fails(NO_VALUE)
    return given.items[0] if isinstance(given, Array) else given


def _if_error(tried: Run, instead: Run) -> Run:
    def run(row: int, column: int) -> Value:
        try:
            value = tried(row, column)
        except Fails:
            return instead(row, column)
        return instead(row, column) if isinstance(value, Problem) else value

    return run


def _of_numbers(function: Callable[..., float], parts: list[Run]) -> Run:
    def run(row: int, column: int) -> Value:
        values = [number(part(row, column)) for part in parts]
        try:
            return finite(function(*values))
        except (ValueError, OverflowError):
            raise Fails(NO_NUMBER) from None
        except ZeroDivisionError:
            raise Fails(BY_ZERO) from None

    return run


def _of_values(function: Callable[..., Value], parts: list[Run]) -> Run:
    return lambda row, column: function(*[part(row, column) for part in parts])


def _of_ranges(function: Callable[..., Value], parts: list[Give]) -> Run:
    def run(row: int, column: int) -> Value:
        value = function(*[part(row, column) for part in parts])
        return finite(value) if isinstance(value, float) else value

    return run


def _sign(sign: str, part: Run) -> Run:
    if sign == "-":
        return lambda row, column: -number(part(row, column)) + 0.0
    if sign == "%":
        return lambda row, column: number(part(row, column)) / 100
    return part


def _operator(sign: str, left: Run, right: Run) -> Run:
    if sign == "&":
        return lambda row, column: words(left(row, column)) + words(right(row, column))
    if sign in _COMPARED:
        return _comparison(_COMPARED[sign], left, right)
    worked = _WORKED[sign]

    def run(row: int, column: int) -> Value:
        one, other = left(row, column), right(row, column)
        if not isinstance(one, float):
            one = number(one)
        if not isinstance(other, float):
            other = number(other)
        return worked(one, other)

    return run


def _comparison(wanted: tuple[int, ...], left: Run, right: Run) -> Run:
    return lambda row, column: compare(left(row, column), right(row, column)) in wanted


_COMPARED = {"=": (0,), "<>": (-1, 1), "<": (-1,), "<=": (-1, 0), ">": (1,), ">=": (0, 1)}


def _plus(one: float, other: float) -> float:
    """What is left of two numbers that are opposite but for binary fractions is nothing."""
    return 0.0 if alike(one, -other) else finite(one + other)


def _over(one: float, other: float) -> float:
    if other == 0:
        raise Fails(BY_ZERO)
    return finite(one / other)


def _power(base: float, power: float) -> float:
    try:
        if base == 0 and power <= 0:
            raise Fails(BY_ZERO if power else NO_NUMBER)
        return finite(math.pow(base, power))
    except (ValueError, OverflowError):
        raise Fails(NO_NUMBER) from None


_WORKED: dict[str, Callable[[float, float], float]] = {
    "+": _plus,
    "-": lambda one, other: _plus(one, -other),
    "*": lambda one, other: finite(one * other),
    "/": _over,
    "^": _power,
}


def _index(give: Give, row_at: Run, column_at: Run | None = None) -> Give:
    def run(row: int, column: int) -> Given:
        given = give(row, column)
        if not isinstance(given, Several):
            given = Array(1, 1, [given])
        down = int(number(row_at(row, column)))
        across = int(number(column_at(row, column))) if column_at is not None else 1
        if column_at is None and given.height == 1:
            down, across = 1, down
        if not 0 <= down <= given.height or not 0 <= across <= given.width:
            raise Fails(NO_PLACE)
        if isinstance(given, Array):
            if not down or not across:
                raise Fails(NO_VALUE)
            return given.items[(down - 1) * given.width + across - 1]
        top, bottom = (given.top, given.bottom) if down == 0 else (given.top + down - 1,) * 2
        left, right = (given.left, given.right) if across == 0 else (given.left + across - 1,) * 2
        return Range(given.grid, top, left, bottom, right)

    return run


def _offset(give: Give, parts: list[Run]) -> Give:
    def run(row: int, column: int) -> Given:
        given = give(row, column)
        if not isinstance(given, Range):
            raise Fails(NO_VALUE)
        values = [part(row, column) for part in parts]
        down, across = int(number(values[0])), int(number(values[1]))
        height = int(number(values[2])) if len(values) > 2 and values[2] is not None else given.height
        width = int(number(values[3])) if len(values) > 3 and values[3] is not None else given.width
        top, left = given.top + down, given.left + across
        if height < 1 or width < 1 or not 1 <= top <= LAST_ROW - height + 1 or not 1 <= left <= LAST_COLUMN - width + 1:
            raise Fails(NO_PLACE)
        return Range(given.grid, top, left, top + height - 1, left + width - 1)

    return run


def _choose(which: Run, gives: list[Give]) -> Give:
    def run(row: int, column: int) -> Given:
        at = int(number(which(row, column)))
        if not 1 <= at <= len(gives):
            raise Fails(NO_VALUE)
        return gives[at - 1](row, column)

    return run

