"""What a standard's record says of its classes, callouts and starts, against its own reader, writer and limits."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from sheetfuncs import standards
from sheetfuncs.designations import Thread, plain
from sheetfuncs.errors import CellError
from sheetfuncs.standards import System

SYSTEMS = standards.SYSTEMS.values()
KEY = {"ids": lambda system: system.key}


def offered(system: System) -> Iterator[tuple[str, str, Thread]]:
    """Size, class and thread of every class that is offered at every standard size and not refused there."""
    for size in system.standard_threads():
        text = system.write(size)
        for name in system.classes_at(size):
            try:
                thread = system.read(system.with_class(text, name))
            except CellError:
                continue
            assert thread is not None, (text, name)
            yield text, name, thread


@pytest.mark.parametrize("system", SYSTEMS, **KEY)
def test_size_joiner_and_class_make_the_callout_that_is_written(system: System) -> None:
    found = list(offered(system))
    assert {name for _, name, _ in found} == set(system.offered)
    for text, name, thread in found:
        assert system.write(thread) == system.with_class(text, name)
        assert system.write(thread.size) == text
        assert system.class_of(thread) == name
        left = f"{system.with_class(text, name)}{system.joiner}LH"
        assert system.read(left) == thread._replace(left_hand=True)


@pytest.mark.parametrize("system", SYSTEMS, **KEY)
def test_a_lead_goes_where_the_system_has_several_starts(system: System) -> None:
    for text, name, thread in offered(system):
        if system.with_lead is None:
            assert system.read(text).starts == 1
            continue
        size = system.with_lead(thread, plain(3 * thread.pitch))
        assert system.read(system.with_class(size, name)).starts == 3


@pytest.mark.parametrize("system", SYSTEMS, **KEY)
def test_limits_change_at_the_widening_starts_alone(system: System) -> None:
    threads = [thread for _, _, thread in list(offered(system))[::7]]
    if system.with_lead is None:
        assert system.widening_starts == ()
        return
    changed = set()
    for starts in range(2, 13):
        for thread in threads:
            fewer, more = (thread._replace(starts=number) for number in (starts - 1, starts))
            try:
                if system.limits(fewer) != system.limits(more):
                    changed.add(starts)
                    break
            except CellError:
                continue
    assert changed == set(system.widening_starts)


def test_only_coarse_and_fine_unified_threads_have_class_1() -> None:
    classes = {
        series: standards.SYSTEMS["unified"].classes_at(standards.read(f"1-{series}")) for series in ("8 UNC", "16 UN")
    }
    assert classes["8 UNC"] == ("2A", "3A", "2B", "3B", "1A", "1B")
    assert classes["16 UN"] == ("2A", "3A", "2B", "3B")
