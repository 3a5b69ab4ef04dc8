"""The harness itself: the office computes what mental arithmetic says, and comes and goes as promised."""

from __future__ import annotations

import contextlib
import os
import signal
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.styles import Protection
from openpyxl.workbook.defined_name import DefinedName

from workbook_template.office import Document, Error, Office, OfficeError, OfficeStoppedError, pdf_pages

SHEET = "Job 1"
CELLS = {
    "A1": 2,
    "A2": "=A1*3",
    "A3": "=1/0",
    "A4": "=NA()",
    "A5": '=""',
    "A6": "text",
    "A8": "=A1>1",
    "A9": "=NOSUCH(A1)",
    "A10": "=A3+1",
    "B1": 0.25,
    "B2": "=B1",
}


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    book = Workbook()
    sheet = book.active
    sheet.title = SHEET
    for address, value in CELLS.items():
        sheet[address] = value
    sheet["B1"].number_format = "0.000"
    sheet["C1"].number_format = "@"
    book.create_sheet("Big")
    locked = book.create_sheet("Locked")
    locked["A1"] = 5
    locked["B1"].protection = Protection(locked=False)
    locked.protection.sheet = True
    book.defined_names["size"] = DefinedName("size", attr_text="'Job 1'!$A$1")
    book.defined_names["column"] = DefinedName("column", attr_text="'Job 1'!$A$1:$A$2")
    book.defined_names["constant"] = DefinedName("constant", attr_text="42")
    sheet.defined_names["own"] = DefinedName("own", attr_text="'Job 1'!$B$1")
    path = tmp_path_factory.mktemp("harness") / "small book.xlsx"
    book.save(path)
    return path


@pytest.fixture
def document(office: Office, path: Path) -> Iterator[Document]:
    with office.open(path) as opened:
        yield opened


def processes(group: int) -> list[int]:
    """The members of a process group, as the kernel lists them; those that have ended do not count."""
    found = []
    for entry in Path("/proc").glob("[0-9]*"):
        with contextlib.suppress(OSError):
            ended = (entry / "stat").read_text().rpartition(")")[2].split()[0] == "Z"
            if os.getpgid(int(entry.name)) == group and not ended:
                found.append(int(entry.name))
    return found


def vanishes(group: int) -> bool:
    """Whether all of the group is gone soon: a killed process needs a moment."""
    deadline = time.monotonic() + 10
    while processes(group) and time.monotonic() < deadline:
        time.sleep(0.02)
    return not processes(group)


def test_values_of_every_kind(document: Document) -> None:
    kinds = [row[0] for row in document["Job 1!A1:A10"]]
    assert kinds == [
        2.0,
        6.0,
        Error(532, "#DIV/0!"),
        Error(32767, "#N/A"),
        "",
        "text",
        None,
        True,
        Error(525, "#NAME?"),
        Error(532, "#DIV/0!"),
    ]
    assert kinds[7] is True
    assert isinstance(kinds[0], float)


def test_places_in_one_call(document: Document) -> None:
    answer = document.get(["size", "column", "'Job 1'!A2", ("Job 1", "own"), ("Job 1", "A1:B2"), "Big!Z9"])
    assert answer == [2.0, [[2.0], [6.0]], 6.0, 0.25, [[2.0, 0.25], [6.0, 0.25]], None]


def test_change_recalculates(document: Document) -> None:
    document.set({"size": 7, (SHEET, "B1"): None})
    assert document.get(["Job 1!A2", "Job 1!B1"]) == [21.0, None]
    document.set({"Big!A1:B2": [[1, "x"], [None, 4.5]]})
    assert document["Big!A1:B2"] == [[1.0, "x"], [None, 4.5]]
    document.set({"Big!A1:B2": [[None, "=2"], ["3/8", True]]})
    assert document["Big!A1:B2"] == [[None, "=2"], ["3/8", 1.0]]


def test_what_is_set_is_there_whatever_was(document: Document) -> None:
    """Rows that hold the values already are not written, but a formula that gives the same is none of them."""
    document.type({"Big!A1": "=1+1", "Big!A2": "5", "Big!B3": "text"})
    assert document["Big!A1:A2"] == [[2.0], [5.0]]  # and so it is computed
    document.set({"Big!A1:B4": [[2, None], [5, None], [None, "text"], [None, None]]})
    assert document.formulas("Big!A1:B4") == [["2", ""], ["5", ""], ["", "text"], ["", ""]]
    document.set({"Big!A1:B4": [[2, None], [5, 6], [None, "text"], [7, None]]})
    assert document["Big!A1:B4"] == [[2.0, None], [5.0, 6.0], [None, "text"], [7.0, None]]


