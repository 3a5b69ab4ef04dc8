"""`check`: a filled workbook against what was built, and every stored value against what its inputs give.

The verdicts are judged a second time by the rule in words (`judging`), which knows no formula of the sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from workbook_template.figures.functions import serial
from workbook_template.figures.garbage import no_collection
from workbook_template.figures.value import Computed
from workbook_template.read_back import (
    certificate_data,
    columns,
    compare,
    macro_sheet,
    not_counted,
    recompute,
    stored,
    template,
)
from workbook_template.read_back.built import Template
from workbook_template.read_back.contents import Filled, FilledSheet, Place, read_sheet
from workbook_template.read_back.find_moved import moves_of
from workbook_template.read_back.findings import Finding, address, said
from workbook_template.read_back.job_file import open_job
from workbook_template.read_back.moved import Moves, template_now
from workbook_template.read_back.named import values_of
from workbook_template.read_back.oddities import oddities
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.renamed import names_back, told
from workbook_template.read_back.thread_figures import number

TODAY = "as_of_used"
VERDICTS = ("pitch_diameter_result", "crest_result", "ring_result", "worst")

STRUCTURE, MANY = ("name", "typed over", "changed formula", "changed value", "added", "removed"), 300
"""Kinds of differences, and how many of them no hand makes."""


class Checked(NamedTuple):
    """What a check found; `compared` results came out again, `rows` of the log are filled in.

    Findings are differences; remarks leave the record as it is.
    """

    findings: list[Finding]
    remarks: list[Finding]
    notes: list[str]
    compared: int
    rows: int


@no_collection()
def check(path: str | Path) -> Checked:
    """Check one workbook; Unreadable where it can't be read."""
    book = open_job(path, sheets=False)
    sheets = {title: read_sheet(book, title) for title in book.sheets}
    threads = book.names["class_list"].sheet
    special, no_threads = template.special_threads(book, sheets[threads]) if threads in sheets else ((), [])
    lengths = template.lengths_of(book, sheets)
    made = template.template(template.unit_of(book, sheets), special, lengths)
    made = macro_sheet.with_settings(made, sheets)
    renamed = names_back(book, made, sheets)
    moves = moves_of(book, made, sheets)
    made = template_now(made, moves)
    findings = list(compare.compare(book, made, sheets, moves))
    findings += _calculation(book)
    for one in no_threads:
        findings.append(Finding("changed value", threads, "", "", f"no thread of any standard: {said(one)}"))
    wanted = {*recompute.INPUTS, *certificate_data.NAMES, TODAY}
    values = values_of({name: place for name, place in book.names.items() if name in wanted}, sheets)
    rows = columns.rows_of(values)
    again = recompute.recompute({name: values.get(name) for name in recompute.INPUTS}, rows)
    own = stored.evaluated(made, sheets, _day_counted(values))
    notes = []
    if sum(one.kind in STRUCTURE for one in findings) > MANY:
        notes.append("so much differs that another version must have built it; check it with that version")
    if book.package.has_macros:
        notes.append(macro_sheet.note(sheets))
    if _computed(sheets):
        different, compared = stored.differences(book, made, own, sheets)
        findings += different
    else:
        compared = 0
        notes.append("it holds no computed values, so none was compared; open and save it in a spreadsheet program")
    findings += _verdicts(book, made, own, again, moves)
    findings += _repeated(book, again)
    findings += _instruments(book, again)
    findings += _oddities(book, values)
    findings += _digest(book, values, again)
    findings = told(findings, renamed)
    differing, remarks = ([one for one in findings if one.is_remark is kind] for kind in (False, True))
    return Checked(differing, remarks, notes, compared, len(rows))


def _calculation(book: Filled) -> Iterator[Finding]:
    """Settings of the whole workbook under which the same formulas give something else."""
    if book.epoch.year == 1904:
        yield Finding("setting", "", "", "", "days are counted from 1904, so each day is four years later than built")
    if book.as_shown:
        yield Finding("setting", "", "", "", "precision as shown is on: it computes with the rounded numbers")
    if book.by_hand:
        yield Finding("calculation", "", "", "", "it computes only when asked: what is typed next leaves old results")
    if book.iterates:
        yield Finding("calculation", "", "", "", "circular formulas are allowed: one that is typed in goes unnoticed")


def _day_counted(values: Mapping[str, object]) -> float:
    """The day that counted as today when the workbook was computed; today where it doesn't say."""
    stored_day = number(values.get(TODAY))
    return serial(date.today()) if stored_day is None else stored_day


def _computed(sheets: Mapping[str, FilledSheet]) -> bool:
    """Whether the formulas have stored values at all."""
    cells = (cell for sheet in sheets.values() for cell in sheet.cells.values())
    return any(cell.formula and cell.value not in (None, "") for cell in cells)


def _verdicts(book: Filled, made: Template, own: Computed, again: Recomputed, moves: Moves) -> Iterator[Finding]:
    """Rows that the sheet's formulas judge otherwise than the rule in words does."""
    for entry in made.entries:
        kind, moved = entry.name.removeprefix("log_"), moves.get(entry.sheet)
        if kind not in VERDICTS or book.names.get(entry.name) != Place(entry.sheet, entry.box):
            continue
        left, top, *_ = entry.box
        for row, judged in zip(again.rows, again.judged):
            number = top + row.number - 1
            formula, rule = own.value(entry.sheet, number, left), getattr(judged, kind)
            if formula != rule and (moved is None or moved.row_back(number) is not None):
                words = f"the formula gives {said(formula)}, the rule in words {said(rule)}: a fault of the workbook"
                yield Finding("verdict", entry.sheet, address((number, left)), entry.name, words)


def _digest(book: Filled, values: Mapping[str, Any], again: Recomputed) -> Iterator[Finding]:
    """The digest that is typed on the certificate, where it is not that of the data."""
    place = book.names.get("certificate_digest")
    typed = certificate_data.written_digest(values)
    if place is None or typed is None:
        return
    digest = certificate_data.digest(certificate_data.data(book, values, again))
    if typed.lower() != digest:
        words = f"typed is {said(typed)}; that of the data is {digest}: {certificate_data.WHY_OTHER}"
        yield Finding("digest", place.sheet, place.cell(), "certificate_digest", words)


def _repeated(book: Filled, again: Recomputed) -> Iterator[Finding]:
    """Rows whose part an earlier row has, with no reason to correct it."""
    place = book.names.get("log_serial")
    for row, judged in zip(again.rows, again.judged):
        if judged.again and place:
            words = f"part {said(row.inputs.get('serial'))} was logged before; this row is not counted"
            yield Finding("part again", place.sheet, place.cell(row.number - 1), "", words)


def _oddities(book: Filled, values: Mapping[str, Any]) -> Iterator[Finding]:
    """Numbers that are twice in their list, or have blanks around them."""
    for one in oddities(values):
        if place := book.names.get(one.name):
            yield Finding(one.kind, place.sheet, place.cell(one.at), "", one.words)


def _instruments(book: Filled, again: Recomputed) -> Iterator[Finding]:
    """Measurements whose instrument, wires or gauge does not count, each with why."""
    place = book.names.get("log_serial")
    for row, judged in zip(again.rows, again.judged):
        if "check instrument" not in (judged.pitch_diameter_result, judged.crest_result, judged.ring_result):
            continue
        where = place.cell(row.number - 1) if place else ""
        reasons = "; ".join(not_counted.reasons(book, again, row.inputs, judged))
        words = f"part {said(row.inputs.get('serial'))}: {reasons}"
        yield Finding("instrument", place.sheet if place else "", where, "", words)
