"""Makes the pictures of the workbook: the demo as it prints, and some of its sheets in a real Calc window.

python docs/pictures.py            writes docs/pictures/*.png again
                                   needs LibreOffice, poppler, and for the windows Xvfb and ImageMagick's import
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import tempfile
import time
import zipfile
from pathlib import Path

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.office import Office, pdf_pages, place
from workbook_template.paper import heights

FOLDER = Path(__file__).parent / "pictures"
ON_SCREEN = ("Start", "Job", "Setup", "Log")
ON_PAPER = ("Card", "Lathe", "Quote", "Charts", "Certificate")
"""Sheets whose first page is shown; of Card both pages."""

DISPLAY, WIDE, HIGH = ":471", 1366, 768
SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N">
<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>en-US</value></prop></item>
<item oor:path="/org.openoffice.Office.Common/Misc">
<prop oor:name="ShowTipOfTheDay" oor:op="fuse"><value>false</value></prop></item>
<item oor:path="/org.openoffice.Setup/Product">
<prop oor:name="LastTimeDonateShown" oor:op="fuse"><value>4102444800</value></prop></item>
<item oor:path="/org.openoffice.Setup/Product">
<prop oor:name="LastTimeGetInvolvedShown" oor:op="fuse"><value>4102444800</value></prop></item>
<item oor:path="/org.openoffice.Setup/Office/Factories/org.openoffice.Setup:Factory['com.sun.star.sheet.\
SpreadsheetDocument']"><prop oor:name="ooSetupFactoryWindowAttributes" oor:op="fuse">\
<value>0,0,1366,768;1;0,0,0,0;</value></prop></item>
</oor:items>
"""
"""A profile that asks nothing and fills the screen."""


def main() -> None:
    """Build the demo, print it, open it; keep what is shown."""
    FOLDER.mkdir(exist_ok=True)
    for old in FOLDER.glob("*.png"):
        old.unlink()
    book = build(threads=[standards.read(demo.THREAD)], values=demo.values())
    values = store.compute(book)
    heights.grow(book, values)  # as the command does
    content = store.package(book, values)
    with tempfile.TemporaryDirectory() as scratch:
        workbook = Path(scratch) / "demo.xlsx"
        workbook.write_bytes(content)
        on_paper(workbook, Path(scratch))
    on_screen(content, book.workbook.sheetnames)


def on_paper(workbook: Path, scratch: Path) -> None:
    """The first pages of sheets as they print."""
    pdf = scratch / "demo.pdf"
    with Office() as office, office.open(workbook, recalculate=False) as document:
        document.save_as(pdf)
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True).stdout
    feet = [page.rstrip().rsplit("\n", 1)[-1].strip() for page in text.rstrip("\f").split("\f")]
    pages = pdf_pages(pdf, scratch, dpi=75)
    for name in ON_PAPER:
        mine = [page for page, foot in zip(pages, feet) if foot.split("  ")[0] == name]
        for number, page in enumerate(mine[: 2 if name == "Card" else 1], start=1):
            keep(page, f"{name.lower()}{'' if number == 1 else f'_{number}'}")


def on_screen(content: bytes, sheets: list[str]) -> None:
    """Sheets in a window of Calc on a display of our own, as big as a laptop's."""
    screen = ["Xvfb", DISPLAY, "-screen", "0", f"{WIDE}x{HIGH}x24", "-noreset", "-nolisten", "tcp"]
    display = subprocess.Popen(screen, stderr=subprocess.DEVNULL)
    try:
        for name in ON_SCREEN:
            window(opens_on(content, sheets.index(name)), f"{name.lower()}_screen")
    finally:
        display.terminate()
        display.wait()


def opens_on(content: bytes, sheet: int) -> bytes:
    """The workbook with another sheet in front."""
    changed = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(changed, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            data = old.read(part)
            if part == "xl/workbook.xml":
                data = re.sub(rb'activeTab="\d+"', b'activeTab="%d"' % sheet, data)
            new.writestr(part, data)
    return changed.getvalue()


def window(content: bytes, name: str) -> None:
    """Open a workbook in a window, wait until the picture stands still, keep it."""
    user = place.account()
    folder = place.make_folder(user)
    settings = folder / "profile" / "user" / "registrymodifications.xcu"
    settings.parent.mkdir()
    settings.write_text(SETTINGS, encoding="utf-8")
    (folder / "job.xlsx").write_bytes(content)
    place.hand_over(folder, user)
    profile = f"-env:UserInstallation={(folder / 'profile').as_uri()}"
    office = subprocess.Popen(
        [place.soffice(), profile, "--nologo", "--norestore", str(folder / "job.xlsx")],
        env={**place.environment(folder), "DISPLAY": DISPLAY},
        start_new_session=True,
        stderr=subprocess.PIPE,
        text=True,
        **place.as_account(user),
    )
    try:
        keep(still(folder / "seen.png", office), name)
    finally:
        place.kill_group(office)
        shutil.rmtree(folder)


def still(picture: Path, office: subprocess.Popen[str]) -> Path:
    """A picture of the display that is the same three times running, and not of an empty display."""
    seen: list[bytes] = []
    while len(seen) < 3 or len({*seen[-3:]}) > 1 or len(seen[-1]) < 20_000:
        if office.poll() is not None:
            raise RuntimeError(f"LibreOffice ended before it showed the sheet: {office.communicate()[1]}")
        time.sleep(4)
        take = ["import", "-display", DISPLAY, "-window", "root", "-strip", "-define", "png:exclude-chunks=date,time"]
        subprocess.run([*take, str(picture)], check=True)
        seen.append(picture.read_bytes())
    return picture


def keep(picture: Path, name: str) -> None:
    """Put a picture where the pages look for it."""
    shutil.copyfile(picture, FOLDER / f"{name}.png")


if __name__ == "__main__":
    main()
