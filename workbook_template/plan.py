"""The pass plan on the sheet Setup: the arithmetic of sheetfuncs.cutting.infeed as formulas, one row a pass."""

from __future__ import annotations

from openpyxl.formatting.rule import Rule
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import standards
from sheetfuncs.passes import FORM_COLUMN, HALF_UP, LIGHT_FIRST_SHARE, USUAL_PASSES
from workbook_template import blocks, styles
from workbook_template.blocks import Book, Check

PASSES, SPRINGS = 30, 6
FIRST = 10
LAST = FIRST + PASSES + SPRINGS - 1


def shown(value: str) -> str:
    """A length inside a sentence, with as many decimals as the working unit has."""
    return f"FIXED({value},decimals,TRUE)"


def rough_depth(number: str) -> str:
    """The part of the roughing depth that is reached after a pass (sheetfuncs.passes.shared_depths)."""
    first = f"IF({number}=1,{LIGHT_FIRST_SHARE},{number}-1)"
    light = 'AND(pass_rule="light first",plan_roughing>1)'
    share = f"IF({light},{first}/(plan_roughing-1),{number}/plan_roughing)"
    rough = "radial_infeed-plan_finish"
    return f"SQRT(plan_flat^2+{share}*(({rough}+plan_flat)^2-plan_flat^2))-plan_flat"


TRAVEL = "radial_infeed/angle_cosine"
ANGLE_FAULT = (
    'IF(NOT(ISNUMBER(thread_row)),"",IF(ISTEXT(compound_angle),"The compound angle "&compound_angle&" is a text: "&'
    'IF(OR(ISNUMBER(SEARCH(",",compound_angle)),ISNUMBER(SEARCH(".",compound_angle))),"type it as "&'
    'SUBSTITUTE(SUBSTITUTE(compound_angle,",",MID((1/2)&"",2,1)),".",MID((1/2)&"",2,1)),"type a number")&".",'
    'IF(NOT(ISNUMBER(angle_cosine)),"Use a compound angle of 0 (straight in) to "&flank_steeper&'
    '" degrees; more would cut a stepped flank.","")))'
)
"""A text is told with the decimal sign of the program that is open: the second sign of a half."""
PLAN_FAULT = (
    "IF(NOT(ISNUMBER(radial_infeed)),setup_fault,"
    'IF(angle_fault<>"",angle_fault,'
    f'IF(NOT(ISNUMBER(passes)),"Next: enter the number of passes, 1 to {PASSES}; "&usual_words&".",'
    f'IF(OR(passes<1,passes>{PASSES},passes<>INT(passes)),"The number of passes is a whole number, 1 to {PASSES}.",'
    f"IF(OR(NOT(ISNUMBER(plan_springs)),plan_springs<0,plan_springs>{SPRINGS}),"
    f'"The number of spring passes is a whole number, 0 to {SPRINGS}.",'
    'IF(AND(pass_rule<>"equal area",pass_rule<>"light first"),"Choose the pass rule, equal area or light first.",'
    'IF(NOT(ISNUMBER(plan_finish)),"The finishing pass is a number more than zero, or empty.",'
    'IF(plan_finish>=radial_infeed,"A finishing pass of "&'
    f'{shown("plan_finish")}&" does not fit in a depth of "&{shown("radial_infeed")}&"; make it smaller.",'
    'IF(AND(plan_finish>0,passes<2),"One pass can\'t be roughing and finishing; use at least two passes.",'
    'IF(AND(dial_used<>"",NOT(ISNUMBER(plan_end))),"The dial division is a number more than zero, or empty.",'
    f'IF(IF(ISNUMBER(plan_end),OR(plan_end<passes,plan_least<1),FALSE),passes&" passes over a travel of "&'
    f'{shown(TRAVEL)}&" come to less than a division of "&{shown("dial_used")}&'
    '" each; use fewer passes or a finer dial.",'
    'IF(plan_last*passes>plan_whole*1.000000000001,"A finishing pass of "&'
    f'{shown("plan_finish")}&" is more than the passes before it would be; make it smaller or use fewer passes.",'
    '""))))))))))))'
)
PLAN_WORDS = (
    'IF(plan_fault<>"",plan_fault,IF(ticks_old>0,"CLEAR THE OLD TICKS: "&ticks_old&" for another thread. ","")&'
    'IF(passes<usual_fewest,"HEAVY: first pass "&'
    f'{shown("INDEX(plan_radial,1)")}&" on the radius; "&usual_words&". ",passes&" passes"&'
    'IF(plan_springs>0,", then "&plan_springs&" at full depth","")&". ")&"Pitch diameter at the end "&'
    f'{shown("pitch_aimed+2*outward*(radial_infeed-SUM(plan_radial))")}&" "&unit&".")'
)


