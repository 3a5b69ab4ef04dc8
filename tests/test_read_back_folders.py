"""`collect` in folders as they are: what can't be read is named, a killed worker hangs nothing, leftovers go."""

from __future__ import annotations

import contextlib
import csv
import io
import multiprocessing
import os
import sqlite3
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import killed
import pytest
from hypothesis import given
from hypothesis import strategies as st
from read_back_files import Filled, with_parts

from workbook_template import __main__ as command
from workbook_template.file import placing
from workbook_template.read_back import collect, tables

pytestmark = pytest.mark.usefixtures("short_table")

NOBODY = 65534


def quiet(_: str) -> None:
    """Progress that nobody reads."""


@pytest.mark.parametrize("deadly", [(0,), (3, 4)])
def test_a_worker_that_is_killed_is_named_and_the_others_go_on(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, deadly: tuple[int, ...]
) -> None:
    monkeypatch.setattr(collect, "_one", killed.killed_at)
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    files = [tmp_path / (f"{number} deadly.xlsx" if number in deadly else f"{number}.xlsx") for number in range(10)]
    found = list(collect.outcomes(tmp_path, files, set()))
    assert [one.file for one in found] == [file.name for file in files]
    named = [one.file for one in found if one.sentence]
    assert named == [files[number].name for number in deadly]
    assert all("was ended from outside, as when memory runs out" in one.sentence for one in found if one.sentence)


