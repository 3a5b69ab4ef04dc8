"""What `recall` says is to be done: which parts were shipped, and what each asks for now."""

from __future__ import annotations

import csv
import json
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from read_back_files import (
    Filled,
    edited,
    with_name,
)

from workbook_template import __main__ as command
from workbook_template.read_back.collect import collect
from workbook_template.read_back.shipped import action, certificates

pytestmark = pytest.mark.usefixtures("short_table")

TELL, FIND = (
    "tell the customer; quarantine; measure again",
    "find it; if it was shipped, tell the customer; quarantine; measure again",
)
FROM_SHOP, AGAIN = "quarantine; measure again", "measure again before it is used: it was rejected"


def test_a_list_of_wires_that_was_left_one_cell(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """A number in it is one number, no list of figures, and no crash."""
    (tmp_path / "job.xlsx").write_bytes(with_name(edited(filled, wires_id=(0, 12.0)), "wires_id", r"\1"))
    assert command.main(["recall", str(tmp_path), "--wires", "W-77", "--mean", "0.0360 in"]) == 2
    assert "lists or names a wire set W-77" in capsys.readouterr().err
    assert command.main(["recall", str(tmp_path), "--wires", "12", "--mean", "0.0360 in"]) == 0


def test_what_to_do_about_parts_that_were_shipped(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: with .03600 for .03610 part 2, .7621 over wires, becomes high; 5, .7570, was low and becomes in.

    Part 3 is out by its major diameter as well, .7486; that of part 5 is typed as .7440 here.

    The readings are collected first, the certificate is filled in later. J-2042 has a number alone, J-2043 nothing.
    """
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    register_file = tmp_path / "register.sqlite"
    for number in (2041, 2042, 2043):
        (jobs / f"J-{number}.xlsx").write_bytes(edited(filled, job_number=f"J-{number}", log_crest=(4, 0.744)))
    collect(jobs, None, db=register_file, say=str)
    issued = {"job_number": "J-2041", "log_crest": (4, 0.744), "certificate_released": "chief"}
    issued["certificate_date"] = (0, 46113)  # 2026-04-01
    (jobs / "J-2041.xlsx").write_bytes(edited(filled, certificate_number="C-9", **issued))
    (jobs / "J-2042.xlsx").write_bytes(edited(filled, job_number="J-2042", certificate_number="C-10"))
    collect(jobs, None, db=register_file, say=str)
    out = tmp_path / "todo.csv"
    asked = ["recall", str(register_file), "--wires", "W-12", "--mean", "0.0360 in", "-o", str(out)]
    assert command.main(asked) == 1
    said = capsys.readouterr().out
    with out.open(encoding="utf-8", newline="") as file:
        rows = {
            (row["job_number"], row["serial"]): row for row in csv.DictReader(file) if row["old_result"] != "replaced"
        }
    assert [rows[job, "2"]["shipped"] for job in ("J-2041", "J-2042", "J-2043")] == ["yes", "perhaps", "no"]
    assert [rows[job, "2"]["action"] for job in ("J-2041", "J-2042", "J-2043")] == [TELL, FIND, FROM_SHOP]
    assert [rows["J-2041", part]["action"] for part in ("1", "3", "5")] == [
        "nothing: still in",
        "nothing: out by its crest diameter",
        AGAIN,
    ]
    assert [rows["J-2041", part]["shipped"] for part in ("1", "3", "5")] == ["yes", "perhaps", "perhaps"]
    first = rows["J-2041", "2"]
    assert (first["certificate"], first["certificate_date"]) == ("C-9", "2026-04-01")
    assert first["customer"] == "Pump works of the valley (invented)"
    lines = said.splitlines()
    at = lines.index("To do:")
    certified = "certificate C-9 of 2026-04-01 to Pump works of the valley (invented)"
    asked_of = f"    job J-2041, {certified} (J-2041.xlsx): part 2, 6, 7, 10"
    assert lines[at + 1 : at + 3] == [f"  {TELL.capitalize()}:", asked_of]
    assert f"  {AGAIN.capitalize()}:" in lines
    assert lines[-2].startswith(f"{len(rows) + 3} records rest on W-12; 6 of them have another result")
    assert lines[-2].endswith("; 14 to see to, of 9 of them nobody can say what they are, now as before")


def recall(source: Path, *asked: str) -> int:
    return command.main(["recall", str(source), *asked])


@pytest.mark.parametrize(
    ("fields", "told"),
    [
        ({"certificate_date": (0, 46113), "certificate_released": "chief"}, "of no known number of 2026-04-01"),
        ({"certificate_released": "chief"}, "of no known number"),
        ({"certificate_date": (0, 46053), "certificate_number": "C-9", "certificate_released": "chief"},
         "C-9 of 2026-01-31"),
    ],
)  # fmt: skip
def test_a_part_that_may_have_gone_out_is_found_first_and_its_customer_is_named(
    tmp_path: Path, filled: Filled, fields: dict[str, Any], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """A certificate without its number, and one that is dated before all readings: the paper lists each row."""
    (tmp_path / "a.xlsx").write_bytes(edited(filled, **fields))
    out = tmp_path / "todo.csv"
    assert recall(tmp_path, "--wires", "W-12", "--mean", "0.0360 in", "-o", str(out)) == 1
    with out.open(encoding="utf-8", newline="") as file:
        (found,) = (row for row in csv.DictReader(file) if row["serial"] == "2")
    assert (found["shipped"], found["action"]) == ("perhaps", FIND)
    who = f"certificate {told} to Pump works of the valley (invented)"
    assert f"    job J-2041, {who} (a.xlsx): part 2, 6, 7, 10" in capsys.readouterr().out.splitlines()


def test_a_part_that_was_rejected_otherwise_is_rejected(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """Part 2 becomes high with .03600: but its major diameter is .7490, or its ring did not go, so it was not sent."""
    for name, parts in (
        ("crest diameter", {"log_crest": (1, 0.749)}),
        ("gauges", {"log_ring": "go fails", "log_gauge": "R-1"}),
    ):
        jobs, out = tmp_path / name, tmp_path / f"{name}.csv"
        jobs.mkdir()
        (jobs / "a.xlsx").write_bytes(edited(filled, **parts))
        row = "2" if name == "crest diameter" else "1"  # the ring is typed into the first row
        recall(jobs, "--wires", "W-12", "--mean", "0.0360 in", "-o", str(out))
        with out.open(encoding="utf-8", newline="") as file:
            (found,) = (one for one in csv.DictReader(file) if one["serial"] == row)
        assert (found["shipped"], found["action"]) == ("no", f"nothing: out by its {name}")
    said = capsys.readouterr().out
    assert "<- in becomes high; nothing: out by its crest diameter" in said


def test_a_workbook_with_another_mean_keeps_the_others_not_back(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """Set W-12 of b.xlsx is typed as .0722: the mean that is asked with is nowhere near it. Part 1 is of 5 March."""
    (tmp_path / "a.xlsx").write_bytes(edited(filled, job_number="J-2042"))
    thick = {f"wires_{wire}": (0, 0.0722) for wire in "abc"}
    (tmp_path / "b.xlsx").write_bytes(edited(filled, **thick))
    asked = ("--wires", "W-12", "--mean", "0.0361 in")
    assert recall(tmp_path, *asked) == 1
    said = capsys.readouterr()
    assert said.err.startswith("a mean of 0.0361 in is nowhere near the 0.0722 in that b.xlsx has for W-12; ")
    assert (said.err.endswith("; it was passed over\n"), len(said.err.splitlines())) == (True, 1)
    assert said.out.splitlines()[-1].startswith("11 records rest on W-12; 0 of them have another result")
    (tmp_path / "a.xlsx").unlink()
    assert recall(tmp_path, *asked) == 2  # nothing is left to list
    capsys.readouterr()
    assert recall(tmp_path, *asked, "--from", "2025-01-01", "--to", "2025-12-31") == 0  # it has nothing of these days
    said = capsys.readouterr()
    assert (said.out.startswith("0 records rest on W-12; 0 of them"), said.err) == (True, "")


@pytest.mark.parametrize("spelled", ["W-12 ", " W-12", "W\u201312", "W 12", "w12"])
def test_a_number_that_looks_like_the_set_is_told(
    tmp_path: Path, filled: Filled, spelled: str, capsys: pytest.CaptureFixture[str]
) -> None:
    """Part 1 names a set that no list has: it is not among the records, but not passed over in silence."""
    (tmp_path / "a.xlsx").write_bytes(edited(filled, log_wires=spelled))
    assert recall(tmp_path, "--wires", " W-12 ", "--mean", "0.0361 in") == 1
    said = capsys.readouterr()
    assert said.err.startswith(f'1 record on the wires "{spelled}", a number that is not in the list of its workbook')
    assert said.out.splitlines()[-1].startswith("10 records rest on W-12; 0 of them")


def test_a_number_that_is_listed_with_a_blank_is_that_set(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a.xlsx").write_bytes(edited(filled, wires_id="W-12 ", log_wires="W-12 "))
    recall(tmp_path, "--wires", "W-12", "--mean", "0.0360 in")
    said = capsys.readouterr()
    assert said.out.splitlines()[-1].startswith("1 record rests on W-12;")
    assert 'records on the wires "W-12", a number that is not' in said.err


def test_what_is_left_as_it_was_is_nothing_to_do() -> None:
    """Undecided before and undecided now: the true mean has changed nothing. Where nobody can say, somebody looks."""
    assert action("yes", "undecided", "undecided") == "nothing: undecided as before"
    assert action("yes", "in", "undecided") == TELL
    assert action("yes", "check instrument", "check instrument") == TELL


def test_it_ends_with_1_where_something_is_to_do(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """Parts 6 and 7 have no instrument that counts, part 10 an entry that can't be right: nothing has changed there."""
    (tmp_path / "a.xlsx").write_bytes(filled.built.read_bytes())
    assert recall(tmp_path, "--wires", "W-12", "--mean", "0.0361 in") == 1
    last = capsys.readouterr().out.splitlines()[-1]
    assert last.endswith("another result with a mean of 0.0361 in; 3 to see to, of 3 of them nobody can say what they "
                         "are, now as before")  # fmt: skip
    assert recall(tmp_path, "--wires", "W-12", "--mean", "0.0361 in", "--to", "2026-03-05") == 0


def test_a_certificate_in_another_file_of_the_job_may_be_for_the_part() -> None:
    """A copy has the certificate: nobody can say that the part is still here. A register of before says nothing."""
    files = [("a.xlsx", {"job_number": "J-1", "certificate_number": None}),
             ("b.xlsx", {"job_number": "j-1", "certificate_number": "C-1", "certificate_date": "2026-04-01",
                         "certificate_released": "chief"}),
             ("old.xlsx", {"job_number": "J-2"})]  # fmt: skip
    issued = certificates((file, json.dumps(settings)) for file, settings in files)
    assert issued("b.xlsx", "J-1").shipped(False, "2026-03-01") == "yes"
    assert issued("a.xlsx", "J-1").shipped(False, "2026-03-01") == "perhaps"
    assert issued("a.xlsx", "J-1").shipped(False, "2026-04-02") == "perhaps"
    assert issued("b.xlsx", "J-1").shipped(False, "2026-04-02") == "perhaps"
    assert issued("old.xlsx", "J-2").shipped(False, None) == "perhaps"


def test_a_certificate_that_was_begun_in_another_file_of_the_job_counts_as_one() -> None:
    """Released, without a number: the part of the copy may be on it. One with a number counts before it."""
    begun = {"job_number": "J-1", "certificate_number": None, "certificate_released": "chief"}
    whole = {"job_number": "J-1", "certificate_number": "C-1", "certificate_date": "2026-04-01"}
    files = [("a.xlsx", {"job_number": "J-1", "certificate_number": None}), ("b.xlsx", begun)]
    for more, number in (([], None), ([("c.xlsx", whole)], "C-1"), ([("c.xlsx", whole), ("c.xlsx", begun)], "C-1")):
        issued = certificates((file, json.dumps(settings)) for file, settings in [*files, *more])
        for name in ("a.xlsx", "b.xlsx"):
            assert issued(name, "J-1").shipped(False, "2026-03-01") == "perhaps"
            assert issued(name, "J-1").number == number


def test_a_set_that_is_numbered_by_a_number(tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]) -> None:
    """A program takes a typed 12 for a number; a register of before has 12.0 for it."""
    jobs, db = tmp_path / "jobs", tmp_path / "register.sqlite"
    jobs.mkdir()
    (jobs / "a.xlsx").write_bytes(edited(filled, wires_id=(0, 12), log_wires=(0, 12)))
    collect(jobs, None, db=db, say=str)
    connection = sqlite3.connect(db)
    for spelled in ("12", "12.0"):
        with connection:
            connection.execute("UPDATE readings SET wires = ? WHERE wires = '12'", (spelled,))
        recall(db, "--wires", "12", "--mean", "0.0361 in")
        assert capsys.readouterr().out.splitlines()[-1].startswith("1 record rests on 12;")
    connection.close()
