"""What the sheet Diagnosis says of a taper thread where that differs: a cone is no fault there, a wrong one is."""

from __future__ import annotations

from workbook_template.figures.notation import fixed, length, say, the, when
from workbook_template.figures.tree import Node
from workbook_template.sheets.taper_figures import when_taper
from workbook_template.sheets.threads_table import INSIDE as INSIDE_THREAD


def _growth() -> Node:
    """What a reading must change by between two places."""
    step = when(the.unit_text.same("mm"), 1, 0.1)
    change = fixed(the.taper_lean * the.own_taper * step, the.decimals + 1)
    return say(
        "By the standard it ", when(INSIDE_THREAD, "falls ", "grows "), change, " for each ", step, " ", the.unit_text,
        " from the ", the.taper_from, ".",
    )  # fmt: skip


FIGURES = {
    "growth": when_taper(_growth()),
    "turn": when_taper(say(" (", length(the.pitch), ")")),
    "either_way": when_taper(say(the.own_gauge_turns)),
}
"""What stands in the sentences in braces, beside those of `diagnosis.FIGURES`."""

OUTSIDE = {
    "ring": (
        "Wires read inside, but the ring stands out too far",
        (
            "1 Burr, or no chamfer at the start: deburr, chamfer to below the root.  2 {crest_name}{crest_limit}.  3 "
            "Root too high: tip worn or too blunt{blunt}.  4 Flank angle off or thread leaning: tool square to the "
            "axis, not to the cone?  5 Were the wires where the sheet has them? Measure the place from the small end. "
            " 6 Taper not the standard's: compare two readings, see below."
        ),
    ),
    "binds": (
        "Ring starts, then binds or rocks",
        (
            "1 Burr or chip in the thread.  2 Taper not the standard's: compare two readings, see below.  3 Lead: "
            "check levers and gears tooth by tooth; measure over several turns{ten}.  4 Lobed: read in two directions."
        ),
    ),
    "passes": (
        "Wires read inside, but the ring goes on too far",
        (
            "1 Were the wires where the sheet has them? Was the end faced or chamfered since?  2 Out of round: read "
            "around the part.  3 Wires or anvils dirty, micrometer zero.  4 Gauge and micrometer in date?"
        ),
    ),
    "taper": (
        "Two readings at two places",
        (
            "{growth}  1 More than that: attachment or set-over too much; less: too little. Correct it, prove it on a "
            "blank with an indicator.  2 Play of the attachment not taken up before the tool cuts.  3 The work bends "
            "away: lighter passes.  Log compares the stations of a part so, with their places."
        ),
    ),
    "past": (
        "Reading past the low limit, or more turns off than {either_way}",
        (
            "1 Clean thread, wires, anvils; check the micrometer zero; let the part cool; measure again.  2 Ring on "
            "too far: facing a turn{turn} off the end brings it a turn out, where drawing and length of thread allow. "
            "If not: mark the part, set it aside, log it.  3 Before the next part find out why: dial, tip size, blank."
        ),
    ),
}
"""By the key of `diagnosis.ROWS`: what is seen, what to check."""

INSIDE = {
    "ring": (
        "Plug does not come to its notch",
        (
            "1 Burr, or no chamfer at the mouth: deburr, chamfer to over the root.  2 Not deep enough yet: one "
            "division more, try again.  3 {crest_name}{crest_limit}.  4 Root too shallow: tip worn or too "
            "blunt{blunt}.  5 Flank angle off or thread leaning: tool square to the axis, on centre height?"
        ),
    ),
    "binds": (
        "Plug starts, then binds or rocks",
        (
            "1 Chips in the thread.  2 Binds at the mouth, free further in: taper too little; the other way round: too "
            "much, or the bar bends away.  3 Lead: check levers and gears tooth by tooth; measure over several "
            "turns{ten}.  4 Thin wall squeezed by the chuck."
        ),
    ),
    "passes": (
        "Plug goes in past its notch",
        (
            "1 Mouth belled: by a worn or sprung bar, by filing; a chamfer is gauged from where it meets the thread.  "
            "2 How many turns the standard or drawing allows: {either_way} either way.  3 Gauge in date?"
        ),
    ),
    "taper": (
        "Two bores at two depths",
        (
            "{growth}  1 More or less than that: attachment set too much or too little; prove it with an indicator in "
            "the bore.  2 Its play not taken up before the tool cuts.  3 The bar bends away: passes without infeed."
        ),
    ),
    "past": (
        "Plug deeper than the turns allow",
        (
            "1 Clean thread and plug; let the part cool; try again.  2 If it stays, more cutting can't mend it. Facing "
            "a turn{turn} off the face brings the plug a turn out, where drawing and length of thread allow. If not: "
            "mark the part, set it aside, log it.  3 Before the next part find out why: dial, tip size, bore, aim."
        ),
    ),
}
"""The same inside."""
