"""The formulas of the sheet Lathe: dial rule, levers and change gears, speed, feed, each once for both lathes.

A `#` in a name stands for the lathe: leadscrew# is leadscrew_1 or leadscrew_2. The dial rule is that of
sheetfuncs.lathe.dial with the lead error of the gearing in use, word for word but for the chuck, which the sheet knows;
the rules for gears are those of sheetfuncs.gears.
"""

from __future__ import annotations

from sheetfuncs.gears import SHAFT_TEETH, SMALLEST_IDLER
from sheetfuncs.lathe import ANOTHER_LEAD, BESIDE, SCREWED_CHUCK, SLIP
from workbook_template.plan import shown

NEAR = "0.0000001"
"""Turns, threads and leads that differ by less from a whole number are whole: decimals as people type them."""
EXACT = "0.000000001"
"""A lead nearer than this share of it is exact."""
DRIFT = f"{BESIDE / SLIP:.10f}".rstrip("0")
"""What a thread of the leadscrew may be off a whole number of pitches."""
DENOMINATORS = 720720
"""The least number that every denominator up to 16 divides."""
LARGEST_DENOMINATOR = 16
GEAR_LETTERS = "abcd"
NO_DIAL = "no thread dial is given: keep the half-nuts shut and reverse under power"


def for_lathe(formula: str, lathe: int) -> str:
    """The formula of one lathe.

    >>> for_lathe("leadscrew#*2", 1)
    'leadscrew_1*2'
    """
    return formula.replace("#", f"_{lathe}")


def in_use(name: str) -> str:
    """What holds for the lathe in use.

    >>> in_use("lathe_rpm")
    'IF(lathe_in_use=2,lathe_rpm_2,lathe_rpm_1)'
    """
    return f"IF(lathe_in_use=2,{name}_2,{name}_1)"


def whole(value: str, within: str = NEAR) -> str:
    """Whether a value is a whole number."""
    return f"ABS({value}-ROUND({value},0))<={within}"


def _turn(letter: str) -> str:
    return (
        f"IF(AND(ISNUMBER(thread_in_screw#),ISNUMBER(dial_{letter}#),ISNUMBER(dial_lines#)),"
        f'IF(AND(dial_{letter}#>=1,dial_lines#>=1),dial_{letter}#*thread_in_screw#,""),"")'
    )


def _open_lines(letter: str) -> str:
    turn = f"dial_turn_{letter}#"
    comes_round = whole(turn, f"dial_{letter}#*{DRIFT}/starts")
    return f'IF(ISNUMBER({turn}),IF({comes_round},GCD(INT(dial_lines#),ROUND({turn},0),INT(dial_{letter}#)),0),"")'


def _chosen(template: str, otherwise: str = '""') -> str:
    """The template for the first gear of the dial that gives most lines."""
    formula = otherwise
    for letter in reversed(GEAR_LETTERS):
        formula = f"IF(dial_open_{letter}#=dial_best#,{template.format(letter)},{formula})"
    return f'IF(ISNUMBER(dial_best#),{formula},"")'


NOUN = 'IF(starts>1,"lead","thread")'


def _counted(value: str) -> str:
    return f'ROUND({value},0)&" "&{NOUN}&IF(ROUND({value},0)=1,"","s")'


