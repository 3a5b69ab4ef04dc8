"""Numbers that are typed so that something is missed: one that is twice in its list, one with blanks around it.

The sheets take them as they stand; `check` and its `--undone` name them, each with its cell.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from workbook_template.read_back.equipment import twice
from workbook_template.read_back.findings import Told, said
from workbook_template.read_back.named import cells_of

LISTS = {"instrument_id": "instrument", "wires_id": "wire set"}
"""What each list has, by the name of its column of numbers."""


def oddities(values: Mapping[str, Any]) -> Iterator[Told]:
    """All of a workbook, out of its values by defined name."""
    job = values.get("job_number")
    if _spaced(job):
        words = f"the job number {said(job)} has blanks around it: collect takes it for another job; retype it without"
        yield Told("blanks", "job_number", words)
    for name, what in LISTS.items():
        numbers = cells_of(values.get(name))
        for at, one in enumerate(numbers):
            if _spaced(one):
                words = f"{what} {said(one)} has blanks around its number: what names it without is not found"
                yield Told("blanks", name, words, at)
        for at in twice(numbers):
            yield Told("twice", name, f"{what} {said(numbers[at])} is there twice: only the first of them counts", at)


def _spaced(value: Any) -> bool:
    return isinstance(value, str) and value != value.strip() != ""
