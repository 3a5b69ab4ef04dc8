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
from workbook_template.read_back.built import MadeSheet, Template
from workbook_template.read_back.compare import FREE
from workbook_template.read_back.contents import Error, Filled, FilledSheet
from workbook_template.read_back.findings import Finding, address, both_said
from workbook_template.read_back.moved import GONE
from workbook_template.read_back.named import values_of
from workbook_template.read_back.recompute import CLOSE, TINY
from workbook_template.sheets.crosscheck import CHECKS

OTHERWISE = ("#VALUE!", "#REF!")
"""INDEX beyond its range, as LibreOffice stores it and as Excel does."""

LOADED = "functions_loaded"
"""TRUE where the file was saved by a program that has the functions: its cross-check is then theirs, not compared."""

CROSS_CHECK = (LOADED, "functions_words", *(f"{of}_{name}" for name, *_ in CHECKS for of in ("function", "check")))


ORDERED, PART = "log_top", "log_part"
"""Which part is last in order so far, and the parts. Each program puts signs as - and _ into an order of its own, and
any will do: what it is for, the first row of a part (`log_first`), comes out the same, and is compared."""


class _Template(NamedTuple):
    """What all workbooks of one version share: the formulas, made ready once, and the cells that a file fills."""

    computed: Computed
    filled: list[tuple[str, Place]]


TORN = "TORN.REFERENCE()"
"""What stands for a reference to a deleted cell: a function that fails as that does."""


def _torn() -> float:
    raise Fails(NO_PLACE)


@lru_cache(maxsize=2)
def _ready(made: Template) -> _Template:
    """A template, ready to be computed; what a deletion has torn computes as in the file."""
    sheets = {title: _cells(sheet) for title, sheet in made.sheets.items()}
    names = {name.lower(): parse(text.replace(GONE, TORN)) for name, text in made.names.items()}
    functions = {**store.PROBABILITY, TORN.rstrip("()"): _torn}
    return _Template(Computed(figures.Book(sheets, names), functions=functions), list(_filled(made)))


def _cells(sheet: MadeSheet) -> figures.Cells:
    values: dict[Place, Value] = {}
    formulas: dict[Place, Node] = {}
    read = Columns()
    for place, cell in sheet.cells.items():
        if cell.formula is not None:
            formulas[place] = read(cell.formula.text.replace(GONE, TORN), *place)
        elif cell.value not in (None, ""):
            values[place] = cell.value
    return figures.Cells(values, formulas)


def _filled(made: Template) -> Iterator[tuple[str, Place]]:
    """The cells that a file fills, and those that differ from one build to the next."""
    for sheet in made.sheets.values():
        for place in sheet.inputs:
            cell = sheet.cells[place]
            if cell.formula is None and not cell.covered:
                yield sheet.title, place
    for entry in made.entries:
        if entry.name in FREE:
            yield entry.sheet, (entry.box[1], entry.box[0])


def evaluated(made: Template, sheets: Mapping[str, FilledSheet], today: float) -> Computed:
    """The template with what was typed into the file; a formula that stands in an input counts by its stored value.

    It counts until the next file is put into the same template.
    """
    ready = _ready(made)
    ready.computed.today = today
    for title, place in ready.filled:
        sheet = sheets.get(title)
        cell = None if sheet is None else sheet.cells.get(place)
        ready.computed.put(title, *place, None if cell is None else _typed(cell.value))
    return ready.computed


def _typed(value: Any) -> Value:
    return Problem(value.text) if isinstance(value, Error) else value


def differences(
    book: Filled, made: Template, own: Computed, sheets: Mapping[str, FilledSheet]
) -> tuple[list[Finding], int]:
    """Stored values that are not what comes out again, and how many were compared."""
    found, seen = [], 0
    elsewhere, parts = _cross_check(book, made, sheets), _parts(made, own)
    for title, sheet in made.sheets.items():
        if title not in sheets:
            continue
        cells = sheets[title].cells
        for place, value in own.values(title).items():
            if (title, place) in elsewhere:
                continue
            cell = cells.get(place)
            stored = None if cell is None else cell.value
            seen += 1
            # what holds of nearly all cells is looked at first
            if not (type(stored) is type(value) and stored == value) and not alike(stored, value):
                name = sheet.name_at(place)
                if not (name == ORDERED and _as_long(stored, value, parts)):
                    found.append(_finding(title, place, name, stored, value))
    return found, seen


def _parts(made: Template, own: Computed) -> set[str]:
    """The parts of the log, as texts."""
    boxes = ((one.sheet, one.box) for one in made.entries if one.name == PART)
    cells = (own.values(sheet).get((row, left)) for sheet, (left, top, _, end) in boxes for row in range(top, end + 1))
    return {one for one in cells if isinstance(one, str) and one}


def _as_long(stored: Any, value: Value, parts: set[str]) -> bool:
    """Whether a part is stored that is as long as the computed one: the longest come last in any order."""
    return isinstance(value, str) and any(len(one) == len(value) and alike(stored, one) for one in parts)


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


def _cross_check(book: Filled, made: Template, sheets: Mapping[str, FilledSheet]) -> set[tuple[str, Place]]:
    """The cells of the cross-check, where the functions have computed them."""
    place = book.names.get(LOADED)
    if place is None or values_of({LOADED: place}, sheets).get(LOADED) not in (True, 1.0):
        return set()
    return {(one.sheet, (one.box[1], one.box[0])) for one in made.entries if one.name in CROSS_CHECK}
