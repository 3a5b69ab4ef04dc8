"""The sheet Lathe for its tests: both demo lathes typed in, a thread chosen."""

from __future__ import annotations

from functools import cache
from typing import Any

from workbook_cases import plain_file

from sheetfuncs import standards
from workbook_template.demo import lathe as demo_lathe
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.paper.naming import Named
from workbook_template.sheets import lathe as lathe_sheet
from workbook_template.sheets import lathe_charts


@cache
def named() -> list[Named]:
    """The names of the two sheets."""
    return [entry for entry in plain_file().entries if entry.sheet in (lathe_sheet.SHEET, lathe_charts.SHEET)]


def inputs() -> dict[str, str]:
    """The inputs among them, each with its cells."""
    return {entry.name: entry.ref for entry in named() if entry.role == "input"}


def rows_of(ref: str) -> int:
    """How many cells a column has; 0 for a single cell."""
    first, _, last = ref.partition(":")
    return int("".join(filter(str.isdigit, last))) - int("".join(filter(str.isdigit, first))) + 1 if last else 0


def filled(values: dict[str, Any]) -> dict[str, Any]:
    """Every input of the sheet, those not in `values` empty; a list fills a column from the top."""
    cells: dict[str, Any] = {}
    for name, ref in inputs().items():
        value, count = values.get(name), rows_of(ref)
        if count:
            column = [*(value or []), *[None] * count][:count]
            cells[name] = [[one] for one in column]
        else:
            cells[name] = value
    return cells


BOTH = demo_lathe.values("3/4-16 UNF-2A")


def choice(callout: str) -> dict[str, Any]:
    """The inputs that choose a thread; a pipe thread without a side is taken as the outside one."""
    thread = standards.read(callout)
    return {**chosen(thread), **({"thread_class": "external"} if thread.system == "npt" else {})}


def choose(sheet: Document, callout: str, unit: str = "in", **inputs: Any) -> None:
    """Choose a thread, and type."""
    sheet.set({**choice(callout), "unit": unit, "thread_length": None, **inputs})


def as_they_were(document: Document) -> Document:
    """The demo lathes typed in, nothing else."""
    document.set({"hand": "right", "starts": 1, **filled(BOTH)})
    return document
