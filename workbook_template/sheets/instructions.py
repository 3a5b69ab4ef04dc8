"""The block "How to cut it" on the sheet Card: sentences that change with the thread and with the lathe in use."""

from __future__ import annotations

from typing import NamedTuple

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    first,
    fixed,
    given,
    known,
    length,
    no,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import carriage, existing, taper_figures
from workbook_template.sheets.lathe_formulas import TOO_MUCH
from workbook_template.sheets.lathe_terms import HANDLE_GEARS, in_use, whole
from workbook_template.sheets.layout import Column, Line, Table, line, shown, words
from workbook_template.sheets.threads_table import CHOSEN, INSIDE, PUSH, UNLIKE

WORKING_CLEARANCE = 3
"""Degrees that a threading tool's side stands free of the flank it has cut; practice (3 to 5 are usual)."""

LEFT = the.hand_text.same("left")
STEEP_LEADS = all_of(UNLIKE, PUSH.differs(LEFT))
"""Whether the steeper flank is cut by the edge that leads: which way a screw pulls does not turn with its hand."""
LEFT_GAUGES = "Gauges and nut marked LH: a right-hand one never goes on."


def by_case(external_right: Part, external_left: Part, internal_right: Part, internal_left: Part) -> Node:
    """One of four texts, by side and hand of the thread."""
    return when(INSIDE, when(LEFT, internal_left, internal_right), when(LEFT, external_left, external_right))


# ---- The sentences


def _carriage() -> Node:
    set_over = say(
        " Taper attachment", when(INSIDE, ".", say(", or tailstock over 1/", 2 * the.taper_ratio, " of the length."))
    )
    shut = no(the.lathe_half_nuts.same(True))  # as well where no dial or lathe is described
    at_the_end = when(
        shut,
        say("draw the tool back early enough, then stop the spindle: it runs on, and the half-nuts stay shut. Come "
            "back in reverse, tool clear.", when(the.tapered, set_over)),
        say("draw the tool back, then open the half-nuts",
            when(the.tapered, say("; the last threads may run out.", set_over), " in the relief.")),
    )  # fmt: skip
    toward = "Moves toward the headstock, spindle forward. "
    away = "Moves AWAY from the headstock, spindle forward, leadscrew reversed. "
    draw_back = "To draw the tool back move it away from you."
    back_inward = "Half-nuts stay shut: {}, come back in reverse, stop well before the {}: the spindle runs on. "
    inner_end = when(
        shut,
        "Stop the spindle before the mark: it runs on, and the half-nuts stay shut; come back in reverse, bar clear. ",
        "At the mark draw the tool back, then open the half-nuts. ",
    )
    words = by_case(
        say(f"{toward}Start clear of the tailstock end of the thread; at its end ", at_the_end),
        say(f"{away}Start in a relief groove at the headstock end; the tool runs out at the tailstock end. ",
            when(shut, back_inward.format("tool clear", "chuck")), LEFT_GAUGES),
        say(f"{toward}Start outside the mouth of the bore; mark on the bar where the inner end is, leave a relief "
            "there. ", inner_end, draw_back),
        say(f"{away}Start in a relief groove at the inner end of the bore; the tool runs out at the "
            "mouth. ",
            when(shut,
                 say(back_inward.format("draw the tool back, away from you", "bottom"), "Gauges and nut marked LH."),
                 say(draw_back, " ", LEFT_GAUGES))),
    )  # fmt: skip
    return when(CHOSEN, words)


def _compound() -> Node:
    angle = the.angle_used
    headstock, tailstock = "headstock (swung to the left)", "tailstock (swung to the right)"
    # not as one comparison of comparisons: IronCalc takes such a chain otherwise than Excel and LibreOffice
    usual = by_case(tailstock, headstock, headstock, tailstock)
    handle = when(STEEP_LEADS, by_case(headstock, tailstock, tailstock, headstock), usual)
    cuts = when(STEEP_LEADS, "trailing", "leading")
    feed = when(INSIDE, "toward you", "away from you")
    return first(
        (no(known(the.angle_cosine)), when(CHOSEN, "Correct the compound angle.")),
        (angle.same(0), say("Straight in: both edges cut. Feed ", feed, ", take light passes.")),
        otherwise=say(
            xl.ROUND(angle, 2), " degrees from straight in, handle end toward the ", handle, "; feed with it ", feed,
            ". The ", cuts, " edge then cuts, the other only cleans. A scale that counts from the lathe's axis shows ",
            xl.ROUND(90 - angle, 2), ".",
        ),
    )  # fmt: skip


