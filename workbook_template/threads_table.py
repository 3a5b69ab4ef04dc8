"""The sheet Threads: every standard thread with its limits, as the Python functions give them, and the row in use.

No standard is worked in cell formulas: the sheet only looks up. Rows of a size stand together, and sizes of a
system stand together, so a first row and a count find them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from openpyxl.utils import get_column_letter
from openpyxl.worksheet.table import Table
from openpyxl.worksheet.worksheet import Worksheet

from sheetfuncs import CellError, standards
from sheetfuncs.designations import Thread, plain, threads_per_inch, write_inch_size
from workbook_template import blocks, styles
from workbook_template.blocks import Book

SHEET = "Threads"
HINT = "The table was filled when the workbook was built, by the Python functions. Row 4 is the thread in use."
NOT_SET = "–"
"""What stands where the standard sets no such size."""

CLASSES: dict[str, tuple[str, ...]] = {
    "unified": ("2A", "3A", "2B", "3B", "1A", "1B"),
    "iso_metric": ("6g", "6h", "4g6g", "6e", "6H", "5H", "6G", "7H"),
    "unj": ("3A", "3B"),
    "mj": ("4h6h", "4g6g", "6g", "4H5H", "4H6H", "6H"),
    "acme": ("2G", "3G", "4G", "2G-INT", "3G-INT", "4G-INT", "2C", "3C", "4C", "2C-INT", "3C-INT", "4C-INT"),
    "stub_acme": ("2G", "2G-INT"),
    "iso_trapezoidal": ("7e", "8e", "8c", "9c", "7H", "8H", "9H"),
    "buttress": ("2A", "3A", "2B", "3B"),
    "whitworth": ("close bolt", "medium bolt", "free bolt", "close nut", "medium nut", "normal nut"),
    "ba": ("close bolt", "normal bolt", "nut"),
    "pipe_parallel": ("A", "B", "internal"),
    "pipe_taper_iso": ("R or Rc",),
    "pipe_rp": ("Rp",),
    "npt": ("external", "internal"),
    "npsm": ("external", "internal"),
}
"""The classes of each system as the drop-down offers them: common ones, or all there are."""

BARE = ("R or Rc", "Rp")
"""A "class" that is only the name of the thread: nothing is written behind the size."""

INTERNAL_IS_BARE = "pipe_parallel"
"""ISO 228-1 writes a letter for the two external classes and nothing for the internal thread."""

BY_WORDS = ("whitworth", "ba", "pipe_parallel", "pipe_taper_iso", "pipe_rp", "npt", "npsm")
"""Systems whose callouts put a space, not a dash, before the class and the hand."""

ONLY_FOR_SERIES: dict[str, tuple[str, ...]] = {"1A": ("UNC", "UNF"), "1B": ("UNC", "UNF")}
"""ASME B1.1-2003 tabulates classes 1A and 1B for these series alone."""

STARTS = (2, 3, 4, 5)
"""Numbers of starts with a widened tolerance of their own; five stands for five and more."""


def _around_inch_lead(thread: Thread) -> tuple[str, str]:
    return f"{write_inch_size(thread.diameter)}-{plain(thread.pitch)}P-", f"L {thread.series}"


AROUND_LEAD: dict[str, Callable[[Thread], tuple[str, str]]] = {
    **dict.fromkeys(("unified", "unj", "acme", "stub_acme"), _around_inch_lead),
    "buttress": lambda t: (f"{write_inch_size(t.diameter)}-{plain(t.pitch)}P-", f"L-{t.series}"),
    "iso_metric": lambda t: (f"M{plain(t.diameter)}xPh", f"P{plain(t.pitch)}"),
    "mj": lambda t: (f"MJ{plain(t.diameter)}xPh", f"P{plain(t.pitch)}"),
    "iso_trapezoidal": lambda t: (f"Tr{plain(t.diameter)}x", f"(P{plain(t.pitch)})"),
}
"""What stands before and after the lead in the callout of several starts; the other systems have one start."""


class Column(NamedTuple):
    """One column of the table: its heading, the name of the cell in use, what it is, and how it is shown."""

    heading: str
    name: str
    meaning: str
    unit: str = ""
    width: float = 9

    @property
    def form(self) -> str:
        """Its number format; empty for text."""
        return "0.0####" if self.unit and self.unit != "text" else "0.##" if self.heading == "threads per inch" else ""

    def form_in(self, unit: str) -> str:
        """Its number format in a row of that unit: sizes as the standard prints them, the rest as they are."""
        sized = self.unit == "own unit" and self.heading not in ("pitch", "basic pitch diameter")
        return styles.FORMATS["length"][unit] if sized else "0.##" if self.unit == "degrees" else self.form


COLUMNS = (
    Column("callout", "row_callout", "callout of the row in use (one start, right hand)", width=21),
    Column("system", "row_system", "thread system of the row in use", width=11),
    Column("size", "row_size", "size of the row in use", width=18),
    Column("class", "row_class", "class of the row in use", width=7),
    Column("side", "thread_side", "external or internal"),
    Column("unit", "own_unit", "the thread's own unit", width=6),
    Column("diameter", "own_diameter", "nominal diameter", "own unit"),
    Column("pitch", "own_pitch", "pitch", "own unit"),
    Column("threads per inch", "row_threads_per_inch", "threads per inch"),
    Column("leading flank", "flank_leading", "angle of the leading flank", "degrees", 8),
    Column("trailing flank", "flank_trailing", "angle of the trailing flank", "degrees", 8),
    Column("allowance", "own_allowance", "allowance or fundamental deviation", "own unit", 10),
    Column("major max", "own_major_max", "largest major diameter", "own unit"),
    Column("major min", "own_major_min", "smallest major diameter", "own unit"),
    Column("pitch max", "own_pitch_max", "largest pitch diameter, one start", "own unit"),
    Column("pitch min", "own_pitch_min", "smallest pitch diameter, one start", "own unit"),
    Column("minor max", "own_minor_max", "largest minor diameter", "own unit"),
    Column("minor min", "own_minor_min", "smallest minor diameter", "own unit"),
    Column("for reference", "reference_sizes", "which sizes the standard gives for reference only", width=20),
    Column("root clears", "own_root", "diameter that the root must clear", "own unit"),
    Column("basic pitch diameter", "own_pitch_basic", "basic pitch diameter", "own unit"),
    Column("standing", "standing", "how this size stands in its standard", width=44),
    Column("before lead", "before_lead", "several starts: callout before the lead", width=14),
    Column("after lead", "after_lead", "several starts: callout after the lead", width=9),
    Column("left-hand mark", "left_mark", "what the callout of a left-hand thread ends in", width=8),
    Column("taper", "own_taper", "change of diameter per length", "per length", 8),
    Column("root radius min", "own_radius_min", "smallest root radius that the standard demands", "own unit"),
    Column("root radius max", "own_radius_max", "largest root radius that the standard demands", "own unit"),
    *(
        Column(f"wider, {n} starts", f"wider_{n}", f"what {n} starts add to the pitch diameter tolerance", "own unit")
        for n in STARTS
    ),
    *(
        Column(f"root lower, {n} starts", f"root_lower_{n}", f"what {n} starts take off the smallest root", "own unit")
        for n in STARTS
    ),
)
HEAD, FIRST, IN_USE = 6, 7, 4
LAST_COLUMN = get_column_letter(len(COLUMNS))
LAST_PRINTED = get_column_letter(19)
SYSTEMS_AT, SIZES_AT, FOUND_AT = len(COLUMNS) + 2, len(COLUMNS) + 6, len(COLUMNS) + 10


class Listing(NamedTuple):
    """The rows of the table, and the lists for the drop-downs: (text, first row, count), rows counted from 1."""

    rows: list[tuple]
    sizes: list[tuple[str, int, int]]
    systems: list[tuple[str, int, int]]


def size_of(thread: Thread) -> Thread:
    """The thread as the table has its size: one start, right hand, without class."""
    return thread._replace(starts=1, left_hand=False, thread_class="", side="", engagement="")


def class_of(thread: Thread) -> str:
    """The class as the drop-down offers it, with the engagement group where one is given."""
    system = standards.system(thread)
    plain_thread = thread._replace(starts=1, left_hand=False)
    for name in CLASSES[thread.system]:
        try:
            if system.read(with_class(thread.system, system.write(size_of(thread)), name)) == plain_thread:
                return name
        except CellError:
            continue
    return f"{thread.thread_class}-{thread.engagement}" if thread.engagement else thread.thread_class


def with_class(key: str, size: str, name: str) -> str:
    """The callout of a size and a class.

    >>> with_class("unified", "3/4-16 UNF", "2A"), with_class("pipe_parallel", "G 3/4", "internal")
    ('3/4-16 UNF-2A', 'G 3/4')
    """
    if name in BARE or (key == INTERNAL_IS_BARE and name == "internal"):
        return size
    return f"{size}{' ' if key in BY_WORDS else '-'}{name}"


def listing(extra: Iterable[Thread] = ()) -> Listing:
    """Every standard thread, and the extra ones in their places."""
    rows: list[tuple] = []
    sizes: list[tuple[str, int, int]] = []
    systems: list[tuple[str, int, int]] = []
    extra = list(extra)
    for key in CLASSES:
        system = standards.SYSTEMS[key]
        known = {system.write(size_of(thread)): thread for thread in system.standard_threads()}
        asked: dict[str, list[str]] = {}
        for thread in extra:
            if thread.system == key:
                text = system.write(size_of(thread))
                known.setdefault(text, size_of(thread))
                asked.setdefault(text, []).extend(filter(None, [class_of(thread)]))
        first_size = len(sizes) + 1
        for text, thread in sorted(known.items(), key=lambda item: _by_size(item[1])):
            first_row = len(rows) + 1
            for name in dict.fromkeys((*CLASSES[key], *asked.get(text, ()))):
                if thread.series in ONLY_FOR_SERIES.get(name, (thread.series,)) or name in asked.get(text, ()):
                    rows += _row(system, text, name)
            if len(rows) >= first_row:
                sizes.append((text, first_row, len(rows) - first_row + 1))
        systems.append((system.title, first_size, len(sizes) - first_size + 1))
    return Listing(rows, sizes, systems)


def _by_size(thread: Thread) -> tuple[float, float, str]:
    return thread.diameter, -thread.pitch, thread.series


def _row(system: standards.System, size: str, name: str) -> list[tuple]:
    """The row of one size and class; none where the standard does not give that class at this size."""
    try:
        thread = system.read(with_class(system.key, size, name))
        found = system.limits(thread)
    except CellError:
        return []
    sizes = (("major", found.major), ("pitch", found.pitch), ("minor", found.minor))
    reference = ", ".join(f"{which} {end}" for which, size_ in sizes for end in size_.reference.split())
    return [
        (
            system.write(thread),
            system.title,
            size,
            name,
            thread.side,
            thread.unit,
            thread.diameter,
            thread.pitch,
            threads_per_inch(thread.pitch) if thread.unit == "in" else 25.4 / thread.pitch,
            system.form.leading,
            system.form.trailing,
            found.allowance,
            *(NOT_SET if end is None else end for _, size_ in sizes for end in (size_.max, size_.min)),
            reference,
            found.root,
            system.basic(thread).pitch,
            system.standing(thread),
            *(AROUND_LEAD[system.key](thread) if system.key in AROUND_LEAD else ("", "")),
            " LH" if system.key in BY_WORDS else "-LH",
            system.taper,
            *_root_radius(system, thread),
            *_wider(system, thread, found),
        )
    ]


def _root_radius(system: standards.System, thread: Thread) -> tuple[float | str, float | str]:
    """Smallest and largest root radius, where the standard demands one of an external thread."""
    if system.root_radius is None or thread.side == "internal":
        return "", ""
    smallest, largest = system.root_radius
    return smallest * thread.pitch, largest * thread.pitch


def _wider(system: standards.System, thread: Thread, single: standards.Limits) -> list[float]:
    """What each number of starts adds to the pitch diameter's tolerance, then what it takes off the smallest root."""
    if system.key not in AROUND_LEAD:
        return [0.0] * (2 * len(STARTS))
    several = [system.limits(thread._replace(starts=n)) for n in STARTS[-1:]]
    if several[0][:3] == single[:3]:  # the most starts change nothing, so fewer do not
        return [0.0] * (2 * len(STARTS))
    several = [system.limits(thread._replace(starts=n)) for n in STARTS[:-1]] + several
    tolerance = single.pitch.max - single.pitch.min
    wider = [found.pitch.max - found.pitch.min - tolerance for found in several]
    lower = [0.0 if found.minor.min is None else single.minor.min - found.minor.min for found in several]
    return [round(change, system.decimals) for change in (*wider, *lower)]


