"""The sheet of threads behind the LAMBDAs: a line for each standard thread, with and without its class.

Every figure is what the Python functions give. A callout is found by its key: what it is without the blanks and dashes
that say nothing. Which other spellings find a thread, and where 6g and 6G differ, the standards' own reader decides.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from operator import attrgetter
from typing import NamedTuple

from sheetfuncs import CellError, standards
from sheetfuncs.designations import Thread
from sheetfuncs.roots import mating_edge, root_shortening, root_to_cut
from sheetfuncs.standards import Basic, Limits, Size, System
from sheetfuncs.wire_fit import proud_wire, usable_wires
from workbook_template.sheets.thread_listing import Cell, listing

SIGNS = {
    **dict.fromkeys(("-", "–", "‑", "\N{NO-BREAK SPACE}"), " "),
    **dict.fromkeys(("×", "*"), "X"),
}
"""What stands for another sign in a callout."""

NUMBERED = ("No.", "No")
"""What is also written for the # of a numbered size."""

JOINED = "0123456789./"
"""A blank between two of these parts numbers; any other blank says nothing."""

LEFT_HAND = "LH"
"""A left-hand thread has the same sizes."""


class Line(NamedTuple):
    """One thread; no limits where it has no class and its standard sets none without."""

    thread: Thread
    system: System
    callout: str
    short: str
    basic: Basic
    limits: Limits | None


class Column(NamedTuple):
    """A column: the end of its name, its heading, and what it holds of a line."""

    name: str
    heading: str
    of: Callable[[Line], Cell]
    width: float = 9


def key(text: str) -> str:
    """A callout without what says nothing, as the helper THREADS_KEY makes it.

    >>> key("1 1/4-7 unc - 2B"), key("No. 10-32 UNF-3A-LH"), key("M20 x 2.5-6g")
    ('1 1/4 7unc2B', '#10 32UNF3A', 'M20x2.5 6g')
    """
    for sign, plain in SIGNS.items():
        text = text.replace(sign, plain)
    text = " ".join(text.split())
    before = next((word for word in NUMBERED if text.upper().startswith(word.upper())), "")
    text = "#" * bool(before) + text[len(before) :]
    joined = re.sub(rf"(?<![{JOINED}]) | (?![{JOINED}])", "", text)
    return joined[: -len(LEFT_HAND)] if joined.upper().endswith(LEFT_HAND) else joined


def _basic(which: str) -> Callable[[Line], Cell]:
    return attrgetter(f"basic.{which}")


def _size(which: str, end: str) -> Callable[[Line], Cell]:
    def of(line: Line) -> Cell:
        size: Size | None = getattr(line.limits, which, None)
        found: float | None = getattr(size, end, None)
        return found

    return of


def _reference(which: str) -> Callable[[Line], Cell]:
    return lambda line: getattr(line.limits, which).reference or None if line.limits else None


def _tolerance(line: Line) -> Cell:
    if line.limits is None:
        return None
    largest, smallest = line.limits.pitch.ends
    return round(largest - smallest, line.system.decimals)


def _root(end: str) -> Callable[[Line], Cell]:
    def of(line: Line) -> Cell:
        found: float | None = getattr(root_to_cut(line.thread), end) if line.limits else None
        return found

    return of


def _wire(of_thread: Callable[[Thread], float]) -> Callable[[Line], Cell]:
    """A wire of the thread; none measures an internal one."""
    return lambda line: None if line.thread.side == "internal" else of_thread(line.thread)


def _place(which: str) -> Callable[[Line], Cell]:
    """Along a taper thread: its gauge plane, and between which places the single wire stands in a full groove."""

    def of(line: Line) -> Cell:
        if line.system.gauging is None:
            return None
        found, half = line.system.gauging(line.thread), line.thread.pitch / 2
        places = {"plane": found.gauge.distance, "first": found.full_from + half, "last": found.full_to - half}
        return places[which]

    return of


