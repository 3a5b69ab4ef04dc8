"""A straight wire in a helical groove: the exact measurement over wires, any half angle, lead and starts.

The axis of the thread is z, the wire is over the x axis, k = lead / 2 pi. The flank above the wire is

    z = s(r) + k phi,     s(r) = P/4 + (r - E/2) tan a

the straight line of the axial plane carried round the helix: at the pitch radius E/2 the groove is P/2 wide.
Turned half round about the x axis the groove lies on itself, so the wire's middle is on that axis, at C, and both
flanks touch alike. The wire is free to tilt about x and comes to rest where that no longer lowers C; then each
contact is beside the middle of the wire, as a ball's would be: (r, phi) is the middle plus W/2 along the flank's normal

    n = (-tan a cos phi + q sin phi, -tan a sin phi - q cos phi, 1) / N,   q = k / r,   N^2 = 1 + tan^2 a + q^2

The y parts of that give phi from r, the z parts then one equation in r alone, the x parts C:

    tan phi = -(W/2) (q / N) / (r + (W/2) tan a / N)
    s(r) + k phi = (W/2) / N
    C = r cos phi + (W/2) (tan a cos phi - q sin phi) / N,     M = 2 C + W

Without lead (k = 0) this is the handbook rule. docs/wires.md; Machinery's Handbook, 31st ed., p. 2136 tabulates it.
"""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, pi, radians, sin, sqrt, tan

_CLOSE = 1e-13  # of the pitch; 1e-10 is asked for


def over_wires(half_angle: float, pitch: float, lead: float, pitch_diameter: float, wire: float) -> tuple[float, float]:
    """Measurement over three wires, and the diameter at which they touch the flanks. Angle in degrees.

    >>> at_11_degrees = 2 / (pi * tan(radians(11.1)))     # MH31 p. 2136, 2 starts: adds 0.63292
    >>> reading, touching = over_wires(14.5, 1.0, 2.0, at_11_degrees, 0.50691)
    >>> round(reading - at_11_degrees, 3)
    0.633
    """
    slope, k, half_wire = tan(radians(half_angle)), lead / (2 * pi), wire / 2

    def turned(r: float) -> tuple[float, float]:
        normal = sqrt(1 + slope**2 + (k / r) ** 2)
        return -atan2(half_wire * k / (r * normal), r + half_wire * slope / normal), normal

    def gap(r: float) -> float:
        phi, normal = turned(r)
        return pitch / 4 + (r - pitch_diameter / 2) * slope + k * phi - half_wire / normal

    r = _root(gap, pitch_diameter / 2, 0.01 * pitch, _CLOSE * pitch)
    phi, normal = turned(r)
    middle = r * cos(phi) + half_wire * (slope * cos(phi) - k / r * sin(phi)) / normal
    return 2 * middle + wire, 2 * r


def pitch_diameter(half_angle: float, pitch: float, lead: float, reading: float, wire: float) -> float:
    """Pitch diameter from a reading over wires: the inverse of `over_wires`.

    >>> reading, _ = over_wires(30, 2.5, 2.5, 18.3, 1.44)
    >>> round(pitch_diameter(30, 2.5, 2.5, reading, 1.44), 10)
    18.3
    """

    def miss(diameter: float) -> float:
        return over_wires(half_angle, pitch, lead, diameter, wire)[0] - reading

    return _root(miss, reading, 0.01 * pitch, 10 * _CLOSE * pitch)


def _root(function: Callable[[float], float], start: float, step: float, close: float) -> float:
    """Where a nearly straight function is zero, by secants."""
    x0, x1 = start, start + step
    f0, f1 = function(x0), function(x1)
    for _ in range(60):
        if f1 == f0 or abs(x1 - x0) <= close:
            return x1
        x0, x1, f0 = x1, x1 - f1 * (x1 - x0) / (f1 - f0), f1
        f1 = function(x1)
    raise ArithmeticError("the contact of wire and flank was not found")
