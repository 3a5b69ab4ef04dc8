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
