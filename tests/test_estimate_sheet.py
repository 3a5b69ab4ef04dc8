"""The sheet Estimate in a real spreadsheet program: every figure against the functions."""

from __future__ import annotations

import pytest

from sheetfuncs import evaluate, standards
from sheetfuncs.catalog import find
from workbook_template.demo import estimate as demo_estimate
from workbook_template.file.build import chosen
from workbook_template.office import Document
from workbook_template.sheets import estimate_inputs, revision
from workbook_template.sheets.estimate import LABELS

COLUMNS = {
    "make": "make",
    "minutes": "job_minutes",
    "labour": "labour",
    "bars": "bars",
    "material_by_bars": "material_cost",
    "material": "material_cost",
    "material_by_length": "material_by_length",
    "tooling_cost": "tooling",
    "gauges_cost": "gauges",
    "outside_cost": "outside",
    "overhead_cost": "overhead_cost",
    "cost": "cost",
}
"""Line of the sheet -> result of THREAD_PRICE."""


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    return empty_workbook


TYPED = {
    **{f"estimate_{name}_{n}": pair[n - 1] for n in (1, 2) for name, pair in (
        ("rpm", (160, 120)), ("power_return", ("no", "yes")), ("lathe", ("one", "two")),
    )},
    "estimate_bar_line": None,
    "estimate_part_shape": None,
    "estimate_part_size": None,
    "estimate_bar_shape": "round",
    "estimate_bar_size": 0.875,
    "estimate_bar_length": 144,
    "estimate_bar_price": 38,
}  # fmt: skip
"""What the example has from the sheet Lathe and from the list of bars."""

DAY = 46113
"""What 1/4 becomes when it is typed, the 1st of April: the programs take it for a day."""

NO_BAR = {f"estimate_bar_{name}": None for name in ("shape", "size", "length", "price")}

KEPT = ("revision", "day", *(one.name for one in (*revision.QUANTITY_CAUSES, *revision.CAUSES)),
        *(f"price_{n}" for n in revision.NUMBERS))  # fmt: skip
"""Lines of a revision that is kept, in the order of the sheet."""


def job(callout: str, unit: str, **changes: object) -> dict[str, object]:
    """Every input of a job, the invented shop's where nothing else is said."""
    blank = dict.fromkeys(f"before_{name}" for name in KEPT)
    blank |= dict.fromkeys(("thinnest_coating", "thickest_coating", "part", "revision"))
    blank |= {f"estimate_{name}": None for name in ("every", "material_by", "coating", "learning", "minimum_charge")}
    blank |= {"offer_valid": 73050, "offer_valid_for": None, "offer_date": None, "offer_coating": None}
    thread = {**chosen(standards.read(callout)), "unit": unit, "passes": 14, "spring_passes": 2}
    thread |= {"estimate_unit": unit, "quote_unit": unit, "rack_unit": unit}
    shop = {name: value for name, value in demo_estimate.values().items() if name.startswith(("estimate_", "actual_"))}
    return {**blank, "thread_length": None, **shop, **TYPED, **thread, **changes}


def by_function(callout: str, unit: str, given: dict[str, object], lathe: int = 1) -> list[dict[str, float]]:
    """The lines at each quantity by THREAD_TIME, THREAD_STOCK and THREAD_PRICE."""

    def of(name: str) -> object:
        return given[f"estimate_{name}"]

    def mine(name: str) -> object:
        return of(f"{name}_{lathe}")

    passes = mine("passes") if f"estimate_passes_{lathe}" in given and mine("passes") else 16
    thread_minutes = evaluate(
        "THREAD_TIME", callout, f"{of('length')} {unit}", mine("rpm"), passes, f"{mine('approach')} {unit}",
        f"{mine('overrun')} {unit}", mine("return_seconds"), mine("power_return"),
    )  # fmt: skip
    stock = [of(name) for name in ("part_length", "facing", "part_off", "bar_length", "stub", "scrap")]
    quantities = [of(f"quantity_{n}") for n in range(1, 6)]
    per_bar = evaluate("THREAD_STOCK", quantities[0], *stock)[0][1]
    profit = (of("profit"), None) if of("profit_kind") == "margin" else (None, of("profit"))
    rows = evaluate(
        "THREAD_PRICE", quantities, mine("setup_minutes"), mine("turning") + thread_minutes,
        mine("handling") + of("check_minutes") * of("gauged"), of("rate"), of("bar_price"), per_bar, of("scrap"),
        of("overhead"),
        *profit, of("tooling"), of("gauges"), of("outside"), given.get("estimate_learning"), of("rest"),
    )[1:]  # fmt: skip
    names = find("THREAD_PRICE").columns
    return [dict(zip(names, row)) for row in rows]


