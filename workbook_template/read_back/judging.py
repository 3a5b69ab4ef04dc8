"""Judges the rows of a log again, from what was typed alone. The rule is written at the top of `sheets.log`.

Nothing here is translated from a formula of the sheet: the words of the rule were programmed a second time.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import ROUND_HALF_UP, Decimal
from statistics import fmean
from typing import Any, NamedTuple

from sheetfuncs.inspection import MOST_EXPANSION
from workbook_template.read_back import equipment, gauge_fit
from workbook_template.read_back.budget_figures import of_another_unit
from workbook_template.read_back.columns import READINGS, Row
from workbook_template.read_back.equipment import LENGTHS, Equipment, Item, day_of, key, label
from workbook_template.read_back.places import (
    MOST,
    SIZES,
    N,
    along_of,
    any_number,
    brought_of,
    gauge_says,
    is_number,
    lifts_of,
    shape,
)
from workbook_template.read_back.thread_figures import Figures, Limits, number, wire_constant

DEGREES = (0.0, 50.0)
"""What is believed of a temperature, degrees C."""

SETTINGS = (
    "decision_rule", "uncertainty_unit", "expanded_uncertainty", "crest_uncertainty", "expansion",
    "instrument_expansion", "room_temperature", "wire_in_use", "wire_set",
)  # fmt: skip
"""Inputs beside those of the thread and the instruments."""

WORST_FIRST = ("high", "low", "check entry", "check instrument", "undecided")
"""Of the three results of a row the first of these is its worst."""


class Judged(NamedTuple):
    """The results of one row; None for no number."""

    pitch_diameter: float | None
    taper: float | None
    out_of_round: float | None
    pitch_diameter_result: str
    crest_result: str
    ring_result: str
    worst: str  # the row's result, all together
    constant: float | None  # reading less pitch diameter, as it was used
    wires: str  # number of the set whose wires were used
    wire: float | None
    again: bool = False  # the part stands in an earlier row, and no reason is given: the row is not counted
    instrument_fault: str = ""  # why the instrument can't have measured that, whatever the day
    gauge_fault: str = ""


class Size(NamedTuple):
    """A size at 20 degrees C that can be judged, with its limits."""

    value: float
    highest: float
    lowest: float
    decimals: int
    offset: float = 0.0  # reading less size: the sheet shows a limit with that added


class Job(NamedTuple):
    """What all rows of a log are judged by."""

    thread: Figures | None
    equipment: Equipment
    wire_set: str
    wire_used: float | None
    wire_differs: bool
    rule: str
    uncertainty: float | None
    crest_uncertainty: float | None
    expansion: float
    instrument_factor: float


def job(inputs: Mapping[str, Any], thread: Figures | None, known: Equipment, budget: Any = None) -> Job:
    """Settle what the rows are judged by; `budget` is the expanded uncertainty of the sheet Uncertainty."""
    own, crest = inputs.get("expanded_uncertainty"), inputs.get("crest_uncertainty")
    uncertainty = _believed(number(budget if own is None else own), *LENGTHS)
    crest_uncertainty = uncertainty if crest is None else _believed(number(crest), *LENGTHS)
    if of_another_unit(inputs, thread):
        uncertainty = crest_uncertainty = None
    instrument = _expansion(inputs.get("instrument_expansion"))
    room = _believed(number(inputs.get("room_temperature")), *DEGREES)
    part = _expansion(inputs.get("expansion"))
    return Job(
        thread=thread,
        equipment=known,
        wire_set=_listed(inputs.get("wire_set"), known.wires),
        wire_used=equipment.wire_used(inputs, known),
        wire_differs=equipment.wire_differs(inputs, known),
        rule="guard" if key(inputs.get("decision_rule")) == "guard" else "simple",
        uncertainty=uncertainty,
        crest_uncertainty=crest_uncertainty,
        expansion=part,
        instrument_factor=1 + instrument * (room - 20) if room is not None and part else 1.0,
    )


def _listed(name: Any, items: Mapping[str, Item]) -> str:
    """A number as the sheet Instruments spells it; as it was typed where it is not there."""
    found = items.get(key(name))
    return label(name) if found is None else label(found.id)


def _believed(value: float | None, least: float, most: float) -> float | None:
    return value if value is not None and least <= value <= most else None


def _expansion(value: Any) -> float:
    found = number(value)
    return found if found is not None and 0 < found <= MOST_EXPANSION else 0.0


def judge(rows: Iterable[Row], known: Job) -> list[Judged]:
    """The results of all rows in use, in their order."""
    rows = list(rows)
    corrected_later: set[str] = set()
    found = []
    for row in reversed(rows):
        serial = key(row.inputs.get("serial"))
        found.append(_judge(row.inputs, known, bool(serial) and serial in corrected_later))
        if row.inputs.get("why") is not None:
            corrected_later.add(serial)
    return _repeated(rows, found[::-1])


def _repeated(rows: list[Row], found: list[Judged]) -> list[Judged]:
    """The same, with the rows marked whose part was logged before."""
    seen: set[str] = set()
    marked = []
    for row, one in zip(rows, found):
        part = key(row.inputs.get("serial"))
        again = (
            bool(part) and part in seen and row.inputs.get("why") is None and one.pitch_diameter_result != "replaced"
        )
        marked.append(one._replace(again=again))
        seen.add(part)
    return marked


def _spaced(serial: Any) -> bool:
    """Whether a part number begins or ends with a blank, or has two together, or begins with an apostrophe."""
    text = key(serial)
    return text.startswith("'") or text != " ".join(word for word in text.split(" ") if word)


def _judge(given: dict[str, Any], known: Job, replaced: bool) -> Judged:
    readings = {name: given[name] for name in READINGS if name in given}
    sizes = {name: given[name] for name in SIZES if name in given}
    wires, wire, constant = _wires(given, readings, known) if any_number(readings) else ("", None, None)
    unlisted = given.get("wires") is not None and key(given["wires"]) not in known.equipment.wires
    factor = _factor(given.get("temperature"), known)
    day, spaced = day_of(given.get("when")), _spaced(given.get("serial"))
    lifts = lifts_of(given, readings, along_of(known.thread))
    pitch = _pitch(sizes, readings, unlisted, constant, factor, lifts, known.thread)
    crest = _crest(given.get("crest"), factor, lifts, known.thread)
    instrument = known.equipment.instruments.get(key(given.get("instrument")))
    unable = _unable(instrument, given.get("crest"), sizes, pitch == "check entry", crest == "check entry")
    instrument_counts = _counts(instrument, day) and not unable
    of_setup = given.get("wires") is None and known.wire_differs  # the set is named, but another wire was typed
    listed = known.equipment.wires.get(key(wires))
    wires_count = not any_number(readings) or (_counts(listed, day) and not of_setup)
    pitch_result = _result(pitch, spaced, instrument_counts and wires_count, known.rule, known.uncertainty)
    crest_result = _result(crest, spaced, instrument_counts, known.rule, known.crest_uncertainty)
    taper, out_of_round = shape(readings, lifts)
    gauged = given.get("ring") is not None or given.get("gauge_turns") is not None
    ring = "" if not gauged else "check entry" if spaced else _ring(given, day, known)
    settled = pitch_result == "in" or (ring == "in" and _both_gauges(given, known))
    return Judged(
        pitch_diameter=pitch.value if isinstance(pitch, Size) and not (spaced or replaced) else None,
        taper=taper,
        out_of_round=out_of_round,
        pitch_diameter_result="replaced" if replaced else pitch_result,
        crest_result="replaced" if replaced else crest_result,
        ring_result="replaced" if replaced else ring,
        worst="replaced" if replaced else _worst((pitch_result, crest_result, ring), settled),
        constant=constant,
        wires=wires,
        wire=wire,
        instrument_fault=unable,
        gauge_fault=_gauge_fault(given, known),
    )


def _worst(results: tuple[str, ...], settled: bool) -> str:
    """A row's result: what is out before what is to be checked, and that before what is in.

    >>> _worst(("in", "undecided", "high"), True), _worst(("not measured", "in", ""), False)
    ('high', 'not measured')
    """
    return next((word for word in WORST_FIRST if word in results), "in" if settled else "not measured")


def _result(size: Size | str, spaced: bool, counts: bool, rule: str, uncertainty: float | None) -> str:
    """The word for a size by the decision rule, or the one that says why there is no size."""
    if size == "not measured":
        return size
    if spaced:
        return "check entry"
    if isinstance(size, str):
        return size
    if not counts:
        return "check instrument"
    return decide(size.value, size.highest, size.lowest, rule, uncertainty, size.decimals, size.offset)


def _unable(
    item: Item | None, crest: Any, sizes: Mapping[str, Any], pitch_unreadable: bool, crest_unreadable: bool
) -> str:
    """Why an instrument can't have measured these sizes: it measures none, or not one of that size."""
    if item is None or (not sizes and crest is None):
        return ""
    if none := gauge_fit.no_size(item.kind):
        return none
    measured, unreadable = (sizes.values(), pitch_unreadable) if any_number(sizes) else ([crest], crest_unreadable)
    asked = [] if unreadable else [value for value in map(number, measured) if value is not None]
    outside = any(value < item.least - N or value > item.most + N for value in asked)
    return "was used outside its range" if outside else ""


