"""`lathe.toml`: what is read, the sentence and line for what is wrong, and the gear charts made from it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from sheetfuncs import standards
from sheetfuncs.gears import Quadrant, Train, can_mount
from workbook_template import __main__ as command
from workbook_template.demo import lathe as demo_lathe
from workbook_template.file import lathe_toml, lathe_trains
from workbook_template.file.lathe_toml import Lathe, LatheError, Position

PAGE = Path(__file__).parent.parent / "docs" / "lathe.md"
GOOD = """\
name = "Old one"
leadscrew = "6 tpi"
speeds = [28, 46]

[thread_dial]
gear_teeth = [14, 15]
lines = 8

[dials]
unit = "mm"
compound = 0.02

[gearbox]
end_gears = "24/48 x 50/60"
chart = [
    ["A 1", "11 1/2 tpi", 0.1],
    ["A 2", "1.5 mm"],
]

[change_gears]
shelf = [20, 20, 40, 127]
quadrant = [100, 200]
"""


def test_a_whole_file() -> None:
    lathe = lathe_toml.read(GOOD)
    assert lathe == Lathe(
        "Old one", 6.0, "tpi", (28, 46), dial_teeth=(14, 15), dial_lines=8, dial_unit="mm", compound=0.02,
        end_gears=(1200, 2880), chart=(Position("A 1", 11.5, "tpi", 0.1), Position("A 2", 1.5, "mm", None)),
        shelf=(20, 20, 40, 127), quadrant=Quadrant(100, 200),
    )  # fmt: skip
    values = lathe_toml.values(lathe, 2, [(4, None, "A 1", 20, 40, None, None)])
    assert (values["leadscrew_2"], values["leadscrew_unit_2"], values["dial_b_2"]) == (6.0, "tpi", 15)
    assert values["box_tpi_2"] == [11.5, None]
    assert values["box_pitch_2"] == [None, 1.5]
    assert values["train_levers_2"] == ["A 1"]
    assert "chuck_mount_2" not in values


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [('"8 tpi"', 8, "tpi"), ("8", 8, "tpi"), ('"6mm"', 6, "mm"), ('"0.25 in"', 6.35, "mm"), ('"1/4 in"', 6.35, "mm")],
)
def test_leadscrews(text: str, number: float, unit: str) -> None:
    lathe = lathe_toml.read(f'name = "x"\nleadscrew = {text}\n')
    assert (lathe.leadscrew, lathe.leadscrew_unit) == (pytest.approx(number), unit)


BAD = (
    ('leadscrew = "6 tpi"', 'leadscrew = "6 threads"', 2, "leadscrew is '6 threads'; write it as in 8 tpi or 3 mm"),
    ('leadscrew = "6 tpi"', 'leadscrew = "0 mm"', 2, "leadscrew is '0 mm'; it must be more than zero"),
    ('leadscrew = "6 tpi"', "leadscrew = 6 tpi", 2, "not written as TOML wants it"),
    ('name = "Old one"', "name = 4", 1, "name must be a text in quotation marks"),
    ("[28, 46]", "[28, -46]", 3, "speeds has -46 in it; every entry must be a number more than zero"),
    ("[28, 46]", "28", 3, "speeds must be a list of numbers"),
    ("speeds", "speedz", 3, "'speedz' is no entry; did you mean speeds?"),
    ("lines = 8", "lines = 8.5", 7, "lines is 8.5; count the lines on the dial, 1 to 40"),
    ("lines = 8", "", 6, "gear_teeth of [thread_dial] needs lines beside it"),
    ("[14, 15]", "[14, 15.5]", 6, "gear_teeth has 15.5 in it; gears have a whole number of teeth, 1 to 300"),
    ('unit = "mm"', 'unit = "cm"', 10, "unit is 'cm'; it must be one of in, mm"),
    ("compound = 0.02", "compound = 0", 11, "compound is 0; it must be a number more than zero"),
    ("compound = 0.02", "compuond = 0.02", 11, "'compuond' is no entry of [dials]; did you mean compound?"),
    ("24/48 x 50/60", "00/48", 14, "end_gears is '00/48'; write driver over driven, as in 40/40"),
    ("24/48 x 50/60", "24:48", 14, "end_gears is '24:48'; write driver over driven, as in 40/40"),
    ("1.5 mm", "1.5", 17, "chart has '1.5' at A 2; write threads per inch or a pitch: 11 1/2 tpi, 1.5 mm"),
    ('"A 2"', '"A 1"', 17, "chart has the levers 'A 1' twice"),
    (", 0.1]", ', "slow"]', 16, "chart has the feed 'slow' at A 1; it must be a number more than zero"),
    ('["A 2", "1.5 mm"]', '["A 2"]', 17, "chart has the row ['A 2']; a row is [levers, thread, feed a turn]"),
    ("40, 127]", "4, 127]", 21, "shelf has 4 in it; gears have a whole number of teeth, 8 to 300"),
    ("[20, 20, 40, 127]", "[\n20,\n20.5,\n127]", 23, "shelf has 20.5 in it; gears have a whole number of teeth"),
    ("[28, 46]", "[\n28,\n0]", 5, "speeds has 0 in it; every entry must be a number more than zero"),
    ('unit = "mm"', "", 11, 'dials and feeds need their unit; write unit = "in" or "mm" under [dials]'),
    ("shelf =", "fixed_ratio = 2\nshelf =", 21, "fixed_ratio is for a lathe without a gearbox"),
    ("[100, 200]", "[200, 100]", 22, "quadrant must be the least and the greatest sum of teeth"),
    ("[change_gears]", "[change_gear]", 20, "'change_gear' is no entry; did you mean change_gears?"),
    ('end_gears = "24/48 x 50/60"', "", 15, "chart of [gearbox] needs end_gears beside it"),
)


@pytest.mark.parametrize(("before", "after", "line", "sentence"), BAD)
def test_a_bad_file_gets_a_sentence_and_the_line(before: str, after: str, line: int, sentence: str) -> None:
    assert before in GOOD
    with pytest.raises(LatheError) as raised:
        lathe_toml.read(GOOD.replace(before, after, 1), "mine.toml")
    assert str(raised.value).startswith(f"mine.toml, line {line}: {sentence}")
    assert "\n" not in str(raised.value)


@pytest.mark.parametrize(
    ("before", "after", "sentence"),
    [
        ("compound = 0.02", f"compound = 1{'0' * 400}", "000; it must be a number more than zero"),
        ("compound = 0.02", f"compound = 1{'0' * 5000}", "not written as TOML wants it: exceeds the limit"),
        ("24/48 x 50/60", f"{'9' * 5000}/48", "write driver over driven, as in 40/40 or 24/48 x 50/60"),
    ],
)
def test_a_number_of_hundreds_of_digits_gets_a_sentence_too(before: str, after: str, sentence: str) -> None:
    with pytest.raises(LatheError, match=re.escape(sentence)) as raised:
        lathe_toml.read(GOOD.replace(before, after, 1), "mine.toml")
    assert len(str(raised.value)) < 300


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "mine.toml has no name; a lathe needs a name and a leadscrew"),
        ('name = "x"', "mine.toml has no leadscrew"),
        ('name = "x"\nleadscrew = 8\n[dials]\ncompound = 0.001', "mine.toml, line 4: dials and feeds need their unit"),
        ("dials = 3\nname = 'x'", "mine.toml, line 1: dials is a table, written as [dials]"),
        ("speeds = " + "[" * 9999, "mine.toml has brackets within brackets without end; a list holds numbers, or rows"),
    ],
)
def test_what_is_missing(text: str, sentence: str) -> None:
    with pytest.raises(LatheError, match=re.escape(sentence)):
        lathe_toml.read(text, "mine.toml")


def test_a_file_that_is_not_there_or_no_text(tmp_path: Path) -> None:
    with pytest.raises(LatheError, match="can't be read: No such file"):
        lathe_toml.read_file(tmp_path / "none.toml")
    (tmp_path / "picture.toml").write_bytes(b"\xff\xd8\xff")
    with pytest.raises(LatheError, match="is not a text file"):
        lathe_toml.read_file(tmp_path / "picture.toml")


def test_the_command_refuses_with_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(GOOD.replace("6 tpi", "6 threads"), encoding="utf-8")
    for files, sentence in (([bad], "bad.toml, line 2: leadscrew is"), ([bad] * 3, "the sheet Lathe holds two")):
        options = [part for file in files for part in ("--lathe", str(file))]
        with pytest.raises(SystemExit) as ended:
            command.main(["new", str(tmp_path / "job.xlsx"), *options])
        assert ended.value.code == 2
        said = capsys.readouterr().err
        assert sentence in said
        assert len(said.splitlines()) == 1


def test_the_example_of_the_page_is_read() -> None:
    (example,) = re.findall(r"```toml\n(.*?)```", PAGE.read_text(encoding="utf-8"), re.DOTALL)
    lathe = lathe_toml.read(example)
    assert lathe.chart
    assert {field for field, value in lathe._asdict().items() if value in (None, ())} == {
        "fixed_ratio"
    }  # without gearbox


def test_every_entry_is_on_the_page() -> None:
    page = PAGE.read_text(encoding="utf-8")
    for table, keys in lathe_toml.KEYS.items():
        assert not table or f"[{table}]" in page
        assert [key for key in keys if f"`{key}`" not in page] == []


def by_nested_loops(lathe: Lathe, lead_mm: float) -> float:
    """The least error of all trains that can be mounted, with every lever position."""
    best = 1.0
    places = range(len(lathe.shelf))
    for _, base in lathe_trains.bases(lathe):
        for i in places:
            for j in places:
                pairs = [(k, m) for k in places for m in places if len({i, j, k, m}) == 4] if i != j else []
                for pair in ((), *pairs) if i != j else ():
                    gears = (lathe.shelf[i], lathe.shelf[j], *(lathe.shelf[k] for k in pair))
                    if can_mount(Train(gears, 0.0), lathe.quadrant):
                        a, b, c, d = (*gears, 1, 1)[:4]
                        best = min(best, abs(base * a * c / (b * d) / lead_mm - 1))
    return best


def test_the_gear_chart_holds_the_best_trains() -> None:
    chart = (Position("A", 8, "tpi", None), Position("B", 14, "tpi", None))
    lathe = Lathe(
        "x", 8, "tpi", end_gears=(40, 48), chart=chart, shelf=(24, 30, 36, 40, 44, 48, 63), quadrant=Quadrant(110, 240)
    )
    rows = lathe_trains.chart(lathe)
    base = dict(lathe_trains.bases(lathe))
    listed = 0
    for wanted in lathe_trains.usual():
        row = next((row for row in rows if row[:2] == wanted[:2]), None)
        best = by_nested_loops(lathe, wanted.lead_mm)
        if row is None:
            assert best > lathe_trains.WORTH_LISTING - 1e-9 or wanted.per_inch in (8, 14)
            continue
        _, _, levers, a, b, c, d = row
        found = abs(base[levers] * a / b * (c / d if c else 1) / wanted.lead_mm - 1)
        assert found == pytest.approx(best, abs=1e-12)
        listed += 1
    assert listed == len(rows) > 20


def test_leads_of_the_job_come_first_in_the_chart() -> None:
    threads = [standards.read("1-11 1/2 UNS-2A"), standards.read("M20xPh5P2.5-6g"), standards.read("G 1/4 A")]
    rows = lathe_trains.chart(demo_lathe.lathes()[1], threads)
    assert [row[:2] for row in rows[:2]] == [(pytest.approx(11.5), None), (None, 5.0)]
    assert rows[2][3:] == (30, 95, None, None)  # 19 threads per inch of a metric standard, on 6 tpi


def test_demo_lathes_mount_what_they_list() -> None:
    for lathe in demo_lathe.lathes():
        for *_, a, b, c, d in lathe_trains.chart(lathe):
            gears = tuple(gear for gear in (a, b, c, d) if gear)
            assert can_mount(Train(gears, 0.0), lathe.quadrant)
            left = list(lathe.shelf)
            for gear in gears:
                left.remove(gear)
