"""The columns of the sheet Log and the formulas of one row. How a row is judged stands in `workbook_template.log`.

A formula is written with the names of the columns in braces; `formula` puts the cells of a row in their place.
"""

from __future__ import annotations

from typing import NamedTuple

from openpyxl.utils import get_column_letter

from workbook_template import blocks

ROWS = 2000
HEAD, FIRST = 11, 12
LAST = FIRST + ROWS - 1

NOISE = "0.0000001"
"""A size on its limit counts as in, whatever the last bits of the arithmetic say."""

COLDEST, HOTTEST = 0, 50
"""Part temperatures that are believed, degrees C: 68 is a Fahrenheit figure (common practice)."""

IDENTICAL = 20
"""So many identical readings in a row are marked."""

PASS, GO_FAILS, NOT_GO_ENTERS = "pass", "go fails", "not go enters"
"""Words for the result of a ring or plug gauge."""

MOST = "100000"
"""A size larger than this, in either unit, is none."""

AGAIN = "Part logged before, in row "
"""How the words of a row begin whose part stands in an earlier row: such a row is not counted (`parts_again`)."""


class Input(NamedTuple):
    """A column to type into: name, heading, meaning, dimension, width, message."""

    name: str
    heading: str
    meaning: str
    dimension: str
    width: float
    prompt: str


class Result(NamedTuple):
    """A column of results: name, heading, meaning, dimension, width, look, formula."""

    name: str
    heading: str
    meaning: str
    dimension: str
    width: float
    look: str
    formula: str


_STATION = "Reading over the wires at station {} of the part, {} direction, in the working unit. May stay empty."

INPUTS = (
    Input("serial", "Part", "serial number of the part", "text", 9,
          "Serial or running number of the part. Start the row with it; every part made gets one row."),
    Input("reading", "Over wires 1a", "reading over wires", "entry", 8.3,
          "What the micrometer shows over the three wires, working unit. Or fill the column Pitch diameter measured."),
    Input("reading_1b", "1b", "reading over wires, station 1, other direction", "entry", 8.3,
          _STATION.format(1, "a quarter turn from the first")),
    Input("reading_2a", "2a", "reading over wires, station 2", "entry", 8.3, _STATION.format(2, "first")),
    Input("reading_2b", "2b", "reading over wires, station 2, other direction", "entry", 8.3,
          _STATION.format(2, "second")),
    Input("reading_3a", "3a", "reading over wires, station 3", "entry", 8.3, _STATION.format(3, "first")),
    Input("reading_3b", "3b", "reading over wires, station 3, other direction", "entry", 8.3,
          _STATION.format(3, "second")),
    Input("direct", "Pitch dia. meas'd", "pitch diameter measured directly", "entry", 8.3,
          "Pitch diameter from a thread micrometer or a comparator, working unit. Empty when measured over wires."),
    Input("crest", "", "major diameter outside, bore inside, as measured", "entry", 8.3,
          "Major diameter of an outside thread, bore (minor diameter) of an inside one, as measured, in the working "
          "unit."),
    Input("ring", "Ring or plug", "what the go and not go gauges said", "text", 10,
          f"Type {PASS}, {GO_FAILS} or {NOT_GO_ENTERS} (more turns than the rule above allows). Empty: not gauged."),
    Input("gauge", "Gauge", "number of the gauge", "text", 7.5,
          "Number of the ring or plug, from Instruments: the GO gauge for pass and go fails, the NOT GO for not go "
          "enters. Its thread must be that of the job."),
    Input("instrument", "Instru- ment", "instrument used", "text", 8,
          "Number of the micrometer or other instrument that the pitch diameter was measured with, as on Instruments. "
          "Where only the other diameter was measured, the one for that."),
    Input("wires", "Wires", "wire set used", "text", 7.5,
          "Number of the wire set, as on Instruments. Empty: the set chosen on Setup."),
    Input("temperature", "Part °C", "temperature of the part", "0.0#", 6,
          "Temperature of the part when it was measured, degrees Celsius. Empty: 20, no correction."),
    Input("who", "Measured by", "who measured", "text", 12, "Who measured this part."),
    Input("when", "When", "when it was measured", "date", 13, "Date of the measurement."),
    Input("why", "Corrects an earlier row: why", "why this row corrects an earlier one of the same part", "text", 20,
          "Only when this row corrects an earlier row of the same part: say why. The earlier row stays as it was "
          "typed and no longer counts."),
)  # fmt: skip

