"""The sheet Costing: what the job really took; the revision before stands in `sheets.revision`."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    empty,
    first,
    fixed,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.costing_lines import (
    FIRST_QUANTITY,
    PAGE,
    WIDTHS,
    elsewhere,
    laid,
    more_than,
    planned,
    signed,
    titled,
)
from workbook_template.sheets.estimate_inputs import passed_on, wrong
from workbook_template.sheets.inputs import LONGEST_TIME, MOST_PIECES, NOT_NEGATIVE, Input, believed, whole
from workbook_template.sheets.layout import (
    CALLOUT,
    NOTE,
    Block,
    Column,
    Line,
    Made,
    Piece,
    Sheet,
    Table,
    block,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.sheets.revision import faults, steps, used, what_changed
from workbook_template.trade.days import FIRST_DAY

SHEET = "Costing"
ACTUAL = (
    ("setup_minutes", "Set up, minutes"),
    ("turn_minutes", "Turn, minutes"),
    ("thread_minutes", "Thread, minutes"),
    ("handle_minutes", "Handle, minutes"),
    ("gauge_minutes", "Gauge, minutes"),
    ("rest_minutes", "Rest and delay, minutes"),
)
"""Lines that are timed at the machine, as `prices` names them."""


MOST_MADE = 2 * MOST_PIECES
"""Twice what can be ordered."""

MADE = Input("actual_made", "Pieces made", "pieces made", "count", whole(1, MOST_MADE),
             "Pieces that were made of the first quantity, those to scrap too.", True)  # fmt: skip
GOOD = Input("actual_good", "Pieces good", "good pieces of them", "count", whole(0, MOST_MADE),
             "How many of them were good.", True)  # fmt: skip
COUNTED = ((MADE, the.actual_made), (GOOD, the.actual_good))
BELIEVED = all_of(*(believed(one.check, cell) for one, cell in COUNTED))
BOTH = when(BELIEVED, the.actual_good <= the.actual_made, False)

LINES = [(label, the[f"actual_{name}"], name) for name, label in ACTUAL]


def _together(figures: list[Node]) -> Node:
    """The sum of figures once all are numbers."""
    return when(xl.COUNT(*figures).same(len(figures)), xl.SUM(*figures))


FAR = 20
"""So many times the plan, or its part, are no minutes of the job where the number is that of an hour or a day too."""


def _of_a_clock(name: str) -> Node:
    """Whether minutes became the share of a day that 0:30 is, or the day that 1/2 is."""
    was, plan = the[f"actual_{name}"], planned(name)
    an_hour = all_of(was > 0, was < LONGEST_TIME, plan > FAR * was)
    a_day = all_of(was > FIRST_DAY, was > FAR * plan)
    return when(xl.COUNT(was, plan).same(2), any_of(an_hour, a_day), False)


def _step() -> Node:
    """What the sheet waits for, or what the job took."""
    more = the.actual_minutes_more
    by_plan = say(
        "It took ", fixed(xl.ABS(more), 1), when(more > 0, " minutes more", " minutes less"), " than planned, ",
        fixed(xl.ABS(more) * the.estimate_rate / 60, 2), " at the rate an hour, overhead not counted.",
    )  # fmt: skip
    nothing = xl.COUNTA(*(cell for _, cell, _ in LINES), the.actual_made, the.actual_good).same(0)
    pieces = when(known(the.actual_scrap), say(
        " Scrap ", fixed(the.actual_scrap * 100, 1), " %, ", fixed(the.estimate_scrap * 100, 1), " % planned",
        when(the.actual_good < FIRST_QUANTITY, say("; ", FIRST_QUANTITY - the.actual_good, " short")), ".",
    ))  # fmt: skip
    return first(
        (the.estimate_fault_1.differs(""), passed_on("Sheet Estimate", the.estimate_fault_1)),
        (no(known(planned("minutes"))), "Type quantity 1 on the sheet Estimate: the minutes planned here are for it."),
        (nothing, "Next: once the job is done, type the minutes that it took."),
        (the.actual_wrong.differs(""), the.actual_wrong),
        (xl.COUNT(*(cell for _, cell in COUNTED)).same(1), "Next: type both, pieces made and pieces good; or neither."),
        (when(BELIEVED, the.actual_good > the.actual_made, False),
         say("Pieces good: ", the.actual_good, " of ", the.actual_made, " made can't be; correct one.")),
        *((empty(cell), f"Next: type {label[:1].lower()}{label[1:]}, as it was; 0 for none.")
          for label, cell, _ in LINES),
        (the.actual_of_a_clock.differs(""), the.actual_of_a_clock),
        otherwise=say(when(xl.ABS(more) < 0.05, "It took the minutes that were planned.", by_plan), pieces),
    )  # fmt: skip


def _working() -> tuple[Figure, ...]:
    """What is typed and can't be, in sentences of their own: a formula has its bounds."""
    wrong_ones = (
        *(wrong(f"{label}, as it was", NOT_NEGATIVE, cell) for label, cell, _ in LINES),
        *(wrong(one.label, one.check, cell) for one, cell in COUNTED),
    )
    of_a_clock = (
        (_of_a_clock(name), say(label, ", as it was: ", fixed(cell, 2), " against ", fixed(planned(name), 1),
                                " planned; type minutes as a number, 30 and not 0:30 or 1/2."))
        for label, cell, name in LINES
    )  # fmt: skip
    return (
        Figure("actual_wrong", "what is typed of the job as it was and can not be", first(*wrong_ones)),
        Figure(
            "actual_of_a_clock",
            "which minutes of it were typed as a time or a fraction",
            when(the.actual_wrong.same(""), first(*of_a_clock)),
        ),
    )


