"""The pieces of a job's sources: read, allowed for, and kept, so that what did not change is not read
again."""

from __future__ import annotations

import itertools
import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

import numpy

from planform._planform import Allowance, MatingOutline, ProfileSet, load
from planform.allowances import allowance_of, as_cut, failure_text, left_by_tool
from planform.cut_lists.cut_list import CutList, Material, MaterialRules
from planform.drawings.reading import read_drawing
from planform.errors import Error, LoadError
from planform.inspections.inspection import inspect
from planform.jobs.job_file import JobFile, JobSource
from planform.naming import one_line
from planform.planning.machine import Machine
from planform.sheets.jobs import members_of, separate

Address = tuple[int, int, int]


@dataclass(frozen=True, eq=False)
class JobPiece:
    """One piece of a source. Lengths are mm.

    Attributes
    ----------
    name, material : str
    thickness : float
    quantity : int
        Of one copy of its source.
    outline : ProfileSet
        Of the part.
    way : ProfileSet
        Of the tool, with the width of the cut and fits in it.
    kerf : float
        That is in it.
    avoid : tuple of (int, int, int)
        Curves of the way (profile, contour, curve) that meet other parts.
    findings : tuple of dict
        What inspection finds in the outline, and what a straight cut can't make of the solid.
    joints : int or None
        Places where it meets other parts of its model; None: nobody looked for them.
    fits : tuple of (int, int, int, float)
        Curves of the outline (profile, contour, curve) that were moved for a fit, and by how much (mm,
        positive takes material away).
    """

    name: str
    material: str
    thickness: float
    quantity: int
    outline: ProfileSet
    way: ProfileSet
    kerf: float = 0.0
    density: float | None = field(default_factory=lambda: None)
    avoid: tuple[Address, ...] = ()
    findings: tuple[dict[str, Any], ...] = ()
    joints: int | None = field(default_factory=lambda: None)
    fits: tuple[tuple[int, int, int, float], ...] = ()
    allowance: Allowance | None = field(default_factory=lambda: None)
    """What lies between outline and way; None: nothing."""


@dataclass
class SourcePieces:
    """All of a source, with a line for each thing that a person should know, or that went wrong."""

    pieces: list[JobPiece] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    errors: list[str] = field(default_factory=list)

    def to_text(self) -> str:
        """As JSON."""
        return json.dumps(
            {
                "notes": self.notes,
                "errors": self.errors,
                "pieces": [
                    {
                        "name": piece.name,
                        "material": piece.material,
                        "thickness": piece.thickness,
                        "quantity": piece.quantity,
                        "kerf": piece.kerf,
                        "density": piece.density,
                        "avoid": [list(address) for address in piece.avoid],
                        "findings": list(piece.findings),
                        "joints": piece.joints,
                        "fits": [list(fit) for fit in piece.fits],
                        "outline": json.loads(outline_json(piece)),
                        "way": json.loads(piece.way.to_json()),
                    }
                    for piece in self.pieces
                ],
            },
            ensure_ascii=False,
        )

    @classmethod
    def from_text(cls, text: str) -> SourcePieces:
        """Back from `to_text`. Raises ValueError, KeyError or TypeError for anything else."""
        data = json.loads(text)
        return cls(
            [
                JobPiece(
                    name=one["name"],
                    material=one["material"],
                    thickness=one["thickness"],
                    quantity=one["quantity"],
                    kerf=one["kerf"],
                    density=one["density"],
                    avoid=tuple((int(a), int(b), int(c)) for a, b, c in one["avoid"]),
                    findings=tuple(one["findings"]),
                    joints=one["joints"],
                    fits=tuple((int(p), int(c), int(k), float(mm)) for p, c, k, mm in one["fits"]),
                    outline=ProfileSet.from_json(json.dumps(one["outline"])),
                    allowance=Allowance.from_json(json.dumps(one["outline"])),
                    way=ProfileSet.from_json(json.dumps(one["way"])),
                )
                for one in data["pieces"]
            ],
            data["notes"],
            data["errors"],
        )


def outline_json(piece: JobPiece) -> str:
    """The outline of the part under the piece's name, and its allowance, if there is any."""
    outline = piece.outline.with_name(piece.name)
    return (
        outline.to_json() if piece.allowance is None else outline.to_json(allowance=piece.allowance)
    )