def build(book: Book, ws: Worksheet) -> None:
    """Fill the sheet."""
    found = listing(book.threads)
    ws["A1"] = "Threads: limits as the standards give them, each in its own unit"
    styles.apply(book.known, ws["A1"], "callout")
    ws.row_dimensions[1].height = 32
    blocks.write(book, ws, "A2", HINT, "label")
    blocks.write(book, ws, "A3", "In use on the sheet Job:", "block")
    last = HEAD + len(found.rows)
    _fill(book, ws, found.rows)
    for number, column in enumerate(COLUMNS, start=1):
        letter = get_column_letter(number)
        look_up = f'IF(ISNUMBER(thread_row),INDEX(${letter}${FIRST}:${letter}${last},thread_row),"")'
        look = "result" if column.form else "plain"
        blocks.write(book, ws, f"{letter}{IN_USE}", f"={look_up}", look, column.form or "words")
        blocks.define(book, ws, f"{letter}{IN_USE}", column.name, column.meaning, unit=column.unit, role="working")
        ws.column_dimensions[letter].width = column.width
    _lists(book, ws, found, last)
    ws.freeze_panes = f"B{FIRST}"
    ws.print_title_rows = f"{HEAD}:{HEAD}"
    blocks.page(ws, f"A1:{LAST_PRINTED}{last}", landscape=True, rows=0)
    blocks.lock(ws)


