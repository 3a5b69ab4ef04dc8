"""UNJ inch threads: Unified with a large, controlled root radius outside and a larger bore inside.

Sizes, pitches, and the limits of the major and pitch diameter are those of class 3A and 3B of Unified threads
(foreword of SAE AS8879B: "based on the Unified Inch standard"; the geometry of ISO 3161 and of ASME B1.15 class 3
is the same). What differs is the root: its radius lies between 0.150 11 P and 0.180 42 P (scope of ASME B1.15-1995
and of AS8879D), and the thread is 9/16 H high instead of 5/8 H, so that the mating crest clears it.

No text of the limit formulas was seen. They follow from the radii by geometry (`root_diameter`), and reproduce
every printed digit of MIL-S-8879C that was found (tests/published/unj_limits.csv).
"""

from __future__ import annotations

import re

from sheetfuncs import forms
from sheetfuncs.designations import Thread, inch_pair_with_lead, noted
from sheetfuncs.errors import CellError, NotGiven
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards import unified, unified_callouts
from sheetfuncs.standards.base import (
    FLIGHT,
    Basic,
    Limits,
    Root,
    Size,
    System,
    no_limits_without_class,
    no_root_without_side,
    origins_of,
    round_half_even,
)

if TYPE_CHECKING:
    from sheetfuncs.standards.origins import Origin

CLASSES = {"external": "3A", "internal": "3B"}

SMALLEST_RADIUS, LARGEST_RADIUS = 0.15011, 0.18042
"""Radius of the external root as a share of the pitch (ASME B1.15-1995 and SAE AS8879D, scope; MJ has the same)."""


