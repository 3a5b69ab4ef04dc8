"""Single entries that are still to be filled in, or that the sheets don't take, by the checks of the sheets themselves.

A program checks what is typed, but not what is pasted; and it takes blank signs for something. Lists have a check a
column, which holds of each of its cells.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sheetfuncs import CellError, functional
from sheetfuncs.errors import OutOfRange
from sheetfuncs.units import convert_length
from workbook_template.figures.numbers import read_number
from workbook_template.read_back.contents import Error
from workbook_template.read_back.equipment import COLUMNS, day_of, key, label
from workbook_template.read_back.findings import Told, said
from workbook_template.read_back.named import cells_of
from workbook_template.read_back.oddities import LISTS
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.thread_figures import COATING, number
from workbook_template.sheets import (
    budget,
    certificate,
    coating,
    decision,
    first_article,
    instruments,
    job,
    log_top,
    setup,
)
from workbook_template.sheets import instrument_columns as lists
from workbook_template.sheets.inputs import ANYTHING, Check, Input
from workbook_template.trade.days import NO_DAY

_WIRE = (one for one in setup.INPUTS if one.name == "wire_in_use")
_COATING = (one._replace(label=f"coating, {one.label}") for one in coating.INPUTS)
_KINDS = {one.name for source in budget.SOURCES for one in budget.entries(source)[1:]}
_BUDGET = (*(one for source in budget.SOURCES for one in budget.entries(source)), *(one for one, *_ in budget.SETTINGS))
CHECKED: tuple[Input, ...] = (
    *job.FIELDS, job.THREAD_LENGTH, *_COATING, *_WIRE, decision.UNIT, *decision.DECISION,
    *(one._replace(label=one.meaning) if one.name in _KINDS else one for one in _BUDGET), *instruments.entries(),
    *log_top.ONCE, certificate.DATE, first_article.WHEN,
)  # fmt: skip
"""Entries that hold something of a kind."""

LISTED: tuple[Input, ...] = tuple(
    Input(f"{prefix}_{one.name}", str(one.head), one.meaning, one.dimension, one.check, one.prompt)
    for prefix, columns in (("instrument", lists.COLUMNS), ("wires", lists.WIRE_COLUMNS))
    for one in columns
    if one.typed and f"{prefix}_{one.name}" in COLUMNS
)
"""Columns of the lists of instruments and wire sets that are judged by."""

NEEDED = {
    "job": {"job_number": "job number", "customer": "customer", "quantity": "quantity ordered"},
    "shop": {"shop_name": "name of the shop", "shop_address": "address of the shop"},
    "certificate": {
        "certificate_number": "number of the certificate",
        "certificate_lot": "lot",
        "certificate_date": "date of the certificate",
        "certificate_inspector": "who inspected",
        "certificate_released": "who releases it",
        "certificate_digest": "digest of the data, typed last (python -m workbook_template certificate FILE)",
    },
    "first article": {
        "article_serial": "part of the first article",
        "article_who": "who examined the first article",
        "article_date": "day of the first article",
    },
}
"""What must be filled in, by what it is for."""

NAMES = (*(one.name for one in CHECKED), *(name for fields in NEEDED.values() for name in fields))
"""What is read for it."""

TEXT, ENTRY = "text", "entry"
NUMERIC = ("whole", "decimal")
NUMBER = "entry"
"""Dimension of numbers of which not every one is checked, as where the range of an instrument begins."""


def empty(values: Mapping[str, Any], kind: str) -> Iterator[Told]:
    """What must be filled in for that, and is not."""
    for name, what in NEEDED[kind].items():
        if is_empty(values.get(name)):
            yield Told(kind, name, f"{what}: empty")


def is_empty(value: Any) -> bool:
    """Whether nothing is to be seen in a cell."""
    return value is None or (isinstance(value, str) and not value.strip())


def not_taken(values: Mapping[str, Any]) -> Iterator[Told]:
    """Entries that are filled with something that the sheets don't take."""
    for one in CHECKED:
        value = values.get(one.name)
        if not isinstance(value, list):
            yield from _not_taken(one, value)
    for one in LISTED:
        numbered = f"{one.name.partition('_')[0]}_id"
        numbers = cells_of(values.get(numbered))
        for at, value in enumerate(cells_of(values.get(one.name))):
            number_of = label(numbers[at]) if at < len(numbers) else ""
            row = " ".join(filter(None, (LISTS[numbered], number_of)))
            yield from _not_taken(one._replace(label=f"{row}, {one.label}"), value, at)


