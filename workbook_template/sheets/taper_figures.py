"""Taper threads on the sheets Setup, Card and Log: sizes along the axis, where a reading is taken, turns of the gauge.

All limits of the sheet Job hold at the gauge plane. What is measured elsewhere is brought there by the taper, so that
one pair of limits judges every part: that is the same as moving the limits to the place (`sheetfuncs.tapers`).
A place is the distance from the small end outside, and from the face, where the gauge plane is, inside. A parallel
thread is moved by nothing, and nothing here shows on it.

Set-over of the tailstock: half of what the taper comes to over the whole length of the work, wherever on it the taper
is (J. Rose, Modern Machine-Shop Practice, vol. I; F. D. Jones, Turning and Boring: both seen in public scans).
"""

from __future__ import annotations

from collections.abc import Callable

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    at_least,
    at_most,
    blank,
    fixed,
    here,
    known,
    length,
    node,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets.inputs import Check, Input
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Line,
    Table,
    block,
    deep,
    entry,
    line,
    shown,
    table,
)
from workbook_template.sheets.threads_table import CHOSEN, INSIDE

PLACE = Check("decimal", "0", operator="greaterThanOrEqual", refusal="Type a distance, 0 or more, in the working unit.")
MEASURED_AT = Input(
    "measured_at", "Measured at", "taper: where blank and wires are measured", "entry", PLACE,
    "Taper thread: distance of the single wire, and of the blank as measured, from the small end (inside: from the "
    "face), working unit. Empty: the gauge plane.",
)  # fmt: skip

BITS = 0.000001
BY_WRENCH = known(the.own_by_wrench)
"""Whether it is a thread of ASME B1.20.1: that standard alone names a plane by the wrench."""


# ---- Along the axis


def fall(place: Node) -> Node:
    """What a diameter at a place lacks to that at the gauge plane; less than nothing beyond it."""
    return the.own_taper * when(INSIDE, place, the.taper_gauge - place)


def when_taper(told: Part, otherwise: Part = "") -> Node:
    """What stands there for a taper thread, and what for another."""
    return when(the.tapered, told, otherwise)


def _of(own: Node) -> Node:
    return when_taper(when(known(own), own * the.own_to_working))


def believed(place: Node, least: Node, most: Node) -> Node:
    """A place, where it is a number between two others; nothing where not."""
    return when(known(place), when(all_of(place >= least - BITS, place <= most + BITS), place))


def _place() -> Node:
    typed = believed(the.measured_at, the.taper_first, the.taper_last)
    return when_taper(when(blank(the.measured_at), when(INSIDE, 0, the.taper_gauge), typed))


def asked(where: Node | str) -> Node:
    """What to type where a place is missing or is none."""
    return say(
        where, ": type the distance from the ", the.taper_from, ", ", at_least(the.taper_first), " to ",
        at_most(the.taper_last), " ", the.unit_text,
        when(INSIDE, ".", ", so that all wires lie in full grooves."),
    )  # fmt: skip


def _minutes(degrees: Node) -> Node:
    """An angle in degrees and minutes."""
    minutes = xl.ROUND(60 * degrees, 0)
    whole = xl.INT(minutes / 60)
    return say(whole, "°", minutes - 60 * whole, "'")


WORKING = (
    Figure("tapered", "whether it is a taper thread", when(CHOSEN, the.own_taper > 0, False)),
    Figure("taper_gauge", "distance of the gauge plane from the small end", _of(the.own_gauge_plane), "length"),
    Figure("taper_deep", "the last full thread: from the small end outside, from the face inside",
           when_taper(when(INSIDE, the.own_gauge_plane + when(BY_WRENCH, the.own_by_wrench, 0), the.own_full_to)
                      * the.own_to_working), "length"),
    Figure("taper_first", "the first place where what is measured is full",
           when_taper(when(INSIDE, 0, the.pitch / 2)), "length"),
    Figure("taper_last", "the last one: over wires half a pitch short of the last full thread",
           when_taper(the.taper_deep - when(INSIDE, 0, the.pitch / 2)), "length"),
    Figure("taper_from", "what places are measured from", when_taper(when(INSIDE, "face", "small end"))),
    Figure("taper_plane", "name of the gauge plane", when_taper(when(BY_WRENCH, "hand-tight plane L1", "gauge plane"))),
    Figure("taper_place", "where blank and wires are measured, nothing for a wrong place", _place(), "length"),
    Figure("taper_fault", "what is wrong with that place",
           when_taper(when(known(the.taper_place), "", asked("Measured at")))),
    Figure("taper_rise", "what a diameter there is over that at the gauge plane; 0 for a parallel thread",
           when_taper(when(known(the.taper_place), -fall(the.taper_place), 0), 0)),
    Figure("taper_lean", "cosine of half the taper's angle; 1 for a parallel thread",
           when_taper(1 / xl.SQRT(1 + (the.own_taper / 2) ** 2), 1)),
    Figure("taper_sharp", "depth of the sharp V to that of a parallel thread, 1 for one",
           when_taper(1 - (the.own_taper / 2) ** 2 * xl.TAN(xl.RADIANS(the.flank_leading))
                      * xl.TAN(xl.RADIANS(the.flank_trailing)), 1)),
    Figure("taper_half_angle", "half the taper's angle, degrees and minutes",
           when_taper(_minutes(xl.DEGREES(xl.ATAN2(1, the.own_taper / 2))))),
    Figure("taper_ratio", "length in which the diameter changes by 1", when_taper(xl.ROUND(1 / the.own_taper, 0))),
    Figure("taper_turn", "what one turn of the gauge is on the diameter", when_taper(the.pitch * the.own_taper),
           "length"),
)  # fmt: skip