READINGS = tuple(one.name for one in INPUTS if one.name.startswith("reading"))
"""Names of the readings over wires, three stations of two directions."""
_READINGS, _PITCH, _ALL = "{reading}:{reading_3b}", "{reading}:{direct}", "{serial}:{why}"
_STATIONS = (("{reading}", "{reading_1b}"), ("{reading_2a}", "{reading_2b}"), ("{reading_3a}", "{reading_3b}"))
_PLAIN_SERIAL = 'SUBSTITUTE(SUBSTITUTE(SUBSTITUTE({serial}&"","~","~~"),"*","~*"),"?","~?")'
"""A serial number without the signs that MATCH takes for any text."""
_FIRST_ROW = f"IFERROR(MATCH({_PLAIN_SERIAL},{{all_parts}},0),{ROWS})"
"""The first row of the log with the part of this row."""
_SPACED = "LEN(TRIM({serial}))<LEN({serial})"
_NO_DAY = (
    f'IF(ISBLANK({{when}}),"No date. ",IF(ISNUMBER({{when}}),"The date {blocks.NO_DAY}. ","The date is a text. "))'
)
_DAY = "ISNUMBER({day})"

_NOT_ALL_SIZES = f"OR(COUNT({_READINGS})<COUNTA({_READINGS}),MAX({_READINGS})>{MOST},MIN({_READINGS})<-{MOST})"
_ALL_MEANS = [f"IF(COUNT({a}:{b})>0,AVERAGE({a}:{b}),AVERAGE({_READINGS}))" for a, b in _STATIONS]
_TAPER = (
    f'IF(COUNT({_READINGS})<2,"",IF({_NOT_ALL_SIZES},"",'
    f'IF({"+".join(f"MIN(COUNT({a}:{b}),1)" for a, b in _STATIONS)}<2,"",'
    f"MAX({','.join(_ALL_MEANS)})-MIN({','.join(_ALL_MEANS)}))))"
)
_ROUND = (
    f'IF(COUNT({_READINGS})<2,"",IF({_NOT_ALL_SIZES},"",'
    f'IF({"+".join(f"INT(COUNT({a}:{b})/2)" for a, b in _STATIONS)}=0,"",'
    f"MAX({','.join(f'IF(COUNT({a}:{b})=2,ABS({a}-{b}),0)' for a, b in _STATIONS)}))))"
)


def _fault(number: str, at: str, label: str, table: str, until: str, fault: str, counts: str = '""') -> str:
    """Why the instrument, gauge or wire set with this number doesn't count on the day of the measurement.

    `at` is its row in the list, `until` and `fault` are what is looked up for its last day and for why it doesn't
    count after it, `counts` is the formula for one that counts on that day.
    """
    named = f'"{label} "&{number}&'
    return (
        f'IF({at}=0,{named}" not on Instruments. ",IF({{day}}>{until},{named}" "&{fault}&". ",'
        f'IF({{day}}<INDEX({table}_since,{at}),{named}" "&INDEX({table}_before,{at})&". ",{counts})))'
    )


def _listed(number: str, table: str) -> str:
    """The row of a number in its list; 0 where it is not there."""
    return f'IF(LEN({number})=0,"",IFERROR(MATCH({blocks.exactly(number)},{table}_id,0),0))'


_SET_FAULT = 'IF({day}>log_set_until,log_set_fault,IF({day}<log_set_since,log_set_before,""))'


def _text_fault(cells: str, what: str) -> str:
    """A text with the other decimal sign: the words show the one that this program reads."""
    other = 'IF(ISNUMBER(SEARCH(",",1/2&"")),".",",")'
    return (
        f'IF(COUNTIF({cells},"*"&{other}&"*")>0,"Decimal sign? One half is "&1/2&" here: type the {what} like that. ",'
        f'"A {what} is a text: retype it as a number. ")'
    )


def _other_unit(value: str, off: str, basic: str) -> str:
    """What a size far from the thread would be in the other unit, where that is believable."""
    return (
        f'IF(ABS({value}*log_other_factor-{off}-{basic})<=log_reach,log_other_unit&"? "&{value}&" "&log_other_unit&'
        f'" is "&FIXED({value}*log_other_factor,decimals,TRUE)&" "&unit&". ","Far from this thread. ")'
    )


