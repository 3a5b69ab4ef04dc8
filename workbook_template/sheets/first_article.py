"""The sheet First article: every characteristic with its requirement, method, instrument and result.

A characteristic that is not measured, or whose method or instrument is not named, does not pass, and the words under
the list name it. A size needs a number, by an instrument that measures sizes and has it in its range; pass and fail are
for the method gauge: of the pitch diameter and the lead with a thread gauge for this job, of another size with a gauge
that is listed under other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    blank,
    exactly,
    first,
    given,
    here,
    known,
    no,
    node,
    say,
    span,
    the,
    when,
    xl,
)
from workbook_template.figures.tree import Node
from workbook_template.sheets import log_rows, record_head
from workbook_template.sheets.inputs import ANYTHING, DAY, LENGTH, Input, one_of
from workbook_template.sheets.layout import (
    NOTE,
    Block,
    Column,
    Made,
    Mark,
    Piece,
    Sheet,
    Table,
    block,
    deep,
    entry,
    gap,
    line,
    shown,
    stack,
    words,
)
from workbook_template.trade import days

SHEET = "First article"
OTHERS = 6
NOISE = 1e-7
METHODS = ("over wires", "micrometer", "gauge", "comparator", "thread micrometer", "caliper", "by eye", "other")
PASSING = ("in", "passes", "recorded")
FAILING = ("low", "high", "fails", "WRONG HAND")


NONE = node("")


class Row(NamedTuple):
    """One characteristic of every thread; `typed`: its limits are typed on the sheet."""

    key: str
    label: str
    requirement: Node
    low: Node = NONE
    high: Node = NONE
    typed: bool = False


def _where(figure: Node) -> Node:
    """The figure once it is known."""
    return when(known(figure), figure)


def _limited(which: str) -> Row:
    """A diameter; a size that the standard gives for reference is no limit to judge by."""
    least, most, least_note, most_note = (
        the[f"{which}_diameter_{end}"] for end in ("min", "max", "min_note", "max_note")
    )
    both_bind = all_of(known(least), known(most), least_note.same(""), most_note.same(""))
    one_is_told = any_of(least_note.same("for reference"), most_note.same("for reference"))
    words = first((both_bind, "limits of size"), (one_is_told, "for reference"), otherwise="by the standard")
    low, high = (
        when(all_of(known(size), note.same("")), size) for size, note in ((least, least_note), (most, most_note))
    )
    return Row(f"{which}_diameter", f"{which.capitalize()} diameter", words, low, high)


ROWS = (
    _limited("major"),
    _limited("pitch"),
    _limited("minor"),
    Row("lead", "Lead", say("lead ", xl.ROUND(the.lead, the.decimals + 2)), typed=True),
    Row("length", "Length of full thread",
        when(known(the.thread_length), "at least, sheet Job", "no length on the sheet Job"), _where(the.thread_length)),
    Row("hand", "Hand", the.hand),
    Row("blank", "", node("before threading"), _where(the.blank_min), _where(the.blank_max)),
)  # fmt: skip
ALL = len(ROWS) + OTHERS
REFERENCE_ROWS = ("major_diameter", "pitch_diameter", "minor_diameter")
BY_THREAD_GAUGE = ("pitch_diameter", "lead")
"""Characteristics that a thread gauge for the job may pass."""
BY_EYE = ("", "hand")
"""Characteristics that can be judged by eye, which needs no instrument: the hand, and those of the drawing."""

MOST = float(log_rows.MOST)

WIDE = 24
"""Columns of the page: the twelve of the grid, halved."""


def _named(one: Row) -> tuple[Piece, ...]:
    """What the list says of a characteristic of every thread; the rest of its line is the table's."""
    name, label = f"article_{one.key}", one.label.lower() or "blank or bore"
    if one.label:
        title: Piece = words(4, one.label, "row_words")
    else:
        inside = when(the.thread_side.same("internal"), "Bore", "Blank")
        title = shown(4, Figure("article_blank_title", "blank or bore", inside), "row_words")
    requirement = when(known(the.thread_row), one.requirement)
    asked = Figure(f"{name}_requirement", f"requirement: {label}", requirement)
    limits = (_limit(one, name, f"{end} limit: {label}", end) for end in ("low", "high"))
    return (title, shown(4, asked, "row_words"), *limits)