def _of_form(end: int) -> str:
    """The fewest or most usual passes for the form and pitch of the thread in use: sheetfuncs.passes.usual_passes."""
    over = "+".join(f"(plan_pitch_mm>{most})" for most, *_ in USUAL_PASSES if most is not None)
    columns = [",".join(str(ranges[column][end]) for _, *ranges in USUAL_PASSES) for column in range(4)]
    formula = f"CHOOSE(1+{over},{columns[0]})"
    for system, column in FORM_COLUMN.items():
        title = standards.SYSTEMS[system].title
        formula = f'IF(row_system="{title}",CHOOSE(1+{over},{columns[column]}),{formula})'
    return f'IF(ISNUMBER(plan_pitch_mm),{formula},"")'


WORKING = (
    ("angle_used", "compound angle used",
     'IF(NOT(ISNUMBER(thread_row)),"",IF(ISBLANK(compound_angle),flank_steeper-0.5,compound_angle))'),
    ("angle_cosine", "its cosine; nothing for an angle that can't be used",
     'IF(NOT(ISNUMBER(angle_used)),"",IF(OR(angle_used<0,angle_used>flank_steeper),"",COS(RADIANS(angle_used))))'),
    ("angle_fault", "what is wrong with the compound angle", ANGLE_FAULT),
    ("plan_springs", "spring passes, 0 when empty",
     ('IF(ISBLANK(spring_passes),0,IF(NOT(ISNUMBER(spring_passes)),"",'
     'IF(spring_passes=INT(spring_passes),spring_passes,"")))')),
    ("plan_finish", "finishing pass, 0 when empty",
     'IF(ISBLANK(finishing_pass),0,IF(NOT(ISNUMBER(finishing_pass)),"",IF(finishing_pass>0,finishing_pass,"")))'),
    ("plan_end", "whole divisions of the last reading",
     ('IF(AND(ISNUMBER(dial_used),ISNUMBER(radial_infeed),ISNUMBER(angle_cosine)),'
     f'IF(dial_used>0,INT({TRAVEL}/dial_used+{HALF_UP}),""),"")')),
    ("plan_whole", "the last reading, in divisions where there is a dial",
     f'IF(ISNUMBER(plan_end),plan_end,IF(AND(ISNUMBER(radial_infeed),ISNUMBER(angle_cosine)),{TRAVEL},""))'),
    ("plan_last", "the finishing pass, counted alike; 0 for none",
     ('IF(AND(ISNUMBER(plan_whole),ISNUMBER(plan_finish)),IF(ISNUMBER(plan_end),'
      f'INT(plan_finish/angle_cosine/dial_used+{HALF_UP}),plan_finish/angle_cosine),"")')),
    ("plan_least", "the least that a pass before it takes",
     ('IF(ISNUMBER(plan_last),IF(ISNUMBER(plan_end),IF(plan_finish>0,plan_last,1),plan_last),"")')),
    ("plan_roughing", "passes that share the roughing",
     'IF(ISNUMBER(passes),passes-IF(ISNUMBER(plan_finish),IF(plan_finish>0,1,0),0),"")'),
    ("plan_light", "1 where the first pass is meant to be a light one, else 0",
     'IF(AND(pass_rule="light first",ISNUMBER(plan_roughing)),IF(plan_roughing>1,1,0),0)'),
    ("plan_flat", "what a flat tip is short of the sharp point", 'IF(tip_kind="flat",tip_shortening,0)'),
    ("plan_pitch_mm", "pitch in mm", 'IF(ISNUMBER(own_pitch),own_pitch*IF(own_unit="in",25.4,1),"")'),
    ("usual_fewest", "fewest passes that are usual for this form and pitch", _of_form(0)),
    ("usual_most", "most passes that are usual", _of_form(1)),
    ("usual_words", "the usual number of passes in words",
     ('IF(ISNUMBER(usual_fewest),IF(usual_fewest=usual_most,usual_most,usual_fewest&" to "&usual_most)'
      '&" are usual for this pitch","")')),
    ("plan_fault", "why there is no plan; empty when there is one", PLAN_FAULT),
    ("ticks_old", "ticks that were made for another thread",
     ("SUMPRODUCT((LEN(plan_done)>0)*(1-EXACT(plan_done,callout)))"
      "+SUMPRODUCT((LEN(plan_done_more)>0)*(1-EXACT(plan_done_more,callout)))")),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the plan."""


SHOWN = PASSES + SPRINGS
HALF = SHOWN // 2
PAGE = 9
"""The first row on the page: the plan stands there in two blocks side by side, copied from the working columns."""

BLOCKS = (("F", "G", "H", "I", "J"), ("K", "L", "M", "N", "O"))
HEADS = ("pass", "turn by", '=IF(dial_differs,"dial, "&dial_own_unit,"reading")', "diameter", "done")
"""The reading is that of the lathe's own dial where it reads something else."""
COLUMNS = (
    ("U", "pass", "number of the pass", "", "result"),
    ("V", "radial", "radial infeed of the pass", "working unit", "result"),
    ("W", "radial_total", "radial infeed since touching", "working unit", "result"),
    ("X", "travel", "compound travel of the pass", "working unit", "result"),
    ("Y", "reading", "compound reading after the pass", "working unit", "result"),
    ("Z", "diameter", "diameter at the tool's tip after the pass", "working unit", "result"),
    ("AA", "depth", "compound depth before rounding after the pass", "", "working"),
    (
        "AB",
        "steps",
        "the same, no pass more than the one before it; divisions of a dial",
        "",
        "working",
    ),
    ("AM", "divisions", "divisions of the dial in the pass; empty without a dial", "", "result"),
    ("AN", "dial", "what the dial of the lathe reads, where it reads another unit or diameters", "", "working"),
)
"""The working columns: letter, name, meaning, unit, role."""


TICK = Check("list", "callout", refusal="Choose the thread from the list: a tick is for one thread alone.")
TICK_PROMPT = (
    "Pass done: choose the thread from the list (Alt and arrow down). It shows as x. For any other thread it shows as "
    "old, and the sheet asks for it to be cleared."
)


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
    for number, letters in enumerate(BLOCKS):
        _block(book, ws, letters, FIRST + number * HALF, "" if number == 0 else "_more")


def _block(book: Book, ws: Worksheet, letters: tuple[str, ...], source: int, more: str) -> None:
    """One half of the plan on the page, from a row of the working columns on."""
    top, bottom = PAGE, PAGE + HALF - 1
    form = styles.FORMATS["length"][book.unit]
    for letter, text in zip(letters, HEADS):
        value = text[1:] if text.startswith("=") else f'"{text}"'
        words = f'=IF(LEN({letters[0]}{top})>0,{value},"")' if more else text
        blocks.write(book, ws, f"{letter}{top - 1}", words, "head")
    for offset in range(HALF):
        row = top + offset
        at = source + offset
        turn = f'=IF(ISNUMBER(AM{at}),AM{at}&" div.",X{at})'
        reading = f'=IF(ISNUMBER(AN{at}),FIXED(AN{at},IF(dial_own_unit="mm",3,4),TRUE),Y{at})'
        for letter, shown_there in zip(letters, (f"=U{at}", turn, reading, f"=Z{at}")):
            look = "row_bold" if letter == letters[2] else "row"
            blocks.write(book, ws, f"{letter}{row}", shown_there, look, "0" if letter == letters[0] else form)
        blocks.write(book, ws, f"{letters[4]}{row}", None, "input_tick", styles.TICK_FORMAT)
    part = "later passes" if more else "first passes"
    if more:
        blocks.define(book, ws, f"{letters[4]}{top - 1}", "plan_done_head", "heading of the ticks, later passes")
    ref = f"{letters[0]}{top - 1}:{letters[3]}{bottom}"
    blocks.define(book, ws, ref, f"plan_page{more}", f"the plan as printed, {part}")
    ticks = f"{letters[4]}{top}:{letters[4]}{bottom}"
    meaning = f"pass done, {part}: the thread that it was done for"
    blocks.name_input(book, ws, ticks, f"plan_done{more}", meaning, prompt=TICK_PROMPT, check=TICK)
    _lines(book, ws, letters, top, bottom)


def _lines(book: Book, ws: Worksheet, letters: tuple[str, ...], top: int, bottom: int) -> None:
    """Lines under the rows in use. Number format and line are one rule: LibreOffice applies only one of two."""
    used = f"LEN(${letters[0]}{top})>0"
    other = "mm" if book.unit == "in" else "in"
    turned = styles.unit_rule(styles.FORMATS["length"][other])
    turned.border = styles.USED_ROW.border
    lengths = f"{letters[1]}{top}:{letters[3]}{bottom}"
    tick = f"{letters[4]}{top}"
    for ref, look, formula in (
        (f"{letters[0]}{top}:{letters[0]}{bottom}", styles.USED_ROW, used),
        (lengths, turned, f'AND({used},unit="{other}")'),
        (lengths, styles.USED_ROW, used),
        (f"{tick}:{letters[4]}{bottom}", styles.OLD_TICK, f"AND(LEN({tick})>0,NOT(EXACT({tick},callout)))"),
        (f"{tick}:{letters[4]}{bottom}", styles.USED_TICK, used),
    ):
        ws.conditional_formatting.add(ref, Rule(type="expression", dxf=look, formula=[formula], stopIfTrue=True))


def _row(book: Book, ws: Worksheet, number: int, row: int) -> None:
    """One pass; the formulas are those of sheetfuncs.cutting.infeed and sheetfuncs.passes, written for one row."""
    before = row - 1
    n = str(number)
    first = number == 1
    finishing = f"AND(plan_finish>0,{n}=passes)"
    depth = f"IF({finishing},radial_infeed,{rough_depth(n)})"
    done = "0" if first else f"AB{before}"
    left = f"(plan_whole-plan_last-{done})"
    after = f"(plan_roughing-{n})"
    whole = "ISNUMBER(plan_end)"
    target = f"IF({whole},INT(AA{row}/dial_used+{HALF_UP}),AA{row})-{done}"
    even = f"IF({whole},-INT(-{left}/({after}+1)),{left}/({after}+1))"
    least = f"IF(plan_light=1,plan_least,{even})" if first else even
    step = f"MIN({left}-{after}*plan_least,MAX({target},{least}))"
    if number == 2:
        step = f"IF(plan_light=1,{step},MIN(AB{before},{step}))"
    elif number > 2:
        step = f"MIN(AB{before}-AB{before - 1},{step})"
    blank = f'IF($U{row}="","",'
    formulas = {
        "U": f'IF(plan_fault<>"","",IF({n}<=passes+plan_springs,{n},""))',
        "AA": f'IF(plan_fault<>"","",IF({n}<=passes,{depth}/angle_cosine,""))',
        "AB": f'IF(AA{row}="","",IF({n}=passes,plan_whole,{done}+{step}))',
        "Y": f"{blank}IF({n}>passes,{'0' if first else f'Y{before}'},IF({whole},ROUND(AB{row}*dial_used,10),AB{row})))",
        "X": f"{blank}ROUND(Y{row}{'' if first else f'-Y{before}'},12))",
        "V": f"{blank}X{row}*angle_cosine)",
        "W": f"{blank}Y{row}*angle_cosine)",
        "Z": f"{blank}blank_used-2*outward*W{row})",
        "AM": f'{blank}IF({whole},ROUND(X{row}/dial_used,0),""))',
        "AN": f'{blank}IF(dial_differs,ROUND(Y{row}/dial_used,0)*dial_own,""))',
    }
    general = ("AA", "AB", "AN")
    for letter, formula in formulas.items():
        form = "0" if letter in ("U", "AM") else "General" if letter in general else styles.FORMATS["length"][book.unit]
        blocks.write(book, ws, f"{letter}{row}", f"={formula}", "row", form)
