"""The one path from cells to a function and back, used by every host.

Cells come in as numbers, texts, booleans, None, or ranges of them (lists of rows). What goes out is a number, a
text, a list of rows, or a CellError; a host only has to say how it shows an error.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from sheetfuncs import catalog
from sheetfuncs.designations import Thread
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood
from sheetfuncs.hosts.cells import ERROR_CODES, READERS, Cell, is_blank, read_choice, read_thread, taker, wanted
from sheetfuncs.records import TYPE_CHECKING, NamedTuple
from sheetfuncs.registry import Record, is_length
from sheetfuncs.terms import TERMS, Term
from sheetfuncs.units import convert_length

if TYPE_CHECKING:
    from typing import Any

    from sheetfuncs.hosts.cells import Reader

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


def _answer(record: Record, cells: tuple[Cell, ...]) -> Cell:
    if len(cells) > len(record.params):
        raise NotUnderstood(f"{record.name} takes {len(record.params)} arguments: {record.signature}")
    call = _call_of(record)
    cells = tuple([take(cell) for take, cell in zip(call.takers, cells)])  # quicker than a generator
    found = [(place, cell) for place, cell in enumerate(cells) if isinstance(cell, (list, tuple))]
    if not found:
        return _answer_one(call, cells)
    ranges: dict[int, Sequence[Cell]] = dict(found)
    if record.table:
        raise NotUnderstood(f"{record.name} answers with a table, so it takes one {record.params[0].name} at a time")
    first, *others = ranges.values()
    if any(_widths(other) != _widths(first) for other in others):
        raise NotUnderstood(f"{record.name} was given ranges of different shapes; make them the same size")
    return _in_shape(first, iter(_answers(call, cells, ranges)))


def _widths(cells: Sequence[Cell]) -> list[int]:
    return [len(part) if isinstance(part, (list, tuple)) else 0 for part in cells]


def _answers(call: Call, cells: tuple[Cell, ...], ranges: dict[int, Sequence[Cell]]) -> list[Cell]:
    """The answers down one column or several side by side, in one list; no two equal rows are worked out twice."""
    columns = [_flat(cells) for cells in ranges.values()]
    if any(bool in set(map(type, column)) for column in columns):  # TRUE and 1 are equal, but only one is a number
        columns += [list(map(type, column)) for column in columns]
    return list(map(_Known(call, cells, list(ranges)).__getitem__, zip(*columns)))


class _Known(Answers):
    """Answers by the rows of the columns; one that is not there yet is worked out.

    A row may be followed by what tells it from an equal one.
    """

    def __init__(self, call: Call, cells: tuple[Cell, ...], places: list[int]) -> None:
        self.call, self.cells, self.places = call, list(cells), places
        self.column = _column(call, cells, places)

    def __missing__(self, row: tuple[Cell, ...]) -> Cell:
        try:
            found = self._answer(row)
        except CellError as error:
            found = error
        self[row] = found
        return found

    def _answer(self, row: tuple[Cell, ...]) -> Cell:
        cells, column = self.cells, self.column
        for place, cell in zip(self.places, row):
            cells[place] = cell
            if is_blank(cell):
                column = None
        return _answer_one(self.call, cells) if column is None else _answer_row(self.call, cells, column)


class Column(NamedTuple):
    """The arguments of a column of calls: those that change from row to row, and those that stay the same.

    `read` keeps what the latter were read as, by the unit of the thread.
    """

    unit: str | None
    thread: Thread | None
    changing: tuple[Step, ...]
    read: dict[str, dict[str, object]]


def _column(call: Call, cells: tuple[Cell, ...], places: list[int]) -> Column | None:
    """What a column of calls shares. None where a row is better read as a call of its own: its unit changes or is
    written beside a number, or what stays the same is missing or wrong, which each row then says."""
    if (call.thread is None and call.record.takes_unit) or (call.unit and call.unit.place in places):
        return None
    try:
        filled = _filled(call, [cell if place not in places else "any" for place, cell in enumerate(cells)])
        if filled is None:
            return None
        unit = _unit_asked(call, cells)
        thread = None
        if call.thread is not None and call.thread.place not in places:
            thread = read_thread(cells[call.thread.place])
        same = [step for step in filled if step.place not in places]
        units = ("in", "mm") if thread is None else (thread.unit,)
        read = {own: _read(same, cells, own, unit or own) for own in units}
    except CellError:
        return None
    return Column(unit, thread, tuple(step for step in filled if step.place in places), read)


def _answer_row(call: Call, cells: Sequence[Cell], column: Column) -> Cell:
    """One answer of a column."""
    unit, thread, changing, read = column
    own = unit or "in"
    if call.thread is not None:
        thread = thread or read_thread(cells[call.thread.place])
        own = thread.unit
    values = read[own].copy()
    for place, name, _, term, reader in changing:
        values[name] = reader(cells[place], name, term, own, unit or own)
    if thread is not None:
        values["thread"] = thread
    return _result(call, call.record.function(**values), own, unit or own)


class Step(NamedTuple):
    """How one argument is read: its place, name, term and reader."""

    place: int
    name: str
    required: bool
    term: Term
    reader: Reader


class Call(NamedTuple):
    """What is the same for every call of a function; `takers` make one cell of a range that is taken whole.

    `steps` are the arguments but for the thread, the first where there is one, and the unit, which may be left out.
    """

    record: Record
    takers: tuple[Callable[[Cell], Cell], ...]
    thread: Step | None
    unit: Step | None
    steps: tuple[Step, ...]
    lengths: tuple[bool, ...]


_CALLS: dict[Callable[..., object], Call] = {}


def _call_of(record: Record) -> Call:
    """Bound once for each function."""
    call = _CALLS.get(record.function)
    if call is None or call.record is not record:
        steps = {}
        for place, param in enumerate(record.params):
            term = TERMS[param.name]
            steps[param.name] = Step(place, param.name, param.required, term, READERS[term.dimension])
        call = _CALLS[record.function] = Call(
            record,
            tuple(map(taker, steps)),
            steps.pop("thread", None),
            steps.pop("unit", None),
            tuple(steps.values()),
            tuple(is_length(column) for column in record.columns),
        )
    return call


def _answer_one(call: Call, cells: Sequence[Cell]) -> Cell:
    """One answer; a blank among the arguments that must be given makes it blank."""
    filled = _filled(call, cells)
    if filled is None:
        return ""
    unit = _unit_asked(call, cells)
    values: dict[str, object] = {}
    if call.thread is not None:
        values["thread"] = thread = read_thread(cells[call.thread.place])
        own = thread.unit
    else:
        own = unit or _unit_written([cells[step.place] for step in filled], call.record)
        if call.record.takes_unit:
            values["unit"] = own
    values.update(_read(filled, cells, own, unit or own))
    return _result(call, call.record.function(**values), own, unit or own)


def _filled(call: Call, cells: Sequence[Cell]) -> list[Step] | None:
    """The arguments, without thread and unit, whose cells are filled.

    None where one that must be is blank; NotGiven where it is not there, or is a choice.
    """
    if call.thread is not None:
        if not cells:
            raise NotGiven(f"thread is missing: {wanted(call.thread.term)}")
        if is_blank(cells[0]):
            return None
    filled, count = [], len(cells)
    for step in call.steps:
        place, name, required, term, _ = step
        if place < count and not is_blank(cells[place]):
            filled.append(step)
        elif required:
            if place < count and term.dimension != "choice":
                return None
            raise NotGiven(f"{name} is missing: {wanted(term)}")
    return filled


def _unit_asked(call: Call, cells: Sequence[Cell]) -> str | None:
    step = call.unit
    if step is None or step.place >= len(cells) or is_blank(cells[step.place]):
        return None
    return read_choice(cells[step.place], "unit", step.term)


def _read(steps: Sequence[Step], cells: Sequence[Cell], own: str, asked: str) -> dict[str, object]:
    """What the cells mean: bare lengths are in the unit asked for, values in the thread's own."""
    return {name: reader(cells[place], name, term, own, asked) for place, name, _, term, reader in steps}


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
    """The cells of a range in one list."""
    flat = list(cells)
    while any(isinstance(part, (list, tuple)) for part in flat):
        flat = [inner for part in flat for inner in (part if isinstance(part, (list, tuple)) else (part,))]
    return flat


def _in_shape(cells: Sequence[Cell], answers: Iterator[Cell]) -> list[Cell]:
    """Answers in the shape of the range they are for."""
    return [_in_shape(part, answers) if isinstance(part, (list, tuple)) else next(answers) for part in cells]


__all__ = ["ERROR_CODES", "Cell", "answer", "evaluate", "find", "headings"]
