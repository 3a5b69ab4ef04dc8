"""The scale drawing on the sheet Setup: thread, tool tip and wire for the figures in use.

Three grooves stand side by side. The left one holds the tool, the middle one the sharp V that its flanks would meet
in, the right one the wire at its seat. The points are scaled into a frame of fixed size with the proportions of the
plot, so that both axes have the same scale whatever the thread is. Lengths run from the sharp bottom of the middle
groove: along the axis (the headstock on the left), and up out of the material.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.chart import Reference, Series
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor
from openpyxl.drawing.text import CharacterProperties, Font, Paragraph, ParagraphProperties
from openpyxl.drawing.xdr import XDRPositiveSize2D
from openpyxl.utils import column_index_from_string, range_boundaries
from openpyxl.utils.units import cm_to_EMU
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import all_of, here, in_table, known, node, say, the, when, xl
from workbook_template.figures.tree import Node, Part
from workbook_template.paper import blocks, chart_drawing
from workbook_template.paper.blocks import Book

WIDE_CM, HIGH_CM = 12.9, 5.4
PLOT_WIDE, PLOT_HIGH = 0.97, 0.84
"""The plot as a share of the chart; below it stands the legend."""

FRAME_WIDE = 100.0
FRAME_HIGH = round(FRAME_WIDE * HIGH_CM * PLOT_HIGH / (WIDE_CM * PLOT_WIDE), 4)
"""The axes' fixed ranges, in the proportions of the plot."""

MARGIN = 1.5
ARC, CIRCLE = 8, 24
"""Pieces of the tip's arc and of the wire's circle."""

FIRST = 10

Point = tuple[Node, Node]
"""Along and up, as formulas."""


class Drawn(NamedTuple):
    """One line of the drawing: its points, when it is drawn, width in points, dash, grey or black."""

    key: str
    title: str
    points: tuple[Point, ...]
    width: float
    dash: str = "solid"
    ink: str = "000000"
    needs: Node = the.drawing_on


LEADING, TRAILING = xl.RADIANS(the.flank_leading), xl.RADIANS(the.flank_trailing)


def _on_circle(along: Node, up: Node, radius: Node, angle: Node) -> Point:
    return along + radius * xl.COS(angle), up + radius * xl.SIN(angle)


def _touching(radius: Node) -> Point:
    """Centre of a circle that touches both flanks of the middle groove."""
    both = xl.SIN(xl.RADIANS(the.flank_leading + the.flank_trailing))
    along = radius * (xl.SIN(TRAILING) - xl.SIN(LEADING)) / both
    return along, radius * (xl.COS(LEADING) + xl.COS(TRAILING)) / both


def _root(groove: int) -> tuple[Point, ...]:
    """The tip's outline in a groove, from the left flank to the right."""
    points = []
    for piece in range(ARC + 1):
        along_flat = the.tip_flat * (node(piece) / ARC - xl.TAN(LEADING) / the.flank_spread)
        centre = groove * the.pitch + the.tip_along + along_flat
        turned = (180 - the.flank_leading - the.flank_trailing) * piece / ARC
        points.append(_on_circle(centre, the.tip_up, the.tip_round, xl.RADIANS(180 + the.flank_leading + turned)))
    return tuple(points)


def _flank(groove: int, side: str, up: Node) -> Point:
    """The point of a groove's left or right flank at a height."""
    bottom = groove * the.pitch
    return (bottom - up * xl.TAN(LEADING) if side == "left" else bottom + up * xl.TAN(TRAILING)), up


def _cut(groove: int, up: Node) -> tuple[Point, ...]:
    """A groove from one height on its left flank to the same on its right."""
    return _flank(groove, "left", up), *_root(groove), _flank(groove, "right", up)


def _across(up: Node) -> tuple[Point, Point]:
    """A line over the whole drawing at a height."""
    return (the.drawing_middle - 1.5 * the.pitch, up), (the.drawing_middle + 1.5 * the.pitch, up)


