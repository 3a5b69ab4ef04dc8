"""The sheets of the workbook in the order of their tabs, and as they are described. No workbook is needed for it."""

from __future__ import annotations

from workbook_template.sheets import (
    bars,
    budget,
    card,
    certificate,
    charts,
    costing,
    diagnosis,
    estimate,
    first_article,
    instruments,
    job,
    lathe_charts,
    log,
    offer,
    quote,
    sampling,
    sources,
    start,
    threads_table,
    wire_sets,
)
from workbook_template.sheets import gauge_study as gauge_study_sheet
from workbook_template.sheets import lathe as lathe_sheet
from workbook_template.sheets import setup as setup_sheet
from workbook_template.sheets.layout import Made, Sheet

SHEETS = (
    *(start, job, setup_sheet, card, log, estimate, bars, costing, quote, offer),
    *(charts, budget, first_article, sampling, gauge_study_sheet, certificate),
    *(lathe_sheet, lathe_charts, instruments, wire_sets, diagnosis, sources),
)
"""The modules of the sheets that are described as data, in the order of their tabs."""

TITLES = (*(module.SHEET for module in SHEETS), threads_table.SHEET)
"""The titles of all tabs but that of the working figures."""


def describe(made: Made) -> dict[str, Sheet]:
    """The sheets of a workbook as they are described, by title."""
    return {module.SHEET: module.sheet(made) for module in SHEETS}
