"""The sheet Costing: what the job really took, the other lathe, and what a revision changed in money."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks
from workbook_template.blocks import Book, Check
from workbook_template.estimate import LABELS, lines

SHEET = "Costing"

ANY_NUMBER = Check("decimal", "0", operator="greaterThanOrEqual", refusal="Type a number, 0 or more.")

ACTUAL = (
    ("set_up_minutes", "Set up, minutes"),
    ("turn_minutes", "Turn, minutes"),
    ("thread_minutes", "Thread, minutes"),
    ("handle_minutes", "Handle, minutes"),
    ("gauge_minutes", "Gauge, minutes"),
)
"""Lines that are timed at the machine, as `estimate` names them."""

CAUSES = (
    ("quantity", "Quantity", 'IF(ISNUMBER(estimate_quantity_1),estimate_quantity_1,"")', "count"),
    ("scrap", "Scrap", "estimate_scrap", "0.0%"),
    ("setup", "Set up, minutes", "estimate_setup_1", "0.0"),
    ("machine", "Turn and thread, minutes each", "estimate_turning_1+estimate_thread_minutes_1", "0.00"),
    ("hand", "Handle and gauge, minutes each", "estimate_handling_1+estimate_gauge_each", "0.00"),
    ("rate", "Rate an hour", "estimate_rate", "0.00"),
    ("bar_price", "Price of a bar", "estimate_bar_price_used", "0.00"),
    ("per_bar", "Pieces a bar", "estimate_per_bar", "count"),
    ("overhead", "Overhead on labour", "estimate_overhead", "0.0%"),
    ("tools", "Tooling and gauges", "estimate_tooling+estimate_gauges", "0.00"),
    ("outside", "Outside work a piece", "estimate_outside", "0.00"),
    ("profit", "Margin or markup", "estimate_profit", "0.0%"),
)
"""Cause of a change of price, its label, what it is now, its number format."""


BY_SHEET_LATHE = (
    ("Spindle, rpm", "estimate_rpm_used_#", "0"),
    ("Back under power", "estimate_power_used_#", "General"),
    ("Half-nuts, by its dial", 'IF(lathe_half_nuts_#=TRUE,"may open",IF(lathe_half_nuts_#=FALSE,"stay shut",""))',
     "General"),
    ("Lead error, millionths", "lathe_lead_error_ppm_#", '+0;-0;"0"'),
)  # fmt: skip
"""What the sheet Lathe says of both: label, formula with # for the number of the lathe, number format."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 30, "B": 16, "C": 16, "D": 16, "E": 16, "F": 4, "H": 30, "I": 14})
    blocks.result(book, ws, "A1:E1", "callout_costing", "the thread, as on the sheet Job", "callout", look="callout")
    blocks.result(book, ws, "A2:E2", "costing_words", "part, unit and money in words", "estimate_words", look="note")
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


def _actual(book: Book, ws: Worksheet, top: int) -> int:
    """Planned minutes of the first quantity against what it took."""
    heads = ("", "planned", "as it was", "difference", "in money")
    _heads(book, ws, top, "Planned and as it was: first quantity, lathe 1", heads)
    for row, (name, label) in enumerate(ACTUAL, start=top + 2):
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}", f"=INDEX(estimate_{name},1,1)", "figure", "0.0")
        blocks.write(book, ws, f"C{row}", None, "input_number", "0.0#")
        blocks.name_input(
            book, ws, f"C{row}", f"actual_{name}", f"{label.lower()} as it was",
            prompt="Minutes that it really took, for all pieces made.", dimension="0.0#", check=ANY_NUMBER,
        )  # fmt: skip
        both = f"COUNT(B{row}:C{row})=2"
        meaning = f"{label.lower()}, more than planned"
        blocks.result(
            book,
            ws,
            f"D{row}",
            f"actual_{name}_more",
            meaning,
            f'IF({both},C{row}-B{row},"")',
            dimension="+0.0;-0.0;0.0",
        )
        blocks.write(book, ws, f"E{row}", f'=IF({both},D{row}*estimate_rate/60,"")', "figure", "+0.00;-0.00;0.00")
    last = top + 1 + len(ACTUAL)
    total = last + 1
    blocks.write(book, ws, f"A{total}", "Minutes together", "label")
    for letter, form in (("B", "0.0"), ("C", "0.0"), ("D", "+0.0;-0.0;0.0"), ("E", "+0.00;-0.00;0.00")):
        cells = f"{letter}{top + 2}:{letter}{last}"
        blocks.write(book, ws, f"{letter}{total}", f'=IF(COUNT({cells})={len(ACTUAL)},SUM({cells}),"")', "result", form)
    blocks.define(book, ws, f"D{total}", "actual_minutes_more", "minutes more than planned, once every line is typed")
    blocks.define(book, ws, f"B{top + 2}:B{total}", "actual_planned", "planned minutes, line by line and together")
    blocks.define(book, ws, f"C{total}", "actual_minutes", "minutes as they were, once every line is typed")
    blocks.define(book, ws, f"E{top + 2}:E{total}", "actual_money_more", "what the difference is in money, at the rate")
    return total


