"""Loads the register into a PostgreSQL server, through its own client psql: nothing else has to be installed.

Rows that are there already stay; only whether a later state has replaced them is brought up to date. All or nothing.
The server is asked before anything is read, and loaded before any file is written: where it refuses, nothing is.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
from collections.abc import Iterable, Iterator, Sequence
from typing import IO, Any

from workbook_template.read_back import register
from workbook_template.read_back.register import TABLES, Connection, NoRegister

SCHEMES = ("postgresql://", "postgres://")
KINDS = {"text": "text", "real": "double precision", "integer": "integer", "date": "date"}


WAIT_SECONDS = "10"
"""For a server that does not answer, where the user has not said how long."""


def reach(address: str) -> None:
    """NoRegister, with the words of psql, where no such server answers."""
    asked = subprocess.run(
        [*_psql(address), "-c", "SELECT 1"], stdin=subprocess.DEVNULL, capture_output=True, encoding="utf-8",
        errors="replace", env=_environment(), check=False,
    )  # fmt: skip
    if asked.returncode:
        raise _refusal(asked.stderr)


def _environment() -> dict[str, str]:
    return {"PGCONNECT_TIMEOUT": WAIT_SECONDS, **os.environ}


def _refusal(said: str) -> NoRegister:
    words = said.strip().splitlines() or ["psql ended without a word"]
    return NoRegister(f"the server did not take the register: {words[0]}; nothing was written")


def _psql(address: str) -> list[str]:
    """The client and the server; NoRegister where the one is missing or the other no address."""
    if not address.startswith(SCHEMES):
        raise NoRegister(
            f"{address} is no address of a PostgreSQL server; it begins with {SCHEMES[0]}; nothing was written"
        )
    program = shutil.which("psql")
    if program is None:
        raise NoRegister(
            "psql is missing: install the PostgreSQL client (Debian: postgresql-client); nothing was written"
        )
    return [program, "-X", "-q", "-t", "-A", "-v", "ON_ERROR_STOP=1", "-d", address]


def load(connection: Connection, address: str) -> int:
    """Load both tables; how many readings were new on the server. NoRegister, with its words, where it refuses."""
    with subprocess.Popen(
        [*_psql(address), "-f", "-"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        encoding="utf-8", env=_environment(),
    ) as process:  # fmt: skip
        assert process.stdin is not None
        with contextlib.suppress(BrokenPipeError):  # psql has ended; it says why
            _send(process.stdin, connection)
        said, refused = process.communicate()
    if process.returncode:
        raise _refusal(refused)
    return int(said.split()[-1])


def _send(stream: IO[str], connection: Connection) -> None:
    for piece in _script(connection):
        stream.write(piece)
    stream.flush()


def _script(connection: Connection) -> Iterator[str]:
    """The whole of one transaction."""
    yield "SET client_min_messages = warning;\nBEGIN;\n"
    for name, fields in TABLES.items():
        columns = ", ".join(f"{one.name} {KINDS[one.kind]}" for one in fields)
        yield f"CREATE TABLE IF NOT EXISTS {name} ({columns}, PRIMARY KEY (digest));\n"
        yield f"CREATE TEMP TABLE incoming_{name} (LIKE {name}) ON COMMIT DROP;\nCOPY incoming_{name} FROM STDIN;\n"
        yield from map(_line, register.rows_of(connection, name))
        yield "\\.\n"
    for name, columns in register.INDEXES.items():
        yield f"CREATE INDEX IF NOT EXISTS {name} ON readings ({columns});\n"
    yield "INSERT INTO workbooks SELECT * FROM incoming_workbooks ON CONFLICT DO NOTHING;\n"
    yield (
        "UPDATE readings SET replaced_by = incoming.replaced_by FROM incoming_readings incoming WHERE "
        "readings.digest = incoming.digest AND readings.replaced_by IS DISTINCT FROM incoming.replaced_by;\n"
    )
    yield (
        "WITH new AS (INSERT INTO readings SELECT * FROM incoming_readings ON CONFLICT DO NOTHING RETURNING 1) "
        "SELECT count(*) FROM new;\nCOMMIT;\n"
    )


def _line(row: Sequence[Any]) -> str:
    """A row in the server's own text form."""
    return "\t".join(_cells(row)) + "\n"


def _cells(row: Iterable[Any]) -> Iterator[str]:
    for value in row:
        if value is None:
            yield "\\N"
        elif isinstance(value, str):
            kept = value.replace("\0", "\ufffd").replace("\\", "\\\\").replace("\t", "\\t")
            yield kept.replace("\n", "\\n").replace("\r", "\\r").encode("utf-8", "replace").decode("utf-8")
        else:
            yield repr(value)
