"""The command ``planform batch``: many models at once, and again when they change."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import Any

import click

from planform.batch.many import MEMORY, TIMEOUT, BatchSummary, Options, cache_folder, flatten_all
from planform.batch.one_source import SourceResult
from planform.batch.settings import Settings
from planform.batch.watching import watch_all
from planform.cli.job_command import make
from planform.cli.job_sources import is_job
from planform.cli.options import (
    DONE,
    FAILED,
    UNUSABLE,
    out_option,
    positive,
    report_error,
    settings_of,
    settings_options,
)
from planform.cli.progress import Advance, progress_bar
from planform.errors import Error, WriteError
from planform.jobs.job_file import read_job
from planform.jobs.watching import saved_jobs
from planform.naming import FileNames, counted, printable
from planform.pages.batch_report import write_batch_report


@click.command("batch")
@click.argument("sources", nargs=-1, required=True, metavar="DIR_OR_GLOB...")
@out_option
@click.option(
    "--workers",
    type=click.IntRange(min=1),
    metavar="N",
    help="Processes that work side by side; one a processor by default.",
)
@click.option(
    "--timeout",
    type=float,
    default=TIMEOUT,
    show_default=True,
    metavar="S",
    callback=positive,
    help="Seconds that one model may take before it is stopped.",
)
@click.option(
    "--memory",
    type=float,
    default=MEMORY,
    show_default=True,
    metavar="GIB",
    callback=positive,
    help="Address space that one process may take.",
)
@click.option(
    "--check",
    is_flag=True,
    help="Change nothing, say what would be done and what failed; exit status 1 if there is either.",
)
@click.option(
    "--cache",
    type=click.Path(path_type=Path),
    metavar="DIR",
    help="Folder for parsed models, which spare reading STEP again; by default in ~/.cache/planform.",
)
@click.option("--no-cache", is_flag=True, help="Read every model afresh and keep none.")
@click.option(
    "--watch",
    is_flag=True,
    help="Go on: flatten each model again as soon as it is saved whole, until Ctrl-C.",
)
@click.option("--redo", is_flag=True, help="Do every model, changed or not.")
@settings_options
@click.option(
    "--report",
    is_flag=True,
    help="Write report.html: every model, and how changed outlines differ from those before.",
)
def batch_command(
    sources: tuple[str, ...],
    folder: Path,
    workers: int | None,
    timeout: float,
    memory: float,
    check: bool,
    cache: Path | None,
    no_cache: bool,
    watch: bool,
    redo: bool,
    report: bool,
    **options: Any,
) -> int:
    """Flatten all models in folders or of patterns, and next time only those that changed.

    Each model has a folder of its own in the output folder. A model that crashes, hangs or takes too much
    memory costs no other. What was done is remembered in the output folder: models, options or files there
    that change are done again, what belongs to models that are gone is removed. A job file is a source,
    too: it is made as by planform job, in a folder of its name."""
    settings = settings_of(options)
    jobs = [Path(source) for source in sources if is_job(source)]
    sources = tuple(source for source in sources if not is_job(source))
    if watch and check:
        raise click.UsageError("--check changes nothing, so it has no meaning with --watch")
    if watch and jobs and sources:
        raise click.UsageError(
            "--watch takes job files or models, not both; put the models into a job"
        )
    saved = saved_jobs(jobs)
    folders = folders_of_jobs(jobs, folder)
    status = max([DONE, *(run_job(path, own, check) for path, own in folders.items())])
    if not sources:
        return keep_making(folders, saved) if watch else status
    if watch:
        folder_of_models = False if no_cache else cache or True
        bounds = Options(
            workers, None, timeout, memory, redo, report, cache_folder(folder_of_models)
        )
        return keep_watching(sources, folder, settings, bounds, report)
    if check:
        return max(
            status, say_pending(flatten_all(sources, folder, settings, redo=redo, check=True))
        )
    with ExitStack() as stack:
        advance: list[Advance] = []

        def progress(name: str, finished: int, total: int) -> None:
            if not finished:
                advance.append(stack.enter_context(progress_bar(total, rate=True)))
            advance[0](name, 1 if finished else 0)

        summary = flatten_all(
            sources,
            folder,
            settings,
            workers=workers,
            timeout=timeout,
            memory=memory,
            redo=redo,
            compare=report,
            cache=False if no_cache else cache or True,
            progress=progress,
        )
    return max(status, say_summary(summary, settings, folder, report))


def folders_of_jobs(jobs: Sequence[Path], folder: Path) -> dict[Path, Path]:
    """For each job a folder of its name."""
    names = FileNames()
    return {path: folder / names.unique(read_job(path).name) for path in jobs}


def run_job(path: Path, folder: Path, check: bool) -> int:
    """Make a job in its folder; return the exit status."""
    job = read_job(path)
    print(f"job: {printable(job.name)}")
    return make(job, folder, check)


def keep_making(folders: Mapping[Path, Path], saved: Iterator[list[Path]]) -> int:
    """Make jobs again when something that they depend on is saved, until Ctrl-C. One that can't be made holds
    up no other."""
    print("watching; Ctrl-C ends it")
    sys.stdout.flush()
    try:
        for those in saved:
            for path in those:
                try:
                    run_job(path, folders[path], check=False)
                except Error as error:  # a file of settings that is half done
                    report_error(str(error))
            sys.stdout.flush()
    except KeyboardInterrupt:
        print("no longer watching")
    return DONE


def keep_watching(
    sources: tuple[str, ...], folder: Path, settings: Settings, options: Options, report: bool
) -> int:
    """Flatten, then again what is saved, until Ctrl-C."""
    try:
        for number, summary in enumerate(watch_all(sources, folder, settings, options)):
            for path in summary.waiting:
                print(f"waiting: {printable(path)} is not whole; it is written, or was cut off")
            if summary.waiting:
                sys.stdout.flush()
                continue
            if number:
                for result in summary.pending:
                    print(pending_line(result))
            say_summary(summary, settings, folder, report, only_new=number > 0)
            if not number:
                print("watching; Ctrl-C ends it")
            sys.stdout.flush()
    except KeyboardInterrupt:
        print("no longer watching")
    return DONE


def pending_line(result: SourceResult) -> str:
    """What there is, or was, to do with a model, and why."""
    reason = f" ({printable(result.reason)})" if result.reason else ""
    return f"{result.action}: {printable(result.source)}{reason}"


def say_pending(summary: BatchSummary) -> int:
    """What a run would do, a line each; the exit status of ``--check``."""
    for result in summary.pending:
        print(pending_line(result))
    for line in summary.errors:
        report_error(line)  # of the last run; it would be the same again
    print(f"{len(summary.pending)} of {counted(len(summary.results), 'model')} to do")
    return FAILED if summary.pending or summary.errors else DONE


def say_summary(
    summary: BatchSummary, settings: Settings, folder: Path, report: bool, only_new: bool = False
) -> int:
    """Errors, with ``only_new`` those of this run alone, then what was done; the exit status."""
    errors = BatchSummary(tuple(summary.pending)).errors if only_new else summary.errors
    if report:
        try:
            write_batch_report(summary, settings, folder / "report.html")
        except WriteError as error:
            errors.append(str(error))
    for line in errors:
        report_error(line)
    if not only_new:
        for result in summary.pending:
            if result.reason:
                print(pending_line(result))
    done = [result for result in summary.pending if result.action != "gone"]
    kept = [result for result in summary.results if result.action == "current"]
    print(
        f"{counted(summary.count('done'), 'model')} done, {summary.count('not flat')} not flat, "
        f"{summary.count('failed')} failed, {summary.count('stopped')} stopped; "
        f"{len(done)} worked on now, {len(kept)} unchanged"
    )
    print(
        f"{counted(sum(result.drawings for result in summary.results), 'drawing')}, "
        f"{counted(sum(result.pieces for result in summary.results), 'piece')} to cut, in {folder}"
    )
    if not summary.count("done") and errors:
        return UNUSABLE
    return FAILED if errors else DONE
