"""What is wrong with the link between Excel and the functions, as far as it can be seen without Excel.

Each finding is "ok", "wrong" with its cure, or "not seen": nothing is called good because it could not be looked at.
"""

from __future__ import annotations

import os
import site
import struct
import sys
import zipfile
import zlib
from collections.abc import Callable, Iterator
from importlib import import_module, metadata
from importlib.util import find_spec
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

from sheetfuncs import __version__

UDF_MODULE = "sheetfuncs.hosts.excel"
CONFIG_SHEET = "xlwings.conf"
"""The macro workbook is written with these two (`workbook_template/file/macro.py`)."""

OFFICE_VERSIONS = ("16.0", "15.0")  # Excel 2016 to 365; Excel 2013
SYNCED_FOLDERS = ("onedrive", "sharepoint", "dropbox", "google drive", "googledrive", "icloud", "nextcloud", "box sync")
TRUST = "File > Options > Trust Center > Trust Center Settings > Macro Settings"
ENVIRONMENT = "make a virtual environment and install into that: step 2 of docs/install-excel.md"

_SHEET = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"

DAMAGED = (
    *(OSError, EOFError, zipfile.BadZipFile, zlib.error),
    *(RuntimeError, ElementTree.ParseError, LookupError, ValueError),
)
"""What a file gives that is open elsewhere, cut off, packed wrongly or with a password, or no workbook inside."""


class Finding(NamedTuple):
    """One thing looked at: `kind` is "ok", "wrong" or "not seen"; `cure` says what to do about a wrong one."""

    kind: str
    text: str
    cure: str = ""


class Machine(NamedTuple):
    """Where to look. `registry` gives a number by key and value name, None where there is none.

    `own_files` is where pip puts what a package brings beside its modules when it installs with --user.
    """

    windows: bool
    python: Path
    own_files: Path
    home: Path
    start_folder: Path
    synced: tuple[Path, ...]
    registry: Callable[[str, str], int | None]


def this_machine() -> Machine:
    """The machine that this runs on."""
    synced = {os.environ.get(name) for name in ("OneDrive", "OneDriveConsumer", "OneDriveCommercial")}
    return Machine(
        windows=sys.platform == "win32",
        python=Path(sys.executable),
        own_files=Path(site.getuserbase()),
        home=Path.home(),
        start_folder=Path(os.environ.get("APPDATA", "")) / "Microsoft" / "Excel" / "XLSTART",
        synced=tuple(Path(folder) for folder in synced if folder),
        registry=_registry_number,
    )


def check(workbook: str | None = None, machine: Machine | None = None) -> list[Finding]:
    """Everything that can be looked at here, and what could not; `workbook` is the macro workbook, if there is one.

    >>> [finding.kind for finding in check()][0]
    'ok'
    """
    machine = machine or this_machine()
    looks = [*_python(machine), *_packages(machine), *_excel(machine), *_trust(machine)]
    if workbook is not None:
        looks += _workbook(workbook, machine)
    last = 'whether Excel itself calls the functions: =THREAD_PITCH("M20-6g") in a cell of the workbook gives 2.5'
    return [*looks, Finding("not seen", last)]


def report(findings: list[Finding]) -> tuple[list[str], int]:
    """The findings as lines, and the exit status: 1 where something is wrong, otherwise 0.

    >>> report([Finding("wrong", "the add-in is missing", "run: xlwings addin install")])
    (['WRONG     the add-in is missing', '          cure: run: xlwings addin install'], 1)
    """
    lines = []
    for kind, text, cure in findings:
        lines.append(f"{'WRONG' if kind == 'wrong' else kind:<10}{text}")
        lines += [f"{'':<10}cure: {cure}"] if cure else []
    return lines, int(any(finding.kind == "wrong" for finding in findings))


def _python(machine: Machine) -> Iterator[Finding]:
    version = ".".join(map(str, sys.version_info[:3]))
    yield Finding("ok", f"Python {version}, {struct.calcsize('P') * 8} bit, at {machine.python}")
    yield Finding("ok", f"sheetfuncs {__version__}, at {Path(__file__).parent.parent}")


