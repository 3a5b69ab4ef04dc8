"""Whatever stands in the cells: every function answers with a value or with one sentence, and nothing else.

The same examples in every run; each function gets a hundred and fifty of them, half of their cells sensible.
"""

from __future__ import annotations

from datetime import datetime
from math import cos, isfinite, radians, sin

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from sheetfuncs import CellError, evaluate, standards, wire_fit
from sheetfuncs.catalog import RECORDS
from sheetfuncs.hosts.call import answer
from sheetfuncs.registry import Record, is_length
from sheetfuncs.terms import TERMS
from workbook_template.sheets.thread_listing import listing

IN_CI = settings(
    deadline=None, derandomize=True, database=None, suppress_health_check=list(HealthCheck), max_examples=150
)
LONGEST = 255
CODES = ("#N/A", "#VALUE!", "#NUM!")
EACH = pytest.mark.parametrize("record", RECORDS, ids=lambda record: record.name)

ABSURD = (
    *(None, "", "  ", 0, -1, -0.0, 0.5, True, False, 1e-300, 5e-324, 1e-9, 1e9, 1e15, 1e300, 1.7e308, -1e300),
    *(float("inf"), float("-inf"), float("nan"), 10**310, -(10**310), 10**5000, 2**63),
    *("1e999", "-1e999", "1e-400", "9" * 310, "9" * 600, f"1/{'9' * 310}", f"{'9' * 310}/2", "1/0", "0/0", "1 1/2 3/4"),
    *("x" * 600, "a\nb", "M20\nx2.5-6g", "1\n2", "\x00", "½", "٣", "1e300 mm", "1e-300 in", "5e14 %", "-5 %", "3 kg"),
    *("1e12 tpi", "1e-12 mm", "1e300 tpi", "10 in 1e300 mm", "99999999 in 1 mm", "1 in 1e-300 mm", "flat", "radius"),
    *("flat 1e300", "radius -1", "flat 1e-300 mm", "#N/A", "#NUM! said before", "#DIV/0!", "=1+1", "1;2;3", "a b; c"),
    *("1 7/26-8 UN-2A", "24-160 UNS-2A", "24-160 UNS-1B", "#4-40 UNJC-3B", "M355x0.2-9h", "Tr1120x44-7e", "Rp 6 LH"),
    *("1 A 1e300; 1 A 2; 1 B 1; 1 B 1; 2 A 1; 2 A 1; 2 B 1; 2 B -1e300", "1e300 -1e300 0", "1e-300 2e-300 3e-300"),
    *(datetime(2026, 3, 4), object, [1e300], [["M20-6g"], ["x" * 600]], [[1, 2], [3, "a\nb"]], [[]], []),
)
JUNK = st.sampled_from(ABSURD)
SIZES = st.floats(1e-4, 200.0).map(lambda size: float(f"{size:.6g}"))
ANY_NUMBER = st.one_of(SIZES, SIZES.map(lambda size: -size), st.floats(allow_nan=False), st.integers(-(10**40), 10**40))
THREADS = st.deferred(lambda: st.sampled_from([row.callout for row in listing([]).rows[::23]]))
CLASSES = {
    "{:.4g}-{:.3g} UNS-{}": (0.06, 24, 0.5, 160, ("1A", "2A", "3A", "1B", "2B", "3B")),
    "{:.4g}-{:.3g} UNJS-{}": (0.06, 24, 0.5, 160, ("3A", "3B")),
    "{:.4g}-{:.3g} ACME-{}": (0.1, 25, 0.5, 45, ("2G", "3G-INT", "4G", "2C", "3C-INT", "4C")),
    "{:.4g}-{:.3g} STUB ACME-{}": (0.1, 25, 0.5, 45, ("2G", "3G-INT", "4G-INT")),
    "{:.4g}-{:.3g} BUTT-{}": (0.4, 25, 0.5, 25, ("2A", "3A", "2B", "3B")),
    "{:.4g}-{:.3g} WHIT {}": (0.05, 7, 2, 70, ("medium bolt", "free bolt", "close nut", "normal nut")),
    "M{:.4g}x{:.3g}-{}": (0.9, 360, 0.1, 9, ("6g", "3h4h", "9e8e", "4g6g", "6H", "8G")),
    "MJ{:.4g}x{:.3g}-{}": (1.5, 360, 0.1, 9, ("4h6h", "6g", "4H5H", "6H")),
    "Tr{:.4g}x{:.3g}-{}": (5, 400, 1.4, 45, ("7e", "8c", "9c", "7H", "9H")),
}
"""Callouts of no listed pair: the spelling, least and most diameter, least and most pitch, classes."""
SPECIALS = st.one_of(
    *(
        st.builds(spelling.format, st.floats(*ends[:2]), st.floats(*ends[2:4]), st.sampled_from(ends[4]))
        for spelling, ends in CLASSES.items()
    )
)
SENSIBLE = {
    "thread": st.one_of(THREADS, THREADS, SPECIALS),
    "number": ANY_NUMBER,
    "temperature": st.one_of(st.floats(-5, 60), st.floats(20, 140).map("{} F".format), st.just("20 °C")),
    "angle": st.floats(-5, 95),
    "length": st.one_of(SIZES, st.builds("{} {}".format, SIZES, st.sampled_from(("mm", "in", "thou", "µm", "ft")))),
    "signed length": ANY_NUMBER,
    "length or none": st.one_of(st.just(0), SIZES, SIZES.map("{} um".format), ANY_NUMBER),
    "count": st.integers(0, 60),
    "tip": st.one_of(st.just("sharp"), st.builds("{} {}".format, st.sampled_from(("flat", "radius")), SIZES), SIZES),
    "leadscrew": st.sampled_from(("8 tpi", "3 mm", 6, "0.25 in", "11 1/2 tpi")),
    "numbers": st.lists(ANY_NUMBER, min_size=1, max_size=6),
    "speed": st.one_of(SIZES, SIZES.map("{} m/min".format)),
    "counted": st.one_of(SIZES, st.builds("{} in {} mm".format, st.integers(0, 99), SIZES), SIZES.map("{} tpi".format)),
    "size": st.one_of(SIZES, ANY_NUMBER),
    "amount": st.one_of(SIZES, ANY_NUMBER),
    "share": st.sampled_from((0, "5 %", 0.999, 1 - 1e-16, 1)),
    "portion": st.sampled_from((0, "20 %", 1, "100 %")),
    "surcharge": st.sampled_from((0, "150 %", 4)),
    "material": st.sampled_from(("steel", "brass", 1e-4, -1e-4)),
    "study": st.lists(ANY_NUMBER, min_size=7, max_size=9).map(
        lambda found: [[number // 4, "AB"[number % 2], reading] for number, reading in enumerate(found)]
    ),
    "lots": st.lists(st.sampled_from(("a", "rejected", "r", "b")), max_size=12).map(" ".join),
}
OF_NAME = {
    "wire": st.one_of(SIZES, st.sampled_from(("0.78 mm", "0.7765 mm", "0.0361 in", "1.4434 mm", 0.0361))),
    "gears": st.lists(st.sampled_from((20, 30, 40, 60, 127, 7, 1e9)), min_size=2, max_size=6),
    "reading": st.one_of(SIZES, st.sampled_from((0.7621, 0.76, "19.3 mm", "0.7645 in", 20.1))),
    "aql": st.sampled_from((1.0, 0.65, 1000, 0.01, 3)),
}


def sensible_cells(name: str) -> st.SearchStrategy:
    """What the argument of that name is for."""
    term = TERMS[name]
    return OF_NAME.get(name, st.sampled_from(term.choices) if term.choices else SENSIBLE[term.dimension])


def calls_of(record: Record) -> st.SearchStrategy:
    """Calls that make sense or nearly: worked examples or other cells, up to two cells replaced by anything."""
    names = [param.name for param in record.params]
    least = sum(param.required for param in record.params)
    examples = [list(example.args) for example in record.examples]
    others = st.tuples(*map(sensible_cells, names)).map(list)
    base = st.one_of(
        st.sampled_from(examples),
        st.sampled_from(examples),
        st.tuples(others, st.integers(least, len(names))).map(_left_out),
    )
    changes = st.lists(st.integers(0, len(names) - 1).flatmap(lambda at: _change(at, names[at])), max_size=2)
    return st.tuples(base, changes).map(_changed)


def _left_out(drawn: tuple[list, int]) -> list:
    cells, count = drawn
    return cells[:count]


def _change(at: int, name: str) -> st.SearchStrategy:
    return st.tuples(st.just(at), st.one_of(JUNK, sensible_cells(name)))


def _changed(drawn: tuple[list, list]) -> tuple:
    cells, changes = list(drawn[0]), drawn[1]
    for at, cell in changes:
        cells += [None] * (at + 1 - len(cells))
        cells[at] = cell
    return tuple(cells)


def check(found: object, call: object) -> None:
    """A value or a sentence that any host can show."""
    if isinstance(found, CellError):
        sentence = str(found)
        assert found.code in CODES, call
        assert len(sentence) > 10, call
        assert len(f"{found.code} {sentence}") <= LONGEST, (len(sentence), sentence, call)
        assert sentence.isprintable(), (sentence, call)
    elif isinstance(found, list):
        assert found, call
        for part in found:
            check(part, call)
    elif isinstance(found, str):
        assert len(found) <= LONGEST, (found, call)
        assert found == "" or found.isprintable(), (found, call)
    else:
        assert isinstance(found, (int, float)), (found, call)
        assert not isinstance(found, bool), (found, call)
        assert isfinite(found), (found, call)


@EACH
def test_a_value_or_one_sentence(record: Record) -> None:
    answered = 0

    @IN_CI
    @given(call=calls_of(record))
    def holds(call: tuple) -> None:
        nonlocal answered
        found = answer(record, call)
        answered += not isinstance(found, CellError)
        check(found, (record.name, call))

    holds()
    assert answered > 10, "too few calls made sense"


SINGLE = [record for record in RECORDS if not record.table]
WHOLE = ("numbers", "study", "lots")


@pytest.mark.parametrize("record", SINGLE, ids=lambda record: record.name)
def test_a_column_answers_as_its_rows_one_by_one(record: Record) -> None:
    names = [param.name for param in record.params if TERMS[param.name].dimension not in WHOLE]

    @settings(IN_CI, max_examples=30)
    @given(call=calls_of(record), data=st.data())
    def holds(call: tuple, data: st.DataObject) -> None:
        rows = [list(call) + [None] * (len(record.params) - len(call)) for _ in range(5)]
        columns = data.draw(st.sets(st.sampled_from(names), min_size=1, max_size=2))
        places = [place for place, param in enumerate(record.params) if param.name in columns]
        for place in places:
            cells = st.one_of(sensible_cells(record.params[place].name), JUNK, st.just(call[0]))
            for row, cell in zip(rows, data.draw(st.lists(cells, min_size=5, max_size=5))):
                row[place] = cell
        assume(not any(isinstance(cell, (list, tuple)) for row in rows for cell in row))
        ranges = [
            [[row[place]] for row in rows] if place in places else rows[0][place] for place in range(len(rows[0]))
        ]
        found = answer(record, tuple(ranges))
        for (cell,), row in zip(found, rows):
            alone = answer(record, tuple(row))
            assert type(cell) is type(alone)
            assert str(cell) == str(alone), row

    holds()


@IN_CI
@given(callout=SPECIALS)
def test_limits_of_any_size_stand_in_order_and_its_callout_is_written_back(callout: str) -> None:
    """The bore inside the pitch line inside the major diameter, no minimum over its maximum, or a sentence."""
    try:
        thread = standards.read(callout)
        found = standards.limits(thread)
    except CellError:
        assume(False)
    ends = [end for size in (found.minor, found.pitch, found.major) for end in (size.min, size.max)]
    known = [end for end in ends if end is not None]
    assert known == sorted(known)
    assert known[0] > 0
    assert standards.read(standards.write(thread)) == thread


@IN_CI
@given(callout=THREADS, share=st.floats(0.001, 0.999), limit=st.sampled_from(("max", "min", "mid")),
       unit=st.sampled_from(("in", "mm")), method=st.sampled_from(("handbook", "exact")))  # fmt: skip
def test_what_is_measured_over_wires_comes_back(callout: str, share: float, limit: str, unit: str, method: str) -> None:
    thread = standards.read(callout)
    assume(thread.side == "external")
    low, high = wire_fit.usable_wires(thread)
    wire = f"{low + share * (high - low)!r} {thread.unit}"
    over = answer_to("THREAD_OVER_WIRES", callout, wire, limit, unit, method)
    assume(not isinstance(over, CellError))  # the exact method knows neither tapers nor unlike flanks
    back = evaluate("THREAD_PD_FROM_WIRES", callout, wire, over, unit, method)
    assert back == pytest.approx(evaluate("THREAD_PITCH_DIAMETER", callout, limit, unit), rel=1e-10)
    if method == "handbook" and not standards.system(thread).taper:
        constant = evaluate("THREAD_WIRE_CONSTANT", callout, wire, unit)
        assert over - constant == pytest.approx(back, rel=1e-12)
        assert evaluate("THREAD_FEED_LEFT", callout, wire, over, limit, 0, unit) == pytest.approx(0, abs=1e-9)


@IN_CI
@given(
    callout=THREADS, radius=st.floats(0, 0.1), over=st.floats(-0.1, 0.1), limit=st.sampled_from(("max", "min", "mid"))
)
def test_the_depth_leads_to_the_diameter_it_aims_at(callout: str, radius: float, over: float, limit: str) -> None:
    """Blank off by a share of the pitch: half a pitch of groove is left where the pitch line is.

    A nose of radius r is r (cos((a - b)/2) / sin((a + b)/2) - 1) short of a sharp tool.
    """
    thread = standards.read(callout)
    system = standards.system(thread)
    assume(thread.side and system.root_radius is None)
    blank = evaluate("THREAD_BLANK", callout)[0][2] + over * thread.pitch
    found = answer_to("THREAD_DEPTH", callout, f"radius {radius * thread.pitch!r}", limit, blank)
    assume(not isinstance(found, CellError))
    middle, half = radians(system.form.included / 2), radians(system.form.leading - system.form.trailing) / 2
    sharp = found + radius * thread.pitch * (cos(half) / sin(middle) - 1)
    outward = -1 if thread.side == "internal" else 1
    bottom = blank - 2 * outward * sharp
    pitch_line = bottom + outward * thread.pitch / system.form.spread
    assert pitch_line == pytest.approx(evaluate("THREAD_PITCH_DIAMETER", callout, limit), rel=1e-9)
    assert found <= sharp


OF_A_THREAD = [record for record in RECORDS if record.params[0].name == "thread"]
LENGTHS = ("length", "signed length", "length or none")


@pytest.mark.parametrize("record", OF_A_THREAD, ids=lambda record: record.name)
def test_inch_and_millimetre_alike(record: Record) -> None:
    """The same call with each length in the other unit, and its answer asked in the other unit."""
    names = [param.name for param in record.params]
    if "unit" not in names:
        assert not any(is_length(column) for column in record.columns)
        return
    by_thread = [
        (cells_of_example(record, example, "in"), cells_of_example(record, example, "mm"))
        for example in record.examples
    ]
    for in_inches, in_mm in by_thread:
        one, other = evaluate(record.name, *in_inches), evaluate(record.name, *in_mm)
        rows = (one, other) if record.table else ([[one]], [[other]])
        first = record.table == "rows"
        for ours, theirs in zip(rows[0][first:], rows[1][first:]):
            for column, here, there in zip(record.columns, ours, theirs):
                if isinstance(here, str):
                    assert here == there or column.endswith(("remark", "words"))
                else:
                    assert there == pytest.approx(here * (25.4 if is_length(column) else 1), rel=1e-9, abs=1e-12)


def cells_of_example(record: Record, example, unit: str) -> list:
    """The cells of a worked example, its bare lengths with the thread's own unit, its answer asked in `unit`."""
    own = standards.read(example.args[0]).unit
    cells = list(example.args) + [None] * (len(record.params) - len(example.args))
    for place, param in enumerate(record.params):
        is_bare = isinstance(cells[place], (int, float))
        is_tip = TERMS[param.name].dimension == "tip" and cells[place] not in (None, "sharp")
        if is_tip or (TERMS[param.name].dimension in LENGTHS and is_bare):
            cells[place] = f"{cells[place]} {own}"
        elif param.name == "surface_speed" and is_bare:
            cells[place] = f"{cells[place]} {'ft/min' if own == 'in' else 'm/min'}"
        elif param.name == "unit":
            cells[place] = unit
    return cells


def answer_to(name: str, *cells: object) -> object:
    try:
        return evaluate(name, *cells)
    except CellError as error:
        return error
