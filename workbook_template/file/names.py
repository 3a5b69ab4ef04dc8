"""The reference page of defined names, made from the workbook itself."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from workbook_template.file.build import build
from workbook_template.paper.blocks import Book, Entry

ROLES = {
    "input": "Inputs",
    "result": "Results",
    "working": "Working figures",
    "list": "Lists for the drop-downs",
}


def page(book: Book) -> str:
    """The page as Markdown text."""
    lines = [
        "# Defined names of the workbook",
        "",
        "Every input and every result has a name; formulas, checks and other programs use it in place of an address.",
        "The working unit is what the cell `unit` says, `in` or `mm`; the own unit is that of the thread.",
        "",
        "This page is generated: `python -m workbook_template.file.names docs/workbook-names.md`.",
    ]
    for sheet, entries in groupby(book.entries, key=lambda entry: entry.sheet):
        found = list(entries)
        lines += ["", f"## {sheet}"]
        for role, title in ROLES.items():
            rows = [entry for entry in found if entry.role == role]
            if rows:
                lines += [
                    "",
                    f"### {sheet}: {title.lower()}",
                    "",
                    "| name | cells | meaning | unit |",
                    "|---|---|---|---|",
                ]
                lines += [_line(entry) for entry in rows]
    return "\n".join(lines) + "\n"


def _line(entry: Entry) -> str:
    return f"| `{entry.name}` | {entry.ref} | {entry.meaning} | {entry.unit} |"


if __name__ == "__main__":
    import sys

    Path(sys.argv[1]).write_text(page(build()), encoding="utf-8")
