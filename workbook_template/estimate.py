"""The sheet Estimate: minutes, bars and money of the job at five quantities, every line to be seen.

The formulas are those of `sheetfuncs.estimating`. Nothing is assumed: an empty rate, minute or scrap asks for itself.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, chart_drawing, styles
from workbook_template.blocks import Book, Check

SHEET = "Estimate"
BREAKS = "BCDEF"
"""Columns of the quantities."""

NOISE = "0.000000001"
QUANTITY_ROW, CHART_ROW, CHART_LAST = 33, 54, 65
RACK_ROW, RACK_LINES = 7, 12
FEW = 4
"""Under one in so many of the pieces of a whole bar is few for the last one."""

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
    Input("lathe", "Lathe", "name of the lathe", "text", blocks.ANYTHING,
          "Which lathe this column is for. Empty: the one of that number on the sheet Lathe.", True),
    Input("rpm", "Spindle, rpm", "spindle speed while threading", "count", MORE_THAN_ZERO,
          "Turns a minute in threading. Empty: the speed of the sheet Lathe.", True),
    Input("passes", "Passes, spring passes too", "passes at the dials for one start", "count", blocks.whole(1, 200),
          "All passes of one start, spring passes among them. Empty: those of the sheet Setup.", True),
    Input("approach", "Approach", "run before the thread", "entry", NOT_NEGATIVE,
          "Run of the tool before the thread begins, working unit; 0 for none."),
    Input("overrun", "Overrun", "run past the thread", "entry", NOT_NEGATIVE,
          "Run of the tool past the end of the thread, working unit; 0 for none."),
    Input("return_seconds", "By hand a pass, seconds", "seconds by hand at each pass", "0.0#", NOT_NEGATIVE,
          "Winding back and setting the dial, seconds a pass. With power return: setting the dial alone."),
    Input("power_return", "Back under power?", "whether the half-nuts stay shut", "text", YES_NO,
          "yes where the dial rule of this lathe and thread forbids opening the half-nuts. Empty: by the sheet Lathe.",
          True),
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
    Input("part_shape", "Part", "shape of the part at its largest", "text",
          blocks.one_of(("round", "hexagon"), "Choose round or hexagon."), "round, or hexagon. Empty: round.", True),
    Input("part_size", "Its diameter, or across flats", "largest diameter of the part, or across its flats", "entry",
          blocks.LENGTH, "Largest diameter, or across the flats. Empty: the thread's nominal diameter.", True),
    Input("bar_line", "Bar, line of the list", "line of the list of bars", "count", blocks.whole(1, 12),
          "Number of the bar in the list to the right of the page. Empty: type the bar in the next four cells.", True),
    Input("bar_shape", "Bar", "shape of the bar", "text",
          blocks.one_of(("round", "hexagon"), "Choose round or hexagon."), "round, or hexagon."),
    Input("bar_size", "Size, or across flats", "diameter or size across flats", "entry", blocks.LENGTH,
          "Diameter of the bar, or its size across flats, working unit."),
    Input("bar_length", "Bar length", "length of a bar", "entry", blocks.LENGTH, "Length of a bar as bought."),
    Input("bar_price", "Price of a bar", "price of a bar", "0.00", NOT_NEGATIVE, "What one bar costs."),
    Input("part_length", "Part length", "length of the part", "entry", blocks.LENGTH, "Length of the finished part."),
    Input("facing", "Facing", "length faced off a piece", "entry", NOT_NEGATIVE,
          "Faced off a piece, both ends; 0 for none."),
    Input("part_off", "Part-off", "width of the part-off tool", "entry", NOT_NEGATIVE,
          "Width of the part-off tool or saw."),
    Input("stub", "Bar stub", "end of a bar that makes no piece", "entry", NOT_NEGATIVE,
          "What the chuck holds at the end."),
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
"""Inputs of money, below the material."""

RACK = (
    Input("shape", "Shape", "shape of a bar of the list", "text", MATERIAL[3].check, "round, or hexagon."),
    Input("size", "Size, across flats", "its diameter or size across flats", "entry", blocks.LENGTH,
          "Diameter, or size across flats, working unit."),
    Input("length", "Bar length", "its length", "entry", blocks.LENGTH, "Length of a bar as bought."),
    Input("price", "Price of a bar", "its price", "0.00", NOT_NEGATIVE, "What one bar costs."),
)  # fmt: skip
"""Inputs of a line of the list of bars that the shop can have."""

FROM_RACK = {"bar_shape": "shape", "bar_size": "size", "bar_length": "length", "bar_price": "price"}
"""Inputs of the bar that a line of the list answers."""


def used(name: str) -> str:
    """The cell that holds what counts of an input: typed, or from elsewhere in the workbook."""
    return f"estimate_{name}_used" if name in FROM_RACK else f"estimate_{name}"


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
    shared = [(item, used(item.name)) for item in (*BY_JOB, *MATERIAL, *MONEY)]
    found = [("NOT(ISNUMBER(thread_row))", "Choose the thread on the sheet Job first.")]
    found += [asked(item, name) for item, name in (*lathe, *shared) if not item.may_be_empty]
    found += [
        (
            f"NOT(ISNUMBER(estimate_rpm_used_{number}))",
            "Next: enter the spindle speed here, or describe the lathe on the sheet Lathe.",
        ),
        (
            f'AND(estimate_power_used_{number}<>"yes",estimate_power_used_{number}<>"no")',
            "Next: say whether it comes back under power, or describe the lathe on the sheet Lathe.",
        ),
        (f"NOT(ISNUMBER(estimate_passes_used_{number}))", "Next: enter the passes here or on the sheet Setup."),
        ("NOT(ISNUMBER(estimate_length_used))", "Next: enter the thread length here or on the sheet Job."),
        ('AND(estimate_profit_kind="margin",estimate_profit>=1)', "A margin is a share of the price, less than 100 %."),
        (f"estimate_bar_size_used<estimate_bar_needed-{NOISE}", "The bar is too small for the part."),
        ("estimate_usable<estimate_each", "The bar less its stub is shorter than one piece with facing and part-off."),
    ]
    return found


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, {"A": 25, "B": 15, "C": 15, "D": 15, "E": 14, "F": 14, "G": 4, "H": 26, "I": 14, "J": 3})
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
    _rack(book, ws)
    _breaks(book, ws)
    blocks.page(ws, f"A1:F{CHART_LAST}")
    blocks.lock(ws)


NEXT = (
    'IF(estimate_fault_1<>"",estimate_fault_1,"All is filled in for lathe 1. Threading "&'
    'FIXED(estimate_thread_minutes_1,2)&" minutes a piece, "&estimate_per_bar&" pieces a bar."&'
    'IF(estimate_power_used_1="yes"," Half-nuts stay shut: every pass comes back under power.",'
    'IF(lathe_half_nuts_1=FALSE," The sheet Lathe says: half-nuts stay shut. Check Back under power.","")))'
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
            f"COUNT(estimate_rpm_used_{number},estimate_approach_{number},estimate_overrun_{number},"
            f"estimate_return_seconds_{number})=4),IF(estimate_rpm_used_{number}>0,"
            f"starts*estimate_passes_used_{number}*("
            f'IF(estimate_power_used_{number}="yes",2,1)*(estimate_length_used+estimate_approach_{number}+'
            f'estimate_overrun_{number})/(lead*estimate_rpm_used_{number})+estimate_return_seconds_{number}/60),""),"")'
        )
        name = f"estimate_thread_minutes_{number}"
        meaning = f"minutes of threading a piece, lathe {number}"
        blocks.result(book, ws, f"{letter}17", name, meaning, formula, dimension="0.00")
        used_words = (
            f'IF(ISNUMBER({name}),ROUND(estimate_rpm_used_{number},0)&" rpm, back "&'
            f'IF(estimate_power_used_{number}="yes","under power","by hand"),"")'
        )
        meaning = f"speed and return that lathe {number} is reckoned with"
        blocks.result(book, ws, f"{letter}18", f"estimate_used_words_{number}", meaning, used_words, look="side")
    blocks.write(book, ws, "A17", "Thread, minutes a piece", "label")
    blocks.write(book, ws, "A18", "  reckoned with", "label")
    for row, item in enumerate(BY_JOB, start=20):
        blocks.write(book, ws, f"A{row}", item.label, "label")
        _input(book, ws, f"B{row}", item)
    blocks.heading(book, ws, "D5:F5", "Material")
    for first, items in ((7, MATERIAL), (21, MONEY)):
        for row, item in enumerate(items, start=first):
            blocks.write(book, ws, f"D{row}:E{row}", item.label, "label_in")
            _input(book, ws, f"F{row}", item)
    blocks.heading(book, ws, "D20:F20", "Money")
    for row in range(7, QUANTITY_ROW):
        ws.row_dimensions[row].height = 26 if row == 18 else 17
    blocks.write(book, ws, "D19:E19", "Pieces a bar", "label_in")
    blocks.result(
        book, ws, "F19", "estimate_per_bar", "whole pieces a bar",
        'IF(AND(ISNUMBER(estimate_each),ISNUMBER(estimate_usable)),IF(estimate_usable<estimate_each,"",'
        'INT(estimate_usable/estimate_each+0.000000001)),"")', dimension="count",
    )  # fmt: skip
    blocks.result(book, ws, "A24:C26", "estimate_bar_words", "whether the bar makes the part", BAR_WORDS, look="words")
    blocks.result(book, ws, "A27:C28", "estimate_support_words", "overhang and support", SUPPORT_WORDS, look="words")
    blocks.result(
        book, ws, "A29:C31", "estimate_cliff_words", "quantities whose last bar makes few", CLIFF_WORDS, look="words"
    )


BAR_WORDS = (
    'IF(NOT(AND(ISNUMBER(estimate_bar_size_used),ISNUMBER(estimate_bar_needed))),"",'
    f"IF(estimate_bar_size_used<estimate_bar_needed-{NOISE},"
    '"The bar is too small: the part needs "&FIXED(estimate_bar_needed,decimals)&'
    'IF(estimate_bar_shape_used="hexagon"," across the flats."," in diameter."),'
    '"Bar, "&estimate_bar_shape_used&" "&FIXED(estimate_bar_size_used,decimals)&": makes the part"&'
    'IF(estimate_part_shape_used=estimate_bar_shape_used,"; "&FIXED((estimate_bar_size_used-'
    'estimate_part_used)/2,decimals)&" a side comes off.",".")&IF(estimate_bar_shape_used="hexagon",'
    '" Across its corners "&FIXED(estimate_bar_size_used/COS(RADIANS(30)),decimals)&".","")&'
    'IF(ISNUMBER(estimate_density),IF(ISNUMBER(estimate_bar_length_used)," A bar weighs "&FIXED(estimate_bar_area*'
    'estimate_bar_length_used*estimate_density,2)&".",""),"")))'
)
_FEW = "&".join(
    f"IF(ISNUMBER(INDEX(estimate_bars,1,{n})),IF(AND(INDEX(estimate_bars,1,{n})>1,"
    f"{FEW}*INDEX(estimate_on_last_bar,1,{n})<estimate_per_bar),"
    f'estimate_quantity_{n}&" ("&INDEX(estimate_on_last_bar,1,{n})&" of "&estimate_per_bar&"), ",""),"")'
    for n in range(1, len(BREAKS) + 1)
)
CLIFF_WORDS = (
    'IF(LEN(estimate_few)>0,"The last bar makes few pieces at a quantity of "&estimate_few&'
    '"so many fewer would save a bar.","")'
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


_SETUP_PASSES = 'IF(ISNUMBER(passes),passes+IF(ISNUMBER(spring_passes),spring_passes,0),"")'
BY_LATHE_USED = (
    ("passes", "passes", f"IF(ISNUMBER(estimate_passes_#),estimate_passes_#,{_SETUP_PASSES})"),
    ("rpm", "speed", 'IF(ISBLANK(estimate_rpm_#),lathe_rpm_#,IF(estimate_rpm_#>0,estimate_rpm_#,""))'),
    ("power", "back under power",
     ('IF(LEN(estimate_power_return_#)>0,estimate_power_return_#,IF(lathe_half_nuts_#=TRUE,"no",'
      'IF(lathe_half_nuts_#=FALSE,"yes","")))')),
)  # fmt: skip
"""What counts of the inputs of a lathe that may be empty: name, meaning, formula with # for its number."""


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "H5:I5", "Working figures (not printed)")
    rows = [
        *(
            (f"estimate_{name}_used_{n}", f"{what} used, lathe {n}", formula.replace("#", str(n)))
            for name, what, formula in BY_LATHE_USED
            for n in (1, 2)
        ),
        ("estimate_length_used", "thread length used",
         'IF(ISNUMBER(estimate_length),estimate_length,IF(ISNUMBER(thread_length),thread_length,""))'),
        ("estimate_part_used", "size of the part used",
         'IF(ISNUMBER(estimate_part_size),estimate_part_size,IF(ISNUMBER(diameter),diameter,""))'),
        ("estimate_part_shape_used", "shape of the part used", 'IF(estimate_part_shape="hexagon","hexagon","round")'),
        *((used(name), f"{name.replace('_', ' ')} used", _from_rack(name, own)) for name, own in FROM_RACK.items()),
        ("estimate_bar_needed", "least size of a bar of this shape", _needed("estimate_bar_shape_used")),
        ("estimate_bar_area", "section of the bar",
         f'IF(ISNUMBER(estimate_bar_size_used),{_area("estimate_bar_shape_used", "estimate_bar_size_used")},"")'),
        ("estimate_each", "length of bar a piece takes",
         ('IF(COUNT(estimate_part_length,estimate_facing,estimate_part_off)=3,'
          'estimate_part_length+estimate_facing+estimate_part_off,"")')),
        ("estimate_usable", "length of a bar that makes pieces",
         'IF(COUNT(estimate_bar_length_used,estimate_stub)=2,estimate_bar_length_used-estimate_stub,"")'),
        ("estimate_gauge_each", "minutes of gauging, the average piece",
         'IF(COUNT(estimate_gauging,estimate_gauged)=2,estimate_gauging*estimate_gauged,"")'),
        ("estimate_power", "power of the quantity in Wright's rule",
         "IF(ISNUMBER(estimate_learning),IF(estimate_learning>0,LN(estimate_learning)/LN(2),0),0)"),
        ("estimate_few", "quantities whose last bar makes few", _FEW),
        *((f"estimate_fault_{n}", f"what is missing, lathe {n}", fault(faults(n))) for n in (1, 2)),
    ]  # fmt: skip
    for row, (name, meaning, formula) in enumerate(rows, start=6):
        blocks.write(book, ws, f"H{row}", meaning, "small")
        blocks.result(book, ws, f"I{row}", name, meaning, formula, role="working")


