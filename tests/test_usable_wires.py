"""Which wires are usable, drawn: a wire is let down into a groove of points at every corner of the tolerances."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import product
from math import cos, pi, radians, sin, sqrt, tan
from typing import NamedTuple

import pytest
from workbook_cases import Case

from sheetfuncs import evaluate, standards
from sheetfuncs.errors import OutOfRange
from sheetfuncs.wires import check_wire
from workbook_template.office import Document
from workbook_template.sheets import instruments

POINTS = 40_000


class Printed(NamedTuple):
    """A thread with its limits as printed: pitch diameter and major diameter, largest and smallest."""

    callout: str
    half_angle: float
    pitch: float
    pitch_diameters: tuple[float, float]
    majors: tuple[float, float]


# ASME B1.1-2003, Table 2A; ISO 965-2 (6g); ISO 2903 (7e, the major by its grade 4)
THREADS = (
    Printed("3/4-16 UNF-2A", 30, 1 / 16, (0.7079, 0.7029), (0.7485, 0.7391)),
    Printed("M20x2.5-6g", 30, 2.5, (18.334, 18.164), (19.958, 19.623)),
    Printed("Tr8x1.5-7e", 15, 1.5, (7.183, 7.013), (8.0, 7.85)),
)


def laid(thread: Printed, wire: float, pitch_diameter: float, major: float) -> tuple[float, float, float]:
    """Over the wires, height of the touching point and of the crest over the axis, from points of one flank."""
    a, half = radians(thread.half_angle), wire / 2
    bottom = pitch_diameter / 2 - thread.pitch / 4 / tan(a)
    heights = [bottom + (major / 2 - bottom) * n / POINTS for n in range(POINTS + 1)]
    found = max(
        (z + sqrt(half**2 - x**2), z) for z, x in ((z, (z - bottom) * tan(a)) for z in heights) if abs(x) < half
    )
    return 2 * (found[0] + half), found[1], major / 2


def corners(thread: Printed) -> Iterator[tuple[float, float]]:
    return iter(product(thread.pitch_diameters, thread.majors))


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: thread.callout)
def test_every_wire_of_the_range_is_proud_and_on_the_flank_everywhere(thread: Printed) -> None:
    smallest, largest = evaluate("THREAD_WIRE_RANGE", thread.callout)[0]
    for share in (0.002, 0.5, 0.998):
        wire = smallest + share * (largest - smallest)
        for pitch_diameter, major in corners(thread):
            over, touched, crest = laid(thread, wire, pitch_diameter, major)
            assert over > major, (share, pitch_diameter, major)
            assert touched < crest - thread.pitch / POINTS, (share, pitch_diameter, major)


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: thread.callout)
def test_a_wire_past_an_end_fails_at_one_corner(thread: Printed) -> None:
    smallest, largest = evaluate("THREAD_WIRE_RANGE", thread.callout)[0]
    below = [laid(thread, smallest * 0.998, *corner)[0] < corner[1] for corner in corners(thread)]
    assert below == [False, False, True, False]  # the largest crest at the smallest pitch diameter
    beyond = [laid(thread, largest * 1.002, *corner) for corner in corners(thread)]
    on_edge = [touched >= crest - 1e-12 for _, touched, crest in beyond]
    assert on_edge == [False, True, False, False]  # the smallest crest at the largest pitch diameter


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: thread.callout)
def test_a_wire_that_is_proud_nowhere_is_refused_and_one_that_is_somewhere_is_not(thread: Printed) -> None:
    a = radians(thread.half_angle)
    highest, lowest = thread.pitch_diameters[0], thread.majors[1]
    least = (lowest - highest + thread.pitch / 2 / tan(a)) / (1 + 1 / sin(a))
    assert laid(thread, least, highest, lowest)[0] == pytest.approx(lowest, abs=2e-4 * thread.pitch)
    read = standards.read(thread.callout)
    with pytest.raises(OutOfRange, match="too small"):
        check_wire(read, least * 0.9995)
    check_wire(read, least * 1.0005)


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    empty_workbook.set({"as_of": serial(date(2025, 6, 1))})
    return empty_workbook


def serial(day: date) -> int:
    return (day - date(1899, 12, 30)).days


@pytest.mark.parametrize("thread", THREADS, ids=lambda thread: thread.callout)
def test_the_sheet_names_the_same_range(sheet: Document, thread: Printed) -> None:
    sheet.set(Case(standards.read(thread.callout), "in", {}).sheet())
    ends = evaluate("THREAD_WIRE_RANGE", thread.callout, "in")[0]
    assert sheet.get(["smallest_wire", "largest_wire"]) == pytest.approx(list(ends), rel=1e-9)


@pytest.mark.parametrize("callout", ["1/4-18 NPT external", "3/4-14 NPT external", "R 3/4"])
def test_the_range_of_a_taper_is_that_of_the_printed_basic_sizes(sheet: Document, callout: str) -> None:
    sheet.set(Case(standards.read(callout), "in", {}).sheet())
    ends = evaluate("THREAD_WIRE_RANGE", callout, "in")[0]
    assert sheet.get(["smallest_wire", "largest_wire"]) == pytest.approx(list(ends), abs=1e-5)  # five decimals


SETS = (
    # number, mean, due, fit: the best wire of 3/4-16 is .57735/16 = .036084; usable are .0332 to .0569
    ("FAR", 0.0450, date(2026, 1, 1), None),
    ("LATE", 0.03609, date(2025, 5, 31), None),
    ("UNFIT", 0.03608, date(2026, 1, 1), "no"),
    ("LOW", 0.0300, date(2026, 1, 1), None),
    ("NEAR", 0.0355, date(2025, 6, 1), None),
    ("LARGE", 0.0370, date(2026, 1, 1), None),
)


def fill(sheet: Document, kept: tuple[str, ...]) -> None:
    rows = [row for row in SETS if row[0] in kept]
    columns = {
        "wires_id": [row[0] for row in rows],
        "wires_a": [row[1] for row in rows],
        "wires_due": [serial(row[2]) for row in rows],
        "wires_fit": [row[3] for row in rows],
    }
    count = instruments.WIRE_SETS
    sheet.set({name: [[one] for one in [*cells, *[None] * count][:count]] for name, cells in columns.items()})


NEAREST = (
    (("FAR", "LATE", "UNFIT", "LOW", "NEAR", "LARGE"), "NEAR, 0.03550"),
    (("FAR", "LATE", "LARGE"), "LARGE, 0.03700"),
    (("LATE", "UNFIT"), "none in date"),
    (("LOW",), "none in range"),
    ((), "none listed"),
)


@pytest.mark.parametrize(("kept", "words"), NEAREST)
def test_the_nearest_set_that_may_be_taken(sheet: Document, kept: tuple[str, ...], words: str) -> None:
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", {}).sheet())
    fill(sheet, kept)
    assert sheet["wire_set_nearest"] == words
    assert sheet["wire_used"] == ""  # the choice stays with the person


def test_one_entry_after_another(sheet: Document) -> None:
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", {}).sheet())
    fill(sheet, ("FAR", "NEAR", "LOW"))
    sheet.set({"as_of": serial(date(2025, 6, 2))})
    assert sheet["wire_set_nearest"] == "FAR, 0.04500"
    sheet.set({"as_of": serial(date(2025, 6, 1))})
    assert [row[0] for row in sheet["wires_words"]][:3] == ["yes", "crest first", "yes"]
    assert sheet["wires_serving"] == "Serving: FAR LOW (crest first) NEAR"
    sheet.set({"thread_class": "2B"})
    assert sheet["wire_set_nearest"] == ""
    sheet.set({"thread_class": "2A", "wire_set": "LOW"})
    assert sheet["wire_words"].startswith("May sit below the crest")
    assert sheet["wire_words"].split("take a wire over ")[1].startswith("0.0332")


def test_best_wire_of_sixty_degrees() -> None:
    assert cos(pi / 6) * 2 * evaluate("THREAD_BEST_WIRE", "3/4-16 UNF-2A") == pytest.approx(1 / 16)
