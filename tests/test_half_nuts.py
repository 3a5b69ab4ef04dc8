"""The dial rule with the lead that is really cut, against a walk: spindle, screw and carriage, closing after closing.

Nothing of `sheetfuncs.lathe` is used but its answer. The gear train always couples spindle and screw, so the carriage
with its nuts closed moves by the lead really cut each turn; with the nuts open it stands, or is moved back, while both
run on.
"""

from __future__ import annotations

import random
from math import radians, tan

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from sheetfuncs import evaluate, lathe, standards
from sheetfuncs.errors import CellError
from workbook_template.sheets.thread_listing import listing

MM = 25.4
SLIP, SHARE = 1000, 1 / 2000
"""Threads of the screw that a job slips by, and the share of the pitch that the tool may then be off: docs/lathe.md."""


class Walk:
    """One lathe at one thread: where the tool is beside the groove of the first pass after each closing of the nuts."""

    def __init__(self, lead: float, screw: float, teeth: int, lines: int) -> None:
        self.lead, self.screw, self.teeth, self.lines = lead, screw, teeth, lines
        self.carriage = self.turns = 0.0  # the groove lies where the carriage is lead x turns
        self.slipped = 0

    def cut(self, turns: float) -> None:
        """A pass with the nuts closed."""
        self.turns += turns
        self.carriage += self.lead * turns

    def back(self, distance: float, legal: set[int] | None) -> float:
        """Open, move back, wait for a legal line (None: any thread of the screw), close; how far off the groove."""
        self.carriage -= distance
        # the screw's threads stand against the nut's again once it has run on by the rest of a thread
        while True:
            run_on = -((self.carriage - self.lead * self.turns) / self.screw + self.slipped)
            step = max(1, round(run_on + 0.5))
            for threads in range(step, step + self.teeth + 1):
                line = (self.slipped + threads) * self.lines / self.teeth
                if legal is None or (line % 1 == 0 and int(line) % self.lines in legal):
                    self.slipped += threads
                    self.turns = (self.carriage + self.slipped * self.screw) / self.lead
                    off = (self.carriage - self.lead * self.turns) % self.lead
                    return min(off, self.lead - off)


def legal_lines(words: str, lines: int) -> set[int] | None:
    """The lines that an answer allows, counted from the one begun on; None for anywhere, empty for shut."""
    if words.startswith("keep the half-nuts shut"):
        return set()
    if "anywhere" in words:
        return None
    step = 1 if "any line" in words else lines if "began on only" in words else 0
    if "the one opposite" in words:
        step = lines // 2
    if not step:
        step = int("".join(sign for sign in words.split("every ")[1].split(" from")[0] if sign.isdigit()))
    return set(range(0, lines, step))


def offs(lead: float, screw: float, threads: range) -> list[float]:
    """How far beside the groove the tool is after the carriage slipped by so many threads of the screw."""
    found = []
    for number in threads:
        off = (number * screw) % lead
        found.append(min(off, lead - off))
    return found


def test_the_example_of_a_gear_chart() -> None:
    """1/2-13 on 8 threads an inch by 20/44 x 50/37: a turn of a 32 tooth dial is 4 in, 52.096 threads; .0074 in off."""
    cut = 20 / 44 * 50 / 37 / 8
    error = (cut * 13 - 1) * 1e6
    assert round(error) == -1843
    walk = Walk(cut, 1 / 8, 32, 8)
    walk.cut(20)
    assert walk.back(1.6, {0}) == pytest.approx(0.0074, abs=0.00005)
    assert walk.slipped == 32
    words = evaluate("THREAD_DIAL", "1/2-13 UNC-2A", "8 tpi", 32, 8, error)
    assert words.startswith("keep the half-nuts shut and reverse under power: the gears are not exact")
    assert "one turn of the dial is 52.096 threads as really cut" in words
    assert "every 2nd from it" in evaluate("THREAD_DIAL", "1/2-13 UNC-2A", "8 tpi", 32, 8)


def test_63_for_127_keeps_them_shut_where_127_does_not() -> None:
    """M5x0.8 on 8 threads an inch: 127 threads a turn, with 63 and 50 for the wheel of 127 only 126.984."""
    assert "began on only: one turn of the dial is 127 threads" in evaluate("THREAD_DIAL", "M5x0.8-6g", 8, 32, 8)
    assert "126.9841 threads as really cut" in evaluate("THREAD_DIAL", "M5x0.8-6g", 8, 32, 8, 125)
    # 32 threads an inch cut for it is another matter: four threads to each of the screw
    assert "anywhere" in evaluate("THREAD_DIAL", "M5x0.8-6g", 8, 32, 8, (25.4 / 32 / 0.8 - 1) * 1e6)


