"""The block "How to cut it" on the sheet Setup: sentences that change with the thread and with the lathe in use."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks
from workbook_template.blocks import Book
from workbook_template.lathe_formulas import HANDLE_GEARS, TOO_MUCH, in_use, whole
from workbook_template.plan import shown

WORKING_CLEARANCE = 3
"""Degrees that a threading tool's side stands free of the flank it has cut; practice (3 to 5 are usual)."""

LEFT = 'hand="left"'
INSIDE = 'thread_side="internal"'


def by_case(external_right: str, external_left: str, internal_right: str, internal_left: str) -> str:
    """One of four texts, by side and hand of the thread."""
    return f"IF({INSIDE},IF({LEFT},{internal_left},{internal_right}),IF({LEFT},{external_left},{external_right}))"


AT_THE_END = (
    'IF(lathe_half_nuts=FALSE,"draw the tool back early enough, then stop the spindle: it runs on, and the half-nuts '
    'stay shut. Come back in reverse, tool clear.","draw the tool back, then open the half-nuts"&'
    'IF(own_taper>0,"; the last threads may run out."," in the relief."))'
)
CARRIAGE = by_case(
    '"Moves toward the headstock, spindle forward. Start clear of the tailstock end of the thread; at its end "&'
    f"{AT_THE_END}",
    '"Moves AWAY from the headstock, spindle forward, leadscrew reversed. Start in a relief groove at the headstock '
    'end; the tool runs out at the tailstock end."',
    '"Moves toward the headstock, spindle forward. Start outside the mouth of the bore; mark on the bar where the '
    'inner end is, leave a relief there. To draw the tool back move it away from you."',
    '"Moves AWAY from the headstock, spindle forward, leadscrew reversed. Start in a relief groove at the inner end of '
    'the bore; the tool runs out at the mouth. To draw the tool back move it away from you."',
)
_LEFT_HANDLE, _RIGHT_HANDLE = '"headstock (swung to the left)"', '"tailstock (swung to the right)"'
HANDLE = by_case(_RIGHT_HANDLE, _LEFT_HANDLE, _LEFT_HANDLE, _RIGHT_HANDLE)
COMPOUND = (
    'IF(NOT(ISNUMBER(angle_cosine)),IF(ISNUMBER(thread_row),"Correct the compound angle.",""),'
    f'IF(angle_used=0,"Straight in: both edges cut. Feed "&IF({INSIDE},"toward you","away from you")&'
    '", take light passes.",'
    'ROUND(angle_used,2)&" degrees from straight in, handle end toward the "&'
    f'{HANDLE}&"; feed with it "&IF({INSIDE},"toward you","away from you")&". '
    "The leading edge then cuts, the other only cleans. A scale that counts from the lathe's axis shows \"&"
    'ROUND(90-angle_used,2)&"."))'
)
TAPER = (
    'IF(NOT(ISNUMBER(thread_row)),"",IF(own_taper>0,"Taper 1 in "&ROUND(1/own_taper,0)&" on the diameter: set the '
    "taper attachment, prove it with an indicator; tool square to the axis, not to the cone. Blank and "
    'diameters: at the hand-tight plane. ",""))'
)
CLEARANCE = (
    f"{TAPER}&"
    'IF(NOT(ISNUMBER(clearance_leading)),"",'
    f'"Side toward the "&IF({LEFT},"tailstock","headstock")&" (it leads): "&FIXED(clearance_leading,1,TRUE)&'
    '" degrees of side clearance or more; other side: "&IF(clearance_trailing>0,FIXED(clearance_trailing,1,TRUE)&'
    '" or more","none needed, upright")&". Lead angle "&FIXED(lead_angle,1,TRUE)&" at the pitch diameter, up to "&'
    f'FIXED(lead_angle_root,1,TRUE)&"; the {WORKING_CLEARANCE} degrees beyond it are usual practice. "&'
    '"On centre height, square by the gauge"&'
    f'IF({INSIDE},", heel of the bar clear of the bore.","."))'
)
NEXT_LABEL = 'IF(ISNUMBER(thread_row),IF(starts>1,"Next start","Each pass"),"Each pass")'
EACH_PASS = (
    '"Touch the "&blank_word&", set compound and cross-slide dials to zero. Every pass: tool back, return, cross-slide '
    'to zero, compound on to the next reading of the plan, "&"always turned the same way so that no play is left. '
    'Stop and measure before the last passes, with the thread clean."'
)
NEXT_START = (
    '"Every pass as for one start: tool back, return, next reading; all starts to one depth, then deeper. Next start, '
    'one way of these: half-nuts closed, turn the work "&ROUND(360/starts,2)&" degrees (driving plate, chuck marks). "&'
    '"Or set the compound along the axis and advance it one pitch, "&'
    f'{shown("pitch")}&IF(ISNUMBER(dial_used),IF(dial_used>0," ("&ROUND(pitch/dial_used,1)&" div.)",""),"")&'
    '"; the depth is then fed with the cross-slide: type the compound angle 0 for its plan"&'
    f'IF({in_use("cross_dial_reads")}="diameter"," (its dial shows twice the readings)","")&'
    '". Or, power off and locked, slip the spindle-side gear by 1/"&starts&" of its teeth (their number must divide by '
    '"&starts&")."'
    "&index_line_words"
)
DIAL_DIFFERS = (
    'IF(dial_differs,"The readings of the plan are what the dial of the compound shows, in "&'
    'IF(dial_own_unit="in","inches","mm")&'
    f'IF({in_use("compound_dial_reads")}="diameter"," on the diameter","")&". ","")'
)
EACH = f'IF(NOT(ISNUMBER(thread_row)),"",{DIAL_DIFFERS}&IF(starts>1,{NEXT_START},{EACH_PASS}))'