_INEXACT = "IF(ISNUMBER(lathe_lead_error_ppm#),lathe_lead_error_ppm#<>0,FALSE)"
_TURN_TEXT = (
    f'IF(AND(dial_bottom#<={LARGEST_DENOMINATOR},NOT({_INEXACT})),IF(dial_turn#<1,"",INT(dial_turn#)&" ")&'
    'ROUND((dial_turn#-INT(dial_turn#))*dial_bottom#,0)&"/"&dial_bottom#,'
    'IF(ROUND(dial_turn#,4)=ROUND(dial_turn#,0),"not quite "&ROUND(dial_turn#,0),'
    'SUBSTITUTE(ROUND(dial_turn#,4)&"",",",".")))'
)
_SHUT = (
    f'"keep the half-nuts shut and reverse under power: "&IF({_INEXACT},"the gears are not exact, ","")&'
    f'"one turn of the dial is "&{_TURN_TEXT}&" "&{NOUN}&"s"&IF({_INEXACT},'
    f'" as really cut, so no line brings the tool back into its groove",", so no line comes round to the same "&{NOUN})'
)
_REALLY = (
    'IF(ISNUMBER(lathe_lead_error_ppm#),IF(lathe_lead_error_ppm#=0,""," as really cut"),'
    '"; that is with exact gears, and none are given")'
)
_EACH_THREAD = whole("thread_in_screw#", f"{DRIFT}/starts")
_LINES = (
    'IF(dial_apart#=1,"at any line: from line to line is "&dial_span#,'
    'IF(dial_apart#=dial_lines#,"at the line you began on only: one turn of the dial is "&dial_span#,'
    'IF(2*dial_apart#=dial_lines#,"at the line you began on or the one opposite: half a turn is "&dial_span#,'
    '"at the line you began on or every "&dial_apart#&IF(dial_apart#=2,"nd",IF(dial_apart#=3,"rd","th"))&" from it ("&'
    'dial_best#&" lines of the "&dial_lines#&"): "&dial_apart#&" lines are "&dial_span#)))'
)
DIAL_WORDS = (
    'IF(lathe_fault#<>"",lathe_fault#,IF(another_lead#,"these gears cut another lead: first set gears for this one",'
    f'IF({_EACH_THREAD},"close the half-nuts anywhere: each thread of the leadscrew is "&'
    f"{_counted('thread_in_screw#')}&{_REALLY},"
    f'IF(NOT(ISNUMBER(dial_best#)),"{NO_DIAL}",IF(dial_best#=0,{_SHUT},'
    'IF(COUNT(dial_a#,dial_b#,dial_c#,dial_d#)>1,"with the "&dial_gear#&" tooth gear ","")&'
    f'"close the half-nuts "&{_LINES}&{_REALLY})))))'
)
HALF_NUTS = (
    f'IF(lathe_fault#<>"","",IF(another_lead#,"",IF({_EACH_THREAD},TRUE,IF(ISNUMBER(dial_best#),dial_best#>0,FALSE))))'
)

LATHE_FAULT = (
    'IF(NOT(ISNUMBER(job_lead_mm)),"Choose the thread on the sheet Job.",IF(NOT(ISNUMBER(lathe_leadscrew_mm#)),'
    'IF(ISBLANK(leadscrew#),"This lathe is not described yet: type its leadscrew below.",'
    '"The leadscrew is a number more than zero with its unit, tpi or mm."),""))'
)


def gears_lead(levers: str, a: str, b: str, c: str, d: str) -> str:
    """Lead in mm that gears cut: of the levers with their usual end gears taken out, or of the screw itself."""
    base = (
        f"IF(LEN({levers})>0,IF(ISNUMBER(end_ratio#),IFERROR(INDEX(box_lead#,MATCH({levers},box_position#,0))"
        '/end_ratio#,""),""),IF(ISNUMBER(lathe_leadscrew_mm#),lathe_leadscrew_mm#*IF(ISNUMBER(fixed_ratio#),fixed_ratio#,1),""))'
    )
    ratio = f"{a}/{b}*IF(COUNT({c},{d})=2,{c}/{d},1)"
    return f'IF(AND(COUNT({a},{b})=2,COUNT({c},{d})<>1),IFERROR({base}*{ratio},""),"")'


def _picked(letter: str) -> str:
    charted = f"INDEX(train_{letter}#,train_at#)"
    return (
        f'IF(gear_choice#="use",IF(ISNUMBER(use_{letter}#),use_{letter}#,0),'
        f'IF(gear_choice#="train",IF(ISNUMBER({charted}),{charted},0),0))'
    )


