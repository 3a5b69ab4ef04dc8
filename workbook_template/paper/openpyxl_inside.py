"""What openpyxl has, but under no public name or without a type: reached for here alone."""

from __future__ import annotations

from copy import copy
from datetime import date
from typing import Any, NamedTuple

from openpyxl import Workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.chart import ScatterChart
from openpyxl.drawing.spreadsheet_drawing import OneCellAnchor, TwoCellAnchor
from openpyxl.styles import Font, PatternFill, Protection
from openpyxl.styles.cell_style import StyleArray
from openpyxl.styles.numbers import BUILTIN_FORMATS, BUILTIN_FORMATS_MAX_SIZE, FORMAT_GENERAL
from openpyxl.utils import range_boundaries
from openpyxl.utils.datetime import to_excel
from openpyxl.utils.indexed_list import IndexedList
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.xml.functions import Element, tostring

AnyCell = Cell | MergedCell


def corners(ref: str) -> tuple[int, int, int, int]:
    """Left, top, right and bottom of a range of cells.

    >>> corners("B2:C9"), corners("D4")
    ((2, 2, 3, 9), (4, 4, 4, 4))
    """
    left, top, right, bottom = range_boundaries(ref)
    if left is None or top is None or right is None or bottom is None:
        raise ValueError(f"{ref} is no range of cells, but whole rows or columns")
    return left, top, right, bottom


def cells_in(ws: Worksheet) -> dict[tuple[int, int], AnyCell]:
    """The cells of a sheet that are there, by row and column."""
    return ws._cells


def style_of(cell: AnyCell) -> StyleArray | None:
    """The finished style of a cell, which says by number what it has of the workbook's fonts, fills and so on."""
    style: StyleArray | None = cell._style  # type: ignore[union-attr]
    return style


def finished_style(cell: AnyCell) -> StyleArray:
    """A copy of the style that a cell was given part by part."""
    style: StyleArray = copy(cell._style)  # type: ignore[union-attr]
    return style


def give_style(cell: AnyCell, style: StyleArray | None) -> None:
    """Give a cell a finished style, which many may share."""
    cell._style = style  # type: ignore[union-attr]


def serial_of(moment: date) -> float:
    """A day, or a day and time, as a spreadsheet counts."""
    return float(to_excel(moment))  # type: ignore[no-untyped-call]


def form_of(workbook: Workbook, number: int) -> str:
    """A number format by its number."""
    if number < BUILTIN_FORMATS_MAX_SIZE:
        return BUILTIN_FORMATS.get(number, FORMAT_GENERAL)
    form: str = workbook._number_formats[number - BUILTIN_FORMATS_MAX_SIZE]  # type: ignore[attr-defined]
    return form


def protections(workbook: Workbook) -> list[Protection]:
    """What styles say of locks, by number."""
    return list(workbook._protections)  # type: ignore[attr-defined]


class Parts(NamedTuple):
    """What a finished style is made of, as far as it is compared."""

    form: str
    font: Font
    fill: PatternFill
    lock: Protection


def parts_of(workbook: Workbook, style_id: int) -> Parts:
    """The parts of a finished style, by its number in the workbook."""
    style: StyleArray = workbook._cell_styles[style_id]  # type: ignore[attr-defined]
    font: Font = workbook._fonts[style.fontId]  # type: ignore[attr-defined]
    fill: PatternFill = workbook._fills[style.fillId]  # type: ignore[attr-defined]
    lock: Protection = workbook._protections[style.protectionId]  # type: ignore[attr-defined]
    return Parts(form_of(workbook, style.numFmtId), font, fill, lock)


def measure_by(workbook: Workbook, font: Font) -> None:
    """Make a font the workbook's own: its digits are the measure of column widths.

    openpyxl's is one that a computer without an office of its maker lacks; columns then come out a third wider there
    than in Excel, and what fits on one machine is cut on the other.
    """
    workbook._fonts = IndexedList([font])  # type: ignore[attr-defined]  # the first is number 0
    workbook._named_styles["Normal"].font = font  # type: ignore[attr-defined]


def untitled() -> ScatterChart:
    """A chart that says it has no title: without that word Excel puts the name of a lone series over it."""
    drawn = ScatterChart()
    written = drawn._write  # type: ignore[attr-defined]  # openpyxl has no attribute of a chart for the element

    def with_the_word() -> Any:
        space = written()
        space.find("chart").insert(0, Element("autoTitleDeleted", val="1"))
        return space

    drawn._write = with_the_word  # type: ignore[attr-defined]
    return drawn


def put_chart(ws: Worksheet, chart: ScatterChart, anchor: OneCellAnchor | TwoCellAnchor) -> None:
    """Put a chart on a sheet."""
    chart.anchor = anchor  # type: ignore[assignment]
    ws.add_chart(chart)


def charts_of(ws: Worksheet) -> list[bytes]:
    """Each chart of a sheet as its file will hold it."""
    return [tostring(chart._write()) for chart in ws._charts]  # type: ignore[attr-defined]


def pictures_of(ws: Worksheet) -> int:
    """How many pictures a sheet has."""
    return len(ws._images)  # type: ignore[attr-defined]
