"""Measurement over three wires.

A wire of diameter W lies in the groove and touches both flanks, a and b from the plane square to the axis. Its centre
is on the bisector of the two, W / (2 sin((a + b)/2)) from the sharp bottom of the groove; the bisector leans by
(a - b)/2, so square to the axis that is cos((a - b)/2) of it. The bottom is P / (2 (tan a + tan b)) below the pitch
line. Over wires on both sides a micrometer therefore shows

    M = E + W (1 + cos((a - b)/2) / sin((a + b)/2)) - P / (tan a + tan b)

with E the pitch diameter. Equal flanks make it M = E + W (1 + 1 / sin a) - P / (2 tan a), and for 60 degrees
M = E + 3 W - 0.866 025 P. Both tangents from the bottom to the wire are W / (2 tan((a + b)/2)) long, so it touches
flank a at W cos a / (2 tan((a + b)/2)) above the bottom, flank b likewise.

This handbook rule leaves out the small effect of the lead angle; method "exact" takes it in (sheetfuncs.helix).

On a taper thread the tool stands square to the axis, so the groove is the same V; but two wires on one side lie on a
slope, and the anvils follow it: all that lies between the wires' centres is foreshortened by cos t, t half the taper's
angle, and the V's bottom is 1 - (tan t tan a)^2 of its depth below the pitch cone:

    M = cos t (E + W cos((a - b)/2) / sin((a + b)/2) - P (1 - (tan t tan a)^2) / (tan a + tan b)) + W

with E the pitch diameter at the plane of the single wire. (ASME B1.20.1 has that depth of the sharp V: 0.865 743 P.)
"""

from __future__ import annotations

from math import cos, sin

from sheetfuncs import helix, limits, standards, tapers, wire_fit
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.units import at_least, at_most

CATEGORY = "Thread wires"


@sheet_function(
    category=CATEGORY,
    returns="best_wire",
    sources=("ASME B1.2",),
    examples=(
        Example(("3/4-16 UNF-2A",), "0.0361", "ASME B1.2-1983, Appendix B: 0.57735 P"),
        Example(("M20x2.5-6g",), "1.4434", "ASME B1.2-1983, Appendix B: 0.57735 P"),
    ),
)
def best_wire(thread: Thread) -> float:
    """Best wire: it touches the flanks at the pitch line, so an error of the flank angle does not show.

    The groove is half a pitch wide there, so W = P / (2 cos a); the lead angle is left out, as in the standard: on a
    steep thread the wire touches a little further out. No wire touches two unlike flanks at the pitch line.
    An error of flank a moves M by -cos b (W - W_a) / (2 sin^2 s) of it, s = (a + b)/2, W_a = P cos b / (2 cos^2 s) the
    wire that touches flank a there; of flank b likewise. The best wire makes the two alike, which is also where the
    larger is least: W = P (cos^2 a + cos^2 b) / (2 cos^2 s (cos a + cos b)), 0.540 83 P for 7 and 45 degrees.

    >>> round(best_wire(standards.read("3/4-16 UNF-2A")), 4)
    0.0361
    """
    wire_fit.refuse_internal(thread)
    a, b = wire_fit.flanks(thread)
    mean = (cos(a) ** 2 + cos(b) ** 2) / (cos(a) + cos(b))
    return thread.pitch * mean / (2 * cos((a + b) / 2) ** 2)


