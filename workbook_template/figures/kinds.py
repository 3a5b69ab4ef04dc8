"""What a formula may give: numbers, text, yes or no, empty text, a blank. And where that is a trap.

A formula is followed as its conditions lead: behind `IF(ISNUMBER(x)` x is a number, and if x is a formula, what makes
it a number holds too. So `IF(ISNUMBER(feed),feed*2,"")` is clean where feed is "" without a lathe.

Kinds are bits of an int, for speed: thousands of formulas are followed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import islice
from typing import NamedTuple

from workbook_template.figures.book import Book, Place, Problem, Sheet, Value, placed
from workbook_template.figures.tree import (
    Area,
    Call,
    Cell,
    Name,
    Node,
    Number,
    Operator,
    Sign,
    Text,
    YesNo,
    children,
    walk,
)

NUMBER, TEXT, YES, NO, EMPTY, BLANK, ERROR, PASSED = (1 << bit for bit in range(8))
"""PASSED is a blank that a formula ended on: the number 0 by Excel's rule, and no number to some programs."""
ALL = 255
TYPED = NUMBER | TEXT | YES | NO | BLANK
"""What a person may leave in an input cell without a rule."""
NEIGHBOURS = 4
"""Formulas behind one another within which a condition has to do with a cell."""

Kinds = int


class Facts:
    """What is known on the way to a part of a formula: kinds of cells, and of expressions that were tested.

    Keys are the identities of nodes; equal nodes are one object here, and equal facts too. Each keeps what was found
    out under it.
    """

    __slots__ = ("kinds", "given", "led")

    def __init__(self, kinds: dict[int, Kinds]) -> None:
        self.kinds = kinds
        self.given: dict[tuple[int, int], Kinds] = {}
        self.led: dict[tuple[int, Kinds, int], Facts | None] = {}

_ARITHMETIC = ("+", "-", "*", "/", "^")
_ORDER = ("<", "<=", ">", ">=")
_OPPOSITE = {"=": "<>", "<>": "=", "<": ">=", ">=": "<", ">": "<=", "<=": ">"}
_MIRRORED = {"=": "=", "<>": "<>", "<": ">", ">": "<", "<=": ">=", ">=": "<="}
_TESTS = {"ISNUMBER": NUMBER | PASSED, "ISBLANK": BLANK, "ISTEXT": TEXT | EMPTY, "ISERROR": ERROR}
_GIVES = {
    **dict.fromkeys("MATCH SEARCH FIND STDEV AVERAGE CHIINV FDIST TINV NORMSINV LN LOG10 SQRT SLOPE".split(), NUMBER | ERROR),
    **dict.fromkeys("FIXED SUBSTITUTE TRIM LEFT RIGHT MID TEXT REPT UPPER LOWER CONCATENATE".split(), TEXT | EMPTY),
    **dict.fromkeys("AND OR NOT EXACT".split(), YES | NO),
}
_TAKES_NUMBERS = frozenset(
    "ABS ATAN2 COS DAY DEGREES FIXED GCD INT LN LOG10 MOD MONTH NORMSINV RADIANS ROUND ROUNDUP ROUNDDOWN SIN SQRT TAN"
    " TINV CHIINV FDIST YEAR TRUNC EXP ACOS ASIN CEILING FLOOR MROUND".split()
)
"""Functions whose plain arguments are numbers, so that "" among them is an error."""


class Finding(NamedTuple):
    """A trap in a formula: where, which ("ends on a blank", ...), and the part that it is about."""

    sheet: str
    place: Place
    trap: str
    about: Node


def kind_of(value: Value) -> Kinds:
    """The kind of a stored value."""
    if value is None:
        return BLANK
    if isinstance(value, bool):
        return YES if value else NO
    if isinstance(value, str):
        return TEXT if value else EMPTY
    return ERROR if isinstance(value, Problem) else NUMBER


