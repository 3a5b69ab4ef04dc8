"""The columns of the sheet Log. Their formulas stand in `workbook_template.sheets.log_formulas`."""

from __future__ import annotations

from typing import NamedTuple

from workbook_template.figures.text import letters

ROWS = 2000
HEAD, FIRST = 11, 12
LAST = FIRST + ROWS - 1

PASS, GO_FAILS, NOT_GO_ENTERS = "pass", "go fails", "not go enters"
"""Words for the result of a ring or plug gauge."""

MOST = 100000
"""A size larger than this, in either unit, is none."""

AGAIN = "Part logged before, in row "
"""How the words of a row begin whose part stands in an earlier row: such a row is not counted (`parts_again`)."""


class Input(NamedTuple):
    """A column to type into."""

    name: str
    heading: str
    meaning: str
    dimension: str
    width: float
    prompt: str


class Result(NamedTuple):
    """A column of results."""

    name: str
    heading: str
    meaning: str
    dimension: str
    width: float
    look: str


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

RESULTS = (
    Result("pitch", "", "deciding pitch diameter, at 20 degrees C where the expansion of the part is given",
           "length", 9, "log_figure"),
    Result("taper", "Taper", "largest less smallest mean of a station", "length", 7.5, "log_figure"),
    Result("out_of_round", "Out of round", "largest difference of the two directions at a station", "length", 7.5,
           "log_figure"),
    Result("pitch_result", "Result: pitch diameter", "result for the pitch diameter", "words", 13.5, "log_verdict"),
    Result("crest_result", "", "result for the major diameter (or bore)", "words", 13.5, "log_verdict"),
    Result("ring_result", "Result: ring or plug", "result of the gauges; empty where none was used", "words", 13.5,
           "log_verdict"),
    Result("words", "Why, and what to look at", "why the result is what it is, and what to look at", "words", 40,
           "log_text"),
)  # fmt: skip


def _working(name: str, meaning: str, *, heading: str = "", width: float = 9) -> Result:
    return Result(name, heading or name.replace("_", " "), meaning, "words", width, "small")


WORKING = (
    _working("status", "0 for an empty row, 1 for one that counts, else the row that replaces it"),
    _working("key", "serial of a row that corrects an earlier one"),
    _working("factor", "what brings a size to 20 degrees C"),
    _working("constant", "reading less pitch diameter with the wires of this row"),
    _working("high", "largest pitch diameter of the row at 20 degrees C"),
    _working("low", "smallest pitch diameter of the row at 20 degrees C"),
    _working("entry_fault", "what is wrong with the readings", width=14),
    _working("crest_fault", "what is wrong with the crest diameter", width=14),
    _working("instrument_fault", "why the instrument doesn't count", width=14),
    _working("wires_fault", "why the wires don't count", width=14),
    _working("gauge_fault", "why the gauge doesn't count", width=14),
    _working("digit", "last digit of the reading", heading="last digit"),
    _working("day", "day of the measurement, where it is one"),
    _working("instrument_at", "row of the instrument in its list, 0 where it is not there"),
    _working("gauge_at", "row of the gauge in its list, 0 where it is not there"),
    _working("wires_at", "row of the wire set in its list, 0 where it is not there"),
    _working("part", "serial as a text, so that 7 and the text 7 are one part"),
)

GAP = 1
"""Empty columns between what is printed and the working columns."""

_PRINTED: tuple[Input | Result, ...] = (*INPUTS, *RESULTS)
NUMBERS = {one.name: number for number, one in enumerate(_PRINTED, start=1)} | {
    one.name: number for number, one in enumerate(WORKING, start=len(_PRINTED) + GAP + 1)
}
"""The number of each column, from 1."""
LETTERS = {name: letters(number) for name, number in NUMBERS.items()}


def column(name: str) -> str:
    """The cells of a column, as in B12:B2011."""
    return f"{LETTERS[name]}{FIRST}:{LETTERS[name]}{LAST}"
