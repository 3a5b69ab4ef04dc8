"""Building the workbook against writing the same cells with bare openpyxl.

    python tests/benchmarks/build_workbook.py            aim: under 1.5

The baseline writes every value and formula of the finished workbook, nothing else, and saves: no looks, names, messages
or protection, and no thread worked out. The step that stores computed values is timed apart.
"""

from __future__ import annotations

import io
import time

from openpyxl import Workbook

from workbook_template.file import store
from workbook_template.file.build import build

ROUNDS = 5


def ours() -> bytes:
    """The whole template as file content."""
    return store.package(build())


def bare(sheets: dict[str, list[list]]) -> bytes:
    """The same cells and nothing else."""
    workbook = Workbook()
    workbook.remove(workbook.active)
    for title, rows in sheets.items():
        sheet = workbook.create_sheet(title)
        for row in rows:
            sheet.append(row)
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def timed(work, *arguments) -> float:
    """Seconds that one call takes."""
    start = time.perf_counter()
    work(*arguments)
    return time.perf_counter() - start


def main() -> None:
    """Print the ratio of the best of some rounds, taken in turn."""
    book = build()
    sheets = {sheet.title: [list(row) for row in sheet.iter_rows(values_only=True)] for sheet in book.workbook}
    cells = sum(value is not None for rows in sheets.values() for row in rows for value in row)
    pairs = [(timed(ours), timed(bare, sheets)) for _ in range(ROUNDS)]
    mine, base = (min(column) for column in zip(*pairs))
    print(f"{cells} cells: template {mine:.2f} s, bare openpyxl {base:.2f} s")
    print(f"ratio {mine / base:.2f} (aim under 1.5)")
    seconds = timed(lambda: store.package(book, store.compute(book)))
    print(f"computing and storing the values: {seconds:.2f} s")


if __name__ == "__main__":
    main()
