"""What is wrong with a callout that no standard's reader takes, where one part of it is plainly to blame."""

from __future__ import annotations

import re

from sheetfuncs.designations import split_hand

_NOT_COVERED = {
    "NPTF": "the dryseal taper pipe thread",
    "NPSF": "the dryseal straight internal pipe thread",
    "NPSI": "the dryseal straight internal pipe thread",
    "NPSC": "the straight pipe thread of couplings",
    "NPSL": "the straight pipe thread of locknuts",
    "NPSH": "the straight pipe thread of hose couplings",
    "NPTR": "the taper pipe thread of railings",
    "ANPT": "the aeronautical taper pipe thread",
}
"""Pipe threads of ASME B1.20.1, B1.20.3 and B1.20.7, and SAE AS71051 (the last two numbers from memory)."""

_PIPE = re.compile(rf"(?i)\b({'|'.join(_NOT_COVERED)})\b")
_UNIFIED = re.compile(r"(?i).*\d.*?(?P<series>UN[RJ]?(?:C|F|EF|S)?)(?:[\s-]+|(?=\d))(?:class\s+)?(?P<behind>.+)")
_SPECIAL_ENGAGEMENT = re.compile(r"(?i)\bSE(?=\b|\d)")
_BEHIND_CLASS = re.compile(r"(?i)[1-3][AB](?:[\s-]*)(?P<more>.*)")


def fault(text: str) -> str:
    """A sentence on the part that is wrong; nothing where none can be told.

    >>> fault("3/8-18 NPTF")
    '3/8-18 NPTF: NPTF, the dryseal taper pipe thread, is a real thread that is not covered here; NPT and NPSM are'
    >>> print(fault("1/4-20 UNC-4A"))
    1/4-20 UNC-4A: '4A' is no class of a Unified thread; the classes are 1A, 2A, 3A outside and 1B, 2B, 3B inside
    """
    pipe, unified = _PIPE.search(text), _UNIFIED.fullmatch(split_hand(text)[0])
    if pipe is not None:
        name = pipe[1].upper()
        return f"{text}: {name}, {_NOT_COVERED[name]}, is a real thread that is not covered here; NPT and NPSM are"
    if unified is None:
        return ""
    behind = unified["behind"]
    if _SPECIAL_ENGAGEMENT.search(behind):
        return (
            f"{text}: SE, a special length of engagement, has limits of its own that are not covered; leave SE off "
            f"for those of the usual length"
        )
    with_class = _BEHIND_CLASS.fullmatch(behind)
    if with_class is None:
        kind, classes = "Unified", "the classes are 1A, 2A, 3A outside and 1B, 2B, 3B inside"
        if "J" in unified["series"].upper():
            kind, classes = "UNJ", "the classes known here are 3A outside and 3B inside"
        return f"{text}: '{behind}' is no class of a {kind} thread; {classes}"
    if with_class["more"].upper() == "LH":
        return f"{text}: write LH behind a dash, as in 3/4-16 UNF-2A-LH"
    if with_class["more"]:
        return f"{text}: '{with_class['more']}' stands behind the class, where only LH may, or (21), (22) or (23)"
    return ""
