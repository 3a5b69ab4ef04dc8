"""Makes the pictures of the workbook's sheets: the demo, printed to PDF, the first page of some sheets as PNG.

python docs/pictures.py            needs LibreOffice and poppler; writes docs/pictures/*.png again
"""

from __future__ import annotations

import subprocess
import tempfile
from pathlib import Path

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Office, pdf_pages

FOLDER = Path(__file__).parent / "pictures"
SHOWN = ("Job", "Setup", "Log", "Lathe", "Estimate", "Charts", "Certificate", "Threads", "Guide")
"""Sheets that README shows."""


def main() -> None:
    """Build the demo, print it, keep the first page of each sheet shown."""
    FOLDER.mkdir(exist_ok=True)
    book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
    with tempfile.TemporaryDirectory() as scratch, Office() as office:
        workbook, pdf = Path(scratch) / "demo.xlsx", Path(scratch) / "demo.pdf"
        workbook.write_bytes(store.package(book))
        with office.open(workbook) as document:
            document.save_as(pdf)
        text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True).stdout
        on_sheet = [page.split()[-5] for page in text.rstrip("\f").split("\f")]  # the footer: Job page 1 of 79
        pages = pdf_pages(pdf, Path(scratch), dpi=75)
        for name in SHOWN:
            (FOLDER / f"{name.lower()}.png").write_bytes(pages[on_sheet.index(name)].read_bytes())


if __name__ == "__main__":
    main()
