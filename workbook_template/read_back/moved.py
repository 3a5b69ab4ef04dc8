"""Rows or columns that were deleted from a sheet, or inserted: one finding, not one for each cell that moved.

What was built is moved in the same way before it is compared, as a spreadsheet program moves it: cells, the references
of all formulas, names, checks of inputs. So all other findings have the sheet's own row numbers. What moved is found by
`find_moved`.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import NamedTuple

from openpyxl.utils import get_column_letter

from workbook_template.figures.parse import column_number
from workbook_template.read_back.built import (
    At,
    MadeCell,
    MadePage,
    MadeSheet,
    PrintedPage,
    Template,
    inputs_of,
)
from workbook_template.read_back.contents import Formula
from workbook_template.read_back.findings import Finding
from workbook_template.rules.parts import Box, box

ACROSS, DOWN = 0, 1
"""Which corners of a box count columns, and which rows."""

REFERENCE = re.compile(
    r"(?<![A-Za-z0-9_.\\$#'])((?:'(?:[^']|'')+'|[A-Za-z_][A-Za-z0-9_.]*)!)?"
    r"(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})(?::(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7}))?(?![A-Za-z0-9_.(!])"
)
GONE = "#REF!"


class Moved(NamedTuple):
    """Rows (or columns) of a sheet that were inserted before `at`, or deleted from `at` on: then `by` is negative.

    `last` is the last place that `at` may as well be: in a table all rows are alike.
    """

    sheet: str
    axis: int
    at: int
    by: int
    last: int

    @property
    def rows(self) -> bool:
        """Whether rows moved, not columns."""
        return self.axis == DOWN

    def where(self, number: int) -> int | None:
        """Where a row (or column) of the built sheet is now; None for a deleted one."""
        if number < self.at:
            return number
        return None if number < self.at - self.by else number + self.by

    def back(self, number: int) -> int | None:
        """Which one of the built sheet it was; None for an inserted one."""
        if number < self.at:
            return number
        return None if number < self.at + self.by else number - self.by

    def place(self, at: At) -> At | None:
        """Where a cell of the built sheet is now."""
        row, column = at
        found = self.where(row if self.rows else column)
        if found is None:
            return None
        return (found, column) if self.rows else (row, found)

    def place_back(self, at: At) -> At | None:
        """Which cell of the built sheet it was."""
        row, column = at
        found = self.back(row if self.rows else column)
        if found is None:
            return None
        return (found, column) if self.rows else (row, found)

    def row(self, row: int) -> int | None:
        """Where a row of the built sheet is now."""
        return self.where(row) if self.rows else row

    def row_back(self, row: int) -> int | None:
        """Which row of the built sheet it was."""
        return self.back(row) if self.rows else row

    def box(self, one: Box) -> Box | None:
        """Where a range is now; None where all of it was deleted."""
        low, high = one[self.axis], one[self.axis + 2]
        first, last = self.where(low), self.where(high)
        first = self.at if first is None else first  # what came after the deleted ones
        last = self.at - 1 if last is None else last
        if last < first:
            return None
        corners = list(one)
        corners[self.axis], corners[self.axis + 2] = first, last
        return corners[0], corners[1], corners[2], corners[3]

    def reference(self, text: str) -> str:
        """A range of the sheet as it is called now."""
        if self.rows and text.replace(":", "").isdecimal():  # whole rows
            return ":".join(str(self.where(int(one)) or one) for one in text.split(":"))
        corners = box(text)
        found = None if corners is None else self.box(corners)
        if corners is None or found is None:
            return text
        first, last = (f"{get_column_letter(found[at])}{found[at + 1]}" for at in (0, 2))
        return first if ":" not in text else f"{first}:{last}"

    def reference_of(self, text: str) -> str:
        """The same of a range with its sheet before it; others are left as they are."""
        sheet, _, ref = text.rpartition("!")
        return f"{sheet}!{self.reference(ref)}" if sheet.strip("'") == self.sheet else text

    def text(self, formula: str, own: str) -> str:
        """A formula that stands on the sheet `own`, with its references into this sheet moved."""
        pieces = formula.split('"')
        for at in range(0, len(pieces), 2):  # what stands between quotation marks is text
            pieces[at] = REFERENCE.sub(lambda found: self._reference(found, own), pieces[at])
        return '"'.join(pieces)

    def _reference(self, found: re.Match[str], own: str) -> str:
        sheet = (found[1] or f"{own}!")[:-1].strip("'")
        if sheet.lower() != self.sheet.lower():
            return found[0]
        left, top = column_number(found[3]), int(found[5])
        right, bottom = (column_number(found[7]), int(found[9])) if found[7] else (left, top)
        moved = self.box((left, top, right, bottom))
        if moved is None:
            return GONE
        text = f"{found[1] or ''}{found[2]}{get_column_letter(moved[0])}{found[4]}{moved[1]}"
        return f"{text}:{found[6]}{get_column_letter(moved[2])}{found[8]}{moved[3]}" if found[7] else text

    def finding(self) -> Finding:
        """What is said of it."""
        number, size = (str, abs(self.by))
        what = "row" if self.rows else "column"
        shown = number if self.rows else get_column_letter
        first, last = shown(self.at), shown(self.last)
        between = f"at {first}" if first == last else f"somewhere from {first} to {last}"
        some = f"a {what} was" if size == 1 else f"{size} {what}s were"
        kind, verb = ("removed", "deleted") if self.by < 0 else ("added", "inserted")
        cell = f"A{self.at}" if self.rows else f"{first}1"
        return Finding(kind, self.sheet, cell, "", f"{some} {verb} {between}; what comes after has moved")


Moves = Mapping[str, Moved]
"""By the sheet's title."""


