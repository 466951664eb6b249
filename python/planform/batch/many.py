"""Many models at once, and again when they change: what ``planform batch`` does, without a terminal."""

from __future__ import annotations

import os
from collections.abc import Callable, Container, Generator, Iterable, Iterator, Sequence
from concurrent.futures import CancelledError, Executor, as_completed
from contextlib import closing, contextmanager, suppress
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Any

from planform._planform import __version__, default_cache_folder, write_whole_file
from planform.arguments import positive
from planform.batch.folders import Layout, Source, layout_of, real_folder
from planform.batch.manifest import (
    MANIFEST,
    RECORD,
    SCHEMA,
    Record,
    Status,
    json_text,
    known_entries,
    read_record,
    remove_files,
    remove_temporary_files,
    settings_digest,
    why_not_current,
    write_record,
)
from planform.batch.model_state import ModelState, model_state
from planform.batch.one_source import Action, SourceResult, Task, flatten_source, with_record
from planform.batch.settings import Settings
from planform.batch.system import NO_FOLLOWING, NOT_INHERITED, lock_file, unlock_file
from planform.batch.workers import KeptWorkers, Outcome, supervised
from planform.errors import Error, WriteError
from planform.naming import one_line

MEMORY = 4.0
"""GiB of address space a worker may have; the largest models of our tests need less than 1."""
TIMEOUT = 600.0
"""Seconds that one model may take; the largest models of our tests take less than 10."""
LOCK = ".lock"


@dataclass(frozen=True)
class BatchSummary:
    """The results of all sources, in the order of their names, those that are gone last.

    ``waiting``: files that are watched and have not been whole for long, as they are written or damaged.
    """

    results: tuple[SourceResult, ...]
    waiting: tuple[str, ...] = ()

    @property
    def errors(self) -> list[str]:
        """One line for each thing that went wrong, with its source."""
        return [
            one_line(f"{result.source}: {error}")
            for result in self.results
            for error in result.errors
        ]

    @property
    def pending(self) -> list[SourceResult]:
        """Those for which there was something to do."""
        return [result for result in self.results if result.action != "current"]

    def count(self, status: Status) -> int:
        """Number of sources of a status, without those that are gone."""
        return sum(result.status == status and result.action != "gone" for result in self.results)


def flatten_all(
    paths: str | Path | Iterable[str | Path],
    out: str | Path,
    settings: Settings | None = None,
    *,
    workers: int | None = None,
    executor: Any = None,
    timeout: float | None = TIMEOUT,
    memory: float | None = MEMORY,
    redo: bool = False,
    check: bool = False,
    compare: bool = False,
    cache: str | Path | bool = True,
    progress: Callable[[str, int, int], None] | None = None,
) -> BatchSummary:
    """Flatten many models, each in a process of its own, and only those that changed since the last time.

    A model that crashes the kernel, hangs or asks for too much memory costs no other and is reported with
    its cause. The files are the same whatever the number of workers. Lengths are mm.

    Parameters
    ----------
    paths : path-like or iterable of path-like
        Files, folders (searched in full) and patterns such as ``parts/**/*.step``.
    out : path-like
        Folder for the drawings, one folder a model in it. Nothing is written outside of it, and no symbolic
        link in it is followed. One batch at a time may work in it.
    settings : planform.batch.Settings, optional
        Datum, tolerance, formats and so on; lengths in mm.
    workers : int, optional
        Number of processes; one a processor by default. 1 still is a process of its own.
    executor : concurrent.futures.Executor or dask.distributed.Client, optional
        Works on the models instead of our processes. It then bounds time and memory itself (``workers``,
        ``timeout`` and ``memory`` are not used), its workers must see the same folders, and a crash costs
        what the executor makes of it.
    timeout : float, optional
        Seconds that one model may take; None: no bound.
    memory : float, optional
        GiB of address space that a process may have; None: no bound.
    redo : bool, optional
        Do everything, changed or not.
    check : bool, optional
        Change nothing, only say what would be done (``BatchSummary.pending``).
    compare : bool, optional
        Say how each changed outline differs from the one before (``SourceResult.changes``).
    cache : path-like or bool, optional
        Folder for parsed models, so that a changed option doesn't read STEP again; True: that of
        `default_cache_folder`, False: none. The drawings are the same.
    progress : callable, optional
        Called as ``progress(name, finished, total)`` after each model, and once at the start.

    Returns
    -------
    BatchSummary

    Raises
    ------
    LoadError
        If an argument names no model.
    WriteError
        If the output folder can't be made, or another batch works in it.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> (folder / "models").mkdir()
    >>> _ = planform.write_demo_assembly(folder / "models" / "station.step")
    >>> first = planform.flatten_all(folder / "models", folder / "cut", workers=1)
    >>> [(result.source, result.status, result.drawings) for result in first.results]
    [('station.step', 'done', 12)]
    >>> planform.flatten_all(folder / "models", folder / "cut").pending
    []
    """
    layout = layout_of([paths] if isinstance(paths, str | os.PathLike) else paths)
    positive(timeout, "timeout (s)")
    positive(memory, "memory (GiB)")
    settings = settings or Settings()
    out = Path(out).absolute()  # workers may stand in another folder
    if check:
        return BatchSummary(tuple(planned(layout.base, layout.sources, out, settings, redo)[0]))
    options = Options(
        workers, executor, timeout, memory, redo, compare, cache_folder(cache), progress
    )
    return run_batch(layout, out, settings, options)