def _doubts(number: int) -> str:
    """What the sheet Lathe has against the price of a lathe, in words."""
    return (
        f'IF(lathe_fault_{number}<>""," The sheet Lathe does not describe lathe {number}.",'
        f'IF(ISNUMBER(lathe_lead_error_ppm_{number}),""," No gears for this lead are given for lathe {number}."))'
    )


def _lathes(book: Book, ws: Worksheet, top: int) -> int:
    """One job on two lathes."""
    _heads(book, ws, top, "The two lathes: first quantity", ("", "lathe 1", "lathe 2", "difference", ""))
    quantity = "estimate_quantity_1"
    at = {name: f"I{row}" for row, name in enumerate(LABELS, start=4)}
    ready = f'AND(estimate_fault_2="",ISNUMBER({quantity}))'
    for name, formula in lines(quantity, 2).items():
        label, form = LABELS[name]
        blocks.write(book, ws, at[name].replace("I", "H"), f"{label.strip()}, lathe 2", "small")
        guarded = f'IF({ready},IF({quantity}>=1,{formula.format(**at)},""),"")'
        meaning = f"{label.strip().lower()}, lathe 2, first quantity"
        blocks.result(book, ws, at[name], f"other_{name}", meaning, guarded, dimension=form, role="working")
    blocks.write(book, ws, f"A{top + 2}", "Lathe", "label")
    for letter, number in (("B", 1), ("C", 2)):
        named = (
            f"=IF(LEN(estimate_lathe_{number})>0,estimate_lathe_{number},"
            f'IF(LEN(lathe_name_{number})>0,lathe_name_{number},"lathe {number}"))'
        )
        blocks.write(book, ws, f"{letter}{top + 2}", named, "head")
    ws.row_dimensions[top + 2].height = 26
    rows = (
        ("Thread, minutes a piece", "estimate_thread_minutes_1", "estimate_thread_minutes_2", "0.00"),
        ("Minutes of the job", "INDEX(estimate_minutes,1,1)", "other_minutes", "0.0"),
        ("Price", "INDEX(estimate_price,1,1)", "other_price", "0.00"),
        ("Price each", "INDEX(estimate_unit_price,1,1)", "other_unit_price", "0.00"),
    )
    for row, (label, first, second, form) in enumerate(rows, start=top + 3):
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}", f"={first}", "figure", form)
        blocks.write(book, ws, f"C{row}", f"={second}", "figure", form)
        more = f"+{form};-{form};{form}"
        blocks.write(book, ws, f"D{row}", f'=IF(COUNT(B{row}:C{row})=2,C{row}-B{row},"")', "result", more)
    row = top + 3 + len(rows)
    blocks.define(book, ws, f"D{top + 3}:D{row - 1}", "lathes_difference", "lathe 2 less lathe 1")
    for label, formula, form in BY_SHEET_LATHE:
        blocks.write(book, ws, f"A{row}", label, "label")
        for letter, number in (("B", 1), ("C", 2)):
            blocks.write(book, ws, f"{letter}{row}", f"={formula.replace('#', str(number))}", "figure", form)
        row += 1
    compared = "name, minutes, prices, speed, half-nuts and lead error of the two lathes"
    blocks.define(book, ws, f"B{top + 2}:C{row - 1}", "lathes_compared", compared)
    blocks.result(
        book, ws, f"A{row}:E{row}", "lathes_words", "which lathe is cheaper, or what is missing",
        ('IF(NOT(ISNUMBER(INDEX(estimate_price,1,1))),"",IF(estimate_fault_2<>"","Lathe 2: "&estimate_fault_2,'
         + "".join(f'IF(another_lead_{n},"Lathe {n} cuts another lead: no comparison.",' for n in (1, 2)) +
         'IF(ABS(other_price-INDEX(estimate_price,1,1))<0.005,"Both come to the same price.",'
         'IF(other_price<INDEX(estimate_price,1,1),"Lathe 2","Lathe 1")&" is cheaper by "&'
         'FIXED(ABS(other_price-INDEX(estimate_price,1,1)),2)&" on the job.")&'
         + "&".join(_doubts(n) for n in (1, 2)) + "))))"),
        look="words",
    )  # fmt: skip
    ws.row_dimensions[row].height = 28
    return row


