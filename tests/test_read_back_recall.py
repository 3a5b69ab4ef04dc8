"""What `recall` says is to be done: which parts were shipped, and what each asks for now."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from read_back_files import (
    Filled,
    edited,
)

from workbook_template import __main__ as command
from workbook_template.read_back.collect import collect
from workbook_template.read_back.shipped import certificates

TELL, FIND = (
    "tell the customer; quarantine; measure again",
    "find it; if it was shipped, tell the customer; quarantine; measure again",
)
FROM_SHOP, AGAIN = "quarantine; measure again", "measure again before it is used: it was rejected"


def test_what_to_do_about_parts_that_were_shipped(
    tmp_path: Path, filled: Filled, capsys: pytest.CaptureFixture[str]
) -> None:
    """By hand: with .03600 for .03610 part 2, .7621 over wires, becomes high; 5, .7570, was low and becomes in.

    The readings are collected first, the certificate is filled in later. Parts of March are on that of the 1st of
    April, part 5 of July is not. J-2042 has a number alone, J-2043 nothing.
    """
    jobs = tmp_path / "jobs"
    jobs.mkdir()
    register_file = tmp_path / "register.sqlite"
    for number in (2041, 2042, 2043):
        (jobs / f"J-{number}.xlsx").write_bytes(edited(filled, job_number=f"J-{number}"))
    collect(jobs, None, db=register_file, say=str)
    issued = {"job_number": "J-2041", "certificate_released": "chief", "certificate_date": (0, 46113)}  # 2026-04-01
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
        "nothing: still out",
        AGAIN,
    ]
    assert [rows["J-2041", part]["shipped"] for part in ("1", "3", "5")] == ["yes", "perhaps", "no"]
    first = rows["J-2041", "2"]
    assert (first["certificate"], first["certificate_date"]) == ("C-9", "2026-04-01")
    assert first["customer"] == "Pump works of the valley (invented)"
    lines = said.splitlines()
    at = lines.index("To do:")
    certified = "certificate C-9 of 2026-04-01 to Pump works of the valley (invented)"
    asked_of = f"    job J-2041, {certified} (J-2041.xlsx): part 2, 6, 7, 10"
    assert lines[at + 1 : at + 3] == [f"  {TELL.capitalize()}:", asked_of]
    assert f"  {AGAIN.capitalize()}:" in lines


def test_a_certificate_in_another_file_of_the_job_may_be_for_the_part() -> None:
    """A copy has the certificate: nobody can say that the part is still here. A register of before says nothing."""
    files = [("a.xlsx", {"job_number": "J-1", "certificate_number": None}),
             ("b.xlsx", {"job_number": "j-1", "certificate_number": "C-1", "certificate_date": "2026-04-01",
                         "certificate_released": "chief"}),
             ("old.xlsx", {"job_number": "J-2"})]  # fmt: skip
    issued = certificates((file, json.dumps(settings)) for file, settings in files)
    assert issued("b.xlsx", "J-1").shipped("in", "2026-03-01") == "yes"
    assert issued("a.xlsx", "J-1").shipped("in", "2026-03-01") == "perhaps"
    assert issued("a.xlsx", "J-1").shipped("in", "2026-04-02") == "no"
    assert issued("old.xlsx", "J-2").shipped("in", None) == "perhaps"
