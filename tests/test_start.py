"""Records and caches that load quickly do what the standard library's do."""

from __future__ import annotations

import functools
import pickle
import subprocess
import sys
from collections import namedtuple
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetfuncs import caches, records

FIELDS = ("pitch", "lead", "starts", "note")
DEFAULTS = (1, "right")


class Ours(records.NamedTuple):
    """The same record as `Theirs`."""

    pitch: Any
    lead: Any
    starts: Any = 1
    note: Any = "right"

    @property
    def turns(self) -> Any:
        """A class of fields may have properties and methods."""
        return self.starts


Theirs = namedtuple("Ours", FIELDS, defaults=DEFAULTS)

VALUES = st.one_of(st.none(), st.integers(), st.floats(allow_nan=False), st.text(max_size=3))
NAMED = st.dictionaries(st.sampled_from([*FIELDS, "depth", "self", "cls", "_cls"]), VALUES, max_size=4)


def answer(made: Any, *values: Any, **named: Any) -> Any:
    """What a call gives, or what kind of error."""
    try:
        return tuple(made(*values, **named))
    except (TypeError, ValueError) as refused:
        return type(refused)


@given(st.lists(VALUES, max_size=5), NAMED)
def test_a_record_takes_what_a_named_tuple_takes(values: list[Any], named: dict[str, Any]) -> None:
    assert answer(Ours, *values, **named) == answer(Theirs, *values, **named)


@given(st.tuples(VALUES, VALUES, VALUES, VALUES), NAMED)
def test_a_record_is_changed_and_told_as_a_named_tuple(values: tuple[Any, ...], named: dict[str, Any]) -> None:
    ours, theirs = Ours(*values), Theirs(*values)
    assert answer(ours._replace, **named) == answer(theirs._replace, **named)
    assert ours == theirs == Ours._make(values) == pickle.loads(pickle.dumps(ours))
    assert type(Ours._make(values)) is type(pickle.loads(pickle.dumps(ours))) is type(ours._replace()) is Ours
    assert (repr(ours), hash(ours), ours._asdict()) == (repr(theirs), hash(theirs), theirs._asdict())
    assert [getattr(ours, field) for field in FIELDS] == list(values)
    assert ours.turns == values[2]
    assert (Ours._fields, Ours._field_defaults) == (Theirs._fields, Theirs._field_defaults)
    match ours:
        case Ours(pitch, lead):
            assert (pitch, lead) == values[:2]


def test_a_record_is_not_changed_in_place() -> None:
    ours = Ours(1.5, 3.0)
    for field in (*FIELDS, "depth"):
        with pytest.raises(AttributeError):
            setattr(ours, field, 2)
    with pytest.raises(TypeError, match="Ours has the fields pitch, lead, starts, note: each once"):
        Ours(1.5)  # type: ignore[call-arg]


@given(st.lists(st.integers(0, 6), max_size=40))
def test_a_cache_keeps_what_that_of_the_library_keeps(asked: list[int]) -> None:
    def squared(number: int) -> int:
        """A number times itself."""
        if number == 5:
            raise ValueError(number)
        return number**2

    ours, theirs = (one(maxsize=3)(squared) for one in (caches.lru_cache, functools.lru_cache))
    for number in asked:
        if number == 6:
            ours.cache_clear()
            theirs.cache_clear()
        else:
            assert answer(lambda one: (ours(one),), number) == answer(lambda one: (theirs(one),), number)
        assert tuple(ours.cache_info()) == tuple(theirs.cache_info())
    assert ours.cache_parameters() == theirs.cache_parameters()
    for name in ("__module__", "__name__", "__qualname__", "__doc__", "__annotations__", "__wrapped__"):
        assert getattr(ours, name) == getattr(theirs, name)


WITHOUT = """
import collections, functools, sys
sys.modules |= {"_collections": None, "_functools": None}
import sheetfuncs
from sheetfuncs.caches import lru_cache
print(lru_cache is functools.lru_cache, sheetfuncs.evaluate("THREAD_PITCH_DIAMETER", "M20x2.5-6g", "max"))
"""


def test_another_python_without_these_parts_computes_the_same() -> None:
    """18.334 mm: ISO 965-2, table 1."""
    root = Path(__file__).parent.parent
    run = subprocess.run([sys.executable, "-c", WITHOUT], capture_output=True, text=True, check=True, cwd=root)
    assert run.stdout.split() == ["True", "18.334"]