BLANK = _across(the.crest_up)
PROFILE = (BLANK[0], *(point for groove in (-1, 0, 1) for point in _cut(groove, the.crest_up)), BLANK[1])
POINT = _cut(-1, the.crest_up + 0.06 * the.pitch)
TOOL = ((POINT[0][0], the.tool_up), *POINT, (POINT[-1][0], the.tool_up))
WIRE = tuple(
    _on_circle(the.pitch + the.wire_along, the.wire_up, the.wire_used / 2, xl.RADIANS(360 * piece // CIRCLE))
    for piece in range(CIRCLE + 1)
)
LINES = (
    Drawn("blank", "blank", BLANK, 0.75, "lgDash"),
    Drawn("line", "pitch line", _across(the.half_height), 0.75, "lgDashDot"),
    Drawn("ghost", "sharp V", (_root(0)[0], (node(0), node(0)), _root(0)[-1]), 1.0, "sysDash"),
    Drawn("profile", "finished thread", PROFILE, 2.25),
    Drawn("tool", "tool tip", TOOL, 1.25, "sysDash", "000000"),
    Drawn("wire", "wire", WIRE, 1.25, needs=the.wire_drawn),
)


def _drawn(figure: Part) -> Node:
    return when(the.drawing_on, figure)


def _tip(kind: str) -> Node:
    return when(all_of(the.tip_kind.same(kind), known(the.tip_size)), the.tip_size, 0)


def _working() -> tuple[tuple[str, str, Node], ...]:
    nose, wire = _touching(the.tip_round), _touching(the.wire_used / 2)
    leaning = the.crest_up * (xl.TAN(TRAILING) - xl.TAN(LEADING)) / 2
    top = xl.MAX(the.tool_up, when(the.wire_drawn, the.wire_up + the.wire_used / 2, 0))
    scale = xl.MIN(FRAME_WIDE / (3.2 * the.pitch), (FRAME_HIGH - 2 * MARGIN) / top)
    return (
        ("drawing_on", "whether there is a thread to draw", known(the.radial_infeed)),
        ("wire_drawn", "whether there is a wire to draw", all_of(the.drawing_on, known(the.wire_constant))),
        ("crest_up", "crest over the sharp bottom", _drawn(xl.MIN(the.infeed_start, the.pitch / the.flank_spread))),
        ("tool_up", "top of the tool as drawn", _drawn(the.crest_up + 0.22 * the.pitch)),
        ("tip_round", "nose radius of the tip, 0 where it has none",
         _tip("nose radius")),
        ("tip_flat", "flat of the tip, 0 where it has none", _tip("flat")),
        ("tip_along", "centre of the nose, along", _drawn(nose[0])),
        ("tip_up", "centre of the nose or height of the flat, over the sharp bottom",
         _drawn(the.tip_flat / the.flank_spread + nose[1])),
        ("wire_along", "centre of the wire, along", when(the.wire_drawn, wire[0])),
        ("wire_up", "centre of the wire over the sharp bottom", when(the.wire_drawn, wire[1])),
        ("drawing_middle", "middle of the drawing, along", _drawn(leaning)),
        ("drawing_scale", "frame units per length, the same along and up", _drawn(scale)),
    )  # fmt: skip


WORKING = _working()
"""Name, meaning, formula of the figures behind the drawing."""

TITLE = say(
    "Thread, tool and wire to scale, headstock on the left",
    _drawn(when(the.thread_side.same("internal"), "; axis below")),
)

UP = MARGIN + the.drawing_scale * here.up
IN_FRAME = {
    "x": when(known(here.along), FRAME_WIDE / 2 + the.drawing_scale * (here.along - the.drawing_middle), 0),
    "y": when(known(here.up), when(the.outward < 0, FRAME_HIGH - UP, UP), 0),
}
"""A point in the frame. What must not be seen rests in the corner, a line without length."""

COLUMNS = {"line": "AD", "along": "AE", "up": "AF", "x": "AG", "y": "AH"}
MEANINGS = {
    "along": "along the axis from the sharp bottom of the middle groove",
    "up": "out of the material from the sharp bottom",
    "x": "in the frame, to the right",
    "y": "in the frame, up",
}


def build(book: Book, ws: Worksheet, corner: str, heading: str) -> None:
    """The heading, the chart with its corner at a cell, and the points in columns AD to AH."""
    blocks.result(book, ws, heading, "drawing_title", "heading of the drawing", TITLE, look="block")
    for name, letter in COLUMNS.items():
        blocks.write(book, ws, f"{letter}{FIRST - 1}", name, "head")
    row, places = FIRST, []
    for line in LINES:
        places.append((row, row + len(line.points) - 1))
        for along, up in line.points:
            blocks.write(book, ws, f"{COLUMNS['line']}{row}", line.key, "small")
            for name, part in (("along", along), ("up", up)):
                blocks.write(book, ws, f"{COLUMNS[name]}{row}", when(line.needs, part), "row", "0.0000")
            row += 1
    numbers = {name: column_index_from_string(letter) for name, letter in COLUMNS.items()}
    for name, tree in IN_FRAME.items():
        formula = in_table(tree, numbers, numbers[name], FIRST, row - 1)
        texts = blocks.column_texts(book, formula, numbers[name], FIRST, row - 1)
        for at, text in enumerate(texts, start=FIRST):
            blocks.write(book, ws, f"{COLUMNS[name]}{at}", text, "row", "0.0000")
    for name, meaning in MEANINGS.items():
        ref = f"{COLUMNS[name]}{FIRST}:{COLUMNS[name]}{row - 1}"
        blocks.define(book, ws, ref, f"drawing_{name}", f"points of the drawing: {meaning}", role="working")
    _chart(ws, corner, places)


def _text(size: float) -> RichText:
    look = CharacterProperties(sz=int(size * 100), solidFill="000000", latin=Font(typeface="Arial"))
    return RichText(p=[Paragraph(pPr=ParagraphProperties(defRPr=look), endParaRPr=look)])


def _chart(ws: Worksheet, at: str, places: list[tuple[int, int]]) -> None:
    chart = chart_drawing.untitled()
    chart.style, chart.scatterStyle = None, "lineMarker"
    for line, (top, bottom) in zip(LINES, places):
        x, y = (Reference(ws, range_string=f"{ws.title}!${c}${top}:${c}${bottom}") for c in ("AG", "AH"))
        series = Series(y, x, title=line.title)
        series.smooth = False
        series.marker.symbol = "none"
        width = int(line.width * 12700)  # the file format counts lines in this part of a point
        series.graphicalProperties.line = LineProperties(w=width, solidFill=line.ink, prstDash=line.dash)
        chart.series.append(series)
    for axis, top in ((chart.x_axis, FRAME_WIDE), (chart.y_axis, FRAME_HIGH)):
        axis.delete = False  # a deleted axis loses its range in some programs
        axis.scaling.min, axis.scaling.max = 0, top
        axis.majorGridlines = None
        axis.number_format, axis.txPr = ";;;", _text(1)  # no figures: they would count scaled units
        axis.majorTickMark = axis.minorTickMark = "none"
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(noFill=True))
    chart.legend.position = "b"
    chart.legend.txPr = _text(9.5)
    side = (1 - PLOT_WIDE) / 2
    chart.layout = Layout(manualLayout=ManualLayout(layoutTarget="inner", xMode="edge", yMode="edge", x=side, y=0.01,
                                                    w=PLOT_WIDE, h=PLOT_HIGH))  # fmt: skip
    chart.graphical_properties = GraphicalProperties(ln=LineProperties(noFill=True))
    column, row, _, _ = range_boundaries(at)
    chart.anchor = OneCellAnchor(  # a size of its own, since the widths of columns differ from program to program
        _from=AnchorMarker(col=column - 1, row=row - 1),
        ext=XDRPositiveSize2D(cm_to_EMU(WIDE_CM), cm_to_EMU(HIGH_CM)),
    )
    ws.add_chart(chart)
