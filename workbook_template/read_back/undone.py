"""`check --undone`: what the clerk still has to see to, each with its sheet and cell.

What was typed is judged here once more, as in `check`; nothing stored is believed but the words of the first article,
which are computed by the workbook's own formulas.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date
from math import inf
from pathlib import Path
from typing import Any, NamedTuple

from workbook_template.figures.functions import serial
from workbook_template.figures.garbage import no_collection
from workbook_template.read_back import columns, gauge_fit, recompute, unfilled
from workbook_template.read_back.contents import Filled
from workbook_template.read_back.equipment import Item, day_of, key, twice
from workbook_template.read_back.findings import Told, said
from workbook_template.read_back.job_file import open_job
from workbook_template.read_back.named import cells_of, read_names
from workbook_template.read_back.oddities import oddities
from workbook_template.read_back.readings import OF_TAPER
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.thread_figures import number
from workbook_template.sheets import certificate_figures
from workbook_template.sheets.instrument_columns import DUE_SOON_DAYS
from workbook_template.trade.equipment import NOT_CALIBRATED

UNDATED = "does not count without its day: {}"
OPEN = {
    "undecided": "undecided: take another reading, or a method with a smaller uncertainty; its row says which",
    "check entry": "an entry can't be right: check what was typed",
    "check instrument": "the instrument, wires or gauge does not count: name one that does, and measure again",
    "not measured": "not measured",
}
"""Results that are no verdict, and what to do."""

RESULTS = (("pitch_diameter_result", "pitch diameter"), ("crest_result", "crest diameter"), ("ring_result", "gauges"))

UNCERTAINTIES = {"pitch_diameter_result": "uncertainty", "crest_result": "crest_uncertainty"}
"""By the result: the field of the job with the U that decides it."""

ARTICLE_DONE = ("in", "passes", "recorded", "low", "high", "fails", "WRONG HAND")
"""Results of a characteristic that are one, good or bad."""

NUMBERS = (*columns.READINGS, "direct", "crest", "temperature", *OF_TAPER)
"""Columns of the log that hold numbers."""

SAID = ("article_result", "article_measured", "article_method", "instrument_kind")
PLACES = ("thread_system", "expanded_uncertainty", "log_serial")
"""Cells that something is said of."""


class Undone(NamedTuple):
    """One thing to see to: its kind, the place, the words."""

    kind: str
    sheet: str
    cell: str
    words: str

    def line(self) -> str:
        """As it is printed."""
        return f"{self.kind}: {self.sheet}!{self.cell}: {self.words}"


@no_collection()
def undone(path: Path) -> list[Undone]:
    """What is still to do in one workbook; Unreadable where it can't be read."""
    book = open_job(path)
    names = (*recompute.INPUTS, *columns.NAMES, *unfilled.NAMES, *SAID, *PLACES)
    values = read_names(book, dict.fromkeys(names))
    return listed(book, values, recompute.recompute(values, columns.rows_of(values)))


def listed(book: Filled, values: dict[str, Any], again: Recomputed) -> list[Undone]:
    """The same of a workbook whose rows are judged again."""
    entries = [
        *_thread(again),
        *unfilled.empty(values, "job"),
        *unfilled.not_taken(values),
        *unfilled.no_coating(values, again),
        *unfilled.empty(values, "shop"),
        *unfilled.empty(values, "certificate"),
        *_certified_before(values, again),
    ]
    return [
        *_parts(book, again),
        *_texts(book, again),
        *_at(book, oddities(values)),
        *_equipment(book, values, again),
        *_article(book, values),
        *_at(book, entries),
    ]


def _at(book: Filled, found: Iterable[Told]) -> Iterator[Undone]:
    """Things that are told by the name of their cell."""
    for one in found:
        if place := book.names.get(one.name):
            yield Undone(one.kind, place.sheet, place.cell(one.at), one.words)


def _thread(again: Recomputed) -> Iterator[Told]:
    if again.thread is None:
        yield Told("job", "thread_system", "no thread is chosen: system, size and class")


def _parts(book: Filled, again: Recomputed) -> Iterator[Undone]:
    """Parts without a verdict: each part once, by its last row; those of the order that no row has."""
    place = book.names.get("log_serial", book.names["log_reading"])
    without = _without_uncertainty(again)
    for row, judged in zip(again.rows, again.judged):
        part = said(row.inputs.get("serial")) if row.inputs.get("serial") is not None else "that names no part"
        where = place.cell(row.number - 1)
        if judged.again:
            yield Undone("part again", place.sheet, where, f"part {part} was logged before: say why, or take it out")
            continue
        if row.inputs.get("serial") is None:
            yield Undone("part", place.sheet, where, "the row names no part")
        gauged = _is_settled(judged.ring_result, row.inputs.get("gauge"), again)
        for name, what in RESULTS:
            word = getattr(judged, name)
            if word == "undecided" and name in without:
                continue  # told once, of all of them
            if word in OPEN and (word != "not measured" or (name == "pitch_diameter_result" and not gauged)):
                yield Undone("part", place.sheet, where, f"part {part}, {what}: {_open(word, row.inputs)}")
    yield from _at(book, _undecided(again, without))
    if not again.rows:
        yield Undone("part", place.sheet, place.cell(), "no part is logged yet")
    ordered = number(again.inputs.get("quantity"))
    logged = sum(one.pitch_diameter_result != "replaced" and not one.again for one in again.judged)
    quantity = book.names.get("quantity")
    if ordered is not None and quantity is not None and logged < ordered:
        words = f"{ordered - logged:.12g} of {ordered:.12g} parts are not logged yet"
        yield Undone("part", quantity.sheet, quantity.cell(), words)


