"""Named LAMBDAs as trees, in the spelling in which Excel stores them.

A parameter is stored as _xlpm.name wherever it is used. Where a LAMBDA declares it, one that may be left out is
_xlop.name; people see it in square brackets. A function younger than Excel 2007 has _xlfn. before it.

>>> from workbook_template.figures.text import text
>>> text(let({"double": my.size * 2}, my.double + 1))
'_xlfn.LET(_xlpm.double,_xlpm.size*2,_xlpm.double+1)'
>>> text(helper("TWICE", "Double.", "size", my.size * 2).tree)
'_xlfn.LAMBDA(_xlpm.size,_xlpm.size*2)'
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import NamedTuple

from sheetfuncs.hosts.call import find
from sheetfuncs.registry import Record
from sheetfuncs.terms import TERMS
from workbook_template.figures.notation import first, joined, node, when, xl
from workbook_template.figures.tree import Call, Name, Node, Part

USED, MAY_BE_LEFT_OUT, YOUNG = "_xlpm.", "_xlop.", "_xlfn."
HELPERS = "THREADS_"
"""What the names begin with that the functions use among themselves; those of the functions begin with THREAD_."""

NOT_GIVEN, IMPOSSIBLE, NOT_UNDERSTOOD = (Name(code) for code in ("#N/A", "#NUM!", "#VALUE!"))
"""What a formula gives where the Python function raises the error of that name; a formula holds it as it is shown."""


class _Stored:
    """Names that begin alike."""

    def __init__(self, before: str, shape: Callable[[str], str] = str) -> None:
        self._before, self._shape = before, shape

    def __getattr__(self, name: str) -> Name:
        return Name(self._before + self._shape(name))


class _Young:
    """The functions that are stored with the prefix."""

    def __getattr__(self, name: str) -> Callable[..., Call]:
        return lambda *arguments: Call(YOUNG + name, tuple(node(one) for one in arguments))


class _Helpers:
    """The helpers, by their names in small letters without what all begin with."""

    def __getattr__(self, name: str) -> Callable[..., Call]:
        function: Callable[..., Call] = getattr(xl, HELPERS + name.upper())
        return function


my, one = _Stored(USED), _Stored(f"{USED}one_")
"""What a LAMBDA or LET has named; of what a person gave, the one value or cell of a range that is worked."""

listed = _Stored(f"{HELPERS}LIST_", str.upper)
"""The columns of the sheet of threads, by their names in `table`."""

young, ours = _Young(), _Helpers()


class Lambda(NamedTuple):
    """A named LAMBDA; `optional` are those of its `arguments` that may be left out."""

    name: str
    about: str
    arguments: tuple[str, ...]
    optional: tuple[str, ...]
    body: Node

    @property
    def tree(self) -> Node:
        """What the name stands for."""
        declared = (Name((MAY_BE_LEFT_OUT if name in self.optional else USED) + name) for name in self.arguments)
        return Call(f"{YOUNG}LAMBDA", (*declared, self.body))


def helper(name: str, about: str, arguments: str, body: Node) -> Lambda:
    """A step that several functions share."""
    return Lambda(name, about, tuple(arguments.split()), (), body)


def let(steps: Mapping[str, Part], result: Part) -> Call:
    """The result, with each step named for those after it."""
    named = [part for name, step in steps.items() for part in (Name(USED + name), node(step))]
    return Call(f"{YOUNG}LET", (*named, node(result)))


def each(names: Mapping[str, Part], result: Node) -> Call:
    """The result for each cell of ranges of one shape; `names` are what each range's cell is called in it."""
    inner = Call(f"{YOUNG}LAMBDA", (*(Name(USED + name) for name in names), result))
    return Call(f"{YOUNG}MAP", (*(node(part) for part in names.values()), inner))


def each_step(start: Node, steps: int, name: str, result: Node) -> Call:
    """The result of so many steps, each on what the one before gave, which it calls by the name."""
    inner = Call(f"{YOUNG}LAMBDA", (Name(USED + name), my.step, result))
    return young.REDUCE(start, young.SEQUENCE(steps), inner)


def function(name: str, body: Node) -> Lambda:
    """A function of the catalogue: its own arguments, in their order, around a `body` that speaks of `one.argument`.

    What is left out or blank is an empty text in the body, a choice has no blanks around it. A blank where something
    must be given makes the answer blank, a choice that is missing makes it #N/A, as `sheetfuncs.hosts.call` has it.
    A range is answered cell by cell, unless the function answers with a table.
    """
    record = find(name)
    names = [param.name for param in record.params]
    cases = [
        (getattr(one, param.name).same(""), NOT_GIVEN if _is_choice(param.name) else "")
        for param in record.params
        if param.required
    ]
    guarded = first(*cases, otherwise=body)
    whole = _as_table(record, guarded) if record.table else _cell_by_cell(record, guarded)
    optional = tuple(param.name for param in record.params if not param.required)
    return Lambda(record.name, record.summary, tuple(names), optional, whole)


def _is_choice(name: str) -> bool:
    return TERMS[name].dimension == "choice"


def _filled(name: str, required: bool) -> Node:
    """An argument as it was given, an empty text where there is none: a blank cell passed on would be the number 0."""
    given = Name(USED + name)
    trimmed = xl.TRIM(given)
    filled = trimmed if _is_choice(name) else when(trimmed.same(""), "", given)
    return filled if required else when(young.ISOMITTED(given), "", filled)


def _as_table(record: Record, result: Node) -> Node:
    return let({f"one_{param.name}": _filled(param.name, param.required) for param in record.params}, result)


def _cell_by_cell(record: Record, result: Node) -> Node:
    """MAP wants ranges of one shape: whatever stands alone is repeated over the shape of the others."""
    given = {f"{param.name}_given": _filled(param.name, param.required) for param in record.params}
    shape = joined("+", *(xl.ISERROR(Name(USED + name)) for name in given))
    spread = {
        f"one_{param.name}": when(my.shape >= 0, Name(f"{USED}{param.name}_given"), "") for param in record.params
    }
    return let({**given, "shape": shape}, each(spread, result))
