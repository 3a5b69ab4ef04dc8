"""R and Rc taper pipe threads, for joints that seal on the thread (ISO 7-1); Rp, the parallel one, is in `pipe_rp`.

Form: 55 degrees, square to the axis, depth 0.640327 P, crest and root rounded to 0.137 P; taper 1 in 16 on the
diameter. The diameters hold at the gauge plane. Sizes, gauge lengths and their tolerances are those of ISO 7-1:1994,
Table 1, as JIS B 0203:1999 prints them (data/iso_7_1.csv).
"""

from __future__ import annotations

import re

from sheetfuncs import forms
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, read_inch_size, split_hand
from sheetfuncs.errors import NotUnderstood, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.standards.base import PRESSURE_TIGHT, Basic, Limits, Root, Size, System, round_half_even
from sheetfuncs.standards.callouts import INCHES, NUMBER, class_and_side, root_to_clear, table_by_size
from sheetfuncs.standards.taper import TAPER, Gauging, Plane, plane_at
from sheetfuncs.units import MM_PER_INCH

CLASSES = {"external": "R, without a class", "internal": "Rc, without a class"}

ROOT_RADIUS = 0.137
"""Radius of crest and root as a share of the pitch (ISO 7-1:1994, basic profile; to three digits)."""

DEPTH_OF_SHARP = 2 / 3
"""Depth of the thread as a share of H (ISO 7-1:1994, Figure 1); the taper changes H by less than 0.03 percent."""


USEFUL_TIMES = 2.0
"""Threads are looked for on so many times the useful thread, from the small end outside, from the face inside (ours).

ISO 7-1 gives no length of the threads that run out, and of those inside the least alone.
"""


class GaugePlanes(NamedTuple):
    """The planes that ISO 7-1 names, mm from the small end (see `Plane` for an internal thread).

    `gauge` has the basic diameters. `useful` ends the useful thread of a pipe with the nominal gauge length.
    On a part within limits the gauge plane lies anywhere from `shortest` to `longest`, `turns` either way.
    """

    small_end: Plane
    gauge: Plane
    useful: Plane
    shortest: float
    longest: float
    turns: float


def read(text: str) -> Thread | None:
    """An R or Rc designation (ISO 7-1:1994, clause 7), or None where the text is not one.

    >>> read("r3/4").side, read("RC 1 1/2 LH").left_hand
    ('external', True)
    """
    return read_jointing(text, {"R": ("pipe_taper_iso", "external"), "Rc": ("pipe_taper_iso", "internal")})


def read_jointing(text: str, kinds: dict[str, tuple[str, str]]) -> Thread | None:
    """A designation of ISO 7-1 that begins with one of `kinds`, which says the system and side of each.

    A word for the side may stand behind, where it is true.
    """
    rest, left_hand = split_hand(text)
    match = re.fullmatch(
        rf"(?i)(?P<kind>{'|'.join(kinds)})\s*(?P<size>{NUMBER}){INCHES}(?P<words>(?:[\s-]+[A-Z(].*)?)", rest
    )
    if not match:
        return None
    diameter = read_inch_size(match["size"])
    size = next((size for size, row in sizes().items() if row["nominal"] == diameter), None)
    kind = match["kind"].capitalize()
    if size is None:
        raise OutOfRange(f"{text}: ISO 7-1 has no {kind} {match['size']}; it has {', '.join(sizes())}")
    system, side = kinds[kind]
    if class_and_side(match["words"], (), text)[1] not in ("", side):
        raise NotUnderstood(f"{text}: {kind} is the {side} thread; R is outside, Rc (taper) and Rp (parallel) inside")
    return jointing_thread(system, kind, size, side, left_hand)


def jointing_thread(system: str, kind: str, size: str, side: str, left_hand: bool = False) -> Thread:
    """A thread of ISO 7-1 by its letter and nominal size."""
    row = sizes()[size]
    pitch = MM_PER_INCH / row["tpi"]
    return Thread(system, "mm", row["major_mm"], pitch, 1, f"{kind} {size}", "", side, left_hand)


def write(thread: Thread) -> str:
    """The designation in its customary form.

    >>> write(read("RC3/4-LH"))
    'Rc 3/4 LH'
    """
    return f"{thread.series}{' LH' * thread.left_hand}"


def basic(thread: Thread) -> Basic:
    """Basic diameters in mm at the gauge plane (ISO 7-1:1994, Table 1).

    >>> basic(read("R 3/8"))
    Basic(major=16.662, pitch=15.806, minor=14.95)
    """
    row = row_of(thread)
    return Basic(row["major_mm"], row["pitch_mm"], row["minor_mm"])


