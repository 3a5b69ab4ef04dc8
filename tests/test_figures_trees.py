"""Formulas as trees: text to tree and back, the order in which signs bind, formulas written in Python."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from workbook_template.figures.parse import Columns, Unreadable, parse, tokens
from workbook_template.figures.text import text
from workbook_template.figures.tree import (
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
    call,
    first,
    fixed,
    say,
    walk,
)
from workbook_template.rules.parts import MAIN, cell_place, open_package, read_parts, relations
from workbook_template.rules.parts import parse as parse_parts

ROW, COLUMN = 1000, 300

cells = st.builds(
    lambda row, column, row_fixed, column_fixed, sheet: Cell(
        row + (ROW if row_fixed else 0), column + (COLUMN if column_fixed else 0), row_fixed, column_fixed, sheet
    ),
    st.integers(-900, 900),
    st.integers(-250, 900),
    st.booleans(),
    st.booleans(),
    st.sampled_from(["", "", "Log", "First article", "It's", "2024"]),
)
leaves = st.one_of(
    st.floats(0, 1e300, allow_nan=False).map(Number),
    st.integers(0, 10**15).map(lambda value: Number(float(value))),
    st.text(st.characters(blacklist_categories=("Cs", "Cc")), max_size=20).map(Text),
    st.booleans().map(YesNo),
    st.sampled_from(["pitch", "log_1", "Passes", "é_x", "a.b"]).map(Name),
    cells,
    st.builds(lambda start, end: Area(start, Cell(end.row, end.column, end.row_fixed, end.column_fixed)), cells, cells),
)


def deeper(inner: st.SearchStrategy[Node]) -> st.SearchStrategy[Node]:
    calls = st.builds(
        lambda name, parts: Call(name, tuple(parts)),
        st.sampled_from(["IF", "SUM", "_XLFN.STDEV.S", "LOG10"]),
        st.lists(st.one_of(inner, inner, st.none()), min_size=2, max_size=4),
    )
    return st.one_of(
        calls,
        st.builds(lambda name: Call(name, ()), st.sampled_from(["PI", "ROW"])),
        st.builds(Operator, st.sampled_from([sign for sign in TIGHTNESS if sign != ":"]), inner, inner),
        st.builds(lambda left, right: Operator(":", left, right), calls, calls),
        st.builds(Sign, st.sampled_from("-+%"), inner),
    )


@given(st.recursive(leaves, deeper, max_leaves=25))
@example(Number(2.0**-24))  # half way between two numbers of as many digits, of which the other is another number
def test_text_is_read_back_as_the_same_tree(tree: Node) -> None:
    assert parse(text(tree, ROW, COLUMN), ROW, COLUMN) == tree


@given(st.text(st.sampled_from("AB12$:,()\"&+-*/^<>=%!. {}'"), max_size=30))
def test_any_text_is_read_or_refused(formula: str) -> None:
    try:
        tree = parse(formula, 1, 1)
    except Unreadable:
        return
    assert parse(text(tree), 1, 1) == tree


@pytest.fixture(scope="module")
def formulas(built_short: Mapping[str, Path]) -> list[tuple[str, int, int]]:
    """Every formula of the filled example with its row and column; of long columns the first rows."""
    trees, _ = parse_parts(open_package(str(built_short["demo.xlsx"]))[0])
    book = read_parts(trees, relations(trees))
    assert book is not None
    found = []
    for sheet in book.sheets:
        for formula in sheet.root.iter(f"{MAIN}f"):
            column, row = cell_place(formula.getparent().get("r")) or (0, 0)
            if row < 60 or sheet.name not in ("Log", "Quote"):
                found.append((formula.text, row, column))
    assert len(found) > 7000
    return found


def test_every_formula_of_the_workbook_is_read_and_written(formulas: list[tuple[str, int, int]]) -> None:
    """The tree comes back from its text; and that is the text it came from, but for brackets that change nothing."""
    for formula, row, column in formulas:
        tree = parse(formula, row, column)
        written = text(tree, row, column)
        if written != formula:  # the same text has the same tree and pieces
            assert parse(written, row, column) == tree
            assert spelled(written) == spelled(formula)


def spelled(formula: str) -> list[str]:
    """The pieces without brackets, numbers as numbers."""
    found, unread = tokens(formula)
    assert not unread
    return [repr(float(text)) if kind == "number" else text for kind, text in found if text not in ("(", ")")]


def test_a_column_is_one_tree(formulas: list[tuple[str, int, int]]) -> None:
    """Reading a column by the formula above gives what reading each alone does."""
    one = Columns()
    column = [place for place in formulas if place[2] == 8]
    for formula, row, at in column:
        assert one(formula, row, at) == parse(formula, row, at)
    long = Columns()
    assert len({id(long(f'IF($B{row}>0,B{row - 1}%,"9%d")', row, 3)) for row in range(2, 2000)}) == 1


@pytest.mark.parametrize(
    ("formula", "meant"),
    [
        ("-2^2", "(-2)^2"),
        ("2^3^2", "(2^3)^2"),
        ("2^-1", "2^(-1)"),
        ("-5%", "-(5%)"),
        ("1+2&3*4", "(1+2)&(3*4)"),
        ("1&2=3&4", "(1&2)=(3&4)"),
        ("1<2=TRUE", "(1<2)=TRUE"),
        ("6/3*2-1-1", "(((6/3)*2)-1)-1"),
        ("a+-b", "a+(-b)"),
        ("INDEX(x,1):INDEX(x,2)", "(INDEX(x,1)):(INDEX(x,2))"),
    ],
)
def test_signs_bind_as_in_excel(formula: str, meant: str) -> None:
    assert parse(formula) == parse(meant)


def test_brackets_that_count_are_kept() -> None:
    for formula in ("-(2^2)", "2^(3^2)", "a-(b-c)", "a/(b*c)", "a&(b=c)", "(a=b)&c", "(a+b)%", "a*(b+c)"):
        assert text(parse(formula)) == formula


REFUSED = ["", "1+", "(1", "1)", "A1 B1", "SUM(1,2", '"open', "A:A", "{1,2}", "Tbl[a]", "1,2", "+".join(["a"] * 300)]


@pytest.mark.parametrize("formula", REFUSED, ids=lambda formula: formula[:9])
def test_what_is_no_formula_of_ours_is_refused(formula: str) -> None:
    with pytest.raises(Unreadable):
        parse(formula)


def test_formulas_are_written_in_python() -> None:
    pitch, side = Name("pitch"), Name("side")
    assert text(1 + pitch * 2 - 3 / pitch**2) == "1+pitch*2-3/pitch^2"
    assert text(-(pitch**2)) == "-(pitch^2)"
    assert text((-pitch) ** 2) == "(-pitch)^2"
    assert text(2 - pitch) == "2-pitch"
    assert text("x" & (pitch & "y")) == '"x"&(pitch&"y")'
    assert text(call("IF", pitch >= -1, pitch < 2, pitch <= True)) == "IF(pitch>=-1,pitch<2,pitch<=TRUE)"
    cascade = first((side.same("left"), "no"), (side.differs(""), pitch), otherwise="")
    assert text(cascade) == 'IF(side="left","no",IF(side<>"",pitch,""))'
    fed = say("Feed ", fixed(pitch, 3), ' in "steps".')
    assert text(fed) == '"Feed "&FIXED(ROUND(pitch,9),3,TRUE)&" in ""steps""."'


def test_long_sentences_are_split() -> None:
    sentence = say("a" * 600, Name("x"))
    assert [len(part.value) for part in walk(sentence) if isinstance(part, Text)] == [255, 255, 90]


def test_places_move_with_the_formula() -> None:
    tree = parse("A1+$A1+A$1+$A$1+SUM(B1:C$9)+Log!A1", 1, 2)
    assert text(tree, 3, 4) == "C3+$A3+C$1+$A$1+SUM(D3:E$9)+Log!C3"
