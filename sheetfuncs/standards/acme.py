"""Acme inch threads, general purpose and centralizing (ASME B1.5-1997): designations, sizes, limits of size.

Sources: ASME B1.5-1997 for scope and classes; its tables and formulas as Machinery's Handbook, 27th ed., pp. 1831 to
1843, reprints them from the edition of 1988. What was not seen there says FROM MEMORY.

A class such as 2G belongs to the screw and the nut alike, so a callout says which it is by a word at its end: INT (also
INTERNAL, NUT) for the nut, EXT (EXTERNAL, SCREW, BOLT) or nothing for the screw. Drawing offices write ACME-INTERNAL
and ACME-EXTERNAL; no word for it was seen in the standard.
"""

from __future__ import annotations

import re
from math import sqrt

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import (
    Thread,
    inch_pair_with_lead,
    plain,
    read_inch_size,
    split_hand,
    threads_per_inch,
    write_inch_pair,
)
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards.base import Basic, Limits, Root, Size, System, no_limits_without_class, round_half_even
from sheetfuncs.standards.callouts import (
    BEHIND_SIZE,
    INCHES,
    NUMBER,
    NUMBERED,
    PITCH_AND_LEAD,
    SIDES,
    pitch_and_starts,
)
from sheetfuncs.units import read_number

CLASSES = {
    "external": "2G, 3G, 4G general purpose, 2C, 3C, 4C centralizing",
    "internal": "the same with INT behind it, as in 2G-INT",
}
GENERAL_PURPOSE, CENTRALIZING = ("2G", "3G", "4G"), ("2C", "3C", "4C")

SMALLEST_IN, LARGEST_IN, FINEST_TPI = 0.125, 24.0, 40.0
"""What is worked at most (our bounds); the preferred sizes of the standard go from 1/4-16 to 5-2."""

_SIZE = rf"(?i)(?P<size>{NUMBERED}|{NUMBER})"
_PITCH = rf"(?:{PITCH_AND_LEAD}|(?P<tpi>{NUMBER}))"
_NAME = (
    rf"{INCHES}[\s-]*(?:(?P<class_before>\d[A-Z])[\s-]+)?(?P<stub>STUB[\s-]*)?ACME"
    r"(?:[\s-]*(?P<modified>M[12]))?(?:[\s-]*(?P<class>\d[A-Z]))?"
)
_CALLOUT = re.compile(rf"{_SIZE}{INCHES}\s*-\s*{_PITCH}{_NAME}")
_LOOSER = re.compile(rf"{_SIZE}(?:{BEHIND_SIZE}{_PITCH})?{_NAME}")  # a blank before the pitch, or no pitch
_SIDE = rf"(?i)[\s-]*\b(?P<word>{'|'.join(SIDES)})$"

_TOLERANCE_FACTORS = {"2": (0.006, 0.030), "3": (0.0028, 0.014), "4": (0.0020, 0.010)}
"""Pitch diameter tolerance = first x sqrt(D) + second x sqrt(P): ASME B1.5-1988, Table "Pitch Diameter Tolerances".

The factors of classes 3 and 4 FROM MEMORY (they are those of class 2 in the ratio 3 : 1.4 : 1); the printed minor
diameters of fourteen threads of these classes agree (tests/published/acme_limits.csv).
"""
_ALLOWANCE_FACTORS = {"2": 0.008, "3": 0.006, "4": 0.004}
"""Pitch diameter allowance over sqrt(D); behind ASME B1.5-1988, Table "Pitch Diameter Allowances"."""
_CENTRALIZING_CREST = {"2": (0.0035, 0.0035), "3": (0.0015, 0.0035), "4": (0.0010, 0.0020)}
"""Major diameter tolerance over sqrt(D), external and internal: MH27 p. 1842, Table 12."""
_CENTRALIZING_CLEARANCE = 0.0010
"""Minimum clearance at the major diameter over sqrt(D): MH27 p. 1842, Table 12."""


