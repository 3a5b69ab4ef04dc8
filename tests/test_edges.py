"""At the edge itself: a bound that holds for the last value on its own side and not for the first on the other."""

from __future__ import annotations

import subprocess
import sys
from math import nextafter
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import rows

import sheetfuncs
from sheetfuncs import evaluate, passes, standards, tables
from sheetfuncs.__main__ import main
from sheetfuncs.designations import read_inch_size
from sheetfuncs.errors import CellError, in_one_line
from sheetfuncs.inspection import expansions


@pytest.mark.parametrize("callout", ["3/4-16 UNF-2A", "3/4-16 UNF-2B", "M20x2.5-6g", "1-5 ACME-2G-INT"])
def test_a_blank_at_the_pitch_diameter_has_nothing_left_to_be_cut(callout: str) -> None:
    aim = evaluate("THREAD_PITCH_DIAMETER", callout, "mid")
    way = -1 if standards.read(callout).side == "internal" else 1
    for blank in (aim, aim - way * 1e-6):
        with pytest.raises(CellError, match="the pitch diameter aimed at"):
            evaluate("THREAD_DEPTH", callout, "sharp", "mid", blank)
    with pytest.raises(CellError, match="made for another thread"):  # it could hold a thread, but not this one
        evaluate("THREAD_DEPTH", callout, "sharp", "mid", aim + way * 1e-6)


def test_a_compound_at_right_angles_never_gets_in() -> None:
    """cos 60 is a half; at 90 degrees no travel is an infeed, and the sentence does not take 90 in."""
    assert evaluate("THREAD_COMPOUND", 0.5, 60) == pytest.approx(1)
    assert evaluate("THREAD_COMPOUND", 0.5, 89.99) > 1000
    for angle in (90, -1):
        with pytest.raises(CellError, match=rf"{angle} is not from 0 \(straight in\) to less than 90 degrees"):
            evaluate("THREAD_COMPOUND", 0.5, angle)


@pytest.mark.parametrize("rule", ["equal area", "light first"])
def test_one_pass_is_the_whole_depth_and_two_with_a_finish_are_the_rest_and_it(rule: str) -> None:
    assert passes.pass_totals(0.75, 1, rule=rule) == [0.75]
    assert passes.pass_totals(0.75, 2, 0.25, rule) == [0.5, 0.75]


@pytest.mark.parametrize("row", rows("usual_passes"), ids=lambda row: f"{row['form']}-{row['unit']}-{row['fine']}")
def test_usual_passes_are_the_published_ones(row: dict[str, str]) -> None:
    system = {"V": "unified", "Acme": "acme", "Stub Acme": "stub_acme", "buttress": "buttress"}[row["form"]]
    for end in (row["fine"], row["coarse"]):
        unit = "mm" if row["unit"] == "mm" else "in"
        pitch = float(end) if unit == "mm" else 1 / float(end)
        thread = standards.read("3/4-16 UNF-2A")._replace(system=system, unit=unit, pitch=pitch)
        assert passes.usual_passes(thread) == (int(row["fewest"]), int(row["most"]))


def test_the_deepest_first_pass_is_the_published_one() -> None:
    """The guide's own share and cap; small noses as the printed tables for them begin, and none of all deeper."""
    (rule,) = rows("first_pass_rule")
    share, most = float(rule["nose_share_most"]), float(rule["most_mm"])
    for size in (0.15, 0.2, 0.24, 0.3, 1.0):
        assert passes.first_pass_most("radius", size, "equal area", "mm") == min(share * size, most)
    of_noses = [row for row in rows("infeed_passes") if " R0." in row["kind"]]
    assert len(of_noses) == 8
    begins = max(float(row["pass1"]) for row in of_noses)
    for kind, size in (("sharp", 0.0), ("radius", 0.06)):
        assert passes.first_pass_most(kind, size, "equal area", "mm") == begins
        assert passes.first_pass_most(kind, size / 25.4, "equal area", "in") == pytest.approx(begins / 25.4)
    for tip, size, rule_of_passes in (("flat", 0.1, "equal area"), ("sharp", 0.0, "light first")):
        assert passes.first_pass_most(tip, size, rule_of_passes, "mm") == most
    assert all(float(row["pass1"]) <= most for row in rows("infeed_passes"))


