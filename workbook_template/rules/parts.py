"""The parts of a workbook file as the rules want them, and what a rule says when it is broken."""

from __future__ import annotations

import posixpath
import re
import zipfile
from collections.abc import Iterator
from typing import NamedTuple

from lxml import etree

from workbook_template.figures.parse import LAST_COLUMN, LAST_ROW, Column, column_number

MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}"
TYPES = "[Content_Types].xml"

_CELL = re.compile(r"\$?([A-Za-z]{1,3})\$?([0-9]{1,7})")

Box = tuple[int, int, int, int]
"""Left, top, right and bottom of a range, counted from 1."""


class Fault(NamedTuple):
    """One broken rule: the part of the file, the place in it (a cell, a name, or ""), and a sentence."""

    part: str
    place: str
    sentence: str


class Relation(NamedTuple):
    """One relationship of a part; `target` is the name of a part, or an address outside when `external`."""

    id: str
    kind: str
    target: str
    external: bool


class SheetPart(NamedTuple):
    """One worksheet as a part of the file."""

    name: str
    part: str
    root: etree._Element


class Table(NamedTuple):
    """One table of a worksheet; `ref` as stored, `columns` in their order."""

    name: str
    part: str
    sheet: SheetPart
    ref: str
    columns: tuple[str, ...]
    root: etree._Element


class Parts(NamedTuple):
    """The parts of a workbook's file, read; `links` counts the other workbooks it refers to."""

    part: str
    root: etree._Element
    sheets: tuple[SheetPart, ...]
    tables: tuple[Table, ...]
    styles: etree._Element | None
    styles_part: str
    texts: tuple[str, ...]
    relations: dict[str, list[Relation]]
    links: int


def cell_place(reference: str) -> tuple[int, int] | None:
    """Column and row of a cell that exists; None for anything else.

    >>> cell_place("$B$7"), cell_place("XFE1"), cell_place("B0"), cell_place("UNC")
    ((2, 7), None, None, None)
    """
    found = _CELL.fullmatch(reference)
    if found is None:
        return None
    place = column_number(found[1]), int(found[2])
    return place if place[0] <= LAST_COLUMN and 1 <= place[1] <= LAST_ROW else None


def box(reference: str) -> Box | None:
    """The corners of a cell or range; None for anything else.

    >>> box("B2:C9"), box("B2"), box("C9:B2")
    ((2, 2, 3, 9), (2, 2, 2, 2), None)
    """
    first, _, last = reference.partition(":")
    start, end = cell_place(first), cell_place(last or first)
    if start is None or end is None or end[0] < start[0] or end[1] < start[1]:
        return None
    return (*start, *end)


