"""A value taken as another kind, and two values compared, by Excel's rules."""

from __future__ import annotations

import math

from workbook_template.figures.book import Problem, Value
from workbook_template.figures.numbers import alike, general, read_number

NO_VALUE, NO_NUMBER, BY_ZERO = Problem("#VALUE!"), Problem("#NUM!"), Problem("#DIV/0!")
NOT_THERE, NO_PLACE, NO_NAME = Problem("#N/A"), Problem("#REF!"), Problem("#NAME?")


class Fails(Exception):
    """A function ends with an error value."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem


def number(value: Value) -> float:
    """A value in arithmetic."""
    if isinstance(value, float):
        return value
    if value is None:
        return 0.0
    if isinstance(value, Problem):
        raise Fails(value)
    if isinstance(value, str):
        read = read_number(value)
        if read is None:
            raise Fails(NO_VALUE)
        return read
    return float(value)


def words(value: Value) -> str:
    """A value as text."""
    if isinstance(value, str):
        return value
    if value is None:
        return ""
    if isinstance(value, Problem):
        raise Fails(value)
    if isinstance(value, bool):
        return "TRUE" if value else "FALSE"
    return general(value)


def truth(value: Value) -> bool:
    """A value as a condition."""
    if isinstance(value, bool):
        return value
    if isinstance(value, str):
        if value.upper() not in ("TRUE", "FALSE"):
            raise Fails(NO_VALUE)
        return value.upper() == "TRUE"
    return number(value) != 0


def finite(value: float) -> float:
    """A result that is a number."""
    if not math.isfinite(value):
        raise Fails(NO_NUMBER)
    return value


def same(one: Value, other: Value) -> bool:
    """Whether = holds: text regardless of capitals, a blank as the empty value of the other's kind."""
    return compare(one, other) == 0


def compare(one: Value, other: Value) -> int:
    """-1, 0 or 1: numbers come before text, text before yes and no."""
    if isinstance(one, float) and isinstance(other, float):
        return 0 if alike(one, other) else -1 if one < other else 1
    if one is None:
        one = _empty(other)
    if other is None:
        other = _empty(one)
    ranks = rank(one), rank(other)
    if ranks[0] != ranks[1]:
        return -1 if ranks[0] < ranks[1] else 1
    if isinstance(one, str) and isinstance(other, str):
        left, right = one.lower(), other.lower()
        return 0 if left == right else -1 if left < right else 1
    return compare(number(one), number(other))


def _empty(value: Value) -> Value:
    return "" if isinstance(value, str) else False if isinstance(value, bool) else 0.0


def rank(value: Value) -> int:
    if isinstance(value, Problem):
        raise Fails(value)
    return 2 if isinstance(value, bool) else 1 if isinstance(value, str) else 0
