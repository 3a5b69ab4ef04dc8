"""Taper threads on the sheets, in a real spreadsheet program: printed tables, and readings off a cone that is drawn."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from math import atan, degrees
from pathlib import Path
from typing import Any

import pytest
from log_cases import FIRST, cell, cells, day, got, judge
from published_rows import agrees, rows
from read_back_files import part
from test_tapers import drawn_reading
from workbook_cases import Case, plain_file

from sheetfuncs import evaluate, standards
from workbook_template.office import Document, Office
from workbook_template.sheets import diagnosis, instruments, log

HALF = {"NPT": 0.5235987755982988, "R": 0.4799655442984406}
"""Half of 60 and of 55 degrees."""
INPUTS = {"tip_kind": "sharp", "aim_limit": "mid", "passes": 8, "pass_rule": "equal area"}
PLANES = ("name", "distance", "turns", "pitch_diameter", "max", "min", "blank_max", "blank_min")


@pytest.fixture(scope="module")
def sheet(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open."""
    path = tmp_path_factory.mktemp("taper") / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as document:
        yield document


def setup(sheet: Document, callout: str, unit: str, **inputs: Any) -> None:
    sheet.set(Case(standards.read(callout), unit, INPUTS | inputs).sheet() | {"measured_at": inputs.get("measured_at")})


def planes(sheet: Document) -> list[list[Any]]:
    """The lines of the planes on Setup."""
    return [list(row) for row in zip(*([value for (value,) in sheet[f"taper_plane_{name}"]] for name in PLANES))]


# ---- Setup and Card against printed tables


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("size", ["1/8", "3/4", "1", "2 1/2"])
def test_the_planes_of_an_npt_pipe_as_printed(sheet: Document, size: str, unit: str) -> None:
    """ASME B1.20.1-1983, Table 2, in inches; a book in mm must have 25.4 times that."""
    printed = next(row for row in rows("npt_basic") if row["size"] == size)
    (lengths,) = [row for row in rows("npt_lengths") if row["size"] == size] or [{"L5": "", "E5": ""}]
    setup(sheet, f"{size}-{printed['tpi']} NPT external", unit)
    factor = 25.4 if unit == "mm" else 1.0
    small, hand, last, effective = planes(sheet)
    for row, column, name in (
        (small, 3, "E0"), (hand, 1, "L1"), (hand, 3, "E1"), (effective, 1, "L2"), (effective, 3, "E2"),
    ):  # fmt: skip
        assert not printed[name] or agrees(row[column] / factor, printed[name]), (name, row)
    for column, name in ((1, "L5"), (3, "E5")):
        assert not lengths[name] or agrees(last[column] / factor, lengths[name], 1), (name, last)
    assert agrees(hand[2], printed["L1_turns"] or f"{hand[2]:.2f}")
    assert [row[0] for row in (small, hand, last, effective)] == [
        "small end, E0", "hand-tight plane L1", "last perfect thread, L5", "effective thread, L2",
    ]  # fmt: skip
    pitch = factor / float(printed["tpi"])
    for row in (small, hand, last, effective):  # one turn either way, on the diameter a sixteenth of a pitch
        assert [row[4] - row[3], row[3] - row[5]] == pytest.approx([pitch / 16] * 2, abs=6e-6 * factor)
    assert effective[6:] == ["", ""]
    assert sheet["taper_turn"] == pytest.approx(pitch / 16)


def test_three_quarter_npt_as_a_machinist_has_it(sheet: Document) -> None:
    """E0 .96768, E1 .98887, L1 .339 (B1.20.1, Table 2); heights .05714 and .05072 (MH27 p. 1863); .0045 a turn."""
    setup(sheet, "3/4-14 NPT external", "in")
    small, hand, *_ = planes(sheet)
    assert [round(value, 4) for value in (small[3], hand[3], hand[1])] == [0.9677, 0.9889, 0.339]
    assert small[6:] == pytest.approx([0.96768 + 0.00446 + 0.05714, 0.96768 - 0.00446 + 0.05072], abs=2e-5)
    assert sheet["taper_half_angle"] == "1°47'"
    assert degrees(atan(1 / 32)) == pytest.approx(1 + 47.4 / 60, abs=0.001)
    assert "1/32 of the whole length" in sheet["taper_setting"]
    assert sheet["taper_gauge_words"].startswith("Ring by hand, its face flush with the end: basic; 1 turn either way")
    assert "0.0714 along the axis, 0.0045 on the diameter" in sheet["taper_gauge_words"]
    card = sheet["card_blank"]
    assert card.startswith("Blank 1.0216 at end, ")
    assert "Pitch dia. 0.9677 at end, 0.9889 at L1 0.3390." in card
    assert sheet["card_over_wires_aim_head"] == "Over wires at 0.3390, aim"
    assert "tailstock over 1/32 of the length" in sheet["carriage_words"]