def _gauge_fault(given: Mapping[str, Any], known: Job) -> str:
    """Why the gauge can't have said that of this thread; empty where what was said is no word of its gauges."""
    item, thread = known.equipment.instruments.get(key(given.get("gauge"))), known.thread
    if item is None or not gauge_says(given, thread):
        return ""
    said = key(given.get("ring")) if along_of(thread) is None else "pass"
    if thread is None:
        return gauge_fit.why_not(item.kind, item.marking, said, None, "", False)
    return gauge_fit.why_not(item.kind, item.marking, said, thread.thread, thread.callout, thread.to_basic)


def _is_size(value: Any) -> bool:
    found = number(value)
    return found is not None and 0 < found <= MOST


def _wires(given: Mapping[str, Any], readings: Mapping[str, Any], known: Job) -> tuple[str, float | None, float | None]:
    """The set, the wire and the constant of a row, at the mean of its readings."""
    own = given.get("wires")
    if own is None:
        name, wire = known.wire_set, known.wire_used
    else:
        found = known.equipment.wires.get(key(own))
        name, wire = (label(own), None) if found is None else (label(found.id), found.mean)
    if wire is None or known.thread is None:
        return name, wire, None
    return name, wire, wire_constant(known.thread, wire, fmean(filter(is_number, readings.values())))


