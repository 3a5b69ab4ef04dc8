"""The pass plan as formulas: the arithmetic of sheetfuncs.cutting.infeed and sheetfuncs.passes, and its sentences."""

from __future__ import annotations

from sheetfuncs import standards
from sheetfuncs.passes import (
    FIRST_PASS_MM,
    FIRST_PASS_NOSES,
    FIRST_PASS_POINTED_MM,
    FORM_COLUMN,
    HALF_UP,
    LIGHT_FIRST_SHARE,
    USUAL_PASSES,
)
from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    at_most,
    blank,
    first,
    given,
    here,
    joined,
    known,
    length,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Cell, Node
from workbook_template.sheets.existing import BITS, REPAIR, within_a_division
from workbook_template.sheets.inputs import LENGTH, believed, chosen, no_length, none_of
from workbook_template.sheets.threads_table import CHOSEN, UNLIKE

PASSES, SPRINGS = 30, 6

TRAVEL = the.depth / the.angle_cosine
"""What the compound moves for the whole infeed."""

WITH_DIAL = known(the.plan_end)
"""Whether the readings are whole divisions of a dial."""


def _whole_divisions(travel: Node) -> Node:
    return xl.INT(travel / the.dial_used + HALF_UP)


def _end() -> Node:
    """The divisions of the last reading: the nearest, or one fewer where that cuts past the limit of least metal."""
    nearest = _whole_divisions(TRAVEL)
    too_deep = 2 * (nearest * the.dial_used * the.angle_cosine - the.depth) > the.plan_room + BITS
    return nearest - when(known(the.plan_room), when(too_deep, 1, 0), 0)


def _room() -> Node:
    """What the pitch diameter has between the aim and its limit of least metal."""
    least_metal = when(the.outward > 0, the.cut_pitch_diameter_min, the.cut_pitch_diameter_max)
    both = all_of(known(the.pitch_diameter_aimed), known(least_metal))
    return when(both, the.outward * (the.pitch_diameter_aimed - least_metal))


# ---- The sentences


FLATTER = xl.MAX(the.flank_leading, the.flank_trailing)
"""Degrees of the flank along which a slide could be swung farther and cut no steps."""


def _angle_fault() -> Node:
    angle = the.compound_angle
    sign = xl.MID(node(1) / 2 & "", 2, 1)  # the decimal sign of the program that is open
    bare = xl.TRIM(xl.SUBSTITUTE(angle, "°", ""))
    corrected = xl.SUBSTITUTE(xl.SUBSTITUTE(bare, ",", sign), ".", sign)
    with_sign = any_of(*(known(xl.SEARCH(mark, angle)) for mark in (",", ".")))  # VALUE takes 3/4 for a day
    is_number = all_of(with_sign, known(xl.VALUE(corrected)))
    advice = when(is_number, say("type it as ", corrected), "type the degrees as a number alone")
    return first(
        (no(CHOSEN), ""),
        (xl.ISTEXT(angle), say("The compound angle ", angle, " is a text: ", advice, ".")),
        (
            no(known(the.angle_cosine)),
            say("Use a compound angle of 0 (straight in) to ", the.flank_steeper,
                " degrees; ", when(xl.IFERROR(all_of(UNLIKE, angle > 0, angle <= FLATTER), False), say(
                    "more would cut steps into the ", the.flank_steeper, " degree flank, along which the slide runs. "
                    "Swung the other way, along the ", FLATTER, " degree flank, it would not up to ", FLATTER,
                    ", but no passes are planned for that.",
                ), "more would cut a stepped flank.")),
        ),
    )  # fmt: skip


