"""The rows of a filled workbook's log, by the names of its columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from workbook_template.read_back.contents import Filled
from workbook_template.read_back.named import read_names

READINGS = ("reading", "reading_1b", "reading_2a", "reading_2b", "reading_3a", "reading_3b")
"""Over wires: two of each station."""

INPUTS = (
    "serial", *READINGS, "direct", "crest", "ring", "gauge", "instrument", "wires", "temperature", "who", "when", "why",
    "gauge_turns", "place", "place_2", "place_3",
)  # fmt: skip
"""Columns that people fill in, each with its name less `log_`; one that a workbook lacks is empty."""

ONCE = {name: f"log_once_{name}" for name in ("instrument", "who", "when", "place")}
"""What is typed once at the top of the log, by the column that may leave it empty."""

FILLED = (*READINGS, "direct", "crest", "ring", "gauge_turns", "why")
"""Sizes and gauges, and a correction: where none of them is filled in a row, nothing was measured."""

RESULTS = (
    "pitch_diameter", "taper", "out_of_round", "pitch_diameter_result", "crest_result", "ring_result", "worst", "words",
)  # fmt: skip
"""Columns that the sheet computes."""

FORMER = {"log_pitch_diameter": "log_pitch", "log_pitch_diameter_result": "log_pitch_result"}
"""Names of columns that are called otherwise in workbooks built before: their logs are read as well."""


class Row(NamedTuple):
    """One row of the log: its number counted from 1, its inputs with what was typed once for all rows, what the sheet
    has stored as results, and what was typed in the row alone.
    """

    number: int
    inputs: dict[str, Any]
    stored: dict[str, Any]
    typed: dict[str, Any]


BY_ROW = tuple(f"log_{name}" for name in (*INPUTS, *RESULTS))
"""The defined names of all these columns."""

NAMES = (*BY_ROW, *ONCE.values())
"""These and the names of what is typed once."""


def row(number: int, typed: dict[str, Any], stored: dict[str, Any], values: Mapping[str, Any]) -> Row:
    """A row with what was typed once, out of values by defined name, where it was measured and has none of its own.

    >>> row(1, {"serial": "7", "reading": 0.76}, {}, {"log_once_who": "turner"}).inputs["who"]
    'turner'
    >>> row(1, {"serial": "7"}, {}, {"log_once_who": "turner"}).inputs
    {'serial': '7'}
    """
    used = dict(typed)
    if any(typed.get(name) is not None for name in FILLED):
        for name, once in ONCE.items():
            if typed.get(name) in (None, "") and values.get(once) not in (None, ""):
                used[name] = values[once]
    return Row(number, used, stored, typed)


def _at(cells: list[Any], at: int) -> Any:
    """A cell of a column, whose blank end is left out."""
    return cells[at] if at < len(cells) else None


def rows(book: Filled) -> list[Row]:
    """The rows in which anything is typed."""
    return rows_of(read_names(book, NAMES))


def rows_of(values: Mapping[str, Any]) -> list[Row]:
    """The rows in use, out of values by defined name."""
    table = {name.removeprefix("log_"): found for name, found in values.items() if isinstance(found, list)}
    typed = {name: table.get(name, []) for name in INPUTS}
    count = max((len(values) for values in typed.values()), default=0)
    found = []
    for at in range(count):
        inputs = {name: cells[at] for name, cells in typed.items() if at < len(cells) and cells[at] is not None}
        if inputs:
            stored = {name: _at(table[name], at) for name in RESULTS if name in table}
            found.append(row(at + 1, inputs, stored, values))
    return found