def _factor(temperature: Any, known: Job) -> float | None:
    """What brings a size to 20 degrees C; None for a temperature that is not believed."""
    value = 20.0 if temperature is None else _believed(number(temperature), *DEGREES)
    if value is None:
        return None
    return known.instrument_factor / (1 + known.expansion * (value - 20))


def _counts(item: Item | None, day: int | None) -> bool:
    """Whether something counted on a day; without a day nobody can say so."""
    return item is not None and day is not None and item.counts(day)


def _pitch(
    sizes: Mapping[str, Any],
    readings: Mapping[str, Any],
    unlisted: bool,
    constant: float | None,
    factor: float | None,
    lifts: list[float | None],
    thread: Figures | None,
) -> Size | str:
    """The pitch diameter that decides: the worst violation, or the one nearest to a limit; a word where there is none.

    A limit counts as in as it is shown: over wires, or directly where that size was measured so.
    """
    if not sizes:
        return "not measured"
    if thread is None or factor is None or not all(map(_is_size, sizes.values())):
        return "check entry"
    lift, limits = lifts[0], thread.limits
    if (readings and not thread.has_wires) or lift is None or None in lifts:
        return "check entry"
    if readings and constant is None:
        return "check instrument" if unlisted else "check entry"
    above = constant if readings and constant is not None else 0.0
    brought = list(brought_of(readings, lifts).values())
    if _are_pitch_diameters(brought, above, limits):
        return "check entry"
    over_wires = [value - above for value in brought]
    directly = [sizes["direct"] + lift] if "direct" in sizes else []
    found = [*over_wires, *directly]
    low, high = min(found) * factor, max(found) * factor
    if high - thread.pitch_diameter_basic > 2 * thread.pitch or thread.pitch_diameter_basic - low > 2 * thread.pitch:
        return "check entry"
    if over_wires and directly:
        allowed = limits.tolerance / 10
        if not min(over_wires) - allowed <= directly[0] <= max(over_wires) + allowed:
            return "check entry"
    value = high if limits.pitch_max - high <= low - limits.pitch_min else low
    if directly and value == directly[0] * factor:
        above = 0.0
    return Size(value, limits.pitch_max, limits.pitch_min, thread.decimals, above - lift)


