"""Days in formulas: what is believed to be one, and a day in words."""

from __future__ import annotations

from workbook_template.figures.notation import all_of, blank, first, known, say, when, xl
from workbook_template.figures.tree import Node

FIRST_DAY, LAST_DAY = 32874, 73050
"""Days that are believed, as a spreadsheet counts them: 1990-01-01 to 2099-12-31. 20260131 is none."""

NO_DAY = "is no day between 1990 and 2099"


def is_day(given: Node) -> Node:
    """Whether a cell holds a day between sensible bounds."""
    return when(known(given), all_of(given >= FIRST_DAY, given < LAST_DAY + 1), False)


def if_no_day(given: Node, what: str = "This") -> Node:
    """What stands beside an input for a day that is filled with something else."""
    return first((blank(given), ""), (is_day(given), ""), otherwise=f"{what} {NO_DAY}.")


def written(day: Node) -> Node:
    """A day as 2024-03-05, whatever the language of the program."""
    month, of_month = (xl.RIGHT("0" & part, 2) for part in (xl.MONTH(day), xl.DAY(day)))
    return say(xl.YEAR(day), "-", month, "-", of_month)
