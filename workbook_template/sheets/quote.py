"""The sheet Quote: many parts, one row each, at the rates of the sheet Estimate; each row says what it assumes.

On paper a row says in a word how the tool comes back; the sentence beside it is for the screen. What the first line
without a price lacks is printed over the rows.
"""

from __future__ import annotations

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    NO_NUMBER,
    all_of,
    any_of,
    first,
    fixed,
    here,
    joined,
    known,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import size_typed, threads_table
from workbook_template.sheets.estimate_figures import MONEY_WORDS
from workbook_template.sheets.inputs import ANYTHING, IN_OR_MM, Input, believed
from workbook_template.sheets.layout import (
    BODY,
    HEAD,
    NOTE,
    Block,
    Column,
    Made,
    Sheet,
    Table,
    block,
    entry,
    gap,
    line,
    shown,
    stack,
    table,
    words,
)
from workbook_template.sheets.quote_inputs import (
    CHECKS,
    CLASS,
    FAULT,
    INPUTS,
    MINIMUM_ORDER,
    MISSING,
    NO_PLACE,
    NO_RATES,
    NUMBER_FAULTS,
    PROFIT,
    SIZE_STEPS,
    SIZE_UNKNOWN,
    TAKEN,
    UNDER_POWER,
    WRONG,
    class_used,
    listed,
    size_cells,
)
from workbook_template.trade.prices import Terms, charged, is_minimum, lines, minutes_of_threading, to_minimum_order

SHEET = "Quote"
ROWS, FEWEST, MOST_ROWS = 60, 10, 1000
"""Rows of a quote unless more or fewer are asked for, and the bounds of what may be asked for."""
A_PAGE, ROW = 16, 22.5
"""Rows on a sheet of paper, and their height at first: two lines; a name that needs more makes its row higher."""
RESULTS = (
    ("make", "Make", "pieces to make", "count", 4.5),
    ("thread_minutes", "Thread, min. each", "minutes of threading a piece", "0.00", 6),
    ("minutes", "Minutes", "minutes of the line", "0.0", 6.5),
    ("price", "Price", "price of the line", "0.00", 8),
    ("unit_price", "Price each", "price a piece", "0.00", 6.5),
    ("back", "Back", "how the tool comes back, or that there is no price", "words", 5.5),
)
WORKING = (
    *((f"size_{step}", size_typed.STEPS[step][0]) for step in SIZE_STEPS),
    ("place", "place of the size in the list"),
    ("size_unknown", "what is said of a size that is not taken"),
    ("class_used", "class of the line, or the one typed behind its size"),
    ("lead", "lead, working unit"),
    ("its_classes", "classes of the size, each between two bars"),
    ("number_lacking", "which number of the line is left empty"),
    ("number_wrong", "which number of the line can not be"),
    ("line_fault", "what the line lacks or has wrong"),
    ("of_job", "quantity of the sheet Estimate that the line is; 0: none of it; blank: another part"),
)
"""`of_job` makes one job have one price: a line that is the part of the sheet Job is priced on the sheet Estimate."""

SENTENCE = ("words", "Assumed, or what is missing", "what is assumed, or what is missing", "words", 70)
"""On the screen alone, the last column: what is long runs on to the right."""

NO_PRICE = "no price"
BOLD = ("price", "unit_price")
PRINTED = len(INPUTS) + len(RESULTS)

OF_JOB = ("part", "drawing")
"""By what a line is known as the part of the sheet Job, as its heading asks for either."""


def _plain(name: Node) -> Node:
    """A name as it is compared: without blanks around it, in capitals."""
    return xl.UPPER(xl.TRIM(name))


def _lead() -> Node:
    """The lead of the size, in the working unit."""
    pitch = xl.INDEX(listed(threads_table.SIZES, "own_pitch"), here.place)
    own_unit = xl.INDEX(listed(threads_table.SYSTEMS, "own_unit"), xl.MATCH(here.place, the.system_firsts, 1))
    to_unit = first(
        (own_unit.same(the.unit_text), 1), (own_unit.same("in"), MM_PER_INCH), otherwise=node(1) / MM_PER_INCH
    )
    return when(known(here.place), pitch * to_unit)


