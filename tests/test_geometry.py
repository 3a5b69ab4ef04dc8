"""Depth, wires and passes against plain drawings of the groove, and against published figures."""

from __future__ import annotations

from itertools import accumulate
from math import cos, hypot, pi, radians, sin, tan

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_rows import agrees, rows

from sheetfuncs import cutting, evaluate, forms, limits, standards, wire_fit, wires
from sheetfuncs import passes as sharing
from sheetfuncs.errors import NotGiven, OutOfRange
from sheetfuncs.forms import SIXTY, Form, Tip


def tool_outline(form: Form, tip: Tip, height: float, steps: int = 20_000) -> list[tuple[float, float]]:
    """(depth above the tip's end, width of the tool there), drawn point by point without the formulas under test."""
    left, right = tan(radians(form.leading)), tan(radians(form.trailing))
    outline = []
    for index in range(steps + 1):
        level = height * index / steps
        if tip.kind == "radius":
            # the nose: a circle rolled into the V; find where each flank leaves it
            width = 0.0
            for slope, angle in ((left, radians(form.leading)), (right, radians(form.trailing))):
                tangent = tip.size * (1 - sin(angle))
                if level <= tangent:
                    width += (tip.size**2 - (tip.size - level) ** 2) ** 0.5
                else:
                    width += tip.size * cos(angle) + (level - tangent) * slope
        else:
            width = tip.size + level * (left + right)
        outline.append((level, width))
    return outline


def depth_by_drawing(form: Form, tip: Tip, pitch: float, blank_radius: float, pitch_radius: float) -> float:
    """Feed the drawn tool in until the groove at the pitch radius is half a pitch wide."""
    outline = tool_outline(form, tip, 2 * pitch)
    level = next(level for level, width in outline if width >= pitch / 2)
    return blank_radius - (pitch_radius - level)


@pytest.mark.parametrize(
    "form", [SIXTY, Form("30 degree", 15, 15), Form("buttress", 7, 45)], ids=lambda form: form.name
)
@pytest.mark.parametrize("tip", [Tip("sharp"), Tip("flat", 0.1), Tip("radius", 0.15)], ids=lambda tip: tip.kind)
def test_depth_below_the_pitch_line_by_drawing(form: Form, tip: Tip) -> None:
    drawn = depth_by_drawing(form, tip, 1.5, 10.0, 9.5) - 0.5
    worked = forms.vertex_below_pitch_line(form, 1.5) - forms.tip_shortening(form, tip)
    assert worked == pytest.approx(drawn, abs=3e-4)


def test_the_worked_example() -> None:
    """3/4-16 UNF-2A, blank .7440, nose .008: figures worked by hand in docs/depth.md."""
    callout = "3/4-16 UNF-2A"
    sizes = [
        evaluate(f"THREAD_{which}_DIAMETER", callout, end) for which in ("MAJOR", "PITCH") for end in ("max", "min")
    ]
    assert sizes == [0.7485, 0.7391, 0.7079, 0.7029]
    assert agrees(evaluate("THREAD_BEST_WIRE", callout), "0.0361")
    assert agrees(evaluate("THREAD_OVER_WIRES", callout, 0.0361, "max"), "0.7621")
    assert agrees(evaluate("THREAD_OVER_WIRES", callout, 0.0361, "min"), "0.7571")
    for tip, printed in (("radius 0.008", "0.0384"), (0.008, "0.0384"), ("sharp", "0.0464"), (0, "0.0464")):
        assert agrees(evaluate("THREAD_DEPTH", callout, tip, "mid", 0.7440), printed), tip
    assert agrees(evaluate("THREAD_DEPTH", callout, f"flat {0.0625 / 8}", "mid", 0.7440), "0.0396")


def test_sharp_figure_with_a_round_nose_would_scrap_the_part() -> None:
    """Feeding .0464 with the .008 nose cuts .016 too deep on the diameter, past a tolerance of .0050."""
    too_deep = 2 * (0.0464 - 0.0384)
    assert limits.pitch_diameter(standards.read("3/4-16 UNF-2A"), "mid") - too_deep < 0.7029


