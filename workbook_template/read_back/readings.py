"""One record for each row of a log: what was typed, by what it is judged, both verdicts. What the register holds."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import Any, NamedTuple

from workbook_template.read_back import columns, recompute, shipped
from workbook_template.read_back.columns import Row
from workbook_template.read_back.contents import Error, Filled
from workbook_template.read_back.equipment import key
from workbook_template.read_back.job_file import log_top, open_job
from workbook_template.read_back.judging import Judged
from workbook_template.read_back.named import read_names
from workbook_template.read_back.opening import Unreadable
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.tables import LONGEST
from workbook_template.read_back.thread_figures import NO_NUMBER, Limits, number

JOB = ("job_number", "customer", "part", "drawing", "revision", "material")


class Field(NamedTuple):
    """One column of the register: its name, its kind (text, real, integer, date), what it holds."""

    name: str
    kind: str
    meaning: str


FIELDS = (
    Field("digest", "text", "SHA-256 of the record, which is its key"),
    Field("file", "text", "workbook, from the folder that was collected"),
    Field("workbook", "text", "SHA-256 of that file"),
    Field("log_row", "integer", "row of the sheet Log"),
    *(Field(name, "text", f"{name.replace('_', ' ')}, from the sheet Job") for name in JOB),
    Field("thread", "text", "callout"),
    Field("unit", "text", "working unit, in or mm, of every length here"),
    Field("pitch_max", "real", "largest pitch diameter of the finished part"),
    Field("pitch_min", "real", "smallest pitch diameter of the finished part"),
    Field("crest_max", "real", "largest major diameter, or bore, of the finished part"),
    Field("crest_min", "real", "smallest major diameter, or bore, of the finished part"),
    Field("serial", "text", "part"),
    *(Field(f"reading_{name}", "real", f"reading over wires {name}") for name in ("1a", "1b", "2a", "2b", "3a", "3b")),
    Field("direct", "real", "pitch diameter measured directly"),
    Field("crest", "real", "major diameter, or bore, as measured"),
    Field("ring", "text", "what the gauges said"),
    Field("gauge_turns", "real", "turns that the gauge of a taper thread stood off"),
    Field("gauge", "text", "number of the gauge"),
    Field("instrument", "text", "number of the instrument"),
    Field("wires", "text", "number of the wire set that was used"),
    Field("wire", "real", "diameter of these wires as it was used"),
    Field("place", "real", "taper thread: where it was measured, from the small end or the face"),
    Field("place_2", "real", "taper thread: where station 2 was measured"),
    Field("place_3", "real", "taper thread: where station 3 was measured"),
    Field("temperature", "real", "temperature of the part, degrees C"),
    Field("measured_by", "text", "who measured"),
    Field("measured_on", "date", "day of the measurement"),
    Field("corrects", "text", "why the row corrects an earlier one"),
    Field("rule", "text", "decision rule"),
    Field("uncertainty", "real", "expanded uncertainty of the pitch diameter"),
    Field("pitch", "real", "pitch diameter at 20 degrees C, computed again"),
    Field("taper", "real", "taper, computed again"),
    Field("out_of_round", "real", "out of round, computed again"),
    Field("stored_pitch", "real", "pitch diameter as the workbook has it"),
    Field("stored_result", "text", "result for the pitch diameter as the workbook has it"),
    Field("result", "text", "the same, computed again"),
    Field("stored_crest_result", "text", "result for the major diameter, or bore, as the workbook has it"),
    Field("crest_result", "text", "the same, computed again"),
    Field("stored_ring_result", "text", "result of the gauges as the workbook has it"),
    Field("ring_result", "text", "the same, computed again"),
    Field("agrees", "text", "yes where all the workbook's results are those computed again, else no"),
    Field("typed", "text", "the inputs of the row exactly as typed (JSON)"),
    Field("replaced_by", "text", "SHA-256 of the later state of a file with which the last one lost the record"),
)
"""The columns of the register's readings."""

