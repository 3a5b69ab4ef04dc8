"""What the sheet Charts computes: columns behind the charts, statistics, capability, trend, and all of it in words.

A reading counts where the log has a pitch diameter that is neither replaced nor to be checked, in a row that counts:
one that repeats a part is no reading more. Its order is the number of readings so far.
"""

from __future__ import annotations

from typing import NamedTuple

from sheetfuncs import inspection
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    blank,
    first,
    fixed,
    given,
    here,
    known,
    no,
    node,
    say,
    so_far,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import log_rows
from workbook_template.trade import verdict

WINDOW = 100
ENOUGH, WANTED = inspection.TO_JUDGE_STABILITY, inspection.ENOUGH
ONE_SIDE, TREND_ENOUGH = inspection.ON_ONE_SIDE, inspection.FEWEST_FOR_TREND
NAMED = 8
LOG_HEAD = log_rows.HEAD
"""The row over the first of the log."""

NOISE = 1e-9
"""A reading on a natural limit is not outside it, one on the mean on neither side, whatever the last bits say.

Nor do readings spread that are all the same: STDEV gives some programs 1E-16 for them.
"""

LINE_DIGITS, PARTS_DIGITS = 7, 6
"""Readings on one line are zero from it, and 19 parts from a limit not 18, whatever the last bits say: a small
difference of large squares is left of them, and a root makes 3E-8 mm of that."""

MEAN_RANGE_OF_TWO = inspection.MEAN_RANGE_OF_TWO
RANGE_LIMIT = inspection.RANGE_LIMIT

_N, _MEAN, _S = the.chart_n, the.chart_mean, the.chart_s
_TYPED, _CP, _CPK = the.chart_first, the.capability_cp, the.capability_cpk


def columns(top: bool) -> tuple[Figure, ...]:
    """The columns behind the charts, from K: their formulas in the top row, or in every other."""
    return (*_readings(top), *_points(top), *_counted(top))


def _before(top: bool, name: str, start: Part) -> Node:
    """A column in the row above; what it begins with in the top row."""
    return node(start) if top else above[name]


def _marked(test: Node) -> Node:
    return when(test, 1, 0)


_IS_READING, _IS_RANGE = known(here.value), known(here.range)
_WORD = xl.INDEX(the.log_pitch_diameter_result, here.at)


def _readings(top: bool) -> tuple[Figure, ...]:
    """The readings that count, in their order."""
    pitch, start = xl.INDEX(the.log_pitch_diameter, here.at), the.chart_start
    counts = no(log_rows.repeats(xl.INDEX(the.log_words, here.at)))
    judged = all_of(known(pitch), _WORD.differs("replaced"), _WORD.differs("check entry"), counts)
    usable = xl.IFERROR(judged, False)  # a row with an error value must not take every other from the charts
    next_row = when(known(above.at), when(above.at < xl.ROWS(the.log_pitch_diameter), above.at + 1))
    step = when(all_of(_IS_READING, known(above.carried)), xl.ABS(here.value - above.carried))
    return (
        Figure("chart_at", "row of the log", when(known(start), start) if top else next_row),
        Figure("chart_value", "pitch diameter, where usable", when(known(here.at), when(usable, pitch)), "length"),
        Figure("chart_count", "readings so far", _before(top, "count", 0) + _marked(_IS_READING)),
        Figure("chart_carried", "last usable pitch diameter so far",
               when(_IS_READING, here.value, _before(top, "carried", "")), "length"),
        Figure("chart_range", "moving range", node("") if top else step, "length"),
    )  # fmt: skip


