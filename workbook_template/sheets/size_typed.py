"""Sizes as people type them, on the sheets Job and Quote; on Job a list, too, that the diameter makes short.

Typed are also 1-1/4-7 UNC or 1 1/4"-7UNC for 1 1/4-7 UNC, 1-11-1/2 NPT for 1-11.5 NPT, M6x1.0 and M20×2.5, dashes
and blanks of other kinds, 10-32 for #10-32, the class behind the size, and what means one size of the system alone: the
pair 1/4-20, M20 for its coarse pitch, a diameter and a series as in 1 NPT. What is not taken is told: the sizes that a
pair may be, or that the lists have none such.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from typing import NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import (
    all_of,
    any_of,
    empty,
    first,
    given,
    known,
    no,
    say,
    span,
    the,
    unwild,
    when,
    xl,
)
from workbook_template.figures.tree import Node, Part
from workbook_template.sheets.inputs import in_text

SIGNS = (("\N{NO-BREAK SPACE}", " "), ("×", "x"), ("–", "-"), ("—", "-"), ("−", "-"), ('"', ""))
"""Signs that a keyboard or a drawing has for others; an inch sign says nothing."""
NUMBERED = tuple((f"{word}{blank}", "#") for word in ("No.", "no.") for blank in (" ", ""))
"""Words for the sign of a numbered size: No. 10-32 is #10-32."""
NAMES = ("UN", "ACME", "STUB", "BUTT", "BS", "BA", "NP")
"""What the names of series begin with; 3/4-16UNF lacks the blank before it."""
BY_NAME = tuple(one for both in ("UN", "BS", "NP") for one in (both, both.lower()))
"""What a diameter may stand before without threads per inch: 1 NPT, 1/2 UNC."""
ROOM = ((" - ", "-"), ("- ", "-"), (" -", "-"), (" x ", "x"))


class Typed(NamedTuple):
    """Where a size is typed: its text, the tree of one of STEPS there, and the row of a pair or diameter.

    `classed` is that row where a class stands behind it.
    """

    text: Node
    step: Callable[[str], Node]
    short: Callable[[Node], Node]
    classed: Callable[[Node], Node]


def _written(typed: Typed) -> Node:
    """The size as typed, in the signs of the list: a whole number before a fraction stands before a blank."""
    plain: Node = typed.text & ""
    apart = ((name, f" {name}") for both in NAMES for name in (both, both.lower()))
    for sign, meant in (*SIGNS, *NUMBERED, *apart):
        plain = xl.SUBSTITUTE(plain, sign, meant)
    plain = xl.TRIM(plain)
    for wide, close in ROOM:
        plain = xl.SUBSTITUTE(plain, wide, close)
    return plain


def _dashed(text: Node) -> Node:
    """A class of one or two words behind a blank set off by a dash, as in 3/4-16 UNF 2A or 1/2-12 BSW medium bolt."""
    blanks = xl.LEN(text) - xl.LEN(xl.SUBSTITUTE(text, " ", ""))

    def from_blank(number: Node) -> tuple[Node, Node]:
        behind = xl.MID(text, xl.FIND("|", xl.SUBSTITUTE(text, " ", "|", number)) + 1, 20)
        named = xl.IFERROR(xl.MATCH(unwild(behind), the.class_names, 0), "")
        return known(named), xl.SUBSTITUTE(text, " ", "-", number)

    return first(from_blank(blanks - 1), from_blank(blanks), otherwise=text)


def _halves(text: Node) -> Node:
    """Threads per inch of 11 1/2 or 11-1/2 as the list has them, 11.5: a half behind the first dash, then a blank."""
    padded: Node = say(text, " ")
    for half in (" 1/2 ", "-1/2 "):
        per_inch = xl.FIND("-", padded) < xl.FIND(half, padded)
        padded = xl.IFERROR(when(per_inch, xl.SUBSTITUTE(padded, half, ".5 "), padded), padded)
    return xl.TRIM(padded)


