"""What a check says: one line for each thing that is not as it was built, or not as it computes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from openpyxl.utils import get_column_letter

from workbook_template.read_back.contents import Error
from workbook_template.rules.parts import Box

SHOWN = 8
"""Lines of one kind on one sheet, unless all are asked for."""

LONGEST, BEFORE = 90, 40
"""Letters of a text that are shown, and how many of them stand before the one that matters."""


REMARKS = frozenset({
    "instrument", "part again", "twice", "blanks", "hidden", "look", "decimals", "conditional format", "merged cells",
    "print area", "chart", "on top", "message", "outside", "calculation", "added name", "renamed", "left free",
})  # fmt: skip
"""Kinds that leave the record as it is: they are told, and are no difference."""


class Finding(NamedTuple):
    """One difference: its kind, the place (a sheet, a cell or "", a name or ""), and what is wrong, in words."""

    kind: str
    sheet: str
    cell: str
    name: str
    words: str

    @property
    def is_remark(self) -> bool:
        """Whether it leaves the record as it is."""
        return self.kind in REMARKS


class Told(NamedTuple):
    """What is said of a cell by its defined name: kind, name, words, and the row under the first cell of the name."""

    kind: str
    name: str
    words: str
    at: int = 0


def address(place: tuple[int, int]) -> str:
    """A cell as people write it.

    >>> address((12, 3))
    'C12'
    """
    return f"{get_column_letter(place[1])}{place[0]}"


def span(one: Box) -> str:
    """Cells as people write them.

    >>> span((2, 2, 3, 9)), span((2, 2, 2, 2))
    ('B2:C9', 'B2')
    """
    left, top, right, bottom = one
    first, last = address((top, left)), address((bottom, right))
    return first if first == last else f"{first}:{last}"


def said(value: Any, at: int = 0) -> str:
    """A value as it stands in a sentence; of a long text what is around its letter `at`.

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
    if len(text) <= LONGEST:
        return f'"{text}"'
    start = 0 if at < LONGEST - BEFORE else at - BEFORE
    end = start + LONGEST - 3
    return f'"{"..." if start else ""}{text[start:end]}{"..." if end < len(text) else ""}"'


def both_said(one: Any, other: Any) -> tuple[str, str]:
    """Two values that differ; long texts are cut so that the first letter that differs is seen.

    >>> both_said("x" * 200 + "1", "x" * 200 + "2")[0].endswith('xxx1"'), both_said(1.0, None)
    (True, ('1', 'nothing'))
    """
    texts = isinstance(one, str) and isinstance(other, str)
    at = next((at for at, (a, b) in enumerate(zip(one, other)) if a != b), 0) if texts else 0
    return said(one, at), said(other, at)


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
