"""The revision before, on the sheet Costing: what changed in money since it was kept, cause by cause.

A revision is kept by one paste: the cells from `before_revision` to `before_price_5` lie one under the other, in the
order of `revision_now`.
"""

from __future__ import annotations

from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    empty,
    every,
    first,
    fixed,
    given,
    here,
    known,
    no,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.costing_lines import FIRST_QUANTITY, PAGE, elsewhere, laid, more_than, signed
from workbook_template.sheets.estimate_figures import terms
from workbook_template.sheets.estimate_inputs import QUANTITIES, QUANTITY, SHARE, SURCHARGE, UP_TO_ALL
from workbook_template.sheets.inputs import (
    ANYTHING,
    DAY,
    MOST,
    MOST_PIECES,
    NOT_NEGATIVE,
    Check,
    Input,
    believed,
    in_text,
    whole,
)
from workbook_template.sheets.layout import (
    CALLOUT,
    NOTE,
    Across,
    Block,
    Column,
    Line,
    Row,
    Table,
    across,
    block,
    entry,
    line,
    shown,
    stack,
    words,
)
from workbook_template.trade import days
from workbook_template.trade.prices import MARGIN_WORDS, Terms, lines, margin_of_all

NOW = terms(FIRST_QUANTITY, 1)
SOME = Check("whole", "1", MOST, "between", "Type a whole number, 1 or more, a billion at most.")


class Cause(NamedTuple):
    """A cause of a change of price: its name, its term in the price, label, what it is now, number format, check."""

    name: str
    term: str
    label: str
    now: Node
    form: str
    check: Check = NOT_NEGATIVE


NUMBERS = range(1, QUANTITIES + 1)
"""Of the five quantities; each is a cause of its own price alone."""

QUANTITY_CAUSES = tuple(
    Cause(f"quantity_{n}", "quantity", f"Quantity {n}", the[f"estimate_quantity_{n}"], "count", QUANTITY.check)
    for n in NUMBERS
)
CAUSES = (
    Cause("scrap", "scrap", "Scrap", NOW.scrap, "0.0%", SHARE),
    Cause("setup_minutes", "setup_minutes", "Set up, minutes", NOW.setup_minutes, "0.0"),
    Cause("machine_minutes", "turning", "Turn and thread, minutes each", NOW.turning + NOW.threading, "0.00"),
    Cause("hand_minutes", "handling", "Handle, minutes each", NOW.handling, "0.00"),
    Cause("check_minutes", "check_minutes", "Gauge, minutes a check", NOW.check_minutes, "0.00"),
    Cause("gauged", "gauged", "Share gauged", NOW.gauged, "0%", UP_TO_ALL),
    Cause("every", "every", "First and every nth; 0: by share", NOW.every, "count", whole(0, MOST_PIECES)),
    Cause("rest", "allowance", "Rest and delay", NOW.allowance, "0.0%", SHARE),
    Cause("rate", "rate", "Rate an hour", NOW.rate, "0.00"),
    Cause("bar_price", "bar_price", "Price of a bar", NOW.bar_price, "0.00"),
    Cause("per_bar", "per_bar", "Pieces a bar", NOW.per_bar, "count", SOME),
    Cause("overhead", "overhead", "Overhead on labour", NOW.overhead, "0.0%", SURCHARGE),
    Cause("tools", "tooling", "Tooling and gauges", NOW.tooling + NOW.gauges, "0.00"),
    Cause("outside", "outside", "Outside work, coating, each", NOW.outside, "0.00"),
    Cause("profit", "profit", "Margin or markup", NOW.profit, "0.0%", SURCHARGE),
)
"""Terms that a person sees as one are one cause; they come after the quantity."""


ALL = (*QUANTITY_CAUSES, *CAUSES)
PRICES = tuple(
    Cause(f"price_{n}", "", f"Price at quantity {n}", xl.INDEX(the.estimate_price, 1, n), "0.00") for n in NUMBERS
)
STATED = 2
"""Lines before the causes: revision and day."""


def _kept() -> tuple[Cause, ...]:
    """What is kept of a revision, line by line: what it is now, and the cell for what it was."""
    ready = the.estimate_fault_1.same("")
    return (
        Cause("revision", "", "Revision", the.revision_text, "text", ANYTHING),
        Cause("day", "", "Day", the.as_of_used, "date", DAY),
        *(one._replace(now=when(ready, when(known(one.now), one.now))) for one in ALL),
        *PRICES,
    )


