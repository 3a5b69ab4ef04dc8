"""The scale drawing on the sheet Setup: thread, tool tip and wire for the figures in use.

Three grooves stand side by side. The left one holds the tool, the middle one the sharp V that its flanks would meet
in, the right one the wire at its seat. The points are scaled into a frame of fixed size with the proportions of the
plot, so that both axes have the same scale whatever the thread is. Lengths run from the sharp bottom of the middle
groove: along the axis (the headstock on the left), and up out of the material.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, here, known, node, say, the, when, xl
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets.chart import Dash, ScaleDrawing, Series, Stretch, Stroke
from workbook_template.sheets.layout import Column, Table
from workbook_template.sheets.threads_table import INSIDE, PUSH, UNLIKE

WIDE_CM, HIGH_CM = 12.9, 3.8
PLOT_WIDE, PLOT_HIGH = 0.97, 0.97
"""The plot as a share of the chart."""

FRAME_WIDE = 100.0
FRAME_HIGH = round(FRAME_WIDE * HIGH_CM * PLOT_HIGH / (WIDE_CM * PLOT_WIDE), 4)
"""The axes' fixed ranges, in the proportions of the plot."""

MARGIN = 1.5
ARC, CIRCLE = 8, 24
"""Pieces of the tip's arc and of the wire's circle."""

Point = tuple[Node, Node]
"""Along and up, as formulas."""


class Drawn(NamedTuple):
    """One line of the drawing: its points, when it is drawn, width in points, dash, grey or black."""

    key: str
    title: str
    points: tuple[Point, ...]
    width: float
    dash: Dash = "solid"
    ink: str = "000000"
    needs: Node = the.drawing_on


HEADSTOCK, TAILSTOCK = xl.RADIANS(the.flank_headstock), xl.RADIANS(the.flank_tailstock)
"""The flanks of a groove on the left and on the right."""


def _on_circle(along: Node, up: Node, radius: Node, angle: Node) -> Point:
    return along + radius * xl.COS(angle), up + radius * xl.SIN(angle)


def _touching(radius: Node) -> Point:
    """Centre of a circle that touches both flanks of the middle groove."""
    both = xl.SIN(xl.RADIANS(the.flank_leading + the.flank_trailing))
    along = radius * (xl.SIN(TAILSTOCK) - xl.SIN(HEADSTOCK)) / both
    return along, radius * (xl.COS(HEADSTOCK) + xl.COS(TAILSTOCK)) / both


def _root(groove: int) -> tuple[Point, ...]:
    """The tip's outline in a groove, from the left flank to the right."""
    points = []
    for piece in range(ARC + 1):
        along_flat = the.tip_flat * (node(piece) / ARC - xl.TAN(HEADSTOCK) / the.flank_spread)
        centre = groove * the.pitch + the.tip_along + along_flat
        turned = (180 - the.flank_leading - the.flank_trailing) * piece / ARC
        points.append(_on_circle(centre, the.tip_up, the.tip_round, xl.RADIANS(180 + the.flank_headstock + turned)))
    return tuple(points)


def _flank(groove: int, side: str, up: Node) -> Point:
    """The point of a groove's left or right flank at a height."""
    bottom = groove * the.pitch
    return (bottom - up * xl.TAN(HEADSTOCK) if side == "left" else bottom + up * xl.TAN(TAILSTOCK)), up


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
    return when(all_of(the.tip_kind_used.same(kind), known(the.tip_size)), the.tip_size, 0)


