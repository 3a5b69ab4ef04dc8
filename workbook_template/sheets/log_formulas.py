"""The formulas of the sheet Log: what each column holds in a row. How a row is judged: `sheets.log`."""

from __future__ import annotations

from collections.abc import Callable

from workbook_template.figures.notation import (
    NO_NUMBER,
    all_of,
    any_of,
    blank,
    empty,
    first,
    fixed,
    here,
    known,
    no,
    node,
    say,
    sentences,
    span,
    the,
    unwild,
    when,
    xl,
)
from workbook_template.figures.tree import Cell, Node, Part
from workbook_template.sheets import log_advice, taper_figures
from workbook_template.sheets.inputs import filled, left_empty
from workbook_template.sheets.log_faults import (
    OWN_PLACES,
    crest_fault,
    entry_fault,
    gauge_fault,
    instrument_fault,
    wires_fault,
)
from workbook_template.sheets.log_rows import (
    AGAIN,
    GO_FAILS,
    HEAD,
    LARGE,
    MORE,
    MOST_TURNS,
    NOT_GO_ENTERS,
    NOTHING,
    NUMBERS,
    PASS,
    SMALL,
)
from workbook_template.sheets.log_sizes import (
    ALL,
    DATED,
    GAUGE_SAID,
    GAUGED,
    HOTTEST,
    NO_SIZE,
    NONE_READ,
    PART_FAULT,
    QUOTED,
    SPACED,
    WARM,
    WARM_WORDS,
    constant,
    digit,
    factor,
    first_row,
    high,
    least,
    lift,
    lift_of,
    low,
    most,
    out_of_round,
    passed,
    size,
    status,
    taper,
    top,
    used,
)
from workbook_template.sheets.threads_table import INSIDE
from workbook_template.trade import verdict
from workbook_template.trade.days import is_day
from workbook_template.trade.equipment import listed
from workbook_template.trade.verdict import NOISE

IDENTICAL = 20
"""So many identical readings in a row are marked."""
_OF_RING = first((here.ring.same(PASS), "in"), (here.ring.same(LARGE), "high"), otherwise="low")
_EITHER_WAY = the.own_gauge_turns + NOISE
_OF_TURNS = first((here.gauge_turns > _EITHER_WAY, "high"), (here.gauge_turns < -_EITHER_WAY, "low"), otherwise="in")
"""What word and turns of a taper gauge say."""

# ---- Results


def _of_status(word: Node) -> Node:
    """The word that the row has by itself, unless another row replaces it.

    Whatever may change with a part that is typed in another row is as short as this: LibreOffice then computes it in
    every row.
    """
    return first((here.status.same(0), ""), (here.status > 1, "replaced"), otherwise=word)


def _of_used(told: Node) -> Node:
    """Words of a row that something was typed in."""
    return when(here.filled.same(0), NOTHING, told)


def _said(words: Node) -> Node:
    """The words of another column, where it has any."""
    return when(words.same(NOTHING), "", words)


def _judged(missing: Node, unmeasured: str | float, entry: Node, equipment: Node, word: Node) -> Node:
    """The order of the tests, the same for every result."""
    return first(
        (missing, unmeasured),
        (PART_FAULT, "check entry"),
        (entry, "check entry"),
        (equipment, "check instrument"),
        otherwise=word,
    )


def _by_limits(size: Node, which: str, over: Node) -> Node:
    """The word by the simple rule; what is read is `over` more than the size, and limits are shown for it."""
    least, most = verdict.limit(which, "min"), verdict.limit(which, "max")
    return verdict.by_limits(size, verdict.lowest_in(least, over), verdict.highest_in(most, over))


