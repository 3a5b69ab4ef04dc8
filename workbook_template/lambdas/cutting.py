"""Cutting a thread: the blank, the depth for the tool in the post, the compound.

`sheetfuncs.cutting` and `sheetfuncs.roots` say why a blank or a tip is refused; the limits of the root stand in the
list of threads as `sheetfuncs.roots` gives them.
"""

from __future__ import annotations

from sheetfuncs.cutting import FAR_BLANK
from sheetfuncs.hosts.cells import TIPS
from sheetfuncs.roots import NOISE, ROUNDING
from workbook_template.figures.notation import all_of, any_of, first, known, no, when, xl
from workbook_template.figures.tree import Node
from workbook_template.lambdas.sizes import found, in_unit
from workbook_template.lambdas.steps import DIGITS, INSIDE, MANY, diameter, of, of_system
from workbook_template.lambdas.wires import AIM, PITCH, READ, TAPER
from workbook_template.lambdas.writing import (
    IMPOSSIBLE,
    NOT_GIVEN,
    NOT_UNDERSTOOD,
    Lambda,
    function,
    helper,
    let,
    listed,
    my,
    one,
    ours,
    young,
)

OUTWARD = when(INSIDE, -1, 1)


def _tip_kind() -> Node:
    """An R alone begins radius, rad and R0.2; what stands behind it must then be a size. A bare 0 is a sharp tip."""
    text = my.text
    bare = ours.way(text, my.line, my.unit)
    words = [(xl.LEFT(text, len(word)).same(word), kind) for word, kind in TIPS.items()]
    return let(
        {"text": xl.TRIM(my.tip)},
        first(
            (known(my.tip), when(my.tip.same(0), "sharp", "radius")),
            (text.same("sharp"), "sharp"),
            *words,
            (known(xl.FIND(xl.LEFT(text, 1), DIGITS)), when(bare.same(0), "sharp", "radius")),
            otherwise=NOT_UNDERSTOOD,
        ),
    )


def _tip_size() -> Node:
    text = my.text
    longest_first = sorted(TIPS, key=len, reverse=True)
    behind = [(xl.LEFT(text, len(word)).same(word), xl.MID(text, len(word) + 1, MANY)) for word in longest_first]
    size = first((known(my.tip), my.tip), *behind, otherwise=text)
    return let(
        {"text": xl.TRIM(my.tip), "kind": ours.tip_kind(my.tip, my.line, my.unit)},
        when(my.kind.same("sharp"), 0, ours.length(size, my.line, my.unit)),
    )


def _tip_up() -> Node:
    """How far the tip stays above the sharp bottom of the groove."""
    return my.size * when(my.kind.same("flat"), 2 * ours.half_height(my.line) / PITCH, ours.rise(my.line) - 2)


def _crest(end: str) -> Node:
    inside, outside = (ours.set(my.line, getattr(listed, f"{which}_{end}")) for which in ("minor", "major"))
    return when(INSIDE, inside, outside)


def _room() -> Node:
    """The most that a tip may stay above the sharp bottom for a root of that diameter."""
    at_pitch_line = when(TAPER.same(0), my.aim, of(listed.pitch_basic))
    return ours.half_height(my.line) - OUTWARD * (at_pitch_line - my.diameter) / 2


def _nose() -> Node:
    """How far the largest nose stays above the sharp bottom that takes in the edges of the mating crest.

    How large that is: `sheetfuncs.forms.largest_nose`.
    """
    leading, trailing = of_system(listed.leading), of_system(listed.trailing)
    most_metal = when(INSIDE, of(listed.pitch_min), of(listed.pitch_max))
    on_flank = my.height * xl.TAN(my.half) / xl.COS(xl.RADIANS(xl.MIN(leading, trailing)))
    deeper = xl.TAN(my.half) ** 2 * xl.SQRT(xl.MAX(0, my.height**2 - my.edge**2))
    return let(
        {
            "half": xl.RADIANS((leading + trailing) / 2),
            "height": my.edge + OUTWARD * (most_metal - my.aim) / 2 + my.rounding,
        },
        ours.tip_up(my.line, "radius", on_flank + when(leading.same(trailing), deeper, 0) + my.rounding),
    )


def _root_fits() -> Node:
    """Whether a tip clears the mating thread and leaves the root within its limits; the standard's own always does."""
    own, farthest, edge = of(listed.root_tip), of(listed.root_farthest), of(listed.mating_edge)
    most = ours.room(my.line, of(listed.root_nearest), my.aim) + my.rounding
    least = ours.room(my.line, farthest, my.aim) - my.rounding
    bounded = xl.MIN(my.most, ours.nose(my.line, edge, my.aim, my.rounding))
    return let(
        {
            "rounding": when(of(listed.unit).same("mm"), ROUNDING["mm"], ROUNDING["in"]),
            "most": when(known(own), xl.MAX(most, own), most),
            "bounded": when(all_of(my.kind.same("radius"), known(edge)), bounded, my.most),
            "least": first((no(known(farthest)), 0), (known(own), xl.MIN(least, own)), otherwise=least),
        },
        all_of(my.up <= my.bounded + NOISE, my.up >= my.least - NOISE),
    )


