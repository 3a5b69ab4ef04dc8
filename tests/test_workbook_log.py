"""The log in a real spreadsheet program: the right word for readings of every kind."""

from __future__ import annotations

import random
import re
from fractions import Fraction

import pytest
from log_cases import BLANK, COLUMNS, THREAD, WIRE, cells, choose, day, judge, place, typed, words
from whole_books import LOG_ROWS, demo_pages
from workbook_cases import demo_file

from sheetfuncs import CellError, evaluate, helix
from workbook_template.demo import job as demo
from workbook_template.figures.notation import in_table
from workbook_template.figures.text import text
from workbook_template.figures.tree import Name, Node, walk
from workbook_template.office import Document, Office
from workbook_template.paper.openpyxl_inside import cells_in
from workbook_template.sheets import instruments, log, log_rows, log_words

# ASME B1.1-2003, Table 2A: pitch .7079/.7029, major .7485/.7391. Over wires .0361: .7621/.7571 (+ 3W - .866025P).
EXTERNAL_INCH = (
    ({}, "", ""),
    ({"serial": "1"}, "not measured", "not measured"),
    ({"serial": "2", "reading": 0.76, "crest": 0.744}, "in", "in"),
    ({"reading": 0.7621, "crest": 0.7485}, "in", "in"),
    ({"reading": 0.7571, "crest": 0.7391}, "in", "in"),
    ({"reading": 0.7622, "crest": 0.7486}, "high", "high"),
    ({"reading": 0.7570, "crest": 0.7390}, "low", "low"),
    ({"direct": 0.7079}, "in", "not measured"),
    ({"direct": 0.7029}, "in", "not measured"),
    ({"direct": 0.7080}, "high", "not measured"),
    ({"direct": 0.7028}, "low", "not measured"),
    ({"direct": 0.70790000001}, "in", "not measured"),
    ({"reading": 0.7594, "direct": 0.7053}, "in", "not measured"),
    ({"reading": 0.7594, "direct": 0.7068}, "check entry", "not measured"),
    ({"reading": "0.76", "crest": "0.744"}, "check entry", "check entry"),
    ({"reading": "about .76", "crest": "?"}, "check entry", "check entry"),
    ({"reading": 0.76, "direct": "none"}, "check entry", "not measured"),
    ({"reading": -0.76, "crest": -0.744}, "check entry", "check entry"),
    ({"reading": 0, "crest": 0}, "check entry", "check entry"),
    ({"reading": 19.304, "crest": 18.9}, "check entry", "check entry"),
    ({"direct": 0.0705, "crest": 0.0744}, "check entry", "check entry"),
    ({"crest": 0.744}, "not measured", "in"),
)


def test_words_for_an_external_thread(log_sheet: Document) -> None:
    found = judge(log_sheet, [row for row, _, _ in EXTERNAL_INCH])
    assert [(row["pitch_diameter_result"], row["crest_result"]) for row in found] == [
        case[1:] for case in EXTERNAL_INCH
    ]
    for (_, pitch, _), row in zip(EXTERNAL_INCH, found):
        assert isinstance(row["pitch_diameter"], float) == (pitch in ("in", "high", "low"))


def test_words_count_up(log_sheet: Document) -> None:
    judge(log_sheet, [row for row, _, _ in EXTERNAL_INCH])
    log_sheet.set({"quantity": 30})
    for word in log_words.RESULT_WORDS:
        name = word.replace(" ", "_")
        counts = [sum(row[at] == word for row in EXTERNAL_INCH) for at in (1, 2)]
        assert log_sheet.get([f"count_pitch_diameter_{name}", f"count_crest_{name}"]) == counts
    assert log_sheet.get(["parts_entered", "parts_to_make"]) == [len(EXTERNAL_INCH) - 1, 30]