@pytest.mark.parametrize("unit", ["in", "mm"])
@pytest.mark.parametrize("size", ["1/8", "3/4", "1", "3"])
def test_the_gauge_plane_of_an_r_pipe_as_printed(sheet: Document, size: str, unit: str) -> None:
    """ISO 7-1, Table 1, as JIS B 0203:1999 prints it: d2 at the gauge length a, b either way."""
    printed = next(row for row in rows("iso_7_1_jis") if row["size"] == size)
    setup(sheet, f"R {size}", unit)
    factor = 1.0 if unit == "mm" else 1 / 25.4
    small, gauge, last, none = planes(sheet)
    assert (gauge[0], last[0], none) == ("gauge plane", "useful thread ends", [""] * len(PLANES))
    assert gauge[1] / factor == pytest.approx(float(printed["a"]), abs=0.051)  # ISO prints it to 0.1 mm
    assert agrees(gauge[3] / factor, printed["d2"])
    assert small[3] / factor == pytest.approx(float(printed["d2"]) - float(printed["a"]) / 16, abs=0.0033)
    assert last[1] / factor == pytest.approx(float(printed["a"]) + float(printed["f"]), abs=0.06)
    assert (gauge[4] - gauge[3]) / factor * 16 == pytest.approx(float(printed["b"]), abs=0.02)
    assert "(ISO 7-1)" in sheet["taper_gauge_words"]


def test_a_fitting_is_told_from_its_face(sheet: Document) -> None:
    setup(sheet, "3/4-14 NPT internal", "in", measured_at=0.1)
    face, by_hand, by_wrench, none = planes(sheet)
    assert (face[1], none) == (0, [""] * len(PLANES))
    assert [agrees(row[3], text) for row, text in ((face, "0.98887"), (by_hand, "0.96768"))] == [True, True]
    printed = next(row for row in rows("npt_lengths") if row["size"] == "3/4")
    assert agrees(by_wrench[3], printed["E3"], 1)
    assert "pitch diameter 0.9782 to 0.9871 there" in sheet["taper_place_words"]  # .98887 -+ .00446 less .1 / 16
    assert "Pitch dia. 0.9889 at face." in sheet["card_blank"]


@pytest.mark.parametrize(
    ("callout", "unit", "wire", "place", "basic", "half"),
    [
        ("3/4-14 NPT external", "in", 0.042, 0.1, (0.9676786, 1 / 14), HALF["NPT"]),
        ("3/4-14 NPT external", "in", 0.042, None, (0.9676786, 1 / 14), HALF["NPT"]),
        ("1-11.5 NPT external", "mm", 1.28, 7.5, (1.2136304 * 25.4, 25.4 / 11.5), HALF["NPT"]),
        ("R 3/4", "mm", 1.05, 4.0, (25.279 - 9.5 / 16, 25.4 / 14), HALF["R"]),
        ("R 1", "in", 0.053, 0.5, ((31.770 - 10.4 / 16) / 25.4, 1 / 11), HALF["R"]),
    ],
)
def test_readings_at_a_place_are_those_of_a_drawing(
    sheet: Document, callout: str, unit: str, wire: float, place: float | None, basic: tuple[float, float], half: float
) -> None:
    """Small end by hand from Tables 2 and 1: E0 .96768 and 1.21363, d2 - a/16; a turn of the standard either way."""
    small_end, pitch = basic
    setup(sheet, callout, unit, wire_in_use=wire, measured_at=place)
    used = {"3/4-14 NPT external": 0.339}[callout] if place is None else place
    last = 1e-5 if unit == "in" else 3e-4
    for turns, name in ((1, "over_wires_max"), (0, "micrometer_preset"), (-1, "over_wires_min")):
        drawn = drawn_reading(small_end + turns * pitch / 16, pitch, half, wire, used)
        assert sheet[name] == pytest.approx(drawn, abs=last if "NPT" in callout else 6e-4), name
    call = ("THREAD_OVER_WIRES", callout, wire, "max", unit, "handbook", used)
    assert sheet["over_wires_max"] == pytest.approx(evaluate(*call), abs=1e-12)
    assert f"at {used:.{4 if unit == 'in' else 3}f}" in sheet["taper_place_words"]


