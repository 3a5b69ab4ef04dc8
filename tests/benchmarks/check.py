"""Checking filled workbooks against reading all of their cells with openpyxl.

    python tests/benchmarks/check.py            aim: under 1 for each but the first

The baseline loads the filled example whole, with its looks, and does nothing with it. Ours reads it, compares every
cell with what was built and every stored value with what comes out again. The first of a run also builds the template.
"""

from __future__ import annotations

import tempfile
import time
from pathlib import Path

import openpyxl

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back.check import check

ROUNDS = 3


def seconds(work, path: Path) -> float:
    """Processor time of one call."""
    start = time.process_time()
    work(path)
    return time.process_time() - start


def main() -> None:
    """Print both ratios."""
    book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "demo.xlsx"
        path.write_bytes(store.package(book, store.compute(book)))
        del book
        first = seconds(check, path)
        pairs = [(seconds(check, path), seconds(openpyxl.load_workbook, path)) for _ in range(ROUNDS)]
    each, base = (min(column) for column in zip(*pairs))
    print(f"check {each:.2f} s, the first {first:.2f} s; openpyxl alone {base:.2f} s")
    print(f"ratio {each / base:.2f} (aim under 1), of the first {first / base:.2f}")


if __name__ == "__main__":
    main()
