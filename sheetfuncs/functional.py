"""What coating and form errors do to the fit: sizes before coating, and the virtual diameter.

A layer or an error that narrows a groove by a width w along the axis acts like a pitch diameter larger by
2 w / (tan a + tan b), a and b the flank angles: the mating thread has to back off that far until its flanks clear.
"""

from __future__ import annotations

from math import cos, radians, tan

from sheetfuncs import forms, limits, standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import OutOfRange
from sheetfuncs.forms import Form
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.standards import Size
from sheetfuncs.standards.base import round_half_even

CATEGORY = "Thread fit"

MOST_ANGLE_ERROR = 5.0
"""Degrees beyond which an error of a flank is not believed (this project's choice): minutes were meant."""

TO_BASIC = ("unified", "iso_metric")
"""Systems whose standards leave the allowance to a coating (ASME B1.1-2003, section 7; ISO 965-1). None was seen that
says so of another thread, nor a gauge that would accept one."""

AS_OF_CLASS = "the limits of the class hold after coating"


def coating_factor(form: Form) -> float:
    """How many times its thickness a coating adds to the pitch diameter.

    A layer t thick, square to the flanks, is t / cos a wide along the axis on one and t / cos b on the other:
    2 (1/cos a + 1/cos b) / (tan a + tan b), 4 for 60 degrees (ASME B1.1-2003, section 7: four times).

    >>> round(coating_factor(standards.SYSTEMS["unified"].form), 9)
    4.0
    """
    return 2 * (1 / cos(radians(form.leading)) + 1 / cos(radians(form.trailing))) / form.spread


@sheet_function(
    category=CATEGORY,
    returns=("diameter_name", "before_max", "before_min", "coating_remark"),
    table="rows",
    sources=("ASME B1.1", "ISO 965-1", "geometry"),
    examples=(
        Example(
            ("1/2-13 UNC-3A", 0.0002, 0.0004),
            ("major", "0.4992", "0.4887", "cut under: the allowance is short by 0.0008 in"),
            "worked by hand from ASME B1.1 limits .5000/.4891: less twice .0004 and twice .0002",
        ),
    ),
)
def before_coating(
    thread: Thread, thinnest: float, thickest: float
) -> list[tuple[str, float | None, float | None, str]]:
    """Limits to cut to before a coating, for a range of its thickness on the surface.

    After coating a Unified or ISO metric thread must not pass basic size (the maximum of class 3A or position h, the
    minimum of class 3B or position H), nor a limit past that: a tolerance both ways, as pipe threads have, is no
    allowance, nor is what a printed bore is rounded up by. The allowance of any other thread is not there for a
    coating: the limits of its class hold after it too, but for the root, which stands off. Where the allowance of a
    diameter takes the thickest coating the class's own limits hold before coating; otherwise the band is moved: its far
    end by the thickest coating, its near end by the thinnest.

    >>> [row[1:3] for row in before_coating(standards.read("3/4-16 UNF-2A"), 0.0002, 0.0003)]
    [(0.7485, 0.7391), (0.7079, 0.7029), (0.674, None)]
    """
    if thinnest > thickest:
        raise OutOfRange(f"thinnest {plain(thinnest)} is more than thickest {plain(thickest)}; swap them")
    system = standards.system(thread)
    found, basic = standards.limits(thread), standards.basic(thread)
    on_flanks = coating_factor(system.form)
    may_take = found.allowance > 0 and thread.system in TO_BASIC
    rows = []
    for name, factor in (("major", 2.0), ("pitch", on_flanks), ("minor", 2.0)):
        size, nominal = getattr(found, name), getattr(basic, name)
        clear = name == ("major" if thread.side == "internal" else "minor")  # a root stands off without an allowance
        spare = _spare(thread, size, round_half_even(nominal, system.decimals)) if clear or may_take else 0.0
        short = factor * thickest - spare
        if short <= 1e-9:
            rows.append((name, size.max, size.min, "the allowance takes it"))
            continue
        largest, smallest = _moved(thread, size, factor * thinnest, short)
        if largest is not None and smallest is not None and largest <= smallest:
            raise OutOfRange(
                f"a coating of {plain(thinnest)} to {plain(thickest)} {thread.unit} leaves no {name} diameter "
                f"tolerance on {standards.write(thread)}"
            )
        way = "over" if thread.side == "internal" else "under"
        lacking = f"the allowance is short by {plain(round(short, 6))} {thread.unit}"
        kept = found.allowance and not may_take and not clear
        rows.append((name, largest, smallest, f"cut {way}: {AS_OF_CLASS if kept else lacking}"))
    if on_flanks * thickest >= forms.sharp_height(system.form, thread.pitch):
        raise OutOfRange(
            f"a coating of {plain(thickest)} {thread.unit} fills the groove of {standards.write(thread)}, half a pitch "
            f"of {plain(thread.pitch)} wide; check its unit"
        )
    return rows