def pieces_of(source: JobSource, job: JobFile, machine: Machine | None) -> SourcePieces:
    """Read a source. What fails is a line in ``errors``; nothing is raised."""
    found = SourcePieces()
    try:
        if source.kind == "model":
            add_model(source, job, machine, found)
        else:
            add_drawing(source, job, machine, found)
    except Error as error:
        found.errors.append(one_line(str(error)))
    return found


def kerf_of(job: JobFile, machine: Machine | None, material: str, thickness: float) -> float:
    """The job's, or the machine's for the material, or none."""
    if job.kerf is not None:
        return job.kerf
    figures = machine.figures(material, thickness) if machine else None
    return (figures.kerf if figures else None) or 0.0


def material_of(name: str, own: str, source: JobSource, job: JobFile) -> str:
    """What the job says of the piece, else the rules for materials, else the source."""
    wish = next((wish for wish in job.wishes if wish.name == name), None)
    return (wish.material if wish else "") or own or source.material


def add_model(
    source: JobSource, job: JobFile, machine: Machine | None, found: SourcePieces
) -> None:
    """The plates of a model."""
    model = load(source.path, unit=source.unit or None, scale=source.scale)
    found.notes += [f"{source.path.name}: {note}" for note in model.notes]
    rules = MaterialRules.read(job.materials) if job.materials else None
    plain = Material(source.material) if source.material else None
    cut_list = CutList.from_model(
        model,
        rules or (lambda _: plain),
        at=job.at,
        tolerance=job.tolerance,
        **replace(job.allowances, kerf=0.0).parts(),
    )
    for other in cut_list.others:
        found.notes.append(
            f"{source.path.name}: no plate, not cut: {other.name} ({other.quantity}): {other.text}"
        )
    for entry in cut_list.entries:
        found.notes += [f"{source.path.name}: {entry.name}: {note}" for note in entry.notes]
        material = material_of(entry.name, entry.material, source, job)
        thickness = entry.plate.thickness
        kerf = kerf_of(job, machine, material, thickness)
        given = entry.allowance
        allowance = Allowance(
            kerf=kerf,
            fit=given.fit,
            relief=given.relief,
            relief_style=given.relief_style,
            fits=given.fits,
        )
        found.notes += lacking_kerf(entry.name, job, machine, material, thickness)
        try:
            way = as_cut(entry.outline, allowance)
        except Error as error:
            found.errors.append(f"{entry.name}: {failure_text(entry.outline, error)}")
            continue
        found.notes += [f"{source.path.name}: {entry.name}: {note}" for note in left_by_tool(way)]
        found.pieces.append(
            JobPiece(
                name=entry.name,
                material=material,
                thickness=thickness,
                quantity=entry.quantity,
                outline=entry.outline,
                way=way,
                kerf=kerf,
                density=entry.density or job.densities.get(material),
                avoid=mating_curves(entry.outline, way, entry.mating, kerf + abs(given.fit)),
                findings=findings_of(entry.outline, thickness, entry.plate.cut.features),
                joints=entry.joints,
                fits=tuple(given.fits),
                allowance=None if allowance.is_none else allowance,
            )
        )
    if not cut_list.entries:
        raise LoadError.of_kind("no_solid", f"{source.path}: holds no plate", source.path)


