"""The first article list: every characteristic with its requirement, method, instrument and result.

A characteristic that is not measured, or whose method or instrument is not named, does not pass, and the words under
the list name it. A size needs a number, by an instrument that measures sizes and has it in its range; pass and fail are
for the method gauge: of the pitch diameter and the lead with a thread gauge for this job, of another size with a gauge
that is listed under other.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import (
    above,
    all_of,
    any_of,
    blank,
    exactly,
    first,
    given,
    here,
    in_table,
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
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book, Check
from workbook_template.sheets import log_rows
from workbook_template.trade import days

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
    least, most, least_note, most_note = (the[f"{which}_{end}"] for end in ("min", "max", "min_note", "max_note"))
    both_bind = all_of(known(least), known(most), least_note.same(""), most_note.same(""))
    one_is_told = any_of(least_note.same("for reference"), most_note.same("for reference"))
    words = first((both_bind, "limits of size"), (one_is_told, "for reference"), otherwise="by the standard")
    low, high = (
        when(all_of(known(size), note.same("")), size) for size, note in ((least, least_note), (most, most_note))
    )
    return Row(which, f"{which.capitalize()} diameter", words, low, high)


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
REFERENCE_ROWS = ("major", "pitch", "minor")
BY_THREAD_GAUGE = ("pitch", "lead")
"""Characteristics that a thread gauge for the job may pass."""

MOST = float(log_rows.MOST)
_ON_THE_PAGE = ("number", "label", "requirement", "low", "high", "method", "instrument", "measured", "result")
COLUMNS = dict(zip(_ON_THE_PAGE, range(1, 10))) | {"missing": 11, "failing": 12}
"""The columns of the list by number."""


def build(book: Book, ws: Worksheet, top: int) -> int:
    """Write the block with its heading in row `top`; the last row it takes."""
    blocks.heading(book, ws, f"A{top}:I{top}", "First article: every characteristic")
    heads = ("no.", "characteristic", "requirement", "low", "high", "method", "instrument", "measured", "result")
    for letter, text in zip("ABCDEFGHI", heads):
        blocks.write(book, ws, f"{letter}{top + 1}", text, "head")
    first = top + 2
    other, last = first + len(ROWS), first + ALL - 1
    for number, one in enumerate(ROWS):
        _row(book, ws, first + number, one)
    _others(book, ws, other, last)
    _shared(book, ws, first, last)
    for row in range(first, last + 1):
        ws.row_dimensions[row].height = 24
        blocks.write(book, ws, f"A{row}", row - first + 1, "row", "0")
    _words(book, ws, first, last)
    return last + 4


def _row(book: Book, ws: Worksheet, row: int, one: Row) -> None:
    name = f"article_{one.key}"
    if one.label:
        blocks.write(book, ws, f"B{row}", one.label, "words")
    else:
        title = when(the.thread_side.same("internal"), "Bore", "Blank")
        blocks.result(book, ws, f"B{row}", "article_blank_title", "blank or bore", title, look="words")
    requirement = when(known(the.thread_row), one.requirement)
    meaning = f"requirement: {one.label.lower() or 'blank or bore'}"
    blocks.result(book, ws, f"C{row}", f"{name}_requirement", meaning, requirement, look="words")
    for letter, end, formula in (("D", "low", one.low), ("E", "high", one.high)):
        meaning = f"{end} limit: {one.label.lower() or 'blank or bore'}"
        if one.typed:
            blocks.entry(
                book, ws, f"{letter}{row}", f"{name}_{end}", meaning, dimension="entry", check=blocks.LENGTH,
                prompt="The standards of screw threads set no limit of its own for the lead; type that of the drawing, "
                "or write pass or fail after a GO gauge of full length.",
            )  # fmt: skip
        else:
            limit = when(known(the.thread_row), formula)
            blocks.result(book, ws, f"{letter}{row}", f"{name}_{end}", meaning, limit, dimension="length", look="row")


def _others(book: Book, ws: Worksheet, first: int, last: int) -> None:
    """Rows for what else the drawing asks for."""
    columns = (
        (
            "B",
            "article_other",
            "other characteristic of the drawing",
            "text",
            "What else the drawing asks for, one a row.",
        ),
        ("C", "article_other_requirement", "its requirement", "text", "The requirement as the drawing has it."),
        (
            "D",
            "article_other_low",
            "its low limit",
            "entry",
            "Smallest value, working unit; empty where there is none.",
        ),
        (
            "E",
            "article_other_high",
            "its high limit",
            "entry",
            "Largest value, working unit; empty where there is none.",
        ),
    )
    for letter, name, meaning, dimension, prompt in columns:
        _input_range(book, ws, f"{letter}{first}:{letter}{last}", name, meaning, dimension, blocks.ANYTHING, prompt)


def _shared(book: Book, ws: Worksheet, top: int, last: int) -> None:
    """Method, instrument, measured and result of every row."""
    columns = (
        ("F", "article_method", "method", "text", blocks.one_of(METHODS, "Choose the method from the list."),
         "How it is measured."),
        ("G", "article_instrument", "instrument", "text", blocks.ANYTHING,
         "Number of the instrument, as on the sheet Instruments; none where it is judged by eye."),
        ("H", "article_measured", "measured value", "entry", blocks.ANYTHING,
         "The value in the working unit; pass or fail where the method is gauge; right or left for the hand."),
    )  # fmt: skip
    for letter, name, meaning, dimension, check, prompt in columns:
        ref = f"{letter}{top}:{letter}{last}"
        _input_range(book, ws, ref, name, f"{meaning}, one cell a characteristic", dimension, check, prompt)
    for row, key in enumerate((*(one.key for one in ROWS), *[""] * OTHERS), start=top):
        formula = in_table(result(key), COLUMNS, COLUMNS["result"], top, last)
        blocks.write(book, ws, f"I{row}", formula, "row_bold")
    blocks.define(book, ws, f"I{top}:I{last}", "article_result", "result, one cell a characteristic")


def _input_range(
    book: Book, ws: Worksheet, ref: str, name: str, meaning: str, dimension: str, check: Check, prompt: str
) -> None:
    for (cell,) in ws[ref]:
        blocks.write(book, ws, cell.coordinate, None, "input_number" if dimension == "entry" else "input", dimension)
    blocks.name_input(book, ws, ref, name, meaning, prompt=prompt, dimension=dimension, check=check)


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
    if key in ("", "hand"):
        return when(here.instrument.same("none"), here.method.same("by eye"), fit)
    return fit


def result(key: str) -> Node:
    """The result of a characteristic; those that the drawing adds have no key."""
    judged = _judged_hand() if key == "hand" else _judged_size(key)
    decided = when(_trusted(key), judged, "check instrument")
    if key not in ("", "hand"):
        not_a_size = any_of(*_NO_SIZE, here.method.same("gauge"), here.method.same("by eye"))
        wrong = first((_GAUGED, here.method.differs("gauge")), (known(here.measured), not_a_size), otherwise=False)
        decided = when(wrong, "check entry", decided)
    complete = first(
        (blank(here.measured), "not measured"),
        (blank(here.method), "no method"),
        (blank(here.instrument), "no instrument"),
        otherwise=decided,
    )
    if key:
        return when(known(the.thread_row), complete)
    nothing = xl.COUNTA(span(here.label, here.measured)).same(0)
    return first((nothing, ""), (blank(here.label), "no name"), otherwise=complete)


def _words(book: Book, ws: Worksheet, top: int, last: int) -> None:
    """The sentence under the list, from a running list beside it."""
    fails = any_of(*(here.result.same(word) for word in FAILING))
    passes = any_of(*(here.result.same(word) for word in PASSING))
    open_still = all_of(here.result.differs(""), no(passes), no(fails))
    for letter, name, wanted, meaning in (
        ("K", "missing", open_still, "characteristics not complete, so far"),
        ("L", "failing", fails, "characteristics outside their requirement, so far"),
    ):
        blocks.write(book, ws, f"{letter}{top - 1}", f"article {name}", "head")
        for row in range(top, last + 1):
            before = NONE if row == top else above[name]
            tell = say(when(given(here.label), here.label, say("number ", here.number)), " (", here.result, ")")
            longer = say(before, when(given(before), ", "), tell)
            formula = in_table(when(wanted, longer, before), COLUMNS, COLUMNS[name], top, last)
            blocks.write(book, ws, f"{letter}{row}", formula, "small")
        blocks.define(book, ws, f"{letter}{top}:{letter}{last}", f"article_{name}", meaning, role="working")
    row = last + 1
    blocks.result(
        book, ws, f"A{row}:I{row + 1}", "article_words", "first article in words: accepted, or what is missing",
        in_words(),
        look="sentence",
    )  # fmt: skip
    ws.row_dimensions[row].height = ws.row_dimensions[row + 1].height = 26
    blocks.write(
        book, ws, f"A{row + 2}:I{row + 2}",
        "A size for reference is recorded, not judged. The instrument must have been in date and fit on that day, by "
        "the sheet Instruments. A limit counts as in, and so does the limit as shown here.", "side",
    )  # fmt: skip
    row += 3
    for letter, name, label, meaning, dimension, check in (
        ("B", "article_serial", "Part, by whom, when", "part examined", "text", blocks.ANYTHING),
        ("D", "article_who", "", "who examined it", "text", blocks.ANYTHING),
        ("F", "article_date", "", "day of the examination", "date", blocks.DAY),
    ):
        if label:
            blocks.write(book, ws, f"{letter}{row}", label, "label")
        left = {"B": "C", "D": "D", "F": "F"}[letter]
        right = {"B": "C", "D": "E", "F": "G"}[letter]
        ref = f"{left}{row}:{right}{row}" if left != right else f"{left}{row}"
        prompt = f"First article: {meaning}."
        blocks.entry(book, ws, ref, name, f"first article: {meaning}", prompt=prompt, dimension=dimension, check=check)
    blocks.result(
        book, ws, f"H{row}:I{row}", "article_date_words", "whether the day of the examination is one",
        days.if_no_day(the.article_date), look="mark",
    )  # fmt: skip
    ws.row_dimensions[row].height = 24
    blocks.write(book, ws, f"K{top - 2}", "article day", "small")
    day = when(days.is_day(the.article_date), xl.INT(the.article_date))
    blocks.result(book, ws, f"L{top - 2}", "article_day", "day that instruments must be in date", day, role="working")


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
