"""Unified inch threads: designations, standard pairs, basic sizes and limits of size (ASME B1.1-2003)."""

from __future__ import annotations

import re
from functools import lru_cache
from math import sqrt

from sheetfuncs import forms, tables
from sheetfuncs.designations import (
    NUMBERED_SIZES,
    Thread,
    inch_pair_with_lead,
    noted,
    numbered_diameter,
    plain,
    read_inch_size,
    split_hand,
    threads_per_inch,
    whole_tpi_pitch,
    write_inch_pair,
    write_inch_size,
)
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards.base import (
    Basic,
    Limits,
    Root,
    Size,
    System,
    internal_flat,
    no_limits_without_class,
    no_root_without_side,
    origins_of,
    round_half_even,
)
from sheetfuncs.standards.callouts import BEHIND_SIZE, INCHES, NUMBER, NUMBERED, unsettled
from sheetfuncs.units import read_number

if TYPE_CHECKING:
    from sheetfuncs.standards.origins import Origin

ROUNDED = "UNR"
"""What the series with a rounded root are called by (ASME B1.1-2003, title: UN and UNR thread form)."""

ROUNDED_RADIUS = 0.108, 0.144
"""Radius of that root as a share of the pitch (ANSI/ASME B1.1-1989 and B1.1-2019, 2.3.1.1, as pages quote them).

The least is a "shall"; a full radius is at most the other, radii with flats between them may be more.
"""

CLASSES = {"external": "1A, 2A, 3A", "internal": "1B, 2B, 3B"}

NAMED = ("UNC", "UNF", "UNEF")
"""The series that give a size one pitch. Where a callout has size and pitch alone, these are meant (practice)."""

_CALLOUT = re.compile(
    rf"(?i)(?P<size>{NUMBERED}|{NUMBER})"
    rf"(?:{BEHIND_SIZE}(?:(?P<pitch>\d*\.?\d+)\s*P\s*-\s*(?P<lead>\d*\.?\d+)\s*L|(?P<tpi>{NUMBER})))?"
    rf"{INCHES}\s*-?\s*(?P<series>UNR?(?:C|F|EF|S)?)"
    r"\s*-?\s*(?:(?:class\s*)?(?P<class>[1-3][AB]))?"
)

SMALLEST_IN, LARGEST_IN = 0.06, 24.0
"""No. 0; above 24 in no Unified thread is worked: the standard series end at 6 in, special ones go on (our bound)."""

COARSE_TIMES = 2.0
"""A pitch may be so many times that of UNC on the size, or on the next that has UNC; above 4 in none has.

This project's choice: of the pairs of ASME B1.1 only 1/2-12 UNS has more than once, and 13/12 of it.
"""

TOLERANCE_DIAMETERS = (
    *(0.1875, 0.25, 0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75),
    *(2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0),
)
"""Diameters that stand for a range in the tolerance formula of the nine-pitch series; see `_tolerance_sizes`."""

_CLASS_FACTOR = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}


