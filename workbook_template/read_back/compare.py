"""Every cell of a filled workbook against the template: what was typed over, changed, unlocked, removed or added."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from workbook_template.figures.parse import parse
from workbook_template.paper.naming import WORKING
from workbook_template.read_back import printed
from workbook_template.read_back.built import At, MadeCell, MadeSheet, Template
from workbook_template.read_back.contents import Cell, Filled, FilledSheet, Formula, Place, Validation
from workbook_template.read_back.find_moved import torn_alike
from workbook_template.read_back.findings import Finding, address, both_said, said, span
from workbook_template.read_back.formulas import alike, first_difference, is_yes_no, normal
from workbook_template.read_back.looks import Difference, area, compare_page, differences, grouped, shared
from workbook_template.read_back.moved import Moved, Moves
from workbook_template.read_back.styles import Shown, Style, shows
from workbook_template.rules.parts import overlap

FREE = ("built_on", "sheetfuncs_version", "log_printed", "quote_printed", "certificate_printed")
"""Constants that differ from one build to the next; another version is told apart."""

PLAIN = Style(Shown(), True, False)
"""The look of a cell whose number of a look is not in the file."""

OF_NUMBERS, HIDDEN = ("number format", "decimals"), ("hidden", "veryHidden")
"""Kinds of differences of a number format, and states of a sheet of which nobody sees any."""

ONE_LIMIT = ("list", "custom")
TWO_LIMITS = ("between", "notBetween")


def compare(book: Filled, made: Template, sheets: dict[str, FilledSheet], moves: Moves) -> Iterator[Finding]:
    """All differences between a file and its template, of which some rows or columns may have moved."""
    yield from _version(book, made, sheets)
    yield from _names(book, made)
    yield from (one.finding() for one in moves.values())
    for title in sheets:
        if title not in made.sheets:
            yield Finding("added", title, "", "", "this sheet was not built; nothing of it was judged")
    for title in made.sheets:
        if title not in sheets:
            yield Finding("removed", title, "", "", "the sheet is gone")
            continue
        yield from compare_sheet(made, title, book, sheets[title], moves.get(title))
    for target in book.package.outside:
        yield Finding("outside", "", "", "", f"a link leads to {said(target)}; it was not followed")


def _version(book: Filled, made: Template, sheets: dict[str, FilledSheet]) -> Iterator[Finding]:
    for entry in made.entries:
        if entry.name != "sheetfuncs_version":
            continue
        place = book.names.get(entry.name)
        own = made.sheets[entry.sheet].cells[entry.box[1], entry.box[0]].value
        cell = sheets[place.sheet].cells.get((place.box[1], place.box[0])) if place and place.sheet in sheets else None
        if cell is not None and cell.value != own:
            words = f"built by version {said(cell.value)}, compared with version {said(own)}"
            words += "; what differs may be due to that"
            yield Finding("other version", entry.sheet, span(entry.box), entry.name, words)


def _names(book: Filled, made: Template) -> Iterator[Finding]:
    for entry in made.entries:
        name = entry.name.lower()
        place = book.names.get(name)
        if place == Place(entry.sheet, entry.box):
            continue
        words = "the name is gone"
        if place is not None:
            words = f"the name stands for {place.sheet}!{span(place.box)} and no longer for this"
        elif name in book.other_names:
            words = f"the name stands for {said(book.other_names[name])} and no longer for this"
        yield Finding("name", entry.sheet, span(entry.box), entry.name, words)
    own = {name.lower() for name in made.names}
    for name in sorted({name for _, name in book.local_names} & own):
        yield Finding("name", "", "", name, "a sheet has this name for itself too, so formulas may use another cell")
    for name in sorted({*book.names, *book.other_names} - own):
        if not name.startswith("_"):
            yield Finding("added name", "", "", name, "this name was not built; no formula of the workbook uses it")


def compare_sheet(
    made: Template, title: str, book: Filled, found: FilledSheet, moved: Moved | None
) -> Iterator[Finding]:
    """All differences of one sheet."""
    sheet = made.sheets[title]
    if sheet.page.protected and not found.protected:
        yield Finding("unprotected", title, "", "", "the protection of the sheet is off, so any cell can be typed over")
    elif free := sorted(found.page.allowed - sheet.page.allowed):
        yield Finding("left free", title, "", "", f"the protection of the sheet now leaves free: {', '.join(free)}")
    yield from _cells(made, sheet, book, found)
    yield from _added(sheet, book, found, moved)
    yield from _validations(sheet, found)
    yield from compare_page(sheet, book, found)
    yield from printed.differences(sheet, book, found)


def _cells(made: Template, sheet: MadeSheet, book: Filled, found: FilledSheet) -> Iterator[Finding]:
    """The cells that were built: what they hold, and how they look."""
    title, cells, looks = sheet.title, found.cells, book.styles.cells
    unseen = title == WORKING and book.states.get(found.name) in HIDDEN
    known: dict[tuple[int, int], tuple[Difference, ...]] = {}
    wrong: dict[Difference, list[At]] = {}
    for place, cell in sheet.cells.items():
        stored = cells.get(place)
        if stored is None:
            if cell.formula is not None or not (cell.is_input or cell.value in (None, "")):
                yield from _differs(sheet, place, cell, stored)
            continue
        wanted, now = cell.value, stored.value
        constant = cell.formula is None and stored.formula is None and now == wanted and type(now) is type(wanted)
        if not constant and not _same(cell, stored, place, title):  # a constant as built is what nearly all are
            yield from _differs(sheet, place, cell, stored)
        if cell.covered:
            continue
        pair = cell.style, stored.style
        differs = known.get(pair)
        if differs is None:
            differs = known[pair] = differences(made.styles[cell.style], _look(looks, stored), made.forms)
        if differs and (cell.formula or now not in (None, "")):
            for one in differs:
                if one.kind not in OF_NUMBERS or not (unseen or _shows(cell, _look(looks, stored), now)):
                    wrong.setdefault(one, []).append(place)
    yield from grouped(title, wrong, sheet.name_at)


def _look(looks: list[Style], stored: Cell) -> Style:
    return looks[stored.style] if 0 <= stored.style < len(looks) else PLAIN


def _shows(cell: MadeCell, look: Style, value: Any) -> bool:
    """Whether the number format of a cell is one that a program gives it, and shows its value as any other would."""
    return shows(look.shown.form, value, cell.formula is not None and is_yes_no(parse(cell.formula.text)))


def _added(sheet: MadeSheet, book: Filled, found: FilledSheet, moved: Moved | None) -> Iterator[Finding]:
    """Cells where nothing was built, and locks that are off; what stands in inserted rows or columns is left alone."""
    title, built, inputs, open_looks = sheet.title, sheet.cells, sheet.inputs, book.styles.unlocked()
    for place, stored in found.cells.items():
        is_open = stored.style in open_looks and place not in inputs
        if not is_open and place in built:
            continue
        if moved is not None and moved.place_back(place) is None:
            continue
        if place not in built and (stored.formula or stored.value not in (None, "")):
            yield Finding("added", title, address(place), "", f"this cell was empty; {_held(stored)} stands in it")
        if is_open:
            words = "this cell is no input, and its lock is off"
            yield Finding("unlocked", title, address(place), sheet.name_at(place), words)
    for where, style in found.bands:
        if style in open_looks:
            yield Finding("unlocked", title, "", "", f"the lock of {where} is off")


def _same(cell: MadeCell, stored: Cell, place: At, title: str) -> bool:
    """Whether a cell is as built. The text of most formulas is not even rewritten, so that is looked at first."""
    built, now = cell.formula, stored.formula
    if built is None:
        return now is None and (cell.is_input or _equal(cell.value, stored.value))
    if now is None or now.array != built.array:
        return False
    if now.text == built.text and (now.row, now.column) == place:
        return True
    return torn_alike(built.text, now.text) or alike(built, now, *place, title)


def _differs(sheet: MadeSheet, place: At, cell: MadeCell, stored: Cell | None) -> Iterator[Finding]:
    """What is wrong with a cell that is not as built."""
    title, own, held = sheet.title, sheet.name_at(place), _held(stored)
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
        kind, words = "changed value", f"{held} stands here; built was {said(cell.value)}"
    yield Finding(kind, title, address(place), own, words)


def _changed(stored: Formula, built: Formula, place: At, title: str) -> str:
    """Both formulas around what differs, whatever else is only spelled otherwise."""
    at, at_built = first_difference(stored, built, *place, title)
    now, was = said(f"={stored.text}", at + 1), said(f"={built.text}", at_built + 1)
    return f"the formula is now {now}; built was {was}"


def _held(stored: Cell | None) -> str:
    if stored is not None and stored.formula is not None:
        return said(f"={stored.formula.text}")
    return said(None if stored is None else stored.value)


def _equal(wanted: Any, stored: Any) -> bool:
    if isinstance(wanted, bool) or isinstance(stored, bool):
        return wanted is stored
    if isinstance(wanted, float) and isinstance(stored, float):
        return math.isclose(wanted, stored, rel_tol=1e-12, abs_tol=1e-15)
    return wanted == stored or {wanted, stored} == {None, ""}


def _validations(made: MadeSheet, found: FilledSheet) -> Iterator[Finding]:
    """The checks of inputs are there, with their limits and messages."""
    title = made.title
    stored = [(_meant(one, title), one) for one in found.validations]
    messages = [(one.message, corners) for one in found.validations for corners in one.boxes]
    for rule in made.validations:
        for corners in rule.boxes:
            told = next((text for text, other in messages if overlap(corners, other)), "")
            if told != rule.message:
                place = corners[1], corners[0]
                now, was = both_said(told, rule.message)
                words = f"the message is {now}; built was {was}"
                yield Finding("message", title, address(place), made.name_at(place), words)
        if rule.type == "none":
            continue
        meant = _meant(rule, title)
        same = [corners for key, one in stored if key == meant for corners in one.boxes]
        for corners in rule.boxes:
            if sum(shared(corners, other) for other in same) < area(corners):
                place = corners[1], corners[0]
                words = "the check of what may be typed here is gone or changed"
                yield Finding("check of input", title, address(place), made.name_at(place), words)


def _meant(rule: Validation, sheet: str) -> tuple[Any, ...]:
    """What of a check counts: programs fill in a second limit where none is used."""
    left, top, *_ = rule.boxes[0] if rule.boxes else (1, 1, 1, 1)
    two = rule.type not in ONE_LIMIT and rule.operator in TWO_LIMITS
    texts = (rule.formula1, rule.formula2) if two else (rule.formula1,)
    formulas = tuple(normal(Formula(text.removeprefix("="), top, left), top, left, sheet) for text in texts)
    operator = "" if rule.type in ONE_LIMIT else rule.operator
    return rule.type, operator, formulas, rule.refuses
