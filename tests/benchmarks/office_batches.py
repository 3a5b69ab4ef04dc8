"""Two thousand cells of a running office written and read in one call each, against one call a cell.

python tests/benchmarks/office_batches.py            aim: 10 times faster
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path

from openpyxl import Workbook

from workbook_template.office import Document, Office

ROWS, ROUNDS, BASELINE_CELLS = 200, 5, 200
KEYS = [("Sheet", f"{column}{row}") for column in "ABCDEFGHIJ" for row in range(1, ROWS + 1)]


def seconds(document: Document, batches: list[list[tuple[str, str]]]) -> float:
    """Median time to write and read batches of cells."""
    times = []
    for _ in range(ROUNDS):
        start = time.perf_counter()
        for keys in batches:
            document.set({key: float(at) for at, key in enumerate(keys)})
            document.get(keys)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def main() -> None:
    """Print both times and their ratio."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.xlsx"
        Workbook().save(path)
        with Office() as office, office.open(path) as document:
            together = seconds(document, [KEYS])
            apart = seconds(document, [[key] for key in KEYS[:BASELINE_CELLS]]) * len(KEYS) / BASELINE_CELLS
    print(
        f"{len(KEYS)} cells in one call {together:.2f} s, one call a cell {apart:.2f} s: {apart / together:.0f} times"
    )


if __name__ == "__main__":
    main()
