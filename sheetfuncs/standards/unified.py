"""Unified inch threads: designations, standard pairs, basic sizes and limits of size (ASME B1.1-2003)."""

from __future__ import annotations

import re
from functools import lru_cache
from math import sqrt

from sheetfuncs import forms, tables
from sheetfuncs.designations import (
    Thread,
    plain,
    read_inch_size,
    split_hand,
    threads_per_inch,
    whole_tpi_pitch,
    write_inch_size,
)
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards.base import Basic, Limits, Size, System, no_limits_without_class, round_half_up
from sheetfuncs.units import read_number

CLASSES = {"external": "1A, 2A, 3A", "internal": "1B, 2B, 3B"}

_NUMBER = r"\d+[ -]\d+/\d+|\d+/\d+|\d+\.?\d*|\.\d+"
_CALLOUT = re.compile(
    rf"(?P<size>(?:\#|No\.?)\s*\d+|{_NUMBER})\s*\"?"
    rf"\s*-\s*(?:(?P<pitch>\d*\.?\d+)\s*P\s*-\s*(?P<lead>\d*\.?\d+)\s*L|(?P<tpi>{_NUMBER}))"
    r"\s*-?\s*(?P<series>UNR?(?:C|F|EF|S)?)"
    r"\s*-?\s*(?P<class>[1-3][AB])?",
    re.IGNORECASE,
)
_FORGOTTEN_SERIES = re.compile(
    rf"(?:(?:\#|No\.?)\s*\d+|{_NUMBER})\s*-\s*(?:{_NUMBER})(?:\s*-?\s*[1-3][AB])?", re.IGNORECASE
)

CONSTANT_PITCH_SERIES = (4, 6, 8, 12, 16, 20, 28, 32)
"""Threads per inch of the constant-pitch series UN (ASME B1.1-2003, Table 1)."""

LARGEST_IN = 6.0
"""Largest diameter of the standard series (ASME B1.1-2003, Table 1)."""

_CLASS_FACTOR = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}


