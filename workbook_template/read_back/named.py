"""Stored values by defined name: one for a cell, a list for a range. A name may stand for more than it should."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from workbook_template.read_back.contents import Filled, FilledSheet, Place, Value, read_sheet
from workbook_template.read_back.opening import Unreadable

MOST_NAMED = 100_000
"""Cells of one named range."""

WIDEST = 99
"""Columns of a named range, less one, that are looked at."""


def cells_of(value: Value) -> list[Value]:
    """What a name of a column has, where somebody has left it a single cell too.

    >>> cells_of([1.0, None]), cells_of(1.0), cells_of(None)
    ([1.0, None], [1.0], [])
    """
    return value if isinstance(value, list) else [] if value is None else [value]


def column_values(sheet: FilledSheet, place: Place) -> list[Value]:
    """The stored values of a named range, from the top left, row by row; trailing blanks are left out."""
    left, top, right, bottom = place.box
    if right - left + 1 > MOST_NAMED:
        raise Unreadable(f"a name of the sheet {sheet.name} stands for more cells than any log has")
    if (right - left + 1) * (bottom - top + 1) > MOST_NAMED:
        bottom = min(bottom, max((row for row, _ in sheet.cells), default=top))
        bottom = min(bottom, top + MOST_NAMED // (right - left + 1))
    found = []
    for row in range(top, bottom + 1):
        for column in range(left, right + 1):
            cell = sheet.cells.get((row, column))
            found.append(None if cell is None else cell.value)
    while found and found[-1] is None:
        found.pop()
    return found


def read_names(book: Filled, wanted: Iterable[str], *, every: bool = False) -> dict[str, Value]:
    """The stored values by defined name: one for a cell, a list for a range; names that are not there are left out.

    With `every` the sheets that hold none of them are read too, so that a damaged one does not go unnoticed.
    """
    places = {name: book.names[name] for name in wanted if name in book.names}
    sheets = {}
    for title in dict.fromkeys((*(place.sheet for place in places.values()), *(book.sheets if every else ()))):
        boxes = [place.box for place in places.values() if place.sheet == title]
        columns = {c for left, _, right, _ in boxes for c in range(left, min(right, left + WIDEST) + 1)}
        sheets[title] = read_sheet(book, title, formulas=False, columns=columns)
    return values_of(places, sheets)


def values_of(places: Mapping[str, Place], sheets: Mapping[str, FilledSheet]) -> dict[str, Value]:
    """The same from sheets that are read already."""
    found: dict[str, Value] = {}
    for name, place in places.items():
        if place.sheet in sheets:
            values = column_values(sheets[place.sheet], place)
            single = place.box[:2] == place.box[2:]
            found[name] = (values[0] if values else None) if single else values
    return found
