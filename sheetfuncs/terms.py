"""The glossary: each name of an argument or a result means one thing, here and in every host.

`dimension` says how a cell is read and whether a result is converted; `label` heads columns and input cells;
`help` is what a spreadsheet shows beside the argument (255 characters at most, the limit of Excel).
"""

from __future__ import annotations

from sheetfuncs.records import NamedTuple

DIMENSIONS = (
    *("thread", "length", "signed length", "angle", "number", "count", "choice", "tip", "text"),
    *("leadscrew", "numbers", "speed", "counted", "length or none"),
    *("size", "material", "study", "lots", "amount", "share", "portion", "surcharge", "temperature"),
)
"""What a cell can hold. A bare length is in the thread's own unit; an angle is in degrees.

A size is a number more than zero, in whatever unit the sheet uses; an amount and a length or none are 0 or more; a
share is less than 1, a portion 1 at most.
"""


class Term(NamedTuple):
    """One name of the trade: what kind of value it is, its heading, its help, its allowed words."""

    dimension: str
    label: str
    help: str
    choices: tuple[str, ...] = ()


ZERO_FOR_NONE = ("facing", "part_off", "stub", "scrap", "overhead")
"""Amounts and shares whose help says that 0 stands for none."""


def _length(label: str, help_text: str) -> Term:
    return Term("length", label, help_text)


