"""`check` has nothing to say of a workbook that nobody touched but to fill it in and save it in LibreOffice."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import pytest
from read_back_files import COLUMNS, Filled, part, with_parts

from workbook_template.office import Document, Office
from workbook_template.read_back import check, findings
from workbook_template.read_back.check import Checked

pytestmark = pytest.mark.usefixtures("short_table")

DAY = 46086  # 2026-03-05
OVER_WIRES, DIRECT = {"instrument": "M-7", "wires": "W-12"}, {"instrument": "T-2"}


@pytest.fixture(scope="module")
def sheet(office: Office, filled: Filled, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """A job with its instruments and wires, open."""
    path = tmp_path_factory.mktemp("lots") / "job.xlsx"
    path.write_bytes(filled.sample.content)
    with office.open(path) as opened:
        yield opened


def differing(found: Checked) -> list[str]:
    return list(findings.lines(found.findings, every=True))


def log(sheet: Document, **columns: Sequence[Any]) -> None:
    """Fill the log with these columns alone."""
    rows = len(sheet["log_serial"])
    typed = {name: [*columns.get(name, ())] for name in COLUMNS}
    sheet.set({f"log_{name}": [[one] for one in [*cells, *[None] * rows][:rows]] for name, cells in typed.items()})


def checked(sheet: Document, path: Path, serials: Sequence[Any], sizes: Sequence[float], **how: str) -> Checked:
    """A lot that was measured by one instrument, saved and checked."""
    rows = len(serials)
    said = {name: [text] * rows for name, text in how.items()} | {"who": ["inspector"] * rows, "when": [DAY] * rows}
    log(sheet, serial=serials, **{"reading" if "wires" in how else "direct": sizes}, **said)
    return check.check(sheet.save_as(path))


def steps(first: float, step: float, count: int) -> list[float]:
    return [round(first + step * number, 4) for number in range(count)]


@pytest.mark.parametrize("count", [3, 6])
def test_readings_that_are_all_the_same(sheet: Document, tmp_path: Path, count: int) -> None:
    """No program makes a capability of what it leaves of the difference of equal numbers."""
    reading = {3: 0.7603, 6: 0.7607}[count]  # 3 x and 6 x don't divide into x again
    found = checked(sheet, tmp_path / "job.xlsx", range(1, count + 1), [reading] * count, **OVER_WIRES)
    assert sheet["capability_words"].startswith("All readings are the same")
    assert differing(found) == []


@pytest.mark.parametrize(
    ("sizes", "how", "left"),
    [
        (steps(0.7045, 0.0001, 18), DIRECT, 17),
        (steps(0.7050, 0.0001, 18), DIRECT, 12),
        (steps(0.7590, 0.0001, 18), OVER_WIRES, 13),
    ],
)
def test_readings_on_one_line(
    sheet: Document, tmp_path: Path, sizes: list[float], how: dict[str, str], left: int
) -> None:
    """By hand: from the last, .7062, to .7079 (ASME B1.1-2003, Table 2A) are 17 steps, from .7067 12.

    .7607 over wires is .7065, so 13.9 steps.
    """
    found = checked(sheet, tmp_path / "job.xlsx", range(1, len(sizes) + 1), sizes, **how)
    assert (sheet["trend_s"], sheet["trend_parts_left"]) == (0, left)
    assert differing(found) == []


SIGNS = ("2026/A", "2026-A", "2026_A", "S/N 1", "S/N-2", "S/N_3", "a~1", "a.1", "a?1", "A 1", "a*1")


def test_parts_numbered_with_signs(sheet: Document, tmp_path: Path) -> None:
    """Each program puts them into another order; which part was logged before is no question of order."""
    serials = [*SIGNS, "2026_a", "S/N-2", "A~1"]
    found = checked(sheet, tmp_path / "job.xlsx", serials, steps(0.76, 0.0001, len(serials)), **OVER_WIRES)
    assert differing(found) == []
    again = [one.words.split()[1] for one in found.remarks if one.kind == "part again"]
    assert again == ['"2026_a"', '"S/N-2"', '"A~1"']


@pytest.mark.parametrize("recalculate", [False, True])
def test_number_formats_of_a_file_that_was_an_ods_between(
    sheet: Document, office: Office, tmp_path: Path, recalculate: bool
) -> None:
    """Cells of yes and no have words for it then, as their format."""
    log(sheet, serial=["1"], reading=[0.76])
    with office.open(sheet.save_as(tmp_path / "job.ods"), recalculate=recalculate) as document:
        path = document.save_as(tmp_path / "job.xlsx")
    assert b'formatCode="&quot;TRUE&quot;;&quot;TRUE&quot;;&quot;FALSE&quot;"' in part(path.read_bytes(), STYLES)
    assert differing(check.check(path)) == []


STYLES, BOOK = "xl/styles.xml", "xl/workbook.xml"


def test_number_formats_where_the_unit_was_chosen_and_chosen_back(
    built_short: Mapping[str, Path], office: Office, tmp_path: Path
) -> None:
    """A 0 loses its format, hidden working figures get one of per cent, which is told once somebody can see them."""
    with office.open(built_short["demo.xlsx"], recalculate=False) as document:
        for unit in ("mm", "in"):
            document.edit("unit", unit)
            path = document.save_as(tmp_path / f"{unit}.xlsx")
    assert differing(check.check(path)) == []
    book = part(path.read_bytes(), BOOK).decode()
    seen = book.replace('name="Working" sheetId="24" state="hidden"', 'name="Working" sheetId="24" state="visible"')
    assert seen != book
    path.write_bytes(with_parts(path.read_bytes(), {BOOK: seen.encode()}))
    found = [one for one in check.check(path).findings if one.kind == "number format"]
    assert {one.sheet for one in found} == {"Working"}
    assert all('is now "0.00%"' in one.words for one in found)
