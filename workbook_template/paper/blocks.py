"""What every sheet is made of: a heading, input cells, result cells; each value cell with its defined name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from openpyxl import Workbook
from openpyxl.cell.cell import MergedCell
from openpyxl.formatting.rule import Rule
from openpyxl.styles.cell_style import StyleArray
from openpyxl.utils import absolute_coordinate, quote_sheetname
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.cell_range import CellRange
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.designations import Thread
from workbook_template.figures.text import text_in_rows
from workbook_template.figures.tree import Name, Node, Number, Text, walk
from workbook_template.paper import styles
from workbook_template.paper.naming import Named
from workbook_template.paper.openpyxl_inside import cells_in, corners, give_style, style_of
from workbook_template.paper.prompt_titles import prompt_title
from workbook_template.sheets.inputs import Check, Input

Covered = tuple[tuple[int, ...], bool, bool, bool, bool]
"""What the style of a covered cell follows from: that of the cell over it, and which of its four sides it touches."""


@dataclass(frozen=True)
class Book:
    """A workbook while it is built."""

    workbook: Workbook
    unit: str
    threads: list[Thread]  # those that the table must hold beside the standard ones; the first is chosen
    built_on: str
    rows: int  # of the log
    entries: list[Named] = field(default_factory=list)
    lengths: dict[tuple[str, str], list[str]] = field(default_factory=dict)
    """(sheet, dimension) -> the cells whose format follows the unit."""
    known: styles.Known = field(default_factory=dict)
    merged: dict[Covered, StyleArray | None] = field(default_factory=dict)
    """Finished styles of cells that others cover."""
    used: dict[str, str] = field(default_factory=dict)
    """Names that formulas ask for, each with a formula that does."""
    charts: list[tuple[Worksheet, str, Any]] = field(default_factory=list)
    """With their cells; they are drawn last, when every name is there."""
    growing: list[tuple[Worksheet, str]] = field(default_factory=list)
    """Columns of words whose rows set their own height."""

    @property
    def other_unit(self) -> str:
        """The working unit that somebody may choose instead."""
        return "mm" if self.unit == "in" else "in"


def on_sheet(title: str) -> str:
    """A sheet's title as it stands before !, in quotes where it has a blank."""
    return quote_sheetname(title) if " " in title else title


def define(book: Book, names: Iterable[Named]) -> None:
    """Name cells of the workbook; ValueError where a name is taken."""
    for one in names:
        if one.name in book.workbook.defined_names:
            raise ValueError(f"{one.name} names two things")
        target = f"{on_sheet(one.sheet)}!{absolute_coordinate(one.ref)}"
        book.workbook.defined_names[one.name] = DefinedName(one.name, attr_text=target)
        book.entries.append(one)


def write(book: Book, ws: Worksheet, ref: str, value: Any, look: str, dimension: str = "words") -> None:
    """A value with its look, in a cell or across a merged range."""
    left, top, right, bottom = corners(ref)
    form = styles.number_format(dimension, book.unit)
    first = ws.cell(top, left)
    styles.apply(book.known, first, look, form)
    if isinstance(value, (Number, Text)):  # a constant is no formula
        value = value.value
    first.value = formula_text(book, value, top, left) if isinstance(value, Node) else value
    merge(book, ws, top, left, bottom, right)
    if dimension in styles.FORMATS:
        follow_unit(book, ws, ref, dimension)


def merge(book: Book, ws: Worksheet, top: int, left: int, bottom: int, right: int) -> None:
    """Make one cell of a range whose first cell has its look.

    openpyxl works out the borders of every covered cell each time; here they are kept by what they follow from.
    """
    if (top, left) == (bottom, right):
        return
    style = tuple(style_of(ws.cell(top, left)) or ())
    covered: dict[tuple[int, int], Covered] = {
        (row, column): (style, row == top, row == bottom, column == left, column == right)
        for row in range(top, bottom + 1)
        for column in range(left, right + 1)
        if (row, column) != (top, left)
    }
    cells = cells_in(ws)
    if not book.merged.keys() >= set(covered.values()):
        ws.merge_cells(start_row=top, start_column=left, end_row=bottom, end_column=right)
        book.merged.update((kind, style_of(cells[place])) for place, kind in covered.items())
        return
    ws.merged_cells.ranges.add(CellRange(min_col=left, min_row=top, max_col=right, max_row=bottom))
    for place, kind in covered.items():
        cells[place] = MergedCell(ws, *place)
        give_style(cells[place], book.merged[kind])


def formula_text(book: Book, formula: Node, row: int, column: int) -> str:
    """A formula as its cell holds it."""
    return column_texts(book, formula, column, row, row)[0]


def refuse_unknown(book: Book) -> None:
    """Stop the build where a formula asks for a figure that nobody defines."""
    known = set(book.workbook.defined_names)
    for name, formula in book.used.items():
        if name not in known:
            raise ValueError(f"no figure is called {name}; it is asked for in {formula}")


def follow_unit(book: Book, ws: Worksheet, ref: str, dimension: str) -> None:
    """Remember that the number format of these cells follows the working unit."""
    book.lengths.setdefault((ws.title, dimension), []).append(ref)


def ask(ws: Worksheet, ref: str, one: Input) -> None:
    """The message and the check of an input."""
    ws.add_data_validation(validation(one.check, ref, prompt_title(one.name, one.meaning), one.prompt))


def validation(check: Check, ref: str, title: str | None, prompt: str | None) -> DataValidation:
    """A check of cells, with a message where it has a title."""
    return DataValidation(
        type=check.type,
        operator=check.operator,
        formula1=check.formula1,
        formula2=check.formula2,
        allow_blank=not check.from_cells,
        showInputMessage=title is not None,
        showErrorMessage=check.type is not None and bool(check.refusal),
        promptTitle=title,
        prompt=prompt,
        errorTitle="Please check" if check.refusal else None,
        error=check.refusal or None,
        sqref=ref,
    )


def lock(ws: Worksheet) -> None:
    """Protect the sheet without a password: a guard against slips, not against people."""
    ws.protection.sheet = True
    ws.protection.formatColumns = ws.protection.formatRows = False
    ws.protection.autoFilter = ws.protection.sort = False


def switch_formats(book: Book) -> None:
    """Make the number formats of lengths follow the cell named unit."""
    for (sheet, dimension), refs in book.lengths.items():
        rule = Rule(
            type="expression",
            dxf=styles.unit_rule(styles.FORMATS[dimension][book.other_unit]),
            formula=[f'unit="{book.other_unit}"'],
        )
        book.workbook[sheet].conditional_formatting.add(" ".join(refs), rule)


def column_texts(book: Book, formula: Node, column: int, top: int, bottom: int) -> list[str]:
    """The formula of a column as its cells from `top` to `bottom` hold it.

    Its names are remembered, so that the build can refuse one that is not there.
    """
    in_row = text_in_rows(formula, column)
    texts = [f"={in_row(row)}" for row in range(top, bottom + 1)]
    for part in walk(formula):
        if isinstance(part, Name):
            book.used.setdefault(part.name, texts[0])
    return texts
