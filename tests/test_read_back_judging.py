"""Rows judged in Python against the sheet in a real spreadsheet program, and against limits worked by hand."""

from __future__ import annotations

import random
from collections import Counter
from datetime import date
from statistics import fmean
from typing import Any

import pytest
from whole_books import LOG_ROWS
from workbook_cases import plain_file

from sheetfuncs import standards
from sheetfuncs.designations import Thread
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.read_back import columns, judging, recompute
from workbook_template.read_back.columns import Row
from workbook_template.read_back.equipment import day_of, key
from workbook_template.read_back.thread_figures import NO_NUMBER
from workbook_template.sheets import certificate

DAY_ONE = date(1899, 12, 30)
DUE = (date(2026, 6, 1) - DAY_ONE).days
AS_OF = (date(2026, 3, 10) - DAY_ONE).days
EQUIPMENT = {
    "as_of": AS_OF,
    "instrument_id": ["M-7", "M-8", "M-9", "R-1", "M-5", "T-1", "R-2", "R-3", "R-4", "P-1", "M-6"],
    "instrument_kind": [
        "micrometer",
        "micrometer",
        None,
        "GO ring",
        "caliper",
        "thermometer",
        "NOT GO ring",
        "GO/NOT GO ring",
        "go ring",
        "GO/NOT GO plug",
        "mike",
    ],
    "instrument_calibrated": [AS_OF - 60, None, AS_OF - 400, AS_OF - 30, *(None,) * 7],
    "instrument_due": [DUE, AS_OF - 40, None, *(DUE,) * 8],
    "instrument_fit": [None, None, None, "yes", *(None,) * 7],
    "wires_calibrated": [AS_OF - 60, None, None, "last year"],
    "wires_due": [DUE, AS_OF - 40, DUE, DUE, DUE],
    "wires_fit": [None, None, "no", None],
    "wires_id": ["W-1", "W-2", "W-3", "W-4", "W-5"],
}
WORDS = ("pitch_diameter_result", "crest_result", "ring_result")


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


def place(name: str, count: int) -> tuple[str, str]:
    """The first cells of a column by its name."""
    entry = next(one for one in plain_file().entries if one.name == name)
    first = entry.ref.split(":")[0]
    letters = first.rstrip("0123456789")
    row = int(first.removeprefix(letters))
    return entry.sheet, f"{letters}{row}:{letters}{row + count - 1}"


def entries(draw: random.Random, low: float, high: float, digits: int, crest: float) -> dict[str, list[Any]]:
    """Rows of every kind: most near the limits, some odd."""
    odd = (None, 0.0, -1.0, "0.76", "?", high * 25.4, high / 25.4, 1e308, crest * 0.945, crest * 0.95)

    def size(centre: float, spread: float, likely: float) -> Any:
        if draw.random() > likely:
            return None
        return (
            draw.choice(odd) if draw.random() < 0.06 else round(draw.uniform(centre - spread, centre + spread), digits)
        )

    found: dict[str, list[Any]] = {name: [] for name in columns.INPUTS}
    for number in range(LOG_ROWS):
        one: dict[str, Any] = dict.fromkeys(columns.INPUTS)
        if draw.random() > 0.03:
            one["serial"] = draw.choice((str(number), str(number), str(draw.randint(1, 40)), f"a{draw.randint(1, 9)}"))
            if draw.random() < 0.1:
                one["serial"] = draw.choice((None, f"{draw.randint(1, 40)} ", "a  3", 7.0))
            middle, spread = (low + high) / 2, (high - low) * 0.7
            one["reading"] = size(middle, spread, 0.8)
            for name in columns.READINGS[1:]:
                one[name] = size(middle, spread, 0.25)
            one["crest"] = size(crest, 0.004 * crest, 0.6)
            one["direct"] = size(middle - 0.05 * crest, spread, 0.1)
            one["ring"] = draw.choice((None, "pass", "go fails", "not go enters", "Pass", "not go enters", "good"))
            one["gauge"] = draw.choice((None, *("R-1", "R-2", "P-1") * 3, "r-1", "M-8", "R-3", "R-3", "R-4"))
            one["instrument"] = draw.choice(
                (*("M-7",) * 12, None, "m-7", "M-8", "M-9", "X-1", "M-5", "M-5", "T-1", "R-1")
            )
            one["wires"] = draw.choice((None, None, *("W-1",) * 6, "w-1", "W-2", "W-3", "W-4", "W-5", "W-9"))
            one["temperature"] = draw.choice((None, None, None, 20.0, 24.5, 68.0, "warm"))
            one["who"] = draw.choice((None, "inspector"))
            days = (*(AS_OF - 1.0, AS_OF - 60.5, DUE + 0.7) * 5, DUE + 1.0, None, 0.35, "March", 20260305.0)
            one["when"] = draw.choice(days)
            one["why"] = draw.choice((*(None,) * 9, "misread"))
        for name, value in one.items():
            found[name].append(value)
    for name, none in (("instrument", "T-1"), ("gauge", "M-8")):  # half of them of a kind that is none
        found[name] = ["M-6" if one == none and at % 2 else one for at, one in enumerate(found[name])]
    return found


