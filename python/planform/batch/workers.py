"""Worker processes under supervision: what one task breaks costs that task alone.

A worker is a fresh process (not a copy of ours, whose threads may hold locks). It does one task at a time
and is watched while it does: if it dies, takes too long or asks for more memory than it may have, the task
has failed with that cause and a new worker takes over. Workers end when their parent does, however it ends.
"""

from __future__ import annotations

import multiprocessing
import os
import signal
import time
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Any

from planform.batch.system import end_with, interrupts_blocked, leave_no_core, limit_memory

GIBIBYTE = 1 << 30
TASKS_OF_A_WORKER = 200
"""After so many a worker is replaced: what the kernel doesn't give back then doesn't add up."""

STARTED = "started"
LOOK_EVERY = 0.25
"""Seconds from one look at Ctrl-C to the next: the system may give a signal to another thread, and then it
wakes no thread that waits."""


class OutOfMemoryError(Exception):
    """A task asked for more memory than its worker may have."""


@dataclass(frozen=True)
class Outcome:
    """What came of one task: its value, or the cause for which there is none (``error``).

    ``process`` is the number of the process that worked on it.
    """

    value: Any = None
    error: str = ""
    process: int = 0


def default_workers() -> int:
    """The number of processors that this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class _Worker:
    """A worker process with the pipe to it and the task it is at."""

    def __init__(
        self, function: Callable[[Any], Any], memory: float | None, timeout: float | None
    ) -> None:
        # Not "forkserver": its processes are children of a server that outlives us.
        context = multiprocessing.get_context("spawn")
        self.pipe, theirs = context.Pipe()
        self.process: BaseProcess = context.Process(
            target=_work, args=(theirs, function, memory, os.getpid()), daemon=True
        )
        # Ctrl-C reaches the whole group of processes; what it means is for the parent to decide, also
        # while a worker is still starting. It inherits what is blocked here.
        with interrupts_blocked():
            self.process.start()
        theirs.close()
        self.task: int | None = None
        self.started = False
        self.timeout = timeout or float("inf")
        self.deadline = float("inf")
        self.finished = 0

    def give(self, entry: tuple[int, Any] | None) -> None:
        """Start the next task, if there is one."""
        self.task = None
        if entry is not None:
            self.task, task = entry
            self.set_deadline()
            # If the process has died already, that is found out when its answer is waited for.
            with suppress(BrokenPipeError):
                self.pipe.send(task)

    def starts(self) -> bool:
        """True if what has come through the pipe is the news that the process has started."""
        if self.started:
            return False
        with suppress(EOFError, OSError):
            self.started = self.pipe.recv() == STARTED
            self.set_deadline()
        return self.started

    def set_deadline(self) -> None:
        """Count the time of the task from now; what a process needs to start is not the task's."""
        self.deadline = time.monotonic() + self.timeout if self.started else float("inf")

    def stop(self) -> None:
        """End the process now, whatever it is at."""
        self.process.kill()
        self.process.join()
        self.pipe.close()


def _work(
    pipe: Connection, function: Callable[[Any], Any], memory: float | None, parent: int
) -> None:
    """The life of a worker: take tasks until the pipe closes."""
    end_with(parent)
    if memory:
        limit_memory(int(memory * GIBIBYTE))
    # A crash is expected here: the parent reports it, a core file would only fill the disk.
    leave_no_core()
    pipe.send(STARTED)
    while True:
        try:
            task = pipe.recv()
        except EOFError:
            return
        try:
            pipe.send(Outcome(function(task), process=os.getpid()))
        except (MemoryError, OutOfMemoryError):
            pipe.send(Outcome(error=memory_cause(memory), process=os.getpid()))
            return  # what is left of the memory may be in pieces
        except Exception as error:
            pipe.send(Outcome(error=f"{type(error).__name__}: {error}", process=os.getpid()))


def memory_cause(memory: float | None) -> str:
    """The words for a task that ran out of memory."""
    if memory is None:
        return "there is not enough memory"
    return f"more memory is needed than a worker may have ({memory:g} GiB); raise the limit"


