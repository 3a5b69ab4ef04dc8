"""Numbers and lengths as a shop writes them, read into floats. The only module that knows pint.

A length is kept in millimetres or inches, never as a quantity object: the spellings below convert by plain
constants, and pint is loaded only for a unit text that is not among them.
"""

from __future__ import annotations

from sheetfuncs.caches import lru_cache
from sheetfuncs.errors import NotUnderstood
from sheetfuncs.records import TYPE_CHECKING

if TYPE_CHECKING:
    import pint

MM_PER_INCH = 25.4
"""Millimetres in an inch, exact since the international yard and pound agreement of 1959."""

MM_PER_UNIT = {"mm": 1.0, "in": MM_PER_INCH}
"""The two units an answer may be asked in."""

_MM_PER_SPELLING = {
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), 1.0),
    **dict.fromkeys(("in", "in.", "inch", "inches", '"', "″", "”", "''"), MM_PER_INCH),
    **dict.fromkeys(("thou", "thous", "mil", "mils"), MM_PER_INCH / 1000),
    **dict.fromkeys(("tenth", "tenths"), MM_PER_INCH / 10_000),
    **dict.fromkeys(("um", "µm", "μm", "micron", "microns"), 0.001),
    **dict.fromkeys(("uin", "µin", "μin", "microinch", "microinches"), MM_PER_INCH / 1e6),
    **dict.fromkeys(("cm",), 10.0),
    **dict.fromkeys(("ft", "foot", "feet", "'"), 12 * MM_PER_INCH),
}
# pint reads these as something that is not a length in this trade (M is molar there, a bare ' fails).

PER_INCH = ("tpi", "t.p.i.", "threads per inch", "threads/inch", "threads per in", "per inch")
"""What stands behind a number that counts threads by the inch, in small letters."""

_OF_NUMBERS = "+-0123456789./ "

_SIGNS = str.maketrans(
    {
        **dict.fromkeys("\u2010\u2011\u2012\u2013\u2014\u2015\u2212", "-"),  # hyphens, dashes, minus
        **dict.fromkeys("*×✕✖⨯∗", "x"),
        **dict.fromkeys("″ʺ“”", '"'),
        **dict.fromkeys("′ʹ‘’", "'"),
        **dict.fromkeys("\u2044\u2215", "/"),  # fraction slash, division slash
        **dict.fromkeys(
            "\u200b\u2060\ufeff\u00ad", ""
        ),  # blanks and hyphens of no width, as text of a drawing has them
        # what a pattern takes for i, s and k where capitals don't matter: the first two are on a Turkish keyboard
        "ı": "i",
        "İ": "I",
        "ſ": "s",
        "\u212a": "K",
    }
)
_ONE_SIGN = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}

LARGEST, NEXT_TO_ZERO = 1e12, 1e-15
"""Beyond the first no number of this trade lies; what is nearer to zero than the second is the rounding of a zero.

Both are this project's choice: powers, products and quotients of numbers between them stay far from what a float
can't hold.
"""


def tidy(text: str) -> str:
    """One spelling of dashes, multiplication signs, inch signs, fractions, spaces and the Turkish i.

    >>> tidy("  M20 × 2.5 –6g "), tidy("1¼-7 UNC"), tidy("1-¼-7 UNC"), tidy("1 ın")
    ('M20 x 2.5 -6g', '1 1/4-7 UNC', '1-1/4-7 UNC', '1 in')
    """
    if text.isascii():
        return " ".join(text.replace("*", "x").replace("''", '"').split())
    for sign, written in _ONE_SIGN.items():
        while sign in text:
            before, _, behind = text.partition(sign)
            text = f"{before}{' ' * before[-1:].isdigit()}{written}{behind}"
    return " ".join(text.translate(_SIGNS).replace("''", '"').split())


def read_number(text: str) -> float | None:
    """A decimal, a fraction or a mixed number; None where the text is none of them, or larger than any in use.

    >>> read_number("1 1/4"), read_number("1-1/4"), read_number(".5")
    (1.25, 1.25, 0.5)
    >>> read_number("1½"), read_number("−3⁄8"), read_number("1\u00a01/4")  # as a drawing writes them
    (1.5, -0.375, 1.25)
    >>> read_number("0,5"), read_number("1 5/4"), read_number("1e999"), read_number("--3/4")
    (None, None, None, None)
    """
    text = text.strip() if text.isascii() else tidy(text)
    if "/" not in text:
        return _decimal(text)
    sign = -1 if text[0] == "-" else 1
    unsigned = text[1:] if text[0] in "+-" else text
    *whole, fraction = unsigned.replace("-", " ").split(" ")
    top, _, bottom = fraction.partition("/")
    parts = [*whole, top, bottom]
    if len(whole) > 1 or not all(part.isascii() and part.isdigit() for part in parts):
        return None
    if not 0 < float(bottom) <= LARGEST or (whole and float(top) >= float(bottom)):
        return None
    return in_reach(sign * (float(whole[0] if whole else 0) + float(top) / float(bottom)))


