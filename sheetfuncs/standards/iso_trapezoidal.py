"""ISO metric trapezoidal threads: designations, sizes (ISO 2902), basic sizes (ISO 2904) and limits (ISO 2903).

The profile is that of ISO 2901: 30 degrees, height of engagement P/2, and a clearance ac between crest and root
on both sides. The pitch diameter tolerances are grade 6 of the standard moved along R40, as in ISO 965-1: 44 of the
45 cells are also what the formula 90 P^0.4 d^0.1 gives, rounded to R40, and a printed table of GOST 24739-81
confirms 16 of them, the odd one included (data/iso_trapezoidal_pitch_diameter.csv). That table also prints P 5 over
45 to 90 mm, a step of R40 below the formula; the cell is held as printed.
"""

from __future__ import annotations

import re
from math import ceil

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, plain, split_hand
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards.base import (
    Basic,
    Limits,
    Root,
    Size,
    System,
    no_limits_without_class,
    origins_of,
    round_half_even,
)
from sheetfuncs.standards.callouts import metric_starts
from sheetfuncs.standards.iso_metric import WIDENING_STARTS, widened
from sheetfuncs.standards.r40 import of_grade, pitch_diameter_grade_6

if TYPE_CHECKING:
    from sheetfuncs.standards.origins import Origin

SMALLEST_MM, LARGEST_MM = 5.6, 1120.0
"""Diameters taken: from the lowest range of ISO 2903 to the largest size seen in a printed chart citing DIN 103."""

LARGEST_WITH_LIMITS_MM = 355.0
"""Where the diameter ranges of ISO 2903 end."""

CLASSES = {
    "external": "7e, 8e, 8c, 9c; 10c with several starts",
    "internal": "7H, 8H, 9H",
}

_CALLOUT = (
    r"(?i)Tr\s*(?P<diameter>\d*\.?\d+)"
    r"(?:\s*x\s*(?P<advance>\d*\.?\d+)(?:\s*\(\s*P\s*(?P<p>\d*\.?\d+)\s*\)|\s*P\s*(?P<bare_p>\d*\.?\d+))?)?"
    r"\s*-?\s*(?P<left>LH)?"
    r"(?:(?:\s*-\s*|\s+|(?<=[LH)]))(?P<class>\d+[A-Z]))?"
    r"(?:\s*-\s*(?P<engagement>[NL]))?"
)

_GRADES = {"e": (7, 8, 9), "c": (7, 8, 9, 10), "H": (7, 8, 9)}

# Clearance ac up to that pitch: ISO 2901:2016; printed D4 and d3 of ISO 2904 agree up to P 12, 1.0 for 14 to 44 is
# the note of a reference table citing ISO 2904.
_CLEARANCES = ((1.5, 0.15), (5.0, 0.25), (12.0, 0.5), (44.0, 1.0))

_DIAMETER_BOUNDS = (5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0)  # ISO 2903:2016, pitch diameter tables


def read(text: str) -> Thread | None:
    """A trapezoidal designation (ISO 2903:2016, clause 12), or None where the text is not one.

    `Tr40x7-7e`; several starts as lead and pitch, `Tr40x14(P7)-7e` or `Tr40x14P7-7e`; left hand as `Tr40x7LH-7e`
    or with LH at the end; `-L` for a long engagement. Upper and lower case mean the same: H is always internal,
    c and e are always external.

    >>> read("TR 40 X 7 - 7E").thread_class, read("Tr40x14(P7)-8e").starts, read("Tr40x7LH-7e").left_hand
    ('7e', 2, True)
    """
    if not re.match(r"(?i)Tr\s*[\d.]", text):
        return None
    rest, left_hand = split_hand(text)
    match = re.fullmatch(_CALLOUT, rest)
    if not match:
        raise NotUnderstood(f"{text}: write a trapezoidal thread as in Tr40x7-7e, Tr40x14(P7)-7e or Tr40x7LH-7H")
    diameter = float(match["diameter"])
    if not SMALLEST_MM <= diameter <= LARGEST_MM:
        raise OutOfRange(f"{text}: trapezoidal threads have diameters from {SMALLEST_MM:g} to {LARGEST_MM:g} mm")
    pitch, starts = _pitch_and_starts(match, diameter, text)
    thread_class, side = _read_class(match["class"] or "", starts, text)
    engagement = (match["engagement"] or "").upper()
    left_hand = left_hand or bool(match["left"])
    return Thread("iso_trapezoidal", "mm", diameter, pitch, starts, "Tr", thread_class, side, left_hand, engagement)


def write(thread: Thread) -> str:
    """The designation as ISO 2903 writes it.

    >>> write(read("tr40 x 14 (p7) - 7E-lh")), write(read("Tr 40x7"))
    ('Tr40x14(P7)LH-7e', 'Tr40x7')
    """
    if thread.starts > 1:
        size = with_lead(thread, plain(thread.lead))
    else:
        size = f"Tr{plain(thread.diameter)}x{plain(thread.pitch)}"
    size += "LH" * thread.left_hand
    return "-".join(part for part in (size, thread.thread_class, thread.engagement) if part)


