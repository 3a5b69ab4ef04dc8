"""The one path from cells to a function and back, used by every host.

Cells come in as numbers, texts, booleans, None, or ranges of them (lists of rows). What goes out is a number, a
text, a list of rows, or a CellError; a host only has to say how it shows an error.
"""

from __future__ import annotations

from collections.abc import Callable

from sheetfuncs import catalog, standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.forms import Tip
from sheetfuncs.registry import Record, is_length
from sheetfuncs.terms import TERMS, Term
from sheetfuncs.units import MM_PER_INCH, convert_length, read_length, read_number

ERROR_CODES = ("#N/A", "#VALUE!", "#NUM!", "#DIV/0!", "#REF!", "#NAME?", "#NULL!")
"""What a spreadsheet puts in a cell that failed; such a text is passed on, never read as input."""

Cell = object
"""A number, a text, a boolean, None, or a date that the spreadsheet made of a fraction."""


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
    cells = tuple(
        _as_text(cell, param.name) if TERMS[param.name].dimension == "numbers" else _single(cell)
        for cell, param in zip(cells, record.params)
    )
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
    blank = {name for name, cell in given.items() if _is_blank(cell)}
    for param in record.params:
        term = TERMS[param.name]
        if not param.required or (param.name in given and param.name not in blank):
            continue
        if param.name in given and term.dimension != "choice":
            return ""
        raise NotGiven(f"{param.name} is missing: {_wanted(term)}")
    filled = {name: cell for name, cell in given.items() if name not in blank}
    unit = _choice(filled.pop("unit"), "unit", TERMS["unit"]) if "unit" in filled else None
    thread = _thread(filled.pop("thread")) if "thread" in filled else None
    values = {} if thread is None else {"thread": thread}
    if thread is not None:
        own = thread.unit
    else:
        own = unit or _unit_written(filled, record)
        if record.takes_unit:
            values["unit"] = own
    for name, cell in filled.items():
        values[name] = _READERS[TERMS[name].dimension](cell, name, TERMS[name], own, unit or own)
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


def _thread(cell: Cell) -> Thread:
    if not isinstance(cell, str):
        raise NotUnderstood(f"thread is {_shown(cell)}; write it as in 3/4-16 UNF-2A or M20x2.5-6g")
    _pass_on_error(cell, "thread")
    return standards.read(cell)


