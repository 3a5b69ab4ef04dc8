"""The sheet Estimate: minutes, bars and money of the job at five quantities, every line to be seen.

The formulas are those of `sheetfuncs.estimating`. Nothing is assumed: an empty rate, minute or scrap asks for itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import above, here, known, node, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import bar_figures, chart
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
from workbook_template.sheets.estimate_inputs import BY_JOB, BY_LATHE, MATERIAL, MONEY, QUANTITIES, QUANTITY
from workbook_template.sheets.inputs import Input
from workbook_template.sheets.layout import (
    BODY,
    CALLOUT,
    HEAD,
    NOTE,
    Across,
    Block,
    Column,
    Entry,
    Line,
    Made,
    Piece,
    Row,
    Sheet,
    Table,
    across,
    beside,
    block,
    deep,
    entry,
    line,
    link,
    picture,
    shown,
    stack,
    words,
)
from workbook_template.trade.prices import lines

SHEET = "Estimate"
WIDTHS = (24, *(12.2,) * QUANTITIES)
"""The labels, then a column for each quantity: the cells of a line lie side by side."""

PAGE = len(WIDTHS)

LABELS = {
    "make": ("Pieces to make", "count"),
    "setup_minutes": ("Set up, minutes", "0.0"),
    "turn_minutes": ("Turn, minutes", "0.0"),
    "thread_minutes": ("Thread, minutes", "0.0"),
    "handle_minutes": ("Handle, minutes", "0.0"),
    "checks": ("  pieces checked", "count"),
    "gauge_minutes": ("Gauge, minutes", "0.0"),
    "rest_minutes": ("Rest and delay, minutes", "0.0"),
    "minutes": ("Minutes together", "0.0"),
    "labour": ("Labour", "0.00"),
    "bars": ("Bars, or blanks", "count"),
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
HIGHER = {"lathe": CALLOUT, "currency": CALLOUT}
"""Lines whose entry may take two lines of words."""

SMALL = {"lathe": "list_note"}
"""Entries in small type, as a name is long for its column."""


def _entry(item: Input, made: Made, suffix: str = "", of: str = "") -> Piece:
    named = item._replace(name=f"estimate_{item.name}{suffix}", meaning=item.meaning + of)
    value = made.unit if item.name == "unit" else None
    look = "cell_text" if item.dimension == "text" else "cell_number"
    return entry(1, named, value, SMALL.get(item.name, look))


def _head() -> Block:
    return block(
        None,
        line(shown(PAGE, Figure("callout_estimate", "the thread, as on the sheet Job", the.callout), "thread"),
             height=CALLOUT),
        line(shown(PAGE, Figure("estimate_words", "part, unit and money in words", WORDS), "note_9"), height=NOTE),
        line(shown(PAGE, Figure("estimate_next", "what is still to fill in", NEXT), "step"), height=49.5),
    )  # fmt: skip


def _time(made: Made) -> Block:
    """What each of the two lathes takes; the second is for the comparison on the sheet Bars."""

    def both(label: str, *pieces: Piece, height: float = BODY) -> Line:
        return line(words(1, label), *pieces, height=height)

    asked = (
        both(item.label, *(_entry(item, made, f"_{n}", f", lathe {n}") for n in (1, 2)),
             height=HIGHER.get(item.name, BODY))
        for item in BY_LATHE
    )  # fmt: skip
    return block(
        "Time",
        line(words(1, ""), words(1, "lathe 1", "column_head"), words(1, "lathe 2", "column_head")),
        *asked,
        both("Thread, minutes a piece", *(shown(1, thread_minutes(n)) for n in (1, 2))),
        both("  reckoned with", *(shown(1, reckoned_with(n), "note_9") for n in (1, 2)), height=CALLOUT),
    )


def _bar() -> Block:
    """What the bar gives, and what stands against it."""
    said = (
        ("bar_words", "whether the bar makes the part", bar_figures.bar_words(), 5),
        ("support_words", "overhang and support", bar_figures.support_words(), 2),
        ("cliff_words", "quantities whose last bar makes few", bar_figures.CLIFF_WORDS, 3),
    )
    return block(
        "Bar and part",
        line(words(2, "Pieces a bar", "label_in"), shown(1, per_bar())),
        *(
            one
            for name, meaning, formula, count in said
            for one in deep(shown(3, Figure(f"estimate_{name}", meaning, formula), "words_in", lines=count))
        ),
        line(link(3, "The list of bars that the shop can have", bar_figures.SHEET)),
    )


def _pairs(items: Sequence[Input], made: Made) -> Iterator[Line]:
    """Two entries a line, read from left to right."""
    for at in range(0, len(items), 2):
        pieces: list[Piece] = []
        for item, wide, look in zip(items[at : at + 2], (1, 2), ("label", "label_in")):
            pieces += (words(wide, item.label, look), _entry(item, made))
        yield line(*pieces, height=max(HIGHER.get(item.name, BODY) for item in items[at : at + 2]))


def _prices() -> Block:
    """Five quantities side by side."""

    def asked(number: int) -> Entry:
        return Entry(QUANTITY._replace(name=f"estimate_quantity_{number}", meaning=f"quantity {number} to price"))

    priced = lines(terms(here.quantities, 1), {name: here[name] for name in LABELS})

    def one(name: str, label: str, form: str) -> Row:
        meaning, look = f"{label.strip().lower()}, at each quantity", f"row_number{'_bold' * (name in BOLD)}"
        formula = at_quantity(here.quantities, 1, priced[name])
        return Row(name, label, meaning, formula, form, look, label_look="row_words")

    quantities = Row(
        "quantities", QUANTITY.label, "the five quantities", asked, look="cell_number", role="working",
        label_look="row_words",
    )  # fmt: skip
    rows = (quantities, *(one(name, *form) for name, form in LABELS.items()))
    return across(Across("estimate", rows, QUANTITIES), PAGE - QUANTITIES)


ANY_PRICE = xl.COUNT(the.estimate_unit_price) > 0
UNSEEN = node(-1000)
"""Height of all points while there is no price: the figures of the axis show from zero up alone."""


def _points() -> Table:
    """Points of the chart, by quantity; one that is missing repeats the one before, and the first then lies outside.

    The points for the scale are never drawn. Without a price they alone count for the figures of the axis.
    """

    def point(name: str, source: str, outside: Node) -> Callable[[int], Node]:
        def of_quantity(number: int) -> Node:
            price, own = (xl.INDEX(the[f"estimate_{of}"], 1, number) for of in ("unit_price", source))
            return when(known(price), own, above[name] if number > 1 else outside)

        return of_quantity

    least = when(ANY_PRICE, xl.MIN(the.estimate_unit_price), UNSEEN)
    columns = (
        ("quantity", "quantity, as the chart shows it", point("quantity", "quantities", node(-1))),
        ("price_each", "price each, as the chart shows it", point("price_each", "unit_price", least)),
        ("scale_x", "across, points that are never drawn and count for the scale", lambda _: node(0)),
        ("scale_y", "up, the same", lambda n: when(ANY_PRICE, least, UNSEEN - n)),
    )
    return Table("estimate_chart", tuple(
        Column(name, name.replace("_", " "), meaning, formula=formula, look="note_9", role="working")
        for name, meaning, formula in columns
    ), QUANTITIES)  # fmt: skip


def _drawn() -> chart.Chart:
    def series(title: str, x: str, y: str, stroke: chart.Stroke, label: chart.Label | None = None) -> chart.Series:
        across, up = (chart.Stretch(f"estimate_chart_{axis}") for axis in (x, y))
        return chart.Series(title, across, up, stroke, label)

    drawn = (
        series("scale", "scale_x", "scale_y", chart.UNDRAWN),
        series("price each", "quantity", "price_each", chart.READINGS, chart.Label("r")),
    )
    form, across = '[>0]0.00;""', '[<2]"";0'
    return chart.Chart(drawn, "", "", form, 0.84, across, bare=True, wide=0.76, under=the.estimate_chart_words & "")


NOTHING = Figure(
    "estimate_chart_words", "why there is no line in the chart",
    when(ANY_PRICE, "", "The line is drawn once there are prices."),
)  # fmt: skip


CHART_LINES = 10


def sheet(made: Made) -> Sheet:
    """A page of what is typed, and a page of prices."""
    asked = stack(
        _head(),
        beside(_time(made), _bar()),
        block(None, *_pairs(BY_JOB, made)),
        block("Material", *_pairs(MATERIAL, made), columns=PAGE),
        block("Money", *_pairs(MONEY, made), columns=PAGE),
    )
    title = words(4, "Price at five quantities, lathe 1", "section")
    priced = stack(
        block(None, line(title, words(2, the.callout & "", "letter_rule_right"), height=HEAD)),
        block(None, line(words(PAGE, the.estimate_words & "", "note_9"), height=NOTE)),
        _prices(),
        block("Price each by the quantity ordered", *deep(picture(PAGE, _drawn(), CHART_LINES)), columns=PAGE),
    )
    return Sheet(SHEET, (asked, priced), (*working(), NOTHING), (_points(),), WIDTHS, user="office")
