"""Columns of 100,000 cells in one call, each against two named baselines. Processor time.

    python tests/benchmarks/column.py       aim: repeated callouts under .2 s, all different under 4 s

The plain loop does the same work in Python with nothing round it: the topic's function on values that are read already
where a column does not change them; where the callouts change it reads and works out each, whatever was before. Pint is
what a direct use of it would be: the sizes are quantities, and the function is wrapped so that pint checks and converts
arguments and result; it is timed on a part of the column and scaled. No answer is kept from before a column begins.

Callouts that repeat, as in a shop's order book, are worked out once each in ours, which is why they cost so little; the
columns whose cells all differ say what the way from cell to function and back adds.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from functools import partial
from typing import Any

import pint
from caches import forget

from sheetfuncs import evaluate, limits, standards, wires
from sheetfuncs.designations import Thread
from sheetfuncs.standards import iso_metric

ROWS, BASELINE_ROWS, ROUNDS = 100_000, 5_000, 3
ureg: pint.UnitRegistry[Any] = pint.UnitRegistry()


@ureg.wraps("mm", ("mm", "mm", None))
def pitch_diameter_max(diameter: float, pitch: float, callout: str) -> float:
    """The same work as THREAD_PITCH_DIAMETER(callout, "max"), on quantities."""
    return limits.pitch_diameter(standards.read(callout), "max")


@ureg.wraps("in", (None, "in", "in"))
def pd_from_wires(thread: Thread, wire: float, reading: float) -> float:
    """The same work as THREAD_PD_FROM_WIRES, on quantities."""
    return wires.pd_from_wires(thread, wire, reading)


def through_pint(callout: str) -> float:
    """One row of the baseline, answered in millimetres."""
    if callout.startswith("M"):
        size, _, pitch = callout[1:].partition("-")[0].partition("x")
        sizes = float(size), float(pitch)
    else:
        size, tpi, _ = callout.replace(" ", "-").split("-", 2)
        sizes = float(size) * 25.4, 25.4 / float(tpi)
    return float(pitch_diameter_max(*(ureg.Quantity(size, "mm") for size in sizes), callout).to("mm").magnitude)


def reading_through_pint(reading: float, thread: Thread, wire: Any) -> float:
    """One row of the baseline of readings."""
    return float(pd_from_wires(thread, wire, ureg.Quantity(reading, "in")).to("in").magnitude)


def plain(callout: str) -> float:
    """One row of the plain loop: read and worked out, whatever was before."""
    return limits.pitch_diameter(standards.read.__wrapped__(callout), "max")


def each(work: Callable[[str], float], callouts: list[str]) -> list[float]:
    """One answer after the other."""
    return [work(callout) for callout in callouts]


def fresh(work: Callable[[], object]) -> float:
    """Seconds of processor time with empty caches, the least of some rounds."""
    times = []
    for _ in range(ROUNDS):
        forget()
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def tell(name: str, ours: float, loop: float, by_pint: float) -> None:
    """One line: the ratios first."""
    print(f"{name}: {ours / loop:.2f} of the plain loop, {ours / by_pint:.3f} of pint  ({ours:.2f} s for {ROWS:,})")


def main() -> None:
    """Print the ratios of each column."""
    few = [iso_metric.write(thread) + "-6g" for thread in iso_metric.standard_threads() if thread.diameter >= 3][:40]
    columns = {
        "40 callouts, repeated": few * (ROWS // 40),
        "all different, metric": [f"M{3 + index / 1000:.3f}x0.5-6g" for index in range(ROWS)],
        "all different, inch": [f"{0.25 + index / 10_000:.4f}-20 UNS-2A" for index in range(ROWS)],
    }
    for name, column in columns.items():
        assert len(set(column)) in (40, ROWS)
        cells, part = [[cell] for cell in column], column[:BASELINE_ROWS]
        ours = fresh(partial(evaluate, "THREAD_PITCH_DIAMETER", cells, "max"))
        loop = fresh(partial(each, plain, column))
        tell(name, ours, loop, fresh(partial(each, through_pint, part)) * ROWS / BASELINE_ROWS)
    readings = [0.7571 + index * 1e-8 for index in range(ROWS)]
    read, thread, wire = [[cell] for cell in readings], standards.read("3/4-16 UNF-2A"), ureg.Quantity(0.0361, "in")
    ours = fresh(partial(evaluate, "THREAD_PD_FROM_WIRES", "3/4-16 UNF-2A", 0.0361, read))
    loop = fresh(lambda: [wires.pd_from_wires(thread, 0.0361, cell) for cell in readings])
    by_pint = fresh(lambda: [reading_through_pint(cell, thread, wire) for cell in readings[:BASELINE_ROWS]])
    tell("readings over wires, all different", ours, loop, by_pint * ROWS / BASELINE_ROWS)


if __name__ == "__main__":
    main()
