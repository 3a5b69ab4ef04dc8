"""The sheet Threads: the table of every standard thread, the lists beside it, and the thread in use.

No standard is worked in cell formulas: the sheet only looks up. Rows of a size stand together, and sizes of a
system stand together, so a first row and a count find them. Row 4 shows what is in use, over each column.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from sheetfuncs.units import MM_PER_INCH
from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, known, say, the, when, xl
from workbook_template.figures.tree import Area, Cell, Node
from workbook_template.sheets import size_typed
from workbook_template.sheets.thread_listing import CHANGES

SHEET = "Threads"
NOT_SET = "–"
"""What is in use where the standard sets no such size."""

LENGTHS = {"in": "0.0000", "mm": "0.000"}
"""Number formats of lengths by unit."""

HINT = (
    "Filled when the workbook was built, by the Python functions. Row 4 is the thread in use; filter by size or class. "
    "Empty: the standard sets no such size, or no allowance; what the root clears is then the largest minor diameter, "
    "inside the smallest major. Group: its line in the groups beside."
)
HEAD, FIRST, IN_USE = 6, 7, 4


CHOSEN = known(the.thread_row)
"""Whether a thread is chosen on the sheet Job."""
JOINER = when(the.class_joiner.same("dash"), "-", " ")
"""What stands before class and hand in the callout."""
INSIDE, OUTSIDE = the.thread_side.same("internal"), the.thread_side.same("external")
UNLIKE = when(CHOSEN, the.flank_leading.differs(the.flank_trailing), False)
"""Whether the two flanks have different angles."""
PUSH = known(xl.FIND("PUSH", the.row_size))
"""Whether a buttress thread is of the push type: its clearance flank is where the pull type has the load flank."""

READ: dict[str, Callable[[Node], Node]] = {
    "": lambda cell: cell,
    "text": lambda cell: cell & "",
    "zero": lambda cell: cell + 0,
    "none": lambda cell: when(known(cell), cell),
    "dash": lambda cell: when(known(cell), cell, NOT_SET),
    "sharp": lambda cell: when(known(cell), cell, when(INSIDE, the.own_major_diameter_min, the.own_minor_diameter_max)),
    "diameter": lambda cell: when(known(cell), cell, the.own_diameter),
}
"""How a cell is looked up by what an empty one stands for: there is none, no text, a zero, no number, no limit; of what
the root clears the limit on that side, and of the basic major diameter the nominal one.

