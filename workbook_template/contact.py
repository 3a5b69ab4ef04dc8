"""Readings over wires with the lead angle in them, as formulas: sheetfuncs.helix, one row for a wire and a limit.

The radius at which the wire touches the flank comes by Newton's steps from where it would touch without a lead; each
step is a radius r, N = sqrt(1 + tan^2 a + (k / r)^2) and u = tan(-phi). With g(r) what still parts wire and flank,

    g = P/4 + (r - E/2) tan a - k atan u - (W/2) / N
    g' = tan a + k u / (1 + u^2) (1/r + (1 + tan^2 a) / (N (N r + (W/2) tan a))) - (W/2) (k/r)^2 / (r N^3)

and the reading is 2 C + W, C = (r + (W/2) (tan a + u k/r) / N) / sqrt(1 + u^2). Three steps leave nothing that shows:
docs/wires.md has the largest error over all threads, starts and wires. Between unlike flanks the rule of
sheetfuncs.wires stands, without the lead.
"""

from __future__ import annotations

from collections.abc import Iterator

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.wires import OFF_FLANK
from workbook_template import blocks
from workbook_template.blocks import Book

STEPS = 3
FIRST = 10
"""The first row, on the sheet Setup to the right of the page: the wire in use, then the sets of Instruments."""

_COLUMN = 42


def _letter(number: int) -> str:
    return get_column_letter(_COLUMN + number)


LABEL, WIRE, PITCH_DIAMETER = (_letter(number) for number in range(3))
READING = _letter(3 + 3 * (STEPS + 1))
ENDS = ("max", "min")
OF_SETUP = {"max": FIRST, "mid": FIRST + 1, "min": FIRST + 2}
SETS_FROM = FIRST + len(OF_SETUP)


def of_setup(end: str) -> str:
    """The cell of the reading over the wire in use at a limit."""
    return f"${READING}${OF_SETUP[end]}"


def of_set(number: int, end: str) -> str:
    """The cell, with its sheet, of the reading over a wire set of Instruments, counted from 0."""
    return f"Setup!${READING}${SETS_FROM + len(ENDS) * number + ENDS.index(end)}"


def share(highest: str, lowest: str) -> str:
    """How much of a reading's change is not the pitch diameter's, from the readings at the two limits.

    With the lead in it a reading is not the pitch diameter and a constant. Between the limits it runs straight, so
    reading less pitch diameter is `share` times the reading and `offset` more.
    """
    return f"1-pitch_tolerance/({highest}-{lowest})"


def offset(lowest: str, its_share: str) -> str:
    """Reading less pitch diameter on that line where the reading is 0."""
    return f"{lowest}*(1-{its_share})-pitch_min"


WORKING = (
    ("flank_tangent", "tangent of half the included angle", 'IF(ISNUMBER(half_angle),TAN(half_angle),"")'),
    ("lead_turned", "lead in a radian of the turn", 'IF(ISNUMBER(lead),lead/RADIANS(360),"")'),
    ("alike_flanks", "whether the flanks lean alike", "IF(ISNUMBER(thread_row),flank_leading=flank_trailing,FALSE)"),
    ("wire_share", "how much of a reading's change is not the pitch diameter's",
     f'IF(ISNUMBER(wire_constant),{share("over_wires_max", "over_wires_min")},"")'),
    ("wire_offset", "reading less pitch diameter of the wire in use, where the reading is 0",
     f'IF(ISNUMBER(wire_share),{offset("over_wires_min", "wire_share")},"")'),
    ("flank_end", "diameter at which the straight flank ends: where the largest wire touches",
     ('IF(ISNUMBER(wire_largest),pitch_max-2*half_height+wire_largest*(1/SIN(half_angle)-SIN(half_angle)),"")')),
)  # fmt: skip
"""Name, meaning, formula of what all rows share."""


