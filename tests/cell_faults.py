"""Kinds of faults in the cells of a filled workbook, each as a small edit of one file's XML."""

from __future__ import annotations

import re
from collections.abc import Callable

from edited_file import File
from lxml import etree
from openpyxl.utils import get_column_letter, range_boundaries

from workbook_template.rules.parts import MAIN


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