@sheet_function(
    category=CATEGORY,
    returns=("smallest_wire", "largest_wire"),
    table="row",
    sources=("ASME B1.2",),
    examples=(Example(("1-10 UNS",), ("0.0505", "0.1010"), "ASME B1.2-1983, Appendix B: 0.505182 P and 1.010363 P"),),
)
def wire_range(thread: Thread) -> list[tuple[float, float]]:
    """Smallest and largest usable wire: those that serve at both ends of the class's tolerance.

    The smallest is flush with the largest crest at the smallest pitch diameter; the largest touches the flanks at the
    edge of the smallest crest at the largest pitch diameter, or where the rounding of that crest begins. Without a
    class it is the range of the basic form: up to 0.852 72 P on Whitworth threads, 0.7309 P on BA threads.

    Raises NotGiven where no wire serves at both ends: the crest may then be larger than any that lies on the flanks.

    >>> [round(wire, 4) for wire in wire_range(standards.read("3/4-16 UNF-2A"))[0]]
    [0.0332, 0.0569]
    >>> round(wire_range(standards.read("1/2-12 BSW"))[0][1] * 12, 5)
    0.85272
    """
    wire_fit.refuse_internal(thread)
    smallest, largest = wire_fit.proud_wire(thread), wire_fit.usable_wires(thread)[1]
    if smallest >= largest:
        raise NotGiven(
            f"no wire serves {standards.write(thread)} at both ends of its tolerance: proud of every crest it would be "
            f"over {at_least(smallest)} {thread.unit}, on the flanks at most {at_most(largest)}; use the largest and "
            f"measure the crest too"
        )
    return [(smallest, largest)]


@sheet_function(
    category=CATEGORY,
    returns="over_wires",
    unit_before="method",
    sources=("MH31", "ASME B1.2"),
    examples=(
        Example(("1/4-18 UNS", 0.035, "basic"), "0.2708", "MH31 p. 2130"),
        Example(("3/4-16 UNF-2A", 0.0361, "max"), "0.7621", "ASME B1.1 limits with the rule of MH31 p. 2130"),
        Example(
            ("3/4-14 NPT", 0.042, "basic", None, None, 0.2),
            "1.0439",
            "by hand: .98018 + 2 x .042 - .865743 / 14 (ASME B1.20.1), times cos(atan 1/32), + .042",
        ),
    ),
)
def over_wires(thread: Thread, wire: float, limit: str, method: str = "handbook", place: float | None = None) -> float:
    """Measurement over three wires at a limit of the pitch diameter.

    On a taper thread it is taken at the gauge plane, or at the place given: the distance of the single wire, the one
    that stands alone on its side, from the small end. All three wires must lie in full grooves there.

    >>> round(over_wires(standards.read("3/4-16 UNF-2A"), 0.0361, "min"), 4)
    0.7571
    """
    aim = pitch_diameter_there(thread, limit, place)
    check_wire(thread, wire)
    return reading_at(thread, wire, aim, method)


def reading_at(thread: Thread, wire: float, pitch_diameter: float, method: str) -> float:
    """Measurement over three wires at any pitch diameter; the wire is not checked.

    >>> round(reading_at(standards.read("3/8-16 UNC"), 0.040, 0.3344, "handbook"), 4)  # MH31 p. 2130
    0.4003
    """
    if method == "handbook":
        return wire_fit.lean(thread) * (pitch_diameter + wire_fit.between_centres(thread, wire)) + wire
    return _exact(thread, pitch_diameter, wire)


def pitch_diameter_there(thread: Thread, limit: str, place: float | None) -> float:
    """Pitch diameter at a limit, where the single wire stands; `place` is for taper threads alone.

    >>> round(pitch_diameter_there(standards.read("3/4-14 NPT"), "basic", 0.2), 5)
    0.98018
    """
    if place is None:
        return limits.pitch_diameter(thread, limit)
    tapers.refuse_place_of_wires(thread, place)
    return tapers.taper_diameter(thread, place, limit)


