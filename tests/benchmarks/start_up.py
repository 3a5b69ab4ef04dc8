"""How long a first answer takes: `import sheetfuncs` and one call, against an empty start of the same Python.

    python tests/benchmarks/start_up.py          aim: a ratio under 1.8

Both run in a Python of their own with nothing installed, the way to the package given to both: an editable install
loads an import hook at every start, which would slow the empty one. Processor time of the process.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import tempfile
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CALL = "import sheetfuncs; sheetfuncs.evaluate('THREAD_PITCH_DIAMETER', 'M20x2.5-6g', 'max')"
ROUNDS = 41


def seconds(python: Path, code: str) -> float:
    """Processor time of a whole Python process that runs `code`."""
    environment = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([python, "-c", code], check=True, env=environment | {"PYTHONPATH": str(ROOT)})
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Alternate the two, so that a change of the machine's speed falls on both."""
    with tempfile.TemporaryDirectory() as folder:
        venv.create(folder, with_pip=False)
        python = Path(folder, "bin", "python")
        seconds(python, CALL)  # compiles the modules, which stay compiled as on any machine
        pairs = [(seconds(python, "pass"), seconds(python, CALL)) for _ in range(ROUNDS)]
    empty, call = (statistics.median(times) for times in zip(*pairs))
    ratio = statistics.median(call / empty for empty, call in pairs)
    print(f"import and one call / empty start of Python: {ratio:.2f} (aim under 1.8)")
    print(f"  {call * 1000:.1f} ms and {empty * 1000:.1f} ms")


if __name__ == "__main__":
    main()