def _points(top: bool) -> tuple[Figure, ...]:
    """What is drawn of each, and the marks of those outside."""
    outside = any_of(here.value > the.chart_natural_high + NOISE, here.value < the.chart_natural_low - NOISE)
    return (
        Figure("chart_x", "across, individuals", first((here.count > 0, here.count), (_N > 0, 1), otherwise=-1)),
        Figure("chart_y", "up, individuals", when(known(here.carried), here.carried, the.chart_resting), "length"),
        Figure("chart_range_x", "across, moving range",
               when(_IS_RANGE, here.count, _before(top, "range_x", when(_N > 1, 2, -1)))),
        Figure("chart_range_y", "up, moving range",
               when(_IS_RANGE, here.range, _before(top, "range_y", the.chart_range_resting)), "length"),
        Figure("chart_out_mark", "1 where outside the natural limits",
               when(all_of(_IS_READING, _N > 1), _marked(outside), 0)),
        Figure("chart_range_mark", "1 where the range is over its limit",
               when(_IS_RANGE, _marked(here.range > the.chart_range_high + NOISE), 0)),
        Figure("chart_out_x", "across, mark of a reading outside", when(here.out_mark.same(1), here.count, -1)),
        Figure("chart_out_range_x", "across, mark of a range outside", when(here.range_mark.same(1), here.count, -1)),
        Figure("chart_resting_y", "up, marks of readings",
               when(here.out_mark.same(1), here.value, the.chart_resting), "length"),
        Figure("chart_across", "columns of the page across, individuals", placed(here.x)),
        Figure("chart_range_across", "columns of the page across, moving range", placed(here.range_x)),
        Figure("chart_out_across", "columns of the page across, mark of a reading outside", placed(here.out_x)),
        Figure(
            "chart_out_range_across", "columns of the page across, mark of a range outside", placed(here.out_range_x)
        ),
    )  # fmt: skip


def _counted(top: bool) -> tuple[Figure, ...]:
    """What is counted and named: readings on one side of the mean, parts outside."""
    serial, side = xl.INDEX(the.log_serial, here.at), _before(top, "side", 0)
    part = when(given(serial), serial & "", say("row ", here.at + LOG_HEAD))
    longer_side = first(
        (here.value > _MEAN + NOISE, xl.MAX(0, side) + 1),
        (here.value < _MEAN - NOISE, xl.MIN(0, side) - 1),
        otherwise=0,
    )

    def listed(name: str, mark: str) -> Node:
        """The parts with a mark, as far as they are named, behind a colon: an empty text is stored in every row."""
        so_many, others = xl.SUM(so_far[mark]), _before(top, name, ":")
        longer = say(others, when(so_many > 1, ", ", " "), part)
        return when(here[mark].same(1), when(so_many > NAMED, others, longer), others)

    return (
        Figure("chart_side", "readings in a row over the mean, less than zero under it",
               when(_IS_READING, longer_side, side)),
        Figure("chart_moment", "order times difference from the mean",
               when(_IS_READING, here.count * (here.value - _MEAN))),
        Figure("chart_doubt_mark", "1 where the instrument is to be checked",
               when(_IS_READING, _marked(_WORD.same("check instrument")), 0)),
        Figure("chart_out_list", "parts outside so far", listed("out_list", "out_mark")),
        Figure("chart_range_list", "parts whose range is outside so far", listed("range_list", "range_mark")),
    )  # fmt: skip


class Level(NamedTuple):
    """A line from end to end of a chart, or its place across: its left end, a place near it, its right end."""

    name: str
    meaning: str
    points: tuple[Node, Node, Node]


PLACES = 9
"""Columns of the page that a chart is wide; one reading stands over the middle of each, or several share it.

So both charts are as wide as their readings, which no program does of its own accord by their figures.
"""
NEAR_THE_LEFT = 1.5
"""Where the names of the limits of size stand."""


def _across(name: str, meaning: str, drawn: Node) -> Level:
    left, near, right = (when(drawn, place, -1) for place in (0, NEAR_THE_LEFT, PLACES))
    return Level(name, meaning, (left, near, right))


def placed(count: Node) -> Node:
    """Where the reading of that order stands, columns from the left of the chart; what is not to be seen at -1."""
    return when(count > 0, (count - 1) / the.chart_step + 0.5, -1)


def order_over(place: int) -> Node:
    """The order of the reading in the middle of a column of the page, from 1; nothing without readings."""
    return when(_N > 0, (place - 1) * the.chart_step + 1)


def _level(name: str, meaning: str, height: Node, resting: Part = the.chart_resting) -> Level:
    up = when(all_of(known(height), _N > 0), height, resting)
    return Level(name, meaning, (up, up, up))


