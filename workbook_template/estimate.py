"""The sheet Estimate: minutes, bars and money of the job at five quantities, every line to be seen.

The formulas are those of `sheetfuncs.estimating`. Nothing is assumed: an empty rate, minute or scrap asks for itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

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
    faults,
    mistakes,
    used,
)
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, at, blank, first, given, known, say, shown, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.prices import Terms, lines, minutes_of_threading, pieces_a_bar

SHEET = "Estimate"
BREAKS = "BCDEF"
"""Columns of the quantities."""

QUANTITY_ROW, CHART_ROW, CHART_LAST = 33, 54, 65


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


MONEY_WORDS = when(given(the.estimate_currency), say(", money in ", the.estimate_currency))
"""What stands behind the unit where money is shown."""

WORDS = say(
    when(given(the.part), the.part, "no part named"),
    when(given(the.revision), say(", revision ", the.revision)),
    ", ", the.unit_words, MONEY_WORDS,
)  # fmt: skip

BACK_UNDER_POWER = say(
    " Half-nuts stay shut: every pass comes back under power.",
    when(the.lathe_chuck_words_1.differs(""), " Mind the screwed-on chuck in reverse."),
)
NEXT = first(
    (the.estimate_fault_1.differs(""), the.estimate_fault_1),
    otherwise=say(
        "All is filled in for lathe 1. Threading ", shown(the.estimate_thread_minutes_1, 2), " minutes a piece, ",
        the.estimate_per_bar, " pieces a bar.", when(the.estimate_power_used_1.same("yes"), BACK_UNDER_POWER),
    ),
)  # fmt: skip


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A5:C5", "Time")
    for ref, text in (("A6", ""), ("B6", "lathe 1"), ("C6", "lathe 2")):
        blocks.write(book, ws, ref, text, "head")
    for row, item in enumerate(BY_LATHE, start=7):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        for letter, number in (("B", 1), ("C", 2)):
            _input(book, ws, f"{letter}{row}", item, f"_{number}", f", lathe {number}")
    for letter, number in (("B", 1), ("C", 2)):
        for row, figure, look in ((17, _thread_minutes(number), "result"), (18, _reckoned_with(number), "side")):
            blocks.result(book, ws, f"{letter}{row}", *figure[:3], dimension=figure.dimension, look=look)
    blocks.write(book, ws, "A17", "Thread, minutes a piece", "label")
    blocks.write(book, ws, "A18", "  reckoned with", "label")
    for row, item in enumerate(BY_JOB, start=20):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        _input(book, ws, f"B{row}", item)
    blocks.heading(book, ws, "D5:F5", "Material")
    for top, items in ((7, MATERIAL), (21, MONEY)):
        for row, item in enumerate(items, start=top):
            blocks.write(book, ws, f"D{row}:E{row}", item.label, "label_in")
            _input(book, ws, f"F{row}", item)
    blocks.heading(book, ws, "D20:F20", "Money")
    for row in range(7, QUANTITY_ROW):
        ws.row_dimensions[row].height = 26 if row == 18 else 17
    blocks.write(book, ws, "D19:E19", "Pieces a bar", "label_in")
    each, usable = the.estimate_each, the.estimate_usable
    blocks.result(
        book, ws, "F19", "estimate_per_bar", "whole pieces a bar",
        when(all_of(known(each), known(usable)), first((usable < each, ""), otherwise=pieces_a_bar(usable, each))),
        dimension="count",
    )  # fmt: skip
    for ref, name, meaning, words in (
        ("A24:C26", "bar_words", "whether the bar makes the part", bars.bar_words()),
        ("A27:C28", "support_words", "overhang and support", bars.support_words()),
        ("A29:C31", "cliff_words", "quantities whose last bar makes few", bars.CLIFF_WORDS),
    ):
        blocks.result(book, ws, ref, f"estimate_{name}", meaning, words, look="words")


def _thread_minutes(number: int) -> Figure:
    rpm, passes, approach, overrun, return_seconds, power = (
        the[f"estimate_{name}_{number}"]
        for name in ("rpm_used", "passes_used", "approach", "overrun", "return_seconds", "power_used")
    )
    length = the.estimate_length_used
    numbers = xl.COUNT(the.lead, rpm, approach, overrun, return_seconds).same(5)
    minutes = minutes_of_threading(
        the.starts * passes, length + approach + overrun, the.lead, rpm, power.same("yes"), return_seconds
    )
    return Figure(
        f"estimate_thread_minutes_{number}",
        f"minutes of threading a piece, lathe {number}",
        when(all_of(known(passes), known(length), numbers), when(rpm > 0, minutes)),
        "0.00",
    )


def _reckoned_with(number: int) -> Figure:
    rpm, power = the[f"estimate_rpm_used_{number}"], the[f"estimate_power_used_{number}"]
    words = say(xl.ROUND(rpm, 0), " rpm, back ", when(power.same("yes"), "under power", "by hand"))
    return Figure(
        f"estimate_used_words_{number}",
        f"speed and return that lathe {number} is reckoned with",
        when(known(the[f"estimate_thread_minutes_{number}"]), words),
    )


def _input(book: Book, ws: Worksheet, ref: str, item: Input, suffix: str = "", of: str = "") -> None:
    numeric = item.dimension != "text"
    name = f"estimate_{item.name}{suffix}"
    blocks.write(book, ws, ref, None, "input_number" if numeric else "input", item.dimension)
    blocks.name_input(
        book, ws, ref, name, item.meaning + of, prompt=item.prompt, dimension=item.dimension, check=item.check
    )


def _typed(name: str, otherwise: Node) -> Node:
    """The number that is typed, or the other one where the cell is empty."""
    cell = the[name]
    return first((blank(cell), otherwise), (known(cell), cell))


def _number(cell: Node) -> Node:
    return when(known(cell), cell)


def _passes(number: int) -> Node:
    of_setup = the.passes + when(known(the.spring_passes), the.spring_passes, 0)
    return _typed(f"estimate_passes_{number}", when(known(the.passes), of_setup))


def _rpm(number: int) -> Node:
    typed = the[f"estimate_rpm_{number}"]
    return first((blank(typed), the[f"lathe_rpm_{number}"]), (typed > 0, typed))


def _power(number: int) -> Node:
    typed, may_open = the[f"estimate_power_return_{number}"], the[f"lathe_half_nuts_{number}"]
    return first((given(typed), typed), (may_open.same(True), "no"), (may_open.same(False), "yes"))


def _fault(number: int) -> Node:
    """The first thing that stands against a price, for one of the lathes."""
    missing, mistake = the[f"estimate_missing_{number}"], the[f"estimate_mistake_{number}"]
    return first((missing.differs(""), missing), (mistake.differs(""), mistake), *clashes(number))


def _once_typed(formula: Node, *cells: Node) -> Node:
    return when(xl.COUNT(*cells).same(len(cells)), formula)


BY_LATHE_USED = (
    ("passes", "passes used", _passes),
    ("rpm", "speed used", _rpm),
    ("power", "back under power used", _power),
)
"""What counts of the inputs of a lathe that may be empty."""

FAULTS = (
    ("missing", "what is not filled in", lambda number: first(*faults(number))),
    ("mistake", "what is typed and can not be", lambda number: first(*mistakes(number))),
    ("fault", "what is missing or wrong", _fault),
)


def _by_lathe(figures: Iterable[tuple[str, str, Callable[[int], Node]]], end: str) -> Iterator[Figure]:
    """Each figure for lathe 1, then 2."""
    for name, meaning, formula in figures:
        for number in (1, 2):
            yield Figure(f"estimate_{name}{end}_{number}", f"{meaning}, lathe {number}", formula(number))


def _working_figures() -> tuple[Figure, ...]:
    diameter = when(all_of(known(the.diameter), the.thread_side.differs("internal")), the.diameter)
    shape, size, length = the.estimate_bar_shape_used, the.estimate_bar_size_used, the.estimate_bar_length_used
    part_length, facing, part_off = the.estimate_part_length, the.estimate_facing, the.estimate_part_off
    gauging, gauged, learning = the.estimate_gauging, the.estimate_gauged, the.estimate_learning
    return (
        *_by_lathe(BY_LATHE_USED, "_used"),
        Figure("estimate_length_used", "thread length used", _typed("estimate_length", _number(the.thread_length))),
        Figure("estimate_part_used", "size of the part used", _typed("estimate_part_size", diameter)),
        Figure("estimate_part_shape_used", "shape of the part used",
               when(the.estimate_part_shape.same("hexagon"), "hexagon", "round")),
        *(Figure(used(name), f"{name.replace('_', ' ')} used", bars.from_rack(name, own))
          for name, own in FROM_RACK.items()),
        Figure("estimate_bar_needed", "least size of a bar of this shape",
               when(known(the.estimate_part_used), bars.least(shape))),
        Figure("estimate_bar_area", "section of the bar", when(known(size), bars.area(shape, size))),
        Figure("estimate_each", "length of bar a piece takes",
               _once_typed(part_length + facing + part_off, part_length, facing, part_off)),
        Figure("estimate_usable", "length of a bar that makes pieces",
               _once_typed(length - the.estimate_stub, length, the.estimate_stub)),
        Figure("estimate_gauge_each", "minutes of gauging, the average piece",
               _once_typed(gauging * gauged, gauging, gauged)),
        Figure("estimate_power", "power of the quantity in Wright's rule",
               when(known(learning), when(learning > 0, xl.LN(learning) / xl.LN(2), 0), 0)),
        Figure("estimate_few", "quantities whose last bar makes few", bars.few()),
        *_by_lathe(FAULTS, ""),
    )  # fmt: skip


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "H5:I5", "Working figures (not printed)")
    for row, (name, meaning, formula, _) in enumerate(_working_figures(), start=6):
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
        for column, source in (("H", QUANTITY_ROW), ("I", prices)):
            before = at(f"{column}{row - 1}") if place else -1
            point = when(known(at(f"{letter}{prices}")), at(f"{letter}{source}"), before)
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
