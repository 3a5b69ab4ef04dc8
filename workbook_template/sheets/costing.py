"""The sheet Costing: what the job really took, the other lathe, and what a revision changed in money.

A revision is kept by one paste: the cells from `before_revision` to `before_price_5` lie one under the other, in the
order of `revision_now`.
"""

from __future__ import annotations

from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    Numbered,
    all_of,
    empty,
    every,
    first,
    fixed,
    given,
    here,
    known,
    no,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.estimate import LABELS
from workbook_template.sheets.estimate_figures import at_quantity, terms
from workbook_template.sheets.estimate_inputs import QUANTITIES
from workbook_template.sheets.inputs import ANYTHING, DAY, Check, Input
from workbook_template.sheets.layout import (
    CALLOUT,
    NOTE,
    Across,
    Block,
    Column,
    Line,
    Made,
    Piece,
    Row,
    Sheet,
    Table,
    across,
    block,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.trade import days
from workbook_template.trade.prices import Terms, lines

SHEET = "Costing"
WIDTHS = (32, 13, 13, *(11,) * QUANTITIES)
"""Labels, now and before, then a column for each quantity; no cell is merged, so that a column can be copied."""

PAGE = len(WIDTHS)

ANY_NUMBER = Check("decimal", "0", operator="greaterThanOrEqual", refusal="Type a number, 0 or more.")

ACTUAL = (
    ("setup_minutes", "Set up, minutes"),
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
    Cause("setup_minutes", "setup_minutes", "Set up, minutes", NOW.setup_minutes, "0.0"),
    Cause("machine_minutes", "turning", "Turn and thread, minutes each", NOW.turning + NOW.threading, "0.00"),
    Cause("hand_minutes", "handling", "Handle, minutes each", NOW.handling, "0.00"),
    Cause("check_minutes", "check_minutes", "Gauge, minutes a check", NOW.check_minutes, "0.00"),
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


def _signed(form: str) -> str:
    """The number format of a difference."""
    return f"+{form};-{form};{form}"


def _more(one: Node, other: Node) -> Node:
    """How much more the other figure is, once both are numbers."""
    return when(xl.COUNT(one, other).same(2), other - one)


def _together(figures: list[Node]) -> Node:
    """The sum of figures once all are numbers."""
    return when(xl.COUNT(*figures).same(len(figures)), xl.SUM(*figures))


def _step() -> Node:
    """What the sheet waits for, or what the job took."""
    typed = xl.COUNT(*(the[f"actual_{name}"] for name, _ in ACTUAL))
    more = the.actual_minutes_more
    by_plan = say(
        "It took ", fixed(xl.ABS(more), 1), when(more > 0, " minutes more", " minutes less"), " than planned, ",
        fixed(xl.ABS(more) * the.estimate_rate / 60, 2), " in money.",
    )  # fmt: skip
    return first(
        (the.estimate_fault_1.differs(""), say("Sheet Estimate: ", the.estimate_fault_1)),
        (typed.same(0), "Next: once the job is done, type the minutes that it took."),
        (known(more), by_plan),
        otherwise="Next: type every line of minutes as it was; 0 for none.",
    )


def _head() -> Block:
    callout = Figure("callout_costing", "the thread, as on the sheet Job", the.callout)
    told = Figure("costing_words", "part, unit and money in words", the.estimate_words)
    step = Figure("costing_step", "what the sheet waits for, or what the job took", _step())
    return block(
        None,
        line(shown(PAGE, callout, "thread"), height=CALLOUT),
        line(shown(PAGE, told, "note_9"), height=NOTE),
        line(shown(PAGE, step, "step"), height=40.5),
    )


def _titled(title: str, *heads: str) -> Block:
    """The title of a block and the heads of its columns."""
    named = (words(1, one, "column_head_right") for one in heads)
    return block(title, line(words(1, ""), *named, gap(PAGE - 1 - len(heads)), height=NOTE))


def _laid(written: list[Line], *tables: tuple[int, Table]) -> Block:
    """Lines with tables over them, each from so many lines down; its columns begin with the page's."""
    return Block(PAGE, tuple(written), tuple((down, 0, table) for down, table in tables))


def _elsewhere(*names: str) -> tuple[Column, ...]:
    """Columns that the lines write."""
    return tuple(Column(name, "", "", elsewhere=True) for name in names)


def _actual() -> Block:
    """Planned minutes of the first quantity against what it took; the last line is all of them."""

    def of_line(number: int) -> Node:
        return planned(ACTUAL[number - 1][0]) if number <= len(ACTUAL) else _together([planned(n) for n, _ in ACTUAL])

    def money(number: int) -> Node:
        more = the[f"actual_{([name for name, _ in ACTUAL] + ['minutes'])[number - 1]}_more"]
        return when(known(more), more * the.estimate_rate / 60)

    def one(name: str, label: str) -> Line:
        typed = Input(f"actual_{name}", label, f"{label.lower()} as it was", "0.0#", ANY_NUMBER,
                      "Minutes that it really took, for all pieces made.")  # fmt: skip
        more = Figure(f"actual_{name}_more", f"{label.lower()}, more than planned",
                      _more(planned(name), the[f"actual_{name}"]), _signed("0.0"))  # fmt: skip
        return line(words(1, label, "row_words"), gap(1), entry(1, typed, look="cell_number"),
                    shown(1, more, "row_number"))  # fmt: skip

    took = Figure("actual_minutes", "minutes as they were, once every line is typed",
                  _together([the[f"actual_{name}"] for name, _ in ACTUAL]), "0.0")  # fmt: skip
    more = Figure("actual_minutes_more", "minutes more than planned, once every line is typed",
                  _together([the[f"actual_{name}_more"] for name, _ in ACTUAL]), _signed("0.0"))  # fmt: skip
    total = line(words(1, "Minutes together", "row_words"), gap(1), shown(1, took, "row_number_bold"),
                 shown(1, more, "row_number_bold"))  # fmt: skip
    overlaid = Table("actual", (
        *_elsewhere("label"),
        Column("planned", "", "planned minutes, line by line and together", formula=of_line, dimension="0.0",
               look="row_number"),
        *_elsewhere("was", "more"),
        Column("money_more", "", "what the difference is in money, at the rate", formula=money,
               dimension=_signed("0.00"), look="row_number"),
    ), len(ACTUAL) + 1)  # fmt: skip
    return stack(
        _titled("Planned and as it was: first quantity, lathe 1", "planned", "as it was", "difference", "in money"),
        _laid([*(one(*each) for each in ACTUAL), total], (0, overlaid)),
    )


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
    cheaper = say(when(other < one, "Lathe 2", "Lathe 1"), " is cheaper by ", fixed(apart, 2), " on the job.")
    return first(
        (no(known(one)), ""),
        (the.estimate_fault_2.differs(""), say("Lathe 2: ", the.estimate_fault_2)),
        *((the[f"another_lead_{n}"], f"Lathe {n} cuts another lead: no comparison.") for n in (1, 2)),
        otherwise=say(when(apart < 0.005, "Both come to the same price.", cheaper), _doubts(1), _doubts(2)),
    )


def _lathes() -> Block:
    """One job on two lathes."""
    cheaper = Figure("lathes_words", "which lathe is cheaper, or what is missing", _which_is_cheaper())
    names = (words(1, _lathe_name(n), "row_note") for n in (1, 2))
    said = shown(PAGE - DIFFERING, cheaper, "words_in", lines=DIFFERING + 1)
    written = [line(words(1, "Lathe", "row_words"), *names, gap(1), said, height=CALLOUT)]
    for place, ((label, one, form), (_, other, _)) in enumerate(zip(_compared(1), _compared(2))):
        differs = (Piece(1, _more(one, other), "row_number_bold", dimension=_signed(form)),) * (place < DIFFERING)
        pieces = (Piece(1, each, "row_number", dimension=form) for each in (one, other))
        written.append(line(words(1, label, "row_words"), *pieces, *differs))
    compared = ("lathes_compared", "name, minutes, prices, speed, half-nuts and lead error of the two lathes", "one",
                "two", "result")  # fmt: skip
    difference = ("lathes_difference", "lathe 2 less lathe 1", "difference", "difference", "result")
    columns = _elsewhere("label", "one", "two", "difference")
    return stack(
        _titled("The two lathes: first quantity", "lathe 1", "lathe 2", "difference"),
        _laid(
            written,
            (0, Table("lathes", columns, len(written), spans=(compared,))),
            (1, Table("lathes", columns, DIFFERING, spans=(difference,))),
        ),
    )


def _other() -> tuple[Figure, ...]:
    """The lines of the price on lathe 2."""
    priced = lines(terms(QUANTITY, 2), {name: the[f"other_{name}"] for name in LABELS})
    return tuple(
        Figure(f"other_{name}", f"{label.strip().lower()}, lathe 2, first quantity",
               at_quantity(QUANTITY, 2, priced[name]), form)
        for name, (label, form) in LABELS.items()
    )  # fmt: skip


ALL = (*QUANTITY_CAUSES, *CAUSES)
STATED = 2
"""Lines before the causes: revision and day."""


def _kept() -> tuple[Cause, ...]:
    """What is kept of a revision, line by line: what it is now, and the cell for what it was."""
    ready = the.estimate_fault_1.same("")
    return (
        Cause("revision", "", "Revision", the.revision & "", "text"),
        Cause("day", "", "Day", the.as_of_used, "date"),
        *(one._replace(now=when(ready, when(known(one.now), one.now))) for one in ALL),
        *(
            Cause(f"price_{n}", "", f"Price at quantity {n}", xl.INDEX(the.estimate_price, 1, n), "0.00")
            for n in NUMBERS
        ),
    )


def _kept_line(one: Cause) -> Line:
    check = {"text": ANYTHING, "date": DAY}.get(one.form, ANY_NUMBER)
    before = Input(f"before_{one.name}", one.label, f"{one.label.lower()} in the revision before", one.form, check,
                   "What it was in the revision that was kept. Empty: as now.")  # fmt: skip
    is_text = one.form == "text"
    return line(
        words(1, one.label, "row_words"),
        words(1, one.now, "row_words" if is_text else "row_number", dimension=one.form),
        entry(1, before, look="cell_text" if is_text else "cell_number"),
        height=NOTE,
    )


def _changes() -> Table:
    """What each cause changed at each quantity, beside the causes; a quantity is a cause of its own price alone."""

    def column(number: int) -> Column:
        def change(row: int) -> Node | None:
            if row <= QUANTITIES and row != number:
                return None
            step = max(row - QUANTITIES, 0) + 2
            return _more(*(xl.INDEX(the[f"revision_prices_{number}"], at) for at in (step - 1, step)))

        meaning = f"change of the price at quantity {number} by cause, in the order listed"
        form, look = _signed("0.00"), "row_number"
        return Column(f"changes_{number}", "", meaning, formula=change, dimension=form, look=look)

    return Table("revision", (*_elsewhere("label", "now", "before"), *map(column, NUMBERS)), len(ALL), NOTE)


def _used() -> Table:
    """Each cause as it was before: values that were pasted; a text without a letter is an empty cell."""

    def before(number: int) -> Node:
        typed = the[f"before_{ALL[number - 1].name}"]
        return first((empty(typed), xl.INDEX(the.revision_now, STATED + number)), (known(typed), typed))

    used = Column("used", "as before", "each cause as it was before", formula=before, look="note_9", role="working")
    return Table("revision", (used,), len(ALL))


def _steps() -> Table:
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
        all_known = all_of(
            the.estimate_fault_1.same(""),
            xl.COUNT(own, span(here[CAUSES[0].name], here[CAUSES[-1].name])).same(1 + len(CAUSES)),
            xl.COUNT(every[f"quantity_{number}"]).same(rows),
            xl.COUNT(the.revision_terms).same(rows * len(CAUSES)),
        )
        formula = when(all_known, xl.IFERROR(lines(Terms(quantity=own, **given_terms), {})["price"], ""))
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


def _revision() -> Block:
    """What changed in money since a revision that was kept, cause by cause, at every quantity."""
    kept = _kept()

    def change(number: int) -> Node:
        changes = the[f"revision_changes_{number}"]
        return when(xl.COUNT(changes).same(1 + len(CAUSES)), xl.SUM(changes))

    def before(number: int) -> Node:
        price = xl.INDEX(the[f"revision_prices_{number}"], 1)
        return when(known(price), price)

    totals = (
        Row("change", "Change of the price", "change of the price, at each quantity", change, _signed("0.00"),
            "row_number_bold", label_look="row_words"),
        Row("before", "Price of the revision before", "price of the revision before, at each quantity", before, "0.00",
            label_look="row_words"),
    )  # fmt: skip
    now = ("revision_now", "what is copied to keep this revision", "now", "now", "result")
    found = Figure("revision_words", "which revision was kept, and if its prices come out again", _revision_words())
    return stack(
        block("Since the revision before (learning, kind of profit, charging as now)", columns=PAGE),
        block(None, line(words(PAGE, HINT, "note_9"), height=CALLOUT)),
        block(
            None,
            line(
                words(1, ""), *(words(1, head, "column_head_right") for head in ("now", "before")),
                *(words(1, f"change at quantity {n}", "column_head_right") for n in NUMBERS), height=CALLOUT,
            ),
        ),
        _laid(
            [_kept_line(one) for one in kept],
            (0, Table("revision", _elsewhere("label", "now"), len(kept), NOTE, spans=(now,))),
            (STATED, _changes()),
        ),
        across(Across("revision", totals, QUANTITIES, NOTE), PAGE - QUANTITIES),
        block(None, line(shown(PAGE, found, "body"), height=CALLOUT)),
    )  # fmt: skip


HINT = (
    "Keep a revision: copy the column now, from Revision to the last price, and paste its values (Paste Special, "
    "values alone) into the column before. Then enter the new revision on the sheet Job and what it changes."
)


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
            f"The price kept at quantity {number}, ", fixed(kept, 2), ", is not what is listed here gives, ",
            fixed(again, 2), ": something that is not listed was otherwise, or a figure was not kept.",
        )  # fmt: skip

    return first(
        *((differs(number), sentence(number)) for number in NUMBERS),
        (given(the.before_revision), named),
        otherwise="No revision is kept.",
    )


def sheet(_: Made) -> Sheet:
    """A page of what was planned and the other lathe, and a page of the revision before."""
    return Sheet(
        SHEET,
        (stack(_head(), _actual(), _lathes()), _revision()),
        _other(),
        (_used(), _steps()),
        WIDTHS,
        landscape=True,
        user="office",
    )
