"""The figures of the sheet Lathe that a price or a hand rests on, from its inputs through the functions: no formula."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from sheetfuncs import CellError, evaluate
from sheetfuncs.designations import Thread, plain
from sheetfuncs.lathe import ANOTHER_LEAD, dial_rule
from sheetfuncs.leads import Ratio, exact_lead, read_leadscrew
from sheetfuncs.units import MM_PER_INCH
from workbook_template.read_back.equipment import key
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, number

LATHES = (1, 2)
EXACT = 1e-9
"""A lead nearer than this share of it is exact."""

_OF_A_LATHE = (
    *("leadscrew", "leadscrew_unit", "dial_a", "dial_b", "dial_c", "dial_d", "dial_lines", "end_driver", "end_driven"),
    *("fixed_ratio", "box_position", "box_tpi", "box_pitch", "train_tpi", "train_pitch", "train_levers"),
    *("train_a", "train_b", "train_c", "train_d", "use_a", "use_b", "use_c", "use_d", "use_levers", "spindle_speeds"),
)
INPUTS = (
    *(f"{name}_{lathe}" for lathe in LATHES for name in _OF_A_LATHE),
    *("lathe_in_use", "surface_speed", "surface_speed_unit", "usable_relief", "reaction_spread"),
)


class Setting(NamedTuple):
    """One lathe at the thread of the job; None where the sheet says nothing.

    `lead_error` is in millionths, `may_open` whether the half-nuts may be opened, `rpm` the listed speed to use.
    """

    lead_error: float | None
    may_open: bool | None
    rpm: float | None


def setting(inputs: Mapping[str, Any], known: Figures | None, lathe: int) -> Setting:
    """What the sheet Lathe must say of one lathe."""
    if known is None:
        return Setting(None, None, None)
    own = {name: inputs.get(f"{name}_{lathe}") for name in _OF_A_LATHE}
    rpm, screw = _rpm(inputs, own, known), _leadscrew(own)
    if screw is None:
        return Setting(None, None, rpm)
    wanted = exact_lead(known.thread).value
    cut = _cut_lead(own, screw.value, wanted)
    error = None if cut is None else 0.0 if abs(cut / wanted - 1) < EXACT else (cut / wanted - 1) * 1e6
    if error is not None and abs(error) > ANOTHER_LEAD:
        return Setting(error, None, rpm)
    return Setting(error, _may_open(own, known.thread, screw, error or 0.0), rpm)


def lathe_results(inputs: Mapping[str, Any], known: Figures | None) -> dict[str, Any]:
    """Results by name, of both lathes and of the one in use."""
    found = {lathe: setting(inputs, known, lathe) for lathe in LATHES}
    found[0] = found[2 if number(inputs.get("lathe_in_use")) == 2 else 1]
    want: dict[str, Any] = {}
    for lathe, one in found.items():
        mark = f"_{lathe}" if lathe else ""
        want[f"lathe_lead_error_ppm{mark}"] = NO_NUMBER if one.lead_error is None else one.lead_error
        want[f"rpm_listed{mark}"] = NO_NUMBER if one.rpm is None else one.rpm
    want["lathe_half_nuts"] = "" if found[0].may_open is None else found[0].may_open
    return want


def _rpm(inputs: Mapping[str, Any], own: Mapping[str, Any], known: Figures) -> float | None:
    """The listed speed of THREAD_RPM; None where a figure for it is missing or wrong."""
    speed, unit = number(inputs.get("surface_speed")), inputs.get("surface_speed_unit")
    relief, reaction = inputs.get("usable_relief"), inputs.get("reaction_spread")
    speeds = [one for one in map(number, own["spindle_speeds"] or []) if one is not None]
    if speed is None or unit not in ("ft/min", "m/min") or not speeds:
        return None
    if relief is not None:
        if number(relief) is None:
            return None
        relief = f"{relief!r} {known.unit}"
    if isinstance(reaction, str):
        return None
    try:
        row = evaluate("THREAD_RPM", known.callout, f"{speed!r} {unit}", relief, reaction, speeds)[0]
    except CellError:
        return None
    return number(row[3])


def _leadscrew(own: Mapping[str, Any]) -> Ratio | None:
    value, unit = number(own["leadscrew"]), own["leadscrew_unit"]
    if value is None or value <= 0 or unit not in ("tpi", "mm"):
        return None
    return read_leadscrew(f"{plain(value)} {unit}")


def _may_open(own: Mapping[str, Any], thread: Thread, screw: Ratio, error: float) -> bool:
    """Whether a thread of the screw or a line of one of the dial's gears serves."""
    if dial_rule(thread, screw, 1, 1, error).anywhere:
        return True
    lines, gears = number(own["dial_lines"]), [number(own[f"dial_{letter}"]) for letter in "abcd"]
    typed = [own[name] for name in ("dial_lines", *(f"dial_{letter}" for letter in "abcd"))]
    if lines is None or lines < 1 or any(one not in (None, "") and not _whole(one) for one in typed):
        return False  # a dial that is typed wrong is none
    return any(dial_rule(thread, screw, int(g), int(lines), error).may_open for g in gears if g is not None and g >= 1)


