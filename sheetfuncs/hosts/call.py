"""The one path from cells to a function and back, used by every host.

Cells come in as numbers, texts, booleans, None, or ranges of them (lists of rows). What goes out is a number, a
text, a list of rows, or a CellError; a host only has to say how it shows an error.
"""

from __future__ import annotations

from itertools import islice

from sheetfuncs import catalog
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood
from sheetfuncs.hosts.cells import ERROR_CODES, READERS, Cell, is_blank, read_choice, read_thread, taker, wanted
from sheetfuncs.records import TYPE_CHECKING, NamedTuple
from sheetfuncs.registry import Record, is_length
from sheetfuncs.terms import TERMS, Term
from sheetfuncs.units import convert_length

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from typing import Any

    from sheetfuncs.hosts.cells import Reader

    Step = tuple[int, str, Term, Reader]
    Answers = dict[tuple[Cell, ...], Cell]
else:
    Answers = dict


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


def _answer(record: Record, given: tuple[Cell, ...]) -> Cell:
    call = _call_of(record)
    if len(given) > len(call.takers):
        raise NotUnderstood(f"it takes {len(call.takers)} arguments: {record.signature}")
    cells = [cell if isinstance(cell, float) else take(cell) for take, cell in zip(call.takers, given)]
    for cell in cells:
        if isinstance(cell, (list, tuple)):
            return _answer_ranges(call, cells)
    return _answer_one(call, cells)


def _answer_ranges(call: Call, cells: list[Cell]) -> Cell:
    """The answers down one column or several side by side, in the shape of the first."""
    record = call.record
    if record.table:
        raise NotUnderstood(f"{record.name} answers with a table, so it takes one {record.params[0].name} at a time")
    ranges = {place: cell for place, cell in enumerate(cells) if isinstance(cell, (list, tuple))}
    shape, *others = map(_widths, ranges.values())
    if any(other != shape for other in others):
        raise NotUnderstood(f"{record.name} was given ranges of different shapes; make them the same size")
    columns = [_flat(cells) for cells in ranges.values()]
    kinds = [set(map(type, column)) for column in columns]
    if any(list in found or tuple in found for found in kinds):
        raise NotUnderstood(f"{record.name} was given a range inside a range; give rows of single cells")
    if any(bool in found for found in kinds):  # TRUE and 1 are equal, but only one is a number
        columns += [list(map(type, column)) for column in columns]
    answers = map(_Rows(call, cells, list(ranges)).__getitem__, zip(*columns))
    if set(shape) == {1}:  # a plain column, nearly always
        return [[found] for found in answers]
    return [list(islice(answers, width)) if width is not None else next(answers) for width in shape]


def _widths(cells: Sequence[Cell]) -> list[int | None]:
    """Cells in each row of a range; None for a cell that stands alone."""
    return [len(part) if isinstance(part, (list, tuple)) else None for part in cells]


class _Rows(Answers):
    """Answers by the rows of the columns; one that is not there yet is worked out, so no two equal rows are.

    A row may be followed by what tells it from an equal one.
    """

    def __init__(self, call: Call, cells: list[Cell], places: list[int]) -> None:
        self.call, self.cells, self.places = call, cells, places
        self.quick = _quick(call, cells, places)

    def __missing__(self, row: tuple[Cell, ...]) -> Cell:
        try:
            found = self.quick(row)
        except CellError:
            found = self.alone(row)
        self[row] = found
        return found

    def alone(self, row: tuple[Cell, ...]) -> Cell:
        """The answer of a row as of a call of its own: all that is not plain sailing."""
        for place, cell in zip(self.places, row):
            self.cells[place] = None if is_blank(cell) else cell
        try:
            return _answer_one(self.call, self.cells)
        except CellError as error:
            return error


def _quick(call: Call, cells: list[Cell], places: list[int]) -> Callable[[tuple[Cell, ...]], Cell]:
    """What answers a row of the columns, with all that stays the same from row to row read once.

    It raises CellError where the row is better read as a call of its own: where it is blank or wrong, and any row where
    its unit changes or is written beside a number, or where what stays the same is missing or wrong.
    """
    changing = {place: at for at, place in enumerate(places)}
    try:
        if (call.thread is None and call.record.takes_unit) or call.unit in changing:
            return _not_quick
        if _blank(call, ["any" if place in changing else cell for place, cell in enumerate(cells)]):
            return _not_quick
        thread_at = None if call.thread is None else changing.get(call.thread)
        thread = None if call.thread is None or thread_at is not None else read_thread(cells[call.thread])
        unit = _unit_asked(call, cells)
        same = [step for step in call.steps if step[0] not in changing]
        steps = [(changing[at], name, term, reader) for at, name, term, reader in call.steps if at in changing]
        read = {}
        for own in ("in", "mm") if thread is None else (thread.unit,):
            read[own] = own, unit or own, _read(same, cells, own, unit or own)
    except CellError:
        return _not_quick
    function, is_length = call.record.function, call.lengths[0]

    def answer_row(row: tuple[Cell, ...]) -> Cell:
        here = thread if thread_at is None else read_thread(row[thread_at])
        own, asked, values = read["in" if here is None else here.unit]
        if here is not None:
            values["thread"] = here
        for at, name, term, reader in steps:
            values[name] = reader(row[at], name, term, own, asked)
        found = function(**values)
        return convert_length(found, own, asked) if is_length else found

    return answer_row


