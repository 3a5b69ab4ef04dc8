"""Uncertainty of a pitch diameter measured over three wires, by the Guide (JCGM 100:2008, the GUM).

E = M - W (1 + cos((a - b)/2) / sin((a + b)/2)) + P / (tan a + tan b), with M the reading, W the mean wire, P the
pitch, a and b the flank angles (sheetfuncs.wires). Each source's standard uncertainty times the derivative of E by it
is its contribution; contributions add as squares (5.1.2). For two flanks alike, both wrong by the same:

    dE/dM = 1        dE/dW = -(1 + 1 / sin a), 3 for 60 degrees        dE/dP = 1 / (2 tan a), 0.866 for 60 degrees
    dE/da = W cos a / sin^2 a - P / (2 sin^2 a), nothing at the best wire        dE/dT = E x expansion

The effective degrees of freedom are Welch and Satterthwaite's, uc^4 / sum of (contribution^4 / its degrees of
freedom) (G.4.1), cut to a whole number; k is Student's t for 95.45 %, 2.00 where they are infinite (G.6.4, Table
G.2). Limits of error count as rectangular, a half-width over the root of 3 (4.3.7); a certificate's expanded
uncertainty is taken at k = 2.
"""

from __future__ import annotations

from math import cos, inf, pi, radians, sin, sqrt, tan

from sheetfuncs import quantiles, standards, wires
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.functional import MOST_ANGLE_ERROR
from sheetfuncs.inspection import expansions
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import Example, sheet_function

CATEGORY = "Thread inspection"
COVERAGE = 0.9545
"""Level of confidence that k = 2 has for a normal distribution."""

STEEL = expansions()["steel"]
"""Expansion per degree Celsius where no material is named."""


class Source(NamedTuple):
    """One source of uncertainty: standard uncertainty, derivative of the result by it, degrees of freedom.

    `degrees` where the uncertainty is in degrees (of temperature or angle) and the sensitivity a length per degree.
    """

    name: str
    standard: float
    sensitivity: float
    freedom: float = inf
    degrees: bool = False

    @property
    def contribution(self) -> float:
        """Standard uncertainty of the result by this source alone."""
        return abs(self.sensitivity) * self.standard


class Combined(NamedTuple):
    """Combined standard uncertainty, its effective degrees of freedom, coverage factor, expanded uncertainty."""

    standard: float
    freedom: float
    factor: float
    expanded: float


def combine(sources: list[Source], coverage: float = COVERAGE) -> Combined:
    """Independent sources combined as the GUM does.

    >>> found = combine([Source("a", 3.0, 1.0, 10), Source("b", 2.0, 2.0)])
    >>> found.standard, round(found.freedom, 2), round(found.factor, 2)
    (5.0, 77.16, 2.03)
    """
    standard = sqrt(sum(source.contribution**2 for source in sources))
    slack = sum(source.contribution**4 / source.freedom for source in sources)
    freedom = standard**4 / slack if slack else inf
    whole = freedom if freedom == inf else max(1, int(freedom + 1e-9))
    factor = quantiles.t((1 + coverage) / 2, whole)
    return Combined(standard, freedom, factor, factor * standard)


