"""`certificate`: the data of one lot as JSON, with a digest over them that anybody can compute again.

The digest is the SHA-256 of the UTF-8 text of `data` in its canonical form (`readings.canonical`): JSON with the keys
in order, no spaces, numbers of at most 12 significant digits.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import sheetfuncs
from workbook_template.read_back import columns, readings, recompute
from workbook_template.read_back.budget_figures import FACTORS
from workbook_template.read_back.contents import Filled
from workbook_template.read_back.equipment import Item, key, twice
from workbook_template.read_back.job_file import log_top, open_job
from workbook_template.read_back.named import cells_of, read_names
from workbook_template.read_back.opening import Unreadable
from workbook_template.read_back.thread_figures import COATING, Limits, is_coated, number
from workbook_template.sheets.log_words import RESULT_WORDS

KIND = "thread inspection record"
VERSION = 1
RULES = {
    "simple": "simple acceptance: a limit counts as in (ILAC-G8:09/2019, 4.2.1)",
    "guard": "guard band w = U: in and out only where the limit is cleared by U (ILAC-G8:09/2019, 4.2.3; ISO 14253-1)",
}
BUILD = ("sheetfuncs_version", "built_on")
NAMED = tuple(f"certificate_{name}" for name in ("number", "order", "lot", "inspector", "released"))
OF_JOB = (*readings.JOB, "material_certificate", "quantity")
EXTRA = (
    *NAMED,
    "certificate_date",
    "job_date",
    "coverage_factor",
    "turns_rule",
    "expansion_source",
    "material_certificate",
    "quantity",
    "certificate_digest",
)
EQUIPMENT = {
    "instruments": (
        "instrument",
        ("id", "kind", "thread", "from", "to", "unit", "certificate", "lab", "calibrated", "due", "fit"),
    ),
    "wires": ("wires", ("id", "certificate", "lab", "a", "b", "c", "calibrated", "due", "fit")),
}
DATES = ("calibrated", "due")

NAMES = (
    *(*readings.SETTINGS, *columns.NAMES, *BUILD, *EXTRA),
    *(f"{prefix}_{name}" for prefix, names in EQUIPMENT.values() for name in names),
)
"""What is read for it."""


def certificate(path: Path) -> dict[str, Any]:
    """The digest, and the data it is over. Verdicts are those computed again; a stored one that differs is named."""
    book = open_job(path)
    values = read_names(book, NAMES)
    again = recompute.recompute(values, columns.rows_of(values))
    _refuse_nothing(book, again)
    found = data(book, values, again)
    return {
        "digest": digest(found),
        "digest_in_workbook": written_digest(values),
        "file": path.name,
        "computed_again_with": f"sheetfuncs {sheetfuncs.__version__}",
        "data": found,
    }


def _refuse_nothing(book: Filled, again: recompute.Recomputed) -> None:
    """A workbook in which nothing is logged: a digest over it would certify nothing."""
    if again.rows:
        return
    thread = "choose the thread on the sheet Job, then " if again.thread is None else ""
    raise Unreadable(f"{book.package.path} certifies nothing yet: {thread}log the parts on the sheet Log")


LAST = {"number": "number", "date": "date", "inspector": "who inspected", "released": "who releases it"}
"""Fields of the certificate that its digest is over, and the sheet asks for before it."""

WHY_OTHER = (
    "a field of the certificate was typed after it, as the digest comes last, or it was mistyped, or data were changed "
    "since"
)
"""Why a digest that is typed may not be that of the data, the likeliest first."""


def still_empty(found: Mapping[str, Any]) -> list[str]:
    """The fields that are still empty: whoever types one changes the digest."""
    return [what for name, what in LAST.items() if not (found["certificate"][name] or "").strip()]


def digest(found: Mapping[str, Any]) -> str:
    """The SHA-256 of the data in their canonical form."""
    return readings.sha256(readings.canonical(found))


def written_digest(values: Mapping[str, Any]) -> str | None:
    """The digest that was typed on the certificate, without blanks around it; None where there is none to be seen."""
    return (readings.text(values.get("certificate_digest")) or "").strip() or None


def data(book: Filled, values: Mapping[str, Any], again: recompute.Recomputed) -> dict[str, Any]:
    """The data of the lot, out of the values by their names and the rows judged again."""
    rows = []
    top = log_top(book)
    for row, judged in zip(again.rows, again.judged):
        one = readings.record(again, row, judged, "", "", _date(book, row.inputs.get("when")), top)
        rows.append({name: value for name, value in one.items() if value is not None and name in READING_FIELDS})
    used = {key(one[name]): one[name] for one in rows for name in ("instrument", "gauge") if name in one}
    wires = {key(judged.wires): judged.wires for judged in again.judged if judged.wires}
    return {
        "kind": KIND,
        "version": VERSION,
        "job": {name: readings.text(values.get(name)) for name in OF_JOB},
        "job_date": _date(book, values.get("job_date")),
        "certificate": {
            **{name.removeprefix("certificate_"): readings.text(values.get(name)) for name in NAMED},
            "date": _date(book, values.get("certificate_date")),
        },
        "thread": None if again.thread is None else again.thread.callout,
        "unit": readings.text(values.get("unit")),
        "limits": _limits(again),
        **_coating(again),
        "rule": _rule(values, again),
        "temperature": {name: number(values.get(name)) for name in TEMPERATURE},
        "instruments": _equipment(book, values, "instruments", used, again.equipment.instruments),
        "wires": _equipment(book, values, "wires", wires, again.equipment.wires),
        "readings": rows,
        "counts": _counts(again),
        "versions": {
            "workbook": readings.text(values.get("sheetfuncs_version")),
            "workbook_built_on": readings.text(values.get("built_on")),
        },
    }


READING_FIELDS = frozenset(
    one.name for one in readings.FIELDS if one.name not in (*readings.PLACES, *readings.JOB, "thread", "unit", "typed")
) - {*Limits._fields, "rule", "uncertainty"}
TEMPERATURE = ("expansion", "instrument_expansion", "room_temperature")


def _date(book: Filled, value: Any) -> str | None:
    found = book.day(value)
    return None if found is None else found.isoformat()


def _limits(again: recompute.Recomputed) -> dict[str, Any] | None:
    found = again.thread
    return None if found is None else found.limits._asdict()


def _coating(again: recompute.Recomputed) -> dict[str, float | None]:
    """Least and greatest thickness; nothing of a part that is not coated: its digest is that of before there were."""
    return {name: number(again.inputs[name]) for name in COATING} if is_coated(again.inputs) else {}


def _rule(values: Mapping[str, Any], again: recompute.Recomputed) -> dict[str, Any]:
    return {
        "name": again.job.rule,
        "words": RULES[again.job.rule],
        "uncertainty": again.job.uncertainty,
        "crest_uncertainty": again.job.crest_uncertainty,
        "coverage_factor": _coverage(values, again),
        "not_go_turns": readings.text(values.get("turns_rule")),
        "expansion_source": readings.text(values.get("expansion_source")),
    }


def _coverage(values: Mapping[str, Any], again: recompute.Recomputed) -> float | None:
    """The k that the U in use was made with (JCGM 100:2008, 7.2.3): a typed U has a typed one, the budget's its own."""
    if again.job.uncertainty is None:
        return None
    if values.get("expanded_uncertainty") is None:
        of_budget = recompute.budget(again.inputs, again.thread, again.equipment)
        return number(of_budget["budget_coverage"])
    typed = number(values.get("coverage_factor"))
    return typed if typed is not None and FACTORS[0] <= typed <= FACTORS[1] else None


