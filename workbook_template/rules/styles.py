"""Rules of the style part: number formats that can be read, and formats that lean on what is there."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lxml import etree

from workbook_template.rules.parts import MAIN, Fault, Parts

LONGEST_FORMAT, MOST_SECTIONS, FIRST_OWN = 255, 4, 164

_LITERAL = re.compile(r'"[^"]*"|\\.|_.|\*.', re.DOTALL)
_BRACKET = re.compile(r"\[[^\[\]]*\]")


def style_faults(book: Parts) -> Iterator[Fault]:
    """Number formats, and the fonts, fills and borders that the cell formats name."""
    root = book.styles
    if root is None:
        return
    for form in root.iter(f"{MAIN}numFmt"):
        code = form.get("formatCode", "")
        yield from (Fault(book.styles_part, code, sentence) for sentence in number_format_faults(code))
    own = {int(form.get("numFmtId", 0)) for form in root.iterfind(f"{MAIN}numFmts/{MAIN}numFmt")}
    counts = {
        "fontId": len(root.findall(f"{MAIN}fonts/{MAIN}font")),
        "fillId": len(root.findall(f"{MAIN}fills/{MAIN}fill")),
        "borderId": len(root.findall(f"{MAIN}borders/{MAIN}border")),
        "xfId": len(root.findall(f"{MAIN}cellStyleXfs/{MAIN}xf")),
    }
    for group in ("cellStyleXfs", "cellXfs"):
        for index, form in enumerate(root.iterfind(f"{MAIN}{group}/{MAIN}xf")):
            where = f"{group} {index}"
            for name, count in counts.items():
                if int(form.get(name, 0)) >= count:
                    yield Fault(book.styles_part, where, f"the format's {name} is not in the file")
            number = int(form.get("numFmtId", 0))
            if number >= FIRST_OWN and number not in own:
                yield Fault(book.styles_part, where, "the format's number format is not in the file")
    yield from _cell_styles(book, root, counts["xfId"])


def _cell_styles(book: Parts, root: etree._Element, count: int) -> Iterator[Fault]:
    seen: set[str] = set()
    for style in root.iterfind(f"{MAIN}cellStyles/{MAIN}cellStyle"):
        name = style.get("name", "")
        if int(style.get("xfId", 0)) >= count:
            yield Fault(book.styles_part, name, "the cell style's format is not in the file")
        if name.lower() in seen:
            yield Fault(book.styles_part, name, "two cell styles have the same name")
        seen.add(name.lower())


def number_format_faults(code: str) -> Iterator[str]:
    """
    >>> list(number_format_faults('0.0000" in";[Red]-0.0000')), list(number_format_faults('0.0"in'))
    ([], ['a quotation mark of the number format is not closed'])
    """
    if not 0 < len(code) <= LONGEST_FORMAT:
        yield f"the number format has {len(code)} characters; 1 to {LONGEST_FORMAT}"
    plain = _LITERAL.sub("", code)
    if '"' in plain:
        yield "a quotation mark of the number format is not closed"
    rest = _BRACKET.sub("", plain)
    if "[" in rest or "]" in rest:
        yield "a bracket of the number format is not closed"
    if rest.count(";") >= MOST_SECTIONS:
        yield f"the number format has more than {MOST_SECTIONS} sections"
