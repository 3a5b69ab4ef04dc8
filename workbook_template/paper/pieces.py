"""Writes the pieces that the lines of a page are made of, and the looks that cells take."""

from __future__ import annotations

from collections.abc import Iterable

from openpyxl.formatting.rule import Rule
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, the
from workbook_template.figures.text import text
from workbook_template.figures.tree import Node, Text
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book
from workbook_template.paper.naming import TOP, Spot
from workbook_template.sheets.chart import Chart, ScaleDrawing
from workbook_template.sheets.layout import Entry, Link, Mark, Piece

NUMBERS = ("length", "entry", "wire", "feed", "count", "angle", "General")
"""Dimensions whose cells hold numbers."""


def write_piece(book: Book, ws: Worksheet, spot: Spot, piece: Piece) -> None:
    content, ref = piece.content, spot.ref
    if isinstance(content, Entry):
        one = content.input
        look = piece.look or ("input_number" if one.dimension in NUMBERS else "input")
        blocks.write(book, ws, ref, content.value, look, one.dimension)
        blocks.ask(ws, ref.split(":")[0], one)
        if look.startswith("asked"):
            asked_where(book, ws, spot, the.tapered, one.dimension)
    elif isinstance(content, Figure) and isinstance(content.formula, Text):
        blocks.write(book, ws, ref, content.formula.value, piece.look)
    elif isinstance(content, Figure):
        blocks.write(book, ws, ref, content.formula, piece.look, content.dimension)
        if piece.look.startswith("left_hand"):
            write_marks(book, ws, ref, (Mark("left_hand", the[content.name].differs("")),))
    elif isinstance(content, Link):
        blocks.write(book, ws, ref, content.words, piece.look)
        ws.cell(spot.top, spot.left).hyperlink = link_to(content.sheet)
        blocks.write(book, ws, ref, content.words, piece.look)  # openpyxl gives a link a style of its own
    elif isinstance(content, (Chart, ScaleDrawing)):
        if isinstance(content, Chart) and content.under is not None:
            write_piece(book, ws, spot, Piece(piece.columns, content.under, "body_top", piece.lines))
        book.charts.append((ws, ref, content))
    else:
        blocks.write(book, ws, ref, content, piece.look, piece.dimension)


def write_marks(book: Book, ws: Worksheet, ref: str, marks: Iterable[Mark]) -> None:
    for mark in marks:
        rule(ws, ref, styles.MARKS[mark.look], text(mark.condition), mark.last)


def asked_where(book: Book, ws: Worksheet, spot: Spot, condition: Node, dimension: str) -> None:
    """An entry that takes its box while a condition holds."""
    look = styles.MARKS["asked"]
    rule_in_other_unit(book, ws, spot, look, condition, dimension, True)
    rule(ws, spot.ref, look, text(condition), True)


def rule_in_other_unit(
    book: Book, ws: Worksheet, spot: Spot, look: DifferentialStyle, condition: Node, dimension: str, last: bool
) -> None:
    """A look of lengths in the other unit. LibreOffice applies one rule a cell: number format and look are one."""
    if dimension in styles.FORMATS:
        turned = styles.unit_rule(styles.FORMATS[dimension][book.other_unit])
        turned.font, turned.fill, turned.border = look.font, look.fill, look.border
        also = all_of(condition, the.unit.same(book.other_unit))
        rule(ws, spot.ref, turned, text(also, spot.top, spot.left), last)


def rule(ws: Worksheet, ref: str, look: DifferentialStyle, condition: str, last: bool) -> None:
    ws.conditional_formatting.add(ref, Rule(type="expression", dxf=look, formula=[condition], stopIfTrue=last))


def word_rule(ws: Worksheet, ref: str, look: DifferentialStyle, word: str, last: bool) -> None:
    """The look of the cells that hold that word.

    Not by a formula: LibreOffice listens to the cells of each formula, and paints the whole range with each of them.
    """
    ws.conditional_formatting.add(ref, Rule(type="cellIs", operator="equal", dxf=look, formula=[word], stopIfTrue=last))


def link_to(sheet: str) -> Hyperlink:
    """A link within the file: a target would be one to another file."""
    return Hyperlink(ref="", location=f"'{sheet}'!A{TOP}")
