"""What keeps the file small: a formula that a column repeats is stored once."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from workbook_template.figures.parse import Column

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


def shared_formulas(cells: Mapping[Place, Any]) -> dict[Place, Shared]:
    """The cells of a sheet whose formula goes on below or comes from above."""
    runs: list[tuple[int, _Run]] = []
    last: dict[int, _Run] = {}
    for (row, column), cell in sorted(cells.items()):
        if cell.data_type != "f" or not isinstance(cell.value, str):
            continue
        run, text = last.get(column), cell.value[1:]
        if run and run.formula.shareable and run.rows[-1] == row - 1 and run.formula.text(row) == text:
            run.rows.append(row)
            continue
        last[column] = _Run(Column.of(text, row), [row])
        runs.append((column, last[column]))
    found = {}
    for number, (column, run) in enumerate(one for one in runs if len(one[1].rows) > 1):
        found[run.rows[0], column] = Shared(number, len(run.rows))
        found.update({(row, column): Shared(number) for row in run.rows[1:]})
    return found