def test_depth_in_a_bore_by_drawing() -> None:
    thread = standards.read("M20x2.5-6H")
    aim = limits.pitch_diameter(thread, "mid")
    tip = Tip("radius", 0.15)
    drawn = depth_by_drawing(SIXTY, tip, 2.5, aim / 2, 17.5 / 2)
    assert cutting.depth(thread, tip, "mid", 17.5) == pytest.approx(drawn, abs=3e-4)


def wire_by_drawing(half: float, pitch: float, pitch_diameter: float, wire: float) -> float:
    """Over wires, from the distance of the wire's centre to the straight flank, found by bisection."""
    bottom = pitch_diameter / 2 - pitch / 4 / tan(half)
    low, high = bottom, bottom + 10 * pitch
    for _ in range(200):
        centre = (low + high) / 2
        along = (centre - bottom) * cos(half)  # foot of the perpendicular, along the flank
        foot = (along * sin(half), bottom + along * cos(half))
        low, high = (low, centre) if hypot(foot[0], centre - foot[1]) > wire / 2 else (centre, high)
    return 2 * (centre + wire / 2)


@pytest.mark.parametrize("callout", ["3/4-16 UNF-2A", "1/2-13 UNC-2A", "M20x2.5-6g", "M64x6-6g"])
def test_over_wires_by_drawing(callout: str) -> None:
    thread = standards.read(callout)
    low, high = wire_fit.usable_wires(thread)
    for share in (0.01, 0.5, 0.99):
        wire = low + share * (high - low)
        drawn = wire_by_drawing(pi / 6, thread.pitch, limits.pitch_diameter(thread, "max"), wire)
        assert wires.over_wires(thread, wire, "max") == pytest.approx(drawn, rel=1e-12)


@pytest.mark.parametrize("row", rows("wires_dims_over_wires_mh31"), ids=lambda row: f"{row['major']}-{row['tpi']}")
def test_published_dimensions_over_wires(row: dict[str, str]) -> None:
    """MH31 p. 2130, US form: rounded from D - 1.5155 P + 3 W, so the last place may be one off."""
    callout = f"{row['major']}-{row['tpi']} UNS"
    assert agrees(evaluate("THREAD_OVER_WIRES", callout, row["wire"], "basic"), row["M_US_thread"], places_off=1)


@pytest.mark.parametrize("row", rows("wires_constants_mh31"), ids=lambda row: row["tpi"])
def test_published_wire_constants(row: dict[str, str]) -> None:
    """MH31 p. 2129: 0.866 025 P by threads per inch."""
    thread = standards.read(f"2-{row['tpi']} UNS")
    wire = wires.best_wire(thread)
    assert agrees(3 * wire - wires.wire_constant(thread, wire), row["c60_0.866025P"])


def test_published_wire_range() -> None:
    """ASME B1.2-1983, Appendix B: 0.505 182 P to 1.010 363 P, best 0.577 35 P."""
    thread = standards.read("1-10 UNS")
    low, high = wires.wire_range(thread)[0]
    assert (round(low * 10, 5), round(high * 10, 5)) == (0.50518, 1.01036)
    assert round(wires.best_wire(thread) * 10, 5) == 0.57735


@given(pitch_diameter=st.floats(0.60, 0.82), share=st.floats(0.01, 0.99))
def test_pitch_diameter_from_wires_is_the_exact_inverse(pitch_diameter: float, share: float) -> None:
    thread = standards.read("3/4-16 UNF-2A")
    low, high = wire_fit.usable_wires(thread)
    wire = low + share * (high - low)
    reading = wire_by_drawing(pi / 6, thread.pitch, pitch_diameter, wire)
    assert wires.pd_from_wires(thread, wire, reading) == pytest.approx(pitch_diameter, rel=1e-12)


def test_a_wire_that_does_not_serve_is_refused_in_words() -> None:
    thread = standards.read("3/4-16 UNF-2A")
    with pytest.raises(OutOfRange, match="would not stand proud of the crest"):
        wires.over_wires(thread, 0.028, "max")
    with pytest.raises(OutOfRange, match="edge of the crest"):
        wires.over_wires(thread, 0.060, "max")
    with pytest.raises(OutOfRange, match="internal thread"):
        wires.best_wire(standards.read("3/4-16 UNF-2B"))
    with pytest.raises(OutOfRange, match="check its unit"):
        wires.pd_from_wires(thread, 0.0361, 19.35)