def _not_taken(one: Input, value: Any, at: int = 0) -> Iterator[Told]:
    if not is_empty(value) and (words := refusal(one, value)):
        kind = TEXT if isinstance(value, str) and (one.dimension == "date" or _takes_numbers(one)) else ENTRY
        yield Told(kind, one.name, f"{one.label}: {words}" if one.label else words, at)


def no_coating(values: Mapping[str, Any], again: Recomputed) -> Iterator[Told]:
    """A coating that can't be, though each of its entries may: one of the two, swapped, or too thick for the thread."""
    typed = [values.get(name) for name in COATING]
    for name, value, other in zip(COATING, typed, reversed(typed)):
        if is_empty(value) and not is_empty(other):
            yield Told(ENTRY, name, "coating: type its least and its greatest thickness, or empty both")
    thinnest, thickest = (number(value) for value in typed)
    if thinnest is None or thickest is None or any(map(refusal, coating.INPUTS, typed)):
        return  # told by itself
    if thinnest > thickest:
        words = f"coating: the thinnest, {thinnest:.12g}, is more than the thickest, {thickest:.12g}: swap them"
        yield Told(ENTRY, COATING[0], words)
    elif again.thread is not None:
        thread = again.thread.thread
        try:
            functional.before_coating(
                thread, *(convert_length(end, again.thread.unit, thread.unit) for end in (thinnest, thickest))
            )
        except OutOfRange as error:
            yield Told(ENTRY, COATING[1], f"coating: {error.sentence}")
        except CellError:
            pass  # what its standard doesn't give is no fault of a coating


def refusal(one: Input, value: Any) -> str:
    """Why a value is not taken; empty for one that is."""
    check = one.check
    if one.dimension == "date":
        return no_day(value)
    if _numeric(check):
        found = number(value)
        if found is None:
            return no_number(value)
        low, high = float(check.formula1 or ""), float(check.formula2 or "")
        taken = low <= found <= high and (check.type == "decimal" or found.is_integer())
    elif one.dimension == NUMBER:
        return no_number(value)
    else:
        taken = check == ANYTHING or check.from_cells or key(value) in key(check.formula1).strip('"').split(",")
    return "" if taken else f"{said(value)} is not taken: {check.asked}"


def _numeric(check: Check) -> bool:
    return check.type in NUMERIC


def _takes_numbers(one: Input) -> bool:
    return _numeric(one.check) or one.dimension == NUMBER


def no_day(value: Any) -> str:
    """Why what stands for a day is none; empty for one."""
    if day_of(value) is not None:
        return ""
    what = "is a text" if isinstance(value, str) else NO_DAY
    return f"{said(value)} {what}: type the day as a date"


def no_number(value: Any) -> str:
    """Why what stands for a number is none; empty for one, and for nothing."""
    if value is None or number(value) is not None:
        return ""
    if not isinstance(value, str):
        what = "is an error" if isinstance(value, Error) else "is no number"
        return f"{said(value)} {what}: type the number itself"
    plain = value.strip().strip("'").replace("\u00a0", "").replace("\u2212", "-").replace(" ", "")
    if read_number(plain) is None and read_number(plain.replace(",", ".")) is None:
        return f"{said(value)} is a text: type the number alone"
    why = "has a comma for its point" if "," in plain else "was typed or pasted as text"
    return f"{said(value)} {why}: it is not taken as a number; type it again"