def limits(thread: Thread) -> Limits:
    """What the tolerance of the gauge plane comes to on the diameters there, mm.

    The standard lets the gauge plane move along the axis, T1 turns for R and T2 for Rc; on the diameter that is a
    sixteenth. It tolerates no diameter by itself, so crest and root move with the flanks, and the root to clear
    is that of the basic size: it belongs to the middle of the limits.

    >>> limits(read("R 3/4")).pitch
    Size(max=25.392, min=25.166, reference='')
    """
    major, middle, minor = basic(thread)
    across = axial_tolerance(thread) * TAPER
    depth = DEPTH_OF_SHARP * forms.sharp_height(forms.FIFTY_FIVE, thread.pitch)
    root = root_to_clear(middle, depth, thread.side, 3)
    return Limits(both_ways(major, across), both_ways(middle, across), both_ways(minor, across), 0.0, root)


def axial_tolerance(thread: Thread) -> float:
    """How far the gauge plane may lie from its nominal place, either way, mm: T1/2 of R, T2/2 of Rc and Rp."""
    return row_of(thread)["T2_turns" if thread.side == "internal" else "T1_turns"] * thread.pitch


def planes(thread: Thread) -> GaugePlanes:
    """The gauge plane and the others that ISO 7-1 names.

    >>> found = planes(read("R 3/4"))
    >>> found.gauge, round(found.useful.distance, 1), round(found.longest, 1)
    (Plane(distance=9.5, pitch_diameter=25.279), 14.5, 11.3)
    """
    row = row_of(thread)
    gauge = Plane(row["gauge_mm"], row["pitch_mm"])
    useful = plane_at(gauge, gauge.distance + row["beyond_turns"] * thread.pitch)
    moves = axial_tolerance(thread)
    turns = moves / thread.pitch
    return GaugePlanes(plane_at(gauge, 0.0), gauge, useful, gauge.distance - moves, gauge.distance + moves, turns)


def gauging(thread: Thread) -> Gauging:
    """The planes as a pipe or a fitting has them.

    >>> [(name, round(distance, 1)) for name, distance in gauging(read("R 3/4")).named]
    [('small end', 0.0), ('gauge plane', 9.5), ('useful thread ends', 14.5)]
    """
    found = planes(thread)
    gauge, useful = found.gauge.distance, found.useful.distance
    reach = USEFUL_TIMES * useful
    if thread.side == "internal":
        named: tuple[tuple[str, float], ...] = (("face, gauge plane", gauge), ("small end of the pipe, by hand", 0.0))
        return Gauging(found.gauge, named, 0.0, gauge, gauge, found.turns, gauge - reach, gauge)
    named = (("small end", 0.0), ("gauge plane", gauge), ("useful thread ends", useful))
    return Gauging(found.gauge, named, 0.0, useful, useful, found.turns, 0.0, reach)


def root_form(thread: Thread) -> Root:
    """The tool of the full form: a nose of the form's own radius (ISO 7-1).

    >>> round(root_form(read("R 1")).largest, 3)
    0.316
    """
    radius = ROOT_RADIUS * thread.pitch
    return Root("radius", radius, radius, "radius of the form, ISO 7-1")


def standing(thread: Thread) -> str:
    """Every R or Rc thread that is read is one of ISO 7-1.

    >>> standing(read("R 3/4"))
    'size 3/4 of ISO 7-1, taper 1 in 16, sizes at the gauge plane'
    """
    return f"size {thread.series.partition(' ')[2]} of ISO 7-1, taper 1 in 16, sizes at the gauge plane"


def standard_threads() -> list[Thread]:
    """Every size, first R, then Rc."""
    kinds = (("R", "external"), ("Rc", "internal"))
    return [jointing_thread("pipe_taper_iso", kind, size, side) for kind, side in kinds for size in sizes()]


def row_of(thread: Thread) -> dict[str, float]:
    """The row of the standard's table that a thread of ISO 7-1 stands in."""
    return sizes()[thread.series.partition(" ")[2]]


def both_ways(size: float, across: float) -> Size:
    """A size with the same tolerance above and below, to 0.001 mm."""
    return Size(round_half_even(size + across, 3), round_half_even(size - across, 3))


@lru_cache(maxsize=1)
def sizes() -> dict[str, dict[str, float]]:
    """The table of ISO 7-1 by nominal size."""
    return table_by_size("iso_7_1")


SYSTEM = System(
    key="pipe_taper_iso",
    title="R taper pipe",
    source="ISO 7-1",
    unit="mm",
    decimals=3,
    form=forms.FIFTY_FIVE,
    read=read,
    write=write,
    basic=basic,
    limits=limits,
    standing=standing,
    standard_threads=standard_threads,
    classes=CLASSES,
    offered=("R or Rc",),
    bare_class="R or Rc",
    joiner=" ",
    taper=TAPER,
    gauging=gauging,
    root_form=root_form,
    authority=PRESSURE_TIGHT,
)