def _degrees(angle: Node) -> Node:
    return fixed(angle, 1)


def _tool() -> Node:
    taper = when(
        the.tapered,
        say("Taper 1 in ", the.taper_ratio, ", half angle ", the.taper_half_angle,
            ": tool square to the axis, not to the cone. "),
    )  # fmt: skip
    trailing = the.clearance_trailing
    clearance = say(
        "Side toward the ", when(LEFT, "tailstock", "headstock"), " (it leads): ", _degrees(the.clearance_leading),
        " degrees of side clearance or more; other side: ",
        when(trailing > 0, say(_degrees(trailing), " or more"), "none needed, upright"),
        ". Lead angle ", _degrees(the.lead_angle), " at the pitch diameter, up to ", _degrees(the.lead_angle_root),
        f"; the {WORKING_CLEARANCE} degrees beyond it are usual practice. On centre height, square by the gauge",
        when(INSIDE, ", heel of the bar clear of the bore.", "."),
    )  # fmt: skip
    return say(when(CHOSEN, taper), when(known(the.clearance_leading), clearance))


def _reads_diameters(dial: str) -> Node:
    return in_use(f"{dial}_dial_reads").same("diameter")


def _by_cross_slide() -> Node:
    """What the dial of the cross-slide shows for a reading of the plan, which may stand on the diameter itself."""
    plan_on_diameter = all_of(the.dial_differs, _reads_diameters("compound"))
    return first(
        (_reads_diameters("cross").same(plan_on_diameter), "; go by the readings"),
        (plan_on_diameter, "; its dial shows half the readings"),
        otherwise="; its dial shows twice the readings",
    )


def _each_pass() -> Node:
    one = say(
        "Touch the ",
        the.blank_word,
        ", set compound and cross-slide dials to zero. Every pass: tool back, return, "
        "cross-slide to zero, compound on to the next reading of the plan, always turned the same way so that no play "
        "is left. Stop and measure before the last passes, thread clean and cool.",
    )
    divisions = when(
        known(the.dial_used), when(the.dial_used > 0, say(" (", xl.ROUND(the.pitch / the.dial_used, 1), " div.)"))
    )
    slip_gear = say(
        " Or, power off and locked, slip the spindle-side gear by 1/", the.starts,
        " of its teeth (their number must divide by ", the.starts, "), if it turns as the spindle does.",
    )  # fmt: skip
    several = say(
        "Every pass: tool back, return; all starts to one depth, then deeper. Next "
        "start, one of these: half-nuts closed, turn the work ", xl.ROUND(360 / the.starts, 2), " degrees "
        "(driving plate, chuck marks). Or set the compound along the axis, advance it one pitch, ",
        length(the.pitch), divisions,
        "; feed then with the cross-slide: type the compound angle 0 for its plan",
        _by_cross_slide(), ".", when(given(the.index_line_words), the.index_line_words, slip_gear),
    )  # fmt: skip
    of_dial = say(
        "The readings of the plan are what the dial of the compound shows, in ",
        when(the.dial_own_unit.same("in"), "inches", "mm"),
        when(_reads_diameters("compound"), " on the diameter"), ". ",
    )  # fmt: skip
    near_size = say(" ", taper_figures.gauge_in_short())
    by_gauge = when(all_of(the.tapered, the.starts.same(1)), near_size)
    new = when(CHOSEN, say(when(the.dial_differs, of_dial), when(the.starts > 1, several, one), by_gauge))
    return when(existing.REPAIR, existing.each_pass(), new)