@pytest.mark.parametrize("row", rows("infeed_passes"), ids=lambda row: f"{row['table']} {row['kind']} {row['pitch']}")
def test_published_pass_tables(row: dict[str, str]) -> None:
    """Recommended passes of an insert maker (2019-20 general catalogue, pp. 404 and 415), within 0.07 mm.

    Of eight threads the first four passes are known; they lie between the two rules, up to 0.10 mm from equal area.

    Page 404 (full profile inserts) follows equal chip area, page 415 (partial profile) the lighter first pass.
    They are recommendations rounded to 0.01 mm, with a least last pass, so no closer agreement is to be had.
    """
    rule, other = ("equal area", "light first") if row["table"] == "p404" else ("light first", "equal area")
    total, count = float(row["total_depth_mm"]), int(row["passes"])
    depths = [row[f"pass{number}"] for number in range(1, count + 1)]
    printed = list(accumulate(float(depth) for depth in depths if depth))

    def worst(name: str) -> float:
        return max(abs(ours - theirs) for ours, theirs in zip(sharing.pass_totals(total, count, None, name), printed))

    assert all(depths) or len(printed) == 4  # of eight threads the first four passes are known
    assert not all(depths) or printed[-1] == pytest.approx(total, abs=0.011)
    assert worst(rule) < (0.07 if all(depths) else 0.101)
    assert not all(depths) or worst(rule) < worst(other)


@pytest.mark.parametrize("passes", [2, 3, 6, 12])
def test_the_rule_of_two_insert_makers(passes: int) -> None:
    """Depth after pass x: ap / root(nap - 1) x root(q), q as printed: 0.3, 1, then x - 1."""
    factors = {row["pass"]: row["q"] for row in rows("infeed_rule")}
    found = cutting.pass_totals(1.25, passes, rule="light first")
    for number, depth in enumerate(found, start=1):
        printed = factors.get(str(number), "")
        q = float(printed) if printed else number - 1
        assert depth == pytest.approx(1.25 / (passes - 1) ** 0.5 * q**0.5, rel=1e-12)


def never_grows(totals: list[float]) -> bool:
    """Whether no step from total to total is more than the one before it."""
    steps = [after - before for before, after in zip(totals, totals[1:])]
    return all(after <= before + 1e-9 for before, after in zip(steps, steps[1:]))


@settings(deadline=None)
@given(st.lists(st.integers(1, 8), min_size=2, max_size=5), st.booleans())
def test_the_order_of_passes_is_the_nearest_to_the_rule_that_there_is(steps: list[int], light: bool) -> None:
    """Against every list of whole passes that closes and never grows: none keeps nearer to the totals by more.

    Each pass in turn takes the nearest it can, so the first total in which another list differs is nearer in ours.
    """
    totals = list(accumulate(steps))
    found = sharing.in_order(totals, 0, 1, light, whole=True)

    def lists(left: int, count: int, most: int) -> list[list[int]]:
        if count == 1:
            return [[left]] if 1 <= left <= most else []
        return [[step, *rest] for step in range(1, most + 1) for rest in lists(left - step, count - 1, step)]

    first = range(1, totals[-1] - len(steps) + 2)
    if light:  # the light first pass binds no other
        every = [[one, *rest] for one in first for rest in lists(totals[-1] - one, len(steps) - 1, totals[-1])]
    else:
        every = lists(totals[-1], len(steps), totals[-1])
    nearest = min(every, key=lambda one: [abs(done - total) for done, total in zip(accumulate(one), totals)])
    assert list(accumulate(nearest)) == found


