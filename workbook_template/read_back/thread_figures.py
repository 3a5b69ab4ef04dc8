"""The thread of a filled workbook and its figures, from the inputs of the sheet Job through the functions."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, NamedTuple

from sheetfuncs import CellError, evaluate, standards, wires
from sheetfuncs.designations import Thread
from sheetfuncs.standards import Basic
from sheetfuncs.standards.base import round_half_even
from sheetfuncs.units import convert_length
from workbook_template.read_back import size_typed

CALLED = ("thread_system", "thread_diameter", "thread_size", "thread_class", "hand", "starts", "unit")
COATING = ("thinnest_coating", "thickest_coating")
INPUTS = (*CALLED, *COATING)
SYSTEMS = {system.title.lower(): system for system in standards.SYSTEMS.values()}
DECIMALS = {"in": 4, "mm": 3}
LEFT_TO_COATING = ("iso_metric", "unified")
"""Threads whose allowance is there for a coating too: their standards say so (ISO 965-1; ASME B1.1-2003, section 7)."""


class NoNumber(NamedTuple):
    """Where the functions refuse, the sheet must show no number."""


NO_NUMBER = NoNumber()


class Along(NamedTuple):
    """A taper thread along its axis, lengths in the working unit: how its sizes depend on the place.

    Places are counted from the small end outside, and from the face, where the gauge plane is, inside. `first` and
    `last` bound the place of the single wire, `deepest` that of other readings; `turns` is how far the gauge may be
    off.
    """

    taper: float
    gauge: float
    inside: bool
    first: float
    last: float
    deepest: float
    turns: float

    def lift(self, place: float) -> float:
        """What brings a diameter at a place to the gauge plane."""
        return self.taper * (place if self.inside else self.gauge - place)


class Limits(NamedTuple):
    """Limits of the pitch diameter and of the crest, by the names that registers and certificates have for them."""

    pitch_max: float
    pitch_min: float
    crest_max: float
    crest_min: float

    @property
    def tolerance(self) -> float:
        """That of the pitch diameter."""
        return self.pitch_max - self.pitch_min


class Figures(NamedTuple):
    """A thread with its limits in the working unit; its crest is the bore of an inside one.

    A root may have an open end, but every standard sets both ends of the pitch diameter and of the crest. The finished
    part is judged by `limits`, which are those of its class unless a coating may bring it `to_basic` size.
    """

    thread: Thread
    callout: str
    unit: str
    decimals: int
    pitch: float
    pitch_diameter_basic: float
    limits: Limits
    has_wires: bool
    to_basic: bool
    along: Along | None = None


def number(value: Any) -> float | None:
    """A value where it is a number; TRUE is none."""
    return float(value) if isinstance(value, (int, float)) and not isinstance(value, bool) else None


def answer(name: str, *cells: Any) -> Any:
    """What a function gives; NO_NUMBER where it refuses."""
    try:
        found = evaluate(name, *cells)
    except CellError:
        return NO_NUMBER
    return NO_NUMBER if found == "" else found


def thread_of(inputs: Mapping[str, Any]) -> Thread | None:
    """The thread that the sheet Job has chosen; None where something is still missing or wrong."""
    system, diameter, size, name, hand, starts, unit = (inputs.get(one) for one in CALLED)
    count = number(starts)
    if unit not in DECIMALS or hand not in ("right", "left") or count is None or not 1 <= count <= 12 or count % 1:
        return None
    return _thread(
        str(system or "").lower(), str(diameter or ""), str(size or ""), str(name or ""), hand == "left", int(count)
    )


@lru_cache(maxsize=4096)
def _thread(title: str, diameter: str, typed: str, name: str, left_hand: bool, starts: int) -> Thread | None:
    system = SYSTEMS.get(title)
    if system is None or not typed or not name:
        return None
    size = size_typed.listed(system, typed, name)
    if diameter.strip() and diameter.strip().lower() != re.split("[x-]", size)[0].lower():
        return None
    try:
        thread = system.read(system.with_class(size, name))
    except CellError:
        return None
    if thread is None or thread.system != system.key or system.write(thread.size).lower() != size.lower():
        return None
    return thread._replace(left_hand=left_hand, starts=starts)


def figures(inputs: Mapping[str, Any]) -> Figures | None:
    """The figures of the chosen thread; None where there is none."""
    thread = thread_of(inputs)
    return None if thread is None else _figures(thread, inputs["unit"], is_coated(inputs))


def is_coated(inputs: Mapping[str, Any]) -> bool:
    """Whether the sheet Job has a coating that can be: both ends of its thickness, the thinner one first."""
    thinnest, thickest = (number(inputs.get(one)) for one in COATING)
    return thinnest is not None and thickest is not None and 0 <= thinnest <= thickest and thickest > 0


@lru_cache(maxsize=4096)
def _figures(thread: Thread, unit: str, coated: bool) -> Figures | None:
    try:
        found = standards.limits(thread)
        basic = standards.basic(thread)
    except CellError:
        return None

    internal = thread.side == "internal"
    crest = found.minor if internal else found.major
    limits = [end for size in (found.pitch, crest) for end in size.ends]
    # without an allowance a limit is off basic size by its rounding alone
    to_basic = coated and found.allowance > 0 and thread.system in LEFT_TO_COATING
    if to_basic:
        limits = _most_metal_basic(limits, thread, basic)
    return Figures(
        thread=thread,
        callout=standards.write(thread),
        unit=unit,
        decimals=DECIMALS[unit],
        pitch=convert_length(thread.pitch, thread.unit, unit),
        pitch_diameter_basic=convert_length(basic.pitch, thread.unit, unit),
        limits=Limits(*(convert_length(end, thread.unit, unit) for end in limits)),
        has_wires=not internal,
        to_basic=to_basic,
        along=_along(thread, unit),
    )


def _most_metal_basic(of_class: list[float], thread: Thread, basic: Basic) -> list[float]:
    """Limits of a coated part: the coating may take up the whole allowance, so that basic size is most metal.

    ASME B1.1-2003, section 7, and ISO 965-1 say so. A limit that lies past basic size stays.
    """
    digits = standards.system(thread).decimals
    internal = thread.side == "internal"
    pitch, crest = (round_half_even(one, digits) for one in (basic.pitch, basic.minor if internal else basic.major))
    pitch_max, pitch_min, crest_max, crest_min = of_class
    if internal:
        return [pitch_max, min(pitch, pitch_min), crest_max, min(crest, crest_min)]
    return [max(pitch, pitch_max), pitch_min, max(crest, crest_max), crest_min]


def _along(thread: Thread, unit: str) -> Along | None:
    system = standards.system(thread)
    if system.gauging is None:
        return None
    outer, inner = (system.gauging(thread._replace(side=side)) for side in ("external", "internal"))
    inside = thread.side == "internal"
    gauge, pitch = outer.gauge.distance, thread.pitch
    deepest = gauge - inner.full_from if inside else outer.full_to
    ends = (0.0, deepest) if inside else (pitch / 2, deepest - pitch / 2)
    gauge, first, last, deepest = (convert_length(one, thread.unit, unit) for one in (gauge, *ends, deepest))
    return Along(system.taper, gauge, inside, first, last, deepest, system.gauging(thread).turns)


@lru_cache(maxsize=65536)
def over_wires(known: Figures, wire: float, pitch_diameter: float) -> float | None:
    """Reading over wires at a pitch diameter, with the lead angle in it; None where wire or thread allow none.

    Between unlike flanks and on a taper, there at the gauge plane, only the handbook's rule is known, without the lead
    angle.
    """
    if not known.has_wires:
        return None
    thread = known.thread
    form = standards.system(thread).form
    method = "exact" if form.leading == form.trailing and known.along is None else "handbook"
    own_wire, own_size = (convert_length(one, known.unit, thread.unit) for one in (wire, pitch_diameter))
    try:
        wires.check_wire(thread, own_wire)
        reading = wires.reading_at(thread, own_wire, own_size, method)
    except CellError:
        return None
    return convert_length(reading, thread.unit, known.unit)


def wire_constant(known: Figures, wire: float, reading: float) -> float | None:
    """Reading less pitch diameter with that wire, working unit; None where wire or thread allow none.

    It is taken on the straight line through the readings at the two limits.
    """
    limits = known.limits
    highest, lowest = over_wires(known, wire, limits.pitch_max), over_wires(known, wire, limits.pitch_min)
    if highest is None or lowest is None:
        return None
    return reading - limits.pitch_min - (reading - lowest) * limits.tolerance / (highest - lowest)