def _short_of(letter: str) -> str:
    """Whether the shelf has fewer gears of that size than the train takes."""
    taken = "+".join(f"(use_{other}#=use_{letter}#)" for other in GEAR_LETTERS)
    return f"IF(ISNUMBER(use_{letter}#),COUNTIF(shelf#,use_{letter}#)<{taken},FALSE)"


USE_FAULT = (
    'IF(gear_choice#<>"use","",IF(COUNT(use_a#,use_b#)<2,"Type a driver and a driven gear.",'
    'IF(COUNT(use_c#,use_d#)=1,"Type both gears of the second pair, or neither.",'
    'IF(MIN(use_a#,use_b#,use_c#,use_d#)<=0,"Gears are whole numbers of teeth.",'
    'IF(AND(LEN(use_levers#)>0,NOT(ISNUMBER(end_ratio#))),"Type the usual end gears of the lever chart below.",'
    'IF(NOT(ISNUMBER(use_lead#)),"The levers "&use_levers#&" are not in the lever chart.",""))))))'
)
_NOT_THERE = "".join(f'IF({_short_of(x)}," The shelf list lacks gear "&use_{x}#&".",' for x in GEAR_LETTERS)
SHELF_WORDS = f'IF(OR(gear_choice#<>"use",COUNT(shelf#)=0),"",{_NOT_THERE}"")))))'

_PAIR = '{0}_a#&"/"&{0}_b#&IF({0}_c#>0," x "&{0}_c#&"/"&{0}_d#,"")'
_LEVERS = 'IF(LEN(pick_levers#)>0,"levers "&pick_levers#&", gears ","gears ")'
ERROR_WORDS = (
    'IF(NOT(ISNUMBER(lathe_lead_error_ppm#)),"",IF(lathe_lead_error_ppm#=0,"exact",'
    'IF(another_lead#,"cuts a lead of "&FIXED(cut_lead#/{per},decimals,TRUE)&'
    '" "&unit&" where "&FIXED(job_lead_mm/{per},decimals,TRUE)&" "&unit&" is wanted; THREAD_GEARS searches the shelf",'
    '"lead error "&'
    'IF(lathe_lead_error_ppm#>0,"+","")&FIXED(lathe_lead_error_ppm#,0,TRUE)&" ppm, "&'
    'IF(ISNUMBER(error_over#),IF(error_over#>0,"+","")&FIXED(error_over#,decimals+1,TRUE)&" "&unit&'
    '" over "&{over},""))))'
).format(
    per='IF(unit="in",25.4,1)',
    over='IF(ISNUMBER(thread_length),"the thread","one diameter")',
)
GEAR_WORDS = (
    'IF(lathe_fault#<>"",lathe_fault#,IF(gear_choice#="none","No lever position and no gears are listed: '
    'the function THREAD_GEARS searches the shelf, or type what the plate on the lathe says.",'
    'IF(use_fault#<>"",use_fault#,IF(gear_choice#="box",IF(lathe_lead_error_ppm#=0,"levers ",'
    '"no position gives it; the nearest is ")&INDEX(box_position#,box_at#)&", usual end gears",'
    f'IF(gear_choice#="use","in use: ","")&{_LEVERS}&{_PAIR.format("pick")})&": "&error_words#)))'
)

