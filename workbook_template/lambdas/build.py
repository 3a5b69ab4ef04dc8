"""Puts the workbook of LAMBDAs together, and into its place."""

from __future__ import annotations

from datetime import datetime
from functools import lru_cache

from openpyxl import Workbook
from openpyxl.styles import Font
from openpyxl.workbook.defined_name import DefinedName

from workbook_template.figures.text import text
from workbook_template.file import placing, store
from workbook_template.file.build import built_on
from workbook_template.lambdas import examples, sheets, spilling
from workbook_template.lambdas.names import FUNCTIONS, HELPERS
from workbook_template.lambdas.table import Table, table
from workbook_template.lambdas.writing import listed
from workbook_template.paper import styles
from workbook_template.paper.openpyxl_inside import measure_by

LONGEST_COMMENT = 255


def write(file: str) -> str:
    """Write the workbook and give the sentence that says so; NotPlaced, with one that says why, where it can't be."""
    path = placing.with_ending(file, (".xlsx",))
    placing.refuse_taken(path)
    placing.place_or_say(content(), path)
    return f"wrote {path}; its functions work in Excel 2024 and Microsoft 365"


@lru_cache(maxsize=1)
def threads() -> Table:
    """The threads of the file: all standard ones, and those of the examples; listed once."""
    return table(examples.threads(FUNCTIONS))


def content(held: Table | None = None) -> bytes:
    """The finished file, with all threads or those of another table."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    measure_by(workbook, Font(name=styles.FACE, size=11))
    pages = [workbook.create_sheet(title) for title in (sheets.FUNCTIONS_SHEET, sheets.THREADS_SHEET)]
    written = sheets.write(pages[0], pages[1], [examples.shown(one) for one in FUNCTIONS], held or threads())
    for name, cells in written.columns.items():
        _name(workbook, getattr(listed, name).name, cells, f"Column {name.replace('_', ' ')} of the sheet Threads.")
    for one in HELPERS:
        _name(workbook, one.name, text(one.tree), f"Helper of the thread functions: {one.about}.")
    for one in FUNCTIONS:
        _name(workbook, one.name, text(one.tree), one.about)
    workbook.properties.title = "Thread functions"
    workbook.properties.creator = "workbook_template"
    workbook.properties.created = workbook.properties.modified = datetime.combine(built_on(), datetime.min.time())
    packed = store.pack(workbook, written.values)
    return spilling.mark(packed, "xl/worksheets/sheet1.xml", written.spilling)


def _name(workbook: Workbook, name: str, meaning: str, comment: str) -> None:
    workbook.defined_names[name] = DefinedName(name, attr_text=meaning, comment=comment[:LONGEST_COMMENT])
