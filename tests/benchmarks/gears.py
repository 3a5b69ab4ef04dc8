"""The change gear search over 30 gears against a plain nested loop over the same gears.

python tests/benchmarks/gears.py             aim: 20 times faster
"""

from __future__ import annotations

import statistics
import time

from sheetfuncs.gears import search_trains

SHELF = [
    20, 21, 22, 24, 25, 26, 27, 28, 30, 32, 33, 35, 36, 38, 40,
    42, 44, 45, 46, 48, 50, 52, 54, 55, 56, 60, 63, 65, 72, 80,
]  # fmt: skip


def nested(wanted: float, results: int) -> list[float]:
    """Every simple and compound train, one loop in another, the nearest kept."""
    count, errors = 0, []
    places = range(len(SHELF))
    for i in places:
        for j in places:
            if i == j:
                continue
            count += 1
            errors.append(abs(SHELF[i] / SHELF[j] / wanted - 1))
            for k in places:
                if k in (i, j):
                    continue
                for m in places:
                    if m in (i, j, k):
                        continue
                    count += 1
                    errors.append(abs(SHELF[i] * SHELF[k] / (SHELF[j] * SHELF[m]) / wanted - 1))
    print(f"{count:,} trains in the nested loops")
    return sorted(errors)[:results]


def main() -> None:
    """Print both times, their ratio, and that the best errors agree."""
    wanted = 2.5 / 3.175
    start = time.perf_counter()
    slow = nested(wanted, 1)
    nested_seconds = time.perf_counter() - start
    times = []
    for _ in range(9):
        start = time.perf_counter()
        fast = search_trains(SHELF, wanted, 10)
        times.append(time.perf_counter() - start)
    ours = statistics.median(times)
    agree = abs(abs(fast[0].error) - slow[0]) < 1e-12
    print(
        f"nested {nested_seconds:.2f} s, search {ours * 1000:.1f} ms: {nested_seconds / ours:.0f} times; agree: {agree}"
    )


if __name__ == "__main__":
    main()
