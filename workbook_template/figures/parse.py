"""Formula text, as a file stores it (English names, commas between arguments), to a tree."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import NamedTuple

from workbook_template.figures.tree import (
    OF_A_SIGN,
    OF_PERCENT,
    TIGHTNESS,
    Area,
    Call,
    Cell,
    Name,
    Node,
    Number,
    Operator,
    Sign,
    Text,
    YesNo,
)

LAST_COLUMN, LAST_ROW = 16384, 1048576
LONGEST_CHAIN = 250
"""Operators in a row that a tree may hold; more would be too deep for Python."""
KEPT = 8192
"""Formulas that are kept as they were read: more than a workbook has, but for those that a column repeats."""

_WORD = r"[^\W\d][\w.\\?]*"
_TOKEN = re.compile(
    rf"""(?P<space>\s+)
    |(?P<text>"(?:[^"]|"")*")
    |(?P<error>\#(?:NULL!|DIV/0!|VALUE!|REF!|NAME\?|NUM!|N/A))
    |(?P<sheet>(?:'(?:[^']|'')+'|\[\d+\](?:{_WORD})?|{_WORD}(?::{_WORD})?)!)
    |(?P<rows>\$?\d+:\$?\d+)
    |(?P<number>(?:\d+\.?\d*|\.\d+)(?:[Ee][+-]?\d+)?)
    |(?P<function>[^\W\d][\w.]*\()
    |(?P<columns>\$?[A-Za-z]{{1,3}}:\$?[A-Za-z]{{1,3}}(?![\w.(]))
    |(?P<cell>\$?[A-Za-z]{{1,3}}\$?\d{{1,7}}(?![\w.(]))
    |(?P<table>(?:{_WORD})?\[(?:'.|[^\[\]']|\[(?:'.|[^\[\]'])*\])*\])
    |(?P<name>{_WORD})
    |(?P<binary><=|>=|<>|[-+*/^&=<>:])
    |(?P<percent>%)
    |(?P<open>[(\{{])
    |(?P<close>[)\}}])
    |(?P<comma>,)
    |(?P<semicolon>;)
    |(?P<unread>.)""",  # so that no piece is looked for beyond it: in a long text that would take hours
    re.VERBOSE | re.DOTALL,
)
_REFERENCE = re.compile(r"(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})")


class Unreadable(ValueError):
    """Text that is no formula, or one with something that this notation does not have (tables, whole columns ...)."""


class Token(NamedTuple):
    """One piece of a formula."""

    kind: str
    text: str


def tokens(text: str) -> tuple[list[Token], str]:
    """The pieces without spaces, and the rest where it can't be read.

    >>> tokens("A1 + ~")
    ([Token(kind='cell', text='A1'), Token(kind='binary', text='+')], '~')
    """
    found = _pieces(text)
    return [token for token in found if token.kind != "space"], text[sum(len(token.text) for token in found) :]


@lru_cache(maxsize=1)
def _pieces(text: str) -> tuple[Token, ...]:
    """The pieces as far as it can be read."""
    found: list[Token] = []
    for piece in _TOKEN.finditer(text):
        if piece.lastgroup == "unread":
            break
        found.append(Token(piece.lastgroup or "", piece[0]))
    return tuple(found)


@lru_cache(maxsize=LAST_COLUMN)
def column_number(letters: str) -> int:
    """The number of a column.

    >>> column_number("A"), column_number("XFD")
    (1, 16384)
    """
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


def sheet_name(text: str) -> str:
    """The sheet of a reference, without its quotation marks.

    >>> sheet_name("'Job 1'!"), sheet_name("Log!")
    ('Job 1', 'Log')
    """
    plain = text[:-1]
    return plain[1:-1].replace("''", "'") if plain.startswith("'") else plain


def parse(text: str, row: int = 1, column: int = 1) -> Node:
    """The tree of a formula that stands in a cell.

    >>> parse("A9+B$2", 9, 3)
    Operator(sign='+', left=Cell(row=0, column=-2, ...), right=Cell(row=2, column=-1, row_fixed=True, ...))
    """
    pieces = _pieces(text)
    unread = text[sum(len(token.text) for token in pieces) :]
    if unread:
        raise Unreadable(f"the formula can't be read from here: {unread[:20]}")
    reader = _Reader([token for token in pieces if token.kind != "space"], row, column)
    tree = reader.expression(0)
    if reader.kind:
        raise Unreadable(f"the formula goes on where it should end: {reader.text[:20]}")
    return tree


END = Token("", "")


class _Reader:
    """Tokens, and the one that is next."""

    def __init__(self, found: list[Token], row: int, column: int) -> None:
        self.ahead = [END, END, *reversed(found)]
        self.row, self.column = row, column
        self.next = self.kind, self.text = self.ahead.pop()

    def take(self) -> Token:
        taken = self.next
        self.next = self.kind, self.text = self.ahead.pop() if self.ahead else END
        return taken

    def expression(self, loose: int) -> Node:
        """What binds tighter than `loose`."""
        if self.kind == "binary" and self.text in "-+":
            tree: Node = Sign(self.take().text, self.expression(OF_A_SIGN - 1))
        else:
            tree = self.value()
        for _ in range(LONGEST_CHAIN):
            if self.kind == "percent" and loose < OF_PERCENT:
                tree = Sign(self.take().text, tree)
            elif self.kind == "binary" and loose < TIGHTNESS[self.text]:
                sign = self.take().text
                tree = _joined(sign, tree, self.expression(TIGHTNESS[sign]))
            else:
                return tree
        raise Unreadable(f"the formula has more than {LONGEST_CHAIN} operators in a row")

    def value(self) -> Node:
        kind, text = self.take()
        if kind == "number":
            return Number(float(text))
        if kind == "text":
            return Text(text[1:-1].replace('""', '"'))
        if kind == "sheet":
            return self.reference(self.take().text, sheet_name(text))
        if kind == "cell":
            return self.reference(text, "")
        if kind == "name":
            return YesNo(text.upper() == "TRUE") if text.upper() in ("TRUE", "FALSE") else Name(text)
        if kind == "function":
            return self.called(text[:-1].upper())
        if (kind, text) == ("open", "("):
            tree = self.expression(0)
            self.closing()
            return tree
        raise Unreadable(f"no value can be read from {text[:20]}" if text else "a value is missing at the end")

    def called(self, function: str) -> Node:
        arguments: list[Node | None] = []
        while self.kind != "close" or arguments:
            arguments.append(None if self.kind in ("comma", "close") else self.expression(0))
            if self.kind != "comma":
                break
            self.take()
        self.closing()
        return YesNo(function == "TRUE") if function in ("TRUE", "FALSE") else Call(function, tuple(arguments))

    def closing(self) -> None:
        if self.take() != ("close", ")"):
            raise Unreadable("a bracket is not closed")

    def reference(self, text: str, sheet: str) -> Node:
        found = _REFERENCE.fullmatch(text)
        if found is None:
            if sheet:
                raise Unreadable(f"{text} is no cell of a sheet")
            return Name(text)
        column, row = column_number(found[2]), int(found[4])
        if column > LAST_COLUMN or not 1 <= row <= LAST_ROW:
            return Name(text)
        across, down = bool(found[1]), bool(found[3])
        return Cell(row if down else row - self.row, column if across else column - self.column, down, across, sheet)


def _joined(sign: str, left: Node, right: Node) -> Node:
    if sign == ":" and isinstance(left, Cell) and isinstance(right, Cell):
        return Area(left, right)
    return Operator(sign, left, right)


class Column(NamedTuple):
    """A formula of one cell as it goes on below it: its text by the row.

    >>> Column.of("A9*B$2", 9).text(10), Column.of("A9*B$2", 9).text(9)
    ('A10*B$2', 'A9*B$2')
    """

    form: str
    offsets: tuple[int, ...]
    shareable: bool  # a file may store it once for the whole column

    @classmethod
    def of(cls, text: str, row: int) -> Column:
        """The formula that stands in that row."""
        pieces, forms, offsets = _pieces(text), [], []
        for kind, piece in pieces:
            found = _REFERENCE.fullmatch(piece) if kind == "cell" else None
            if found and not found[3]:
                offsets.append(int(found[4]) - row)
                forms.append(f"{found[1]}{found[2]}%d")
            else:
                forms.append(piece.replace("%", "%%"))
        whole = sum(len(piece.text) for piece in pieces) == len(text)
        shareable = whole and not any(kind in UNSHARED for kind, _ in pieces)
        return cls("".join(forms), tuple(offsets), shareable)

    def text(self, row: int) -> str:
        """The formula in another row of the column."""
        return self.form % tuple([row + offset for offset in self.offsets])


UNSHARED = ("sheet", "rows", "table", "error")
"""What a formula that is stored once for a column must not hold: programs differ in how they move it."""


@lru_cache(maxsize=KEPT)
def column_of(text: str, row: int) -> Column:
    """`Column.of` for the formulas of a workbook of ours, which are asked for again."""
    return Column.of(text, row)


@lru_cache(maxsize=KEPT)
def _parsed(text: str, row: int, column: int) -> Node:
    return parse(text, row, column)


class Columns:
    """Reads the formulas of a sheet, each column from the top: one that goes on as above is the same tree.

    >>> read = Columns()
    >>> read("A1*2", 1, 3) is read("A2*2", 2, 3)
    True
    """

    def __init__(self) -> None:
        self._above: dict[int, tuple[Column, Node]] = {}

    def __call__(self, text: str, row: int, column: int) -> Node:
        above = self._above.get(column)
        if above is not None and above[0].text(row) == text:
            return above[1]
        tree = _parsed(text, row, column)
        self._above[column] = column_of(text, row), tree
        return tree
