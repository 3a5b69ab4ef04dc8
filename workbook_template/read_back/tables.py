"""Writes tables as a plain .xlsx, quickly: hundreds of thousands of rows, text always as text."""

from __future__ import annotations

import csv
import io
import re
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from typing import Any, NamedTuple
from xml.sax.saxutils import escape, quoteattr

from openpyxl.utils import get_column_letter

from workbook_template.figures.functions import serial

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELATIONS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
XML = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
LONGEST = 32767
"""Characters of one cell."""

_FORBIDDEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
STYLES = (
    f'{XML}<styleSheet xmlns="{MAIN}"><numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd"/></numFmts>'
    '<fonts count="2"><font><sz val="10"/><name val="Arial"/></font><font><b/><sz val="10"/><name val="Arial"/></font>'
    '</fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/>'
    '</fill></fills><borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>'
    '<cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="3"><xf/><xf fontId="1" applyFont="1"/>'
    '<xf numFmtId="164" applyNumberFormat="1"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)


RUNS = "=+-@\t\r\n\uff1d\uff0b\uff0d\uff20"
"""Signs at the start of a text that make a spreadsheet program compute it; the last four are wide ones."""

GUARD = "'"


def guarded(value: Any) -> Any:
    """A cell of a CSV file as a spreadsheet program shows it and does not run it: an apostrophe before such a text.

    A text that begins with an apostrophe gets one more, so that taking one away gives back every text.

    >>> guarded("=1+1"), guarded("W-12"), guarded("'x"), guarded(-0.5)
    ("'=1+1", 'W-12', "''x", -0.5)
    """
    return GUARD + value if isinstance(value, str) and value[:1] and value[0] in RUNS + GUARD else value


def unguarded(text: str) -> str:
    """The text that `guarded` made this of.

    >>> unguarded("'=1+1"), unguarded("W-12")
    ('=1+1', 'W-12')
    """
    return text.removeprefix(GUARD)


def csv_file(heads: Sequence[str], rows: Iterable[Sequence[Any]]) -> bytes:
    """Rows as CSV: UTF-8, commas, a heading, nothing for an empty cell, texts guarded."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(heads)
    writer.writerows([guarded(cell) for cell in row] for row in rows)
    return stream.getvalue().encode("utf-8", "surrogatepass")


class Table(NamedTuple):
    """One sheet: its name, the headings with their kinds (text, real, integer, date), and the rows."""

    title: str
    heads: Sequence[tuple[str, str]]
    rows: Iterable[Sequence[Any]]


def workbook(tables: Sequence[Table]) -> bytes:
    """The tables as file content of an .xlsx, each on a sheet with its headings fixed and a filter."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED, compresslevel=3) as archive:
        archive.writestr(_entry("[Content_Types].xml"), _types(len(tables)))
        kind = f"{RELATIONS}/officeDocument"
        archive.writestr(_entry("_rels/.rels"), _relations([(kind, "xl/workbook.xml")]))
        related = [(f"{RELATIONS}/worksheet", f"worksheets/sheet{n}.xml") for n in range(1, len(tables) + 1)]
        related.append((f"{RELATIONS}/styles", "styles.xml"))
        archive.writestr(_entry("xl/_rels/workbook.xml.rels"), _relations(related))
        sheets = "".join(
            f'<sheet name={quoteattr(one.title)} sheetId="{n}" r:id="rId{n}"/>' for n, one in enumerate(tables, 1)
        )
        inner = f"<sheets>{sheets}</sheets>"
        archive.writestr(
            _entry("xl/workbook.xml"), f'{XML}<workbook xmlns="{MAIN}" xmlns:r="{RELATIONS}">{inner}</workbook>'
        )
        archive.writestr(_entry("xl/styles.xml"), STYLES)
        for number, table in enumerate(tables, 1):
            with archive.open(_entry(f"xl/worksheets/sheet{number}.xml"), "w") as part:
                for piece in _sheet(table):
                    part.write(piece.encode("utf-8"))
    return stream.getvalue()


def _entry(name: str) -> zipfile.ZipInfo:
    """A part without the time of day, so that the same tables are the same bytes."""
    entry = zipfile.ZipInfo(name)
    entry.compress_type = zipfile.ZIP_DEFLATED
    entry.external_attr = 0o600 << 16
    return entry


def _types(count: int) -> str:
    base = "application/vnd.openxmlformats-officedocument.spreadsheetml"
    sheets = "".join(
        f'<Override PartName="/xl/worksheets/sheet{n}.xml" ContentType="{base}.worksheet+xml"/>'
        for n in range(1, count + 1)
    )
    return (
        f'{XML}<Types xmlns="{PACKAGE}/content-types"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{base}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{base}.styles+xml"/>{sheets}</Types>'
    )


def _relations(found: list[tuple[str, str]]) -> str:
    inner = "".join(f'<Relationship Id="rId{n}" Type="{k}" Target="{t}"/>' for n, (k, t) in enumerate(found, 1))
    return f'{XML}<Relationships xmlns="{PACKAGE}/relationships">{inner}</Relationships>'


def _sheet(table: Table) -> Iterator[str]:
    """The XML of one sheet, some thousand rows at a time."""
    letters = [get_column_letter(number) for number in range(1, len(table.heads) + 1)]
    widths = "".join(
        f'<col min="{n}" max="{n}" width="{max(10, len(name) + 3)}" customWidth="1"/>'
        for n, (name, _) in enumerate(table.heads, 1)
    )
    yield (
        f'{XML}<worksheet xmlns="{MAIN}"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" '
        f'activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>{widths}</cols><sheetData>'
    )
    heads = "".join(_cell(f"{letter}1", name, "head") for letter, (name, _) in zip(letters, table.heads))
    yield f'<row r="1">{heads}</row>'
    pieces, last = [], 1
    kinds = [kind for _, kind in table.heads]
    for last, values in enumerate(table.rows, start=2):
        cells = "".join(
            _cell(f"{letter}{last}", value, kind)
            for letter, value, kind in zip(letters, values, kinds)
            if value is not None
        )
        pieces.append(f'<row r="{last}">{cells}</row>')
        if len(pieces) >= 2000:
            yield "".join(pieces)
            pieces = []
    yield "".join(pieces)
    yield f'</sheetData><autoFilter ref="A1:{letters[-1]}{last}"/></worksheet>'


def _cell(place: str, value: Any, kind: str) -> str:
    if kind == "date":
        day = int(serial(date.fromisoformat(value)))
        return f'<c r="{place}" s="2"><v>{day}</v></c>'
    if isinstance(value, (int, float)):
        return f'<c r="{place}"><v>{value!r}</v></c>'
    shown = escape(_FORBIDDEN.sub("\ufffd", str(value))[:LONGEST])
    style = ' s="1"' if kind == "head" else ""
    return f'<c r="{place}"{style} t="inlineStr"><is><t xml:space="preserve">{shown}</t></is></c>'
