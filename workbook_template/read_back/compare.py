"""Every cell of a filled workbook against the template: what was typed over, changed, unlocked, removed or added."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.paper import blocks
from workbook_template.read_back import template
from workbook_template.read_back.contents import Cell, Filled, Formula, Place, Sheet, Validation
from workbook_template.read_back.findings import Finding, address, both_said, said
from workbook_template.read_back.formulas import normal
from workbook_template.read_back.template import Made
from workbook_template.rules.parts import Box, box, overlap

FREE = ("built_on", "sheetfuncs_version")
"""Constants that differ from one build to the next; another version is told apart."""

ONE_LIMIT = ("list", "custom")
TWO_LIMITS = ("between", "notBetween")


def compare(book: Filled, made: blocks.Book, sheets: dict[str, Sheet]) -> Iterator[Finding]:
    """All differences between a file and its template."""
    yield from _version(book, made, sheets)
    yield from _names(book, made)
    open_looks = book.unlocked_styles()
    for title in book.sheets:
        if title not in made.workbook.sheetnames:
            yield Finding("added", title, "", "", "this sheet was not built; nothing of it was judged")
    for ws in made.workbook.worksheets:
        if ws.title not in sheets:
            yield Finding("removed", ws.title, "", "", "the sheet is gone")
            continue
        yield from compare_sheet(made, ws, sheets[ws.title], open_looks)
    for target in book.package.outside:
        yield Finding("outside", "", "", "", f"a link leads to {said(target)}; it was not followed")


def _version(book: Filled, made: blocks.Book, sheets: dict[str, Sheet]) -> Iterator[Finding]:
    for entry in made.entries:
        if entry.name != "sheetfuncs_version":
            continue
        place = book.names.get(entry.name)
        own = made.workbook[entry.sheet][entry.ref].value
        cell = sheets[place.sheet].cells.get((place.box[1], place.box[0])) if place and place.sheet in sheets else None
        if cell is not None and cell.value != own:
            words = f"built by version {said(cell.value)}, compared with version {said(own)}"
            words += "; what differs may be due to that"
            yield Finding("other version", entry.sheet, entry.ref, entry.name, words)


def _names(book: Filled, made: blocks.Book) -> Iterator[Finding]:
    for entry in made.entries:
        corners, place = box(entry.ref), book.names.get(entry.name.lower())
        if corners is None or place == Place(entry.sheet, corners):
            continue
        words = "the name is gone" if place is None else f"the name stands for {_shown(place)} and no longer for this"
        yield Finding("name", entry.sheet, entry.ref, entry.name, words)
    for name in sorted({entry.name.lower() for entry in made.entries} & book.local_names):
        yield Finding("name", "", "", name, "a sheet has this name for itself too, so formulas may use another cell")


def _shown(place: Place) -> str:
    left, top, right, bottom = place.box
    first, last = address((top, left)), address((bottom, right))
    return f"{place.sheet}!{first}" + ("" if first == last else f":{last}")


def compare_sheet(made: blocks.Book, ws: Worksheet, found: Sheet, open_looks: frozenset[int]) -> Iterator[Finding]:
    """All differences of one sheet; `open_looks` are the looks whose cells are not locked."""
    title = ws.title
    if ws.protection.sheet and not found.protected:
        yield Finding("unprotected", title, "", "", "the protection of the sheet is off, so any cell can be typed over")
    named = template.names_of(made, title)

    def name(place: tuple[int, int]) -> str:
        return template.name_at(named, place)

    seen = set()
    inputs = set()
    for place, cell in template.made_cells(made, ws):
        seen.add(place)
        if cell.is_input:
            inputs.add(place)
        stored = found.cells.get(place)
        if stored is None or not _same(cell, stored, place, title):
            yield from _differs(title, place, cell, stored, name)
    for place, stored in found.cells.items():
        if place not in seen and (stored.formula or stored.value not in (None, "")):
            yield Finding("added", title, address(place), "", f"this cell was empty; {_held(stored)} stands in it")
        if stored.style in open_looks and place not in inputs:
            yield Finding("unlocked", title, address(place), name(place), "this cell is no input, and its lock is off")
    for where, style in found.bands:
        if style in open_looks:
            yield Finding("unlocked", title, "", "", f"the lock of {where} is off")
    yield from _validations(ws, found, name)


def _same(cell: Made, stored: Cell, place: tuple[int, int], title: str) -> bool:
    """Whether a cell is as built. The text of most formulas is not even rewritten, so that is looked at first."""
    if cell.formula is None:
        return stored.formula is None and (cell.is_input or _equal(cell.value, stored.value))
    if stored.formula is None or stored.formula.array != cell.formula.array:
        return False
    if stored.formula.text == cell.formula.text and (stored.formula.row, stored.formula.column) == place:
        return True
    return normal(cell.formula, *place, title) == normal(stored.formula, *place, title)


def _differs(
    title: str, place: tuple[int, int], cell: Made, stored: Cell | None, name: Callable[[tuple[int, int]], str]
) -> Iterator[Finding]:
    """What is wrong with a cell that is not as built."""
    own, held = name(place), _held(stored)
    if own in FREE or (stored is None and cell.formula is None and (cell.is_input or cell.value in (None, ""))):
        return
    if cell.formula is not None:
        typed = stored is None or stored.formula is None
        kind = "typed over" if typed else "changed formula"
        words = f"the formula is gone, {held} stands in its place"
        if stored is not None and stored.formula is not None:
            now, _ = both_said(f"={stored.formula.text}", f"={cell.formula.text}")
            words = f"the formula is now {now}"
    elif cell.is_input:
        kind, words = "formula as input", f"a typed value belongs here, not a formula: {held}"
    elif cell.value is None:
        if stored is not None and stored.formula is None and stored.value == "":
            return
        kind, words = "added", f"this cell was empty; {held} stands in it"
    else:
        kind, words = "changed value", f"{held} stands here; built was {said(_number(cell.value))}"
    yield Finding(kind, title, address(place), own, words)


def _held(stored: Cell | None) -> str:
    if stored is not None and stored.formula is not None:
        return said(f"={stored.formula.text}")
    return said(None if stored is None else stored.value)


def _number(value: Any) -> Any:
    """A date as the sheet holds it."""
    return float(value.toordinal() - date(1899, 12, 30).toordinal()) if isinstance(value, date) else value


def _equal(wanted: Any, stored: Any) -> bool:
    wanted = _number(wanted)
    if isinstance(wanted, bool) or isinstance(stored, bool):
        return wanted is stored
    if isinstance(wanted, (int, float)) and isinstance(stored, float):
        return math.isclose(wanted, stored, rel_tol=1e-12, abs_tol=1e-15)
    return wanted == stored or {wanted, stored} == {None, ""}


def _validations(ws: Worksheet, found: Sheet, name: Callable[[tuple[int, int]], str]) -> Iterator[Finding]:
    """The checks of inputs are there, with their limits."""
    stored = [(_meant(one, ws.title), one) for one in found.validations]
    for rule in ws.data_validations.dataValidation:
        if rule.type is None:
            continue
        boxes = tuple(corners for one in rule.sqref.ranges if (corners := box(one.coord)))
        formulas = (str(rule.formula1 or ""), str(rule.formula2 or ""))
        own = Validation(boxes, rule.type, rule.operator or "between", *formulas, bool(rule.showErrorMessage))
        meant = _meant(own, ws.title)
        alike = [corners for key, one in stored if key == meant for corners in one.boxes]
        for corners in boxes:
            if sum(_shared(corners, other) for other in alike) < _area(corners):
                place = corners[1], corners[0]
                words = "the check of what may be typed here is gone or changed"
                yield Finding("check of input", ws.title, address(place), name(place), words)


def _meant(rule: Validation, sheet: str) -> tuple[Any, ...]:
    """What of a check counts: programs fill in a second limit where none is used."""
    left, top, *_ = rule.boxes[0] if rule.boxes else (1, 1, 1, 1)
    two = rule.type not in ONE_LIMIT and rule.operator in TWO_LIMITS
    texts = (rule.formula1, rule.formula2) if two else (rule.formula1,)
    formulas = tuple(normal(Formula(text.removeprefix("="), top, left), top, left, sheet) for text in texts)
    operator = "" if rule.type in ONE_LIMIT else rule.operator
    return rule.type, operator, formulas, rule.refuses


def _area(one: Box) -> int:
    return (one[2] - one[0] + 1) * (one[3] - one[1] + 1)


def _shared(one: Box, other: Box) -> int:
    if not overlap(one, other):
        return 0
    return _area((max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])))