A formula that ends on an empty cell would be the number 0 in Excel and half a number in LibreOffice.
"""


class Column(NamedTuple):
    """One column: its heading, the name of the cell in use, what it is, and how it is shown.

    `empty` says what an empty cell stands for, one of READ: nothing written there keeps the file small.
    """

    heading: str
    name: str
    meaning: str
    unit: str = ""
    width: float = 9
    empty: str = ""

    @property
    def form(self) -> str:
        """Its number format; empty for text."""
        return "0" if self.unit == "count" else "0.0####" if self.unit else ""

    def looked_up(self, cells: Node, row: Node) -> Node:
        """The formula of the cell in use."""
        return when(CHOSEN, READ[self.empty](xl.INDEX(cells, row)))


COLUMNS = (
    Column("size", "row_size", "size of the row in use", width=22),
    Column("class", "row_class", "class of the row in use", width=12),
    Column("major max", "own_major_diameter_max", "largest major diameter", "own unit", empty="dash"),
    Column("major min", "own_major_diameter_min", "smallest major diameter", "own unit", empty="dash"),
    Column("pitch max", "own_pitch_diameter_max", "largest pitch diameter, one start", "own unit", empty="dash"),
    Column("pitch min", "own_pitch_diameter_min", "smallest pitch diameter, one start", "own unit", empty="dash"),
    Column("minor max", "own_minor_diameter_max", "largest minor diameter", "own unit", empty="dash"),
    Column("minor min", "own_minor_diameter_min", "smallest minor diameter", "own unit", empty="dash"),
    Column("root clears", "own_root", "diameter that the root must clear", "own unit", empty="sharp"),
    Column("allowance", "own_allowance", "allowance or fundamental deviation", "own unit", 10, "zero"),
    Column("group", "row_group", "line of the row in use in the list of groups", "count", 7),
)
"""The table of limits, one row a size and class."""

SIZES = (
    Column("sizes", "size_list", "every size", width=22),
    Column("count", "size_counts", "for each size, how many rows"),
    Column("diameter", "own_diameter", "nominal diameter", "own unit"),
    Column("pitch", "own_pitch", "pitch", "own unit"),
    Column("basic pitch diameter", "own_pitch_diameter_basic", "basic pitch diameter", "own unit"),
    Column("several starts", "lead_callout", "callout of several starts, * for the lead", "", 24, "text"),
    *(
        Column(
            f"nominal {which}",
            f"own_{which}_diameter_nominal",
            f"basic {which} diameter as printed, rounded",
            "own unit",
            empty="diameter" if which == "major" else "",
        )
        for which in ("major", "pitch", "minor")
    ),
    Column("its classes", "own_classes", "the classes of the size, each between two bars", "", 24, "text"),
    Column("also typed", "size_shorts", "how each size is also typed, 1/4-20 or M20, where that means it alone"),
    Column("without system", "size_pairs", "the same where that means the size though no system is said"),
    Column("with a class", "size_pairs_classed", "the same where that means the size with a class behind it alone"),
    Column(
        "root tip",
        "own_root_tip",
        "how far the smallest tip of the standard's own root stays above the sharp bottom",
        "own unit",
        empty="none",
    ),
    Column(
        "gauge plane", "own_gauge_plane", "taper: distance of the gauge plane from the small end", "own unit", 8, "none"
    ),
    Column("full to", "own_full_to", "taper: where the last full thread outside ends", "own unit", 8, "none"),
    Column("formed to", "own_formed_to", "taper: where the formed flanks outside end", "own unit", 8, "none"),
    Column("by wrench", "own_by_wrench", "taper: how much deeper the wrench screws the pipe in", "own unit", 8, "none"),
    Column(
        "turns", "own_gauge_turns", "taper: turns of the gauge that a part may be off, either way", "turns", 7, "none"
    ),
)
SYSTEMS = (
    Column("systems", "system_list", "every system", width=18),
    Column("first", "system_firsts", "for each system, its first size"),
    Column("count", "system_counts", "for each system, how many sizes"),
    Column("unit", "own_unit", "the thread's own unit", width=6),
    Column("leading flank", "flank_leading", "angle of the leading flank", "degrees", 8),
    Column("trailing flank", "flank_trailing", "angle of the trailing flank", "degrees", 8),
    Column("before class", "class_joiner", "what stands before class and hand in a callout: dash or blank"),
    Column("bare class", "bare_class", "class that a callout does not write", empty="text"),
    Column("taper", "own_taper", "change of diameter per length", "per length", 8),
    Column("least radius", "root_share_min", "smallest root radius demanded, per pitch", "per pitch", 8, "none"),
    Column("most radius", "root_share_max", "largest root radius demanded, per pitch", "per pitch", 8, "none"),
    Column(
        "crest rounding",
        "crest_rounding",
        "how far a rounded crest reaches down the flanks, as a share of what is cut off it; 0 where it has edges",
        "per length",
        8,
    ),
    Column("first diameter", "diameter_firsts", "for each system, the first of its diameters"),
    Column("diameters", "diameter_counts", "for each system, how many diameters"),
)
DIAMETERS = (
    Column("diameters", "diameter_list", "every diameter as it is written", width=12),
    Column("first", "diameter_sizes", "for each diameter, its first size"),
    Column("count", "diameter_size_counts", "for each diameter, how many sizes"),
)
GROUPS = (
    Column("side", "thread_side", "external or internal"),
    Column("for reference", "reference_sizes", "which sizes the standard gives for reference only", "", 20, "text"),
    Column("standing", "standing", "how this size stands in its standard", width=44),
    Column("from memory", "row_memory", "figures not seen in print; THREAD_SOURCE says what was", "", 44, "text"),
    *(
        Column(
            f"{'wider' if name.startswith('wider') else 'root lower'}, {name[-1]} starts",
            name,
            f"what {name[-1]} starts "
            + ("add to the pitch diameter tolerance" if name.startswith("wider") else "take off the smallest root"),
            "own unit",
            empty="zero",
        )
        for name in CHANGES
    ),
)

PAIRS = (
    Column("pairs", "pair_list", "every pair as 1/2-12 that means no size alone", width=12),
    Column("may be", "pair_sizes", "for each such pair, the sizes that it may be", width=44),
)
CLASSES = (Column("classes", "class_names", "every class once, as it may stand behind a size", width=12),)

PARTS = (
    *((COLUMNS, "thread_row"), (SYSTEMS, "system_row"), (SIZES, "size_row"), (GROUPS, "row_group")),
    *((DIAMETERS, "diameter_row"), (PAIRS, ""), (CLASSES, "")),
)
"""The table and the lists from left to right, an empty column between them; each with the row in use, if any."""

LIST_NAMES = (
    *("size_list", "size_counts", "size_shorts", "size_pairs", "size_pairs_classed", "pair_list", "pair_sizes"),
    *("class_names", "system_list", "system_firsts", "system_counts"),
    *("diameter_firsts", "diameter_counts", "diameter_list", "diameter_sizes", "diameter_size_counts"),
)
"""Columns whose name is that of the whole list, not of a cell in use."""


def starts_at(part: tuple[Column, ...]) -> int:
    """The column of the sheet in which a part begins."""
    before = next(number for number, (columns, _) in enumerate(PARTS) if columns is part)
    return 1 + sum(len(columns) + 1 for columns, _ in PARTS[:before])


def in_use_of(stem: str) -> Node:
    """What the group of the thread in use has for 2, 3 ... starts: the cells side by side."""
    numbers = [
        number for number, column in enumerate(GROUPS, start=starts_at(GROUPS)) if column.name.startswith(f"{stem}_")
    ]
    first_cell, last_cell = (Cell(IN_USE, number, True, True, sheet=SHEET) for number in (numbers[0], numbers[-1]))
    return Area(first_cell, last_cell)


CLASSES_AT = 1 + sum(len(columns) + 1 for columns, _ in PARTS)
FOUND_AT = CLASSES_AT + 3


def _place(wanted: Node, among: Node) -> Node:
    return xl.IFERROR(xl.MATCH(wanted, among, 0), "")


def _of(row: Node, cells: Node) -> Node:
    """What stands in a row of a list, where there is one."""
    return when(known(row), xl.INDEX(cells, row))


def _size_row() -> Node:
    place, start = the.size_place, the.size_start
    in_system = all_of(place >= start, place < start + the.size_number)
    return when(all_of(known(place), known(start)), when(in_system, place))


def _threads_per_inch() -> Node:
    pitch = the.own_pitch
    return when(known(pitch), when(the.own_unit.same("in"), xl.ROUND(1 / pitch, 9), MM_PER_INCH / pitch))


def _root_radius(end: str) -> Node:
    share = the[f"root_share_{end}"]
    return when(all_of(known(share), OUTSIDE), share * the.own_pitch)


FOUND = (
    Figure("system_row", "place of the chosen system in its list", _place(the.thread_system, the.system_list)),
    Figure("size_start", "first size of the system", _of(the.system_row, the.system_firsts)),
    Figure("size_number", "number of sizes of the system", _of(the.system_row, the.system_counts)),
    *size_typed.FOUND,
    Figure("size_row", "the same, if it is a size of the chosen system", _size_row()),
    Figure("class_start", "first row of the size",
           when(known(the.size_row), _place(xl.INDEX(the.size_list, the.size_row), the.class_sizes))),
    Figure("class_number", "number of classes of the size", _of(the.size_row, the.size_counts)),
    Figure("class_place",
           "place of the chosen class among them, or 0; 6h is not taken for 6H, an outside thread for an inside one",
           xl.IFERROR(xl.MATCH(1, the.size_classes_chosen, 0), 0)),
    Figure("class_row", "row of the chosen class of the size, or 0",
           when(the.class_place > 0, the.class_start + the.class_place - 1, 0)),
    Figure("thread_row", "row of the chosen thread in the table",
           when(all_of(the.thread_fault.same(""), the.class_row > 0), the.class_row)),
    Figure("row_system", "thread system of the row in use", when(CHOSEN, xl.INDEX(the.system_list, the.system_row))),
    Figure("row_callout", "callout of the row in use (one start, right hand)",
           when(CHOSEN, say(the.row_size, when(xl.EXACT(the.row_class, the.bare_class), "",
                                               say(JOINER, the.row_class))))),
    Figure("row_threads_per_inch", "threads per inch", _threads_per_inch()),
    Figure("own_radius_min", "smallest root radius that the standard demands", _root_radius("min")),
    Figure("own_radius_max", "largest root radius that the standard demands", _root_radius("max")),
)  # fmt: skip
"""Where the chosen thread stands, and what follows from it; formulas in order, each using the ones before it."""
