"""`collect` again: what is known to be there is not made anew, and whatever was done to a register is still noticed."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path
from typing import Any, NamedTuple

import openpyxl
import pytest
from read_back_files import Filled

from workbook_template.read_back import collect, kept, register, tables
from workbook_template.read_back.register import NoRegister

pytestmark = pytest.mark.usefixtures("short_table")

FORMS = {"xlsx": "workbook", "csv": "csv_file"}
"""What makes each form, by its name in `tables`."""


class Place(NamedTuple):
    """A folder of workbooks and its register in all three forms."""

    jobs: Path
    xlsx: Path
    csv: Path
    db: Path

    def again(self) -> tuple[int, int, int]:
        """Collect; how many files there are, how many were read, and how many readings were new."""
        done = collect.collect(self.jobs, self.xlsx, csv=self.csv, db=self.db, say=lambda _: None)
        assert done.passed_over == []
        return done.files, done.read, done.added

    def outputs(self) -> dict[str, bytes]:
        """What is in the files that are made of the rows."""
        return {"xlsx": self.xlsx.read_bytes(), "csv": self.csv.read_bytes()}

    def change(self, statement: str) -> None:
        """Change the database by hand."""
        connection = sqlite3.connect(self.db)
        with connection:
            connection.execute(statement)
        connection.close()


def place_in(folder: Path) -> Place:
    return Place(folder / "jobs", folder / "r.xlsx", folder / "r.csv", folder / "r.sqlite")


@pytest.fixture(scope="module")
def collected(tmp_path_factory: pytest.TempPathFactory, filled: Filled) -> Path:
    """A folder with one workbook and its register, as a first run leaves them."""
    folder = tmp_path_factory.mktemp("first")
    place = place_in(folder)
    place.jobs.mkdir()
    (place.jobs / "a.xlsx").write_bytes(filled.built.read_bytes())
    assert place.again() == (1, 1, 15)
    return folder


@pytest.fixture
def place(collected: Path, tmp_path: Path) -> Place:
    """A copy, to be changed: a register may be moved."""
    shutil.copytree(collected, tmp_path / "copy")
    return place_in(tmp_path / "copy")


@pytest.fixture
def made(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The forms that are made from now on."""
    found: list[str] = []

    def noting(form: str, make: Callable[..., bytes]) -> Callable[..., bytes]:
        return lambda *about: found.append(form) or make(*about)

    for form, name in FORMS.items():
        monkeypatch.setattr(tables, name, noting(form, getattr(tables, name)))
    return found


def test_what_is_there_is_not_made_again(place: Place, made: list[str]) -> None:
    before = place.outputs(), place.db.read_bytes()
    assert place.again() == (1, 0, 0)
    assert made == []
    assert (place.outputs(), place.db.read_bytes()) == before


def other_values(path: Path) -> None:
    """Type over a result in the register, as a spreadsheet program would save it."""
    book = openpyxl.load_workbook(path)
    sheet = book["Readings"]
    (column,) = (one.column for one in sheet[1] if one.value == "result")
    sheet.cell(2, column).value = "in, surely"
    book.save(path)


TO_FILES: dict[str, tuple[list[str], Callable[[Place], Any]]] = {
    "the CSV has another wire set": (["csv"], lambda p: p.csv.write_bytes(p.csv.read_bytes().replace(b"W-", b"V-", 1))),
    "the CSV was cut off": (["csv"], lambda p: p.csv.write_bytes(p.csv.read_bytes()[:-7])),
    "the CSV was emptied": (["csv"], lambda p: p.csv.write_bytes(b"")),
    "the CSV was deleted": (["csv"], lambda p: p.csv.unlink()),
    "a cell of the workbook was typed over": (["xlsx"], lambda p: other_values(p.xlsx)),
    "the workbook was deleted": (["xlsx"], lambda p: p.xlsx.unlink()),
    "both were deleted": (["xlsx", "csv"], lambda p: (p.xlsx.unlink(), p.csv.unlink())),
}
"""What may have been done to the files, and which are to be made again then."""

TO_THE_NOTE = (
    "DROP TABLE written",  # as in a register of before there was one
    "DELETE FROM written",
    "UPDATE written SET rows = ''",
    "UPDATE written SET content = ''",
)


@pytest.mark.parametrize("what", TO_FILES)
def test_whatever_was_done_to_a_file_it_is_made_again(place: Place, made: list[str], what: str) -> None:
    """Just that file, once, and it is what it was; the database is not written for that."""
    before, database, (forms, do) = place.outputs(), place.db.read_bytes(), TO_FILES[what]
    do(place)
    assert place.again() == (1, 0, 0)
    assert (made, place.outputs(), place.db.read_bytes()) == (forms, before, database)
    assert place.again() == (1, 0, 0)
    assert made == forms


