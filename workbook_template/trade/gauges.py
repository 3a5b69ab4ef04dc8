"""Whether a ring or plug gauge of the sheet Instruments is for the job: its kind, thread, class and hand.

The marking is typed as it stands on the gauge, as in `3/4-16 UNF-2A GO` or `M20x2.5-6g LH`, and is compared with the
callout of the job. It is read once a gauge, on Instruments; a row of the Log only looks up what came of it. How a
marking is read, exactly, stands with the rule of the log (`workbook_template.sheets.log`).
"""

from __future__ import annotations

from typing import NamedTuple

from sheetfuncs.standards import SYSTEMS
from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.notation import (
    NO_NUMBER,
    all_of,
    any_of,
    blank,
    empty,
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


class Gauge(NamedTuple):
    """A kind of thread gauge: a ring goes over an outside thread, a plug into an inside one."""

    ring: bool
    go: bool
    not_go: bool


GAUGES = {
    "GO ring": Gauge(ring=True, go=True, not_go=False),
    "NOT GO ring": Gauge(ring=True, go=False, not_go=True),
    "GO/NOT GO ring": Gauge(ring=True, go=True, not_go=True),
    "GO plug": Gauge(ring=False, go=True, not_go=False),
    "NOT GO plug": Gauge(ring=False, go=False, not_go=True),
    "GO/NOT GO plug": Gauge(ring=False, go=True, not_go=True),
    "taper ring": Gauge(ring=True, go=True, not_go=False),
    "taper plug": Gauge(ring=False, go=True, not_go=False),
}
"""A pair of rings, or a plug with two ends, may be listed under one number. A taper gauge has no NOT GO."""

NO_SIZE = (*GAUGES, "setting plug", "gauge blocks", "thermometer")
"""Kinds that give no reading of a part."""
KINDS = ("micrometer", "thread micrometer", "comparator", "caliper", "bore gauge", *NO_SIZE, "other")
"""Every kind that the list on Instruments has; over a list another word may still be pasted. Such a word says of no
instrument what it measures, so no reading with it counts; one whose kind is left empty measures sizes.
"""
UNLISTED = "has a kind that its list on Instruments doesn't have, "
"""Behind the number of an instrument, before its kind."""

MOST = 1000000
"""Where an instrument's range ends if nothing is typed: more than any part."""

_OUT = (" ", "-", "–", "—", "−")
_AS = (("×", "X"), ("*", "X"), ("LEFTHAND", "LH"), ("RIGHTHAND", "RH"))
_NOT_THREAD = (
    *("GO/NOTGO", "GO/NOGO", "NOTGO", "NOGO", "GO"),
    *("EXTERNAL", "INTERNAL", "INT", "EXT", "BOLT", "NUT"),  # a ring is for the one, a plug for the other
    *("LH", "RH"),
)


_MM = the.unit_text.same("mm")
_METRIC = SYSTEMS["iso_metric"].title


def _substituted(text: Node, pairs: tuple[tuple[str, str], ...]) -> Node:
    """A text with each of some texts replaced."""
    for old, new in pairs:
        text = xl.SUBSTITUTE(text, old, new)
    return text


def normal(text: Node) -> Node:
    """A marking or callout in capitals without blanks and dashes."""
    return _substituted(xl.UPPER(text & ""), (*((sign, "") for sign in _OUT), *_AS))


def thread_alone(text: Node) -> Node:
    """What is left of a normal text without GO, side and hand."""
    return _substituted(text, tuple((word, "") for word in _NOT_THREAD))


def _kind_is(kinds: tuple[str, ...]) -> Node:
    """Whether the kind in this row is one of some."""
    return xl.IFERROR(any_of(*((here.kind & "").same(kind) for kind in kinds)), False)


_UNLISTED = all_of(xl.IFERROR(given(here.kind), True), no(_kind_is(KINDS)))
"""Whether a kind was pasted that is none."""
_KIND_SAID = xl.IFERROR(here.kind & "", "an error value")
_UNLISTED_FAULT = say(UNLISTED, _KIND_SAID, ": choose one there")


def _kinds(**wanted: bool) -> tuple[str, ...]:
    return tuple(
        kind for kind, one in GAUGES.items() if all(getattr(one, name) == value for name, value in wanted.items())
    )


def _marking() -> Node:
    """The marking, normal, up to the pitch diameter where one is marked."""
    text = normal(here.thread)
    return xl.IFERROR(xl.LEFT(text, xl.FIND("PD", text) - 1), text)


_PLUG_OR_RING_END = tuple(xl.RIGHT(here.marking, 2).same(end) for end in ("HI", "LO"))
"""HI and LO at the end of a marking are the NOT GO of a plug and of a ring."""


_MARKED_L1 = all_of(the.tapered, xl.RIGHT(here.marking, 2).same("L1"))
"""Taper gauges are marked with the length that they gauge."""


def _marked() -> Node:
    """The thread alone out of the marking."""
    text = here.marking
    return thread_alone(when(any_of(*_PLUG_OR_RING_END, _MARKED_L1), xl.LEFT(text, xl.LEN(text) - 2), text))


def _found(word: str) -> Node:
    """Whether a word is in the marking."""
    return known(xl.FIND(word, here.marking))


class Misfit(NamedTuple):
    """Why a gauge is none for the job, however it is used: a word for it, when it is so, what follows "Gauge G-1"."""

    word: str
    holds: Node
    sentence: Node


def at_basic_size() -> Node:
    """The thread alone of a GO gauge of basic size: class 3A, position h or H; nothing where the class's own serves.

    A coated part of these systems may come to basic size, which the GO gauge of its class would refuse (ASME B1.1-2003,
    section 7).
    """
    of_metric = _substituted(the.gauge_thread, tuple((letter, "H") for letter in "ABCDEFG"))  # no size has them
    of_unified = _substituted(the.gauge_thread, (("1A", "3A"), ("2A", "3A")))
    return when(the.coated_to_basic, when(the.thread_system.same(_METRIC), of_metric, of_unified))


def _of_basic_size() -> Node:
    """Whether a gauge is the GO of such a part."""
    go_alone = _kind_is(_kinds(go=True, not_go=False))
    return all_of(go_alone, given(the.gauge_thread_basic), here.marked.same(the.gauge_thread_basic))


def _misfits() -> tuple[Misfit, ...]:
    left, not_go = _found("LH"), any_of(_found("NOTGO"), _found("NOGO"), *_PLUG_OR_RING_END)
    marked_not_go = all_of(_kind_is(_kinds(go=True, not_go=False)), not_go)
    marked_go = all_of(_kind_is(_kinds(go=False)), _found("GO"), no(not_go))
    is_ring = all_of(_kind_is(_kinds(ring=True)), the.thread_side.differs("external"))
    is_plug = all_of(_kind_is(_kinds(ring=False)), the.thread_side.differs("internal"))
    return (
        Misfit("no thread yet", no(known(the.thread_row)), node("can't be compared: no thread is chosen on Job")),
        Misfit("outside only", is_ring, node("is a ring, and this is an inside thread")),
        Misfit("inside only", is_plug, node("is a plug, and this is an outside thread")),
        Misfit("no marking", empty(here.marked), node("has no thread on Instruments")),
        Misfit("other thread", all_of(here.marked.differs(the.gauge_thread), no(_of_basic_size())),
               say("is for ", here.thread, ", not for ", the.callout)),
        Misfit("left hand", all_of(left, the.hand_text.differs("left")),
               node("is left hand, and this thread is right hand")),
        Misfit("right hand", all_of(no(left), the.hand_text.same("left")),
               node("is right hand, and this thread is left hand")),
        Misfit("marked NOT GO", marked_not_go, say("is marked NOT GO, and listed as ", here.kind)),
        Misfit("marked GO", marked_go, say("is marked GO, and listed as ", here.kind)),
    )  # fmt: skip


def for_this_job() -> Node:
    """Whether a gauge is for the job: yes, or why not in a word or two; nothing for what is no thread gauge."""
    none = any_of(blank(here.id), no(_kind_is(tuple(GAUGES))))
    return first((none, ""), *((one.holds, one.word) for one in _misfits()), otherwise="yes")


def _thread_fault() -> Node:
    """The same in a sentence that follows the number of the gauge; empty where it is for the job."""
    no_gauge = first(
        (blank(here.kind), "has no kind on Instruments"),
        (_UNLISTED, _UNLISTED_FAULT),
        otherwise=say("is a ", here.kind, ", no ring or plug gauge"),
    )
    return first(
        (blank(here.id), NO_NUMBER),
        (here.serves.same("yes"), ""),
        *((here.serves.same(one.word), one.sentence) for one in _misfits()),
        otherwise=no_gauge,
    )


def _until(asked: tuple[str, ...]) -> Node:
    """The last day on which a gauge counts as one of some kinds; -1 for never."""
    return first(
        (blank(here.id), NO_NUMBER),
        (here.thread_fault.differs(""), -1),
        (_kind_is(asked), here.until),
        otherwise=-1,
    )


def _fault(asked: tuple[str, ...], other: str) -> Node:
    """Why a gauge doesn't count as one of some kinds after that day."""
    return first(
        (blank(here.id), NO_NUMBER),
        (here.thread_fault.differs(""), here.thread_fault),
        (_kind_is(asked), here.fault),
        otherwise=other,
    )


def _reads_until() -> Node:
    """The last day on which a reading of a size counts; -1 for what reads none."""
    return first((blank(here.id), NO_NUMBER), (any_of(_kind_is(NO_SIZE), _UNLISTED), -1), otherwise=here.until)


def _reads_fault() -> Node:
    """Why a reading of a size doesn't count after that day."""
    reads_none = say("is a ", here.kind, ": it measures no size")
    return first(
        (blank(here.id), NO_NUMBER), (_kind_is(NO_SIZE), reads_none), (_UNLISTED, _UNLISTED_FAULT), otherwise=here.fault
    )


_UNIT = xl.IFERROR(here.unit & "", "?")
_UNIT_SAID = any_of(*(_UNIT.same(word) for word in ("", "in", "mm")))
"""Else the range counts as one of the working unit, which a list that was pasted may not mean: inch, millimetres."""


def _bound(end: Node, without: int) -> Node:
    """An end of the range of an instrument, working unit."""
    factor = first(
        (_UNIT.same("mm"), when(_MM, 1, node(1) / MM_PER_INCH)),
        (_UNIT.same("in"), when(_MM, MM_PER_INCH, 1)),
        otherwise=1,
    )
    typed = xl.MIN(xl.MAX(end, 0), MOST) * factor
    return first((blank(here.id), NO_NUMBER), (known(end), typed), otherwise=without)


def to_type() -> Node:
    """What is still to be typed for a gauge or a range."""
    ends = span(here["from"], here.to)
    turned = when(xl.COUNT(ends).same(2), here["from"] > here.to, False)
    return first(
        (
            _UNLISTED,
            say(
                "Its readings do not count: its kind, ",
                _KIND_SAID,
                ", is none that the list of its cell has: choose one there.",
            ),
        ),
        (
            all_of(_kind_is(tuple(GAUGES)), no(given(xl.IFERROR(here.thread & "", "")))),
            "Type its thread as it is marked.",
        ),
        (any_of(xl.COUNT(ends) < xl.COUNTA(ends), turned), "From and to are numbers, the smaller first."),
        (all_of(xl.COUNT(ends) > 0, no(_UNIT_SAID)), "The unit of its range is in or mm."),
    )


_GO, _NOT_GO = _kinds(go=True), _kinds(not_go=True)

WORKING = (
    ("marking", "marking of a gauge in capitals, without blanks and dashes", _marking()),
    ("marked", "thread of a gauge, out of its marking", _marked()),
    ("thread_fault", "why a gauge is none for the job", _thread_fault()),
    ("go_until", "last day on which it counts as GO gauge, a day number, -1 for never", _until(_GO)),
    ("not_go_until", "last day on which it counts as NOT GO gauge", _until(_NOT_GO)),
    ("go_fault", "why it doesn't count as GO gauge after that day",
     _fault(_GO, "is NOT GO: pass and go fails need the GO gauge")),
    ("not_go_fault", "why it doesn't count as NOT GO gauge after that day",
     _fault(_NOT_GO, "is GO: not go enters needs the NOT GO gauge")),
    ("reads_until", "last day on which its readings of sizes count, -1 for never", _reads_until()),
    ("reads_fault", "why its readings of sizes don't count after that day", _reads_fault()),
    ("least", "where its range begins, working unit", _bound(here["from"], 0)),
    ("most", "where its range ends, working unit", _bound(here.to, MOST)),
)  # fmt: skip
"""The working columns of the list of instruments: name, meaning, formula."""

UNTIL, FAULT = ("go_until", "not_go_until"), ("go_fault", "not_go_fault")
"""The columns that a gauging looks up, side by side: the first of each for GO, the second for NOT GO."""
