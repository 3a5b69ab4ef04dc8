"""The sheet Instruments: what measures, when its calibration is due, what it may be used for."""

from __future__ import annotations

from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import here, known, node, the, when, xl
from workbook_template.figures.tree import Node, Text
from workbook_template.sheets.inputs import DAY, LENGTH, Check, Input, whole
from workbook_template.sheets.instrument_columns import (
    COLUMNS,
    DUE_SOON_DAYS,
    INSTRUMENTS,
    MATCH_LIMIT,
    STATES,
    WIRE_COLUMNS,
    WIRE_SETS,
    sorted_words,
)
from workbook_template.sheets.layout import (
    Block,
    Line,
    Made,
    Mark,
    Piece,
    Sheet,
    Table,
    beside,
    block,
    deep,
    entry,
    line,
    shown,
    stack,
    table,
    words,
)
from workbook_template.trade import gauges
from workbook_template.trade.days import if_no_day, is_day
from workbook_template.trade.equipment import MATCH_LIMITS

__all__ = ["COLUMNS", "INSTRUMENTS", "SHEET", "STATES", "STATE_MARKS", "WIRE_COLUMNS", "WIRE_SETS", "sheet"]

SHEET = "Instruments"
STATE_MARKS = tuple(
    Mark(look, here.state.same(word), ("state",))
    for word, look in (
        ("overdue", "left_hand"), ("unfit", "left_hand"), ("no due date", "boxed"),
        ("check dates", "boxed"), ("due soon", "bold"),
    )
)  # fmt: skip
"""The looks of the states that want something done."""

WIDTHS = (6.2, 10.3, 13.4, 7.8, 9.2, 10.5, 10.5, 4.5, 8.6, 7, 7, 4.2, 8, 13.6)
"""Widths of the columns in characters: a page in landscape together."""

LEAST = 10
"""Rows that are printed at least: a page."""

ROW, SETTING = 34.5, 25.5
"""Height of a row: two lines of the body, three of small type."""


class Setting(NamedTuple):
    """An input, and beside it what is used for it."""

    name: str
    label: str
    meaning: str
    dimension: str
    check: Check
    value: int | None
    prompt: str
    used: str
    words: Node
    formula: Node


def _settings() -> tuple[Setting, ...]:
    match = the.wire_match_limit
    return (
        Setting(
            "as_of", "As of this day", "day on which the states are read", "date", DAY, None,
            "Day that the states are for. Empty: today.", "as_of_used",
            when(if_no_day(the.as_of).same(""), "day used", "no date: today"),
            when(is_day(the.as_of), xl.INT(the.as_of), xl.TODAY()),
        ),
        Setting(
            "due_soon_days", "Due soon means within, days", "days before the due date that count as soon", "count",
            whole(0, 366), DUE_SOON_DAYS,
            "Days before its due date from which an instrument is called due soon. Empty: 30 (our choice).",
            "due_soon_used", node("days used"), when(known(the.due_soon_days), the.due_soon_days, DUE_SOON_DAYS),
        ),
        Setting(
            "wire_match_limit", "Wires of a set alike within", "how far the wires of one set may differ", "wire",
            LENGTH, None,
            f"Working unit. Empty: {MATCH_LIMITS['in']:.5f} in or {MATCH_LIMITS['mm']} mm, common practice for matched "
            "sets.",
            "wire_match_used", node("limit used"), when(known(match), when(match > 0, match, MATCH_LIMIT), MATCH_LIMIT),
        ),
    )  # fmt: skip


def _input(one: Setting) -> Input:
    return Input(one.name, one.label, one.meaning, one.dimension, one.check, one.prompt)


def entries() -> tuple[Input, ...]:
    """What is typed over the list."""
    return tuple(map(_input, _settings()))


def _setting(one: Setting) -> Line:
    used = Figure(one.used, f"{one.meaning}, as used", one.formula, one.dimension)
    beside_: Piece = (
        words(1, one.words.value, "aside")
        if isinstance(one.words, Text)
        else shown(1, Figure(f"{one.name}_words", "whether the day is one", one.words), "aside")
    )
    return line(words(2, one.label, "label_wrapped"), entry(1, _input(one), one.value), beside_, shown(2, used),
                height=SETTING)  # fmt: skip


HINT = (
    "Type the number of an instrument into the rows of the Log. A reading with one that is not listed here, overdue or "
    "not yet calibrated on that day, unfit, without a due date or used outside its range is kept, but it can't be in. "
    "A gauge counts only for its own thread, class and hand: type them as it is marked."
)


def _sorted() -> Block:
    """How many are in each state, and the numbers of those that must not be used."""
    told = Figure("instruments_sorted", "instruments sorted by their state, in words",
                  sorted_words("instrument", INSTRUMENTS))  # fmt: skip
    return block("Sorted out", *deep(shown(8, told, "said", lines=3), SETTING))


def _table() -> Table:
    return Table("instrument", COLUMNS, INSTRUMENTS, ROW, 22.5, STATE_MARKS, least=LEAST, spans=(
        ("gauge_until", "last day on which a gauge counts: as GO, as NOT GO", *gauges.UNTIL),
        ("gauge_fault", "why a gauge doesn't count after that day: as GO, as NOT GO", *gauges.FAULT),
    ))  # fmt: skip


def sheet(_: Made) -> Sheet:
    """Settings and what is to do on top, then the list."""
    wide = len(WIDTHS)
    callout = Figure("callout_instruments", "the thread, as on the sheet Job", the.callout)
    wanted = when(known(the.thread_row), gauges.thread_alone(gauges.normal(the.callout)))
    head = block(
        None,
        line(words(6, "Instruments and gauges", "thread"), shown(wide - 6, callout, "thread"), height=24.75),
    )
    page = stack(
        head,
        beside(block("How due dates are read", *(_setting(one) for one in _settings())), _sorted()),
        block(None, line(words(wide, HINT, "note_9"), height=22.5)),
        table(_table()),
    )
    meaning = "thread of the job as a gauge for it is marked, dashes and blanks left out"
    basic = "the same of a GO gauge of basic size, where the part is coated and its class stands off it"
    working = (
        Figure("gauge_thread", meaning, wanted),
        Figure("gauge_thread_basic", basic, gauges.at_basic_size()),
    )
    return Sheet(SHEET, (page,), working, widths=WIDTHS, landscape=True, user="shop", frozen="instrument")
