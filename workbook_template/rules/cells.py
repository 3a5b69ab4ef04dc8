"""Rules of what stands on a sheet: cells, rows, columns, merged ranges, links, headers and footers."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

from lxml import etree

from workbook_template.rules.formula import LONGEST, Surroundings, formula_faults
from workbook_template.rules.parts import (
    MAIN,
    RELATION,
    Box,
    Fault,
    Parts,
    SheetPart,
    box,
    cell_place,
    overlaps,
    text_of,
)

LONGEST_CELL, WIDEST, HIGHEST, LONGEST_LINK, LONGEST_HEADER = 32767, 255.0, 409.5, 2079, 255
SPACE = "{http://www.w3.org/XML/1998/namespace}space"
SPARE = 2000
"""Characters that longer row numbers may add to a formula; nearer to the limit each is read for itself."""
ERRORS = ("#NULL!", "#DIV/0!", "#VALUE!", "#REF!", "#NAME?", "#NUM!", "#N/A", "#GETTING_DATA")


def cell_faults(book: Parts, sheet: SheetPart, around: Surroundings) -> Iterator[Fault]:
    """Rows and cells stand in order and hold what they say they hold."""
    formats = 1 if book.styles is None else len(book.styles.findall(f"{MAIN}cellXfs/{MAIN}xf"))
    above = 0
    clean: set[str] = set()  # formulas without a fault, rows counted from their own: columns repeat theirs
    for row in sheet.root.iterfind(f"{MAIN}sheetData/{MAIN}row"):
        number = int(row.get("r", above + 1))
        if number <= above:
            yield Fault(sheet.part, f"row {number}", "the row stands twice or out of order")
        above = number
        if float(row.get("ht", 0)) > HIGHEST:
            yield Fault(sheet.part, f"row {number}", f"the row is higher than {HIGHEST} points")
        if int(row.get("s", 0)) >= formats:
            yield Fault(sheet.part, f"row {number}", "the row has a format that is not in the file")
        left = 0
        for cell in row.iterfind(f"{MAIN}c"):
            place = cell.get("r", "")
            where = cell_place(place)
            if where is None or where[1] != number:
                yield Fault(sheet.part, place, f"the cell stands in row {number}, where it does not belong")
            elif where[0] <= left:
                yield Fault(sheet.part, place, "the cell stands twice or out of order")
            else:
                left = where[0]
            if int(cell.get("s", 0)) >= formats:
                yield Fault(sheet.part, place, "the cell has a format that is not in the file")
            if cell.find(f"{MAIN}f") is None and (len(cell) or cell.get("t")) and not "".join(cell.itertext()):
                yield Fault(sheet.part, place, "the cell is blank and claims to hold something")
            if not len(cell):
                continue
            for element in cell.iter(f"{MAIN}t", f"{MAIN}v"):
                if (element.text or "").strip() != (element.text or "") and element.get(SPACE) != "preserve":
                    yield Fault(sheet.part, place, "the cell's text will lose the blanks at its ends")
            yield from (Fault(sheet.part, place, sentence) for sentence in _content(cell, book.texts))
            formula = cell.find(f"{MAIN}f")
            if formula is None:
                continue
            alike = _from_row(formula.text or "", number)
            if alike not in clean:
                sentences = list(formula_faults(formula.text or "", around))
                yield from (Fault(sheet.part, place, sentence) for sentence in sentences)
                if not sentences and len(alike) < LONGEST - SPARE:
                    clean.add(alike)


_CELL = re.compile(r"(?<![\w.])(\$?[A-Z]{1,3})(\d+)(?![\w.(])")


def _from_row(formula: str, number: int) -> str:
    """The formula with the rows of its cells counted from the row it stands in.

    >>> _from_row("A9+B$2-LOG10(A8)", 9)
    'A[0]+B$2-LOG10(A[-1])'
    """
    return _CELL.sub(lambda found: f"{found[1]}[{int(found[2]) - number}]", formula)


def _content(cell: etree._Element, texts: tuple[str, ...]) -> Iterator[str]:
    """The stored value is of the kind that it claims to be."""
    kind, value = cell.get("t", "n"), cell.findtext(f"{MAIN}v") or ""
    if kind == "inlineStr":
        inline = cell.find(f"{MAIN}is")
        value = "" if inline is None else text_of(inline)
    elif kind == "s":
        if not value.isdigit() or int(value) >= len(texts):
            yield "the cell holds a text that is not in the file"
            return
        value = texts[int(value)]
    elif value and kind == "n" and not _is_finite(value):
        yield f"the cell holds {value[:20]}, which is no number"
    elif value and kind == "b" and value not in ("0", "1"):
        yield f"the cell holds {value[:20]}, which is neither true nor false"
    elif value and kind == "e" and value not in ERRORS:
        yield f"the cell holds {value[:20]}, which is no error value"
    if len(value) > LONGEST_CELL:
        yield f"the cell's text has {len(value)} characters; {LONGEST_CELL} are the most"


def _is_finite(text: str) -> bool:
    try:
        return math.isfinite(float(text))
    except ValueError:
        return False


def arrays(sheet: SheetPart) -> list[tuple[str, Box]]:
    """The ranges of array formulas."""
    found = []
    for formula in sheet.root.iterfind(f"{MAIN}sheetData/{MAIN}row/{MAIN}c/{MAIN}f[@t='array']"):
        place = box(formula.get("ref", ""))
        if place:
            found.append((formula.get("ref", ""), place))
    return found


def merges(sheet: SheetPart) -> list[tuple[str, Box]]:
    """The merged ranges."""
    refs = [merge.get("ref", "") for merge in sheet.root.iterfind(f"{MAIN}mergeCells/{MAIN}mergeCell")]
    return [(ref, place) for ref in refs if (place := box(ref))]


def layout_faults(book: Parts, sheet: SheetPart) -> Iterator[Fault]:
    """Column widths, merged ranges and arrays, headers and footers."""
    right = 0
    for column in sheet.root.iterfind(f"{MAIN}cols/{MAIN}col"):
        first, last = int(column.get("min", 0)), int(column.get("max", 0))
        where = f"column {first}"
        if not 0 <= float(column.get("width", 8)) <= WIDEST:
            yield Fault(sheet.part, where, f"the column is wider than {WIDEST:g} characters")
        if first <= right or last < first:
            yield Fault(sheet.part, where, "the column is described twice or out of order")
        right = max(right, last)
    merged = sheet.root.findall(f"{MAIN}mergeCells/{MAIN}mergeCell")
    for merge in merged:
        place = box(merge.get("ref", ""))
        if place is None or place[:2] == place[2:]:
            yield Fault(sheet.part, merge.get("ref", ""), "the merged range is none, or a single cell")
    for ref, other in overlaps([*arrays(sheet), *merges(sheet)]):
        yield Fault(sheet.part, ref, f"the merged range or array shares a cell with {other}")
    for element in sheet.root.iterfind(f"{MAIN}headerFooter/*"):
        if len(element.text or "") > LONGEST_HEADER:
            kind = etree.QName(element).localname
            yield Fault(sheet.part, kind, f"a header or footer has more than {LONGEST_HEADER} characters")


def link_faults(book: Parts, sheet: SheetPart, around: Surroundings) -> Iterator[Fault]:
    """Links lead somewhere and are short enough."""
    targets = {one.id: one.target for one in book.relations.get(sheet.part, [])}
    for link in sheet.root.iterfind(f"{MAIN}hyperlinks/{MAIN}hyperlink"):
        place, inside = link.get("ref", ""), link.get("location", "")
        target = targets.get(link.get(f"{RELATION}id", ""), "")
        if len(target) + len(inside) > LONGEST_LINK:
            yield Fault(sheet.part, place, f"the link has more than {LONGEST_LINK} characters")
        if box(place) is None:
            yield Fault(sheet.part, place, "the link stands on no cell")
        if not target and not inside:
            yield Fault(sheet.part, place, "the link leads nowhere")
        if inside and not target:
            for sentence in formula_faults(inside, around):
                yield Fault(sheet.part, place, f"the link can't be followed: {sentence}")
        if len(link.get("tooltip", "")) > 255:
            yield Fault(sheet.part, place, "the link's message has more than 255 characters")
