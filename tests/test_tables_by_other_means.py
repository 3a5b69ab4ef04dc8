"""Sizes and limits that a planted fault got past the other tests, worked again by other means.

The printed row of the mating thread, printed ranges, a printed formula read as text, a package's list; never the
formula of the module typed again.
"""

from __future__ import annotations

import re
from fractions import Fraction
from math import sqrt

import pytest
from published_rows import agrees, rows

from sheetfuncs import evaluate, standards, tables
from sheetfuncs.designations import read_inch_size
from sheetfuncs.errors import CellError
from sheetfuncs.standards import acme, iso_metric, iso_trapezoidal, r40, stub_acme, unified


def test_root_of_a_unified_screw_clears_the_printed_nut() -> None:
    """The root may reach the smallest bore, moved by the allowance; the nut's the basic size."""
    compared = 0
    for row in rows("unified_basic"):
        if not row["int_minor"]:
            continue
        thread = standards.read(row["thread"])
        for name in ("2A", "3A"):
            found = standards.limits(thread._replace(thread_class=name, side="external"))
            assert agrees(found.root + found.allowance, row["int_minor"], 1), (row["thread"], name)
            compared += 1
        nut = standards.limits(thread._replace(thread_class="2B", side="internal"))
        assert not row["major"] or agrees(nut.root, row["major"]), row["thread"]
    assert compared > 100


def test_root_of_a_metric_screw_clears_the_printed_nut() -> None:
    compared = 0
    for row in rows("iso_basic"):
        if not row.get("minor_basic") or float(row["pitch"]) < 0.35:  # finer nuts have no grade 6
            continue
        screw, nut = (standards.limits(standards.read(f"M{row['d']}x{row['pitch']}-{name}")) for name in ("6g", "6H"))
        assert agrees(screw.root + screw.allowance, row["minor_basic"], 1), row
        assert nut.root == float(row["d"])
        compared += 1
    assert compared >= 48
    loose = standards.limits(standards.read("M20x2.5-6G"))
    assert loose.root == loose.major.min == pytest.approx(20.042)  # ISO 965-1, Table 1: EI of G is 42 for P 2.5


def test_root_of_a_parallel_pipe_fitting_clears_the_printed_pipe() -> None:
    """Rp is the taper thread's gauge plane: its root clears the printed major diameter, less its lengthways tolerance c
    on a taper of 1 in 16."""
    for row in rows("iso_7_1_jis"):
        found = standards.limits(standards.read(f"Rp {row['size']}"))
        least = float(row["d"]) - float(row["c"]) / 16
        assert found.root == pytest.approx(least, abs=0.0021), row
        assert found.root <= found.major.min


def test_the_old_fine_thread_of_an_inch() -> None:
    """1-14 stands as UNS, and was the fine thread before 1-12: its limits are those of the fine series still."""
    (row,) = rows("unified_1_14")
    found = standards.limits(standards.read(row["thread"]))
    for value, name in zip((*found.major[:2], *found.pitch[:2]), ("major_max", "major_min", "pd_max", "pd_min")):
        assert agrees(value, row[name]), name
    assert agrees(found.allowance, row["allowance"])


def test_depth_of_trapezoidal_threads_as_din_103_prints_it() -> None:
    """h3 of the screw and H4 of the nut are one column: P/2 and the clearance."""
    for row in rows("trapezoidal_heights"):
        pitch = float(row["pitch_mm"])
        thread = standards.read(f"Tr{8 * pitch:g}x{pitch:g}")
        clearance = iso_trapezoidal.crest_clearance(pitch)
        assert agrees(pitch / 2 + clearance, row["h3_mm"]), row
        if thread.diameter > 300:
            continue
        nut, screw = (standards.limits(standards.read(f"{standards.write(thread)}-{name}")) for name in ("7H", "7e"))
        height = float(row["h3_mm"])
        assert nut.major.min - nut.minor.min == pytest.approx(2 * height), row
        assert screw.major.max - screw.minor.max == pytest.approx(2 * height), row


def test_major_diameter_of_trapezoidal_nuts() -> None:
    for row in rows("trapezoidal_basic"):
        found = standards.limits(standards.read(f"Tr{row['d']}x{row['pitch']}-7H"))
        assert agrees(found.major.min, row["major_internal"]), row


RATIOS = {3: 0.5, 4: 0.63, 5: 0.8, 6: 1.0, 7: 1.25, 8: 1.6, 9: 2.0}
"""Tolerances of the grades over grade 6: ISO 965-1:1998, 13.3; ISO 2903 has those of 7, 8 and 9."""


