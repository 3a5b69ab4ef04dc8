"""The sheet Start: how the job stands in linked steps, what is still undone, what looks and words mean."""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, any_of, blank, first, joined, known, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import cautions, job
from workbook_template.sheets.first_article_figures import FAILING, PASSING
from workbook_template.sheets.instrument_columns import NOT_TO_USE
from workbook_template.sheets.layout import (
    CALLOUT,
    Block,
    Line,
    Made,
    Sheet,
    block,
    line,
    link,
    shown,
    stack,
    words,
)
from workbook_template.sheets.log_words import RESULT_WORDS
from workbook_template.sheets.threads_table import CHOSEN

SHEET = "Start"
DONE, NEXT, LATER = "done", "next", ""

LOOKS = (
    ("Boxed and shaded", "An entry: type or choose here. All other cells are locked, without a password."),
    ("Bold", "A result, in the working unit."),
    ("for reference", "The standard gives this size for reference only; it is no limit to reject by."),
    ("Hidden sheets", "Threads (the table of limits), Working (the figures behind the pages): Unhide shows them."),
)


def _counted(word: str) -> Node:
    """Parts with a word in any of the three verdicts of the log."""
    key = word.replace(" ", "_")
    return the[f"count_pitch_diameter_{key}"] + the[f"count_crest_{key}"] + the[f"count_ring_{key}"]


_ORDERED = all_of(CHOSEN, known(the.ordered))
_SET_UP = all_of(known(the.depth), known(the.passes), the.plan_fault.same(""))
_LOGGED = the.parts_entered  # a part that was made again or measured again is one
_ALL_LOGGED, _ALL_IN = (when(known(the.ordered), the.ordered <= found, False) for found in (_LOGGED, the.parts_in))
# No column of the log is named here: a full recalculation begins with this sheet, and LibreOffice 7.4 then took a row
# of the log for circular (Err:522).
_OPEN = the.parts_unmeasured + _counted("check entry") + _counted("check instrument") + _counted("undecided")


def _state(done: Node, before: Node | bool = True) -> Node:
    return first((done, DONE), (before, NEXT), otherwise=LATER)


def _job_words() -> Node:
    return first(
        (no(CHOSEN), the.thread_note),
        (blank(the.quantity), "Type the quantity."),
        (no(known(the.ordered)), f"Quantity: {job.MANY.asked}"),
        otherwise=say(the.callout, ", ", the.ordered, when(the.ordered.same(1), " part.", " parts.")),
    )


def _log_words() -> Node:
    of_so_many = when(known(the.ordered), say(" of ", the.ordered))
    one_alone = all_of(_LOGGED.same(1), no(known(the.ordered)))
    logged = say(_LOGGED, of_so_many, when(one_alone, " part", " parts"), " logged",
                 when(the.parts_in < _LOGGED, say(", ", the.parts_in, " in")), ".")  # fmt: skip
    return first((_LOGGED.same(0), "Measure, and log a row a part."), otherwise=logged)


STEPS = (
    ("Job", _state(_ORDERED), _job_words(), "which thread, how many"),
    ("Setup", _state(_SET_UP, _ORDERED), the.next_step & "", "tool, blank, passes and wires for the machine"),
    ("Card", when(_SET_UP, NEXT, LATER), "Print it for the machine: both pages.", "paper for the machine"),
    ("Log", _state(_ALL_IN, any_of(_SET_UP, _LOGGED > 0)), _log_words(), "a row a part"),
    ("Certificate", when(_ALL_LOGGED, NEXT, LATER), "Name, day and signature; then print or save as PDF.",
     "what the customer gets"),
)  # fmt: skip
"""Sheet, how it stands, what is next there, what it is for."""

PRICED = ("Estimate", "Quote", "Offer")
"""Sheets of the office: they wait for no step of the machine, and none waits for them."""