EMPTY = xl.COUNTA(joined(":", here.part, here.extra)).same(0)
FAULTY = here.line_fault.differs(NO_NUMBER)
"""Whether nothing stands in a row; whether it lacks something, or has something wrong."""


AT_MINIMUM = " The price is the minimum charge."


def _words() -> Node:
    """What a row assumes, or what it lacks."""
    at_minimum = when(
        known(here.unit_price),
        when(is_minimum(here.unit_price, the.estimate_minimum_used, here.quantity), AT_MINIMUM),
    )
    assumed = say(
        TAKEN,
        when(CLASS.same(""), "class to be agreed", say("class ", CLASS, " as written")),
        ", right hand, one start, no coating, room to run out, gauging in the other minutes, back ",
        when(UNDER_POWER, "under power", "by hand"), ".", at_minimum,
    )  # fmt: skip
    of_job = say(
        TAKEN,
        "The part of the sheet Job: priced there on Estimate, the minutes and money of this line are not used.",
        at_minimum,
    )
    return first(
        (EMPTY, ""), (FAULTY, here.line_fault), (NO_RATES, "No price yet: the step over the rows says why."),
        (when(known(here.price), here.price.same(0), False),
         "The price is 0.00: look over rate, minutes, money and margin before it is quoted."),
        otherwise=when(known(here.of_job), of_job, assumed),
    )  # fmt: skip


def row_formulas() -> dict[str, Node]:
    """The formulas of a row: its results, then its working figures."""
    travel = here.length + the.estimate_approach_1 + the.estimate_overrun_1
    minutes = minutes_of_threading(here.passes, travel, here.lead, here.rpm, UNDER_POWER, the.estimate_return_seconds_1)
    terms = Terms(
        here.quantity, scrap=the.estimate_scrap, setup_minutes=here.setup_minutes, turning=here.other,
        threading=here.thread_minutes, rate=the.estimate_rate, tooling=here.extra, outside=here.material,
        overhead=the.estimate_overhead, profit=PROFIT, allowance=the.estimate_rest,
        minimum_charge=the.estimate_minimum_used,
    )  # fmt: skip
    line = lines(terms, {name: here[name] for name in ("make", "minutes", "unit_price")})
    made = known(here.make)

    def of_line(name: str, own: Node) -> Node:
        return when(made, when(known(here.of_job), xl.INDEX(the[f"estimate_{name}"], 1, here.of_job), own))

    named = _plain(here.part)
    is_job = all_of(named.differs(""), any_of(*(named.same(the[f"quote_{name}_sought"]) for name in OF_JOB)))
    quantity_of_job = xl.IFERROR(xl.MATCH(here.quantity, the.estimate_quantities, 0), 0)
    thread_minutes = when(known(here.of_job), the.estimate_thread_minutes_1, minutes)
    make = when(known(here.of_job), xl.INDEX(the.estimate_make, 1, here.of_job), line["make"])
    return {
        "make": first((EMPTY, ""), (FAULTY, ""), (NO_RATES, ""), otherwise=make),
        "thread_minutes": when(made, thread_minutes),
        "minutes": of_line("minutes", line["minutes"]),
        "price": of_line("price", line["price"]),
        "unit_price": of_line("unit_price", line["unit_price"]),
        "words": _words(),
        "back": first(
            (here.words.same(""), ""),
            (no(known(here.price)), NO_PRICE),
            (known(here.of_job), "the job"),
            (UNDER_POWER, "under power"),
            otherwise="by hand",
        ),
        **size_cells(),
        "size_unknown": when(all_of(NO_PLACE, no(EMPTY)), xl.IFERROR(SIZE_UNKNOWN, NO_NUMBER), NO_NUMBER),
        "class_used": class_used(),
        "lead": _lead(),
        "its_classes": when(
            known(here.place), xl.INDEX(listed(threads_table.SIZES, "own_classes"), here.place) & "", NO_NUMBER
        ),
        **{name: when(EMPTY, NO_NUMBER, tree) for name, tree in NUMBER_FAULTS.items()},
        "line_fault": first((EMPTY, NO_NUMBER), *MISSING, *WRONG, otherwise=NO_NUMBER),
        "of_job": when(is_job, when(known(here.quantity), quantity_of_job, 0)),
    }