def _not_quick(row: tuple[Cell, ...]) -> Cell:
    raise CellError("")


class Call(NamedTuple):
    """What is the same for every call of a function; `takers` make one cell of a range that is taken whole.

    `thread` and `unit` are the places of these arguments. A step says how one argument is read: its place, name, term
    and reader; `required` are those that must be given, `steps` all but the thread and the unit.
    """

    record: Record
    takers: tuple[Callable[[Cell], Cell], ...]
    thread: int | None
    unit: int | None
    required: tuple[Step, ...]
    steps: tuple[Step, ...]
    lengths: tuple[bool, ...]


_CALLS: dict[Callable[..., object], Call] = {}


def _call_of(record: Record) -> Call:
    """Bound once for each function."""
    call = _CALLS.get(record.function)
    if call is None or call.record is not record:
        places = {param.name: place for place, param in enumerate(record.params)}
        steps = {name: (place, name, TERMS[name], READERS[TERMS[name].dimension]) for name, place in places.items()}
        call = _CALLS[record.function] = Call(
            record,
            tuple(map(taker, steps)),
            places.get("thread"),
            places.get("unit"),
            tuple(steps[param.name] for param in record.params if param.required),
            tuple(step for name, step in steps.items() if name not in ("thread", "unit")),
            tuple(is_length(column) for column in record.columns),
        )
    return call


def _answer_one(call: Call, cells: list[Cell]) -> Cell:
    """One answer; a blank among the arguments that must be given makes it blank."""
    if _blank(call, cells):
        return ""
    unit = _unit_asked(call, cells)
    if call.thread is not None:
        thread = read_thread(cells[call.thread])
        own = thread.unit
        values = _read(call.steps, cells, own, unit or own)
        values["thread"] = thread
    else:
        own = unit or _unit_written(cells, call.record)
        values = _read(call.steps, cells, own, own)
        if call.record.takes_unit:
            values["unit"] = own
    return _result(call, call.record.function(**values), own, unit or own)


def _blank(call: Call, cells: list[Cell]) -> bool:
    """Whether an argument that must be given is blank; NotGiven where it is not there, or is a choice."""
    count = len(cells)
    for place, name, term, _ in call.required:
        if place >= count or cells[place] is None:
            if place < count and term.dimension != "choice":
                return True
            raise NotGiven(f"{name} is missing: {wanted(term)}")
    return False


def _unit_asked(call: Call, cells: list[Cell]) -> str | None:
    place = call.unit
    if place is None or place >= len(cells) or cells[place] is None:
        return None
    return read_choice(cells[place], "unit", TERMS["unit"])


def _read(steps: Sequence[Step], cells: list[Cell], own: str, asked: str) -> dict[str, Any]:
    """What the cells that are filled mean: bare lengths are in the unit asked for, values in the thread's own."""
    count = len(cells)
    return {
        name: reader(cells[place], name, term, own, asked)
        for place, name, term, reader in steps
        if place < count and cells[place] is not None
    }


def _unit_written(cells: list[Cell], record: Record) -> str:
    """Where no thread gives the unit: the first that is written beside a number. Only functions that need one ask."""
    if not record.takes_unit:
        return "in"
    for cell in cells:
        words = cell.lower().split() if isinstance(cell, str) else ()
        if words and words[-1].endswith(("mm", "in", '"')):
            return "mm" if words[-1].endswith("mm") else "in"
    raise NotGiven("unit is missing: write it beside the number, as in 29.8 mm, or give in or mm")


def _result(call: Call, result: Any, own: str, unit: str) -> Cell:
    record = call.record
    if not record.table:
        return convert_length(result, own, unit) if call.lengths[0] else result
    rows = [
        [
            "" if value is None else convert_length(value, own, unit) if is_length else value
            for value, is_length in zip(row, call.lengths)
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


def _flat(cells: Sequence[Cell]) -> list[Cell]:
    """The cells of a range in one list; it comes as a list of rows, or as one of cells."""
    return [cell for part in cells for cell in (part if isinstance(part, (list, tuple)) else (part,))]


__all__ = ["ERROR_CODES", "Cell", "answer", "evaluate", "find", "headings"]
