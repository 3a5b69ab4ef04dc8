"""The bars of the sheet Estimate: the list of those that the shop can have, and which of them makes the part."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, styles
from workbook_template.blocks import Book
from workbook_template.estimate_inputs import NOISE, QUANTITIES, RACK

RACK_ROW, RACK_LINES = 7, 12
FEW = 4
"""Under one in so many of the pieces of a whole bar is few for the last one."""

BAR_WORDS = (
    "IF(NOT(AND(ISNUMBER(estimate_bar_size_used),ISNUMBER(estimate_bar_needed),"
    'OR(estimate_bar_shape_used="round",estimate_bar_shape_used="hexagon"))),"",'
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
FEW_LIST = "&".join(
    f"IF(ISNUMBER(INDEX(estimate_bars,1,{n})),IF(AND(INDEX(estimate_bars,1,{n})>1,"
    f"{FEW}*INDEX(estimate_on_last_bar,1,{n})<estimate_per_bar),"
    f'estimate_quantity_{n}&" ("&INDEX(estimate_on_last_bar,1,{n})&" of "&estimate_per_bar&"), ",""),"")'
    for n in range(1, QUANTITIES + 1)
)
CLIFF_WORDS = (
    'IF(LEN(estimate_few)>0,"The last bar makes few pieces at a quantity of "&estimate_few&'
    '"so many fewer would save a bar.","")'
)
SUPPORT_WORDS = (
    'IF(NOT(AND(ISNUMBER(estimate_each),ISNUMBER(estimate_part_used),ISNUMBER(diameter))),"",'
    "IF(estimate_each>6*MIN(estimate_part_used,diameter),"
    '"Stands out more than 6 diameters: centre and steady rest (practice).",'
    "IF(estimate_each>3*MIN(estimate_part_used,diameter),"
    '"Stands out more than 3 diameters: use the centre (practice).","Stands out 3 diameters at most.")))'
)


def from_rack(name: str, own: str) -> str:
    """What counts of an input of the bar: that of the line of the list, or what is typed."""
    line = f"INDEX(rack_{own},estimate_bar_line)"
    typed = f'IF(ISBLANK(estimate_{name}),"",estimate_{name})'
    return f'IF(ISBLANK(estimate_bar_line),{typed},IFERROR(IF({line}="","",{line}),""))'


def needed(shape: str) -> str:
    """The least size of a bar of a shape that makes the part."""
    corners = f'IF(AND(estimate_part_shape_used="hexagon",{shape}="round"),1/COS(RADIANS(30)),1)'
    return f'IF(ISNUMBER(estimate_part_used),estimate_part_used*{corners},"")'


def area(shape: str, size: str) -> str:
    """The section of a bar."""
    return f'{size}^2*IF({shape}="hexagon",SQRT(3)/2,PI()/4)'


def build(book: Book, ws: Worksheet) -> None:
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
            f"ISNUMBER({needed(f'L{row}')}))"
        )
        fits = f"AND(M{row}>={needed(f'L{row}')}-{NOISE},N{row}-estimate_stub>=estimate_each)"
        per_bar = f'IF({makes},IF({fits},INT((N{row}-estimate_stub)/estimate_each+{NOISE}),""),"")'
        money = (
            f"IF(AND(ISNUMBER(P{row}),ISNUMBER(O{row}),COUNT(estimate_quantity_1,estimate_scrap)=2),"
            f'-INT(-(-INT(-(estimate_quantity_1/(1-estimate_scrap)-{NOISE})))/P{row})*O{row},"")'
        )
        for letter, formula, form in (
            ("P", per_bar, "0"),
            ("Q", money, "0.00"),
            ("R", f'IF(ISNUMBER(P{row}),{area(f"L{row}", f"M{row}")},"")', "0.0000"),
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
