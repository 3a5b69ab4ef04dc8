"""The decorator that makes a plain function a spreadsheet function, and the record it leaves.

A record is everything a host, the documentation and the tests need to know. Whatever is wrong with one is
found when its module loads, not when a cell is calculated.
"""

from __future__ import annotations

from sheetfuncs.errors import LONGEST_TEXT
from sheetfuncs.records import TYPE_CHECKING, NamedTuple
from sheetfuncs.sources import SOURCES
from sheetfuncs.terms import TERMS

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any, TypeVar

    F = TypeVar("F", bound=Callable[..., Any])

PREFIX = "THREAD_"


class Param(NamedTuple):
    """One argument of a spreadsheet function; its name is a term."""

    name: str
    required: bool


class Example(NamedTuple):
    """A worked example: arguments as a person types them, and the result in its printed digits.

    `gives` is one text, or a tuple of the texts of a row; `source` says who printed it.
    """

    args: tuple[str | float | None, ...]
    gives: str | tuple[str, ...]
    source: str


class Record(NamedTuple):
    """One spreadsheet function. `columns` are the terms of the result, one for a single value.

    `table` is "" for a single value, "row" for one row, "rows" for a header row and rows under it.
    """

    name: str
    function: Callable[..., Any]
    category: str
    columns: tuple[str, ...]
    table: str
    params: tuple[Param, ...]
    sources: tuple[str, ...]
    examples: tuple[Example, ...]

    @property
    def summary(self) -> str:
        """The first line of the docstring, for function wizards."""
        return (self.function.__doc__ or "").partition("\n")[0]

    @property
    def takes_unit(self) -> bool:
        """Whether the function itself wants to know the unit (it has no thread to tell it)."""
        code = self.function.__code__
        return "unit" in code.co_varnames[: code.co_argcount]

    @property
    def signature(self) -> str:
        """The call as documentation writes it: optional arguments in square brackets."""
        names = [param.name if param.required else f"[{param.name}]" for param in self.params]
        return f"{self.name}({', '.join(names)})"


def sheet_function(
    *,
    category: str,
    returns: str | tuple[str, ...],
    sources: tuple[str, ...],
    examples: tuple[Example, ...],
    table: str = "",
    unit_before: str = "",
) -> Callable[[F], F]:
    """Give a function its place in the catalogue. Nothing is wrapped: the function stays as it is written.

    A function of a thread whose result is a length takes `unit` as well, last or before `unit_before`; the
    conversion is made outside the function.
    """

    def register(function: F) -> F:
        columns = (returns,) if isinstance(returns, str) else returns
        params = _params(function, columns, unit_before)
        record = Record(
            PREFIX + function.__name__.upper(), function, category, columns, table, params, sources, examples
        )
        _check(record)
        vars(function)["record"] = record
        return function

    return register


def is_length(term: str) -> bool:
    """Whether a result of this name is converted to the unit asked for."""
    return TERMS[term].dimension in ("length", "signed length", "length or none")


def _params(function: Callable[..., Any], columns: tuple[str, ...], unit_before: str) -> tuple[Param, ...]:
    """Arguments from the code object: `inspect` would double the time of the import."""
    code = function.__code__
    names = code.co_varnames[: code.co_argcount]
    required = len(names) - len(function.__defaults__ or ())
    params = [Param(name, index < required) for index, name in enumerate(names)]
    if "thread" in names and "unit" not in names and any(is_length(column) for column in columns):
        at = names.index(unit_before) if unit_before else len(params)
        params.insert(at, Param("unit", False))
    return tuple(params)


def _check(record: Record) -> None:
    unknown = [name for name in (*record.columns, *(p.name for p in record.params)) if name not in TERMS]
    uncited = [key for key in record.sources if key not in SOURCES]
    faults = {
        f"unknown terms {unknown}": bool(unknown),
        f"unknown sources {uncited}": bool(uncited),
        "no source": not record.sources,
        "no worked example": not record.examples,
        f"no summary, or one over {LONGEST_TEXT} characters": not 0 < len(record.summary) <= LONGEST_TEXT,
        f"table '{record.table}'": record.table not in ("", "row", "rows"),
        "several columns but no table": len(record.columns) > 1 and not record.table,
    }
    found = [fault for fault, present in faults.items() if present]
    if found:
        raise TypeError(f"{record.name}: {'; '.join(found)}")
