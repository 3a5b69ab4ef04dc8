"""The budget against the GUM's own example, a library that propagates by itself, and the wire formula worked anew."""

from __future__ import annotations

import math

import pytest
from published_rows import agrees, rows
from uncertainties import ufloat, umath

from sheetfuncs import CellError, evaluate, wires
from sheetfuncs.standards import read
from sheetfuncs.uncertainty import Source, combine

BUDGET = {
    "wire_uncertainty": 0.0005,
    "micrometer_error": 0.003,
    "temperature_spread": 2,
    "repeatability": 0.001,
    "repeats": 10,
    "pitch_error": 0.004,
    "half_angle_error": 0.25,
}
THREADS = [("M20x2.5-6g", 1.55, 30, 30), ("Tr40x7-7e", 3.7, 15, 15), ("1/2-12 BSW medium bolt", 1.25, 27.5, 27.5)]


def table(callout: str, wire: float, *more: object) -> dict[str, list]:
    """The budget by its sources, in millimetres."""
    return {row[0]: row for row in evaluate("THREAD_UNCERTAINTY", callout, wire, *BUDGET.values(), *more)[1:]}


def test_the_guides_end_gauge() -> None:
    """JCGM 100:2008, H.1: uc 32 nm, 16 degrees of freedom, k 2.92 for 99 %, U 93 nm."""
    found = combine(
        [Source(row["quantity"], float(row["contribution_nm"]), 1.0, float(row["freedom"])) for row in rows("gum_h1")],
        coverage=0.99,
    )
    assert agrees(found.standard, "32")
    assert int(found.freedom) == 16
    assert agrees(found.factor, "2.92")
    assert agrees(found.factor * 32, "93")
    assert found.expanded == pytest.approx(93, abs=1)  # the guide's 93 is k times the rounded 32


@pytest.mark.parametrize(("callout", "wire", "leading", "trailing"), THREADS)
def test_combined_as_a_library_propagates_it(callout: str, wire: float, leading: float, trailing: float) -> None:
    """The measurement equation of ASME B1.2 and MH31 with uncertain inputs, differentiated by the library."""
    thread = read(callout)
    unit = 25.4 if thread.unit == "in" else 1.0
    pitch = thread.pitch * unit
    half = math.sqrt(3)
    reading = ufloat(20, 0.003 / half) + ufloat(0, 0.001)
    width, apart = ufloat(wire, 0.0005 / 2), ufloat(pitch, 0.004 / half)
    turned = ufloat(0, math.radians(0.25) / half)
    a, b = math.radians(leading) + turned, math.radians(trailing) + turned
    basic = evaluate("THREAD_PITCH_DIAMETER", callout, "basic", "mm")
    heat = ufloat(0, 2 / half) * 11.5e-6 * basic
    sine = umath.sin((a + b) / 2)
    diameter = reading + heat - width * (1 + umath.cos((a - b) / 2) / sine) + apart / (umath.tan(a) + umath.tan(b))
    found = table(callout, wire, None, "mm")["combined standard uncertainty"][5]
    assert found == pytest.approx(diameter.std_dev, rel=1e-6)


def test_sensitivities_are_differences_of_the_function() -> None:
    """A wire and a reading a little larger, put through THREAD_PD_FROM_WIRES."""
    thread, step = read("M20x2.5-6g"), 1e-5
    found = table("M20x2.5-6g", 1.4434)
    here = wires.pd_from_wires(thread, 1.4434, 20.5)
    by_wire = (here - wires.pd_from_wires(thread, 1.4434 + step, 20.5)) / step
    assert found["mean diameter of the wires"][3] == pytest.approx(by_wire, rel=1e-6)
    assert agrees(by_wire, "3.000")  # an error in the wire counts three times at 60 degrees
    by_reading = (wires.pd_from_wires(thread, 1.4434, 20.5 + step) - here) / step
    assert found["micrometer"][3] == pytest.approx(by_reading, rel=1e-6)
    longer = thread._replace(pitch=thread.pitch + step)
    by_pitch = (wires.pd_from_wires(longer, 1.4434, 20.5) - here) / step
    assert found["pitch of the part"][3] == pytest.approx(by_pitch, rel=1e-5)
    assert agrees(by_pitch, "0.8660")  # the pitch's share in the rule of MH31
    basic = evaluate("THREAD_PITCH_DIAMETER", "M20x2.5-6g", "basic")
    by_heat = basic - evaluate("THREAD_AT_20C", basic, 21, "steel")
    assert found["temperature, part against micrometer"][4] == pytest.approx(by_heat, rel=1e-4)


def test_an_angle_error_does_nothing_at_the_best_wire() -> None:
    best = evaluate("THREAD_BEST_WIRE", "M20x2.5-6g")
    assert table("M20x2.5-6g", best)["half angle of the part"][5] == pytest.approx(0, abs=1e-12)
    assert table("M20x2.5-6g", best * 1.1)["half angle of the part"][5] > 1e-4