def _number(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = read_number(cell) if isinstance(cell, str) and not _pass_on_error(cell, name) else cell
    if isinstance(value, bool) or not isinstance(value, (int, float)) or value - value != 0:
        raise NotUnderstood(f"{name} is {_shown(cell)}; {_wanted(term)}")
    return float(value)


def _length(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    value = _signed_length(cell, name, term, own, unit)
    if value <= 0:
        raise OutOfRange(f"{name} is {_shown(cell)}; it must be more than zero")
    return value


def _signed_length(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    text = isinstance(cell, str) and not _pass_on_error(cell, name)
    value = read_length(cell, name, unit) if text else _number(cell, name, term, own, unit)
    return convert_length(value, unit, own)


def _count(cell: Cell, name: str, term: Term, own: str, unit: str) -> int:
    value = _number(cell, name, term, own, unit)
    if value != int(value) or not 0 <= value <= 1000:
        raise OutOfRange(f"{name} is {plain(value)}; it must be a whole number up to 1000")
    return int(value)


def _choice(cell: Cell, name: str, term: Term, own: str = "", unit: str = "") -> str:
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        word = " ".join(cell.lower().split())
        if word in term.choices:
            return word
    raise NotUnderstood(f"{name} is {_shown(cell)}; {_wanted(term)}")


def _tip(cell: Cell, name: str, term: Term, own: str, unit: str) -> Tip:
    """sharp, flat 0.3, radius 0.2, or a bare length: a nose radius. A radius of 0 is a sharp tool."""
    kind, size = "radius", cell
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        word, _, rest = cell.strip().lower().partition(" ")
        if word == "sharp" and not rest:
            return Tip("sharp")
        if word in ("flat", "radius"):
            kind, size = word, rest
        elif not word[:1].isdigit() and word[:1] != ".":
            raise NotUnderstood(f"{name} is '{cell}'; write sharp, flat 0.3, radius 0.2 or a nose radius")
    if size == 0:
        return Tip("sharp")
    return Tip(kind, _length(size, f"{name} {kind}", term, own, unit))


def _leadscrew(cell: Cell, name: str, term: Term, own: str, unit: str) -> tuple[int, int]:
    from sheetfuncs.lathe import read_leadscrew  # only the functions that need it load the topic

    if isinstance(cell, str) and not _pass_on_error(cell, name):
        return read_leadscrew(cell)
    return read_leadscrew(plain(_number(cell, name, term, own, unit)))


def _counted(cell: Cell, name: str, term: Term, own: str, unit: str) -> tuple[float, float]:
    from sheetfuncs.identify import read_counted

    if isinstance(cell, str):
        _pass_on_error(cell, name)
        return read_counted(cell, unit)
    return read_counted(_number(cell, name, term, own, unit), unit)


def _numbers(cell: Cell, name: str, term: Term, own: str, unit: str) -> list[float]:
    """Numbers of a range, or of a text with spaces, semicolons or commas and spaces between them."""
    _pass_on_error(str(cell), name)
    return [_number(part, name, term, own, unit) for part in str(cell).replace(", ", " ").replace(";", " ").split()]


def _speed(cell: Cell, name: str, term: Term, own: str, unit: str) -> float:
    """Surface speed in the thread's own unit: feet a minute for inch, metres a minute for millimetres."""
    per_minute = {"ft/min": MM_PER_INCH * 12, "sfm": MM_PER_INCH * 12, "m/min": 1000.0}
    own_length = per_minute["ft/min" if own == "in" else "m/min"]
    if isinstance(cell, str) and not _pass_on_error(cell, name):
        for spelling, length in per_minute.items():
            if cell.strip().lower().endswith(spelling):
                cell, own_length = cell.strip()[: -len(spelling)], own_length / length
                return _number(cell, name, term, own, unit) / own_length
    return _number(cell, name, term, own, unit)


_READERS: dict[str, Callable] = {
    "number": _number,
    "angle": _number,
    "length": _length,
    "signed length": _signed_length,
    "count": _count,
    "choice": _choice,
    "tip": _tip,
    "leadscrew": _leadscrew,
    "numbers": _numbers,
    "speed": _speed,
    "counted": _counted,
}


def _wanted(term: Term) -> str:
    """What would be accepted, in words."""
    if term.choices:
        return f"choose {', '.join(term.choices[:-1])} or {term.choices[-1]}" if term.choices[1:] else term.choices[0]
    return {
        "thread": "write it as in 3/4-16 UNF-2A or M20x2.5-6g",
        "length": "write a length such as 0.0361 or 0.92 mm",
        "tip": "write sharp, flat 0.3, radius 0.2 or a nose radius",
        "count": "write a whole number",
        "leadscrew": "write it as in 8 tpi or 3 mm",
        "numbers": "give a range of numbers, or a text such as 20 25 30",
        "counted": "write 2 mm, 12 tpi, or a count such as 10 in 20 mm",
        "speed": "write a number, or text such as 12 m/min",
    }.get(term.dimension, "write a number, with a point for decimals")


def _shown(cell: Cell) -> str:
    if isinstance(cell, str):
        return f"'{cell}'"
    if isinstance(cell, bool):
        return str(cell).upper()
    if isinstance(cell, (int, float)):
        return plain(cell)
    return "a date (a spreadsheet makes 3/4 one; put an apostrophe before it)" if hasattr(cell, "year") else repr(cell)


def _pass_on_error(text: str, name: str) -> bool:
    """False for ordinary text; an error that stands in the cell is passed on under its own code."""
    code = text.split(" ", 1)[0]
    if code in ERROR_CODES:
        kind = next((k for k in (NotGiven, OutOfRange) if k.code == code), NotUnderstood)
        raise kind(f"the cell given for {name} holds the error {text}")
    return False


def _as_text(cell: Cell, name: str) -> Cell:
    """A range of numbers as one text, so that it is never taken for a range to answer cell by cell."""
    if isinstance(cell, (list, tuple)):
        return " ".join(str(part) for part in (_as_text(part, name) for part in cell) if not _is_blank(part))
    if not (_is_blank(cell) or isinstance(cell, str)):
        _number(cell, name, TERMS[name], "", "")
    return cell


def _is_blank(cell: Cell) -> bool:
    return cell is None or (isinstance(cell, str) and not cell.strip())


def _single(cell: Cell) -> Cell:
    """A range of one cell counts as that cell."""
    while isinstance(cell, (list, tuple)) and len(cell) == 1 and not isinstance(cell[0], (list, tuple)):
        cell = cell[0]
    if isinstance(cell, (list, tuple)) and len(cell) == 1 and len(cell[0]) == 1:
        return cell[0][0]
    return cell


def _shape(cell: Cell) -> tuple[int, ...]:
    rows = [_shape(part) for part in cell] if isinstance(cell, (list, tuple)) else []
    return (len(rows), *rows[0]) if rows else ()


__all__ = ["ERROR_CODES", "answer", "evaluate", "find", "headings"]
