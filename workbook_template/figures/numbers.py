"""Numbers as Excel keeps them to 15 digits: shown, read from text, rounded."""

from __future__ import annotations

import math
import re
from decimal import ROUND_DOWN, ROUND_HALF_UP, ROUND_UP, Decimal

DIGITS = 15
"""Digits of a number that Excel shows and rounds by."""
LONGEST = 20
"""Signs that a number may take before it is shown with a power of ten."""
_NUMBER = re.compile(r"\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[Ee][+-]?\d+)?)\s*(%?)\s*")
_CLEAR_OF_HALF, _EXACT = 1e-4, 1e9
_TENS = 309
"""No number has as many digits before its point, plus one."""


def general(value: float) -> str:
    """A number as & shows it.

    >>> general(30.0), general(1 / 3), general(0.1 + 0.2), general(-1e-7), general(1e19), general(1e20)
    ('30', '0.333333333333333', '0.3', '-0.0000001', '10000000000000000000', '1E+20')
    """
    if value == int(value) and abs(value) < 1e15:
        return str(int(value))
    mantissa, _, power = f"{value:.{DIGITS - 1}e}".partition("e")
    digits = mantissa.replace(".", "").replace("-", "").rstrip("0")
    exponent = int(power)
    decimals = max(len(digits) - 1 - exponent, 0)
    if max(exponent, 0) + 1 + decimals + (decimals > 0) > LONGEST:
        sign, short = "-" if value < 0 else "", digits[0] + ("." + digits[1:] if len(digits) > 1 else "")
        return f"{sign}{short}E{'+' if exponent >= 0 else '-'}{abs(exponent):02d}"
    return f"{Decimal(mantissa).scaleb(exponent):.{decimals}f}"


def read_number(text: str) -> float | None:
    """The number that a text stands for in arithmetic; None where it stands for none.

    >>> read_number(" 3.5 "), read_number("5%"), read_number("M8"), read_number("")
    (3.5, 0.05, None, None)
    """
    found = _NUMBER.fullmatch(text)
    if found is None:
        return None
    value = float(found[1]) / (100 if found[2] else 1)
    return value if math.isfinite(value) else None


def rounded(value: float, decimals: int, way: str = ROUND_HALF_UP) -> float:
    """To a count of decimals (of tens where negative), halves away from zero, by the 15 digits of the number.

    OverflowError where that is larger than any number.

    >>> rounded(1.005, 2), rounded(-2.5, 0), rounded(1250, -2), rounded(0.5 - 1e-16, 0)
    (1.01, -3.0, 1300.0, 1.0)
    """
    if way == ROUND_HALF_UP and 0 <= decimals < DIGITS:
        steps = abs(value) * 10**decimals
        if steps < _EXACT and abs(steps % 1 - 0.5) > _CLEAR_OF_HALF:
            return math.copysign(math.floor(steps + 0.5) / 10**decimals, value) + 0.0
    if not math.isfinite(value) or (value and way == ROUND_UP and decimals < -_TENS):
        raise OverflowError
    if decimals > 300 or not value:
        return value
    if decimals < -_TENS:
        return 0.0
    exact = Decimal(f"{value:.{DIGITS}g}")
    if exact.adjusted() + decimals > 25:
        return value
    found = float(exact.quantize(Decimal(1).scaleb(-decimals), way)) + 0.0
    if math.isinf(found):
        raise OverflowError
    return found


def rounded_up(value: float, decimals: int) -> float:
    """Away from zero."""
    return rounded(value, decimals, ROUND_UP)


def rounded_down(value: float, decimals: int) -> float:
    """Towards zero."""
    return rounded(value, decimals, ROUND_DOWN)


def fixed(value: float, decimals: int, plain: bool) -> str:
    """A number with a fixed count of decimals; with commas between thousands unless plain.

    >>> fixed(0.74449999999999994, 4, True), fixed(12345.678, 1, False), fixed(-0.0001, 2, True)
    ('0.7445', '12,345.7', '0.00')
    """
    return f"{rounded(value, decimals):{'' if plain else ','}.{max(decimals, 0)}f}"


def alike(one: float, other: float) -> bool:
    """Equal but for what binary fractions add or lose: 0.1 + 0.2 is 0.3 to a spreadsheet.

    A difference under 2^-48 of both counts as none, as LibreOffice does it; Excel compares 15 digits.
    """
    if one == other:
        return True
    apart = abs(one - other)
    if apart >= abs(one) * _NOTHING or apart >= abs(other) * _NOTHING:
        return False
    return not (apart == int(apart) and one == int(one) and other == int(other))


_NOTHING = 2.0**-48
