"""At the edge itself: a bound that holds for the last value on its own side and not for the first on the other."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from published_rows import rows

from sheetfuncs import evaluate, passes, standards
from sheetfuncs.__main__ import main
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


@given(st.text(alphabet="ab \n\t\0", max_size=1500), st.integers(20, 260))
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
