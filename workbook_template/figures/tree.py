"""A formula as a tree. Places are kept as a formula moves: fixed ones by number, others counted from their own cell.

So the formula of a column is one tree, though its text differs in each row. Trees are written in plain Python where a
sheet is described; `==` compares trees, therefore "is the same as" in a formula is `same`.

>>> from workbook_template.figures.text import text
>>> pitch, side = Name("pitch"), Name("thread_side")
>>> text(first((side.same("internal"), pitch * 2), (pitch > 0, -pitch), otherwise=""))
'IF(thread_side="internal",pitch*2,IF(pitch>0,-pitch,""))'
>>> text(say("Cut ", fixed(pitch, 4), "."))
'"Cut "&FIXED(ROUND(pitch,9),4,TRUE)&"."'
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

TIGHTNESS = {"=": 1, "<>": 1, "<": 1, "<=": 1, ">": 1, ">=": 1, "&": 2, "+": 3, "-": 3, "*": 4, "/": 4, "^": 5, ":": 8}
OF_A_SIGN, OF_PERCENT = 6, 7
"""How tightly signs bind, as in Excel: all from the left, and the sign of a number before ^, so that -2^2 is 4."""

LONGEST_TEXT = 255
"""The characters that a text within a formula may have."""


class Node:
    """A part of a formula, with the operators of Python that mean the same in a spreadsheet."""

    __slots__ = ()

    def __add__(self, other: Part) -> Operator:
        return Operator("+", self, node(other))

    def __radd__(self, other: Part) -> Operator:
        return Operator("+", node(other), self)

    def __sub__(self, other: Part) -> Operator:
        return Operator("-", self, node(other))

    def __rsub__(self, other: Part) -> Operator:
        return Operator("-", node(other), self)

    def __mul__(self, other: Part) -> Operator:
        return Operator("*", self, node(other))

    def __rmul__(self, other: Part) -> Operator:
        return Operator("*", node(other), self)

    def __truediv__(self, other: Part) -> Operator:
        return Operator("/", self, node(other))

    def __rtruediv__(self, other: Part) -> Operator:
        return Operator("/", node(other), self)

    def __pow__(self, other: Part) -> Operator:
        return Operator("^", self, node(other))

    def __and__(self, other: Part) -> Operator:
        return Operator("&", self, node(other))

    def __rand__(self, other: Part) -> Operator:
        return Operator("&", node(other), self)

    def __neg__(self) -> Sign:
        return Sign("-", self)

    def __lt__(self, other: Part) -> Operator:
        return Operator("<", self, node(other))

    def __le__(self, other: Part) -> Operator:
        return Operator("<=", self, node(other))

    def __gt__(self, other: Part) -> Operator:
        return Operator(">", self, node(other))

    def __ge__(self, other: Part) -> Operator:
        return Operator(">=", self, node(other))

    def same(self, other: Part) -> Operator:
        """This = other."""
        return Operator("=", self, node(other))

    def differs(self, other: Part) -> Operator:
        """This <> other."""
        return Operator("<>", self, node(other))


@dataclass(frozen=True, slots=True)
class Number(Node):
    """A number that stands in a formula, not negative."""

    value: float


@dataclass(frozen=True, slots=True)
class Text(Node):
    """A text that stands in a formula."""

    value: str


@dataclass(frozen=True, slots=True)
class YesNo(Node):
    """TRUE or FALSE."""

    value: bool


@dataclass(frozen=True, slots=True)
class Name(Node):
    """A defined name."""

    name: str


@dataclass(frozen=True, slots=True)
class Address(Node):
    """A cell or range of the formula's own sheet by its address, as B12 or B3:B9, where a sheet is described."""

    address: str


@dataclass(frozen=True, slots=True)
class Cell(Node):
    """A cell. `row` and `column` count from 1 where they are fixed (with $), from the formula's own cell where not."""

    row: int
    column: int
    row_fixed: bool = False
    column_fixed: bool = False
    sheet: str = ""  # "" is the formula's own

    def place(self, row: int, column: int) -> tuple[int, int]:
        """Row and column it means in the formula of a cell."""
        return self.row + (0 if self.row_fixed else row), self.column + (0 if self.column_fixed else column)


