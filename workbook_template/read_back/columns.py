"""The rows of a filled workbook's log, by the names of its columns."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from workbook_template.read_back.contents import Filled, read_names

INPUTS = (
    "serial", "reading", "reading_1b", "reading_2a", "reading_2b", "reading_3a", "reading_3b", "direct", "crest",
    "ring", "gauge", "instrument", "wires", "temperature", "who", "when", "why",
)  # fmt: skip
"""Columns that people fill in, each with its name less `log_`; one that a workbook lacks is empty."""

RESULTS = ("pitch", "taper", "out_of_round", "pitch_result", "crest_result", "ring_result", "words")
"""Columns that the sheet computes."""


class Row(NamedTuple):
    """One row of the log: its number counted from 1, what was typed, and what the sheet has stored as results."""

    number: int
    inputs: dict[str, Any]
    stored: dict[str, Any]


NAMES = tuple(f"log_{name}" for name in (*INPUTS, *RESULTS))
"""The defined names of all these columns."""


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
        inputs = {name: values[at] for name, values in typed.items() if at < len(values) and values[at] is not None}
        if inputs:
            stored = {name: table[name][at] for name in RESULTS if at < len(table.get(name, ()))}
            found.append(Row(at + 1, inputs, stored))
    return found
