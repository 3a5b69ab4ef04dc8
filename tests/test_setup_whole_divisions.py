"""Where the plan on Setup ends on a dial of whole divisions: never past the limit of least metal, by hand arithmetic.

The tool of a 60 degree thread goes (B - E) / 2 + P / (4 tan 30) less what its tip falls short deep, a nose of r by r, a
flat of w by w / (2 tan 30); an Acme one has tan 14.5 there. The compound goes as much over the cosine of its angle,
half a degree less than the flank. The limits are those of ASME B1.1-2003, B1.5 and ISO 965-1.
"""

from __future__ import annotations

import random
import re
from math import cos, floor, radians, tan

import pytest
from workbook_cases import Case

from sheetfuncs import CellError, evaluate, standards
from workbook_template.office import Document

TRIED = (
    ("1/4-28 UNF-3A", 30), ("3/4-16 UNF-2A", 30), ("1/2-13 UNC-2B", 30), ("3/4-16 UNF-3B", 30), ("1-8 UNC-2A", 30),
    ("M10x1.5-6H", 30), ("M20x2.5-6g", 30), ("M20x2.5-6h", 30), ("1-5 ACME-2G", 14.5),
)  # fmt: skip
BITS = 1e-7
PLAN = {"compound_angle": None, "pass_rule": "equal area", "thinnest_coating": None, "thickest_coating": None}


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


def set_up(sheet: Document, callout: str, **inputs: object) -> None:
    thread = standards.read(callout)
    sheet.set(PLAN | Case(thread, thread.unit, PLAN | inputs).sheet())


def column(sheet: Document, name: str) -> list[float]:
    return [row[0] for row in sheet[name] if isinstance(row[0], float)]


def end_by_hand(sheet: Document, callout: str, flank: float, flat: float, blank: float) -> float:
    """The pitch diameter that the last reading of the plan cuts."""
    thread = standards.read(callout)
    sign = -1 if thread.side == "internal" else 1
    infeed = column(sheet, "plan_compound_reading")[-1] * cos(radians(flank - 0.5))
    short = flat / 2 / tan(radians(flank))
    return blank - sign * 2 * (infeed - thread.pitch / 4 / tan(radians(flank)) + short)


