"""The workbook as it was before anybody filled it in: built again in memory, with the special threads of the file."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from typing import NamedTuple

from sheetfuncs import CellError, standards
from workbook_template.file.build import build
from workbook_template.read_back.as_data import data_of, template_from
from workbook_template.read_back.built import Template
from workbook_template.read_back.contents import Filled, FilledSheet
from workbook_template.read_back.kept import kept
from workbook_template.read_back.named import MOST_NAMED, values_of
from workbook_template.read_back.read_off import template_of
from workbook_template.sheets import log_rows, quote, thread_listing


@lru_cache(maxsize=1)
def standard_rows() -> frozenset[tuple[str, str]]:
    """Size and class of the rows that every workbook's table holds."""
    return kept("rows", _rows, sorted, lambda found: frozenset((size, name) for size, name in found))


def _rows() -> frozenset[tuple[str, str]]:
    return frozenset((row.size, row.name) for row in thread_listing.listing().rows)


def special_threads(book: Filled, threads: FilledSheet) -> tuple[tuple[str, ...], list[str]]:
    """Callouts of the file's table beside the standard ones, and those rows of it that are no thread."""
    listed, size, name = (book.names.get(one) for one in ("class_list", "row_size", "row_class"))
    if listed is None or size is None or name is None:
        return (), []
    good: list[str] = []
    bad: list[str] = []
    for row in range(listed.box[1], min(listed.box[3], listed.box[1] + MOST_NAMED) + 1):
        cells = (threads.cells.get((row, place.box[0])) for place in (size, name))
        pair = tuple(str(cell.value) if cell and cell.value is not None else "" for cell in cells)
        if pair not in standard_rows():
            callout = _callout(*pair)
            (good if callout else bad).append(callout or " ".join(pair))
    return tuple(good), bad


def _callout(size: str, name: str) -> str:
    """The callout of a row of the table; empty where it is no thread."""
    for system in standards.SYSTEMS.values():
        try:
            thread = system.read(system.with_class(size, name))
            if thread is not None and thread.system == system.key and system.write(thread.size) == size:
                standards.limits(thread)
                return system.write(thread)
        except CellError:
            continue
    return ""


class Lengths(NamedTuple):
    """How many rows the log and the quote of a workbook were built with; 0 for the usual ones."""

    log: int = 0
    quote: int = 0


USUAL = Lengths()


@lru_cache(maxsize=2)
def template(unit: str, special: tuple[str, ...], lengths: Lengths = USUAL) -> Template:
    """The empty workbook of that working unit with those special threads and lists of those lengths."""
    about = "template", unit, special, lengths
    return kept(about, lambda: _built(unit, special, lengths), data_of, template_from)


def _built(unit: str, special: tuple[str, ...], lengths: Lengths) -> Template:
    threads = [standards.read(text) for text in special]
    return template_of(build(unit=unit, threads=threads, rows=lengths.log, quote_rows=lengths.quote))


def lengths_of(book: Filled, sheets: Mapping[str, FilledSheet]) -> Lengths:
    """How long the lists of a file were built; the usual length where the file says what can't be.

    Both are read on the sheet of working figures, which a row that was deleted from a list, or inserted, leaves alone.
    """
    values, said = book.names.get("certificate_value"), book.names.get("quote_rows")
    log = 0 if values is None else values.box[3] - values.box[1] + 1
    value = None if said is None else values_of({"quote_rows": said}, sheets).get("quote_rows")
    lines = int(value) if isinstance(value, float) and value.is_integer() else 0
    return Lengths(
        log if log_rows.FEWEST <= log <= log_rows.MOST_ROWS else 0,
        lines if quote.FEWEST <= lines <= quote.MOST_ROWS else 0,
    )
