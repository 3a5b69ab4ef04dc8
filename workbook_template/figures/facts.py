"""What is known of a workbook while a formula is followed: kinds of values, facts, equal nodes as one."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice

from workbook_template.figures.book import Book, Problem, Value, placed
from workbook_template.figures.tree import Area, Call, Cell, Node, Number, Operator, Sign, children, walk

NUMBER, TEXT, YES, NO, EMPTY, BLANK, ERROR, PASSED = (1 << bit for bit in range(8))
"""PASSED is a blank that a formula ended on: the number 0 by Excel's rule, and no number to some programs."""
ALL = 255
UNKNOWN = NUMBER | ERROR
"""What is taken for a thing that can't be followed: nothing is said of it."""
TYPED = NUMBER | TEXT | YES | NO | BLANK
"""What a person may leave in an input cell without a rule."""
Kinds = int


class Facts:
    """What is known on the way to a part of a formula: kinds of cells, and of expressions that were tested.

    `depth` is through how many formulas behind one another a condition is still followed. Keys are the identities of
    nodes; equal nodes are one object here, and equal facts too. Each keeps what was found out under it.
    """

    __slots__ = ("depth", "given", "kinds", "led")

    def __init__(self, kinds: dict[int, Kinds], depth: int) -> None:
        self.kinds, self.depth = kinds, depth
        self.given: dict[int, Kinds] = {}
        self.led: dict[tuple[int, Kinds], Facts | None] = {}


def kind_of(value: Value) -> Kinds:
    """The kind of a stored value."""
    if value is None:
        return BLANK
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, str):
        return TEXT if value else EMPTY
    return ERROR if isinstance(value, Problem) else NUMBER


