"""The sheet Lathe, and what the price makes of it, in the office against the functions."""

from __future__ import annotations

from typing import Any

import lathe_by_functions
import price_by_functions
import pytest
from workbook_cases import plain_file

from sheetfuncs import standards
from workbook_template.demo import estimate as demo_estimate
from workbook_template.demo import lathe as demo_lathe
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.read_back import recompute, thread_figures

INPUTS = (*thread_figures.INPUTS, *price_by_functions.INPUTS)
RESULTS = (
    *(f"{name}{mark}" for name in ("lathe_lead_error_ppm", "rpm_listed") for mark in ("", "_1", "_2")),
    *("lathe_half_nuts", *(f"estimate_{line}" for line in price_by_functions.LINES)),
)


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open, with the demo's lathes and rates typed in."""
    given = demo_lathe.values("3/4-16 UNF-2A") | demo_estimate.values()
    names = {entry.name: entry for entry in plain_file().entries if entry.role == "input"}
    cells = {
        name: [[one] for one in value] if isinstance(value, list) else value
        for name, value in given.items()
        if name.startswith(("estimate_", "rack_")) or name in lathe_by_functions.INPUTS
    }
    empty_workbook.set({name: padded(names[name].ref, value) for name, value in cells.items()})
    empty_workbook.set({"passes": 10, "thread_length": 1.25})
    return empty_workbook


def padded(ref: str, value: Any) -> Any:
    """A column filled up with empty cells."""
    if not isinstance(value, list):
        return value
    first, last = ("".join(filter(str.isdigit, part)) for part in ref.split(":"))
    return [*value, *[[None]] * (int(last) - int(first) + 1 - len(value))]


def typed(sheet: Document) -> dict[str, Any]:
    """The inputs as a file's reader would give them: empty cells None, columns as lists."""
    found = {}
    for name, value in zip(INPUTS, sheet.get(list(INPUTS))):
        column = isinstance(value, list)
        cells = [None if one == "" else one for one in ([row[0] for row in value] if column else [value])]
        found[name] = cells if column else cells[0]
    return found


IN_MM = {
    "estimate_unit": "mm", "estimate_bar_line": None, "estimate_bar_shape": "round", "estimate_bar_size": 20,
    "estimate_bar_length": 3600, "estimate_bar_price": 30, "estimate_part_length": 60,
}  # fmt: skip

CASES: tuple[tuple[str, dict[str, Any]], ...] = (
    ("3/4-16 UNF-2A", {}),
    ("M5x0.8-6g", {}),  # +125 ppm by the demo's own chart: half-nuts shut
    ("M5x0.8-6g", {"lathe_in_use": 2}),
    ("M16x2-6g", {"unit": "mm", "thread_length": 40, "usable_relief": 3, **IN_MM}),
    ("1/2-13 UNC-2A", {"use_a_1": 20, "use_b_1": 44, "use_c_1": 50, "use_d_1": 37}),
    ("1/2-13 UNC-2A", {"use_a_1": 40, "use_b_1": 65}),
    ("1/2-13 UNC-2A", {"use_a_1": 20, "use_b_1": 40}),  # another lead
    ("1/2-13 UNC-2A", {"use_a_1": 20}),  # half a pair
    ("1/2-13 UNC-2A", {"use_a_1": 20, "use_b_1": 40, "use_levers_1": "C7"}),
    ("3/4-16 UNF-2A", {"starts": 3}),
    ("1-11 1/2 NPT", {"thread_class": "external", "estimate_part_size": 1.5}),
    ("3/4-16 UNF-2A", {"estimate_bar_price": 100}),  # beside a line of the list
    ("3/4-16 UNF-2A", {"estimate_bar_line": 9}),
    ("3/4-16 UNF-2A", {"usable_relief": None}),
    ("3/4-16 UNF-2A", {"reaction_spread": "quick"}),
    ("3/4-16 UNF-2A", {"reaction_spread": 0}),
    ("3/4-16 UNF-2A", {"usable_relief": None, "reaction_spread": None, "surface_speed_unit": "m/min"}),
    ("3/4-16 UNF-2A", {"surface_speed_unit": None}),
    ("3/4-16 UNF-2A", {"surface_speed": 1}),
    ("7/8-9 UNC-2A", {"dial_lines_1": None}),
    ("M20x2.5-6g", {"estimate_power_return_1": "no", "estimate_rpm_1": 100}),  # by hand it can not be
    ("M20x2.5-6g", {"estimate_power_return_1": "yes", "estimate_rpm_1": 100}),
    ("3/4-16 UNF-2A", {"leadscrew_1": None, "estimate_rpm_1": 100}),
)


@pytest.mark.parametrize(("callout", "changes"), CASES)
def test_the_functions_give_what_the_sheet_shows(sheet: Document, callout: str, changes: dict[str, Any]) -> None:
    before = dict(zip(changes, sheet.get(list(changes))))
    sheet.set({**chosen(standards.read(callout)), "estimate_part_size": None, **changes})
    inputs = typed(sheet)
    known = thread_figures.figures(inputs)
    assert known is not None
    want = lathe_by_functions.lathe_results(inputs, known) | price_by_functions.price_results(inputs, known)
    for name, value in zip(RESULTS, sheet.get(list(RESULTS))):
        cells = value[0] if isinstance(value, list) else [value]
        wanted = want[name] if isinstance(want[name], list) else [want[name]]
        for cell, expected in zip(cells, wanted):
            shown = bool(cell) if isinstance(expected, bool) and cell != "" else cell
            assert recompute.alike(shown, expected), (name, cell, expected)
    sheet.set(
        {"unit": "in", "estimate_unit": "in", "lathe_in_use": 1}
        | {name: None if value == "" else value for name, value in before.items()}
    )


def test_no_for_back_under_power_is_refused_where_the_half_nuts_stay_shut(sheet: Document) -> None:
    sheet.set({**chosen(standards.read("M20x2.5-6g")), "estimate_part_size": None, "estimate_power_return_1": "no"})
    assert sheet["estimate_next"] == (
        "Back under power is no, but on the sheet Lathe the half-nuts stay shut on lathe 1: empty it."
    )
    assert sheet["estimate_price"] == [[""] * 5]
    sheet.set({"estimate_power_return_1": None})
    under_power = sheet["estimate_thread_minutes_1"]
    assert "every pass comes back under power. Mind the screwed-on chuck in reverse." in sheet["estimate_next"]
    sheet.set(chosen(standards.read("3/4-16 UNF-2A")))
    assert sheet["estimate_power_used_1"] == "no"
    assert under_power > 0


def test_the_return_follows_the_gears_in_use(sheet: Document) -> None:
    """3/4-16: exact levers open the half-nuts, 50/101 do not; the carriage then goes the way twice."""
    sheet.set({**chosen(standards.read("3/4-16 UNF-2A")), "estimate_part_size": None})
    assert sheet["estimate_power_used_1"] == "no"
    rpm, seconds, by_hand = sheet.get(["estimate_rpm_used_1", "estimate_return_seconds_1", "estimate_thread_minutes_1"])
    one_way = (1.25 + 0.2 + 0.12) * 16 / rpm
    assert by_hand == pytest.approx(10 * (one_way + seconds / 60))
    train = {"use_a_1": 50, "use_b_1": 101}
    sheet.set(train)
    assert sheet["lathe_half_nuts_1"] in (False, 0)
    assert sheet["estimate_power_used_1"] == "yes"
    assert sheet["estimate_thread_minutes_1"] == pytest.approx(10 * (2 * one_way + seconds / 60))
    sheet.set(dict.fromkeys(train))
