"""Which files hold a record: a register forgets none that a workbook still has, whoever brought it in."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from read_back_files import Filled, edited

from workbook_template.read_back.collect import Summary, collect

pytestmark = pytest.mark.usefixtures("short_table")

COUNTED = "SELECT count(*) FROM readings WHERE replaced_by IS NULL"
LOT = 15


def quiet(_: str) -> None:
    """Progress that nobody reads."""


def gather(folder: Path, db: Path) -> Summary:
    return collect(folder, None, db=db, say=quiet)


def ask(db: Path, question: str) -> list[tuple[object, ...]]:
    connection = sqlite3.connect(db)
    try:
        return connection.execute(question).fetchall()
    finally:
        connection.close()


@pytest.fixture
def jobs(tmp_path: Path, filled: Filled) -> Path:
    made = tmp_path / "jobs"
    (made / "archive").mkdir(parents=True)
    (made / "job.xlsx").write_bytes(filled.built.read_bytes())
    return made


def begun_anew(filled: Filled) -> bytes:
    """The same workbook for the next week: another part, another reading in its first row."""
    return edited(filled, log_serial="101", log_reading=(0, 0.7603))


@pytest.mark.parametrize("saved_again", [False, True])
@pytest.mark.parametrize("in_database", [False, True])
def test_a_record_that_a_copy_still_holds_counts(
    tmp_path: Path, jobs: Path, filled: Filled, saved: Path, saved_again: bool, in_database: bool
) -> None:
    """A copy is laid away, letter by letter or saved by another program; then the workbook is used on."""
    db, xlsx = tmp_path / "register.sqlite", tmp_path / "register.xlsx"
    copy = jobs / "archive" / "week1.xlsx"

    def counted() -> int:
        collect(jobs, xlsx, db=db if in_database else None, say=quiet)
        at = tmp_path / "asked.sqlite"
        at.unlink(missing_ok=True)
        if in_database:
            return int(str(ask(db, COUNTED)[0][0]))
        collect(tmp_path / "nothing", xlsx, db=at, say=quiet)  # a database that is begun with the register
        return int(str(ask(at, COUNTED)[0][0]))

    (tmp_path / "nothing").mkdir()
    assert counted() == LOT
    copy.write_bytes((saved if saved_again else filled.built).read_bytes())
    assert counted() == LOT
    (jobs / "job.xlsx").write_bytes(begun_anew(filled))
    for _ in range(2):
        assert counted() == LOT + 1
    copy.write_bytes(begun_anew(filled))  # now nobody holds part 1 as it was
    for _ in range(2):
        assert counted() == LOT


def test_a_workbook_that_is_used_on_in_the_same_run_as_its_copy_is_laid_away(
    tmp_path: Path, jobs: Path, filled: Filled, saved: Path
) -> None:
    db = tmp_path / "register.sqlite"
    gather(jobs, db)
    (jobs / "zz").mkdir()
    (jobs / "zz" / "last.xlsx").write_bytes(saved.read_bytes())  # read after the one that has lost the record
    (jobs / "job.xlsx").write_bytes(begun_anew(filled))
    assert gather(jobs, db).added == 1
    assert ask(db, COUNTED) == [(LOT + 1,)]


def test_a_copy_letter_by_letter_brings_nothing_also_without_a_job_number(
    tmp_path: Path, jobs: Path, filled: Filled
) -> None:
    """Its records are told apart by their file; those of a copy are those of the first one, whenever it is found."""
    (jobs / "job.xlsx").write_bytes(edited(filled, job_number=""))
    for name in ("archive/one.xlsx", "archive/two.xlsx"):
        (jobs / name).write_bytes((jobs / "job.xlsx").read_bytes())
        assert gather(jobs, tmp_path / "register.sqlite").added in (0, LOT)
    assert ask(tmp_path / "register.sqlite", "SELECT count(*) FROM readings") == [(LOT,)]


def test_a_workbook_that_is_gone_takes_no_record_with_it(tmp_path: Path, jobs: Path, filled: Filled) -> None:
    db = tmp_path / "register.sqlite"
    gather(jobs, db)
    (jobs / "job.xlsx").rename(jobs / "archive" / "job.xlsx")
    assert gather(jobs, db).read == 0
    (jobs / "archive" / "job.xlsx").unlink()
    gather(jobs, db)
    assert ask(db, COUNTED) == [(LOT,)]


def test_a_register_of_before_is_read_on(tmp_path: Path, jobs: Path, filled: Filled, saved: Path) -> None:
    """It has no tables of files: a copy that brought nothing in is read once more, and holds its records from then."""
    db = tmp_path / "register.sqlite"
    copy = jobs / "archive" / "week1.xlsx"
    copy.write_bytes(saved.read_bytes())
    gather(jobs, db)
    connection = sqlite3.connect(db)
    with connection:
        for table in ("files", "held"):
            connection.execute(f"DROP TABLE {table}")
    connection.close()
    (jobs / "job.xlsx").write_bytes(begun_anew(filled))
    done = gather(jobs, db)
    assert (done.files, done.added) == (2, 1)
    assert ask(db, COUNTED) == [(LOT + 1,)]
    assert gather(jobs, db).read == 0