JOBS = (
    ("3/4-16 UNF-2A", "in", {"estimate_length": 1.25}),
    ("M20x2.5-6g", "mm", {"estimate_length": 45, "estimate_bar_length": 3600, "estimate_part_length": 54,
                          "estimate_bar_size": 22}),
    ("7/8-9 UNC-2A", "in", {"estimate_length": 1.5, "estimate_profit_kind": "markup", "estimate_profit": 0.25}),
    ("3/4-16 UNF-2A", "in", {"estimate_length": 1.0, "estimate_learning": 0.9, "estimate_scrap": 0}),
)  # fmt: skip


@pytest.mark.parametrize(("callout", "unit", "changes"), JOBS)
def test_every_line_is_that_of_the_functions(sheet: Document, callout: str, unit: str, changes: dict) -> None:
    blank = {"estimate_learning": None}
    given = (
        job(callout, unit, **blank, **changes) if "estimate_learning" not in changes else job(callout, unit, **changes)
    )
    sheet.set(given)
    wanted = by_function(callout, unit, given)
    for line, column in COLUMNS.items():
        assert sheet[f"estimate_{line}"][0] == pytest.approx([row[column] for row in wanted], rel=1e-9), line
    other = by_function(callout, unit, given, lathe=2)[0]
    found = dict(zip(LABELS, sheet.get([f"other_{line}" for line in LABELS])))
    for line, column in COLUMNS.items():
        assert found[line] == pytest.approx(other[column], rel=1e-9), line
    charged = [(round(row["unit_price"] + 1e-9, 2), row["quantity"]) for row in wanted]  # each first, then all of them
    assert sheet["estimate_unit_price"][0] == pytest.approx([each for each, _ in charged])
    assert sheet["estimate_price"][0] == pytest.approx([each * quantity for each, quantity in charged])
    assert sheet["estimate_unit_cost"][0] == pytest.approx([row["cost"] / row["quantity"] for row in wanted])


def test_worked_times_and_bars(sheet: Document) -> None:
    """M20x2.5, 45 mm, 16 passes at 160 rpm: 5.57 minutes under power, 3.72 by hand; 64 pieces, 61 a bar, two bars."""
    given = job(
        "M20x2.5-6g", "mm", estimate_length=45, estimate_rpm_1=160, estimate_rpm_2=160, estimate_approach_1=5,
        estimate_approach_2=5, estimate_overrun_1=3, estimate_overrun_2=3, estimate_return_seconds_1=6,
        estimate_return_seconds_2=5, estimate_power_return_1="no", estimate_power_return_2="yes",
    )  # fmt: skip
    sheet.set(given)
    assert [round(value, 2) for value in sheet.get(["estimate_thread_minutes_1", "estimate_thread_minutes_2"])] == [
        3.72,
        5.57,
    ]
    sheet.set(job("7/8-9 UNC-2A", "in", estimate_length=1.5, estimate_bar_shape="hexagon", estimate_bar_size=1.25))
    assert sheet["estimate_per_bar"] == 61
    assert [sheet["estimate_make"][0][2], sheet["estimate_bars"][0][2]] == [64, 2]
    assert "1.4434" in sheet["estimate_bar_words"]  # 1.25 / cos 30 by hand


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("estimate_rate", "Next: enter rate an hour."),
        ("estimate_scrap", "Next: enter scrap, share of pieces."),
        ("estimate_handling_1", "Next: enter handle, minutes a piece."),
        ("estimate_profit_kind", "Next, profit as: choose margin or markup."),
        ("estimate_bar_price", "Next: enter price of a bar, on Estimate or in its line."),
        ("estimate_bar_shape", "Next, bar: choose round or hexagon."),
        (
            "estimate_power_return_1",
            "Next: say on Estimate whether it comes back under power, or describe the lathe on Lathe.",
        ),
        ("estimate_rpm_1", "Next: enter the spindle speed on Estimate, or describe the lathe on Lathe."),
    ],
)
def test_an_empty_rate_asks_and_is_never_zero(sheet: Document, name: str, sentence: str) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    assert isinstance(sheet["estimate_price"][0][0], float)
    sheet.set({name: None})
    assert sheet["estimate_next"] == sentence
    assert sheet["estimate_price"] == [[""] * 5]
    assert sheet["revision_change"] == [[""] * 5]


