"""Designations: every spelling of the trade, reading and writing as inverses, and refusals in words."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from published_rows import rows

from sheetfuncs import evaluate, standards
from sheetfuncs.designations import Thread
from sheetfuncs.errors import CellError, NotGiven, NotUnderstood, OutOfRange
from sheetfuncs.standards import iso_metric, unified
from sheetfuncs.units import tidy

OF_EVERY_SYSTEM = [system.standard_threads()[0] for system in standards.SYSTEMS.values()]

SPELLINGS = [
    ("3/4-16 UNF-2A", "3/4-16 UNF-2A"),
    ("1 1/4-7 UNC-2B", "1 1/4-7 UNC-2B"),
    ("1-1/4-7 UNC-2B", "1 1/4-7 UNC-2B"),
    ("#10-32 UNF-3A", "#10-32 UNF-3A"),
    ("No.10-32 UNF-3A", "#10-32 UNF-3A"),
    ("no. 10 - 32 unf - 3a", "#10-32 UNF-3A"),
    ("0.190-32 UNF-3A", "#10-32 UNF-3A"),
    (".750-16UNF2A", "3/4-16 UNF-2A"),
    ("1.125-12 UN-3A", "1 1/8-12 UNF-3A"),
    ("0.9-14 UNS-2A", "0.9-14 UNS-2A"),
    ("5/8-11 UNC-2A-LH", "5/8-11 UNC-2A-LH"),
    ("5/8-11 UNC-2A LH", "5/8-11 UNC-2A-LH"),
    ("1.0-0.1P-0.2L UNS-2A", "1-0.1P-0.2L UNS-2A"),
    ("1-.0833P-.1667L UNF-2A", "1-0.08333333333P-0.1666666667L UNF-2A"),
    ("1-11.5 UNS-2A", "1-11.5 UNS-2A"),
    ("1-11 1/2 UNS-2A", "1-11.5 UNS-2A"),
    ("2-4 1/2 UNC-2A", "2-4.5 UNC-2A"),
    ("3/4–16 UNRF-2A", "3/4-16 UNRF-2A"),
    ("M20x2.5-6g", "M20x2.5-6g"),
    ("m20 X 2.5 - 6g", "M20x2.5-6g"),
    ("M20×2.5-6g", "M20x2.5-6g"),
    ("M20*2.5-6g", "M20x2.5-6g"),
    ("M20-6g", "M20x2.5-6g"),
    ("M20 6g", "M20x2.5-6g"),
    ("M20x1.5-4g6g", "M20x1.5-4g6g"),
    ("M20x1.5-6g6g", "M20x1.5-6g"),
    ("M10x1.25-6H LH", "M10x1.25-6H-LH"),
    ("M20xPh5P2.5-6g", "M20xPh5P2.5-6g"),
    ("M20x2-6H-L-LH", "M20x2-6H-L-LH"),
    ("M8", "M8x1.25"),
]


@pytest.mark.parametrize(("typed", "written"), SPELLINGS)
def test_spellings_of_the_trade(typed: str, written: str) -> None:
    assert standards.write(standards.read(typed)) == written


@pytest.mark.parametrize("system", standards.SYSTEMS.values(), ids=lambda system: system.key)
def test_every_standard_thread_reads_back(system: standards.System) -> None:
    for thread in system.standard_threads():
        assert standards.read(system.write(thread)) == thread


def test_the_series_hold_what_the_standards_list() -> None:
    """ASME B1.1-2003, Table 1: 1/4 has 20 UNC, 28 UNF, 32 UNEF; ISO 261: M10 has 1.5 coarse, 1.25 1 0.75 fine."""
    inch = {(thread.pitch, thread.series) for thread in unified.standard_threads() if thread.diameter == 0.25}
    assert {(1 / 20, "UNC"), (1 / 28, "UNF"), (1 / 32, "UNEF")} <= inch
    metric = [thread.pitch for thread in iso_metric.standard_threads() if thread.diameter == 10]
    assert sorted(metric) == [0.75, 1.0, 1.25, 1.5]


def test_no_printed_pitch_is_too_coarse_for_its_diameter() -> None:
    """Every pair of GB/T 193-2003 (ISO 261), and the largest diameter of each printed cell of Td2 and TD2."""
    printed = {(row["d_mm"], pitch.strip("()*")) for row in rows("iso_261") for pitch in row["pitches_mm"].split()}
    printed |= {(row["d_upto"], row["pitch"]) for row in rows("iso_tolerances") if row["quantity"] in ("Td2", "TD2")}
    assert len(printed) > 352
    for diameter, pitch in printed:
        assert standards.read(f"M{diameter}x{pitch}").pitch == float(pitch)


OF_A_GRADE = {"Td2": "M20x2.5-{}g6g", "Td": "M20x2.5-6g{}g", "TD2": "M20x2.5-{}H6H", "TD1": "M20x2.5-6H{}H"}


def test_the_grades_that_are_taken_are_those_that_are_printed() -> None:
    """Machinery's Handbook and reprints of ISO 965-1; few cells of Td and TD1 were found, of them the standard's."""
    of_standard = {"Td": set("468"), "TD1": set("45678")}
    for name, callout in OF_A_GRADE.items():
        printed = {row["grade"] for row in rows("iso_tolerances") if row["quantity"] == name}
        taken = {grade for grade in "0123456789" if is_read(callout.format(grade))}
        assert printed <= taken == of_standard.get(name, printed), name


def is_read(callout: str) -> bool:
    try:
        return standards.read(callout) is not None
    except NotGiven:
        return False


@pytest.mark.parametrize("callout", ["Tr40x2.5-7e", "Tr400x12-7e", "3/8-24 UNJF-2A", "MJ10x1.5-6e", "M2x0.4-8g"])
def test_a_class_without_limits_is_not_described_as_if_it_had_them(callout: str) -> None:
    described = evaluate("THREAD_DESCRIBE", callout)
    assert described.endswith("; NO LIMITS of size for this class here, THREAD_LIMITS says why")
    with pytest.raises(CellError, match=callout):
        evaluate("THREAD_LIMITS", callout)


@pytest.mark.parametrize(
    "callout", ["Tr40x7-7e", "3/8-24 UNJF-3A", "MJ10x1.5-6g", "M2x0.4-6g", "M20x2.5", "1/2-12 BSW"]
)
def test_one_with_limits_or_without_a_class_says_nothing_of_them(callout: str) -> None:
    assert "NO LIMITS" not in evaluate("THREAD_DESCRIBE", callout)


@pytest.mark.parametrize("series", ["UNS-2A", "UNJS-3B"])
def test_unified_threads_of_several_starts_say_that_their_limits_are_those_of_one(series: str) -> None:
    several, one = f"0.75-0.0625P-0.1875L {series}", f"0.75-16 {series}"
    assert evaluate("THREAD_LIMITS", several) == evaluate("THREAD_LIMITS", one)
    assert evaluate("THREAD_DESCRIBE", several).endswith("; its limits are those of one start")
    assert "one start" not in evaluate("THREAD_DESCRIBE", one)
    assert "one start" not in evaluate("THREAD_DESCRIBE", several.rpartition("-")[0])


inch_diameters = st.one_of(
    st.integers(4, 384).map(lambda sixty_fourths: sixty_fourths / 64),
    st.integers(600, 60_000).map(lambda tenths: tenths / 10_000),
)
threads_per_inch = st.sampled_from(
    [4, 4.5, 5, 6, 7, 8, 9, 10, 11, 11.5, 12, 13, 14, 16, 18, 20, 24, 27, 28, 32, 40, 49]
)


@given(
    diameter=inch_diameters,
    tpi=threads_per_inch,
    starts=st.integers(1, 6),
    thread_class=st.sampled_from(["", "1A", "2A", "3A", "1B", "2B", "3B"]),
    left_hand=st.booleans(),
    rounded=st.booleans(),
)
def test_unified_reading_undoes_writing(diameter, tpi, starts, thread_class, left_hand, rounded) -> None:
    if diameter < 8 / tpi:
        return  # twice the coarse pitch is no less than an eighth of the diameter
    pitch = 1 / tpi
    size = f"{tpi}" if starts == 1 else f"{pitch:.10g}P-{pitch * starts:.10g}L"
    series = "UNRS" if rounded and not thread_class.endswith("B") else "UNS"
    typed = f"{diameter}-{size} {series} {thread_class}{' LH' * left_hand}"
    thread = standards.read(typed)
    assert standards.read(standards.write(thread)) == thread
    assert (thread.diameter, thread.pitch, thread.starts) == (diameter, pitch, starts)
    assert (thread.thread_class, thread.left_hand) == (thread_class, left_hand)


@given(
    diameter=st.integers(10, 3000).map(lambda tenths: tenths / 10),
    pitch=st.integers(4, 160).map(lambda twentieths: twentieths / 20),
    starts=st.integers(1, 6),
    grades=st.sampled_from(["", "6g", "4g6g", "8a", "3h4h", "9e8e", "6H", "5H6H", "7G", "4H8H"]),
    engagement=st.sampled_from(["", "S", "N", "L"]),
    left_hand=st.booleans(),
)
def test_metric_reading_undoes_writing(diameter, pitch, starts, grades, engagement, left_hand) -> None:
    if pitch > diameter / 6:
        return  # twice the coarse pitch is no less than that
    size = f"x{pitch}" if starts == 1 else f"xPh{round(pitch * starts, 6)}P{pitch}"
    typed = "-".join(part for part in (f"M{diameter}{size}", grades, engagement, "LH" * left_hand) if part)
    thread = standards.read(typed)
    assert standards.read(standards.write(thread)) == thread
    assert (thread.diameter, thread.pitch, thread.starts) == (diameter, pitch, starts)
    assert (thread.thread_class, thread.engagement, thread.left_hand) == (grades, engagement, left_hand)


@given(st.text(max_size=30))
def test_any_text_is_a_thread_or_a_sentence(text: str) -> None:
    try:
        outcome: object = standards.read(text).pitch
    except CellError as error:
        outcome = str(error)
    assert isinstance(outcome, float) or len(outcome) > 20


FRAGMENTS = (
    *("3/4", "1", "#10", "2", "-16", "-5", "-0.1P-0.2L", "M20", "x2.5", "Tr", "G ", "R ", "Rc", "Rp"),
    *(" UN", "UNC", "UNF", "UNJF", "UNRF", "J", "unc", " ACME", "STUB ", "acme", "BUTT", " BSW", "B.S.F.", " WHIT"),
    *(" BA", "B.A.", "ba", " NPT", "NPSM", "BSP", "UNPT", "-2A", "-3B", "-2G", "-6g", "A", "-INT", " nut", " bolt"),
    *(" external", " LH", "-LH", " medium", " close", " ", "-", "."),
)


def made_of(text: str, keys: tuple[str, ...]) -> object:
    """What these readers make of a callout, asked in turn."""
    try:
        threads = (standards.SYSTEMS[key].read(text) for key in keys)
        return next((thread for thread in threads if thread is not None), None)
    except CellError as error:
        return str(error)


@settings(max_examples=3000, deadline=None, derandomize=True)
@given(st.lists(st.sampled_from(FRAGMENTS), min_size=1, max_size=7).map("".join))
def test_the_words_of_a_callout_leave_no_reader_out(text: str) -> None:
    """Only the readers that a callout's words leave are asked; the answer is that of all of them."""
    text = tidy(text)
    every = standards._BY_FIRST_LETTER.get(text[:1].upper(), standards._BY_SIZE)
    assert made_of(text, standards._may_be(text)) == made_of(text, every)


