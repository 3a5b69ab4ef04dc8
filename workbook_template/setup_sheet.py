"""The sheet Setup: the tool in the post, the wires in the box, and every pass at the dials."""

from __future__ import annotations

from openpyxl.worksheet.worksheet import Worksheet

from workbook_template import blocks, plan
from workbook_template.blocks import Book, Check
from workbook_template.plan import PASSES, SPRINGS, TRAVEL, shown

SHEET = "Setup"
WIRES = 6

ANGLE = Check("decimal", "0", "60", "between", "Type the angle from straight in, in degrees: 0 to 60.")
INPUTS = (
    ("tip_kind", "Tool tip", "end of the threading tool", "text",
     blocks.one_of(("sharp", "flat", "nose radius"), "Choose sharp, flat or nose radius."),
     "sharp, flat, or nose radius: the tool that is in the post, not the one on the drawing."),
    ("tip_size", "Tip size", "width of the flat, or nose radius", "entry", blocks.LENGTH,
     "Width of the flat or the nose radius, in the working unit. Leave empty for a sharp tool."),
    ("blank_measured", "Blank as measured", "diameter of the blank, or bore, as measured", "entry", blocks.LENGTH,
     "Diameter of the turned blank (or bore) as measured, in the working unit. Empty: the middle of its limits."),
    ("aim_limit", "Aim at", "limit of the pitch diameter to aim at", "text",
     blocks.one_of(("max", "mid", "min"), "Choose max, mid or min."),
     "Which pitch diameter the depth is for: mid is the middle of the tolerance."),
    ("compound_angle", "Compound angle", "compound angle from straight in", "angle", ANGLE,
     "Degrees from straight in. Empty: half a degree less than the flank, so 29.5 for 60 degree threads."),
    ("dial_division", "Dial division", "smallest division of the compound dial", "entry", blocks.LENGTH,
     "What one division moves the compound slide, in the working unit. Empty: nothing is rounded."),
    ("passes", "Passes", "cutting passes", "count", blocks.whole(1, PASSES),
     "How many cutting passes, the finishing pass among them, spring passes not. 1 to 30."),
    ("finishing_pass", "Finishing pass", "radial infeed of the last cutting pass", "entry", blocks.LENGTH,
     "Radial infeed of the last cutting pass. Empty: what the rule for the passes gives."),
    ("spring_passes", "Spring passes", "passes without more infeed", "count", blocks.whole(0, SPRINGS),
     "Passes at full depth without more infeed, 0 to 6. Empty: none."),
    ("pass_rule", "Pass rule", "how the depth is shared", "text",
     blocks.one_of(("equal area", "starter"), "Choose equal area or starter."),
     "equal area: every pass takes the same chip. starter: a lighter first pass, the rest the same."),
    ("wire_in_use", "Wire in use", "diameter of the measuring wires in use", "wire", blocks.LENGTH,
     "Diameter of the three wires as certified, in the working unit. External threads only."),
)  # fmt: skip
"""Name, label, meaning, dimension, check, message."""


SETUP_FAULT = (
    'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",'
    'IF(AND(tip_kind<>"sharp",tip_kind<>"flat",tip_kind<>"nose radius"),"Next: choose the tool tip.",'
    'IF(NOT(ISNUMBER(tip_shortening)),"Next: enter the tip size, a number more than zero.",'
    'IF(radius_wrong,"This thread must have a root radius of "&'
    f'{shown("root_radius_min")}&" to "&{shown("root_radius_max")}&" "&unit&"; use a nose radius in that range.",'
    'IF(NOT(ISNUMBER(blank_used)),"The blank as measured is not a number more than zero.",'
    'IF(NOT(ISNUMBER(pitch_aimed)),"Next: choose what to aim at, max, mid or min.",'
    'IF(ABS(blank_used-diameter)>4*pitch,"The "&blank_word&" "&'
    f'{shown("blank_used")}&" "&unit&" is nowhere near this thread; check its size and unit.",'
    'IF(tip_shortening>tip_room+0.000000001,"A "&tip_kind&" of "&'
    f'{shown("tip_size")}&" "&unit&" is too blunt: the root would foul the mating thread; at this size "&'
    f'{shown("tip_room/tip_shortening*tip_size")}&" "&unit&" is the most.",'
    'IF(infeed_raw<=0,"The "&blank_word&" "&'
    f'{shown("blank_used")}&" "&unit&" is already past the thread; check its size and unit.","")))))))))'
)

