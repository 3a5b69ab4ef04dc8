"""Charts that read in black and white: lines told apart by dashes and marks, never by colour.

They are scatter charts. A row without a point repeats the last one, drawn over it, because a text or an empty text
in a line chart stands at zero in Excel, and an error value, the usual way out, must not stand on a sheet.
"""

from __future__ import annotations

from typing import Any

from openpyxl.chart import Reference
from openpyxl.chart.axis import ChartLines
from openpyxl.chart.label import DataLabel, DataLabelList
from openpyxl.chart.layout import Layout, ManualLayout
from openpyxl.chart.legend import Legend, LegendEntry
from openpyxl.chart.marker import Marker
from openpyxl.chart.series import XYSeries
from openpyxl.chart.series_factory import SeriesFactory
from openpyxl.chart.shapes import GraphicalProperties
from openpyxl.chart.text import RichText
from openpyxl.drawing.line import LineProperties
from openpyxl.drawing.spreadsheet_drawing import AnchorMarker, OneCellAnchor, TwoCellAnchor
from openpyxl.drawing.text import CharacterProperties, Font, Paragraph, ParagraphProperties
from openpyxl.drawing.xdr import XDRPositiveSize2D
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import corners, put_chart, untitled
from workbook_template.sheets import chart
from workbook_template.sheets.chart import INK, Stretch

POINT, CENTIMETRE = 12700, 360000
"""How many of the file format's units of length they are."""


def _cells(book: Book, ws: Worksheet, stretch: Stretch | str) -> Reference:
    """The cells of a named column that a series takes; an address is one of the chart's own sheet."""
    if isinstance(stretch, str):
        left, top, right, bottom = corners(stretch)
        return Reference(ws, min_col=left, min_row=top, max_col=right, max_row=bottom)
    entry = next(one for one in book.entries if one.name == stretch.name)
    left, top, right, bottom = corners(entry.ref)
    last = top + stretch.last - 1 if stretch.last else bottom
    return Reference(
        book.workbook[entry.sheet], min_col=left, min_row=top + stretch.first - 1, max_col=right, max_row=last
    )


def _look(size: float, *, bold: bool = False) -> ParagraphProperties:
    look = CharacterProperties(sz=int(size * 100), b=bold, solidFill=INK, latin=Font(typeface="Arial"))
    return ParagraphProperties(defRPr=look)


def _text(size: float) -> RichText:
    look = _look(size)
    return RichText(p=[Paragraph(pPr=look, endParaRPr=look.defRPr)])


def _series(book: Book, ws: Worksheet, line: chart.Series) -> XYSeries:
    y = _cells(book, ws, line.y)
    series: XYSeries = SeriesFactory(y, _cells(book, ws, line.x), title=line.title)
    stroke = line.stroke
    series.smooth = False
    if stroke.width:
        series.graphicalProperties.line = LineProperties(
            w=int(stroke.width * POINT), solidFill=stroke.ink, prstDash=stroke.dash
        )
    else:
        series.graphicalProperties.line.noFill = True
    series.marker = Marker(stroke.mark)
    if stroke.mark != "none":
        fill = {"solidFill": stroke.ink} if stroke.mark_filled else {"noFill": True}
        edge = LineProperties(w=int(1.5 * POINT), solidFill=stroke.ink)
        series.marker = Marker(stroke.mark, stroke.mark_size, GraphicalProperties(ln=edge, **fill))
    if line.label:
        series.dLbls = _named(line.label, y.max_row - y.min_row + 1)
    return series


def _named(label: chart.Label, points: int) -> DataLabelList:
    """The series' name beside one of its points, and nothing beside the others."""
    hidden = dict.fromkeys(("showLegendKey", "showVal", "showCatName", "showPercent", "showBubbleSize"), False)
    place = (label.point or points) - 1
    one = DataLabel(idx=place, dLblPos=label.side, txPr=_text(9), showSerName=True, **hidden)
    return DataLabelList(dLbl=[one], showSerName=False, **hidden)