def _fault() -> Node:
    passes, springs, finish, infeed = the.passes, the.plan_spring_passes, the.plan_finishing_pass, the.depth
    a_finish = say("A finishing pass of ", length(finish))
    return first(
        (no(known(infeed)), the.setup_fault),
        (the.angle_fault.differs(""), the.angle_fault),
        (no(known(passes)), say(f"Next: enter the number of passes, 1 to {PASSES}; ", the.usual_words, ".")),
        (
            any_of(passes < 1, passes > PASSES, passes.differs(xl.INT(passes))),
            f"The number of passes is a whole number, 1 to {PASSES}.",
        ),
        (
            any_of(no(known(springs)), springs < 0, springs > SPRINGS),
            f"The number of spring passes is a whole number, 0 to {SPRINGS}.",
        ),
        (
            none_of(the.pass_rule, "equal area", "light first"),
            "Choose the pass rule, equal area or light first.",
        ),
        (no(known(finish)), no_length("The finishing pass", the.finishing_pass, ", or empty")),
        (finish >= infeed, say(a_finish, " does not fit in a depth of ", length(infeed), "; make it smaller.")),
        (
            all_of(finish > 0, passes < 2),
            "One pass can't be roughing and finishing; use at least two passes.",
        ),
        (
            all_of(the.dial_used.differs(""), no(WITH_DIAL)),
            no_length("The dial division", the.dial_division, ", or empty"),
        ),
        (
            when(all_of(WITH_DIAL, known(the.plan_last)), all_of(finish > 0, the.plan_last < 1), False),
            say(a_finish, " is less than a division of the dial, ", length(the.dial_used),
                "; make it larger, leave it empty or use a finer dial."),
        ),
        (when(all_of(WITH_DIAL, REPAIR), the.plan_end < 1, False), within_a_division()),
        (
            when(WITH_DIAL, the.plan_end < passes, False),
            say(passes, " passes over a travel of ", length(TRAVEL), " come to less than a division of ",
                length(the.dial_used), " each; use fewer passes or a finer dial."),
        ),
        (
            the.plan_last * passes > the.plan_whole * 1.000000000001,
            say(a_finish, " is more than the passes before it would be; make it smaller or use fewer passes."),
        ),
    )  # fmt: skip


AT_THE_END = the.pitch_diameter_aimed + 2 * the.outward * (the.depth - xl.SUM(the.plan_radial_infeed))
"""The pitch diameter after the last pass."""


def _short() -> Node:
    """By how much the passes end before the first limit, where it shows."""
    most_metal = when(the.outward > 0, the.cut_pitch_diameter_max, the.cut_pitch_diameter_min)
    left = the.outward * (AT_THE_END - most_metal)
    shows = when(known(most_metal), xl.ROUND(left, the.decimals) > 0, False)
    return when(the.plan_fault.same(""), when(shows, left))


def words() -> Node:
    """The plan in words, or why there is none."""
    beyond = say(", ", length(the.plan_short), when(the.outward > 0, " over its maximum", " under its minimum"),
                 ": measure, then feed on")  # fmt: skip
    short = when(known(the.plan_short), beyond)
    old = when(the.ticks_old > 0, say("CLEAR THE OLD TICKS: ", the.ticks_old, " for another thread. "))
    of_first = xl.INDEX(the.plan_radial_infeed, 1)
    heavy = say("HEAVY: first pass ", length(of_first), " on the radius; ", the.usual_words, ". ")
    lighter = when(chosen(the.pass_rule, "equal area"), "light first, or more passes", "more passes")
    deep = say(
        "DEEP FIRST PASS: ", length(of_first), " on the radius; for this tip ", at_most(the.first_pass_most),
        " at most is usual. Choose ", lighter, ". ",
    )  # fmt: skip
    too_few = all_of(no(REPAIR), the.passes < the.usual_fewest)
    too_deep = all_of(no(REPAIR), of_first > the.first_pass_most + BITS)
    springs = when(the.plan_spring_passes > 0, say(", then ", the.plan_spring_passes, " at full depth"))
    counted = say(the.passes, " passes", springs, ". ")
    return first(
        (the.plan_fault.differs(""), the.plan_fault),
        otherwise=say(
            old, first((too_few, heavy), (too_deep, deep), otherwise=counted), "Pitch diameter at the end ",
            length(AT_THE_END), " ", the.unit_text, short, ".",
        ),
    )  # fmt: skip


# ---- The figures behind the plan


def _of_form(end: int) -> Node:
    """The fewest or most usual passes for the form and pitch of the thread in use: sheetfuncs.passes.usual_passes."""
    pitch = the.plan_pitch_mm
    line = joined("+", 1, *(pitch > most for most, *_ in USUAL_PASSES if most is not None))

    def of_column(column: int) -> Node:
        return xl.CHOOSE(line, *(ranges[column][end] for _, *ranges in USUAL_PASSES))

    titles = ((standards.SYSTEMS[system].title, column) for system, column in FORM_COLUMN.items())
    by_system = [(the.row_system.same(title), of_column(column)) for title, column in titles]
    return when(known(pitch), first(*by_system, otherwise=of_column(0)))