def _equipment(
    book: Filled, values: Mapping[str, Any], kind: str, used: dict[str, str], listed: dict[str, Item]
) -> list[dict[str, Any]]:
    """What was used, as the sheet Instruments lists it; what it does not list, by its number alone."""
    prefix, names = EQUIPMENT[kind]
    ids = cells_of(values.get(f"{prefix}_id"))
    second = set(twice(ids))  # nothing was measured with that: of two with one number the first counts
    found = []
    for at, name in enumerate(ids):
        if name is None or key(name) not in used or at in second:
            continue
        one = {}
        for column in names:
            cells = cells_of(values.get(f"{prefix}_{column}"))
            cell = cells[at] if at < len(cells) else None
            one[column] = _date(book, cell) if column in DATES else readings.plain(cell)
        mean = listed[key(name)].mean
        found.append({**one, "mean": mean} if kind == "wires" else one)
    known = {key(name) for name in ids}
    return found + [{"id": used[name], "listed": False} for name in sorted(used.keys() - known)]


def _counts(again: recompute.Recomputed) -> dict[str, dict[str, int]]:
    kinds = {"pitch": "pitch_diameter_result", "crest": "crest_result", "ring": "ring_result"}
    found = {kind: [getattr(one, name) for one in again.judged if not one.again] for kind, name in kinds.items()}
    return {
        kind: {word: words.count(word) for word in RESULT_WORDS if words.count(word)} for kind, words in found.items()
    }
