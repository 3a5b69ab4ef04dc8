"""Rules of names: sheets, defined names, tables; and the formulas behind names."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lxml import etree

from workbook_template.rules.formula import Surroundings, formula_faults
from workbook_template.rules.parts import MAIN, Fault, Parts, cell_place

LONGEST_SHEET, LONGEST_NAME = 31, 255
BUILT_IN = ("print_area", "print_titles", "_filterdatabase", "criteria", "extract")
WHOLE_ROWS = ("_xlnm.print_area", "_xlnm.print_titles")
"""Built-in names that may hold several ranges."""

_VALID = re.compile(r"[^\W\d][\w.?\\]*|\\[\w.?\\]+")
_ROW_COLUMN = re.compile(r"r\d*(?:c\d*)?|c\d*", re.IGNORECASE)


def surroundings(book: Parts) -> Surroundings:
    """What the formulas of the workbook may name."""
    sheets = [sheet.name.lower() for sheet in book.sheets]
    names = {
        (_own_sheet(book, element), element.get("name", "").lower())
        for element in book.root.iterfind(f"{MAIN}definedNames/{MAIN}definedName")
    }
    tables = {table.name.lower(): frozenset(map(str.lower, table.columns)) for table in book.tables}
    names |= {("", table) for table in tables}
    return Surroundings(frozenset(sheets), frozenset(names), tables, book.links)


def _own_sheet(book: Parts, element: etree._Element) -> str:
    """The sheet that a name belongs to, "" for the whole workbook."""
    number = element.get("localSheetId")
    if number is None or not number.isdigit() or int(number) >= len(book.sheets):
        return ""
    return book.sheets[int(number)].name.lower()


def sheet_name_faults(book: Parts) -> Iterator[Fault]:
    """Sheets have names that Excel takes, and one of them can be seen."""
    seen: set[str] = set()
    for sheet in book.sheets:
        name = sheet.name
        for broken, sentence in (
            (not 0 < len(name) <= LONGEST_SHEET, f"the sheet's name has {len(name)} characters; 1 to {LONGEST_SHEET}"),
            (bool(set(name) & set("[]:*?/\\")), "the sheet's name holds one of [ ] : * ? / \\"),
            (name.startswith("'") or name.endswith("'"), "the sheet's name begins or ends with an apostrophe"),
            (name.lower() == "history", "History is a name that Excel keeps for itself"),
            (name.lower() in seen, "two sheets have the same name but for capitals"),
        ):
            if broken:
                yield Fault(book.part, name, sentence)
        seen.add(name.lower())
    entries = list(book.root.iterfind(f"{MAIN}sheets/{MAIN}sheet"))
    ids = [entry.get("sheetId") for entry in entries]
    for entry in entries:
        if ids.count(entry.get("sheetId")) > 1:
            yield Fault(book.part, entry.get("name", ""), "two sheets have the same number")
    view = book.root.find(f"{MAIN}bookViews/{MAIN}workbookView")
    active = 0 if view is None else int(view.get("activeTab", "0"))
    if active >= len(entries) or entries[active].get("state", "visible") != "visible":
        yield Fault(book.part, "", "the sheet to be shown first is hidden or not there")


def name_faults(book: Parts) -> Iterator[Fault]:
    """Defined names and table names are valid and each stands for one thing."""
    seen: set[tuple[str, str]] = set()
    for element in book.root.iterfind(f"{MAIN}definedNames/{MAIN}definedName"):
        name, number = element.get("name", ""), element.get("localSheetId")
        if number is not None and not (number.isdigit() and int(number) < len(book.sheets)):
            yield Fault(book.part, name, "the name belongs to a sheet that is not there")
        built_in = name.lower().startswith("_xlnm.") and name.lower().removeprefix("_xlnm.") in BUILT_IN
        if not built_in:
            yield from (Fault(book.part, name, sentence) for sentence in _naming(name))
        key = (number or "", name.lower())
        if key in seen:
            yield Fault(book.part, name, "the name is used twice")
        seen.add(key)
    for table in book.tables:
        yield from (Fault(table.part, table.name, sentence) for sentence in _naming(table.name))
        if ("", table.name.lower()) in seen:
            yield Fault(table.part, table.name, "the name is used twice")
        seen.add(("", table.name.lower()))


def name_formula_faults(book: Parts, around: Surroundings) -> Iterator[Fault]:
    """What the names stand for."""
    for element in book.root.iterfind(f"{MAIN}definedNames/{MAIN}definedName"):
        name = element.get("name", "")
        here = around._replace(sheet=_own_sheet(book, element))
        for sentence in formula_faults(element.text or "", here, union=name.lower() in WHOLE_ROWS):
            yield Fault(book.part, name, sentence)


def _naming(name: str) -> Iterator[str]:
    """
    >>> list(_naming("best_wire")), list(_naming("M8")), list(_naming("1st"))
    ([], ['the name reads as a cell'], ['the name has a character that names do not take'])
    """
    if len(name) > LONGEST_NAME:
        yield f"the name has {len(name)} characters; {LONGEST_NAME} are the most"
    if not _VALID.fullmatch(name):
        yield "the name has a character that names do not take"
    elif cell_place(name) or _ROW_COLUMN.fullmatch(name) or name.upper() in ("TRUE", "FALSE"):
        yield "the name reads as a cell"
