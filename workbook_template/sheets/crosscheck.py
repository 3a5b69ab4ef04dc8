"""The block that holds the sheet's own figures against the functions, where they are installed.

The workbook needs no functions. Where LibreOffice or Excel has them, each line says whether formula and function
agree; elsewhere it says in words that they are not loaded. Nothing of it is ever an error on paper.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template.figures.notation import first, known, no, say, shown, the, when, xl
from workbook_template.figures.tree import Node
from workbook_template.paper import blocks
from workbook_template.paper.blocks import Book

_TIP_SIZE = say(xl.SUBSTITUTE(the.tip_size & "", ",", "."), " ", the.unit)
_TIP = when(the.tip_kind.same("sharp"), "sharp", say(when(the.tip_kind.same("flat"), "flat ", "radius "), _TIP_SIZE))
_METHOD = when(the.alike_flanks, "exact", "handbook")
CHECKS = (
    ("pitch_max", "Pitch diameter, max", xl.THREAD_PITCH_DIAMETER(the.callout, "max", the.unit)),
    ("pitch_min", "Pitch diameter, min", xl.THREAD_PITCH_DIAMETER(the.callout, "min", the.unit)),
    ("lead", "Lead", xl.THREAD_LEAD(the.callout, the.unit)),
    ("wire_best", "Best wire", xl.THREAD_BEST_WIRE(the.callout, the.unit)),
    ("over_wires_max", "Over wires, max", xl.THREAD_OVER_WIRES(the.callout, the.wire_used, "max", the.unit, _METHOD)),
    ("radial_infeed", "Radial infeed", xl.THREAD_DEPTH(the.callout, _TIP, the.aim_limit, the.blank_used, the.unit)),
    ("compound_travel", "Compound travel", xl.THREAD_COMPOUND(the.radial_infeed, the.angle_used)),
)
"""Name of the sheet's figure, its label, the function that must give the same."""

CLOSE = 0.000000001


def build(book: Book, ws: Worksheet, row: int) -> int:
    """Write the block under `row`; the last row it takes. What the functions gave stands beside, not printed."""
    blocks.heading(book, ws, f"A{row}:B{row}", "Cross-check with the functions")
    blocks.write(book, ws, f"D{row}", "what the functions give (not printed)", "small")
    whether = "whether the functions are installed"
    loaded = known(xl.IFERROR(xl.THREAD_PITCH("M20x2.5"), ""))
    blocks.result(book, ws, f"D{row + 1}", "functions_loaded", whether, loaded, role="working")
    words = when(
        the.functions_loaded,
        "The functions are installed; each line says whether they agree.",
        "The functions are not loaded here. The workbook does not need them.",
    )
    blocks.write(book, ws, f"A{row + 1}", "", "guide_left")
    blocks.result(book, ws, f"B{row + 1}", "functions_words", whether, words, look="guide")
    for at, (name, label, call) in enumerate(CHECKS, start=row + 2):
        own, meaning = the[name], label.lower()
        given = when(the.functions_loaded, when(known(own), xl.IFERROR(call, "no number")))
        blocks.result(book, ws, f"D{at}", f"function_{name}", f"{meaning} by the function", given, role="working")
        blocks.write(book, ws, f"A{at}", label, "guide_left")
        verdict = _verdict(own, the[f"function_{name}"])
        blocks.result(book, ws, f"B{at}", f"check_{name}", f"{meaning}: do they agree", verdict, look="guide")
    return row + 1 + len(CHECKS)


def _verdict(own: Node, given: Node) -> Node:
    """Whether the sheet's figure and what the function gives agree, with two decimals more than the sheet shows."""
    digits = the.decimals + 2
    return first(
        (no(the.functions_loaded), "not loaded"),
        (no(known(own)), "no figure yet"),
        (no(known(given)), "the function gives no number: look into it"),
        (xl.ABS(given - own) <= (xl.ABS(own) + CLOSE) * CLOSE, say("agree: ", shown(own, digits))),
        otherwise=say("DIFFER: formula ", shown(own, digits), ", function ", shown(given, digits)),
    )
