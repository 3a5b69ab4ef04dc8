"""Whatever number stands in an entry: a sentence or nothing, never an error value and no row of hundreds of figures.

Every entry of the filled example, one at a time, past the checks of what may be typed, as a paste goes past them. And
an error value, as =1/0 gives, in any entry: it is told where it is and goes no further.
"""

from __future__ import annotations

import re
from typing import NamedTuple

import pytest
from one_entry import OneEntry, Spot
from whole_books import with_few_threads

from workbook_template.demo import job as demo
from workbook_template.figures.book import Book, Problem, Value
from workbook_template.figures.functions import serial
from workbook_template.figures.value import Computed
from workbook_template.file import store
from workbook_template.file.build import built_on
from workbook_template.paper.naming import WORKING, Named
from workbook_template.rules.parts import box

ABSURD = (1e308, -1e308, 1e-308, 0.0, -1.0)
MOST_SHOWN = 1e12
"""A number that is shown is no larger: a billion is the most that is believed of one that is typed."""
FIGURES_IN_A_ROW = re.compile(r"\d{16}")


def entry_cells(entry: Named) -> list[Spot]:
    """The cell of an entry; of a column the first and the last."""
    left, top, right, bottom = box(entry.ref)
    return [(entry.sheet, row, column) for row in sorted({top, bottom}) for column in sorted({left, right})]


def cells_of(entry: Named) -> list[Spot]:
    """Every cell of a name."""
    left, top, right, bottom = box(entry.ref)
    return [(entry.sheet, row, column) for row in range(top, bottom + 1) for column in range(left, right + 1)]


def wrong(value: Value, typed: float, seen: bool) -> bool:
    """Whether that is no answer for a person: an entry may be repeated as it was typed, nothing be made of it."""
    if isinstance(value, Problem):
        return True
    if isinstance(value, str):
        return FIGURES_IN_A_ROW.search(value) is not None
    return seen and isinstance(value, float) and abs(value) > MOST_SHOWN and value != typed


FEW_ROWS, FEW_LINES = 31, 12
"""Rows of the log and the quote: all that the example fills, and some that are empty."""


class Example(NamedTuple):
    """The filled example, and what stands behind its pages."""

    entries: list[Named]
    cells: Book
    filled: OneEntry
    behind: set[Spot]


@pytest.fixture(scope="module")
def example() -> Example:
    book = with_few_threads(values=demo.values(), rows=FEW_ROWS, quote_rows=FEW_LINES)
    behind = {cell for one in book.entries if one.role == "working" for cell in cells_of(one)}
    cells = store.cells_of(book)
    return Example(book.entries, cells, OneEntry(cells, serial(built_on())), behind)


RETYPE = "is an error value: retype it as a number."
COATING = "Coating: type its least and its greatest thickness as numbers, or empty both."
TOLD = {
    **dict.fromkeys(("thinnest_coating", "thickest_coating"), COATING),
    **dict.fromkeys(("log_reading", "log_reading_2a", "log_direct"), f"A reading {RETYPE}"),
    "log_crest": f"A diameter {RETYPE}",
    "log_temperature": "Part temperature: 0 to 50 degrees C.",
    "log_serial": "No part number.",
    "log_ring": "Ring or plug: type pass, go fails or not go enters",
    "log_gauge": "Gauge: retype the number, it is an error value.",
    "log_wires": "Wires: retype the number, it is an error value.",
    **dict.fromkeys(("log_instrument", "log_once_instrument"), "Instrument error not on Instruments."),
    **dict.fromkeys(("log_when", "log_once_when"), "The date is a text."),
    "instrument_fit": "is marked unfit",
    "decision_rule": "CHECK ENTRY, choose simple or guard; until then simple",
    "budget_expansion": "Next: the expansion of the part, in millionths per °C",
    "before_day": "Its day is no day between 1990 and 2099.",
    "budget_factor": "a factor k of 1 to 5.",
    **dict.fromkeys(("study_a_1", "study_c_3"), "Next: part 1 has 8 of 9 readings as numbers"),
    "study_tolerance_width": "Check entry: the width of the tolerance",
    "part": "Sheet Job: Part is an error value: retype it.",
    "material_certificate": "Its certificate is an error value: retype it.",
    "unit": "Choose the working unit, in or mm.",
    "hand": "Choose the hand, right or left.",
    "thread_diameter": "an error value is no diameter of the system Unified",
    "thread_class": "Choose a class of the size",
    "thread_exists": "Thread exists: choose yes or no, or empty it.",
    "tip_kind": "Next: choose the tool tip.",
    "pass_rule": "Choose the pass rule, equal area or light first.",
    "wire_set": "Next: choose a wire set or enter the wire in use.",
    "plan_done": "Ticks of another thread stand in the plan (old): clear them.",
    "lathe_in_use": "Choose the lathe in use, 1 or 2, on the sheet Lathe.",
    "compound_dial_reads_1": "Compound dial not given.",
    "cross_dial_reads_1": "a division, reads not given.",
    "surface_speed_unit": "Choose the unit of the cutting speed beside it",
    "estimate_rate": "Rate an hour: an error value is no number; type a number",
    "estimate_quantity_3": "Quantity 3: an error value is no number; type a whole number",
    "estimate_profit_kind": "Next, profit as: choose margin or markup.",
    "estimate_material_by": "Material is charged by: choose whole bars",
    "estimate_power_return_1": "Next: say on Estimate whether it comes back under power",
    "actual_rest_minutes": "Rest and delay, minutes, as it was: an error value is no number",
    "before_price_5": "Price at quantity 5, before: type a number",
    "quote_class": "Class is an error value: retype it.",
    "quote_rpm": "rpm: an error value is no number; type a number",
    "offer_terms": "Terms is an error value: retype it.",
    "offer_valid": "is no day between 1990 and 2099",
    "shop_address": "Its address is an error value: retype it.",
    "certificate_order": "Customer's order is an error value: retype it.",
    "instrument_id": "Its number is an error value: retype it.",
    "wires_id": "Its number is an error value: retype it.",
    "article_measured": "check entry",
    "budget_wires_kind": "Next: fill in mean diameter of the wires and its kind",
    "sample_severity": "Next: choose by the list, normal or tightened.",
    "sample_history": "Next: fill in the list of lots without a gap",
    "study_person_b": "Next: name the person B.",
}
"""What is said of an error value, by the entry that it stands in."""


