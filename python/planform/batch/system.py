"""What systems offer in ways of their own, and what stands in for it where it is missing.

POSIX systems lock files, limit memory, block signals and refuse to follow links; others do some of that
differently or not at all. Nothing else in planform asks which system it runs on.
"""

from __future__ import annotations

import ctypes
import importlib
import os
import signal
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from types import ModuleType

__all__ = [
    "BINARY",
    "NOT_INHERITED",
    "NO_FOLLOWING",
    "NO_WAITING",
    "end_with",
    "interrupts_blocked",
    "leave_no_core",
    "limit_memory",
    "lock_file",
    "unlock_file",
]

BINARY: int = getattr(os, "O_BINARY", 0)
"""For os.open: bytes come as they are."""
NO_FOLLOWING: int = getattr(os, "O_NOFOLLOW", 0)
"""For os.open: refuse symbolic links."""
NO_WAITING: int = getattr(os, "O_NONBLOCK", 0)
"""For os.open: a named pipe doesn't hold us up."""
NOT_INHERITED: int = getattr(os, "O_CLOEXEC", 0)
"""For os.open: programs that we start don't get the file (Python sees to that elsewhere)."""

PR_SET_PDEATHSIG = 1
"""Linux, prctl(2): the signal that a process gets when its parent ends."""
WATCH_EVERY = 0.2
"""Seconds from one look at the parent to the next, where the system doesn't tell."""


def _module(name: str) -> ModuleType | None:
    """A module of the standard library that not all systems have."""
    try:
        return importlib.import_module(name)
    except ImportError:
        return None


def lock_file(descriptor: int) -> None:
    """Keep other processes from locking this open file until it is closed, or this process ends.

    Where the system has no such locks nothing is kept out. Raises OSError if another process has it.
    """
    posix, windows = _module("fcntl"), _module("msvcrt")
    if posix is not None:
        posix.flock(descriptor, posix.LOCK_EX | posix.LOCK_NB)
    elif windows is not None:
        windows.locking(descriptor, windows.LK_NBLCK, 1)


def unlock_file(descriptor: int) -> None:
    """Give back what `lock_file` took."""
    posix, windows = _module("fcntl"), _module("msvcrt")
    if posix is not None:
        posix.flock(descriptor, posix.LOCK_UN)
    elif windows is not None:
        windows.locking(descriptor, windows.LK_UNLCK, 1)


def limit_memory(most_bytes: int) -> None:
    """Refuse this process more address space, where the system can; never more than it may have already."""
    resource = _module("resource")
    if resource is None:
        return
    _, most = resource.getrlimit(resource.RLIMIT_AS)
    limit = most_bytes if most == resource.RLIM_INFINITY else min(most_bytes, most)
    resource.setrlimit(resource.RLIMIT_AS, (limit, most))


def leave_no_core() -> None:
    """Let a crash of this process leave no core file."""
    resource = _module("resource")
    if resource is not None:
        _, most = resource.getrlimit(resource.RLIMIT_CORE)
        resource.setrlimit(resource.RLIMIT_CORE, (0, most))


@contextmanager
def interrupts_blocked() -> Iterator[None]:
    """Ctrl-C waits until the block is over; processes that are started in it inherit that."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def end_with(parent: int) -> None:
    """See to it that this process ends when its parent does, even in the middle of a task."""
    if sys.platform == "linux":
        ctypes.CDLL(None, use_errno=True).prctl(PR_SET_PDEATHSIG, signal.SIGKILL)
        if os.getppid() != parent:
            os._exit(1)
        return

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(WATCH_EVERY)
        os._exit(1)

    threading.Thread(target=watch, daemon=True).start()
