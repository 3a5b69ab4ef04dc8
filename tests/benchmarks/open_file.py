"""Opening the workbook in LibreOffice, against an empty file.

    python tests/benchmarks/open_file.py

The template as built and the filled example, each as people open it, with the stored values believed, and with all
formulas computed again. Processor time of the office; the files take turns, and the least of the rounds counts.
"""

from __future__ import annotations

import tempfile
from pathlib import Path

from log_answers import spent
from openpyxl import Workbook

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Office

ROUNDS = 7


def main() -> None:
    """Print how many times an empty file's opening each takes."""
    books = {"template": build(), "filled example": build(threads=[standards.read(demo.THREAD)], values=demo.values())}
    taken: dict[tuple[str, bool], list[float]] = {}
    with tempfile.TemporaryDirectory() as folder, Office() as office:
        paths = {kind: Path(folder) / f"{kind}.xlsx" for kind in ("empty file", *books)}
        Workbook().save(paths["empty file"])
        for kind, book in books.items():
            paths[kind].write_bytes(store.package(book, store.compute(book)))
        office.open(paths["empty file"]).close()
        for _ in range(ROUNDS):
            for kind, path in paths.items():
                for again in (False, True):
                    before = spent()
                    document = office.open(path, recalculate=again)
                    taken.setdefault((kind, again), []).append(spent() - before)
                    document.close()
    for again, how in ((False, "stored values believed"), (True, "all computed again")):
        empty, *others = (min(taken[kind, again]) * 1000 for kind in paths)
        for kind, needed in zip(books, others):
            print(f"{kind} / empty file, {how}: {needed / empty:.1f}  ({needed:.0f} ms and {empty:.0f} ms)")


if __name__ == "__main__":
    main()
