"""The thread dial of a lathe: the rule of sheetfuncs.lathe.dial with the lead error of the gearing in use.

Its words are those of the function but for the chuck, which the sheet knows.
"""

from __future__ import annotations

from sheetfuncs.lathe import BESIDE, SLIP
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    Numbered,
    all_of,
    any_of,
    first,
    known,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets.inputs import LEAST, believed, filled, left_empty
from workbook_template.sheets.lathe_inputs import DIAL_TEETH, LINES
from workbook_template.sheets.lathe_terms import GEARS, most, whole

DRIFT = BESIDE / SLIP
"""What a thread of the leadscrew may be off a whole number of pitches."""
DENOMINATORS = 720720
"""The least number that every denominator up to 16 divides."""
LARGEST_DENOMINATOR = 16
NO_DIAL = "no thread dial is given: keep the half-nuts shut and reverse under power"
DIAL_WRONG = (
    "correct the thread dial on the sheet Lathe: its lines, and the teeth of each of its gears in a cell of its own, "
    "whole numbers; until then keep the half-nuts shut and reverse under power"
)
NOUN = when(the.starts > 1, "lead", "thread")


def figures(my: Numbered) -> tuple[Figure, ...]:
    """The figures behind the dial of one lathe."""
    lead = when(known(my.cut_lead), when(my.cut_lead > float(LEAST), my.cut_lead, the.job_lead_mm), the.job_lead_mm)
    parts = my.dial_turn * DENOMINATORS
    whole_parts = xl.ROUND(parts, 0)
    bottom = when(xl.ABS(parts - whole_parts) < 0.001, DENOMINATORS / xl.GCD(DENOMINATORS, whole_parts), 1000)
    apart = when(my.dial_best > 0, my.dial_lines / my.dial_best, 0)
    return (
        Figure("thread_in_screw", "leads in one thread of the leadscrew, as really cut where the gears are known",
               when(all_of(known(the.job_lead_mm), known(my.lathe_leadscrew_mm)), my.lathe_leadscrew_mm / lead)),
        *(Figure(f"dial_turn_{x}", f"leads of the job in one turn of the dial, gear {x}", _turn(my, x)) for x in GEARS),
        *(Figure(f"dial_open_{x}", f"legal lines of the dial, gear {x}; 0 for none", _open(my, x)) for x in GEARS),
        Figure("dial_wrong", "whether the dial is given without its lines, or not in whole numbers", _wrong(my)),
        Figure("dial_best", "legal lines with the gear of the dial that gives most",
               when(my.dial_wrong, "", most(*(my[f"dial_open_{x}"] for x in GEARS)))),
        Figure("dial_gear", "teeth of that gear", _of_best(my, "dial")),
        Figure("dial_turn", "leads of the job in one turn of the dial with it", _of_best(my, "dial_turn")),
        Figure("dial_bottom", "denominator of that number of leads", when(known(my.dial_turn), bottom)),
        Figure("dial_apart", "lines from one legal line to the next", when(known(my.dial_best), apart)),
        Figure("dial_span", "what lies between two legal lines, in words",
               when(known(my.dial_apart), _counted(my.dial_turn * my.dial_apart / my.dial_lines))),
        Figure("lathe_half_nuts", "whether the half-nuts may be opened", _half_nuts(my)),
    )  # fmt: skip


def _wrong(my: Numbered) -> Node:
    """Whether gears are typed without the lines of the dial, or something that is no number of lines or of teeth."""
    gears, lines = [my[f"dial_{x}"] for x in GEARS], my.dial_lines
    without_lines = all_of(any_of(*map(filled, gears)), left_empty(lines))
    checked = ((LINES, lines), *((DIAL_TEETH, gear) for gear in gears))
    return any_of(without_lines, *(all_of(filled(typed), no(believed(check, typed))) for check, typed in checked))


def _turn(my: Numbered, gear: str) -> Node:
    teeth = my[f"dial_{gear}"]
    return when(
        all_of(known(my.thread_in_screw), believed(DIAL_TEETH, teeth), believed(LINES, my.dial_lines)),
        teeth * my.thread_in_screw,
    )