def _xlwings_version() -> str:
    try:
        return metadata.version("xlwings")
    except metadata.PackageNotFoundError:
        return ""


def _packages(machine: Machine) -> Iterator[Finding]:
    version = _xlwings_version()
    if not version:
        yield Finding("wrong", "xlwings is not installed in this Python", "run: python -m pip install xlwings")
        return
    yield Finding("ok", f"xlwings {version}")
    try:
        count = len(import_module(UDF_MODULE).FUNCTIONS)
        yield Finding("ok", f"{UDF_MODULE} loads with {count} functions")
    except ImportError as error:
        yield Finding(
            "wrong", f"{UDF_MODULE} doesn't load: {error}", "run: python -m pip install --force-reinstall xlwings"
        )
    if not machine.windows:
        yield Finding("not seen", "the library that Excel loads, pywin32 and the add-in: this is not Windows")
        return
    if find_spec("pythoncom") is None:
        yield Finding("wrong", "pywin32 is not installed in this Python", "run: python -m pip install pywin32")
    yield from (_library(machine, bits, f"xlwings{bits}-{version}.dll") for bits in (64, 32))


def _library(machine: Machine, bits: int, library: str) -> Finding:
    """The library through which an Excel of so many bits calls Python: beside python.exe or one folder up."""
    folders = (machine.python.parent, machine.python.parent.parent)
    if any((folder / library).is_file() for folder in folders):
        return Finding("ok", f"{library} for a {bits} bit Excel lies where the add-in looks for it")
    if (machine.own_files / library).is_file():
        text = f"{library} is in {machine.own_files}, where the add-in does not look: pip installed with --user"
        return Finding("wrong", text, f"run: python -m pip uninstall xlwings; then {ENVIRONMENT}")
    text = f"{library} is neither in {folders[0]} nor in {folders[1]}"
    if bits == 32:
        return Finding("not seen", f"{text}; only a 32 bit Excel would want it (File > Account > About Excel)")
    cure = "run: python -m pip install --force-reinstall xlwings; if it vanishes again, ask the virus scanner"
    return Finding("wrong", text, cure)


def _excel(machine: Machine) -> Iterator[Finding]:
    """The add-in in Excel's start folder, and the Python that its settings name."""
    if not machine.windows:
        return
    cure = "close Excel and run: xlwings addin install"
    installed = machine.start_folder / "xlwings.xlam"
    package = find_spec("xlwings")
    shipped = Path(package.origin).parent / "addin" / "xlwings.xlam" if package and package.origin else None
    if not installed.is_file():
        yield Finding("wrong", f"the xlwings add-in is not in {machine.start_folder}", cure)
    elif shipped and shipped.is_file() and shipped.read_bytes() != installed.read_bytes():
        text = "the xlwings add-in in Excel's start folder is of another version than the xlwings of this Python"
        yield Finding("wrong", text, f"{cure}; then press Import Functions again")
    else:
        yield Finding("ok", f"the xlwings add-in is in {machine.start_folder}")
    yield from _user_settings(machine, cure)


def _user_settings(machine: Machine, cure: str) -> Iterator[Finding]:
    path = machine.home / ".xlwings" / "xlwings.conf"
    lines = path.read_text(encoding="utf-8", errors="replace").splitlines() if path.is_file() else []
    settings = {key.upper(): value for key, _, value in (line.replace('"', "").partition(",") for line in lines)}
    named = settings.get("INTERPRETER_WIN") or settings.get("INTERPRETER")
    if settings.get("CONDA PATH"):
        yield Finding(
            "not seen", f"{path} names a conda environment: {settings['CONDA PATH']}; make sure that it is this one"
        )
    elif not named:
        yield Finding("wrong", f"{path} names no Python, so Excel takes any that it finds first", cure)
    else:
        yield _interpreter(named, str(path), machine)