_DESCRIBED = in_use("lathe_fault").same("")
"""Whether the leadscrew of the lathe in use is known; else the sheet Lathe says what is missing."""


def _gears() -> Node:
    gears, train = the.lathe_gear_words, the.lathe_train_words
    has_train = given(train)
    described = say(
        when(given(the.lathe_name), say(the.lathe_name, ": ")), gears, when(xl.RIGHT(gears, 1).same("."), "", "."),
        when(has_train, say(" ", train)), when(the.lead_too_much, f" {TOO_MUCH}."),
        when(has_train, "", f" {HANDLE_GEARS}"), " ", carriage.scratch_words(existing.REPAIR),
    )  # fmt: skip
    by_the_chart = say(
        "By the chart of the lathe, for a lead of ", length(the.lead), " ", the.unit_text,
        f". {HANDLE_GEARS} Describe the lathe on the sheet Lathe to have it here. ",
        carriage.scratch_words(existing.REPAIR),
    )  # fmt: skip
    return when(CHOSEN, when(_DESCRIBED, described, by_the_chart))


def _half_nuts() -> Node:
    by_the_chart = "No dial described: keep them shut and reverse under power, or go by the dial chart of the lathe."
    return when(CHOSEN, when(_DESCRIBED, the.lathe_dial_rule, by_the_chart))


def _speed() -> Node:
    rpm, words = the.rpm_listed, the.lathe_rpm_words
    none = "No speed is computed: give the lathe and its speeds on the sheet Lathe. "
    speed = when(known(rpm), say(rpm, " rpm. "), when(given(words), "", none))
    said = say(speed, when(given(words), say(words, " ")), the.lathe_relief_words, " ", carriage.of_runout())
    return when(CHOSEN, xl.TRIM(said))


def _reverse() -> Node:
    direction = the.lathe_reverse_words
    return when(CHOSEN, xl.TRIM(say(when(given(direction), say(direction, " ")), the.lathe_chuck_words)))


class Told(NamedTuple):
    """A line of the block: what stands before it, its figure, its height in points."""

    label: str
    figure: Figure
    height: float


FOUR = 50.25
"""Points that four lines of text take."""

EACH = ""
"""The label of the line whose label is a figure itself."""

LINES = (
    Told("Tool", Figure("clearance_words", "side clearance of the tool", _tool()), FOUR),
    Told("Compound", Figure("compound_words", "which side the compound is swung", _compound()), 38.25),
    Told("Carriage",
         Figure("carriage_words", "which way the carriage goes and where the tool starts", _carriage()), FOUR),
    Told("Reverse, chuck",
         Figure("reverse_words", "how to get the direction, and the chuck's caution", _reverse()), FOUR),
    Told("Speed", Figure("speed_words", "speed, and what to do where the relief is short", _speed()), FOUR),
    Told("Gears", Figure("gears_words", "gears or levers of the lathe in use", _gears()), FOUR),
    Told(EACH, Figure("each_words", "what to do every pass, or how to come to the next start", _each_pass()), 88),
)  # fmt: skip


# ---- The figures behind them


def _lead_angle(diameter: Node) -> Node:
    return xl.DEGREES(xl.ATAN2(xl.RADIANS(180) * diameter, the.lead))


def _lead_angles() -> tuple[Node, Node]:
    """The lead angle at the smallest and at the largest diameter that the tool's edge touches."""
    deep = 2 * (the.half_height - the.tip_shortening)
    smallest = when(INSIDE, the.blank_used, the.pitch_diameter_aimed - deep)
    largest = when(INSIDE, the.pitch_diameter_aimed + deep, the.blank_used)
    sizes = xl.COUNT(the.pitch_diameter_aimed, the.tip_shortening, the.blank_used).same(3)
    cut = any_of(known(the.depth), all_of(existing.REPAIR, sizes))  # by single divisions there is no depth
    return when(cut, _lead_angle(smallest)), when(cut, _lead_angle(largest))