def _from_rack(name: str, own: str) -> str:
    """What counts of an input of the bar: that of the line of the list, or what is typed."""
    line = f"INDEX(rack_{own},estimate_bar_line)"
    typed = f'IF(ISBLANK(estimate_{name}),"",estimate_{name})'
    return f'IF(ISBLANK(estimate_bar_line),{typed},IFERROR(IF({line}="","",{line}),""))'


def _needed(shape: str) -> str:
    """The least size of a bar of a shape that makes the part."""
    corners = f'IF(AND(estimate_part_shape_used="hexagon",{shape}="round"),1/COS(RADIANS(30)),1)'
    return f'IF(ISNUMBER(estimate_part_used),estimate_part_used*{corners},"")'


def _area(shape: str, size: str) -> str:
    """The section of a bar."""
    return f'{size}^2*IF({shape}="hexagon",SQRT(3)/2,PI()/4)'


def _rack(book: Book, ws: Worksheet) -> None:
    """The list of bars that the shop can have, to the right of the page; each with what it would come to."""
    first, last = RACK_ROW, RACK_ROW + RACK_LINES - 1
    blocks.widths(ws, {"K": 6, "L": 12, "M": 13, "N": 12, "O": 12, "P": 11, "Q": 13, "R": 11})
    blocks.heading(book, ws, "K5:R5", "Bars that the shop can have (not printed)")
    heads = ("line", *(item.label for item in RACK), "pieces a bar", "bars, first quantity, in money", "section")
    for letter, text in zip("KLMNOPQR", heads):
        blocks.write(book, ws, f"{letter}6", text, "head")
    ws.row_dimensions[6].height = 26
    for letter, item in zip("LMNO", RACK):
        for row in range(first, last + 1):
            blocks.write(book, ws, f"{letter}{row}", None, "log_input" if item.dimension == "text" else "log_number",
                         styles.number_format(item.dimension, book.unit))  # fmt: skip
        ref = f"{letter}{first}:{letter}{last}"
        if item.dimension == "entry":
            blocks.follow_unit(book, ws, ref, "entry")
        blocks.name_input(book, ws, ref, f"rack_{item.name}", item.meaning, prompt=item.prompt, check=item.check,
                          dimension=item.dimension)  # fmt: skip
    for row in range(first, last + 1):
        blocks.write(book, ws, f"K{row}", row - first + 1, "row", "0")
        makes = (
            f'AND(ISNUMBER(M{row}),OR(L{row}="round",L{row}="hexagon"),COUNT(N{row},estimate_stub,estimate_each)=3,'
            f"ISNUMBER({_needed(f'L{row}')}))"
        )
        fits = f"AND(M{row}>={_needed(f'L{row}')}-{NOISE},N{row}-estimate_stub>=estimate_each)"
        per_bar = f'IF({makes},IF({fits},INT((N{row}-estimate_stub)/estimate_each+{NOISE}),""),"")'
        money = (
            f"IF(AND(ISNUMBER(P{row}),ISNUMBER(O{row}),COUNT(estimate_quantity_1,estimate_scrap)=2),"
            f'-INT(-(-INT(-(estimate_quantity_1/(1-estimate_scrap)-{NOISE})))/P{row})*O{row},"")'
        )
        for letter, formula, form in (
            ("P", per_bar, "0"),
            ("Q", money, "0.00"),
            ("R", f'IF(ISNUMBER(P{row}),{_area(f"L{row}", f"M{row}")},"")', "0.0000"),
        ):
            blocks.write(book, ws, f"{letter}{row}", f"={formula}", "log_result", form)
    for letter, name, meaning in (
        ("P", "rack_pieces", "pieces a bar; blank where the bar does not make the part"),
        ("Q", "rack_money", "what the bars for the first quantity cost"),
        ("R", "rack_section", "section of each bar that makes the part"),
    ):
        blocks.define(book, ws, f"{letter}{first}:{letter}{last}", name, meaning)
    blocks.result(
        book, ws, f"K{last + 2}:R{last + 3}", "rack_words", "which bar of the list makes the part", RACK_WORDS,
        look="sentence",
    )  # fmt: skip


