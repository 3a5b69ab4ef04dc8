"""The sheet Costing: what the job really took, the other lathe, and what a revision changed in money."""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import (
    Numbered,
    all_of,
    at,
    empty,
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
from workbook_template.sheets.estimate_inputs import QUANTITIES
from workbook_template.trade import days
from workbook_template.trade.prices import Terms, lines

SHEET = "Costing"

ANY_NUMBER = Check("decimal", "0", operator="greaterThanOrEqual", refusal="Type a number, 0 or more.")

ACTUAL = (
    ("set_up_minutes", "Set up, minutes"),
    ("turn_minutes", "Turn, minutes"),
    ("thread_minutes", "Thread, minutes"),
    ("handle_minutes", "Handle, minutes"),
    ("gauge_minutes", "Gauge, minutes"),
    ("rest_minutes", "Rest and delay, minutes"),
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


NUMBERS = range(1, QUANTITIES + 1)
"""Of the five quantities; each is a cause of its own price alone."""

QUANTITY_CAUSES = tuple(
    Cause(f"quantity_{n}", "quantity", f"Quantity {n}", the[f"estimate_quantity_{n}"], "count") for n in NUMBERS
)
CAUSES = (
    Cause("scrap", "scrap", "Scrap", NOW.scrap, "0.0%"),
    Cause("setup", "setup", "Set up, minutes", NOW.setup, "0.0"),
    Cause("machine", "turning", "Turn and thread, minutes each", NOW.turning + NOW.threading, "0.00"),
    Cause("hand", "handling", "Handle, minutes each", NOW.handling, "0.00"),
    Cause("gauging", "gauging", "Gauge, minutes a check", NOW.gauging, "0.00"),
    Cause("gauged", "gauged", "Share gauged", NOW.gauged, "0%"),
    Cause("every", "every", "First and every nth; 0: by share", NOW.every, "count"),
    Cause("rest", "allowance", "Rest and delay", NOW.allowance, "0.0%"),
    Cause("rate", "rate", "Rate an hour", NOW.rate, "0.00"),
    Cause("bar_price", "bar_price", "Price of a bar", NOW.bar_price, "0.00"),
    Cause("per_bar", "per_bar", "Pieces a bar", NOW.per_bar, "count"),
    Cause("overhead", "overhead", "Overhead on labour", NOW.overhead, "0.0%"),
    Cause("tools", "tooling", "Tooling and gauges", NOW.tooling + NOW.gauges, "0.00"),
    Cause("outside", "outside", "Outside work and coating a piece", NOW.outside, "0.00"),
    Cause("profit", "profit", "Margin or markup", NOW.profit, "0.0%"),
)
"""Terms that a person sees as one are one cause; they come after the quantity."""


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
    blocks.widths(ws, {"A": 30, **dict.fromkeys("BCDEFGH", 16), "J": 4, "K": 30, "L": 14})
    blocks.result(book, ws, "A1:E1", "callout_costing", "the thread, as on the sheet Job", the.callout, look="callout")
    blocks.result(book, ws, "A2:E2", "costing_words", "part, unit and money in words", the.estimate_words, look="note")
    ws.row_dimensions[1].height = 34
    blocks.heading(book, ws, "K3:L3", "Working figures (not printed)")
    row = _actual(book, ws, 4)
    row = _lathes(book, ws, row + 2)
    row = _revision(book, ws, row + 2)
    blocks.page(ws, f"A1:H{row}")
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
    cells = {name: f"L{row}" for row, name in enumerate(LABELS, start=4)}
    for name, formula in lines(terms(QUANTITY, 2), {name: at(cell) for name, cell in cells.items()}).items():
        label, form = LABELS[name]
        blocks.write(book, ws, cells[name].replace("L", "K"), f"{label.strip()}, lathe 2", "small")
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
    """What changed in money since a revision that was kept, cause by cause, at every quantity."""
    blocks.heading(book, ws, f"A{top}:H{top}", "Since the revision before (learning, kind of profit, charging as now)")
    hint = (
        "Keep a revision: copy the column now, from Revision to the last price, and paste its values (Paste Special, "
        "values alone) into the column before. Then enter the new revision on the sheet Job and what it changes."
    )
    blocks.write(book, ws, f"A{top + 1}:H{top + 1}", hint, "words")
    ws.row_dimensions[top + 1].height = 28
    columns = tuple(zip(NUMBERS, "DEFGH", "MNOPQ"))
    for letter, text in zip("BC", ("now", "before")):
        blocks.write(book, ws, f"{letter}{top + 2}", text, "head")
    for number, letter, _ in columns:
        blocks.write(book, ws, f"{letter}{top + 2}", f"change at quantity {number}", "head")
    ready = the.estimate_fault_1.same("")
    start = top + 3
    _kept(book, ws, start, "revision", "Revision", the.revision & "", "text", blocks.ANYTHING)
    _kept(book, ws, start + 1, "day", "Day", the.as_of_used, "date", blocks.DAY)
    causes = (*QUANTITY_CAUSES, *CAUSES)
    rows = range(start + 2, start + 2 + len(causes))
    for row, (name, _, label, now, form) in zip(rows, causes):
        _kept(book, ws, row, name, label, when(ready, when(known(now), now)), form, ANY_NUMBER)
        typed = at(f"C{row}")  # values that were pasted: a text without a letter is an empty cell
        before = first((empty(typed), at(f"B{row}")), (known(typed), typed))
        blocks.write(book, ws, f"K{row}", f"{label}, before", "small")
        blocks.write(book, ws, f"L{row}", before, "figure", form)
    blocks.define(book, ws, f"L{rows[0]}:L{rows[-1]}", "revision_used", "each cause as it was before", role="working")
    prices = rows[-1] + 1
    for number in NUMBERS:
        now = xl.INDEX(the.estimate_price, 1, number)
        _kept(book, ws, prices + number - 1, f"price_{number}", f"Price at quantity {number}", now, "0.00", ANY_NUMBER)
    last_kept = prices + QUANTITIES - 1
    blocks.define(book, ws, f"B{start}:B{last_kept}", "revision_now", "what is copied to keep this revision")
    total = last_kept + 1
    blocks.write(book, ws, f"A{total}", "Change of the price", "label")
    blocks.write(book, ws, f"A{total + 1}", "Price of the revision before", "label")
    shared = rows[QUANTITIES:]
    for number, letter, chain in columns:
        mine = (rows[number - 1], *shared)
        counts = (*(at(f"{column}{row}") for column in "BL" for row in (mine[0],)),
                  *(at(f"{column}{shared[0]}:{column}{shared[-1]}") for column in "BL"))  # fmt: skip
        priced = all_of(ready, xl.COUNT(*counts).same(2 * len(mine)))
        for changed, row in enumerate((start + 1, *mine)):  # so many causes are as they are now, the rest as before
            cells = (f"{'B' if place < changed else 'L'}{cause_row}" for place, cause_row in enumerate(mine))
            terms_then = zip((QUANTITY_CAUSES[0], *CAUSES), cells)
            price = lines(Terms(**{cause.term: at(cell) for cause, cell in terms_then}), {})["price"]
            blocks.write(book, ws, f"{chain}{row}", when(priced, xl.IFERROR(price, "")), "figure", "0.00")
        for earlier, row in zip((start + 1, *mine), mine):
            blocks.write(
                book, ws, f"{letter}{row}", _more(f"{chain}{earlier}", f"{chain}{row}"), "figure", _signed("0.00")
            )
        changes = xl.COUNT(
            *(at(f"{letter}{row}") for row in (mine[0],)), at(f"{letter}{shared[0]}:{letter}{shared[-1]}")
        )
        sum_of = at(f"{letter}{mine[0]}") + xl.SUM(at(f"{letter}{shared[0]}:{letter}{shared[-1]}"))
        blocks.write(book, ws, f"{letter}{total}", when(changes.same(len(mine)), sum_of), "result", _signed("0.00"))
        first_price = at(f"{chain}{start + 1}")
        blocks.write(book, ws, f"{letter}{total + 1}", when(known(first_price), first_price), "figure", "0.00")
        blocks.define(
            book, ws, f"{letter}{rows[0]}:{letter}{rows[-1]}", f"revision_changes_{number}",
            f"change of the price at quantity {number} by cause, in the order listed",
        )  # fmt: skip
        blocks.define(
            book, ws, f"{chain}{start + 1}:{chain}{rows[-1]}", f"revision_prices_{number}",
            f"price at quantity {number} with the causes so far as they are now", role="working",
        )  # fmt: skip
    blocks.define(book, ws, f"D{total}:H{total}", "revision_change", "change of the price, at each quantity")
    blocks.define(
        book, ws, f"D{total + 1}:H{total + 1}", "revision_before", "price of the revision before, at each quantity"
    )
    last = total + 2
    blocks.result(
        book, ws, f"A{last}:H{last}", "revision_words", "which revision was kept, and if its prices come out again",
        _revision_words(), look="words",
    )  # fmt: skip
    ws.row_dimensions[last].height = 28
    return last


def _kept(book: Book, ws: Worksheet, row: int, name: str, label: str, now: Node, form: str, check: Check) -> None:
    """A line that is kept of a revision: what it is now, and the cell for what it was."""
    blocks.write(book, ws, f"A{row}", label, "label")
    blocks.write(book, ws, f"B{row}", now, "figure", form)
    blocks.write(book, ws, f"C{row}", None, "input" if form in ("text", "date") else "input_number", form)
    blocks.name_input(
        book, ws, f"C{row}", f"before_{name}", f"{label.lower()} in the revision before",
        prompt="What it was in the revision that was kept. Empty: as now.", dimension=form, check=check,
    )  # fmt: skip


def _revision_words() -> Node:
    """Which revision the changes are since, and where its kept price is not what comes out again."""
    of_day = when(days.is_day(the.before_day), say(" of ", days.written(the.before_day)))
    named = say("Since revision ", the.before_revision, of_day, ".")

    def differs(number: int) -> Node:
        kept, again = the[f"before_price_{number}"], xl.INDEX(the.revision_before, 1, number)
        return when(xl.COUNT(kept, again).same(2), xl.ABS(kept - again) > 0.005, False)

    def sentence(number: int) -> Node:
        kept, again = the[f"before_price_{number}"], xl.INDEX(the.revision_before, 1, number)
        return say(
            f"The price kept at quantity {number}, ", shown(kept, 2), ", is not what is listed here gives, ",
            shown(again, 2), ": something that is not listed was otherwise, or a figure was not kept.",
        )  # fmt: skip

    return first(
        *((differs(number), sentence(number)) for number in NUMBERS),
        (given(the.before_revision), named),
        otherwise="No revision is kept.",
    )
