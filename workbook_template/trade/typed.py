"""What a person types into the workbook."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TypeAlias

Typed: TypeAlias = str | float | date | None
"""What is typed into one cell; None leaves it empty."""

Inputs: TypeAlias = dict[str, Typed | Sequence[Typed]]
"""Inputs by their defined names; a list fills the cells of a range from the top."""