def _size_word() -> Node:
    constant = here.constant - here.lift  # what a reading at its place is over the size that is judged
    over_wires = _by_limits(here.size, "pitch_diameter", constant)
    direct = _by_limits(here.size, "pitch_diameter", -here.lift)
    direct_decides = first(
        (NONE_READ, True),
        (known(here.direct), here.size.same((here.direct + here.lift) * here.factor)),
        otherwise=False,
    )
    return _judged(
        NO_SIZE,
        "not measured",
        here.entry_fault.differs(NOTHING),
        any_of(here.instrument_fault.differs(NOTHING), here.wires_fault.differs(NOTHING)),
        verdict.by_rule(here.size, "pitch_diameter", when(direct_decides, direct, over_wires)),
    )


def _crest_word() -> Node:
    size = (here.crest + here.lift) * here.factor
    word = verdict.by_rule(size, "crest", _by_limits(size, "crest", -here.lift))
    faults = here.crest_fault.differs(NOTHING), here.instrument_fault.differs(NOTHING)
    return _judged(blank(here.crest), "not measured", *faults, word)


def _is_none_of(words_: tuple[str, ...]) -> Node:
    return all_of(*(here.ring.differs(word) for word in words_))


_TAPER_SAID = first(
    (blank(here.gauge_turns), True),
    (no(known(here.gauge_turns)), False),
    otherwise=all_of(xl.ABS(here.gauge_turns) <= MOST_TURNS, any_of(blank(here.ring), _OF_RING.same(_OF_TURNS))),
)
_NOT_SAID = xl.IFERROR(
    when(
        the.log_tapered.same(0),
        any_of(_is_none_of((PASS, GO_FAILS, NOT_GO_ENTERS)), no(blank(here.gauge_turns))),
        any_of(no(_TAPER_SAID), all_of(no(blank(here.ring)), _is_none_of((PASS, LARGE, SMALL)))),
    ),
    True,
)
"""Whether what was said of a gauge is nothing that this thread's gauges can say, or an error value."""


def _ring_word() -> Node:
    of_parallel = first(
        (here.ring.same(PASS), "in"),
        (here.ring.same(GO_FAILS), when(INSIDE, "low", "high")),
        otherwise=when(INSIDE, "high", "low"),
    )
    of_taper = when(blank(here.gauge_turns), _OF_RING, _OF_TURNS)
    word = when(the.log_tapered.same(0), of_parallel, of_taper)
    return _judged(GAUGE_SAID.same(0), NOTHING, _NOT_SAID, here.gauge_fault.differs(NOTHING), word)


def _gauge_both() -> Node:
    """In a column of its own: named by the worst word, LibreOffice 7.4 takes a row for circular in a recalculation."""
    until = xl.INDEX(the.gauge_until, here.gauge_at, 2)
    of_parallel = when(known(here.gauge_at), when(here.gauge_at > 0, until > -1, False), False)
    return when(the.log_tapered.same(0), of_parallel, True)


def _worst_word() -> Node:
    """What is out before what is to be checked, and that before what is in."""
    results = span(here.size_word, here.ring_word)
    order = ("high", "low", "check entry", "check instrument", "undecided")
    return first(
        *((xl.COUNTIF(results, word) > 0, word) for word in order),
        (here.size_word.same("in"), "in"),
        (all_of(here.ring_word.same("in"), here.gauge_both), "in"),
        otherwise="not measured",
    )


GO_ALONE = "GO alone: try the NOT GO too (list both under one number), or measure."


def _own_reason() -> Node:
    """Which result is out or undecided, and what settles that."""

    def out(result: Node, told: Part) -> Node:
        return when(any_of(result.same("high"), result.same("low")), told)

    at_20 = when(known(here.factor), when(here.factor.differs(1), " at 20 °C"))  # as read it may be on its limit
    gauge = when(blank(here.gauge_turns), say("Gauge: ", here.ring, "."), _turns("Gauge: ", here.gauge_turns))
    told = sentences(
        out(here.size_word, say("Pitch dia. ", here.size_word, at_20, ".")),
        when(
            known(here.size_decides),
            log_advice.row_words(node("Pitch dia."), here.size_decides, here.readings_decide),
        ),
        out(here.crest_word, say(the.log_crest_head, " ", here.crest_word, at_20, ".")),
        when(known(here.crest_decides), log_advice.row_words(the.log_crest_head, here.crest_decides)),
        out(here.ring_word, gauge),
        when(all_of(here.ring_word.same("in"), here.worst_word.same("not measured")), GO_ALONE),
    )
    return _of_used(xl.TRIM(told))


