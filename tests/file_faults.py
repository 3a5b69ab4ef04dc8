"""Kinds of faults beside the cells of a filled workbook: names, looks, paper, parts; each a small edit of XML."""

from __future__ import annotations

import re
from collections.abc import Callable

from edited_file import BOOK, OFFICE, File, related
from lxml import etree

from workbook_template.rules.parts import MAIN


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
        number = str(file.sample.titles.index(file.place(of)[0]))
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


def protection(of: str, **values: str) -> Callable[[File], None]:
    def plant(file: File) -> None:
        one = file.sheet_of(of).find(f"{MAIN}sheetProtection")
        for name, text in values.items():
            one.set(name, text)

    return plant


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


def renamed(name: str, now: str) -> Callable[[File], None]:
    """The sheet of a name called otherwise, as a spreadsheet program does it: in names and formulas too."""

    def plant(file: File) -> None:
        title = file.place(name)[0]
        root = file.tree(BOOK)
        next(one for one in root.find(f"{MAIN}sheets") if one.get("name") == title).set("name", now)
        texts = list(root.find(f"{MAIN}definedNames"))
        for other in file.sample.titles:
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