def seen_with(example: Example, cell: Spot, value: Value) -> dict[Spot, Value]:
    """What a person sees otherwise with that value in an entry."""
    found = example.filled.changed(cell, value)
    return {spot: now for spot, now in found.items() if spot not in example.behind and spot[0] != WORKING}


@pytest.mark.parametrize("name", TOLD)
def test_an_error_value_in_an_entry_is_told(example: Example, name: str) -> None:
    """As =1/0 typed into it, or a formula of one's own whose cells are empty."""
    entry = next(one for one in example.entries if one.name == name)
    said = seen_with(example, entry_cells(entry)[0], Problem("#DIV/0!")).values()
    assert any(isinstance(value, str) and TOLD[name] in value for value in said)


def test_an_error_value_is_nobody_who_examined(example: Example) -> None:
    """The first article of the example with another instrument for its length: accepted, but not without a name."""
    place = {one.name: entry_cells(one)[0] for one in example.entries}
    computed = Computed(example.cells, serial(built_on()), store.PROBABILITY)
    instruments = next(one for one in example.entries if one.name == "article_instrument")
    last = len(demo.values()["article_instrument"]) - 1
    computed.put(*cells_of(instruments)[last], "D-2")
    words = place["article_words"]
    assert str(computed.value(*words)).startswith("ACCEPTED")
    for name in ("article_serial", "article_who"):
        before = computed.value(*place[name])
        computed.put(*place[name], Problem("#DIV/0!"))
        said = computed.value(*words)
        assert said == "NOT COMPLETE, so not accepted: name the part, who examined it and the day."
        computed.put(*place[name], before)


def test_an_error_value_in_any_entry_goes_no_further(example: Example) -> None:
    named = {cell: one.name for one in example.entries for cell in cells_of(one)}
    typed_into = [one for one in example.entries if one.role == "input"]
    spread = {
        f"{entry.name}: {named.get(spot, spot)}"
        for entry in typed_into
        for cell in entry_cells(entry)
        for spot, value in seen_with(example, cell, Problem("#DIV/0!")).items()
        if spot != cell and isinstance(value, Problem)
    }
    assert not spread, "\n".join(sorted(spread))
    assert len(typed_into) > 300


def test_no_number_in_any_entry_makes_an_error_value(example: Example) -> None:
    entries, _, filled, behind = example
    named = {cell: one for one in entries for cell in entry_cells(one)}
    assert [spot for spot, value in filled.first.items() if wrong(value, 0, seen=spot not in behind)] == []
    typed_into = [one for one in entries if one.role == "input"]
    bad = {
        f"{entry.name} = {typed:g}: {spot} {named[spot].name if spot in named else ''} is {str(value)[:60]}"
        for entry in typed_into
        for cell in entry_cells(entry)
        for typed in ABSURD
        for spot, value in filled.changed(cell, typed).items()
        if wrong(value, typed, seen=spot not in behind and spot[0] != WORKING)
    }
    assert not bad, "\n".join(sorted(bad))
    assert len(typed_into) > 300
