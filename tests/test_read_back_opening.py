"""Files that are no workbook, or are made to do harm, get one sentence, without harm."""

from __future__ import annotations

import io
import os
import resource
import zipfile
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from lxml import etree
from openpyxl import Workbook
from read_back_files import with_parts

from workbook_template.figures.parse import Column
from workbook_template.read_back import contents, named, page
from workbook_template.read_back.collect import collect
from workbook_template.read_back.formulas import alike
from workbook_template.read_back.opening import LARGEST_PART, MOST_PARTS, Unreadable

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
SHEET = "xl/worksheets/sheet1.xml"


def small() -> bytes:
    """An ordinary little workbook."""
    workbook = Workbook()
    workbook.active["A1"] = "text"
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def sheet(inner: str, before: str = "", encoding: str = "UTF-8") -> bytes:
    text = f'<?xml version="1.0" encoding="{encoding}"?>{before}<worksheet xmlns="{MAIN}"><sheetData>{inner}'
    return f"{text}</sheetData></worksheet>".encode("utf-16" if encoding == "UTF-16" else "utf-8")


def packed(parts: dict[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as package:
        for name, data in parts.items():
            package.writestr(name, data)
    return stream.getvalue()


def damaged(content: bytes) -> bytes:
    """Some bytes of the main part are gone."""
    with zipfile.ZipFile(io.BytesIO(content)) as package:
        at = package.getinfo("xl/workbook.xml").header_offset + 80
    return content[:at] + bytes(50) + content[at + 50 :]


def lying(content: bytes) -> bytes:
    """A package whose directory says that a bomb is small."""
    bomb = with_parts(content, {SHEET: sheet(" " * 60_000_000)})
    with zipfile.ZipFile(io.BytesIO(bomb)) as package:
        size = package.getinfo(SHEET).file_size.to_bytes(4, "little")
    assert bomb.count(size) == 2
    return bomb.replace(size, (90_000).to_bytes(4, "little"))


def relation(target: str, kind: str = "oleObject") -> bytes:
    base = "http://schemas.openxmlformats.org"
    return (
        f'<Relationships xmlns="{base}/package/2006/relationships"><Relationship Id="x1" TargetMode="External" '
        f'Type="{base}/officeDocument/2006/relationships/{kind}" Target="{target}"/></Relationships>'
    ).encode()


def declared(entity: str) -> bytes:
    return sheet('<row r="1"><c r="A1" t="inlineStr"><is><t>&e9;</t></is></c></row>', f"<!DOCTYPE w [{entity}]>")


LAUGHS = '<!ENTITY e0 "ha">' + "".join(f'<!ENTITY e{n} "{f"&e{n - 1};" * 10}">' for n in range(1, 10))
DEEP = "<a>" * 5000 + "</a>" * 5000

HOSTILE: tuple[tuple[str, Callable[[bytes], bytes], str], ...] = (
    ("empty", lambda _: b"", "is no workbook: its content is not that of an .xlsx file"),
    ("a text", lambda _: b"serial;reading\n1;0,76\n", "is no workbook"),
    ("a picture", lambda _: b"\x89PNG\r\n\x1a\n" + bytes(99), "is no workbook"),
    ("old format", lambda _: b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600), "protected by a password or of the old"),
    ("cut off", lambda good: good[: len(good) // 2], "is cut off or damaged"),
    ("cut off at the end", lambda good: good[:-30], "is cut off or damaged"),
    ("a part damaged", damaged, "damaged in its part xl/workbook.xml"),
    ("another package", lambda _: packed({"word/document.xml": b"<w/>"}), "a package of another kind"),
    ("a bomb", lambda good: with_parts(good, {"xl/media/0": b"0" * 90_000_000}), "would unpack to 90 MB"),
    ("many small bombs", lambda good: with_parts(good, {f"x/{n}": b"0" * 9_000_000 for n in range(30)}), "270 MB"),
    ("a bomb that lies", lying, "damaged"),
    ("too many parts", lambda good: with_parts(good, {f"x/{n}": b"" for n in range(MOST_PARTS)}), "some dozens"),
    ("a part larger than any", lambda good: with_parts(good, {"x": os.urandom(1000) * (LARGEST_PART // 900)}), "MB"),
    ("out of its folder", lambda good: with_parts(good, {"../../evil.xml": b"<a/>"}), "would leave its folder"),
    ("from the root", lambda good: with_parts(good, {"/etc/evil": b"<a/>"}), "would leave its folder"),
    ("by a drive", lambda good: with_parts(good, {"C:/evil.xml": b"<a/>"}), "would leave its folder"),
    ("two readings", lambda good: with_parts(good, {"XL/workbook.xml": b"<a/>"}), "has a part twice"),
    ("macros", lambda good: with_parts(good, {"xl/vbaProject.bin": b"x"}), "holds macros, which an .xlsx file can't"),
    ("a linked workbook", lambda good: with_parts(good, {"xl/externalLinks/externalLink1.xml": b"<a/>"}), "linked to"),
    ("a link that loads", lambda good: with_parts(good, {"xl/worksheets/_rels/sheet1.xml.rels":
        relation("\\\\elsewhere.invalid\\share\\x")}), "is linked to"),
    ("an entity", lambda good: with_parts(good, {SHEET: declared('<!ENTITY e9 "0.76">')}), "declares a document type"),
    ("a file by entity", lambda good: with_parts(good, {SHEET: declared('<!ENTITY e9 SYSTEM "file:///etc/passwd">')}),
     "declares a document type"),
    ("a thousand laughs", lambda good: with_parts(good, {SHEET: declared(LAUGHS)}), "declares a document type"),
    ("hidden in UTF-16", lambda good: with_parts(good, {SHEET: sheet("", '<!DOCTYPE w [<!ENTITY e9 "x">]>', "UTF-16")}),
     "declares a document type"),
    ("hidden in UTF-7", lambda good: with_parts(good, {SHEET: sheet("", "+ADwAIQ-DOCTYPE w+AD4-", "UTF-7")}),
     "declares a document type"),
    ("deep", lambda good: with_parts(good, {SHEET: sheet(DEEP)}), "it is no proper XML"),
    ("not closed", lambda good: with_parts(good, {SHEET: sheet('<row r="1"><c>')}), "it is no proper XML"),
    ("beyond the edge", lambda good: with_parts(good, {SHEET: sheet('<row r="9999999"><c r="A9999999"/></row>')}),
     "larger than any log"),
    ("a wild row", lambda good: with_parts(good, {SHEET: sheet('<row r="1e9"><c r="A1"/></row>')}), "of a row or look"),
    ("a wild cell", lambda good: with_parts(good, {SHEET: sheet('<row r="1"><c r="ABCDE1"/></row>')}), "cell out of"),
    ("nothing but tags", lambda good: with_parts(good, {SHEET: sheet("<c/>" * 9_000_000)}), "MB|larger"),
    ("another main part", lambda good: with_parts(good, {"xl/workbook.xml": b"<a/>"}), "main part is something else"),
)  # fmt: skip


@pytest.fixture(scope="module")
def good() -> bytes:
    return small()


def read_all(path: Path) -> None:
    """All that a check reads."""
    book = contents.open_book(path)
    book.styles.unlocked()
    for title in book.sheets:
        contents.read_sheet(book, title)


@pytest.mark.parametrize(("name", "make", "sentence"), HOSTILE, ids=[case[0] for case in HOSTILE])
def test_a_hostile_file_gets_one_sentence(
    tmp_path: Path, good: bytes, name: str, make: Callable[[bytes], bytes], sentence: str
) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(make(good))
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(Unreadable, match=sentence) as caught:
        read_all(path)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 600_000  # kilobytes
    assert len(caught.value.sentence.splitlines()) == 1
    assert str(path) in caught.value.sentence
    assert [file.name for file in tmp_path.iterdir()] == ["job.xlsx"]


def test_the_ordinary_one_is_read(tmp_path: Path, good: bytes) -> None:
    path = tmp_path / "job.xlsx"
    path.write_bytes(good)
    read_all(path)
    assert contents.read_sheet(contents.open_book(path), "Sheet").cells[1, 1].value == "text"


def test_what_is_no_file_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe.xlsx"
    os.mkfifo(pipe)
    folder = tmp_path / "folder.xlsx"
    folder.mkdir()
    for path, sentence in (
        (pipe, "is no file"),
        (folder, "is no file"),
        (tmp_path / "gone.xlsx", "can't be read: No such file"),
        (tmp_path / "job.ods", "does not end in .xlsx"),
    ):
        with pytest.raises(Unreadable, match=sentence):
            contents.open_book(path)


def test_a_claimed_size_takes_no_room(tmp_path: Path, good: bytes) -> None:
    """Ranges over a whole sheet: in the dimension, merged, checked, named."""
    whole = "A1:XFD1048576"
    text = sheet('<row r="1"><c r="A1"><v>1</v></c></row>').decode()
    text = text.replace("<sheetData>", f'<dimension ref="{whole}"/><sheetData>')
    text = text.replace("</sheetData>", f'</sheetData><mergeCells><mergeCell ref="{whole}"/></mergeCells>'
        f'<dataValidations><dataValidation type="whole" sqref="{whole}"/></dataValidations>')  # fmt: skip
    book = with_parts(good, {SHEET: text.encode()})
    with zipfile.ZipFile(io.BytesIO(book)) as package:
        names = package.read("xl/workbook.xml").decode()
    defined = '<definedNames><definedName name="log_reading">Sheet!$A$1:$XFD$1048576</definedName></definedNames>'
    book = with_parts(book, {"xl/workbook.xml": names.replace("</sheets>", f"</sheets>{defined}").encode()})
    path = tmp_path / "job.xlsx"
    path.write_bytes(book)
    opened = contents.open_book(path)
    assert named.read_names(opened, ["log_reading"]) == {"log_reading": [1.0]}


def test_numbers_that_are_none_are_errors_not_numbers(tmp_path: Path, good: bytes) -> None:
    cells = ("nan", "inf", "1e999", "1_000", "")
    inner = "".join(f'<c r="{letter}1"><v>{text}</v></c>' for letter, text in zip("ABCDE", cells))
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(good, {SHEET: sheet(f'<row r="1">{inner}</row>')}))
    found = contents.read_sheet(contents.open_book(path), "Sheet").cells
    assert all(isinstance(found[1, column].value, contents.Error) for column in (1, 2, 3, 4))
    assert found[1, 5].value is None


def test_a_shared_text_before_the_first_is_an_error(tmp_path: Path, good: bytes) -> None:
    place = "xl/_rels/workbook.xml.rels"
    with zipfile.ZipFile(io.BytesIO(good)) as package:
        related = package.read(place).decode()
    shared = '<Relationship Id="s1" Type="x/sharedStrings" Target="sharedStrings.xml"/></Relationships>'
    parts = {
        place: related.replace("</Relationships>", shared).encode(),
        "xl/sharedStrings.xml": f'<sst xmlns="{MAIN}"><si><t>last</t></si></sst>'.encode(),
        SHEET: sheet('<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>-1</v></c></row>'),
    }
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(good, parts))
    found = contents.read_sheet(contents.open_book(path), "Sheet").cells
    assert found[1, 1].value == "last"
    assert isinstance(found[1, 2].value, contents.Error)


@pytest.mark.parametrize("sign", ["'", "~", "[a", "'a", "$"])
def test_a_formula_of_a_million_signs_is_done_with(sign: str) -> None:
    """Looked through again from each sign it would take hours."""
    long = sign * (1_000_000 // len(sign))
    assert not Column.of(long, 1).shareable
    assert not alike(contents.Formula(long, 1, 1), contents.Formula("A2", 1, 1), 1, 1, "Log")


@pytest.mark.parametrize(
    ("chart", "shown"),
    [
        ('<min val="1"/>', Counter()),
        ('<scaling><min val="none"/><max/></scaling>', Counter({"min none": 1, "max 0": 1})),
        ('<scaling><min val="0.50"/></scaling>', Counter({"min 0.5": 1})),
    ],
)
def test_a_damaged_chart_is_another_chart(chart: str, shown: Counter[str]) -> None:
    assert page.ranges_of(etree.fromstring(chart)) == shown


def test_a_folder_of_them_is_passed_over(tmp_path: Path, good: bytes) -> None:
    folder = tmp_path / "jobs"
    folder.mkdir()
    few = ("cut off", "a bomb", "a thousand laughs", "macros", "a text")
    for name, make, _ in HOSTILE:
        if name in few:
            (folder / f"{name}.xlsx").write_bytes(make(good))
    (folder / "other.xlsx").write_bytes(good)
    done = collect(folder, tmp_path / "register.xlsx", say=lambda _: None)
    assert (done.files, done.read, len(done.passed_over)) == (6, 0, 6)
    assert any("is no workbook of a threading job" in sentence for sentence in done.passed_over)
