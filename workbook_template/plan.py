"""The pass plan on the sheet Setup: the arithmetic of sheetfuncs.cutting.infeed as formulas, one row a pass."""

from __future__ import annotations

from openpyxl.formatting.rule import Rule
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs.cutting import LIGHT_FIRST_SHARE
from workbook_template import blocks, styles
from workbook_template.blocks import Book

PASSES, SPRINGS = 30, 6
FIRST = 10
LAST = FIRST + PASSES + SPRINGS - 1


def shown(value: str) -> str:
    """A length inside a sentence, with as many decimals as the working unit has."""
    return f"FIXED({value},decimals,TRUE)"


def rough_depth(number: str) -> str:
    """The part of the roughing depth that is reached after a pass (sheetfuncs.cutting.pass_totals)."""
    first = f"IF({number}=1,{LIGHT_FIRST_SHARE},{number}-1)"
    light = 'AND(pass_rule="light first",plan_roughing>1)'
    share = f"IF({light},{first}/(plan_roughing-1),{number}/plan_roughing)"
    rough = "radial_infeed-plan_finish"
    return f"SQRT(plan_flat^2+{share}*(({rough}+plan_flat)^2-plan_flat^2))-plan_flat"


TRAVEL = "radial_infeed/angle_cosine"
PLAN_FAULT = (
    "IF(NOT(ISNUMBER(radial_infeed)),setup_fault,"
    f'IF(NOT(ISNUMBER(passes)),"Next: enter the number of passes, 1 to {PASSES}.",'
    f'IF(OR(passes<1,passes>{PASSES},passes<>INT(passes)),"The number of passes is a whole number, 1 to {PASSES}.",'
    f"IF(OR(NOT(ISNUMBER(plan_springs)),plan_springs<0,plan_springs>{SPRINGS}),"
    f'"The number of spring passes is a whole number, 0 to {SPRINGS}.",'
    'IF(NOT(ISNUMBER(angle_cosine)),"Use a compound angle of 0 (straight in) to "&flank_steeper&'
    '" degrees; more would cut a stepped flank.",'
    'IF(AND(pass_rule<>"equal area",pass_rule<>"light first"),"Choose the pass rule, equal area or light first.",'
    'IF(NOT(ISNUMBER(plan_finish)),"The finishing pass is a number more than zero, or empty.",'
    'IF(plan_finish>=radial_infeed,"A finishing pass of "&'
    f'{shown("plan_finish")}&" does not fit in a depth of "&{shown("radial_infeed")}&"; make it smaller.",'
    'IF(AND(plan_finish>0,passes<2),"One pass can\'t be roughing and finishing; use at least two passes.",'
    'IF(dial_used="","",IF(NOT(ISNUMBER(plan_end)),"The dial division is a number more than zero, or empty.",'
    'IF(OR(plan_end<passes,plan_reserved<1),passes&" passes over a travel of "&'
    f'{shown(TRAVEL)}&" come to less than a division of "&{shown("dial_used")}&'
    '" each; use fewer passes or a finer dial.",""))))))))))))'
)
PLAN_NOTE = (
    'IF(plan_fault<>"",plan_fault,IF(AND(ISNUMBER(dial_used),plan_first_step<1),'
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
     ('IF(AND(ISNUMBER(dial_used),ISNUMBER(radial_infeed),ISNUMBER(angle_cosine)),'
     f'IF(dial_used>0,ROUND({TRAVEL}/dial_used,0),""),"")')),
    ("plan_reserved", "whole divisions of the finishing pass",
     ('IF(AND(ISNUMBER(plan_end),ISNUMBER(plan_finish)),IF(plan_finish>0,'
     'ROUND(plan_finish/angle_cosine/dial_used,0),1),"")')),
    ("plan_roughing", "passes that share the roughing",
     'IF(ISNUMBER(passes),passes-IF(ISNUMBER(plan_finish),IF(plan_finish>0,1,0),0),"")'),
    ("plan_flat", "what a flat tip is short of the sharp point", 'IF(tip_kind="flat",tip_shortening,0)'),
    ("plan_fault", "why there is no plan, before divisions are counted", PLAN_FAULT),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the plan."""


SHOWN = PASSES + SPRINGS
HALF = SHOWN // 2
PAGE = 9
"""The first row on the page: the plan stands there in two blocks side by side, copied from the working columns."""

BLOCKS = (("F", "G", "H", "I", "J"), ("K", "L", "M", "N", "O"))
HEADS = ("pass", "turn by", "reading", "diameter", "done")
COLUMNS = (
    ("U", "pass", "number of the pass", "", "result"),
    ("V", "radial", "radial infeed of the pass", "working unit", "result"),
    ("W", "radial_total", "radial infeed since touching", "working unit", "result"),
    ("X", "travel", "compound travel of the pass", "working unit", "result"),
    ("Y", "reading", "compound reading after the pass", "working unit", "result"),
    ("Z", "diameter", "diameter at the tool's tip after the pass", "working unit", "result"),
    ("AA", "depth", "compound depth before rounding after the pass", "", "working"),
    ("AB", "steps", "whole divisions after the pass", "", "working"),
)
"""The working columns: letter, name, meaning, unit, role."""


def build(book: Book, ws: Worksheet) -> None:
    """The plan: words and two blocks on the page, the arithmetic to the right of it."""
    blocks.heading(book, ws, "F6:O6", "Passes")
    blocks.result(book, ws, "F7:O7", "plan_words", "the plan in words, or why there is none", PLAN_WORDS, look="words")
    for letter, name, meaning, unit, role in COLUMNS:
        blocks.write(book, ws, f"{letter}{FIRST - 1}", name.replace("_", " "), "head")
        blocks.define(book, ws, f"{letter}{FIRST}:{letter}{LAST}", f"plan_{name}", meaning, unit=unit, role=role)
        if unit:
            blocks.follow_unit(book, ws, f"{letter}{FIRST}:{letter}{LAST}", "length")
    for number in range(1, SHOWN + 1):
        _row(book, ws, number, FIRST + number - 1)
    first = f'IF(ISNUMBER(AB{FIRST}),IF(AND(plan_finish>0,passes=2),plan_end-plan_reserved,AB{FIRST}),"")'
    for row, name, meaning, formula in (
        (6, "plan_first_step", "divisions of the first pass", first),
        (7, "plan_note", "why there is no plan; empty when there is one", PLAN_NOTE),
    ):
        blocks.write(book, ws, f"U{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"Y{row}", name, meaning, formula, role="working")
    for number, letters in enumerate(BLOCKS):
        _block(book, ws, letters, FIRST + number * HALF, "" if number == 0 else "_more")


def _block(book: Book, ws: Worksheet, letters: tuple[str, ...], source: int, more: str) -> None:
    """One half of the plan on the page, from a row of the working columns on."""
    top, bottom = PAGE, PAGE + HALF - 1
    form = styles.FORMATS["length"][book.unit]
    for letter, text in zip(letters, HEADS):
        words = f'=IF(LEN({letters[0]}{top})>0,"{text}","")' if more else text
        blocks.write(book, ws, f"{letter}{top - 1}", words, "head")
    for offset in range(HALF):
        row = top + offset
        for letter, source_letter in zip(letters, ("U", "X", "Y", "Z")):
            look = "row_bold" if source_letter == "Y" else "row"
            blocks.write(book, ws, f"{letter}{row}", f"={source_letter}{source + offset}", look,
                         "0" if source_letter == "U" else form)  # fmt: skip
        blocks.write(book, ws, f"{letters[4]}{row}", None, "input_tick")
    part = "later passes" if more else "first passes"
    if more:
        blocks.define(book, ws, f"{letters[4]}{top - 1}", "plan_done_head", "heading of the ticks, later passes")
    ref = f"{letters[0]}{top - 1}:{letters[3]}{bottom}"
    blocks.define(book, ws, ref, f"plan_page{more}", f"the plan as printed, {part}")
    ticks = f"{letters[4]}{top}:{letters[4]}{bottom}"
    prompt = "Tick the pass when it is done."
    blocks.name_input(book, ws, ticks, f"plan_done{more}", f"pass done, {part}", prompt=prompt)
    _lines(book, ws, letters, top, bottom)


def _lines(book: Book, ws: Worksheet, letters: tuple[str, ...], top: int, bottom: int) -> None:
    """Lines under the rows in use. Number format and line are one rule: LibreOffice applies only one of two."""
    used = f"LEN(${letters[0]}{top})>0"
    other = "mm" if book.unit == "in" else "in"
    turned = styles.unit_rule(styles.FORMATS["length"][other])
    turned.border = styles.USED_ROW.border
    lengths = f"{letters[1]}{top}:{letters[3]}{bottom}"
    for ref, look, formula in (
        (f"{letters[0]}{top}:{letters[0]}{bottom}", styles.USED_ROW, used),
        (lengths, turned, f'AND({used},unit="{other}")'),
        (lengths, styles.USED_ROW, used),
        (f"{letters[4]}{top}:{letters[4]}{bottom}", styles.USED_TICK, used),
    ):
        ws.conditional_formatting.add(ref, Rule(type="expression", dxf=look, formula=[formula], stopIfTrue=True))


def _row(book: Book, ws: Worksheet, number: int, row: int) -> None:
    """One pass; the formulas are those of sheetfuncs.cutting.infeed, written for one row."""
    before = row - 1
    n = str(number)
    finishing = f"AND(plan_finish>0,{n}=passes)"
    depth = f"IF({finishing},radial_infeed,{rough_depth(n)})"
    reserved = f"IF(AND(plan_finish>0,{n}=passes-1),plan_reserved,1)"
    stepped = f"IF(AND(plan_finish>0,{n}=passes-1),plan_end-plan_reserved,AB{row})"
    first = number == 1
    blank = f'IF($U{row}="","",'
    formulas = {
        "U": f'IF(plan_note<>"","",IF({n}<=passes+plan_springs,{n},""))',
        "AA": f'IF(plan_fault<>"","",IF({n}<=passes,{depth}/angle_cosine,""))',
        "AB": f'IF(OR(AA{row}="",NOT(ISNUMBER(plan_end))),"",IF({n}=passes,plan_end,'
        f"MIN(ROUND(AA{row}/dial_used,0),AB{row + 1}-{reserved})))",
        "Y": f"{blank}IF({n}>passes,{'0' if first else f'Y{before}'},"
        f"IF(ISNUMBER(plan_end),ROUND({stepped}*dial_used,10),AA{row})))",
        "X": f"{blank}ROUND(Y{row}{'' if first else f'-Y{before}'},12))",
        "V": f"{blank}X{row}*angle_cosine)",
        "W": f"{blank}Y{row}*angle_cosine)",
        "Z": f"{blank}blank_used-2*outward*W{row})",
    }
    for letter, formula in formulas.items():
        form = {"U": "0", "AA": "General", "AB": "General"}.get(letter, styles.FORMATS["length"][book.unit])
        blocks.write(book, ws, f"{letter}{row}", f"={formula}", "row", form)