def test_the_lathe_sheet_answers_what_is_not_typed(sheet: Document) -> None:
    """11 1/2 threads an inch: a 4 tpi screw may open its half-nuts, one of 6 tpi and 18 teeth not: 34 1/2 a turn."""
    lathes = {"surface_speed": 40, "usable_relief": 0.3, "reaction_spread": 0.25}
    for number, (tpi, teeth) in enumerate(((4, 16), (6, 18)), start=1):
        lathes |= {f"leadscrew_{number}": tpi, f"leadscrew_unit_{number}": "tpi", f"dial_a_{number}": teeth}
        lathes |= {
            f"dial_lines_{number}": 8 if tpi == 4 else 6,
            f"spindle_speeds_{number}": [[60], [85 + number], *[[None]] * 38],
        }
        lathes |= {f"estimate_{name}_{number}": None for name in ("lathe", "rpm", "power_return")}
        lathes[f"lathe_name_{number}"] = f"screw of {tpi}"
    sheet.set(job("1-11 1/2 NPT external", "in", estimate_length=1.0, estimate_bar_size=1.5) | lathes)
    assert sheet.get([f"estimate_power_used_{n}" for n in (1, 2)]) == ["no", "yes"]
    assert sheet.get([f"estimate_rpm_used_{n}" for n in (1, 2)]) == [86, 87]
    compared = sheet["lathes_compared"]
    assert compared[0] == ["screw of 4", "screw of 6"]
    assert compared[-2] == ["may open", "stay shut"]
    assert "No gears for this lead are given for lathe 1" in sheet["lathes_words"]
    sheet.set({"estimate_power_return_2": "no"})
    assert sheet["estimate_power_used_2"] == "no"
    sheet.set(dict.fromkeys(f"leadscrew_{n}" for n in (1, 2)))
    assert sheet["estimate_next"].startswith("Next: say on Estimate whether it comes back under power")


RACK = (
    ("round", 0.75, 144, 31),
    ("hexagon", 1.0, 144, 52),
    ("round", 1.0, 144, 47),
    ("round", 1.125, 12, 3),
    ("hexagon", 0.875, 40, 14),
)


def rack(rows: tuple[tuple, ...]) -> dict[str, object]:
    """A list of bars for the sheet."""
    rows += ((None,) * 4,) * (12 - len(rows))
    return {f"rack_{name}": [[row[at]] for row in rows] for at, name in enumerate(("shape", "size", "length", "price"))}


@pytest.mark.parametrize("part", ["round", "hexagon"])
@pytest.mark.parametrize("size", [0.75, 0.8, 0.875, 0.9])
def test_bars_of_the_list_are_those_of_the_function(sheet: Document, part: str, size: float) -> None:
    given = job("3/4-16 UNF-2A", "in", estimate_length=1.0, estimate_part_shape=part, estimate_part_size=size)
    sheet.set(given | rack(RACK))
    sizes = {shape: [row[1] for row in RACK if row[0] == shape] for shape in ("round", "hexagon")}
    fit = [row[:2] for row in evaluate("THREAD_BAR", size, part, sizes["round"], sizes["hexagon"])[1:]]
    pieces = sheet["rack_per_bar"]
    assert [row[0] != "" for row in pieces[: len(RACK)]] == [
        [shape, width] in [list(f) for f in fit] for shape, width, *_ in RACK
    ]
    shape, width = fit[0]
    line = 1 + [row[:2] for row in RACK].index((shape, width))
    assert f"Least cut away: line {line}, {shape} {width:.4f}." in sheet["rack_words"]
    money = sheet["rack_money"]
    for at, (_, _, length, price) in enumerate(RACK):
        if pieces[at][0] != "":
            stock = evaluate(
                "THREAD_STOCK",
                given["estimate_quantity_1"],
                *(given[f"estimate_{n}"] for n in ("part_length", "facing", "part_off")),
                length,
                3.5,
                0.05,
            )[0]
            assert (pieces[at][0], money[at][0]) == (stock[1], pytest.approx(stock[2] * price))
    sheet.set({"estimate_bar_line": line, **NO_BAR})
    typed = sheet["estimate_price"]
    assert isinstance(typed[0][0], float)
    chosen_bar = dict(zip(("shape", "size", "length", "price"), RACK[line - 1]))
    sheet.set({"estimate_bar_line": None, **{f"estimate_bar_{name}": value for name, value in chosen_bar.items()}})
    assert sheet["estimate_price"] == typed


