"""Whether a ring or plug gauge of the sheet Instruments is for the job: its kind, thread, class and hand.

The marking is typed as it stands on the gauge, as in `3/4-16 UNF-2A GO` or `M20x2.5-6g LH`, and is compared with the
callout of the job. It is read once a gauge, on Instruments; a row of the Log only looks up what came of it. How a
marking is read, exactly, stands with the rule of the log (`workbook_template.log`).
"""

from __future__ import annotations

from typing import NamedTuple


class Gauge(NamedTuple):
    """A kind of thread gauge: a ring goes over an outside thread, a plug into an inside one."""

    ring: bool
    go: bool
    not_go: bool


GAUGES = {
    "GO ring": Gauge(ring=True, go=True, not_go=False),
    "NOT GO ring": Gauge(ring=True, go=False, not_go=True),
    "GO/NOT GO ring": Gauge(ring=True, go=True, not_go=True),
    "GO plug": Gauge(ring=False, go=True, not_go=False),
    "NOT GO plug": Gauge(ring=False, go=False, not_go=True),
    "GO/NOT GO plug": Gauge(ring=False, go=True, not_go=True),
}
"""A pair of rings, or a plug with two ends, may be listed under one number."""

NO_SIZE = (*GAUGES, "setting plug", "gauge blocks", "thermometer")
"""Kinds that give no reading of a part."""

MOST = 1000000
"""Where an instrument's range ends if nothing is typed: more than any part."""

_OUT = (" ", "-", "–", "—", "−")
_AS = (("×", "X"), ("*", "X"), ("LEFTHAND", "LH"), ("RIGHTHAND", "RH"))
_NOT_THREAD = ("NOTGO", "NOGO", "GO", "EXTERNAL", "INTERNAL", "LH", "RH")


def substituted(text: str, pairs: tuple[tuple[str, str], ...]) -> str:
    """A text with each of some texts replaced, as a formula."""
    for old, new in pairs:
        text = f'SUBSTITUTE({text},"{old}","{new}")'
    return text


def normal(text: str) -> str:
    """A marking or callout in capitals without blanks and dashes, as a formula."""
    return substituted(f'UPPER({text}&"")', (*((sign, "") for sign in _OUT), *_AS))


def thread_alone(text: str) -> str:
    """What is left of a normal text without GO, side and hand, as a formula."""
    return substituted(text, tuple((word, "") for word in _NOT_THREAD))


def kind_is(row: int, kinds: tuple[str, ...]) -> str:
    """Whether the kind in this row is one of some."""
    tests = (f'B{row}&""="{kind}"' for kind in kinds)
    return f"OR({','.join(tests)})"


def _kinds(**wanted: bool) -> tuple[str, ...]:
    return tuple(
        kind for kind, one in GAUGES.items() if all(getattr(one, name) == value for name, value in wanted.items())
    )


def marking(row: int) -> str:
    """The marking in column C, normal, up to the pitch diameter where one is marked."""
    text = normal(f"C{row}")
    return f'IFERROR(LEFT({text},FIND("PD",{text})-1),{text})'


def marked(row: int) -> str:
    """The thread alone out of the marking in column U; HI and LO at its end are the NOT GO of a plug and a ring."""
    return thread_alone(f'IF(OR(RIGHT(U{row},2)="HI",RIGHT(U{row},2)="LO"),LEFT(U{row},LEN(U{row})-2),U{row})')


def _left(row: int) -> str:
    return f'ISNUMBER(FIND("LH",U{row}))'


def _marked_not_go(row: int) -> str:
    found = (f'ISNUMBER(FIND("{word}",U{row}))' for word in ("NOTGO", "NOGO"))
    return f'OR({",".join(found)},RIGHT(U{row},2)="HI",RIGHT(U{row},2)="LO")'


def _tests(row: int) -> tuple[tuple[str, str, str], ...]:
    """Why a gauge is none for the job, however it is used: a word for it, the test, what follows "Gauge G-1"."""
    ring, plug = _kinds(ring=True), _kinds(ring=False)
    left, not_go = _left(row), _marked_not_go(row)
    return (
        ("no thread yet", "NOT(ISNUMBER(thread_row))", '"can\'t be compared: no thread is chosen on Job"'),
        (
            "outside only",
            f'AND({kind_is(row, ring)},thread_side<>"external")',
            '"is a ring, and this is an inside thread"',
        ),
        (
            "inside only",
            f'AND({kind_is(row, plug)},thread_side<>"internal")',
            '"is a plug, and this is an outside thread"',
        ),
        ("no marking", f"LEN(V{row})=0", '"has no thread on Instruments"'),
        ("other thread", f"V{row}<>gauge_thread", f'"is for "&C{row}&", not for "&callout'),
        ("left hand", f'AND({left},hand<>"left")', '"is left hand, and this thread is right hand"'),
        ("right hand", f'AND(NOT({left}),hand="left")', '"is right hand, and this thread is left hand"'),
        (
            "marked NOT GO",
            f"AND({kind_is(row, _kinds(go=True, not_go=False))},{not_go})",
            f'"is marked NOT GO, and listed as "&B{row}',
        ),
        (
            "marked GO",
            f'AND({kind_is(row, _kinds(go=False))},ISNUMBER(FIND("GO",U{row})),NOT({not_go}))',
            f'"is marked GO, and listed as "&B{row}',
        ),
    )


