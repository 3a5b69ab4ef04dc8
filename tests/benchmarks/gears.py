"""The change gear search over 30 gears against a plain loop over the same trains.

    python tests/benchmarks/gears.py             aim: 20 times faster

The plain loop takes each train once, two gears or two drivers and two driven, no matter in which order they are
mounted, and keeps the ten nearest; no list of all is made or sorted. Processor time.
"""

from __future__ import annotations

import heapq
import time
from collections.abc import Callable, Iterator
from itertools import combinations, permutations
from typing import TypeVar

from sheetfuncs.gears import search_trains

SHELF = [
    20, 21, 22, 24, 25, 26, 27, 28, 30, 32, 33, 35, 36, 38, 40,
    42, 44, 45, 46, 48, 50, 52, 54, 55, 56, 60, 63, 65, 72, 80,
]  # fmt: skip
BEST, ROUNDS = 10, 9
WANTED = 2.5 / 3.175
T = TypeVar("T")


def errors() -> Iterator[float]:
    """How far each train is off, as a share."""
    for driver, driven in permutations(SHELF, 2):
        yield abs(driver / driven / WANTED - 1)
    for a, b, c, d in combinations(SHELF, 4):
        for drivers, driven in ((a * b, c * d), (a * c, b * d), (a * d, b * c)):
            yield abs(drivers / driven / WANTED - 1)
            yield abs(driven / drivers / WANTED - 1)


def seconds(work: Callable[[], list[T]]) -> tuple[float, list[T]]:
    """The least of some rounds, and what came out."""
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        found = work()
        times.append(time.process_time() - start)
    return min(times), found


def main() -> None:
    """Print the ratio, and whether the errors of the best agree."""
    loop, nearest = seconds(lambda: heapq.nsmallest(BEST, errors()))
    ours, trains = seconds(lambda: search_trains(SHELF, WANTED, BEST))
    agree = max(abs(abs(train.error) - error) for train, error in zip(trains, nearest)) < 1e-12
    print(f"plain loop / search: {loop / ours:.0f} times (aim 20); the ten nearest agree: {agree}")
    print(f"  {sum(1 for _ in errors()):,} trains, {loop * 1000:.0f} ms and {ours * 1000:.1f} ms")


if __name__ == "__main__":
    main()
