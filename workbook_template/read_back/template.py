"""The workbook as it was before anybody filled it in: built again in memory, with the special threads of the file."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from functools import lru_cache
from typing import NamedTuple

from sheetfuncs import CellError, standards
from workbook_template.file.build import build
from workbook_template.paper.styles import FORMATS
from workbook_template.read_back.as_data import data_of, template_from
from workbook_template.read_back.built import Template
from workbook_template.read_back.contents import Filled, FilledSheet
from workbook_template.read_back.kept import kept
from workbook_template.read_back.named import MOST_NAMED, values_of
from workbook_template.read_back.read_off import template_of
from workbook_template.read_back.styles import same_form
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


UNITS = ("in", "mm")
OTHER_UNIT = re.compile(r'\s*unit\s*=\s*"(in|mm)"\s*', re.IGNORECASE)
"""Where a length has the number format of the unit that the workbook was not built with (`paper.blocks`)."""

OF_LENGTH = ("pitch_diameter_max", "pitch_diameter_min", "crest_max", "crest_min")
"""Cells whose own number format is that of a length in the built unit."""


def unit_of(book: Filled, sheets: Mapping[str, FilledSheet]) -> str:
    """The working unit that a file was built with, whichever is chosen now.

    Most of its conditional formats for the other unit tell, as one may have been changed; where all are gone, the
    number formats of lengths; where these were changed too, the unit that is chosen.
    """
    found = Counter(_by_rules(sheets)) or Counter(_by_formats(book, sheets))
    chosen = values_of({"unit": book.names["unit"]}, sheets).get("unit")
    return max(UNITS, key=lambda one: (found[one], one == chosen))


def _by_rules(sheets: Mapping[str, FilledSheet]) -> Iterator[str]:
    for sheet in sheets.values():
        for rule in sheet.page.rules:
            if len(rule.formulas) == 1 and (other := OTHER_UNIT.fullmatch(rule.formulas[0])):
                yield next(one for one in UNITS if one != other[1].lower())


def _by_formats(book: Filled, sheets: Mapping[str, FilledSheet]) -> Iterator[str]:
    for place in (book.names[name] for name in OF_LENGTH if name in book.names):
        cell = sheets[place.sheet].cells.get((place.box[1], place.box[0])) if place.sheet in sheets else None
        if cell is not None and 0 <= cell.style < len(book.styles.cells):
            form = book.styles.cells[cell.style].shown.form
            yield from (one for one in UNITS if same_form(form, FORMATS["length"][one]))


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