def _interpreter(named: str, where: str, machine: Machine) -> Finding:
    path = Path(os.path.expandvars(named))
    if not path.is_file():
        return Finding("wrong", f"{where} names {named}, which does not exist", f"write {machine.python} there")
    if path.parent.resolve() != machine.python.parent.resolve():
        text = f"{where} names {named}, another Python than this one"
        return Finding("wrong", text, f"write {machine.python} there, or run this check with the other Python")
    return Finding("ok", f"{where} names this Python")


def _trust(machine: Machine) -> Iterator[Finding]:
    if not machine.windows:
        yield Finding("not seen", "the trust settings of Excel: this is not Windows")
        return
    access, by_policy = _setting(machine, "AccessVBOM")
    box = "Trust access to the VBA project object model"
    if access == 1:
        yield Finding("ok", f"'{box}' is on, as Import Functions needs")
    elif by_policy:
        cure = "read in the .bas file beside the workbook instead: Alt+F11, File > Import File"
        yield Finding("wrong", f"'{box}' is switched off by a policy of your organisation", cure)
    else:
        yield Finding("wrong", f"'{box}' is off, or Excel was never started", f"tick it under {TRUST}")
    macros, _ = _setting(machine, "VBAWarnings")
    if macros == 4:
        cure = f"choose 'Disable VBA macros with notification' under {TRUST}"
        yield Finding("wrong", "all macros are disabled without a word", cure)


def _setting(machine: Machine, name: str) -> tuple[int | None, bool]:
    """A setting of Excel and whether a policy sets it, which then has the last word."""
    for root, policy in ((r"Software\Policies\Microsoft\Office", True), (r"Software\Microsoft\Office", False)):
        for version in OFFICE_VERSIONS:
            value = machine.registry(rf"{root}\{version}\Excel\Security", name)
            if value is not None:
                return value, policy
    return None, False


def _registry_number(key: str, name: str) -> int | None:
    try:
        winreg = import_module("winreg")  # no such module but on Windows
        with winreg.OpenKey(winreg.HKEY_CURRENT_USER, key) as opened:
            return int(winreg.QueryValueEx(opened, name)[0])
    except (ImportError, OSError):
        return None


def _workbook(workbook: str, machine: Machine) -> Iterator[Finding]:
    path = Path(workbook)
    if path.suffix.lower() not in (".xlsm", ".xlsb", ".xlam"):
        cure = "make one with: python -m workbook_template new FILE.xlsm"
        yield Finding("wrong", f"{path.name} is no macro workbook; Import Functions refuses it", cure)
        return
    try:
        with zipfile.ZipFile(path) as package:
            parts = {name: package.read(name) for name in package.namelist()}
        settings = _config(parts)
    except FileNotFoundError:
        yield Finding("wrong", f"{workbook} does not exist", "give the path of the macro workbook")
        return
    except DAMAGED:
        yield Finding("wrong", f"{path.name} can't be read as a workbook", "close it in Excel, or make a new one")
        return
    yield from _project(path, parts.get("xl/vbaProject.bin", b""))
    yield from _config_findings(path, settings, machine)
    yield from _place(path, settings or {}, machine)


def _project(path: Path, project: bytes) -> Iterator[Finding]:
    if not project:
        cure = "make one with: python -m workbook_template new FILE.xlsm"
        yield Finding("wrong", f"{path.name} holds no macro project, so it doesn't refer to the add-in", cure)
    elif "xlwings_udfs".encode("utf-16-le") in project:
        yield Finding("ok", f"the functions have been imported into {path.name}")
    else:
        cure = "open it in Excel and press Import Functions on the xlwings tab, then save"
        yield Finding("wrong", f"the functions have not been imported into {path.name} yet", cure)


