"""The figures of the sheets Records, Charts and GaugeStudy, from what was typed through the functions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import cos, pi, radians, sin, sqrt, tan
from typing import Any

from sheetfuncs import quantiles, sampling, standards, uncertainty
from workbook_template import budget, chart_figures, gauge_study_sheet, sampling_sheet
from workbook_template.read_back.judging import Judged
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, answer, number

BUDGET_INPUTS = (
    *(f"budget_{one.name}{end}" for one in budget.INPUTS for end in ("", "_kind")),
    *("budget_expansion", "budget_repeats", "budget_factor"),
)
PEOPLE = gauge_study_sheet.PEOPLE
INPUTS = (
    *("chart_first", "study_tolerance"),
    *(f"study_{person}_{trial}" for person in PEOPLE for trial in range(1, gauge_study_sheet.TRIALS + 1)),
    *(name for name, *_ in sampling_sheet.INPUTS),
    *("sample_start", "sample_results"),
)

DIVISORS = dict(zip(budget.KINDS, (sqrt(3), sqrt(6), sqrt(2), 1.0, 2.0)))
"""What makes a standard uncertainty of a stated value (JCGM 100:2008, 4.3)."""

BUDGET = ("budget_combined", "budget_freedom", "budget_coverage", "budget_expanded")


def budget_results(inputs: Mapping[str, Any], known: Figures | None, wire: float | None) -> dict[str, Any]:
    """The uncertainty of a pitch diameter over wires: combined, degrees of freedom, k, expanded."""
    nothing: dict[str, Any] = dict.fromkeys(BUDGET, NO_NUMBER)
    values = {one.name: number(inputs.get(f"budget_{one.name}")) for one in budget.INPUTS}
    divisors = {one.name: DIVISORS.get(inputs.get(f"budget_{one.name}_kind")) for one in budget.INPUTS}
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
        found["budget_freedom"] = float(freedom)
    factor = number(inputs.get("budget_factor"))
    if inputs.get("budget_factor") is None and found["budget_freedom"] is not NO_NUMBER:
        whole = max(1, int(found["budget_freedom"] + 1e-9))
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
        "temperature": known.pitch_basic * expansion,
        "repeatability": 1.0,
        "lead": 1 / spread,
        "angle": abs(by_angle) * pi / 180,
    }


def chart_results(inputs: Mapping[str, Any], known: Figures | None, judged: Mapping[int, Judged]) -> dict[str, Any]:
    """The figures under the charts; `judged` by the row of the log."""
    given = number(inputs.get("chart_first"))
    start = 1.0 if inputs.get("chart_first") is None else None if given is None else given - chart_figures.LOG_HEAD
    rows = [] if start is None else range(int(start), int(start) + chart_figures.WINDOW)
    found = [judged[row] for row in rows if row in judged]
    readings = [
        one.pitch for one in found if one.pitch is not None and one.pitch_result not in ("replaced", "check entry")
    ]
    steps = [abs(b - a) for a, b in zip(readings, readings[1:])]
    names = ("chart_mean", "chart_s", "chart_range_mean", "chart_natural_high", "chart_natural_low",
             "chart_range_high", *_INDICES.values())  # fmt: skip
    want: dict[str, Any] = {"chart_n": float(len(readings)), **dict.fromkeys(names, NO_NUMBER)}
    if readings:
        want["chart_mean"] = mean = sum(readings) / len(readings)
    if steps:
        want["chart_s"] = sqrt(sum((one - mean) ** 2 for one in readings) / (len(readings) - 1))
        want["chart_range_mean"] = step = sum(steps) / len(steps)
        want["chart_natural_high"] = mean + 3 * step / chart_figures.MEAN_RANGE_OF_TWO
        want["chart_natural_low"] = mean - 3 * step / chart_figures.MEAN_RANGE_OF_TWO
        want["chart_range_high"] = chart_figures.RANGE_LIMIT * step
    if known is None or known.pitch_max is None or known.pitch_min is None or len(readings) < 2:
        return want
    table = answer("THREAD_CAPABILITY", readings, known.pitch_min, known.pitch_max)
    if table is not NO_NUMBER:
        row = dict(zip(("n", "mean", "s", *_INDICES), table[0]))
        want |= {name: row[column] for column, name in _INDICES.items()}
    return want


_INDICES = {
    "cp": "capability_cp",
    "cpk": "capability_cpk",
    "cpk_from": "capability_cpk_low",
    "cpk_to": "capability_cpk_high",
    "cp_from": "capability_cp_low",
    "cp_to": "capability_cp_high",
}
"""Result of THREAD_CAPABILITY, after n, mean and s -> cell."""


def study_results(inputs: Mapping[str, Any], known: Figures | None) -> dict[str, Any]:
    """The gauge study by both methods."""
    given = number(inputs.get("study_tolerance"))
    typed = inputs.get("study_tolerance") is not None
    tolerance = (given if given and given > 0 else None) if typed else known.tolerance if known else None
    want = {f"study_{name}_{kind}": NO_NUMBER for name in _STUDY.values() for kind in "rv"}
    want |= {"study_both_v": NO_NUMBER, "study_grr_r_tolerance": NO_NUMBER, "study_grr_v_tolerance": NO_NUMBER}
    want["study_tolerance_used"] = NO_NUMBER if tolerance is None else tolerance
    cells = [
        [part, person, value]
        for person in PEOPLE
        for trial in range(1, gauge_study_sheet.TRIALS + 1)
        for part, value in enumerate(inputs.get(f"study_{person}_{trial}") or [], start=1)
        if value is not None
    ]
    table = answer("THREAD_GAUGE_STUDY", cells, tolerance) if cells else NO_NUMBER
    if table is NO_NUMBER:
        return want
    for label, *columns in table[1:]:
        first, second = columns[0], columns[2]
        if label in _STUDY:
            name = _STUDY[label]
            want |= {f"study_{name}_r": first, f"study_{name}_v": second}
        elif label == "interaction":
            want["study_both_v"] = second
        elif label.startswith("6 GRR"):
            want |= {"study_grr_r_tolerance": columns[1], "study_grr_v_tolerance": columns[3]}
    return {name: NO_NUMBER if value == "" else value for name, value in want.items()}


_STUDY = {
    "repeatability EV": "ev",
    "reproducibility AV": "av",
    "repeatability and reproducibility GRR": "grr",
    "parts PV": "pv",
    "total TV": "tv",
    "distinct categories ndc": "ndc",
}
"""Row of THREAD_GAUGE_STUDY -> part of the cell's name."""