@pytest.mark.parametrize("thread", OF_EVERY_SYSTEM, ids=lambda thread: thread.system)
def test_a_standard_thread_asks_few_readers(thread: Thread) -> None:
    text = standards.write(thread)
    assert thread.system in standards._may_be(text)
    assert len(standards._may_be(text)) <= 2
    assert made_of(text, standards._may_be(text)) == made_of(text, standards.KEYS)


REFUSED = [
    ("3/4-16 UNC-2A", NotGiven, "3/4-16 is UNF, not UNC; UNC on 3/4 is 10"),
    ("3/4-15 UNF-2A", NotGiven, "is no UNF thread; call it UNS"),
    ("#7-32 UNF-2A", OutOfRange, "no 7, 9, 11"),
    ("3/4-16 UNF-4A", NotUnderstood, "'4A' is no class of a Unified thread; the classes are 1A, 2A, 3A outside"),
    ("3/4-16 UNRF-2B", NotUnderstood, "internal threads are UN"),
    ("1.0-0.1P-0.25L UNS-2A", NotUnderstood, "not a whole number of pitches"),
    ("1-0.000P-0.2L UNS-2A", NotUnderstood, "not a whole number of pitches"),
    (f"1-0.1P-{'9' * 400}L UNS-2A", NotUnderstood, "is 415 characters long; a callout is as short as"),
    ("1-0.1P-9999999999L UNS-2A", OutOfRange, "the lead 9999999999 is over 20 pitches 0.1, the most that is worked"),
    ("1-0.01P-0.3L UNS-2A", OutOfRange, "the lead 0.3 is over 20 pitches 0.01, the most that is worked"),
    ("1.23456789012-8 UN-2A", NotUnderstood, "has more than 10 digits; round it"),
    ("1 7/26-8 UN-2A", NotUnderstood, "7/26 is on no rule; write 64ths at the finest, or a decimal"),
    ("1-11 1/3 UNS-2A", NotUnderstood, "1/3 is on no rule"),
    ("7/26-8 ACME-2G", NotUnderstood, "7/26 is on no rule"),
    ("1/3-20 BSW", NotUnderstood, "1/3 is on no rule"),
    ("M20x2.5-6E", NotUnderstood, "external threads have a to h, internal G or H"),
    ("M20x2.5-4g6h", NotUnderstood, "mixes the positions"),
    ("M20xPh5P2-6g", NotUnderstood, "the lead Ph5 is not a whole number of pitches P2"),
    ("M20xPh60P2-6g", OutOfRange, "M20xPh60P2-6g: the lead 60 is over 20 pitches 2, the most that is worked"),
    ("MJ20xPh42P2-4h6h", OutOfRange, "the lead 42 is over 20 pitches 2, the most that is worked"),
    ("M400x6-6g", OutOfRange, "from 0.99 to 355"),
    ("M72-6g", NotUnderstood, "no coarse pitch for M72"),
    ("M20x25-6g", OutOfRange, "can't be cut"),
    ("M20x0-6g", OutOfRange, "can't be cut"),
    ("M105x40-/6", NotUnderstood, "'40/6' is no pitch; write it as in x2.5"),
    ("M20x5/2-6g", NotUnderstood, "'5/2' is no pitch"),
    ("M10x1 1/2", NotUnderstood, "'1 1/2' is no pitch"),
    ("a shaft", NotUnderstood, "write it as in"),
    ("", NotUnderstood, "write it as in"),
]


