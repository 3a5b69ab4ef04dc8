"""Wires between unlike flanks: against a disc lowered into a drawn groove, and the size that errors touch least."""

from __future__ import annotations

from math import cos, pi, radians, sin, tan

import pytest

from sheetfuncs import standards, wires
from sheetfuncs.designations import Thread
from sheetfuncs.errors import OutOfRange
from sheetfuncs.forms import Form
from sheetfuncs.standards import buttress

PITCH, PITCH_DIAMETER = 1.0, 20.0
TURN = [(cos(2 * pi * step / 20_000), sin(2 * pi * step / 20_000)) for step in range(20_000)]


@pytest.fixture
def groove(monkeypatch: pytest.MonkeyPatch):
    """A thread of pitch 1 and pitch diameter 20 with any two flanks."""

    def made(a: float, b: float, crest: float = 0.6) -> Thread:
        system = buttress.SYSTEM._replace(
            form=Form("any", a, b),
            basic=lambda _: standards.Basic(PITCH_DIAMETER + crest, PITCH_DIAMETER, PITCH_DIAMETER - crest),
        )
        monkeypatch.setattr(standards, "system", lambda _: system)
        return Thread("buttress", "in", PITCH_DIAMETER + crest, PITCH, series="BUTT")

    return made


def settle(a: float, b: float, wire: float) -> tuple[float, float, float]:
    """Radius of the centre of a disc let down between two drawn flanks, and of its two contacts.

    The groove is half a pitch wide at radius 10.
    """
    left, right = tan(radians(a)), tan(radians(b))
    rim = [(wire / 2 * x, wire / 2 * y) for x, y in TURN]

    # on the pitch line the flanks are a quarter of a pitch from the middle, and so much further for each length above
    to_left, to_right = min(y * left + x for x, y in rim), min(y * right - x for x, y in rim)
    centre = PITCH_DIAMETER / 2 - (PITCH / 2 + to_left + to_right) / (left + right)  # there no room is left
    touches = (min(rim, key=lambda p: p[1] * left + p[0])[1], min(rim, key=lambda p: p[1] * right - p[0])[1])
    return centre, centre + touches[0], centre + touches[1]


@pytest.mark.parametrize(("a", "b"), [(45, 7), (7, 45), (30, 30), (14.5, 14.5), (50, 20), (33, 3)])
def test_measurement_and_largest_wire_by_lowering_a_disc(groove, a: float, b: float) -> None:
    thread = groove(a, b)
    wire = wires.best_wire(thread)
    centre, on_a, on_b = settle(a, b, wire)
    assert wires.wire_constant(thread, wire) == pytest.approx(2 * centre + wire - PITCH_DIAMETER, abs=1e-6)
    _, largest = wires.wire_range(thread)[0]
    assert max(settle(a, b, largest)[1:]) == pytest.approx((PITCH_DIAMETER + 0.6) / 2, abs=2e-4)
    smallest, _ = wires.wire_range(thread)[0]
    assert settle(a, b, smallest)[0] + smallest / 2 == pytest.approx((PITCH_DIAMETER + 0.6) / 2, abs=1e-6)
    if a == b:
        assert (on_a, on_b) == pytest.approx((PITCH_DIAMETER / 2,) * 2, abs=2e-4)


def test_flank_errors_show_least_with_the_best_wire(groove) -> None:
    """Turn each flank half a degree about the pitch line; the larger change of M is least at the best wire."""

    def change(wire: float) -> float:
        def reading(a: float, b: float) -> float:
            return 2 * settle(a, b, wire)[0]

        true = reading(45, 7)
        return max(abs(reading(45.5, 7) - true), abs(reading(45, 7.5) - true))

    best = wires.best_wire(groove(45, 7))
    assert best == pytest.approx(0.54083, abs=1e-5)
    assert change(best) < min(change(0.97 * best), change(1.03 * best))


def test_handbook_formula_for_buttress() -> None:
    """M = E - P/(tan a + tan b) + W (1 + cos((a - b)/2) cosec((a + b)/2)): E + 3.156 89 W - 0.890 64 P."""
    thread = buttress.read("2.5-8 BUTT-2A")
    pd = buttress.limits(thread).pitch.max
    assert wires.over_wires(thread, 0.0676, "max") == pytest.approx(pd + 3.15689 * 0.0676 - 0.89064 / 8, abs=2e-6)
    assert wires.pd_from_wires(thread, 0.0676, wires.over_wires(thread, 0.0676, "min")) == pytest.approx(
        buttress.limits(thread).pitch.min
    )
    with pytest.raises(OutOfRange, match="unlike flanks"):
        wires.over_wires(thread, 0.0676, "max", "exact")
