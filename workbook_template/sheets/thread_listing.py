"""The rows of the sheet Threads: every standard thread with its limits, as the Python functions give them.

What is the same for all threads of a system, or for all classes of a size, stands once in the list of systems or of
sizes, and what repeats (how a size stands, what is from memory, what several starts change) once in a list of groups.
So a row of the table is its limits and little more, and thousands of rows open fast.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from sheetfuncs import CellError, forms, standards
from sheetfuncs.designations import Thread
from sheetfuncs.standards.base import round_half_even

NOT_SET = "–"
"""What stands where the standard sets no such size."""

LEAD = "*"
"""Stands for the lead in the callout of several starts."""

STARTS = tuple(sorted({number for system in standards.SYSTEMS.values() for number in system.widening_starts}))
"""Numbers of starts with limits of their own; the last stands for so many and more."""

CHANGES = tuple(f"{what}_{n}" for what in ("wider", "root_lower") for n in STARTS)
"""Names of what so many starts change: the pitch diameter's tolerance, the smallest root."""

BAR = "|"
"""What stands before and behind each class in the text of a size."""

NO_CHANGE = (0.0,) * len(CHANGES)


class Row(NamedTuple):
    """One size and class; `values` as the table has them, `group` among them a line of the groups, from 1."""

    callout: str
    system: str
    unit: str
    values: tuple


class SizeLine(NamedTuple):
    """One size: its rows of the table by first row (from 1) and count, and what all its classes share.

    `nominal` are the basic diameters, major, pitch, minor, rounded as the standard prints them; `classes` is one text,
    each class between two bars; `short` is how the size is also typed, 1/4-20 or M20, where that means it alone.
    """

    size: str
    first: int
    count: int
    diameter: float
    pitch: float
    pitch_diameter_basic: float
    lead_callout: str | None
    nominal: tuple[float | None, ...]
    classes: str
    short: str | None


class DiameterLine(NamedTuple):
    """One diameter of a system as it is written, 3/4 or M20: its sizes by first line (from 1) and count."""

    label: str
    first: int
    count: int


JOINERS = {"-": "dash", " ": "blank"}
"""What stands between the parts of a callout, as a word: a stored text that is a blank alone is lost on opening."""


class SystemLine(NamedTuple):
    """One system: its sizes and diameters by first line (from 1) and count, and what all its threads share."""

    title: str
    first: int
    count: int
    unit: str
    leading: float
    trailing: float
    joiner: str
    bare_class: str | None
    taper: float
    radius_min: float | None
    radius_max: float | None
    crest_rounding: float
    first_diameter: int
    diameters: int


class Listing(NamedTuple):
    """The table and the lists beside it.

    A group is how a size stands, which of its figures are from memory, and its changes in the order of CHANGES.
    """

    rows: list[Row]
    sizes: list[SizeLine]
    systems: list[SystemLine]
    groups: list[tuple]
    diameters: list[DiameterLine]


def listing(extra: Iterable[Thread] = ()) -> Listing:
    """Every standard thread, and the extra ones in their places."""
    found = Listing([], [], [], [], [])
    groups: dict[tuple, int] = {}
    extra = list(extra)
    for key, system in standards.SYSTEMS.items():
        known = {system.write(thread.size): thread for thread in system.standard_threads()}
        asked: dict[str, list[str]] = {}
        for thread in extra:
            if thread.system == key:
                text = system.write(thread.size)
                known.setdefault(text, thread.size)
                asked.setdefault(text, []).extend(filter(None, [system.class_of(thread)]))
        first_size, first_diameter = len(found.sizes) + 1, len(found.diameters) + 1
        shorts = _shorts(system, list(known))
        for text, thread in sorted(known.items(), key=lambda item: _by_size(item[1])):
            first_row = len(found.rows) + 1
            for name in dict.fromkeys((*system.classes_at(thread), *asked.get(text, ()))):
                found.rows.extend(_row(system, text, name, groups))
            if classes := [row.values[1] for row in found.rows[first_row - 1 :]]:
                found.sizes.append(_size_line(system, text, thread, first_row, classes, shorts.get(text)))
        found.diameters.extend(_diameters(found.sizes, first_size))
        count = len(found.diameters) - first_diameter + 1
        found.systems.append(_system_line(system, first_size, len(found.sizes) - first_size + 1, first_diameter, count))
    return found._replace(groups=list(groups))


