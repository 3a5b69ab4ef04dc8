"""The sheet Estimate: minutes, bars and money of the job at five quantities, every line to be seen.

The formulas are those of `sheetfuncs.estimating`. Nothing is assumed: an empty rate, minute or scrap asks for itself.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import bars, blocks, chart_drawing
from workbook_template.blocks import Book
from workbook_template.estimate_inputs import (
    BY_JOB,
    BY_LATHE,
    FROM_RACK,
    MATERIAL,
    MONEY,
    QUANTITY,
    Input,
    clashes,
    fault,
    faults,
    mistakes,
    used,
)
from workbook_template.figures.notation import all_of, at, known, the, when
from workbook_template.figures.tree import Node
from workbook_template.prices import Terms, lines

SHEET = "Estimate"
BREAKS = "BCDEF"
"""Columns of the quantities."""

QUANTITY_ROW, CHART_ROW, CHART_LAST = 33, 54, 65


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 25, "B": 15, "C": 15, "D": 15, "E": 14, "F": 14, "G": 4, "H": 26, "I": 14, "J": 3})
    blocks.result(book, ws, "A1:F1", "callout_estimate", "the thread, as on the sheet Job", "callout", look="callout")
    words = (
        'IF(LEN(part)>0,part,"no part named")&IF(LEN(revision)>0,", revision "&revision,"")&", "&unit_words&'
        'IF(LEN(estimate_currency)>0,", money in "&estimate_currency,"")'
    )
    blocks.result(book, ws, "A2:F2", "estimate_words", "part, unit and money in words", words, look="note")
    blocks.result(book, ws, "A3:F3", "estimate_next", "what is still to fill in", NEXT, look="sentence")
    ws.row_dimensions[1].height, ws.row_dimensions[3].height = 34, 26
    _inputs(book, ws)
    _working(book, ws)
    bars.build(book, ws)
    _breaks(book, ws)
    blocks.page(ws, f"A1:F{CHART_LAST}")
    blocks.lock(ws)


NEXT = (
    'IF(estimate_fault_1<>"",estimate_fault_1,"All is filled in for lathe 1. Threading "&'
    'FIXED(estimate_thread_minutes_1,2)&" minutes a piece, "&estimate_per_bar&" pieces a bar."&'
    'IF(estimate_power_used_1="yes"," Half-nuts stay shut: every pass comes back under power."&'
    'IF(lathe_chuck_words_1<>""," Mind the screwed-on chuck in reverse.",""),""))'
)


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A5:C5", "Time")
    for ref, text in (("A6", ""), ("B6", "lathe 1"), ("C6", "lathe 2")):
        blocks.write(book, ws, ref, text, "head")
    for row, item in enumerate(BY_LATHE, start=7):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        for letter, number in (("B", 1), ("C", 2)):
            _input(book, ws, f"{letter}{row}", item, f"_{number}", f", lathe {number}")
    for letter, number in (("B", 1), ("C", 2)):
        formula = (
            f"IF(AND(ISNUMBER(estimate_passes_used_{number}),ISNUMBER(estimate_length_used),"
            f"COUNT(lead,estimate_rpm_used_{number},estimate_approach_{number},estimate_overrun_{number},"
            f"estimate_return_seconds_{number})=5),IF(estimate_rpm_used_{number}>0,"
            f"starts*estimate_passes_used_{number}*("
            f'IF(estimate_power_used_{number}="yes",2,1)*(estimate_length_used+estimate_approach_{number}+'
            f'estimate_overrun_{number})/(lead*estimate_rpm_used_{number})+estimate_return_seconds_{number}/60),""),"")'
        )
        name = f"estimate_thread_minutes_{number}"
        meaning = f"minutes of threading a piece, lathe {number}"
        blocks.result(book, ws, f"{letter}17", name, meaning, formula, dimension="0.00")
        used_words = (
            f'IF(ISNUMBER({name}),ROUND(estimate_rpm_used_{number},0)&" rpm, back "&'
            f'IF(estimate_power_used_{number}="yes","under power","by hand"),"")'
        )
        meaning = f"speed and return that lathe {number} is reckoned with"
        blocks.result(book, ws, f"{letter}18", f"estimate_used_words_{number}", meaning, used_words, look="side")
    blocks.write(book, ws, "A17", "Thread, minutes a piece", "label")
    blocks.write(book, ws, "A18", "  reckoned with", "label")
    for row, item in enumerate(BY_JOB, start=20):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        _input(book, ws, f"B{row}", item)
    blocks.heading(book, ws, "D5:F5", "Material")
    for first, items in ((7, MATERIAL), (21, MONEY)):
        for row, item in enumerate(items, start=first):
            blocks.write(book, ws, f"D{row}:E{row}", item.label, "label_in")
            _input(book, ws, f"F{row}", item)
    blocks.heading(book, ws, "D20:F20", "Money")
    for row in range(7, QUANTITY_ROW):
        ws.row_dimensions[row].height = 26 if row == 18 else 17
    blocks.write(book, ws, "D19:E19", "Pieces a bar", "label_in")
    blocks.result(
        book, ws, "F19", "estimate_per_bar", "whole pieces a bar",
        'IF(AND(ISNUMBER(estimate_each),ISNUMBER(estimate_usable)),IF(estimate_usable<estimate_each,"",'
        'INT(estimate_usable/estimate_each+0.000000001)),"")', dimension="count",
    )  # fmt: skip
    for ref, name, meaning, words in (
        ("A24:C26", "bar_words", "whether the bar makes the part", bars.bar_words()),
        ("A27:C28", "support_words", "overhang and support", bars.support_words()),
        ("A29:C31", "cliff_words", "quantities whose last bar makes few", bars.CLIFF_WORDS),
    ):
        blocks.result(book, ws, ref, f"estimate_{name}", meaning, words, look="words")


def _input(book: Book, ws: Worksheet, ref: str, item: Input, suffix: str = "", of: str = "") -> None:
    numeric = item.dimension != "text"
    name = f"estimate_{item.name}{suffix}"
    blocks.write(book, ws, ref, None, "input_number" if numeric else "input", item.dimension)
    blocks.name_input(
        book, ws, ref, name, item.meaning + of, prompt=item.prompt, dimension=item.dimension, check=item.check
    )


def _fault(number: int) -> str:
    """The first thing that stands against a price, for one of the lathes."""
    first = f'IF(estimate_missing_{number}<>"",estimate_missing_{number},'
    return f'{first}IF(estimate_mistake_{number}<>"",estimate_mistake_{number},{fault(clashes(number))}))'


_SETUP_PASSES = 'IF(ISNUMBER(passes),passes+IF(ISNUMBER(spring_passes),spring_passes,0),"")'
BY_LATHE_USED = (
    ("passes", "passes",
     f'IF(ISBLANK(estimate_passes_#),{_SETUP_PASSES},IF(ISNUMBER(estimate_passes_#),estimate_passes_#,""))'),
    ("rpm", "speed", 'IF(ISBLANK(estimate_rpm_#),lathe_rpm_#,IF(estimate_rpm_#>0,estimate_rpm_#,""))'),
    ("power", "back under power",
     ('IF(LEN(estimate_power_return_#)>0,estimate_power_return_#,IF(lathe_half_nuts_#=TRUE,"no",'
      'IF(lathe_half_nuts_#=FALSE,"yes","")))')),
)  # fmt: skip
"""What counts of the inputs of a lathe that may be empty: name, meaning, formula with # for its number."""


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "H5:I5", "Working figures (not printed)")
    rows = [
        *(
            (f"estimate_{name}_used_{n}", f"{what} used, lathe {n}", formula.replace("#", str(n)))
            for name, what, formula in BY_LATHE_USED
            for n in (1, 2)
        ),
        ("estimate_length_used", "thread length used",
         ('IF(ISBLANK(estimate_length),IF(ISNUMBER(thread_length),thread_length,""),'
          'IF(ISNUMBER(estimate_length),estimate_length,""))')),
        ("estimate_part_used", "size of the part used",
         ('IF(ISBLANK(estimate_part_size),IF(AND(ISNUMBER(diameter),thread_side<>"internal"),diameter,""),'
          'IF(ISNUMBER(estimate_part_size),estimate_part_size,""))')),
        ("estimate_part_shape_used", "shape of the part used", 'IF(estimate_part_shape="hexagon","hexagon","round")'),
        *((used(name), f"{name.replace('_', ' ')} used", bars.from_rack(name, own)) for name, own in FROM_RACK.items()),
        ("estimate_bar_needed", "least size of a bar of this shape",
         when(known(the.estimate_part_used), bars.least(the.estimate_bar_shape_used))),
        ("estimate_bar_area", "section of the bar",
         when(known(the.estimate_bar_size_used), bars.area(the.estimate_bar_shape_used, the.estimate_bar_size_used))),
        ("estimate_each", "length of bar a piece takes",
         ('IF(COUNT(estimate_part_length,estimate_facing,estimate_part_off)=3,'
          'estimate_part_length+estimate_facing+estimate_part_off,"")')),
        ("estimate_usable", "length of a bar that makes pieces",
         'IF(COUNT(estimate_bar_length_used,estimate_stub)=2,estimate_bar_length_used-estimate_stub,"")'),
        ("estimate_gauge_each", "minutes of gauging, the average piece",
         'IF(COUNT(estimate_gauging,estimate_gauged)=2,estimate_gauging*estimate_gauged,"")'),
        ("estimate_power", "power of the quantity in Wright's rule",
         "IF(ISNUMBER(estimate_learning),IF(estimate_learning>0,LN(estimate_learning)/LN(2),0),0)"),
        ("estimate_few", "quantities whose last bar makes few", bars.few()),
        *((f"estimate_missing_{n}", f"what is not filled in, lathe {n}", fault(faults(n))) for n in (1, 2)),
        *((f"estimate_mistake_{n}", f"what is typed and can not be, lathe {n}", fault(mistakes(n))) for n in (1, 2)),
        *((f"estimate_fault_{n}", f"what is missing or wrong, lathe {n}", _fault(n)) for n in (1, 2)),
    ]  # fmt: skip
    for row, (name, meaning, formula) in enumerate(rows, start=6):
        blocks.write(book, ws, f"H{row}", meaning, "small")
        blocks.result(book, ws, f"I{row}", name, meaning, formula, role="working")


