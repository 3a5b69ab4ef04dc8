"""The slowest single call of each function, against the 50 ms that a person at a sheet does not notice.

    python tests/benchmarks/each_function.py

The calls are the worked examples and some hard ones: a full shelf of gears, a long column of readings, a study of the
largest size. Each is made once with empty caches, after the topic is loaded. Processor time; prints the five slowest.
"""

from __future__ import annotations

import time
from typing import Any

from caches import forget

from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.call import answer, find

NOTICED_MS = 50
HARD: dict[str, list[tuple[Any, ...]]] = {
    "THREAD_GEARS": [("M20x2.5-6g", "8 tpi", " ".join(str(teeth) for teeth in range(20, 50)), 10)],
    "THREAD_CAPABILITY": [([10 + (index * 7 % 13) / 1000 for index in range(2000)], 9, 11)],
    "THREAD_IDENTIFY": [("29.8 mm", "10 in 20.0 mm"), ("0.745 in", "16 tpi")],
    "THREAD_OVER_WIRES": [("2.875-0.4P-0.8L ACME-2G", 0.21, "max", None, "exact")],
    "THREAD_GAUGE_STUDY": [
        ([[part, who, 10 + part * who % 7 / 100 + trial / 1000]
          for part in range(20) for who in range(20) for trial in range(20)],)
    ],
}  # fmt: skip


def milliseconds(name: str, cells: tuple[Any, ...]) -> float:
    """Of one call with empty caches."""
    record = find(name)
    forget()
    start = time.process_time()
    answer(record, cells)
    return 1000 * (time.process_time() - start)


def main() -> None:
    """Print the slowest calls as shares of what is noticed."""
    slowest = {}
    for record in RECORDS:
        calls: list[tuple[Any, ...]] = [example.args for example in record.examples] + HARD.get(record.name, [])
        answer(record, calls[0])
        slowest[record.name] = max(milliseconds(record.name, cells) for cells in calls)
    for name, needed in sorted(slowest.items(), key=lambda item: -item[1])[:5]:
        print(f"{name}: {needed:.1f} ms, {needed / NOTICED_MS:.2f} of what is noticed")


if __name__ == "__main__":
    main()
