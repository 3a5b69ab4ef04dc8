"""A row that was deleted or inserted in LibreOffice is one finding, and all others have the sheet's own rows."""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path

import pytest
from openpyxl.utils import get_column_letter, range_boundaries
from workbook_cases import demo_file

from workbook_template.office import Office, place
from workbook_template.read_back import check
from workbook_template.read_back.check import Checked
from workbook_template.read_back.findings import Finding
from workbook_template.read_back.moved import Moved

pytestmark = pytest.mark.usefixtures("short_table")

MOVE_ROWS = Path(__file__).parent / "calc" / "move_rows.py"
LOG, LIST, PAGE, PARTS = "log_serial", "instrument_id", "certificate_result_1", "study_a_1"


Change = tuple[str, str, int, int]
"""Sheet, "Rows" or "Columns", the first from 0, how many; negative to delete."""


def cell(name: str) -> tuple[str, int, int]:
    """Sheet, row and column of a name's first cell."""
    entry = next(one for one in demo_file().entries if one.name == name)
    left, top, *_ = range_boundaries(entry.ref)
    return entry.sheet, top, left


def changes(*asked: tuple[str, int, int]) -> list[Change]:
    """Rows counted from a name's first, how many, negative to delete."""
    return [(cell(name)[0], "Rows", cell(name)[1] + down - 1, count) for name, down, count in asked]


def moved(office: Office, source: Path, asked: dict[str, list[Change]]) -> dict[str, bytes]:
    """The example after some changes in LibreOffice, and after others, by what they are called."""
    folder, user = office.stage(), place.account()
    shutil.copyfile(MOVE_ROWS, folder / MOVE_ROWS.name)
    shutil.copyfile(source, folder / "job.xlsx")
    place.hand_over(folder, user)
    saved = {what: folder / f"{what}.xlsx" for what in asked}
    done = subprocess.run(
        [
            *(place.uno_python(), MOVE_ROWS.name, str(folder.parent), place.soffice(), (folder / "profile").as_uri()),
            *(str(folder / "job.xlsx"), json.dumps({str(saved[what]): changes for what, changes in asked.items()})),
        ],
        **{"cwd": folder, "env": place.environment(folder.parent), **place.as_account(user)},
        capture_output=True,
        text=True,
        start_new_session=True,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    return {what: path.read_bytes() for what, path in saved.items()}


@pytest.fixture(scope="module")
def found(built_short: dict[str, Path], office: Office, tmp_path_factory: pytest.TempPathFactory) -> dict[str, Checked]:
    """What a check says of the example with rows deleted, and of it with a row and a column inserted."""
    deleted = changes((LOG, 8, -1), (LIST, 2, -1), (PAGE, 8, -2))
    sheet, _, column = cell(PARTS)
    inserted = [*changes((LOG, 8, 1)), (sheet, "Columns", column, 1)]
    folder, said = tmp_path_factory.mktemp("moved"), {}
    asked = {"deleted": deleted, "inserted": inserted}
    for what, content in moved(office, built_short["demo.xlsx"], asked).items():
        (folder / f"{what}.xlsx").write_bytes(content)
        said[what] = check.check(folder / f"{what}.xlsx")
    return said


def test_a_deleted_row_is_one_finding(found: dict[str, Checked]) -> None:
    """A row that is used in the log, one of the instruments, two of the certificate."""
    (log, row, _), (listed, second, _), (page, eighth, _) = cell(LOG), cell(LIST), cell(PAGE)
    assert sorted(
        (one.kind, one.sheet, one.cell, one.words.partition(";")[0]) for one in found["deleted"].findings
    ) == sorted(
        [
            ("removed", log, f"A{row + 8}", f"a row was deleted at {row + 8}"),
            ("removed", listed, f"A{second + 2}", f"a row was deleted at {second + 2}"),
            ("removed", page, f"A{eighth + 8}", f"2 rows were deleted at {eighth + 8}"),
        ]
    )


def test_what_comes_after_is_named_by_its_own_row(found: dict[str, Checked]) -> None:
    """Of the parts whose instrument doesn't count, the last two have moved up by one."""
    row = cell(LOG)[1]
    assert [one.cell for one in found["deleted"].remarks if one.kind == "instrument"] == [
        f"A{row + at}" for at in (2, 21 - 1, 23 - 1)
    ]


def test_an_inserted_row_or_column_is_one_finding(found: dict[str, Checked]) -> None:
    (log, row, _), (sheet, _, column), inserted = cell(LOG), cell(PARTS), found["inserted"]
    assert sorted((one.kind, one.sheet, one.words.partition(";")[0]) for one in inserted.findings) == sorted(
        [
            ("added", log, f"a row was inserted at {row + 8}"),
            ("added", sheet, f"a column was inserted at {get_column_letter(column + 1)}"),
        ]
    )
    assert {one.kind for one in inserted.remarks} == {"instrument"}


DELETED = Moved("Log", 1, 20, -2, 20)


@pytest.mark.parametrize(
    ("formula", "wanted"),
    [
        ("B19+B22", "B19+B20"),
        ("B20+B22", "#REF!+B20"),
        ("SUM(B12:B2011)", "SUM(B12:B2009)"),
        ("SUM(B20:B21)", "SUM(#REF!)"),
        ("SUM($B$21:B30)", "SUM($B$20:B28)"),
        ('"B22"&B22', '"B22"&B20'),
        ("Job!B22+Log!B22+'Log'!$B$22", "Job!B22+Log!B20+'Log'!$B$20"),
        ("LOG10(B22)*log_B22", "LOG10(B20)*log_B22"),
    ],
)
def test_references_move_as_in_a_spreadsheet(formula: str, wanted: str) -> None:
    """By the rule of spreadsheet programs: what is after moves up, a range loses its part, a single one is torn."""
    assert DELETED.text(formula, "Log") == wanted


def test_a_finding_says_where_it_may_be() -> None:
    found = Moved("Log", 1, 30, 1, 45).finding()
    assert found == Finding(
        "added", "Log", "A30", "", "a row was inserted somewhere from 30 to 45; what comes after has moved"
    )