BY_LEVER = 'OR(feed_reverse#="lever",feed_reverse#="tumbler")'
_IDLERS = (
    'IF(idlers#=0,"no idler",IF(idlers#=1,"an idler",IF(fits_plain#=fits_idlers#,"two idlers, or none",'
    'IF(fits_plain#,"no idler","two idlers"))))'
)
ROOM_WORDS = (
    'IF(NOT(AND(ISNUMBER(idlers#),ISNUMBER(quadrant_min#),ISNUMBER(quadrant_max#))),"",'
    'IF(AND(NOT(fits_plain#),NOT(fits_idlers#))," Does not fit: "&pick_teeth#&" teeth where the quadrant takes "&'
    'quadrant_min#&" to "&quadrant_max#&".",IF(fits_idlers#," Idler of "&idler_min#&" to "&idler_max#&" teeth"&'
    'IF(idlers#=2," together.","."),"")))'
)
SHAFT_WORDS = (
    f'IF(NOT(pick_c#>0),"",IF(pick_a#+pick_b#<pick_c#+{SHAFT_TEETH}," Gear "&pick_c#&" runs into the shaft of "&'
    f'pick_a#&".",IF(pick_c#+pick_d#<pick_b#+{SHAFT_TEETH}," Gear "&pick_b#&" runs into the shaft of "&'
    'pick_d#&".","")))'
)
HANDLE_GEARS = "Power off and locked before gears are handled."
TRAIN_WORDS = (
    f'IF(NOT(ISNUMBER(idlers#)),"",IF({BY_LEVER},"The "&IF(feed_reverse#="lever","feed lever",feed_reverse#)&'
    '" sets right or left hand.",'
    f'IF(hand="left","Left hand: ","Right hand: ")&{_IDLERS}&".")&room_words#&shaft_words#&shelf_words#&'
    f'" {HANDLE_GEARS}")'
)

REVERSE_WORDS = (
    'IF(NOT(ISNUMBER(thread_row)),"",IF(hand="left","LEFT HAND: the carriage must go away from the headstock. ",'
    '"The carriage must go toward the headstock. ")&'
    "IF("
    f"{BY_LEVER}"
    ',"Set the "&IF(feed_reverse#="lever","feed lever","tumbler")&'
    '", spindle stopped; try the direction with the tool clear.",'
    'IF(feed_reverse#="idler gear","One idler more or less in the train turns the direction round; power off and '
    'locked first.",'
    'IF(feed_reverse#="none",IF(hand="left","This lathe has no reverse of its feed: no left-hand thread without '
    'another idler.","This lathe has no reverse of its feed."),"How its feed reverses is not given."))))'
)
CHUCK_WORDS = (
    'IF(chuck_mount#="screwed on","Screwed-on chuck: running in reverse, or a sudden stop, can unscrew it. '
    "Whether and how the spindle may run in reverse, the machine's manual says.\","
    'IF(OR(chuck_mount#="cam lock",chuck_mount#="bolted",chuck_mount#="other"),"",'
    f'"{SCREWED_CHUCK}"))'
)
"""For a chuck that can come off, or may: how it is mounted is not given."""
FEED_WORDS = (
    'IF(COUNT(box_feed#)=0,"No feeds are listed for this lathe.",IF(NOT(ISNUMBER(turning_feed)),'
    '"Type the feed wanted for turning.",IF(COUNT(box_feed_fit#)=0,"No listed feed is that fine; the finest is "&'
    'FIXED(MIN(box_feed#)*dial_to_working#,decimals,TRUE)&" "&unit&" a turn.",'
    '"levers "&INDEX(box_position#,MATCH(MAX(box_feed_fit#),box_feed_fit#,0))&": "&'
    'FIXED(MAX(box_feed_fit#)*dial_to_working#,decimals,TRUE)&" "&unit&" a turn, the next listed at or under "&'
    f'{shown("turning_feed")}&".")))'
)


def _division(dial: str, halved: bool) -> str:
    half = f'/IF({dial}_reads#="diameter",2,1)' if halved else ""
    return f'IF(AND(ISNUMBER({dial}#),ISNUMBER(dial_to_working#)),IF({dial}#>0,{dial}#*dial_to_working#{half},""),"")'


