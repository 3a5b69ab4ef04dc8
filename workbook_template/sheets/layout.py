"""A sheet as data: blocks of lines on a grid of equal columns. Nothing here knows an address; `place` gives them out.

A line is a row of pieces, each so many columns wide. Blocks are stacked, or put beside one another, and a table is a
block whose columns are named. What a piece holds is words, an entry, a figure with its name, or a drawing.

>>> from workbook_template.figures.notation import node
>>> head = block("The blank", line(words(4, "Aim"), shown(2, Figure("blank_aim", "aim", node(1), "length"))))
>>> [(one.row, one.column, one.piece.columns) for one in place((head,))]
[(1, 1, 6), (2, 1, 4), (2, 5, 2)]
>>> wide = beside(head, gap(1), head)
>>> wide.columns, len(wide.lines)
(13, 2)
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from sheetfuncs.designations import Thread
from workbook_template.figures.figure import Figure
from workbook_template.figures.tree import Node
from workbook_template.sheets.chart import Chart, ScaleDrawing
from workbook_template.sheets.inputs import ANYTHING, Check, Input

GRID = 12
"""Columns of a page."""

NOTE, BODY, HEAD, CALLOUT, MAIN = 13.5, 18, 22.5, 27, 45
"""Heights of lines in points, each a multiple of one module of 4.5: for type of 9, 11, 14, 20 and 32 points."""


OWN_HEIGHT = 0
"""The height of a line that the program sets by itself, so that it grows with the words in it.

A height under zero is the same with that much at first, until something is typed there.
"""


class Entry(NamedTuple):
    """What is typed: the input, and what stands there at first."""

    input: Input
    value: str | float | None = None


class Link(NamedTuple):
    """Words that lead to another sheet."""

    words: str
    sheet: str


Content = Link | str | float | Node | Entry | Figure | Chart | ScaleDrawing | None


class Piece(NamedTuple):
    """What fills some columns of a line; `lines` is how far down it reaches."""

    columns: int
    content: Content = None
    look: str = "plain"
    lines: int = 1
    dimension: str = "words"  # of a formula without a name
    role: str = "result"


class Line(NamedTuple):
    """Pieces side by side."""

    pieces: tuple[Piece, ...]
    height: float = BODY


class Mark(NamedTuple):
    """A look that cells take while a condition holds; in a table `here` is the row."""

    look: str
    condition: Node
    columns: tuple[str, ...] = ()  # of a table: none for the whole row
    last: bool = True  # no later mark is looked at where this one holds


class Column(NamedTuple):
    """A column of a table: cells that are typed into, or a formula for each row (by its number, from 1)."""

    name: str
    head: str | Node | Figure
    meaning: str
    columns: int = 1
    formula: Node | Callable[[int], Node | None] | None = None  # by number: none for a cell that stays empty
    dimension: str = "words"
    look: str = ""
    check: Check = ANYTHING
    prompt: str = ""
    value: str | float | None = None
    role: str = "result"
    named: bool = True
    hidden: bool = False
    grouped: bool = False  # in an outline group that is closed until somebody opens it
    head_look: str = "column_head"
    elsewhere: bool = False  # its cells are written by the lines, or by another table over the same rows
    top: Node | None = None  # the formula of the first row, where that is another

    @property
    def typed(self) -> bool:
        """Whether people type here."""
        return self.formula is None and self.role == "input"


class Table(NamedTuple):
    """Named columns over so many rows; a column's name in the workbook is the prefix and its own."""

    prefix: str
    columns: tuple[Column, ...]
    rows: int
    height: float = BODY
    head_height: float = NOTE
    marks: tuple[Mark, ...] = ()
    filtered: int = 0  # so many columns have the button of a filter
    page: tuple[str, str] = ("", "")  # a name for all that is shown, heads too, where columns have none; its meaning
    spans: tuple[tuple[str, ...], ...] = ()  # names over neighbours: name, meaning, first and last column, and a role
    asked_at_heads: bool = False  # messages show on the heads, where they hide no cells that are typed into
    grown: bool = False  # a row that sets its own height begins with room for all words in it
    least: int = 0  # rows that are printed at least; then those in use, to the end of its page. 0 for all

    def name_of(self, column: Column) -> str:
        """The defined name of a column; without a prefix it is the column's own."""
        return f"{self.prefix}_{column.name}" if self.prefix else column.name


