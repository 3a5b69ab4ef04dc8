"""The finished file: stored values are what a recalculation gives, pages print as pages."""

from __future__ import annotations

import io
import re
import subprocess
import zipfile
from pathlib import Path

import openpyxl
import pytest
from lxml import etree
from workbook_cases import changed, demo_book, plain_book

from sheetfuncs import standards
from workbook_template import store
from workbook_template.build import chosen
from workbook_template.office import Office

ONE_PAGE = ("Job", "Setup", "Guide")
LETTER = ('paperSize="9"', 'paperSize="1"')


@pytest.mark.parametrize("made", [plain_book, demo_book], ids=["new", "demo"])
def test_stored_values_are_what_a_recalculation_gives(office: Office, tmp_path: Path, made) -> None:
    book, content = made()
    finished = store.finish(content, book.workbook.sheetnames, store.compute(book, content, office))
    path = tmp_path / "finished.xlsx"
    path.write_bytes(finished)
    stored = openpyxl.load_workbook(path, data_only=True)
    with office.open(path, recalculate=True) as document:
        for sheet in book.workbook:
            cells = [c.coordinate for row in sheet.iter_rows() for c in row if c.data_type == "f"]
            cells = cells[:400] + cells[-12:]
            if not cells:
                continue
            for place, now in zip(cells, document.get([(sheet.title, c) for c in cells])):
                was = stored[sheet.title][place]
                assert was.data_type != "e", (sheet.title, place)
                assert (was.value or "") == now if isinstance(now, str) else was.value == now, (sheet.title, place)


def test_nothing_but_values_is_added() -> None:
    book, content = demo_book()
    invented = {
        s.title: {c.coordinate: 1.5 for r in s.iter_rows() for c in r if c.data_type == "f"} for s in book.workbook
    }
    finished = store.finish(content, book.workbook.sheetnames, invented)
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(io.BytesIO(finished)) as new:
        assert old.namelist() == new.namelist()
        for name in old.namelist():
            before, after = old.read(name), new.read(name)
            if name.startswith("xl/worksheets/sheet"):
                before, after = (without_values(part) for part in (before, after))
            if name not in ("xl/styles.xml", "docProps/core.xml"):
                assert before == after, name


def without_values(data: bytes) -> bytes:
    """A sheet without the values of its formulas."""
    root = etree.fromstring(data)
    for formula in root.iter(f"{store.MAIN}f"):
        cell = formula.getparent()
        cell.attrib.pop("t", None)
        for value in cell.findall(f"{store.MAIN}v"):
            cell.remove(value)
    return etree.tostring(root, method="c14n")


def pages(office: Office, folder: Path, content: bytes, inputs: dict) -> list[str]:
    """The text of each printed page of the sheets that are one page."""
    path = folder / "pages.xlsx"
    for area in ("'Log'!$A$1:$J$2011", "'Threads'!$A$1:$S$"):  # the long sheets cut short
        content = changed(content, {"xl/workbook.xml": (area, area.replace("$2011", "$20").replace("$S$", "$S$1"))})
    path.write_bytes(content)
    with office.open(path) as document:
        document.set(inputs)
        document.save_as(folder / "pages.pdf")
    text = subprocess.run(["pdftotext", "-layout", str(folder / "pages.pdf"), "-"], capture_output=True, text=True)
    printed = text.stdout.rstrip("\f").split("\f")
    return [page for page in printed if page.split()[-5] not in ("Log", "Threads")]


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("left_hand", [False, True])
def test_job_setup_and_guide_are_one_page_each(office: Office, tmp_path: Path, paper: str, left_hand: bool) -> None:
    content = demo_book()[1]
    if paper == "Letter":
        content = changed(content, {"xl/worksheets/": LETTER})
    inputs = {"hand": "left" if left_hand else "right", "passes": 30, "spring_passes": 6, "dial_division": None}
    found = pages(office, tmp_path, content, inputs)
    assert [page.split()[-5] for page in found] == list(ONE_PAGE)
    for page in found[:2]:
        assert ("LEFT HAND THREAD" in page) == left_hand
        assert "3/4-16 UNF-2A" in page
    assert "Radial infeed for other tips" in found[1]
    assert " 36 " in found[1]


def test_digits_follow_the_working_unit(office: Office, tmp_path: Path) -> None:
    """A rule changes the number format, so only the printed page shows it. M20x2.5-6g: 18.334/18.164 (ISO 965-2)."""
    inputs = chosen(standards.read("M20x2.5-6g")) | {"unit": "mm", "tip_kind": "sharp", "passes": 4}
    job, setup, _ = pages(office, tmp_path, plain_book()[1], inputs)
    assert {"18.334", "18.164", "2.500"} <= set(job.split())
    assert "18.3340" not in job
    plan = [line.split()[-6:] for line in setup.splitlines() if re.search(r"( +[0-9]+\.[0-9]{3}){5} *$", line)]
    assert len(plan) >= 4
