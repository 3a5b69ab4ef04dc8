"""A figure of a sheet as data."""

from __future__ import annotations

from typing import NamedTuple

from workbook_template.figures.tree import Node


class Figure(NamedTuple):
    """A named result: its name, what it means, its formula, and the dimension that its number format follows."""

    name: str
    meaning: str
    formula: Node
    dimension: str = "words"
