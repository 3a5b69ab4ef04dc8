"""Where and as whom the office runs: programs, account, folder, profile.

Tried on Debian; for other systems only the usual paths are known.
"""

from __future__ import annotations

import contextlib
import functools
import glob
import os
import shutil
import signal
import subprocess
import tempfile
from pathlib import Path
from typing import Any, NamedTuple

ACCOUNT = "nobody"
USUAL_PROGRAMS = (
    "/opt/libreoffice*/program/soffice",
    "/Applications/LibreOffice.app/Contents/MacOS/soffice",
    "C:/Program Files/LibreOffice/program/soffice.exe",
)
USUAL_PYTHONS = ("python", "python.exe", "../Resources/python", "/usr/bin/python3")
PRIVATE = ("PYTHON", "PYENV", "XDG_", "DBUS_", "DISPLAY", "WAYLAND_")
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Setup/L10N">
<prop oor:name="ooSetupSystemLocale" oor:op="fuse"><value>{locale}</value></prop></item>
<item oor:path="/org.openoffice.Office.Recovery/AutoSave">
<prop oor:name="Enabled" oor:op="fuse"><value>false</value></prop></item>
</oor:items>
"""


class OfficeError(Exception):
    """One sentence: what could not be done."""


class Account(NamedTuple):
    """Whom the office runs as."""

    uid: int
    gid: int


def account() -> Account | None:
    """The powerless account to use when we are root; None otherwise: the office then runs as ourselves."""
    if os.name != "posix" or os.geteuid() != 0:
        return None
    import pwd  # not on every system

    entry = pwd.getpwnam(ACCOUNT)
    return Account(entry.pw_uid, entry.pw_gid)


def as_account(user: Account | None) -> dict[str, Any]:
    """Arguments for subprocess.Popen that make the process run as that account."""
    return {} if user is None else {"user": user.uid, "group": user.gid, "extra_groups": []}


def hand_over(path: Path, user: Account | None) -> None:
    """Give a file, or a folder and what is in it, to the account."""
    if user is None:
        return
    for one in (path, *path.rglob("*")):
        os.chown(one, *user)
        one.chmod(0o700 if one.is_dir() else 0o600)


def make_folder(user: Account | None) -> Path:
    """A new private folder that the account can reach: a root-only TMPDIR is passed over."""
    base = Path(tempfile.gettempdir()).resolve()
    if user is not None and not all(one.stat().st_mode & 0o001 for one in (base, *base.parents)):
        base = Path(os.sep, "tmp")
    folder = Path(tempfile.mkdtemp(prefix="sheet-office-", dir=base))
    for name in ("home", "tmp", "profile"):
        (folder / name).mkdir()
    return folder


def write_profile(profile: Path, locale: str) -> None:
    """Settings of a new profile: how typed text is read, and no recovery files."""
    (profile / "user").mkdir(parents=True)
    (profile / "user" / "registrymodifications.xcu").write_text(PROFILE.format(locale=locale), encoding="utf-8")


def environment(folder: Path) -> dict[str, str]:
    """Environment of the office: nothing of our own Python, desktop session or home."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(PRIVATE)}
    return kept | {"HOME": str(folder / "home"), "TMPDIR": str(folder / "tmp"), "LC_ALL": "C.UTF-8"}


def soffice() -> str:
    """The command that starts LibreOffice."""
    for name in ("soffice", "libreoffice"):
        if found := shutil.which(name):
            return found
    for pattern in USUAL_PROGRAMS:
        if matches := sorted(glob.glob(pattern)):
            return matches[-1]
    raise OfficeError("LibreOffice is missing: install LibreOffice Calc (Debian: libreoffice-calc and python3-uno)")


def unopkg() -> str:
    """The command that installs extensions."""
    beside = Path(soffice()).resolve().parent / "unopkg"
    return str(beside) if beside.exists() else shutil.which("unopkg") or str(beside)


@functools.cache
def uno_python() -> str:
    """A Python that can talk to LibreOffice: the one that came with it, or the system's."""
    program = Path(soffice()).resolve().parent
    for name in USUAL_PYTHONS:
        python = str(program / name)
        if os.path.exists(python):
            clean = {name: value for name, value in os.environ.items() if not name.startswith(PRIVATE)}
            tried = subprocess.run([python, "-c", "import uno"], env=clean, capture_output=True, timeout=60)
            if tried.returncode == 0:
                return python
    raise OfficeError("LibreOffice's Python connection is missing (Debian: install python3-uno)")


def kill_group(process: subprocess.Popen[str]) -> None:
    """End a process and all that it started."""
    if os.name == "posix":
        with contextlib.suppress(ProcessLookupError, PermissionError):
            os.killpg(process.pid, signal.SIGKILL)
    else:
        process.kill()
    process.wait()
