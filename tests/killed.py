"""A worker of `collect` that is killed. Each process begins by loading this, so it takes nothing along."""

from __future__ import annotations

import os
import signal

from workbook_template.read_back.collect import Outcome, Work


def killed_at(work: Work) -> Outcome:
    """What a worker does: at one file it is killed, as by a system that has no memory left."""
    if "deadly" in work[1]:
        os.kill(os.getpid(), signal.SIGKILL)
    return Outcome(work[1])
