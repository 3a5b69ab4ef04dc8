"""Writes docs/functions.md from the catalogue.

python docs/generate.py            tests/test_docs.py checks that the page is current
"""

from __future__ import annotations

from pathlib import Path

from sheetfuncs.catalog import RECORDS
from sheetfuncs.registry import Record
from sheetfuncs.sources import SOURCES
from sheetfuncs.terms import TERMS

PAGE = Path(__file__).parent / "functions.md"


def functions_page() -> str:
    """The whole page: functions by category, the glossary of terms, the sources."""
    parts = ["# Functions", "", "Made from the catalogue by `python docs/generate.py`; do not edit.", ""]
    category = ""
    for record in RECORDS:
        if record.category != category:
            category = record.category
            parts += [f"## {category}", ""]
        parts += _section(record)
    parts += ["## Sources", ""]
    parts += [f"- **{key}**: {title}" for key, title in SOURCES.items()]
    return "\n".join(parts) + "\n"


def _section(record: Record) -> list[str]:
    text = (record.function.__doc__ or "").split(">>>")[0].strip()
    paragraphs = [" ".join(line.strip() for line in part.splitlines()) for part in text.split("\n\n")]
    lines = [f"### {record.signature}", ""]
    for paragraph in paragraphs:
        lines += [paragraph, ""]
    lines += ["| argument | |", "|---|---|"]
    lines += [f"| {p.name}{'' if p.required else ' (optional)'} | {TERMS[p.name].help} |" for p in record.params]
    shape = {"": "Gives", "row": "Gives a row:", "rows": "Gives a table:"}[record.table]
    lines += ["", f"{shape} {', '.join(TERMS[column].label for column in record.columns)}.", ""]
    for example in record.examples:
        call = ", ".join(_argument(cell) for cell in example.args)
        gives = " | ".join(example.gives) if isinstance(example.gives, tuple) else example.gives
        lines += [f"Example: `{record.name}({call})` gives `{gives}` ({example.source}).", ""]
    return [*lines, f"Sources: {', '.join(record.sources)}.", ""]


def _argument(cell: object) -> str:
    if cell is None:
        return ""
    return f'"{cell}"' if isinstance(cell, str) else str(cell)


if __name__ == "__main__":
    PAGE.write_text(functions_page(), encoding="utf-8")