def with_lead(thread: Thread, lead: str) -> str:
    """Size of several starts, its lead as this text.

    >>> with_lead(read("Tr40x7"), "14")
    'Tr40x14(P7)'
    """
    return f"Tr{plain(thread.diameter)}x{lead}(P{plain(thread.pitch)})"


def basic(thread: Thread) -> Basic:
    """Basic sizes in mm: d2 = D2 = d - P/2, D1 = d - P (ISO 2904:1977).

    >>> basic(read("Tr40x7"))
    Basic(major=40.0, pitch=36.5, minor=33.0)
    """
    d, pitch = thread.diameter, thread.pitch
    return Basic(d, d - pitch / 2, d - pitch)


def crest_clearance(pitch: float) -> float:
    """Clearance ac of crest and root in mm (ISO 2901:2016): D4 = d + 2 ac, d3 = d - P - 2 ac.

    The largest radius of the root is ac as well, that of the external crest half of it.

    >>> crest_clearance(7.0)
    0.5
    """
    return next(clearance for up_to, clearance in _CLEARANCES if pitch <= up_to)


def root_form(thread: Thread) -> Root:
    """The flat of the tool whose root is that of the design profile, d3 outside and D4 inside (ISO 2901:2016).

    The groove is P/2 wide at the pitch line, closes by 2 tan 15 for each unit of depth, and ends P/4 + ac below it.

    >>> round(root_form(read("Tr40x7")).largest, 3)      # 0.366 P - 0.536 ac
    2.294
    """
    below_pitch_line = thread.pitch / 4 + crest_clearance(thread.pitch)
    flat = thread.pitch / 2 - below_pitch_line * forms.THIRTY.spread
    return Root("flat", flat, flat, "flat of the design profile, ISO 2901")


def limits(thread: Thread) -> Limits:
    """Limits of size in mm (ISO 2903:2016), to 0.001.

    External: major and minor diameter start at the design profile (position h whatever the class), only the
    pitch diameter is moved by the allowance. Td3 = 1.25 Td2 + |es|, Td2 that of one start. Internal: position H;
    the major diameter D4 has a minimum, d + 2 ac, and no maximum.

    >>> limits(read("Tr16x4-7e")).minor, limits(read("Tr40x7-7H")).pitch
    (Size(max=11.5, min=11.074, reference=''), Size(max=36.975, min=36.5, reference=''))
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    size, clearance = basic(thread), crest_clearance(thread.pitch)
    row = _pitch_row(thread)
    grade, position = int(thread.thread_class[:-1]), thread.thread_class[-1]
    single = single_start_tolerance(thread, grade)
    middle = single if grade == 10 else widened(single, thread.starts)
    if thread.side == "internal":
        return Limits(
            Size(None, _mm(size.major + 2 * clearance)),
            Size(_mm(size.pitch + middle / 1000), _mm(size.pitch)),
            Size(_mm(size.minor + int(row["TD1_4_um"]) / 1000), _mm(size.minor)),
            0.0,
            _mm(size.major),
        )
    allowance = int(row[f"es_{position}_um"]) / 1000
    root, below = size.minor - 2 * clearance, _root_tolerance(thread, grade, single) / 1000
    return Limits(
        Size(_mm(size.major), _mm(size.major - int(row["Td_4_um"]) / 1000)),
        Size(_mm(size.pitch - allowance), _mm(size.pitch - allowance - middle / 1000)),
        Size(_mm(root), _mm(root - allowance - below)),
        allowance,
        _mm(size.minor),
    )


def single_start_tolerance(thread: Thread, grade: int) -> int:
    """Td2 or TD2 in micrometres of the thread with one start.

    From the table where it has the diameter range and pitch, otherwise grade 6 is 90 P^0.4 d^0.1, d the geometric
    mean of the range, rounded to R40 (ISO 2903:2016, 11.4).

    >>> single_start_tolerance(read("Tr40x7-7e"), 7), single_start_tolerance(read("Tr40x7-7H"), 7)
    (355, 475)
    """
    if thread.diameter > LARGEST_WITH_LIMITS_MM:
        raise NotGiven(f"{write(thread)}: ISO 2903 has no pitch diameter tolerance above {LARGEST_WITH_LIMITS_MM:g} mm")
    low, high = next((a, b) for a, b in zip(_DIAMETER_BOUNDS, _DIAMETER_BOUNDS[1:]) if thread.diameter <= b)
    row = _tolerance_rows().get((high, thread.pitch))
    grade6 = int(row["Td2_6_um"]) if row else pitch_diameter_grade_6(thread.pitch, low, high)
    return of_grade(grade6, grade, thread.side == "internal")


def _root_tolerance(thread: Thread, grade: int, single: int) -> int:
    """1.25 Td2, a half rounded up but in the one cell that is printed down (P 1.5 up to 11.2 mm, grade 7: 212).

    GOST 24739-81 rounds every fraction up (class 10c, 22.4 to 45 mm, P 2: 682 for 681.25).
    """
    if grade == 10:
        return ceil(1.25 * single)
    high = next(b for b in _DIAMETER_BOUNDS[1:] if thread.diameter <= b)
    row = _tolerance_rows().get((high, thread.pitch))
    if row and grade == 7 and row["root_7_um_printed"]:
        return int(row["root_7_um_printed"])
    return int(1.25 * single + 0.5)


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ISO 2902, in words.

    >>> standing(read("Tr40x7-7e")), standing(read("Tr40x5"))
    ('normal pitch of ISO 2902', 'no pair of ISO 2902, worked by the rules of ISO 2901 and ISO 2903')
    """
    series = _series().get((thread.diameter, thread.pitch))
    if series is None:
        return "no pair of ISO 2902, worked by the rules of ISO 2901 and ISO 2903"
    return f"{series} pitch of ISO 2902"