def places(thread: Thread, factor: float) -> list[Any]:
    """Places on a taper thread, some of them none; nothing on a parallel one."""
    system = standards.system(thread)
    if system.gauging is None:
        return [None]
    gauge = system.gauging(thread).gauge.distance * factor
    return [*(round(share * gauge, 4) for share in (0.3, 0.5, 0.8, 1.0) * 3), gauge * 3, "end", 0.0, None]


SIZES = (*columns.READINGS, "direct", "crest")


def on_taper(draw: random.Random, table: dict[str, list[Any]], thread: Thread, factor: float, once: Any) -> None:
    """Readings are those of the row's place, on a taper thread; words and turns of a taper gauge."""
    there = places(thread, factor)
    gauge = 0.0 if thread.side == "internal" or there == [None] else there[3]
    for at in range(LOG_ROWS):
        table["place"][at] = draw.choice((None, None, *there)) if table["reading"][at] is not None else None
        for name in ("place_2", "place_3"):
            table[name][at] = draw.choice((None, None, *there[:4], there[-1]))
        here = once if table["place"][at] is None else table["place"][at]
        if isinstance(here, float) and there != [None]:
            moved = (here - gauge) / 16 * (-1 if thread.side == "internal" else 1)
            for name in SIZES:
                if isinstance(table[name][at], float) and abs(table[name][at]) < 1e4:
                    table[name][at] = round(table[name][at] + moved, 4)
        if there != [None]:
            table["ring"][at] = draw.choice((None, "pass", "Too large", "too small", "pass", "go fails"))
        if there != [None] or draw.random() < 0.02:
            table["gauge_turns"][at] = draw.choice((*(None,) * 6, 0.0, 1.0, -1.0, 1.25, -1.5, 0.5, 30.0, "one"))


COATINGS = {
    0: (0.0002, 0.0004), 4: (0.0004, 0.0002), 5: (0.0002, 0.0004), 6: ("thin", 0.01), 10: (0.0, 0.008),
}  # fmt: skip
"""Least and greatest thickness of some cases, two of them no coating that can be."""


def settings(draw: random.Random, callout: str, unit: str, wire: float, number: int, crest: float) -> dict[str, Any]:
    return {
        "unit": unit,
        "uncertainty_unit": "in" if number == 9 else unit,  # 9: of another unit, so there is no U
        **dict(zip(("thinnest_coating", "thickest_coating"), COATINGS.get(number, (None, None)))),
        "wire_set": draw.choice(("W-1", "W-2", None)),
        "wire_in_use": draw.choice((None, round(wire, 5))),
        "decision_rule": ("simple", "guard", "guard", "simple")[number % 4],
        "expanded_uncertainty": (None, 0.0002, "none", None)[number % 4] if unit == "in" else 0.005,
        "crest_uncertainty": draw.choice((None, 0.001)),
        "expansion": draw.choice((None, 0.0000123)),
        "instrument_expansion": draw.choice((None, 0.0000115, 0.5)),
        "room_temperature": draw.choice((None, 23.0)),
        "log_once_instrument": draw.choice((None, "M-7", "m-8", "X-1")),
        "log_once_who": draw.choice((None, "turner")),
        "log_once_when": draw.choice((None, AS_OF - 1.0, "March")),
        "wires_a": [*(round(size, 5) for size in (wire, wire * 1.004, wire, wire * 3, wire))],
        "wires_b": [round(wire + 0.00002, 5), None, None, None, wire * (1 + draw.choice((0.0005, 0.0012)))],
        "wire_match_limit": draw.choice((None, None, 0.0004, -1.0, "none")),
        "instrument_from": [0.0, None, None, None, round(crest * 0.99, 3), *(None,) * 5],
        "instrument_to": [crest * (1.2 / 25.4 if unit == "mm" else 1.2 * 25.4), None, None, None, "wide", *(None,) * 5],
        "instrument_unit": ["in" if unit == "mm" else "mm", *(None,) * 9],
        "instrument_thread": [None, "M3", None, *markings(draw, callout)],
    }


