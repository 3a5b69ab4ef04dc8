"""MJ metric threads: ISO metric with a large, controlled root radius outside and a larger bore inside (ISO 5855).

Tolerances and deviations are those of ISO 965-1 (seen said in a public summary only; the printed rows agree).
The profile is that of UNJ: root radius 0.150 11 P to 0.180 42 P, 9/16 H high (scope of SAE MA1370). The limits of
bolts that were found printed with the scope of ISO 5855-2 come out digit for digit (tests/published/mj_limits.csv).
"""

from __future__ import annotations

import re

from sheetfuncs import forms, tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, noted, plain
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.standards import iso_metric, metric_callouts, unj
from sheetfuncs.standards.base import (
    FLIGHT,
    Basic,
    Limits,
    Root,
    Size,
    System,
    no_limits_without_class,
    origins_of,
    round_half_even,
)
from sheetfuncs.standards.iso_metric import crest_tolerance
from sheetfuncs.units import read_number

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import TypeVar

    from sheetfuncs.standards.origins import Origin

    S = TypeVar("S")
    T = TypeVar("T")

CLASSES = {
    "external": "4h6h, 4g6g and 6g",
    "internal": "4H6H (up to 5 mm), 4H5H (from 6 mm), 4G6G and 6H",
}

POSITIONS = "ghGH"
"""Tolerance positions of MJ threads: h and H in ISO 5855-2, g and G as well in ASME B1.21M (MH27 p. 1807)."""

SMALLEST_MM = 1.6
"""Smallest MJ thread (ISO 5855-1:1999, scope). Above 300 mm its method of calculation goes on."""


def read(text: str) -> Thread | None:
    """An MJ designation: a metric one that begins with MJ and names its pitch; None for other text.

    ISO 5855 writes the pitch always, and its bolts do not follow the coarse series, so none is implied.

    >>> read("MJ10x1.5-4h6h").pitch, read("mj6 x 1 - 4H5H").side, read("M10x1.5-4h6h")
    (1.5, 'internal', None)
    """
    match = re.fullmatch(r"(?i)MJ(\s*([\d.]+)\s*(.?).*)", text)
    if not match:
        return None
    diameter = read_number(match[2])
    if diameter is not None and diameter < SMALLEST_MM:
        raise OutOfRange(f"{text}: ISO 5855-1 begins at {SMALLEST_MM:g} mm")
    if match[3].lower() != "x" and diameter is not None and diameter <= metric_callouts.LARGEST_MM:
        pitch = plain(metric_callouts.coarse_pitch_up_to(diameter))
        raise NotUnderstood(f"{text}: an MJ thread names its pitch; write it as in MJ{match[2]}x{pitch}-4h6h")
    thread = _as_metric(metric_callouts.read, f"M{match[1]}")
    if thread is None:
        return None
    return noted(thread._replace(system="mj", series="MJ"), thread.note)


def write(thread: Thread) -> str:
    """The designation, always with its pitch.

    >>> write(read("mj10 x 1.25 -4h6h-lh"))
    'MJ10x1.25-4h6h-LH'
    """
    return iso_metric.write(thread)


def basic(thread: Thread) -> Basic:
    """Basic sizes in mm: d2 = d - 3/4 H, D1 = D - 9/8 H, 0.974 279 P (SAE MA1370: 0.5625 H high).

    >>> [round(size, 3) for size in basic(read("MJ10x1.25"))]
    [10.0, 9.188, 8.782]
    """
    return unj.basic(thread)


