"""The pieces of a job's sources: read, allowed for, and kept, so that what did not change is not read
again."""

from __future__ import annotations

import itertools
import json
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Literal

import numpy

from planform._planform import Allowance, MatingOutline, ProfileSet, inner_fits, load
from planform.allowances import Allowances, as_cut, failure_text
from planform.cut_lists.cut_list import CutList, Material, MaterialRules
from planform.drawings.reading import read_drawing
from planform.errors import Error, LoadError
from planform.inspections.inspection import inspect
from planform.jobs.job_file import JobFile, JobSource
from planform.naming import one_line
from planform.planning.machine import Machine
from planform.sheets.jobs import separate

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
                        "outline": json.loads(piece.outline.to_json()),
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
                    way=ProfileSet.from_json(json.dumps(one["way"])),
                )
                for one in data["pieces"]
            ],
            data["notes"],
            data["errors"],
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
        try:
            way = as_cut(entry.outline, allowance)
        except Error as error:
            found.errors.append(f"{entry.name}: {failure_text(entry.outline, error)}")
            continue
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
            )
        )
    if not cut_list.entries:
        raise LoadError.of_kind("no_solid", f"{source.path}: holds no plate", source.path)


def add_drawing(
    source: JobSource, job: JobFile, machine: Machine | None, found: SourcePieces
) -> None:
    """The outlines of a drawing: each with what lies in its holes is a piece."""
    if source.path.suffix.lower() == ".json":
        profiles = ProfileSet.from_json(source.path)
    else:
        profiles = read_drawing(source.path, unit=source.unit or None).profile_set(
            tolerance=job.tolerance
        )
    found.notes += [f"{source.path.name}: {note}" for note in profiles.notes]
    parts = separate(profiles)
    if not parts:
        raise LoadError.of_kind("no_solid", f"{source.path}: holds no closed outline", source.path)
    for number, (outline, own) in enumerate(parts, start=1):
        stem = source.path.stem
        name = own or (stem if len(parts) == 1 else f"{stem} {number}")
        material = material_of(name, "", source, job)
        kerf = kerf_of(job, machine, material, source.thickness)
        try:
            way = drawing_way(outline, kerf, job.allowances)
        except Error as error:
            found.errors.append(f"{name}: {failure_text(outline, error)}")
            continue
        found.pieces.append(
            JobPiece(
                name=name,
                material=material,
                thickness=source.thickness,
                quantity=1,
                outline=outline,
                way=way,
                kerf=kerf,
                density=job.densities.get(material),
                findings=findings_of(outline, source.thickness),
                fits=drawing_fits(outline, job.allowances),
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


def drawing_way(outline: ProfileSet, kerf: float, wanted: Allowances) -> ProfileSet:
    """The way of the tool for an outline whose joints are not known: a fit is on its inner contours."""
    return as_cut(
        outline,
        kerf=kerf,
        fit=wanted.fit,
        fit_on="both" if wanted.fit_on == "both" else "slot",
        relief=wanted.relief,
        relief_style=wanted.relief_style,
    )


def drawing_fits(
    outline: ProfileSet, wanted: Allowances
) -> tuple[tuple[int, int, int, float], ...]:
    """The fits that `drawing_way` puts on the inner contours of an outline."""
    if not wanted.fit:
        return ()
    fit_on: Literal["slot", "both"] = "both" if wanted.fit_on == "both" else "slot"
    return tuple(inner_fits(outline, wanted.fit, fit_on))


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
