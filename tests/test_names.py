"""The workbook's names use the terms of the functions wherever both speak of the same thing."""

from __future__ import annotations

import re
from functools import lru_cache

import pytest
from workbook_cases import plain_file

from sheetfuncs import catalog
from sheetfuncs.terms import TERMS
from workbook_template.sheets.crosscheck import CHECKS

WORKED_TOO = {
    **dict.fromkeys(("PITCH", "LEAD", "MAJOR_DIAMETER", "PITCH_DIAMETER", "MINOR_DIAMETER", "ALLOWANCE"), ""),
    **dict.fromkeys(("TOLERANCE", "BEST_WIRE", "WIRE_RANGE", "OVER_WIRES", "WIRE_CONSTANT", "WIRE_CORRECTION"), ""),
    **dict.fromkeys(("BLANK", "DEPTH", "COMPOUND", "FEED_LEFT", "LEAD_ANGLE"), ""),
    "RPM": "rpm_",
    "INFEED": "plan_",
    "DIAL": "lathe_",
    "TIME": "estimate_",
    "STOCK": "estimate_",
    "PRICE": "estimate_",
    "GAUGE_STUDY": "study_",
    "UNCERTAINTY": "budget_",
    "SAMPLE": "sample_",
    "SWITCHING": "sample_",
}
"""Functions whose results the workbook's formulas work out as well, and what the names of these begin with."""

NO_NAME = {
    *("study_source", "budget_source"),  # heads of rows, which the sheet prints as labels
    *("standard_degrees", "sensitivity_per_degree"),  # of the sources that are angles: the same columns on the sheet
    *("length_left", "material_cost"),  # the sheet has the length used, and both materials by what is charged
}
"""Terms of these functions that the workbook has no cell for; remarks are sentences of the sheet's own."""

SHORT = re.compile(r"(^|_)(major|pitch|minor)_(max|min|basic|nominal|aimed|low|high|head|result)(_|$)|set_up|_hand$")
"""Shortened names: a pitch that is a pitch diameter; set-up in two words; hand for the minutes by hand."""


@lru_cache(maxsize=1)
def names() -> tuple[str, ...]:
    return tuple(entry.name for entry in plain_file().entries)


def spellings(term: str) -> set[str]:
    """A term as a name has it: by its key, or by its label."""
    return {term, re.sub(r"\W+", "_", TERMS[term].label.lower()).strip("_")}


def contains(name: str, words: str) -> bool:
    return f"_{words}_" in f"_{name}_"


@pytest.mark.parametrize("function", WORKED_TOO)
def test_what_a_function_gives_is_called_so_in_the_workbook(function: str) -> None:
    record = catalog.find(function)
    assert record is not None
    beginning = WORKED_TOO[function]
    for term in record.columns:
        if term in NO_NAME or term.endswith("_remark"):
            continue
        called = [
            name for name in names() if name.startswith(beginning) and any(contains(name, w) for w in spellings(term))
        ]
        assert called, f"no name {beginning}... has the words of {term}: {spellings(term)}"


@pytest.mark.parametrize(("name", "formula"), [(name, call) for name, _, call in CHECKS])
def test_a_figure_that_is_checked_by_a_function_has_its_term(name: str, formula: object) -> None:
    found = (catalog.find(function) for function in re.findall(r"THREAD_\w+", repr(formula)))
    terms = {record.columns[0] for record in found if record is not None}
    assert any(contains(name, words) for term in terms for words in spellings(term)), (name, terms)


def test_no_name_has_the_words_of_a_term_in_another_order() -> None:
    terms = sorted((words for term in TERMS for words in spellings(term) if "_" in words), key=len, reverse=True)
    turned = {tuple(sorted(words.split("_"))) for words in terms}
    for name in names():
        rest = f"_{name}_"
        for words in terms:
            rest = rest.replace(f"_{words}_", "_ _")
        parts = rest.split("_")
        runs = (tuple(parts[a:b]) for a in range(len(parts)) for b in range(a + 2, len(parts) + 1))
        assert [run for run in runs if tuple(sorted(run)) in turned] == [], name


def test_no_name_shortens_a_term() -> None:
    assert [name for name in names() if SHORT.search(name) and name != "hand"] == []