def _mixed(text: Node) -> Node:
    mixed = xl.FIND("-", text) < xl.FIND("/", text)
    return xl.IFERROR(when(mixed, xl.SUBSTITUTE(text, "-", " ", 1), text), text)


def _without_zeros(text: Node) -> Node:
    """A metric pitch without zeros behind its point."""
    has_point = xl.IFERROR(xl.FIND(".", text, xl.SEARCH("x", text)), 0) > 0
    cut = first(
        (xl.RIGHT(text, 2).same(".0"), xl.LEFT(text, xl.LEN(text) - 2)),
        (xl.RIGHT(text, 1).same("0"), xl.LEFT(text, xl.LEN(text) - 1)),
        otherwise=text,
    )
    return when(has_point, cut, text)


def _last_dash(text: Node) -> Node:
    count = xl.LEN(text) - xl.LEN(xl.SUBSTITUTE(text, "-", ""))
    return xl.IFERROR(xl.FIND("|", xl.SUBSTITUTE(text, "-", "|", count)), "")


def _in_part(find: Callable[[Node], Node], cells: Node, ends: tuple[str, str]) -> Node:
    """The row of a list that is found in the part of the system: its first row and their number."""
    start, count = (xl.INDEX(the[name], the.system_row) for name in ends)
    part = span(xl.INDEX(cells, start), xl.INDEX(cells, start + count - 1))
    return xl.IFERROR(find(part) + start - 1, "")


def _numbered(wanted: Node, cells: Node) -> Node:
    """The place of a text in a list; 10-32 stands there as #10-32."""
    as_typed, with_sign = (xl.MATCH(text, cells, 0) for text in (unwild(wanted), say("#", unwild(wanted))))
    return xl.IFERROR(as_typed, with_sign)


def _listed(wanted: Node) -> Node:
    """The row of a size as it is listed; no two systems have the same."""
    return when(given(wanted), xl.IFERROR(_numbered(wanted, the.size_list), ""))


def _short_of_system(wanted: Node) -> Node:
    """The row of the size of the system that a pair or diameter means; other systems may have it too."""
    found = _in_part(lambda part: _numbered(wanted, part), the.size_shorts, ("system_firsts", "system_counts"))
    return when(all_of(known(the.size_start), given(wanted)), found)


def _short_of_any(wanted: Node) -> Node:
    """The same where no system is chosen, of what means one size then: 1/4-20 as UNC, 1/2-12 not, which BSW has too."""
    return when(given(wanted), xl.IFERROR(_numbered(wanted, the.size_pairs), ""))


def _classed_of_any(wanted: Node) -> Node:
    """The same before a class, which says of 1/2-12-2A that it is UNS."""
    found = xl.IFERROR(_numbered(wanted, the.size_pairs), _numbered(wanted, the.size_pairs_classed))
    return when(given(wanted), xl.IFERROR(found, ""))


def _by_name(wanted: Node) -> Node:
    """The row of the one size that has this diameter and series, whatever its threads per inch."""
    sought = unwild(wanted)
    for name in BY_NAME:
        sought = xl.SUBSTITUTE(sought, f" {name}", f"-* {name}")
    alone = xl.COUNTIF(the.size_list, sought).same(1)
    return when(given(wanted), xl.IFERROR(when(alone, xl.MATCH(sought, the.size_list, 0)), ""))


def _diameter_row() -> Node:
    wanted = xl.TRIM(the.thread_diameter_used & "")
    found = _in_part(
        lambda part: xl.MATCH(unwild(wanted), part, 0), the.diameter_list, ("diameter_firsts", "diameter_counts")
    )
    return when(all_of(known(the.system_row), given(wanted)), found)


def _of_diameter(name: str, otherwise: Node) -> Node:
    row = the.diameter_row
    return when(known(row), xl.INDEX(the[name], row), otherwise)


WHOLE = ("as_listed", "by_short", "by_name")
"""Where a size may be that has no class behind it."""
BEFORE = ("before_class", "short_before_class", "name_before_class")
"""Where it may be before a class."""