@dataclass(frozen=True)
class Options:
    """How a batch is run; see `flatten_all`. ``cache``: the folder, None for none."""

    workers: int | None = None
    executor: Any = None
    timeout: float | None = TIMEOUT
    memory: float | None = MEMORY
    redo: bool = False
    compare: bool = False
    cache: Path | None = None
    progress: Callable[[str, int, int], None] | None = None
    kept: KeptWorkers | None = None


def run_batch(
    layout: Layout,
    out: Path,
    settings: Settings,
    options: Options,
    leave: Container[Path] = (),
    state_of: Callable[[Path], ModelState] = model_state,
) -> BatchSummary:
    """Do what there is to do; ``out`` is absolute, the paths in ``leave`` are left as they are. Raises as
    `flatten_all`."""
    executor = options.executor
    if settings.bend_table:  # workers may stand in another folder
        settings = replace(settings, bend_table=str(Path(settings.bend_table).absolute()))
    with locked(out):
        results, tasks = planned(
            layout.base, layout.sources, out, settings, options.redo, leave, state_of
        )
        write_summary(out, layout.base, settings, results, known_entries(out))
        results = [remove_gone(out, r) if r.action == "gone" else r for r in results]
        places = {result.source: place for place, result in enumerate(results)}
        report = options.progress or (lambda name, finished, total: None)
        report("", 0, len(tasks))
        tasks = [
            replace(task, cache=options.cache, compare=options.compare)
            for task in largest_first(tasks)
        ]
        outcomes = (
            supervised(
                flatten_source,
                tasks,
                options.workers,
                options.timeout,
                options.memory,
                options.kept,
            )
            if executor is None
            else executed(flatten_source, tasks, executor)
        )
        # Closing ends the processes also where an exception (Ctrl-C) keeps its traceback alive.
        with cleared_away([] if executor else tasks), closing(outcomes):
            for finished, (number, outcome) in enumerate(outcomes, start=1):
                task = tasks[number]
                place = places[task.source.name]
                results[place] = replace(
                    result_of(task, outcome, results[place].action), reason=results[place].reason
                )
                report(task.source.name, finished, len(tasks))
        others = {f: e for f, e in known_entries(out).items() if real_record(out, f)}
        write_summary(out, layout.base, settings, results, others)
    return BatchSummary(tuple(results))


def cache_folder(cache: str | Path | bool) -> Path | None:
    """The folder that the argument means; None: no cache."""
    folder = default_cache_folder() if cache is True else Path(cache or "")
    return folder.absolute() if folder.parts else None


@contextmanager
def locked(out: Path) -> Iterator[None]:
    """Make the output folder and keep other batches out of it. Raises WriteError."""
    try:
        out.mkdir(parents=True, exist_ok=True)
        descriptor = os.open(
            out / LOCK, os.O_RDWR | os.O_CREAT | NO_FOLLOWING | NOT_INHERITED, 0o666
        )
    except OSError as error:
        raise WriteError.of_kind(
            "file_unwritable", f"{out}: the output folder can't be used: {error.strerror}"
        ) from error
    try:
        # The system gives the lock back when the process ends, however it ends.
        try:
            lock_file(descriptor)
        except OSError as error:
            raise WriteError.of_kind(
                "file_unwritable", f"{out}: another batch is at work in this folder; wait for it"
            ) from error
        try:
            remove_temporary_files(out)
            yield
        finally:
            # Processes that were forked meanwhile have the descriptor, too: to close ours would not do.
            unlock_file(descriptor)
    finally:
        os.close(descriptor)


@contextmanager
def cleared_away(tasks: Sequence[Task]) -> Iterator[None]:
    """If the block is left by an exception, remove the half-written files of the tasks, whose processes have
    ended by then."""
    try:
        yield
    except BaseException:
        for task in tasks:
            with suppress(OSError, WriteError):
                remove_temporary_files(real_folder(task.out, task.source.folder))
        raise


def planned(
    base: Path,
    sources: Sequence[Source],
    out: Path,
    settings: Settings,
    redo: bool,
    leave: Container[Path] = (),
    state_of: Callable[[Path], ModelState] = model_state,
) -> tuple[list[SourceResult], list[Task]]:
    """What there is to do: a result for each source as far as it is known, and the tasks. The paths in
    ``leave`` are left as they are; ``state_of`` tells what a model is made of."""
    results, tasks = [], []
    options = settings_digest(settings)
    for source in sources:
        if source.path in leave:
            continue
        expected = Record(source.name, state_of(source.path).digest, options)
        record: Record | None = None
        action: Action = "again"
        reason = ""
        with suppress(FileNotFoundError, WriteError):
            folder = real_folder(out, source.folder)
            record = read_record(folder)
            if record is not None:
                reason = why_not_current(record, folder, expected)
        if record is None:
            action = "new"
        elif (record.source, record.digest, record.settings) != (
            expected.source,
            expected.digest,
            expected.settings,
        ):
            action = "changed"
        elif not reason and not redo and expected.digest:
            action = "current"
        elif not reason:
            reason = "asked for" if redo else "it can't be read"
        result = SourceResult(source.name, source.folder, action, "started", reason=reason)
        if action == "current" and record:
            result = with_record(result, record)
        else:
            tasks.append(Task(source, out, settings, expected))
        results.append(result)
    return results + list(gone(base, sources, out)), tasks