@given(
    total=st.floats(0.1, 5.0),
    passes=st.integers(2, 30),
    finish=st.one_of(st.none(), st.floats(0.01, 0.05)),
    rule=st.sampled_from(["equal area", "light first"]),
    division=st.sampled_from([0.001, 0.01, 0.02]),
)
def test_passes_close_and_keep_their_promises(total, passes, finish, rule, division) -> None:
    if finish is not None and passes * finish > total:
        with pytest.raises(OutOfRange, match=r"more than the passes before it|does not fit"):
            sharing.pass_totals(total, passes, finish, rule)
        return
    totals = sharing.pass_totals(total, passes, finish, rule)
    light = 1 if rule == "light first" and passes - (finish is not None) > 1 else 0
    assert never_grows(totals[light:] if light else [0, *totals])
    assert totals[-1] == total
    assert len(totals) == passes
    assert totals == sorted(totals)
    if finish is not None:
        assert total - totals[-2] == pytest.approx(finish)
    if round(total / division) < 2 * passes or (finish is not None and finish < division):
        return  # too few divisions: refused, see test_a_plan_that_cannot_be_cut
    if finish is not None and passes * (finish + division / 2) > total - division / 2:
        return  # the finish, rounded up, may be more than an even share of the depth, rounded down
    ideal = sharing.shared_depths(total, passes, finish, rule)
    dial = sharing.whole_divisions(ideal, division, finish, "mm", rule)
    assert never_grows(dial[light:] if light else [0, *dial])
    if finish is not None:
        assert abs(dial[-1] - dial[-2] - finish) <= division / 2 + 1e-6
    counts = [reading / division for reading in dial]
    assert all(abs(count - round(count)) < 1e-6 for count in counts)
    assert all(round(b - a) >= 1 for a, b in zip([0, *counts], counts))
    assert abs(dial[-1] - total) <= division / 2 + 1e-9


@pytest.mark.parametrize(
    ("designation", "tip"),
    [("3/4-16 UNF-2A", Tip("sharp")), ("1-5 ACME-2G", Tip("flat", 0.0689)), ("4-4 BUTT-2A", Tip("flat", 0.02))],
)
def test_equal_area_is_equal_by_the_shoelace_rule(designation: str, tip: Tip) -> None:
    """The grooves after each pass, measured as polygons: each takes as much as the last."""
    thread, passes = standards.read(designation), 6
    form = standards.system(thread).form
    left, right = tan(radians(form.leading)), tan(radians(form.trailing))
    areas = [0.0]
    for row in cutting.infeed(thread, tip, passes, 0):
        depth = row[2]
        corners = [(-depth * left, 0), (0, -depth), (tip.size, -depth), (tip.size + depth * right, 0)]
        pairs = zip(corners, corners[1:] + corners[:1])
        areas.append(abs(sum(x1 * y2 - x2 * y1 for (x1, y1), (x2, y2) in pairs)) / 2)
    chips = [after - before for before, after in zip(areas, areas[1:])]
    assert chips == pytest.approx([chips[0]] * passes)


def test_a_plan_that_cannot_be_cut_is_refused_in_words() -> None:
    thread, tip = standards.read("3/4-16 UNF-2A"), Tip("radius", 0.008)
    with pytest.raises(OutOfRange, match="does not fit in a depth"):
        cutting.infeed(thread, tip, 8, finish=0.05)
    with pytest.raises(OutOfRange, match="fewer passes or a finer dial"):
        cutting.infeed(thread, tip, 60, division=0.001)
    with pytest.raises(OutOfRange, match="stepped flank; use 0"):
        cutting.infeed(thread, tip, 8, angle=40)
    for angle, where in ((29.5, " where the 7 degree flank trails, and none where the 45 degree flank does"), (46, "")):
        with pytest.raises(OutOfRange, match=f"stepped flank{where}; .*use 0 .straight in. to 7 degrees"):
            cutting.compound_angle(standards.read("1-10 BUTT-2A"), angle)
    with pytest.raises(OutOfRange, match="root would foul"):
        cutting.depth(thread, Tip("radius", 0.02), "mid")
    with pytest.raises(OutOfRange, match="below the pitch diameter aimed at"):
        cutting.depth(thread, tip, "mid", 0.6)
    with pytest.raises(OutOfRange, match=r"over its largest size 0\.6236 by 0\.1204.* made for another thread"):
        cutting.depth(standards.read("5/8-18 UNF-2A"), tip, "mid", 0.744)
    with pytest.raises(OutOfRange, match=r"bore 0\.72 in is above the pitch diameter aimed at"):
        cutting.depth(standards.read("3/4-16 UNF-2B"), tip, "mid", 0.72)
    with pytest.raises(OutOfRange, match="more than the passes before it"):
        cutting.infeed(thread, tip, 8, finish=0.006)
    with pytest.raises(NotGiven, match="outside or inside"):
        cutting.depth(standards.read("3/4-16 UNF"), tip, "basic")


