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
from sheetfuncs.roots import root_shortening
from sheetfuncs.standards.base import round_half_even

LEAD = "*"
"""Stands for the lead in the callout of several starts."""

STARTS = tuple(sorted({number for system in standards.SYSTEMS.values() for number in system.widening_starts}))
"""Numbers of starts with limits of their own; the last stands for so many and more."""

CHANGES = tuple(f"{what}_{n}" for what in ("wider", "root_lower") for n in STARTS)
"""Names of what so many starts change: the pitch diameter's tolerance, the smallest root."""

BAR = "|"
"""What stands before and behind each class in the text of a size."""

NO_CHANGE = (None,) * len(CHANGES)

Cell = str | float | None
"""What a cell of the sheet holds."""


class Row(NamedTuple):
    """One size and class; the last of the `figures` is a line of the groups, from 1."""

    callout: str
    system: str
    unit: str
    size: str
    name: str
    figures: tuple[Cell, ...]

    @property
    def values(self) -> tuple[Cell, ...]:
        """The cells of the table."""
        return (self.size, self.name, *self.figures)


class SizeLine(NamedTuple):
    """One size: how many rows of the table it has, and what all its classes share.

    `nominal` are the basic diameters, major, pitch, minor, rounded as the standard prints them, the first nothing where
    it is the `diameter`; `classes` is one text, each class between two bars; `short` is how the size is also typed,
    1/4-20 or M20, where that means it alone in its system, `pair` the same where it means it without a system too, and
    `classed` where it does only with a class behind, as in 1/2-12-2A; `root_tip` is how far the smallest tip of the
    standard's own root stays above the sharp bottom; `taper` is where a taper thread is gauged and full, nothing for a
    parallel one.
    """

    size: str
    rows: int
    diameter: float
    pitch: float
    pitch_diameter_basic: float
    lead_callout: str | None
    nominal: tuple[float | None, ...]
    classes: str
    short: str | None
    pair: str | None
    classed: str | None
    root_tip: float | None
    taper: tuple[float | None, ...]


class DiameterLine(NamedTuple):
    """One diameter of a system as it is written, 3/4 or M20: its sizes by first line (from 1) and how many."""

    label: str
    first_size: int
    sizes: int


class PairLine(NamedTuple):
    """A pair of diameter and threads per inch that means no size alone, 1/2-12, and those that it may be, in words."""

    pair: str
    sizes: str


JOINERS = {"-": "dash", " ": "blank"}
"""What stands between the parts of a callout, as a word: a stored text that is a blank alone is lost on opening."""


class SystemLine(NamedTuple):
    """One system: its sizes and diameters by first line (from 1) and how many, and what all its threads share."""

    title: str
    first_size: int
    sizes: int
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


Group = tuple[Cell, ...]
"""Side, sizes for reference, how a size stands, its figures from memory, and its changes in the order of CHANGES."""


class Listing(NamedTuple):
    """The table and the lists beside it."""

    rows: list[Row]
    sizes: list[SizeLine]
    systems: list[SystemLine]
    groups: list[Group]
    diameters: list[DiameterLine]
    pairs: list[PairLine]
    classes: list[tuple[str]]


def listing(extra: Iterable[Thread] = ()) -> Listing:
    """Every standard thread, and the extra ones in their places."""
    found = Listing([], [], [], [], [], [], [])
    groups: dict[Group, int] = {}
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
            before = len(found.rows)
            for name in dict.fromkeys((*system.classes_at(thread), *asked.get(text, ()))):
                found.rows.extend(_row(system, text, name, groups))
            if classes := [row.name for row in found.rows[before:]]:
                found.sizes.append(_size_line(system, text, thread, classes, shorts.get(text)))
        found.diameters.extend(_diameters(found.sizes, first_size))
        counts = len(found.sizes) - first_size + 1, first_diameter, len(found.diameters) - first_diameter + 1
        found.systems.append(_system_line(system, first_size, *counts))
    names: dict[str, None] = dict.fromkeys(row.name for row in found.rows)
    return found._replace(groups=list(groups), pairs=_pairs(found), classes=[(name,) for name in names])


def _by_size(thread: Thread) -> tuple[float, float, str]:
    return thread.diameter, -thread.pitch, thread.series


def _diameters(sizes: list[SizeLine], first: int) -> list[DiameterLine]:
    """The diameters of the sizes from line `first` on; sizes of one diameter stand together."""
    found: list[DiameterLine] = []
    for line, size in enumerate(sizes[first - 1 :], start=first):
        label = diameter_label(size.size)
        if found and found[-1].label == label:
            found[-1] = found[-1]._replace(sizes=found[-1].sizes + 1)
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
        if pair := _pair(size):
            pairs.setdefault(pair, []).append(size)
    return {found[0]: pair for pair, found in pairs.items() if len(found) == 1}


def _pair(size: str) -> str:
    found = re.match(r"(\S+( \d+/\d+)?-[\d.]+( \d/\d)?) [A-Z]", size)
    return found[1] if found else ""


