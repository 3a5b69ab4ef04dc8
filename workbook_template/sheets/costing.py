"""The sheet Costing: what the job really took, the other lathe; the revision before stands in `sheets.revision`."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    Numbered,
    first,
    fixed,
    given,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.costing_lines import PAGE, QUANTITY, WIDTHS, elsewhere, laid, more_than, signed, titled
from workbook_template.sheets.estimate import LABELS
from workbook_template.sheets.estimate_figures import at_quantity, terms
from workbook_template.sheets.inputs import NOT_NEGATIVE, Input, believed
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
from workbook_template.sheets.revision import steps, used, what_changed
from workbook_template.trade.prices import lines

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


def planned(line: str) -> Node:
    """A line of the price on lathe 1."""
    return xl.INDEX(the[f"estimate_{line}"], 1, 1)


DIFFERING = 4
"""So many of what is compared have a difference."""


def _compared(number: int) -> tuple[tuple[str, Node, str], ...]:
    """What is compared of a lathe: label, formula, number format; at the end what the sheet Lathe says."""
    my = Numbered(number)
    may_open = my.lathe_half_nuts
    half_nuts = first((may_open.same(True), "may open"), (may_open.same(False), "stay shut"))
    minutes, price, each = (
        planned(line) if number == 1 else the[f"other_{line}"] for line in ("minutes", "price", "unit_price")
    )
    return (
        ("Thread, minutes a piece", my.estimate_thread_minutes, "0.00"),
        ("Minutes of the job", minutes, "0.0"),
        ("Price", price, "0.00"),
        ("Price each", each, "0.00"),
        ("Spindle, rpm", my.estimate_rpm_used, "0"),
        ("Back under power", my.estimate_power_used, "General"),
        ("Half-nuts, by its dial", half_nuts, "General"),
        ("Lead error, millionths", my.lathe_lead_error_ppm, '+0;-0;"0"'),
    )


def _together(figures: list[Node]) -> Node:
    """The sum of figures once all are numbers."""
    return when(xl.COUNT(*figures).same(len(figures)), xl.SUM(*figures))


def _step() -> Node:
    """What the sheet waits for, or what the job took."""
    typed = xl.COUNT(*(the[f"actual_{name}"] for name, _ in ACTUAL))
    more = the.actual_minutes_more
    by_plan = say(
        "It took ", fixed(xl.ABS(more), 1), when(more > 0, " minutes more", " minutes less"), " than planned, ",
        fixed(xl.ABS(more) * the.estimate_rate / 60, 2), " in money.",
    )  # fmt: skip
    return first(
        (the.estimate_fault_1.differs(""), say("Sheet Estimate: ", the.estimate_fault_1)),
        (typed.same(0), "Next: once the job is done, type the minutes that it took."),
        (known(more), by_plan),
        otherwise="Next: type every line of minutes as it was, a number; 0 for none, a billion at most.",
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
        return line(words(1, label, "row_words"), gap(1), entry(1, typed, look="cell_number"),
                    shown(1, more, "row_number"))  # fmt: skip

    took = Figure("actual_minutes", "minutes as they were, once every line is typed",
                  when(known(the.actual_minutes_more), _together([the[f"actual_{name}"] for name, _ in ACTUAL])),
                  "0.0")  # fmt: skip
    more = Figure("actual_minutes_more", "minutes more than planned, once every line is typed",
                  _together([the[f"actual_{name}_more"] for name, _ in ACTUAL]), signed("0.0"))  # fmt: skip
    total = line(words(1, "Minutes together", "row_words"), gap(1), shown(1, took, "row_number_bold"),
                 shown(1, more, "row_number_bold"))  # fmt: skip
    overlaid = Table("actual", (
        *elsewhere("label"),
        Column("planned", "", "planned minutes, line by line and together", formula=of_line, dimension="0.0",
               look="row_number"),
        *elsewhere("was", "more"),
        Column("money_more", "", "what the difference is in money, at the rate", formula=money,
               dimension=signed("0.00"), look="row_number"),
    ), len(ACTUAL) + 1)  # fmt: skip
    return stack(
        titled("Planned and as it was: first quantity, lathe 1", "planned", "as it was", "difference", "in money"),
        laid([*(one(*each) for each in ACTUAL), total], (0, overlaid)),
    )


def _lathe_name(number: int) -> Node:
    """As typed on the sheet Estimate, else as on the sheet Lathe."""
    my = Numbered(number)
    names = (my.estimate_lathe, my.lathe_name)
    return first(*((given(name), name) for name in names), otherwise=f"lathe {number}")


def _doubts(number: int) -> Node:
    """What the sheet Lathe has against the price of a lathe, in words."""
    my = Numbered(number)
    return first(
        (my.lathe_fault.differs(""), f" The sheet Lathe does not describe lathe {number}."),
        (known(my.lathe_lead_error_ppm), ""),
        otherwise=f" No gears for this lead are given for lathe {number}.",
    )


def _which_is_cheaper() -> Node:
    one, other = planned("price"), the.other_price
    apart = xl.ABS(other - one)
    cheaper = say(when(other < one, "Lathe 2", "Lathe 1"), " is cheaper by ", fixed(apart, 2), " on the job.")
    return first(
        (no(known(one)), ""),
        (the.estimate_fault_2.differs(""), say("Lathe 2: ", the.estimate_fault_2)),
        *((the[f"another_lead_{n}"], f"Lathe {n} cuts another lead: no comparison.") for n in (1, 2)),
        otherwise=say(when(apart < 0.005, "Both come to the same price.", cheaper), _doubts(1), _doubts(2)),
    )


def _lathes() -> Block:
    """One job on two lathes."""
    cheaper = Figure("lathes_words", "which lathe is cheaper, or what is missing", _which_is_cheaper())
    names = (words(1, _lathe_name(n), "row_note") for n in (1, 2))
    said = shown(PAGE - DIFFERING, cheaper, "words_in", lines=DIFFERING + 1)
    written = [line(words(1, "Lathe", "row_words"), *names, gap(1), said, height=CALLOUT)]
    for place, ((label, one, form), (_, other, _)) in enumerate(zip(_compared(1), _compared(2))):
        differs = (Piece(1, more_than(one, other), "row_number_bold", dimension=signed(form)),) * (place < DIFFERING)
        pieces = (Piece(1, each, "row_number", dimension=form) for each in (one, other))
        written.append(line(words(1, label, "row_words"), *pieces, *differs))
    compared = ("lathes_compared", "name, minutes, prices, speed, half-nuts and lead error of the two lathes", "one",
                "two", "result")  # fmt: skip
    difference = ("lathes_difference", "lathe 2 less lathe 1", "difference", "difference", "result")
    columns = elsewhere("label", "one", "two", "difference")
    return stack(
        titled("The two lathes: first quantity", "lathe 1", "lathe 2", "difference"),
        laid(
            written,
            (0, Table("lathes", columns, len(written), spans=(compared,))),
            (1, Table("lathes", columns, DIFFERING, spans=(difference,))),
        ),
    )


def _other() -> tuple[Figure, ...]:
    """The lines of the price on lathe 2."""
    priced = lines(terms(QUANTITY, 2), {name: the[f"other_{name}"] for name in LABELS})
    return tuple(
        Figure(f"other_{name}", f"{label.strip().lower()}, lathe 2, first quantity",
               at_quantity(QUANTITY, 2, priced[name]), form)
        for name, (label, form) in LABELS.items()
    )  # fmt: skip


def sheet(_: Made) -> Sheet:
    """A page of what was planned and the other lathe, and a page of the revision before."""
    return Sheet(
        SHEET,
        (stack(_head(), _actual(), _lathes()), what_changed()),
        _other(),
        (used(), steps()),
        WIDTHS,
        landscape=True,
        user="office",
    )
