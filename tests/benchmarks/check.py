"""Checking filled workbooks against reading all of their cells with openpyxl.

    python tests/benchmarks/check.py            aim: under 0.4 for each but the first

The baseline loads the filled example whole, with its looks, and does nothing with it. Ours reads it, compares every
cell with what was built and every stored value with what comes out again. The first of a run also reads the template
that an earlier run has kept, and makes its formulas ready; the very first builds the template.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from unittest import mock

import openpyxl

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back import kept, stored, template
from workbook_template.read_back.check import check

ROUNDS = 3


def seconds(work: Callable[[Path], object], path: Path) -> float:
    """Processor time of one call."""
    start = time.process_time()
    work(path)
    return time.process_time() - start


def first(path: Path) -> float:
    """The same of the first of a run."""
    for one in (template.standard_rows, template.template, stored._ready):
        one.cache_clear()
    return seconds(check, path)


def main() -> None:
    """Print the ratios."""
    book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.xlsx"
        path.write_bytes(store.package(book, store.compute(book)))
        del book
        base = min(seconds(openpyxl.load_workbook, path) for _ in range(ROUNDS))
        with mock.patch.object(kept, "folder", return_value=Path(folder) / "kept"):
            very_first = first(path)
            of_a_run, each = (
                min(column) for column in zip(*((first(path), seconds(check, path)) for _ in range(ROUNDS)))
            )
    print(f"check {each:.2f} s, the first of a run {of_a_run:.2f} s, the very first {very_first:.2f} s")
    print(f"openpyxl alone {base:.2f} s")
    print(f"ratio {each / base:.2f} (aim under 0.4), {of_a_run / base:.2f}, {very_first / base:.2f}")


if __name__ == "__main__":
    main()
