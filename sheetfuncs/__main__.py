"""The functions from a shell.

python -m sheetfuncs THREAD_PITCH_DIAMETER "M20x2.5-6g" max
python -m sheetfuncs --help THREAD_DEPTH
python -m sheetfuncs
python -m sheetfuncs calc-addin threads.oxt       the extension for LibreOffice Calc
python -m sheetfuncs excel-check [JOB.xlsm]       what is wrong with the link to Excel
python -m sheetfuncs lambda-workbook OUT.xlsx     the functions as named LAMBDAs, for an Excel that takes no add-in
"""

from __future__ import annotations

import os
import sys

from sheetfuncs import catalog, console
from sheetfuncs.errors import CellError
from sheetfuncs.hosts.call import evaluate, find
from sheetfuncs.registry import Record
from sheetfuncs.terms import TERMS

ABOUT = (__doc__ or "").strip()
HELP = (["--help"], ["-h"])
"""What asks for help, before the name of a function or command or behind it."""


def main(arguments: list[str]) -> int:
    """Run one command; 0, or 2 after one sentence on standard error."""
    console.take_any_sign()
    command = COMMANDS.get(arguments[0]) if arguments else None
    if command is not None and arguments[1:2] in HELP:
        print(ABOUT)
        return 0
    try:
        if command is not None:
            return command(arguments[1:])
        print(_answer_to(arguments))
    except CellError as error:
        print(f"{error.code} {error}", file=sys.stderr)
        return 2
    return 0


def _answer_to(arguments: list[str]) -> str:
    if not arguments:
        return catalogue()
    name, *cells = arguments
    if [name] in HELP:
        return help_text(find(cells[0])) if cells else f"{ABOUT}\n\n{catalogue()}"
    if cells in HELP:
        return help_text(find(name))
    return _shown(evaluate(name, *cells))


def _calc_addin(arguments: list[str]) -> int:
    from sheetfuncs.hosts.calc.pack import build

    if len(arguments) != 1 or not arguments[0].endswith(".oxt"):
        print("calc-addin takes the name of the extension to write, as in threads.oxt", file=sys.stderr)
        return 2
    try:
        build(arguments[0])
    except OSError as error:
        print(f"{arguments[0]} can't be written: {error.strerror}", file=sys.stderr)
        return 2
    print(f"{arguments[0]} is written; add it in LibreOffice under Tools > Extensions")
    return 0


def _excel_check(arguments: list[str]) -> int:
    from sheetfuncs.hosts.excel_check import check, report

    if len(arguments) > 1:
        print("excel-check takes one macro workbook, as in threads.xlsm, or none", file=sys.stderr)
        return 2
    lines, status = report(check(arguments[0] if arguments else None))
    print("\n".join(lines))
    return status


def _lambda_workbook(arguments: list[str]) -> int:
    try:
        from workbook_template.file.placing import NotPlaced
        from workbook_template.lambdas.build import write
    except ModuleNotFoundError as error:
        print(f"lambda-workbook needs {error.name}, which is not there; pip install openpyxl lxml", file=sys.stderr)
        return 2
    if len(arguments) != 1:
        print("lambda-workbook takes the name of the workbook to write, as in threads.xlsx", file=sys.stderr)
        return 2
    try:
        print(write(arguments[0]))
    except NotPlaced as error:
        print(error, file=sys.stderr)
        return 2
    return 0


COMMANDS = {"calc-addin": _calc_addin, "excel-check": _excel_check, "lambda-workbook": _lambda_workbook}


def catalogue() -> str:
    """Every function with its first line, under its category."""
    lines: list[str] = []
    category = ""
    for record in catalog.RECORDS:
        if record.category != category:
            category = record.category
            lines += ["", category] if lines else [category]
        lines.append(f"  {record.signature}\n      {record.summary}")
    return "\n".join(lines)


def help_text(record: Record) -> str:
    """One function in full: what it does, its arguments, a worked example, its sources."""
    lines = [record.signature, "", record.summary, ""]
    for param in record.params:
        optional = "" if param.required else " (may be left out)"
        lines.append(f"  {param.name}{optional}: {TERMS[param.name].help}")
    for example in record.examples:
        call = "; ".join("" if cell is None else str(cell) for cell in example.args)
        gives = "  ".join(example.gives) if isinstance(example.gives, tuple) else example.gives
        lines += ["", f"Example: {record.name}({call}) gives {gives}", f"  ({example.source})"]
    return "\n".join([*lines, "", f"Sources: {', '.join(record.sources)}"])


def _shown(value: object) -> str:
    if isinstance(value, list):
        return "\n".join("\t".join(_shown(cell) for cell in row) for row in value)
    return f"{value:.12g}" if isinstance(value, float) else str(value)


CLOSED_PIPE = 141
"""What a shell reports of a command whose reader has gone: 128 and the number of the signal SIGPIPE."""


def run(arguments: list[str]) -> int:
    """The command, ended without a word where nobody reads on, as in `... | head -1`."""
    try:
        status = main(arguments)
        sys.stdout.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())  # what is left to be written goes nowhere
        return CLOSED_PIPE
    return status


if __name__ == "__main__":
    sys.exit(run(sys.argv[1:]))