class Known:
    """A workbook's formulas with all places fixed. Equal nodes are one object, and equal facts too."""

    def __init__(self, book: Book, depth: int) -> None:
        self.book = book
        self._nodes: dict[tuple[object, ...], Node] = {}
        self._facts: dict[tuple[int, frozenset[tuple[int, Kinds]]], Facts] = {}
        self._learned = 0
        self._places: dict[tuple[str, int, int], Cell] = {}
        self._beginnings: dict[int, list[Cell]] = {}
        self._trees: dict[int, Node | None] = {}
        self._near: dict[tuple[int, int], frozenset[int]] = {}
        self._wide: dict[tuple[int, int], frozenset[int]] = {}
        self.cells_of: dict[int, frozenset[int]] = {}  # the single cells of each node
        self._kept_nodes: dict[int, Node] = {}
        self.nothing = self.facts({}, depth)

    def facts(self, kinds: dict[int, Kinds], depth: int) -> Facts:
        """The facts of these kinds, where so much depth is left."""
        key = depth, frozenset(kinds.items())
        if key not in self._facts:
            self._facts[key] = Facts(kinds, depth)
        return self._facts[key]

    def held(self) -> int:
        """How many sets of facts there are."""
        return len(self._facts) + self._learned

    def forget(self) -> None:
        """Drop what was found out, but for what holds without a condition: between two formulas, to save memory."""
        self._facts = {key: facts for key, facts in self._facts.items() if not facts.kinds}
        self._learned = 0

    def one(self, tree: Node) -> Node:
        """The one node that equals this; its parts are such already, or are made so."""
        if id(tree) in self.cells_of:
            return tree
        if isinstance(tree, Operator):
            left, right = self.one(tree.left), self.one(tree.right)
            return self._kept((tree.sign, id(left), id(right)), lambda: Operator(tree.sign, left, right))
        if isinstance(tree, Sign):
            part = self.one(tree.part)
            return self._kept((tree.sign, id(part)), lambda: Sign(tree.sign, part))
        if isinstance(tree, Call):
            parts = tuple(None if part is None else self.one(part) for part in tree.arguments)
            if tree.function == "INDEX" and (cell := _chosen(parts)):
                return self.one(cell)
            return self._kept((tree.function, *map(id, parts)), lambda: Call(tree.function, parts))
        return self._kept((type(tree), tree), lambda: tree)

    def _kept(self, key: tuple[object, ...], make: Callable[[], Node]) -> Node:
        found = self._nodes.get(key)
        if found is None:
            found = self._nodes[key] = make()
            self._kept_nodes[id(found)] = found
            below = () if isinstance(found, Area) else children(found)
            self.cells_of[id(found)] = frozenset().union(*(self.cells_of[id(child)] for child in below)) | (
                {id(found)} if isinstance(found, Cell) else frozenset()
            )
        return found

    def place(self, sheet: str, row: int, column: int) -> Cell:
        """The node of a cell."""
        key = sheet, row, column
        if key not in self._places:
            found = self.one(Cell(row, column, True, True, sheet))
            assert isinstance(found, Cell)
            self._places[key] = found
        return self._places[key]

    def _cell_of(self, key: int) -> Cell:
        found = self._kept_nodes[key]
        assert isinstance(found, Cell)
        return found

    def tree(self, cell: Cell) -> Node | None:
        """The formula of a cell with all places fixed, None where there is none."""
        if id(cell) not in self._trees:
            sheet = self.book.sheets.get(cell.sheet)
            place = cell.row, cell.column
            tree = sheet.formulas.get(place) if sheet else None
            self._trees[id(cell)] = None if tree is None else self.one(placed(tree, cell.sheet, place, self.book.names))
        return self._trees[id(cell)]

    def near(self, cell: Cell, depth: int) -> frozenset[int]:
        """The cells that a formula depends on, as far behind it as is followed."""
        key = id(cell), depth
        if key not in self._near:
            tree = self.tree(cell)
            found: set[int] = set()
            if tree is not None and depth > 0:
                for one in self.cells_of[id(tree)]:
                    found.add(one)
                    found |= self.near(self._cell_of(one), depth - 1)
            self._near[key] = frozenset(found)
        return self._near[key]

    def around(self, key: int, depth: int) -> frozenset[int]:
        """The cells that a part speaks of, and those behind them; of a range its first cells."""
        if (key, depth) not in self._wide:
            found: set[int] = set()
            areas = [part for part in walk(self._kept_nodes[key]) if isinstance(part, Area)]
            first = [cell for area in areas for cell in self._beginning(area)]
            for cell in [*map(self._cell_of, self.cells_of[key]), *first]:
                found.add(id(cell))
                tree = self.tree(cell) if depth else None
                if tree is not None:
                    found |= self.around(id(tree), depth - 1)
            self._wide[key, depth] = frozenset(found)
        return self._wide[key, depth]

    def _beginning(self, area: Area) -> list[Cell]:
        """The first cells of a range, of each formula the first: enough to see what it has to do with others."""
        if id(area) not in self._beginnings:
            sheet = self.book.sheets.get(area.start.sheet)
            found: dict[int, Cell] = {}
            for number, one in enumerate(islice(single_cells((area,)), 64)):
                if isinstance(one, Cell):
                    tree = sheet.formulas.get((one.row, one.column)) if sheet else None
                    found.setdefault(number if tree is None else id(tree), one)
            self._beginnings[id(area)] = [self.place(one.sheet, one.row, one.column) for one in found.values()]
        return self._beginnings[id(area)]

    def learn(self, facts: Facts, tree: Node, kinds: Kinds) -> Facts:
        """One fact more."""
        known = facts.kinds.get(id(tree), ALL)
        if kinds == known:
            return facts
        self._learned += 1
        return Facts({**facts.kinds, id(tree): kinds}, facts.depth)

    def either(self, one: Facts | None, other: Facts | None) -> Facts | None:
        """What holds in both of two cases."""
        if one is None or other is None or one is other:
            return other if one is None else one
        both = {key: kinds | other.kinds[key] for key, kinds in one.kinds.items() if key in other.kinds}
        return self.facts(both, one.depth)


def _chosen(parts: tuple[Node | None, ...]) -> Cell | None:
    """The cell of an INDEX with numbers for its row and column."""
    area, *at = parts
    numbers = [int(part.value) for part in at if isinstance(part, Number)]
    if not isinstance(area, Area) or len(numbers) != len(at) or 0 in numbers:
        return None
    if len(numbers) == 1:
        numbers = [1, *numbers] if area.start.row == area.end.row else [*numbers, 1]
    return Cell(area.start.row + numbers[0] - 1, area.start.column + numbers[1] - 1, True, True, area.start.sheet)


def single_cells(parts: tuple[Node | None, ...]) -> Iterator[Node]:
    """Each part, a small range cell by cell."""
    for part in parts:
        if isinstance(part, Area):
            for row in range(part.start.row, part.end.row + 1):
                for column in range(part.start.column, part.end.column + 1):
                    yield Cell(row, column, True, True, part.start.sheet)
        elif part is not None:
            yield part
