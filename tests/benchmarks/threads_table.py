"""Opening the workbook, changing the thread, computing all again, with a long Threads table against a short one.

    python tests/benchmarks/threads_table.py     aim: under 1.5 times at 4,500 rows what it costs at 500

Times are LibreOffice's: opening with a full recalculation, setting the thread and reading a limit back, and a full
recalculation of the open workbook; the first and last in processor time. Long and short take turns, and the least of
the repeats counts, as other work of the machine can only add to it.
"""

from __future__ import annotations

import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from log_answers import spent
from whole_books import few_threads

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build, chosen
from workbook_template.office import Office
from workbook_template.sheets import threads_table

SHORT, LONG = 18, 2
"""Each so many-th thread is in the table."""
REPEATS = 7
CHANGES = ("3/8-16 UNC-2A", "1/2-13 UNC-2A", "5/8-11 UNC-2A", "3/4-16 UNF-2A")


def main() -> None:
    """Print both ratios."""
    counts: dict[int, int] = {}
    opened: dict[int, list[float]] = {SHORT: [], LONG: []}
    changed: dict[int, list[float]] = {SHORT: [], LONG: []}
    computed: dict[int, list[float]] = {SHORT: [], LONG: []}
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        for step in (SHORT, LONG):
            with few_threads(step, *CHANGES):
                book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
            counts[step] = book.workbook[threads_table.SHEET].max_row - threads_table.HEAD
            (Path(folder) / f"{step}.xlsx").write_bytes(store.package(book))
        for _ in range(REPEATS):
            for step in (SHORT, LONG):
                before = spent()
                document = office.open(Path(folder) / f"{step}.xlsx")
                opened[step].append(spent() - before)
                for callout in CHANGES:
                    start = time.perf_counter()
                    typed = chosen(standards.read(callout)).items()
                    document.set({name: one for name, one in typed if isinstance(one, (str, float, int))})
                    assert isinstance(document["pitch_diameter_max"], float)
                    changed[step].append(time.perf_counter() - start)
                before = spent()
                document.recalculate()
                computed[step].append(spent() - before)
                document.close()
    for what, times in (("open", opened), ("change the thread", changed), ("compute all again", computed)):
        short, long = (min(times[step]) * 1000 for step in (SHORT, LONG))
        told = f"{counts[SHORT]:,} rows {short:.1f} ms, {counts[LONG]:,} rows {long:.1f} ms"
        print(f"{what}: {told}: ratio {long / short:.2f}")


if __name__ == "__main__":
    main()
