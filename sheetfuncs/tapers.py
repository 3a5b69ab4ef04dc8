"""Taper pipe threads along their axis: the planes that are gauged, sizes at a place, and turns of the gauge.

All of a taper thread moves together: where the gauge plane lies n turns away from its place, each diameter is n times
pitch times taper larger or smaller. So a limit at any place is the limit at the gauge plane, moved by the taper, and a
pitch diameter measured at a known place says how many turns the ring or plug will stand off.
"""

from __future__ import annotations

from sheetfuncs import limits, standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.standards.taper import Gauging, plane_at
from sheetfuncs.units import at_least, at_most

MOST_TURNS = 20.0
"""More than so many turns off is no reading of this thread (ours)."""

PRINTED_TO = {"in": (0.0001, 4), "mm": (0.1, 1)}
"""The last place of lengths in ASME B1.20.1 (inches) and ISO 7-1 and its decimals; a distance may be rounded so."""


@sheet_function(
    category=limits.CATEGORY,
    returns=(
        "plane",
        "plane_distance",
        "plane_turns",
        "pitch_diameter",
        "plane_max",
        "plane_min",
        "blank_max",
        "blank_min",
    ),
    table="rows",
    sources=("ASME B1.20.1", "ISO 7-1"),
    examples=(
        Example(
            ("3/4-14 NPT external",),
            ("small end, E0", "0.000", "0.00", "0.96768", "0.97214", "0.96321", "1.0293", "1.0139"),
            "ASME B1.20.1-1983, Table 2: E0 .96768; by hand a turn either way, P/16 = .004464, and heights of the "
            "thread .05714 and .05072 (MH27 p. 1863) on it",
        ),
    ),
)
def taper_planes(
    thread: Thread,
) -> list[tuple[str, float, float, float | None, float | None, float | None, float | None, float | None]]:
    """Planes of a taper thread: distance from the small end, turns, pitch diameter and its limits, blank or bore.

    NPT: E0 at the small end, E1 at the hand-tight plane L1, the last perfect thread L5, the effective thread L2, the
    vanish threads L4; a fitting begins at its face. R and Rc: small end, gauge plane, useful thread. A turn of the
    gauge is one pitch along the axis and P/16 on the diameter. Where threads run out there is no pitch diameter, and
    where their crests are the pipe itself there is no blank; a thread that does not say its side is taken as the pipe.

    >>> for row in taper_planes(standards.read("3/4-14 NPT"))[:2]:
    ...     print(row[0], [round(number, 4) for number in row[1:4]])
    small end, E0 [0.0, 0.0, 0.9677]
    hand-tight plane, L1 [0.339, 4.746, 0.9889]
    """
    gauging = _gauging(thread)
    crest = "minor" if thread.side == "internal" else "major"
    rows = []
    for name, distance in gauging.named:
        full, formed = distance <= gauging.full_to, distance <= gauging.formed_to
        rows.append(
            (
                name,
                distance,
                distance / thread.pitch,
                plane_at(gauging.gauge, distance).pitch_diameter if formed else None,
                *(_limits_at(thread, gauging, "pitch", distance) if formed else (None, None)),
                *(_limits_at(thread, gauging, crest, distance) if full else (None, None)),
            )
        )
    return rows


@sheet_function(
    category=limits.CATEGORY,
    returns="pitch_diameter",
    unit_before="limit_there",
    sources=("ASME B1.20.1", "ISO 7-1"),
    examples=(
        Example(("3/4-14 NPT", 0.339), "0.98887", "ASME B1.20.1-2013, Table 2: E1 at L1 = .339"),
        Example(
            ("3/4-14 NPT", 0, None, "max"),
            "0.97214",
            "ASME B1.20.1-1983, Table 2: E0 .96768; by hand a turn more, P/16 = .004464",
        ),
    ),
)
def taper_diameter(thread: Thread, distance: float, limit_there: str = "basic") -> float:
    """Pitch diameter of a taper thread at a distance from its small end, square to the axis.

    Basic, or at a limit: the limit at the gauge plane, moved by the taper. The distance is on the thread: on a pipe of
    ASME B1.20.1 from 0 to the end of the vanish threads, L4, in a fitting from the hand-tight plane L1 back to where
    the wrench takes the pipe, L3 before 0. ISO 7-1 gives no such ends: twice its useful thread is taken for them.

    >>> round(taper_diameter(standards.read("3/4-14 NPT"), 0.339), 5)
    0.98887
    >>> taper_diameter(standards.read("3/4-14 NPT external"), 9.5)
    Traceback (most recent call last):
    sheetfuncs.errors.OutOfRange: distance is 9.5 in; on 3/4-14 NPT external it is from 0 to 0.7936 in, counted from ...
    """
    gauging = _gauging(thread)
    _refuse_off_the_thread(thread, distance)
    basic = plane_at(gauging.gauge, distance).pitch_diameter
    ends = dict(zip(("max", "min"), _limits_at(thread, gauging, "pitch", distance)))
    return {"basic": basic, "mid": sum(ends.values()) / 2, **ends}[limit_there]


