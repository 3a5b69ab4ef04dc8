"""What is typed: its name, its words, what it accepts."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Literal, NamedTuple

from workbook_template.figures.figure import Figure
from workbook_template.figures.notation import all_of, any_of, empty, first, known, no, node, say, the, when, xl
from workbook_template.figures.tree import Node, Part
from workbook_template.trade.days import FIRST_DAY, LAST_DAY, is_day

Kind = Literal["whole", "decimal", "list", "date", "time", "textLength", "custom"]
Operator = Literal[
    "between", "notBetween", "equal", "notEqual", "lessThan", "lessThanOrEqual", "greaterThan", "greaterThanOrEqual"
]  # fmt: skip
"""Words of the file format."""


class Check(NamedTuple):
    """What an input accepts: a validation in short, and the sentence when it is something else."""

    type: Kind | None = None
    formula1: str | None = None
    formula2: str | None = None
    operator: Operator | None = None
    refusal: str = ""

    @property
    def asked(self) -> str:
        """The sentence behind a colon."""
        return self.refusal[:1].lower() + self.refusal[1:]

    @property
    def from_cells(self) -> bool:
        """Whether it is a list out of cells: while one of them is blank, Excel takes anything unless blanks count."""
        return self.type == "list" and not (self.formula1 or "").startswith('"')


ANYTHING = Check()
DAY = Check(
    "date", str(FIRST_DAY), str(LAST_DAY), "between",
    "Type a date between 1990 and 2099, as your spreadsheet program takes dates.",
)  # fmt: skip
LEAST, MOST_LENGTH, MOST = "0.000001", "20000", "1000000000"
"""What is believed of a number that is typed: none stands for something smaller, or larger, in a shop (our choice).

