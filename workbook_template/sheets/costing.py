"""The sheet Costing: what the job really took, the other lathe, and what a revision changed in money."""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import (
    Numbered,
    all_of,
    at,
    blank,
    first,
    given,
    known,
    no,
    say,
    shown,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book, Check
from workbook_template.sheets.estimate import LABELS
from workbook_template.sheets.estimate_figures import at_quantity, terms
from workbook_template.trade.prices import Terms, lines

SHEET = "Costing"

ANY_NUMBER = Check("decimal", "0", operator="greaterThanOrEqual", refusal="Type a number, 0 or more.")

ACTUAL = (
    ("set_up_minutes", "Set up, minutes"),
    ("turn_minutes", "Turn, minutes"),
    ("thread_minutes", "Thread, minutes"),
    ("handle_minutes", "Handle, minutes"),
    ("gauge_minutes", "Gauge, minutes"),
)
"""Lines that are timed at the machine, as `prices` names them."""

QUANTITY = the.estimate_quantity_1
"""All of this sheet is about the first quantity."""

NOW = terms(QUANTITY, 1)


class Cause(NamedTuple):
    """A cause of a change of price: its name, its term in the price, label, what it is now, number format."""

    name: str
    term: str
    label: str
    now: Node
    form: str


CAUSES = (
    Cause("quantity", "quantity", "Quantity", when(known(NOW.quantity), NOW.quantity), "count"),
    Cause("scrap", "scrap", "Scrap", NOW.scrap, "0.0%"),
    Cause("setup", "setup", "Set up, minutes", NOW.setup, "0.0"),
    Cause("machine", "turning", "Turn and thread, minutes each", NOW.turning + NOW.threading, "0.00"),
    Cause("hand", "handling", "Handle and gauge, minutes each", NOW.handling + NOW.gauging, "0.00"),
    Cause("rate", "rate", "Rate an hour", NOW.rate, "0.00"),
    Cause("bar_price", "bar_price", "Price of a bar", NOW.bar_price, "0.00"),
    Cause("per_bar", "per_bar", "Pieces a bar", NOW.per_bar, "count"),
    Cause("overhead", "overhead", "Overhead on labour", NOW.overhead, "0.0%"),
    Cause("tools", "tooling", "Tooling and gauges", NOW.tooling + NOW.gauges, "0.00"),
    Cause("outside", "outside", "Outside work a piece", NOW.outside, "0.00"),
    Cause("profit", "profit", "Margin or markup", NOW.profit, "0.0%"),
)
"""Terms that a person sees as one are one cause."""


def planned(line: str) -> Node:
    """A line of the price on lathe 1."""
    return xl.INDEX(the[f"estimate_{line}"], 1, 1)


DIFFERING = 4
"""So many of what is compared have a difference."""


def _compared(number: int) -> tuple[tuple[str, Node, str], ...]:
    """What is compared of a lathe: label, formula, number format; at the end what the sheet Lathe says."""
    my = Numbered(number)
    may_open = my.lathe_half_nuts
    half_nuts = first((may_open.same(True), "may open"), (may_open.same(False), "stay shut"))
    minutes, price, each = (
        planned(line) if number == 1 else the[f"other_{line}"] for line in ("minutes", "price", "unit_price")
    )
    return (
        ("Thread, minutes a piece", my.estimate_thread_minutes, "0.00"),
        ("Minutes of the job", minutes, "0.0"),
        ("Price", price, "0.00"),
        ("Price each", each, "0.00"),
        ("Spindle, rpm", my.estimate_rpm_used, "0"),
        ("Back under power", my.estimate_power_used, "General"),
        ("Half-nuts, by its dial", half_nuts, "General"),
        ("Lead error, millionths", my.lathe_lead_error_ppm, '+0;-0;"0"'),
    )


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 30, "B": 16, "C": 16, "D": 16, "E": 16, "F": 4, "H": 30, "I": 14})
    blocks.result(book, ws, "A1:E1", "callout_costing", "the thread, as on the sheet Job", the.callout, look="callout")
    blocks.result(book, ws, "A2:E2", "costing_words", "part, unit and money in words", the.estimate_words, look="note")
    ws.row_dimensions[1].height = 34
    blocks.heading(book, ws, "H3:I3", "Working figures (not printed)")
    row = _actual(book, ws, 4)
    row = _lathes(book, ws, row + 2)
    row = _revision(book, ws, row + 2)
    blocks.page(ws, f"A1:F{row}")
    blocks.lock(ws)


