"""What was typed in a row of a log, brought to one place: readings of a taper thread, and what its gauges say.

The words of the rule at the top of `workbook_template.sheets.log`, programmed a second time.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from workbook_template.read_back.columns import READINGS
from workbook_template.read_back.equipment import key
from workbook_template.read_back.thread_figures import Along, Figures, number

N = 1e-7
"""A size on its limit counts as in, whatever the last bits of the arithmetic say."""

MOST = 1e5
"""A size that is larger is none."""

SIZES = (*READINGS, "direct")
PLACES = ("place", "place_2", "place_3")
PLACE_BITS = 1e-6
STATIONS = (READINGS[0:2], READINGS[2:4], READINGS[4:6])
RING = {
    "pass": ("in", "in"),
    "go fails": ("high", "low"),
    "not go enters": ("low", "high"),
}
"""What the words of a gauge mean on an outside and on an inside thread."""

RING_OF_TAPER = {"pass": "in", "too large": "high", "too small": "low"}
"""What they mean on a taper thread."""
MOST_TURNS = 20


def any_number(readings: Mapping[str, Any]) -> bool:
    """Whether there is a number among the readings: only then the wires matter."""
    return any(map(is_number, readings.values()))


def is_number(value: Any) -> bool:
    return number(value) is not None


def along_of(thread: Figures | None) -> Along | None:
    """A taper thread along its axis; None for another."""
    return None if thread is None else thread.along


def lifts_of(given: Mapping[str, Any], readings: Mapping[str, Any], along: Along | None) -> list[float | None]:
    """What brings a diameter from the place of each station to the gauge plane of a taper thread; None for no place.

    Nothing moves on a parallel thread. The place of the first station is that of the other sizes.
    """
    if along is None:
        return [0.0, 0.0, 0.0]
    over_wires = any_number(readings)
    least, most = (along.first, along.last) if over_wires else (0.0, along.deepest)
    found: list[float | None] = []
    for name in PLACES:
        place = number(given.get(name))
        if given.get(name) in (None, "") and found:
            found.append(found[0])
        elif place is not None and least - PLACE_BITS <= place <= most + PLACE_BITS:
            found.append(along.lift(place))
        else:
            found.append(None)
    return found


def brought_of(readings: Mapping[str, Any], lifts: list[float | None]) -> dict[str, Any]:
    """The readings, each brought to the gauge plane of a taper thread; as they are where one is no number."""
    if None in lifts or not all(map(is_number, readings.values())):
        return dict(readings)
    return {name: readings[name] + lift for names, lift in zip(STATIONS, lifts) for name in names if name in readings}


def gauge_says(given: Mapping[str, Any], thread: Figures | None) -> str:
    """in, high or low by word and turns of a gauge; empty where the thread's gauges can't say that."""
    said, turns = given.get("ring"), given.get("gauge_turns")
    along = along_of(thread)
    if along is None:
        words = RING.get(key(said))
        internal = thread is not None and thread.thread.side == "internal"
        return "" if words is None or turns is not None else words[1] if internal else words[0]
    by_word = RING_OF_TAPER.get(key(said), "")
    if turns is None:
        return by_word
    off = number(turns)
    if off is None or abs(off) > MOST_TURNS:
        return ""
    by_turns = "high" if off > along.turns + N else "low" if off < -along.turns - N else "in"
    return by_turns if said is None or by_word == by_turns else ""


def shape(readings: Mapping[str, Any], lifts: list[float | None]) -> tuple[float | None, float | None]:
    """Taper and out of round; None where there is nothing to compare, or a reading is no number or no size."""
    if not all(is_number(value) and abs(value) <= MOST for value in readings.values()):
        return None, None
    stations = [[readings[name] for name in names if name in readings] for names in STATIONS]
    means = [sum(values) / len(values) + (lift or 0.0) for values, lift in zip(stations, lifts) if values]
    taper = max(means) - min(means) if len(means) > 1 and None not in lifts else None
    pairs = [abs(values[0] - values[1]) for values in stations if len(values) == 2]
    return taper, max(pairs) if pairs else None
