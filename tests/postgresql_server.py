"""A PostgreSQL server of our own for a test: a new cluster in a folder, reached by a socket there alone."""

from __future__ import annotations

import contextlib
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

from workbook_template.office import place

INSTALLED = Path("/usr/lib/postgresql")


def program(name: str) -> str:
    """A program of the server; Debian keeps them out of the path."""
    found = sorted(str(one) for one in INSTALLED.glob(f"*/bin/{name}"))
    return found[-1] if found else shutil.which(name) or name


@contextlib.contextmanager
def running() -> Iterator[str]:
    """Start a server, as it never runs as root; the address of its database. It ends with the block."""
    user = place.account()
    folder = Path(tempfile.mkdtemp(prefix="pg-", dir="/tmp"))  # a socket's path must be short
    folder.chmod(0o755)
    data, log = folder / "data", folder / "log"
    place.hand_over(folder, user)
    folder.chmod(0o711)
    environment = {"PATH": os.environ["PATH"], "LC_ALL": "C.UTF-8", "HOME": str(folder)}

    def run(*command: str) -> None:
        subprocess.run(
            command, check=True, cwd=folder, env=environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            timeout=60, **place.as_account(user),
        )  # fmt: skip

    control = program("pg_ctl")
    try:
        run(program("initdb"), "-D", str(data), "-U", "shop", "--auth=trust", "--no-sync", "-E", "UTF8")
        options = f"-c listen_addresses='' -c unix_socket_directories='{folder}' -c fsync=off"
        run(control, "-D", str(data), "-l", str(log), "-o", options, "-w", "start")
        try:
            yield f"postgresql://shop@/postgres?host={folder}"
        finally:
            run(control, "-D", str(data), "-m", "immediate", "-w", "stop")
    finally:
        shutil.rmtree(folder)