def terms(quantity: Node, number: int) -> Terms:
    """What makes the price of a quantity on a lathe."""
    own = {name: the[f"estimate_{name}_{number}"] for name in ("setup", "turning", "handling")}
    job = ("scrap", "rate", "overhead", "profit", "per_bar", "tooling", "gauges", "outside")
    return Terms(
        quantity,
        threading=the[f"estimate_thread_minutes_{number}"],
        gauging=the.estimate_gauge_each,
        bar_price=the.estimate_bar_price_used,
        **own,
        **{name: the[f"estimate_{name}"] for name in job},
    )


def at_quantity(quantity: Node, number: int, line: Node) -> Node:
    """A line of the price at a quantity, once nothing is wrong with the lathe."""
    ready = all_of(the[f"estimate_fault_{number}"].same(""), known(quantity))
    return when(ready, when(quantity >= 1, line))


LABELS = {
    "make": ("Pieces to make", "count"),
    "set_up_minutes": ("Set up, minutes", "0.0"),
    "turn_minutes": ("Turn, minutes", "0.0"),
    "thread_minutes": ("Thread, minutes", "0.0"),
    "handle_minutes": ("Handle, minutes", "0.0"),
    "gauge_minutes": ("Gauge, minutes", "0.0"),
    "minutes": ("Minutes together", "0.0"),
    "labour": ("Labour", "0.00"),
    "bars": ("Bars", "count"),
    "on_last_bar": ("  pieces on the last of them", "count"),
    "material": ("Material, whole bars", "0.00"),
    "material_by_length": ("  of it by length used", "0.00"),
    "tooling_cost": ("Tooling", "0.00"),
    "gauges_cost": ("Gauges", "0.00"),
    "outside_cost": ("Outside work", "0.00"),
    "overhead_cost": ("Overhead", "0.00"),
    "cost": ("Cost", "0.00"),
    "price": ("Price", "0.00"),
    "unit_price": ("Price each", "0.00"),
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
    prices = QUANTITY_ROW + len(LABELS)
    for place, letter in enumerate(BREAKS):  # a point that is missing repeats the one before; the chart begins at 0
        row = CHART_ROW + place
        before = ("-1", "-1") if place == 0 else (f"H{row - 1}", f"I{row - 1}")
        for column, source, otherwise in (("H", QUANTITY_ROW, before[0]), ("I", prices, before[1])):
            point = f"=IF(ISNUMBER({letter}{prices}),{letter}{source},{otherwise})"
            blocks.write(book, ws, f"{column}{row}", point, "small", "General")
    for column, what in (("H", "quantity"), ("I", "price each")):
        ref = f"{column}{CHART_ROW}:{column}{CHART_ROW + len(BREAKS) - 1}"
        name = f"estimate_chart_{what.replace(' ', '_')}"
        blocks.define(book, ws, ref, name, f"{what}, as the chart shows it", role="working")
    points = f"{CHART_ROW}:{{}}{CHART_ROW + len(BREAKS) - 1}"
    chart_drawing.add(
        ws, f"A{CHART_ROW}:F{CHART_LAST}",
        (chart_drawing.Line("price each", "H" + points.format("H"), "I" + points.format("I"), chart_drawing.READINGS),),
        across="quantity ordered", up="price each", form="0.00", deep=0.6,
    )  # fmt: skip
