"""What openpyxl has, but under no public name or without a type: reached for here alone."""

from __future__ import annotations

from typing import NamedTuple

from openpyxl import Workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.styles import Font, PatternFill, Protection
from openpyxl.styles.cell_style import StyleArray
from openpyxl.styles.numbers import BUILTIN_FORMATS, BUILTIN_FORMATS_MAX_SIZE, FORMAT_GENERAL
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.xml.functions import tostring

AnyCell = Cell | MergedCell


def cells_in(ws: Worksheet) -> dict[tuple[int, int], AnyCell]:
    """The cells of a sheet that are there, by row and column."""
    return ws._cells


def style_of(cell: AnyCell) -> StyleArray | None:
    """The finished style of a cell, which says by number what it has of the workbook's fonts, fills and so on."""
    style: StyleArray | None = cell._style  # type: ignore[union-attr]
    return style


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


def charts_of(ws: Worksheet) -> list[bytes]:
    """Each chart of a sheet as its file will hold it."""
    return [tostring(chart._write()) for chart in ws._charts]  # type: ignore[attr-defined]


def pictures_of(ws: Worksheet) -> int:
    """How many pictures a sheet has."""
    return len(ws._images)  # type: ignore[attr-defined]
