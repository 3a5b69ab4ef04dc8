"""The tool tip on the sheet Setup: how far it stays above the sharp bottom, and which tips the thread does not take."""

from __future__ import annotations

from sheetfuncs.roots import NOISE, ROUNDING
from sheetfuncs.standards import unified
from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    at_least,
    at_most,
    first,
    known,
    length,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import coating
from workbook_template.sheets.existing import BITS, REPAIR
from workbook_template.sheets.inputs import LENGTH, believed
from workbook_template.sheets.taper_figures import when_taper
from workbook_template.sheets.threads_table import INSIDE

HALF_SUM = xl.RADIANS((the.flank_leading + the.flank_trailing) / 2)
HALF_DIFFERENCE = xl.RADIANS((the.flank_leading - the.flank_trailing) / 2)
OF_NOSE = xl.COS(HALF_DIFFERENCE) / xl.SIN(HALF_SUM) - 1
"""How far a nose of radius 1 stays above the sharp bottom; a flat of 1 stays 1 / `flank_spread`."""

ROUND_ROOT = known(xl.FIND(f" {unified.ROUNDED}", the.row_size))
"""Whether the thread is one of a series that a rounded root makes."""

_ROUNDING = when(the.own_unit.same("mm"), ROUNDING["mm"], ROUNDING["in"]) * the.own_to_working
_OWN = when(known(the.own_root_tip), the.own_root_tip * the.own_to_working, 0)
"""The tip of the standard's own root is always taken (`sheetfuncs.roots`)."""

_ROOT = say("the ", when(INSIDE, "major", "minor"), " diameter")

LEAST_TIP_MM = 0.03
"""No tip is ground as small as that on purpose; tips of .001 to .03 in are usual: common practice."""
IN_INCHES = when(
    all_of(
        the.unit_text.same("mm"), the.tip_kind_used.differs("sharp"), known(the.tip_shortening), known(the.tip_room)
    ),
    when(the.tip_size < LEAST_TIP_MM, the.tip_shortening * MM_PER_INCH <= the.tip_room, False),
    False,
)
"""Whether the size of the tip is believable in inches alone; such a slip would feed a sharp tip's depth."""

TOO_BLUNT = the.tip_shortening > the.tip_room + NOISE
TOO_NARROW = the.tip_shortening < the.tip_least - NOISE


def _shortening() -> Node:
    return first(
        (the.tip_kind_used.same("sharp"), 0),
        (no(all_of(believed(LENGTH, the.tip_size), known(the.flank_spread))), ""),
        (the.tip_kind_used.same("flat"), the.tip_size / the.flank_spread),
        otherwise=the.tip_size * OF_NOSE,
    )


def _room_to(diameter: Node, at_pitch_line: Node) -> Node:
    """How far a root of that diameter is from the sharp bottom."""
    return the.half_height - the.outward * (at_pitch_line - diameter) / 2


def _mate_room() -> Node:
    coated = when(coating.ASKED, 2 * the.outward * the.thickest_coating, 0)  # the root is coated too
    at_pitch_line = when_taper(the.pitch_diameter_basic, the.pitch_diameter_aimed + coated)
    return when(known(the.pitch_diameter_aimed), _room_to(the.root_clear, at_pitch_line) + _ROUNDING)


def _edge() -> Node:
    """As `sheetfuncs.roots.mating_edge`."""
    most_metal = when(INSIDE, the.pitch_diameter_min, the.pitch_diameter_max)
    none = any_of(the.tapered, the.crest_rounding > 0, known(the.root_radius_min))
    return first((none, ""), (known(most_metal), _room_to(the.root_clear, most_metal)))


def _nose_room() -> Node:
    """As `sheetfuncs.forms.largest_nose`."""
    height, edge = the.tip_mate_room, the.mating_edge
    on_flank = height * xl.TAN(HALF_SUM) / xl.COS(xl.RADIANS(xl.MIN(the.flank_leading, the.flank_trailing)))
    deeper = xl.TAN(HALF_SUM) ** 2 * xl.SQRT(xl.MAX(0, height**2 - edge**2))
    like = the.flank_leading.same(the.flank_trailing)
    largest = on_flank + when(like, deeper, 0) + _ROUNDING
    return when(all_of(known(height), known(edge)), largest * OF_NOSE)


