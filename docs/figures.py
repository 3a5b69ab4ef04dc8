"""Draws the figures of the written pages as SVG, to scale, from the functions that the pages explain.

python docs/figures.py            writes docs/figures/*.svg again
"""

from __future__ import annotations

from math import cos, pi, radians, sin, tan
from pathlib import Path

from sheetfuncs import forms, limits, standards, wires
from sheetfuncs.forms import SIXTY, Tip

FOLDER = Path(__file__).parent / "figures"
SCALE = 4200  # pixels an inch
HALF = radians(30)


def line(points: list[tuple[float, float]], extra: str = "") -> str:
    """A polyline; y is counted upwards in inches, from the pitch line."""
    path = " ".join(f"{x * SCALE:.1f},{-y * SCALE:.1f}" for x, y in points)
    return f'<polyline points="{path}" fill="none" stroke="black" {extra}/>'


def text(x: float, y: float, words: str, anchor: str = "middle", size: int = 13) -> str:
    """A label at a place in inches."""
    return f'<text x="{x * SCALE:.1f}" y="{-y * SCALE:.1f}" font-size="{size}" text-anchor="{anchor}">{words}</text>'


def arrow(x: float, bottom: float, top: float, words: str, side: int = 1) -> str:
    """A vertical dimension line with its label beside it, in the middle."""
    tick = 0.0012
    ends = "".join(line([(x - tick, y), (x + tick, y)]) for y in (bottom, top))
    label = text(x + side * 0.0022, (bottom + top) / 2 - 0.001, words, "start" if side > 0 else "end")
    return line([(x, bottom), (x, top)]) + ends + label


def sheet(name: str, left: float, bottom: float, right: float, top: float, parts: list[str]) -> None:
    """Write one figure."""
    box = f"{left * SCALE:.0f} {-top * SCALE:.0f} {(right - left) * SCALE:.0f} {(top - bottom) * SCALE:.0f}"
    style = 'font-family="sans-serif" fill="black" stroke-width="1.5"'
    white = (
        f'<rect x="{left * SCALE:.0f}" y="{-top * SCALE:.0f}" width="100%" height="100%" fill="white" stroke="none"/>'
    )
    body = "\n".join([f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{box}" {style}>', white, *parts, "</svg>"])
    (FOLDER / f"{name}.svg").write_text(body + "\n", encoding="utf-8")


def groove(bottom: float, tip: Tip, top: float, dashes: str = "") -> str:
    """The outline that a tip leaves whose end is `bottom` below the pitch line."""
    shortening = forms.tip_shortening(SIXTY, tip)
    vertex = -bottom - shortening
    if tip.kind == "radius":
        r = tip.size
        centre = -bottom + r
        arc = [
            (r * sin(angle), centre - r * cos(angle))
            for angle in [(-60 + 120 * step / 40) * pi / 180 for step in range(41)]
        ]
    else:
        half_width = shortening * tan(HALF)
        arc = [(-half_width, -bottom), (half_width, -bottom)]
    rim = (top - vertex) * tan(HALF)
    return line([(-rim, top), *arc, (rim, top)], dashes)


def tool_tip() -> None:
    """3/4-16 UNF-2A at the middle of its pitch diameter: the same flanks with three tips."""
    thread = standards.read("3/4-16 UNF-2A")
    pitch = thread.pitch
    crest = (0.7440 - limits.pitch_diameter(thread, "mid")) / 2
    below = forms.vertex_below_pitch_line(SIXTY, pitch)
    dashed = 'stroke-dasharray="5 4"'
    nose, flat = Tip("radius", 0.008), Tip("flat", pitch / 8)
    ends = [below, below - forms.tip_shortening(SIXTY, flat), below - forms.tip_shortening(SIXTY, nose)]
    parts = [
        groove(ends[0], Tip("sharp"), crest, dashed),
        groove(ends[1], flat, crest, 'stroke-dasharray="2 3"'),
        groove(ends[2], nose, crest, 'stroke-width="3"'),
        line([(-0.045, crest), (-0.0265, crest)], 'stroke-width="3"'),
        line([(0.0265, crest), (0.045, crest)], 'stroke-width="3"'),
        line([(-0.042, 0), (0.042, 0)], 'stroke-dasharray="12 3 3 3"'),
        text(-0.0415, 0.001, "pitch line", "start"),
        text(-0.0445, crest + 0.0012, "blank .7440", "start"),
        *(line([(x, -end), (x, crest)]) for end, x in zip(ends, (0.075, 0.056, 0.037))),
        *(line([(x - 0.0012, -end), (x + 0.0012, -end)]) for end, x in zip(ends, (0.075, 0.056, 0.037))),
        text(0.037, crest + 0.0016, ".0384"),
        text(0.056, crest + 0.0016, ".0396"),
        text(0.075, crest + 0.0016, ".0464"),
        text(0.037, crest + 0.0050, "nose .008"),
        text(0.056, crest + 0.0050, "flat P/8"),
        text(0.075, crest + 0.0050, "sharp"),
        arrow(-0.033, -ends[0], 0, "H/2", -1),
        line([(-pitch / 4, 0), (-pitch / 4, 0.0035)]),
        line([(pitch / 4, 0), (pitch / 4, 0.0035)]),
        text(0, 0.0025, "P/2"),
    ]
    parts += [line([(0, -end), (x, -end)], 'stroke-width="0.6"') for end, x in zip(ends, (0.075, 0.056, 0.037))]
    sheet("tool-tip", -0.05, -0.033, 0.087, 0.03, parts)


def wire() -> None:
    """Best wire and its measurement."""
    thread = standards.read("3/4-16 UNF-2A")
    pitch, best = thread.pitch, wires.best_wire(thread)
    below = forms.vertex_below_pitch_line(SIXTY, pitch)
    centre = best / 2 / sin(HALF) - below
    crest = 0.75 * forms.sharp_height(SIXTY, pitch) / 2
    circle = (
        f'<circle cx="0" cy="{-centre * SCALE:.1f}" r="{best / 2 * SCALE:.1f}" '
        'fill="none" stroke="black" stroke-width="2"/>'
    )
    parts = [
        groove(below, Tip("sharp"), crest, 'stroke-width="2.5"'),
        circle,
        line([(-0.04, 0), (0.04, 0)], 'stroke-dasharray="12 3 3 3"'),
        text(-0.0395, 0.001, "pitch line", "start"),
        line([(-0.02, centre + best / 2), (0.075, centre + best / 2)], 'stroke-width="2.5"'),
        text(0.0745, centre + best / 2 + 0.0012, "anvil", "end"),
        arrow(0.03, -below, centre, "W / (2 sin a)"),
        line([(0, centre), (0.03, centre)], 'stroke-width="0.6"'),
        line([(0, -below), (0.053, -below)], 'stroke-width="0.6"'),
        arrow(0.053, -below, 0, "P / (4 tan a)"),
        arrow(-0.028, centre, centre + best / 2, "W/2", -1),
        line([(-0.028, centre), (0, centre)], 'stroke-width="0.6"'),
    ]
    sheet("over-wires", -0.05, -0.033, 0.085, 0.037, parts)


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    tool_tip()
    wire()