def largest_first(tasks: Iterable[Task]) -> list[Task]:
    """The tasks by the size of their models: a large one at the end would keep one worker busy alone.

    R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM J. Appl. Math. 17 (1969): longest first
    takes at most 4/3 of the shortest time. From memory.
    """

    def size(task: Task) -> int:
        try:
            return task.source.path.stat().st_size
        except OSError:
            return 0

    return sorted(tasks, key=size, reverse=True)


def gone(base: Path, sources: Sequence[Source], out: Path) -> Iterator[SourceResult]:
    """Sources of earlier runs that are no more, or whose drawings now go to another folder."""
    folders = {source.folder for source in sources}
    names = {source.name for source in sources}
    for folder, entry in known_entries(out).items():
        name = str(entry.get("source", ""))
        if folder in folders or entry.get("base") != str(base):
            continue
        if name in names or is_absent(base / name):
            yield SourceResult(name, folder, "gone", "done")


def is_absent(path: Path) -> bool:
    """True if there is no such file, or a link that leads nowhere; not if that can't be told."""
    try:
        os.stat(path)  # noqa: PTH116 (Path.exists() of Python 3.13 takes all errors for absence)
    except (FileNotFoundError, NotADirectoryError):
        return True
    except OSError:
        return False
    return False


def remove_gone(out: Path, result: SourceResult) -> SourceResult:
    """Remove the output of a source that is gone, as far as its record knows it."""
    try:
        path = real_folder(out, result.folder)
    except (FileNotFoundError, WriteError):
        return result
    record = read_record(path)
    remove_files(path, record.files if record else ())
    (path / RECORD).unlink(missing_ok=True)
    while path != out:
        try:
            path.rmdir()
        except OSError:
            break  # there is something of somebody else in it
        path = path.parent
    return result


def real_record(out: Path, folder: str) -> bool:
    """True if there is a record in a folder of the output."""
    try:
        return read_record(real_folder(out, folder)) is not None
    except (OSError, WriteError):
        return False


def write_summary(
    out: Path,
    base: Path,
    settings: Settings,
    results: Sequence[SourceResult],
    others: dict[str, dict[str, Any]],
) -> None:
    """Write the manifest of the output folder: these results, and the entries of ``others``."""
    entries = dict(others)
    for result in results:
        if result.action == "gone":
            continue
        entries[result.folder] = {
            "base": str(base),
            "source": result.source,
            "folder": result.folder,
            "status": result.status,
            "drawings": result.drawings,
            "pieces": result.pieces,
            "errors": list(result.errors),
        }
    words = {
        "planform_manifest": SCHEMA,
        "version": __version__,
        "settings": {**asdict(settings), "formats": list(settings.formats)},
        "sources": [entries[folder] for folder in sorted(entries)],
    }
    write_whole_file(out / MANIFEST, json_text(words))


def executed(
    function: Callable[[Any], Any], tasks: Sequence[Any], executor: Any
) -> Generator[tuple[int, Outcome], None, None]:
    """Call ``function`` with each task by an executor; yield (number of the task, outcome)."""
    # A Client of dask.distributed is none itself but gives one.
    pool: Executor = executor.get_executor() if hasattr(executor, "get_executor") else executor
    futures: dict[Any, int] = {}
    try:
        for number, task in enumerate(tasks):
            try:
                futures[pool.submit(function, task)] = number
            except RuntimeError as error:  # broken or shut down
                yield number, Outcome(error=f"the executor takes no task: {error}")
        for future in as_completed(futures):
            try:
                yield futures[future], Outcome(future.result())
            except (Exception, CancelledError) as error:
                cause = f"the executor failed: {type(error).__name__}: {error}"
                yield futures[future], Outcome(error=cause)
    finally:
        for future in futures:
            future.cancel()


def result_of(task: Task, outcome: Outcome, action: Action) -> SourceResult:
    """The result of a task; if it was cut off, what is half done is cleared away and recorded as such."""
    if isinstance(outcome.value, SourceResult):
        return replace(outcome.value, action=action)
    errors = (one_line(outcome.error),)
    with suppress(OSError, Error):
        folder = real_folder(task.out, task.source.folder, make=True)
        record = read_record(folder)
        remove_temporary_files(folder)
        remove_files(folder, record.files if record else ())
        write_record(folder, replace(task.expected, status="stopped", errors=errors))
    return SourceResult(task.source.name, task.source.folder, action, "stopped", errors=errors)
