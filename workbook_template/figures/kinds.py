"""What a formula may give: numbers, text, yes or no, empty text, a blank.

A formula is followed as its conditions lead: behind `IF(ISNUMBER(x)` x is a number, and if x is a formula, what makes
it a number holds too. So `IF(ISNUMBER(feed),feed*2,"")` is clean where feed is "" without a lathe.

A kind declared with each figure would not spare this: about one formula of the workbook in twelve is clean only by what
a condition tells of the formulas behind it, and a file that is checked declares nothing.

Kinds are bits of an int, for speed: thousands of formulas are followed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from workbook_template.figures.book import Book, Cells
from workbook_template.figures.facts import (
    ALL,
    BLANK,
    EMPTY,
    ERROR,
    NO,
    NUMBER,
    PASSED,
    TEXT,
    UNKNOWN,
    YES,
    Facts,
    Kinds,
    Known,
    kind_of,
    single_cells,
)
from workbook_template.figures.functions import NUMBERS
from workbook_template.figures.tree import (
    IF_NOT,
    Area,
    Call,
    Cell,
    Node,
    Number,
    Operator,
    Sign,
    Text,
    YesNo,
    blank_test,
    joined_parts,
    walk,
)

ARITHMETIC = ("+", "-", "*", "/", "^")
_OPPOSITE = {"=": "<>", "<>": "=", "<": ">=", ">=": "<", ">": "<=", "<=": ">"}
_MIRRORED = {"=": "=", "<>": "<>", "<": ">", ">": "<", "<=": ">=", ">=": "<="}
_TESTS = {"ISNUMBER": NUMBER | PASSED, "ISBLANK": BLANK, "ISTEXT": TEXT | EMPTY, "ISERROR": ERROR}
_SPELLED = {
    NUMBER | ERROR: "MATCH SEARCH FIND STDEV AVERAGE CHIINV FDIST TINV NORMSINV LN LOG10 SQRT",
    TEXT | EMPTY: "FIXED SUBSTITUTE TRIM LEFT RIGHT MID REPT UPPER LOWER",
    YES | NO: "AND OR NOT EXACT",
}
_GIVES = {name: kinds for kinds, names in _SPELLED.items() for name in names.split()}
"""What a function gives, where it is not a number."""
TAKES_NUMBERS = frozenset(NUMBERS) | {"CHIINV", "FDIST", "FIXED", "GCD", "NORMSINV", "TINV"}
"""Functions whose plain arguments are numbers, so that "" among them is an error."""


class Judge(Known):
    """A workbook, with what may stand in its inputs.

    `depth` is how many formulas behind one another a condition is followed through: more takes longer and tells more.
    """

    def __init__(self, book: Book, inputs: dict[tuple[str, int, int], Kinds], depth: int = 3) -> None:
        super().__init__(book, depth)
        self.inputs = inputs
        self._areas: dict[int, Kinds] = {}
        self._busy: set[int] = set()

    # what a part may give

    def kinds(self, tree: Node | None, facts: Facts) -> Kinds:
        """What a part may give, as far as the facts tell."""
        if isinstance(tree, Number):
            return NUMBER
        if isinstance(tree, Text):
            return TEXT if tree.value else EMPTY
        if isinstance(tree, YesNo):
            return YES if tree.value else NO
        if tree is None:
            return BLANK
        found = facts.given.get(id(tree))
        if found is None:
            found = facts.given[id(tree)] = self._kinds(tree, facts)
        return found

    def _kinds(self, tree: Node, facts: Facts) -> Kinds:
        known = facts.kinds.get(id(tree), ALL)
        if isinstance(tree, Cell):
            return self._cell(tree, known, facts)
        if isinstance(tree, Area):
            return self._area(tree)
        if isinstance(tree, Sign):
            return self._number(self.kinds(tree.part, facts))
        if isinstance(tree, Operator):
            return self._operator(tree, facts)
        return self._call(tree, facts) & known if isinstance(tree, Call) else UNKNOWN

    def _number(self, operands: Kinds) -> Kinds:
        return NUMBER | (ERROR if operands & (TEXT | EMPTY | ERROR) else 0)

    def _operator(self, tree: Operator, facts: Facts) -> Kinds:
        both = self.kinds(tree.left, facts) | self.kinds(tree.right, facts)
        if tree.sign in ARITHMETIC:
            return self._number(both) | (ERROR if tree.sign == "/" else 0)
        if tree.sign == "&":
            parts = joined_parts(tree)
            words = any(isinstance(part, Text) and part.value for part in parts)
            kinds = [self.kinds(part, facts) for part in parts]
            full = words or any(not kind & (EMPTY | BLANK) for kind in kinds)
            blank = all(not kind & ~(EMPTY | BLANK) for kind in kinds)
            return (both & ERROR) | (EMPTY if blank else TEXT if full else TEXT | EMPTY)
        if tree.sign == ":":
            return UNKNOWN
        asked = blank_test(tree)
        if asked is not None:
            tested = self.kinds(asked, facts)
            is_blank = (YES if tested & (EMPTY | BLANK) else 0) | (NO if tested & ~(EMPTY | BLANK | ERROR) else 0)
            found = is_blank if tree.sign == "=" else _swapped(is_blank)
            return found | (tested & ERROR)
        return (YES | NO | (both & ERROR)) & self._remembered(tree, facts)

    def _remembered(self, tree: Operator, facts: Facts) -> Kinds:
        key, turned = self._comparison(tree)
        known = facts.kinds.get(id(key), ALL)
        return _swapped(known) if turned else known

    def _call(self, tree: Call, facts: Facts) -> Kinds:
        """Of a function that passes on one of its arguments, or answers yes or no; any other is computed."""
        name, arguments = tree.function, tree.arguments
        if name == "IF":
            found = self.kinds(arguments[0], facts) & ERROR
            for part, known in self.branches(tree, facts):
                found |= self.kinds(part, known)
            return found
        if name == "IFERROR":
            tried = self.kinds(arguments[0], facts)
            return tried & ~ERROR | (self.kinds(arguments[1], facts) if tried & ERROR else 0)
        if name in _TESTS:
            tested = self.kinds(arguments[0], facts)
            return (YES if tested & _TESTS[name] else 0) | (NO if tested & ~_TESTS[name] else 0)
        if name == "NOT":
            return _swapped(self.kinds(arguments[0], facts))
        if name in ("AND", "OR"):
            return self._logic(tree, facts)
        if name == "CHOOSE":
            found = ERROR
            for one in arguments[1:]:
                found |= self.kinds(one, facts)
            return found
        if name in ("INDEX", "OFFSET"):
            found = self.kinds(arguments[0], facts) | ERROR
            looked_up = any(isinstance(part, Call) and part.function == "MATCH" for part in walk(tree))
            return found & ~EMPTY if looked_up and found & ~(EMPTY | ERROR) else found  # a row that is found is in use
        return self._of_function(name, arguments, facts)

    def _of_function(self, name: str, arguments: tuple[Node | None, ...], facts: Facts) -> Kinds:
        operands = 0
        for one in arguments:
            if one is not None and not isinstance(one, Area):
                operands |= self.kinds(one, facts)
        if name.startswith("THREAD_"):
            return NUMBER | TEXT | ERROR
        if name == "TRIM" and not operands & ~TEXT:
            return TEXT | EMPTY
        if name == "FIXED":
            return TEXT | (operands & ERROR)
        made = _GIVES.get(name, NUMBER)
        return made | (operands & ERROR) | (ERROR if name in TAKES_NUMBERS and operands & (TEXT | EMPTY) else 0)

    def _logic(self, tree: Call, facts: Facts) -> Kinds:
        kinds = [self.kinds(one, facts) for one in tree.arguments]
        alone, other = (NO, YES) if tree.function == "AND" else (YES, NO)
        error = ERROR if any(kind & ERROR for kind in kinds) else 0
        if any(kind == alone for kind in kinds):
            return alone | error
        return other | error | (alone if any(kind & ~other for kind in kinds) else 0)

    def _area(self, area: Area) -> Kinds:
        """A formula that goes on down a column counts once."""
        if id(area) not in self._areas:
            name = area.start.sheet
            sheet = self.book.sheets.get(name, Cells({}, {}))
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
        return kind_of(self.book.sheets[sheet].values.get((row, column))) if sheet in self.book.sheets else UNKNOWN

    def _cell(self, cell: Cell, known: Kinds, facts: Facts) -> Kinds:
        tree = self.tree(cell)
        if tree is None:
            return known & self._plain(cell.sheet, cell.row, cell.column)
        if not known & (known - 1) or id(cell) in self._busy:
            return known
        here = self._facts_near(cell, facts)
        if here is not facts:
            return known & self.kinds(cell, here)
        self._busy.add(id(cell))
        given = self.kinds(tree, self.facts(facts.kinds, max(facts.depth - 1, 0)))
        self._busy.discard(id(cell))
        return known & (given & ~BLANK | (PASSED if given & BLANK else 0))

    def _facts_near(self, cell: Cell, facts: Facts) -> Facts:
        """The facts that can tell about a formula."""
        if not facts.kinds:
            return facts
        near = self.near(cell, facts.depth)
        here = {key: kinds for key, kinds in facts.kinds.items() if key in near or self.cells_of[key] & near}
        if len(here) == len(facts.kinds):
            return facts
        return self.facts(here, facts.depth) if here else self.nothing

    # what a condition tells

    def accept(self, tree: Node | None, facts: Facts) -> Facts | None:
        """The facts where a condition holds."""
        return self.assume(tree, YES | NUMBER, facts)

    def refuse(self, tree: Node | None, facts: Facts) -> Facts | None:
        """The facts where a condition does not hold."""
        return self.assume(tree, NO | NUMBER | BLANK | PASSED, facts)

    def assume(self, tree: Node | None, wanted: Kinds, facts: Facts) -> Facts | None:
        """The facts where a part is of the wanted kinds; None if it can't be."""
        key = id(tree), wanted
        if key not in facts.led:
            given = self.kinds(tree, facts) & wanted
            facts.led[key] = self._assume(tree, given, facts) if given else None
        return facts.led[key]

    def _assume(self, tree: Node | None, given: Kinds, facts: Facts) -> Facts | None:
        if isinstance(tree, Cell):
            behind = self.tree(tree)
            facts = self.learn(facts, tree, given)
            if behind is not None and facts.depth > 0 and id(tree) not in self._busy:
                self._busy.add(id(tree))
                inside = self.facts(facts.kinds, facts.depth - 1)
                more = self.assume(behind, given | (BLANK if given & PASSED else 0), inside)
                self._busy.discard(id(tree))
                return None if more is None else self.facts(more.kinds, facts.depth)
            return facts
        if isinstance(tree, Sign):
            return self._operands((tree.part,), given, facts)
        if isinstance(tree, Operator):
            return self._assume_operator(tree, given, facts)
        if isinstance(tree, Call):
            return self._assume_call(tree, given, facts)
        return facts

    def _operands(self, parts: tuple[Node, ...], wanted: Kinds, facts: Facts) -> Facts | None:
        """Arithmetic that gave a number had no "" in it."""
        return facts if wanted & ERROR else self._assume_each(parts, ALL & ~(EMPTY | ERROR), facts)

    def _assume_each(self, parts: Sequence[Node], wanted: Kinds, facts: Facts) -> Facts | None:
        found: Facts | None = facts
        for part in parts:
            found = None if found is None else self.assume(part, wanted, found)
        return found

    def _assume_operator(self, tree: Operator, wanted: Kinds, facts: Facts) -> Facts | None:
        if tree.sign in ARITHMETIC:
            return self._operands((tree.left, tree.right), wanted, facts)
        if tree.sign in ("&", ":") or wanted & (YES | NO) in (0, YES | NO):
            return facts
        holds = bool(wanted & YES)
        tested = blank_test(tree)
        if tested is not None:
            blank = holds == (tree.sign == "=")
            return self._told(tested, EMPTY | BLANK if blank else ALL & ~(EMPTY | BLANK | ERROR), facts)
        key, turned = self._comparison(tree)
        facts = self.learn(facts, key, NO if holds == turned else YES)
        left, sign, right = tree.left, tree.sign, tree.right
        if isinstance(left, (Number, Text)):
            left, sign, right = right, _MIRRORED[sign], left
        if not holds:
            sign = _OPPOSITE[sign]
        return self._assume_comparison(left, sign, right, facts)

    def _assume_comparison(self, left: Node, sign: str, right: Node, facts: Facts) -> Facts | None:
        if isinstance(right, Text):
            return self.assume(left, TEXT, facts) if sign == "=" else facts
        if not isinstance(right, Number):
            if sign == "=" and self.kinds(right, facts) == NUMBER:
                return self.assume(left, NUMBER | BLANK | PASSED, facts)
            return facts
        limit = right.value
        if isinstance(left, Call) and left.function == "LEN":
            return self._assume_length(left.arguments[0], sign, limit, facts)
        if isinstance(left, Call) and left.function == "COUNT":
            return self._assume_count(left, sign, limit, facts)
        if sign == "=" or sign in ("<", "<="):
            small = NUMBER | (BLANK | PASSED if limit > 0 or (limit == 0 and sign != "<") else 0)
            return self.assume(left, small, facts)
        if (sign == ">" and limit >= 0) or (sign == ">=" and limit > 0) or (sign == "<>" and limit == 0):
            return self.assume(left, ALL & ~(BLANK | PASSED | ERROR), facts)
        return facts

    def _assume_length(self, part: Node | None, sign: str, limit: float, facts: Facts) -> Facts | None:
        """LEN tells blank or empty from all else."""
        if (sign in ("=", "<=") and limit == 0) or (sign == "<" and limit == 1):
            return self._told(part, EMPTY | BLANK, facts)
        if (sign in (">", "<>") and limit == 0) or (sign in ("=", ">=", ">") and limit > 0):
            return self._told(part, ALL & ~(EMPTY | BLANK | ERROR), facts)
        return facts

    def _told(self, part: Node | None, wanted: Kinds, facts: Facts) -> Facts | None:
        """A test tells of what it asks about; of a whole expression too, which may be written again behind it."""
        found = self.assume(part, wanted, facts)
        if found is None or not isinstance(part, Call):
            return found
        return self.learn(found, part, found.kinds.get(id(part), ALL) & wanted)

    def _assume_count(self, tree: Call, sign: str, limit: float, facts: Facts) -> Facts | None:
        """COUNT of as many as there are tells that each is a number."""
        cells = [self.one(cell) for cell in single_cells(tree.arguments)]
        if not (sign in ("=", ">=") and limit == len(cells)) and not (sign == ">" and limit == len(cells) - 1):
            return facts
        return self._assume_each(cells, NUMBER | PASSED, facts)

    def _assume_call(self, tree: Call, wanted: Kinds, facts: Facts) -> Facts | None:
        name, arguments = tree.function, tree.arguments
        if name == "IF":
            return self._assume_if(tree, wanted, facts)
        if name == "IFERROR":
            if not self.kinds(arguments[1], facts) & wanted:
                return self.assume(arguments[0], wanted & ~ERROR, facts)
            return facts
        if name in ("INDEX", "OFFSET"):
            return self.learn(facts, tree, wanted)
        if name in TAKES_NUMBERS:
            return self._operands(tuple(one for one in arguments if one is not None), wanted, facts)
        if wanted & (YES | NO) in (0, YES | NO):
            return facts
        holds = bool(wanted & YES)
        if name in _TESTS:
            tested = _TESTS[name]
            return self._told(arguments[0], tested if holds else ALL & ~tested, facts)
        if name == "NOT":
            return (self.refuse if holds else self.accept)(arguments[0], facts)
        if name in ("AND", "OR"):
            return self._assume_logic(arguments, holds, name == "AND", facts)
        return facts

    def _assume_logic(self, parts: tuple[Node | None, ...], holds: bool, together: bool, facts: Facts) -> Facts | None:
        """AND that holds: each does. AND that does not: the first does not, or it does and the second does not ..."""
        found: Facts | None = None
        rest: Facts | None = facts
        for part in parts:
            if rest is None:
                break
            holding, failing = self.accept(part, rest), self.refuse(part, rest)
            found = self.either(found, failing if together else holding)
            rest = holding if together else failing
        return rest if holds == together else found

    def branches(self, tree: Call, facts: Facts) -> Iterator[tuple[Node | None, Facts]]:
        """The results of an IF that can come about, each with what is known there."""
        condition, *results = tree.arguments
        ways = self.accept(condition, facts), self.refuse(condition, facts)
        for part, known in zip((*results, IF_NOT), ways):
            if known is not None:
                yield part, known

    def _assume_if(self, tree: Call, wanted: Kinds, facts: Facts) -> Facts | None:
        found = None
        for part, known in self.branches(tree, facts):
            if self.kinds(part, known) & wanted:
                found = self.either(found, self.assume(part, wanted, known))
        return found

    def _comparison(self, tree: Operator) -> tuple[Node, bool]:
        """A comparison by which it is remembered, and whether that is its opposite."""
        turned = tree.sign in ("<>", ">=", ">")
        return (self.one(Operator(_OPPOSITE[tree.sign], tree.left, tree.right)) if turned else tree), turned


def _swapped(kinds: Kinds) -> Kinds:
    """Yes for no and no for yes."""
    return kinds & ~(YES | NO) | (NO if kinds & YES else 0) | (YES if kinds & NO else 0)
