"""The sheet Offer: a customer's paper with the prices of the sheet Estimate and what they stand on.

What is typed stands in a panel beside the page, so that the paper shows words and figures alone.
"""

from __future__ import annotations

from collections.abc import Callable

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    all_of,
    any_of,
    first,
    fixed,
    given,
    here,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import certificate, letterhead, offer_figures
from workbook_template.sheets.bar_figures import BY_LENGTH
from workbook_template.sheets.estimate_inputs import QUANTITIES, SUPPLIED
from workbook_template.sheets.inputs import ANYTHING, DAY, Input, in_text, spoiled, texts
from workbook_template.sheets.layout import (
    BODY,
    CALLOUT,
    NOTE,
    Block,
    Column,
    Line,
    Made,
    Mark,
    Piece,
    Sheet,
    Table,
    beside,
    block,
    box,
    deep,
    entry,
    gap,
    line,
    link,
    shown,
    stack,
    table,
    words,
)
from workbook_template.trade import days
from workbook_template.trade.prices import charged, to_minimum_order

SHEET = "Offer"
ROW = 15.75
SPACE = block(None, line(height=NOTE / 3), columns=12)

STATED = (
    ("Part", when(given(the.part_text), the.part_text, "NO PART NAMED")),
    ("Drawing, revision", say(
        when(given(the.drawing_text), the.drawing_text, "NO DRAWING NAMED"),
        when(given(the.revision_text), say(", revision ", the.revision_text), ", NO REVISION NAMED"),
    )),
    ("Thread", the.callout & ""),
    ("Class", when(known(the.thread_row), say(
        when(the.row_class.same(the.thread_side), "", the.row_class & ", "), the.thread_side,
    ))),
    ("Hand, starts", say(
        the.hand_text, " hand, ", xl.IFERROR(when(the.starts > 1, the.starts & " starts", "one start"), ""),
    )),
    ("Thread length", when(
        known(the.estimate_length_used), say(fixed(the.estimate_length_used, the.decimals), " ", the.unit_text),
        "to be agreed",
    )),
    ("Material", first(
        (SUPPLIED, say(when(given(the.material_text), say(the.material_text, ", ")), "supplied by the customer")),
        (given(the.material_text), the.material_text), otherwise="to be agreed",
    )),
)  # fmt: skip
"""What the page states from other sheets; an empty cell as text, so that it does not show as 0."""


def _text(name: str, label: str, meaning: str, prompt: str) -> Input:
    return Input(f"offer_{name}", label, meaning, "text", ANYTHING, prompt)


NUMBER = _text("number", "Offer number", "number of the offer", "Your number for this offer.")
DATE = Input("offer_date", "Date", "day of the offer", "date", DAY,
             "Date of this offer, as your spreadsheet program takes dates.")  # fmt: skip
VALID = Input("offer_valid", "Valid until", "last day of the offer", "date", DAY,
              "Last day on which these prices hold.")  # fmt: skip
OTHERS = (
    _text("valid_for", "For revision", "drawing revision that the last day was typed for",
          "The drawing revision for which you typed that day: an old day is not carried over to a new revision."),
    _text("coating", "Coating", "coating, or none",
          "As on the drawing. Empty: without coating, and limits hold as machined."),
    _text("gauging", "Gauging", "how the thread is gauged",
          "As over wires and ring, every piece. Empty: to be agreed."),
    _text("record", "Record supplied", "record that goes with the parts", "As certificate of inspection. Empty: none."),
    _text("delivery", "Delivery", "delivery", "As three weeks from order. Empty: to be agreed."),
    _text("terms", "Terms", "terms of payment and delivery", "As 30 days net, ex works. Empty: nothing is printed."),
    _text("tax", "Tax line", "what the offer says of taxes",
          "The words that your prices need where you are, as prices without value added tax. Empty: none."),
)  # fmt: skip
REMARKS = _text("remarks", "Remarks", "remarks", "Anything else that the customer has to know.")

WHEN_EMPTY = {
    "coating": offer_figures.WITHOUT,
    "gauging": "to be agreed",
    "record": "none",
    "delivery": "to be agreed",
}
"""What the page says where nothing is typed."""

WHEN_EMPTY_TOO = {"coating": offer_figures.COATING}
"""What it says behind what is typed, or in its place."""

