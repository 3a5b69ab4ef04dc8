"""The records of a built workbook, read off it: all that is compared, and nothing of openpyxl."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from lxml import etree
from openpyxl import Workbook
from openpyxl.cell.cell import MergedCell
from openpyxl.utils import column_index_from_string
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.file import store
from workbook_template.file.tabs import describe
from workbook_template.paper import blocks
from workbook_template.paper.openpyxl_inside import AnyCell, cells_in, charts_of, pictures_of, protections, style_of
from workbook_template.paper.write import last_printed, pages
from workbook_template.read_back.built import (
    Alike,
    At,
    Entry,
    MadeCell,
    MadePage,
    PrintedPage,
    Template,
    forms_of,
    sheet_of,
)
from workbook_template.read_back.contents import Formula, Validation
from workbook_template.read_back.page import FLAT, NARROW, PROTECTED, Rule, areas_of, ranges_of
from workbook_template.read_back.styles import built_conditional, built_style
from workbook_template.rules.parts import Box, box
from workbook_template.sheets.layout import Made


def template_of(book: blocks.Book) -> Template:
    """The records of a built workbook."""
    workbook = book.workbook
    entries = tuple(Entry(one.name, one.sheet, _corners(one.ref)) for one in book.entries)
    printed, looks, alike = _printed(book, entries), _Looks(workbook), Alike()
    sheets = {}
    for ws in workbook.worksheets:
        cells = {place: alike.one(cell) for place, cell in _cells(ws, looks)}
        page = _page(ws, *printed.get(ws.title, (0, ())))
        sheets[ws.title] = sheet_of(ws.title, cells, _validations(ws), page, entries)
    styles = {number: built_style(workbook, number) for _, number in looks.known.values()}
    names = {name: one.attr_text for name, one in workbook.defined_names.items()}
    return Template(entries, names, sheets, styles, forms_of(styles))


def _corners(ref: str) -> Box:
    corners = box(ref)
    assert corners is not None, ref
    return corners


class _Looks:
    """The looks of cells: whether one is an input's, and its number."""

    def __init__(self, workbook: Workbook) -> None:
        self.known: dict[int, tuple[bool, int]] = {}  # by identity, as few are shared by many cells
        self._locks = [one.locked for one in protections(workbook)]

    def of(self, cell: AnyCell) -> tuple[bool, int]:
        """The look of a cell."""
        own = style_of(cell)
        found = self.known.get(id(own))
        if found is None:
            is_input = own is not None and not self._locks[own.protectionId]
            found = self.known[id(own)] = is_input, cell.style_id
        return found


def _cells(ws: Worksheet, looks: _Looks) -> Iterator[tuple[At, MadeCell]]:
    """Row and column of every cell of a sheet, and what it is."""
    for place, cell in cells_in(ws).items():
        is_input, style = looks.of(cell)
        if isinstance(cell, MergedCell):
            yield place, MadeCell(None, None, is_input, True)
        elif cell.data_type == "f":
            yield place, MadeCell(None, Formula(str(cell.value)[1:], *place), is_input, False, style)
        else:
            value = None if cell.value is None else store.value_of(cell.value)
            yield place, MadeCell(value, None, is_input, False, style)


def _page(ws: Worksheet, width: int, own_pages: tuple[PrintedPage, ...]) -> MadePage:
    rows, columns = ws.row_dimensions, ws.column_dimensions
    merged = (_corners(one.coord) for one in ws.merged_cells.ranges)
    return MadePage(
        ws.sheet_state != "visible",
        bool(ws.protection.sheet),
        frozenset(name for name in PROTECTED if not getattr(ws.protection, name)),
        frozenset(row for row, one in rows.items() if one.hidden or (one.height or 15) < FLAT),
        frozenset(
            column_index_from_string(letters)
            for letters, one in columns.items()
            if one.hidden or (one.width or 8) < NARROW
        ),
        frozenset(one for one in merged if one[:2] != one[2:]),
        tuple(_rules(ws)),
        tuple(ranges_of(etree.fromstring(one)) for one in charts_of(ws)),
        pictures_of(ws),
        areas_of(str(ws.print_area or "")),
        areas_of(",".join(filter(None, (ws.print_title_rows, ws.print_title_cols)))),
        {name: str(one) if one else "" for name, one in (("oddHeader", ws.oddHeader), ("oddFooter", ws.oddFooter))},
        width,
        own_pages,
    )


def _rules(ws: Worksheet) -> Iterator[Rule]:
    for area in ws.conditional_formatting:
        boxes = tuple(_corners(one.coord) for one in area.sqref.ranges)
        for rule in area.rules:
            formulas = tuple(str(one) for one in rule.formula or ())
            yield Rule(boxes, rule.type or "", rule.operator or "", formulas, built_conditional(rule.dxf))


def _validations(ws: Worksheet) -> Iterator[Validation]:
    for one in ws.data_validations.dataValidation:
        yield Validation(
            tuple(_corners(area.coord) for area in one.sqref.ranges),
            one.type or "none",
            one.operator or "between",
            str(one.formula1 or ""),
            str(one.formula2 or ""),
            bool(one.showErrorMessage),
            one.prompt or "",
        )


def _printed(book: blocks.Book, entries: Iterable[Entry]) -> dict[str, tuple[int, tuple[PrintedPage, ...]]]:
    """By sheet the last column that is printed, and the pages."""
    lines = next(one.box for one in entries if one.name == "quote_words")
    quote_rows = lines[3] - lines[1] + 1
    empty, full = (
        describe(Made(book.unit, tuple(book.threads), "", book.rows, quote_rows, quantity, quoted, logged))
        for quantity, quoted, logged in ((0, 0, 1), (book.rows, quote_rows, 0))
    )
    return {
        title: (
            last_printed(sheet),
            tuple(
                PrintedPage(top, least, most, bool(sheet.printed_one))
                for (top, least), (_, most) in zip(
                    pages(sheet, lambda table, *_: table.least), pages(full[title], lambda table, *_: table.rows)
                )
            ),
        )
        for title, sheet in empty.items()
    }
