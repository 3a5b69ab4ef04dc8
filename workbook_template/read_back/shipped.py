"""What to do about each part of a recall: whether it went out with a certificate, and how it is judged now.

A part is shipped where the certificate of its workbook was issued: it has a number and a day, and somebody released
it. With less than that, for a part that was rejected or was measured after the day of the certificate (the paper lists
it all the same, and the day may be mistyped), or where another file of the job has the certificate, the record can't
tell: then the part is to be found first. It is still here only where no certificate was begun. Rejected is a part that
is out by any of its results: pitch diameter, crest diameter or gauges.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import Any, NamedTuple

from workbook_template.read_back.contents import Error, Filled
from workbook_template.read_back.equipment import key
from workbook_template.read_back.judging import Judged

ISSUED = ("certificate_number", "certificate_date", "certificate_order", "certificate_released")
"""What a register keeps of a certificate; a register from before that has none of it."""

YES, PERHAPS, NO = "yes", "perhaps", "no"

REJECTED = ("high", "low")
NOTHING = "nothing: "
STILL = {"in": f"{NOTHING}still in", "undecided": f"{NOTHING}undecided as before"}
"""Results of which the true mean changes nothing."""

NOW_IN = f"{NOTHING}in now"
REPLACED = f"{NOTHING}the row is replaced"
STILL_OUT = f"{NOTHING}still out"
IN_NOW = "measure again before it is used: it was rejected"
ACTIONS = {
    YES: "tell the customer; quarantine; measure again",
    PERHAPS: "find it; if it was shipped, tell the customer; quarantine; measure again",
    NO: "quarantine; measure again",
}
"""By whether the part was shipped, where it is not in or nobody can say so."""


class Issued(NamedTuple):
    """The certificate of a workbook, as a register has it."""

    number: str | None
    day: str | None
    order: str | None
    released: str | None
    kept: bool = True  # whether the register holds certificates
    own: bool = True  # whether it is that of the file of the record, not of another file of the job

    @property
    def begun(self) -> bool:
        """Whether anything says that there is a certificate."""
        return bool(self.number or self.day or self.released)

    def shipped(self, rejected: bool, measured_on: str | None) -> str:
        """Whether a part went out that was measured on that day, and rejected or not."""
        if self.kept and not self.begun:
            return NO
        issued = self.number and self.released and self.day and (measured_on or "") <= self.day
        return YES if issued and self.own and not rejected else PERHAPS


UNKNOWN = Issued(None, None, None, None, kept=False)
"""Of a file whose row is gone from the register's list of workbooks."""


def kept(book: Filled, values: dict[str, Any]) -> dict[str, str | None]:
    """What a register keeps of the certificate of a workbook: every field, also an empty one."""
    day = book.day(values.get("certificate_date"))
    own = {name: _words(values.get(name)) for name in ISSUED}
    return own | {"certificate_date": None if day is None else day.isoformat()}


def _words(value: Any) -> str | None:
    if value is None or isinstance(value, Error):
        return None
    return (f"{value:.15g}" if isinstance(value, float) else str(value)).strip() or None


def certificates(workbooks: Iterable[tuple[str, str]]) -> Callable[[str, str | None], Issued]:
    """The certificate of a record by its file and job number, out of files and what a register keeps of them.

    The files come in the order in which they were collected: a certificate is filled in after the readings were, and
    the last one that has a number counts, before one that was only begun. A job may be in two files, as a lot and its
    copy: a certificate in another file of the job may be for the part.
    """
    of_file: dict[str, Issued] = {}
    of_job: dict[str, Issued] = {}

    def put(found: dict[str, Issued], name: str, one: Issued) -> None:
        if name not in found or _rank(one) >= _rank(found[name]):
            found[name] = one

    for file, settings in workbooks:
        found = json.loads(settings)
        number, day, order, released = (found.get(name) for name in ISSUED)
        one = Issued(number, day, order, released, kept=ISSUED[0] in found)
        put(of_file, file, one)
        if one.begun and found.get("job_number"):
            put(of_job, key(found["job_number"]), one._replace(own=False))

    def certificate(file: str, job: str | None) -> Issued:
        own = of_file.get(file, UNKNOWN)
        other = of_job.get(key(job), own)
        return own if _rank(own) >= _rank(other) else other

    return certificate


def _rank(one: Issued) -> tuple[bool, bool]:
    """How much a certificate says of what went out, to compare."""
    return bool(one.number), one.begun


def out_by(judged: Judged) -> str:
    """What a part is out by, whatever its pitch diameter is; empty where nothing else rejects it."""
    others = (("crest diameter", judged.crest_result), ("gauges", judged.ring_result))
    return next((what for what, result in others if result in REJECTED), "")


def action(shipped: str, old: str, new: str, out: str = "") -> str:
    """What is to be done about a part, by the results of its pitch diameter, and what else it is out by.

    >>> action("yes", "in", "high"), action("no", "in", "in"), action("yes", "in", "high", "gauges")
    ('tell the customer; quarantine; measure again', 'nothing: still in', 'nothing: out by its gauges')
    >>> action("perhaps", "low", "in")
    'measure again before it is used: it was rejected'
    >>> action("no", "undecided", "in"), action("no", "in", "undecided"), action("no", "undecided", "undecided")
    ('nothing: in now', 'quarantine; measure again', 'nothing: undecided as before')
    """
    if new == "replaced":
        return REPLACED
    if out:
        return f"{NOTHING}out by its {out}"
    if old in REJECTED:
        return STILL_OUT if new in REJECTED else IN_NOW
    if old == new and new in STILL:
        return STILL[new]
    return NOW_IN if new == "in" else ACTIONS[shipped]


def is_nothing(action: str) -> bool:
    """Whether nothing is to be done."""
    return action.startswith(NOTHING)


class Part(NamedTuple):
    """A part to do something about: where it is recorded, what its certificate is, and what to do."""

    file: str
    job: str
    certificate: str
    name: str
    action: str


def lines(parts: Sequence[Part]) -> Iterator[str]:
    """What to do, the most urgent first: the parts of each job under it."""
    wanted = (*ACTIONS.values(), IN_NOW)
    found = {one: [part for part in parts if part.action == one] for one in wanted}
    if not any(found.values()):
        return
    yield "To do:"
    for one, of_it in found.items():
        if not of_it:
            continue
        yield f"  {one[0].upper()}{one[1:]}:"
        for where in dict.fromkeys(part[:3] for part in of_it):
            named = ", ".join(part.name for part in of_it if part[:3] == where)
            yield f"    {', '.join(text for text in where[1:] if text)} ({where[0]}): part {named}"
