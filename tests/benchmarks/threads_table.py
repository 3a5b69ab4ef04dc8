"""Opening the workbook, changing the thread, computing all again, with a long Threads table against a short one.

    python tests/benchmarks/threads_table.py     aim: under 1.5 times at 5,000 rows what it costs at 500

Times are LibreOffice's: opening with a full recalculation, setting the thread and reading a limit back, and a full
recalculation of the open workbook; the first and last in processor time. Long and short take turns, and the least of
the repeats counts, as other work of the machine can only add to it.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path
from unittest import mock

from log_answers import spent

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build, chosen
from workbook_template.office import Office
from workbook_template.paper import threads
from workbook_template.sheets import thread_listing, threads_table

sys.path.insert(0, str(Path(__file__).parent.parent))

import few_threads

SHORT, LONG = 500, 5000
REPEATS = 7
CHANGES = ("3/8-16 UNC-2A", "1/2-13 UNC-2A", "5/8-11 UNC-2A", "3/4-16 UNF-2A")


def main() -> None:
    """Print both ratios."""
    whole = thread_listing.listing([standards.read(demo.THREAD)])
    opened: dict[int, list[float]] = {SHORT: [], LONG: []}
    changed: dict[int, list[float]] = {SHORT: [], LONG: []}
    computed: dict[int, list[float]] = {SHORT: [], LONG: []}
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        for rows in (SHORT, LONG):
            with mock.patch.object(threads, "listing", return_value=few_threads.cut(whole, rows)):
                book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
            assert 0 <= rows - (book.workbook["Threads"].max_row - threads_table.HEAD) < 100, "the table was not cut"
            (Path(folder) / f"{rows}.xlsx").write_bytes(store.package(book))
        for _ in range(REPEATS):
            for rows in (SHORT, LONG):
                before = spent()
                document = office.open(Path(folder) / f"{rows}.xlsx")
                opened[rows].append(spent() - before)
                for callout in CHANGES:
                    start = time.perf_counter()
                    typed = chosen(standards.read(callout)).items()
                    document.set({name: one for name, one in typed if isinstance(one, (str, float, int))})
                    assert isinstance(document["pitch_diameter_max"], float)
                    changed[rows].append(time.perf_counter() - start)
                before = spent()
                document.recalculate()
                computed[rows].append(spent() - before)
                document.close()
    for what, times in (("open", opened), ("change the thread", changed), ("compute all again", computed)):
        short, long = (min(times[rows]) * 1000 for rows in (SHORT, LONG))
        print(f"{what}: {SHORT} rows {short:.1f} ms, {LONG} rows {long:.1f} ms: ratio {long / short:.2f}")


if __name__ == "__main__":
    main()