def sample_results(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Code letter, sample size, acceptance and rejection number; the state by the list of lots."""
    results = _until_blank(inputs.get("sample_results") or [])
    start = inputs.get("sample_start")
    known = all(one in ("accepted", "rejected") for one in results)
    state: Any = sampling.switching(results, start)[0][0] if known and start in sampling_sheet.STATES else ""
    asked = inputs.get("sample_severity")
    used = asked if asked in sampling_sheet.STATES else state if asked == "by the list" else ""
    want: dict[str, Any] = {"sample_state": state if known else None, "sample_used": used if known else None}
    lot = number(inputs.get("quantity") if inputs.get("sample_lot") is None else inputs.get("sample_lot"))
    plan = NO_NUMBER
    if lot is not None and lot >= 2 and used in sampling_sheet.STATES:
        plan = answer("THREAD_SAMPLE", lot, inputs.get("sample_aql"), inputs.get("sample_level"), used)
    names = ("sample_letter", "sample_n", "sample_accept", "sample_reject")
    if plan is NO_NUMBER:
        return want  # what is missing the sheet says in words; a letter alone may stand there
    return want | dict(zip(names, plan[0]))


def _until_blank(values: Sequence[Any]) -> list[Any]:
    return list(values[: values.index(None)] if None in values else values)