def _limit(one: Row, name: str, meaning: str, end: str) -> Piece:
    if one.typed:
        return entry(2, Input(f"{name}_{end}", end, meaning, "entry", LENGTH, LEAD_PROMPT), look="input_number")
    limit = when(known(the.thread_row), one.low if end == "low" else one.high)
    return shown(2, Figure(f"{name}_{end}", meaning, limit, "length"), "row_number")


LOOKS = {
    **{word: word for word in ("low", "high", "check entry", "check instrument", "not measured")},
    **dict.fromkeys(("fails", "WRONG HAND"), "left_hand"),
    **dict.fromkeys(("no method", "no instrument", "no limits", "no name"), "boxed"),
}
"""How results stand out that are not in."""

ROW = 24.75
"""Height of a characteristic: two lines of a method or result."""

LEAD_PROMPT = (
    "The standards of screw threads set no limit of its own for the lead; type that of the drawing, or write pass or "
    "fail after a GO gauge of full length."
)


def _typed(name: str, head: str, meaning: str, columns: int, prompt: str, dimension: str = "text") -> Column:
    one_each = f"{meaning}, one cell a characteristic" if name in _OF_EVERY else meaning
    check = one_of(METHODS, "Choose the method from the list.") if name == "method" else ANYTHING
    number = dimension == "entry"
    return Column(name, head, one_each, columns, dimension=dimension, look="input_number" if number else "cell_text",
                  prompt=prompt, check=check, role="input",
                  head_look="column_head_right" if number else "column_head_indented")  # fmt: skip


_OF_EVERY = ("method", "instrument", "measured")


def _left(name: str, head: str, columns: int) -> Column:
    """A column that its lines, or the other table, fill."""
    head_look = "column_head_right" if head in ("low", "high") else "column_head_indented"
    return Column(name, head, "", columns, elsewhere=True, named=False, head_look=head_look)


def _every() -> Table:
    """The list: what is typed and judged of every characteristic. The limits stand in its lines."""
    return Table("article", (
        _left("number", "", 1),
        _left("label", "characteristic", 4), _left("requirement", "requirement", 4),
        _left("low", "low", 2), _left("high", "high", 2),
        _typed("method", "method", "method", 3, "How it is measured."),
        _typed("instrument", "instrument", "instrument", 2,
               "Number of the instrument, as on the sheet Instruments; left empty where it is judged by eye."),
        _typed("measured", "measured", "measured value", 2,
               "The value in the working unit; pass or fail where the method is gauge; right or left for the hand.",
               "entry"),
        Column("result", "result", "result, one cell a characteristic", 4, look="row_result", formula=_result_of,
               head_look="column_head_indented"),
        _so_far("missing", _OPEN, "characteristics not complete, so far"),
        _so_far("failing", _FAILS, "characteristics outside their requirement, so far"),
    ), ALL, ROW, marks=tuple(
        Mark(look, here.result.same(word), ("result",)) for word, look in LOOKS.items()
    ))  # fmt: skip


def _others() -> Table:
    """Rows for what else the drawing asks for."""
    return Table("article", (
        _left("number", "", 1),
        _typed("other", "", "other characteristic of the drawing", 4, "What else the drawing asks for, one a row."),
        _typed("other_requirement", "", "its requirement", 4, "The requirement as the drawing has it."),
        _typed("other_low", "", "its low limit", 2, "Smallest value, working unit; empty where there is none.",
               "entry"),
        _typed("other_high", "", "its high limit", 2, "Largest value, working unit; empty where there is none.",
               "entry"),
    ), OTHERS, ROW)  # fmt: skip


def _list() -> Block:
    every = _every()
    heads = line(*(words(one.columns, str(one.head), one.head_look) for one in every.columns), height=NOTE)
    named = (*(_named(one) for one in ROWS), *[()] * OTHERS)
    rows = (
        line(Piece(1, number, "row_centred", dimension="0"), *pieces, height=ROW)
        for number, pieces in enumerate(named, start=1)
    )
    return Block(WIDE, (heads, *rows), ((1 + len(ROWS), 0, _others()), (1, 0, every)))


Finding = Callable[[Node], Node]
"""Something that the sheet Instruments says of the instrument in a row of it."""


