"""What a check keeps from one run to the next is what it would make again, and nobody else's file is believed."""

from __future__ import annotations

import json
import os
import zlib
from collections.abc import Mapping
from pathlib import Path

import pytest
from read_back_files import part, with_parts

from workbook_template.read_back import kept as module
from workbook_template.read_back import template
from workbook_template.read_back.as_data import data_of, template_from
from workbook_template.read_back.check import check
from workbook_template.read_back.compare import FREE
from workbook_template.read_back.contents import open_book
from workbook_template.read_back.kept import kept
from workbook_template.read_back.template import Lengths
from workbook_template.sheets import threads_table

pytestmark = pytest.mark.usefixtures("short_table")

ABOUT = ("template", "mm", ["M20x2.5-6g"])
SIZES = [["M20x2.5", "6g"], ["1/4-20 UNC", "2A"]]


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    own = tmp_path / "cache"
    monkeypatch.setattr(module, "folder", lambda: own)
    return own


def made_or_kept(value: object = SIZES, about: object = ABOUT) -> tuple[object, bool]:
    """What comes of it, and whether it had to be made."""
    calls = []
    found = kept(about, lambda: calls.append(1) or value, lambda one: one, lambda one: one)
    return found, bool(calls)


def only(folder: Path) -> Path:
    (path,) = folder.iterdir()
    return path


def test_it_is_made_once(folder: Path) -> None:
    assert made_or_kept() == (SIZES, True)
    assert made_or_kept() == (SIZES, False)
    assert made_or_kept(about=("template", "in", [])) == (SIZES, True)


def test_it_is_data_in_a_folder_closed_to_others(folder: Path) -> None:
    made_or_kept()
    assert json.loads(zlib.decompress(only(folder).read_bytes())) == SIZES
    assert (folder.stat().st_mode & 0o777, only(folder).stat().st_mode & 0o777) == (0o700, 0o600)


def test_another_version_of_the_sources_makes_its_own(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made_or_kept()
    source = folder.parent / "package"
    source.mkdir()
    (source / "__init__.py").write_text("X = 1")
    monkeypatch.setattr(module.sheetfuncs, "__file__", str(source / "__init__.py"))
    for text in ("X = 1", "X = 2"):
        (source / "__init__.py").write_text(text)
        module.version.cache_clear()
        assert made_or_kept() == (SIZES, True)
        assert made_or_kept() == (SIZES, False)
    module.version.cache_clear()


@pytest.mark.parametrize("damage", [b"", b"no archive", zlib.compress(b"[1, 2"), zlib.compress(b"[" * 100_000)])
def test_a_damaged_file_is_made_again(folder: Path, damage: bytes) -> None:
    made_or_kept()
    for content in (damage, only(folder).read_bytes()[:-5]):
        only(folder).write_bytes(content)
        assert made_or_kept() == (SIZES, True)
        assert made_or_kept() == (SIZES, False)


@pytest.mark.parametrize(
    "other",
    [7, [], {}, {"entries": [], "styles": [], "sheets": 7}, {"entries": [1], "styles": [], "sheets": {}}],
    ids=str,
)
def test_data_of_something_else_are_made_again(folder: Path, other: object) -> None:
    made_or_kept(other)
    assert kept(ABOUT, lambda: "made", lambda one: one, template_from) == "made"


def test_a_file_that_unpacks_without_end_is_not_unpacked(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made_or_kept()
    monkeypatch.setattr(module, "LARGEST", 1000)
    only(folder).write_bytes(zlib.compress(json.dumps(["x" * 5000]).encode()))
    assert made_or_kept() == (SIZES, True)


def test_a_file_that_others_could_have_written_is_made_again(folder: Path) -> None:
    made_or_kept()
    for one, mode in ((only(folder), 0o666), (folder, 0o777)):
        before = one.stat().st_mode
        one.chmod(mode)
        assert made_or_kept() == (SIZES, True)
        one.chmod(before)
    assert made_or_kept() == (SIZES, False)


def test_a_file_of_another_user_is_made_again(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made_or_kept()
    monkeypatch.setattr(module, "_user", lambda _: -1)
    assert made_or_kept() == (SIZES, True)


def test_a_link_is_not_followed(folder: Path) -> None:
    made_or_kept()
    path = only(folder)
    elsewhere = folder.parent / "elsewhere"
    path.rename(elsewhere)
    elsewhere.write_bytes(zlib.compress(b"[]"))
    path.symlink_to(elsewhere)
    assert made_or_kept() == (SIZES, True)
    assert not path.is_symlink()
    assert zlib.decompress(elsewhere.read_bytes()) == b"[]"


def test_where_no_folder_can_be_made_it_is_made_each_time(folder: Path) -> None:
    folder.write_text("a file stands in the way")
    assert made_or_kept() == made_or_kept() == (SIZES, True)


def test_what_was_not_used_for_longest_makes_room(folder: Path) -> None:
    for number in range(module.MOST_FILES):
        made_or_kept(about=number)
    for age, path in enumerate(folder.iterdir()):
        os.utime(path, (1000.0 - age, 1000.0 - age))
    assert made_or_kept(about=0) == (SIZES, False)
    for number in range(module.MOST_FILES - 1):
        made_or_kept(about=100 + number)
    assert len(list(folder.iterdir())) == module.MOST_FILES
    assert made_or_kept(about=0) == (SIZES, False)


def test_a_template_comes_back_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    """All of it; and on another day it is the same but for what says when it was built."""
    of = ("mm", ("M20x2.5-6g",), Lengths(50, 20))
    now = template._built(*of)
    assert template_from(json.loads(json.dumps(data_of(now)))).__dict__ == now.__dict__
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1000000000")
    then = template._built(*of)
    differing = set()
    for title, sheet in now.sheets.items():
        other = then.sheets[title]
        assert sheet._replace(cells={}) == other._replace(cells={})
        assert sheet.cells.keys() == other.cells.keys()
        differing |= {(title, *place) for place, cell in sheet.cells.items() if cell != other.cells[place]}
    free = {(one.sheet, one.box[1], one.box[0]) for one in now.entries if one.name in FREE}
    assert differing
    assert differing <= free


def test_a_check_by_a_kept_template_finds_the_same(
    built_short: Mapping[str, Path], folder: Path, tmp_path: Path
) -> None:
    """A limit was changed wherever the sheet Threads shows it: in the table, and as stored in the row in use."""
    content = built_short["demo.xlsx"].read_bytes()
    table = open_book(built_short["demo.xlsx"]).sheets[threads_table.SHEET]
    wrong = part(content, table).replace(b"<v>0.7079</v>", b"<v>0.7089</v>")
    path = tmp_path / "job.xlsx"
    path.write_bytes(with_parts(content, {table: wrong}))
    found = []
    for _ in range(2):
        for one in (template.standard_rows, template.template):
            one.cache_clear()
        found.append(check(path))
    assert len(list(folder.iterdir())) == 2
    assert found[0] == found[1]
    assert {one.kind for one in found[0].findings} == {"changed value", "stored value"}