def _fill(book: Book, ws: Worksheet, rows: list[tuple]) -> None:
    """The table itself; styles are shared, so that thousands of cells cost little more than their values."""
    for number, column in enumerate(COLUMNS, start=1):
        styles.apply(book.known, ws.cell(HEAD, number, column.heading), "head")
    ws.row_dimensions[HEAD].height = 28
    looks = {
        unit: [
            styles.ready(book.known, ws, *(("table_number", column.form_in(unit)) if column.form else ("table",)))
            for column in COLUMNS
        ]
        for unit in ("in", "mm")
    }
    unit_at = [column.name for column in COLUMNS].index("own_unit")
    for values in rows:  # from FIRST on, as the headings are the last row so far
        styles.append(ws, values, looks[values[unit_at]])
    ws.add_table(Table(displayName="thread_table", ref=f"A{HEAD}:{LAST_COLUMN}{HEAD + len(rows)}"))


def _lists(book: Book, ws: Worksheet, found: Listing, last: int) -> None:
    """Lists for the drop-downs, and where in them the choice of the sheet Job stands."""
    for at, title, rows in ((SYSTEMS_AT, "system", found.systems), (SIZES_AT, "size", found.sizes)):
        for offset, text in enumerate((f"{title}s", "first", "count")):
            styles.apply(book.known, ws.cell(HEAD, at + offset, text), "head")
        for row, values in enumerate(rows, start=FIRST):
            for offset, value in enumerate(values):
                styles.apply(book.known, ws.cell(row, at + offset, value), "table")
        ws.column_dimensions[get_column_letter(at)].width = 18
        for offset, (part, meaning) in enumerate(
            ((f"{title}_list", f"every {title}"), (f"{title}_first", "where it begins"), (f"{title}_count", "how many"))
        ):
            letter = get_column_letter(at + offset)
            name = part if offset == 0 else f"{part}s"
            ref = f"{letter}{FIRST}:{letter}{HEAD + len(rows)}"
            meaning = meaning if offset == 0 else f"for each {title}, {meaning}"
            blocks.define(book, ws, ref, name, meaning, role="list")
    blocks.define(book, ws, f"D{FIRST}:D{last}", "class_list", "the class of every row of the table", role="list")
    for offset, (name, meaning, formula) in enumerate(FOUND):
        letter = get_column_letter(FOUND_AT + offset)
        blocks.write(book, ws, f"{letter}3", name.replace("_", " "), "head")
        blocks.result(book, ws, f"{letter}{IN_USE}", name, meaning, formula, role="working")
        ws.column_dimensions[letter].width = 12


