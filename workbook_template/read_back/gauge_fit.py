"""Whether a ring or plug is for a thread and for what is asked of it, from its kind and its marking.

The words of the rule at the top of `workbook_template.sheets.log`, programmed a second time.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from sheetfuncs.designations import Thread
from sheetfuncs.standards import system
from workbook_template.trade import gauges

KINDS = {
    "go ring": ("ring", {"go"}),
    "not go ring": ("ring", {"not go"}),
    "go/not go ring": ("ring", {"go", "not go"}),
    "go plug": ("plug", {"go"}),
    "not go plug": ("plug", {"not go"}),
    "go/not go plug": ("plug", {"go", "not go"}),
    "taper ring": ("ring", {"go"}),
    "taper plug": ("plug", {"go"}),
}
"""What each kind of thread gauge is, and what it can be asked."""

NO_SIZE = frozenset((*KINDS, "setting plug", "gauge blocks", "thermometer"))
"""Kinds that measure no size, in small letters."""

LISTED = frozenset(kind.lower() for kind in gauges.KINDS)
"""Every kind that there is, in small letters."""

ASKED = {"pass": "go", "go fails": "go", "not go enters": "not go"}
SIDES = {"ring": "external", "plug": "internal"}
SIDE_WORDS = ("EXTERNAL", "INTERNAL", "INT", "EXT", "BOLT", "NUT")
"""Words of a callout that a gauge need not be marked with: a ring or a plug says as much."""


def no_size(kind: str) -> str:
    """Why an instrument of that kind, in small letters, measures no size; empty where it does, or none is typed.

    >>> no_size("go ring"), no_size("micrometer"), no_size("")
    ('is a go ring: it measures no size', '', '')
    """
    if kind and kind not in LISTED:
        return f"{gauges.UNLISTED}{kind}"
    return f"is a {kind}: it measures no size" if kind in NO_SIZE else ""


class Marking(NamedTuple):
    """A marking read: the thread without its hand, the hand, and go, not go or nothing."""

    thread: str
    left_hand: bool
    member: str


def marking(text: str) -> Marking:
    """Read a marking, or the callout of a job.

    >>> marking("3/4-16 UNF-2A LH  Not Go"), marking("M20 × 2.5 - 6g GO PD 18.334").thread
    (Marking(thread='3/416UNF2A', left_hand=True, member='not go'), 'M20X2.56G')
    """
    plain = "".join(sign for sign in text.upper() if sign not in " -–—−").replace("×", "X").replace("*", "X")
    plain = plain.replace("LEFTHAND", "LH").replace("RIGHTHAND", "RH").partition("PD")[0]
    member = "not go" if "NOTGO" in plain or "NOGO" in plain else "go" if "GO" in plain else ""
    if plain.endswith(("HI", "LO")):
        plain, member = plain[:-2], "not go"
    left_hand = "LH" in plain
    for word in ("GO/NOTGO", "GO/NOGO", "NOTGO", "NOGO", "GO", *SIDE_WORDS, "LH", "RH"):
        plain = plain.replace(word, "")
    return Marking(plain, left_hand, member)


def settles(kind: str, thread: Thread) -> bool:
    """Whether a pass alone says that a part is in: by a GO and a NOT GO gauge, or on a taper, where there is none."""
    return system(thread).taper > 0 or KINDS.get(kind, ("", set()))[1] == {"go", "not go"}


def of_basic_size(thread: Thread) -> str:
    """The thread of a GO gauge of basic size; empty where the system has no class of it.

    >>> from sheetfuncs.standards import read
    >>> of_basic_size(read("3/4-16 UNF-2A")), of_basic_size(read("M20x2.5-4g6g LH")), of_basic_size(read("1-5 ACME-2G"))
    ('3/416UNF3A', 'M20X2.54H6H', '')
    """
    name = {"unified": "3A", "iso_metric": re.sub("[a-g]", "h", thread.thread_class.replace("G", "H"))}
    if thread.system not in name:
        return ""
    return marking(system(thread).write(thread._replace(thread_class=name[thread.system]))).thread


def why_not(kind: str, marked: str, said: str, thread: Thread | None, callout: str, coated: bool) -> str:
    """Why a gauge can't have said that of the thread; empty where it can. `kind` and `said` in small letters.

    On a `coated` part whose class stands off basic size, the GO gauge of basic size serves too.
    """
    if kind and kind not in LISTED:
        return no_size(kind)
    if kind not in KINDS:
        return "is no ring or plug gauge"
    if thread is None:
        return "can't be compared without a thread"
    shape, members = KINDS[kind]
    found, job = marking(marked), marking(callout)
    if system(thread).taper:
        found = found._replace(thread=found.thread.removesuffix("L1"))
    if thread.side != SIDES[shape]:
        return f"is a {shape}"
    basic = of_basic_size(thread) if coated and members == {"go"} else ""
    if not found.thread or found.thread not in (job.thread, basic):
        return f"is for {marked or 'no thread that is named'}, not for {callout}"
    if found.left_hand != thread.left_hand:
        return "is of the other hand"
    if len(members) == 1 and found.member and found.member not in members:
        return f"is marked {found.member.upper()}"
    return "" if ASKED[said] in members else f"is no {ASKED[said].upper()} gauge"
