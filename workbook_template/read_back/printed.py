"""What is printed of a sheet: its print areas, the rows repeated on each page, headers and footers.

A list is printed as far as it was in use when the workbook was built, and the certificate has as many pages as the
parts need. So an area may end anywhere between what an empty workbook and a full one print, but at no row in use. Of
pages that are printed one by one, those of the lathes, any may be.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence, Set

from workbook_template.read_back.built import MadeSheet, PrintedPage
from workbook_template.read_back.contents import Error, Filled, FilledSheet
from workbook_template.read_back.findings import Finding, said
from workbook_template.read_back.page import areas_of
from workbook_template.rules.parts import box

_FONT = re.compile(r'&"[^"]*"|&\d+')


def differences(made: MadeSheet, book: Filled, found: FilledSheet) -> Iterator[Finding]:
    """How what is printed of a sheet differs from the built one."""
    title, built = made.title, made.page.areas
    now = areas_of(book.local_names.get((found.name, "_xlnm.print_area"), ""))
    width, own_pages = made.page.width, made.page.pages
    ends = _ends(now, width, own_pages)
    if built != now and not (ends and all(page.may_end(end) for page, end in zip(own_pages, ends))):
        yield _differs(title, "what is printed", built, now)
    elif ends:
        used = _in_use(made, found, width)
        for page, end in zip(own_pages, ends):
            beyond = [row for row in used if end < row <= page.most and not page.left_out(end)]
            if beyond:
                words = f"what is printed ends at row {max(end, page.top - 1)}, and row {min(beyond)} is in use"
                yield Finding("print area", title, "", "", words)
    titles = areas_of(book.local_names.get((found.name, "_xlnm.print_titles"), ""))
    if titles != made.page.titles:
        yield _differs(title, "rows repeated on each page", made.page.titles, titles)
    for place, text in made.page.margins.items():
        built_text, now_text = (_FONT.sub("", one) for one in (text, found.page.margins.get(place, "")))
        if built_text != now_text:
            what = "header" if place == "oddHeader" else "footer"
            words = f"the {what} is now {said(now_text)}; built was {said(built_text)}"
            yield Finding("print area", title, "", "", words)


def _differs(title: str, what: str, built: Set[str], now: Set[str]) -> Finding:
    shown, was = (", ".join(sorted(one)) or "not said" for one in (now, built))
    return Finding("print area", title, "", "", f"{what}: now {shown}; built was {was}")


def _ends(areas: Set[str], width: int, own_pages: Sequence[PrintedPage]) -> list[int]:
    """The last row of each page that areas print; nothing where they aren't pages from their first row on."""
    boxes = [one for ref in areas if (one := box(ref))]
    if len(boxes) != len(areas) or not own_pages:
        return []
    if any((left, right) != (1, width) or top < own_pages[0].top for left, top, right, _ in boxes):
        return []
    ends = []
    limits = [*(page.top - 1 for page in own_pages[1:]), max((bottom for *_, bottom in boxes), default=0)]
    for page, limit in zip(own_pages, limits):
        inside = [(max(top, page.top), min(bottom, limit)) for _, top, _, bottom in boxes]
        inside = [(top, bottom) for top, bottom in inside if top <= bottom]
        if len(inside) > 1 or any(top != page.top for top, _ in inside):
            return []
        ends.append(inside[0][1] if inside else page.top - 1)
    return ends


def _in_use(made: MadeSheet, found: FilledSheet, width: int) -> list[int]:
    """Rows in which something is typed, or a column of figures shows something."""
    columns = [corners for corners, _ in made.named if corners[1] < corners[3]]
    return sorted(
        {
            row
            for (row, column), cell in found.cells.items()
            if column <= width and cell.value not in (None, "") and not isinstance(cell.value, Error)
            if (row, column) in made.inputs
            or (cell.formula and any(a <= column <= c and b <= row <= d for a, b, c, d in columns))
        }
    )
