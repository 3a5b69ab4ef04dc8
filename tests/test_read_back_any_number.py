"""Whatever number stands in a cell that is read back: the rows are judged, listed and certified, none fails."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from workbook_template.read_back import certificate_data, columns, readings, recompute, shipped, undone, unfilled
from workbook_template.read_back.contents import Filled
from workbook_template.read_back.job_file import log_top, open_job
from workbook_template.read_back.named import read_names

pytestmark = pytest.mark.usefixtures("short_table")

ABSURD = (1e308, -1e308, 1e-308, 0.0, -1.0, 1e16)
NAMES = dict.fromkeys(
    (
        *(*readings.SETTINGS, *columns.NAMES, *shipped.ISSUED, *certificate_data.BUILD, *certificate_data.EXTRA),
        *(f"{prefix}_{name}" for prefix, names in certificate_data.EQUIPMENT.values() for name in names),
        *(*unfilled.NAMES, *undone.SAID, *undone.PLACES),
    )
)


@pytest.fixture(scope="module")
def book(built_short: dict[str, Path]) -> Filled:
    return open_job(built_short["demo.xlsx"])


def read(book: Filled, values: dict[str, Any]) -> None:
    """All that the commands make of the values of a workbook."""
    again = recompute.recompute(values, columns.rows_of(values))
    top = log_top(book)
    for row, judged in zip(again.rows, again.judged, strict=True):
        readings.canonical(readings.record(again, row, judged, "a.xlsx", "", None, top))
    certificate_data.digest(certificate_data.data(book, values, again))
    shipped.kept(book, values)
    for one in undone.listed(book, values, again):
        assert len(one.line()) < 300, one


def test_any_number_is_read_back(book: Filled) -> None:
    values = read_names(book, NAMES)
    read(book, values)
    failed = []
    for name, value in values.items():
        for typed in ABSURD:
            changed = [typed, *value[1:]] if isinstance(value, list) and value else typed
            try:
                read(book, values | {name: changed})
            except (ArithmeticError, ValueError, TypeError) as error:
                failed.append(f"{name} = {typed:g}: {error!r}")
    assert not failed, "\n".join(failed)
    assert len(values) > 100
