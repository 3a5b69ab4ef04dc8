"""Limits before a coating, to which Job, Setup and Card work at the lathe: THREAD_BEFORE_COATING as trees.

A coating adds twice its thickness to a diameter, and more to the pitch diameter (`sheetfuncs.functional` has the
derivation and its sources). The limits of the finished part hold after coating: those of its class, but that the
allowance of a Unified or ISO metric thread is there for the coating, so that it may come to basic size (ASME
B1.1-2003, section 7; ISO 965-1).
"""

from __future__ import annotations

from sheetfuncs import functional
from sheetfuncs.estimating import NOISE
from sheetfuncs.standards import SYSTEMS
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
from workbook_template.figures.tree import Node
from workbook_template.sheets.inputs import LENGTH, LENGTH_OR_NONE, Input
from workbook_template.sheets.threads_table import CHOSEN, INSIDE, OUTSIDE

INPUTS = (
    Input("thinnest_coating", "thinnest", "least thickness of the coating", "entry", LENGTH_OR_NONE,
          "Least thickness on the surface, working unit. Both empty: the part is not coated."),
    Input("thickest_coating", "thickest", "greatest thickness of the coating", "entry", LENGTH,
          "Greatest thickness on the surface, working unit."),
)  # fmt: skip

WHICH = ("major", "pitch", "minor")
THIN, THICK = the.thinnest_coating, the.thickest_coating
ASKED = any_of(*(xl.IFERROR(given(typed), True) for typed in (THIN, THICK)))
"""Whether a thickness is typed, right or wrong; also an error value, which would otherwise stand in every sheet."""

ALLOWANCE = the.coating_allowance
"""Without one, crest and pitch diameter stand off basic size by nothing but how they are rounded; the root clears."""
_OF_TITLE = any_of(*(the.thread_system.same(SYSTEMS[key].title) for key in functional.TO_BASIC))

ON_SURFACE = node(2)
ALONG_AXIS = 1 / xl.COS(xl.RADIANS(the.flank_leading)) + 1 / xl.COS(xl.RADIANS(the.flank_trailing))
"""How many times its thickness a coating narrows the groove, which is half a pitch wide at the pitch line."""
ON_FLANKS = 2 * ALONG_AXIS / the.flank_spread
"""How many times its thickness it adds to the pitch diameter; to a plain diameter twice."""


def thickness() -> Node:
    """Its range, in words; a digit more than sizes have."""
    digits = the.decimals + 1
    return say(fixed(THIN, digits), " to ", fixed(THICK, digits), " ", the.unit_text)


def figures() -> tuple[Figure, ...]:
    """The limits to cut to, in order; nothing where there is no coating or it can't be."""
    found = [figure for which in WHICH for figure in _of(which)]
    return (
        Figure(
            "coating_allowance",
            "whether the thread has an allowance that a coating may take up",
            when(CHOSEN, all_of(the.own_allowance > 0, _OF_TITLE), False),
        ),
        Figure("coating_entry", "what is wrong with the thickness that is typed", _entry()),
        *found,
        Figure("coating_fault", "why there are no limits before coating", _fault()),
    )


def _of(which: str) -> tuple[Figure, ...]:
    """How much of the coating the allowance does not take, and the limits moved."""
    factor = ON_FLANKS if which == "pitch" else ON_SURFACE
    largest, smallest, short = (
        the[f"{which}_diameter_max"],
        the[f"{which}_diameter_min"],
        the[f"coating_{which}_diameter_short"],
    )
    most_metal = when(INSIDE, smallest, largest)
    nominal = _nominal(which)
    off_basic = when(INSIDE, most_metal - nominal, nominal - most_metal)
    may_stand_off = {"major": any_of(INSIDE, ALLOWANCE), "pitch": ALLOWANCE, "minor": any_of(OUTSIDE, ALLOWANCE)}
    spare = when(all_of(known(most_metal), may_stand_off[which]), xl.MAX(0, off_basic), 0)
    ready = all_of(CHOSEN, ASKED, the.coating_entry.same(""))
    by_short, by_thin = (when(short <= NOISE, 0, moved) for moved in (short, factor * THIN))

    def moved(end: Node, inside: Node, outside: Node) -> Node:
        return when(known(short), when(known(end), end + when(INSIDE, inside, -outside)))

    return (
        Figure(short.name, f"what the allowance of the {which} diameter lacks for the thickest coating",
               when(ready, factor * THICK - spare), "length"),
        Figure(f"coating_{which}_diameter_max", f"largest {which} diameter moved for the coating",
               moved(largest, by_thin, by_short), "length"),
        Figure(f"coating_{which}_diameter_min", f"smallest {which} diameter moved for the coating",
               moved(smallest, by_short, by_thin), "length"),
    )  # fmt: skip


def results() -> tuple[Figure, ...]:
    """The limits before coating."""
    return tuple(
        Figure(f"uncoated_{which}_diameter_{end}", f"{words} {which} diameter before coating",
               when(the.coating_fault.same(""), the[f"coating_{which}_diameter_{end}"]), "length")
        for which in WHICH for end, words in (("max", "largest"), ("min", "smallest"))
    )  # fmt: skip