UNSEEN = node(-1000)
"""Height of all points where there is nothing to draw: the figures of an axis show from zero up alone."""


def _for_scale(resting: Node, drawn: Node) -> tuple[Node, Node, Node]:
    """Two heights a little apart while nothing is drawn, so that no axis begins at zero then."""
    return resting, resting, when(drawn, resting, UNSEEN - 1)


_LARGEST, _SMALLEST = verdict.limit("pitch_diameter", "max"), verdict.limit("pitch_diameter", "min")
LEVELS = (
    Level("chart_scale_x", "across, points that are never drawn and always count for the scale", (node(0),) * 3),
    Level("chart_scale_y", "up, the same", _for_scale(the.chart_resting, _N > 0)),
    Level("chart_scale_range", "up, the same of the moving range", _for_scale(the.chart_range_resting, _N > 1)),
    _across("chart_line_x", "across, points of the limits of size", all_of(the.chart_limits, _N > 0)),
    _across("chart_line_own_x", "across, points of the lines that the readings give", _N > 1),
    _level("chart_line_max", "up, largest pitch diameter", _LARGEST),
    _level("chart_line_min", "up, smallest pitch diameter", _SMALLEST),
    _level("chart_line_mean", "up, mean", _MEAN),
    _level("chart_line_high", "up, upper natural limit", the.chart_natural_high),
    _level("chart_line_low", "up, lower natural limit", the.chart_natural_low),
    _level("chart_line_range", "up, mean moving range", the.chart_range_mean, the.chart_range_resting),
    _level("chart_line_range_high", "up, limit of the moving range", the.chart_range_high, the.chart_range_resting),
)


def _at_reading(count: int, column: Node, otherwise: Part) -> Node:
    """The value of a column at the reading of that order."""
    return when(the.chart_n > count - 1, xl.INDEX(column, xl.MATCH(count, the.chart_count, 0)), otherwise)


LOG_LAST = xl.ROWS(the.log_pitch_diameter) + LOG_HEAD
_IN_LOG = all_of(_TYPED > LOG_HEAD, _TYPED <= LOG_LAST, _TYPED.same(xl.INT(_TYPED)))
_FREE = _N - 1
_ABOUT_LINE = _FREE * _S**2 - the.trend_slope**2 * the.trend_spread
_STEEP = xl.ABS(the.trend_slope) * xl.SQRT(the.trend_spread)
_BY_CHANCE = xl.TINV(inspection.TREND_LEVEL, xl.MAX(1, _N - 2)) * the.trend_s
_AHEAD = when(the.trend_slope > 0, _LARGEST - the.trend_now, the.trend_now - _SMALLEST)
STATISTICS = (
    Figure("chart_start", "log row that the charts start with, counted from the first of the log",
           first((blank(_TYPED), 1), (known(_TYPED), when(_IN_LOG, _TYPED - LOG_HEAD)))),
    Figure("chart_resting", "height of points that are not to be seen", _at_reading(1, the.chart_value, UNSEEN)),
    Figure("chart_range_resting", "height of ranges that are not to be seen", _at_reading(2, the.chart_range, UNSEEN)),
    Figure("chart_step", "readings from one column of the page to the next",
           xl.MAX(1, -xl.INT((1 - _N) / (PLACES - 1)))),
    Figure("chart_out", "readings outside the natural limits", xl.SUM(the.chart_out_mark)),
    Figure("chart_range_out", "ranges over their limit", xl.SUM(the.chart_range_mark)),
    Figure("chart_run", "most readings in a row on one side of the mean",
           xl.MAX(xl.MAX(the.chart_side), -xl.MIN(the.chart_side))),
    Figure("chart_doubtful", "readings by an instrument that is to be checked", xl.SUM(the.chart_doubt_mark)),
    Figure("chart_limits", "whether there are two limits to judge by",
           all_of(known(_LARGEST), known(_SMALLEST))),
    Figure("trend_spread", "sum of the squares of the order less its mean", _N * (_N**2 - 1) / 12),
    Figure("trend_s", "standard deviation about the line",
           when(all_of(known(the.trend_slope), _N > 2),
                xl.ROUND(xl.SQRT(xl.MAX(0, _ABOUT_LINE) / (_N - 2)), LINE_DIGITS))),
    Figure("trend_counts", "whether the slope differs from zero",
           when(all_of(known(the.trend_s), _N >= TREND_ENOUGH), _STEEP > _BY_CHANCE + NOISE, False)),
    Figure("trend_now", "the line at the last reading",
           when(known(the.trend_slope), _MEAN + the.trend_slope * _FREE / 2)),
    Figure("trend_room", "way of the line to the limit ahead, less three standard deviations",
           when(all_of(the.trend_counts, the.chart_limits), _AHEAD - 3 * the.trend_s)),
)  # fmt: skip
"""The figures behind the page."""

