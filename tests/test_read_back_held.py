"""Which files hold a record: a register forgets none that a workbook still has, whoever brought it in."""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

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


PART_2 = "SELECT reading_1a, replaced_by IS NULL AS counts, file FROM readings WHERE serial = '2' ORDER BY counts"
CORRECTED = (1, 0.7611)
"""Part 2, .7621 over wires, typed over."""


@pytest.mark.parametrize("job", ["J-2041", ""])
def test_a_file_that_was_moved_goes_on_under_its_new_name(tmp_path: Path, jobs: Path, filled: Filled, job: str) -> None:
    """Moved and collected, moved again and collected, then corrected: as if it had been corrected in its place.

    Without a job number records are told apart by their file, so all are read as new ones, in place of the old.
    """
    db, lot = tmp_path / "register.sqlite", edited(filled, job_number=job)
    (jobs / "job.xlsx").write_bytes(lot)
    assert gather(jobs, db).added == LOT
    (jobs / "done").mkdir()
    for before, after in (("job.xlsx", "done/J-1001.xlsx"), ("done/J-1001.xlsx", "archive/J-1001.xlsx")):
        (jobs / before).rename(jobs / after)
        for _ in range(2):
            assert gather(jobs, db)[1:3] == (0, 0)
    (jobs / "archive" / "J-1001.xlsx").write_bytes(edited(filled, job_number=job, log_reading=CORRECTED))
    for added in (1 if job else LOT, 0):
        assert gather(jobs, db).added == added
        assert ask(db, COUNTED) == [(LOT,)]
    old, new = ask(db, PART_2)
    assert (old, new) == ((0.7621, 0, "job.xlsx"), (0.7611, 1, "archive/J-1001.xlsx"))
    assert ask(db, "SELECT file FROM files") == [("archive/J-1001.xlsx",)]
    moves = "SELECT file, folder, moved_to FROM folders ORDER BY moved_to IS NULL, moved_to DESC"
    first, then, now = "job.xlsx", "done/J-1001.xlsx", "archive/J-1001.xlsx"
    assert ask(db, moves) == [(first, "jobs", then), (then, "jobs", now), (now, "jobs", None)]


def test_a_register_that_is_a_workbook_knows_a_moved_file_too(tmp_path: Path, jobs: Path, filled: Filled) -> None:
    xlsx = tmp_path / "register.xlsx"
    for name in ("job.xlsx", "archive/J-1001.xlsx"):
        if name != "job.xlsx":
            (jobs / "job.xlsx").rename(jobs / name)
        collect(jobs, xlsx, say=quiet)
    (jobs / "archive" / "J-1001.xlsx").write_bytes(edited(filled, log_reading=CORRECTED))
    collect(jobs, xlsx, say=quiet)
    (tmp_path / "nothing").mkdir()
    collect(tmp_path / "nothing", xlsx, db=tmp_path / "asked.sqlite", say=quiet)
    assert ask(tmp_path / "asked.sqlite", COUNTED) == [(LOT,)]


def test_a_copy_that_is_corrected_replaces_nothing_of_the_first(tmp_path: Path, jobs: Path, filled: Filled) -> None:
    """It is no move while the first is there, also where that is deleted later: it counts as it was last."""
    db, copy = tmp_path / "register.sqlite", jobs / "archive" / "copy.xlsx"
    gather(jobs, db)
    copy.write_bytes((jobs / "job.xlsx").read_bytes())
    gather(jobs, db)
    (jobs / "job.xlsx").unlink()
    gather(jobs, db)
    copy.write_bytes(edited(filled, log_reading=CORRECTED))
    assert gather(jobs, db).added == 1
    assert ask(db, COUNTED) == [(LOT + 1,)]


def test_a_copy_in_another_folder_is_none_that_was_moved(tmp_path: Path, jobs: Path, filled: Filled) -> None:
    """Two folders in one register: the first file is where it was, though not in the second folder."""
    db, other = tmp_path / "register.sqlite", tmp_path / "other"
    other.mkdir()
    gather(jobs, db)
    (other / "copy.xlsx").write_bytes((jobs / "job.xlsx").read_bytes())
    gather(other, db)
    (other / "copy.xlsx").write_bytes(edited(filled, log_reading=CORRECTED))
    gather(other, db)
    assert ask(db, COUNTED) == [(LOT + 1,)]


def test_a_file_that_can_not_be_looked_at_was_not_moved(
    tmp_path: Path, jobs: Path, filled: Filled, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Its folder is closed for a day, and a copy lies elsewhere."""
    db, closed = tmp_path / "register.sqlite", jobs / "2026"
    closed.mkdir()
    (jobs / "job.xlsx").rename(closed / "job.xlsx")
    gather(jobs, db)
    (jobs / "archive" / "copy.xlsx").write_bytes((closed / "job.xlsx").read_bytes())
    walk, lstat = os.walk, os.lstat

    def others(*about: Any, **how: Any) -> Iterator[Any]:
        return ((where, folders, files) for where, folders, files in walk(*about, **how) if Path(where) != closed)

    def refused(path: Any, **how: Any) -> os.stat_result:
        if closed in Path(path).parents:
            raise PermissionError(path)
        return lstat(path, **how)

    monkeypatch.setattr(os, "walk", others)
    monkeypatch.setattr(os, "lstat", refused)
    gather(jobs, db)
    (jobs / "archive" / "copy.xlsx").write_bytes(edited(filled, log_reading=CORRECTED))
    gather(jobs, db)
    assert ask(db, COUNTED) == [(LOT + 1,)]


def test_another_file_where_a_moved_one_was(tmp_path: Path, jobs: Path, filled: Filled) -> None:
    """The next job takes the old name in the same run; the moved one is corrected later."""
    db, moved = tmp_path / "register.sqlite", jobs / "archive" / "J-2041.xlsx"
    gather(jobs, db)
    (jobs / "job.xlsx").rename(moved)
    (jobs / "job.xlsx").write_bytes(edited(filled, job_number="J-2042"))
    assert gather(jobs, db).added == LOT
    assert ask(db, COUNTED) == [(2 * LOT,)]
    moved.write_bytes(edited(filled, log_reading=CORRECTED))
    assert gather(jobs, db).added == 1
    assert ask(db, COUNTED) == [(2 * LOT,)]
