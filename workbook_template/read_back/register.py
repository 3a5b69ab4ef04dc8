"""The register: the readings of many workbooks in SQLite, and from there as .xlsx and CSV.

Without a database file the register lives in the .xlsx itself, which is read back before anything is added to it.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from workbook_template.figures.functions import DAY_0
from workbook_template.file import placing
from workbook_template.read_back import contents, held, kept, shipped, tables
from workbook_template.read_back.findings import said
from workbook_template.read_back.opening import Unreadable
from workbook_template.read_back.readings import FIELDS, OF_TAPER, WORKBOOK_FIELDS, Collected, Field

Connection = sqlite3.Connection
READINGS, WORKBOOKS = "Readings", "Workbooks"
TABLES: dict[str, tuple[Field, ...]] = {"workbooks": WORKBOOK_FIELDS, "readings": FIELDS}
"""What people ask: a server has these alone."""

ALL = TABLES | held.TABLES
TITLES = {"readings": READINGS, "workbooks": WORKBOOKS, "files": "Files", "held": "Held", "folders": "Folders"}
"""The sheets of the .xlsx; one that was begun before lacks the last ones."""

WITHOUT_TAPER = tuple(one for one in FIELDS if one.name not in OF_TAPER)
"""The readings of a register that was begun before there were taper threads."""
INDEXES = {
    "readings_by_wires": "wires, measured_on",
    "readings_by_instrument": "instrument, measured_on",
    "readings_by_job": "job_number, log_row",
    "readings_by_file": "file",
    "readings_by_workbook": "workbook",
}
ORDERS = {"readings": "file, log_row, digest", "workbooks": "file, rowid", **held.KEYS}
"""In which order rows are written: the states of a file as they came."""

WRITTEN = "written (form TEXT PRIMARY KEY, rows TEXT, content TEXT)"
"""A table beside them: of the .xlsx and the CSV as last written the digest of the rows, and that of the file."""

FILLED = ("digest", "file", "workbook", "log_row", "typed", "settings")
"""Fields that no row is without."""

JSON = ("typed", "settings")
"""Texts that are read again, as the names and values in them."""

SQLITE = {"text": "TEXT", "real": "REAL", "integer": "INTEGER", "date": "TEXT"}
WAIT_SECONDS = 5.0
TIMES = 16
"""How many times larger than a filled workbook a register may be."""


class NoRegister(Exception):
    """The file can't be used as a register; one sentence says why."""


@contextlib.contextmanager
def opened(path: Path | None) -> Iterator[sqlite3.Connection]:
    """The database, made where there is none; in memory without a path. All that is done in it counts, or nothing.

    NoRegister where somebody else is writing it.
    """
    connection = sqlite3.connect(":memory:" if path is None else str(path), timeout=WAIT_SECONDS, isolation_level=None)
    try:
        connection.execute("BEGIN IMMEDIATE")
        _make_tables(connection)
        if _columns(connection, "readings") == [one.name for one in WITHOUT_TAPER]:
            _widen(connection)
        for name, columns in INDEXES.items():
            connection.execute(f"CREATE INDEX IF NOT EXISTS {name} ON readings ({columns})")
        for name, what in held.INDEXES.items():
            connection.execute(f"CREATE INDEX IF NOT EXISTS {name} ON {what}")
        _refuse_other(connection)
        held.settle(connection)
        yield connection
        connection.execute("COMMIT")
    except sqlite3.OperationalError as error:
        busy = "somebody else is writing it; wait until it is done" if "locked" in str(error) else str(error)
        raise NoRegister(f"the register {path} can't be used: {busy}") from error
    except sqlite3.DatabaseError as error:
        raise NoRegister(f"{path} is no register: it is no SQLite database, or a damaged one") from error
    finally:
        connection.close()


def _make_tables(connection: sqlite3.Connection) -> None:
    for name, fields in ALL.items():
        columns = ", ".join(f"{one.name} {SQLITE[one.kind]}" for one in fields)
        key = held.KEYS.get(name, "digest")
        connection.execute(f"CREATE TABLE IF NOT EXISTS {name} ({columns}, PRIMARY KEY ({key}))")


def _columns(connection: sqlite3.Connection, table: str) -> list[str]:
    return [row[1] for row in connection.execute(f"PRAGMA table_info({table})")]


