"""The XML of a sheet with the values of its formulas. openpyxl writes all but the cells.

A workbook has 150,000 cells. openpyxl takes each through lxml, and values could only be put in by reading it all again;
here a cell is one line of text, written once. Each says where it stands, also right after another. The format lets that
go without saying (ECMA-376 part 1, 18.3.1.4: `r` is optional), and it would save a fifth of the file, but formulon and
IronCalc can't read such cells, nor openpyxl such a shared formula.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from typing import Any
from xml.sax.saxutils import escape

from lxml import etree
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.book import Problem, Value
from workbook_template.file.shortening import Shared, shared_formulas
from workbook_template.paper.openpyxl_inside import cells_in, serial_of, style_of

ROWS = b"<sheetData/>"
RETURN = {"\r": "&#13;"}
"""What a reader of XML would take for the end of a line."""

Values = Mapping[str, Value]
"""Cell -> value of its formula."""


class SheetWriter(WorksheetWriter):
    """Writes a sheet to `content`, with `values` where they are given."""

    def __init__(self, ws: Worksheet, values: Values | None) -> None:
        self.stream = io.BytesIO()
        super().__init__(ws, self.stream)
        self.values = values
        self.cells = ""

    def content(self) -> bytes:
        """The sheet as a part of the file."""
        self.write()
        tree = etree.fromstring(self.stream.getvalue())
        page = etree.tostring(tree, xml_declaration=True, encoding="UTF-8", standalone=True)
        return page.replace(ROWS, f"<sheetData>{self.cells}</sheetData>".encode(), 1)

    def write_rows(self) -> None:
        """Called by openpyxl in its turn: what comes after may count on the styles and links of the cells."""
        self.cells = _rows(self.ws, self.values)
        self.xf.send(etree.Element("sheetData"))


def _rows(ws: Any, values: Values | None) -> str:
    """Every row, in order; a row without cells is there for its height."""
    rows: dict[int, list[str]] = {row: [] for row in ws.row_dimensions}
    cells: dict[tuple[int, int], Any] = cells_in(ws)
    letters = {column: get_column_letter(column) for column in {column for _, column in cells}}
    empty = {at for at in cells if values and values.get(f"{letters[at[1]]}{at[0]}") == ""}
    shared = shared_formulas(cells, empty)
    styles: dict[int, str] = {}  # by identity, as few styles are shared by many cells
    for (row, column), cell in sorted(cells.items()):
        letter = letters[column]
        own = id(style_of(cell))
        style = styles.get(own)
        if style is None:
            style = styles[own] = f' s="{cell.style_id}"' if cell.has_style else ""
        if cell.hyperlink:
            ws._hyperlinks.append(cell.hyperlink)
        if cell.data_type == "f":
            written = _formula(cell, letter, style, shared.get((row, column)), values)
        else:
            written = _cell(cell, f"{letter}{row}", style)
        if written:
            rows.setdefault(row, []).append(written)
    return "".join(
        f"<row {_attributes(ws, row)}>{''.join(cells)}</row>" if cells else f"<row {_attributes(ws, row)}/>"
        for row, cells in sorted(rows.items())
    )


def _attributes(ws: Any, row: int) -> str:
    given = {"r": str(row), **dict(ws.row_dimensions.get(row, {}))}
    return " ".join(f'{name}="{value}"' for name, value in given.items())


def _cell(cell: Any, place: str, style: str) -> str:
    """A cell with a constant; nothing where it has neither a value nor a look."""
    value = cell._value
    if value is None or value == "":
        return f'<c r="{place}"{style}/>' if style or value == "" else ""
    kind = cell.data_type
    if kind == "s":
        space = ' xml:space="preserve"' if value != value.strip() else ""
        return f'<c r="{place}"{style} t="inlineStr"><is><t{space}>{escape(value, RETURN)}</t></is></c>'
    if kind == "d":
        kind, value = "n", serial_of(value)
    named, text = ("", _number(value)) if kind == "n" else (f' t="{kind}"', str(int(value)))
    return f'<c r="{place}"{style}{named}><v>{text}</v></c>'


def _formula(cell: Any, letter: str, style: str, shared: Shared | None, values: Values | None) -> str:
    place = f"{letter}{cell.row}"
    kind, text = _stored_form(None if values is None else values[place])
    space = ' xml:space="preserve"' if text != text.strip() else ""
    formula = f"<f>{escape(cell.value[1:], RETURN)}</f>"
    if shared is not None:
        said = f't="shared" si="{shared.number}"'
        to = f' ref="{place}:{letter}{cell.row + shared.rows - 1}"'
        formula = formula.replace("<f>", f"<f {said}{to}>", 1) if shared.rows else f"<f {said}/>"
    return f'<c r="{place}"{style}{kind}>{formula}<v{space}>{escape(text, RETURN)}</v></c>'


def _stored_form(value: Value) -> tuple[str, str]:
    """The cell type, as an attribute, and the text of a computed value."""
    if isinstance(value, bool):
        return ' t="b"', str(int(value))
    if isinstance(value, Problem):
        return ' t="e"', value.code
    if isinstance(value, str):
        return ' t="str"', value
    return "", "" if value is None else _number(value)


def _number(value: float) -> str:
    """The shortest text of this number; openpyxl writes .0724 with sixteen digits, as 0.07240000000000001."""
    return repr(float(value)).removesuffix(".0")