@pytest.mark.parametrize(
    ("with_lead", "written"),
    [
        ("1-0.2P-{}L ACME-2G", "1-5 ACME-2G"),
        ("1-0.2P-{}L STUB ACME-2G", "1-5 STUB ACME-2G"),
        ("1-0.2P-{}L BUTT-2A", "1-5 BUTT-2A"),
        ("1-0.2P-{}L UNS-2A", "1-5 UNS-2A"),
    ],
)
def test_a_lead_of_one_pitch_is_a_single_start_and_none_is_no_thread(with_lead: str, written: str) -> None:
    assert standards.write(standards.read(with_lead.format("0.2"))) == written
    assert standards.read(with_lead.format("0.4")).starts == 2
    for lead in ("0.05", "0.3", "0.0"):
        with pytest.raises(CellError):
            standards.read(with_lead.format(lead))


@given(st.text(alphabet="abcdefgh \n\0", min_size=12, max_size=120), st.integers(10, 40))
def test_a_text_is_cut_in_its_middle_and_nowhere_else(text: str, longest: int) -> None:
    whole = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    said = in_one_line(text, longest)
    if len(whole) <= longest:
        assert said == whole
        return
    first, last = said.split(" ... ")
    assert len(said) == longest
    assert whole.startswith(first)
    assert whole.endswith(last)
    assert len(first) - len(last) in (0, 1)


def test_spaces_between_two_words_are_no_part_of_the_length() -> None:
    assert in_one_line("one" + " " * 5000 + "two" + " " * 5000 + "three") == "one two three"


def test_the_command_checks_the_file_that_it_is_given(capsys: pytest.CaptureFixture[str]) -> None:
    main(["excel-check", "no such workbook.xlsm"])
    assert "no such workbook.xlsm" in capsys.readouterr().out


def test_expansions_printed_once_a_length_and_once_a_volume() -> None:
    """Of a volume it is three times as much; both are printed, and neither is worked from the other here."""
    for row in rows("expansion_dooley"):
        found = expansions()[row["material"]] * 1e6 / 1.8  # per degree Fahrenheit
        assert found == pytest.approx(float(row["linear"]), abs=1e-9), row
        assert 3 * found == pytest.approx(float(row["cubic"]), abs=1e-9), row


ENDS = [
    # the last that is taken, the first that is not
    ("1/8-40 ACME", "0.1249-40 ACME"),
    ("24-2 ACME", "24.001-2 ACME"),
    ("1-40 STUB ACME", "1-40.1 STUB ACME"),
    ("24-6P-24L ACME", "24-6.01P-24.04L ACME"),
    ("24-0.5P-10L ACME", "24-0.5P-10.5L ACME"),
    ("0.5-20 BUTT", "0.4999-20 BUTT"),
    ("24-4 BUTT", "24.001-4 BUTT"),
    ("2-1 BUTT", "1.999-1 BUTT"),
    ("24-1 BUTT", "24-0.99 BUTT"),
    ("M0.99x0.2", "M0.989x0.2"),
    ("M355x6", "M355.1x6"),
    ("M10x3", "M10x3.001"),
    ("M80x8", "M80x8.01"),
    ("MJ1.6x0.35", "MJ1.599x0.35"),
    ("Tr5.6x1.5", "Tr5.599x1.5"),
    ("Tr1120x44", "Tr1120.1x44"),
    ("Tr20x1.5", "Tr20x1.499"),
    ("Tr300x44", "Tr300x44.01"),
    ("Tr20x10", "Tr20x10.01"),
    ("0.06-80 UNS", "0.0599-80 UNS"),
    ("24-4 UN", "24.001-4 UNS"),
    ("1-4 UNS", "1-3.999 UNS"),
    ("8-0.25 UNS", "8-0.2499 UNS"),
    ("1-160 UNS", "1-160.1 UNS"),
    ("1-0.05P-1L UNS", "1-0.05P-1.05L UNS"),
    ("24-2 WHIT", "24.001-2 WHIT"),
    ("1-2 WHIT", "1-1.999 WHIT"),
    ("1-160 WHIT", "1-160.1 WHIT"),
    ("10 BA close", "11 BA close"),
]


