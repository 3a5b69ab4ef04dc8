"""The formulas of the sheet Lathe: those of each lathe, those that the page compares, those for the job.

The thread dial, the gearing and the speed have modules of their own; here stand what is left and the order.
"""

from __future__ import annotations

from sheetfuncs.lathe import SCREWED_CHUCK
from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    Numbered,
    all_of,
    any_of,
    blank,
    first,
    fixed,
    given,
    known,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import lathe_dial, lathe_gears, lathe_speed, lathe_terms
from workbook_template.sheets.inputs import DECIMAL, LENGTH, believed, filled, in_text, misread, none_of
from workbook_template.sheets.lathe_terms import least, length, most

TOO_MUCH = "The lead error takes more than the whole tolerance"


def each(my: Numbered) -> tuple[Figure, ...]:
    """The figures of one lathe that stand beside the page."""
    return (
        Figure("lathe_leadscrew_mm", "lead of the leadscrew, mm", _leadscrew(my)),
        Figure("lathe_fault", "why there is nothing to say for this lathe", _fault(my)),
        *lathe_dial.figures(my),
        *lathe_gears.figures(my),
        Figure("dial_to_working", "factor from the unit of the lathe's dials to the working unit", _to_working(my)),
        Figure("compound_division", "travel of the compound for one division of its dial",
               _division(my, my.compound_dial, my.compound_dial_reads)),
        Figure("cross_division", "one division of the cross-slide dial, as it reads", _division(my, my.cross_dial)),
        Figure("lathe_train_words", "idlers and room for the gears, in words", lathe_gears.train_words(my)),
        Figure("lathe_reverse_words", "how to get the direction", lathe_gears.direction_words(my)),
        Figure("lathe_chuck_words", "caution for a screwed-on chuck", _chuck_words(my)),
        Figure("lathe_feed_words", "feed for turning", _feed_words(my)),
        Figure("slowest", "slowest listed speed", least(my.spindle_speeds)),
    )  # fmt: skip


def compared(my: Numbered) -> tuple[Figure, ...]:
    """The figures of one lathe that the page compares with those of the other."""
    return (
        Figure("lathe_gear_words", "levers or gears for the lead of the job, or the nearest", lathe_gears.words(my)),
        Figure("lathe_lead_error_ppm", "error of the lead in millionths", lathe_gears.lead_error(my), '+0;-0;"0"'),
        Figure("lathe_dial_rule", "which lines of the thread dial are legal", lathe_dial.words(my)),
        Figure("rpm_listed", "highest listed speed at or under the limits", most(my.speed_fit), "0"),
    )


def job() -> tuple[Figure, ...]:
    """The figures for the job and the lathe in use that stand beside the page."""
    takes = the.lead_error_takes
    lead = the.starts * the.own_pitch * when(the.own_unit.same("in"), MM_PER_INCH, 1)
    too_much = all_of(no(the.another_lead), takes >= the.pitch_diameter_tolerance)
    chosen = (
        ("lathe_leadscrew_mm", "lead of the leadscrew of the lathe in use, mm"),
        ("lathe_half_nuts", "whether the half-nuts may be opened"),
        ("lathe_lead_error_ppm", "error of the lead in millionths"),
        ("another_lead", "whether its gears cut another lead altogether"),
        ("compound_division", "travel of the compound for one division of its dial"),
        ("cross_division", "one division of the cross-slide dial, as it reads"),
    )
    return (
        Figure("job_lead_mm", "lead of the job, mm", when(all_of(known(the.thread_row), known(the.own_pitch)), lead)),
        *lathe_speed.figures(),
        *(Figure(name, meaning, lathe_terms.in_use(name)) for name, meaning in chosen),
        Figure("lead_error_takes", "pitch diameter that the lead error over one diameter uses up", _lead_takes()),
        Figure("lead_too_much", "whether that is the whole tolerance, or more", when(known(takes), too_much, False)),
        Figure("cross_reads", "what the cross-slide dial reads, radius or diameter",
               in_text(lathe_terms.in_use("cross_dial_reads"))),
    )  # fmt: skip


def _leadscrew(my: Numbered) -> Node:
    screw, unit = my.leadscrew, my.leadscrew_unit
    return when(believed(DECIMAL, screw), first((unit.same("mm"), screw), (unit.same("tpi"), MM_PER_INCH / screw)))


