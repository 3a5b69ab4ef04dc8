"""The drawing on the sheet Setup against geometry worked on its own: distances, angles, and the size of the groove."""

from __future__ import annotations

import io
import zipfile
from itertools import pairwise
from math import atan2, degrees, hypot

import pytest
from lxml import etree
from workbook_cases import answer, cases, plain_file

from sheetfuncs import standards
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.sheets import drawing

Point = tuple[float, float]
CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


def lines(sheet: Document, across: str, up: str) -> dict[str, list[Point]]:
    """The points of each line of the drawing."""
    points = list(zip(*([row[0] for row in sheet[name]] for name in (across, up))))
    found = {}
    for line in drawing.LINES:
        found[line.key], points = points[: len(line.points)], points[len(line.points) :]
    return found


def off_line(point: Point, one: Point, other: Point) -> float:
    """Distance of a point from the line through two others."""
    across, up = other[0] - one[0], other[1] - one[1]
    return abs(across * (point[1] - one[1]) - up * (point[0] - one[0])) / hypot(across, up)


def width_at(groove: list[Point], height: float) -> float:
    """How wide a groove's outline is at a height."""
    crossed = []
    for (x1, y1), (x2, y2) in pairwise(groove):
        if (y1 - height) * (y2 - height) < 0:
            crossed.append(x1 + (height - y1) / (y2 - y1) * (x2 - x1))
    return crossed[1] - crossed[0]


def test_drawn_sizes_are_those_of_the_thread(sheet: Document) -> None:
    seen, wires = 0, 0
    for case in cases(50, seed=21):
        sheet.set(case.sheet())
        infeed, wire, unit = *sheet.get(["depth", "wire_used"]), case.unit
        if not isinstance(infeed, float):
            assert {point for line in lines(sheet, "drawing_x", "drawing_y").values() for point in line} == {(0, 0)}
            continue
        seen += 1
        drawn = lines(sheet, "drawing_along", "drawing_up")
        pitch, aimed = sheet.get(["pitch", "pitch_diameter_aimed"])
        groove = drawn["profile"][1 + drawing.ARC + 3 : 1 + 2 * (drawing.ARC + 3)]
        pitch_line = drawn["line"][0][1]
        assert width_at(groove, pitch_line) == pytest.approx(pitch / 2, rel=1e-9), case
        # What was cut is the blank's surface less the lowest point of the tool: the depth by the function.
        if not standards.system(case.thread).taper:
            depth = answer("THREAD_DEPTH", case.callout, case.tip, case.inputs["aim_limit"],
                           case.inputs["blank_measured"], unit)  # fmt: skip
            lowest = min(up for _, up in groove)
            assert groove[0][1] - lowest == pytest.approx(depth, rel=1e-9), case
        form = standards.system(case.thread).form
        left, right = (groove[1], groove[0]), (groove[-2], groove[-1])
        for (one, other), angle in ((left, form.leading), (right, form.trailing)):
            if hypot(one[0] - other[0], one[1] - other[1]) > 1e-6 * pitch:
                leaning = degrees(atan2(abs(other[0] - one[0]), other[1] - one[1]))
                assert leaning == pytest.approx(angle, abs=1e-6), case
        assert min(up for _, up in drawn["tool"]) == pytest.approx(min(up for _, up in groove), rel=1e-9)
        if not isinstance(sheet["wire_constant"], float):
            continue
        wires += 1
        circle = drawn["wire"]
        centre = tuple(sum(point[at] for point in circle[:-1]) / drawing.CIRCLE for at in (0, 1))
        shifted = [tuple((x + pitch, up) for x, up in pair) for pair in (left, right)]
        for one, other in shifted:
            assert off_line(centre, one, other) == pytest.approx(wire / 2, rel=1e-7), case
        over = answer("THREAD_OVER_WIRES", case.callout, wire, case.inputs["aim_limit"], unit)
        assert aimed + 2 * (centre[1] + wire / 2 - pitch_line) == pytest.approx(over, rel=1e-9), case
    assert seen > 20
    assert wires > 4


def test_both_axes_have_one_scale_and_nothing_leaves_the_frame(sheet: Document) -> None:
    for case in cases(20, seed=22):
        sheet.set(case.sheet())
        if not isinstance(sheet["depth"], float):
            continue
        real, shown = (lines(sheet, *names) for names in (("drawing_along", "drawing_up"), ("drawing_x", "drawing_y")))
        scale = sheet["drawing_scale"]
        flip = -1 if case.thread.side == "internal" else 1
        for key, points in real.items():
            if not isinstance(points[0][0], float):
                continue
            for (a, b), (x, y) in zip(pairwise(points), pairwise(shown[key])):
                assert y[0] - x[0] == pytest.approx(scale * (b[0] - a[0]), abs=1e-7), case
                assert y[1] - x[1] == pytest.approx(flip * scale * (b[1] - a[1]), abs=1e-7), case
            assert all(0 <= x <= drawing.FRAME_WIDE and 0 <= y <= drawing.FRAME_HIGH for x, y in shown[key]), case


def test_the_chart_has_the_proportions_of_its_axes() -> None:
    with zipfile.ZipFile(io.BytesIO(plain_file().content)) as package:
        charts = [etree.fromstring(package.read(n)) for n in package.namelist() if n.startswith("xl/charts/chart")]
        shown = next(chart for chart in charts if "'Working'!" in etree.tostring(chart).decode())
        anchors = [etree.fromstring(package.read(n)) for n in package.namelist() if n.startswith("xl/drawings/drawing")]
    ranges = [
        float(axis.find(f"{CHART}scaling/{CHART}max").get("val"))
        - float(axis.find(f"{CHART}scaling/{CHART}min").get("val"))
        for axis in shown.iter(f"{CHART}valAx")
    ]
    plot = shown.find(f".//{CHART}plotArea/{CHART}layout/{CHART}manualLayout")
    wide, high = (float(plot.find(f"{CHART}{side}").get("val")) for side in "wh")
    sizes = [
        (int(ext.get("cx")), int(ext.get("cy")))
        for anchor in anchors
        for ext in anchor.iter("{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}ext")
    ]
    assert len(sizes) == 2  # on Setup and on Card
    assert sizes[0] == sizes[1]
    assert sizes[0][0] * wide / ranges[0] == pytest.approx(sizes[0][1] * high / ranges[1], rel=1e-4)


def test_black_and_white_is_enough() -> None:
    """No two lines look the same without colour, but thread and wire, which their shape tells apart."""
    assert {line.ink for line in drawing.LINES} == {"000000"}
    looks = [(line.dash, line.width) for line in drawing.LINES]
    assert len(set(looks)) == len(looks)


def test_unlike_flanks_are_to_be_compared_with_the_drawing_of_the_part(sheet: Document) -> None:
    """ANSI B1.9-1973: 7 and 45 degrees; which of them takes the load, the part's drawing alone says."""
    sheet.set(chosen(standards.read("1-10 BUTT-2A")))
    assert sheet["drawing_title"].endswith("flanks of 7 and 45°: compare with the part's drawing")
    sheet.set(chosen(standards.read("1-8 UNC-2A")))
    drawn = isinstance(sheet["depth"], float)
    assert sheet["drawing_title"] == ("Thread, tool and wire to scale, headstock on the left" if drawn else "")
