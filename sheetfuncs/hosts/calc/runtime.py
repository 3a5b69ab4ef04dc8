"""From Calc's cells to a function and back. Runs inside LibreOffice, in whatever Python it brings (3.8 or newer).

Nothing here raises: what Calc makes of an exception costs six times a call, and SystemExit breaks later ones.
"""

from __future__ import annotations

import struct

from sheetfuncs.errors import CellError
from sheetfuncs.hosts.call import Cell, answer, find
from sheetfuncs.registry import Record
from sheetfuncs.terms import TERMS

ERROR_NUMBERS = {"#N/A": 32767, "#VALUE!": 519, "#NUM!": 503}
"""LibreOffice's number of each error (its module formula/errorcodes)."""

NEVER_ZERO = ("thread", "choice", "text", "length", "tip")
"""Dimensions where 0 is no value. Calc passes an empty cell as 0, so there it counts as empty.

A tip of 0 would be a sharp tool; but an empty cell taken for a sharp tool would cut too deep.
"""


class Fault(CellError):
    """A defect of ours, not of the input; it shows as #VALUE! like any text that can't be read."""


def call(record: Record, cells: tuple[Cell, ...]) -> tuple[tuple[Cell, ...], ...]:
    """The answer of a function as Calc takes it: rows of numbers and texts, errors as error values.

    >>> call(find("THREAD_PITCH"), ("3/4-16 UNF-2A", None))
    ((0.0625,),)
    """
    return _rows(_found(record, cells), _cell)


def why(name: Cell, cells: tuple[Cell, ...]) -> tuple[tuple[str, ...], ...]:
    """The sentence of the error that the same call gives; "" where it gives none, rows of them for rows.

    >>> why("THREAD_PITCH", ("M20-6g", "cm"))
    (("unit is 'cm'; choose in or mm",),)
    """
    try:
        record = find(name) if isinstance(name, str) else None
    except CellError as error:
        return ((error.sentence,),)
    if record is None:
        return (("",),)
    return _rows(_found(record, cells), _sentence)


def _found(record: Record, cells: tuple[Cell, ...]) -> Cell:
    try:
        return answer(record, _given(record, cells))
    except BaseException as fault:  # see above
        kind = type(fault).__name__
        return Fault(f"this is a fault in {record.name}, not in what you typed; please report it: {kind} {fault}")


def _given(record: Record, cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """The arguments, empty cells made None as far as they can be told from 0."""
    dimensions = [TERMS[param.name].dimension for param in record.params]
    dimensions += [""] * (len(cells) - len(dimensions))
    return tuple(
        None if cell == 0.0 and dimension in NEVER_ZERO else cell for cell, dimension in zip(cells, dimensions)
    )


def _rows(found: Cell, shown) -> tuple[tuple[Cell, ...], ...]:
    if isinstance(found, list):
        return tuple(tuple(shown(cell) for cell in row) for row in found)
    return ((shown(found),),)


def _cell(value: Cell) -> Cell:
    """Calc takes floats and texts; an error is a not-a-number that carries its number in the low 32 bits."""
    if isinstance(value, CellError):
        return struct.unpack("<d", struct.pack("<Q", 0x7FF8000000000000 | ERROR_NUMBERS[value.code]))[0]
    return value if isinstance(value, str) else float(value)


def _sentence(value: Cell) -> str:
    return value.sentence if isinstance(value, CellError) else ""