def _guarded(value: str, which: str, simple: str) -> str:
    """The word for a value by the decision rule."""
    return (
        f'IF(log_guard=0,{simple},IF(ISNUMBER(log_{which}_reject_high),IF({value}>log_{which}_reject_high,"high",'
        f'IF({value}<log_{which}_reject_low,"low",IF(AND({value}<=log_{which}_accept_high,'
        f'{value}>=log_{which}_accept_low),"in","undecided"))),"undecided"))'
    )


_OVER_WIRES = (
    f'IF({{pitch}}>MAX(pitch_max,ROUND(pitch_max+{{constant}},decimals)-{{constant}})+{NOISE},"high",'
    f'IF({{pitch}}<MIN(pitch_min,ROUND(pitch_min+{{constant}},decimals)-{{constant}})-{NOISE},"low","in"))'
)
_DIRECT = 'IF({pitch}>log_pitch_high,"high",IF({pitch}<log_pitch_low,"low","in"))'
_BY_DIRECT = f"IF(COUNT({_READINGS})=0,TRUE,IF(ISNUMBER({{direct}}),{{pitch}}={{direct}}*{{factor}},FALSE))"
_PITCH_WORD = _guarded("{pitch}", "pitch", f"IF({_BY_DIRECT},{_DIRECT},{_OVER_WIRES})")
_CREST = "{crest}*{factor}"
_CREST_WORD = _guarded(
    _CREST, "crest", f'IF({_CREST}>log_crest_high,"high",IF({_CREST}<log_crest_low,"low","in"))'
)  # fmt: skip
_NO_RING_WORD = f'AND({{ring}}<>"{PASS}",{{ring}}<>"{GO_FAILS}",{{ring}}<>"{NOT_GO_ENTERS}")'
_RING_WORD = (
    f'IF({{ring}}="{PASS}","in",IF({{ring}}="{GO_FAILS}",IF(thread_side="internal","low","high"),'
    f'IF(thread_side="internal","high","low")))'
)
_FARTHEST = f'IF(unit="mm",MIN({_PITCH}),MAX({_PITCH}))'
_OFF = "IF(ISNUMBER({constant}),{constant},0)"

_AS_PITCH = (
    f"IF(COUNT({_READINGS})=0,FALSE,IF({{constant}}>log_apart,"
    f"AND(MIN({_READINGS})>=log_as_pitch_low,MAX({_READINGS})<=log_as_pitch_high),FALSE))"
)
"""Readings over wires that are believable as pitch diameters, where the two are too far apart to be mixed up."""
_AS_PITCH_WORDS = f'"Is "&MAX({_READINGS})&" the pitch diameter? Then type it under Pitch dia. meas\'d. "'

_ENTRY_FAULT = (
    f'IF(COUNTA({_PITCH})=0,"",IF(COUNT({_PITCH})<COUNTA({_PITCH}),{_text_fault(_PITCH, "reading")},'
    f'IF(MIN({_PITCH})<=0,"A reading is zero or less. ",IF(MAX({_PITCH})>{MOST},"A reading is no size of a part. ",'
    f'IF({{factor}}="","Part temperature: {COLDEST} to {HOTTEST} degrees C. ",'
    f'IF(NOT(ISNUMBER(log_pitch_high)),"No limits yet: choose the thread on Job. ",'
    f'IF(AND(COUNT({_READINGS})>0,no_wires),"No wires on this thread: fill the pitch diameter. ",'
    f'IF({{constant}}="unknown","",'
    f'IF(AND(COUNT({_READINGS})>0,NOT(ISNUMBER({{constant}}))),"No wires that serve this thread. ",'
    f"IF({_AS_PITCH},{_AS_PITCH_WORDS},"
    f"IF(MAX({{high}}-pitch_basic,pitch_basic-{{low}})>log_reach,{_other_unit(_FARTHEST, _OFF, 'pitch_basic')},"
    f'IF(COUNT({{direct}})*COUNT({_READINGS})=0,"",'
    f"IF(OR({{direct}}>MAX({_READINGS})-{{constant}}+log_agreement,"
    f"{{direct}}<MIN({_READINGS})-{{constant}}-log_agreement),"
    f'"Reading and pitch diameter disagree. ","")))))))))))))'
)
_CREST_FAULT = (
    f'IF(ISBLANK({{crest}}),"",IF(NOT(ISNUMBER({{crest}})),{_text_fault("{crest}", "diameter")},'
    f'IF({{crest}}<=0,"The diameter is zero or less. ",IF({{crest}}>{MOST},"The diameter is no size of a part. ",'
    f'IF({{factor}}="","Part temperature: {COLDEST} to {HOTTEST} degrees C. ",'
    f'IF(NOT(ISNUMBER(log_crest_high)),"No limits for this diameter. ",'
    f'IF(ABS({{crest}}-log_crest_basic)>log_reach,{_other_unit("{crest}", "0", "log_crest_basic")},"")))))))'
)


