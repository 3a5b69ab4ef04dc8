"""Columns of 100,000 cells in one call, each against two named baselines. Processor time.

    python tests/benchmarks/column.py       aim: at most 1.5 times the plain loop, and under a tenth of pint's

The plain loop does the same work in Python with nothing round it: the topic's function on values that are read already
where a column does not change them, and no answer kept. Pint is what a direct use of it would be: the callout read as
text, its sizes quantities, the function wrapped so that pint checks and converts arguments and result; it is timed on a
part of the column and scaled. Four columns: 40 different callouts as in a shop's order book, all callouts different in
millimetres and in inches, and readings over wires that all differ. No answer is in any cache when a column begins.
"""

from __future__ import annotations

import time
from collections.abc import Callable

import pint

from sheetfuncs import evaluate, limits, standards, wires
from sheetfuncs.standards import iso_metric

ROWS, BASELINE_ROWS = 100_000, 2_000
ureg = pint.UnitRegistry()


@ureg.wraps("mm", ("mm", "mm", None))
def pitch_diameter_max(diameter: float, pitch: float, callout: str) -> float:
    """The same work as THREAD_PITCH_DIAMETER(callout, "max"), on quantities."""
    return limits.pitch_diameter(standards.read(callout), "max")


def through_pint(callout: str) -> float:
    """One row of the baseline, answered in millimetres."""
    size, _, pitch = callout.removeprefix("M").partition("-")[0].partition("x")
    sizes = (size, pitch) if callout.startswith("M") else ("1", "1")
    return pitch_diameter_max(*(ureg.Quantity(f"{size} mm") for size in sizes), callout).to("mm").magnitude


def plain(callout: str) -> float:
    """One row of the plain loop: read and worked out, whatever was before."""
    return limits.pitch_diameter(standards.read.__wrapped__(callout), "max")


def fresh(work: Callable[[], object]) -> float:
    """Seconds of processor time, with empty caches."""
    for kept in (standards.read, standards.limits, standards.basic, wires._within_limits):
        kept.cache_clear()
    start = time.process_time()
    work()
    return time.process_time() - start


def main() -> None:
    """Print the ratios of each column."""
    few = [iso_metric.write(thread) + "-6g" for thread in iso_metric.standard_threads() if thread.diameter >= 3][:40]
    columns = {
        "40 different callouts": few * (ROWS // 40),
        "all different, metric": [f"M{3 + index / 1000:.3f}x0.5-6g" for index in range(ROWS)],
        "all different, inch": [f"{0.25 + index / 10_000:.4f}-20 UNS-2A" for index in range(ROWS)],
    }
    for name, column in columns.items():
        ours = fresh(lambda column=column: evaluate("THREAD_PITCH_DIAMETER", [[cell] for cell in column], "max"))
        loop = fresh(lambda column=column: [plain(cell) for cell in column])
        by_pint = fresh(lambda column=column: [through_pint(cell) for cell in column[:BASELINE_ROWS]])
        by_pint *= ROWS / BASELINE_ROWS
        print(f"{name}: {ours:.2f} s, {ours / loop:.2f} of the plain loop, {ours / by_pint:.3f} of pint")
    readings = [0.7571 + index * 1e-8 for index in range(ROWS)]
    ours = fresh(lambda: evaluate("THREAD_PD_FROM_WIRES", "3/4-16 UNF-2A", 0.0361, [[cell] for cell in readings]))
    thread = standards.read("3/4-16 UNF-2A")
    loop = fresh(lambda: [wires.pd_from_wires(thread, 0.0361, cell) for cell in readings])
    print(f"readings over wires, all different: {ours:.2f} s, {ours / loop:.2f} of the plain loop")


if __name__ == "__main__":
    main()
