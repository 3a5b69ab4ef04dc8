"""The figures of the sheet Estimate, from what was typed through THREAD_TIME, THREAD_STOCK and THREAD_PRICE."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import lathe_by_functions

from sheetfuncs.catalog import find
from sheetfuncs.units import convert_length
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, answer, number
from workbook_template.sheets import estimate_inputs

INPUTS = (
    *(f"estimate_{item.name}_1" for item in estimate_inputs.BY_LATHE),
    *(f"estimate_{item.name}" for item in (*estimate_inputs.BY_JOB, *estimate_inputs.MATERIAL, *estimate_inputs.MONEY)),
    *(f"estimate_quantity_{n}" for n in range(1, estimate_inputs.QUANTITIES + 1)),
    *(f"rack_{item.name}" for item in estimate_inputs.RACK),
    "rack_unit",
    *lathe_by_functions.INPUTS,
    *("passes", "spring_passes", "thread_length", "starts"),
)
LINES = {
    "make": "make", "minutes": "job_minutes", "labour": "labour", "bars": "bars", "material_by_bars": "material_cost",
    "material_by_length": "material_by_length", "tooling_cost": "tooling", "gauges_cost": "gauges",
    "outside_cost": "outside", "overhead_cost": "overhead_cost", "cost": "cost",
}  # fmt: skip
"""Line of the sheet -> result of THREAD_PRICE."""


def price_results(inputs: Mapping[str, Any], known: Figures | None) -> dict[str, Any]:
    """The lines at each quantity, a list each; nothing where the sheet Estimate still asks for something."""
    nothing = [NO_NUMBER] * estimate_inputs.QUANTITIES
    rows = _rows(inputs, known)
    if rows is None:
        return {f"estimate_{line}": nothing for line in LINES}
    return {
        f"estimate_{line}": [NO_NUMBER if row is None else row[column] for row in rows]
        for line, column in LINES.items()
    }


def _rows(inputs: Mapping[str, Any], known: Figures | None) -> list[dict[str, Any] | None] | None:
    if known is None or inputs.get("estimate_unit") != known.unit or _shorter(inputs) or _two_bars(inputs):
        return None
    if inputs.get("estimate_bar_line") is not None and inputs.get("rack_unit") != known.unit:
        return None
    bar = _bar(inputs)
    own = {name: number(inputs.get(f"estimate_{name}")) for name in _NUMBERS}
    own |= {name: number(inputs.get(f"estimate_{name}_1")) for name in _BY_LATHE}
    rpm, back = _from_lathe(inputs, known)
    own |= {"rpm": rpm, "bar_length": number(bar["length"]), "bar_price": number(bar["price"])}
    length = _first(inputs, "estimate_length", "thread_length")
    passes = _first(inputs, "estimate_passes_1", "passes")
    if passes is not None and number(inputs.get("estimate_passes_1")) is None:
        passes += number(inputs.get("spring_passes")) or 0.0
    if None in own.values() or length is None or passes is None or back is None or not _makes(inputs, known, bar):
        return None
    unit, profit = known.unit, inputs.get("estimate_profit_kind")
    minutes = answer(
        "THREAD_TIME", known.callout, f"{length!r} {unit}", own["rpm"], passes, f"{own['approach']!r} {unit}",
        f"{own['overrun']!r} {unit}", own["return_seconds"], back,
    )  # fmt: skip
    lengths = [own[name] for name in ("part_length", "facing", "part_off", "bar_length", "stub")]
    stock = answer("THREAD_STOCK", 1, *lengths, 0)
    if NO_NUMBER in (minutes, stock) or profit not in ("margin", "markup"):
        return None
    share = (own["profit"], None) if profit == "margin" else (None, own["profit"])
    learning = number(inputs.get("estimate_learning"))
    found: list[dict[str, Any] | None] = []
    for n in range(1, estimate_inputs.QUANTITIES + 1):
        row = answer(
            "THREAD_PRICE", inputs.get(f"estimate_quantity_{n}"), own["setup_minutes"], own["turning"] + minutes,
            own["handling"] + own["check_minutes"] * own["gauged"], own["rate"], own["bar_price"], stock[0][1],
            own["scrap"], own["overhead"], *share, own["tooling"], own["gauges"], own["outside"], learning, own["rest"],
        )  # fmt: skip
        found.append(None if row is NO_NUMBER else dict(zip(find("THREAD_PRICE").columns, row[1])))
    return found


_NUMBERS = ("rest", "check_minutes", "gauged", "part_length", "facing", "part_off", "stub", "rate", "scrap", "overhead",
            "profit", "tooling", "gauges", "outside")  # fmt: skip
_BY_LATHE = ("approach", "overrun", "return_seconds", "setup_minutes", "turning", "handling")


def _from_lathe(inputs: Mapping[str, Any], known: Figures) -> tuple[float | None, str | None]:
    """Speed, and whether it comes back under power: as typed, else by the sheet Lathe; None where that can not be."""
    found = lathe_by_functions.setting(inputs, known, 1)
    typed, said = inputs.get("estimate_rpm_1"), inputs.get("estimate_power_return_1")
    if said is None:
        back = {True: "no", False: "yes", None: None}[found.may_open]
    else:
        back = said if said == "yes" or (said == "no" and found.may_open is not False) else None
    return (found.rpm if typed is None else number(typed)), back


def _first(inputs: Mapping[str, Any], *names: str) -> float | None:
    return next((value for name in names if (value := number(inputs.get(name))) is not None), None)


def _shorter(inputs: Mapping[str, Any]) -> bool:
    """Whether the part is shorter than its thread."""
    length, part = _first(inputs, "estimate_length", "thread_length"), number(inputs.get("estimate_part_length"))
    return length is not None and part is not None and part < length


def _two_bars(inputs: Mapping[str, Any]) -> bool:
    """Whether a bar is typed beside a line of the list."""
    typed = any(inputs.get(f"estimate_{name}") is not None for name in estimate_inputs.FROM_RACK)
    return typed and inputs.get("estimate_bar_line") is not None


def _bar(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """The bar: a line of the list, or what is typed."""
    line = inputs.get("estimate_bar_line")
    if line is None:
        return {own: inputs.get(f"estimate_{name}") for name, own in estimate_inputs.FROM_RACK.items()}
    at = number(line)
    found = {}
    for own in estimate_inputs.FROM_RACK.values():
        values = inputs.get(f"rack_{own}") or []
        found[own] = values[int(at) - 1] if at is not None and 1 <= at <= len(values) else None
    return found


def _makes(inputs: Mapping[str, Any], known: Figures, bar: Mapping[str, Any]) -> bool:
    """Whether the bar makes the part."""
    size, part = number(bar["size"]), number(inputs.get("estimate_part_size"))
    if size is None or bar["shape"] not in ("round", "hexagon"):
        return False
    shape = "hexagon" if inputs.get("estimate_part_shape") == "hexagon" else "round"
    diameter = convert_length(known.thread.diameter, known.thread.unit, known.unit)
    if inputs.get("estimate_part_size") is None and known.thread.side == "internal":
        return False
    sizes = ([size], []) if bar["shape"] == "round" else ([], [size])
    return answer("THREAD_BAR", diameter if part is None else part, shape, *sizes) is not NO_NUMBER