def _of_instrument(name: str) -> Finding:
    return lambda row: xl.INDEX(the[f"instrument_{name}"], row)


def _thread_gauge_until(row: Node) -> Node:
    return xl.MAX(*(xl.INDEX(the.gauge_until, row, member) for member in (1, 2)))


def _plain_gauge_until(row: Node) -> Node:
    other = (xl.INDEX(the.instrument_kind, row) & "").same("other")
    return when(other, xl.INDEX(the.instrument_until, row), -1)


_GAUGE_UNTIL: dict[str, Finding] = {
    "": _of_instrument("until"),
    **dict.fromkeys(BY_THREAD_GAUGE, _thread_gauge_until),
}
"""Until when a pass or fail with an instrument counts, by characteristic; other sizes: with a plain gauge."""


def _fit(until: Finding, *also: Finding) -> Node:
    """Whether the instrument is listed and counts on the day of the examination, and something more about it."""
    row = xl.MATCH(exactly(here.instrument), the.instrument_id, 0)
    counts = all_of(
        until(row) >= the.article_day,
        xl.INDEX(the.instrument_since, row) <= the.article_day,
        *(finding(row) for finding in also),
    )
    return when(all_of(known(row), known(the.article_day)), counts, False)


def _in_range(row: Node) -> Node:
    """Whether the value is in the range of the instrument; over wires the value is not what the micrometer shows."""
    value = here.measured
    between = all_of(
        value >= xl.INDEX(the.instrument_least, row) - NOISE, value <= xl.INDEX(the.instrument_most, row) + NOISE
    )
    return first((here.method.same("over wires"), True), (known(value), between), otherwise=True)


_GAUGED = any_of(here.measured.same("pass"), here.measured.same("fail"))
_NO_SIZE = (here.measured <= 0, here.measured > MOST)


def _outside(limit: Node, beyond: Callable[[Node], Node]) -> Node:
    """Whether the value is beyond a limit where there is one; `beyond` tells the side."""
    return when(known(limit), beyond(xl.ROUND(limit, the.decimals)), False)


def _judged_size(key: str) -> Node:
    """What a number, or pass or fail, comes to."""
    no_number = (all_of(given(limit), no(known(limit))) for limit in (here.low, here.high))
    number = first(
        (any_of(*_NO_SIZE, *no_number), "check entry"),
        (all_of(no(known(here.low)), no(known(here.high))), "recorded" if key in REFERENCE_ROWS else "no limits"),
        (_outside(here.low, lambda shown: here.measured < xl.MIN(here.low, shown) - NOISE), "low"),
        (_outside(here.high, lambda shown: here.measured > xl.MAX(here.high, shown) + NOISE), "high"),
        otherwise="in",
    )
    return first(
        (here.measured.same("pass"), "passes"),
        (here.measured.same("fail"), "fails"),
        (known(here.measured), number),
        otherwise="check entry",
    )


def _judged_hand() -> Node:
    is_hand = any_of(here.measured.same("right"), here.measured.same("left"))
    return when(is_hand, when(here.measured.same(the.hand), "in", "WRONG HAND"), "check entry")


def _trusted(key: str) -> Node:
    """Whether the instrument serves for what was written; a size is not judged by eye."""
    if key == "hand":
        fit = _fit(_of_instrument("until"))
    else:
        until = _GAUGE_UNTIL.get(key, _plain_gauge_until)
        fit = when(_GAUGED, _fit(until), _fit(_of_instrument("reads_until"), _in_range))
    if key in BY_EYE:
        return when(any_of(blank(here.instrument), here.instrument.same("none")), here.method.same("by eye"), fit)
    return fit


def result(key: str) -> Node:
    """The result of a characteristic; those that the drawing adds have no key."""
    judged = _judged_hand() if key == "hand" else _judged_size(key)
    decided = when(_trusted(key), judged, "check instrument")
    if key not in BY_EYE:
        not_a_size = any_of(*_NO_SIZE, here.method.same("gauge"), here.method.same("by eye"))
        wrong = first((_GAUGED, here.method.differs("gauge")), (known(here.measured), not_a_size), otherwise=False)
        decided = when(wrong, "check entry", decided)
    unnamed = blank(here.instrument)
    complete = first(
        (blank(here.measured), "not measured"),
        (blank(here.method), "no method"),
        (all_of(unnamed, here.method.differs("by eye")) if key in BY_EYE else unnamed, "no instrument"),
        otherwise=decided,
    )
    if key:
        return when(known(the.thread_row), complete)
    nothing = xl.COUNTA(span(here.label, here.measured)).same(0)
    return first((nothing, ""), (blank(here.label), "no name"), otherwise=complete)