def _usual_words() -> Node:
    fewest, most = the.usual_fewest, the.usual_most
    usual = when(fewest.same(most), most, say(fewest, " to ", most))
    return when(known(fewest), say(usual, " are usual for this pitch"))


def _first_pass_most() -> Node:
    """The deepest first pass that is usual for the tip: sheetfuncs.passes.first_pass_most."""
    to_mm = when(the.unit_text.same("in"), MM_PER_INCH, 1)
    pointed = all_of(chosen(the.pass_rule, "equal area"), the.tip_kind_used.differs("flat"))
    nose = when(the.tip_kind_used.same("sharp"), 0, the.tip_size)
    of_point = xl.MIN(FIRST_PASS_MM, xl.MAX(FIRST_PASS_POINTED_MM, FIRST_PASS_NOSES * nose * to_mm))
    return when(known(the.tip_shortening), when(pointed, of_point, FIRST_PASS_MM) / to_mm)


def _springs() -> Node:
    typed = the.spring_passes
    return first((blank(typed), 0), (no(known(typed)), ""), (typed.same(xl.INT(typed)), typed))


def _finish() -> Node:
    typed = the.finishing_pass
    return first((blank(typed), 0), (believed(LENGTH, typed), typed))


def _angle_used() -> Node:
    typed = the.compound_angle
    return when(CHOSEN, when(blank(typed), the.flank_steeper - 0.5, typed))


def _angle_cosine() -> Node:
    angle = the.angle_used
    return first(
        (no(known(angle)), ""),
        (any_of(angle < 0, angle > the.flank_steeper), ""),
        otherwise=xl.COS(xl.RADIANS(angle)),
    )


def _last() -> Node:
    travel = the.plan_finishing_pass / the.angle_cosine
    counted = all_of(known(the.plan_whole), known(the.plan_finishing_pass))
    return when(counted, when(WITH_DIAL, _whole_divisions(travel), travel))


def _roughing() -> Node:
    finishing = when(known(the.plan_finishing_pass), when(the.plan_finishing_pass > 0, 1, 0), 0)
    return when(known(the.passes), the.passes - finishing)


def _light() -> Node:
    light = all_of(chosen(the.pass_rule, "light first"), known(the.plan_roughing))
    return when(light, when(the.plan_roughing > 1, 1, 0), 0)


def _least() -> Node:
    last = the.plan_last
    return when(known(last), when(WITH_DIAL, when(the.plan_finishing_pass > 0, last, 1), last))


def _old(ticks: Node) -> Node:
    """How many do not name the thread in use; an error value names none."""
    return xl.IFERROR(xl.SUMPRODUCT(given(ticks) * (1 - xl.EXACT(ticks, the.callout))), 1)


_INFEED_AND_ANGLE = known(the.depth), known(the.angle_cosine)

_FLAT = when(the.tip_kind_used.same("flat"), the.tip_shortening, 0)

WORKING = (
    Figure("angle_used", "compound angle used", _angle_used()),
    Figure("angle_cosine", "its cosine; nothing for an angle that can't be used", _angle_cosine()),
    Figure("angle_fault", "what is wrong with the compound angle", _angle_fault()),
    Figure("plan_spring_passes", "spring passes, 0 when empty", _springs()),
    Figure("plan_finishing_pass", "finishing pass, 0 when empty", _finish()),
    Figure("plan_room", "what the pitch diameter has between the aim and its limit of least metal", _room()),
    Figure("plan_end", "whole divisions of the last reading",
           when(all_of(known(the.dial_used), *_INFEED_AND_ANGLE), when(the.dial_used > 0, _end()))),
    Figure("plan_whole", "the last reading, in divisions where there is a dial",
           first((WITH_DIAL, the.plan_end), (all_of(*_INFEED_AND_ANGLE), TRAVEL))),
    Figure("plan_last", "the finishing pass, counted alike; 0 for none", _last()),
    Figure("plan_least", "the least that a pass before it takes", _least()),
    Figure("plan_roughing", "passes that share the roughing", _roughing()),
    Figure("plan_light", "1 where the first pass is meant to be a light one, else 0", _light()),
    Figure("plan_flat", "what a flat tip is short of the sharp point, and the depth that is cut already",
           when(known(the.existing_depth), the.existing_depth + _FLAT, _FLAT)),
    Figure("plan_pitch_mm", "pitch in mm",
           when(known(the.own_pitch), the.own_pitch * when(the.own_unit.same("in"), MM_PER_INCH, 1))),
    Figure("usual_fewest", "fewest passes that are usual for this form and pitch", _of_form(0)),
    Figure("usual_most", "most passes that are usual", _of_form(1)),
    Figure("usual_words", "the usual number of passes in words", _usual_words()),
    Figure("first_pass_most", "the deepest first pass on the radius that is usual for this tip", _first_pass_most()),
    Figure("plan_fault", "why there is no plan; empty when there is one", _fault()),
    Figure("plan_short", "by how much of the pitch diameter the passes end before its first limit", _short()),
    Figure("ticks_old", "ticks that were made for another thread", _old(the.plan_done) + _old(the.plan_done_more)),
)  # fmt: skip


