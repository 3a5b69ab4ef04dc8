"""The functions of the spreadsheet that the workbook uses, by Excel's rules.

Three tables, by what a function is given: single values, single numbers, or ranges as well. An error among single
values is the result without the function being asked.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import lru_cache

from workbook_template.figures.book import Problem, Value
from workbook_template.figures.grid import Given, Several
from workbook_template.figures.numbers import alike, fixed, general, read_number, rounded, rounded_down, rounded_up

NO_VALUE, NO_NUMBER, BY_ZERO = Problem("#VALUE!"), Problem("#NUM!"), Problem("#DIV/0!")
NOT_THERE, NO_PLACE, NO_NAME = Problem("#N/A"), Problem("#REF!"), Problem("#NAME?")
_DAY_0 = date(1899, 12, 30)


class Fails(Exception):
    """A function ends with an error value."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem


# values as another kind


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
    ranks = _rank(one), _rank(other)
    if ranks[0] != ranks[1]:
        return -1 if ranks[0] < ranks[1] else 1
    if isinstance(one, str) and isinstance(other, str):
        left, right = one.lower(), other.lower()
        return 0 if left == right else -1 if left < right else 1
    return compare(float(one), float(other)) if one is not None and other is not None else 0  # type: ignore[arg-type]


def _empty(value: Value) -> Value:
    return "" if isinstance(value, str) else isinstance(value, bool) and False if isinstance(value, bool) else 0.0


def _rank(value: Value) -> int:
    if isinstance(value, Problem):
        raise Fails(value)
    return 2 if isinstance(value, bool) else 1 if isinstance(value, str) else 0


# ranges


def numbers(given: tuple[Given, ...]) -> list[float]:
    """The numbers that SUM and its like take: of a range the numbers alone, a single value as arithmetic has it."""
    found: list[float] = []
    for one in given:
        if isinstance(one, Several):
            for value in one.items:
                if isinstance(value, float):
                    found.append(value)
                elif isinstance(value, Problem):
                    raise Fails(value)
        else:
            found.append(number(one))
    return found


def single(given: Given) -> Value:
    """The one value of an argument that takes no range."""
    if isinstance(given, Several):
        if given.height * given.width != 1:
            raise Fails(NO_VALUE)
        return given.items[0]
    return given


def _average(*given: Given) -> float:
    found = numbers(given)
    if not found:
        raise Fails(BY_ZERO)
    return math.fsum(found) / len(found)


def _stdev(*given: Given) -> float:
    found = numbers(given)
    if len(found) < 2:
        raise Fails(BY_ZERO)
    middle = math.fsum(found) / len(found)
    return math.sqrt(math.fsum((one - middle) ** 2 for one in found) / (len(found) - 1))


def _count(*given: Given) -> float:
    """Numbers; a text or a yes that is given for itself counts if it reads as one."""
    found = 0
    for one in given:
        if isinstance(one, Several):
            found += sum(isinstance(value, float) for value in one.items)
        else:
            found += isinstance(one, (float, bool)) or (isinstance(one, str) and read_number(one) is not None)
    return float(found)


def _filled(*given: Given) -> float:
    return float(
        sum(
            sum(value is not None for value in one.items) if isinstance(one, Several) else one is not None
            for one in given
        )
    )


def _logic(given: tuple[Given, ...]) -> list[bool]:
    found: list[bool] = []
    for one in given:
        if isinstance(one, Several):
            for value in one.items:
                if isinstance(value, Problem):
                    raise Fails(value)
                if isinstance(value, (float, bool)):
                    found.append(bool(value))
        else:
            found.append(truth(one))
    if not found:
        raise Fails(NO_VALUE)
    return found


def _sumproduct(*given: Given) -> float:
    columns = [one.items if isinstance(one, Several) else [one] for one in given]
    if len({len(column) for column in columns}) > 1:
        raise Fails(NO_VALUE)
    total = []
    for row in zip(*columns):
        product = 1.0
        for value in row:
            if isinstance(value, Problem):
                raise Fails(value)
            product *= value if isinstance(value, float) else 0.0
        total.append(product)
    return math.fsum(total)


