"""Numbers within sentences show alike in every program: each is rounded before it is written out."""

from __future__ import annotations

from whole_books import demo_pages

from workbook_template.figures.parse import parse
from workbook_template.figures.tree import Call, Node, walk
from workbook_template.paper.openpyxl_inside import cells_in

ROUNDED = {"ROUND", "ROUNDUP", "ROUNDDOWN"}


def unrounded(tree: Node) -> bool:
    """Whether a formula writes a number out that it did not round first."""
    written = [one for one in walk(tree) if isinstance(one, Call) and one.function == "FIXED"]
    numbers = (one.arguments[0] for one in written)
    return any(not (isinstance(number, Call) and number.function in ROUNDED) for number in numbers)


def test_no_number_in_words_hangs_on_its_last_bit() -> None:
    """A half that is short of it by that bit, 0.33244999999999997, is shown up by one program and down by another."""
    found = {
        f"{sheet.title}!{cell.coordinate}"
        for sheet in demo_pages().workbook
        for cell in cells_in(sheet).values()
        if cell.data_type == "f" and "FIXED(" in str(cell.value) and unrounded(parse(str(cell.value)[1:]))
    }
    assert found == set()


def test_what_is_not_rounded_is_found() -> None:
    assert unrounded(parse('"Cut "&FIXED(depth,4,TRUE)'))
    assert unrounded(parse('IF(TRUE,FIXED(ROUND(depth,9),4,TRUE)&FIXED(depth*2,4,TRUE),"")'))
    assert not unrounded(parse("FIXED(ROUND(depth,9),4,TRUE)"))
