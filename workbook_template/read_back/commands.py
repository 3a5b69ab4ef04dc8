"""The commands that read filled workbooks: their arguments, what they print, how they end."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TextIO

from workbook_template.file import placing
from workbook_template.read_back import certificate_data, collect, recall, tables, undone
from workbook_template.read_back.check import check
from workbook_template.read_back.findings import lines
from workbook_template.read_back.opening import Unreadable
from workbook_template.read_back.register import NoRegister

CLEAN, DIFFERENT, UNREADABLE = 0, 1, 2
"""How a command ends: all is as it should be, something differs, something can't be read or done."""

LISTS = (".xlsx", ".csv")


def add(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Add the commands to those there are."""
    about = "read filled workbooks back: what was typed over or changed, and every result computed again"
    one = commands.add_parser("check", help=about, description=about)
    one.add_argument("files", nargs="+", metavar="FILE.xlsx")
    one.add_argument("--all", action="store_true", help="list every difference, not the first of each kind")
    one.add_argument("--undone", action="store_true", help="list what is still to do instead, with sheet and cell")

    about = "bring the logs of a folder's workbooks into one register; only what is new is added"
    one = commands.add_parser("collect", help=about, description=about)
    one.add_argument("folder", metavar="FOLDER")
    one.add_argument("-o", dest="xlsx", metavar="REGISTER.xlsx", help="the register as a workbook")
    one.add_argument("--csv", metavar="REGISTER.csv", help="its readings as CSV")
    one.add_argument("--db", metavar="REGISTER.sqlite", help="the register as a SQLite database")
    one.add_argument("--to", metavar="postgresql://...", help="load it into a PostgreSQL server, too")

    about = "list the records that rest on a wire set that turned out wrong, judged with its true mean"
    one = commands.add_parser("recall", help=about, description=about)
    one.add_argument("source", metavar="REGISTER|FOLDER")
    one.add_argument("--wires", required=True, metavar="SET", help="number of the set, as in W-12")
    one.add_argument("--mean", required=True, metavar="LENGTH", help='its true mean, as in "0.03612 in"')
    one.add_argument("--from", dest="first", metavar="DAY", help="first day of measurement, as in 2026-03-01")
    one.add_argument("--to", dest="last", metavar="DAY", help="last day of measurement")
    one.add_argument("-o", dest="out", metavar="LIST.xlsx", help="the list as .xlsx or .csv")

    about = "write the data of a lot as JSON, and print the digest over them"
    one = commands.add_parser("certificate", help=about, description=about)
    one.add_argument("file", metavar="FILE.xlsx")
    one.add_argument("-o", dest="out", metavar="CERT.json", help="the file to write; it must not be there yet")


def run(asked: argparse.Namespace) -> int:
    """Run the command that was asked for."""
    try:
        return COMMANDS[asked.command](asked)
    except Unreadable as error:
        _warn(error.sentence)
    except (NoRegister, placing.NotPlaced) as error:
        _warn(str(error))
    except OSError as error:
        _warn(placing.unwritten(error))
    return UNREADABLE


def _check(asked: argparse.Namespace) -> int:
    if asked.undone:
        return max([_undone(text) for text in asked.files])
    return max([_check_one(text, asked.all) for text in asked.files])


def _undone(text: str) -> int:
    """List what is still to do: 1 where there is something."""
    try:
        found = undone.undone(Path(text))
    except Unreadable as error:
        _warn(error.sentence)
        return UNREADABLE
    for one in found:
        _say(f"{text}: {one.line()}")
    count = len(found)
    told = f"{count} thing{'' if count == 1 else 's'} to do" if count else "nothing left to do"
    _say(f"{text}: {told}")
    return DIFFERENT if found else CLEAN


def _check_one(text: str, every: bool) -> int:
    try:
        found = check(Path(text))
    except Unreadable as error:
        _warn(error.sentence)
        return UNREADABLE
    for line in lines(found.findings, every=every):
        _say(f"{text}: {line}")
    for line in lines(found.remarks, every=every):
        _say(f"{text}: remark: {line}")
    for note in found.notes:
        _say(f"{text}: note: {note}")
    count = len(found.findings)
    told = f"{count} difference{'' if count == 1 else 's'}" if count else "nothing differs"
    remarks = len(found.remarks)
    told += f", {remarks} remark{'' if remarks == 1 else 's'}" if remarks else ""
    _say(f"{text}: {told}; {found.rows} rows of the log, {found.compared} results computed again")
    return DIFFERENT if count else CLEAN


def _collect(asked: argparse.Namespace) -> int:
    if not (asked.xlsx or asked.db):
        raise NoRegister("name the register: -o register.xlsx, or --db register.sqlite, or both")
    for text, endings in ((asked.xlsx, (".xlsx",)), (asked.csv, (".csv",)), (asked.db, recall.DATABASES)):
        if text and Path(text).suffix.lower() not in endings:
            raise NoRegister(f"{text} does not end in {endings[0]}")
    xlsx, csv_file, db = (Path(text) if text else None for text in (asked.xlsx, asked.csv, asked.db))
    done = collect.collect(Path(asked.folder), xlsx, csv=csv_file, db=db, to=asked.to, say=_progress)
    for sentence in done.passed_over:
        _warn(sentence)
    print(
        f"{done.files} workbooks, {done.read} of them new: {done.added} readings added"
        + (f", {done.differing} with other results than computed again" if done.differing else "")
        + (f"; {len(done.passed_over)} passed over" if done.passed_over else "")
        + (f"; {done.loaded} new on the server" if done.loaded is not None else "")
    )
    return DIFFERENT if done.passed_over or done.differing else CLEAN


def _progress(words: str) -> None:
    """One line that is written over and over on a screen; elsewhere a line each time."""
    on_screen = sys.stderr.isatty()
    print(f"\r{words}\x1b[K" if on_screen else words, end="" if on_screen else "\n", file=sys.stderr, flush=True)


def _recall(asked: argparse.Namespace) -> int:
    first, last = _day(asked.first, date.min), _day(asked.last, date.max)
    if first > last:
        raise NoRegister(f"{first} is after {last}; give the first day with --from, the last with --to")
    if asked.out and Path(asked.out).suffix.lower() not in LISTS:
        raise NoRegister(f"{asked.out} does not end in .xlsx or .csv")
    passed_over: list[str] = []
    found = recall.affected(Path(asked.source), asked.wires, asked.mean, first, last, passed_over.append)
    for sentence in passed_over:
        _warn(sentence)
    to_do = list(recall.to_do(found))
    for line in (*recall.lines(found), *to_do):
        _say(line)
    print(recall.summary(found, asked.wires, asked.mean))
    if asked.out:
        path = Path(asked.out)
        is_csv = path.suffix.lower() == ".csv"
        content = tables.csv_file(recall.Affected._fields, found) if is_csv else tables.workbook([_listed(found)])
        print(f"wrote {_place(content, path)}")
    return DIFFERENT if passed_over or to_do or any(one.change for one in found) else CLEAN


def _say(words: str, stream: TextIO | None = None) -> None:
    """One line, also where the name of a file has several."""
    print(" ".join(words.splitlines()), file=stream)


def _warn(words: str) -> None:
    _say(words, sys.stderr)


def _day(text: str | None, otherwise: date) -> date:
    try:
        return date.fromisoformat(text) if text else otherwise
    except ValueError as error:
        raise NoRegister(f"{text} is no day; write it as in 2026-03-01") from error


def _listed(found: list[recall.Affected]) -> tables.Table:
    return tables.Table("Affected", recall.HEADS, found)


def _place(content: bytes, path: Path) -> Path:
    if not path.parent.is_dir():
        raise NoRegister(f"there is no folder {path.parent}; make it first")
    try:
        placing.place(content, path)
    except FileExistsError as error:
        raise NoRegister(f"{path} is there already; choose another name") from error
    return path


def _certificate(asked: argparse.Namespace) -> int:
    if asked.out and Path(asked.out).suffix.lower() != ".json":  # in an .xlsx it would be a workbook that does not open
        raise NoRegister(f"{asked.out} does not end in .json")
    found = certificate_data.certificate(Path(asked.file))
    if asked.out:
        content = json.dumps(found, indent=1, ensure_ascii=False, allow_nan=False) + "\n"
        print(f"wrote {_place(content.encode('utf-8', 'replace'), Path(asked.out))}")
    print(f"digest {found['digest']}")
    data = found["data"]
    if empty := certificate_data.still_empty(data):
        said = "is empty, and belongs" if len(empty) == 1 else "are empty, and belong"
        _warn(f"type the digest last: {', '.join(empty)} {said} to it")
    differing = sum(one["agrees"] == "no" for one in data["readings"])
    written = found["digest_in_workbook"]
    is_other = bool(written) and written.lower() != found["digest"]
    if differing:
        _warn(f"{differing} rows of the log show other results than computed again; see check")
    if is_other:
        _say(f"the workbook holds another digest, {written}: {certificate_data.WHY_OTHER}")
    return DIFFERENT if differing or is_other else CLEAN


COMMANDS: dict[str, Callable[[argparse.Namespace], int]] = {
    "check": _check,
    "collect": _collect,
    "recall": _recall,
    "certificate": _certificate,
}