@lru_cache(maxsize=4096)
def pattern(text: str) -> re.Pattern[str] | None:
    """The pattern of a text with * or ?; None where it has none and means itself.

    >>> bool(pattern("a*").fullmatch("Abc")), pattern("abc"), bool(pattern("a~*").fullmatch("a*"))
    (True, None, True)
    """
    if not any(sign in text for sign in "*?~"):
        return None
    pieces = re.findall(r"~[*?~]|.", text, re.DOTALL)
    spelled = {"*": ".*", "?": "."}
    found = "".join(spelled.get(piece) or re.escape(piece[-1]) for piece in pieces)
    return re.compile(found, re.IGNORECASE | re.DOTALL)


def _match(wanted: Value, given: Given, way: Value = 1.0) -> float:
    if not isinstance(given, Several) or (given.height > 1 and given.width > 1):
        raise Fails(NOT_THERE)
    if isinstance(wanted, Problem):
        raise Fails(wanted)
    order = number(way)
    place = _exactly(wanted, given.items) if order == 0 else _sorted(wanted, given.items, order > 0)
    if place is None:
        raise Fails(NOT_THERE)
    return place + 1.0


def _exactly(wanted: Value, items: list[Value]) -> int | None:
    if isinstance(wanted, str):
        found = pattern(wanted)
        if found is not None:
            return next((at for at, one in enumerate(items) if isinstance(one, str) and found.fullmatch(one)), None)
        plain = wanted.lower()
        return next((at for at, one in enumerate(items) if isinstance(one, str) and one.lower() == plain), None)
    kind = type(wanted)
    return next((at for at, one in enumerate(items) if type(one) is kind and one == wanted), None)


def _sorted(wanted: Value, items: list[Value], rising: bool) -> int | None:
    """The last that is not beyond the wanted one, of the same kind."""
    found, kind = None, _rank(wanted)
    for at, one in enumerate(items):
        if one is not None and not isinstance(one, Problem) and _rank(one) == kind:
            order = compare(one, wanted)
            if order == 0 or (order < 0) == rising:
                found = at
            else:
                break
    return found


def criterion(wanted: Value) -> Callable[[Value], bool]:
    """The test of COUNTIF: a value, or a text with a comparison before it.

    >>> test = criterion(">=2")
    >>> test(2.0), test(1.0), test("3")
    (True, False, False)
    """
    if not isinstance(wanted, str):
        return lambda value: type(value) is type(wanted) and same(value, wanted)
    found = re.match("<=|>=|<>|[=<>]", wanted)
    sign, rest = (found[0], wanted[found.end() :]) if found else ("=", wanted)
    limit: Value = read_number(rest)
    if limit is None:
        limit = rest.upper() == "TRUE" if rest.upper() in ("TRUE", "FALSE") else rest
    if sign in ("=", "<>"):
        equals = _equals(limit, bare=not found)
        return equals if sign == "=" else lambda value: not equals(value)

    def ordered(value: Value) -> bool:
        if type(value) is not type(limit):
            return False
        order = compare(value, limit)
        return (order < 0 and "<" in sign) or (order > 0 and ">" in sign) or (order == 0 and "=" in sign)

    return ordered


def _equals(limit: Value, bare: bool) -> Callable[[Value], bool]:
    if limit == "":
        return (lambda value: value is None or value == "") if bare else (lambda value: value is None)
    if isinstance(limit, str):
        found, plain = pattern(limit), limit.lower()
        if found is not None:
            return lambda value: isinstance(value, str) and bool(found.fullmatch(value))
        return lambda value: isinstance(value, str) and value.lower() == plain
    return lambda value: type(value) is type(limit) and same(value, limit)


def _rows_met(given: tuple[Given, ...]) -> Iterator[bool]:
    """Of ranges and criteria in turn: whether each row meets all."""
    tests = []
    for values, wanted in zip(given[::2], given[1::2]):
        if not isinstance(values, Several):
            raise Fails(NO_VALUE)
        test = criterion(single(wanted))
        tests.append([test(value) for value in values.items])
    return (all(row) for row in zip(*tests))


