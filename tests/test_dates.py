"""Dates are days between 1990 and 2099; anything else is told beside the cell and counts for nothing."""

from __future__ import annotations

import re
from datetime import date

import pytest
from log_cases import cells, day
from whole_books import plain_pages

from workbook_template.office import Document
from workbook_template.paper.naming import Named
from workbook_template.sheets import instruments
from workbook_template.trade import days

BESIDE = {
    "job_date": "job_hint",
    "study_date": "study_date_words",
    "article_date": "article_date_words",
    "offer_valid": "offer_valid_words",
    "certificate_date": "certificate_date_label",
}
"""A date, and the cell that tells of it."""

WRONG = (20260131, "31 January 2026", 0, -5, 73051, 32873.9, 1e308)


def test_the_bounds_are_the_days_they_say() -> None:
    zero = date(1899, 12, 30).toordinal()
    assert date.fromordinal(zero + days.FIRST_DAY) == date(1990, 1, 1)
    assert date.fromordinal(zero + days.LAST_DAY) == date(2099, 12, 31)


@pytest.mark.parametrize("name", BESIDE)
def test_what_is_no_day_is_told_beside_the_cell(log_sheet: Document, name: str) -> None:
    for wrong in WRONG:
        log_sheet.set({name: wrong})
        assert re.search("no day between 1990 and 2099.|Date\\? 1990 to 2099", log_sheet[BESIDE[name]]), wrong
    for right in (None, day("1990-01-01"), day("2026-01-31"), day("2099-12-31") + 0.9):
        log_sheet.set({name: right})
        assert "1990" not in log_sheet[BESIDE[name]], right
    log_sheet.set({name: None})


@pytest.mark.parametrize("wrong", WRONG)
def test_an_instrument_with_no_day_as_due_date_is_not_in_date(log_sheet: Document, wrong: object) -> None:
    log_sheet.set({"instrument_due": cells([wrong, day("2030-01-01")], instruments.INSTRUMENTS)})
    log_sheet.set({"instrument_calibrated": cells([None, wrong], instruments.INSTRUMENTS)})
    assert [row[0] for row in log_sheet["instrument_state"][:2]] == ["no due date", "check dates"]
    told = [row[0] for row in log_sheet["instrument_words"][:2]]
    assert told[0] == "Its readings do not count: the due date is no day between 1990 and 2099."
    assert told[1] == "Its readings do not count: the day of calibration is no day between 1990 and 2099."


def test_every_date_is_checked_where_it_is_typed() -> None:
    """All but the log's, where nothing is refused: what is no day is told there."""
    book = plain_pages()
    dates = [one for one in book.entries if one.role == "input" and _is_date(one)]
    assert len(dates) >= 10
    for one in dates:
        first = one.ref.split(":")[0]
        rules = [rule for rule in book.workbook[one.sheet].data_validations.dataValidation if first in rule.sqref]
        limits = [(rule.type, rule.formula1, rule.formula2, rule.operator) for rule in rules]
        expected = ("date", str(days.FIRST_DAY), str(days.LAST_DAY), "between")
        told_alone = {"log_when": [], "log_once_when": [(None, None, None, None)]}
        assert limits == told_alone.get(one.name, [expected]), one.name


def _is_date(entry: Named) -> bool:
    book = plain_pages()
    cell = book.workbook[entry.sheet][entry.ref.split(":")[0]]
    return cell.number_format == "yyyy-mm-dd"
