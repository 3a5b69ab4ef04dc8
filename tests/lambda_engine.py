"""The workbook of LAMBDAs in formulon, an engine that follows Excel's rules, and what Python says of the same call."""

from __future__ import annotations

import io
import math
import re
import zipfile
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any, NamedTuple

import formulon
import ironcalc
from formulon_inside import quicker
from published_rows import rows

from sheetfuncs import CellError, evaluate
from sheetfuncs.__main__ import main
from sheetfuncs.hosts.call import find
from sheetfuncs.registry import Record
from workbook_template.figures.text import text
from workbook_template.lambdas import build, names
from workbook_template.lambdas.table import Line, of_lines

PROFILE = "win-365-en_US"
BOOK, FUNCTIONS, THREADS = "xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml"

Given = str | float | None
Call = tuple[str, tuple[Given, ...]]
"""A function by its name with its arguments; None is one left out."""

AT_ONCE = 20
"""Calls in one formula, which may have 8,192 signs."""

CLOSE = 1e-11
"""Of a figure, how far the two ways of computing it may be apart: the last bits, gathered over some steps."""


class Files(NamedTuple):
    """The whole file, one of few threads, the callouts of its lines, and those that each function is tried on."""

    whole: Path
    few: Path
    lines: tuple[str, ...]
    callouts: tuple[str, ...]


PUBLISHED = {
    "unified_limits": 25,
    "iso_limits": 10,
    "acme_limits": 5,
    "trapezoidal_limits": 5,
    "buttress_limits": 5,
    "unj_limits": 5,
    "mj_limits": 5,
}
"""Tables of published limits, and that each so many-th row of them is compared."""


COMMON = (
    *("3/4-16 UNF", "3/4-16 UNF-2B", "M20x2.5-6H", "7/8-14 UNJF-3A", "3/8-24 UNJF-3B"),
    *("M300x4-6g", "M300x4-6G", "M300x4-6h", "M300x4-6H", "1/4-16 ACME-4G", "3/4-14 NPT external", "R 3/4"),
)
"""Threads of single tests."""


def published() -> Iterator[dict[str, str]]:
    """Rows of printed limits."""
    for name, step in PUBLISHED.items():
        yield from rows(name)[::step]


def made(folder: Path) -> Files:
    """The files in a folder; made by the first who asks."""
    whole, few, *lists = (folder / name for name in ("lambdas.xlsx", "few_lambdas.xlsx", "lines.txt", "callouts.txt"))
    if not lists[-1].exists():
        assert main(["lambda-workbook", str(whole)]) == 0
        lines = build.threads().lines
        tried = {line.callout for line in of_every_kind(lines)}
        of_examples = (str(one.args[0]) for function in names.FUNCTIONS for one in find(function.name).examples)
        wanted = {*tried, *COMMON, *of_examples, *(row["thread"] for row in published())}
        held = [line for line in lines if line.callout in wanted]
        few.write_bytes(build.content(of_lines(held)))
        every = [line.callout for line in held]
        for path, callouts in zip(lists, (every, [one for one in every if one in tried])):
            path.write_text("\n".join(callouts), encoding="utf-8")
    return Files(whole, few, *(tuple(path.read_text(encoding="utf-8").split("\n")) for path in lists))


