"""The block "Last passes" on the sheet Setup: from the reading over wires to what is left to feed on the compound.

The arithmetic is that of sheetfuncs.lathe.feed_left: half of what the reading is over the limit's reading, on the
radius, and the compound travels that over the cosine of its angle.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    blank,
    first,
    fixed,
    here,
    known,
    length,
    no,
    say,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import contact
from workbook_template.sheets.existing import BITS
from workbook_template.sheets.inputs import LENGTH, Input, chosen, misread
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Line,
    Table,
    block,
    entry,
    line,
    shown,
    table,
    words,
)
from workbook_template.sheets.threads_table import CHOSEN, INSIDE
from workbook_template.trade import verdict

DIVISION_KNOWN = known(the.feed_fall)
"""Whether a division of the dial is a number more than zero."""


def _fault() -> Node:
    reading, crest = the.reading_now, the.reading_crest
    division = when(DIVISION_KNOWN, say(" (", length(the.feed_fall), " on the diameter)"))
    return first(
        (no(CHOSEN), "Choose the thread on the sheet Job first."),
        (the.taper_fault.differs(""), the.taper_fault),
        (
            INSIDE,
            say(
                "Internal: no wires. Near depth try the ",
                when(the.tapered, "taper", "GO"),
                " plug after each division",
                division,
                ".",
            ),
        ),
        (no(known(the.wire_constant)), "First name a wire that serves this thread."),
        (no(known(the.angle_cosine)), "First correct the compound angle."),
        (blank(reading), "Type what the micrometer reads over the wires now."),
        (no(known(reading)), say("The reading is not a number.", misread(reading))),
        (
            contact.nowhere_near(reading),
            say("This reading is nowhere near the thread: check its unit and the wires.", misread(reading)),
        ),
        (
            reading > crest,
            say("Over ", length(crest), " the wires lie on the crests: no reading yet. Feed on by the plan."),
        ),
    )


def _words() -> Node:
    """What to do at this reading. A limit as calculated or as shown, whichever is wider, counts as in.

    It is what the person at the lathe was told.
    """
    reading, aim, aimed = the.reading_now, the.feed_aim, the.feed_aim_reading
    highest, lowest = the.over_wires_max, the.over_wires_min
    divisions = when(DIVISION_KNOWN, say(" (", fixed(the.feed_left_aim / the.dial_used, 1), " div.)"))
    feed = say(length(the.feed_left_aim), divisions, " to ", aim)
    return first(
        (the.feed_fault.differs(""), the.feed_fault),
        (
            reading > verdict.highest_in(highest),
            say("Over the high limit by ", length(reading - highest), ". Feed ", feed,
                ", measure before the last of it."),
        ),
        (
            reading > aimed + BITS,
            say("Inside, over ", aim, " by ", length(reading - aimed), ": stop here, or feed ", feed, "."),
        ),
        (
            reading >= verdict.lowest_in(lowest),
            when(
                xl.ABS(reading - aimed) <= BITS,
                say("At ", aim, ": stop feeding."),
                say("Past ", aim, " by ", length(aimed - reading), ", still inside: stop feeding."),
            ),
        ),
        otherwise=say("STOP: past the low limit by ", length(lowest - reading),
                      ". Clean thread and wires, measure again, set the part aside."),
    )  # fmt: skip


def _of_aim(largest: Node, smallest: Node, middle: Node) -> Node:
    aim = the.feed_aim
    return first((aim.same("max"), largest), (aim.same("min"), smallest), otherwise=middle)


def _feed(reading: Part, wanted: Node) -> Node:
    """What the compound has to travel from one reading to another."""
    return (reading - wanted) / 2 / the.angle_cosine / the.taper_lean


def _divisions(feed: Node) -> Node:
    return when(all_of(known(feed), DIVISION_KNOWN), feed / the.dial_used)


_CREST = the.blank_used + the.taper_rise + the.wire_used * (1 + xl.SIN(xl.RADIANS(the.flank_steeper)))
_FALL = when(the.dial_used > 0, 2 * the.dial_used * the.angle_cosine)

WORKING = (
    Figure("over_wires_mid", "reading at the middle of the limits",
           when(known(the.wire_constant), contact.of_setup("mid"))),
    Figure("feed_aim", "what is aimed at: max, mid or min",
           first(*((chosen(the.aim_limit, end), end) for end in ("max", "min")), otherwise="mid")),
    Figure("feed_aim_reading", "reading at what is aimed at",
           _of_aim(the.over_wires_max, the.over_wires_min, the.over_wires_mid)),
    Figure("feed_left_aim", "feed to what is aimed at",
           _of_aim(the.feed_left_max, the.feed_left_min, the.feed_left_mid)),
    Figure("reading_crest", "over this reading the wires lie on the edges of the crests",
           when(all_of(known(the.wire_constant), known(the.blank_used)), _CREST)),
    Figure("feed_fall", "how much one division of the compound changes reading or pitch diameter",
           when(all_of(known(the.dial_used), known(the.angle_cosine)), _FALL)),
    Figure("feed_fault", "why there is nothing to feed by, in a sentence", _fault()),
)  # fmt: skip
"""The figures behind the block."""

LEFT = (("max", "to the high limit"), ("mid", "to mid"), ("min", "to the low limit"))


class Listed(NamedTuple):
    """A line of the list: what it reads in words, and the reading."""

    words: Part
    reading: Node


LIST = (
    *(Listed(when(DIVISION_KNOWN, f"{n} div. over"), when(DIVISION_KNOWN, the.over_wires_max + n * the.feed_fall))
      for n in (8, 4, 2)),
    Listed("high limit", the.over_wires_max), Listed("mid", the.over_wires_mid),
    Listed("low limit", the.over_wires_min),
)  # fmt: skip

READING = Input(
    "reading_now", "Reading now", "reading over wires now", "entry", LENGTH,
    "What the micrometer shows over the wires now, in the working unit. Spindle stopped.",
)  # fmt: skip


def _limit(end: str, label: str) -> Line:
    limit, feed = the[f"over_wires_{end}"], the[f"feed_left_{end}"]
    return line(
        words(2, label, "row_words"),
        shown(1, Figure(f"feed_reads_{end}", f"reading at {end}", when(known(limit), limit), "length"), "row_centred"),
        shown(2, Figure(
            f"feed_left_{end}", f"infeed on the compound from the reading now {label}; negative when past it",
            when(the.feed_fault.same(""), _feed(the.reading_now, limit)), "feed",
        ), "row_number_bold"),
        shown(1, Figure(f"feed_divisions_{end}", f"the same in divisions of the dial, {label}", _divisions(feed),
                        "divisions"), "row_number_bold"),
    )  # fmt: skip


def reading_block() -> Block:
    """From the reading now to what is left, six columns wide."""
    heads = (("", 2, "_left"), ("limit", 1, ""), ("still to feed", 2, "_right"), ("divisions", 1, "_right"))
    return block(
        "Last passes: measure, then feed",
        line(words(2, "Reading now"), entry(2, READING), words(2, "over the wires", "aside")),
        line(*(words(columns, text, f"column_head{look}") for text, columns, look in heads), height=NOTE),
        *(_limit(end, label) for end, label in LEFT),
        line(shown(6, Figure("feed_words", "what to do at this reading", _words()), "said", lines=2)),
        line(),
    )


TITLE = say("If you read this, feed that", when(known(the.pitch_diameter_aimed), say(" to ", the.aim_limit)))


def _listed() -> dict[str, Callable[[int], Node]]:
    ready = all_of(known(the.wire_constant), known(the.angle_cosine), known(the.micrometer_preset))

    def reading(row: int) -> Node:
        its = LIST[row - 1].reading
        return when(known(its), when(its > the.reading_crest, "", when(ready, its)))

    return {
        "words": lambda row: when(known(here.reading), LIST[row - 1].words),
        "reading": reading,
        "feed_left": lambda _: when(known(here.reading), _feed(here.reading, the.micrometer_preset)),
        "divisions": lambda _: _divisions(here.feed_left),
    }


TITLE_FIGURE = Figure("feed_list_title", "heading of the list", TITLE)


def list_block() -> Block:
    """If you read this, feed that: from over the high limit down to the low limit; six columns wide."""
    formula = _listed()
    return table(Table("feed_list", (
        Column("words", "", "what the reading is", 2, formula["words"], look="row_words"),
        Column("reading", "reading", "a reading over wires", 1, formula["reading"], "length", "row_number_bold"),
        Column("feed_left", "feed", "compound infeed from there to the limit aimed at; negative when past it", 2,
               formula["feed_left"], "feed", "row_number"),
        Column("divisions", "divisions", "the same in divisions", 1, formula["divisions"], "divisions", "row_number"),
    ), len(LIST)), TITLE_FIGURE)  # fmt: skip


def list_on_card(height: float) -> Block:
    """The same, large: the feed in divisions where the dial is known."""

    def of(name: str) -> Callable[[int], Node]:
        return lambda row: xl.INDEX(the[f"feed_list_{name}"], row) & ""

    def feed(row: int) -> Node:
        divisions, travel = (xl.INDEX(the[f"feed_list_{name}"], row) for name in ("divisions", "feed_left"))
        past = say("past ", fixed(-divisions, 1))
        in_divisions = when(divisions < 0, past, say(fixed(divisions, 1), " div."))
        return first((known(divisions), in_divisions), (known(travel), length(travel)))

    def reading(row: int) -> Node:
        its = xl.INDEX(the.feed_list_reading, row)
        return when(known(its), its)

    return table(Table("card_feed", (
        Column("words", "", "", 2, of("words"), look="row_words", named=False),
        Column("reading", "reading", "", 2, reading, "length", "plan_bold", named=False),
        Column("feed", "feed", "", 2, feed, look="plan", named=False),
    ), len(LIST), height, page=("card_feed", "what to feed, on the card")), the.feed_list_title & "")  # fmt: skip
