"""What the lathe is geared for, how fast the carriage then runs, and how long the run-out gives the hand.

The arithmetic is that of sheetfuncs.gears.gear_for and sheetfuncs.lathe.carriage_speed: a gearbox knows threads of one
start, so it is set for the lead; the carriage runs rpm times lead in a minute, and one turn takes 60 / rpm seconds.
"""

from __future__ import annotations

from sheetfuncs.estimating import NOISE
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, first, fixed, given, known, length, no, node, say, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.sheets.inputs import LENGTH, believed
from workbook_template.sheets.threads_table import CHOSEN


def _per_inch(starts: Node | int) -> Node:
    """Threads per inch over the starts as a whole number and a fraction, 5 1/3; a decimal where they are no halves."""
    halves, bottom = xl.ROUND(2 * the.row_threads_per_inch, 0), node(2) * starts
    common, full = xl.GCD(halves, bottom), xl.INT(halves / bottom)
    left = (halves - full * bottom) / common
    fraction = say(
        when(halves >= bottom, full), when(all_of(halves >= bottom, left > 0), " "),
        when(left > 0, say(left, "/", bottom / common)),
    )  # fmt: skip
    return when(_ODD, xl.ROUND(the.row_threads_per_inch / starts, 4), fraction)


_ODD = xl.ABS(2 * the.row_threads_per_inch - xl.ROUND(2 * the.row_threads_per_inch, 0)) > 0.0001


def gear_words() -> Node:
    """What to gear for: the lead, and with several starts not the pitch."""
    starts = the.starts
    several = starts > 1
    next_one = say(" ", starts, " starts, each ", xl.ROUND(360 / starts, 2), " degrees of the work on.")
    metric = say(
        "Gear for a lead of ", fixed(starts * the.own_pitch, 3), " mm",
        when(several, say(", not ", fixed(the.own_pitch, 3))), ".",
    )  # fmt: skip
    by_inch = say(
        "Gear for ", _per_inch(starts), " threads per inch", when(several, say(", not ", _per_inch(1))), ", lead ",
        length(the.lead), " ", the.unit_text, ".",
    )  # fmt: skip
    words = when(all_of(the.own_unit.same("mm"), _ODD), metric, by_inch)
    return when(CHOSEN, say(words, when(several, next_one)))


INCH_IN_UNIT = when(the.unit_text.same("mm"), 25, 1)
"""About so far a scratch pass is measured: one inch, 25 mm."""


def _scratch_turns() -> Node:
    """Turns in about an inch, or in the thread where that is shorter; one at least."""
    there = when(believed(LENGTH, the.thread_length), xl.INT(the.thread_length / the.lead + NOISE), 1000000)
    return when(known(the.lead), xl.MAX(1, xl.MIN(xl.ROUND(INCH_IN_UNIT / the.lead, 0), there)))


def _turns(of_several: str) -> Node:
    one = the.scratch_turns.same(1)
    turns = when(one, f" turn{of_several}", f" turns{of_several}")
    return say(the.scratch_turns, when(the.starts > 1, turns, when(one, " thread", " threads")))


def scratch_words(exists: Node) -> Node:
    """The check of the gears by a scratch pass; of a thread that `exists`, which it would mark, in the air."""
    told = say(
        when(exists, "First along the groove, tool clear of it", "First a scratch pass, spindle stopped to measure"),
        ": ",
        _turns(" of one start"), " = ",
        length(the.scratch_length), " ", the.unit_text, ".",
    )  # fmt: skip
    return when(known(the.scratch_length), told)


def scratch_tick() -> Figure:
    """The same in short, beside a box on the card."""
    told = say("pitch: ", _turns(""), " = ", length(the.scratch_length))
    figure = when(known(the.scratch_length), told, "pitch, by a scratch pass")
    return Figure("card_scratch", "the check of the pitch by a scratch pass", figure)


def of_runout() -> Node:
    """The seconds that the run-out gives the hand; nothing where no speed is known."""
    over = say(
        ", ", fixed(the.runout_seconds, 2), " s over the relief of ", length(the.usable_relief), " ", the.unit_text
    )
    relief = when(known(the.runout_seconds), over, "; no relief is typed on Lathe")
    told = say("Time for the hand: ", fixed(the.turn_seconds, 2), " s a turn of run-out", relief, ".")
    return when(known(the.turn_seconds), told)


def _words() -> Node:
    """Speed of the carriage and seconds of the run-out in a sentence each."""
    runs = say(
        the.rpm_listed, " rpm: the carriage runs ", fixed(the.carriage_speed, when(the.unit_text.same("mm"), 0, 1)),
        " ", the.unit_text, "/min. ", of_runout(),
    )  # fmt: skip
    none = "No speed of the carriage: give cutting speed and lathe on the sheet Lathe."
    return first((no(CHOSEN), ""), (known(the.carriage_speed), runs), otherwise=none)


WORKING = (
    Figure("scratch_turns", "turns over which a scratch pass is measured", _scratch_turns(), "count"),
    Figure("scratch_length", "what they measure along the part",
           when(known(the.scratch_turns), the.scratch_turns * the.lead), "length"),
    Figure("carriage_speed", "how far the carriage runs in a minute at the listed speed",
           when(all_of(known(the.rpm_listed), known(the.lead)), the.rpm_listed * the.lead), "length"),
    Figure("turn_seconds", "seconds that one turn takes, one thread of run-out with one start",
           when(known(the.carriage_speed), 60 / the.rpm_listed), "0.00"),
    Figure("runout_seconds", "seconds in which the carriage passes the usable relief",
           when(all_of(known(the.carriage_speed), believed(LENGTH, the.usable_relief)),
                the.usable_relief * 60 / the.carriage_speed), "0.00"),
)  # fmt: skip
WORDS = Figure("carriage_speed_words", "speed of the carriage, and how long the run-out gives the hand", _words())
"""Shown on Setup."""


def on_card() -> tuple[Figure, Figure]:
    """Head and figure for the card: the speed of the carriage, a dash where no speed is known."""
    runs = when(known(the.carriage_speed), the.carriage_speed, when(CHOSEN, "–"))
    figure = Figure("card_carriage", "speed of the carriage, a dash where no speed is known", runs, "0.0")
    head = say("Carriage", when(given(the.unit_text), say(", ", the.unit_text, "/min")))
    return Figure("card_carriage_head", "head of the carriage's speed, with its unit", head), figure