def add(book: Book, ws: Worksheet, ref: str, wanted: chart.Chart) -> None:
    """Put a chart over the cells of `ref`."""
    drawn = untitled()
    drawn.style, drawn.scatterStyle = None, "lineMarker"
    drawn.visible_cells_only = False  # points may stand in hidden columns
    for line in wanted.series:
        drawn.series.append(_series(book, ws, line))
    for axis, title in ((drawn.x_axis, wanted.across), (drawn.y_axis, wanted.up)):
        axis.delete = False
        if title:
            _entitle(axis, title)
        axis.txPr = _text(9)
        axis.majorTickMark, axis.tickLblPos = "none" if wanted.bare else "out", "low"
        ink = {"noFill": True} if wanted.bare else {"w": POINT, "solidFill": INK}
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(**ink))
    drawn.x_axis.scaling.min, drawn.x_axis.scaling.max = wanted.ends or (0, None)  # unseen points have an x of less
    drawn.x_axis.number_format = wanted.form_across
    drawn.x_axis.majorGridlines = None
    drawn.y_axis.number_format = wanted.form
    drawn.y_axis.crosses = "min"
    if wanted.bare:
        drawn.legend = drawn.y_axis.majorGridlines = None
        drawn.graphical_properties = GraphicalProperties(noFill=True, ln=LineProperties(noFill=True))
        drawn.plot_area.graphicalProperties = GraphicalProperties(noFill=True)
    else:
        faint = GraphicalProperties(ln=LineProperties(w=POINT // 4, solidFill="BBBBBB"))
        drawn.y_axis.majorGridlines = ChartLines(faint)
        drawn.legend = _legend(wanted.series)
    drawn.layout = _inner(wanted.left, 0.04, wanted.wide, wanted.deep)
    left, top, right, bottom = corners(ref)
    anchor = TwoCellAnchor(
        editAs="oneCell",
        _from=AnchorMarker(col=left - 1, row=top - 1),
        to=AnchorMarker(col=right, row=bottom),  # counted from 0: the far edge of the last cell
    )
    put_chart(ws, drawn, anchor)


def _legend(series: tuple[chart.Series, ...]) -> Legend:
    """The legend under a chart: of series with the same title the first alone."""
    titles = [one.title for one in series]
    again = [LegendEntry(idx=number, delete=True) for number, one in enumerate(titles) if one in titles[:number]]
    return Legend("b", again, txPr=_text(9))


def _inner(left: float, top: float, wide: float, high: float) -> Layout:
    """The place of the lines in the frame, in shares of it."""
    place = ManualLayout(layoutTarget="inner", xMode="edge", yMode="edge", x=left, y=top, w=wide, h=high)
    return Layout(manualLayout=place)


def _entitle(axis: Any, title: str) -> None:
    axis.title = title
    axis.title.overlay = False
    for paragraph in axis.title.tx.rich.p:
        paragraph.pPr = _look(9, bold=True)
        for run in paragraph.r:
            run.rPr = _look(9, bold=True).defRPr


def to_scale(book: Book, ws: Worksheet, ref: str, wanted: chart.ScaleDrawing) -> None:
    """Put a drawing to scale with its corner at the first cell of `ref`; it keeps its own size."""
    drawn = untitled()
    drawn.style, drawn.scatterStyle = None, "lineMarker"
    for line in wanted.series:
        drawn.series.append(_series(book, ws, line))
    for axis, top in ((drawn.x_axis, wanted.frame_wide), (drawn.y_axis, wanted.frame_high)):
        axis.delete = False  # a deleted axis loses its range in some programs
        axis.scaling.min, axis.scaling.max = 0, top
        axis.majorGridlines = None
        axis.number_format, axis.txPr = ";;;", _text(1)  # no figures: they would count scaled units
        axis.majorTickMark = axis.minorTickMark = "none"
        axis.graphicalProperties = GraphicalProperties(ln=LineProperties(noFill=True))
    drawn.legend = None
    side = (1 - wanted.plot_wide) / 2
    drawn.layout = _inner(side, 0.01, wanted.plot_wide, wanted.plot_high)
    drawn.graphical_properties = GraphicalProperties(noFill=True, ln=LineProperties(noFill=True))
    column, row, _, _ = corners(ref)
    anchor = OneCellAnchor(  # a size of its own, since the widths of columns differ from program to program
        _from=AnchorMarker(col=column - 1, row=row - 1),
        ext=XDRPositiveSize2D(int(wanted.wide_cm * CENTIMETRE), int(wanted.high_cm * CENTIMETRE)),
    )
    put_chart(ws, drawn, anchor)