def test_a_name_that_is_no_text_and_output_that_lacks_a_letter_stop_nothing(
    tmp_path: Path, filled: Filled, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A byte of an old archive in the name, a letter of another language on the way into a file of a code page."""
    shops, register = tmp_path / "Мост", tmp_path / "register.sqlite"
    shops.mkdir()
    odd = Path(os.fsdecode(os.fsencode(shops) + b"/j\xf6b.xlsx"))
    odd.write_bytes(filled.built.read_bytes())
    assert command.main(["collect", str(shops), "--db", str(register)]) == 0
    with contextlib.closing(sqlite3.connect(register)) as connection:
        assert connection.execute("SELECT file FROM files").fetchall() == [(r"j\xf6b.xlsx",)]
    written = io.BytesIO()
    monkeypatch.setattr(sys, "stdout", io.TextIOWrapper(written, encoding="cp1252"))
    assert command.main(["certificate", str(odd), "-o", str(shops / "cert.json")]) == 0
    sys.stdout.flush()
    assert rb"\u041c\u043e\u0441\u0442" in written.getvalue()


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """A folder that every user may enter."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


def _ask(folder: Path, out: Path) -> None:
    if os.geteuid() == 0:
        os.setuid(NOBODY)
    sys.stdout = sys.stderr = (out / "said").open("w", encoding="utf-8")
    code = command.main(["collect", str(folder), "-o", str(out / "register.xlsx")])
    sys.stdout.flush()
    os._exit(code)


def test_a_folder_that_can_not_be_read_is_named(open_folder: Path) -> None:
    """As somebody who may read everything but one folder."""
    jobs, out = open_folder / "jobs", open_folder / "out"
    closed = jobs / "closed"
    closed.mkdir(parents=True)
    out.mkdir()
    out.chmod(0o777)
    closed.chmod(0)
    asker = multiprocessing.get_context("fork").Process(target=_ask, args=(jobs, out))
    asker.start()
    asker.join()
    closed.chmod(0o755)
    said = (out / "said").read_text(encoding="utf-8")
    assert f"{closed} can't be read: Permission denied" in said
    assert asker.exitcode == 1


def test_links_in_a_circle_pipes_and_folders_are_named_not_opened(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    (jobs / "round").symlink_to(jobs, target_is_directory=True)
    (jobs / "one.xlsx").symlink_to(jobs / "two.xlsx")
    (jobs / "two.xlsx").symlink_to(jobs / "one.xlsx")
    os.mkfifo(jobs / "pipe.xlsx")
    (jobs / "zero.xlsx").symlink_to("/dev/zero")
    (jobs / "gone.xlsx").symlink_to(jobs / "nowhere.xlsx")
    for _ in range(2):  # also where the register knows some files already
        assert command.main(["collect", str(jobs), "-o", str(tmp_path / "register.xlsx")]) == 1
        said = capsys.readouterr().err
        for name, words in (
            ("round", "is a link to a folder; it was not followed"),
            ("one.xlsx", "can't be read: Too many levels of symbolic links"),
            ("pipe.xlsx", "is no file"),
            ("zero.xlsx", "is no file"),
            ("gone.xlsx", "can't be read: No such file or directory"),
        ):
            assert f"{jobs / name} {words}" in said
        assert "Traceback" not in said


KINDS = ("job.ods", "old.XLS", "quick.xlsb", "pattern.xltx")
SILENT = (".hidden.ods", "~$job.xls", "notes.txt", "register.csv")


def test_a_workbook_of_another_kind_is_named(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Nobody takes a log that was saved so for one that is in."""
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    for name in (*KINDS, *SILENT):
        (jobs / name).write_bytes(b"whatever")
    assert command.main(["collect", str(jobs), "-o", str(tmp_path / "register.xlsx")]) == 1
    said = capsys.readouterr()
    sentence = "was not read: a log is read from an .xlsx; save it as one"
    assert sorted(said.err.splitlines()) == sorted(f"{jobs / name} {sentence}" for name in KINDS)
    assert said.out.endswith("; 4 passed over\n")


def test_a_name_with_a_line_end_is_told_in_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    (jobs / "two\nlines.xlsx").write_bytes(b"nothing")
    assert command.main(["collect", str(jobs), "-o", str(tmp_path / "register.xlsx")]) == 1
    said = [line for line in capsys.readouterr().err.splitlines() if "workbooks," not in line]
    assert said == [f"{jobs}/two lines.xlsx is no workbook: its content is not that of an .xlsx file"]


def test_nothing_new_writes_nothing(tmp_path: Path, filled: Filled) -> None:
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    (jobs / "a.xlsx").write_bytes(filled.built.read_bytes())
    (jobs / "broken.xlsx").write_bytes(b"PK")
    outputs = {"xlsx": tmp_path / "r.xlsx", "csv": tmp_path / "r.csv", "db": tmp_path / "r.sqlite"}
    alone = tmp_path / "alone.xlsx"

    def looks() -> list[tuple[bytes, int, int]]:
        found = [(one.read_bytes(), one.stat()) for one in (*outputs.values(), alone)]
        return [(content, about.st_mtime_ns, about.st_ino) for content, about in found]

    def again() -> None:
        collect.collect(jobs, outputs["xlsx"], csv=outputs["csv"], db=outputs["db"], say=quiet)
        collect.collect(jobs, alone, say=quiet)

    again()
    before = looks()
    again()
    assert looks() == before


def _write_for_ever(path: str) -> None:
    while True:
        with placing.alone(Path(path)):
            placing.put(os.urandom(100_000), Path(path))


def test_what_a_killed_run_left_is_swept_by_the_next(tmp_path: Path) -> None:
    """Killed at any moment; what another process holds, or is not ours, stays."""
    path = tmp_path / "register.xlsx"
    left = 0
    for step in range(20):
        writer = multiprocessing.get_context("fork").Process(target=_write_for_ever, args=(str(path),))
        writer.start()
        time.sleep(0.01 + 0.002 * step)
        writer.kill()
        writer.join()
        left += any(one.name.endswith(placing.TEMPORARY) for one in tmp_path.iterdir())
        placing.place(b"new", path, replace=True)
        assert not [one for one in tmp_path.iterdir() if one.name.endswith((placing.TEMPORARY, placing.LOCK))]
    assert left, "no kill left anything; the test has shown nothing"


def test_what_is_held_or_not_ours_is_not_swept(tmp_path: Path) -> None:
    """A register.csv that is being written beside a register.xlsx begins alike."""
    path = tmp_path / "register.xlsx"
    others = [
        tmp_path / name for name in (".register-notes.part", ".register-0abc_9zz.part.old", ".other-0abc_9zz.part")
    ]
    for one in others:
        one.write_text("somebody's")
    leftover = tmp_path / ".register-0abc_9zz.part"
    leftover.write_text("of a run that was killed")
    with placing._written(b"half", tmp_path / "register.csv") as held:
        placing.place(b"whole", path)
        assert held.read_bytes() == b"half"
    assert not leftover.exists()
    assert all(one.exists() for one in others)


@given(st.text())
def test_every_text_comes_back_from_the_csv(text: str) -> None:
    assert tables.unguarded(tables.guarded(text)) == text
    assert tables.guarded(text)[:1] not in tuple("=+-@\t\r\n")


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1+1", "\r=1+1", "'quoted", '=HYPERLINK("x")'])
def test_a_text_that_would_run_stands_behind_an_apostrophe(text: str) -> None:
    content = tables.csv_file(["a", "b"], [(text, -1.5)]).decode("utf-8")
    _, row = csv.reader(io.StringIO(content, newline=""))
    assert row == [f"'{text}", "-1.5"]


def test_collect_takes_nothing_that_check_refuses(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """An entity in a sheet that no log needs, and in a part that nobody looks at."""
    content = filled.built.read_bytes()
    last = f"xl/worksheets/sheet{len(filled.sample.titles)}.xml"
    trick = b'<!DOCTYPE w [<!ENTITY e "x">]><w>&e;</w>'
    for number, parts in enumerate(({last: trick}, {"docProps/app.xml": trick}, {last: b"<w>"})):
        (tmp_path / f"{number}.xlsx").write_bytes(with_parts(content, parts))
    done = collect.collect(tmp_path, tmp_path / "r.xlsx", say=quiet)
    assert (done.read, len(done.passed_over)) == (0, 3)
    for number, sentence in enumerate(done.passed_over):
        assert command.main(["check", str(tmp_path / f"{number}.xlsx")]) == 2
        assert capsys.readouterr().err.strip() == sentence
