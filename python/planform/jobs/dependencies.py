"""What each step of a job depends on, as plain data: where nothing of it changed, the step is current."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import asdict, replace
from pathlib import Path
from typing import Any

from planform.batch.manifest import file_digest
from planform.batch.model_state import model_digest
from planform.formats import OUTLINE_SUFFIXES
from planform.jobs.job_file import JobFile, JobSource
from planform.jobs.sources import JobPiece
from planform.planning.machine import Machine
from planform.sheets.output import LAYOUT

Pieces = Sequence[tuple[JobSource, JobPiece]]


def machine_widths(job: JobFile, machine: Machine | None) -> list[Any]:
    """The widths of cut that the machine gives."""
    cuts = machine.cuts if machine and job.kerf is None else ()
    return [[cut.material, cut.thickness, cut.kerf] for cut in cuts]


def source_key(source: JobSource, job: JobFile, machine: Machine | None) -> Any:
    """Of the pieces of a source: its file, its table but the quantity, what moves outlines."""
    model = source.kind == "model"
    return [
        model_digest(source.path) if model else file_digest(source.path, follow=True),
        {**asdict(source), "path": source.path.name, "quantity": 1},
        machine_widths(job, machine),
        job.kerf,
        job.allowances.parts(),
        job.tolerance,
        job.at if model else "",
        file_digest(job.materials, follow=True) if model and job.materials else "",
        dict(job.densities),
        [[wish.name, wish.material] for wish in job.wishes],
    ]


def outlines_key(pieces: Pieces) -> Any:
    """The outlines of the parts."""
    return [[piece.name, piece.thickness, piece.outline.digest] for _, piece in pieces]


def ways_key(pieces: Pieces) -> Any:
    """The ways of the tool, where they lie."""
    return [
        [piece.name, piece.material, piece.way.digest, [float(x) for x in piece.way.bounds.flat]]
        for _, piece in pieces
    ]


def drawing_key(job: JobFile, machine: Machine | None) -> Any:
    """How drawings are written."""
    return [job.formats, job.unit, machine.layers if machine else {}]


def layout_key(job: JobFile, pieces: Pieces) -> Any:
    """Of the layout: what is laid out, on what, and how."""
    counts = [piece.quantity * source.quantity for source, piece in pieces]
    return [
        [outlines_key(pieces), ways_key(pieces), counts],
        [asdict(wish) for wish in job.wishes],
        job.stock if isinstance(job.stock, str) else stock_digests(job.stock),
        [job.gap, job.margin, job.seconds, job.seed, job.plain, job.turns],
    ]


def plan_key(job: JobFile, machine: Machine, pieces: Pieces, folder: Path) -> Any:
    """Of the cuts: the layout in the folder, the machine without its rates, what is asked of cuts."""
    figures = asdict(replace(machine, rates=type(machine.rates)(), name="", source=""))
    return [
        file_digest(folder / LAYOUT),
        figures,
        asdict(job.plan),
        [[piece.density, piece.avoid] for _, piece in pieces],
        [job.formats, job.unit],
    ]


def quote_key(job: JobFile, machine: Machine, pieces: Pieces, folder: Path) -> Any:
    """Of the quote: the plan and the whole machine."""
    return [plan_key(job, machine, pieces, folder), asdict(machine), job.name, asdict(job.quote)]


def stock_digests(path: Path) -> dict[str, str]:
    """The stock file and the files that it names."""
    digests = {path.name: file_digest(path, follow=True)}
    try:
        named = sorted(outlines_named(tomllib.loads(path.read_text(encoding="utf-8"))))
    except (ValueError, OSError):  # reading it will say what is wrong
        named = []
    for name in named:
        if (path.parent / name).is_file():
            digests[name] = file_digest(path.parent / name, follow=True)
    return digests


def outlines_named(value: Any) -> set[str]:
    """The files of outlines that a stock file names, at whatever key."""
    if isinstance(value, str):
        return {value} if value.lower().endswith(OUTLINE_SUFFIXES) else set()
    inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    return set().union(*map(outlines_named, inner))
