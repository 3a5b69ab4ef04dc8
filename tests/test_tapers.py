"""Taper pipe threads along their axis, against the printed tables of ASME B1.20.1 and ISO 7-1, and a drawing."""

from __future__ import annotations

from math import atan, cos, hypot, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import agrees, rows

from sheetfuncs import evaluate, standards, tapers, wires
from sheetfuncs.errors import CellError, NotGiven, OutOfRange

NPT_SIZES = [row["size"] for row in rows("npt_basic")]
TAPERS = [
    thread for key in ("npt", "pipe_taper_iso") for thread in standards.SYSTEMS[key].standard_threads()
]  # NPT says no side and is taken as the pipe; R and Rc say theirs


def full_length(thread) -> float:
    """From the small end of the pipe to where the flanks end, on the pipe or in the fitting."""
    return standards.system(thread).gauging(thread).formed_to


def planes(callout: str, *unit: str) -> dict[str, list[object]]:
    """Each row of THREAD_TAPER_PLANES by the symbol at the end of its name, or by the whole name."""
    _, *found = evaluate("THREAD_TAPER_PLANES", callout, *unit)
    return {str(row[0]).rpartition(", ")[2]: row[1:] for row in found}


def test_the_planes_of_every_npt_size_as_printed() -> None:
    """Table 2: E0, L1, E1, L2, E2, and L1, L2 in turns; L5 of the longer rows of its second half."""
    for row in rows("npt_basic"):
        found = planes(f"{row['size']}-{row['tpi']} NPT")
        printed = (
            *((found["E0"][2], "E0"), (found["L1"][0], "L1"), (found["L1"][2], "E1")),
            *(
                (found["L1"][1], "L1_turns"),
                (found["L2"][0], "L2"),
                (found["L2"][1], "L2_turns"),
                (found["L2"][2], "E2"),
            ),
        )
        for value, name in printed:
            assert not row[name] or agrees(value, row[name]), (row["size"], name, value)
    for row in rows("npt_lengths"):
        found = planes(f"{row['size']} NPT external")
        for value, name in ((found["L5"][0], "L5"), (found["L5"][2], "E5"), (found["L4"][0], "L4")):
            assert not row[name] or agrees(value, row[name], 1), (row["size"], name, value)  # L4 is printed cut off
        inside = planes(f"{row['size']} NPT internal")
        for value, name in ((-inside["L3"][0], "L3"), (inside["L3"][2], "E3")):
            assert not row[name] or agrees(value, row[name], 1), (row["size"], name, value)


def test_the_gauge_plane_of_every_r_size_as_printed() -> None:
    for row in rows("iso_7_1_jis"):
        size = row["size"]
        outside, inside = planes(f"R {size}"), planes(f"Rc {size}")
        assert outside["gauge plane"][0] == pytest.approx(float(row["a"]), abs=0.051)  # ISO prints it to 0.1 mm
        assert agrees(outside["gauge plane"][2], row["d2"])
        assert agrees(inside["gauge plane"][2], row["d2"])
        assert outside["small end"][2] == pytest.approx(float(row["d2"]) - float(row["a"]) / 16, abs=0.0032)
        assert evaluate(
            "THREAD_TAPER_TURNS", f"R {size}", outside["gauge plane"][3], outside["gauge plane"][0]
        ) == pytest.approx(
            float(row["b"]) / float(row["pitch_mm"]), abs=0.03
        )  # b: what the gauge plane may lie off its place


def test_a_blank_reaches_the_pipe_where_the_last_perfect_thread_is() -> None:
    """L5 is where a crest of the greatest height, 0.8 P, is as large as the pipe; beyond it nothing is turned."""
    for size in NPT_SIZES:
        callout = f"{size} NPT external"
        pipe, found = standards.read(callout), planes(callout)
        for plane in ("E0", "L1", "L5"):
            a_turn = pipe.pitch / 16
            assert found[plane][5] == pytest.approx(found[plane][2] + a_turn + 0.8 * pipe.pitch, abs=0.00003)
        assert found["L5"][5] - pipe.pitch / 16 == pytest.approx(pipe.diameter, abs=0.00003)
        assert found["L2"][5:] == found["L4"][5:] == ["", ""]
        assert found["L4"][2:] == [""] * 5
        assert planes(f"{size} NPT")["E0"] == found["E0"]


def test_planes_in_another_unit() -> None:
    inch, mm = planes("3/4-14 NPT")["L1"], planes("3/4-14 NPT", "mm")["L1"]
    assert [a * 25.4 for a in inch[2:]] == pytest.approx(mm[2:])
    assert mm[:2] == pytest.approx([inch[0] * 25.4, inch[1]])