def _reason() -> Node:
    """The reason, then the words."""
    return first(
        (here.status.differs(1), here.words & ""),
        (empty(here.own_reason), here.words & ""),
        otherwise=xl.TRIM(sentences(here.own_reason, here.words)),
    )


# ---- The words


def _words() -> Node:
    """What other rows have to do with it comes last, as a part typed elsewhere has it said again."""
    earlier, corrects = here.first + HEAD < xl.ROW(), filled(here.why)
    again = say(AGAIN, here.first + HEAD, ": not counted. To correct that row say why.")
    replaced = sentences(say("Replaced by row ", here.status, "."), here.entry_words, here.more_words)
    return first(
        (here.status.same(0), ""),
        (here.status > 1, xl.TRIM(replaced)),
        (empty(here.part), here.own_words & ""),
        (earlier.same(corrects), here.own_words & ""),
        otherwise=xl.TRIM(sentences(when(earlier, again, "No earlier row of this part."), here.own_words)),
    )


def _own_words() -> Node:
    by_pitch = when(known(here.size), _turns("", taper_figures.turns_off(here.size)))
    said = sentences(
        when(empty(here.part), "No part number."),
        when(SPACED, "Blanks in the part number: retype it without."),
        when(QUOTED, "Apostrophe before the part number: retype it without."),
        here.entry_words,
        when(the.log_tapered.same(0), "", by_pitch),
        here.more_words,
    )
    return _of_used(xl.TRIM(said))


def _entry_words() -> tuple[Node, ...]:
    no_why = left_empty(here.why)
    who = when(empty(here.who_used), when(no_why, "Who measured?", "Who corrected?"))
    corrected = first((no_why, ""), (DATED, ""), otherwise="Corrected when?")
    early = when(all_of(DATED, known(the.job_date)), when(here.when_used < the.job_date, "Dated before the job."))
    cold = all_of(the.log_expansion.same(0), here.temperature.differs(20))
    ring = when(
        the.log_tapered.same(0),
        say(f"Ring or plug: type {PASS}, {GO_FAILS} or {NOT_GO_ENTERS}", when(blank(here.gauge_turns), ".", NO_TURNS)),
        f"Ring or plug: type {PASS}, {LARGE} or {SMALL}, or the turns that it stands off, or both alike.",
    )
    unsaid = when(filled(here.gauge), "Gauge named, but not what it said.")
    return (
        when(xl.COUNTA(GAUGED, here.why).same(0), "", sentences(who, corrected)),
        _said(here.entry_fault),
        when(here.crest_fault.same(here.entry_fault), "", _said(here.crest_fault)),
        _said(here.instrument_fault),
        _said(here.wires_fault),
        first((GAUGE_SAID.same(0), unsaid), (_NOT_SAID, ring), otherwise=_said(here.gauge_fault)),
        when(all_of(the.log_tapered.same(0), OWN_PLACES > 0), "Places are for a taper thread alone."),
        when(xl.COUNTA(GAUGED).same(0), "", early),
        when(known(here.temperature), when(all_of(here.temperature > WARM, here.temperature <= HOTTEST), WARM_WORDS)),
        when(known(here.temperature), when(cold, "Not brought to 20 °C: no expansion of the part is given.")),
        when(
            any_of(no(known(the.part_tolerance)), here.entry_fault.differs(NOTHING)),
            "",
            sentences(_share(the.log_taper_title, here.taper), _share("Out of round", here.out_of_round)),
        ),
    )


NO_TURNS = "; turns on a taper thread alone."


def _turns(before: str, off: Node) -> Node:
    """Turns of the gauge that a taper thread is off, in words."""
    return say(before, fixed(xl.ABS(off), 2), " turns ", when(off < 0, "small", "large"), ".")


