"""Leads as exact quotients: of a thread, of the lathe's leadscrew, and in a shop's words."""

from __future__ import annotations

from math import gcd

from sheetfuncs.designations import Thread, threads_per_inch
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.units import MM_PER_INCH, PER_INCH, plain_unit, split_number


class Ratio(NamedTuple):
    """An exact quotient of whole numbers in lowest terms; the standard library's Fraction is slow to load."""

    top: int
    bottom: int

    @property
    def value(self) -> float:
        """The quotient as a float."""
        return self.top / self.bottom

    def is_plainer(self, other: Ratio) -> bool:
        """Whether it takes smaller whole numbers to write it: of two ways to say a pitch the plainer is meant."""
        return self.top * self.bottom < other.top * other.bottom


def ratio(top: int, bottom: int) -> Ratio:
    """In lowest terms.

    >>> ratio(46, 8)
    Ratio(top=23, bottom=4)
    """
    common = gcd(top, bottom)
    return Ratio(top // common, bottom // common)


def times(*factors: Ratio) -> Ratio:
    """Product of quotients."""
    top = bottom = 1
    for factor in factors:
        top, bottom = top * factor.top, bottom * factor.bottom
    return ratio(top, bottom)


def inverse(quotient: Ratio) -> Ratio:
    """One over a quotient."""
    return Ratio(quotient.bottom, quotient.top)


def exact(value: float) -> Ratio:
    """A decimal as people write it, ten digits at most, as an exact quotient.

    >>> exact(11.5), exact(25.4)
    (Ratio(top=23, bottom=2), Ratio(top=127, bottom=5))
    """
    whole, _, decimals = f"{value:.10f}".partition(".")
    return ratio(int(whole + decimals), 10 ** len(decimals))


def exact_lead(thread: Thread) -> Ratio:
    """Lead in millimetres, exactly: 25.4 is 127/5, and an inch pitch is one over its threads per inch.

    Of the two ways to write a pitch the plainer is meant: 0.3 in is no 3.333 threads per inch, and a pipe thread of
    19 threads per inch is not 1.3368421053 mm, though its standard is metric.

    >>> exact_lead(Thread("un", "in", 1.0, 1 / 11.5)), exact_lead(Thread("un", "in", 1.0, 0.3))
    (Ratio(top=254, bottom=115), Ratio(top=381, bottom=50))
    >>> exact_lead(Thread("g", "mm", 13.157, 25.4 / 19))
    Ratio(top=127, bottom=95)
    """
    inch = exact(MM_PER_INCH)
    in_inches = thread.unit == "in"
    written = times(inch, exact(thread.pitch)) if in_inches else exact(thread.pitch)
    per_inch = threads_per_inch(thread.pitch if in_inches else thread.pitch / MM_PER_INCH)
    counted = times(inch, inverse(exact(per_inch)))
    return times(written if written.is_plainer(counted) else counted, Ratio(thread.starts, 1))


def mixed(quotient: Ratio) -> str:
    """A quotient as a shop writes it where it is short, a decimal where it is not.

    >>> mixed(ratio(69, 2)), mixed(ratio(46, 1)), mixed(ratio(1016, 25)), mixed(ratio(4000001, 100000))
    ('34 1/2', '46', '40.64', 'not quite 40')
    """
    whole, rest = divmod(quotient.top, quotient.bottom)
    if not rest:
        return str(whole)
    if quotient.bottom <= 16:
        return f"{whole or ''} {rest}/{quotient.bottom}".strip()
    return decimal(quotient)


def decimal(quotient: Ratio) -> str:
    """A quotient that is no whole number, in four decimals.

    >>> decimal(ratio(272, 9)), decimal(ratio(4000001, 100000))
    ('30.2222', 'not quite 40')
    """
    decimals = f"{quotient.value:.4f}".rstrip("0")
    return f"not quite {decimals[:-1]}" if decimals.endswith(".") else decimals


def read_leadscrew(text: str) -> Ratio:
    """Lead of the lathe's screw in millimetres from `8 tpi`, `3 mm`, `1/4 in`; a bare number is threads per inch.

    >>> [read_leadscrew(text).value for text in ("8 tpi", "6", "3 millimetres", '1/8"', "8 threads per inch")]
    [3.175, 4.233333333333333, 3.0, 3.175, 3.175]
    """
    value, behind = split_number(" ".join(text.lower().split()))
    unit = "tpi" if behind in ("", *PER_INCH) else plain_unit(behind)
    if value is None or unit is None:
        raise NotUnderstood(f"leadscrew is '{text}'; write it as in 8 tpi or 3 mm")
    size = exact(value)
    if size.top <= 0:
        raise OutOfRange(f"leadscrew is '{text}'; it must be more than zero")
    if unit == "mm":
        return size
    return times(exact(MM_PER_INCH), inverse(size) if unit == "tpi" else size)