class Row(NamedTuple):
    """A line of a table that goes across: a name over its cells, and what stands in each, by its number or in all."""

    name: str
    label: str
    meaning: str
    cells: Node | Callable[[int], Node | Entry]
    dimension: str = "words"
    look: str = "row_number"
    role: str = "result"
    label_look: str = "label"


class Across(NamedTuple):
    """A table that goes across: named lines of `length` cells; in formulas `here.x` is line x in the same column.

    A cell takes one column, as the cells of a name lie side by side.
    """

    prefix: str
    rows: tuple[Row, ...]
    length: int
    height: float = BODY


class Matrix(NamedTuple):
    """Constants by row and column on the hidden sheet, with names for the body, and for its side and head if wanted."""

    name: str
    meaning: str
    side: tuple[str | float, ...]
    head: tuple[str | float, ...]
    body: tuple[tuple[str | float, ...], ...]
    side_name: str = ""
    head_name: str = ""


class Block(NamedTuple):
    """Lines over so many columns. `tables` says at which line a table begins, and in which column."""

    columns: int
    lines: tuple[Line, ...]
    tables: tuple[tuple[int, int, Table | Across], ...] = ()
    repeated: int = -1  # the line that is printed on every page of a list
    repeated_lines: int = 1  # so many lines that end with it


class Made(NamedTuple):
    """What a workbook is made for: the working unit at first, the threads its table must hold, the day.

    `rows` is how many the log has, `quote_rows` how many the quote; `quantity` the parts to make as known when it is
    built, `quoted` those of the quote, `logged` the rows of the log that are filled in then.
    """

    unit: str
    threads: tuple[Thread, ...]
    built_on: str
    rows: int
    quote_rows: int
    quantity: int = 0
    quoted: int = 0
    logged: int = 0


class Sheet(NamedTuple):
    """A sheet: pages one under another, each printed on a page of its own where `pages` asks for it."""

    title: str
    pages: tuple[Block, ...]
    working: tuple[Figure, ...] = ()
    working_tables: tuple[Table, ...] = ()
    widths: tuple[float, ...] = ()  # of columns, in characters; none for the grid
    landscape: bool = False
    beside: Block | None = None  # a panel to the right of the page, not printed
    printed_rows: int = 0  # of a list: so many lines of the first page are printed, and all of the others; 0 for all
    printed_columns: int = 0  # of a list: the columns after so many are on the screen alone; 0 for none
    printed_pages: int = 0  # so many pages are printed, the others only seen; 0 for all
    printed_one: str = ""  # an entry: of the pages the one of its number is printed, of no number all of them
    hidden: bool = False
    user: str = "lathe"  # whose tab: lathe, office, shop or record
    matrices: tuple[Matrix, ...] = ()
    frozen: str = ""  # a table's prefix: its head and first columns stay in sight
    frozen_columns: int = 1
    frozen_lines: int = 0  # or so many lines of the first page stay in sight, the banner of a left-hand thread first
    opens_on: str = ""  # the entry that is selected; the first in the order of the eye where none is named


def gap(columns: int) -> Piece:
    """Columns left empty."""
    return Piece(columns)


def words(columns: int, text: str | Node, look: str = "label", lines: int = 1, dimension: str = "words") -> Piece:
    """Words, or a formula without a name."""
    return Piece(columns, text, look, lines, dimension)


def entry(columns: int, one: Input, value: str | float | None = None, look: str = "", lines: int = 1) -> Piece:
    """A cell to type into."""
    return Piece(columns, Entry(one, value), look, lines)


def shown(columns: int, figure: Figure, look: str = "result", lines: int = 1, role: str = "result") -> Piece:
    """A figure under its name."""
    return Piece(columns, figure, look, lines, role=role)