def read(text: str) -> Thread | None:
    """An Acme designation (ASME B1.5-1997, 2.15 and 3.15), or None where the text is not one.

    >>> read("1-5 ACME-2G").side, read("1-5 ACME-2G-INT-LH").side, read("2.875-0.4P-0.8L ACME-2G").starts
    ('external', 'internal', 2)
    """
    thread = read_callout(text, "acme", "ACME")
    if thread is None:
        return None
    if thread.thread_class not in ("", *GENERAL_PURPOSE, *CENTRALIZING):
        raise NotGiven(
            f"{text}: ASME B1.5 has no class {thread.thread_class}; it has 2G, 3G, 4G (general purpose) "
            f"and 2C, 3C, 4C (centralizing)"
        )
    refuse_too_deep(thread, basic(thread))
    return thread


def read_callout(text: str, system: str, series: str) -> Thread | None:
    """The grammar that Acme and stub Acme share; the class is taken as written. None where it is not of `series`."""
    if text[:1] not in "0123456789.#Nn":
        return None
    rest, side, left_hand = _split_tail(text)
    match = _CALLOUT.fullmatch(rest) or _LOOSER.fullmatch(rest)
    if not match or bool(match["stub"]) != series.startswith("STUB"):
        return None
    if match["modified"]:
        raise NotGiven(f"{text}: the modified form {match['modified'].upper()} is not worked, only the standard one")
    diameter = read_inch_size(match["size"])
    if diameter is None or not SMALLEST_IN <= diameter <= LARGEST_IN:
        raise OutOfRange(
            f"{text}: '{match['size']}' is no Acme size that this works; it goes from 1/8 to {LARGEST_IN:g} inches"
        )
    pitch, starts = _pitch_and_starts(match, diameter, series, text)
    thread_class = (match["class"] or match["class_before"] or "").upper()
    side = side or ("external" if thread_class else "")
    return Thread(system, "in", diameter, pitch, starts, series, thread_class, side, left_hand)