def _spare(thread: Thread, size: Size, nominal: float) -> float:
    """How far the limit of most metal stands off basic size on the side of the air; 0 where it lies past basic."""
    most_metal = size.min if thread.side == "internal" else size.max
    if most_metal is None:
        return 0.0
    return max(0.0, most_metal - nominal if thread.side == "internal" else nominal - most_metal)


def _moved(thread: Thread, size: Size, thin: float, short: float) -> tuple[float | None, float | None]:
    """The band of one diameter moved away from the coating; it grows outside and shrinks inside."""
    sign = -1 if thread.side == "internal" else 1
    near, far = (size.min, size.max) if sign > 0 else (size.max, size.min)
    far = None if far is None else far - sign * short
    near = None if near is None else near - sign * thin
    return (far, near) if sign > 0 else (near, far)


@sheet_function(
    category=CATEGORY,
    returns="virtual_diameter",
    sources=("geometry", "ASME B1.7"),
    examples=(
        Example(
            ("M20x2.5-6g", 18.25, 0.01),
            "18.267",
            "by hand: 18.25 + 0.01 cot 30 = 18.25 + 0.0173",
        ),
    ),
)
def virtual_diameter(
    thread: Thread,
    pitch_diameter: float,
    lead_deviation: float,
    leading_error: float = 0.0,
    trailing_error: float = 0.0,
) -> float:
    """Pitch diameter of the perfect thread that goes where this one goes, over the engaged length.

    A lead error e over the engagement displaces one flank by e: it counts as 2 e / (tan a + tan b), 1.732 e at 60
    degrees. A flank whose angle is too large stands out towards the root, one too small towards the crest: at the end
    of the engaged flank by y (tan(a + d) - tan a), y from the pitch line to the basic minor or major diameter.
    Outside the sum is added, inside it is taken off. Angle errors in degrees, too large positive.

    Raises OutOfRange for errors that no thread has (half a pitch of lead or more, over MOST_ANGLE_ERROR of a flank) and
    for a pitch diameter more than two pitches off the basic one: the unit is wrong.

    >>> round(virtual_diameter(standards.read("M20x2.5-6g"), 18.25, 0.0, 0.5, -0.5), 3)
    18.277
    """
    if abs(lead_deviation) >= thread.pitch / 2:
        raise OutOfRange(
            f"lead_deviation is {plain(lead_deviation)} {thread.unit}, half a pitch of {standards.write(thread)} or "
            f"more; check its unit"
        )
    for name, error in (("leading_error", leading_error), ("trailing_error", trailing_error)):
        if abs(error) > MOST_ANGLE_ERROR:
            raise OutOfRange(
                f"{name} is {plain(error)} degrees; more than {MOST_ANGLE_ERROR:g} is not believed, write 30 minutes "
                f"as 0.5"
            )
    form = standards.system(thread).form
    basic = standards.basic(thread)
    said = f"pitch_diameter is {plain(pitch_diameter)} {thread.unit}"
    limits.refuse_far_off(thread, pitch_diameter, basic.pitch, said, "unit")
    to_crest, to_root = (basic.major - basic.pitch) / 2, (basic.pitch - basic.minor) / 2
    if thread.side == "internal":
        to_crest, to_root = to_root, to_crest
    displaced = abs(lead_deviation)
    for angle, error in ((form.leading, leading_error), (form.trailing, trailing_error)):
        reach = to_root if error > 0 else to_crest
        displaced += reach * abs(tan(radians(angle + error)) - tan(radians(angle)))
    equivalent = 2 * displaced / form.spread
    return pitch_diameter - equivalent if thread.side == "internal" else pitch_diameter + equivalent