EACH = (
    ("lathe_leadscrew_mm", "lead of the leadscrew, mm",
     ('IF(ISNUMBER(leadscrew#),IF(leadscrew#>0,IF(leadscrew_unit#="mm",leadscrew#,'
      'IF(leadscrew_unit#="tpi",25.4/leadscrew#,"")),""),"")')),
    ("lathe_fault", "why there is nothing to say for this lathe", LATHE_FAULT),
    ("thread_in_screw", "leads in one thread of the leadscrew, as really cut where the gears are known",
     ('IF(AND(ISNUMBER(job_lead_mm),ISNUMBER(lathe_leadscrew_mm#)),lathe_leadscrew_mm#/'
      'IF(ISNUMBER(cut_lead#),IF(cut_lead#>0,cut_lead#,job_lead_mm),job_lead_mm),"")')),
    *((f"dial_turn_{x}", f"leads of the job in one turn of the dial, gear {x}", _turn(x)) for x in GEAR_LETTERS),
    *((f"dial_open_{x}", f"legal lines of the dial, gear {x}; 0 for none", _open_lines(x)) for x in GEAR_LETTERS),
    ("dial_best", "legal lines with the gear of the dial that gives most",
     ('IF(COUNT(dial_open_a#,dial_open_b#,dial_open_c#,dial_open_d#)>0,'
      'MAX(dial_open_a#,dial_open_b#,dial_open_c#,dial_open_d#),"")')),
    ("dial_gear", "teeth of that gear", _chosen("dial_{}#")),
    ("dial_turn", "leads of the job in one turn of the dial with it", _chosen("dial_turn_{}#")),
    ("dial_bottom", "denominator of that number of leads",
     (f'IF(ISNUMBER(dial_turn#),IF(ABS(dial_turn#*{DENOMINATORS}-ROUND(dial_turn#*{DENOMINATORS},0))<0.001,'
      f'{DENOMINATORS}/GCD({DENOMINATORS},ROUND(dial_turn#*{DENOMINATORS},0)),1000),"")')),
    ("dial_apart", "lines from one legal line to the next",
     'IF(ISNUMBER(dial_best#),IF(dial_best#>0,dial_lines#/dial_best#,0),"")'),
    ("dial_span", "what lies between two legal lines, in words",
     f'IF(ISNUMBER(dial_apart#),{_counted("dial_turn#*dial_apart#/dial_lines#")},"")'),
    ("lathe_half_nuts", "whether the half-nuts may be opened", HALF_NUTS),
    ("end_ratio", "driver over driven of the gears that the lever chart is for",
     ('IF(COUNT(end_driver#,end_driven#)=2,IF(AND(end_driver#>0,end_driven#>0),end_driver#/end_driven#,""),"")')),
    ("box_least", "error of the nearest lever position", 'IF(COUNT(box_off#)>0,MIN(box_off#),"")'),
    ("box_at", "its row in the chart", 'IF(ISNUMBER(box_least#),MATCH(box_least#,box_off#,0),"")'),
    ("train_least", "error of the nearest train of the chart", 'IF(COUNT(train_off#)>0,MIN(train_off#),"")'),
    ("train_at", "its row in the chart", 'IF(ISNUMBER(train_least#),MATCH(train_least#,train_off#,0),"")'),
    ("gear_choice", "where the gearing comes from: use, box, train or none",
     ('IF(lathe_fault#<>"","",IF(COUNT(use_a#,use_b#,use_c#,use_d#)>0,"use",IF(NOT(ISNUMBER(box_least#)),'
      f'IF(ISNUMBER(train_least#),"train","none"),IF(NOT(ISNUMBER(train_least#)),"box",'
      f'IF(box_least#<=train_least#+{EXACT},"box","train")))))')),
    ("use_lead", "lead that the gears in use cut, mm", gears_lead("use_levers#", *(f"use_{x}#" for x in GEAR_LETTERS))),
    ("use_fault", "what is missing for the gears in use", USE_FAULT),
    ("cut_lead", "lead that is cut, mm",
     ('IF(gear_choice#="use",IF(use_fault#="",use_lead#,""),IF(gear_choice#="box",INDEX(box_lead#,box_at#),'
      'IF(gear_choice#="train",INDEX(train_lead#,train_at#),"")))')),
    *((f"pick_{x}", f"gear {x} of the train", _picked(x)) for x in GEAR_LETTERS),
    ("pick_levers", "levers of the train",
     'IF(gear_choice#="use",use_levers#&"",IF(gear_choice#="train",INDEX(train_levers#,train_at#)&"",""))'),
    ("pick_teeth", "teeth of the train together", "pick_a#+pick_b#+pick_c#+pick_d#"),
    ("idlers", "idlers for the hand of the thread",
     ('IF(AND(pick_a#>0,pick_b#>0,ISNUMBER(cut_lead#)),IF(pick_c#>0,1,2)-IF(AND(hand="left",feed_reverse#<>"lever",'
      'feed_reverse#<>"tumbler"),0,1),"")')),
    ("idler_min", "least teeth of the idler",
     (f'IF(AND(ISNUMBER(idlers#),ISNUMBER(quadrant_min#)),MAX({SMALLEST_IDLER}*idlers#,'
      '-INT((pick_teeth#-quadrant_min#)/2)),"")')),
    ("idler_max", "most teeth of the idler",
     'IF(AND(ISNUMBER(idlers#),ISNUMBER(quadrant_max#)),INT((quadrant_max#-pick_teeth#)/2),"")'),
    ("fits_plain", "whether the quadrant takes the train without an idler",
     ('IF(AND(ISNUMBER(idlers#),ISNUMBER(quadrant_min#),ISNUMBER(quadrant_max#)),AND(idlers#<>1,'
      'pick_teeth#>=quadrant_min#,pick_teeth#<=quadrant_max#),FALSE)')),
    ("fits_idlers", "whether it takes it with them",
     'IF(AND(ISNUMBER(idler_min#),ISNUMBER(idler_max#)),AND(idlers#>0,idler_min#<=idler_max#),FALSE)'),
    ("error_over", "error of the lead over the thread, or one diameter without a length",
     ('IF(ISNUMBER(lathe_lead_error_ppm#),lathe_lead_error_ppm#/1000000*'
      'IF(ISNUMBER(thread_length),thread_length,diameter),"")')),
    ("another_lead", "whether the gears cut another lead altogether",
     f"IF(ISNUMBER(lathe_lead_error_ppm#),ABS(lathe_lead_error_ppm#)>{ANOTHER_LEAD},FALSE)"),
    ("error_words", "error of the lead in words", ERROR_WORDS),
    ("shelf_words", "gears in use that the shelf does not have", SHELF_WORDS),
    ("room_words", "whether the quadrant takes the train", ROOM_WORDS),
    ("shaft_words", "gears that run into a shaft", SHAFT_WORDS),
    ("dial_to_working", "factor from the unit of the lathe's dials to the working unit",
     'IF(OR(dial_unit#="in",dial_unit#="mm"),IF(dial_unit#=unit,1,IF(dial_unit#="in",25.4,1/25.4)),"")'),
    ("compound_division", "travel of the compound for one division of its dial", _division("compound_dial", True)),
    ("cross_division", "one division of the cross-slide dial, as it reads", _division("cross_dial", False)),
    ("lathe_train_words", "idlers and room for the gears, in words", TRAIN_WORDS),
    ("lathe_reverse_words", "how to get the direction", REVERSE_WORDS),
    ("lathe_chuck_words", "caution for a screwed-on chuck", CHUCK_WORDS),
    ("lathe_feed_words", "feed for turning", FEED_WORDS),
    ("slowest", "slowest listed speed", 'IF(COUNT(speed_list#)>0,MIN(speed_list#),"")'),
)  # fmt: skip
"""Name, meaning, formula of the figures of each lathe that stand beside the page."""

