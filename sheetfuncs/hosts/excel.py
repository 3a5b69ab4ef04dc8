"""Excel through xlwings: every function of the catalogue as a user-defined function.

This is the module that a workbook names under `UDF Modules`. xlwings can't put an error value into a cell, so a
cell that fails gets a text that starts with the error's code, and arithmetic on it fails too. Where xlwings can't
reach Excel (Linux), the module still imports, and the functions are plain ones on lists of rows.

>>> THREAD_PITCH_DIAMETER([["M20x2.5-6g"]], [["max"]])
18.334
>>> THREAD_PITCH_DIAMETER([["M20x2.5-6g"]], [["biggest"]])
"#VALUE! limit is 'biggest'; choose max, min, mid or basic"
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from decimal import Decimal

import xlwings as xw

from sheetfuncs.catalog import RECORDS
from sheetfuncs.errors import LONGEST_TEXT, CellError
from sheetfuncs.hosts.call import Cell, answer
from sheetfuncs.registry import Param, Record
from sheetfuncs.terms import TERMS

_FAULT = "#VALUE! this is a fault in sheetfuncs, please report: "
_ERROR_NUMBERS = range(-2146828288 + 2000, -2146828288 + 2100)
# How COM hands over an error cell: 0x800A0000 and Excel's number. xlwings knows seven of them; newer ones
# (#SPILL!, #CALC! ...) would arrive as these integers, whereas a number in a cell is always a float.


def user_function(record: Record) -> Callable[..., Cell]:
    """The function that xlwings offers to Excel under the record's sheet name.

    Each argument arrives as a list of rows, an error cell as its text; an argument left out arrives as None.

    >>> from sheetfuncs.hosts.call import find
    >>> function = user_function(find("THREAD_LEAD"))
    >>> function.__name__, str(inspect.signature(function)), function([["M20x5-6g"]], None)
    ('THREAD_LEAD', '(thread, unit=None)', 5.0)
    """

    def function(*cells):  # type: ignore[no-untyped-def]  # xlwings would take annotations as conversions
        return _answered(record, cells)

    function.__name__ = function.__qualname__ = record.name
    function.__doc__ = record.summary
    vars(function)["__signature__"] = inspect.Signature([_parameter(param) for param in record.params])
    for param in record.params:
        function = xw.arg(param.name, ndim=2, err_to_str=True, doc=TERMS[param.name].help)(function)
    # Last, because xw.arg sets the category back to its default.
    return xw.func(category=record.category, volatile=False)(function)


def _parameter(param: Param) -> inspect.Parameter:
    default = inspect.Parameter.empty if param.required else None
    return inspect.Parameter(param.name, inspect.Parameter.POSITIONAL_OR_KEYWORD, default=default)


def _answered(record: Record, cells: tuple[Cell, ...]) -> Cell:
    """What the cells get: numbers and texts only, in a rectangle; never an exception."""
    try:
        given = tuple(_received(cell, TERMS[param.name].dimension) for cell, param in zip(cells, record.params))
        found = _shown(answer(record, given))
    except Exception as fault:  # a defect of ours, not bad input; a traceback in the cell would help nobody
        found = _cut(f"{_FAULT}{record.name} {type(fault).__name__}: {' '.join(str(fault).split())}")
    if isinstance(found, list) or record.table:
        return found
    return _filled(found, cells)


def _filled(found: Cell, cells: tuple[Cell, ...]) -> Cell:
    """One answer for a whole range is repeated in its shape: a cell left empty below it would count as zero."""
    ranges = [cell for cell in cells if isinstance(cell, list)]
    height = max((len(rows) for rows in ranges), default=1)
    width = max((len(rows[0]) for rows in ranges), default=1)
    if height == width == 1:
        return found
    return [[_cut(found) if isinstance(found, str) else found] * width for _ in range(height)]


def _received(cell: Cell, dimension: str) -> Cell:
    """A cell as `hosts.call` knows it; COM brings two kinds of its own, some errors and currency."""
    if isinstance(cell, list):
        return [_received(part, dimension) for part in cell]
    if isinstance(cell, int) and cell in _ERROR_NUMBERS:
        return f"#VALUE! (Excel's error {cell - _ERROR_NUMBERS.start + 2000})"
    if isinstance(cell, Decimal):
        # Excel has cut it to four decimals on the way: fine for money, a wrong size for a wire.
        return float(cell) if dimension == "count" else "a cell formatted as currency (format it as a number)"
    return cell


def _shown(found: Cell) -> Cell:
    if isinstance(found, list):
        rows = [[_cut(_one(cell)) for cell in row] for row in found]
        if len({len(row) for row in rows}) != 1:
            raise TypeError("the rows of the answer are not of one length")
        return rows
    return _one(found)


def _one(found: Cell) -> Cell:
    if isinstance(found, CellError):
        return f"{found.code} {found.sentence}"
    if isinstance(found, float) and found - found != 0:
        raise ArithmeticError(f"the answer is {found}")
    return "" if found is None else found


def _cut(found: Cell) -> Cell:
    """A longer text inside an array makes Excel show #VALUE! in its place (xlwings issue 456)."""
    if isinstance(found, str) and len(found) > LONGEST_TEXT:
        return f"{found[: LONGEST_TEXT - 3]}..."
    return found


FUNCTIONS: dict[str, Callable[..., Cell]] = {record.name: user_function(record) for record in RECORDS}
"""Every function by its sheet name. They are names of this module as well: there xlwings looks for them."""

globals().update(FUNCTIONS)
