"""From a built workbook to a finished file: stored values, a repeatable package.

A program that does not calculate (a previewer, a phone, protected view) shows what is stored. LibreOffice computes
the values; they are put into the sheets' XML, and nothing else of the file changes. A round trip through LibreOffice
would lose validations' messages, styles and more.
"""

from __future__ import annotations

import io
import tempfile
import zipfile
from datetime import datetime
from pathlib import Path
from typing import Any

from lxml import etree
from openpyxl.utils import get_column_letter
from openpyxl.writer.excel import ExcelWriter

from workbook_template.blocks import Book
from workbook_template.build import built_on
from workbook_template.office import Error, Office

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
SPACE = "{http://www.w3.org/XML/1998/namespace}space"
MODIFIED = "{http://purl.org/dc/terms/}modified"
FONT_ORDER = ("b", "i", "strike", "u", "vertAlign", "sz", "color", "name", "family", "charset", "scheme")
"""The order that the file format asks for; openpyxl has another."""

Stored = dict[str, dict[str, Any]]
"""Sheet -> cell -> value."""


def package(book: Book) -> bytes:
    """The workbook as file content, without stored values; packed quickly, as `finish` packs it once more."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        ExcelWriter(book.workbook, archive).save()
    return stream.getvalue()


def compute(book: Book, content: bytes, office: Office) -> Stored:
    """What LibreOffice makes of every formula cell."""
    wanted = {sheet.title: _formula_blocks(sheet) for sheet in book.workbook}
    found: Stored = {title: {} for title in wanted}
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.xlsx"
        path.write_bytes(content)
        with office.open(path) as document:
            for title, rows in wanted.items():
                keys = [(title, f"{get_column_letter(a)}{r}:{get_column_letter(b)}{r}") for r, (a, b) in rows.items()]
                for (row, (left, _)), values in zip(rows.items(), document.get(keys)):
                    cells = values[0] if isinstance(values, list) else [values]
                    for offset, value in enumerate(cells):
                        found[title][f"{get_column_letter(left + offset)}{row}"] = value
    return found


def _formula_blocks(sheet: Any) -> dict[int, tuple[int, int]]:
    """Row -> first and last column with a formula."""
    rows: dict[int, tuple[int, int]] = {}
    for (row, column), cell in sheet._cells.items():
        if cell.data_type == "f":
            left, right = rows.get(row, (column, column))
            rows[row] = min(left, column), max(right, column)
    return rows


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
            elif stored and name.startswith("xl/worksheets/sheet"):
                number = int(name.removeprefix("xl/worksheets/sheet").removesuffix(".xml"))
                data = _put_values(data, stored[sheets[number - 1]])
            info = zipfile.ZipInfo(name, (max(stamp.year, 1980), stamp.month, stamp.day, 0, 0, 0))
            info.compress_type = zipfile.ZIP_DEFLATED
            info.external_attr = 0o600 << 16
            new.writestr(info, data)
    return stream.getvalue()


def _put_values(data: bytes, values: dict[str, Any]) -> bytes:
    root = etree.fromstring(data)
    for formula in root.iter(f"{MAIN}f"):
        cell = formula.getparent()
        value = values[cell.get("r")]
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


def _stored_form(value: Any) -> tuple[str, str]:
    """The cell type and text of a computed value."""
    if isinstance(value, bool):
        return "b", str(int(value))
    if isinstance(value, Error):
        return "e", value.text
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
