"""Thread forms and tool tips as plain geometry. Any consistent length in, the same length out.

A groove of a thread is a V between two flanks. Its position is fixed by one fact, the definition of the
pitch diameter: at the pitch diameter the groove is half a pitch wide. Everything below follows from that.
"""

from __future__ import annotations

from math import cos, radians, sin, sqrt, tan

from sheetfuncs.records import NamedTuple


class Form(NamedTuple):
    """A thread form: its two flank angles in degrees, each from the plane square to the axis.

    `rounded_crest` where an arc joins the flanks over the crest, so that the straight flank ends below it.
    """

    name: str
    leading: float
    trailing: float
    rounded_crest: bool = False

    @property
    def included(self) -> float:
        """Included angle, degrees."""
        return self.leading + self.trailing

    @property
    def spread(self) -> float:
        """How much the groove widens per unit of depth: tan(leading) + tan(trailing)."""
        return tan(radians(self.leading)) + tan(radians(self.trailing))


SIXTY = Form("60 degree", 30.0, 30.0)
"""Unified (ASME B1.1-2003, 2.1) and ISO metric (ISO 68-1:1998, 3): the basic profile is the same."""

FIFTY_FIVE = Form("55 degree", 27.5, 27.5, rounded_crest=True)
"""Whitworth form of BSW and BSF (BS 84:2007) and of the pipe threads of ISO 228-1 and ISO 7-1."""

FORTY_SEVEN_AND_A_HALF = Form("47.5 degree", 23.75, 23.75, rounded_crest=True)
"""British Association (BS 93:2008)."""

TWENTY_NINE = Form("29 degree", 14.5, 14.5)
"""Acme and stub Acme (ASME B1.5-1997, ASME B1.8-1988)."""

THIRTY = Form("30 degree", 15.0, 15.0)
"""ISO metric trapezoidal (ISO 2901:2016)."""

BUTTRESS = Form("7/45 degree", 45.0, 7.0)
"""Buttress inch threads (ASME B1.9-1973): 7 degree load flank, 45 degree clearance flank."""


class Tip(NamedTuple):
    """The end of the threading tool: `kind` sharp, flat or radius; `size` the flat's width or the radius."""

    kind: str
    size: float = 0.0


def sharp_height(form: Form, pitch: float) -> float:
    """Height H of the sharp triangle of the form: the depth over which a groove one pitch wide closes.

    >>> round(sharp_height(SIXTY, 1.0), 7)       # ISO 68-1: H = 0.866 025 404 P
    0.8660254
    """
    return pitch / form.spread


def vertex_below_pitch_line(form: Form, pitch: float) -> float:
    """Depth of the groove's sharp bottom below the pitch line, H/2: there it closes from half a pitch wide.

    >>> round(vertex_below_pitch_line(SIXTY, 1.0), 7)
    0.4330127
    """
    return pitch / 2 / form.spread


def crest_rounding(form: Form) -> float:
    """How far a rounded crest reaches down the flanks, as a share of what it cuts off the sharp triangle; 0 for edges.

    An arc of radius r between two flanks of half angle a ends r (1 / sin a - 1) below the sharp point and leaves the
    flanks r (1 / sin a - sin a) below it: 1 + sin a times as far.

    >>> round(sharp_height(FIFTY_FIVE, 1.0) * (1 - (1 + crest_rounding(FIFTY_FIVE)) / 3), 6)      # BS 84: 0.492 492 P
    0.492492
    """
    return sin(radians(form.included) / 2) if form.rounded_crest else 0.0


def tip_shortening(form: Form, tip: Tip) -> float:
    """How far a real tip stays above the sharp bottom of the groove its flanks cut.

    A flat of width f reaches down to where the V is f wide: f / (tan a + tan b).
    A nose of radius r touches both flanks. Its centre lies on the bisector, at r / sin((a + b)/2) from the
    bottom of the V; seen square to the axis that is r cos((a - b)/2) / sin((a + b)/2), and the nose ends r
    closer to the bottom. With a = b = 30 degrees the shortening is exactly r.

    >>> round(tip_shortening(SIXTY, Tip("radius", 0.008)), 6)
    0.008
    >>> round(tip_shortening(SIXTY, Tip("flat", 0.0625 / 8)), 6)
    0.006766
    """
    if tip.kind == "flat":
        return tip.size / form.spread
    if tip.kind == "radius":
        half_sum = radians(form.included) / 2
        half_difference = radians(form.leading - form.trailing) / 2
        return tip.size * (cos(half_difference) / sin(half_sum) - 1)
    return 0.0


def largest_nose(form: Form, height: float, touching: float) -> float:
    """The largest nose radius whose groove takes in a mating crest that is a flat with two edges.

    `touching` is how far the edges are above the sharp bottom where flanks touch flanks, so that they lie on the
    flanks there; `height` is how far they are above it now, in a groove cut deeper. A nose leaves the flank of angle a
    at r cos(a) / tan(m) above the bottom, m half the included angle, and no edge on a flank may be lower: r <= height
    tan(m) / cos(a). In a deeper groove the crest stands away from two like flanks, its edges at +-touching tan(m) from
    the middle, and may enter the circle as far as they stay in it: (touching tan(m))^2 + (r / sin(m) - height)^2 <=
    r^2, which gives a second term. With unlike flanks the mate is to meet the load flank, and there is none.

    >>> round(largest_nose(SIXTY, sharp_height(SIXTY, 1) / 4, sharp_height(SIXTY, 1) / 4), 5)  # ASME B1.1: UNR, 0.144 P
    0.14434
    >>> round(largest_nose(SIXTY, sharp_height(SIXTY, 1) * 5 / 16, sharp_height(SIXTY, 1) * 5 / 16), 5)  # ASME B1.15
    0.18042
    """
    half = radians(form.included) / 2
    on_flank = height * tan(half) / cos(radians(min(form.leading, form.trailing)))
    if form.leading != form.trailing:
        return on_flank
    return on_flank + tan(half) ** 2 * sqrt(max(0.0, height**2 - touching**2))
