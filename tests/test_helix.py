"""The exact contact of a wire: the handbook's table, and a search that knows none of its equations."""

from __future__ import annotations

from math import atan, cos, degrees, hypot, pi, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import rows

from sheetfuncs import evaluate, helix, standards


def nearest_flank(alpha: float, pitch: float, lead: float, pd: float, axis_at: float, tilt: float) -> float:
    """Least distance from the wire's axis to the flank, by a shrinking grid over the flank's surface.

    A grid point off the nearest one by 1e-5 is too far from the axis by no more than the square of that.
    """
    k, across, along = lead / (2 * pi), sin(tilt), cos(tilt)

    def distance(r: float, phi: float) -> float:
        z = pitch / 4 + (r - pd / 2) * tan(alpha) + k * phi
        return hypot(r * cos(phi) - axis_at, z * along - r * sin(phi) * across)

    r, phi, span_r, span_phi = pd / 2, 0.0, pitch, 0.6
    best = distance(r, phi)
    while span_r > 1e-5 * pitch:
        steps = [i / 4 for i in range(-4, 5)]
        best, r, phi = min(
            (distance(r + a * span_r, phi + b * span_phi), r + a * span_r, phi + b * span_phi)
            for a in steps
            for b in steps
        )
        span_r, span_phi = span_r * 0.6, span_phi * 0.6
    return best


def height_at_tilt(alpha: float, pitch: float, lead: float, pd: float, wire: float, tilt: float) -> float:
    """Where the axis comes to lie at this tilt: just not cutting into the flank."""
    low, high = pd / 2 - pitch, pd / 2 + 2 * pitch
    while high - low > 1e-8 * pitch:
        middle = (low + high) / 2
        low, high = (middle, high) if nearest_flank(alpha, pitch, lead, pd, middle, tilt) < wire / 2 else (low, middle)
    return high


@pytest.mark.parametrize(
    ("half_angle", "pitch", "lead", "pd", "wire"),
    [
        (14.5, 1.0, 1.0, 3.0, 0.515),
        (14.5, 0.5, 1.5, 2.2, 0.255),
        (30.0, 2.5, 5.0, 18.3, 1.44),
        (15.0, 7.0, 14.0, 36.5, 3.6),
    ],
)
def test_contact_by_search(half_angle: float, pitch: float, lead: float, pd: float, wire: float) -> None:
    alpha = radians(half_angle)
    around = atan(lead / (pi * pd))
    low, high = 0.85 * around, 1.1 * around
    while high - low > 2e-4 * around:  # pressed between anvils, the wire turns to where it lies lowest
        left, right = low + (high - low) / 3, high - (high - low) / 3
        lower_left = height_at_tilt(alpha, pitch, lead, pd, wire, left) < height_at_tilt(
            alpha, pitch, lead, pd, wire, right
        )
        low, high = (low, right) if lower_left else (left, high)
    searched = 2 * height_at_tilt(alpha, pitch, lead, pd, wire, (low + high) / 2) + wire
    worked, _ = helix.over_wires(half_angle, pitch, lead, pd, wire)
    assert worked == pytest.approx(searched, abs=1e-6 * pitch)


@pytest.mark.parametrize(
    "row", rows("wires_acme_large_lead_angle"), ids=lambda row: f"{row['lead_angle_deg']}-{row['starts']}"
)
def test_handbook_table_for_large_lead_angles(row: dict[str, str]) -> None:
    """MH31 p. 2136, per inch of pitch: best wire and what to add to the pitch diameter.

    The table is smoothed: our differences run through it in waves of up to 3 in its last (fifth) place.
    """
    starts = int(row["starts"])
    pd = starts / (pi * tan(radians(float(row["lead_angle_deg"]))))
    best, reading = best_wire_by_bisection(14.5, 1.0, float(starts), pd)
    assert best == pytest.approx(float(row["best_wire_w1"]), abs=3.5e-5)
    assert reading - pd == pytest.approx(float(row["C_plus_c_1"]), abs=3.5e-5)


def best_wire_by_bisection(half_angle: float, pitch: float, lead: float, pd: float) -> tuple[float, float]:
    low, high = 0.3 * pitch, 0.8 * pitch
    while high - low > 1e-12 * pitch:
        wire = (low + high) / 2
        low, high = (wire, high) if helix.over_wires(half_angle, pitch, lead, pd, wire)[1] < pd else (low, wire)
    return wire, helix.over_wires(half_angle, pitch, lead, pd, wire)[0]


@given(
    half_angle=st.floats(10, 35),
    starts=st.integers(1, 4),
    diameters=st.floats(3, 40),
    share=st.floats(0.9, 1.3),
)
def test_the_inverse_closes(half_angle: float, starts: int, diameters: float, share: float) -> None:
    wire = share / (2 * cos(radians(half_angle)))
    reading, _ = helix.over_wires(half_angle, 1.0, float(starts), diameters, wire)
    assert helix.pitch_diameter(half_angle, 1.0, float(starts), reading, wire) == pytest.approx(diameters, abs=1e-10)


def test_the_worked_example_of_the_correction_by_search() -> None:
    """1-0.1P-0.2L UNS, wire .058: the lowest place of the wire, by tilting and searching, less the handbook rule."""
    pitch, lead, wire = 0.1, 0.2, 0.058
    pd = 1 - 0.64951905 * pitch
    tilts = [atan(lead / (pi * pd)) * (0.94 + 0.005 * step) for step in range(13)]
    lowest = min(height_at_tilt(radians(30), pitch, lead, pd, wire, tilt) for tilt in tilts)
    correction = 2 * lowest + wire - (pd + 3 * wire - 0.8660254 * pitch)
    assert correction == pytest.approx(0.00020, abs=5e-6)
    assert evaluate("THREAD_WIRE_CORRECTION", "1-0.1P-0.2L UNS-2A", wire) == pytest.approx(correction, abs=1e-6)


def test_without_lead_it_is_the_handbook_rule() -> None:
    reading, at = helix.over_wires(30, 0.0625, 0.0, 0.7079, 0.0625 / (2 * cos(radians(30))))
    assert reading == pytest.approx(0.7079 + 1.5 * 0.0625 / cos(radians(30)) - 0.0625 * cos(radians(30)), abs=1e-15)
    assert at == pytest.approx(0.7079, abs=1e-15)


def test_the_functions_use_it() -> None:
    callout, wire = "1-0.1P-0.3L UNS-2A", 0.058
    exact = evaluate("THREAD_OVER_WIRES", callout, wire, "basic", None, "exact")
    plain = evaluate("THREAD_OVER_WIRES", callout, wire, "basic")
    assert exact - plain == pytest.approx(evaluate("THREAD_WIRE_CORRECTION", callout, wire), abs=1e-12)
    assert exact > plain
    back = evaluate("THREAD_PD_FROM_WIRES", callout, wire, exact, None, "exact")
    assert back == pytest.approx(standards.basic(standards.read(callout)).pitch, abs=1e-11)
    assert degrees(atan(0.3 / (pi * 0.935))) > 5  # the lead angle that makes it matter
