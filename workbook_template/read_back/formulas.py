"""Two spellings of one formula made alike: programs rewrite spaces, numbers, capitals, shared formulas.

References are written as offsets from the cell, so that a formula shared by a column is worked through once.
"""

from __future__ import annotations

import re
from functools import lru_cache

from openpyxl.formula import Tokenizer
from openpyxl.formula.tokenizer import Token, TokenizerError

from workbook_template.figures.parse import column_number
from workbook_template.figures.tree import Call, Node, Operator, YesNo
from workbook_template.read_back.contents import Formula

_CELL = re.compile(r"(?<![A-Za-z0-9_.\\])(\$?)([A-Za-z]{1,3})(\$?)([0-9]{1,7})(?![A-Za-z0-9_.(!])")
_YES_NO = re.compile(r"\b(TRUE|FALSE)\(\)")
_QUOTED_SHEET = re.compile(r"(?<!')'((?:[^']|'')+)'!")  # from the first of many signs alone, or it takes hours


def normal(formula: Formula, row: int, column: int, sheet: str) -> str:
    """The formula as it counts in that cell; equal texts compute alike.

    >>> one = normal(Formula("IF($B$7>1E-7, TRUE(), log!C8)", 7, 3), 7, 3, "Log")
    >>> one == normal(Formula("if(B6>0.0000001,true,Log!C7)", 6, 3), 6, 3, "Log")
    True
    """
    pieces = formula.text.split('"')
    for at in range(0, len(pieces), 2):  # what stands between quotation marks is text
        pieces[at] = _CELL.sub(lambda found: _offset(found, formula, row, column), pieces[at])
    return _spelled('"'.join(pieces), sheet.upper())


def alike(one: Formula, other: Formula, row: int, column: int, sheet: str) -> bool:
    """Whether two spellings count alike in that cell.

    LibreOffice writes TRUE() for TRUE, and as a rule nothing else is spelled otherwise: that is looked at first.

    >>> alike(Formula("A1>TRUE", 1, 2), Formula("a1 > TRUE()", 1, 2), 1, 2, "Log")
    True
    """
    if one[1:] == other[1:] and _YES_NO.sub(r"\1", one.text) == _YES_NO.sub(r"\1", other.text):
        return True
    return normal(one, row, column, sheet) == normal(other, row, column, sheet)


def _offset(found: re.Match[str], formula: Formula, row: int, column: int) -> str:
    """A reference as an offset. In a shared formula a fixed one (with $) does not move with the cell."""
    across = column_number(found[2]) - (column if found[1] else formula.column)
    down = int(found[4]) - (row if found[3] else formula.row)
    return f"§{across}.{down}".replace("-", "m")


@lru_cache(maxsize=20_000)
def _spelled(text: str, sheet: str) -> str:
    try:
        tokens = Tokenizer(f"={text}").items
    except (TokenizerError, IndexError, AttributeError):
        return text
    spelled = "".join(_token(token, sheet) for token in tokens if token.type != Token.WSPACE)
    return _YES_NO.sub(r"\1", spelled)


def _token(token: Token, sheet: str) -> str:
    value: str = token.value
    if token.subtype == Token.TEXT:
        return value
    if token.subtype == Token.NUMBER:
        return repr(float(value))
    if token.subtype == Token.RANGE:
        named = _QUOTED_SHEET.sub(lambda found: f"{found[1]}!", value).upper()
        return named.removeprefix(f"{sheet}!").replace("$", "")
    return value.upper().removeprefix("_XLFN.")


def first_difference(one: Formula, other: Formula, row: int, column: int, sheet: str) -> tuple[int, int]:
    """Where in the text of each the first piece stands that counts otherwise in that cell.

    >>> first_difference(Formula("IF( TRUE(),A1,2)", 1, 2), Formula("IF(TRUE,A1,3)", 1, 2), 1, 2, "Log")
    (14, 11)
    """
    pieces, others = (_pieces(formula, row, column, sheet.upper()) for formula in (one, other))
    for (text, at), (meant, place) in zip(pieces, others):
        if text != meant:
            return at, place
    return (pieces[-1][1], others[-1][1]) if pieces and others else (0, 0)


def _pieces(formula: Formula, row: int, column: int, sheet: str) -> list[tuple[str, int]]:
    """The pieces of a formula as they count, each with its place in the text."""
    try:
        tokens = Tokenizer(f"={formula.text}").items
    except (TokenizerError, IndexError, AttributeError):
        return []
    found: list[tuple[str, int]] = []
    at = 0
    for token in tokens:
        start, at = at, at + len(token.value)
        if token.type == Token.WSPACE:
            continue
        spelled = _token(token, sheet)
        if token.subtype == Token.RANGE:
            spelled = normal(Formula(token.value, formula.row, formula.column), row, column, sheet)
        if spelled in ("TRUE(", "FALSE("):
            spelled = spelled[:-1]
        elif spelled == ")" and found and found[-1][0] in ("TRUE", "FALSE"):
            continue
        found.append((spelled, start))
    return found


COMPARISONS = ("=", "<>", "<", "<=", ">", ">=")
TESTS = ("AND", "OR", "NOT", "EXACT", "ISNUMBER", "ISTEXT", "ISBLANK", "ISERROR")


def is_yes_no(tree: Node | None) -> bool:
    """Whether a formula gives yes or no alone, as it is written.

    >>> from workbook_template.figures.parse import parse
    >>> is_yes_no(parse("IF(a=0,b>-1,FALSE())")), is_yes_no(parse("IF(a=0,b>-1,0)")), is_yes_no(parse("a"))
    (True, False, False)
    """
    if isinstance(tree, Call) and tree.function == "IF":
        return len(tree.arguments) == 3 and all(map(is_yes_no, tree.arguments[1:]))
    if isinstance(tree, Operator):
        return tree.sign in COMPARISONS
    return isinstance(tree, YesNo) or (isinstance(tree, Call) and tree.function in TESTS)
