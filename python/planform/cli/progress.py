"""A progress bar on the error stream, where a person looks at it and nowhere else."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from rich.console import Console
from rich.markup import escape
from rich.progress import (
    BarColumn,
    MofNCompleteColumn,
    Progress,
    ProgressColumn,
    Task,
    TextColumn,
    TimeElapsedColumn,
    TimeRemainingColumn,
)
from rich.text import Text

from planform.naming import printable

Advance = Callable[[str, int], None]
"""Called as ``advance(what is being done, number of steps finished)``."""


class RateColumn(ProgressColumn):
    """Steps a minute, over the whole run: a single long step doesn't make the figure jump."""

    def render(self, task: Task) -> Text:
        if not task.completed or not task.elapsed:
            return Text("- /min")
        return Text(f"{60 * task.completed / task.elapsed:.0f} /min")


@contextmanager
def progress_bar(total: int, rate: bool = False) -> Iterator[Advance]:
    """Show a bar of ``total`` steps while the block runs, if the error stream is a terminal; with ``rate``
    also steps a minute and the time left.

    Yields a function to call before each piece of work with its description, and with 1 as the second
    argument once a step is finished. Into a pipe or a file nothing is written.
    """
    console = Console(file=sys.stderr)
    if not console.is_terminal:
        yield lambda description, finished: None
        return
    columns: tuple[ProgressColumn, ...] = (
        TextColumn("{task.description}"),
        BarColumn(),
        MofNCompleteColumn(),
        TimeElapsedColumn(),
    )
    if rate:
        columns = (*columns, RateColumn(), TextColumn("left"), TimeRemainingColumn())
    with Progress(*columns, console=console, transient=True) as progress:
        task = progress.add_task("", total=total)

        def advance(description: str, finished: int) -> None:
            shown = printable(description)
            if len(shown) > 40:
                shown = shown[:39] + "…"
            progress.update(task, description=escape(shown), advance=finished)

        yield advance


@contextmanager
def found_so_far() -> Iterator[Callable[[str], None] | None]:
    """Show a bar that runs, with a line on the best so far, while the block runs, if the error stream is a
    terminal; yields the function that takes the line, None where nobody looks."""
    console = Console(file=sys.stderr)
    if not console.is_terminal:
        yield None
        return
    columns = (TextColumn("{task.description}"), BarColumn(), TimeElapsedColumn())
    with Progress(*columns, console=console, transient=True) as progress:
        task = progress.add_task("searching", total=None)
        yield lambda line: progress.update(task, description=escape(printable(line)))