def limits(thread: Thread) -> Limits:
    """Limits of size in mm, to 0.001.

    External: the minor diameter runs from the largest root radius at the largest pitch diameter, d - 1.1547 P, to
    the smallest radius at the smallest, and its tolerance is rounded by itself, as the printed rows need it.
    Internal: the minor diameter has the tolerance of ISO 965-1 above D - 0.974 279 P; no printed row was seen.

    >>> limits(read("MJ10x1.25-4h6h")).minor
    Size(max=8.557, min=8.406, reference='')
    """
    if not thread.thread_class:
        raise no_limits_without_class(write(thread), CLASSES)
    if not any(position in thread.thread_class for position in POSITIONS):
        raise NotGiven(
            f"{write(thread)}: MJ threads have the positions h and g outside, H and G inside; no source gives another"
        )
    as_metric = thread._replace(system="iso_metric", series="M")
    found = _as_metric(iso_metric.limits, as_metric)
    own = basic(thread)
    if thread.side == "internal":
        smallest = own.minor + found.allowance
        *_, crest_grade = re.findall(r"\d", thread.thread_class)
        tolerance = crest_tolerance(as_metric, int(crest_grade)) / 1000
        return found._replace(
            major=Size(None, found.major.min),
            minor=Size(round_half_even(smallest + tolerance, 3), round_half_even(smallest, 3)),
        )
    largest = unj.root_diameter(own.pitch - found.allowance, thread.pitch, unj.LARGEST_RADIUS)
    highest, lowest = found.pitch.ends
    tolerance = highest - lowest + 2 * (unj.LARGEST_RADIUS - unj.SMALLEST_RADIUS) * thread.pitch
    minor_max = round_half_even(largest, 3)
    minor = Size(minor_max, round_half_even(minor_max - round_half_even(tolerance, 3), 3))
    return found._replace(minor=minor, root=minor_max)


def root_form(thread: Thread) -> Root:
    """The nose radius that the external root must have; no source for the internal root was found.

    >>> tuple(round(size, 4) for size in root_form(read("MJ10x1.5-4h6h"))[1:3])
    (0.2252, 0.2706)
    """
    return unj.demanded_root(thread, write(thread), CLASSES, "SAE MA1370 and ASME B1.15")


def standing(thread: Thread) -> str:
    """How the diameter and pitch stand in ISO 5855-2 and ISO 261, in words.

    >>> standing(read("MJ10x1.25")), standing(read("MJ10x1.5"))
    ('bolt and nut series of ISO 5855-2', 'coarse series of ISO 261, not among the bolts and nuts of ISO 5855-2')
    """
    if (thread.diameter, thread.pitch) in _bolts():
        return "bolt and nut series of ISO 5855-2"
    metric = iso_metric.standing(thread)
    if metric.startswith("no "):
        return "no pair of ISO 261 or ISO 5855-2, worked by their formulas"
    return f"{metric}, not among the bolts and nuts of ISO 5855-2"


def where_from(thread: Thread) -> tuple[Origin, ...]:
    """The origins of a thread's figures: which were read from a table, which are formulas off the tables.

    >>> [origin.place for origin in where_from(read("MJ10x1.25"))][-1:]
    ['part 2']
    """
    pair = "pair" if (thread.diameter, thread.pitch) in _bolts() else "special"
    return origins_of(thread, f"{pair} {iso_metric.cells(thread)}")


def standard_threads() -> list[Thread]:
    """The pairs of bolts and nuts of ISO 5855-2, without a class; the wider selection of ISO 5855-1 was not seen."""
    return [Thread("mj", "mm", diameter, pitch, series="MJ") for diameter, pitch in _bolts()]


def _as_metric(function: Callable[[S], T], subject: S) -> T:
    """What the metric module makes of it; where that refuses, the sentence names the MJ thread that was meant."""
    try:
        return function(subject)
    except CellError as error:
        raise type(error)(re.sub(r"\bM(?=\s*[\d.])", "MJ", str(error))) from None


@lru_cache(maxsize=1)
def _bolts() -> list[tuple[float, float]]:
    return [(float(r["diameter_mm"]), float(r["pitch_mm"])) for r in tables.rows("mj_bolts")]


SYSTEM = System(
    key="mj",
    title="MJ metric",
    source="ISO 5855",
    unit="mm",
    decimals=3,
    form=forms.SIXTY,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("4h6h", "4g6g", "6g", "4H5H", "4H6H", "6H"),
    with_lead=iso_metric.with_lead,
    widening_starts=iso_metric.WIDENING_STARTS,
    root_radius=(unj.SMALLEST_RADIUS, unj.LARGEST_RADIUS),
    root_form=root_form,
    origins=where_from,
    authority=FLIGHT,
)
