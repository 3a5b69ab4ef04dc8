"""`collect`, `recall`, `certificate`: many logs in one register, asked questions of, and judged with another wire."""

from __future__ import annotations

import csv
import hashlib
import multiprocessing
import os
import signal
import time
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from read_back_files import (
    CREST_RESULTS,
    PITCH_RESULTS,
    RING_RESULTS,
    Filled,
    canonical,
    cell_of,
    changed_cell,
    edited,
    part,
    sheet_part,
    text,
    with_name,
    with_parts,
)
from register_cases import QUESTION, ask, first_row, lots

from workbook_template import __main__ as command
from workbook_template import rules
from workbook_template.file import placing
from workbook_template.read_back import columns, readings, register
from workbook_template.read_back.collect import collect
from workbook_template.read_back.readings import collected
from workbook_template.read_back.register import NoRegister

pytestmark = pytest.mark.usefixtures("short_table")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, filled: Filled, saved: Path) -> Path:
    return lots(tmp_path_factory.mktemp("jobs"), filled, saved)


@pytest.fixture(scope="module")
def outputs(tmp_path_factory: pytest.TempPathFactory, folder: Path) -> dict[str, Path]:
    """The register of that folder, in every form."""
    at = tmp_path_factory.mktemp("register")
    made = {"xlsx": at / "register.xlsx", "csv": at / "register.csv", "db": at / "register.sqlite"}
    said: list[str] = []
    done = collect(folder, made["xlsx"], csv=made["csv"], db=made["db"], say=said.append)
    assert (done.files, done.read, done.added, done.differing) == (4, 3, 30, 0)
    assert [sentence.partition(" is ")[2] for sentence in done.passed_over] == [
        "cut off or damaged; take a copy that opens"
    ]
    assert said[-1] == "4 of 4 workbooks, 30 new readings, 1 passed over"
    return made


def test_a_reading_is_a_row_with_both_verdicts(outputs: dict[str, Path], filled: Filled) -> None:
    columns = "stored_result, result, stored_crest_result, crest_result, stored_ring_result, ring_result, agrees"
    found = ask(outputs["db"], f"SELECT {columns} FROM readings WHERE job_number = 'J-2042' ORDER BY log_row")
    for row, pitch, crest, ring in zip(found, PITCH_RESULTS, CREST_RESULTS, RING_RESULTS, strict=True):
        assert row == (pitch, pitch, crest, crest, ring or None, ring or None, "yes")
    columns = "job_number, thread, pitch_max, wires, wire, instrument, reading_1a, reading_1b, measured_on, file"
    where = f"job_number = 'J-2042' AND log_row = {first_row(filled)}"
    first = ask(outputs["db"], f"SELECT {columns} FROM readings WHERE {where}")
    assert first == [
        ("J-2042", "3/4-16 UNF-2A", 0.7079, "W-12", 0.0361, "M-7", 0.7598, 0.7599, "2026-03-05", "J-2042.xlsx")
    ]


def test_which_parts_were_measured_with_a_wire_set_since(outputs: dict[str, Path]) -> None:
    """By the lot: parts 6, 7 (8th), 8 (set of Setup), 9's text is no reading over wires, 10, 12 twice, 4, 5."""
    one = ["6", "7", "8", "10", "12", "12", "4", "5"]
    found = ask(outputs["db"], QUESTION)
    assert [row[1] for row in found if row[0] == "J-2041"] == one
    assert [row[1] for row in found if row[0] == "J-2042"] == one
    plan = ask(outputs["db"], f"EXPLAIN QUERY PLAN {QUESTION}")
    assert any("readings_by_wires" in str(step) for step in plan)


