"""Charts as data: which named cells they draw and how; `paper.chart_drawing` draws them."""

from __future__ import annotations

from typing import Literal, NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.tree import Node

INK, GREY = "000000", "555555"

Dash = Literal["solid", "dot", "dash", "lgDash", "dashDot", "lgDashDot", "sysDot", "sysDash", "sysDashDot"]
Mark = Literal["none", "circle", "diamond", "square", "star", "triangle", "plus", "x"]
"""Words of the file format."""


class Stroke(NamedTuple):
    """How a series is drawn; `width` in points, 0 for marks alone."""

    width: float
    dash: Dash = "solid"
    ink: str = INK
    mark: Mark = "none"
    mark_size: int = 5
    mark_filled: bool = True


READINGS = Stroke(1.0, mark="circle")
OUTSIDE = Stroke(0, mark="x", mark_size=11, mark_filled=False)
SIZE_LIMIT = Stroke(2.25, "dash", "8C8C8C")
NATURAL_LIMIT = Stroke(1.25, "sysDot")
UNDRAWN = Stroke(0)
MEAN = Stroke(0.75, "lgDashDot", GREY)


class Stretch(NamedTuple):
    """Cells of a named column, from the `first` of them to the `last`, counted from 1; 0 is its end."""

    name: str
    first: int = 1
    last: int = 0


class Label(NamedTuple):
    """A series' name beside one of its points, counted from 1 (0: the last): r, l, t or b of it."""

    side: str = "r"
    point: int = 0


class Series(NamedTuple):
    """One line: its name, its points across and up, how it is drawn, where its name stands beside it."""

    title: str
    x: Stretch | str
    y: Stretch | str
    stroke: Stroke
    label: Label | None = None


class Chart(NamedTuple):
    """Lines over axes with figures; `form` is the number format of the axis that goes up, `deep` how much of the height
    is for the lines.

    Of series with the same title the first alone stands in the legend. A bare chart has neither legend nor axes but
    their figures, and is seen through: with nothing to draw and formats that hide its figures then, the words in the
    cells under it are read.
    """

    series: tuple[Series, ...]
    across: str
    up: str
    form: str
    deep: float
    form_across: str = "0"
    bare: bool = False
    left: float = 0.11
    wide: float = 0.86
    ends: tuple[float, float] | None = None  # of the axis across; none: from zero to what the program finds
    under: Figure | Node | None = None  # words in the cells under it, for when there is nothing to draw


class ScaleDrawing(NamedTuple):
    """Lines to scale without axes: a frame of fixed size, in the lengths and shares that the points were made for."""

    series: tuple[Series, ...]
    frame_wide: float
    frame_high: float
    wide_cm: float
    high_cm: float
    plot_wide: float
    plot_high: float