TYPED = {"offer_coating": when(
    offer_figures.COATED, when(given(the.offer_coating_named), the.offer_coating_named, "NOT NAMED")
)}  # fmt: skip
"""What the page repeats of an entry, where it is not the entry as it stands."""

PRINTED = (NUMBER, *OTHERS, REMARKS, *letterhead.SHOP, letterhead.CUSTOMER)
"""Words that the page repeats."""

LONG_ONES = (*OTHERS[1:], REMARKS)
TWO_LINES = ("offer_coating", "offer_gauging")


SIGNS = {
    "coating": 90, "gauging": 160, "record": 80, "delivery": 80, "terms": 190, "tax": 95, "remarks": 285,
}  # fmt: skip
"""For how many signs the page has room, of common text."""


def _too_long(one: Input, most: int) -> tuple[Node, Node]:
    signs = xl.LEN(in_text(the[one.name]))
    return signs > most, say(one.label, " has ", signs, f" signs, and the paper has room for {most}: shorten it.")


def _addressed() -> Block:
    """Whom it is for, and by which number and days it goes."""

    def day(name: str, meaning: str) -> Piece:
        return shown(3, Figure(f"{name}_said", meaning, when(days.is_day(the[name]), days.written(the[name]))), "body")

    numbers = (
        ("Number", words(3, the.offer_number_text, "body")),
        ("Date", day("offer_date", "day of the offer, as printed")),
        ("Valid until", day("offer_valid", "last day of the offer, as printed")),
    )
    address = deep(words(6, the.customer_address_text, "body_top", lines=2))
    to = block(None, line(words(6, the.customer_text, "body"), height=CALLOUT), *address)
    return beside(to, gap(1), block(None, *(_said(label, said, BODY) for label, said in numbers)))


def _said(label: str, said: Piece, height: float = ROW) -> Line:
    return line(words(2, label, "note_9"), said, height=height)


def _stated() -> Block:
    """What is offered, from the sheets Job and Estimate; then what was typed for this offer, or what holds without."""
    column = Column(
        "stated", "", "what the offer states from other sheets", 10, lambda n: STATED[n - 1][1], look="body"
    )
    stated = Block(
        12, tuple(_said(label, gap(10)) for label, _ in STATED), ((0, 2, Table("offer", (column,), len(STATED), ROW)),)
    )
    conditions = (
        _said(one.label, shown(10, _condition(one), "body"), 2 * NOTE if one.name in TWO_LINES else ROW)
        for one in OTHERS
        if one.name.removeprefix("offer_") in WHEN_EMPTY
    )
    return stack(block("What is offered", columns=12), stated, block(None, *conditions))


def _condition(one: Input) -> Figure:
    """What is typed, and what the page says behind it or in its place."""
    typed, own = TYPED.get(one.name, in_text(the[one.name])), the[f"{one.name}_words"]
    said = say(typed, when(all_of(given(typed), given(own)), "; "), own)
    return Figure(f"{one.name}_said", f"{one.meaning}, as printed", said)


LEAST = the.quote_order_used
"""The least that a whole order is charged, 0 where there is none: what lacks is a line of its own, in no price."""


def _short() -> Node:
    """Whether any order offered is short of that: else the customer reads nothing of it."""
    return all_of(LEAST > 0, xl.COUNT(the.estimate_price) > 0, xl.MIN(the.estimate_price) < LEAST)


ADDED_HEAD = Figure("offer_added_head", "heading of what is added to reach the minimum order",
                    when(_short(), say("Added to reach ", fixed(LEAST, 2))))  # fmt: skip
SHORT = the.offer_added_head.differs("")
ORDER_HEAD = Figure("offer_order_head", "heading of the order together", when(SHORT, "Order together"))