def _open(my: Numbered, gear: str) -> Node:
    teeth, turn = my[f"dial_{gear}"], my[f"dial_turn_{gear}"]
    lines = xl.GCD(xl.INT(my.dial_lines), xl.ROUND(turn, 0), xl.INT(teeth))
    return when(known(turn), when(whole(turn, teeth * DRIFT / the.starts), lines, 0))


def _of_best(my: Numbered, name: str) -> Node:
    """What belongs to the first gear of the dial that gives most lines."""
    cases = ((my[f"dial_open_{gear}"].same(my.dial_best), my[f"{name}_{gear}"]) for gear in GEARS)
    return when(known(my.dial_best), first(*cases))


def _each_thread(my: Numbered) -> Node:
    """Whether each thread of the leadscrew is a whole number of leads."""
    return whole(my.thread_in_screw, DRIFT / the.starts)


def _half_nuts(my: Numbered) -> Node:
    return first(
        (my.lathe_fault.differs(""), ""),
        (my.another_lead, ""),
        (_each_thread(my), True),
        otherwise=when(known(my.dial_best), my.dial_best > 0, False),
    )


def words(my: Numbered) -> Node:
    """Which lines of the dial are legal."""
    gears = xl.COUNT(*(my[f"dial_{gear}"] for gear in GEARS))
    gear = when(gears > 1, say("with the ", my.dial_gear, " tooth gear "))
    each = say("close the half-nuts anywhere: each thread of the leadscrew is ", _counted(my.thread_in_screw))
    return first(
        (my.lathe_fault.differs(""), my.lathe_fault),
        (my.another_lead, "these gears cut another lead: first set gears for this one"),
        (_each_thread(my), say(each, _really(my))),
        (my.dial_wrong, DIAL_WRONG),
        (no(known(my.dial_best)), NO_DIAL),
        (my.dial_best.same(0), _shut(my)),
        otherwise=say(gear, "close the half-nuts ", _lines(my), _really(my)),
    )


def _lines(my: Numbered) -> Node:
    apart, span = my.dial_apart, my.dial_span
    nth = say(apart, first((apart.same(2), "nd"), (apart.same(3), "rd"), otherwise="th"))
    lines = say("(", my.dial_best, " lines of the ", my.dial_lines, "): ", apart, " lines are ", span)
    began = "at the line you began on"
    return first(
        (apart.same(1), say("at any line: from line to line is ", span)),
        (apart.same(my.dial_lines), say(began, " only: one turn of the dial is ", span)),
        ((2 * apart).same(my.dial_lines), say(began, " or the one opposite: half a turn is ", span)),
        otherwise=say(began, " or every ", nth, " from it ", lines),
    )


def _really(my: Numbered) -> Node:
    error = my.lathe_lead_error_ppm
    no_gears = "; that is with exact gears, and none are given"
    return when(known(error), when(error.same(0), "", " as really cut"), no_gears)


def _shut(my: Numbered) -> Node:
    inexact = when(known(my.lathe_lead_error_ppm), my.lathe_lead_error_ppm.differs(0), False)
    turn = say("one turn of the dial is ", _turn_words(my, inexact), " ", NOUN, "s")
    really = " as really cut, so no line brings the tool back into its groove"
    return say(
        "keep the half-nuts shut and reverse under power: ",
        when(inexact, "the gears are not exact, "),
        turn,
        when(inexact, really, say(", so no line comes round to the same ", NOUN)),
    )


def _turn_words(my: Numbered, inexact: Node) -> Node:
    """Leads in one turn as a whole number and a fraction, or as a decimal."""
    turn, bottom = my.dial_turn, my.dial_bottom
    full, nearest, rounded = xl.INT(turn), xl.ROUND(turn, 0), xl.ROUND(turn, 4)
    fraction = say(when(turn < 1, "", say(full, " ")), xl.ROUND((turn - full) * bottom, 0), "/", bottom)
    return first(
        (all_of(bottom <= LARGEST_DENOMINATOR, no(inexact)), fraction),
        (rounded.same(nearest), say("not quite ", nearest)),
        otherwise=xl.SUBSTITUTE(rounded & "", ",", "."),
    )


def _counted(value: Node) -> Node:
    """So many threads, or leads of a thread of several starts."""
    number = xl.ROUND(value, 0)
    return say(number, " ", NOUN, when(number.same(1), "", "s"))
