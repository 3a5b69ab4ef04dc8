"""`recall`: a wire set turned out to be another size than certified. Which records rest on it, what do they say now?

Each record is judged a second time from its inputs, with the true mean in the place of the certified one.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path
from typing import Any, NamedTuple

from sheetfuncs import CellError
from sheetfuncs.designations import plain
from sheetfuncs.units import read_length
from workbook_template.read_back import collect, held, judging, readings, register, shipped
from workbook_template.read_back.equipment import NEVER, Item, key
from workbook_template.read_back.findings import said
from workbook_template.read_back.named import cells_of
from workbook_template.read_back.opening import READABLE
from workbook_template.read_back.recompute import Recomputed
from workbook_template.read_back.register import Connection, NoRegister
from workbook_template.read_back.thread_figures import DECIMALS

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


class Asked(NamedTuple):
    """What is asked: the number of the set, its true mean, and the days of measurement."""

    wires: str
    mean: str
    first: date
    last: date

    def on_these_days(self, day: str | None) -> bool:
        """Whether a record of that day is asked for; one without a day is."""
        return day is None or self.first <= date.fromisoformat(day) <= self.last


def affected(
    source: Path, wires: str, mean: str, first: date, last: date, say: Callable[[str], None]
) -> list[Affected]:
    """The records of a register or a folder that rest on the set, measured on these days; also those without a day."""
    asked = Asked(wires.strip(), mean, first, last)
    if not asked.wires:
        raise NoRegister("no wire set is named; give its number, as in --wires W-12")
    _length(mean, "in")  # what is no length is refused before anything is read
    with register.opened(source if source.suffix.lower() in DATABASES and source.exists() else None) as connection:
        if source.is_dir():
            listed = collect.workbooks(source)
            for sentence in listed.passed_over:
                say(sentence)
            for one in collect.outcomes(source, listed.files, set()):
                if one.sentence:
                    say(one.sentence)
                if one.found is not None:
                    register.add(connection, one.found)
        elif source.suffix.lower() in READABLE:
            register.load_xlsx(connection, source)
        elif not source.exists() or source.suffix.lower() not in DATABASES:
            raise NoRegister(f"{source} is no folder and no register; give one of them (.xlsx, .sqlite)")
        else:
            register.check_texts(connection, source)
        return _answer(connection, source, asked, say)


def _answer(connection: Connection, source: Path, asked: Asked, say: Callable[[str], None]) -> list[Affected]:
    """What rests on the set, workbook by workbook: one that has it in another unit does not keep the others back."""
    found: list[Affected] = []
    refused: list[str] = []
    otherwise: Counter[tuple[str, bool]] = Counter()
    workbooks = connection.execute("SELECT digest, file, settings FROM workbooks ORDER BY file, digest").fetchall()
    issued = shipped.certificates(connection.execute("SELECT file, settings FROM workbooks ORDER BY rowid"))
    for digest, file, settings in workbooks:
        book = _resting(connection, digest, file, settings, asked)
        if book is None:
            continue
        otherwise.update(book.otherwise)
        try:
            found += _of_book(connection, book, asked, issued)
        except NoRegister as error:
            refused.append(str(error))
    if refused and not found:
        raise NoRegister(refused[0])
    if not (found or otherwise) and _number(asked.wires) not in _sets(connection):
        raise NoRegister(f"no workbook in {source} lists or names a wire set {asked.wires}; check its number")
    for sentence in refused:
        say(f"{sentence}; it was passed over")
    for (name, is_listed), count in otherwise.items():
        say(OTHERWISE[is_listed].format(name=name, records=f"{count} record{'' if count == 1 else 's'}"))
    return found


OTHERWISE = {
    True: '{records} on the wires "{name}": if that is the same set, ask for it as well',
    False: '{records} on the wires "{name}", a number that is not in the list of its workbook, and not among these: '
    "correct it in the log, and collect again",
}
"""What is said of a number that is spelled nearly alike, by whether it is listed."""


def _sets(connection: Connection) -> set[str]:
    """The wire sets that the workbooks list, and those that rows name."""
    named = {_number(one) for (one,) in connection.execute("SELECT DISTINCT wires FROM readings")}
    for (settings,) in connection.execute("SELECT settings FROM workbooks"):
        named |= {_number(one) for one in cells_of(json.loads(settings).get("wires_id"))}
    return named


class Book(NamedTuple):
    """A workbook with records on the set: all its rows, judged as they were, and the places of those that rest on it.

    `wires` is the number of the set as its list has it, `otherwise` counts the rows that spell it otherwise, each with
    whether that number is listed.
    """

    file: str
    wires: str
    rows: list[dict[str, Any]]
    before: Recomputed
    places: list[int]
    otherwise: Counter[tuple[str, bool]]


def _resting(connection: Connection, digest: str, file: str, settings: str, asked: Asked) -> Book | None:
    """The workbook, where a row of it names the set, or a number that looks like it."""
    names = [one.name for one in readings.FIELDS]
    query = "SELECT * FROM readings WHERE workbook = ? AND replaced_by IS NULL ORDER BY log_row"
    rows = [dict(zip(names, one)) for one in connection.execute(query, (digest,))]
    if not any(_alike(one["wires"], asked.wires) for one in rows):
        return None
    before = readings.again_from({"settings": settings}, rows)
    listed = before.equipment.wires
    own = next((one for one in listed if one.strip() == key(asked.wires)), key(asked.wires))
    in_time = [at for at, one in enumerate(rows) if asked.on_these_days(one["measured_on"])]
    used = {at: before.judged[at].wires for at in in_time}
    odd = [name for name in used.values() if key(name) != own and _alike(name, asked.wires)]
    places = [at for at in in_time if key(used[at]) == own]
    return Book(file, own, rows, before, places, Counter((name, key(name) in listed) for name in odd))


def _alike(name: str | None, wires: str) -> bool:
    """Whether two numbers are the same but for blanks, dashes and capitals."""
    one, other = ("".join(filter(str.isalnum, _number(text))) for text in (name, wires))
    return one == other and key(name) != ""


def _number(name: str | None) -> str:
    """The number of a set as it is compared; a register of before has 12.0 for one that is listed as the number 12."""
    return re.sub(r"^(\d+)\.0$", r"\1", key(name).strip())


def _of_book(
    connection: Connection, book: Book, asked: Asked, issued: Callable[[str, str | None], shipped.Issued]
) -> Iterator[Affected]:
    if not book.places:
        return
    after = _with_mean(book, asked)
    for at in book.places:
        one, old, new = book.rows[at], book.before.judged[at], after.judged[at]
        was, now, out = old.pitch_diameter_result, new.pitch_diameter_result, shipped.out_by(old)
        if one["result"] == "replaced":  # by a row that a later state of the file may hold
            was = now = "replaced"
        certificate = issued(one["file"], one["job_number"])
        sent = certificate.shipped(bool(out) or was in shipped.REJECTED, one["measured_on"])
        recorded = {name: one[name] for name in AS_RECORDED}
        yield Affected(
            **recorded | {"file": held.holder(connection, one["file"], one["workbook"], one["digest"])},
            old_wire=old.wire, new_wire=new.wire, old_pitch=old.pitch_diameter, new_pitch=new.pitch_diameter,
            old_result=was, new_result=now, change="" if was == now else f"{was} becomes {now}",
            certificate=certificate.number, certificate_date=certificate.day, shipped=sent,
            action=shipped.action(sent, was, now, out),
        )  # fmt: skip


def _with_mean(book: Book, asked: Asked) -> Recomputed:
    """The same workbook with the true mean of the set."""
    before, wires = book.before, book.wires
    unit = before.inputs.get("unit")
    if unit not in DECIMALS:
        raise NoRegister(f"{book.file} has {said(unit)} as its working unit; choose in or mm there, and collect again")
    true = _length(asked.mean, unit)
    listed = before.equipment.wires.get(wires)
    known = (listed.mean if listed else None) or before.job.wire_used
    if known is not None and abs(true - known) > LIKELY * known:
        raise NoRegister(
            f"a mean of {asked.mean} is nowhere near the {plain(round(known, 6))} {unit} that {book.file} has for "
            f'{asked.wires}; give it with its unit, as in --mean "0.03612 in"'
        )
    item = listed._replace(mean=true) if listed else Item(wires, NEVER, true)
    equipment = before.equipment._replace(wires={**before.equipment.wires, wires: item})
    job = before.job._replace(equipment=equipment)
    if key(job.wire_set) == wires:
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
        digits = _judging_digits(one.unit)
        rows.append(
            (
                one.file, one.job_number or "–", one.serial or f"row {one.log_row}",
                one.measured_on or "no date",
                _shown(one.old_pitch, digits), _shown(one.new_pitch, digits), one.old_result, one.new_result,
                one.change and f"<- {one.change}" + (f"; {one.action}" if shipped.is_nothing(one.action) else ""),
            )
        )  # fmt: skip
    widths = [max(len(row[at]) for row in rows) for at in range(len(rows[0]))]
    for row in rows:
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths)).rstrip()


def summary(found: list[Affected], wires: str, mean: str) -> str:
    """How many there are, in a sentence that agrees with what is to be done."""
    changed = sum(bool(one.change) for one in found)
    asked = [one for one in found if not shipped.is_nothing(one.action)]
    same = sum(not one.change for one in asked)
    rest = "1 record rests" if len(found) == 1 else f"{len(found)} records rest"
    told = f"{rest} on {wires.strip()}; {changed} of them have another result with a mean of {mean}"
    as_before = f", of {same} of them nobody can say what they are, now as before" if same else ""
    return f"{told}; {len(asked)} to see to{as_before}" if asked else told


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
    """The certificate and whose it is, in words; nothing for a part that is still here."""
    if one.shipped == shipped.NO:
        return
    yield f"certificate {one.certificate or 'of no known number'}"
    if one.certificate_date:
        yield f"of {one.certificate_date}"
    if one.customer:
        yield f"to {one.customer}"


def _judging_digits(unit: str | None) -> int:
    """One digit more than the sheets show, as the change may be small."""
    return 4 if unit == "mm" else 5


def _shown(value: float | None, digits: int) -> str:
    return "–" if value is None else f"{value:.{digits}f}"
