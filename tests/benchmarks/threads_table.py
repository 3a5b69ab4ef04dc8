"""Opening the workbook and changing the thread with a long Threads table, against a short one.

    python tests/benchmarks/threads_table.py     aim: under 1.5 times at 5,000 rows what it costs at 500

Times are LibreOffice's: opening with a full recalculation, and setting the thread and reading the depth back.
"""

from __future__ import annotations

import statistics
import tempfile
import time
from pathlib import Path

from sheetfuncs import standards
from workbook_template import demo, store, threads_table
from workbook_template.build import build, chosen
from workbook_template.office import Office

SHORT, LONG = 500, 5000
CHANGES = ("3/8-16 UNC-2A", "1/2-13 UNC-2A", "5/8-11 UNC-2A", "3/4-16 UNF-2A")


def cut(whole: threads_table.Listing, rows: int) -> threads_table.Listing:
    """The first so many rows, whole sizes only, all of one system as far as the lists know."""
    sizes = [size for size in whole.sizes if size[1] + size[2] - 1 <= rows]
    last = sizes[-1][1] + sizes[-1][2] - 1
    systems = [(title, first, min(count, len(sizes) - first + 1)) for title, first, count in whole.systems]
    return threads_table.Listing(whole.rows[:last], sizes, [one for one in systems if one[2] > 0])


def main() -> None:
    """Print both ratios."""
    whole = threads_table.listing([standards.read(demo.THREAD)])
    opened: dict[int, list[float]] = {SHORT: [], LONG: []}
    changed: dict[int, list[float]] = {SHORT: [], LONG: []}
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        for rows in (SHORT, LONG):
            threads_table.listing = lambda extra, rows=rows: cut(whole, rows)
            book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
            (Path(folder) / f"{rows}.xlsx").write_bytes(store.package(book))
        for _ in range(7):
            for rows in (SHORT, LONG):
                start = time.perf_counter()
                document = office.open(Path(folder) / f"{rows}.xlsx")
                opened[rows].append(time.perf_counter() - start)
                for callout in CHANGES:
                    start = time.perf_counter()
                    document.set(chosen(standards.read(callout)))
                    assert isinstance(document["pitch_max"], float)
                    changed[rows].append(time.perf_counter() - start)
                document.close()
    for what, times in (("open", opened), ("change the thread", changed)):
        short, long = (statistics.median(times[rows]) * 1000 for rows in (SHORT, LONG))
        print(f"{what}: {SHORT} rows {short:.0f} ms, {LONG} rows {long:.0f} ms: ratio {long / short:.2f}")


if __name__ == "__main__":
    main()
