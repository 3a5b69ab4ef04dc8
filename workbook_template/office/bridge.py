"""Starts LibreOffice and carries requests to it; runs under the Python that can import `uno`, not under ours.

Arguments: the soffice command, the profile's URL, the folder that holds worker.py. A line on stdin is one
JSON request, a line on stdout its JSON answer; the first line out says that the office is ready. When stdin
closes, the office is ended.
"""

from __future__ import annotations

import json
import os
import queue
import signal
import subprocess
import sys
import threading
import time
import uuid
from typing import Any

START_SECONDS = 90.0
END_SECONDS = 5.0

Uno = Any
"""An object of the office: its interfaces are known at run time alone."""


def say(answer: dict[str, str]) -> None:
    """Write one answer line."""
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


def kill_group() -> None:
    """End this process and the office with it: both are in the process group that this process leads."""
    if os.name == "posix" and os.getpgrp() == os.getpid():
        os.killpg(0, signal.SIGKILL)
    os._exit(1)


def read_lines(lines: queue.SimpleQueue[str | None], finished: threading.Event) -> None:
    """Queue stdin's lines; once it closes, a call that hangs may not keep the office alive."""
    for line in sys.stdin:
        lines.put(line)
    lines.put(None)
    if not finished.wait(END_SECONDS * 2):
        kill_group()


def connect(command: str, profile: str) -> tuple[subprocess.Popen[bytes], Uno]:
    """Start the office on a pipe of its own and return (process, its component context)."""
    import uno  # only the Python of the office has it

    where = f"pipe,name=sheetfuncs-{uuid.uuid4().hex}"
    options = "--headless --invisible --norestore --nodefault --nologo --nofirststartwizard"
    process = subprocess.Popen(
        [command, *options.split(), f"--accept={where};urp;", f"-env:UserInstallation={profile}"],
        stdin=subprocess.DEVNULL,
        stdout=sys.stderr,
    )
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    deadline = time.monotonic() + START_SECONDS
    while True:
        try:
            return process, resolver.resolve(f"uno:{where};urp;StarOffice.ComponentContext")
        except Exception as error:
            if process.poll() is not None:
                raise RuntimeError(f"LibreOffice ended while starting, code {process.returncode}") from error
            if time.monotonic() > deadline:
                raise RuntimeError(f"LibreOffice did not start within {START_SECONDS:.0f} seconds") from error
            time.sleep(0.02)


def load_worker(context: Uno, folder: str) -> Uno:
    """The object of worker.py, living inside the office.

    There a call to the office costs microseconds; from this process it would cost 0.2 to 2 milliseconds.
    """
    import uno

    loader = context.ServiceManager.createInstanceWithContext("com.sun.star.loader.Python", context)
    url = uno.systemPathToFileUrl(os.path.join(folder, "worker.py"))
    return loader.activate("sheetfuncs.Worker", "", url, None).createInstanceWithContext(context)


def end(process: subprocess.Popen[bytes], context: Uno) -> None:
    """Ask the office to go, then make it go."""
    try:
        service = "com.sun.star.frame.Desktop"
        context.ServiceManager.createInstanceWithContext(service, context).terminate()
        process.wait(END_SECONDS)
    except Exception:
        kill_group()


def serve(command: str, profile: str, folder: str) -> None:
    """Answer requests until stdin closes."""
    finished = threading.Event()
    lines: queue.SimpleQueue[str | None] = queue.SimpleQueue()
    threading.Thread(target=read_lines, args=(lines, finished), daemon=True).start()
    try:
        process, context = connect(command, profile)
        worker = load_worker(context, folder)
        from com.sun.star.beans import NamedValue
    except Exception as error:
        say({"error": str(error)})
        kill_group()
    say({"ok": "ready"})
    while (line := lines.get()) is not None:
        try:
            answer = worker.execute((NamedValue("request", line),))
        except Exception as error:  # the worker answers its own errors: this is the connection
            print(f"connection to LibreOffice lost: {type(error).__name__} {error}", file=sys.stderr)
            kill_group()
        sys.stdout.write(answer + "\n")
        sys.stdout.flush()
    end(process, context)
    finished.set()


if __name__ == "__main__":
    try:
        serve(*sys.argv[1:4])
    except BaseException as error:  # nobody reads the answers any more, or Ctrl-C: no office may stay behind
        print(f"bridge: {type(error).__name__} {error}", file=sys.stderr)
        kill_group()
