"""Puts the workbook together."""

from __future__ import annotations

import os
from collections.abc import Iterable
from datetime import date, datetime, timezone

from openpyxl import Workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.styles import Font
from openpyxl.utils.cell import coordinate_to_tuple

from sheetfuncs import standards
from sheetfuncs.designations import Thread
from workbook_template.file import lathe_trains
from workbook_template.file.lathe_toml import Lathe
from workbook_template.file.tabs import TITLES, describe
from workbook_template.paper import blocks, naming, styles, write
from workbook_template.paper import threads as threads_writer
from workbook_template.paper.blocks import Book
from workbook_template.paper.openpyxl_inside import measure_by
from workbook_template.sheets import log_rows, quote
from workbook_template.sheets.layout import Made
from workbook_template.trade.typed import Inputs, Typed


def build(
    *,
    unit: str = "in",
    threads: Iterable[Thread] = (),
    values: Inputs | None = None,
    lathes: Iterable[Lathe] = (),
    rows: int = 0,
    quote_rows: int = 0,
) -> Book:
    """The whole workbook, with `threads` in its table, the first of them chosen, and `values` filled in.

    One or two `lathes` are described on the sheet Lathe, each with its chart of change gears. The log has so many
    `rows`; without a number it has the usual ones, or more where `values` say that more parts are to be made or have
    more of them. So has the quote its `quote_rows`.

    Computed values are not in it yet; `store.package` adds them.
    """
    threads = list(threads)
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    measure_by(workbook, Font(name=styles.FACE, size=11))
    rows, quantity = _log_of(rows, values or {})
    book = Book(workbook, unit, threads, built_on().isoformat(), rows)
    quote_rows, quoted = _quote_of(quote_rows, values or {})
    made = Made(unit, tuple(threads), book.built_on, rows, quote_rows, quantity, quoted, _listed(values, "log_serial"))
    described = describe(made)
    for title in TITLES:
        ws = workbook.create_sheet(title)
        if title in described:
            write.write(book, ws, described[title])
        else:
            threads_writer.build(book, ws)
    write.working(book, workbook.create_sheet(naming.WORKING), described.values())
    write.links(book, list(described))
    write.draw(book)
    blocks.refuse_unknown(book)
    blocks.switch_formats(book)
    fill(book, {**(chosen(threads[0]) if threads else {}), **lathe_trains.inputs(lathes, threads), **(values or {})})
    write.printed(book, described.values())
    write.opened(book, described.values())
    workbook.properties.title = "Thread job"
    workbook.properties.creator = "workbook_template"
    workbook.properties.created = workbook.properties.modified = datetime.combine(built_on(), datetime.min.time())
    return book


def _log_of(rows: int, values: Inputs) -> tuple[int, int]:
    """The rows of the log, and how many of them are for parts that are to be made."""
    typed = values.get("quantity")
    wanted = int(typed) if isinstance(typed, (int, float)) and 0 < typed < log_rows.MOST_ROWS else 0
    if rows:
        return rows, max(wanted, rows)
    needed = max(log_rows.ROWS, log_rows.with_spare(wanted), _listed(values, "log_serial"))
    return min(needed, log_rows.MOST_ROWS), wanted


def _quote_of(rows: int, values: Inputs) -> tuple[int, int]:
    """The rows of the quote, and how many of them are for lines that are known: all where so many are asked for."""
    known = _listed(values, "quote_part")
    return (rows, rows) if rows else (min(max(quote.ROWS, known), quote.MOST_ROWS), known)


def _listed(values: Inputs | None, name: str) -> int:
    """How many rows of a list are filled in from the beginning."""
    listed = (values or {}).get(name)
    return len(listed) if isinstance(listed, list) else 0


def built_on() -> date:
    """The date of the build: from SOURCE_DATE_EPOCH where it is set, so that a build can be repeated."""
    epoch = os.environ.get("SOURCE_DATE_EPOCH")
    return datetime.fromtimestamp(int(epoch), timezone.utc).date() if epoch else date.today()


def chosen(thread: Thread) -> Inputs:
    """The inputs of the sheet Job that choose a thread.

    >>> chosen(standards.read("5/8-11 UNC-2A-LH"))["thread_size"]
    '5/8-11 UNC'
    """
    system = standards.system(thread)
    return {
        "thread_system": system.title,
        "thread_diameter": None,
        "thread_size": system.write(thread.size),
        "thread_class": system.class_of(thread) or None,
        "hand": "left" if thread.left_hand else "right",
        "starts": thread.starts,
    }


def fill(book: Book, values: Inputs) -> None:
    """Put values into inputs. Text stays text, also where it begins with = ."""
    places = {entry.name: entry for entry in book.entries if entry.role == "input"}
    for name, value in values.items():
        entry = places[name]
        start, _, end = entry.ref.partition(":")
        (top, left), (bottom, _) = coordinate_to_tuple(start), coordinate_to_tuple(end or start)
        cells = [book.workbook[entry.sheet].cell(row, left) for row in range(top, bottom + 1)]
        for cell, one in zip(cells, value if isinstance(value, list) else [value]):
            put(cell, one)


def put(cell: Cell | MergedCell, value: Typed) -> None:
    """One value into one cell, keeping the cell's look."""
    if isinstance(cell, MergedCell):
        raise TypeError(f"{cell.coordinate} is covered by the cell that it is merged with")
    form = cell.number_format
    cell.value = value
    if isinstance(value, str) and cell.data_type != "s":
        cell.data_type = "s"
    if cell.number_format != form:  # openpyxl gives dates a format of its own
        cell.number_format = form
