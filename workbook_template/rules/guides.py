"""Rules of what guides the hand and the eye: data validations, conditional formats, tables."""

from __future__ import annotations

from collections.abc import Iterator

from lxml import etree

from workbook_template.rules.cells import arrays, merges
from workbook_template.rules.formula import Surroundings, formula_faults
from workbook_template.rules.parts import (
    MAIN,
    Box,
    Fault,
    Parts,
    SheetPart,
    Table,
    box,
    cell_place,
    overlap,
    overlaps,
    text_of,
)

LONGEST_TITLE, LONGEST_MESSAGE, LONGEST_LIST = 32, 255, 255
OPEN_ENDS = ("a", "an", "and", "of", "or", "per", "the")
"""Words that no title ends with."""
TWO_LIMITS = ("between", "notBetween")
TEXT_RULES = {"expression": 1, "cellIs": 1}
"""Kinds of conditional format that need a formula."""


def _boxes(element: etree._Element) -> list[tuple[str, Box | None]]:
    return [(ref, box(ref)) for ref in element.get("sqref", "").split()]


def validation_faults(book: Parts, sheet: SheetPart, around: Surroundings) -> Iterator[Fault]:
    """Messages fit, rules have their limits, and no cell has two of them."""
    taken: list[tuple[str, Box]] = []
    for rule in sheet.root.iterfind(f"{MAIN}dataValidations/{MAIN}dataValidation"):
        place = rule.get("sqref", "")
        own = _boxes(rule)
        if not own or any(where is None for _, where in own):
            yield Fault(sheet.part, place, "the validation stands on no cells")
        taken += [(ref, where) for ref, where in own if where]
        for name, most in (
            ("promptTitle", LONGEST_TITLE),
            ("errorTitle", LONGEST_TITLE),
            ("prompt", LONGEST_MESSAGE),
            ("error", LONGEST_MESSAGE),
        ):
            if len(rule.get(name, "")) > most:
                yield Fault(sheet.part, place, f"the validation's {name} has more than {most} characters")
            elif most == LONGEST_TITLE and _looks_cut(rule.get(name, "")):
                yield Fault(sheet.part, place, f"the validation's {name} looks cut off")
        formulas = [rule.findtext(f"{MAIN}formula1") or "", rule.findtext(f"{MAIN}formula2") or ""]
        yield from (Fault(sheet.part, place, f"validation: {text}") for text in _limits(rule, formulas, around))
    for ref, other in overlaps(taken):
        yield Fault(sheet.part, ref, f"the cell has two validations, here and with {other}")


def _looks_cut(title: str) -> bool:
    """Whether a title was cut to what fits: it has every character that fits, or ends on what wants another word.

    >>> _looks_cut("Width of the flat, or nose radiu"), _looks_cut("Diameter of the"), _looks_cut("Coverage factor k")
    (True, True, False)
    """
    last = title.split(" ")[-1]
    return len(title) == LONGEST_TITLE or title[-1:] in ("-", ",", ";", ":", " ") or last in OPEN_ENDS


def _limits(rule: etree._Element, formulas: list[str], around: Surroundings) -> Iterator[str]:
    kind = rule.get("type", "none")
    if kind != "none" and not formulas[0]:
        yield "there is no limit or list"
    two = kind not in ("none", "list", "custom") and rule.get("operator", "between") in TWO_LIMITS
    if two and not formulas[1]:
        yield "the second limit is missing"
    if kind == "list" and formulas[0].startswith('"') and len(formulas[0]) > LONGEST_LIST + 2:
        yield f"the list has more than {LONGEST_LIST} characters"
        return
    if kind == "list" and not formulas[0].startswith('"') and rule.get("allowBlank") in ("1", "true"):
        yield "Excel takes anything while a cell of the list is blank; blanks must not be ignored"
    for formula in formulas:
        if formula:
            yield from formula_faults(formula, around)


def conditional_faults(book: Parts, sheet: SheetPart, around: Surroundings) -> Iterator[Fault]:
    """Conditional formats have what their kind needs."""
    looks = 0 if book.styles is None else len(book.styles.findall(f"{MAIN}dxfs/{MAIN}dxf"))
    for block in sheet.root.iterfind(f"{MAIN}conditionalFormatting"):
        place = block.get("sqref", "")
        if any(where is None for _, where in _boxes(block)) or not place:
            yield Fault(sheet.part, place, "the conditional format stands on no cells")
        for rule in block.iterfind(f"{MAIN}cfRule"):
            for sentence in (*_parts_of(rule, looks), *_formulas_of(rule, around)):
                yield Fault(sheet.part, place, f"conditional format: {sentence}")