TIP_WORDS = (
    "IF(NOT(ISNUMBER(radial_infeed)),setup_fault,IF(tip_shortening=0,"
    '"This is a sharp tip: its figure fits no other tip. With a flat or a nose it would cut too deep.",'
    '"With this tip, the figure for a sharp one would cut a pitch diameter of "&'
    f'{shown("pitch_if_sharp")}&" "&unit&IF(pitch_if_sharp<pitch_min,": under its minimum by "&'
    f'{shown("pitch_min-pitch_if_sharp")}&IF(thread_side="internal",".",": scrap."),'
    'IF(pitch_if_sharp>pitch_max,": over its maximum by "&'
    f'{shown("pitch_if_sharp-pitch_max")}&IF(thread_side="internal",": scrap.","."),'
    '", still inside its limits."))))'
)
BLANK_WORDS = (
    'IF(NOT(ISNUMBER(thread_row)),"",IF(ISBLANK(blank_measured),"Not measured: the middle of its limits is used.",'
    'IF(NOT(ISNUMBER(blank_used)),"",IF(blank_used>crest_max+0.0000001,"The "&blank_word&" is over its maximum by "&'
    f'{shown("blank_used-crest_max")}&".",'
    'IF(blank_used<crest_min-0.0000001,"The "&blank_word&" is under its minimum by "&'
    f'{shown("crest_min-blank_used")}&".","The "&blank_word&" is inside its limits.")))))'
)
NO_WIRES = (
    'IF(own_taper>0,"Taper thread: gauge it with a ring or plug; for wires on a taper use the functions.",'
    '"Internal thread: no wires. Measure with a plug gauge.")'
)


def too(wire: str, otherwise: str) -> str:
    """Why a wire does not serve, in words."""
    return (
        f'IF({wire}<=wire_smallest,"too small: not proud of the crest",'
        f'IF({wire}>wire_largest,"too large: rests on the crest\'s edge",{otherwise}))'
    )


WIRE_WORDS = (
    f'IF(NOT(ISNUMBER(thread_row)),"",IF(no_wires,{NO_WIRES},'
    'IF(ISBLANK(wire_in_use),"Enter the wire in use; the best wire is "&FIXED(wire_best,decimals+1,TRUE)&" "&unit&".",'
    'IF(NOT(ISNUMBER(wire_in_use)),"The wire in use is not a number.",'
    + too(
        "wire_in_use",
        '"This wire serves: it stands proud of the crest and rests on the flanks at both ends of the tolerance."',
    )
    + "))))"
)
EXTERNAL = "AND(ISNUMBER(thread_row),NOT(no_wires))"


NEXT_STEP = (
    'IF(setup_fault<>"",setup_fault,IF(plan_note<>"",plan_note,IF(AND(NOT(no_wires),NOT(ISNUMBER(wire_constant))),'
    '"Next: enter the wire in use.","All is filled in. Check each input against the machine.")))'
)
RANGE_STEP = 'IF(unit="mm",25,1)'

