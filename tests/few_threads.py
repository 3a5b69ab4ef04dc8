"""Workbooks with few threads in their table: nine thousand rows take half of a build, and most tests choose one."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import accumulate
from typing import Any
from unittest import mock

from sheetfuncs import standards
from sheetfuncs.designations import Thread
from workbook_template.demo import job as demo
from workbook_template.file.build import build
from workbook_template.paper import threads as writer
from workbook_template.paper.blocks import Book
from workbook_template.sheets import thread_listing

ROWS = 500
"""Unified threads up to an inch and a half; the example's is one of them."""


def cut(whole: thread_listing.Listing, rows: int) -> thread_listing.Listing:
    """The first so many rows, whole sizes only, and of the other lists what belongs to them."""
    ends = list(accumulate(size.rows for size in whole.sizes))
    sizes = [size for size, end in zip(whole.sizes, ends) if end <= rows]
    kept = whole.rows[: ends[len(sizes) - 1]]
    systems = [one._replace(sizes=min(one.sizes, len(sizes) - one.first_size + 1)) for one in whole.systems]
    groups = whole.groups[: max(int(row.values[-1] or 0) for row in kept)]
    diameters = [one for one in whole.diameters if one.first_size <= len(sizes)]
    return thread_listing.Listing(kept, sizes, [one for one in systems if one.sizes > 0], groups, diameters)


def built(threads: Iterable[Thread] = (standards.read(demo.THREAD),), **how: Any) -> Book:
    """What `build` makes of the same, with no other threads than those of the first rows."""
    chosen = list(threads)
    table = cut(thread_listing.listing(chosen), ROWS)
    assert {standards.write(one) for one in chosen} <= {row.callout for row in table.rows}
    with mock.patch.object(writer, "listing", return_value=table):
        return build(threads=chosen, **how)