@pytest.mark.parametrize("statement", TO_THE_NOTE)
def test_without_a_true_note_all_is_made_again_once(place: Place, made: list[str], statement: str) -> None:
    before = place.outputs()
    place.change(statement)
    for _ in range(2):
        assert place.again() == (1, 0, 0)
        assert (made, place.outputs()) == (["xlsx", "csv"], before)


def test_what_was_changed_in_the_database_goes_into_the_files(place: Place, made: list[str]) -> None:
    """One field of one row; the files know of it. A row that is gone is read again out of its workbook."""
    before = place.csv.read_bytes()
    place.change("UPDATE readings SET customer = 'Hofer' WHERE log_row = (SELECT MIN(log_row) FROM readings)")
    assert place.again() == (1, 0, 0)
    assert b"Hofer" in place.csv.read_bytes()
    place.change("UPDATE workbooks SET settings = '{}'")
    assert place.again() == (1, 0, 0)
    place.change("DELETE FROM readings WHERE customer = 'Hofer'")
    assert place.again() == (1, 1, 1)
    assert place.csv.read_bytes() == before
    assert made == ["xlsx", "csv"] * 3


def test_what_another_version_made_is_made_again(
    place: Place, made: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of the same rows another version may make other files: an earlier one set the headings in plain type."""
    before = place.outputs()
    monkeypatch.setattr(kept, "version", lambda: "earlier")
    monkeypatch.setattr(tables, "STYLES", tables.STYLES.replace("<b/>", ""))
    assert place.again() == (1, 0, 0)
    assert made == ["xlsx", "csv"]
    assert place.xlsx.read_bytes() != before["xlsx"]
    monkeypatch.undo()
    assert place.again() == (1, 0, 0)
    assert place.outputs() == before


def test_where_the_version_is_not_known_it_is_made_each_time(
    place: Place, made: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept, "version", lambda: "")
    for _ in range(2):
        assert place.again() == (1, 0, 0)
    assert made == ["xlsx", "csv"] * 2


def test_other_forms_may_be_asked_for_each_time(place: Place, made: list[str]) -> None:
    before = place.outputs()
    place.csv.unlink()
    collect.collect(place.jobs, place.xlsx, db=place.db, say=lambda _: None)
    collect.collect(place.jobs, None, db=place.db, say=lambda _: None)
    assert made == []
    assert not place.csv.exists()
    other = place.csv.with_name("other.csv")
    collect.collect(place.jobs, None, csv=other, db=place.db, say=lambda _: None)
    assert (made, other.read_bytes()) == (["csv"], before["csv"])


def test_a_workbook_that_is_gone_or_new_is_told_as_ever(place: Place, made: list[str], saved: Path) -> None:
    before = place.outputs()
    (place.jobs / "a.xlsx").rename(place.jobs / "b.txt")
    assert place.again() == (0, 0, 0)  # what it had stays
    assert (made, place.outputs()) == ([], before)
    (place.jobs / "copy.xlsx").write_bytes(saved.read_bytes())
    assert place.again() == (1, 1, 0)  # its records are in, as a workbook it is new
    assert made == ["xlsx", "csv"]


def test_a_register_that_is_none_is_refused_as_ever(place: Place, filled: Filled) -> None:
    """Also where nothing is new."""
    whole = place.xlsx.read_bytes()
    for content, sentence in (
        (whole[:-50], "is cut off or damaged; take a copy that opens"),
        (filled.built.read_bytes(), "is no register, so it is left alone; name another file"),
    ):
        place.xlsx.write_bytes(content)
        with pytest.raises(NoRegister, match=sentence):
            place.again()
        assert place.xlsx.read_bytes() == content


def test_a_database_that_was_damaged_anywhere_is_refused_as_ever(place: Place) -> None:
    """A page of the readings, which nothing but the making of the files had to look at."""
    content = place.db.read_bytes()
    size = int.from_bytes(content[16:18], "big")
    connection = sqlite3.connect(place.db)
    root = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'readings'").fetchone()[0]
    connection.close()
    start = (root - 1) * size
    place.db.write_bytes(content[:start] + b"\xff" * size + content[start + size :])
    with pytest.raises(NoRegister, match="a damaged one"):
        place.again()


def test_without_the_database_it_is_made_of_the_workbook(place: Place) -> None:
    before = place.outputs()
    place.db.unlink()
    assert place.again() == (1, 0, 0)
    assert place.outputs() == before
    with register.opened(place.db) as connection:
        assert len(list(register.rows_of(connection, "readings"))) == 15
