"""What would settle a size that is undecided: a smaller uncertainty, or the mean of more readings.

A size is undecided where it is nearer to a limit than U, on either side of it. It is decided, where it stays as it is,
by any U that is smaller than that distance. Where U is from the budget of the sheet Uncertainty, the mean of n readings
of one place has s squared / n in the place of the variance s squared of one reading (JCGM 100:2008, 4.2.3), all else
and k as they are.
"""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    all_of,
    any_of,
    blank,
    first,
    fixed,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.trade.verdict import NOISE, limit

MOST_READINGS = 10
"""Nobody reads one place more often (our choice)."""


def distance(result: Node, size: Node, which: str) -> Node:
    """How far an undecided size is from the nearer of its limits."""
    largest, smallest = limit(which, "max"), limit(which, "min")
    apart = xl.MIN(xl.ABS(largest - size), xl.ABS(size - smallest))
    decided = any_of(result.differs("undecided"), no(known(largest)), no(known(smallest)))
    return when(decided, NO_NUMBER, apart)


_FINER = 10 * the.log_scale
"""What makes whole numbers of the last place that an uncertainty is shown with."""


def _places(apart: Node) -> Node:
    """So many of the last places, rounded down: what is shown is never more than what decides."""
    return xl.INT((apart + NOISE) * _FINER)


def _under(apart: Node) -> Node:
    return fixed(_places(apart) / _FINER, the.decimals + 1)


def readings(apart: Node) -> Node:
    """How many readings have a mean with a U that decides; nothing where more would be needed than anybody takes."""
    left = (apart / the.budget_coverage) ** 2 - the.log_other_variance
    few = when(left * MOST_READINGS > the.log_reading_variance, xl.INT(the.log_reading_variance / left) + 1, NO_NUMBER)
    return when(all_of(known(apart), known(the.log_reading_variance)), few, NO_NUMBER)


def row_words(what: Node, apart: Node, count: Node | None = None) -> Node:
    """Beside the verdict of a row: what settles it."""
    near = say(_under(apart), " ", the.unit_text, " from its limit. ")
    method = say("U under ", _under(apart))
    mean = say("the mean of ", count, " readings of that place, or ") if count is not None else ""
    settles = say(near, "Needs ", when(known(count), mean) if count is not None else "", method, ".")
    on_limit = "it is on its limit, which no measurement decides: ask the customer."
    return say(what, " undecided: ", first((_places(apart) < 1, on_limit), otherwise=settles))


def lot_words(apart: Node) -> Node:
    """Beside the count of a lot: the U that decides all of them."""
    decided = say(" (decided by a U under ", _under(apart), ")")
    return when(known(apart), when(_places(apart) < 1, " (one is on its limit)", decided))


_ONE_READING = the.budget_repeatability_contribution
_OF_BUDGET = all_of(blank(the.expanded_uncertainty), known(the.uncertainty_used), known(_ONE_READING))
WORKING = (
    Figure("log_reading_variance", "variance of one reading, where U is that of the budget",
           when(_OF_BUDGET, _ONE_READING**2)),
    Figure("log_other_variance", "variance of all the rest",
           when(_OF_BUDGET, the.budget_combined**2 - _ONE_READING**2)),
    Figure("log_least_decides", "under this U every pitch diameter would be decided",
           when(xl.COUNT(the.log_pitch_diameter_decides) > 0, xl.MIN(the.log_pitch_diameter_decides))),
)  # fmt: skip
"""The single working figures."""
