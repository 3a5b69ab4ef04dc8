"""`check` compares every stored value: each that is changed alone is seen, and an honest file has none."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any, NamedTuple

import pytest
from lxml import etree
from openpyxl.utils import range_boundaries
from read_back_files import part, with_parts
from whole_books import FEW_ROWS
from workbook_cases import demo_file

from sheetfuncs import standards
from workbook_template.demo import job as demo
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back import certificate_data, check, columns, named, recompute, undone
from workbook_template.read_back.findings import Finding, address, both_said
from workbook_template.read_back.job_file import open_job
from workbook_template.read_back.judging import Judged
from workbook_template.read_back.template import Lengths, template
from workbook_template.rules.parts import MAIN

pytestmark = pytest.mark.usefixtures("short_table")

BELIEVED = ("as_of_used", "functions_loaded")
"""Taken from the file: the day that counts as today, where none is typed; whether the functions were there."""


class Planted(NamedTuple):
    """A stored value that is changed alone."""

    what: str
    name: str
    down: int
    across: int
    lie: str


EXAMPLES = (
    Planted("the certificate's sentence", "certificate_words", 0, 0, "All parts conform."),
    Planted("a part's result on the certificate", "certificate_result_1", 2, 0, "n/a"),
    Planted("an offer's price", "offer_prices", 1, 0, "1.0"),
    Planted("a quote's price", "quote_price", 0, 0, "1.0"),
    Planted("a lathe's words", "lathe_dial_rule", 0, 0, "Any line of the dial."),
    Planted("why a row of the log is not in", "log_words", 2, 0, "In."),
    Planted("a result in a row of the log that is not used", "log_pitch_diameter_result", 35, 0, "in"),
    Planted("a limit", "pitch_diameter_max", 0, 0, "0.7089"),
    Planted("an infeed", "plan_compound_reading", 3, 0, "0.0301"),
    Planted("a cost", "estimate_cost", 0, 0, "10.0"),
    Planted("the better lathe", "lathes_words", 0, 0, "Lathe 2."),
    Planted("a capability", "capability_cpk", 0, 0, "2.0"),
    Planted("the uncertainty", "budget_expanded", 0, 0, "0.0001"),
    Planted("a first article", "article_words", 0, 0, "ACCEPTED."),
    Planted("a gauge study", "study_grr_by_anova", 0, 0, "0.00001"),
    Planted("an instrument's state", "instrument_state", 2, 0, "in date"),
    Planted("what is seen", "check_ring_seen", 0, 0, "no"),
    Planted("the cross-check", "functions_words", 0, 0, "All agree."),
)


def forged(content: bytes, lies: dict[tuple[str, str], str | None]) -> bytes:
    """The example with other stored values by sheet and cell; None changes what stands there a little."""
    parts: dict[str, bytes] = {}
    for number, title in enumerate(demo_file().titles, start=1):
        mine = {cell: lie for (sheet, cell), lie in lies.items() if sheet == title}
        if mine:
            name = f"xl/worksheets/sheet{number}.xml"
            root = etree.fromstring(part(content, name))
            cells = {cell.get("r"): cell for cell in root.iter(f"{MAIN}c") if cell.get("r") in mine}
            for place, lie in mine.items():
                _lie(cells[place], lie)
            parts[name] = etree.tostring(root)
    return with_parts(content, parts)


def _lie(cell: etree._Element, lie: str | None) -> None:
    """Another stored value in a cell; its formula stays."""
    assert cell.find(f"{MAIN}f") is not None
    held = cell.find(f"{MAIN}v")
    kind, text = cell.get("t", "n"), held.text or ""
    if lie is None and kind == "n":
        held.text = repr(float(text) * 1.001 + 0.0015)
    elif lie is None and kind == "b":
        held.text = str(1 - int(text))
    elif lie is None:
        cell.set("t", "str")
        held.text = f"{text}!"
    else:
        is_number = lie.replace(".", "", 1).isdigit()
        cell.set("t", "n" if is_number else "str")
        held.text = lie


def differing(path: Path) -> dict[tuple[str, str], Finding]:
    """What a check finds that differs, by sheet and cell."""
    found = check.check(path).findings
    assert {one.kind for one in found} <= {"stored value"}, found[:5]
    return {(one.sheet, one.cell): one for one in found}


def place(name: str, down: int = 0, across: int = 0) -> tuple[str, str]:
    entry = next(one for one in demo_file().entries if one.name == name)
    left, top, *_ = range_boundaries(entry.ref)
    return entry.sheet, address((top + down, left + across))


@pytest.fixture(scope="module")
def found(built_short: Mapping[str, Path], tmp_path_factory: pytest.TempPathFactory) -> dict[tuple[str, str], Finding]:
    """What a check finds in the example with all of the lies at once."""
    path = tmp_path_factory.mktemp("forged") / "job.xlsx"
    lies: dict[tuple[str, str], str | None] = {place(one.name, one.down, one.across): one.lie for one in EXAMPLES}
    path.write_bytes(forged(built_short["demo.xlsx"].read_bytes(), lies))
    return differing(path)


@pytest.mark.parametrize("one", EXAMPLES, ids=lambda one: one.what)
def test_a_stored_value_that_was_changed_alone_is_named(found: dict[tuple[str, str], Finding], one: Planted) -> None:
    mine = found[place(one.name, one.down, one.across)]
    assert mine.name == one.name
    lie = f"{float(one.lie):.12g}" if one.lie[0].isdigit() else f'"{one.lie}"'
    assert mine.words.startswith(f"stored is {lie}; computed again ")


def test_nothing_else_is_named(found: dict[tuple[str, str], Finding]) -> None:
    assert set(found) == {place(one.name, one.down, one.across) for one in EXAMPLES}


def test_every_named_result_is_compared(built_short: Mapping[str, Path], tmp_path: Path) -> None:
    """The first cell of each is changed a little: all are named, and no other cell is."""
    made = template("in", (), Lengths(FEW_ROWS))
    first = {one.name: made.sheets[one.sheet].cells.get((one.box[1], one.box[0])) for one in made.entries}
    computed = {name for name, cell in first.items() if cell is not None and cell.formula}
    wanted: dict[tuple[str, str], str | None] = {
        place(one.name): None
        for one in demo_file().entries
        if one.role in ("result", "working") and one.name in computed.difference(BELIEVED)
    }
    assert len(wanted) > 950
    assert len({sheet for sheet, _ in wanted}) >= 15
    path = tmp_path / "job.xlsx"
    path.write_bytes(forged(built_short["demo.xlsx"].read_bytes(), wanted))
    assert set(differing(path)) == set(wanted)


@pytest.mark.parametrize("name", ["new.xlsx", "four_starts.xlsx"])  # the example: test_files_do_not_mix
def test_a_built_file_has_none(built_short: Mapping[str, Path], name: str) -> None:
    assert differing(built_short[name]) == {}


def test_a_file_with_longer_lists_has_none(tmp_path: Path) -> None:
    """More parts than the log usually has rows, more lines than a page of the quote, and room for more of them."""
    lines = [f"Line {number}" for number in range(1, 41)]
    given = demo.values() | {"quantity": 130, "quote_part": lines}
    book = build(threads=[standards.read(demo.THREAD)], values=given, quote_rows=70)
    path = tmp_path / "job.xlsx"
    path.write_bytes(store.package(book, store.compute(book)))
    found = check.check(path)
    assert found.findings == []
    assert {one.kind for one in found.remarks} == {"instrument"}


def test_files_do_not_mix(built_short: Mapping[str, Path], tmp_path: Path) -> None:
    """What the inputs of one file made is forgotten when the next is checked in the same run."""
    path = tmp_path / "job.xlsx"
    lie: dict[tuple[str, str], Any] = {place("pitch_diameter_max"): "0.7089"}
    path.write_bytes(forged(built_short["demo.xlsx"].read_bytes(), lie))
    assert set(differing(path)) == set(lie)
    assert differing(built_short["demo.xlsx"]) == {}
    assert differing(built_short["taper.xlsx"]) == {}
    assert set(differing(path)) == set(lie)


def test_settings_that_change_what_formulas_give_are_named(built_short: Mapping[str, Path], tmp_path: Path) -> None:
    content = built_short["demo.xlsx"].read_bytes()
    root = etree.fromstring(part(content, "xl/workbook.xml"))
    root.find(f"{MAIN}workbookPr").set("date1904", "1")
    root.find(f"{MAIN}calcPr").set("fullPrecision", "0")
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, {"xl/workbook.xml": etree.tostring(root)}))
    words = [one.words for one in check.check(path).findings if one.kind == "setting"]
    assert ["1904" in words[0], "precision as shown" in words[1], len(words)] == [True, True, 2]


def test_numbers_too_large_to_compute_with_end_in_no_traceback(built_short: dict[str, Path], tmp_path: Path) -> None:
    """Every number that is typed anywhere becomes 1E+308: all commands still answer."""
    content, parts = built_short["demo.xlsx"].read_bytes(), {}
    for number in range(1, len(demo_file().titles) + 1):
        name = f"xl/worksheets/sheet{number}.xml"
        root = etree.fromstring(part(content, name))
        for cell in root.iter(f"{MAIN}c"):
            held = cell.find(f"{MAIN}v")
            if held is not None and cell.find(f"{MAIN}f") is None and cell.get("t", "n") == "n":
                held.text = "1E+308"
        parts[name] = etree.tostring(root)
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, parts))
    assert "stored value" in {one.kind for one in check.check(path).findings}
    assert {one.pitch_diameter_result for one in records_of(path)} <= {
        "check entry",
        "not measured",
        "replaced",
        "check instrument",
    }
    assert certificate_data.certificate(path)["digest"]
    assert undone.undone(path)


def records_of(path: Path) -> list[Judged]:
    """The rows of a file's log judged again."""
    book = open_job(path)
    values = named.read_names(book, (*recompute.INPUTS, *columns.NAMES))
    return recompute.recompute(values, columns.rows_of(values)).judged


def test_of_long_texts_what_differs_is_shown() -> None:
    one, other = both_said("a" * 300 + "in" + "b" * 300, "a" * 300 + "high" + "b" * 300)
    assert "ain" in one
    assert "ahigh" in other
    assert max(len(one), len(other)) < 100