def markings(draw: random.Random, callout: str) -> list[str | None]:
    """Markings of the gauges R-1, (M-5, T-1,) R-2, R-3, R-4, P-1; P-1 and R-3 may be of another thread or hand."""
    others = ("M20x2.5-6h LH", "3/4-16 UNF-3A", None, f"{callout} LH", f"{callout}-RH GO", f"LEFT HAND {callout}")
    return [
        draw.choice((f"{callout.lower()}  go", callout.replace("-", " – ").replace("x", " × "), f"{callout} GO PD .7")),
        None, callout,
        draw.choice((f"{callout} NO-GO", f"{callout} LO", callout)),
        draw.choice((*others, callout, callout)),
        f"{callout} RH" if callout.endswith("LH") else f"{callout}-LH",
        draw.choice((*others, callout, callout, callout)),
    ]  # fmt: skip


CASES = (
    ("3/4-16 UNF-2A", "in", 0), ("3/4-16 UNF-2A", "mm", 1), ("M20x2.5-6g", "mm", 2), ("M20x2.5-6H", "mm", 3),
    ("3/4-16 UNF-2A-LH", "in", 4), ("3/4-14 NPT external", "in", 5), ("1-11.5 NPT external", "mm", 6),
    ("R 3/4", "mm", 7), ("1/2-14 NPT internal", "in", 8), ("Rc 1", "mm", 9), ("M20x2.5-6G", "mm", 10),
)  # fmt: skip


@pytest.mark.parametrize(("callout", "unit", "number"), CASES)
def test_rows_of_every_kind_are_judged_as_by_the_sheet(sheet: Document, callout: str, unit: str, number: int) -> None:
    """The words of the rule, programmed in Python, against the formulas, computed by LibreOffice."""
    draw = random.Random(f"{callout} {unit}")
    thread = standards.read(callout)
    factor = 1.0 if unit == thread.unit else 25.4 if unit == "mm" else 1 / 25.4
    wire, pitch = 0.57735 * thread.pitch * factor, thread.pitch * factor
    limits = standards.limits(thread)
    offset = 3 * wire - 0.866025 * pitch
    low, high = (end * factor + offset for end in (limits.pitch.min, limits.pitch.max))
    once = draw.choice(places(thread, factor)[:4])
    crest = limits.major.max * factor if limits.major.max else high
    given = {**chosen(thread), **EQUIPMENT, **settings(draw, callout, unit, wire, number, crest)}
    given["log_once_place"] = once
    table = entries(draw, low, high, 4 if unit == "in" else 3, crest)
    on_taper(draw, table, thread, factor, once)
    filled = {name: value for name, value in given.items() if not isinstance(value, list)}
    for name, values in {**given, **{f"log_{name}": values for name, values in table.items()}}.items():
        if isinstance(values, list):
            filled[place(name, len(values))] = [[value] for value in values]
    sheet.set(filled)
    names = [f"log_{name}" for name in (*WORDS, "pitch_diameter", "taper", "out_of_round")]
    shown = dict(zip(names, sheet.get([place(name, LOG_ROWS) for name in names])))
    sentences = [row[0] for row in sheet[place("log_words", LOG_ROWS)]]

    rows = columns.rows_of(given | {f"log_{name}": values for name, values in table.items()})
    again = recompute.recompute({name: given.get(name) for name in recompute.INPUTS}, rows)
    want = results(again)
    for name in names:
        values = [row[0] for row in shown[name]]
        expected = want[name] + [""] * (LOG_ROWS - len(want[name]))
        wrong = [
            (at, value, wanted, {one: table[one][at] for one in table if table[one][at] is not None})
            for at, (value, wanted) in enumerate(zip(values, expected))
            if not recompute.alike(value, wanted)
        ]
        assert wrong == [], (name, {one: given[one] for one in given if not isinstance(given[one], list)})
    told = [at for at, text in enumerate(sentences) if str(text).startswith("Part logged before")]
    assert told == [row.number - 1 for row, one in zip(again.rows, again.judged) if one.again] != [], table["serial"]
    for count in [name for name in want if name.startswith(("count_", "parts_again", "parts_entered", "certificate_"))]:
        assert recompute.alike(sheet[count], want[count]), count
    for row, one in zip(again.rows, again.judged):
        text = str(sentences[row.number - 1])
        if one.pitch_diameter_result != "replaced" and row.inputs.get("ring") is not None and _in_date(row, again):
            assert (f"Gauge {row.inputs['gauge']} " in text) == bool(one.gauge_fault), (row, one, text)
    if again.thread.has_wires:
        rings = [one.ring_result for one in again.judged]
        assert {"in", "high", "low", "check entry", "check instrument"} <= set(rings)
        judged = [one.pitch_diameter_result for one in again.judged]
        assert {"in", "high", "low", "check entry", "check instrument"} <= set(judged), Counter(judged)


