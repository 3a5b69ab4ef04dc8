"""The sheet Quote: many parts, one row each, at the rates of the sheet Estimate; each row says what it assumes."""

from __future__ import annotations

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import (
    all_of,
    any_of,
    exactly,
    first,
    given,
    here,
    in_table,
    joined,
    known,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Area, Cell, Node
from workbook_template.paper import blocks, styles
from workbook_template.paper.blocks import Book
from workbook_template.paper.prompt_titles import prompt_title
from workbook_template.sheets import threads_table
from workbook_template.sheets.estimate_figures import MONEY_WORDS
from workbook_template.sheets.estimate_inputs import IN_OR_MM, RETYPE, retype
from workbook_template.sheets.thread_listing import BAR
from workbook_template.trade.prices import MARGIN_OF_ALL, Terms, lines, minutes_of_threading

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
WORKING = (
    ("place", "place of the size in the list"),
    ("lead", "lead, working unit"),
    ("of_job", "quantity of the sheet Estimate that the line is; 0: none of it; blank: another part"),
)
"""`of_job` makes one job have one price: a line that is the part of the sheet Job is priced on the sheet Estimate."""

COLUMNS = {name: number for number, (name, *_) in enumerate((*INPUTS, *RESULTS, *WORKING), start=1)}

KIND, PROFIT = the.estimate_profit_kind, the.estimate_profit
RATES = (the.estimate_rate, the.estimate_scrap, the.estimate_overhead, the.estimate_rest, PROFIT)
RUN = (the.estimate_approach_1, the.estimate_overrun_1, the.estimate_return_seconds_1)
FAULT = first(
    (
        xl.COUNT(*RATES, *RUN) < len(RATES + RUN),
        say(
            "Fill in rate, scrap, overhead, profit, rest and delay, and approach, overrun and seconds a pass of lathe "
            "1 on the sheet Estimate first."
        ),
    ),
    (retype(the.estimate_unit), say("Sheet Estimate: ", RETYPE)),
    (
        all_of(*(the.quote_unit.differs(unit) for unit in ("in", "mm"))),
        "Choose the unit that the lengths are typed in.",
    ),
    (
        retype(the.quote_unit),
        say(
            "The thread lengths were typed in ",
            the.quote_unit,
            ", and the working unit is now ",
            the.unit,
            ": type them anew, then choose ",
            the.unit,
            " over them.",
        ),
    ),
    (all_of(KIND.differs("margin"), KIND.differs("markup")), "Choose margin or markup on the sheet Estimate."),
    (
        any_of(
            xl.MIN(*RATES, *RUN) < 0,
            xl.MAX(the.estimate_scrap, the.estimate_rest) > 0.999,
            xl.MAX(the.estimate_overhead, PROFIT) > 4,
            MARGIN_OF_ALL,
        ),
        say(
            "On the sheet Estimate a rate, scrap, overhead, profit, rest and delay, approach, overrun or seconds a "
            "pass of lathe 1 is out of range."
        ),
    ),
)
"""What the sheet Estimate still lacks for all rows."""


def _listed(part: tuple[threads_table.Column, ...], name: str) -> Node:
    """A column of the lists on the sheet Threads."""
    column = threads_table.starts_at(part) + [one.name for one in part].index(name)
    top, bottom = threads_table.FIRST, threads_table.FIRST + MOST_SIZES - 1
    return Area(Cell(top, column, True, True, threads_table.SHEET), Cell(bottom, column, True, True))


NUMBERS = tuple(here[name] for name, _, _, form, *_ in INPUTS if form != "text")
BACK = when(here.power.same(""), the.estimate_power_return_1, here.power)
UNDER_POWER = BACK.same("yes")
NOT_WHOLE = here.quantity.differs(xl.INT(here.quantity))

NO_PLACE = no(known(here.place))
CLASSES = xl.INDEX(_listed(threads_table.SIZES, "own_classes"), here.place)
NO_CLASS = when(  # FIND tells 6h from 6H
    all_of(known(here.place), here["class"].differs("")),
    no(known(xl.FIND(say(BAR, here["class"], BAR), CLASSES))),
    False,
)
MISSING = (
    (NO_PLACE, "No such size on the sheet Threads; write it as listed there."),
    (
        NO_CLASS,
        say(
            "No class ",
            here["class"],
            " of this size; it has",
            xl.SUBSTITUTE(xl.SUBSTITUTE(CLASSES, BAR, " ", 1), BAR, ", "),
            "or is left to be agreed.",
        ),
    ),
    (xl.COUNT(*NUMBERS) < len(NUMBERS), "Fill in every number of the row; 0 for none."),
)
"""What keeps the numbers of a row from being looked at."""

OTHER_CLASS = all_of(here["class"].differs(""), here["class"].differs(the.row_class))
WRONG = (
    (no(any_of(UNDER_POWER, BACK.same("no"))), "Back under power is yes or no."),
    (any_of(here.quantity < 1, NOT_WHOLE), "Quantity is a whole number, 1 or more."),
    (xl.MIN(here.length, here.passes, here.rpm) <= 0, "Length, passes and rpm are more than zero."),
    (here.passes.differs(xl.INT(here.passes)), "Passes are a whole number."),
    (xl.MIN(*NUMBERS) < 0, "No number of the row is below zero."),
    (
        when(known(here.of_job), here.of_job.same(0), False),
        "This is the part of the sheet Job: type this quantity on the sheet Estimate, which prices it.",
    ),
    (
        when(known(here.of_job), any_of(here.size.differs(the.row_size), OTHER_CLASS), False),
        "This is the part of the sheet Job, with another size or class: correct one, or name the part otherwise.",
    ),
    (
        when(known(here.of_job), the.estimate_fault_1.differs(""), False),
        say("This is the part of the sheet Job, which the sheet Estimate can't price yet: ", the.estimate_fault_1),
    ),
)
NO_RATES = the.quote_fault.differs("")


def _lead() -> Node:
    """The lead of the size, in the working unit."""
    pitch = xl.INDEX(_listed(threads_table.SIZES, "own_pitch"), here.place)
    own_unit = xl.INDEX(_listed(threads_table.SYSTEMS, "own_unit"), xl.MATCH(here.place, the.system_firsts, 1))
    to_unit = first((own_unit.same(the.unit), 1), (own_unit.same("in"), 25.4), otherwise=node(1) / 25.4)
    return when(known(here.place), pitch * to_unit)


def _words() -> Node:
    """What a row assumes, or what it lacks."""
    assumed = say(
        when(here["class"].same(""), "class to be agreed", say("class ", here["class"], " as written")),
        ", right hand, one start, no coating, room to run out, gauging in the other minutes, back ",
        when(UNDER_POWER, "under power", "by hand"), ".",
    )  # fmt: skip
    begun = xl.COUNTA(joined(":", here.part, here.extra))
    of_job = "The part of the sheet Job: priced there on Estimate, the minutes and money of this line are not used."
    return first(
        (begun.same(0), ""), *MISSING, *WRONG, (NO_RATES, the.quote_fault),
        otherwise=when(known(here.of_job), of_job, assumed),
    )  # fmt: skip


def row_formulas() -> dict[str, Node]:
    """The formulas of a row: its results, then its working figures."""
    travel = here.length + the.estimate_approach_1 + the.estimate_overrun_1
    minutes = minutes_of_threading(here.passes, travel, here.lead, here.rpm, UNDER_POWER, the.estimate_return_seconds_1)
    terms = Terms(
        here.quantity, scrap=the.estimate_scrap, setup=here.setup, turning=here.other, threading=here.thread_minutes,
        rate=the.estimate_rate, tooling=here.extra, outside=here.material, overhead=the.estimate_overhead,
        profit=PROFIT, allowance=the.estimate_rest,
    )  # fmt: skip
    line = lines(terms, {name: here[name] for name in ("make", "minutes", "unit_price")})
    missing, wrong = (any_of(*(condition for condition, _ in cases)) for cases in (MISSING, WRONG))
    made = known(here.make)

    def of_line(name: str, own: Node) -> Node:
        return when(made, when(known(here.of_job), xl.INDEX(the[f"estimate_{name}"], 1, here.of_job), own))

    is_job = all_of(given(the.part), (here.part & "").same(the.part & ""))
    quantity_of_job = xl.IFERROR(xl.MATCH(here.quantity, the.estimate_quantities, 0), 0)
    thread_minutes = when(known(here.of_job), the.estimate_thread_minutes_1, minutes)
    make = when(known(here.of_job), xl.INDEX(the.estimate_make, 1, here.of_job), line["make"])
    return {
        "make": first((missing, ""), (NO_RATES, ""), (wrong, ""), otherwise=make),
        "thread_minutes": when(made, thread_minutes),
        "minutes": of_line("minutes", line["minutes"]),
        "price": of_line("price", line["price"]),
        "unit_price": of_line("unit_price", line["unit_price"]),
        "words": _words(),
        "place": when(here.size.same(""), "", xl.IFERROR(xl.MATCH(exactly(here.size), the.size_list, 0), "")),
        "lead": _lead(),
        "of_job": when(is_job, when(known(here.quantity), quantity_of_job, 0)),
    }


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    last = get_column_letter(len(INPUTS) + len(RESULTS))
    blocks.write(book, ws, "A1:H1", "Quote: one row a part", "callout")
    blocks.result(
        book, ws, "I1:Q1", "quote_money", "unit and money in words", the.unit_words & MONEY_WORDS, look="note"
    )
    blocks.result(book, ws, f"A2:{last}2", "quote_fault", "what the sheet Estimate still lacks", FAULT, look="next")
    hint = (
        "Rates, scrap, overhead, profit, return of lathe 1: as on the sheet Estimate. Material is by piece made. "
        "Price each is rounded to .01, times quantity it is the price, and the lines as shown make up the total."
    )
    blocks.write(book, ws, f"A3:{last}3", hint, "words")
    blocks.write(book, ws, "A4:B4", "Thread lengths are typed in", "label")
    blocks.entry(
        book, ws, "C4", "quote_unit", "unit that the lengths are typed in", check=IN_OR_MM, value=book.unit,
        prompt="in or mm. It stays as chosen when the working unit changes: no price is shown until all are retyped.",
    )  # fmt: skip
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
    formulas = [
        blocks.column_texts(book, in_table(formula, COLUMNS, COLUMNS[name], FIRST, LAST), COLUMNS[name], FIRST, LAST)
        for name, formula in row_formulas().items()
    ]
    empty = (None,) * len(INPUTS)
    for row in zip(*formulas):  # appended, as the headings are the last row so far
        styles.append(ws, (*empty, *row), looks)
    _name(book, ws)
    ws.freeze_panes = f"B{FIRST}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    blocks.page(ws, f"A1:{last}{LAST}", landscape=True, rows=0)
    blocks.lock(ws)


def _totals(book: Book, ws: Worksheet) -> None:
    some = the.quote_lines > 0
    lines_left = xl.COUNTIF(the.quote_words, "?*") - the.quote_lines
    for label_at, at, name, meaning, formula, form in (
        ("A5", "B5", "lines", "lines priced", xl.COUNT(the.quote_price), "count"),
        ("D5:E5", "F5:G5", "minutes_total", "minutes together", when(some, xl.SUM(the.quote_minutes)), "0.0"),
        ("I5:J5", "K5:L5", "total", "price together", when(some, xl.SUM(the.quote_price)), "0.00"),
        ("N5:O5", "P5", "left", "lines begun that are not priced", lines_left, "count"),
    ):
        label = "Lines NOT priced" if name == "left" else meaning.capitalize()
        blocks.write(book, ws, label_at, label, "label")
        blocks.result(book, ws, at, f"quote_{name}", meaning, formula, dimension=form)


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