def _judged(empty: str, unmeasured: str, entry: str, instrument: str, word: str) -> str:
    """The order of the tests, the same for every result."""
    return (
        f'IF({{status}}=0,"",IF({{status}}>1,"replaced",IF({empty},"{unmeasured}",IF({_SPACED},"check entry",'
        f'IF({entry},"check entry",IF({instrument},"check instrument",{word}))))))'
    )


def _in_range(least: str, most: str) -> str:
    """Words where a size is outside the range of the instrument."""
    return (
        f"IF(OR({least}<INDEX(instrument_least,{{instrument_at}})-{NOISE},{most}>INDEX(instrument_most,{{instrument_at}})+{NOISE}),"
        '"Outside the range of "&{instrument}&". ","")'
    )


_RANGE = (
    f'IF(COUNT({_PITCH})>0,IF({{entry_fault}}<>"","",{_in_range(f"MIN({_PITCH})", f"MAX({_PITCH})")}),'
    f'IF(ISBLANK({{crest}}),"",IF({{crest_fault}}<>"","",{_in_range("{crest}", "{crest}")})))'
)
"""The row's instrument is the one for the pitch diameter; alone, the crest diameter is asked."""

_WHICH_GAUGE = f'IF({{ring}}="{NOT_GO_ENTERS}",2,1)'
_WORDS = (
    'IF({status}=0,"",TRIM(IF({status}>1,"Replaced by row "&{status}&". ",IF(LEN({serial})=0,"No part number. ",'
    f"IF({_FIRST_ROW}<ROW()-{HEAD},"
    f'IF(LEN({{why}})=0,"{AGAIN}"&({_FIRST_ROW}+{HEAD})&": not counted. To correct that row say why. ",""),'
    'IF(LEN({why})=0,"","No earlier row of this part. ")))&'
    f'IF({_SPACED},"Blanks in the part number: retype it without. ",""))&'
    'IF(COUNTA({reading}:{ring},{why})=0,"",IF(LEN({who})=0,IF(LEN({why})=0,"Who measured? ","Who corrected? "),"")&'
    f'IF(LEN({{why}})=0,"",IF({_DAY},"","Corrected when? ")))&'
    '{entry_fault}&IF({crest_fault}={entry_fault},"",{crest_fault})&{instrument_fault}&{wires_fault}&'
    f'IF(LEN({{ring}})=0,"",IF({_NO_RING_WORD},"Ring or plug: type {PASS}, {GO_FAILS} or {NOT_GO_ENTERS}. ",'
    "{gauge_fault}))&"
    f'IF(COUNTA({{reading}}:{{ring}})=0,"",IF(AND({_DAY},ISNUMBER(job_date)),'
    'IF({when}<job_date,"Dated before the job. ",""),""))&'
    "IF(ISNUMBER({temperature}),IF(AND(log_expansion=0,{temperature}<>20),"
    '"Not brought to 20 °C: no expansion of the part is given. ",""),"")&'
    'IF(NOT(ISNUMBER(pitch_tolerance)),"",'
    'IF(ISNUMBER({taper}),"Taper "&ROUND(100*{taper}/pitch_tolerance,0)&" % of the tolerance"&'
    f'IF({{taper}}>pitch_tolerance+{NOISE},": too much. ",". "),"")&'
    'IF(ISNUMBER({out_of_round}),"Out of round "&ROUND(100*{out_of_round}/pitch_tolerance,0)&" % of the tolerance"&'
    f'IF({{out_of_round}}>pitch_tolerance+{NOISE},": too much. ",". "),""))&{{identical}}))'
)
_SAME = (
    f"IF(AND(ISNUMBER({{0}}),{{0}}={{1}}),IF(COUNTIF({{1}}:{{0}},{{0}})={IDENTICAL},"
    f'"{IDENTICAL} identical readings in a row. ",""),"")'
)