def _radius_fits() -> Node:
    """Whether the tip is the nose radius that the standard demands of an external root, where it demands one."""
    least, most = (of_system(column) for column in (listed.radius_min, listed.radius_max))
    right = all_of(my.kind.same("radius"), my.size >= least * PITCH - NOISE, my.size <= most * PITCH + NOISE)
    return first((INSIDE, True), (no(known(least)), True), otherwise=right)


def _depth() -> Node:
    line = my.line
    start = when(one.blank.same(""), (_crest("max") + _crest("min")) / 2, ours.length(one.blank, line, one.unit))
    over = xl.MAX(my.start - _crest("max"), _crest("min") - my.start)
    depth = OUTWARD * (my.start - my.aim) / 2 + ours.half_height(line) - my.up
    refused = any_of(
        OUTWARD * (my.start - my.aim) <= 0,
        over > FAR_BLANK * PITCH,
        no(ours.radius_fits(line, my.kind, my.size)),
        no(ours.root_fits(line, my.kind, my.up, my.aim)),
        my.depth <= 0,
    )
    return in_unit(
        first((of(listed.side).same(""), NOT_GIVEN), (refused, IMPOSSIBLE), otherwise=my.depth),
        aim=diameter("pitch", one.limit),
        start=start,
        kind=ours.tip_kind(one.tip, line, one.unit),
        size=ours.tip_size(one.tip, line, one.unit),
        up=ours.tip_up(line, my.kind, my.size),
        depth=depth,
    )


def _compound() -> Node:
    return first((my.angle < 0, IMPOSSIBLE), (my.angle >= 90, IMPOSSIBLE),
                 otherwise=my.radial / xl.COS(xl.RADIANS(my.angle)))  # fmt: skip


def _angle() -> Node:
    """Half a degree less than the steeper flank, unless an angle is given."""
    flank = xl.MIN(of_system(listed.leading), of_system(listed.trailing))
    return let(
        {"flank": flank, "swung": when(my.angle.same(""), my.flank - 0.5, ours.number(my.angle))},
        first((my.swung < 0, IMPOSSIBLE), (my.swung > my.flank, IMPOSSIBLE), otherwise=my.swung),
    )


def _feed_left() -> Node:
    past = ours.back(my.line, my.wire_used, my.reading_taken, one.method) - my.aim
    past_exact = my.reading_taken - ours.exact(my.line, my.wire_used, diameter("pitch", one.limit))
    believed = xl.ISNUMBER(my.past)
    left = when(all_of(one.method.same("exact"), believed), past_exact, my.past) / 2
    return in_unit(ours.compound(my.left, ours.angle(my.line, one.angle)), **AIM, **READ, past=past, left=left)


def _blank() -> Node:
    row = young.HSTACK(my.most, my.least, (my.most + my.least) / 2) * ours.scale(my.line, one.unit)
    return found(when(known(my.most), row, my.most), most=_crest("max"), least=_crest("min"))


STEPS: tuple[Lambda, ...] = (
    helper("THREADS_TIP_KIND", "sharp, flat or radius", "tip line unit", _tip_kind()),
    helper("THREADS_TIP_SIZE", "a flat's width or a radius", "tip line unit", _tip_size()),
    helper("THREADS_TIP_UP", "how far a tip stays above the sharp bottom", "line kind size", _tip_up()),
    helper("THREADS_ROOM", "the most that a tip may stay above it for a root of a diameter", "line diameter aim",
           _room()),
    helper("THREADS_NOSE", "the most that a nose may stay above it for the edges of the mating crest",
           "line edge aim rounding", _nose()),
    helper("THREADS_ROOT_FITS", "whether the root that a tip leaves is within its limits", "line kind up aim",
           _root_fits()),
    helper("THREADS_RADIUS_FITS", "whether the tip is the root radius that is demanded", "line kind size",
           _radius_fits()),
    helper("THREADS_COMPOUND", "travel of the compound, #NUM! for an angle that is none", "radial angle",
           _compound()),
    helper("THREADS_ANGLE", "the compound's angle, which may not cut a stepped flank", "line angle", _angle()),
)  # fmt: skip

FUNCTIONS: tuple[Lambda, ...] = (
    function("THREAD_BLANK", _blank()),
    function("THREAD_DEPTH", _depth()),
    function("THREAD_COMPOUND", ours.compound(ours.number(one.radial), ours.number(one.angle))),
    function("THREAD_FEED_LEFT", _feed_left()),
)
