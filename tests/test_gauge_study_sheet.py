"""The sheet Gauge study against the printed results of AIAG's data and against THREAD_GAUGE_STUDY."""

from __future__ import annotations

import random

import pytest
from published_rows import agrees, rows
from workbook_cases import Case, first_cells, plain_file

from sheetfuncs import evaluate, standards
from workbook_template.office import Document
from workbook_template.sheets.gauge_study import PARTS, PEOPLE, SHEET

DAY = 45356
"""A day, as spreadsheets count them: 2024-03-05."""
Readings = dict[str, list[list[object]]]
"""By person, the trials; each a column of parts."""

PUBLISHED: Readings = {person: [] for person in PEOPLE}
for row in rows("grr_aiag_data"):
    PUBLISHED[row["appraiser_trial"][0].lower()].append([float(row[f"part{n}"]) for n in range(1, PARTS + 1)])
PRINTED = {(row["method"], row["quantity"]): row["value"] for row in rows("grr_aiag_results")}
NAMES = {
    "Rbarbar": "study_mean_range",
    "Xdiff": "study_people_range",
    **{name: f"study_{name.lower()}_#" for name in ("EV", "AV", "GRR", "PV", "TV", "ndc")},
    "pctGRR": "study_grr_average_range_percent",
    "pct study GRR": "study_grr_anova_percent",
}


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    empty_workbook.set({"study_instrument": "M-1", "study_size": "over wires", "study_date": DAY})
    empty_workbook.set({first_cells("instrument_id", 2): [["M-1"], ["G-1"]]})
    empty_workbook.set({first_cells("instrument_kind", 2): [["micrometer"], ["GO ring"]]})
    empty_workbook.set({first_cells("instrument_due", 2): [[DAY + 100], [DAY + 100]]})
    return empty_workbook


def test_a_study_keeps_its_unit(sheet: Document) -> None:
    """Readings in inches stay so; the thread's tolerance, .0050 in, is 0.127 mm, and a width typed is in inches."""
    parts = {"a": [[0.761, 0.762, 0.763], [0.7611, 0.762, 0.763]], "b": [[0.761, 0.762, 0.7631], [0.761, 0.762, 0.763]]}
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", {}).sheet() | {"study_unit": "in"})
    read_in(sheet, parts)
    seen = ["study_words", "study_grr_by_anova_tolerance"]
    told, share = sheet.get(seen)
    assert "of the tolerance" in told
    assert sheet["study_tolerance_width_used"] == pytest.approx(0.005)
    sheet.edit("unit", "mm")
    assert sheet.get(seen) == [told, pytest.approx(share)]
    assert sheet["study_job"].startswith("Readings in inches")
    sheet.edit("study_tolerance_width", "0.01")
    assert sheet["study_grr_by_anova_tolerance"] == pytest.approx(share / 2)
    sheet.set({"unit": "in", "study_tolerance_width": None, "study_unit": "mm"})
    assert sheet["study_tolerance_width_used"] == pytest.approx(0.127)
    assert sheet["study_job"].startswith("Readings in millimetres")
    sheet.set({"study_unit": "in"})


@pytest.mark.parametrize(("slip", "told"), [
    (7.649, "CHECK ENTRY: the readings of part 2 by person B are far apart. "), (0.7749, "far apart"),
    (765, "far apart"), (46085, "Check entry: a reading is beyond 20000."), (0.7627, None),
])  # fmt: skip
def test_a_reading_that_was_mistyped_is_asked_about(sheet: Document, slip: float, told: str | None) -> None:
    """3/4 is a day to a spreadsheet, and 0,765 may be 765: the gauge is not to be blamed for either."""
    parts = {person: [[0.7649, 0.7625, 0.7601, 0.7633], [0.7650, 0.7626, 0.7602, 0.7634]] for person in ("a", "b")}
    parts["b"][1][1] = slip
    read_in(sheet, parts)
    words = sheet["study_words"]
    assert (told or "The gauge and the people") in words
    assert ("CHECK ENTRY" in words) == (told is not None and "Check entry" not in told)
    parts["b"][1][1] = 0.7626
    for width, asked in ((0.005, False), (5, True)):
        read_in(sheet, parts, width)
        assert ("CHECK ENTRY: a tolerance very wide for these readings." in sheet["study_words"]) == asked
    read_in(sheet, {})


def read_in(sheet: Document, readings: Readings, tolerance: float | None = None) -> None:
    """Type a study over whatever was there."""
    inputs = {f"study_{person}_{trial}": [[None]] * PARTS for person in PEOPLE for trial in (1, 2, 3)}
    for person, trials in readings.items():
        for number, trial in enumerate(trials, start=1):
            inputs[f"study_{person}_{number}"] = [[value] for value in [*trial, *[None] * (PARTS - len(trial))]]
    sheet.set({**inputs, "study_tolerance_width": tolerance})


