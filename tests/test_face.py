"""What people see and print: five sizes of type, nothing shrunk, nothing cut, every page on A4 as on Letter."""

from __future__ import annotations

import functools
from collections.abc import Iterator
from typing import Any, NamedTuple

import pytest
from openpyxl.utils import get_column_letter, range_boundaries
from openpyxl.worksheet.worksheet import Worksheet
from PIL import ImageFont

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.paper.blocks import Book

SIZES = {9, 11, 14, 20, 32}
"""Points: notes, the body, heads and the pass plan, the thread, the figures at the machine."""

A4, LETTER = (595.3, 841.9), (612.0, 792.0)
DIGIT = 8
"""Pixels of a digit of 11 point Arial at 96 dots an inch: what column widths count."""

POINT = 72 / 96
PADDING = 4 * POINT
INDENT = 9 * POINT
LINE = 1.15
"""Height of a line of Arial, in its size."""


def wide(ws: Worksheet, left: int, right: int) -> float:
    """Width of columns in points; a hidden one has none."""
    found = 0.0
    for number in range(left, right + 1):
        column = ws.column_dimensions[get_column_letter(number)]
        found += 0 if column.hidden else int((column.width or 8.43) * DIGIT + 0.5) * POINT
    return found


def high(ws: Worksheet, top: int, bottom: int) -> float:
    own = ws.sheet_format.defaultRowHeight if ws.sheet_format.customHeight else 14.25
    return sum(ws.row_dimensions[row].height or own for row in range(top, bottom + 1))


def areas(ws: Worksheet) -> list[tuple[int, int, int, int]]:
    """The printed areas, as rows and columns."""
    return [range_boundaries(one.split("!")[-1].replace("$", "")) for one in (ws.print_area or "").split(",") if one]


def seen(book: Book) -> Iterator[Worksheet]:
    return (ws for ws in book.workbook if ws.sheet_state == "visible")


@functools.cache
def face(size: float, bold: bool) -> ImageFont.FreeTypeFont:
    """Liberation Sans has the widths of Arial."""
    name = "LiberationSans-Bold.ttf" if bold else "LiberationSans-Regular.ttf"
    return ImageFont.truetype(name, int(size * 10))


def length(text: str, size: float, bold: bool) -> float:
    return face(size, bold).getlength(text) / 10


def lines(text: str, room: float, size: float, bold: bool) -> int:
    """Lines that a text takes where it wraps at blanks; a word that does not fit alone is broken."""
    count, used = 1, 0.0
    blank = length(" ", size, bold)
    for part in text.split("\n"):
        for word in part.split(" "):
            needed = length(word, size, bold)
            if used and used + blank + needed > room:
                count, used = count + 1, 0.0
            while needed > room:
                count, needed = count + 1, needed - room
            used += needed + (blank if used else 0)
    return count


class Cut(NamedTuple):
    sheet: str
    cell: str
    text: str


def shown(value: Any, form: str) -> str:
    """Roughly what a cell shows: numbers with as many decimals as the format has."""
    if isinstance(value, bool) or value is None or isinstance(value, str):
        return str(value or "")
    if form == "yyyy-mm-dd":
        return "2024-03-05"
    decimals = form.split(";")[0].partition(".")[2].count("0")
    return f"{value:.{decimals}f}" if "0" in form else f"{value:g}"


def cuts(book: Book) -> list[Cut]:
    """Cells on paper whose text does not fit."""
    values = store.compute(book)
    found = []
    for ws in seen(book):
        merged = {str(one).split(":")[0]: one.bounds for one in ws.merged_cells.ranges}
        for left, top, right, bottom in areas(ws):
            for row in ws.iter_rows(top, bottom, left, right):
                for cell in row:
                    value = values[ws.title].get(cell.coordinate, cell.value)
                    text = shown(value, cell.number_format).strip()
                    if not text or cell.number_format.startswith(";;;"):
                        continue
                    a, b, c, d = merged.get(cell.coordinate, (cell.column, cell.row, cell.column, cell.row))
                    size, bold = cell.font.sz, bool(cell.font.b)
                    room = wide(ws, a, c) - PADDING - INDENT * cell.alignment.indent
                    if room <= 0:
                        continue
                    if cell.alignment.wrap_text:
                        fits = lines(text, room, size, bold) * size * LINE <= high(ws, b, d) + 1
                    else:
                        fits = length(text, size, bold) <= room
                    if not fits:
                        found.append(Cut(ws.title, cell.coordinate, text))
    return found


LONG = {
    "customer": "Northern Hydraulics and Agricultural Repair",
    "part": "Hydraulic cylinder head gland, 2nd operation",
    "drawing": "HYD-2204-117-B",
    "revision": "C2",
    "job_number": "J-2031-04",
    "material": "4140 steel, pre-hardened, 28 to 32 HRC",
}


@functools.cache
def filled(callout: str) -> Book:
    """The example with long names, for a thread."""
    values = {**demo.values(), **LONG}
    return build(threads=[standards.read(callout)], values=values)


@pytest.mark.parametrize("callout", [demo.THREAD, "Tr40x14(P7)-7e LH", "3/4-14 NPT external", "M5x0.8-6H"])
def test_no_text_is_cut_on_paper(callout: str) -> None:
    assert cuts(filled(callout)) == []


def test_five_sizes_of_type() -> None:
    found = {(ws.title, cell.font.sz) for ws in seen(filled(demo.THREAD)) for row in ws.iter_rows() for cell in row}
    assert {one for one in found if one[1] not in SIZES} == set()


def test_every_page_fits_as_it_is() -> None:
    """At 100 per cent, on A4 as on Letter; a list may take several pages, one below the other."""
    for ws in seen(filled(demo.THREAD)):
        assert ws.page_setup.scale == 100, ws.title
        assert not ws.sheet_properties.pageSetUpPr or not ws.sheet_properties.pageSetUpPr.fitToPage, ws.title
        turned = ws.page_setup.orientation == "landscape"
        margins = ws.page_margins
        for paper in (A4, LETTER):
            across, up = paper[::-1] if turned else paper
            room_across = across - 72 * (margins.left + margins.right)
            room_up = up - 72 * (margins.top + margins.bottom)
            for left, top, right, bottom in areas(ws):
                assert wide(ws, left, right) <= room_across, ws.title
                breaks = [one.id for one in ws.row_breaks.brk if top <= one.id < bottom]
                if not ws.print_title_rows:
                    for first, last in zip([top, *(b + 1 for b in breaks)], [*breaks, bottom]):
                        assert high(ws, first, last) <= room_up, (ws.title, first, last)