def test_the_end_is_never_past_the_limit_of_least_metal(sheet: Document) -> None:
    draw, kinds, turned = random.Random(41), set(), 0
    for number in range(405):
        callout, flank = TRIED[number % len(TRIED)]
        thread, aim = standards.read(callout), ("max", "mid", "min")[number // len(TRIED) % 3]
        inside, found = thread.side == "internal", standards.limits(thread)
        least, most = (found.pitch.max, found.pitch.min) if inside else (found.pitch.min, found.pitch.max)
        crest = found.minor if inside else found.major
        blank = round(draw.uniform(crest.min, crest.max), 4)
        flat = round(thread.pitch * (0.345 if flank == 14.5 else draw.uniform(0.04, 0.12)), 4)
        division = draw.choice((0.02, 0.05, 0.1) if thread.unit == "mm" else (0.0005, 0.001, 0.002, 0.003, 0.004))
        aimed = {"max": found.pitch.max, "mid": (found.pitch.max + found.pitch.min) / 2, "min": found.pitch.min}[aim]
        sign, lean = -1 if inside else 1, cos(radians(flank - 0.5))
        depth = sign * (blank - aimed) / 2 + (thread.pitch / 2 - flat) / 2 / tan(radians(flank))
        passes, springs = draw.randint(1, 6), draw.choice((None, 2))
        finish = round(1.2 * division, 4) if passes > 2 and draw.random() < 0.5 else None
        rule = draw.choice(("equal area", "light first"))
        set_up(sheet, callout, tip_kind="flat", tip_size=flat, blank_measured=blank, aim_limit=aim, passes=passes,
               spring_passes=springs, finishing_pass=finish, dial_division=division, pass_rule=rule)  # fmt: skip
        where = (callout, aim, blank, flat, division, passes, finish, rule)
        travel, readings = depth / lean, column(sheet, "plan_compound_reading")
        if not readings:
            assert travel < 9 * division, (where, sheet["plan_words"])  # nine: of what these passes need
            continue
        end = end_by_hand(sheet, callout, flank, flat, blank)
        assert sign * (end - least) > -BITS, where
        assert -division < readings[-1] - travel <= division / 2 + BITS, where
        nearest = floor(travel / division + 0.5) * division
        allowed = sign * (aimed + sign * 2 * (depth - nearest * lean) - least) > -BITS
        assert readings[-1] == pytest.approx(nearest if allowed else nearest - division, abs=1e-9), where
        turned += not allowed
        kinds.add((inside, aim, allowed))
        travels, rows = column(sheet, "plan_compound_travel"), passes + (springs or 0)
        assert len(travels) == rows
        assert travels[passes:] == [0] * (springs or 0)
        if finish:
            assert travels[passes - 1] == pytest.approx(round(finish / lean / division) * division), where
        first = 1 if rule == "light first" and passes - bool(finish) > 1 else 0
        cuts = travels[:passes]
        assert all(after <= before + 1e-9 for before, after in zip(cuts[first:], cuts[first + 1 :])), where
        assert all(abs(cut / division - round(cut / division)) < 1e-6 and cut > division / 2 for cut in cuts), where
        places = 3 if thread.unit == "mm" else 4
        said = re.search(r"Pitch diameter at the end ([\d.]+) (in|mm)(.*)$", sheet["plan_words"])
        assert said, where
        assert float(said[1]) == pytest.approx(end, abs=0.501 * 10**-places), where
        beyond = sign * (end - most)
        if abs(beyond - 0.5 * 10**-places) > 1e-8:
            assert (": measure, then feed on." in said[3]) == (beyond > 0.5 * 10**-places), where
    assert turned > 30
    assert kinds >= {(side, "mid", True) for side in (True, False)} | {
        (True, "max", False), (False, "min", False), (True, "max", True), (False, "min", True), (False, "mid", False),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("callout", "aim", "nose", "blank", "passes", "division", "begin", "end"),
    [
        (
            "1/4-28 UNF-3A",
            "mid",
            0.003,
            0.248,
            6,
            0.002,
            "DEEP FIRST PASS: 0.0104 on the radius;",
            "0.2277 in, 0.0009 over its maximum: measure, then feed on.",
        ),
        ("3/4-16 UNF-2A", "min", 0.008, 0.7406, 10, 0.001, "10 passes.", "0.7039 in."),
        ("1/2-13 UNC-2B", "max", 0.004, 0.4306, 8, 0.001, "DEEP FIRST PASS: 0.0148 on the radius;", "0.4555 in."),
    ],
)
def test_what_would_end_past_the_limit_ends_a_division_sooner(
    sheet: Document,
    callout: str,
    aim: str,
    nose: float,
    blank: float,
    passes: int,
    division: float,
    begin: str,
    end: str,
) -> None:
    """One division of .001 is .0017 on the diameter, at 29.5 degrees.

    1/4-28: .2480 - .22555 is .02245, half .01122, and .01547 - .0030 come to .02369, over .87036 to .02722: 13.6
    divisions of .002. The 14th would be at .0280, .0014 past the middle .22555, and .2243 is the minimum; the 13th is
    .00122 on the compound short of it, .2277, and .2268 is the maximum.
    3/4-16: .0377 / 2 + .02706 - .0080 is .03791, over .87036 .04356: the 43rd is .00098 short of .7029.
    1/2-13: .0259 / 2 + .03331 - .0040 is .04226, over .87036 .04855: the 48th is .00096 short of .4565.
    The first of six passes is .02722 / √6, .0111 on the compound: 6 divisions, .0104 on the radius. That of eight is
    .0172, 17 divisions, .0148; .25 mm is .0098.
    """
    set_up(sheet, callout, tip_kind="nose radius", tip_size=nose, blank_measured=blank, aim_limit=aim, passes=passes,
           dial_division=division)  # fmt: skip
    assert sheet["plan_words"].startswith(f"{begin} ")
    assert sheet["plan_words"].endswith(f". Pitch diameter at the end {end}")
    sheet.set({"wire_in_use": round(0.57735 * sheet["pitch"], 4)})
    short = re.search(r", (0\.\d+) over its maximum", end)
    told = f"The plan ends {short[1]} short: measure, feed on." if short else "Check each input against the machine."
    assert sheet.get(["next_step", "card_state"]) == [f"All is filled in but the sheet Lathe. {told}"] * 2


def test_a_part_to_be_coated_ends_within_the_limits_to_cut(sheet: Document) -> None:
    """3/4-16 UNF-2A, .0003 to .0004: .7029 less four times .0003 is .7017, and so much may be cut."""
    coated = {"thinnest_coating": 0.0003, "thickest_coating": 0.0004}
    kept = set()
    for blank in (0.7400, 0.7403, 0.7406, 0.7409, 0.7412, 0.7415):
        set_up(sheet, "3/4-16 UNF-2A", tip_kind="flat", tip_size=0.005, blank_measured=blank, aim_limit="min",
               passes=8, dial_division=0.001, **coated)  # fmt: skip
        end = end_by_hand(sheet, "3/4-16 UNF-2A", 30, 0.005, blank)
        assert 0.7017 - BITS < end < 0.7017 + 0.00174 + BITS, blank
        kept.add(end < 0.7029)
    assert True in kept


def test_the_function_ends_where_the_sheet_does(sheet: Document) -> None:
    """THREAD_INFEED aims at the middle: 13 divisions, as above."""
    rows = evaluate("THREAD_INFEED", "1/4-28 UNF-3A", "radius 0.003", 6, None, None, 0, 0.248, "in", 0.002)
    assert rows[-1][4] == pytest.approx(0.026)
    set_up(sheet, "1/4-28 UNF-3A", tip_kind="nose radius", tip_size=0.003, blank_measured=0.248, aim_limit="mid",
           passes=6, dial_division=0.002)  # fmt: skip
    assert column(sheet, "plan_compound_reading") == pytest.approx([row[4] for row in rows[1:]])


def test_a_finishing_pass_of_less_than_a_division_is_told_so(sheet: Document) -> None:
    """.0005 over cos 14 is a quarter of a division of .002; .0010 is half of one and is fed as one."""
    given = {"tip_kind": "flat", "tip_size": 0.07, "blank_measured": 0.997, "aim_limit": "mid", "passes": 8}
    set_up(sheet, "1-5 ACME-2G", **given, dial_division=0.002, finishing_pass=0.0005)
    words = "A finishing pass of 0.0005 is less than a division of the dial, 0.0020; "
    assert sheet["plan_words"] == words + "make it larger, leave it empty or use a finer dial."
    assert column(sheet, "plan_compound_reading") == []
    sheet.set({"finishing_pass": 0.001})
    assert column(sheet, "plan_divisions")[-1] == 1
    sheet.set({"finishing_pass": None, "passes": 30, "dial_division": 0.005})
    assert sheet["plan_words"].startswith("30 passes over a travel of 0.1189 come to less than a division of 0.0050 ")
    with pytest.raises(CellError, match="is less than a division of the dial"):
        evaluate("THREAD_INFEED", "1-5 ACME-2G", "flat 0.07", 8, None, 0.0005, 0, 0.997, "in", 0.002)
