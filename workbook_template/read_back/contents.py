"""What stands in a workbook: cells with their stored values and formulas, names, locks, validations.

Cells are found by defined name. Sizes that the file claims are not believed: only cells that are there take room.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Collection, Iterator
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import Any, NamedTuple

from lxml import etree

from workbook_template.figures.functions import DAY_0
from workbook_template.figures.garbage import no_collection
from workbook_template.figures.parse import LAST_COLUMN, LAST_ROW, Column, column_number
from workbook_template.figures.text import letters
from workbook_template.read_back import page
from workbook_template.read_back.opening import PARSING, Package, Unreadable, open_package
from workbook_template.read_back.page import Page, is_true
from workbook_template.read_back.styles import Styles
from workbook_template.rules.parts import MAIN, RELATION, Box, box, text_of

MOST_CELLS = 1_500_000
"""Cells of one sheet."""

_NAME = re.compile(r"(?:'((?:[^']|'')+)'|([^'!]+))!(\$?[A-Za-z]{1,3}\$?\d+(?::\$?[A-Za-z]{1,3}\$?\d+)?)")
PLACES = etree.XPath("m:c/@r", namespaces={"m": MAIN[1:-1]}, smart_strings=False)
ROW, V, F, IS, T = f"{MAIN}row", f"{MAIN}v", f"{MAIN}f", f"{MAIN}is", f"{MAIN}t"


class Error(NamedTuple):
    """An error value, as in #N/A."""

    text: str


Value = Any
"""A float, a bool, a text, an Error, or None for nothing."""


class Formula(NamedTuple):
    """A formula as stored, with the cell it was written for: a shared one is stored once for many."""

    text: str
    row: int
    column: int
    array: str = ""


class Cell(NamedTuple):
    """One cell of a sheet."""

    value: Value
    formula: Formula | None
    style: int


class Validation(NamedTuple):
    """What an input accepts."""

    boxes: tuple[Box, ...]
    type: str
    operator: str
    formula1: str
    formula2: str
    refuses: bool
    message: str = ""


class FilledSheet(NamedTuple):
    """One sheet of a filled workbook; cells by row and column."""

    name: str
    cells: dict[tuple[int, int], Cell]
    protected: bool
    validations: list[Validation]
    bands: list[tuple[str, int]]  # a column or row with a look of its own, and that look
    page: Page


class Place(NamedTuple):
    """Where a defined name stands: sheet and corners."""

    sheet: str
    box: Box

    def cell(self, down: int = 0) -> str:
        """Its first cell as people write it, or the one so many rows below.

        >>> Place("Log", (3, 12, 3, 40)).cell(2)
        'C14'
        """
        return f"{letters(self.box[0])}{self.box[1] + down}"


class Filled:
    """A filled workbook that was opened; made by `open_book`."""

    def __init__(self, package: Package) -> None:
        self.package = package
        relations = package.relations("")
        part = next((target for kind, target in relations.values() if kind == "officeDocument"), "")
        root = package.tree(part)
        if root.tag != f"{MAIN}workbook":
            raise Unreadable(f"{package.path} is no workbook: its main part is something else")
        related = package.relations(part)
        self._strings_part = next((t for kind, t in related.values() if kind == "sharedStrings"), "")
        self._styles_part = next((t for kind, t in related.values() if kind == "styles"), "")
        self.sheets: dict[str, str] = {}
        self.states: dict[str, str] = {}  # visible, hidden or veryHidden, of each sheet in its order
        for element in root.iterfind(f"{MAIN}sheets/{MAIN}sheet"):
            kind, target = related.get(element.get(f"{RELATION}id", ""), ("", ""))
            self.states[element.get("name", "")] = element.get("state", "visible")
            if kind == "worksheet":
                self.sheets[element.get("name", "")] = target
        if not self.sheets:
            raise Unreadable(f"{package.path} has no sheet")
        self.names: dict[str, Place] = {}
        self.other_names: dict[str, str] = {}  # names that stand for anything but cells of one sheet
        self.local_names: dict[tuple[str, str], str] = {}  # by sheet and name: print areas, and names of one sheet
        for element in root.iterfind(f"{MAIN}definedNames/{MAIN}definedName"):
            self._read_name(element)
        properties = root.find(f"{MAIN}workbookPr")
        self.epoch = date(1904, 1, 1) if is_true(properties, "date1904") else DAY_0
        calculation = root.find(f"{MAIN}calcPr")
        self.as_shown = calculation is not None and calculation.get("fullPrecision") in ("0", "false")
        self.by_hand = calculation is not None and calculation.get("calcMode") == "manual"
        self.iterates = is_true(calculation, "iterate")
        self._strings: list[str] | None = None
        self._styles: Styles | None = None

    def _read_name(self, element: etree._Element) -> None:
        name = element.get("name", "").lower()
        local = element.get("localSheetId")
        if local is not None:
            titles = list(self.states)
            title = titles[int(local)] if local.isdecimal() and int(local) < len(titles) else ""
            self.local_names[title, name] = element.text or ""
            return
        place = place_of(element.text or "")
        if place is not None:
            self.names[name] = place
        else:
            self.other_names[name] = element.text or ""

    @property
    def strings(self) -> list[str]:
        """The shared texts."""
        if self._strings is None:
            self._strings = []
            if self._strings_part:
                root = self.package.tree(self._strings_part)
                self._strings = [text_of(item) for item in root.iterfind(f"{MAIN}si")]
        return self._strings

    @property
    def styles(self) -> Styles:
        """The looks of cells, by number."""
        if self._styles is None:
            self._styles = Styles(self.package.tree(self._styles_part) if self._styles_part else None)
        return self._styles

    def day(self, value: Value) -> date | None:
        """The date that a cell's number stands for; None where it is no date of this age."""
        if isinstance(value, float) and 1 <= value < 200_000:
            return self.epoch + timedelta(days=int(value))
        return None


