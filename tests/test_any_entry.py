"""Whatever number stands in an entry: a sentence or nothing, never an error value and no row of hundreds of figures.

Every entry of the filled example, one at a time, past the checks of what may be typed, as a paste goes past them.
"""

from __future__ import annotations

import re

from one_entry import OneEntry, Spot

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.figures.book import Problem, Value
from workbook_template.figures.functions import serial
from workbook_template.file import store
from workbook_template.file.build import build, built_on
from workbook_template.paper.naming import WORKING, Named
from workbook_template.rules.parts import box

ABSURD = (1e308, -1e308, 1e-308, 0.0, -1.0)
MOST_SHOWN = 1e12
"""A number that is shown is no larger: a billion is the most that is believed of one that is typed."""
FIGURES_IN_A_ROW = re.compile(r"\d{16}")


def entry_cells(entry: Named) -> list[Spot]:
    """The cell of an entry; of a column the first and the last."""
    left, top, right, bottom = box(entry.ref)
    return [(entry.sheet, row, column) for row in sorted({top, bottom}) for column in sorted({left, right})]


def cells_of(entry: Named) -> list[Spot]:
    """Every cell of a name."""
    left, top, right, bottom = box(entry.ref)
    return [(entry.sheet, row, column) for row in range(top, bottom + 1) for column in range(left, right + 1)]


def wrong(value: Value, typed: float, seen: bool) -> bool:
    """Whether that is no answer for a person: an entry may be repeated as it was typed, nothing be made of it."""
    if isinstance(value, Problem):
        return True
    if isinstance(value, str):
        return FIGURES_IN_A_ROW.search(value) is not None
    return seen and isinstance(value, float) and abs(value) > MOST_SHOWN and value != typed


def test_no_number_in_any_entry_makes_an_error_value() -> None:
    book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
    filled = OneEntry(store.cells_of(book), serial(built_on()))
    named = {cell: one for one in book.entries for cell in entry_cells(one)}
    behind = {cell for one in book.entries if one.role == "working" for cell in cells_of(one)}
    assert [spot for spot, value in filled.first.items() if wrong(value, 0, seen=spot not in behind)] == []
    entries = [one for one in book.entries if one.role == "input"]
    bad = {
        f"{entry.name} = {typed:g}: {spot} {named[spot].name if spot in named else ''} is {str(value)[:60]}"
        for entry in entries
        for cell in entry_cells(entry)
        for typed in ABSURD
        for spot, value in filled.changed(cell, typed).items()
        if wrong(value, typed, seen=spot not in behind and spot[0] != WORKING)
    }
    assert not bad, "\n".join(sorted(bad))
    assert len(entries) > 300
