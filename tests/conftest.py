"""Fixtures that all tests share."""

from __future__ import annotations

import ast
import ctypes
import fcntl
import gc
import os
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import nullcontext
from datetime import date, datetime, time, timezone
from functools import cache, partial
from pathlib import Path
from types import ModuleType
from typing import Any

import once
import pytest
from hypothesis import HealthCheck, settings

from workbook_template.office import Document, Office

OFFICE = {"office", "new_office"}
"""Fixtures that start LibreOffice."""
PATIENCE_S = 600.0
"""A busy machine is no fault: how long an answer of LibreOffice may take."""


def pytest_configure() -> None:
    """All files are built on the day on which the tests began, in every worker, though midnight may come meanwhile."""
    noon = datetime.combine(date.today(), time(12), timezone.utc)
    os.environ.setdefault("SOURCE_DATE_EPOCH", str(int(noon.timestamp())))
    settings.register_profile(
        "unhurried", settings.default, deadline=None, suppress_health_check=[HealthCheck.too_slow]
    )
    settings.load_profile("unhurried")  # as it comes, hypothesis looks at a clock: a busy machine fails a test


def arguments(path: Path) -> dict[str, set[str]]:
    """What each function of a file asks for."""
    functions = [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.FunctionDef)]
    return {one.name: {argument.arg for argument in one.args.args} for one in functions}


@cache
def with_office(file: str) -> set[str]:
    """The functions of a file of tests that need LibreOffice, themselves or by what they ask for."""
    asked = arguments(Path(__file__)) | arguments(Path(__file__).with_name(file))
    found = set(OFFICE)
    while more := {name for name, needs in asked.items() if not found.isdisjoint(needs)} - found:
        found |= more
    return found


def group(nodeid: str) -> str:
    """What one worker gets as a whole: every test that needs LibreOffice, or the others of a file."""
    file, _, test = nodeid.partition("::")
    is_test = file.startswith("tests/") and file.endswith(".py")
    return "office" if is_test and test.partition("[")[0] in with_office(Path(file).name) else file


@pytest.hookimpl(trylast=True)
def pytest_collection_modifyitems(items: list[pytest.Item], config: pytest.Config) -> None:
    """The tests that need LibreOffice take longest and come first; the others meanwhile build the files for both."""

    def order(item: pytest.Item) -> tuple[bool, bool]:
        office = group(item.nodeid) == "office"
        return not office, ("built" in getattr(item, "fixturenames", ())) == office

    if hasattr(config, "workerinput"):
        items.sort(key=order)


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """Tests are shared among workers by their groups."""
    from xdist.scheduler import LoadScopeScheduling

    class ByGroup(LoadScopeScheduling):
        def _split_scope(self, nodeid: str) -> str:
            return group(nodeid)

    return ByGroup(config, log)


@pytest.fixture(scope="session")
def shared(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder of this run that all its workers have."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if hasattr(request.config, "workerinput") else own) / "shared"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session", autouse=True)
def own_cache(shared: Path) -> Iterator[None]:
    """What a check keeps for the next run is kept for this run of the tests alone, not in the home of who runs them.

    And files that tests alone read are packed less hard: a fifteenth larger, in a tenth of the time.
    """
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("workbook_template.file.store.PACKED", 5)
        patch.setenv("XDG_CACHE_HOME", str(shared / "cache"))
        patch.setattr(once, "folder", shared)
        yield


@pytest.fixture(scope="session")
def one_worker(shared: Path) -> Iterator[None]:
    """Held by the worker that runs LibreOffice, until the end."""
    with (shared / "office.lock").open("w") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            pytest.fail("another worker runs LibreOffice; `group` in tests/conftest.py did not see that this test does")
        yield


@pytest.fixture(scope="session")
def office(one_worker: None) -> Iterator[Office]:
    """The one LibreOffice of the test session."""
    with Office(timeout=PATIENCE_S) as running:
        yield running


@pytest.fixture(scope="session")
def new_office(one_worker: None) -> Callable[..., Office]:
    """What makes one more office, of another kind or to be ended; no test makes one without asking for this."""
    return partial(Office, timeout=PATIENCE_S)