def link(columns: int, text: str, sheet: str) -> Piece:
    """Words that lead to another sheet."""
    return Piece(columns, Link(text, sheet), "linked")


def picture(columns: int, drawn: Chart | ScaleDrawing, lines: int) -> Piece:
    """A chart over so many columns and lines."""
    return Piece(columns, drawn, lines=lines)


def box(columns: int, lines: int = 1) -> Piece:
    """An empty box for a pen."""
    return Piece(columns, None, "box", lines)


def line(*pieces: Piece, height: float = BODY) -> Line:
    """Pieces side by side."""
    return Line(pieces, height)


def deep(piece: Piece, height: float = BODY) -> tuple[Line, ...]:
    """A piece that reaches down over its lines, as so many lines."""
    return (Line((piece,), height), *(Line((), height) for _ in range(piece.lines - 1)))


def block(head: str | Node | Figure | None, *lines: Line, columns: int = 0) -> Block:
    """Lines under a head that is as wide as the widest of them."""
    wide = columns or max((sum(piece.columns for piece in one.pieces) for one in lines), default=GRID)
    if head is None:
        return Block(wide, lines)
    return Block(wide, (Line((Piece(wide, head, "section"),), HEAD), *lines))


def stack(*blocks: Block) -> Block:
    """Blocks one under another."""
    lines: list[Line] = []
    tables: list[tuple[int, int, Table | Across]] = []
    repeated = -1
    for one in blocks:
        tables += [(at + len(lines), column, table) for at, column, table in one.tables]
        if one.repeated >= 0:
            repeated = one.repeated + len(lines)
        lines += one.lines
    return Block(max(one.columns for one in blocks), tuple(lines), tuple(tables), repeated)


def beside(*parts: Block | Piece) -> Block:
    """Blocks side by side, with empty columns (`gap`) between; a line is as high as its highest."""
    blocks = [part if isinstance(part, Block) else Block(part.columns, ()) for part in parts]
    count = max(len(one.lines) for one in blocks)
    lines = []
    for number in range(count):
        pieces: list[Piece] = []
        height = 0.0
        for one in blocks:
            mine = one.lines[number] if number < len(one.lines) else Line((), 0)
            used = sum(piece.columns for piece in mine.pieces)
            pieces += mine.pieces
            if used < one.columns:
                pieces.append(gap(one.columns - used))
            height = max(height, mine.height)
        lines.append(Line(tuple(pieces), height))
    tables, before = [], 0
    for one in blocks:
        tables += [(at, column + before, found) for at, column, found in one.tables]
        before += one.columns
    return Block(before, tuple(lines), tuple(tables))


def table(one: Table, head: str | Node | Figure | None = None) -> Block:
    """A table as a block: a line of heads, then its rows; their cells are written from the table itself."""
    wide = sum(column.columns for column in one.columns)
    heads = Line(tuple(_headed(column) for column in one.columns), one.head_height)
    above = () if head is None else (Line((Piece(wide, head, "section"),), HEAD),)
    rows = tuple(Line((), one.height) for _ in range(one.rows))
    return Block(wide, (*above, heads, *rows), ((len(above) + 1, 0, one),), len(above))


def across(one: Across, label_columns: int) -> Block:
    """A table that goes across as a block: its labels, and the cells from the table itself."""
    labels = tuple(Line((Piece(label_columns, row.label, row.label_look),), one.height) for row in one.rows)
    return Block(label_columns + one.length, labels, ((0, label_columns, one),))


def _headed(column: Column) -> Piece:
    return Piece(column.columns, column.head, column.head_look)


class Placed(NamedTuple):
    """A piece with the cell it begins in, rows and columns counted from 1."""

    row: int
    column: int
    piece: Piece


def place(pages: Iterable[Block], top: int = 1, left: int = 1) -> Iterator[Placed]:
    """Every piece that holds something or has a look, with its place, page under page."""
    row = top
    for page in pages:
        for one in page.lines:
            column = left
            for piece in one.pieces:
                if piece.content is not None or piece.look != "plain":
                    yield Placed(row, column, piece)
                column += piece.columns
            row += 1