WORKBOOK_FIELDS = (
    Field("digest", "text", "SHA-256 of the file"),
    Field("file", "text", "workbook, from the folder that was collected"),
    Field("readings", "integer", "rows of its log"),
    Field("differing", "integer", "rows whose results are not those computed again"),
    Field("settings", "text", "the inputs that the rows are judged by (JSON)"),
)
"""The columns of the register's workbooks."""

PLACES = ("digest", "file", "workbook", "replaced_by")
"""Fields that say where a record is, not what it is."""

SETTINGS = (*recompute.INPUTS, *columns.ONCE.values(), *JOB)


COMPARED = tuple(name for name in columns.RESULTS if name != "words")
ALWAYS = ("pitch_diameter", "pitch_diameter_result", "crest_result", "ring_result")
"""Results of a row that `agrees` speaks of, and those that every workbook has."""

OF_TAPER = ("gauge_turns", "place", "place_2", "place_3")
"""Fields that other threads leave empty: their digests are those of a time before there were any."""


class Collected(NamedTuple):
    """One workbook as the register takes it: a row of workbooks, and its readings, each by field."""

    workbook: dict[str, Any]
    readings: list[dict[str, Any]]


def collected(path: Path, name: str) -> Collected:
    """Read one workbook for the register; Unreadable where it can't be. `name` is what the register calls it."""
    book = open_job(path, sheets=False)
    values = read_names(book, (*SETTINGS, *columns.NAMES, *shipped.ISSUED), every=True)
    settings = {one: plain(values.get(one)) for one in SETTINGS if values.get(one) not in (None, [], "")}
    settings |= shipped.kept(book, values)
    again = recompute.recompute(values, columns.rows_of(values))
    readings = [
        record(again, row, judged, name, book.package.digest, _day(book, row.inputs.get("when")), log_top(book))
        for row, judged in zip(again.rows, again.judged)
    ]
    workbook = {
        "digest": book.package.digest,
        "file": name,
        "readings": len(readings),
        "differing": sum(one["agrees"] == "no" for one in readings),
        "settings": canonical(settings),
    }
    most = max(len(text) for text in (workbook["settings"], *(one["typed"] for one in readings)))
    if most > LONGEST:  # it would be cut, and the register could not be read again
        raise Unreadable(
            f"{path} has {most} characters typed where a register keeps {LONGEST}, in one row of its log or in all its "
            f"lists together; shorten the longest texts"
        )
    return Collected(workbook, readings)


def plain(value: Any) -> Any:
    """A value as JSON has it: an error value becomes its text."""
    if isinstance(value, Error):
        return value.text
    return [plain(one) for one in value] if isinstance(value, list) else value


def canonical(data: Any) -> str:
    """The one text for the same data: JSON, keys in order, no spaces, characters as they are.

    Numbers have at most 12 significant digits, as programs differ in the last ones when they save; whole ones no point.

    >>> canonical({"b": 0.7061000000000001, "a": [1.0, None, "ö"]})
    '{"a":[1,null,"ö"],"b":0.7061}'
    """
    return json.dumps(_settled(data), sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False)


def _settled(data: Any) -> Any:
    if isinstance(data, Mapping):
        return {name: _settled(value) for name, value in data.items()}
    if isinstance(data, (list, tuple)):
        return [_settled(one) for one in data]
    if isinstance(data, float):
        data = float(f"{data:.12g}")
        return int(data) if data.is_integer() and abs(data) < 1e15 else data
    return data