def _root_limit(inside: tuple[str, str], outside: tuple[str, str]) -> Node:
    """A limit of the root before any coating; none for reference, on a taper, and where a root radius is demanded."""

    def binding(which: str, end: str) -> Node:
        size, note = the[f"{which}_diameter_{end}"], the[f"{which}_diameter_{end}_note"]
        to_cut = when(coating.ASKED, the[f"uncoated_{which}_diameter_{end}"], size)
        return when(all_of(known(size), note.same("")), to_cut)

    other_rule = any_of(the.tapered, known(the.root_radius_min))
    return first((other_rule, ""), (INSIDE, binding(*inside)), otherwise=binding(*outside))


def _flat_room() -> Node:
    to_limit = _room_to(the.root_nearest, the.pitch_diameter_aimed) + _ROUNDING
    of_both = when(known(the.root_nearest), xl.MIN(the.tip_mate_room, to_limit), the.tip_mate_room)
    return when(known(the.tip_mate_room), xl.MAX(of_both, _OWN))


_BOUNDED_NOSE = all_of(the.tip_kind_used.same("nose radius"), known(the.tip_nose_room))


def _room() -> Node:
    of_nose = xl.MIN(the.tip_nose_room, the.tip_flat_room)
    return when(known(the.tip_flat_room), when(_BOUNDED_NOSE, of_nose, the.tip_flat_room))


def _least() -> Node:
    to_limit = _room_to(the.root_farthest, the.pitch_diameter_aimed) - _ROUNDING
    ready = all_of(known(the.root_farthest), known(the.pitch_diameter_aimed))
    return when(ready, when(known(the.own_root_tip), xl.MIN(to_limit, _OWN), to_limit), 0)


def _radius(end: str) -> Node:
    demanded = the[f"own_radius_{end}"]
    return when(known(demanded), demanded * the.own_to_working)


def _radius_wrong() -> Node:
    outside = any_of(the.tip_size < the.root_radius_min - BITS, the.tip_size > the.root_radius_max + BITS)
    no_radius = any_of(the.tip_kind_used.differs("nose radius"), no(known(the.tip_size)))
    too_small = any_of(
        the.tip_kind_used.differs("nose radius"), the.tip_size < unified.ROUNDED_RADIUS[0] * the.pitch - BITS
    )
    return first(
        (known(the.root_radius_min), when(no_radius, True, outside)),
        otherwise=when(ROUND_ROOT, too_small, False),
    )


def radius_words() -> Node:
    """That the thread wants a nose radius, and of which size."""
    least, most = (share * the.pitch for share in unified.ROUNDED_RADIUS)
    round_root = say(
        "This thread has a rounded root, which makes it ", unified.ROUNDED, ": use a nose radius of ",
        at_least(least), " ", the.unit_text, " or more; a full radius is at most ", at_most(most), ".",
    )  # fmt: skip
    demanded = say(
        "This thread must have a root radius of ", at_least(the.root_radius_min), " to ",
        at_most(the.root_radius_max), " ", the.unit_text, "; use a nose radius in that range.",
    )  # fmt: skip
    return when(ROUND_ROOT, round_root, demanded)


def _sized() -> Node:
    return say("A ", the.tip_kind_used, " of ", length(the.tip_size), " ", the.unit_text)


def _past(limit: Node) -> Node:
    return say(" ", length(the.root_cut), ", past its limit ", length(limit))


_FLAT = say("a flat of ", at_least(the.tip_least * the.flank_spread), " ", the.unit_text)
_LEAST_FLAT = say("; no nose radius serves, at this size ", _FLAT, " is the least.")


def blunt_words() -> Node:
    """What a tip too blunt would do, and what serves."""
    bluntest = the.tip_room / the.tip_shortening * the.tip_size
    over_edges = when(_BOUNDED_NOSE, the.tip_shortening > the.tip_nose_room, False)
    fouls = any_of(the.tip_shortening > the.tip_mate_room + NOISE, over_edges)
    why = when(
        fouls, "the root would foul the mating thread", say("it would leave ", _ROOT, " at", _past(the.root_nearest))
    )
    most = say("; at this size ", at_most(bluntest), " ", the.unit_text, " is the most.")
    return say(_sized(), " is too blunt: ", why, when(the.tip_least > the.tip_room, _LEAST_FLAT, most))


