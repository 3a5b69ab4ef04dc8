"""The workbook of the shop: built, checked and read back."""
