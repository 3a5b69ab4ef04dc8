"""The command: python -m workbook_template new FILE.xlsx (or FILE.xlsm, with macros), demo, check, collect and more."""

from __future__ import annotations

import argparse
import gc
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from sheetfuncs import CellError, console, standards
from sheetfuncs.designations import Thread

BAD_ARGUMENT = 2

try:
    from workbook_template.demo import job as demo
    from workbook_template.figures.garbage import no_collection
    from workbook_template.file import lathe_toml, macro, placing, store
    from workbook_template.file.build import build
    from workbook_template.file.lathe_toml import Lathe
    from workbook_template.paper import heights
    from workbook_template.paper.blocks import Book
    from workbook_template.read_back import columns, contents, opening
    from workbook_template.read_back import commands as reading
    from workbook_template.sheets import lathe_terms, log_rows, quote
except ModuleNotFoundError as error:  # a Python that has the project alone
    WANTED = 'type in the folder of the project: python -m pip install ".[workbook]"'
    print(f"{error.name} is not there; {WANTED}", file=sys.stderr)
    raise SystemExit(BAD_ARGUMENT) from None


class Sentences(argparse.ArgumentParser):
    """A parser that answers a bad argument with one sentence."""

    def error(self, message: str) -> NoReturn:
        """End with the sentence and exit code 2."""
        refuse(message)


def refuse(sentence: str) -> NoReturn:
    """End with one sentence on stderr."""
    print(sentence, file=sys.stderr)
    raise SystemExit(BAD_ARGUMENT)


