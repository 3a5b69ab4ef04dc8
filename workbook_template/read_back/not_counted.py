"""Why a measurement does not count: each instrument, gauge or wire set of a row that doesn't, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from math import inf
from typing import Any, NamedTuple

from workbook_template.read_back.columns import READINGS
from workbook_template.read_back.contents import Filled
from workbook_template.read_back.equipment import Item, day_of, key
from workbook_template.read_back.findings import said
from workbook_template.read_back.judging import Judged
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.thread_figures import number
from workbook_template.read_back.unfilled import no_day
from workbook_template.trade.equipment import NOT_CALIBRATED, SHEETS


class Used(NamedTuple):
    """Something that a row was measured with: what it is, its number as typed, the list that it should be in."""

    what: str
    name: Any
    listed: Mapping[str, Item]
    sheet: str


def reasons(book: Filled, again: Recomputed, given: Mapping[str, Any], judged: Judged) -> Iterator[str]:
    """Why something in use does not count on the day of the measurement."""
    when = given.get("when")
    day = day_of(when)
    if day is None:
        yield "no date of measurement" if when in (None, "") else f"the date of the measurement, {no_day(when)}"
        return
    used = list(_used(again, given, judged))
    if any(one.what == "wire set" for one in used) and given.get("wires") is None and again.job.wire_differs:
        yield f"the wire typed on Setup is not of the size of the set {judged.wires}"
    yield from filter(None, (_why_not(book, one, day) for one in used))
    for what, fault in (("instrument", judged.instrument_fault), ("gauge", judged.gauge_fault)):
        if fault:
            yield f"{what} {given.get(what)} {fault}"


def _used(again: Recomputed, given: Mapping[str, Any], judged: Judged) -> Iterator[Used]:
    instruments, wires = again.equipment
    yield Used("instrument", given.get("instrument"), instruments, SHEETS["instrument"])
    if any(number(given.get(name)) for name in READINGS):
        yield Used("wire set", judged.wires, wires, SHEETS["wires"])
    if given.get("ring") is not None or given.get("gauge_turns") is not None:
        yield Used("gauge", given.get("gauge"), instruments, SHEETS["instrument"])


def _why_not(book: Filled, used: Used, day: int) -> str:
    """Why one thing does not count on a day; nothing where it does."""
    what, name, listed, sheet = used
    item = listed.get(key(name))
    if not key(name):
        return f"no {what} is named"
    if item is None and key(name).strip() in listed:
        return f"blanks in the number of the {what}, {said(name)}: it is listed without"
    if item is None:
        return f"{what} {name} is not on the sheet {sheet}"
    if day > item.until:
        return f"{what} {name} {item.never or f'was due {book.day(float(item.until))}'}"
    if day < item.since:
        only = NOT_CALIBRATED if item.since == inf else f"was calibrated only on {book.day(float(item.since))}"
        return f"{what} {name} {only}"
    return ""
