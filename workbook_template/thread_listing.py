"""The rows of the sheet Threads: every standard thread with its limits, as the Python functions give them.

What is the same for all threads of a system, or for all classes of a size, stands once in the list of systems or of
sizes, and what repeats (how a size stands, what is from memory, what several starts change) once in a list of groups.
So a row of the table is its limits and little more, and thousands of rows open fast.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import cache
from typing import NamedTuple

from sheetfuncs import CellError, forms, standards
from sheetfuncs.designations import Thread, plain, write_inch_size

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


LEAD = "*"
"""Stands for the lead in the callout of several starts."""


def _inch_lead(thread: Thread) -> str:
    return f"{write_inch_size(thread.diameter)}-{plain(thread.pitch)}P-{LEAD}L {thread.series}"


AROUND_LEAD: dict[str, Callable[[Thread], str]] = {
    **dict.fromkeys(("unified", "unj", "acme", "stub_acme"), _inch_lead),
    "buttress": lambda t: f"{write_inch_size(t.diameter)}-{plain(t.pitch)}P-{LEAD}L-{t.series}",
    "iso_metric": lambda t: f"M{plain(t.diameter)}xPh{LEAD}P{plain(t.pitch)}",
    "mj": lambda t: f"MJ{plain(t.diameter)}xPh{LEAD}P{plain(t.pitch)}",
    "iso_trapezoidal": lambda t: f"Tr{plain(t.diameter)}x{LEAD}(P{plain(t.pitch)})",
}
"""The callout of several starts without its class; the other systems have one start."""

CHANGES = tuple(f"{what}_{n}" for what in ("wider", "root_lower") for n in STARTS)
"""Names of what so many starts change: the pitch diameter's tolerance, the smallest root."""

NO_CHANGE = (0.0,) * len(CHANGES)


class Row(NamedTuple):
    """One size and class; `values` as the table has them, `group` among them a line of the groups, from 1."""

    callout: str
    system: str
    unit: str
    values: tuple


class SizeLine(NamedTuple):
    """One size: its rows of the table by first row (from 1) and count, and what all its classes share."""

    size: str
    first: int
    count: int
    diameter: float
    pitch: float
    pitch_basic: float
    lead_callout: str | None


class SystemLine(NamedTuple):
    """One system: its sizes by first line (from 1) and count, and what all its threads share."""

    title: str
    first: int
    count: int
    unit: str
    leading: float
    trailing: float
    joiner: str
    bare_class: str | None
    left_mark: str
    taper: float
    radius_min: float | None
    radius_max: float | None
    crest_rounding: float


class Listing(NamedTuple):
    """The table and the lists beside it.

    A group is how a size stands, which of its figures are from memory, and its changes in the order of CHANGES.
    """

    rows: list[Row]
    sizes: list[SizeLine]
    systems: list[SystemLine]
    groups: list[tuple]


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
    return size if _bare(key, name) else f"{size}{_joiner(key)}{name}"


def _bare(key: str, name: str) -> bool:
    """Whether a class is written as nothing."""
    return name in BARE or (key == INTERNAL_IS_BARE and name == "internal")


def _joiner(key: str) -> str:
    """What stands between the parts of a callout."""
    return " " if key in BY_WORDS else "-"


def listing(extra: Iterable[Thread] = ()) -> Listing:
    """Every standard thread, and the extra ones in their places."""
    found = Listing([], [], [], [])
    groups: dict[tuple, int] = {}
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
        first_size = len(found.sizes) + 1
        for text, thread in sorted(known.items(), key=lambda item: _by_size(item[1])):
            first_row = len(found.rows) + 1
            for name in dict.fromkeys((*CLASSES[key], *asked.get(text, ()))):
                if thread.series in ONLY_FOR_SERIES.get(name, (thread.series,)) or name in asked.get(text, ()):
                    found.rows.extend(_row(system, text, name, groups))
            if len(found.rows) >= first_row:
                found.sizes.append(_size_line(system, text, thread, first_row, len(found.rows) - first_row + 1))
        found.systems.append(_system_line(system, first_size, len(found.sizes) - first_size + 1))
    return found._replace(groups=list(groups))


def _by_size(thread: Thread) -> tuple[float, float, str]:
    return thread.diameter, -thread.pitch, thread.series


def _system_line(system: standards.System, first: int, count: int) -> SystemLine:
    form = system.form
    radius_min, radius_max = system.root_radius or (None, None)
    return SystemLine(
        title=system.title,
        first=first,
        count=count,
        unit=system.unit,
        leading=form.leading,
        trailing=form.trailing,
        joiner=_joiner(system.key),
        bare_class=next((name for name in CLASSES[system.key] if _bare(system.key, name)), None),
        left_mark=f"{_joiner(system.key)}LH",
        taper=system.taper,
        radius_min=radius_min,
        radius_max=radius_max,
        crest_rounding=forms.crest_rounding(form),
    )


def _size_line(system: standards.System, text: str, thread: Thread, first: int, count: int) -> SizeLine:
    lead_callout = AROUND_LEAD[system.key](thread) if system.key in AROUND_LEAD else None
    return SizeLine(text, first, count, thread.diameter, thread.pitch, system.basic(thread).pitch, lead_callout)


def _row(system: standards.System, size: str, name: str, groups: dict[tuple, int]) -> list[Row]:
    """The row of one size and class; none where the standard does not give that class at this size."""
    found = _figures(system.key, size, name)
    if found is None:
        return []
    callout, values, group = found
    return [Row(callout, system.title, system.unit, (*values, groups.setdefault(group, len(groups) + 1)))]


@cache
def _figures(key: str, size: str, name: str) -> tuple[str, tuple, tuple] | None:
    """Callout, values and group of a row: worked once, however many workbooks are built."""
    system = standards.SYSTEMS[key]
    try:
        thread = system.read(with_class(key, size, name))
        found = standards.limits(thread)
    except CellError:
        return None
    sizes = (("major", found.major), ("pitch", found.pitch), ("minor", found.minor))
    reference = ", ".join(f"{which} {end}" for which, size_ in sizes for end in size_.reference.split())
    values = (
        size,
        name,
        thread.side,
        *(NOT_SET if end is None else end for _, size_ in sizes for end in (size_.max, size_.min)),
        reference or None,
        found.root,
        found.allowance or None,
    )
    remembered = ", ".join(origin.figures for origin in system.origins(thread) if origin.memory)
    return system.write(thread), values, (system.standing(thread), remembered or None, *_changes(system, thread, found))


def _changes(system: standards.System, thread: Thread, single: standards.Limits) -> tuple[float, ...]:
    """What each number of starts adds to the pitch diameter's tolerance, then what it takes off the smallest root."""
    if system.key not in AROUND_LEAD:
        return NO_CHANGE
    several = [system.limits(thread._replace(starts=n)) for n in STARTS[-1:]]
    if several[0][:3] == single[:3]:  # the most starts change nothing, so fewer do not
        return NO_CHANGE
    several = [system.limits(thread._replace(starts=n)) for n in STARTS[:-1]] + several
    tolerance = single.pitch.max - single.pitch.min
    wider = [found.pitch.max - found.pitch.min - tolerance for found in several]
    lower = [0.0 if found.minor.min is None else single.minor.min - found.minor.min for found in several]
    return tuple(round(change, system.decimals) for change in (*wider, *lower))
