"""The sheet Charts: individuals and moving range of the pitch diameter, capability, and when to regrind.

Everything on the page speaks about the same readings: those of the first 100 rows of the log, or of 100 rows from the
row that is typed. Rows without a usable pitch diameter are passed over, the rest keep the order of the log.
"""

from __future__ import annotations

from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import in_table, the
from workbook_template.paper import blocks, chart_drawing
from workbook_template.paper.blocks import Book
from workbook_template.sheets import chart
from workbook_template.sheets.chart import Series
from workbook_template.sheets.chart_figures import (
    ENOUGH,
    FIGURES,
    INDICES,
    LEVELS,
    LOG_HEAD,
    ONE_SIDE,
    STATISTICS,
    TREND,
    TREND_ENOUGH,
    WANTED,
    WINDOW,
    capability_words,
    columns,
    page_words,
    stability_words,
    trend_words,
)

SHEET = "Charts"
HEAD = 5
FIRST = HEAD + 1
LAST = FIRST + WINDOW - 1
CHART_AT, RANGE_AT, FIGURES_AT = 5, 25, 37

SOURCE = (
    "Natural limits: mean and three standard deviations, from the mean moving range divided by 1.128 (2.66 mean "
    "ranges); 3.267 mean ranges for the range (W. A. Shewhart; NIST/SEMATECH e-Handbook 6.3.2.2). They say what the "
    "process does, the limits of size what the drawing wants. Cp, Cpk and their 95 % intervals: e-Handbook 6.1.6; at "
    f"least {ENOUGH} readings: practice, {WANTED} or more by 6.1.6. {ONE_SIDE} in a row on one side: 6.3.2. "
    "Trend: straight line by least squares (4.1.4.1), counted where its slope differs from zero at 99 % by Student's "
    f"t and there are {TREND_ENOUGH} readings; a limit counts as reached when the line comes within three standard "
    "deviations of it: practice."
)

