"""The LAMBDAs of thread sizes, computed in formulon, are the functions of the catalogue; and how threads are found."""

from __future__ import annotations

import random
from collections.abc import Iterator

import pytest
from lambda_engine import Call, Files, Opened, by_python, differences, published, same
from published_rows import agrees
from test_published import REFERENCE_MISSES

from sheetfuncs import CellError, evaluate, standards
from sheetfuncs.designations import Thread
from workbook_template.lambdas.table import key

UNITS = (None, "in", " MM")


def in_units(callouts: tuple[str, ...], name: str) -> Iterator[Call]:
    for at, callout in enumerate(callouts):
        yield name, (callout, UNITS[at % len(UNITS)])


@pytest.mark.parametrize("name", ["PITCH", "LEAD", "ALLOWANCE", "TOLERANCE", "LIMITS"])
def test_sizes_without_a_limit(few: Opened, lambda_files: Files, name: str) -> None:
    assert differences(few.answers, in_units(lambda_files.callouts, f"THREAD_{name}")) == []


def test_lead_angles(few: Opened, lambda_files: Files) -> None:
    assert differences(few.answers, [("THREAD_LEAD_ANGLE", (callout,)) for callout in lambda_files.callouts]) == []


@pytest.mark.parametrize("which", ["MAJOR", "PITCH", "MINOR"])
def test_every_limit(few: Opened, lambda_files: Files, which: str) -> None:
    calls = [
        (f"THREAD_{which}_DIAMETER", (callout, limit, unit))
        for callout in lambda_files.callouts
        for limit, unit in (("max", None), ("MIN", "mm"), (" mid ", "in"), ("basic", ""))
    ]
    assert differences(few.answers, calls) == []


SINGLE_FAULTS = {
    ("THREAD_PITCH", ("3/4-16 UNF-2A", "cm")): "#VALUE!",
    ("THREAD_PITCH_DIAMETER", ("3/4-16 UNF-2A", "middle")): "#VALUE!",
    ("THREAD_PITCH_DIAMETER", ("3/4-16 UNF-2A", "")): "#N/A",
    ("THREAD_PITCH_DIAMETER", ("3/4-16 UNF", "max")): "#N/A",
    ("THREAD_MINOR_DIAMETER", ("3/4-16 UNF-2A", "min")): "#N/A",
    ("THREAD_MINOR_DIAMETER", ("3/4-16 UNF-2A", "mid")): "#N/A",
    ("THREAD_LIMITS", ("3/4-16 UNF",)): "#N/A",
    ("THREAD_ALLOWANCE", ("3/4-16 UNF",)): "#N/A",
    ("THREAD_PITCH_DIAMETER", ("", "max")): "",
    ("THREAD_PITCH", ("  ",)): "",
}
"""Calls with one fault, and what is said of it; a blank thread is no fault."""


@pytest.mark.parametrize("call", SINGLE_FAULTS, ids=str)
def test_what_is_refused_and_how(whole: Opened, call: Call) -> None:
    assert whole.answer(call) == by_python(call) == SINGLE_FAULTS[call]


SPELLINGS = (
    *("m20x2.5-6g", "M20X2.5-6G", "M20x2.5 6g", "M20 - 6g", "M20-6G", "M 20 × 2.5 - 6g", "M20*2.5-6g", "M20x2.5‑6g"),
    *("M20x1.5-4g6g", "M20", "M20x2.5", "M10x1.25-6H LH", "M10x1.25-lh", "Tr40X7-7E", "Tr40x7 7e LH"),
    *("3/4-16UNF2A", "3/4 16 UNF 2A", "3/4-16unf-2a", " 3/4 -16  UNF-2A ", "3/4–16 UNF–2A", "5/8-11 UNC-2A-LH"),
    *("1-1/4-7 UNC-2B", "1 1/4 7UNC 2B", "1\N{NO-BREAK SPACE}1/4-7 UNC-2B", "1/4-20", "1/4-20-2A"),
    *("#10-32 UNF-3A", "No.10-32 UNF-3A", "No. 10-32 UNF-3A", "NO 10-32 UNF 3A", "10-32 UNF-3A"),
    *("1-5 acme 2g", "1 5ACME2G-LH", "1-5 STUB ACME-2G", "G 3/4 A", "g3/4a", "R 3/4", "Rc3/4", "2BA"),
    *("1/2-12 BSW", "1/2-12BSW medium bolt", "3/4-14 NPT", "MJ10x1.25-4h6h", "3/8-24 UNJF-3A", "2-4 BUTT-2A"),
)


@pytest.mark.parametrize("spelled", SPELLINGS)
def test_a_thread_is_found_as_people_write_it(whole: Opened, spelled: str) -> None:
    for call in (("THREAD_PITCH", (spelled,)), ("THREAD_PITCH_DIAMETER", (spelled, "min"))):
        assert same(whole.answer(call), by_python(call)), call


