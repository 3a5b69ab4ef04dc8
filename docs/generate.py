"""Writes docs/functions.md from the catalogue, and docs/from-memory.md from the tables of the standards.

python docs/generate.py            tests/test_docs.py checks that both pages are current
"""

from __future__ import annotations

import re
from pathlib import Path

from sheetfuncs.catalog import RECORDS
from sheetfuncs.registry import Record
from sheetfuncs.sources import NOT_SEEN, SOURCES
from sheetfuncs.standards import SYSTEMS, origins
from sheetfuncs.terms import TERMS

PAGE = Path(__file__).parent / "functions.md"
MEMORY_PAGE = Path(__file__).parent / "from-memory.md"
ROOT = PAGE.parent.parent
MARK = re.compile(r"FROM MEMORY")


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


MEMORY_HEAD = """# What is from memory

Made from `sheetfuncs/standards/data/origins.csv`, `sheetfuncs/sources.py` and the heads of the data files by
`python docs/generate.py`; do not edit.

A value is from memory where it was written from knowledge of the standard and no print of it has been seen. It may be
right, and often a rule or a neighbouring print speaks for it; it is not confirmed. THREAD_SOURCE says it of one thread,
the column *from memory* of the sheet Threads of each row.
"""

NOWHERE = """For these no printed row of limits was found, in no national edition, handbook or maker's page: Whitworth,
BA and stub Acme limits, the trapezoidal bore (TD1), and classes 8e, 9c, 8H and 9H of trapezoidal threads. Their tests
work the printed formulas a second time from their text, or the printed rows of a sister thread
(`tests/test_printed_formulas.py`, `tests/test_whitworth.py`, `tests/test_iso_trapezoidal.py`).
"""

UNTITLED = """Rows of `tests/published/` whose page or book was read once and not written down by name. They are further
checks; no table rests on one of them alone.
"""


def memory_page() -> str:
    """Every value from memory, with what would confirm it; then what was read without a title."""
    parts = [
        MEMORY_HEAD,
        "## Figures of threads",
        "",
        "| thread | of which | figure | from memory | seen, or by which rule | would confirm it |",
    ]
    parts += ["|---|---|---|---|---|---|"]
    for origin in origins.every():
        if origin.memory:
            titles = ", ".join(SYSTEMS[key].title for key in origin.systems.split())
            cells = (titles, _which(origin), origin.figures, origin.memory, origin.seen, origin.confirm)
            parts.append(f"| {' | '.join(cell.replace('|', ' ') for cell in cells)} |")
    parts += ["", NOWHERE, "## Other values", "", "| value | where it is used | would confirm it |", "|---|---|---|"]
    parts += [f"| {' | '.join(row)} |" for row in NOT_SEEN]
    parts += ["", "## Where the data files say so", ""]
    for path in sorted((ROOT / "sheetfuncs/standards/data").glob("*.csv")):
        lines = path.read_text(encoding="utf-8").splitlines()
        said = [comment for comment in _comments(lines) if MARK.search(comment)]
        rows = [line for line in lines if not line.startswith("#") and MARK.search(line)]
        if (said or rows) and path.stem != "origins":
            parts.append(f"- `{path.name}`: {' '.join(said)}" + f" Rows: {'; '.join(rows)}." * bool(rows))
    parts += ["", "## Read without a title", "", UNTITLED]
    for path in sorted((ROOT / "tests/published").glob("*.csv")):
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.startswith("# untraced: "):
                parts.append(f"- `{path.name}`: {line.partition(': ')[2]}")
    return "\n".join(parts) + "\n"


CLASSES = {
    "": "",
    ".+": "",
    "medium|free": "class medium or free",
    "3.": "class 3",
    "[34].*": "classes 3 and 4",
    ".G": "general purpose",
    "[789].": "grades 7 to 9",
    ".+c": "position c",
    ".+e": "position e",
    ".[gG].*": "positions g and G",
    ".[ef].*": "positions e and f",
    ".[abcd].*": "positions a to d",
    ".*[345789].*": "grades 3 to 5 and 7 to 9",
    ".*[4578].*": "grades 4, 5, 7 and 8",
}
"""The patterns of classes in the table of origins, in words."""
CELLS = {"cell=pair": "standard pairs", "cell=formula": "cells by formula"}
"""What a standard's module says of the cells that it read, in words."""
SIGNS = {"=": " ", ">": " over ", "<": " under "}


def _which(origin: origins.Origin) -> str:
    """The threads a row of the table of origins holds for, in words."""
    conditions = []
    for condition in origin.when.split():
        name, sign, values = origins.condition(condition)
        conditions.append(CELLS.get(condition) or name + SIGNS[sign] + ", ".join(values))
    return ", ".join(part for part in (origin.side, CLASSES[origin.thread_class], *conditions) if part)


def _comments(lines: list[str]) -> list[str]:
    """The comments at the head of a data file, each with its continuation lines."""
    comments: list[str] = []
    for line in lines:
        if not line.startswith("#"):
            break
        if line.startswith("#  ") and comments:
            comments[-1] += " " + line.strip("# ")
        else:
            comments.append(line.strip("# "))
    return comments


if __name__ == "__main__":
    PAGE.write_text(functions_page(), encoding="utf-8")
    MEMORY_PAGE.write_text(memory_page(), encoding="utf-8")
