"""The one path from cells to a function and back, used by every host.

Cells come in as numbers, texts, booleans, None, or ranges of them (lists of rows). What goes out is a number, a
text, a list of rows, or a CellError; a host only has to say how it shows an error.
"""

from __future__ import annotations

from sheetfuncs import catalog
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood
from sheetfuncs.hosts.cells import ERROR_CODES, READERS, Cell, as_taken, is_blank, read_choice, read_thread, wanted
from sheetfuncs.registry import Record, is_length
from sheetfuncs.terms import TERMS
from sheetfuncs.units import convert_length


def evaluate(name: str, *cells: Cell) -> Cell:
    """A spreadsheet function by its sheet name, on cells as a spreadsheet would pass them.

    Returns a float, a text, or a list of rows. Raises CellError, with its code and sentence. A range where a
    single value is expected gives a range of the same shape; there a cell that fails holds its CellError, so
    that one bad row does not hide the others. A blank cell gives "".

    >>> evaluate("THREAD_PITCH_DIAMETER", "M20x2.5-6g", "max")
    18.334
    >>> evaluate("THREAD_PITCH", [["M20-6g"], ["3/4-16 UNF-2A"]], "mm")
    [[2.5], [1.5875]]
    """
    found = answer(find(name), cells)
    if isinstance(found, CellError):
        raise found
    return found


def find(name: str) -> Record:
    """The record of a function by its sheet name; NotUnderstood where there is none.

    >>> find("thread_pitch").signature
    'THREAD_PITCH(thread, [unit])'
    """
    record = catalog.find(name)
    if record is None:
        raise NotUnderstood(f"there is no function {name}; docs/functions.md lists those there are")
    return record


def answer(record: Record, cells: tuple[Cell, ...]) -> Cell:
    """The answer of a function, errors included: a CellError comes back as a value, alone or inside a range."""
    try:
        return _answer(record, cells)
    except CellError as error:
        return error


def _answer(record: Record, cells: tuple[Cell, ...]) -> Cell:
    if len(cells) > len(record.params):
        raise NotUnderstood(f"{record.name} takes {len(record.params)} arguments: {record.signature}")
    cells = tuple(as_taken(cell, param.name) for cell, param in zip(cells, record.params))
    ranges = [cell for cell in cells if isinstance(cell, (list, tuple))]
    if not ranges:
        return _answer_one(record, cells)
    if record.table:
        raise NotUnderstood(f"{record.name} answers with a table, so it takes one {record.params[0].name} at a time")
    if any(_shape(other) != _shape(ranges[0]) for other in ranges[1:]):
        raise NotUnderstood(f"{record.name} was given ranges of different shapes; make them the same size")
    return _answer_each(record, cells, {})


def _answer_each(record: Record, cells: tuple[Cell, ...], known: dict[tuple[Cell, ...], Cell]) -> list[Cell]:
    """The answers for ranges of one shape; what was worked out once in this call is not worked out again."""
    length = next(len(cell) for cell in cells if isinstance(cell, (list, tuple)))
    columns = [cell if isinstance(cell, (list, tuple)) else [cell] * length for cell in cells]
    answers = []
    for row in zip(*columns):
        if isinstance(row[0], (list, tuple)) or any(isinstance(cell, (list, tuple)) for cell in row):
            answers.append(_answer_each(record, row, known))
            continue
        key = (*row, *map(type, row))  # TRUE and 1 are equal, but only one is a number
        if key not in known:
            known[key] = answer(record, row)
        answers.append(known[key])
    return answers


def _answer_one(record: Record, cells: tuple[Cell, ...]) -> Cell:
    given = dict(zip((param.name for param in record.params), cells))
    blank = {name for name, cell in given.items() if is_blank(cell)}
    for param in record.params:
        term = TERMS[param.name]
        if not param.required or (param.name in given and param.name not in blank):
            continue
        if param.name in given and term.dimension != "choice":
            return ""
        raise NotGiven(f"{param.name} is missing: {wanted(term)}")
    filled = {name: cell for name, cell in given.items() if name not in blank}
    unit = read_choice(filled.pop("unit"), "unit", TERMS["unit"]) if "unit" in filled else None
    thread = read_thread(filled.pop("thread")) if "thread" in filled else None
    values = {} if thread is None else {"thread": thread}
    if thread is not None:
        own = thread.unit
    else:
        own = unit or _unit_written(filled, record)
        if record.takes_unit:
            values["unit"] = own
    for name, cell in filled.items():
        values[name] = READERS[TERMS[name].dimension](cell, name, TERMS[name], own, unit or own)
    result = record.function(**values)
    return _result(record, result, own, unit or own)


def _unit_written(cells: dict[str, Cell], record: Record) -> str:
    """Where no thread gives the unit: the first that is written beside a number. Only functions that need one ask."""
    if not record.takes_unit:
        return "in"
    for cell in cells.values():
        words = str(cell).lower().split()
        if words and isinstance(cell, str) and words[-1].endswith(("mm", "in", '"')):
            return "mm" if words[-1].endswith("mm") else "in"
    raise NotGiven("unit is missing: write it beside the number, as in 29.8 mm, or give in or mm")


def _result(record: Record, result: Cell, own: str, unit: str) -> Cell:
    lengths = [is_length(column) for column in record.columns]
    if not record.table:
        return convert_length(result, own, unit) if lengths[0] else result
    rows = [
        [
            "" if value is None else convert_length(value, own, unit) if is_length else value
            for value, is_length in zip(row, lengths)
        ]
        for row in result
    ]
    return [headings(record, unit), *rows] if record.table == "rows" else rows


def headings(record: Record, unit: str) -> list[str]:
    """The header row of a table: the labels of its terms, lengths with their unit.

    >>> headings(find("THREAD_LIMITS"), "mm")
    ['diameter', 'max, mm', 'min, mm', 'reference only']
    """
    return [TERMS[name].label + f", {unit}" * is_length(name) for name in record.columns]


def _shape(cell: Cell) -> tuple[int, ...]:
    rows = [_shape(part) for part in cell] if isinstance(cell, (list, tuple)) else []
    return (len(rows), *rows[0]) if rows else ()


__all__ = ["ERROR_CODES", "answer", "evaluate", "find", "headings"]