def narrow_words() -> Node:
    """What a tip narrower than the root would do, and what serves."""
    nose = say("a nose radius of ", at_least(the.tip_least / OF_NOSE), " ", the.unit_text)
    no_nose = when(known(the.tip_nose_room), the.tip_least > the.tip_nose_room, False)
    of_kind = first(
        (any_of(the.tip_kind_used.same("flat"), no_nose), _FLAT),
        (the.tip_kind_used.same("sharp"), say(_FLAT, " or ", nose)),
        otherwise=nose,
    )
    named = when(the.tip_kind_used.same("sharp"), "A sharp tip", _sized())
    return say(
        named,
        " is too narrow: it would cut ",
        _ROOT,
        " to",
        _past(the.root_farthest),
        "; at this size ",
        of_kind,
        " is the least.",
    )


_BASIC_MAJOR = when(
    known(the.own_major_diameter_nominal), the.own_major_diameter_nominal * the.own_to_working, the.diameter
)
"""Of an NPT thread the diameter is that of the pipe."""


def sharp_words() -> Node:
    """What the figure for a sharp tip would do with the tip in use."""
    cut, least, most = the.pitch_diameter_if_sharp, the.cut_pitch_diameter_min, the.cut_pitch_diameter_max
    scrap_in, scrap_out = when(INSIDE, ": scrap.", "."), when(INSIDE, ".", ": scrap.")
    judged = first(
        (cut < least, say(": under its minimum by ", length(least - cut), scrap_out)),
        (cut > most, say(": over its maximum by ", length(cut - most), scrap_in)),
        otherwise=", still inside its limits.",
    )
    return first(
        (no(known(the.depth)), the.setup_fault),
        (REPAIR, "The thread exists: on its flanks every tip is fed the same."),
        (
            all_of(the.tip_shortening.same(0), INSIDE),
            say("A sharp tip cuts the major diameter to ", length(the.root_cut), ", ",
                length(the.root_cut - _BASIC_MAJOR), " over basic: a thin wall and a sharp corner that no plug shows."),
        ),
        (
            the.tip_shortening.same(0),
            "This is a sharp tip: its figure fits no other tip. With a flat or a nose it would cut too deep.",
        ),
        otherwise=say("With this tip, the figure for a sharp one would cut a pitch diameter of ", length(cut), " ",
                      the.unit_text, judged),
    )  # fmt: skip


WORKING = (
    Figure("tip_shortening", "how far the tip stays above the sharp bottom", _shortening()),
    Figure("root_nearest", "limit of the root nearest to the pitch line, where the standard sets one",
           _root_limit(("major", "min"), ("minor", "max"))),
    Figure("root_farthest", "limit of the root farthest from it, where the standard sets one",
           _root_limit(("major", "max"), ("minor", "min"))),
    Figure("tip_mate_room", "the most that a flat may stay above the sharp bottom for the mating thread",
           _mate_room()),
    Figure("mating_edge", "how far the edges of the mating crest are above it where the groove is least deep", _edge()),
    Figure("tip_nose_room", "the most that a nose may, which rises into these edges", _nose_room()),
    Figure("tip_flat_room", "the most that a flat may, for the limit of the root too", _flat_room()),
    Figure("tip_room", "the most that the tip in use may", _room()),
    Figure("tip_least", "the least that it must, for that limit", _least()),
    Figure("root_radius_min", "smallest root radius, where one is demanded", _radius("min")),
    Figure("root_radius_max", "largest root radius, where one is demanded", _radius("max")),
    Figure("radius_wrong", "whether the tip is not the root radius that is demanded", _radius_wrong()),
    Figure("root_cut", "diameter at the root as this tip cuts it at the aim",
           when(all_of(known(the.pitch_diameter_aimed), known(the.tip_shortening)),
                the.pitch_diameter_aimed - 2 * the.outward * (the.half_height - the.tip_shortening))),
    Figure("pitch_diameter_if_sharp", "pitch diameter if the sharp figure were cut with this tip",
           when(all_of(known(the.depth), no(REPAIR)), the.pitch_diameter_aimed - 2 * the.outward * the.tip_shortening)),
)  # fmt: skip
"""The figures behind them."""
