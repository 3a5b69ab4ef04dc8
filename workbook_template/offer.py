"""The sheet Offer: one page for the customer, with the prices of the sheet Estimate and what they stand on."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks
from workbook_template.blocks import Book

SHEET = "Offer"

STATED = (
    ("Customer", "customer"),
    ("Part", "part"),
    (
        "Drawing, revision",
        (
            'IF(LEN(drawing)>0,drawing,"NO DRAWING NAMED")&'
            'IF(LEN(revision)>0,", revision "&revision,", NO REVISION NAMED")'
        ),
    ),
    ("Thread", "callout"),
    ("Class", 'IF(ISNUMBER(thread_row),IF(row_class=thread_side,"",row_class&", ")&thread_side,"")'),
    ("Hand, starts", 'hand&" hand, "&IF(starts>1,starts&" starts","one start")'),
    (
        "Thread length",
        'IF(ISNUMBER(estimate_length_used),FIXED(estimate_length_used,decimals)&" "&unit,"to be agreed")',
    ),
    ("Material", 'IF(LEN(material)>0,material,"to be agreed")'),
)
"""What the page states from other sheets."""

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

WHEN_TYPED = {"coating": "agree whether the limits hold before or after it"}
HEIGHTS = {"coating": 34, "gauging": 34, "record": 34, "delivery": 34, "remarks": 62}
"""Room for more than one line."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 22, "B": 16, "C": 16, "D": 16, "E": 16, "F": 16, "G": 4, "H": 30})
    blocks.write(book, ws, "A1:F1", "Offer", "callout")
    blocks.result(
        book, ws, "A2:F2", "offer_next", "what the offer still lacks",
        ('IF(estimate_fault_1<>"","Sheet Estimate: "&estimate_fault_1,IF(COUNT(estimate_unit_price)=0,'
         f'"Type at least one quantity on the sheet Estimate.",IF(NOT({blocks.is_day("offer_valid")}),'
         '"Next: type the last day on which these prices hold.",IF(offer_valid<as_of_used,'
         '"The last day on which these prices hold is past.",IF(LEN(drawing)=0,"Name the drawing on the sheet Job.",'
         'IF(LEN(revision)=0,"Name the drawing revision on the sheet Job.",'
         'IF(LEN(offer_number)=0,"Next: type the number of the offer.",IF(LEN(estimate_currency)=0,'
         '"Name the money on the sheet Estimate.",""))))))))'), look="next",
    )  # fmt: skip
    ws.row_dimensions[1].height = 36
    blocks.heading(book, ws, "A4:F4", "What is offered")
    row = 4
    for label, formula in STATED:
        row += 1
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}:F{row}", f"={_text(formula)}", "offered")
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
            words = blocks.day_words("offer_valid")
            blocks.result(book, ws, f"E{row}:F{row}", "offer_valid_words", "whether the day is one", words, look="side")
        if name in WHEN_EMPTY:
            words = f'IF(LEN(offer_{name})=0,"{WHEN_EMPTY[name]}","{WHEN_TYPED.get(name, "")}")'
            blocks.result(
                book, ws, f"E{row}:F{row}", f"offer_{name}_words", f"{meaning}, when empty", words, look="side"
            )
    for one in range(5, row + 1):
        ws.row_dimensions[one].height = 24
    for one, (name, *_) in enumerate(TYPED, start=row + 1 - len(TYPED)):
        ws.row_dimensions[one].height = HEIGHTS.get(name, 24)
    row = _prices(book, ws, row + 2)
    for line in (
        "Sizes hold at 20 degrees Celsius. Limits of size are those of the standard for the thread and class named.",
        "The prices hold for the drawing revision named; another revision is a new offer.",
    ):
        row += 1
        blocks.write(book, ws, f"A{row}:F{row}", line, "words")
        ws.row_dimensions[row].height = 20
    row += 1
    blocks.result(
        book, ws, f"A{row}:F{row}", "authority_offer", "who governs pipe and flight threads", "authority_words",
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


def _text(formula: str) -> str:
    """A cell of another sheet as text, so that an empty one does not show as 0."""
    return formula if formula.startswith(("IF", "hand", "drawing")) else f'{formula}&""'


def _prices(book: Book, ws: Worksheet, top: int) -> int:
    money = '"Price"&IF(LEN(estimate_currency)>0,", "&estimate_currency,"")'
    blocks.result(book, ws, f"A{top}:F{top}", "offer_money", "heading of the prices", money, look="block")
    rows = (
        ("Quantity", "offer_quantities", "quantities offered", "estimate_quantity_{n}", "count", "head"),
        (
            "Price each",
            "offer_unit_prices",
            "price each, rounded",
            "ROUND(INDEX(estimate_unit_price,1,{n}),2)",
            "0.00",
            "result",
        ),
        (
            "Price together",
            "offer_prices",
            "price each, rounded, times quantity",
            "ROUND(INDEX(estimate_unit_price,1,{n}),2)*estimate_quantity_{n}",
            "0.00",
            "figure",
        ),
    )
    for row, (label, name, meaning, formula, form, look) in enumerate(rows, start=top + 1):
        blocks.write(book, ws, f"A{row}", label, "label")
        for number, letter in enumerate("BCDEF", start=1):
            shown = f'=IF(ISNUMBER(INDEX(estimate_price,1,{number})),{formula.format(n=number)},"")'
            blocks.write(book, ws, f"{letter}{row}", shown, look, form)
        blocks.define(book, ws, f"B{row}:F{row}", name, f"{meaning}, at each quantity")
        ws.row_dimensions[row].height = 22
    return top + len(rows)
