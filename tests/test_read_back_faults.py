"""Kinds of faults in a filled workbook: each is named by a finding of its own, and nothing else is.

Independent faults are planted in one file together, as a check takes seconds; each is looked for by itself.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import faults_of_the_file
import faults_of_values
import pytest
from cell_faults import (
    typed,
)
from edited_file import BOOK, Fault, File
from file_faults import (
    attribute,
    defined,
    print_name,
    renamed,
    sheet_gone,
    shifted,
)
from workbook_cases import demo_file

from workbook_template.read_back import check
from workbook_template.read_back.findings import Finding
from workbook_template.read_back.job_file import open_job
from workbook_template.read_back.opening import Unreadable
from workbook_template.rules.parts import MAIN

pytestmark = pytest.mark.usefixtures("short_table")

FAULTS = (*faults_of_values.FAULTS, *faults_of_the_file.FAULTS)


LOUD = (
    Fault(
        "a reading changed after it was computed",
        typed("log_reading", "0.7611", down=1),
        "stored value",
        "log_pitch_diameter+1",
        "stored is",
    ),
    Fault(
        "a date changed after it was computed",
        typed("instrument_due", "47000", down=1),
        "stored value",
        "instrument_state+1",
        "stored is",
    ),
    Fault(
        "a row filled in beyond what is printed",
        typed("instrument_id", "M-50", "inlineStr", 15),
        "print area",
        "on instrument_id",
        "is in use",
        True,
    ),
    Fault(
        "a part logged twice",
        typed("log_serial", "003", "inlineStr", 6),
        "part again",
        "log_serial+6",
        "was logged before",
        True,
    ),
    Fault(
        "a number typed as text",
        typed("log_crest", "0.7441", "inlineStr", 7),
        "stored value",
        "log_crest_result+7",
        'computed again it is "check entry"',
    ),
    Fault(
        "a wrong digest",
        typed("certificate_digest", "00aa" * 16, "inlineStr"),
        "digest",
        "certificate_digest",
        "that of the data is",
    ),
    Fault("days counted from 1904", attribute(f"{MAIN}workbookPr", BOOK, date1904="1"), "setting", "", "1904"),
    Fault(
        "precision as shown", attribute(f"{MAIN}calcPr", BOOK, fullPrecision="0"), "setting", "", "precision as shown"
    ),
    Fault("a sheet called otherwise", renamed("study_job", "Study"), "renamed", "on study_job", '"Study"', True),
    Fault("a sheet that is gone", sheet_gone("offer_money"), "removed", "on offer_money", "the sheet is gone"),
    Fault(
        "another version named",
        typed("sheetfuncs_version", "0.0.9", "inlineStr"),
        "other version",
        "sheetfuncs_version",
        'built by version "0.0.9"',
    ),
    Fault(
        "an instrument that was overdue",
        typed("log_instrument", "M-3", "inlineStr", 12),
        "instrument",
        "log_serial+12",
        "was due",
        True,
    ),
    Fault(
        "an instrument that is not listed",
        typed("log_instrument", "M-77", "inlineStr", 9),
        "instrument",
        "log_serial+9",
        "is not on the sheet Instruments",
        True,
    ),
)
"""Faults that make much else come out otherwise; they are looked for in a file of their own."""

REFUSED = (
    ("macros", lambda file: file.add("xl/vbaProject.bin", "x"), "holds macros, which an .xlsx file can't"),
    ("a link to another workbook", lambda file: file.add("xl/externalLinks/externalLink1.xml", "<a/>"), "is linked to"),
    (
        "something that loads from outside",
        lambda file: file.relate("xl/_rels/workbook.xml.rels", "oleObject", "//elsewhere.invalid/x", outside=True),
        "is linked to",
    ),
    (
        "an entity in a part that no command needs",
        lambda file: file.add("docProps/app.xml", '<!DOCTYPE a [<!ENTITY e "x">]><a>&e;</a>'),
        "declares a document type or entities",
    ),
    (
        "a log that is another sheet",
        lambda file: [defined(f"log_{name}", "Threads!$A$12:$A$211")(file) for name in ("reading", "serial")],
        "names cells of the sheet Threads as its log",
    ),
    (
        "a column of the log one row off",
        shifted("log_instrument", 1),
        "do not begin and end in the same",
    ),
)
"""What no command opens."""


@pytest.fixture(scope="module")
def example(built_short: dict[str, Path]) -> bytes:
    """The filled example with its stored values."""
    return built_short["demo.xlsx"].read_bytes()


class Tried:
    """A file with faults in it, and what the check says."""

    def __init__(self, faults: tuple[Fault, ...], content: bytes, folder: Path) -> None:
        file, path = File(demo_file(), content), folder / "job.xlsx"
        for one in faults:
            one.plant(file)
        path.write_bytes(file.content())
        del file
        self.file = File(demo_file(), content)  # of which only places are asked: no part is read for them
        self.found = check.check(path)

    def about(self, fault: Fault) -> list[Finding]:
        """The findings about one fault."""
        title, cell = fault.place(self.file)
        words = fault.words if isinstance(fault.words, str) else fault.words(self.file)
        return [
            one
            for one in (self.found.remarks if fault.remark else self.found.findings)
            if one.kind == fault.kind
            and words in one.words
            and title in ("", one.sheet)
            and cell in ("", one.cell.split(":")[0])
        ]


@pytest.fixture(scope="module")
def tried(example: bytes, tmp_path_factory: pytest.TempPathFactory) -> Tried:
    return Tried(FAULTS, example, tmp_path_factory.mktemp("faults"))


@pytest.fixture(scope="module")
def tried_loud(example: bytes, tmp_path_factory: pytest.TempPathFactory) -> Tried:
    return Tried(LOUD, example, tmp_path_factory.mktemp("loud"))


@pytest.mark.parametrize("fault", FAULTS, ids=lambda fault: fault.what)
def test_a_fault_is_named_by_a_finding_of_its_own(tried: Tried, fault: Fault) -> None:
    assert len(tried.about(fault)) == 1


@pytest.mark.parametrize("fault", LOUD, ids=lambda fault: fault.what)
def test_a_fault_with_consequences_is_named(tried_loud: Tried, fault: Fault) -> None:
    assert len(tried_loud.about(fault)) == 1


def test_nothing_else_is_named(tried: Tried) -> None:
    """But what is wrong with the example itself, and what else is said of a cell with a fault in it."""
    planted = {fault.place(tried.file) for fault in FAULTS}
    named = {one for fault in FAULTS for one in tried.about(fault)}
    others = [
        one
        for one in (*tried.found.findings, *tried.found.remarks)
        if one not in named and (one.sheet, one.cell) not in planted and one.kind != "instrument"
    ]
    assert [one.words for one in others] == ['no thread of any standard: "#0-80 UNF 9Z"']


@pytest.mark.parametrize(("what", "plant", "words"), REFUSED, ids=[one[0] for one in REFUSED])
def test_what_no_command_opens(
    tmp_path: Path, example: bytes, what: str, plant: Callable[[File], None], words: str
) -> None:
    file = File(demo_file(), example)
    plant(file)
    path = tmp_path / "job.xlsx"
    path.write_bytes(file.content())
    with pytest.raises(Unreadable, match=words):
        open_job(path, sheets=False)


def test_the_example_itself_has_no_difference(built_short: dict[str, Path]) -> None:
    found = check.check(built_short["demo.xlsx"])
    assert found.findings == []
    assert {one.kind for one in found.remarks} == {"instrument"}


def test_a_group_of_columns_that_was_opened_is_no_difference(example: bytes, tmp_path: Path) -> None:
    file = File(demo_file(), example)
    grouped = [one for one in file.sheet_of("log_serial").iter(f"{MAIN}col") if one.get("outlineLevel") == "1"]
    assert [one.attrib.pop("hidden") for one in grouped] == ["1"] * len(grouped)
    assert len(grouped) > 10
    path = tmp_path / "job.xlsx"
    path.write_bytes(file.content())
    found = check.check(path)
    assert found.findings == []
    assert {one.kind for one in found.remarks} == {"instrument"}


@pytest.mark.parametrize(("areas", "said"), [("{0}:{1}", 0), ("{0}:{2}", 1), ("{0}:{1},$A$2:$Q$44", 0), ("{3}:{1}", 1)])
def test_either_lathe_may_have_its_charts_printed(example: bytes, tmp_path: Path, areas: str, said: int) -> None:
    """Each to the last row in use: from its title, to the 45th row of its change gears, or to the 40th."""
    file = File(demo_file(), example)
    head = int(file.place("box_tpi_2")[1].strip("ABCDEFGHIJ")) - 1
    places = (f"$A${head - 2}", f"$Q${head + 45}", f"$Q${head + 40}", f"$A${head}")
    print_name("box_tpi_2", "_xlnm.Print_Area", areas.format(*places))(file)
    path = tmp_path / "job.xlsx"
    path.write_bytes(file.content())
    assert [one.kind for one in check.check(path).remarks if one.kind != "instrument"] == ["print area"] * said
