"""Rows that set their own height, in a workbook that is built filled in: high enough for the words they begin with.

A program sets the height of such a row when somebody types into it; LibreOffice does not when it opens a file.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil
from typing import Any

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.dimensions import RowDimension

from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import corners

ONE_LINE, MORE = 14.25, 10.8
"""Height of a row of one line, and what each more line of small type takes, in points."""
A_CHARACTER = 4.7
"""Width of a character of small type on average, in points; a column is 6 points wide for each of its own."""


class _Own(RowDimension):
    """The height of a row to begin with: the program may change it."""

    @property
    def customHeight(self) -> bool:  # noqa: N802  openpyxl's name
        return False


def grow(book: Book, values: Mapping[str, Mapping[str, Any]]) -> None:
    """Set the heights; `values` are the computed ones, by sheet and cell."""
    for ws, ref in book.growing:
        left, top, _, bottom = corners(ref)
        letter = get_column_letter(left)
        room = ws.column_dimensions[letter].width * 6 - 9
        for row in range(top, bottom + 1):
            text = values.get(ws.title, {}).get(f"{letter}{row}")
            lines = ceil(len(text) * A_CHARACTER / room) if isinstance(text, str) else 1
            if lines > 1:
                ws.row_dimensions[row] = _Own(ws, index=row, ht=ONE_LINE + (lines - 1) * MORE)
