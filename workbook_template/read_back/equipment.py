"""Instruments and wire sets of a filled workbook: from which day until which day their readings count."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from math import floor, inf
from typing import Any, NamedTuple

from sheetfuncs.units import MM_PER_INCH
from workbook_template.read_back.thread_figures import number
from workbook_template.sheets.inputs import LEAST, MOST_LENGTH
from workbook_template.trade.days import FIRST_DAY, LAST_DAY, NO_DAY
from workbook_template.trade.equipment import MATCH_LIMITS, MATCH_NOISE, MOST_WIRE, NO_DUE_DATE, UNFIT, UNMATCHED

LENGTHS = float(LEAST), float(MOST_LENGTH)
"""What is believed of a length that is typed, working unit."""

NEVER = -1
"""Last day of what must not be used, as a spreadsheet counts days."""

COLUMNS = (
    "instrument_id", "instrument_kind", "instrument_thread",
    "instrument_from", "instrument_to", "instrument_unit", "instrument_calibrated", "instrument_due", "instrument_fit",
    "wires_id", "wires_a", "wires_b", "wires_c", "wires_calibrated", "wires_due", "wires_fit",
)  # fmt: skip
INPUTS = ("wire_match_limit", *COLUMNS)


class Item(NamedTuple):
    """An instrument or a set of wires; `mean` is the mean of the certified diameters that are given.

    `kind` is in small letters; `least` and `most` are the ends of the range, working unit. `never` is why it counts on
    no day.
    """

    id: str
    until: int
    mean: float | None = None
    since: float = 0  # endless where the day of the calibration is none
    kind: str = ""
    marking: str = ""
    least: float = 0
    most: float = inf
    never: str = ""

    def counts(self, day: int) -> bool:
        """Whether a measurement with it on that day counts."""
        return self.since <= day <= self.until


class Equipment(NamedTuple):
    """What the sheets Instruments and Wire sets list, by number in small letters."""

    instruments: dict[str, Item]
    wires: dict[str, Item]


def key(value: Any) -> str:
    """A number or text that people give things, capitals alike; empty for nothing.

    >>> key("W-12"), key(7.0), key(None)
    ('w-12', '7', '')
    """
    return label(value).lower()


def label(value: Any) -> str:
    """The same as it is spelled.

    >>> label("W-12"), label(7.0), label(None)
    ('W-12', '7', '')
    """
    return f"{value:.15g}" if isinstance(value, float) else "" if value is None else str(value)


def day_of(value: Any) -> int | None:
    """The day of a cell, as a spreadsheet counts days; None for a text, or a day that is not believed.

    >>> day_of(45356.7), day_of(20260131.0), day_of("5 March")
    (45356, None, None)
    """
    found = number(value)
    return floor(found) if found is not None and FIRST_DAY <= found < LAST_DAY + 1 else None


def equipment(inputs: Mapping[str, Any]) -> Equipment:
    """The lists. The first of two with one number counts."""
    return Equipment(_by_key(_items(inputs, "instrument")), _by_key(_items(inputs, "wires")))


def twice(ids: Iterable[Any]) -> Iterator[int]:
    """The places in a list of numbers that an earlier one has: of two only the first counts."""
    seen: set[str] = set()
    for at, name in enumerate(ids):
        if key(name) in seen:
            yield at
        if name is not None:
            seen.add(key(name))


def _by_key(items: list[Item]) -> dict[str, Item]:
    found: dict[str, Item] = {}
    for one in items:
        found.setdefault(key(one.id), one)
    return found


def _items(inputs: Mapping[str, Any], kind: str) -> list[Item]:
    """The rows of a list from the top, without empty ones."""

    def cell(name: str, at: int) -> Any:
        values = inputs.get(f"{kind}_{name}") or []
        return values[at] if at < len(values) else None

    found = []
    for at, name in enumerate(inputs.get(f"{kind}_id") or []):
        if name is None:
            continue
        given, unfit = cell("due", at), key(cell("fit", at)) not in ("", "yes")
        due = None if day_of(given) is None else number(given)
        wires = _diameters([cell(letter, at) for letter in "abc"] if kind == "wires" else [])
        mean = sum(wires) / len(wires) if wires else None
        matched = not wires or max(wires) - min(wires) <= _allowed(inputs) + MATCH_NOISE
        never = UNFIT if unfit else UNMATCHED if not matched else _no_due_date(given)
        until = NEVER if due is None or never else floor(due)
        calibrated = cell("calibrated", at)
        first = day_of(calibrated)
        start = 0 if calibrated is None else inf if first is None else first
        item = Item(name, until, mean, start, never=never)
        if kind == "instrument":
            least, most = (_end(cell(end, at), cell("unit", at), inputs.get("unit")) for end in ("from", "to"))
            item = item._replace(
                kind=key(cell("kind", at)), marking=label(cell("thread", at)), least=least or 0,
                most=inf if most is None else most,
            )  # fmt: skip
        found.append(item)
    return found


def _no_due_date(given: Any) -> str:
    if day_of(given) is not None:
        return ""
    return NO_DUE_DATE if given is None else f"has a due date that {NO_DAY}"


def _end(value: Any, unit: Any, working: Any) -> float | None:
    """One end of a range in the working unit."""
    found = number(value)
    if found is None:
        return None
    typed, factor = key(unit), 1.0
    if typed in ("in", "mm") and typed != key(working):
        factor = MM_PER_INCH if typed == "in" else 1 / MM_PER_INCH
    return max(found, 0) * factor


def _allowed(inputs: Mapping[str, Any]) -> float:
    """How far the wires of a set may differ."""
    typed = number(inputs.get("wire_match_limit"))
    return typed if typed is not None and typed > 0 else _match_limit(inputs)


def _match_limit(inputs: Mapping[str, Any]) -> float:
    return MATCH_LIMITS["mm" if inputs.get("unit") == "mm" else "in"]


def _diameters(cells: list[Any]) -> list[float]:
    """The wires of a set; none where a filled cell is no number more than zero, or is too thick."""
    filled = [number(cell) for cell in cells if cell is not None]
    sizes = [one for one in filled if one is not None and 0 < one <= MOST_WIRE]
    return sizes if len(sizes) == len(filled) else []


def wire_differs(inputs: Mapping[str, Any], known: Equipment) -> bool:
    """Whether the wire typed on Setup is another than the set chosen there, by more than wires of a set may differ."""
    typed, chosen = number(inputs.get("wire_in_use")), known.wires.get(key(inputs.get("wire_set")))
    if typed is None or chosen is None or chosen.mean is None:
        return False
    return abs(typed - chosen.mean) > _match_limit(inputs) + MATCH_NOISE


def wire_used(inputs: Mapping[str, Any], known: Equipment) -> float | None:
    """The wire that the sheet computes with: the one typed on Setup, else the certified mean of its set."""
    if inputs.get("wire_in_use") is not None:
        typed = number(inputs["wire_in_use"])
        return typed if typed is not None and LENGTHS[0] <= typed <= LENGTHS[1] else None
    chosen = known.wires.get(key(inputs.get("wire_set")))
    return None if chosen is None else chosen.mean
