"""Cutting a thread on the lathe: the blank, the depth for the tool in the post, and the passes.

The pitch diameter is where the groove is half a pitch wide, so a tool with sharp end must reach H/2 below the
pitch line (forms.vertex_below_pitch_line). From a blank of diameter B that is, on the radius,

    depth = (B - E) / 2 + H/2 - shortening      outside
    depth = (E - B) / 2 + H/2 - shortening      in a bore of diameter B

with E the pitch diameter aimed at and the shortening what the flat or nose of the real tip takes off
(forms.tip_shortening). docs/depth.md draws it.
"""

from __future__ import annotations

from math import cos, radians

from sheetfuncs import forms, limits, standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.passes import pass_totals, shared_depths, whole_divisions
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.roots import outward, refuse_wrong_radius, refuse_wrong_root

CATEGORY = "Thread cutting"

BITS = 0.00000005
"""On the radius: what passes a limit by less is on it, the last bits of the arithmetic."""


@sheet_function(
    category=CATEGORY,
    returns=("blank_max", "blank_min", "blank_aim"),
    table="row",
    sources=("ASME B1.1", "ISO 965-1"),
    examples=(
        Example(("2 3/8-20 UN-2A",), ("2.3735", "2.3654", "2.3694"), "MH27 p. 1755, Table 3; middle of the two"),
    ),
)
def blank(thread: Thread) -> list[tuple[float, float, float]]:
    """Blank to turn, or bore to make: largest, smallest, and the middle to aim at.

    An external thread is turned to its major diameter, an internal one bored to its minor diameter; of a taper thread
    these are the sizes at the gauge plane, and THREAD_TAPER_PLANES has those at the ends.

    >>> blank(standards.read("3/4-16 UNF-2A"))
    [(0.7485, 0.7391, 0.7438)]
    """
    found = standards.limits(thread)
    size = found.minor if thread.side == "internal" else found.major
    largest, smallest = size.ends
    return [(largest, smallest, (largest + smallest) / 2)]


@sheet_function(
    category=CATEGORY,
    returns="depth",
    sources=("geometry",),
    examples=(
        Example(
            ("3/4-16 UNF-2A", "radius 0.008", "mid", 0.744),
            "0.0384",
            "worked by hand from the formula in docs/depth.md",
        ),
        Example(
            ("3/4-16 UNF-2A", "sharp", "mid", 0.744),
            "0.0464",
            "worked by hand from the formula in docs/depth.md",
        ),
    ),
)
def depth(thread: Thread, tip: Tip, limit: str, blank: float | None = None) -> float:
    """Radial infeed from touching the blank to the pitch diameter at a limit, with this tool tip.

    Raises OutOfRange where the tip is so blunt that the root would foul the mating thread, or so narrow that it would
    cut the root past a limit that the standard sets for it; where the blank is past the pitch diameter aimed at, or
    more than a quarter of the pitch outside its limits: then it was turned for another thread, or its unit is another.
    Source: geometry of the form.

    >>> round(depth(standards.read("3/4-16 UNF-2A"), Tip("flat", 0.0625 / 8), "mid", 0.744), 4)
    0.0396
    """
    aim = limits.pitch_diameter(thread, limit)
    start = _blank_or_middle(thread, blank)
    _refuse_wrong_blank(thread, start, aim)
    form = standards.system(thread).form
    below_pitch_line = forms.vertex_below_pitch_line(form, thread.pitch) - forms.tip_shortening(form, tip)
    refuse_wrong_radius(thread, tip)
    refuse_wrong_root(thread, tip, aim)
    found = outward(thread) * (start - aim) / 2 + below_pitch_line
    if found <= 0:
        which = "bore" if thread.side == "internal" else "blank"
        raise OutOfRange(
            f"the {which} {plain(start)} {thread.unit} is already past the thread of {standards.write(thread)}; "
            f"check its size and unit"
        )
    return found


