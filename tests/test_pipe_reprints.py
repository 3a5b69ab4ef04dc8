"""Pipe threads against national editions and reprints of their standards, digit by digit."""

from __future__ import annotations

import pytest
from older_threads import read
from published_rows import agrees, every_row, rows

from sheetfuncs import tapers
from sheetfuncs.standards import npt, pipe_rp, pipe_taper_iso

R, RP, NPT = pipe_taper_iso.SYSTEM, pipe_rp.SYSTEM, npt.SYSTEM


@pytest.mark.parametrize("row", rows("iso_7_1_jis"), ids=lambda row: row["size"])
def test_jointing_threads_as_jis_prints_them(row: dict[str, str]) -> None:
    """Diameters and turns to the printed digit; ISO prints the gauge length `a` to one place, JIS to two."""
    pipe, fitting = (read(R, f"{kind} {row['size']}") for kind in ("R", "Rc"))
    for value, name in zip(R.basic(pipe), ("d", "d2", "d1")):
        assert agrees(value, row[name])
    planes = pipe_taper_iso.planes(pipe)
    assert agrees(pipe.pitch, row["pitch_mm"])
    assert abs(planes.gauge.distance - float(row["a"])) <= 0.0501  # 6.35 is printed 6.4
    assert agrees(pipe_taper_iso.axial_tolerance(pipe), row["b"])
    assert agrees(pipe_taper_iso.axial_tolerance(fitting), row["c"])
    assert agrees(planes.useful.distance - planes.gauge.distance, row["f"])
    parallel = RP.limits(read(RP, f"Rp {row['size']}")).pitch
    assert parallel.max - parallel.min == pytest.approx(
        2 * float(row["c"]) / 16, abs=0.0017
    )  # c to 0.01, limits to 0.001


def test_gauge_lengths_of_two_encyclopedias() -> None:
    for row in rows("iso_7_1_gauge_lengths"):
        assert agrees(pipe_taper_iso.planes(read(R, f"R {row['size']}")).gauge.distance, row["gauge_mm"]), row


def npt_columns(size: str) -> dict[str, float]:
    """What Table 2 of ASME B1.20.1 prints of a size, in the names of its reprints."""
    thread = read(NPT, f"{size} NPT")
    planes, basic = npt.planes(thread), NPT.basic(thread)
    between = planes.effective.distance - planes.hand_tight.distance
    vanish = planes.overall.distance - planes.effective.distance
    return {
        "od": thread.diameter,
        "tpi": 1 / thread.pitch,
        "E0": planes.small_end.pitch_diameter,
        "L1": planes.hand_tight.distance,
        "E1": planes.hand_tight.pitch_diameter,
        "L2": planes.effective.distance,
        "L2L1": between,
        "L2L1_turns": between / thread.pitch,
        "L3": -planes.wrench.distance,
        "L3_turns": -planes.wrench.distance / thread.pitch,
        "E3": planes.wrench.pitch_diameter,
        "L1L3": planes.hand_tight.distance - planes.wrench.distance,
        "V": vanish,
        "V_turns": vanish / thread.pitch,
        "L4": planes.overall.distance,
        "L5": planes.perfect.distance,
        "E5": planes.perfect.pitch_diameter,
        "h": (basic.major - basic.minor) / 2,
        "incr_per_thread": NPT.taper * thread.pitch,
        "K0": planes.small_end.pitch_diameter - (basic.major - basic.pitch),
    }


@pytest.mark.parametrize("table", ["npt_lengths_reprint", "npt_second_copy"])
def test_npt_as_two_reprints_have_it(table: str) -> None:
    """Within one of the last place: the prints round the length first and go on from it, or drop what is over."""
    compared = 0
    for row in rows(table):
        found = npt_columns(row["size"])
        for name, printed in row.items():
            if name in found and printed:
                assert agrees(found[name], printed.replace("11-1/2", "11.5"), 1), (row["size"], name, found[name])
                compared += 1
    assert compared >= 150


@pytest.mark.parametrize("table", ["npt_lengths_reprint", "npt_second_copy"])
def test_the_misprinted_rows_of_the_reprints_are_caught(table: str) -> None:
    (row,) = (row for row in every_row(table) if row["flag"])
    found = npt_columns(row["size"])
    misses = {
        name
        for name, value in found.items()
        if row.get(name) and not agrees(value, row[name].replace("11-1/2", "11.5"), 1)
    }
    assert misses == {"npt_lengths_reprint": {"h"}, "npt_second_copy": {"E0", "L2"}}[table]


def test_pitch_diameters_of_couplings_are_npt_a_turn_and_a_half_to_either_side() -> None:
    """NPSC of ASME B1.20.1, Table 4: printed for parallel couplings, worked here along the taper of NPT."""
    assert len(rows("npsc_limits")) == 13
    for row in rows("npsc_limits"):
        thread = read(NPT, f"{row['size']}-{row['tpi']} NPT")
        plane = npt.planes(thread).hand_tight.distance
        for name, turns in (("pd_min", -1.5), ("pd_max", 1.5)):
            found = tapers.taper_diameter(thread, plane + turns * thread.pitch)
            assert agrees(found, row[name], 1), (row, name, found)
