"""One job on the two lathes, first quantity: a block of the sheet Bars, and the price on lathe 2 behind it."""

from __future__ import annotations

from collections.abc import Sequence

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import Numbered, first, fixed, given, known, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets.costing_lines import FIRST_QUANTITY, elsewhere, more_than, planned, signed
from workbook_template.sheets.estimate import LABELS
from workbook_template.sheets.estimate_figures import at_quantity, terms
from workbook_template.sheets.estimate_inputs import passed_on
from workbook_template.sheets.inputs import in_text
from workbook_template.sheets.layout import CALLOUT, NOTE, Block, Piece, Table, block, gap, line, shown, words
from workbook_template.trade.prices import lines

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
        ("Spindle, rpm", my.estimate_rpm_used, "General"),
        ("Back under power", my.estimate_power_used, "General"),
        ("Half-nuts, by its dial", half_nuts, "General"),
        ("Lead error, millionths", my.lathe_lead_error_ppm, '+0;-0;"0"'),
    )


def _lathe_name(number: int) -> Node:
    """As typed on the sheet Estimate, else as on the sheet Lathe."""
    my = Numbered(number)
    names = (in_text(my.estimate_lathe), in_text(my.lathe_name))
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
    less = the.other_cost - planned("cost")
    same = say("Both come to the same price", when(xl.ABS(less) < 0.005, ".", say(
        "; at it lathe ", when(less < 0, 2, 1), " costs the shop ", fixed(xl.ABS(less), 2), " less.",
    )))  # fmt: skip
    return first(
        (the.estimate_fault_1.differs(""), passed_on("Sheet Estimate", the.estimate_fault_1)),
        (no(known(one)), ""),
        (the.estimate_fault_2.differs(""), passed_on("Sheet Estimate, lathe 2", the.estimate_fault_2)),
        *((the[f"another_lead_{n}"], f"Lathe {n} cuts another lead: no comparison.") for n in (1, 2)),
        otherwise=say(when(apart < 0.005, same, cheaper), _doubts(1), _doubts(2)),
    )


def compared(widths: Sequence[float]) -> Block:
    """One job on two lathes, on a page of so many columns: three of them for a label."""
    page, label = len(widths), 3
    cheaper = Figure("lathes_words", "which lathe is cheaper, or what is missing", _which_is_cheaper())
    heads = (words(1, head, "column_head_right") for head in ("lathe 1", "lathe 2", "difference"))
    names = (words(1, _lathe_name(n), "row_note") for n in (1, 2))
    above = (
        line(shown(page, cheaper, "body"), height=31.5),
        line(gap(label), *heads, height=NOTE),
        line(words(label, "Lathe", "row_words"), *names, height=CALLOUT),
    )
    written = []
    for place, ((label_words, one, form), (_, other, _)) in enumerate(zip(_compared(1), _compared(2))):
        differs = (Piece(1, more_than(one, other), "row_number_bold", dimension=signed(form)),) * (place < DIFFERING)
        pieces = (Piece(1, each, "row_number", dimension=form) for each in (one, other))
        written.append(line(words(label, label_words, "row_words"), *pieces, *differs))
    spans = (
        ("lathes_compared", "name, minutes, prices, speed, half-nuts and lead error of the two lathes", "one", "two",
         "result"),
        ("lathes_difference", "lathe 2 less lathe 1", "difference", "difference", "result"),
    )  # fmt: skip
    first_column, *others = elsewhere("label", "one", "two", "difference")
    columns = (first_column._replace(columns=label), *others)
    titled = block("The two lathes: first quantity", *above, *written, columns=page)
    row = len(titled.lines) - len(written)
    return titled._replace(
        tables=(
            (row - 1, 0, Table("lathes", columns, len(written) + 1, spans=spans[:1])),
            (row, 0, Table("lathes", columns, DIFFERING, spans=spans[1:])),
        )
    )


def working() -> tuple[Figure, ...]:
    """The lines of the price on lathe 2."""
    priced = lines(terms(FIRST_QUANTITY, 2), {name: the[f"other_{name}"] for name in LABELS})
    return tuple(
        Figure(f"other_{name}", f"{label.strip().lower()}, lathe 2, first quantity",
               at_quantity(FIRST_QUANTITY, 2, priced[name]), form)
        for name, (label, form) in LABELS.items()
    )  # fmt: skip