WORKING = (
    ("outward", "+1 outside, -1 in a bore", 'IF(thread_side="internal",-1,1)'),
    ("blank_word", "blank or bore", 'IF(thread_side="internal","bore","blank")'),
    ("flank_spread", "how much the groove widens per unit of depth",
     'IF(ISNUMBER(thread_row),TAN(RADIANS(flank_leading))+TAN(RADIANS(flank_trailing)),"")'),
    ("half_height", "sharp bottom of the groove below the pitch line",
     'IF(ISNUMBER(flank_spread),pitch/2/flank_spread,"")'),
    ("tip_shortening", "how far the tip stays above the sharp bottom",
     ('IF(tip_kind="sharp",0,IF(NOT(ISNUMBER(tip_size)),"",IF(OR(tip_size<=0,NOT(ISNUMBER(flank_spread))),"",'
     'IF(tip_kind="flat",tip_size/flank_spread,tip_size*(COS(RADIANS((flank_leading-flank_trailing)/2))'
     '/SIN(RADIANS((flank_leading+flank_trailing)/2))-1)))))')),
    ("blank_used", "the blank that the depth starts from",
     ('IF(ISBLANK(blank_measured),blank_aim,IF(NOT(ISNUMBER(blank_measured)),"",'
     'IF(blank_measured>0,blank_measured,"")))')),
    ("pitch_aimed", "pitch diameter aimed at",
     ('IF(NOT(ISNUMBER(thread_row)),"",IF(aim_limit="max",pitch_max,IF(aim_limit="min",pitch_min,'
     'IF(aim_limit="mid",(pitch_max+pitch_min)/2,""))))')),
    ("tip_room", "the most that the tip may stay above the sharp bottom",
     'IF(ISNUMBER(pitch_aimed),half_height-outward*(pitch_aimed-root_clear)/2,"")'),
    ("infeed_start", "infeed of a sharp tip",
     'IF(AND(ISNUMBER(pitch_aimed),ISNUMBER(blank_used)),outward*(blank_used-pitch_aimed)/2+half_height,"")'),
    ("infeed_raw", "infeed of this tip before it is judged",
     'IF(AND(ISNUMBER(infeed_start),ISNUMBER(tip_shortening)),infeed_start-tip_shortening,"")'),
    (
        "root_radius_min",
        "smallest root radius, where one is demanded",
        'IF(ISNUMBER(own_radius_min),own_radius_min*own_to_working,"")',
    ),
    (
        "root_radius_max",
        "largest root radius, where one is demanded",
        'IF(ISNUMBER(own_radius_max),own_radius_max*own_to_working,"")',
    ),
    (
        "radius_wrong",
        "whether the tip is not the root radius that is demanded",
        (
            'IF(ISNUMBER(root_radius_min),IF(OR(tip_kind<>"nose radius",NOT(ISNUMBER(tip_size))),TRUE,'
            "OR(tip_size<root_radius_min-0.0000001,tip_size>root_radius_max+0.0000001)),FALSE)"
        ),
    ),
    ("setup_fault", "why there is no infeed, in a sentence", SETUP_FAULT),
    ("no_wires", "whether wires are no use: an internal or a taper thread",
     'IF(ISNUMBER(thread_row),OR(thread_side="internal",own_taper>0),FALSE)'),
    ("half_angle", "half the included angle, radians",
     'IF(ISNUMBER(thread_row),RADIANS((flank_leading+flank_trailing)/2),"")'),
    ("wire_rise", "wire diameters over the sharp bottom, 3 for 60 degrees",
     'IF(ISNUMBER(half_angle),1+COS(RADIANS((flank_leading-flank_trailing)/2))/SIN(half_angle),"")'),
    ("flank_steeper", "the steeper of the two flanks, degrees",
     'IF(ISNUMBER(thread_row),MIN(flank_leading,flank_trailing),"")'),
)  # fmt: skip
"""Name, meaning, formula of the figures behind the page."""


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    columns = {"A": 17, "B": 12.5, "C": 11, "D": 11, "E": 2, "F": 6, "G": 9.5, "H": 9.5, "I": 10, "J": 10.5}
    blocks.widths(ws, columns | {"K": 10.5, "L": 5, "M": 4, "N": 22, "O": 14, "Q": 12, "R": 12})
    blocks.banner(
        book, ws, "A1:L1", "left_hand_setup",
        'IF(LEN(left_hand_words)>0,left_hand_words&": reverse the leadscrew, cut away from the headstock","")',
    )  # fmt: skip
    blocks.result(book, ws, "A2:G2", "callout_setup", "the thread, as on the sheet Job", "callout", look="callout")
    gearing = (
        'IF(NOT(ISNUMBER(thread_row)),thread_note,IF(starts>1,starts&" starts: gear for the lead "&'
        f'{shown("lead")}&" "&unit&", turn the work "&ROUND(360/starts,2)&" degrees between starts.",'
        '"Gear for "&ROUND(row_threads_per_inch,3)&" threads per inch, lead "&'
        f'{shown("lead")}&" "&unit&"."))'
    )
    blocks.result(book, ws, "H2:L2", "gear_words", "what to gear for", gearing, look="note")
    ws.row_dimensions[1].height, ws.row_dimensions[2].height = 26, 34
    _main_figures(book, ws)
    _inputs(book, ws)
    _depth(book, ws)
    _wires(book, ws)
    plan.build(book, ws)
    blocks.heading(book, ws, "N7:O7", "Working figures (not printed)")
    for row, (name, meaning, formula) in enumerate((*WORKING, *plan.WORKING), start=8):
        blocks.write(book, ws, f"N{row}", name.replace("_", " "), "small")
        blocks.result(book, ws, f"O{row}", name, meaning, formula, role="working")
    for row in range(10, plan.LAST + 1):
        ws.row_dimensions[row].height = 18
    blocks.page(ws, f"A1:L{plan.LAST}")
    blocks.lock(ws)


