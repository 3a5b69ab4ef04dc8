"""A tree to the text of its formula, as a file stores it; `parse` reads the same tree back."""

from __future__ import annotations

import re
from collections.abc import Callable
from decimal import Decimal

from workbook_template.figures.tree import (
    OF_A_SIGN,
    OF_PERCENT,
    TIGHTNESS,
    Address,
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

Piece = str | tuple[str, int]
"""A part of the text: as it stands, or a cell that counts from the formula's own row, its column and how far down."""

_PLAIN = re.compile(r"[^\W\d][\w.]*")


def text(tree: Node, row: int = 1, column: int = 1) -> str:
    """The formula as it stands in a cell, without its =.

    >>> from workbook_template.figures.tree import Name
    >>> text(Name("a") - (-Name("b")) ** 2)
    'a-(-b)^2'
    >>> text(-((Name("a") + 1) ** 2) / 10000000.0), text(Cell(-1, 0, sheet="First article"), 9, 3)
    ('(-((a+1)^2))/10000000', "'First article'!C8")
    """
    return text_in_rows(tree, column)(row)


def text_in_rows(tree: Node, column: int) -> Callable[[int], str]:
    """The formula of a column: its text by the row. Much quicker than one row after the other.

    >>> from workbook_template.figures.tree import Name
    >>> in_rows = text_in_rows(Cell(-1, 0) + Name("step"), 2)
    >>> in_rows(8), in_rows(9)
    ('B7+step', 'B8+step')
    """
    pieces: list[Piece] = []
    _write(tree, column, 0, pieces)
    form = "".join([piece.replace("%", "%%") if isinstance(piece, str) else f"{piece[0]}%d" for piece in pieces])
    down = [piece[1] for piece in pieces if not isinstance(piece, str)]
    return lambda row: form % tuple([row + rows for rows in down])


def _write(tree: Node, column: int, loose: int, out: list[Piece]) -> None:
    """The text, in brackets where the tree binds no tighter than `loose`."""
    if isinstance(tree, (Operator, Sign)):
        tight = TIGHTNESS[tree.sign] if isinstance(tree, Operator) else OF_PERCENT if tree.sign == "%" else OF_A_SIGN
        if tight > loose:
            _write_signed(tree, column, tight, out)
        else:
            out.append("(")
            _write_signed(tree, column, tight, out)
            out.append(")")
    elif isinstance(tree, Call):
        out.append(f"{tree.function}(")
        for number, argument in enumerate(tree.arguments):
            if number:
                out.append(",")
            if argument is not None:
                _write(argument, column, 0, out)
        out.append(")")
    elif isinstance(tree, Name):
        out.append(tree.name)
    elif isinstance(tree, Text):
        out.append('"' + tree.value.replace('"', '""') + '"')
    elif isinstance(tree, Number):
        out.append(number_text(tree.value))
    elif isinstance(tree, Area):
        out += (_sheet(tree.start.sheet), _cell(tree.start, column), ":", _cell(tree.end, column))
    elif isinstance(tree, Cell):
        out += (_sheet(tree.sheet), _cell(tree, column))
    elif isinstance(tree, Address):
        out.append(tree.address)
    elif isinstance(tree, YesNo):
        out.append("TRUE" if tree.value else "FALSE")


def _write_signed(tree: Operator | Sign, column: int, tight: int, out: list[Piece]) -> None:
    if isinstance(tree, Operator):
        # a signed part stands in brackets, as a+(-b) and (-a)^b: people and programs differ in how they read it else
        alone = OF_A_SIGN if tree.sign in "*/^" else 0
        _write(tree.left, column, alone if isinstance(tree.left, Sign) else tight - 1, out)
        out.append(tree.sign)
        alone = OF_A_SIGN if tree.sign in "+-*/^" else 0
        _write(tree.right, column, alone if isinstance(tree.right, Sign) else tight, out)
    elif tree.sign == "%":
        _write(tree.part, column, tight - 1, out)
        out.append("%")
    else:
        out.append(tree.sign)
        _write(tree.part, column, tight, out)


def number_text(value: float) -> str:
    """A number in its fewest digits.

    >>> number_text(30.0), number_text(1e-7), number_text(0.7445), number_text(1e20)
    ('30', '0.0000001', '0.7445', '1E20')
    """
    short = repr(float(value)).removesuffix(".0")
    if "e" not in short:
        return short
    digits, _, power = short.partition("e")
    if -16 < int(power) < 0:
        return f"{Decimal(short):f}"  # these digits; of the number itself other ones may be nearest
    return f"{digits}E{int(power)}"


def letters(column: int) -> str:
    """The letters of a column.

    >>> letters(1), letters(16384)
    ('A', 'XFD')
    """
    found = ""
    while column:
        column, rest = divmod(column - 1, 26)
        found = chr(65 + rest) + found
    return found


def _cell(cell: Cell, column: int) -> Piece:
    at = f"${letters(cell.column)}" if cell.column_fixed else letters(cell.column + column)
    return f"{at}${cell.row}" if cell.row_fixed else (at, cell.row)


def _sheet(name: str) -> str:
    if not name:
        return ""
    return f"{name}!" if _PLAIN.fullmatch(name) else "'" + name.replace("'", "''") + "'!"