@sheet_function(
    category=limits.CATEGORY,
    returns="gauge_turns",
    sources=("ASME B1.20.1", "ISO 7-1"),
    examples=(
        Example(
            ("3/4-14 NPT external", 0.99333, 0.339),
            "1.00",
            "ASME B1.20.1-1983, Table 2: E1 .98887, and .00446 on the diameter for a turn",
        ),
        Example(
            ("R 3/4", "25.392 mm", 9.5),
            "1.0",
            "JIS B 0203:1999, attached table 1: 25.279 mm, and the gauge plane 1.81 mm off, a sixteenth of it on the "
            "diameter",
        ),
    ),
)
def taper_turns(thread: Thread, pitch_diameter: float, distance: float) -> float:
    """Turns of the gauge by which a taper thread is large (+) or small (-), from its pitch diameter at a place.

    Outside: at +n the face of the ring stands n turns beyond the small end, and the pitch diameter is to be cut
    n times P/16 smaller for the two to be flush. Inside: at +n the plug goes n turns too deep. ASME B1.20.1 lets a
    product be one turn off either way; the turns of ISO 7-1 follow from THREAD_LIMITS. The ring or plug itself
    decides: this is the pitch diameter alone, without the errors of lead, angle and taper. The distance is bounded as
    in THREAD_TAPER_DIAMETER.

    >>> round(taper_turns(standards.read("3/4-14 NPT"), 0.9675, 0.0), 2)
    -0.04
    """
    gauging = _gauging(thread)
    _refuse_off_the_thread(thread, distance)
    over = pitch_diameter - plane_at(gauging.gauge, distance).pitch_diameter
    turns = over / (thread.pitch * standards.system(thread).taper)
    if abs(turns) > MOST_TURNS:
        raise OutOfRange(
            f"a pitch diameter of {plain(pitch_diameter)} {thread.unit} at {plain(distance)} from the small end is "
            f"{plain(round(turns))} turns off {standards.write(thread)}; check the unit and the place"
        )
    return turns


def refuse_place_of_wires(thread: Thread, distance: float) -> None:
    """Refuse a place for the single wire where it, or one of the two beside it, is not in a full groove.

    >>> refuse_place_of_wires(standards.read("3/4-14 NPT"), 0.4)
    Traceback (most recent call last):
    sheetfuncs.errors.OutOfRange: on 3/4-14 NPT the single wire stands from 0.0358 to 0.3671 in from the small end, ...
    """
    gauging = _gauging(thread)
    first, last = gauging.full_from + thread.pitch / 2, gauging.full_to - thread.pitch / 2
    if not first <= distance <= last:
        places = standards.system(thread).decimals - 1
        raise OutOfRange(
            f"on {standards.write(thread)} the single wire stands from {at_least(first, places)} to "
            f"{at_most(last, places)} {thread.unit} from the small end, where all three lie in full grooves; "
            f"distance is {plain(distance)}"
        )


def _refuse_off_the_thread(thread: Thread, distance: float) -> None:
    """Refuse a distance where there is no thread; where no side is written it may be on the pipe or in the fitting."""
    sides = (thread.side,) if thread.side else ("external", "internal")
    found = [_gauging(thread._replace(side=side)) for side in sides]
    first, last = min(one.cut_from for one in found), max(one.cut_to for one in found)
    rounding, places = PRINTED_TO[thread.unit]
    if not first - rounding <= distance <= last + rounding:
        ends = " to ".join(plain(round(end, places)) for end in (first, last))
        raise OutOfRange(
            f"distance is {plain(round(distance, 6))} {thread.unit}; on {standards.write(thread)} it is from {ends} "
            f"{thread.unit}, counted from the small end of the pipe"
        )


def _limits_at(thread: Thread, gauging: Gauging, which: str, distance: float) -> tuple[float, float]:
    """Largest and smallest of pitch, major or minor diameter at a distance: those at the gauge plane, moved.

    They are rounded there, as the standard does it, and not once more.
    """
    rise = standards.system(thread).taper * (distance - gauging.gauge.distance)
    largest, smallest = getattr(standards.limits(thread), which).ends
    return largest + rise, smallest + rise


def _gauging(thread: Thread) -> Gauging:
    system = standards.system(thread)
    if system.gauging is None:
        raise NotGiven(f"{standards.write(thread)} is a parallel thread; its pitch diameter is the same all along")
    return system.gauging(thread)
