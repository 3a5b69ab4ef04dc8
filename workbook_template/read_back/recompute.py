"""Every figure and verdict of a filled workbook once more, in Python, from its inputs; and what differs.

Sentences that explain are not composed again: that their formulas are as built is compared (`compare`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import Any, NamedTuple

from workbook_template import blocks, certificate
from workbook_template.read_back import (
    article_figures,
    columns,
    equipment,
    judging,
    lathe_figures,
    price_figures,
    record_figures,
    setup_figures,
    thread_figures,
)
from workbook_template.read_back.columns import Row
from workbook_template.read_back.contents import Book, Error, Sheet, column_values
from workbook_template.read_back.equipment import Equipment, key
from workbook_template.read_back.findings import Finding, address, said
from workbook_template.read_back.judging import Job, Judged
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, number

INPUTS = (
    *thread_figures.INPUTS, *setup_figures.INPUTS, *equipment.INPUTS, *judging.SETTINGS, "quantity",
    *record_figures.BUDGET_INPUTS, "as_of_used", "compound_division",
    "another_lead",
)  # fmt: skip
"""What is read beside the log; the last three are results of other sheets that are taken as they are."""

OTHERS = (*record_figures.INPUTS, *article_figures.INPUTS, *price_figures.INPUTS)
"""What `results` needs beside that."""

__all__ = ["INPUTS", "OTHERS", "Recomputed", "differences", "key", "number", "recompute", "results"]

WORDS = ("in", "undecided", "high", "low", "check entry", "check instrument", "not measured", "replaced")
CLOSE, TINY = 1e-9, 1e-12


class Recomputed(NamedTuple):
    """A filled workbook judged again."""

    inputs: dict[str, Any]
    thread: Figures | None
    equipment: Equipment
    job: Job
    rows: list[Row]
    judged: list[Judged]


def recompute(inputs: dict[str, Any], rows: list[Row], today: float) -> Recomputed:
    """Judge the rows by the inputs; `today` is used where the workbook has no day of its own."""
    thread = thread_figures.figures(inputs)
    stored_day = number(inputs.get("as_of_used"))
    known = equipment.equipment(inputs, today if stored_day is None else stored_day)
    job = judging.job(inputs, thread, known, budget(inputs, thread, known)["budget_expanded"])
    return Recomputed(inputs, thread, known, job, rows, judging.judge(rows, job))


def budget(inputs: Mapping[str, Any], thread: Figures | None, known: Equipment) -> dict[str, Any]:
    """The uncertainty budget of the sheet Records, with the wires in use where they serve the thread."""
    wire = equipment.wire_used(inputs, known)
    serves = thread is not None and wire is not None and thread_figures.wire_constant(thread, wire) is not None
    return record_figures.budget_results(inputs, thread, wire if serves else None)


def results(again: Recomputed) -> dict[str, Any]:
    """Everything that was computed again, by name; a list for a column, from its first cell."""
    inputs, job = again.inputs, again.job
    given = inputs.get("dial_division")
    division = number(inputs.get("compound_division")) if given is None else number(given)
    want = thread_figures.job_results(inputs)
    want |= setup_figures.setup_results(inputs, again.thread, job.wire_used, division)
    want |= equipment.results(inputs, again.equipment, again.thread)
    none = NO_NUMBER
    want["uncertainty_used"] = _or_none(job.uncertainty)
    want["crest_uncertainty_used"] = _or_none(job.crest_uncertainty)
    for copy, name in ((f"log_{w}_{end}", f"{w}_{end}") for w in ("pitch", "over_wires") for end in ("max", "min")):
        want[copy] = want.get(name, none)
    if again.thread is not None:
        want |= {f"log_crest_{end}": _or_none(getattr(again.thread, f"crest_{end}")) for end in ("max", "min")}
    for copy in ("log", "setup", "instruments"):
        want[f"callout_{copy}"] = want.get("callout")
    quantity = number(inputs.get("quantity"))
    want["parts_to_make"] = none if quantity is None else quantity
    want |= budget(inputs, again.thread, again.equipment)
    judged = {row.number: one for row, one in zip(again.rows, again.judged)}
    want |= record_figures.chart_results(inputs, again.thread, judged)
    want |= record_figures.study_results(inputs, again.thread) | record_figures.sample_results(inputs)
    want |= article_figures.article_results(inputs, want, again.thread, again.equipment)
    want |= lathe_figures.lathe_results(inputs, again.thread)
    want |= price_figures.price_results(inputs, again.thread)
    return want | _log(again)


def _or_none(value: float | None) -> Any:
    return NO_NUMBER if value is None else value


def _log(again: Recomputed) -> dict[str, Any]:
    length = again.rows[-1].number if again.rows else 0
    want: dict[str, Any] = {}
    for name in columns.RESULTS[:-1]:
        blank = NO_NUMBER if name in ("pitch", "taper", "out_of_round") else ""
        values = [blank] * length
        for row, judged in zip(again.rows, again.judged):
            value = getattr(judged, name)
            values[row.number - 1] = NO_NUMBER if value is None else value
        want[f"log_{name}"] = values
    for kind in ("pitch", "crest", "ring"):
        found = [getattr(one, f"{kind}_result") for one in again.judged if not one.again]
        want |= {f"count_{kind}_{word.replace(' ', '_')}": float(found.count(word)) for word in WORDS}
    want |= _certificate([one for one in again.judged if not one.again])
    want["parts_again"] = float(sum(one.again for one in again.judged))
    want["parts_entered"] = float(sum(one.pitch_result != "replaced" and not one.again for one in again.judged))
    return want


def _certificate(judged: list[Judged]) -> dict[str, Any]:
    """The counts and the sizes of the sheet Certificate."""
    words = [one.pitch_result for one in judged]
    want: dict[str, Any] = {f"certificate_{w.replace(' ', '_')}": float(words.count(w)) for w in certificate.COUNTED}
    sizes = [one.pitch for one in judged if one.pitch_result in certificate.JUDGED and one.pitch is not None]
    none = dict.fromkeys(("min", "max", "mean"), NO_NUMBER)
    found = {"min": min(sizes), "max": max(sizes), "mean": sum(sizes) / len(sizes)} if sizes else none
    want |= {f"certificate_{name}": value for name, value in found.items()}
    return want | {"certificate_n": float(len(sizes))}


def differences(
    book: Book, made: blocks.Book, sheets: Mapping[str, Sheet], again: Recomputed
) -> tuple[list[Finding], int]:
    """Stored results that are not what comes out again, and how many were compared."""
    want, found, seen = results(again), [], 0
    for entry in made.entries:
        place = book.names.get(entry.name)
        if entry.role != "result" or entry.name not in want or place is None or place.sheet not in sheets:
            continue
        wanted = want[entry.name]
        if wanted is None:
            continue
        stored = column_values(sheets[place.sheet], place)
        left, top, right, bottom = place.box
        if place.box[:2] == place.box[2:]:
            pairs = [(0, stored[0] if stored else None, wanted)]
        elif isinstance(wanted, list) and (left == right or top == bottom):
            pairs = list(_several(stored, wanted))
        else:
            continue
        seen += len(pairs)
        for at, value, expected in pairs:
            if not alike(value, expected):
                place_of = (top + at, left) if left == right else (top, left + at)
                found.append(_finding(entry.name, place.sheet, place_of, value, expected))
    return found, seen


def _several(stored: list[Any], wanted: list[Any]) -> Iterator[tuple[int, Any, Any]]:
    for at in range(max(len(stored), len(wanted))):
        expected = wanted[at] if at < len(wanted) else ""
        yield at, stored[at] if at < len(stored) else None, expected


def _finding(name: str, sheet: str, place: tuple[int, int], value: Any, expected: Any) -> Finding:
    if expected is NO_NUMBER or expected == "":
        words = f"stored is {said(value)}; computed again there is nothing to show"
    else:
        words = f"stored is {said(value)}; computed again it is {said(expected)}"
    return Finding("other result", sheet, address(place), name, words)


def alike(stored: Any, wanted: Any) -> bool:
    """Whether a stored value is what came out again.

    >>> alike(0.70560000000001, 0.7056), alike("–", NO_NUMBER), alike(None, ""), alike("in", "high")
    (True, True, True, False)
    """
    if isinstance(stored, Error):
        return False
    if wanted is NO_NUMBER or wanted == "":
        return number(stored) is None and (wanted is NO_NUMBER or stored in (None, ""))
    if isinstance(wanted, bool):
        return isinstance(stored, (bool, float)) and bool(stored) is wanted
    if isinstance(wanted, (int, float)):
        value = number(stored)
        return value is not None and math.isclose(value, wanted, rel_tol=CLOSE, abs_tol=TINY)
    return stored == wanted
