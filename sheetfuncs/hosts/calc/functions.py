"""What Calc is told about each function: its names, its help, its arguments. Made from the catalogue."""

from __future__ import annotations

from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.calc.runtime import answers_with_text
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import PREFIX, Record
from sheetfuncs.terms import TERMS

SERVICE = "org.sheetfuncs.Functions"
"""Where the functions live in LibreOffice; its files show it before the name of a function."""

INTERFACE = "org.sheetfuncs.XFunctions"
"""The type that declares them."""

CELL, TEXT, CELLS, REST = "any", "string", "[][]any", "[]any"
"""LibreOffice's types: any cell or range, or nothing; a text; rows of cells; any number of further arguments."""


class Argument(NamedTuple):
    """One argument: the name and the help that the function wizard shows, and its type."""

    name: str
    help: str
    kind: str


class Function(NamedTuple):
    """One add-in function: `method` is its name inside the office, `name` the one that people type."""

    method: str
    name: str
    help: str
    arguments: tuple[Argument, ...]
    result: str
    answers: str
    """Which function of `runtime` makes the answer."""


WHY = Function(
    "why",
    f"{PREFIX}WHY",
    "Why a function gives an error: the sentence that belongs to it, or nothing where there is no error.",
    (
        Argument("function", "Name of the function, as text: THREAD_PITCH in quotes.", CELL),
        Argument("arguments", "The arguments of that function, as in the cell with the error.", REST),
    ),
    CELL,
    "why",
)


def method(record: Record) -> str:
    """The name of a record's method, in the style of LibreOffice.

    >>> from sheetfuncs.hosts.call import find
    >>> method(find("THREAD_PITCH_DIAMETER"))
    'pitchDiameter'
    """
    first, *others = record.name[len(PREFIX) :].lower().split("_")
    return first + "".join(word.capitalize() for word in others)


def from_record(record: Record) -> Function:
    """The function that stands for a record. What may be left out must be `any`; so is all that need not be text."""
    text = answers_with_text(record)
    arguments = []
    for number, param in enumerate(record.params):
        help_text = TERMS[param.name].help
        if not param.required and "left out" not in help_text.lower():
            help_text += " May be left out."
        arguments.append(Argument(param.name, help_text, TEXT if text and not number else CELL))
    kind = (CELL, "single") if text else (CELLS, "rows")
    return Function(method(record), record.name, record.summary, tuple(arguments), *kind)


def functions() -> list[Function]:
    """Every function of the extension, in the order of the catalogue."""
    return [*(from_record(record) for record in RECORDS), WHY]