def to_cut() -> tuple[Figure, ...]:
    """The limits that hold at the lathe: before coating where the part is coated, else those of the thread."""
    crest = {end: when(INSIDE, the[f"uncoated_minor_diameter_{end}"], the[f"uncoated_major_diameter_{end}"])
             for end in ENDS}  # fmt: skip
    return (
        *(Figure(f"cut_pitch_diameter_{end}", f"{words} pitch diameter to cut, before any coating",
                 when(ASKED, the[f"uncoated_pitch_diameter_{end}"], the[f"pitch_diameter_{end}"]))
          for end, words in ENDS.items()),
        *(Figure(f"cut_crest_{end}", f"{words} blank or bore to make, before any coating",
                 when(ASKED, crest[end], the[f"crest_{end}"])) for end, words in ENDS.items()),
    )  # fmt: skip


ENDS = {"max": "largest", "min": "smallest"}


COATED = all_of(ASKED, the.coating_entry.same(""))
"""Whether both ends of it are typed and can be: the part is judged as coated."""


REFUSED = all_of(ASKED, the.coating_fault.differs(""))
"""Whether a coating is asked for that can't be."""


def finished() -> tuple[Figure, ...]:
    """The limits of most metal of the finished part: past those of the class where these stand off basic size."""

    def of_most_metal(which: str, end: str) -> Figure:
        inside = end == "min"
        limit, nominal = the[f"{which}_diameter_{end}"], _nominal(which)
        basic = xl.MIN(limit, nominal) if inside else xl.MAX(limit, nominal)
        may_be_basic = all_of(INSIDE if inside else OUTSIDE, the.coated_to_basic)
        words = f"{ENDS[end]} {which} diameter of the finished part: basic size where a coating takes up the allowance"
        return Figure(f"part_{which}_diameter_{end}", words,
                      when(known(limit), when(may_be_basic, basic, limit)), "length")  # fmt: skip

    return (
        Figure("coated_to_basic", "whether a coating may take up an allowance", all_of(COATED, ALLOWANCE)),
        *(of_most_metal(which, end) for which, end in MOST_METAL),
        Figure("part_tolerance", "pitch diameter tolerance of the finished part",
               when(xl.COUNT(*(of_finished("pitch", end) for end in ENDS)).same(2),
                    of_finished("pitch", "max") - of_finished("pitch", "min")), "length"),
    )  # fmt: skip


MOST_METAL = (("major", "max"), ("pitch", "max"), ("pitch", "min"), ("minor", "min"))
"""Crest and pitch diameters where they have most metal. The root is for reference: its limits stay."""


def of_finished(which: str, end: str) -> Node:
    """A limit that the finished part is judged by."""
    return the[f"part_{which}_diameter_{end}" if (which, end) in MOST_METAL else f"{which}_diameter_{end}"]


def _nominal(which: str) -> Node:
    return the[f"own_{which}_diameter_nominal"] * the.own_to_working


def _to_basic() -> Node:
    """What a coating that takes up the allowance brings the pitch diameter to."""
    most_metal = when(INSIDE, of_finished("pitch", "min"), of_finished("pitch", "max"))
    of_class = when(INSIDE, the.pitch_diameter_min, the.pitch_diameter_max)
    past = when(known(most_metal), xl.ABS(most_metal - of_class) > NOISE, False)
    return when(past, say(", to basic pitch dia. ", length(most_metal)))


TO_BASIC = _to_basic()


def _entry() -> Node:
    both = xl.COUNT(THIN, THICK).same(2)
    return first(
        (no(ASKED), ""),
        (no(both), "Coating: type its least and its greatest thickness as numbers, or empty both."),
        (any_of(THIN < 0, THICK <= 0), "Coating: a thickness is a number more than zero."),
        (THIN > THICK, "Coating: the thinnest is more than the thickest; swap them."),
    )


def _fault() -> Node:
    def nothing_left(which: str) -> Node:
        ends = the[f"coating_{which}_diameter_max"], the[f"coating_{which}_diameter_min"]
        return when(
            xl.COUNT(*ends).same(2), all_of(the[f"coating_{which}_diameter_short"] > NOISE, ends[0] <= ends[1]), False
        )

    return first(
        (no(ASKED), "no coating"),
        (the.coating_entry.differs(""), the.coating_entry),
        (no(CHOSEN), "Choose the thread."),
        *(
            (
                nothing_left(which),
                f"Coating: this thickness leaves no tolerance of the {which} diameter; agree another.",
            )
            for which in WHICH
        ),
        (the.pitch <= 2 * ALONG_AXIS * THICK, "Coating: this thickness fills the groove; check its unit."),
    )


def words() -> Node:
    """The limits before coating in words; nothing where there is no coating."""

    def limits(which: str) -> Node:
        largest, smallest = the[f"uncoated_{which}_diameter_max"], the[f"uncoated_{which}_diameter_min"]
        both = say(length(largest), " to ", length(smallest))
        one = when(known(largest), say(length(largest), " max"), say(length(smallest), " min"))
        found = when(xl.COUNT(largest, smallest).same(2), both, one)
        return when(xl.COUNT(largest, smallest) > 0, say(", ", which, " ", found))

    return first(
        (no(ASKED), ""),
        (the.coating_fault.differs(""), the.coating_fault),
        otherwise=say(
            "COATED AFTERWARDS, ", thickness(), ": before it cut to", xl.MID(say(*map(limits, WHICH)), 2, 255),
            ". So are the blank, Setup and Card. Log and certificate judge the coated part", TO_BASIC, ".",
        ),
    )  # fmt: skip
