"""What keeps the file small: a formula that a column repeats is stored once, and a table's cells need no addresses.

Both are the file format's own ways. Only the hidden table of threads goes without addresses, as some readers of files
miss them.
"""

from __future__ import annotations

import re

from lxml import etree

from workbook_template.figures.parse import Column, column_number
from workbook_template.paper import threads

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_PLACE = re.compile(r"([A-Z]+)([0-9]+)")


def shorten(root: etree._Element, title: str) -> None:
    """Say the same of a sheet in less."""
    _share_formulas(root)
    if title == threads.SHEET:
        _leave_addresses(root)


def _share_formulas(root: etree._Element) -> None:
    """A formula that goes on below is stored at its first cell, the others name it by a number."""
    runs: list[list[etree._Element]] = []
    last: dict[str, tuple[Column, int, list[etree._Element]]] = {}
    for cell in root.iter(f"{MAIN}c"):
        element, place = cell.find(f"{MAIN}f"), _PLACE.fullmatch(cell.get("r", ""))
        if element is None or place is None or not element.text or element.get("t"):
            continue
        letters, row = place[1], int(place[2])
        column, first, run = last.get(letters, (None, 0, []))
        if column and column.shareable and first + len(run) == row and column.text(row) == element.text:
            run.append(element)
            continue
        last[letters] = Column.of(element.text, row), row, [element]
        runs.append(last[letters][2])
    for number, run in enumerate(one for one in runs if len(one) > 1):
        letters, top = places[number]
        run[0].set("ref", f"{letters}{top}:{letters}{top + len(run) - 1}")
        for element in run:
            element.set("t", "shared")
            element.set("si", str(number))
        for element in run[1:]:
            element.text = None


def _leave_addresses(root: etree._Element) -> None:
    """A value right of another cell needs none."""
    for row in root.iter(f"{MAIN}row"):
        column = 0
        for cell in row:
            place = _PLACE.fullmatch(cell.get("r", ""))
            before, column = column, column_number(place[1]) if place else 0
            if before and column == before + 1 and cell.find(f"{MAIN}f") is None:
                del cell.attrib["r"]
