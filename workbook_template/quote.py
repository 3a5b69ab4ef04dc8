"""The sheet Quote: many parts, one row each, at the rates of the sheet Estimate; each row says what it assumes."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, styles, threads_table
from workbook_template.blocks import Book
from workbook_template.prompt_titles import prompt_title

SHEET = "Quote"
ROWS = 1000
HEAD, FIRST = 7, 8
LAST = FIRST + ROWS - 1
MOST_SIZES = 5000

INPUTS = (
    ("part", "Part", "part or drawing number", "text", 18, "Part or drawing number; begin the row with it."),
    ("size", "Thread size", "thread size as the sheet Threads lists it", "text", 19,
     "The size as listed on the sheet Threads, as in 3/4-16 UNF or M20x2.5. One start."),
    ("class", "Class", "thread class", "text", 12, "Class as on the drawing. Empty: to be agreed, and said so."),
    ("quantity", "Quantity", "good pieces", "count", 9, "How many good pieces."),
    ("length", "Thread length", "length of thread", "entry", 10, "Length of full thread, in the working unit."),
    ("passes", "Passes", "passes, spring passes too", "count", 8, "All passes at the dials, spring passes too."),
    ("rpm", "rpm", "spindle speed while threading", "count", 8, "Turns a minute in threading."),
    ("power", "Back under power?", "whether the half-nuts stay shut", "text", 9,
     "yes where the dial rule forbids opening the half-nuts for this thread, or no. Empty: as typed on Estimate."),
    ("other", "Other minutes each", "minutes a piece beside threading", "0.0#", 9,
     "Minutes a piece beside threading: turn, handle, gauge. 0 for none."),
    ("setup", "Set-up minutes", "minutes to set up", "0.0#", 9,
     "Minutes to set up this line; 0 where the line before does."),
    ("material", "Material each", "material a piece made", "0.00", 10,
     "Material a piece made, in money; 0 where supplied."),
    ("extra", "Other for the line", "other money for the line", "0.00", 10, "Tools, gauges, outside work; 0 for none."),
)  # fmt: skip
"""Name, heading, meaning, dimension, width, message."""

RESULTS = (
    ("make", "Make", "pieces to make", "count", 7),
    ("thread_minutes", "Thread, min each", "minutes of threading a piece", "0.00", 9),
    ("minutes", "Minutes", "minutes of the line", "0.0", 9),
    ("price", "Price", "price of the line", "0.00", 11),
    ("unit_price", "Price each", "price a piece", "0.00", 10),
    ("words", "Assumed, or what is missing", "what is assumed, or what is missing", "words", 88),
)
WORKING = (("place", "place of the size in the list"), ("lead", "lead, working unit"))

OUT_OF_RANGE = (
    "OR(MIN(estimate_rate,estimate_scrap,estimate_overhead,estimate_profit,estimate_approach_1,estimate_overrun_1,"
    "estimate_return_seconds_1)<0,estimate_scrap>0.999,MAX(estimate_overhead,estimate_profit)>4,"
    'AND(estimate_profit_kind="margin",estimate_profit>=1))'
)
SHARED_FAULT = (
    'IF(COUNT(estimate_rate,estimate_scrap,estimate_overhead,estimate_profit,estimate_approach_1,estimate_overrun_1,'
    'estimate_return_seconds_1)<7,"Fill in rate, scrap, overhead, profit, and approach, overrun and seconds a pass of '
    'lathe 1 on the sheet Estimate first.",'
    'IF(AND(estimate_profit_kind<>"margin",estimate_profit_kind<>"markup"),'
    '"Choose margin or markup on the sheet Estimate.",'
    f'IF({OUT_OF_RANGE},"On the sheet Estimate a rate, scrap, overhead, profit, approach, overrun or seconds a pass of '
    'lathe 1 is out of range.","")))'
)  # fmt: skip


def _cells(part: tuple[threads_table.Column, ...], name: str) -> str:
    """A column of the lists on the sheet Threads."""
    letter = get_column_letter(
        threads_table.starts_at(part) + next(n for n, column in enumerate(part) if column.name == name)
    )
    return f"Threads!${letter}${threads_table.FIRST}:${letter}${threads_table.FIRST + MOST_SIZES - 1}"


def row_formulas(row: int) -> list[str]:
    """The results of a row, then its working figures."""
    at = {name: f"{get_column_letter(n)}{row}" for n, (name, *_) in enumerate((*INPUTS, *RESULTS, *WORKING), start=1)}
    sizes, systems = threads_table.SIZES, threads_table.SYSTEMS
    numbers = ",".join(
        at[name] for name in ("quantity", "length", "passes", "rpm", "other", "setup", "material", "extra")
    )
    ready = f"ISNUMBER({at['make']})"
    back = f'IF({at["power"]}="",estimate_power_return_1,{at["power"]})'
    powered, said = f'{back}="yes"', f'OR({back}="yes",{back}="no")'
    place = f'IF({at["size"]}="","",IFERROR(MATCH({blocks.exactly(at["size"])},size_list,0),""))'
    system = f"INDEX({_cells(systems, 'own_unit')},MATCH({at['place']},system_firsts,1))"
    lead = (
        f"IF(ISNUMBER({at['place']}),INDEX({_cells(sizes, 'own_pitch')},{at['place']})*IF({system}=unit,1,"
        f'IF({system}="in",25.4,1/25.4)),"")'
    )
    checks = (
        (f'NOT(ISNUMBER({at["place"]}))', '"No such size on the sheet Threads; write it as listed there."'),
        (f"COUNT({numbers})<8", '"Fill in every number of the row; 0 for none."'),
        (f"NOT({said})", '"Back under power is yes or no."'),
        (f'OR({at["quantity"]}<1,{at["quantity"]}<>INT({at["quantity"]}))', '"Quantity is a whole number, 1 or more."'),
        (f'MIN({at["length"]},{at["passes"]},{at["rpm"]})<=0', '"Length, passes and rpm are more than zero."'),
        (f'{at["passes"]}<>INT({at["passes"]})', '"Passes are a whole number."'),
        (f'MIN({numbers})<0', '"No number of the row is below zero."'),
        ('quote_fault<>""', "quote_fault"),
    )  # fmt: skip
    assumed = (
        f'IF({at["class"]}="","class to be agreed","class "&{at["class"]}&" as written")&", right hand, one start, '
        f'no coating, room to run out, gauging in the other minutes, back "&IF({powered},"under power","by hand")&"."'
    )
    words = assumed
    for condition, sentence in reversed(checks):
        words = f"IF({condition},{sentence},{words})"
    good = f'AND(ISNUMBER({at["place"]}),quote_fault="",COUNT({numbers})=8)'
    valid = (
        f"AND({said},{at['passes']}=INT({at['passes']}),"
        f"{at['quantity']}>=1,{at['quantity']}=INT({at['quantity']}),"
        f"MIN({at['length']},{at['passes']},{at['rpm']})>0,MIN({numbers})>=0)"
    )
    travel = f"({at['length']}+estimate_approach_1+estimate_overrun_1)/({at['lead']}*{at['rpm']})"
    each = f"{at['passes']}*(IF({powered},2,1)*{travel}+estimate_return_seconds_1/60)"
    cost = f"({at['minutes']}*estimate_rate/60*(1+estimate_overhead)+{at['make']}*{at['material']}+{at['extra']})"
    price = f'ROUND({cost}*IF(estimate_profit_kind="margin",1/(1-estimate_profit),1+estimate_profit),2)'
    return [
        f'IF({good},IF({valid},-INT(-({at["quantity"]}/(1-estimate_scrap)-0.000000001)),""),"")',
        f'IF({ready},{each},"")',
        f'IF({ready},{at["setup"]}+{at["make"]}*({at["thread_minutes"]}+{at["other"]}),"")',
        f'IF({ready},{price},"")',
        f'IF({ready},{at["price"]}/{at["quantity"]},"")',
        f'IF(COUNTA({get_column_letter(1)}{row}:{get_column_letter(len(INPUTS))}{row})=0,"",{words})',
        place,
        lead,
    ]


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    last = get_column_letter(len(INPUTS) + len(RESULTS))
    blocks.write(book, ws, "A1:H1", "Quote: one row a part", "callout")
    money = 'unit_words&IF(LEN(estimate_currency)>0,", money in "&estimate_currency,"")'
    blocks.result(book, ws, "I1:Q1", "quote_money", "unit and money in words", money, look="note")
    blocks.result(
        book, ws, f"A2:{last}2", "quote_fault", "what the sheet Estimate still lacks", SHARED_FAULT, look="next"
    )
    hint = (
        "Rates, scrap, overhead, profit, return of lathe 1: as on the sheet Estimate. Material is by piece made. "
        "The price of a line is rounded to .01, and the lines as shown make up the total."
    )
    blocks.write(book, ws, f"A3:{last}3", hint, "words")
    _totals(book, ws)
    columns = [*((name, heading, meaning, form, width) for name, heading, meaning, form, width, _ in INPUTS), *RESULTS]
    for number, (_, heading, _, _, width) in enumerate(columns, start=1):
        letter = get_column_letter(number)
        blocks.write(book, ws, f"{letter}{HEAD}", heading, "log_head")
        ws.column_dimensions[letter].width = width
    ws.row_dimensions[1].height, ws.row_dimensions[HEAD].height = 32, 32
    looks = [
        styles.ready(book.known, ws, look, styles.number_format(form, book.unit))
        for look, form in (
            *(("log_input" if form == "text" else "log_number", form) for _, _, _, form, _, _ in INPUTS),
            *(("log_word" if form == "words" else "log_result", form) for _, _, _, form, _ in RESULTS),
            *(("small", "General") for _ in WORKING),
        )
    ]
    empty = (None,) * len(INPUTS)
    for row in range(FIRST, LAST + 1):  # appended, as the headings are the last row so far
        styles.append(ws, (*empty, *(f"={formula}" for formula in row_formulas(row))), looks)
    _name(book, ws)
    ws.freeze_panes = f"B{FIRST}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    blocks.page(ws, f"A1:{last}{LAST}", landscape=True, rows=0)
    blocks.lock(ws)


def _totals(book: Book, ws: Worksheet) -> None:
    totals: tuple[tuple[str, ...], ...] = (
        ("A5", "Lines priced", "B5", "quote_lines", "lines priced", "COUNT(quote_price)", "count"),
        ("D5:E5", "Minutes together", "F5:G5", "quote_minutes_total", "minutes together", "SUM(quote_minutes)", "0.0"),
        ("I5:J5", "Price together", "K5:L5", "quote_total", "price together", "SUM(quote_price)", "0.00"),
        (
            "N5:O5",
            "Lines NOT priced",
            "P5",
            "quote_left",
            "lines begun that are not priced",
            'COUNTIF(quote_words,"?*")-quote_lines',
            "count",
        ),
    )
    for label_at, label, at, name, meaning, formula, form in totals:
        blocks.write(book, ws, label_at, label, "label")
        guarded = formula if name in ("quote_lines", "quote_left") else f'IF(quote_lines>0,{formula},"")'
        blocks.result(book, ws, at, name, meaning, guarded, dimension=form)


def _name(book: Book, ws: Worksheet) -> None:
    """Names of the columns, the messages of the inputs."""
    for number, (name, _, meaning, form, _, prompt) in enumerate(INPUTS, start=1):
        ref = f"{get_column_letter(number)}{FIRST}:{get_column_letter(number)}{LAST}"
        unit = blocks.IN_UNIT.get(form, "")
        blocks.define(book, ws, ref, f"quote_{name}", f"{meaning}, one cell a line", unit=unit, role="input")
        title = prompt_title(f"quote_{name}", meaning)
        ws.add_data_validation(
            DataValidation(
                type=None, allow_blank=True, showInputMessage=True, promptTitle=title, prompt=prompt, sqref=ref
            )
        )
        if form in styles.FORMATS:
            blocks.follow_unit(book, ws, ref, form)
    for number, (name, _, meaning, *_) in enumerate(RESULTS, start=len(INPUTS) + 1):
        ref = f"{get_column_letter(number)}{FIRST}:{get_column_letter(number)}{LAST}"
        blocks.define(book, ws, ref, f"quote_{name}", f"{meaning}, one cell a line")
    for number, (name, meaning) in enumerate(WORKING, start=len(INPUTS) + len(RESULTS) + 1):
        letter = get_column_letter(number)
        blocks.write(book, ws, f"{letter}{HEAD}", meaning, "small")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", f"quote_{name}", meaning, role="working")
