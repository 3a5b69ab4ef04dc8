"""The reference page of defined names, made from the sheets as they are described: no workbook is built for it."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from workbook_template.file.tabs import describe
from workbook_template.paper import naming
from workbook_template.paper.naming import Named
from workbook_template.sheets import log_rows, quote
from workbook_template.sheets.layout import Made
from workbook_template.sheets.thread_listing import listing

ROLES = {
    "input": "Inputs",
    "result": "Results",
    "working": "Working figures",
    "list": "Lists for the drop-downs",
}


def named(made: Made) -> list[Named]:
    """Every name of a workbook, by sheet in the order of the tabs."""
    sheets = describe(made)
    found = [one for sheet in sheets.values() for one in naming.of_sheet(sheet)]
    return [*found, *naming.of_threads(listing(made.threads)), *naming.of_working(sheets.values())]


def page() -> str:
    """The page as Markdown text, of a workbook with no special thread and lists of the usual length."""
    lines = [
        "# Defined names of the workbook",
        "",
        "Every input and every result has a name; formulas, checks and other programs use it in place of an address.",
        "A name has the words of a term of the functions where both speak of the same thing.",
        "The working unit is what the cell `unit` says, `in` or `mm`; the own unit is that of the thread.",
        "",
        "This page is generated: `python -m workbook_template.file.names docs/workbook-names.md`.",
    ]
    for sheet, names in groupby(named(Made("in", (), "", log_rows.ROWS, quote.ROWS)), key=lambda one: one.sheet):
        found = list(names)
        lines += ["", f"## {sheet}"]
        for role, title in ROLES.items():
            rows = [one for one in found if one.role == role]
            if rows:
                lines += [
                    "",
                    f"### {sheet}: {title.lower()}",
                    "",
                    "| name | cells | meaning | unit |",
                    "|---|---|---|---|",
                ]
                lines += [f"| `{one.name}` | {one.ref} | {one.meaning} | {one.unit} |" for one in rows]
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    import sys

    Path(sys.argv[1]).write_text(page(), encoding="utf-8")