def test_unlike_flanks_by_difference() -> None:
    """7/45 buttress: the wire rule M = E + W (1 + cos((a - b)/2) / sin((a + b)/2)) - P / (tan a + tan b), by hand."""
    pitch, wire, step = 0.4, 0.23, 1e-7

    def diameter(wire: float, turn: float) -> float:
        a, b = math.radians(45 + turn), math.radians(7 + turn)
        rise = 1 + math.cos((a - b) / 2) / math.sin((a + b) / 2)
        return 2.9 - wire * rise + pitch / (math.tan(a) + math.tan(b))

    found = {row[0]: row for row in evaluate("THREAD_UNCERTAINTY", "2.5-2.5 BUTT-2A", wire, *BUDGET.values())[1:]}
    by_wire = (diameter(wire, 0) - diameter(wire + step, 0)) / step
    by_angle = abs(diameter(wire, step) - diameter(wire, -step)) / (2 * step)
    assert found["mean diameter of the wires"][3] == pytest.approx(by_wire, rel=1e-5)
    assert found["half angle of the part"][4] == pytest.approx(by_angle, rel=1e-4)


def test_what_is_left_out_is_not_in_the_budget() -> None:
    few = [row[0] for row in evaluate("THREAD_UNCERTAINTY", "M20x2.5-6g", 1.4434, 0.0005, 0.003, 2, 0.001, 10)]
    assert len(few) == 7
    assert not [name for name in few if name.endswith("of the part")]


SOURCES = [name for name in BUDGET if name != "repeats"]
ROOTS = dict(zip(SOURCES, (4, 3, 3, 1, 3, 3)))
"""A stated value over the root of these is a standard uncertainty (JCGM 100:2008, 4.3)."""


@pytest.mark.parametrize("name", SOURCES)
def test_one_source_alone_is_the_whole_uncertainty(name: str) -> None:
    """By hand: all others 0, it is the value stated, over its root, times 3, 1, 18.3762 x 11.5e-6, 1, and 0.866."""
    by = {"wire_uncertainty": 3, "temperature_spread": 18.3762 * 11.5e-6, "pitch_error": math.sqrt(3) / 2}
    stated = {other: value if other in (name, "repeats") else 0 for other, value in BUDGET.items()}
    found = evaluate("THREAD_UNCERTAINTY", "M20x2.5-6g", 1.5, *stated.values())
    combined, last = found[-2], found[-1]
    if name == "half_angle_error":  # W cos a / sin^2 a - P / (2 sin^2 a), 1.5 x 3.4641 - 5
        by[name] = math.radians(abs(1.5 * 3.464101615 - 5))
    assert combined[5] == pytest.approx(BUDGET[name] / math.sqrt(ROOTS[name]) * by.get(name, 1), rel=1e-5)
    assert combined[6] == (9 if name == "repeatability" else "")
    assert agrees(last[3], "2.32" if name == "repeatability" else "2.00")  # of 9 degrees: JCGM 100:2008, Table G.2


def test_units_and_materials() -> None:
    mm, inch = (
        table("M20x2.5-6g", 1.55),
        evaluate(
            "THREAD_UNCERTAINTY", "M20x2.5-6g", "1.55 mm", "0.5 um", "3 um", 2, "1 um", 10, "4 um", 0.25, None, "in"
        ),
    )
    assert inch[-1][5] * 25.4 == pytest.approx(mm["coverage factor k, expanded uncertainty U"][5])
    assert inch[0][1] == "standard uncertainty, in"
    aluminium = table("M20x2.5-6g", 1.55, "aluminium")
    name = "temperature, part against micrometer"
    assert aluminium[name][5] / mm[name][5] == pytest.approx(23.1 / 11.5)


@pytest.mark.parametrize(
    ("cells", "words"),
    [
        (("M20x2.5-6g", 0.5, 0.0005, 0.003, 2, 0.001, 10), "too small"),
        (("M20x2.5-6g", 1.4434, -0.001, 0.003, 2, 0.001, 10), "wire_uncertainty is -0.001; it must be 0 or more"),
        (("M20x2.5-6g", 1.4434, 0.001, 0.003, -2, 0.001, 10), "temperature_spread is -2; it must be 0 or more"),
        (("M20x2.5-6g", 1.4434, 0, 0, 0, 0, 10, 0, 0), "every source of uncertainty is 0, and no measurement is exact"),
        (("M20x2.5-6g", 1.4434, 0, 0, 0, 0, 10), "every source of uncertainty is 0, and no measurement is exact"),
        (("M20x2.5-6g", 1.4434, 0.0005, 0.003, 2, 0.001, 10, 0, 95), "half_angle_error is 95 degrees; more than 5 is"),
        (("M20x2.5-6g", 1.4434, 0.0005, 0.003, 2, 0.001, 1), "2 readings at the least"),
        (("M20x2.5-6H", 1.4434, 0.0005, 0.003, 2, 0.001, 10), "internal thread"),
        (("3/4-14 NPT", 0.0412, 0.00002, 0.0001, 2, 0.0001, 10), "parallel threads"),
        (("M20x2.5-6g", 1.4434, None, 0.003, 2, 0.001, 10), "^$"),
    ],
)
def test_a_budget_refuses_in_words(cells: tuple, words: str) -> None:
    if words == "^$":
        assert evaluate("THREAD_UNCERTAINTY", *cells) == ""
        return
    with pytest.raises(CellError, match=words):
        evaluate("THREAD_UNCERTAINTY", *cells)
