"""The sheet of settings that a macro workbook has beside those of a plain one: what was written there is known."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache

from sheetfuncs.hosts.excel_check import CONFIG_SHEET
from workbook_template.file.macro import INTERPRETER, SETTINGS
from workbook_template.read_back.built import MadeCell, MadePage, Template, sheet_of
from workbook_template.read_back.contents import FilledSheet
from workbook_template.read_back.findings import said
from workbook_template.read_back.styles import Shown, Style

PLAIN = -1
"""The number of its only look, which no built cell has."""

PAGE = MadePage(
    is_hidden=True,
    protected=False,
    allowed=frozenset(),
    flat_rows=frozenset(),
    narrow_columns=frozenset(),
    merged=frozenset(),
    rules=(),
    charts=(),
    pictures=0,
    areas=frozenset(),
    titles=frozenset(),
    margins={},
    width=2,
    pages=(),
)


def with_settings(made: Template, sheets: Mapping[str, FilledSheet]) -> Template:
    """The template with that sheet, where a file has it."""
    return _with(made, interpreter(sheets)) if CONFIG_SHEET in sheets else made


def interpreter(sheets: Mapping[str, FilledSheet]) -> str:
    """The Python that the workbook names in the row for it; empty where it leaves that to the machine."""
    row = len(SETTINGS) + 1
    cells = sheets[CONFIG_SHEET].cells if CONFIG_SHEET in sheets else {}
    name, value = (cells.get((row, column)) for column in (1, 2))
    if name is None or value is None or value.formula is not None or name.value != INTERPRETER:
        return ""
    return value.value if isinstance(value.value, str) else ""


def note(sheets: Mapping[str, FilledSheet]) -> str:
    """What is said of macros that were found."""
    named = interpreter(sheets)
    return "it holds macros; they were not run and not read" + (f"; they ask for {said(named)}" if named else "")


@lru_cache(maxsize=2)
def _with(made: Template, python: str) -> Template:
    settings = SETTINGS | ({INTERPRETER: python} if python else {})
    cells = {
        (row, column): MadeCell(text, None, False, False, PLAIN)
        for row, setting in enumerate(settings.items(), start=1)
        for column, text in enumerate(setting, start=1)
    }
    sheet = sheet_of(CONFIG_SHEET, cells, (), PAGE, ())
    return replace(
        made, sheets={**made.sheets, CONFIG_SHEET: sheet}, styles={**made.styles, PLAIN: Style(Shown(), True, False)}
    )