def test_the_same_rows_in_every_form(outputs: dict[str, Path]) -> None:
    stored = ask(outputs["db"], "SELECT * FROM readings ORDER BY file, log_row, digest")
    with outputs["csv"].open(encoding="utf-8", newline="") as file:
        heads, *lines = csv.reader(file)
    assert len(lines) == len(stored) == 30
    assert lines == [["" if value is None else str(value) for value in row] for row in stored]
    book = openpyxl.load_workbook(outputs["xlsx"])
    assert book.sheetnames == ["Readings", "Workbooks", "Files", "Held", "Folders"]
    shown = list(book["Readings"].iter_rows(values_only=True))
    assert list(shown[0]) == heads
    at = heads.index("measured_on")
    for row, values in zip(shown[1:], stored, strict=True):
        day = None if row[at] is None else row[at].date().isoformat()
        assert (*row[:at], day, *row[at + 1 :]) == values
    assert rules.check(str(outputs["xlsx"])) == []


def test_a_record_of_a_parallel_thread_has_the_digest_of_before_there_were_taper_threads(
    outputs: dict[str, Path],
) -> None:
    """The SHA-256 over the fields that a record had then, which are all but those of taper threads."""
    names = [one.name for one in readings.FIELDS]
    rows = [dict(zip(names, row)) for row in ask(outputs["db"], "SELECT * FROM readings")]
    later = {"digest", "workbook", "gauge_turns", "place", "place_2", "place_3"}
    for row in rows:
        then = {name: value for name, value in row.items() if name not in later}
        text = canonical(then | {"file": None, "replaced_by": None})  # a lot with a job number counts wherever it is
        assert row["digest"] == hashlib.sha256(text.encode()).hexdigest()
    assert len(rows) == 30


def test_again_adds_only_what_is_new(tmp_path: Path, filled: Filled, saved: Path) -> None:
    """Without a database the register itself is read back. A later state of a file replaces rows, none is dropped."""
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    job, out = jobs / "a.xlsx", tmp_path / "register.xlsx"
    job.write_bytes(filled.built.read_bytes())

    def again() -> tuple[int, int]:
        done = collect(jobs, out, csv=tmp_path / "register.csv", say=lambda _: None)
        return done.read, done.added

    assert again() == (1, 15)
    first = out.read_bytes()
    assert again() == (0, 0)
    assert out.read_bytes()[:2000] == first[:2000]
    (jobs / "b.xlsx").write_bytes(saved.read_bytes())
    assert again() == (1, 0)
    job.write_bytes(edited(filled, log_reading=(1, 0.7611)))  # typed over: .7621 becomes .7611
    assert again() == (1, 1)

    def part_2() -> list[dict[str, str]]:
        with (tmp_path / "register.csv").open(encoding="utf-8", newline="") as file:
            return [row for row in csv.DictReader(file) if row["serial"] == "2"]

    assert [row["replaced_by"] for row in part_2()] == ["", ""]  # b.xlsx holds the earlier one
    (jobs / "b.xlsx").write_bytes(job.read_bytes())
    assert again() == (0, 0)
    old, new = sorted(part_2(), key=lambda row: row["replaced_by"], reverse=True)
    assert (old["reading_1a"], new["reading_1a"], new["replaced_by"]) == ("0.7621", "0.7611", "")
    assert old["replaced_by"] == new["workbook"] == hashlib.sha256(job.read_bytes()).hexdigest()
    for one in (job, jobs / "b.xlsx"):  # and back: what was there before counts again, and stays so
        one.write_bytes(filled.built.read_bytes())
    for _ in range(2):
        assert again()[1] == 0
        now = {row["reading_1a"]: row["replaced_by"] for row in part_2()}
        assert now == {"0.7621": "", "0.7611": hashlib.sha256(job.read_bytes()).hexdigest()}


def test_two_who_collect_at_once_are_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    jobs, out, db = tmp_path / "jobs", tmp_path / "register.xlsx", tmp_path / "register.sqlite"
    jobs.mkdir()
    with placing.alone(out), pytest.raises(placing.NotPlaced, match="somebody else is writing"):
        collect(jobs, out, say=lambda _: None)
    monkeypatch.setattr(register, "WAIT_SECONDS", 0.1)
    with register.opened(db), pytest.raises(NoRegister, match="somebody else is writing it"):
        collect(jobs, None, db=db, say=lambda _: None)


