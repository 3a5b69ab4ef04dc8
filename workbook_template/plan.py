"""The pass plan on the sheet Setup: the arithmetic of sheetfuncs.cutting.infeed as formulas, one row a pass."""

from __future__ import annotations

from openpyxl.formatting.rule import Rule
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.cutting import STARTER_FIRST_SHARE
from workbook_template import blocks, styles
from workbook_template.blocks import Book

PASSES, SPRINGS = 30, 6
FIRST = 10
LAST = FIRST + PASSES + SPRINGS - 1


def shown(value: str) -> str:
    """A length inside a sentence, with as many decimals as the working unit has."""
    return f"FIXED({value},decimals,TRUE)"


def rough_share(number: str) -> str:
    """The part of the roughing depth that is reached after a pass (sheetfuncs.cutting.pass_totals)."""
    first = f"IF({number}=1,{STARTER_FIRST_SHARE},{number}-1)"
    starter = 'AND(pass_rule="starter",plan_roughing>1)'
    return f"SQRT(IF({starter},{first}/(plan_roughing-1),{number}/plan_roughing))"


TRAVEL = "radial_infeed/angle_cosine"
PLAN_FAULT = (
    "IF(NOT(ISNUMBER(radial_infeed)),setup_fault,"
    f'IF(NOT(ISNUMBER(passes)),"Next: enter the number of passes, 1 to {PASSES}.",'
    f'IF(OR(passes<1,passes>{PASSES},passes<>INT(passes)),"The number of passes is a whole number, 1 to {PASSES}.",'
    f"IF(OR(NOT(ISNUMBER(plan_springs)),plan_springs<0,plan_springs>{SPRINGS}),"
    f'"The number of spring passes is a whole number, 0 to {SPRINGS}.",'
    'IF(NOT(ISNUMBER(angle_cosine)),"Use a compound angle of 0 (straight in) to "&flank_steeper&'
    '" degrees; more would cut a stepped flank.",'
    'IF(AND(pass_rule<>"equal area",pass_rule<>"starter"),"Choose the pass rule, equal area or starter.",'
    'IF(NOT(ISNUMBER(plan_finish)),"The finishing pass is a number more than zero, or empty.",'
    'IF(plan_finish>=radial_infeed,"A finishing pass of "&'
    f'{shown("plan_finish")}&" does not fit in a depth of "&{shown("radial_infeed")}&"; make it smaller.",'
    'IF(AND(plan_finish>0,passes<2),"One pass can\'t be roughing and finishing; use at least two passes.",'
    'IF(ISBLANK(dial_division),"",IF(NOT(ISNUMBER(plan_end)),"The dial division is a number more than zero, or empty.",'
    'IF(OR(plan_end<passes,plan_reserved<1),passes&" passes over a travel of "&'
    f'{shown(TRAVEL)}&" come to less than a division of "&{shown("dial_division")}&'
    '" each; use fewer passes or a finer dial.",""))))))))))))'
)
PLAN_NOTE = (
    'IF(plan_fault<>"",plan_fault,IF(AND(ISNUMBER(dial_division),plan_first_step<1),'
    'passes&" passes leave no division for the first; use fewer passes or a smaller finish.",""))'
)
PLAN_WORDS = (
    'IF(plan_note<>"",plan_note,passes&" passes"&IF(plan_springs>0,", then "&plan_springs&" at full depth","")&'
    '". Pitch diameter at the end "&'
    f'{shown("pitch_aimed+2*outward*(radial_infeed-SUM(plan_radial))")}&" "&unit&".")'
)