def test_no_wire_no_result(log_sheet: Document) -> None:
    choose(log_sheet, THREAD, "in", None)
    rows = [{"reading": 0.76, "crest": 0.744, "wires": None}, {"direct": 0.705}]
    found = judge(log_sheet, rows)
    assert words(found) == ["check entry", "in"]
    assert words(found, "crest_result") == ["in", "not measured"]
    assert found[0]["words"].startswith("No wires that serve this thread.")


def test_internal_threads_have_no_wires(log_sheet: Document) -> None:
    """M20x2.5-6H: pitch 18.600/18.376, minor 17.744/17.294 (ISO 965-2:1998)."""
    choose(log_sheet, "M20x2.5-6H", "mm", 1.443)
    due = day("2030-01-01")
    listed = {
        "id": ["M-1", "P-1"],
        "kind": [None, "GO/NOT GO plug"],
        "thread": [None, "M20 x 2.5 - 6H"],
        "due": [due, due],
    }
    log_sheet.set({f"instrument_{name}": cells(two, instruments.INSTRUMENTS) for name, two in listed.items()})
    rows = [
        {"reading": 20.6, "crest": 17.294},
        {"direct": 18.6, "crest": 17.744, "ring": "go fails", "gauge": "P-1"},
        {"direct": 18.601, "crest": 17.745, "ring": "not go enters", "gauge": "P-1"},
        {"direct": 18.375, "crest": 17.0},
    ]
    found = judge(log_sheet, rows)
    assert words(found) == ["check entry", "in", "high", "low"]
    assert words(found, "crest_result") == ["in", "in", "high", "low"]
    assert words(found, "ring_result") == ["", "low", "high", ""]
    assert log_sheet["log_crest_title"] == "bore"
    assert log_sheet["log_wires_used"] == ""
    assert found[0]["words"].startswith("No wires on this thread")


def test_a_metric_thread_in_inches(log_sheet: Document) -> None:
    """M20x2.5-6g: pitch 18.334/18.164 mm (ISO 965-2:1998), .72181/.71512 in; .7151 is what the sheet shows."""
    choose(log_sheet, "M20x2.5-6g", "in", 0.0568)
    found = judge(log_sheet, [{"direct": pd} for pd in (0.7218, 0.7219, 0.7151, 0.7150, 18.3)])
    assert words(found) == ["in", "high", "in", "low", "check entry"]
    assert found[-1]["words"] == "mm? 18.3 mm is 0.7205 in."


@pytest.mark.parametrize(
    ("callout", "unit", "wire"), [(THREAD, "in", WIRE), ("M8x1.25-6g", "mm", 0.722), ("1/4-20 UNC-3A", "mm", 0.74)]
)
def test_random_readings_are_judged_as_by_the_functions(
    log_sheet: Document, callout: str, unit: str, wire: float
) -> None:
    """Readings in the last digit of a micrometer; those nearer to a limit than it can show are left out."""
    choose(log_sheet, callout, unit, None)
    wires = [[wire], *[[None]] * (instruments.WIRE_SETS - 1)]
    log_sheet.set({"wires_a": wires, "wires_b": wires, "wires_c": wires})
    draw = random.Random(callout)
    digits = 4 if unit == "in" else 3
    low, high = (evaluate("THREAD_OVER_WIRES", callout, wire, end, unit, "exact") for end in ("min", "max"))
    smallest, largest = (evaluate("THREAD_PITCH_DIAMETER", callout, end, unit) for end in ("min", "max"))
    spread = high - low
    drawn = [round(draw.uniform(low - spread, high + spread), digits) for _ in range(110)]
    drawn += [round(draw.uniform(0, 3 * high), digits) for _ in range(50)]
    readings = [r for r in drawn if r and min(abs(r - low), abs(r - high)) > 0.5 * 10**-digits]
    for reading, row in zip(readings, judge(log_sheet, [{"reading": r} for r in readings])):
        if smallest - (high - low) <= reading <= largest + (high - low):
            assert row["words"] == f"Is {reading} the pitch diameter? Then type it under Pitch dia. meas'd."
            assert row["pitch_diameter_result"] == "check entry"
            continue
        try:
            want = evaluate("THREAD_PD_FROM_WIRES", callout, wire, reading, unit, "exact")
        except CellError:
            assert (row["pitch_diameter"], row["pitch_diameter_result"]) == ("", "check entry"), reading
            continue
        near = low - spread <= reading <= high + spread  # beyond, the straight line of the log leaves the curve
        assert row["pitch_diameter"] == pytest.approx(want, abs=(1e-4 if near else 0.1) * spread)
        assert row["pitch_diameter_result"] == ("low" if reading < low else "high" if reading > high else "in"), reading


