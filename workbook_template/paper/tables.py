"""Writes tables that are described as data: their cells, names, messages and looks."""

from __future__ import annotations

from itertools import groupby

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import here, in_lines, in_table
from workbook_template.figures.text import text
from workbook_template.figures.tree import Node, Number, Operator, Text
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book
from workbook_template.paper.naming import Spot, starts_of
from workbook_template.paper.openpyxl_inside import give_style
from workbook_template.paper.pieces import NUMBERS, rule, rule_in_other_unit, word_rule, write_piece
from workbook_template.paper.prompt_titles import prompt_title
from workbook_template.sheets.inputs import ANYTHING
from workbook_template.sheets.layout import Across, Column, Mark, Matrix, Piece, Table


def write_table(book: Book, ws: Worksheet, table: Table, top: int, left: int) -> None:
    """The rows of a table."""
    bottom, starts = top + table.rows - 1, starts_of(table, left)
    for column in table.columns:
        first = starts[column.name]
        if column.elsewhere:
            continue
        _cells(book, ws, column, _formulas(book, column, starts, top, bottom), Spot(top, first, bottom, first))
        wraps = styles.LOOKS[look_of(column)].wrap and column.formula is not None
        if table.grown and wraps and not (column.hidden or column.grouped):
            book.growing.append((ws, Spot(top, first, bottom, first).ref))
        if column.hidden:
            ws.column_dimensions[get_column_letter(first)].hidden = True
        if column.grouped:
            _group(ws, first, first + column.columns - 1)
        if column.typed:
            _message(ws, table, column, Spot(top, first, bottom, first), top - 1)
    for mark in table.marks:
        _table_mark(book, ws, table, mark, starts, top, bottom)
    if table.filtered:
        ws.auto_filter.ref = Spot(top - 1, left, bottom, left + table.filtered - 1).ref


def write_across(book: Book, ws: Worksheet, table: Across, top: int, left: int) -> None:
    """The lines of a table that goes across."""
    lines = {row.name: top + place for place, row in enumerate(table.rows)}
    for row in table.rows:
        own = lines[row.name]
        for number in range(1, table.length + 1):
            cell = row.cells if isinstance(row.cells, Node) else row.cells(number)
            content = in_lines(cell, lines, own) if isinstance(cell, Node) else cell
            at = Spot(own, left + number - 1, own, left + number - 1)
            write_piece(book, ws, at, Piece(1, content, row.look, dimension=row.dimension))


def _group(ws: Worksheet, first: int, last: int) -> None:
    """Columns in a closed group; the sign that opens it stands over the column after the last of them."""
    for number in range(first, last + 1):
        own = ws.column_dimensions[get_column_letter(number)]
        own.outlineLevel, own.hidden = 1, True
    ws.column_dimensions[get_column_letter(first)].collapsed = False
    ws.column_dimensions[get_column_letter(last + 1)].collapsed = True


def _formulas(book: Book, column: Column, starts: dict[str, int], top: int, bottom: int) -> list[str | float | None]:
    """What stands in each cell of a column. A tree for many rows is written out row by row, which is quick."""
    first, formula = starts[column.name], column.formula
    if formula is None:
        return [column.value] * (bottom - top + 1)
    trees = [formula] * (bottom - top + 1) if isinstance(formula, Node) else [*map(formula, range(1, bottom - top + 2))]
    if column.top is not None:
        trees[0] = column.top
    texts: list[str | float | None] = []
    for _, alike in groupby(trees, key=id):
        here = [*alike]
        start = top + len(texts)
        if here[0] is None:
            texts += [None] * len(here)
            continue
        tree = in_table(here[0], starts, first, top, bottom)
        if isinstance(tree, (Text, Number)) and tree.value != "":  # a constant is no formula
            texts += [tree.value] * len(here)
            continue
        texts += blocks.column_texts(book, tree, first, start, start + len(here) - 1)
    return texts


def _cells(book: Book, ws: Worksheet, column: Column, values: list[str | float | None], spot: Spot) -> None:
    """The cells of a column, each over all its columns of the grid; looks are made once."""
    style = styles.ready(book.known, ws, look_of(column), styles.number_format(column.dimension, book.unit))
    last = spot.left + column.columns - 1
    for row, value in enumerate(values, start=spot.top):
        cell = ws.cell(row, spot.left)
        give_style(cell, style)
        cell.value = value
        blocks.merge(book, ws, row, spot.left, row, last)
    if column.dimension in styles.FORMATS:
        blocks.follow_unit(book, ws, Spot(spot.top, spot.left, spot.bottom, last).ref, column.dimension)


def look_of(column: Column) -> str:
    numeric = column.dimension in NUMBERS
    if column.look:
        return column.look
    if column.typed:
        return "cell_number" if numeric else "cell_text"
    return "row_number" if numeric else "row_words"


def _message(ws: Worksheet, table: Table, column: Column, spot: Spot, head: int) -> None:
    """What the column takes, and the message that tells it: at its cells, or at its head alone."""
    told = prompt_title(table.name_of(column), column.meaning), column.prompt
    if not table.asked_at_heads:
        ws.add_data_validation(blocks.validation(column.check, spot.ref, *told))
        return
    ws.add_data_validation(blocks.validation(ANYTHING, f"{get_column_letter(spot.left)}{head}", *told))
    if column.check.type is not None:
        ws.add_data_validation(blocks.validation(column.check, spot.ref, None, None))


def _table_mark(
    book: Book, ws: Worksheet, table: Table, mark: Mark, starts: dict[str, int], top: int, bottom: int
) -> None:
    """A mark over columns of a table."""
    for column in table.columns:
        if mark.columns and column.name not in mark.columns:
            continue
        first = starts[column.name]
        spot = Spot(top, first, bottom, first + column.columns - 1)
        condition = in_table(mark.condition, starts, first, top, bottom)
        look = styles.MARKS[mark.look]
        if look.numFmt is None:
            rule_in_other_unit(book, ws, spot, look, condition, column.dimension, mark.last)
        if word := _own_word(mark.condition, column.name):
            word_rule(ws, spot.ref, look, text(word), mark.last)
        else:
            rule(ws, spot.ref, look, text(condition, top, first), mark.last)


def _own_word(condition: Node, column: str) -> Text | None:
    """The word that the cells of the column themselves are asked for, where the condition is that."""
    if isinstance(condition, Operator) and condition.sign == "=" and condition.left == here[column]:
        return condition.right if isinstance(condition.right, Text) else None
    return None


def write_matrix(book: Book, ws: Worksheet, matrix: Matrix, top: int) -> None:
    """Constants with their head in row `top`."""
    rows = ((matrix.meaning, *matrix.head), *((one, *row) for one, row in zip(matrix.side, matrix.body)))
    for row, values in enumerate(rows, start=top):
        for column, value in enumerate(values, start=1):
            blocks.write(book, ws, Spot(row, column, row, column).ref, value, "note_9")
