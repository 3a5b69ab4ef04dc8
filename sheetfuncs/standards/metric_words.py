"""Words of a metric callout where ISO 965-1 has none: LH in the middle, a length, a series beside a pitch."""

from __future__ import annotations

import re

from sheetfuncs.errors import NotUnderstood

_HAND = re.compile(r"(?i)(.*\d)[\s-]*([LR])H(?:[\s-]+(.+))?")
_PITCH = re.compile(r"((?:ph[\d.]+p)?[\d.]*\d)(\D.*)")
_CLASS = re.compile(r"\d[a-z](?:\d[a-z])?")


def without_hand(rest: str, text: str) -> tuple[str, bool]:
    """A designation without the hand that stands behind its size, and whether that is left hand.

    Behind a class it could be letters of the class, and is refused.

    >>> without_hand("M20x1.5LH-6g", "M20x1.5LH-6g"), without_hand("M10RH", "M10RH")
    (('M20x1.5-6g', True), ('M10', False))
    """
    match = _HAND.fullmatch(rest)
    if match is None or rest != text:
        raise NotUnderstood(f"{text}: write LH once and at the end, as in M20x1.5-6g-LH")
    return "-".join(part for part in (match[1], match[3]) if part), match[2] in "Ll"


def fault_behind_pitch(written: str) -> str:
    """What is wrong in "x" and all behind it, where no pitch can be read from it; nothing where it is the pitch itself.

    >>> fault_behind_pitch("1.5 6")
    "'6' is no tolerance class; write its letter too, as in 6g or 6H"
    """
    match = _PITCH.fullmatch(written)
    if match is None:
        return ""
    words = match[2].split()
    if words[-1] in ("fine", "coarse"):
        return f"pitch and series are both written; leave {words[-1]} off"
    if words[0][0] == "x":
        return _no_length(match[2].strip())
    if len(words) == 1 and words[0].isdigit():
        return f"'{words[0]}' is no tolerance class; write its letter too, as in 6g or 6H"
    return fault_behind_class(match[2])


def fault_behind_class(written: str) -> str:
    """What is wrong behind a class, where that is plain.

    >>> fault_behind_class("6g 35")
    "'35' behind the class is neither LH nor a length of engagement, S, N or L; leave it off"
    """
    before, sign, length = written.partition("x")
    if sign and _CLASS.fullmatch(before.strip()):
        return _no_length(sign + length)
    first, *others = written.split()
    if not others or not _CLASS.fullmatch(first):
        return ""
    if others[-1] in ("fine", "coarse"):
        return f"'{others[-1]}' stands behind the class; write the pitch before it, as in M20x1.5-6g"
    return f"'{' '.join(others)}' behind the class is neither LH nor a length of engagement, S, N or L; leave it off"


def _no_length(written: str) -> str:
    return f"a length such as '{written}' is no part of a thread's designation; leave it off"
