"""Sampling by attributes: the single sampling plans of MIL-STD-105E and ISO 2859-1, and their switching rules.

The tables are held as printed, arrows and all. A plan that an arrow leads to is used with its own sample size. Where
the sample reaches the lot, the whole lot is inspected, with the plan's acceptance number.
"""

from __future__ import annotations

from sheetfuncs import tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import plain
from sheetfuncs.errors import NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.records import NamedTuple
from sheetfuncs.registry import Example, sheet_function
from sheetfuncs.terms import TERMS

CATEGORY = "Thread inspection"
SOURCE = "MIL-STD-105E (1989), Tables I, II-A and II-B; ISO 2859-1:1999, Tables 1, 2-A and 2-B"

LEVELS = tuple(level.upper() for level in TERMS["level"].choices)
"""Inspection levels: special and general."""

_CODE_LETTERS = tables.rows("sampling_code_letters")
LOT_SIZES = tuple(int(row["lot_from"]) for row in _CODE_LETTERS)
"""The smallest lot of each row of the table of code letters."""

LETTERS = tuple("ABCDEFGHJKLMNPQR")
"""Code letters that a lot can have, smallest sample first."""


class Plan(NamedTuple):
    """A single sampling plan: `letter` is that of the row the arrows lead to."""

    n: int
    accept: int
    reject: int
    letter: str


@lru_cache(maxsize=3)
def _master(severity: str) -> tuple[dict[str, str], ...]:
    return tuple(tables.rows(f"sampling_{severity}"))


AQLS = tuple(float(name) for name in list(_master("normal")[0])[2:])
"""Acceptance quality limits of the tables: per cent nonconforming up to 10, nonconformities per 100 items beyond."""


def code_letter(lot: int, level: str = "II") -> str:
    """Sample size code letter of a lot.

    >>> code_letter(1000), code_letter(1000, "S-3")
    ('J', 'E')
    """
    if lot < LOT_SIZES[0]:
        raise OutOfRange(f"lot is {lot}; the tables begin with a lot of 2")
    return next(row for row in reversed(_CODE_LETTERS) if lot >= int(row["lot_from"]))[level]


def plan(letter: str, aql: float, severity: str = "normal") -> Plan:
    """The plan for a code letter, wherever the arrows lead.

    >>> plan("J", 1.0), plan("G", 1.0)
    (Plan(n=80, accept=2, reject=3, letter='J'), Plan(n=50, accept=1, reject=2, letter='H'))
    """
    if aql not in AQLS:
        near = min(AQLS, key=lambda one: abs(one - aql))
        raise NotGiven(f"aql is {plain(aql)}; the tables have no such value, the nearest is {plain(near)}")
    rows = _master(severity)
    column = list(rows[0])[2 + AQLS.index(aql)]
    place = next(number for number, row in enumerate(rows) if row["letter"] == letter)
    while "/" not in rows[place][column]:
        place += 1 if rows[place][column] == "v" else -1
    accept, reject = rows[place][column].split("/")
    return Plan(int(rows[place]["n"]), int(accept), int(reject), rows[place]["letter"])