def test_the_place_moves_blank_and_reading_and_not_the_depth(sheet: Document) -> None:
    """One cell at a time: the same cone, its blank measured .1 in nearer to the end, is .00625 in smaller there."""
    setup(sheet, "3/4-14 NPT external", "in", blank_measured=1.0428, wire_in_use=0.042)
    depth, over = sheet.get(["depth", "over_wires_max"])
    sheet.set({"measured_at": 0.239})
    assert sheet["over_wires_max"] == pytest.approx(over - 0.00625 * 0.999512, abs=1e-6)
    assert sheet["depth"] == pytest.approx(depth - 0.00625 / -2, abs=1e-9)
    sheet.set({"blank_measured": 1.03655})
    assert sheet["depth"] == pytest.approx(depth, abs=1e-9)
    by_function = evaluate("THREAD_DEPTH", "3/4-14 NPT external", "sharp", "mid", 1.0428, "in")
    assert depth == pytest.approx(by_function, abs=1e-12)
    for wrong in (0.38, "near the end"):  # past the last place where three wires lie in full grooves
        sheet.set({"measured_at": wrong})
        assert sheet["setup_fault"].startswith("Measured at: type the distance from the small end, 0.0358 to 0.3671 in")
        assert {sheet[name] for name in ("depth", "over_wires_max", "micrometer_preset")} == {"–"}
    sheet.set({"measured_at": None})
    assert sheet["setup_fault"] == ""
    assert sheet["measured_at_words"] == "empty: 0.3390"


def test_nothing_of_it_shows_on_a_parallel_thread(sheet: Document) -> None:
    setup(sheet, "3/4-16 UNF-2A", "in", wire_in_use=0.0361, measured_at=0.2)
    assert planes(sheet) == [[""] * len(PLANES)] * 4
    told = [f"taper_{name}" for name in ("setting", "gauge_words", "place_words", "fault")]
    assert sheet.get([*told, "measured_at_words"]) == [""] * 5
    assert "aper" not in sheet["card_blank"]
    assert round(sheet["over_wires_max"], 4) == 0.7621  # ASME B1.1 limits with the rule of MH31 p. 2130
    assert [word for (word,) in sheet["log_ring_words"]] == ["pass", "go fails", "not go enters"]


# ---- Log: parts that are drawn


LISTED = {
    "instrument_id": ["M-1", "T-1", "G-1", "G-2"],
    "instrument_kind": ["micrometer", "taper ring", "GO ring", "NOT GO ring"],
    "instrument_fit": [None] * 4,
    "instrument_thread": [None, "3/4-14 NPT L1", "3/4-14 NPT external", "3/4-14 NPT"],
}


def taper(log_sheet: Document, callout: str, unit: str, wire: float, place: float | None) -> None:
    """The log of a taper thread: thread, wire and place typed once."""
    log_sheet.set(Case(standards.read(callout), unit, {"wire_in_use": wire, "aim_limit": "mid"}).sheet())
    listed = {name: cells(values, instruments.INSTRUMENTS) for name, values in LISTED.items()}
    due = cells([day("2030-01-01")] * 4, instruments.INSTRUMENTS)
    wires = cells([wire], instruments.WIRE_SETS)
    log_sheet.set(listed | {"instrument_due": due, "wires_a": wires, "wires_b": wires, "wires_c": wires})
    log_sheet.set({"log_once_place": place})


PARTS = ((-1.3, "low"), (-0.97, "in"), (-0.2, "in"), (0.6, "in"), (0.97, "in"), (1.05, "high"))
"""Turns that a drawn part is off, and the word for it: ASME B1.20.1 and ISO 7-1 let these be one turn off."""