def add_drawing(
    source: JobSource, job: JobFile, machine: Machine | None, found: SourcePieces
) -> None:
    """The outlines of a drawing: each with what lies in its holes is a piece. A JSON may come with an
    allowance."""
    own = None
    if source.path.suffix.lower() == ".json":
        profiles = ProfileSet.from_json(source.path)
        own = Allowance.from_json(source.path)
    else:
        profiles = read_drawing(source.path, unit=source.unit or None).profile_set(
            tolerance=job.tolerance
        )
    found.notes += [f"{source.path.name}: {note}" for note in profiles.notes]
    parts = separate(profiles)
    if not parts:
        raise LoadError.of_kind("no_solid", f"{source.path}: holds no closed outline", source.path)
    for number, ((outline, title), members) in enumerate(
        zip(parts, members_of(profiles).values(), strict=True), start=1
    ):
        stem = source.path.stem
        name = title or (stem if len(parts) == 1 else f"{stem} {number}")
        material = material_of(name, "", source, job)
        kerf = kerf_of(job, machine, material, source.thickness)
        found.notes += lacking_kerf(name, job, machine, material, source.thickness)
        try:
            given = own and with_fits_of(own, members)
            allowance = allowance_of(outline, given, job.allowances, kerf)
            way = as_cut(outline, allowance)
        except Error as error:
            found.errors.append(f"{name}: {failure_text(outline, error)}")
            continue
        found.notes += [f"{source.path.name}: {name}: {note}" for note in left_by_tool(way)]
        found.pieces.append(
            JobPiece(
                name=name,
                material=material,
                thickness=source.thickness,
                quantity=1,
                outline=outline,
                way=way,
                kerf=allowance.kerf,
                density=job.densities.get(material),
                findings=findings_of(outline, source.thickness),
                fits=tuple(allowance.fits),
                allowance=None if allowance.is_none else allowance,
            )
        )


def findings_of(
    outline: ProfileSet, thickness: float, features: Sequence[Any] = ()
) -> tuple[dict[str, Any], ...]:
    """What inspection finds, as plain data; places in mm."""
    return tuple(
        {
            "rule": finding.rule,
            "severity": finding.severity,
            "place": [float(value) for value in finding.place],
            "measured": finding.measured,
            "limit": finding.limit,
            "unit": finding.unit,
            "text": finding.text,
        }
        for finding in inspect(outline, thickness or None, features=features)
    )


def with_fits_of(allowance: Allowance, members: Sequence[int]) -> Allowance:
    """The allowance of some profiles of an outline, which are numbered from 0 now."""
    places = {member: place for place, member in enumerate(members)}
    return Allowance(
        kerf=allowance.kerf,
        fit=allowance.fit,
        relief=allowance.relief,
        relief_style=allowance.relief_style,
        fits=[(places[p], c, k, mm) for p, c, k, mm in allowance.fits if p in places],
    )


def lacking_kerf(
    name: str, job: JobFile, machine: Machine | None, material: str, thickness: float
) -> list[str]:
    """That the machine has no width of cut for a piece, where it has some for others; a line, or none."""
    if job.kerf is not None or machine is None or all(cut.kerf is None for cut in machine.cuts):
        return []
    figures = machine.figures(material, thickness)
    if figures is not None and figures.kerf is not None:
        return []
    made_of = ", ".join(
        word for word in (material, f"{thickness:g} mm" if thickness else "") if word
    )
    return [
        f"{name}: the machine file has no width of cut for {made_of or 'an unknown material'}: none is in "
        "its drawings"
    ]


def mating_curves(
    outline: ProfileSet, way: ProfileSet, mating: MatingOutline | None, reach: float
) -> tuple[Address, ...]:
    """The curves of the way that lie along mating curves of the outline, within ``reach`` mm: their middles
    do."""
    if mating is None or not mating.curves:
        return ()
    step = max(reach, 0.1)
    along = []
    for one in mating.curves:
        profile = outline.profiles[one.profile]
        contour = profile.outer if one.contour == 0 else profile.holes[one.contour - 1]
        points = numpy.asarray(contour.curves[one.curve].points(0.1 * step))
        for a, b in itertools.pairwise(points):
            along.append((a, b))
    starts = numpy.array([a for a, _ in along])
    ways = numpy.array([b - a for a, b in along])
    squares = numpy.maximum((ways**2).sum(axis=1), 1e-12)
    found: list[Address] = []
    for p, profile in enumerate(way.profiles):
        for c, contour in enumerate((profile.outer, *profile.holes)):
            for k, curve in enumerate(contour.curves):
                first, last = curve.domain
                middle = numpy.asarray(curve.point_at(0.5 * (first + last)))
                shares = numpy.clip(((middle - starts) * ways).sum(axis=1) / squares, 0, 1)
                away = numpy.linalg.norm(starts + shares[:, None] * ways - middle, axis=1).min()
                if away <= 1.2 * step:
                    found.append((p, c, k))
    return tuple(found)
