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
from openpyxl.utils import range_boundaries
from openpyxl.utils.units import cm_to_EMU
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, chart_drawing
from workbook_template.blocks import Book

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


class Drawn(NamedTuple):
    """One line of the drawing: its points (along, up) as formulas, width in points, dash, grey or black."""

    key: str
    title: str
    points: tuple[tuple[str, str], ...]
    width: float
    dash: str = "solid"
    ink: str = "000000"
    needs: str = "drawing_on"


def _root(groove: int) -> tuple[tuple[str, str], ...]:
    """The tip's outline in a groove, from the left flank to the right."""
    flat = "tip_flat*({share}-TAN(RADIANS(flank_leading))/flank_spread)"
    angle = "RADIANS(180+flank_leading+(180-flank_leading-flank_trailing)*{share})"
    points = []
    for piece in range(ARC + 1):
        share = f"{piece}/{ARC}"
        along = f"{groove}*pitch+tip_along+{flat.format(share=share)}+tip_round*COS({angle.format(share=share)})"
        points.append((along, f"tip_up+tip_round*SIN({angle.format(share=share)})"))
    return tuple(points)


def _flank(groove: int, side: str, up: str) -> tuple[str, str]:
    """The point of a groove's left or right flank at a height."""
    sign, angle = ("-", "flank_leading") if side == "left" else ("+", "flank_trailing")
    return f"{groove}*pitch{sign}({up})*TAN(RADIANS({angle}))", up


ENDS = ("drawing_middle-1.5*pitch", "drawing_middle+1.5*pitch")
SHOULDER = "(crest_up+0.06*pitch)"
PROFILE = (
    (ENDS[0], "crest_up"),
    *(
        point
        for groove in (-1, 0, 1)
        for point in (_flank(groove, "left", "crest_up"), *_root(groove), _flank(groove, "right", "crest_up"))
    ),
    (ENDS[1], "crest_up"),
)
TOOL = (
    (_flank(-1, "left", SHOULDER)[0], "tool_up"),
    _flank(-1, "left", SHOULDER),
    *_root(-1),
    _flank(-1, "right", SHOULDER),
    (_flank(-1, "right", SHOULDER)[0], "tool_up"),
)
WIRE = tuple(
    (
        f"pitch+wire_along+wire_used/2*COS(RADIANS({360 * piece // CIRCLE}))",
        f"wire_up+wire_used/2*SIN(RADIANS({360 * piece // CIRCLE}))",
    )
    for piece in range(CIRCLE + 1)
)
LINES = (
    Drawn("blank", "blank", ((ENDS[0], "crest_up"), (ENDS[1], "crest_up")), 0.75, "lgDash"),
    Drawn("line", "pitch line", ((ENDS[0], "half_height"), (ENDS[1], "half_height")), 0.75, "lgDashDot"),
    Drawn("ghost", "sharp V", (_root(0)[0], ("0", "0"), _root(0)[-1]), 1.0, "sysDash"),
    Drawn("profile", "finished thread", PROFILE, 2.25),
    Drawn("tool", "tool tip", TOOL, 1.25, "sysDash", "000000"),
    Drawn("wire", "wire", WIRE, 1.25, needs="wire_drawn"),
)

_NOSE = "SIN(RADIANS(flank_leading+flank_trailing))"
_ALONG = f"(SIN(RADIANS(flank_trailing))-SIN(RADIANS(flank_leading)))/{_NOSE}"
_UP = f"(COS(RADIANS(flank_leading))+COS(RADIANS(flank_trailing)))/{_NOSE}"

WORKING = (
    ("drawing_on", "whether there is a thread to draw", "ISNUMBER(radial_infeed)"),
    ("wire_drawn", "whether there is a wire to draw", "AND(drawing_on,ISNUMBER(wire_constant))"),
    ("crest_up", "crest over the sharp bottom", 'IF(drawing_on,MIN(infeed_start,pitch/flank_spread),"")'),
    ("tool_up", "top of the tool as drawn", 'IF(drawing_on,crest_up+0.22*pitch,"")'),
    ("tip_round", "nose radius of the tip, 0 where it has none",
     'IF(AND(tip_kind="nose radius",ISNUMBER(tip_size)),tip_size,0)'),
    ("tip_flat", "flat of the tip, 0 where it has none", 'IF(AND(tip_kind="flat",ISNUMBER(tip_size)),tip_size,0)'),
    ("tip_along", "centre of the nose, along", f'IF(drawing_on,tip_round*{_ALONG},"")'),
    ("tip_up", "centre of the nose or height of the flat, over the sharp bottom",
     f'IF(drawing_on,tip_flat/flank_spread+tip_round*{_UP},"")'),
    ("wire_along", "centre of the wire, along", f'IF(wire_drawn,wire_used/2*{_ALONG},"")'),
    ("wire_up", "centre of the wire over the sharp bottom", f'IF(wire_drawn,wire_used/2*{_UP},"")'),
    ("drawing_middle", "middle of the drawing, along",
     'IF(drawing_on,crest_up*(TAN(RADIANS(flank_trailing))-TAN(RADIANS(flank_leading)))/2,"")'),
    ("drawing_scale", "frame units per length, the same along and up",
     (f'IF(drawing_on,MIN({FRAME_WIDE}/(3.2*pitch),{FRAME_HIGH - 2 * MARGIN}/'
      'MAX(tool_up,IF(wire_drawn,wire_up+wire_used/2,0))),"")')),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the drawing."""

TITLE = (
    '"Thread, tool and wire to scale, headstock on the left"&IF(drawing_on,IF(thread_side="internal",'
    '"; axis below",""),"")'
)


def build(book: Book, ws: Worksheet, at: str, heading: str) -> None:
    """The heading, the chart with its corner at a cell, and the points in columns AD to AH."""
    blocks.result(book, ws, heading, "drawing_title", "heading of the drawing", TITLE, look="block")
    for letter, text in zip(("AD", "AE", "AF", "AG", "AH"), ("line", "along", "up", "x", "y")):
        blocks.write(book, ws, f"{letter}{FIRST - 1}", text, "head")
    row, places = FIRST, []
    for line in LINES:
        places.append((row, row + len(line.points) - 1))
        for along, up in line.points:
            _point(book, ws, row, line, along, up)
            row += 1
    for letter, name, meaning in (
        ("AE", "along", "along the axis from the sharp bottom of the middle groove"),
        ("AF", "up", "out of the material from the sharp bottom"),
        ("AG", "x", "in the frame, to the right"),
        ("AH", "y", "in the frame, up"),
    ):
        ref = f"{letter}{FIRST}:{letter}{row - 1}"
        blocks.define(book, ws, ref, f"drawing_{name}", f"points of the drawing: {meaning}", role="working")
    _chart(ws, at, places)


def _point(book: Book, ws: Worksheet, row: int, line: Drawn, along: str, up: str) -> None:
    """One point. What must not be seen rests in the corner of the frame, a line without length."""
    y = f"{MARGIN}+drawing_scale*AF{row}"
    cells = {
        "AE": f'IF({line.needs},{along},"")',
        "AF": f'IF({line.needs},{up},"")',
        "AG": f"IF(ISNUMBER(AE{row}),{FRAME_WIDE / 2}+drawing_scale*(AE{row}-drawing_middle),0)",
        "AH": f"IF(ISNUMBER(AF{row}),IF(outward<0,{FRAME_HIGH}-({y}),{y}),0)",
    }
    blocks.write(book, ws, f"AD{row}", line.key, "small")
    for letter, formula in cells.items():
        blocks.write(book, ws, f"{letter}{row}", f"={formula}", "row", "0.0000")


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
