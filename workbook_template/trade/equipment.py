"""Whether what a number names is in its list, and counts on a day: instruments, gauges and wire sets alike."""

from __future__ import annotations

from workbook_template.figures.notation import NO_NUMBER, all_of, empty, exactly, known, say, the, when, xl
from workbook_template.figures.tree import Node, Part

SHEETS = {"instrument": "Instruments", "wires": "Wire sets"}
"""By the list: the sheet that it stands on."""


def listed(number: Node, table: str) -> Node:
    """The row of a number in its list; 0 where it is not there."""
    return xl.IFERROR(when(empty(number), NO_NUMBER, xl.MATCH(exactly(number), the[f"{table}_id"], 0)), 0)


def unlisted(label: str, number: Node, table: str) -> Node:
    """What is said of a number that is not in its list: blanks around one that is there can't be seen."""
    trimmed = xl.TRIM(number)
    there = known(xl.MATCH(exactly(trimmed), the[f"{table}_id"], 0))
    told = when(
        all_of(xl.LEN(trimmed) < xl.LEN(number), there),
        f"Blanks in the number of the {label.lower()}: retype it without.",
        say(f"{label} ", number, f" not on {SHEETS[table]}."),
    )
    return xl.IFERROR(told, f"{label}: retype the number, it is an error value.")


def not_counted(
    label: str, number: Node, at: Node, table: str, until: Node, fault: Node, day: Node
) -> tuple[tuple[Part, Part], ...]:
    """Why what has this number, in row `at` of its list, doesn't count on a day.

    Its last day is `until`, and `fault` why it doesn't count after it.
    """
    named = say(f"{label} ", number)
    return (
        (at.same(0), unlisted(label, number, table)),
        (day > until, say(named, " ", fault, ".")),
        (day < xl.INDEX(the[f"{table}_since"], at), say(named, " ", xl.INDEX(the[f"{table}_before"], at), ".")),
    )
