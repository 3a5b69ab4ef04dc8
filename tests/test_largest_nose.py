"""How large a nose may be: grooves drawn point by point, and a GO profile let down into them.

The GO profile is the basic one moved to the largest metal: flanks that touch, and a crest that is a flat. ISO 68-1:1998
and ASME B1.1-2003 have it P/4 wide outside and P/8 inside, ASME B1.9-1973 and B1.5-1997 as drawn below.
"""

from __future__ import annotations

import re
from math import cos, radians, sin, tan

import pytest

from sheetfuncs import cutting, evaluate, forms, standards
from sheetfuncs.errors import OutOfRange
from sheetfuncs.forms import Tip

STEPS = 200


def groove(leading: float, trailing: float, nose: float, across: float) -> float:
    """Height of the metal over the sharp bottom: a circle let down between two flanks, found by moving it, not solved.

    Left of the bottom is the trailing flank.
    """
    flank = across / tan(leading) if across > 0 else -across / tan(trailing)
    lean, up = (leading - trailing) / 2, nose / sin((leading + trailing) / 2)
    middle, centre = up * sin(lean), up * cos(lean)
    right, left = middle + nose * cos(leading), middle - nose * cos(trailing)  # where it leaves the flanks
    inside = left < across < right
    return centre - (nose**2 - (across - middle) ** 2) ** 0.5 if inside else flank


def overlap(angles: tuple[float, float], nose: float, flat: float, height: float, aside: float) -> float:
    """How far a mating crest, a flat at a height over the sharp bottom, runs into metal; less than 0: clear.

    `aside` moves it to the right of where its edges lie on the flanks at their own height.
    """
    leading, trailing = map(radians, angles)
    share = tan(leading) / (tan(leading) + tan(trailing))
    left = -flat * (1 - share) + aside
    places = (left + flat * step / STEPS for step in range(STEPS + 1))
    return max(groove(leading, trailing, nose, across) for across in places) - height


def largest(angles: tuple[float, float], flat: float, height: float, asides: list[float]) -> float:
    """The largest nose with which the crest is clear in one of these positions, by trying."""
    low, high = 0.0, height
    for _ in range(24):
        tried = (low + high) / 2
        clear = min(overlap(angles, tried, flat, height, aside) for aside in asides) <= 1e-9
        low, high = (tried, high) if clear else (low, tried)
    return low


def named_most(callout: str, limit: str) -> float:
    """The largest nose that the refusal of a blunt one names."""
    thread = standards.read(callout)
    with pytest.raises(OutOfRange, match="foul the mating thread") as refused:
        cutting.depth(thread, Tip("radius", 0.3 * thread.pitch), limit)
    found = re.search(r"at this size ([0-9.]+) ", str(refused.value))
    assert found
    return float(found[1])


SIXTY = (30.0, 30.0)
CASES = (
    # thread, aim, pitch, flat of the mating crest over pitch, how much deeper than at most metal by printed limits
    ("M16x2-6g", "max", 2.0, 1 / 4, 0.0),
    ("M16x2-6g", "mid", 2.0, 1 / 4, (14.663 - 14.503) / 4),  # ISO 965-2
    ("M16x2-6g", "min", 2.0, 1 / 4, (14.663 - 14.503) / 2),
    ("M20x2.5-6g", "mid", 2.5, 1 / 4, (18.334 - 18.164) / 4),
    ("M20x2.5-6H", "min", 2.5, 1 / 8, 0.0),
    ("M20x2.5-6H", "mid", 2.5, 1 / 8, (18.6 - 18.376) / 4),
    ("3/4-16 UNF-2A", "max", 1 / 16, 1 / 4, 0.0),
    ("3/4-16 UNF-2A", "mid", 1 / 16, 1 / 4, (0.7079 - 0.7029) / 4),  # ASME B1.1-2003, Table 2A
    ("1-8 UNC-2B", "max", 1 / 8, 1 / 8, (0.9276 - 0.9188) / 2),
)


@pytest.mark.parametrize(("callout", "limit", "pitch", "flat", "deeper"), CASES)
def test_a_sixty_degree_thread_takes_a_nose_that_its_go_gauge_clears(
    callout: str, limit: str, pitch: float, flat: float, deeper: float
) -> None:
    height = flat * pitch / 2 / tan(radians(30)) + deeper
    drawn = largest(SIXTY, flat * pitch, height, [0.0])
    step = 0.0005 if standards.read(callout).unit == "mm" else 0.00005
    named = named_most(callout, limit)
    rounded = largest(SIXTY, flat * pitch, height + 2 * step, [0.0]) + 3 * step
    assert drawn - step < named < rounded
    assert cutting.depth(standards.read(callout), Tip("radius", drawn - step), limit) > 0


def test_it_is_no_better_aside() -> None:
    """The crest of the gauge may lie aside in a groove cut deeper; with two like flanks the middle is best."""
    flat, height, play = 0.5, 0.5 / 2 / tan(radians(30)) + 0.04, 0.04 * tan(radians(30))
    middle = largest(SIXTY, flat, height, [0.0])
    assert largest(SIXTY, flat, height, [play * share / 5 for share in range(-5, 6)]) == pytest.approx(middle, abs=1e-6)


@pytest.mark.parametrize("deeper", [0.0, 0.001, 0.003])
def test_a_buttress_screw_meets_its_load_flank(deeper: float) -> None:
    """ASME B1.9-1973: basic height 0.6 P, so the nut's crest is 0.3 P below the pitch line; load flank 7 degrees."""
    pitch, angles = 1 / 4, (45.0, 7.0)
    spread = tan(radians(45)) + tan(radians(7))
    height = pitch / 2 / spread - 0.3 * pitch
    on_load_flank = deeper * tan(radians(7))  # trailing flank, at the left
    drawn = largest(angles, height * spread, height + deeper, [-on_load_flank])
    thread = standards.read("2-4 BUTT-2A")
    room = evaluate("THREAD_TIP", "2-4 BUTT-2A")[0][2]
    assert largest(angles, height * spread, height, [0.0]) == pytest.approx(room, rel=1e-4)  # 0.071 41 P, Table 3
    assert forms.largest_nose(standards.system(thread).form, height + deeper, height) == pytest.approx(drawn, rel=1e-4)


@pytest.mark.parametrize(
    ("angle", "height", "deeper"), [(14.5, 0.1, 0.0), (14.5, 0.1, 0.006), (15, 3.2, 0.05), (30, 0.4, 0.2), (30, 0.4, 2)]
)
def test_any_two_like_flanks(angle: float, height: float, deeper: float) -> None:
    form, flat = forms.Form("tried", angle, angle), 2 * height * tan(radians(angle))
    drawn = largest((angle, angle), flat, height + deeper, [0.0])
    assert forms.largest_nose(form, height + deeper, height) == pytest.approx(drawn, rel=1e-4)
