"""A LibreOffice of our own, without a window: open a workbook, change cells, read what the sheet computes."""

from __future__ import annotations

from workbook_template.office.office import Document, Error, Office, OfficeStoppedError, pdf_pages
from workbook_template.office.place import OfficeError

__all__ = ["Document", "Error", "Office", "OfficeError", "OfficeStoppedError", "pdf_pages"]
