"""Cells of open workbooks, from inside LibreOffice's process: find places, read them, write them.

A place is [sheet, "A1" or "A1:C3" or a name], the sheet being null for a defined name of the whole workbook.
An error value travels as {"error": number}. Like worker.py, this stands alone and keeps to Python 3.8.
"""

from __future__ import annotations

import math
import re
import time
from functools import partial
from typing import TYPE_CHECKING, Any

A1 = re.compile(r"\$?([A-Z]{1,3})\$?([0-9]+)(?::\$?([A-Z]{1,3})\$?([0-9]+))?", re.IGNORECASE)
LOGICAL = 1024  # com.sun.star.util.NumberFormat.LOGICAL
FORMULAS = 16  # com.sun.star.sheet.CellFlags.FORMULA
WHOLE_BOX_CELLS = 500  # cells of a common rectangle worth reading in one call, for each place asked for

if TYPE_CHECKING:  # Python 3.8 could not compute these
    from collections.abc import Callable, Sequence
    from typing import TypeAlias

    Uno: TypeAlias = Any
    """An object of the office: its interfaces are known at run time alone."""
    Value: TypeAlias = float | str | bool | dict[str, int] | None
    """What a cell holds; an error is {"error": number}."""
    Box: TypeAlias = tuple[int, int, int, int, int]
    """A rectangle: number of the sheet, left, top, right and bottom, all from 0."""
    Key: TypeAlias = Sequence[str | None]
    """A place: [sheet, address or name]."""
    Rows: TypeAlias = Sequence[Sequence[Any]]
    """Values of a rectangle."""


class Opened:
    """An open workbook, and what was looked up in it."""

    def __init__(self, document: Uno) -> None:
        self.document = document
        self.places: dict[tuple[str | None, ...], Box] = {}
        self.formats: dict[int, bool] = {}  # number format -> whether it shows 0 and 1 as FALSE and TRUE


BOOKS: dict[int, Opened] = {}


class RefusedError(Exception):
    """A request that cannot be met; the text is the sentence to show."""


def opened(number: int) -> Opened:
    """An open workbook by its number."""
    if number not in BOOKS:
        raise RefusedError("this workbook is closed; open it again")
    return BOOKS[number]


def column(letters: str) -> int:
    """Column number from 0: A is 0, AA is 26."""
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number - 1


def named(names: Uno, name: str) -> Box | None:
    """The rectangle that a defined name stands for, or None where there is no such name."""
    if not names.hasByName(name):
        return None
    cells = names.getByName(name).getReferredCells()
    if cells is None:
        raise RefusedError(f'the name "{name}" does not stand for cells')
    at = cells.getRangeAddress()
    return at.Sheet, at.StartColumn, at.StartRow, at.EndColumn, at.EndRow


def find(document: Uno, sheet_name: str | None, text: str) -> Box:
    """The rectangle of an address or name."""
    sheets = document.Sheets
    if sheet_name is None:
        box = named(document.NamedRanges, text)
        if box is None:
            raise RefusedError(f'no cells are named "{text}"; an address needs its sheet, as in "Job!B2"')
        return box
    if not sheets.hasByName(sheet_name):
        raise RefusedError(f'there is no sheet "{sheet_name}"; sheets are: {", ".join(sheets.ElementNames)}')
    sheet = sheets.getByName(sheet_name)
    match = A1.fullmatch(text)
    if match is None:
        box = named(sheet.NamedRanges, text)
        if box is None:
            raise RefusedError(f'"{text}" is neither an address such as B2 or B2:C9 nor a name of sheet "{sheet_name}"')
        return box
    left, top, right, bottom = match.groups()
    first = (column(left), int(top) - 1)
    last = first if right is None else (column(right), int(bottom) - 1)
    return (
        sheet.RangeAddress.Sheet,
        min(first[0], last[0]),
        min(first[1], last[1]),
        max(first[0], last[0]),
        max(first[1], last[1]),
    )


def place(book: Opened, key: Key) -> Box:
    """The rectangle of a place; looked up once, as nothing here moves cells."""
    sheet, text = key
    if (sheet, text) not in book.places:
        book.places[sheet, text] = find(book.document, sheet, text or "")
    return book.places[sheet, text]


def cells_of(book: Opened, box: Box) -> Uno:
    """The office's object for a rectangle."""
    return book.document.Sheets.getByIndex(box[0]).getCellRangeByPosition(*box[1:])


def single(box: Box) -> bool:
    """Whether the rectangle is one cell."""
    return box[1:3] == box[3:5]


def is_logical(book: Opened, cell: Uno) -> bool:
    """Whether a 0 or 1 shows as FALSE or TRUE: in this program only the number format tells."""
    key = cell.NumberFormat
    if key not in book.formats:
        book.formats[key] = bool(book.document.NumberFormats.getByKey(key).Type & LOGICAL)
    return book.formats[key]


