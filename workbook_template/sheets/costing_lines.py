"""What the blocks of the sheet Costing are made of: its page, its differences, lines with tables over them."""

from __future__ import annotations

from workbook_template.figures.notation import (
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.estimate_inputs import QUANTITIES
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Line,
    Table,
    block,
    gap,
    line,
    words,
)

WIDTHS = (23.4, 9.8, 9.8, *(8.5,) * QUANTITIES)
"""Labels, now and before, then a column for each quantity; no cell is merged, so that a column can be copied."""

PAGE = len(WIDTHS)

FIRST_QUANTITY = the.estimate_quantity_1
"""All of this sheet is about the first quantity."""


def planned(line: str) -> Node:
    """A line of the price on lathe 1."""
    return xl.INDEX(the[f"estimate_{line}"], 1, 1)


def signed(form: str) -> str:
    """The number format of a difference."""
    return f"+{form};-{form};{form}"


def more_than(one: Node, other: Node) -> Node:
    """How much more the other figure is, once both are numbers."""
    return when(xl.COUNT(one, other).same(2), other - one)


def titled(title: str, *heads: str) -> Block:
    """The title of a block and the heads of its columns."""
    named = (words(1, one, "column_head_right") for one in heads)
    return block(title, line(words(1, ""), *named, gap(PAGE - 1 - len(heads)), height=NOTE))


def laid(written: list[Line], *tables: tuple[int, Table]) -> Block:
    """Lines with tables over them, each from so many lines down; its columns begin with the page's."""
    return Block(PAGE, tuple(written), tuple((down, 0, table) for down, table in tables))


def elsewhere(*names: str) -> tuple[Column, ...]:
    """Columns that the lines write."""
    return tuple(Column(name, "", "", elsewhere=True) for name in names)
