"""What one entry in the log costs LibreOffice: a part's number, a reading, a correction; log empty and full.

python tests/benchmarks/log_answers.py [ROWS]        2000 rows where nothing else is said

Processor time of the office, as it is typed: only what depends on the cell is computed, and all of that, as the results
are read after each entry; what reading alone takes is taken off. The baseline is a full recalculation, read alike.
Aim: a part's number under a tenth of a second at 2,000 rows with 50 corrections.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

from openpyxl.utils import range_boundaries

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Document, Office
from workbook_template.paper.blocks import Book

ROUNDS, CORRECTIONS = 5, 50


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


def median(document: Document, names: list[str], action: Callable[[int], Any]) -> float:
    """Median processor milliseconds of an action, which gets the number of the round, with all that it changes."""
    taken = []
    for number in range(ROUNDS):
        before = spent()
        action(number)
        document.get(names)
        taken.append(spent() - before)
    return statistics.median(taken) * 1000


def measure(document: Document, book: Book, row: int) -> dict[str, float]:
    """Milliseconds of each entry, in a row counted from 1."""

    def cell(name: str) -> str:
        entry = next(one for one in book.entries if one.name == f"log_{name}")
        left, top, *_ = range_boundaries(entry.ref)
        return f"{entry.sheet}!{chr(64 + left)}{top + row - 1}"

    names = [one.name for one in book.entries if one.role != "input" and one.sheet in ("Log", "Working", "Certificate")]
    actions: dict[str, Callable[[int], Any]] = {
        "reading alone": lambda number: None,
        "a part's number": lambda number: document.edit(cell("serial"), f"x{number}"),
        "a reading": lambda number: document.edit(cell("reading"), f"0.76{number:02}"),
        "a correction": lambda number: document.edit(cell("why"), f"read again {number}"),
        "all of it": lambda number: document.recalculate(),
    }
    document.get(names)
    found = {what: median(document, names, action) for what, action in actions.items()}
    alone = found["reading alone"]
    return {what: taken - alone for what, taken in found.items()} | {"reading alone": alone}


def main() -> None:
    """Print the figures of both logs."""
    rows = int(sys.argv[1]) if len(sys.argv) > 1 else 2000
    full = {
        "log_serial": [str(at) if at < rows - 60 else str(at - 60) for at in range(rows - 1)],
        "log_reading": [0.7590 + at % 20 / 10000 for at in range(rows - 1)],
        "log_why": [None if at < rows - CORRECTIONS - 1 else "read again" for at in range(rows - 1)],
    }
    empty = {name: [None] for name in demo.values() if name.startswith("log_") and "once" not in name}
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        for kind, values in (("empty", empty), (f"full, {CORRECTIONS} corrections", empty | full)):
            book = build(threads=[standards.read(demo.THREAD)], values=demo.values() | values, rows=rows)
            path = Path(folder) / "log.xlsx"
            content = store.package(book)
            path.write_bytes(content)
            before = spent()
            with office.open(path) as document:
                opened = spent() - before
                found = measure(document, book, 1 if kind == "empty" else rows)
            whole = found["all of it"]
            print(f"{rows} rows, {kind}: {len(content) / 1e6:.2f} MB, opened in {opened:.1f} s")
            for what, taken in found.items():
                print(f"  {what:16} {taken:6.0f} ms  {taken / whole:.2f} of a full recalculation")


if __name__ == "__main__":
    main()