_THREE_S = 3 * the.chart_range_mean / MEAN_RANGE_OF_TWO
FIGURES = {
    "Readings": Figure("chart_n", "usable pitch diameters on the charts", xl.MAX(the.chart_count), "count"),
    "Mean": Figure("chart_mean", "mean of the readings", when(_N > 0, xl.AVERAGE(the.chart_value)), "wire"),
    "Standard deviation": Figure(
        "chart_s", "standard deviation of the readings", when(_N > 1, xl.STDEV(the.chart_value)), "wire"),
    "Mean moving range": Figure(
        "chart_range_mean", "mean of the moving ranges", when(_N > 1, xl.AVERAGE(the.chart_range)), "wire"),
    "Upper natural limit": Figure(
        "chart_natural_high", "upper natural limit of the readings", when(_N > 1, _MEAN + _THREE_S), "wire"),
    "Lower natural limit": Figure(
        "chart_natural_low", "lower natural limit of the readings", when(_N > 1, _MEAN - _THREE_S), "wire"),
    "Limit of the range": Figure(
        "chart_range_high", "upper limit of the moving range", when(_N > 1, RANGE_LIMIT * the.chart_range_mean),
        "wire"),
}  # fmt: skip
"""What the readings do, by the label on the page."""


def _cp_end(chance: float) -> Node:
    return when(known(_CP), _CP * xl.SQRT(xl.CHIINV(chance, _FREE) / _FREE))


_CPK_OFF = xl.NORMSINV(0.975) * xl.SQRT(1 / (9 * _N) + _CPK**2 / (2 * _FREE))
INDICES = {
    "Cp": (
        Figure("capability_cp", "spread of the tolerance over that of the readings",
               when(all_of(_N > 1, the.chart_limits),
                    when(_S > NOISE, (_LARGEST - _SMALLEST) / (6 * _S)))),
        Figure("capability_cp_from", "lower end of the 95 % interval of Cp", _cp_end(0.975)),
        Figure("capability_cp_to", "upper end of the 95 % interval of Cp", _cp_end(0.025)),
    ),
    "Cpk": (
        Figure("capability_cpk", "room from the mean to the nearer limit over half the spread of the readings",
               when(known(_CP), xl.MIN(_LARGEST - _MEAN, _MEAN - _SMALLEST) / (3 * _S))),
        Figure("capability_cpk_from", "lower end of the 95 % interval of Cpk", when(known(_CPK), _CPK - _CPK_OFF)),
        Figure("capability_cpk_to", "upper end of the 95 % interval of Cpk", when(known(_CPK), _CPK + _CPK_OFF)),
    ),
}  # fmt: skip
"""Each with the ends of its interval, by the label on the page."""

TREND = {
    "Slope per part": Figure(
        "trend_slope", "change of the pitch diameter from part to part, by least squares",
        when(_N > 1, xl.SUM(the.chart_moment) / the.trend_spread), "0.0000000"),
    "Parts until the limit": Figure(
        "trend_parts_left", "parts until the trend comes near a limit",
        when(known(the.trend_room),
             xl.MAX(0, xl.INT(xl.ROUND(the.trend_room / xl.ABS(the.trend_slope), PARTS_DIGITS)))), "count"),
}  # fmt: skip

_NO_ROW = (
    no(known(the.chart_start)),
    say(f"The first log row is a whole number, {LOG_HEAD + 1} to ", LOG_LAST, ", or empty."),
)
_NO_READINGS = (_N.same(0), "")
"""The cells of the chart say it."""
_OUT = the.chart_out + the.chart_range_out


