"""A sheet that was given another name: one finding, and from there on it is read by the name it was built with."""

from __future__ import annotations

import re

from workbook_template.read_back.built import Template
from workbook_template.read_back.contents import Filled, FilledSheet, Place
from workbook_template.read_back.findings import Finding, said

ENOUGH = 3
"""Names that must stand on the other sheet where they stood on this one."""


def names_back(book: Filled, made: Template, sheets: dict[str, FilledSheet]) -> dict[str, str]:
    """Give renamed sheets their built names, in `sheets`, in the names of the book and in all formulas.

    What they are called now, by the built name.
    """
    now = {}
    for title in made.sheets:
        if title in sheets:
            continue
        places = [
            (book.names[name], entry.box)
            for entry in made.entries
            if entry.sheet == title and (name := entry.name.lower()) in book.names
        ]
        for other in [one for one in sheets if one not in made.sheets]:
            if sum(place == Place(other, corners) for place, corners in places) >= ENOUGH:
                _rename(book, sheets, other, title)
                now[title] = other
                break
    return now


def told(findings: list[Finding], now: dict[str, str]) -> list[Finding]:
    """The findings with the sheets as they are called now, and one for each that is called otherwise."""
    renamed = [
        Finding("renamed", title, "", "", f"the sheet is called {said(other)} now") for title, other in now.items()
    ]
    return renamed + [one._replace(sheet=now.get(one.sheet, one.sheet)) for one in findings]


def _rename(book: Filled, sheets: dict[str, FilledSheet], now: str, built: str) -> None:
    sheets[built] = sheets.pop(now)
    for name, place in book.names.items():
        if place.sheet == now:
            book.names[name] = place._replace(sheet=built)
    quoted = now.replace("'", "''")
    prefix = re.compile(rf"(?:'{re.escape(quoted)}'|(?<![A-Za-z0-9_.']){re.escape(now)})!", re.IGNORECASE)
    for sheet in sheets.values():
        for at, cell in sheet.cells.items():
            if cell.formula is not None and f"{now}" in cell.formula.text:
                text = prefix.sub(f"{built}!", cell.formula.text)
                sheet.cells[at] = cell._replace(formula=cell.formula._replace(text=text))
