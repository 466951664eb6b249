"""Work of a batch that goes wrong on demand: a source's name says how. Stands in for
`planform.batch.one_source.flatten_source`, in worker processes too."""

from __future__ import annotations

import os
import signal
import time

from planform.batch.one_source import SourceResult, Task, flatten_source


def flatten_or_misbehave(task: Task) -> SourceResult:
    """Flatten the source, unless its name is crash, hang, hungry or odd."""
    name = task.source.path.stem
    if name == "crash":
        os.kill(os.getpid(), signal.SIGSEGV)
    if name == "hang":
        time.sleep(600)
    if name == "hungry":
        # 10 GiB of zeros: calloc asks for the address space at once.
        return SourceResult(str(len(bytes(10 << 30))), "", "new", "done")
    if name == "odd":
        raise ZeroDivisionError("odd")
    return flatten_source(task)
