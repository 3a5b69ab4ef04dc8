"""Charts that read in black and white: lines told apart by dashes and marks, never by colour.

They are scatter charts. A row without a point repeats the last one, drawn over it, because a text or an empty text
in a line chart stands at zero in Excel, and an error value, the usual way out, must not stand on a sheet.
"""

from __future__ import annotations

from typing import Any, NamedTuple

from openpyxl.chart import Reference, ScatterChart, Series
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.legend import LegendEntry
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, TwoCellAnchor
from openpyxl.drawing.text import CharacterProperties, Font, Paragraph, ParagraphProperties
from openpyxl.utils import range_boundaries
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.xml.functions import Element

INK, GREY = "000000", "555555"
POINT = 12700  # the file format counts lines in this part of a point


class Stroke(NamedTuple):
    """How a series is drawn; `width` in points, 0 for marks alone."""

    width: float
    dash: str = "solid"
    ink: str = INK
    mark: str = "none"
    mark_size: int = 5
    mark_filled: bool = True


READINGS = Stroke(1.0, mark="circle")
OUTSIDE = Stroke(0, mark="square", mark_size=12, mark_filled=False)
SIZE_LIMIT = Stroke(2.25, "dash")
NATURAL_LIMIT = Stroke(1.25, "sysDot")
MEAN = Stroke(0.75, "lgDashDot", GREY)


class Line(NamedTuple):
    """One series: its name in the legend, cells of x and y, how it is drawn."""

    title: str
    x: str
    y: str
    stroke: Stroke


def untitled() -> ScatterChart:
    """A chart that says it has no title: without that word Excel puts the name of a lone series over it."""
    chart = ScatterChart()
    written = chart._write  # openpyxl knows the element, but has no attribute of a chart for it

    def with_the_word() -> Any:
        space = written()
        space.find("chart").insert(0, Element("autoTitleDeleted", val="1"))
        return space

    chart._write = with_the_word
    return chart


def _cells(ws: Worksheet, ref: str) -> Reference:
    left, top, right, bottom = range_boundaries(ref)
    return Reference(ws, min_col=left, min_row=top, max_col=right, max_row=bottom)


def _look(size: float, *, bold: bool = False) -> ParagraphProperties:
    look = CharacterProperties(sz=int(size * 100), b=bold, solidFill=INK, latin=Font(typeface="Arial"))
    return ParagraphProperties(defRPr=look)


def _text(size: float) -> RichText:
    look = _look(size)
    return RichText(p=[Paragraph(pPr=look, endParaRPr=look.defRPr)])


def _series(ws: Worksheet, line: Line) -> Series:
    series = Series(_cells(ws, line.y), _cells(ws, line.x), title=line.title)
    stroke = line.stroke
    series.smooth = False
    if stroke.width:
        series.graphicalProperties.line = LineProperties(
            w=int(stroke.width * POINT), solidFill=stroke.ink, prstDash=stroke.dash
        )
    else:
        series.graphicalProperties.line.noFill = True
    series.marker.symbol = stroke.mark
    if stroke.mark != "none":
        series.marker.size = stroke.mark_size
        fill = {"solidFill": stroke.ink} if stroke.mark_filled else {"noFill": True}
        series.marker.graphicalProperties = GraphicalProperties(
            ln=LineProperties(w=int(1.5 * POINT), solidFill=stroke.ink), **fill
        )
    return series


def add(ws: Worksheet, ref: str, lines: tuple[Line, ...], *, across: str, up: str, form: str, deep: float) -> None:
    """Put a chart over the cells of `ref`; `form` is the number format of the axis that goes up, `deep` how much of the
    height is for the lines.

    Of series with the same title the first alone stands in the legend.
    """
    chart = untitled()
    chart.style, chart.scatterStyle = None, "lineMarker"
    seen: set[str] = set()
    for number, line in enumerate(lines):
        chart.series.append(_series(ws, line))
        if line.title in seen:
            chart.legend.legendEntry.append(LegendEntry(idx=number, delete=True))
        seen.add(line.title)
    for axis, title in ((chart.x_axis, across), (chart.y_axis, up)):
        axis.delete = False
        axis.title = title
        axis.title.overlay = False
        for paragraph in axis.title.tx.rich.p:
            paragraph.pPr = _look(9, bold=True)
            for run in paragraph.r:
                run.rPr = _look(9, bold=True).defRPr
        axis.txPr = _text(9)
        axis.majorTickMark, axis.tickLblPos = "out", "low"
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(w=POINT, solidFill=INK))
    chart.x_axis.scaling.min = 0  # what must not be seen has an x of less
    chart.x_axis.number_format = "0"
    chart.x_axis.majorGridlines = None
    chart.y_axis.number_format = form
    chart.y_axis.majorGridlines.spPr = GraphicalProperties(ln=LineProperties(w=POINT // 4, solidFill="BBBBBB"))
    chart.y_axis.crosses = "min"
    chart.legend.position = "b"
    chart.legend.txPr = _text(9)
    chart.layout = Layout(manualLayout=ManualLayout(layoutTarget="inner", xMode="edge", yMode="edge", x=0.11, y=0.04,
                                                    w=0.86, h=deep))  # fmt: skip
    left, top, right, bottom = range_boundaries(ref)
    chart.anchor = TwoCellAnchor(
        editAs="oneCell",
        _from=AnchorMarker(col=left - 1, row=top - 1),
        to=AnchorMarker(col=right, row=bottom),  # counted from 0: the far edge of the last cell
    )
    ws.add_chart(chart)
