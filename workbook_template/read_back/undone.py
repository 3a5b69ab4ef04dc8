"""`check --undone`: what the clerk still has to see to, each with its sheet and cell.

What was typed is judged here once more, as in `check`; nothing stored is believed but the words of the first article,
which are computed by the workbook's own formulas.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from workbook_template.figures.functions import serial
from workbook_template.figures.numbers import read_number
from workbook_template.read_back import columns, recompute
from workbook_template.read_back.contents import Filled, Place, no_collection, read_names
from workbook_template.read_back.equipment import NEVER, Item, day_of, key
from workbook_template.read_back.findings import address, said
from workbook_template.read_back.job_file import open_job
from workbook_template.read_back.recompute import Recomputed
from workbook_template.sheets.instrument_columns import DUE_SOON_DAYS

OPEN = {
    "undecided": "undecided: take another reading, or a method with a smaller uncertainty; its row says which",
    "check entry": "an entry can't be right: check what was typed",
    "check instrument": "the instrument, wires or gauge does not count: name one that does, and measure again",
    "not measured": "not measured",
}
"""Results that are no verdict, and what to do."""

GAUGED = ("in", "high", "low")
"""Results of a gauge, which alone are a verdict on a part."""
RESULTS = (("pitch_diameter_result", "pitch diameter"), ("crest_result", "crest diameter"), ("ring_result", "gauges"))

CERTIFICATE = {
    "certificate_number": "number of the certificate",
    "certificate_lot": "lot",
    "certificate_date": "date of the certificate",
    "certificate_inspector": "who inspected",
    "certificate_released": "who releases it",
    "certificate_digest": "digest of the data (python -m workbook_template certificate FILE)",
}
ARTICLE = {
    "article_serial": "part of the first article",
    "article_who": "who examined the first article",
    "article_date": "day of the first article",
}
ARTICLE_DONE = ("in", "passes", "recorded", "low", "high", "fails", "WRONG HAND")
"""Results of a characteristic that are one, good or bad."""

NUMBERS = (*columns.INPUTS[1:9], "temperature")
"""Columns of the log that hold numbers."""

OTHER_NUMBERS = ("quantity", "thread_length", "wire_in_use", "expanded_uncertainty", "crest_uncertainty", "expansion")
SAID = ("article_result", "article_measured", "article_method", "instrument_kind")


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
    names = (*recompute.INPUTS, *columns.NAMES, *CERTIFICATE, *ARTICLE, *SAID, *OTHER_NUMBERS, "as_of", "due_soon_days")
    values = read_names(book, dict.fromkeys(names))
    return listed(book, values, recompute.recompute(values, columns.rows_of(values)))


def listed(book: Filled, values: dict[str, Any], again: Recomputed) -> list[Undone]:
    """The same of a workbook whose rows are judged again."""
    return [
        *_parts(book, again),
        *_texts(book, values, again),
        *_equipment(book, values, again),
        *_article(book, values),
        *_empty(book, values, CERTIFICATE, "certificate"),
    ]


def _cell(place: Place, down: int = 0) -> str:
    return address((place.box[1] + down, place.box[0]))


def _parts(book: Filled, again: Recomputed) -> Iterator[Undone]:
    """Parts without a verdict: each part once, by its last row; those of the order that no row has."""
    place = book.names["log_serial"]
    for row, judged in zip(again.rows, again.judged):
        part = said(row.inputs.get("serial")) if row.inputs.get("serial") is not None else "that names no part"
        where = _cell(place, row.number - 1)
        if judged.again:
            yield Undone("part again", place.sheet, where, f"part {part} was logged before: say why, or take it out")
            continue
        if row.inputs.get("serial") is None:
            yield Undone("part", place.sheet, where, "the row names no part")
        gauged = judged.ring_result in GAUGED
        for name, what in RESULTS:
            word = getattr(judged, name)
            if word in OPEN and (word != "not measured" or (name == "pitch_diameter_result" and not gauged)):
                yield Undone("part", place.sheet, where, f"part {part}, {what}: {OPEN[word]}")
    ordered = recompute.number(again.inputs.get("quantity"))
    logged = sum(one.pitch_diameter_result != "replaced" and not one.again for one in again.judged)
    quantity = book.names.get("quantity")
    if ordered is not None and quantity is not None and logged < ordered:
        words = f"{ordered - logged:.12g} of {ordered:.12g} parts are not logged yet"
        yield Undone("part", quantity.sheet, _cell(quantity), words)


def _texts(book: Filled, values: Mapping[str, Any], again: Recomputed) -> Iterator[Undone]:
    """Numbers typed as text: they count as nothing until they are typed again."""
    for name in NUMBERS:
        place = book.names.get(f"log_{name}")
        for row in again.rows if place is not None else ():
            if (words := _as_text(row.inputs.get(name))) and place is not None:
                yield Undone("text", place.sheet, _cell(place, row.number - 1), words)
    for name in OTHER_NUMBERS:
        place = book.names.get(name)
        if place is not None and (words := _as_text(values.get(name))):
            yield Undone("text", place.sheet, _cell(place), words)


def _as_text(value: Any) -> str:
    """What is said of a text that a person takes for a number; empty for anything else."""
    if not isinstance(value, str):
        return ""
    plain = value.strip().strip("'").replace("\u00a0", "").replace("\u2212", "-").replace(" ", "")
    is_number = read_number(plain) is not None or read_number(plain.replace(",", ".")) is not None
    if not is_number:
        return ""
    why = "has a comma for its point" if "," in plain else "was typed or pasted as text"
    return f"{said(value)} {why}: it is not taken as a number; type it again"


def _equipment(book: Filled, values: Mapping[str, Any], again: Recomputed) -> Iterator[Undone]:
    """Instruments and wire sets that are overdue, due soon, unfit, or can't be judged by their dates."""
    typed = day_of(values.get("as_of"))
    today = serial(date.today()) if typed is None else float(typed)
    days = recompute.number(values.get("due_soon_days"))
    soon = DUE_SOON_DAYS if days is None else days
    for kind, what, items in (
        ("instrument", "instrument", again.equipment.instruments),
        ("wires", "wire set", again.equipment.wires),
    ):
        place = book.names.get(f"{kind}_id")
        fits = values.get(f"{kind}_fit") or []
        for at, name in enumerate(values.get(f"{kind}_id") or []):
            item = items.get(key(name))
            if name is None or item is None or place is None:
                continue
            unfit = key(fits[at] if at < len(fits) else None) not in ("", "yes")
            if words := _state(book, item, unfit, today, soon):
                yield Undone("due", place.sheet, _cell(place, at), f"{what} {item.id} {words}")