NUMBER = {
    one.name: number for number, one in enumerate((*columns(top=True), *LEVELS), start=column_index_from_string("K"))
}
"""The columns to the right of the page, and where."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 25, "B": 13, "C": 11, "D": 11, "E": 2.5, "F": 20, "G": 12, "H": 3, "I": 24, "J": 12})
    blocks.result(book, ws, "A1:G1", "callout_charts", "the thread, as on the sheet Job", the.callout, look="callout")
    blocks.result(book, ws, "A2:G2", "charts_words", "part, job, unit and rows in words", page_words(), look="note")
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 32, 30
    blocks.write(book, ws, "A3", "First log row on the charts", "label")
    blocks.entry(
        book, ws, "B3", "chart_first", "log row that the charts start with",
        prompt=f"Number of the row on the sheet Log that the charts start with. Empty: {LOG_HEAD + 1}, the first. "
        "After a regrind or a new set-up, type the row of the first part after it.", dimension="count",
        check=blocks.Check("whole", str(LOG_HEAD + 1), f"ROWS(log_pitch)+{LOG_HEAD}", "between",
                           f"Type the number of a row of the sheet Log, from {LOG_HEAD + 1} on."),
    )  # fmt: skip
    blocks.write(
        book,
        ws,
        "C3:G3",
        f"Empty: {LOG_HEAD + 1}, the first row. After a regrind or a new set-up: that of the next part.",
        "side",
    )
    ws.row_dimensions[3].height = 20
    blocks.heading(book, ws, "A4:G4", "Pitch diameter of each part, in the order logged")
    blocks.heading(book, ws, f"A{RANGE_AT - 1}:G{RANGE_AT - 1}", "Moving range: the step from the part before")
    _behind(book, ws)
    _draw(book, ws)
    _figures(book, ws)
    blocks.page(ws, f"A1:G{FIGURES_AT + len(FIGURES) + 5}")
    blocks.lock(ws)


def _behind(book: Book, ws: Worksheet) -> None:
    """The figures behind the page, to the right of it."""
    blocks.heading(book, ws, f"I{HEAD - 1}:J{HEAD - 1}", "Working figures (not printed)")
    blocks.working(book, ws, "I", "J", FIRST, STATISTICS)
    places = {name.removeprefix("chart_"): number for name, number in NUMBER.items()}
    for top, below in zip(columns(top=True), columns(top=False)):
        number, letter = NUMBER[top.name], get_column_letter(NUMBER[top.name])
        blocks.write(book, ws, f"{letter}{HEAD}", top.name.removeprefix("chart_").replace("_", " "), "head")
        for first, last, figure in ((FIRST, FIRST, top), (FIRST + 1, LAST, below)):
            formula = in_table(figure.formula, places, number, FIRST, LAST)
            blocks.column(book, ws, letter, first, last, formula, "small")
        unit = blocks.IN_UNIT.get(top.dimension, "")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", top.name, top.meaning, unit=unit, role="working")
    for one in LEVELS:
        letter = get_column_letter(NUMBER[one.name])
        blocks.write(book, ws, f"{letter}{HEAD}", one.name.removeprefix("chart_line_").replace("_", " "), "head")
        blocks.write(book, ws, f"{letter}{FIRST}", one.left, "small")
        blocks.write(book, ws, f"{letter}{FIRST + 1}", one.right, "small")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{FIRST + 1}", one.name, one.meaning, role="working")


def _draw(book: Book, ws: Worksheet) -> None:
    def cells(name: str, last: int) -> str:
        letter = get_column_letter(NUMBER[name])
        return f"{letter}{FIRST}:{letter}{last}"

    def points(x: str, y: str) -> tuple[str, str]:
        return cells(x, LAST), cells(y, LAST)

    def level(name: str) -> tuple[str, str]:
        of_size = name in ("chart_line_max", "chart_line_min")
        return cells("chart_line_x" if of_size else "chart_line_own_x", FIRST + 1), cells(name, FIRST + 1)

    individuals = (
        Series("reading", *points("chart_x", "chart_y"), chart.READINGS),
        Series("outside the natural limits", *points("chart_out_x", "chart_resting_y"), chart.OUTSIDE),
        Series("limits of size", *level("chart_line_max"), chart.SIZE_LIMIT),
        Series("limits of size", *level("chart_line_min"), chart.SIZE_LIMIT),
        Series("mean", *level("chart_line_mean"), chart.MEAN),
        Series("natural limits", *level("chart_line_high"), chart.NATURAL_LIMIT),
        Series("natural limits", *level("chart_line_low"), chart.NATURAL_LIMIT),
    )
    ranges = (
        Series("moving range", *points("chart_range_x", "chart_range_y"), chart.READINGS),
        Series("over its limit", *points("chart_out_range_x", "chart_range_y"), chart.OUTSIDE),
        Series("mean", *level("chart_line_range"), chart.MEAN),
        Series("limit of the range", *level("chart_line_range_high"), chart.NATURAL_LIMIT),
    )
    across, form = "readings in the order logged", "0.0000"
    for ref, lines, up, deep in (
        (f"A{CHART_AT}:G{RANGE_AT - 2}", individuals, "pitch diameter", 0.72),
        (f"A{RANGE_AT}:G{FIGURES_AT - 1}", ranges, "moving range", 0.64),
    ):
        chart_drawing.add(book, ws, ref, chart.Chart(lines, across, up, form, deep))
    for row in range(CHART_AT, FIGURES_AT):
        ws.row_dimensions[row].height = 15.5


def _figures(book: Book, ws: Worksheet) -> None:
    row = FIGURES_AT
    blocks.heading(book, ws, f"A{row}:D{row}", "What the readings do")
    for at, (label, one) in enumerate(FIGURES.items(), start=row + 1):
        blocks.write(book, ws, f"A{at}", label, "label")
        blocks.result(book, ws, f"B{at}", one.name, one.meaning, one.formula, dimension=one.dimension)
    row += len(FIGURES) + 1
    for letter, text in zip("ABCD", ("Against the limits of size", "", "95 % from", "to")):
        blocks.write(book, ws, f"{letter}{row}", text, "head")
    for at, (label, figures) in enumerate(INDICES.items(), start=row + 1):
        blocks.write(book, ws, f"A{at}", label, "label")
        for letter, one in zip("BCD", figures):
            blocks.result(book, ws, f"{letter}{at}", one.name, one.meaning, one.formula, dimension="0.00")
    _words(book, ws)
    row += 4
    blocks.write(book, ws, f"A{row}:G{row}", SOURCE, "side")  # one row: LibreOffice prints to the last filled
    ws.row_dimensions[row].height = 72
    for at in range(FIGURES_AT + 1, row):
        ws.row_dimensions[at].height = 17


def _words(book: Book, ws: Worksheet) -> None:
    """The sentences on the right of the figures."""
    row = FIGURES_AT
    blocks.heading(book, ws, f"F{row}:G{row}", "In words")
    for at, (name, meaning, formula) in zip(
        range(row + 1, row + 10, 3),
        (
            ("stability_words", "parts outside the natural limits, in words", stability_words()),
            ("capability_words", "capability, or why there is none", capability_words()),
            ("trend_words", "trend: regrind, reset, or none", trend_words()),
        ),
    ):
        blocks.result(book, ws, f"F{at}:G{at + 2}", name, meaning, formula, look="sentence")
    for at, (label, one) in enumerate(TREND.items(), start=row + 10):
        blocks.write(book, ws, f"F{at}", label, "label")
        blocks.result(book, ws, f"G{at}", one.name, one.meaning, one.formula, dimension=one.dimension)