@given(thread=st.sampled_from(TAPERS), place=st.floats(0, 1), further=st.floats(0, 1))
def test_turns_off_move_every_diameter_alike(thread, place: float, further: float) -> None:
    """A thread that is n turns large has at each place the basic diameter of n turns further on."""
    distance, along = (share * full_length(thread) for share in (place, further))
    most = 0.99 * tapers.MOST_TURNS * thread.pitch  # further is refused; the longest NPT has more turns
    along = min(max(along, distance - most), distance + most)
    larger = tapers.taper_diameter(thread, along)
    assert tapers.taper_turns(thread, larger, distance) == pytest.approx((along - distance) / thread.pitch, abs=1e-6)


@given(thread=st.sampled_from(TAPERS), place=st.floats(0, 1))
def test_limits_at_a_place_are_the_same_turns_off_as_at_the_gauge_plane(thread, place: float) -> None:
    distance = place * full_length(thread)
    largest, smallest = standards.limits(thread).pitch.ends
    gauge = standards.system(thread).gauging(thread).gauge.distance
    last = 10.0 ** -standards.system(thread).decimals
    for limit, end in (("max", largest), ("min", smallest)):
        found = tapers.taper_diameter(thread, distance, limit)
        off = 1.01 * last * 16 / thread.pitch
        assert tapers.taper_turns(thread, found, distance) == pytest.approx(
            tapers.taper_turns(thread, end, gauge), abs=off
        )
    middle = tapers.taper_diameter(thread, distance, "mid")
    assert middle == pytest.approx(tapers.taper_diameter(thread, distance), abs=last)


def drawn_reading(small_end: float, pitch: float, half_angle: float, wire: float, place: float) -> float:
    """Over three wires on a cone, by drawing.

    A groove is a V square to the axis, as deep as makes it half a pitch wide on the pitch line, which rises by 1 in 32.
    Its wire stands where both flanks are a radius away. One anvil lies on two wires, the other is parallel to it.
    """

    def width(at: float, sharp_bottom: float) -> float:
        crossings = []
        for side in (-1, 1):  # r = bottom + side (x - at) / tan a  meets  r = (small end + x / 16) / 2
            slope = side / tan(half_angle)
            crossings.append((small_end / 2 - sharp_bottom + slope * at) / (slope - 1 / 32))
        return crossings[1] - crossings[0]

    def centre(at: float) -> tuple[float, float]:
        high = (small_end + at / 16) / 2
        low = high - pitch
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (middle, high) if width(at, middle) > pitch / 2 else (low, middle)
        return at, low + wire / 2 / sin(half_angle)

    (x1, r1), (x2, r2), (x3, r3) = centre(place - pitch / 2), centre(place + pitch / 2), centre(place)
    across = (x2 - x1) * (-r3 - r1) - (r2 - r1) * (x3 - x1)
    return abs(across) / hypot(x2 - x1, r2 - r1) + wire


@pytest.mark.parametrize(
    ("callout", "wire", "place", "half_angle"),
    [
        ("3/4-14 NPT", 0.042, 0.2, 0.5235987755982988),
        ("1-11.5 NPT", 0.0502, 0.4, 0.5235987755982988),
        ("R 3/4", 1.05, 9.5, 0.4799655442984406),
        ("R 1", 1.35, 12.0, 0.4799655442984406),
    ],
)
def test_a_reading_at_a_place_is_that_of_a_drawing(callout: str, wire: float, place: float, half_angle: float) -> None:
    thread = standards.read(callout)
    small_end = evaluate("THREAD_TAPER_DIAMETER", callout, 0)
    found = evaluate("THREAD_OVER_WIRES", callout, wire, "basic", None, None, place)
    assert found == pytest.approx(drawn_reading(small_end, thread.pitch, half_angle, wire, place), abs=1e-9)
    back = evaluate("THREAD_PD_FROM_WIRES", callout, wire, found)
    assert evaluate("THREAD_TAPER_TURNS", callout, back, place) == pytest.approx(0, abs=1e-9)
    left = evaluate("THREAD_FEED_LEFT", callout, wire, found + 0.01, "basic", 0, None, None, place)
    assert left == pytest.approx(0.005 / cos(atan(1 / 32)), abs=1e-9)


def test_a_reading_at_the_gauge_plane_is_the_one_without_a_place() -> None:
    for callout, wire, plane in (("3/4-14 NPT", 0.042, 0.339), ("R 3/4", 1.05, 9.5)):
        for limit in ("max", "min", "mid"):
            there = evaluate("THREAD_OVER_WIRES", callout, wire, limit, None, None, plane)
            assert there == pytest.approx(evaluate("THREAD_OVER_WIRES", callout, wire, limit), abs=1e-9)


def test_the_gauge_plane_of_every_size_takes_three_wires() -> None:
    for thread in TAPERS:
        if thread.side != "internal":
            wires.over_wires(thread, wires.best_wire(thread), "max", place=wires_plane(thread))


def wires_plane(thread) -> float:
    return standards.system(thread).gauging(thread).gauge.distance