@pytest.mark.parametrize("callout", ["Tr8x1.5", "Tr16x4", "Tr40x7", "Tr100x12", "Tr200x32"])
def test_trapezoidal_grades_stand_in_the_ratios_of_the_standard(callout: str) -> None:
    """A term of R40 is 5.9 per cent off the next, and rounded to at most 2 per cent."""
    for outside, inside in ((7, 7), (8, 8), (9, 9)):
        screw = standards.read(f"{callout}-{outside}c")
        nut = standards.read(f"{callout}-{inside}H")
        whole = 90 * screw.pitch**0.4 * _middle(screw.diameter) ** 0.1  # ISO 2903, 11.4, micrometres
        taken = (size.pitch.max - size.pitch.min for size in map(standards.limits, (screw, nut)))
        of_screw, of_nut = (1000 * width / whole / RATIOS[outside] for width in taken)
        assert of_screw == pytest.approx(1, abs=0.045)
        assert of_nut / 1.32 == pytest.approx(1, abs=0.045)


def _middle(diameter: float) -> float:
    bounds = (5.6, 11.2, 22.4, 45, 90, 180, 355)
    return next(sqrt(a * b) for a, b in zip(bounds, bounds[1:]) if diameter <= b)


PRINTED_ISO = {row["quantity"]: row["formula"] for row in rows("iso_formulas")}


def by_print(formula: str, pitch: float, diameter: float = 0.0) -> float:
    """A printed formula with P and d, as text: 180*P^(2/3)-3.15/P^(1/2)."""
    text = re.sub(r"(\d)([Pd])", r"\1*\2", formula).replace("^", "**")
    assert re.fullmatch(r"[\d.Pd*/()+-]+", text), formula
    return eval(text, {"__builtins__": {}}, {"P": pitch, "d": diameter})


def test_preferred_numbers_are_the_printed_series() -> None:
    """Below 100 to whole micrometres, a half to the even one."""
    printed = [int(term) for term in PRINTED_ISO["R40"].split()]
    assert len(printed) == 40
    assert all(term == pytest.approx(100 * 10 ** (n / 40), rel=0.013) for n, term in enumerate(printed))
    assert list(r40.R40) == [round(term / 10) for term in printed] + printed + [10 * term for term in printed]


OFF_TABLE = [n / 100 for n in range(23, 900, 6) if n / 100 not in iso_metric._crest_rows()]


@pytest.mark.parametrize("position", ["g", "f", "e", "G"])
def test_deviations_off_the_table_of_iso_965_follow_its_printed_formulas(position: str) -> None:
    printed = PRINTED_ISO[f"{'EI' if position == 'G' else 'es'} {position}"]
    for pitch in OFF_TABLE:
        if position == "e" and pitch < 0.5:
            with pytest.raises(CellError, match="no position e"):
                iso_metric._deviation(pitch, "e")
        else:
            assert iso_metric._deviation(pitch, position) == pytest.approx(abs(by_print(printed, pitch)), abs=0.501)


def test_tolerances_off_the_table_of_iso_965_follow_its_printed_formulas() -> None:
    """The term of R40 that is nearest to the formula; the series itself is that of the printed tables."""
    for pitch in OFF_TABLE:
        screw, nut = (standards.read(f"M30x1-{name}")._replace(pitch=pitch) for name in ("6g", "6H"))
        bore = PRINTED_ISO["TD1(6) from P 1" if pitch >= 1 else "TD1(6) up to P 0.8"]
        for value, formula in (
            (iso_metric.crest_tolerance(screw, 6), PRINTED_ISO["Td(6)"]),
            (iso_metric.crest_tolerance(nut, 6), bore),
            (iso_metric.pitch_diameter_tolerance(screw, 6), PRINTED_ISO["Td2(6)"]),
        ):
            printed = by_print(formula, pitch, sqrt(22.4 * 45))
            off = min(abs(term - printed) for term in r40.R40)
            assert abs(value - printed) == pytest.approx(off), (pitch, formula, printed, value)


def test_several_starts_widen_the_tolerance_as_iso_2903_says() -> None:
    """1.12, 1.25, 1.4 and 1.6 for two, three, four and more starts; M64x6 has 280 micrometres with one."""
    for starts, factor in ((1, 1.0), (2, 1.12), (3, 1.25), (4, 1.4), (5, 1.6), (7, 1.6)):
        lead = f"Ph{6 * starts}P6" if starts > 1 else "6"
        thread = standards.read(f"M64x{lead}-6g")
        assert iso_metric.pitch_diameter_tolerance(thread, 6) == pytest.approx(280 * factor, abs=0.5)