class Judge:
    """A workbook, with what may stand in its inputs, and what was found out of it so far."""

    def __init__(self, book: Book, inputs: dict[tuple[str, int, int], Kinds], depth: int = 3) -> None:
        self.book = book
        self.depth = depth  # formulas behind one another that a condition is followed through
        self.inputs = inputs
        self._nodes: dict[tuple[object, ...], Node] = {}
        self._facts: dict[frozenset[tuple[int, Kinds]], Facts] = {}
        self._trees: dict[int, Node | None] = {}
        self._near: dict[tuple[int, int], frozenset[int]] = {}
        self._areas: dict[int, Kinds] = {}
        self._cells_of: dict[int, frozenset[int]] = {}
        self._busy: set[int] = set()
        self._parts: dict[int, list[Node]] = {}
        self._wide: dict[tuple[int, int], frozenset[int]] = {}
        self.nothing = self.facts({})

    # one object for equal nodes and equal facts

    def facts(self, kinds: dict[int, Kinds]) -> Facts:
        """The facts of these kinds."""
        key = frozenset(kinds.items())
        if key not in self._facts:
            self._facts[key] = Facts(kinds)
        return self._facts[key]

    def one(self, tree: Node) -> Node:
        """The one node that equals this; its parts are such already, or are made so."""
        if isinstance(tree, Operator):
            left, right = self.one(tree.left), self.one(tree.right)
            return self._kept((tree.sign, id(left), id(right)), tree, lambda: Operator(tree.sign, left, right))
        if isinstance(tree, Sign):
            part = self.one(tree.part)
            return self._kept((tree.sign, id(part)), tree, lambda: Sign(tree.sign, part))
        if isinstance(tree, Call):
            parts = tuple(None if part is None else self.one(part) for part in tree.arguments)
            if tree.function == "INDEX" and (cell := _chosen(parts)):
                return self.one(cell)
            return self._kept((tree.function, *map(id, parts)), tree, lambda: Call(tree.function, parts))
        return self._kept((type(tree), tree), tree, lambda: tree)

    def _kept(self, key: tuple[object, ...], tree: Node, make: Callable[[], Node]) -> Node:
        found = self._nodes.get(key)
        if found is None:
            found = self._nodes[key] = make()
            cells = [part for part in walk(found) if isinstance(part, (Cell, Area))]
            self._cells_of[id(found)] = frozenset(id(cell) for cell in cells if isinstance(cell, Cell))
            self._parts[id(found)] = [self.one(one) for cell in cells for one in _beginning(cell)]
        return found

    def place(self, sheet: str, row: int, column: int) -> Cell:
        """The node of a cell."""
        found = self.one(Cell(row, column, True, True, sheet))
        assert isinstance(found, Cell)
        return found

    # what a part may give

    def kinds(self, tree: Node | None, facts: Facts, depth: int | None = None) -> Kinds:
        """What a part may give, as far as the facts tell."""
        if isinstance(tree, Number):
            return NUMBER
        if isinstance(tree, Text):
            return TEXT if tree.value else EMPTY
        if isinstance(tree, YesNo):
            return YES if tree.value else NO
        if tree is None:
            return BLANK
        depth = self.depth if depth is None else depth
        key = id(tree), depth
        found = facts.given.get(key)
        if found is None:
            found = facts.given[key] = self._kinds(tree, facts, depth)
        return found

    def _kinds(self, tree: Node, facts: Facts, depth: int) -> Kinds:
        known = facts.kinds.get(id(tree), ALL)
        if isinstance(tree, Cell):
            return self._cell(tree, known, facts, depth)
        if isinstance(tree, Area):
            return self._area(tree)
        if isinstance(tree, Sign):
            return self._number(self.kinds(tree.part, facts, depth))
        if isinstance(tree, Operator):
            return self._operator(tree, facts, depth)
        return self._call(tree, facts, depth) & known if isinstance(tree, Call) else ALL

    def _number(self, operands: Kinds) -> Kinds:
        return NUMBER | (ERROR if operands & (TEXT | EMPTY | ERROR) else 0)

    def _operator(self, tree: Operator, facts: Facts, depth: int) -> Kinds:
        both = self.kinds(tree.left, facts, depth) | self.kinds(tree.right, facts, depth)
        if tree.sign in _ARITHMETIC:
            return self._number(both) | (ERROR if tree.sign == "/" else 0)
        if tree.sign == "&":
            parts = _joined(tree)
            words = any(isinstance(part, Text) and part.value for part in parts)
            kinds = [self.kinds(part, facts, depth) for part in parts]
            full = words or any(not kind & (EMPTY | BLANK) for kind in kinds)
            blank = all(not kind & ~(EMPTY | BLANK) for kind in kinds)
            return (both & ERROR) | (EMPTY if blank else TEXT if full else TEXT | EMPTY)
        if tree.sign == ":":
            return ALL
        blank_test = _blank_test(tree)
        if blank_test is not None:
            tested = self.kinds(blank_test, facts, depth)
            is_blank = (YES if tested & (EMPTY | BLANK) else 0) | (NO if tested & ~(EMPTY | BLANK | ERROR) else 0)
            found = is_blank if tree.sign == "=" else _swapped(is_blank)
            return found | (tested & ERROR)
        return (YES | NO | (both & ERROR)) & self._remembered(tree, facts)

    def _remembered(self, tree: Operator, facts: Facts) -> Kinds:
        key, turned = self._comparison(tree)
        known = facts.kinds.get(id(key), ALL)
        return _swapped(known) if turned else known

    def _call(self, tree: Call, facts: Facts, depth: int) -> Kinds:
        name, arguments = tree.function, tree.arguments
        if name == "IF":
            met, missed = self.assume(arguments[0], YES | NUMBER, facts, depth), self.refuse(arguments[0], facts, depth)
            found = self.kinds(arguments[0], facts, depth) & ERROR
            if met is not None:
                found |= self.kinds(arguments[1], met, depth)
            if missed is not None:
                found |= self.kinds(arguments[2], missed, depth) if len(arguments) > 2 else NO
            return found
        if name == "IFERROR":
            tried = self.kinds(arguments[0], facts, depth)
            return tried & ~ERROR | (self.kinds(arguments[1], facts, depth) if tried & ERROR else 0)
        if name in _TESTS:
            tested = self.kinds(arguments[0], facts, depth)
            return (YES if tested & _TESTS[name] else 0) | (NO if tested & ~_TESTS[name] else 0)
        if name == "NOT":
            return _swapped(self.kinds(arguments[0], facts, depth))
        if name in ("AND", "OR"):
            return self._logic(tree, facts, depth)
        if name == "CHOOSE":
            found = ERROR
            for one in arguments[1:]:
                found |= self.kinds(one, facts, depth)
            return found
        if name in ("INDEX", "OFFSET"):
            found = self.kinds(arguments[0], facts, depth) | ERROR
            looked_up = any(isinstance(part, Call) and part.function == "MATCH" for part in walk(tree))
            return found & ~EMPTY if looked_up and found & ~(EMPTY | ERROR) else found  # a row that is found is in use
        operands = 0
        for one in arguments:
            if one is not None and not isinstance(one, Area):
                operands |= self.kinds(one, facts, depth)
        if name.startswith("THREAD_"):
            return NUMBER | TEXT | ERROR
        if name == "TRIM" and not operands & ~TEXT:
            return TEXT | EMPTY
        if name == "FIXED":
            return TEXT | (operands & ERROR)
        made = _GIVES.get(name, NUMBER)
        return made | (operands & ERROR) | (ERROR if name in _TAKES_NUMBERS and operands & (TEXT | EMPTY) else 0)

    def _logic(self, tree: Call, facts: Facts, depth: int) -> Kinds:
        kinds = [self.kinds(one, facts, depth) for one in tree.arguments]
        alone, other = (NO, YES) if tree.function == "AND" else (YES, NO)
        error = ERROR if any(kind & ERROR for kind in kinds) else 0
        if any(kind == alone for kind in kinds):
            return alone | error
        return other | error | (alone if any(kind & ~other for kind in kinds) else 0)

    def _area(self, area: Area) -> Kinds:
        """A formula that goes on down a column counts once."""
        if id(area) not in self._areas:
            name = area.start.sheet
            sheet = self.book.sheets.get(name, Sheet({}, {}))
            found, seen = 0, set()
            for column in range(area.start.column, area.end.column + 1):
                for row in range(area.start.row, area.end.row + 1):
                    formula = sheet.formulas.get((row, column))
                    if formula is None:
                        found |= self._plain(name, row, column)
                    elif id(formula) not in seen:
                        seen.add(id(formula))
                        found |= self.kinds(self.place(name, row, column), self.nothing)
            self._areas[id(area)] = found
        return self._areas[id(area)]

    def _plain(self, sheet: str, row: int, column: int) -> Kinds:
        """What a cell without a formula may hold."""
        typed = self.inputs.get((sheet, row, column))
        if typed is not None:
            return typed
        return kind_of(self.book.sheets[sheet].values.get((row, column))) if sheet in self.book.sheets else ALL

    def _cell(self, cell: Cell, known: Kinds, facts: Facts, depth: int) -> Kinds:
        tree = self.tree(cell)
        if tree is None:
            return known & self._plain(cell.sheet, cell.row, cell.column)
        if not known & (known - 1) or id(cell) in self._busy:
            return known
        here = self._facts_near(cell, facts, depth)
        if here is not facts:
            return known & self.kinds(cell, here, depth if here.kinds else self.depth)
        self._busy.add(id(cell))
        given = self.kinds(tree, facts, depth - 1)
        self._busy.discard(id(cell))
        return known & (given & ~BLANK | (PASSED if given & BLANK else 0))

    def _facts_near(self, cell: Cell, facts: Facts, depth: int) -> Facts:
        """The facts that can tell about a formula."""
        if not facts.kinds:
            return facts
        near = self.near(cell, depth)
        here = {key: kinds for key, kinds in facts.kinds.items() if key in near or self._cells_of[key] & near}
        return facts if len(here) == len(facts.kinds) else self.facts(here)

    def tree(self, cell: Cell) -> Node | None:
        """The formula of a cell with all places fixed, None where there is none."""
        if id(cell) not in self._trees:
            sheet = self.book.sheets.get(cell.sheet)
            place = cell.row, cell.column
            tree = sheet.formulas.get(place) if sheet else None
            self._trees[id(cell)] = (
                None if tree is None else self.one(placed(tree, cell.sheet, place, self.book.names))
            )
        return self._trees[id(cell)]

    def near(self, cell: Cell, depth: int) -> frozenset[int]:
        """The cells that a formula depends on, as far behind it as is followed."""
        key = id(cell), depth
        if key not in self._near:
            tree = self.tree(cell)
            found: set[int] = set()
            if tree is not None and depth > 0:
                for one in walk(tree):
                    if isinstance(one, Cell):
                        found.add(id(one))
                        found |= self.near(one, depth - 1)
            self._near[key] = frozenset(found)
        return self._near[key]

    # what a condition tells

    def refuse(self, tree: Node | None, facts: Facts, depth: int | None = None) -> Facts | None:
        """The facts where a condition does not hold."""
        return self.assume(tree, NO | NUMBER | BLANK | PASSED, facts, depth)

    def assume(self, tree: Node | None, wanted: Kinds, facts: Facts, depth: int | None = None) -> Facts | None:
        """The facts where a part is of the wanted kinds; None if it can't be."""
        depth = self.depth if depth is None else depth
        key = id(tree), wanted, depth
        if key not in facts.led:
            given = self.kinds(tree, facts, depth) & wanted
            facts.led[key] = self._assume(tree, given, facts, depth) if given else None
        return facts.led[key]

    def _assume(self, tree: Node | None, given: Kinds, facts: Facts, depth: int) -> Facts | None:
        if isinstance(tree, Cell):
            behind = self.tree(tree)
            facts = self._learn(facts, tree, given)
            if behind is not None and depth > 0 and id(tree) not in self._busy:
                self._busy.add(id(tree))
                more = self.assume(behind, given | (BLANK if given & PASSED else 0), facts, depth - 1)
                self._busy.discard(id(tree))
                return more
            return facts
        if isinstance(tree, Sign):
            return self._operands((tree.part,), given, facts, depth)
        if isinstance(tree, Operator):
            return self._assume_operator(tree, given, facts, depth)
        if isinstance(tree, Call):
            return self._assume_call(tree, given, facts, depth)
        return facts

    def _learn(self, facts: Facts, tree: Node, kinds: Kinds) -> Facts:
        """One fact more."""
        known = facts.kinds.get(id(tree), ALL)
        return self.facts({**facts.kinds, id(tree): kinds}) if kinds != known else facts

    def _operands(self, parts: tuple[Node, ...], wanted: Kinds, facts: Facts, depth: int) -> Facts | None:
        """Arithmetic that gave a number had no "" in it."""
        if wanted & ERROR:
            return facts
        found: Facts | None = facts
        for part in parts:
            found = None if found is None else self.assume(part, ALL & ~(EMPTY | ERROR), found, depth)
        return found

    def _assume_operator(self, tree: Operator, wanted: Kinds, facts: Facts, depth: int) -> Facts | None:
        if tree.sign in _ARITHMETIC:
            return self._operands((tree.left, tree.right), wanted, facts, depth)
        if tree.sign in ("&", ":") or wanted & (YES | NO) in (0, YES | NO):
            return facts
        holds = bool(wanted & YES)
        tested = _blank_test(tree)
        if tested is not None:
            blank = holds == (tree.sign == "=")
            return self.assume(tested, EMPTY | BLANK if blank else ALL & ~(EMPTY | BLANK | ERROR), facts, depth)
        key, turned = self._comparison(tree)
        facts = self._learn(facts, key, NO if holds == turned else YES)
        left, sign, right = tree.left, tree.sign, tree.right
        if isinstance(left, (Number, Text)):
            left, sign, right = right, _MIRRORED[sign], left
        if not holds:
            sign = _OPPOSITE[sign]
        return self._assume_comparison(left, sign, right, facts, depth)

    def _assume_comparison(self, left: Node, sign: str, right: Node, facts: Facts, depth: int) -> Facts | None:
        if isinstance(right, Text):
            return self.assume(left, TEXT, facts, depth) if sign == "=" else facts
        if not isinstance(right, Number):
            if sign == "=" and self.kinds(right, facts, depth) == NUMBER:
                return self.assume(left, NUMBER | BLANK | PASSED, facts, depth)
            return facts
        limit = right.value
        if isinstance(left, Call) and left.function == "LEN":
            return self._assume_length(left.arguments[0], sign, limit, facts, depth)
        if isinstance(left, Call) and left.function == "COUNT":
            return self._assume_count(left, sign, limit, facts, depth)
        if sign == "=" or sign in ("<", "<="):
            small = NUMBER | (BLANK | PASSED if limit > 0 or (limit == 0 and sign != "<") else 0)
            return self.assume(left, small, facts, depth)
        if (sign == ">" and limit >= 0) or (sign == ">=" and limit > 0) or (sign == "<>" and limit == 0):
            return self.assume(left, ALL & ~(BLANK | PASSED | ERROR), facts, depth)
        return facts

    def _assume_length(self, part: Node | None, sign: str, limit: float, facts: Facts, depth: int) -> Facts | None:
        """LEN tells blank or empty from all else."""
        if (sign in ("=", "<=") and limit == 0) or (sign == "<" and limit == 1):
            return self.assume(part, EMPTY | BLANK, facts, depth)
        if (sign in (">", "<>") and limit == 0) or (sign in ("=", ">=", ">") and limit > 0):
            return self.assume(part, ALL & ~(EMPTY | BLANK | ERROR), facts, depth)
        return facts

    def _assume_count(self, tree: Call, sign: str, limit: float, facts: Facts, depth: int) -> Facts | None:
        """COUNT of as many as there are tells that each is a number."""
        cells = [self.one(cell) for cell in _single(tree.arguments)]
        if not (sign in ("=", ">=") and limit == len(cells)) and not (sign == ">" and limit == len(cells) - 1):
            return facts
        found: Facts | None = facts
        for cell in cells:
            found = None if found is None else self.assume(cell, NUMBER | PASSED, found, depth)
        return found

    def _assume_call(self, tree: Call, wanted: Kinds, facts: Facts, depth: int) -> Facts | None:
        name, arguments = tree.function, tree.arguments
        if name == "IF":
            return self._assume_if(tree, wanted, facts, depth)
        if name == "IFERROR":
            if not self.kinds(arguments[1], facts, depth) & wanted:
                return self.assume(arguments[0], wanted & ~ERROR, facts, depth)
            return facts
        if name in ("INDEX", "OFFSET"):
            return self._learn(facts, tree, wanted)
        if name in _TAKES_NUMBERS:
            return self._operands(tuple(one for one in arguments if one is not None), wanted, facts, depth)
        if wanted & (YES | NO) in (0, YES | NO):
            return facts
        holds = bool(wanted & YES)
        if name in _TESTS:
            tested = _TESTS[name]
            return self.assume(arguments[0], tested if holds else ALL & ~tested, facts, depth)
        if name == "NOT":
            return self.refuse(arguments[0], facts, depth) if holds else self.assume(arguments[0], YES | NUMBER, facts, depth)
        if name in ("AND", "OR"):
            return self._assume_logic(arguments, holds, name == "AND", facts, depth)
        return facts

    def _assume_logic(
        self, parts: tuple[Node | None, ...], holds: bool, together: bool, facts: Facts, depth: int
    ) -> Facts | None:
        """AND that holds: each does. AND that does not: the first does not, or it does and the second does not ..."""
        found: Facts | None = None
        rest: Facts | None = facts
        for part in parts:
            if rest is None:
                break
            alone = self.refuse(part, rest, depth) if together else self.assume(part, YES | NUMBER, rest, depth)
            found = self._either(found, alone)
            rest = self.assume(part, YES | NUMBER, rest, depth) if together else self.refuse(part, rest, depth)
        return rest if holds == together else found

    def _assume_if(self, tree: Call, wanted: Kinds, facts: Facts, depth: int) -> Facts | None:
        condition, then = tree.arguments[:2]
        other = tree.arguments[2] if len(tree.arguments) > 2 else YesNo(False)
        found = None
        for branch, part in (
            (self.assume(condition, YES | NUMBER, facts, depth), then),
            (self.refuse(condition, facts, depth), other),
        ):
            if branch is not None and self.kinds(part, branch, depth) & wanted:
                found = self._either(found, self.assume(part, wanted, branch, depth))
        return found

    def _either(self, one: Facts | None, other: Facts | None) -> Facts | None:
        """What holds in both of two cases."""
        if one is None or other is None or one is other:
            return other if one is None else one
        return self.facts({key: kinds | other.kinds[key] for key, kinds in one.kinds.items() if key in other.kinds})

    def _comparison(self, tree: Operator) -> tuple[Node, bool]:
        """A comparison by which it is remembered, and whether that is its opposite."""
        turned = tree.sign in ("<>", ">=", ">")
        return (self.one(Operator(_OPPOSITE[tree.sign], tree.left, tree.right)) if turned else tree), turned

    # traps

    def findings(self, cells: Iterable[tuple[str, Place]]) -> Iterator[Finding]:
        """The traps in the formulas of some cells."""
        for sheet, place in cells:
            tree = self.tree(self.place(sheet, *place))
            if tree is None:
                continue
            found = dict.fromkeys([*self._ends(tree, self.nothing), *self._traps(tree, self.nothing)])
            yield from (Finding(sheet, place, trap, about) for trap, about in found)

    def _branches(self, tree: Call, facts: Facts) -> Iterator[tuple[Node | None, Facts]]:
        """The results of an IF, each with what is known there."""
        met, missed = self.assume(tree.arguments[0], YES | NUMBER, facts), self.refuse(tree.arguments[0], facts)
        if met is not None:
            yield tree.arguments[1], met
        if missed is not None and len(tree.arguments) > 2:
            yield tree.arguments[2], missed

    def _ends(self, tree: Node | None, facts: Facts) -> Iterator[tuple[str, Node]]:
        """Where a formula may end on a blank."""
        if isinstance(tree, Call) and tree.function == "IF":
            for part, known in self._branches(tree, facts):
                yield from self._ends(part, known)
        elif isinstance(tree, Call) and tree.function == "IFERROR":
            for part in tree.arguments:
                yield from self._ends(part, facts)
        elif tree is not None and self.kinds(tree, facts) & BLANK:
            yield "ends on a blank", tree

    def _traps(self, tree: Node, facts: Facts) -> Iterator[tuple[str, Node]]:
        if isinstance(tree, Call) and tree.function == "IF":
            if tree.arguments[0] is not None:
                yield from self._traps(tree.arguments[0], facts)
            for part, known in self._branches(tree, facts):
                if part is not None:
                    yield from self._traps(part, known)
            return
        if isinstance(tree, Call) and tree.function == "IFERROR":
            yield from (found for found in self._traps(tree.arguments[0], facts) if "arithmetic" not in found[0])
            yield from self._traps(tree.arguments[1], facts)
            return
        if isinstance(tree, Call) and tree.function in ("AND", "OR"):
            yield from self._traps_in_turn(tree, facts)
            return
        yield from self._trap(tree, facts)
        if not isinstance(tree, Area):
            for child in children(tree):
                yield from self._traps(child, facts)

    def _traps_in_turn(self, tree: Call, facts: Facts) -> Iterator[tuple[str, Node]]:
        """Of AND only the first part that fails counts, though all are computed; of OR the first that holds."""
        known: Facts | None = facts
        for part in tree.arguments:
            if part is None or known is None:
                return
            yield from self._traps(part, known)
            known = self.assume(part, YES | NUMBER, known) if tree.function == "AND" else self.refuse(part, known)

    def _trap(self, tree: Node, facts: Facts) -> Iterator[tuple[str, Node]]:
        if isinstance(tree, Operator):
            left, right = self.kinds(tree.left, facts), self.kinds(tree.right, facts)
            if tree.sign in _ARITHMETIC:
                yield from self._computed((tree.left, tree.right), facts)
            elif _blank_test(tree) is not None:
                if self.kinds(_blank_test(tree), facts) & PASSED:
                    yield "tests a blank that was passed on", tree
            elif tree.sign in _ORDER:
                words, numbers = TEXT | EMPTY, NUMBER | PASSED
                for one, other, part in ((left, right, tree.left), (right, left, tree.right)):
                    if one & words and other & numbers and not (one & numbers and self._guarded(part, facts)):
                        yield "compares a text with a number", tree
                        break
            elif tree.sign in ("=", "<>") and not isinstance(tree.left, Area) and not isinstance(tree.right, Area):
                alike = left & right | (BLANK if (left | right) & BLANK else 0)
                if (left | right) & PASSED == 0 and not alike & ~ERROR and not (left | right) & (YES | NO):
                    yield "compares a text with a number", tree
        elif isinstance(tree, Sign):
            yield from self._computed((tree.part,), facts)
        elif isinstance(tree, Call):
            if tree.function in _TAKES_NUMBERS:
                yield from self._computed(tuple(one for one in tree.arguments if one is not None), facts)
            elif tree.function in ("ISNUMBER", "ISBLANK", "ISTEXT", "LEN"):
                if self.kinds(tree.arguments[0], facts) & PASSED:
                    yield "tests a blank that was passed on", tree

    def _computed(self, parts: tuple[Node, ...], facts: Facts) -> Iterator[tuple[str, Node]]:
        for part in parts:
            if isinstance(part, Area):
                continue
            kinds = self.kinds(part, facts)
            if kinds & (EMPTY | TEXT) and not (kinds & NUMBER and self._guarded(part, facts)):
                yield 'does arithmetic on ""' if kinds & EMPTY else "does arithmetic on a text", part

    def _guarded(self, part: Node, facts: Facts) -> bool:
        """Whether a condition on the way has to do with the part: then it is trusted to keep text away.

        It may do so by numbers (a count above 0, so that there is an average), which are not followed here.
        """
        around = self._around(id(part), NEIGHBOURS)
        return any(
            around & self._cells_of[key] or self._around(key, NEIGHBOURS) & self._cells_of[id(part)]
            for key in facts.kinds
        )

    def _around(self, key: int, depth: int) -> frozenset[int]:
        """The cells that a part speaks of, and those behind them; of a range its first cells."""
        if (key, depth) not in self._wide:
            found: set[int] = set()
            for cell in self._parts[key]:
                found.add(id(cell))
                tree = self.tree(cell) if depth else None
                if tree is not None:
                    found |= self._around(id(tree), depth - 1)
            self._wide[key, depth] = frozenset(found)
        return self._wide[key, depth]


