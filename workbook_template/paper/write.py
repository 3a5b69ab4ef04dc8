"""Writes sheets that are described as data (`sheets.layout`) into a workbook, working figures on a hidden one."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial
from itertools import groupby
from typing import NamedTuple

from openpyxl.cell.cell import Cell
from openpyxl.formatting.rule import Rule
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, in_lines, in_table, the
from workbook_template.figures.text import text
from workbook_template.figures.tree import Node, Number, Text
from workbook_template.paper import blocks, chart_drawing, styles
from workbook_template.paper.blocks import IN_UNIT, Book
from workbook_template.paper.prompt_titles import prompt_title
from workbook_template.sheets.chart import Chart, ScaleDrawing
from workbook_template.sheets.inputs import Check
from workbook_template.sheets.layout import (
    GRID,
    OWN_HEIGHT,
    Across,
    Block,
    Column,
    Entry,
    Link,
    Mark,
    Matrix,
    Piece,
    Sheet,
    Table,
    place,
)

TOP = 2
"""The first row of a page; over it stand the links, which are not printed."""

PORTRAIT, LANDSCAPE = 7.13, 9.8
"""Width of one of the twelve columns, in characters: so that a page fits A4 and Letter as it is, never shrunk."""

NARROW = 6
"""A column of fewer characters is too narrow for a link alone."""

BY_ITSELF = 14.25
"""The height of a row of 11 points that nobody has set."""

NUMBERS = ("length", "entry", "wire", "feed", "count", "angle", "General")
TABS = {"lathe": "1F4E79", "office": "7F6000", "shop": "595959", "record": "4F6228"}
WORKING = "Working"


class Spot(NamedTuple):
    """Where something stands: rows and columns counted from 1."""

    top: int
    left: int
    bottom: int
    right: int

    @property
    def ref(self) -> str:
        """As a spreadsheet writes it."""
        first = f"{get_column_letter(self.left)}{self.top}"
        last = f"{get_column_letter(self.right)}{self.bottom}"
        return first if first == last else f"{first}:{last}"


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
    ws.row_breaks.brk.pop()  # none after the last page
    if sheet.beside:
        _panel(book, ws, sheet.beside, len(widths) + 2, row)
    if sheet.frozen_lines:
        ws.freeze_panes = f"A{TOP + sheet.frozen_lines}"
    _page(ws, sheet)
    blocks.lock(ws)


def printed(book: Book, sheets: Iterable[Sheet]) -> None:
    """What is printed of each sheet, once its values are in: lists as far as they are in use."""
    for sheet in sheets:
        ws, last = book.workbook[sheet.title], get_column_letter(last_printed(sheet))
        areas = [one for one in pages(sheet, partial(_in_use, ws)) if one[1] >= one[0]]
        joined = [areas[0]]
        for top, bottom in areas[1:]:  # pages that follow one another are one area, with a break between
            if top == joined[-1][1] + 1:
                joined[-1] = joined[-1][0], bottom
            else:
                joined.append((top, bottom))
        ws.print_area = ",".join(f"A{top}:{last}{bottom}" for top, bottom in joined)


def last_printed(sheet: Sheet) -> int:
    """The number of the last column that is printed."""
    return sheet.printed_columns or len(sheet.widths) or GRID


def pages(sheet: Sheet, in_use: Callable[[Table, int, int], int]) -> Iterator[tuple[int, int]]:
    """First and last row that is printed of each page, the last before the first where none is.

    `in_use` says how many rows of a list are, by the row and column where it begins.
    """
    row = TOP
    for number, page in enumerate(sheet.pages):
        lines = sheet.printed_rows if number == 0 and sheet.printed_rows else len(page.lines)
        listed = [(at, left, one) for at, left, one in page.tables if isinstance(one, Table) and one.least]
        if listed:
            lines = max(at + in_use(one, row + at, 1 + left) for at, left, one in listed)
        if sheet.printed_pages and number >= sheet.printed_pages:
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
    """Each sheet opens on its first entry, in the order of the eye, or else on its first link; the book on Start.

    Entries beside the page come after those on it.
    """
    for sheet in sheets:
        ws = book.workbook[sheet.title]
        cells = [cell for row in ws.iter_rows(TOP) for cell in row if isinstance(cell, Cell)]
        typed = (cell.coordinate for cell in cells if not cell.protection.locked)
        links = (cell.coordinate for cell in cells if cell.hyperlink)
        first = next(typed, next(links, f"A{TOP + sheet.frozen_lines}"))
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
    for row, column, piece in place((page,), top, left):
        _piece(book, ws, Spot(row, column, row + piece.lines - 1, column + piece.columns - 1), piece)
    for at, before, table in page.tables:
        if isinstance(table, Across):
            _across(book, ws, table, top + at, left + before)
            continue
        _table(book, ws, table, top + at, left + before)
        if sheet.frozen and sheet.frozen == table.prefix:
            ws.freeze_panes = f"{get_column_letter(left + before + sheet.frozen_columns)}{top + at}"
    if page.repeated >= 0:
        last = top + page.repeated
        ws.print_title_rows = f"{last - page.repeated_lines + 1}:{last}"


def _panel(book: Book, ws: Worksheet, panel: Block, left: int, last: int) -> None:
    """A block beside the page; its rows have the heights that the page gives them."""
    ws.column_dimensions[get_column_letter(left - 1)].width = 3
    for number in range(left, left + panel.columns):
        ws.column_dimensions[get_column_letter(number)].width = PORTRAIT
    for row, column, piece in place((panel,), TOP, left):
        _piece(book, ws, Spot(row, column, row + piece.lines - 1, column + piece.columns - 1), piece)
    for at, before, table in panel.tables:
        if isinstance(table, Table):
            _table(book, ws, table, TOP + at, left + before)
        else:
            _across(book, ws, table, TOP + at, left + before)
    for row in range(last, TOP + len(panel.lines)):
        ws.row_dimensions[row].height = panel.lines[row - TOP].height


def _piece(book: Book, ws: Worksheet, spot: Spot, piece: Piece) -> None:
    content, ref = piece.content, spot.ref
    if isinstance(content, Entry):
        one = content.input
        look = piece.look or ("input_number" if one.dimension in NUMBERS else "input")
        blocks.write(book, ws, ref, content.value, look, one.dimension)
        blocks.name_input(
            book, ws, ref, one.name, one.meaning, prompt=one.prompt, dimension=one.dimension, check=one.check
        )
    elif isinstance(content, Figure) and isinstance(content.formula, Text):
        blocks.write(book, ws, ref, content.formula.value, piece.look)
        blocks.define(book, ws, ref.split(":")[0], content.name, content.meaning)
    elif isinstance(content, Figure):
        blocks.result(
            book, ws, ref, content.name, content.meaning, content.formula, dimension=content.dimension,
            look=piece.look, role=piece.role,
        )  # fmt: skip
        if piece.look.startswith("left_hand"):
            _marks(book, ws, ref, (Mark("left_hand", the[content.name].differs("")),))
    elif isinstance(content, Link):
        blocks.write(book, ws, ref, content.words, piece.look)
        ws.cell(spot.top, spot.left).hyperlink = _link_to(content.sheet)
        blocks.write(book, ws, ref, content.words, piece.look)  # openpyxl gives a link a style of its own
    elif isinstance(content, (Chart, ScaleDrawing)):
        if isinstance(content, Chart) and content.under is not None:
            _piece(book, ws, spot, Piece(piece.columns, content.under, "body_top", piece.lines))
        book.charts.append((ws, ref, content))
    else:
        blocks.write(book, ws, ref, content, piece.look, piece.dimension)


def _table(book: Book, ws: Worksheet, table: Table, top: int, left: int) -> None:
    """The rows of a table and the names of its columns."""
    bottom, at = top + table.rows - 1, left
    starts: dict[str, int] = {}
    for column in table.columns:
        starts[column.name] = at
        at += column.columns
    for column in table.columns:
        first = starts[column.name]
        if column.elsewhere:
            continue
        _cells(book, ws, column, _formulas(book, column, starts, top, bottom), Spot(top, first, bottom, first))
        if column.named:
            _name(book, ws, table, column, Spot(top, first, bottom, first).ref)
        wraps = styles.LOOKS[_look(column)].wrap and column.formula is not None
        if table.height == OWN_HEIGHT and wraps and not (column.hidden or column.grouped):
            book.growing.append((ws, Spot(top, first, bottom, first).ref))
        if column.hidden:
            ws.column_dimensions[get_column_letter(first)].hidden = True
        if column.grouped:
            _group(ws, first, first + column.columns - 1)
        if column.typed:
            _message(ws, table, column, Spot(top, first, bottom, first), top - 1)
    for name, meaning, first_of, last_of, *role in table.spans:
        ref = Spot(top, starts[first_of], bottom, starts[last_of]).ref
        blocks.define(book, ws, ref, name, meaning, role=role[0] if role else "working")
    if table.page[0]:
        shown = [column for column in table.columns if not column.typed]
        last = starts[shown[-1].name] + shown[-1].columns - 1
        blocks.define(book, ws, Spot(top - 1, left, bottom, last).ref, *table.page)
    for mark in table.marks:
        _table_mark(book, ws, table, mark, starts, top, bottom)
    if table.filtered:
        ws.auto_filter.ref = Spot(top - 1, left, bottom, at - 1).ref


def _across(book: Book, ws: Worksheet, table: Across, top: int, left: int) -> None:
    """The lines of a table that goes across, each with its name."""
    lines = {row.name: top + place for place, row in enumerate(table.rows)}
    for row in table.rows:
        own = lines[row.name]
        for number in range(1, table.count + 1):
            cell = row.cells if isinstance(row.cells, Node) else row.cells(number)
            content = in_lines(cell, lines, own) if isinstance(cell, Node) else cell
            at = Spot(own, left + number - 1, own, left + number - 1)
            _piece(book, ws, at, Piece(1, content, row.look, dimension=row.dimension))
        spot = Spot(own, left, own, left + table.count - 1)
        unit = IN_UNIT.get(row.dimension, "")
        blocks.define(book, ws, spot.ref, f"{table.prefix}_{row.name}", row.meaning, unit=unit, role=row.role)


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
            texts += here
            continue
        tree = in_table(here[0], starts, first, top, bottom)
        if isinstance(tree, (Text, Number)) and tree.value != "":  # a constant is no formula
            texts += [tree.value] * len(here)
            continue
        texts += blocks.column_texts(book, tree, first, start, start + len(here) - 1)
    return texts


def _cells(book: Book, ws: Worksheet, column: Column, values: list[str | float | None], spot: Spot) -> None:
    """The cells of a column, each over all its columns of the grid; looks are made once."""
    style = styles.ready(book.known, ws, _look(column), styles.number_format(column.dimension, book.unit))
    last = spot.left + column.columns - 1
    for row, value in enumerate(values, start=spot.top):
        for across in range(spot.left, last + 1):
            ws.cell(row, across)._style = style
        ws.cell(row, spot.left).value = value
        if last > spot.left:
            ws.merge_cells(start_row=row, end_row=row, start_column=spot.left, end_column=last)
    if column.dimension in styles.FORMATS:
        blocks.follow_unit(book, ws, Spot(spot.top, spot.left, spot.bottom, last).ref, column.dimension)


def _look(column: Column) -> str:
    numeric = column.dimension in NUMBERS
    if column.look:
        return column.look
    if column.typed:
        return "cell_number" if numeric else "cell_text"
    return "row_number" if numeric else "row_words"


def _name(book: Book, ws: Worksheet, table: Table, column: Column, ref: str) -> None:
    role = "input" if column.typed else column.role
    unit = IN_UNIT.get(column.dimension, "")
    blocks.define(book, ws, ref, table.name_of(column), column.meaning, unit=unit, role=role)


def _message(ws: Worksheet, table: Table, column: Column, spot: Spot, head: int) -> None:
    """What the column takes, and the message that tells it: at its cells, or at its head alone."""
    check: Check = column.check
    at_head = table.asked_at_heads
    title = prompt_title(table.name_of(column), column.meaning)
    if at_head:
        on_head = DataValidation(allow_blank=True, showInputMessage=True, promptTitle=title, prompt=column.prompt)
        on_head.add(f"{get_column_letter(spot.left)}{head}")
        ws.add_data_validation(on_head)
        if check.type is None:
            return
    rule = DataValidation(
        type=check.type, operator=check.operator, formula1=check.formula1, formula2=check.formula2,
        allow_blank=not check.from_cells, showInputMessage=not at_head,
        showErrorMessage=check.type is not None and bool(check.refusal),
        promptTitle=None if at_head else title, prompt=None if at_head else column.prompt,
        errorTitle="Please check" if check.type else None, error=check.refusal or None, sqref=spot.ref,
    )  # fmt: skip
    ws.add_data_validation(rule)


def _marks(book: Book, ws: Worksheet, ref: str, marks: Iterable[Mark]) -> None:
    for mark in marks:
        _rule(ws, ref, styles.MARKS[mark.look], text(mark.condition), mark.last)


def _rule(ws: Worksheet, ref: str, look: DifferentialStyle, condition: str, last: bool) -> None:
    ws.conditional_formatting.add(ref, Rule(type="expression", dxf=look, formula=[condition], stopIfTrue=last))


def _table_mark(
    book: Book, ws: Worksheet, table: Table, mark: Mark, starts: dict[str, int], top: int, bottom: int
) -> None:
    """A mark over columns of a table. LibreOffice applies one rule a cell: number format and look are one rule."""
    other = "mm" if book.unit == "in" else "in"
    for column in table.columns:
        if mark.columns and column.name not in mark.columns:
            continue
        first = starts[column.name]
        spot = Spot(top, first, bottom, first + column.columns - 1)
        condition = in_table(mark.condition, starts, first, top, bottom)
        look = styles.MARKS[mark.look]
        if column.dimension in styles.FORMATS and look.numFmt is None:
            turned = styles.unit_rule(styles.FORMATS[column.dimension][other])
            turned.font, turned.fill, turned.border = look.font, look.fill, look.border
            also = all_of(condition, the.unit.same(other))
            _rule(ws, spot.ref, turned, text(also, top, first), mark.last)
        _rule(ws, spot.ref, look, text(condition, top, first), mark.last)


def _page(ws: Worksheet, sheet: Sheet) -> None:
    """Printed as it is, at 100 per cent, on A4 as on Letter."""
    ws.page_setup.orientation = "landscape" if sheet.landscape else "portrait"
    ws.page_setup.paperSize = ws.PAPERSIZE_A4
    ws.page_setup.scale = 100
    ws.page_margins.left = ws.page_margins.right = 0.45
    ws.page_margins.top, ws.page_margins.bottom = 0.45, 0.6
    ws.page_margins.header = ws.page_margins.footer = 0.3
    ws.print_options.horizontalCentered = True
    numbered = any(page.repeated >= 0 for page in sheet.pages)
    ws.oddFooter.left.text, ws.oddFooter.center.text = "&A", "&D"
    if numbered:
        ws.oddFooter.right.text = "page &P of &N"
    ws.sheet_view.showGridLines = False
    ws.sheet_properties.tabColor = TABS[sheet.user]
    if sheet.hidden:
        ws.sheet_state = "hidden"


def _link_to(sheet: str) -> Hyperlink:
    """A link within the file: a target would be one to another file."""
    return Hyperlink(ref="", location=f"'{sheet}'!A{TOP}")


def links(book: Book, sheets: Sequence[str]) -> None:
    """A row of links to every sheet over each page."""
    for title in sheets:
        ws = book.workbook[title]
        ws.row_dimensions[1].height = 16
        for (number, last), other in zip(_places(ws), sheets):
            if last > number:
                ws.merge_cells(start_row=1, end_row=1, start_column=number, end_column=last)
            cell = ws.cell(1, number)
            styles.apply(book.known, cell, "link_here" if other == title else "link")
            cell.value = other
            if other != title:
                cell.hyperlink = _link_to(other)
                styles.apply(book.known, cell, "link")


def _places(ws: Worksheet) -> Iterator[tuple[int, int]]:
    """Columns for links, first and last of each: one that is seen, or two narrow ones."""

    def seen(number: int, wide: float) -> bool:
        column = ws.column_dimensions[get_column_letter(number)]
        return not column.hidden and column.width < wide

    number = 1
    while True:
        last = number + 1 if seen(number, NARROW) and seen(number + 1, NARROW) else number
        if seen(number, float("inf")):
            yield number, last
        number = last + 1


def _matrix(book: Book, ws: Worksheet, matrix: Matrix, top: int) -> None:
    """Constants with their head in row `top`, and their names."""
    bottom, right = top + len(matrix.side), 1 + len(matrix.head)
    rows = ((matrix.meaning, *matrix.head), *((one, *row) for one, row in zip(matrix.side, matrix.body)))
    for row, values in enumerate(rows, start=top):
        for column, value in enumerate(values, start=1):
            blocks.write(book, ws, Spot(row, column, row, column).ref, value, "note_9")
    body = Spot(top + 1, 2, bottom, right)
    blocks.define(book, ws, body.ref, matrix.name, matrix.meaning, role="list")
    for name, spot, what in (
        (matrix.side_name, Spot(top + 1, 1, bottom, 1), "rows"),
        (matrix.head_name, Spot(top, 2, top, right), "columns"),
    ):
        if name:
            blocks.define(book, ws, spot.ref, name, f"{matrix.meaning}: {what}", role="list")


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
    row = 1
    for sheet in sheets:
        if not (sheet.working or sheet.working_tables or sheet.matrices):
            continue
        blocks.write(book, ws, f"A{row}", sheet.title, "block")
        row += 1
        for one in sheet.working:
            blocks.write(book, ws, f"A{row}", one.meaning, "note")
            blocks.write(book, ws, f"B{row}", one.name, "note")
            blocks.result(
                book, ws, f"C{row}", one.name, one.meaning, one.formula, dimension=one.dimension, role="working"
            )
            row += 1
        for table in sheet.working_tables:
            column = 1
            for one in table.columns:
                head = one.head if isinstance(one.head, (str, Node)) else one.head.formula
                blocks.write(book, ws, Spot(row, column, row, column + one.columns - 1).ref, head, "head")
                column += one.columns
            _table(book, ws, table, row + 1, 1)
            row += table.rows + 2
        for matrix in sheet.matrices:
            _matrix(book, ws, matrix, row)
            row += len(matrix.side) + 2
    ws.sheet_state = "hidden"
    blocks.lock(ws)
