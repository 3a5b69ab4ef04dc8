"""The sheet Charts: individuals and moving range of the pitch diameter, capability, and when to regrind.

Everything on the page speaks about the same readings: those of the first 100 rows of the log, or of 100 rows from the
row that is typed. Rows without a usable pitch diameter are passed over, the rest keep the order of the log.
"""

from __future__ import annotations

from functools import partial

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import the
from workbook_template.figures.tree import Node
from workbook_template.sheets import chart, record_head
from workbook_template.sheets.chart import Chart, Label, Series, Stretch
from workbook_template.sheets.chart_figures import (
    ENOUGH,
    FIGURES,
    INDICES,
    LEVELS,
    LOG_HEAD,
    ONE_SIDE,
    PLACES,
    RANGE_LIMIT,
    STATISTICS,
    TREND,
    TREND_ENOUGH,
    WANTED,
    WINDOW,
    Level,
    capability_words,
    columns,
    nothing_words,
    order_over,
    page_words,
    stability_words,
    trend_words,
)
from workbook_template.sheets.inputs import Check, Input
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Line,
    Made,
    Sheet,
    Table,
    beside,
    block,
    deep,
    entry,
    gap,
    line,
    picture,
    shown,
    stack,
    words,
)

SHEET = "Charts"

SOURCE = (
    f"Natural limits: mean and 2.66 mean moving ranges; {RANGE_LIMIT} mean ranges for the range (W. A. Shewhart; "
    f"NIST/SEMATECH e-Handbook 6.3.2.2). Cp, Cpk with 95 % intervals: 6.1.6, from {ENOUGH} readings on (practice), "
    f"better {WANTED}. {ONE_SIDE} in a row on one side: 6.3.2. Trend: least squares (4.1.4.1), its slope other than "
    f"zero at 99 % and there are {TREND_ENOUGH} readings; a limit is reached within three standard "
    "deviations of the line (practice)."
)

FIRST = Input(
    "chart_first", "First log row on the charts", "log row that the charts start with", "count",
    Check("whole", str(LOG_HEAD + 1), f"ROWS(log_pitch_diameter)+{LOG_HEAD}", "between",
          f"Type the number of a row of the sheet Log, from {LOG_HEAD + 1} on."),
    f"Number of the row on the sheet Log that the charts start with. Empty: {LOG_HEAD + 1}, the first. "
    "After a regrind or a new set-up, type the row of the first part after it.",
)  # fmt: skip


def _behind() -> tuple[Table, Table]:
    """The columns behind the charts, a row of the log each, and the points of the level lines."""
    of_rows = (
        Column(below.name.removeprefix("chart_"), below.name, below.meaning, formula=below.formula, top=top.formula,
               dimension=below.dimension, look="note_9", role="working")
        for top, below in zip(columns(top=True), columns(top=False))
    )  # fmt: skip
    levels = (
        Column(one.name.removeprefix("chart_"), one.name, one.meaning, look="note_9", role="working",
               formula=partial(_point, one))
        for one in LEVELS
    )  # fmt: skip
    return Table("chart", tuple(of_rows), WINDOW), Table("chart", tuple(levels), 3)


def _point(level: Level, number: int) -> Node:
    return level.points[number - 1]


def _points(title: str, x: str, y: str, stroke: chart.Stroke) -> Series:
    return Series(title, Stretch(x), Stretch(y), stroke)


def _of_size(title: str, y: str, side: str) -> Series:
    """A limit of size: its name stands over or under it near the left, away from that of a natural limit."""
    return Series(title, Stretch("chart_line_x"), Stretch(y), chart.SIZE_LIMIT, Label(side, 2))


def _own(title: str, y: str, stroke: chart.Stroke) -> Series:
    """A line that the readings give: its name stands where it ends."""
    return Series(title, Stretch("chart_line_own_x"), Stretch(y), stroke, Label("r"))


def _scale(y: str) -> Series:
    """Never drawn. Without readings it alone counts for the figures of the axis, which then do not show."""
    return Series("scale", Stretch("chart_scale_x"), Stretch(y), chart.UNDRAWN)