def _prices() -> Block:
    """The price at each quantity; prices together are what a clerk works out from those each."""
    money = say("Price", when(given(in_text(the.estimate_currency)), say(", ", the.estimate_currency)))
    columns = (
        Column(name, head, f"{meaning}, at each quantity", wide, _at_quantity(name), form, look,
               head_look="column_head_right")
        for head, name, meaning, form, look, wide in (
            ("Quantity", "quantities", "quantities offered", "count", "figure_right", 2),
            ("Price each", "unit_prices", "price each, rounded to .01", "0.00", "result", 2),
            ("Price together", "prices", "price each, rounded to .01, times quantity", "0.00", "figure_right", 3),
            (ADDED_HEAD, "added",
             "what is added to reach the minimum order, were it ordered alone", "0.00", "figure_right", 3),
            (ORDER_HEAD, "orders", "price together with what is added", "0.00", "figure_right", 2),
        )
    )  # fmt: skip
    offered = Table("offer", tuple(columns), QUANTITIES, ROW, marks=(Mark("row_used", known(here.quantities)),))
    return table(offered, Figure("offer_money", "heading of the prices", money))._replace(repeated=-1)


def _terms() -> Block:
    """What holds for the prices, the shop's own words first."""
    not_valid = say("PRICES ARE NOT VALID: ", the.offer_not_valid, ".")
    told = first((the.offer_not_valid.differs(""), not_valid), otherwise=say(TO_SUPPLY, AT_MINIMUM, RISES))
    rises = Figure(
        "offer_rise_words",
        "why no price is shown; else what the customer supplies, a minimum charge, why a price rises",
        told,
    )
    authority = Figure("authority_offer", "who governs pipe and flight threads", the.authority_words)
    return block(
        None,
        line(shown(12, rises, "note_9"), height=3 * NOTE),
        line(words(12, the.offer_terms_text, "body"), height=2 * NOTE),
        line(words(12, the.offer_tax_text, "body"), height=ROW),
        line(words(12, the.offer_remarks_text, "body_top"), height=3 * NOTE),
        *(line(words(12, one, "note_9"), height=NOTE) for one in ALWAYS),
        line(shown(12, authority, "note_9"), height=2 * NOTE),
    )


ALWAYS = (
    "Sizes hold at 20 degrees Celsius. Limits of size are those of the standard for the thread and class named.",
    "The prices hold for the drawing revision named; another revision is a new offer.",
)


def _signatures() -> Block:
    return block(
        None,
        line(box(5), gap(2), box(5), height=31.5),
        line(words(5, "Offered by, date", "note_9"), gap(2), words(5, "Accepted by, date", "note_9"), height=NOTE),
    )


def _panel() -> Block:
    """What is typed, beside the page."""
    step = Figure("offer_next", "what the offer still lacks", offer_figures.NEXT)
    gauged = Figure("offer_gauged_words", "what gauging is in the price", offer_figures.GAUGED)
    no_day = Figure("offer_valid_words", "whether the day is one", days.if_no_day(the.offer_valid))
    return block(
        None,
        line(words(9, "Typed here, printed there", "section")),
        *deep(shown(9, step, "said", lines=3)),
        *letterhead.entries((NUMBER, DATE)),
        line(words(3, VALID.label), entry(3, VALID), shown(3, no_day, "aside")),
        line(),  # beside the space over what is offered, which is low
        *letterhead.entries(OTHERS),
        line(words(3, REMARKS.label), entry(6, REMARKS, lines=2)),  # down to Coating, whose row is twice as high
        line(),
        line(shown(9, gauged, "note_9")),  # beside Gauging, as high
        line(link(9, "Letterhead and customer's address: beside the certificate", certificate.SHEET)),
    )


def _working() -> tuple[Figure, ...]:
    numbers = range(1, QUANTITIES + 1)
    supplied = when(SUPPLIED, say(*map(_to_supply, numbers)))
    meaning = "quantities whose price each is more than at a smaller one, with the reason"
    typed = {one.name: one.meaning for one in OTHERS}
    return (
        *offer_figures.working(),
        *texts((NUMBER, *OTHERS[-2:], REMARKS)),
        Figure("offer_spoiled", "what is typed for the paper and is an error value", spoiled(PRINTED)),
        Figure("offer_too_long", "what is typed for the paper and is too long for it",
               first(*(_too_long(one, SIGNS[one.name.removeprefix("offer_")]) for one in LONG_ONES))),
        Figure("offer_supplied", "bars or blanks that the customer has to supply, at each quantity", supplied),
        *(Figure(f"offer_rises_{number}", f"quantity {number}, if its price each is more than at a smaller, and why",
                 _rises(number)) for number in numbers),
        Figure("offer_rises", meaning, say(*(the[f"offer_rises_{number}"] for number in numbers))),
        *(
            Figure(f"offer_{name}_words", f"{typed[f'offer_{name}']}, when empty",
                   WHEN_EMPTY_TOO.get(name, when(given(in_text(the[f"offer_{name}"])), "", empty)))
            for name, empty in WHEN_EMPTY.items()
        ),
    )  # fmt: skip


