"""How a size is judged by its limits, as formulas: the simple rule and the guard band (`sheets.log`)."""

from __future__ import annotations

from workbook_template.figures.notation import all_of, first, known, the, when, xl
from workbook_template.figures.tree import Node, Part

NOISE = 1e-7
"""A size on its limit counts as in, whatever the last bits of the arithmetic say."""

JUDGED = {"pitch_diameter": "part_pitch_diameter", "crest": "crest"}


def limit(which: str, end: str) -> Node:
    """A limit of the finished part, coated or not, that a pitch diameter or crest is judged by."""
    return the[f"{JUDGED[which]}_{end}"]


def highest_in(limit: Node, over: Part | None = None) -> Node:
    """The largest size that is in by the simple rule.

    A limit as shown, rounded, counts as in: it is what the person at the lathe was told. Where a reading is shown
    instead of the size, it is `over` more.
    """
    return xl.MAX(limit, _as_shown(limit, over)) + NOISE


def lowest_in(limit: Node, over: Part | None = None) -> Node:
    """The smallest."""
    return xl.MIN(limit, _as_shown(limit, over)) - NOISE


def _as_shown(limit: Node, over: Part | None) -> Node:
    return xl.ROUND(limit, the.decimals) if over is None else xl.ROUND(limit + over, the.decimals) - over


def by_limits(value: Node, lowest: Node, highest: Node) -> Node:
    """The word by the simple rule."""
    return first((value > highest, "high"), (value < lowest, "low"), otherwise="in")


def with_band(limit: Node, uncertainty: Node, *, high: bool, accept: bool) -> Node:
    """A limit moved by the guard band w = U: inward where a size must be to be accepted, outward to be rejected."""
    moved = limit - uncertainty if high == accept else limit + uncertainty
    return moved + NOISE if high else moved - NOISE


def by_rule(value: Node, which: str, simple: Node) -> Node:
    """The word for a pitch diameter or crest by the rule of Uncertainty; `simple` is the one by the simple rule."""

    def limits(zone: str) -> tuple[Node, Node]:
        return the[f"log_{which}_{zone}_low"], the[f"log_{which}_{zone}_high"]

    accept, reject = limits("accept"), limits("reject")
    banded = when(known(reject[1]), by_guard_band(value, accept, reject), "undecided")
    return when(the.log_guard.same(0), simple, banded)


def by_guard_band(value: Node, accept: tuple[Node, Node], reject: tuple[Node, Node]) -> Node:
    """The word by the guard band, from the lower and upper limits of acceptance and of rejection."""
    return first(
        (value > reject[1], "high"),
        (value < reject[0], "low"),
        (all_of(value <= accept[1], value >= accept[0]), "in"),
        otherwise="undecided",
    )