def _fault(my: Numbered) -> Node:
    describe = "This lathe is not described yet: type its leadscrew on the sheet Lathe."
    number = "The leadscrew is a number more than zero with its unit, tpi or mm."
    return first(
        (no(known(the.job_lead_mm)), "Choose the thread on the sheet Job."),
        (no(known(my.lathe_leadscrew_mm)), when(blank(my.leadscrew), describe, say(number, misread(my.leadscrew)))),
        (
            all_of(filled(my.fixed_ratio), no(believed(DECIMAL, my.fixed_ratio))),
            say("The fixed ratio is a number more than zero, or empty.", misread(my.fixed_ratio)),
        ),
    )


def _to_working(my: Numbered) -> Node:
    unit = my.dial_unit
    return when(
        any_of(unit.same("in"), unit.same("mm")),
        first((unit.same(the.unit_text), 1), (unit.same("in"), MM_PER_INCH), otherwise=node(1) / MM_PER_INCH),
    )


def _division(my: Numbered, dial: Node, reads: Node | None = None) -> Node:
    """One division of a dial in the working unit, a half of it where the dial reads twice the travel.

    Where neither radius nor diameter is typed for what it reads, there is none: it would be wrong by a factor of two.
    """
    division, typed = dial * my.dial_to_working, all_of(believed(DECIMAL, dial), known(my.dial_to_working))
    if reads is None:
        return when(typed, division)
    travel = first(
        (none_of(reads, "", "radius", "diameter"), ""), (reads.same("diameter"), division / 2), otherwise=division
    )
    return when(typed, travel)


def _chuck_words(my: Numbered) -> Node:
    """For a chuck that can come off, or may: how it is mounted is not given."""
    mount = in_text(my.chuck_mount)
    screwed = (
        "Screwed-on chuck: running in reverse, or a sudden stop, can unscrew it. "
        "Whether and how the spindle may run in reverse, the machine's manual says."
    )
    return first(
        (mount.same("screwed on"), screwed),
        (any_of(mount.same("cam lock"), mount.same("bolted"), mount.same("other")), ""),
        otherwise=SCREWED_CHUCK,
    )


def _feed_words(my: Numbered) -> Node:
    finest, fit = xl.MIN(my.box_feed_listed), xl.MAX(my.box_feed_fit)
    levers = xl.INDEX(my.box_position, xl.MATCH(fit, my.box_feed_fit, 0))
    found = say("levers ", levers, ": ", length(fit * my.dial_to_working), " a turn, the next listed at or under ")
    return first(
        (xl.COUNT(my.box_feed_listed).same(0), "No feeds are listed for this lathe."),
        (no(known(my.dial_to_working)), "Choose the unit of this lathe's dials and feeds, in or mm."),
        (no(believed(LENGTH, the.turning_feed)), "Type the feed wanted for turning."),
        (
            xl.COUNT(my.box_feed_fit).same(0),
            say("No listed feed is that fine; the finest is ", length(finest * my.dial_to_working), " a turn."),
        ),
        otherwise=say(found, fixed(the.turning_feed, the.decimals), "."),
    )


def _lead_takes() -> Node:
    """Pitch diameter that the error of the lead over one diameter uses up."""
    flanks = xl.TAN(xl.RADIANS(the.flank_leading)) + xl.TAN(xl.RADIANS(the.flank_trailing))
    over = xl.ABS(the.lathe_lead_error_ppm) / lathe_gears.PER_MILLION * the.diameter
    return when(all_of(known(the.lathe_lead_error_ppm), known(the.pitch_diameter_tolerance)), over * 2 / flanks)


def lead_words() -> Node:
    """What the error of the lead costs."""
    too_much = when(the.lead_too_much, f"{TOO_MUCH}: the GO gauge will not screw on. ")
    takes = fixed(the.lead_error_takes, the.decimals)
    of_tolerance = say(" of the pitch diameter tolerance of ", fixed(the.pitch_diameter_tolerance, the.decimals))
    return first(
        (no(known(the.lead_error_takes)), ""),
        (the.lathe_lead_error_ppm.same(0), "The lead is exact."),
        (the.another_lead, "That is another lead: this thread can not be cut so."),
        otherwise=say(too_much, "Over one diameter the lead error uses up ", takes, of_tolerance, "."),
    )


def dials_words() -> Node:
    """What the dials of the lathe in use read."""
    compound, cross = the.compound_division, the.cross_division
    reads = when(given(the.cross_reads), the.cross_reads, "not given")
    travel = say("Compound: ", length(compound), " of travel a division. ")
    cross_words = say("Cross-slide: ", length(cross), " a division, reads ", reads, ".")
    return say(
        when(known(compound), travel, "Compound dial not given. "),
        when(known(cross), cross_words, "Cross-slide dial not given."),
    )