def read(text: str) -> Thread | None:
    """A Unified designation (ASME B1.1-2003, section 6), or None where the text is not one.

    The series is part of the callout: UNC, UNF and UNEF must be what the standard calls that pair, and with them
    the threads per inch may be left off. UN and UNS are taken for any diameter and pitch and become the name that
    the standard gives the pair. A numbered size may lack its sign: `10-32 UNF` is #10, as 10 in has no such pair.

    >>> read("#10-32 UNF-3A").diameter, read("1.125-12 UN-3A").series, read("1.0-0.1P-0.2L UNS-2A").starts
    (0.19, 'UNF', 2)
    >>> read("3/4 UNF-2A").pitch, read("10-32 UNF").diameter
    (0.0625, 0.19)
    """
    rest, left_hand = split_hand(text)
    match = _CALLOUT.fullmatch(rest)
    if not match:
        return None
    series = match["series"].upper()
    diameter, pitch, starts, note = _size_and_pitch(match, series.replace("UNR", "UN"), text)
    _refuse_too_coarse(pitch, diameter, text)
    thread_class = (match["class"] or "").upper()
    side = {"A": "external", "B": "internal"}.get(thread_class[-1:], "")
    series = _place(diameter, threads_per_inch(pitch), series, text)
    if series.startswith("UNR") and side == "internal":
        raise NotUnderstood(f"{text}: UNR is an external thread with a rounded root; internal threads are UN")
    thread = Thread("unified", "in", diameter, pitch, starts, series, thread_class, side, left_hand)
    return noted(thread, note) if note else thread


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("no.10 - 32 unf - 3a")), write(read("1.0-0.1P-0.2L UNS-2A-LH"))
    ('#10-32 UNF-3A', '1-0.1P-0.2L UNS-2A-LH')
    """
    return "-".join(part for part in (write_inch_pair(thread), thread.thread_class, "LH" * thread.left_hand) if part)


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: pitch diameter D - 3/4 H, minor diameter D - 5/4 H (ASME B1.1-2003, section 8).

    >>> [round(size, 4) for size in basic(read("3/4-16 UNF"))]
    [0.75, 0.7094, 0.6823]
    """
    height = forms.sharp_height(forms.SIXTY, thread.pitch)
    d = thread.diameter
    return Basic(d, d - 0.75 * height, d - 1.25 * height)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches (ASME B1.1-2003, section 8), to the printed digit of its tables.

    The tables come about by the steps of ASME B1.30-2002 (worked in Machinery's Handbook, 31st ed., Tables 3
    to 6 of "Calculating Thread Dimensions"): the pitch to 8 places, tolerances and heights to 6, and each limit
    to 4 places from the rounded limit before it. An exact half goes to the even digit; that is not said in
    words, but the printed rows need it. External: the minor diameter is the maximum of the rounded root (UNR),
    which the tables give for reference; no minimum is set. Internal: no maximum major diameter is set.

    >>> limits(read("3/4-16 UNF-2A")).pitch
    Size(max=0.7079, min=0.7029, reference='')
    >>> limits(read("3/4-16 UNF-2B")).minor
    Size(max=0.696, min=0.682, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    pitch = round(thread.pitch, 8)
    to_pitch_line, to_minor, to_rounded_root = _depths(pitch)
    base = _tolerance_2a(thread, pitch)
    tolerance = round_half_even(_CLASS_FACTOR[thread.thread_class] * base, 6)
    nominal = round_half_even(thread.diameter, 4)
    if thread.side == "internal":
        return _internal(thread, nominal, nominal - to_pitch_line, nominal - to_minor, tolerance)
    allowance = 0.0 if thread.thread_class == "3A" else round_half_even(0.3 * base, 6)
    crest = round_half_even((0.09 if thread.thread_class == "1A" else 0.06) * pitch ** (2 / 3), 6)
    major = round_half_even(nominal - allowance, 4)
    middle = round_half_even(major - to_pitch_line, 4)
    return Limits(
        Size(major, round_half_even(major - crest, 4)),
        Size(middle, round_half_even(middle - tolerance, 4)),
        Size(round_half_even(major - to_rounded_root, 4), None, "max"),
        round_half_even(nominal - major, 4),
        round_half_even(major - to_minor, 4),
    )


def _internal(thread: Thread, nominal: float, pitch_line: float, bore: float, tolerance: float) -> Limits:
    """From No. 6 up the bore is printed to 0.001, its maximum in class 3B to 0.0001."""
    middle, minor = round_half_even(pitch_line, 4), round_half_even(bore, 4)
    from_number_6 = thread.diameter >= numbered_diameter(6)
    coarse_max = from_number_6 and thread.thread_class != "3B"
    minor_max = minor + round_half_even(minor_tolerance(thread), 4)
    return Limits(
        Size(None, nominal),
        Size(round_half_even(middle + tolerance, 4), middle),
        Size(round_half_even(minor_max, 3 if coarse_max else 4), round_half_even(minor, 3 if from_number_6 else 4)),
        0.0,
        nominal,
    )


def root_form(thread: Thread) -> Root:
    """The tool end of the root: flats of the basic profile; UNR a radius of 0.108 P to 0.144 P.

    UN: a flat of P/4 outside, P/8 inside at most (ISO 68-1:1998, 3, the same profile); a root that is rounded or
    sharper beyond the flat serves.

    >>> root_form(read("1-8 UNC-2B")).largest, root_form(read("1-8 UNRC-2A")).smallest
    (0.015625, 0.0135)
    """
    if not thread.side:
        raise no_root_without_side(write(thread), CLASSES)
    if thread.side == "internal":
        return internal_flat(thread.pitch)
    if thread.series.startswith(ROUNDED):
        smallest, largest = (share * thread.pitch for share in ROUNDED_RADIUS)
        return Root("radius", smallest, largest, "UNR root, ASME B1.1-1989 as quoted")
    return Root("flat", None, thread.pitch / 4, "basic profile of ASME B1.1: P/4 at most; rounded or sharper serves")


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ASME B1.1, in words.

    >>> standing(read("3/4-16 UNF")), standing(read("0.9-14 UNS"))
    ('UNF series of ASME B1.1', 'no standard pair of ASME B1.1, worked by its formulas')
    >>> standing(read("3/4-0.0625P-0.1875L UNF-2A"))
    'UNF series of ASME B1.1; its limits are those of one start'
    """
    several = thread.thread_class != "" and thread.starts > 1
    return _pair_in_words(thread) + "; its limits are those of one start" * several


def _pair_in_words(thread: Thread) -> str:
    series = _pairs().get((thread.diameter, threads_per_inch(thread.pitch)))
    if series is None:
        return "no standard pair of ASME B1.1, worked by its formulas"
    if series == "UNS":
        return "selected special combination of ASME B1.1"
    if series == "UN":
        return f"{plain(threads_per_inch(thread.pitch))}-thread series of ASME B1.1"
    return f"{series} series of ASME B1.1"


def where_from(thread: Thread) -> tuple[Origin, ...]:
    """The origins of a thread's figures: printed for the standard pairs, by formula for special ones.

    >>> [origin.figures for origin in where_from(read("1.1-12 UNS-2A"))]
    ['size and pitch', 'basic sizes', 'limits of size; allowance']
    """
    return origins_of(thread, kind_of_pair(thread))


def kind_of_pair(thread: Thread) -> str:
    """What the table of origins calls the pair of diameter and pitch; UNJ has the same pairs."""
    return "pair" if (thread.diameter, threads_per_inch(thread.pitch)) in _pairs() else "special"


def standard_threads() -> list[Thread]:
    """Every standard pair of ASME B1.1, without a class, in the order of its table."""
    return [Thread("unified", "in", diameter, 1 / tpi, series=series) for (diameter, tpi), series in _pairs().items()]


def _tolerance_2a(thread: Thread, pitch: float) -> float:
    """Pitch diameter tolerance of class 2A, the base of all others: ASME B1.1-2003, 5.8.1."""
    diameter, engagement = _tolerance_sizes(thread)
    found: float = 0.0015 * diameter ** (1 / 3) + 0.0015 * sqrt(engagement) + 0.015 * pitch ** (2 / 3)
    return found


def _tolerance_sizes(thread: Thread) -> tuple[float, float]:
    """The diameter and length of engagement in the tolerance formula: ASME B1.1-2003, 5.8.1.

    UNC, UNF, 4-, 6- and 8-UN (and 1-14, the UNF size of old) are made for an engagement of one diameter, the
    others for nine pitches. For the latter the tables take the diameter from a fixed list: the nearest, the
    smaller where it lies midway. No text of that was seen; it was found from the printed rows, all of which
    it gives (tests/published/unified_limits.csv), where the nominal diameter misses 24. A diameter and pitch
    that is no standard pair is worked with its own diameter.
    """
    diameter, tpi = thread.diameter, threads_per_inch(thread.pitch)
    listed = _pairs().get((diameter, tpi))
    if listed in ("UNC", "UNF") or (listed == "UN" and tpi <= 8) or (diameter, tpi) == (1, 14):
        return diameter, diameter
    if listed is None:
        return diameter, 9 * thread.pitch
    return min(TOLERANCE_DIAMETERS, key=lambda size: (abs(size - diameter), size)), 9 * thread.pitch


def minor_tolerance(thread: Thread) -> float:
    """TD1 of an internal thread: ASME B1.1-2003, 8.3.2.

    For special pairs below 1/4 in the tables take the plain formula; found on one printed row, No. 10-36.
    """
    pitch, diameter = thread.pitch, thread.diameter
    tpi = threads_per_inch(pitch)
    plain_rule = 0.15 * pitch if tpi < 4 else 0.25 * pitch - 0.40 * pitch**2
    small: float = min(0.05 * pitch ** (2 / 3) + 0.03 * pitch / diameter - 0.002, 0.394 * pitch)
    if thread.thread_class == "3B":
        return max(small, 0.23 * pitch - 1.5 * pitch**2 if tpi >= 13 else 0.120 * pitch)
    if diameter < 0.25 and thread.series != "UNS":
        return max(small, plain_rule)
    return plain_rule


@lru_cache(maxsize=256)
def _depths(pitch: float) -> tuple[float, float, float]:
    """On the diameter, from the crest of the basic profile to pitch line and minor diameter, and to the rounded root.

    The last is 5/4 H and 1/8 H rounded apart, as the tables of ASME B1.1 print it, 1.190 78 P. The worked examples of
    ASME B1.30 round 1.190 784 93 P at once, and then print .4564 for 1/2-28 UNEF-2A, not .4563.
    """
    to_pitch_line, to_minor = (round_half_even(share * pitch, 6) for share in (0.64951905, 1.08253175))
    rounded_root = round_half_even(1.08253175 * pitch, 4) + round_half_even(0.10825318 * pitch, 4)
    return to_pitch_line, to_minor, rounded_root


def _size_and_pitch(match: re.Match[str], series: str, text: str) -> tuple[float, float, int, str]:
    """Diameter, pitch, starts, and a note where a bare number could be inches or a numbered size."""
    written = match["size"]
    diameter, numbered, note = read_inch_size(written), None, ""
    if written.isdigit() and int(written) in NUMBERED_SIZES:
        numbered = numbered_diameter(int(written))
    if match["tpi"] or match["pitch"]:
        pitch, starts = _pitch_and_starts(match, text)
    else:
        pitch, starts = _pitch_of_series((diameter, numbered), series, text), 1
    if numbered is not None:
        tpi = threads_per_inch(pitch)
        by_number, by_inches = _pairs().get((numbered, tpi)), _pairs().get((diameter or 0.0, tpi))
        asked = "UNS" if series == "UN" else series  # no numbered size has UN, which is written back as UNS
        if by_number == asked != by_inches:
            diameter, note = numbered, f"{written} taken as #{written}"
        elif by_number and not by_inches:
            note = f"{written} taken as inches; #{written}-{plain(tpi)} {by_number} is written with its #"
    if diameter is None or not SMALLEST_IN <= diameter <= LARGEST_IN:
        raise OutOfRange(f"{text}: '{written}' is no Unified size; #0 to #12 (no 7, 9, 11), or inches")
    return diameter, pitch, starts, note


def _pitch_of_series(sizes: tuple[float | None, ...], series: str, text: str) -> float:
    """The pitch that a series has on a size, where the callout leaves it off."""
    found = [pair for pair, name in _pairs().items() if name == series and pair[0] in sizes]
    if len(found) == 1:
        return 1 / found[0][1]
    if not found:
        raise NotGiven(
            f"{text}: ASME B1.1 lists no {series} of this size; write the threads per inch, as in 3/4-16 UNF"
        )
    raise unsettled(text, [f"{write_inch_size(diameter)}-{plain(tpi)} {series}" for diameter, tpi in found])


def _pitch_and_starts(match: re.Match[str], text: str) -> tuple[float, int]:
    if match["pitch"]:
        pitch, lead = whole_tpi_pitch(match["pitch"]), float(match["lead"])
        starts = round(lead / pitch) if 0 < pitch <= LARGEST_IN and lead <= LARGEST_IN else 0
        if not 1 <= starts <= 20 or abs(starts * pitch - lead) > 0.0006:
            raise NotUnderstood(f"{text}: the lead {match['lead']} is not a whole number of pitches {match['pitch']}")
        return pitch, starts
    tpi = read_number(match["tpi"]) or 0.0
    if not 0 < tpi <= 160:
        raise OutOfRange(f"{text}: {match['tpi']} threads per inch is no Unified pitch")
    return 1 / tpi, 1


def _refuse_too_coarse(pitch: float, diameter: float, text: str) -> None:
    """A pitch that no thread of this diameter has: 1/2-4 is a slip, as UN threads of 4 per inch begin at 2 1/2 in."""
    threads, size = f"{plain(threads_per_inch(pitch))} threads per inch", f"{plain(diameter)} in"
    if not pitch <= diameter / 2:
        raise OutOfRange(f"{text}: {threads} can't be cut on {size}")
    coarse = next((tpi for size, tpi in _coarse() if size >= diameter), 0.0)
    if pitch * coarse > COARSE_TIMES + 1e-9:
        raise OutOfRange(
            f"{text}: {threads} are far too coarse for {plain(diameter)} in, where {plain(coarse)} is coarse"
        )


def _place(diameter: float, tpi: float, written: str, text: str) -> str:
    """The series that the standard gives this pair; refused where the callout names another."""
    rounded = "R" * written.startswith("UNR")
    asked = written.replace("UNR", "UN")
    listed = _pairs().get((diameter, tpi))
    if asked in ("UN", "UNS"):
        series = listed or "UNS"
    elif asked == listed:
        series = asked
    else:
        size = write_inch_size(diameter)
        of_series = [plain(n) for (d, n), name in _pairs().items() if d == diameter and name == asked]
        is_listed = f"is {listed}, not {asked}" if listed else f"is no {asked} thread; call it UNS if it is meant"
        there = f"; {asked} on {size} is {of_series[0]} threads per inch" if of_series else ""
        raise NotGiven(f"{text}: {size}-{plain(tpi)} {is_listed}{there}")
    return series.replace("UN", "UN" + rounded, 1)


@lru_cache(maxsize=1)
def _coarse() -> list[tuple[float, float]]:
    """Diameter and threads per inch of UNC, from the smallest up."""
    return sorted(pair for pair, series in _pairs().items() if series == "UNC")


@lru_cache(maxsize=1)
def _pairs() -> dict[tuple[float, float], str]:
    return {(float(r["diameter_in"]), float(r["tpi"])): r["series"] for r in tables.rows("unified_series")}


SYSTEM = System(
    key="unified",
    title="Unified",
    source="ASME B1.1",
    unit="in",
    decimals=4,
    form=forms.SIXTY,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("2A", "3A", "2B", "3B", "1A", "1B"),
    offered_for={"1A": ("UNC", "UNF"), "1B": ("UNC", "UNF")},  # ASME B1.1-2003 tabulates them for these alone
    with_lead=inch_pair_with_lead,
    names=(*NAMED, "UN"),
    by_custom=NAMED,
    root_form=root_form,
    origins=where_from,
    rounded_series=ROUNDED,
    rounded_least=ROUNDED_RADIUS[0],
)
