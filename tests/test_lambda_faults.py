"""A small fault in a formula or a column of the file of LAMBDAs makes calls differ from what the functions give."""

from __future__ import annotations

import pytest
from lambda_engine import Call, Opened, differ, differences

from workbook_template.figures.text import text
from workbook_template.lambdas import names

THREADS = (
    "3/4-16 UNF-2A",
    "3/4-16 UNF-2B",
    "M20x2.5-6g",
    "M20x2.5-6H",
    "7/8-14 UNJF-3A",
    "3/4-14 NPT",
    "M72x6-6G",
    "M72x6-6g",
)
WITNESSES: tuple[Call, ...] = (
    *((f"THREAD_{name}", (thread, "in")) for thread in THREADS for name in ("PITCH", "TOLERANCE", "LIMITS", "BLANK")),
    *(
        (f"THREAD_{which}_DIAMETER", (thread, limit, "mm"))
        for thread in THREADS
        for which in ("MAJOR", "PITCH", "MINOR")
        for limit in ("max", "min", "mid")
    ),
    *((f"THREAD_{name}", (thread,)) for thread in THREADS for name in ("BEST_WIRE", "WIRE_RANGE", "LEAD_ANGLE")),
    *(("THREAD_PITCH", (spelled,)) for spelled in ("M20 × 2.5-6g LH", "M20X2.5-6H", "3/4-16UNF 2A", "1 1-1/4 UN")),
    *(("THREAD_OVER_WIRES", ("M20x2.5-6g", 1.45, limit, None, "exact")) for limit in ("max", "basic")),
    *(("THREAD_OVER_WIRES", (thread, wire, "min")) for thread in THREADS for wire in (0.0361, "0.04 in", "1.5 mm")),
    *(("THREAD_PD_FROM_WIRES", ("M20x2.5-6g", 1.45, reading, None, "exact")) for reading in (20.5, 24.2, 26.0)),
    *(("THREAD_FEED_LEFT", ("M20x2.5-6g", 1.45, 20.7, "mid", angle)) for angle in (None, 14)),
    *(
        ("THREAD_DEPTH", (thread, tip, "mid", blank))
        for thread, blank in (("3/4-16 UNF-2A", 0.744), ("3/4-16 UNF-2A", 0.767), ("M20x2.5-6H", None))
        for tip in ("sharp", "flat 0.2 mm", "radius 0.008 in", "R 0.0092in", "radius 0.36 mm", "flat 0.45 mm")
    ),
    *(("THREAD_DEPTH", (thread, "radius 0.0115 in", "mid")) for thread in THREADS),
    ("THREAD_DEPTH", ("1/4-16 ACME-4G", "flat 0.0209937", "max", 0.245)),
    ("THREAD_TIME", ("M20x2.5-6g", 45, 160, 16, 5, 3, 5, "yes")),
    ("THREAD_VERDICT", (0.0025, -0.003, 0.003, 0.001, "guard")),
    ("THREAD_AT_20C", (100.0, 30, "steel")),
)

PLANTED = [
    ("THREADS_SCALE", "25.4", "25.5"),
    ("THREADS_KEY", ',"X")', ',"Y")'),
    ("THREADS_KEY", '"LH"', '"RH"'),
    ("THREADS_FITS", "EXACT(", "AND("),
    ("THREADS_LINE", "_xlpm.place+1", "_xlpm.place+2"),
    ("THREADS_LIMIT", "SET(_xlpm.line,_xlpm.smallest)", "SET(_xlpm.line,_xlpm.largest)"),
    ("THREADS_LIMIT", "/2", "/3"),
    ("THREAD_MINOR_DIAMETER", "LIST_MINOR_MAX", "LIST_MINOR_MIN"),
    ("THREAD_TOLERANCE", "LIST_TOLERANCE", "LIST_ALLOWANCE"),
    ("THREAD_PITCH", "LIST_PITCH", "LIST_PITCH_BASIC"),
    ("THREADS_HALF_HEIGHT", "/2/", "/3/"),
    ("THREADS_VERTEX", "/2)^2", "/2)^3"),
    ("THREADS_WIRE", "LIST_WIRE_OVER", "LIST_WIRE_LARGEST"),
    ("THREADS_EXACT", "SEQUENCE(8)", "SEQUENCE(2)"),
    ("THREADS_BACK", ">2", ">1"),
    ("THREADS_TIP_UP", "-2", "-1"),
    ("THREADS_ROOM", "-1,1", "1,1"),
    ("THREADS_ROOT_FITS", "MAX(", "MIN("),
    ("THREADS_NOSE", "/COS(", "*COS("),
    ("THREADS_NOSE", "^2-", "^2+"),
    ("THREADS_ANGLE", "-0.5", "-0.4"),
    ("THREAD_DEPTH", ">0.25", ">0.35"),
    ("THREAD_TIME", "/60", "/50"),
    ("THREAD_VERDICT", '"guard"', '"guards"'),
    ("THREAD_AT_20C", "-20", "-21"),
]
"""A name, what is changed in its formula, and what it then is."""

COLUMNS = [
    ("THREADS_LIST_PITCH_MAX", "THREADS_LIST_PITCH_MIN"),
    ("THREADS_LIST_ROOT_NEAREST", "THREADS_LIST_MINOR_MIN"),
    ("THREADS_LIST_MATING_EDGE", "THREADS_LIST_TOLERANCE"),
    ("THREADS_LIST_WIRE_PROUD", "THREADS_LIST_WIRE_OVER"),
    ("THREADS_LIST_LEADING", "THREADS_LIST_TAPER"),
]
"""A column, and the one that is taken for it."""

MEANINGS = {one.name: text(one.tree) for one in (*names.HELPERS, *names.FUNCTIONS)}


def test_without_a_fault_nothing_differs(few: Opened) -> None:
    assert differences(few.answers, WITNESSES) == []


@pytest.mark.parametrize(("name", "right", "wrong"), PLANTED)
def test_a_fault_in_a_formula_is_found(few: Opened, name: str, right: str, wrong: str) -> None:
    assert right in MEANINGS[name]
    few.name(name, MEANINGS[name].replace(right, wrong))
    found = differ(few.answers, WITNESSES)
    few.name(name, MEANINGS[name])
    assert found


@pytest.mark.parametrize(("name", "other"), COLUMNS)
def test_a_wrong_column_is_found(few: Opened, name: str, other: str) -> None:
    right = few.meaning(name)
    few.name(name, few.meaning(other))
    found = differ(few.answers, WITNESSES)
    few.name(name, right)
    assert found
