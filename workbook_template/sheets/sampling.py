"""Sampling by attributes: lot and quality limit to sample size and acceptance number, and the switching rules.

The tables of ISO 2859-1 and MIL-STD-105E stand to the right of the page, filled from `sheetfuncs.sampling` when the
workbook is made; each plan there is the one that the arrows of the published table lead to.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import sampling
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    blank,
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
from workbook_template.figures.tree import Cell, Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book, Check

LOTS = 20
PERCENT = 10
"""Above this the tables speak of nonconformities per 100 parts, no longer of per cent nonconforming."""
RULES = (
    "ISO 2859-1:1999, 9.3 and 9.4 (MIL-STD-105E, 4.7): from normal to tightened when 2 of 5 or fewer lots in a row are "
    "rejected; back when 5 in a row are accepted; stop when 5 lots have been rejected under tightened. Lots presented "
    "again do not count. After a stop: find and mend the cause, then begin a new list, tightened."
)
STATES = ("normal", "tightened")
TABLE_AT = 17
"""Column of the tables, Q."""

INPUTS = (
    ("sample_lot", "Lot size", "parts in the lot", "count", blocks.whole(2, 10_000_000),
     "How many parts are in the lot, 2 or more. Empty: the quantity on the sheet Job.", None),
    ("sample_aql", "Quality limit AQL", "acceptance quality limit, percent nonconforming", "0.0##",
     Check("list", "sample_aql_list", refusal="Choose an AQL from the list; the published tables have no others."),
     "Acceptance quality limit in percent nonconforming, as agreed with the customer. Choose from the list.", None),
    ("sample_level", "Inspection level", "inspection level", "text",
     blocks.one_of(sampling.LEVELS, "Choose the inspection level from the list."),
     "II unless something else is agreed; S-1 to S-4 for small samples.", "II"),
    ("sample_severity", "Inspection", "normal or tightened", "text",
     blocks.one_of(("by the list", *STATES), "Choose by the list, normal or tightened."),
     "by the list: as the lots so far demand. Or choose normal or tightened.", "by the list"),
    ("sample_found", "Nonconforming found", "nonconforming parts in the sample", "count", blocks.whole(0, 10_000_000),
     "How many parts of the sample do not conform. Empty until the whole sample is inspected.", None),
)  # fmt: skip
"""Name, label, meaning, dimension, check, message, value."""

_AQL_PLACE = xl.MATCH(the.sample_aql, the.sample_aql_list, 0)


def _is_state(word: Node) -> Node:
    return any_of(*(word.same(state) for state in STATES))


def _lot_used() -> Node:
    typed, ordered = the.sample_lot, the.quantity
    return first(
        (blank(typed), when(known(ordered), when(ordered >= 2, ordered))),
        (known(typed), when(all_of(typed >= 2, typed.same(xl.INT(typed))), typed)),
    )


def _plan(what: str) -> Node:
    """Sample size or acceptance number of the table in use."""

    def of(severity: str) -> Node:
        place = xl.MATCH(the.sample_letter, the.sample_letter_list, 0), _AQL_PLACE
        return xl.INDEX(the[f"sample_{severity}_{what}"], *place)

    used = the.sample_used
    by_table = first((used.same("normal"), of("normal")), (used.same("tightened"), of("tight")))
    return when(all_of(given(the.sample_letter), known(the.sample_aql)), when(known(_AQL_PLACE), by_table))


def _code_letter() -> Node:
    lot = the.sample_lot_used
    level = xl.MATCH(the.sample_level, the.sample_level_list, 0)
    letter = xl.INDEX(the.sample_code_letters, xl.MATCH(lot, the.sample_lot_list, 1), level)
    return when(all_of(known(lot), known(level)), letter)


WORKING = (
    Figure("sample_lot_used", "lot size used", _lot_used()),
    Figure("sample_counted", "lots of the list that count", xl.COUNT(the.sample_rejected)),
    Figure("sample_plan_n", "sample size of the table", _plan("n")),
)
RESULTS = {
    "Inspection by the list": Figure(
        "sample_state", "what the switching rules demand now",
        first((the.sample_counted.same(0), when(_is_state(the.sample_start), the.sample_start)),
              otherwise=xl.INDEX(the.sample_states, the.sample_counted))),
    "Inspection used": Figure(
        "sample_used", "severity that the sample is drawn by",
        first((_is_state(the.sample_severity), the.sample_severity),
              (the.sample_severity.same("by the list"), the.sample_state))),
    "Code letter": Figure("sample_letter", "code letter of the sample size", _code_letter()),
    "Sample size n": Figure(
        "sample_n", "parts to inspect", when(known(the.sample_plan_n), xl.MIN(the.sample_plan_n, the.sample_lot_used))),
    "Accept up to Ac": Figure("sample_accept", "acceptance number", _plan("ac")),
    "Reject from Re": Figure(
        "sample_reject", "rejection number", when(known(the.sample_accept), the.sample_accept + 1)),
}  # fmt: skip
"""By the label on the page."""


def in_words() -> Node:
    """What to inspect and how the lot stands, or what is missing."""
    lot, found, accept, used = the.sample_lot_used, the.sample_found, the.sample_accept, the.sample_used
    to_draw = when(
        the.sample_plan_n >= lot,
        say("INSPECT ALL ", lot, " parts: the sample of ", the.sample_plan_n, " reaches the lot. "),
        say("Inspect ", the.sample_n, " of ", lot, " parts, drawn at random, ", used, " inspection. "),
    )
    rule = say("Accept the lot with up to ", accept, " nonconforming, reject it from ", the.sample_reject, ".")
    verdict = say(when(found <= accept, "ACCEPT the lot: ", "REJECT the lot: "), found, " found, ", accept, " allowed.")
    does_not_fit = any_of(found < 0, found > the.sample_n, found.differs(xl.INT(found)))
    stands = first(
        (blank(found), rule),
        (no(known(found)), "The number found is no number."),
        (does_not_fit, "The number found does not fit the sample."),
        otherwise=verdict,
    )
    return first(
        (no(known(lot)), "Next: the lot size, a whole number, 2 or more."),
        (no(known(_AQL_PLACE)), "Next: choose the AQL that was agreed."),
        (xl.LEN(the.sample_letter).same(0), "Next: choose the inspection level."),
        (xl.COUNTA(the.sample_results) > the.sample_counted,
         "Next: fill in the list of lots without a gap, accepted or rejected."),
        (used.same("discontinue"),
         ("STOP: five lots rejected under tightened inspection. No sampling until the cause is found and mended; "
          "inspect every part.")),
        (no(known(the.sample_n)), "Next: choose by the list, normal or tightened."),
        otherwise=say(to_draw, stands),
    )  # fmt: skip


def build(book: Book, ws: Worksheet, top: int) -> int:
    """Write the block with its heading in row `top`; the last row it takes."""
    _tables(book, ws, top)
    _lots(book, ws, top)
    blocks.heading(book, ws, f"F{top}:I{top}", "Sampling by attributes, single sampling")
    for row, (name, label, meaning, dimension, check, prompt, value) in enumerate(INPUTS, start=top + 1):
        blocks.write(book, ws, f"F{row}:G{row}", label, "label")
        blocks.entry(book, ws, f"H{row}", name, meaning, prompt=prompt, dimension=dimension, check=check, value=value)
    blocks.write(book, ws, f"I{top + 2}", "percent", "unit")
    below = top + 1 + len(INPUTS)
    for row, (label, one) in enumerate(RESULTS.items(), start=below):
        blocks.write(book, ws, f"F{row}:G{row}", label, "label")
        blocks.result(book, ws, f"H{row}:I{row}", one.name, one.meaning, one.formula)
    row = below + len(RESULTS)
    blocks.result(
        book, ws, f"F{row}:I{row + 3}", "sample_words", "what to inspect and how the lot stands, in words", in_words(),
        look="sentence",
    )  # fmt: skip
    blocks.write(book, ws, f"F{row + 4}:I{row + 8}", RULES, "side")
    blocks.working(book, ws, "K", "M", top + 26, WORKING)
    return top + LOTS + 2


def _lots(book: Book, ws: Worksheet, top: int) -> None:
    """The lots so far and what the switching rules make of them."""
    blocks.heading(book, ws, f"A{top}:D{top}", "Lots so far, oldest first")
    blocks.write(book, ws, f"A{top + 1}:B{top + 1}", "The list begins with inspection", "words")
    blocks.entry(
        book, ws, f"C{top + 1}", "sample_start", "inspection that the list begins with",
        prompt="normal for a new part; tightened after a stop, or when the last list ended so.",
        check=blocks.one_of(STATES, "Choose normal or tightened."), value="normal",
    )  # fmt: skip
    for letter, text in zip("ABCD", ("", "lot", "result", "then")):
        blocks.write(book, ws, f"{letter}{top + 2}", text, "head")
    top_lot = top + 3
    ws.row_dimensions[top + 1].height = ws.row_dimensions[top + 2].height = 19
    last = top_lot + LOTS - 1
    for row in range(top_lot, last + 1):
        blocks.write(book, ws, f"A{row}", row - top_lot + 1, "row", "0")
        for letter in "BC":
            blocks.write(book, ws, f"{letter}{row}", None, "input", "text")
        ws.row_dimensions[row].height = 19
    for place in range(LOTS):
        for name, formula in lot_figures(place).items():
            at = f"{get_column_letter(COLUMNS[name])}{top_lot + place}"
            look = "row" if name == "state" else "small"
            blocks.write(book, ws, at, in_table(formula, COLUMNS, COLUMNS[name], top_lot, last), look)
    blocks.name_input(
        book, ws, f"B{top_lot}:B{last}", "sample_lots", "lots, one cell each", dimension="text",
        prompt="Number of the lot, in the order inspected. Leave no row empty in between.",
    )  # fmt: skip
    blocks.name_input(
        book, ws, f"C{top_lot}:C{last}", "sample_results", "result of each lot", dimension="text",
        check=blocks.one_of(("accepted", "rejected"), "Choose accepted or rejected."),
        prompt="accepted or rejected, on the first inspection of the lot.",
    )  # fmt: skip
    blocks.define(book, ws, f"D{top_lot}:D{last}", "sample_states", "inspection after each lot")
    for letter, name, meaning in (
        ("K", "sample_rejected", "1 rejected, 0 accepted"),
        ("L", "sample_run", "lots under this inspection so far"),
        ("M", "sample_accepted_run", "accepted in a row under this inspection"),
        ("N", "sample_rejected_sum", "rejected under this inspection so far"),
    ):
        blocks.write(book, ws, f"{letter}{top_lot - 1}", name.replace("_", " "), "head")
        blocks.define(book, ws, f"{letter}{top_lot}:{letter}{last}", name, f"{meaning}, one cell a lot", role="working")


COLUMNS = {"result": 3, "state": 4, "rejected": 11, "run": 12, "accepted_run": 13, "rejected_sum": 14}
"""The columns of the list by number."""


def lot_figures(place: int) -> dict[str, Node]:
    """State after the lot, rejected, lots under this inspection, accepted in a row, rejected under it.

    `place` counts from 0. The first lot has none before it, the second and the next few not all of the last five.
    """
    is_first, counts = place == 0, known(here.rejected)
    before = the.sample_start if is_first else above.state
    told = first((here.result.same("rejected"), 1), (here.result.same("accepted"), 0))

    def up(lots: int, name: str, own: str) -> Node:
        """A column so many lots before, seen from another."""
        return Cell(-lots, COLUMNS[name] - COLUMNS[own])

    def kept(own: str) -> Node:
        """What a count was after the lot before, where that lot was still inspected as the one before it."""
        if is_first:
            return node(0)
        earlier = the.sample_start if place == 1 else up(2, "state", own)
        return when(above.state.same(earlier), above[own], 0)

    last_five = (when(here.run > lots, up(lots, "rejected", "state"), 0) for lots in range(1, min(4, place) + 1))
    two_of_five = joined("+", here.rejected, *last_five) >= 2
    stop, relax = here.rejected_sum >= 5, here.accepted_run >= 5
    state = first(
        (no(counts), when(given(here.result), "fill in order")),
        (before.same("normal"), when(two_of_five, "tightened", "normal")),
        (before.same("tightened"), first((stop, "discontinue"), (relax, "normal"), otherwise="tightened")),
        otherwise=before & "",
    )
    return {
        "state": state,
        "rejected": told if is_first else when(known(above.rejected), told),
        "run": when(counts, kept("run") + 1),
        "accepted_run": when(counts, when(here.rejected.same(1), 0, kept("accepted_run") + 1)),
        "rejected_sum": when(counts, kept("rejected_sum") + here.rejected),
    }


def _tables(book: Book, ws: Worksheet, top: int) -> None:
    """Code letters and plans, right of the page."""
    row = top
    blocks.write(book, ws, f"{get_column_letter(TABLE_AT)}{row}", "Tables (not printed): " + sampling.SOURCE, "small")
    levels, lots = sampling.LEVELS, sampling.LOT_SIZES
    row = _table(book, ws, row + 1, "sample_lot_list", lots, "sample_level_list", levels, "sample_code_letters",
                 "code letters", lambda lot, level: sampling.code_letter(lot, level))  # fmt: skip
    letters, aqls = sampling.LETTERS, [aql for aql in sampling.AQLS if aql <= PERCENT]
    for number, (severity, what) in enumerate((s, w) for s in ("normal", "tight") for w in ("n", "ac")):

        def cell(letter: str, aql: float, severity: str = severity, what: str = what) -> int:
            plan = sampling.plan(letter, aql, "normal" if severity == "normal" else "tightened")
            return plan[0] if what == "n" else plan[1]

        names = ("sample_letter_list", "sample_aql_list") if number == 0 else ("", "")
        meaning = f"{severity} inspection, {'sample size' if what == 'n' else 'acceptance number'}"
        row = _table(book, ws, row, names[0], letters, names[1], aqls, f"sample_{severity}_{what}", meaning, cell)


def _table(
    book: Book, ws: Worksheet, row: int, side_name: str, side: Iterable[Any], head_name: str, head: Iterable[Any],
    name: str, meaning: str, cell: Any,
) -> int:  # fmt: skip
    """One table with its named head, side and body; the next free row."""
    side, head = list(side), list(head)
    first = get_column_letter(TABLE_AT)
    left, right = get_column_letter(TABLE_AT + 1), get_column_letter(TABLE_AT + len(head))
    top, bottom = row + 1, row + len(side)
    blocks.write(book, ws, f"{first}{row}", meaning, "table")
    for offset, title in enumerate(head, start=TABLE_AT + 1):
        blocks.write(book, ws, f"{get_column_letter(offset)}{row}", title, "table_number")
    for at, label in enumerate(side, start=top):
        blocks.write(book, ws, f"{first}{at}", label, "table")
        for offset, title in enumerate(head, start=TABLE_AT + 1):
            blocks.write(book, ws, f"{get_column_letter(offset)}{at}", cell(label, title), "table_number")
    if side_name:
        blocks.define(book, ws, f"{first}{top}:{first}{bottom}", side_name, f"{meaning}: rows", role="list")
        blocks.define(book, ws, f"{left}{row}:{right}{row}", head_name, f"{meaning}: columns", role="list")
    blocks.define(book, ws, f"{left}{top}:{right}{bottom}", name, meaning, role="list")
    return bottom + 2