def read_block(book: Opened, box: Box, wanted: list[Box]) -> dict[Box, list[list[Value]]]:
    """The rows of values of each wanted rectangle, all of them inside `box`."""
    sheet = book.document.Sheets.getByIndex(box[0])
    cells = sheet.getCellRangeByPosition(*box[1:])
    raw = cells.getDataArray()
    blanks: list[tuple[int, int, int, int]] | None = None

    def value(across: int, down: int) -> Value:
        nonlocal blanks
        seen: float | str | None = raw[down - box[2]][across - box[1]]
        if seen == "":  # blank, or a formula that gives empty text
            if blanks is None:
                blanks = [
                    (a.StartColumn, a.StartRow, a.EndColumn, a.EndRow)
                    for a in cells.queryEmptyCells().getRangeAddresses()
                ]
            return None if any(a <= across <= c and b <= down <= d for a, b, c, d in blanks) else ""
        if seen is None:
            return {"error": sheet.getCellByPosition(across, down).getError()}
        if seen in (0.0, 1.0) and is_logical(book, sheet.getCellByPosition(across, down)):
            return bool(seen)
        return seen

    return {
        area: [[value(a, d) for a in range(area[1], area[3] + 1)] for d in range(area[2], area[4] + 1)]
        for area in wanted
    }


def get(number: int, keys: list[Key]) -> list[Value | list[list[Value]]]:
    """Values in the order asked; one cell gives a value, more give rows. Neighbours come in one call."""
    book = opened(number)
    boxes = [place(book, key) for key in keys]
    found: dict[Box, list[list[Value]]] = {}
    for sheet in {box[0] for box in boxes}:
        group = list({box for box in boxes if box[0] == sheet})
        hull = (
            sheet,
            min(b[1] for b in group),
            min(b[2] for b in group),
            max(b[3] for b in group),
            max(b[4] for b in group),
        )
        size = (hull[3] - hull[1] + 1) * (hull[4] - hull[2] + 1)
        together = [(hull, group)] if size <= WHOLE_BOX_CELLS * len(group) else [(box, [box]) for box in group]
        for outer, inner in together:
            found.update(read_block(book, outer, inner))
    return [found[box][0][0] if single(box) else found[box] for box in boxes]


def shown(number: int, keys: list[Key]) -> list[str | list[list[str]]]:
    """The text that each cell shows, number format applied."""
    book = opened(number)
    boxes = [place(book, key) for key in keys]
    answer: list[str | list[list[str]]] = []
    for box in boxes:
        sheet = book.document.Sheets.getByIndex(box[0])
        rows: list[list[str]] = [
            [sheet.getCellByPosition(a, d).String for a in range(box[1], box[3] + 1)] for d in range(box[2], box[4] + 1)
        ]
        answer.append(rows[0][0] if single(box) else rows)
    return answer


def formulas(number: int, key: Key) -> list[list[str]]:
    """Rows of formula text; a constant comes as it would be typed, a blank cell as empty text."""
    book = opened(number)
    return [list(row) for row in cells_of(book, place(book, key)).getFormulaArray()]


def sheet_names(number: int) -> list[str]:
    """Names in tab order, hidden sheets too."""
    return list(opened(number).document.Sheets.ElementNames)


def put(cell: Uno, value: float | str | None) -> None:
    """One value into one cell: text stays text, whatever it looks like."""
    if value is None:
        cell.setFormula("")
    elif isinstance(value, str):
        cell.setString(value)
    else:
        cell.setValue(float(value))


def enter(cell: Uno, text: str) -> None:
    """What a person types: numbers, dates and formulas are recognised as the locale spells them."""
    cell.FormulaLocal = text


def each(action: Callable[[Uno, Any], None], cells: Uno, rows: Rows) -> None:
    """One cell after the other."""
    for down, row in enumerate(rows):
        for across, one in enumerate(row):
            action(cells.getCellByPosition(across, down), one)


def put_at_once(cells: Uno, rows: Rows) -> None:
    """The same as `put` into unlocked cells, ten times as quick; yes and no are numbers.

    Rows that hold this already stay as they are: each cell that is written tells all that depends on it.
    """
    data = [tuple("" if one is None else one if isinstance(one, str) else float(one) for one in row) for row in rows]
    computed = cells.queryContentCells(FORMULAS).getCount() > 0  # a formula that gives the same is to go
    other = [at for at, (row, wanted) in enumerate(zip(cells.getDataArray(), data)) if computed or row != wanted]
    if other:
        first, last = other[0], other[-1]
        part = cells.getCellRangeByPosition(0, first, len(data[0]) - 1, last)
        part.setDataArray(tuple(data[first : last + 1]))