_KEYS = (*(one.key for one in ROWS), *[""] * OTHERS)


def _result_of(number: int) -> Node:
    return result(_KEYS[number - 1])


_FAILS = any_of(*(here.result.same(word) for word in FAILING))
_PASSES = any_of(*(here.result.same(word) for word in PASSING))
_OPEN = all_of(here.result.differs(""), no(_PASSES), no(_FAILS))


def _so_far(name: str, wanted: Node, meaning: str) -> Column:
    """A list in words that grows from row to row."""

    def longer(before: Node) -> Node:
        tell = say(when(given(here.label), here.label, say("number ", here.number)), " (", here.result, ")")
        return when(wanted, say(before, when(given(before), ", "), tell), before)

    return Column(name, name, meaning, formula=longer(above[name]), top=longer(NONE), look="note_9", role="working",
                  hidden=True)  # fmt: skip


PART = Input("article_serial", "Part examined", "first article: part examined", "text", ANYTHING,
             "First article: part examined.")  # fmt: skip
WHO = Input("article_who", "Examined by", "first article: who examined it", "text", ANYTHING,
            "First article: who examined it.")  # fmt: skip
WHEN = Input("article_date", "Day", "first article: day of the examination", "date", DAY,
             "First article: day of the examination.")  # fmt: skip

NOTES = (
    "A size for reference is recorded, not judged. The instrument must have been in date and fit on that day, by the "
    "sheet Instruments. A limit counts as in, and so does the limit as shown here."
)


def _top() -> Block:
    """Words, then the part, who and when."""
    told = Figure("article_words", "first article in words: accepted, or what is missing", in_words())
    is_day = Figure("article_date_words", "whether the day of the examination is one", days.if_no_day(the.article_date))
    material = Figure(
        "article_material", "material and its certificate, in words",
        say("Material ", record_head.or_dash(the.material), ", certificate ",
            record_head.or_dash(the.material_certificate)),
    )  # fmt: skip
    return block(
        "First article: every characteristic",
        *deep(shown(WIDE, told, "said", lines=2)),
        line(
            words(4, PART.label), entry(3, PART), gap(1), words(3, WHO.label), entry(4, WHO), gap(1),
            words(2, WHEN.label), entry(3, WHEN), shown(3, is_day, "aside"),
        ),
        line(shown(WIDE, material, "body")),
    )  # fmt: skip


def sheet(_: Made) -> Sheet:
    """The sheet: what is examined, then the list."""
    page = stack(
        record_head.head("article", WIDE),
        _top(),
        _list(),
        block(None, line(words(WIDE, NOTES, "note_9"), height=2 * NOTE)),
    )
    day = Figure("article_day", "day that instruments must be in date",
                 when(days.is_day(the.article_date), xl.INT(the.article_date)))  # fmt: skip
    return Sheet(SHEET, (page,), (day,), widths=(4.87,) * WIDE, landscape=True, user="record")


def in_words() -> Node:
    """Accepted, or what is wrong or missing."""
    missing, failing = xl.INDEX(the.article_missing, ALL), xl.INDEX(the.article_failing, ALL)
    unsigned = xl.COUNTA(the.article_serial, the.article_who) + xl.COUNT(the.article_day) < 3
    not_complete = "NOT COMPLETE, so not accepted: "
    return first(
        (no(known(the.thread_row)), "Choose the thread on the sheet Job first."),
        (given(failing), say("NOT ACCEPTED. Outside the requirement: ", failing, ".",
                             when(given(missing), say(" Not complete: ", missing, ".")))),
        (given(missing), say(not_complete, missing, ".")),
        (unsigned, f"{not_complete}name the part, who examined it and the day."),
        otherwise=say("ACCEPTED: all ", xl.COUNTIF(the.article_result, "?*"),
                      " characteristics are recorded and meet their requirement."),
    )  # fmt: skip
