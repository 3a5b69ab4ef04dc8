"""Limits worked from the formulas as their sources print them, read as text, and from printed rows of a sister thread.

Where no table of limits could be found the formula's own text is the printed row: it is parsed here, and no number
of the module is used.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from older_threads import read as read_as
from published_rows import agrees, rows

from sheetfuncs import standards
from sheetfuncs.designations import read_inch_size
from sheetfuncs.standards import ba, base


def share_and_more(text: str) -> tuple[Fraction, Fraction]:
    """A printed formula of the pitch, exactly.

    >>> share_and_more("0.08 p + 0.02")
    (Fraction(2, 25), Fraction(1, 50))
    """
    share, _, more = text.partition("p")
    return Fraction(share.strip()), Fraction(more.strip(" +") or 0)


@pytest.mark.parametrize(
    "row", rows("ba_tolerances"), ids=lambda row: f"{row['member']} {row['class']} {row['numbers']}"
)
def test_ba_tolerances_as_two_editions_print_them(row: dict[str, str]) -> None:
    """BS 93, with exact fractions of the printed pitches; each limit rounded to 0.001 mm."""
    first, last = map(int, row["numbers"].split(" to "))
    sizes = {size["thread"]: size for size in rows("ba_basic")}
    words = "nut" if row["member"] == "nut" else row["class"]
    for number in range(first, last + 1):
        printed = sizes[f"{number} BA"]
        found = ba.limits(read_as(ba.SYSTEM, f"{number} BA {words}"))
        allowance = Fraction(row["allowance_mm"] or 0) if row["member"] == "bolt" else Fraction(0)
        assert found.allowance == float(allowance)
        for size, column, name in zip(found[:3], ("major", "effective", "minor"), ("major", "pd", "minor")):
            start = Fraction(printed[name]) - allowance
            if not row[column]:
                assert (size.max, size.min) == (None, float(start))  # no tolerance of the nut's major diameter
                continue
            share, more = share_and_more(row[column])
            width = share * Fraction(printed["pitch"]) + more
            high, low = (start, start - width) if row["member"] == "bolt" else (start + width, start)
            assert abs(Fraction(str(size.max)) - high) <= Fraction("0.0005"), (number, column)
            assert abs(Fraction(str(size.min)) - low) <= Fraction("0.0005"), (number, column)


def test_a_second_class_of_nut_is_not_made_up() -> None:
    assert [row["class"] for row in rows("ba_tolerances") if row["member"] == "nut"] == ["all"]


def term(text: str, known: dict[str, float]) -> float:
    """One term of a printed formula: a size of the thread, a cell of a table, or so many times one."""
    text = text.strip()
    if text in known:
        return known[text]
    times = re.fullmatch(r"([\d.]+) ?(?:x )?(.+)", text)
    if times:
        return float(times[1]) * term(times[2], known)
    raise AssertionError(f"no value for '{text}'")


def worked(text: str, known: dict[str, float]) -> float:
    """The value of a printed formula of terms with + and - between them.

    >>> worked("D - 0.9P", {"D": 1.0, "P": 0.2})
    0.82
    """
    first, *rest = re.split(r" ([+-]) ", text)
    total = term(first, known)
    for sign, part in zip(rest[::2], rest[1::2]):
        total += term(part, known) * (1 if sign == "+" else -1)
    return total


@pytest.mark.parametrize("name", ["2C", "3C", "4C"])
@pytest.mark.parametrize("row", rows("acme_centralizing_tolerances"), ids=lambda row: row["thread"])
def test_centralizing_acme_as_table_8a_forms_its_limits(row: dict[str, str], name: str) -> None:
    """Each of the twelve limits by its printed formula from the printed cells of Tables 10 and 12.

    Table 11, the tolerance of the pitch diameter, is taken from the nut: the screw must have the same. The tables
    hold sizes to 0.0001 in, so a chain of them may be one off.
    """
    size, tpi = row["thread"].split("-")
    screw, nut = (standards.limits(standards.read(f"{row['thread']} ACME-{name}{tail}")) for tail in ("", "-INT"))
    diameter = read_inch_size(size)
    (allowance,) = (
        float(cell[f"class{name[0]}"])
        for cell in rows("acme_pd_allowances")
        if read_inch_size(cell["above"]) < diameter <= read_inch_size(cell["to_incl"])
    )
    both = float(row["major_2C"]) if name == "2C" else None
    known = {
        "D": diameter,
        "P": 1 / float(tpi),
        "P/2": 0.5 / float(tpi),
        "allowance of Table 10": allowance,
        "tolerance of Table 11": nut.pitch.max - nut.pitch.min,
        "pitch diameter tolerance of Table 11": nut.pitch.max - nut.pitch.min,
        "tolerance of Table 12": both or float(row[f"major_ext_{name}"]),
        "allowance of Table 12 column 3": float(row["minor_clearance"]),
        "allowance of Table 12 column 4": float(row["major_clearance"]),
        "tolerance of Table 12 columns 7 9 or 11": both or float(row[f"major_int_{name}"]),
        "tolerance of Table 12 column 6": float(row["minor_tol"]),
    }
    ours = {
        f"{side} {which} {end}": getattr(getattr(found, which), end)
        for side, found in (("external", screw), ("internal", nut))
        for which in ("major", "pitch", "minor")
        for end in ("max", "min")
    }
    printed = {one["limit"]: one["printed"] for one in rows("acme_centralizing_formulas")}
    assert set(printed) == set(ours)
    for limit in ("internal pitch min", *printed):  # the screw's pitch diameter starts from the nut's
        known[limit] = worked(printed[limit], known)
        half = 1.5 * 0.00005 * ("1.5 x" in printed[limit])  # the nut's tolerance is rounded to 0.0001
        assert ours[limit] == pytest.approx(known[limit], abs=0.000101 + half), (limit, printed[limit])


def test_stub_acme_keeps_the_printed_pitch_diameter_zone_of_acme_2g() -> None:
    """B1.8: the fit is that of class 2G of B1.5. So the printed rows of Acme, 0.2 P higher, are those of the stub.

    Minor diameters differ by 0.4 P, since the clearance at the root is the same. No row of stub limits was found.
    """
    compared = 0
    for row in rows("acme_limits"):
        size, _, name = row["thread"].partition(" ACME-")
        if name not in ("2G", "3G", "4G") or row["source"] != "screw maker":
            continue
        found = standards.limits(standards.read(f"{size} STUB ACME-{name}"))
        pitch = 1 / float(size.split("-")[-1])
        for value, column, shift in (
            *((found.pitch.max, "pd_max", 0.2), (found.pitch.min, "pd_min", 0.2)),
            (found.minor.max, "minor_max", 0.4),
        ):
            if row[column]:
                assert value == pytest.approx(float(row[column]) + shift * pitch, abs=0.000151), (row["thread"], column)
                compared += 1
    assert compared >= 25


def test_whitworth_form_as_gauge_makers_print_it() -> None:
    """H, h, H/6 and r by the circle that touches both flanks and is cut off at H/6, with no formula of the module."""
    printed = {row["quantity"]: row["share_of_pitch"] for row in rows("whitworth_rules")}
    thread = standards.read("1-10 WHIT")
    basic = standards.basic(thread)
    height = float(printed["H"])
    assert agrees((basic.major - basic.pitch) * 10, printed["h"])
    assert agrees(height * 2 / 3, printed["h"])
    assert agrees(height / 6, printed["H/6"])
    root = standards.system(thread).root_form(thread)
    assert agrees(root.largest * 10, printed["r"])
    assert isinstance(root, base.Root)
    # the arc of radius r reaches from the cut at H/6 to the flanks: its centre lies r / sin 27.5 from the sharp corner
    slope = height / 0.5  # two flanks, half a pitch apart at the base, meet at H
    sine = 1 / (1 + slope**2) ** 0.5
    radius = float(printed["r"])
    assert radius / sine - radius == pytest.approx(height / 6, abs=2e-6)
