"""A size as people type it in a line of the sheet Quote: what the sheet Job takes, taken alike.

What it means is compared with the standards' own readers, which share nothing with the sheet's formulas.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

import pytest
from test_estimate_sheet import job
from test_quote_sheet import LINES, ROWS, fill
from test_size_typed import TYPED

from sheetfuncs import CellError, standards
from workbook_template.office import Document
from workbook_template.sheets.thread_listing import listing


@pytest.fixture(scope="module")
def opened(empty_workbook: Document) -> Document:
    empty_workbook.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    return empty_workbook


class Said(NamedTuple):
    """What a line of the sheet says."""

    words: str
    price: object
    lead: object


def lines_said(sheet: Document, lines: Sequence[tuple]) -> list[Said]:
    """What each of some lines says; as many at once as the sheet has rows."""
    found: list[Said] = []
    for at in range(0, len(lines), ROWS):
        some = lines[at : at + ROWS]
        fill(sheet, tuple(some))
        columns = sheet.get(["quote_words", "quote_price", "quote_lead"])
        found += [Said(*cells) for cells, _ in zip(zip(*([one for (one,) in column] for column in columns)), some)]
    return found


def sized(size: object, name: str | None) -> tuple:
    """A line with this size and class."""
    return ("x", size, name, *LINES[0][3:])


def said(sheet: Document, size: object, name: str | None) -> Said:
    """What the first line says to a size and class; another stands under it."""
    return lines_said(sheet, (sized(size, name), LINES[1]))[0]


def meant(typed: str) -> str | None:
    """The size that the reader of callouts takes it for, which knows no list and no sheet."""
    try:
        return standards.write(standards.read(typed).size)
    except CellError:
        return None


TAKEN = [
    (typed, name, callout, told)
    for typed, _, name, callout, told in TYPED
    if re.search("[A-Za-z]", typed) or meant(typed) == standards.write(standards.read(callout).size)
]


@pytest.fixture(scope="module")
def taken(opened: Document) -> dict[tuple[str, str], Said]:
    """What a line says to each of these sizes and classes."""
    asked = [(typed, name) for typed, name, *_ in TAKEN]
    return dict(zip(asked, lines_said(opened, [sized(*one) for one in asked])))


@pytest.mark.parametrize(("typed", "name", "callout", "told"), TAKEN)
def test_what_job_takes_a_line_takes(
    taken: dict[tuple[str, str], Said], typed: str, name: str, callout: str, told: bool
) -> None:
    wanted = standards.read(callout)
    words, price, lead = taken[typed, name]
    assert isinstance(price, float), words
    assert ("taken as" in words) == told
    assert f"class {name} as written" in words
    if told:
        assert f" taken as {standards.write(wanted.size)}. class" in words
    assert lead == pytest.approx(wanted.pitch / (25.4 if wanted.unit == "mm" else 1))


UNKNOWN = "{} is not on the sheet Threads: write it as listed there, as in 3/4-16 UNF or M20x2.5; a special is"


NOT_TAKEN = [
    ("1/2 UN", None, UNKNOWN),  # of several pitches
    ("1/2-12", None, "1/2-12 may be 1/2-12 UNS or 1/2-12 BSW: type which."),
    ("1-11-1/2", None, "1-11-1/2 may be 1-11.5 NPT or 1-11.5 NPSM: type which."),
    ("1-5 2G", None, "1-5 2G may be 1-5 ACME or 1-5 STUB ACME: type which."),
    ("1/2-12", "2A", "1/2-12 may be 1/2-12 UNS or 1/2-12 BSW: type which."),
    (None, "2A", "Type the thread size, as in 3/4-16 UNF or M20x2.5."),
    ("1-8UNC-2A LH", "2A", "1-8UNC-2A LH: leave off the hand; a line is right hand."),
    ("1-8 UNC-RH", None, "1-8 UNC-RH: leave off the hand; a line is right hand."),
    ("3/4-16 UNF 2A LH", None, "3/4-16 UNF 2A LH: leave off the hand; a line is right hand."),
    ("0.5-20", None, UNKNOWN),
    ("3/4", None, UNKNOWN),
    ("M72", "6g", UNKNOWN),
    (20, "6g", UNKNOWN),
    ("–", None, UNKNOWN),
    ("*", None, UNKNOWN),
    ("3/4-16 UNF-2A", "2B", "The size says 2A, the column Class says 2B: make them the same."),
    ("M20-6G", "6g", "The size says 6G, the column Class says 6g: make them the same."),
    ("M20-2", None, "No class 2 of M20x2.5; it has "),
    ("1/4-20", "medium bolt", "No class medium bolt of 1/4-20 UNC; it has 2A, 3A, 2B, 3B, 1A, 1B, or is left"),
]


@pytest.fixture(scope="module")
def not_taken(opened: Document) -> dict[tuple[object, str | None], Said]:
    """What a line says to each of those."""
    asked = [(size, name) for size, name, _ in NOT_TAKEN]
    return dict(zip(asked, lines_said(opened, [sized(*one) for one in asked])))


@pytest.mark.parametrize(("size", "name", "sentence"), NOT_TAKEN)
def test_what_it_does_not_take_it_says(
    not_taken: dict[tuple[object, str | None], Said], size: object, name: str | None, sentence: str
) -> None:
    words, price, _ = not_taken[size, name]
    assert words.startswith(sentence.format(size))
    assert price == ""


def test_a_class_behind_the_size_is_that_of_the_line(opened: Document) -> None:
    assert said(opened, "1/4-20-2B", None)[0].startswith("1/4-20-2B taken as 1/4-20 UNC. class 2B as written")
    assert said(opened, "3/4-16 UNF-2A", "2A ")[0].startswith("class 2A as written")
    assert said(opened, "M20", None)[0].startswith("M20 taken as M20x2.5. class to be agreed")


def test_the_part_of_the_job_may_be_written_otherwise(opened: Document) -> None:
    opened.set({"part": "x"})
    assert said(opened, "3/4-16", None)[0].startswith("3/4-16 taken as 3/4-16 UNF. The part of the sheet Job: priced")
    assert said(opened, "3/4-16-3A", None)[0].startswith("This is the part of the sheet Job, with another size or")
    assert said(opened, "M20", None)[0].startswith("This is the part of the sheet Job, with another size or class")
    opened.set({"part": None})


def test_a_pair_is_taken_where_the_reader_of_callouts_takes_it() -> None:
    """1/4-20 is UNC though there is a BSW; 1/2-12 may be UNS or BSW, and 1-11.5 NPT or NPSM: neither is taken."""
    sizes = listing().sizes
    pairs = {size.pair: size.size for size in sizes if size.pair}
    assert len(pairs) == sum(size.pair is not None for size in sizes)
    assert pairs["1/4-20"] == "1/4-20 UNC"
    assert pairs["M20"] == "M20x2.5"
    assert not {"1/2-12", "1-11.5", "3/8-20"} & pairs.keys()
    assert pairs == {short: size.size for size in sizes if (short := size.short) and meant(short) == size.size}


def test_minutes_of_a_clock_are_no_share_of_a_day(opened: Document) -> None:
    """0:30 typed is 30 of the 1440 minutes of a day; half a minute and what has three decimals stay as they are."""
    shares = (0.5, 0.25, 0.05, 0.1, 0.125, 0.002, 0.333, 1.5, 1.875, 0)
    clocks = (1, 5, 10, 15, 30, 45, 60, 75, 90, 100, 240, 25 * 60, 50 * 60)
    typed = [*shares, *(clock / 1440 for clock in clocks)]
    found = lines_said(opened, [("x", *LINES[0][1:9], minutes, *LINES[0][10:]) for minutes in typed])
    for minutes, line in zip(shares, found):
        assert isinstance(line.price, float), minutes
    for clock, line in zip(clocks, found[len(shares) :], strict=True):
        assert line.words.endswith("30 and not 0:30."), clock


def test_what_a_pair_may_be_is_what_the_reader_of_callouts_names() -> None:
    """Each pair that no size has alone: the reader refuses it with the same threads, or knows of fewer than two."""
    found = listing()
    told = {one.pair: one.sizes for one in found.pairs}
    assert told["1/2-12"] == "1/2-12 UNS or 1/2-12 BSW"
    assert told["3-8"] == "3-8 UN, 3-8 NPT or 3-8 NPSM"
    assert told["8-8"] == "8-8 BUTT or 8-8 NPT"  # a callout of a buttress thread always says so
    alone = 0
    for pair, sizes in told.items():
        with pytest.raises(CellError) as refused:
            standards.read(pair)
        alone += "names no thread" in str(refused.value)
        assert "names no thread" in str(refused.value) or f"may be the thread {sizes}; write which" in str(
            refused.value
        )
    assert (len(told), alone) == (62, 9)
    classed = {size.classed: size.size for size in found.sizes if size.classed}
    assert classed["1/2-12"] == "1/2-12 UNS"
    assert not any(size.classed for size in found.sizes if size.pair)
    assert classed.keys() <= told.keys()
    for pair, size in classed.items():
        for name in next(one.classes for one in found.sizes if one.size == size).strip("|").split("|"):
            assert meant(f"{pair}-{name}") == size
    for pair in told.keys() - classed.keys():
        assert meant(f"{pair}-2A") is None


def test_no_size_ends_as_a_class_does() -> None:
    """Else a blank in it would be taken for the one before its class."""
    found = listing()
    names = {name.lower() for (name,) in found.classes}
    for size in found.sizes:
        words = size.size.lower().split()
        assert not names & {words[-1], " ".join(words[-2:])} or len(words) == 1, size.size
