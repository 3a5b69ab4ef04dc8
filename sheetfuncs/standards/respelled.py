"""Callouts that people write otherwise than the standards do, each brought to the spelling that a reader takes.

First what stands beside the thread is taken out: the hand in the middle, a gauging system, a number of starts, the
decimal of a size in brackets. What it says must agree with the thread that is read from the rest.
"""

from __future__ import annotations

import re

from sheetfuncs.designations import HANDS, Thread, noted, plain, read_inch_size
from sheetfuncs.errors import CellError, NotUnderstood
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards.callouts import NUMBER, NUMBERED

if TYPE_CHECKING:
    from collections.abc import Callable

    Check = Callable[[Thread], str]

GAUGED = ("unified", "unj", "iso_metric", "mj")
"""Systems of the threads that ASME B1.3 has gauging systems for (its title: UN, UNR, UNJ, M and MJ)."""

_WORDS = ("ONE", "TWO", "THREE", "FOUR", "FIVE", "SIX", "SEVEN", "EIGHT")
_COUNTS = {
    **{word: count for count, word in enumerate(_WORDS, 1)},
    **dict(zip(("SINGLE", "DOUBLE", "TRIPLE", "QUADRUPLE"), (1, 2, 3, 4))),
}
_STARTS = re.compile(rf"(?i)[\s-]*(?:\(\s*|\b)(?P<count>\d+|{'|'.join(_COUNTS)})[\s-]*STARTS?\b\s*\)?")
_GAUGING = re.compile(r"[\s-]*\((?P<number>2[1-3])\)")
_HAND = re.compile(rf"(?i)(?:^|[\s-]+|(?<=\))|(?=\())({'|'.join(map(re.escape, HANDS))})(?=$|[\s(-])")
_DECIMAL = re.compile(rf"(?i)^(?P<size>{NUMBERED}|{NUMBER})\s*\(\s*(?P<decimal>\d*\.\d+)\s*\)")

_NAME = r"\s*-?\s*(?:UN|BS[WF]|WHIT|(?:STUB\s*)?ACME|BUTT|NPT|NPSM)"
_TIMES = re.compile(rf"(?i)^(?P<size>{NUMBERED}|{NUMBER})\s*\"?\s*x\s*(?=(?:{NUMBER}){_NAME})")
_SERIES = r"(?:UN[RJ]?(?:C|F|EF|S)?|ACME|BUTT(?:RESS)?)"
_SPELLINGS = (
    (r"-(\d+)[\s-]+\1-?(?=UN)", r"-\1 "),  # 1-8 8UN
    (r"\bCL\.?\s*(?=\d)", "class "),
    (r"^(MJ?\s*\d.*-\s*\d) ?([a-h]) ?(\d) ?([a-h])(?=$|[\s(-])", r"\1\2\3\4"),  # M10x1.5-4 g 6 g
    (r"^((?:MJ?|Tr)\s*\d.*-\s*\d) ([a-h])(?=$|[\s(-])", r"\1\2"),  # M10x1.5-6 g
    (rf"^([#\dN].*{_SERIES}[\s-]*(?:class\s*)?\d) ([ABCG])(?=$|[\s(-])", r"\1\2"),  # 3/4-16 UNF-2 A
    (r"^(#?[\d./ -]*-\s*[1-3]) ([AB])(?=$|[\s(-])", r"\1\2"),  # 1/4-20-2 A
)
"""Patterns and what stands for them; each leaves but one thread that can be meant (practice, no source)."""


