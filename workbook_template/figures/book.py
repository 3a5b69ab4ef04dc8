"""A workbook as the readers of trees see it: cells with values, cells with formulas, names."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from workbook_template.figures.tree import Area, Call, Cell, Name, Node, Operator, Sign


class Problem(NamedTuple):
    """An error value, as #N/A."""

    code: str


Value = float | str | bool | Problem | None
"""What a cell holds; None is a blank one. All numbers are floats, a day the count of days since the end of 1899."""

Place = tuple[int, int]
"""Row and column, counted from 1."""


class Cells(NamedTuple):
    """The cells of one sheet. One that is in neither table is blank."""

    values: dict[Place, Value]
    formulas: dict[Place, Node]


class Book(NamedTuple):
    """A whole workbook: sheets by their names, and what each defined name means, by the name in lower case."""

    sheets: dict[str, Cells]
    names: dict[str, Node]


def placed(tree: Node, sheet: str, place: Place, names: dict[str, Node]) -> Node:
    """The tree as it counts in one cell: every place fixed and on a named sheet, every known name replaced."""
    if isinstance(tree, Cell):
        return _fixed(tree, sheet, place)
    if isinstance(tree, Area):
        return Area(_fixed(tree.start, sheet, place), _fixed(tree.end, tree.start.sheet or sheet, place))
    if isinstance(tree, Name):
        return names.get(tree.name.lower(), tree)
    if isinstance(tree, Call):
        inside = (None if one is None else placed(one, sheet, place, names) for one in tree.arguments)
        return Call(tree.function, tuple(inside))
    if isinstance(tree, Operator):
        return Operator(tree.sign, placed(tree.left, sheet, place, names), placed(tree.right, sheet, place, names))
    if isinstance(tree, Sign):
        return replace(tree, part=placed(tree.part, sheet, place, names))
    return tree


def _fixed(cell: Cell, sheet: str, place: Place) -> Cell:
    row, column = cell.place(*place)
    return Cell(row, column, True, True, cell.sheet or sheet)
