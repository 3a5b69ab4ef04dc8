"""The figures behind the sheet Setup: what the depth and the wires come from, and the sentences about them."""

from __future__ import annotations

from collections.abc import Callable

from sheetfuncs.cutting import FAR_BLANK
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    at_least,
    blank,
    first,
    fixed,
    known,
    length,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import contact, existing, tip_figures
from workbook_template.sheets.existing import BITS, REPAIR
from workbook_template.sheets.inputs import (
    LENGTH,
    MOST_LENGTH,
    believed,
    chosen,
    filled,
    in_text,
    misread,
    no_length,
    none_of,
)
from workbook_template.sheets.instrument_columns import SET_ROW
from workbook_template.sheets.lathe_terms import in_use
from workbook_template.sheets.taper_figures import when_taper
from workbook_template.sheets.threads_table import CHOSEN, INSIDE
from workbook_template.trade.equipment import UNMATCHED

EXTERNAL = all_of(CHOSEN, no(the.no_wires))
"""Whether the thread in use is measured over wires."""


def at_aim(of_end: Callable[[str], Node], otherwise: Part = "") -> Node:
    """What belongs to the limit aimed at, max, min or mid."""
    return first(*((chosen(the.aim_limit, end), of_end(end)) for end in ("max", "min", "mid")), otherwise=otherwise)


def wire(part: Part) -> Node:
    """A wire in words: one decimal more than a length."""
    return fixed(part, the.decimals + 1)


# ---- The blank


def _blank_fault() -> Node:
    size, aimed = the.blank_used, the.pitch_diameter_aimed
    over, under = size - the.cut_crest_max, the.cut_crest_min - size
    far = FAR_BLANK * the.pitch
    the_blank = say("The ", the.blank_word, " ", length(size + the.taper_rise))
    another = ": made for another thread? Check size and unit."
    no_size = no_length(say("The ", the.blank_word, " as measured"), the.blank_measured)
    return first(
        (no(known(size)), no_size),
        (no(known(aimed)), "Next: choose what to aim at, max, mid or min."),
        (
            the.outward * (size - aimed) <= 0,
            say(the_blank, " is ", when(the.outward > 0, "below", "above"), " the pitch diameter aimed at, ",
                length(aimed + the.taper_rise), ": this thread can't be cut on it."),
        ),
        (blank(the.blank_measured), ""),
        (over > far, say(the_blank, " is over its largest size by ", length(over), another)),
        (under > far, say(the_blank, " is under its smallest size by ", length(under), another)),
    )  # fmt: skip


_NO_LATHE = first(
    (blank(the.lathe_in_use), False),
    (no(known(the.lathe_in_use)), True),
    otherwise=all_of(the.lathe_in_use.differs(1), the.lathe_in_use.differs(2)),
)
"""Whether something else than the number of a lathe is typed for the one in use."""

NO_TIP_SIZE = f"Next: enter the tip size, a number more than zero, {MOST_LENGTH} at most."
NO_TIP = "A tip size of 0 is a sharp tip: choose sharp as the tool tip, or type its size."


def _setup_fault() -> Node:
    return first(
        (no(CHOSEN), "Choose the thread on the sheet Job first."),
        (_NO_LATHE, "Choose the lathe in use, 1 or 2, on the sheet Lathe."),
        (none_of(the.thread_exists, "", "yes", "no"), "Thread exists: choose yes or no, or empty it."),
        (all_of(no(REPAIR), filled(the.existing_reading)),
         "A reading is typed beside Exists, reads: choose yes there for a thread that is cut already, or empty it."),
        (no(known(the.cut_pitch_diameter_max)), the.coating_fault),
        (the.taper_fault.differs(""), the.taper_fault),
        (none_of(the.tip_kind_used, "sharp", "flat", "nose radius"), "Next: choose the tool tip."),
        (
            no(known(the.tip_shortening)),
            when(in_text(the.tip_size).same("0"), NO_TIP, say(NO_TIP_SIZE, misread(the.tip_size))),
        ),
        (the.radius_wrong, tip_figures.radius_words()),
        (the.existing_fault.differs(""), the.existing_fault),
        (all_of(no(REPAIR), the.blank_fault.differs("")), the.blank_fault),
        (tip_figures.TOO_BLUNT, tip_figures.blunt_words()),
        (tip_figures.TOO_NARROW, tip_figures.narrow_words()),
        (
            the.depth_raw <= 0,
            say("The ", the.blank_word, " ", length(the.blank_used + the.taper_rise), " ", the.unit_text,
                " is already past the thread; check its size and unit."),
        ),
        (
            the.another_lead.same(True),
            "The lathe in use does not cut this lead: see the sheet Lathe.",
        ),
    )  # fmt: skip


