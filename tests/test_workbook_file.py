"""The finished file: stored values are what a recalculation gives, pages print as pages."""

from __future__ import annotations

import io
import subprocess
from pathlib import Path

import openpyxl
import pytest
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
    kept = openpyxl.load_workbook(io.BytesIO(finished))
    for sheet in book.workbook:
        for row in sheet.iter_rows(max_row=60):
            for cell in row:
                assert kept[sheet.title][cell.coordinate].value == cell.value


def pages(office: Office, folder: Path, content: bytes, inputs: dict) -> list[str]:
    """The text of each printed page of the sheets that are one page."""
    path = folder / "pages.xlsx"
    hide = content
    for name, number in (("Log", 3), ("Threads", 4)):
        mark = f'name="{name}" sheetId="{number}" state="'
        hide = changed(hide, {"xl/workbook.xml": (f"{mark}visible", f"{mark}hidden")})
    path.write_bytes(hide)
    with office.open(path) as document:
        document.set(inputs)
        document.save_as(folder / "pages.pdf")
    text = subprocess.run(["pdftotext", "-layout", str(folder / "pages.pdf"), "-"], capture_output=True, text=True)
    return text.stdout.rstrip("\f").split("\f")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("left_hand", [False, True])
def test_job_setup_and_guide_are_one_page_each(office: Office, tmp_path: Path, paper: str, left_hand: bool) -> None:
    book, content = demo_book()
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
    assert not [word for word in setup.split("Passes")[1].split() if word.count(".") == 1 and len(word.split(".")[1]) > 3
                and word[0].isdigit() and not word.startswith("1.44")]  # fmt: skip
