"""The glossary: each name of an argument or a result means one thing, here and in every host.

`dimension` says how a cell is read and whether a result is converted; `label` heads columns and input cells;
`help` is what a spreadsheet shows beside the argument (255 characters at most, the limit of Excel).
"""

from __future__ import annotations

from sheetfuncs.records import NamedTuple

DIMENSIONS = (
    *("thread", "length", "signed length", "angle", "number", "count", "choice", "tip", "text"),
    *("leadscrew", "numbers", "speed", "counted"),
)
"""What a cell can hold. A bare length is in the thread's own unit; an angle is in degrees."""


class Term(NamedTuple):
    """One name of the trade: what kind of value it is, its heading, its help, its allowed words."""

    dimension: str
    label: str
    help: str
    choices: tuple[str, ...] = ()


def _length(label: str, help_text: str) -> Term:
    return Term("length", label, help_text)


TERMS: dict[str, Term] = {
    # arguments
    "thread": Term(
        "thread",
        "thread",
        "The thread as written on the drawing: 3/4-16 UNF-2A, M20x2.5-6g, 5/8-11 UNC-2A-LH. One cell or a column.",
    ),
    "limit": Term(
        "choice",
        "limit",
        "Which limit of size to aim at: max, min, mid (halfway between them) or basic.",
        ("max", "min", "mid", "basic"),
    ),
    "unit": Term(
        "choice",
        "unit",
        "in or mm: the unit of the answer, and of bare lengths given. Left out: the thread's own unit.",
        ("in", "mm"),
    ),
    "wire": _length(
        "wire diameter", "Diameter of the measuring wires, as certified; a number or text such as 0.92 mm."
    ),
    "reading": _length("reading over wires", "What the micrometer shows over the three wires. One cell or a column."),
    "method": Term(
        "choice",
        "method",
        "handbook: the usual rule without the lead angle term; exact: the wire's contact on the helix. "
        "Left out: handbook.",
        ("handbook", "exact"),
    ),
    "tip": Term(
        "tip",
        "tool tip",
        "The end of the threading tool: sharp, flat 0.3 (its width), radius 0.2, or a bare number, a nose radius.",
    ),
    "blank": _length(
        "blank diameter",
        "Diameter of the blank as measured, or of the bore for an internal thread. Left out: the middle of its limits.",
    ),
    "passes": Term("count", "passes", "How many cutting passes, the finishing pass among them, spring passes not."),
    "angle": Term(
        "angle",
        "compound angle",
        "Degrees the compound is swung from straight in: 0 is straight in, 29.5 is usual for 60 degree threads.",
    ),
    "finish": _length(
        "finishing pass",
        "Radial infeed of the last cutting pass. Left out: what the rule for the passes gives.",
    ),
    "spring": Term("count", "spring passes", "Passes at full depth without more infeed. Left out: none."),
    "division": _length(
        "dial division",
        "Smallest division of the compound dial; travel is rounded to it. Left out: nothing is rounded.",
    ),
    "rule": Term(
        "choice",
        "pass rule",
        "equal area: every pass removes the same chip area; starter: a lighter first pass. Left out: equal area.",
        ("equal area", "starter"),
    ),
    "radial": Term("number", "radial infeed", "Infeed square to the axis, on the radius, in any unit of length."),
    "thinnest": _length("thinnest coating", "Least thickness of the coating, on the surface."),
    "thickest": _length("thickest coating", "Greatest thickness of the coating, on the surface."),
    "pitch_diameter": _length(
        "pitch diameter", "Where the groove is half a pitch wide; as measured, where it is given."
    ),
    "lead_error": Term(
        "signed length", "lead error", "Error of the lead over the length of engagement, either sign; 0 for none."
    ),
    "leading_error": Term(
        "angle", "leading flank error", "Angle of the leading flank less its nominal angle, degrees. Left out: none."
    ),
    "trailing_error": Term(
        "angle", "trailing flank error", "Angle of the trailing flank less its nominal angle, degrees. Left out: none."
    ),
    "leadscrew": Term(
        "leadscrew", "leadscrew", "The lathe's screw with its unit: 8 tpi or 3 mm. A bare number is threads per inch."
    ),
    "gear_teeth": Term("count", "dial gear teeth", "Teeth of the thread dial's gear."),
    "lines": Term("count", "dial lines", "Lines on the thread dial, numbered or not."),
    "gears": Term(
        "numbers", "gears on the shelf", "Teeth of the change gears: a range of cells, or a text such as 20 25 30 127."
    ),
    "results": Term("count", "results", "How many trains to list. Left out: 10."),
    "fixed_ratio": Term(
        "number", "fixed ratio", "Leadscrew turns for one turn of the train, by the gearbox as it is set. Left out: 1."
    ),
    "surface_speed": Term(
        "speed",
        "surface speed",
        "Cutting speed: feet a minute for an inch thread, metres a minute for a metric one, or text such as 12 m/min.",
    ),
    "relief": _length("usable relief", "Width of the relief groove that the tool may run into."),
    "reaction": Term("number", "reaction spread", "Spread of the operator's reaction, in seconds."),
    "speeds": Term("numbers", "spindle speeds", "The lathe's speeds: a range of cells, or a text such as 70 115 190."),
    "outside_diameter": _length("outside diameter", "Outside diameter as measured, with its unit: 29.8 mm, 0.745 in."),
    "counted": Term(
        "counted",
        "pitch",
        "Threads per inch, a pitch, or pitches counted over a length: 12 tpi, 2 mm, 10 in 20.0 mm (gaps, not crests).",
    ),
    "taper": Term(
        "number", "taper", "Change of diameter per length: 0.0625 for 1 in 16, 0 for parallel. Left out: either."
    ),
    "distance": Term("signed length", "distance", "Distance along the axis from the small end of the taper thread."),
    # results
    "description": Term("text", "thread in words", "The thread read back in words."),
    "pitch": _length("pitch", "Distance from a thread to the next, along the axis."),
    "lead": _length("lead", "Advance in one turn: starts times pitch."),
    "lead_angle": Term(
        "angle", "lead angle", "Angle of the helix at the basic pitch diameter, from square to the axis."
    ),
    "major_diameter": _length("major diameter", "Outside diameter, or the root diameter of an internal thread."),
    "minor_diameter": _length("minor diameter", "Root diameter, or the bore of an internal thread."),
    "diameter_name": Term("text", "diameter", "Which diameter the row is about."),
    "largest": _length("max", "Maximum limit of size."),
    "smallest": _length("min", "Minimum limit of size."),
    "reference": Term("text", "reference only", "Which of the two the standard gives for reference only."),
    "allowance": _length("allowance", "Allowance or fundamental deviation: how far the limits stand off basic size."),
    "tolerance": _length("pitch diameter tolerance", "Maximum less minimum pitch diameter."),
    "best_wire": _length("best wire", "The wire that touches the flanks at the pitch line."),
    "smallest_wire": _length("smallest wire", "The wire that is flush with the crest of the basic form."),
    "largest_wire": _length("largest wire", "The wire that touches the flanks at the edge of the basic crest."),
    "over_wires": _length("measurement over wires", "What a micrometer shows over three wires."),
    "wire_constant": _length("wire constant", "What to take off a reading to get the pitch diameter."),
    "wire_correction": _length(
        "lead angle correction",
        "What the handbook rule leaves out; worth applying when over a tenth of the pitch diameter tolerance.",
    ),
    "dial_rule": Term("text", "dial rule", "Which lines of the thread dial are legal, in words."),
    "train": Term("text", "gears", "Driver over driven, from the spindle side."),
    "gear_ratio": Term("number", "ratio", "Leadscrew turns of the train for one turn of the spindle."),
    "cut_lead": _length("lead cut", "The lead that this train cuts."),
    "lead_error_ppm": Term("number", "lead error, ppm", "Error of the lead in millionths of it."),
    "error_over_engagement": _length("error over one diameter", "Error of the lead summed over one diameter."),
    "gear_remark": Term("text", "remark", "Whether the train is exact, and whether it can be mounted."),
    "rpm_by_speed": Term("number", "rpm by cutting speed", "Speed limit by the cutting speed."),
    "rpm_by_relief": Term("number", "rpm by relief", "Speed limit by the relief groove and the reaction spread."),
    "rpm_lower": Term("number", "rpm, the lower", "The lower of the two limits."),
    "rpm_listed": Term("number", "rpm on the lathe", "The lathe's next listed speed at or under the lower limit."),
    "governs": Term("text", "governs", "Which limit governs."),
    "feed_left": Term("signed length", "feed left", "Infeed left at the compound; negative when past the limit."),
    "callout": Term("text", "thread", "A standard thread that it may be."),
    "system": Term("text", "system", "The thread system."),
    "pitch_difference": Term("signed length", "over the counted length", "Measured length less that of this pitch."),
    "pitch_percent": Term("number", "of it, per cent", "The same in per cent of the counted length."),
    "diameter_difference": Term("signed length", "outside less basic", "Measured outside diameter less the basic one."),
    "verdict": Term("text", "verdict", "Whether it fits, and why not."),
    "before_max": _length("max before coating", "Largest size before coating."),
    "before_min": _length("min before coating", "Smallest size before coating."),
    "coating_remark": Term("text", "remark", "Whether the allowance takes the coating."),
    "virtual_diameter": _length(
        "virtual diameter", "Pitch diameter of the perfect thread that goes where this one goes."
    ),
    "depth": _length("radial infeed", "Total infeed on the radius from touching the blank."),
    "pass_number": Term("count", "pass", "Number of the pass."),
    "radial_infeed": _length("radial infeed", "Infeed of this pass on the radius."),
    "radial_total": _length("radial total", "Infeed on the radius since touching the blank."),
    "compound_travel": _length("compound travel", "What to turn the compound for this pass."),
    "compound_reading": _length("compound reading", "What the compound dial shows, from zero where the tool touched."),
    "diameter_now": _length("diameter now", "Diameter at the tool's tip after this pass."),
    "travel": Term("number", "compound travel", "Travel of the compound, in the unit of the radial infeed."),
    "blank_max": _length("blank max", "Largest blank, or bore."),
    "blank_min": _length("blank min", "Smallest blank, or bore."),
    "blank_aim": _length("blank aim", "Middle of the two limits."),
}
