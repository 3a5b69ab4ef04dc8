"""What is wrong in a row of the sheet Log, in sentences: its entries, instrument, wires and gauge.

A sentence ends without a blank: a program may lose the last blank of a text that it reads from a file.
"""

from __future__ import annotations

from workbook_template.figures.notation import (
    all_of,
    any_of,
    blank,
    empty,
    first,
    given,
    here,
    known,
    length,
    no,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets import taper_figures
from workbook_template.sheets.log_rows import MOST, NOT_GO_ENTERS, NOTHING
from workbook_template.sheets.log_sizes import (
    A_TEXT,
    ANY_READ,
    COLDEST,
    DATED,
    GAUGE_SAID,
    HOTTEST,
    LIFTED,
    MEASURED,
    NO_SIZE,
    NONE_READ,
    READ_COUNT,
    READ_MOST,
    SIZES,
)
from workbook_template.trade.days import NO_DAY
from workbook_template.trade.equipment import not_counted
from workbook_template.trade.verdict import NOISE

# ---- What is wrong with an entry

_NO_WIRES = say(
    "No wires on this thread: fill the pitch diameter",
    when(the.tapered, ", or the turns that the plug stands off"),
    ".",
)
OWN_PLACES = xl.COUNTA(span(here.place, here.place_3))
_NO_PLACE = taper_figures.asked(
    when(OWN_PLACES.same(0), "Where was it measured? At the top", "Places in the row's own columns")
)
_NO_TEMPERATURE = f"Part temperature: {COLDEST} to {HOTTEST} degrees C."


def _text_fault(cells: Node, what: str) -> Node:
    """A text with the other decimal sign: the words show the one that this program reads."""
    half = node(1) / 2
    other = when(known(xl.SEARCH(",", half & "")), ".", ",")
    return first(
        (
            xl.COUNTIF(cells, "*" & other & "*") > 0,
            say("Decimal sign? One half is ", half, f" here: type the {what} like that."),
        ),
        (no(known(xl.SUM(cells))), f"A {what} is an error value: retype it as a number."),
        otherwise=f"A {what} is a text: retype it as a number.",
    )


def _far(size: Node, basic: Node, over: Part = 0) -> Node:
    """What a size far from the thread would be in the other unit, where that is believable."""
    other, unit = size * the.log_other_factor, the.log_other_unit
    return when(
        xl.ABS(other - over - basic) <= the.log_reach,
        say(unit, "? ", size, " ", unit, " is ", length(other), " ", the.unit_text, "."),
        "Far from this thread.",
    )


def entry_fault() -> Node:
    over = when(known(here.constant), here.constant, 0)
    farthest = when(the.unit_text.same("mm"), xl.MIN(SIZES), xl.MAX(SIZES))
    # readings that are believable as pitch diameters, where the two are too far apart to be mixed up
    as_pitch = first(
        (NONE_READ, False),
        (
            here.constant > the.log_apart,
            all_of(the.log_as_pitch_diameter_low <= here.least, the.log_as_pitch_diameter_high >= here.most),
        ),
        otherwise=False,
    )
    disagree = any_of(
        here.direct + here.lift > here.most - here.constant + the.log_agreement,
        here.direct + here.lift < here.least - here.constant - the.log_agreement,
    )
    return first(
        (NO_SIZE, NOTHING),
        (A_TEXT, _text_fault(SIZES, "reading")),
        (xl.MIN(SIZES) <= 0, "A reading is zero or less."),
        (xl.MAX(SIZES) > MOST, "A reading is no size of a part."),
        (here.factor.same(""), _NO_TEMPERATURE),
        (no(known(the.part_pitch_diameter_max)), "No limits yet: choose the thread on Job."),
        (all_of(ANY_READ, the.no_wires), _NO_WIRES),
        (no(LIFTED), _NO_PLACE),
        (here.constant.same("unknown"), NOTHING),
        (
            all_of(ANY_READ, no(known(here.constant))),
            when(given(the.coating_entry), "Coating: look at Job.", "No wires that serve this thread."),
        ),
        (as_pitch, say("Is ", READ_MOST, " the pitch diameter? Then type it under Pitch dia. meas'd.")),
        (
            xl.MAX(here.high - the.pitch_diameter_basic, the.pitch_diameter_basic - here.low) > the.log_reach,
            _far(farthest, the.pitch_diameter_basic, over),
        ),
        ((xl.COUNT(here.direct) * READ_COUNT).same(0), NOTHING),
        (disagree, "Reading and pitch diameter disagree."),
        otherwise=NOTHING,
    )


def crest_fault() -> Node:
    return first(
        (blank(here.crest), NOTHING),
        (no(known(here.crest)), _text_fault(here.crest, "diameter")),
        (here.crest <= 0, "The diameter is zero or less."),
        (here.crest > MOST, "The diameter is no size of a part."),
        (here.factor.same(""), _NO_TEMPERATURE),
        (no(known(the.crest_max)), "No limits for this diameter."),
        (no(LIFTED), _NO_PLACE),
        (xl.ABS(here.crest + here.lift - the.log_crest_basic) > the.log_reach, _far(here.crest, the.log_crest_basic)),
        otherwise=NOTHING,
    )


# ---- Why an instrument, gauge or wire set doesn't count


def instrument_fault() -> Node:
    at = here.instrument_at
    until, fault = xl.INDEX(the.instrument_reads_until, at), xl.INDEX(the.instrument_reads_fault, at)
    typed = here.when_used
    no_day = first((empty(typed), "No date."), (known(typed), f"The date {NO_DAY}."), otherwise="The date is a text.")
    return first(
        (xl.COUNTA(MEASURED).same(0), NOTHING),
        (no(DATED), no_day),
        (empty(here.instrument_used), "No instrument named."),
        *not_counted("Instrument", here.instrument_used, at, "instrument", until, fault, here.day),
        otherwise=_out_of_range(),
    )


def _out_of_range() -> Node:
    """The row's instrument is the one for the pitch diameter; alone, the crest diameter is asked."""
    least, most = (xl.INDEX(the[f"instrument_{end}"], here.instrument_at) for end in ("least", "most"))

    def outside(smallest: Node, largest: Node) -> Node:
        beyond = any_of(smallest < least - NOISE, largest > most + NOISE)
        return when(beyond, say("Outside the range of ", here.instrument_used, "."), NOTHING)

    of_pitch = when(here.entry_fault.differs(NOTHING), NOTHING, outside(xl.MIN(SIZES), xl.MAX(SIZES)))
    of_crest = first(
        (blank(here.crest), NOTHING),
        (here.crest_fault.differs(NOTHING), NOTHING),
        otherwise=outside(here.crest, here.crest),
    )
    return when(xl.COUNT(SIZES) > 0, of_pitch, of_crest)


def wires_fault() -> Node:
    at = here.wires_at
    of_setup = first(
        (here.day > the.log_set_until, the.log_set_fault),
        (here.day < the.log_set_since, the.log_set_before),
        otherwise=NOTHING,
    )
    until, fault = xl.INDEX(the.wires_until, at), xl.INDEX(the.wires_fault, at)
    return first(
        (any_of(NONE_READ, the.no_wires), NOTHING),
        (no(DATED), NOTHING),
        (no(known(at)), of_setup),
        *not_counted("Wires", here.wires, at, "wires", until, fault, here.day),
        otherwise=NOTHING,
    )


def gauge_fault() -> Node:
    at, used_as = here.gauge_at, when(here.ring.same(NOT_GO_ENTERS), 2, 1)
    until, fault = (xl.INDEX(the[f"gauge_{what}"], at, used_as) for what in ("until", "fault"))
    return first(
        (GAUGE_SAID.same(0), NOTHING),
        (no(DATED), "Gauge: no date."),
        (no(known(at)), "No gauge named."),
        *not_counted("Gauge", here.gauge, at, "instrument", until, fault, here.day),
        otherwise=NOTHING,
    )
