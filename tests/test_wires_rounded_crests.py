"""Wires on rounded crests: the largest wire still rests on straight flank, drawn point by point.

The groove is laid out as points of flank and arc from published proportions; a wire is let down between them until
it touches. None of the equations of sheetfuncs.wires is used.
"""

from __future__ import annotations

from math import cos, degrees, hypot, radians, sin, sqrt, tan

import pytest

from sheetfuncs import evaluate, standards, wire_fit, wires
from sheetfuncs.errors import OutOfRange

WHITWORTH = {"half_angle": 27.5, "depth": 0.640327, "radius": 0.137329}
"""BS 84 (Machinery's Handbook, 31st ed., p. 2087, Table 2), shares of the pitch."""

BA = {"half_angle": 23.75, "depth": 0.6, "radius": 0.1808346}
"""BS 93:2008, Figure 1; a gauge maker's page "BA and G Series Thread Gauges" has 0.600 00 and 0.180 83."""

STRAIGHT_FLANK = 0.49249224
"""Straight flank of the Whitworth form: h less twice the depth of rounding, 0.640327 - 2 x 0.073918 (MH31 p. 2087)."""

POINTS = 200_000


def groove(half_angle: float, crest: float, radius: float) -> list[tuple[float, float]]:
    """Points (x from the middle of the groove, height over the pitch line) of one side, pitch 1.

    The flank passes a quarter pitch from the middle at the pitch line. The arc's centre is over the middle of the
    ridge, half a pitch away, its top at the crest; it begins where it comes nearest to the flank.
    """
    a, centre = radians(half_angle), crest - radius
    end = (0.5 - radius * cos(a), centre + radius * sin(a))
    bottom = -0.25 / tan(a)
    flank = [(0.25 + z * tan(a), z) for z in (bottom + (end[1] - bottom) * n / POINTS for n in range(POINTS + 1))]
    arc = [
        (0.5 - radius * cos(angle), centre + radius * sin(angle))
        for angle in (a + (radians(90) - a) * n / POINTS for n in range(POINTS + 1))
    ]
    assert hypot(flank[-1][0] - end[0], flank[-1][1] - end[1]) < 2e-5  # the published arc does meet the flank
    return flank + arc


def rest(profile: list[tuple[float, float]], wire: float) -> tuple[float, float]:
    """Height of the wire's centre over the pitch line where it comes to rest, and of the point it touches."""
    half = wire / 2
    return max((z + sqrt(half * half - x * x), z) for x, z in profile if x < half)


@pytest.mark.parametrize(("callout", "form"), [("1/2-12 BSW", WHITWORTH), ("0 BA", BA)], ids=["BSW", "BA"])
def test_the_largest_wire_ends_the_straight_flank(callout: str, form: dict[str, float]) -> None:
    pitch = standards.read(callout).pitch
    (_, largest), *_ = evaluate("THREAD_WIRE_RANGE", callout)
    crest, radius = form["depth"] / 2, form["radius"]
    profile = groove(form["half_angle"], crest, radius)
    straight = crest - radius * (1 - sin(radians(form["half_angle"])))
    centre, touched = rest(profile, largest / pitch)
    assert touched == pytest.approx(straight, abs=5e-5)
    in_the_v = largest / pitch / 2 / sin(radians(form["half_angle"])) - 0.25 / tan(radians(form["half_angle"]))
    assert centre == pytest.approx(in_the_v, abs=1e-6)
    over = largest / pitch * 1.05
    sunk, touched = rest(profile, over)
    assert touched > straight + 0.001
    assert sunk < over / 2 / sin(radians(form["half_angle"])) - 0.25 / tan(radians(form["half_angle"])) - 1e-4


def test_published_straight_flank_of_the_whitworth_form() -> None:
    """The straight flank lies half above, half below the pitch line; a wire at its end, from the right triangles."""
    (_, largest), *_ = evaluate("THREAD_WIRE_RANGE", "1-8 BSW")
    a = radians(27.5)
    wire = 2 * (0.25 + STRAIGHT_FLANK / 2 * tan(a)) / cos(a)
    assert largest * 8 == pytest.approx(wire, abs=1e-5)


@pytest.mark.parametrize("callout", ["1/2-12 BSW medium bolt", "1-8 BSW free bolt", "2 BA normal bolt", "G 3/4 B"])
def test_at_the_lowest_crest_the_rounding_reaches_further_down(callout: str) -> None:
    """A crest at its least major diameter, rounded off into both flanks by whatever radius fits, is drawn."""
    thread = standards.read(callout)
    found = standards.limits(thread)
    a = radians(standards.system(thread).form.included / 2)
    crest = (found.major.min - found.pitch.max) / 2 / thread.pitch
    low, high = 0.0, 0.5
    for _ in range(60):  # the radius whose arc touches the flank and ends at the crest
        radius = (low + high) / 2
        gap = 0.25 * cos(a) - (crest - radius) * sin(a) - radius  # from the arc to the flank, square to it
        low, high = (radius, high) if gap > 0 else (low, radius)
    profile = groove(degrees(a), crest, radius)
    _, largest = wire_fit.usable_wires(thread)
    _, touched = rest(profile, largest / thread.pitch)
    assert touched == pytest.approx(crest - radius * (1 - sin(a)), abs=5e-5)


def test_a_wire_past_the_straight_flank_is_refused_in_words() -> None:
    with pytest.raises(OutOfRange, match="it would rest on the rounding of the crest of 1/2-12 BSW; usable are"):
        wires.check_wire(standards.read("1/2-12 BSW"), 0.95 / 12)
    wires.check_wire(standards.read("1/2-12 BSW"), 0.85 / 12)
