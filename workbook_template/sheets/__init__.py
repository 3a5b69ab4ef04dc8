"""The sheets of the workbook."""