def _swapped(kinds: Kinds) -> Kinds:
    """Yes for no and no for yes."""
    return kinds & ~(YES | NO) | (NO if kinds & YES else 0) | (YES if kinds & NO else 0)


def _joined(tree: Node) -> list[Node]:
    """The parts of a & b & c."""
    if isinstance(tree, Operator) and tree.sign == "&":
        return [*_joined(tree.left), *_joined(tree.right)]
    return [tree]


def _blank_test(tree: Operator) -> Node | None:
    """x, where the tree is x="" or x<>""."""
    if tree.sign in ("=", "<>"):
        for one, other in ((tree.left, tree.right), (tree.right, tree.left)):
            if one == Text(""):
                return other
    return None


def _beginning(part: Cell | Area) -> list[Node]:
    """A cell, or the first cells of a range: enough to see what it has to do with others."""
    return list(islice(_single((part,)), 64))


def _chosen(parts: tuple[Node | None, ...]) -> Cell | None:
    """The cell of an INDEX with numbers for its row and column."""
    area, *at = parts
    numbers = [int(part.value) for part in at if isinstance(part, Number)]
    if not isinstance(area, Area) or len(numbers) != len(at) or 0 in numbers:
        return None
    if len(numbers) == 1:
        numbers = [1, *numbers] if area.start.row == area.end.row else [*numbers, 1]
    return Cell(area.start.row + numbers[0] - 1, area.start.column + numbers[1] - 1, True, True, area.start.sheet)


def _single(parts: tuple[Node | None, ...]) -> Iterator[Node]:
    """Each part, a small range cell by cell."""
    for part in parts:
        if isinstance(part, Area):
            for row in range(part.start.row, part.end.row + 1):
                for column in range(part.start.column, part.end.column + 1):
                    yield Cell(row, column, True, True, part.start.sheet)
        elif part is not None:
            yield part