HAND_TIGHT = {row["size"]: float(row["L1"]) for row in rows("npt_basic")}
ON_NPT = [
    found
    for row in rows("npt_lengths")
    for found in (
        (f"{row['size']} NPT external", 0.0, float(row["L4"])),
        (f"{row['size']} NPT internal", -float(row["L3"]), HAND_TIGHT[row["size"]]),
        (f"{row['size']} NPT", -float(row["L3"]), float(row["L4"])),
    )
]


@pytest.mark.parametrize(("callout", "first", "last"), ON_NPT)
def test_a_place_is_on_the_thread_from_end_to_end_as_printed(callout: str, first: float, last: float) -> None:
    """ASME B1.20.1, Table 2: outside from the end to L4, inside from L1 to L3 beyond the end; with no side either."""
    for place in (first, last):
        inches = evaluate("THREAD_TAPER_DIAMETER", callout, place)
        assert evaluate("THREAD_TAPER_DIAMETER", callout, place * 25.4, "mm") == pytest.approx(inches * 25.4)
    for place in (first - 0.001, last + 0.001, -20, 9.5):
        for call in (("THREAD_TAPER_DIAMETER", callout, place), ("THREAD_TAPER_TURNS", callout, inches, place)):
            with pytest.raises(OutOfRange, match=r"^distance is .* in; on .* from .* in, counted from the small end"):
                evaluate(*call)


def test_a_place_on_a_jointing_thread() -> None:
    """JIS prints to 0.01 mm the gauge length a and the useful thread beyond it, f; ISO 7-1 has no end of the rest."""
    for row in rows("iso_7_1_jis"):
        gauge, useful = float(row["a"]), float(row["a"]) + float(row["f"])
        for place in (0.0, gauge, useful, 1.9 * useful):
            outside = evaluate("THREAD_TAPER_DIAMETER", f"R {row['size']}", place)
            inside = evaluate("THREAD_TAPER_DIAMETER", f"Rc {row['size']}", gauge - place)
            assert outside - inside == pytest.approx((2 * place - gauge) / 16)
        for callout, place in (("R", -0.2), ("R", 2.2 * useful), ("Rc", gauge + 0.3), ("Rc", gauge - 2.2 * useful)):
            with pytest.raises(OutOfRange, match=r"^distance is .* mm, counted from the small end of the pipe$"):
                evaluate("THREAD_TAPER_DIAMETER", f"{callout} {row['size']}", place)


@pytest.mark.parametrize("unit", ["in", "mm"])
def test_every_plane_that_is_named_is_on_the_thread(unit: str) -> None:
    for thread in TAPERS:
        for side in (thread.side,) if thread.side else ("external", "internal"):
            callout = standards.write(thread._replace(side=side))
            for _, distance, _, pitch_diameter, *_ in evaluate("THREAD_TAPER_PLANES", callout, unit)[1:]:
                found = evaluate("THREAD_TAPER_DIAMETER", callout, distance, unit)
                assert pitch_diameter in ("", pytest.approx(found))


REFUSED = [
    (("THREAD_TAPER_DIAMETER", "3/4-14 NPT", -20), OutOfRange, "it is from -0.2143 to 0.7936 in, counted from the"),
    (
        ("THREAD_TAPER_DIAMETER", "3/4-14 NPT external", 9.5),
        OutOfRange,
        "distance is 9.5 in; on 3/4-14 NPT external it",
    ),
    (("THREAD_TAPER_TURNS", "3/4-14 NPT", 1.5, 9.5), OutOfRange, "distance is 9.5 in"),
    (("THREAD_TAPER_TURNS", "M20x2.5", 18, 300), NotGiven, "is a parallel thread"),
    (("THREAD_TAPER_PLANES", "M20x2.5"), NotGiven, "is a parallel thread"),
    (("THREAD_TAPER_TURNS", "M20x2.5", 18, 3), NotGiven, "is a parallel thread"),
    (("THREAD_OVER_WIRES", "3/4-16 UNF-2A", 0.0361, "max", None, None, 0.3), NotGiven, "is a parallel thread"),
    (("THREAD_OVER_WIRES", "3/4-14 NPT", 0.042, "max", None, None, 0.39), OutOfRange, "from 0.0358 to 0.3671 in"),
    (("THREAD_OVER_WIRES", "3/4-14 NPT", 0.042, "max", None, None, 0.01), OutOfRange, "all three lie in full grooves"),
    (("THREAD_TAPER_TURNS", "3/4-14 NPT", 25, 0.339), OutOfRange, "check the unit and the place"),
]


@pytest.mark.parametrize(("call", "kind", "sentence"), REFUSED)
def test_refusals(call: tuple, kind: type[CellError], sentence: str) -> None:
    with pytest.raises(kind, match=sentence):
        evaluate(*call)