def _countifs(*given: Given) -> float:
    return float(sum(_rows_met(given)))


def _sumifs(total: Given, *given: Given) -> float:
    if not isinstance(total, Several):
        raise Fails(NO_VALUE)
    return math.fsum(one for one, met in zip(total.items, _rows_met(given)) if met and isinstance(one, float))


def _sumif(values: Given, wanted: Given, total: Given = None) -> float:
    return _sumifs(values if total is None else total, values, wanted)


def _nth(given: Given, place: Given, largest: bool) -> float:
    found = sorted(numbers((given,)), reverse=largest)
    at = int(number(single(place)))
    if not 1 <= at <= len(found):
        raise Fails(NO_NUMBER)
    return found[at - 1]


# text and days


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


def _search(wanted: Value, text: Value, start: Value = 1.0) -> float:
    at = int(number(start)) - 1
    found = (pattern(words(wanted)) or re.compile(re.escape(words(wanted)), re.IGNORECASE)).search(words(text), at)
    if found is None or at < 0:
        raise Fails(NO_VALUE)
    return found.start() + 1.0


def _find(wanted: Value, text: Value, start: Value = 1.0) -> float:
    at = words(text).find(words(wanted), int(number(start)) - 1)
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


def _day(value: float) -> date:
    """The date of a serial number; Excel's 29 February 1900 is not for the workbook's dates."""
    if not 0 <= value < 2958466:
        raise Fails(NO_NUMBER)
    return _DAY_0 + timedelta(int(value))


def serial(day: date) -> float:
    """The serial number of a date."""
    return float((day - _DAY_0).days)


# numbers


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
    "UPPER": lambda value: words(value).upper(),
    "LOWER": lambda value: words(value).lower(),
    "LEFT": lambda text, count=1.0: _signs(text, 0, count),
    "RIGHT": _right,
    "MID": lambda text, start, count: _signs(text, number(start) - 1, count),
    "REPT": lambda text, count: words(text) * int(number(count)),
    "SUBSTITUTE": _substitute,
    "SEARCH": _search,
    "FIND": _find,
    "EXACT": lambda one, other: words(one) == words(other),
    "VALUE": lambda value: number(value),
    "FIXED": lambda value, decimals=2.0, plain=False: fixed(number(value), int(number(decimals)), truth(plain)),
}
"""Functions of single values."""

NUMBERS: dict[str, Callable[..., float]] = {
    "ABS": abs,
    "ACOS": math.acos,
    "ASIN": math.asin,
    "ATAN": math.atan,
    "ATAN2": lambda across, up: math.atan2(up, across),
    "COS": math.cos,
    "CEILING": lambda value, step: _up_to(value, step, True),
    "DATE": lambda year, month, day: serial(date(int(year), int(month), 1)) + int(day) - 1,
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
    "AND": lambda *given: all(_logic(given)),
    "OR": lambda *given: any(_logic(given)),
    "AVERAGE": _average,
    "COLUMNS": lambda given: float(given.width) if isinstance(given, Several) else 1.0,
    "COUNT": _count,
    "COUNTA": _filled,
    "COUNTIF": _countifs,
    "COUNTIFS": _countifs,
    "GCD": _common_divisor,
    "LARGE": lambda given, place: _nth(given, place, True),
    "MATCH": lambda wanted, given, way=1.0: _match(single(wanted), given, single(way)),
    "MAX": lambda *given: max(numbers(given), default=0.0),
    "MIN": lambda *given: min(numbers(given), default=0.0),
    "PRODUCT": lambda *given: math.prod(numbers(given)),
    "ROWS": lambda given: float(given.height) if isinstance(given, Several) else 1.0,
    "SMALL": lambda given, place: _nth(given, place, False),
    "STDEV": _stdev,
    "SUM": lambda *given: math.fsum(numbers(given)),
    "SUMIF": _sumif,
    "SUMIFS": _sumifs,
    "SUMPRODUCT": _sumproduct,
    "SUMSQ": lambda *given: math.fsum(one * one for one in numbers(given)),
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
