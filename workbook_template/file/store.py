"""From a built workbook to a finished file: stored values, a repeatable package.

A program that does not calculate (a previewer, a phone, protected view) shows what is stored. The formulas are
computed here, and their values put into the sheets' XML; nothing else of the file changes.
"""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable
from datetime import date, datetime

from lxml import etree
from openpyxl.utils import get_column_letter
from openpyxl.writer.excel import ExcelWriter

from sheetfuncs import quantiles
from workbook_template.figures import book as figures
from workbook_template.figures.functions import serial
from workbook_template.figures.parse import Columns, parse
from workbook_template.figures.tree import Node
from workbook_template.figures.value import Computed
from workbook_template.file.build import built_on
from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import cells_in

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
SPACE = "{http://www.w3.org/XML/1998/namespace}space"
MODIFIED = "{http://purl.org/dc/terms/}modified"
FONT_ORDER = ("b", "i", "strike", "u", "vertAlign", "sz", "color", "name", "family", "charset", "scheme")
"""The order that the file format asks for; openpyxl has another."""

Stored = dict[str, dict[str, figures.Value]]
"""Sheet -> cell -> value."""


def package(book: Book) -> bytes:
    """The workbook as file content, without stored values; packed quickly, as `finish` packs it once more."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        ExcelWriter(book.workbook, archive).save()
    return stream.getvalue()


def compute(book: Book) -> Stored:
    """The value of every formula cell, by Excel's rules."""
    computed = Computed(cells_of(book), serial(built_on()), PROBABILITY)
    return {
        sheet.title: {f"{get_column_letter(c)}{r}": value for (r, c), value in computed.values(sheet.title).items()}
        for sheet in book.workbook
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
        sheets[sheet.title] = figures.Sheet(values, formulas)
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


def finish(content: bytes, sheets: list[str], stored: Stored | None) -> bytes:
    """The file content with stored values, fonts in order, and dates that depend on the build alone."""
    stream = io.BytesIO()
    stamp = built_on()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "xl/styles.xml":
                data = _sort_fonts(data)
            elif name == "docProps/core.xml":
                data = _set_modified(data, datetime.combine(stamp, datetime.min.time()))
            elif name.startswith("xl/worksheets/sheet"):
                number = int(name.removeprefix("xl/worksheets/sheet").removesuffix(".xml"))
                data = _put_values(data, stored[sheets[number - 1]] if stored else {})
            info = zipfile.ZipInfo(name, (max(stamp.year, 1980), stamp.month, stamp.day, 0, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o600 << 16
            new.writestr(info, data)
    return stream.getvalue()


def _put_values(data: bytes, values: dict[str, figures.Value]) -> bytes:
    root = etree.fromstring(data)
    for cell in root.iter(f"{MAIN}c"):
        if not "".join(cell.itertext()):
            cell.attrib.pop("t", None)  # a blank cell; openpyxl calls it a number, or a text without text
            del cell[:]
        if not values or cell.find(f"{MAIN}f") is None:
            continue
        value = values[cell.get("r", "")]
        holder = cell.find(f"{MAIN}v")
        if holder is None:
            holder = etree.SubElement(cell, f"{MAIN}v")
        kind, holder.text = _stored_form(value)
        if holder.text != holder.text.strip():
            holder.set(SPACE, "preserve")
        cell.attrib.pop("t", None)
        if kind:
            cell.set("t", kind)
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8", standalone=True)


def _stored_form(value: figures.Value) -> tuple[str, str]:
    """The cell type and text of a computed value."""
    if isinstance(value, bool):
        return "b", str(int(value))
    if isinstance(value, figures.Problem):
        return "e", value.code
    if isinstance(value, str) or value is None:
        return "str", value or ""
    return "", repr(float(value)).removesuffix(".0")


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