@sheet_function(
    category=CATEGORY,
    returns=(
        *("budget_source", "standard_uncertainty", "standard_degrees", "sensitivity"),
        *("sensitivity_per_degree", "contribution", "degrees_of_freedom"),
    ),
    table="rows",
    sources=("JCGM 100", "geometry"),
    examples=(
        Example(
            ("M20x2.5-6g", 1.4434, 0.0005, 0.003, 2, 0.001, 10),
            ("mean diameter of the wires", "0.00025", "", "3.000", "", "0.00075", ""),
            "by hand: certificate 0.0005 at k = 2; sensitivity 3 for 60 degrees",
        ),
    ),
)
def uncertainty(
    thread: Thread,
    wire: float,
    wire_uncertainty: float,
    micrometer_error: float,
    temperature_spread: float,
    repeatability: float,
    repeats: int,
    pitch_error: float | None = None,
    half_angle_error: float | None = None,
    material: float | None = None,
) -> list[tuple[str | float | None, ...]]:
    """Uncertainty budget of a pitch diameter over three wires: each source, then combined, k and expanded.

    `wire_uncertainty` is what the certificate states for the mean wire, at k = 2; micrometer, temperature, pitch and
    half angle are limits of error; `repeatability` is the standard deviation of `repeats` readings of one part. A
    source is 0 only where it is known to be nothing, and they are never all 0. Left out of the budget: the part's
    pitch and angle where they are not given; the measuring force, the lead angle term and wires out of round always.
    Empty degrees of freedom are infinite. The last two rows are the combined standard uncertainty with its effective
    degrees of freedom, and k with the expanded uncertainty.

    >>> from sheetfuncs import standards
    >>> rows = uncertainty(standards.read("M20x2.5-6g"), 1.4434, 0.0005, 0.003, 2.0, 0.001, 10)
    >>> [round(value, 4) for value in (rows[-2][5], rows[-1][3], rows[-1][5])]
    [0.0021, 2.0131, 0.0043]
    """
    wires.check_wire(thread, wire)
    system = standards.system(thread)
    if system.taper:
        raise NotGiven(f"{standards.write(thread)} is a taper thread; this budget is for parallel threads")
    if repeats < 2:
        raise OutOfRange(f"repeats is {repeats}; a standard deviation needs 2 readings at the least")
    if half_angle_error is not None and half_angle_error > MOST_ANGLE_ERROR:
        raise OutOfRange(
            f"half_angle_error is {plain(half_angle_error)} degrees; more than {MOST_ANGLE_ERROR:g} is not believed, "
            "write 30 minutes as 0.5"
        )
    a, b = radians(system.form.leading), radians(system.form.trailing)
    expansion = STEEL if material is None else material
    by_heat = standards.basic(thread).pitch * expansion
    sources = [
        Source("mean diameter of the wires", wire_uncertainty / 2, 1 + cos((a - b) / 2) / sin((a + b) / 2)),
        Source("micrometer", micrometer_error / sqrt(3), 1.0),
        Source("temperature, part against micrometer", temperature_spread / sqrt(3), by_heat, degrees=True),
        Source("repeatability of one reading", repeatability, 1.0, repeats - 1),
    ]
    if pitch_error is not None:
        sources.append(Source("pitch of the part", pitch_error / sqrt(3), 1 / (tan(a) + tan(b))))
    if half_angle_error is not None:
        by_angle = abs(_by_half_angles(a, b, wire, thread.pitch)) * pi / 180
        sources.append(Source("half angle of the part", half_angle_error / sqrt(3), by_angle, degrees=True))
    found = combine(sources)
    if not found.standard:
        raise OutOfRange("every source of uncertainty is 0, and no measurement is exact; state at least one of them")
    return [
        *map(_row, sources),
        ("combined standard uncertainty", None, None, None, None, found.standard, _finite(found.freedom)),
        ("coverage factor k, expanded uncertainty U", None, None, found.factor, None, found.expanded, None),
    ]


def _by_half_angles(a: float, b: float, wire: float, pitch: float) -> float:
    """Derivative of E by both flank angles together: (a - b)/2 stays, (a + b)/2 moves with them."""
    middle, tangents = (a + b) / 2, tan(a) + tan(b)
    by_wire = wire * cos((a - b) / 2) * cos(middle) / sin(middle) ** 2
    return by_wire - pitch * (1 / cos(a) ** 2 + 1 / cos(b) ** 2) / tangents**2


def _row(source: Source) -> tuple[str | float | None, ...]:
    standard = (None, source.standard) if source.degrees else (source.standard, None)
    sensitivity = (None, source.sensitivity) if source.degrees else (source.sensitivity, None)
    return (source.name, *standard, *sensitivity, source.contribution, _finite(source.freedom))


def _finite(freedom: float) -> float | None:
    return None if freedom == inf else freedom