@pytest.mark.parametrize(
    ("callout", "unit", "wire", "small_end", "pitch", "half", "places"),
    [
        ("3/4-14 NPT external", "in", 0.042, 0.9676786, 1 / 14, HALF["NPT"], (0.05, 0.2, 0.36)),
        ("1-11.5 NPT external", "mm", 1.28, 1.2136304 * 25.4, 25.4 / 11.5, HALF["NPT"], (2.0, 7.5, 11.0)),
        ("R 3/4", "mm", 1.05, 25.279 - 9.5 / 16, 25.4 / 14, HALF["R"], (2.0, 9.5, 13.0)),
    ],
)
def test_a_part_is_judged_alike_wherever_it_is_measured(
    log_sheet: Document,
    callout: str,
    unit: str,
    wire: float,
    small_end: float,
    pitch: float,
    half: float,
    places: Sequence[float],
) -> None:
    taper(log_sheet, callout, unit, wire, places[0])
    gauge = {"3/4-14 NPT external": 0.339, "1-11.5 NPT external": 0.4 * 25.4, "R 3/4": 9.5}[callout]
    made = [(turns, word, place) for turns, word in PARTS for place in places]
    digits = 5 if unit == "in" else 4
    readings = [
        round(drawn_reading(small_end + turns * pitch / 16, pitch, half, wire, place), digits)
        for turns, _, place in made
    ]
    typed = [
        {"reading": reading, "place": None if place == places[0] else place}
        for reading, (_, _, place) in zip(readings, made)
    ]
    for (turns, word, _), row in zip(made, judge(log_sheet, typed)):
        assert row["pitch_diameter_result"] == word, (turns, row)
        at_gauge = small_end + gauge / 16 + turns * pitch / 16
        assert row["pitch_diameter"] == pytest.approx(at_gauge, abs=2 * 10**-digits + (4e-5 if unit == "mm" else 0))
        assert row["words"].split(" turns")[0].endswith(f"{abs(turns):.2f}") or abs(turns) < 0.01
        assert ("small" in row["words"]) == (turns < 0)
        assert not [told for told in ("NOT GO", "go fails", "not go") if told in row["reason"]]


def test_the_place_decides_and_is_asked_for(log_sheet: Document) -> None:
    """A reading that is right .2 in from the end is 1.4 turns small for .3 in; one cell is edited at a time."""
    taper(log_sheet, "3/4-14 NPT external", "in", 0.042, None)
    right = round(drawn_reading(0.9676786, 1 / 14, HALF["NPT"], 0.042, 0.2), 4)
    (found,) = judge(log_sheet, [{"reading": right, "crest": 1.0341}])
    assert (found["pitch_diameter"], found["pitch_diameter_result"], found["crest_result"]) == (
        "",
        "check entry",
        "check entry",
    )
    assert found["words"].startswith("Where was it measured? At the top: type the distance from the small end, 0.0358")
    assert log_sheet["log_step"] == "Over the pitch diameters type at what distance from the small end is measured."
    assert log_sheet.get(["log_over_wires_max", "log_crest_max"]) == ["–", "–"]
    results = ("pitch_diameter_result", "crest_result", "worst")

    def after(place: str, value: Any) -> list[Any]:
        log_sheet.set({place: value})
        return got(log_sheet, results, 1)[0]

    assert after("log_once_place", 0.2) == ["in", "in", "in"]
    assert after(cell("place"), 0) == ["check entry", "check entry", "check entry"]  # the row's own, no full groove
    told = "Places in the row's own columns: type the distance from the small end, 0.0358"
    assert log_sheet[cell("words")].startswith(told)
    assert after(cell("place"), None) == ["in", "in", "in"]
    over = drawn_reading(0.9676786 + 1 / 14 / 16, 1 / 14, HALF["NPT"], 0.042, 0.2)
    assert log_sheet["log_over_wires_max"] == pytest.approx(over, abs=1e-5)
    assert after("log_once_place", 0.3) == ["low", "in", "low"]
    assert after(cell("place"), 0.2) == ["in", "in", "in"]
    assert after(cell("place"), 0.39) == ["check entry", "check entry", "check entry"]
    assert after(cell("reading"), None) == ["not measured", "low", "low"]  # a plain size has room to .4029
    assert after(cell("place"), "end") == ["not measured", "check entry", "check entry"]
    assert log_sheet["log_pitch_diameter_head"] == "Pitch dia. at L1"


def test_two_stations_are_compared_with_the_taper_of_the_standard(log_sheet: Document) -> None:
    """A cone of 1 in 16 shows nothing. One of 1 in 20 lacks (1/16 - 1/20) x .25 = .003125 in: 35 % of .00893."""
    taper(log_sheet, "3/4-14 NPT external", "in", 0.042, 0.1)
    one, two = (drawn_reading(0.9676786, 1 / 14, HALF["NPT"], 0.042, place) for place in (0.1, 0.35))
    flat = two - 0.003125
    rows_ = [{"reading": one, "reading_2a": other, "place_2": 0.35} for other in (two, flat)]
    right, wrong = judge(log_sheet, [*rows_])
    assert right["taper"] == pytest.approx(0, abs=1e-5)  # the anvils lie along the cone: 1 - cos of half its angle
    assert (right["pitch_diameter_result"], right["words"][:18]) == ("in", "Off its taper by 0")
    assert wrong["taper"] == pytest.approx(0.003125, abs=1e-5)
    assert "Off its taper by 35 % of the tolerance." in wrong["words"]
    assert (wrong["pitch_diameter_result"], wrong["pitch_diameter"]) == (
        "in",
        pytest.approx(0.9888661 - 0.003125, abs=1e-5),
    )


