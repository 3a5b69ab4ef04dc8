"""The LAMBDAs of the wires, computed in formulon, are the functions of the catalogue, answers and refusals alike."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from lambda_engine import Call, Files, Given, Opened, Second, by_python, differences, same
from published_rows import agrees, rows

from sheetfuncs import standards
from sheetfuncs.designations import Thread
from sheetfuncs.wire_fit import proud_wire, usable_wires
from sheetfuncs.wires import best_wire

LIMITS = ("max", "min", "mid", "basic")
METHODS = (None, "handbook", "exact", " EXACT ")


def sizes_of_wires(thread: Thread) -> tuple[float, ...]:
    """Wires within and beyond what serves, at its ends and in its middle; any for a thread that none measures."""
    if thread.side == "internal":
        return (round(0.6 * thread.pitch, 6),)
    low, high = usable_wires(thread)
    wires = (best_wire(thread), low * 1.001, low * 0.999, high * 0.999, high * 1.001, proud_wire(thread) * 1.01)
    return tuple(round(wire, 7) for wire in wires)


def with_wires(files: Files) -> Iterator[tuple[int, str, Thread, float]]:
    """Every thread with every wire of its own, counted."""
    number = 0
    for callout in files.callouts:
        thread = standards.read(callout)
        for wire in sizes_of_wires(thread):
            number += 1
            yield number, callout, thread, wire


@pytest.mark.parametrize("name", ["BEST_WIRE", "WIRE_RANGE"])
def test_wires_of_a_thread(few: Opened, lambda_files: Files, name: str) -> None:
    units = (None, "in", "mm")
    calls = [(f"THREAD_{name}", (one, units[at % 3])) for at, one in enumerate(lambda_files.callouts)]
    assert differences(few.answers, calls) == []


def test_wire_constants(few: Opened, lambda_files: Files) -> None:
    calls = [("THREAD_WIRE_CONSTANT", (callout, wire)) for _, callout, _, wire in with_wires(lambda_files)]
    assert differences(few.answers, calls) == []


def over_wires(files: Files) -> Iterator[Call]:
    for number, callout, _, wire in with_wires(files):
        yield "THREAD_OVER_WIRES", (callout, wire, LIMITS[number % 4], None, METHODS[number // 4 % 4])


def test_readings_over_wires(few: Opened, lambda_files: Files) -> None:
    """By both methods; every wire at one limit, all limits in turn."""
    assert differences(few.answers, over_wires(lambda_files)) == []


def from_wires(files: Files, name: str, behind: tuple[Given, ...] = ()) -> Iterator[Call]:
    """Readings from far under the thread to far over it."""
    off = (0.0, 0.31, -0.5, 1.9, -2.05, 2.9, -3.2)
    for number, callout, thread, wire in with_wires(files):
        if number % 3 == 0:
            reading = round(standards.basic(thread).pitch + 3 * wire + (off[number // 3 % 7] - 0.87) * thread.pitch, 7)
            yield name, (callout, wire, reading, *behind, None, METHODS[number % 4])


def test_pitch_diameters_from_readings(few: Opened, lambda_files: Files) -> None:
    assert differences(few.answers, from_wires(lambda_files, "THREAD_PD_FROM_WIRES")) == []


@pytest.mark.parametrize(("angle", "step"), [(None, 1), (0, 1), (29.5, 1), ("6.5", 1), (46, 10), (-1, 10)])
def test_infeed_left(few: Opened, lambda_files: Files, angle: Given, step: int) -> None:
    """The last two no thread takes: each so many-th call is tried."""
    calls = list(from_wires(lambda_files, "THREAD_FEED_LEFT", ("mid", angle)))[::step]
    assert differences(few.answers, calls) == []


def test_there_and_back_with_the_lead_angle(few: Opened, lambda_files: Files) -> None:
    """Without Python: the pitch diameter of the reading at a limit is that limit."""
    tried = 0
    for callout in lambda_files.callouts:
        thread = standards.read(callout)
        call = f'"{callout}",THREAD_BEST_WIRE("{callout}")'
        found = few.formula(
            f'THREAD_PD_FROM_WIRES({call},THREAD_OVER_WIRES({call},"basic",,"exact"),,"exact")'
            f'-INDEX(THREADS_LIST_PITCH_BASIC,THREADS_LINE("{callout}"))'
        )
        if isinstance(found, float):
            tried += 1
            assert abs(found) < 1e-12 * thread.diameter + 1e-14, callout
    assert tried > 100


def test_published_readings_over_wires(few: Opened, lambda_files: Files) -> None:
    """The handbook's figures: of another diameter the reading is as much more or less."""
    by_pitch = {text.partition("-")[2].split()[0]: text for text in lambda_files.callouts if " UN" in text[-5:]}
    compared = 0
    for row in rows("wires_dims_over_wires_mh31"):
        callout = by_pitch.get(row["tpi"])
        found = few.answer(("THREAD_OVER_WIRES", (callout, float(row["wire"]), "basic"))) if callout else None
        if callout and isinstance(found, float):
            compared += 1
            moved = found - standards.read(callout).diameter + float(row["major"])
            assert agrees(moved, row["M_US_thread"], places_off=1), row
    assert compared > 25


