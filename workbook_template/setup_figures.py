"""The figures behind the sheet Setup: what the depth and the wires come from, and the sentences about them."""

from __future__ import annotations

from sheetfuncs.cutting import FAR_BLANK, ROUNDING
from workbook_template.instruments import SET_ROW
from workbook_template.lathe_formulas import in_use
from workbook_template.plan import shown

_FAR = f"{FAR_BLANK}*pitch"
BLANK_FAULT = (
    'IF(NOT(ISNUMBER(blank_used)),"The "&blank_word&" as measured is not a number more than zero.",'
    'IF(NOT(ISNUMBER(pitch_aimed)),"Next: choose what to aim at, max, mid or min.",'
    'IF(outward*(blank_used-pitch_aimed)<=0,"The "&blank_word&" "&'
    f'{shown("blank_used")}&" is "&IF(outward>0,"below","above")&" the pitch diameter aimed at, "&'
    f'{shown("pitch_aimed")}&": this thread can\'t be cut on it.",'
    'IF(ISBLANK(blank_measured),"",'
    f'IF(blank_used-crest_max>{_FAR},"The "&blank_word&" "&{shown("blank_used")}&" is over its largest size by "&'
    f'{shown("blank_used-crest_max")}&": made for another thread? Check size and unit.",'
    f'IF(crest_min-blank_used>{_FAR},"The "&blank_word&" "&{shown("blank_used")}&" is under its smallest size by "&'
    f'{shown("crest_min-blank_used")}&": made for another thread? Check size and unit.",""))))))'
)
SETUP_FAULT = (
    'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job first.",'
    'IF(AND(tip_kind<>"sharp",tip_kind<>"flat",tip_kind<>"nose radius"),"Next: choose the tool tip.",'
    'IF(NOT(ISNUMBER(tip_shortening)),"Next: enter the tip size, a number more than zero.",'
    'IF(radius_wrong,"This thread must have a root radius of "&'
    f'{shown("root_radius_min")}&" to "&{shown("root_radius_max")}&" "&unit&"; use a nose radius in that range.",'
    'IF(blank_fault<>"",blank_fault,'
    'IF(tip_shortening>tip_room+0.000000001,"A "&tip_kind&" of "&'
    f'{shown("tip_size")}&" "&unit&" is too blunt: the root would foul the mating thread; at this size "&'
    f'{shown("tip_room/tip_shortening*tip_size")}&" "&unit&" is the most.",'
    'IF(infeed_raw<=0,"The "&blank_word&" "&'
    f'{shown("blank_used")}&" "&unit&" is already past the thread; check its size and unit.",'
    'IF(another_lead=TRUE,"The lathe in use does not cut this lead: see Gears below, and the sheet Lathe.",""))))))))'
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
    'IF(NOT(ISNUMBER(thread_row)),"",IF(ISBLANK(blank_measured),"Not measured: the middle is used.",'
    'IF(OR(NOT(ISNUMBER(blank_used)),blank_fault<>""),"",'
    'IF(blank_used>crest_max+0.0000001,"The "&blank_word&" is over its maximum by "&'
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


WIRE_SERVES = '"This wire serves: proud of the crest, on the flanks at both ends of the tolerance."'
WIRE_BELOW = (
    '"May sit below the crest: it reads "&'
    f'{shown("pitch_min+wire_used*wire_rise-2*half_height")}&" at the smallest pitch diameter, and the crest may be "&'
    f'{shown("major_max")}&". Measure the crest, or take a wire over "&'
    'FIXED((major_max-pitch_min+2*half_height)/wire_rise,decimals+1,TRUE)&"."'
)
LEAD_LEFT_OUT = "wire_used*(lead/(RADIANS(180)*pitch_basic))^2/2*COS(half_angle)/TAN(half_angle)"
"""What the lead angle would add between alike flanks of this included angle (Machinery's Handbook, 31st ed., p. 2130).

Only to tell how far the readings of unlike flanks may be off, for which no exact rule is known here.
"""
LEAD_IN_WIRES = (
    f"IF(NOT(alike_flanks),IF({LEAD_LEFT_OUT}>pitch_tolerance/10,"
    f'" UNLIKE FLANKS: the lead angle is left out, about "&{shown(LEAD_LEFT_OUT)}&"; judge by the gauge.",""),'
    'IF(wire_correction>pitch_tolerance/10," LEAD ANGLE adds "&'
    f'{shown("wire_correction")}&", "&ROUND(100*wire_correction/pitch_tolerance,0)&" % of the tolerance: included '
    'here, not in handbook constants.",IF(ROUND(wire_correction,decimals)>0," With the lead angle correction of "&'
    f'{shown("wire_correction")}&".","")))'
)
WIRE_WORDS = (
    f'IF(NOT(ISNUMBER(thread_row)),"",IF(no_wires,{NO_WIRES},'
    'IF(AND(ISBLANK(wire_in_use),LEN(wire_set)=0),"Choose a wire set or enter the wire in use; the best wire is "&'
    'FIXED(wire_best,decimals+1,TRUE)&" "&unit&".",'
    'IF(NOT(ISNUMBER(wire_used)),IF(ISBLANK(wire_in_use),"The sheet Instruments has no diameter for the wire set "&'
    'wire_set&".","The wire in use is not a number."),'
    + too(
        "wire_used",
        'IF(NOT(ISNUMBER(wire_constant)),"too large at this lead angle: it touches past the crests",'
        f"IF(wire_used*wire_rise-2*half_height>major_max-pitch_min,{WIRE_SERVES},{WIRE_BELOW})&"
        'IF(OR(wire_state="",wire_state="in date",wire_state="due soon"),""," BUT THE SET: "&wire_state&".")'
        f"&{LEAD_IN_WIRES})",
    )
    + "))))"
)
EXTERNAL = "AND(ISNUMBER(thread_row),NOT(no_wires))"


NEXT_STEP = (
    'IF(setup_fault<>"",setup_fault,IF(plan_fault<>"",plan_fault,IF(AND(NOT(no_wires),NOT(ISNUMBER(wire_constant))),'
    'IF(ISNUMBER(wire_used),"The wire "&FIXED(wire_used,decimals+1,TRUE)&" is "&'
    + too("wire_used", '"too large at this lead angle"')
    + '&".","Next: choose a wire set or enter the wire in use."),'
    'IF(ticks_old>0,"Ticks of another thread stand in the plan (old): clear them.",'
    'IF(ISBLANK(blank_measured),"BLANK NOT MEASURED: the middle of its limits is used. Measure the "&blank_word&".",'
    '"All is filled in. Check each input against the machine.")))))'
)
_LEAD, _TRAIL = "COS(RADIANS(flank_leading))", "COS(RADIANS(flank_trailing))"
BEST_WIRE = f'IF({EXTERNAL},pitch*({_LEAD}^2+{_TRAIL}^2)/({_LEAD}+{_TRAIL})/(2*COS(half_angle)^2),"")'
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
     ('IF(ISNUMBER(pitch_aimed),half_height-outward*(IF(own_taper>0,pitch_basic,pitch_aimed)-root_clear)/2+'
      f'IF(own_unit="mm",{ROUNDING["mm"]},{ROUNDING["in"]:.5f})*own_to_working,"")')),
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
    ("blank_fault", "what is wrong with the blank, in a sentence", BLANK_FAULT),
    ("setup_fault", "why there is no infeed, in a sentence", SETUP_FAULT),
    ("dial_used", "division of the compound dial that the plan uses, of the lathe in use where none is typed",
     'IF(ISBLANK(dial_division),IF(ISNUMBER(compound_division),compound_division,""),dial_division)'),
    ("dial_own", "division of the compound dial of the lathe in use as its dial reads",
     (f'IF(AND(ISBLANK(dial_division),ISNUMBER(dial_used)),IF(ISNUMBER({in_use("compound_dial")}),'
      f'{in_use("compound_dial")},""),"")')),
    ("dial_own_unit", "unit of that dial", f'{in_use("dial_unit")}&""'),
    ("dial_differs", "whether it reads in another unit, or diameters",
     (f'IF(ISNUMBER(dial_own),OR(dial_own_unit<>unit,{in_use("compound_dial_reads")}="diameter"),FALSE)')),
    ("wire_used", "wire in use: as typed, else the certified mean of the set",
     ('IF(NOT(ISBLANK(wire_in_use)),IF(ISNUMBER(wire_in_use),wire_in_use,""),IF(LEN(wire_set)=0,"",'
      f'IFERROR(IF(ISNUMBER(INDEX(wires_mean,{SET_ROW})),'
      f'INDEX(wires_mean,{SET_ROW}),""),"")))')),
    ("wire_state", "state of the wire set, where the wire comes from it",
     ('IF(OR(NOT(ISBLANK(wire_in_use)),LEN(wire_set)=0),"",'
      f'IFERROR(INDEX(wires_state,{SET_ROW})&"",""))')),
    ("wire_serves", "whether the wire in use is proud of the crest and rests on the flanks",
     ('IF(AND(ISNUMBER(wire_used),ISNUMBER(wire_smallest)),'
      'AND(wire_used>wire_smallest,wire_used<=wire_largest),FALSE)')),
    ("wire_correction", "what the lead angle adds to a reading at the middle of the limits",
     ('IF(AND(ISNUMBER(wire_constant),alike_flanks),wire_constant-(wire_used*wire_rise-2*half_height),"")')),
    ("pitch_if_sharp", "pitch diameter if the sharp figure were cut with this tip",
     'IF(ISNUMBER(radial_infeed),pitch_aimed-2*outward*tip_shortening,"")'),
    ("wire_best", "wire that touches at the pitch line", BEST_WIRE),
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