def where_from(thread: Thread) -> tuple[Origin, ...]:
    """The origins of a thread's figures; whether the cell of its pitch diameter tolerance was seen in print.

    >>> [origin.memory for origin in where_from(read("Tr32x6-8c")) if origin.memory]
    []
    """
    high = next((bound for bound in _DIAMETER_BOUNDS[1:] if thread.diameter <= bound), 0.0)
    confirmed = _tolerance_rows().get((high, thread.pitch), {}).get("confirmed", "")
    return origins_of(thread, "printed" if "GOST" in confirmed or "chart" in confirmed else "formula")


def standard_threads() -> list[Thread]:
    """Every pair of ISO 2902, without a class, in the order of its table."""
    return [Thread("iso_trapezoidal", "mm", diameter, pitch, series="Tr") for diameter, pitch in _series()]


def _pitch_and_starts(match: re.Match[str], diameter: float, text: str) -> tuple[float, int]:
    if not match["advance"]:
        listed = ", ".join(plain(pitch) for size, pitch in _series() if size == diameter)
        there = f" (ISO 2902 has {listed})" if listed else ""
        raise NotUnderstood(f"{text}: write the pitch too, as in Tr40x7{there}")
    lead = float(match["advance"])
    pitch = float(match["p"] or match["bare_p"] or lead)
    starts = metric_starts(lead, pitch, text)
    if not 1.5 <= pitch <= 44:
        raise OutOfRange(f"{text}: ISO 2901 has pitches from 1.5 to 44 mm, not {plain(pitch)}")
    if pitch > diameter / 2:
        raise OutOfRange(f"{text}: a pitch of {plain(pitch)} mm can't be cut on {plain(diameter)} mm")
    return pitch, starts


def _read_class(text: str, starts: int, callout: str) -> tuple[str, str]:
    """The class as ISO 2903 writes it and the side it belongs to."""
    if not text:
        return "", ""
    grade, letter = int(text[:-1]), text[-1].lower()
    position = "H" if letter == "h" else letter
    if position not in _GRADES or grade not in _GRADES[position]:
        raise NotGiven(
            f"{callout}: ISO 2903 has no class {text}; external threads have grades 7 to 9 in position c or e "
            f"(such as 7e), internal ones 7H, 8H and 9H"
        )
    if grade == 10 and starts == 1:
        raise NotGiven(f"{callout}: class 10c is for several starts (GOST 24739-81); use 7e, 8e, 8c or 9c with one")
    return f"{grade}{position}", "internal" if position == "H" else "external"


def _pitch_row(thread: Thread) -> dict[str, str]:
    row = _pitch_rows().get(thread.pitch)
    if row is None:
        raise NotGiven(
            f"{write(thread)}: ISO 2903 gives no allowance and no crest tolerances for a pitch of "
            f"{plain(thread.pitch)} mm, so it has basic sizes but no limits"
        )
    return row


def _mm(value: float) -> float:
    return round_half_even(value, 3)


@lru_cache(maxsize=1)
def _series() -> dict[tuple[float, float], str]:
    rows = tables.rows("iso_trapezoidal_sizes")
    return {(float(r["diameter_mm"]), float(r["pitch_mm"])): r["series"] for r in rows}


@lru_cache(maxsize=1)
def _pitch_rows() -> dict[float, dict[str, str]]:
    return {float(r["pitch_mm"]): r for r in tables.rows("iso_trapezoidal_pitch")}


@lru_cache(maxsize=1)
def _tolerance_rows() -> dict[tuple[float, float], dict[str, str]]:
    return {(float(r["d_upto_mm"]), float(r["pitch_mm"])): r for r in tables.rows("iso_trapezoidal_pitch_diameter")}


SYSTEM = System(
    key="iso_trapezoidal",
    title="ISO trapezoidal",
    source="ISO 2903",
    unit="mm",
    decimals=3,
    form=forms.THIRTY,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("7e", "8e", "8c", "9c", "7H", "8H", "9H"),
    with_lead=with_lead,
    widening_starts=WIDENING_STARTS,
    root_form=root_form,
    origins=where_from,
)
