"""A second engine, IronCalc, computes the filled workbook as LibreOffice does, under several sets of inputs."""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from pathlib import Path
from typing import Any, NamedTuple

import ironcalc
import pytest
from lxml import etree
from workbook_cases import demo_book

from workbook_template import store
from workbook_template.office import Document, Error, Office
from workbook_template.rules.parts import MAIN, cell_place, open_package, parse, read_book, relations

RELATIVE = 1e-9
FEWEST_CELLS, FEWEST_NUMBERS, FEWEST_TEXTS = 6000, 150, 40
"""What has to be compared under the inputs of the example, so that nothing can be lost unseen."""

NOT_COMPUTED = {
    "a range between two INDEX": re.compile(r"\):INDEX\("),
    "a function of the add-in": re.compile(r"\bTHREAD_[A-Z_]+\("),
}
"""What IronCalc 0.9 does not know. Such a cell gets LibreOffice's value there, so that all behind it is compared."""

LOOKED_UP, MOST_LOOKED_UP = re.compile(r"\bINDEX\("), 6
"""Where INDEX finds a blank cell, LibreOffice (and Excel) show 0 and IronCalc stays blank."""

EMPTY_NUMBER = re.compile(rb'(<c r="[A-Z]+\d+"(?: s="\d+")?) t="n"(/>|></c>|><v ?/></c>|><v></v></c>)')
"""A formatted blank cell as openpyxl writes it; IronCalc takes it for a 0."""

CHANGES: dict[str, dict[str, Any]] = {
    "as filled in": {},
    "aim at the maximum, another wire": {"aim_limit": "max", "wire_in_use": 0.04},
    "flat tip, no blank measured": {"tip_kind": "flat", "tip_size": 0.006, "blank_measured": None},
    "left hand, two starts": {"hand": "left", "starts": 2},
    "millimetres": {"unit": "mm", "wire_in_use": 0.92, "tip_size": 0.2, "blank_measured": 18.9, "dial_division": 0.02},
    "internal": {"thread_class": "2B", "blank_measured": 0.69, "tip_size": 0.003},
    "metric": {"unit": "mm", "thread_system": "ISO metric", "thread_size": "M20x2.5", "thread_class": "6g",
               "wire_in_use": 1.45, "tip_size": 0.2, "blank_measured": None, "dial_division": 0.02},
    "bad inputs": {"thread_class": "9Z", "passes": 0.5, "wire_in_use": 9},
}  # fmt: skip


SHORT = {"Log": 300, "Quote": 60}
"""Rows that IronCalc gets of the long sheets; those below are alike, blank, and slow to load there."""


class Cell(NamedTuple):
    """One formula cell: its sheet's number from 0, row and column from 1."""

    sheet: int
    row: int
    column: int


class Case(NamedTuple):
    """The workbook in both engines."""

    titles: list[str]
    formulas: dict[Cell, str]
    document: Document
    inputs: dict[str, tuple[int, int, int]]
    model: ironcalc.Model


