"""A worked example for each function, from the catalogue, with a formula that says whether it agrees."""

from __future__ import annotations

from typing import NamedTuple

from sheetfuncs import evaluate, standards
from sheetfuncs.designations import Thread
from sheetfuncs.errors import CellError
from sheetfuncs.hosts.call import find
from sheetfuncs.registry import Example, Record
from workbook_template.figures.notation import when, xl
from workbook_template.figures.text import text
from workbook_template.figures.tree import Call, Node, node
from workbook_template.lambdas.writing import Lambda

OF_ONE_START = {
    "THREAD_LEAD": Example(("M20-6g",), "2.5", "ISO 261: one start, so that the lead is the pitch"),
}
"""For functions whose examples in the catalogue have several starts, which the list of threads has not."""

AGREES, DIFFERS, TOO_OLD = "agrees", "DIFFERS", "no answer"
"""What is said of an example; the last where the program has no LAMBDA."""

NOISE = 1e-12
"""What a figure may be past half of a place: the last bits of the arithmetic."""


class Shown(NamedTuple):
    """One function on the sheet: its example's call, one cell of its answer, what it should give and does."""

    record: Record
    call: str
    formula: str
    expected: str
    value: object


def shown(function: Lambda) -> Shown:
    """The first example that the list of threads can answer."""
    record = find(function.name)
    example = next((one for one in record.examples if _can_be_done(record, one)), None) or OF_ONE_START[record.name]
    call = Call(record.name, tuple(None if one is None else node(one) for one in example.args))
    row, column, expected = _figure(record, example)
    tree = xl.INDEX(call, row, column) if record.table else call
    found = evaluate(record.name, *example.args)
    value = found[row - 1][column - 1] if isinstance(found, list) else found
    return Shown(record, text(call), text(tree), expected, value)


def thread_of(record: Record, example: Example) -> Thread | None:
    """The thread of an example; None where the function takes none."""
    first = example.args[0]
    return standards.read(first) if record.params[0].name == "thread" and isinstance(first, str) else None


def threads(functions: tuple[Lambda, ...]) -> list[Thread]:
    """The threads of all examples that can be done."""
    records = [find(function.name) for function in functions]
    found = [thread_of(record, one) for record in records for one in record.examples if _can_be_done(record, one)]
    return [thread for thread in found if thread is not None]


def _can_be_done(record: Record, example: Example) -> bool:
    try:
        thread = thread_of(record, example)
    except CellError:
        return False
    return thread is None or thread.starts == 1


def _figure(record: Record, example: Example) -> tuple[int, int, str]:
    """Row and column of the first number of an answer, and its printed digits; rows stand under a header."""
    if isinstance(example.gives, str):
        return 1, 1, example.gives
    row = 2 if record.table == "rows" else 1
    return next((row, at, gives) for at, gives in enumerate(example.gives, start=1) if _is_number(gives))


def _is_number(gives: str) -> bool:
    return not gives.strip("-0123456789.")


def verdict(cell: Node, expected: str) -> Node:
    """Whether a cell holds what was printed, a number to half of its last place."""
    half_a_place = 0.5 * 10.0 ** -len(expected.partition(".")[2])
    same = cell.same(expected)
    if _is_number(expected):
        same = xl.ABS(cell - float(expected)) <= half_a_place + NOISE
    return xl.IFERROR(when(same, AGREES, DIFFERS), TOO_OLD)