def _error(label: str, help_text: str, dimension: str = "length or none") -> Term:
    """A source of uncertainty."""
    return Term(dimension, label, f"{help_text} 0 only where it is known to be nothing.")


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
    "limit_there": Term(
        "choice",
        "limit",
        "Which limit of size at that place: max, min, mid (halfway between them) or basic. Left out: basic.",
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
        "equal area: every pass removes the same chip area; light first: a lighter first pass. Left out: equal area.",
        ("equal area", "light first"),
    ),
    "radial": Term("number", "radial infeed", "Infeed square to the axis, on the radius, in any unit of length."),
    "thinnest": _length("thinnest coating", "Least thickness of the coating, on the surface."),
    "thickest": _length("thickest coating", "Greatest thickness of the coating, on the surface."),
    "pitch_diameter": _length(
        "pitch diameter", "Where the groove is half a pitch wide; as measured, where it is given."
    ),
    "lead_deviation": Term(
        "signed length", "lead deviation", "Error of the lead over the length of engagement, either sign; 0 for none."
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
    "lead_error": Term(
        "number",
        "lead error of the gears",
        "Error of the lead that the gears really cut, in millionths, as THREAD_GEARS gives it. Left out: exact gears.",
    ),
    "gears": Term(
        "numbers", "gears on the shelf", "Teeth of the change gears: a range of cells, or a text such as 20 25 30 127."
    ),
    "results": Term("count", "results", "How many trains to list. Left out: 10."),
    "fixed_ratio": Term(
        "number", "fixed ratio", "Leadscrew turns for one turn of the train, by the gearbox as it is set. Left out: 1."
    ),
    "spacing": Term(
        "numbers",
        "quadrant",
        "Least and greatest sum of teeth that the quadrant takes, idlers counted twice: 130 260. Left out: no check.",
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
    "place": Term(
        "signed length",
        "place of the single wire",
        "On a taper thread: distance of the single wire from the small end, along the axis. Left out: gauge plane.",
    ),
    "value": Term("number", "value", "The value as measured, in any unit. One cell or a column."),
    "low": Term(
        "number", "low limit", "Low limit, in the unit of the value. Left out, where it may be: no limit that side."
    ),
    "high": Term(
        "number", "high limit", "High limit, in the unit of the value. Left out, where it may be: no limit that side."
    ),
    "uncertainty": Term(
        "size", "expanded uncertainty", "Expanded uncertainty U of the value, in its unit. Left out: none is known."
    ),
    "decision_rule": Term(
        "choice",
        "decision rule",
        "simple: the limits as they are; guard: inside them by the uncertainty. Left out: guard where one is given.",
        ("simple", "guard"),
    ),
    "readings": Term("numbers", "readings", "Readings in the order made: a range, empty cells passed over."),
    "measured": Term(
        "size", "reading", "Length as measured, in any unit; the answer is in the same. One cell or a column."
    ),
    "temperature": Term(
        "temperature", "temperature", "Temperature of the part: degrees Celsius, or a text such as 86 F."
    ),
    "material": Term(
        "material",
        "material",
        "steel, aluminium, brass, cast iron, bronze, copper, titanium, or its expansion per degree Celsius: 11.5e-6.",
    ),
    "study": Term(
        "study", "study", "A range of three columns: part, appraiser, reading; each appraiser reads each part as often."
    ),
    "tolerance_width": Term(
        "size", "tolerance", "High limit less low limit, in the unit of the readings. Left out: not shown."
    ),
    "wire_uncertainty": _error(
        "uncertainty of the wires", "Expanded uncertainty of the mean wire, by its certificate, at k = 2."
    ),
    "micrometer_error": _error(
        "micrometer error", "Largest error of the micrometer over its range, by its calibration."
    ),
    "temperature_spread": _error(
        "temperature spread", "How far part and micrometer may differ in temperature, degrees Celsius.", "amount"
    ),
    "repeatability": _error("repeatability", "Standard deviation of repeated readings of one part."),
    "repeats": Term("count", "repeats", "How many readings the standard deviation was found from."),
    "pitch_error": _error("pitch error", "How far the pitch of the part may be off. Left out: not in the budget."),
    "half_angle_error": _error(
        "half angle error",
        "How far the half angle of the part may be off, degrees. Left out: not in the budget.",
        "amount",
    ),
    "lot": Term("size", "lot size", "How many parts are in the lot: a whole number, 2 or more."),
    "aql": Term(
        "size", "AQL", "Acceptance quality limit, per cent nonconforming, as agreed: 0.010 to 1000 by the tables."
    ),
    "level": Term(
        "choice",
        "inspection level",
        "S-1 to S-4, I, II or III. Left out: II.",
        ("s-1", "s-2", "s-3", "s-4", "i", "ii", "iii"),
    ),
    "severity": Term(
        "choice", "severity", "normal, tightened or reduced. Left out: normal.", ("normal", "tightened", "reduced")
    ),
    "history": Term("lots", "results of the lots", "accepted or rejected for each lot, in order: a range or a text."),
    "starts_with": Term(
        "choice",
        "begins with",
        "Inspection that the first lot was under: normal, tightened or reduced. Left out: normal.",
        ("normal", "tightened", "reduced"),
    ),
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
    "plane": Term("text", "plane", "A plane square to the axis that the standard names."),
    "plane_distance": Term("signed length", "from the small end", "Distance from the small end of the pipe."),
    "plane_turns": Term("number", "turns", "The same in turns, one pitch each."),
    "plane_max": _length("pitch diameter max", "Largest pitch diameter there."),
    "plane_min": _length("pitch diameter min", "Smallest pitch diameter there."),
    "gauge_turns": Term("number", "turns", "Turns of the ring or plug gauge; plus: the thread is large."),
    "figures": Term("text", "figures", "Which figures of the thread the row is about."),
    "figure_source": Term("text", "source", "The standard or book they are from, with its edition."),
    "source_place": Term("text", "table or clause", "Where in the source they stand."),
    "figure_trust": Term(
        "text",
        "trust",
        "What is from memory, and what was seen and compared; MH27, MH31: Machinery's Handbook, 27th, 31st edition.",
    ),
    "best_wire": _length("best wire", "The wire that touches the flanks at the pitch line."),
    "smallest_wire": _length("smallest wire", "A larger one is proud of the crest all over the tolerance."),
    "largest_wire": _length("largest wire", "A smaller one is on straight flank all over the tolerance."),
    "over_wires": _length("measurement over wires", "What a micrometer shows over three wires."),
    "wire_constant": _length("wire constant", "What to take off a reading to get the pitch diameter."),
    "wire_correction": _length(
        "lead angle correction",
        "What the handbook rule leaves out; worth applying when over a tenth of the pitch diameter tolerance (ours).",
    ),
    "wire_remark": Term("text", "wire", "Whether the wire serves, or how far it may sit below the crest."),
    "dial_rule": Term("text", "dial rule", "Which lines of the thread dial are legal, in words."),
    "carriage_speed": _length("carriage a minute", "How far the carriage runs in a minute."),
    "gear_tpi": Term("number", "gear for, threads per inch", "Threads per inch that the lathe is geared for."),
    "gear_lead_mm": Term("number", "gear for a lead of, mm", "Lead that the lathe is geared for, millimetres."),
    "start_angle": Term("angle", "start to start, degrees", "Turn of the spindle from one start to the next."),
    "gear_words": Term("text", "gear for", "What to gear the lathe for, and where the next start is, in words."),
    "train": Term("text", "gears", "Driver over driven, from the spindle side."),
    "gear_ratio": Term("number", "ratio", "Leadscrew turns of the train for one turn of the spindle."),
    "cut_lead": _length("lead cut", "The lead that this train cuts."),
    "lead_error_ppm": Term("number", "lead error, ppm", "Error of the lead in millionths of it."),
    "error_over_engagement": _length("error over one diameter", "Error of the lead summed over one diameter."),
    "gear_remark": Term("text", "remark", "Whether the train is exact, its idlers, and whether it can be mounted."),
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
    "tip_kind": Term("text", "tip", "flat or radius: which end of tool the standard's root asks for."),
    "tip_smallest": _length("tip min", "Its smallest width or radius; empty where any sharper tip serves."),
    "tip_largest": _length("tip max", "Its largest width or radius; empty where only the mating thread limits it."),
    "tip_words": Term("text", "from", "What the size is in the standard, and which standard."),
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
    "decision": Term("text", "decision", "accept, undecided or reject."),
    "reading_count": Term("number", "n", "How many readings."),
    "reading_mean": Term("number", "mean", "Mean of the readings."),
    "reading_s": Term("number", "s", "Standard deviation of the readings."),
    "cp": Term("number", "Cp", "Tolerance over six standard deviations; empty where one limit is left out."),
    "cpk": Term("number", "Cpk", "From the mean to the nearer limit, over three standard deviations."),
    "cpk_from": Term("number", "Cpk from", "Low end of the 95 % interval of Cpk."),
    "cpk_to": Term("number", "Cpk to", "High end of the 95 % interval of Cpk."),
    "cp_from": Term("number", "Cp from", "Low end of the 95 % interval of Cp."),
    "cp_to": Term("number", "Cp to", "High end of the 95 % interval of Cp."),
    "capability_remark": Term(
        "text", "remark", "One limit alone, trend, lack of stability, too few readings; empty where none was found."
    ),
    "length_at_20": Term("number", "length at 20 °C", "The length that the part has at 20 degrees Celsius."),
    "study_source": Term("text", "source", "Source of the spread."),
    "by_average_range": Term("number", "average and range", "Standard deviation by average and range."),
    "average_range_percent": Term("number", "% of TV", "The same in per cent of the total."),
    "by_anova": Term("number", "ANOVA", "Standard deviation by analysis of variance."),
    "anova_percent": Term("number", "% of TV, ANOVA", "The same in per cent of the total."),
    "anova_from": Term("number", "ANOVA from", "Low end of the 90 % interval."),
    "anova_to": Term("number", "ANOVA to", "High end of the 90 % interval."),
    "study_remark": Term("text", "remark", "What to think of it."),
    "budget_source": Term("text", "source", "Source of the uncertainty."),
    "standard_uncertainty": _length("standard uncertainty", "Standard uncertainty of a length."),
    "standard_degrees": Term(
        "number", "standard uncertainty, degrees", "Standard uncertainty of a temperature or an angle."
    ),
    "sensitivity": Term("number", "sensitivity or k", "How much of it is in the pitch diameter; in the last row k."),
    "sensitivity_per_degree": _length("sensitivity per degree", "Change of the pitch diameter for a degree."),
    "contribution": _length("contribution", "Standard uncertainty of the pitch diameter by this source."),
    "degrees_of_freedom": Term("number", "degrees of freedom", "How well the uncertainty is known; empty: infinite."),
    "code_letter": Term("text", "code letter", "Sample size code letter."),
    "sample_size": Term("number", "n", "How many parts to inspect."),
    "accept_number": Term("number", "Ac", "Accept the lot with up to so many nonconforming."),
    "reject_number": Term("number", "Re", "Reject the lot from so many nonconforming."),
    "sample_remark": Term("text", "remark", "Inspect all, or where the arrow leads."),
    "inspection_next": Term("text", "inspection", "normal, tightened, reduced or discontinue: for the next lot."),
    "switching_remark": Term("text", "because", "The rule that changed it last; empty where none did."),
    # the price
    "length": _length("thread length", "Length of full thread to cut."),
    "rpm": Term("size", "rpm", "Turns of the spindle a minute while threading."),
    "approach": Term("signed length", "approach", "Run of the tool before the thread begins. Left out: none."),
    "overrun": Term("signed length", "overrun", "Run of the tool past the end of the thread. Left out: none."),
    "return_seconds": Term(
        "amount", "return, seconds", "By hand at each pass: back to the start, setting the dial. Left out: none."
    ),
    "power_return": Term(
        "choice",
        "power return",
        "yes: half-nuts stay shut, back under power. no, or left out: wound back.",
        ("yes", "no"),
    ),
    "quantity": Term("size", "quantity", "How many good pieces are ordered."),
    "part_length": Term("size", "part length", "Length of the finished piece; all lengths of stock in one unit, any."),
    "facing": Term("amount", "facing", "What is faced off a piece, both ends together; 0 where nothing is."),
    "part_off": Term("amount", "part-off", "Width of the parting tool or saw; 0 where nothing is lost."),
    "bar_length": Term("size", "bar length", "Length of a bar as bought."),
    "stub": Term("amount", "bar stub", "End of each bar that the chuck holds and that makes no piece; 0 for none."),
    "scrap": Term("share", "scrap", "Share of the pieces made that will be scrap, as 5 % or 0.05; 0 for none."),
    "part_size": Term(
        "size", "part size", "Largest diameter of the part, or its size across flats if it is a hexagon."
    ),
    "part_shape": Term("choice", "part shape", "round, or hexagon.", ("round", "hexagon")),
    "rounds": Term("numbers", "round bars", "Diameters of the round bars that the shop can have."),
    "hexagons": Term("numbers", "hexagon bars", "Sizes across flats of the hexagon bars that the shop can have."),
    "quantities": Term("numbers", "quantities", "Quantities to price: a range, or a text such as 10 25 100."),
    "setup_minutes": Term("amount", "setup minutes", "Minutes to set up the job, once."),
    "machine_minutes": Term("amount", "machine minutes", "Minutes a piece while the machine cuts: turning, threading."),
    "hand_minutes": Term("amount", "hand minutes", "Minutes a piece by hand: loading, handling, gauging."),
    "rate": Term("amount", "rate an hour", "What an hour of machine and operator costs, in the shop's money."),
    "bar_price": Term("amount", "price of a bar", "What one bar costs."),
    "per_bar": Term("size", "pieces a bar", "Whole pieces that one bar makes."),
    "overhead": Term("surcharge", "overhead", "Overhead as a share of labour, as 50 % or 0.5; 0 for none."),
    "margin": Term("share", "margin", "Profit as a share of the price. Give this or markup."),
    "markup": Term("surcharge", "markup", "Profit as a share of the cost. Give this or margin."),
    "tooling": Term("amount", "tooling", "Tools for the job. Left out: none."),
    "gauges": Term("amount", "gauges", "Gauges bought or hired for the job. Left out: none."),
    "outside": Term("amount", "outside work", "Outside work a piece made, as plating. Left out: none."),
    "learning": Term("portion", "learning", "Wright's rule: average hand time at twice the quantity. Left out: none."),
    "rest": Term("share", "time allowance", "Personal needs, fatigue, delay: share of the run. Left out: none."),
    "check": Term("amount", "check minutes", "Minutes to check one piece. Left out: none."),
    "every": Term("count", "check every", "The first piece and every nth are checked. Left out: every piece."),
    "gauged": Term(
        "portion", "share gauged", "Share of the pieces made that is checked, 100 % at most. Or give every."
    ),
    "minimum": Term("amount", "minimum charge", "The shop's least price of the line. Left out: none."),
    "thread_minutes": Term("number", "threading, minutes", "Minutes of threading for one piece."),
    "make": Term("number", "make", "Pieces to make so that the good ones reach the quantity."),
    "bars": Term("number", "bars", "Whole bars to buy."),
    "on_last_bar": Term("number", "on the last bar", "Pieces that the last bar makes."),
    "length_used": Term("number", "length used", "Length of bar in pieces, facing and part-off."),
    "length_left": Term("number", "length left", "What is left of the last bar, its stub not counted."),
    "stock_remark": Term("text", "last bar", "What the last bar makes, and how many fewer pieces would save it."),
    "bar_shape": Term("text", "bar", "round or hexagon."),
    "bar_size": Term("number", "size", "Diameter, or size across flats."),
    "across_corners": Term("number", "across corners", "Across the corners of a hexagon bar; empty for a round."),
    "bar_area": Term("number", "section", "Area of the section; times length and density it is the weight."),
    "bar_cut_away": Term("number", "share cut away", "Share of the section that is cut away around the part."),
    "job_minutes": Term("number", "minutes", "Minutes of the whole job, setup included."),
    "labour": Term("number", "labour", "Minutes at the rate."),
    "material_cost": Term("number", "material, whole bars", "Bars at their price."),
    "material_by_length": Term("number", "material, by length used", "The share of the bars that the pieces use up."),
    "overhead_cost": Term("number", "overhead", "Overhead on labour, in money."),
    "cost": Term("number", "cost", "All lines together."),
    "price": Term("number", "price", "Cost with margin or markup, or the minimum charge where that is more."),
    "unit_price": Term("number", "price each", "Price over the quantity ordered."),
}