def test_last_row_works_as_the_first(log_sheet: Document) -> None:
    last = log.HEAD + LOG_ROWS
    found = judge(log_sheet, [{"serial": "200", "reading": 0.7622, "crest": 0.744}], first=last)
    assert (found[0]["pitch_diameter_result"], found[0]["crest_result"]) == ("high", "in")
    assert len(log_sheet["log_pitch_diameter_result"]) == LOG_ROWS
    log_sheet.set(typed([BLANK], last))


def test_the_last_row_but_one_says_how_to_go_on(log_sheet: Document) -> None:
    last = log.HEAD + LOG_ROWS
    for row, told in ((last - 2, False), (last - 1, True), (last, False)):
        (found,) = judge(log_sheet, [{"serial": "x", "reading": 0.76}], first=row)
        assert (log_rows.MORE in found["words"]) == told
        log_sheet.set(typed([BLANK], row))


def _decide(values: list[float], low: float, high: float) -> float:
    """The value with the least room to a limit, by looking at each."""
    return min(values, key=lambda value: min(value - low, high - value))


def test_the_worst_station_decides(log_sheet: Document) -> None:
    draw = random.Random(20240305)
    names = [one for one in COLUMNS if one.startswith("reading")]
    rows, wanted = [], []
    for _ in range(80):
        middle = draw.uniform(0.757, 0.7622)
        taken = [round(middle + draw.uniform(-0.0012, 0.0012), 5) if draw.random() < 0.7 else None for _ in names]
        if taken[0] is None:
            taken[0] = round(middle, 5)
        rows.append({**dict(zip(names, taken)), "wires": "W-1"})
        wanted.append(taken)
    constant = helix.over_wires(30, 1 / 16, 1 / 16, 0.7054, WIRE)[0] - 0.7054
    for taken, row in zip(wanted, judge(log_sheet, rows)):
        values = [one - constant for one in taken if one is not None]
        pitch = _decide(values, 0.7029, 0.7079)
        assert row["pitch_diameter"] == pytest.approx(pitch, abs=2e-7)
        over, under = max(values) > 0.7621 - constant + 1e-7, min(values) < 0.7571 - constant - 1e-7
        out = [word for word, is_out in (("high", over), ("low", under)) if is_out]
        assert row["pitch_diameter_result"] in (out or ["in"])
        stations = [[one for one in taken[at : at + 2] if one is not None] for at in (0, 2, 4)]
        means = [sum(one) / len(one) for one in stations if one]
        rounds = [abs(one[0] - one[1]) for one in stations if len(one) == 2]
        assert row["taper"] == ("" if len(means) < 2 else pytest.approx(max(means) - min(means), abs=1e-12))
        assert row["out_of_round"] == ("" if not rounds else pytest.approx(max(rounds), abs=1e-12))


def test_taper_and_roundness_are_compared_with_the_tolerance_in_words(log_sheet: Document) -> None:
    """The tolerance is .0050."""
    rows = [
        {"reading": 0.7580, "reading_1b": 0.7590, "reading_2a": 0.7600},
        {"reading": 0.7560, "reading_3a": 0.7615},
    ]
    found = judge(log_sheet, rows)
    assert found[0]["words"] == "Taper 30 % of the tolerance. Out of round 20 % of the tolerance."
    assert found[1]["words"] == "Taper 110 % of the tolerance: too much."
    wrong = ({"reading": 0, "reading_1b": 0.7590}, {"reading": 19.304, "reading_2a": 0.76})
    told = [one["words"] for one in judge(log_sheet, list(wrong))]
    assert told == ["A reading is zero or less.", "mm? 19.304 mm is 0.7600 in."]  # of a wrong entry there is no shape


