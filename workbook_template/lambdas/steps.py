"""The steps that the functions share, as helpers with names of their own: find the thread, convert, read a length.

A `line` is the thread's place in the list of threads; what a helper takes and gives is in the thread's own unit.
"""

from __future__ import annotations

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.notation import all_of, any_of, first, given, known, no, node, when, xl
from workbook_template.figures.tree import Node, Part
from workbook_template.lambdas.table import JOINED, LEFT_HAND, NUMBERED, SIGNS
from workbook_template.lambdas.writing import (
    IMPOSSIBLE,
    NOT_GIVEN,
    NOT_UNDERSTOOD,
    Lambda,
    helper,
    let,
    listed,
    my,
    ours,
    young,
)

MANY = 255
"""Signs enough for the rest of any text."""

DIGITS = "0123456789."
UNITS = ("mm", "in")

INSIDE = xl.INDEX(listed.side, my.line).same("internal")
"""Whether the thread is an internal one."""


def of(column: Node) -> Node:
    """What the list of threads holds of this thread, where it must be there."""
    return xl.INDEX(column, my.line)


def of_system(column: Node) -> Node:
    """What all threads of its system have in common."""
    return xl.INDEX(column, of(listed.system))


def _replaced(text: Node) -> Node:
    for sign, plain in SIGNS.items():
        text = xl.SUBSTITUTE(text, sign, plain)
    return text


def _numbered(text: Node) -> Node:
    """The # of a numbered size for what else is written there; capitals and small letters are the same to = ."""
    cases = [(xl.LEFT(text, len(word)).same(word), "#" & xl.MID(text, len(word) + 1, MANY)) for word in NUMBERED]
    return first(*cases, otherwise=text)


def _parts_numbers(text: Node, place: Node) -> Node:
    """1 where the signs before and behind a place are both such as numbers are made of, place by place: AND would make
    one answer of all."""
    before, behind = xl.MID(" " & text, place, 1), xl.MID(text, place + 1, 1)
    return known(xl.FIND(before, JOINED)) * known(xl.FIND(behind, JOINED))


def _key() -> Node:
    sign = xl.MID(my.text, my.place, 1)
    joined = young.CONCAT(when(sign.same(" ") * (1 - _parts_numbers(my.text, my.place)), "", sign))
    right_hand = xl.LEFT(my.joined, xl.LEN(my.joined) - len(LEFT_HAND))
    return let(
        {
            "plain": xl.TRIM(_replaced(my.thread)),
            "text": _numbered(my.plain),
            "place": young.SEQUENCE(xl.LEN(my.text)),
            "joined": joined,
        },
        when(xl.RIGHT(my.joined, len(LEFT_HAND)).same(LEFT_HAND), right_hand, my.joined),
    )


def _fits() -> Node:
    """= takes 6g for 6G, so the letters of a class whose case counts are compared once more."""
    here, signs = xl.INDEX(listed.key, my.place), xl.INDEX(listed.told_apart, my.place)
    return all_of(here.same(my.key), xl.EXACT(xl.RIGHT(my.key, signs), xl.RIGHT(here, signs)))


def _line() -> Node:
    cases = [(ours.fits(my.key, place), xl.INDEX(listed.line, place)) for place in (my.place, my.place + 1)]
    return let(
        {"key": ours.key(my.thread), "place": young.XMATCH(my.key, listed.key)}, first(*cases, otherwise=NOT_GIVEN)
    )


def _scale() -> Node:
    own, asked = my.own, my.asked
    return let(
        {"own": of(listed.unit), "asked": xl.TRIM(my.unit)},
        first(
            (any_of(asked.same(""), asked.same(own)), 1),
            (asked.same("mm"), MM_PER_INCH),
            (asked.same("in"), node(1) / MM_PER_INCH),
            otherwise=NOT_UNDERSTOOD,
        ),
    )


def _number() -> Node:
    """Only digits and a point with a minus before them: NUMBERVALUE alone would read a date, a share or 0,5 as 5."""
    digits = when(xl.LEFT(my.text, 1).same("-"), xl.MID(my.text, 2, MANY), my.text)
    sign = xl.MID(my.digits, young.SEQUENCE(xl.LEN(my.digits)), 1)
    plain = xl.SUM(xl.ISNUMBER(xl.FIND(sign, DIGITS)) * 1).same(xl.LEN(my.digits))
    return let(
        {"text": xl.TRIM(my.value), "digits": digits},
        first(
            (known(my.value), my.value),
            (no(given(my.digits)), NOT_UNDERSTOOD),
            (plain, young.NUMBERVALUE(my.text, ".", ",")),
            otherwise=NOT_UNDERSTOOD,
        ),
    )


def _signed_length() -> Node:
    tail = xl.RIGHT(my.text, 2)
    written = any_of(*(my.tail.same(unit) for unit in UNITS))
    number = ours.number(when(my.written, xl.LEFT(my.text, xl.LEN(my.text) - 2), my.value))
    return let(
        {"text": xl.TRIM(my.value), "tail": tail, "written": written},
        number / ours.scale(my.line, when(my.written, my.tail, my.unit)),
    )


def _more_than_nothing(value: Node) -> Node:
    return let({"found": value}, when(my.found > 0, my.found, IMPOSSIBLE))


def _limit() -> Node:
    largest, smallest = ours.set(my.line, my.largest), ours.set(my.line, my.smallest)
    return first(
        (my.limit.same("max"), largest),
        (my.limit.same("min"), smallest),
        (my.limit.same("mid"), (largest + smallest) / 2),
        (my.limit.same("basic"), of(my.basic)),
        otherwise=NOT_UNDERSTOOD,
    )


def diameter(which: str, limit: Part) -> Node:
    """A diameter of the thread on `my.line` at a limit."""
    columns = (getattr(listed, f"{which}_{end}") for end in ("max", "min", "basic"))
    return ours.limit(my.line, limit, *columns)


STEPS: tuple[Lambda, ...] = (
    helper("THREADS_KEY", "a callout without blanks and dashes that say nothing", "thread", _key()),
    helper("THREADS_FITS", "whether a place of the list of callouts is that of a key, class in its own letters",
           "key place", _fits()),
    helper("THREADS_LINE", "the line of a thread in the list of threads, #N/A where it is not there", "thread",
           _line()),
    helper("THREADS_SET", "a figure of a thread, #N/A where the standard sets none", "line column",
           let({"found": of(my.column)}, when(known(my.found), my.found, NOT_GIVEN))),
    helper("THREADS_SCALE", "what turns the thread's own unit into the one asked for", "line unit", _scale()),
    helper("THREADS_NUMBER", "a number, or a text that is one, with a point for decimals", "value", _number()),
    helper("THREADS_MORE", "a number that is more than zero", "value", _more_than_nothing(ours.number(my.value))),
    helper("THREADS_WAY", "a length of either sign in the thread's own unit", "value line unit", _signed_length()),
    helper("THREADS_LENGTH", "a length in the thread's own unit: a number or a text such as 0.92 mm",
           "value line unit", _more_than_nothing(ours.way(my.value, my.line, my.unit))),
    helper("THREADS_LIMIT", "a diameter at max, min, mid or basic", "line limit largest smallest basic", _limit()),
)  # fmt: skip
"""In this order each uses those before it alone."""
