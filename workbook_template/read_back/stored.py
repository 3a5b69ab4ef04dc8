"""Every stored value of a filled workbook against what its inputs give.

The formulas and constants are those of the template, what was typed is the file's; the values of all formulas are
computed by Excel's rules (`workbook_template.figures`). So a value that was changed alone, and one that was not
computed again after an input changed, differ, on whatever sheet they stand.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from workbook_template.figures import book as figures
from workbook_template.figures.book import Place, Problem, Value
from workbook_template.figures.coerce import NO_PLACE, Fails
from workbook_template.figures.parse import Columns, parse
from workbook_template.figures.tree import Node
from workbook_template.figures.value import Computed
from workbook_template.file import store
from workbook_template.paper import blocks
from workbook_template.read_back import template
from workbook_template.read_back.compare import FREE
from workbook_template.read_back.contents import Error, Filled, FilledSheet, values_of
from workbook_template.read_back.findings import Finding, address, both_said
from workbook_template.read_back.moved import GONE, Moves, moved_cells, moved_text, names_now
from workbook_template.read_back.template import Lengths
from workbook_template.rules.parts import box
from workbook_template.sheets.crosscheck import CHECKS

CLOSE, TINY = 1e-9, 1e-12
"""Share of a number, and size, by which programs may differ in the last digits."""

OTHERWISE = ("#VALUE!", "#REF!")
"""INDEX beyond its range, as LibreOffice stores it and as Excel does."""

LOADED = "functions_loaded"
"""TRUE where the file was saved by a program that has the functions: its cross-check is then theirs, not compared."""

CROSS_CHECK = (LOADED, "functions_words", *(f"{of}_{name}" for name, *_ in CHECKS for of in ("function", "check")))


class Evaluated(NamedTuple):
    """A template with the inputs of a file in it, its rows where they are in the file."""

    made: blocks.Book
    computed: Computed

    def value(self, sheet: str, row: int, column: int) -> Value:
        """The value of a cell."""
        return self.computed.value(sheet, row, column)


class _Template(NamedTuple):
    """What all workbooks of one version share: the formulas, made ready once, and the cells that a file fills."""

    computed: Computed
    filled: list[tuple[str, tuple[int, int]]]


@lru_cache(maxsize=4)
def _template(unit: str, special: tuple[str, ...], lengths: Lengths) -> _Template:
    made = template.template(unit, special, lengths)
    return _Template(Computed(store.cells_of(made), functions=store.PROBABILITY), list(_filled(made, {})))


def _moved_template(unit: str, special: tuple[str, ...], lengths: Lengths, moves: Moves) -> _Template:
    """The same with rows or columns deleted or inserted: what is torn then computes as in the file."""
    made = template.template(unit, special, lengths)
    sheets = {}
    for ws in made.workbook.worksheets:
        values: dict[Place, Value] = {}
        formulas: dict[Place, Node] = {}
        read = Columns()
        for place, cell in moved_cells(made, ws, moves):
            if cell.formula is not None:
                formulas[place] = read(cell.formula.text.replace(GONE, TORN), *place)
            elif cell.value not in (None, ""):
                values[place] = store.value_of(cell.value)
        sheets[ws.title] = figures.Cells(values, formulas)
    names = {
        name.lower(): parse(moved_text(one.attr_text, "", moves).replace(GONE, TORN))
        for name, one in made.workbook.defined_names.items()
    }
    computed = Computed(figures.Book(sheets, names), functions={**store.PROBABILITY, TORN.rstrip("()"): _torn})
    return _Template(computed, list(_filled(made, moves)))


TORN = "TORN.REFERENCE()"
"""What stands for a reference to a deleted cell: a function that fails as that does."""


def _torn() -> float:
    raise Fails(NO_PLACE)


def _filled(made: blocks.Book, moves: Moves) -> Iterator[tuple[str, Place]]:
    """The cells that a file fills, and those that differ from one build to the next."""
    for ws in made.workbook.worksheets:
        for place, cell in moved_cells(made, ws, moves):
            if cell.is_input and cell.formula is None and not cell.covered:
                yield ws.title, place
    for entry in made.entries:
        corners, moved = box(entry.ref), moves.get(entry.sheet)
        corners = corners if moved is None or corners is None else moved.box(corners)
        if entry.name in FREE and corners:
            yield entry.sheet, (corners[1], corners[0])


def evaluated(
    unit: str, special: tuple[str, ...], lengths: Lengths, sheets: Mapping[str, FilledSheet], today: float, moves: Moves
) -> Evaluated:
    """The template with what was typed into the file; a formula that stands in an input counts by its stored value.

    It counts until the next file is put into the same template.
    """
    made = _moved_template(unit, special, lengths, moves) if moves else _template(unit, special, lengths)
    made.computed.today = today
    for title, place in made.filled:
        sheet = sheets.get(title)
        cell = None if sheet is None else sheet.cells.get(place)
        made.computed.put(title, *place, None if cell is None else _typed(cell.value))
    return Evaluated(template.template(unit, special, lengths), made.computed)


def _typed(value: Any) -> Value:
    return Problem(value.text) if isinstance(value, Error) else value


def differences(
    book: Filled, own: Evaluated, sheets: Mapping[str, FilledSheet], moves: Moves
) -> tuple[list[Finding], int]:
    """Stored values that are not what comes out again, and how many were compared."""
    found, seen = [], 0
    elsewhere = _cross_check(book, own.made, sheets)
    for title in own.made.workbook.sheetnames:
        if title not in sheets:
            continue
        cells, named = sheets[title].cells, names_now(own.made, title, moves)
        for place, value in own.computed.values(title).items():
            if (title, place) in elsewhere:
                continue
            cell = cells.get(place)
            stored = None if cell is None else cell.value
            seen += 1
            # what holds of nearly all cells is looked at first
            if not (type(stored) is type(value) and stored == value) and not alike(stored, value):
                found.append(_finding(title, place, template.name_at(named, place), stored, value))
    return found, seen


def _finding(title: str, place: tuple[int, int], name: str, stored: Any, value: Value) -> Finding:
    wanted = Error(value.code) if isinstance(value, Problem) else value
    held, computed = both_said(stored, wanted)
    nothing = wanted is None or wanted == ""
    words = f"stored is {held}; computed again " + ("there is nothing to show" if nothing else f"it is {computed}")
    return Finding("stored value", title, address(place), name, words)


def alike(stored: Any, value: Value) -> bool:
    """Whether a stored value is the computed one.

    LibreOffice drops blanks at the end of a text when it saves, so they don't count.
    A yes or no may be stored as a number.

    >>> alike(0.70560000000001, 0.7056), alike("in ", "in"), alike(None, ""), alike(Error("#N/A"), Problem("#N/A"))
    (True, True, True, True)
    >>> alike("0.7056", 0.7056), alike(0.0, ""), alike("in", "high")
    (False, False, False)
    """
    if isinstance(value, Problem):
        return isinstance(stored, Error) and (stored.text, value.code) in ((value.code, value.code), OTHERWISE)
    if isinstance(value, bool):
        return isinstance(stored, (bool, float)) and stored == value
    if isinstance(value, float):
        is_number = isinstance(stored, float) and not isinstance(stored, bool)
        return is_number and math.isclose(stored, value, rel_tol=CLOSE, abs_tol=TINY)
    if value is None or value == "":
        return stored in (None, "")
    return isinstance(stored, str) and stored.rstrip() == value.rstrip()


def _cross_check(
    book: Filled, made: blocks.Book, sheets: Mapping[str, FilledSheet]
) -> set[tuple[str, tuple[int, int]]]:
    """The cells of the cross-check, where the functions have computed them."""
    place = book.names.get(LOADED)
    if place is None or values_of({LOADED: place}, sheets).get(LOADED) not in (True, 1.0):
        return set()
    boxes = ((one.sheet, box(one.ref)) for one in made.entries if one.name in CROSS_CHECK)
    return {(sheet, (corners[1], corners[0])) for sheet, corners in boxes if corners}
