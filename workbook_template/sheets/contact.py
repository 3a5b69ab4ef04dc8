"""Readings over wires with the lead angle in them, as formulas: sheetfuncs.helix, one row for a wire and a limit.

The radius at which the wire touches the flank comes by Newton's steps from where it would touch without a lead; each
step is a radius r, N = sqrt(1 + tan^2 a + (k / r)^2) and u = tan(-phi). With g(r) what still parts wire and flank,

    g = P/4 + (r - E/2) tan a - k atan u - (W/2) / N
    g' = tan a + k u / (1 + u^2) (1/r + (1 + tan^2 a) / (N (N r + (W/2) tan a))) - (W/2) (k/r)^2 / (r N^3)

and the reading is 2 C + W, C = (r + (W/2) (tan a + u k/r) / N) / sqrt(1 + u^2). Three steps leave nothing that shows:
docs/wires.md has the largest error over all threads, starts and wires. Between unlike flanks and on a taper the rule of
sheetfuncs.wires stands, without the lead.
"""

from __future__ import annotations

from collections.abc import Iterator

from sheetfuncs.wires import OFF_FLANK
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import NO_NUMBER, any_of, first, here, known, no, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets import coating, taper_figures
from workbook_template.sheets.layout import Column, Table
from workbook_template.sheets.threads_table import CHOSEN

STEPS = 3

MEASURE_CREST = "crest first"
"""Said of a wire set that is proud of small crests only: measure the crest before it is believed."""

ENDS = ("max", "min")
OF_SETUP = {"max": 1, "mid": 2, "min": 3}
"""Rows of the wire in use at the lathe."""
OF_PART = {"max": 4, "min": 5}
"""Rows of the same wire on the finished part, which may be coated."""


def pitch_diameter(end: str) -> Node:
    """The pitch diameter to cut at a limit, or at the middle of both."""
    middle = (the.cut_pitch_diameter_max + the.cut_pitch_diameter_min) / 2
    return middle if end == "mid" else the[f"cut_pitch_diameter_{end}"]


def part_limit(end: str) -> Node:
    """The same of the finished part."""
    largest, smallest = (coating.of_finished("pitch", one) for one in ENDS)
    return (largest + smallest) / 2 if end == "mid" else coating.of_finished("pitch", end)


def of_setup(end: str) -> Node:
    """The reading over the wire in use at a limit to cut."""
    return xl.INDEX(the.contact_reading, OF_SETUP[end])


def of_part(end: str) -> Node:
    """The reading over the wire in use at a limit of the finished part."""
    return xl.INDEX(the.contact_reading, OF_PART[end])


def of_set(number: int, end: str) -> Node:
    """The reading over a wire set of Instruments, counted from 0."""
    return xl.INDEX(the.contact_reading, len(OF_SETUP) + len(OF_PART) + len(ENDS) * number + ENDS.index(end) + 1)


def nowhere_near(reading: Node) -> Node:
    """Whether a reading over the wire in use is that of no such thread: two pitches off, or more."""
    return xl.ABS(reading - the.wire_constant - the.taper_rise - the.pitch_diameter_basic) > 2 * the.pitch


def reading_share(highest: Node, lowest: Node) -> Node:
    """How much of a reading's change is not the pitch diameter's, from the readings at the two limits.

    With the lead in it a reading is not the pitch diameter and a constant. Between the limits it runs straight, so
    reading less pitch diameter is this share times the reading and `reading_offset` more.
    """
    return 1 - the.part_tolerance / (highest - lowest)


def reading_offset(lowest: Node, its_share: Node) -> Node:
    """Reading less pitch diameter on that line where the reading is 0."""
    return lowest * (1 - its_share) - part_limit("min") - the.taper_rise


def from_axis(wire: Node) -> Node:
    """How far out from the sharp bottoms a wire touches flanks without a lead; half a wire gives it on the radius."""
    return wire * (1 / xl.SIN(the.half_angle) - xl.SIN(the.half_angle))