@pytest.mark.parametrize("spelled", [*SPELLINGS, "1 . 5", "No1", "a--b", " LH", "1/4 - 20 unc lh"])
def test_the_key_of_the_formula_is_that_of_the_list(few: Opened, spelled: str) -> None:
    assert few.formula(f'THREADS_KEY("{spelled}")').upper() == key(spelled).upper()


NOT_THERE = (
    *("M20x1.5-4G6g", "M20x2.56g", "M2 0x2.5-6g", "M20?2.5-6g", "M20x2.5-6?", "3/4-16 UNF*", "3/4-1~6 UNF-2A"),
    *("11-2 UN-2A", "1.0-0.1P-0.2L UNS-2A", "M20xPh5P2.5-6g", "Tr40x14(P7)-7e", "LH", "nothing of the kind"),
)


@pytest.mark.parametrize("spelled", NOT_THERE)
def test_what_is_not_in_the_list_is_not_guessed(whole: Opened, spelled: str) -> None:
    """Neither a sign that stands for any other, nor a blank or dash at another place, nor a class half in capitals."""
    assert whole.answer(("THREAD_PITCH", (spelled,))) == "#N/A"


def test_capitals_tell_an_internal_thread_from_an_external_one(few: Opened, lambda_files: Files) -> None:
    """Each size that has classes in both kinds of letters, 6g and 6G, 6h and 6H."""
    both = [
        callout
        for callout in lambda_files.lines
        if callout[-1:] in "gh" and f"{callout[:-1]}{callout[-1].upper()}" in lambda_files.lines
    ]
    assert len(both) >= 4
    for callout in both:
        inside = f"{callout[:-1]}{callout[-1].upper()}"
        found = [few.answer(("THREAD_PITCH_DIAMETER", (one, "max"))) for one in (callout, inside)]
        assert found == [evaluate("THREAD_PITCH_DIAMETER", one, "max") for one in (callout, inside)]
        assert found[0] < found[1]


def test_any_spelling_is_the_thread_that_python_reads(whole: Opened, lambda_files: Files) -> None:
    """Blanks and dashes put in and left out by chance: where both answer it is the same thread.

    The reader refuses some that the list knows, such as UN S for UNS.
    """
    chance = random.Random(7)
    meant = {}
    for callout in chance.choices(lambda_files.lines, k=400):
        signs = [chance.choice((sign, "", " ", "-", "- ")) if sign in " -" else sign for sign in callout]
        spelled = "".join(chance.choice((sign, sign, sign + " ")) for sign in signs)
        thread = read(spelled)
        if thread is not None:
            meant[spelled] = standards.write(thread)
    of_lines = whole.formulas([f'INDEX(THREADS_LIST_CALLOUT,THREADS_LINE("{spelled}"))' for spelled in meant])
    found = {spelled: callout for spelled, callout in zip(meant, of_lines, strict=True) if callout != "#N/A"}
    assert found == {spelled: meant[spelled] for spelled in found}
    assert len(found) > 70


def read(spelled: str) -> Thread | None:
    try:
        return standards.read(spelled)
    except CellError:
        return None


def test_published_limits(few: Opened) -> None:
    """In the digits of their sources."""
    compared = 0
    for row in published():
        for which, printed_as in (("MAJOR", "major"), ("PITCH", "pd"), ("MINOR", "minor")):
            for end in ("max", "min"):
                printed = row.get(f"{printed_as}_{end}")
                call = (f"THREAD_{which}_DIAMETER", (row["thread"], end))
                found = few.answer(call)
                if printed and found != "#N/A":
                    compared += 1
                    loose = which == "MINOR" and row["thread"] in REFERENCE_MISSES
                    assert agrees(found, printed, places_off=loose), (call, found, printed)
    assert compared > 250


def test_a_range_is_answered_cell_by_cell(few: Opened) -> None:
    """A column of threads, with one limit or with as many; a blank cell stays blank, a wrong one spoils no other."""
    threads = ("3/4-16 UNF-2A", "nothing", "", "M20x2.5-6g")
    limits = ("max", "min", "max", "mid")
    for row, (thread, limit) in enumerate(zip(threads, limits), start=1):
        few.put(row, limit)
        if thread:
            few.put(row + 10, thread)
    column = few.formula('THREAD_PITCH_DIAMETER(AZ11:AZ14,"max")')
    assert column == [[0.7079], ["#N/A"], [""], [18.334]]
    assert few.formula("THREAD_PITCH_DIAMETER(AZ11:AZ14,AZ1:AZ4)") == [
        [0.7079],
        ["#N/A"],
        [""],
        [pytest.approx(18.249)],
    ]
    assert few.formula('THREAD_PITCH_DIAMETER("M20x2.5-6g",AZ1:AZ2)') == [[18.334], [18.164]]


def test_a_blank_unit_is_one_left_out(few: Opened) -> None:
    assert few.formula('THREAD_PITCH("M20-6g",AZ99)') == 2.5
    assert few.formula('THREAD_PITCH("M20-6g",)') == 2.5
    assert few.formula("THREAD_PITCH(AZ99)") == ""
