"""The XML parts of the extension: what Calc knows of the functions before it loads them, the job, the manifest."""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import escape, quoteattr

from sheetfuncs.hosts.calc.functions import Argument, Function

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
NODES = 'xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"'
CATEGORY = "Add-In"
"""The only one of Calc's categories that is meant for functions from outside."""


def functions_xcu(service: str, functions: Sequence[Function]) -> str:
    """CalcAddIns.xcu: each function's names, help and arguments.

    >>> from sheetfuncs.hosts.calc.functions import FUNCTIONS, SERVICE
    >>> "THREAD_PITCH<" in functions_xcu(SERVICE, FUNCTIONS)
    True
    """
    nodes = [_node(function.method, _function(function)) for function in functions]
    inner = _node("AddInInfo", _node(service, _node("AddInFunctions", "".join(nodes), "")), "")
    return f'{HEAD}<oor:component-data {NODES} oor:name="CalcAddIns" oor:package="org.openoffice.Office">{inner}</oor:component-data>'