@pytest.mark.parametrize(("taken", "refused"), ENDS)
def test_the_last_size_that_is_taken_and_the_first_that_is_not(taken: str, refused: str) -> None:
    """The ends that docs/standards.md names, a screw that keeps no core, and twice the coarse pitch."""
    thread = standards.read(taken)
    assert standards.basic(thread).minor > 0
    with pytest.raises(CellError):
        standards.read(refused)


def test_ranges_of_acme_allowances_are_the_printed_ones_and_leave_no_gap() -> None:
    ours = [(float(row["above_in"]), float(row["to_in"])) for row in tables.rows("acme_pitch_allowances")]
    printed = [tuple(read_inch_size(row[end]) or 0.0 for end in ("above", "to_incl")) for row in PRINTED_ALLOWANCES]
    assert ours[: len(printed)] == printed
    assert [above for above, _ in ours[1:]] == [to for _, to in ours[:-1]]


PRINTED_ALLOWANCES = rows("acme_pd_allowances")


@pytest.mark.parametrize("callout", ["#10-32 UNJF-3A", "1/2-20 UNJF-3A", "MJ10x1.25-4h6h", "MJ20x1.5-4h6h"])
def test_the_smallest_and_the_largest_root_radius_are_taken_to_their_last_bits(callout: str) -> None:
    """0.150 11 P to 0.180 42 P (MIL-S-8879C, SAE MA1370), worked by hand with other roundings than the program's."""
    pitch = standards.read(callout).pitch
    for radius in (15011 * pitch / 1e5, 18042 * pitch / 1e5):
        for size in (nextafter(radius, 0.0), radius, nextafter(radius, 1.0)):
            assert evaluate("THREAD_DEPTH", callout, f"radius {size!r}", "mid") > 0
    for radius in (15010 * pitch / 1e5, 18043 * pitch / 1e5):
        with pytest.raises(CellError, match="must have a root radius"):
            evaluate("THREAD_DEPTH", callout, f"radius {radius!r}", "mid")


def test_the_ends_of_what_has_limits() -> None:
    """ISO 2903 to 355 mm; Whitworth bolts have an allowance to 3/4 in; temperatures of a shop."""
    assert standards.limits(standards.read("Tr355x12-7e")).pitch.max > 0
    with pytest.raises(CellError):
        standards.limits(standards.read("Tr355.1x12-7e"))
    assert standards.limits(standards.read("3/4-10 BSW free bolt")).allowance > 0
    assert standards.limits(standards.read("7/8-9 BSW free bolt")).allowance == 0
    for taken, refused in ((5, 4.999), (50, 50.001)):
        assert evaluate("THREAD_AT_20C", 1, taken, "steel") > 0.99
        with pytest.raises(CellError, match="5 to 50"):
            evaluate("THREAD_AT_20C", 1, refused, "steel")


SLOW = {
    *("argparse", "bisect", "csv", "dataclasses", "enum", "fractions", "importlib", "inspect", "json", "pathlib"),
    *("pint", "re", "typing", "warnings"),
}


def test_the_core_starts_without_what_makes_it_slow() -> None:
    """`typing` or `re` alone would lengthen the start of a host that carries the functions with it by a third."""
    core = Path(sheetfuncs.__file__).parent.parent
    words = f"import sys; sys.path.insert(0, {str(core)!r}); import sheetfuncs; "
    words += "sheetfuncs.evaluate('THREAD_PITCH_DIAMETER', 'M20x2.5-6g', 'max'); print(*sys.modules)"
    done = subprocess.run([sys.executable, "-I", "-S", "-c", words], capture_output=True, text=True, check=True)
    assert not SLOW & set(done.stdout.split())