CLASS_ROW = f"(ROW(class_list)-{HEAD})"
"""Rows of the table, counted from 1. No range is cut out of the list, as not every program can do that."""

FOUND = (
    ("system_row", "place of the chosen system in its list", 'IFERROR(MATCH(thread_system,system_list,0),"")'),
    ("size_start", "first size of the system", 'IF(ISNUMBER(system_row),INDEX(system_firsts,system_row),"")'),
    ("size_number", "number of sizes of the system", 'IF(ISNUMBER(system_row),INDEX(system_counts,system_row),"")'),
    (
        "size_row",
        "place of the chosen size in the list of sizes",
        (
            "IFERROR(IF(AND(MATCH(thread_size,size_list,0)>=size_start,"
            'MATCH(thread_size,size_list,0)<size_start+size_number),MATCH(thread_size,size_list,0),""),"")'
        ),
    ),
    ("class_start", "first row of the size", 'IF(ISNUMBER(size_row),INDEX(size_firsts,size_row),"")'),
    ("class_number", "number of classes of the size", 'IF(ISNUMBER(size_row),INDEX(size_counts,size_row),"")'),
    (
        "class_row",
        "row of the chosen class of the size, or 0; 6h is not taken for 6H, an outside thread for an inside one",
        (
            f"IF(ISNUMBER(class_start),SUMPRODUCT(({CLASS_ROW}>=class_start)*({CLASS_ROW}<class_start+class_number)"
            f"*EXACT(class_list,thread_class)*{CLASS_ROW}),0)"
        ),
    ),
    ("thread_row", "row of the chosen thread in the table", 'IF(AND(thread_fault="",class_row>0),class_row,"")'),
)
"""Where the chosen thread stands; formulas in order, each using the ones before it."""