COLUMNS = (
    Column("callout", "thread", lambda line: line.callout, 24),
    Column("system", "system", lambda line: standards.KEYS.index(line.system.key) + 1),
    Column("unit", "unit", lambda line: line.thread.unit),
    Column("side", "side", lambda line: line.thread.side or None),
    Column("pitch", "pitch", lambda line: line.thread.pitch),
    *(Column(f"{which}_basic", f"{which} basic", _basic(which)) for which in Basic._fields),
    *(
        Column(f"{which}_{end}", f"{which} {end}", _size(which, end))
        for which in Basic._fields
        for end in ("max", "min")
    ),
    *(Column(f"{which}_reference", f"{which}, reference only", _reference(which)) for which in Basic._fields),
    Column("allowance", "allowance", lambda line: line.limits and line.limits.allowance),
    Column("tolerance", "tolerance", _tolerance),
    Column("root_nearest", "root not past", _root("nearest")),
    Column("root_farthest", "root at most to", _root("farthest")),
    Column("mating_edge", "edge of mate's crest up", lambda line: line.limits and mating_edge(line.thread)),
    Column("root_tip", "own tip stays up", lambda line: root_shortening(line.thread)),
    Column("wire_over", "wire over", _wire(lambda thread: usable_wires(thread)[0])),
    Column("wire_proud", "wire always proud", _wire(proud_wire)),
    Column("wire_largest", "largest wire", _wire(lambda thread: usable_wires(thread)[1])),
    Column("plane", "gauge plane", _place("plane")),
    Column("place_first", "wire not before", _place("first")),
    Column("place_last", "wire not after", _place("last")),
)
"""What the sheet holds of each thread, lengths in the thread's own unit; an empty cell is a size that nobody sets."""


class Spelling(NamedTuple):
    """A key, the line it finds (from 1), and at how many of its last signs capitals are told from small letters."""

    key: str
    line: int
    told_apart: int | None


class Shared(NamedTuple):
    """What all threads of a system have in common."""

    title: str
    leading: float
    trailing: float
    taper: float
    radius_min: float | None
    radius_max: float | None


class Table(NamedTuple):
    """The sheet's three lists."""

    lines: list[Line]
    spellings: list[Spelling]
    systems: list[Shared]


def table(extra: Iterable[Thread] = ()) -> Table:
    """Every standard thread, and the extra ones."""
    return of_lines(list(_lines(extra)))


def of_lines(lines: list[Line]) -> Table:
    """These threads, and how each is found."""
    return Table(lines, _spellings(lines), [_shared(system) for system in standards.SYSTEMS.values()])


def _lines(extra: Iterable[Thread]) -> Iterator[Line]:
    found = listing(extra)
    shorts = {size.size: size.short for size in found.sizes}
    seen: set[Thread] = set()
    before = ""
    for row in found.rows:
        sizes = [] if row.size == before else [(row.size, "")]  # a size comes first without a class
        for size, name in (*sizes, (row.size, row.name)):
            thread = standards.read(row.callout if name else size)
            if thread not in seen:  # where a class is not written, the size alone is the thread
                seen.add(thread)
                yield _line(thread, shorts[size], name)
        before = row.size


def _line(thread: Thread, short: str | None, name: str) -> Line:
    system = standards.system(thread)
    also = system.with_class(short, name) if short and name else short
    return Line(thread, system, standards.write(thread), also or "", standards.basic(thread), _limits(thread))


def _limits(thread: Thread) -> Limits | None:
    try:
        return standards.limits(thread)
    except CellError:
        return None


def _spellings(lines: list[Line]) -> list[Spelling]:
    """In alphabetical order without regard to capitals, so that 6g and 6G stand side by side."""
    found: dict[str, Spelling] = {}
    by_class: dict[tuple[str, str], int | None] = {}
    for number, line in enumerate(lines, start=1):
        kind = line.system.key, line.thread.thread_class
        if kind not in by_class:
            by_class[kind] = _told_apart(line)
        for text in dict.fromkeys((line.callout, line.short, line.callout.lstrip("#"))):
            if text and _read(text) == line.thread:
                one = found.setdefault(key(text), Spelling(key(text), number, by_class[kind]))
                if one.line != number:
                    raise ValueError(f"{text} and {lines[one.line - 1].callout} have the same key")
    return sorted(found.values(), key=lambda one: (one.key.upper(), one.key))


def _told_apart(line: Line) -> int | None:
    """The signs of the class, where it would be another thread or none in other letters."""
    alike = all(_read(one) == line.thread for one in (line.callout.upper(), line.callout.lower()))
    return None if alike else len(key(line.thread.thread_class))


def _read(text: str) -> Thread | None:
    try:
        return standards.read(text)
    except CellError:
        return None


def _shared(system: System) -> Shared:
    radius_min, radius_max = system.root_radius or (None, None)
    return Shared(
        system.title, system.form.leading, system.form.trailing, system.taper, radius_min, radius_max
    )  # fmt: skip
