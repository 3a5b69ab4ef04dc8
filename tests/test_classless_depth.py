"""Depth and blank of threads whose standard has no class (BA nut, G internal, R, Rc, Rp, NPT): the side is enough."""

from __future__ import annotations

import pytest

from sheetfuncs import cutting, standards
from sheetfuncs.errors import NotGiven
from sheetfuncs.forms import Tip

# Depth printed in its source: GOST 6357-81, Table 1 (H1); Machinery's Handbook, 31st ed., p. 2115; ASME B1.20.1, 0.8 P.
DEPTHS = [
    ("G 3/4", "min", 24.117, Tip("radius", 0.249115), 1.161553, 0.0006),
    ("R 3/4", "mid", 26.441, Tip("radius", 0.249115), 1.161553, 0.0006),
    ("Rc 3/4", "mid", 24.117, Tip("radius", 0.249115), 1.161553, 0.0006),
    ("2 BA nut", "min", 3.73, Tip("radius", 0.1464), 0.485, 0.0015),
    ("3/4-14 NPT external", "mid", 1.04601, Tip("flat", 0.0027), 0.05714, 0.00005),  # h max, F min
]


@pytest.mark.parametrize(("text", "limit", "start", "tip", "depth", "within"), DEPTHS)
def test_depth_of_the_form(text: str, limit: str, start: float, tip: Tip, depth: float, within: float) -> None:
    assert cutting.depth(standards.read(text), tip, limit, start) == pytest.approx(depth, abs=within)


@pytest.mark.parametrize("text", ["3/4-14 NPT", "2 BA", "1/2-12 BSW"])
def test_a_side_is_needed(text: str) -> None:
    with pytest.raises(NotGiven):
        cutting.depth(standards.read(text), Tip("sharp"), "mid")
