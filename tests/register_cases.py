"""Folders of filled workbooks for the tests of registers, and a question to one."""

from __future__ import annotations

import re
import sqlite3
from pathlib import Path
from typing import Any

from read_back_files import Filled, cell_of, edited

QUESTION = (
    "SELECT job_number, serial, measured_on, result FROM readings "
    "WHERE wires = 'W-12' AND measured_on >= '2026-03-08' AND replaced_by IS NULL "
    "ORDER BY measured_on, job_number, log_row"
)
"""Which parts were measured with wire set W-12 since the 8th of March?"""


def lots(made: Path, filled: Filled, saved: Path) -> Path:
    """Two lots, one of them twice (as built and as LibreOffice saved it), and files that are none."""
    (made / "2026").mkdir()
    (made / "2026" / "J-2041.xlsx").write_bytes(filled.built.read_bytes())
    (made / "2026" / "J-2041 copy.xlsx").write_bytes(saved.read_bytes())
    (made / "J-2042.xlsx").write_bytes(edited(filled, job_number="J-2042"))
    (made / "broken.xlsx").write_bytes(filled.built.read_bytes()[:90_000])
    (made / "~$J-2042.xlsx").write_bytes(b"of a spreadsheet program")
    return made


def ask(path: Path, question: str) -> list[tuple[Any, ...]]:
    connection = sqlite3.connect(path)
    try:
        return connection.execute(question).fetchall()
    finally:
        connection.close()


def first_row(filled: Filled) -> int:
    """The row of the sheet Log where its first part stands: rows are told as the sheet numbers them."""
    return int(re.sub(r"\D", "", cell_of(filled, "log_serial")[1]))
