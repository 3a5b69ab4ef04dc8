"""Whether what a number names is in its list, and counts on a day: instruments, gauges and wire sets alike."""

from __future__ import annotations

from workbook_template.figures.notation import NO_NUMBER, empty, exactly, say, the, when, xl
from workbook_template.figures.tree import Node, Part


def listed(number: Node, table: str) -> Node:
    """The row of a number in its list; 0 where it is not there."""
    return when(empty(number), NO_NUMBER, xl.IFERROR(xl.MATCH(exactly(number), the[f"{table}_id"], 0), 0))


def not_counted(
    label: str, number: Node, at: Node, table: str, until: Node, fault: Node, day: Node
) -> tuple[tuple[Part, Part], ...]:
    """Why what has this number, in row `at` of its list, doesn't count on a day.

    Its last day is `until`, and `fault` why it doesn't count after it.
    """
    named = say(f"{label} ", number)
    return (
        (at.same(0), say(named, " not on Instruments.")),
        (day > until, say(named, " ", fault, ".")),
        (day < xl.INDEX(the[f"{table}_since"], at), say(named, " ", xl.INDEX(the[f"{table}_before"], at), ".")),
    )