def write(thread: Thread) -> str:
    """The designation in its customary form; INT marks the nut, the screw is not marked where it has a class.

    >>> write(read("1.000-5-2g-acme-internal")), write(read("2.875-0.4P-0.8L-ACME-3C-LH"))
    ('1-5 ACME-2G-INT', '2 7/8-0.4P-0.8L ACME-3C-LH')
    """
    marked = {"internal": "INT", "external": "" if thread.thread_class else "EXT"}.get(thread.side, "")
    parts = (write_inch_pair(thread), thread.thread_class, marked, "LH" * thread.left_hand)
    return "-".join(part for part in parts if part)


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: pitch diameter D - P/2, minor diameter D - P (MH27 p. 1831, Table 3).

    >>> [round(size, 4) for size in basic(read("5/16-14 ACME"))]
    [0.3125, 0.2768, 0.2411]
    """
    d = thread.diameter
    return Basic(d, d - thread.pitch / 2, d - thread.pitch)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches, to the printed digit of the tables of ASME B1.5.

    The tables come about in steps: basic sizes to 4 places, allowance and tolerances as their own tables print
    them, and each limit from the printed limit before it; an exact half goes to the even digit. That is not said
    in words, but the printed rows need it.

    General purpose: external major D to D - 0.05P (at least 0.005); external minor 0.020 below basic (0.010
    finer than 10 threads per inch), with 1.5 times the pitch diameter tolerance; internal major 0.020 (0.010)
    above D with as much tolerance (this tolerance FROM MEMORY); internal minor D - P to 0.05P (0.005) above it.
    Centralizing: MH27 p. 1837, Table 8a, and p. 1842, Table 12.

    >>> limits(read("1-5 ACME-2G")).pitch
    Size(max=0.892, min=0.8726, reference='')
    >>> limits(read("1-5 ACME-2G-INT")).minor
    Size(max=0.81, min=0.8, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    d, pitch = round_half_even(thread.diameter, 4), thread.pitch
    centralizing = thread.thread_class in CENTRALIZING
    middle, minor = round_half_even(d - pitch / 2, 4), round_half_even(d - pitch, 4)
    tolerance = pitch_tolerance(thread)
    clearance = root_clearance(thread)
    outside, inside = (
        _printed(factor * sqrt(thread.diameter)) for factor in _CENTRALIZING_CREST[thread.thread_class[0]]
    )
    if thread.side == "internal":
        gap = _printed(_CENTRALIZING_CLEARANCE * sqrt(thread.diameter)) if centralizing else clearance
        root = _limit(d + gap)
        bore = _limit(d - 0.9 * pitch) if centralizing else minor
        return Limits(
            Size(_limit(root + (inside if centralizing else clearance)), root),
            Size(_limit(middle + round_half_even(tolerance, 4)), middle),
            Size(_limit(bore + crest_tolerance(thread)), bore),
            0.0,
            root,
        )
    allowance = pitch_allowance(thread)
    high, core = _limit(middle - allowance), _limit(minor - clearance)
    return Limits(
        Size(d, _limit(d - (outside if centralizing else crest_tolerance(thread)))),
        Size(high, _limit(high - round_half_even(tolerance, 4))),
        Size(core, _limit(core - 1.5 * tolerance)),
        allowance,
        core,
    )


def root_form(thread: Thread) -> Root:
    """The tool of the full form: a flat as wide as the groove at the root, P/4 and half the clearance below pitch line.

    That is 0.3707 P - 0.2586 times the clearance on the diameter (ASME B1.5-1997, flat at the root).

    >>> round(root_form(read("1/2-10 ACME")).largest, 4)
    0.0319
    """
    return flat_root(thread, thread.pitch / 4, "ASME B1.5")


def flat_root(thread: Thread, half_height: float, standard: str) -> Root:
    """The flat that the groove ends in, below half the basic height and half the clearance at the root.

    >>> round(flat_root(read("1/2-10 ACME"), 0.025, "ASME B1.5").smallest, 4)
    0.0319
    """
    flat = thread.pitch / 2 - (half_height + root_clearance(thread) / 2) * forms.TWENTY_NINE.spread
    return Root("flat", flat, flat, f"flat of the root, {standard}")


def standing(thread: Thread) -> str:
    """How the thread stands in ASME B1.5, in words: its pair, its kind, which side it is, and its starts.

    >>> standing(read("1 3/4-4 ACME")), standing(read("1-8 ACME-2G-INT"))
    ('preferred pair of ASME B1.5', 'general purpose, no preferred pair of ASME B1.5, worked by its formulas')
    """
    kind = {"": "", "G": "general purpose, ", "C": "centralizing, "}[thread.thread_class[1:]]
    stands = kind + preference(thread, "ASME B1.5")
    if thread.thread_class and thread.starts > 1:
        stands += "; its limits are those of one start"
    return stands


def preference(thread: Thread, standard: str) -> str:
    """Whether the pair is a preferred one, and that a bare class was taken as the screw; shared with stub Acme.

    >>> preference(read("1-5 ACME-2C"), "ASME B1.5")
    'preferred pair of ASME B1.5; taken as the screw (nut: 2C-INT)'
    """
    preferred = (thread.diameter, threads_per_inch(thread.pitch)) in _pairs()
    pair = f"preferred pair of {standard}" if preferred else f"no preferred pair of {standard}, worked by its formulas"
    screw = f"; taken as the screw (nut: {thread.thread_class}-INT)"
    return pair + screw * (thread.side == "external" and thread.thread_class != "")


def standard_threads() -> list[Thread]:
    """Every preferred pair of ASME B1.5, without a class, in the order of its table."""
    return preferred_threads("acme", "ACME")


def preferred_threads(system: str, series: str) -> list[Thread]:
    """The preferred pairs as threads of a system; ASME B1.5 and B1.8 recommend the same."""
    return [Thread(system, "in", diameter, 1 / tpi, series=series) for diameter, tpi in _pairs()]


def pitch_tolerance(thread: Thread) -> float:
    """Pitch diameter tolerance: the increments of diameter and pitch, each as printed, to 0.00001 in.

    >>> pitch_tolerance(read("1/4-16 ACME-2G"))      # MH27: "0.00300 + 0.00750"
    0.0105
    """
    of_diameter, of_pitch = _TOLERANCE_FACTORS[thread.thread_class[0]]
    increments = (of_diameter * sqrt(thread.diameter), of_pitch * sqrt(thread.pitch))
    return round(sum(round_half_even(part, 5) for part in increments), 5)


def pitch_allowance(thread: Thread) -> float:
    """Pitch diameter allowance of the screw, from the table of size ranges, by its formula above 5 1/2 in.

    >>> pitch_allowance(read("1 3/4-4 ACME-2C"))     # MH27 p. 1841, Table 10
    0.0105
    """
    number = thread.thread_class[0]
    for row in _allowance_rows():
        if thread.diameter <= float(row["to_in"]):
            return float(row[f"class{number}_in"])
    return round_half_even(_ALLOWANCE_FACTORS[number] * sqrt(thread.diameter), 4)


def crest_tolerance(thread: Thread) -> float:
    """Tolerance of the crest, 0.05P, at least 0.005 in, as printed (MH27 p. 1842, Table 12).

    >>> crest_tolerance(read("5/8-8 ACME-2G")), crest_tolerance(read("1/4-16 ACME-2G"))
    (0.0062, 0.005)
    """
    return max(0.005, round_half_even(0.05 * thread.pitch, 4))


def root_clearance(thread: Thread) -> float:
    """Minimum clearance at the root, on the diameter: 0.020 in, 0.010 finer than 10 threads per inch.

    >>> root_clearance(read("1/2-10 ACME")), root_clearance(read("3/8-12 ACME"))
    (0.02, 0.01)
    """
    return 0.010 if threads_per_inch(thread.pitch) > 10 else 0.020


def refuse_too_deep(thread: Thread, sizes: Basic) -> None:
    """Refuse a pitch that leaves less than a third of the diameter as core (our bound): it is a slip of the pen."""
    if sizes.minor < thread.diameter / 3:
        tpi = plain(threads_per_inch(thread.pitch))
        raise OutOfRange(f"{write(thread)}: {tpi} threads per inch can't be cut on {plain(thread.diameter)} in")


def _limit(value: float) -> float:
    return round_half_even(value, 4)


def _printed(value: float) -> float:
    """A cell of the centralizing tables: to 0.0001, an exact half down, as 0.00175 stands there as .0017."""
    return round_half_even(value - 1e-9, 4)


def _split_tail(text: str) -> tuple[str, str, bool]:
    """The callout without hand and side, which may stand in either order: what is left, the side, left hand."""
    rest, left_hand = split_hand(text)
    match = re.search(_SIDE, rest)
    if not match:
        return rest, "", left_hand
    rest, before = split_hand(rest[: match.start()])
    return rest, SIDES[match["word"].lower()], left_hand or before


def _pitch_and_starts(match: re.Match[str], diameter: float, series: str, text: str) -> tuple[float, int]:
    written = match["pitch"] or match["tpi"]
    if not written:
        pair = next((f"{size}-{plain(tpi)}" for (inches, tpi), size in _pairs().items() if inches == diameter), "1-5")
        raise NotUnderstood(f"{text}: write the threads per inch too, as in the preferred {pair} {series}")
    given = read_number(written) or 0.0
    if not 0 < given <= FINEST_TPI:
        raise OutOfRange(f"{text}: '{written}' is no Acme pitch; threads per inch are {FINEST_TPI:g} at most")
    if match["pitch"]:
        pitch, starts = pitch_and_starts(written, match["lead"], text)
    else:
        pitch, starts = 1 / given, 1
    if 1 / pitch > FINEST_TPI + 1e-6:
        raise OutOfRange(f"{text}: '{written}' is no Acme pitch; threads per inch are {FINEST_TPI:g} at most")
    return pitch, starts


@lru_cache(maxsize=1)
def _pairs() -> dict[tuple[float, float], str]:
    return {(float(r["diameter_in"]), float(r["tpi"])): r["size"] for r in tables.rows("acme_sizes")}


@lru_cache(maxsize=1)
def _allowance_rows() -> list[dict[str, str]]:
    return tables.rows("acme_pitch_allowances")


SYSTEM = System(
    key="acme",
    title="Acme",
    source="ASME B1.5",
    unit="in",
    decimals=4,
    form=forms.TWENTY_NINE,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("2G", "3G", "4G", "2G-INT", "3G-INT", "4G-INT", "2C", "3C", "4C", "2C-INT", "3C-INT", "4C-INT"),
    with_lead=inch_pair_with_lead,
    names=("ACME",),
    root_form=root_form,
)