def _formulas_of(rule: etree._Element, around: Surroundings) -> Iterator[str]:
    formulas = rule.findall(f"{MAIN}formula")
    needed = 2 if rule.get("operator") in TWO_LIMITS else TEXT_RULES.get(rule.get("type", ""), 0)
    if len(formulas) < needed:
        yield "a formula is missing"
    for formula in formulas:
        yield from formula_faults(formula.text or "", around)


def _parts_of(rule: etree._Element, looks: int) -> Iterator[str]:
    look = rule.get("dxfId")
    if look is not None and int(look) >= looks:
        yield "its look is not in the file"
    for kind, colours, wanted in (("iconSet", None, None), ("colorScale", 0, None), ("dataBar", 1, 2)):
        scale = rule.find(f"{MAIN}{kind}")
        if scale is None:
            continue
        limits, shades = len(scale.findall(f"{MAIN}cfvo")), len(scale.findall(f"{MAIN}color"))
        if kind == "iconSet":
            wanted = int(scale.get("iconSet", "3TrafficLights1")[0])
        if wanted and limits != wanted:
            yield f"there are {limits} limits for {wanted}"
        if colours is not None and shades != (colours or limits):
            yield f"there are {shades} colours for {colours or limits}"


def table_faults(book: Parts, around: Surroundings) -> Iterator[Fault]:
    """Tables agree with their sheet: header texts, and nothing across their edges."""
    ids = [table.root.get("id") for table in book.tables]
    for table in book.tables:
        place = box(table.ref)
        if place is None:
            yield Fault(table.part, table.name, "the table stands on no cells")
            continue
        if ids.count(table.root.get("id")) > 1:
            yield Fault(table.part, table.name, "two tables have the same number")
        yield from (Fault(table.part, table.name, sentence) for sentence in _columns(table, place, book.texts))
        yield from (Fault(table.part, table.name, sentence) for sentence in _neighbours(book, table, place))
        inside = around._replace(sheet=table.sheet.name.lower(), table=table.name)
        for tag in ("calculatedColumnFormula", "totalsRowFormula"):
            for formula in table.root.iter(f"{MAIN}{tag}"):
                for sentence in formula_faults(formula.text or "", inside):
                    yield Fault(table.part, table.name, sentence)


def _columns(table: Table, place: Box, texts: tuple[str, ...]) -> Iterator[str]:
    left, top, right, bottom = place
    headed = table.root.get("headerRowCount", "1") != "0"
    if bottom - top < headed:
        yield "the table has no row under its header"
    if len(table.columns) != right - left + 1:
        yield f"the table has {len(table.columns)} columns on {right - left + 1} columns of the sheet"
    lower = [column.lower() for column in table.columns]
    for column in sorted({column for column in lower if lower.count(column) > 1}):
        yield f"two columns of the table are called {column}"
    filtered = table.root.find(f"{MAIN}autoFilter")
    within = None if filtered is None else box(filtered.get("ref", ""))
    if filtered is not None and (within is None or within[:3] != place[:3] or within[3] > bottom):
        yield "the table's filter is not on the table"
    if not headed:
        return
    heads = _heads(table.sheet, place, texts)
    for offset, column in enumerate(table.columns):
        if heads.get(left + offset) != column:
            yield f"the header cell of column {column} does not hold that text"


def _heads(sheet: SheetPart, place: Box, texts: tuple[str, ...]) -> dict[int, str]:
    """The plain texts of a header row by column; numbers and formulas are left out."""
    heads: dict[int, str] = {}
    for cell in sheet.root.iterfind(f"{MAIN}sheetData/{MAIN}row[@r='{place[1]}']/{MAIN}c"):
        where, kind = cell_place(cell.get("r", "")), cell.get("t")
        if where is None or cell.find(f"{MAIN}f") is not None:
            continue
        inline, value = cell.find(f"{MAIN}is"), cell.findtext(f"{MAIN}v") or ""
        if kind == "inlineStr" and inline is not None:
            heads[where[0]] = text_of(inline)
        elif kind == "s" and value.isdigit() and int(value) < len(texts):
            heads[where[0]] = texts[int(value)]
    return heads


def _neighbours(book: Parts, table: Table, place: Box) -> Iterator[str]:
    for other in book.tables:
        there = box(other.ref)
        if other.sheet.part == table.sheet.part and other.part < table.part and there and overlap(place, there):
            yield f"the table shares a cell with the table {other.name}"
    for ref, there in merges(table.sheet):
        if overlap(place, there):
            yield f"cells of the table are merged: {ref}"
    for ref, there in arrays(table.sheet):
        if there[:2] != there[2:] and overlap(place, there):
            yield f"an array of several cells stands in the table: {ref}"
    filtered = table.sheet.root.find(f"{MAIN}autoFilter")
    there = None if filtered is None else box(filtered.get("ref", ""))
    if there and overlap(place, there):
        yield "the sheet's own filter lies over the table"