@sheet_function(
    category=CATEGORY,
    returns="pitch_diameter",
    unit_before="method",
    sources=("MH31", "ASME B1.2"),
    examples=(
        Example(("3/8-16 UNC-2A", 0.040, 0.4003), "0.3344", "MH31 p. 2130, by hand: 0.4003 - 3 x 0.040 + 0.054127"),
    ),
)
def pd_from_wires(thread: Thread, wire: float, reading: float, method: str = "handbook") -> float:
    """Pitch diameter from a reading over three wires; the exact inverse of THREAD_OVER_WIRES.

    A reading that is more than two pitches off the basic pitch diameter is refused: the unit is wrong, or
    the wires are another set.

    >>> round(pd_from_wires(standards.read("3/8-16 UNC-2A"), 0.040, 0.4003), 4)
    0.3344
    """
    lean, between_centres, basic = _lying(thread, wire)
    found = (reading - wire) / lean - between_centres
    if method == "exact" and abs(found - basic) <= 3 * thread.pitch:  # further off the contact may not exist
        try:
            found = helix.pitch_diameter(*_helix(thread), reading, wire)
        except ArithmeticError:
            raise OutOfRange(_no_contact(thread, wire)) from None
    said = f"the reading {plain(reading)} {thread.unit} would be a pitch diameter of {found:.4f}"
    limits.refuse_far_off(thread, found, basic, said, "unit and the wire")
    return found


@sheet_function(
    category=CATEGORY,
    returns="wire_constant",
    sources=("MH31",),
    examples=(Example(("1-16 UN", 0.05), "0.0959", "MH31 p. 2129: 3 x 0.05 - 0.05413"),),
)
def wire_constant(thread: Thread, wire: float) -> float:
    """What to take off a reading over wires to get the pitch diameter: W (1 + 1 / sin a) - P / (2 tan a), flanks alike.

    >>> round(wire_constant(standards.read("3/4-16 UNF-2A"), 0.0361), 5)
    0.05417
    """
    check_wire(thread, wire)
    if wire_fit.lean(thread) != 1:
        raise NotGiven(
            f"on a taper thread such as {standards.write(thread)} it is no constant; use THREAD_PD_FROM_WIRES"
        )
    return wire + wire_fit.between_centres(thread, wire)


@sheet_function(
    category=CATEGORY,
    returns="wire_correction",
    sources=("MH31", "geometry"),
    examples=(
        Example(
            ("1-0.1P-0.2L UNS-2A", 0.058),
            "0.00020",
            "a search for this contact that uses none of the equations (tests/test_helix.py)",
        ),
    ),
)
def wire_correction(thread: Thread, wire: float) -> float:
    """The lead angle term that the handbook rule leaves out: exact measurement less handbook, at basic size.

    It matters on coarse, multi-start and 29 or 30 degree threads; this project calls it worth applying where it is more
    than a tenth of the pitch diameter's tolerance. Read the wires with the handbook rule and the pitch diameter comes
    out too large by this much.

    >>> round(wire_correction(standards.read("1-0.1P-0.2L UNS-2A"), 0.058), 5)  # searched in tests/test_helix.py
    0.0002
    """
    return over_wires(thread, wire, "basic", "exact") - over_wires(thread, wire, "basic")


@sheet_function(
    category=CATEGORY,
    returns="wire_remark",
    sources=("geometry",),
    examples=(
        Example(
            ("Tr8x1.5-7e", 0.7765),
            "may sit below the crest: at the smallest pitch diameter it measures 7.991 mm, and the crest may be 8 mm; "
            "measure the crest, or take a wire over 0.7785 mm",
            "a chart citing DIN 103: crest 8, smallest pitch diameter 7.013; "
            "by hand 7.013 + 0.7765 (1 + 1 / sin 15) - 0.75 / tan 15",
        ),
    ),
)
def wire_remark(thread: Thread, wire: float) -> str:
    """Whether a wire serves all over the tolerance, in words, or by how much it may sit below the crest.

    Where the crest is large and the pitch diameter small the micrometer's anvils may rest on the crests and not on the
    wires; THREAD_OVER_WIRES still gives the right number, and the crest as measured says whether it can be read. A wire
    that is never proud, or that rests on the crest, is refused. On a taper, or without limits, the basic form counts.

    >>> wire_remark(standards.read("3/4-16 UNF-2A"), 0.0361)
    'serves: proud of the crest, and on the flanks, at both ends of the tolerance'
    """
    check_wire(thread, wire)
    decimals = standards.system(thread).decimals
    enough = wire_fit.proud_wire(thread)
    if wire > enough:
        return "serves: proud of the crest, and on the flanks, at both ends of the tolerance"
    measures = plain(round(over_wires(thread, wire, "min"), decimals))
    crest = plain(standards.limits(thread).major.ends[0])
    larger = at_least(enough)
    or_larger = (
        f", or take a wire over {larger} {thread.unit}" if float(larger) < wire_fit.usable_wires(thread)[1] else ""
    )
    return (
        f"may sit below the crest: at the smallest pitch diameter it measures {measures} {thread.unit}, and the crest "
        f"may be {crest} {thread.unit}; measure the crest{or_larger}"
    )


