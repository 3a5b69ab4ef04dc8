"""A built file while its parts are edited, and what a fault that is planted in it is called."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable
from typing import NamedTuple

from lxml import etree
from openpyxl.utils import get_column_letter, range_boundaries
from read_back_files import part, with_parts
from workbook_cases import Sample

from workbook_template.rules.parts import MAIN

RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
BOOK, STYLES = "xl/workbook.xml", "xl/styles.xml"


class File:
    """A built file while it is edited; parts are read when they are first asked for."""

    def __init__(self, sample: Sample, content: bytes) -> None:
        self.sample, self._content = sample, content
        self._trees: dict[str, etree._Element] = {}
        self._added: dict[str, bytes] = {}

    def tree(self, name: str) -> etree._Element:
        if name not in self._trees:
            self._trees[name] = etree.fromstring(part(self._content, name))
        return self._trees[name]

    def add(self, name: str, text: str) -> None:
        """A part more."""
        self._added[name] = text.encode()

    def sheet(self, title: str) -> etree._Element:
        return self.tree(self.part_of(title))

    def sheet_of(self, name: str) -> etree._Element:
        return self.sheet(self.place(name)[0])

    def part_of(self, title: str) -> str:
        return f"xl/worksheets/sheet{self.sample.titles.index(title) + 1}.xml"

    def place(self, name: str, down: int = 0, across: int = 0) -> tuple[str, str]:
        """Sheet and address of a named cell, or of one beside it."""
        entry = next(one for one in self.sample.entries if one.name == name)
        left, top, *_ = range_boundaries(entry.ref)
        return entry.sheet, f"{get_column_letter(left + across)}{top + down}"

    def row(self, title: str, number: int) -> etree._Element:
        return next(one for one in self.sheet(title).iter(f"{MAIN}row") if one.get("r") == str(number))

    def cell(self, name: str, down: int = 0, across: int = 0) -> etree._Element:
        title, address = self.place(name, down, across)
        return self.at(title, address)

    def at(self, title: str, address: str) -> etree._Element:
        row = self.row(title, int(re.sub(r"\D", "", address)))
        return next(one for one in row if one.get("r") == address)

    def look(self, cell: etree._Element, change: Callable[[etree._Element, File], None]) -> None:
        """A look of its own for one cell, changed from the one it has."""
        looks = self.tree(STYLES).find(f"{MAIN}cellXfs")
        copy = etree.fromstring(etree.tostring(looks[int(cell.get("s", 0))]))
        looks.append(copy)
        change(copy, self)
        cell.set("s", str(len(looks) - 1))

    def font(self, inner: str) -> str:
        """The number of a new font."""
        return self._append("fonts", f'<font xmlns="{MAIN[1:-1]}">{inner}</font>')

    def form(self, code: str) -> str:
        """The number of a new number format."""
        forms = self.tree(STYLES).find(f"{MAIN}numFmts")
        number = str(900 + len(forms))
        etree.SubElement(forms, f"{MAIN}numFmt", numFmtId=number, formatCode=code)
        return number

    def conditional(self, inner: str) -> str:
        """The number of a new look of a conditional format."""
        return self._append("dxfs", f'<dxf xmlns="{MAIN[1:-1]}">{inner}</dxf>')

    def _append(self, where: str, text: str) -> str:
        holder = self.tree(STYLES).find(f"{MAIN}{where}")
        holder.append(etree.fromstring(text))
        return str(len(holder) - 1)

    def relate(self, name: str, kind: str, target: str, *, outside: bool = False) -> None:
        """A relationship more of a part, in a file of relationships that is there."""
        root = self.tree(name)
        mode = {"TargetMode": "External"} if outside else {}
        one = {"Id": f"rIdX{len(root)}", "Type": f"{OFFICE}/{kind}", "Target": target, **mode}
        etree.SubElement(root, f"{{{RELATIONS}}}Relationship", one)

    def content(self) -> bytes:
        changed = {
            name: etree.tostring(root, xml_declaration=True, encoding="UTF-8") for name, root in self._trees.items()
        }
        return with_parts(self._content, {**changed, **self._added})


class Fault(NamedTuple):
    """One kind of fault: what was done, how, and what the finding about it must be.

    `at` is the name of the cell, with rows further down as in log_words+3; after "on " only its sheet, after "column "
    its column; anywhere where it is empty. `words` that tell of a cell's address ask the file for it.
    """

    what: str
    plant: Callable[[File], None]
    kind: str
    at: str
    words: str | Callable[[File], str]
    remark: bool = False

    def place(self, file: File) -> tuple[str, str]:
        """Sheet and cell of the finding, as far as they are told."""
        if not self.at:
            return "", ""
        how, _, named = self.at.rpartition(" ")
        name, _, down = named.partition("+")
        title, address = file.place(name, int(down or 0))
        if how == "column":
            return title, re.sub(r"\d", "", address) + "1"
        return title, "" if how == "on" else address


def related(file: File, name: str, kind: str) -> str:
    """The first part of a kind that a part is related to."""
    folder, _, own = name.rpartition("/")
    root = file.tree(f"{folder}/_rels/{own}.rels")
    target = next(one.get("Target") for one in root if one.get("Type").endswith(f"/{kind}"))
    return target.removeprefix("/") if target.startswith("/") else posixpath.normpath(f"{folder}/{target}")