def reading(size: Node, wire: Node) -> Node:
    """Over three wires on a taper at the plane of the single wire: sheetfuncs.wires, without the lead angle."""
    return the.taper_lean * (size + wire * (the.wire_rise - 1) - two_bottoms()) + wire


def two_bottoms() -> Node:
    """Twice the depth of the sharp bottom below the pitch line, as wires lie in it: less by a trace on a taper."""
    return 2 * the.half_height * the.taper_sharp


def turns_off(pitch: Node) -> Node:
    """Turns of the gauge by which a thread is large, less than 0 where small, from its pitch diameter there."""
    return (pitch - the.pitch_diameter_basic) / the.taper_turn


# ---- The planes


PLANES = 4


def _planes() -> tuple[Callable[[int], Node], Callable[[int], Node]]:
    """Name and place of each plane."""
    full, formed = the.taper_deep, the.own_formed_to * the.own_to_working
    beyond = formed > full + BITS
    ends = when(beyond, "last perfect thread, L5", "useful thread ends")
    outside = (
        (say("small end", when(BY_WRENCH, ", E0")), node(0)),
        (the.taper_plane, the.taper_gauge),
        (ends, full),
        (when(beyond, "effective thread, L2"), when(beyond, formed)),
    )
    inside = (
        (say("face, ", the.taper_plane), node(0)),
        (node("end of the pipe, by hand"), the.taper_gauge),
        (when(BY_WRENCH, "the same, wrench, L3"), when(BY_WRENCH, full)),
        (node(""), node("")),
    )

    def of(part: int) -> Callable[[int], Node]:
        return lambda row: when_taper(when(INSIDE, inside[row - 1][part], outside[row - 1][part]))

    return of(0), of(1)


def _along() -> Table:
    """A line for each plane that the standard names; THREAD_TAPER_PLANES as formulas."""
    name, place = _planes()
    there = known(here.distance)
    low = fall(here.distance)
    full = when(there, here.distance <= the.taper_deep + BITS, False)

    def sized(name: str, head: Node | str, meaning: str, size: Node, holds: Node, wide: int = 1) -> Column:
        meaning = f"{meaning} at each plane of a taper thread"
        return Column(name, when_taper(head), meaning, wide, when(holds, size - low), "length", "note_right",
                      head_look="note_right")  # fmt: skip

    crest = when(INSIDE, "bore", "blank")
    return Table("taper_plane", (
        Column("name", when_taper(say("Taper 1 in ", the.taper_ratio)), "names of the planes", 3, name,
               look="note_left", head_look="note_bold"),
        Column("distance", when_taper(say("from ", the.taper_from)), "distance from small end or face", 2,
               place, "length", "note_right", head_look="note_right"),
        Column("turns", when_taper("turns"), "the same in turns", 1, when(there, here.distance / the.pitch),
               "0.00", "note_right", head_look="note_right"),
        sized("pitch_diameter", "pitch dia.", "basic pitch diameter", the.pitch_diameter_basic, there),
        sized("max", "max", "largest pitch diameter", the.pitch_diameter_max, there),
        sized("min", "min", "smallest pitch diameter", the.pitch_diameter_min, there),
        sized("blank_max", say(crest, " max"), "largest blank or bore", the.crest_max, full, 2),
        sized("blank_min", "min", "smallest blank or bore", the.crest_min, full),
    ), PLANES, NOTE, NOTE, page=("taper_planes", "sizes along a taper thread, as shown"))  # fmt: skip


# ---- In words


def _set_up() -> Node:
    """How the taper is got, for the blank and then for the thread."""
    attachment = say("Half angle ", the.taper_half_angle, ": taper attachment, proved with an indicator on the ",
                     the.blank_word, ", its play taken up before the tool cuts")  # fmt: skip
    set_over = say("; or between centres, tailstock set over by 1/", 2 * the.taper_ratio,
                   " of the whole length of the work, wherever the taper is, and trued again afterwards")  # fmt: skip
    return when_taper(say(
        "Turn the ", the.blank_word, " to the same taper first. ", attachment, when(INSIDE, "", set_over),
        ". Tool square to the axis, not to the cone.",
    ))  # fmt: skip