def _first_known(typed: Typed, steps: Iterable[str]) -> Node:
    return first(*((known(typed.step(one)), typed.step(one)) for one in steps))


def _class_typed(typed: Typed) -> Node:
    behind = all_of(no(known(typed.step("whole"))), known(typed.step("place")))
    return when(behind, xl.MID(typed.step("written"), typed.step("dash") + 1, 20))


STEPS: dict[str, tuple[str, Callable[[Typed], Node]]] = {
    "signs": ("the size in the signs of the list", _written),
    "dashed": ("the same, a class behind a blank set off by a dash", lambda my: _dashed(my.step("signs"))),
    "written": ("the same, a whole number before a fraction set off by a blank",
                lambda my: _mixed(_halves(my.step("dashed")))),
    "plain": ("the same, a metric pitch without zeros behind its point", lambda my: _without_zeros(my.step("written"))),
    "dash": ("place of its last dash, before which a size may end", lambda my: _last_dash(my.step("written"))),
    "before_dash": ("what stands before it",
                    lambda my: when(known(my.step("dash")), xl.LEFT(my.step("written"), my.step("dash") - 1))),
    "short": ("the same without such zeros", lambda my: _without_zeros(my.step("before_dash"))),
    "as_listed": ("row of the size as it is listed", lambda my: _listed(my.step("plain"))),
    "by_short": ("row of the size that the pair or diameter means", lambda my: my.short(my.step("written"))),
    "by_name": ("row of the size that a diameter and a series mean, as in 1 NPT",
                lambda my: _by_name(my.step("written"))),
    "before_class": ("row of the size before a class", lambda my: _listed(my.step("short"))),
    "short_before_class": ("row of the size that a pair or diameter before a class means",
                           lambda my: my.classed(my.step("short"))),
    "name_before_class": ("row of the size that a diameter and a series before a class mean",
                          lambda my: _by_name(my.step("short"))),
    "whole": ("row of the size that has no class behind it", lambda my: _first_known(my, WHOLE)),
    "place": ("where the chosen size stands among all", lambda my: _first_known(my, ("whole", *BEFORE))),
    "class_typed": ("the class that is typed behind the size", _class_typed),
}  # fmt: skip
"""From a size as typed to its row, in order, each step using the ones before it: what it is, and its tree."""


def of_job(name: str) -> Node:
    """A step of the size on the sheet Job: a cell of the sheet Threads."""
    return the[f"size_{name}"]


JOB = Typed(the.thread_size, of_job, _short_of_system, _short_of_system)


def of_row(typed: Node, cells: Mapping[str, Node]) -> Typed:
    """A size that is typed into a row of many, in `cells` the steps that have a cell there; no system is chosen."""

    def step(name: str) -> Node:
        return cells[name] if name in cells else STEPS[name][1](row)

    row = Typed(typed, step, _short_of_any, _classed_of_any)
    return row


FOUND = (
    Figure("diameter_row", "place of the chosen diameter in its list, if the system has it", _diameter_row()),
    Figure("sizes_from", "first size of the list to choose from", _of_diameter("diameter_sizes", the.size_start)),
    Figure("sizes_many", "number of sizes of that list", _of_diameter("diameter_size_counts", the.size_number)),
    *(Figure(f"size_{name}", meaning, tree(JOB)) for name, (meaning, tree) in STEPS.items()),
)  # fmt: skip
"""Formulas in order, each using the ones before it; they stand among those of the sheet Threads."""


