"""A column of 100,000 callouts in one call, against the same limit through a pint-wrapped function.

    python tests/benchmarks/column.py            aim: 50 times faster

The baseline does what a direct use of pint would: the callout read as a text, its pitch a quantity, the function
wrapped so that pint checks and converts its arguments and result. It is timed on a part of the column and scaled.
Two columns are timed: one of 40 different callouts, as a shop's order book has, and one in which all differ.
"""

from __future__ import annotations

import time

import pint

from sheetfuncs import evaluate, standards
from sheetfuncs.standards import iso_metric

ROWS, BASELINE_ROWS = 100_000, 2_000
ureg = pint.UnitRegistry()


@ureg.wraps("mm", ("mm", "mm", None))
def pitch_diameter_max(diameter: float, pitch: float, callout: str) -> float:
    """The same work as THREAD_PITCH_DIAMETER(callout, "max"), on quantities."""
    return standards.limits(standards.read(callout)).pitch.max


def through_pint(callout: str) -> float:
    """One row of the baseline, answered in millimetres."""
    size, _, pitch = callout.removeprefix("M").partition("-")[0].partition("x")
    return pitch_diameter_max(ureg.Quantity(f"{size} mm"), ureg.Quantity(f"{pitch} mm"), callout).to("mm").magnitude


def timed(work, *arguments) -> float:
    """Seconds that one call takes."""
    start = time.perf_counter()
    work(*arguments)
    return time.perf_counter() - start


def main() -> None:
    """Print the ratio for both columns."""
    few = [iso_metric.write(thread) + "-6g" for thread in iso_metric.standard_threads() if thread.diameter >= 3][:40]
    all_differ = [f"M{3 + index / 1000:.3f}x0.5-6g" for index in range(ROWS)]
    for name, column in (("40 different callouts", few * (ROWS // 40)), ("all different", all_differ)):
        standards.read.cache_clear()
        standards.limits.cache_clear()
        ours = timed(evaluate, "THREAD_PITCH_DIAMETER", [[cell] for cell in column], "max")
        standards.read.cache_clear()
        standards.limits.cache_clear()
        theirs = timed(lambda cells: [through_pint(cell) for cell in cells], column[:BASELINE_ROWS])
        theirs *= ROWS / BASELINE_ROWS
        print(f"{name}: one call {ours:.2f} s, through pint {theirs:.1f} s: {theirs / ours:.0f} times faster")


if __name__ == "__main__":
    main()
