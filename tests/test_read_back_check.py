"""`check`: a clean workbook is clean, also as LibreOffice saves it; each thing that was changed by hand is named."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest
from read_back_files import (
    CREST_RESULTS,
    PITCH_RESULTS,
    RING_RESULTS,
    SPECIAL,
    Filled,
    cell_of,
    changed_cell,
    part,
    sheet_part,
    with_parts,
)
from whole_books import FEW_ROWS

import sheetfuncs
from workbook_template import __main__ as command
from workbook_template.read_back import check, columns, compare, contents, findings, job_file, named, recompute
from workbook_template.read_back.check import Checked
from workbook_template.read_back.contents import Formula
from workbook_template.read_back.formulas import normal
from workbook_template.read_back.template import Lengths, template

pytestmark = pytest.mark.usefixtures("short_table")

ROOT = Path(__file__).parent.parent


def lines(found: Checked, kind: str = "") -> list[str]:
    return [line for line in findings.lines(found.findings, every=True) if line.startswith(kind)]


def unexpected(found: Checked) -> list[str]:
    """What differs; of the remarks those that are not about an instrument."""
    return lines(found) + [one.words for one in found.remarks if one.kind != "instrument"]


@pytest.fixture(scope="module")
def content(filled: Filled) -> bytes:
    return filled.built.read_bytes()


def test_a_clean_workbook_is_clean_as_libreoffice_saves_it(saved: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """But for what the lot is about: a micrometer that was overdue, and one that is not listed."""
    assert command.main(["check", str(saved)]) == 0
    said = capsys.readouterr()
    assert said.err == ""
    *remarks, last = said.out.splitlines()
    assert all(line.startswith(f"{saved}: remark: instrument: Log!") for line in remarks)
    assert [line.partition(": part ")[2] for line in remarks] == [
        '"6": instrument M-8 was due 2026-02-01',
        '"7": instrument M-99 is not on the sheet Instruments',
    ]
    found = re.fullmatch(
        rf"{saved}: nothing differs, 2 remarks; 15 rows of the log, (\d+) results computed again", last
    )
    assert int(found[1]) > 16_000


def test_without_stored_values_it_is_clean_and_says_so_once(tmp_path: Path, filled: Filled) -> None:
    path = tmp_path / "plain.xlsx"
    path.write_bytes(filled.sample.content)
    found = check.check(path)
    assert unexpected(found) == []
    assert found.compared == 0
    assert ["no computed values" in note for note in found.notes] == [True]


def test_the_lot_is_judged_as_by_hand(filled: Filled, saved: Path) -> None:
    for path in (filled.built, saved):
        book = contents.open_book(path)
        values = named.read_names(book, (*recompute.INPUTS, *columns.NAMES))
        again = recompute.recompute(values, columns.rows_of(values))
        assert tuple(one.pitch_diameter_result for one in again.judged) == PITCH_RESULTS
        assert tuple(one.crest_result for one in again.judged) == CREST_RESULTS
        assert tuple(one.ring_result for one in again.judged) == RING_RESULTS
        lead = 0.75 * 0.0361 * (1 / 16 / (3.14159 * 0.7054)) ** 2  # the handbook's term, MH31 p. 2130: .00002
        assert again.judged[0].pitch_diameter == pytest.approx(0.7599 - 3 * 0.0361 + 0.8660254 / 16 - lead, abs=1e-6)
        assert again.judged[0].taper == pytest.approx(0.00015, abs=1e-9)
        assert again.judged[0].out_of_round == pytest.approx(0.0001, abs=1e-9)
        assert again.judged[14].pitch_diameter == pytest.approx(0.7605 - 3 * 0.0363 + 0.8660254 / 16 - lead, abs=1e-6)


FORMULA = "IF(ISNUMBER(own_pitch_diameter_max),own_pitch_diameter_max*own_to_working+0.0005,own_pitch_diameter_max)"
TEXT = ' t="inlineStr"'
PLANTED = (
    ("wire_constant", 0, "<v>0.0525</v>", "", "typed over: the formula is gone, 0.0525 stands in its place"),
    ("log_taper", 1, "<is><t>none</t></is>", TEXT, 'typed over: the formula is gone, "none" stands in its place'),
    ("pitch_diameter_max", 0, f"<f>{FORMULA}</f><v>0.7084</v>", "",
     f'changed formula: the formula is now "={FORMULA}"'),
    ("log_serial", 3, "<f>1+3</f><v>4</v>", "", 'formula as input: a typed value belongs here, not a formula: "=1+3"'),
    ("system_list", 1, "<is><t>ISO metrics</t></is>", TEXT,
     'changed value: "ISO metrics" stands here; built was "ISO metric"'),
    ("sheetfuncs_version", 0, "<is><t>0.0.9</t></is>", TEXT,
     f'other version: built by version "0.0.9", compared with version "{sheetfuncs.__version__}"; what differs'),
)  # fmt: skip


@pytest.fixture(scope="module")
def forged(tmp_path_factory: pytest.TempPathFactory, filled: Filled, content: bytes) -> tuple[Checked, dict[str, str]]:
    """One workbook with every kind of change in it: what the check says, and the addresses used below."""
    texts: dict[str, str] = {}
    for name, at, inner, kind, _ in PLANTED:
        where = sheet_part(filled, cell_of(filled, name, at)[0])
        texts[where] = changed_cell(filled, texts.get(where) or part(content, where).decode(), name, inner, at, kind)
    job, log, threads, setup = (sheet_part(filled, title) for title in ("Job", "Log", "Threads", "Setup"))

    open_look = re.search(rf'<c r="{cell_of(filled, "customer")[1]}" s="(\d+)"', texts[job])[1]
    lead = cell_of(filled, "lead")[1]
    texts[job] = re.sub(rf'<c r="{lead}" s="\d+"', f'<c r="{lead}" s="{open_look}"', texts[job])
    texts[job] = re.sub(r"<sheetProtection[^>]*/>", "", texts[job])
    texts[setup] = re.sub(r"<dataValidations.*</dataValidations>", "", texts[setup], flags=re.DOTALL)

    high = cell_of(filled, "log_pitch_diameter_result", 2)[1]  # its stored value alone; the formula stays
    start = texts[log].index(f'<c r="{high}"')
    texts[log] = texts[log][:start] + texts[log][start:].replace("<v>high</v>", "<v>in</v>", 1)

    start = texts[threads].index('<row r="7"')  # ASME B1.1-2003, Table 2A: 3/4-16 UNF-2A at most .7079
    limit = re.search(r'<c r="(\w+)"[^>]*><v>0.7079</v>', texts[threads][start:])[1]
    texts[threads] = texts[threads][:start] + texts[threads][start:].replace("<v>0.7079</v>", "<v>0.7089</v>", 1)

    book = part(content, "xl/workbook.xml").decode()
    texts["xl/workbook.xml"] = re.sub(r'(<definedName name="crest_max">)[^<]*', r"\1Job!$B$2", book)
    path = tmp_path_factory.mktemp("forged") / "job.xlsx"
    path.write_bytes(with_parts(content, {name: text.encode() for name, text in texts.items()}))
    return check.check(path), {"lead": lead, "high": high, "limit": limit}


def test_a_part_logged_twice_and_a_gauge_of_another_thread_are_named(
    tmp_path: Path, filled: Filled, content: bytes
) -> None:
    """Part 2 becomes a second part 1; the ring of parts 1 and 11 one for class 3A."""
    texts: dict[str, str] = {}
    for name, at, typed in (("log_serial", 1, "1"), ("instrument_thread", 3, "3/4-16 UNF-3A")):
        where = sheet_part(filled, cell_of(filled, name, at)[0])
        text = texts.get(where) or part(content, where).decode()
        texts[where] = changed_cell(filled, text, name, f"<is><t>{typed}</t></is>", at, TEXT)
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, {name: text.encode() for name, text in texts.items()}))
    found = check.check(path).remarks
    again = [(one.cell, one.words) for one in found if one.kind == "part again"]
    assert again == [(cell_of(filled, "log_serial", 1)[1], 'part "1" was logged before; this row is not counted')]
    gauge = [one.words for one in found if one.kind == "instrument" and "gauge R-1" in one.words]
    assert len(gauge) == 2
    assert "gauge R-1 is for 3/4-16 UNF-3A, not for 3/4-16 UNF-2A" in gauge[0]


@pytest.mark.parametrize(("name", "at", "inner", "kind", "said"), PLANTED)
def test_a_cell_that_was_changed_by_hand_is_named(
    forged: tuple[Checked, dict[str, str]], filled: Filled, name: str, at: int, inner: str, kind: str, said: str
) -> None:
    title, address = cell_of(filled, name, at)
    mine = [one for one in forged[0].findings if (one.sheet, one.cell) == (title, address) and one.name == name]
    said = said[:70]
    assert any(f"{one.kind}: {one.words}".startswith(said) for one in mine), mine


def test_a_limit_in_the_table_that_was_changed_is_named(forged: tuple[Checked, dict[str, str]]) -> None:
    wanted = f"changed value: Threads!{forged[1]['limit']}: 0.7089 stands here; built was 0.7079"
    assert lines(forged[0], "changed value: Threads!" + forged[1]["limit"]) == [wanted]


def test_a_result_that_does_not_come_out_again_is_named_with_both_values(
    forged: tuple[Checked, dict[str, str]],
) -> None:
    place = f"stored value: Log!{forged[1]['high']} log_pitch_diameter_result: "
    assert lines(forged[0], place) == [f'{place}stored is "in"; computed again it is "high"']


def test_nothing_else_is_named(forged: tuple[Checked, dict[str, str]]) -> None:
    """What was planted, and what follows from it: stored results that were typed over do not come out again."""
    kinds: dict[str, int] = {}
    for one in forged[0].findings:
        kinds[one.kind] = kinds.get(one.kind, 0) + 1
    once = ("changed formula", "formula as input", "other version", "unlocked", "unprotected", "name")
    assert {kind: kinds.pop(kind) for kind in once} == dict.fromkeys(once, 1)
    assert (kinds.pop("typed over"), kinds.pop("changed value")) == (2, 2)
    assert kinds.pop("check of input") > 8
    assert {one.name for one in forged[0].findings if one.kind == "stored value"} == {
        *("wire_constant", "pitch_diameter_max", "log_pitch_diameter_result", "log_taper"),
        "certificate_versions",  # says the version, which was changed
    }
    assert set(kinds) == {"stored value"}


def test_a_lock_a_protection_a_check_and_a_name_that_are_gone_are_named(
    forged: tuple[Checked, dict[str, str]],
) -> None:
    found = forged[0]
    assert lines(found, "unlocked") == [
        f"unlocked: Job!{forged[1]['lead']} lead: this cell is no input, and its lock is off"
    ]
    assert [line.partition(": the")[0] for line in lines(found, "unprotected")] == ["unprotected: Job"]
    checks = "\n".join(lines(found, "check of input: Setup"))
    assert all(f" {name}:" in checks for name in ("tip_kind", "tip_size", "aim_limit", "passes", "pass_rule"))
    assert any("crest_max: the name stands for Job!B2 and no longer for this" in line for line in lines(found, "name"))


def test_exit_status_of_a_file_that_can_not_be_read(tmp_path: Path) -> None:
    bad = tmp_path / "bad.xlsx"
    bad.write_bytes(b"nothing")
    run = [sys.executable, "-m", "workbook_template", "check", str(bad)]
    done = subprocess.run(run, capture_output=True, text=True, cwd=ROOT)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr == f"{bad} is no workbook: its content is not that of an .xlsx file\n"


ALIKE = (
    (Formula("IF(A1>0.0000001,TRUE,\"a b\")", 1, 1), Formula('if( A1 > 1E-07 , TRUE() , "a b" )', 1, 1)),
    (Formula("Log!B2+'Log'!C2", 2, 1), Formula("B2+C2", 2, 1)),
    (Formula("$B$2*C7", 7, 4), Formula("B2*C7", 7, 4)),
    (Formula("SUM(B7:C7)+$B$2", 7, 4), Formula("SUM(B5:C5)+$B$2", 5, 4)),
)  # fmt: skip
UNLIKE = (
    (Formula('IF(A1>0,"a b")', 1, 1), Formula('IF(A1>0,"ab")', 1, 1)),
    (Formula('"B7"', 7, 4), Formula('"B5"', 5, 4)),
    (Formula("A1>=0", 1, 1), Formula("A1>0", 1, 1)),
    (Formula("SUM(B7:C7)", 7, 4), Formula("SUM(B5:C6)", 5, 4)),
    (Formula("Job!B2", 2, 1), Formula("B2", 2, 1)),
)


def test_formulas_alike_and_unlike() -> None:
    """The second of a pair stands in the cell of the first, as one that is shared from its own cell."""
    for one, other in ALIKE:
        assert normal(one, one.row, one.column, "Log") == normal(other, one.row, one.column, "Log")
    for one, other in UNLIKE:
        assert normal(one, one.row, one.column, "Log") != normal(other, one.row, one.column, "Log")


def test_a_formula_shared_by_a_column_is_that_of_each_cell(tmp_path: Path, filled: Filled, content: bytes) -> None:
    """Excel stores the formulas of a column once; here forty of the taper's, one of which was shared wrongly."""
    title, first = cell_of(filled, "log_taper")
    where = sheet_part(filled, title)
    text = part(content, where).decode()
    letters, row = re.match(r"([A-Z]+)(\d+)", first).groups()
    for number in range(int(row), int(row) + 40):
        ref = f' ref="{letters}{row}:{letters}{int(row) + 39}"'
        new = rf'\1<f t="shared" si="0"{ref}>\2</f>' if number == int(row) else r'\1<f t="shared" si="0"/>'
        text, count = re.subn(rf'(<c r="{letters}{number}"[^>]*>)<f>([^<]*)</f>', new, text)
        assert count == 1
    wrong = cell_of(filled, "log_out_of_round", 4)[1]
    text = re.sub(rf'(<c r="{wrong}"[^>]*>)<f>[^<]*</f>', r'\1<f t="shared" si="0"/>', text)
    path = tmp_path / "shared.xlsx"
    path.write_bytes(with_parts(content, {where: text.encode()}))
    book = contents.open_book(path)
    sheet = contents.read_sheet(book, title)
    found = list(compare.compare_sheet(template("in", (SPECIAL,), Lengths(FEW_ROWS)), title, book, sheet, None))
    assert [(one.kind, one.cell) for one in found] == [("changed formula", wrong)]


@pytest.mark.parametrize("name", job_file.NEEDED)
def test_a_name_that_tells_a_job_is_refused_where_it_is_gone_as_the_page_says(
    tmp_path: Path, content: bytes, capsys: pytest.CaptureFixture[str], name: str
) -> None:
    book = part(content, "xl/workbook.xml").decode()
    without, count = re.subn(rf'<definedName name="{name}"[^>]*>[^<]*</definedName>', "", book)
    assert count == 1
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, {"xl/workbook.xml": without.encode()}))
    assert command.main(["check", str(path)]) == 2
    said = capsys.readouterr()
    assert (said.out, said.err) == ("", f"{path} is no workbook of a threading job: it has no cells named {name}\n")
    page = (ROOT / "docs" / "check-and-collect.md").read_text(encoding="utf-8")
    (told,) = re.findall(r"as a threading job by the names ([^.]*)\.", page)
    assert re.findall(r"`(\w+)`", told) == list(job_file.NEEDED)