def in_short(sentence: Node) -> Node:
    """A sentence of a row as the two lines over the rows have room for it: what is wrong, without how to type it."""
    cut = when(xl.LEN(sentence) > 100, say(xl.LEFT(sentence, xl.FIND("; ", sentence) - 1), "."), sentence)
    return xl.IFERROR(cut, sentence)


def _step(rows: int) -> Node:
    """What the quote waits for, or how it stands."""
    begun = xl.COUNTIF(the.quote_words, "?*")
    left = the.quote_left
    full = say(f" All {rows} rows are used: quote the rest in a second workbook.")
    beyond = say(" The first ", the.quote_printed, " rows are printed: widen the print range.")
    stands = say(the.quote_lines, when(the.quote_lines.same(1), " line", " lines"), " priced, together ",
                 fixed(xl.SUM(the.quote_price), 2), MONEY_WORDS, ".")  # fmt: skip
    least = when(known(the.quote_added), when(the.quote_added > 0, say(
        " To reach the minimum order ", fixed(the.quote_added, 2), " is added: ", fixed(the.quote_order, 2), " in all.",
    )))  # fmt: skip
    worst = xl.IFERROR(xl.MATCH(NO_PRICE, the.quote_back, 0), 1)
    unpriced = say(left, " NOT priced; line ", worst, ": ", in_short(xl.INDEX(the.quote_words, worst)))
    last_used = xl.INDEX(the.quote_words, rows).differs("")
    following = xl.INDEX(the.quote_words, xl.MIN(the.quote_printed + 1, rows)).differs("")
    past = any_of(begun > the.quote_printed, all_of(the.quote_printed < rows, following))
    return first(
        (the.quote_fault.differs(""), the.quote_fault),
        (begun.same(0), "Next: type a part, its thread and every number of its row; 0 for none."),
        (left > 0, say(unpriced, first((past, beyond), (last_used, full)))),  # there is room for one of them
        (any_of(last_used, past), say(stands, when(last_used, full), when(past, beyond))),
        otherwise=say(stands, least),
    )


def _head(made: Made) -> Block:
    """What stands over the rows."""
    some = the.quote_lines > 0
    unit = Input(
        "quote_unit", "Thread lengths are typed in", "unit that the lengths are typed in", "text", IN_OR_MM,
        "in or mm. It stays as chosen when the working unit changes: no price is shown until all are retyped.",
    )  # fmt: skip
    totals = (
        ("Lines priced", "lines", "lines priced", xl.COUNT(the.quote_price), "count"),
        ("NOT priced", "left", "lines begun that are not priced",
         xl.COUNTIF(the.quote_words, "?*") - the.quote_lines, "count"),
        ("Minutes together", "minutes_total", "minutes together", when(some, xl.SUM(the.quote_minutes), "–"), "0.0"),
        ("Price together", "total", "price together", when(some, xl.SUM(the.quote_price), "–"), "0.00"),
    )  # fmt: skip
    least = the.quote_order_used
    asked = all_of(some, least > 0)
    order = (
        ("Added to reach it", "added", "what is added to the price together to reach the minimum order",
         when(asked, to_minimum_order(the.quote_total, least), "–")),
        ("Order together", "order", "price together and what is added to reach the minimum order",
         when(asked, charged(the.quote_total + the.quote_added), the.quote_total)),
    )  # fmt: skip
    money = Figure("quote_money", "unit and money in words", the.unit_words & MONEY_WORDS)
    step = Figure("quote_step", "what the quote waits for, or how it stands", _step(made.quote_rows))
    return block(
        None,
        line(words(3, "Quote: one row a part", "section"), shown(PRINTED - 3, money, "letter_rule_right"), height=HEAD),
        line(shown(PRINTED, step, "step"), height=36),
        line(words(PRINTED, HINT, "note_9"), height=24.75),
        line(
            words(2, unit.label, "note_9"),
            entry(1, unit, made.unit, "cell_text"),
            *(
                one
                for (label, name, meaning, formula, form), wide in zip(totals, (1, 1, 2, 2))
                for one in (
                    words(2, label, "note_right"),
                    shown(wide, Figure(f"quote_{name}", meaning, formula, form), "result"),
                )
            ),
            gap(1),
        ),
        line(
            gap(3),
            words(2, MINIMUM_ORDER.label, "note_right"),
            entry(2, MINIMUM_ORDER, look="list_note_number"),
            *(
                one
                for label, name, meaning, formula in order
                for one in (
                    words(3, label, "note_right"),
                    shown(2, Figure(f"quote_{name}", meaning, formula, "0.00"), "result"),
                )
            ),
            gap(1),
            height=NOTE,
        ),
    )


