"""The sheet Lathe in a real spreadsheet program: the dial rule word for word, levers, gears, speed, feed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from published_rows import rows
from workbook_cases import plain_book

from sheetfuncs import lathe, standards
from sheetfuncs.designations import Thread
from workbook_template import demo_lathe, lathe_file, lathe_sheet
from workbook_template.build import chosen
from workbook_template.office import Document, Error, Office

NAMES = [entry for entry in plain_book()[0].entries if entry.sheet == lathe_sheet.SHEET]
INPUTS = {entry.name: entry.ref for entry in NAMES if entry.role == "input"}


def rows_of(ref: str) -> int:
    """How many cells a column has; 0 for a single cell."""
    first, _, last = ref.partition(":")
    return int("".join(filter(str.isdigit, last))) - int("".join(filter(str.isdigit, first))) + 1 if last else 0


def filled(values: dict[str, Any]) -> dict[str, Any]:
    """Every input of the sheet, those not in `values` empty; a list fills a column from the top."""
    cells: dict[str, Any] = {}
    for name, ref in INPUTS.items():
        value, count = values.get(name), rows_of(ref)
        if count:
            column = [*(value or []), *[None] * count][:count]
            cells[name] = [[one] for one in column]
        else:
            cells[name] = value
    return cells


BOTH = {key: value for key, value in demo_lathe.values("3/4-16 UNF-2A").items()}


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open, with both demo lathes typed in."""
    path = tmp_path_factory.mktemp("lathe") / "new.xlsx"
    path.write_bytes(plain_book()[1])
    with office.open(path) as document:
        document.set(filled(BOTH))
        yield document


@pytest.fixture
def demo(sheet: Document) -> Iterator[Document]:
    """The workbook with the demo lathes as they were; what a test types is taken back."""
    yield sheet
    sheet.set({"hand": "right", "starts": 1, **filled(BOTH)})


def choose(sheet: Document, callout: str, unit: str = "in", **inputs: Any) -> None:
    """Choose a thread, and type."""
    sheet.set({**chosen(standards.read(callout)), "unit": unit, "thread_length": None, **inputs})


THREADS = (
    *("2 1/2-4 UNC-2A", "2-4.5 UNC-2A", "1 3/4-5 UNC-2A", "1 1/2-6 UNC-2A", "1-8 UNC-2A", "5/8-11 UNC-2A"),
    *("1-11 1/2 NPT", "1/2-13 UNC-2A", "3/4-10 UNC-2A", "7/8-14 UNF-2A", "3/4-16 UNF-2A", "1/8-27 NPT"),
    *("3/4-16 UNF-2B", "1/4-28 UNF-2A", "1/4-19 BSF", "M16x2-6g", "M20x2.5-6g", "M8x1.25-6g", "M10x1.5-6g", "M6x1-6g"),
)
DIALS = (
    *(("8 tpi", 32, 8), ("4 tpi", 16, 8), ("6 tpi", 18, 9), ("5 tpi", 15, 10), ("8 tpi", 30, 12)),
    *(("3 mm", 20, 4), ("6 mm", 14, 7), ("6 mm", 15, 12)),
)


def known(callouts: tuple[str, ...]) -> list[Thread]:
    """Those that the workbook's table holds."""
    return [standards.read(callout) for callout in callouts if callout != "1/4-19 BSF"]


def test_the_dial_rule_is_that_of_the_function(demo: Document) -> None:
    """Every lead on every dial, two dials at a time; one start and three."""
    compared, kinds = 0, set()
    for thread in known(THREADS):
        for starts in (1, 3):
            work = thread._replace(starts=starts)
            demo.set({**chosen(thread), "starts": starts})
            for one, two in zip(DIALS[::2], DIALS[1::2]):
                typed = {}
                for number, (screw, teeth, lines) in ((1, one), (2, two)):
                    value, unit = screw.split()
                    typed |= {f"leadscrew_{number}": float(value), f"leadscrew_unit_{number}": unit}
                    typed |= {f"dial_a_{number}": teeth, f"dial_lines_{number}": lines}
                demo.set(typed)
                found = demo.get(["lathe_dial_words_1", "lathe_dial_words_2", "lathe_half_nuts_1", "lathe_half_nuts_2"])
                for number, (screw, teeth, lines) in enumerate((one, two)):
                    words = lathe.dial(work, lathe.read_leadscrew(screw), teeth, lines)
                    assert found[number] == words, (thread, starts, screw, teeth, lines)
                    assert bool(found[number + 2]) == words.startswith("close"), words
                    compared, kinds = compared + 1, kinds | {words[:40]}
    assert compared > 250
    assert len(kinds) >= 5
