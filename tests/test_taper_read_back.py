"""A filled workbook of a taper thread: `check`, `collect`, `recall`, `certificate`; registers of before carried on."""

from __future__ import annotations

import json
import re
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from read_back_files import LATER, Filled, cell_of, part, sheet_part, with_parts
from test_taper_sheet import HALF
from test_tapers import drawn_reading
from workbook_cases import sample_of

from sheetfuncs import standards
from workbook_template import __main__ as command
from workbook_template.file import store
from workbook_template.file.build import build
from workbook_template.read_back import columns, readings, register, tables
from workbook_template.read_back.collect import collect

pytestmark = pytest.mark.usefixtures("short_table")

THREAD, WIRE, SMALL_END, PITCH = "3/4-14 NPT external", 0.042, 0.9676786, 1 / 14
"""E0 of ASME B1.20.1, Table 2."""


def over_wires(turns: float, place: float) -> float:
    """The reading off a drawn part that is so many turns large."""
    return round(drawn_reading(SMALL_END + turns * PITCH / 16, PITCH, HALF["NPT"], WIRE, place), 4)


ROWS: tuple[tuple[dict[str, Any], str, str], ...] = (
    ({"reading": over_wires(0.2, 0.2), "ring": "pass"}, "in", "in"),
    ({"reading": over_wires(-0.9, 0.3), "place": 0.3, "gauge_turns": -0.75}, "in", "in"),
    ({"reading": over_wires(1.3, 0.1), "place": 0.1, "gauge_turns": 1.25}, "high", "high"),
    ({"reading": over_wires(-1.2, 0.2), "ring": "too small"}, "low", "low"),
    ({"reading": over_wires(0, 0.2), "place": 0.4}, "check entry", ""),
    ({"reading": over_wires(0, 0.2), "gauge_turns": 2.0, "ring": "pass"}, "in", "check entry"),
    ({"direct": 0.9802, "gauge_turns": 0.0}, "in", "in"),
    ({"direct": 0.9757, "crest": 1.0264}, "in", ""),  # the least of both at .2 as shown: .97571 and 1.02644
)
"""Rows at the place .2 where none is named, and their verdicts: a turn either way is in (ASME B1.20.1).

The pitch diameter at .2 is .96768 + .2/16 = .98018. Wires lie in full grooves up to .367 from the end.
"""


@pytest.fixture(scope="module")
def taper_file(tmp_path_factory: pytest.TempPathFactory) -> Filled:
    """The workbook, filled."""
    common = {"instrument": "M-7", "gauge": "R-1", "who": "inspector", "when": LATER.replace(year=2026)}
    rows = [{"serial": str(at), **common, **row} for at, (row, *_) in enumerate(ROWS, start=1)]
    values = {
        "job_number": "J-77", "customer": "Pump works of the valley (invented)", "decision_rule": "simple",
        "measured_at": 0.2, "log_once_place": 0.2, "wire_set": "W-4", "wires_id": ["W-4"], "wires_a": [WIRE],
        "wires_due": [LATER], "instrument_id": ["M-7", "R-1"], "instrument_kind": ["micrometer", "taper ring"],
        "instrument_thread": [None, THREAD], "instrument_due": [LATER, LATER],
    }  # fmt: skip
    values |= {f"log_{name}": [row.get(name) for row in rows] for name in columns.INPUTS}
    book = build(threads=[standards.read(THREAD)], values=values)
    path = tmp_path_factory.mktemp("taper") / "job.xlsx"
    path.write_bytes(store.package(book, store.compute(book)))
    return Filled(sample_of(book), path)


