"""The columns of the sheet Log. Their formulas stand in `workbook_template.sheets.log_formulas`."""

from __future__ import annotations

from workbook_template.figures.notation import xl
from workbook_template.figures.tree import Area, Cell, Node
from workbook_template.sheets.inputs import Check
from workbook_template.sheets.layout import Column

OVER = 3
"""Lines over the heads, so that all that stays in sight is 90 points high: 120 pixels."""
HEAD = 1 + OVER + 1
"""The row of the heads: under the row of links and the lines over them."""

ROWS, FEWEST, MOST_ROWS = 120, 30, 5000
"""Rows of a log unless more or fewer are asked for, and the bounds of what may be asked for."""
MORE = "go on in a second workbook of this job, or build one with new FILE --rows N"
"""What to do where the rows end, with and without Python."""
A_PAGE = 30
"""Rows on a sheet of paper."""


def with_spare(parts: int) -> int:
    """Rows for so many parts and a tenth more, for those that are made or logged again: whole pages.

    >>> with_spare(0), with_spare(25), with_spare(28)
    (30, 30, 60)
    """
    wanted = max(FEWEST, parts + -(-parts // 10))
    return -(-wanted // A_PAGE) * A_PAGE


PASS, GO_FAILS, NOT_GO_ENTERS = "pass", "go fails", "not go enters"
"""Words for the result of a ring or plug gauge."""
LARGE, SMALL = "too large", "too small"
"""Words for a taper thread that is not "pass": its gauge stands more turns off than the standard lets it."""
MOST_TURNS = 20
"""More turns off is no reading of a taper gauge."""

MOST = 100000
"""A size larger than this, in either unit, is none."""

NOTHING = 0
"""What a hidden column of words gives where there is nothing to say, as in every empty row: a column that gave an empty
text could not be stored as one formula (`file.shortening`)."""

LISTED = 100
"""So many corrections are looked up in a short list; among later ones every row is looked at."""

AGAIN = "Part logged before, in row "
"""How the words of a row begin whose part stands in an earlier row: such a row is not counted (`parts_again`)."""


def repeats(words: Node) -> Node:
    """Whether a row with these words repeats a part, so that it is not counted."""
    return xl.LEFT(words, len(AGAIN)).same(AGAIN)


def _typed(
    name: str, head: str, meaning: str, dimension: str, prompt: str, *, closed: bool = False, check: Check | None = None
) -> Column:
    look = "part_size" if dimension in ("entry", "0.0#") else "part_typed"
    return Column(
        name, head, f"{meaning}, one cell a part", dimension=dimension, prompt=prompt, role="input", grouped=closed,
        look=look, check=check or Check(),
    )  # fmt: skip


_STATION = "Reading over the wires at station {} of the part, {} direction, in the working unit. May stay empty."
_PLACE = (
    "Taper thread: distance of the single wire{} from the small end (inside: from the face), working unit. Empty: {}."
)
_SAID = Check("list", "log_ring_words")  # to choose from, none refused

SERIAL = _typed(
    "serial", "Part", "serial number of the part", "text",
    "Serial or running number of the part. Start the row with it; every part made gets one row.",
)  # fmt: skip
READ = (
    _typed("reading", "Over wires", "reading over wires", "entry",
           "What the micrometer shows over the three wires. Closed columns beside have more stations, direct readings, "
           "wires, temperature, corrections: + over the columns opens them; in Excel select the columns on both sides, "
           "right click, Unhide."),
    _typed("reading_1b", "1, other direction", "reading over wires, station 1, other direction", "entry",
           _STATION.format(1, "a quarter turn from the first"), closed=True),
    _typed("reading_2a", "2", "reading over wires, station 2", "entry", _STATION.format(2, "first"), closed=True),
    _typed("reading_2b", "2, other direction", "reading over wires, station 2, other direction", "entry",
           _STATION.format(2, "second"), closed=True),
    _typed("reading_3a", "3", "reading over wires, station 3", "entry", _STATION.format(3, "first"), closed=True),
    _typed("reading_3b", "3, other direction", "reading over wires, station 3, other direction", "entry",
           _STATION.format(3, "second"), closed=True),
    _typed("direct", "Pitch dia. meas'd", "pitch diameter measured directly", "entry",
           "Pitch diameter from a thread micrometer or a comparator, working unit. Empty when measured over wires.",
           closed=True),
    _typed("crest", "", "major diameter outside, bore inside, as measured", "entry",
           "Major diameter of an outside thread, bore (minor diameter) of an inside one, as measured, in the working "
           "unit."),
    _typed("ring", "Ring or plug", "what the go and not go gauges said", "text",
           f"Type {PASS}, {GO_FAILS} or {NOT_GO_ENTERS} (more turns than the rule on Uncertainty allows); "
           f"of a taper thread {PASS}, {LARGE} or {SMALL}. Empty: not gauged.",
           check=_SAID),
    _typed("gauge_turns", "Turns off, taper", "turns that the gauge of a taper thread stood off", "0.0#",
           "Taper thread alone: turns that ring or plug stood off by hand. Large is +: ring not far enough on, plug "
           "too deep; small is -. 0: flush. The gauge is named beside.", closed=True),
    _typed("gauge", "Gauge", "number of the gauge", "text",
           "Number of the ring or plug, from Instruments: the GO gauge for pass and go fails, the NOT GO for not go "
           "enters. Its thread must be that of the job.", closed=True),
    _typed("wires", "Wires", "wire set used", "text",
           "Number of the wire set, as on Wire sets. Empty: the set chosen on Setup.", closed=True),
    _typed("place", "Other place, taper", "taper: where the part was measured", "entry",
           _PLACE.format(", and of the other sizes,", "the one at the top"), closed=True),
    _typed("place_2", "Place of station 2", "taper: where station 2 was measured", "entry",
           _PLACE.format(" at station 2", "where station 1 is"), closed=True),
    _typed("place_3", "Place of station 3", "taper: where station 3 was measured", "entry",
           _PLACE.format(" at station 3", "where station 1 is"), closed=True),
    _typed("temperature", "Part °C", "temperature of the part", "0.0#",
           "Temperature of the part when it was measured, degrees Celsius. Empty: 20, no correction.", closed=True),
)  # fmt: skip
"""From the first size to the temperature; sizes side by side, so that a formula can take several at once."""
OWN = (
    _typed("instrument", "Other instrument", "instrument used", "text",
           "Number of the micrometer or other instrument that the pitch diameter was measured with, as on Instruments "
           "(of the other diameter, where only that was measured). Empty: the one at the top.", closed=True),
    _typed("who", "Other person", "who measured", "text", "Who measured this part. Empty: the one at the top.",
           closed=True),
    _typed("when", "Other day", "when it was measured", "date", "Date of the measurement. Empty: the day at the top.",
           closed=True),
    _typed("why", "Corrects an earlier row: why", "why this row corrects an earlier one of the same part", "text",
           "Only when this row corrects an earlier row of the same part: say why. The earlier row stays as it was "
           "typed and no longer counts.", closed=True),
)  # fmt: skip
"""What a row has for itself."""

INPUTS = (SERIAL, *READ, *OWN)
READINGS = tuple(one.name for one in INPUTS if one.name.startswith("reading"))
"""Names of the readings over wires, three stations of two directions."""


def _shown(
    name: str, head: str, meaning: str, dimension: str = "words", look: str = "part_words", *, closed: bool = False
) -> Column:
    return Column(name, head, meaning, dimension=dimension, look=look, grouped=closed)


WORST = _shown("worst", "Result", "the worst of the row's results", look="part_verdict")
REASON = _shown("reason", "Why, and what to look at", "which results are not in, and the words of the row")
PITCH = _shown("pitch_diameter", "",
               "deciding pitch diameter, at 20 degrees C where the expansion of the part is given", "length",
               "part_figure")  # fmt: skip
USED = (
    _shown("instrument_used", "Instrument", "instrument of the row, its own or the one typed once", look="part_used"),
    _shown("who_used", "Person", "who measured, the row's own or the one typed once", look="part_used"),
    _shown("when_used", "When", "day of the measurement, the row's own or the one typed once", "date", "part_used"),
)
SHAPE = (
    _shown("taper", "Taper", "largest less smallest mean of a station", "length", "part_figure", closed=True),
    _shown("out_of_round", "Out of round", "largest difference of the two directions at a station", "length",
           "part_figure", closed=True),
)  # fmt: skip
SINGLE = (
    _shown("pitch_diameter_result", "Result: pitch diameter", "result for the pitch diameter",
           look="part_verdict", closed=True),
    _shown("crest_result", "", "result for the major diameter (or bore)", look="part_verdict", closed=True),
    _shown("ring_result", "Result: ring or plug", "result of the gauges; empty where none was used",
           look="part_verdict", closed=True),
)  # fmt: skip
WORDS = _shown("words", "In words", "why the result is what it is, and what to look at", look="part_words", closed=True)

RESULTS = (PITCH, *SHAPE, *SINGLE, WORDS, WORST, REASON, *USED)


def _working(name: str, meaning: str) -> Column:
    return Column(name, name.replace("_", " "), meaning, look="note_left", role="working", hidden=True)


WORKING = (
    _working("status", "0 for an empty row, 1 for one that counts, else the row that replaces it"),
    _working("filled", "how many entries are filled"),
    _working("sought", "serial as it is looked for"),
    _working("corrects", "the row's own number on the sheet, where it corrects an earlier one"),
    _working("mends", "its part, there"),
    _working("passed", "how many corrections there are up to this row"),
    _working("top", "the part that comes last in order, down to here: the longest, and of those the last by letters"),
    _working("first", "first row of the log with this part, counted from 1"),
    _working("factor", "what brings a size to 20 degrees C"),
    _working("lift", "taper: what brings a diameter to the gauge plane from the row's place; 0 on a parallel thread"),
    _working("lift_2", "the same from that of station 2"),
    _working("lift_3", "the same from that of station 3"),
    _working("most", "largest reading, each brought to the gauge plane of a taper"),
    _working("least", "smallest reading, brought so"),
    _working("constant", "reading less pitch diameter with the wires of this row"),
    _working("size", "deciding pitch diameter, whether replaced or not"),
    _working("size_word", "result for it, whether replaced or not"),
    _working("crest_word", "result for the crest diameter, whether replaced or not"),
    _working("ring_word", "result of the gauges, whether replaced or not; 0: none was used"),
    _working("worst_word", "the worst of the three"),
    _working("own_reason", "which of them are not in, and what settles that; 0 in an empty row"),
    _working("high", "largest pitch diameter of the row at 20 degrees C"),
    _working("low", "smallest pitch diameter of the row at 20 degrees C"),
    _working("entry_words", "what there is to say of the entries of the row; 0 in an empty one"),
    _working("more_words", "what there is to say of rows alike, and of the end of the log; 0 in an empty row"),
    _working(
        "own_words", "all there is to say of a row that counts, but for other rows of its part; 0 in an empty one"
    ),
    _working("entry_fault", "what is wrong with the readings; 0: nothing"),
    _working("crest_fault", "what is wrong with the crest diameter; 0: nothing"),
    _working("instrument_fault", "why the instrument doesn't count; 0: it does"),
    _working("wires_fault", "why the wires don't count; 0: they do"),
    _working("gauge_fault", "why the gauge doesn't count; 0: it does"),
    _working("digit", "last digit of the reading"),
    _working("size_decides", "a U under this decides the pitch diameter, whether replaced or not"),
    _working("pitch_diameter_decides", "a U under this decides the pitch diameter, where it is undecided"),
    _working("crest_decides", "the same of the crest diameter"),
    _working("readings_decide", "so many readings have a mean that decides the pitch diameter"),
    _working("day", "day of the measurement, where it is one"),
    _working("instrument_at", "row of the instrument in its list, 0 where it is not there"),
    _working("gauge_both", "whether the gauge is GO and NOT GO; on a taper GO alone is enough"),
    _working("gauge_at", "row of the gauge in its list, 0 where it is not there"),
    _working("wires_at", "row of the wire set in its list, 0 where it is not there"),
    _working("part", "serial as a text, so that 7 and the text 7 are one part"),
)

PRINTED = (SERIAL, WORST, REASON, *READ, PITCH, *OWN, *USED, *SHAPE, *SINGLE, WORDS)
"""What is seen, from the left; the closed columns are seen when they are opened."""
COLUMNS = (*PRINTED, *WORKING)
NUMBERS = {one.name: number for number, one in enumerate(COLUMNS, start=1)}
"""The number of each column, from 1."""


TOGETHER = 10
"""So many rows of the log are named together by a formula that shows one of them."""


def of_row(name: str, number: int, rows: int, lost: str | float = "") -> Node:
    """A cell of row `number` of a log of so many rows, from 1, for a formula of another sheet.

    Of a few rows, not of the whole column: LibreOffice tells a formula of every cell that it names. And not that cell
    alone: a row that is deleted would leave a lost reference. `lost` stands for the last of those few then.
    """
    before = (number - 1) // TOGETHER * TOGETHER
    first, last = (
        Cell(HEAD + at, NUMBERS[name], True, True, "Log") for at in (before + 1, min(before + TOGETHER, rows))
    )
    return xl.IFERROR(xl.INDEX(Area(first, last), number - before), lost)


_WIDE = {
    "serial": 8.3, "worst": 16.8, "reason": 30, "ring": 11.9, "gauge": 9, "wires": 9, "temperature": 7,
    "gauge_turns": 9,
    "instrument": 9, "who": 11, "when": 11, "why": 26, "instrument_used": 9.5, "who_used": 8.5, "when_used": 10.4,
    "pitch_diameter_result": 16.5, "crest_result": 16.5, "ring_result": 16.5, "words": 40,
}  # fmt: skip
WIDTHS = tuple(_WIDE.get(one.name, 8.7) for one in PRINTED)
"""In characters; those that are open together fill a sheet of paper in landscape."""


def wide(first: str, last: str) -> int:
    """How many columns there are from one to another."""
    return NUMBERS[last] - NUMBERS[first] + 1
