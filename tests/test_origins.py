"""Where figures come from: every thread and class has its rows, every row of the table holds for something."""

from __future__ import annotations

import re

import pytest
from published_rows import PUBLISHED

from sheetfuncs import evaluate, standards
from sheetfuncs.errors import CellError
from sheetfuncs.sources import SOURCES
from sheetfuncs.standards import SYSTEMS, origins

EXTRA = (
    "M20x2.5-6c",
    "M48x1.5-5g6g",
    "M10xPh3P1.5-6e",
    "M20x2.5-6g-L",
    "M100x8-6f",
    "M2x0.4-7H",
    "Tr40x14(P7)-10c",
    "Tr40x14(P7)-8e",
    "M20x2.2-6g",
    "M20x2.2-6H",
    "MJ20x2.2-4h6h",
    "1.1-12 UNS-2A",
    "1.1-12 UNJS-3A",
    "0.75-0.0625P-0.1875L UNF-2A",
    "10-0.25P-0.5L-BUTT-3B",
)
"""Threads that no list offers: positions and grades less used, several starts, a named length of engagement."""

WHOLE = ("pipe_parallel", "pipe_taper_iso", "pipe_rp", "npt", "npsm")
"""Systems whose one table has sizes and limits."""


def classed(key: str) -> list[standards.Thread]:
    """Each standard thread of a system, without a class and in every class that the workbook offers."""
    system = SYSTEMS[key]
    threads = list(system.standard_threads())
    for thread in system.standard_threads():
        for name in system.offered:
            try:
                threads.append(system.read(system.with_class(system.write(thread), name)))
            except CellError:
                continue
    return threads


@pytest.mark.parametrize("key", SYSTEMS)
def test_every_thread_has_a_source_for_its_sizes_and_its_limits(key: str) -> None:
    system = SYSTEMS[key]
    for thread in classed(key):
        found = system.origins(thread)
        assert any(not origin.thread_class for origin in found), thread
        if thread.thread_class and key not in WHOLE:
            assert any(origin.thread_class for origin in found), thread
        cells = (text for row in evaluate("THREAD_SOURCE", system.write(thread)) for text in row)
        assert all(0 < len(text) <= 255 for text in cells), thread


def test_every_row_of_the_table_names_a_source_and_holds_for_some_thread() -> None:
    threads = [thread for key in SYSTEMS for thread in classed(key)] + [standards.read(text) for text in EXTRA]
    held = {origin for thread in threads for origin in standards.system(thread).origins(thread)}
    assert [origin for origin in origins.every() if origin not in held] == []
    assert {origin.source for origin in origins.every()} <= set(SOURCES)
    assert {key for origin in origins.every() for key in origin.systems.split()} == set(SYSTEMS)


def test_what_is_from_memory_names_what_would_confirm_it() -> None:
    assert [origin.figures for origin in origins.every() if origin.memory and not origin.confirm] == []


def test_a_row_that_names_positions_holds_for_threads_of_those_positions() -> None:
    """'allowance e' for class 7e and not for 8c, 'deviation g or G' for 6g and 6G: the words and the pattern agree."""
    named = {}
    for thread in [thread for key in SYSTEMS for thread in classed(key)] + [standards.read(text) for text in EXTRA]:
        for origin in standards.system(thread).origins(thread):
            words = re.search(r"(?:allowance|deviation) (?P<letters>.*)", origin.figures)
            letters = re.findall(r"\b[a-hA-H]\b", words["letters"]) if words else []
            if letters:
                assert set(re.findall(r"[a-hA-H]", thread.thread_class)) & set(letters), (thread, origin)
                named[origin] = letters
    assert len(named) >= 9


@pytest.mark.parametrize("key", [key for key, system in SYSTEMS.items() if system.widening_starts])
def test_limits_that_several_starts_widen_say_where_the_factors_are_from(key: str) -> None:
    said = "factors for several starts"
    for thread in classed(key):
        for starts in (1, 2, 3):
            figures = [origin.figures for origin in SYSTEMS[key].origins(thread._replace(starts=starts))]
            assert (said in figures) == (starts > 1 and bool(thread.thread_class)), (thread, starts)


SIDES = {
    # small letters are the screw's and capitals the nut's (ISO 965-1); a screw has the allowance, a nut the bore
    "external": r"Td|allowance|deviation [a-f]|UNR|for reference|root radius|major diameter tolerance|grades|10c",
    "internal": r"TD|minor diameter limits|nuts|tolerance of the major diameter|grades",
}


def test_a_row_of_one_side_names_a_figure_of_that_side() -> None:
    for origin in origins.every():
        if origin.side:
            assert re.search(SIDES[origin.side], origin.figures), origin