def _share(what: Part, size: Node) -> Node:
    """A difference as a part of the tolerance."""
    too_much = when(size > the.part_tolerance + NOISE, ": too much.", ".")
    percent = xl.ROUND(100 * size / the.part_tolerance, 0)
    return when(known(size), say(what, " ", percent, " % of the tolerance", too_much))


def _identical(name: str) -> Node:
    """Words where so many readings that end in this row are the same."""
    size, start = here[name], Cell(1 - IDENTICAL, NUMBERS[name] - NUMBERS["more_words"])
    all_same = xl.COUNTIF(span(start, size), size).same(IDENTICAL)
    alike = when(size.same(start), when(all_same, f"{IDENTICAL} identical readings in a row."))
    return when(all_of(known(size), known(start)), alike)


# ---- The columns

FULL = f"One row is left: {MORE}."


def more_words(rows: int) -> Callable[[int], Node | None]:
    """Of each row: the first rows can't be the last of many alike, and the last but one says how to go on."""
    alike = (_identical("reading"), _identical("direct"))

    def of_row(number: int) -> Node | None:
        said = (*(alike if number >= IDENTICAL else ()), *((FULL,) if number == rows - 1 else ()))
        return _of_used(xl.TRIM(sentences(*said))) if said else None

    return of_row


FORMULAS: dict[str, Node | Callable[[int], Node | None]] = {
    "pitch_diameter": when(all_of(here.status.same(1), known(here.size)), here.size),
    "taper": taper(),
    "out_of_round": out_of_round(),
    "pitch_diameter_result": _of_status(here.size_word),
    "crest_result": _of_status(here.crest_word),
    "ring_result": _of_status(_said(here.ring_word)),
    "worst": _of_status(here.worst_word),
    "reason": _reason(),
    "instrument_used": used("instrument"),
    "who_used": used("who"),
    "when_used": used("when"),
    "status": status(),
    "filled": xl.COUNTA(*ALL),
    "sought": unwild(here.part),
    "corrects": when(blank(here.why), NO_NUMBER, xl.ROW()),
    "mends": when(blank(here.why), "", here.part),
    "passed": passed,
    "top": top,
    "first": first_row,
    "factor": factor(),
    "lift": lift(),
    "lift_2": lift_of(here.place_2),
    "lift_3": lift_of(here.place_3),
    "most": most(),
    "least": least(),
    "constant": constant(),
    "size": size(),
    "size_word": _size_word(),
    "crest_word": _crest_word(),
    "ring_word": _ring_word(),
    "worst_word": _worst_word(),
    "own_reason": _own_reason(),
    "high": high(),
    "low": low(),
    "words": _words(),
    "own_words": _own_words(),
    "entry_words": _of_used(xl.TRIM(sentences(*_entry_words()))),
    "entry_fault": entry_fault(),
    "crest_fault": crest_fault(),
    "instrument_fault": instrument_fault(),
    "wires_fault": wires_fault(),
    "gauge_fault": gauge_fault(),
    "digit": digit(),
    "size_decides": log_advice.distance(here.size_word, here.size, "pitch_diameter"),
    "pitch_diameter_decides": when(here.status.same(1), here.size_decides, NO_NUMBER),
    "crest_decides": log_advice.distance(here.crest_word, (here.crest + here.lift) * here.factor, "crest"),
    "readings_decide": log_advice.readings(here.size_decides),
    "day": when(is_day(here.when_used), xl.INT(here.when_used), NO_NUMBER),
    "instrument_at": listed(here.instrument_used, "instrument"),
    "gauge_both": _gauge_both(),
    "gauge_at": listed(here.gauge, "instrument"),
    "wires_at": listed(here.wires, "wires"),
    "part": when(blank(here.serial), "", xl.IFERROR(here.serial & "", "")),
}
"""By the name of the column; `more_words` says the others that depend on how many there are."""