@sheet_function(
    category=CATEGORY,
    returns=("tip_kind", "tip_smallest", "tip_largest", "tip_words"),
    table="row",
    sources=(
        "ASME B1.1",
        "ISO 68-1",
        "ISO 965-1",
        "ASME B1.5",
        "ISO 2901",
        "ASME B1.9",
        "BS 84",
        "BS 93",
        "ASME B1.20.1",
    ),
    examples=(
        Example(
            ("1/2-10 ACME-2G",), ("flat", "0.0319", "0.0319", "flat of the root, ASME B1.5"), "data sheet on ASME B1.5"
        ),
        Example(
            ("7/8-14 UNJF-3A",),
            ("radius", "0.0107", "0.0129", "root radius that is demanded, ASME B1.15"),
            "MIL-S-8879C, Table III",
        ),
    ),
)
def tip(thread: Thread) -> list[tuple[str, float | None, float | None, str]]:
    """Tool tip of the full form: the flat or nose radius that the standard's root asks for, smallest and largest.

    Raises NotGiven where no source for the root was found, or where it depends on the side and the side is not said.
    THREAD_DEPTH takes any tip that leaves the mating thread room and the root within its limits; this is the one that
    the standard draws.

    >>> [round(size, 4) for size in tip(standards.read("2-4 BUTT-2A"))[0][1:3]]
    [0.0089, 0.0179]
    """
    system = standards.system(thread)
    if system.root_form is None:
        raise NotGiven(
            f"{standards.write(thread)}: no source for the root of {system.title} was found, so no tip is given"
        )
    kind, smallest, largest, words = system.root_form(thread)
    return [(kind, smallest, largest, words)]


@sheet_function(
    category=CATEGORY,
    returns="travel",
    sources=("geometry",),
    examples=(Example((0.0384, 29.5), "0.0441", "worked by hand: 0.0384 / cos 29.5"),),
)
def compound(radial: float, angle: float) -> float:
    """Travel of a compound set at an angle, for an infeed on the radius: radial / cos(angle).

    The angle is counted from straight in; at 0 the compound moves square to the axis.

    >>> round(compound(0.0384, 29.5), 4)
    0.0441
    """
    if not 0 <= angle < 90:
        raise OutOfRange(f"the compound angle {plain(angle)} is not from 0 (straight in) to less than 90 degrees")
    return radial / cos(radians(angle))


@sheet_function(
    category=CATEGORY,
    returns=(
        "pass_number",
        "radial_infeed",
        "radial_total",
        "compound_travel",
        "compound_reading",
        "diameter_now",
    ),
    table="rows",
    unit_before="division",
    sources=("geometry", "insert makers", "practice"),
    examples=(
        Example(
            ("3/4-16 UNF-2A", "radius 0.008", 4, 0, None, None, 0.744),
            ("1", "0.0192", "0.0192", "0.0192", "0.0192", "0.7056"),
            "worked by hand: the first of four equal areas ends at half the depth 0.0384",
        ),
    ),
)
def infeed(
    thread: Thread,
    tip: Tip,
    passes: int,
    angle: float | None = None,
    finish: float | None = None,
    spring: int = 0,
    blank: float | None = None,
    division: float | None = None,
    rule: str = "equal area",
) -> list[tuple[int, float, float, float, float, float]]:
    """The plan of passes from touching the blank to the middle of the pitch diameter's limits.

    Equal area: the chip of a pointed tool grows with the square of the depth, so pass k of n ends at sqrt(k/n) of it;
    a flat tip starts wide and takes less at first. A nose counts as a point, as in the insert makers' tables.
    With `finish` the last pass takes just that and the others share the rest. With `division` the compound is
    turned by whole divisions, at least one a pass, and the last reading is the nearest to the depth, or a division
    less where the nearest would cut the pitch diameter past its limit of least metal. No pass takes
    more than the one before it (with rule "light first": from the second on). The angle, left out, is half a degree
    less than the flank (common practice).

    >>> [round(row[2], 4) for row in infeed(standards.read("3/4-16 UNF-2A"), Tip("sharp"), 4, blank=0.744)]
    [0.0232, 0.0328, 0.0402, 0.0464]
    """
    start = _blank_or_middle(thread, blank)
    total = depth(thread, tip, "mid", start)
    swung = compound_angle(thread, angle)
    flat = forms.tip_shortening(standards.system(thread).form, tip) if tip.kind == "flat" else 0.0
    if division is None:
        readings = [compound(part, swung) for part in pass_totals(total, passes, finish, rule, flat)]
    else:
        readings = [compound(part, swung) for part in shared_depths(total, passes, finish, rule, flat)]
        last = None if finish is None else compound(finish, swung)
        most = compound(total + _to_least_metal(thread) / 2 + BITS, swung)
        readings = whole_divisions(readings, division, last, thread.unit, rule, most)
    readings += [readings[-1]] * spring
    rows, before = [], 0.0
    for number, reading in enumerate(readings, start=1):
        travel = reading - before
        radial, now = travel * cos(radians(swung)), reading * cos(radians(swung))
        rows.append((number, radial, now, travel, reading, start - 2 * outward(thread) * now))
        before = reading
    return rows


