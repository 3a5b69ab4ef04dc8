"""Every cell of a filled workbook against the template: what was typed over, changed, unlocked, removed or added."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from datetime import date
from typing import Any

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.paper import blocks
from workbook_template.read_back import printed, styles, template
from workbook_template.read_back.contents import Cell, Filled, FilledSheet, Formula, Place, Validation
from workbook_template.read_back.findings import Finding, address, both_said, said
from workbook_template.read_back.formulas import first_difference, normal
from workbook_template.read_back.looks import Difference, area, compare_page, differences, grouped, shared
from workbook_template.read_back.moved import Moves, moved_cells, moved_text, names_now, torn_alike
from workbook_template.read_back.page import PROTECTED
from workbook_template.read_back.styles import Shown, Style
from workbook_template.read_back.template import MadeCell
from workbook_template.rules.parts import box, overlap

FREE = ("built_on", "sheetfuncs_version", "log_printed", "quote_printed")
"""Constants that differ from one build to the next; another version is told apart."""

ONE_LIMIT = ("list", "custom")
TWO_LIMITS = ("between", "notBetween")


def compare(book: Filled, made: blocks.Book, sheets: dict[str, FilledSheet], moves: Moves) -> Iterator[Finding]:
    """All differences between a file and its template, of which some rows or columns may have moved."""
    yield from _version(book, made, sheets)
    yield from _names(book, made, moves)
    yield from (one.finding() for one in moves.values())
    for title in sheets:
        if title not in made.workbook.sheetnames:
            yield Finding("added", title, "", "", "this sheet was not built; nothing of it was judged")
    for ws in made.workbook.worksheets:
        if ws.title not in sheets:
            yield Finding("removed", ws.title, "", "", "the sheet is gone")
            continue
        yield from compare_sheet(made, ws, book, sheets[ws.title], moves)
    for target in book.package.outside:
        yield Finding("outside", "", "", "", f"a link leads to {said(target)}; it was not followed")


def _version(book: Filled, made: blocks.Book, sheets: dict[str, FilledSheet]) -> Iterator[Finding]:
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


def _names(book: Filled, made: blocks.Book, moves: Moves) -> Iterator[Finding]:
    own = {entry.name.lower() for entry in made.entries}
    for entry in made.entries:
        moved, corners, name = moves.get(entry.sheet), box(entry.ref), entry.name.lower()
        if moved is not None and corners is not None:
            corners = moved.box(corners)
        place = book.names.get(name)
        if corners is None or place == Place(entry.sheet, corners):
            continue
        words = "the name is gone"
        if place is not None:
            words = f"the name stands for {_shown(place)} and no longer for this"
        elif name in book.other_names:
            words = f"the name stands for {said(book.other_names[name])} and no longer for this"
        yield Finding("name", entry.sheet, entry.ref, entry.name, words)
    for name in sorted({name for _, name in book.local_names} & own):
        yield Finding("name", "", "", name, "a sheet has this name for itself too, so formulas may use another cell")
    known = own | {name.lower() for name in made.workbook.defined_names}
    for name in sorted({*book.names, *book.other_names} - known):
        if not name.startswith("_"):
            yield Finding("added name", "", "", name, "this name was not built; no formula of the workbook uses it")


def _shown(place: Place) -> str:
    left, top, right, bottom = place.box
    first, last = address((top, left)), address((bottom, right))
    return f"{place.sheet}!{first}" + ("" if first == last else f":{last}")


def compare_sheet(
    made: blocks.Book, ws: Worksheet, book: Filled, found: FilledSheet, moves: Moves
) -> Iterator[Finding]:
    """All differences of one sheet."""
    title, moved = ws.title, moves.get(ws.title)
    if ws.protection.sheet and not found.protected:
        yield Finding("unprotected", title, "", "", "the protection of the sheet is off, so any cell can be typed over")
    elif free := sorted(found.page.allowed - {name for name in PROTECTED if not getattr(ws.protection, name)}):
        yield Finding("left free", title, "", "", f"the protection of the sheet now leaves free: {', '.join(free)}")
    named = names_now(made, title, moves)

    def name(place: tuple[int, int]) -> str:
        return template.name_at(named, place)

    seen, inputs = set(), set()
    open_looks = book.styles.unlocked()
    known: dict[tuple[int, int], tuple[Difference, ...]] = {}
    wrong: dict[Difference, list[tuple[int, int]]] = {}
    forms = styles.built_forms(made.workbook)
    looks, plain = book.styles.cells, Style(Shown(), True, False)
    for place, cell in moved_cells(made, ws, moves):
        seen.add(place)
        if cell.is_input:
            inputs.add(place)
        stored = found.cells.get(place)
        if stored is None:
            if cell.formula is not None or not (cell.is_input or cell.value in (None, "")):
                yield from _differs(title, place, cell, stored, name)
            continue
        if not _same(cell, stored, place, title):
            yield from _differs(title, place, cell, stored, name)
        if cell.covered:
            continue
        pair = cell.style, stored.style
        differs = known.get(pair)
        if differs is None:
            now = looks[stored.style] if 0 <= stored.style < len(looks) else plain
            differs = known[pair] = differences(styles.built_style(made, cell.style), now, forms)
        if differs and (cell.formula or stored.value not in (None, "")):
            for one in differs:
                wrong.setdefault(one, []).append(place)
    for place, stored in found.cells.items():
        if moved is not None and moved.place_back(place) is None:  # inserted
            continue
        if place not in seen and (stored.formula or stored.value not in (None, "")):
            yield Finding("added", title, address(place), "", f"this cell was empty; {_held(stored)} stands in it")
        if stored.style in open_looks and place not in inputs:
            yield Finding("unlocked", title, address(place), name(place), "this cell is no input, and its lock is off")
    for where, style in found.bands:
        if style in open_looks:
            yield Finding("unlocked", title, "", "", f"the lock of {where} is off")
    yield from _validations(ws, found, name, moves)
    yield from grouped(title, wrong, name)
    yield from compare_page(ws, book, found, moved, inputs)
    yield from printed.differences(made, ws, book, found, moved, inputs, named)


def _same(cell: MadeCell, stored: Cell, place: tuple[int, int], title: str) -> bool:
    """Whether a cell is as built. The text of most formulas is not even rewritten, so that is looked at first."""
    if cell.formula is None:
        return stored.formula is None and (cell.is_input or _equal(cell.value, stored.value))
    if stored.formula is None or stored.formula.array != cell.formula.array:
        return False
    if stored.formula.text == cell.formula.text and (stored.formula.row, stored.formula.column) == place:
        return True
    if torn_alike(cell.formula.text, stored.formula.text):
        return True
    return normal(cell.formula, *place, title) == normal(stored.formula, *place, title)


def _differs(
    title: str, place: tuple[int, int], cell: MadeCell, stored: Cell | None, name: Callable[[tuple[int, int]], str]
) -> Iterator[Finding]:
    """What is wrong with a cell that is not as built."""
    own, held = name(place), _held(stored)
    if own in FREE:
        return
    if cell.formula is not None:
        typed = stored is None or stored.formula is None
        kind = "typed over" if typed else "changed formula"
        words = f"the formula is gone, {held} stands in its place"
        if stored is not None and stored.formula is not None:
            words = _changed(stored.formula, cell.formula, place, title)
    elif cell.is_input:
        kind, words = "formula as input", f"a typed value belongs here, not a formula: {held}"
    elif cell.value is None:
        if stored is not None and stored.formula is None and stored.value == "":
            return
        kind, words = "added", f"this cell was empty; {held} stands in it"
    else:
        kind, words = "changed value", f"{held} stands here; built was {said(_number(cell.value))}"
    yield Finding(kind, title, address(place), own, words)


def _changed(stored: Formula, built: Formula, place: tuple[int, int], title: str) -> str:
    """Both formulas around what differs, whatever else is only spelled otherwise."""
    at, at_built = first_difference(stored, built, *place, title)
    now, was = said(f"={stored.text}", at + 1), said(f"={built.text}", at_built + 1)
    return f"the formula is now {now}; built was {was}"


def _held(stored: Cell | None) -> str:
    if stored is not None and stored.formula is not None:
        return said(f"={stored.formula.text}")
    return said(None if stored is None else stored.value)


def _number(value: Any) -> Any:
    """A date as the sheet holds it."""
    return float(value.toordinal() - date(1899, 12, 30).toordinal()) if isinstance(value, date) else value


def _equal(wanted: Any, stored: Any) -> bool:
    if type(wanted) is type(stored) and wanted == stored:  # nearly always
        return True
    wanted = _number(wanted)
    if isinstance(wanted, bool) or isinstance(stored, bool):
        return wanted is stored
    if isinstance(wanted, (int, float)) and isinstance(stored, float):
        return math.isclose(wanted, stored, rel_tol=1e-12, abs_tol=1e-15)
    return wanted == stored or {wanted, stored} == {None, ""}


def _validations(
    ws: Worksheet, found: FilledSheet, name: Callable[[tuple[int, int]], str], moves: Moves
) -> Iterator[Finding]:
    """The checks of inputs are there, with their limits and messages."""
    stored = [(_meant(one, ws.title), one) for one in found.validations]
    messages = [(one.message, corners) for one in found.validations for corners in one.boxes]
    moved = moves.get(ws.title)
    for rule in ws.data_validations.dataValidation:
        boxes = tuple(corners for one in rule.sqref.ranges if (corners := box(one.coord)))
        if moved is not None:
            boxes = tuple(corners for one in boxes if (corners := moved.box(one)))
        for corners in boxes:
            told = next((text for text, other in messages if overlap(corners, other)), "")
            if told != (rule.prompt or ""):
                place = corners[1], corners[0]
                now, was = both_said(told, rule.prompt)
                yield Finding(
                    "message", ws.title, address(place), name(place), f"the message is {now}; built was {was}"
                )
        if rule.type is None:
            continue
        first, second = (moved_text(str(text or ""), ws.title, moves) for text in (rule.formula1, rule.formula2))
        own = Validation(boxes, rule.type, rule.operator or "between", first, second, bool(rule.showErrorMessage))
        meant = _meant(own, ws.title)
        alike = [corners for key, one in stored if key == meant for corners in one.boxes]
        for corners in boxes:
            if sum(shared(corners, other) for other in alike) < area(corners):
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
