"""How a sheet of a file is laid out and looks, as far as it can hide or misstate what is stored.

Read beside the cells: hidden rows and columns, merged cells, conditional formats, footers, print areas, charts.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from lxml import etree

from workbook_template.figures.parse import LAST_COLUMN
from workbook_template.read_back.opening import Package
from workbook_template.read_back.styles import Shown, Styles
from workbook_template.rules.parts import MAIN, Box, box

COLUMN, MERGED, RULES = f"{MAIN}col", f"{MAIN}mergeCell", f"{MAIN}conditionalFormatting"
MARGINS = {f"{MAIN}{place}": place for place in ("oddHeader", "oddFooter")}
TAGS = (COLUMN, MERGED, RULES, *MARGINS)
"""The elements of a sheet that are read here."""

MOST = 10_000
"""Hidden rows, merged cells, ranges of one rule that are looked at."""

NARROW, FLAT = 0.3, 1.0
"""A column of fewer characters, and a row of fewer points, can't be read."""

PROTECTED = ("formatCells", "insertRows", "insertColumns", "deleteRows", "deleteColumns")
"""What a protected sheet does not let people do unless it says so."""

KNOWN_PARTS = ("drawing", "table", "printerSettings", "hyperlink", "vmlDrawing", "comments")


class Rule(NamedTuple):
    """One conditional format: where, when, and how it looks then."""

    boxes: tuple[Box, ...]
    type: str
    operator: str
    formulas: tuple[str, ...]
    shown: Shown


class Page:
    """The layout of one sheet, filled while its part is read."""

    def __init__(self) -> None:
        self.hidden_rows: set[int] = set()
        self.hidden_columns: list[tuple[int, int]] = []
        self.merged: set[Box] = set()
        self.rules: list[Rule] = []
        self.margins: dict[str, str] = {}
        self.allowed: set[str] = set()  # what may be done although the sheet is protected

    def protection(self, element: etree._Element) -> None:
        """What the protection of the sheet leaves free."""
        self.allowed = {name for name in PROTECTED if element.get(name) in ("0", "false")}

    def row(self, element: etree._Element, number: int) -> None:
        """A row that has ended."""
        if (is_true(element, "hidden") or _less(element.get("ht"), FLAT)) and len(self.hidden_rows) < MOST:
            self.hidden_rows.add(number)

    def take(self, element: etree._Element, styles: Styles) -> None:
        """Any other element that has ended."""
        if element.tag == COLUMN:
            if is_true(element, "hidden") or _less(element.get("width"), NARROW):
                self.hidden_columns.append((_whole(element.get("min")), min(_whole(element.get("max")), LAST_COLUMN)))
        elif element.tag == MERGED:
            corners = box(element.get("ref", ""))
            if corners and len(self.merged) < MOST:
                self.merged.add(corners)
        elif element.tag == RULES:
            self.rules += _rules(element, styles)
        else:
            self.margins[MARGINS[str(element.tag)]] = element.text or ""

    def hides_column(self, column: int) -> bool:
        """Whether a column can't be seen."""
        return any(first <= column <= last for first, last in self.hidden_columns)


def is_true(element: etree._Element | None, name: str) -> bool:
    """Whether an element has an attribute that says yes."""
    return element is not None and element.get(name) in ("1", "true")


def _less(text: str | None, than: float) -> bool:
    return text is not None and float(text) < than


def _whole(text: str | None) -> int:
    return int(text or 0)


def _rules(element: etree._Element, styles: Styles) -> Iterator[Rule]:
    boxes = tuple(one for ref in element.get("sqref", "").split()[:MOST] if (one := box(ref)))
    for rule in element.iterfind(f"{MAIN}cfRule"):
        formulas = tuple(one.text or "" for one in rule.iterfind(f"{MAIN}formula"))
        shown = styles.conditional(rule.get("dxfId"))
        yield Rule(boxes, rule.get("type", ""), rule.get("operator", ""), formulas, shown)


_SHEET = re.compile(r"(?:'(?:[^']|'')*'|[^',!]*)!")


def areas_of(text: str) -> frozenset[str]:
    """The ranges of a print area, or of rows and columns that are repeated on each page, without their sheet."""
    pieces = (piece.replace("$", "").strip().upper() for piece in _SHEET.sub("", text).split(","))
    return frozenset(piece for piece in pieces if piece)


class Drawn(NamedTuple):
    """What lies on a sheet: the ranges of each of its charts, pictures and shapes, other parts by their kind."""

    charts: list[Counter[str]]
    pictures: int
    others: list[str]


def drawn(package: Package, part: str) -> Drawn:
    """What lies on the sheet of that part."""
    charts: list[Counter[str]] = []
    pictures, others = 0, []
    for kind, target in package.relations(part).values():
        if kind == "drawing" and target in package.names:
            for chart_kind, chart in package.relations(target).values():
                if chart_kind == "chart" and chart in package.names:
                    charts.append(ranges_of(package.tree(chart)))
            pictures += _pictures(package.tree(target))
        elif kind not in KNOWN_PARTS or kind == "comments":
            others.append(kind)
    return Drawn(charts, pictures, others)


def ranges_of(chart: etree._Element) -> Counter[str]:
    """The ranges that a chart shows, as Sheet!A1:A9, and the ends of its axes where they are fixed."""
    found: Counter[str] = Counter()
    for element in chart.iter("{*}f", "{*}min", "{*}max"):
        name = etree.QName(element).localname
        if name == "f":
            text = (element.text or "").replace("$", "").replace("'", "")
            if "!" in text:
                found[text] += 1
        elif (above := element.getparent()) is not None and etree.QName(above).localname == "scaling":
            found[f"{name} {_rounded(element.get('val', '0'))}"] += 1
    return found


def _rounded(text: str) -> str:
    """A number as programs may write it, in six digits; what is no number as it is."""
    try:
        return f"{float(text):.6g}"
    except ValueError:
        return text


def _pictures(drawing: etree._Element) -> int:
    """Pictures and shapes, that may cover a cell."""
    names = ("{*}pic", "{*}sp", "{*}cxnSp", "{*}grpSp")
    return sum(1 for _ in drawing.iter(*names))
