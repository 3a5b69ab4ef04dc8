"""What the functions of a formula's parts are made of: operators, calls, references, arrays."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from workbook_template.figures.book import Problem, Value
from workbook_template.figures.coerce import (
    BY_ZERO,
    NO_NUMBER,
    NO_PLACE,
    NO_VALUE,
    Fails,
    compare,
    finite,
    number,
    words,
)
from workbook_template.figures.grid import Array, Given, Range, Several
from workbook_template.figures.numbers import alike
from workbook_template.figures.parse import LAST_COLUMN, LAST_ROW

Run = Callable[[int, int], Value]
"""A part of a formula: its value in the cell at a row and column."""
Give = Callable[[int, int], Given]
"""The same where it may be a range."""


class Holder:
    """One cell's value of an argument, while an array is worked."""

    __slots__ = ("value",)

    def __init__(self) -> None:
        self.value: Value = None

    def run(self, row: int, column: int) -> Value:
        return self.value


def spread(worked: Run, holders: Sequence[Holder], gives: Sequence[Give]) -> Give:
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
            items.append(tried(worked, row, column))
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


def rows_of(given: Given) -> Given:
    if not isinstance(given, Range):
        raise Fails(NO_VALUE)
    return Array(given.height, 1, [float(row) for row in range(given.top, given.bottom + 1)])


def failing(problem: Problem) -> Run:
    def run(row: int, column: int) -> Value:
        raise Fails(problem)

    return run


def tried(run: Run, row: int, column: int) -> Value:
    """The value, an error as a value."""
    try:
        return run(row, column)
    except Fails as fails:
        return fails.problem


def crossing(given: Given, row: int, column: int) -> Value:
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


def if_error(tried: Run, instead: Run) -> Run:
    def run(row: int, column: int) -> Value:
        try:
            value = tried(row, column)
        except Fails:
            return instead(row, column)
        return instead(row, column) if isinstance(value, Problem) else value

    return run


def of_numbers(function: Callable[..., float], parts: Sequence[Run]) -> Run:
    def run(row: int, column: int) -> Value:
        values = [number(part(row, column)) for part in parts]
        try:
            return finite(function(*values))
        except (ValueError, OverflowError):
            raise Fails(NO_NUMBER) from None
        except ZeroDivisionError:
            raise Fails(BY_ZERO) from None

    return run


def of_values(function: Callable[..., Value], parts: Sequence[Run]) -> Run:
    def run(row: int, column: int) -> Value:
        try:
            return function(*[part(row, column) for part in parts])
        except ArithmeticError:  # larger than any number
            raise Fails(NO_NUMBER) from None

    return run


def of_ranges(function: Callable[..., Value], parts: Sequence[Give]) -> Run:
    def run(row: int, column: int) -> Value:
        value = function(*[part(row, column) for part in parts])
        return finite(value) if isinstance(value, float) else value

    return run


def signed(sign: str, part: Run) -> Run:
    if sign == "-":
        return lambda row, column: -number(part(row, column)) + 0.0
    if sign == "%":
        return lambda row, column: number(part(row, column)) / 100
    return part


def operated(sign: str, left: Run, right: Run) -> Run:
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


def _is_odd(value: float) -> bool:
    return alike(value, round(value)) and round(value) % 2 == 1


def _power(base: float, power: float) -> float:
    try:
        if base == 0 and power <= 0:
            raise Fails(BY_ZERO if power else NO_NUMBER)
        if base < 0 and power != int(power) and _is_odd(1 / power):
            return finite(-math.pow(-base, power))  # an odd root
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


def index(give: Give, row_at: Run, column_at: Run | None = None) -> Give:
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


def offset(give: Give, parts: Sequence[Run]) -> Give:
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


def choose(which: Run, gives: Sequence[Give]) -> Give:
    def run(row: int, column: int) -> Given:
        at = int(number(which(row, column)))
        if not 1 <= at <= len(gives):
            raise Fails(NO_VALUE)
        return gives[at - 1](row, column)

    return run