def test_bore_of_unified_class_3b_where_the_printed_rule_changes() -> None:
    """0.23 P - 1.5 P^2 from 13 threads per inch up, 0.120 P for 12 and fewer: where neither small rule governs."""
    for tpi, width in ((11, "0.120*P"), (12, "0.120*P"), (13, "0.23*P-1.5*P^2"), (14, "0.23*P-1.5*P^2")):
        thread = standards.read(f"4-{tpi} UNS-3B")
        bore = standards.limits(thread).minor.max - standards.basic(thread).minor  # the least bore is printed to 0.001
        assert bore == pytest.approx(by_print(width, 1 / tpi), abs=0.00011), tpi


def test_bore_of_unified_classes_1b_and_2b_where_the_printed_rule_changes() -> None:
    """0.15 P for fewer than 4 threads per inch, else 0.25 P - 0.40 P^2; both are one at 4."""
    for tpi, width in ((3, "0.15*P"), (3.5, "0.15*P"), (4, "0.15*P"), (4.5, "0.25*P-0.40*P^2"), (5, "0.25*P-0.40*P^2")):
        found = standards.limits(standards.read(f"6-{tpi} UNS-2B")).minor
        assert found.max - found.min == pytest.approx(by_print(width, 1 / tpi), abs=0.00101), tpi


def test_acme_allowances_above_the_printed_table_go_on_as_its_rows_do() -> None:
    """Each row is that of the middle of its range, by the root of the diameter: so the last row gives those above."""
    last = rows("acme_pd_allowances")[-1]
    middle = (read_inch_size(last["above"]) + read_inch_size(last["to_incl"])) / 2
    for size in (6, 12, 20):
        for number in "234":
            found = standards.limits(standards.read(f"{size}-2 ACME-{number}G")).allowance
            goes_on = float(last[f"class{number}"]) * sqrt(size / middle)
            assert found == pytest.approx(goes_on, abs=0.00005 * (1 + sqrt(size / middle))), (size, number)


def test_major_diameter_of_acme_nuts() -> None:
    for row in rows("acme_nut_major"):
        found = standards.limits(standards.read(f"{row['thread']} ACME-2G-INT"))
        assert (found.major.max, found.major.min) == (float(row["major_max"]), float(row["major_min"])), row


FLANKS = {
    # half angles as the standards draw them: ISO 68-1 and ASME B1.1, BS 84 and ISO 7-1, BS 93, ASME B1.5, ISO 2901
    **dict.fromkeys(("unified", "iso_metric", "unj", "mj", "npt", "npsm"), 30),
    **dict.fromkeys(("whitworth", "pipe_parallel", "pipe_taper_iso", "pipe_rp"), 27.5),
    **dict.fromkeys(("acme", "stub_acme"), 14.5),
    "ba": 23.75,
    "iso_trapezoidal": 15,
}


def test_half_angles_of_every_form() -> None:
    for key, system in standards.SYSTEMS.items():
        half = FLANKS.get(key)
        assert system.form[1:3] == ((half, half) if half else (45, 7)), key


def test_every_trapezoidal_pair_is_in_a_packages_list() -> None:
    listed = {float(row["diameter_mm"]): {*map(float, row["pitches_mm"].split())} for row in rows("trapezoidal_sizes")}
    ours: dict[float, list[float]] = {}
    for thread in iso_trapezoidal.standard_threads():
        ours.setdefault(thread.diameter, []).append(thread.pitch)
        assert thread.pitch in listed[thread.diameter], thread
    # 1 mm steps to 12, then 2, 5 and 10 mm
    assert list(ours) == [*range(8, 12), *range(12, 52, 2), 52, *range(55, 200, 5), *range(200, 301, 10)]
    names = {1: ("normal",), 2: ("normal", "fine"), 3: ("coarse", "normal", "fine")}
    for diameter, pitches in ours.items():
        assert len(pitches) == (1 if diameter == 8 else 2 if diameter <= 20 else 3)
        for pitch, name in zip(sorted(pitches, reverse=True), names[len(pitches)]):
            assert iso_trapezoidal.standing(standards.read(f"Tr{diameter:g}x{pitch:g}")) == f"{name} pitch of ISO 2902"


STEPS = {"sixteenths": 16, "eighths": 8}