def test_set_text_stays_text(document: Document) -> None:
    document.set({"Big!A1": "=1+1", "Big!A2": "3/8", "Big!A3": "007"})
    assert document["Big!A1:A3"] == [["=1+1"], ["3/8"], ["007"]]


def test_typed_text_is_read_as_the_program_reads_it(document: Document) -> None:
    document.type({"Big!A1": "3/8", "Big!A2": "1 1/2", "Big!A3": "=1.5*A2", "Job 1!C1": "3/8", "Big!A4": "=SUM(A2,A3)"})
    day, mixed, product, text, total = document.get(["Big!A1", "Big!A2", "Big!A3", "Job 1!C1", "Big!A4"])
    assert (mixed, product, text, total) == (1.5, 2.25, "3/8", 3.75)
    assert day > 40000  # the trap: 8 March of this year
    assert document.shown(["Big!A1"])[0].startswith("03/08/")
    assert document.formulas("Big!A3:A4") == [["=1.5*A2"], ["=SUM(A2;A3)"]]


def test_typed_text_follows_the_locale(new_office: Callable[..., Office], path: Path) -> None:
    with new_office(locale="de-DE") as german, german.open(path) as document:
        document.type({"Big!A1": "1,5", "Big!A2": "=A1*2"})
        assert document["Big!A1:A2"] == [[1.5], [3.0]]


def test_shown_text_has_the_number_format(document: Document) -> None:
    assert document.shown(["Job 1!B1", "Job 1!A3:A4"]) == ["0.250", [["#DIV/0!"], ["#N/A"]]]


def test_locked_cells_are_refused(document: Document) -> None:
    document.set({"Locked!B1": 1})
    for write in (document.set, document.type):
        with pytest.raises(OfficeError, match=r"Locked!A1 is locked on a protected sheet"):
            write({"Locked!B1": "2", "Locked!A1": "9"})
        for partly in ("A1:B1", "B1:C1", "B1:B2"):
            with pytest.raises(OfficeError, match=rf"Locked!{partly} is locked"):
                write({f"Locked!{partly}": [["2"], ["3"]] if partly == "B1:B2" else [["2", "3"]]})
    assert document["Locked!A1:B1"] == [[5.0, 1.0]]
    document.set({"Locked!A1": 9}, force=True)
    assert document["Locked!A1"] == 9.0


def test_edits_are_typed_one_after_the_other(document: Document) -> None:
    document.set({"Locked!B1": 1})
    assert len(document.edits([("Locked!B1", "2"), ("Locked!B1", "3/4"), ("Locked!B1", "7")])) == 3
    assert document["Locked!B1"] == 7.0
    with pytest.raises(OfficeError, match=r"Locked!A1 is locked"):
        document.edits([("Locked!A1", "9")])


def test_stored_values_are_not_believed(office: Office, document: Document, tmp_path: Path) -> None:
    stored = document.save_as(tmp_path / "stored.xlsx")
    stale = load_workbook(stored, data_only=True)
    assert stale[SHEET]["A2"].value == 6
    raw = tmp_path / "stale.xlsx"
    _replace_stored_value(stored, raw, b"<v>6</v>", b"<v>999</v>")
    with office.open(raw, recalculate=False) as believed:
        assert believed["Job 1!A2"] == 999.0
        believed.recalculate()
        assert believed["Job 1!A2"] == 6.0
    with office.open(raw) as computed:
        assert computed["Job 1!A2"] == 6.0


def _replace_stored_value(source: Path, target: Path, old: bytes, new: bytes) -> None:
    import zipfile

    with zipfile.ZipFile(source) as packed, zipfile.ZipFile(target, "w") as out:
        for name in packed.namelist():
            data = packed.read(name)
            out.writestr(name, data.replace(old, new) if name == "xl/worksheets/sheet1.xml" else data)


def test_files_out(document: Document, tmp_path: Path) -> None:
    assert document.save_as(tmp_path / "copy.ods").stat().st_size > 1000
    assert document.save_as(tmp_path / "first.csv").read_text().splitlines()[:3] == [
        "2,0.250",
        "6,0.250",
        "#DIV/0!,",
    ]
    assert document.save_as(tmp_path / "third.csv", sheet="Locked").read_text() == "5\n"
    pages = pdf_pages(document.save_as(tmp_path / "page.pdf"), tmp_path)
    assert len(pages) == 2  # the empty sheet does not print
    assert all(page.read_bytes().startswith(b"\x89PNG") for page in pages)


