"""What the tests of the workbook share: one build, and cases of threads with tools, wires and blanks."""

from __future__ import annotations

import io
import random
import zipfile
from collections.abc import Iterable
from functools import cache
from math import cos, radians
from typing import Any, NamedTuple

from once import once
from openpyxl.utils import get_column_letter, range_boundaries
from whole_books import SPECIALS, demo_pages, plain_book

from sheetfuncs import CellError, evaluate, standards, wires
from sheetfuncs.designations import Thread
from sheetfuncs.units import convert_length
from workbook_template.file import store
from workbook_template.file.build import chosen
from workbook_template.paper.blocks import Book
from workbook_template.paper.naming import Named
from workbook_template.sheets import instruments
from workbook_template.sheets import setup as setup_sheet
from workbook_template.sheets.thread_listing import listing

SETUP_INPUTS = [entry[0] for entry in setup_sheet.INPUTS]


class Sample(NamedTuple):
    """What most tests ask of a built workbook; the workbook itself takes fifty times the room."""

    entries: tuple[Named, ...]
    titles: tuple[str, ...]
    content: bytes  # the file, without stored values


def sample_of(book: Book) -> Sample:
    """What is asked of a workbook, once it is built."""
    return Sample(tuple(book.entries), tuple(book.workbook.sheetnames), store.package(book))


@cache
def plain_file() -> Sample:
    """An empty workbook with some special threads."""
    return once("plain", lambda: sample_of(plain_book()))


@cache
def demo_file() -> Sample:
    """The filled example, with few threads in its table."""
    return once("demo", lambda: sample_of(demo_pages()))


def first_cells(name: str, rows: int) -> str:
    """The first cells of a named column, as an address with its sheet."""
    entry = next(entry for entry in plain_file().entries if entry.name == name)
    left, top, *_ = range_boundaries(entry.ref)
    letter = get_column_letter(left)
    return f"{entry.sheet}!{letter}{top}:{letter}{top + rows - 1}"


def changed(content: bytes, changes: dict[str, tuple[str, str]]) -> bytes:
    """The file content with a text replaced in the parts whose name contains the key."""
    stream, found = io.BytesIO(), set()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            for part, (before, after) in changes.items():
                if part in name and before.encode() in data:
                    data = data.replace(before.encode(), after.encode())
                    found.add(part)
            new.writestr(name, data)
    assert found == set(changes), "a text to be replaced is not there"
    return stream.getvalue()


class Case(NamedTuple):
    """One thread at one machine: the inputs of the sheets, lengths in `unit`."""

    thread: Thread
    unit: str
    inputs: dict[str, Any]

    @property
    def callout(self) -> str:
        return standards.write(self.thread)

    @property
    def tip(self) -> str:
        kind = self.inputs["tip_kind"].removeprefix("nose ")
        return kind if kind == "sharp" else f"{kind} {self.inputs['tip_size']!r}"

    def sheet(self) -> dict[str, Any]:
        """Every input by name."""
        blank = dict.fromkeys(SETUP_INPUTS)
        return {**chosen(self.thread), "unit": self.unit, **blank, **self.inputs}


