"""What one entry in the log costs LibreOffice: a part's number, a reading, a correction and others; log empty and full.

    python tests/benchmarks/log_answers.py [ROWS]        2000 rows where nothing else is said

Some entries are typed one after the other inside the office, by one request, and after each all that depends on it is
computed; so neither the way there nor the reading of results counts. The processor time of each is the office's own,
the median counts, and what the same entry takes in a cell that nearly nothing depends on is taken off. The baseline is
a full recalculation. The full log has a row for each part and 50 rows at its end that correct one each, all over it;
its parts are logged in order, or in any order, where each must be looked for among all above it.
Aim: a part's number under a tenth of a second at 2,000 rows with 50 corrections.
"""

from __future__ import annotations

import os
import random
import statistics
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from openpyxl.utils import get_column_letter

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Document, Office
from workbook_template.paper.blocks import Book

EDITS, RECALCULATIONS, CORRECTIONS = 50, 10, 50
ALONE = "expansion_source"
"""Only a sentence says it again."""
ENTRIES = {
    "a part's number": ("log_serial", "x{}"),
    "a reading": ("log_reading", "0.76{:02}"),
    "the other diameter": ("log_crest", "0.74{:02}"),
    "wires": ("log_wires", "W-{}"),
    "a correction": ("log_why", "read again {}"),
}


def spent() -> float:
    """Processor seconds of the office that this process has started."""
    found: dict[int, tuple[int, str, int]] = {}
    for one in Path("/proc").glob("[0-9]*/stat"):
        try:
            name, _, rest = one.read_text().partition(") ")
        except OSError:
            continue
        fields = rest.split()
        found[int(one.parent.name)] = int(fields[1]), name, int(fields[11]) + int(fields[12])
    ticks = 0
    for above, name, taken in list(found.values()):
        while above > 1 and above != os.getpid():
            above = found[above][0] if above in found else 0
        ticks += taken if above and above == os.getpid() and "soffice" in name else 0
    return ticks / os.sysconf("SC_CLK_TCK")


def milliseconds(document: Document, key: str, text: str) -> float:
    """Median processor milliseconds of an entry with all that it changes; the cell gets back what it had."""
    was = document[key]
    taken = document.edits((key, text.format(number)) for number in range(EDITS))
    document.set({key: was})
    return statistics.median(taken) * 1000


def recalculation(document: Document) -> float:
    """Processor milliseconds of a full recalculation."""
    document.recalculate()
    before = spent()
    for _ in range(RECALCULATIONS):
        document.recalculate()
    return (spent() - before) / RECALCULATIONS * 1000


def measure(document: Document, book: Book, rows: tuple[int, ...]) -> Iterator[tuple[str, int, float]]:
    """Each entry, the row of the log it is typed in, counted from 1, and its milliseconds."""
    places = {one.name: one for one in book.entries}
    nothing = milliseconds(document, ALONE, "source {}")
    for what, (name, text) in ENTRIES.items():
        for row in rows:
            spot = places[name].spot
            cell = f"{places[name].sheet}!{get_column_letter(spot.left)}{spot.top + row - 1}"
            yield what, row, milliseconds(document, cell, text) - nothing


def filled(rows: int, *, in_order: bool) -> dict[str, list[Any]]:
    """A full log; the last rows correct earlier ones all over it."""
    parts = [f"S-{number:04}" for number in range(1, rows - CORRECTIONS + 1)]
    corrected = parts[:: len(parts) // CORRECTIONS][:CORRECTIONS]
    if not in_order:
        random.Random(1).shuffle(parts)
    return {
        "log_serial": [*parts, *corrected],
        "log_reading": [0.7590 + at % 20 / 10000 for at in range(rows)],
        "log_why": [*(None for _ in parts), *("read again" for _ in corrected)],
    }


def main() -> None:
    """Print the figures of each log."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    empty = {name: [None] for name in demo.values() if name.startswith("log_") and "once" not in name}
    logs: dict[str, dict[str, list[Any]]] = {
        "empty": {},
        f"full, in order, {CORRECTIONS} corrections": filled(rows, in_order=True),
        f"full, in any order, {CORRECTIONS} corrections": filled(rows, in_order=False),
    }
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        for kind, values in logs.items():
            book = build(threads=[standards.read(demo.THREAD)], values=demo.values() | empty | values, rows=rows)
            path = Path(folder) / "log.xlsx"
            content = store.package(book)
            path.write_bytes(content)
            before = spent()
            with office.open(path) as document:
                print(f"{rows} rows, {kind}: {len(content) / 1e6:.2f} MB, opened in {spent() - before:.1f} s")
                whole = recalculation(document)
                print(f"  {'all of it':19} {'':9} {whole:6.0f} ms")
                for what, row, taken in measure(document, book, (1, rows // 2, rows)):
                    print(f"  {what:19} row {row:5} {taken:6.0f} ms  {taken / whole:.2f} of a full recalculation")


if __name__ == "__main__":
    main()
