"""Where every defined name is and what it means, read off the sheets as they are described: nothing is written here.

The writer names cells by this list, and the page of names is made from it; no workbook is needed for either.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sized
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.text import letters
from workbook_template.figures.tree import Node, Text
from workbook_template.sheets.chart import Chart
from workbook_template.sheets.layout import GRID, Across, Block, Entry, Matrix, Piece, Sheet, Table, place
from workbook_template.sheets.thread_listing import Listing
from workbook_template.sheets.threads_table import (
    CLASSES_AT,
    FIRST,
    FOUND,
    FOUND_AT,
    HEAD,
    IN_USE,
    LIST_NAMES,
    PARTS,
    SHEET,
    starts_at,
)

WORKING = "Working"
"""The hidden sheet of working figures."""

TOP = 2
"""The first row of a page; over it stand the links, which are not printed."""

IN_UNIT = {
    "length": "working unit",
    "entry": "working unit",
    "wire": "working unit",
    "angle": "degrees",
    "feed": "working unit",
}
"""The unit that a dimension is in."""


class Spot(NamedTuple):
    """Where something stands: rows and columns counted from 1."""

    top: int
    left: int
    bottom: int
    right: int

    @property
    def ref(self) -> str:
        """As a spreadsheet writes it."""
        first, last = f"{letters(self.left)}{self.top}", f"{letters(self.right)}{self.bottom}"
        return first if first == last else f"{first}:{last}"


class Named(NamedTuple):
    """One defined name: its cells, what it means; `role` is input, result, working or list."""

    name: str
    spot: Spot
    meaning: str
    unit: str = ""
    role: str = "result"
    sheet: str = ""

    @property
    def ref(self) -> str:
        """Its cells as a spreadsheet writes them."""
        return self.spot.ref


def of_sheet(sheet: Sheet) -> Iterator[Named]:
    """The names of a sheet, page under page; those of its working figures are on another."""
    for top, left, block in blocks_of(sheet):
        for one in _of_block(block, top, left):
            yield one._replace(sheet=sheet.title)


def blocks_of(sheet: Sheet) -> Iterator[tuple[int, int, Block]]:
    """The pages, and the panel beside them, with the row and column where each begins."""
    row = TOP
    for page in sheet.pages:
        yield row, 1, page
        row += len(page.lines)
    if sheet.beside:
        yield TOP, columns_of(sheet) + 2, sheet.beside


def _of_block(block: Block, top: int, left: int) -> Iterator[Named]:
    for row, column, piece in place((block,), top, left):
        yield from _of_piece(piece, row, column)
    for at, before, table in block.tables:
        if isinstance(table, Across):
            yield from _of_across(table, top + at, left + before)
        else:
            yield from _of_table(table, top + at, left + before)


def columns_of(sheet: Sheet) -> int:
    """How many columns a page has."""
    return len(sheet.widths) or GRID


def _of_piece(piece: Piece, row: int, column: int) -> Iterator[Named]:
    """A piece is named by its first cell."""
    content, spot = piece.content, Spot(row, column, row, column)
    if isinstance(content, Chart):
        content = content.under
    if isinstance(content, Entry):
        one = content.input
        yield Named(one.name, spot, one.meaning, IN_UNIT.get(one.dimension, ""), "input")
    elif isinstance(content, Figure):
        constant = isinstance(content.formula, Text)
        unit = "" if constant else IN_UNIT.get(content.dimension, "")
        yield Named(content.name, spot, content.meaning, unit, piece.role)


def starts_of(table: Table, left: int) -> dict[str, int]:
    """The column of the sheet in which each column of a table begins."""
    starts = {}
    for column in table.columns:
        starts[column.name] = left
        left += column.columns
    return starts


def _of_table(table: Table, top: int, left: int) -> Iterator[Named]:
    """The names of a table whose first row and column these are."""
    starts, bottom = starts_of(table, left), top + table.rows - 1
    for column in table.columns:
        if column.named and not column.elsewhere:
            first = starts[column.name]
            role = "input" if column.typed else column.role
            unit = IN_UNIT.get(column.dimension, "")
            yield Named(table.name_of(column), Spot(top, first, bottom, first), column.meaning, unit, role)
    for name, meaning, first_of, last_of, *its_role in table.spans:
        spot = Spot(top, starts[first_of], bottom, starts[last_of])
        yield Named(name, spot, meaning, role=its_role[0] if its_role else "working")
    if table.page[0]:
        shown = [column for column in table.columns if not column.typed]
        last = starts[shown[-1].name] + shown[-1].columns - 1
        yield Named(table.page[0], Spot(top - 1, left, bottom, last), table.page[1])


def _of_across(table: Across, top: int, left: int) -> Iterator[Named]:
    """The names of a table that goes across, and those of its entries."""
    for at, row in enumerate(table.rows, start=top):
        if not isinstance(row.cells, Node):
            for number in range(1, table.length + 1):
                yield from _of_piece(Piece(1, row.cells(number)), at, left + number - 1)
        spot = Spot(at, left, at, left + table.length - 1)
        yield Named(f"{table.prefix}_{row.name}", spot, row.meaning, IN_UNIT.get(row.dimension, ""), row.role)


def _of_matrix(matrix: Matrix, top: int) -> Iterator[Named]:
    """The names of constants whose head is in row `top`."""
    bottom, right = top + len(matrix.side), 1 + len(matrix.head)
    yield Named(matrix.name, Spot(top + 1, 2, bottom, right), matrix.meaning, role="list")
    if matrix.side_name:
        yield Named(matrix.side_name, Spot(top + 1, 1, bottom, 1), f"{matrix.meaning}: rows", role="list")
    if matrix.head_name:
        yield Named(matrix.head_name, Spot(top, 2, top, right), f"{matrix.meaning}: columns", role="list")


def working_rows(sheets: Iterable[Sheet]) -> Iterator[tuple[int, str | Figure | Table | Matrix]]:
    """What stands on the hidden sheet, with its row: the title of a sheet, its figures, tables and constants."""
    row = 1
    for sheet in sheets:
        if not (sheet.working or sheet.working_tables or sheet.matrices):
            continue
        yield row, sheet.title
        row += 1
        for figure in sheet.working:
            yield row, figure
            row += 1
        for table in sheet.working_tables:
            yield row, table
            row += table.rows + 2
        for matrix in sheet.matrices:
            yield row, matrix
            row += len(matrix.side) + 2


FIGURE_AT = 3
"""The column of the hidden sheet that has the working figures."""


def of_working(sheets: Iterable[Sheet]) -> Iterator[Named]:
    """The names of the hidden sheet."""
    for row, item in working_rows(sheets):
        for one in _of_working(item, row):
            yield one._replace(sheet=WORKING)


def _of_working(item: str | Figure | Table | Matrix, row: int) -> Iterator[Named]:
    if isinstance(item, Figure):
        yield from _of_piece(Piece(1, item, role="working"), row, FIGURE_AT)
    elif isinstance(item, Table):
        yield from _of_table(item, row + 1, 1)
    elif isinstance(item, Matrix):
        yield from _of_matrix(item, row)


def of_threads(found: Listing) -> Iterator[Named]:
    """The names of the sheet Threads: over each column what is in use, the lists, the classes of the size."""
    return (one._replace(sheet=SHEET) for one in _of_threads(found))


def _of_threads(found: Listing) -> Iterator[Named]:
    lists: list[Sized] = [
        found.rows,
        found.systems,
        found.sizes,
        found.groups,
        found.diameters,
        found.pairs,
        found.classes,
    ]
    for (columns, _), listed in zip(PARTS, lists, strict=True):
        for number, column in enumerate(columns, start=starts_at(columns)):
            unit = "" if column.unit == "count" else column.unit
            if column.name in LIST_NAMES:
                yield Named(column.name, Spot(FIRST, number, HEAD + len(listed), number), column.meaning, role="list")
            else:
                yield Named(column.name, Spot(IN_USE, number, IN_USE, number), column.meaning, unit, "working")
    for number, name, meaning in (
        (1, "class_sizes", "the size of every row of the table"),
        (2, "class_list", "the class of every row of the table"),
    ):
        yield Named(name, Spot(FIRST, number, HEAD + len(found.rows), number), meaning, role="list")
    last = HEAD + max(size.rows for size in found.sizes)
    for number, name, meaning in (
        (CLASSES_AT, "size_classes", "the classes of the chosen size"),
        (CLASSES_AT + 1, "size_classes_chosen", "1 beside the chosen class, 0 beside the others"),
    ):
        yield Named(name, Spot(FIRST, number, last, number), meaning, role="working")
    for number, (name, meaning, *_) in enumerate(FOUND, start=FOUND_AT):
        yield Named(name, Spot(IN_USE, number, IN_USE, number), meaning, role="working")