SMALLEST = (
    f"IF({INSIDE},blank_used,pitch_aimed-2*(half_height-tip_shortening))",
    f"IF({INSIDE},pitch_aimed+2*(half_height-tip_shortening),blank_used)",
)
TURN = "RADIANS(180)"


def _lead_angle(diameter: str) -> str:
    return f"DEGREES(ATAN2({TURN}*{diameter},lead))"


_GEAR = in_use("dial_gear")
_LINES_ON = f"(index_threads*{in_use('dial_lines')}/{_GEAR})"
WORKING = (
    ("lead_angle", "lead angle at the pitch diameter, degrees",
     f'IF(ISNUMBER(pitch_aimed),{_lead_angle("pitch_aimed")},"")'),
    ("lead_angle_root", "lead angle at the smallest diameter that the tool's edge touches",
     f'IF(ISNUMBER(radial_infeed),{_lead_angle(SMALLEST[0])},"")'),
    ("lead_angle_crest", "lead angle at the largest",
     f'IF(ISNUMBER(radial_infeed),{_lead_angle(SMALLEST[1])},"")'),
    ("clearance_leading", "side clearance of the side that leads, degrees",
     f'IF(ISNUMBER(lead_angle_root),lead_angle_root+{WORKING_CLEARANCE},"")'),
    ("clearance_trailing", "side clearance of the other side, degrees",
     f'IF(ISNUMBER(lead_angle_crest),{WORKING_CLEARANCE}-lead_angle_crest,"")'),
    ("index_ratio", "pitches of the work, as really cut, to a thread of the leadscrew",
     ('IF(AND(ISNUMBER(pitch),ISNUMBER(lathe_leadscrew_mm)),lathe_leadscrew_mm/(pitch*IF(unit="in",25.4,1))'
      '/(1+IF(ISNUMBER(lathe_lead_error_ppm),lathe_lead_error_ppm,0)/1000000),"")')),
    ("index_threads", "threads of the leadscrew to the next start, where that can be",
     'IFERROR(MATCH(1,index_marks,0),"")'),
    ("index_line_words", "dial from start to start, in words",
     (f'IF(AND(starts>1,ISNUMBER(index_threads),ISNUMBER({_GEAR})),IF(AND(lathe_half_nuts=TRUE,'
      f'{whole(_LINES_ON)})," Or close the half-nuts "&ROUND({_LINES_ON},0)&'
      f'IF(ROUND({_LINES_ON},0)=1," line"," lines")&" of the dial further on.",""),"")')),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the block."""

ROWS = (
    ("Carriage", "carriage_words", "which way the carriage goes and where the tool starts",
     f'IF(ISNUMBER(thread_row),{CARRIAGE},"")', 26),
    ("Compound", "compound_words", "which side the compound is swung", COMPOUND, 26),
    ("Tool", "clearance_words", "side clearance of the tool", CLEARANCE, 50),
    ("", "each_words", "what to do every pass, or how to come to the next start", EACH, 74),
    ("Gears", "gears_words", "gears or levers of the lathe in use",
     ('IF(NOT(ISNUMBER(thread_row)),"",IF(LEN(lathe_gear_words)>0,IF(LEN(lathe_name)>0,lathe_name&": ","")&'
      'lathe_gear_words&IF(LEN(lathe_train_words)>0,". "&lathe_train_words,"")&'
      f'IF(lead_too_much," {TOO_MUCH}.","")&'
      f'IF(LEN(lathe_train_words)>0,""," {HANDLE_GEARS}"),"By the chart of the lathe, for a lead of "&'
      f'{shown("lead")}&" "&unit&". {HANDLE_GEARS} Describe the lathe on the sheet Lathe to have it here."))'), 38),
    ("Half-nuts", "half_nuts_words", "when the half-nuts may be closed",
     ('IF(NOT(ISNUMBER(thread_row)),"",IF(LEN(lathe_dial_words)>0,lathe_dial_words,'
      '"No dial described: keep them shut and reverse under power, or go by the dial chart of the lathe."))'), 25),
    ("Speed", "speed_words", "speed, and what to do where the relief is short",
     ('IF(NOT(ISNUMBER(thread_row)),"",IF(ISNUMBER(lathe_rpm),lathe_rpm&" rpm. ",'
      'IF(LEN(lathe_rpm_words)=0,"No speed is computed: give the lathe and its speeds on the sheet Lathe. ",""))&'
      'IF(LEN(lathe_rpm_words)>0,lathe_rpm_words&" ","")&lathe_relief_words)'), 50),
    ("Reverse, chuck", "reverse_words", "how to get the direction, and the chuck's caution",
     'IF(ISNUMBER(thread_row),IF(LEN(lathe_reverse_words)>0,lathe_reverse_words&" ","")&lathe_chuck_words,"")', 38),
)  # fmt: skip
"""Label, name, meaning, formula, height in points."""


MOST_THREADS = 24
"""How many threads of the leadscrew are tried for the next start."""


def _index(book: Book, ws: Worksheet) -> None:
    """Which numbers of leadscrew threads lead to the next start: whole pitches, one over a multiple of the starts."""
    blocks.write(book, ws, "AK9", "to the next start", "head")
    for number in range(1, MOST_THREADS + 1):
        pitches = f"{number}*index_ratio"
        formula = (
            f"=IF(ISNUMBER(index_ratio),IF(AND(starts>1,ABS({pitches}-ROUND({pitches},0))<0.00000001),"
            f'IF(ROUND({pitches},0)-starts*INT(ROUND({pitches},0)/starts)=1,1,0),0),"")'
        )
        blocks.write(book, ws, f"AJ{9 + number}", number, "row", "0")
        blocks.write(book, ws, f"AK{9 + number}", formula, "row", "0")
    ref = f"AK10:AK{9 + MOST_THREADS}"
    blocks.define(
        book, ws, ref, "index_marks", "1 where so many leadscrew threads lead to the next start", role="working"
    )


def build(book: Book, ws: Worksheet, row: int) -> int:
    """The block across the page from a row on; the last row it takes."""
    _index(book, ws)
    blocks.heading(book, ws, f"A{row}:O{row}", "How to cut it")
    for label, name, meaning, formula, height in ROWS:
        row += 1
        if label:
            blocks.write(book, ws, f"A{row}", label, "order_label")
        else:
            blocks.result(
                book, ws, f"A{row}", "each_label", "what the line is about", NEXT_LABEL, look="order_label"
            )  # fmt: skip
        blocks.result(book, ws, f"B{row}:O{row}", name, meaning, formula, look="order")
        ws.row_dimensions[row].height = height
    return row
