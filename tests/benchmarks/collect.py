"""Collecting filled workbooks against reading their logs with openpyxl.

    python tests/benchmarks/collect.py            aim: under 1
    python tests/benchmarks/collect.py 1000       so many workbooks of 200 readings, once, to the end

The baseline reads the cells of the sheet Log (openpyxl's read-only mode, stored values) of a few workbooks, one after
the other, and does nothing with them. Ours is the time for each workbook of a whole run: reading, judging every row
again, and writing the register in its three forms, on all cores.
"""

from __future__ import annotations

import io
import sys
import tempfile
import time
import zipfile
import zlib
from datetime import date
from pathlib import Path

import openpyxl

from sheetfuncs import standards
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back.collect import collect

READINGS, USUAL, BASELINE = 200, 24, 4
NUMBER = "J-000000"
JOB = "xl/worksheets/sheet1.xml"


def filled() -> bytes:
    """One workbook of 200 readings with its computed values; the sheet Job is not packed, to be changed quickly."""
    later = date(2027, 1, 1)
    values = {
        "job_number": NUMBER,
        "wire_set": "W-12",
        "instrument_id": ["M-7"],
        "instrument_due": [later],
        "wires_id": ["W-12"],
        "wires_a": [0.0361],
        "wires_due": [later],
        "as_of": date(2026, 3, 10),
        "log_serial": [str(number) for number in range(1, READINGS + 1)],
        "log_reading": [0.7590 + 0.0001 * (number % 40) for number in range(READINGS)],
        "log_crest": [0.7440] * READINGS,
        "log_instrument": ["M-7"] * READINGS,
        "log_when": [date(2026, 3, 5)] * READINGS,
    }
    book = build(threads=[standards.read("3/4-16 UNF-2A")], values=values)
    content = store.package(book, store.compute(book))
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            new.writestr(name, old.read(name), zipfile.ZIP_STORED if name == JOB else zipfile.ZIP_DEFLATED)
    return stream.getvalue()


def copies(content: bytes, count: int, folder: Path) -> None:
    """The same workbook with other job numbers, without packing it again each time."""
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        data = package.read(JOB)
        check = package.getinfo(JOB).CRC.to_bytes(4, "little")
    for number in range(count):
        own = f"J-{number:06}".encode()
        changed = content.replace(NUMBER.encode(), own)
        crc = zlib.crc32(data.replace(NUMBER.encode(), own)).to_bytes(4, "little")
        (folder / f"{own.decode()}.xlsx").write_bytes(changed.replace(check, crc))


def baseline(paths: list[Path]) -> float:
    """Seconds for each log that openpyxl reads."""
    start = time.perf_counter()
    for path in paths:
        book = openpyxl.load_workbook(path, read_only=True, data_only=True)
        rows = list(book["Log"].iter_rows(values_only=True))
        assert len(rows) > READINGS
        book.close()
    return (time.perf_counter() - start) / len(paths)


def tell(words: str) -> None:
    """Show progress."""
    print(words, file=sys.stderr)


def main(count: int) -> None:
    """Print the ratio."""
    with tempfile.TemporaryDirectory() as place:
        folder, out = Path(place) / "jobs", Path(place)
        folder.mkdir()
        copies(filled(), count, folder)
        base = baseline(sorted(folder.iterdir())[:BASELINE])

        def run() -> tuple[float, int]:
            start = time.perf_counter()
            done = collect(folder, out / "r.xlsx", csv=out / "r.csv", db=out / "r.sqlite", say=tell)
            assert not done.passed_over
            return time.perf_counter() - start, done.added

        (first, added), (again, none) = run(), run()
        assert (added, none) == (count * READINGS, 0)
        sizes = ", ".join(f"{path.name} {path.stat().st_size / 1e6:.1f} MB" for path in sorted(out.glob("r.*")))
    print(f"{count} workbooks of {READINGS} readings: {first:.1f} s, again with nothing new {again:.1f} s; {sizes}")
    each = first / count
    print(f"for each {each:.2f} s, openpyxl alone {base:.2f} s: ratio {each / base:.2f} (aim under 1)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else USUAL)
