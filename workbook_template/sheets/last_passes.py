"""The block "Last passes" on the sheet Setup: from the reading over wires to what is left to feed on the compound.

The arithmetic is that of sheetfuncs.lathe.feed_left: half of what the reading is over the limit's reading, on the
radius, and the compound travels that over the cosine of its angle.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    at,
    blank,
    first,
    known,
    length,
    no,
    say,
    shown,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book
from workbook_template.sheets import contact
from workbook_template.sheets.setup_figures import BITS
from workbook_template.sheets.threads_table import CHOSEN, INSIDE

AT = 32
DIVISION_KNOWN = known(the.feed_fall)
"""Whether a division of the dial is a number more than zero."""


def _fault() -> Node:
    reading, crest = the.reading_now, the.reading_crest
    division = when(DIVISION_KNOWN, say(" (", length(the.feed_fall), " on the diameter)"))
    return first(
        (no(CHOSEN), "Choose the thread on the sheet Job first."),
        (the.own_taper > 0, "Taper: no wires here. By the plan, then by divisions until the gauge stands right."),
        (INSIDE, say("Internal: no wires. Near depth try the GO plug after each division", division, ".")),
        (no(known(the.wire_constant)), "First name a wire that serves this thread."),
        (no(known(the.angle_cosine)), "First correct the compound angle."),
        (blank(reading), "Type what the micrometer reads over the wires now."),
        (no(known(reading)), "The reading is not a number."),
        (
            xl.ABS(reading - the.wire_constant - the.pitch_basic) > 2 * the.pitch,
            "This reading is nowhere near the thread: check its unit and the wires.",
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
    highest_in = xl.MAX(highest, xl.ROUND(highest, the.decimals)) + BITS
    lowest_in = xl.MIN(lowest, xl.ROUND(lowest, the.decimals)) - BITS
    divisions = when(DIVISION_KNOWN, say(" (", shown(the.feed_to_aim / the.dial_used, 1), " div.)"))
    feed = say(length(the.feed_to_aim), divisions, " to ", aim)
    return first(
        (the.feed_fault.differs(""), the.feed_fault),
        (
            reading > highest_in,
            say("Over the high limit by ", length(reading - highest), ". Feed ", feed,
                ", measure before the last of it."),
        ),
        (
            reading > aimed + BITS,
            say("Inside, over ", aim, " by ", length(reading - aimed), ": stop here, or feed ", feed, "."),
        ),
        (
            reading >= lowest_in,
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
    return (reading - wanted) / 2 / the.angle_cosine


def _divisions(feed: Node) -> Node:
    return when(all_of(known(feed), DIVISION_KNOWN), feed / the.dial_used)


_CREST = the.blank_used + the.wire_used * (1 + xl.SIN(xl.RADIANS(the.flank_steeper)))
_FALL = when(the.dial_used > 0, 2 * the.dial_used * the.angle_cosine)

WORKING = (
    Figure("over_wires_mid", "reading at the middle of the limits",
           when(known(the.wire_constant), contact.of_setup("mid"))),
    Figure("feed_aim", "what is aimed at: max, mid or min",
           when(any_of(the.aim_limit.same("max"), the.aim_limit.same("min")), the.aim_limit, "mid")),
    Figure("feed_aim_reading", "reading at what is aimed at",
           _of_aim(the.over_wires_max, the.over_wires_min, the.over_wires_mid)),
    Figure("feed_to_aim", "feed to what is aimed at", _of_aim(the.feed_to_max, the.feed_to_min, the.feed_to_mid)),
    Figure("reading_crest", "over this reading the wires lie on the edges of the crests",
           when(all_of(known(the.wire_constant), known(the.blank_used)), _CREST)),
    Figure("feed_fall", "how much one division of the compound changes reading or pitch diameter",
           when(all_of(known(the.dial_used), known(the.angle_cosine)), _FALL)),
    Figure("feed_fault", "why there is nothing to feed by, in a sentence", _fault()),
)  # fmt: skip
"""The figures behind the block."""

LEFT = (("max", "to the high limit"), ("mid", "to mid"), ("min", "to the low limit"))


class Line(NamedTuple):
    """A line of the list: what it reads in words, and the reading."""

    words: Part
    reading: Node


LIST = (
    *(Line(when(DIVISION_KNOWN, f"{n} div. over"), when(DIVISION_KNOWN, the.over_wires_max + n * the.feed_fall))
      for n in (8, 4, 2)),
    Line("high limit", the.over_wires_max), Line("mid", the.over_wires_mid), Line("low limit", the.over_wires_min),
)  # fmt: skip

LIST_AT = AT + 8
LAST = LIST_AT + 1 + len(LIST)


def build(book: Book, ws: Worksheet) -> None:
    """The block in columns A to D."""
    blocks.heading(book, ws, f"A{AT}:D{AT}", "Last passes: measure, then feed")
    blocks.write(book, ws, f"A{AT + 1}", "Reading now", "label")
    blocks.entry(
        book, ws, f"B{AT + 1}", "reading_now", "reading over wires now", dimension="entry", check=blocks.LENGTH,
        prompt="What the micrometer shows over the wires now, in the working unit. Spindle stopped.",
    )  # fmt: skip
    blocks.write(book, ws, f"C{AT + 1}:D{AT + 1}", "over the wires", "aid")
    for letter, text in zip("ABCD", ("", "limit reads", "still to feed", "divisions")):
        blocks.write(book, ws, f"{letter}{AT + 2}", text, "head")
    for row, (end, label) in enumerate(LEFT, start=AT + 3):
        limit, feed = the[f"over_wires_{end}"], the[f"feed_to_{end}"]
        blocks.write(book, ws, f"A{row}", label, "list_left")
        blocks.result(
            book, ws, f"B{row}", f"feed_reads_{end}", f"reading at {end}", when(known(limit), limit),
            dimension="length", look="list",
        )  # fmt: skip
        blocks.result(
            book, ws, f"C{row}", f"feed_to_{end}",
            f"infeed on the compound from the reading now {label}; negative when past it",
            when(the.feed_fault.same(""), _feed(the.reading_now, limit)), dimension="feed", look="list_figure",
        )  # fmt: skip
        blocks.result(
            book, ws, f"D{row}", f"feed_divisions_{end}", f"the same in divisions of the dial, {label}",
            _divisions(feed), dimension="divisions", look="list_figure",
        )  # fmt: skip
    ref = f"A{AT + 6}:D{AT + 7}"
    blocks.result(book, ws, ref, "feed_words", "what to do at this reading", _words(), look="sentence")
    _list(book, ws)


def _list(book: Book, ws: Worksheet) -> None:
    """If you read this, feed that: rows from over the high limit down to the low limit, to the limit aimed at."""
    title = say("If you read this, feed that", when(known(the.pitch_aimed), say(" to ", the.aim_limit)))
    blocks.result(book, ws, f"A{LIST_AT}:D{LIST_AT}", "feed_list_title", "heading of the list", title, look="block")
    for letter, text in zip("ABCD", ("", "reading", "feed", "divisions")):
        blocks.write(book, ws, f"{letter}{LIST_AT + 1}", text, "head")
    first_row = LIST_AT + 2
    ready = all_of(known(the.wire_constant), known(the.angle_cosine), known(the.micrometer_preset))
    for row, (words, reading) in enumerate(LIST, start=first_row):
        its_reading, feed = at(f"B{row}"), at(f"C{row}")
        on = when(known(reading), when(reading > the.reading_crest, "", when(ready, reading)))
        cells = (
            ("A", when(known(its_reading), words), "list_left", "words"),
            ("B", on, "list_figure", "length"),
            ("C", when(known(its_reading), _feed(its_reading, the.micrometer_preset)), "list", "feed"),
            ("D", _divisions(feed), "list", "divisions"),
        )
        for letter, formula, look, dimension in cells:
            blocks.write(book, ws, f"{letter}{row}", formula, look, dimension)
    for letter, name, meaning, unit in (
        ("A", "words", "what the reading is", ""),
        ("B", "reading", "a reading over wires", "working unit"),
        ("C", "feed", "compound infeed from there to the limit aimed at; negative when past it", "working unit"),
        ("D", "divisions", "the same in divisions", ""),
    ):
        blocks.define(book, ws, f"{letter}{first_row}:{letter}{LAST}", f"feed_list_{name}", meaning, unit=unit)
