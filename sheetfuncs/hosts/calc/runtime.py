"""From Calc's cells to a function and back. Runs inside LibreOffice, in whatever Python it brings (3.8 or newer).

Nothing here raises: what Calc makes of an exception costs six times a call, and SystemExit breaks later ones.
"""

from __future__ import annotations

import struct
from collections.abc import Callable
from functools import lru_cache

from sheetfuncs.errors import CellError, NotUnderstood
from sheetfuncs.hosts.call import Cell, answer, find
from sheetfuncs.records import TYPE_CHECKING
from sheetfuncs.registry import Record
from sheetfuncs.terms import TERMS, ZERO_FOR_NONE
from sheetfuncs.units import read_number

if TYPE_CHECKING:
    from typing import TypeVar

    T = TypeVar("T")

ERROR_NUMBERS = {"#N/A": 32767, "#VALUE!": 519, "#NUM!": 503}
"""LibreOffice's number of each error (its module formula/errorcodes)."""

ZERO_IS_A_VALUE = ("number", "angle", "count", "signed length", "temperature")
"""Dimensions where 0 says something. Calc passes an empty cell as 0; for all others it counts as empty.

A tip of 0 would be a sharp tool; but an empty cell taken for a sharp tool would cut too deep. A rate of 0 could be
meant; but an empty cell taken for it would make the price too low. So of amounts and shares only those of
ZERO_FOR_NONE can be 0.
"""


class Fault(CellError):
    """A defect of ours, not of the input; it shows as #VALUE!, as what can't be read does."""


def answers_with_text(record: Record) -> bool:
    """Whether the answer is one text.

    Calc can't compare or look up a text that comes out of rows: "=" is not true, COUNTIF does not count it. So such
    a function answers with a single cell; its first argument is declared a text, and Calc itself goes down a column.
    """
    return not record.table and TERMS[record.columns[0]].dimension in ("text", "choice")


def rows(name: str, cells: tuple[Cell, ...]) -> tuple[tuple[Cell, ...], ...]:
    """The answer of a function in rows, as Calc takes it: numbers and texts, errors as error values.

    >>> rows("THREAD_PITCH", ("3/4-16 UNF-2A", None))
    ((0.0625,),)
    """
    return _shown(name, cells, _rows)


def single(name: str, cells: tuple[Cell, ...]) -> Cell:
    """The answer of a function that answers with a text; a number for its first argument comes as text from Calc.

    >>> single("THREAD_DESCRIBE", ("M20-6g",))[:10]
    'M20x2.5-6g'
    """
    return _shown(name, cells, _cell)


def why(name: Cell, cells: tuple[Cell, ...]) -> str:
    """The sentence of the error that the same call gives, with its row in a column; "" where it gives none.

    >>> why("THREAD_PITCH", ("M20-6g", "cm"))
    "unit is 'cm'; choose in or mm"
    >>> why("THREAD_PITCH", ((("M20-6g",), ("N20-6g",)),))
    "row 2: 'N20-6g' is no thread this knows; write it as in ..."
    """
    return _shown(name, cells, _sentence) if isinstance(name, str) else ""


def _shown(name: str, cells: tuple[Cell, ...], show: Callable[[Cell], T]) -> T:
    """The answer or its error, as `show` makes it fit for Calc."""
    try:
        record = find(name)
        name = record.name
        return show(answer(record, _given(record, cells)))
    except CellError as error:
        return show(error)
    except BaseException as fault:  # see above
        kind = type(fault).__name__
        return show(Fault(f"this is a fault in {name}, not in what you typed; please report it: {kind} {fault}"))


def _given(record: Record, cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """The arguments up to the last that was given, each as the common path wants it."""
    zero_is_blank, with_text = _of_record(record.name)
    count = len(cells)
    while count and cells[count - 1] is None:
        count -= 1
    given = [None if cell == 0.0 and blank else cell for cell, blank in zip(cells[:count], zero_is_blank)]
    given += cells[len(given) : count]  # more than there are; the common path says so
    return _given_to_text(record, given) if with_text else tuple(given)


@lru_cache(maxsize=256)
def _of_record(name: str) -> tuple[tuple[bool, ...], bool]:
    """Whether 0 counts as an empty cell, for each argument, and whether the function answers with one text."""
    record = find(name)
    names = [param.name for param in record.params]
    is_blank = [TERMS[name].dimension not in ZERO_IS_A_VALUE and name not in ZERO_FOR_NONE for name in names]
    return tuple(is_blank), answers_with_text(record)


def _given_to_text(record: Record, given: list[Cell]) -> tuple[Cell, ...]:
    """The arguments of a function that answers with one text: Calc goes down the column of the first itself."""
    for param, cell in zip(record.params[1:], given[1:]):
        if isinstance(cell, tuple) and len(cell) * len(cell[0]) > 1 and TERMS[param.name].dimension != "numbers":
            raise NotUnderstood(f"{param.name} is a range; in {record.name} only {record.params[0].name} may be one")
    if given and isinstance(given[0], str) and TERMS[record.params[0].name].dimension != "thread":
        with_point = given[0].replace(",", ".")  # where Calc itself made text of a number
        given[0] = given[0] if read_number(with_point) is None else with_point
    return tuple(given)


def _cell(value: Cell) -> float | str:
    """Calc takes floats and texts; an error is a not-a-number that carries its number in the low 32 bits."""
    if isinstance(value, (float, str)):
        return value
    if isinstance(value, CellError):
        not_a_number: float
        (not_a_number,) = struct.unpack("<d", struct.pack("<Q", 0x7FF8000000000000 | ERROR_NUMBERS[value.code]))
        return not_a_number
    if not isinstance(value, int):
        raise TypeError(f"{value!r} is nothing that a cell of Calc holds")
    return float(value)


def _rows(found: Cell) -> tuple[tuple[Cell, ...], ...]:
    if not isinstance(found, list):
        return ((_cell(found),),)
    return tuple([tuple(map(_cell, row)) for row in found])  # quicker than a generator


def _sentence(found: Cell) -> str:
    """The first sentence in an answer that Calc would take."""
    _rows(found)
    if isinstance(found, CellError):
        return found.sentence
    for number, row in enumerate(found if isinstance(found, list) else [], start=1):
        for cell in row:
            if isinstance(cell, CellError):
                return f"row {number}: {cell.sentence}"
    return ""
