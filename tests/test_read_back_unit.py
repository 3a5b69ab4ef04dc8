"""`check` where another working unit was chosen than the workbook was built with: the looks are those of the build."""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

import pytest
from read_back_files import Filled, edited, part, sheet_part, with_parts

from workbook_template.office import Office
from workbook_template.read_back import template
from workbook_template.read_back.check import check
from workbook_template.read_back.contents import open_book, read_sheet
from workbook_template.read_back.findings import Finding

pytestmark = pytest.mark.usefixtures("short_table")

LOOKS = ("number format", "decimals", "conditional format", "look")
RULES = re.compile(r"<conditionalFormatting.*?</conditionalFormatting>", re.DOTALL)
FOR_MM = re.compile(r'unit="mm"</formula>')


def test_another_unit_chosen_by_a_person_is_no_difference(
    built_short: Mapping[str, Path], office: Office, tmp_path: Path
) -> None:
    with office.open(built_short["new.xlsx"]) as document:
        other = "in" if document["unit"] == "mm" else "mm"
        document.edit("unit", other)
        document.save_as(tmp_path / "job.xlsx")
    found = check(tmp_path / "job.xlsx")
    assert (found.findings, found.remarks) == ([], [])
    assert found.compared > 9_000


def looks(path: Path, parts: Mapping[str, str]) -> list[Finding]:
    """What is said of number formats and conditional formats where these parts of a file are others."""
    path.write_bytes(with_parts(path.read_bytes(), {name: text.encode() for name, text in parts.items()}))
    found = check(path)
    return [one for one in (*found.findings, *found.remarks) if one.kind in LOOKS]


@pytest.fixture(params=["in", "mm"])
def job(request: pytest.FixtureRequest, tmp_path: Path, filled: Filled) -> Path:
    """A workbook that was built in inches, in which one unit or the other is chosen."""
    path = tmp_path / "job.xlsx"
    path.write_bytes(edited(filled, unit=request.param))
    return path


def test_a_number_format_that_lies_is_found_in_either_unit(job: Path) -> None:
    """That of all lengths of the built unit, and the one that they have in the other unit."""
    styles = part(job.read_bytes(), "xl/styles.xml").decode()
    for built, now in (("0.0000##", "0.0000%"), ("0.000##", "0.000,")):
        assert f'formatCode="{built}"' in styles
        found = looks(job, {"xl/styles.xml": styles.replace(f'formatCode="{built}"', f'formatCode="{now}"')})
        lies = [one for one in found if one.kind == "number format"]
        assert lies
        assert all(f'"{now}"' in one.words and f'"{built}"' in one.words for one in lies)


def test_one_changed_rule_is_found_and_does_not_turn_the_unit(job: Path, filled: Filled) -> None:
    where = sheet_part(filled, "Setup")
    text = part(job.read_bytes(), where).decode()
    assert FOR_MM.search(text)
    found = looks(job, {where: FOR_MM.sub('unit="in"</formula>', text)})
    assert {one.sheet for one in found} == {"Setup"}
    assert {one.kind for one in found} == {"conditional format", "number format"}


def test_without_any_rule_the_number_formats_tell(job: Path, filled: Filled) -> None:
    content = job.read_bytes()
    texts = {
        where: part(content, where).decode() for where in (sheet_part(filled, title) for title in open_book(job).sheets)
    }
    found = looks(job, {where: RULES.sub("", text) for where, text in texts.items()})
    assert {one.kind for one in found} == {"conditional format"}
    assert all("is gone or changed" in one.words for one in found)
    book = open_book(job)
    assert template.unit_of(book, {title: read_sheet(book, title) for title in book.sheets}) == "in"
