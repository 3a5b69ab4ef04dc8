"""Fixtures that all tests share."""

from __future__ import annotations

import fcntl
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from workbook_template.office import Document, Office

OFFICE = {"office", "new_office"}
"""Fixtures that start LibreOffice."""


@pytest.hookimpl(tryfirst=True)  # xdist reads the mark afterwards
def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Of several workers one has all tests with an office, and begins with them; the others share the rest by file."""
    if not hasattr(config, "workerinput"):
        return
    for item in items:
        with_office = not OFFICE.isdisjoint(getattr(item, "fixturenames", ()))
        item.add_marker(pytest.mark.xdist_group("office" if with_office else item.path.name))
    items.sort(key=lambda item: item.get_closest_marker("xdist_group").args != ("office",))


@pytest.hookimpl(tryfirst=True)
def pytest_runtest_logreport(report: pytest.TestReport) -> None:
    """A test is told by its own name, without the group that xdist adds to it."""
    name, mark, group = report.nodeid.rpartition("@")
    if mark and "]" not in group:
        report.nodeid = name


@pytest.fixture(scope="session")
def office() -> Iterator[Office]:
    """The one LibreOffice of the test session."""
    with Office() as running:
        yield running


@pytest.fixture(scope="session")
def new_office() -> type[Office]:
    """What makes one more office, of another kind or to be ended; no test makes one without asking for this."""
    return Office


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
        path = self._folder / name
        with path.with_suffix(f"{path.suffix}.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
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
def built(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Built:
    """Empty workbooks for some threads, and the example, also with macros."""
    own = tmp_path_factory.getbasetemp()
    folder = (own.parent if hasattr(request.config, "workerinput") else own) / "built"
    folder.mkdir(exist_ok=True)
    return Built(folder)


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
