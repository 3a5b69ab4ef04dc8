"""Reads the tables of the standards: comment lines with the source, one header row, then the printed values."""

from __future__ import annotations

import os

_DATA = os.path.join(os.path.dirname(__file__), "standards", "data")


def rows(name: str) -> list[dict[str, str]]:
    """The rows of a table as dictionaries of text, by the names in its header row.

    >>> rows("iso_metric_sizes")[0]["diameter_mm"]
    '1'
    """
    with open(os.path.join(_DATA, f"{name}.csv"), encoding="utf-8") as lines:
        printed = [line.rstrip("\n").split(",") for line in lines if line.strip() and line[0] != "#"]
    header, *body = printed
    if any(len(row) != len(header) for row in body):
        raise ValueError(f"table {name}: a row has not {len(header)} columns")
    return [dict(zip(header, row)) for row in body]