def _line_of(column: str) -> str:
    """A line of the list where a column is least, in words."""
    at = f"MATCH(MIN({column}),{column},0)"
    return f'"line "&{at}&", "&INDEX(rack_shape,{at})&" "&FIXED(INDEX(rack_size,{at}),decimals)'


RACK_WORDS = (
    'IF(COUNT(rack_size)=0,"List the bars that the shop can have; the line to use goes into Bar, line of the list.",'
    "IF(NOT(AND(ISNUMBER(estimate_part_used),ISNUMBER(estimate_each),ISNUMBER(estimate_stub))),"
    '"Next: part length, facing, part-off and bar stub.",'
    'IF(COUNT(rack_pieces)=0,"No bar of the list makes the part: a round takes "&FIXED(estimate_part_used*'
    'IF(estimate_part_shape_used="hexagon",1/COS(RADIANS(30)),1),decimals)&", a hexagon "&'
    "FIXED(estimate_part_used,decimals)&"
    '" across flats.","Least cut away: "&'
    + _line_of("rack_section")
    + '&"."&IF(COUNT(rack_money)=0,""," Least money for the first quantity: "&'
    + _line_of("rack_money")
    + '&", "&FIXED(MIN(rack_money),2)&"."))))'
)


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
        "on_last_bar": "{make}-({bars}-1)*estimate_per_bar",
        "material": "{bars}*estimate_bar_price_used",
        "material_by_length": "{make}/estimate_per_bar*estimate_bar_price_used",
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
    "on_last_bar": ("  pieces on the last of them", "count"),
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