WORK = st.sampled_from(
    (
        *("1/2-13 UNC-2A", "1-8 UNC-2A", "3/4-16 UNF-2A", "5/8-11 UNC-2A", "1-12 UNF-2A", "1-11.5 UNS-2A"),
        *("2-4.5 UNC-2A", "M20x2.5-6g", "M5x0.8-6g", "M16x2-6g", "M8x1.25-6g", "1-0.125P-0.25L UNS-2A"),
        "1-0.1P-0.3L UNS-2A",
    )
)
ERRORS = st.one_of(
    st.sampled_from([0.0, 0.05, 0.1, 1.0, 125.0, -1843.0, -7812.5, 3000.0]), st.floats(-10000, 10000, allow_nan=False)
)


@given(
    callout=WORK,
    screw=st.sampled_from(["4 tpi", "6 tpi", "8 tpi", "3 mm", "6 mm"]),
    teeth=st.sampled_from([14, 15, 16, 18, 20, 21, 24, 30, 32]),
    lines=st.sampled_from([2, 4, 5, 6, 7, 8, 9, 12, 16]),
    error=ERRORS,
)
def test_a_line_is_legal_where_no_closing_on_it_misses(
    callout: str, screw: str, teeth: int, lines: int, error: float
) -> None:
    """Every closing over a thousand threads of the screw: the lines of the answer, and no others, meet the groove."""
    work = standards.read(callout)
    own = MM if work.unit == "in" else 1.0
    lead, allowed = work.lead * own * (1 + error / 1e6), work.pitch * own * SHARE
    number, unit = screw.split()
    a_thread = MM / float(number) if unit == "tpi" else float(number)
    worst: dict[int, float] = {}
    for threads, off in enumerate(offs(lead, a_thread, range(SLIP + 1))):
        line = threads * lines / teeth
        if line % 1 == 0:
            worst[int(line) % lines] = max(worst.get(int(line) % lines, 0.0), off)
    everywhere = max(offs(lead, a_thread, range(SLIP + 1)))
    assume(not any(0.7 < off / allowed < 1.4 for off in (*worst.values(), everywhere)))
    legal = legal_lines(evaluate("THREAD_DIAL", callout, screw, teeth, lines, error), lines)
    if legal is None:
        assert everywhere <= allowed
        return
    assert everywhere > allowed
    assert legal == {line for line, off in worst.items() if off <= allowed}


@pytest.mark.parametrize(
    ("callout", "error"),
    [("1/2-13 UNC-2A", 0.0), ("1/2-13 UNC-2A", 0.1), ("1-0.125P-0.25L UNS-2A", 0.0), ("1-11.5 UNS-2A", -0.1)],
)
def test_a_job_walked_on_the_legal_lines_stays_in_its_groove(callout: str, error: float) -> None:
    """Passes of random length, way back and legal line, until the carriage has slipped by a thousand threads."""
    work, draw = standards.read(callout), random.Random(13)
    legal = legal_lines(evaluate("THREAD_DIAL", callout, "8 tpi", 32, 8, error), 8)
    walk, passes = Walk(work.lead * (1 + error / 1e6), 1 / 8, 32, 8), 0
    while walk.slipped < SLIP - 80:
        walk.cut(draw.uniform(5, 60))
        lines = legal if legal is None else {draw.choice(sorted(legal))}
        assert walk.back(draw.uniform(0.3, 5), lines) <= work.pitch * SHARE
        passes += 1
    assert passes >= 10


def test_what_is_allowed_takes_less_than_a_tenth_of_any_tolerance() -> None:
    """A groove wider by w is a pitch diameter smaller by 2 w / (tan a + tan b); for all that the workbook lists."""
    seen = 0
    for row in listing([]).rows:
        thread = standards.read(row.callout)
        try:
            size = standards.limits(thread).pitch
        except CellError:
            continue
        if size.max is None or size.min is None:
            continue
        form = standards.system(thread).form
        taken = 2 * lathe.BESIDE * thread.pitch / (tan(radians(form.leading)) + tan(radians(form.trailing)))
        assert taken < 0.1 * (size.max - size.min), row.callout
        seen += 1
    assert seen > 1000


@pytest.mark.parametrize("error", [10001, -20000])
def test_another_lead_is_refused(error: float) -> None:
    with pytest.raises(CellError, match="no error but another lead"):
        evaluate("THREAD_DIAL", "1/2-13 UNC-2A", "8 tpi", 32, 8, error)


def test_reversing_is_never_advised_without_the_chuck() -> None:
    for cells in (("M20x2.5-6g", 8, 32, 8), ("1/2-13 UNC-2A", 8, 32, 8, 50)):
        words = evaluate("THREAD_DIAL", *cells)
        assert "reverse under power" in words
        assert words.endswith(lathe.SCREWED_CHUCK)
    assert "screwed-on chuck" in lathe.dial.record.summary
