"""Every spreadsheet function, in the order of the work.

A topic is loaded when it is first needed: one call from a shell should not wait for all of them.
"""

from __future__ import annotations

from sheetfuncs.caches import lru_cache
from sheetfuncs.registry import PREFIX, Record

TOPICS = (
    *("limits", "tapers", "wires", "cutting", "lathe", "gears", "functional", "identify"),
    "estimating",
    *("inspection", "gauge_study", "uncertainty", "sampling"),
)
"""The modules that hold the functions, in the order of the catalogue."""

RECORDS: tuple[Record, ...]
"""The records of all functions (loads every topic)."""


def __getattr__(name: str) -> object:
    if name == "RECORDS":
        return tuple(record for topic in TOPICS for record in _records(topic))
    raise AttributeError(f"module {__name__} has no attribute {name}")


@lru_cache(maxsize=256)
def find(name: str) -> Record | None:
    """The record of a function by its sheet name, in any case, with or without the prefix; None where there is none.

    >>> find("thread_pitch").signature
    'THREAD_PITCH(thread, [unit])'
    """
    wanted = (name.upper(), PREFIX + name.upper())
    return next((r for topic in TOPICS for r in _records(topic) if r.name in wanted), None)


@lru_cache(maxsize=len(TOPICS))
def _records(topic: str) -> tuple[Record, ...]:
    """The records of a topic's own functions, not of those it imports."""
    module = __import__(f"{__package__}.{topic}", fromlist=[topic])  # `importlib` would have to be loaded first
    functions = (item for item in vars(module).values() if getattr(item, "__module__", "") == module.__name__)
    return tuple(function.record for function in functions if hasattr(function, "record"))