def test_spring_passes_take_nothing() -> None:
    plan = cutting.infeed(standards.read("M20x2.5-6g"), Tip("radius", 0.2), 10, 29.5, None, 2, division=0.02)
    assert [row[1] for row in plan[-2:]] == [0.0, 0.0]
    assert plan[-1][4] == plan[-3][4]
    assert len(plan) == 12


def test_the_bluntest_tip_leaves_the_root_on_the_basic_profile() -> None:
    """ISO 68-1: at the largest pitch diameter a flat of P/4 ends on the minor diameter of the mating thread."""
    thread = standards.read("M20x2.5-6h")
    cutting.depth(thread, Tip("flat", 2.5 / 4 * 0.999), "max")
    with pytest.raises(OutOfRange):
        cutting.depth(thread, Tip("flat", 2.5 / 4 * 1.01), "max")


def test_over_wires_on_a_taper_by_drawing() -> None:
    """Three discs dropped into a drawn taper groove, the anvil laid on two of them, the other parallel to it."""
    thread = standards.read("3/4-14 NPT external")
    pitch, slope = thread.pitch, 1 / 32  # half of 1 in 16
    wire = wires.best_wire(thread)
    pd = limits.pitch_diameter(thread, "basic")
    # The flanks z = +-(r - r0) tan 30 cross the cone r = pd/2 + slope z half a pitch apart: find r0 by bisection.
    low, high = pd / 2 - pitch, pd / 2
    for _ in range(100):
        bottom = (low + high) / 2
        height = pd / 2 - bottom
        right = tan(pi / 6) * height / (1 - slope * tan(pi / 6))
        left = tan(pi / 6) * height / (1 + slope * tan(pi / 6))
        low, high = (bottom, high) if right + left > pitch / 2 else (low, bottom)
    centre = bottom + wire_by_drawing(pi / 6, pitch, 2 * pd, wire) / 2 - wire / 2 - (pd - pitch / 4 / tan(pi / 6))
    pair = [(-pitch / 2, centre - slope * pitch / 2), (pitch / 2, centre + slope * pitch / 2)]
    (z1, r1), (z2, r2) = pair
    along = hypot(z2 - z1, r2 - r1)
    normal = (-(r2 - r1) / along, (z2 - z1) / along)
    anvil = normal[0] * z1 + normal[1] * r1 + wire / 2
    other = normal[1] * -centre - wire / 2
    assert wires.over_wires(thread, wire, "basic") == pytest.approx(anvil - other, rel=1e-12)
    assert wires.pd_from_wires(thread, wire, anvil - other) == pytest.approx(pd, rel=1e-12)
    with pytest.raises(NotGiven, match="no constant"):
        wires.wire_constant(thread, wire)


def test_sharp_height_of_a_taper_thread() -> None:
    """ASME B1.20.1, figure of the thread form: 0.865 743 P on the taper as against 0.866 025 P on a cylinder."""
    thread = standards.read("3/4-14 NPT external")
    assert wire_fit.vertex_width(thread) / thread.pitch == pytest.approx(0.865743, abs=5e-7)


def test_taper_diameter() -> None:
    """ASME B1.20.1-2013, Table 2: E0, E1 at L1 and E2 at L2 of 3/4-14 NPT."""
    for distance, printed in ((0, "0.96768"), (0.339, "0.98887"), (0.5457, "1.00179")):
        assert agrees(evaluate("THREAD_TAPER_DIAMETER", "3/4-14 NPT", distance), printed, places_off=1)  # L2 is rounded
    with pytest.raises(NotGiven, match="parallel thread"):
        evaluate("THREAD_TAPER_DIAMETER", "M20-6g", 3)