COMPARED = (
    ("lathe_gear_words", "Gear for it", "levers or gears for the lead of the job, or the nearest", GEAR_WORDS),
    ("lathe_lead_error_ppm", "Lead error, ppm", "error of the lead in millionths",
     (f'IF(AND(ISNUMBER(cut_lead#),ISNUMBER(job_lead_mm)),IF(ABS(cut_lead#/job_lead_mm-1)<{EXACT},0,'
      '(cut_lead#/job_lead_mm-1)*1000000),"")')),
    ("lathe_dial_words", "Half-nuts", "which lines of the thread dial are legal", DIAL_WORDS),
    ("lathe_rpm", "Speed to use, rpm", "highest listed speed at or under the limits",
     'IF(COUNT(speed_fit#)>0,MAX(speed_fit#),"")'),
)  # fmt: skip
"""Name, label, meaning, formula of what the page compares."""

_TOGETHER = "they go together, or leave both empty."
SPEED_FAULT = (
    'IF(NOT(ISNUMBER(thread_row)),"Choose the thread on the sheet Job.",'
    'IF(ISBLANK(surface_speed),"Type the cutting speed on the sheet Lathe.",'
    'IF(NOT(ISNUMBER(surface_speed)),"The cutting speed is a number more than zero; its unit stands beside it.",'
    'IF(surface_speed<=0,"The cutting speed is a number more than zero.",'
    'IF(AND(surface_speed_unit<>"ft/min",surface_speed_unit<>"m/min"),'
    '"Choose the unit of the cutting speed beside it, ft/min or m/min.",'
    'IF(AND(ISBLANK(relief_usable),ISBLANK(reaction_spread)),"",'
    f'IF(ISBLANK(reaction_spread),"Relief is given without reaction: type the reaction spread too; {_TOGETHER}",'
    f'IF(ISBLANK(relief_usable),"Reaction is given without relief: type the usable relief too; {_TOGETHER}",'
    'IF(NOT(ISNUMBER(relief_usable)),"The usable relief is a length, a number more than zero.",'
    'IF(relief_usable<=0,"The usable relief is a length more than zero.",'
    'IF(NOT(ISNUMBER(reaction_spread)),"The reaction spread is a number of seconds, more than zero.",'
    'IF(reaction_spread<=0,"The reaction spread is more than zero seconds.",""))))))))))))'
)
_RELIEF = 'IF(ISNUMBER(rpm_by_relief)," Relief allows "&ROUND(rpm_by_relief,0)&".","")'
RPM_WORDS = (
    'IF(speed_fault<>"",speed_fault,IF(NOT(ISNUMBER(rpm_limit)),"",'
    f'IF(rpm_governs="relief","Relief governs: "&ROUND(rpm_by_relief,0)&" rpm. Cutting speed allows "&'
    f'ROUND(rpm_by_speed,0)&".","Cutting speed governs: "&ROUND(rpm_by_speed,0)&" rpm."&{_RELIEF})&'
    f'IF(ISNUMBER(lathe_rpm)," The next listed speed at or under it is shown.",IF(ISNUMBER({in_use("slowest")}),'
    f'" The lathe has no speed that slow: its slowest is "&{in_use("slowest")}&"."," No speeds are listed."))&'
    'IF(ISBLANK(relief_usable)," No relief given: not looked at.","")))'
)
RELIEF_WORDS = (
    f'IF(NOT(AND(ISNUMBER(rpm_by_relief),ISNUMBER({in_use("slowest")}))),"",IF(rpm_by_relief>={in_use("slowest")},"",'
    '"Relief too short for the slowest speed. "&IF(hand="left","It cuts away from the shoulder already: turn the first '
    'turns out of the relief by hand with the power off.","Turn the last threads by hand with the power off, or cut '
    'away from the shoulder: spindle in reverse, tool upside down or at the back; "&"start, compound and clearances '
    'are then the other way round. Reversing under power the spindle runs on: draw the tool out before the shoulder."&'
    f'IF({in_use("lathe_chuck_words")}<>""," Mind the screwed-on chuck in reverse.",""))))'
)
TOO_MUCH = "The lead error takes more than the whole tolerance"
LEAD_TAKES = (
    "IF(AND(ISNUMBER(lathe_lead_error_ppm),ISNUMBER(pitch_tolerance)),ABS(lathe_lead_error_ppm)/1000000*diameter*2"
    '/(TAN(RADIANS(flank_leading))+TAN(RADIANS(flank_trailing))),"")'
)
LEAD_TOO_MUCH = "IF(ISNUMBER(lead_error_takes),AND(NOT(another_lead),lead_error_takes>=pitch_tolerance),FALSE)"
LEAD_WORDS = (
    'IF(NOT(ISNUMBER(lead_error_takes)),"",IF(lathe_lead_error_ppm=0,"The lead is exact.",'
    'IF(another_lead,"That is another lead: this thread can not be cut so.",'
    f'IF(lead_too_much,"{TOO_MUCH}: the GO gauge will not screw on. ","")&'
    '"Over one diameter the lead error uses up "&FIXED(lead_error_takes,decimals,TRUE)&'
    '" of the pitch diameter tolerance of "&FIXED(pitch_tolerance,decimals,TRUE)&".")))'
)
DIALS_WORDS = (
    'IF(ISNUMBER(compound_division),"Compound: "&FIXED(compound_division,decimals,TRUE)&" "&unit&" of travel a '
    'division. ","Compound dial not given. ")&IF(ISNUMBER(cross_division),"Cross-slide: "&'
    'FIXED(cross_division,decimals,TRUE)&" "&unit&" a division, reads "&'
    'IF(LEN(cross_reads)>0,cross_reads,"not given")&".","Cross-slide dial not given.")'
)

