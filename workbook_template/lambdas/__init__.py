"""The functions as named LAMBDAs: a workbook for an Excel where nothing can be installed."""
