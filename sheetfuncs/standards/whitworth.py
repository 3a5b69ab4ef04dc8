"""Whitworth threads BSW, BSF and specials: designations, standard pairs, basic sizes and limits (BS 84).

Form: 55 degrees, height of the sharp triangle H = 0.960491 P, a sixth cut off and rounded at crest and root,
so depth h = 0.640327 P and radius r = 0.137329 P (Machinery's Handbook, 31st ed., p. 2087, Table 2).

Tolerances: BS 84:2007, annex, and Machinery's Handbook, 27th ed., p. 1857, by a transcription of that table of
formulas; no printed row of limits was found. Where they say nothing, and this module speaks FROM MEMORY of the same
page, it is said at the place: the length of engagement, the size of the allowance.
"""

from __future__ import annotations

import re
from math import sqrt

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import (
    Thread,
    plain,
    read_inch_size,
    split_hand,
    threads_per_inch,
    write_inches,
)
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards.base import Basic, Limits, Root, Size, System, no_limits_without_class, round_half_even
from sheetfuncs.standards.callouts import BEHIND_SIZE, INCHES, NUMBER, class_and_side, root_to_clear, unsettled
from sheetfuncs.units import read_number

CLASSES = {
    "external": "close bolt, medium bolt, free bolt",
    "internal": "close nut, medium nut, normal nut",
}

_CALLOUT = re.compile(
    rf"(?i)(?P<size>{NUMBER})(?:{BEHIND_SIZE}(?P<tpi>{NUMBER}))?"
    rf"{INCHES}\s*-?\s*(?P<series>B\.?S\.?[WF]\b\.?|WHIT(?:WORTH)?\b\.?)(?P<words>.*)"
)

LARGEST_IN = 24.0
"""Above this no Whitworth thread is worked; the standard series end at 6 in, special ones go on (our bound)."""

ROOT_RADIUS = 0.137329
"""Radius of crest and root as a share of the pitch (Machinery's Handbook, 31st ed., p. 2087, Table 2)."""

DEPTH_OF_SHARP = 2 / 3
"""Depth of the thread as a share of H (BS 84:1956, form of thread)."""

LARGEST_WITH_ALLOWANCE_IN, SMALLEST_WITH_OWN_ALLOWANCE_IN = 0.75, 0.25
"""Medium and free bolts up to 3/4 in are made below basic size (a gauge maker's page "BSW and BSF Thread Gauges")."""

ALLOWANCE_SHARE = 0.3
"""The allowance is this share of the medium tolerance; below 1/4 in it stays that of 1/4 in.

FROM MEMORY of Machinery's Handbook, 27th ed., p. 1857.
"""

# Effective diameter: share of T. Minor diameter of a bolt: what is added, times the root of the pitch.
_SHARE_OF_T = {"close": 2 / 3, "medium": 1.0, "free": 1.5, "normal": 1.5}
_BOLT_MINOR = {"close": 0.013, "medium": 0.02, "free": 0.02}
_BOLT_MAJOR = 0.01
_SIDE_OF_CLASS = {"close": "external", "free": "external", "normal": "internal"}


def read(text: str) -> Thread | None:
    """A Whitworth designation (BS 84:1956, designation), or None where the text is not one.

    `1/2-12 BSW`, `1/2-16 BSF`, or without the threads per inch: `1/2 BSW`. Specials are `1/2-20 WHIT`; a pair
    that is BSW or BSF gets that name. The class is a word: close, medium or free for bolts, close, medium or
    normal for nuts, in any order with bolt or nut. Free and close alone mean the bolt and normal alone the
    nut; medium is as common on both, so it must say which.

    >>> read("1/2 - 12 BSW (medium) nut").side, read("1/2 BSW close").pitch == 1 / 12, read("1/2-16 WHIT").series
    ('internal', True, 'BSF')
    """
    rest, left_hand = split_hand(text)
    match = _CALLOUT.fullmatch(rest)
    if not match:
        return None
    diameter = read_inch_size(match["size"])
    if diameter is None or not 0 < diameter <= LARGEST_IN:
        raise OutOfRange(f"{text}: '{match['size']}' is no Whitworth size; write inches, as in 1/2-12 BSW")
    series = match["series"].upper().replace(".", "")[:4]
    tpi = _threads(match["tpi"], diameter, series, text)
    if not 1 / tpi <= diameter / 2:
        raise OutOfRange(f"{text}: {plain(tpi)} threads per inch can't be cut on {plain(diameter)} in")
    thread_class, side = _class_and_side(match["words"], text)
    return Thread(
        "whitworth", "in", diameter, 1 / tpi, 1, _place(diameter, tpi, series, text), thread_class, side, left_hand
    )


