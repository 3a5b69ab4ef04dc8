"""The block that holds the sheet's own figures against the functions, where they are installed.

The workbook needs no functions. Where LibreOffice or Excel has them, each line says whether formula and function
agree; elsewhere it says in words that they are not loaded. Nothing of it is ever an error on paper.
"""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks
from workbook_template.blocks import Book

_TIP = 'IF(tip_kind="sharp","sharp",IF(tip_kind="flat","flat ","radius ")&SUBSTITUTE(tip_size&"",",",".")&" "&unit)'
CHECKS = (
    ("pitch_max", "Pitch diameter, max", 'THREAD_PITCH_DIAMETER(callout,"max",unit)'),
    ("pitch_min", "Pitch diameter, min", 'THREAD_PITCH_DIAMETER(callout,"min",unit)'),
    ("lead", "Lead", "THREAD_LEAD(callout,unit)"),
    ("wire_best", "Best wire", "THREAD_BEST_WIRE(callout,unit)"),
    ("over_wires_max", "Over wires, max",
     'THREAD_OVER_WIRES(callout,wire_used,"max",unit,IF(alike_flanks,"exact","handbook"))'),
    ("radial_infeed", "Radial infeed", f"THREAD_DEPTH(callout,{_TIP},aim_limit,blank_used,unit)"),
    ("compound_travel", "Compound travel", "THREAD_COMPOUND(radial_infeed,angle_used)"),
)  # fmt: skip
"""Name of the sheet's figure, its label, the function that must give the same."""

CLOSE = "0.000000001"


def build(book: Book, ws: Worksheet, row: int) -> int:
    """Write the block under `row`; the last row it takes. What the functions gave stands beside, not printed."""
    blocks.heading(book, ws, f"A{row}:B{row}", "Cross-check with the functions")
    blocks.write(book, ws, f"D{row}", "what the functions give (not printed)", "small")
    loaded = 'ISNUMBER(IFERROR(THREAD_PITCH("M20x2.5"),""))'
    blocks.result(
        book, ws, f"D{row + 1}", "functions_loaded", "whether the functions are installed", loaded, role="working"
    )
    words = (
        'IF(functions_loaded,"The functions are installed; each line says whether they agree.",'
        '"The functions are not loaded here. The workbook does not need them."'
        ")"
    )
    blocks.write(book, ws, f"A{row + 1}", "", "guide_left")
    blocks.result(
        book, ws, f"B{row + 1}", "functions_words", "whether the functions are installed", words, look="guide"
    )
    for at, (name, label, call) in enumerate(CHECKS, start=row + 2):
        given = f'IF(functions_loaded,IF(ISNUMBER({name}),IFERROR({call},"no number"),""),"")'
        blocks.result(book, ws, f"D{at}", f"function_{name}", f"{label.lower()} by the function", given, role="working")
        verdict = (
            f'IF(NOT(functions_loaded),"not loaded",IF(NOT(ISNUMBER({name})),"no figure yet",'
            f'IF(NOT(ISNUMBER(function_{name})),"the function gives no number: look into it",'
            f"IF(ABS(function_{name}-{name})<=ABS({name})*{CLOSE}+{CLOSE}*{CLOSE},"
            f'"agree: "&FIXED({name},decimals+2,TRUE),'
            f'"DIFFER: formula "&FIXED({name},decimals+2,TRUE)&", function "&FIXED(function_{name},decimals+2,TRUE)))))'
        )
        blocks.write(book, ws, f"A{at}", label, "guide_left")
        blocks.result(book, ws, f"B{at}", f"check_{name}", f"{label.lower()}: do they agree", verdict, look="guide")
    return row + 1 + len(CHECKS)