def _working() -> tuple[Figure, ...]:
    nose, wire = _touching(the.tip_round), _touching(the.wire_used / 2)
    leaning = the.crest_up * (xl.TAN(TAILSTOCK) - xl.TAN(HEADSTOCK)) / 2
    top = xl.MAX(the.tool_up, when(the.wire_drawn, the.wire_up + the.wire_used / 2, 0))
    scale = xl.MIN(FRAME_WIDE / (3.2 * the.pitch), (FRAME_HIGH - 2 * MARGIN) / top)
    return (
        Figure("drawing_on", "whether there is a thread to draw", known(the.depth)),
        Figure("flank_headstock", "angle of a groove's flank on the side of the headstock",
               _drawn(when(PUSH, the.flank_trailing, the.flank_leading))),
        Figure("flank_tailstock", "angle of the other", _drawn(when(PUSH, the.flank_leading, the.flank_trailing))),
        Figure("wire_drawn", "whether there is a wire to draw", all_of(the.drawing_on, known(the.wire_constant))),
        Figure("crest_up", "crest over the sharp bottom",
               _drawn(xl.MIN(the.depth_of_sharp, the.pitch / the.flank_spread))),
        Figure("tool_up", "top of the tool as drawn", _drawn(the.crest_up + 0.22 * the.pitch)),
        Figure("tip_round", "nose radius of the tip, 0 where it has none",
         _tip("nose radius")),
        Figure("tip_flat", "flat of the tip, 0 where it has none", _tip("flat")),
        Figure("tip_along", "centre of the nose, along", _drawn(nose[0])),
        Figure("tip_up", "centre of the nose or height of the flat, over the sharp bottom",
         _drawn(the.tip_flat / the.flank_spread + nose[1])),
        Figure("wire_along", "centre of the wire, along", when(the.wire_drawn, wire[0])),
        Figure("wire_up", "centre of the wire over the sharp bottom", when(the.wire_drawn, wire[1])),
        Figure("drawing_middle", "middle of the drawing, along", _drawn(leaning)),
        Figure("drawing_scale", "frame units per length, the same along and up", _drawn(scale)),
    )  # fmt: skip


WORKING = _working()
"""The figures behind the drawing."""

TITLE = Figure("drawing_title", "heading of the drawing; of unlike flanks, what to compare it with", when(
    UNLIKE,
    say("Headstock on the left; flanks of ", xl.MIN(the.flank_leading, the.flank_trailing), " and ",
        xl.MAX(the.flank_leading, the.flank_trailing), "°: compare with the part's drawing"),
    _drawn(say("Thread, tool and wire to scale, headstock on the left",
               when(INSIDE, "; axis below"))),
))  # fmt: skip

KEY = Figure("drawing_key", "what the lines of the drawing are, once there is one", _drawn(say(
    "Heavy: thread. Long dashes: blank. Dash and dot: pitch line. Short dashes: tool tip on the left, sharp V.",
    when(the.wire_drawn, " Circle: wire."),
)))  # fmt: skip
"""In words under the drawing: the legend of a chart stands there before anything is drawn."""

UP = MARGIN + the.drawing_scale * here.up
IN_FRAME = {
    "x": when(known(here.along), FRAME_WIDE / 2 + the.drawing_scale * (here.along - the.drawing_middle), 0),
    "y": when(known(here.up), when(the.outward < 0, FRAME_HIGH - UP, UP), 0),
}
"""A point in the frame. What must not be seen rests in the corner, a line without length."""


def _points() -> list[tuple[Drawn, Point]]:
    return [(one, point) for one in LINES for point in one.points]


def worked() -> Table:
    """The points of every line, one under another."""
    points = _points()

    def of(part: int) -> Callable[[int], Node]:
        return lambda row: when(points[row - 1][0].needs, points[row - 1][1][part])

    meaning = "points of the drawing: "
    return Table("drawing", (
        Column("line", "line", "the line", formula=lambda row: say(points[row - 1][0].key), named=False),
        Column("along", "along", f"{meaning}along the axis from the sharp bottom of the middle groove", formula=of(0),
               dimension="0.0000", role="working"),
        Column("up", "up", f"{meaning}out of the material from the sharp bottom", formula=of(1), dimension="0.0000",
               role="working"),
        Column("x", "x", f"{meaning}in the frame, to the right", formula=IN_FRAME["x"], dimension="0.0000",
               role="working"),
        Column("y", "y", f"{meaning}in the frame, up", formula=IN_FRAME["y"], dimension="0.0000", role="working"),
    ), len(points))  # fmt: skip


def drawn() -> ScaleDrawing:
    """The chart over those points."""
    series, start = [], 1
    for one in LINES:
        last = start + len(one.points) - 1
        x, y = (Stretch(f"drawing_{axis}", start, last) for axis in "xy")
        series.append(Series(one.title, x, y, Stroke(one.width, one.dash, one.ink)))
        start = last + 1
    return ScaleDrawing(tuple(series), FRAME_WIDE, FRAME_HIGH, WIDE_CM, HIGH_CM, PLOT_WIDE, PLOT_HIGH)
