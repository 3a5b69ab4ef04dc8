"""The sheet Sampling: by attributes. Lot and quality limit to sample size and acceptance number, and switching rules.

The tables of ISO 2859-1 and MIL-STD-105E stand on the hidden sheet of working figures, filled from
`sheetfuncs.sampling` when the workbook is made; each plan there is the one that the arrows of the published table
lead to.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

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
    joined,
    known,
    no,
    node,
    say,
    sentences,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Cell, Node
from workbook_template.sheets import record_head
from workbook_template.sheets.inputs import Check, Input, chosen, in_text, left_empty, one_of, whole
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Made,
    Mark,
    Matrix,
    Sheet,
    Table,
    beside,
    block,
    deep,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)

SHEET = "Sampling"
LOTS = 20
SMALL_LOT = 10
"""A lot of less than so many samples counts as small: practice."""
PERCENT = 10
"""Above this the tables speak of nonconformities per 100 parts, no longer of per cent nonconforming."""
RULES = (
    "ISO 2859-1:1999, 9.3 and 9.4 (MIL-STD-105E, 4.7): from normal to tightened when 2 of 5 or fewer lots in a row are "
    "rejected; back when 5 in a row are accepted; stop when 5 lots have been rejected under tightened. Lots presented "
    "again do not count. After a stop: find and mend the cause, then begin a new list, tightened."
)
STATES = ("normal", "tightened")
INPUTS = (
    (Input("sample_lot", "Lot size", "parts in the lot", "count", whole(2, 10_000_000),
           "How many parts are in the lot, 2 or more. Empty: the quantity on the sheet Job."), None),
    (Input("sample_aql", "AQL, per cent", "acceptance quality limit, percent nonconforming", "0.0##",
           Check("list", "sample_aql_list",
                 refusal="Choose an AQL from the list; the published tables have no others."),
           "Acceptance quality limit in percent nonconforming, as agreed with the customer. Choose from the list."),
     None),
    (Input("sample_level", "Inspection level", "inspection level", "text",
           one_of(sampling.LEVELS, "Choose the inspection level from the list."),
           "II unless something else is agreed; S-1 to S-4 for small samples."), "II"),
    (Input("sample_severity", "Inspection", "normal or tightened", "text",
           one_of(("by the list", *STATES), "Choose by the list, normal or tightened."),
           "by the list: as the lots so far demand. Or choose normal or tightened."), "by the list"),
    (Input("sample_found", "Nonconforming found", "nonconforming parts in the sample", "count", whole(0, 10_000_000),
           "How many parts of the sample do not conform. Empty until the whole sample is inspected."), None),
)  # fmt: skip
"""Each with its value at first."""

START = Input("sample_starts_with", "The list begins with", "inspection that the list begins with", "text",
              one_of(STATES, "Choose normal or tightened."),
              "normal for a new part; tightened after a stop, or when the last list ended so.")  # fmt: skip

_AQL_PLACE = xl.MATCH(the.sample_aql, the.sample_aql_list, 0)


def _is_state(word: Node) -> Node:
    return xl.IFERROR(any_of(*(word.same(state) for state in STATES)), False)


def _lot_used() -> Node:
    typed, ordered = the.sample_lot, the.ordered
    return first(
        (blank(typed), when(known(ordered), when(ordered >= 2, ordered))),
        (known(typed), when(all_of(typed >= 2, typed.same(xl.INT(typed))), typed)),
    )


def _plan(what: str) -> Node:
    """Sample size or acceptance number of the table in use."""

    def of(severity: str) -> Node:
        place = xl.MATCH(the.sample_code_letter, the.sample_code_letter_list, 0), _AQL_PLACE
        return xl.INDEX(the[f"sample_{severity}_{what}"], *place)

    used = the.sample_used
    by_table = first((used.same("normal"), of("normal")), (used.same("tightened"), of("tightened")))
    return when(all_of(given(the.sample_code_letter), known(the.sample_aql)), when(known(_AQL_PLACE), by_table))


def _code_letter() -> Node:
    lot = the.sample_lot_used
    level = xl.MATCH(the.sample_level, the.sample_level_list, 0)
    letter = xl.INDEX(the.sample_code_letters, xl.MATCH(lot, the.sample_lot_list, 1), level)
    return when(all_of(known(lot), known(level)), letter)


_STOPPED = the.sample_inspection_next.same("discontinue")
"""No choice ends it: sampling begins again after the supplier has improved (ISO 2859-1:1999, 9.4)."""

WORKING = (
    Figure("sample_lot_used", "lot size used", _lot_used()),
    Figure("sample_counted", "lots of the list that count", xl.COUNT(the.sample_rejected)),
    Figure("sample_plan_size", "sample size of the table", _plan("size")),
    Figure(
        "sample_plan_code_letter", "code letter of the plan, where the arrows of the table lead", _plan("code_letter")
    ),
)
RESULTS = {
    "Inspection by the list": Figure(
        "sample_inspection_next", "what the switching rules demand now",
        first((the.sample_counted.same(0), when(_is_state(the.sample_starts_with), the.sample_starts_with)),
              otherwise=xl.INDEX(the.sample_inspections_next, the.sample_counted))),
    "Inspection used": Figure(
        "sample_used", "severity that the sample is drawn by",
        first((_STOPPED, "discontinue"), (_is_state(the.sample_severity), the.sample_severity),
              (chosen(the.sample_severity, "by the list"), the.sample_inspection_next))),
    "Code letter": Figure("sample_code_letter", "code letter of the sample size", _code_letter()),
    "Sample size n": Figure(
        "sample_size", "parts to inspect",
        when(known(the.sample_plan_size), xl.MIN(the.sample_plan_size, the.sample_lot_used))),
    "Accept up to Ac": Figure("sample_accept_number", "acceptance number", _plan("accept_number")),
    "Reject from Re": Figure(
        "sample_reject_number", "rejection number",
        when(known(the.sample_accept_number), the.sample_accept_number + 1)),
}  # fmt: skip
"""By the label on the page."""


def in_words() -> Node:
    """What to inspect and how the lot stands, or what is missing."""
    lot, found, accept, used = the.sample_lot_used, the.sample_found, the.sample_accept_number, the.sample_used
    to_draw = when(
        the.sample_plan_size >= lot,
        say("INSPECT ALL ", lot, " parts: the sample of ", the.sample_plan_size, " reaches the lot. "),
        say("Inspect ", the.sample_size, " of ", lot, " parts, drawn at random, ", used, " inspection. "),
    )
    rule = say("Accept the lot with up to ", accept, " nonconforming, reject it from ", the.sample_reject_number, ".")
    verdict = say(when(found <= accept, "ACCEPT the lot: ", "REJECT the lot: "), found, " found, ", accept, " allowed.")
    does_not_fit = any_of(found < 0, found > the.sample_size, found.differs(xl.INT(found)))
    stands = first(
        (blank(found), rule),
        (no(known(found)), "The number found is no number."),
        (does_not_fit, "The number found does not fit the sample."),
        otherwise=verdict,
    )
    by_list, chosen = the.sample_inspection_next, in_text(the.sample_severity)
    apart = all_of(_is_state(chosen), _is_state(by_list), chosen.differs(by_list))
    departs = when(apart, say(" NOT BY THE LIST, which says ", by_list, "."))
    return first(
        (_STOPPED, say(
            "STOP: five lots rejected under tightened inspection. No sampling until the cause is found and mended; "
            "inspect every part.",
            when(_is_state(chosen), say(" Choosing ", chosen, " departs from the list and does not end it.")),
        )),
        (no(known(lot)), "Next: the lot size, a whole number, 2 or more."),
        (no(known(_AQL_PLACE)), "Next: choose the AQL that was agreed."),
        (xl.LEN(the.sample_code_letter).same(0), "Next: choose the inspection level."),
        (xl.COUNTA(the.sample_history) > the.sample_counted,
         "Next: fill in the list of lots without a gap, accepted or rejected."),
        (no(_is_state(the.sample_starts_with)), "Next: what the list begins with, normal or tightened."),
        (no(known(the.sample_size)), "Next: choose by the list, normal or tightened."),
        otherwise=say(to_draw, stands, departs),
    )  # fmt: skip


FULL = (
    "The list is full: begin a new one with what it says now, and its last five lots; under tightened inspection with "
    "every lot since that began."
)
"""The switching rules look back on no more (ISO 2859-1:1999, 9.3.1 and 9.4)."""


def to_mind() -> Node:
    """Whether an arrow was followed, and what a single or small lot does to the plan."""
    letter, at = the.sample_code_letter, the.sample_plan_code_letter
    arrow = say("The table has no plan for letter ", letter, " at this AQL; its arrow leads to letter ", at,
                ", with n and Ac of that letter.")  # fmt: skip
    single = (  # what ISO 2859-2 is for: FROM MEMORY
        "No lot before this one is listed: AQL plans protect over a series of lots. For a single lot agree a plan by "
        "limiting quality (ISO 2859-2)."
    )
    lot, n = the.sample_lot_used, the.sample_size
    small = say("A small lot: the sample is more than a tenth of it, so the risks printed with the tables, which are "
                "for large lots, are not those of this one.")  # fmt: skip
    told = sentences(
        when(letter.differs(at), arrow),
        when(xl.COUNTA(the.sample_history).same(0), single),
        when(the.sample_counted.same(LOTS), FULL),
        when(all_of(n < lot, lot < SMALL_LOT * n), small),
    )
    return when(all_of(known(n), known(lot), given(at)), xl.TRIM(told))


ORDER = ("lots", "history", "inspections_next", "page", "rejected", "run", "accepted_run", "rejected_sum")
WIDE = {"lots": 2, "history": 2, "inspections_next": 2, "page": 14}
"""Columns of the list; what it counts stands hidden, right of the page and the links."""


def _across(name: str, own: str) -> int:
    """How far a column of the list is from another."""
    place = {}
    at = 0
    for one in ORDER:
        place[one] = at
        at += WIDE.get(one, 1)
    return place[name] - place[own]


def lot_figures(place: int) -> dict[str, Node]:
    """State after the lot, rejected, lots under this inspection, accepted in a row, rejected under it.

    `place` counts from 0. The first lot has none before it, the second and the next few not all of the last five.
    """
    is_first, counts = place == 0, known(here.rejected)
    before = in_text(the.sample_starts_with) if is_first else above.inspections_next
    told = first((chosen(here.history, "rejected"), 1), (chosen(here.history, "accepted"), 0))

    def up(lots: int, name: str, own: str) -> Node:
        """A column so many lots before, seen from another."""
        return Cell(-lots, _across(name, own))

    def kept(own: str) -> Node:
        """What a count was after the lot before, where that lot was still inspected as the one before it."""
        if is_first:
            return node(0)
        earlier = in_text(the.sample_starts_with) if place == 1 else up(2, "inspections_next", own)
        return when(above.inspections_next.same(earlier), above[own], 0)

    last_five = (
        when(here.run > lots, up(lots, "rejected", "inspections_next"), 0) for lots in range(1, min(4, place) + 1)
    )
    two_of_five = joined("+", here.rejected, *last_five) >= 2
    stop, relax = here.rejected_sum >= 5, here.accepted_run >= 5
    state = first(
        (no(counts), when(left_empty(here.history), "", "fill in order")),
        (before.same("normal"), when(two_of_five, "tightened", "normal")),
        (before.same("tightened"), first((stop, "discontinue"), (relax, "normal"), otherwise="tightened")),
        otherwise=before & "",
    )
    return {
        "inspections_next": state,
        "rejected": told if is_first else when(known(above.rejected), told),
        "run": when(counts, kept("run") + 1),
        "accepted_run": when(counts, when(here.rejected.same(1), 0, kept("accepted_run") + 1)),
        "rejected_sum": when(counts, kept("rejected_sum") + here.rejected),
    }


def _behind(name: str, meaning: str) -> Column:
    return Column(name, name.replace("_", " "), f"{meaning}, one cell a lot", look="note_left", role="working",
                  formula=lambda number: lot_figures(number - 1)[name], hidden=True)  # fmt: skip


LIST = Table("sample", (
    Column("lots", "lot", "lots, one cell each", WIDE["lots"], dimension="text", head_look="column_head_left",
           prompt="Number of the lot, in the order inspected. Leave no row empty in between.", role="input"),
    Column("history", "result", "result of each lot", WIDE["history"], dimension="text", head_look="column_head_left",
           check=one_of(("accepted", "rejected"), "Choose accepted or rejected."),
           prompt="accepted or rejected, on the first inspection of the lot.", role="input"),
    Column("inspections_next", "then inspect", "inspection after each lot", WIDE["inspections_next"], look="row_words",
           formula=lambda number: lot_figures(number - 1)["inspections_next"], head_look="column_head_left"),
    Column("page", "", "", WIDE["page"], elsewhere=True, named=False),
    _behind("rejected", "1 rejected, 0 accepted"),
    _behind("run", "lots under this inspection so far"),
    _behind("accepted_run", "accepted in a row under this inspection"),
    _behind("rejected_sum", "rejected under this inspection so far"),
), LOTS, marks=(
    Mark("boxed", here.inspections_next.same("tightened"), ("inspections_next",)),
    Mark("left_hand", here.inspections_next.same("discontinue"), ("inspections_next",)),
))  # fmt: skip
"""The lots so far and what the switching rules make of them."""


def _lots() -> Block:
    heads = line(*(words(one.columns, str(one.head), one.head_look) for one in LIST.columns[:3]), height=NOTE)
    listed = Block(6, (heads, *(line() for _ in range(LOTS))), ((1, 0, LIST),))
    return stack(block("Lots so far, oldest first", line(words(4, START.label), entry(2, START, "normal"))), listed)


def _plan_block() -> Block:
    typed = (
        line(words(3, one.label), entry(2, one, value, "input" if one.dimension == "text" else "input_number"))
        for one, value in INPUTS
    )
    found = (line(words(3, label), shown(2, one)) for label, one in RESULTS.items())
    mind = Figure("sample_mind", "what to mind about this plan, in words", to_mind())
    return stack(
        block("The lot", *typed),
        block(None, line(words(5, "Its sample", "section")), *found),
        block(None, line(), *deep(shown(5, mind, "body_small", lines=8))),
    )


def sheet(_: Made) -> Sheet:
    """The sheet: the lots so far beside the lot in hand."""
    told = Figure("sample_words", "what to inspect and how the lot stands, in words", in_words())
    page = stack(
        record_head.head("sample", 12),
        block("Sampling by attributes, single sampling", *deep(shown(12, told, "said", lines=2)), line()),
        beside(_lots(), gap(1), _plan_block()),
        block(None, line(), line(words(12, RULES, "note_9"), height=3 * NOTE)),
        block(None, line(words(12, f"Tables: {sampling.SOURCE}.", "note_9"), height=NOTE)),
    )
    return Sheet(SHEET, (page,), WORKING, matrices=_matrices(), user="record")


def _matrices() -> tuple[Matrix, ...]:
    """Code letters and plans: for each letter the plan that the arrows lead to, and the letter of that plan."""
    levels, lots = sampling.LEVELS, sampling.LOT_SIZES
    letters, aqls = sampling.LETTERS, tuple(aql for aql in sampling.AQLS if aql <= PERCENT)
    codes = _matrix("sample_code_letters", "code letters", lots, levels, sampling.code_letter)
    found = [codes._replace(side_name="sample_lot_list", head_name="sample_level_list")]
    for severity in STATES:
        for what, meaning, field in (
            ("size", "sample size", "n"), ("accept_number", "acceptance number", "accept"),
            ("code_letter", "letter that the arrows lead to", "letter"),
        ):  # fmt: skip

            def cell(letter: str, aql: float, severity: str = severity, field: str = field) -> str | float:
                found: str | float = getattr(sampling.plan(letter, aql, severity), field)
                return found

            found.append(_matrix(f"sample_{severity}_{what}", f"{severity} inspection, {meaning}", letters, aqls, cell))
    found[1] = found[1]._replace(side_name="sample_code_letter_list", head_name="sample_aql_list")
    return tuple(found)


def _matrix(
    name: str, meaning: str, side: Sequence[Any], head: Sequence[Any], cell: Callable[[Any, Any], str | float]
) -> Matrix:
    body = tuple(tuple(cell(one, other) for other in head) for one in side)
    return Matrix(name, meaning, tuple(side), tuple(head), body)