def test_unified_pairs_are_whole_ranges_of_sizes() -> None:
    """Every pair of the series that go by range, and no other of their threads per inch within the range."""
    pairs = {(thread.diameter, round(1 / thread.pitch, 6)): thread.series for thread in unified.standard_threads()}
    constant, checked = set(), 0
    for row in rows("unified_ranges"):
        first, last = map(read_inch_size, (row["from"], row["to"]))
        grid = [n / STEPS[row["grid"].split()[0]] for n in range(16 * 24)]
        if "then" in row["grid"]:
            grid = [n / 16 for n in range(32)] + [n / 8 for n in range(16, 49)]
        sizes = {size for size in grid if first <= size <= last}
        tpi = float(row["tpi"])
        if row["series"] == "UN":
            there = {d for (d, n), series in pairs.items() if n == tpi and first <= d <= last and series != "UNS"}
            assert there == sizes, row
            constant |= {(size, tpi) for size in sizes}
        else:
            assert {pairs.get((size, tpi)) for size in sizes} == {row["series"]}, row
        checked += len(sizes)
    assert checked > 330
    assert {pair for pair, series in pairs.items() if series == "UN"} <= constant


def test_unified_specials_size_by_size() -> None:
    listed = {
        (read_inch_size(row["size"]), float(tpi)) for row in rows("unified_specials") for tpi in row["tpi"].split()
    }
    assert len(listed) == 116
    specials = [thread for thread in unified.standard_threads() if thread.series == "UNS"]
    assert {(thread.diameter, round(1 / thread.pitch, 6)) for thread in specials} == listed


def test_sizes_are_written_as_they_measure() -> None:
    """1 1/4 is 1.25, No. 4 is 0.060 + 4 x 0.013 (ASME B1.1)."""
    for table in ("unified_series", "acme_sizes"):
        for row in tables.rows(table):
            number = re.fullmatch(r"No\.(\d+)", row["size"])
            if number:
                size = Fraction(60 + 13 * int(number[1]), 1000)
            else:
                size = sum(map(Fraction, row["size"].split()), Fraction(0))
            assert Fraction(row["diameter_in"]) == size, row


def test_preferred_pairs_of_acme_are_the_printed_ones() -> None:
    """Both lists to 4 in; of 4 1/2 and 5 no printed row was found."""
    for series, module in (("ACME", acme), ("STUB ACME", stub_acme)):
        printed = {standards.read(row["thread"])[2:4] for row in rows("acme_basic")}
        ours = {thread[2:4] for thread in module.standard_threads()}
        assert {size for size in ours if size[0] <= 4} == printed, series


def engagement(diameter: float, pitch: float) -> list[str]:
    """Normal lengths from and to, as DESCRIBE says them."""
    words = evaluate("THREAD_DESCRIBE", f"M{diameter:g}x{pitch:g}-6g-N")
    return re.search(r"engagement N: over ([\d.]+) to ([\d.]+) mm", words).groups()


def test_lengths_of_engagement_as_the_handbook_prints_them() -> None:
    for row in rows("iso_engagement_length"):
        low, high, pitch = float(row["d_over"]), float(row["d_upto"]), float(row["pitch"])
        for diameter in (low + 0.01, high):
            assert engagement(diameter, pitch) == (row["normal_from"], row["normal_to"]), (row, diameter)


@pytest.mark.parametrize(("diameter", "pitch"), [(1.0, 0.2), (1.0, 0.25), (1.0, 0.3), (95.0, 8.0), (185.0, 8.0)])
def test_lengths_of_engagement_that_it_does_not_print_keep_its_formulas(diameter: float, pitch: float) -> None:
    """2.24 P d^0.2 and 6.7 P d^0.2, d the smallest of the range (ISO 965-1, clause 13), rounded by up to 5 per cent."""
    for value, factor in zip(engagement(diameter, pitch), (2.24, 6.7)):
        assert float(value) == pytest.approx(factor * pitch * diameter**0.2, rel=0.12 if pitch < 0.5 else 0.03)


ISO_BOUNDS = (0.99, 1.4, 2.8, 5.6, 11.2, 22.4, 45.0, 90.0, 180.0, 355.0)
"""Of the ranges of diameters: ISO 965-1, Tables 2, 4 and 5; those of ISO 2903 are among them."""


@pytest.mark.parametrize(
    "table", ["iso_engagement_length", "iso_pitch_diameter_tolerance", "iso_trapezoidal_pitch_diameter"]
)
def test_tables_by_ranges_hold_whole_ranges_in_order(table: str) -> None:
    places = [tuple(float(row[name]) for name in ("d_over_mm", "d_upto_mm", "pitch_mm")) for row in tables.rows(table)]
    assert {place[:2] for place in places} <= set(zip(ISO_BOUNDS, ISO_BOUNDS[1:]))
    assert places == sorted(set(places))