def in_reach(value: float) -> float | None:
    """The number, 0 where it is next to it; None where it is larger than any in use, or no number.

    >>> in_reach(2), in_reach(1e-300), in_reach(10**400), in_reach(float("nan"))
    (2.0, 0.0, None, None)
    """
    if not -LARGEST <= value <= LARGEST:
        return None
    return 0.0 if -NEXT_TO_ZERO < value < NEXT_TO_ZERO else float(value)


def _decimal(text: str) -> float | None:
    """A plain decimal (3, 3.5, .5, 1e-3); None for the other texts that `float` takes."""
    if not text or text.strip("0123456789+-.eE"):
        return None
    try:
        return in_reach(float(text))
    except ValueError:
        return None


def split_number(text: str) -> tuple[float | None, str]:
    """The number that a text begins with, None where it begins with none, and what stands behind it.

    >>> split_number("86 F"), split_number('1 1/8"'), split_number("1e3"), split_number("about 3")
    ((86.0, 'F'), (1.125, '"'), (1000.0, ''), (None, 'about 3'))
    """
    text = text.strip() if text.isascii() else tidy(text)
    whole = read_number(text)
    if whole is not None:
        return whole, ""
    behind = text.lstrip(_OF_NUMBERS)
    return read_number(text[: len(text) - len(behind)]), behind


def plain_unit(spelling: str) -> str | None:
    """The unit of a plain spelling, "in" or "mm"; None for any other.

    >>> plain_unit("inches"), plain_unit("MM"), plain_unit("cm")
    ('in', 'mm', None)
    """
    mm = _MM_PER_SPELLING.get(spelling.lower())
    return next((unit for unit, size in MM_PER_UNIT.items() if size == mm), None)


def read_length(text: str, name: str, unit: str) -> float:
    """A length in `unit` ("in" or "mm") from text; a number without a unit is already in it.

    Raises NotUnderstood with the argument's `name` where the text is no length.

    >>> round(read_length("0.92 mm", "wire", "in"), 6)
    0.03622
    >>> read_length("3/8 in", "blank", "in")
    0.375
    """
    number, spelling = split_number(text)
    if number is None or spelling[:1] == ",":
        comma = ", with a point for decimals" if "," in text else ""
        raise NotUnderstood(f"{name} is '{text}'; write a length such as 0.0361, 0.92 mm or 3/8 in{comma}")
    if not spelling:
        return number
    mm = _MM_PER_SPELLING.get(spelling.lower()) or _mm_by_pint(spelling, name)
    return number if mm == MM_PER_UNIT[unit] else number * mm / MM_PER_UNIT[unit]


def convert_length(value: float, unit: str, to: str) -> float:
    """`value` in `unit` ("in" or "mm") turned into `to`.

    >>> convert_length(0.75, "in", "mm")
    19.049999999999997
    """
    return value if unit == to else value * MM_PER_UNIT[unit] / MM_PER_UNIT[to]


def at_least(value: float, places: int = 4) -> str:
    """The lower end of what is offered, in so many decimals: up, so that the number as it is shown is taken.

    >>> at_least(0.03324), at_least(0.0332)
    ('0.0333', '0.0332')
    """
    shown = f"{value:.{places}f}"
    return shown if float(shown) >= value else f"{float(shown) + 10**-places:.{places}f}"


def at_most(value: float, places: int = 4) -> str:
    """The upper end of what is offered, in so many decimals: down, so that the number as it is shown is taken.

    >>> at_most(0.01568), at_most(0.0157)
    ('0.0156', '0.0157')
    """
    shown = f"{value:.{places}f}"
    return shown if float(shown) <= value else f"{float(shown) - 10**-places:.{places}f}"


@lru_cache(maxsize=256)
def _mm_by_pint(spelling: str, name: str) -> float:
    refused = NotUnderstood(f"{name} has the unit '{spelling}', which is no length; use in, mm, thou or micron")
    if not spelling.replace("_", "").isalpha():  # pint would work out mm^9^9^9, and never end
        raise refused
    try:
        mm = _registry().Quantity(1.0, spelling).to("mm").magnitude
    except ImportError:
        raise NotUnderstood(f"{name} has the unit '{spelling}'; use in, mm, thou or micron") from None
    except Exception:  # pint raises many kinds, some of them bare assertions, on text that is no unit
        raise refused from None
    return float(mm)


@lru_cache(maxsize=1)
def _registry() -> pint.UnitRegistry[float]:
    import pint

    return pint.UnitRegistry()
