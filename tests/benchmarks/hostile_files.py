"""How long a file that is made to do harm keeps the reader, against the reading of the filled example.

python tests/benchmarks/hostile_files.py            aim: none takes a tenth of the time of the example
"""

from __future__ import annotations

import contextlib
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from test_read_back_opening import HOSTILE, read_all, small

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back.opening import Unreadable


def seconds(path: Path, content: bytes) -> float:
    """Time to read one file to its end or its refusal."""
    path.write_bytes(content)
    start = time.perf_counter()
    with contextlib.suppress(Unreadable):
        read_all(path)
    return time.perf_counter() - start


def main() -> None:
    """Print the five slowest with their ratios."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "job.xlsx"
        book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
        example = seconds(path, store.package(book))
        good = small()
        found = sorted(((seconds(path, make(good)), name) for name, make, _ in HOSTILE), reverse=True)
    print(f"the filled example: {example:.2f} s; {len(found)} hostile files, the slowest:")
    for taken, name in found[:5]:
        print(f"  {name:24} {taken * 1000:7.1f} ms, {taken / example:.4f} of the example")


if __name__ == "__main__":
    main()