@pytest.fixture(scope="module")
def collected(taper_file: Filled, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The register of the folder of that workbook."""
    path = tmp_path_factory.mktemp("register") / "register.sqlite"
    assert collect(taper_file.built.parent, None, db=path, say=lambda _: None).added == len(ROWS)
    return path


def test_check_finds_nothing_in_what_the_sheet_computed(taper_file: Filled, capsys: pytest.CaptureFixture[str]) -> None:
    assert command.main(["check", "--all", str(taper_file.built)]) == 0
    assert f"nothing differs; {len(ROWS)} rows of the log" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("name", "at", "value", "words"),
    [
        ("log_pitch_diameter_result", 2, "in", 'stored is "in"; computed again it is "high"'),
        ("log_ring_result", 3, "in", 'stored is "in"; computed again it is "low"'),
        ("log_pitch_diameter", 1, "0.9889", "stored is 0.9889; computed again it is 0.98"),
    ],
)
def test_check_tells_a_stored_verdict_that_is_wrong(
    taper_file: Filled, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, at: int, value: str, words: str
) -> None:
    sheet, address = cell_of(taper_file, name, at)
    content, where = taper_file.built.read_bytes(), sheet_part(taper_file, sheet)
    old = re.compile(rf'(<c r="{address}"[^>]*><f.*?)<v>[^<]*</v>', re.DOTALL)
    new, count = old.subn(rf"\g<1><v>{value}</v>", part(content, where).decode(), count=1)
    assert count == 1
    wrong = tmp_path / "wrong.xlsx"
    wrong.write_bytes(with_parts(content, {where: new.encode()}))
    assert command.main(["check", str(wrong)]) == 1
    told = capsys.readouterr().out
    assert f"{address} {name}: {words}" in told
    assert ": 1 difference" in told


def test_the_register_has_verdict_place_and_turns(collected: Path) -> None:
    with sqlite3.connect(collected) as connection:
        found = connection.execute(
            "SELECT place, gauge_turns, result, ring_result, agrees FROM readings ORDER BY log_row"
        ).fetchall()
    wanted = [(row.get("place", 0.2), row.get("gauge_turns"), word, ring or None, "yes") for row, word, ring in ROWS]
    assert found == wanted


def test_a_wrong_wire_set_moves_what_was_measured_with_it(collected: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A wire .0004 larger reads 3 x .0004 less in size, .0012 in or .27 turns; 1.3 turns large become 1.03, still out.

    Small by .9 they become 1.17 small: low, and so are no others.
    """
    assert command.main(["recall", "--wires", "W-4", "--mean", "0.0424 in", str(collected)]) == 1
    told = capsys.readouterr().out
    (changed,) = re.findall(r"J-77 +2 .*", told)
    assert changed.split()[-3:] == ["in", "becomes", "low"]
    assert "6 records rest on W-4; 1 of them" in told


def test_the_certificate_has_the_place(taper_file: Filled, tmp_path: Path) -> None:
    path = tmp_path / "lot.json"
    assert command.main(["certificate", str(taper_file.built), "-o", str(path)]) == 0
    text = json.loads(path.read_text(encoding="utf-8"))
    assert '"place"' in json.dumps(text)


# ---- Registers that were begun before there were taper threads


def before(collected: Path) -> tuple[list[tuple[str, str]], list[tuple[Any, ...]]]:
    """The columns of such a register and one record of it, of a parallel thread."""
    fields = [(one.name, one.kind) for one in register.FIELDS if one.name not in readings.OF_TAPER]
    own = {"digest": "a" * 64, "log_row": 7, "typed": "{}"}
    record = tuple(own.get(name, "1" if kind == "text" else None) for name, kind in fields)
    return fields, [record]


@pytest.mark.parametrize("ending", ["xlsx", "sqlite"])
def test_a_register_of_before_is_carried_on(taper_file: Filled, collected: Path, tmp_path: Path, ending: str) -> None:
    fields, records = before(collected)
    path, db = tmp_path / f"old.{ending}", tmp_path / "old.sqlite"
    if ending == "xlsx":
        workbooks = [(one.name, one.kind) for one in register.WORKBOOK_FIELDS]
        both = [tables.Table("Readings", fields, records), tables.Table("Workbooks", workbooks, [])]
        path.write_bytes(tables.workbook(both))
    else:
        with sqlite3.connect(path) as connection:
            named = ", ".join(f"{name} {register.SQLITE[kind]}" for name, kind in fields)
            connection.execute(f"CREATE TABLE readings ({named}, PRIMARY KEY (digest))")
            connection.execute(f"INSERT INTO readings VALUES ({', '.join('?' * len(fields))})", records[0])
        connection.close()
    xlsx = path if ending == "xlsx" else None
    collect(taper_file.built.parent, xlsx, db=db, say=lambda _: None)
    with sqlite3.connect(db) as connection:
        found = connection.execute("SELECT digest, serial, place FROM readings ORDER BY place IS NOT NULL").fetchall()
        heads = [row[1] for row in connection.execute("PRAGMA table_info(readings)")]
    assert found[0] == ("a" * 64, "1", None)
    assert len(found) == 1 + len(ROWS)
    assert heads == [one.name for one in register.FIELDS]