def test_a_line_of_the_list_and_a_typed_bar_exclude_each_other(sheet: Document) -> None:
    """Line 2 costs 52, its bar of 144 makes what the typed one does; line 6 lacks its price, line 9 all."""
    rows = (*RACK, ("round", 1.0, 144, None), (None, 1.0, 144, 47), ("round", 1.0, 144, -2), (None,) * 4,
            ("round", 1.0, 144, "€5"))  # fmt: skip
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25) | rack(rows) | NO_BAR)
    sheet.set({"estimate_bar_line": 2})
    assert sheet["estimate_material_by_bars"][0][0] == 52  # 27 to make at 61 a bar
    for name, value in (("price", 100), ("size", 0.875), ("length", 120), ("shape", "round")):
        sheet.set({f"estimate_bar_{name}": value})
        assert sheet["estimate_next"].startswith("Bar, line of the list, and a bar that is typed: they exclude each")
        assert sheet["estimate_price"] == [[""] * 5]
        sheet.set(NO_BAR)
        assert sheet["estimate_next"].startswith("All is filled in")
    for line, sentence in (
        (6, "Next, line 6 of the list of bars: enter price of a bar."),
        (7, "Next, bar, line 7 of the list of bars: choose round or hexagon."),
        (9, "Line 9 of the list of bars is empty."),
        (13, "Bar, line of the list: type a whole number from 1 to 12."),
        ("2", 'Bar, line of the list: "2" is no number; type a whole number from 1 to 12.'),
        (8, "Price of a bar, line 8 of the list of bars: type a number, 0 or more, a billion at most."),
        (10, 'Price of a bar, line 10 of the list of bars: "€5" is no number; type a number, 0 or more, a billion'),
    ):
        sheet.set({"estimate_bar_line": line})
        assert sheet["estimate_next"].startswith(sentence)
        assert sheet["estimate_price"] == [[""] * 5]
    sheet.set(rack(()))


def test_no_bar_of_the_list_does(sheet: Document) -> None:
    """A hexagon of 1.2 takes a round of 1.2 / cos 30 = 1.38564."""
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_part_shape="hexagon", estimate_part_size=1.2) | rack(RACK))
    assert sheet["rack_words"] == (
        "No bar of the list makes the part: a round takes 1.3857, a hexagon 1.2000 across flats."
    )
    sheet.set({"estimate_bar_shape": "round", "estimate_bar_size": 1.3})
    assert sheet["estimate_bar_words"].startswith("The bar is too small: the part needs 1.3857 in diameter.")
    assert sheet["estimate_next"] == "The bar is too small for the part."


def test_bars_says_what_keeps_a_bar_from_being_looked_at(sheet: Document) -> None:
    """What Estimate lacks, by its name there; a line that is not finished is not a bar that is too small."""
    sheet.set(job("3/4-16 UNF-2B", "in", estimate_length=1.0, estimate_part_size=None) | rack((("round", 2, 144, 60),)))
    assert sheet["rack_words"] == "Next: enter on Estimate the part's largest diameter, or across its flats."
    sheet.set({"estimate_part_size": 1.5, "estimate_facing": None})
    assert sheet["rack_words"] == "Next: enter on Estimate part length, facing, part-off and bar stub."
    sheet.set({"estimate_facing": 0.05})
    assert sheet["rack_words"].startswith("Least cut away: line 1, round 2.0000.")
    for lacking in (("hex", 2, 144, 60), (None, 2, 144, 60), ("round", 2, None, 60)):
        sheet.set(rack((lacking,)))
        assert sheet["rack_words"] == "A line of the list lacks its shape, size or length: fill in all three."
    sheet.set(rack(()))


