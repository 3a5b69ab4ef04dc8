"""The functions of the spreadsheet that the workbook uses, by Excel's rules.

Three tables, by what a function is given: single values, single numbers, or ranges as well. An error among single
values is the result without the function being asked.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from datetime import date, timedelta

from workbook_template.figures.book import Problem, Value
from workbook_template.figures.coerce import BY_ZERO, NO_NUMBER, NO_VALUE, NOT_THERE, Fails, number, truth, words
from workbook_template.figures.grid import Given, Several
from workbook_template.figures.numbers import fixed, rounded, rounded_down, rounded_up
from workbook_template.figures.ranges import (
    average,
    count,
    countifs,
    filled,
    logic,
    match,
    nth,
    numbers,
    pattern,
    single,
    stdev,
    sum_of_squares,
    sumif,
    sumifs,
    sumproduct,
    total,
)

DAY_0 = date(1899, 12, 30)
"""The day whose serial number is 0."""
LONGEST_TEXT, MOST_DECIMALS = 32767, 127
"""Characters of one cell, and decimals that FIXED knows, by Excel's documentation."""


def _substitute(text: Value, old: Value, new: Value, which: Value = None) -> str:
    before, after = words(old), words(new)
    if not before:
        return words(text)
    if which is None:
        return words(text).replace(before, after)
    pieces, at = words(text).split(before), int(number(which))
    if at < 1:
        raise Fails(NO_VALUE)
    return before.join(pieces[:at]) + (after if len(pieces) > at else "") + before.join(pieces[at:])


def _from(start: Value, text: Value) -> int:
    """Where in a text a search begins."""
    at = int(number(start)) - 1
    if not 0 <= at <= len(words(text)):
        raise Fails(NO_VALUE)
    return at


def _search(wanted: Value, text: Value, start: Value = 1.0) -> float:
    at = _from(start, text)
    found = (pattern(words(wanted)) or re.compile(re.escape(words(wanted)), re.IGNORECASE)).search(words(text), at)
    if found is None:
        raise Fails(NO_VALUE)
    return found.start() + 1.0


def _find(wanted: Value, text: Value, start: Value = 1.0) -> float:
    at = words(text).find(words(wanted), _from(start, text))
    if at < 0:
        raise Fails(NO_VALUE)
    return at + 1.0


def _signs(text: Value, start: float, count: Value) -> str:
    if number(count) < 0 or start < 0:
        raise Fails(NO_VALUE)
    return words(text)[int(start) : int(start) + int(number(count))]


def _right(text: Value, count: Value = 1.0) -> str:
    if number(count) < 0:
        raise Fails(NO_VALUE)
    return words(text)[max(len(words(text)) - int(number(count)), 0) :]


def _repeated(text: Value, times: Value) -> str:
    count = int(number(times))
    if count < 0 or len(words(text)) * count > LONGEST_TEXT:
        raise Fails(NO_VALUE)
    return words(text) * count


def _fixed(value: Value, decimals: Value = 2.0, plain: Value = False) -> str:
    if number(decimals) > MOST_DECIMALS:
        raise Fails(NO_VALUE)
    return fixed(number(value), int(number(decimals)), truth(plain))


def _day(value: float) -> date:
    """The date of a serial number; Excel's 29 February 1900 is not for the workbook's dates."""
    if not 0 <= value < 2958466:
        raise Fails(NO_NUMBER)
    return DAY_0 + timedelta(int(value))


def _date(year: float, month: float, day: float) -> float:
    """The serial number of a day; a month of 14 is February of the next year."""
    years, months = divmod(int(month) - 1, 12)
    return serial(date(int(year) + years, months + 1, 1)) + int(day) - 1


def serial(day: date) -> float:
    """The serial number of a date."""
    return float((day - DAY_0).days)


def _angle(across: float, up: float) -> float:
    if across == 0 and up == 0:
        raise Fails(BY_ZERO)
    return math.atan2(up, across)


def _modulo(value: float, divisor: float) -> float:
    if divisor == 0:
        raise Fails(BY_ZERO)
    return value - divisor * math.floor(value / divisor)


def _common_divisor(*given: Given) -> float:
    found = [int(one) for one in numbers(given)]
    if any(one < 0 for one in found):
        raise Fails(NO_NUMBER)
    return float(math.gcd(*found))


