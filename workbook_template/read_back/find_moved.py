"""Finds the rows or columns that were deleted or inserted on each sheet of a file, by its names then and now.

Where the names leave several places, the cells say which fits best, and the formulas that a deletion has torn.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping

from workbook_template.figures.parse import column_number
from workbook_template.read_back.built import At, MadeCell, MadeSheet, Template
from workbook_template.read_back.contents import Cell, Filled, FilledSheet, Formula, Place
from workbook_template.read_back.formulas import normal
from workbook_template.read_back.moved import ACROSS, DOWN, GONE, REFERENCE, Moved

MOST = 500
"""Rows that a hand inserts or deletes at once."""

MOST_TORN = 30
"""Formulas with a reference to a deleted cell that are looked at to find the place."""

MOST_LIKELY = 12
"""Places where something may have been deleted that are looked at closely."""

ENOUGH = 3
"""Ends of named ranges that must have moved alike."""

_SIGNS = re.compile(r"\$?[A-Za-z]{1,3}\$?[0-9]{1,7}")


def detect(made: MadeSheet, names: Mapping[str, Place], found: FilledSheet) -> Moved | None:
    """Whether rows or columns of a sheet were deleted or inserted; told by its names, then and now."""
    for axis in (DOWN, ACROSS):
        ends = list(_ends(made, names, axis))
        counts = Counter(now - was for was, now in ends if now != was)
        if not counts:
            continue
        count, times = counts.most_common(1)[0]
        if times < ENOUGH or abs(count) > MOST:
            continue
        still = [was for was, now in ends if now == was]
        gone = [was for was, now in ends if now - was == count]
        low = max((was for was in still if was < max(gone)), default=0) + 1
        high = min((was for was in gone if was >= low), default=0)
        others = len(ends) - sum(was < low for was in still) - sum(was >= high for was in gone)
        if not high or others * 4 > times:
            continue
        high = max(low, high + count + 1) if count < 0 else high  # the deleted ones may end a range
        return _best(made.title, axis, count, low, high, found.cells, made.cells)
    return None


def _ends(made: MadeSheet, names: Mapping[str, Place], axis: int) -> Iterator[tuple[int, int]]:
    """First and last row of each name, as built and as it is now."""
    other = 1 - axis
    for one, name in made.named:
        place = names.get(name.lower())
        if place is None or place.sheet != made.title:
            continue
        if (one[other], one[other + 2]) != (place.box[other], place.box[other + 2]):
            continue
        yield one[axis], place.box[axis]
        if one[axis + 2] != one[axis]:
            yield one[axis + 2], place.box[axis + 2]


def _best(
    title: str, axis: int, count: int, low: int, high: int, cells: Mapping[At, Cell], made: Mapping[At, MadeCell]
) -> Moved:
    """The place, from `low` to `high`, where the rows fit best that stay before it and that move after it."""
    gap = max(-count, 0)
    stays: dict[int, int] = {}
    moves: dict[int, int] = {}
    for (row, column), one in made.items():
        number = row if axis == DOWN else column
        if not low <= number < high + gap or one.is_input or one.covered:
            continue
        for shift, misses in ((0, stays), (count, moves)):
            now = (row + shift, column) if axis == DOWN else (row, column + shift)
            misses[number] = misses.get(number, 0) + (not _fits(one, cells.get(now)))
    best, places = None, [low]
    before, after = 0, sum(moves.get(n, 0) for n in range(low + gap, high + gap))
    for at in range(low, high + 1):
        cost = before + after
        if best is None or cost < best:
            best, places = cost, [at]
        elif cost == best:
            places.append(at)
        before += stays.get(at, 0)
        after -= moves.get(at + gap, 0)
    found = [Moved(title, axis, at, count, places[-1]) for at in places]
    torn = [one for one in cells.items() if one[1].formula is not None and GONE in one[1].formula.text][:MOST_TORN]
    if len(found) > 1 and torn:
        likely = _likely(found, [place for place, _ in torn], made)
        closest = max(likely, key=lambda one: sum(_is_torn(one, place, cell, made) for place, cell in torn))
        return closest._replace(last=closest.at)
    return found[0]


def _likely(found: list[Moved], torn: list[At], made: Mapping[At, MadeCell]) -> list[Moved]:
    """Of many places the few where the formulas that are torn had their references."""
    votes: Counter[int] = Counter()
    one = found[0]
    for row, column in torn:
        for back in (0, -one.by):
            was = made.get((row + back, column) if one.rows else (row, column + back))
            for named in REFERENCE.finditer("" if was is None or was.formula is None else was.formula.text):
                if named[1] or named[7]:
                    continue
                number = int(named[5]) if one.rows else column_number(named[3])
                votes.update(range(number + one.by + 1, number + 1))
    return sorted(found, key=lambda one: votes[one.at], reverse=True)[:MOST_LIKELY]


def _is_torn(moved: Moved, place: At, cell: Cell, made: Mapping[At, MadeCell]) -> bool:
    """Whether that deletion would have torn a formula as it is torn."""
    was = made.get(moved.place_back(place) or (0, 0))
    if was is None or was.formula is None or cell.formula is None:
        return False
    now = Formula(moved.text(was.formula.text, moved.sheet), *place)
    return normal(now, *place, moved.sheet) == normal(cell.formula, *place, moved.sheet)


def _fits(built: MadeCell, cell: Cell | None) -> bool:
    """Whether a cell may be the built one, wherever its references lead."""
    if cell is None:
        return built.formula is None and built.value in (None, "")
    if built.formula is None:
        return cell.formula is None and (built.value == cell.value or {built.value, cell.value} <= {None, ""})
    return cell.formula is not None and _shape(built.formula.text) == _shape(cell.formula.text)


def torn_alike(built: str, found: str) -> bool:
    """Whether a deletion has torn both; programs differ in what becomes of the ranges beside that."""
    return GONE in built and GONE in found and _shape(built) == _shape(found)


def _shape(text: str) -> str:
    return _SIGNS.sub("§", text).replace(GONE, "§")


def moves_of(book: Filled, made: Template, sheets: dict[str, FilledSheet]) -> dict[str, Moved]:
    """What was deleted or inserted on each sheet of a file."""
    found = {}
    for title, built in made.sheets.items():
        sheet = sheets.get(title)
        if sheet is None or all(book.names.get(name.lower()) == Place(title, one) for one, name in built.named):
            continue
        one = detect(built, book.names, sheet)
        if one is not None:
            found[title] = one
    return found
