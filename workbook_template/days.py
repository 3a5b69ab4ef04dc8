"""Days that are believed where one is typed: rules for formulas."""

from __future__ import annotations

from workbook_template.figures.notation import all_of, blank, first, known, when
from workbook_template.figures.tree import Node

FIRST_DAY, LAST_DAY = 32874, 73050
"""As a spreadsheet counts them: 1990-01-01 to 2099-12-31. 20260131 is none."""

NO_DAY = "is no day between 1990 and 2099"


def is_day(typed: Node) -> Node:
    """Whether a day between sensible bounds was typed."""
    return when(known(typed), all_of(typed >= FIRST_DAY, typed < LAST_DAY + 1), False)


def day_words(typed: Node, what: str = "This") -> Node:
    """What stands beside an input for a day that is filled with something else."""
    return first((blank(typed), ""), (is_day(typed), ""), otherwise=f"{what} {NO_DAY}.")
