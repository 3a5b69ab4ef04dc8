"""The callout of a Unified inch thread (ASME B1.1-2003, section 6): what it says, or why that is none."""

from __future__ import annotations

import re

from sheetfuncs import tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import (
    NUMBERED_SIZES,
    Thread,
    noted,
    numbered_diameter,
    plain,
    read_inch_size,
    split_hand,
    threads_per_inch,
    write_inch_size,
)
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards.callouts import (
    BEHIND_SIZE,
    INCHES,
    NUMBER,
    NUMBERED,
    PITCH_AND_LEAD,
    pitch_and_starts,
    unsettled,
)
from sheetfuncs.units import read_number

NAMED = ("UNC", "UNF", "UNEF")
"""The series that give a size one pitch. Where a callout has size and pitch alone, these are meant (practice)."""

_CALLOUT = re.compile(
    rf"(?i)(?P<size>{NUMBERED}|{NUMBER})"
    rf"(?:{BEHIND_SIZE}(?:{PITCH_AND_LEAD}|(?P<tpi>{NUMBER})))?"
    rf"{INCHES}\s*-?\s*(?P<series>UNR?(?:C|F|EF|S)?)"
    r"\s*-?\s*(?:(?:class\s*)?(?P<class>[1-3][AB]))?"
)

SMALLEST_IN, LARGEST_IN = 0.06, 24.0
"""No. 0; above 24 in no Unified thread is worked: the standard series end at 6 in, special ones go on (our bound)."""

COARSE_TIMES = 2.0
"""A pitch may be so many times that of UNC on the size, or on the next that has UNC; above 4 in none has.

This project's choice: of the pairs of ASME B1.1 only 1/2-12 UNS has more than once, and 13/12 of it.
"""


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


def _size_and_pitch(match: re.Match[str], series: str, text: str) -> tuple[float, float, int, str]:
    """Diameter, pitch, starts, and a note where a bare number could be inches or a numbered size."""
    written = match["size"]
    diameter, numbered, note = read_inch_size(written), None, ""
    if diameter is None:
        raise no_size(written, text)
    if written.isdigit() and int(written) in NUMBERED_SIZES:
        numbered = numbered_diameter(int(written))
    if match["tpi"] or match["pitch"]:
        pitch, starts = _pitch_and_starts(match, text)
    else:
        pitch, starts = _pitch_of_series((diameter, numbered), series, text), 1
    if numbered is not None:
        tpi = threads_per_inch(pitch)
        by_number, by_inches = pairs().get((numbered, tpi)), pairs().get((diameter, tpi))
        asked = "UNS" if series == "UN" else series  # no numbered size has UN, which is written back as UNS
        if by_number == asked != by_inches:
            if read_inch_size(f"#{written}") is None:  # 00 or 010, which is neither a number nor 10 in
                raise no_size(written, text)
            diameter, note = numbered, f"{written} taken as #{written}"
        elif by_number and not by_inches:
            note = f"{written} taken as inches; #{int(written)}-{plain(tpi)} {by_number} is written with its #"
    if not SMALLEST_IN <= diameter <= LARGEST_IN:
        raise no_size(written, text, diameter)
    return diameter, pitch, starts, note


def no_size(written: str, text: str, inches: float = 0.0) -> OutOfRange:
    """The error of a size that no Unified thread has; where it is so many inches, it names the end that they pass.

    >>> print(no_size("#00", "#00-90 UNS"))
    #00-90 UNS: '#00' is no Unified size; #0 to #12 (no 7, 9, 11), or inches
    >>> print(no_size("0.05", "0.05-80 UNS", 0.05))
    0.05-80 UNS: '0.05' is no Unified size; the smallest is #0, 0.06 in
    """
    known = "#0 to #12 (no 7, 9, 11), or inches"
    if inches > 0:
        small, large = f"the smallest is #0, {SMALLEST_IN:g} in", f"the largest that is worked is {LARGEST_IN:g} in"
        known = small if inches < SMALLEST_IN else large
    return OutOfRange(f"{text}: '{written}' is no Unified size; {known}")


def _pitch_of_series(sizes: tuple[float | None, ...], series: str, text: str) -> float:
    """The pitch that a series has on a size, where the callout leaves it off."""
    found = [pair for pair, name in pairs().items() if name == series and pair[0] in sizes]
    if len(found) == 1:
        return 1 / found[0][1]
    if not found:
        raise NotGiven(
            f"{text}: ASME B1.1 lists no {series} of this size; write the threads per inch, as in 3/4-16 UNF"
        )
    raise unsettled(text, [f"{write_inch_size(diameter)}-{plain(tpi)} {series}" for diameter, tpi in found])


def _pitch_and_starts(match: re.Match[str], text: str) -> tuple[float, int]:
    if match["pitch"]:
        return pitch_and_starts(match["pitch"], match["lead"], text)
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
    listed = pairs().get((diameter, tpi))
    if asked in ("UN", "UNS"):
        series = listed or "UNS"
    elif asked == listed:
        series = asked
    else:
        size = write_inch_size(diameter)
        of_series = [plain(n) for (d, n), name in pairs().items() if d == diameter and name == asked]
        is_listed = f"is {listed}, not {asked}" if listed else f"is no {asked} thread; call it UNS if it is meant"
        there = f"; {asked} on {size} is {of_series[0]} threads per inch" if of_series else ""
        raise NotGiven(f"{text}: {size}-{plain(tpi)} {is_listed}{there}")
    return series.replace("UN", "UN" + rounded, 1)


@lru_cache(maxsize=1)
def _coarse() -> list[tuple[float, float]]:
    """Diameter and threads per inch of UNC, from the smallest up."""
    return sorted(pair for pair, series in pairs().items() if series == "UNC")


@lru_cache(maxsize=1)
def pairs() -> dict[tuple[float, float], str]:
    """The series of each diameter and threads per inch of ASME B1.1, in the order of its table."""
    return {(float(r["diameter_in"]), float(r["tpi"])): r["series"] for r in tables.rows("unified_series")}