def _to_least_metal(thread: Thread) -> float:
    """From the middle of the pitch diameter's limits to the one of least metal."""
    middle, least_metal = (
        limits.pitch_diameter(thread, end) for end in ("mid", "max" if thread.side == "internal" else "min")
    )
    return abs(middle - least_metal)


def compound_angle(thread: Thread, angle: float | None) -> float:
    """The compound's angle, or half a degree less than the flank where none is given (common practice).

    >>> compound_angle(standards.read("M20x2.5"), None)
    29.5
    """
    form = standards.system(thread).form
    flank, flatter = sorted((form.leading, form.trailing))  # either may trail, and no step is left on the steeper
    swung = flank - 0.5 if angle is None else angle
    if not 0 <= swung <= flank:
        where = ""
        if flank < swung <= flatter:
            where = (
                f" where the {plain(flank)} degree flank trails, and none where the {plain(flatter)} degree flank "
                "does; which of them trails is not known here"
            )
        raise OutOfRange(
            f"a compound angle of {plain(swung)} would cut a stepped flank{where}; "
            f"use 0 (straight in) to {plain(flank)} degrees"
        )
    return swung


def _blank_or_middle(thread: Thread, blank_diameter: float | None) -> float:
    if not thread.side:
        choices = "; ".join(f"{side}: {names}" for side, names in standards.system(thread).classes.items())
        raise NotGiven(f"{standards.write(thread)} does not say whether it is outside or inside; add it ({choices})")
    return blank(thread)[0][2] if blank_diameter is None else blank_diameter


FAR_BLANK = 0.25
"""Of the pitch: a blank or bore further outside its limits belongs to another thread (a rule of this project)."""


def _refuse_wrong_blank(thread: Thread, start: float, aim: float) -> None:
    """A blank past the pitch diameter can't hold the thread; one far off its limits was made for another."""
    inside = thread.side == "internal"
    which, past = ("bore", "above") if inside else ("blank", "below")
    if outward(thread) * (start - aim) <= 0:
        raise OutOfRange(
            f"the {which} {plain(start)} {thread.unit} is {past} the pitch diameter aimed at, {aim:.4f}; "
            f"{standards.write(thread)} can't be cut on it, check its size and unit"
        )
    largest, smallest, _ = blank(thread)[0]
    over = max(start - largest, smallest - start)
    if over > FAR_BLANK * thread.pitch:
        end, limit = ("over its largest", largest) if start > largest else ("under its smallest", smallest)
        raise OutOfRange(
            f"the {which} {plain(start)} {thread.unit} is {end} size {limit:.4f} by {over:.4f}, more than a quarter of "
            f"the pitch of {standards.write(thread)}; was it made for another thread? Check its size and unit"
        )