def write(thread: Thread) -> str:
    """The designation in full: threads per inch, series, class, bolt or nut.

    >>> write(read(".5-12 b.s.w. close LH")), write(read("1/4 bsf nut"))
    ('1/2-12 BSW close bolt LH', '1/4-26 BSF nut')
    """
    size = f"{write_inches(thread.diameter)}-{plain(threads_per_inch(thread.pitch))} {thread.series}"
    word = {"external": "bolt", "internal": "nut"}.get(thread.side, "")
    return " ".join(part for part in (size, thread.thread_class, word, "LH" * thread.left_hand) if part)


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: effective diameter D - h, minor diameter D - 2 h, h = 0.640327 P (BS 84:1956).

    >>> [round(size, 4) for size in basic(read("1/4-20 BSW"))]
    [0.25, 0.218, 0.186]
    """
    depth = _depth(thread)
    return Basic(thread.diameter, thread.diameter - depth, thread.diameter - 2 * depth)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches, basic sizes, allowance and tolerances each rounded to 0.0001.

    T = 0.002 D^(1/3) + 0.003 L^(1/2) + 0.005 P^(1/2), the length of engagement L being the diameter for BSW
    and BSF (FROM MEMORY; it gives the customary figures). Effective diameter: 2/3 T close, T medium, 3/2 T free
    and normal. Bolts: major the same + 0.01 P^(1/2); minor + 0.013 P^(1/2) close, + 0.02 P^(1/2) medium and
    free. Nuts: minor 0.2 P + 0.004 from 26 threads per inch up, + 0.005 for 24 and 22, + 0.007 for 20 and fewer.
    The root may stand no higher than the form makes it at the greatest effective diameter.

    >>> limits(read("1/4-20 BSW medium bolt")).pitch
    Size(max=0.2168, min=0.2129, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    if thread.series == "WHIT":
        raise NotGiven(
            f"{write(thread)}: BS 84 works the tolerance from the length of engagement, which is not known for "
            f"a special thread; it has basic sizes but no limits here"
        )
    base = medium_tolerance(thread.diameter, thread.pitch)
    share = _SHARE_OF_T[thread.thread_class] * base
    tolerance = round_half_even(share, 4)
    major, middle, minor = (round_half_even(size, 4) for size in basic(thread))
    if thread.side == "internal":
        return Limits(
            Size(None, major),
            _size(middle + tolerance, middle),
            _size(minor + _nut_minor_tolerance(thread.pitch), minor),
            0.0,
            root_to_clear(middle, _depth(thread), thread.side, 4),
        )
    allowance = _allowance(thread)
    crest = round_half_even(share + _BOLT_MAJOR * sqrt(thread.pitch), 4)
    root = round_half_even(share + _BOLT_MINOR[thread.thread_class] * sqrt(thread.pitch), 4)
    major, middle, minor = major - allowance, middle - allowance, minor - allowance
    return Limits(
        _size(major, major - crest),
        _size(middle, middle - tolerance),
        _size(minor, minor - root),
        allowance,
        root_to_clear(round_half_even(middle, 4), _depth(thread), thread.side, 4),
    )


def medium_tolerance(diameter: float, pitch: float) -> float:
    """T, the effective diameter tolerance of the medium class, for an engagement of one diameter; inches.

    >>> round(medium_tolerance(0.25, 0.05), 4)
    0.0039
    """
    found: float = 0.002 * diameter ** (1 / 3) + 0.003 * sqrt(diameter) + 0.005 * sqrt(pitch)
    return found


def root_form(thread: Thread) -> Root:
    """The tool of the full form: a nose of the form's own radius (BS 84).

    >>> round(root_form(read("1-8 BSW")).largest, 4)
    0.0172
    """
    radius = ROOT_RADIUS * thread.pitch
    return Root("radius", radius, radius, "radius of the form, BS 84")


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in BS 84, in words.

    >>> standing(read("1/2-12 BSW")), standing(read("1/2-20 WHIT"))
    ('BSW series of BS 84', 'no pair of BSW or BSF, Whitworth form by the formulas of BS 84, basic sizes only')
    """
    if thread.series == "WHIT":
        return "no pair of BSW or BSF, Whitworth form by the formulas of BS 84, basic sizes only"
    return f"{thread.series} series of BS 84"


