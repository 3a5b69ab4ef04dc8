"""Callouts as people type them: read as the thread that the standard form means, and noted."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sheetfuncs import evaluate, standards, tables
from sheetfuncs.designations import plain
from sheetfuncs.errors import CellError
from sheetfuncs.standards import respelled, unknown

MEANS = {
    "1-1/4-7 UNC-2A": "1 1/4-7 UNC-2A",
    "1¼–7 UNC–2A": "1 1/4-7 UNC-2A",
    "1-¼-7unc-2a": "1 1/4-7 UNC-2A",
    "1½-11½ NPT": "1 1/2-11.5 NPT",
    "1½-11½ UNS-2A": "1 1/2-11.5 UNS-2A",
    "2½-4½ UNS": "2 1/2-4.5 UNS",
    "1 1/4 7 UNC 2A": "1 1/4-7 UNC-2A",
    "1 11 1/2 UNS-2A": "1-11.5 UNS-2A",
    '3/4" - 16 UNF': "3/4-16 UNF",
    "3/4\N{NON-BREAKING HYPHEN}16\N{NO-BREAK SPACE}UNF\N{NO-BREAK SPACE}": "3/4-16 UNF",
    "\N{ZERO WIDTH NO-BREAK SPACE}3\N{FRACTION SLASH}4-16 UNF": "3/4-16 UNF",
    "3/4 UNF-2A": "3/4-16 UNF-2A",
    "3/4-16 UNF-2A left hand": "3/4-16 UNF-2A-LH",
    "3/4-16 UNF-2A (LH)": "3/4-16 UNF-2A-LH",
    "LH 3/4-16 UNF-2A": "3/4-16 UNF-2A-LH",
    "3/4-16 UNF-2A R.H.": "3/4-16 UNF-2A",
    "UNC 1/4-20": "1/4-20 UNC",
    "NPT 3/8": "3/8-18 NPT",
    "1/2 in NPT": "1/2-14 NPT",
    "1/2 12 BSW": "1/2-12 BSW",
    "1 5 ACME 2G": "1-5 ACME-2G",
    "2.5 8 BUTT-2A": "2.5-8 BUTT-2A",
    "BA 2": "2 BA",
    "G 3/4 in A": "G 3/4 A",
    'R3/4" LH': "R 3/4 LH",
    "G 1/2 A external": "G 1/2 A",
    "G 1/2 class B bolt LH": "G 1/2 B LH",
    "G 1/2 internal": "G 1/2",
    "G 3/4 LH A": "G 3/4 A LH",
    "R 1/2 external": "R 1/2",
    "Rc 1/2 (internal)": "Rc 1/2",
    "Rp 1/2 internal LH": "Rp 1/2 LH",
    "7/8-9 UNC CLASS 2A": "7/8-9 UNC-2A",
    "7/8-9 UNC-CLASS 2A LH": "7/8-9 UNC-2A-LH",
    "3/4-16 UNJF class 3A": "3/4-16 UNJF-3A",
    "M6x1.0": "M6x1",
    "m 20 × 2.5 – 6g ": "M20x2.5-6g",
    "M20✕2.5": "M20x2.5",
    "M12 coarse": "M12x1.75",
    "M6 fine": "M6x0.75",
    "M10x1.25mm": "M10x1.25",
    "M10 x 1.25 mm-6g": "M10x1.25-6g",
    "M10 x 1.25mm": "M10x1.25",
    "M20x1.5LH": "M20x1.5-LH",
    "M20x1.5LH-6g": "M20x1.5-6g-LH",
    "M20x1.5-LH-6g": "M20x1.5-6g-LH",
    "m20 x 1.5 lh 6g": "M20x1.5-6g-LH",
    "M20x1.5-LH-6H-L": "M20x1.5-6H-L-LH",
    "M20x1.5RH-6g": "M20x1.5-6g",
    "M20xPh5P2.5LH-6g": "M20xPh5P2.5-6g-LH",
    "MJ10x1.5LH-4h6h": "MJ10x1.5-4h6h-LH",
    "M20x2.5-6g-LH-L": "M20x2.5-6g-L-LH",
    "#10 (.190)-32 UNF-2A": "#10-32 UNF-2A",
    "No. 10 (.190)-32 UNF-3A": "#10-32 UNF-3A",
    "10 (.190)-32 UNF-2A": "#10-32 UNF-2A",
    "5/16 (.312)-18 UNC-2A": "5/16-18 UNC-2A",
    "1 (1.000)-8 UNC-2A": "1-8 UNC-2A",
    "10-0.25P-0.5L-BUTT-3B (2 starts)": "10-0.25P-0.5L-BUTT-3B",
    ".750-.0625P-.1875L (3 STARTS) UNF-2A": "3/4-0.0625P-0.1875L UNF-2A",
    ".750-.0625P-.1875L (THREE STARTS) UNF-2A": "3/4-0.0625P-0.1875L UNF-2A",
    "2.875-0.4P-0.8L ACME-2G 2 START": "2 7/8-0.4P-0.8L ACME-2G",
    "M16xPh3P1.5(2 starts)-6g": "M16xPh3P1.5-6g",
    "M16 x Ph3P1.5 (two starts) - 6H": "M16xPh3P1.5-6H",
    "Tr40x14(P7) double start - 7e": "Tr40x14(P7)-7e",
    "1/4-20 UNC-2A (single start)": "1/4-20 UNC-2A",
    "1/4-20 UNC-LH-2A": "1/4-20 UNC-2A-LH",
    "5/8-11 UNC LH 2A": "5/8-11 UNC-2A-LH",
    "5/8-11 UNC left hand 2A": "5/8-11 UNC-2A-LH",
    "LH M8x1.25-6g": "M8x1.25-6g-LH",
    "RH M8x1.25-6g": "M8x1.25-6g",
    "1/2-12 BSW LH medium nut": "1/2-12 BSW medium nut LH",
    "1/2''-13 UNC-2A": "1/2-13 UNC-2A",
    "5/16’’-18 UNC": "5/16-18 UNC",
    "3/4x16 UNF-2A": "3/4-16 UNF-2A",
    '1/2" x 12 BSW': "1/2-12 BSW",
    "1 1/2x4 ACME-2G": "1 1/2-4 ACME-2G",
    "1-8 8UN-2A": "1-8 UNC-2A",
    "1 1/8-8-8UN-2A": "1 1/8-8 UN-2A",
    "1/4-20 UNC CL 2A": "1/4-20 UNC-2A",
    "1/4-20 UNC-CL.2A": "1/4-20 UNC-2A",
    "M10x1.5-6 g": "M10x1.5-6g",
    "M10x1.5 - 6 H LH": "M10x1.5-6H-LH",
    "Tr40x7 - 7 e": "Tr40x7-7e",
    "3/4-16 UNF-2 A": "3/4-16 UNF-2A",
    "3/4-16 UNF - 2 A LH": "3/4-16 UNF-2A-LH",
    "3/4-16 UNF 3 b": "3/4-16 UNF-3B",
    "3/4-16unf2 a-LH": "3/4-16 UNF-2A-LH",
    "LH 3/4-16 UNF-2 A": "3/4-16 UNF-2A-LH",
    "7/8-9 UNC class 2 A": "7/8-9 UNC-2A",
    "7/8-9 UNC CL. 2 B": "7/8-9 UNC-2B",
    "1-8 8UN-2 A": "1-8 UNC-2A",
    "#10-32 UNF - 3 A": "#10-32 UNF-3A",
    "No. 10 - 32 UNRF - 3 A": "#10-32 UNRF-3A",
    "3/8-24 UNJF - 3 A": "3/8-24 UNJF-3A",
    "1-5 ACME - 2 G": "1-5 ACME-2G",
    "1-5 ACME-2 G-INT": "1-5 ACME-2G-INT",
    "1-5 Stub Acme 2 G": "1-5 STUB ACME-2G",
    "2.5-8 BUTT - 2 A": "2.5-8 BUTT-2A",
    "2.5-8 Push Buttress 2 A LH": "2.5-8 PUSH-BUTT-2A-LH",
    "M20x1.5-4g 6g": "M20x1.5-4g6g",
    "M20 x 1.5 - 4 g 6 g LH": "M20x1.5-4g6g-LH",
    "MJ10x1.5 - 4 H 5 H": "MJ10x1.5-4H5H",
    "2-4 ACME-3G-İNT": "2-4 ACME-3G-INT",  # the i of a Turkish keyboard, great and small
    "2-4 acme-3g-ınt": "2-4 ACME-3G-INT",
}


@pytest.mark.parametrize(("typed", "written"), MEANS.items())
def test_as_typed_and_as_written(typed: str, written: str) -> None:
    found = standards.read(typed)
    assert standards.write(found) == written
    assert found.note == ""


def test_the_longest_callout_that_is_read() -> None:
    """Zeros before a number say nothing; one character more is refused."""
    assert standards.write(standards.read("M" + "20x2.5-6g".zfill(79))) == "M20x2.5-6g"
    with pytest.raises(CellError, match="is 81 characters long"):
        standards.read("M" + "20x2.5-6g".zfill(80))


def test_a_page_of_signs_is_not_looked_through(monkeypatch: pytest.MonkeyPatch) -> None:
    """The patterns for what is no callout would take a minute for it."""
    monkeypatch.setattr(respelled, "read", lambda *given: pytest.fail("it was respelled"))
    monkeypatch.setattr(unknown, "fault", lambda text: pytest.fail("it was looked through"))
    with pytest.raises(CellError, match="is 20000 characters long; a callout is as short as"):
        standards.read("-" * 20_000)


LEFT_OUT = "of ASME B1.3 left out, the limits are the same"
NOTED = {
    "M20": ("M20x2.5", "pitch not written: coarse taken"),
    "M20-6g": ("M20x2.5-6g", "pitch not written: coarse taken"),
    "M6-1.0": ("M6x1", "1.0 taken as the pitch"),
    "M12-1.75-6H LH": ("M12x1.75-6H-LH", "1.75 taken as the pitch"),
    "1/4-20": ("1/4-20 UNC", "series not written: UNC taken, not 1/4-20 BSW"),
    " ¼ – 20 ": ("1/4-20 UNC", "series not written: UNC taken, not 1/4-20 BSW"),
    "1/4-20-2A": ("1/4-20 UNC-2A", "series not written: UNC taken"),
    "1/4-20 - 2 A": ("1/4-20 UNC-2A", "series not written: UNC taken"),
    "1/4-20 UNC-2 A (21)": ("1/4-20 UNC-2A", f"gauging system 21 {LEFT_OUT}"),
    "3/4-16": ("3/4-16 UNF", "series not written: UNF taken"),
    "10-32": ("#10-32 UNF", "series not written: UNF taken"),
    "10-32-2A LH": ("#10-32 UNF-2A-LH", "series not written: UNF taken"),
    "1 1/8-8": ("1 1/8-8 UN", "series not written: UN taken"),
    "1/4-36": ("1/4-36 UNS", "series not written: UNS taken"),
    "10-32 UNF-2A": ("#10-32 UNF-2A", "10 taken as #10"),
    "10-32 UNJF-3A": ("#10-32 UNJF-3A", "10 taken as #10"),
    "10-28 UN-2A": ("#10-28 UNS-2A", "10 taken as #10"),
    "10-28 UNJ-3A": ("#10-28 UNJS-3A", "10 taken as #10"),
    "1/4-20 UNC-2A (21)": ("1/4-20 UNC-2A", f"gauging system 21 {LEFT_OUT}"),
    "1/4-20 UNC-2A(22) LH": ("1/4-20 UNC-2A-LH", f"gauging system 22 {LEFT_OUT}"),
    "3/4-16 UNRF-2A-LH (23)": ("3/4-16 UNRF-2A-LH", f"gauging system 23 {LEFT_OUT}"),
    "3/4-16 UNJF-3A (22)": ("3/4-16 UNJF-3A", f"gauging system 22 {LEFT_OUT}"),
    "M10x1.5-6g (22)": ("M10x1.5-6g", f"gauging system 22 {LEFT_OUT}"),
    "M10LH": ("M10x1.5-LH", "pitch not written: coarse taken"),
    "M20-6g (21)": ("M20x2.5-6g", f"pitch not written: coarse taken; gauging system 21 {LEFT_OUT}"),
    "MJ10x1.5-4h6h (22)": ("MJ10x1.5-4h6h", f"gauging system 22 {LEFT_OUT}"),
    "10-32 UNS": ("10-32 UNS", "10 taken as inches; #10-32 UNF is written with its #"),
    "10 (.190)-32 UNF-2A (21)": ("#10-32 UNF-2A", f"gauging system 21 {LEFT_OUT}"),
    "1/4-20UNC-2B(21)LH": ("1/4-20 UNC-2B-LH", f"gauging system 21 {LEFT_OUT}"),
    "M20-6g (21) (1 start)": ("M20x2.5-6g", f"pitch not written: coarse taken; gauging system 21 {LEFT_OUT}"),
    "M20X2.5-6G": ("M20x2.5-6G", "capital G: internal"),
    "M20X2.5-6H LH": ("M20x2.5-6H-LH", "capital H: internal"),
    "M20-6G": ("M20x2.5-6G", "pitch not written: coarse taken; capital G: internal"),
    "M20-6H": ("M20x2.5-6H", "pitch not written: coarse taken"),
    "MJ10X1.5-4H5H": ("MJ10x1.5-4H5H", "capital H: internal"),
}


@pytest.mark.parametrize(("typed", "written", "note"), [(typed, *means) for typed, means in NOTED.items()])
def test_what_was_taken_is_said(typed: str, written: str, note: str) -> None:
    found = standards.read(typed)
    assert (standards.write(found), found.note) == (written, note)
    assert evaluate("THREAD_DESCRIBE", typed).endswith(f"; {note}")
    *rows, last = evaluate("THREAD_SOURCE", typed)
    assert last == ["taken from the callout", "", "", note]
    assert typed == written or rows == evaluate("THREAD_SOURCE", written)
    assert standards.read(written) == found
    assert hash(standards.read(written)) == hash(found)


def listed(name: str, *columns: str) -> set[tuple[str, float]]:
    """Sizes, as they are typed, and threads per inch of a table, under the names of its columns for them."""
    size, tpi = columns
    return {(row[size].replace("No.", ""), float(row[tpi])) for row in tables.rows(name)}


def test_each_pair_alone_is_what_the_tables_leave_no_doubt_of() -> None:
    """By the printed tables alone: UNC, UNF and UNEF first, else a pair that stands in no other table."""
    rows = tables.rows("unified_series")
    shared = listed("whitworth_sizes", "size", "tpi") | listed("npt_sizes", "size", "tpi")
    shared |= listed("acme_sizes", "size", "tpi")
    unsettled = 0
    for row in rows:
        size, tpi = row["size"].replace("No.", ""), float(row["tpi"])
        typed = f"{size}-{plain(tpi)}"
        in_full = f"{row['size']}-{plain(tpi)} {row['series']}"
        if row["series"] in ("UNC", "UNF", "UNEF") or (size, tpi) not in shared:
            assert standards.read(typed) == standards.read(in_full), typed
        else:
            unsettled += 1
            with pytest.raises(CellError, match=f"may be the thread {in_full}"):
                standards.read(typed)
    assert unsettled > 10
    for size, tpi in shared - {(row["size"].replace("No.", ""), float(row["tpi"])) for row in rows}:
        with pytest.raises(CellError, match=r"may be|names no thread"):
            standards.read(f"{size}-{plain(tpi)}")


DASHES = ("-", "\N{EN DASH}", "\N{EM DASH}", "\N{MINUS SIGN}", "\N{NON-BREAKING HYPHEN}", " - ", "\N{THIN SPACE}- ")
BLANKS = (" ", "  ", "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}", "\t")
TIMES = ("x", "X", "\N{MULTIPLICATION SIGN}", " x ", " \N{MULTIPLICATION SIGN} ", "*")
ONE_SIGN = {"1/2": "½", "1/4": "¼", "3/4": "¾", "1/8": "⅛", "3/8": "⅜", "5/8": "⅝", "7/8": "⅞"}


@given(data=st.data())
def test_another_spelling_is_the_same_thread(data: st.DataObject) -> None:
    """The standard form with other dashes, blanks, signs and, but for metric classes, another case."""
    system = standards.SYSTEMS[data.draw(st.sampled_from(standards.KEYS))]
    size = system.write(data.draw(st.sampled_from(system.standard_threads())))
    form = system.with_class(size, data.draw(st.sampled_from(system.offered)))
    form += data.draw(st.sampled_from(["", " LH", "-LH"]))
    try:
        thread = standards.read(form)
    except CellError:
        return  # a class that this size has not
    swaps = {"-": DASHES, " ": BLANKS} | ({"x": TIMES} if system.unit == "mm" else {})
    typed = "".join(data.draw(st.sampled_from(swaps[sign])) if sign in swaps else sign for sign in form)
    if data.draw(st.booleans()):
        for fraction, sign in ONE_SIGN.items():
            typed = typed.replace(f" {fraction}", sign) if typed[:1].isdigit() else typed
    if system.key not in ("iso_metric", "mj"):
        typed = data.draw(st.sampled_from([str.upper, str.lower, str.title]))(typed)
    typed = data.draw(st.sampled_from(["", *BLANKS])) + typed + data.draw(st.sampled_from(["", *BLANKS]))
    assert standards.read(typed) == thread
    assert standards.read(standards.write(thread)) == thread


PIECES = (
    *("1/4", "3/4", "1", "10", "#10", "No. 8", "1 1/4", "1¼", "0.9", "M20", "M6", "m", "Tr40", "G", "R ", "MJ6"),
    *("-20", "-16", " 7", "-1.0", "x1", "×2.5", " x ", "–", "-", " ", '"', " in ", "mm", " coarse", " fine", "(LH)"),
    *("UN", "UNC", " unf", "UNS", "UNJF", "ACME", " STUB ", "BSW", "WHIT", "NPT ", "BA", "BUTT", "-2A", "-6g", " LH"),
    *("(2 starts)", " one start", "(.190)", "(21)", "(20)", " CL ", "''", "xPh3P1.5", "-.1P-.2L", "-6 g", "RH-"),
    *("6G/6g", "8UN", "NC", "NPS", "S", "Rd", "az", " MOD", "X2.5-6G"),
)


@given(st.lists(st.sampled_from(PIECES), min_size=1, max_size=6).map("".join))
def test_what_is_written_back_is_read_as_the_same_thread(typed: str) -> None:
    try:
        thread = standards.read(typed)
    except CellError as error:
        sentence = str(error)
    else:
        sentence = evaluate("THREAD_DESCRIBE", typed)
        assert standards.read(standards.write(thread)) == thread
    assert 20 < len(sentence) <= 255
    assert "\n" not in sentence
