"""Unified inch threads: basic sizes and limits of size (ASME B1.1-2003).

Their callouts are read in `unified_callouts`.
"""

from __future__ import annotations

from math import sqrt

from sheetfuncs import forms
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import (
    Thread,
    inch_pair_with_lead,
    numbered_diameter,
    plain,
    threads_per_inch,
    write_inch_pair,
)
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
from sheetfuncs.standards.unified_callouts import NAMED, pairs, read

if TYPE_CHECKING:
    from sheetfuncs.standards.origins import Origin

ROUNDED = "UNR"
"""What the series with a rounded root are called by (ASME B1.1-2003, title: UN and UNR thread form)."""

ROUNDED_RADIUS = 0.108, 0.144
"""Radius of that root as a share of the pitch (ANSI/ASME B1.1-1989 and B1.1-2019, 2.3.1.1, as pages quote them).

The least is a "shall"; a full radius is at most the other, radii with flats between them may be more.
"""

CLASSES = {"external": "1A, 2A, 3A", "internal": "1B, 2B, 3B"}

TOLERANCE_DIAMETERS = (
    *(0.1875, 0.25, 0.375, 0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75),
    *(2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0),
)
"""Diameters that stand for a range in the tolerance formula of the nine-pitch series; see `_tolerance_sizes`."""

_CLASS_FACTOR = {"1A": 1.5, "2A": 1.0, "3A": 0.75, "1B": 1.95, "2B": 1.3, "3B": 0.975}


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
    series = pairs().get((thread.diameter, threads_per_inch(thread.pitch)))
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
    return "pair" if (thread.diameter, threads_per_inch(thread.pitch)) in pairs() else "special"


def standard_threads() -> list[Thread]:
    """Every standard pair of ASME B1.1, without a class, in the order of its table."""
    return [Thread("unified", "in", diameter, 1 / tpi, series=series) for (diameter, tpi), series in pairs().items()]


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
    listed = pairs().get((diameter, tpi))
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