def supervised(
    function: Callable[[Any], Any],
    tasks: Sequence[Any],
    workers: int | None = None,
    timeout: float | None = None,
    memory: float | None = None,
    kept: KeptWorkers | None = None,
) -> Generator[tuple[int, Outcome], None, None]:
    """Call ``function`` with each task in worker processes; yield (number of the task, outcome) as they end.

    ``function`` must be importable by name. ``workers`` is the number of processes (default: one a
    processor), ``timeout`` bounds a task in seconds, ``memory`` the address space of a worker in GiB.
    Where the caller stops early (Ctrl-C), the workers end at once. With ``kept`` those that are idle at the
    end are kept for the next call, which must be of the same function and memory.
    """
    waiting = iter(enumerate(tasks))
    idle = kept.idle if kept is not None else []
    running: list[_Worker] = []
    try:
        for _ in range(min(workers or default_workers(), len(tasks))):
            worker = idle.pop() if idle else _Worker(function, memory, timeout)
            worker.timeout = timeout or float("inf")
            running.append(worker)
            worker.give(next(waiting, None))
        while any(worker.task is not None for worker in running):
            yield from _ended(running, function, waiting, timeout, memory)
        if kept is not None:
            idle += [worker for worker in running if worker.process.is_alive()]
            running = [worker for worker in running if worker not in idle]
    finally:
        for worker in running:
            worker.stop()


class KeptWorkers:
    """Worker processes that outlive a call of `supervised`: starting one takes longer than a small task.

    A context; at its end they end.
    """

    def __init__(self) -> None:
        self.idle: list[_Worker] = []

    def ready(
        self,
        number: int,
        function: Callable[[Any], Any],
        memory: float | None,
        timeout: float | None,
    ) -> None:
        """Start as many as are missing of so many idle workers: they start while the caller is at other
        things."""
        self.idle += [_Worker(function, memory, timeout) for _ in range(number - len(self.idle))]

    def __enter__(self) -> KeptWorkers:
        return self

    def __exit__(self, *_reason: object) -> None:
        for worker in self.idle:
            worker.stop()
        self.idle.clear()


def ready_until(pipes: Sequence[Connection], deadline: float) -> list[Any]:
    """The pipes that have something to say, as soon as there is one; none after the deadline."""
    while True:
        left = max(deadline - time.monotonic(), 0.0)
        ready = wait(pipes, min(left, LOOK_EVERY))
        if ready or left <= LOOK_EVERY:
            return ready


def _ended(
    running: list[_Worker],
    function: Callable[[Any], Any],
    waiting: Iterator[tuple[int, Any]],
    timeout: float | None,
    memory: float | None,
) -> Generator[tuple[int, Outcome], None, None]:
    """Wait for the next end of a task and yield it; several if they end together."""
    busy = {worker.pipe: worker for worker in running if worker.task is not None}
    deadline = min(worker.deadline for worker in busy.values())
    ready = ready_until(list(busy), deadline)
    now = time.monotonic()
    for pipe, worker in busy.items():
        if pipe not in ready and worker.deadline > now:
            continue
        if pipe in ready and worker.starts():
            continue
        assert worker.task is not None
        number = worker.task
        outcome = _outcome(worker, pipe in ready, timeout)
        worker.finished += 1
        spent = bool(outcome.error) or worker.finished >= TASKS_OF_A_WORKER
        if spent:
            worker.stop()  # before the caller hears of it: it may clear away what was half done
        entry = next(waiting, None)
        if spent and entry:
            place = running.index(worker)
            worker = running[place] = _Worker(function, memory, timeout)
        worker.give(entry)
        yield number, outcome


def _outcome(worker: _Worker, answered: bool, timeout: float | None) -> Outcome:
    """What became of a worker's task: its answer, or why there is none."""
    process = worker.process.pid or 0
    if not answered:
        return Outcome(error=f"took longer than {timeout:g} s and was stopped", process=process)
    try:
        outcome = worker.pipe.recv()
    except (EOFError, OSError):
        worker.process.join()
        return Outcome(error=death_cause(worker.process.exitcode or 0), process=process)
    assert isinstance(outcome, Outcome)
    return outcome


def death_cause(exit_code: int) -> str:
    """The words for a process that ended before its task."""
    if exit_code >= 0:
        return f"the process that worked on it ended early (exit status {exit_code})"
    try:
        name = signal.Signals(-exit_code).name
    except ValueError:
        name = f"signal {-exit_code}"
    hint = {
        "SIGKILL": "it was killed, perhaps for want of memory",
        "SIGSEGV": "it crashed",
        "SIGABRT": "it gave up",
    }.get(name, "it crashed")
    return f"the process that worked on it ended early ({name}: {hint})"
