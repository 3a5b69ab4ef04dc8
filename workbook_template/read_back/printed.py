"""What is printed of a sheet: its print areas, the rows repeated on each page, headers and footers.

A list is printed as far as it was in use when the workbook was built, and the certificate has as many pages as the
parts need. So an area may end anywhere between what an empty workbook and a full one print, but at no row in use. Of
pages that are printed one by one, those of the lathes, any may be.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.designations import Thread
from workbook_template.file.tabs import describe
from workbook_template.paper import blocks
from workbook_template.paper.write import last_printed, pages
from workbook_template.read_back.contents import Error, Filled, FilledSheet
from workbook_template.read_back.findings import Finding, said
from workbook_template.read_back.moved import Moved
from workbook_template.rules.parts import Box, box
from workbook_template.sheets.layout import Made

Place = tuple[int, int]

_FONT = re.compile(r'&"[^"]*"|&\d+')
_SHEET = re.compile(r"(?:'(?:[^']|'')*'|[^',!]*)!")


class Page(NamedTuple):
    """The first row of a page, and the last one that an empty workbook prints and that a full one does.

    A page that is not printed at all ends before it begins. `alone` is one of which another may be printed instead.
    """

    top: int
    least: int
    most: int
    alone: bool = False

    def may_end(self, row: int) -> bool:
        """Whether a build prints the page to that row: of one that only a full workbook prints, all or nothing."""
        return row in (self.least, self.most) or self.top <= self.least < row < self.most or self.left_out(row)

    def left_out(self, row: int) -> bool:
        """Whether it is not printed, as another is instead."""
        return self.alone and row < self.top


def differences(
    made: blocks.Book,
    ws: Worksheet,
    book: Filled,
    found: FilledSheet,
    moved: Moved | None,
    inputs: set[Place],
    named: Sequence[tuple[Box, str]],
) -> Iterator[Finding]:
    """How what is printed of a sheet differs from the built one."""
    built, now = _areas(str(ws.print_area or "")), _areas(book.local_names.get((found.name, "_xlnm.print_area"), ""))
    width, built_pages = _pages_of(made).get(ws.title, (0, ()))
    width, own_pages = _moved(width, built_pages, moved)
    ends = _ends(now, width, own_pages)
    if moved is not None:
        built = {moved.reference(one) for one in built}
    if built != now and not (ends and all(page.may_end(end) for page, end in zip(own_pages, ends))):
        yield _differs(ws.title, "what is printed", built, now)
    elif ends:
        used = _in_use(found, inputs, named, width)
        for page, end in zip(own_pages, ends):
            beyond = [row for row in used if end < row <= page.most and not page.left_out(end)]
            if beyond:
                words = f"what is printed ends at row {max(end, page.top - 1)}, and row {min(beyond)} is in use"
                yield Finding("print area", ws.title, "", "", words)
    titles = _areas(",".join(filter(None, (ws.print_title_rows, ws.print_title_cols))))
    if moved is not None:
        titles = {moved.reference(one) for one in titles}
    now_titles = _areas(book.local_names.get((found.name, "_xlnm.print_titles"), ""))
    if titles != now_titles:
        yield _differs(ws.title, "rows repeated on each page", titles, now_titles)
    for place, one in (("oddHeader", ws.oddHeader), ("oddFooter", ws.oddFooter)):
        built_text, now_text = _FONT.sub("", str(one) if one else ""), _FONT.sub("", found.page.margins.get(place, ""))
        if built_text != now_text:
            what = "header" if place == "oddHeader" else "footer"
            words = f"the {what} is now {said(now_text)}; built was {said(built_text)}"
            yield Finding("print area", ws.title, "", "", words)


def _differs(title: str, what: str, built: set[str], now: set[str]) -> Finding:
    shown, was = (", ".join(sorted(one)) or "not said" for one in (now, built))
    return Finding("print area", title, "", "", f"{what}: now {shown}; built was {was}")


def _areas(text: str) -> set[str]:
    pieces = (piece.replace("$", "").strip().upper() for piece in _SHEET.sub("", text).split(","))
    return {piece for piece in pieces if piece}


def _pages_of(made: blocks.Book) -> dict[str, tuple[int, tuple[Page, ...]]]:
    """By sheet the last column that is printed, and the pages."""
    lines = next(corners for one in made.entries if one.name == "quote_words" and (corners := box(one.ref)))
    return _between(made.unit, tuple(made.threads), made.rows, lines[3] - lines[1] + 1)


@lru_cache(maxsize=4)
def _between(
    unit: str, threads: tuple[Thread, ...], rows: int, quote_rows: int
) -> dict[str, tuple[int, tuple[Page, ...]]]:
    empty, full = (
        describe(Made(unit, threads, "", rows, quantity, quote_rows, quoted, logged))
        for quantity, quoted, logged in ((0, 0, 1), (rows, quote_rows, 0))
    )
    return {
        title: (
            last_printed(sheet),
            tuple(
                Page(top, least, most, bool(sheet.printed_one))
                for (top, least), (_, most) in zip(
                    pages(sheet, lambda table, *_: table.least), pages(full[title], lambda table, *_: table.rows)
                )
            ),
        )
        for title, sheet in empty.items()
    }


def _moved(width: int, built: Sequence[Page], moved: Moved | None) -> tuple[int, list[Page]]:
    """The last column, and the pages, where they are after rows or columns were deleted or inserted."""
    if moved is None:
        return width, list(built)
    found = []
    for page in built:
        full = moved.box((1, page.top, width, page.most))
        part = None if page.least < page.top else moved.box((1, page.top, width, page.least))
        if full is not None:
            least = full[1] - 1 if part is None else part[3]
            found.append((full[2], Page(full[1], least, full[3], page.alone)))
    return max((last for last, _ in found), default=width), [page for _, page in found]


def _ends(areas: set[str], width: int, own_pages: Sequence[Page]) -> list[int]:
    """The last row of each page that areas print; nothing where they aren't pages from their first row on."""
    boxes = [one for ref in areas if (one := box(ref))]
    if len(boxes) != len(areas) or not own_pages:
        return []
    if any((left, right) != (1, width) or top < own_pages[0].top for left, top, right, _ in boxes):
        return []
    ends = []
    limits = [*(page.top - 1 for page in own_pages[1:]), max((bottom for *_, bottom in boxes), default=0)]
    for page, limit in zip(own_pages, limits):
        inside = [(max(top, page.top), min(bottom, limit)) for _, top, _, bottom in boxes]
        inside = [(top, bottom) for top, bottom in inside if top <= bottom]
        if len(inside) > 1 or any(top != page.top for top, _ in inside):
            return []
        ends.append(inside[0][1] if inside else page.top - 1)
    return ends


def _in_use(found: FilledSheet, inputs: set[Place], named: Sequence[tuple[Box, str]], width: int) -> list[int]:
    """Rows in which something is typed, or a column of figures shows something."""
    columns = [corners for corners, _ in named if corners[1] < corners[3]]
    return sorted(
        {
            row
            for (row, column), cell in found.cells.items()
            if column <= width and cell.value not in (None, "") and not isinstance(cell.value, Error)
            if (row, column) in inputs
            or (cell.formula and any(a <= column <= c and b <= row <= d for a, b, c, d in columns))
        }
    )
