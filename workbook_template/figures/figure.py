"""A figure of the workbook."""

from __future__ import annotations

from typing import NamedTuple

from workbook_template.figures.tree import Node


class Figure(NamedTuple):
    """A named cell with a formula: its name, what it means, the formula, the dimension it is shown in."""

    name: str
    meaning: str
    formula: Node
    dimension: str = "words"
