"""Which files hold a record now: it is replaced only where no file holds it any more.

A register has the content that each file had when it was collected last. A content holds the records that came in with
it, and those listed in `held`, which another content brought in: a copy or an earlier state of the file. Records of a
content that no file has any more are not kept there, so a finished workbook takes no room. A file that is gone counts
as it was last: a workbook that was moved away or deleted takes no record with it.

A content that is found under a new name, in the folder where it was under another that is gone now, was moved: the new
name goes on in its place, so that a record corrected there is replaced as it would have been in place. Where the other
name is still there, or was found in another folder, it is a copy. Records keep the name of the file that they were
read from.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from typing import NamedTuple

from workbook_template.read_back.readings import Field

TABLES: dict[str, tuple[Field, ...]] = {
    "files": (
        Field("file", "text", "workbook, from the folder that was collected"),
        Field("workbook", "text", "SHA-256 of its content when it was collected last"),
    ),
    "held": (
        Field("workbook", "text", "SHA-256 of the content of a file"),
        Field("reading", "text", "digest of a record in it that another content brought in"),
    ),
    "folders": (
        Field("file", "text", "workbook, from the folder that was collected"),
        Field("folder", "text", "that folder when it was collected last, from the one that the register lies in"),
        Field("moved_to", "text", "its name now, where it was moved in that folder"),
    ),
}
KEYS = {"files": "file", "held": "workbook, reading", "folders": "file"}
INDEXES = {"files_by_workbook": "files (workbook)", "held_by_reading": "held (reading)"}

_OF_CONTENT = (
    "SELECT digest FROM readings WHERE workbook = :workbook UNION SELECT reading FROM held WHERE workbook = :workbook"
)
_KNOWN = (
    "SELECT digest FROM workbooks WHERE digest IN (SELECT workbook FROM files) AND readings <="
    " (SELECT count(*) FROM readings WHERE readings.workbook = workbooks.digest)"
    " + (SELECT count(*) FROM held WHERE held.workbook = workbooks.digest)"
)
"""In a register of before this was noted, some contents lack the records that another file brought in."""


class Here(NamedTuple):
    """The folder that is collected, as the register calls it, and whether it has no file of a name any more."""

    folder: str
    lacks: Callable[[str], bool]


def known(connection: sqlite3.Connection) -> set[str]:
    """The digests of the contents that files have now, and of which every record is known."""
    return {digest for (digest,) in connection.execute(_KNOWN)}


def is_known(connection: sqlite3.Connection, digest: str) -> bool:
    """Whether that content is one of those."""
    return connection.execute(f"{_KNOWN} AND digest = ?", (digest,)).fetchone() is not None


def share(connection: sqlite3.Connection, workbook: str, records: Iterable[str]) -> None:
    """That a content holds these records, of which others brought some in."""
    query = "INSERT OR IGNORE INTO held SELECT ?, digest FROM readings WHERE digest = ? AND workbook <> ?"
    connection.executemany(query, [(workbook, one, workbook) for one in records])
    _restore(connection, workbook)


def note(connection: sqlite3.Connection, file: str, workbook: str, here: Here | None = None) -> None:
    """That a file has this content now: what it has lost is replaced, unless another file holds it."""
    if here is not None:
        connection.execute(
            "INSERT INTO folders VALUES (?, ?, NULL) ON CONFLICT (file)"
            " DO UPDATE SET folder = excluded.folder, moved_to = NULL"
            " WHERE folder <> excluded.folder OR moved_to IS NOT NULL",
            (file, here.folder),
        )
    found = connection.execute("SELECT workbook FROM files WHERE file = ?", (file,)).fetchone()
    if found == (workbook,):
        return
    before = {"workbook": found[0] if found else ""}
    lost = [one for (one,) in connection.execute(_OF_CONTENT, before)]
    connection.execute("INSERT OR REPLACE INTO files VALUES (?, ?)", (file, workbook))
    if here is not None:
        _goes_on(connection, file, workbook, here)
    nobodys = "DELETE FROM held WHERE workbook = :workbook AND workbook NOT IN (SELECT workbook FROM files)"
    connection.execute(nobodys, before)
    connection.executemany(
        "UPDATE readings SET replaced_by = ? WHERE digest = ? AND replaced_by IS NULL"
        " AND NOT EXISTS (SELECT 1 FROM files WHERE files.workbook = readings.workbook)"
        " AND NOT EXISTS (SELECT 1 FROM held WHERE held.reading = readings.digest)",
        [(workbook, one) for one in lost],
    )
    _restore(connection, workbook)


def _goes_on(connection: sqlite3.Connection, file: str, workbook: str, here: Here) -> None:
    """That a content which is new under a name has it in place of those it had in this folder, and has no more."""
    query = "SELECT file FROM files JOIN folders USING (file) WHERE workbook = ? AND file <> ? AND folder = ?"
    for (old,) in connection.execute(query, (workbook, file, here.folder)).fetchall():
        if here.lacks(old):
            connection.execute("DELETE FROM files WHERE file = ?", (old,))
            connection.execute("UPDATE folders SET moved_to = ? WHERE file = ?", (file, old))


def _restore(connection: sqlite3.Connection, workbook: str) -> None:
    """What a content holds counts, also what was replaced before."""
    query = f"UPDATE readings SET replaced_by = NULL WHERE replaced_by IS NOT NULL AND digest IN ({_OF_CONTENT})"
    connection.execute(query, {"workbook": workbook})


def settle(connection: sqlite3.Connection) -> None:
    """Of a register of before: each file has the state that was added last, with its records that count."""
    newest = (
        "SELECT file, digest, MAX(rowid) FROM workbooks WHERE file NOT IN (SELECT file FROM files)"
        " AND file NOT IN (SELECT file FROM folders WHERE moved_to IS NOT NULL) GROUP BY file"
    )
    for file, workbook, _ in connection.execute(newest).fetchall():
        connection.execute(
            "INSERT OR IGNORE INTO held SELECT :workbook, digest FROM readings"
            " WHERE file = :file AND workbook <> :workbook AND replaced_by IS NULL",
            {"file": file, "workbook": workbook},
        )
        connection.execute("INSERT INTO files VALUES (?, ?)", (file, workbook))


def holder(connection: sqlite3.Connection, file: str, workbook: str, record: str) -> str:
    """A file that holds a record now: the one that brought it in, if it still does."""
    query = (
        "SELECT file FROM files WHERE workbook = ? OR workbook IN (SELECT workbook FROM held WHERE reading = ?)"
        " ORDER BY file <> ?, file LIMIT 1"
    )
    found = connection.execute(query, (workbook, record, file)).fetchone()
    return str(found[0]) if found else file