def _by_size(thread: Thread) -> tuple[float, float, str]:
    return thread.diameter, -thread.pitch, thread.series


def _diameters(sizes: list[SizeLine], first: int) -> list[DiameterLine]:
    """The diameters of the sizes from line `first` on; sizes of one diameter stand together."""
    found: list[DiameterLine] = []
    for line, size in enumerate(sizes[first - 1 :], start=first):
        label = diameter_label(size.size)
        if found and found[-1].label == label:
            found[-1] = found[-1]._replace(count=found[-1].count + 1)
        else:
            found.append(DiameterLine(label, line, 1))
    return found


def diameter_label(size: str) -> str:
    """The diameter as it stands in a size.

    >>> [diameter_label(size) for size in ("1 1/4-7 UNC", "M20x2.5", "#10-32 UNF", "G 1/4")]
    ['1 1/4', 'M20', '#10', 'G 1/4']
    """
    return re.split("[x-]", size)[0]


def _shorts(system: standards.System, sizes: list[str]) -> dict[str, str]:
    """The sizes that are also typed without their series: inch pairs that one size of the system has, M with coarse.

    Which pitch a lone M20 has, the standard's own reader says.
    """
    if system.key == "iso_metric":
        stems = dict.fromkeys(map(diameter_label, sizes))
        return {system.write(thread): stem for stem in stems if (thread := _alone(system, stem))}
    pairs: dict[str, list[str]] = {}
    for size in sizes:
        if pair := re.match(r"(\S+( \d+/\d+)?-[\d.]+( \d/\d)?) [A-Z]", size):
            pairs.setdefault(pair[1], []).append(size)
    return {found[0]: pair for pair, found in pairs.items() if len(found) == 1}


def _alone(system: standards.System, stem: str) -> Thread | None:
    try:
        return system.read(stem)
    except CellError:
        return None


def _system_line(system: standards.System, first: int, count: int, first_diameter: int, diameters: int) -> SystemLine:
    form = system.form
    radius_min, radius_max = system.root_radius or (None, None)
    return SystemLine(
        title=system.title,
        first=first,
        count=count,
        unit=system.unit,
        leading=form.leading,
        trailing=form.trailing,
        joiner=JOINERS[system.joiner],
        bare_class=system.bare_class or None,
        taper=system.taper,
        radius_min=radius_min,
        radius_max=radius_max,
        crest_rounding=forms.crest_rounding(form),
        first_diameter=first_diameter,
        diameters=diameters,
    )


def _size_line(
    system: standards.System, text: str, thread: Thread, first: int, classes: list[str], short: str | None
) -> SizeLine:
    lead_callout = system.with_lead(thread, LEAD) if system.with_lead else None
    basic = system.basic(thread)
    nominal = tuple(round_half_even(size, system.decimals) for size in (basic.major, basic.pitch, basic.minor))
    bars = BAR.join(("", *classes, ""))
    return SizeLine(
        text, first, len(classes), thread.diameter, thread.pitch, basic.pitch, lead_callout, nominal, bars, short
    )


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
        thread = system.read(system.with_class(size, name))
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
    if not system.widening_starts:
        return NO_CHANGE
    several = [system.limits(thread._replace(starts=number)) for number in STARTS]
    tolerance = single.pitch.max - single.pitch.min
    wider = [found.pitch.max - found.pitch.min - tolerance for found in several]
    lower = [0.0 if found.minor.min is None else single.minor.min - found.minor.min for found in several]
    return tuple(round(change, system.decimals) for change in (*wider, *lower))
