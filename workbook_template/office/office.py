"""LibreOffice as a calculator of workbooks: `Office` runs one, `Document` is one open workbook in it.

The office is a process of its own, with an empty profile of its own, and never runs as root. What it opens
and saves are copies in a folder that it may read, so the files need no special rights and get no lock files.

    with Office() as office:
        book = office.open("job.xlsx")
        book.set({"thread": "M20x2.5-6g", "Setup!B4": 0.92})
        pitch, row = book.get(["pitch", ("Log", "A5:F5")])
"""

from __future__ import annotations

import atexit
import contextlib
import json
import queue
import shutil
import subprocess
import threading
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import IO, Any, NamedTuple, TypeAlias

from workbook_template.office import place
from workbook_template.office.place import OfficeError

Key: TypeAlias = "str | tuple[str, str]"
"""A place: a defined name, "Sheet!B2", "Sheet!B2:C9", (sheet, "B2"), or (sheet, a name of that sheet)."""

HERE = Path(__file__).parent
START_SECONDS = 100.0
KILL_SECONDS = 8.0
NOISE = ("javaldx", "dconf")
ERRORS = {
    503: "#NUM!",
    519: "#VALUE!",
    521: "#NULL!",
    524: "#REF!",
    525: "#NAME?",
    532: "#DIV/0!",
    32767: "#N/A",
}


class OfficeStoppedError(OfficeError):
    """The office ended or hung and was stopped; open the workbook again, in a new office."""


class Error(NamedTuple):
    """An error value in a cell: LibreOffice's number and the text it shows."""

    code: int
    text: str


Value: TypeAlias = "float | bool | str | Error | None"
Rows: TypeAlias = "list[list[Value]]"


def _value(raw: Any) -> Any:
    """An answer with its error values made `Error`."""
    if isinstance(raw, list):
        return [_value(one) for one in raw]
    if isinstance(raw, dict):
        return Error(raw["error"], ERRORS.get(raw["error"], f"Err:{raw['error']}"))
    return raw


def _key(key: Key) -> list[str | None]:
    """A place as the worker wants it: [sheet or None, address or name].

    >>> _key("'Job 1'!B2"), _key(("Job 1", "B2")), _key("pitch")
    (['Job 1', 'B2'], ['Job 1', 'B2'], [None, 'pitch'])
    """
    if not isinstance(key, str):
        return list(key)
    sheet, mark, text = key.rpartition("!")
    if not mark:
        return [None, text]
    if len(sheet) > 1 and sheet[0] == sheet[-1] == "'":
        sheet = sheet[1:-1].replace("''", "'")
    return [sheet, text]


