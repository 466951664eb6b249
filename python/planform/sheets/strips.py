"""Searches in worker processes: what one breaks, hangs or gives back as rubbish costs that search alone."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import closing, contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from planform.batch.workers import KeptWorkers, Outcome, default_workers, supervised
from planform.sheets.search import Clock, StripResult, StripTask, checked, read_best, search_strip

MEMORY = 8.0
"""GiB of address space that a search may have: one of 2,000 pieces takes less than 1."""
GRACE = 10.0
GRACE_SHARE = 1.25
"""A search counts as hanging when it takes longer than this share of its own time and so many seconds more:
it needs some to end, the more the more pieces it has."""
LOOK = 0.5
"""Seconds between two reports of the best so far."""

Progress = Callable[[str], None]
"""Called with a line on what has been found so far."""


@dataclass
class Searcher:
    """Runs searches under the clock and remembers what went wrong.

    ``function`` is what a worker calls, importable by name. ``in_process`` calls it here: for executors,
    whose processes may have no children.
    """

    clock: Clock
    workers: int = field(default_factory=default_workers)
    function: Callable[[StripTask], Any] = field(default_factory=lambda: search_strip)
    in_process: bool = False
    progress: Progress | None = None
    failures: list[str] = field(default_factory=list)
    kept: KeptWorkers = field(default_factory=KeptWorkers)
    """Workers that wait for the next search: starting one takes as long as a short search."""

    def run(self, tasks: Sequence[StripTask], height: float) -> list[StripResult | None]:
        """All tasks side by side, until the first has found enough; None for each that failed or found
        nothing. Ctrl-C stops the clock and keeps the best found. ``height`` (mm) is for the progress
        alone."""
        if self.in_process:
            return [self.alone(task) for task in tasks]
        with tempfile.TemporaryDirectory(prefix="planform-") as folder:
            tasks = [
                replace(task, best=str(Path(folder) / f"{number}.json"))
                for number, task in enumerate(tasks)
            ]
            results: list[StripResult | None] = [None] * len(tasks)
            errors: dict[int, str] = {}
            timeout = max(GRACE_SHARE * task.seconds for task in tasks) + GRACE
            running = supervised(self.function, tasks, len(tasks), timeout, MEMORY, self.kept)
            try:
                with self.reported(tasks, height), closing(running):
                    for number, outcome in running:
                        results[number], errors[number] = taken(tasks[number], outcome)
                        if is_enough(tasks[number], results[number]):
                            break
                self.kept.ready(len(tasks), self.function, MEMORY, timeout)
            except KeyboardInterrupt:
                self.clock.stopped = True
            kept = [
                result or self.found_by(task) for task, result in zip(tasks, results, strict=True)
            ]
        for number, error in errors.items():
            # Of a search that was cut off the best found counts.
            if error and kept[number] is None:
                self.note(error)
        return kept

    def note(self, error: str) -> None:
        """Remember a failure, once."""
        if error not in self.failures:
            self.failures.append(error)

    def found_by(self, task: StripTask) -> StripResult | None:
        """The best that a search had found before it was cut off."""
        best = read_best(task.best)
        try:
            return None if best is None else checked(task, best)
        except ValueError:
            return None

    def alone(self, task: StripTask) -> StripResult | None:
        """One search in this process."""
        try:
            result, error = taken(task, Outcome(self.function(task)))
        except Exception as failure:
            result, error = None, f"{type(failure).__name__}: {failure}"
        if error:
            self.note(error)
        return result

    @contextmanager
    def reported(self, tasks: Sequence[StripTask], height: float) -> Iterator[None]:
        """Report the best so far while the block runs, if somebody wants to know."""
        if self.progress is None:
            yield
            return
        done = threading.Event()

        def look() -> None:
            while not done.wait(LOOK):
                found = [best for task in tasks if (best := read_best(task.best))]
                if found and self.progress:
                    least = min(best.width for best in found)
                    self.progress(f"best strip {least:.0f} × {height:.0f} mm")

        watching = threading.Thread(target=look, daemon=True)
        watching.start()
        try:
            yield
        finally:
            done.set()
            watching.join()


def is_enough(task: StripTask, result: StripResult | None) -> bool:
    """Has a search found what it was to find? The library can't be stopped: it goes on in its process, which
    has to end as those do that are still at the others."""
    return result is not None and result.width <= task.enough


def taken(task: StripTask, outcome: Outcome) -> tuple[StripResult | None, str]:
    """What a worker gave back, if it makes sense, else why there is nothing."""
    if outcome.error:
        return None, outcome.error
    try:
        return checked(task, outcome.value), ""
    except ValueError as wrong:
        return None, str(wrong)
