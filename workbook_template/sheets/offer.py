"""The sheet Offer: one page for the customer, with the prices of the sheet Estimate and what they stand on."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import all_of, any_of, first, given, known, no, say, shown, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book
from workbook_template.sheets import coating
from workbook_template.trade import days

SHEET = "Offer"
QUANTITIES = "BCDEF"
"""Columns of the quantities."""

STATED = (
    ("Customer", the.customer & ""),
    ("Part", the.part & ""),
    ("Drawing, revision", say(
        when(given(the.drawing), the.drawing, "NO DRAWING NAMED"),
        when(given(the.revision), say(", revision ", the.revision), ", NO REVISION NAMED"),
    )),
    ("Thread", the.callout & ""),
    ("Class", when(known(the.thread_row), say(
        when(the.row_class.same(the.thread_side), "", the.row_class & ", "), the.thread_side,
    ))),
    ("Hand, starts", say(the.hand, " hand, ", when(the.starts > 1, the.starts & " starts", "one start"))),
    ("Thread length", when(
        known(the.estimate_length_used), say(shown(the.estimate_length_used, the.decimals), " ", the.unit),
        "to be agreed",
    )),
    ("Material", when(given(the.material), the.material, "to be agreed")),
)  # fmt: skip
"""What the page states from other sheets; an empty cell as text, so that it does not show as 0."""

TYPED = (
    (
        "coating",
        "Coating",
        "coating, or none",
        "As on the drawing. Empty: without coating, and limits hold as machined.",
    ),
    ("gauging", "Gauging", "how the thread is gauged", "As over wires and ring, every piece. Empty: to be agreed."),
    ("record", "Record supplied", "record that goes with the parts", "As certificate of inspection. Empty: none."),
    ("delivery", "Delivery", "delivery", "As three weeks from order. Empty: to be agreed."),
    ("valid", "Valid until", "last day of the offer", "Last day on which these prices hold."),
    (
        "valid_for",
        "Day typed for revision",
        "drawing revision that the last day was typed for",
        "The drawing revision for which you typed that day: an old day is not carried over to a new revision.",
    ),
    ("number", "Offer number", "number of the offer", "Your number for this offer."),
    ("remarks", "Remarks", "remarks", "Anything else that the customer has to know."),
)
"""Name, label, meaning, message of what is typed here."""

WHEN_EMPTY = {
    "coating": "without coating; limits of size hold as machined",
    "gauging": "to be agreed",
    "record": "none",
    "delivery": "to be agreed",
}

WHEN_TYPED = {
    "coating": when(
        coating.IS_GIVEN,
        say(coating.thickness(), " thick; limits of size hold after it"),
        "agree whether the limits hold before or after it",
    )
}
HEIGHTS = {"coating": 34, "gauging": 34, "record": 34, "delivery": 34, "remarks": 62}
"""Room for more than one line."""

NEXT = first(
    (the.estimate_fault_1.differs(""), say("Sheet Estimate: ", the.estimate_fault_1)),
    (xl.COUNT(the.estimate_unit_price).same(0), "Type at least one quantity on the sheet Estimate."),
    (no(days.is_day(the.offer_valid)), "Next: type the last day on which these prices hold."),
    (the.offer_valid < the.as_of_used, "The last day on which these prices hold is past."),
    (no(given(the.drawing)), "Name the drawing on the sheet Job."),
    (no(given(the.revision)), "Name the drawing revision on the sheet Job."),
    (
        (the.offer_valid_for & "").differs(the.revision & ""),
        say(
            "The last day was typed for ",
            when(given(the.offer_valid_for), say("revision ", the.offer_valid_for), "no revision"),
            ", the part is revision ",
            the.revision,
            ": type the day anew and the revision beneath it.",
        ),
    ),
    (all_of(coating.IS_GIVEN, no(given(the.offer_coating))), "Name the coating; the sheet Job has its thickness."),
    (no(given(the.offer_number)), "Next: type the number of the offer."),
    (no(given(the.estimate_currency)), "Name the money on the sheet Estimate."),
)


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 22, "B": 16, "C": 16, "D": 16, "E": 16, "F": 16, "G": 4, "H": 30})
    blocks.write(book, ws, "A1:F1", "Offer", "callout")
    blocks.result(book, ws, "A2:F2", "offer_next", "what the offer still lacks", NEXT, look="next")
    ws.row_dimensions[1].height = 36
    blocks.heading(book, ws, "A4:F4", "What is offered")
    row = 4
    for label, formula in STATED:
        row += 1
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}:F{row}", formula, "offered")
    blocks.define(book, ws, f"B5:B{row}", "offer_stated", "what the offer states from other sheets")
    for name, label, meaning, prompt in TYPED:
        row += 1
        dimension = "date" if name == "valid" else "text"
        blocks.write(book, ws, f"A{row}", label, "label")
        ref = f"B{row}:F{row}" if name == "remarks" else f"B{row}:D{row}"
        blocks.write(book, ws, ref, None, "log_typed", dimension)
        check = blocks.DAY if name == "valid" else blocks.ANYTHING
        blocks.name_input(book, ws, ref, f"offer_{name}", meaning, prompt=prompt, dimension=dimension, check=check)
        if name == "valid":
            words = days.if_no_day(the.offer_valid)
            blocks.result(book, ws, f"E{row}:F{row}", "offer_valid_words", "whether the day is one", words, look="side")
        if name in WHEN_EMPTY:
            words = when(given(the[f"offer_{name}"]), WHEN_TYPED.get(name, ""), WHEN_EMPTY[name])
            blocks.result(
                book, ws, f"E{row}:F{row}", f"offer_{name}_words", f"{meaning}, when empty", words, look="side"
            )
    for one in range(5, row + 1):
        ws.row_dimensions[one].height = 24
    for one, (name, *_) in enumerate(TYPED, start=row + 1 - len(TYPED)):
        ws.row_dimensions[one].height = HEIGHTS.get(name, 24)
    row = _prices(book, ws, row + 2)
    row += 1
    blocks.result(
        book, ws, f"A{row}:F{row}", "offer_rise_words", "why the price each rises with the quantity, where it does",
        RISES, look="words",
    )  # fmt: skip
    ws.row_dimensions[row].height = 28
    blocks.heading(book, ws, "H4", "Working figures (not printed)")
    rises = say(*(_rises(number) for number in range(1, len(QUANTITIES) + 1)))
    meaning = "quantities whose price each is more than at a smaller one, with the reason"
    blocks.result(book, ws, "H5", "offer_rises", meaning, rises, role="working")
    for line in (
        "Sizes hold at 20 degrees Celsius. Limits of size are those of the standard for the thread and class named.",
        "The prices hold for the drawing revision named; another revision is a new offer.",
    ):
        row += 1
        blocks.write(book, ws, f"A{row}:F{row}", line, "words")
        ws.row_dimensions[row].height = 20
    row += 1
    blocks.result(
        book, ws, f"A{row}:F{row}", "authority_offer", "who governs pipe and flight threads", the.authority_words,
        look="words",
    )  # fmt: skip
    ws.row_dimensions[row].height = 28
    row += 1
    for at, label in ((f"A{row}:C{row}", "Offered by, date"), (f"D{row}:F{row}", "Accepted by, date")):
        blocks.write(book, ws, at, "", "box")
        blocks.write(book, ws, at.replace(str(row), str(row + 1)), label, "side")
    ws.row_dimensions[row].height = 44
    blocks.page(ws, f"A1:F{row + 1}")
    blocks.lock(ws)


def _prices(book: Book, ws: Worksheet, top: int) -> int:
    """The price at each quantity; prices together are what a clerk works out from those each."""
    money = say("Price", when(given(the.estimate_currency), say(", ", the.estimate_currency)))
    blocks.result(book, ws, f"A{top}:F{top}", "offer_money", "heading of the prices", money, look="block")
    for row, (label, name, meaning, form, look) in enumerate(
        (
            ("Quantity", "quantities", "quantities offered", "count", "head"),
            ("Price each", "unit_prices", "price each, rounded to .01", "0.00", "result"),
            ("Price together", "prices", "price each, rounded to .01, times quantity", "0.00", "figure"),
        ),
        start=top + 1,
    ):
        blocks.write(book, ws, f"A{row}", label, "label")
        for number, letter in enumerate(QUANTITIES, start=1):
            blocks.write(book, ws, f"{letter}{row}", _at_quantity(number)[name], look, form)
        blocks.define(book, ws, f"B{row}:F{row}", f"offer_{name}", f"{meaning}, at each quantity")
        ws.row_dimensions[row].height = 22
    return row


def _at_quantity(number: int) -> dict[str, Node]:
    """What is offered at one of the quantities, where it has a price: that of the sheet Estimate, to the cent."""
    quantity = the[f"estimate_quantity_{number}"]
    each, price = (xl.INDEX(the[f"estimate_{line}"], 1, number) for line in ("unit_price", "price"))
    offered = {"quantities": quantity, "unit_prices": each, "prices": price}
    return {name: when(known(price), formula) for name, formula in offered.items()}


def _rises(number: int) -> Node:
    """A quantity whose price each is more than that of a smaller quantity, with the reason; nothing where it is not."""

    def dearer_than(other: int) -> Node:
        mine, its = (
            (xl.INDEX(the.offer_quantities, 1, n), xl.INDEX(the.offer_unit_prices, 1, n)) for n in (number, other)
        )
        return when(xl.COUNT(*mine, *its).same(4), all_of(its[0] < mine[0], its[1] < mine[1]), False)

    make, bars, on_last = (xl.INDEX(the[f"estimate_{line}"], 1, number) for line in ("make", "bars", "on_last_bar"))
    by_bars = say(bars, " whole bars, the last for ", on_last, " of its ", the.estimate_per_bar, " pieces")
    by_pieces = say(make, " whole pieces to make")
    bar_begun = all_of(the.estimate_material_by.differs("length used"), bars > 1)
    reason = when(bar_begun, by_bars, by_pieces)
    rises = any_of(*(dearer_than(other) for other in range(1, len(QUANTITIES) + 1) if other != number))
    return when(rises, say("; ", xl.INDEX(the.offer_quantities, 1, number), " pieces take ", reason))


RISES = when(
    given(the.offer_rises),
    say("The price each is more than at a smaller quantity: ", xl.MID(the.offer_rises, 3, 255), "."),
)
"""Why a price rises with the quantity, where the customer sees that it does."""
