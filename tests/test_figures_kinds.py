"""What a formula may give: guards are understood, and traps behind them are not."""

from __future__ import annotations

import pytest

from workbook_template.figures.book import Book, Cells, Value
from workbook_template.figures.facts import BLANK, NUMBER, TYPED
from workbook_template.figures.parse import parse
from workbook_template.figures.traps import Traps

NAMES = {"feed": "S!$A$1", "passes": "S!$A$2", "note": "S!$A$3", "row": "S!$B$1", "size": "S!$B$2", "depth": "S!$B$3"}
"""A number or blank; anything typed; a text of the workbook; and formulas: a number or "", the same behind it, """

FORMULAS = {(1, 2): 'IF(ISNUMBER(feed),feed*2,"")', (2, 2): 'IF(ISNUMBER(row),row+1,"")', (3, 2): "IF(feed>0,A9,1)"}
BELOW = (20, 3)


def found(formula: str, depth: int = 3) -> list[str]:
    """The traps of a formula in a cell of that small workbook."""
    values: dict[tuple[int, int], Value] = {(3, 1): "a note", (4, 1): 4.0, (5, 1): 5.0, (6, 1): None}
    formulas = {place: parse(one, *place) for place, one in {**FORMULAS, BELOW: formula}.items()}
    book = Book({"S": Cells(values, formulas)}, {name: parse(where) for name, where in NAMES.items()})
    inputs = {("S", 1, 1): NUMBER | BLANK, ("S", 2, 1): TYPED}
    return [one.trap for one in Traps(book, inputs, depth).findings([("S", BELOW)])]


CLEAN = [
    'IF(ISNUMBER(feed),feed,"")',
    'IF(ISBLANK(feed),"",feed)',
    'IF(feed="","",feed)',
    'IF(feed<>"",feed,"")',
    'IF(""=feed,"",feed)',
    'IF(LEN(feed)>0,feed,"")',
    'IF(LEN(feed)=0,"",feed)',
    'IF(NOT(ISNUMBER(feed)),"",feed)',
    'IF(AND(ISNUMBER(feed),feed>1),feed,"")',
    'IF(OR(NOT(ISNUMBER(feed)),feed<1),"",feed)',
    'IF(feed>0,feed,"")',
    'IF(feed>=1,feed,"")',
    'IF(feed<>0,feed,"")',
    'IF(COUNT(feed,passes)=2,feed*passes,"")',
    'IF(COUNT(feed,passes)<2,"",feed)',
    'IF(COUNT(A1:A2)=2,A1,"")',
    "feed+0",
    'feed&""',
    "IF(ISNUMBER(feed),1,2)",
    'IF(ISNUMBER(row),row*2,"")',
    'IF(row<>"",row*2,"")',
    'IF(ISNUMBER(feed),row*2,"")',
    'IF(ISNUMBER(size),row*2,"")',
    'IF(ISNUMBER(row),feed,"")',
    'IFERROR(row*2,"")',
    "SUM(row,1)",
    'IF(row="","",row>1)',
    'IF(note="x",1,2)',
    'IF(passes="x",1,2)',
    "INDEX(A4:A5,feed)",
    'IF(INDEX(A4:A6,feed)="","",INDEX(A4:A6,feed))',
    "IF(ISNUMBER(INDEX(A4:A6,feed)),INDEX(A4:A6,feed),0)",
    'IF(ISTEXT(passes),passes,"")',
    'IF(ISNUMBER(IF(A4=4,feed,A9)),IF(A4=4,feed,A9),"")',
    'IF(IF(A4=4,feed,A9)="","",IF(A4=4,feed,A9))',
]
CAUGHT = [
    ("feed", "ends on a blank"),
    ("A9", "ends on a blank"),
    ('IF(ISNUMBER(IF(A4=4,feed,A9)),IF(A4=5,feed,A9),"")', "ends on a blank"),
    ('IF(ISNUMBER(passes),feed,"")', "ends on a blank"),
    ('IF(ISNUMBER(feed),"",feed)', "ends on a blank"),
    ('IF(feed>=0,feed,"")', "ends on a blank"),
    ('IF(OR(ISNUMBER(feed),passes=1),feed,"")', "ends on a blank"),
    ("IFERROR(feed,0)", "ends on a blank"),
    ("IFERROR(1/0,feed)", "ends on a blank"),
    ("INDEX(A4:A6,feed)", "ends on a blank"),
    ('IF(COUNT(feed,passes)=1,feed,"")', "ends on a blank"),
    ("ISNUMBER(depth)", "tests a blank that was passed on"),
    ('IF(depth="",1,2)', "tests a blank that was passed on"),
    ("LEN(depth)", "tests a blank that was passed on"),
    ("note>1", "compares a text with a number"),
    ("IF(row>1,2,3)", "compares a text with a number"),
    ('3<IF(ISNUMBER(passes),passes,"")', "compares a text with a number"),
    ("IF(note=3,1,2)", "compares a text with a number"),
    ("row*2", 'does arithmetic on ""'),
    ("-row", 'does arithmetic on ""'),
    ("ROUND(row,2)", 'does arithmetic on ""'),
    ('IF(row="",row*2,1)', 'does arithmetic on ""'),
    ("note+1", "does arithmetic on a text"),
    ("passes*2", "does arithmetic on a text"),
]


@pytest.mark.parametrize("formula", CLEAN)
def test_a_guard_is_understood(formula: str) -> None:
    assert found(formula) == []


@pytest.mark.parametrize(("formula", "trap"), CAUGHT)
def test_a_trap_is_found(formula: str, trap: str) -> None:
    assert trap in found(formula)


def test_looking_deeper_only_clears() -> None:
    """What is found at a greater depth is found at a smaller one: so only what was found is looked at again, deeper."""
    for formula in [*CLEAN, *(formula for formula, _ in CAUGHT)]:
        by_depth = [set(found(formula, depth)) for depth in (1, 2, 3, 4)]
        assert all(deeper <= shallow for shallow, deeper in zip(by_depth, by_depth[1:]))