def test_what_is_wrong_for_lathe_2_is_told_where_it_is_typed(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25))
    sheet.set({f"estimate_{item.name}_2": None for item in estimate_inputs.BY_LATHE})
    assert "Lathe 2" not in sheet["estimate_next"]
    sheet.set({"estimate_setup_minutes_2": 30 / 1440})
    assert sheet["estimate_next"].startswith("All is filled in for lathe 1.")
    assert " Lathe 2 has no price: Bars says why." in sheet["estimate_next"]
    assert sheet["lathes_words"].startswith("Sheet Estimate, lathe 2: enter ")
    sheet.set({"estimate_part_length": "54 mm"})
    assert sheet["lathes_words"].startswith('Sheet Estimate: Part length: "54 mm" is no number; ')


def test_a_speed_is_shown_as_it_is_reckoned_with(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, estimate_rpm_1=62.5))
    assert sheet.shown(["estimate_rpm_1"]) == ["62.5"]
    assert sheet["estimate_used_words_1"].startswith("62.5 rpm, ")
    sheet.set({"estimate_rpm_1": 160})
    assert sheet.shown(["estimate_rpm_1"]) == ["160"]


def test_the_step_at_the_last_bar_is_told(sheet: Document) -> None:
    """64 to make at 61 a bar: three on the second; 60 of no scrap would be one bar."""
    sheet.set(job("7/8-9 UNC-2A", "in", estimate_length=1.5, estimate_bar_shape="hexagon", estimate_bar_size=1.25))
    assert sheet["estimate_on_last_bar"][0][2] == 3
    assert "60 (3 of 61)" in sheet["estimate_cliff_words"]
    sheet.set({"estimate_scrap": 0})
    assert "60 (" not in sheet["estimate_cliff_words"]


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"estimate_scrap": 5}, "Scrap, share of pieces: type a share such as 5%, less than 100%; 0 for none."),
        ({"estimate_overhead": 50}, "Overhead on labour: type a share such as 50%, 400% at most; 0 for none."),
        ({"estimate_profit_kind": "markup", "estimate_profit": 20}, "Margin or markup: type a share such as 50%"),
        ({"estimate_gauged": 100}, "Share gauged: type a share from 0% to 100%."),
        ({"estimate_learning": 90}, "Learning: type 50% to 99%"),
        ({"estimate_setup_minutes_1": 45 / 1440}, "Set up, minutes a job: type a number, 0 or more, 20000"),
        ({"estimate_turning_1": 5 / 1440}, "Turn, minutes a piece: type a number, 0 or more, 20000 at most"),
        ({"estimate_minimum_charge": -1}, "Minimum charge: type a number, 0 or more"),
        ({"estimate_minimum_charge": "150.-"}, 'Minimum charge: "150.-" is no number; type a number, 0 or more'),
        ({"estimate_learning": "90 %"}, 'Learning: "90 %" is no number; type 50% to 99%'),
        ({"estimate_passes_1": -16}, "Passes, spring passes too: type a whole number from 1 to 200."),
        (
            {"estimate_passes_1": "30"},
            'Passes, spring passes too: "30" is no number; type a whole number from 1 to 200.',
        ),
        *(
            (wrong, "Next: correct the passes or spring passes on Setup.")
            for wrong in ({"spring_passes": "two"}, {"spring_passes": 7}, {"spring_passes": 1.5}, {"passes": 31})
        ),
        *(
            ({"passes": None, "spring_passes": springs}, "Next: enter the passes on Estimate or on Setup.")
            for springs in (None, 2)
        ),
        ({"estimate_length": -1}, "Thread length: type a length"),
        ({"estimate_length": "45 mm"}, 'Thread length: "45 mm" is no number; type a length'),
        ({"estimate_part_size": "1.5"}, 'Its diameter, or across flats: "1.5" is no number; type a length'),
        ({"estimate_quantity_1": 2.5}, "Quantity 1: type a whole number from 1 to 20000."),
        ({"estimate_quantity_1": 46054}, "Quantity 1: type a whole number from 1 to 20000."),  # 1/2 typed is a day
        ({f"estimate_quantity_{n}": None for n in range(1, 6)}, "Next: type at least one quantity."),
        ({"estimate_quantity_3": "many"}, 'Quantity 3: "many" is no number; type a whole number'),
        *(
            ({f"estimate_{name}": DAY}, f"{label}: type a length, 0 or more, 20000 at most")
            for name, label in (
                ("approach_1", "Approach"),
                ("overrun_1", "Overrun"),
                ("facing", "Facing"),
                ("part_off", "Part-off"),
                ("stub", "Bar stub"),
            )
        ),
        *(
            ({f"estimate_{name}": DAY}, f"{label}: type a length, more than zero, 20000 at most")
            for name, label in (
                ("length", "Thread length"),
                ("bar_length", "Bar length"),
                ("part_length", "Part length"),
            )
        ),
        *(
            ({f"estimate_{name}": DAY}, f"{label}: type a number, 0 or more, 20000 at most")
            for name, label in (
                ("return_seconds_1", "Seconds by hand a pass"),
                ("setup_minutes_1", "Set up, minutes a job"),
                ("turning_1", "Turn, minutes a piece"),
                ("handling_1", "Handle, minutes a piece"),
                ("check_minutes", "Gauge, minutes each"),
            )
        ),
        ({"estimate_rpm_1": DAY}, "Spindle, rpm: type a number more than zero, 20000 at most."),
        ({"estimate_approach_1": "0,5"}, 'Approach: "0,5" is no number; type a length, 0 or more'),
        ({"estimate_rate": "€48"}, 'Rate an hour: "€48" is no number; type a number, 0 or more'),
        ({"estimate_scrap": "abc"}, 'Scrap, share of pieces: "abc" is no number; type a share'),
        (
            {"estimate_stub": 150},
            "The bar less its stub, -6.0000, is shorter than one piece with facing and part-off, ",
        ),
        ({"unit": None}, "Sheet Job: Choose the working unit, in or mm."),
        ({"hand": None}, "Sheet Job: Choose the hand, right or left."),
        ({"starts": None}, "Sheet Job: Enter the number of starts, 1 for most threads."),
    ],
)
def test_what_can_not_be_is_named_and_nothing_is_priced(sheet: Document, changes: dict, sentence: str) -> None:
    """As a paste puts it in, past the checks of the cells."""
    plain = {"estimate_passes_1": None, "estimate_learning": None}
    sheet.set(job("3/4-16 UNF-2A", "in", estimate_length=1.25, **plain))
    assert sheet["estimate_next"].startswith("All is filled in")
    before = dict(zip(changes, sheet.get(list(changes))))
    sheet.set(changes)
    assert sheet["estimate_next"].startswith(sentence)
    assert sheet["estimate_price"] == [[""] * 5]
    sheet.set({name: None if value == "" else value for name, value in before.items()})


