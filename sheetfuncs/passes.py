"""How the depth of a thread is shared among passes: equal chips, whole divisions, and no pass more than the one before.

The functions are plain arithmetic on lengths; THREAD_INFEED (sheetfuncs.cutting) and the workbook's plan both follow
them. docs/depth.md tells the rules and where they come from.
"""

from __future__ import annotations

from math import floor, inf, sqrt

from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import OutOfRange
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.units import MM_PER_UNIT

if TYPE_CHECKING:
    from collections.abc import Sequence


LIGHT_FIRST_SHARE = 0.3
"""Chip area of a lighter first pass as a share of the others (threading handbooks of insert makers)."""

HALF_UP = 0.500000001
"""Half, and a little against the last bits of a division."""


def pass_totals(
    total: float, passes: int, finish: float | None = None, rule: str = "equal area", flat: float = 0.0
) -> list[float]:
    """Depth after each pass: `shared_depths`, with no pass deeper than the one before it.

    A finishing pass may be more than the last of the equal chips; then the passes before it take that much too.

    >>> [round(part, 3) for part in pass_totals(1.0, 4)]
    [0.5, 0.707, 0.866, 1.0]
    >>> [round(part, 3) for part in pass_totals(1.0, 5, finish=0.15)]  # the equal chips would end in one of 0.114
    [0.4, 0.55, 0.7, 0.85, 1.0]
    """
    depths = shared_depths(total, passes, finish, rule, flat)
    last = finish or 0.0
    if last * passes > total * (1 + 1e-12):
        raise OutOfRange(_too_much_finish(last))
    return in_order(depths, last, last, rule == "light first")


def shared_depths(
    total: float, passes: int, finish: float | None = None, rule: str = "equal area", flat: float = 0.0
) -> list[float]:
    """Depth after each pass as the rule shares the chip, before it is looked at whether a pass grows.

    A tool whose point is cut off by `flat` is deeper in the groove of a sharp one by as much, so its chips up to the
    depth t have the area (t + flat)^2 - flat^2 where the sharp one's have t^2 (times half the groove's spread).
    "light first" makes the first chip 0.3 of the others' area: shares 0.3 / (n - 1), then (k - 1) / (n - 1).

    >>> [round(part, 3) for part in shared_depths(1.0, 4, rule="light first")]
    [0.316, 0.577, 0.816, 1.0]
    >>> [round(part, 3) for part in shared_depths(2.0, 3, flat=1.0)]  # 9 less 1 in three parts: 11/3, 19/3, 9
    [0.915, 1.517, 2.0]
    """
    if passes < 1:
        raise OutOfRange(f"passes is {passes}; at least one is needed")
    if finish is not None:
        if not 0 < finish < total:
            raise OutOfRange(
                f"a finishing pass of {plain(finish)} does not fit in a depth of {total:.4f}; make it smaller"
            )
        if passes < 2:
            raise OutOfRange("one pass can't be roughing and finishing; use at least two passes")
        return [*shared_depths(total - finish, passes - 1, None, rule, flat), total]
    if rule == "light first" and passes > 1:
        shares = [share / (passes - 1) for share in (LIGHT_FIRST_SHARE, *range(1, passes))]
    else:
        shares = [number / passes for number in range(1, passes + 1)]
    whole = (total + flat) ** 2 - flat**2
    return [*(sqrt(flat**2 + share * whole) - flat for share in shares[:-1]), total]


def whole_divisions(
    readings: list[float],
    division: float,
    last: float | None,
    unit: str,
    rule: str = "equal area",
    most: float = inf,
) -> list[float]:
    """Dial readings in whole divisions: each pass at least one, none more than the one before it, the last pass kept.

    The end is the nearest to the depth, or a division less where the nearest is over `most`, the reading at which the
    pitch diameter is at its limit of least metal. Halves are rounded up, as a spreadsheet does.

    >>> whole_divisions([0.75, 0.8, 0.9], 0.125, None, "in")
    [0.625, 0.75, 0.875]
    >>> whole_divisions([0.75, 0.8, 0.95], 0.125, None, "in", most=0.96)  # not 1.0, which is nearer
    [0.625, 0.75, 0.875]
    """
    count = len(readings)
    totals = [_nearest(reading / division) for reading in readings] if division > 0 else [0]
    if totals[-1] * division > most:
        totals[-1] -= 1
    reserved = 0 if last is None or division <= 0 else _nearest(last / division)
    if division > 0 and last is not None and reserved < 1:
        raise OutOfRange(
            f"a finishing pass over a travel of {last:.4f} {unit} is less than a division of the dial, "
            f"{plain(division)} {unit}; make it larger, leave it out or use a finer dial"
        )
    if division <= 0 or totals[-1] < count:
        fault = f"{count} passes over a travel of {readings[-1]:.4f} {unit} come to less than a division"
        raise OutOfRange(f"{fault} of {plain(division)} {unit} each; use fewer passes or a finer dial")
    if last is not None and reserved * count > totals[-1]:
        raise OutOfRange(_too_much_finish(last))
    return [step * division for step in in_order(totals, reserved, max(reserved, 1), rule == "light first", whole=True)]


