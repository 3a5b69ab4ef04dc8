"""The rows of a filled workbook judged once more, in Python, from its inputs."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, NamedTuple

from workbook_template.read_back import budget_figures, equipment, judging, thread_figures
from workbook_template.read_back.columns import Row
from workbook_template.read_back.contents import Error
from workbook_template.read_back.equipment import Equipment
from workbook_template.read_back.judging import Job, Judged
from workbook_template.read_back.named import cells_of
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, number

INPUTS = (*thread_figures.INPUTS, *equipment.INPUTS, *judging.SETTINGS, *budget_figures.INPUTS)
"""What is read beside the log."""

CLOSE, TINY = 1e-9, 1e-12
"""Share of a number, and size, by which programs may differ in the last digits."""


class Recomputed(NamedTuple):
    """A filled workbook judged again."""

    inputs: dict[str, Any]
    thread: Figures | None
    equipment: Equipment
    job: Job
    rows: list[Row]
    judged: list[Judged]


def recompute(inputs: dict[str, Any], rows: list[Row]) -> Recomputed:
    """Judge the rows by the inputs."""
    inputs = inputs | {name: _as_built(name, inputs[name]) for name in INPUTS if name in inputs}
    thread = thread_figures.figures(inputs)
    known = equipment.equipment(inputs)
    job = judging.job(inputs, thread, known, budget(inputs, thread, known)["budget_expanded"])
    return Recomputed(inputs, thread, known, job, rows, judging.judge(rows, job))


def _as_built(name: str, value: Any) -> Any:
    """A value or a list of them, as the name was built: somebody may have given it more cells, or all but one away."""
    if name in equipment.COLUMNS:
        return cells_of(value)
    return None if isinstance(value, list) else value


def budget(inputs: Mapping[str, Any], thread: Figures | None, known: Equipment) -> dict[str, Any]:
    """The budget of the sheet Uncertainty, with the wires in use where they serve the thread."""
    wire = equipment.wire_used(inputs, known)
    serves = (
        thread is not None
        and wire is not None
        and thread_figures.over_wires(thread, wire, thread.limits.pitch_max) is not None
    )
    return budget_figures.results(inputs, thread, wire if serves else None)


def alike(stored: Any, wanted: Any) -> bool:
    """Whether a stored value is what came out again.

    >>> alike(0.70560000000001, 0.7056), alike("–", NO_NUMBER), alike(None, ""), alike("in", "high")
    (True, True, True, False)
    """
    if isinstance(stored, Error):
        return False
    if wanted is NO_NUMBER or wanted == "":
        return number(stored) is None and (wanted is NO_NUMBER or stored in (None, ""))
    if isinstance(wanted, bool):
        return isinstance(stored, (bool, float)) and bool(stored) is wanted
    if isinstance(wanted, (int, float)):
        value = number(stored)
        return value is not None and math.isclose(value, wanted, rel_tol=CLOSE, abs_tol=TINY)
    return bool(stored == wanted)