@pytest.fixture(scope="module")
def case(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Case:
    folder = tmp_path_factory.mktemp("engine")
    book, content = demo_book()
    path = folder / "demo.xlsx"
    titles = book.workbook.sheetnames
    path.write_bytes(store.finish(content, titles, None))
    inputs = {
        entry.name: (titles.index(entry.sheet), *reversed(cell_place(entry.ref) or (0, 0)))
        for entry in book.entries
        if entry.role == "input"
    }
    copy = folder / "short.xlsx"
    shorten(path, copy, titles)
    model = ironcalc.load_from_xlsx(str(copy), "en", "UTC")
    return Case(titles, formula_cells(copy), office.open(path), inputs, model)


def formula_cells(path: Path) -> dict[Cell, str]:
    """Every formula of a workbook."""
    trees, _ = parse(open_package(str(path))[0])
    book = read_book(trees, relations(trees))
    assert book is not None
    found = {}
    for number, sheet in enumerate(book.sheets):
        for formula in sheet.root.iter(f"{MAIN}f"):
            column, row = cell_place(formula.getparent().get("r")) or (0, 0)
            found[Cell(number, row, column)] = formula.text or ""
    return found


def shorten(path: Path, copy: Path, titles: list[str]) -> None:
    """A copy for IronCalc: blank cells blank, long sheets short."""
    last = {f"xl/worksheets/sheet{titles.index(title) + 1}.xml": rows for title, rows in SHORT.items()}
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(copy, "w") as new:
        for name in old.namelist():
            data = EMPTY_NUMBER.sub(rb"\1/>", old.read(name))
            if name in last:
                root = etree.fromstring(data)
                for row in root.findall(f"{MAIN}sheetData/{MAIN}row"):
                    if int(row.get("r")) > last[name]:
                        row.getparent().remove(row)
                data = etree.tostring(root)
            new.writestr(name, data)


def office_values(case: Case) -> dict[Cell, Any]:
    """LibreOffice's value of each formula cell; blank as empty text, an error as its text."""
    corners = {}
    for sheet, row, column in case.formulas:
        top, left, bottom, right = corners.get(sheet, (row, column, row, column))
        corners[sheet] = min(top, row), min(left, column), max(bottom, row), max(right, column)
    keys = [(case.titles[sheet], f"{letters(c[1])}{c[0]}:{letters(c[3])}{c[2]}") for sheet, c in corners.items()]
    blocks = dict(zip(corners, case.document.get(keys)))
    found = {}
    for cell in case.formulas:
        top, left, *_ = corners[cell.sheet]
        block = blocks[cell.sheet] if isinstance(blocks[cell.sheet], list) else [[blocks[cell.sheet]]]
        value = block[cell.row - top][cell.column - left]
        found[cell] = value.text if isinstance(value, Error) else "" if value is None else value
    return found


def letters(column: int) -> str:
    return ironcalc.column_name_from_number(column)


def put(model: ironcalc.Model, place: tuple[int, int, int], value: Any) -> None:
    """A value in a cell of IronCalc, text as text."""
    if value is None:
        model.clear_cell_contents(*place)
    elif isinstance(value, bool):
        model.update_cell_with_bool(*place, value)
    elif isinstance(value, str):
        model.update_cell_with_text(*place, value)
    else:
        model.update_cell_with_number(*place, value)


def reason(formula: str) -> str | None:
    """Why IronCalc can't compute a formula, None where it can."""
    return next((why for why, pattern in NOT_COMPUTED.items() if pattern.search(formula)), None)


def differences(case: Case, changes: dict[str, Any]) -> tuple[list[str], Counter[str]]:
    """Set the inputs in both engines and compare every formula cell; and how many of each kind there were."""
    before = dict(zip(changes, case.document.get(list(changes))))
    try:
        case.document.set(changes)
        set_inputs(case, changes)
        found, counts = [], Counter()
        expected = office_values(case)
        for cell, formula in case.formulas.items():
            if reason(formula):
                put(case.model, cell, expected[cell])
        case.model.evaluate()
        for cell, value in expected.items():
            if why := reason(case.formulas[cell]):
                counts[f"not computed: {why}"] += 1
                continue
            other = case.model.get_cell_value(*cell)
            if value == 0 and other in (None, "") and LOOKED_UP.search(case.formulas[cell]):
                counts["blank looked up"] += 1
                continue
            counts[type(value).__name__ if value != "" else "blank"] += 1
            if not same(value, "" if other is None else other):
                place = f"{case.titles[cell.sheet]}!{letters(cell.column)}{cell.row}"
                found.append(f"{place}: {value!r} in LibreOffice, {other!r} in IronCalc: {case.formulas[cell]}")
    finally:
        case.document.set(before)
        set_inputs(case, before)
    return found, counts


def set_inputs(case: Case, values: dict[str, Any]) -> None:
    for name, value in values.items():
        put(case.model, case.inputs[name], value)


def same(one: Any, other: Any) -> bool:
    """Equal numbers to a part in 1e9, equal everything else."""
    if isinstance(one, (int, float)) and isinstance(other, (int, float)):
        return abs(one - other) <= RELATIVE * max(abs(one), abs(other), 1e-6)
    return type(one) is type(other) and one == other


@pytest.mark.parametrize("name", CHANGES)
def test_the_second_engine_agrees(case: Case, name: str) -> None:
    found, counts = differences(case, CHANGES[name])
    assert found == []
    compared = sum(counts[kind] for kind in ("float", "str", "blank", "bool"))
    assert compared >= FEWEST_CELLS
    assert counts["blank looked up"] <= MOST_LOOKED_UP, counts
    if not CHANGES[name]:
        assert counts["float"] >= FEWEST_NUMBERS, counts
        assert counts["str"] >= FEWEST_TEXTS, counts


def test_the_changes_change_what_is_computed(case: Case) -> None:
    """The comparison above would mean little if each set of inputs gave the same numbers."""
    results = []
    for changes in CHANGES.values():
        before = dict(zip(changes, case.document.get(list(changes))))
        case.document.set(changes)
        results.append(tuple(case.document.get(["callout", "pitch_max", "radial_infeed", "micrometer_preset"])))
        case.document.set(before)
    assert len(set(results)) == len(CHANGES), results


def test_a_wrong_value_would_be_seen(case: Case) -> None:
    """An input that differs between the engines by a part in a million is found."""
    case.document.set({"wire_in_use": 0.0361 * (1 + 1e-6)})
    expected = office_values(case)
    case.document.set({"wire_in_use": 0.0361})
    at_home = office_values(case)
    assert sum(not same(value, at_home[cell]) for cell, value in expected.items()) >= 3


def test_what_it_cant_compute_is_still_so(case: Case) -> None:
    """A reason that no cell needs any more, or that IronCalc has learned, has to go."""
    used = {why for formula in case.formulas.values() if (why := reason(formula))}
    model = ironcalc.create("reasons", "en", "UTC")
    model.set_user_input(0, 1, 1, "7")
    tries = {
        "a range between two INDEX": "=SUM(INDEX(A1:A2,1):INDEX(A1:A2,2))",
        "a function of the add-in": '=THREAD_PITCH("M20")',
    }
    for row, why in enumerate(sorted(used), start=5):
        model.set_user_input(0, row, 1, tries[why])
        model.evaluate()
        assert model.get_cell_value(0, row, 1) != 7.0, why
    assert len(used) <= len(NOT_COMPUTED)
