"""What is wrong with a callout that no standard's reader takes, where one part of it is plainly to blame."""

from __future__ import annotations

import re

from sheetfuncs.designations import HANDS, split_hand

_PIPE = {
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

_REAL = "is a real thread that is not covered here"
_NOT_COVERED = (
    (rf"\b({'|'.join(_PIPE)})\b", f"{{}}, {{pipe}}, {_REAL}; NPT and NPSM are"),
    (
        r"\b(NPS)\b",
        "{} says no more than straight pipe thread; NPSM is covered, NPSC and NPSL are not: write which",
    ),
    (
        r"^(S)\s*\d*\.?\d+\s*x",
        f"{{}}, the metric saw-tooth thread of DIN 513, {_REAL}; the inch buttress thread is",
    ),
    (r"^(S)\s*[01]?\.\d+", f"{{}}, the miniature thread of ISO 1501, {_REAL}; M threads from 1 mm up are"),
    (r"^(Rd)\s*\d", f"{{}}, the round (knuckle) thread of DIN 405, {_REAL}"),
    (
        r"^(W)\s*\d*\.?\d+\s*x",
        f"{{}}, the thread of Whitworth form of gas cylinder valves (DIN 477), {_REAL}; BSW is",
    ),
    (r"^(P\.?G)\s*\d", f"{{}}, the steel conduit thread of DIN 40430, {_REAL}"),
    (r"^(E)\s*\d", f"{{}}, the Edison thread of lamp caps, {_REAL}"),
    (
        r"^(Rs)\s*\d",
        "{} is no letter of ISO 7-1; write R outside, Rc (taper) or Rp (parallel) inside",
    ),
    (r"^(PT)\s*\d", "{} is the taper pipe thread by its old name of JIS B 0203; write R outside or Rc inside"),
    (r"^(PS)\s*\d", "{} is the parallel pipe thread by its old name of JIS B 0203; write Rp"),
    (r"^(PF)\s*\d", "{} is the parallel pipe thread by its old name of JIS B 0202; write G"),
    (
        r"\b(N(?:C|F|EF|S))(?=\b|\d)",
        "{} is the American National thread, which Unified has replaced; write U{} if that is meant",
    ),
    (r"^(EG)\b", f"{{}}, the tapped hole for a wire thread insert (DIN 8140), {_REAL}"),
    (r"\b(STI)\b", f"{{}}, the tapped hole for a wire thread insert (ASME B18.29.1), {_REAL}"),
    (r"^(MF)\s*\d", "{} is no letter of ISO 261; a fine pitch is written M too, as in M10x1"),
    (
        r"^M.*\d((?-i:az|AZ|AX))\b",
        "{}, a position for hot-dip galvanized threads (ISO 965-4 and -5), is real and not covered here",
    ),
)
"""Names of threads that exist and are not worked here, or are worked under another name, in capitals or not; numbers of
standards from memory, but those of pipe threads and ISO 965-4.
"""

_BEHIND_A_CLASS = "stands behind the class, where only LH may, or (21), (22) or (23)"
_MODIFIED = (
    r"MOD(?:IFIED)?\b\.?|(?:AFTER|BEFORE) (?:PLATING|COATING)|P\.?D\.?(?=[\s.\d]|$)|(?:PITCH|MAJOR|MINOR) DIA\w*"
)
_PLAIN_FAULTS = (
    (
        rf"(?i)\d.*[\s-](?P<part>{_MODIFIED})",
        "'{part}': limits modified on the drawing, or for a stage of plating, are not covered; leave it off",
    ),
    (
        r"^(?P<before>.*)\b(?P<one>\d[A-Za-z](?:\d[A-Za-z])?)\s*/\s*(?P<other>\d[A-Za-z](?:\d[A-Za-z])?)\b",
        "{one}/{other} is a fit of two threads; write one side at a time, {before}{one} or {before}{other}",
    ),
    (
        r"(?i)^(?:M|.*UN).*\d[A-H]\s*\((?P<part>\d+)\)(?<!\(2[123]\))",
        f"'({{part}})' {_BEHIND_A_CLASS}",
    ),
    (
        r"-(?P<one>\d+)[\s-]+(?!(?P=one)-?UN)(?P<other>\d+)-?UN",
        "threads per inch are written twice, {one} and {other}; write one of them",
    ),
)
"""What is wrong whatever stands about it."""

_HAND = re.compile(rf"(?i)(?:^|[\s(-])({'|'.join(re.escape(word) for word in HANDS if word[0] != '(')})(?=$|[\s()-])")
_UNIFIED = re.compile(r"(?i).*\d.*?(?P<series>UN[RJ]?(?:C|F|EF|S)?)(?:[\s-]+|(?=\d))(?:class\s+)?(?P<behind>.+)")
_SPECIAL_ENGAGEMENT = re.compile(r"(?i)\bSE(?=\b|\d)")
_BEHIND_CLASS = re.compile(r"(?i)[1-3][AB](?:[\s-]*)(?P<more>.*)")


def fault(text: str) -> str:
    """A sentence on what is wrong whatever a standard's reader says of it; nothing where there is no such thing.

    >>> fault("3/8-18 NPTF")
    '3/8-18 NPTF: NPTF, the dryseal taper pipe thread, is a real thread that is not covered here; NPT and NPSM are'
    >>> fault("M10x1.5-6H/6g")
    'M10x1.5-6H/6g: 6H/6g is a fit of two threads; write one side at a time, M10x1.5-6H or M10x1.5-6g'
    >>> fault("3/4-16 UNF-2A-LH-RH")
    '3/4-16 UNF-2A-LH-RH: both hands are written, LH and RH; write one of them'
    """
    for pattern, sentence in _NOT_COVERED:
        match = re.search(pattern, text, re.IGNORECASE)
        if match is not None:
            name = match[1]
            return f"{text}: {sentence.format(name, name.upper(), pipe=_PIPE.get(name.upper()))}"
    for pattern, sentence in _PLAIN_FAULTS:
        match = re.search(pattern, text)
        if match is not None:
            return f"{text}: {sentence.format(**match.groupdict())}"
    hands = {HANDS[word.upper()]: word for word in _HAND.findall(text)}
    if len(hands) > 1:
        return f"{text}: both hands are written, {' and '.join(hands.values())}; write one of them"
    return ""


def fault_behind_series(text: str) -> str:
    """A sentence on what stands behind the series of a Unified callout that no reader took.

    >>> print(fault_behind_series("1/4-20 UNC-4A"))
    1/4-20 UNC-4A: '4A' is no class of a Unified thread; the classes are 1A, 2A, 3A outside and 1B, 2B, 3B inside
    """
    unified = _UNIFIED.fullmatch(split_hand(text)[0])
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
        return f"{text}: '{with_class['more']}' {_BEHIND_A_CLASS}"
    return ""
