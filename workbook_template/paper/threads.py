"""Writes the hidden sheet Threads: a row for each thread as the standards give it, over them what is in use."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.table import Table
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import at, given, known, the, when, xl
from workbook_template.paper import blocks, naming, styles
from workbook_template.paper.blocks import Book
from workbook_template.sheets.thread_listing import Cell, Listing, SizeLine, listing
from workbook_template.sheets.threads_table import (
    CLASSES,
    CLASSES_AT,
    COLUMNS,
    DIAMETERS,
    FIRST,
    FOUND,
    FOUND_AT,
    GROUPS,
    HEAD,
    HINT,
    IN_USE,
    LIST_NAMES,
    PAIRS,
    PARTS,
    SHEET,
    SIZES,
    SYSTEMS,
    Column,
    starts_at,
)

__all__ = ["SHEET", "build"]


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    found = listing(book.threads)
    ws["A1"] = "Threads: limits as the standards give them, each in its own unit"
    styles.apply(book.known, ws["A1"], "callout")
    ws.row_dimensions[1].height = 32
    blocks.write(book, ws, "A2", HINT, "label")
    blocks.write(book, ws, "A3", "In use on the sheet Job:", "block")
    _table(book, ws, found)
    sizes = [_flat(size) for size in found.sizes]
    short_lists = ((DIAMETERS, found.diameters), (PAIRS, found.pairs), (CLASSES, found.classes))
    lists = ((SYSTEMS, found.systems), (SIZES, sizes), (GROUPS, found.groups), *short_lists)
    rows: tuple[Sequence[object], ...] = (found.rows, *(lines for _, lines in lists))
    for (columns, row_in_use), lines in zip(PARTS, rows):
        _in_use(book, ws, columns, row_in_use, HEAD + len(lines))
    for part, lines in lists:
        _list(ws, part, lines)
    _classes(book, ws, max(size.rows for size in found.sizes))
    for offset, (name, _, formula, _) in enumerate(FOUND):
        letter = get_column_letter(FOUND_AT + offset)
        blocks.write(book, ws, f"{letter}3", name.replace("_", " "), "head")
        blocks.write(book, ws, f"{letter}{IN_USE}", formula, "result")
        ws.column_dimensions[letter].width = 12
    blocks.define(book, naming.of_threads(found))
    ws.freeze_panes = f"C{FIRST}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    ws.page_setup.orientation, ws.page_setup.paperSize = "landscape", ws.PAPERSIZE_A4
    ws.sheet_view.showGridLines = False  # and no print area: with one LibreOffice prints the sheet though it is hidden
    ws.sheet_state = "hidden"
    blocks.lock(ws)


def _flat(line: SizeLine) -> tuple[Cell, ...]:
    """The cells of a size in the order of the columns."""
    return tuple(chain.from_iterable(one if isinstance(one, tuple) else (one,) for one in line))


def _table(book: Book, ws: Worksheet, found: Listing) -> None:
    """The table itself, its cells without a look: nobody sees them, and thousands of looks take room."""
    ws.row_dimensions[HEAD].height = 28
    for number, column in enumerate(COLUMNS, start=1):
        styles.apply(book.known, ws.cell(HEAD, number, column.heading), "head")
    for row, line in enumerate(found.rows, start=FIRST):
        for number, value in enumerate(line.values, start=1):
            if value is not None:
                ws.cell(row, number, value)
    last = get_column_letter(len(COLUMNS))
    ws.add_table(Table(displayName="thread_table", ref=f"A{HEAD}:{last}{HEAD + len(found.rows)}"))


def _in_use(book: Book, ws: Worksheet, columns: tuple[Column, ...], row_in_use: str, last: int) -> None:
    """Over each column what is in use, and its name; the columns that find the rows are named as a whole."""
    for number, column in enumerate(columns, start=starts_at(columns)):
        letter = get_column_letter(number)
        styles.apply(book.known, ws[f"{letter}{HEAD}"], "head")
        ws[f"{letter}{HEAD}"] = column.heading
        ws.column_dimensions[letter].width = column.width
        if column.name in LIST_NAMES:
            continue
        formula = column.looked_up(at(f"${letter}${FIRST}:${letter}${last}"), the[row_in_use])
        look = "result" if column.form else "plain"
        blocks.write(book, ws, f"{letter}{IN_USE}", formula, look, column.form or "words")


def _list(ws: Worksheet, part: tuple[Column, ...], lines: Iterable[Iterable[Cell]]) -> None:
    """A list beside the table, without looks as well; nothing is written where there is nothing to say."""
    for row, line in enumerate(lines, start=FIRST):
        for number, value in zip(range(starts_at(part), CLASSES_AT), line):
            if value is not None:
                ws.cell(row, number, value)


def _classes(book: Book, ws: Worksheet, most: int) -> None:
    """The classes of the chosen size, one below the other, so that a look-up need not go through the whole table."""
    listed, chosen = get_column_letter(CLASSES_AT), get_column_letter(CLASSES_AT + 1)
    for letter, title in ((listed, "classes of the size"), (chosen, "is chosen")):
        styles.apply(book.known, ws[f"{letter}{HEAD}"], "head")
        ws[f"{letter}{HEAD}"] = title
        ws.column_dimensions[letter].width = 12
    for number in range(1, most + 1):
        row = HEAD + number
        its_class = at(f"{listed}{row}")
        there = when(the.class_number >= number, xl.INDEX(the.class_list, the.class_start + (number - 1)))
        is_chosen = when(given(its_class), when(xl.EXACT(its_class, the.thread_class_text), 1, 0), 0)
        blocks.write(book, ws, f"{listed}{row}", when(known(the.class_number), there), "table")
        blocks.write(book, ws, f"{chosen}{row}", is_chosen, "table")
