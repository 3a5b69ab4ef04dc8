"""`collect --to`: the same rows on a PostgreSQL server, all or none, and what is said where it refuses."""

from __future__ import annotations

import sqlite3
import subprocess
from pathlib import Path
from typing import Any

import postgresql_server
import pytest
from read_back_files import Filled
from register_cases import QUESTION, ask, first_row, lots

from workbook_template import __main__ as command
from workbook_template.file import placing

pytestmark = pytest.mark.usefixtures("short_table")


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, filled: Filled, saved: Path) -> Path:
    return lots(tmp_path_factory.mktemp("jobs"), filled, saved)


@pytest.fixture(scope="module")
def database() -> Any:
    with postgresql_server.running() as address:
        yield address


def psql(address: str, question: str) -> str:
    run = ["psql", "-X", "-q", "-t", "-A", "-c", question, address]
    return subprocess.run(run, check=True, capture_output=True, text=True).stdout


def test_the_same_rows_on_a_postgresql_server(
    tmp_path: Path,
    database: str,
    folder: Path,
    filled: Filled,
    capsys: pytest.CaptureFixture[str],
) -> None:
    db, row = tmp_path / "register.sqlite", first_row(filled)
    asked = ["collect", str(folder), "--db", str(db), "--to", database]
    assert command.main(asked) == 1  # one file was passed over
    assert "30 new on the server" in capsys.readouterr().out
    wanted = [tuple(map(str, row)) for row in ask(db, QUESTION)]
    assert [tuple(line.split("|")) for line in psql(database, QUESTION).splitlines()] == wanted
    assert psql(database, "SELECT count(*), count(pitch), min(measured_on) FROM readings") == "30|22|2026-03-05\n"
    odd = "tab\there, back\\slash, \\N, new\nline, \u00f6, 'quote'"
    connection = sqlite3.connect(db)
    with connection:
        connection.execute(
            f"UPDATE readings SET customer = ?, digest = 'odd' WHERE log_row = {row} AND file LIKE 'J%'", (odd,)
        )
        connection.execute(f"UPDATE readings SET replaced_by = 'later' WHERE log_row = {row + 1} AND file LIKE 'J%'")
    connection.close()
    assert command.main(asked) == 1
    assert "1 new on the server" in capsys.readouterr().out
    assert psql(database, "SELECT customer FROM readings WHERE digest = 'odd'") == odd + "\n"
    assert psql(database, "SELECT count(*) FROM readings WHERE replaced_by = 'later'") == "1\n"
    assert command.main([*asked[:-1], "postgresql:///nothing?host=/nowhere"]) == 2
    said = capsys.readouterr().err
    assert "the server did not take the register: " in said
    assert "nothing was written" in said


@pytest.mark.parametrize(
    ("address", "why"),
    [
        ("postgresql:///nothing?host=/nowhere", "the server did not take the register: "),
        ("postgresql://shop@127.0.0.1:1/quality", "the server did not take the register: "),
        ("mysql://shop@server/quality", "is no address of a PostgreSQL server"),
        ("", "is no address of a PostgreSQL server"),
    ],
)
def test_a_server_that_is_not_there_is_refused_before_anything_is_written(
    tmp_path: Path, folder: Path, address: str, why: str, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "out"
    out.mkdir()
    asked = ["collect", str(folder), "-o", str(out / "r.xlsx"), "--csv", str(out / "r.csv"), "--db"]
    assert command.main([*asked, str(out / "r.sqlite"), "--to", address]) == 2
    said = capsys.readouterr().err
    assert why in said
    assert "nothing was written" in said
    assert "workbooks" not in said  # no file was read either
    assert list(out.iterdir()) == []


def test_a_server_that_refuses_the_rows_leaves_the_register_as_it_was(
    tmp_path: Path, database: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Another table of that name stands there already, which shows only when the rows come."""
    other = database.replace("/postgres?", "/other?")
    psql(database, "CREATE DATABASE other")
    psql(other, "CREATE TABLE readings (digest text PRIMARY KEY)")
    xlsx, csv_file = tmp_path / "r.xlsx", tmp_path / "r.csv"
    asked = ["collect", str(folder), "-o", str(xlsx), "--csv", str(csv_file), "--to", other]
    assert command.main(asked) == 2
    said = capsys.readouterr().err
    assert "the server did not take the register: " in said
    assert "nothing was written" in said
    assert not xlsx.exists()
    assert not csv_file.exists()


def test_a_file_that_cannot_be_written_once_the_server_has_the_rows(
    tmp_path: Path, database: str, folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(content: bytes, path: Path) -> None:
        raise OSError(28, "No space left on device", str(path))

    third = database.replace("/postgres?", "/third?")
    psql(database, "CREATE DATABASE third")
    monkeypatch.setattr(placing, "put", full)
    assert command.main(["collect", str(folder), "-o", str(tmp_path / "r.xlsx"), "--to", third]) == 2
    said = capsys.readouterr().err.splitlines()[-1]
    assert "No space left on device; the server has the rows already: mend that, run it again" in said
    assert psql(third, "SELECT count(*) FROM readings") == "30\n"
