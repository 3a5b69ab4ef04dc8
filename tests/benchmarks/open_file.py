"""Opening the workbook in LibreOffice, against an empty file.

    python tests/benchmarks/open_file.py            aim: a new workbook under 3 times an empty file, the start left out

The template as built and the filled example, each as people open it, with the stored values believed, and with all
formulas computed again. What bounds it is shown by the cells of the template alone, as openpyxl writes them, without
looks, messages or charts: the values of its formulas, and the formulas with the names they need. Processor time of the
office, the mean of rounds in which the files take turns, as its clock has steps of a hundredth. A person who has no
office open also waits for its start: that is the last figure, of an office that starts and opens one file.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from log_answers import spent
from openpyxl import Workbook

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Office
from workbook_template.paper.blocks import Book

ROUNDS, STARTS = 7, 5
EMPTY, TEMPLATE, EXAMPLE, VALUES, FORMULAS = "empty file", "template", "filled example", "its values", "its formulas"


def bare(book: Book, stored: store.Stored | None) -> Workbook:
    """The cells of a workbook and no more: what its formulas give, or these with the names they need."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for sheet in book.workbook:
        copy = workbook.create_sheet(sheet.title)
        for row in sheet.iter_rows():
            for cell in row:
                value: Any = cell.value
                if stored and cell.data_type == "f":
                    value = stored[sheet.title][cell.coordinate]
                if value not in (None, ""):
                    copy.cell(cell.row, cell.column, value)
    if stored is None:
        workbook.defined_names.update(book.workbook.defined_names)
    return workbook


def files(folder: Path) -> dict[str, Path]:
    """The files that are opened."""
    paths = {kind: folder / f"{kind}.xlsx" for kind in (EMPTY, TEMPLATE, EXAMPLE, VALUES, FORMULAS)}
    book = build()
    stored = store.compute(book)
    Workbook().save(paths[EMPTY])
    bare(book, stored).save(paths[VALUES])
    bare(book, None).save(paths[FORMULAS])
    paths[TEMPLATE].write_bytes(store.package(book, stored))
    example = build(threads=[standards.read(demo.THREAD)], values=demo.values())
    paths[EXAMPLE].write_bytes(store.package(example, store.compute(example)))
    return paths


def opened(paths: dict[str, Path], again: bool) -> dict[str, float]:
    """Processor seconds of each in an office that runs."""
    taken = dict.fromkeys(paths, 0.0)
    with Office() as office:
        office.open(paths[EMPTY]).close()
        for _ in range(ROUNDS):
            for kind, path in paths.items():
                before = spent()
                document = office.open(path, recalculate=again)
                taken[kind] += spent() - before
                document.close()
    return {kind: seconds / ROUNDS for kind, seconds in taken.items()}


def started(path: Path) -> float:
    """Processor seconds of an office that starts and opens one file."""
    taken = []
    for _ in range(STARTS):
        with Office() as office:
            office.open(path, recalculate=False)
            taken.append(spent())
    return min(taken)


def main() -> None:
    """Print how many times an empty file's opening each takes."""
    with tempfile.TemporaryDirectory() as folder:
        paths = files(Path(folder))
        for again, how in ((False, "stored values believed"), (True, "all computed again")):
            empty, *others = opened(paths, again).items()
            for kind, needed in others:
                ratio = f"{needed / empty[1]:.1f}  ({needed * 1000:.0f} ms and {empty[1] * 1000:.0f} ms)"
                print(f"{kind} / empty file, {how}: {ratio}")
        empty_too, template = started(paths[EMPTY]), started(paths[TEMPLATE])
        print(f"template / empty file, the office's start with each: {template / empty_too:.1f}"
              f"  ({template:.2f} s and {empty_too:.2f} s)")  # fmt: skip


if __name__ == "__main__":
    main()
