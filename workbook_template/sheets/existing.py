"""A thread that exists and is cut deeper: picked up, then fed by what its reading over wires leaves to the aim.

No blank is turned. What is left on the radius is half of the reading less the reading aimed at
(sheetfuncs.lathe.feed_left at no compound angle), whatever tip is in the post, once it lies on both flanks.
"""

from __future__ import annotations

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    first,
    given,
    known,
    length,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import contact
from workbook_template.sheets.inputs import LENGTH, Input, believed, chosen, misread, one_of
from workbook_template.sheets.threads_table import CHOSEN
from workbook_template.trade import verdict

BITS = verdict.NOISE
"""A length past a limit by less is on it, as a size is that is judged."""

INPUTS = (
    Input("thread_exists", "Thread exists", "the thread is cut already", "text",
          one_of(("yes", "no"), "Choose yes or no."),
          "yes to recut a thread that is there: no blank, the plan starts from its reading. Empty: no.", True),
    Input("existing_reading", "It reads now", "existing thread over the wires", "entry", LENGTH,
          "What the existing thread reads over the wires before the first cut: the smallest of several places, clean.",
          True),
)  # fmt: skip

REPAIR = chosen(the.thread_exists, "yes")
"""Whether the thread is cut already."""


def _fault() -> Node:
    """Why nothing can be fed, in a sentence; nothing where something can, or where the thread is a new one."""
    reading, aimed, lowest = the.existing_reading, the.feed_aim_reading, the.over_wires_min
    return first(
        (no(all_of(CHOSEN, REPAIR)), ""),
        (no(known(the.pitch_diameter_aimed)), "Next: choose what to aim at, max, mid or min."),
        (
            any_of(the.no_wires, the.own_taper > 0),
            say("THREAD EXISTS, internal or taper: pick it up, feed by single divisions, try the gauge after each.",
                when(given(reading), " The reading typed is not used.")),
        ),
        (no(known(the.wire_used)), "Next: choose a wire set or enter the wire in use."),
        (no(known(the.wire_constant)), "Next: name a wire that serves this thread."),
        (blank(reading), "Next: measure the existing thread over the wires and type the reading."),
        (
            no(believed(LENGTH, reading)),
            say("The reading of the existing thread is not a number more than zero.", misread(reading)),
        ),
        (
            contact.nowhere_near(reading),
            "This reading is nowhere near the thread: check its unit, the wires and which thread it is.",
        ),
        (
            reading > the.reading_crest,
            say("Over ", length(the.reading_crest), " the wires lie on the crests: not measured so. Cut it as a new "
                "thread."),
        ),
        (
            reading < verdict.lowest_in(lowest),
            say("STOP: the existing thread is under its low limit by ", length(lowest - reading),
                ": nothing can be fed. Set the part aside."),
        ),
        (
            reading <= verdict.highest_in(aimed),
            say("STOP: the existing thread is at ", the.feed_aim, " or past it: there is nothing left to feed."),
        ),
    )  # fmt: skip


WORKING = (
    Figure("existing_fault", "why nothing can be fed on the existing thread, in a sentence", _fault()),
    Figure("existing_left", "what the existing thread leaves to feed on the radius", when(
        all_of(REPAIR, believed(LENGTH, the.existing_reading), known(the.feed_aim_reading)),
        (the.existing_reading - the.feed_aim_reading) / 2 / the.taper_lean)),
    Figure("existing_depth", "how deep this tip stands in the existing thread", when(
        all_of(known(the.existing_left), known(the.depth_of_sharp), known(the.tip_shortening)),
        the.depth_of_sharp - the.tip_shortening - the.existing_left)),
    Figure("plan_start", "diameter at the tool's tip where the plan starts", when(
        known(the.existing_depth), the.blank_used - 2 * the.outward * the.existing_depth, the.blank_used)),
)  # fmt: skip


def ready() -> Node:
    """What is still to feed, and where to stop."""
    return say(
        "THREAD EXISTS: feed ", length(the.depth), " on the radius, measure every pass: stop before ",
        length(the.over_wires_min), ".",
    )  # fmt: skip


def within_a_division() -> Node:
    """What to do where the dial has no division for what is left: fewer passes are of no use."""
    left = say("Left to feed are ", length(the.existing_left), " on the radius, less than a division of ",
               length(the.dial_used), ": ")  # fmt: skip
    is_in = the.existing_reading <= verdict.highest_in(the.over_wires_max)
    return say(left, when(
        is_in, "the thread is within its limits, leave it; or take a spring pass and measure.",
        "take spring passes, or feed by an indicator on the slide, and measure after each.",
    ))  # fmt: skip


PICK_UP = (
    "Pick it up (shop practice). Work true, chuck key out, power off, spindle free. Half-nuts closed, at a legal line "
    "if they were open; turn the spindle by hand the way it cuts until all play is out, not back. Bring the square tip "
    "into the groove with compound and cross-slide until both flanks touch; set both collars to zero. Back off, turn "
    "by hand over some threads: in the middle all along? First pass clear of the flanks, then "
)
EVERY = "Every pass: tool back, return, cross-slide to zero; then measure."


def each_pass() -> Node:
    """What to do instead of touching a blank."""
    by_plan = when(known(the.depth), "the plan from this zero. ", "single divisions, the gauge after each. ")
    to_next = say("Each start alike; to the next one turn the work ", xl.ROUND(360 / the.starts, 2), " degrees. ")
    return when(CHOSEN, say(PICK_UP, by_plan, when(the.starts > 1, to_next), EVERY))
