"""Reads the published rows that tests compare with; a row that its source misprints is not compared."""

from __future__ import annotations

import csv
from pathlib import Path

PUBLISHED = Path(__file__).parent / "published"


def rows(name: str) -> list[dict[str, str]]:
    """The rows of tests/published/NAME.csv without those that carry a flag."""
    return [row for row in every_row(name) if not row.get("flag")]


def every_row(name: str) -> list[dict[str, str]]:
    """All rows, flagged ones too."""
    with (PUBLISHED / f"{name}.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def header(name: str) -> list[str]:
    """The comment lines at the head of a file: what it is, its source, how far to trust it."""
    with (PUBLISHED / f"{name}.csv").open(encoding="utf-8") as lines:
        return [line.lstrip("# ").rstrip("\n") for line in lines if line.startswith("#")]


def last_place(printed: str) -> float:
    """One unit in the last printed place: 0.001 for `18.334`.

    >>> last_place("18.334"), last_place("5")
    (0.001, 1.0)
    """
    return 10.0 ** -len(printed.partition(".")[2])


def agrees(value: float | None, printed: str, places_off: float = 0.0) -> bool:
    """Whether `value` rounds to the printed digits, or is at most that many last places off.

    >>> agrees(0.70790000001, "0.7079"), agrees(0.70796, "0.7079"), agrees(0.70796, "0.7079", 1)
    (True, False, True)
    """
    if value is None:
        return False
    half_and_noise = 0.5 * last_place(printed) * (1 + 1e-6)
    return abs(value - float(printed)) <= half_and_noise + places_off * last_place(printed)
