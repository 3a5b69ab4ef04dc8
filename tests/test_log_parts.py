"""Which row of the log corrects which, and which repeats a part, against the rule in words, row by row."""

from __future__ import annotations

import random
from typing import NamedTuple

import pytest
from log_cases import FIRST, cell, got, judge

from workbook_template.office import Document
from workbook_template.sheets import log_rows

MANY, FEW = 150, 60
"""Rows where there are more corrections than the short list has, and where there are not."""


class Logged(NamedTuple):
    """What a row of the log says of its part."""

    serial: str | int | None
    why: str | None


ORDERS = {
    "in order": lambda draw, at: f"S-{at + 1}",
    "numbers in order": lambda draw, at: at + 1,
    "few, in any order": lambda draw, at: draw.choice((7, "7", "07", 70, "S-1", "s-1", "S-10", "s-02", "Ä-1", "ä-1")),
    "with signs of patterns": lambda draw, at: draw.choice(("S*", "S?", "S-1", "~", "~*", "s*", "S", "S~1", None)),
    "many, in any order": lambda draw, at: f"{draw.choice('aBb')}{draw.randrange(60)}",
    "one long before the others": lambda draw, at: at or "the first piece, to set up with",
    "falling": lambda draw, at: f"S-{MANY - at}",
}
CORRECTIONS = {"none": 0.0, "some": 0.1, "more than the short list has": 0.9}


def same_part(one: Logged, other: Logged) -> bool:
    """As text, capitals alike; a row without a serial is no other's."""
    return one.serial is not None and other.serial is not None and str(one.serial).lower() == str(other.serial).lower()


def expected(rows: list[Logged], at: int) -> str:
    """What the words of a row begin with."""
    row = rows[at]
    later = next((n for n in range(at + 1, len(rows)) if rows[n].why and same_part(row, rows[n])), None)
    earlier = next((n for n in range(at) if same_part(row, rows[n])), None)
    if later is not None:
        return f"Replaced by row {FIRST + later}."
    if row.serial is None:
        return "No part number."
    if earlier is None:
        return "No earlier row of this part." if row.why else ""
    return "" if row.why else f"{log_rows.AGAIN}{FIRST + earlier}: not counted."


@pytest.mark.parametrize("share", CORRECTIONS.values(), ids=CORRECTIONS)
@pytest.mark.parametrize("order", ORDERS.values(), ids=ORDERS)
def test_each_row_is_counted_replaced_or_a_repetition(log_sheet: Document, order, share: float) -> None:
    draw = random.Random(5)
    count = MANY if share > 0.5 else FEW
    rows = [Logged(order(draw, at), "read again" if draw.random() < share else None) for at in range(count)]
    for at in draw.sample(range(count), 8 if share else 0):  # corrections of parts logged in order, too
        rows[at] = Logged(rows[draw.randrange(count)].serial, "read again")
    if share > 0.5:
        assert sum(row.why is not None for row in rows) > log_rows.LISTED
    found = judge(
        log_sheet,
        [{"serial": row.serial, "why": row.why, "direct": 0.705 + at % 2 / 10000} for at, row in enumerate(rows)],
    )
    for at, row in enumerate(found):
        begins = expected(rows, at)
        assert row["words"].startswith(begins), (at, rows[at], row["words"])
        assert begins or not row["words"], (at, rows[at], row["words"])
        assert (row["worst"] == "replaced") is begins.startswith("Replaced")


def test_a_part_typed_anywhere_is_looked_for_anew(log_sheet: Document) -> None:
    """One cell at a time, as a person types it: only what depends on it is computed."""
    draw = random.Random(8)
    rows = [Logged(f"S-{at}", None) for at in range(40)]
    judge(log_sheet, [{"serial": row.serial, "direct": 0.705} for row in rows])
    for _ in range(30):
        at = draw.randrange(len(rows))
        name = draw.choice(("serial", "serial", "why"))
        text = draw.choice(("S-7", "S-30", "x", "9", "")) if name == "serial" else draw.choice(("read again", ""))
        log_sheet.edit(cell(name, at + 1), text)
        rows[at] = rows[at]._replace(**{name: text or None})
        for number, (words, status) in enumerate(got(log_sheet, ["words", "status"], len(rows))):
            begins = expected(rows, number)
            assert words.startswith(begins), (number, rows[number], words)
            assert (status > 1) is begins.startswith("Replaced")
