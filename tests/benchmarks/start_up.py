"""How long a first answer takes: `import sheetfuncs` and one call, against an empty start of the same Python.

python tests/benchmarks/start_up.py          aim: a ratio under 2
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""Modules are compiled once and kept, as on any machine that is not told otherwise."""
CALL = "import sheetfuncs; sheetfuncs.evaluate('THREAD_PITCH_DIAMETER', 'M20x2.5-6g', 'max')"


def seconds(code: str) -> float:
    """Wall time of a whole Python process that runs `code`."""
    start = time.perf_counter()
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT, env=ENVIRONMENT)
    return time.perf_counter() - start


def main() -> None:
    """Alternate the two, so that a change of the machine's speed falls on both."""
    seconds(CALL)  # compiles the modules
    pairs = [(seconds("pass"), seconds(CALL)) for _ in range(25)]
    empty, call = (statistics.median(times) for times in zip(*pairs))
    ratio = statistics.median(call / empty for empty, call in pairs)
    print(f"empty start {empty * 1000:.1f} ms, import and one call {call * 1000:.1f} ms: ratio {ratio:.2f}")


if __name__ == "__main__":
    main()