CHECK = "check entry"


def test_ring_and_plug_of_a_taper_thread(log_sheet: Document) -> None:
    """One turn either way (ASME B1.20.1); words of parallel gauges are refused, and so is a NOT GO."""
    taper(log_sheet, "3/4-14 NPT external", "in", 0.042, 0.2)
    by_word = {
        "pass": "in",
        "too large": "high",
        "too small": "low",
        **dict.fromkeys(("go fails", "not go enters"), CHECK),
    }
    by_turns = {1.0: "in", -1.0: "in", 1.25: "high", -1.25: "low", 30.0: CHECK, "one": CHECK}
    cases = (
        *(({"ring": said}, word) for said, word in by_word.items()),
        *(({"gauge_turns": said}, word) for said, word in by_turns.items()),
        ({"gauge_turns": 0.0, "ring": "pass"}, "in"),
        ({"gauge_turns": 2.0, "ring": "pass"}, CHECK),
        ({"ring": "pass", "gauge": "G-1"}, "in"),
        ({"ring": "pass", "gauge": "G-2"}, "check instrument"),
        ({"gauge_turns": 0.5, "gauge": None}, "check instrument"),
    )
    found = judge(log_sheet, [{"gauge": "T-1", **row} for row, _ in cases])
    assert [row["ring_result"] for row in found] == [word for _, word in cases]
    assert found[7]["reason"] == "Gauge: 1.25 turns large."
    assert [word for (word,) in log_sheet["log_ring_words"]] == ["pass", "too large", "too small"]


FITTINGS = (
    ("3/4-14 NPT internal", "in", 0.98887, 1 / 14, 1.0, 0.1, 0.9301),
    ("Rc 3/4", "mm", 25.279, 25.4 / 14, 1.25, 2.0, 24.0),
)
"""E1 of ASME B1.20.1, Table 2, and d2 of ISO 7-1, Table 1, at the face; pitch; turns either way; a place and its bore.

Either way is a turn in ASME B1.20.1; JIS B 0203:1999 prints c 2.27 mm for Rc 3/4, which is 1.25 turns of 1.8143.
"""


@pytest.mark.parametrize(("callout", "unit", "at_face", "pitch", "either_way", "depth", "bore"), FITTINGS)
def test_a_fitting_has_a_verdict_from_its_pitch_diameter_and_from_its_plug(
    log_sheet: Document,
    callout: str,
    unit: str,
    at_face: float,
    pitch: float,
    either_way: float,
    depth: float,
    bore: float,
) -> None:
    """By hand: at a depth a fitting is smaller by a sixteenth of that; a turn is a sixteenth of the pitch."""
    taper(log_sheet, callout, unit, 0.58 * pitch, depth)
    plug = cells([None, callout], instruments.INSTRUMENTS)
    kinds = cells(["micrometer", "taper plug"], instruments.INSTRUMENTS)
    log_sheet.set({"instrument_thread": plug, "instrument_kind": kinds})
    digits = 4 if unit == "in" else 3
    basic = at_face - depth / 16
    sizes = [round(basic + turns * pitch / 16, digits) for turns in (-1.05, -0.9, 0, 0.9, 1.05)]
    small, large = sizes[0] - (either_way - 1) * pitch / 16, sizes[-1] + (either_way - 1) * pitch / 16
    wanted = ("low", "in", "in", "in", "high")
    found = judge(log_sheet, [{"direct": size, "crest": bore} for size in (small, *sizes[1:-1], large)])
    assert [row["pitch_diameter_result"] for row in found] == list(wanted)
    assert [row["crest_result"] for row in found] == ["in"] * 5
    assert found[2]["pitch_diameter"] == pytest.approx(at_face, abs=0.6 * 10**-digits)
    deeper = round(basic - depth / 32, digits)  # the same fitting measured half as deep again
    (other,) = judge(log_sheet, [{"direct": deeper, "place": 1.5 * depth}])
    assert other["pitch_diameter"] == pytest.approx(at_face, abs=0.6 * 10**-digits)
    turns = (-either_way - 0.1, -either_way, 0.0, either_way, either_way + 0.1)
    by_plug = judge(log_sheet, [{"gauge_turns": turn, "gauge": "T-1", "instrument": None} for turn in turns])
    assert [row["ring_result"] for row in by_plug] == list(wanted)
    assert [row["worst"] for row in by_plug] == list(wanted)
    assert {row["pitch_diameter_result"] for row in by_plug} == {"not measured"}