def gauge_words() -> Node:
    """What the ring or plug must do, in turns."""
    gauge = when(INSIDE, "Plug", "Ring")
    source = when(BY_WRENCH, "ASME B1.20.1", "ISO 7-1")
    either = say(the.own_gauge_turns, when(the.own_gauge_turns.same(1), " turn", " turns"))
    right = when(
        BY_WRENCH,
        say(gauge, " by hand, its ", when(INSIDE, "notch flush with the face", "face flush with the end"), ": basic"),
        say("Gauge plane ", when(INSIDE, "at the face", say(length(the.taper_gauge), " from the end")), ": basic"),
    )
    return when_taper(say(
        right, "; ", either, " either way is in (", source, "). A turn is ", length(the.pitch), " along the axis, ",
        length(the.taper_turn), " on the diameter. ",
        when(INSIDE, "Plug too deep: large.", "Ring stands out: large, cut on; on too far: small."),
    ))  # fmt: skip


def _place_words() -> Node:
    """The place of the readings, and how what is aimed at changes with it."""
    highest, lowest = (the[f"pitch_diameter_{end}"] + the.taper_rise for end in ("max", "min"))
    step = when(the.unit_text.same("mm"), 1, 0.1)
    return when_taper(when(
        known(the.taper_place),
        say("Measured at ", length(the.taper_place), " from the ", the.taper_from, ": pitch diameter ", length(lowest),
            " to ", length(highest), " there. ", step, " ", the.unit_text, " further on all is ",
            fixed(step * the.own_taper, the.decimals + 1), when(INSIDE, " less", " more"), ", the reading too."),
        the.taper_fault,
    ))  # fmt: skip


def remark() -> Node:
    """Beside the place: which is used."""
    used = when(blank(the.measured_at), say("empty: ", length(the.taper_place)), say("from the ", the.taper_from))
    return when_taper(when(known(the.taper_place), used, "not in full grooves"))


def along() -> Block:
    """Sizes along a taper thread, twelve columns wide; for another nothing is to be seen."""
    return table(_along())._replace(repeated=-1)


def how() -> Block:
    """How the taper is got and gauged, in words."""
    return block(
        None,
        line(shown(12, Figure("taper_setting", "how the taper is got, in words", _set_up()), "body"), height=45),
        line(shown(12, Figure("taper_gauge_words", "what ring or plug must do, in words", gauge_words()), "body"),
             height=45),
    )  # fmt: skip


def place_entry() -> tuple[Line, ...]:
    """The place of the readings, six columns wide: it takes its box where the thread is a taper."""
    beside = Figure("measured_at_words", "which place is used", remark())
    label = Figure("measured_at_label", "what is asked for of a taper thread", when_taper(MEASURED_AT.label))
    asked_for = line(
        shown(2, label, "label_wrapped"),
        entry(2, MEASURED_AT, look="asked_number"),
        shown(2, beside, "aside"),
    )
    told = Figure("taper_place_words", "where is measured, in words", _place_words())
    return asked_for, *deep(shown(6, told, "body_small", lines=2))


def on_card() -> Node:
    """Blank or bore as a cone, and pitch diameters: a line of Card."""
    wanted = the.thread_length
    thread_end = when(known(wanted), when(wanted > 0, wanted, the.taper_deep), the.taper_deep)
    at_gauge = say(length(the.pitch_diameter_basic), " at ", when(BY_WRENCH, "L1 "), length(the.taper_gauge))
    outside = say(length(the.pitch_diameter_basic - fall(node(0))), " at end, ", at_gauge)
    return say(
        when(INSIDE, "Bore ", "Blank "), length(the.blank_aim - fall(node(0))), when(INSIDE, " at face, ", " at end, "),
        length(the.blank_aim - fall(thread_end)), " at ", length(thread_end), ", ±",
        length((the.blank_max - the.blank_min) / 2), ". Pitch dia. ",
        when(INSIDE, say(length(the.pitch_diameter_basic), " at face"), outside), ".",
    )  # fmt: skip


def gauge_in_short() -> Node:
    """What ring or plug must do, for Card."""
    right = when(
        BY_WRENCH,
        when(INSIDE, "Plug by hand, notch flush", "Ring by hand, end flush"),
        say("Gauge plane ", when(INSIDE, "at the face", say(length(the.taper_gauge), " from the end"))),
    )
    turns = when(the.own_gauge_turns.same(1), " turn", " turns")
    return say(right, ": basic; ", the.own_gauge_turns, turns, " off either way is in, ", length(the.pitch), " a turn.")


def over_wires_head(end: str) -> Figure:
    """The head of a reading over wires on Card, with its place on a taper."""
    there = when(known(the.taper_place), say("Over wires at ", length(the.taper_place), f", {end}"))
    head = when_taper(there, f"Over wires, {end}")
    return Figure(f"card_over_wires_{end}_head", f"heading of the reading over wires, {end}", head)
