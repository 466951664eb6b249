"""Searches in worker processes: what one breaks, hangs or gives back as rubbish costs that search alone."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from planform.batch.workers import default_workers, supervised
from planform.sheets.search import Clock, StripResult, StripTask, checked, read_best, search_strip

MEMORY = 8.0
"""GiB of address space that a search may have: one of 2,000 pieces takes less than 1."""
GRACE = 10.0
"""Seconds beyond its own time after which a search counts as hanging; it needs some to end."""
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

    def run(self, tasks: Sequence[StripTask], height: float) -> list[StripResult | None]:
        """All tasks side by side; None for each that failed or found nothing. Ctrl-C stops the clock and
        keeps the best found. ``height`` (mm) is for the progress alone."""
        if self.in_process:
            return [self.alone(task) for task in tasks]
        with tempfile.TemporaryDirectory(prefix="planform-") as folder:
            tasks = [
                replace(task, best=str(Path(folder) / f"{number}.json"))
                for number, task in enumerate(tasks)
            ]
            results: list[StripResult | None] = [None] * len(tasks)
            timeout = max(task.seconds for task in tasks) + GRACE
            try:
                with self.reported(tasks, height):
                    for number, outcome in supervised(
                        self.function, tasks, len(tasks), timeout, MEMORY
                    ):
                        results[number] = self.result(tasks[number], outcome.value, outcome.error)
            except KeyboardInterrupt:
                self.clock.stopped = True
            return [result or self.kept(task) for task, result in zip(tasks, results, strict=True)]

    def result(self, task: StripTask, value: Any, error: str) -> StripResult | None:
        """What a worker gave back, if it makes sense; else the failure is remembered."""
        if not error:
            try:
                return checked(task, value)
            except ValueError as wrong:
                error = str(wrong)
        if error not in self.failures:
            self.failures.append(error)
        return None

    def kept(self, task: StripTask) -> StripResult | None:
        """The best that a search had found before it was cut off."""
        best = read_best(task.best)
        try:
            return None if best is None else checked(task, best)
        except ValueError:
            return None

    def alone(self, task: StripTask) -> StripResult | None:
        """One search in this process."""
        try:
            return self.result(task, self.function(task), "")
        except Exception as error:
            return self.result(task, None, f"{type(error).__name__}: {error}")

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
