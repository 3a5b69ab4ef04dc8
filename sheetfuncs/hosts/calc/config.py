"""The XML parts of the extension: what Calc knows of the functions before it loads them, the job, the manifest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from xml.sax.saxutils import escape, quoteattr

from sheetfuncs.hosts.calc.functions import Function

HEAD = '<?xml version="1.0" encoding="UTF-8"?>\n'
NODES = 'xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"'
CATEGORY = "Add-In"
"""The one category of Calc's function wizard that is meant for functions from outside."""


def functions_xcu(service: str, functions: Sequence[Function]) -> str:
    """CalcAddIns.xcu: names, help and arguments of each function.

    >>> from sheetfuncs.hosts.calc.functions import WHY
    >>> "<value xml:lang='en-US'>THREAD_WHY</value>".replace("'", '"') in functions_xcu("org.sample", [WHY])
    True
    """
    known = _set("AddInFunctions", "".join(_node(one.method, _function(one)) for one in functions))
    return _component("CalcAddIns", _set("AddInInfo", _node(service, known)))


def job_xcu(service: str, event: str) -> str:
    """Jobs.xcu: the service whose job runs at an event of any document.

    >>> job_xcu("org.sample.Job", "onDocumentAdded").count("org.sample.Job")
    3
    """
    job = _set("Jobs", _node(service, _property("Service", service)))
    return _component("Jobs", job + _set("Events", _set(event, _set("JobList", _node(service, "")), "fuse")))


def description_xml(identifier: str, version: str, title: str, about: str, oldest: str) -> str:
    """description.xml: what the extension manager shows; `about` is the name of the text file inside.

    `oldest` is the first version of LibreOffice that may install it.
    """
    return (
        f'{HEAD}<description xmlns="http://openoffice.org/extensions/description/2006" '
        f'xmlns:d="http://openoffice.org/extensions/description/2006" '
        f'xmlns:l="http://libreoffice.org/extensions/description/2011" '
        f'xmlns:xlink="http://www.w3.org/1999/xlink">\n'
        f"<identifier value={quoteattr(identifier)}/>\n"
        f"<version value={quoteattr(version)}/>\n"
        f'<display-name><name lang="en">{escape(title)}</name></display-name>\n'
        f'<extension-description><src lang="en" xlink:href={quoteattr(about)}/></extension-description>\n'
        f"<dependencies><l:LibreOffice-minimal-version value={quoteattr(oldest)} "
        f"d:name={quoteattr(f'LibreOffice {oldest}')}/></dependencies>\n"
        f"</description>\n"
    )


def manifest_xml(parts: Mapping[str, str]) -> str:
    """META-INF/manifest.xml from path and media type of each part, in the order in which they are registered."""
    entries = "".join(
        f"<manifest:file-entry manifest:full-path={quoteattr(path)} manifest:media-type={quoteattr(kind)}/>\n"
        for path, kind in parts.items()
    )
    return f'{HEAD}<manifest:manifest xmlns:manifest="http://openoffice.org/2001/manifest">\n{entries}</manifest:manifest>\n'


def _function(function: Function) -> str:
    arguments = "".join(  # the office sorts the nodes by name
        _node(f"a{number:02}", _text("DisplayName", argument.name) + _text("Description", argument.help))
        for number, argument in enumerate(function.arguments, start=1)
    )
    return (
        _text("DisplayName", function.name)
        + _text("Description", function.help)
        + _property("Category", CATEGORY)
        + _text("CompatibilityName", function.name)
        + _set("Parameters", arguments)
    )


def _component(name: str, inside: str) -> str:
    return (
        f'{HEAD}<oor:component-data {NODES} oor:name="{name}" oor:package="org.openoffice.Office">\n'
        f"{inside}</oor:component-data>\n"
    )


def _node(name: str, inside: str) -> str:
    return _set(name, inside, "replace")


def _set(name: str, inside: str, operation: str = "") -> str:
    mark = f' oor:op="{operation}"' if operation else ""
    return f"<node oor:name={quoteattr(name)}{mark}>\n{inside}</node>\n"


def _text(name: str, text: str) -> str:
    return f'<prop oor:name="{name}"><value xml:lang="en-US">{escape(text)}</value></prop>\n'


def _property(name: str, value: str) -> str:
    return f'<prop oor:name="{name}"><value>{escape(value)}</value></prop>\n'