def _state(book: Filled, item: Item, unfit: bool, today: float, soon: float) -> str:
    if unfit:
        return "is marked unfit"
    if item.until == NEVER:
        return "has no due date, or is no matched set: its readings don't count"
    due = book.day(float(item.until))
    if item.since > item.until:
        return f"was calibrated on no day, or after it was due {due}: its readings don't count"
    if item.until < today:
        return f"was due {due}: calibrate it before use"
    return f"is due {due}" if item.until - today <= soon else ""


def _article(book: Filled, values: Mapping[str, Any]) -> Iterator[Undone]:
    """Characteristics of the first article without a result, where one was begun or is asked for."""
    place = book.names.get("article_result")
    results = values.get("article_result") or []
    if place is None:
        return
    begun = any(value is not None for value in values.get("article_measured") or [])
    for at, word in enumerate(results):
        if begun and isinstance(word, str) and word and word not in ARTICLE_DONE:
            yield Undone("first article", place.sheet, _cell(place, at), f"characteristic {at + 1}: {word}")
    if begun:
        yield from _empty(book, values, ARTICLE, "first article")
    elif results:
        yield Undone("first article", place.sheet, _cell(place), "no characteristic has been measured")


def _empty(book: Filled, values: Mapping[str, Any], fields: Mapping[str, str], kind: str) -> Iterator[Undone]:
    for name, what in fields.items():
        place = book.names.get(name)
        if place is not None and values.get(name) in (None, ""):
            yield Undone(kind, place.sheet, _cell(place), f"{what}: empty")
