"""The cautions, read off every sheet as a person meets them: the words that the office computes, not their formulas."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

import pytest
from whole_books import plain_pages
from workbook_cases import Case

from sheetfuncs import lathe, standards
from workbook_template.office import Document
from workbook_template.sheets import cautions

AT_THE_MACHINE = ("Job", "Setup", "Card", "Lathe", "Diagnosis")
REVERSING = re.compile(r"reverse under power|in reverse|revers\w+ under power|back under power\.", re.IGNORECASE)
HANDLING = re.compile(
    r"gears? \d+/\d+|slip the spindle-side gear|idler|set gears|gear for|gears tooth by tooth", re.IGNORECASE
)
CHUCK = re.compile(r"(screwed[- ]on|screwed on).*(come off|unscrew|reverse)", re.IGNORECASE | re.DOTALL)
LOCKED = "power off and locked"
DEFERS = ("machine's manual", "local rules", "trained supervision")
TOOL = {"tip_kind": "nose radius", "tip_size": 0.003, "aim_limit": "mid", "passes": 8, "dial_division": 0.001}
SPEEDS = [[speed] for speed in (60, 110, 175)] + [[None]] * 37
LATHE = {
    "lathe_in_use": 1, "leadscrew_1": 8, "leadscrew_unit_1": "tpi", "dial_a_1": 32, "dial_lines_1": 8, "use_a_1": 20,
    "use_b_1": 44, "use_c_1": 50, "use_d_1": 37, "spindle_speeds_1": SPEEDS, "feed_reverse_1": "idler gear",
    "chuck_mount_1": None, "surface_speed": 40, "surface_speed_unit": "ft/min", "usable_relief": 0.3,
    "reaction_spread": 0.25,
}  # fmt: skip
"""1/2-13 by gears that are not exact: the half-nuts stay shut; how the chuck is mounted is not said."""


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


@lru_cache(maxsize=1)
def pages() -> dict[str, str]:
    """The printed cells of each sheet."""
    workbook = plain_pages().workbook
    return {
        ws.title: ws.print_area.replace("$", "").split("!")[-1].split(",")[0]
        for ws in workbook.worksheets
        if ws.print_area and ws.title != "Threads"
    }


def words(document: Document) -> dict[str, str]:
    """What stands on each page."""
    found = document.get([f"{title}!{area}" for title, area in pages().items()])
    return {
        title: "\n".join(str(cell) for row in rows for cell in row if isinstance(cell, str) and cell)
        for title, rows in zip(pages(), found)
    }


def choose(document: Document, callout: str, **inputs: object) -> None:
    thread = standards.read(callout)
    document.set(Case(thread, "in", TOOL).sheet() | LATHE | inputs)


def reversing_without_chuck(said: dict[str, str]) -> list[str]:
    """Sheets that speak of running in reverse and say nothing of the chuck."""
    return [title for title, text in said.items() if REVERSING.search(text) and not CHUCK.search(text)]


def gears_without_lock(said: dict[str, str]) -> list[str]:
    """Sheets where gears are handled and nothing says that the power is off."""
    return [title for title, text in said.items() if HANDLING.search(text) and LOCKED not in text.lower()]


JOBS = (
    ("1/2-13 UNC-2A", {}),
    ("1/2-13 UNC-2A", {"chuck_mount_1": "screwed on"}),
    ("1/2-13 UNC-2A-LH", {"usable_relief": 0.001}),
    ("M20x2.5-6g", {"usable_relief": 0.001, "use_a_1": 63, "use_b_1": 80, "use_c_1": None, "use_d_1": None}),
    ("3/4-16 UNF-2A", {"leadscrew_1": None}),
    ("3/4-16 UNF-2B", {"dial_lines_1": None, "use_b_1": 40, "use_c_1": None, "use_d_1": None}),
    ("1-0.2P-0.4L ACME-2G", {"tip_kind": "flat", "tip_size": 0.068, "starts": 2, "use_a_1": 64, "use_b_1": 20,
                             "use_c_1": None, "use_d_1": None}),
)  # fmt: skip


@pytest.mark.parametrize(("callout", "inputs"), JOBS)
def test_no_sheet_reverses_without_the_chuck_or_handles_gears_under_power(
    sheet: Document, callout: str, inputs: dict[str, object]
) -> None:
    choose(sheet, callout, **inputs)
    said = words(sheet)
    assert reversing_without_chuck(said) == []
    assert gears_without_lock(said) == []
    assert REVERSING.search(said["Lathe"] + said["Card"])
    for title in AT_THE_MACHINE:
        for caution in cautions.CAUTIONS:
            assert caution in said[title], (title, caution)
        assert all(part in said[title] for part in DEFERS), title
        assert "safe" not in said[title].lower(), title


def test_shut_half_nuts_do_not_stop_the_feed(sheet: Document) -> None:
    choose(sheet, "1/2-13 UNC-2A")
    carriage, nuts = sheet.get(["carriage_words", "half_nuts_words"])
    assert nuts.startswith("keep the half-nuts shut")
    assert "stop the spindle: it runs on, and the half-nuts stay shut" in carriage
    assert "stop the feed" not in carriage
    sheet.set({"use_a_1": 40, "use_b_1": 65, "use_c_1": None, "use_d_1": None})
    assert "draw the tool back, then open the half-nuts in the relief." in sheet["carriage_words"]


@pytest.mark.parametrize("mounting", ["cam lock", "bolted"])
def test_a_chuck_that_can_not_come_off_gets_no_line_of_a_screwed_one(sheet: Document, mounting: str) -> None:
    choose(sheet, "1/2-13 UNC-2A", chuck_mount_1=mounting)
    assert sheet["lathe_chuck_words"] == ""
    assert "screwed" not in sheet["reverse_words"]


def test_before_run_forward_the_reader_knows_what_must_be_clear(sheet: Document) -> None:
    choose(sheet, "1/2-13 UNC-2A")
    for text in words(sheet).values():
        for found in re.finditer("run forward", text):
            before = text[: found.start()].lower()
            assert "draw the tool clear of the work" in before[-250:]
            assert "nobody reaches in" in before[-250:]


@pytest.mark.parametrize(
    ("callout", "told"),
    [
        ("3/4-14 NPT external", "piping or pressure code"),
        ("R 3/4", "piping or pressure code"),
        ("Rc 3/4", "piping or pressure code"),
        ("Rp 3/4", "piping or pressure code"),
        ("G 3/4 A", "does not seal on its flanks"),
        ("3/8-24 UNJF-3A", "airworthiness authority"),
        ("MJ10x1.25-4h6h", "airworthiness authority"),
        ("3/4-16 UNF-2A", ""),
        ("M20x2.5-6g", ""),
    ],
)
def test_pipe_and_flight_threads_defer_to_who_governs_them(sheet: Document, callout: str, told: str) -> None:
    choose(sheet, callout)
    said = words(sheet)
    authority = standards.system(standards.read(callout)).authority
    assert told in authority
    for title in ("Setup", "Card", "Offer", "Certificate"):
        assert authority in said[title]
        assert bool(sheet[f"authority_{title.lower()}"]) == bool(told)


def test_taking_a_caution_out_is_seen(sheet: Document) -> None:
    """The readers above tell a page without its caution from one with it."""
    choose(sheet, "1/2-13 UNC-2A")
    said = words(sheet)
    without = {title: text.replace(lathe.SCREWED_CHUCK, "") for title, text in said.items()}
    assert {"Lathe", "Card"} <= set(reversing_without_chuck(without))
    unlocked = {title: re.sub(LOCKED, "", text, flags=re.IGNORECASE) for title, text in said.items()}
    assert {"Lathe", "Card", "Diagnosis"} <= set(gears_without_lock(unlocked))


def test_the_docs_defer_too() -> None:
    page = (Path(__file__).parent.parent / "docs" / "standards.md").read_text(encoding="utf-8")
    for word in ("piping or pressure code", "airworthiness authority", "do not seal on their flanks"):
        assert word in page
