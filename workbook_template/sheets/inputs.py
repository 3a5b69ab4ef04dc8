"""What is typed: its name, its words, what it accepts."""

from __future__ import annotations

from typing import Literal, NamedTuple

from workbook_template.trade.days import FIRST_DAY, LAST_DAY

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
    def from_cells(self) -> bool:
        """Whether it is a list out of cells: while one of them is blank, Excel takes anything unless blanks count."""
        return self.type == "list" and not (self.formula1 or "").startswith('"')


ANYTHING = Check()
DAY = Check(
    "date", str(FIRST_DAY), str(LAST_DAY), "between",
    "Type a date between 1990 and 2099, as your spreadsheet program takes dates.",
)  # fmt: skip
LENGTH = Check(
    "decimal", "0", operator="greaterThan", refusal="Type a length as a number more than zero, in the working unit."
)


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
