"""Kinds of faults that can be planted in a filled workbook, each as a small edit of one file's XML."""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable
from typing import NamedTuple

from lxml import etree
from openpyxl.utils import get_column_letter, range_boundaries
from read_back_files import part, with_parts

from workbook_template.paper.blocks import Book
from workbook_template.rules.parts import MAIN

RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
BOOK, STYLES = "xl/workbook.xml", "xl/styles.xml"


class File:
    """A built file while it is edited; parts are read when they are first asked for."""

    def __init__(self, book: Book, content: bytes) -> None:
        self.book, self._content = book, content
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
        return f"xl/worksheets/sheet{self.book.workbook.sheetnames.index(title) + 1}.xml"

    def place(self, name: str, down: int = 0, across: int = 0) -> tuple[str, str]:
        """Sheet and address of a named cell, or of one beside it."""
        entry = next(one for one in self.book.entries if one.name == name)
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


def value(name: str, text: str, kind: str = "n", down: int = 0, across: int = 0) -> Callable[[File], None]:
    """Another stored value; the formula stays."""

    def plant(file: File) -> None:
        cell = file.cell(name, down, across)
        held = cell.find(f"{MAIN}v")
        assert cell.find(f"{MAIN}f") is not None
        assert held is not None
        assert held.text != text
        cell.set("t", kind)
        held.text = text

    return plant


def typed(name: str, text: str | None, kind: str = "n", down: int = 0, across: int = 0) -> Callable[[File], None]:
    """A value in the place of what stands there; nothing for None."""

    def plant(file: File) -> None:
        cell = file.cell(name, down, across)
        del cell[:]
        cell.attrib.pop("t", None)
        if text is not None and kind == "inlineStr":
            etree.SubElement(etree.SubElement(cell, f"{MAIN}is"), f"{MAIN}t").text = text
        elif text is not None:
            etree.SubElement(cell, f"{MAIN}v").text = text
        if text is not None and kind != "n":
            cell.set("t", kind)

    return plant


def formula(name: str, change: tuple[str, str], down: int = 0) -> Callable[[File], None]:
    """A text in a formula replaced; the stored value stays."""

    def plant(file: File) -> None:
        cell = file.cell(name, down).find(f"{MAIN}f")
        assert change[0] in cell.text, cell.text
        cell.text = cell.text.replace(*change, 1)

    return plant


def next_row(name: str, read: str, down: int) -> Callable[[File], None]:
    """The formula of a row reads a cell of the row below, once."""

    def plant(file: File) -> None:
        cell = file.cell(name, down).find(f"{MAIN}f")
        own, below = (file.place(read, at)[1] for at in (down, down + 1))
        cell.text, count = re.subn(rf"\b{own}\b", below, cell.text, count=1)
        assert count == 1, cell.text

    return plant


def new_formula(name: str, text: str, down: int = 0) -> Callable[[File], None]:
    """A formula in the place of a text, with that text as its stored value."""

    def plant(file: File) -> None:
        cell = file.cell(name, down)
        stored = "".join(cell.itertext())
        assert stored
        del cell[:]
        cell.set("t", "str")
        etree.SubElement(cell, f"{MAIN}f").text = text
        etree.SubElement(cell, f"{MAIN}v").text = stored

    return plant


def number_format(name: str, code: str, down: int = 0) -> Callable[[File], None]:
    def plant(file: File) -> None:
        file.look(file.cell(name, down), lambda look, file: look.set("numFmtId", file.form(code)))

    return plant


def font(name: str, inner: str, down: int = 0) -> Callable[[File], None]:
    def plant(file: File) -> None:
        file.look(file.cell(name, down), lambda look, file: look.set("fontId", file.font(inner)))

    return plant


def attribute(path: str, root: str, **values: str) -> Callable[[File], None]:
    """Attributes of the first element of a path in a part."""

    def plant(file: File) -> None:
        found = file.tree(root).find(path)
        assert found is not None
        for name, text in values.items():
            found.set(name, text)

    return plant


def state(name: str, how: str) -> Callable[[File], None]:
    """The sheet of a name is hidden."""

    def plant(file: File) -> None:
        sheets = file.tree(BOOK).find(f"{MAIN}sheets")
        next(one for one in sheets if one.get("name") == file.place(name)[0]).set("state", how)

    return plant


