"""A built workbook as plain records: what a filled one is compared with."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import NamedTuple

from workbook_template.figures.book import Value
from workbook_template.read_back.contents import Formula, Validation
from workbook_template.read_back.page import Rule
from workbook_template.read_back.styles import Form, Style, pieces
from workbook_template.rules.parts import Box

At = tuple[int, int]
"""Row and column."""


class MadeCell(NamedTuple):
    """One cell; a number, also a day, is a float, as a file has it."""

    value: Value
    formula: Formula | None
    is_input: bool
    covered: bool  # lies under a merged one
    style: int = 0


class Alike:
    """Cells that are alike as one record: two thirds of a workbook are like another. 1.0 equals TRUE, and is not alike.

    >>> alike, cells = Alike(), [MadeCell(value, None, False, False) for value in (1.0, 1.0, True)]
    >>> [alike.one(one) is alike.one(cells[0]) for one in cells]
    [True, True, False]
    """

    def __init__(self) -> None:
        self._known: dict[tuple[type, MadeCell], MadeCell] = {}

    def one(self, cell: MadeCell) -> MadeCell:
        """The one record of all that are alike."""
        return self._known.setdefault((type(cell.value), cell), cell)


class PrintedPage(NamedTuple):
    """The first row of a page, and the last one that an empty workbook prints and that a full one does.

    A page that is not printed at all ends before it begins. `alone` is one of which another may be printed instead.
    """

    top: int
    least: int
    most: int
    alone: bool = False

    def may_end(self, row: int) -> bool:
        """Whether a build prints the page to that row: of one that only a full workbook prints, all or nothing."""
        return row in (self.least, self.most) or self.top <= self.least < row < self.most or self.left_out(row)

    def left_out(self, row: int) -> bool:
        """Whether it is not printed, as another is instead."""
        return self.alone and row < self.top


class MadePage(NamedTuple):
    """How a sheet is laid out, protected and printed."""

    is_hidden: bool
    protected: bool
    allowed: frozenset[str]  # what may be done although it is protected
    flat_rows: frozenset[int]
    narrow_columns: frozenset[int]
    merged: frozenset[Box]
    rules: tuple[Rule, ...]
    charts: tuple[Counter[str], ...]
    pictures: int
    areas: frozenset[str]  # what is printed
    titles: frozenset[str]  # what is repeated on each page
    margins: Mapping[str, str]
    width: int  # the last column that is printed
    pages: tuple[PrintedPage, ...]


class MadeSheet(NamedTuple):
    """One sheet."""

    title: str
    cells: Mapping[At, MadeCell]
    inputs: frozenset[At]
    named: tuple[tuple[Box, str], ...]  # single cells first
    validations: tuple[Validation, ...]
    page: MadePage

    def name_at(self, place: At) -> str:
        """The name of a cell, or nothing."""
        row, column = place
        return next((text for (a, b, c, d), text in self.named if a <= column <= c and b <= row <= d), "")


class Entry(NamedTuple):
    """One defined name: its sheet and cells."""

    name: str
    sheet: str
    box: Box


@dataclass(frozen=True, eq=False)
class Template:
    """A built workbook that nobody has filled in; what is worked out from it is kept by its identity."""

    entries: tuple[Entry, ...]
    names: Mapping[str, str]  # what each defined name stands for
    sheets: Mapping[str, MadeSheet]
    styles: Mapping[int, Style]  # the looks of cells by number
    forms: frozenset[Form]  # the number formats of cells


def inputs_of(cells: Mapping[At, MadeCell]) -> frozenset[At]:
    """The cells that may be typed over."""
    return frozenset(place for place, cell in cells.items() if cell.is_input)


def sheet_of(
    title: str,
    cells: Mapping[At, MadeCell],
    validations: Iterable[Validation],
    page: MadePage,
    entries: Iterable[Entry],
) -> MadeSheet:
    """A sheet, with what follows from its cells and the names of the workbook."""
    named = [(one.box, one.name) for one in entries if one.sheet == title]
    named.sort(key=lambda one: one[0][:2] != one[0][2:])
    return MadeSheet(title, cells, inputs_of(cells), tuple(named), tuple(validations), page)


def forms_of(styles: Mapping[int, Style]) -> frozenset[Form]:
    """The number formats of looks."""
    return frozenset(pieces(one.shown.form) for one in styles.values())
