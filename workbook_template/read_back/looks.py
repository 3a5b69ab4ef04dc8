"""What hides or misstates a stored value without changing it: looks, hidden rows, charts.

A number format that shows another number is a difference. The rest leaves the record as it is: those are remarks.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from openpyxl.utils import get_column_letter

from workbook_template.read_back.built import MadeSheet
from workbook_template.read_back.contents import Filled, FilledSheet, Formula
from workbook_template.read_back.findings import Finding, address, said, span
from workbook_template.read_back.formulas import normal
from workbook_template.read_back.page import Drawn, Rule, drawn
from workbook_template.read_back.styles import (
    GENERAL,
    Form,
    Shown,
    Style,
    lies,
    pieces,
    readable,
    same_form,
)
from workbook_template.rules.parts import Box, overlap

Place = tuple[int, int]

_YES_NO = ((re.compile(r"\bTRUE\b"), "1.0"), (re.compile(r"\bFALSE\b"), "0.0"))


class Difference(NamedTuple):
    """How a look differs: the kind of finding, and the words."""

    kind: str
    words: str


def differences(built: Style, found: Style, forms: frozenset[Form]) -> tuple[Difference, ...]:
    """What of a cell's look shows something else than was built, or nothing.

    A formula without a number format of its own gets that of a cell it refers to, one of the template's `forms`.
    """
    wrong: list[Difference] = []
    one, other = built.shown, found.shown
    if readable(one) and not readable(other):
        wrong.append(Difference("look", "what stands here can't be seen: its colour, size or number format hides it"))
    elif not same_form(one.form, other.form) and (one.form != GENERAL or pieces(other.form) not in forms):
        wrong.append(_form(one.form, other.form))
    if found.concealed and not built.concealed:
        wrong.append(Difference("look", "the formula is concealed"))
    return tuple(wrong)


def _form(built: str, found: str) -> Difference:
    how = f"the number format is now {said(found)}; built was {said(built)}"
    if lies(found, built):
        return Difference("number format", f"{how}: it can show another number than the stored one")
    return Difference("decimals", how)


def grouped(title: str, found: dict[Difference, list[Place]], name: Callable[[Place], str]) -> Iterator[Finding]:
    """One finding for cells one under the other that look wrong in the same way."""
    for one, places in found.items():
        for column, rows in _columns(places):
            for first, last in _runs(rows):
                start, end = address((first, column)), address((last, column))
                where = start if first == last else f"{start}:{end}"
                yield Finding(one.kind, title, where, name((first, column)), one.words)


def _columns(places: list[Place]) -> Iterator[tuple[int, list[int]]]:
    rows: dict[int, list[int]] = {}
    for row, column in places:
        rows.setdefault(column, []).append(row)
    return iter(rows.items())


def _runs(numbers: Iterable[int]) -> Iterator[tuple[int, int]]:
    """Whole numbers as runs of neighbours, first and last.

    >>> list(_runs([3, 1, 2, 7]))
    [(1, 3), (7, 7)]
    """
    known = set(numbers)
    starts = sorted(one for one in known if one - 1 not in known)
    ends = sorted(one for one in known if one + 1 not in known)
    return zip(starts, ends)


def compare_page(made: MadeSheet, book: Filled, found: FilledSheet) -> Iterator[Finding]:
    """How the layout of a sheet differs from the built one."""
    state = book.states.get(found.name, "visible")
    if state != "visible" and not made.page.is_hidden:
        hidden = "very hidden: no menu shows it" if state == "veryHidden" else "hidden"
        yield Finding("hidden", made.title, "", "", f"the sheet is {hidden}")
    yield from _hidden_rows(made, found)
    yield from _hidden_columns(made, found)
    yield from _merged(made, found)
    yield from _rules(made, found)
    yield from _drawn(made, drawn(book.package, book.sheets[found.name]))


def _hidden_rows(made: MadeSheet, found: FilledSheet) -> Iterator[Finding]:
    """Hidden rows that hold something. A filter may hide those in which nothing was typed: the sheet says how."""
    hidden = found.page.hidden_rows - made.page.flat_rows
    if not hidden:
        return
    inputs = made.inputs
    with_inputs = {row for row, _ in inputs}
    used = {
        row
        for (row, column), cell in found.cells.items()
        if row in hidden and cell.value not in (None, "") and ((row, column) in inputs or row not in with_inputs)
    }
    for first, last in _runs(used):
        where = f"row {first} is" if first == last else f"rows {first} to {last} are"
        yield Finding("hidden", made.title, f"A{first}", "", f"{where} hidden, and something stands there")


def _hidden_columns(made: MadeSheet, found: FilledSheet) -> Iterator[Finding]:
    if not found.page.hidden_columns:
        return
    used = {column for (_, column), cell in found.cells.items() if cell.value not in (None, "")}
    for column in sorted(used - made.page.narrow_columns):
        if found.page.hides_column(column):
            letter = get_column_letter(column)
            yield Finding(
                "hidden", made.title, f"{letter}1", "", f"column {letter} is hidden, and something stands there"
            )


def _merged(made: MadeSheet, found: FilledSheet) -> Iterator[Finding]:
    built = made.page.merged
    gone, added = set(built - found.page.merged), found.page.merged - built
    for one in sorted(added):
        was = next((other for other in gone if overlap(one, other)), None)
        gone.discard(was or one)
        words = f"the cells {span(one)} are merged, so one value alone shows" + (
            f"; built was {span(was)}" if was else ""
        )
        yield Finding("merged cells", made.title, address((one[1], one[0])), "", words)
    for one in sorted(gone):
        yield Finding("merged cells", made.title, address((one[1], one[0])), "", f"{span(one)} is no longer one cell")


def _key(rule: Rule, sheet: str) -> tuple[str, str, tuple[str, ...]]:
    left, top, *_ = rule.boxes[0] if rule.boxes else (1, 1, 1, 1)
    texts = [normal(Formula(one, top, left), top, left, sheet) for one in rule.formulas]
    for pattern, number in _YES_NO:
        texts = [pattern.sub(number, one) for one in texts]
    return rule.type, rule.operator, tuple(texts)


def _rules(made: MadeSheet, found: FilledSheet) -> Iterator[Finding]:
    """Conditional formats: the signs and colours of a result."""
    now: dict[tuple[str, str, tuple[str, ...]], list[Rule]] = {}
    for rule in found.page.rules:
        now.setdefault(_key(rule, made.title), []).append(rule)
    known = set()
    for rule in made.page.rules:
        key = _key(rule, made.title)
        known.add(key)
        if not rule.boxes:
            continue
        where = address((rule.boxes[0][1], rule.boxes[0][0]))
        same = now.get(key, [])
        covered = [corners for one in same for corners in one.boxes]
        told = f"where {said('=' + rule.formulas[0] if rule.formulas else rule.type)}"
        if any(not _covers(corners, covered) for corners in rule.boxes):
            yield Finding("conditional format", made.title, where, "", f"the format of cells {told} is gone or changed")
        elif shown := next((one.shown for one in _over(rule, same) if not _alike(rule.shown, one.shown)), None):
            if lies(shown.form, rule.shown.form):
                words = f"{told} it now shows {said(shown.form)}; built was {said(rule.shown.form)}"
                yield Finding("number format", made.title, where, "", words)
            else:
                yield Finding("conditional format", made.title, where, "", f"the colours {told} are others than built")
    for key, rules in now.items():
        if key in known:
            continue
        rule = rules[0]
        where = address((rule.boxes[0][1], rule.boxes[0][0])) if rule.boxes else ""
        kind = "number format" if rule.shown.form and readable(rule.shown) else "conditional format"
        what = "that hides cells " if not readable(rule.shown) else ""
        told = said("=" + rule.formulas[0]) if rule.formulas else rule.type
        yield Finding(kind, made.title, where, "", f"a format {what}was added, where {told}")


def _over(built: Rule, found: list[Rule]) -> Iterator[Rule]:
    """Those that hold for cells of a built one."""
    return (one for one in found if any(overlap(mine, other) for mine in built.boxes for other in one.boxes))


def _alike(built: Shown, found: Shown) -> bool:
    return same_form(built.form, found.form) and (built.ink, built.paper) == (found.ink, found.paper)


def _covers(one: Box, others: list[Box]) -> bool:
    """Whether others that do not overlap cover a range."""
    return sum(shared(one, other) for other in others) >= area(one)


def area(one: Box) -> int:
    """How many cells a range has."""
    return (one[2] - one[0] + 1) * (one[3] - one[1] + 1)


def shared(one: Box, other: Box) -> int:
    """How many cells two ranges share."""
    if not overlap(one, other):
        return 0
    return area((max(one[0], other[0]), max(one[1], other[1]), min(one[2], other[2]), min(one[3], other[3])))


def _drawn(made: MadeSheet, found: Drawn) -> Iterator[Finding]:
    """Charts by the ranges that they show; pictures and shapes, which may cover something; notes and other things."""
    built = list(made.page.charts)
    now = list(found.charts)
    for one in [one for one in built if one in now]:
        built.remove(one)
        now.remove(one)
    for one in built:
        nearest = max(now, key=lambda other: (one & other).total(), default=None)
        if nearest is None or not one & nearest:
            yield Finding("chart", made.title, "", "", f"the chart of {_listed(one)} is gone")
            continue
        now.remove(nearest)
        words = f"a chart shows {_listed(nearest - one)}; built was {_listed(one - nearest)}"
        yield Finding("chart", made.title, "", "", words)
    for one in now:
        yield Finding("chart", made.title, "", "", f"a chart of {_listed(one)} was added")
    more = found.pictures - made.page.pictures
    if more > 0:
        yield Finding(
            "on top", made.title, "", "", f"{more} pictures or shapes were laid on the sheet; look what they cover"
        )
    for kind in found.others:
        what = "notes are attached to cells" if kind == "comments" else f"it holds a part that was not built: {kind}"
        yield Finding("on top", made.title, "", "", what)


def _listed(ranges: Counter[str]) -> str:
    return ", ".join(sorted(ranges)[:4]) or "nothing"
