"""The sheet Estimate: minutes, bars and money of the job at five quantities, every line to be seen.

The formulas are those of `sheetfuncs.estimating`. Nothing is assumed: an empty rate, minute or scrap asks for itself.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, chart_drawing
from workbook_template.blocks import Book, Check

SHEET = "Estimate"
BREAKS = "BCDEF"
"""Columns of the quantities."""

QUANTITY_ROW, CHART_ROW, CHART_LAST = 31, 51, 62

NOT_NEGATIVE = Check("decimal", "0", operator="greaterThanOrEqual", refusal="Type a number, 0 or more.")
MORE_THAN_ZERO = Check("decimal", "0", operator="greaterThan", refusal="Type a number more than zero.")
SHARE = Check("decimal", "0", "0.999", "between", "Type a share such as 5%, less than 100%; 0 for none.")
SURCHARGE = Check("decimal", "0", "20", "between", "Type a share such as 50%; 0 for none.")
YES_NO = blocks.one_of(("yes", "no"), "Choose yes or no.")


class Input(NamedTuple):
    """One input: name after `estimate_`, label, what it is, dimension, check, message, whether it may be empty."""

    name: str
    label: str
    meaning: str
    dimension: str
    check: Check
    prompt: str
    may_be_empty: bool = False


BY_LATHE = (
    Input("lathe", "Lathe", "name of the lathe", "text", blocks.ANYTHING, "Which lathe this column is for.", True),
    Input("rpm", "Spindle, rpm", "spindle speed while threading", "count", MORE_THAN_ZERO,
          "Turns a minute in threading."),
    Input("passes", "Passes, spring passes too", "passes at the dials for one start", "count", blocks.whole(1, 200),
          "All passes of one start, spring passes among them. Empty: those of the sheet Setup.", True),
    Input("approach", "Approach", "run before the thread", "entry", NOT_NEGATIVE,
          "Run of the tool before the thread begins, working unit; 0 for none."),
    Input("overrun", "Overrun", "run past the thread", "entry", NOT_NEGATIVE,
          "Run of the tool past the end of the thread, working unit; 0 for none."),
    Input("return_seconds", "By hand a pass, seconds", "seconds by hand at each pass", "0.0#", NOT_NEGATIVE,
          "Winding back and setting the dial, seconds a pass. With power return: setting the dial alone."),
    Input("power_return", "Back under power?", "whether the half-nuts stay shut", "text", YES_NO,
          "yes where the dial rule of this lathe and thread forbids opening the half-nuts."),
    Input("setup", "Set up, minutes a job", "minutes to set up", "0.0#", NOT_NEGATIVE,
          "Minutes to set up, once a job."),
    Input("turning", "Turn, minutes a piece", "minutes of turning a piece", "0.0#", NOT_NEGATIVE,
          "Minutes a piece to face, turn, chamfer and part off, threading not."),
    Input("handling", "Handle, minutes a piece", "minutes of handling a piece", "0.0#", NOT_NEGATIVE,
          "Minutes a piece by hand: load, unload, deburr."),
)  # fmt: skip
"""Inputs that each of the two lathes has, from row 7 on."""

BY_JOB = (
    Input("length", "Thread length", "length of thread to cut", "entry", blocks.LENGTH,
          "Length of full thread, working unit. Empty: that of the sheet Job.", True),
    Input("gauging", "Gauge, minutes each", "minutes to gauge one piece", "0.0#", NOT_NEGATIVE,
          "Minutes to measure one piece; 0 where that is in the handling."),
    Input("gauged", "Share gauged", "share of the pieces that is gauged", "0%",
          Check("decimal", "0", "1", "between", "Type a share from 0% to 100%."),
          "100% where every piece is measured."),
)  # fmt: skip

MATERIAL = (
    Input("bar_shape", "Bar", "shape of the bar", "text",
          blocks.one_of(("round", "hexagon"), "Choose round or hexagon."), "round, or hexagon."),
    Input("bar_size", "Size, or across flats", "diameter or size across flats", "entry", blocks.LENGTH,
          "Diameter of the bar, or its size across flats, working unit."),
    Input("part_size", "Largest diameter of part", "largest diameter of the part", "entry", blocks.LENGTH,
          "Largest diameter of the part. Empty: the thread's nominal diameter.", True),
    Input("bar_length", "Bar length", "length of a bar", "entry", blocks.LENGTH, "Length of a bar as bought."),
    Input("part_length", "Part length", "length of the part", "entry", blocks.LENGTH, "Length of the finished part."),
    Input("facing", "Facing", "length faced off a piece", "entry", NOT_NEGATIVE,
          "Faced off a piece, both ends; 0 for none."),
    Input("part_off", "Part-off", "width of the part-off tool", "entry", NOT_NEGATIVE,
          "Width of the part-off tool or saw."),
    Input("stub", "Bar stub", "end of a bar that makes no piece", "entry", NOT_NEGATIVE,
          "What the chuck holds at the end."),
    Input("bar_price", "Price of a bar", "price of a bar", "0.00", NOT_NEGATIVE, "What one bar costs."),
    Input("density", "Weight per volume", "weight per cube of the working unit", "0.0000###", MORE_THAN_ZERO,
          "Weight of a cubic inch or cubic millimetre of the material, for the weight of a bar. May be empty.", True),
)  # fmt: skip
"""Inputs of the bar, from row 7 on, on the right."""

MONEY = (
    Input("currency", "Money", "name of the money", "text", blocks.ANYTHING,
          "What the prices are in; it heads them.", True),
    Input("rate", "Rate an hour", "rate an hour of machine and operator", "0.00", NOT_NEGATIVE,
          "Your shop's rate an hour."),
    Input("scrap", "Scrap, share of pieces", "share of the pieces that is scrap", "0.0%", SHARE, "As 5%; 0 for none."),
    Input("overhead", "Overhead on labour", "overhead as a share of labour", "0.0%", SURCHARGE, "As 50%; 0 for none."),
    Input("profit_kind", "Profit is a", "margin or markup", "text",
          blocks.one_of(("margin", "markup"), "Choose margin or markup."),
          "margin: a share of the price. markup: a share of the cost. 20% margin is 25% markup."),
    Input("profit", "Margin or markup", "margin or markup", "0.0%", SURCHARGE, "As 20%; 0 for none."),
    Input("tooling", "Tooling for the job", "tooling", "0.00", NOT_NEGATIVE, "Tools for this job; 0 for none."),
    Input("gauges", "Gauges for the job", "gauges bought or hired", "0.00", NOT_NEGATIVE,
          "Bought or hired; 0 for none."),
    Input("outside", "Outside work a piece", "outside work a piece", "0.00", NOT_NEGATIVE,
          "As plating, a piece; 0 for none."),
    Input("learning", "Learning", "average hand time at twice the quantity", "0%",
          Check("decimal", "0.5", "0.999", "between", "Type 50% to 99%, or leave empty: no learning."),
          "Wright's rule, on hand time alone: 90% where twice the pieces take 90% of the average. Empty: none.", True),
)  # fmt: skip
"""Inputs of money, from row 19 on, on the right."""


def asked(item: Input, name: str) -> tuple[str, str]:
    """When an input is missing, as a condition, and what to say then."""
    if item.dimension == "text":
        words = item.check.formula1.strip('"').split(",")
        refusal = item.check.refusal[:1].lower() + item.check.refusal[1:]
        others = ",".join(f'{name}<>"{word}"' for word in words)
        return f"AND({others})", f"Next, {item.label.lower().rstrip('?')}: {refusal}"
    above = "<=0" if item.check in (MORE_THAN_ZERO, blocks.LENGTH) else "<0"
    return f"IF(ISNUMBER({name}),{name}{above},TRUE)", f"Next: enter {item.label.lower()} ({item.meaning})."


def fault(pairs: list[tuple[str, str]]) -> str:
    """The first sentence whose condition holds; empty where none does."""
    formula = '""'
    for condition, sentence in reversed(pairs):
        formula = f'IF({condition},"{sentence}",{formula})'
    return formula


def faults(number: int) -> list[tuple[str, str]]:
    """What must be filled in for one of the lathes."""
    lathe = [(item, f"estimate_{item.name}_{number}") for item in BY_LATHE]
    shared = [(item, f"estimate_{item.name}") for item in (*BY_JOB, *MATERIAL, *MONEY)]
    found = [("NOT(ISNUMBER(thread_row))", "Choose the thread on the sheet Job first.")]
    found += [asked(item, name) for item, name in (*lathe, *shared) if not item.may_be_empty]
    found += [
        (f"NOT(ISNUMBER(estimate_passes_used_{number}))", "Next: enter the passes here or on the sheet Setup."),
        ("NOT(ISNUMBER(estimate_length_used))", "Next: enter the thread length here or on the sheet Job."),
        ('AND(estimate_profit_kind="margin",estimate_profit>=1)', "A margin is a share of the price, less than 100 %."),
        ("estimate_usable<estimate_each", "The bar less its stub is shorter than one piece with facing and part-off."),
    ]
    return found


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 25, "B": 15, "C": 15, "D": 15, "E": 14, "F": 14, "G": 4, "H": 26, "I": 14})
    blocks.result(book, ws, "A1:F1", "callout_estimate", "the thread, as on the sheet Job", "callout", look="callout")
    words = (
        'IF(LEN(part)>0,part,"no part named")&IF(LEN(revision)>0,", revision "&revision,"")&", "&unit_words&'
        'IF(LEN(estimate_currency)>0,", money in "&estimate_currency,"")'
    )
    blocks.result(book, ws, "A2:F2", "estimate_words", "part, unit and money in words", words, look="note")
    blocks.result(book, ws, "A3:F3", "estimate_next", "what is still to fill in", NEXT, look="sentence")
    ws.row_dimensions[1].height, ws.row_dimensions[3].height = 34, 26
    _inputs(book, ws)
    _working(book, ws)
    _breaks(book, ws)
    blocks.page(ws, f"A1:F{CHART_LAST}")
    blocks.lock(ws)


NEXT = (
    'IF(estimate_fault_1<>"",estimate_fault_1,"All is filled in for lathe 1. Threading "&'
    'FIXED(estimate_thread_minutes_1,2)&" minutes a piece, "&estimate_per_bar&" pieces a bar."&'
    'IF(estimate_power_return_1="yes"," Half-nuts stay shut: every pass comes back under power.",""))'
)


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A5:C5", "Time")
    for ref, text in (("A6", ""), ("B6", "lathe 1"), ("C6", "lathe 2")):
        blocks.write(book, ws, ref, text, "head")
    for row, item in enumerate(BY_LATHE, start=7):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        for letter, number in (("B", 1), ("C", 2)):
            _input(book, ws, f"{letter}{row}", item, f"_{number}", f", lathe {number}")
    for letter, number in (("B", 1), ("C", 2)):
        formula = (
            f"IF(AND(ISNUMBER(estimate_passes_used_{number}),ISNUMBER(estimate_length_used),"
            f"COUNT(estimate_rpm_{number},estimate_approach_{number},estimate_overrun_{number},"
            f"estimate_return_seconds_{number})=4),IF(estimate_rpm_{number}>0,starts*estimate_passes_used_{number}*("
            f'IF(estimate_power_return_{number}="yes",2,1)*(estimate_length_used+estimate_approach_{number}+'
            f'estimate_overrun_{number})/(lead*estimate_rpm_{number})+estimate_return_seconds_{number}/60),""),"")'
        )
        name = f"estimate_thread_minutes_{number}"
        meaning = f"minutes of threading a piece, lathe {number}"
        blocks.result(book, ws, f"{letter}17", name, meaning, formula, dimension="0.00")
    blocks.write(book, ws, "A17", "Thread, minutes a piece", "label")
    for row, item in enumerate(BY_JOB, start=19):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        _input(book, ws, f"B{row}", item)
    blocks.heading(book, ws, "D5:F5", "Material")
    for first, items in ((7, MATERIAL), (20, MONEY)):
        for row, item in enumerate(items, start=first):
            blocks.write(book, ws, f"D{row}:E{row}", item.label, "label_in")
            _input(book, ws, f"F{row}", item)
    blocks.heading(book, ws, "D19:F19", "Money")
    for row in range(7, QUANTITY_ROW):
        ws.row_dimensions[row].height = 17
    blocks.write(book, ws, "D17:E17", "Pieces a bar", "label_in")
    blocks.result(
        book, ws, "F17", "estimate_per_bar", "whole pieces a bar",
        'IF(AND(ISNUMBER(estimate_each),ISNUMBER(estimate_usable)),IF(estimate_usable<estimate_each,"",'
        'INT(estimate_usable/estimate_each+0.000000001)),"")', dimension="count",
    )  # fmt: skip
    blocks.result(book, ws, "A23:C25", "estimate_bar_words", "whether the bar makes the part", BAR_WORDS, look="words")
    blocks.result(book, ws, "A26:C28", "estimate_support_words", "overhang and support", SUPPORT_WORDS, look="words")


BAR_WORDS = (
    'IF(NOT(AND(ISNUMBER(estimate_bar_size),ISNUMBER(estimate_part_used))),"",IF(estimate_bar_size<estimate_part_used,'
    '"The bar is too small: a round part of "&FIXED(estimate_part_used,decimals)&" needs at least that, round or '
    'across flats.","The bar makes the part; "&FIXED((estimate_bar_size-estimate_part_used)/2,decimals)&'
    '" a side comes off."&IF(estimate_bar_shape="hexagon",'
    '" Across its corners "&FIXED(estimate_bar_size/COS(RADIANS(30)),decimals)&".","")&'
    'IF(ISNUMBER(estimate_density),IF(ISNUMBER(estimate_bar_length)," A bar weighs "&FIXED(estimate_bar_area*'
    'estimate_bar_length*estimate_density,2)&".",""),"")))'
)
SUPPORT_WORDS = (
    'IF(NOT(AND(ISNUMBER(estimate_part_length),ISNUMBER(estimate_part_used))),"",IF(estimate_part_length>'
    '6*estimate_part_used,"Stands out more than 6 diameters: centre and steady rest (practice).",'
    'IF(estimate_part_length>3*estimate_part_used,"Stands out more than 3 diameters: use the centre (practice).",'
    '"Stands out 3 diameters at most.")))'
)


def _input(book: Book, ws: Worksheet, ref: str, item: Input, suffix: str = "", of: str = "") -> None:
    numeric = item.dimension != "text"
    name = f"estimate_{item.name}{suffix}"
    blocks.write(book, ws, ref, None, "input_number" if numeric else "input", item.dimension)
    blocks.name_input(
        book, ws, ref, name, item.meaning + of, prompt=item.prompt, dimension=item.dimension, check=item.check
    )


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "H5:I5", "Working figures (not printed)")
    setup_passes = 'IF(ISNUMBER(passes),passes+IF(ISNUMBER(spring_passes),spring_passes,0),"")'
    rows = [
        *(
            (f"estimate_passes_used_{n}", f"passes used, lathe {n}",
             f"IF(ISNUMBER(estimate_passes_{n}),estimate_passes_{n},{setup_passes})")
            for n in (1, 2)
        ),
        ("estimate_length_used", "thread length used",
         'IF(ISNUMBER(estimate_length),estimate_length,IF(ISNUMBER(thread_length),thread_length,""))'),
        ("estimate_part_used", "largest diameter used",
         'IF(ISNUMBER(estimate_part_size),estimate_part_size,IF(ISNUMBER(diameter),diameter,""))'),
        ("estimate_bar_area", "section of the bar",
         'IF(ISNUMBER(estimate_bar_size),estimate_bar_size^2*IF(estimate_bar_shape="hexagon",SQRT(3)/2,PI()/4),"")'),
        ("estimate_each", "length of bar a piece takes",
         ('IF(COUNT(estimate_part_length,estimate_facing,estimate_part_off)=3,'
          'estimate_part_length+estimate_facing+estimate_part_off,"")')),
        ("estimate_usable", "length of a bar that makes pieces",
         'IF(COUNT(estimate_bar_length,estimate_stub)=2,estimate_bar_length-estimate_stub,"")'),
        ("estimate_gauge_each", "minutes of gauging, the average piece",
         'IF(COUNT(estimate_gauging,estimate_gauged)=2,estimate_gauging*estimate_gauged,"")'),
        ("estimate_power", "power of the quantity in Wright's rule",
         "IF(ISNUMBER(estimate_learning),IF(estimate_learning>0,LN(estimate_learning)/LN(2),0),0)"),
        *((f"estimate_fault_{n}", f"what is missing, lathe {n}", fault(faults(n))) for n in (1, 2)),
    ]  # fmt: skip
    for row, (name, meaning, formula) in enumerate(rows, start=6):
        blocks.write(book, ws, f"H{row}", meaning, "small")
        blocks.result(book, ws, f"I{row}", name, meaning, formula, role="working")


def lines(quantity: str, number: int = 1) -> dict[str, str]:
    """The formula of each line at a quantity; the lines are named in curly brackets in those after them."""
    per = f"_{number}"
    return {
        "make": f"-INT(-({quantity}/(1-estimate_scrap)-0.000000001))",
        "set_up_minutes": f"estimate_setup{per}",
        "turn_minutes": f"{{make}}*estimate_turning{per}",
        "thread_minutes": f"{{make}}*estimate_thread_minutes{per}",
        "handle_minutes": f"{{make}}*estimate_handling{per}*{{make}}^estimate_power",
        "gauge_minutes": "{make}*estimate_gauge_each*{make}^estimate_power",
        "minutes": "{set_up_minutes}+{turn_minutes}+{thread_minutes}+{handle_minutes}+{gauge_minutes}",
        "labour": "{minutes}*estimate_rate/60",
        "bars": "-INT(-{make}/estimate_per_bar)",
        "material": "{bars}*estimate_bar_price",
        "material_by_length": "{make}/estimate_per_bar*estimate_bar_price",
        "tooling_cost": "estimate_tooling",
        "gauges_cost": "estimate_gauges",
        "outside_cost": "{make}*estimate_outside",
        "overhead_cost": "{labour}*estimate_overhead",
        "cost": "{labour}+{material}+{tooling_cost}+{gauges_cost}+{outside_cost}+{overhead_cost}",
        "price": ('IF(estimate_profit_kind="margin",{cost}/(1-estimate_profit),{cost}*(1+estimate_profit))'),
        "unit_price": f"{{price}}/{quantity}",
    }


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
        item = Input("", "", f"quantity {number} to price", "count", blocks.whole(1, 100000),
                     "How many good pieces. Five quantities, rising for the chart; empty ones stay empty.")  # fmt: skip
        _input(book, ws, f"{letter}{QUANTITY_ROW}", item, f"quantity_{number}")
        at = {name: f"{letter}{row}" for row, name in enumerate(LABELS, start=QUANTITY_ROW + 1)}
        quantity = f"{letter}{QUANTITY_ROW}"
        ready = f'AND(estimate_fault_1="",ISNUMBER({quantity}))'
        for name, formula in lines(quantity).items():
            guarded = f'=IF({ready},IF({quantity}>=1,{formula.format(**at)},""),"")'
            look = "result" if name in BOLD else "figure"
            blocks.write(book, ws, at[name], guarded, look, LABELS[name][1])
    for row, (name, (label, _)) in enumerate(LABELS.items(), start=QUANTITY_ROW + 1):
        blocks.write(book, ws, f"A{row}", label, "label")
        meaning = f"{label.strip().lower()}, at each quantity"
        blocks.define(book, ws, f"B{row}:F{row}", f"estimate_{name}", meaning)
    prices = QUANTITY_ROW + len(LABELS)
    for place, letter in enumerate(BREAKS):  # a point that is missing repeats the one before; the chart begins at 0
        row = CHART_ROW + place
        before = ("-1", "-1") if place == 0 else (f"H{row - 1}", f"I{row - 1}")
        for column, source, otherwise in (("H", QUANTITY_ROW, before[0]), ("I", prices, before[1])):
            point = f"=IF(ISNUMBER({letter}{prices}),{letter}{source},{otherwise})"
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