def check_wire(thread: Thread, wire: float) -> None:
    """Refuse a wire that is proud of the crest nowhere in the tolerance, or may rest on the crest's edge or rounding.

    >>> check_wire(standards.read("3/4-16 UNF-2A"), 0.020)
    Traceback (most recent call last):
    sheetfuncs.errors.OutOfRange: the wire 0.02 in is too small: ... usable are 0.0333 to 0.0568 in, best 0.0361
    """
    wire_fit.refuse_internal(thread)
    low, high = wire_fit.usable_wires(thread)
    if low < wire <= high:
        return
    fault = (
        "too small: it would not stand proud of the crest"
        if wire <= low
        else f"too large: it would rest on the {wire_fit.crest_end(thread)} of the crest"
    )
    least, most = at_least(wire_fit.proud_wire(thread)), at_most(high)
    if float(least) > float(most):  # proud at both ends of the tolerance is none
        least = at_least(low)
    raise OutOfRange(
        f"the wire {plain(wire)} {thread.unit} is {fault} of {standards.write(thread)}; usable are "
        f"{least} to {most} {thread.unit}, best {best_wire(thread):.4f}"
    )


OFF_FLANK = 0.005
"""Of the pitch: so far past the end of the straight flank a wire may be computed to touch.

The lead moves the touching point up. Until here the reading is less than a two-thousandth of the pitch too large
(tests/test_wires_lead.py lays the wire on the edge).
"""


def _exact(thread: Thread, pitch_diameter: float, wire: float) -> float:
    """The reading with the lead angle in it, where the wire still touches the flank."""
    try:
        reading, touching = helix.over_wires(*_helix(thread), pitch_diameter, wire)
    except ArithmeticError:
        raise OutOfRange(_no_contact(thread, wire)) from None
    largest = wire_fit.usable_wires(thread)[1]
    half_angle = wire_fit.flanks(thread)[0]
    highest = standards.limits(thread).pitch.ends[0] if thread.side else standards.basic(thread).pitch
    end = highest - wire_fit.vertex_width(thread) + largest * (1 / sin(half_angle) - sin(half_angle))
    if touching > end + 2 * OFF_FLANK * thread.pitch:
        raise OutOfRange(_no_contact(thread, wire))
    return reading


def _no_contact(thread: Thread, wire: float) -> str:
    return (
        f"the wire {plain(wire)} {thread.unit} is too large at the lead angle of {standards.write(thread)}: it "
        f"would touch past the crests; use a smaller wire or a ring gauge"
    )


def _helix(thread: Thread) -> tuple[float, float, float]:
    """Half angle in degrees, pitch and lead, as sheetfuncs.helix takes them."""
    form = standards.system(thread).form
    if form.leading != form.trailing or wire_fit.lean(thread) != 1:
        kind = "a taper" if wire_fit.lean(thread) != 1 else "unlike flanks"
        raise OutOfRange(f"{standards.write(thread)} has {kind}, for which only the handbook rule is known here")
    return form.leading, thread.pitch, thread.lead


@lru_cache(maxsize=4096)
def _lying(thread: Thread, wire: float) -> tuple[float, float, float]:
    """What any reading over a wire that serves is worked with: lean, way between the centres, basic pitch diameter."""
    check_wire(thread, wire)
    return wire_fit.lean(thread), wire_fit.between_centres(thread, wire), standards.basic(thread).pitch