@pytest.mark.parametrize(("typed", "kind", "sentence"), REFUSED)
def test_what_cannot_be_placed_is_refused_in_words(typed: str, kind: type[CellError], sentence: str) -> None:
    with pytest.raises(kind, match=sentence.replace("(", r"\(")):
        standards.read(typed)


def test_a_thread_without_class_says_which_classes_exist() -> None:
    with pytest.raises(NotGiven, match="external: 1A, 2A, 3A; internal: 1B, 2B, 3B"):
        standards.limits(standards.read("3/4-16 UNF"))
    with pytest.raises(NotGiven, match=r"external: 6g.*internal: 6H"):
        standards.limits(standards.read("M20x2.5"))


@pytest.mark.parametrize("callout", ["M10x1.5-6", "M10x1.5 6 LH", "M10 x 1 5", "M20x2. 5", "M1 0x1"])
def test_two_numbers_are_not_drawn_together(callout: str) -> None:
    """A class without its letter is no digit of the pitch: M10x1.5-6 is not M10x1.56."""
    with pytest.raises(CellError):
        standards.read(callout)


@pytest.mark.parametrize("callout", ["M20x2.5-6gLH", "M20LHx1.5", "M20x1.5LH6g", "1/4-20LH UNC"])
def test_a_hand_is_written_apart(callout: str) -> None:
    """The end of another word is no hand, whatever sign stands before its last letter or digit."""
    with pytest.raises(CellError):
        standards.read(callout)


WITHOUT_NUMBERS = ("ACME-2G", "STUB ACME-2G", "ACME-3C", "ACME", "WHIT")
OF_NUMBERS = {"#5": "1/8", "#6": "0.138", "#8": "0.164", "#10": "0.19", "#12": "0.216"}
"""Numbered sizes of ASME B1.1, Table 1, from 1/8 in up, where Acme threads are worked from, and their inches."""


@pytest.mark.parametrize(("number", "inches"), OF_NUMBERS.items())
def test_numbers_belong_to_unified_sizes_alone(number: str, inches: str) -> None:
    for name in WITHOUT_NUMBERS:
        in_full = f"{inches}-32 {name}"
        assert standards.write(standards.read(in_full)) == in_full
        assert evaluate("THREAD_DESCRIBE", in_full).startswith(f"{in_full}: ")
    for name in ("ACME", "STUB ACME"):
        in_full = f"{inches}-0.04P-0.08L {name}"
        assert standards.write(standards.read(in_full)) == in_full
        assert standards.write(standards.read(f"{number}-32 {name}")) == f"{inches}-32 {name}"
    for name in ("UNS-2A", "UNJS-3A"):
        assert standards.write(standards.read(f"{inches}-48 {name}")) == f"{number}-48 {name}"