def _pairs(found: Listing) -> list[PairLine]:
    """The pairs that several sizes have and none means, with those sizes.

    A standard whose name no callout leaves out, as UNJ, is named only where fewer than two others are.
    """
    taken = {size.pair for size in found.sizes}
    by_pair: dict[str, dict[str, bool]] = {}
    for system, line in zip(standards.SYSTEMS.values(), found.systems):
        for size in found.sizes[line.first_size - 1 : line.first_size - 1 + line.sizes]:
            if (pair := _pair(size.size)) and pair not in taken:
                by_pair.setdefault(pair, {})[size.size] = bool(system.names)
    lines = []
    for pair, sizes in by_pair.items():
        left_out = [size for size, named in sizes.items() if named]
        *others, last = left_out if len(left_out) > 1 else sizes
        if others:
            lines.append(PairLine(pair, f"{', '.join(others)} or {last}"))
    return lines


@cache
def _meant(short: str) -> str | None:
    """The size that the reader of callouts takes it for where no system is said; 1/2-12 may be UNS or BSW."""
    try:
        return standards.write(standards.read(short).size)
    except CellError:
        return None


def _alone(system: standards.System, stem: str) -> Thread | None:
    try:
        return system.read(stem)
    except CellError:
        return None


def _system_line(
    system: standards.System, first_size: int, sizes: int, first_diameter: int, diameters: int
) -> SystemLine:
    form = system.form
    radius_min, radius_max = system.root_radius or (None, None)
    return SystemLine(
        title=system.title,
        first_size=first_size,
        sizes=sizes,
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


def _size_line(system: standards.System, text: str, thread: Thread, classes: list[str], short: str | None) -> SizeLine:
    lead_callout = system.with_lead(thread, LEAD) if system.with_lead else None
    basic = system.basic(thread)
    major, *others = (round_half_even(size, system.decimals) for size in (basic.major, basic.pitch, basic.minor))
    nominal = (None if major == thread.diameter else major, *others)
    bars, root_tip = BAR.join(("", *classes, "")), root_shortening(thread)
    pair = short if short and _meant(short) == text else None
    with_class = short and system.by_custom and _meant(f"{short}-{classes[0]}") == text
    classed = short if with_class and pair is None else None
    sizes = (thread.diameter, thread.pitch, basic.pitch, lead_callout, nominal)
    return SizeLine(text, len(classes), *sizes, bars, short, pair, classed, root_tip, _along(system, thread))


def _along(system: standards.System, thread: Thread) -> tuple[float | None, ...]:
    """Gauge plane, end of the full and of the formed thread outside; depth by the wrench inside; turns either way."""
    if system.gauging is None:
        return ()
    outside, inside = (system.gauging(thread._replace(side=side)) for side in ("external", "internal"))
    turns = system.gauging(thread).turns
    return outside.gauge.distance, outside.full_to, outside.formed_to, -inside.full_from or None, turns


def _row(system: standards.System, size: str, name: str, groups: dict[Group, int]) -> list[Row]:
    """The row of one size and class; none where the standard does not give that class at this size."""
    found = _figures(system.key, size, name)
    if found is None:
        return []
    group = groups.setdefault(found.group, len(groups) + 1)
    return [Row(found.callout, system.title, system.unit, size, name, (*found.figures, group))]


class Worked(NamedTuple):
    """A row whatever list it stands in."""

    callout: str
    figures: tuple[Cell, ...]
    group: Group


@cache
def _figures(key: str, size: str, name: str) -> Worked | None:
    """The figures of a row: worked once, however many workbooks are built."""
    system = standards.SYSTEMS[key]
    text = system.with_class(size, name)
    try:
        thread = system.read(text)
        if thread is None:
            raise ValueError(f"{system.title} does not read its own {text}")
        found = standards.limits(thread)
    except CellError:
        return None
    sizes = (("major", found.major), ("pitch", found.pitch), ("minor", found.minor))
    reference = ", ".join(f"{which} {end}" for which, size_ in sizes for end in size_.reference.split())
    sharp = found.major.min if thread.side == "internal" else found.minor.max
    figures = (
        *(end for _, size_ in sizes for end in (size_.max, size_.min)),
        None if found.root == sharp else found.root,
        found.allowance or None,
    )
    remembered = ", ".join(origin.figures for origin in system.origins(thread) if origin.memory)
    shared = (thread.side, reference or None, system.standing(thread), remembered or None)
    group = (*shared, *_changes(system, thread, found))
    return Worked(system.write(thread), figures, group)


def _changes(system: standards.System, thread: Thread, single: standards.Limits) -> tuple[float | None, ...]:
    """What each number of starts adds to the pitch diameter's tolerance, then takes off the smallest root; no zero."""
    if not system.widening_starts:
        return NO_CHANGE
    several = [system.limits(thread._replace(starts=number)) for number in STARTS]
    tolerance = _tolerance(single)
    wider = [_tolerance(found) - tolerance for found in several]
    root = single.minor.min
    lower = [0.0 if root is None or found.minor.min is None else root - found.minor.min for found in several]
    return tuple(round(change, system.decimals) or None for change in (*wider, *lower))


def _tolerance(limits: standards.Limits) -> float:
    largest, smallest = limits.pitch.ends
    return largest - smallest