def _are_pitch_diameters(readings: list[float], constant: float, limits: Limits) -> bool:
    """Whether pitch diameters were typed as readings, which are the constant more."""
    highest, lowest = limits.pitch_max + limits.tolerance, limits.pitch_min - limits.tolerance
    return constant > 3 * limits.tolerance and all(lowest <= value <= highest for value in readings)


def rounded(value: float, decimals: int) -> float:
    """Decimal rounding of what a spreadsheet shows, halves away from zero.

    >>> rounded(0.76205, 4), rounded(-2.5, 0)
    (0.7621, -3.0)
    """
    step = Decimal(1).scaleb(-decimals)
    return float(Decimal(f"{value:.15g}").quantize(step, ROUND_HALF_UP))


def decide(
    value: float,
    highest: float,
    lowest: float,
    rule: str,
    uncertainty: float | None,
    decimals: int,
    offset: float = 0.0,
) -> str:
    """in, high, low or undecided.

    >>> decide(0.70793, 0.7079, 0.7029, "simple", None, 4), decide(0.7079, 0.7079, 0.7029, "guard", 0.0002, 4)
    ('high', 'undecided')
    """
    if rule == "simple":
        if value > max(highest, rounded(highest + offset, decimals) - offset) + N:
            return "high"
        return "low" if value < min(lowest, rounded(lowest + offset, decimals) - offset) - N else "in"
    if uncertainty is None:
        return "undecided"
    if value > highest + uncertainty + N:
        return "high"
    if value < lowest - uncertainty - N:
        return "low"
    inside = lowest + uncertainty - N <= value <= highest - uncertainty + N
    return "in" if inside else "undecided"


def _crest(crest: Any, factor: float | None, lifts: list[float | None], thread: Figures | None) -> Size | str:
    """The crest diameter; a word where there is none that can be judged."""
    if crest is None:
        return "not measured"
    if not _is_size(crest) or factor is None or thread is None:
        return "check entry"
    lift, limits = lifts[0], thread.limits
    if lift is None or None in lifts:
        return "check entry"
    if abs(crest + lift - (limits.crest_max + limits.crest_min) / 2) > 2 * thread.pitch:
        return "check entry"
    return Size((crest + lift) * factor, limits.crest_max, limits.crest_min, thread.decimals, -lift)


def _ring(given: Mapping[str, Any], day: int | None, known: Job) -> str:
    word = gauge_says(given, known.thread)
    if not word:
        return "check entry"
    if not _counts(known.equipment.instruments.get(key(given.get("gauge"))), day) or _gauge_fault(given, known):
        return "check instrument"
    return word


def _both_gauges(given: Mapping[str, Any], known: Job) -> bool:
    """Whether the gauge that is named passes a part by itself: it is a NOT GO too, or the thread a taper."""
    item, thread = known.equipment.instruments.get(key(given.get("gauge"))), known.thread
    return item is not None and thread is not None and gauge_fit.settles(item.kind, thread.thread)
