"""A workbook in which one entry at a time is changed: only what then comes out otherwise is computed anew."""

from __future__ import annotations

import heapq
from collections import defaultdict
from collections.abc import Iterator
from typing import NamedTuple

from workbook_template.figures.book import Book, Place, Value
from workbook_template.figures.tree import Area, Cell, Name, Node, Operator, children
from workbook_template.figures.value import Computed
from workbook_template.file import store

Spot = tuple[str, int, int]
"""A cell: its sheet, row and column."""


class Box(NamedTuple):
    """Cells that a formula asks for, or may ask for."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int


def _asked(tree: Node, sheet: str, place: Place, names: dict[str, Node]) -> Iterator[Box]:
    """Every cell and range that a formula names, taken or not."""
    if isinstance(tree, Name) and (meant := names.get(tree.name.lower())) is not None:
        yield from _asked(meant, sheet, place, names)
    elif isinstance(tree, Cell):
        yield Box(tree.sheet or sheet, *tree.place(*place), *tree.place(*place))
    elif isinstance(tree, Area) or (isinstance(tree, Operator) and tree.sign == ":"):
        ends = children(tree)
        own = ends[0].sheet if isinstance(ends[0], Cell) and ends[0].sheet else sheet
        yield _around([box for end in ends for box in _asked(end, own, place, names)])
    else:
        for child in children(tree):
            yield from _asked(child, sheet, place, names)


def _around(boxes: list[Box]) -> Box:
    """From the first to the last: INDEX(a):INDEX(b) lies within all that both are taken from."""
    sheets, tops, lefts, bottoms, rights = zip(*boxes)
    return Box(sheets[0], min(tops), min(lefts), max(bottoms), max(rights))


class OneEntry:
    """A computed workbook; `changed` says what one other entry makes of it, and leaves it as it was."""

    def __init__(self, book: Book, today: float) -> None:
        self._computed = Computed(book, today, store.PROBABILITY)
        self._grids = {title: self._computed.grids[title.lower()] for title in book.sheets}
        asking: dict[Box, set[Spot]] = defaultdict(set)
        for title, sheet in book.sheets.items():
            for place, tree in sheet.formulas.items():
                for box in set(_asked(tree, title, place, book.names)):
                    asking[box].add((title, *place))
        self._asking = asking
        self._boxes: dict[tuple[str, int], list[Box]] = defaultdict(list)
        for box in asking:
            for column in range(box.left, box.right + 1):
                self._boxes[box.sheet, column].append(box)
        self._found: dict[Spot, set[Spot]] = {}
        self.first = {
            (title, *place): value for title in book.sheets for place, value in self._computed.values(title).items()
        }
        self._order = {spot: number for number, spot in enumerate(self._sorted())}

    def _sorted(self) -> Iterator[Spot]:
        """The cells with formulas, each after those that it may ask for."""
        before: dict[Spot, list[Spot]] = defaultdict(list)
        for spot in self.first:
            for later in self._askers(spot):
                before[later].append(spot)
        begun: set[Spot] = set()
        done: set[Spot] = set()
        for start in self.first:
            stack = [start]
            while stack:
                begun.add(stack[-1])
                if waiting := [one for one in before[stack[-1]] if one not in begun]:
                    stack += waiting
                elif (spot := stack.pop()) not in done:
                    done.add(spot)
                    yield spot

    def _askers(self, spot: Spot) -> set[Spot]:
        """The formulas that ask for a cell."""
        if spot not in self._found:
            sheet, row, column = spot
            around = [box for box in self._boxes.get((sheet, column), ()) if box.top <= row <= box.bottom]
            self._found[spot] = set().union(*(self._asking[box] for box in around))
        return self._found[spot]

    def changed(self, entry: Spot, value: Value) -> dict[Spot, Value]:
        """The cells that come out otherwise with that value in an entry, and what they come to."""
        grid = self._grids[entry[0]]
        before = grid.get(*entry[1:])
        grid.put(*entry[1:], value)
        queue = [(self._order[one], one) for one in self._askers(entry)]
        heapq.heapify(queue)
        queued = {one for _, one in queue}
        now: dict[Spot, Value] = {}
        while queue:
            _, spot = heapq.heappop(queue)
            queued.discard(spot)
            found, was = self._computed.again(*spot), self._grids[spot[0]].get(*spot[1:])
            if type(found) is type(was) and found == was:
                continue
            self._grids[spot[0]].put(*spot[1:], found)
            now[spot] = found
            for one in self._askers(spot) - queued:
                queued.add(one)
                heapq.heappush(queue, (self._order[one], one))
        grid.put(*entry[1:], before)
        for spot in now:
            self._grids[spot[0]].put(*spot[1:], self.first[spot])
        return now