def test_sizes_are_brought_to_20_degrees(log_sheet: Document) -> None:
    """A length L at t is L / (1 + a (t - 20)) at 20; the micrometer at room temperature shows too little if warm."""
    log_sheet.set({"expansion": 12.3e-6})
    rows = [{"direct": 0.7079, "crest": 0.744, "temperature": t} for t in (None, 20, 35, 8)]
    part = [Fraction("0.7079") / (1 + Fraction("0.0000123") * t) for t in (0, 0, 15, -12)]
    found = judge(log_sheet, rows)
    assert [row["pitch_diameter"] for row in found] == [pytest.approx(float(one), abs=1e-12) for one in part]
    assert words(found) == ["in", "in", "in", "high"]
    log_sheet.set({"instrument_expansion": 11.5e-6, "room_temperature": 30})
    found = judge(log_sheet, rows)
    warm = [one * (1 + Fraction("0.0000115") * 10) for one in part]
    assert [row["pitch_diameter"] for row in found] == [pytest.approx(float(one), abs=1e-12) for one in warm]
    bad = [{"direct": 0.705, "crest": 0.744, "temperature": t} for t in (68, "warm", -4)]
    found = judge(log_sheet, bad)
    assert {(row["pitch_diameter_result"], row["crest_result"], row["words"]) for row in found} == {
        ("check entry", "check entry", "Part temperature: 0 to 50 degrees C.")
    }
    assert "12.3 millionths" in log_sheet["decision_words"]
    assert log_sheet[place("direct")] == 0.705  # what was typed stays


# ILAC-G8:09/2019, 4.2.3 with w = U: in up to max - U, undecided up to max + U, then out. U = .0010, .7079/.7029.
GUARDED = (
    (0.7054, "in"), (0.7069, "in"), (0.70691, "undecided"), (0.7079, "undecided"), (0.7089, "undecided"),
    (0.70891, "high"), (0.7039, "in"), (0.70389, "undecided"), (0.7029, "undecided"), (0.7019, "undecided"),
    (0.70189, "low"),
)  # fmt: skip


def test_guard_band(log_sheet: Document) -> None:
    log_sheet.set({"decision_rule": "guard", "expanded_uncertainty": 0.001, "coverage_factor": 2})
    assert words(judge(log_sheet, [{"direct": size} for size, _ in GUARDED])) == [word for _, word in GUARDED]
    said = log_sheet["decision_words"]
    assert "guard band" in said
    assert "ILAC-G8:09/2019" in said
    assert "U = 0.00100 in, k = 2" in said
    log_sheet.set({"crest_uncertainty": 0.002})
    crests = [{"crest": size} for size in (0.7465, 0.74651, 0.7505, 0.75051, 0.7411, 0.74109, 0.7371, 0.73709)]
    wanted = ["in", "undecided", "undecided", "high", "in", "undecided", "undecided", "low"]
    assert words(judge(log_sheet, crests), "crest_result") == wanted
    log_sheet.set({"expanded_uncertainty": 0.003})  # more than half the tolerance: nothing can be in
    assert words(judge(log_sheet, [{"direct": 0.7054}, {"direct": 0.6998}])) == ["undecided", "low"]


def test_guard_band_without_an_uncertainty_decides_nothing(log_sheet: Document) -> None:
    for nothing in (None, "small", 0):
        log_sheet.set({"decision_rule": "guard", "expanded_uncertainty": nothing})
        used = log_sheet["uncertainty_used"]
        if isinstance(used, float):  # the budget has one
            continue
        assert words(judge(log_sheet, [{"direct": 0.7054}, {"direct": 0.75}])) == ["undecided", "undecided"]
        assert "there is no U" in log_sheet["decision_words"]