def for_this_job(row: int) -> str:
    """Whether a gauge is for the job: yes, or why not in a word or two; nothing for what is no thread gauge."""
    text = '"yes"'
    for word, test, _ in reversed(_tests(row)):
        text = f'IF({test},"{word}",{text})'
    return f'IF(OR(ISBLANK(A{row}),NOT({kind_is(row, tuple(GAUGES))})),"",{text})'


def thread_fault(row: int) -> str:
    """The same in a sentence that follows the number of the gauge; empty where it is for the job."""
    text = f'IF(LEN(B{row})=0,"has no kind on Instruments","is a "&B{row}&", no ring or plug gauge")'
    for word, _, sentence in reversed(_tests(row)):
        text = f'IF(M{row}="{word}",{sentence},{text})'
    return f'IF(OR(ISBLANK(A{row}),M{row}="yes"),"",{text})'


def until(row: int, *, go: bool) -> str:
    """The last day on which a gauge counts as GO, or as NOT GO; -1 for never."""
    asked = _kinds(go=True) if go else _kinds(not_go=True)
    return f'IF(ISBLANK(A{row}),"",IF(W{row}<>"",-1,IF({kind_is(row, asked)},P{row},-1)))'


def fault(row: int, *, go: bool) -> str:
    """Why a gauge doesn't count as GO, or as NOT GO, after that day."""
    asked = _kinds(go=True) if go else _kinds(not_go=True)
    other = "is NOT GO: pass and go fails need the GO gauge" if go else "is GO: not go enters needs the NOT GO gauge"
    return f'IF(ISBLANK(A{row}),"",IF(W{row}<>"",W{row},IF({kind_is(row, asked)},Q{row},"{other}")))'


def reads_until(row: int) -> str:
    """The last day on which a reading of a size counts; -1 for what reads none."""
    return f'IF(ISBLANK(A{row}),"",IF({kind_is(row, NO_SIZE)},-1,P{row}))'


def reads_fault(row: int) -> str:
    """Why a reading of a size doesn't count after that day."""
    return f'IF(ISBLANK(A{row}),"",IF({kind_is(row, NO_SIZE)},"is a "&B{row}&": it measures no size",Q{row}))'


def _bound(row: int, letter: str, without: int) -> str:
    factor = f'IF(L{row}&""="mm",IF(unit="mm",1,1/25.4),IF(L{row}&""="in",IF(unit="mm",25.4,1),1))'
    return f'IF(ISBLANK(A{row}),"",IF(ISNUMBER({letter}{row}),MIN(MAX({letter}{row},0),{MOST})*{factor},{without}))'


def least(row: int) -> str:
    """Where the range of an instrument begins, working unit; 0 where nothing is typed."""
    return _bound(row, "J", 0)


def most(row: int) -> str:
    """Where it ends."""
    return _bound(row, "K", MOST)


def to_type(row: int) -> str:
    """What is still to be typed for a gauge or a range, as a formula that ends in a blank where there is anything."""
    ends = f"J{row}:K{row}"
    return (
        f'IF(AND({kind_is(row, tuple(GAUGES))},LEN(C{row})=0),"Type its thread as it is marked. ",'
        f"IF(OR(COUNT({ends})<COUNTA({ends}),IF(COUNT({ends})=2,J{row}>K{row},FALSE)),"
        f'"From and to are numbers, the smaller first. ",""))'
    )


WORKING = (
    ("U", "marking", "marking of a gauge in capitals, without blanks and dashes", marking),
    ("V", "marked", "thread of a gauge, out of its marking", marked),
    ("W", "thread_fault", "why a gauge is none for the job", thread_fault),
    (
        "X",
        "go_until",
        "last day on which it counts as GO gauge, a day number, -1 for never",
        lambda r: until(r, go=True),
    ),
    ("Y", "not_go_until", "last day on which it counts as NOT GO gauge", lambda r: until(r, go=False)),
    ("Z", "go_fault", "why it doesn't count as GO gauge after that day", lambda r: fault(r, go=True)),
    ("AA", "not_go_fault", "why it doesn't count as NOT GO gauge after that day", lambda r: fault(r, go=False)),
    ("AB", "reads_until", "last day on which its readings of sizes count, -1 for never", reads_until),
    ("AC", "reads_fault", "why its readings of sizes don't count after that day", reads_fault),
    ("AD", "least", "where its range begins, working unit", least),
    ("AE", "most", "where its range ends, working unit", most),
)
"""The working columns of the list of instruments: letter, name, meaning, formula of a row."""

UNTIL, FAULT = ("X", "Y"), ("Z", "AA")
"""The columns that a gauging looks up: the first of each for GO, the second for NOT GO."""
