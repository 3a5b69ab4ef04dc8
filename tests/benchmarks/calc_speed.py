"""The functions in LibreOffice Calc against its own formulas, and what the extension adds to the office's start.

    python tests/benchmarks/calc_speed.py            aims: array call 2 times native formulas, start 1.3 times

10,000 rows of readings over wires become pitch diameters. Natively that is one formula a row, which finds the pitch of
the thread in a table (an exact match, as the workbook's own sheets do it) and takes off the wire constant. The table
has the four threads of the rows alone, which is the fairest a native formula can be; one of all standard threads and
the bare arithmetic, the pitch already in a cell beside it, are timed too. Every reading is another one, so that nothing
is worked out only once. Processor time of the office, the sum of some recalculations.
"""

from __future__ import annotations

import statistics
import subprocess
import tempfile
import time
from pathlib import Path

from log_answers import spent
from openpyxl import Workbook
from openpyxl.worksheet.formula import ArrayFormula

from sheetfuncs.hosts.calc.pack import build
from sheetfuncs.standards import unified, write
from workbook_template.office import Office, place

ROWS = 10_000
WIRE = 0.0361
ROUNDS, STARTS = 15, 9
THREADS = ("3/4-16 UNF", "7/8-16 UN", "1-16 UN", "1 1/4-16 UN")
NATIVE = "=E{row}-3*$H$1+0.8660254*{pitch}"
LOOKUP = "INDEX(Standard!$B$1:$B${last},MATCH(D{row},Standard!$A$1:$A${last},0))"
FORMULAS = {
    "native, bare arithmetic": NATIVE.replace("{pitch}", "F{row}"),
    "native, of four threads": NATIVE.replace("{pitch}", LOOKUP.replace("Standard", "Four").replace("{last}", "4")),
    "native, of all threads": NATIVE.replace("{pitch}", LOOKUP),
    "function, one call a cell": "=THREAD_PD_FROM_WIRES(D{row},$H$1,E{row})",
    "function, one array call": None,
}


def workbook(path: Path, formula: str | None) -> None:
    """Threads, readings and pitches down columns D to F, the formulas in G, the standard threads on a sheet."""
    book = Workbook()
    sheet = book.worksheets[0]
    standard = book.create_sheet("Standard")
    for thread in unified.standard_threads():
        standard.append([write(thread), thread.pitch])
    four = book.create_sheet("Four")
    for name in THREADS:
        four.append([name, 1 / 16])
    sheet["H1"] = WIRE
    for row in range(1, ROWS + 1):
        sheet.cell(row, 4, THREADS[row % len(THREADS)])
        sheet.cell(row, 5, (0.75, 0.875, 1.0, 1.25)[row % len(THREADS)] + row * 1e-7)
        sheet.cell(row, 6, 1 / 16)
        if formula:
            sheet.cell(row, 7, formula.format(row=row, last=standard.max_row))
    if not formula:
        area = f"G1:G{ROWS}"
        sheet["G1"] = ArrayFormula(area, f"=THREAD_PD_FROM_WIRES(D1:D{ROWS},H1,E1:E{ROWS})")
    book.save(path)


def milliseconds(office: Office, folder: Path, formula: str | None) -> tuple[float, list[float]]:
    """Processor time of a full recalculation, and the answers."""
    path = folder / "rows.xlsx"
    workbook(path, formula)
    with office.open(path) as document:
        document.recalculate()
        before = spent()
        for _ in range(ROUNDS):
            document.recalculate()
        needed = (spent() - before) * 1000 / ROUNDS
        answers = [row[0] for row in document[f"Sheet!G1:G{ROWS}"]]
    return needed, answers


def speed(folder: Path) -> None:
    """Print the time of each way and the ratios."""
    with Office() as office:
        office.install_extension(build(folder / "threads.oxt"))
        found = {name: milliseconds(office, folder, formula) for name, formula in FORMULAS.items()}
    bare, of_four, of_all, single, array = (found[name][0] for name in FORMULAS)
    (_, native), (_, ours) = found["native, of all threads"], found["function, one array call"]
    apart = max(abs(a - b) for a, b in zip(native, ours))
    print(f"{ROWS} rows; largest difference between native and function {apart:.1e} in")
    for name, (taken, _) in found.items():
        print(f"  {name:28} {taken:7.1f} ms  {taken * 1000 / ROWS:6.2f} us a cell")
    print(f"array call / native with a lookup of four: {array / of_four:.2f} (aim under 2)")
    print(f"array call / native with a lookup of all: {array / of_all:.2f};  / bare arithmetic: {array / bare:.1f}")
    print(f"single calls / array call: {single / array:.1f}")


def start_and_convert(office: Office, path: Path) -> float:
    """Seconds from nothing to a workbook turned into text by a cold office."""
    folder = office.stage()
    (folder / path.name).write_bytes(path.read_bytes())
    place.hand_over(folder, place.account())
    profile = f"-env:UserInstallation={(folder.parent / 'profile').as_uri()}"
    command = [place.soffice(), "--headless", profile, "--convert-to", "csv", "--outdir", str(folder), path.name]
    options = {"cwd": folder, "env": place.environment(folder.parent), **place.as_account(place.account())}
    start = time.perf_counter()
    subprocess.run([*command[:-1], str(folder / path.name)], check=True, capture_output=True, **options)
    return time.perf_counter() - start


def starts(folder: Path) -> None:
    """Print how long an office takes to start and load a small workbook, without and with the extension."""
    path = folder / "small.xlsx"
    book = Workbook()
    book.worksheets[0]["A1"] = "=1+1"
    book.save(path)
    with Office() as plain, Office() as extended:
        extended.install_extension(build(folder / "threads.oxt"))
        pairs = [(start_and_convert(plain, path), start_and_convert(extended, path)) for _ in range(STARTS)]
    without, with_it = (statistics.median(column) for column in zip(*pairs[1:]))
    print(f"start and one workbook: {without:.2f} s without, {with_it:.2f} s with the extension")
    print(f"ratio {with_it / without:.2f} (aim under 1.3)")


def main() -> None:
    """Both."""
    with tempfile.TemporaryDirectory() as folder:
        speed(Path(folder))
        starts(Path(folder))


if __name__ == "__main__":
    main()