def state_price(cells: dict[str, str]) -> str:
    """The price as `sheetfuncs.estimating.price` works it, from the cells of the causes."""
    make = "-INT(-({quantity}/(1-{scrap})-0.000000001))".format(**cells)
    minutes = f"({{setup}}+({make})*({{machine}}+{{hand}}*({make})^estimate_power))".format(**cells)
    cost = (
        f"({minutes}*{{rate}}/60*(1+{{overhead}})-INT(-({make})/{{per_bar}})*{{bar_price}}+{{tools}}+({make})*{{outside}})"
    ).format(**cells)
    profit = cells["profit"]
    return f'{cost}*IF(estimate_profit_kind="margin",1/(1-{profit}),1+{profit})'


def _revision(book: Book, ws: Worksheet, top: int) -> int:
    """What changed in money since an earlier revision, cause by cause; the causes sum to the change."""
    heads = ("cause", "now", "before", "price so far", "change")
    _heads(
        book, ws, top, "Since the revision before (learning and kind of profit as now): type what was otherwise", heads
    )
    first = top + 3
    blocks.write(book, ws, f"A{first - 1}", "All as before", "label")
    for place, (name, label, now, form) in enumerate(CAUSES):
        row = first + place
        blocks.write(book, ws, f"A{row}", label, "label")
        blocks.write(book, ws, f"B{row}", f'=IF(estimate_fault_1="",{now},"")', "figure", form)
        blocks.write(book, ws, f"C{row}", None, "input_number", form)
        blocks.name_input(
            book, ws, f"C{row}", f"before_{name}", f"{label.lower()} in the revision before",
            prompt="What it was in the earlier revision. Empty: as now.", dimension=form, check=ANY_NUMBER,
        )  # fmt: skip
        blocks.write(book, ws, f"H{row}", f"{label}, before", "small")
        blocks.write(book, ws, f"I{row}", f'=IF(ISBLANK(C{row}),B{row},IF(ISNUMBER(C{row}),C{row},""))', "figure", form)
    last_cause = first + len(CAUSES) - 1
    ready = (
        f'AND(estimate_fault_1="",ISNUMBER(estimate_quantity_1),COUNT(B{first}:B{last_cause})={len(CAUSES)},'
        f"COUNT(I{first}:I{last_cause})={len(CAUSES)})"
    )
    for changed in range(len(CAUSES) + 1):
        row = first - 1 + changed
        cells = {name: f"{'B' if place < changed else 'I'}{first + place}" for place, (name, *_) in enumerate(CAUSES)}
        blocks.write(book, ws, f"D{row}", f'=IF({ready},IFERROR({state_price(cells)},""),"")', "figure", "0.00")
        if changed:
            change = f'=IF(COUNT(D{row - 1}:D{row})=2,D{row}-D{row - 1},"")'
            blocks.write(book, ws, f"E{row}", change, "result", "+0.00;-0.00;0.00")
    last = first + len(CAUSES)
    blocks.write(book, ws, f"A{last}", "Change of the price", "label")
    changes = f"E{first}:E{last - 1}"
    blocks.result(
        book, ws, f"E{last}", "revision_change", "change of the price since the revision before",
        f'IF(COUNT({changes})={len(CAUSES)},SUM({changes}),"")', dimension="+0.00;-0.00;0.00",
    )  # fmt: skip
    blocks.define(book, ws, changes, "revision_changes", "change of the price by cause, in the order listed")
    blocks.define(book, ws, f"D{first - 1}", "revision_before", "price of the revision before")
    blocks.define(book, ws, f"B{first}:B{last - 1}", "revision_now", "each cause as it is now")
    blocks.define(book, ws, f"D{first}:D{last - 1}", "revision_prices", "price with the causes so far as they are now")
    before = "each cause as it was before"
    blocks.define(book, ws, f"I{first}:I{last - 1}", "revision_used", before, role="working")
    return last