def _heads(book: Book, ws: Worksheet, row: int, title: str, heads: tuple[str, ...]) -> None:
    blocks.heading(book, ws, f"A{row}:E{row}", title)
    for letter, text in zip("ABCDE", heads):
        blocks.write(book, ws, f"{letter}{row + 1}", text, "head")
    ws.row_dimensions[row + 1].height = 26


def _signed(form: str) -> str:
    """The number format of a difference."""
    return f"+{form};-{form};{form}"


def _both(one: str, other: str) -> Node:
    """Whether two cells that stand together are numbers."""
    return xl.COUNT(at(f"{one}:{other}")).same(2)


def _more(one: str, other: str) -> Node:
    """How much more the other cell is, of two that stand together."""
    return when(_both(one, other), at(other) - at(one))


def _together(cells: Node, count: int) -> Node:
    """The sum of cells once all are numbers."""
    return when(xl.COUNT(cells).same(count), xl.SUM(cells))


def _actual(book: Book, ws: Worksheet, top: int) -> int:
    """Planned minutes of the first quantity against what it took."""
    heads = ("", "planned", "as it was", "difference", "in money")
    _heads(book, ws, top, "Planned and as it was: first quantity, lathe 1", heads)
    for row, (name, label) in enumerate(ACTUAL, start=top + 2):
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}", planned(name), "figure", "0.0")
        blocks.write(book, ws, f"C{row}", None, "input_number", "0.0#")
        blocks.name_input(
            book, ws, f"C{row}", f"actual_{name}", f"{label.lower()} as it was",
            prompt="Minutes that it really took, for all pieces made.", dimension="0.0#", check=ANY_NUMBER,
        )  # fmt: skip
        blocks.result(
            book, ws, f"D{row}", f"actual_{name}_more", f"{label.lower()}, more than planned",
            _more(f"B{row}", f"C{row}"), dimension=_signed("0.0"),
        )  # fmt: skip
        money = when(_both(f"B{row}", f"C{row}"), at(f"D{row}") * the.estimate_rate / 60)
        blocks.write(book, ws, f"E{row}", money, "figure", _signed("0.00"))
    last = top + 1 + len(ACTUAL)
    total = last + 1
    blocks.write(book, ws, f"A{total}", "Minutes together", "label")
    for letter, form in (("B", "0.0"), ("C", "0.0"), ("D", _signed("0.0")), ("E", _signed("0.00"))):
        together = _together(at(f"{letter}{top + 2}:{letter}{last}"), len(ACTUAL))
        blocks.write(book, ws, f"{letter}{total}", together, "result", form)
    blocks.define(book, ws, f"D{total}", "actual_minutes_more", "minutes more than planned, once every line is typed")
    blocks.define(book, ws, f"B{top + 2}:B{total}", "actual_planned", "planned minutes, line by line and together")
    blocks.define(book, ws, f"C{total}", "actual_minutes", "minutes as they were, once every line is typed")
    blocks.define(book, ws, f"E{top + 2}:E{total}", "actual_money_more", "what the difference is in money, at the rate")
    return total


def _lathe_name(number: int) -> Node:
    """As typed on the sheet Estimate, else as on the sheet Lathe."""
    my = Numbered(number)
    names = (my.estimate_lathe, my.lathe_name)
    return first(*((given(name), name) for name in names), otherwise=f"lathe {number}")


def _doubts(number: int) -> Node:
    """What the sheet Lathe has against the price of a lathe, in words."""
    my = Numbered(number)
    return first(
        (my.lathe_fault.differs(""), f" The sheet Lathe does not describe lathe {number}."),
        (known(my.lathe_lead_error_ppm), ""),
        otherwise=f" No gears for this lead are given for lathe {number}.",
    )


def _which_is_cheaper() -> Node:
    one, other = planned("price"), the.other_price
    apart = xl.ABS(other - one)
    cheaper = say(when(other < one, "Lathe 2", "Lathe 1"), " is cheaper by ", shown(apart, 2), " on the job.")
    return first(
        (no(known(one)), ""),
        (the.estimate_fault_2.differs(""), say("Lathe 2: ", the.estimate_fault_2)),
        *((the[f"another_lead_{n}"], f"Lathe {n} cuts another lead: no comparison.") for n in (1, 2)),
        otherwise=say(when(apart < 0.005, "Both come to the same price.", cheaper), _doubts(1), _doubts(2)),
    )


