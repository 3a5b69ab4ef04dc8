"""Where the figures of a thread come from, and which of them nobody has seen in print: data/origins.csv."""

from __future__ import annotations

from sheetfuncs import tables
from sheetfuncs.caches import lru_cache
from sheetfuncs.designations import Thread
from sheetfuncs.records import NamedTuple

COMPARED = ("diameter", "pitch", "starts", "engagement", "series", "cell")
"""The fields that a condition of the table may compare."""


class Origin(NamedTuple):
    """One kind of figure: the source it is from, what of it was seen in print, and what is from memory.

    `source` is a key of SOURCES and `place` the table or clause. `memory` says what is FROM MEMORY, empty where
    nothing is; `confirm` names the text that would settle what is from memory or was never compared.
    """

    systems: str
    side: str
    thread_class: str
    when: str
    figures: str
    source: str
    place: str
    seen: str
    memory: str
    confirm: str

    @property
    def trust(self) -> str:
        """In words: what is from memory, then what was seen."""
        remembered = f"FROM MEMORY: {self.memory}" if self.memory else ""
        printed = self.seen if self.seen.startswith(("no ", "by ")) or not self.seen else f"seen: {self.seen}"
        return "; ".join(part for part in (remembered, printed) if part)


class Condition(NamedTuple):
    """A field of the thread, = where it equals one of some values, < or > where it is under or over the only one."""

    name: str
    sign: str
    values: list[str]


def of(thread: Thread, cell: str = "") -> tuple[Origin, ...]:
    """The origins of a thread's figures, in the order of the table; of its limits only where it has a class.

    `cell` is what the standard's module knows of the tables' cells it read, in words with blanks between them, where
    rows of the table ask for them.

    >>> from sheetfuncs.standards import read
    >>> [origin.figures for origin in of(read("M20x2.5-6c")) if origin.memory]
    ['fundamental deviation a b c or d']
    >>> [origin.memory for origin in of(read("M20x2.5-6g")) if origin.memory]
    []
    """
    return tuple(
        origin
        for origin, conditions in _of_class(thread.system, thread.side, thread.thread_class)
        if all(_holds(one, thread, cell) for one in conditions)
    )


@lru_cache(maxsize=1)
def every() -> tuple[Origin, ...]:
    """The whole table."""
    return tuple(Origin(*row.values()) for row in tables.rows("origins"))


@lru_cache(maxsize=1024)
def _of_class(system: str, side: str, thread_class: str) -> tuple[tuple[Origin, list[Condition]], ...]:
    """Origins of a class, each with the conditions that its sizes must meet; few of the table's are left."""
    import re  # slow to load, and sizes and limits do without

    return tuple(
        (origin, [condition(text) for text in origin.when.split()])
        for origin in every()
        if system in origin.systems.split()
        and origin.side in ("", side)
        and (not origin.thread_class or re.fullmatch(origin.thread_class, thread_class) is not None)
    )


def condition(text: str) -> Condition:
    """What one condition of the table says.

    >>> condition("pitch=7|9")
    Condition(name='pitch', sign='=', values=['7', '9'])
    """
    for sign in "=<>":
        name, found, values = text.partition(sign)
        if found and name in COMPARED and values:
            return Condition(name, sign, values.split("|"))
    raise ValueError(f"table origins: '{text}' is no condition")


def _holds(one: Condition, thread: Thread, cell: str) -> bool:
    name, sign, listed = one
    value: str | float = cell if name == "cell" else getattr(thread, name)
    if isinstance(value, str):
        return any(word in listed for word in (value.split() if name == "cell" else [value]))
    number = float(listed[0])
    return {"<": value < number, ">": value > number, "=": value in map(float, listed)}[sign]