# ---- A pass, by the columns of the plan


def _rough_depth(number: int) -> Node:
    """The part of the roughing depth that is reached after a pass (sheetfuncs.passes.shared_depths)."""
    light = all_of(chosen(the.pass_rule, "light first"), the.plan_roughing > 1)
    light_share = node(LIGHT_FIRST_SHARE if number == 1 else number - 1) / (the.plan_roughing - 1)
    share = when(light, light_share, node(number) / the.plan_roughing)
    rough, flat = the.depth - the.plan_finishing_pass, the.plan_flat
    return xl.SQRT(flat**2 + share * ((rough + flat) ** 2 - flat**2)) - flat


def _step(number: int) -> Node:
    """What a roughing pass takes: as the rule shares the chip, no pass more than the one before it.

    It leaves at least the least step for each pass that is still to come.
    """
    done = node(0) if number == 1 else above.steps
    left = the.plan_whole - the.plan_last - done
    after = the.plan_roughing - number
    target = when(WITH_DIAL, _whole_divisions(here.unrounded), here.unrounded) - done
    even = when(WITH_DIAL, -xl.INT(-left / (after + 1)), left / (after + 1))
    light = the.plan_light.same(1)
    wanted = xl.MAX(target, when(light, the.plan_least, even) if number == 1 else even)
    step = xl.MIN(left - after * the.plan_least, wanted)
    if number == 1:
        return step
    if number == 2:
        return when(light, step, xl.MIN(above.steps, step))
    two_above = Cell(-2, 0)
    return xl.MIN(above.steps - two_above, step)


def of_pass(number: int) -> dict[str, Node]:
    """The formulas of one pass by column; `here` and `above` are the rows of the plan."""
    n, is_first = node(number), number == 1
    finishing = all_of(the.plan_finishing_pass > 0, n.same(the.passes))
    depth = when(finishing, the.depth, _rough_depth(number)) / the.angle_cosine
    done = node(0) if is_first else above.steps
    before = node(0) if is_first else above.compound_reading
    reading = first(
        (n > the.passes, before),
        (WITH_DIAL, xl.ROUND(here.steps * the.dial_used, 10)),
        otherwise=here.steps,
    )
    travel = here.compound_reading if is_first else here.compound_reading - above.compound_reading

    def planned(formula: Node) -> Node:
        return first((the.plan_fault.differs(""), ""), otherwise=formula)

    def in_use(formula: Node) -> Node:
        return first((here["pass"].same(""), ""), otherwise=formula)

    return {
        "pass": planned(when(n <= the.passes + the.plan_spring_passes, n)),
        "unrounded": planned(when(n <= the.passes, depth)),
        "steps": first(
            (here.unrounded.same(""), ""),
            (n.same(the.passes), the.plan_whole),
            otherwise=done + _step(number),
        ),
        "compound_reading": in_use(reading),
        "compound_travel": in_use(xl.ROUND(travel, 12)),
        "radial_infeed": in_use(here.compound_travel * the.angle_cosine),
        "radial_total": in_use(here.compound_reading * the.angle_cosine),
        "diameter_now": in_use(the.plan_start + the.taper_rise - 2 * the.outward * here.radial_total),
        "divisions": in_use(when(WITH_DIAL, xl.ROUND(here.compound_travel / the.dial_used, 0))),
        "dial": in_use(when(the.dial_differs, xl.ROUND(here.compound_reading / the.dial_used, 0) * the.dial_own)),
    }