def _is_settled(ring_result: str, gauge: Any, again: Recomputed) -> bool:
    """Whether a gauge alone is a verdict on a part."""
    item, thread = again.equipment.instruments.get(key(gauge)), again.thread
    if ring_result != "in" or item is None or thread is None:
        return ring_result in ("high", "low")
    return gauge_fit.settles(item.kind, thread.thread)


def _open(word: str, given: Mapping[str, Any]) -> str:
    """What is to be done about a result that is no verdict; where only the day is wrong, the day."""
    when = given.get("when")
    if word != "check instrument" or day_of(when) is not None:
        return OPEN[word]
    return UNDATED.format("type it in its row" if unfilled.is_empty(when) else unfilled.no_day(when))


def _without_uncertainty(again: Recomputed) -> list[str]:
    """The results that the guard rule can't decide, as there is no U."""
    if again.job.rule != "guard":
        return []
    return [result for result, name in UNCERTAINTIES.items() if getattr(again.job, name) is None]


def _undecided(again: Recomputed, without: list[str]) -> Iterator[Told]:
    for name, what in RESULTS:
        count = sum(getattr(one, name) == "undecided" and not one.again for one in again.judged)
        if name in without and count:
            words = f"{what}: {count} undecided, as the guard rule has no U; type it, or fill in the budget"
            yield Told("part", "expanded_uncertainty", words)


def _certified_before(values: Mapping[str, Any], again: Recomputed) -> Iterator[Told]:
    """A certificate that is dated before readings of the log, as its sheet says it."""
    day = day_of(values.get("certificate_date"))
    days = [measured for row in again.rows if (measured := day_of(row.inputs.get("when"))) is not None]
    if day is not None and days and day < max(days):
        yield Told("certificate", "certificate_date", certificate_figures.DATED_BEFORE)


def _texts(book: Filled, again: Recomputed) -> Iterator[Undone]:
    """Numbers and days of the log that are none: they count as nothing until they are typed again."""
    checks = {**dict.fromkeys(NUMBERS, unfilled.no_number), "when": unfilled.no_day}
    for name, why_not in checks.items():
        place = book.names.get(f"log_{name}")
        for row in again.rows if place is not None else ():
            value = row.typed.get(name)
            if place is not None and not unfilled.is_empty(value) and (words := why_not(value)):
                yield Undone("text", place.sheet, place.cell(row.number - 1), words)


def _equipment(book: Filled, values: Mapping[str, Any], again: Recomputed) -> Iterator[Undone]:
    """Instruments and wire sets that are overdue, due soon, unfit, or can't be judged by their dates."""
    typed = day_of(values.get("as_of"))
    today = serial(date.today()) if typed is None else float(typed)
    days = number(values.get("due_soon_days"))
    soon = DUE_SOON_DAYS if days is None else days
    for kind, what, items in (
        ("instrument", "instrument", again.equipment.instruments),
        ("wires", "wire set", again.equipment.wires),
    ):
        place = book.names.get(f"{kind}_id")
        ids = again.inputs.get(f"{kind}_id") or []
        second = set(twice(ids))
        for at, name in enumerate(ids):
            item = items.get(key(name))
            if name is None or item is None or place is None or at in second:
                continue
            if words := _state(book, item, today, soon):
                yield Undone("due", place.sheet, place.cell(at), f"{what} {item.id} {words}")


def _state(book: Filled, item: Item, today: float, soon: float) -> str:
    if item.never:
        return f"{item.never}: its readings don't count"
    due = book.day(float(item.until))
    if item.since == inf:
        return f"{NOT_CALIBRATED}: its readings don't count"
    if item.since > item.until:
        return f"was calibrated after it was due {due}: its readings don't count"
    if item.until < today:
        return f"was due {due}: calibrate it before use"
    return f"is due {due}" if item.until - today <= soon else ""


def _article(book: Filled, values: Mapping[str, Any]) -> Iterator[Undone]:
    """Characteristics of the first article without a result, where one was begun or is asked for."""
    place = book.names.get("article_result")
    results = cells_of(values.get("article_result"))
    if place is None:
        return
    begun = any(value is not None for value in cells_of(values.get("article_measured")))
    for at, word in enumerate(results):
        if begun and isinstance(word, str) and word and word not in ARTICLE_DONE:
            yield Undone("first article", place.sheet, place.cell(at), f"characteristic {at + 1}: {word}")
    if begun:
        yield from _at(book, unfilled.empty(values, "first article"))
    elif results:
        yield Undone("first article", place.sheet, place.cell(), "no characteristic has been measured")