def function(readings: Readings, tolerance: float | None = None) -> dict[str, list]:
    """The same from THREAD_GAUGE_STUDY."""
    table = [
        [part, person, value]
        for person, trials in readings.items()
        for trial in trials
        for part, value in enumerate(trial, start=1)
    ]
    return {row[0]: row for row in evaluate("THREAD_GAUGE_STUDY", table, tolerance)[1:]}


def test_results_are_those_printed(sheet: Document) -> None:
    read_in(sheet, PUBLISHED)
    for (method, quantity), printed in PRINTED.items():
        if quantity in NAMES:
            name = NAMES[quantity].replace("#", "by_average_range" if method == "average-range" else "by_anova")
            assert agrees(sheet[name], printed.split(" ")[0]), name
    low, high = PRINTED["ANOVA pooled", "EV 90% limits"].split(" - ")
    assert agrees(sheet["study_ev_anova_from"], low)
    assert agrees(sheet["study_ev_anova_to"], high)
    assert "pooled" in sheet["study_both_words"]
    assert sheet["study_words"].startswith("The gauge and the people take 27.9 % of the spread")
    assert "4 groups of parts; 5 or more are wanted" in sheet["study_words"]


@pytest.mark.parametrize(
    ("parts", "people", "trials", "crossed"),
    [(10, 3, 2, False), (5, 2, 2, False), (2, 2, 2, False), (8, 3, 3, True), (7, 2, 3, True), (3, 3, 2, True)],
)
def test_results_are_those_of_the_function(
    sheet: Document, parts: int, people: int, trials: int, crossed: bool
) -> None:
    """Small and large studies, with and without an interaction; ranges of few groups take d2* for their number."""
    draw = random.Random(parts * 100 + people * 10 + trials)
    true = [0.7 + draw.gauss(0, 0.002) for _ in range(parts)]
    readings = {}
    for person in list(PEOPLE)[:people]:
        own = [draw.gauss(0, 0.002) if crossed else draw.gauss(0, 0.0001) for _ in range(parts)]
        readings[person] = [
            [round(value + one + draw.gauss(0, 0.0003), 5) for value, one in zip(true, own)] for _ in range(trials)
        ]
    read_in(sheet, readings, 0.006)
    expected = function(readings, 0.006)
    for name, label in (
        ("ev", "repeatability EV"),
        ("av", "reproducibility AV"),
        ("grr", "repeatability and reproducibility GRR"),
        ("pv", "parts PV"),
        ("tv", "total TV"),
        ("ndc", "distinct categories ndc"),
    ):
        found = sheet.get([f"study_{name}_by_average_range", f"study_{name}_by_anova"])
        assert found == pytest.approx([expected[label][1], expected[label][3]], rel=1e-8, abs=1e-12), label
    both = expected["interaction"]
    assert sheet["study_both_by_anova"] == pytest.approx(both[3], rel=1e-8, abs=1e-12)
    assert sheet["study_pooled"] == ("pooled" in both[7]) == (not crossed)
    limits = sheet.get(["study_ev_anova_from", "study_ev_anova_to"])
    assert limits == pytest.approx(expected["repeatability EV"][5:7], rel=1e-7)
    shares = sheet.get(["study_grr_by_average_range_tolerance", "study_grr_by_anova_tolerance"])
    label = "6 GRR of the tolerance, per cent"
    assert shares == pytest.approx([expected[label][2], expected[label][4]], rel=1e-8)


SMALL: Readings = {"a": [[1.0, 2.0, 3.0], [1.1, 2.1, 3.0]], "b": [[1.2, 2.0, 3.1], [1.0, 2.2, 3.1]]}


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ({}, "Next: type the readings"),
        ({"a": SMALL["a"]}, "Next: readings of a second person."),
        ({person: trials[:1] for person, trials in SMALL.items()}, "Next: a second reading of each part."),
        ({person: [trial[:1] for trial in trials] for person, trials in SMALL.items()}, "Next: a second part."),
        ({**SMALL, "b": [SMALL["b"][0], [1.0, None, 3.1]]}, "Next: part 2 has 3 of 4 readings as numbers"),
        ({**SMALL, "b": [SMALL["b"][0], [1.0, 2.2, "3,1"]]}, "Next: part 3 has 3 of 4 readings as numbers"),
        ({"a": [[1.0, 2.0]] * 2, "b": [[1.0, 2.0]] * 2}, "All repeats are alike: read finer, or were they copied?"),
        ({"a": [[1.0, 1.0]] * 2, "b": [[1.0, 1.0]] * 2}, "All readings are alike"),
    ],
    ids=lambda value: value[:30].replace(" ", "-") if isinstance(value, str) else "",
)
def test_words_say_what_is_next(sheet: Document, readings: Readings, words: str) -> None:
    read_in(sheet, readings)
    assert sheet["study_words"].startswith(words)
    shown = sheet.shown([entry.name for entry in plain_file().entries if entry.sheet == SHEET and ":" not in entry.ref])
    assert not [text for text in shown if text.startswith("#")]


