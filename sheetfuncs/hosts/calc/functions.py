"""What Calc is told about each function: its names, its help, its arguments. Made from the catalogue."""

from __future__ import annotations

from sheetfuncs.catalog import RECORDS
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import PREFIX, Record
from sheetfuncs.terms import TERMS

SERVICE = "org.threadsheet.Functions"
"""Where the functions live in LibreOffice; its files show it before the name of a function."""

INTERFACE = "org.threadsheet.XFunctions"
"""The type that declares them."""


class Argument(NamedTuple):
    """One argument: the name in the function wizard, its help, and whether any number may follow in its place."""

    name: str
    help: str
    repeated: bool = False


class Function(NamedTuple):
    """One add-in function: `method` is its name inside the office, `name` the one that people type."""

    method: str
    name: str
    help: str
    arguments: tuple[Argument, ...]


WHY = Function(
    "why",
    f"{PREFIX}WHY",
    "Why a function gives an error: the sentence that belongs to it, empty where there is no error.",
    (
        Argument("function", f"Name of the function as text, such as {PREFIX}PITCH."),
        Argument("arguments", "The arguments of that function, the same as in the cell with the error.", repeated=True),
    ),
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
    """The function that stands for a record."""
    arguments = []
    for param in record.params:
        help_text = TERMS[param.name].help
        arguments.append(Argument(param.name, help_text if param.required else f"{help_text} May be left out."))
    return Function(method(record), record.name, record.summary, tuple(arguments))


FUNCTIONS: tuple[Function, ...] = (*(from_record(record) for record in RECORDS), WHY)
"""Every function of the extension, in the order of the catalogue."""