WORKING = (
    Figure("flank_tangent", "tangent of half the included angle", when(known(the.half_angle), xl.TAN(the.half_angle))),
    Figure("lead_turned", "lead in a radian of the turn", when(known(the.lead), the.lead / xl.RADIANS(360))),
    Figure("alike_flanks", "whether the flanks lean alike",
           when(CHOSEN, the.flank_leading.same(the.flank_trailing), False)),
    *(Figure(f"part_over_wires_{end}", f"reading over wires at the {words} pitch diameter of the finished part",
             when(known(of_part(end)), of_part(end))) for end, words in (("max", "largest"), ("min", "smallest"))),
    Figure("wire_share", "how much of a reading's change is not the pitch diameter's",
           when(xl.COUNT(the.part_over_wires_max, the.part_over_wires_min).same(2),
                reading_share(the.part_over_wires_max, the.part_over_wires_min))),
    Figure("wire_offset", "reading less pitch diameter of the wire in use, where the reading is 0",
           when(known(the.wire_share), reading_offset(the.part_over_wires_min, the.wire_share))),
    Figure("flank_end", "diameter at which the straight flank ends: where the largest wire touches",
           when(known(the.largest_wire), the.pitch_diameter_max - 2 * the.half_height + from_axis(the.largest_wire))),
)  # fmt: skip
"""What all rows share."""


def worked(sets: int) -> Table:
    """A row for each limit of the wire in use, to cut and of the part, then two for each of so many wire sets."""
    rows = list(_rows(sets))
    heads = {"wire": "wires whose readings are worked: the wire in use five times, each set twice",
             "pitch_diameter": "the limit of the pitch diameter that each is for",
             "reading": "the readings over them, with the lead angle"}  # fmt: skip
    columns = [
        Column("for", "for", "what the row is for", formula=lambda row: say(rows[row - 1][0]), named=False),
        Column("wire", "wire", heads["wire"], formula=lambda row: rows[row - 1][1], dimension="General",
               role="working"),
        Column("pitch_diameter", "pitch diameter", heads["pitch_diameter"],
               formula=lambda row: when(known(here.wire), rows[row - 1][2] + the.taper_rise, NO_NUMBER),
               role="working"),
    ]  # fmt: skip
    for name, formula in touching().items():
        meaning = heads.get(name, f"where they touch: {name.replace('_', ' ')} of the step")
        columns.append(Column(name, name.replace("_", " "), meaning, formula=formula, role="working"))
    return Table("contact", tuple(columns), len(rows))


def _rows(sets: int) -> Iterator[tuple[str, Node, Node]]:
    """Label, formula of the wire, limit of the pitch diameter."""
    in_use = when(the.wire_serves, the.wire_used)
    for end in OF_SETUP:
        yield f"in use, {end}", when(known(the.cut_pitch_diameter_max), in_use), pitch_diameter(end)
    for end in OF_PART:
        yield f"in use, {end} of the part", in_use, part_limit(end)
    for number in range(1, sets + 1):
        said = xl.INDEX(the.wires_words, number)
        serves = any_of(said.same("yes"), said.same(MEASURE_CREST))
        for end in ENDS:
            wire = when(serves, xl.INDEX(the.wires_mean, number))
            yield f"set {number}, {end}", wire, part_limit(end)


def touching() -> dict[str, Node]:
    """The formulas by column: where the wire touches, step by step, and the reading there."""
    formulas = {}
    wire, size, half = here.wire, here.pitch_diameter, here.wire / 2
    tangent, lead = the.flank_tangent, the.lead_turned
    start = size / 2 - the.half_height + from_axis(half)
    for step in range(STEPS + 1):
        radius, root, u = (here[f"{part}_{step}"] for part in ("radius", "root", "u"))
        formulas[f"radius_{step}"] = when(known(size), start, NO_NUMBER)
        formulas[f"root_{step}"] = when(known(radius), xl.SQRT(1 + tangent**2 + (lead / radius) ** 2), NO_NUMBER)
        turned = half * lead / (radius * (root * radius + half * tangent))
        formulas[f"u_{step}"] = when(known(root), turned, NO_NUMBER)
        gap = the.pitch / 4 + (radius - size / 2) * tangent - lead * xl.ATAN2(1, u) - half / root
        turns = 1 / radius + (1 + tangent**2) / (root * (root * radius + half * tangent))
        slope = tangent + lead * u / (1 + u**2) * turns - half * (lead / radius) ** 2 / (radius * root**3)
        start = radius - gap / slope
    exact = 2 * (radius + half * (tangent + u * lead / radius) / root) / xl.SQRT(1 + u**2) + wire
    formulas["reading"] = first(
        (no(known(u)), NO_NUMBER),
        (the.tapered, taper_figures.reading(size, wire)),
        (no(the.alike_flanks), size + wire * the.wire_rise - 2 * the.half_height),
        (radius - the.flank_end / 2 > OFF_FLANK * the.pitch, NO_NUMBER),
        otherwise=exact,
    )
    return formulas
