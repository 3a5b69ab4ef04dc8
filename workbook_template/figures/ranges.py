"""Functions over ranges: totals, counts, what is looked up."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Iterator
from functools import lru_cache

from workbook_template.figures.book import Problem, Value
from workbook_template.figures.coerce import (
    BY_ZERO,
    NO_NUMBER,
    NO_VALUE,
    NOT_THERE,
    Fails,
    compare,
    finite,
    number,
    rank,
    truth,
)
from workbook_template.figures.grid import Given, Several
from workbook_template.figures.numbers import alike, read_number


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


def total(found: Iterable[float]) -> float:
    """The sum, rounded once; #NUM! where it is larger than any number.

    >>> total([0.1] * 10), total([1e308, 1.0, -1e308])
    (1.0, 1.0)
    """
    try:
        return finite(math.fsum(found))
    except (OverflowError, ValueError):  # on the way to the sum; infinite parts of both signs
        raise Fails(NO_NUMBER) from None


def sum_of_squares(found: Iterable[float]) -> float:
    """The sum of the squares."""
    return total(one * one for one in found)


def single(given: Given) -> Value:
    """The one value of an argument that takes no range."""
    if isinstance(given, Several):
        if given.height * given.width != 1:
            raise Fails(NO_VALUE)
        return given.items[0]
    return given


def average(*given: Given) -> float:
    found = numbers(given)
    if not found:
        raise Fails(BY_ZERO)
    return total(found) / len(found)


def stdev(*given: Given) -> float:
    found = numbers(given)
    if len(found) < 2:
        raise Fails(BY_ZERO)
    middle = total(found) / len(found)
    return math.sqrt(sum_of_squares(one - middle for one in found) / (len(found) - 1))


def count(*given: Given) -> float:
    """Numbers; a text or a yes that is given for itself counts if it reads as one."""
    found = 0
    for one in given:
        if isinstance(one, Several):
            found += sum(isinstance(value, float) for value in one.items)
        else:
            found += isinstance(one, (float, bool)) or (isinstance(one, str) and read_number(one) is not None)
    return float(found)


def filled(*given: Given) -> float:
    return float(
        sum(
            sum(value is not None for value in one.items) if isinstance(one, Several) else one is not None
            for one in given
        )
    )


def logic(given: tuple[Given, ...]) -> list[bool]:
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


def sumproduct(*given: Given) -> float:
    columns = [one.items if isinstance(one, Several) else [one] for one in given]
    if len({len(column) for column in columns}) > 1:
        raise Fails(NO_VALUE)
    products = []
    for row in zip(*columns):
        product = 1.0
        for value in row:
            if isinstance(value, Problem):
                raise Fails(value)
            product *= value if isinstance(value, float) else 0.0
        products.append(product)
    return total(products)


@lru_cache(maxsize=4096)
def pattern(text: str) -> re.Pattern[str] | None:
    """The pattern of a text with * or ?; None where it has none and means itself.

    >>> bool(pattern("a*").fullmatch("Abc")), pattern("abc"), bool(pattern("a~*").fullmatch("a*"))
    (True, None, True)
    """
    if not any(sign in text for sign in "*?~"):
        return None
    runs = [""]
    for piece in re.findall(r"~[*?~]|.", text, re.DOTALL):
        if piece == "*":
            runs.append("")
        else:
            runs[-1] += "." if piece == "?" else re.escape(piece[-1])
    begin, *rest = runs
    # what stands between two * is taken where it comes first and never looked for again, which would take for ever: a
    # look ahead has one answer, and is then stepped over (an atomic group would say the same; Python 3.10 has none)
    between = (f"(?=(?P<run_{number}>.*?{run}))(?P=run_{number})" for number, run in enumerate(rest[:-1]))
    found = "".join((begin, *between, *(f".*{run}" for run in rest[-1:])))
    return re.compile(found, re.IGNORECASE | re.DOTALL)


def match(wanted: Value, given: Given, way: Value = 1.0) -> float:
    if not isinstance(given, Several) or (given.height > 1 and given.width > 1):
        raise Fails(NOT_THERE)
    if isinstance(wanted, Problem):
        raise Fails(wanted)
    wanted = 0.0 if wanted is None else wanted
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
    found, kind = None, rank(wanted)
    for at, one in enumerate(items):
        if one is not None and not isinstance(one, Problem) and rank(one) == kind:
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
        return _equals(0.0 if wanted is None else wanted, bare=True)
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
    if isinstance(limit, float):  # a text that reads as the number counts too
        return lambda value: (
            alike(value, limit) if isinstance(value, float) else isinstance(value, str) and read_number(value) == limit
        )
    return lambda value: value is limit


def _rows_met(given: tuple[Given, ...]) -> Iterator[bool]:
    """Of ranges and criteria in turn: whether each row meets all."""
    tests = []
    for values, wanted in zip(given[::2], given[1::2]):
        if not isinstance(values, Several):
            raise Fails(NO_VALUE)
        test = criterion(single(wanted))
        tests.append([test(value) for value in values.items])
    return (all(row) for row in zip(*tests))


def countifs(*given: Given) -> float:
    return float(sum(_rows_met(given)))


def sumifs(added: Given, *given: Given) -> float:
    if not isinstance(added, Several):
        raise Fails(NO_VALUE)
    return total(one for one, met in zip(added.items, _rows_met(given)) if met and isinstance(one, float))


def sumif(values: Given, wanted: Given, added: Given = None) -> float:
    return sumifs(values if added is None else added, values, wanted)


def nth(given: Given, place: Given, largest: bool) -> float:
    found = sorted(numbers((given,)), reverse=largest)
    at = int(number(single(place)))
    if not 1 <= at <= len(found):
        raise Fails(NO_NUMBER)
    return found[at - 1]