def arguments() -> argparse.ArgumentParser:
    """The commands and what they take."""
    about = "Makes the workbook of a threading job, and reads filled ones back."
    parser: argparse.ArgumentParser = Sentences(prog="python -m workbook_template", description=about)
    known = "|".join(("new", "demo", *reading.COMMANDS))
    commands = parser.add_subparsers(dest="command", required=True, metavar=known)
    for name, help_text in (("new", "an empty workbook for a job"), ("demo", "a filled example")):
        command = commands.add_parser(name, help=help_text, description=help_text)
        command.add_argument(
            "file",
            metavar="FILE.xlsx",
            help="the workbook to write; new makes FILE.xlsm too, to link with the functions",
        )
        command.add_argument("--rows", type=int, default=0, metavar="N", help="rows of the log, one a part")
        command.add_argument("--quote-rows", type=int, default=0, metavar="N", help="rows of the quote, one a part")
        command.add_argument("--replace", action="store_true", help="keep an old FILE.xlsx under a numbered name")
        if name == "new":
            command.add_argument("--unit", choices=("in", "mm"), help="working unit; left out: the thread's own")
            command.add_argument(
                "--thread", action="append", default=[], help="a thread, as in 3/4-16 UNF-2A; may be repeated"
            )
            command.add_argument(
                "--lathe", action="append", default=[], metavar="FILE.toml", help="a lathe; one more may be given"
            )
    reading.add(commands)
    return parser


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command; the exit code."""
    console.take_any_sign()
    asked = arguments().parse_args(argv)
    if asked.command in reading.COMMANDS:
        return reading.run(asked)
    return make(asked)


@no_collection()
def make(asked: argparse.Namespace) -> int:
    """Build the workbook that was asked for."""
    endings = (".xlsx", ".xlsm") if asked.command == "new" else (".xlsx",)
    path = checked_path(asked.file, asked.replace, endings)
    rows = checked_rows("--rows", "log", asked.rows, log_rows.FEWEST, log_rows.MOST_ROWS)
    quote_rows = checked_rows("--quote-rows", "quote", asked.quote_rows, quote.FEWEST, quote.MOST_ROWS)
    before = placing.seen(path)
    if asked.command == "demo":
        book = build(threads=[standards.read(demo.THREAD)], values=demo.values(), rows=rows, quote_rows=quote_rows)
    else:
        threads = [checked_thread(text) for text in asked.thread]
        for text, thread in zip(asked.thread, threads):
            if thread.note:
                print(f"{text} taken as {standards.write(thread)}: {thread.note}")
        for thread in threads[:1]:  # the one that Job shows: without a class it has no limits
            if not standards.system(thread).class_of(thread):
                print(f"{standards.write(thread)} names no class: choose it on the sheet Job, {offered(thread)}")
        unit = asked.unit or (threads[0].unit if threads else "in")
        lathes = checked_lathes(asked.lathe)
        book = build(unit=unit, threads=threads, lathes=lathes, rows=rows, quote_rows=quote_rows)
    return write(book, path, asked.replace, before)


def checked_thread(text: str) -> Thread:
    """A thread that the workbook can hold."""
    try:
        thread = standards.read(text)
        if thread.thread_class:
            standards.limits(thread)
    except CellError as error:
        refuse(error.sentence)
    return thread


def offered(thread: Thread) -> str:
    """The classes that the list on Job has for a size.

    >>> offered(standards.read("4 BA"))
    'close bolt, normal bolt or nut'
    """
    *others, last = standards.system(thread).classes_at(thread.size)
    return f"{', '.join(others)} or {last}" if others else last


def checked_lathes(files: list[str]) -> list[Lathe]:
    """The lathes of their files."""
    if len(files) > len(lathe_terms.LATHES):
        refuse("--lathe is given more than twice; the sheet Lathe holds two lathes")
    try:
        return [lathe_toml.read_file(Path(file)) for file in files]
    except lathe_toml.LatheError as error:
        refuse(str(error))


def checked_rows(option: str, sheet: str, rows: int, fewest: int, most: int) -> int:
    """How many rows the log or the quote is to have; 0 for as many as usual."""
    if rows and not fewest <= rows <= most:
        refuse(f"{option} {rows}: the {sheet} has {fewest} to {most} rows")
    return rows


def checked_path(text: str, replace: bool, endings: tuple[str, ...]) -> Path:
    """The file to write, refused before any work is done."""
    try:
        path = placing.with_ending(text, endings)
        macros = path.suffix.lower() == ".xlsm"
        if macros and replace:
            refuse("--replace is for .xlsx files; choose another name for the macro workbook")
        if macros:
            macro.quickstart()
        way_out = "" if macros else ", or add --replace to keep the old one beside it"
        placing.refuse_taken(path, replace=replace, way_out=way_out)
    except (placing.NotPlaced, ModuleNotFoundError) as error:
        refuse(str(error))
    return path


def write(book: Book, path: Path, replace: bool, before: placing.Seen = None) -> int:
    """Finish the file and put it in its place, if what stands there is still as it was `before`."""
    values = store.compute(book)
    heights.grow(book, values)
    finished = store.package(book, values)
    if path.suffix.lower() == ".xlsm":
        return write_with_macros(finished, path)
    return finish_in_place(finished, path, replace, before)


def finish_in_place(content: bytes, path: Path, replace: bool, before: placing.Seen) -> int:
    """Put the finished file in its place, and say where an old one went."""
    filled = rows_in_use(path) if path.exists() else 0
    try:
        kept = placing.place_or_say(content, path, replace=replace, before=before)
    except placing.NotPlaced as error:
        refuse(str(error))
    old = f"the old file, with {filled} rows in its log," if filled else "the old file"
    print(f"wrote {path}" + (f", {old} is now {kept.name}" if kept else ""))
    return 0


def rows_in_use(path: Path) -> int:
    """How many rows of an old workbook's log are filled in; 0 where it can't be read."""
    try:
        return len(columns.rows(contents.open_book(path)))
    except opening.Unreadable:
        return 0


def write_with_macros(content: bytes, path: Path) -> int:
    """The same workbook with the macro project that links it to the functions, and the wrapper text beside it."""
    with tempfile.TemporaryDirectory() as folder:
        plain_workbook = Path(folder) / "book.xlsx"
        plain_workbook.write_bytes(content)
        try:
            written = macro.add_macros(plain_workbook, path)
        except (FileExistsError, ValueError) as error:
            refuse(str(error))
        except OSError as error:
            refuse(f"{path} can't be written: {error.strerror}")
    print(f"wrote {' and '.join(str(one) for one in written)}; docs/install-excel.md has the steps in Excel")
    return 0


if __name__ == "__main__":
    code = main()
    gc.freeze()  # all that is left goes with the process; to look through it once more for rubbish takes a second
    raise SystemExit(code)
