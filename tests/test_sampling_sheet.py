"""Sampling against the published tables, and its switching rules by brute force."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest
from records_cases import at, column, records_book

from workbook_template.office import Document, Office
from workbook_template.sheets import sampling as sampling_sheet


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    with records_book(office, tmp_path_factory.mktemp("records") / "new.xlsx") as document:
        yield document


# Lot, AQL, level, severity: letter, n, Ac (MIL-STD-105E, Tables I, II-A and II-B; ISO 2859-1:1999, Tables 1, 2-A, 2-B).
PLANS = (
    (1000, 1.0, "II", "normal", "J", 80, 2),
    (1000, 1.0, "II", "tightened", "J", 80, 1),
    (250, 1.0, "II", "normal", "G", 50, 1),  # the arrow leads down to H
    (500, 4.0, "II", "normal", "H", 50, 5),
    (500, 4.0, "II", "tightened", "H", 50, 3),
    (3200, 0.65, "II", "normal", "K", 125, 2),
    (10000, 2.5, "I", "normal", "J", 80, 5),
    (90, 2.5, "II", "normal", "E", 20, 1),  # down to F
    (20, 0.65, "II", "normal", "C", 20, 0),  # down to F: the sample is the lot
    (13, 1.0, "II", "normal", "B", 13, 0),  # down to E
    (12, 1.0, "II", "normal", "B", 12, 0),  # down to E: 13, more than the lot
)


@pytest.mark.parametrize(("lot", "aql", "level", "severity", "letter", "n", "accept"), PLANS)
def test_sample_is_that_of_the_published_tables(
    sheet: Document, lot: int, aql: float, level: str, severity: str, letter: str, n: int, accept: int
) -> None:
    sheet.set({"sample_lot": lot, "sample_aql": aql, "sample_level": level, "sample_severity": severity})
    found = sheet.get(["sample_code_letter", "sample_size", "sample_accept_number", "sample_reject_number"])
    assert found == [letter, n, accept, accept + 1]
    assert sheet["sample_words"].startswith("INSPECT ALL" if n >= lot else f"Inspect {n} of {lot}")


def test_what_to_mind_about_a_plan_is_told(sheet: Document) -> None:
    """G at 1.0 has an arrow down to H, H at 4.0 has a plan of its own (MIL-STD-105E, Table II-A)."""
    results = {at("sample_history", number): None for number in range(sampling_sheet.LOTS)}
    sheet.set(results | {"sample_lot": 250, "sample_aql": 1.0, "sample_level": "II", "sample_severity": "normal"})
    said = sheet["sample_mind"]
    assert "no plan for letter G" in said
    assert "leads to letter H" in said
    assert "For a single lot" in said
    assert "A small lot" in said  # 50 of 250
    sheet.set({"sample_lot": 501, "sample_aql": 4.0, at("sample_history", 0): "accepted"})
    assert sheet["sample_code_letter"] == "J"
    assert sheet["sample_mind"].startswith("A small lot")  # 80 of 501
    sheet.set({"sample_lot": 1200})
    assert sheet["sample_mind"] == ""
    sheet.set({"sample_lot": 20, "sample_aql": 0.65})
    assert "leads to letter F" in sheet["sample_mind"]
    assert "small lot" not in sheet["sample_mind"]  # every part is inspected
    sheet.set({"sample_lot": None, "quantity": None})
    assert sheet["sample_mind"] == ""
    sheet.set(results)


def test_what_the_list_lacks_is_named(sheet: Document) -> None:
    """Two of the last five lots count (ISO 2859-1:1999, 9.3.1): a new list needs the last lots of the old one."""
    cells = [at("sample_history", number) for number in range(sampling_sheet.LOTS)]
    plan = {"sample_lot": 1200, "sample_aql": 4.0, "sample_level": "II", "sample_severity": "by the list"}
    for begins in (None, "reduced"):
        sheet.set(dict.fromkeys(cells) | plan | {"sample_starts_with": begins})
        assert sheet["sample_words"] == "Next: what the list begins with, normal or tightened."
    sheet.set({"sample_starts_with": "normal", cells[0]: "rejected "})
    assert sheet["sample_words"].startswith("Next: fill in the list of lots without a gap")
    assert "No lot before this one" not in sheet["sample_mind"]
    sheet.set(dict.fromkeys(cells[:-1], "accepted"))
    assert "list is full" not in sheet["sample_mind"]
    sheet.set({cells[-1]: "rejected"})
    assert sheet["sample_mind"].startswith("The list is full: begin a new one")
    sheet.set(dict.fromkeys(cells))


def test_sample_words(sheet: Document) -> None:
    sheet.set({"sample_lot": 1000, "sample_aql": 1.0, "sample_level": "II", "sample_severity": "normal"})
    for found, words in (
        (2, "ACCEPT"),
        (3, "REJECT"),
        ("x", "no number"),
        (90, "does not fit"),
        (None, "Accept the lot"),
    ):
        sheet.set({"sample_found": found})
        assert words in sheet["sample_words"]
    for wrong in (
        {"sample_lot": 1},
        {"sample_lot": "many"},
        {"sample_aql": 1.1},
        {"sample_level": "IV"},
        {"sample_aql": None},
    ):
        sheet.set({"sample_lot": 1000, "sample_aql": 1.0, "sample_level": "II"} | wrong)
        assert sheet.get(["sample_size", "sample_accept_number", "sample_reject_number"]) == ["", "", ""], wrong
        assert sheet["sample_words"].startswith("Next:")
    sheet.set({"sample_lot": None, "quantity": 200, "sample_aql": 1.0, "sample_level": "II"})
    assert sheet["sample_code_letter"] == "G"


def switched(results: list[str], start: str) -> list[str]:
    """The switching rules of ISO 2859-1:1999, 9.3 and 9.4, told lot by lot."""
    state, states, lots = start, [], []
    for result in results:
        lots.append(result)
        before = state
        if state == "normal" and lots[-5:].count("rejected") >= 2:
            state = "tightened"
        elif state == "tightened" and lots.count("rejected") >= 5:
            state = "discontinue"
        elif state == "tightened" and lots[-5:] == ["accepted"] * 5:
            state = "normal"
        if state != before:
            lots = []
        states.append(state)
    return states


def test_switching_rules_keep_the_state(sheet: Document) -> None:
    draw = random.Random(7)
    for chance in (0.1, 0.3, 0.45, 0.6, 0.8):
        for start in sampling_sheet.STATES:
            number = draw.randint(8, sampling_sheet.LOTS)
            results = ["rejected" if draw.random() < chance else "accepted" for _ in range(number)]
            cells = [[one] for one in [*results, *[None] * (sampling_sheet.LOTS - number)]]
            first, last = at("sample_history", 0), at("sample_history", sampling_sheet.LOTS - 1)
            sheet.set(
                {f"{first}:{last.split('!')[1]}": cells, "sample_starts_with": start, "sample_severity": "by the list"}
            )
            want = switched(results, start)
            assert column(sheet, "sample_inspections_next")[:number] == want, results
            assert sheet["sample_inspection_next"] == want[-1]
            stopped = want[-1] == "discontinue"
            assert sheet["sample_words"].startswith("STOP") == stopped
            for choice in sampling_sheet.STATES:
                sheet.set({"sample_severity": choice})
                words = sheet["sample_words"]
                assert words.startswith("STOP") == (sheet["sample_size"] == "") == stopped, (results, choice)
                assert (f"Choosing {choice} departs from the list" in words) == stopped
                told = words.endswith(f" NOT BY THE LIST, which says {want[-1]}.")
                assert told == (choice != want[-1] and not stopped), (results, choice)


def test_a_gap_in_the_list_of_lots_and_half_a_part_are_told(sheet: Document) -> None:
    results = ["accepted", "accepted", None, "rejected", "rejected", *[None] * (sampling_sheet.LOTS - 5)]
    sheet.set({at("sample_history", number): one for number, one in enumerate(results)})
    sheet.set({"sample_lot": 1000, "sample_aql": 1.0, "sample_severity": "by the list"})
    assert sheet["sample_words"].startswith("Next: fill in the list of lots without a gap")
    sheet.set({at("sample_history", number): None for number in range(len(results))} | {"sample_found": 0.5})
    assert sheet["sample_words"].endswith("The number found does not fit the sample.")
    sheet.set({"sample_found": None})


def test_a_stop_stands_before_everything_else(sheet: Document) -> None:
    """From the fifth lot rejected under tightened on, whatever is chosen or missing (ISO 2859-1:1999, 9.4)."""
    start = {"sample_starts_with": "tightened", "sample_lot": 150, "sample_aql": 1.0, "sample_level": "II"}
    for number in range(4, 9):
        sheet.set(start | {at("sample_history", lot): "rejected" for lot in range(number)})
        for asked in ({"sample_severity": "normal"}, {"sample_aql": None}, {at("sample_history", 12): "accepted"}):
            before = dict.fromkeys(asked) | {"sample_aql": 1.0, "sample_severity": "by the list"}
            sheet.set(asked)
            assert sheet["sample_words"].startswith("STOP") == (number >= 5), (number, asked)
            assert not (number >= 5 and "Accept the lot" in sheet["sample_words"])
            sheet.set(before)
    sheet.set({at("sample_history", lot): None for lot in range(8)} | {"sample_starts_with": "normal"})
