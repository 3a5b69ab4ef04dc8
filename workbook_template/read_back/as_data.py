"""A template as plain data, as JSON has them, and back."""

from __future__ import annotations

from collections import Counter
from typing import Any

from workbook_template.read_back.built import (
    Entry,
    MadeCell,
    MadePage,
    PrintedPage,
    Template,
    forms_of,
    sheet_of,
)
from workbook_template.read_back.contents import Formula, Validation
from workbook_template.read_back.page import Rule
from workbook_template.read_back.styles import Shown, Style


def data_of(made: Template) -> dict[str, Any]:
    """The template as lists, texts and numbers; what follows from the rest is left out.

    Cells that are one record are told once; a sheet has row, column and number of each of its own.
    """
    numbers: dict[int, int] = {}
    cells: list[tuple[Any, ...]] = []
    sheets = {}
    for title, sheet in made.sheets.items():
        own: list[int] = []
        for place, one in sheet.cells.items():
            number = numbers.setdefault(id(one), len(cells))
            if number == len(cells):
                cells.append((one.value, one.formula and one.formula.text, one.is_input, one.covered, one.style))
            own += *place, number
        page = [sorted(one) if isinstance(one, frozenset) else one for one in sheet.page]
        sheets[title] = own, sheet.validations, page
    styles = list(made.styles.items())
    return {"entries": made.entries, "names": made.names, "styles": styles, "cells": cells, "sheets": sheets}


def template_from(data: dict[str, Any]) -> Template:
    """The template that was made data of; ValueError, TypeError or LookupError where they are of no template."""
    entries = tuple(Entry(*_tuples(one)) for one in data["entries"])
    styles = {number: Style(Shown(*shown), *locks) for number, (shown, *locks) in data["styles"]}
    records = [(MadeCell(value, None, *more), text) for value, text, *more in data["cells"]]
    sheets, rows = {}, dict[int, int]()  # each number of a row is one object
    for title, (own, validations, page) in data["sheets"].items():
        cells = {}
        for row, column, number in zip(*[iter(own)] * 3):
            place = rows.setdefault(row, row), column
            cell, text = records[number]
            cells[place] = cell if text is None else cell._replace(formula=Formula(text, *place))
        checks = [Validation(*_tuples(one)) for one in validations]
        sheets[title] = sheet_of(title, cells, checks, _page(*page), entries)
    return Template(entries, data["names"], sheets, styles, forms_of(styles))


def _page(
    is_hidden: bool,
    protected: bool,
    allowed: list[str],
    flat_rows: list[int],
    narrow_columns: list[int],
    merged: list[list[int]],
    rules: list[Any],
    charts: list[dict[str, int]],
    pictures: int,
    areas: list[str],
    titles: list[str],
    margins: dict[str, str],
    width: int,
    pages: list[Any],
) -> MadePage:
    return MadePage(
        is_hidden,
        protected,
        frozenset(allowed),
        frozenset(flat_rows),
        frozenset(narrow_columns),
        frozenset(_tuples(merged)),
        tuple(_rule(*one) for one in rules),
        tuple(map(Counter, charts)),
        pictures,
        frozenset(areas),
        frozenset(titles),
        margins,
        width,
        tuple(PrintedPage(top, least, most, alone) for top, least, most, alone in pages),
    )


def _rule(boxes: list[list[int]], kind: str, operator: str, formulas: list[str], shown: list[Any]) -> Rule:
    return Rule(_tuples(boxes), kind, operator, tuple(formulas), Shown(*shown))


def _tuples(found: Any) -> Any:
    return tuple(map(_tuples, found)) if isinstance(found, list) else found
