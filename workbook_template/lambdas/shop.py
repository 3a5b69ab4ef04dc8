"""The time of a threading job, and readings judged and brought to 20 degrees Celsius."""

from __future__ import annotations

from sheetfuncs.inspection import COLDEST, HOTTEST, MOST_EXPANSION, NOISE, expansions
from workbook_template.figures.notation import all_of, any_of, first, known, no, when, xl
from workbook_template.figures.tree import Node, Part
from workbook_template.lambdas.sizes import found
from workbook_template.lambdas.steps import of
from workbook_template.lambdas.writing import (
    IMPOSSIBLE,
    NOT_UNDERSTOOD,
    Lambda,
    function,
    let,
    listed,
    my,
    one,
    ours,
)

MOST_PASSES = 1000
OPEN = 1e300
"""What no value is beyond, where a limit is left out."""


def _or(argument: Node, otherwise: Part) -> Node:
    """A number, or what stands for it where it is left out."""
    return when(argument.same(""), otherwise, ours.number(argument))


def _run(argument: Node) -> Node:
    """Approach or overrun; none where it is left out."""
    way = let({"way": ours.way(argument, my.line, "")}, when(my.way < 0, IMPOSSIBLE, my.way))
    return when(argument.same(""), 0, way)


def _time() -> Node:
    passes = ours.number(one.passes)
    wrong = any_of(my.count < 1, my.count > MOST_PASSES, my.count.differs(xl.INT(my.count)))
    ways = first(
        (any_of(one.power_return.same(""), one.power_return.same("no")), 1),
        (one.power_return.same("yes"), 2),
        otherwise=NOT_UNDERSTOOD,
    )
    one_way = my.travel / (of(listed.pitch) * ours.more(one.rpm))
    return found(
        when(any_of(wrong, my.back < 0), IMPOSSIBLE, my.count * (ways * one_way + my.back / 60)),
        count=passes,
        travel=ours.length(one.length, my.line, "") + _run(one.approach) + _run(one.overrun),
        back=_or(one.return_seconds, 0),
    )


def _verdict() -> Node:
    rule = one.decision_rule
    low, high = one.low, one.high
    known_rule = any_of(rule.same(""), rule.same("simple"), rule.same("guard"))
    refused = any_of(
        (low & high).same(""),
        my.least >= my.most,
        (rule & one.uncertainty).same("guard"),
    )
    beside = (xl.ABS(when(known(limit), limit, 0)) for limit in (my.low_number, my.high_number))
    inside = (my.judged >= my.least + my.guard - my.noise, my.judged <= my.most - my.guard + my.noise)
    outside = (my.judged < my.least - my.guard - my.noise, my.judged > my.most + my.guard + my.noise)
    return let(
        {
            "judged": ours.number(one.value),
            "least": _or(low, -OPEN),
            "most": _or(high, OPEN),
            "low_number": _or(low, ""),
            "high_number": _or(high, ""),
            "width": when(one.uncertainty.same(""), 0, ours.more(one.uncertainty)),
            "guard": when(rule.same("simple"), 0, my.width),
            "noise": NOISE * xl.MAX(xl.ABS(my.judged), *beside),
        },
        first(
            (no(known_rule), NOT_UNDERSTOOD),
            (xl.ISERROR(my.width), my.width),
            (refused, IMPOSSIBLE),
            (all_of(*inside), "accept"),
            (any_of(*outside), "reject"),
            otherwise="undecided",
        ),
    )


def _celsius() -> Node:
    """Degrees Celsius; a text may end in C, or in F for Fahrenheit."""
    text, tail = my.text, xl.RIGHT(my.text, 1)
    number = ours.number(xl.SUBSTITUTE(xl.LEFT(text, xl.LEN(text) - 1), "°", ""))
    degrees = first((tail.same("F"), (number - 32) / 1.8), (tail.same("C"), number), otherwise=ours.number(text))
    return let({"text": xl.TRIM(one.temperature)}, when(known(one.temperature), one.temperature, degrees))


def _at_20() -> Node:
    word = xl.TRIM(one.material)
    named = [(word.same(name), per_degree) for name, per_degree in expansions().items()]
    refused = any_of(my.degrees < COLDEST, my.degrees > HOTTEST, xl.ABS(my.per_degree) > MOST_EXPANSION)
    return let(
        {"degrees": _celsius(), "per_degree": first(*named, otherwise=ours.number(one.material))},
        when(refused, IMPOSSIBLE, ours.number(one.measured) / (1 + my.per_degree * (my.degrees - 20))),
    )


FUNCTIONS: tuple[Lambda, ...] = (
    function("THREAD_TIME", _time()),
    function("THREAD_VERDICT", _verdict()),
    function("THREAD_AT_20C", _at_20()),
)