MUCH = 100_000_000
"""Bytes that a process may take between two looks for garbage, a whole workbook and more: a look takes half a second.
To count blocks after each test would take as long."""
MANY = 1_000_000
"""Blocks that may be left after one, beside those of the beginning: 80 MB or so, one whole workbook."""
SELDOM = 10_000, 20, 10
"""New records, and looks among them, after which Python itself looks for garbage: through all that there is when two
million are new, a workbook and more. As it comes, it does so thirty times as often, which took a twentieth of all."""
DEAR = {"workbook_template.sheets.thread_listing._figures", "whole_books.plain_pages", "whole_books.demo_pages"}
"""Functions whose results are never dropped: the rows of the table of threads, a second's work for 16 MB, and
workbooks with few threads, two seconds' for as much each."""
OWN = {Path(__file__).parent, Path(__file__).parents[1] / "workbook_template"}


def taken() -> int:
    """Bytes that this process has in memory."""
    return int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE")


class Memory:
    """What this process holds: workbooks are many small records, and the garbage of many is much."""

    def __init__(self) -> None:
        gc.collect()
        gc.freeze()  # what the tests themselves are stays: to look through it with each collection took a tenth of all
        gc.set_threshold(*SELDOM)
        self.first, self.taken = sys.getallocatedblocks(), taken()

    def give_back(self) -> None:
        """Free what nothing refers to; the C library gives back what is free, which it does not by itself."""
        gc.collect()
        ctypes.CDLL(None).malloc_trim(0)
        self.taken = taken()

    def after_a_test(self) -> None:
        """Python looks for garbage the more seldom the more there is that is none."""
        if taken() > self.taken + MUCH:
            self.give_back()

    def after_a_file(self, module: ModuleType) -> None:
        """Drop what a file of tests has kept for itself, and whole workbooks; where much is left, all that is kept."""
        forget(module, sys.modules.get("whole_books"))
        if taken() > self.taken + MUCH:
            self.give_back()
            if sys.getallocatedblocks() > self.first + MANY:
                forget(*(one for one in sys.modules.values() if not OWN.isdisjoint(folders(one))))
                self.give_back()


def folders(module: ModuleType) -> Sequence[Path]:
    """The folders that a module lies in."""
    return Path(getattr(module, "__file__", None) or "").parents


def forget(*modules: ModuleType | None) -> None:
    """Drop what functions of these modules have kept to be quick."""
    for module in filter(None, modules):
        for name, one in vars(module).items():
            own = hasattr(type(one), "cache_clear") and one.__module__ == module.__name__
            if own and f"{module.__name__}.{name}" not in DEAR:
                one.cache_clear()


@pytest.fixture(scope="session")
def memory() -> Memory:
    return Memory()


@pytest.fixture(scope="module", autouse=True)
def little_kept(memory: Memory, request: pytest.FixtureRequest) -> Iterator[None]:
    yield
    if request.path.parent == Path(__file__).parent:
        memory.after_a_file(request.module)


@pytest.fixture(autouse=True)
def little_gathered(memory: Memory) -> Iterator[None]:
    yield
    memory.after_a_test()


FILES = {
    "new.xlsx": ("new", "--unit", "mm", "--thread", "0.9-14 UNS-2A", "--thread", "M20x2.5-6g"),
    "internal.xlsx": ("new", "--thread", "M5x0.8-6H LH"),
    "four_starts.xlsx": ("new", "--thread", "Tr40x28(P7)-7e"),
    "taper.xlsx": ("new", "--thread", "3/4-14 NPT"),
    "demo.xlsx": ("demo",),
}
"""What the command is asked for."""
WITH_MACROS = "demo.xlsm"


class Built(Mapping[str, Path]):
    """Files that the command makes, each when it is first asked for, by one worker for all; some with few threads."""

    def __init__(self, folder: Path, few: bool = False) -> None:
        self._folder, self._few = folder, few

    def __getitem__(self, name: str) -> Path:
        path = self._folder / name.partition(".")[0] / name
        with once.alone(self._folder, name):
            path.parent.mkdir(exist_ok=True)
            if not path.exists():
                self._make(name, path)
        return path

    def _make(self, name: str, path: Path) -> None:
        from whole_books import FEW, FEW_ROWS, few_threads  # take the whole workbook along

        from workbook_template.__main__ import main
        from workbook_template.file.macro import add_macros

        if name == WITH_MACROS:
            add_macros(self["demo.xlsx"], path)
        else:
            command, *options = FILES[name]
            rows = ("--rows", str(FEW_ROWS)) if self._few else ()
            with few_threads(FEW) if self._few else nullcontext():
                assert main([command, str(path), *options, *rows]) == 0

    def __iter__(self) -> Iterator[str]:
        return iter((*FILES, WITH_MACROS))

    def __len__(self) -> int:
        return len(FILES) + 1


