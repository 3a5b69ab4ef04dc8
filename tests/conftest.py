"""Fixtures that all tests share."""

from __future__ import annotations

import ast
import ctypes
import fcntl
import gc
from collections.abc import Callable, Iterator, Mapping
from functools import cache, partial
from pathlib import Path
from typing import Any

import pytest

from workbook_template.office import Document, Office

OFFICE = {"office", "new_office"}
"""Fixtures that start LibreOffice."""
PATIENCE_S = 600.0
"""A busy machine is no fault: how long an answer of LibreOffice may take."""


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
    """What a check keeps for the next run is kept for this run of the tests alone, not in the home of who runs them."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("XDG_CACHE_HOME", str(shared / "cache"))
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


@pytest.fixture(scope="module", autouse=True)
def memory_returned(request: pytest.FixtureRequest) -> Iterator[None]:
    """What a file of tests has kept for itself is dropped after it, and the C library gives back what was freed.

    Whole workbooks are kept so; their cells hold one another, and lie scattered over the heap.
    """
    yield
    if request.path.parent == Path(__file__).parent:
        for one in vars(request.module).values():
            if hasattr(one, "cache_clear") and one.__module__ == request.module.__name__:
                one.cache_clear()
    gc.collect()
    ctypes.CDLL(None).malloc_trim(0)


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
    """Files that the command makes, each when it is first asked for, by one worker for all."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def __getitem__(self, name: str) -> Path:
        path = self._folder / name.partition(".")[0] / name
        with (self._folder / f"{name}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            path.parent.mkdir(exist_ok=True)
            if not path.exists():
                self._make(name, path)
        return path

    def _make(self, name: str, path: Path) -> None:
        from workbook_template.__main__ import main  # takes the whole workbook along
        from workbook_template.file.macro import add_macros

        if name == WITH_MACROS:
            add_macros(self["demo.xlsx"], path)
        else:
            command, *options = FILES[name]
            assert main([command, str(path), *options]) == 0

    def __iter__(self) -> Iterator[str]:
        return iter((*FILES, WITH_MACROS))

    def __len__(self) -> int:
        return len(FILES) + 1


@pytest.fixture(scope="session")
def built(shared: Path) -> Built:
    """Empty workbooks for some threads, and the example, also with macros."""
    return Built(shared)


@pytest.fixture(scope="session")
def filled(office: Office, tmp_path_factory: pytest.TempPathFactory) -> object:
    """A workbook that was filled in, as it is built with stored values, and as LibreOffice has saved it."""
    from read_back_files import fill_and_save  # takes the whole workbook along

    return fill_and_save(office, tmp_path_factory.mktemp("filled"))


@pytest.fixture(scope="module")
def log_document(office: Office, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Document]:
    """The empty workbook, open for the tests of the log."""
    from workbook_cases import plain_book  # takes the whole workbook along

    path = tmp_path_factory.mktemp("log") / "new.xlsx"
    path.write_bytes(plain_book()[1])
    with office.open(path) as opened:
        yield opened


@pytest.fixture
def log_sheet(log_document: Document) -> Document:
    """The same as every test of the log finds it."""
    from log_cases import cleared

    return cleared(log_document)
