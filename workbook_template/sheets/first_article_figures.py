"""The rows of the sheet First article, and how each is judged."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    exactly,
    first,
    given,
    here,
    known,
    no,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import coating, log_rows
from workbook_template.sheets.threads_table import INSIDE, OUTSIDE
from workbook_template.trade import verdict
from workbook_template.trade.verdict import NOISE

OTHERS = 6
PASSING = ("in", "passes", "recorded")
FAILING = ("low", "high", "fails", "WRONG HAND")


NONE = node("")


class Row(NamedTuple):
    """One characteristic of every thread; `typed`: its limits are typed on the sheet."""

    key: str
    label: str
    requirement: Node
    low: Node = NONE
    high: Node = NONE
    typed: bool = False


def _where(figure: Node) -> Node:
    """The figure once it is known."""
    return when(known(figure), figure)


def _limited(which: str) -> Row:
    """A diameter; a size that the standard gives for reference is no limit to judge by."""
    least, most = (coating.of_finished(which, end) for end in ("min", "max"))
    least_note, most_note = (the[f"{which}_diameter_{end}_note"] for end in ("min", "max"))
    both_bind = all_of(known(least), known(most), least_note.same(""), most_note.same(""))
    one_is_told = any_of(least_note.same("for reference"), most_note.same("for reference"))
    words = first((both_bind, "limits of size"), (one_is_told, "for reference"), otherwise="by the standard")
    low, high = (
        when(all_of(known(size), note.same("")), size) for size, note in ((least, least_note), (most, most_note))
    )
    return Row(f"{which}_diameter", f"{which.capitalize()} diameter", words, low, high)


ROWS = (
    _limited("major"),
    _limited("pitch"),
    _limited("minor"),
    Row("lead", "Lead", say("lead ", xl.ROUND(the.lead, the.decimals + 2)), typed=True),
    Row("length", "Length of full thread",
        when(known(the.thread_length), "at least, sheet Job", "no length on the sheet Job"), _where(the.thread_length)),
    Row("hand", "Hand", the.hand_text),
    Row("blank", "", node("before threading"), _where(the.blank_min), _where(the.blank_max)),
)  # fmt: skip
ALL = len(ROWS) + OTHERS
REFERENCE_ROWS = ("major_diameter", "pitch_diameter", "minor_diameter")
BY_EYE = ("", "hand")
"""Characteristics that can be judged by eye, which needs no instrument: the hand, and those of the drawing."""

MOST = float(log_rows.MOST)

Finding = Callable[[Node], Node]
"""Something that the sheet Instruments says of the instrument in a row of it."""


def _of_instrument(name: str) -> Finding:
    return lambda row: xl.INDEX(the[f"instrument_{name}"], row)


def _go_until(row: Node) -> Node:
    """The lead is told by a GO gauge of full length alone."""
    return xl.INDEX(the.gauge_until, row, 1)


def _gauges_until(row: Node) -> Node:
    """GO and NOT GO, so that a parallel thread passes; either of them, so that it fails."""
    both = _go_until(row), xl.INDEX(the.gauge_until, row, 2)
    return when(any_of(the.tapered, here.measured.same("fail")), xl.MAX(*both), xl.MIN(*both))


def _plain_gauge_until(row: Node) -> Node:
    other = (xl.INDEX(the.instrument_kind, row) & "").same("other")
    return when(other, xl.INDEX(the.instrument_until, row), -1)


_GAUGE_UNTIL: dict[str, Finding] = {
    "": _of_instrument("until"),
    "pitch_diameter": _gauges_until,
    "lead": _go_until,
}
"""Until when a pass or fail with an instrument counts, by characteristic; other sizes: with a plain gauge."""


def _fit(until: Finding, *also: Finding) -> Node:
    """Whether the instrument is listed and counts on the day of the examination, and something more about it."""
    row = xl.MATCH(exactly(here.instrument), the.instrument_id, 0)
    counts = all_of(
        until(row) >= the.article_day,
        xl.INDEX(the.instrument_since, row) <= the.article_day,
        *(finding(row) for finding in also),
    )
    return when(all_of(known(row), known(the.article_day)), counts, False)


def _in_range(row: Node) -> Node:
    """Whether the value is in the range of the instrument; over wires the value is not what the micrometer shows."""
    value = here.measured
    between = all_of(
        value >= xl.INDEX(the.instrument_least, row) - NOISE, value <= xl.INDEX(the.instrument_most, row) + NOISE
    )
    return first((here.method.same("over wires"), True), (known(value), between), otherwise=True)


def _by_wires(row: Node) -> Node:
    """Whether no wires were used, or those chosen on Setup counted on that day."""
    count = all_of(the.log_set_until >= the.article_day, the.log_set_since <= the.article_day)
    return when(here.method.same("over wires"), when(known(the.log_set_until), count, False), True)


_GAUGED = any_of(here.measured.same("pass"), here.measured.same("fail"))
_NO_SIZE = (here.measured <= 0, here.measured > MOST)


def _judged_size(key: str) -> Node:
    """What a number, or pass or fail, comes to."""
    no_number = (all_of(given(limit), no(known(limit))) for limit in (here.low, here.high))
    simple = first(
        (when(known(here.low), here.measured < verdict.lowest_in(here.low), False), "low"),
        (when(known(here.high), here.measured > verdict.highest_in(here.high), False), "high"),
        otherwise="in",
    )
    turned = when(all_of(known(here.low), known(here.high)), here.low > here.high, False)
    number = first(
        (any_of(*_NO_SIZE, *no_number, turned), "check entry"),
        (all_of(no(known(here.low)), no(known(here.high))), "recorded" if key in REFERENCE_ROWS else "no limits"),
        otherwise=_by_rule(key, simple),
    )
    return first(
        (here.measured.same("pass"), "passes"),
        (here.measured.same("fail"), "fails"),
        (known(here.measured), number),
        otherwise="check entry",
    )


def _by_rule(key: str, simple: Node) -> Node:
    """By the decision rule where Uncertainty has a U: for the pitch diameter and the crest, with two limits."""
    crest = {"major_diameter": OUTSIDE, "minor_diameter": INSIDE}
    if key != "pitch_diameter" and key not in crest:
        return simple
    has_u = all_of(crest.get(key, True), known(here.low), known(here.high))
    which = "crest" if key in crest else key
    return when(has_u, verdict.by_rule(here.measured, which, simple), simple)


def _judged_hand() -> Node:
    is_hand = any_of(here.measured.same("right"), here.measured.same("left"))
    return when(is_hand, when(here.measured.same(the.hand_text), "in", "WRONG HAND"), "check entry")


def _trusted(key: str) -> Node:
    """Whether the instrument serves for what was written; a size is not judged by eye."""
    if key == "hand":
        fit = _fit(_of_instrument("until"))
    else:
        until = _GAUGE_UNTIL.get(key, _plain_gauge_until)
        fit = when(_GAUGED, _fit(until), _fit(_of_instrument("reads_until"), _in_range, _by_wires))
    if key in BY_EYE:
        return when(any_of(blank(here.instrument), here.instrument.same("none")), here.method.same("by eye"), fit)
    return fit


def result(key: str) -> Node:
    """The result of a characteristic; those that the drawing adds have no key."""
    judged = _judged_hand() if key == "hand" else _judged_size(key)
    decided = when(_trusted(key), judged, "check instrument")
    if key not in BY_EYE:
        not_a_size = any_of(*_NO_SIZE, here.method.same("gauge"), here.method.same("by eye"))
        wrong = first((_GAUGED, here.method.differs("gauge")), (known(here.measured), not_a_size), otherwise=False)
        decided = when(wrong, "check entry", decided)
    if not key:
        decided = when(all_of(known(here.measured), here.method.same("by eye")), "check entry", decided)
    unnamed = blank(here.instrument)
    complete = first(
        (blank(here.measured), "not measured"),
        (blank(here.method), "no method"),
        (all_of(unnamed, here.method.differs("by eye")) if key in BY_EYE else unnamed, "no instrument"),
        otherwise=decided,
    )
    if key:
        return when(known(the.thread_row), xl.IFERROR(complete, "check entry"))
    nothing = xl.COUNTA(span(here.label, here.measured)).same(0)
    return first((nothing, ""), (blank(here.label), "no name"), otherwise=xl.IFERROR(complete, "check entry"))


_KEYS = (*(one.key for one in ROWS), *[""] * OTHERS)


def result_of(number: int) -> Node:
    return result(_KEYS[number - 1])