def faults() -> tuple[tuple[Node, Node], ...]:
    """What contradicts itself among diameter, size and class, each with its sentence."""
    row, place, typed = the.diameter_row, the.size_row, the.thread_diameter_used
    start, count = xl.INDEX(the.diameter_sizes, row), xl.INDEX(the.diameter_size_counts, row)
    elsewhere = when(all_of(known(row), known(place)), any_of(place < start, place >= start + count), False)
    in_size, chosen = the.size_class_typed, the.thread_class_text
    return (
        (
            all_of(given(typed), no(known(row))),
            say(typed, " is no diameter of the system ", the.thread_system, ": choose another, or clear it."),
        ),
        (
            elsewhere,
            say("The size ", the.thread_size, " is not of the diameter ", typed,
                ": choose a size, or clear the diameter."),
        ),
        with_hand(JOB, HAND_OF_JOB),
        (
            all_of(given(in_size), no(empty(chosen)), no(xl.EXACT(in_size, chosen))),
            say("The size says ", in_size, ", the class below says ", chosen, ": make them the same."),
        ),
    )  # fmt: skip


def may_be(typed: Typed) -> Node:
    """The sizes that a pair may be which means none alone, 1/2-12 or 1-5-2G, in words; an error where it is no such."""
    row = xl.IFERROR(*(xl.MATCH(unwild(typed.step(step)), the.pair_list, 0) for step in ("written", "short")))
    return xl.INDEX(the.pair_sizes, row) & ""


def with_hand(typed: Typed, hand: str) -> tuple[Node, Node]:
    """Whether a size is typed with its hand behind it, and what is said then; `hand` is who has that."""
    end = xl.RIGHT(xl.UPPER(typed.step("signs")), 2)
    says = say(xl.TRIM(typed.text), f": leave off the hand; {hand}.")
    return xl.IFERROR(any_of(end.same("LH"), end.same("RH")), False), says


HAND_OF_JOB = "it is chosen below"


def not_taken(typed: Typed, lists: Part = "") -> Node:
    """What is said of a size that is typed and not taken; `lists` is where it was looked for."""
    return say(
        xl.TRIM(typed.text), " is not on the sheet Threads", lists, ": write it as listed there, as in 3/4-16 UNF or "
        "M20x2.5; a special is listed by new --thread.",
    )  # fmt: skip


def _system_of(place: Node) -> Node:
    return xl.INDEX(the.system_list, xl.MATCH(place, the.system_firsts, 1)) & ""


def no_system() -> Node:
    """What is said on Job where no system is chosen: what the size that is typed has to do with it."""
    size, chosen = xl.TRIM(the.thread_size), xl.TRIM(in_text(the.thread_system))
    return first(
        (given(chosen), say(chosen, " is no thread system of the list: choose one of it.")),
        (given(xl.IFERROR(may_be(JOB), "")), say(size, " may be ", may_be(JOB), ": choose the thread system.")),
        (known(the.size_place), say("Choose the thread system; ", size, " is of ", _system_of(the.size_place), ".")),
        otherwise="Choose the thread system.",
    )


def no_size() -> Node:
    """What is said on Job where the size is none of the system that is chosen."""
    size, system = xl.TRIM(the.thread_size), the.thread_system
    return first(
        (empty(xl.TRIM(in_text(the.thread_size))), say("Choose a size of the system ", system, ".")),
        (known(the.size_place), say(
            size, " is of the system ", _system_of(the.size_place), ", not of ", system,
            ": choose that system, or another size.",
        )),
        with_hand(JOB, HAND_OF_JOB),
        otherwise=not_taken(JOB, say(" for the system ", system)),
    )  # fmt: skip


def no_class() -> Node:
    """What is said on Job of a size that is known, where its class is not."""
    size, in_size, chosen = xl.INDEX(the.size_list, the.size_row), the.size_class_typed, the.thread_class_text
    return first(
        (given(chosen), say(chosen, " is no class of the size ", size, ": choose one of the list.")),
        (given(in_size), say("Choose the class of ", size, " below too: the size says ", in_size, ".")),
        otherwise=say("Choose a class of the size ", size, "."),
    )


def taken(typed: Typed, listed: Node) -> Node:
    """Which size is taken, where it is typed in another way."""
    size = typed.step("signs")
    other = all_of(no(xl.EXACT(size, listed)), no(xl.EXACT(size, say(listed, "-", typed.step("class_typed")))))
    return when(other, say(size, " taken as ", listed, ". "))
