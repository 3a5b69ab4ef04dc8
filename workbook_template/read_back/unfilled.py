"""Single entries that are still to be filled in, or that the sheets don't take, by the checks of the sheets themselves.

A program checks what is typed, but not what is pasted; and it takes blank signs for something.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from workbook_template.figures.numbers import read_number
from workbook_template.read_back.contents import Error
from workbook_template.read_back.equipment import day_of, key
from workbook_template.read_back.findings import Told, said
from workbook_template.read_back.thread_figures import number
from workbook_template.sheets import certificate, decision, first_article, instruments, job, log_top, setup
from workbook_template.sheets.inputs import ANYTHING, Check, Input
from workbook_template.trade.days import NO_DAY

_WIRE = (one for one in setup.INPUTS if one.name == "wire_in_use")
CHECKED: tuple[Input, ...] = (
    *job.FIELDS, job.THREAD_LENGTH, *_WIRE, *decision.DECISION, *instruments.entries(), *log_top.ONCE,
    certificate.DATE, first_article.WHEN,
)  # fmt: skip
"""Entries that hold something of a kind."""

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
        words = "" if is_empty(value) or isinstance(value, list) else refusal(one, value)
        if words:
            kind = TEXT if isinstance(value, str) and (one.dimension == "date" or _numeric(one.check)) else ENTRY
            yield Told(kind, one.name, f"{one.label}: {words}" if one.label else words)


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
    else:
        taken = check == ANYTHING or check.from_cells or key(value) in (check.formula1 or "").strip('"').split(",")
    return "" if taken else f"{said(value)} is not taken: {check.asked}"


def _numeric(check: Check) -> bool:
    return check.type in NUMERIC


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
