"""The words of the log: what each means, and the sign that stands before it."""

from __future__ import annotations

from typing import NamedTuple


class Word(NamedTuple):
    """A word of the log: what it means, and the sign that its number format puts before it."""

    meaning: str
    sign: str


RESULT_WORDS = {
    "in": Word(
        "inside its limits, or on one",
        " ",
    ),
    "undecided": Word(
        "nearer to a limit than the uncertainty of the measurement; only with the guard band rule",
        "≈",
    ),
    "high": Word(
        "over its maximum",
        "▲",
    ),
    "low": Word(
        "under its minimum",
        "▼",
    ),
    "check entry": Word(
        "not believable: a text, zero or less, the wrong unit, or two values that disagree",
        "?",
    ),
    "check instrument": Word(
        "measured, but without a date, or the instrument, wires or gauge is not named, not listed, unfit, out of date, "
        "or not for that size or thread",
        "!",
    ),
    "not measured": Word(
        "the row is begun, this size is still to be measured",
        "·",
    ),
    "replaced": Word(
        "a later row corrects this one: not counted",
        "×",
    ),
}
"""Every verdict, the good one first."""
