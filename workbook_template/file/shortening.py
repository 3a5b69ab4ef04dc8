"""What keeps the file small: a formula that a column repeats is stored once.

Not where it gives an empty text: of such a cell LibreOffice (7.4, measured) forgets what is stored and takes it for
changed already, so that the first edit does not reach what depends on it, and that keeps its old value. Hidden cells of
many alike give `notation.NO_NUMBER` or `log_rows.NOTHING` in its place.
"""

from __future__ import annotations

from collections.abc import Container, Mapping
from typing import Any, NamedTuple

from workbook_template.figures.parse import Column, column_of

Place = tuple[int, int]
"""Row and column."""


class Shared(NamedTuple):
    """A formula that is stored once: its number; at the first of its cells, how many rows it goes down."""

    number: int
    rows: int = 0


class _Run(NamedTuple):
    """Formulas of a column that go on as the first does."""

    formula: Column
    rows: list[int]


def shared_formulas(cells: Mapping[Place, Any], empty: Container[Place] = ()) -> dict[Place, Shared]:
    """The cells of a sheet whose formula goes on below or comes from above, but for those that give an `empty` text."""
    runs: list[tuple[int, _Run]] = []
    last: dict[int, _Run] = {}
    for (row, column), cell in sorted(cells.items()):
        if cell.data_type != "f" or not isinstance(cell.value, str) or (row, column) in empty:
            continue
        run, text = last.get(column), cell.value[1:]
        if run and run.formula.shareable and run.rows[-1] == row - 1 and run.formula.text(row) == text:
            run.rows.append(row)
            continue
        last[column] = _Run(column_of(text, row), [row])
        runs.append((column, last[column]))
    found = {}
    for number, (column, run) in enumerate(one for one in runs if len(one[1].rows) > 1):
        found[run.rows[0], column] = Shared(number, len(run.rows))
        found.update({(row, column): Shared(number) for row in run.rows[1:]})
    return found