def _less(share: str, offset: str) -> str:
    """Reading less pitch diameter at the mean of the readings (workbook_template.contact); nothing without wires."""
    return f'IF(ISNUMBER({share}),{offset}+{share}*AVERAGE({_READINGS}),"")'


_LESS_OF_SET = _less("INDEX(wires_share,{wires_at})", "INDEX(wires_constant,{wires_at})")

RESULTS = (
    Result("pitch", "", "deciding pitch diameter, at 20 degrees C where the expansion of the part is given",
           "length", 9, "log_figure",
           f'IF(OR({{status}}<>1,{_SPACED},{{entry_fault}}<>"",NOT(ISNUMBER({{high}}))),"",'
           "IF(pitch_max-{high}<={low}-pitch_min,{high},{low}))"),
    Result("taper", "Taper", "largest less smallest mean of a station", "length", 7.5, "log_figure", _TAPER),
    Result("out_of_round", "Out of round", "largest difference of the two directions at a station", "length", 7.5,
           "log_figure", _ROUND),
    Result("pitch_result", "Result: pitch diameter", "result for the pitch diameter", "words", 13.5, "log_verdict",
           _judged(f"COUNTA({_PITCH})=0", "not measured", '{entry_fault}<>""',
                   'LEN({instrument_fault}&{wires_fault})>0', _PITCH_WORD)),
    Result("crest_result", "", "result for the major diameter (or bore)", "words", 13.5, "log_verdict",
           _judged("ISBLANK({crest})", "not measured", '{crest_fault}<>""', '{instrument_fault}<>""', _CREST_WORD)),
    Result("ring_result", "Result: ring or plug", "result of the gauges; empty where none was used", "words", 13.5,
           "log_verdict",
           _judged("ISBLANK({ring})", "", _NO_RING_WORD, '{gauge_fault}<>""', _RING_WORD)),
    Result("words", "Why, and what to look at", "why the result is what it is, and what to look at", "words", 40,
           "log_text", _WORDS),
)  # fmt: skip

