"""What is to be cut: models, drawings and outlines with quantities, as pieces.

A piece file says how pieces may lie, one table for each name (as in the cut list)::

    [[piece]]
    name = "tray"
    turns = "180"        # "any", 90, 180 or "none"
    may_mirror = true    # may be cut from its mirror image
    quantity = 12        # instead of that of the job
    priority = 1         # placed before those of a lower one where the stock does not serve for all
    spares = 2           # so many more where they need no further sheet
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from planform._planform import Allowance, Mark, Profile, ProfileSet, allowance_notes, load
from planform.allowances import Allowances, allowance_of, as_cut, left_by_tool
from planform.cut_lists.cut_list import CutList, MaterialRules
from planform.drawings.reading import is_drawing, read_drawing
from planform.errors import Error, GeometryError, LoadError
from planform.naming import one_line
from planform.sheets.tables import Table, tables_of
from planform.sheets.values import TURNS, Piece, Turns

KEYS = ("name", "turns", "may_mirror", "quantity", "priority", "spares")


@dataclass(frozen=True)
class Job:
    """A file, and how often all of it is wanted."""

    path: Path
    quantity: int = 1


@dataclass(frozen=True)
class JobOptions:
    """How jobs are read.

    ``thickness`` (mm) and ``material`` are those of drawings, and of models whose plates have no material.
    ``read_unit``, ``scale``, ``heal`` and ``plates`` are those of `planform.load` and `planform.plates`.
    """

    thickness: float = 0.0
    material: str = field(default_factory=lambda: "")
    materials: MaterialRules | None = None
    allowances: Allowances = field(default_factory=Allowances)
    turns: Turns = field(default_factory=lambda: "any")
    read_unit: str = field(default_factory=lambda: "")
    scale: float = 1.0
    tolerance: float = 0.01
    plates: dict[str, Any] = field(default_factory=dict)


@dataclass
class Collected:
    """Pieces, and what a person should know: notes and errors, a line each."""

    pieces: list[Piece] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)


def job_of(argument: str) -> Job:
    """``FILE``, or ``NUMBER:FILE`` for so many of all that is in it."""
    number, colon, name = argument.partition(":")
    if colon and number.isascii() and number.isdigit() and not Path(argument).exists():
        return Job(Path(name), int(number))
    return Job(Path(argument))


def collect(jobs: Iterable[Job], options: JobOptions) -> Collected:
    """All pieces of the jobs, in their order; a failure costs the job it happens in."""
    collected = Collected()
    for job in jobs:
        try:
            if job.path.suffix.lower() == ".json" or is_drawing(job.path):
                add_drawing(job, options, collected)
            else:
                add_model(job, options, collected)
        except Error as error:
            collected.errors.append(one_line(str(error)))
    return collected


def add_model(job: Job, options: JobOptions, collected: Collected) -> None:
    """The plates of a model."""
    model = load(job.path, unit=options.read_unit or None, scale=options.scale)
    collected.notes += [f"{job.path}: {note}" for note in model.notes]
    cut_list = CutList.from_model(
        model, options.materials, **options.allowances.parts(), **options.plates
    )
    collected.errors += [f"{job.path}: {line}" for line in cut_list.errors]
    for other in cut_list.others:
        collected.notes.append(
            f"{job.path}: no plate, not laid out: {other.name} ({other.quantity}): {other.text}"
        )
    for entry in cut_list.entries:
        collected.notes += [f"{job.path}: {entry.name}: {note}" for note in entry.notes]
        if entry.way is None:
            continue
        collected.notes += [f"{job.path}: {entry.name}: {note}" for note in left_by_tool(entry.way)]
        collected.pieces.append(
            Piece(
                entry.name,
                entry.way,
                entry.quantity * job.quantity,
                entry.material or options.material,
                entry.plate.thickness,
                options.turns,
            )
        )
    if not cut_list.entries:
        raise LoadError.of_kind("no_solid", f"{job.path}: holds no plate")


def add_drawing(job: Job, options: JobOptions, collected: Collected) -> None:
    """The outlines of a drawing: each with what lies in its holes is a piece. A JSON may come with an
    allowance."""
    own = None
    if job.path.suffix.lower() == ".json":
        profiles = ProfileSet.from_json(job.path)
        own = Allowance.from_json(job.path)
    else:
        drawing = read_drawing(job.path, unit=options.read_unit or None)
        profiles = drawing.profile_set(tolerance=options.tolerance)
    collected.notes += [f"{job.path}: {note}" for note in profiles.notes]
    try:
        profiles = as_cut(profiles, allowance_of(profiles, own, options.allowances))
    except GeometryError as error:
        raise GeometryError.of_kind(error.kind, f"{job.path}: {error}") from error
    collected.notes += [f"{job.path}: {note}" for note in left_by_tool(profiles)]
    pieces = separate(profiles)
    if not pieces:
        raise LoadError.of_kind("no_solid", f"{job.path}: holds no closed outline to cut")
    for number, (outline, name) in enumerate(pieces, start=1):
        title = name or (job.path.stem if len(pieces) == 1 else f"{job.path.stem} {number}")
        collected.pieces.append(
            Piece(
                title,
                outline,
                job.quantity,
                options.material,
                options.thickness,
                options.turns,
            )
        )


def separate(profiles: ProfileSet) -> list[tuple[ProfileSet, str]]:
    """Each outline with its islands and the marks in its box, and its name."""
    result = []
    notes = allowance_notes(profiles)
    for root, members in members_of(profiles).items():
        places = {member: place for place, member in enumerate(members)}
        parts = [
            Profile(p.outer, p.holes, p.name, places.get(p.parent, -1), validate=False)
            for p in (profiles.profiles[member] for member in members)
        ]
        lower, upper = profiles.profiles[root].bounds
        marks = [mark for mark in profiles.marks if lies_in(mark, lower, upper)]
        outline = ProfileSet(
            parts, marks, tolerance=profiles.tolerance, notes=notes, validate=False
        )
        result.append((outline, profiles.profiles[root].name))
    return result


def members_of(profiles: ProfileSet) -> dict[int, list[int]]:
    """The numbers of each outline and of its islands, by the outline's."""
    members: dict[int, list[int]] = {}
    for number in range(len(profiles.profiles)):
        members.setdefault(root_of(profiles.profiles, number), []).append(number)
    return dict(sorted(members.items()))