PLACES = (0.02, 0.2, "5 mm", 0.34, 5.0)


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("callout", ["3/4-14 NPT", "3/4-14 NPT external", "R 3/4", "M20x2.5-6g"])
def test_the_place_of_the_single_wire_on_a_taper(few: Opened, callout: str, place: Given) -> None:
    wire = "1 mm"
    calls: list[Call] = [("THREAD_OVER_WIRES", (callout, wire, limit, None, None, place)) for limit in LIMITS]
    calls += [("THREAD_FEED_LEFT", (callout, wire, "27 mm", limit, 0, None, None, place)) for limit in LIMITS]
    assert differences(few.answers, calls) == []


UNIT_CALLS: tuple[Call, ...] = (
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "0.92 mm", "max")),
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", 0.92, "max", "mm")),
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "0.0361", "max")),
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "0.0361in", "max", "mm")),
    ("THREAD_PD_FROM_WIRES", ("M20x2.5-6g", "1.44 MM", "0.806 in")),
    ("THREAD_PD_FROM_WIRES", ("M20x2.5-6g", 0.0567, 0.806, "in")),
    ("THREAD_FEED_LEFT", ("M20x2.5-6g", 0.0567, 0.806, "max", None, "in")),
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "", "max")),
)
"""Lengths as text and in another unit; a wire that is left blank."""
SINGLE_FAULTS: dict[Call, str] = {
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "0,0361", "max")): "#VALUE!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "3 6", "max")): "#VALUE!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "5 %", "max")): "#VALUE!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", "mm", "max")): "#VALUE!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", 0, "max")): "#NUM!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", -0.0361, "max")): "#NUM!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", 0.02, "max")): "#NUM!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", 0.06, "max")): "#NUM!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2A", 0.0361, "max", None, "other")): "#VALUE!",
    ("THREAD_OVER_WIRES", ("3/4-16 UNF-2B", 0.0361, "max")): "#NUM!",
    ("THREAD_OVER_WIRES", ("2-4 BUTT-2A", 0.135, "max", None, "exact")): "#NUM!",
    ("THREAD_WIRE_CONSTANT", ("3/4-14 NPT", 0.042)): "#N/A",
    ("THREAD_PD_FROM_WIRES", ("3/4-16 UNF-2A", 0.0361, 19.3)): "#NUM!",
    ("THREAD_FEED_LEFT", ("3/4-16 UNF-2A", 0.0361, 0.7721, "max", 31)): "#NUM!",
}


@pytest.mark.parametrize("call", [*UNIT_CALLS, *SINGLE_FAULTS], ids=str)
def test_units_and_single_faults(few: Opened, call: Call) -> None:
    found = few.answer(call)
    assert same(found, by_python(call)), found
    assert found == SINGLE_FAULTS.get(call, found)


def test_a_column_of_readings(few: Opened) -> None:
    """One thread and one set of wires for all, or one of each for each."""
    for row, reading in enumerate((0.7721, 0.77, 0.9, 0.7621), start=1):
        few.put(row, reading)
    found = few.formula('THREAD_PD_FROM_WIRES("3/4-16 UNF-2A",0.0361,AZ1:AZ5)')
    expected = [by_python(("THREAD_PD_FROM_WIRES", ("3/4-16 UNF-2A", 0.0361, one))) for one in (0.7721, 0.77, 0.9)]
    assert [row[0] for row in found[:2]] == pytest.approx(expected[:2])
    assert found[2] == [expected[2]] == ["#NUM!"]
    assert found[4] == [""]


def test_a_second_engine_agrees(lambda_files: Files) -> None:
    second = Second(lambda_files)
    calls = [call for at, call in enumerate(over_wires(lambda_files)) if at % 17 == 0]
    calls += [call for at, call in enumerate(from_wires(lambda_files, "THREAD_PD_FROM_WIRES")) if at % 11 == 0]
    found = differences(second.answers, calls)
    assert len(calls) > 50
    assert found == []