@sheet_function(
    category=CATEGORY,
    returns=("code_letter", "sample_size", "accept_number", "reject_number", "sample_remark"),
    table="row",
    sources=("MIL-STD-105E", "ISO 2859-1"),
    examples=(
        Example((1000, 1.0), ("J", "80", "2", "3", ""), "MIL-STD-105E, Tables I and II-A"),
        Example(
            (20, 0.65),
            ("C", "20", "0", "1", "inspect all 20: the sample reaches the lot; the arrow leads to letter F"),
            "MIL-STD-105E, Tables I and II-A: C, arrow down to F with n 20",
        ),
    ),
)
def sample(lot: float, aql: float, level: str = "ii", severity: str = "normal") -> list[tuple[str, int, int, int, str]]:
    """Single sampling plan of a lot: code letter, sample size n, accept up to Ac, reject from Re, what to mind.

    Level II and normal inspection where nothing else is said. Normal and tightened plans are the same in MIL-STD-105E
    and ISO 2859-1:1999. Reduced ones are those of MIL-STD-105E, where more than Ac and less than Re nonconforming
    accept the lot but end reduced inspection; ISO 2859-1:1999 has others. A lot is inspected whole where the sample
    reaches it.

    >>> sample(2000, 0.65, "ii", "reduced")
    [('K', 50, 1, 3, 'between Ac and Re: accept the lot, and go back to normal inspection')]
    """
    if lot != int(lot):
        raise OutOfRange(f"lot is {plain(lot)}; it must be a whole number")
    size = int(lot)
    letter = code_letter(size, level.upper())
    found = plan(letter, aql, severity)
    remarks = []
    if found.n >= size:
        remarks.append(f"inspect all {size}: the sample reaches the lot")
    if found.letter != letter:
        remarks.append(f"the arrow leads to letter {found.letter}")
    if found.reject > found.accept + 1:
        remarks.append("between Ac and Re: accept the lot, and go back to normal inspection")
    return [(letter, min(found.n, size), found.accept, found.reject, "; ".join(remarks))]


@sheet_function(
    category=CATEGORY,
    returns=("inspection_next", "switching_remark"),
    table="row",
    sources=("ISO 2859-1", "MIL-STD-105E"),
    examples=(
        Example(
            ("accepted rejected accepted accepted rejected",),
            ("tightened", "2 of 5 or fewer lots in a row rejected"),
            "ISO 2859-1:1999, 9.3.1",
        ),
    ),
)
def switching(history: list[str], starts_with: str = "normal") -> list[tuple[str, str]]:
    """The inspection of the next lot by the results of the lots before, in order, and why.

    Normal to tightened when 2 of 5 or fewer lots in a row were rejected on original inspection; tightened to normal
    when 5 in a row were accepted; stop when 5 have been rejected under tightened (ISO 2859-1:1999, 9.3 and 9.4).
    Reduced inspection ends with one lot rejected; that it may begin is for the responsible authority to say. Each
    switch begins a new count.

    >>> switching(["rejected", "rejected", *["accepted"] * 5])
    [('normal', '5 lots in a row accepted')]
    """
    state, why, under = starts_with, "", []
    for result in history:
        if state == "discontinue":
            break
        under.append(result)
        switched = _switched(state, under)
        if switched:
            (state, why), under = switched, []
    return [(state, why)]


def _switched(state: str, under: list[str]) -> tuple[str, str] | None:
    """The state after the last lot and why; None where it stays. `under` are the lots since the last switch."""
    if state == "normal" and under[-5:].count("rejected") >= 2:
        return "tightened", "2 of 5 or fewer lots in a row rejected"
    if state == "tightened" and under.count("rejected") >= 5:
        return "discontinue", "5 lots rejected under tightened inspection: stop until the cause is mended"
    if state == "tightened" and under[-5:] == ["accepted"] * 5:
        return "normal", "5 lots in a row accepted"
    if state == "reduced" and under[-1] == "rejected":
        return "normal", "a lot rejected under reduced inspection"
    return None


def read_results(text: str) -> list[str]:
    """Results of lots from words: accepted or rejected (accept, a, reject, r will do), with spaces or commas between.

    >>> read_results("accepted, Rejected a")
    ['accepted', 'rejected', 'accepted']
    """
    words = text.lower().replace(",", " ").replace(";", " ").split()
    known = dict.fromkeys(("accepted", "accept", "a"), "accepted")
    known.update(dict.fromkeys(("rejected", "reject", "r"), "rejected"))
    for number, word in enumerate(words, start=1):
        if word not in known:
            raise NotUnderstood(f"history has '{word}' as result {number}; write accepted or rejected for each lot")
    return [known[word] for word in words]
