"""The sheet Certificate: what it counts and lists is what stands on the log, by a count of its own."""

from __future__ import annotations

import statistics
from collections import Counter
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from openpyxl.utils.datetime import to_excel
from whole_books import demo_pages, with_few_threads
from workbook_cases import demo_file, first_cells, plain_file

from sheetfuncs import standards
from workbook_template.file import store
from workbook_template.file.build import chosen
from workbook_template.office import Document, Error, Office
from workbook_template.paper.blocks import Book
from workbook_template.sheets import certificate, certificate_lists


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The filled example, open."""
    path = tmp_path_factory.mktemp("certificate") / "demo.xlsx"
    path.write_bytes(demo_file().content)
    with office.open(path) as document:
        yield document


def column(sheet: Document, name: str) -> list[Any]:
    """The values of a named column."""
    return [row[0] for row in sheet[name]]


def test_counts_and_figures_are_those_of_the_log(sheet: Document) -> None:
    words, sizes = column(sheet, "log_pitch_diameter_result"), column(sheet, "log_pitch_diameter")
    counted = Counter(words)
    for word in certificate.COUNTED:
        assert sheet[f"certificate_{word.replace(' ', '_')}"] == counted.pop(word, 0), word
    assert set(counted) <= {""}, "a word of the log that the certificate does not know"
    judged = [size for size, word in zip(sizes, words) if word in ("in", "undecided", "high", "low")]
    assert sheet["certificate_n"] == len(judged) > 10
    assert sheet["certificate_min"] == min(judged)
    assert sheet["certificate_max"] == max(judged)
    assert sheet["certificate_mean"] == pytest.approx(statistics.fmean(judged))


def test_each_part_is_listed_once_in_the_order_logged(sheet: Document) -> None:
    words, serials, sizes = (column(sheet, name) for name in ("log_worst", "log_serial", "log_pitch_diameter"))
    begun = [(str(s or ""), z, w) for s, z, w in zip(serials, sizes, words) if w]
    listed = []
    for group in range(1, 3):
        listed += zip(
            *(column(sheet, f"certificate_{what}_{group}") for what in ("serial", "pitch_diameter", "result"))
        )
    assert [row for row in listed if row[2]] == begun
    assert sheet["certificate_rest"].startswith("All rows")


def test_instruments_and_wires_with_their_certificates(sheet: Document) -> None:
    used = {one for name in ("log_instrument_used", "log_gauge") for one in column(sheet, name) if one}
    known = dict(zip(column(sheet, "instrument_id"), column(sheet, "instrument_certificate")))
    listed = dict(zip(column(sheet, "certificate_instrument_id"), column(sheet, "certificate_instrument_certificate")))
    listed.pop("", None)
    assert listed == {one: known[one] or "–" for one in known if one in used}
    sets = {one for one in column(sheet, "log_wires") if one}
    wires = [one for one in column(sheet, "certificate_wires_id") if one]
    assert sets & set(column(sheet, "wires_id")) <= set(wires) | {sheet["wire_set"]}
    known.pop(None, None)
    named_rows = [
        n for n, w in zip(column(sheet, "log_instrument_used"), column(sheet, "log_pitch_diameter_result")) if w
    ]
    assert sheet["certificate_unknown"] == sum(one not in known for one in named_rows)


def test_words_never_flatter(sheet: Document) -> None:
    assert sheet["certificate_words"].startswith("NOT ALL IN. Pitch diameter: ")
    for word in set(column(sheet, "log_pitch_diameter_result")) - {"", "in", "replaced"}:
        assert f" {word}" in sheet["certificate_words"]
    assert sheet["certificate_rule"] == sheet["decision_words"] != ""
    assert "No digest yet" in sheet["certificate_versions"]
    sheet.set({"certificate_digest": "0f" * 32})
    assert "No digest" not in sheet["certificate_versions"]
    sheet.set({"certificate_digest": None})


def test_a_good_lot_and_one_longer_than_the_page(office: Office, tmp_path: Path) -> None:
    path = tmp_path / "new.xlsx"
    book = with_few_threads([standards.read("3/4-16 UNF-2A")], rows=0)
    path.write_bytes(store.package(book))
    with office.open(path) as document:
        assert not [n for n in names(book) if isinstance(document[n], Error)]
        assert document["certificate_words"] == "No part has been logged yet: this certifies nothing."
        assert [document[f"certificate_{what}"] for what in ("min", "max", "mean", "customer")] == ["–"] * 4
        document.set({"thread_system": "Unified", "thread_size": None, "thread_class": None})
        assert document["certificate_words"].startswith("Choose the thread")
        assert not [n for n in names(book) if isinstance(document[n], Error)]
        parts, columns_day = 75, to_excel(date(2024, 3, 6))
        document.set(chosen(standards.read("3/4-16 UNF-2A")) | {"quantity": parts, "unit": "in"})
        columns = {
            "log_serial": [f"S{number}" for number in range(parts)],
            "log_direct": [0.7054] * parts,
            "log_crest": [0.744] * parts,
            "log_instrument": ["M-1"] * parts,
            "log_when": [to_excel(date(2024, 3, 5))] * parts,
            "instrument_id": ["M-1"],
            "instrument_due": [to_excel(date(2024, 9, 30))],
        }
        document.set({first_cells(name, len(column)): [[one] for one in column] for name, column in columns.items()})
        assert document["certificate_words"] == "Pitch diameter: all 75 parts logged are in. Major diameter: all in."
        assert document["certificate_rest"] == "15 more rows are not printed: widen the print range."  # built for none
        of_paper = {"shop_name": "A shop", "customer": "C", "certificate_number": "1", "certificate_date": columns_day}
        document.set(of_paper)
        said = "Widen the print range: it ends with row 65 of the log, and parts stand behind it."
        assert document["certificate_step"] == said
        document.set({"wire_in_use": 0.0361})
        assert "Wires in use" not in document["certificate_instrument_words"]  # no reading was taken over them
        document.set({first_cells("log_reading", 1): 0.7600, first_cells("log_direct", 1): None})
        assert "Wires in use: 0.03610 in." in document["certificate_instrument_words"]
        document.set({first_cells("log_reading", 1): None, first_cells("log_direct", 1): 0.7054})
        document.set({"thinnest_coating": 5, "thickest_coating": 8})
        refused = "Coating: this thickness leaves no tolerance of the major diameter; agree another."
        assert document["certificate_step"] == f"Sheet Job: {refused}"
        assert document["certificate_words"] == f"{refused} Until then this certifies nothing."
        assert document["log_step"] == refused
        document.set({"thinnest_coating": 0.0003, "thickest_coating": 0.0002})
        assert document["certificate_words"].endswith("swap them. Until then this certifies nothing.")
        document.set(dict.fromkeys(("thinnest_coating", "thickest_coating")))
        document.set({"quantity": 80})
        assert document["certificate_words"].endswith(" 5 of 80 ordered are still to be found in.")


def names(book: Book) -> list[str]:
    """Single cells of the page."""
    return [e.name for e in book.entries if e.sheet == certificate.SHEET and ":" not in e.ref]


def test_no_entry_no_tint_and_no_command_stands_on_the_paper() -> None:
    """What is printed is locked, without fill, and never speaks of commands; what is typed stands beside it."""
    book = demo_pages()
    ws = book.workbook[certificate.SHEET]
    typed = {e.ref for e in book.entries if e.role == "input" and e.sheet == certificate.SHEET}
    area = ws.print_area.split("!")[1].replace("$", "")
    printed = [cell for row in ws[area] for cell in row]
    assert not typed & {cell.coordinate for cell in printed}
    assert all(cell.protection.locked for cell in printed)
    assert all(cell.fill.fill_type is None for cell in printed)
    assert not [cell.coordinate for cell in printed if "python" in str(cell.value)]
    names = {e.name for e in book.entries if e.ref in typed and e.sheet == certificate.SHEET}
    assert {"shop_name", "shop_address", "shop_contact", "customer_address", "certificate_digest"} <= names


def test_the_letter_says_what_was_typed_once(sheet: Document) -> None:
    printed = [str(value) for row in sheet[f"{certificate.SHEET}!A2:L60"] for value in row if value]
    for name in ("shop_name", "shop_address", "shop_contact", "customer_address", "certificate_order", "customer"):
        assert sheet[name] in printed, name
    assert "2024-03-06" in printed
    assert sheet["material_certificate"] == sheet["certificate_of_material"] in printed
    assert sheet["certificate_step"].startswith("Next: who releases it")
    sheet.set({"shop_name": None})
    assert sheet["certificate_step"].startswith("Next: type the shop's name")
    sheet.set({"shop_name": "A shop", "certificate_released": "B"})
    assert sheet["certificate_step"].startswith("Next: the digest")
    last = int(max(day for (day,) in sheet["log_when_used"] if isinstance(day, float)))
    for day, asked in ((last - 1, "Check its date: readings"), (last, "Next: the digest")):
        sheet.set({"certificate_date": day})
        assert sheet["certificate_step"].startswith(asked), day
    sheet.set({"certificate_released": None})


def test_as_many_lists_are_printed_as_the_order_needs() -> None:
    """Sixty parts on the first page of parts, ninety-two on each page more; all rows of the log have their place."""
    for quantity, pages in ((0, 2), (60, 2), (61, 3), (152, 3), (153, 4), (10**6, 24)):
        assert certificate.printed(quantity, 2000) == pages
    assert certificate_lists.groups(25) == ((certificate_lists.Group(1, 1, 25),),)
    listed = [row for page in certificate_lists.groups(2000) for one in page for row in range(one.first, one.last + 1)]
    assert listed == list(range(1, 2001))
    for quantity, last in ((60, 2), (100, 4)):
        book = with_few_threads([standards.read("3/4-16 UNF-2A")], values={"quantity": quantity}, rows=0)
        lists = (e for e in book.entries if e.name.startswith("certificate_result_"))
        ends = [int(one.ref.split(":")[1].strip("ABCDEFGHIJKL")) for one in lists]
        printed = int(book.workbook[certificate.SHEET].print_area.split("$")[-1])
        assert [end < printed for end in ends] == [True] * last + [False] * (4 - last)


def test_a_failed_gauge_or_crest_is_no_good_lot(office: Office, tmp_path: Path) -> None:
    """Readings all in, but a ring that will not go, or one crest too small: the words begin with it."""
    path = tmp_path / "new.xlsx"
    path.write_bytes(plain_file().content)
    due, when = to_excel(date(2024, 9, 30)), to_excel(date(2024, 3, 5))
    columns = {
        "log_serial": ["1", "2", "3"],
        "log_direct": [0.7054] * 3,
        "log_crest": [0.744] * 3,
        "log_ring": ["pass", "go fails", "not go enters"],
        "log_gauge": ["G-1"] * 3,
        "log_instrument": ["M-1"] * 3,
        "log_when": [when] * 3,
        "instrument_id": ["M-1", "G-1", "M-1"],
        "instrument_kind": ["micrometer", "GO/NOT GO ring", None],
        "instrument_thread": [None, "3/4-16 UNF-2A", None],
        "instrument_due": [due] * 3,
    }
    with office.open(path) as document:
        document.set(chosen(standards.read("3/4-16 UNF-2A")) | {"unit": "in"})
        document.set({first_cells(name, 3): [[one] for one in column] for name, column in columns.items()})
        said = document["certificate_words"]
        assert said == (
            "NOT ALL IN. Pitch diameter: all 3 parts logged are in. Major diameter: all in. Gauges: 1 in, 2 not."
        )
        assert [one for one in column(document, "certificate_instrument_id") if one] == ["M-1", "G-1"]
        document.set({first_cells("log_instrument", 3): [["M-1"], ["M-99"], ["M-1"]]})
        assert "name no listed instrument: 1" in document["certificate_instrument_words"]
        document.set(
            {first_cells("log_ring", 3): [[None]] * 3, first_cells("log_crest", 3): [[0.744], [0.730], [0.744]]}
        )
        document.set({first_cells("log_instrument", 3): [["M-1"]] * 3})
        assert document["certificate_words"].startswith("NOT ALL IN. Pitch diameter: all 3")
        assert "Major diameter: 2 in, 1 not." in document["certificate_words"]