def _config_findings(path: Path, settings: dict[str, str] | None, machine: Machine) -> Iterator[Finding]:
    if settings is None:
        cure = f"add one with the row: UDF Modules | {UDF_MODULE}"
        yield Finding("wrong", f"{path.name} has no sheet named {CONFIG_SHEET}", cure)
        return
    modules = settings.get("UDF MODULES", "")
    if UDF_MODULE in modules.split(";"):
        yield Finding("ok", f"the sheet {CONFIG_SHEET} names {UDF_MODULE}")
    else:
        cure = f"write {UDF_MODULE} beside UDF Modules (the sheet may be hidden)"
        yield Finding("wrong", f"the sheet {CONFIG_SHEET} names '{modules}' under UDF Modules", cure)
    empty = [key for key, value in settings.items() if not value and key.startswith("INTERPRETER")]
    for key in empty:
        yield Finding(
            "wrong",
            f"the row {key} of the sheet {CONFIG_SHEET} is empty, and that overrides your own settings",
            "delete the row",
        )
    named = settings.get("INTERPRETER_WIN")
    if named and machine.windows:
        yield _interpreter(named, f"the sheet {CONFIG_SHEET}", machine)


def _place(path: Path, settings: dict[str, str], machine: Machine) -> Iterator[Finding]:
    whole = path.absolute()
    in_step = any(folder in whole.parents for folder in machine.synced) or any(
        part.lower().startswith(SYNCED_FOLDERS) for part in whole.parts[:-1]
    )
    if not in_step:
        yield Finding("ok", f"{path.name} lies in no folder known to be synced")
    elif settings.get("ADD_WORKBOOK_TO_PYTHONPATH", "").lower() == "false":
        text = "lies in a synced folder; its config sheet keeps xlwings from searching there, but nobody has tried it"
        yield Finding("not seen", f"{path.name} {text}; work on a local copy if a call fails")
    else:
        cure = f"move it to a local folder, or write ADD_WORKBOOK_TO_PYTHONPATH | False on the sheet {CONFIG_SHEET}"
        yield Finding("wrong", f"{path.name} lies in a synced folder, where xlwings may not find its path", cure)
    if not machine.windows:
        yield Finding("not seen", "whether Windows blocks the file as one from the Internet: this is not Windows")
    elif Path(f"{whole}:Zone.Identifier").exists():
        cure = "right-click the file, Properties, tick Unblock, OK"
        yield Finding(
            "wrong", f"Windows marks {path.name} as a file from the Internet, so Excel blocks its macros", cure
        )


def _config(parts: dict[str, bytes]) -> dict[str, str] | None:
    """Names in capitals and values of the config sheet as xlwings reads it; None where there is no such sheet."""
    book = ElementTree.fromstring(parts["xl/workbook.xml"])
    keys = {sheet.get("name"): sheet.get(_RELATION) for sheet in book.iter(f"{_SHEET}sheet")}
    if CONFIG_SHEET not in keys:
        return None
    relations = ElementTree.fromstring(parts["xl/_rels/workbook.xml.rels"])
    targets = {relation.get("Id"): relation.get("Target", "") for relation in relations}
    target = targets[keys[CONFIG_SHEET]]
    sheet = ElementTree.fromstring(parts[target[1:] if target.startswith("/") else f"xl/{target}"])
    shared = [_joined(item) for item in ElementTree.fromstring(parts.get("xl/sharedStrings.xml", b"<none/>"))]
    settings = {}
    for row in sheet.iter(f"{_SHEET}row"):
        cells = {cell.get("r", "").rstrip("0123456789"): _cell_text(cell, shared) for cell in row}
        if not cells.get("A"):
            break
        settings[cells["A"].upper()] = cells.get("B", "")
    return settings


def _cell_text(cell: ElementTree.Element, shared: list[str]) -> str:
    if cell.get("t") == "inlineStr":
        return _joined(cell)
    value = cell.findtext(f"{_SHEET}v", "")
    if cell.get("t") == "b":
        return "True" if value == "1" else "False"
    return shared[int(value)] if cell.get("t") == "s" and value else value


def _joined(element: ElementTree.Element) -> str:
    return "".join(text.text or "" for text in element.iter(f"{_SHEET}t"))
