"""What a refusal offers is taken as it is shown, and a last place past it is not: tips, wires, places on a taper."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from whole_books import with_few_threads
from workbook_cases import Case

from sheetfuncs import CellError, evaluate, standards
from sheetfuncs.designations import Thread
from workbook_template.file import store
from workbook_template.office import Document, Office
from workbook_template.sheets.thread_listing import listing

LAST = 0.0001
MORE = ("M20xPh5P2.5-6g", "1-0.1P-0.2L UNS-2A", "M1.0x0.17-6g", "16 BA normal bolt", "3/4-16 UNJF-3A", "Tr40x7-7e")


@pytest.fixture(scope="module")
def spread() -> list[Thread]:
    """Every eleventh thread of the list, and some at the ends of what is read."""
    return [standards.read(text) for text in (*(row.callout for row in listing([]).rows[::11]), *MORE)]


def refusal(*call: object) -> str:
    """The sentence of a call that is refused; nothing where it is taken."""
    try:
        evaluate(*call)
    except CellError as error:
        return str(error)
    return ""


def ends(sentence: str, *patterns: str) -> list[str]:
    """The numbers that one of the patterns finds, as they are shown."""
    found = (re.search(pattern.replace("N", r"(\d+\.\d+)"), sentence) for pattern in patterns)
    return next((list(match.groups()) for match in found if match), [])


def test_a_tip_that_is_offered_is_taken(spread: list[Thread]) -> None:
    most_of_one = ranges = least = noses = no_nose = 0
    for thread in spread:
        callout = standards.write(thread)
        for kind in ("flat", "radius"):
            for limit in ("max", "mid", "min"):
                sentence = refusal("THREAD_DEPTH", callout, f"{kind} {thread.pitch * 0.45:.6f}", limit)
                offered = ends(sentence, "this size N (?:in|mm) is the most", "radius of N to N ")
                for size in offered:
                    taken = "radius" if len(offered) > 1 else kind
                    assert refusal("THREAD_DEPTH", callout, f"{taken} {size}", limit) == "", (callout, size)
                if len(offered) == 1:
                    more = f"{kind} {float(offered[0]) + LAST:.4f}"
                    assert "is the most" in refusal("THREAD_DEPTH", callout, more, limit), (callout, more)
                most_of_one, ranges = most_of_one + (len(offered) == 1), ranges + (len(offered) == 2)
        sentence = refusal("THREAD_DEPTH", callout, "sharp", "mid")
        alone = "at this size a flat of N (?:in|mm) is the least"
        found = ends(sentence, "a flat of N (?:in|mm) or a nose radius of N (?:in|mm) is the least", alone)
        for kind, size in zip(("flat", "radius"), found):
            assert refusal("THREAD_DEPTH", callout, f"{kind} {size}", "mid") == "", (callout, kind, size)
            less = f"{kind} {float(size) - 2 * LAST:.4f}"
            assert "is the least" in refusal("THREAD_DEPTH", callout, less, "mid"), (callout, less)
        least += bool(found)
        noses += len(found) == 2
        blunt = ends(
            refusal("THREAD_DEPTH", callout, f"radius {thread.pitch * 0.45}", "mid"), f"no nose radius serves, {alone}"
        )
        for size in blunt:
            assert refusal("THREAD_DEPTH", callout, f"flat {size}", "mid") == "", (callout, size)
            no_nose += 1
    assert least > 200
    assert noses > 100
    assert no_nose > 50
    assert most_of_one > 2000
    assert ranges > 100


def test_a_wire_that_is_offered_is_taken(spread: list[Thread]) -> None:
    offers = below = 0
    for thread in spread:
        if thread.side == "internal":
            continue
        callout, limit = standards.write(thread), "max" if thread.side else "basic"
        for share in (0.1, 2.0):
            sentence = refusal("THREAD_OVER_WIRES", callout, thread.pitch * share, limit)
            least, most, best = ends(sentence, "usable are N to N (?:in|mm), best N")
            for wire in (least, most, best):
                assert refusal("THREAD_OVER_WIRES", callout, wire, limit) == "", (callout, wire)
            assert float(least) <= float(most)
            assert "too large" in refusal("THREAD_OVER_WIRES", callout, float(most) + LAST, limit), callout
            offers += 1
        remark = evaluate("THREAD_WIRE_REMARK", callout, best)
        for wire in ends(remark, "take a wire over N"):
            assert evaluate("THREAD_WIRE_REMARK", callout, wire).startswith("serves"), (callout, wire)
            below += 1
    assert offers > 500
    assert below > 5


@pytest.mark.parametrize("callout", ["1/8-27 NPT external", "3/4-14 NPT", "1-11.5 NPT external", "R 3/8", "R 2"])
def test_a_place_that_is_offered_is_taken(callout: str) -> None:
    wire = evaluate("THREAD_BEST_WIRE", callout)
    call: Callable[[object], str] = lambda place: refusal(  # noqa: E731
        "THREAD_OVER_WIRES", callout, wire, "basic", None, "handbook", place
    )
    first, last = ends(call(1000), "from N to N ")
    assert call(first) == call(last) == ""


@pytest.fixture(scope="module")
def sheet(empty_workbook: Document) -> Document:
    """The empty workbook, open."""
    return empty_workbook


OFFERED = ("this size N (?:in|mm) is the most", "radius of N to N ", "a flat of N (?:in|mm) or a nose radius of N",
           "at this size a (?:flat|nose radius) of N (?:in|mm) is the least")  # fmt: skip
REFUSED = (
    # callout, kind, size, aim: ends that a rounding to nearest would put past what is taken
    ("3/4-16 UNF-2A", "flat", 0.0170, "max"),
    ("3/4-16 UNJF-3A", "nose radius", 0.0120, "mid"),
    ("M20x2.5-6g", "nose radius", 0.6, "max"),
    ("M10x1.5-6H", "flat", 0.9, "min"),
    ("1-5 ACME-2G", "sharp", None, "mid"),
    ("1-5 ACME-2G", "flat", 0.05, "max"),
    ("1-5 ACME-2G internal", "flat", 0.06, "mid"),
    ("Tr40x7-7e", "flat", 2.6, "mid"),
    ("Tr40x7-7e", "flat", 1.5, "min"),
    ("2.5-8 BUTT-2A", "flat", 0.02, "mid"),
    ("1/2-12 BSW medium bolt", "nose radius", 0.003, "mid"),
)


@pytest.mark.parametrize(("callout", "kind", "size", "aim"), REFUSED)
def test_the_sheet_takes_the_tip_that_it_offers(
    sheet: Document, callout: str, kind: str, size: float | None, aim: str
) -> None:
    thread = standards.read(callout)
    inputs = {"tip_kind": kind, "tip_size": size, "aim_limit": aim}
    sheet.set(Case(thread, thread.unit, inputs).sheet())
    offered = ends(sheet["setup_fault"], *OFFERED)
    tip = "sharp" if size is None else f"{kind.removeprefix('nose ')} {size}"
    by_function = ends(refusal("THREAD_DEPTH", callout, tip, aim), *OFFERED)  # with a digit more of a millimetre
    assert [float(one) for one in offered] == pytest.approx(
        [float(one) for one in by_function], abs=0.001 if thread.unit == "mm" else 1e-9
    )
    assert offered
    kinds = ("flat", "nose radius")[: len(offered)] if kind == "sharp" else (kind,) * len(offered)
    for one, of_kind in zip(offered, kinds, strict=True):
        sheet.set({"tip_kind": of_kind, "tip_size": float(one)})
        assert sheet["setup_fault"] == "", one


def test_the_sheet_takes_the_wire_that_it_offers(sheet: Document) -> None:
    sheet.set(Case(standards.read("3/4-16 UNF-2A"), "in", {"wire_in_use": 0.0331}).sheet())
    (wire,) = ends(sheet["wire_words"], "take a wire over N")
    sheet.set({"wire_in_use": float(wire)})
    assert sheet["wire_words"].startswith("This wire serves")


def test_the_sheet_asks_for_the_nose_of_a_rounded_root(
    office: Office, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """.108/16 is .00675, .144/16 is .0090 (ANSI/ASME B1.1-1989, quoted)."""
    path = tmp_path_factory.mktemp("rounded") / "new.xlsx"
    thread = standards.read("3/4-16 UNRF-2A")
    path.write_bytes(store.package(with_few_threads([thread])))
    with office.open(path) as document:
        for kind in ("sharp", "flat"):
            inputs = {"tip_kind": kind, "tip_size": 0.005, "aim_limit": "mid"}
            document.set(Case(thread, "in", inputs).sheet())
            offered = ends(document["setup_fault"], "use a nose radius of N in or more; a full radius is at most N.")
            assert offered == ["0.0068", "0.0090"]
            assert document.get(["depth", "depth_sharp"]) == ["–", "radius only"]
        document.set({"tip_kind": "nose radius", "tip_size": 0.006})
        assert "use a nose radius of 0.0068 in or more" in document["setup_fault"]
        assert document["depth"] == "–"
        for size in (0.00675, 0.0068, 0.0090, 0.0100):
            document.set({"tip_kind": "nose radius", "tip_size": size})
            assert document["depth"] == pytest.approx(
                evaluate("THREAD_DEPTH", "3/4-16 UNF-2A", f"radius {size}", "mid"), abs=1e-9
            )
