"""What the tests of the sheets Uncertainty, First article and Sampling share: the workbook they are typed into."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from workbook_cases import Case, plain_file

from sheetfuncs import standards
from workbook_template.office import Document, Office

THREAD = "3/4-16 UNF-2A"


@contextmanager
def records_book(office: Office, path: Path) -> Iterator[Document]:
    """The empty workbook, open, with a thread, wires, instruments and gauges."""
    path.write_bytes(plain_file().content)
    with office.open(path) as document:
        choose(document, THREAD, "in", 0.0361)
        document.set({at("instrument_id", 0): "M-1", at("instrument_due", 0): 45000, "article_date": 44990})
        document.set({"article_serial": "001", "article_who": "inspector"})
        document.set({at("instrument_id", 1): "M-2", at("instrument_due", 1): 44000})
        for number, (kind, thread) in enumerate(
            (("GO/NOT GO ring", THREAD), ("GO/NOT GO ring", "3/4-16 UNF-3A"), ("other", None), ("GO ring", THREAD),
             ("NOT GO ring", THREAD)), 2
        ):  # fmt: skip
            cells = {"id": f"G-{number}", "kind": kind, "thread": thread, "due": 45000}
            document.set({at(f"instrument_{name}", number): value for name, value in cells.items()})
        document.set({at("instrument_to", 0): 2})
        document.set({at("wires_id", 0): "W-1", at("wires_due", 0): 45000})
        yield document


def choose(sheet: Document, callout: str, unit: str, wire: float | None) -> None:
    """Choose thread, unit, and wires of that size."""
    sheet.set(Case(standards.read(callout), unit, {"wire_in_use": wire, "wire_set": "W-1"}).sheet())
    sheet.set({at("wires_a", 0): wire, "uncertainty_unit": unit})


def at(name: str, number: int) -> str:
    """A cell of a named column, counted from 0."""
    entry = next(entry for entry in plain_file().entries if entry.name == name)
    first = entry.ref.split(":")[0]
    letter = first.rstrip("0123456789")
    return f"{entry.sheet}!{letter}{int(first[len(letter) :]) + number}"


def column(sheet: Document, name: str) -> list[Any]:
    """The values of a named column."""
    return [row[0] for row in sheet[name]]
