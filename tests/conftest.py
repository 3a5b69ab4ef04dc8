"""Fixtures that all tests share."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from workbook_template.office import Office


@pytest.fixture(scope="session")
def office() -> Iterator[Office]:
    """The one LibreOffice of the test session."""
    with Office() as running:
        yield running


@pytest.fixture(scope="session")
def filled(office: Office, tmp_path_factory: pytest.TempPathFactory) -> object:
    """A workbook that was filled in, as it is built with stored values, and as LibreOffice has saved it."""
    from read_back_files import fill_and_save  # takes the whole workbook along

    return fill_and_save(office, tmp_path_factory.mktemp("filled"))