INDIVIDUALS = (
    _scale("chart_scale_y"),
    _of_size("largest", "chart_line_max", "t"),
    _of_size("smallest", "chart_line_min", "b"),
    _own("mean", "chart_line_mean", chart.MEAN),
    _own("natural limit", "chart_line_high", chart.NATURAL_LIMIT),
    _own("natural limit", "chart_line_low", chart.NATURAL_LIMIT),
    _points("reading", "chart_across", "chart_y", chart.READINGS),
    _points("outside the natural limits", "chart_out_across", "chart_resting_y", chart.OUTSIDE),
)
RANGES = (
    _scale("chart_scale_range"),
    _own("mean", "chart_line_range", chart.MEAN),
    _own("limit", "chart_line_range_high", chart.NATURAL_LIMIT),
    _points("moving range", "chart_range_across", "chart_range_y", chart.READINGS),
    _points("over its limit", "chart_out_range_across", "chart_range_y", chart.OUTSIDE),
)
LINES, RANGE_LINES, LINE = 10, 6, 15.75


def _drawn(series: tuple[Series, ...], nothing: Figure | None, deep_by: float) -> Chart:
    """A chart without axes of its own: figures that only show from zero up, and lines with names."""
    return Chart(
        series, "", "", '[>=0]0.0000;""', deep_by, ";;;", bare=True, left=1 / 12, wide=PLACES / 12, ends=(0, PLACES),
        under=nothing,
    )  # fmt: skip


def _orders(named: bool) -> Line:
    """Under a chart: which reading stands over each column of the page, by its order."""
    places = range(1, PLACES + 1)
    if not named:
        return line(gap(1), *(words(1, the[f"chart_order_{place}"], "note_centred") for place in places), height=NOTE)
    orders = (
        Figure(f"chart_order_{place}", f"order of the reading over column {place} of the charts", order_over(place))
        for place in places
    )
    return line(gap(1), *(shown(1, one, "note_centred") for one in orders), height=NOTE)


NOTHING = Figure("chart_nothing", "what stands in place of the first chart while it has no point", nothing_words())


def _figures() -> Block:
    """What the readings do, and how that stands against the limits of size."""
    own = block("What the readings do", *(line(words(3, label), shown(2, one)) for label, one in FIGURES.items()))
    heads = (("", 2, ""), ("", 1, ""), ("95 % from", 2, "_right"), ("to", 1, "_right"))
    against = block(
        "Against the limits of size",
        line(*(words(wide, text, f"column_head{look}") for text, wide, look in heads), height=NOTE),
        *(
            line(words(2, label), *(shown(wide, one._replace(dimension="0.00"), look)
                                    for one, wide, look in zip(figures, (1, 2, 1), ("result", *["figure_right"] * 2))))
            for label, figures in INDICES.items()
        ),
        *(line(words(4, label), shown(2, one)) for label, one in TREND.items()),
    )  # fmt: skip
    return beside(own, gap(1), against)


def sheet(_: Made) -> Sheet:
    """One page: two charts, what they say, the figures."""
    told = Figure("charts_words", "part, job, unit and rows in words", page_words())
    sentences = (
        (Figure("stability_words", "parts outside the natural limits, in words", stability_words()), 3),
        (Figure("capability_words", "capability, or why there is none", capability_words()), 3),
        (Figure("trend_words", "trend: regrind, reset, or none", trend_words()), 2),
    )
    page = stack(
        block(None, *record_head.lines("callout_charts", told, 12)),
        block(
            None,
            line(
                words(4, FIRST.label),
                entry(2, FIRST, look="cell_number"),
                words(6, f"empty: {LOG_HEAD + 1}. After a regrind: the row of the next part.", "aside"),
            ),
        ),
        block(
            "Pitch diameter of each part, in the order logged",
            *deep(picture(12, _drawn(INDIVIDUALS, NOTHING, 0.94), LINES), LINE),
            _orders(True),
        ),
        block(
            "Moving range: the step from the part before",
            *deep(picture(12, _drawn(RANGES, None, 0.9), RANGE_LINES), LINE),
            _orders(False),
        ),
        block(
            None,
            *(one for figure, lines in sentences for one in deep(shown(12, figure, "row_result", lines=lines), LINE)),
        ),
        _figures(),
        block(None, line(words(12, SOURCE, "note_9"), height=3 * NOTE)),
    )
    return Sheet(SHEET, (page,), STATISTICS, _behind(), user="record")