def sheet(_: Made) -> Sheet:
    """One page for the customer, and the panel."""
    page = stack(
        block(None, *letterhead.head(SHEET)), _addressed(), SPACE, _stated(), SPACE, _prices(), _terms(), _signatures()
    )
    return Sheet(SHEET, (page,), _working(), beside=_panel(), user="office")


def _at_quantity(what: str) -> Callable[[int], Node]:
    """What is offered at each of the quantities, where it has a price: that of the sheet Estimate, to the cent.

    A price that does not hold is not shown: what is printed may leave the house.
    """

    def offered(number: int) -> Node:
        quantity = the[f"estimate_quantity_{number}"]
        each, price = (xl.INDEX(the[f"estimate_{line}"], 1, number) for line in ("unit_price", "price"))
        added = to_minimum_order(price, LEAST)
        asked = {
            "quantities": quantity,
            "unit_prices": each,
            "prices": price,
            "added": when(SHORT, added),
            "orders": when(SHORT, charged(price + added)),
        }[what]
        holds = asked if what == "quantities" else when(the.offer_not_valid.same(""), asked, NO_NUMBER)
        return when(known(price), holds)

    return offered


def _to_supply(number: int) -> Node:
    """Bars or blanks that the customer has to supply for one of the quantities."""
    pieces, bars = the[f"estimate_quantity_{number}"], xl.INDEX(the.estimate_bars, 1, number)
    thing = when(the.estimate_blanks, "blank", "bar")
    return when(
        known(bars),
        say(", ", bars, " ", thing, when(bars > 1, "s"), " for ", pieces, when(pieces > 1, " pieces", " piece")),
    )


def _rises(number: int) -> Node:
    """A quantity whose price each is more than that of a smaller quantity, with the reason; nothing where it is not."""

    def dearer_than(other: int) -> Node:
        mine, its = ((xl.INDEX(the.offer_quantities, n), xl.INDEX(the.offer_unit_prices, n)) for n in (number, other))
        return when(xl.COUNT(*mine, *its).same(4), all_of(its[0] < mine[0], its[1] < mine[1]), False)

    def bars_of(one: int) -> Node:
        return xl.INDEX(the.estimate_bars, 1, one)

    others = [other for other in range(1, QUANTITIES + 1) if other != number]
    make, on_last = (xl.INDEX(the[f"estimate_{line}"], 1, number) for line in ("make", "on_last_bar"))
    quantity, bars = xl.INDEX(the.offer_quantities, number), bars_of(number)
    by_bars = say(bars, " whole bars, the last for ", on_last, when(on_last.same(1), " piece", " pieces"))
    another_bar = any_of(*(all_of(dearer_than(other), bars_of(other) < bars) for other in others))
    bar_begun = all_of(no(BY_LENGTH), no(SUPPLIED), another_bar)
    reason = first((bar_begun, by_bars), (make > quantity, "more spare pieces"), otherwise="more checks")
    return when(any_of(*map(dearer_than, others)), say("; ", quantity, " pieces take ", reason))


TO_SUPPLY = when(given(the.offer_supplied), say("The customer supplies ", xl.MID(the.offer_supplied, 3, 255), ". "))
"""What the customer has to send, spare ones too; without it the price is of no use to him."""

AT_MINIMUM = when(
    given(the.estimate_at_minimum),
    say("For a quantity of ", the.estimate_at_minimum, " the price is the minimum charge. "),
)
"""What the customer is told of a price that is not that of the work."""

RISES = when(
    given(the.offer_rises),
    say(
        "The price each is more than at a smaller quantity: ", xl.MID(the.offer_rises, 3, 255), ".",
        when(the.estimate_scrap > 0, " Spare pieces are made with those ordered."),
    ),
)  # fmt: skip
"""Why a price rises with the quantity, where the customer sees it; how many pieces are spare is the shop's affair."""