@pytest.fixture(scope="session")
def built(shared: Path) -> Built:
    """Empty workbooks for some threads, and the example, also with macros."""
    return Built(shared)


@pytest.fixture(scope="session")
def built_short(shared: Path) -> Built:
    """The same with few other threads in their table and few rows in their log.

    No check takes them for whole without `short_table`.
    """
    folder = shared / "short"
    folder.mkdir(exist_ok=True)
    return Built(folder, few=True)


@pytest.fixture(scope="module")
def short_table(shared: Path) -> Iterator[None]:
    """In this file of tests, workbooks are built, and checked, as if there were few standard threads.

    Nine thousand are seven tenths of the cells of a workbook, and of the time that it takes to read one back.
    """
    from whole_books import FEW, few_threads  # take the whole workbook along

    from workbook_template.read_back import template

    with pytest.MonkeyPatch.context() as patch, few_threads(FEW):
        patch.setenv("XDG_CACHE_HOME", str(shared / "short" / "cache"))
        forget(template)
        yield
    forget(template)


@pytest.fixture(scope="session")
def lambda_files(shared: Path) -> Any:
    """The workbook of LAMBDAs, whole and with few threads."""
    from lambda_engine import made  # takes the whole workbook along

    with once.alone(shared, "lambdas"):
        return made(shared)


@pytest.fixture(scope="module")
def few(lambda_files: Any) -> Iterator[Any]:
    """The one with few threads, open in an engine that knows LAMBDA."""
    from lambda_engine import Opened

    opened = Opened(lambda_files.few)
    yield opened
    opened.close()


@pytest.fixture(scope="module")
def whole(lambda_files: Any) -> Iterator[Any]:
    """The whole one, open in the same engine."""
    from lambda_engine import Opened

    opened = Opened(lambda_files.whole)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def filled(shared: Path, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """A workbook that was filled in, with its stored values.

    It has few threads in its table, so what reads it back asks for `short_table` too.
    """
    from read_back_files import Filled, fill  # take the whole workbook along

    sample, content = once.once("filled", fill)
    path = tmp_path_factory.mktemp("filled") / "job.xlsx"
    path.write_bytes(content)
    return Filled(sample, path)


@pytest.fixture(scope="session")
def saved(office: Office, filled: Any, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same as LibreOffice has saved it."""
    from read_back_files import save  # takes the whole workbook along

    return save(office, filled, tmp_path_factory.mktemp("saved"))


@pytest.fixture(scope="session")
def one_empty(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Document, dict[str, Any]]]:
    """The empty workbook, open until the end, and what its entries hold."""
    from workbook_cases import plain_file  # takes the whole workbook along

    names = [entry.name for entry in plain_file().entries if entry.role == "input"]
    path = tmp_path_factory.mktemp("empty") / "new.xlsx"
    path.write_bytes(plain_file().content)
    with office.open(path) as opened:
        yield opened, dict(zip(names, opened.get(names)))


@pytest.fixture(scope="module")
def empty_workbook(one_empty: tuple[Document, dict[str, Any]]) -> Iterator[Document]:
    """The empty workbook, open; what a file of tests sets in its entries is taken back afterwards.

    What is forced, or typed so that the look of a cell follows, as a day, wants a workbook of its own.
    """
    opened, before = one_empty
    yield opened
    now = dict(zip(before, opened.get(list(before))))
    opened.set({name: value for name, value in before.items() if now[name] != value})
    assert opened.get(list(before)) == list(before.values())


@pytest.fixture
def log_sheet(empty_workbook: Document) -> Document:
    """The same as every test of the log finds it."""
    from log_cases import cleared

    return cleared(empty_workbook)


@pytest.fixture
def lathes(empty_workbook: Document) -> Document:
    """The same as every test of that sheet finds it."""
    from lathe_cases import as_they_were

    return as_they_were(empty_workbook)
