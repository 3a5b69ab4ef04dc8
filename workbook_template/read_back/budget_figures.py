"""The uncertainty budget of a pitch diameter over wires, from what was typed: the rows are judged by it."""

from __future__ import annotations

from collections.abc import Mapping
from math import cos, pi, radians, sin, sqrt, tan
from typing import Any

from sheetfuncs import functional, quantiles, standards, uncertainty
from workbook_template.read_back.equipment import LENGTHS, key
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, number
from workbook_template.sheets import budget

INPUTS = (
    *(f"budget_{one.name}{end}" for one in budget.SOURCES for end in ("", "_kind")),
    *("budget_expansion", "budget_repeats", "budget_factor", "uncertainty_unit"),
)

MOST = 1e9
"""What is believed of a number that is typed."""

MOST_OF = {"temperature": MOST, "angle": functional.MOST_ANGLE_ERROR}
"""The same of a source that is no length."""

EXPANSIONS = (0.1, 100)
"""What is believed of an expansion in millionths per degree: no metal has another."""

FACTORS = (1, 5)
"""What is believed of a coverage factor that is typed: 0.2 or 20 is a slip of the decimal point."""

DIVISORS = dict(zip(budget.KINDS, (sqrt(3), sqrt(6), sqrt(2), 1.0, 2.0)))
"""What makes a standard uncertainty of a stated value (JCGM 100:2008, 4.3)."""

BUDGET = ("budget_combined", "budget_degrees_of_freedom", "budget_coverage", "budget_expanded")


def results(inputs: Mapping[str, Any], known: Figures | None, wire: float | None) -> dict[str, Any]:
    """The uncertainty of a pitch diameter over wires: combined, degrees of freedom, k, expanded."""
    nothing: dict[str, Any] = dict.fromkeys(BUDGET, NO_NUMBER)
    expansion, repeats = (number(inputs.get(f"budget_{name}")) for name in ("expansion", "repeats"))
    if known is None or wire is None or expansion is None or not EXPANSIONS[0] <= expansion <= EXPANSIONS[1]:
        return nothing
    parts = _parts(inputs, _sensitivities(known, wire, expansion / 1e6))
    if parts is None or of_another_unit(inputs, known):
        return nothing
    combined = sqrt(sum(part**2 for part in parts.values()))
    found = nothing | {"budget_combined": combined}
    if repeats is not None and 2 <= repeats <= MOST and repeats % 1 == 0:
        few = parts["repeatability"] * budget.FAR_LESS > combined
        freedom = (
            min(budget.ENDLESS, (repeats - 1) * (combined / parts["repeatability"]) ** 4) if few else budget.ENDLESS
        )
        found["budget_degrees_of_freedom"] = float(freedom)
    factor = number(inputs.get("budget_factor"))
    if inputs.get("budget_factor") is None and found["budget_degrees_of_freedom"] is not NO_NUMBER:
        whole = max(1, int(found["budget_degrees_of_freedom"] + 1e-9))
        found["budget_coverage"] = quantiles.t((1 + uncertainty.COVERAGE) / 2, whole)
    elif factor is not None and FACTORS[0] <= factor <= FACTORS[1]:
        found["budget_coverage"] = factor
    if found["budget_coverage"] is not NO_NUMBER and combined:  # no measurement is exact
        found["budget_expanded"] = found["budget_coverage"] * combined
    return found


def of_another_unit(inputs: Mapping[str, Any], known: Figures | None) -> bool:
    """Whether the lengths on Uncertainty were typed in another unit than the working unit; older files do not say."""
    return known is not None and key(inputs.get("uncertainty_unit")) in {"in", "mm"} - {known.unit}


def _parts(inputs: Mapping[str, Any], by: Mapping[str, float]) -> dict[str, float] | None:
    """The standard uncertainty of the pitch diameter from each source; None where one of them is not stated."""
    found = {}
    for name in (one.name for one in budget.SOURCES):
        value, divisor = number(inputs.get(f"budget_{name}")), DIVISORS.get(inputs.get(f"budget_{name}_kind", ""))
        if value is None or not 0 <= value <= MOST_OF.get(name, LENGTHS[1]) or divisor is None:
            return None
        found[name] = value * by[name] / divisor
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