def write(number: int, items: list[tuple[Key, Any]], how: str, force: bool) -> None:
    """Write [place, value] pairs; all places are checked before the first cell changes."""
    book = opened(number)
    action = partial(each, enter) if how == "enter" else partial(each, put) if force else put_at_once
    guarded: dict[int, bool] = {}
    work = []
    for key, value in items:
        box = place(book, key)
        name = "!".join(part for part in key if part)
        if box[0] not in guarded:
            guarded[box[0]] = not force and book.document.Sheets.getByIndex(box[0]).isProtected()
        rows = value if isinstance(value, list) else [[value]]
        wide, high = box[3] - box[1] + 1, box[4] - box[2] + 1
        if len(rows) != high or any(len(row) != wide for row in rows):
            raise RefusedError(f"{name} is {high} rows by {wide} columns; give as many values")
        cells = cells_of(book, box)
        if guarded[box[0]] and cells.CellProtection.IsLocked:  # of cells that differ, too: that is the default
            raise RefusedError(f"{name} is locked on a protected sheet; a person could not type there")
        work.append((cells, rows))
    document = book.document
    automatic = document.isAutomaticCalculationEnabled()
    document.enableAutomaticCalculation(False)  # one calculation for all that is written, not one for each cell
    try:
        for cells, rows in work:
            action(cells, rows)
    finally:
        document.enableAutomaticCalculation(automatic)


def edit(number: int, key: Key, text: str) -> None:
    """One cell as a person leaves it: typed or cleared, and only what depends on it is computed."""
    book = opened(number)
    box = place(book, key)
    cell = book.document.Sheets.getByIndex(box[0]).getCellByPosition(*box[1:3])
    if cell.CellProtection.IsLocked:
        raise RefusedError(f"{'!'.join(filter(None, key))} is locked; a person could not type there")
    enter(cell, text)


def edits(number: int, items: list[tuple[Key, str]]) -> list[float]:
    """Edits one after the other, each with all that it changes; the processor seconds of this program for each."""
    document = opened(number).document
    taken = []
    for key, text in items:
        before = time.process_time()
        edit(number, key, text)
        document.calculate()
        taken.append(time.process_time() - before)
    return taken


def undo(number: int) -> None:
    """Take the last edit back."""
    opened(number).document.UndoManager.undo()


def recalculate(number: int) -> None:
    """Compute every formula again, also those with a stored value."""
    opened(number).document.calculateAll()


def used_area(sheet: Uno) -> list[tuple[int, int, int, int]]:
    """The rectangle from the first cell to the last that is used."""
    cursor = sheet.createCursor()
    cursor.gotoEndOfUsedArea(False)
    at = cursor.RangeAddress
    return [(0, 0, at.EndColumn, at.EndRow)]


def formula_areas(sheet: Uno) -> list[tuple[int, int, int, int]]:
    """The rectangles that hold formulas, and nothing else: of a long table of constants a few cells."""
    found = sheet.queryContentCells(FORMULAS).getRangeAddresses()
    return [(at.StartColumn, at.StartRow, at.EndColumn, at.EndRow) for at in found]


def differences(number: int, other: int, formulas_only: bool) -> list[tuple[str, str, Value, Value]]:
    """[sheet, cell, value here, value there] of each cell that differs between two workbooks of the same cells."""
    here, there = (opened(one).document.Sheets for one in (number, other))
    found: list[tuple[str, str, Value, Value]] = []
    for index, name in enumerate(here.ElementNames):
        sheet, twin = here.getByIndex(index), there.getByIndex(index)
        for box in formula_areas(sheet) if formulas_only else used_area(sheet):
            rows, twins = (one.getCellRangeByPosition(*box).getDataArray() for one in (sheet, twin))
            for down, (row, twin_row) in enumerate(zip(rows, twins), start=box[1]):
                if row != twin_row:
                    for across, (value, wanted) in enumerate(zip(row, twin_row), start=box[0]):
                        if not same(value, wanted):
                            found.append((name, address(across, down), value, wanted))
    return found


def same(value: Value, wanted: Value) -> bool:
    """Equal, numbers to what 15 stored digits leave of them after a subtraction."""
    if isinstance(value, float) and isinstance(wanted, float):
        return math.isclose(value, wanted, rel_tol=1e-9, abs_tol=1e-12)
    return value == wanted


def address(across: int, down: int) -> str:
    """The cell's address, as in B7; column and row from 0."""
    letters, across = "", across + 1
    while across:
        across, rest = divmod(across - 1, 26)
        letters = chr(65 + rest) + letters
    return f"{letters}{down + 1}"
