"""Collecting filled workbooks against reading their cells with python-calamine, a reader written in Rust.

    python tests/benchmarks/collect.py        aims: under 3 on one core, two 1.7 times as fast, again under 0.05
    python tests/benchmarks/collect.py 1000       so many workbooks of 200 readings

The baseline reads the stored values of every sheet of a few workbooks, one after the other, and does nothing with them.
Ours is the time for each workbook of a whole run: reading with all checks of files that are made to do harm, judging
every row again, and writing the register in its three forms.
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
from unittest.mock import patch

import python_calamine

from sheetfuncs import standards
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back.collect import collect
from workbook_template.trade.typed import Inputs

READINGS, USUAL, BASELINE = 200, 24, 4
NUMBER = "J-000000"
JOB = "xl/worksheets/sheet2.xml"


def filled() -> bytes:
    """One workbook of 200 readings with its computed values; the sheet Job is not packed, to be changed quickly."""
    later = date(2027, 1, 1)
    values: Inputs = {
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
    """Seconds for each workbook that calamine reads."""
    start = time.perf_counter()
    for path in paths:
        book = python_calamine.CalamineWorkbook.from_path(path)
        rows = {title: book.get_sheet_by_name(title).to_python() for title in book.sheet_names}
        assert len(rows["Log"]) > READINGS
    return (time.perf_counter() - start) / len(paths)


def tell(words: str) -> None:
    """Show progress."""
    print(words, file=sys.stderr)


def main(count: int) -> None:
    """Print the ratios."""
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place) / "jobs"
        folder.mkdir()
        copies(filled(), count, folder)
        base = baseline(sorted(folder.iterdir())[:BASELINE])

        def run(cores: int) -> tuple[float, int]:
            out = Path(place) / str(cores)
            out.mkdir(exist_ok=True)
            with patch("os.cpu_count", return_value=cores):
                start = time.perf_counter()
                done = collect(folder, out / "r.xlsx", csv=out / "r.csv", db=out / "r.sqlite", say=tell)
            assert not done.passed_over
            return time.perf_counter() - start, done.added

        (alone, added), (two, same), (again, none) = run(1), run(2), run(2)
        assert (added, same, none) == (count * READINGS, count * READINGS, 0)
        outputs = sorted(Path(place).glob("2/r.*"))
        sizes = ", ".join(f"{path.name} {path.stat().st_size / 1e6:.1f} MB" for path in outputs)
    print(f"{count} workbooks of {READINGS} readings; {sizes}")
    each = alone / count
    print(f"one core: {each:.2f} s each, calamine alone {base:.2f} s: ratio {each / base:.2f} (aim under 3)")
    print(f"two cores: {two / count:.2f} s each: {alone / two:.2f} times faster (aim 1.7)")
    print(f"again with nothing new: {again:.2f} s of {two:.2f} s: ratio {again / two:.3f} (aim under 0.05)")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else USUAL)