def read(text: str) -> Thread | None:
    """A UNJ designation: a Unified one with UNJC, UNJF, UNJEF, UNJ or UNJS as its series; None for other text.

    >>> read("3/8-24 UNJF-3A").series, read(".190-32unjf3b").side, read("3/8-24 UNF-3A")
    ('UNJF', 'internal', None)
    """
    match = re.fullmatch(r"(?i)(.*UN)J(|[CFES\d\s-].*)", text)
    if not match:
        return None
    try:
        thread = unified_callouts.read(match[1] + match[2])
    except CellError as error:  # the sentence names the series that was meant
        raise type(error)(_with_j(str(error))) from None
    return None if thread is None else noted(_own(thread), thread.note)


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("0.375 - 24 unjf - 3a")), write(read("1.0-0.1P-0.2L UNJS-3A-LH"))
    ('3/8-24 UNJF-3A', '1-0.1P-0.2L UNJS-3A-LH')
    """
    return unified.write(thread)


def basic(thread: Thread) -> Basic:
    """Basic sizes in inches: pitch diameter D - 3/4 H, minor diameter D - 9/8 H, 0.974 279 P (AS8879D: 0.5625 H high).

    >>> [round(size, 4) for size in basic(read("1/4-20 UNJC"))]
    [0.25, 0.2175, 0.2013]
    """
    height = forms.sharp_height(forms.SIXTY, thread.pitch)
    d = thread.diameter
    return Basic(d, d - 0.75 * height, d - 1.125 * height)


def limits(thread: Thread) -> Limits:
    """Limits of size in inches, to 0.0001.

    External: the minor diameter runs from the smallest root radius at the smallest pitch diameter to the largest
    radius at the largest; both are limits, not reference values. Internal: the tolerance of the minor diameter is
    that of class 3B in ASME B1.1-2003, 8.3.2; two printed rows of 1/4 in confirm it, no text was seen. That it holds
    below that size too is FROM MEMORY, and refused where it would open the bore past the pitch line, as it does from #0
    to #5.

    >>> limits(read("7/8-14 UNJF-3A")).minor
    Size(max=0.7925, min=0.7841, reference='')
    >>> limits(read("1/4-28 UNJF-3B")).minor
    Size(max=0.2229, min=0.2152, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    if thread.thread_class not in CLASSES.values():
        raise NotGiven(
            f"{write(thread)}: no source for the limits of UNJ class {thread.thread_class} was found; "
            f"this knows 3A (external) and 3B (internal)"
        )
    plain = _as_unified(thread)
    found = unified.limits(plain)
    highest, lowest = found.pitch.ends
    if thread.side == "internal":
        smallest = round_half_even(basic(thread).minor, 4)
        largest = round_half_even(smallest + round_half_even(unified.minor_tolerance(plain), 4), 4)
        if largest > lowest:
            raise NotGiven(
                f"{write(thread)}: the bore tolerance of class 3B, seen in print at 1/4 in alone, would open the bore "
                f"to {largest:.4f}, past the pitch diameter {lowest:.4f}; no printed limits of so small a UNJ "
                f"nut were found, so none are given"
            )
        return found._replace(minor=Size(largest, smallest))
    root = round_half_even(root_diameter(highest, thread.pitch, LARGEST_RADIUS), 4)
    smallest = round_half_even(root_diameter(lowest, thread.pitch, SMALLEST_RADIUS), 4)
    return found._replace(minor=Size(root, smallest), root=root)


def root_diameter(pitch_diameter: float, pitch: float, radius: float) -> float:
    """Diameter at the bottom of a root whose radius, a share of the pitch, touches both 60 degree flanks.

    The sharp bottom of the groove is H/2 below the pitch line, and the arc stays its own radius above that:
    d2 - H + 2 R. The largest radius gives d2 - 0.505 185 P, the smallest d2 - 0.565 805 P.

    >>> round(root_diameter(0.8286, 1 / 14, LARGEST_RADIUS), 4)      # MIL-S-8879C, Table III: .7925
    0.7925
    """
    height = forms.sharp_height(forms.SIXTY, pitch)
    return pitch_diameter - height + 2 * forms.tip_shortening(forms.SIXTY, forms.Tip("radius", radius * pitch))


def root_form(thread: Thread) -> Root:
    """The nose radius that the external root must have; no source for the internal root was found.

    >>> tuple(round(size, 4) for size in root_form(read("7/8-14 UNJF-3A"))[1:3])      # MIL-S-8879C, Table III
    (0.0107, 0.0129)
    """
    return demanded_root(thread, write(thread), CLASSES, "ASME B1.15")


def demanded_root(thread: Thread, callout: str, classes: dict[str, str], source: str) -> Root:
    """The root radius of UNJ and MJ threads, which are one form."""
    if not thread.side:
        raise no_root_without_side(callout, classes)
    if thread.side == "internal":
        raise NotGiven(f"{callout}: no source for the root of the internal thread was found, so no tip is given")
    smallest, largest = SMALLEST_RADIUS * thread.pitch, LARGEST_RADIUS * thread.pitch
    return Root("radius", smallest, largest, f"root radius that is demanded, {source}")


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ASME B1.15, whose series are those of ASME B1.1, in words.

    >>> standing(read("3/8-24 UNJF")), standing(read("0.9-14 UNJS"))
    ('UNJF series of ASME B1.15', 'no standard pair of ASME B1.15, worked by its formulas')
    """
    return _with_j(unified.standing(_as_unified(thread))).replace("B1.1", "B1.15")


def where_from(thread: Thread) -> tuple[Origin, ...]:
    """The origins of a thread's figures; below 1/4 in the bore of a nut rests on a rule seen at that size alone.

    >>> [origin.memory for origin in where_from(read("#6-32 UNJC-3B")) if origin.memory]
    ['that the tolerance of class 3B holds below 1/4 in']
    """
    return origins_of(thread, unified.kind_of_pair(thread))


def standard_threads() -> list[Thread]:
    """Every standard pair, without a class: those of ASME B1.1 under their UNJ names."""
    return [_own(thread) for thread in unified.standard_threads()]


def _own(thread: Thread) -> Thread:
    return thread._replace(system="unj", series=_with_j(thread.series))


def _as_unified(thread: Thread) -> Thread:
    return thread._replace(system="unified", series=thread.series.replace("UNJ", "UN"))


def _with_j(text: str) -> str:
    return text.replace("UN", "UNJ")


SYSTEM = System(
    key="unj",
    title="UNJ",
    source="ASME B1.15",
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
    offered=("3A", "3B"),
    with_lead=inch_pair_with_lead,
    root_radius=(SMALLEST_RADIUS, LARGEST_RADIUS),
    root_form=root_form,
    origins=where_from,
    authority=FLIGHT,
)