def in_order(totals: Sequence[float], last: float, least: float, light_first: bool, whole: bool = False) -> list[float]:
    """The totals moved as little as it takes that no pass is more than the one before it, and none under `least`.

    From the first pass on: it takes what brings it to its total, but no less than an even share of what is left (else
    a later pass would have to take more), and leaves the later ones their least. `last` is kept for the last pass. With
    `light_first` the first pass is meant to be the lighter one and binds no other.

    >>> in_order([3, 5, 8, 10], 0, 1, False, whole=True)  # passes of 3, 2, 3, 2
    [3, 6, 8, 10]
    """
    roughing = len(totals) - (1 if last else 0)
    light_first = light_first and roughing > 1
    done, before = 0.0 if not whole else 0, inf
    found: list[float] = []
    for number in range(roughing):
        left, passes = totals[-1] - last - done, roughing - number
        even = -(-left // passes) if whole else left / passes
        step = max(totals[number] - done, least if light_first and number == 0 else even)
        step = min(step, left - (passes - 1) * least)
        if number > light_first:
            step = min(step, before)
        done, before = done + step, step
        found.append(done)
    return [*found, totals[-1]] if last else [*found[:-1], totals[-1]]


def _nearest(value: float) -> int:
    """The nearest whole number, halves up; the sheet does the same with INT."""
    return floor(value + HALF_UP)


def _too_much_finish(finish: float) -> str:
    return (
        f"a finishing pass of {plain(finish)} is more than the passes before it would be; "
        f"make it smaller or use fewer passes"
    )


USUAL_PASSES = (
    (0.797, (4, 5), (5, 6), (5, 5), (7, 8)),
    (1.1, (5, 6), (5, 6), (5, 5), (7, 8)),
    (1.6, (6, 8), (5, 6), (5, 5), (7, 8)),
    (2.15, (8, 10), (7, 8), (5, 6), (9, 10)),
    (3.1, (9, 12), (10, 11), (7, 8), (11, 12)),
    (4.3, (12, 15), (12, 13), (8, 10), (13, 15)),
    (6.5, (14, 16), (13, 15), (10, 12), (17, 19)),
    (None, (15, 25), (18, 20), (14, 16), (22, 24)),
)
"""Fewest and most passes that are recommended, up to a pitch in mm: V forms, Acme and trapezoidal, stub Acme, buttress.

An insert maker's general catalogue (2017), p. 685, "Recommendation for threading infeed passes"; its ranges of threads
per inch (48-32, 28-24, 20-16, 14-12, 11.5-9, 8-6, 5-4, 3-2) and of metric pitches meet between the pitches given here.
The two finest ranges give no Acme, stub or buttress: the next coarser stands there.
"""

FIRST_PASS_NOSES, FIRST_PASS_POINTED_MM, FIRST_PASS_MM = 2.0, 0.25, 0.5
"""The deepest first pass on the radius: nose radii, what is taken of a smaller nose all the same, and of any tip, mm.

An insert maker's general catalogue (2020-21), threading guidelines: 150 to 200 % of the nose radius, 0.5 mm at most.
Its smallest noses would so take next to nothing: printed tables for noses of 0.06 to 0.20 mm begin with 0.16 to 0.25 mm
(another maker's general catalogue, 2019-20, p. 415). Recommendations, no standard; for a sharp tip, which no maker
sells, those of the smallest noses are taken, common practice.
"""


def first_pass_most(tip: str, size: float, rule: str, unit: str) -> float:
    """The deepest first pass on the radius that insert makers recommend, in the unit; practice, no standard.

    `tip` is sharp, flat or radius; `size` its width or radius.

    A flat cuts over all its width from the first, and "light first" is already the rule for points: there the limit for
    any tip alone holds.

    >>> [first_pass_most("radius", size, "equal area", "mm") for size in (0.06, 0.2, 0.4)]
    [0.25, 0.4, 0.5]
    >>> [round(first_pass_most("sharp", 0, rule, "in"), 4) for rule in ("equal area", "light first")]
    [0.0098, 0.0197]
    """
    to_mm = MM_PER_UNIT[unit]
    if tip == "flat" or rule == "light first":
        return FIRST_PASS_MM / to_mm
    return min(FIRST_PASS_MM, max(FIRST_PASS_POINTED_MM, FIRST_PASS_NOSES * size * to_mm)) / to_mm


FORM_COLUMN = {"acme": 1, "iso_trapezoidal": 1, "stub_acme": 2, "buttress": 3}
"""The column of a thread system in that table; all others are V forms."""


def usual_passes(thread: Thread) -> tuple[int, int]:
    """Fewest and most passes that an insert maker recommends for this form and pitch; practice, no standard.

    >>> from sheetfuncs import standards
    >>> usual_passes(standards.read("1-8 UNC-2A")), usual_passes(standards.read("M20x2.5"))
    ((12, 15), (9, 12))
    """
    pitch = thread.pitch * MM_PER_UNIT[thread.unit]
    column = FORM_COLUMN.get(thread.system, 0)
    return next(ranges[column] for most, *ranges in USUAL_PASSES if most is None or pitch <= most)