def _head() -> Block:
    callout = Figure("callout_costing", "the thread, as on the sheet Job", the.callout)
    told = Figure("costing_words", "part, unit and money in words", the.estimate_words)
    step = Figure("costing_step", "what the sheet waits for, or what the job took", _step())
    return block(
        None,
        line(shown(PAGE, callout, "thread"), height=CALLOUT),
        line(shown(PAGE, told, "note_9"), height=NOTE),
        line(shown(PAGE, step, "step"), height=40.5),
    )


def _pieces() -> list[tuple[Piece, Piece]]:
    """Beside the minutes: how many pieces were good, and what a good one took."""
    planned_each = planned("minutes") / FIRST_QUANTITY
    each, more = the.actual_minutes_each, the.actual_each_more
    share = when(BOTH, 1 - the.actual_good / the.actual_made)
    took = when(
        all_of(BOTH, known(the.actual_minutes)), when(the.actual_good > 0, the.actual_minutes / the.actual_good)
    )
    figures = (
        Figure("actual_scrap", "share of the pieces made that was scrap", share, "0.0%"),
        Figure("planned_minutes_each", "planned minutes a good piece",
               when(xl.COUNT(planned("minutes"), FIRST_QUANTITY).same(2), planned_each), "0.00"),
        Figure("actual_minutes_each", "minutes a good piece as it was", took, "0.00"),
        Figure("actual_each_more", "minutes a good piece, more than planned",
               more_than(the.planned_minutes_each, each), signed("0.00")),
        Figure("actual_each_money", "what that is in money a good piece, at the rate",
               when(known(more), more * the.estimate_rate / 60), signed("0.00")),
    )  # fmt: skip
    labels = ("Scrap", "Min. each, planned", "Min. each, as it was", "  difference", "  at the rate")
    return [
        *((words(2, one.label, "row_note"), entry(1, one, look="list_note_number")) for one, _ in COUNTED),
        *((words(2, label, "row_note"), shown(1, one, "row_note_number")) for label, one in zip(labels, figures)),
    ]  # fmt: skip


def _actual() -> Block:
    """Planned minutes of the first quantity against what it took; the last line is all of them."""

    def of_line(number: int) -> Node:
        return planned(ACTUAL[number - 1][0]) if number <= len(ACTUAL) else _together([planned(n) for n, _ in ACTUAL])

    def money(number: int) -> Node:
        more = the[f"actual_{([name for name, _ in ACTUAL] + ['minutes'])[number - 1]}_more"]
        return when(known(more), more * the.estimate_rate / 60)

    def one(name: str, label: str) -> Line:
        was = the[f"actual_{name}"]
        typed = Input(f"actual_{name}", label, f"{label.lower()} as it was", "0.0#", NOT_NEGATIVE,
                      "Minutes that it really took, for all pieces made.")  # fmt: skip
        more = Figure(f"actual_{name}_more", f"{label.lower()}, more than planned",
                      when(believed(NOT_NEGATIVE, was), more_than(planned(name), was)),
                      signed("0.0"))  # fmt: skip
        return line(words(1, label, "row_note"), gap(1), entry(1, typed, look="list_note_number"),
                    shown(1, more, "row_note_number"), height=NOTE)  # fmt: skip

    took = Figure("actual_minutes", "minutes as they were, once every line is typed",
                  when(known(the.actual_minutes_more), _together([the[f"actual_{name}"] for name, _ in ACTUAL])),
                  "0.0")  # fmt: skip
    more = Figure("actual_minutes_more", "minutes more than planned, once every line is typed",
                  _together([the[f"actual_{name}_more"] for name, _ in ACTUAL]), signed("0.0"))  # fmt: skip
    total = line(words(1, "Minutes together", "row_note"), gap(1), shown(1, took, "row_note_number_bold"),
                 shown(1, more, "row_note_number_bold"), height=NOTE)  # fmt: skip
    overlaid = Table("actual", (
        *elsewhere("label"),
        Column("planned", "", "planned minutes, line by line and together", formula=of_line, dimension="0.0",
               look="row_note_number"),
        *elsewhere("was", "more"),
        Column("money_more", "", "what the difference is in money, at the rate", formula=money,
               dimension=signed("0.00"), look="row_note_number"),
    ), len(ACTUAL) + 1)  # fmt: skip
    return stack(
        titled("Planned and as it was: first quantity, lathe 1", "planned", "as it was", "difference", "at the rate"),
        laid(
            [
                one._replace(pieces=(*one.pieces, gap(1), *beside))
                for one, beside in zip([*(one(*each) for each in ACTUAL), total], _pieces())
            ],
            (0, overlaid),
        ),
    )


def sheet(_: Made) -> Sheet:
    """One page: what was planned and what it took, and what changed since the revision before."""
    return Sheet(
        SHEET, (stack(_head(), _actual(), what_changed()),), (*_working(), *faults()), (used(), steps()), WIDTHS,
        user="office",
    )  # fmt: skip
