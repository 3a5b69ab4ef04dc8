"""Formulas whose value programs read differently, or that Excel reads otherwise than meant."""

from __future__ import annotations

import sys
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from workbook_template.figures.book import Place
from workbook_template.figures.facts import BLANK, EMPTY, ERROR, NO, NUMBER, PASSED, TEXT, YES, Facts
from workbook_template.figures.kinds import ARITHMETIC, TAKES_NUMBERS, Judge
from workbook_template.figures.tree import Area, Call, Node, Operator, Sign, blank_test, children

_TESTS = ("ISNUMBER", "ISBLANK", "ISTEXT", "LEN")
_ORDER = ("<", "<=", ">", ">=")
NEIGHBOURS = 4
"""Formulas behind one another within which a condition has to do with a cell."""


class Finding(NamedTuple):
    """A trap in a formula: where, which ("ends on a blank", ...), and the part that it is about."""

    sheet: str
    place: Place
    trap: str
    about: Node


MOST_FACTS = 3_000
"""Sets of facts that are held, each with what was found out under it: all of a workbook's take a gigabyte."""

DEEP = 20_000
"""Python's own limit stops at a column of some ninety rows that each look at the row above."""


class Traps(Judge):
    """A workbook whose formulas are looked through."""

    def findings(self, cells: Iterable[tuple[str, Place]]) -> Iterator[Finding]:
        """The traps in the formulas of some cells."""
        sys.setrecursionlimit(max(sys.getrecursionlimit(), DEEP))
        for sheet, place in cells:
            if self.held() > MOST_FACTS:
                self.forget()
            tree = self.tree(self.place(sheet, *place))
            if tree is None:
                continue
            found = dict.fromkeys([*self._ends(tree, self.nothing), *self._traps(tree, self.nothing)])
            yield from (Finding(sheet, place, trap, about) for trap, about in found)

    def _ends(self, tree: Node | None, facts: Facts) -> Iterator[tuple[str, Node]]:
        """Where a formula may end on a blank."""
        if tree is None or not self.kinds(tree, facts) & BLANK:
            return
        if isinstance(tree, Call) and tree.function == "IF":
            for part, known in self.branches(tree, facts):
                yield from self._ends(part, known)
        elif isinstance(tree, Call) and tree.function == "IFERROR":
            for part in tree.arguments:
                yield from self._ends(part, facts)
        else:
            yield "ends on a blank", tree

    def _traps(self, tree: Node, facts: Facts) -> Iterator[tuple[str, Node]]:
        if isinstance(tree, Call) and tree.function == "IF":
            if tree.arguments[0] is not None:
                yield from self._traps(tree.arguments[0], facts)
            for part, known in self.branches(tree, facts):
                if part is not None:
                    yield from self._traps(part, known)
            return
        if isinstance(tree, Call) and tree.function == "IFERROR":
            tried, instead = children(tree)
            yield from (found for found in self._traps(tried, facts) if "arithmetic" not in found[0])
            yield from self._traps(instead, facts)
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
            known = self.accept(part, known) if tree.function == "AND" else self.refuse(part, known)

    def _trap(self, tree: Node, facts: Facts) -> Iterator[tuple[str, Node]]:
        if isinstance(tree, Operator):
            left, right = self.kinds(tree.left, facts), self.kinds(tree.right, facts)
            if tree.sign in ARITHMETIC:
                yield from self._computed((tree.left, tree.right), facts)
            elif blank_test(tree) is not None:
                if self.kinds(blank_test(tree), facts) & PASSED:
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
            if tree.function in TAKES_NUMBERS:
                yield from self._computed(tuple(one for one in tree.arguments if one is not None), facts)
            elif tree.function in _TESTS and self.kinds(tree.arguments[0], facts) & PASSED:
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
        around = self.around(id(part), NEIGHBOURS)
        return any(
            around & self.cells_of[key] or self.around(key, NEIGHBOURS) & self.cells_of[id(part)] for key in facts.kinds
        )
