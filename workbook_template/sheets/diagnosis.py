"""The sheet Diagnosis: what the readings say, and what to check in which order."""

from __future__ import annotations

import re

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, at_most, fixed, known, say, the, when
from workbook_template.figures.tree import Node
from workbook_template.sheets import cautions, taper_diagnosis
from workbook_template.sheets.layout import CALLOUT, Line, Made, Sheet, block, line, shown, stack, words
from workbook_template.sheets.threads_table import CHOSEN
from workbook_template.sheets.threads_table import INSIDE as INSIDE_THREAD

SHEET = "Diagnosis"


def _length(part: Node) -> Node:
    return fixed(part, the.decimals)


FIGURES = {
    "fall": when(
        known(the.feed_fall),
        say("One division should change it by ", _length(the.feed_fall), " ", the.unit_text, "."),
        "It should change by twice the infeed on the radius.",
    ),
    "crest": when(
        known(the.reading_crest),
        say("over ", _length(the.reading_crest), " ", the.unit_text, " they do, feed on by the plan"),
        "they do until the groove is wide enough",
    ),
    "blunt": when(
        all_of(known(the.depth), the.tip_shortening > 0),
        say(" (at most ", at_most(the.tip_room / the.tip_shortening * the.tip_size), " ", the.unit_text, " here)"),
    ),
    "clear": when(known(the.clearance_leading), say(" (", fixed(the.clearance_leading, 1), " degrees or more)")),
    "ten": when(known(the.lead), say(", ten turns are ", _length(10 * the.lead), " ", the.unit_text)),
    "crest_name": when(INSIDE_THREAD, "Bore under its limit", "Major diameter over its limit"),
    "crest_limit": when(
        all_of(known(the.crest_max), known(the.thread_row)),
        say(
            " (",
            _length(when(INSIDE_THREAD, the.crest_min, the.crest_max) + the.taper_rise),
            when(known(the.taper_place), say(" at ", _length(the.taper_place))),
            ")",
        ),
    ),
    **taper_diagnosis.FIGURES,
}
"""What stands in the sentences in braces: texts made of the figures in use."""