def _main_figures(book: Book, ws: Worksheet) -> None:
    figures = (
        ("A4:B4", "A5:B5", "Feed in on the radius", "radial_infeed", "radial infeed for this tip",
         'IF(setup_fault="",infeed_raw,"–")'),
        ("C4:D4", "C5:D5", "Turn the compound", "compound_travel", "travel of the compound for that infeed",
         f'IF(AND(ISNUMBER(radial_infeed),ISNUMBER(angle_cosine)),{TRAVEL},"–")'),
        ("F4:H4", "F5:H5", "Over wires, aim", "micrometer_preset", "reading to set the micrometer to",
         'IF(ISNUMBER(wire_constant),pitch_aimed+wire_constant,"–")'),
        ("I4:J4", "I5:J5", "Over wires, max", "over_wires_max", "largest reading over wires",
         'IF(ISNUMBER(wire_constant),pitch_max+wire_constant,"–")'),
        ("K4:L4", "K5:L5", "Over wires, min", "over_wires_min", "smallest reading over wires",
         'IF(ISNUMBER(wire_constant),pitch_min+wire_constant,"–")'),
    )  # fmt: skip
    for head_at, at, label, name, meaning, formula in figures:
        blocks.write(book, ws, head_at, label, "head")
        blocks.result(book, ws, at, name, meaning, formula, dimension="length", look="main")
    ws.row_dimensions[5].height = 30


