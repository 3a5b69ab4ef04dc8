"""The cells of a row of the sheet Log, and the sizes that come of them. How, exactly: `sheets.log`."""

from __future__ import annotations

from workbook_template.figures.notation import (
    NO_NUMBER,
    above,
    any_of,
    blank,
    empty,
    first,
    here,
    joined,
    known,
    no,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Cell, Node
from workbook_template.sheets import taper_figures
from workbook_template.sheets.log_rows import HEAD, LISTED, MOST, NOTHING, NUMBERS, READINGS

COLDEST, HOTTEST = 0, 50
"""Part temperatures that are believed, degrees C: 68 is a Fahrenheit figure (common practice)."""

WARM = 30
"""Over this a part is let cool and measured again, degrees C: practice. Sizes hold at 20 (ISO 1)."""
WARM_WORDS = "Warm: let it cool and measure again."

ALL = (here.serial, span(here.reading, here.temperature), span(here.instrument, here.why))
READ = span(here.reading, here.reading_3b)
SIZES = span(here.reading, here.direct)
MEASURED = span(here.reading, here.crest)
GAUGED = span(here.reading, here.gauge_turns)
STATIONS = tuple((here[one], here[other]) for one, other in zip(READINGS[::2], READINGS[1::2]))
LIFTS = (here.lift, here.lift_2, here.lift_3)
LIFTED = xl.COUNT(*LIFTS).same(len(LIFTS))
"""Whether every place is one; always on a parallel thread."""
GAUGE_SAID = xl.COUNTA(span(here.ring, here.gauge_turns))
"""How much was said of a ring or plug."""
MANY = 1000000
"""More rows than a sheet has: for a part that can't be looked up."""
NO_STATION = 10 * MOST
"""Larger than any size: stands for a station without a reading where the smallest is looked for."""

READ_COUNT, READ_MOST, READ_LEAST = xl.COUNT(READ), xl.MAX(READ), xl.MIN(READ)
NONE_READ, ANY_READ = READ_COUNT.same(0), READ_COUNT > 0
NO_SIZE, A_TEXT = xl.COUNTA(SIZES).same(0), xl.COUNT(SIZES) < xl.COUNTA(SIZES)
A_TEXT_READ = xl.COUNTA(READ) > READ_COUNT
"""Whether something else than a number is among the readings. Asked before anything is made of them: it may be an error
value, as of a division by zero, which would spread."""
SPACED = xl.LEN(xl.TRIM(here.part)) < xl.LEN(here.part)
QUOTED = xl.LEFT(here.part, 1).same("'")
"""In a cell of texts LibreOffice keeps the apostrophe that is typed before a number to make it a text."""
PART_FAULT = any_of(SPACED, QUOTED)
DATED = known(here.day)


NO_ENTRY = "error"
"""What stands for an entry that is an error value: a day that is none, an instrument that is not listed."""


def used(own: str) -> Node:
    """What a row has for itself, else what was typed once for all; nothing where nothing was measured."""
    once = the[f"log_once_{own}"]
    unmeasured = xl.COUNTA(GAUGED, here.why).same(0)
    found = first((no(empty(here[own])), here[own]), (unmeasured, ""), (empty(once), ""), otherwise=once)
    return xl.IFERROR(found, NO_ENTRY)


def _before(name: str, own: str) -> Node:
    """What the row above has, for column `own`; also where a row was deleted, which a cell alone would not survive."""
    down_to_there = span(Cell(HEAD, NUMBERS[name] - NUMBERS[own], True), above[name])
    return xl.INDEX(down_to_there, xl.ROWS(down_to_there))


def passed(number: int) -> Node:
    here_one = when(known(here.corrects), 1, 0)
    return here_one if number == 1 else xl.SUM(_before("passed", "passed")) + here_one  # of a text over the rows: 0


def status() -> Node:
    """The correction looked for is the first below this row: those up to it are passed over.

    It is in the short list as a rule, which costs the same however long the log is.
    """
    count, start, sought = the.log_corrections, here.passed + 1, here.sought
    last = xl.MAX(1, the.log_listed)  # a row of the list: an engine knows no range that ends at a bare name
    listed = span(xl.INDEX(the.log_fix_serial, start), xl.INDEX(the.log_fix_serial, last))
    in_list = xl.INDEX(the.log_fix_row, here.passed + xl.MATCH(sought, listed, 0))
    before = xl.MAX(xl.ROW(), the.log_listed_last)
    rest = span(xl.INDEX(the.log_mends, before - HEAD + 1), xl.INDEX(the.log_mends, the.log_corrected_last - HEAD))
    in_rest = when(count > LISTED, xl.IFERROR(before + xl.MATCH(sought, rest, 0), 1), 1)
    return first(
        (here.filled.same(0), 0),
        (here.passed.same(count), 1),
        (empty(here.part), 1),
        otherwise=xl.IFERROR(in_list, in_rest),
    )


def top(number: int) -> Node:
    """Parts are logged in order as a rule, those whose number is longer later; a text is compared without capitals."""
    if number == 1:
        return here.part & ""
    before = _before("top", "top")
    alike = xl.LEN(here.part).same(xl.LEN(before))
    beyond = when(alike, here.part > before, xl.LEN(here.part) > xl.LEN(before))
    return when(beyond, here.part, before & "")


def first_row(number: int) -> Node:
    """A part that comes after all before it in order is none of them; only another one is looked for."""
    found = xl.IFERROR(xl.MATCH(here.sought, the.log_serial, 0), MANY)
    new = True if number == 1 else here.top.differs(_before("top", "first"))
    return first((empty(here.part), NO_NUMBER), (new, xl.ROW() - HEAD), otherwise=found)


def factor() -> Node:
    warm = here.temperature
    return first(
        (blank(warm), the.log_room_factor),
        (no(known(warm)), ""),
        (any_of(warm < COLDEST, warm > HOTTEST), ""),
        otherwise=the.log_room_factor / (1 + the.log_expansion * (warm - 20)),
    )


def constant() -> Node:
    def at_mean(share: Node, offset: Node) -> Node:
        """Reading less pitch diameter at the mean of the readings (workbook_template.sheets.contact)."""
        return when(known(share), offset + share * xl.AVERAGE(READ), NO_NUMBER)

    return first(
        (any_of(NONE_READ, A_TEXT_READ), NO_NUMBER),
        (any_of(xl.MAX(READ) > MOST, xl.MIN(READ) < -MOST), NO_NUMBER),  # no size; and their sum may be no number
        (no(known(here.wires_at)), at_mean(the.wire_share, the.wire_offset)),
        (here.wires_at.same(0), "unknown"),
        otherwise=at_mean(xl.INDEX(the.wires_share, here.wires_at), xl.INDEX(the.wires_constant, here.wires_at)),
    )


def high() -> Node:
    direct = here.direct + here.lift
    of_both = when(known(here.direct), xl.MAX(here.most - here.constant, direct), here.most - here.constant)
    return first(
        (any_of(xl.COUNT(SIZES).same(0), A_TEXT), NO_NUMBER),
        (any_of(xl.MAX(SIZES) > MOST, here.factor.same(""), no(LIFTED)), NO_NUMBER),
        (NONE_READ, direct * here.factor),
        (known(here.constant), of_both * here.factor),
        otherwise=NO_NUMBER,
    )


def low() -> Node:
    return first(
        (no(known(here.high)), NO_NUMBER),
        (NONE_READ, here.high),
        otherwise=when(
            known(here.direct),
            xl.MIN(here.least - here.constant, here.direct + here.lift),
            here.least - here.constant,
        )
        * here.factor,
    )


def lift() -> Node:
    """What brings a diameter from the row's place to the gauge plane; nothing where the place is none."""
    once = when(NONE_READ, the.log_lift_direct, the.log_lift_wires)
    return when(the.log_tapered.same(0), 0, when(empty(here.place), once, _from(here.place)))


def lift_of(station: Node) -> Node:
    """The same from a place that a station has for itself."""
    own = xl.IFERROR(when(empty(station), here.lift, _from(station)), "")
    return when(the.log_tapered.same(0), 0, own)


def _from(place: Node) -> Node:
    least, most = when(NONE_READ, 0, the.taper_first), when(NONE_READ, the.taper_deep, the.taper_last)
    return when(known(taper_figures.believed(place, least, most)), taper_figures.fall(place))


def most() -> Node:
    of_stations = (when(xl.COUNT(span(*pair)) > 0, xl.MAX(span(*pair)) + up, 0) for pair, up in zip(STATIONS, LIFTS))
    return _of_places(READ_MOST, xl.MAX(*of_stations))


def least() -> Node:
    of_stations = (
        when(xl.COUNT(span(*pair)) > 0, xl.MIN(span(*pair)) + up, NO_STATION) for pair, up in zip(STATIONS, LIFTS)
    )
    return _of_places(READ_LEAST, xl.MIN(*of_stations))


def _of_places(parallel: Node, brought: Node) -> Node:
    """A reading of a parallel thread, and of a taper one brought to the gauge plane."""
    nothing = any_of(NONE_READ, A_TEXT_READ)
    return first((nothing, NO_NUMBER), (the.log_tapered.same(0), parallel), (LIFTED, brought), otherwise=NO_NUMBER)


def size() -> Node:
    """The worst violation, or the one nearest to a limit; of a taper thread at its gauge plane."""
    nothing = any_of(PART_FAULT, here.entry_fault.differs(NOTHING), no(known(here.high)))
    high_decides = the.part_pitch_diameter_max - here.high <= here.low - the.part_pitch_diameter_min
    return first((nothing, NO_NUMBER), (high_decides, here.high), otherwise=here.low)


def _of_stations(enough: Node, largest: Node) -> Node:
    """A difference between readings, where there are enough and all are sizes."""
    few = any_of(READ_COUNT < 2, A_TEXT_READ)
    return first((few, ""), (any_of(READ_MOST > MOST, READ_LEAST < -MOST), ""), (enough, ""), otherwise=largest)


def taper() -> Node:
    stations = [span(*pair) for pair in STATIONS]
    measured = joined("+", *(xl.MIN(xl.COUNT(one), 1) for one in stations))

    def means(without: int) -> list[Node]:
        pairs = zip(stations, LIFTS)
        return [when(xl.COUNT(one) > 0, xl.AVERAGE(one) + up, without) for one, up in pairs]

    largest = xl.MAX(*means(-NO_STATION)) - xl.MIN(*means(NO_STATION))
    return _of_stations(any_of(measured < 2, no(LIFTED)), largest)


def out_of_round() -> Node:
    both = joined("+", *(xl.INT(xl.COUNT(span(*pair)) / 2) for pair in STATIONS))
    apart = (when(xl.COUNT(span(a, b)).same(2), xl.ABS(a - b), 0) for a, b in STATIONS)
    return _of_stations(both.same(0), xl.MAX(*apart))


def digit() -> Node:
    def last(size: Node) -> tuple[Node, Node]:
        return known(size), xl.MOD(xl.ROUND(size * the.log_scale, 0), 10)

    nothing = any_of(here.status.differs(1), here.entry_fault.differs(NOTHING))
    return first((nothing, NO_NUMBER), last(here.reading), last(here.direct), otherwise=NO_NUMBER)