def open_book(path: str | Path, times: int = 1) -> Filled:
    """Open a workbook; Unreadable where it can't be, or has more than `times` the size of a filled one."""
    return Filled(open_package(Path(path), times))


def place_of(text: str) -> Place | None:
    """The place that a defined name stands for; None for anything but cells of one sheet.

    >>> place_of("'Job 1'!$B$2:$C$9")
    Place(sheet='Job 1', box=(2, 2, 3, 9))
    """
    found = _NAME.fullmatch(text.strip())
    corners = box(found[3]) if found else None
    if found is None or corners is None:
        return None
    return Place(found[1].replace("''", "'") if found[1] else found[2], corners)


def read_sheet(
    book: Filled, name: str, *, formulas: bool = True, columns: Collection[int] | None = None
) -> FilledSheet:
    """One sheet. Without `formulas` only stored values are kept, in the wanted columns: much quicker."""
    if formulas and name in book.sheets:
        book.package.relations(book.sheets[name])  # links of the sheet that lead outside
    reader = _Reader(book, name, formulas, columns)
    with no_collection():
        for element in _elements(book, name):
            reader.take(element)
    return reader.sheet


def stream_rows(book: Filled, name: str) -> Iterator[dict[int, Value]]:
    """The stored values of a sheet of any length, a row at a time, by column."""
    reader = _Reader(book, name, formulas=False, columns=None)
    for element in _elements(book, name):
        reader.take(element)
        if element.tag == ROW:
            yield {column: cell.value for (_, column), cell in reader.sheet.cells.items()}
            reader.sheet.cells.clear()


def _elements(book: Filled, name: str) -> Iterator[etree._Element]:
    """The elements of a sheet that matter, as they end."""
    part = book.sheets.get(name)
    if part is None:
        raise Unreadable(f"{book.package.path} has no sheet {name}")
    tags = (ROW, f"{MAIN}sheetProtection", f"{MAIN}dataValidation", *page.TAGS)
    try:
        for _, element in etree.iterparse(io.BytesIO(book.package.part(part)), tag=tags, **PARSING):
            yield element
    except etree.XMLSyntaxError as error:
        raise Unreadable(f"{book.package.path} is damaged on its sheet {name}: it is no proper XML") from error