def _grow(db: str, rows: list[dict[str, Any]]) -> None:
    number = 0
    while True:
        number += 1
        with register.opened(Path(db)) as connection:
            for at, one in enumerate(rows):
                workbook = {"digest": f"w{number}-{at}", "file": "x", "readings": 1, "differing": 0, "settings": "{}"}
                found = register.Collected(workbook, [one | {"digest": f"{one['digest']}{number}"}])
                register.add(connection, found)


def test_killed_while_it_writes_the_register_is_whole(tmp_path: Path, outputs: dict[str, Path]) -> None:
    names = [one.name for one in register.FIELDS]
    rows = [dict(zip(names, row)) for row in ask(outputs["db"], "SELECT * FROM readings")]
    db = tmp_path / "register.sqlite"
    context = multiprocessing.get_context("fork")
    for step in range(15):
        writer = context.Process(target=_grow, args=(str(db), rows))
        writer.start()
        time.sleep(0.01 + step * 0.003)
        writer.kill()
        writer.join()
        assert ask(db, "PRAGMA integrity_check") == [("ok",)]
        with register.opened(db) as connection:  # each run of the writer is there whole, or not at all
            (count,) = connection.execute("SELECT count(*) FROM readings").fetchone()
        assert count % len(rows) == 0


def test_records_that_rest_on_a_wrong_wire_set(
    tmp_path: Path, outputs: dict[str, Path], folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: wires of .03600 for .03610 make the pitch diameter .0003 more than was written down.

    .7621 over wires becomes .7082, high; .7570 becomes .7031, in. Part 5, of July, is after the last day.
    """
    shown = {}
    for source in (outputs["db"], outputs["xlsx"], folder):
        out = tmp_path / f"{source.name}.csv"
        asked = ["recall", str(source), "--wires", "w-12", "--mean", "0.0360 in"]
        assert command.main([*asked, "--from", "2026-03-01", "--to", "2026-06-30", "-o", str(out)]) == 1
        assert "2 of them have another result" in capsys.readouterr().out
        with out.open(encoding="utf-8", newline="") as file:
            shown[source.name] = list(csv.DictReader(file))
    first, *others = shown.values()
    assert all(rows == first for rows in others)
    mine = [row for row in first if row["job_number"] == "J-2041"]
    assert [row["serial"] for row in mine] == ["1", "2", "3", "4", "6", "7", "8", "10", "12", "12"]
    changed = {row["serial"]: (row["old_result"], row["new_result"]) for row in mine if row["change"]}
    assert changed == {"2": ("in", "high")}
    for row in mine:
        if row["old_pitch"]:
            moved = float(row["new_pitch"]) - float(row["old_pitch"])
            assert moved == pytest.approx(3 * 0.0001, abs=1e-7)  # .00000007 of it is the lead angle's
    assert command.main(["recall", str(outputs["db"]), "--wires", "W-12", "--mean", "0.0360"]) == 1
    later = capsys.readouterr().out.splitlines()
    assert any("low becomes in" in line for line in later)
    assert later[-1].startswith("22 records rest on W-12; 4 of them")


REFUSED = (
    (["--wires", "W-12", "--mean", "0.9144"], "nowhere near the 0.0361 in that"),
    (["--wires", " ", "--mean", "0.0361 in"], "no wire set is named; give its number, as in --wires W-12"),
    (["--wires", "W-99", "--mean", "0.0361 in"], "lists or names a wire set W-99"),
    (["--wires", "W-12", "--mean", "thin"], "mean is 'thin'; write a length"),
    (["--wires", "W-12", "--mean", "-0.036"], "is no size of a wire"),
    (["--wires", "W-12", "--mean", "0.036", "--from", "spring"], "spring is no day; write it as in 2026-03-01"),
    (["--wires", "W-12", "--mean", "0.036", "--from", "2026-06-30", "--to", "2026-03-01"], "is after 2026-03-01"),
)


@pytest.mark.parametrize(("arguments", "sentence"), REFUSED)
def test_a_wrong_question_gets_a_sentence(
    outputs: dict[str, Path], arguments: list[str], sentence: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert command.main(["recall", str(outputs["db"]), *arguments]) == 2
    said = capsys.readouterr()
    assert (sentence in said.err, len(said.err.splitlines()), said.out) == (True, 1, "")


def test_interrupting_leaves_the_old_register(tmp_path: Path, folder: Path, outputs: dict[str, Path]) -> None:
    """Ended in the middle of reading: nothing was written."""
    out = tmp_path / "register.xlsx"
    out.write_bytes(outputs["xlsx"].read_bytes())
    before = out.read_bytes()

    def end(_: str) -> None:
        os.kill(os.getpid(), signal.SIGKILL)

    context = multiprocessing.get_context("fork")
    worker = context.Process(target=collect, args=(folder, out), kwargs={"say": end})
    worker.start()
    worker.join()
    assert worker.exitcode == -signal.SIGKILL
    assert out.read_bytes() == before


def test_a_log_with_the_former_names_is_read_alike(filled: Filled, tmp_path: Path) -> None:
    xml = part(filled.built.read_bytes(), "xl/workbook.xml").decode()
    for name, former in columns.FORMER.items():
        assert xml.count(f'name="{name}"') == 1
        xml = xml.replace(f'name="{name}"', f'name="{former}"')
    before = tmp_path / "before.xlsx"
    before.write_bytes(with_parts(filled.built.read_bytes(), {"xl/workbook.xml": xml.encode()}))
    now, then = ([one | {"workbook": ""} for one in collected(path, "").readings] for path in (filled.built, before))
    assert then == now
    assert {one["agrees"] for one in then} == {"yes"}


FORGED: dict[str, tuple[str, int, tuple[str, str]]] = {
    "the result of part 3, which is high": ("log_worst", 2, text("in")),
    "the result of the last row, emptied": ("log_worst", 14, ("", "")),
    "a taper": ("log_taper", 0, ("<v>0.0001</v>", "")),
    "out of round": ("log_out_of_round", 0, ("<v>0.0003</v>", "")),
}
"""What stands on the log in place of a formula: its name, the row from the first, the cell."""


@pytest.mark.parametrize("what", FORGED)
def test_a_result_that_was_typed_over_is_none_that_agrees(tmp_path: Path, filled: Filled, what: str) -> None:
    """The lot: part 3 is high by .0001, part 1 has a taper of .00015 and is .0001 out of round."""
    name, at, (inner, kind) = FORGED[what]
    content = filled.built.read_bytes()
    log = sheet_part(filled, cell_of(filled, name)[0])
    forged = changed_cell(filled, part(content, log).decode(), name, inner, at, kind)
    jobs, db = tmp_path / "jobs", tmp_path / "register.sqlite"
    jobs.mkdir()
    (jobs / "job.xlsx").write_bytes(with_parts(content, {log: forged.encode()}))
    assert collect(jobs, None, db=db, say=lambda _: None).differing == 1
    assert ask(db, "SELECT log_row FROM readings WHERE agrees = 'no'") == [(first_row(filled) + at,)]
    assert ask(db, "SELECT differing FROM workbooks") == [(1,)]


def test_a_stored_result_that_was_patched_is_none_that_agrees(tmp_path: Path, filled: Filled) -> None:
    """Its formula stays, so no program that computes only what was typed shows anything else."""
    content = filled.built.read_bytes()
    title, cell = cell_of(filled, "log_worst", 2)
    log = sheet_part(filled, title)
    before, held, after = part(content, log).decode().partition(f'<c r="{cell}"')
    assert after.index("<v>high</v>") < after.index("</c>")
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, {log: (before + held + after.replace("high", "in", 1)).encode()}))
    found = collected(path, "job.xlsx")
    assert [one["serial"] for one in found.readings if one["agrees"] == "no"] == ["3"]
    assert found.workbook["differing"] == 1


def test_a_workbook_of_before_there_was_a_result_of_all_agrees(tmp_path: Path, filled: Filled) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_name(filled.built.read_bytes(), "log_worst", ""))
    assert {one["agrees"] for one in collected(path, "").readings} == {"yes"}
