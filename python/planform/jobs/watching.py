"""Jobs made again when something that they depend on is saved."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator
from pathlib import Path

from planform.batch.model_state import KnownStates, Look, look_of
from planform.batch.watching import SETTLED, is_whole
from planform.errors import Error
from planform.formats import MODEL_SUFFIXES
from planform.jobs.dependencies import stock_digests
from planform.jobs.job_file import JobSource, read_job

Looks = dict[Path, Look | None]
"""How files looked when they were looked at; None for one that is not there."""


def files_of_job(path: Path, models: KnownStates | None = None) -> list[Path]:
    """All files that a job depends on: itself, what it includes, models, drawings, machine, materials, stock.
    Of one that can't be read itself alone."""
    models = models or KnownStates()
    try:
        job = read_job(path)
    except Error:
        return [path]
    files = [
        *job.files,
        *(file for source in job.sources for file in files_of_source(source, models)),
    ]
    files += [file for file in (job.machine, job.materials) if file is not None]
    if isinstance(job.stock, Path):
        files += [job.stock.parent / name for name in stock_digests(job.stock)]
    return list(dict.fromkeys([path, *files]))


def files_of_source(source: JobSource, models: KnownStates) -> list[Path]:
    """Its file, and of a model those that it names."""
    others = models.of(source.path).others if source.kind == "model" else []
    return [source.path, *others]


def looks(paths: Iterable[Path], models: KnownStates) -> dict[Path, Looks]:
    """How the files of each job look now; ``models`` spares reading models at each look."""
    return {path: {file: look_of(file) for file in files_of_job(path, models)} for path in paths}


def is_settled(look: Looks) -> bool:
    """Are all models whole?"""
    return all(
        state is None or not file.name.lower().endswith(MODEL_SUFFIXES) or is_whole(file)
        for file, state in look.items()
    )


def saved_jobs(paths: Iterable[Path], stop: threading.Event | None = None) -> Iterator[list[Path]]:
    """Yield the jobs of which a file was saved since the call, each time that there are some and nothing has
    changed for a moment, until ``stop`` is set. What is saved while the caller is busy is found after."""
    jobs = list(paths)
    models = KnownStates()
    return later_saved(jobs, looks(jobs, models), models, stop or threading.Event())


def later_saved(
    jobs: list[Path], known: dict[Path, Looks], models: KnownStates, stop: threading.Event
) -> Iterator[list[Path]]:
    """The jobs of which a file no longer looks as it is known to have looked."""
    last = known
    while not stop.wait(SETTLED):
        now = looks(jobs, models)
        # Each by itself: a model that never becomes whole holds up its own job alone.
        ready = [
            job
            for job in jobs
            if now[job] != known[job] and now[job] == last[job] and is_settled(now[job])
        ]
        last = now
        if ready:
            known = {**known, **{job: now[job] for job in ready}}
            yield ready
