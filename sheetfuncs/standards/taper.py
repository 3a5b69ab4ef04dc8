"""Taper pipe threads: the planes a standard names, and sizes away from them. Taper 1 in 16 on the diameter."""

from __future__ import annotations

from sheetfuncs.records import NamedTuple

TAPER = 1 / 16
"""Change of diameter per length along the axis (ASME B1.20.1-2013, 3.1; ISO 7-1:1994, 4.1)."""


class Plane(NamedTuple):
    """A plane square to the axis: its distance from the small end, and the pitch diameter there.

    The small end is that of the external thread. For an internal thread it is where the small end of a basic
    external thread stands when the two are screwed up by hand.
    """

    distance: float
    pitch_diameter: float


class Gauging(NamedTuple):
    """How a taper thread is gauged: its gauge plane, and the planes that the standard names, in order of use.

    The thread is full, crest and root, from `full_from` to `full_to`, and its flanks are formed up to `formed_to`;
    all distances are from the small end. On a part within limits the gauge plane lies up to `turns` off, either way.
    Threads, full or not, are looked for from `cut_from` to `cut_to` alone.
    """

    gauge: Plane
    named: tuple[tuple[str, float], ...]
    full_from: float
    full_to: float
    formed_to: float
    turns: float
    cut_from: float
    cut_to: float


def plane_at(known: Plane, distance: float) -> Plane:
    """The plane at another distance from the small end of the same thread.

    >>> plane_at(Plane(0.0, 0.96768), 0.339).pitch_diameter        # 3/4-14 NPT: E0 to E1
    0.9888675
    """
    return Plane(distance, known.pitch_diameter + TAPER * (distance - known.distance))