def _kept_line(one: Cause) -> Line:
    before = Input(f"before_{one.name}", one.label, f"{one.label.lower()} in the revision before", one.form, one.check,
                   "What it was in the revision that was kept. Empty: as now.")  # fmt: skip
    is_text = one.form == "text"
    return line(
        words(1, one.label, "row_note"),
        words(1, one.now, "row_note" if is_text else "row_note_number", dimension=one.form),
        entry(1, before, look="list_note" if is_text else "list_note_number"),
        height=NOTE,
    )


def _changes() -> Table:
    """What each cause changed at each quantity, beside the causes; a quantity is a cause of its own price alone."""

    def column(number: int) -> Column:
        def change(row: int) -> Node | None:
            if row <= QUANTITIES and row != number:
                return None
            step = max(row - QUANTITIES, 0) + 2
            return more_than(*(xl.INDEX(the[f"revision_prices_{number}"], at) for at in (step - 1, step)))

        meaning = f"change of the price at quantity {number} by cause, in the order listed"
        form, look = signed("0.00"), "row_note_number"
        return Column(f"changes_{number}", "", meaning, formula=change, dimension=form, look=look)

    return Table("revision", (*elsewhere("label", "now", "before"), *map(column, NUMBERS)), len(ALL), NOTE)


def used() -> Table:
    """Each cause as it was before: values that were pasted; a text without a letter is an empty cell."""

    def before(number: int) -> Node:
        typed = the[f"before_{ALL[number - 1].name}"]
        return first((empty(typed), xl.INDEX(the.revision_now, STATED + number)), (known(typed), typed))

    used = Column("used", "as before", "each cause as it was before", formula=before, look="note_9", role="working")
    return Table("revision", (used,), len(ALL))


def steps() -> Table:
    """From the revision before to now, a cause more in each row: its terms as they are then, and the prices."""
    rows = 2 + len(CAUSES)

    def term(place: int, turns: int) -> Column:
        """The cause of that place among all; it is as now from row `turns` on."""

        def then(row: int) -> Node:
            return xl.INDEX(the.revision_now, STATED + place) if row >= turns else xl.INDEX(the.revision_used, place)

        name = ALL[place - 1].name
        meaning = f"{name.replace('_', ' ')}, a row for each cause that has changed so far"
        return Column(name, name, meaning, formula=then, look="note_9", role="working")

    def price(number: int) -> Column:
        own = here[f"quantity_{number}"]
        given_terms = {one.term: here[one.name] for one in CAUSES}
        then = Terms(quantity=own, by_length=NOW.by_length, minimum_charge=NOW.minimum_charge, **given_terms)
        all_known = all_of(
            the.estimate_fault_1.same(""),
            the.revision_fault.same(""),
            xl.COUNT(own, span(here[CAUSES[0].name], here[CAUSES[-1].name])).same(1 + len(CAUSES)),
            xl.COUNT(every[f"quantity_{number}"]).same(rows),
            xl.COUNT(the.revision_terms).same(rows * len(CAUSES)),
        )
        formula = when(all_known, xl.IFERROR(lines(then, {})["price"], ""))
        meaning = f"price at quantity {number} with the causes so far as they are now"
        return Column(f"prices_{number}", f"price {number}", meaning, formula=formula, dimension="0.00", look="note_9",
                      role="working")  # fmt: skip

    columns = (
        *(term(QUANTITIES + place, place + 2) for place in range(1, len(CAUSES) + 1)),
        *(term(number, 2) for number in NUMBERS),
        *map(price, NUMBERS),
    )
    terms_then = ("revision_terms", "terms that all quantities share, a row for each cause that has changed so far",
                  CAUSES[0].name, CAUSES[-1].name)  # fmt: skip
    return Table("revision", columns, rows, spans=(terms_then,))