def row_attribute(name: str, down: int = 0, **values: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        title, address = file.place(name, down)
        row = file.row(title, int(re.sub(r"\D", "", address)))
        for key, text in values.items():
            row.set(key, text)

    return plant


def column_attribute(name: str, **values: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        title, address = file.place(name)
        number = str(range_boundaries(address)[0])
        column = next(one for one in file.sheet(title).iter(f"{MAIN}col") if one.get("min") == number == one.get("max"))
        for key, text in values.items():
            column.set(key, text)

    return plant


def defined(name: str, text: str | None) -> Callable[[File], None]:
    """A defined name stands for something else, or is gone."""

    def plant(file: File) -> None:
        names = file.tree(BOOK).find(f"{MAIN}definedNames")
        one = next(one for one in names if one.get("name") == name and one.get("localSheetId") is None)
        if text is None:
            names.remove(one)
        else:
            one.text = text

    return plant


def name_added(name: str, text: str, **attributes: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        names = file.tree(BOOK).find(f"{MAIN}definedNames")
        etree.SubElement(names, f"{MAIN}definedName", name=name, **attributes).text = text

    return plant


def print_name(of: str, name: str, text: str) -> Callable[[File], None]:
    """A print area or title of the sheet of a name."""

    def plant(file: File) -> None:
        number = str(file.book.workbook.sheetnames.index(file.place(of)[0]))
        names = file.tree(BOOK).find(f"{MAIN}definedNames")
        one = next(one for one in names if (one.get("name"), one.get("localSheetId")) == (name, number))
        one.text = f"{one.text.partition('!')[0]}!{text}"

    return plant


def shifted(name: str, rows: int) -> Callable[[File], None]:
    """The range of a name begins and ends so many rows further down."""

    def plant(file: File) -> None:
        names = file.tree(BOOK).find(f"{MAIN}definedNames")
        one = next(one for one in names if one.get("name") == name)
        one.text = re.sub(r"(?<=\$)\d+", lambda found: str(int(found[0]) + rows), one.text)

    return plant


def validation(name: str, change: Callable[[etree._Element], None]) -> Callable[[File], None]:
    """The check of an input changed."""

    def plant(file: File) -> None:
        title, address = file.place(name)
        rules = file.sheet(title).iter(f"{MAIN}dataValidation")
        change(next(one for one in rules if one.get("sqref", "").split(":")[0] == address))

    return plant


def part_text(at: int, text: str) -> Callable[[etree._Element], None]:
    """The text of an element's child."""

    def change(one: etree._Element) -> None:
        one[at].text = text

    return change


def rules_of(file: File, name: str, words: str) -> etree._Element:
    """The first conditional format of a sheet whose formula holds some words."""
    found = (
        one for one in file.sheet_of(name).iter(f"{MAIN}cfRule") if words in (one.findtext(f"{MAIN}formula") or "")
    )
    return next(found)


def rule_gone(name: str, words: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        one = rules_of(file, name, words)
        one.getparent().remove(one)

    return plant


def rule_look(name: str, words: str, inner: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        rules_of(file, name, words).set("dxfId", file.conditional(inner))

    return plant


def rule_added(name: str, text: str, inner: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        sheet = file.sheet_of(name)
        area = etree.Element(f"{MAIN}conditionalFormatting", sqref=file.place(name)[1])
        rule = etree.SubElement(area, f"{MAIN}cfRule", type="expression", priority="900", dxfId=file.conditional(inner))
        etree.SubElement(rule, f"{MAIN}formula").text = text
        sheet.find(f"{MAIN}conditionalFormatting").addprevious(area)

    return plant


def merged(name: str, *, less: bool = False, with_next: bool = False) -> Callable[[File], None]:
    """The merged cell of a name loses its last column, or is undone; `with_next` merges one that was not."""

    def plant(file: File) -> None:
        title, address = file.place(name)
        cells = file.sheet(title).find(f"{MAIN}mergeCells")
        if with_next:
            column, row, *_ = range_boundaries(address)
            etree.SubElement(cells, f"{MAIN}mergeCell", ref=f"{address}:{get_column_letter(column + 1)}{row}")
            return
        one = next(one for one in cells if one.get("ref").split(":")[0] == address)
        if less:
            _, _, right, bottom = range_boundaries(one.get("ref"))
            one.set("ref", f"{address}:{get_column_letter(right - 1)}{bottom}")
        else:
            cells.remove(one)

    return plant


def protection(of: str, **values: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        one = file.sheet_of(of).find(f"{MAIN}sheetProtection")
        for name, text in values.items():
            one.set(name, text)

    return plant


def related(file: File, name: str, kind: str) -> str:
    """The first part of a kind that a part is related to."""
    folder, _, own = name.rpartition("/")
    root = file.tree(f"{folder}/_rels/{own}.rels")
    target = next(one.get("Target") for one in root if one.get("Type").endswith(f"/{kind}"))
    return target.removeprefix("/") if target.startswith("/") else posixpath.normpath(f"{folder}/{target}")


def chart(of: str, change: Callable[[etree._Element], None]) -> Callable[[File], None]:
    """The first chart of the sheet of a name changed."""

    def plant(file: File) -> None:
        drawing = related(file, file.part_of(file.place(of)[0]), "drawing")
        change(file.tree(related(file, drawing, "chart")))

    return plant


def range_moved(root: etree._Element) -> None:
    """The last row of a series' values is left out."""
    one = list(root.iter("{*}f"))[-1]
    start, _, end = one.text.rpartition("$")
    one.text = f"{start}${int(end) - 1}"


def axis_moved(root: etree._Element) -> None:
    scaling = next(root.iter("{*}scaling"))
    tag = f"{{{etree.QName(scaling).namespace}}}min"
    for one in scaling.findall(tag):
        scaling.remove(one)
    etree.SubElement(scaling, tag, val="0.7")


def footer(name: str, text: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        file.sheet_of(name).find(f"{MAIN}headerFooter/{MAIN}oddFooter").text = text

    return plant


def picture(of: str) -> Callable[[File], None]:
    """A shape laid over cells of the sheet of a name."""

    def plant(file: File) -> None:
        root = file.tree(related(file, file.part_of(file.place(of)[0]), "drawing"))
        space = "http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing"
        anchor = etree.SubElement(root, f"{{{space}}}absoluteAnchor")
        etree.SubElement(anchor, f"{{{space}}}sp")

    return plant


def new_sheet(file: File) -> None:
    sheets = file.tree(BOOK).find(f"{MAIN}sheets")
    file.relate("xl/_rels/workbook.xml.rels", "worksheet", "worksheets/sheet99.xml")
    number = file.tree("xl/_rels/workbook.xml.rels")[-1].get("Id")
    etree.SubElement(sheets, f"{MAIN}sheet", {"name": "Notes", "sheetId": "99", f"{{{OFFICE}}}id": number})
    file.add("xl/worksheets/sheet99.xml", f'<worksheet xmlns="{MAIN[1:-1]}"><sheetData/></worksheet>')


def lock_off(name: str) -> Callable[[File], None]:
    def unlocked(look: etree._Element, _: File) -> None:
        for one in look.findall(f"{MAIN}protection"):
            look.remove(one)
        look.set("applyProtection", "1")
        etree.SubElement(look, f"{MAIN}protection", locked="0")

    return lambda file: file.look(file.cell(name), unlocked)


def concealed(name: str) -> Callable[[File], None]:
    def hidden(look: etree._Element, _: File) -> None:
        for one in look.findall(f"{MAIN}protection"):
            look.remove(one)
        etree.SubElement(look, f"{MAIN}protection", hidden="1")

    return lambda file: file.look(file.cell(name), hidden)


def renamed(name: str, now: str) -> Callable[[File], None]:
    """The sheet of a name called otherwise, as a spreadsheet program does it: in names and formulas too."""

    def plant(file: File) -> None:
        title = file.place(name)[0]
        root = file.tree(BOOK)
        next(one for one in root.find(f"{MAIN}sheets") if one.get("name") == title).set("name", now)
        texts = list(root.find(f"{MAIN}definedNames"))
        for other in file.book.workbook.sheetnames:
            texts += file.sheet(other).iter(f"{MAIN}f")
        for one in texts:
            one.text = (one.text or "").replace(f"'{title}'!", f"{now}!").replace(f"{title}!", f"{now}!")

    return plant


def sheet_gone(name: str) -> Callable[[File], None]:
    """The sheet of a name is deleted, with its own names; those of the sheets after it follow their sheets."""

    def plant(file: File) -> None:
        sheets = file.tree(BOOK).find(f"{MAIN}sheets")
        gone = next(one for one in sheets if one.get("name") == file.place(name)[0])
        number = list(sheets).index(gone)
        sheets.remove(gone)
        for one in list(file.tree(BOOK).find(f"{MAIN}definedNames")):
            local = int(one.get("localSheetId", -1))
            if local == number:
                one.getparent().remove(one)
            elif local > number:
                one.set("localSheetId", str(local - 1))

    return plant


def linked(of: str) -> Callable[[File], None]:
    """A link to an address outside."""

    def plant(file: File) -> None:
        folder, _, own = file.part_of(file.place(of)[0]).rpartition("/")
        file.relate(f"{folder}/_rels/{own}.rels", "hyperlink", "http://elsewhere.invalid/", outside=True)

    return plant
