"""Writing with openpyxl: cells, looks, charts."""