def what_changed() -> Block:
    """What changed in money since a revision that was kept, cause by cause, at every quantity."""
    kept = _kept()

    def change(number: int) -> Node:
        return more_than(*(xl.INDEX(the[name], 1, number) for name in ("revision_before", "estimate_price")))

    def before(number: int) -> Node:
        """The price that was kept: it is the customer's, whatever comes out again."""
        again, kept = _again(number), the[f"before_price_{number}"]
        return when(known(again), when(known(kept), kept, again))

    totals = (
        Row("change", "Change of the price", "change of the price, at each quantity", change, signed("0.00"),
            "row_note_number_bold", label_look="row_note"),
        Row("before", "Price of the revision before",
            "price of the revision before, at each quantity: as kept, or worked anew", before, "0.00",
            "row_note_number", label_look="row_note"),
    )  # fmt: skip
    now = ("revision_now", "what is copied to keep this revision", "now", "now", "result")
    found = Figure("revision_words", "which revision was kept, and if its prices come out again", _revision_words())
    return stack(
        block("Since the revision before (learning, kind of profit, charging, minimum as now)", columns=PAGE),
        block(None, line(words(PAGE, HINT, "note_9"), height=CALLOUT)),
        block(
            None,
            line(
                words(1, ""), *(words(1, head, "column_head_right") for head in ("now", "before")),
                *(words(1, f"change at quantity {n}", "column_head_right") for n in NUMBERS), height=CALLOUT,
            ),
        ),
        laid(
            [_kept_line(one) for one in kept],
            (0, Table("revision", elsewhere("label", "now"), len(kept), NOTE, spans=(now,))),
            (STATED, _changes()),
        ),
        across(Across("revision", totals, QUANTITIES, NOTE), PAGE - QUANTITIES),
        block(None, line(shown(PAGE, found, "body"), height=CALLOUT)),
    )  # fmt: skip


HINT = (
    "Keep a revision: copy the column now, from Revision to the last price, and paste its values (Paste Special, "
    "values alone) into the column before. Then enter the new revision on the sheet Job and what it changes."
)


def faults() -> tuple[Figure, ...]:
    """What was kept and can't be, the causes by themselves, as a formula has its bounds; nothing is worked with it."""

    def wrong(one: Cause) -> tuple[Node, Node]:
        kept = the[f"before_{one.name}"]
        return no(xl.IFERROR(when(empty(kept), True, believed(one.check, kept)), False)), _refused(
            one.label, one.check.asked
        )

    all_of_it = when(known(the.before_profit), margin_of_all(the.before_profit), False)
    objections = (
        *map(wrong, QUANTITY_CAUSES),
        (the.revision_cause_fault.differs(""), the.revision_cause_fault),
        *map(wrong, PRICES),
        (all_of_it, _refused(CAUSES[-1].label, MARGIN_WORDS[0].lower() + MARGIN_WORDS[1:])),
    )
    return (
        Figure("revision_cause_fault", "which cause is kept of the revision before and can not be",
               first(*map(wrong, CAUSES))),
        Figure("revision_fault", "what is kept of the revision before and can not be", first(*objections)),
    )  # fmt: skip


def _refused(label: str, why: str) -> Node:
    return node(f"{label}, before: {why} No change is worked until then.")


def _again(number: int) -> Node:
    """What the terms that were kept come to now."""
    return xl.INDEX(the[f"revision_prices_{number}"], 1)


def _revision_words() -> Node:
    """Which revision the changes are since, and where its kept price is not what comes out again."""
    of_day = when(days.is_day(the.before_day), say(" of ", days.written(the.before_day)))
    no_day = days.if_no_day(the.before_day, " Its day")
    named = say("Since revision ", the.before_revision, of_day, ".", no_day)

    def differs(number: int) -> Node:
        kept, again = the[f"before_price_{number}"], _again(number)
        return when(all_of(believed(NOT_NEGATIVE, kept), known(again)), xl.ABS(kept - again) > 0.005, False)

    def sentence(number: int) -> Node:
        kept, again = the[f"before_price_{number}"], _again(number)
        return say(
            f"The price kept at quantity {number}, ", fixed(kept, 2), ", is not what is listed here gives, ",
            fixed(again, 2), ": something not listed was otherwise. The causes count from ", fixed(again, 2), " on.",
        )  # fmt: skip

    return first(
        (the.revision_fault.differs(""), the.revision_fault),
        *((differs(number), sentence(number)) for number in NUMBERS),
        (given(in_text(the.before_revision)), named),
        (
            xl.COUNTA(*(the[f"before_{one.name}"] for one in (*ALL, *PRICES))) > 0,
            "What was kept has no name: type its revision into the column before.",
        ),
        otherwise="No revision is kept.",
    )