ROWS = (
    (
        "ring",
        "Wires read inside, but the GO ring will not start",
        (
            "1 Burr, or no chamfer at the start: deburr, chamfer to below the root.  2 {crest_name}{crest_limit}.  3 "
            "Root too high: tip worn or too blunt{blunt}.  4 Flank angle off or thread leaning: tool ground to the "
            "gauge, square to the axis, on centre height?  5 Wrong wires, or a wrong figure for them: look at their "
            "certificate.  6 Lead: does it bind after a turn or two? See the next line."
        ),
    ),
    (
        "binds",
        "Ring starts, then binds after a few turns",
        (
            "1 Burr or chip in the thread.  2 Taper: read over wires at both ends.  3 Lead: check levers and gears "
            "tooth by tooth; measure over several turns{ten}.  4 Part bent or lobed: read in two directions."
        ),
    ),
    (
        "passes",
        "Wires read inside, but NOT GO goes on",
        (
            "1 Measure where the gauge goes on: taper, or the first turns cut small.  2 Out of round: read around "
            "the part.  3 Wires or anvils dirty, micrometer zero.  4 Gauge and micrometer in date?"
        ),
    ),
    (
        "crest",
        "Reading hardly changes while feeding",
        (
            "1 Wires still lie on the crests: {crest}.  2 Wire too large for this pitch.  3 Burr on the crests lifts "
            "the wires.  4 Play of the compound not taken up, or its lock is on.  5 Tool or work gives way: sharpen, "
            "shorten the overhang, take a pass without infeed."
        ),
    ),
    (
        "amount",
        "Reading changes by more or less than fed",
        (
            "{fall}  1 Compound angle set from the other zero of its scale?  2 Does the dial read radius or "
            "diameter, and what is one division?  3 Play not taken up.  4 Work or tool springs: one pass without "
            "infeed, read again."
        ),
    ),
    (
        "taper",
        "Reading differs along the length",
        (
            "1 Larger at the free end: the work bends away; support it, lighter passes, a pass without infeed.  2 "
            "Changes evenly between centres: tailstock set over; try an indicator along a test bar.  3 Grows with "
            "the length cut: the tool wears.  4 Was the blank itself tapered?  5 Headstock or bed out of line."
        ),
    ),
    (
        "round",
        "Reading differs around the part",
        (
            "1 Centre, dog or chuck jaw loose or worn.  2 Thin wall squeezed by the chuck: ease it, read again.  3 "
            "Spindle bearings.  4 Three-lobed work can read even over wires: try a ring or plug gauge."
        ),
    ),
    (
        "double",
        "A second groove appears, or one flank is cut away",
        (
            "Stop, do not cut on.  1 Half-nuts closed at a wrong line.  2 Tool moved or reground: draw the tool clear "
            "of the work, look that the way is free and nobody reaches in. Close the half-nuts, run forward slowly to "
            "take up the play, stop; with the spindle at rest bring the tip into the groove with compound and "
            "cross-slide.  3 Dog, gear or work slipped (power off and locked before gears are handled)."
        ),
    ),
    (
        "rough",
        "Flanks torn or rough",
        (
            "1 Tool dull or built up.  2 Too little side clearance on the side that leads{clear}.  3 Both edges cut "
            "full: swing the compound.  4 Infeed of a pass too large, or so small that it rubs.  5 Cutting oil, "
            "speed.  6 Tool off centre height."
        ),
    ),
    (
        "steps",
        "Steps on the flank that trails",
        (
            "1 Compound angle more than the flank: set half a degree less.  2 Cross-slide not back to its zero each "
            "pass.  3 Slides loose: adjust the gibs.  4 A last light pass straight in with the cross-slide cleans "
            "both flanks."
        ),
    ),
    (
        "past",
        "Reading past the low limit; in a bore, NOT GO goes in",
        (
            "1 Clean thread, wires, anvils; check the micrometer zero; let the part cool; measure again.  2 If it "
            "stays, more cutting can't mend it: mark the part, set it aside, log it.  3 Before the next part find "
            "out why: dial, tip size, blank, aim."
        ),
    ),
)
"""Key, what is seen, what to check with figures in braces."""

INSIDE = {
    "ring": (
        "GO plug will not start",
        (
            "1 Burr, or no chamfer at the mouth: deburr, chamfer to over the root.  2 Not deep enough yet: one "
            "division more, try again.  3 {crest_name}{crest_limit}.  4 Root too shallow: tip worn or too "
            "blunt{blunt}.  5 Flank angle off or thread leaning: tool ground to the gauge, square to the axis, on "
            "centre height?"
        ),
    ),
    "binds": (
        "GO plug starts, then binds after a few turns",
        (
            "1 Chips in the thread.  2 The bar bends away, so that it is smaller further in: passes without infeed.  "
            "3 Lead: check levers and gears tooth by tooth; measure over several turns{ten}.  4 Thin wall squeezed by "
            "the chuck."
        ),
    ),
    "passes": (
        "NOT GO plug goes in a turn or two",
        (
            "1 Mouth belled: by a worn or sprung bar, by the chamfer, by filing.  2 How many turns the standard or "
            "drawing allows, the rule on the sheet Uncertainty says.  3 Gauge in date?"
        ),
    ),
    "crest": (
        "Plug comes no further while feeding",
        (
            "1 Play of the compound not taken up, or its lock is on; in a bore the tool is fed toward you.  2 The bar "
            "gives way: sharpen, shorten the overhang, take passes without infeed.  3 Bar or heel of the tool rubs in "
            "the bore."
        ),
    ),
    "amount": (
        "Thread grows by more or less than fed",
        (
            "{fall}  1 Compound angle set from the other zero of its scale?  2 Does the dial read radius or diameter, "
            "and what is one division?  3 Play not taken up.  4 Bar springs: passes without infeed, try again."
        ),
    ),
    "taper": (
        "Plug is tighter further in, or at the mouth",
        (
            "1 Tighter further in: the bar bends away; lighter passes, passes without infeed.  2 Tighter at the mouth: "
            "burr, or the bore is tapered.  3 Grows with the length cut: the tool wears.  4 Headstock out of line."
        ),
    ),
}
"""What is otherwise in a bore, where there are no wires: key, what is seen, what to check."""