PRINT = re.compile(r"(?:GOST|STAS|GB/T|JIS B|MIL-S-) ?[\dC]+|(?:MH\d\d pp?\.|(?<=and)) (?P<page>\d{4})")
"""A standard by its number, or a page of a handbook."""

RULE_ALONE = "1855"
"""Of this page a rule was read, in words and no row of figures."""


def test_every_print_that_was_seen_lies_among_the_published_rows() -> None:
    """Each page and standard that the table calls seen is named by a file whose rows are compared."""
    there = " ".join(path.read_text(encoding="utf-8") for path in PUBLISHED.glob("*.csv"))
    named = {match["page"] or match[0] for origin in origins.every() for match in PRINT.finditer(origin.seen)}
    assert len(named) > 25
    assert {text for text in named if text not in there} == {RULE_ALONE}


def test_a_table_cell_that_was_printed_and_one_that_was_not() -> None:
    def remembered(text: str) -> bool:
        thread = standards.read(text)
        found = standards.system(thread).origins(thread)
        (cell,) = (origin for origin in found if origin.figures == "pitch diameter tolerance Td2")
        return bool(cell.memory)

    assert not remembered("Tr32x6-7e")  # printed in GOST 24739-81
    assert remembered("Tr20x8-7e")  # by the formula


OFF_THE_TABLES = {
    # how many rows say that a figure is by a formula, or by the callout: no table has the pitch, or has it at this size
    "M20x2.2-6g": 4,
    "M20x2.2-6G": 4,
    "MJ20x2.2-4g6g": 4,
    "M8x2-6h": 2,
    "1.1-12 UNS-2A": 2,
    "1.1-12 UNS-2B": 2,
    "1.1-12 UNJS-3A": 2,
}


@pytest.mark.parametrize(("callout", "count"), OFF_THE_TABLES.items())
def test_what_is_off_the_tables_was_not_seen_in_them(callout: str, count: int) -> None:
    trusts = {row[0]: row[3] for row in evaluate("THREAD_SOURCE", callout)[1:]}
    assert sum(trust.startswith("by ") for trust in trusts.values()) == count
    by_table = {name for name, trust in trusts.items() if "seen:" in trust}
    assert not any(re.search(r"pairs|tolerance TD?2|major and pitch", name) for name in by_table)
    assert callout == "M8x2-6h" or not any(re.search(r"deviation [e-gG]|tolerance T", name) for name in by_table)


@pytest.mark.parametrize("callout", ["M20x2.5-6g", "1 1/8-12 UNF-2A", "MJ10x1.25-4h6h", "1 1/8-12 UNJF-3A"])
def test_a_listed_pair_is_by_no_formula(callout: str) -> None:
    assert not any(row[3].startswith("by ") for row in evaluate("THREAD_SOURCE", callout))


BORES = {"#6-32 UNJC-3B": True, "#12-24 UNJC-3B": True, "1/4-20 UNJC-3B": False, "#6-32 UNJC-3A": False}


@pytest.mark.parametrize(("callout", "remembered"), BORES.items())
def test_the_bore_of_a_small_unj_nut_is_from_memory(callout: str, remembered: bool) -> None:
    """Printed rows were found at 1/4 in alone."""
    found = [row[0] for row in evaluate("THREAD_SOURCE", callout) if row[3].startswith("FROM MEMORY")]
    assert found == ["minor diameter limits below 1/4 in"] * remembered


@pytest.mark.parametrize(
    ("named", "sizes"),
    [
        *((named, ("0.75-0.0625P-0.1875L", "3/4-16")) for named in ("UNF-2A", "UNF-2B", "UNJF-3A", "UNJF-3B")),
        ("BUTT-2A", ("2-0.25P-0.5L", "2-4")),
    ],
)
def test_limits_of_several_starts_of_inch_threads_say_on_what_they_rest(named: str, sizes: tuple[str, str]) -> None:
    for size, several in zip(sizes, (True, False)):
        found = {row[0]: row[3] for row in evaluate("THREAD_SOURCE", f"{size} {named}")}
        assert ("limits of several starts" in found) == several
        assert not several or found["limits of several starts"].startswith("FROM MEMORY: ")


def test_a_condition_that_is_none_is_named() -> None:
    with pytest.raises(ValueError, match="'colour=red' is no condition"):
        origins.condition("colour=red")


def test_what_was_seen_says_so_and_what_was_not_does_not() -> None:
    for origin in origins.every():
        if origin.seen.startswith(("no ", "by ")):
            assert "seen:" not in origin.trust, origin
        elif origin.seen:
            assert origin.trust.endswith(f"seen: {origin.seen}"), origin
