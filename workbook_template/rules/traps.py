"""Formulas whose value programs read differently: those that end on a blank, or mix text with numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress

from lxml import etree

from workbook_template.figures import book as figures
from workbook_template.figures.facts import BLANK, NUMBER, TEXT, TYPED, Kinds
from workbook_template.figures.parse import Columns, Unreadable, parse
from workbook_template.figures.text import letters, text
from workbook_template.figures.traps import Finding, Traps
from workbook_template.figures.tree import Area, Cell, Node, YesNo
from workbook_template.rules.parts import MAIN, Fault, Parts, SheetPart, box, cell_place, text_of

_VALIDATED = {"list": TEXT, "decimal": NUMBER, "whole": NUMBER, "date": NUMBER, "time": NUMBER, "textLength": TEXT}

_NUMBER = re.compile(r"(?<![\w$.])\d+\.?\d*")
DEEPEST = 3
"""Formulas behind one another that a condition is followed through."""
MIDDLE = 10_000
"""A row and column from which all relative places are on the sheet."""

Shape = tuple[str, str]
"""A sheet and a formula on it, its places relative and its numbers left out."""


def trap_faults(book: Parts, clean: set[Shape]) -> Iterator[Fault]:
    """A sentence for each trap, the first cell of those that have the same formula.

    `clean` gets the formulas that have none, and those that are in it are passed over: the same program has written
    several files, which differ in what was typed alone.
    """
    cells, inputs = read(book)
    parts = {sheet.name: sheet.part for sheet in book.sheets}
    first = {shape: place for shape, place in first_cells(cells) if shape not in clean}
    found = [Finding(shape[0], place, "", YesNo(True)) for shape, place in first.items()]
    for depth in range(1, DEEPEST + 1):  # looking deeper costs more, and only takes false alarms away
        judge = Traps(cells, inputs, depth)
        found = list(judge.findings(dict.fromkeys(one[:2] for one in found)))
    trapped = {one[:2] for one in found}
    clean |= {shape for shape, place in first.items() if (shape[0], place) not in trapped}
    for finding in found:
        place = f"{letters(finding.place[1])}{finding.place[0]}"
        about = text(finding.about).replace("$", "").replace(f"{finding.sheet}!", "")
        name = figure_at(cells.names, finding.sheet, finding.place)
        named = f" of {name}" if name else ""
        yield Fault(parts[finding.sheet], place, f"the formula{named} {finding.trap}: {about[:60]}")


def figure_at(names: Mapping[str, Node], sheet: str, place: figures.Place) -> str:
    """The defined name that a cell is, or is one of; "" where it has none.

    >>> figure_at({"wire": parse("Job!$B$3"), "sizes": parse("Job!$C$3:$C$9")}, "Job", (4, 3))
    'sizes'
    """
    for name, where in names.items():
        if isinstance(where, Cell):
            where = Area(where, where)
        if isinstance(where, Area) and where.start.sheet == sheet:
            start, end = where.start, where.end
            if start.row <= place[0] <= end.row and start.column <= place[1] <= end.column:
                return name
    return ""


def first_cells(book: figures.Book) -> Iterator[tuple[Shape, figures.Place]]:
    """Each formula of each sheet with its first cell; formulas that differ in their numbers alone count as one."""
    for name, sheet in book.sheets.items():
        seen: set[int | str] = set()
        for place, tree in sheet.formulas.items():
            if id(tree) not in seen:
                seen.add(id(tree))
                shape = _NUMBER.sub("0", text(tree, MIDDLE, MIDDLE))
                if shape not in seen:
                    seen.add(shape)
                    yield (name, shape), place


def read(book: Parts) -> tuple[figures.Book, dict[tuple[str, int, int], Kinds]]:
    """The cells of a file, and what may stand in its inputs: the cells that are not locked."""
    formats = [] if book.styles is None else book.styles.findall(f"{MAIN}cellXfs/{MAIN}xf")
    locks = [one.find(f"{MAIN}protection") for one in formats]
    unlocked = {str(at) for at, lock in enumerate(locks) if lock is not None and lock.get("locked") in ("0", "false")}
    sheets, inputs = {}, {}
    for sheet in book.sheets:
        sheets[sheet.name], typed = _sheet(sheet, book.texts, unlocked)
        for (row, column), kinds in typed.items():
            inputs[sheet.name, row, column] = kinds
    names: dict[str, Node] = {}
    for element in book.root.iterfind(f"{MAIN}definedNames/{MAIN}definedName"):
        if element.get("localSheetId") is None:
            try:
                names[element.get("name", "").lower()] = parse(element.text or "")
            except Unreadable:
                continue
    return figures.Book(sheets, names), inputs


def _sheet(
    sheet: SheetPart, texts: tuple[str, ...], unlocked: set[str]
) -> tuple[figures.Cells, dict[figures.Place, Kinds]]:
    values: dict[figures.Place, figures.Value] = {}
    formulas: dict[figures.Place, Node] = {}
    inputs: dict[figures.Place, Kinds] = {}
    columns = Columns()
    for cell in sheet.root.iterfind(f"{MAIN}sheetData/{MAIN}row/{MAIN}c"):
        column, row = cell_place(cell.get("r", "")) or (0, 0)
        formula = cell.findtext(f"{MAIN}f")
        if formula:
            with suppress(Unreadable):
                formulas[row, column] = columns(formula, row, column)
        elif cell.get("s") in unlocked:
            inputs[row, column] = TYPED
        else:
            values[row, column] = _value(cell, texts)
    for rule in sheet.root.iterfind(f"{MAIN}dataValidations/{MAIN}dataValidation"):
        kinds = _VALIDATED.get(rule.get("type", ""), TYPED) | BLANK
        for ref in rule.get("sqref", "").split():
            left, top, right, bottom = box(ref) or (1, 1, 0, 0)
            for row in range(top, bottom + 1):
                for column in range(left, right + 1):
                    if (row, column) in inputs:
                        inputs[row, column] = kinds
    return figures.Cells(values, formulas), inputs


def _value(cell: etree._Element, texts: tuple[str, ...]) -> figures.Value:
    kind, stored = cell.get("t", "n"), cell.findtext(f"{MAIN}v") or ""
    if kind == "inlineStr":
        inline = cell.find(f"{MAIN}is")
        return (text_of(inline) if inline is not None else "") or None
    if kind == "s":
        return texts[int(stored)] if stored.isdigit() and int(stored) < len(texts) else None
    if kind == "e":
        return figures.Problem(stored)
    if kind == "str":
        return stored
    return (stored == "1" if kind == "b" else float(stored)) if stored else None
