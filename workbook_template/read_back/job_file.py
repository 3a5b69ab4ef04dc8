"""The one way to open a filled workbook, for all commands: what one of them refuses, all refuse."""

from __future__ import annotations

from pathlib import Path

from workbook_template.read_back import columns
from workbook_template.read_back.contents import Filled, open_book, read_sheet
from workbook_template.read_back.opening import Unreadable
from workbook_template.sheets import log

NEEDED = ("callout", "unit", "log_reading", "class_list")
"""Names without which a workbook is none of these."""


def open_job(path: str | Path, *, sheets: bool = True) -> Filled:
    """Open a workbook of a threading job; Unreadable, with one sentence, where it can't be or is something else.

    Every part is read once, so that nothing hides in one that a command has no use for; without `sheets` not those of
    the sheets, for a command that reads all of them itself.
    """
    book = open_book(path)
    missing = [name for name in NEEDED if name not in book.names]
    if missing:
        raise Unreadable(f"{book.package.path} is no workbook of a threading job: it has no cells named {missing[0]}")
    for name, former in columns.FORMER.items():
        if name not in book.names and former in book.names:
            book.names[name] = book.names.pop(former)
    _refuse_other_log(book)
    book.package.read_all(leave=frozenset(book.sheets.values()))
    for title in book.sheets if sheets else ():
        read_sheet(book, title, formulas=False, columns=())
    return book


def _refuse_other_log(book: Filled) -> None:
    """A log whose names lead elsewhere, or column by column to other rows: what is read would not be what is seen."""
    places = [book.names[name] for name in columns.BY_ROW if name in book.names]
    own = log.SHEET if log.SHEET in book.sheets else places[0].sheet
    others = {place.sheet for place in places} - {own}
    if others:
        other = sorted(others)[0]
        raise Unreadable(f"{book.package.path} names cells of the sheet {other} as its log; it was not read on")
    rows = {(place.box[1], place.box[3]) for place in places}
    if len(rows) > 1:
        raise Unreadable(f"{book.package.path} has a log whose named columns do not begin and end in the same rows")


def log_top(book: Filled) -> int:
    """The first row of the log on its sheet."""
    return book.names["log_reading"].box[1]