def blank_words() -> Node:
    """How the blank stands to its limits."""
    size, largest, smallest = the.blank_used, the.cut_crest_max, the.cut_crest_min
    return first(
        (no(CHOSEN), ""),
        (all_of(REPAIR, blank(the.blank_measured)), "its crest, if measured"),
        (blank(the.blank_measured), "empty: middle used"),
        (any_of(no(known(size)), the.blank_fault.differs("")), ""),
        (size > largest + BITS, say(length(size - largest), " over its maximum")),
        (size < smallest - BITS, say(length(smallest - size), " under its minimum")),
        otherwise="inside its limits",
    )


# ---- The wires

_NO_SET = xl.LEN(the.wire_set_used).same(0)


def _over_pitch_diameter() -> Node:
    """What a reading is over the pitch diameter where the lead adds nothing."""
    return the.wire_used * the.wire_rise - 2 * the.half_height


def _wire_used() -> Node:
    mean = xl.INDEX(the.wires_mean, SET_ROW)
    return first(
        (no(blank(the.wire_in_use)), when(believed(LENGTH, the.wire_in_use), the.wire_in_use)),
        (_NO_SET, ""),
        otherwise=xl.IFERROR(when(known(mean), mean), ""),
    )


def _wire_state() -> Node:
    unmatched = xl.INDEX(the.wires_fault, SET_ROW).same(UNMATCHED)
    state = xl.IFERROR(when(unmatched, UNMATCHED, xl.INDEX(the.wires_state, SET_ROW) & ""), "")
    return first((any_of(no(blank(the.wire_in_use)), _NO_SET), ""), otherwise=state)


def _best_wire() -> Node:
    leading, trailing = (xl.COS(xl.RADIANS(flank)) for flank in (the.flank_leading, the.flank_trailing))
    squares = leading**2 + trailing**2
    return when(EXTERNAL, the.pitch * squares / (leading + trailing) / (2 * xl.COS(the.half_angle) ** 2))


def _too(otherwise: Part) -> Node:
    """Why the wire in use does not serve, in words."""
    return first(
        (the.wire_used <= the.wire_least, "too small: not proud of the crest"),
        (the.wire_used > the.largest_wire, "too large: rests on the crest's edge"),
        otherwise=otherwise,
    )


def _lead_in_wires() -> Node:
    """What the lead angle adds to the reading; between unlike flanks how far it may be off, where that matters.

    Between unlike flanks no exact rule is known here, so that what it would add between alike ones of this included
    angle serves as a measure (Machinery's Handbook, 31st ed., p. 2130).
    """
    slope = the.lead / (xl.RADIANS(180) * the.pitch_diameter_basic)
    left_out = the.wire_used * slope**2 / 2 * xl.COS(the.half_angle) / xl.TAN(the.half_angle)
    added, tolerance = the.wire_correction, the.pitch_diameter_tolerance
    unlike = when(
        left_out > tolerance / 10,
        say(" UNLIKE FLANKS: the lead angle is left out, about ", length(left_out), "; judge by the gauge."),
    )
    alike = first(
        (
            added > tolerance / 10,
            say(" LEAD ANGLE adds ", length(added), ", ", xl.ROUND(100 * added / tolerance, 0),
                " % of the tolerance: included here, not in handbook constants."),
        ),
        (xl.ROUND(added, the.decimals) > 0, say(" With the lead angle correction of ", length(added), ".")),
    )  # fmt: skip
    at_place = when(
        known(the.taper_place), say(" Single wire ", length(the.taper_place), " from the end. No lead angle in it.")
    )
    return first((the.tapered, at_place), (the.alike_flanks, alike), otherwise=unlike)


