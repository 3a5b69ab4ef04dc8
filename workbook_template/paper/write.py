"""Writes sheets that are described as data (`sheets.layout`) into a workbook, working figures on a hidden one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from openpyxl.cell.cell import Cell
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.paper import blocks, chart_drawing, naming, styles
from workbook_template.paper.blocks import Book
from workbook_template.paper.naming import TOP, Spot
from workbook_template.paper.pieces import link_to, write_piece
from workbook_template.paper.tables import write_across, write_matrix, write_table
from workbook_template.sheets.chart import Chart
from workbook_template.sheets.layout import (
    GRID,
    OWN_HEIGHT,
    Across,
    Block,
    Sheet,
    Table,
    place,
)

PORTRAIT, LANDSCAPE = 7.13, 9.8
"""Width of one of the twelve columns, in characters: so that a page fits A4 and Letter as it is, never shrunk."""

LINK_LETTER = 0.75
"""Room for a letter of a link in small type, in characters of a column."""

BY_ITSELF = 14.25
"""The height of a row of 11 points that nobody has set."""

TABS = {"lathe": "1F4E79", "office": "7F6000", "shop": "595959", "record": "4F6228"}


def write(book: Book, ws: Worksheet, sheet: Sheet) -> None:
    """Everything of a sheet but its working figures."""
    widths = sheet.widths or ((LANDSCAPE if sheet.landscape else PORTRAIT),) * GRID
    for number, width in enumerate(widths, start=1):
        ws.column_dimensions[get_column_letter(number)].width = width
    row = TOP
    for page in sheet.pages:
        _block(book, ws, page, row, 1, sheet)
        row += len(page.lines)
        ws.row_breaks.append(Break(id=row - 1))
    blocks.define(book, naming.of_sheet(sheet))
    ws.row_breaks.brk.pop()  # none after the last page
    if sheet.beside:
        _panel(book, ws, sheet.beside, naming.columns_of(sheet) + 2, row)
    if sheet.frozen_lines:
        ws.freeze_panes = f"A{TOP + sheet.frozen_lines}"
    _page(ws, sheet)
    blocks.lock(ws)


def printed(book: Book, sheets: Iterable[Sheet]) -> None:
    """What is printed of each sheet, once its values are in: lists as far as they are in use."""
    for sheet in sheets:
        ws, last = book.workbook[sheet.title], get_column_letter(last_printed(sheet))
        chosen = _number_in(book, sheet.printed_one) if sheet.printed_one else 0
        areas = [one for one in pages(sheet, partial(_in_use, ws), chosen) if one[1] >= one[0]]
        joined = [areas[0]]
        for top, bottom in areas[1:]:  # pages that follow one another are one area, with a break between
            if top == joined[-1][1] + 1:
                joined[-1] = joined[-1][0], bottom
            else:
                joined.append((top, bottom))
        ws.print_area = ",".join(f"A{top}:{last}{bottom}" for top, bottom in joined)


def _number_in(book: Book, name: str) -> int:
    """The whole number that stands in an entry, 0 for none."""
    entry = next(one for one in book.entries if one.name == name)
    value = book.workbook[entry.sheet][entry.ref.split(":")[0]].value
    return value if isinstance(value, int) else 0


def last_printed(sheet: Sheet) -> int:
    """The number of the last column that is printed."""
    return sheet.printed_columns or naming.columns_of(sheet)


def pages(sheet: Sheet, in_use: Callable[[Table, int, int], int], chosen: int = 0) -> Iterator[tuple[int, int]]:
    """First and last row that is printed of each page, the last before the first where none is.

    `in_use` says how many rows of a list are, by the row and column where it begins; a page that is `chosen`, counted
    from 1, is printed alone.
    """
    row = TOP
    for number, page in enumerate(sheet.pages):
        lines = sheet.printed_rows if number == 0 and sheet.printed_rows else len(page.lines)
        listed = [(at, left, one) for at, left, one in page.tables if isinstance(one, Table) and one.least]
        if listed:
            lines = max(at + in_use(one, row + at, 1 + left) for at, left, one in listed)
        if (sheet.printed_pages and number >= sheet.printed_pages) or (chosen and number + 1 != chosen):
            lines = 0
        yield row, row + lines - 1
        row += len(page.lines)


def _in_use(ws: Worksheet, table: Table, top: int, left: int) -> int:
    """Rows to print: up to the last one that holds something typed."""
    found, at = table.least, left
    for column in table.columns:
        if column.typed:
            filled = [row for row in range(table.rows) if ws.cell(top + row, at).value not in (None, "")]
            found = max([found, *(row + 1 for row in filled[-1:])])
        at += column.columns
    return found


def opened(book: Book, sheets: Iterable[Sheet]) -> None:
    """Each sheet opens on the entry that it names or its first, in the order of the eye, or else on its first link.

    Entries beside the page come after those on it. The book opens on Start.
    """
    places = {entry.name: entry.ref for entry in book.entries}
    for sheet in sheets:
        ws = book.workbook[sheet.title]
        cells = [cell for row in ws.iter_rows(TOP) for cell in row if isinstance(cell, Cell)]
        typed = (cell.coordinate for cell in cells if not cell.protection.locked)
        links = (cell.coordinate for cell in cells if cell.hyperlink)
        first = places.get(sheet.opens_on) or next(typed, next(links, f"A{TOP + sheet.frozen_lines}"))
        pane = ws.sheet_view.pane.activePane if ws.sheet_view.pane else None
        for one in ws.sheet_view.selection:
            if one.pane == pane or pane is None:
                one.activeCell = one.sqref = first
    book.workbook.active = 0


def _block(book: Book, ws: Worksheet, page: Block, top: int, left: int, sheet: Sheet) -> None:
    for number, one in enumerate(page.lines):
        if one.height <= OWN_HEIGHT:
            ws.sheet_format.defaultRowHeight = -one.height or BY_ITSELF
            ws.sheet_format.customHeight = one.height < OWN_HEIGHT or None
        else:
            ws.row_dimensions[top + number].height = one.height
    _cells(book, ws, page, top, left)
    for at, before, table in page.tables:
        if sheet.frozen and sheet.frozen == table.prefix:
            ws.freeze_panes = f"{get_column_letter(left + before + sheet.frozen_columns)}{top + at}"
    if page.repeated >= 0:
        last = top + page.repeated
        ws.print_title_rows = f"{last - page.repeated_lines + 1}:{last}"


def _cells(book: Book, ws: Worksheet, page: Block, top: int, left: int) -> None:
    """The pieces of a block, then its tables."""
    for row, column, piece in place((page,), top, left):
        write_piece(book, ws, Spot(row, column, row + piece.lines - 1, column + piece.columns - 1), piece)
    for at, before, table in page.tables:
        if isinstance(table, Across):
            write_across(book, ws, table, top + at, left + before)
        else:
            write_table(book, ws, table, top + at, left + before)


def _panel(book: Book, ws: Worksheet, panel: Block, left: int, last: int) -> None:
    """A block beside the page; its rows have the heights that the page gives them."""
    ws.column_dimensions[get_column_letter(left - 1)].width = 3
    for number in range(left, left + panel.columns):
        ws.column_dimensions[get_column_letter(number)].width = PORTRAIT
    _cells(book, ws, panel, TOP, left)
    for row in range(last, TOP + len(panel.lines)):
        ws.row_dimensions[row].height = panel.lines[row - TOP].height


def _page(ws: Worksheet, sheet: Sheet) -> None:
    """Printed as it is, at 100 per cent, on A4 as on Letter."""
    ws.page_setup.orientation = "landscape" if sheet.landscape else "portrait"
    ws.page_setup.paperSize = ws.PAPERSIZE_A4
    ws.page_setup.scale = 100
    ws.page_margins.left = ws.page_margins.right = 0.35  # Calc draws a column wider than Excel
    ws.page_margins.top, ws.page_margins.bottom = 0.45, 0.6
    ws.page_margins.header = ws.page_margins.footer = 0.3
    ws.print_options.horizontalCentered = True
    numbered = any(page.repeated >= 0 for page in sheet.pages)
    footer = HeaderFooterItem()
    footer.left.text, footer.center.text = "&A", "&D"
    footer.right.text = "&F, page &P of &N" if numbered else "&F"  # the file, from which a paper can be made again
    ws.HeaderFooter.oddFooter = footer
    ws.sheet_view.showGridLines = False
    ws.sheet_properties.tabColor = TABS[sheet.user]
    if sheet.hidden:
        ws.sheet_state = "hidden"


def links(book: Book, sheets: Sequence[str]) -> None:
    """A row of links to every sheet over each page."""
    for title in sheets:
        ws = book.workbook[title]
        ws.row_dimensions[1].height = 16
        number = 0
        for other in sheets:
            number, last = _place_of_link(ws, number + 1, other)
            if last > number:
                ws.merge_cells(start_row=1, end_row=1, start_column=number, end_column=last)
            cell = ws.cell(1, number)
            styles.apply(book.known, cell, "link_here" if other == title else "link")
            cell.value = other
            if other != title:
                cell.hyperlink = link_to(other)
                styles.apply(book.known, cell, "link")
            number = last


def _place_of_link(ws: Worksheet, number: int, title: str) -> tuple[int, int]:
    """First and last column of a link, from a column on: those that are seen, until its words have room."""

    def room(column: int) -> float:
        own = ws.column_dimensions[get_column_letter(column)]
        return 0 if own.hidden else own.width

    while not room(number):
        number += 1
    last, wide = number, room(number)
    while wide < LINK_LETTER * len(title) + 1:
        last += 1
        wide += room(last)
    return number, last


def draw(book: Book) -> None:
    """The charts, once every name that they draw is there."""
    for ws, ref, wanted in book.charts:
        if isinstance(wanted, Chart):
            chart_drawing.add(book, ws, ref, wanted)
        else:
            chart_drawing.to_scale(book, ws, ref, wanted)


def working(book: Book, ws: Worksheet, sheets: Iterable[Sheet]) -> None:
    """The hidden sheet: working figures by sheet, one a row, and the working tables under them."""
    for letter, width in (("A", 60), ("B", 24), ("C", 30)):
        ws.column_dimensions[letter].width = width
    sheets = list(sheets)
    for row, one in naming.working_rows(sheets):
        if isinstance(one, str):
            blocks.write(book, ws, f"A{row}", one, "block")
        elif isinstance(one, Figure):
            blocks.write(book, ws, f"A{row}", one.meaning, "note")
            blocks.write(book, ws, f"B{row}", one.name, "note")
            at = Spot(row, naming.FIGURE_AT, row, naming.FIGURE_AT)
            blocks.write(book, ws, at.ref, one.formula, "result", one.dimension)
        elif isinstance(one, Table):
            for column, start in zip(one.columns, naming.starts_of(one, 1).values()):
                head = column.head.formula if isinstance(column.head, Figure) else column.head
                blocks.write(book, ws, Spot(row, start, row, start + column.columns - 1).ref, head, "head")
            write_table(book, ws, one, row + 1, 1)
        else:
            write_matrix(book, ws, one, row)
    blocks.define(book, naming.of_working(sheets))
    ws.sheet_state = "hidden"
    blocks.lock(ws)