@dataclass(frozen=True, slots=True)
class Area(Node):
    """A range of cells by its corners; the sheet is that of the first."""

    start: Cell
    end: Cell


@dataclass(frozen=True, slots=True)
class Call(Node):
    """A function by its name as a file stores it, in capitals, with its arguments; None is one left out."""

    function: str
    arguments: tuple[Node | None, ...]


@dataclass(frozen=True, slots=True)
class Operator(Node):
    """Two parts with an operator between; ":" makes a range of two references."""

    sign: str
    left: Node
    right: Node


@dataclass(frozen=True, slots=True)
class Sign(Node):
    """One part with "-" or "+" before it, or "%" behind it."""

    sign: str
    part: Node


IF_NOT = YesNo(False)
"""What IF gives where the condition does not hold and no third argument says what."""

Part = Node | float | str | bool
"""What stands for a node where one is wanted."""


def node(part: Part) -> Node:
    """A node, or the constant that a plain value means."""
    if isinstance(part, Node):
        return part
    if isinstance(part, bool):
        return YesNo(part)
    if isinstance(part, str):
        return say(part)
    return Number(float(part)) if part >= 0 else Sign("-", Number(-float(part)))


def call(function: str, *arguments: Part) -> Call:
    """A function of the spreadsheet."""
    return Call(function, tuple(node(one) for one in arguments))


def first(*cases: tuple[Part, Part], otherwise: Part = "") -> Node:
    """The result of the first condition that holds; nothing, or the other one, where none does."""
    chain = node(otherwise)
    for condition, result in reversed(cases):
        chain = call("IF", condition, result, chain)
    return chain


ROUNDED = ("ROUND", "ROUNDUP", "ROUNDDOWN")


def fixed(part: Part, decimals: Part) -> Node:
    """A number in words: with a fixed count of decimals, no thousands separator.

    It is rounded first: a half in the last place that is short of it by the last bit, as 0.33244999999999997, is
    shown up by some programs and down by others.
    """
    rounded = isinstance(part, Call) and part.function in ROUNDED
    return call("FIXED", part if rounded else call("ROUND", part, 9), decimals, True)


def say(*pieces: Part) -> Node:
    """Pieces of a sentence joined; a text too long for a formula is split, a sentence within it joins as it stands.

    >>> from workbook_template.figures.text import text
    >>> text(say("Cut ", say("to ", Name("depth")), "."))
    '"Cut "&"to "&depth&"."'
    """
    parts: list[Node] = []
    for piece in pieces:
        if isinstance(piece, str):
            cuts = range(0, max(len(piece), 1), LONGEST_TEXT)
            parts += [Text(piece[at : at + LONGEST_TEXT]) for at in cuts]
        else:
            parts += joined_parts(node(piece))
    joined = parts[0]
    for part in parts[1:]:
        joined = joined & part
    return joined


def joined_parts(tree: Node) -> list[Node]:
    """The parts of a & b & c."""
    if isinstance(tree, Operator) and tree.sign == "&":
        return [*joined_parts(tree.left), *joined_parts(tree.right)]
    return [tree]


def blank_test(tree: Operator) -> Node | None:
    """x, where the tree is x="" or x<>""."""
    if tree.sign in ("=", "<>"):
        for one, other in ((tree.left, tree.right), (tree.right, tree.left)):
            if one == Text(""):
                return other
    return None


def children(tree: Node) -> tuple[Node, ...]:
    """The parts directly under a node."""
    if isinstance(tree, Call):
        return tuple(one for one in tree.arguments if one is not None)
    if isinstance(tree, Operator):
        return tree.left, tree.right
    if isinstance(tree, Sign):
        return (tree.part,)
    return (tree.start, tree.end) if isinstance(tree, Area) else ()


def walk(tree: Node) -> Iterator[Node]:
    """A node and all under it; the corners of a range are not cells of their own."""
    ahead = [tree]
    while ahead:
        one = ahead.pop()
        yield one
        if not isinstance(one, Area):
            ahead += reversed(children(one))