class Document:
    """One open workbook; made by `Office.open`."""

    def __init__(self, office: Office, number: int, name: str) -> None:
        self._office = office
        self._number = number
        self._life = office.life
        self.name = name

    def _ask(self, operation: str, **values: Any) -> Any:
        if self._life != self._office.life:
            raise OfficeStoppedError(f"{self.name} was open in an office that has stopped; open it again")
        return self._office.ask(operation, number=self._number, **values)

    def get(self, keys: Iterable[Key]) -> list[Any]:
        """The values of any number of places, in their order, in one call.

        A single cell gives a number (dates are serial numbers), True or False, a text, `Error`, or None when
        blank; a rectangle gives a list of rows of such values.
        """
        found: list[Any] = _value(self._ask("get", keys=[_key(key) for key in keys]))
        return found

    def __getitem__(self, key: Key) -> Any:
        """The value of one place."""
        return self.get([key])[0]

    def shown(self, keys: Iterable[Key]) -> list[Any]:
        """The texts that the cells show, with their number formats."""
        found: list[Any] = self._ask("shown", keys=[_key(key) for key in keys])
        return found

    def formulas(self, key: Key) -> list[list[str]]:
        """Rows of formula text, semicolons between arguments; constants as typed, blanks as empty text."""
        found: list[list[str]] = self._ask("formulas", key=_key(key))
        return found

    def sheet_names(self) -> list[str]:
        """The sheets in tab order, hidden ones too."""
        found: list[str] = self._ask("sheet_names")
        return found

    def set(self, values: Mapping[Key, Value | Sequence[Sequence[Value]]], *, force: bool = False) -> None:
        """Put numbers and texts into cells, rows of them into rectangles; None empties. Text stays text.

        A locked cell of a protected sheet is refused, as a person could not change it either, unless `force`.
        """
        self._ask("write", items=[[_key(key), value] for key, value in values.items()], how="put", force=force)

    def type(self, texts: Mapping[Key, str], *, force: bool = False) -> None:
        """Enter text as a person types it: "3/8" becomes a date, "=A1*2" a formula; locks as in `set`."""
        self._ask("write", items=[[_key(key), text] for key, text in texts.items()], how="enter", force=force)

    def edit(self, key: Key, text: str) -> None:
        """Type into one unlocked cell as a person does ("" clears it): only what depends on it is computed."""
        self._ask("edit", key=_key(key), text=text)

    def edits(self, items: Iterable[tuple[Key, str]]) -> list[float]:
        """Edits as `edit` makes them, each with all that depends on it; the office's processor seconds for each."""
        found: list[float] = self._ask("edits", items=[[_key(key), text] for key, text in items])
        return found

    def undo(self) -> None:
        """Take the last edit back."""
        self._ask("undo")

    def differences(self, other: Document, *, formulas_only: bool = False) -> list[tuple[str, str, Value, Value]]:
        """Sheet, cell, value here and value there of each cell that differs from another opened copy."""
        found = self._ask("differences", other=other._number, formulas_only=formulas_only)
        return [tuple(row) for row in found]

    def stops(self, sheet: str, most: int = 2000) -> list[str]:
        """The cells that Tab comes to on a protected sheet, in their order, from the top left on."""
        found: list[str] = self._ask("stops", sheet=sheet, most=most)
        return found

    def recalculate(self) -> None:
        """Compute all formulas again, also those that only carry a stored value."""
        self._ask("recalculate")

    def save_as(self, path: str | Path, filter: str | None = None, *, sheet: str | None = None) -> Path:
        """Write a copy as .xlsx, .ods, .pdf or .csv (the first sheet or the named one), or by a named filter.

        The page images of a PDF are had with `pdf_pages`.
        """
        path = Path(path)
        staged = self._office.stage() / path.name
        self._ask("save", path=str(staged), filter_name=filter, sheet=sheet)
        written = staged
        if path.suffix == ".csv" and not staged.exists():  # the office adds the sheet's name
            written = next(iter(staged.parent.iterdir()), staged)
        shutil.copyfile(written, path)
        shutil.rmtree(staged.parent)
        return path

    def close(self) -> None:
        """Close without saving; closing twice, or after the office has gone, is no error."""
        if self._life == self._office.life and self._office.running:
            self._ask("close")

    def __enter__(self) -> Document:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