HINT = (
    "Every line: right hand, one start, no coating, room to run out, gauging in the other minutes; a class left empty "
    "is to be agreed. Rates, scrap, overhead, profit, minimum charge, return of lathe 1: as on Estimate. Material is "
    "by piece made. Price each is rounded to .01, times quantity it is the price, and the lines as shown make up the "
    "total."
)


def _columns() -> tuple[Column, ...]:
    formulas = row_formulas()
    return (
        *(
            Column(name, head, f"{meaning}, one cell a line", dimension=form, prompt=prompt, role="input",
                   check=CHECKS.get(name, ANYTHING), look="quote_typed" if form == "text" else "quote_typed_number")
            for name, head, meaning, form, _, prompt in INPUTS
        ),
        *(
            Column(name, head, f"{meaning}, one cell a line", 1, formulas[name], form,
                   "quote_words" if form == "words" else "row_note_number_bold" if name in BOLD else "quote_number")
            for name, head, meaning, form, _ in RESULTS
        ),
        *(
            Column(name, meaning, meaning, formula=formulas[name], look="note_left", role="working", hidden=True)
            for name, meaning in WORKING
        ),
        Column(SENTENCE[0], SENTENCE[1], f"{SENTENCE[2]}, one cell a line", 1, formulas[SENTENCE[0]], look="quote_said",
               head_look="column_head_left"),
    )  # fmt: skip


def printed(made: Made) -> int:
    """How many rows are printed: whole pages for the lines that are known when the workbook is made."""
    return min(made.quote_rows, max(-(-made.quoted // A_PAGE), 1) * A_PAGE)


def sheet(made: Made) -> Sheet:
    """The rows under their head; the last column is beyond the page."""
    rows = Table("quote", _columns(), made.quote_rows, height=-ROW, head_height=2.5 * NOTE)
    head = _head(made)
    widths = (*(one[4] for one in (*INPUTS, *RESULTS)), *(BODY for _ in WORKING), SENTENCE[4])
    return Sheet(
        SHEET,
        (stack(head, table(rows)),),
        (
            Figure("quote_fault", "what the sheet Estimate still lacks", FAULT),
            *(
                Figure(
                    f"quote_{name}_sought",
                    f"{name} of the sheet Job, as lines of the quote are compared",
                    _plain(the[f"{name}_text"]),
                )
                for name in OF_JOB
            ),
            Figure(
                "quote_order_used",
                "least that a whole order is charged, to .01; 0: none",
                when(believed(MINIMUM_ORDER.check, the.quote_minimum_order), charged(the.quote_minimum_order), 0),
            ),
            Figure("quote_rows", "rows of the quote", node(made.quote_rows)),
            Figure("quote_printed", "rows of the quote that are printed", node(printed(made))),
        ),
        widths=widths,
        landscape=True,
        printed_rows=len(head.lines) + 1 + printed(made),
        printed_columns=PRINTED,
        frozen="quote",
        user="office",
    )