def _widen(connection: sqlite3.Connection) -> None:
    """Give a register of before the columns of taper threads, empty; its records and their digests stay."""
    names = ", ".join(one.name for one in WITHOUT_TAPER)
    connection.execute("ALTER TABLE readings RENAME TO readings_before")
    _make_tables(connection)
    connection.execute(f"INSERT INTO readings ({names}) SELECT {names} FROM readings_before")
    connection.execute("DROP TABLE readings_before")


def _refuse_other(connection: sqlite3.Connection) -> None:
    for name, fields in ALL.items():
        if _columns(connection, name) != [one.name for one in fields]:
            raise NoRegister(f"the register's table {name} has other columns; collect into a new file")


def is_begun(connection: sqlite3.Connection) -> bool:
    """Whether any workbook is in."""
    return connection.execute("SELECT 1 FROM workbooks LIMIT 1").fetchone() is not None


def add(connection: sqlite3.Connection, found: Collected, here: held.Here | None = None) -> int:
    """Add what is new of one workbook; how many readings were. What an earlier state of the file had is kept.

    A record that was in an earlier state, then gone, and is there again counts again. A copy of what is in already,
    letter by letter, brings nothing, also where its job has no number.
    """
    file, digest = found.workbook["file"], found.workbook["digest"]
    added = 0
    if not held.is_known(connection, digest):
        # it becomes the newest state of its file
        connection.execute("DELETE FROM workbooks WHERE file = ? AND digest = ?", (file, digest))
        _insert(connection, "workbooks", WORKBOOK_FIELDS, [tuple(found.workbook[one.name] for one in WORKBOOK_FIELDS)])
        before = connection.total_changes
        _insert(connection, "readings", FIELDS, [tuple(one[field.name] for field in FIELDS) for one in found.readings])
        added = connection.total_changes - before
        held.share(connection, digest, [one["digest"] for one in found.readings])
    held.note(connection, file, digest, here)
    return added


def _insert(
    connection: sqlite3.Connection, table: str, fields: tuple[Field, ...], rows: Iterable[Sequence[Any]]
) -> None:
    names, places = ", ".join(one.name for one in fields), ", ".join("?" * len(fields))
    connection.executemany(f"INSERT OR IGNORE INTO {table} ({names}) VALUES ({places})", rows)


def rows_of(connection: sqlite3.Connection, table: str) -> Iterable[tuple[Any, ...]]:
    """The rows of a table in a fixed order."""
    return connection.execute(f"SELECT * FROM {table} ORDER BY {ORDERS[table]}")


def write(connection: sqlite3.Connection, xlsx: Path | None, csv: Path | None) -> None:
    """The whole register as a workbook, and its readings as CSV, in the place of old ones.

    A file that is what this version has made of the same rows before is not made again to see that it is the same.
    """
    connection.execute(f"CREATE TABLE IF NOT EXISTS {WRITTEN}")
    rows = _digest_of_rows(connection)
    for form, path, make in (("xlsx", xlsx, _as_xlsx), ("csv", csv, _as_csv)):
        if path is None:
            continue
        there = path.read_bytes() if path.is_file() else None
        known = connection.execute("SELECT rows, content FROM written WHERE form = ?", (form,)).fetchone()
        if rows and there is not None and known == (rows, _sha256(there)):
            continue
        content = make(connection)
        if there != content:
            placing.put(content, path)
        if known != (rows, _sha256(content)):
            connection.execute("INSERT OR REPLACE INTO written VALUES (?, ?, ?)", (form, rows, _sha256(content)))


def _digest_of_rows(connection: sqlite3.Connection) -> str:
    """A digest of all that the files follow from: the rows, and this version; empty where that can't be told."""
    version = kept.version()
    digest = hashlib.sha256(version.encode())
    for name in ALL:
        for row in rows_of(connection, name):
            digest.update(repr(row).encode())
    return digest.hexdigest() if version else ""