def read(text: str) -> Thread | None:
    """A Unified designation (ASME B1.1-2003, section 6), or None where the text is not one.

    The series is part of the callout: UNC, UNF and UNEF must be what the standard calls that pair. UN and
    UNS are taken for any diameter and pitch and become the name that the standard gives the pair.

    >>> read("#10-32 UNF-3A").diameter, read("1.125-12 UN-3A").series, read("1.0-0.1P-0.2L UNS-2A").starts
    (0.19, 'UNF', 2)
    """
    rest, left_hand = split_hand(text)
    match = _CALLOUT.fullmatch(rest)
    if not match:
        if _FORGOTTEN_SERIES.fullmatch(rest):
            raise NotUnderstood(f"{text}: name the series, as in 3/4-16 UNF-2A (UNC, UNF, UNEF, UN or UNS)")
        return None
    diameter = read_inch_size(match["size"])
    if diameter is None or not 0.06 <= diameter <= 24:
        raise OutOfRange(f"{text}: '{match['size']}' is no Unified size; #0 to #12 (no 7, 9, 11), or inches")
    pitch, starts = _pitch_and_starts(match, text)
    if not pitch <= diameter / 2:
        raise OutOfRange(f"{text}: {plain(1 / pitch)} threads per inch can't be cut on {plain(diameter)} in")
    thread_class = (match["class"] or "").upper()
    side = {"A": "external", "B": "internal"}.get(thread_class[-1:], "")
    series = _place(diameter, pitch, match["series"].upper(), text)
    if series.startswith("UNR") and side == "internal":
        raise NotUnderstood(f"{text}: UNR is an external thread with a rounded root; internal threads are UN")
    return Thread("unified", "in", diameter, pitch, starts, series, thread_class, side, left_hand)


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("no.10 - 32 unf - 3a")), write(read("1.0-0.1P-0.2L UNS-2A-LH"))
    ('#10-32 UNF-3A', '1-0.1P-0.2L UNS-2A-LH')
    """
    if thread.starts > 1:
        pitch = f"{plain(thread.pitch)}P-{plain(thread.lead)}L"
    else:
        pitch = plain(threads_per_inch(thread.pitch))
    size = f"{write_inch_size(thread.diameter)}-{pitch} {thread.series}"
    return "-".join(part for part in (size, thread.thread_class, "LH" * thread.left_hand) if part)


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: pitch diameter D - 3/4 H, minor diameter D - 5/4 H (ASME B1.1-2003, section 8).

    >>> [round(size, 4) for size in basic(read("3/4-16 UNF"))]
    [0.75, 0.7094, 0.6823]
    """
    height = forms.sharp_height(forms.SIXTY, thread.pitch)
    d = thread.diameter
    return Basic(d, d - 0.75 * height, d - 1.25 * height)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches (ASME B1.1-2003, section 8), rounded as its tables are.

    External: the minor diameter is the maximum of the rounded root (UNR), which the tables give for
    reference; no minimum is set. Internal: no maximum major diameter is set.

    >>> limits(read("3/4-16 UNF-2A")).pitch
    Size(max=0.7079, min=0.7029, reference='')
    >>> limits(read("3/4-16 UNF-2B")).minor
    Size(max=0.696, min=0.682, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    size = basic(thread)
    pitch = thread.pitch
    tolerance = _CLASS_FACTOR[thread.thread_class] * _tolerance_2a(thread)
    if thread.side == "external":
        allowance = 0.0 if thread.thread_class == "3A" else _allowance(thread)
        major, middle = size.major - allowance, size.pitch - allowance
        crest = (0.09 if thread.thread_class == "1A" else 0.06) * pitch ** (2 / 3)
        root = size.minor - allowance
        rounded_root = middle - 0.625 * forms.sharp_height(forms.SIXTY, pitch)
        return Limits(
            _size(major, major - crest),
            _size(middle, middle - tolerance),
            Size(round_half_up(rounded_root, 4), None, "max"),
            allowance,
            round_half_up(root, 4),
        )
    places = 3 if thread.thread_class != "3B" and thread.diameter >= 0.138 else 4
    return Limits(
        Size(None, round_half_up(size.major, 4)),
        _size(size.pitch + tolerance, size.pitch),
        _size(size.minor + _minor_tolerance(thread), size.minor, places),
        0.0,
        round_half_up(size.major, 4),
    )


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ASME B1.1, in words.

    >>> standing(read("3/4-16 UNF")), standing(read("0.9-14 UNS"))
    ('UNF series of ASME B1.1', 'no standard pair of ASME B1.1, worked by its formulas')
    """
    series = _pairs().get((thread.diameter, threads_per_inch(thread.pitch)))
    if series is None:
        return "no standard pair of ASME B1.1, worked by its formulas"
    if series == "UNS":
        return "selected special combination of ASME B1.1"
    if series == "UN":
        return f"{plain(threads_per_inch(thread.pitch))}-thread series of ASME B1.1"
    return f"{series} series of ASME B1.1"


def standard_threads() -> list[Thread]:
    """Every standard pair of ASME B1.1, without a class, in the order of its table."""
    return [
        Thread("unified", "in", diameter, 1 / tpi, series=series)
        for (diameter, tpi), series in _pairs().items()
    ]


def _tolerance_2a(thread: Thread) -> float:
    """Pitch diameter tolerance of class 2A, the base of all others: ASME B1.1-2003, 5.8.1."""
    diameter, engagement = thread.diameter, _engagement(thread)
    return 0.0015 * diameter ** (1 / 3) + 0.0015 * sqrt(engagement) + 0.015 * thread.pitch ** (2 / 3)


def _engagement(thread: Thread) -> float:
    """Length of engagement that the tabulated tolerances are made for: ASME B1.1-2003, 5.8.1."""
    by_diameter = thread.series.replace("UNR", "UN") in ("UNC", "UNF")
    if by_diameter or (thread.series in ("UN", "UNR") and threads_per_inch(thread.pitch) <= 8):
        return thread.diameter
    return 9 * thread.pitch


def _allowance(thread: Thread) -> float:
    return round_half_up(0.3 * _tolerance_2a(thread), 4)


def _minor_tolerance(thread: Thread) -> float:
    """TD1 of an internal thread: ASME B1.1-2003, 8.3.2."""
    pitch, diameter = thread.pitch, thread.diameter
    tpi = threads_per_inch(pitch)
    small = min(0.05 * pitch ** (2 / 3) + 0.03 * pitch / diameter - 0.002, 0.394 * pitch)
    if thread.thread_class == "3B":
        return max(small, 0.23 * pitch - 1.5 * pitch**2 if tpi >= 13 else 0.120 * pitch)
    if diameter < 0.25:
        return max(small, 0.25 * pitch - 0.40 * pitch**2)
    return 0.15 * pitch if tpi < 4 else 0.25 * pitch - 0.40 * pitch**2


def _size(largest: float, smallest: float, decimals: int = 4) -> Size:
    return Size(round_half_up(largest, decimals), round_half_up(smallest, decimals))


def _pitch_and_starts(match: re.Match[str], text: str) -> tuple[float, int]:
    if match["pitch"]:
        pitch, lead = whole_tpi_pitch(match["pitch"]), float(match["lead"])
        starts = round(lead / pitch) if pitch else 0
        if starts < 1 or abs(starts * pitch - lead) > 0.0006:
            raise NotUnderstood(
                f"{text}: the lead {match['lead']} is not a whole number of pitches {match['pitch']}"
            )
        return pitch, starts
    tpi = read_number(match["tpi"]) or 0.0
    if not 0 < tpi <= 160:
        raise OutOfRange(f"{text}: {match['tpi']} threads per inch is no Unified pitch")
    return 1 / tpi, 1


def _place(diameter: float, pitch: float, written: str, text: str) -> str:
    """The series that the standard gives this pair; refused where the callout names another."""
    tpi = threads_per_inch(pitch)
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
        is_listed = (
            f"is {listed}, not {asked}" if listed else f"is no {asked} thread; call it UNS if it is meant"
        )
        there = f"; {asked} on {size} is {of_series[0]} threads per inch" if of_series else ""
        raise NotGiven(f"{text}: {size}-{plain(tpi)} {is_listed}{there}")
    return series.replace("UN", "UN" + rounded, 1)


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
)