def overlap(one: Box, other: Box) -> bool:
    """Whether two ranges share a cell."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def overlaps(boxes: list[tuple[str, Box]]) -> Iterator[tuple[str, str]]:
    """The first earlier range that each range shares a cell with."""
    for index, (text, here) in enumerate(boxes):
        for earlier, there in boxes[:index]:
            if overlap(here, there):
                yield text, earlier
                break


def open_package(path: str) -> tuple[dict[str, bytes], list[Fault]]:
    """The parts of the file, and what is wrong with it as an archive."""
    try:
        with zipfile.ZipFile(path) as archive:
            names = archive.namelist()
            parts = {name: archive.read(name) for name in names if not name.endswith("/")}
    except zipfile.BadZipFile as error:
        return {}, [Fault("", "", f"the file is no package: {error}")]
    return parts, [Fault(name, "", "the part is in the file twice") for name in parts if names.count(name) > 1]


def parse(parts: dict[str, bytes]) -> tuple[dict[str, etree._Element], list[Fault]]:
    """The XML parts as trees; one that can't be read is a fault (control characters can't)."""
    trees, faults = {}, []
    for name, content in parts.items():
        if name.endswith((".xml", ".rels", ".vml")):
            try:
                trees[name] = etree.fromstring(content, etree.XMLParser(resolve_entities=False, huge_tree=True))
            except etree.XMLSyntaxError as error:
                faults.append(Fault(name, "", f"the part is not well-formed XML: {error.msg}"))
    return trees, faults


def relation_part(part: str) -> str:
    """Where the relationships of a part are kept.

    >>> relation_part("xl/workbook.xml"), relation_part("")
    ('xl/_rels/workbook.xml.rels', '_rels/.rels')
    """
    folder, name = posixpath.split(part)
    return posixpath.join(folder, "_rels", f"{name}.rels")


def relations(trees: dict[str, etree._Element]) -> dict[str, list[Relation]]:
    """The relationships of every part that has some; of the package itself under ""."""
    found: dict[str, list[Relation]] = {}
    for name, root in trees.items():
        if not name.endswith(".rels"):
            continue
        folder, own = posixpath.split(name)
        base = posixpath.dirname(folder)
        found[posixpath.join(base, own.removesuffix(".rels"))] = [
            Relation(
                one.get("Id", ""),
                one.get("Type", "").rpartition("/")[2],
                one.get("Target", "")
                if one.get("TargetMode") == "External"
                else posixpath.normpath(posixpath.join("/", base, one.get("Target", "")))[1:],
                one.get("TargetMode") == "External",
            )
            for one in root
        ]
    return found


def read_parts(trees: dict[str, etree._Element], related: dict[str, list[Relation]]) -> Parts | None:
    """The workbook; None where the package has none or a sheet of it is missing."""
    part = _target(related, "", "officeDocument")
    if part not in trees:
        return None
    by_id = {one.id: one.target for one in related.get(part, [])}
    sheets, tables = [], []
    for element in trees[part].iterfind(f"{MAIN}sheets/{MAIN}sheet"):
        place = by_id.get(element.get(f"{RELATION}id", ""), "")
        if place not in trees:
            return None
        sheet = SheetPart(element.get("name", ""), place, trees[place])
        spell_out(sheet.root)
        sheets.append(sheet)
        for one in related.get(place, []):
            if one.kind == "table" and one.target in trees:
                root = trees[one.target]
                columns = tuple(c.get("name", "") for c in root.iterfind(f"{MAIN}tableColumns/{MAIN}tableColumn"))
                name = root.get("displayName", "")
                tables.append(Table(name, one.target, sheet, root.get("ref", ""), columns, root))
    styles_part = _target(related, part, "styles")
    strings = trees.get(_target(related, part, "sharedStrings"))
    texts = () if strings is None else tuple(text_of(item) for item in strings.iterfind(f"{MAIN}si"))
    links = sum(one.kind == "externalLink" for one in related.get(part, []))
    return Parts(
        part, trees[part], tuple(sheets), tuple(tables), trees.get(styles_part), styles_part, texts, related, links
    )


def spell_out(root: etree._Element) -> None:
    """Give every cell its own formula, where the file has one for a column."""
    shared: dict[str, Column] = {}
    for cell in root.iterfind(f"{MAIN}sheetData/{MAIN}row/{MAIN}c"):
        formula, place = cell.find(f"{MAIN}f"), cell_place(cell.get("r", ""))
        if formula is None or place is None or formula.get("t") != "shared":
            continue
        key = formula.get("si", "")
        if formula.text:
            shared[key] = Column.of(formula.text, place[1])
        elif key in shared:
            formula.text = shared[key].text(place[1])
        formula.attrib.clear()


def text_of(item: etree._Element) -> str:
    """The text of a shared or inline string, without its phonetic runs."""
    pieces = (piece for piece in item.iter(f"{MAIN}t") if next(piece.iterancestors(f"{MAIN}rPh"), None) is None)
    return "".join(piece.text or "" for piece in pieces)


def _target(related: dict[str, list[Relation]], part: str, kind: str) -> str:
    return next((one.target for one in related.get(part, []) if one.kind == kind), "")