def _whole(typed: Any) -> bool:
    value = number(typed)
    return value is not None and value == int(value) and value >= 1


def _cut_lead(own: Mapping[str, Any], screw: float, wanted: float) -> float | None:
    """Lead in mm that is cut: by the gears in use, else by the lever position or the listed train nearest to it."""
    used = [number(own[f"use_{letter}"]) for letter in "abcd"]
    if any(own[f"use_{letter}"] not in (None, "") and one is None for letter, one in zip("abcd", used)):
        return None  # a gear typed as a text is no gear, nor left out
    if any(one is not None for one in used):
        return _geared(own, screw, own["use_levers"], used) if min(one or 1 for one in used) > 0 else None
    levers = list(_leads(own, "box"))
    trains = [
        _geared(own, screw, _cell(own, "train_levers", at), [number(_cell(own, f"train_{x}", at)) for x in "abcd"])
        for at in range(max(len(own[f"train_{x}"] or []) for x in "abcd"))
    ]
    box, train = (_nearest(leads, wanted) for leads in (levers, trains))
    if box is None or train is None:
        return train if box is None else box
    return box if abs(box / wanted - 1) <= abs(train / wanted - 1) + EXACT else train


def _nearest(leads: list[float | None], wanted: float) -> float | None:
    given = [lead for lead in leads if lead is not None]
    return min(given, key=lambda lead: abs(lead / wanted - 1)) if given else None


def _geared(own: Mapping[str, Any], screw: float, levers: Any, gears: list[float | None]) -> float | None:
    """Lead of a train on the levers with their usual end gears taken out, or on the screw itself."""
    a, b, c, d = gears
    if a is None or not b or (c is None) != (d is None) or d == 0:
        return None
    if levers not in (None, ""):
        driver, driven = number(own["end_driver"]), number(own["end_driven"])
        at = next((n for n, one in enumerate(own["box_position"] or []) if key(one) == key(levers)), None)
        lead = None if at is None else dict(enumerate(_leads(own, "box"))).get(at)
        if not driver or not driven or lead is None:
            return None
        base = lead * driven / driver
    else:
        ratio = number(own["fixed_ratio"])
        base = screw * (1 if ratio is None else ratio)
    return base * a / b * (1 if c is None else c / d)


def _leads(own: Mapping[str, Any], kind: str) -> list[float | None]:
    """Lead in mm of each row of a chart, None where none is typed."""
    found: list[float | None] = []
    for at in range(max(len(own[f"{kind}_{name}"] or []) for name in ("tpi", "pitch"))):
        per_inch, pitch = (number(_cell(own, f"{kind}_{name}", at)) for name in ("tpi", "pitch"))
        lead = pitch if per_inch is None else MM_PER_INCH / per_inch if per_inch > 0 else None
        found.append(lead if lead is not None and lead > 0 else None)
    return found


def _cell(own: Mapping[str, Any], name: str, at: int) -> Any:
    values = own[name] or []
    return values[at] if at < len(values) else None