@pytest.mark.parametrize(
    ("name", "arguments", "expected"),
    [
        ("SUM", [[[1, 2], [3, None]]], 6.0),
        ("CONCATENATE", ["a", 'b"'], 'ab"'),
        ("TRANSPOSE", [[[1, 2], ["x", 4]]], [[1.0, "x"], [2.0, 4.0]]),
        ("ROUND", [2.5, None], 3.0),
        ("COUNTBLANK", [[[1, None, "x"]]], 1.0),
        ("NA", [], Error(32767, "#N/A")),
        ("SQRT", ["x"], Error(519, "#VALUE!")),
        ("NOSUCH", [1], Error(525, "#NAME?")),
    ],
)
def test_call(office: Office, name: str, arguments: list, expected: object) -> None:
    assert office.call(name, arguments) == expected


def test_call_keeps_errors_inside_rows(office: Office) -> None:
    points = [[[1], [3], [5], [7.5]], [[1, 2], [2, 1], [3, 5], [4, 4]]]
    statistics = office.call("LINEST", [*points, True, True])
    corner = [row[2] for row in statistics]
    assert corner[2:] == [Error(32767, "#N/A")] * 3  # LINEST has nothing to say there, as documented


def test_refusals_name_the_trouble(office: Office, document: Document, tmp_path: Path) -> None:
    for key, words in {
        "nope": 'no cells are named "nope"',
        "constant": "does not stand for cells",
        "Joob!A1": 'there is no sheet "Joob"; sheets are: Job 1, Big, Locked',
        "Big!A1B": "neither an address",
    }.items():
        with pytest.raises(OfficeError, match=words):
            document.get([key])
    with pytest.raises(OfficeError, match="2 rows by 1 columns"):
        document.set({"column": [[1, 2]]})
    with pytest.raises(OfficeError, match="there is no file"):
        office.open(tmp_path / "missing.xlsx")
    broken = tmp_path / "broken.xlsx"
    broken.write_bytes(b"PK\x03\x04 not really")
    with pytest.raises(OfficeError, match="cannot read"):
        office.open(broken)
    with pytest.raises(OfficeError, match="no filter is known"):
        document.save_as(tmp_path / "file.docx")
    assert document["size"] == 2.0


def test_a_large_batch_arrives_whole_and_in_order(document: Document) -> None:
    keys = [("Big", f"{column}{row}") for column in "ABCDEFGHIJ" for row in range(1, 201)]
    document.set({"Big!L1": 1})
    document.set({key: float(at) for at, key in enumerate(keys)})
    assert document.get(keys) == [float(at) for at in range(2000)]


def test_office_is_not_root_and_one_group(office: Office) -> None:
    members = processes(office.pid)
    assert len(members) >= 2
    assert all(Path(f"/proc/{member}").stat().st_uid != 0 for member in members)
    names = {Path(f"/proc/{member}/comm").read_text().strip() for member in members}
    assert "soffice.bin" in names


@pytest.mark.parametrize("long_ago", [True, False], ids=["long dead", "just dead"])
def test_death_is_told_and_survived(new_office: Callable[..., Office], path: Path, long_ago: bool) -> None:
    with new_office() as office:
        document = office.open(path)
        first = office.pid
        os.killpg(first, signal.SIGKILL)
        assert not long_ago or vanishes(first)
        with pytest.raises(OfficeStoppedError, match="ended"):
            document.get(["size"])
        with pytest.raises(OfficeStoppedError, match="open it again"):
            document.get(["size"])
        assert vanishes(first)
        with office.open(path) as again:
            assert again["size"] == 2.0


def test_hang_is_ended(new_office: Callable[..., Office], path: Path) -> None:
    with new_office() as office, office.open(path) as document:
        group = office.pid
        for member in processes(group):
            os.kill(member, signal.SIGSTOP)
        office.timeout = 0.5
        with pytest.raises(OfficeStoppedError, match=r"did not answer within 0\.5 seconds"):
            document.get(["size"])
        assert vanishes(group)


def test_close_leaves_nothing(new_office: Callable[..., Office], path: Path) -> None:
    office = new_office()
    with office.open(path) as document:
        assert document["size"] == 2.0
    group, folder = office.pid, office.stage().parent
    office.close()
    assert vanishes(group)
    assert not folder.exists()


def test_broken_extension_is_told(new_office: Callable[..., Office], tmp_path: Path) -> None:
    extension = tmp_path / "broken.oxt"
    extension.write_bytes(b"no archive")
    with new_office() as office, pytest.raises(OfficeError, match=r"broken\.oxt could not be added"):
        office.install_extension(extension)