def stability_words() -> Node:
    """Which parts lie outside the natural limits."""

    def parts(title: str, count: Node, listed: Node) -> Node:
        more = when(count > NAMED, say(" and ", count - NAMED, " more"))
        return when(count > 0, say(title, xl.INDEX(listed, WINDOW), more, ". "))

    return first(
        _NO_ROW,
        _NO_READINGS,
        (_N < 2, "One reading: the charts need at least two."),
        (all_of(_OUT.same(0), the.chart_run < ONE_SIDE),
         "No reading lies outside the natural limits, no step between two is over its limit."),
        otherwise=say(
            parts("Outside the natural limits", the.chart_out, the.chart_out_list),
            parts("Step from the part before over its limit", the.chart_range_out, the.chart_range_list),
            when(the.chart_run >= ONE_SIDE, say(the.chart_run, " in a row on one side of the mean. ")),
            "Look for what changed there.",
        ),
    )  # fmt: skip


def capability_words() -> Node:
    """The capability, or why there is none."""
    these_alone = "The figures describe these parts alone."
    told = say(
        "Cpk ", fixed(_CPK, 2), " from ", _N, " readings; the true one may lie between ",
        fixed(the.capability_cpk_from, 2), " and ", fixed(the.capability_cpk_to, 2),
        " (95 %). Stable as far as the charts show.", when(_N < WANTED, f" {WANTED} readings or more are wanted."),
    )  # fmt: skip
    found = first(
        (no(the.chart_limits), "Capability needs a largest and a smallest pitch diameter."),
        (_N < 2, "Capability needs more readings."),
        (no(known(_CP)), "All readings are the same: no spread to compute from. Check the entries."),
        (_N < ENOUGH, say("NOT A CAPABILITY: ", _N, f" readings, {ENOUGH} are the least. {these_alone}")),
        (any_of(_OUT > 0, the.chart_run >= ONE_SIDE),
         f"NOT A CAPABILITY: the charts show no stable process. {these_alone}"),
        (the.trend_counts, f"NOT A CAPABILITY: the readings drift. {these_alone}"),
        otherwise=told,
    )  # fmt: skip
    doubtful = say(" Readings by an instrument to be checked: ", the.chart_doubtful, ".")
    return first(_NO_READINGS, otherwise=say(found, when(the.chart_doubtful > 0, doubtful)))


def trend_words() -> Node:
    """When to regrind or reset the tool, or that there is no trend."""
    wears = (the.trend_slope > 0).same(the.thread_side.differs("internal"))
    near = say("within three standard deviations of the ", when(the.trend_slope > 0, "largest", "smallest"),
               " pitch diameter.")  # fmt: skip
    return first(
        _NO_READINGS,
        (_N < TREND_ENOUGH, f"Too few readings to tell a trend: {TREND_ENOUGH} are the least."),
        (no(the.trend_counts), "No trend: the slope does not differ from zero at 99 %."),
        (no(the.chart_limits), "The readings drift; there is no pair of limits to drift to."),
        (the.trend_parts_left <= 0, say(when(wears, "REGRIND NOW", "RESET NOW"), ": the trend has come ", near)),
        otherwise=say(
            when(wears, "Regrind", "Reset the tool"), " within about ", the.trend_parts_left,
            " parts: then the trend comes ", near,
        ),
    )  # fmt: skip


def nothing_words() -> Node:
    """What stands in the cells of the first chart while it has no point: said once, the other words are silent then."""
    return when(_N.same(0), "No pitch diameter in these rows of the log yet.")


def page_words() -> Node:
    """Part, job, unit and rows."""
    last = xl.MIN(the.chart_start + (LOG_HEAD + WINDOW - 1), LOG_LAST)
    rows = say(". Rows ", the.chart_start + LOG_HEAD, " to ", last, " of the Log")
    return say(
        when(given(the.part_text), the.part_text, "no part named"), ", job ",
        when(given(the.job_number_text), the.job_number_text, "–"),
        ", ", the.unit_words, when(known(the.chart_start), rows), ".",
    )  # fmt: skip