def _index_ratio() -> Node:
    pitch_mm = the.pitch * when(the.unit_text.same("in"), MM_PER_INCH, 1)
    error = when(known(the.lathe_lead_error_ppm), the.lathe_lead_error_ppm, 0)
    ratio = the.lathe_leadscrew_mm / pitch_mm / (1 + error / 1000000)
    return when(all_of(known(the.pitch), known(the.lathe_leadscrew_mm)), ratio)


def _index_line_words() -> Node:
    gear = in_use("dial_gear")
    lines = the.index_threads * in_use("dial_lines") / gear
    count = xl.ROUND(lines, 0)
    further = say(" Or close the half-nuts ", count, when(count.same(1), " line", " lines"),
                  " of the dial further on.")  # fmt: skip
    asked = all_of(the.starts > 1, known(the.index_threads), known(gear))
    return when(asked, when(all_of(the.lathe_half_nuts.same(True), whole(lines)), further))


_SMALLEST, _LARGEST = _lead_angles()

WORKING = (
    Figure("half_nuts_words", "when the half-nuts may be closed", _half_nuts()),
    Figure("lead_angle", "lead angle at the pitch diameter, degrees",
           when(known(the.pitch_diameter_aimed), _lead_angle(the.pitch_diameter_aimed))),
    Figure("lead_angle_root", "lead angle at the smallest diameter that the tool's edge touches", _SMALLEST),
    Figure("lead_angle_crest", "lead angle at the largest", _LARGEST),
    Figure("clearance_leading", "side clearance of the side that leads, degrees",
           when(known(the.lead_angle_root), the.lead_angle_root + WORKING_CLEARANCE)),
    Figure("clearance_trailing", "side clearance of the other side, degrees",
           when(known(the.lead_angle_crest), WORKING_CLEARANCE - the.lead_angle_crest)),
    Figure("index_ratio", "pitches of the work, as really cut, to a thread of the leadscrew", _index_ratio()),
    Figure("index_threads", "threads of the leadscrew to the next start, where that can be",
           xl.IFERROR(xl.MATCH(1, the.index_marks, 0), "")),
    Figure("index_line_words", "dial from start to start, in words", _index_line_words()),
)  # fmt: skip


MOST_THREADS = 24
"""How many threads of the leadscrew are tried for the next start."""


def index_table() -> Table:
    """Which numbers of leadscrew threads lead to the next start: whole pitches, one over a multiple of the starts.

    Where a dial is given they are whole lines of it, too: of 8 lines and 24 teeth 3 threads, where 1 would do.
    """
    gear, lines = in_use("dial_gear"), in_use("dial_lines")

    def mark(number: int) -> Node:
        pitches = number * the.index_ratio
        nearest = xl.ROUND(pitches, 0)
        is_whole = xl.ABS(pitches - nearest) < 0.00000001
        one_over = (nearest - the.starts * xl.INT(nearest / the.starts)).same(1)
        on_a_line = when(all_of(known(gear), known(lines)), whole(number * lines / gear), True)
        leads = when(all_of(the.starts > 1, is_whole, one_over, on_a_line), 1, 0)
        return when(known(the.index_ratio), leads)

    meaning = "1 where so many leadscrew threads lead to the next start"
    return Table("index", (
        Column("threads", "threads", "threads of the leadscrew", formula=lambda row: node(row), dimension="0",
               named=False),
        Column("marks", "to the next start", meaning, formula=mark, dimension="0", role="working"),
    ), MOST_THREADS)  # fmt: skip


def lines() -> tuple[Line, ...]:
    """How to cut it: a line each, twelve columns wide."""
    label = first(
        (all_of(CHOSEN, existing.REPAIR), "Pick it up"), (when(CHOSEN, the.starts > 1, False), "Next start"),
        otherwise="Each pass",
    )  # fmt: skip
    each = Figure("each_label", "what the line is about", label)
    return tuple(
        line(
            shown(2, each, "row_words") if one.label == EACH else words(2, one.label, "row_words"),
            shown(10, one.figure, "row_words"),
            height=one.height,
        )
        for one in LINES
    )
