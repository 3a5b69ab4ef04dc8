"""Whole workbooks as openpyxl has them, for tests that look into cells: two hundred thousand records each.

They are kept for one file of tests (tests/conftest.py). Most tests need no more than `workbook_cases.plain_file` or
`demo_file`.
"""

from __future__ import annotations

from functools import cache

from sheetfuncs import standards
from workbook_template.demo import job
from workbook_template.file.build import build
from workbook_template.paper.blocks import Book

SPECIALS = ("0.9-14 UNS-2A", "M21x1.75-6h", "M20x2.5-7g6g")
LOG_ROWS = 200
"""As many as the tests of the log fill; more than an empty workbook has."""


@cache
def plain_book() -> Book:
    """An empty workbook with some special threads."""
    return build(threads=[standards.read(text) for text in SPECIALS], rows=LOG_ROWS)


@cache
def demo_book() -> Book:
    """The filled example, without stored values."""
    return build(threads=[standards.read(job.THREAD)], values=job.values())
