"""What the formulas for a lathe have in common: the lathe in use, whole numbers, the nearest of a list."""

from __future__ import annotations

from collections.abc import Callable

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.notation import Numbered, fixed, say, the, when, xl
from workbook_template.figures.tree import Node, Part

LATHES = (1, 2)
GEARS = "abcd"
"""Letters of the gears of a train, and of those on the shaft of a thread dial."""

NEAR = 0.0000001
"""Turns, threads and leads that differ by less from a whole number are whole: decimals as people type them."""
EXACT = 0.000000001
"""A lead nearer than this share of it is exact."""

HANDLE_GEARS = "Power off and locked before gears are handled."
MM_PER_WORKING_UNIT = when(the.unit_text.same("in"), MM_PER_INCH, 1)


def of_chosen(part: Callable[[int], Node]) -> Node:
    """The part that belongs to the lathe in use, of one that each lathe has."""
    return when(the.lathe_used.same(2), part(2), part(1))


def in_use(name: str) -> Node:
    """The figure of the lathe in use.

    >>> from workbook_template.figures.text import text
    >>> text(in_use("rpm_listed"))
    'IF(lathe_used=2,rpm_listed_2,rpm_listed_1)'
    """
    return of_chosen(lambda lathe: Numbered(lathe)[name])


def whole(value: Node, within: Part = NEAR) -> Node:
    """Whether a value is a whole number."""
    return xl.ABS(value - xl.ROUND(value, 0)) <= within


def least(*parts: Node) -> Node:
    """The least of the numbers among parts, nothing where there is none."""
    return when(xl.COUNT(*parts) > 0, xl.MIN(*parts))


def most(*parts: Node) -> Node:
    """The greatest of the numbers among parts, nothing where there is none."""
    return when(xl.COUNT(*parts) > 0, xl.MAX(*parts))


def length(part: Node) -> Node:
    """A length in words, with the digits of the working unit and the unit itself."""
    return say(fixed(part, the.decimals), " ", the.unit_text)
