"""Spreadsheet functions for cutting screw threads on a lathe: sizes, wires, depth, passes.

>>> import sheetfuncs
>>> sheetfuncs.evaluate("THREAD_PITCH_DIAMETER", "M20x2.5-6g", "max")
18.334
"""

from sheetfuncs.errors import CellError
from sheetfuncs.hosts.call import evaluate

__all__ = ["CellError", "__version__", "evaluate"]

__version__ = "0.1.0"