def of_every_kind(lines: list[Line]) -> Iterator[Line]:
    """The middle size of each system in all classes, its smallest and largest in the first and last class of each
    side and without one, and a Unified thread of each pitch.

    A short list is looked through quickly, and a file of it opens in no time.
    """
    sizes: dict[str, dict[object, list[Line]]] = {}
    for line in lines:
        sizes.setdefault(line.system.key, {}).setdefault(line.thread.size, []).append(line)
    for of_system in sizes.values():
        smallest, *between, largest = of_system.values()
        yield from between[len(between) // 2]
        yield from {line.thread.side: line for line in reversed(smallest)}.values()
        yield from {line.thread.side: line for line in largest}.values()
    of_unified = (line for line in lines if line.system.key == "unified" and not line.thread.side)
    yield from {line.thread.pitch: line for line in of_unified}.values()


def edited(content: bytes, part: str, change: Callable[[str], str]) -> bytes:
    """A file with one of its parts changed."""
    stream = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w") as new:
        for info in old.infolist():
            data = old.read(info)
            new.writestr(info, change(data.decode()).encode() if info.filename == part else data)
    return stream.getvalue()


def as_formulon_has_it(text: str) -> str:
    """Optional parameters in the one spelling that formulon 0.18 knows: the one that people see.

    Excel declares them as _xlop.name in the files that it saves, and only there.
    """
    return re.sub(r"_xlop\.(\w+)", r"[_xlpm.\1]", text)


class Opened:
    """The workbook, open; formulas are answered as if they were typed beside the examples."""

    def __init__(self, path: Path) -> None:
        quicker()
        self._book = formulon.Workbook.load(edited(path.read_bytes(), BOOK, as_formulon_has_it))
        self._book.set_excel_profile_id(PROFILE)

    def put(self, row: int, value: str | float) -> None:
        """A text or number into a cell of column AZ of the sheet Functions; a row that is not put is blank."""
        (self._book.set_text if isinstance(value, str) else self._book.set_number)(0, row - 1, 51, value)

    def name(self, name: str, meaning: str) -> None:
        """Let a name stand for another formula."""
        self._book.set_defined_name(name, as_formulon_has_it(meaning))

    def meaning(self, name: str) -> str:
        """What a name stands for."""
        return next(one.formula for one in self._book.iter_defined_names() if one.name == name)

    def recalculate(self) -> None:
        """Compute every cell of the file anew."""
        self._book.recalc()

    def cell(self, row: int, column: int) -> Any:
        """What a cell of the sheet Functions holds."""
        return _value(self._book.get_value(0, row - 1, column - 1))

    def formula(self, text: str) -> Any:
        """What a formula gives: one value, or rows of them."""
        found = [[_value(one) for one in row] for row in self._book.evaluate_formula_array(0, 0, 60, text)]
        return found[0][0] if len(found) == len(found[0]) == 1 else found

    def answer(self, call: Call) -> Any:
        """What a function gives."""
        return self.formula(written(call))

    def answers(self, calls: Sequence[Call]) -> Iterator[Any]:
        """What functions give, those of single values many at a time."""
        for of_rows, group in groupby(calls, lambda call: bool(_record(call).table)):
            texts = [written(call) for call in group]
            yield from map(self.formula, texts) if of_rows else self.formulas(texts)

    def formulas(self, texts: Sequence[str]) -> Iterator[Any]:
        """What formulas of one value give, many at a time: one more takes as long as a third of a function."""
        for at in range(0, len(texts), AT_ONCE):
            stacked = self.formula(f"_xlfn.VSTACK({','.join(texts[at : at + AT_ONCE])},0)")  # never one value alone
            yield from (one for (one,) in stacked[:-1])

    def close(self) -> None:
        """Give back the memory."""
        self._book.close()


def _value(found: Any) -> Any:
    kind = found.kind.name
    if kind == "ERROR":
        return formulon.error_display_name(found.error_code)
    return {"NUMBER": found.number, "BOOL": found.boolean, "TEXT": found.text}.get(kind, "")


def _record(call: Call) -> Record:
    found = find(call[0])
    assert found is not None, call
    return found


def written(call: Call) -> str:
    """The text of a call, as a person types it."""
    name, given = call
    cells = ["" if one is None else f'"{one}"' if isinstance(one, str) else repr(one) for one in given]
    return f"{name}({','.join(cells)})"


def by_python(call: Call) -> Any:
    """What the catalogue's function gives: one value, rows of them, or the text of an error."""
    name, given = call
    try:
        found = evaluate(name, *given)
    except CellError as error:
        return error.code
    return found[0][0] if isinstance(found, list) and len(found) == len(found[0]) == 1 else found


ERRORS = ("#N/A", "#NUM!", "#VALUE!")


Answers = Callable[[Sequence[Call]], Iterable[Any]]


def differences(answers: Answers, calls: Iterable[Call]) -> list[tuple[str, Any, Any]]:
    """Calls that are not answered as by Python."""
    return list(_differing(answers, list(calls)))


def differ(answers: Answers, calls: Sequence[Call]) -> bool:
    """Whether there is one; those behind the first are not looked for."""
    return any(True for _ in _differing(answers, calls))


def _differing(answers: Answers, calls: Sequence[Call]) -> Iterator[tuple[str, Any, Any]]:
    """Of several faults in a call each may name another first."""
    for call, by_formula in zip(calls, answers(calls), strict=True):
        expected = by_python(call)
        refused = by_formula in ERRORS and expected in ERRORS
        if not refused and not same(by_formula, expected):
            yield written(call), by_formula, expected


def same(one: Any, other: Any) -> bool:
    """Whether two answers are the same, numbers but for their last bits."""
    if isinstance(one, list) and isinstance(other, list):
        return len(one) == len(other) and all(map(same, one, other))
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return math.isclose(one, other, rel_tol=CLOSE, abs_tol=1e-13)
    return type(one) is type(other) and one == other


class Second:
    """The same in IronCalc 0.9.1, which knows no LAMBDA behind a name: each is bound by a LET before the call.

    It makes no range of the signs of a text, so it is told on which line a thread stands, and no number is a text.
    """

    def __init__(self, files: Files) -> None:
        self._book = ironcalc.load_from_xlsx(str(files.few), "en", "UTC")
        self._lines = files.lines

    def answers(self, calls: Sequence[Call]) -> Iterator[Any]:
        """What functions of a thread give that have one value."""
        return map(self._answer, calls)

    def _answer(self, call: Call) -> Any:
        line = self._lines.index(str(call[1][0])) + 1
        self._book.set_user_input(0, 1, 60, f"={_bound(call, line)}")
        self._book.evaluate()
        return self._book.get_cell_value(0, 1, 60)


def _bound(call: Call, line: int) -> str:
    function = next(one for one in names.FUNCTIONS if one.name == call[0])
    steps = {one.name: text(one.tree) for one in (*names.HELPERS, function)}
    steps["THREADS_LINE"] = f"_xlfn.LAMBDA(_xlpm.thread,{line})"
    bound = ",".join(f"_xlpm.{name},{as_formulon_has_it(meaning)}" for name, meaning in steps.items())
    local = re.sub(r"\bTHREADS_(?!LIST)(\w+)\(", r"_xlpm.THREADS_\1(", bound)
    return f"_xlfn.LET({local},_xlpm.{written(call)})"