def results(again: recompute.Recomputed) -> dict[str, Any]:
    """The columns and counts of the log, and those of the certificate, by name."""
    length = again.rows[-1].number if again.rows else 0
    want: dict[str, Any] = {}
    for name in columns.RESULTS[:-1]:
        values: list[Any] = [NO_NUMBER if name in ("pitch_diameter", "taper", "out_of_round") else ""] * length
        for row, judged in zip(again.rows, again.judged):
            value = getattr(judged, name)
            values[row.number - 1] = NO_NUMBER if value is None else value
        want[f"log_{name}"] = values
    counted = [one for one in again.judged if not one.again]
    for kind in ("pitch_diameter", "crest", "ring"):
        found = [getattr(one, f"{kind}_result") for one in counted]
        want |= {f"count_{kind}_{word.replace(' ', '_')}": found.count(word) for word in certificate.COUNTED}
    words = [one.pitch_diameter_result for one in counted]
    want |= {f"certificate_{word.replace(' ', '_')}": words.count(word) for word in certificate.COUNTED}
    sizes = [
        one.pitch_diameter
        for one in counted
        if one.pitch_diameter_result in certificate.JUDGED and one.pitch_diameter is not None
    ]
    found = {"min": min(sizes), "max": max(sizes), "mean": fmean(sizes)} if sizes else {}
    want |= {f"certificate_{name}": found.get(name, NO_NUMBER) for name in ("min", "max", "mean")}
    want["certificate_n"] = len(sizes)
    want["parts_again"] = sum(one.again for one in again.judged)
    want["parts_entered"] = sum(word != "replaced" for word in words)
    return want


def _in_date(row: Row, again: recompute.Recomputed) -> bool:
    """Whether the gauge of a row is listed and counts by its days."""
    item = again.equipment.instruments.get(key(row.inputs.get("gauge")))
    day = day_of(row.inputs.get("when"))
    return item is not None and day is not None and item.counts(day)


# By hand: limits of ASME B1.1-2003, Table 2A, .7079/.7029; w = U = .0002 (ILAC-G8:09/2019, 4.2.3; ISO 14253-1).
DECIDED = (
    (0.7079, "simple", None, "in"), (0.70791, "simple", None, "high"), (0.7029, "simple", None, "in"),
    (0.70289, "simple", None, "low"), (0.7077, "guard", 0.0002, "in"), (0.70771, "guard", 0.0002, "undecided"),
    (0.7081, "guard", 0.0002, "undecided"), (0.70811, "guard", 0.0002, "high"), (0.7031, "guard", 0.0002, "in"),
    (0.70309, "guard", 0.0002, "undecided"), (0.7027, "guard", 0.0002, "undecided"), (0.70269, "guard", 0.0002, "low"),
    (0.7050, "guard", None, "undecided"),
)  # fmt: skip


@pytest.mark.parametrize(("value", "rule", "uncertainty", "word"), DECIDED)
def test_a_value_is_decided_as_by_hand(value: float, rule: str, uncertainty: float | None, word: str) -> None:
    assert judging.decide(value, 0.7079, 0.7029, rule, uncertainty, 4) == word


def test_a_limit_as_the_sheet_shows_it_counts_as_in() -> None:
    """.70786 is shown as .7079: whoever measured that was told that it is the limit."""
    assert judging.decide(0.7079, 0.70786, 0.7029, "simple", None, 4) == "in"
    assert judging.decide(0.7080, 0.70786, 0.7029, "simple", None, 4) == "high"


def test_a_row_number_is_kept_where_rows_are_empty() -> None:
    rows = columns.rows_of({"log_serial": ["1", None, "3"], "log_reading": [None, None, 0.76]})
    one, three = {"serial": "1"}, {"serial": "3", "reading": 0.76}
    assert rows == [Row(1, one, {}, one), Row(3, three, {}, three)]


def test_a_name_that_was_given_more_cells_or_fewer_judges_as_if_nothing_stood_there() -> None:
    """Of a list one cell is left, the set W-12; each single value became two, and so none is believed."""
    lists = {name: value for name, value in EQUIPMENT.items() if isinstance(value, list)}
    singles = {name: ["in", "in"] for name in recompute.INPUTS if name not in lists}
    again = recompute.recompute(singles | {name: value[0] for name, value in lists.items()}, [])
    assert again.thread is None
    assert [*again.equipment.wires] == [str(lists["wires_id"][0]).lower()]
