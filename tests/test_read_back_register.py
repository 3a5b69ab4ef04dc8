"""A register that people open: what they changed by hand is named, what it can't hold is passed over."""

from __future__ import annotations

import csv
import sqlite3
from pathlib import Path

import openpyxl
import pytest
from read_back_files import Filled, edited

from workbook_template import __main__ as command
from workbook_template.read_back.collect import collect
from workbook_template.read_back.register import NoRegister

pytestmark = pytest.mark.usefixtures("short_table")


def test_what_is_no_register_is_left_alone(tmp_path: Path, filled: Filled) -> None:
    jobs, other = tmp_path / "jobs", tmp_path / "other.xlsx"
    jobs.mkdir()
    other.write_bytes(filled.built.read_bytes())
    with pytest.raises(NoRegister, match="is no register, so it is left alone"):
        collect(jobs, other, say=lambda _: None)
    assert other.read_bytes() == filled.built.read_bytes()
    (tmp_path / "text.sqlite").write_text("no database at all, but a long text about nothing" * 50)
    with pytest.raises(NoRegister, match="it is no SQLite database"):
        collect(jobs, None, db=tmp_path / "text.sqlite", say=lambda _: None)


CHANGED = {
    ("Readings", "measured_on", "last week"): '"last week" as measured_on, day of the measurement, which it can\'t be',
    ("Readings", "measured_on", 1e12): "1e+12 as measured_on",
    ("Readings", "log_row", None): "nothing as log_row",
    ("Readings", "reading_1a", "0,7621"): '"0,7621" as reading_1a',
    ("Readings", "typed", "0.7621"): '"0.7621" as typed',
    ("Readings", "file", None): "nothing as file",
    ("Readings", "serial", "#N/A"): "#N/A as serial",
    ("Workbooks", "settings", "{"): '"{" as settings',
    ("Workbooks", "settings", '{"certificate_date":5}'): "5 as certificate_date of its settings, the inputs",
    ("Workbooks", "settings", '{"certificate_number":["C-1"]}'): '"["C-1"]" as certificate_number of its settings',
    ("Workbooks", "settings", '{"budget_lead_kind":{}}'): '"{}" as budget_lead_kind of its settings',
    ("Workbooks", "settings", '{"wires_id":[["W-12"]]}'): '"[["W-12"]]" as wires_id of its settings',
    ("Readings", "typed", '{"who":{"name":"turner"}}'): '"{"name": "turner"}" as who of its typed',
    ("Workbooks", "readings", "many"): '"many" as readings',
}


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory, filled: Filled) -> Path:
    """A register of one log as a workbook alone."""
    place = tmp_path_factory.mktemp("written")
    (place / "jobs").mkdir()
    (place / "jobs" / "a.xlsx").write_bytes(filled.built.read_bytes())
    collect(place / "jobs", place / "register.xlsx", say=str)
    return place / "register.xlsx"


def changed(path: Path, to: Path, sheet: str, column: str, value: object) -> None:
    """The register with one cell changed, as a person does it."""
    book = openpyxl.load_workbook(path)
    at = [cell.value for cell in book[sheet][1]].index(column) + 1
    cell = book[sheet].cell(2, at)
    cell.value = value
    book.save(to)


@pytest.mark.parametrize(("change", "words"), CHANGED.items())
def test_a_register_that_was_changed_by_hand_is_refused_in_words(
    written: Path, tmp_path: Path, change: tuple[str, str, object], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "register.xlsx"
    changed(written, path, *change)
    before = path.read_bytes()
    for asked in (
        ["recall", str(path), "--wires", "W-12", "--mean", "0.0360 in"],
        ["collect", str(written.parent / "jobs"), "-o", str(path)],
    ):
        assert command.main(asked) == 2
        said = capsys.readouterr().err
        assert f"its sheet {change[0]} has {words}" in said
        assert "undo that, or take an earlier copy" in said
    assert path.read_bytes() == before


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (
            'workbooks SET settings = \'{"certificate_date":"5 March"}\'',
            '"5 March" as certificate_date of its settings',
        ),
        ("workbooks SET settings = '[]'", '"[]" as settings'),
        ("readings SET measured_on = 'last week'", '"last week" as measured_on'),
    ],
)
def test_a_database_that_was_changed_by_hand_is_refused_in_words(
    filled: Filled, tmp_path: Path, change: str, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "register.sqlite"
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "a.xlsx").write_bytes(filled.built.read_bytes())
    collect(tmp_path / "jobs", None, db=path, say=str)
    with sqlite3.connect(path) as connection:
        connection.execute(f"UPDATE {change}")
    connection.close()
    assert command.main(["recall", str(path), "--wires", "W-12", "--mean", "0.0360 in"]) == 2
    assert f"its table {change.split()[0]} has {words}" in capsys.readouterr().err


@pytest.mark.parametrize("unit", ["cm", ""])
def test_a_log_without_a_working_unit_is_named(
    filled: Filled, tmp_path: Path, unit: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.xlsx").write_bytes(edited(filled, unit=unit))
    assert command.main(["recall", str(tmp_path), "--wires", "W-12", "--mean", "0.0360 in"]) == 2
    found = '"cm"' if unit else "nothing"
    assert capsys.readouterr().err == (
        f"a.xlsx has {found} as its working unit; choose in or mm there, and collect again\n"
    )


def test_a_workbook_with_more_than_a_register_keeps_is_named_and_keeps_no_other_back(
    tmp_path: Path, filled: Filled
) -> None:
    """What is cut to the 32767 characters of a cell could not be read again."""
    jobs, out = tmp_path / "jobs", tmp_path / "register.xlsx"
    jobs.mkdir()
    (jobs / "a.xlsx").write_bytes(filled.built.read_bytes())
    (jobs / "long.xlsx").write_bytes(edited(filled, job_number="J-2044", customer="x" * 32767))
    for read in (1, 0):
        found = collect(jobs, out, say=str)
        assert found.read == read
        (sentence,) = found.passed_over
        assert "long.xlsx has 3" in sentence
        assert "characters typed where a register keeps 32767" in sentence


def test_a_reading_whose_workbook_is_gone_from_the_register_may_have_been_shipped(
    written: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path, out = tmp_path / "register.xlsx", tmp_path / "todo.csv"
    changed(written, path, "Workbooks", "file", "renamed.xlsx")
    assert command.main(["recall", str(path), "--wires", "W-12", "--mean", "0.0360 in", "-o", str(out)]) == 1
    with out.open(encoding="utf-8", newline="") as file:
        assert {row["shipped"] for row in csv.DictReader(file)} == {"perhaps"}


def test_a_row_that_was_emptied_is_none(written: Path, tmp_path: Path) -> None:
    path = tmp_path / "register.xlsx"
    book = openpyxl.load_workbook(written)
    for cell in book["Held"][2] + book["Readings"][book["Readings"].max_row + 1]:
        cell.number_format = "0.00"  # so that the file has the empty cells
    book.save(path)
    collect(written.parent / "jobs", path, say=str)
    assert openpyxl.load_workbook(path)["Readings"].max_row == openpyxl.load_workbook(written)["Readings"].max_row