def test_over_wires_a_fitting_is_told_what_to_fill(log_sheet: Document) -> None:
    taper(log_sheet, "3/4-14 NPT internal", "in", 0.042, 0.1)
    (found,) = judge(log_sheet, [{"reading": 0.98, "wires": None}])
    assert found["pitch_diameter_result"] == CHECK
    told = "No wires on this thread: fill the pitch diameter, or the turns that the plug stands off."
    assert found["words"] == told
    assert log_sheet["wire_words"] == "Internal thread: no wires. Measure with a plug gauge."


def test_a_limit_counts_as_in_as_it_is_shown_at_the_place(log_sheet: Document) -> None:
    """E1 .98887 + .00446 is .98708 at a depth of .1: shown, .9871. The bore .94261 less .1/16 is .93636: .9364."""
    taper(log_sheet, "3/4-14 NPT internal", "in", 0.042, 0.1)
    log_sheet.set({"measured_at": 0.1})
    assert "pitch diameter 0.9782 to 0.9871 there" in log_sheet["taper_place_words"]
    assert log_sheet.shown(["log_crest_max"]) == ["0.9364"]
    sizes = (0.9871, 0.9872, 0.9781), (0.9364, 0.9365, 0.9209)
    found = judge(log_sheet, [{"direct": pitch, "crest": bore} for pitch, bore in zip(*sizes)])
    assert [row["pitch_diameter_result"] for row in found] == ["in", "high", "low"]
    assert [row["crest_result"] for row in found] == ["in", "high", "low"]
    log_sheet.set({"measured_at": None})


def test_turns_are_for_taper_threads_alone(log_sheet: Document) -> None:
    (found,) = judge(log_sheet, [{"reading": 0.76, "gauge_turns": 0.5, "gauge": "G-1", "place": 0.2}])
    assert (found["pitch_diameter_result"], found["ring_result"]) == ("in", "check entry")
    assert "turns on a taper thread alone" in found["words"]


def test_a_row_grows_to_the_words_that_are_seen_and_no_higher(log_sheet: Document, tmp_path: Path) -> None:
    """Where to type the place takes four lines of nine points, some 11 points each; hidden columns ask for no room."""
    taper(log_sheet, "3/4-14 NPT external", "in", 0.042, None)
    judge(log_sheet, [{"reading": 1.0445}])
    log_sheet.edit(cell("reading"), "1.0446")
    saved = log_sheet.save_as(tmp_path / "log.xlsx").read_bytes()
    sheet = part(saved, f"xl/worksheets/sheet{log_sheet.sheet_names().index(log.SHEET) + 1}.xml")
    height = re.search(rb'<row r="%d"[^>]* ht="([\d.]+)"' % FIRST, sheet)
    assert len(log_sheet[cell("reason")]) > 120
    assert height is not None
    assert 40 <= float(height[1]) <= 56


# ---- Diagnosis


@pytest.mark.parametrize("callout", ["3/4-14 NPT external", "3/4-14 NPT internal", "R 3/4", "Rc 3/4"])
def test_to_be_a_cone_is_no_fault(sheet: Document, callout: str) -> None:
    setup(sheet, callout, "in", tip_size=None)
    told = {key: sheet[f"check_{key}_seen"] + " " + sheet[f"check_{key}_words"] for key, *_ in diagnosis.ROWS}
    for words in told.values():
        assert not [one for one in ("NOT GO", "GO ring", "GO plug", "Taper: ", "taper, or", "tapered") if one in words]
    inside = "internal" in callout or "Rc" in callout
    assert f"it {'falls' if inside else 'grows'} 0.00625 for each 0.1 in" in told["taper"]  # 1 in 16


def test_on_a_parallel_thread_it_is_one(sheet: Document) -> None:
    setup(sheet, "3/4-16 UNF-2A", "in")
    assert "2 Taper: read over wires at both ends." in sheet["check_binds_words"]
    assert sheet["check_taper_seen"] == "Reading differs along the length"