class Office:
    """One LibreOffice without a window. It starts when first needed, and again after it has died or hung.

    `locale` decides how typed text is read ("de-DE": decimal comma). After `timeout` seconds without an
    answer the office is ended.
    """

    def __init__(self, *, locale: str = "en-US", timeout: float = 60.0) -> None:
        self.timeout = timeout
        self.life = 0
        self._user = place.account()
        self._process: subprocess.Popen[str] | None = None
        self._answers: queue.SimpleQueue[str] = queue.SimpleQueue()
        self._staged = 0
        self._folder = place.make_folder(self._user)
        self._log = self._folder / "log.txt"
        atexit.register(self.close)
        place.write_profile(self._folder / "profile", locale)
        for name in ("bridge.py", "worker.py", "worker_cells.py"):
            shutil.copyfile(HERE / name, self._folder / name)
        place.hand_over(self._folder, self._user)

    @property
    def running(self) -> bool:
        """Whether the office is there now."""
        return self._process is not None and self._process.poll() is None

    @property
    def pid(self) -> int:
        """The process that leads the office's process group; starts the office if need be."""
        self.start()
        assert self._process is not None
        return self._process.pid

    def _run(self, command: Sequence[str], **options: Any) -> subprocess.Popen[str]:
        """A process of the office's user, with its own home, in its own group: out of reach of Ctrl-C."""
        return subprocess.Popen(
            command,
            cwd=self._folder,
            env=place.environment(self._folder),
            start_new_session=True,
            text=True,
            encoding="utf-8",
            **options,
            **place.as_account(self._user),
        )

    def start(self) -> None:
        """Start the office if it is not running."""
        if self.running:
            return
        self._end()
        command, python = place.soffice(), place.uno_python()
        profile = (self._folder / "profile").as_uri()
        with self._log.open("w") as log:
            self._process = self._run(
                [python, str(self._folder / "bridge.py"), command, profile, str(self._folder)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=log,
            )
        self.life += 1
        self._answers = queue.SimpleQueue()
        self._listener = threading.Thread(target=_listen, args=(self._process.stdout, self._answers), daemon=True)
        self._listener.start()
        self._answer("start", START_SECONDS)

    def ask(self, operation: str, **values: Any) -> Any:
        """Send one request to the running worker and return its answer."""
        if self._process is None or not self.running:
            raise self._stopped(f"LibreOffice ended before it could {operation}")
        questions = self._process.stdin
        assert questions is not None
        try:
            questions.write(json.dumps([operation, values]) + "\n")
            questions.flush()
        except OSError as error:
            raise self._stopped(f"LibreOffice ended before it could {operation}") from error
        return self._answer(operation, self.timeout)

    def _answer(self, operation: str, seconds: float) -> Any:
        try:
            line = self._answers.get(timeout=seconds)
        except queue.Empty:
            raise self._stopped(f"LibreOffice did not answer within {seconds:g} seconds ({operation})") from None
        except BaseException:
            self._end(0)  # Ctrl-C between question and answer: the next answer would be the wrong one
            raise
        if not line:
            raise self._stopped(f"LibreOffice ended during: {operation}")
        answer = json.loads(line)
        if "error" in answer:
            raise OfficeError(answer["error"])
        return answer["ok"]

    def _stopped(self, sentence: str) -> OfficeStoppedError:
        """End what is left of the office; the error for it, with the last words of the office's log."""
        self._end(0)
        lines = [
            line for line in self._log.read_text(errors="replace").splitlines() if not any(n in line for n in NOISE)
        ]
        return OfficeStoppedError("\n".join([sentence, *lines[-5:]]))

    def _end(self, patience: float = KILL_SECONDS) -> None:
        """End the office: politely by closing its stdin, then the whole process group."""
        process, self._process = self._process, None
        if process is None:
            return
        self.life += 1
        with contextlib.suppress(OSError):
            _close(process.stdin)
        with contextlib.suppress(subprocess.TimeoutExpired):
            process.wait(patience)
        place.kill_group(process)
        self._listener.join(KILL_SECONDS)
        _close(process.stdout)

    def open(self, path: str | Path, *, recalculate: bool = True) -> Document:
        """Open a copy of a workbook; all is computed again, as otherwise stored values would be believed."""
        path = Path(path)
        if not path.is_file():
            raise OfficeError(f"there is no file {path}")
        staged = self.stage() / path.name
        shutil.copyfile(path, staged)
        place.hand_over(staged, self._user)
        self.start()
        number = self.ask("open", path=str(staged), recalculate=recalculate)
        return Document(self, number, path.name)

    def call(self, name: str, arguments: Sequence[Any] = ()) -> Any:
        """One spreadsheet function's value, without a workbook: a scalar, or rows.

        Built-in functions go by their English name, add-in functions by programmatic name (by the name people
        type, only the top left value comes). None leaves an argument out, rows of values make a range.
        """
        self.start()
        return _value(self.ask("call", name=name, arguments=list(arguments)))

    def install_extension(self, path: str | Path) -> None:
        """Add an .oxt to this office's profile. A running office is ended: open its documents again."""
        self._end()
        staged = self.stage() / Path(path).name
        shutil.copyfile(path, staged)
        place.hand_over(staged, self._user)
        profile = (self._folder / "profile").as_uri()
        command = [place.unopkg(), "add", "-f", f"-env:UserInstallation={profile}", str(staged)]
        process = self._run(command, stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT)
        try:
            said, _ = process.communicate(timeout=START_SECONDS)
        except subprocess.TimeoutExpired:
            place.kill_group(process)
            said, _ = process.communicate()
            said += f"\nno end after {START_SECONDS:g} seconds"
        if process.returncode:
            raise OfficeError(f"{Path(path).name} could not be added to LibreOffice: {said.strip()}")

    def stage(self) -> Path:
        """A new folder that both sides can use."""
        self._staged += 1
        folder = self._folder / f"copy{self._staged}"
        folder.mkdir()
        place.hand_over(folder, self._user)
        return folder

    def close(self) -> None:
        """End the office and remove its folder."""
        atexit.unregister(self.close)
        self._end()
        shutil.rmtree(self._folder, ignore_errors=True)

    def __enter__(self) -> Office:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()


def _close(stream: IO[str] | None) -> None:
    """Close a pipe of a process."""
    assert stream is not None
    stream.close()


def _listen(lines: Iterable[str], answers: queue.SimpleQueue[str]) -> None:
    """Move answer lines into the queue; an empty one says that there are no more."""
    for line in lines:
        answers.put(line)
    answers.put("")


def pdf_pages(pdf: str | Path, folder: str | Path, *, dpi: int = 80) -> list[Path]:
    """The pages of a PDF as PNG files in `folder`, in order; needs pdftoppm (Debian: poppler-utils)."""
    program = shutil.which("pdftoppm")
    if program is None:
        raise OfficeError("pdftoppm is missing: install poppler-utils")
    stem = Path(folder) / Path(pdf).stem
    done = subprocess.run(
        [program, "-png", "-r", str(dpi), str(pdf), str(stem)], capture_output=True, text=True, timeout=120
    )
    if done.returncode:
        raise OfficeError(f"pdftoppm could not read {Path(pdf).name}: {done.stderr.strip()}")
    return sorted(Path(folder).glob(f"{stem.name}-*.png"))