def root_of(profiles: Sequence[Profile], number: int) -> int:
    """The outermost profile around an island; the profile itself if it is none."""
    while profiles[number].parent >= 0:
        number = profiles[number].parent
    return number


def lies_in(mark: Mark, lower: Any, upper: Any) -> bool:
    """Does a mark lie in a box?"""
    points = mark.points(0.1)
    return bool((points >= lower - 1e-6).all() and (points <= upper + 1e-6).all())


def with_wishes(pieces: Sequence[Piece], path: Path) -> list[Piece]:
    """The pieces as a piece file wants them. Raises LoadError with file, line and key."""
    result = list(pieces)
    for table in tables_of(path, "piece"):
        table.check_keys(KEYS, ["name"])
        name = table.word("name")
        found = [i for i, piece in enumerate(result) if piece.name == name]
        if not found:
            known = ", ".join(dict.fromkeys(f"'{piece.name}'" for piece in pieces))
            raise table.wrong("name", f"there is no piece '{name}'; there are {known}")
        for i in found:
            result[i] = wished(result[i], table)
    return result


def wished(piece: Piece, table: Table) -> Piece:
    """A piece as a table wants it."""
    changes: dict[str, Any] = {}
    if "turns" in table.data:
        turns = table.data["turns"]
        word = str(turns) if isinstance(turns, int | str) and not isinstance(turns, bool) else ""
        if word not in TURNS:
            raise table.wrong("turns", f"is unknown; valid: {', '.join(TURNS)}")
        changes["turns"] = word
    if "may_mirror" in table.data:
        changes["may_mirror"] = table.flag("may_mirror")
    for key in ("quantity", "spares"):
        if key in table.data:
            changes[key] = table.count(key, None)
    if "priority" in table.data:
        changes["priority"] = table.count("priority", None, -(10**6))
    return replace(piece, **changes)