JOB = (
    ("job_lead_mm", "lead of the job, mm",
     'IF(AND(ISNUMBER(thread_row),ISNUMBER(own_pitch)),starts*own_pitch*IF(own_unit="in",25.4,1),"")'),
    ("speed_fault", "why there is no speed, in a sentence", SPEED_FAULT),
    ("rpm_by_speed", "speed limit by the cutting speed, rpm",
     ('IF(AND(speed_fault="",ISNUMBER(diameter)),surface_speed*IF(surface_speed_unit="m/min",1000,304.8)'
      '/(RADIANS(180)*diameter*IF(unit="in",25.4,1)),"")')),
    ("rpm_by_relief", "speed limit by relief and reaction, rpm",
     ('IF(AND(speed_fault="",ISNUMBER(relief_usable),ISNUMBER(reaction_spread),ISNUMBER(lead)),'
      'relief_usable*60/(lead*reaction_spread),"")')),
    ("rpm_limit", "the lower of the limits, rpm",
     'IF(ISNUMBER(rpm_by_speed),IF(ISNUMBER(rpm_by_relief),MIN(rpm_by_speed,rpm_by_relief),rpm_by_speed),"")'),
    ("rpm_governs", "which limit governs",
     'IF(ISNUMBER(rpm_limit),IF(rpm_limit=rpm_by_speed,"cutting speed","relief"),"")'),
    *((name, meaning, in_use(name)) for name, meaning in (
        ("lathe_leadscrew_mm", "lead of the leadscrew of the lathe in use, mm"),
        ("lathe_half_nuts", "whether the half-nuts may be opened"),
        ("lathe_lead_error_ppm", "error of the lead in millionths"),
        ("another_lead", "whether its gears cut another lead altogether"),
        ("compound_division", "travel of the compound for one division of its dial"),
        ("cross_division", "one division of the cross-slide dial, as it reads"),
    )),
    ("lead_error_takes", "pitch diameter that the lead error over one diameter uses up", LEAD_TAKES),
    ("lead_too_much", "whether that is the whole tolerance, or more", LEAD_TOO_MUCH),
    ("cross_reads", "what the cross-slide dial reads, radius or diameter", f'{in_use("cross_dial_reads")}&""'),
)  # fmt: skip
"""Name, meaning, formula of the figures for the job and the lathe in use that stand beside the page."""
