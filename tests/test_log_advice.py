"""What settles an undecided size, against hand arithmetic: with what the sheet asks for, the verdict is decided."""

from __future__ import annotations

from datetime import date

import pytest
from whole_books import with_few_threads

from sheetfuncs import standards
from workbook_template.figures.book import Value
from workbook_template.figures.functions import serial
from workbook_template.figures.value import Computed
from workbook_template.file import store
from workbook_template.rules.parts import box

THREAD = "3/4-16 UNF-2A"  # ASME B1.1-2003, Table 2A: pitch .7079/.7029, major .7485/.7391
LATER = date(2027, 1, 1)
SIZES = {"direct": [0.7075, 0.7085, 0.7079, 0.7054, 0.7074], "crest": [None, None, None, 0.7484, None]}
VALUES = {
    "instrument_id": ["T-2"], "instrument_kind": ["thread micrometer"], "instrument_due": [LATER],
    "log_once_instrument": "T-2", "log_once_who": "inspector", "log_once_when": date(2026, 3, 5),
    "log_serial": ["1", "2", "3", "4", "5"], **{f"log_{name}": sizes for name, sizes in SIZES.items()},
    "as_of": date(2026, 3, 6), "decision_rule": "guard", "expanded_uncertainty": 0.001, "coverage_factor": 2,
    "wire_in_use": 0.0361,
}  # fmt: skip


class Filled:
    """The workbook by its names."""

    def __init__(self) -> None:
        book = with_few_threads([standards.read(THREAD)], values=VALUES)
        self.places = {one.name: (one.sheet, box(one.ref)) for one in book.entries}
        self.computed = Computed(store.cells_of(book), serial(date(2026, 3, 6)), store.PROBABILITY)

    def get(self, name: str, row: int = 0) -> Value:
        sheet, (left, top, _, _) = self.places[name]
        return self.computed.value(sheet, top + row, left)

    def put(self, **values: Value) -> None:
        for name, value in values.items():
            sheet, (left, top, _, _) = self.places[name]
            self.computed.put(sheet, top, left, value)


@pytest.fixture(scope="module")
def filled() -> Filled:
    return Filled()


def test_the_uncertainty_that_decides(filled: Filled) -> None:
    """.7079 - .7075 = .0004 inside, .7085 - .7079 = .0006 outside; .7485 - .7484 = .0001 of the major diameter."""
    inside = "Pitch dia. undecided: 0.00040 in from its limit. Needs U under 0.00040."
    outside = "Pitch dia. undecided: 0.00060 in from its limit. Needs U under 0.00060."
    on_it = "Pitch dia. undecided: it is on its limit, which no measurement decides: ask the customer."
    crest = "Major dia. undecided: 0.00010 in from its limit. Needs U under 0.00010."
    filled.put(expanded_uncertainty=0.001)
    assert [filled.get("log_reason", row) for row in range(3)] == [inside, outside, on_it]
    assert filled.get("log_reason", 3) == crest
    assert filled.get("log_pitch_diameter_result", 3) == "in"
    for uncertainty, first, second in ((0.00061, "undecided", "undecided"), (0.00059, "undecided", "high"),
                                       (0.00041, "undecided", "high"), (0.00039, "in", "high")):  # fmt: skip
        filled.put(expanded_uncertainty=uncertainty)
        assert [filled.get("log_pitch_diameter_result", row) for row in range(2)] == [first, second]
    assert filled.get("log_reason", 0) == ""
    filled.put(expanded_uncertainty=0.001, log_direct=0.7031)  # .0002 over the smallest
    assert filled.get("log_reason", 0) == inside.replace("0.00040", "0.00020")
    filled.put(log_direct=SIZES["direct"][0])


def test_the_certificate_says_what_decides_the_lot(filled: Filled) -> None:
    """Undecided are .7075, .7085, .7079 (on its limit) and .7074; without the one on its limit .0004 is the least."""
    filled.put(expanded_uncertainty=0.001)
    assert "4 undecided (one is on its limit)" in str(filled.get("certificate_words"))
    sheet, (left, top, _, _) = filled.places["log_direct"]
    filled.computed.put(sheet, top + 2, left, 0.7054)
    assert "3 undecided (decided by a U under 0.00040)" in str(filled.get("certificate_words"))
    filled.computed.put(sheet, top + 2, left, 0.7079)


def test_how_many_readings_decide(filled: Filled) -> None:
    """By hand: micrometer .0001, one reading .0004, nothing else; k 2, so U = 2 root(.0004^2 + .0001^2) = .000825.

    .7074 is .0005 from its limit. Of three readings 2 root(.0004^2 / 3 + .0001^2) = .000503, of four .000447: four it
    is. .7075 is .0004 from it: of five .000410, of six .000383. Where the micrometer alone has .0003, no number does.
    """
    budget = {
        "wires": 0.0,
        "micrometer": 0.0001,
        "temperature": 0.0,
        "repeatability": 0.0004,
        "lead": 0.0,
        "angle": 0.0,
    }
    filled.put(**{f"budget_{name}": size for name, size in budget.items()}, budget_micrometer_kind="standard")
    filled.put(expanded_uncertainty=None, coverage_factor=None, budget_factor=2.0, budget_repeats=10.0)
    assert filled.get("uncertainty_used") == pytest.approx(0.000824621, abs=1e-9)
    told = "Needs the mean of {} readings of that place, or U under"
    assert f"{told.format(4)} 0.00050." in str(filled.get("log_reason", 4))
    assert f"{told.format(6)} 0.00040." in str(filled.get("log_reason", 0))
    for count, word in ((3, "undecided"), (4, "in")):
        filled.put(budget_repeatability=0.0004 / count**0.5)
        assert filled.get("log_pitch_diameter_result", 4) == word
    filled.put(budget_repeatability=0.0004, budget_micrometer=0.0003)
    assert str(filled.get("log_reason", 4)).endswith("Needs U under 0.00050.")
