"""The size on the sheet Job as people type it, and the diameter that makes its list short: in a real program.

What a typed size means is compared with the standards' own readers, which share nothing with the sheet's formulas.
"""

from __future__ import annotations

import re

import pytest
from workbook_cases import Case

from sheetfuncs import evaluate, standards
from workbook_template.__main__ import main
from workbook_template.office import Document
from workbook_template.read_back import thread_figures

EMPTY = {"thread_system": None, "thread_diameter": None, "thread_size": None, "thread_class": None}


@pytest.fixture(scope="module")
def opened(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


@pytest.fixture
def sheet(opened: Document) -> Document:
    opened.set(Case(standards.read("3/4-16 UNF-2A"), "in", {}).sheet() | EMPTY)
    return opened


# typed, system, class, the thread that it is, whether the sheet says what it took
TYPED = (
    ("3/4-16 UNF", "Unified", "2A", "3/4-16 UNF-2A", False),
    ("3/4-16 unf ", "Unified", "2A", "3/4-16 UNF-2A", True),
    ("3/4-16UNF", "Unified", "2A", "3/4-16 UNF-2A", False),
    ("3/4-16unf-2A", "Unified", "2A", "3/4-16 UNF-2A", True),
    ("#10-32UNF", "Unified", "2A", "#10-32 UNF-2A", False),
    ("No. 10-32 UNF", "Unified", "2A", "#10-32 UNF-2A", False),
    ("no.8-32UNC", "Unified", "2B", "#8-32 UNC-2B", False),
    ("3/8-24unjf", "UNJ", "3A", "3/8-24 UNJF-3A", True),
    ("2-4BUTT", "Buttress", "2A", "2-4 BUTT-2A", False),
    ("1/2-12bsw", "Whitworth", "medium bolt", "1/2-12 BSW medium bolt", True),
    ("1-11-1/2NPT", "NPT pipe", "external", "1-11.5 NPT external", True),
    ("1-1/4-7 UNC-2A", "Unified", "2A", "1 1/4-7 UNC-2A", True),
    ("1-1/4-7 UNC", "Unified", "2A", "1 1/4-7 UNC-2A", True),
    ("3/4-16 UNF 2A", "Unified", "2A", "3/4-16 UNF-2A", True),
    ("3/4-16UNF 2B", "Unified", "2B", "3/4-16 UNF-2B", True),
    ("3/4-16 2A", "Unified", "2A", "3/4-16 UNF-2A", True),
    ("1/2-12 2A", "Unified", "2A", "1/2-12 UNS-2A", True),  # BSW has no 2A
    ("1/2-12-3B", "Unified", "3B", "1/2-12 UNS-3B", True),
    ("3/8-20 2A", "Unified", "2A", "3/8-20 UN-2A", True),
    ("10-32 2A", "Unified", "2A", "#10-32 UNF-2A", True),
    ("1/2 UNC 2B", "Unified", "2B", "1/2-13 UNC-2B", True),
    ("2-4 1/2 UNC 2A", "Unified", "2A", "2-4.5 UNC-2A", True),
    ("1-5 ACME 2G", "Acme", "2G", "1-5 ACME-2G", True),
    ("1/2-12 BSW medium bolt", "Whitworth", "medium bolt", "1/2-12 BSW medium bolt", True),
    ("1 NPT external", "NPT pipe", "external", "1-11.5 NPT external", True),
    ("M20x2.5 6g", "ISO metric", "6g", "M20x2.5-6g", True),
    ("M20 6H", "ISO metric", "6H", "M20x2.5-6H", True),
    ("M6x1.0 4g6g", "ISO metric", "4g6g", "M6x1-4g6g", True),
    ("1 1/4 – 7 UNC", "Unified", "2A", "1 1/4-7 UNC-2A", False),
    ("2-4 1/2 UNC", "Unified", "2A", "2-4.5 UNC-2A", True),
    ("2-1/4-4 1/2 UNC-2A", "Unified", "2A", "2 1/4-4.5 UNC-2A", True),
    ("2-4 1/2", "Unified", "2A", "2-4.5 UNC-2A", True),
    ("1-11 1/2 NPT", "NPT pipe", "external", "1-11.5 NPT external", True),
    ("1-11-1/2 NPT", "NPT pipe", "external", "1-11.5 NPT external", True),
    ("1-11-1/2", "NPT pipe", "external", "1-11.5 NPT external", True),
    ('1 1/4"-11-1/2 NPT', "NPT pipe", "internal", "1 1/4-11.5 NPT internal", True),
    ("1-1/2-11-1/2 NPT", "NPT pipe", "external", "1 1/2-11.5 NPT external", True),
    ("2-1/4-4-1/2 UNC-2A", "Unified", "2A", "2 1/4-4.5 UNC-2A", True),
    ('1-1/2"-6 UNC', "Unified", "2A", "1 1/2-6 UNC-2A", True),
    ('3/4"-16 UNF', "Unified", "2A", "3/4-16 UNF-2A", False),
    ("1 1/2-11 1/2 NPT", "NPT pipe", "internal", "1 1/2-11.5 NPT internal", True),
    ("1/4-20", "Unified", "2A", "1/4-20 UNC-2A", True),
    ("1/4-20-2B", "Unified", "2B", "1/4-20 UNC-2B", True),
    ("1/4-20", "Whitworth", "medium bolt", "1/4-20 BSW medium bolt", True),
    ("3/4-16", "Unified", "3A", "3/4-16 UNF-3A", True),
    ("10-32", "Unified", "2A", "#10-32 UNF-2A", True),
    ("10-24-2B", "Unified", "2B", "#10-24 UNC-2B", True),
    ("10-32 UNF", "Unified", "2A", "#10-32 UNF-2A", True),
    ("6-32unc-2A", "Unified", "2A", "#6-32 UNC-2A", True),
    ("1-64", "Unified", "2A", "#1-64 UNC-2A", True),
    ("1-12", "Unified", "2A", "1-12 UNF-2A", True),  # the inch comes before the number
    ("8-36", "UNJ", "3A", "#8-36 UNJF-3A", True),
    ("1/2 UNC", "Unified", "2A", "1/2-13 UNC-2A", True),
    ("1-1/4 UNF-2A", "Unified", "2A", "1 1/4-12 UNF-2A", True),
    ("#10unc", "Unified", "2A", "#10-24 UNC-2A", True),
    ("1 NPT", "NPT pipe", "external", "1-11.5 NPT external", True),
    ("1NPT", "NPT pipe", "internal", "1-11.5 NPT internal", True),
    ('1-1/2" npt', "NPT pipe", "external", "1 1/2-11.5 NPT external", True),
    ("1-1/2 NPT", "NPT pipe", "external", "1 1/2-11.5 NPT external", True),
    ("3/4 NPSM", "NPSM pipe", "external", "3/4-14 NPSM external", True),
    ("3/8 BSW", "Whitworth", "medium bolt", "3/8-16 BSW medium bolt", True),
    ("M6x1.0", "ISO metric", "6g", "M6x1-6g", True),
    ("M6x1.0-6g", "ISO metric", "6g", "M6x1-6g", True),
    ("M8x1.25", "ISO metric", "6g", "M8x1.25-6g", False),
    ("M20×2.5", "ISO metric", "6H", "M20x2.5-6H", False),
    ("M20 x 2.50", "ISO metric", "6H", "M20x2.5-6H", True),
    ("m20x2.5\N{NO-BREAK SPACE}", "ISO metric", "6g", "M20x2.5-6g", True),
    ("M20", "ISO metric", "6g", "M20x2.5-6g", True),
    ("M20-6g", "ISO metric", "6g", "M20x2.5-6g", True),
    ("Tr40×7", "ISO trapezoidal", "7e", "Tr40x7-7e", False),
)


@pytest.mark.parametrize(("typed", "system", "name", "callout", "told"), TYPED)
def test_as_typed(sheet: Document, typed: str, system: str, name: str, callout: str, told: bool) -> None:
    """One cell after another, as a person does."""
    for cell in ({"thread_system": system}, {"thread_size": typed}, {"thread_class": name}):
        sheet.set(cell)
    wanted = standards.read(callout)
    found, note, pitch, low, high = sheet.get(
        ["callout", "thread_note", "pitch", "pitch_diameter_min", "pitch_diameter_max"]
    )
    assert found == standards.write(wanted)
    limits = evaluate("THREAD_LIMITS", callout, "in")[2]
    assert (low, high) == pytest.approx((limits[2], limits[1]), abs=1e-9)
    assert pitch == pytest.approx(evaluate("THREAD_PITCH", callout, "in"))
    listed = standards.write(wanted.size)
    said = " ".join(re.sub(r"(\d)([A-Za-z]{2})", r"\1 \2", typed).split()).replace(" x ", "x").replace('"', "")
    assert note.startswith(f"{said} taken as {listed}. ") == told, note
    assert ("taken as" in note) == told
    inputs = {"thread_system": system, "thread_size": typed, "thread_class": name, "hand": "right", "starts": 1}
    assert thread_figures.thread_of(inputs | {"unit": "in"}) == wanted
    if system in ("Unified", "ISO metric"):
        assert standards.read(typed).size == wanted.size  # the reader of callouts takes it for the same size


UNKNOWN = (
    "{} is not on the sheet Threads for the system {}: write it as listed there, as in 3/4-16 UNF or M20x2.5; a "
    "special is listed by new --thread."
)
REFUSED = (
    (None, "Unified", "2A", "Choose a size of the system Unified."),
    (" ", "Unified", "2A", "Choose a size of the system Unified."),
    ("3/4-16 UNF 2X", "Unified", "2A", UNKNOWN),  # no class of any standard
    ("3/4-16 UNF 2C", "Unified", "2A", "The size says 2C, the class below says 2A: make them the same."),
    ("3/4-16 UNF", "ISO metric", "6g",
     "3/4-16 UNF is of the system Unified, not of ISO metric: choose that system, or another size."),
    ("1-1/2", "NPT pipe", "external", UNKNOWN),  # no threads per inch: no half
    ("1-1/2 NP", "NPT pipe", "external", UNKNOWN),
    ("1 NPSM", "NPT pipe", "external",
     "1 NPSM is of the system NPSM pipe, not of NPT pipe: choose that system, or another size."),
    ("1 *", "NPT pipe", "external", UNKNOWN),
    ("* NPT", "NPT pipe", "external", UNKNOWN),
    ("1/2 UN", "Unified", "2A", UNKNOWN),  # of several pitches
    ("10-33", "Unified", "2A", UNKNOWN),
    ("1 ACME", "Acme", "2G external", UNKNOWN),  # others than the preferred may be meant
    ("1-11-1/4 NPT", "NPT pipe", "external", UNKNOWN),
    ("3/4-15", "Unified", "2A", UNKNOWN),
    ("M72", "ISO metric", "6g", UNKNOWN),  # ISO 261 has no coarse pitch for it
    ("M20", "Unified", "2A", UNKNOWN),
    ("M20x2,5", "ISO metric", "6g", UNKNOWN),
    ("3/4-16 UNF-2B", "Unified", "2A", "The size says 2B, the class below says 2A: make them the same."),
    ("3/4-16 UNF-2A-LH", "Unified", "2A", "3/4-16 UNF-2A-LH: leave off the hand; it is chosen below."),
    ("1-8UNC-2A lh", "Unified", "2A", "1-8UNC-2A lh: leave off the hand; it is chosen below."),
    ("M20-2", "ISO metric", "6g", "The size says 2, the class below says 6g: make them the same."),
    ("*", "Unified", "2A", UNKNOWN),
    (20, "ISO metric", "6g", UNKNOWN),
)  # fmt: skip


@pytest.mark.parametrize(("typed", "system", "name", "said"), REFUSED)
def test_what_it_does_not_know_has_no_figures(
    sheet: Document, typed: object, system: str, name: str, said: str
) -> None:
    sheet.set({"thread_system": system, "thread_class": name})
    sheet.set({"thread_size": typed})
    told = said.format(typed, system)
    assert sheet.get(["thread_note", "callout", "pitch", "blank_aim"]) == [told, "Choose a thread", "", ""]
    inputs = {"thread_system": system, "thread_size": typed, "thread_class": name, "hand": "right", "starts": 1}
    assert thread_figures.thread_of(inputs | {"unit": "in"}) is None


@pytest.mark.parametrize(
    ("system", "size", "said"),
    [
        (None, None, "Choose the thread system."),
        (None, "1/4-21", "Choose the thread system."),
        (None, "1/2-12", "1/2-12 may be 1/2-12 UNS or 1/2-12 BSW: choose the thread system."),
        (None, "1-11 1/2", "1-11 1/2 may be 1-11.5 NPT or 1-11.5 NPSM: choose the thread system."),
        (None, "M20x2.5", "Choose the thread system; M20x2.5 is of ISO metric."),
        ("Unifed", "3/4-16 UNF", "Unifed is no thread system of the list: choose one of it."),
        ("Whitworth", "1/2-12", "Choose a class of the size 1/2-12 BSW."),
        ("Unified", "1/2-12", "Choose a class of the size 1/2-12 UNS."),
        ("Unified", "3/4-16 UNF-2A", "Choose the class of 3/4-16 UNF below too: the size says 2A."),
    ],
)
def test_what_a_size_lacks_is_told(sheet: Document, system: str | None, size: str | None, said: str) -> None:
    sheet.set(EMPTY | {"thread_system": system})
    sheet.set({"thread_size": size})
    assert sheet.get(["thread_note", "pitch"]) == [said, ""]


def test_a_class_that_the_size_has_not_is_named(sheet: Document) -> None:
    sheet.set({"thread_system": "Unified", "thread_size": "3/4-16 UNF", "thread_class": "6g"})
    assert sheet["thread_note"] == "6g is no class of the size 3/4-16 UNF: choose one of the list."


def test_the_diameter_makes_the_list_short(sheet: Document) -> None:
    """Its first size and count, against the sizes of that diameter as the standard's list has them."""
    for title, label, diameter in (
        ("Unified", "3/4", 0.75), ("Unified", "1 1/4", 1.25), ("Unified", "#10", 0.19), ("Unified", "1", 1.0),
        ("ISO metric", "M20", 20.0), ("Whitworth", "1/4", 0.25), ("Buttress", "0.5", 0.5),
    ):  # fmt: skip
        sheet.set(EMPTY | {"thread_system": title})
        system = next(one for one in standards.SYSTEMS.values() if one.title == title)
        whole = sheet.get(["sizes_from", "sizes_many", "size_start", "size_number"])
        assert whole[:2] == whole[2:]
        sheet.set({"thread_diameter": label})
        start, count = (int(one) for one in sheet.get(["sizes_from", "sizes_many"]))
        listed = [row[0] for row in sheet["size_list"]][start - 1 : start - 1 + count]
        wanted = {system.write(one) for one in system.standard_threads() if one.diameter == diameter}
        assert set(listed) == wanted, title
        assert len(listed) <= 11


def test_a_diameter_that_contradicts_the_size_is_said(sheet: Document) -> None:
    sheet.set({"thread_system": "Unified", "thread_size": "3/4-16 UNF", "thread_class": "2A"})
    sheet.set({"thread_diameter": "1/2"})
    said = "The size 3/4-16 UNF is not of the diameter 1/2: choose a size, or clear the diameter."
    assert sheet.get(["thread_note", "pitch"]) == [said, ""]
    sheet.set({"thread_size": "1/2-13 UNC"})
    assert sheet["callout"] == "1/2-13 UNC-2A"
    sheet.set({"thread_system": "ISO metric"})
    assert sheet["thread_note"] == "1/2 is no diameter of the system ISO metric: choose another, or clear it."
    sheet.set({"thread_diameter": None})
    assert sheet["thread_note"].startswith("1/2-13 UNC is of the system Unified, not of ISO metric: choose that system")
    sheet.set({"thread_size": "M12x1.75", "thread_class": "6g"})
    assert sheet["callout"] == "M12x1.75-6g"


def test_the_command_says_what_it_took(tmp_path: object, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> None:  # noqa: E501  # fmt: skip
    for name in ("build", "write"):
        monkeypatch.setattr(f"workbook_template.__main__.{name}", lambda *_, **__: 0)
    assert (
        main(["new", f"{tmp_path}/a.xlsx", "--thread", "1/4-20", "--thread", "M20", "--thread", "3/4-16 UNF-2A"]) == 0
    )
    assert capsys.readouterr().out.splitlines() == [
        "1/4-20 taken as 1/4-20 UNC: series not written: UNC taken, not 1/4-20 BSW",
        "M20 taken as M20x2.5: pitch not written: coarse taken",
        "1/4-20 UNC names no class: choose it on the sheet Job, 2A, 3A, 2B, 3B, 1A or 1B",
    ]
    for thread, said in (
        ("4 BA", ["4 BA names no class: choose it on the sheet Job, close bolt, normal bolt or nut"]),  # BS 93
        ("4 BA normal bolt", []), ("G 1/4", []), ("3/4-14 NPT external", []), ("M12x1.75-6g", []),
    ):  # fmt: skip
        assert main(["new", f"{tmp_path}/a.xlsx", "--thread", thread, "--thread", "M20x2.5"]) == 0
        assert capsys.readouterr().out.splitlines() == said


def test_a_quantity_or_length_that_is_none_is_told(sheet: Document) -> None:
    """Both were left aside in silence: a check of the cell does not see what is pasted."""
    many, long = "The quantity is no whole number from 1 to 20000.", "The thread length is not a number more than zero"
    for cell, value, said in (
        ("quantity", "25 pcs", many), ("quantity", 0, many), ("quantity", 2.5, many), ("quantity", 46024, many),
        ("quantity", 25, ""), ("thread_length", '1.25"', long), ("thread_length", "32mm", long),
        ("thread_length", -1, long), ("thread_length", 1.25, ""), ("thread_length", None, ""), ("quantity", None, ""),
    ):  # fmt: skip
        sheet.set({cell: value})
        assert sheet["job_hint"].startswith(said or "Boxed and shaded: type or choose here."), (cell, value)
