"""The sheet Setup: what goes to the machine. The tool in the post, every pass at the dials, what is left to cut."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import (
    blocks,
    cautions,
    contact,
    drawing,
    instructions,
    instrument_columns,
    instruments,
    last_passes,
    plan,
)
from workbook_template.blocks import Book, Check
from workbook_template.plan import PASSES, SPRINGS, TRAVEL, shown
from workbook_template.setup_figures import EXTERNAL, blank_words, next_step, tip_words, wire_words
from workbook_template.setup_figures import WORKING as FIGURES
from workbook_template.figures.text import text

EXTERNAL = text(EXTERNAL)
RANGE_STEP = 'IF(unit="mm",25,1)'

SHEET = "Setup"

ANGLE = Check("decimal", "0", "60", "between", "Type the angle from straight in, in degrees: 0 to 60.")
INPUTS = (
    ("tip_kind", "Tool tip", "end of the threading tool", "text",
     blocks.one_of(("sharp", "flat", "nose radius"), "Choose sharp, flat or nose radius."),
     "sharp, flat, or nose radius: the tool that is in the post, not the one on the drawing."),
    ("tip_size", "Tip size", "width of the flat, or nose radius", "entry", blocks.LENGTH,
     "Width of the flat or the nose radius, in the working unit. Leave empty for a sharp tool."),
    ("blank_measured", "Blank measured", "diameter of the blank, or bore, as measured", "entry", blocks.LENGTH,
     "Diameter of the turned blank (or bore) as measured, in the working unit. Empty: the middle of its limits."),
    ("aim_limit", "Aim at", "limit of the pitch diameter to aim at", "text",
     blocks.one_of(("max", "mid", "min"), "Choose max, mid or min."),
     "Which pitch diameter the depth is for: mid is the middle of the tolerance."),
    ("compound_angle", "Compound angle", "compound angle from straight in", "angle", ANGLE,
     "Degrees from straight in. Empty: half a degree less than the flank, so 29.5 for 60 degree threads."),
    ("dial_division", "Dial division", "smallest division of the compound dial", "entry", blocks.LENGTH,
     "What one division moves the compound slide, in the working unit. Empty: that of the lathe in use."),
    ("passes", "Passes", "cutting passes", "count", blocks.whole(1, PASSES),
     "How many cutting passes, the finishing pass among them, spring passes not. 1 to 30."),
    ("finishing_pass", "Finishing pass", "radial infeed of the last cutting pass", "entry", blocks.LENGTH,
     "Radial infeed of the last cutting pass. Empty: what the rule for the passes gives."),
    ("spring_passes", "Spring passes", "passes without more infeed", "count", blocks.whole(0, SPRINGS),
     "Passes at full depth without more infeed, 0 to 6. Empty: none."),
    ("pass_rule", "Pass rule", "how the depth is shared", "text",
     blocks.one_of(("equal area", "light first"), "Choose equal area or light first."),
     "equal area: every pass takes the same chip. light first: a lighter first pass, the rest the same."),
    ("wire_set", "Wire set", "wire set in use", "text",
     instrument_columns.SET_LIST,
     "Number of the wire set, from the sheet Instruments; its certified mean is used. External threads only."),
    ("wire_in_use", "Wire in use", "diameter of the measuring wires in use", "wire", blocks.LENGTH,
     "Only without a set: diameter of the three wires as certified, in the working unit. Wins over the set."),
)  # fmt: skip
"""Name, label, meaning, dimension, check, message."""

WIDTHS = {
    "A": 14.5, "B": 11.5, "C": 9.3, "D": 7.7, "E": 1,
    **dict(zip("FGHIJKLMNO", (4.5, 7.2, 7.8, 7.2, 4.3) * 2)),
    "P": 4, "Q": 2, "R": 22, "S": 14, "T": 4, "AC": 4, "AD": 9, "AE": 10, "AF": 10, "AG": 10, "AH": 10, "AI": 4,
}  # fmt: skip
LINE = 13.2
"""Height of a row of the two columns, in points."""

BESIDE_FIRST, BESIDE_LAST = 8, last_passes.LAST
SIGN_AT = 40

GEARING = (
    'IF(NOT(ISNUMBER(thread_row)),thread_note,IF(starts>1,starts&" starts: gear for the lead "&'
    f'{shown("lead")}&" "&unit&", turn the work "&ROUND(360/starts,2)&" degrees between starts.",'
    'IF(AND(own_unit="mm",ABS(2*row_threads_per_inch-ROUND(2*row_threads_per_inch,0))>0.0001),'
    '"Gear for a lead of "&FIXED(own_pitch,3,TRUE)&" mm.",'
    '"Gear for "&ROUND(row_threads_per_inch,3)&" threads per inch, lead "&'
    f'{shown("lead")}&" "&unit&".")))'
)
JOB_LINE = (
    'IF(LEN(part)>0,part,"no part named")&", job "&IF(LEN(job_number)>0,job_number,"–")&IF(LEN(drawing)>0,", drawing "&'
    'drawing&IF(LEN(revision)>0," rev. "&revision,""),"")&IF(LEN(material)>0,", "&material,"")&"; "&unit_words&"."'
)


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    blocks.widths(ws, WIDTHS)
    blocks.banner(
        book, ws, "A1:O1", "left_hand_setup",
        'IF(LEN(left_hand_words)>0,left_hand_words&": leadscrew reversed, cut away from headstock","")',
    )  # fmt: skip
    blocks.result(book, ws, "A2:G2", "callout_setup", "the thread, as on the sheet Job", "callout", look="callout")
    blocks.result(book, ws, "H2:O2", "gear_words", "what to gear for", GEARING, look="note")
    blocks.result(book, ws, "A3:O3", "setup_title", "part, job, drawing and unit in words", JOB_LINE, look="aid_left")
    for row in range(BESIDE_FIRST, BESIDE_LAST + 1):
        ws.row_dimensions[row].height = LINE
    for row, height in ((1, 18), (2, 28), (3, 14), (4, 13), (5, 32), (6, 15), (7, 25)):
        ws.row_dimensions[row].height = height
    _main_figures(book, ws)
    _inputs(book, ws)
    _depth(book, ws)
    _wires(book, ws)
    last_passes.build(book, ws)
    contact.build(book, ws, instruments.WIRE_SETS)
    plan.build(book, ws)
    drawing.build(book, ws, "F28", "F27:O27")
    _sign_off(book, ws)
    last = instructions.build(book, ws, BESIDE_LAST + 1)
    last = cautions.block(book, ws, last + 1, "A", "O", 130) + 1
    blocks.result(
        book, ws, f"A{last}:O{last}", "authority_setup", "who governs pipe and flight threads", "authority_words",
        look="aid_left",
    )  # fmt: skip
    ws.row_dimensions[last].height = 2 * cautions.LINE
    _working(book, ws)
    blocks.page(ws, f"A1:O{last}")
    ws.page_margins.left = ws.page_margins.right = 0.4
    ws.page_margins.top, ws.page_margins.bottom = 0.35, 0.55
    blocks.lock(ws)


def _working(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "R7:S7", "Working figures (not printed)")
    figures = (*FIGURES, *contact.WORKING, *plan.WORKING, *last_passes.WORKING, *drawing.WORKING, *instructions.WORKING)
    for row, (name, meaning, formula, *_) in enumerate(figures, start=8):
        blocks.write(book, ws, f"R{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"S{row}", name, meaning, formula, role="working")


BLANK_HEAD = (
    'IF(AND(ISNUMBER(radial_infeed),ISBLANK(blank_measured)),"Feed in, BLANK NOT MEASURED","Feed in on the radius")'
)
_AIMED = (
    f'IF(aim_limit="max",{text(contact.of_setup("max"))},IF(aim_limit="min",{text(contact.of_setup("min"))},'
    f'IF(aim_limit="mid",{text(contact.of_setup("mid"))},"–")))'
)
"""The reading at the limit aimed at; nothing while none is chosen."""


def _main_figures(book: Book, ws: Worksheet) -> None:
    figures = (
        ("A4:B4", "A5:B5", "Feed in on the radius", "radial_infeed", "radial infeed for this tip",
         'IF(setup_fault="",infeed_raw,"–")'),
        ("C4:D4", "C5:D5", "Turn the compound", "compound_travel", "travel of the compound for that infeed",
         f'IF(AND(ISNUMBER(radial_infeed),ISNUMBER(angle_cosine)),{TRAVEL},"–")'),
        ("F4:H4", "F5:H5", "Over wires, aim", "micrometer_preset", "reading to set the micrometer to",
         f'IF(ISNUMBER(wire_constant),{_AIMED},"–")'),
        ("I4:L4", "I5:L5", "Over wires, max", "over_wires_max", "largest reading over wires",
         f'IF(ISNUMBER(wire_constant),{text(contact.of_setup("max"))},"–")'),
        ("M4:O4", "M5:O5", "Over wires, min", "over_wires_min", "smallest reading over wires",
         f'IF(ISNUMBER(wire_constant),{text(contact.of_setup("min"))},"–")'),
    )  # fmt: skip
    for head_at, at, label, name, meaning, formula in figures:
        if name == "radial_infeed":
            blocks.result(book, ws, head_at, "radial_head", "heading of the infeed", BLANK_HEAD, look="head")
        else:
            blocks.write(book, ws, head_at, label, "head")
        blocks.result(book, ws, at, name, meaning, formula, dimension="length", look="setup_main")


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A6:D6", "At the machine: fill in from top to bottom")
    defaults = {"aim_limit": "mid", "pass_rule": "equal area"}
    blocks.result(book, ws, "A7:D7", "next_step", "what is still to fill in", next_step(), look="next")
    rows = {}
    for row, (name, label, meaning, dimension, check, prompt) in enumerate(INPUTS, start=BESIDE_FIRST):
        rows[name] = row
        blocks.write(book, ws, f"A{row}", label, "label")
        value = defaults.get(name)
        blocks.entry(book, ws, f"B{row}", name, meaning, prompt=prompt, dimension=dimension, check=check, value=value)
    beside = (
        ("tip_size", "tip_words_short", "what the tip size is",
         'IF(tip_kind="flat","width of its flat",IF(tip_kind="nose radius","its radius",""))'),
        ("blank_measured", "blank_words", "how the blank stands", blank_words()),
        ("compound_angle", "angle_words", "which compound angle is used",
         ('IF(ISNUMBER(angle_used),IF(ISBLANK(compound_angle),"empty: "&ROUND(angle_used,2)&" is used",'
          '"from straight in"),IF(ISTEXT(compound_angle),"a text, no number",""))')),
        ("dial_division", "dial_words", "which dial division is used",
         ('IF(ISBLANK(dial_division),IF(ISNUMBER(dial_used),"lathe: "&'
          f'{shown("dial_used")}&" is used","nothing is rounded"),"")')),
        ("wire_set", "wire_set_words", "which wire is used",
         ('IF(AND(ISNUMBER(wire_used),NOT(no_wires)),FIXED(wire_used,decimals+1,TRUE)&IF(ISBLANK(wire_in_use),'
          '" is its mean"," is used"),"")')),
        ("wire_in_use", "wire_words_short", "the best wire in words",
         'IF(ISNUMBER(wire_best),"best "&FIXED(wire_best,decimals+1,TRUE),"")'),
    )  # fmt: skip
    for at, name, meaning, formula in beside:
        row = rows[at]
        ref = f"C{row}:D{row + (at == 'blank_measured')}"
        blocks.result(book, ws, ref, name, meaning, formula, look="aid")


def _depth(book: Book, ws: Worksheet) -> None:
    row = BESIDE_FIRST + len(INPUTS)
    blocks.heading(book, ws, f"A{row}:D{row}", "Radial infeed with another tip: do not feed this")
    flat = "pitch/8/flank_spread"
    blocks.write(book, ws, f"A{row + 1}", "Sharp; flat of P/8", "label")
    figures = (
        (f"B{row + 1}", "infeed_sharp", "radial infeed of a dead sharp tip",
         ('IF(AND(ISNUMBER(infeed_start),blank_fault=""),IF(ISNUMBER(root_radius_min),"radius only",'
          'IF(infeed_start>0,infeed_start,"")),"")')),
        (f"C{row + 1}:D{row + 1}", "infeed_flat", "radial infeed of a flat of P/8",
         ('IF(AND(ISNUMBER(infeed_start),blank_fault=""),IF(ISNUMBER(root_radius_min),"radius only",'
          f'IF(AND({flat}<=tip_room+0.000000001,infeed_start>{flat}),infeed_start-{flat},'
          '"too blunt")),"")')),
    )  # fmt: skip
    for ref, name, meaning, formula in figures:
        blocks.result(book, ws, ref, name, meaning, formula, dimension="length")
    ref = f"A{row + 2}:D{row + 4}"
    blocks.result(book, ws, ref, "tip_words", "what the sharp figure would do", tip_words(), look="sentence")


def _wires(book: Book, ws: Worksheet) -> None:
    row = BESIDE_FIRST + len(INPUTS) + 5
    blocks.heading(book, ws, f"A{row}:D{row}", "Three wires")
    spread = "TAN(half_angle)/COS(RADIANS(flank_steeper))"
    rows = (
        ("Usable: over, up to", f"B{row + 1}", "wire_smallest",
         "wire flush with the smallest crest at the largest pitch diameter", "wire",
         f'IF({EXTERNAL},(major_min-pitch_max+2*half_height)/wire_rise,"")'),
        ("", f"C{row + 1}:D{row + 1}", "wire_largest", "wire at the edge or the rounding of the crest", "wire",
         (f'IF({EXTERNAL},((1+crest_rounding)*(major_min-pitch_max+2*half_height)-4*crest_rounding*half_height)'
          f'*{spread},"")')),
        ("Reading less pitch dia.", f"C{row + 2}:D{row + 2}", "wire_constant",
         "reading less pitch diameter, for the wire in use", "wire",
         f'IF(ISNUMBER({text(contact.of_setup("mid"))}),{text(contact.of_setup("mid"))}-(pitch_max+pitch_min)/2,"")'),
        ("Micrometer", f"C{row + 3}:D{row + 3}", "micrometer_range", "range of the micrometer", "words",
         (f'IF(ISNUMBER(wire_constant),INT(over_wires_min/{RANGE_STEP})*{RANGE_STEP}&" to "&'
          f'-INT(-over_wires_max/{RANGE_STEP})*{RANGE_STEP}&" "&unit,"")')),
    )  # fmt: skip
    for number, (label, ref, name, meaning, dimension, formula) in enumerate(rows):
        if label:
            blocks.write(book, ws, f"A{row + max(number, 1)}", label, "label")
        blocks.result(book, ws, ref, name, meaning, formula, dimension=dimension)
    ref = f"A{row + 4}:D{row + 6}"
    blocks.result(book, ws, ref, "wire_words", "whether the wire in use serves", wire_words(), look="sentence")


SIGNED = (
    (("F", "G:I", "tool, tip, centre height"), ("K", "L:O", "gears and levers, hand")),
    (("F", "G:I", "half-nuts, dial line"), ("K", "L:O", "speed, chuck, guards")),
)
"""Boxes to tick on paper: box, cells of the words, words."""


def _sign_off(book: Book, ws: Worksheet) -> None:
    """Boxes for pen and ink; nothing is typed here."""
    blocks.heading(book, ws, f"F{SIGN_AT}:O{SIGN_AT}", "Checked before the first cut: tick and sign")
    for row, line in enumerate(SIGNED, start=SIGN_AT + 1):
        for box, cells, words in line:
            blocks.write(book, ws, f"{box}{row}", None, "box")
            first, last = cells.split(":")
            blocks.write(book, ws, f"{first}{row}:{last}{row}", words, "aid")
    row = SIGN_AT + 3
    for columns, words in (("F:I", "Set up by"), ("J:M", "First piece checked by"), ("N:O", "Date")):
        first, last = columns.split(":")
        blocks.write(book, ws, f"{first}{row}:{last}{row}", words, "head")
        blocks.write(book, ws, f"{first}{row + 1}:{last}{row + 3}", None, "box")