COPIED = [0.7649, 0.7631, 0.7654, 0.7610, 0.7646]


@pytest.mark.parametrize(
    "readings",
    [
        {person: [COPIED] * 3 for person in "abc"},
        {person: [COPIED] * 2 for person in "ab"},
        {person: [COPIED[::-1]] * 2 for person in "ab"},
        {person: [[20 + value / 100 for value in COPIED]] * 3 for person in "abc"},
    ],
    ids=["three", "two", "two-other-order", "large-and-alike"],
)
def test_repeats_that_are_all_alike_tell_nothing_of_the_gauge(sheet: Document, readings: Readings) -> None:
    """No groups are counted from the arithmetic's last digits, and nothing is called good."""
    read_in(sheet, readings, 0.006)
    assert sheet.get(["study_ndc_by_average_range", "study_ndc_by_anova"]) == ["", ""]
    assert sheet.get(["study_grr_words", "study_grr_more_words"]) == ["", ""]
    assert sheet["study_words"] == "All repeats are alike: read finer, or were they copied?"
    expected = function(readings)["interaction"][7]
    assert sheet["study_both_words"].removeprefix("F test: ") == expected.removeprefix("F test of the interaction: ")


def test_an_interaction_without_repeats_is_no_chance(sheet: Document) -> None:
    """One person reads one part otherwise, each time alike; the same as of THREAD_GAUGE_STUDY."""
    other = [*COPIED[:2], COPIED[2] + 0.0004, *COPIED[3:]]
    readings = {"a": [COPIED] * 3, "b": [other] * 3}
    read_in(sheet, readings)
    assert sheet["study_both_words"] == "F test: chance 0.00"
    assert sheet["study_both_by_anova"] == pytest.approx(function(readings)["interaction"][3], rel=1e-9)


def test_the_jobs_tolerance_serves_where_none_is_typed(sheet: Document) -> None:
    read_in(sheet, SMALL)
    assert sheet["study_tolerance_width_used"] == sheet["pitch_diameter_tolerance"]
    sheet.set({"study_tolerance_width": 0.5})
    assert sheet["study_tolerance_width_used"] == 0.5


def test_a_study_names_what_was_studied_with_what_and_by_whom(sheet: Document) -> None:
    """Each of the six cells, emptied alone, is named in place of the verdict; the third person only where it reads."""
    subject = {"study_instrument": "instrument", "study_size": "size read", "study_date": "date"}
    named = {**subject, **{f"study_person_{person}": f"person {person.upper()}" for person in PEOPLE}}
    before = dict(zip(named, sheet.get(named)))
    for readings in (SMALL, {**SMALL, "c": SMALL["a"]}):
        read_in(sheet, readings)
        asked = [label for name, label in named.items() if name[-1] in readings or name in subject]
        assert sheet["study_words"].startswith("The gauge and the people take")
        for name in named:
            sheet.set({name: None})
            words = sheet["study_words"]
            assert words.startswith(f"Next: name the {named[name]}." if named[name] in asked else "The gauge"), name
            sheet.set({name: before[name]})
        sheet.set(dict.fromkeys(named))
        assert sheet["study_words"] == f"Next: name the {', '.join(asked)}."
        sheet.set(before)
    for one, other in (("a", "b"), ("b", "c")):
        sheet.set(before | {f"study_person_{other}": before[f"study_person_{one}"]})
        assert sheet["study_words"].startswith("Check entry: two people have the same name")
    sheet.set(before)


def test_an_instrument_that_does_not_count_on_the_day_of_the_study_is_told(sheet: Document) -> None:
    """By the calendar: from the day of the calibration until the due day, both included."""
    read_in(sheet, SMALL)
    due, calibrated = (first_cells(f"instrument_{name}", 1) for name in ("due", "calibrated"))
    for since, last in ((None, 0), (0, 0), (-9, 9), (None, -1), (1, 9), (-9, -1), (None, None)):
        sheet.set({due: last if last is None else DAY + last, calibrated: since if since is None else DAY + since})
        counts = last is not None and (-99 if since is None else since) <= 0 <= last
        assert (sheet["study_instrument_words"] == "") == counts, (since, last)
        assert sheet["study_words"].startswith("The gauge" if counts else "CHECK INSTRUMENT. The gauge")
        if last == -1:
            assert sheet["study_instrument_words"] == "Instrument M-1 was due 2024-03-04."
    sheet.set({due: DAY + 100, calibrated: None, "study_instrument": "M-9"})
    assert sheet["study_instrument_words"] == "Instrument M-9 not on Instruments."
    sheet.set({"study_instrument": "g-1"})
    assert "measures no size" in sheet["study_instrument_words"]
    sheet.set({"study_instrument": "M-1"})
    assert sheet["study_instrument_words"] == ""
