"""Measurement over three wires, by the handbook rule and with the contact on the helical flank.

The equations are derived in `sheetfuncs.wires` and `sheetfuncs.helix`. Here the contact is found by going back and
forth: what still parts wire and flank, over the flank's slope, is all but the way to the contact, so each step leaves a
small part of a hundredth of what was off (tests/test_lambda_wires.py measures it over all threads of the list).

From a reading the way back needs no search over readings: the middle of the wire is where the micrometer says, the
contact follows from it alone, and the pitch diameter from the contact.
"""

from __future__ import annotations

from sheetfuncs.limits import BELIEVABLE
from sheetfuncs.wires import OFF_FLANK
from workbook_template.figures.notation import all_of, any_of, first, known, no, when, xl
from workbook_template.figures.tree import Node
from workbook_template.lambdas.sizes import found, in_unit
from workbook_template.lambdas.steps import INSIDE, diameter, of, of_system
from workbook_template.lambdas.writing import (
    IMPOSSIBLE,
    NOT_GIVEN,
    NOT_UNDERSTOOD,
    Lambda,
    each_step,
    function,
    helper,
    let,
    listed,
    my,
    one,
    ours,
    young,
)

STEPS_TO_CONTACT = 8

LEADING, TRAILING = (xl.RADIANS(of_system(getattr(listed, flank))) for flank in ("leading", "trailing"))
TAPER = of_system(listed.taper)
PITCH = of(listed.pitch)

FLANKS = {"leading": LEADING, "trailing": TRAILING}
"""Steps that name the angles of the flanks."""
HALF_SUM, HALF_DIFFERENCE = (my.leading + my.trailing) / 2, (my.leading - my.trailing) / 2
ALIKE = of_system(listed.leading).same(of_system(listed.trailing))


def _best() -> Node:
    mean = (xl.COS(my.leading) ** 2 + xl.COS(my.trailing) ** 2) / (xl.COS(my.leading) + xl.COS(my.trailing))
    return when(INSIDE, IMPOSSIBLE, PITCH * mean / (2 * xl.COS(HALF_SUM) ** 2))


def _vertex() -> Node:
    sloped = 1 - (TAPER / 2) ** 2 * xl.TAN(my.leading) * xl.TAN(my.trailing)
    return let(FLANKS, 2 * ours.half_height(my.line) * sloped)


def _wire() -> Node:
    """A wire that serves: proud of the smallest crest, and never on a crest's edge."""
    serves = all_of(my.wire > ours.set(my.line, listed.wire_over), my.wire <= ours.set(my.line, listed.wire_largest))
    return let(
        {"wire": ours.length(my.value, my.line, my.unit)},
        first((xl.ISERROR(my.wire), my.wire), (INSIDE, IMPOSSIBLE), (serves, my.wire), otherwise=IMPOSSIBLE),
    )


CONTACT = {
    "slope": xl.TAN(LEADING),
    "turned": PITCH / (2 * xl.PI()),
    "half": my.wire / 2,
    "normal": xl.SQRT(1 + my.slope**2 + (my.turned / my.radius) ** 2),
    "angle": xl.ATAN2(my.radius + my.half * my.slope / my.normal, my.half * my.turned / (my.radius * my.normal)),
}
"""Steps to where a wire touches flanks at a radius; `angle` is how far to the side of the wire's middle."""


def _middle() -> Node:
    along = my.slope * xl.COS(my.angle) + my.turned / my.radius * xl.SIN(my.angle)
    return let(CONTACT, my.radius * xl.COS(my.angle) + my.half * along / my.normal)


def _groove() -> Node:
    """Pitch diameter of the groove in which the wire touches at a radius."""
    inward = PITCH / 4 - my.turned * my.angle - my.half / my.normal
    return let(CONTACT, 2 * (my.radius + inward / my.slope))


def _exact() -> Node:
    """The reading; no number where the wire would touch past the end of the straight flank."""
    off = my.diameter / 2 - ours.groove(my.line, my.wire, my.radius) / 2
    highest = when(known(of(listed.pitch_max)), of(listed.pitch_max), of(listed.pitch_basic))
    up = 1 / xl.SIN(my.flank) - xl.SIN(my.flank)
    end = highest - ours.vertex(my.line) + of(listed.wire_largest) * up
    return let(
        {
            "contact": each_step(my.diameter / 2, STEPS_TO_CONTACT, "radius", my.radius + off),
            "flank": LEADING,
            "end": end,
        },
        first(
            (no(ours.straight(my.line)), IMPOSSIBLE),
            (2 * my.contact > my.end + 2 * OFF_FLANK * PITCH, IMPOSSIBLE),
            otherwise=2 * ours.middle(my.line, my.wire, my.contact) + my.wire,
        ),
    )


def _exact_back() -> Node:
    off = my.middle - ours.middle(my.line, my.wire, my.radius)
    return let(
        {
            "middle": (my.reading - my.wire) / 2,
            "contact": each_step(my.middle, STEPS_TO_CONTACT, "radius", my.radius + off),
        },
        when(ours.straight(my.line), ours.groove(my.line, my.wire, my.contact), IMPOSSIBLE),
    )