def build(book: Book, ws: Worksheet, sets: int) -> None:
    """The rows for the wire in use and so many wire sets, with a heading over them."""
    heads = ["for", "wire", "pitch dia.", *("radius", "N", "u") * (STEPS + 1), "reading"]
    for number, head in enumerate(heads):
        blocks.write(book, ws, f"{_letter(number)}{FIRST - 1}", head, "head")
        ws.column_dimensions[_letter(number)].width = 10
    last = FIRST - 1
    for last, (label, wire, end) in enumerate(_rows(sets), start=FIRST):
        blocks.write(book, ws, f"{LABEL}{last}", label, "small")
        for letter, formula in _formulas(last, wire, end):
            blocks.write(book, ws, f"{letter}{last}", f"={formula}", "row", "General")
    for name, letters, meaning in (
        ("wire", WIRE, "wires whose readings are worked: the wire in use three times, each set twice"),
        ("pitch_diameter", PITCH_DIAMETER, "the limit of the pitch diameter that each is for"),
        ("steps", f"{_letter(3)}:{_letter(2 + 3 * (STEPS + 1))}", "where they touch: radius, N and u, step by step"),
        ("readings", READING, "the readings over them, with the lead angle"),
    ):
        left, _, right = letters.partition(":")
        blocks.define(book, ws, f"{left}{FIRST}:{right or left}{last}", f"contact_{name}", meaning, role="working")


def _rows(sets: int) -> Iterator[tuple[str, str, str]]:
    """Label, formula of the wire, limit of the pitch diameter."""
    for end in OF_SETUP:
        yield f"in use, {end}", 'IF(wire_serves,wire_used,"")', end
    for number in range(1, sets + 1):
        for end in ENDS:
            wire = f'IF(INDEX(wires_words,{number})="yes",INDEX(wires_mean,{number}),"")'
            yield f"set {number}, {end}", wire, end


def _formulas(row: int, wire: str, end: str) -> Iterator[tuple[str, str]]:
    """The cells of one row: column, formula."""
    w, pitch_diameter = f"${WIRE}{row}", f"${PITCH_DIAMETER}{row}"
    h, t, k = f"{w}/2", "flank_tangent", "lead_turned"
    limit = "(pitch_max+pitch_min)/2" if end == "mid" else f"pitch_{end}"
    yield WIRE, wire
    yield PITCH_DIAMETER, f'IF(ISNUMBER({w}),{limit},"")'
    start = f"{pitch_diameter}/2-half_height+{h}*(1/SIN(half_angle)-SIN(half_angle))"
    for step in range(STEPS + 1):
        radius, root, u = (f"{_letter(3 + 3 * step + part)}{row}" for part in range(3))
        yield radius.rstrip("0123456789"), f'IF(ISNUMBER({pitch_diameter}),{start},"")'
        yield root.rstrip("0123456789"), f'IF(ISNUMBER({radius}),SQRT(1+{t}^2+({k}/{radius})^2),"")'
        yield u.rstrip("0123456789"), f'IF(ISNUMBER({root}),{h}*{k}/({radius}*({root}*{radius}+{h}*{t})),"")'
        gap = f"pitch/4+({radius}-{pitch_diameter}/2)*{t}-{k}*ATAN2(1,{u})-{h}/{root}"
        slope = (
            f"{t}+{k}*{u}/(1+{u}^2)*(1/{radius}+(1+{t}^2)/({root}*({root}*{radius}+{h}*{t})))"
            f"-{h}*({k}/{radius})^2/({radius}*{root}^3)"
        )
        start = f"{radius}-({gap})/({slope})"
    exact = f"2*({radius}+{h}*({t}+{u}*{k}/{radius})/{root})/SQRT(1+{u}^2)+{w}"
    plain = f"{pitch_diameter}+{w}*wire_rise-2*half_height"
    off_flank = f"{radius}-flank_end/2>{OFF_FLANK}*pitch"
    yield READING, f'IF(NOT(ISNUMBER({u})),"",IF(NOT(alike_flanks),{plain},IF({off_flank},"",{exact})))'