WORKING = (
    ("angle_used", "compound angle used",
     'IF(NOT(ISNUMBER(thread_row)),"",IF(ISBLANK(compound_angle),flank_steeper-0.5,compound_angle))'),
    ("angle_cosine", "its cosine; nothing for an angle that can't be used",
     'IF(NOT(ISNUMBER(angle_used)),"",IF(OR(angle_used<0,angle_used>flank_steeper),"",COS(RADIANS(angle_used))))'),
    ("plan_springs", "spring passes, 0 when empty",
     ('IF(ISBLANK(spring_passes),0,IF(NOT(ISNUMBER(spring_passes)),"",'
     'IF(spring_passes=INT(spring_passes),spring_passes,"")))')),
    ("plan_finish", "finishing pass, 0 when empty",
     'IF(ISBLANK(finishing_pass),0,IF(NOT(ISNUMBER(finishing_pass)),"",IF(finishing_pass>0,finishing_pass,"")))'),
    ("plan_end", "whole divisions of the last reading",
     ('IF(AND(ISNUMBER(dial_division),ISNUMBER(radial_infeed),ISNUMBER(angle_cosine)),'
     f'IF(dial_division>0,ROUND({TRAVEL}/dial_division,0),""),"")')),
    ("plan_reserved", "whole divisions of the finishing pass",
     ('IF(AND(ISNUMBER(plan_end),ISNUMBER(plan_finish)),IF(plan_finish>0,'
     'ROUND(plan_finish/angle_cosine/dial_division,0),1),"")')),
    ("plan_roughing", "passes that share the roughing",
     'IF(ISNUMBER(passes),passes-IF(ISNUMBER(plan_finish),IF(plan_finish>0,1,0),0),"")'),
    ("plan_fault", "why there is no plan, before divisions are counted", PLAN_FAULT),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the plan."""


def build(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "F7:L7", "Passes")
    heads = ("pass", "radial infeed", "radial total", "compound travel", "compound reading", "diameter now", "done")
    for letter, text in (*zip("FGHIJKL", heads), ("Q", "plan depth"), ("R", "plan steps")):
        blocks.write(book, ws, f"{letter}{FIRST - 1}", text, "head")
    ws.row_dimensions[8].height, ws.row_dimensions[9].height = 44, 26
    blocks.result(book, ws, "F8:L8", "plan_words", "the plan in words, or why there is none", PLAN_WORDS, look="words")
    for number in range(1, PASSES + SPRINGS + 1):
        _row(book, ws, number, FIRST + number - 1)
    columns = (
        ("F", "pass", "number of the pass", ""),
        ("G", "radial", "radial infeed of the pass", "working unit"),
        ("H", "radial_total", "radial infeed since touching", "working unit"),
        ("I", "travel", "compound travel of the pass", "working unit"),
        ("J", "reading", "compound reading after the pass", "working unit"),
        ("K", "diameter", "diameter at the tool's tip after the pass", "working unit"),
    )
    for letter, name, meaning, unit in columns:
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", f"plan_{name}", meaning, unit=unit)
    for letter, name, meaning in (("Q", "depth", "compound depth before rounding"), ("R", "steps", "whole divisions")):
        ref = f"{letter}{FIRST}:{letter}{LAST}"
        blocks.define(book, ws, ref, f"plan_{name}", f"{meaning} after the pass", role="working")
    first = f'IF(ISNUMBER(R{FIRST}),IF(AND(plan_finish>0,passes=2),plan_end-plan_reserved,R{FIRST}),"")'
    blocks.write(book, ws, "N6", "plan first step", "small")
    blocks.result(book, ws, "O6", "plan_first_step", "divisions of the first pass", first, role="working")
    ticks = f"L{FIRST}:L{LAST}"
    blocks.name_input(book, ws, ticks, "plan_done", "pass done", prompt="Tick the pass when it is done.")
    _lines(book, ws)
    blocks.write(book, ws, "N5", "plan note", "small")
    blocks.result(
        book, ws, "O5", "plan_note", "why there is no plan; empty when there is one", PLAN_NOTE, role="working"
    )


def _lines(book: Book, ws: Worksheet) -> None:
    """Lines under the rows in use. Number format and line are one rule: LibreOffice applies only one of two."""
    used = f"LEN($F{FIRST})>0"
    other = "mm" if book.unit == "in" else "in"
    turned = styles.unit_rule(styles.FORMATS["length"][other])
    turned.border = styles.USED_ROW.border
    for ref, look, formula in (
        (f"F{FIRST}:F{LAST}", styles.USED_ROW, used),
        (f"G{FIRST}:K{LAST}", turned, f'AND({used},unit="{other}")'),
        (f"G{FIRST}:K{LAST}", styles.USED_ROW, used),
        (f"L{FIRST}:L{LAST}", styles.USED_TICK, used),
    ):
        ws.conditional_formatting.add(ref, Rule(type="expression", dxf=look, formula=[formula], stopIfTrue=True))


def _row(book: Book, ws: Worksheet, number: int, row: int) -> None:
    """One pass; the formulas are those of sheetfuncs.cutting.infeed, written for one row."""
    before = row - 1
    n = str(number)
    finishing = f"AND(plan_finish>0,{n}=passes)"
    depth = f"IF({finishing},radial_infeed,(radial_infeed-plan_finish)*{rough_share(n)})"
    reserved = f"IF(AND(plan_finish>0,{n}=passes-1),plan_reserved,1)"
    stepped = f"IF(AND(plan_finish>0,{n}=passes-1),plan_end-plan_reserved,R{row})"
    first = number == 1
    blank = f'IF($F{row}="","",'
    formulas = {
        "F": f'IF(plan_note<>"","",IF({n}<=passes+plan_springs,{n},""))',
        "Q": f'IF(plan_fault<>"","",IF({n}<=passes,{depth}/angle_cosine,""))',
        "R": f'IF(OR(Q{row}="",NOT(ISNUMBER(plan_end))),"",IF({n}=passes,plan_end,'
        f"MIN(ROUND(Q{row}/dial_division,0),R{row + 1}-{reserved})))",
        "J": f"{blank}IF({n}>passes,{'0' if first else f'J{before}'},"
        f"IF(ISNUMBER(plan_end),ROUND({stepped}*dial_division,10),Q{row})))",
        "I": f"{blank}ROUND(J{row}{'' if first else f'-J{before}'},12))",
        "G": f"{blank}I{row}*angle_cosine)",
        "H": f"{blank}J{row}*angle_cosine)",
        "K": f"{blank}blank_used-2*outward*H{row})",
    }
    for letter, formula in formulas.items():
        look = "row_bold" if letter == "J" else "row"
        form = {"F": "0", "Q": "General", "R": "General"}.get(letter, styles.FORMATS["length"][book.unit])
        blocks.write(book, ws, f"{letter}{row}", f"={formula}", look, form)
    blocks.write(book, ws, f"L{row}", None, "input_tick")