def _up_to(value: float, step: float, up: bool) -> float:
    if step == 0:
        return 0.0
    return (math.ceil if up else math.floor)(rounded(value / step, 12)) * step


Single = Callable[..., Value]
VALUES: dict[str, Single] = {
    "NOT": lambda value: not truth(value),
    "LEN": lambda value: float(len(words(value))),
    "TRIM": lambda value: " ".join(piece for piece in words(value).split(" ") if piece),
    "UPPER": lambda value: "".join(one.upper() if len(one.upper()) == 1 else one for one in words(value)),
    "LOWER": lambda value: words(value).lower(),
    "LEFT": lambda text, count=1.0: _signs(text, 0, count),
    "RIGHT": _right,
    "MID": lambda text, start, count: _signs(text, number(start) - 1, count),
    "REPT": _repeated,
    "SUBSTITUTE": _substitute,
    "SEARCH": _search,
    "FIND": _find,
    "EXACT": lambda one, other: words(one) == words(other),
    "VALUE": lambda value: number(value),
    "FIXED": _fixed,
}
"""Functions of single values."""

NUMBERS: dict[str, Callable[..., float]] = {
    "ABS": abs,
    "ACOS": math.acos,
    "ASIN": math.asin,
    "ATAN": math.atan,
    "ATAN2": _angle,
    "COS": math.cos,
    "CEILING": lambda value, step: _up_to(value, step, True),
    "DATE": _date,
    "DAY": lambda value: float(_day(value).day),
    "DEGREES": math.degrees,
    "EXP": math.exp,
    "FLOOR": lambda value, step: _up_to(value, step, False),
    "INT": lambda value: float(math.floor(value)),
    "LN": math.log,
    "LOG10": math.log10,
    "MOD": _modulo,
    "MONTH": lambda value: float(_day(value).month),
    "PI": lambda: math.pi,
    "POWER": lambda base, power: math.pow(base, power),
    "RADIANS": math.radians,
    "ROUND": lambda value, decimals: rounded(value, int(decimals)),
    "ROUNDDOWN": lambda value, decimals: rounded_down(value, int(decimals)),
    "ROUNDUP": lambda value, decimals: rounded_up(value, int(decimals)),
    "SIGN": lambda value: float((value > 0) - (value < 0)),
    "SIN": math.sin,
    "SQRT": math.sqrt,
    "TAN": math.tan,
    "TRUNC": lambda value, decimals=0.0: rounded_down(value, int(decimals)),
    "YEAR": lambda value: float(_day(value).year),
}
"""Functions of single numbers; outside of their domain they fail as Python's do."""

RANGES: dict[str, Callable[..., Value]] = {
    "AND": lambda *given: all(logic(given)),
    "OR": lambda *given: any(logic(given)),
    "AVERAGE": average,
    "COLUMNS": lambda given: float(given.width) if isinstance(given, Several) else 1.0,
    "COUNT": count,
    "COUNTA": filled,
    "COUNTIF": countifs,
    "COUNTIFS": countifs,
    "GCD": _common_divisor,
    "LARGE": lambda given, place: nth(given, place, True),
    "MATCH": lambda wanted, given, way=1.0: match(single(wanted), given, single(way)),
    "MAX": lambda *given: max(numbers(given), default=0.0),
    "MIN": lambda *given: min(numbers(given), default=0.0),
    "PRODUCT": lambda *given: math.prod(numbers(given) or [0.0]),
    "ROWS": lambda given: float(given.height) if isinstance(given, Several) else 1.0,
    "SMALL": lambda given, place: nth(given, place, False),
    "STDEV": stdev,
    "SUM": lambda *given: total(numbers(given)),
    "SUMIF": sumif,
    "SUMIFS": sumifs,
    "SUMPRODUCT": sumproduct,
    "SUMSQ": lambda *given: sum_of_squares(numbers(given)),
}
"""Functions that take ranges."""

TESTS: dict[str, Callable[[Given], bool]] = {
    "ISBLANK": lambda value: value is None,
    "ISERROR": lambda value: isinstance(value, Problem),
    "ISNA": lambda value: value == NOT_THERE,
    "ISNUMBER": lambda value: isinstance(value, float),
    "ISTEXT": lambda value: isinstance(value, str),
}
"""Questions about a value, an error among them."""