def _steps() -> Block:
    def row(title: str, state: Node, said: Node | str, purpose: str) -> Line:
        key, meaning = title.lower(), f"how {title} stands: {DONE}, {NEXT} or nothing yet"
        told = when(the[f"start_{key}_state"].differs(LATER), said)
        return line(
            link(2, title, title),
            shown(1, Figure(f"start_{key}_state", meaning, state), "listed_bold"),
            shown(6, Figure(f"start_{key}", f"what is next on {title}", told), "row_words"),
            words(3, purpose, "row_note"),
            height=CALLOUT,
        )

    priced = line(
        *(link(2, title, title) for title in PRICED),
        words(6, "the price: of this job, of many parts, for the customer", "row_note"),
    )
    return block("Where the job stands", *(row(*step) for step in STEPS), priced)


def _not_to_use(states: Node) -> Node:
    return joined("+", *(xl.COUNTIF(states, state) for state in NOT_TO_USE))


_FIELDS = ("number", "lot", "date", "inspector", "released")
"""What the certificate asks for."""
_UNSIGNED = when(_LOGGED > 0, len(_FIELDS) - xl.COUNTA(*(the[f"certificate_{field}"] for field in _FIELDS)), 0)


def _open_results() -> Node:
    """Results of the first article that say what is still missing."""
    judged = (xl.COUNTIF(the.article_result, word) for word in (*PASSING, *FAILING))
    return joined("-", xl.COUNTIF(the.article_result, "?*"), *judged)


UNDONE = (
    ("parts", "verdicts of logged parts that are still open", _OPEN, "Log",
     "Verdicts still open: not measured, undecided, or to be checked."),
    ("repeats", "rows that repeat a part", the.parts_again, "Log", "Rows that repeat a part and are not counted."),
    ("instruments", "instruments and wire sets overdue, unfit or without dates that fit",
     _not_to_use(the.instrument_state) + _not_to_use(the.wires_state), "Instruments",
     "Instruments and wire sets overdue, unfit or without dates that fit."),
    ("article", "characteristics of the first article that are not complete",
     when(xl.COUNTA(the.article_measured) > 0, _open_results(), 0),
     "First article", "Characteristics of the first article without a result, once it is begun."),
    ("certificate", "fields of the certificate left empty", _UNSIGNED, "Certificate",
     "Fields of the certificate left empty: number, lot, day, names."),
)  # fmt: skip
"""Key, meaning, count, sheet, words."""


def _undone() -> Block:
    rows = [
        line(
            shown(1, Figure(f"undone_{key}", f"undone: {meaning}", count, "count"), "listed_bold"),
            words(9, told, "row_words"),
            link(2, sheet, sheet),
            height=16.5,
        )
        for key, meaning, count, sheet, told in UNDONE
    ]
    return block("Still undone", *rows)


def _explained(rows: tuple[tuple[str, str], ...]) -> tuple[Line, ...]:
    return tuple(
        line(words(3, left, "row_words"), words(9, right, "row_note"), height=24 if len(right) > 95 else 15)
        for left, right in rows
    )


def sheet(_: Made) -> Sheet:
    """One page: where the job stands comes first."""
    callout = Figure("callout_start", "the thread, as on the sheet Job", the.callout & "")
    title = Figure("start_title", "part and job in words", the.setup_title & "")
    left_hand = Figure("left_hand_start", "words for a left-hand thread", the.left_hand_words & "")
    verdicts = tuple((f"{one.sign} {word}", one.meaning) for word, one in RESULT_WORDS.items())
    page = stack(
        block(
            None,
            line(shown(12, left_hand, "left_hand"), height=CALLOUT),
            line(shown(12, callout, "thread"), height=CALLOUT),
            line(shown(12, title, "note_9"), height=22.5),
        ),
        _steps(),
        _undone(),
        block("What the looks mean", *_explained(LOOKS)),
        block("What the verdicts of the log mean", *_explained(verdicts)),
        cautions.cautions(),
    )
    return Sheet(SHEET, (page,), frozen_lines=2)