def _by_method(handbook: Node, exact: Node) -> Node:
    method = my.method
    return first(
        (any_of(method.same(""), method.same("handbook")), handbook),
        (method.same("exact"), exact),
        otherwise=NOT_UNDERSTOOD,
    )


def _reading() -> Node:
    handbook = ours.lean(my.line) * (my.diameter + ours.between(my.line, my.wire)) + my.wire
    return _by_method(handbook, ours.exact(my.line, my.wire, my.diameter))


def _back() -> Node:
    """The pitch diameter of a reading, where it is near enough to the basic one to be believed."""
    handbook = (my.reading - my.wire) / ours.lean(my.line) - ours.between(my.line, my.wire)

    def off(diameter: Node) -> Node:
        return xl.ABS(diameter - of(listed.pitch_basic)) / PITCH

    exact = when(off(my.handbook) > 3, IMPOSSIBLE, ours.exact_back(my.line, my.wire, my.reading))
    return let(
        {"handbook": handbook, "found": _by_method(my.handbook, exact)},
        when(off(my.found) > BELIEVABLE, IMPOSSIBLE, my.found),
    )


def _there() -> Node:
    """On a taper thread the limit moves with the place of the single wire."""
    moved = diameter("pitch", my.limit) + TAPER * (my.away - of(listed.plane))
    outside = any_of(my.away < of(listed.place_first), my.away > of(listed.place_last))
    there = let(
        {"away": ours.way(my.place, my.line, my.unit)},
        first((no(known(of(listed.plane))), NOT_GIVEN), (outside, IMPOSSIBLE), otherwise=moved),
    )
    return when(my.place.same(""), diameter("pitch", my.limit), there)


STEPS: tuple[Lambda, ...] = (
    helper("THREADS_HALF_HEIGHT", "how far the sharp bottom is below the pitch line", "line",
           PITCH / 2 / (xl.TAN(LEADING) + xl.TAN(TRAILING))),
    helper("THREADS_VERTEX", "twice that, square to a taper", "line", _vertex()),
    helper("THREADS_RISE", "wire diameters from twice the sharp bottom's depth to over the wires", "line",
           let(FLANKS, 1 + xl.COS(HALF_DIFFERENCE) / xl.SIN(HALF_SUM))),
    helper("THREADS_LEAN", "cosine of a taper's half angle", "line", xl.COS(xl.ATAN(TAPER / 2))),
    helper("THREADS_STRAIGHT", "whether the thread is parallel and its flanks lean alike", "line",
           all_of(TAPER.same(0), ALIKE)),
    helper("THREADS_BETWEEN", "the wires' centres over the pitch diameter", "line wire",
           my.wire * (ours.rise(my.line) - 1) - ours.vertex(my.line)),
    helper("THREADS_WIRE", "a wire that serves the thread, #NUM! where it does not", "value line unit", _wire()),
    helper("THREADS_MIDDLE", "how far the wire's middle is from the axis", "line wire radius", _middle()),
    helper("THREADS_GROOVE", "pitch diameter where the wire touches at a radius", "line wire radius", _groove()),
    helper("THREADS_EXACT", "the reading over wires with the lead angle in it", "line wire diameter", _exact()),
    helper("THREADS_EXACT_BACK", "pitch diameter from such a reading", "line wire reading", _exact_back()),
    helper("THREADS_READING", "the reading over wires by either method", "line wire diameter method", _reading()),
    helper("THREADS_BACK", "pitch diameter from a reading, #NUM! where it can't be that thread's",
           "line wire reading method", _back()),
    helper("THREADS_THERE", "pitch diameter at a limit where the single wire stands", "line limit place unit",
           _there()),
)  # fmt: skip

WIRE = {"wire_used": ours.wire(one.wire, my.line, one.unit)}
READ = {**WIRE, "reading_taken": ours.length(one.reading, my.line, one.unit)}
AIM = {"aim": ours.there(my.line, one.limit, one.place, one.unit)}


def _range() -> Node:
    proud, largest = (ours.set(my.line, column) for column in (listed.wire_proud, listed.wire_largest))
    both = young.HSTACK(my.proud, my.largest) * ours.scale(my.line, one.unit)
    return found(
        first((INSIDE, IMPOSSIBLE), (my.proud >= my.largest, NOT_GIVEN), otherwise=both), proud=proud, largest=largest
    )


FUNCTIONS: tuple[Lambda, ...] = (
    function("THREAD_BEST_WIRE", in_unit(_best(), **FLANKS)),
    function("THREAD_WIRE_RANGE", _range()),
    function("THREAD_OVER_WIRES", in_unit(ours.reading(my.line, my.wire_used, my.aim, one.method), **AIM, **WIRE)),
    function("THREAD_PD_FROM_WIRES", in_unit(ours.back(my.line, my.wire_used, my.reading_taken, one.method), **READ)),
    function(
        "THREAD_WIRE_CONSTANT",
        in_unit(when(TAPER.same(0), my.wire_used + ours.between(my.line, my.wire_used), NOT_GIVEN), **WIRE),
    ),
)
