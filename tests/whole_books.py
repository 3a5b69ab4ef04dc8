"""Whole workbooks as openpyxl has them, for tests that look into cells: two hundred thousand records each.

They are kept for one file of tests (tests/conftest.py), the pages, which have few threads, for all. Most tests need no
more than `workbook_cases.plain_file` or `demo_file`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from functools import cache
from types import SimpleNamespace
from typing import Any
from unittest import mock

from sheetfuncs import standards
from sheetfuncs.designations import Thread
from workbook_template.demo import job
from workbook_template.file.build import build
from workbook_template.paper.blocks import Book
from workbook_template.sheets import thread_listing

SPECIALS = ("0.9-14 UNS-2A", "M21x1.75-6h", "M20x2.5-7g6g")
LOG_ROWS = 200
"""As many as the tests of the log fill; more than an empty workbook has."""


@cache
def plain_book() -> Book:
    """An empty workbook with some special threads."""
    return build(threads=[standards.read(text) for text in SPECIALS], rows=LOG_ROWS)


FEW = 40
"""Each so many-th thread is in the table of a workbook with few."""
CHOSEN = ("1/2-13 UNC", "5/8-18 UNF", "3/8-24 UNJF", "3/4-16 UNF", "5/8-11 UNC", "M20x2.5", "1-5 ACME")
"""And these, which tests choose in a workbook that is open."""


FEW_ROWS = 50
"""Of the log, where nothing else is said: more than the example fills; empty ones are a quarter of all formulas."""


def with_few_threads(threads: Iterable[Thread] = (standards.read(job.THREAD),), **how: Any) -> Book:
    """What `build` makes of the same, with few other threads than these: nine thousand take half of a build."""
    with few_threads(FEW):
        return build(threads=threads, **{"rows": FEW_ROWS, **how})


@cache
def plain_pages() -> Book:
    """The sheets of the empty workbook, for tests that do not look at its table of threads."""
    return with_few_threads([])


@cache
def demo_pages() -> Book:
    """The sheets of the filled example, alike."""
    return with_few_threads(values=job.values())


@contextmanager
def few_threads(step: int, *callouts: str) -> Iterator[None]:
    """What is built meanwhile has each so many-th standard thread in its table, of every system, and these.

    The example's own and those of `CHOSEN` are among them. Callouts are read as ever: only the table is another.
    """
    known = SimpleNamespace(**{**vars(standards), "SYSTEMS": _few_of_each(step, callouts)})
    with mock.patch.object(thread_listing, "standards", known):
        yield


@cache
def _few_of_each(step: int, callouts: tuple[str, ...]) -> dict[str, standards.System]:
    wanted = {standards.read(callout).size for callout in (*job.values()["quote_size"], *CHOSEN, *callouts)}

    def few(system: standards.System) -> standards.System:
        kept = [
            thread
            for number, thread in enumerate(system.standard_threads())
            if number % step == 0 or thread.size in wanted
        ]
        return system._replace(standard_threads=lambda: kept)

    return {key: few(system) for key, system in standards.SYSTEMS.items()}
