"""From a built workbook to a finished file: stored values, a repeatable package.

A program that does not calculate (a previewer, a phone, protected view) shows what is stored. The formulas are
computed here, and their values written with them; nothing else of the file changes.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from datetime import date, datetime
from typing import Any

from lxml import etree
from openpyxl import Workbook
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.utils import get_column_letter
from openpyxl.writer.excel import ExcelWriter
from openpyxl.xml.constants import ARC_CORE, ARC_STYLE

from sheetfuncs import quantiles
from workbook_template.figures import book as figures
from workbook_template.figures.functions import serial
from workbook_template.figures.parse import Columns, parse
from workbook_template.figures.tree import Node
from workbook_template.figures.value import Computed
from workbook_template.file.build import built_on
from workbook_template.file.sheet_xml import SheetWriter
from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import cells_in

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
MODIFIED = "{http://purl.org/dc/terms/}modified"
FONT_ORDER = ("b", "i", "strike", "u", "vertAlign", "sz", "color", "name", "family", "charset", "scheme")
"""The order that the file format asks for; openpyxl has another."""

Stored = dict[str, dict[str, figures.Value]]
"""Sheet -> cell -> value."""


def compute(book: Book) -> Stored:
    """The value of every formula cell, by Excel's rules."""
    return values_of(Computed(cells_of(book), serial(built_on()), PROBABILITY))


def values_of(computed: Computed) -> Stored:
    """The value of every formula cell of a computed workbook."""
    return {
        grid.name: {f"{get_column_letter(c)}{r}": value for (r, c), value in computed.values(grid.name).items()}
        for grid in computed.grids.values()
    }


PROBABILITY: dict[str, Callable[..., float]] = {
    "NORMSINV": quantiles.normal,
    "TINV": lambda beyond, freedom: quantiles.t(1 - beyond / 2, int(freedom)),
    "CHIINV": lambda beyond, freedom: quantiles.chi_square(1 - beyond, int(freedom)),
    "FDIST": lambda value, upper, lower: quantiles.f_tail(value, int(upper), int(lower)),
}
"""The spreadsheet's functions of probability, out of our own."""


def cells_of(book: Book) -> figures.Book:
    """The cells and names of a workbook as its formulas see them."""
    sheets = {}
    for sheet in book.workbook:
        values: dict[figures.Place, figures.Value] = {}
        formulas: dict[figures.Place, Node] = {}
        read = Columns()
        for (row, column), cell in cells_in(sheet).items():
            if cell.data_type == "f":
                formulas[row, column] = read(str(cell.value)[1:], row, column)
            elif cell.value not in (None, ""):
                values[row, column] = value_of(cell.value)
        sheets[sheet.title] = figures.Cells(values, formulas)
    names = {name.lower(): parse(one.attr_text) for name, one in book.workbook.defined_names.items()}
    return figures.Book(sheets, names)


def value_of(value: object) -> figures.Value:
    """A constant as formulas see it."""
    if isinstance(value, (str, bool)):
        return value
    if isinstance(value, (int, float)):
        return float(value)
    if isinstance(value, date):
        return serial(value)
    raise TypeError(f"a workbook is not built with {value!r} in a cell")


def package(book: Book, stored: Stored | None = None) -> bytes:
    """The workbook as file content, with the values of its formulas where they are given."""
    return pack(book.workbook, stored)


def pack(workbook: Workbook, stored: Stored | None = None) -> bytes:
    """The same of a workbook that no sheet of the template describes."""
    stream = io.BytesIO()
    with _Archive(stream, "w") as archive:
        _Writer(workbook, archive, stored).save()
    return stream.getvalue()


class _Writer(ExcelWriter):
    """openpyxl's, with sheets whose cells are written by `sheet_xml`."""

    def __init__(self, workbook: Workbook, archive: _Archive, stored: Stored | None) -> None:
        super().__init__(workbook, archive)
        self.archive, self.stored = archive, stored

    def write_worksheet(self, ws: Any) -> None:
        """One sheet; its drawing and tables are written next, and the parts it points to with them."""
        ws._drawing = SpreadsheetDrawing()
        ws._drawing.charts = ws._charts
        writer: Any = SheetWriter(ws, self.stored[ws.title] if self.stored else None)
        self.archive.writestr(ws.path[1:], writer.content())
        ws._rels = writer._rels
        self.manifest.append(ws)


PACKED = 8
"""How hard a part is packed: a twentieth less than by 6, for a quarter of a second more; 9 gives nothing beyond it."""


class _Archive(zipfile.ZipFile):
    """A package whose bytes depend on what is in it and the day of the build alone."""

    def writestr(self, zinfo_or_arcname: Any, data: Any, *ways: Any, **named: Any) -> None:
        """One part, its fonts in order, its dates those of the build; how it is packed is not for others to say."""
        name = str(zinfo_or_arcname)
        stamp = built_on()
        if name == ARC_STYLE:
            data = _sort_fonts(data)
        elif name == ARC_CORE:
            data = _set_modified(data, datetime.combine(stamp, datetime.min.time()))
        info = zipfile.ZipInfo(name, (max(stamp.year, 1980), stamp.month, stamp.day, 0, 0, 0))
        info.compress_type = zipfile.ZIP_DEFLATED
        info.external_attr = 0o600 << 16
        super().writestr(info, data, zipfile.ZIP_DEFLATED, PACKED)


def _sort_fonts(data: bytes) -> bytes:
    root = etree.fromstring(data)
    for font in root.iter(f"{MAIN}font"):
        font[:] = sorted(font, key=lambda child: FONT_ORDER.index(etree.QName(child).localname))
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)


def _set_modified(data: bytes, moment: datetime) -> bytes:
    root = etree.fromstring(data)
    for element in root.iter(MODIFIED):
        element.text = moment.strftime("%Y-%m-%dT%H:%M:%SZ")
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)
