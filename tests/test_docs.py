"""Generated pages and figures are current; links between pages lead somewhere."""

from __future__ import annotations

import re
import sys
from pathlib import Path

import pytest

DOCS = Path(__file__).parent.parent / "docs"
sys.path.insert(0, str(DOCS))

import figures  # noqa: E402  from docs/
import generate  # noqa: E402

from sheetfuncs.standards import origins  # noqa: E402

PAGES = [DOCS.parent / "README.md", DOCS.parent / "DEVELOPERS.md", *sorted(DOCS.glob("*.md"))]


def test_the_functions_page_is_current() -> None:
    assert generate.PAGE.read_text(encoding="utf-8") == generate.functions_page()


def test_the_page_of_values_from_memory_is_current() -> None:
    assert generate.MEMORY_PAGE.read_text(encoding="utf-8") == generate.memory_page()


def test_each_module_that_speaks_from_memory_has_a_row_that_says_so() -> None:
    """A standard's module or data file with the mark has a row of origins with something from memory."""
    told = {key for origin in origins.every() if origin.memory for key in origin.systems.split()}
    for path in (DOCS.parent / "sheetfuncs/standards").glob("*.py"):
        if "FROM MEMORY" in path.read_text(encoding="utf-8") and path.stem != "origins":
            assert path.stem in told, path.name


@pytest.mark.parametrize("draw", [figures.tool_tip, figures.wire], ids=lambda draw: draw.__name__)
def test_figures_are_current(draw, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(figures, "FOLDER", tmp_path)
    draw()
    (drawn,) = tmp_path.iterdir()
    assert drawn.read_text() == (DOCS / "figures" / drawn.name).read_text()


@pytest.mark.parametrize("page", PAGES)
def test_links_lead_somewhere(page: Path) -> None:
    for target in re.findall(r"\]\(([^)#:]+)(?:#[^)]*)?\)", page.read_text(encoding="utf-8")):
        assert (page.parent / target).exists(), f"{page.name} links to {target}"


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_to_a_heading_find_it(page: Path) -> None:
    """A heading's address is its text in small letters, blanks as dashes, without other signs."""
    for target, heading in re.findall(r"\]\(([^)#: ]*)#([^)]*)\)", page.read_text(encoding="utf-8")):
        there = (page.parent / target if target else page).read_text(encoding="utf-8")
        headings = [
            re.sub(r"[^\w\- ]", "", text.lower()).replace(" ", "-") for text in re.findall(r"^#+ (.*)$", there, re.M)
        ]
        assert heading in headings, f"{page.name} links to {target}#{heading}"


def test_every_published_file_is_accounted_for() -> None:
    page = (DOCS / "published-checks.md").read_text(encoding="utf-8")
    files = [file.name for file in (Path(__file__).parent / "published").glob("*.csv")]
    assert [name for name in files if name not in page] == []