class _Reader:
    """Fills a sheet from the elements of its part as they end."""

    def __init__(self, book: Filled, name: str, formulas: bool, columns: Collection[int] | None) -> None:
        self.sheet = FilledSheet(name, {}, False, [], [], Page())
        self._book, self._formulas, self._columns = book, formulas, columns
        self._shared: dict[str, tuple[Formula, Column]] = {}
        self._letters: dict[str, int] = {}
        self._row = 0

    def take(self, element: etree._Element) -> None:
        """One element that has ended; a row brings its cells."""
        try:
            self._take(element)
        except ValueError as error:
            where = f"{self._book.package.path} is damaged on its sheet {self.sheet.name}"
            raise Unreadable(f"{where}: a number of a row or look is none") from error

    def _take(self, element: etree._Element) -> None:
        if element.tag == ROW:
            self._row = int(element.get("r", self._row + 1))
            nothing = self._columns is not None and not self._columns
            column = self._places(element) if nothing else self._cells(element)
            if self._row > LAST_ROW or column > LAST_COLUMN or len(self.sheet.cells) > MOST_CELLS:
                where = f"{self._book.package.path}, sheet {self.sheet.name}"
                raise Unreadable(f"{where}, is larger than any log; it was not read on")
            if self._formulas:
                self.sheet.page.row(element, self._row)
            if self._formulas and is_true(element, "customFormat"):
                self.sheet.bands.append((f"row {self._row}", int(element.get("s", 0))))
            element.clear()
            above = element.getparent()
            while above is not None and element.getprevious() is not None:
                del above[0]
        elif element.tag == f"{MAIN}sheetProtection":
            self.sheet = self.sheet._replace(protected=is_true(element, "sheet"))
            self.sheet.page.protection(element)
        elif self._formulas and element.tag in page.TAGS:
            if element.tag == page.COLUMN and element.get("style"):
                where = f"columns {element.get('min')} to {element.get('max')}"
                self.sheet.bands.append((where, int(element.get("style", 0))))
            self.sheet.page.take(element, self._book.styles)
        elif self._formulas:
            self.sheet.validations.append(_validation(element))

    def _places(self, row: etree._Element) -> int:
        """Where the cells of a row stand, if nothing of them is wanted; the last column."""
        ending, letters, column = str(self._row), self._letters, 0
        for place in PLACES(row):
            column = letters.get(place.removesuffix(ending)) or self._column(place, ending)
        return column

    def _cells(self, row: etree._Element) -> int:
        """The cells of a row: the innermost loop, hundreds of thousands of times; the last column."""
        cells, number, ending, column = self.sheet.cells, self._row, str(self._row), 0
        formulas, wanted, letters = self._formulas, self._columns, self._letters
        for element in row:
            if not formulas and not len(element):
                column += 1  # right where cells have no address; the next that has one sets it
                continue
            place = element.get("r")
            column = letters.get(place.removesuffix(ending)) or self._column(place, ending) if place else column + 1
            if wanted is not None and column not in wanted:
                continue
            value, formula = None, None
            for child in element:
                tag = child.tag
                if tag == V:
                    value = self._value(element.get("t", "n"), child.text)
                elif tag == F and formulas:
                    formula = self._formula(child, number, column)
                elif tag == IS:
                    value = child[0].text or "" if len(child) == 1 and child[0].tag == T else text_of(child)
            cells[number, column] = Cell(value, formula, int(element.get("s", 0)))
        return column

    def _column(self, place: str, ending: str) -> int:
        letters = place.removesuffix(ending)
        found = self._letters.get(letters)
        if found is None:
            if not (letters.isascii() and letters.isalpha() and len(letters) <= 3):
                raise Unreadable(f"{self._book.package.path} has a cell out of its row on the sheet {self.sheet.name}")
            found = self._letters[letters] = column_number(letters)
        return found

    def _formula(self, stored: etree._Element, row: int, column: int) -> Formula:
        text, kind = stored.text or "", stored.get("t", "normal")
        if kind == "shared":
            key = stored.get("si", "")
            if text:
                self._shared[key] = Formula(text, row, column), Column.of(text, row)
            formula, below = self._shared.get(key, (Formula("", row, column), None))
            if below is not None and below.shareable and formula.column == column:
                return Formula(below.text(row), row, column)
            return formula
        return Formula(text, row, column, stored.get("ref", "") if kind == "array" else "")

    def _value(self, kind: str, text: str | None) -> Value:
        if text is None:
            return "" if kind == "str" else None
        try:
            if kind == "n":
                return _finite(text)
            if kind == "s" and "-" in text:  # Python alone counts from the end
                raise ValueError(text)
            if kind == "s":
                return self._book.strings[int(text)]
            if kind == "d":
                return float((datetime.fromisoformat(text).date() - self._book.epoch).days)
        except (ValueError, IndexError):
            return Error(f"damaged: {text[:20]}")
        return {"b": text in ("1", "true"), "e": Error(text)}.get(kind, text)


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number) or "_" in text:  # Python alone reads 1_000 as a number
        raise ValueError(text)
    return number


def _validation(element: etree._Element) -> Validation:
    boxes = tuple(one for ref in element.get("sqref", "").split()[:10_000] if (one := box(ref)))
    return Validation(
        boxes,
        element.get("type", "none"),
        element.get("operator", "between"),
        element.findtext(f"{MAIN}formula1") or "",
        element.findtext(f"{MAIN}formula2") or "",
        is_true(element, "showErrorMessage"),
        element.get("prompt", ""),
    )