def wire_words() -> Node:
    """Whether the wire in use serves, and what its reading holds."""
    used = the.wire_used
    below = say(
        "May sit below the crest: it reads ",
        length(the.cut_pitch_diameter_min + used * the.wire_rise - 2 * the.half_height),
        " at the smallest pitch diameter, and the crest may be ", length(the.major_diameter_max),
        ". Measure the crest",
        when(the.smallest_wire < the.largest_wire,
             say(", or take a wire over ", at_least(the.smallest_wire, the.decimals + 1))), ".",
    )  # fmt: skip
    proud = when(
        any_of(the.tapered, the.wire_used > the.smallest_wire),
        "This wire serves: proud of the crest, on the flanks at both ends of the tolerance.",
        below,
    )
    fit = [the.wire_state.same(state) for state in ("", "in date", "due soon")]
    serves = say(proud, when(any_of(*fit), "", say(" BUT THE SET: ", the.wire_state, ".")), _lead_in_wires())
    return first(
        (no(CHOSEN), ""),
        (the.no_wires, "Internal thread: no wires. Measure with a plug gauge."),
        (no(known(the.cut_pitch_diameter_max)), the.coating_fault),
        (
            all_of(blank(the.wire_in_use), _NO_SET),
            say("Choose a wire set or enter the wire in use; the best wire is ", wire(the.best_wire), " ",
                the.unit_text, "."),
        ),
        (no(known(used)), when(
            blank(the.wire_in_use),
            say("The sheet Wire sets has no diameter for the wire set ", the.wire_set_used, "."),
            no_length("The wire in use", the.wire_in_use),
        )),
        otherwise=_too(when(
            known(the.wire_constant), serves, "too large at this lead angle: it touches past the crests"
        )),
    )  # fmt: skip


def next_step() -> Node:
    """What is still to fill in, in the order of the page."""
    no_reading = when(
        known(the.wire_used),
        say("The wire ", wire(the.wire_used), " is ", _too("too large at this lead angle"), "."),
        "Next: choose a wire set or enter the wire in use.",
    )
    last = when(
        known(the.plan_short),
        say("The plan ends ", length(the.plan_short), " short: measure, feed on."),
        "Check each input against the machine.",
    )
    return first(
        (the.setup_fault.differs(""), the.setup_fault),
        (the.plan_fault.differs(""), the.plan_fault),
        (all_of(no(the.no_wires), no(known(the.wire_constant))), no_reading),
        (the.ticks_old > 0, "Ticks of another thread stand in the plan (old): clear them."),
        (REPAIR, existing.ready()),
        (
            blank(the.blank_measured),
            say("BLANK NOT MEASURED: the middle of its limits is used. Measure the ", the.blank_word, "."),
        ),
        otherwise=say("All is filled in", _but_lathe(), ". ", last),
    )


def _but_lathe() -> Node:
    """What the sheet Lathe still lacks for the card."""
    no_gears, no_speed = no(known(the.lathe_lead_error_ppm)), no(known(the.rpm_listed))
    lacks = first(
        (all_of(no_gears, no_speed), "gears and speed"), (no_gears, "the gears"), (no_speed, "the speed")
    )  # fmt: skip
    part = when(any_of(no_gears, no_speed), say(" but ", lacks, ", on the sheet Lathe"))
    return when(in_use("lathe_fault").differs(""), " but the sheet Lathe", part)


# ---- The figures in the order of their cells

_SHARP_KNOWN = all_of(known(the.depth_of_sharp), known(the.tip_shortening))


def _blank_used() -> Node:
    measured = the.blank_measured
    return first((blank(measured), the.blank_aim), (believed(LENGTH, measured), measured - the.taper_rise))


def _dial_own() -> Node:
    dial = in_use("compound_dial")
    return when(all_of(blank(the.dial_division), known(the.dial_used)), when(known(dial), dial))