def cases(count: int, seed: int) -> list[Case]:
    """Threads of every system and both sides with tools of every kind, some of them impossible.

    Half of them are Unified or ISO metric, the other half is shared among the rest.
    """
    draw = random.Random(seed)
    rows: dict[str, list[str]] = {}
    for row in listing([standards.read(text) for text in SPECIALS]).rows:
        rows.setdefault(row.system, []).append(row.callout)
    (first, second, *others), chosen_rows = rows, []
    for number in range(count):
        system = (first, second, *others)[number % 2] if number % 4 < 2 else others[number // 2 % len(others)]
        chosen_rows.append(draw.choice(rows[system]))
    return [_case(draw, standards.read(text)) for text in chosen_rows]


def _case(draw: random.Random, thread: Thread) -> Case:
    starts = draw.choice((1, 1, 1, 2, 3, 4, 5, 7)) if standards.system(thread).with_lead else 1
    thread = thread._replace(left_hand=draw.random() < 0.3, starts=starts)
    unit = draw.choice(("in", "mm"))
    found = standards.limits(thread)
    size = found.minor if thread.side == "internal" else found.major
    division = 0.001 if unit == "in" else 0.02

    def length(value: float) -> float:
        return round(convert_length(value, thread.unit, unit), 5)

    kind = draw.choice(("sharp", "flat", "nose radius", "nose radius"))
    form = standards.system(thread).form
    best = thread.pitch / (2 * cos(radians(form.included / 2)))
    largest = {"sharp": 0.0, "flat": 0.27, "nose radius": 0.2}[kind]
    inputs = {
        "tip_kind": kind,
        "tip_size": None if kind == "sharp" else length(thread.pitch * draw.uniform(0.02, largest)),
        "blank_measured": draw.choice((None, length(draw.uniform(size.min, size.max)))),
        "aim_limit": draw.choice(("max", "mid", "mid", "mid", "min")),
        "compound_angle": draw.choice((None, 0, 29, 29.5, 30, 35)),
        "dial_division": draw.choice((None, division, division / 2)),
        "passes": draw.randint(1, 16),
        "finishing_pass": draw.choice((None, None, length(thread.pitch * draw.uniform(0.02, 0.06)))),
        "spring_passes": draw.choice((None, 0, 1, 3)),
        "pass_rule": draw.choice(("equal area", "equal area", "light first")),
        "wire_in_use": draw.choice((None, length(best * draw.uniform(0.8, 1.7)), length(best))),
    }
    sets = [_wire_set(draw, length(best * draw.uniform(0.7, 2))) for _ in range(6)]
    sets += [(None, None, None)] * (instruments.WIRE_SETS - len(sets))
    for letter, column in zip("abc", zip(*sets)):
        inputs[f"wires_{letter}"] = [[wire] for wire in column]
    inputs["wires_id"] = [[f"W-{number}"] for number in range(1, len(sets) + 1)]
    return Case(thread, unit, inputs)


def _wire_set(draw: random.Random, wire: float) -> tuple[float | None, float | None, float | None]:
    """What a certificate gives: three wires that differ a little, their mean alone, or nothing yet."""
    return draw.choice(((wire, wire * 1.0001, wire * 0.9998), (wire, None, None), (None, None, None)))


def answer(name: str, *cells: Any) -> Any:
    """What a function gives; None where it refuses."""
    try:
        return evaluate(name, *cells)
    except CellError:
        return None


def expected(case: Case) -> dict[str, Any]:
    """Every number of the sheets Job and Setup by the functions; None where there must be no number."""
    text, unit, given = case.callout, case.unit, case.inputs
    own = case.thread.unit
    limits = {row[0]: row for row in evaluate("THREAD_LIMITS", text, unit)[1:]}
    want: dict[str, Any] = {}
    for which, row in limits.items():
        want[f"{which}_diameter_max"], want[f"{which}_diameter_min"] = (None if end == "" else end for end in row[1:3])
    want["blank_max"], want["blank_min"], want["blank_aim"] = evaluate("THREAD_BLANK", text, unit)[0]
    want["pitch"] = evaluate("THREAD_PITCH", text, unit)
    want["lead"] = evaluate("THREAD_LEAD", text, unit)
    want["allowance"] = evaluate("THREAD_ALLOWANCE", text, unit)
    want["pitch_diameter_tolerance"] = evaluate("THREAD_TOLERANCE", text, unit)
    want["threads_per_inch"] = round(1 / evaluate("THREAD_PITCH", text, "in"), 4)
    blank, aim = given["blank_measured"], given["aim_limit"]
    want["depth"] = depth = answer("THREAD_DEPTH", text, case.tip, aim, blank, unit)
    form = standards.system(case.thread).form
    flank = min(form.leading, form.trailing)
    angle = flank - 0.5 if given["compound_angle"] is None else given["compound_angle"]
    want["compound_travel"] = answer("THREAD_COMPOUND", depth, angle) if depth is not None and angle <= flank else None
    want["depth_sharp"] = answer("THREAD_DEPTH", text, "sharp", aim, blank, unit)
    want["depth_flat"] = answer("THREAD_DEPTH", text, f"flat {want['pitch'] / 8!r}", aim, blank, unit)
    want |= _wires(case, text, unit, own)
    want |= _plan(case, text, unit)
    return want


def _wires(case: Case, text: str, unit: str, own: str) -> dict[str, Any]:
    given = case.inputs
    usable = (None, None) if case.thread.side == "internal" else wires.wire_range(case.thread)[0]
    ends = [None if end is None else convert_length(end, own, unit) for end in usable]
    want = {"best_wire": answer("THREAD_BEST_WIRE", text, unit)}
    if not standards.system(case.thread).taper:  # of a taper the sheet has the basic major diameter as printed, rounded
        want |= {"smallest_wire": ends[0], "largest_wire": ends[1]}

    def over(wire: float | None, limit: str) -> float | None:
        return None if wire is None else answer("THREAD_OVER_WIRES", text, wire, limit, unit, method)

    method = method_of(case.thread)
    wire = given["wire_in_use"]
    middle = over(wire, "mid")
    want["wire_constant"] = None if middle is None else middle - answer("THREAD_PITCH_DIAMETER", text, "mid", unit)
    want |= {f"over_wires_{end}": over(wire, end) for end in ("max", "min")}
    want["micrometer_preset"] = over(wire, given["aim_limit"])
    means = [mean for mean in map(mean_wire, zip(*(given[f"wires_{letter}"] for letter in "abc"))) if mean]
    for end in ("max", "min"):
        want[f"wires_over_wires_{end}"] = [found for mean in means if (found := over(mean, end)) is not None]
    return want


def method_of(thread: Thread) -> str:
    """How the sheets read wires: with the lead angle where that is known."""
    system = standards.system(thread)
    return "exact" if system.form.leading == system.form.trailing and not system.taper else "handbook"


def mean_wire(cells: Iterable[list[float | None]]) -> float | None:
    """The mean of what is given of a wire set."""
    wires_given = [wire for cell in cells for wire in cell if wire is not None]
    return sum(wires_given) / len(wires_given) if wires_given else None


def _plan(case: Case, text: str, unit: str) -> dict[str, Any]:
    """Columns of the pass plan. The function aims at the middle, so only such cases are compared."""
    given = case.inputs
    if given["aim_limit"] != "mid":
        return {}
    arguments = [given[n] for n in ("passes", "compound_angle", "finishing_pass", "spring_passes", "blank_measured")]
    rows = answer("THREAD_INFEED", text, case.tip, *arguments, unit, given["dial_division"], given["pass_rule"])
    names = (
        "plan_pass",
        "plan_radial_infeed",
        "plan_radial_total",
        "plan_compound_travel",
        "plan_compound_reading",
        "plan_diameter_now",
    )
    return {name: [row[at] for row in (rows or [[]])[1:]] for at, name in enumerate(names)}
