"""The figures of the sheet Setup, from its inputs through the functions."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor, radians, sin
from typing import Any

from sheetfuncs import evaluate, standards, wires
from sheetfuncs.units import convert_length
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, answer, number, over_wires, wire_constant

INPUTS = (
    "tip_kind", "tip_size", "blank_measured", "aim_limit", "compound_angle", "dial_division", "passes",
    "finishing_pass", "spring_passes", "pass_rule", "reading_now",
)  # fmt: skip
PLAN = ("plan_pass", "plan_radial", "plan_radial_total", "plan_travel", "plan_reading", "plan_diameter")
DIVISIONS = "plan_divisions"
ENDS = ("max", "mid", "min")
RANGE_STEP = {"in": 1.0, "mm": 25.0}


def setup_results(
    inputs: Mapping[str, Any], known: Figures | None, wire: float | None, division: float | None
) -> dict[str, Any]:
    """Results by name: numbers, NO_NUMBER where there must be none, and lists for the columns of the plan."""
    if known is None:
        return dict.fromkeys(("radial_infeed", "compound_travel", "wire_constant"), NO_NUMBER)
    depth, over = _depth(inputs, known), _wires(inputs, known, wire)
    return depth | over | _plan(inputs, known, division) | _feeds(inputs, known, wire, over)


def _tip(inputs: Mapping[str, Any]) -> str:
    kind = str(inputs.get("tip_kind") or "").removeprefix("nose ")
    size = number(inputs.get("tip_size"))
    return kind if kind == "sharp" or size is None else f"{kind} {size!r}"


def _depth(inputs: Mapping[str, Any], known: Figures) -> dict[str, Any]:
    text, unit, thread = known.callout, known.unit, known.thread
    aim, blank = inputs.get("aim_limit"), inputs.get("blank_measured")
    cut = inputs.get("another_lead") is not True  # a lathe that cuts another lead: no figures to cut by
    infeed = answer("THREAD_DEPTH", text, _tip(inputs), aim, blank, unit) if cut else NO_NUMBER
    want: dict[str, Any] = {"radial_infeed": infeed}
    form = standards.system(thread).form
    flank = min(form.leading, form.trailing)
    given = inputs.get("compound_angle")
    angle = flank - 0.5 if given is None else number(given)
    swung = want["radial_infeed"] is not NO_NUMBER and angle is not None and 0 <= angle <= flank
    want["compound_travel"] = answer("THREAD_COMPOUND", want["radial_infeed"], angle) if swung else NO_NUMBER
    want["infeed_sharp"] = answer("THREAD_DEPTH", text, "sharp", aim, blank, unit)
    want["infeed_flat"] = answer("THREAD_DEPTH", text, f"flat {known.pitch / 8!r}", aim, blank, unit)
    return want


def _wires(inputs: Mapping[str, Any], known: Figures, wire: float | None) -> dict[str, Any]:
    text, unit, thread = known.callout, known.unit, known.thread
    names = (
        *("wire_best", "wire_smallest", "wire_largest", "wire_constant"),
        *("over_wires_max", "over_wires_min", "micrometer_preset"),
    )
    if not known.has_wires:
        return dict.fromkeys(names, NO_NUMBER)
    smallest, largest = (convert_length(end, thread.unit, unit) for end in wires.usable_wires(thread))
    want: dict[str, Any] = {
        "wire_best": evaluate("THREAD_BEST_WIRE", text, unit),
        "wire_smallest": smallest,
        "wire_largest": largest,
        "wire_constant": _or_none(None if wire is None else wire_constant(known, wire)),
        "wire_used": _or_none(wire),
    }
    for name, limit in (("over_wires_max", "max"), ("over_wires_min", "min"), ("micrometer_preset", None)):
        end = inputs.get("aim_limit") if limit is None else limit
        want[name] = _or_none(over_wires(known, wire, end) if wire is not None and end in ENDS else None)
    low, high, step = want["over_wires_min"], want["over_wires_max"], RANGE_STEP[unit]
    if low is not NO_NUMBER and high is not NO_NUMBER:
        want["micrometer_range"] = f"{floor(low / step) * step:g} to {ceil(high / step) * step:g} {unit}"
    return want


def _or_none(value: float | None) -> Any:
    return NO_NUMBER if value is None else value


def _feeds(inputs: Mapping[str, Any], known: Figures, wire: float | None, over: Mapping[str, Any]) -> dict[str, Any]:
    """What is left to feed from the reading now; nothing while the wires still lie on the crests."""
    want: dict[str, Any] = {f"feed_reads_{end}": over.get(f"over_wires_{end}", NO_NUMBER) for end in ("max", "min")}
    reading, blank = number(inputs.get("reading_now")), number(inputs.get("blank_measured"))
    if reading is None or wire is None or over.get("wire_constant") is NO_NUMBER or not known.has_wires:
        return want | {f"feed_to_{end}": NO_NUMBER for end in ENDS}
    if blank is None:
        blank = (known.crest_max + known.crest_min) / 2
    form = standards.system(known.thread).form
    angle = inputs.get("compound_angle")
    if angle is not None and number(angle) is None:
        return want | {f"feed_to_{end}": NO_NUMBER for end in ENDS}
    on_crest = reading > blank + wire * (1 + sin(radians(min(form.leading, form.trailing))))
    method = "exact" if form.leading == form.trailing else "handbook"
    for end in ENDS:
        call = ("THREAD_FEED_LEFT", known.callout, wire, reading, end, angle, known.unit, method)
        want[f"feed_to_{end}"] = NO_NUMBER if on_crest else answer(*call)
    return want


def _plan(inputs: Mapping[str, Any], known: Figures, division: float | None) -> dict[str, Any]:
    """Columns of the pass plan. The function aims at the middle of the tolerance, so other plans are not compared."""
    if inputs.get("aim_limit") != "mid" or number(inputs.get("passes")) is None:
        return {}
    angle = inputs.get("compound_angle")
    if inputs.get("another_lead") is True or (angle is not None and number(angle) is None):
        return {name: [] for name in (*PLAN, DIVISIONS)}
    order = ("passes", "compound_angle", "finishing_pass", "spring_passes", "blank_measured")
    cells = [inputs.get(name) for name in order]
    found = answer("THREAD_INFEED", known.callout, _tip(inputs), *cells, known.unit, division, inputs.get("pass_rule"))
    rows = [] if found is NO_NUMBER else found[1:]
    want = {name: [row[at] for row in rows] for at, name in enumerate(PLAN)}
    steps = [] if division is None else [float(round(travel / division)) for travel in want["plan_travel"]]
    return want | {DIVISIONS: steps}