def moved_text(text: str, own: str, moves: Moves) -> str:
    """A formula with all of its references moved."""
    for one in moves.values():
        text = one.text(text, own)
    return text


def template_now(made: Template, moves: Moves) -> Template:
    """What was built, with everything where it is now and with the references that it has now."""
    if not moves:
        return made
    entries = []
    for entry in made.entries:
        moved = moves.get(entry.sheet)
        corners = entry.box if moved is None else moved.box(entry.box)
        if corners is not None:
            entries.append(entry._replace(box=corners))
    names = {name: moved_text(text, "", moves) for name, text in made.names.items()}
    sheets = {title: _sheet_now(sheet, moves) for title, sheet in made.sheets.items()}
    return replace(made, entries=tuple(entries), names=names, sheets=sheets)


def _sheet_now(made: MadeSheet, moves: Moves) -> MadeSheet:
    title, moved = made.title, moves.get(made.title)
    cells = dict(_cells_now(made, moves))
    validations = [
        one._replace(
            boxes=_boxes_now(one.boxes, moved),
            formula1=moved_text(one.formula1, title, moves),
            formula2=moved_text(one.formula2, title, moves),
        )
        for one in made.validations
    ]
    return made._replace(
        cells=cells,
        inputs=inputs_of(cells),
        named=tuple((corners, name) for one, name in made.named for corners in _boxes_now((one,), moved)),
        validations=tuple(validations),
        page=_page_now(made.page, title, moves),
    )


def _boxes_now(boxes: Iterable[Box], moved: Moved | None) -> tuple[Box, ...]:
    return tuple(boxes) if moved is None else tuple(now for one in boxes if (now := moved.box(one)))


def _cells_now(made: MadeSheet, moves: Moves) -> Iterator[tuple[At, MadeCell]]:
    moved = moves.get(made.title)
    for place, cell in made.cells.items():
        now = place if moved is None else moved.place(place)
        if now is not None:
            formula = cell.formula
            if formula is not None:
                formula = Formula(moved_text(formula.text, made.title, moves), *now)
            yield now, cell._replace(formula=formula)


def _page_now(page: MadePage, title: str, moves: Moves) -> MadePage:
    moved = moves.get(title)
    rules = []
    for rule in page.rules:
        formulas = tuple(moved_text(one, title, moves) for one in rule.formulas)
        rules.append(rule._replace(boxes=_boxes_now(rule.boxes, moved), formulas=formulas))
    charts = [Counter({_reference_now(ref, moves): count for ref, count in one.items()}) for one in page.charts]
    page = page._replace(rules=tuple(rules), charts=tuple(charts))
    if moved is None:
        return page
    width, pages = _printed_now(page, moved)
    return page._replace(
        flat_rows=frozenset(now for row in page.flat_rows if (now := moved.row(row))),
        narrow_columns=frozenset(place[1] for one in page.narrow_columns if (place := moved.place((0, one)))),
        merged=frozenset(now for now in _boxes_now(page.merged, moved) if now[:2] != now[2:]),
        areas=frozenset(map(moved.reference, page.areas)),
        titles=frozenset(map(moved.reference, page.titles)),
        width=width,
        pages=pages,
    )


def _reference_now(ref: str, moves: Moves) -> str:
    for one in moves.values():
        ref = one.reference_of(ref)
    return ref


def _printed_now(page: MadePage, moved: Moved) -> tuple[int, tuple[PrintedPage, ...]]:
    """The last column that is printed, and the pages."""
    found = []
    for one in page.pages:
        full = moved.box((1, one.top, page.width, one.most))
        part = None if one.least < one.top else moved.box((1, one.top, page.width, one.least))
        if full is not None:
            least = full[1] - 1 if part is None else part[3]
            found.append((full[2], PrintedPage(full[1], least, full[3], one.alone)))
    return max((last for last, _ in found), default=page.width), tuple(printed for _, printed in found)