def _sha256(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def _as_xlsx(connection: sqlite3.Connection) -> bytes:
    sheets = [
        tables.Table(title, [(one.name, one.kind) for one in ALL[name]], rows_of(connection, name))
        for name, title in TITLES.items()
    ]
    return tables.workbook(sheets)


def _as_csv(connection: sqlite3.Connection) -> bytes:
    return tables.csv_file([one.name for one in FIELDS], rows_of(connection, "readings"))


def load_xlsx(connection: sqlite3.Connection, path: Path, *, heads_alone: bool = False) -> None:
    """Take in what an earlier register.xlsx holds; NoRegister where it is something else, which is all that
    `heads_alone` asks: beside a database it is only a copy.
    """
    try:
        book = contents.open_book(path, TIMES)
        if not {READINGS, WORKBOOKS} <= set(book.sheets):
            raise NoRegister(f"{path} is no register, so it is left alone; name another file")
        for name, title in TITLES.items():
            if title not in book.sheets:
                continue
            rows = contents.stream_rows(book, title)
            heads = next(rows, {})
            fields = _fields_of(heads, name)
            if fields is None:
                raise NoRegister(f"{path} has other columns than a register of this version; collect into a new file")
            if not heads_alone:
                _insert(connection, name, fields, _stored(rows, fields, f"{path}: its sheet {title}"))
        held.settle(connection)
    except Unreadable as error:
        raise NoRegister(error.sentence) from error


def _fields_of(heads: dict[int, Any], table: str) -> tuple[Field, ...] | None:
    """The columns that the first row of a sheet names; None for those of no register."""
    forms = (ALL[table], WITHOUT_TAPER) if table == "readings" else (ALL[table],)
    for fields in forms:
        if [heads.get(at) for at in range(1, len(fields) + 1)] == [one.name for one in fields]:
            return fields
    return None


def _stored(rows: Iterable[dict[int, Any]], fields: tuple[Field, ...], where: str) -> Iterator[tuple[Any, ...]]:
    """The rows as the database holds them, without emptied ones.

    People open the file: NoRegister where a cell was changed to what it can't be.
    """
    for row in rows:
        if any(value not in (None, "") for value in row.values()):
            yield tuple([_cell(row.get(at), one, where) for at, one in enumerate(fields, 1)])


def _cell(value: Any, field: Field, where: str) -> Any:
    try:
        found = _value(value, field)
    except (ValueError, OverflowError, RecursionError):
        raise _changed(where, value, field) from None
    if field.name in JSON:
        for name, one in json.loads(str(value)).items():
            if not _is_entry(name, one):
                shape = json.dumps(one, ensure_ascii=False) if isinstance(one, (dict, list)) else one
                raise _changed(where, shape, field, f"{name} of its ")
    return found


def _changed(where: str, value: Any, field: Field, part: str = "") -> NoRegister:
    return NoRegister(
        f"{where} has {said(value)} as {part}{field.name}, {field.meaning}, which it can't be; it was changed since it "
        f"was written: undo that, or take an earlier copy of the file"
    )


def _is_entry(name: str, value: Any) -> bool:
    """Whether a JSON has under that name what a workbook can have: a cell, or a column of cells."""
    if name == "certificate_date":
        return value is None or _is_day(value)
    if name in shipped.ISSUED:
        return value is None or isinstance(value, str)
    return not any(isinstance(one, (dict, list)) for one in (value if isinstance(value, list) else [value]))


def _is_day(value: Any) -> bool:
    try:
        return bool(date.fromisoformat(value))
    except (TypeError, ValueError):
        return False


def check_texts(connection: Connection, where: Path) -> None:
    """NoRegister where somebody has changed a day or a JSON of a database to what it can't be."""
    for table, fields in TABLES.items():
        for field in fields:
            if field.kind == "date" or field.name in JSON:
                for (text,) in connection.execute(f"SELECT {field.name} FROM {table}"):
                    _cell(text, field, f"{where}: its table {table}")


def _value(value: Any, field: Field) -> Any:
    """What the database holds for a cell; ValueError, or one of its like, where that is nothing of the field's kind."""
    if value in (None, ""):
        if field.name in FILLED:
            raise ValueError
        return value
    if field.kind == "date":
        day = date.fromisoformat(value) if isinstance(value, str) else DAY_0 + timedelta(days=int(_number(value)))
        return day.isoformat()
    if field.kind != "text":
        return int(_number(value)) if field.kind == "integer" else _number(value)
    if isinstance(value, contents.Error) or (field.name in JSON and not isinstance(json.loads(str(value)), dict)):
        raise ValueError
    return value


def _number(value: Any) -> float:
    if not isinstance(value, float):
        raise ValueError
    return value
