"""`check --undone`: each thing that is still to do is listed with its sheet and cell, and goes when it is done."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from edited_file import File
from file_faults import renamed
from read_back_files import PITCH_RESULTS, Filled, cell_of, changed_cell, part, sheet_part, with_name, with_parts

from workbook_template import __main__ as command
from workbook_template.read_back import certificate_data, check
from workbook_template.read_back.undone import Undone, undone

pytestmark = pytest.mark.usefixtures("short_table")

TEXT = ' t="inlineStr"'
TEXTS = ("log_reading", "expansion")
"""Cells into which numbers are typed as text."""

NO_VERDICT = ("undecided", "check entry", "check instrument", "not measured")


def edited(filled: Filled, *changes: tuple[str, int, str]) -> bytes:
    """The built file with other inputs: name, row of the column, text."""
    content, parts = filled.built.read_bytes(), {}
    for name, at, text in changes:
        where = sheet_part(filled, cell_of(filled, name, at)[0])
        is_number = re.fullmatch(r"-?[0-9.]+", text) and text.count(".") < 2 and name not in TEXTS
        inner, kind = (f"<v>{text}</v>", "") if is_number else (f'<is><t xml:space="preserve">{text}</t></is>', TEXT)
        parts[where] = changed_cell(filled, parts.get(where) or part(content, where).decode(), name, inner, at, kind)
    return with_parts(content, {name: xml.encode() for name, xml in parts.items()})


@pytest.fixture(scope="module")
def found(filled: Filled) -> list[Undone]:
    return undone(filled.built)


def places(found: list[Undone], kind: str, words: str = "") -> list[str]:
    return [f"{one.sheet}!{one.cell}" for one in found if one.kind == kind and words in one.words]


def place(filled: Filled, name: str, at: int = 0) -> str:
    return "!".join(cell_of(filled, name, at))


@pytest.mark.parametrize(
    ("name", "cells"),
    [("log_serial", ""), ("instrument_due", r"\1"), ("wires_a", r"\1"), ("article_measured", r"\1")],
)
def test_a_name_that_is_gone_or_was_left_one_cell_stops_nothing(
    tmp_path: Path, filled: Filled, name: str, cells: str
) -> None:
    """`check` names the change; here what can be listed is, and the data of the lot are."""
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_name(edited(filled, ("article_measured", 0, "0.7061")), name, cells))
    assert places(undone(path), "part", "pitch diameter")
    assert certificate_data.certificate(path)["data"]["readings"]


def test_parts_without_a_verdict_are_listed_with_their_row(found: list[Undone], filled: Filled) -> None:
    """By the results of the lot, which were worked out by hand."""
    wanted = [place(filled, "log_serial", at) for at, word in enumerate(PITCH_RESULTS) if word in NO_VERDICT]
    assert places(found, "part", "pitch diameter") == wanted
    assert len(wanted) == 5


def test_a_part_that_was_gauged_has_its_verdict(tmp_path: Path, filled: Filled) -> None:
    """Row 14 names a part and nothing else: it is not measured, until GO and NOT GO rings say that it is in."""
    (row,) = (at for at, word in enumerate(PITCH_RESULTS) if word == "not measured")
    path = tmp_path / "job.xlsx"
    gauged = [("log_ring", row, "pass"), ("log_gauge", row, "R-1"), ("log_when", row, "46086")]
    path.write_bytes(edited(filled, *gauged))  # by the GO ring alone
    assert places(undone(path), "part", "not measured") == [place(filled, "log_serial", row)]
    path.write_bytes(edited(filled, *gauged, ("instrument_kind", 3, "GO/NOT GO ring")))
    assert place(filled, "log_serial", row) not in places(undone(path), "part")
    path.write_bytes(edited(filled, *gauged[:1], *gauged[2:]))  # by no gauge that is named
    assert places(undone(path), "part", "not measured") == [place(filled, "log_serial", row)]


def test_parts_of_the_order_that_no_row_has(found: list[Undone], filled: Filled) -> None:
    """15 are ordered; part 12 stands in two rows, the first of which is replaced."""
    assert places(found, "part", "1 of 15 parts are not logged yet") == [place(filled, "quantity")]


def test_instruments_that_are_overdue_or_soon_due(tmp_path: Path, found: list[Undone], filled: Filled) -> None:
    """As of 2026-03-10; M-8 was due on 2026-02-01. M-7 then is due on 2026-03-20 (46101), T-2 marked unfit."""
    assert places(found, "due") == [place(filled, "instrument_id", 1)]
    path = tmp_path / "job.xlsx"
    path.write_bytes(
        edited(filled, ("instrument_due", 0, "46101"), ("instrument_fit", 2, "no"), ("wires_fit", 1, "no"))
    )
    due = [(f"{one.sheet}!{one.cell}", one.words) for one in undone(path) if one.kind == "due"]
    assert due == [
        (place(filled, "instrument_id", 0), "instrument M-7 is due 2026-03-20"),
        (place(filled, "instrument_id", 1), "instrument M-8 was due 2026-02-01: calibrate it before use"),
        (place(filled, "instrument_id", 2), "instrument T-2 is marked unfit: its readings don't count"),
        (place(filled, "wires_id", 1), "wire set W-9 is marked unfit: its readings don't count"),
    ]


def test_an_instrument_calibrated_after_it_was_due(tmp_path: Path, filled: Filled) -> None:
    """2026-03-20 is 46101: one day later there is no day on which it counts."""
    path = tmp_path / "job.xlsx"
    for calibrated, words in (("46101", "is due 2026-03-20"), ("46102", "after it was due 2026-03-20")):
        path.write_bytes(edited(filled, ("instrument_due", 0, "46101"), ("instrument_calibrated", 0, calibrated)))
        assert place(filled, "instrument_id") in places(undone(path), "due", words)


def test_empty_fields_of_the_certificate(tmp_path: Path, found: list[Undone], filled: Filled) -> None:
    names = ("number", "lot", "date", "inspector", "released", "digest")
    assert places(found, "certificate") == [place(filled, f"certificate_{name}") for name in names]
    path = tmp_path / "job.xlsx"
    path.write_bytes(edited(filled, ("certificate_lot", 0, "L-1"), ("certificate_inspector", 0, "inspector")))
    left = [place(filled, f"certificate_{name}") for name in ("number", "date", "released", "digest")]
    assert places(undone(path), "certificate") == left


def test_a_certificate_dated_before_readings_of_the_log(tmp_path: Path, filled: Filled) -> None:
    """The last reading, of part 5, was taken on 2026-07-01, which is 46204."""
    path = tmp_path / "job.xlsx"
    words = "Check its date: readings of the log were taken after it."
    for day, cells in (("46203", [place(filled, "certificate_date")]), ("46204", [])):
        path.write_bytes(edited(filled, ("certificate_date", 0, day)))
        assert places(undone(path), "certificate", words) == cells


def test_a_first_article_that_was_not_begun_is_one_thing(found: list[Undone], filled: Filled) -> None:
    assert places(found, "first article") == [place(filled, "article_result")]


NUMBERS_AS_TEXT = ("0.7600", " 0.7600", "'0.7600", "0,7600", "0.7600\u00a0", "\u22120.76", "7.6e-1")


@pytest.mark.parametrize("typed", NUMBERS_AS_TEXT)
def test_a_number_typed_as_text_is_named_and_never_taken(tmp_path: Path, filled: Filled, typed: str) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(edited(filled, ("log_reading", 6, typed), ("expansion", 0, typed)))
    found = undone(path)
    assert places(found, "text", f'"{typed}"') == [place(filled, "log_reading", 6), place(filled, "expansion")]
    assert "it is not taken as a number; type it again" in next(one.words for one in found if one.kind == "text")
    assert place(filled, "log_serial", 6) in places(found, "part", "an entry can't be right")


def test_a_text_where_a_number_belongs_is_named(found: list[Undone], filled: Filled) -> None:
    """The lot has "0.7600 ?" as a reading."""
    words = '"0.7600 ?" is a text: type the number alone'
    assert places(found, "text", words) == places(found, "text") == [place(filled, "log_reading", 8)]


def test_the_fault_of_a_day_is_no_fault_of_the_instrument(tmp_path: Path, filled: Filled) -> None:
    """Part 1 over wires, its major diameter and its ring; the day is a text, a number that is none, or missing."""
    path, where = tmp_path / "job.xlsx", place(filled, "log_serial")
    for typed, told in (("5 March", '"5 March" is a text'), ("20240305", "20240305 is no day between 1990 and 2099")):
        path.write_bytes(edited(filled, ("log_when", 0, typed)))
        found = undone(path)
        words = f"does not count without its day: {told}: type the day as a date"
        assert places(found, "part", words) == [where] * 3
        assert places(found, "text", told) == [place(filled, "log_when")]
        assert where not in places(found, "part", "measure again")
        assert f"the date of the measurement, {told}" in check.check(path).remarks[0].words
    path.write_bytes(edited(filled, ("log_when", 0, " ")))
    found = undone(path)
    assert places(found, "part", "does not count without its day: type it in its row") == [where] * 3


ENTRIES = (
    ("certificate_date", "5.4.2024", "text", '"5.4.2024" is a text: type the day as a date'),
    ("certificate_date", "20000", "entry", "20000 is no day between 1990 and 2099: type the day as a date"),
    ("article_date", "spring", "text", '"spring" is a text'),
    ("as_of", "5.4.2024", "text", '"5.4.2024" is a text'),
    ("log_once_when", "5 March", "text", '"5 March" is a text'),
    ("certificate_released", " ", "certificate", "who releases it: empty"),
    ("certificate_digest", " ", "certificate", "digest of the data"),
    ("customer", " ", "job", "customer: empty"),
    ("job_number", "", "job", "job number: empty"),
    ("quantity", "2.5", "entry", "2.5 is not taken: type a whole number from 1 to 20000."),
    ("quantity", "-3", "entry", "-3 is not taken"),
    ("quantity", "twelve", "text", '"twelve" is a text: type the number alone'),
    ("expanded_uncertainty", "-1", "entry", "-1 is not taken: type a length, more than zero"),
    ("coverage_factor", "abc", "text", '"abc" is a text: type the number alone'),
    ("crest_uncertainty", "0", "entry", "U, major diameter or bore: 0 is not taken: type a length, more than zero"),
    ("budget_wires", "0,0002", "text", 'Mean diameter of the wires: "0,0002" has a comma for its point'),
    ("budget_wires", "-0.0002", "entry", "Mean diameter of the wires: -0.0002 is not taken: type a length, zero or"),
    ("budget_angle_kind", "square", "entry", 'kind of: half angle error of the part: "square" is not taken: choose'),
    ("budget_repeats", "two", "text", 'Readings for repeatability: "two" is a text: type the number alone'),
    ("thinnest_coating", "none", "text", 'coating, thinnest: "none" is a text: type the number alone'),
    ("thickest_coating", "0", "entry", "coating, thickest: 0 is not taken: type a length, more than zero"),
    ("wires_a", "0,0361", "text", 'wire set W-12, Wire a: "0,0361" has a comma for its point'),
    ("wires_b", "-0.0361", "entry", "wire set W-12, Wire b: -0.0361 is not taken: type a length, more than zero"),
    ("wires_due", "spring", "text", 'wire set W-12, Due: "spring" is a text: type the day as a date'),
    ("instrument_from", "0,5", "text", 'instrument M-7, Range from: "0,5" has a comma for its point'),
    ("instrument_kind", "tape", "entry", 'instrument M-7, Kind: "tape" is not taken: choose a kind from the list'),
    ("decision_rule", "gard", "entry", '"gard" is not taken: choose simple or guard.'),
    ("job_number", " J-2041 ", "blanks", '" J-2041 " has blanks around it: collect takes it for another job'),
    ("wires_id", "W-9", "twice", 'wire set "W-9" is there twice: only the first of them counts'),
)


@pytest.mark.parametrize(("name", "typed", "kind", "words"), ENTRIES)
def test_an_entry_that_the_sheets_do_not_take_is_named(
    tmp_path: Path, filled: Filled, name: str, typed: str, kind: str, words: str
) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(edited(filled, (name, 0, typed)))
    at = 1 if kind == "twice" else 0  # that is the second of the two
    assert place(filled, name, at) in places(undone(path), kind, words)


COATINGS = (
    ("0.0002", "", "thickest_coating", "coating: type its least and its greatest thickness, or empty both"),
    ("", "0.0003", "thinnest_coating", "coating: type its least and its greatest thickness, or empty both"),
    ("0.0003", "0.0002", "thinnest_coating", "coating: the thinnest, 0.0003, is more than the thickest, 0.0002: swap"),
    ("0.0002", "0.003", "thickest_coating", "coating: a coating of 0.0002 to 0.003 in leaves no pitch diameter toler"),
    ("0.0138", "0.014", "thickest_coating", "coating: a coating of 0.014 in fills the groove of 3/4-16 UNF-2A"),
)
"""By hand: the pitch diameter, .0050 wide, moves by four times the thickness, .0112 from thin to thick; and between
flanks of 30 degrees two layers of .01353 are the half pitch of 1/32 along the axis."""


@pytest.mark.parametrize(("thinnest", "thickest", "name", "words"), COATINGS)
def test_a_coating_that_can_not_be_is_named(
    tmp_path: Path, filled: Filled, thinnest: str, thickest: str, name: str, words: str
) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(edited(filled, ("thinnest_coating", 0, thinnest), ("thickest_coating", 0, thickest)))
    assert places(undone(path), "entry") == places(undone(path), "entry", words) == [place(filled, name)]


def test_what_the_sheets_take_is_not_named(tmp_path: Path, filled: Filled, found: list[Undone]) -> None:
    """A coating, no coating, choices in capitals; the lot has a kind with capitals, GO ring."""
    path = tmp_path / "job.xlsx"
    path.write_bytes(
        edited(
            filled,
            ("thinnest_coating", 0, "0"),
            ("thickest_coating", 0, "0.0003"),
            ("instrument_fit", 0, "YES"),
            ("budget_wires_kind", 0, "Expanded (K 2)"),
        )
    )
    assert places(undone(path), "entry") == places(found, "entry") == []


def test_without_a_usable_u_no_part_is_sent_to_be_measured_again(tmp_path: Path, filled: Filled) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(edited(filled, ("decision_rule", 0, "guard"), ("expanded_uncertainty", 0, "-1")))
    found = undone(path)
    assert places(found, "part", "take another reading") == []
    told = [one.words for one in found if "the guard rule has no U" in one.words]
    assert [words.split(",")[0] for words in told] == ["pitch diameter: 9 undecided", "crest diameter: 11 undecided"]


def test_an_empty_workbook_lacks_everything(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "empty.xlsx"
    assert command.main(["new", str(path)]) == 0
    found = undone(path)
    words = "no thread is chosen: system, size and class"
    job = ["job number: empty", "customer: empty", "quantity ordered: empty"]
    assert [one.words for one in found if one.kind == "job"] == [words, *job]
    assert [one.words for one in found if one.kind == "part"] == ["no part is logged yet"]
    assert [one.words for one in found if one.kind == "shop"] == [
        "name of the shop: empty",
        "address of the shop: empty",
    ]
    capsys.readouterr()


def test_the_command_lists_them_and_how_it_ends(
    filled: Filled, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert command.main(["check", "--undone", str(filled.built)]) == 1
    *lines, last = capsys.readouterr().out.splitlines()
    assert last == f"{filled.built}: {len(lines)} things to do"
    form = re.compile(
        rf"{re.escape(str(filled.built))}: (part|text|due|shop|certificate|first article): [\w ]+![A-Z]+\d+: .+"
    )
    assert all(form.fullmatch(line) for line in lines)
    bad = tmp_path / "bad.xlsx"
    bad.write_bytes(b"nothing")
    assert command.main(["check", "--undone", str(bad)]) == 2
    assert capsys.readouterr().err.startswith(f"{bad} is no workbook")


def test_check_remarks_on_numbers_that_are_missed_and_names_a_sheet_as_it_is_called(
    tmp_path: Path, filled: Filled
) -> None:
    """A job number with blanks, a wire set that is there twice; the log is called Protokoll."""
    path = tmp_path / "job.xlsx"
    content = edited(filled, ("job_number", 0, " J-2041 "), ("wires_id", 0, "w-9"))
    file = File(filled.sample, content)
    renamed("log_serial", "Protokoll")(file)
    path.write_bytes(file.content())
    remarks = [(one.kind, one.sheet, one.cell) for one in check.check(path).remarks]
    for kind, name, at in (("blanks", "job_number", 0), ("twice", "wires_id", 1)):
        assert (kind, *cell_of(filled, name, at)) in remarks
    assert ("instrument", "Protokoll", cell_of(filled, "log_serial", 5)[1]) in remarks
    assert ("renamed", "Log", "") in remarks
