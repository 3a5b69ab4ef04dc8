"""Callouts that name no thread: `1/4-20`, `10-32`, `3/4-16-2A`, `3/4`. Each standard says which names may be meant."""

from __future__ import annotations

import re

from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, noted, read_inch_size
from sheetfuncs.errors import CellError, NotUnderstood
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards.base import System
from sheetfuncs.standards.callouts import INCHES, NUMBER, NUMBERED, unsettled

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable


_CALLOUT = re.compile(rf"(?i)(?P<size>{NUMBERED}|{NUMBER}){INCHES}(?:\s*-\s*(?P<tpi>{NUMBER}))?(?P<tail>(?:[\s-].*)?)")
_CLASS = re.compile(r"(?i)[\s-]*(?:\d[A-Z])?(?:[\s-]*[LR]H)?")


def read(text: str, systems: Iterable[System]) -> Thread | None:
    """The thread that is meant, with a note of what was taken; None where the text is no size.

    A size and threads per inch alone are a Unified thread (practice, no source): of its series that give a size one
    pitch, or else the only standard pair there is. Anything that several standard threads share, and a size alone, is
    refused with a list of them.

    >>> from sheetfuncs import standards
    >>> found = standards.read("1/4-20-2A")
    >>> standards.write(found), found.note
    ('1/4-20 UNC-2A', 'series not written: UNC taken')
    """
    match = _CALLOUT.fullmatch(text)
    if match is None:
        return None
    found = _standard_threads_meant(match, systems)
    choices = {thread: system.write(thread) for thread, system in found.items()}
    if match["tpi"]:
        customary = [
            thread
            for thread, system in found.items()
            if thread.series in system.by_custom and not ("/" in match["size"] and choices[thread].startswith("#"))
        ]  # 1/8 is no numbered size, though #5 is as large
        of_custom = [thread for thread, system in found.items() if system.by_custom] if len(found) == 1 else []
        for thread in (customary or of_custom)[:1]:
            others = [written for other, written in choices.items() if other != thread]
            not_these = f", not {' or '.join(others)}" if others else ""
            return noted(thread, f"series not written: {thread.series} taken{not_these}")
    if choices:
        raise unsettled(text, list(choices.values()))
    if match["size"] != "0" and not read_inch_size(match["size"]):
        from sheetfuncs.standards.unified_callouts import no_size  # no other standard has numbered sizes

        raise no_size(match["size"], text)
    if _CLASS.fullmatch(match["tail"]):
        raise NotUnderstood(f"{text} is no standard thread; write the series too, as in 3/4-16 UNF-2A or 0.9-14 UNS-2A")
    return None


def _standard_threads_meant(match: re.Match[str], systems: Iterable[System]) -> dict[Thread, System]:
    """The standard threads of this size, and pitch where it is written, that the rest of the callout suits."""
    size, behind = match["size"], f"-{match['tpi']}" if match["tpi"] else ""
    sizes = [size]
    if size.isdigit() and read_inch_size(f"#{size}"):
        sizes = [f"{size}.", f"#{size}"]  # with a point it is inches
    found: dict[Thread, System] = {}
    for system in systems:
        standard = _listed(system.standard_threads) if system.names else ()
        for callout in (f"{written}{behind} {name}{match['tail']}" for name in system.names for written in sizes):
            try:
                thread = system.read(callout)
            except CellError:
                continue
            if thread is not None and thread.size in standard:
                found.setdefault(thread, system)
    return found


@lru_cache(maxsize=16)
def _listed(standard_threads: Callable[[], list[Thread]]) -> frozenset[Thread]:
    """What a standard lists, to look threads up in."""
    return frozenset(standard_threads())