def _lathes(book: Book, ws: Worksheet, top: int) -> int:
    """One job on two lathes."""
    _heads(book, ws, top, "The two lathes: first quantity", ("", "lathe 1", "lathe 2", "difference", ""))
    cells = {name: f"I{row}" for row, name in enumerate(LABELS, start=4)}
    for name, formula in lines(terms(QUANTITY, 2), {name: at(cell) for name, cell in cells.items()}).items():
        label, form = LABELS[name]
        blocks.write(book, ws, cells[name].replace("I", "H"), f"{label.strip()}, lathe 2", "small")
        blocks.result(
            book, ws, cells[name], f"other_{name}", f"{label.strip().lower()}, lathe 2, first quantity",
            at_quantity(QUANTITY, 2, formula), dimension=form, role="working",
        )  # fmt: skip
    names = top + 2
    blocks.write(book, ws, f"A{names}", "Lathe", "label")
    for letter, number in (("B", 1), ("C", 2)):
        blocks.write(book, ws, f"{letter}{names}", _lathe_name(number), "head")
    ws.row_dimensions[names].height = 26
    for place, ((label, one, form), (_, other, _)) in enumerate(zip(_compared(1), _compared(2))):
        row = names + 1 + place
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}", one, "figure", form)
        blocks.write(book, ws, f"C{row}", other, "figure", form)
        if place < DIFFERING:
            blocks.write(book, ws, f"D{row}", _more(f"B{row}", f"C{row}"), "result", _signed(form))
    differences = f"D{names + 1}:D{names + DIFFERING}"
    blocks.define(book, ws, differences, "lathes_difference", "lathe 2 less lathe 1")
    compared = "name, minutes, prices, speed, half-nuts and lead error of the two lathes"
    blocks.define(book, ws, f"B{names}:C{row}", "lathes_compared", compared)
    row += 1
    blocks.result(
        book, ws, f"A{row}:E{row}", "lathes_words", "which lathe is cheaper, or what is missing", _which_is_cheaper(),
        look="words",
    )  # fmt: skip
    ws.row_dimensions[row].height = 28
    return row


def _revision(book: Book, ws: Worksheet, top: int) -> int:
    """What changed in money since an earlier revision, cause by cause; the causes sum to the change."""
    heads = ("cause", "now", "before", "price so far", "change")
    _heads(
        book, ws, top, "Since the revision before (learning and kind of profit as now): type what was otherwise", heads
    )
    start = top + 2
    rows = range(start + 1, start + 1 + len(CAUSES))
    blocks.write(book, ws, f"A{start}", "All as before", "label")
    for row, (name, _, label, now, form) in zip(rows, CAUSES):
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}", when(the.estimate_fault_1.same(""), now), "figure", form)
        blocks.write(book, ws, f"C{row}", None, "input_number", form)
        blocks.name_input(
            book, ws, f"C{row}", f"before_{name}", f"{label.lower()} in the revision before",
            prompt="What it was in the earlier revision. Empty: as now.", dimension=form, check=ANY_NUMBER,
        )  # fmt: skip
        blocks.write(book, ws, f"H{row}", f"{label}, before", "small")
        typed = at(f"C{row}")
        before = first((blank(typed), at(f"B{row}")), (known(typed), typed))
        blocks.write(book, ws, f"I{row}", before, "figure", form)
    now_cells, before_cells, changes = (f"{letter}{rows[0]}:{letter}{rows[-1]}" for letter in "BIE")
    ready = all_of(
        the.estimate_fault_1.same(""),
        known(QUANTITY),
        *(xl.COUNT(at(cells)).same(len(CAUSES)) for cells in (now_cells, before_cells)),
    )
    for changed, row in enumerate((start, *rows)):  # so many causes are as they are now, the rest as before
        cells = (f"{'B' if place < changed else 'I'}{cause_row}" for place, cause_row in enumerate(rows))
        price = lines(Terms(**{cause.term: at(cell) for cause, cell in zip(CAUSES, cells)}), {})["price"]
        blocks.write(book, ws, f"D{row}", when(ready, xl.IFERROR(price, "")), "figure", "0.00")
        if changed:
            blocks.write(book, ws, f"E{row}", _more(f"D{row - 1}", f"D{row}"), "result", _signed("0.00"))
    last = rows[-1] + 1
    blocks.write(book, ws, f"A{last}", "Change of the price", "label")
    blocks.result(
        book, ws, f"E{last}", "revision_change", "change of the price since the revision before",
        _together(at(changes), len(CAUSES)), dimension=_signed("0.00"),
    )  # fmt: skip
    blocks.define(book, ws, changes, "revision_changes", "change of the price by cause, in the order listed")
    blocks.define(book, ws, f"D{start}", "revision_before", "price of the revision before")
    blocks.define(book, ws, now_cells, "revision_now", "each cause as it is now")
    so_far = f"D{rows[0]}:D{rows[-1]}"
    blocks.define(book, ws, so_far, "revision_prices", "price with the causes so far as they are now")
    blocks.define(book, ws, before_cells, "revision_used", "each cause as it was before", role="working")
    return last