def standard_threads() -> list[Thread]:
    """Every pair of BSW, then of BSF, without a class."""
    return [
        Thread("whitworth", "in", diameter, 1 / tpi, series=series)
        for (series, diameter), tpi in sorted(_pairs().items(), key=lambda pair: pair[0][0] == "BSF")
    ]


def _depth(thread: Thread) -> float:
    return DEPTH_OF_SHARP * forms.sharp_height(forms.FIFTY_FIVE, thread.pitch)


def _allowance(thread: Thread) -> float:
    if thread.thread_class == "close" or thread.diameter > LARGEST_WITH_ALLOWANCE_IN:
        return 0.0
    diameter, pitch = thread.diameter, thread.pitch
    if diameter < SMALLEST_WITH_OWN_ALLOWANCE_IN:
        diameter = SMALLEST_WITH_OWN_ALLOWANCE_IN
        pitch = 1 / _pairs()[thread.series, diameter]
    return round_half_even(ALLOWANCE_SHARE * medium_tolerance(diameter, pitch), 4)


def _nut_minor_tolerance(pitch: float) -> float:
    tpi = threads_per_inch(pitch)
    added = 0.004 if tpi >= 26 else 0.005 if tpi >= 22 else 0.007
    return round_half_even(0.2 * pitch + added, 4)


def _threads(written: str | None, diameter: float, series: str, text: str) -> float:
    """Threads per inch as written, or those of the series where they are left off."""
    if written is None:
        listed = _pairs().get((series, diameter))
        if listed is None:
            size = write_inches(diameter)
            choices = [f"{size}-{plain(tpi)} {name}" for (name, inches), tpi in _pairs().items() if inches == diameter]
            if series == "WHIT" and choices:
                raise unsettled(text, choices)
            usual = plain(_coarse_up_to(diameter))
            raise NotUnderstood(
                f"{text}: {series} lists no {size}; write the threads per inch, as in {size}-{usual} WHIT"
            )
        return listed
    tpi = read_number(written) or 0.0
    if not 0 < tpi <= 160:
        raise OutOfRange(f"{text}: {written} threads per inch is no Whitworth pitch")
    return tpi


def _coarse_up_to(diameter: float) -> float:
    """Threads per inch of BSW on the diameter, or on the next smaller that has it: they can be cut on this one."""
    coarse = sorted((inches, tpi) for (series, inches), tpi in _pairs().items() if series == "BSW")
    return next((tpi for inches, tpi in reversed(coarse) if inches <= diameter), coarse[0][1])


def _place(diameter: float, tpi: float, asked: str, text: str) -> str:
    """The series of this pair; refused where the callout names one that has another pitch."""
    listed = next((series for series in ("BSW", "BSF") if _pairs().get((series, diameter)) == tpi), None)
    if asked == "WHIT":
        return listed or "WHIT"
    if asked == listed:
        return asked
    size = write_inches(diameter)
    own = _pairs().get((asked, diameter))
    there = f"; {asked} on {size} is {plain(own)} threads per inch" if own else ""
    fault = f"is {listed}, not {asked}" if listed else f"is no {asked} thread; call it WHIT if it is meant"
    raise NotGiven(f"{text}: {size}-{plain(tpi)} {fault}{there}")


def _class_and_side(words: str, text: str) -> tuple[str, str]:
    thread_class, side = class_and_side(words, tuple(_SHARE_OF_T), text)
    side = side or _SIDE_OF_CLASS.get(thread_class, "")
    if thread_class and not side:
        raise NotUnderstood(f"{text}: medium is a class of bolts and of nuts; say which, as in 'medium bolt'")
    if (thread_class, side) in (("free", "internal"), ("normal", "external")):
        raise NotUnderstood(f"{text}: BS 84 has {CLASSES['external']}; {CLASSES['internal']}")
    return thread_class, side


def _size(largest: float, smallest: float) -> Size:
    return Size(round_half_even(largest, 4), round_half_even(smallest, 4))


@lru_cache(maxsize=1)
def _pairs() -> dict[tuple[str, float], float]:
    return {
        (row["series"], read_inch_size(row["size"]) or 0.0): float(row["tpi"]) for row in tables.rows("whitworth_sizes")
    }


SYSTEM = System(
    key="whitworth",
    title="Whitworth",
    source="BS 84",
    unit="in",
    decimals=4,
    form=forms.FIFTY_FIVE,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("close bolt", "medium bolt", "free bolt", "close nut", "medium nut", "normal nut"),
    joiner=" ",
    names=("BSW", "BSF"),
    root_form=root_form,
)