def sha256(text: str) -> str:
    """The digest of a text in UTF-8."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _day(book: Filled, value: Any) -> str | None:
    found = book.day(value)
    return None if found is None else found.isoformat()


def text(value: Any) -> str | None:
    """A cell as text; None for an empty one."""
    if value is None or value == "":
        return None
    if isinstance(value, Error):
        return value.text
    return f"{value:.15g}" if isinstance(value, float) else str(value)


def _listed(value: Any, again: Recomputed) -> str | None:
    """The number of an instrument as the sheet Instruments spells it; as it was typed where it is not there."""
    found = again.equipment.instruments.get(key(value))
    return text(value if found is None else found.id)


def record(
    again: Recomputed, row: Row, judged: Judged, file: str, workbook: str, day: str | None, top: int
) -> dict[str, Any]:
    """One row of the log by field; `top` is the first row of the log on its sheet."""
    given, stored, thread, job = row.inputs, row.stored, again.thread, again.job
    found: dict[str, Any] = {name: text(again.inputs.get(name)) for name in JOB}
    found |= {
        "log_row": top + row.number - 1,
        "thread": None if thread is None else thread.callout,
        "unit": text(again.inputs.get("unit")),
        "serial": text(given.get("serial")),
        "ring": text(given.get("ring")),
        "gauge": _listed(given.get("gauge"), again),
        "instrument": _listed(given.get("instrument"), again),
        "wires": judged.wires or None,
        "wire": judged.wire,
        "temperature": number(given.get("temperature")),
        "measured_by": text(given.get("who")),
        "measured_on": day,
        "corrects": text(given.get("why")),
        "rule": job.rule,
        "uncertainty": job.uncertainty,
        "pitch": judged.pitch_diameter,
        "taper": judged.taper,
        "out_of_round": judged.out_of_round,
        "stored_pitch": number(stored.get("pitch_diameter")),
        "agrees": "yes" if agrees(stored, judged) else "no",
        "typed": canonical({name: plain(value) for name, value in row.typed.items()}),
        "replaced_by": None,
    }
    found |= dict.fromkeys(Limits._fields) if thread is None else thread.limits._asdict()
    readings = zip(("1a", "1b", "2a", "2b", "3a", "3b"), columns.READINGS)
    found |= {f"reading_{place}": number(given.get(name)) for place, name in readings}
    found |= {name: number(given.get(name)) for name in ("direct", "crest", "gauge_turns")}
    on_taper = thread is not None and thread.along is not None
    found |= {name: number(given.get(name)) if on_taper else None for name in ("place", "place_2", "place_3")}
    for kind, name in (
        ("pitch_diameter_result", "result"),
        ("crest_result", "crest_result"),
        ("ring_result", "ring_result"),
    ):
        found[f"stored_{name}"], found[name] = text(stored.get(kind)), getattr(judged, kind) or None
    of_all = {name: value for name, value in found.items() if value is not None or name not in OF_TAPER}
    own = canonical(of_all | {"file": None if found["job_number"] else file})
    return {"digest": sha256(own), "file": file, "workbook": workbook} | found


def agrees(stored: Mapping[str, Any], judged: Judged) -> bool:
    """Whether all results that the workbook has stored are those that came out again, words apart.

    One that a workbook built before has no column for is left out.
    """
    pairs = [(stored.get(name), _wanted(judged, name)) for name in COMPARED if name in stored or name in ALWAYS]
    return all(recompute.alike(*pair) for pair in pairs)


def _wanted(judged: Judged, name: str) -> Any:
    value = getattr(judged, name)
    return NO_NUMBER if value is None else value


def again_from(workbook: Mapping[str, Any], readings: Iterable[Mapping[str, Any]]) -> Recomputed:
    """A workbook of the register judged again from what the register holds of it."""
    values: dict[str, Any] = _floats(json.loads(workbook["settings"]))
    rows = [columns.row(int(one["log_row"]), _typed(one["typed"]), {}, values) for one in readings]
    return recompute.recompute(values, rows)


def _typed(content: str) -> dict[str, Any]:
    typed: dict[str, Any] = _floats(json.loads(content))
    return typed


def _floats(data: Any) -> Any:
    """Whole numbers as floats, as a workbook gives them."""
    if isinstance(data, dict):
        return {name: _floats(value) for name, value in data.items()}
    if isinstance(data, list):
        return [_floats(one) for one in data]
    return float(data) if isinstance(data, int) and not isinstance(data, bool) else data