NO_DIVISION = "no division"
"""What stands for a division of the dial that is typed and can't be."""
_DIAL_USED = first(
    (blank(the.dial_division), when(known(the.compound_division), the.compound_division)),
    (believed(LENGTH, the.dial_division), the.dial_division),
    otherwise=NO_DIVISION,
)
_READS_OTHERWISE = any_of(the.dial_own_unit.differs(the.unit_text), chosen(in_use("compound_dial_reads"), "diameter"))
_SPREAD = xl.TAN(xl.RADIANS(the.flank_leading)) + xl.TAN(xl.RADIANS(the.flank_trailing))
_DEPTH_KNOWN = all_of(known(the.pitch_diameter_aimed), known(the.blank_used))
_INFEED = the.outward * (the.blank_used - the.pitch_diameter_aimed) / 2 + the.half_height
_ON_FLANKS = all_of(the.wire_used > the.wire_least, the.wire_used <= the.largest_wire)

WORKING = (
    Figure("tip_kind_used", "end of the tool; nothing for an error value", in_text(the.tip_kind)),
    Figure("wire_set_used", "wire set in use; nothing for an error value",
           when(blank(the.wire_set), "", xl.IFERROR(the.wire_set, ""))),
    *tip_figures.WORKING,
    Figure("outward", "+1 outside, -1 in a bore", when(INSIDE, -1, 1)),
    Figure("blank_word", "blank or bore", when(INSIDE, "bore", "blank")),
    Figure("flank_spread", "how much the groove widens per unit of depth", when(CHOSEN, _SPREAD)),
    Figure("half_height", "sharp bottom of the groove below the pitch line",
           when(known(the.flank_spread), the.pitch / 2 / the.flank_spread)),
    Figure("blank_used", "the blank that the depth starts from, of a taper thread at the gauge plane", _blank_used()),
    Figure("pitch_diameter_aimed", "pitch diameter aimed at",
           when(all_of(CHOSEN, known(the.cut_pitch_diameter_max)), at_aim(contact.pitch_diameter))),
    Figure("depth_of_sharp", "infeed of a sharp tip", when(_DEPTH_KNOWN, _INFEED)),
    Figure("depth_raw", "infeed of this tip before it is judged",
           when(_SHARP_KNOWN, when(REPAIR, the.existing_left, the.depth_of_sharp - the.tip_shortening))),
    Figure("blank_fault", "what is wrong with the blank, in a sentence", _blank_fault()),
    Figure("setup_fault", "why there is no infeed, in a sentence", _setup_fault()),
    Figure("dial_used", "division of the compound dial that the plan uses, of the lathe in use where none is typed",
           _DIAL_USED),
    Figure("dial_own", "division of the compound dial of the lathe in use as its dial reads", _dial_own()),
    Figure("dial_own_unit", "unit of that dial", in_use("dial_unit") & ""),
    Figure("dial_differs", "whether it reads in another unit, or diameters",
           when(known(the.dial_own), _READS_OTHERWISE, False)),
    Figure("wire_used", "wire in use: as typed, else the certified mean of the set", _wire_used()),
    Figure("wire_state", "state of the wire set, where the wire comes from it", _wire_state()),
    Figure("wire_least", "wire flush with the smallest crest at the largest pitch diameter: a smaller one never serves",
           when(EXTERNAL, when_taper(
               the.smallest_wire,
               (the.major_diameter_min - the.pitch_diameter_max + 2 * the.half_height) / the.wire_rise))),
    Figure("wire_serves", "whether the wire in use is proud of the crest and rests on the flanks",
           when(all_of(known(the.wire_used), known(the.smallest_wire)), _ON_FLANKS, False)),
    Figure("wire_correction", "what the lead angle adds to a reading at the middle of the limits",
           when(all_of(known(the.wire_constant), the.alike_flanks, no(the.tapered)),
                the.wire_constant - _over_pitch_diameter())),
    Figure("best_wire", "wire that touches at the pitch line", _best_wire()),
    Figure("no_wires", "whether wires are no use: an internal thread", when(CHOSEN, INSIDE, False)),
    Figure("half_angle", "half the included angle, radians", when(CHOSEN, tip_figures.HALF_SUM)),
    Figure("wire_rise", "wire diameters over the sharp bottom, 3 for 60 degrees",
           when(known(the.half_angle), 1 + xl.COS(tip_figures.HALF_DIFFERENCE) / xl.SIN(the.half_angle))),
    Figure("flank_steeper", "the steeper of the two flanks, degrees",
           when(CHOSEN, xl.MIN(the.flank_leading, the.flank_trailing))),
)  # fmt: skip
