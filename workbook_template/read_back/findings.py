"""What a check says: one line for each thing that is not as it was built, or not as it computes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from openpyxl.utils import get_column_letter

from workbook_template.read_back.contents import Error

SHOWN = 8
"""Lines of one kind on one sheet, unless all are asked for."""


class Finding(NamedTuple):
    """One difference: its kind, the place (a sheet, a cell or "", a name or ""), and what is wrong, in words."""

    kind: str
    sheet: str
    cell: str
    name: str
    words: str


def address(place: tuple[int, int]) -> str:
    """A cell as people write it.

    >>> address((12, 3))
    'C12'
    """
    return f"{get_column_letter(place[1])}{place[0]}"


def said(value: Any) -> str:
    """A value as it stands in a sentence.

    >>> said(0.7061), said("in"), said(None), said(True)
    ('0.7061', '"in"', 'nothing', 'TRUE')
    """
    if value is None or value == "":
        return "nothing"
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, Error):
        return value.text
    if isinstance(value, (int, float)):
        return f"{value:.12g}"
    text = str(value)
    return f'"{text if len(text) <= 90 else text[:87] + "..."}"'


def lines(findings: Iterable[Finding], *, every: bool = False) -> Iterator[str]:
    """The findings as lines; many of one kind on one sheet are counted after the first few."""
    groups: dict[tuple[str, str], list[Finding]] = {}
    for one in findings:
        groups.setdefault((one.kind, one.sheet), []).append(one)
    for (kind, sheet), group in groups.items():
        for one in group if every else group[:SHOWN]:
            place = f"{sheet}!{one.cell}" if one.cell else sheet
            where = " ".join(part for part in (place, one.name) if part)
            yield f"{kind}: {where}: {one.words}" if where else f"{kind}: {one.words}"
        if not every and len(group) > SHOWN:
            yield f"{kind}: {sheet}: and {len(group) - SHOWN} more like these; --all lists them"
