"""Whether what a number names is in its list, and counts on a day: instruments, gauges and wire sets alike."""

from __future__ import annotations

from workbook_template.figures.notation import NO_NUMBER, all_of, empty, exactly, known, say, the, when, xl
from workbook_template.figures.tree import Node, Part

SHEETS = {"instrument": "Instruments", "wires": "Wire sets"}
"""By the list: the sheet that it stands on."""

UNFIT, UNMATCHED, NOT_CALIBRATED = "is marked unfit", "is no matched set", "has no date as day of calibration"
NO_DUE_DATE = "has no due date"
"""Why something counts on no day, behind its number."""

MATCH_LIMITS = {"in": 0.00002, "mm": 0.0005}
"""How far the wires of a set may differ where nothing else is typed, and one that is typed from the mean of its set:
20 millionths of an inch, or half a micrometre. Common practice. ASME B1.2-1983, Appendix B, and FED-STD-H28/6 ask for
matched wires of this order (from memory).
"""
MATCH_NOISE = 1e-9
"""What they may differ beyond that: the last bits of the arithmetic."""
MOST_WIRE = 1000
"""A wire thicker than this, in either unit, is none."""


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
