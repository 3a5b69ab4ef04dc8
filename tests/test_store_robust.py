"""No file is lost: the process is killed at every step of writing, two people save at once, old files stay."""

from __future__ import annotations

import multiprocessing
import os
import random
import shutil
import subprocess
import sys
import time
from pathlib import Path

import pytest
from killed_placing import NEW, OLD, no_links
from workbook_cases import demo_file

from workbook_template import __main__ as command
from workbook_template.demo import job as demo
from workbook_template.file import placing

ROOT = Path(__file__).parent.parent


KILLED = Path(__file__).parent / "killed_placing.py"


@pytest.mark.parametrize("links", ["links", "no-links"])
@pytest.mark.parametrize("there", ["there", "not there"])
def test_killed_at_every_line_the_old_or_the_new_file_is_whole(tmp_path: Path, there: str, links: str) -> None:
    run = subprocess.run(
        [sys.executable, str(KILLED), str(tmp_path), there, links],
        capture_output=True,
        text=True,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
    )
    assert run.returncode == 0, run.stderr


def test_where_there_are_no_links_the_old_file_is_on_the_disk_too(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Before the new one takes its name: a machine that loses its power there keeps one of them whole."""
    path, forced, sync = tmp_path / "job.xlsx", [], os.fsync
    path.write_bytes(OLD + b"!")
    path.chmod(0o640)
    monkeypatch.setattr(os, "link", no_links)
    monkeypatch.setattr(os, "fsync", lambda handle: (sync(handle), forced.append(os.fstat(handle).st_size)))
    old = placing.place(NEW, path, replace=True)
    assert old is not None
    assert (old.read_bytes(), old.stat().st_mode & 0o777) == (OLD + b"!", 0o640)
    assert len(OLD) + 1 in forced


def _write_for_ever(path: str) -> None:
    number = 0
    while True:
        number += 1
        with placing.alone(Path(path)):
            placing.put(bytes(str(number % 10), "ascii") * 300_000, Path(path))


def test_killed_at_any_moment_the_file_is_whole(tmp_path: Path) -> None:
    path = tmp_path / "register.xlsx"
    path.write_bytes(b"0" * 300_000)
    draw = random.Random(11)
    context = multiprocessing.get_context("fork")
    for _ in range(40):
        writer = context.Process(target=_write_for_ever, args=(str(path),))
        writer.start()
        time.sleep(draw.uniform(0.001, 0.03))
        writer.kill()
        writer.join()
        content = path.read_bytes()
        assert content == content[:1] * 300_000


def test_two_who_save_at_once_are_told(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(OLD)
    with (
        placing.alone(path),
        pytest.raises(placing.NotPlaced, match=r"somebody else is writing .* at this moment; wait until it is done"),
    ):
        placing.place(NEW, path, replace=True)
    before = placing.seen(path)
    placing.place(b"of the other one", path, replace=True)
    with pytest.raises(placing.NotPlaced, match="was saved by somebody else meanwhile; nothing was written"):
        placing.place(NEW, path, replace=True, before=before)
    assert path.read_bytes() == b"of the other one"
    assert sorted(file.name for file in tmp_path.iterdir()) == ["job.old1.xlsx", "job.xlsx"]


@pytest.mark.parametrize("mark", ["~$job.xlsx", ".~lock.job.xlsx#"])
def test_a_file_that_a_spreadsheet_program_has_open_is_not_replaced(tmp_path: Path, mark: str) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(OLD)
    (tmp_path / mark).write_bytes(b"")
    with pytest.raises(placing.NotPlaced, match="is open in a spreadsheet program; close it"):
        placing.place(NEW, path, replace=True)
    assert path.read_bytes() == OLD


def test_of_many_who_write_one_new_file_one_does(tmp_path: Path) -> None:
    path = tmp_path / "job.xlsx"
    context = multiprocessing.get_context("fork")
    writers = [context.Process(target=_write_once, args=(str(path), number)) for number in range(8)]
    for one in writers:
        one.start()
    for one in writers:
        one.join()
    assert sorted(one.exitcode for one in writers) == [0, 1, 1, 1, 1, 1, 1, 1]
    assert len(set(path.read_bytes())) == 1
    assert [file.name for file in tmp_path.iterdir()] == ["job.xlsx"]


def _write_once(path: str, number: int) -> None:
    try:
        placing.place(bytes([65 + number]) * 200_000, Path(path))
    except (placing.NotPlaced, FileExistsError):
        os._exit(1)


def test_building_over_a_filled_workbook(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Refused; told to replace, the filled one stays under a numbered name, and that is said."""
    path = tmp_path / "job.xlsx"
    path.write_bytes(demo_file().content)
    done = subprocess.run(
        [sys.executable, "-m", "workbook_template", "new", str(path)], capture_output=True, text=True, cwd=ROOT
    )
    assert done.returncode == 2
    assert "is there already" in done.stderr
    assert path.read_bytes() == demo_file().content
    content = demo_file().content
    command.finish_in_place(content, path, True, placing.seen(path))
    rows = len(demo.values()["log_serial"])
    assert f"the old file, with {rows} rows in its log, is now job.old1.xlsx" in capsys.readouterr().out
    assert (tmp_path / "job.old1.xlsx").read_bytes() == content


def test_a_full_disk_leaves_the_old_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(OLD)

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space"):
        placing.place(NEW, path, replace=True)
    assert {file.name: file.read_bytes() for file in tmp_path.iterdir()} == {"job.xlsx": OLD}
    shutil.rmtree(tmp_path)