def test_a_row_looks_at_itself_and_at_little_else() -> None:
    """So that a row costs the same however many there are.

    A part that is out of order is looked for in the whole column, which all rows share: with a range for each, from the
    first row down to it, LibreOffice took longer. A correction, where the short list has them not all, is looked for
    below its row.
    """
    columns = {f"log_{name}" for name in log_rows.NUMBERS}
    look_up = {"status": {"log_mends"}, "first": {"log_serial"}}
    at = 100
    for one in log.columns(200):
        if one.formula is None:
            continue
        tree = one.formula if isinstance(one.formula, Node) else one.formula(at)
        own = log_rows.NUMBERS[one.name]
        said = text(in_table(tree, log_rows.NUMBERS, own, 1, 200), at, own)
        for found in re.findall(r"\$?[A-Z]+\$?[0-9]+:\$?[A-Z]+\$?[0-9]+", said):
            alike = re.fullmatch(rf"([A-Z]+){at - 19}:(?:\1){at}", found) and one.name == "more_words"
            above = re.fullmatch(r"[A-Z]+\$\d+:[A-Z]+\d+", found) and one.name in ("first", "top", "passed")
            assert re.fullmatch(rf"[A-Z]+{at}:[A-Z]+{at}", found) or alike or above, (one.name, found)
        named = columns & set(re.findall(r"[a-z_0-9]+", said))
        assert named <= look_up.get(one.name, set()), (one.name, named)


def test_what_follows_from_other_rows_is_little() -> None:
    """A part that is typed has it computed in every row; all else in a row is of the row alone."""
    uses = {}
    for one in log.columns(200):
        if one.formula is not None:
            tree = one.formula if isinstance(one.formula, Node) else one.formula(100)
            uses[one.name] = {part.name.partition(".")[2] for part in walk(tree) if isinstance(part, Name)}
    found = {"first", "top", "status"}
    while more := {name for name, used in uses.items() if used & found} - found:
        found |= more
    results = {"pitch_diameter", "pitch_diameter_result", "crest_result", "ring_result", "worst", "words", "reason"}
    assert found == {"first", "top", "status", "digit", "pitch_diameter_decides", *results}


def test_a_list_elsewhere_names_no_whole_column_for_one_row() -> None:
    """LibreOffice computes a formula that names a whole column again with every cell of it."""
    for sheet in demo_pages().workbook:
        if sheet.title != log.SHEET:
            formulas = {str(one.value) for one in cells_in(sheet).values() if one.data_type == "f"}
            assert [one for one in formulas if re.search(r"(?<!:)INDEX\(log_\w+,\d+\)", one)] == [], sheet.title


def test_the_look_of_a_word_needs_no_formula() -> None:
    """LibreOffice paints all cells of a look again with every cell that a formula of it names."""
    for title in (log.SHEET, "Certificate"):
        rules = [rule for area in demo_pages().workbook[title].conditional_formatting for rule in area.rules]
        asked = [rule for rule in rules if any(f'"{word}"' in rule.formula[0] for word in log_words.RESULT_WORDS)]
        assert len(asked) > len(log_words.RESULT_WORDS) - 2
        assert {(rule.type, rule.operator) for rule in asked} == {("cellIs", "equal")}


def test_the_example_shows_every_word(office: Office, tmp_path_factory: pytest.TempPathFactory) -> None:
    path = tmp_path_factory.mktemp("demo") / "demo.xlsx"
    path.write_bytes(demo_file().content)
    with office.open(path) as opened:
        shown = {word for name in ("pitch_diameter", "crest", "ring") for (word,) in opened[f"log_{name}_result"]}
    assert shown == {"", *log_words.RESULT_WORDS}
    assert demo.values()["decision_rule"] == "guard"