def test_deviations_grow_with_the_pitch_and_from_h_to_a() -> None:
    """Of a to d no printed row was found; P 8 keeps the formulas of e, f and g to three per cent."""
    before: dict[str, float] = {}
    for row in tables.rows("iso_fundamental_deviations"):
        held = {name: abs(float(row[name])) for name in "abcdefgh" if row[name]}
        assert list(held.values()) == sorted(held.values(), reverse=True), row
        assert all(value >= before.get(name, 0.0) for name, value in held.items()), row
        before = held
    for name, formula in (("e", "es e"), ("f", "es f"), ("g", "es g")):
        assert before[name] == pytest.approx(abs(by_print(PRINTED_ISO[formula], 8.0)), rel=0.03)


def test_choice_and_coarse_pitch_of_each_metric_diameter() -> None:
    held: dict[str, dict[str, str]] = {}
    for row in tables.rows("iso_metric_sizes"):
        held.setdefault(row["diameter_mm"], {})[row["pitch_mm"]] = row["series"]
        assert row["series"] in ("coarse", "fine")
    printed = {row["diameter_mm"]: row for row in rows("iso_261_choices")}
    assert list(held) == list(printed)
    assert all(row["choice"] == printed[row["diameter_mm"]]["choice"] for row in tables.rows("iso_metric_sizes"))
    for diameter, pitches in held.items():
        coarse = [float(pitch) for pitch, series in pitches.items() if series == "coarse"]
        assert coarse == [float(text) for text in [printed[diameter]["coarse_mm"]] if text], diameter


def test_every_pair_of_iso_261_has_its_cell_and_no_grade_that_the_standard_has_not() -> None:
    """Outside grades are 3 to 9, inside 4 to 8 (ISO 965-1, clause 5)."""
    held = iso_metric._pitch_diameter_rows()
    for thread in iso_metric.standard_threads():
        high = next(bound for bound in ISO_BOUNDS[1:] if thread.diameter <= bound)
        assert (high, thread.pitch) in held, thread
    for row in held.values():
        outside, inside = row["Td2_grades"].split(), row["TD2_grades"].split()
        assert outside == list("3456789")[: len(outside)], row
        assert inside == list("45678")[: len(inside)], row
        assert int(outside[-1]) - int(inside[-1]) in (0, 1, 2), row


def test_coarse_crest_tolerances_of_trapezoidal_screws_are_the_formula_of_iso_965_in_its_fourth_grade() -> None:
    """GOST 24739-81 prints 19 of the 22 tolerances; P 36, 40 and 44 rest on the nearest term of R40."""
    for row in tables.rows("iso_trapezoidal_pitch"):
        if float(row["pitch_mm"]) >= 36:
            formula = 0.63 * by_print(PRINTED_ISO["Td(6)"], float(row["pitch_mm"]))
            assert int(row["Td_4_um"]) == min(r40.R40, key=lambda term: abs(term - formula)), row


def test_sizes_are_listed_as_they_rise() -> None:
    for system in ("mj", "iso_metric", "iso_trapezoidal", "buttress", "acme", "npt"):
        diameters = [thread.diameter for thread in standards.SYSTEMS[system].standard_threads()]
        assert diameters == sorted(diameters), system
    pairs = [(thread.diameter, 1 / thread.pitch) for thread in unified.standard_threads()]
    assert pairs == sorted(pairs)


def test_pairs_of_aerospace_bolts_are_pairs_of_iso_261() -> None:
    printed = {
        (float(row["d_mm"].strip("*")), float(pitch.strip("*()")))
        for row in rows("iso_261")
        for pitch in row["pitches_mm"].split()
    }
    pairs = [thread[2:4] for thread in standards.SYSTEMS["mj"].standard_threads()]
    assert set(pairs) <= printed
    assert len(set(pairs)) == len(pairs)


def test_npsm_stands_on_the_printed_pipes_of_npt() -> None:
    """The same pipes: outside diameter and threads per inch of each size."""
    printed = {row["size"]: row for row in rows("npt_basic")}
    for row in tables.rows("npsm_limits"):
        pipe = printed[row["size"]]
        assert float(row["od_in"]) == float(pipe["od"]), row
        assert float(row["tpi"]) == float(pipe["tpi"]), row


def test_depth_of_npsm_is_what_its_printed_limits_leave() -> None:
    """Printed outside maximum less printed pitch diameter maximum is the crest over the pitch line, to 0.03 P."""
    for row in rows("npsm_limits"):
        basic = standards.basic(standards.read(f"{row['size']}-{row['tpi']} NPSM"))
        over = float(row["major_max"]) - float(row["pd_max"])
        assert basic.major - basic.pitch == pytest.approx(over, abs=0.03 / float(row["tpi"])), row
