"""Building the finished workbook against writing the same cells with bare openpyxl.

    python tests/benchmarks/build_workbook.py            aims: under 2, the file under 1

Ours is everything of a finished file: threads worked out, sheets described and written, every formula computed, the
values stored. The baseline writes every value and formula of that workbook and saves, packed as well as ours: no looks,
names, messages, protection or charts, no thread worked out, and no value of a formula.
"""

from __future__ import annotations

import io
import time
from collections.abc import Callable
from typing import Any

from openpyxl import Workbook

from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.sheets import thread_listing

ROUNDS = 3


def ours() -> bytes:
    """The whole template as file content, as if it were the first that is built."""
    thread_listing._figures.cache_clear()
    book = build()
    return store.package(book, store.compute(book))


def bare(sheets: dict[str, list[list[Any]]]) -> bytes:
    """The same cells and nothing else."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for title, rows in sheets.items():
        sheet = workbook.create_sheet(title)
        for row in rows:
            sheet.append(row)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def timed(work: Callable[..., bytes], *arguments: Any) -> tuple[float, int]:
    """Processor time of one call in seconds, and the size of what it gives."""
    start = time.process_time()
    content = work(*arguments)
    return time.process_time() - start, len(content)


def main() -> None:
    """Print the ratio of the best of some rounds, taken in turn."""
    book = build()
    sheets = {sheet.title: [list(row) for row in sheet.iter_rows(values_only=True)] for sheet in book.workbook}
    cells = sum(value is not None for rows in sheets.values() for row in rows for value in row)
    pairs = [(timed(ours), timed(bare, sheets)) for _ in range(ROUNDS)]
    (mine, size), (base, base_size) = (min(column) for column in zip(*pairs))
    print(f"{cells} cells: template {mine:.2f} s, bare openpyxl {base:.2f} s: ratio {mine / base:.2f} (aim under 2)")
    sizes = f"{size / 1e6:.2f} MB with values, {base_size / 1e6:.2f} MB without"
    print(f"{sizes}: ratio {size / base_size:.2f} (aim under 1)")


if __name__ == "__main__":
    main()