WORKING = (
    Result("status", "status", "0 for an empty row, 1 for one that counts, else the row that replaces it", "words", 9,
           "small",
           f"IF(COUNTA({_ALL})=0,0,IF(log_corrections=0,1,IF(LEN({{serial}})=0,1,"
           f"IFERROR(ROW()+MATCH({_PLAIN_SERIAL},{{next_key}}:$AA${LAST + 1},0),1))))"),
    Result("key", "key", "serial of a row that corrects an earlier one", "words", 9, "small",
           'IF(ISBLANK({why}),"",{serial}&"")'),
    Result("factor", "factor", "what brings a size to 20 degrees C", "words", 9, "small",
           'IF(ISBLANK({temperature}),log_room_factor,IF(NOT(ISNUMBER({temperature})),"",'
           f'IF(OR({{temperature}}<{COLDEST},{{temperature}}>{HOTTEST}),"",'
           "log_room_factor/(1+log_expansion*({temperature}-20)))))"),
    Result("constant", "constant", "reading less pitch diameter with the wires of this row", "words", 9, "small",
           f'IF(COUNT({_READINGS})=0,"",IF(LEN({{wires}})=0,{_less("wire_share", "wire_offset")},'
           f'IF({{wires_at}}=0,"unknown",{_LESS_OF_SET})))'),
    Result("high", "high", "largest pitch diameter of the row at 20 degrees C", "words", 9, "small",
           f'IF(OR(COUNT({_PITCH})=0,COUNT({_PITCH})<COUNTA({_PITCH}),MAX({_PITCH})>{MOST},{{factor}}=""),"",'
           f'IF(COUNT({_READINGS})=0,{{direct}}*{{factor}},IF(ISNUMBER({{constant}}),'
           f'MAX(MAX({_READINGS})-{{constant}},{{direct}})*{{factor}},"")))'),
    Result("low", "low", "smallest pitch diameter of the row at 20 degrees C", "words", 9, "small",
           f'IF(NOT(ISNUMBER({{high}})),"",IF(COUNT({_READINGS})=0,{{high}},'
           f"MIN(MIN({_READINGS})-{{constant}},{{direct}})*{{factor}}))"),
    Result("entry_fault", "entry fault", "what is wrong with the readings", "words", 14, "small", _ENTRY_FAULT),
    Result("crest_fault", "crest fault", "what is wrong with the crest diameter", "words", 14, "small", _CREST_FAULT),
    Result("instrument_fault", "instrument fault", "why the instrument doesn't count", "words", 14, "small",
           f'IF(COUNTA({{reading}}:{{crest}})=0,"",IF({_DAY},IF(LEN({{instrument}})=0,"No instrument named. ",'
           + _fault("{instrument}", "{instrument_at}", "Instrument", "instrument",
                    "INDEX(instrument_reads_until,{instrument_at})", "INDEX(instrument_reads_fault,{instrument_at})",
                    _RANGE)
           + f"),{_NO_DAY}))"),
    Result("wires_fault", "wires fault", "why the wires don't count", "words", 14, "small",
           f'IF(COUNT({_READINGS})=0,"",IF({_DAY},IF(LEN({{wires}})=0,{_SET_FAULT},'
           + _fault("{wires}", "{wires_at}", "Wires", "wires",
                    "INDEX(wires_until,{wires_at})", "INDEX(wires_fault,{wires_at})")
           + '),""))'),
    Result("gauge_fault", "gauge fault", "why the gauge doesn't count", "words", 14, "small",
           f'IF(LEN({{ring}})=0,"",IF({_DAY},IF(LEN({{gauge}})=0,"No gauge named. ",'
           + _fault("{gauge}", "{gauge_at}", "Gauge", "instrument", f"INDEX(gauge_until,{{gauge_at}},{_WHICH_GAUGE})",
                    f"INDEX(gauge_fault,{{gauge_at}},{_WHICH_GAUGE})")
           + '),"Gauge: no date. "))'),
    Result("digit", "last digit", "last digit of the reading", "words", 9, "small",
           'IF(OR({status}<>1,{entry_fault}<>""),"",IF(ISNUMBER({reading}),MOD(ROUND({reading}*log_scale,0),10),'
           'IF(ISNUMBER({direct}),MOD(ROUND({direct}*log_scale,0),10),"")))'),
    Result("day", "day", "day of the measurement, where it is one", "words", 9, "small",
           f'IF({blocks.is_day("{when}")},INT({{when}}),"")'),
    *(
        Result(f"{name}_at", f"{name} at", f"row of the {meaning} in its list, 0 where it is not there", "words", 9,
               "small", _listed(f"{{{name}}}", table))
        for name, meaning, table in (
            ("instrument", "instrument", "instrument"), ("gauge", "gauge", "instrument"),
            ("wires", "wire set", "wires"),
        )
    ),
    Result("part", "part", "serial as a text, so that 7 and the text 7 are one part", "words", 9, "small",
           'IF(ISBLANK({serial}),"",{serial}&"")'),
)  # fmt: skip

GAP = 1
"""Empty columns between what is printed and the working columns."""

NAMES = [one.name for one in INPUTS] + [one.name for one in RESULTS]
LETTERS = {name: get_column_letter(number) for number, name in enumerate(NAMES, start=1)} | {
    one.name: get_column_letter(number) for number, one in enumerate(WORKING, start=len(NAMES) + GAP + 1)
}
"""The column of each name."""


def column(name: str) -> str:
    """The cells of a column, as in B12:B2011."""
    return f"{LETTERS[name]}{FIRST}:{LETTERS[name]}{LAST}"


def _cells(row: int) -> dict[str, str]:
    """What stands for the names in braces in the formulas of one row."""
    cells = {name: f"{letter}{row}" for name, letter in LETTERS.items()}
    part = LETTERS["part"]
    others = {"next_key": f"{LETTERS['key']}{row + 1}", "all_parts": f"${part}${FIRST}:${part}${LAST}"}
    return cells | others | {"identical": _identical(row)}


def _identical(row: int) -> str:
    """The words for twenty identical readings that end in this row; nothing in the first rows."""
    if row < FIRST + IDENTICAL - 1:
        return '""'
    pairs = ((f"{LETTERS[name]}{row}", f"{LETTERS[name]}{row - IDENTICAL + 1}") for name in ("reading", "direct"))
    return "&".join(_SAME.format(*pair) for pair in pairs)


def row_formulas(row: int) -> list[str]:
    """The formulas of one row: results, then working columns."""
    cells = _cells(row)
    return [one.formula.format_map(cells) for one in (*RESULTS, *WORKING)]