NOTE = (
    "The checks stand in the order that costs least: clean and look, then gauges, then tool, then machine; with the "
    "spindle stopped. Workshop practice, but for what follows from the geometry: crests, change by a division, blunt "
    "tips."
)


def sentence(text: str) -> Node:
    """A sentence with figures in braces as a formula that joins texts.

    >>> from workbook_template.figures.text import text
    >>> text(sentence("{crest_name}."))
    'IF(thread_side="internal","Bore under its limit","Major diameter over its limit")&"."'
    """
    parts = re.split(r"\{(\w+)\}", text)
    return say(*(FIGURES[part] if number % 2 else part for number, part in enumerate(parts) if part))


SEEN_LETTERS, CHECK_LETTERS = 21, 82
"""Letters that a line of what is seen, and of what to check, has room for."""
SEEN_LINE, CHECK_LINE, ROUND = 13.5, 10.5, 4.5
"""Heights of their lines, and what a row has around them."""


def _row(key: str, seen: str, checks: str) -> Line:
    inside = INSIDE.get(key, (seen, checks))
    outside_taper = taper_diagnosis.OUTSIDE.get(key, (seen, checks))
    inside_taper = taper_diagnosis.INSIDE.get(key, inside)
    told_of = ((seen, checks), inside, outside_taper, inside_taper)

    def by_side(outer: str, inner: str) -> Node:
        return when(INSIDE_THREAD, sentence(inner), sentence(outer)) if inner != outer else sentence(outer)

    def told(name: str, meaning: str, part: int) -> Figure:
        outer, inner, outer_taper, inner_taper = (texts[part] for texts in told_of)
        formula = by_side(outer, inner)
        if (outer_taper, inner_taper) != (outer, inner):
            formula = when(the.tapered, by_side(outer_taper, inner_taper), formula)
        return Figure(name, meaning, formula)

    rooms = (SEEN_LETTERS, SEEN_LINE), (CHECK_LETTERS, CHECK_LINE)
    high = max(-(-len(text) // letters) * each for texts in told_of for text, (letters, each) in zip(texts, rooms))
    return line(
        shown(3, told(f"check_{key}_seen", "what is seen", 0), "row_bold_words"),
        shown(9, told(f"check_{key}_words", f"what to check: {seen.lower()}", 1), "row_note"),
        height=high + ROUND,
    )


def sheet(_: Made) -> Sheet:
    """One page, to be hung up by the lathe; what to check is in small type for that."""
    left_hand = Figure("left_hand_diagnosis", "words for a left-hand thread", the.left_hand_words & "")
    told = say("What the readings say", when(CHOSEN, say(": ", the.callout)))
    title = Figure("callout_diagnosis", "title with the thread", told)
    heads = line(words(3, "What you see", "column_head_left"), words(9, "Check in this order", "column_head_left"))
    page = stack(
        block(None, line(shown(12, left_hand, "left_hand"), height=CALLOUT)),
        block(None, line(shown(12, title, "thread"), height=CALLOUT)),
        block(None, heads, *(_row(*row) for row in ROWS)),
        block(None, line(words(12, NOTE, "note_9"), height=CALLOUT)),
        cautions.cautions(),
    )
    return Sheet(SHEET, (page,), frozen_lines=2)