def test_a_nut_needs_more_than_its_bore(sheet: Document) -> None:
    sheet.set(job("3/4-16 UNF-2B", "in", estimate_length=1.0, estimate_bar_size=0.75))
    assert sheet["estimate_next"] == "Next: enter the part's largest diameter, or across its flats."
    assert sheet["estimate_bar_words"] == ""


def test_a_lathe_that_cuts_another_lead_is_not_cheaper(sheet: Document) -> None:
    """8 tpi through 40/40 cuts 3.175 mm; an inch screw never picks up 2.5 mm, so the half-nuts stay shut."""
    lathes = {}
    for number, (a, b) in enumerate(((100, 127), (40, 40)), start=1):
        lathes |= {f"leadscrew_{number}": 8, f"leadscrew_unit_{number}": "tpi", f"dial_a_{number}": 32}
        lathes |= {f"dial_lines_{number}": 8, f"use_a_{number}": a, f"use_b_{number}": b}
    back = {"estimate_power_return_1": "yes"}
    sheet.set(
        job("M20x2.5-6g", "mm", estimate_length=45, estimate_bar_size=22, estimate_part_length=54) | lathes | back
    )
    assert sheet["lathes_words"] == "Lathe 2 cuts another lead: no comparison."
    sheet.set({"use_a_2": 100, "use_b_2": 127, "estimate_power_return_2": "no"})
    assert sheet["lathes_words"] == (
        "Sheet Estimate, lathe 2: Back under power is no, but on the sheet Lathe the half-nuts stay shut on lathe 2: "
        "empty it."
    )
    sheet.set({f"use_{letter}_{number}": None for letter in "ab" for number in (1, 2)})
