"""One source of a batch: what a worker does with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import Literal

from planform._planform import Model, _load_cached_bytes, auto_datum, load_cached
from planform.allowances import left_by_tool
from planform.batch.changes import OUTLINE, Change, change_of, read_outlines
from planform.batch.drawing import Drawing
from planform.batch.files import file_paths
from planform.batch.folders import Source, real_folder
from planform.batch.manifest import (
    Record,
    Status,
    file_digest,
    read_record,
    remove_files,
    remove_temporary_files,
    write_record,
)
from planform.batch.model_state import ModelState, model_state
from planform.batch.models import Batch
from planform.batch.settings import Settings
from planform.batch.workers import OutOfMemoryError
from planform.errors import Error, GeometryError
from planform.naming import one_line

Action = Literal["current", "new", "changed", "again", "gone"]


@dataclass(frozen=True)
class Task:
    """One source to flatten, as a worker gets it."""

    source: Source
    out: Path
    settings: Settings
    expected: Record
    cache: Path | None = None
    compare: bool = False


@dataclass(frozen=True)
class SourceResult:
    """What became of one source of a batch.

    Attributes
    ----------
    source : str
        Its path below the folder that all sources share.
    folder : str
        Where its drawings are, below the output folder.
    action : {"current", "new", "changed", "again", "gone"}
        What there was to do: nothing; it was not there before; its bytes, the options or the version
        differ; its output was incomplete or touched, or the last run was cut off; the source is gone and
        its output has been removed.
    status : {"done", "not flat", "failed", "stopped"}
        not flat: a part has no plane to lie on; failed: see ``errors``; stopped: the process crashed, took
        too long or too much memory.
    drawings, pieces : int
        Number of drawings and of pieces to cut.
    errors, notes : tuple of str
        One line each.
    reason : str
        Why there was something to do, where it had been done before.
    changes : tuple of Change
        How outlines differ from those of the run before, if that was asked for.
    """

    source: str
    folder: str
    action: Action
    status: Status
    drawings: int = 0
    pieces: int = 0
    errors: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    reason: str = ""


def with_record(result: SourceResult, record: Record) -> SourceResult:
    """The result with what is recorded of the source."""
    return replace(
        result,
        status=record.status,
        drawings=record.drawings,
        pieces=record.pieces,
        errors=record.errors,
        notes=record.notes,
    )


def flatten_source(task: Task) -> SourceResult:
    """Flatten one source into its folder, records and all; called in a worker. Raises OutOfMemoryError."""
    blank = SourceResult(task.source.name, task.source.folder, "again", "failed")
    try:
        folder = real_folder(task.out, task.source.folder, make=True)
        remove_temporary_files(folder)
        if task.compare:
            return compared(blank, task, folder)
        return with_record(blank, draw_source(task, folder))
    except Error as error:
        if "not enough memory" in str(error):
            raise OutOfMemoryError from error
        return replace(blank, errors=(one_line(str(error)),))
    except OSError as error:
        return replace(blank, errors=(one_line(f"{error.filename}: {error.strerror}"),))


def compared(blank: SourceResult, task: Task, folder: Path) -> SourceResult:
    """The same, with how the outlines differ from those before."""
    before = read_record(folder)
    old = read_outlines(folder, before.files if before else ())
    record = draw_source(task, folder)
    if before is None:
        return with_record(blank, record)
    new = read_outlines(folder, record.files)
    changes = [change_of(name, old.get(name), new.get(name)) for name in sorted({*old, *new})]
    return replace(
        with_record(blank, record), changes=tuple(change for change in changes if change)
    )


def draw_source(task: Task, folder: Path) -> Record:
    """Read the model, draw it, remove what no longer belongs to it; return the record written at last."""
    before = read_record(folder)
    earlier = set(before.files) if before else set()
    batch = batch_as_planned(task)
    if batch is None:
        # Half of it may be of one state, half of the next: nothing of it is drawn.
        record = replace(
            task.expected,
            status="stopped",
            files=before.files if before else {},
            errors=("the model was written while it was read; it will be done again",),
        )
        write_record(folder, record)
        return record
    names = [
        name for drawing in batch.result.drawings for name in file_names(drawing, task.settings)
    ]
    # From here on a run that is killed leaves these names behind, and no others.
    planned_files = dict.fromkeys(sorted({*names, *earlier}), "")
    write_record(folder, replace(task.expected, files=planned_files))
    made: dict[str, str] = {}
    drawings = 0
    pieces = 0
    for drawing in batch.run(folder):
        if drawing.outcome != "drawn" or drawing.profiles is None:
            continue
        drawings += 1
        pieces += drawing.quantity
        drawing.profiles.to_json(folder / OUTLINE.format(drawing.stem))
        for name in file_names(drawing, task.settings):
            made[name] = file_digest(folder / name)
    remove_files(folder, set(planned_files) - set(made))
    (result,) = batch.result.models
    # The summary names the source before each error, by its path below the folder of all.
    errors = [error.removeprefix(f"{task.source.path}: ") for error in batch.result.errors]
    record = replace(
        task.expected,
        status=status_of(result.error, result.drawings, task.settings),
        files=made,
        drawings=drawings,
        pieces=pieces,
        errors=tuple(errors),
        notes=tuple(notes_of(batch)),
    )
    write_record(folder, record)
    return record


def batch_as_planned(task: Task) -> Batch | None:
    """The model, read, with the drawings to make of it; None if its files are not those that the task was
    planned for."""
    path = task.source.path
    state = model_state(path)
    if state.digest != task.expected.digest:
        return None
    batch = Batch([path], task.settings, partial(model_of, state, task.cache))
    # What was read are the bytes that were looked at. Files that they name are read once more by their path,
    # and what could not be read may be there by now.
    is_settled = bool(state.digest) and not state.others
    if not is_settled and model_state(path).digest != state.digest:
        return None
    return batch


def model_of(
    state: ModelState,
    cache: Path | None,
    path: Path,
    /,
    *,
    unit: str | None,
    scale: float,
    heal: Literal["needed", "always"],
) -> Model:
    """`planform.load_cached` of bytes that have been read. Raises LoadError."""
    if not state.digest:
        return load_cached(path, cache, unit=unit, scale=scale, heal=heal)  # says what is wrong
    return _load_cached_bytes(state.data, path, cache, unit=unit, scale=scale, heal=heal)


def file_names(drawing: Drawing, settings: Settings) -> list[str]:
    """Names of the files of a drawing: one a format, and the outline that the next run compares with."""
    return [
        *(path.name for path in file_paths(Path(drawing.stem), settings)),
        OUTLINE.format(drawing.stem),
    ]


def status_of(error: str, drawings: Sequence[Drawing], settings: Settings) -> Status:
    """What the record says of a source that was worked on to the end."""
    failed = [drawing for drawing in drawings if drawing.outcome == "failed"]
    causes = [error, *(drawing.error for drawing in failed)]
    if any("not enough memory" in cause for cause in causes):
        raise OutOfMemoryError
    if any(cause.startswith("can't write") for cause in causes):
        return "stopped"  # a full disk, say, won't be full the next time
    if error:
        return "failed"
    if not failed:
        return "done"
    if settings.datum == "auto" and all(has_no_plane(drawing) for drawing in failed):
        return "not flat"
    return "failed"


def has_no_plane(drawing: Drawing) -> bool:
    """True if a part has no planar face to lie on."""
    try:
        auto_datum(drawing.solids)
    except GeometryError:
        return True
    return False


def notes_of(batch: Batch) -> Iterator[str]:
    """Notes of the model and of its drawings, a line each."""
    for result in batch.result.models:
        for note in result.model.notes if result.model else ():
            yield one_line(note)
        for drawing in result.drawings:
            for note in drawing.profiles.notes if drawing.profiles else ():
                yield one_line(f"{drawing.name}: {note}")
            for note in left_by_tool(drawing.way) if drawing.way else ():
                yield one_line(f"{drawing.name}: {note}")
