"""A quote of 1,000 lines against the same lines left empty, in LibreOffice.

    python tests/benchmarks/quote.py     prints what filling in costs to open, and one change of the rate

The baseline is the empty sheet with the same formulas: the ratio is what the lines themselves add.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Office
from workbook_template.sheets.quote import MOST_ROWS as ROWS
from workbook_template.sheets.quote_inputs import INPUTS
from workbook_template.trade.typed import Inputs, Typed

LINE: tuple[Typed, ...] = ("part", "3/4-16 UNF", "2A", 25, 1.25, 12, 160, "no", 10, 45, 0.65, 12)


def main() -> None:
    """Print both ratios."""
    opened: dict[str, list[float]] = {"empty": [], "full": []}
    changed: dict[str, list[float]] = {"empty": [], "full": []}
    lines: Inputs = {f"quote_{name}": [value] * ROWS for (name, *_), value in zip(INPUTS, LINE)}
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        for kind, more in (("empty", dict.fromkeys(lines)), ("full", lines)):
            book = build(threads=[standards.read(demo.THREAD)], values=demo.values() | more, quote_rows=ROWS)
            (Path(folder) / f"{kind}.xlsx").write_bytes(store.package(book))
        for _ in range(5):
            for kind in opened:
                start = time.perf_counter()
                document = office.open(Path(folder) / f"{kind}.xlsx")
                opened[kind].append(time.perf_counter() - start)
                start = time.perf_counter()
                document.set({"estimate_rate": 61})
                assert document["quote_lines"] == (ROWS if kind == "full" else 0)
                changed[kind].append(time.perf_counter() - start)
                document.close()
    for what, times in (("open", opened), ("change the rate", changed)):
        empty, full = (statistics.median(times[kind]) * 1000 for kind in ("empty", "full"))
        print(f"{what}: empty {empty:.0f} ms, {ROWS} lines {full:.0f} ms: ratio {full / empty:.2f}")


if __name__ == "__main__":
    main()
