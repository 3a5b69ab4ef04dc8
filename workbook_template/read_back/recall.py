"""`recall`: a wire set turned out to be another size than certified. Which records rest on it, what do they say now?

Each record is judged a second time from its inputs, with the true mean in the place of the certified one.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from sheetfuncs import CellError
from sheetfuncs.designations import plain
from sheetfuncs.units import read_length
from workbook_template.read_back import collect, judging, readings, register, shipped
from workbook_template.read_back.equipment import NEVER, Item, key
from workbook_template.read_back.opening import READABLE
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.register import NoRegister

DATABASES = (".sqlite", ".sqlite3", ".db")
LIKELY = 0.1
"""A mean farther than this part of itself from the one in the records is in another unit, or of another set."""


class Affected(NamedTuple):
    """One record that rests on the wire set: as it was judged, and as it is with the true mean."""

    file: str
    job_number: str | None
    serial: str | None
    log_row: int
    measured_on: str | None
    thread: str | None
    unit: str | None
    old_wire: float | None
    new_wire: float | None
    old_pitch: float | None
    new_pitch: float | None
    stored_result: str | None
    old_result: str
    new_result: str
    change: str
    customer: str | None
    certificate: str | None
    certificate_date: str | None
    shipped: str
    action: str


AS_RECORDED = ("file", "job_number", "serial", "log_row", "measured_on", "thread", "unit", "stored_result", "customer")
"""What the record itself says."""

KINDS = {"log_row": "integer", "measured_on": "date", "certificate_date": "date"} | dict.fromkeys(
    ("old_wire", "new_wire", "old_pitch", "new_pitch"), "real"
)
HEADS = tuple((name, KINDS.get(name, "text")) for name in Affected._fields)


def affected(
    source: Path, wires: str, mean: str, first: date, last: date, say: Callable[[str], None]
) -> list[Affected]:
    """The records of a register or a folder that rest on the set, measured on these days; also those without a day."""
    with register.opened(source if source.suffix.lower() in DATABASES and source.exists() else None) as connection:
        if source.is_dir():
            listed = collect.workbooks(source)
            for sentence in listed.passed_over:
                say(sentence)
            for one in collect.outcomes(source, listed.files, set()):
                say(one.sentence) if one.sentence else None
                if one.found is not None:
                    register.add(connection, one.found)
        elif source.suffix.lower() in READABLE:
            register.load_xlsx(connection, source)
        elif not source.exists() or source.suffix.lower() not in DATABASES:
            raise NoRegister(f"{source} is no folder and no register; give one of them (.xlsx, .sqlite)")
        found = list(_affected(connection, wires, mean, first, last))
        if not found and key(wires) not in _sets(connection):
            raise NoRegister(f"no workbook in {source} lists or names a wire set {wires}; check its number")
        return found


def _sets(connection: Any) -> set[str]:
    """The wire sets that the workbooks list, and those that rows name."""
    named = {key(one) for (one,) in connection.execute("SELECT DISTINCT wires FROM readings")}
    for (settings,) in connection.execute("SELECT settings FROM workbooks"):
        named |= {key(one) for one in json.loads(settings).get("wires_id") or []}
    return named


def _affected(connection: Any, wires: str, mean: str, first: date, last: date) -> Iterator[Affected]:
    names = [one.name for one in readings.FIELDS]
    workbooks = connection.execute("SELECT digest, file, settings FROM workbooks ORDER BY file, digest").fetchall()
    issued = shipped.certificates(connection.execute("SELECT file, settings FROM workbooks ORDER BY rowid"))
    for digest, file, settings in workbooks:
        found = connection.execute(
            "SELECT * FROM readings WHERE workbook = ? AND replaced_by IS NULL ORDER BY log_row", (digest,)
        )
        rows = [dict(zip(names, one)) for one in found]
        if not any(key(one["wires"]) == key(wires) for one in rows):
            continue
        before = readings.again_from({"settings": settings}, rows)
        after = _with_mean(before, wires, mean, file)
        for one, old, new in zip(rows, before.judged, after.judged):
            day = one["measured_on"]
            if key(old.wires) != key(wires) or (day is not None and not first <= date.fromisoformat(day) <= last):
                continue
            was, now = old.pitch_diameter_result, new.pitch_diameter_result
            if one["result"] == "replaced":  # by a row that a later state of the file may hold
                was = now = "replaced"
            certificate = issued(one["file"], one["job_number"])
            out = certificate.shipped(was, day)
            yield Affected(
                **{name: one[name] for name in AS_RECORDED},
                old_wire=old.wire, new_wire=new.wire, old_pitch=old.pitch_diameter, new_pitch=new.pitch_diameter,
                old_result=was, new_result=now, change="" if was == now else f"{was} becomes {now}",
                certificate=certificate.number, certificate_date=certificate.day, shipped=out,
                action=shipped.action(out, was, now),
            )  # fmt: skip


def _with_mean(before: Recomputed, wires: str, mean: str, file: str) -> Recomputed:
    """The same workbook with the true mean of the set."""
    unit = str(before.inputs.get("unit"))
    true = _length(mean, unit)
    listed = before.equipment.wires.get(key(wires))
    known = (listed.mean if listed else None) or before.job.wire_used
    if known is not None and abs(true - known) > LIKELY * known:
        raise NoRegister(
            f"a mean of {mean} is nowhere near the {plain(round(known, 6))} {unit} that {file} has for {wires}; "
            f'give it with its unit, as in --mean "0.03612 in"'
        )
    item = listed._replace(mean=true) if listed else Item(wires, NEVER, true)
    equipment = before.equipment._replace(wires={**before.equipment.wires, key(wires): item})
    job = before.job._replace(equipment=equipment)
    if key(job.wire_set) == key(wires):
        job = job._replace(wire_used=true, wire_differs=False)
    return before._replace(equipment=equipment, job=job, judged=judging.judge(before.rows, job))


def _length(mean: str, unit: str) -> float:
    """The mean in the working unit; a bare number is in it already."""
    try:
        found = read_length(mean, "mean", unit)
    except CellError as error:
        raise NoRegister(error.sentence) from error
    if not found > 0:
        raise NoRegister(f"a mean of {mean} is no size of a wire; give a length more than zero")
    return found


def lines(found: list[Affected]) -> Iterator[str]:
    """The records as a table to print."""
    if not found:
        return
    rows = [("file", "job", "part", "measured", "pitch diameter", "now", "result", "now", "")]
    for one in found:
        digits = judging_digits(one.unit)
        rows.append(
            (
                one.file, one.job_number or "–", one.serial or f"row {one.log_row}",
                one.measured_on or "no date",
                _shown(one.old_pitch, digits), _shown(one.new_pitch, digits), one.old_result, one.new_result,
                one.change and "<- " + one.change,
            )
        )  # fmt: skip
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    for row in rows:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip()


def to_do(found: list[Affected]) -> Iterator[str]:
    """What to do about the parts, by what each asks for."""
    yield from shipped.lines(
        [
            shipped.Part(
                one.file,
                f"job {one.job_number}" if one.job_number else "no job number",
                " ".join(_certificate(one)),
                one.serial or f"of row {one.log_row}",
                one.action,
            )
            for one in found
        ]
    )


def _certificate(one: Affected) -> Iterator[str]:
    """The certificate and whose it is, in words; nothing for a part that is on none."""
    if one.certificate and one.shipped != shipped.NO:
        yield f"certificate {one.certificate}"
        if one.certificate_date:
            yield f"of {one.certificate_date}"
        if one.customer:
            yield f"to {one.customer}"


def judging_digits(unit: str | None) -> int:
    """One digit more than the sheets show, as the change may be small."""
    return 4 if unit == "mm" else 5


def _shown(value: float | None, digits: int) -> str:
    return "–" if value is None else f"{value:.{digits}f}"