def _inputs(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A7:D7", "At the machine: fill in from top to bottom")
    defaults = {"aim_limit": "mid", "pass_rule": "equal area"}
    blocks.result(book, ws, "A8:D8", "next_step", "what is still to fill in", NEXT_STEP, look="next")
    for row, (name, label, meaning, dimension, check, prompt) in enumerate(INPUTS, start=9):
        blocks.write(book, ws, f"A{row}", label, "label")
        value = defaults.get(name)
        blocks.entry(book, ws, f"B{row}", name, meaning, prompt=prompt, dimension=dimension, check=check, value=value)
    beside = {
        10: ("tip_words_short", "what the tip size is",
            'IF(tip_kind="flat","width of its flat",IF(tip_kind="nose radius","its radius",""))'),
        11: ("blank_words", "how the blank stands", BLANK_WORDS),
        13: ("angle_words", "which compound angle is used",
             ('IF(ISNUMBER(angle_used),IF(ISBLANK(compound_angle),"empty: "&ROUND(angle_used,2)&" is used",'
             '"degrees from straight in"),"")')),
        19: ("wire_words_short", "the best wire in words",
             'IF(ISNUMBER(wire_best),"best "&FIXED(wire_best,decimals+1,TRUE),"")'),
    }  # fmt: skip
    for row, (name, meaning, formula) in beside.items():
        ref = f"C{row}:D{row + 1}" if row == 11 else f"C{row}:D{row}"
        blocks.result(book, ws, ref, name, meaning, formula, look="side")


def _depth(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A21:D21", "Radial infeed for other tips: not for this one")
    flat = "pitch/8/flank_spread"
    rows = (
        ("infeed_sharp", "Dead sharp", "radial infeed of a dead sharp tip",
         ('IF(ISNUMBER(infeed_start),IF(ISNUMBER(root_radius_min),"radius only",'
         'IF(infeed_start>0,infeed_start,"")),"")')),
        ("infeed_flat", "Flat of an eighth pitch", "radial infeed of a flat of P/8",
         ('IF(ISNUMBER(infeed_start),IF(ISNUMBER(root_radius_min),"radius only",'
         f'IF(AND({flat}<=tip_room+0.000000001,infeed_start>{flat}),infeed_start-{flat},'
         '"too blunt")),"")')),
        ("pitch_if_sharp", "Pitch diameter, sharp figure", "pitch diameter if the sharp figure were cut with this tip",
         'IF(ISNUMBER(radial_infeed),pitch_aimed-2*outward*tip_shortening,"")'),
    )  # fmt: skip
    for row, (name, label, meaning, formula) in enumerate(rows, start=22):
        blocks.write(book, ws, f"A{row}:C{row}", label, "label")
        blocks.result(book, ws, f"D{row}", name, meaning, formula, dimension="length")
    blocks.result(book, ws, "A25:D27", "tip_words", "what the sharp figure would do", TIP_WORDS, look="sentence")


def _wires(book: Book, ws: Worksheet) -> None:
    blocks.heading(book, ws, "A29:D29", "Three wires")
    spread = "TAN(half_angle)/COS(RADIANS(flank_steeper))"
    lead, trail = "COS(RADIANS(flank_leading))", "COS(RADIANS(flank_trailing))"
    best = f"pitch*({lead}^2+{trail}^2)/({lead}+{trail})/(2*COS(half_angle)^2)"
    rows = (
        ("wire_best", "Best wire", "wire that touches at the pitch line", "wire",
         f'IF({EXTERNAL},{best},"")'),
        ("wire_smallest", "Usable: more than", "wire flush with the crest", "wire",
         f'IF({EXTERNAL},(major_max-pitch_min+2*half_height)/wire_rise,"")'),
        ("wire_largest", "Usable: up to", "wire at the edge of the crest", "wire",
         f'IF({EXTERNAL},(major_min-pitch_max+2*half_height)*{spread},"")'),
        ("wire_constant", "Take off a reading", "reading less pitch diameter, for the wire in use", "wire",
         ('IF(AND(ISNUMBER(wire_in_use),ISNUMBER(wire_smallest)),IF(AND(wire_in_use>wire_smallest,'
         'wire_in_use<=wire_largest),wire_in_use*wire_rise-2*half_height,""),"")')),
        ("micrometer_range", "Micrometer", "range of the micrometer", "words",
         (f'IF(ISNUMBER(wire_constant),INT(over_wires_min/{RANGE_STEP})*{RANGE_STEP}&" to "&'
         f'-INT(-over_wires_max/{RANGE_STEP})*{RANGE_STEP}&" "&unit,"")')),
    )  # fmt: skip
    for row, (name, label, meaning, dimension, formula) in enumerate(rows, start=30):
        blocks.write(book, ws, f"A{row}:C{row}", label, "label")
        blocks.result(book, ws, f"D{row}", name, meaning, formula, dimension=dimension)
    blocks.result(book, ws, "A35:D36", "wire_words", "whether the wire in use serves", WIRE_WORDS, look="sentence")
    blocks.heading(book, ws, "A38:D38", "Wires on hand")
    for letter, text in zip("ABCD", ("wire", "serves?", "max", "min")):
        blocks.write(book, ws, f"{letter}39", text, "head")
    for number in range(1, WIRES + 1):
        row, wire = 39 + number, f"wire_{number}"
        prompt = "Diameter of a set of three wires you own, in the working unit."
        blocks.entry(
            book, ws, f"A{row}", wire, f"wires on hand, set {number}", prompt=prompt, dimension="wire",
            check=blocks.LENGTH,
        )  # fmt: skip
        words = (
            f'IF(OR(ISBLANK({wire}),NOT(ISNUMBER(thread_row))),"",IF(no_wires,"no wires",'
            f'IF(NOT(ISNUMBER({wire})),"not a number",IF({wire}<=wire_smallest,"too small",'
            f'IF({wire}>wire_largest,"too large","yes")))))'
        )
        blocks.result(book, ws, f"B{row}", f"{wire}_words", f"whether set {number} serves", words, look="wire_row")
        for letter, end in (("C", "max"), ("D", "min")):
            formula = f'IF({wire}_words="yes",pitch_{end}+{wire}*wire_rise-2*half_height,"")'
            meaning = f"reading over wires at the {end} pitch diameter, set {number}"
            blocks.result(
                book, ws, f"{letter}{row}", f"{wire}_{end}", meaning, formula, dimension="length", look="wire_row"
            )
