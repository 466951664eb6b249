"""Job files where a command takes models: the files that a job names, and its options where none are
given."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import click

from planform.cli.options import report_warning
from planform.jobs.job_file import JobFile, read_job
from planform.sheets.values import Piece

JOB_SUFFIX = ".toml"


def is_job(path: str | Path) -> bool:
    """Is it named as a job file is?"""
    return str(path).lower().endswith(JOB_SUFFIX)


def models_of_jobs(
    context: click.Context, _argument: click.Parameter, value: Any
) -> tuple[Path, ...] | Path | None:
    """The models of an argument, those of a job file in its place. What the job says of tolerance, outline
    and allowances counts where the command line says nothing. Raises a usage error for two job files."""
    return sources_of_jobs(context, value, ("model",))


def files_of_jobs(
    context: click.Context, _argument: click.Parameter, value: Any
) -> tuple[Path, ...] | Path | None:
    """The same with drawings."""
    return sources_of_jobs(context, value, ("model", "drawing"))


def sources_of_jobs(
    context: click.Context, value: Any, kinds: Sequence[str]
) -> tuple[Path, ...] | Path | None:
    """The files of some kinds, in their order."""
    is_single = not isinstance(value, tuple)
    paths = [value] if is_single else list(value)
    jobs = [path for path in paths if path is not None and is_job(path)]
    if not jobs:
        return value  # type: ignore[no-any-return]
    if len(jobs) > 1:
        raise click.UsageError(f"{jobs[1]}: one job file a call; name the other's models instead")
    job = read_job(jobs[0])
    context.default_map = {**(context.default_map or {}), **options_of(job)}
    names = {option.name for option in context.command.params}
    if {"kerf", "folder"} <= names and has_widths_elsewhere(job):
        report_warning(
            f"{jobs[0]}: its widths of cut stand in the machine file, by material: planform job puts them "
            "into the drawings, this command only a --kerf"
        )
    files = [source.path for source in job.sources if source.kind in kinds]
    found = [
        file for path in paths for file in (files if path is not None and is_job(path) else [path])
    ]
    if not found:
        raise click.UsageError(f"{jobs[0]}: names no {' or '.join(kinds)}")
    if is_single:
        if len(found) > 1:
            raise click.UsageError(
                f"{jobs[0]}: names {len(found)} models, and this command takes one; planform job takes all"
            )
        return found[0]
    return tuple(found)


def has_widths_elsewhere(job: JobFile) -> bool:
    """Does a job leave the width of cut to its machine?"""
    if job.kerf is not None or not job.machine:
        return False
    from planform.planning.machine import Machine

    return any(cut.kerf for cut in Machine.read(job.machine).cuts)


def options_of(job: JobFile) -> dict[str, Any]:
    """What a job says, by the names of the commands' options."""
    options: dict[str, Any] = {
        "tolerance": job.tolerance,
        "at": job.at,
        "unit": job.unit,
        "formats": ",".join(job.formats),
        **job.allowances.parts(),
        "kerf": job.kerf or 0.0,
    }
    if job.materials:
        options["materials"] = job.materials
    thicknesses = {source.thickness for source in job.sources if source.kind == "drawing"}
    if len(thicknesses) == 1 and all(source.kind == "drawing" for source in job.sources):
        options["thickness"] = thicknesses.pop()
    return options


def layout_of_jobs(
    context: click.Context, _argument: click.Parameter, value: tuple[str, ...]
) -> tuple[str, ...]:
    """The arguments of ``planform sheets``: what a job file says of the layout counts where the command line
    says nothing. Raises a usage error for a job file that stands beside others."""
    jobs = [name for name in value if is_job(name)]
    if not jobs:
        return value
    if len(value) > 1:
        raise click.UsageError(f"{jobs[0]}: a job file stands alone; put the rest into it")
    job = read_job(jobs[0])
    options = {
        "gap": job.gap,
        "margin": job.margin,
        "seconds": job.seconds,
        "seed": job.seed,
        "plain": job.plain,
        "unit": job.unit,
        "formats": ",".join(job.formats),
    }
    context.default_map = {**(context.default_map or {}), **options}
    return value


@dataclass(frozen=True)
class PiecesOfJob:
    """The pieces of a job as they are to be laid out, and what a person should know."""

    job: JobFile
    pieces: list[Piece]
    notes: list[str]
    errors: list[str]
    layers: dict[str, dict[str, Any]]
    """The machine's."""


def pieces_of_job(path: Path) -> PiecesOfJob:
    """Read the sources of a job. Raises LoadError or GeometryError for a file of settings."""
    from planform.jobs.sources import pieces_of
    from planform.jobs.wanted import wanted_pieces
    from planform.planning.machine import Machine
    from planform.sheets.stock_file import read_stock

    job = read_job(path)
    machine = Machine.read(job.machine) if job.machine else None
    found = [pieces_of(source, job, machine) for source in job.sources]
    stock = read_stock(job.stock) if job.stock else ()
    listed = [
        (source, piece)
        for source, one in zip(job.sources, found, strict=True)
        for piece in one.pieces
    ]
    notes = [note for one in found for note in one.notes]
    errors = [error for one in found for error in one.errors]
    layers = machine.layers if machine else {}
    return PiecesOfJob(job, wanted_pieces(job, listed, stock), notes, errors, layers)