A length is less than a day: the programs take a typed 3/8 for one, a number over 36000 in this century.
"""
MOST_PIECES = 20000
"""What is believed of a number of parts: less than a day too, as 1/2 typed is not meant for 46024 pieces."""


def number_from(low: str, high: str, refusal: str) -> Check:
    """A number between two bounds."""
    return Check("decimal", low, high, "between", refusal)


LENGTH = number_from(
    LEAST,
    MOST_LENGTH,
    f"Type a length, more than zero, {MOST_LENGTH} at most, in the working unit; as a decimal, 0.375 and not 3/8.",
)
LENGTH_OR_NONE = number_from(
    "0",
    MOST_LENGTH,
    f"Type a length, 0 or more, {MOST_LENGTH} at most, in the working unit; as a decimal, 0.25 and not 1/4.",
)
MOST_COUNTED = MOST_LENGTH
"""Of minutes, seconds and turns a minute: less than a day as well, for the same reason."""
MINUTES = number_from(
    "0", MOST_COUNTED, f"Type a number, 0 or more, {MOST_COUNTED} at most; 0.5 and not 1/2, 30 and not 0:30."
)
SPEED = number_from(LEAST, MOST_COUNTED, f"Type a number more than zero, {MOST_COUNTED} at most.")
NOT_NEGATIVE = number_from("0", MOST, "Type a number, 0 or more, a billion at most.")
MORE_THAN_ZERO = number_from(LEAST, MOST, "Type a number more than zero, a billion at most.")
DECIMAL = number_from(
    LEAST, MOST_LENGTH, f"Type a number more than zero, {MOST_LENGTH} at most; as a decimal, 0.5 and not 1/2."
)
"""What a lathe is described with; less than a day too."""


def in_bounds(check: Check, number: Node) -> Node:
    """Whether a number is one that a check of numbers takes."""
    low, high = (float(end) for end in (check.formula1 or "", check.formula2 or ""))
    bounds = [number >= low, number <= high]
    if check == MINUTES:
        return all_of(*bounds, no(_of_a_clock(number)))
    return all_of(*bounds, number.same(xl.INT(number))) if check.type == "whole" else all_of(*bounds)


LONGEST_TIME = 2.5
"""Days that 60:00 becomes when it is typed."""


def _of_a_clock(number: Node) -> Node:
    """Whether minutes are the share of a day that 0:30 or 50:00 becomes: whole minutes of it, and no whole thousandths.

    Each whole 36 minutes of a day are such: 3:00, 12:00 and 45:00 are 0.125, 0.5 and 1.875, which may be meant as they
    stand.
    """

    def whole_times(parts: int) -> Node:
        return xl.ROUND(number * parts, 6).same(xl.ROUND(number * parts, 0))

    return when(all_of(number > 0, number < LONGEST_TIME), all_of(whole_times(24 * 60), no(whole_times(1000))), False)


def believed(check: Check, cell: Node) -> Node:
    """Whether a cell holds such a number; what was pasted, no check has looked at."""
    return when(known(cell), in_bounds(check, cell), False)


AN_ERROR = "an error value"
"""What stands in words for an entry as =1/0: it has no words of its own, and would spread."""


def left_empty(cell: Node) -> Node:
    """Whether nothing is typed; an error value is something."""
    return when(xl.ISERROR(cell), False, empty(cell))


def filled(cell: Node) -> Node:
    """Whether anything is typed, an error value too."""
    return no(left_empty(cell))


def none_of(cell: Node, *words: str) -> Node:
    """Whether a choice is none of some words; an error value is none."""
    return xl.IFERROR(all_of(*(cell.differs(word) for word in words)), True)


def chosen(cell: Node, word: str) -> Node:
    """Whether a choice is that word; an error value is not."""
    return xl.IFERROR(cell.same(word), False)


def in_text(cell: Node) -> Node:
    """What is typed as text; nothing where it is an error value: who needs it asks for it then."""
    return xl.IFERROR(cell & "", "")


def texts(typed: Iterable[Input]) -> tuple[Figure, ...]:
    """What is typed as text, a figure each: papers repeat it."""
    meaning = "nothing for an error value"
    return tuple(Figure(f"{one.name}_text", f"{one.meaning}; {meaning}", in_text(the[one.name])) for one in typed)


def spoiled(typed: Iterable[Input]) -> Node:
    """The sentence for the first entry that is an error value, where others would leave it out; nothing where none is.

    >>> from workbook_template.figures.text import text
    >>> text(spoiled([Input("lot", "Lot", "", "text", ANYTHING, "")]))
    'IF(ISERROR(lot),"Lot is an error value: retype it.","")'
    """
    return first(*((xl.ISERROR(the[one.name]), f"{one.label} is {AN_ERROR}: retype it.") for one in typed))


def misread(cell: Node) -> Node:
    """Behind the sentence for what is no length: that a typed fraction became a day, or a unit or comma a text."""
    day = " The program made a day of what was typed, as it does of 3/8: type the decimal, as in 0.375."
    example = node(3) / 8 & ""  # with the decimal sign of the program that is open
    text = say(' "', cell, '" is a text: type the number alone, as in ', example, ".")
    return first((is_day(cell), day), (xl.ISTEXT(cell), text))


def no_length(what: Part, cell: Node, otherwise: str = "") -> Node:
    """The sentence for a cell that should hold a length and does not."""
    return say(what, f" is not a number more than zero, {MOST_LENGTH} at most{otherwise}.", misread(cell))


class Input(NamedTuple):
    """What is typed: its name, what stands beside it, what it means, its dimension, check and message.

    `may_be_empty` where the sheet asks for what is not typed.
    """

    name: str
    label: str
    meaning: str
    dimension: str
    check: Check
    prompt: str
    may_be_empty: bool = False


def one_of(words: tuple[str, ...], refusal: str) -> Check:
    """A drop-down of fixed words."""
    return Check("list", f'"{",".join(words)}"', refusal=refusal)


def whole(low: int, high: int) -> Check:
    """A whole number in a range."""
    return Check("whole", str(low), str(high), "between", f"Type a whole number from {low} to {high}.")


IN_OR_MM = one_of(("in", "mm"), "Choose in or mm.")


def retype(typed_in: Node) -> Node:
    """Whether lengths were typed in another unit than the working unit is now."""
    return xl.IFERROR(all_of(any_of(typed_in.same("in"), typed_in.same("mm")), typed_in.differs(the.unit_text)), False)


def in_words(unit: Node) -> Node:
    """A unit that stands behind the word in."""
    return when(unit.same("in"), "inches", "millimetres")
