"""The sheet Estimate: minutes, bars and money of the job at five quantities, every line to be seen.

The formulas are those of `sheetfuncs.estimating`. Nothing is assumed: an empty rate, minute or scrap asks for itself.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import at, known, the, when
from workbook_template.paper import blocks, chart_drawing
from workbook_template.paper.blocks import Book
from workbook_template.sheets import bars, chart
from workbook_template.sheets.estimate_figures import (
    NEXT,
    WORDS,
    at_quantity,
    per_bar,
    reckoned_with,
    terms,
    thread_minutes,
    working,
)
from workbook_template.sheets.estimate_inputs import BY_JOB, BY_LATHE, MATERIAL, MONEY, QUANTITY, Input
from workbook_template.trade.prices import lines

SHEET = "Estimate"
BREAKS = "BCDEF"
"""Columns of the quantities."""

QUANTITY_ROW = 37
CHART_ROW, CHART_LAST = 64, 75


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 25, "B": 15, "C": 15, "D": 15, "E": 14, "F": 14, "G": 4, "H": 26, "I": 14, "J": 3})
    blocks.result(book, ws, "A1:F1", "callout_estimate", "the thread, as on the sheet Job", the.callout, look="callout")
    blocks.result(book, ws, "A2:F2", "estimate_words", "part, unit and money in words", WORDS, look="note")
    blocks.result(book, ws, "A3:F3", "estimate_next", "what is still to fill in", NEXT, look="sentence")
    ws.row_dimensions[1].height, ws.row_dimensions[3].height = 34, 26
    _inputs(book, ws)
    _working(book, ws)
    bars.build(book, ws)
    _breaks(book, ws)
    blocks.page(ws, f"A1:F{CHART_LAST}")
    blocks.lock(ws)


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A5:C5", "Time")
    for ref, text in (("A6", ""), ("B6", "lathe 1"), ("C6", "lathe 2")):
        blocks.write(book, ws, ref, text, "head")
    for row, item in enumerate(BY_LATHE, start=7):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        for letter, number in (("B", 1), ("C", 2)):
            _input(book, ws, f"{letter}{row}", item, f"_{number}", f", lathe {number}")
    for letter, number in (("B", 1), ("C", 2)):
        _figure(book, ws, f"{letter}17", thread_minutes(number))
        _figure(book, ws, f"{letter}18", reckoned_with(number), "side")
    blocks.write(book, ws, "A17", "Thread, minutes a piece", "label")
    blocks.write(book, ws, "A18", "  reckoned with", "label")
    for row, item in enumerate(BY_JOB, start=20):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        _input(book, ws, f"B{row}", item)
    blocks.heading(book, ws, "D5:F5", "Material")
    for top, items in ((7, MATERIAL), (23, MONEY)):
        for row, item in enumerate(items, start=top):
            blocks.write(book, ws, f"D{row}:E{row}", item.label, "label_in")
            _input(book, ws, f"F{row}", item)
    blocks.heading(book, ws, "D22:F22", "Money")
    for row in range(7, QUANTITY_ROW):
        ws.row_dimensions[row].height = 26 if row == 18 else 17
    blocks.write(book, ws, "D20:E20", "Pieces a bar", "label_in")
    _figure(book, ws, "F20", per_bar())
    for ref, name, meaning, words in (
        ("A27:C29", "bar_words", "whether the bar makes the part", bars.bar_words()),
        ("A30:C31", "support_words", "overhang and support", bars.support_words()),
        ("A32:C34", "cliff_words", "quantities whose last bar makes few", bars.CLIFF_WORDS),
    ):
        blocks.result(book, ws, ref, f"estimate_{name}", meaning, words, look="words")


def _figure(book: Book, ws: Worksheet, ref: str, figure: Figure, look: str = "result") -> None:
    name, meaning, formula, dimension = figure
    blocks.result(book, ws, ref, name, meaning, formula, dimension=dimension, look=look)


def _input(book: Book, ws: Worksheet, ref: str, item: Input, suffix: str = "", of: str = "") -> None:
    numeric = item.dimension != "text"
    name = f"estimate_{item.name}{suffix}"
    value = book.unit if item.name == "unit" else None
    blocks.write(book, ws, ref, value, "input_number" if numeric else "input", item.dimension)
    blocks.name_input(
        book, ws, ref, name, item.meaning + of, prompt=item.prompt, dimension=item.dimension, check=item.check
    )


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "H5:I5", "Working figures (not printed)")
    for row, (name, meaning, formula, _) in enumerate(working(), start=6):
        blocks.write(book, ws, f"H{row}", meaning, "small")
        blocks.result(book, ws, f"I{row}", name, meaning, formula, role="working")


LABELS = {
    "make": ("Pieces to make", "count"),
    "set_up_minutes": ("Set up, minutes", "0.0"),
    "turn_minutes": ("Turn, minutes", "0.0"),
    "thread_minutes": ("Thread, minutes", "0.0"),
    "handle_minutes": ("Handle, minutes", "0.0"),
    "checks": ("  pieces checked", "0.0#"),
    "gauge_minutes": ("Gauge, minutes", "0.0"),
    "rest_minutes": ("Rest and delay, minutes", "0.0"),
    "minutes": ("Minutes together", "0.0"),
    "labour": ("Labour", "0.00"),
    "bars": ("Bars", "count"),
    "on_last_bar": ("  pieces on the last of them", "count"),
    "material_by_bars": ("  by whole bars", "0.00"),
    "material_by_length": ("  by length used", "0.00"),
    "material": ("Material, as charged", "0.00"),
    "tooling_cost": ("Tooling", "0.00"),
    "gauges_cost": ("Gauges", "0.00"),
    "outside_cost": ("Outside work", "0.00"),
    "overhead_cost": ("Overhead", "0.00"),
    "cost": ("Cost", "0.00"),
    "unit_cost": ("Cost each", "0.00"),
    "unit_price": ("Price each", "0.00"),
    "price": ("Price, each times quantity", "0.00"),
    "unit_price_by_bars": ("  each, by whole bars", "0.00"),
    "unit_price_by_length": ("  each, by length used", "0.00"),
}
"""Label and number format of each line, in the order of `lines`."""

BOLD = ("minutes", "cost", "price", "unit_price")


def _breaks(book: Book, ws: Worksheet) -> None:
    """Five quantities side by side, and the chart of the unit price."""
    blocks.heading(book, ws, f"A{QUANTITY_ROW - 1}:F{QUANTITY_ROW - 1}", "Price at five quantities, lathe 1")
    blocks.write(book, ws, f"A{QUANTITY_ROW}", "Quantity", "label")
    for number, letter in enumerate(BREAKS, start=1):
        item = QUANTITY._replace(meaning=f"quantity {number} to price")
        _input(book, ws, f"{letter}{QUANTITY_ROW}", item, f"quantity_{number}")
        cells = {name: f"{letter}{row}" for row, name in enumerate(LABELS, start=QUANTITY_ROW + 1)}
        quantity = at(f"{letter}{QUANTITY_ROW}")
        for name, formula in lines(terms(quantity, 1), {name: at(cell) for name, cell in cells.items()}).items():
            look = "result" if name in BOLD else "figure"
            blocks.write(book, ws, cells[name], at_quantity(quantity, 1, formula), look, LABELS[name][1])
    for row, (name, (label, _)) in enumerate(LABELS.items(), start=QUANTITY_ROW + 1):
        blocks.write(book, ws, f"A{row}", label, "label")
        meaning = f"{label.strip().lower()}, at each quantity"
        blocks.define(book, ws, f"B{row}:F{row}", f"estimate_{name}", meaning)
    quantities = f"B{QUANTITY_ROW}:F{QUANTITY_ROW}"
    blocks.define(book, ws, quantities, "estimate_quantities", "the five quantities", role="working")
    prices = QUANTITY_ROW + 1 + list(LABELS).index("unit_price")
    for place, letter in enumerate(BREAKS):  # a point that is missing repeats the one before; the chart begins at 0
        row = CHART_ROW + place
        for column, source in (("H", QUANTITY_ROW), ("I", prices)):
            before = at(f"{column}{row - 1}") if place else -1
            point = when(known(at(f"{letter}{prices}")), at(f"{letter}{source}"), before)
            blocks.write(book, ws, f"{column}{row}", point, "small", "General")
    for column, what in (("H", "quantity"), ("I", "price each")):
        ref = f"{column}{CHART_ROW}:{column}{CHART_ROW + len(BREAKS) - 1}"
        name = f"estimate_chart_{what.replace(' ', '_')}"
        blocks.define(book, ws, ref, name, f"{what}, as the chart shows it", role="working")
    points = f"{CHART_ROW}:{{}}{CHART_ROW + len(BREAKS) - 1}"
    line = chart.Series("price each", "H" + points.format("H"), "I" + points.format("I"), chart.READINGS)
    wanted = chart.Chart((line,), "quantity ordered", "price each", "0.00", 0.6)
    chart_drawing.add(book, ws, f"A{CHART_ROW}:F{CHART_LAST}", wanted)
