"""The size on the sheet Job: a list that the diameter makes short, and sizes as people type them.

Typed are also 1-1/4-7 UNC or 1 1/4"-7UNC for 1 1/4-7 UNC, 1-11-1/2 NPT for 1-11.5 NPT, M6x1.0 and M20×2.5, dashes
and blanks of other kinds, 10-32 for #10-32, the class behind the size, and what means one size of the system alone: the
pair 1/4-20, M20 for its coarse pitch, a diameter and a series as in 1 NPT.
"""

from __future__ import annotations

from collections.abc import Callable

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
from workbook_template.figures.tree import Node

SIGNS = (("\N{NO-BREAK SPACE}", " "), ("×", "x"), ("–", "-"), ("—", "-"), ("−", "-"), ('"', ""))
"""Signs that a keyboard or a drawing has for others; an inch sign says nothing."""
NAMES = ("UN", "ACME", "STUB", "BUTT", "BS", "BA", "NP")
"""What the names of series begin with; 3/4-16UNF lacks the blank before it."""
BY_NAME = tuple(one for both in ("UN", "BS", "NP") for one in (both, both.lower()))
"""What a diameter may stand before without threads per inch: 1 NPT, 1/2 UNC."""
ROOM = ((" - ", "-"), ("- ", "-"), (" -", "-"), (" x ", "x"))


def _written() -> Node:
    """The size as typed, in the signs of the list: a whole number before a fraction stands before a blank."""
    plain: Node = the.thread_size & ""
    apart = ((name, f" {name}") for both in NAMES for name in (both, both.lower()))
    for sign, meant in (*SIGNS, *apart):
        plain = xl.SUBSTITUTE(plain, sign, meant)
    plain = xl.TRIM(plain)
    for wide, close in ROOM:
        plain = xl.SUBSTITUTE(plain, wide, close)
    return plain


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


def _last_dash() -> Node:
    text = the.size_written
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


def _short(wanted: Node) -> Node:
    """The row of the size of the system that a pair or diameter means; other systems may have it too."""
    found = _in_part(lambda part: _numbered(wanted, part), the.size_shorts, ("system_firsts", "system_counts"))
    return when(all_of(known(the.size_start), given(wanted)), found)


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


WHOLE = (the.size_as_listed, the.size_by_short, the.size_by_name)
"""Where a size may be that has no class behind it."""


def _size_place() -> Node:
    places = (*WHOLE, the.size_before_class, the.size_short_before_class, the.size_name_before_class)
    return first(*((known(place), place) for place in places))


def _class_typed() -> Node:
    behind = all_of(*(no(known(place)) for place in WHOLE), known(the.size_place))
    return when(behind, xl.MID(the.size_written, the.size_dash + 1, 20))


FOUND = (
    Figure("diameter_row", "place of the chosen diameter in its list, if the system has it", _diameter_row()),
    Figure("sizes_from", "first size of the list to choose from", _of_diameter("diameter_sizes", the.size_start)),
    Figure("sizes_many", "number of sizes of that list", _of_diameter("diameter_size_counts", the.size_number)),
    Figure("size_signs", "the size in the signs of the list", _written()),
    Figure("size_written", "the same, a whole number before a fraction set off by a blank",
           _mixed(_halves(the.size_signs))),
    Figure("size_plain", "the same, a metric pitch without zeros behind its point", _without_zeros(the.size_written)),
    Figure("size_dash", "place of its last dash, before which a size may end", _last_dash()),
    Figure("size_before_dash", "what stands before it",
           when(known(the.size_dash), xl.LEFT(the.size_written, the.size_dash - 1))),
    Figure("size_short", "the same without such zeros", _without_zeros(the.size_before_dash)),
    Figure("size_as_listed", "row of the size as it is listed",
           _listed(the.size_plain)),
    Figure("size_by_short", "row of the size that the pair or diameter means",
           _short(the.size_written)),
    Figure("size_by_name", "row of the size that a diameter and a series mean, as in 1 NPT",
           _by_name(the.size_written)),
    Figure("size_before_class", "row of the size before a class", _listed(the.size_short)),
    Figure("size_short_before_class", "row of the size that a pair or diameter before a class means",
           _short(the.size_short)),
    Figure("size_name_before_class", "row of the size that a diameter and a series before a class mean",
           _by_name(the.size_short)),
    Figure("size_place", "where the chosen size stands among all", _size_place()),
    Figure("size_class_typed", "the class that is typed behind the size", _class_typed()),
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
        (
            all_of(given(in_size), no(empty(chosen)), no(xl.EXACT(in_size, chosen))),
            say("The size says ", in_size, ", the class below says ", chosen, ": make them the same."),
        ),
    )  # fmt: skip


def taken() -> Node:
    """Which size is taken, where it is typed in another way."""
    size, listed = the.size_signs, the.row_size
    other = all_of(no(xl.EXACT(size, listed)), no(xl.EXACT(size, say(listed, "-", the.size_class_typed))))
    return when(other, say(size, " taken as ", listed, ". "))
