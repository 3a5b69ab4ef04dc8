"""Every spreadsheet function, in the order of the work."""

from __future__ import annotations

from sheetfuncs import cutting, functional, lathe, limits, wires
from sheetfuncs.registry import Record

TOPICS = (limits, wires, cutting, lathe, functional)

RECORDS: tuple[Record, ...] = tuple(
    function.record for topic in TOPICS for function in vars(topic).values() if hasattr(function, "record")
)
"""The records of all functions."""

BY_NAME: dict[str, Record] = {record.name: record for record in RECORDS}
"""The same by sheet name."""
