"""How formulas are written where a sheet is described: plain Python, read from left to right.

`the` stands for the named figures of the workbook, `xl` for the functions of the spreadsheet. In a table `here` is the
row of the formula, `above` and `below` the rows next to it, `every` a whole column, `so_far` a column down to here.

>>> from workbook_template.figures.text import text
>>> text(when(known(the.pitch_diameter_max), the.pitch_diameter_max - the.pitch_diameter_min))
'IF(ISNUMBER(pitch_diameter_max),pitch_diameter_max-pitch_diameter_min,"")'
>>> text(first((no(known(the.wire_used)), "Choose a wire."), (the.wire_used <= 0, "Check it.")))
'IF(NOT(ISNUMBER(wire_used)),"Choose a wire.",IF(wire_used<=0,"Check it.",""))'
>>> text(xl.ROUND(the["estimate_price_1"], 2))
'ROUND(estimate_price_1,2)'
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from workbook_template.figures.tree import (
    Address,
    Area,
    Call,
    Cell,
    Name,
    Node,
    Operator,
    Part,
    Sign,
    call,
    first,
    fixed,
    node,
    say,
)

__all__ = (
    "NO_NUMBER",
    "Numbered",
    "above",
    "all_of",
    "any_of",
    "at",
    "below",
    "blank",
    "empty",
    "every",
    "exactly",
    "first",
    "given",
    "here",
    "in_lines",
    "in_table",
    "joined",
    "known",
    "length",
    "no",
    "node",
    "say",
    "sentences",
    "fixed",
    "so_far",
    "span",
    "the",
    "unwild",
    "when",
    "xl",
)


NO_NUMBER = "–"
"""What a hidden cell of many alike gives where it has no number: a formula that gives an empty text is stored in every
cell, another once for all (`file.shortening`)."""


class _The:
    """The named figures."""

    def __getattr__(self, name: str) -> Name:
        return Name(name)

    def __getitem__(self, name: str) -> Name:
        return Name(name)


class _Functions:
    """The functions of the spreadsheet, by their names there."""

    def __getattr__(self, name: str) -> Callable[..., Call]:
        return lambda *arguments: call(name, *arguments)


class _Column:
    """Columns of the table that a formula stands in, seen from its row."""

    def __init__(self, place: str) -> None:
        self._place = place

    def __getattr__(self, name: str) -> Name:
        return Name(f"{self._place}.{name}")

    def __getitem__(self, name: str) -> Name:
        return Name(f"{self._place}.{name}")


the, xl = _The(), _Functions()
here, above, below, every, so_far = (_Column(place) for place in ("here", "above", "below", "every", "so_far"))


def at(address: str) -> Address:
    """A cell or range of the same sheet that has no name of its own.

    >>> from workbook_template.figures.text import text
    >>> text(xl.SUM(at("B3:B9")))
    'SUM(B3:B9)'
    """
    return Address(address)


def known(part: Part) -> Node:
    """Whether it is a number."""
    return call("ISNUMBER", part)


def blank(part: Part) -> Node:
    """Whether nothing was typed there."""
    return call("ISBLANK", part)


def given(part: Part) -> Node:
    """Whether there is any text or number."""
    return call("LEN", part) > 0


def no(condition: Part) -> Node:
    """Whether the condition does not hold."""
    return call("NOT", condition)


def all_of(*conditions: Part) -> Node:
    """Whether every condition holds."""
    return call("AND", *conditions)


def any_of(*conditions: Part) -> Node:
    """Whether one of the conditions holds."""
    return call("OR", *conditions)


def when(condition: Part, result: Part, otherwise: Part = "") -> Node:
    """The result where the condition holds; nothing, or the other one, where not."""
    return call("IF", condition, result, otherwise)


def joined(sign: str, *parts: Part) -> Node:
    """Parts with one operator between them, from the left.

    >>> from workbook_template.figures.text import text
    >>> text(joined("+", the.a, the.b, the.c))
    'a+b+c'
    """
    found = node(parts[0])
    for part in parts[1:]:
        found = Operator(sign, found, node(part))
    return found


def in_table(tree: Node, columns: Mapping[str, int], own: int, top: int, bottom: int) -> Node:
    """The formula of column number `own` of a table: its columns as cells, of the rows from `top` to `bottom`.

    >>> from workbook_template.figures.text import text
    >>> text(in_table(here.size - above.size + xl.SUM(every.size), {"size": 1}, 3, 12, 20), 13, 3)
    'A13-A12+SUM(A$12:A$20)'
    >>> text(in_table(xl.SUM(so_far.size), {"size": 1}, 3, 12, 20), 13, 3)
    'SUM(A$12:A13)'
    """

    def cell(place: str, name: str) -> Node:
        across = columns[name] - own
        if place == "every":
            return Area(Cell(top, across, True), Cell(bottom, across, True))
        if place == "so_far":
            return Area(Cell(top, across, True), Cell(0, across))
        return Cell({"here": 0, "above": -1, "below": 1}[place], across)

    return _placed(tree, cell)


def in_lines(tree: Node, lines: Mapping[str, int], own: int) -> Node:
    """The formula of line number `own` of a table that goes across: `here.x` is the cell of line x in its column.

    >>> from workbook_template.figures.text import text
    >>> text(in_lines(here.each * here.quantity, {"quantity": 4, "each": 9}, 10), 10, 3)
    'C9*C4'
    """
    return _placed(tree, lambda _, name: Cell(lines[name] - own, 0))


def _placed(tree: Node, cell: Callable[[str, str], Node]) -> Node:
    """The tree with cells for the names that have a place before them."""
    if isinstance(tree, Name):
        place, dot, name = tree.name.partition(".")
        return cell(place, name) if dot else tree
    if isinstance(tree, Call):
        return Call(tree.function, tuple(None if one is None else _placed(one, cell) for one in tree.arguments))
    if isinstance(tree, Operator):
        return Operator(tree.sign, _placed(tree.left, cell), _placed(tree.right, cell))
    return replace(tree, part=_placed(tree.part, cell)) if isinstance(tree, Sign) else tree


class Numbered(_The):
    """The figures of one of several alike: of lathe 2 those whose names end in _2.

    >>> from workbook_template.figures.text import text
    >>> my = Numbered(2)
    >>> text(my.speed + my["pick_a"])
    'speed_2+pick_a_2'
    """

    def __init__(self, number: int) -> None:
        self._end = f"_{number}"

    def __getattr__(self, name: str) -> Name:
        return Name(name + self._end)

    def __getitem__(self, name: str) -> Name:
        return Name(name + self._end)


def length(part: Part) -> Node:
    """A length in words, with the decimals of the working unit.

    >>> from workbook_template.figures.text import text
    >>> text(say("Cut ", length(the.pitch), "."))
    '"Cut "&FIXED(ROUND(pitch,9),decimals,TRUE)&"."'
    """
    return fixed(part, the.decimals)


def at_least(part: Part, decimals: Part = the.decimals) -> Node:
    """The lower end of what is offered, in words: rounded up, so that the number as it is shown is taken.

    >>> from workbook_template.figures.text import text
    >>> text(at_least(the.least))
    'FIXED(ROUNDUP(ROUND(least,9),decimals),decimals,TRUE)'
    """
    return fixed(xl.ROUNDUP(xl.ROUND(part, 9), decimals), decimals)


def at_most(part: Part) -> Node:
    """The upper end of what is offered, in words: rounded down, so that the number as it is shown is taken.

    >>> from workbook_template.figures.text import text
    >>> text(at_most(the.most))
    'FIXED(ROUNDDOWN(ROUND(most,9),decimals),decimals,TRUE)'
    """
    return fixed(xl.ROUNDDOWN(xl.ROUND(part, 9), the.decimals), the.decimals)


def unwild(wanted: Part) -> Node:
    """A text without the signs that MATCH takes for any text."""
    plain: Node = node(wanted) & ""
    for sign in "~*?":
        plain = call("SUBSTITUTE", plain, sign, f"~{sign}")
    return plain


def exactly(wanted: Node) -> Node:
    """What is looked up as it stands: MATCH takes * and ? in a text for any signs.

    >>> from workbook_template.figures.text import text
    >>> text(exactly(the.size))
    'IF(ISNUMBER(size),size,SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(size&"","~","~~"),"*","~*"),"?","~?"))'
    """
    return when(known(wanted), wanted, unwild(wanted))


def empty(part: Part) -> Node:
    """Whether there is neither a text nor a number."""
    return call("LEN", part).same(0)


def span(start: Node, end: Node) -> Node:
    """The cells from one to another.

    >>> from workbook_template.figures.text import text
    >>> text(in_table(xl.COUNT(span(here.low, here.high)), {"low": 2, "high": 4}, 5, 12, 20), 12, 5)
    'COUNT(B12:D12)'
    """
    return Operator(":", start, end)


def sentences(*parts: Part) -> Node:
    """Sentences with a blank between; those that may say nothing leave blanks too many, which TRIM takes out.

    >>> from workbook_template.figures.text import text
    >>> text(xl.TRIM(sentences(when(the.pitch > 1, "Coarse."), "Cut it.")))
    'TRIM(IF(pitch>1,"Coarse.","")&" "&"Cut it.")'
    """
    blanks = [piece for part in parts for piece in (" ", part)]
    return say(*blanks[1:])