def read(text: str, as_written: Callable[[str], Thread]) -> Thread | None:
    """The thread that is plainly meant, with the notes of what was left out; None where nothing is to be respelled.

    >>> from sheetfuncs import standards
    >>> found = standards.read("No. 10 (.190)-32 UNF-LH-2A (21)")
    >>> standards.write(found), found.note
    ('#10-32 UNF-2A-LH', 'gauging system 21 of ASME B1.3 left out, the limits are the same')
    """
    checks = []
    plainer = text
    for pattern, take_out in _ASIDES:
        match = pattern.search(plainer)
        if match is not None:
            put, check = take_out(match, text)
            plainer = f"{plainer[: match.start()]}{put}{plainer[match.end() :]}"
            checks.append(check)
    plainer = _hand_at_the_end(plainer)
    for written, meant in _SPELLINGS:
        plainer = re.sub(f"(?i){written}", meant, plainer)
    plainer = " ".join(plainer.split())
    if plainer == text:
        return None
    try:
        thread = as_written(plainer)
    except CellError as error:  # the sentence quotes what was typed
        raise type(error)(str(error).replace(plainer, text, 1)) from None
    return noted(thread, "; ".join(note for note in (thread.note, *(check(thread) for check in checks)) if note))


def _hand_at_the_end(text: str) -> str:
    """The callout with its hand behind all else, wherever it stood apart from the rest."""
    hands = _HAND.findall(text)
    return f"{_HAND.sub(' ', text)} {'LH' if HANDS[hands[0].upper()] else 'RH'}" if hands else text


def _gauging_system(match: re.Match[str], text: str) -> tuple[str, Check]:
    """The gauging system in brackets behind the class, which changes no limit.

    It says which characteristics of the product are gauged (ASME B1.3-2007, scope). That it stands behind the class in
    brackets, and the numbers 21, 22 and 23, are from memory of ASME B1.1 and B1.3.
    """
    number = match["number"]

    def check(thread: Thread) -> str:
        if thread.system not in GAUGED:
            raise NotUnderstood(
                f"{text}: the gauging systems of ASME B1.3 are for UN, UNR, UNJ, M and MJ threads; leave ({number}) off"
            )
        return f"gauging system {number} of ASME B1.3 left out, the limits are the same"

    return " ", check


def _starts(match: re.Match[str], text: str) -> tuple[str, Check]:
    """The number of starts beside lead and pitch, as in (2 starts); ISO 965-1:2013, clause 6, allows it."""
    word = match["count"].upper()
    count = _COUNTS.get(word) or int(word)

    def check(thread: Thread) -> str:
        if thread.starts == count:
            return ""
        said = f"it says {count} start{'s' * (count != 1)}"
        has = f"pitch and lead give {thread.starts}" if thread.starts > 1 else "no lead of several starts is written"
        raise NotUnderstood(f"{text}: {said}, but {has}; write the lead that is meant, or leave the starts off")

    return " ", check


def _decimal(match: re.Match[str], text: str) -> tuple[str, Check]:
    """The decimal in brackets behind a size, as in #10 (.190): the size it says must be the one before it."""
    size, decimal = match["size"], match["decimal"]
    step = 10.0 ** -len(decimal.partition(".")[2])
    written = [size, f"#{size}"] if size.isdigit() and read_inch_size(f"#{size}") else [size]
    sizes = {one: read_inch_size(one) for one in written}
    for one, inches in sizes.items():
        if inches is not None and abs(inches - float(decimal)) <= 0.5001 * step:
            return one, _nothing_to_say
    *_, (one, inches) = sizes.items()
    known = f"{one} is {plain(inches)} in, not {decimal}" if inches else f"there is no size {size}"
    raise NotUnderstood(f"{text}: {known}; write the size that is meant")


def _times(match: re.Match[str], text: str) -> tuple[str, Check]:
    """An x before the threads per inch, as in 3/4x16 UNF; the pair must be a standard one, or it may be a length."""

    def check(thread: Thread) -> str:
        from sheetfuncs.standards import system  # this room is loaded by that one

        if thread.size not in system(thread).standard_threads():
            raise NotUnderstood(
                f"{text}: no standard thread, and what stands behind an x may be a length; write the threads per inch "
                f"behind a dash, as in 3/4-16 UNF"
            )
        return ""

    return f"{match['size']}-", check


def _nothing_to_say(thread: Thread) -> str:
    return ""


_ASIDES = ((_GAUGING, _gauging_system), (_STARTS, _starts), (_DECIMAL, _decimal), (_TIMES, _times))
"""What may stand beside the thread, and what takes it out: it gives what stays in its place, and a check."""
