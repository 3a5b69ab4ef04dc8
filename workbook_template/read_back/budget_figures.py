"""The uncertainty budget of a pitch diameter over wires, from what was typed: the rows are judged by it."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, radians, sin, sqrt, tan
from typing import Any

from sheetfuncs import quantiles, standards, uncertainty
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, number
from workbook_template.sheets import budget

INPUTS = (
    *(f"budget_{one.name}{end}" for one in budget.SOURCES for end in ("", "_kind")),
    *("budget_expansion", "budget_repeats", "budget_factor"),
)

DIVISORS = dict(zip(budget.KINDS, (sqrt(3), sqrt(6), sqrt(2), 1.0, 2.0)))
"""What makes a standard uncertainty of a stated value (JCGM 100:2008, 4.3)."""

BUDGET = ("budget_combined", "budget_degrees_of_freedom", "budget_coverage", "budget_expanded")


def results(inputs: Mapping[str, Any], known: Figures | None, wire: float | None) -> dict[str, Any]:
    """The uncertainty of a pitch diameter over wires: combined, degrees of freedom, k, expanded."""
    nothing: dict[str, Any] = dict.fromkeys(BUDGET, NO_NUMBER)
    values = {one.name: number(inputs.get(f"budget_{one.name}")) for one in budget.SOURCES}
    divisors = {one.name: DIVISORS.get(inputs.get(f"budget_{one.name}_kind")) for one in budget.SOURCES}
    expansion, repeats = (number(inputs.get(f"budget_{name}")) for name in ("expansion", "repeats"))
    if known is None or wire is None or expansion is None or None in divisors.values():
        return nothing
    if any(value is None or value < 0 for value in values.values()):
        return nothing
    by = _sensitivities(known, wire, expansion / 1e6)
    parts = {name: value * by[name] / divisors[name] for name, value in values.items()}
    combined = sqrt(sum(part**2 for part in parts.values()))
    found = nothing | {"budget_combined": combined}
    if repeats is not None and repeats >= 2 and combined:
        share = parts["repeatability"] / combined
        freedom = min(budget.ENDLESS, (repeats - 1) / share**4) if share else budget.ENDLESS
        found["budget_degrees_of_freedom"] = float(freedom)
    factor = number(inputs.get("budget_factor"))
    if inputs.get("budget_factor") is None and found["budget_degrees_of_freedom"] is not NO_NUMBER:
        whole = max(1, int(found["budget_degrees_of_freedom"] + 1e-9))
        found["budget_coverage"] = quantiles.t((1 + uncertainty.COVERAGE) / 2, whole)
    elif factor is not None and factor > 0:
        found["budget_coverage"] = factor
    if found["budget_coverage"] is not NO_NUMBER:
        found["budget_expanded"] = found["budget_coverage"] * combined
    return found


def _sensitivities(known: Figures, wire: float, expansion: float) -> dict[str, float]:
    """How the pitch diameter moves with each source; the derivation stands in docs/inspection.md."""
    form = standards.system(known.thread).form
    a, b = radians(form.leading), radians(form.trailing)
    middle, spread = (a + b) / 2, tan(a) + tan(b)
    by_angle = wire * cos((a - b) / 2) * cos(middle) / sin(middle) ** 2
    by_angle -= known.pitch * (1 / cos(a) ** 2 + 1 / cos(b) ** 2) / spread**2
    return {
        "wires": 1 + cos((a - b) / 2) / sin(middle),
        "micrometer": 1.0,
        "temperature": known.pitch_diameter_basic * expansion,
        "repeatability": 1.0,
        "lead": 1 / spread,
        "angle": abs(by_angle) * pi / 180,
    }
