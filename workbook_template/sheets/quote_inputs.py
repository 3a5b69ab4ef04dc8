"""What the sheet Quote asks for: its inputs, what stands against a price in a row, and in all of them."""

from __future__ import annotations

from workbook_template.figures.notation import (
    NO_NUMBER,
    all_of,
    any_of,
    empty,
    first,
    given,
    here,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Area, Cell, Node
from workbook_template.sheets import size_typed, threads_table
from workbook_template.sheets.estimate_inputs import (
    BY_JOB,
    BY_LATHE,
    MONEY,
    MOST_PASSES,
    QUANTITY,
    RETYPE,
    Objection,
    lacks,
    passed_on,
    wrong,
)
from workbook_template.sheets.inputs import (
    LENGTH,
    MINUTES,
    NOT_NEGATIVE,
    SPEED,
    Input,
    in_words,
    left_empty,
    none_of,
    retype,
    whole,
)
from workbook_template.sheets.thread_listing import BAR
from workbook_template.trade.prices import MARGIN_WORDS, margin_of_all

MOST_SIZES = 5000

INPUTS = (
    ("part", "Part", "part or drawing number", "text", 15, "Part or drawing number; begin the row with it."),
    ("size", "Thread size", "thread size, listed or as it may be typed on the sheet Job", "text", 9,
     "As on Job: 3/4-16 UNF, M20x2.5; also 10-32, 1/2 UNC, M20, 1 NPT. The row says what is taken. One start."),
    ("class", "Class", "thread class", "text", 6.5, "Class as on the drawing. Empty: to be agreed, and said so."),
    ("quantity", "Pieces", "good pieces", "count", 5.5, "How many good pieces."),
    ("length", "Thread length", "length of thread", "entry", 6.4, "Length of full thread, in the working unit."),
    ("passes", "Passes", "passes, spring passes too", "count", 6, "All passes at the dials, spring passes too."),
    ("rpm", "rpm", "spindle speed while threading", "General", 4.5, "Turns a minute in threading."),
    ("power_return", "Back under power?", "whether the half-nuts stay shut", "text", 5.8,
     "yes where the dial rule forbids opening the half-nuts for this thread, or no. Empty: as typed on Estimate."),
    ("other", "Other min. each", "minutes a piece beside threading", "0.0#", 5.5,
     "Minutes a piece beside threading: turn, handle, gauge. 0 for none."),
    ("setup_minutes", "Set-up min.", "minutes to set up", "0.0#", 5.5,
     "Minutes to set up this line; 0 where the line before does."),
    ("material", "Material each", "material a piece made", "0.00", 6.5,
     "Material a piece made, in money; 0 where supplied."),
    ("extra", "Other, the line", "other money for the line", "0.00", 6,
     "Tools, gauges, outside work; 0 for none."),
)  # fmt: skip
"""Name, heading, meaning, dimension, width, message."""

CHECKS = {
    "quantity": QUANTITY.check,
    "length": LENGTH,
    "passes": whole(1, MOST_PASSES),
    "rpm": SPEED,
    "other": MINUTES,
    "setup_minutes": MINUTES,
    "material": NOT_NEGATIVE,
    "extra": NOT_NEGATIVE,
}
"""What a number of a row may be."""

KIND, PROFIT = the.estimate_profit_kind, the.estimate_profit
RATES = ("rate", "scrap", "overhead", "profit", "rest")
RUN = ("approach", "overrun", "return_seconds")
FROM_ESTIMATE = (
    *((item, the[f"estimate_{item.name}"], "") for item in (*MONEY, *BY_JOB) if item.name in RATES),
    *((item, the[f"estimate_{item.name}_1"], ", lathe 1") for item in BY_LATHE if item.name in RUN),
)
LEAST = next(item for item in MONEY if item.name == "minimum_charge")
MINIMUM_ORDER = Input(
    "quote_minimum_order", "Minimum order", "least that a whole order is charged", "0.00", NOT_NEGATIVE,
    "The least that your shop charges for a whole order. What lacks is a line of its own here and on Offer, in no "
    "price. Empty: none.", True,
)  # fmt: skip
NO_ORDER = wrong(MINIMUM_ORDER.label, MINIMUM_ORDER.check, the.quote_minimum_order)
"""What stands against the minimum order that is typed."""
FAULT = first(
    *(one for item, cell, of in FROM_ESTIMATE for one in lacks(item, cell, of)),
    wrong(f"Sheet Estimate: {LEAST.label}", LEAST.check, the.estimate_minimum_charge),
    NO_ORDER,
    (retype(the.estimate_unit), RETYPE),
    (
        none_of(the.quote_unit, "in", "mm"),
        "Choose the unit that the lengths are typed in.",
    ),
    (
        retype(the.quote_unit),
        say(
            "The thread lengths were typed in ",
            in_words(the.quote_unit),
            ", and the working unit is now ",
            the.unit_text,
            ": type them anew, then choose ",
            the.unit_text,
            " over them.",
        ),
    ),
    (none_of(KIND, "margin", "markup"), "Choose margin or markup on the sheet Estimate."),
    (margin_of_all(PROFIT), say("Sheet Estimate: ", MARGIN_WORDS)),
)
"""What the sheet Estimate still lacks for all rows."""


def listed(part: tuple[threads_table.Column, ...], name: str) -> Node:
    """A column of the lists on the sheet Threads."""
    column = threads_table.starts_at(part) + [one.name for one in part].index(name)
    top, bottom = threads_table.FIRST, threads_table.FIRST + MOST_SIZES - 1
    return Area(Cell(top, column, True, True, threads_table.SHEET), Cell(bottom, column, True, True))


NUMBERS = tuple((head, CHECKS[name], here[name]) for name, head, _, form, *_ in INPUTS if form != "text")
CELLS = tuple(cell for _, _, cell in NUMBERS)
BACK = when(here.power_return.same(""), the.estimate_power_return_1, here.power_return)
UNDER_POWER = BACK.same("yes")
SIZE_STEPS = ("signs", "dashed", "written", "dash", "short", "whole")
"""Steps of a typed size that have a cell in the row, `size_...`; its row in the list is `place`."""
SIZE = size_typed.of_row(here.size, {**{step: here[f"size_{step}"] for step in SIZE_STEPS}, "place": here.place})
LISTED = xl.INDEX(the.size_list, here.place)
"""The size as the list has it."""
TAKEN = size_typed.taken(SIZE, LISTED)
CLASS = here.class_used
"""The class of its column, or the one that is typed behind the size."""
CLASS_TYPED = xl.TRIM(here["class"])


BEHIND = size_typed.STEPS["class_typed"][1](SIZE)
"""The class that is typed behind the size, or an empty text."""


def class_used() -> Node:
    """Which class the row has, or a text that is empty."""
    return xl.IFERROR(when(CLASS_TYPED.same(""), BEHIND, CLASS_TYPED), "")


def size_cells() -> dict[str, Node]:
    """The steps that have a cell, by the names of their columns; the sign for no number where no size is typed."""
    steps = {f"size_{step}": size_typed.STEPS[step][1](SIZE) for step in SIZE_STEPS} | {
        "place": size_typed.STEPS["place"][1](SIZE)
    }
    return {name: xl.IFERROR(when(empty(here.size), NO_NUMBER, tree), NO_NUMBER) for name, tree in steps.items()}


NO_PLACE = no(known(here.place))
SIZE_UNKNOWN = first(
    (empty(here.size), "Type the thread size, as in 3/4-16 UNF or M20x2.5."),
    (given(xl.IFERROR(size_typed.may_be(SIZE), "")), say(xl.TRIM(here.size), " may be ", size_typed.may_be(SIZE),
                                                         ": type which.")),
    otherwise=size_typed.not_taken(SIZE),
)  # fmt: skip
"""What is said of a size that is not taken."""
NO_CLASS = when(  # FIND tells 6h from 6H
    all_of(known(here.place), CLASS.differs("")),
    no(known(xl.FIND(say(BAR, CLASS, BAR), here.its_classes))),
    False,
)
IS_JOB = known(here.of_job)
"""Whether the line is the part of the sheet Job: of its numbers that of the pieces alone is used, the others may be
empty."""
LEFT_EMPTY = tuple(
    (left_empty(cell), f"Fill in {head}" + ("; 0 for none." if float(check.formula1 or "") == 0 else "."))
    for head, check, cell in NUMBERS
)
OUT_OF_BOUNDS = tuple(wrong(*one) for one in NUMBERS)
NUMBER_FAULTS = {
    "number_lacking": first(*LEFT_EMPTY, otherwise=NO_NUMBER),
    "number_wrong": first(*OUT_OF_BOUNDS, otherwise=NO_NUMBER),
}
"""What stands against the numbers of a row, in columns of their own: a formula has its bounds."""
LACKING, OUT = (here[name].differs(NO_NUMBER) for name in NUMBER_FAULTS)
MISSING: tuple[Objection, ...] = (
    *(
        (xl.ISERROR(here[name]), f"{head.rstrip('?')} is an error value: retype it.")
        for name, head, _, form, *_ in INPUTS
        if form == "text"
    ),
    size_typed.with_hand(SIZE, "a line is right hand"),
    (NO_PLACE, here.size_unknown),
    (
        when(CLASS_TYPED.differs(""), when(given(BEHIND), no(xl.EXACT(BEHIND, CLASS_TYPED)), False), False),
        say("The size says ", BEHIND, ", the column Class says ", CLASS_TYPED, ": make them the same."),
    ),
    (
        NO_CLASS,
        say(
            "No class ",
            CLASS,
            " of ",
            when(xl.EXACT(here.size, LISTED), "this size", LISTED),
            "; it has",
            xl.SUBSTITUTE(xl.SUBSTITUTE(here.its_classes, BAR, " ", 1), BAR, ", "),
            "or is left to be agreed.",
        ),
    ),
    (when(IS_JOB, no(known(here.quantity)), False), first(LEFT_EMPTY[0], OUT_OF_BOUNDS[0])),
    (when(IS_JOB, False, xl.COUNT(*CELLS) < len(CELLS)), when(LACKING, here.number_lacking, here.number_wrong)),
)
"""What keeps the numbers of a row from being looked at."""

PART_OF_JOB = "The part of Job, Estimate says"
"""What stands before what the sheet Estimate says of it."""
OTHER_CLASS = all_of(CLASS.differs(""), CLASS.differs(the.row_class))
WRONG = (
    (
        no(any_of(UNDER_POWER, BACK.same("no"), all_of(IS_JOB, here.power_return.same("")))),
        "Back under power is yes or no.",
    ),
    (OUT, here.number_wrong),
    (
        when(IS_JOB, here.of_job.same(0), False),
        "This is the part of the sheet Job: type this quantity on the sheet Estimate, which prices it.",
    ),
    (
        when(IS_JOB, any_of(LISTED.differs(the.row_size), OTHER_CLASS), False),
        "This is the part of the sheet Job, with another size or class: correct one, or name the part otherwise.",
    ),
    (
        when(IS_JOB, the.estimate_fault_1.differs(""), False),
        passed_on(PART_OF_JOB, the.estimate_fault_1),
    ),
)
NO_RATES = the.quote_fault.differs("")
