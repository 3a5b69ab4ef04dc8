"""The first article list judged again: the rule of `sheets.first_article`, programmed a second time."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sheetfuncs import evaluate, standards
from workbook_template.read_back import gauge_fit
from workbook_template.read_back.equipment import Item, day_of, key
from workbook_template.read_back.judging import MOST, Job, N, decide, rounded
from workbook_template.read_back.thread_figures import NO_NUMBER, Figures, number
from workbook_template.sheets.first_article_figures import OTHERS, PASSING, REFERENCE_ROWS, ROWS

_COLUMNS = ("method", "instrument", "measured")
_OTHER = ("other", "other_requirement", "other_low", "other_high")
_WHO = ("article_serial", "article_who", "article_date")
INPUTS = (
    *(f"article_{name}" for name in (*_COLUMNS, *_OTHER, "lead_low", "lead_high")),
    *(*_WHO, "thread_length"),
)
GAUGED = {"pass": "passes", "fail": "fails"}
FAILING = ("low", "high", "fails", "WRONG HAND")


def article_results(inputs: Mapping[str, Any], job: Job) -> dict[str, Any]:
    """Limits, results and the sentence of the first article list."""
    known = job.thread
    if known is None:
        return {"article_words": "Choose the thread on the sheet Job first."}
    sizes = _sizes(known)
    limits = {one.key: tuple(_limit(inputs, sizes, one.key, end) for end in ("low", "high")) for one in ROWS}
    want: dict[str, Any] = {
        f"article_{name}_{end}": NO_NUMBER if limit is None else limit
        for name, ends in limits.items()
        for end, limit in zip(("low", "high"), ends)
        if name != "lead"
    }
    blank = "Bore" if known.thread.side == "internal" else "Blank"
    names: list[Any] = [one.label or blank for one in ROWS]
    results = [_result(inputs, at, one.key, limits[one.key], known, job) for at, one in enumerate(ROWS)]
    for at in range(OTHERS):
        name, _, low, high = (_cell(inputs, column, at) for column in _OTHER)
        names.append(name)
        used = any(_cell(inputs, column, at) is not None for column in _OTHER)
        used = used or any(_cell(inputs, column, len(ROWS) + at) is not None for column in _COLUMNS)
        if not used:
            results.append("")
        elif name is None:
            results.append("no name")
        else:
            results.append(_result(inputs, len(ROWS) + at, "", (low, high), known, job))
    want["article_result"] = results
    return want | {"article_words": _words(inputs, names, results)}


def _sizes(known: Figures) -> dict[str, Any]:
    """Limits by name in the working unit; a reference value has a note."""
    found = standards.limits(known.thread)
    sizes: dict[str, Any] = {}
    for which, *ends in evaluate("THREAD_LIMITS", known.callout, known.unit)[1:]:
        for end, value in zip(("max", "min"), ends):
            sizes[f"{which}_diameter_{end}"] = value
            sizes[f"{which}_diameter_{end}_note"] = end in getattr(found, which).reference.split()
    blank = evaluate("THREAD_BLANK", known.callout, known.unit)[0]
    return sizes | dict(zip(("blank_max", "blank_min"), blank))


def _cell(inputs: Mapping[str, Any], name: str, at: int) -> Any:
    values = inputs.get(f"article_{name}") or []
    return values[at] if at < len(values) else None


def _limit(inputs: Mapping[str, Any], sizes: Mapping[str, Any], name: str, end: str) -> Any:
    """A limit of one characteristic of every thread; None for none."""
    if name == "lead":
        return inputs.get(f"article_lead_{end}")
    if name == "length":
        return number(inputs.get("thread_length")) if end == "low" else None
    if name == "hand":
        return None
    side = {"low": "min", "high": "max"}[end]
    if name in REFERENCE_ROWS and sizes.get(f"{name}_{side}_note"):
        return None
    return number(sizes.get(f"{name}_{side}"))


def _result(inputs: Mapping[str, Any], at: int, name: str, limits: tuple[Any, Any], known: Figures, job: Job) -> str:
    method, instrument, measured = (_cell(inputs, column, at) for column in _COLUMNS)
    if measured is None:
        return "not measured"
    if method is None:
        return "no method"
    gauged, value = key(measured) in GAUGED, number(measured)
    is_size = name not in ("", "hand")
    if instrument is None and (is_size or key(method) != "by eye"):
        return "no instrument"
    if is_size and gauged and key(method) != "gauge":
        return "check entry"
    if is_size and value is not None and (not 0 < value <= MOST or key(method) in ("gauge", "by eye")):
        return "check entry"
    if name == "" and value is not None and key(method) == "by eye":
        return "check entry"
    if not is_size and (instrument is None or key(instrument) == "none"):
        trusted = key(method) == "by eye"
    else:
        item, day = job.equipment.instruments.get(key(instrument)), day_of(inputs.get("article_date"))
        trusted = item is not None and day is not None and item.counts(day)
        if trusted and name != "hand":
            over_wires = key(method) == "over wires"
            if gauged:
                trusted = _gauged(item, name, key(measured), known)
            else:
                trusted = _measures(item, None if over_wires else value) and (not over_wires or _wires_count(job, day))
    if not trusted:
        return "check instrument"
    if name == "hand":
        if key(measured) not in ("right", "left"):
            return "check entry"
        return "in" if key(measured) == ("left" if known.thread.left_hand else "right") else "WRONG HAND"
    if key(measured) in GAUGED:
        return GAUGED[key(measured)]
    if value is None or not 0 < value <= MOST or any(one is not None and number(one) is None for one in limits):
        return "check entry"
    low, high = map(number, limits)
    if low is not None and high is not None and low > high:
        return "check entry"
    if low is None and high is None:
        return "recorded" if name in REFERENCE_ROWS else "no limits"
    crest = "minor_diameter" if known.thread.side == "internal" else "major_diameter"
    measured_with = {"pitch_diameter": job.uncertainty, crest: job.crest_uncertainty}
    if name in measured_with and low is not None and high is not None:
        return decide(value, high, low, job.rule, measured_with[name], known.decimals)
    if low is not None and value < min(low, rounded(low, known.decimals)) - N:
        return "low"
    if high is not None and value > max(high, rounded(high, known.decimals)) + N:
        return "high"
    return "in"


def _gauged(item: Item, name: str, said: str, known: Figures) -> bool:
    """Whether pass or fail can be said with this instrument."""
    if name == "":
        return True
    if name not in ("pitch_diameter", "lead"):
        return item.kind == "other"
    job = known.thread, known.callout, known.to_basic
    go, not_go = (gauge_fit.why_not(item.kind, item.marking, one, *job) == "" for one in ("pass", "not go enters"))
    if name == "lead" or standards.system(known.thread).taper:
        return go
    return go or not_go if said == "fail" else go and not_go


def _wires_count(job: Job, day: int) -> bool:
    """Whether the set of Setup counted on a day."""
    found = job.equipment.wires.get(key(job.wire_set))
    return found is not None and not job.wire_differs and found.counts(day)


MEASURING = ("", "micrometer", "thread micrometer", "comparator", "caliper", "bore gauge", "other")


def _measures(item: Item, value: float | None) -> bool:
    """Whether an instrument measures sizes, and one of that size."""
    return item.kind in MEASURING and (value is None or item.least - N <= value <= item.most + N)


def _words(inputs: Mapping[str, Any], names: list[Any], results: list[str]) -> str:
    told = [
        (f"{name or f'number {at}'} ({result})", result)
        for at, (name, result) in enumerate(zip(names, results), start=1)
    ]
    failing = ", ".join(words for words, result in told if result in FAILING)
    missing = ", ".join(words for words, result in told if result and result not in (*FAILING, *PASSING))
    if failing:
        rest = f" Not complete: {missing}." if missing else ""
        return f"NOT ACCEPTED. Outside the requirement: {failing}.{rest}"
    if missing:
        return f"NOT COMPLETE, so not accepted: {missing}."
    who, serial, day = inputs.get("article_who"), inputs.get("article_serial"), day_of(inputs.get("article_date"))
    if who is None or serial is None or day is None:
        return "NOT COMPLETE, so not accepted: name the part, who examined it and the day."
    count = sum(bool(result) for result in results)
    return f"ACCEPTED: all {count} characteristics are recorded and meet their requirement."
