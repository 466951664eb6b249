"""What makes one drawing: a part, a placed solid, bodies that lie beside each other.

Which parts are the same, and what is no plate, is what `planform.plates` says, asked once a model.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from planform._planform import (
    Model,
    OtherPart,
    Plate,
    ProfileSet,
    Solid,
    auto_datum,
    coplanar_groups,
    plates,
    silhouette,
)
from planform.batch.drawing import Drawing
from planform.batch.settings import Settings
from planform.errors import Error

SAME = 1e-9
"""Areas and lengths that differ by less, relative, are the same."""


@dataclass(frozen=True)
class Verdicts:
    """What `planform.plates` says of each solid of a model, by its index."""

    plates: dict[int, Plate]
    others: dict[int, OtherPart]

    @classmethod
    def of(cls, model: Model, settings: Settings) -> Verdicts:
        """Ask once; nothing is known where the settings don't ask."""
        if not settings.tells_plates:
            return cls({}, {})
        found = plates(
            model,
            tolerance=settings.tolerance,
            at=settings.at,
            one_sided=settings.one_sided,
            marks=settings.marks,
            bend_rule=settings.bend_rule,
        )
        by_plate = {
            solid: plate
            for plate in found.plates
            for instance in plate.instances
            for solid in (instance.solid, *instance.islands)
        }
        return cls(by_plate, {solid: other for other in found.others for solid in other.solids})

    def no_plate(self, bodies: Sequence[int]) -> OtherPart | None:
        """Why one of the bodies is no plate, if one is none."""
        return next((self.others[body] for body in bodies if body in self.others), None)

    def piece_of(self, bodies: Sequence[int]) -> Plate | None:
        """The plate of which the bodies are one whole piece."""
        plate = self.plates.get(bodies[0])
        for instance in plate.instances if plate else ():
            if {instance.solid, *instance.islands} == set(bodies):
                return plate
        return None


def drawings_of_parts(model: Model, settings: Settings) -> Iterator[Drawing]:
    """One drawing a distinct part, each as it lies by itself."""
    numbers = {solid: number for number, solid in enumerate(model.solids)}
    verdicts = Verdicts.of(model, settings)
    drawings: dict[tuple[object, ...], list[list[Solid]]] = {}
    for group in separate_pieces(drawn_together(model), numbers, verdicts):
        plate = verdicts.piece_of([numbers[solid] for solid in group])
        key: tuple[object, ...] = (
            ("plate", id(plate)) if plate else tuple(s.shape_index for s in group)
        )
        drawings.setdefault(key, []).append(group)
    for groups in drawings.values():
        first = groups[0]
        bodies = [numbers[solid] for solid in first]
        plate = verdicts.piece_of(bodies)
        over = {i.solid for i in plate.instances if i.turned_over} if plate else set()
        yield Drawing(
            first[0].name if len(first) == 1 else first[0].part_name,
            "",
            tuple(first),
            quantity=len(groups),
            instances=tuple(tuple(group) for group in groups),
            plate=plate or verdicts.plates.get(bodies[0]),
            no_plate=verdicts.no_plate(bodies),
            turned_over=sum(numbers[solid] in over for group in groups for solid in group),
        )


def drawings_of_solids(model: Model, settings: Settings) -> Iterator[Drawing]:
    """One drawing a placed solid."""
    verdicts = Verdicts.of(model, settings)
    for number, solid in enumerate(model.solids):
        yield Drawing(
            solid.name,
            "",
            (solid,),
            instances=((solid,),),
            plate=verdicts.plates.get(number),
            no_plate=verdicts.others.get(number),
        )


def separate_pieces(
    groups: Iterable[list[Solid]], numbers: dict[Solid, int], verdicts: Verdicts
) -> Iterator[list[Solid]]:
    """Groups, but those of bodies that are all the same plate come apart: copies that an exporter made bodies
    of one part are pieces to cut, counted as `planform.plates` does."""
    for group in groups:
        found = [verdicts.piece_of([numbers[solid]]) for solid in group]
        is_copies = len(group) > 1 and found[0] is not None and all(f is found[0] for f in found)
        yield from ([solid] for solid in group) if is_copies else (group,)


def drawn_together(model: Model) -> Iterator[list[Solid]]:
    """The solids of each drawing under the datum ``auto``: those of one part that lie flat beside or in each
    other, such as letters or what lies loose in a cut-out. Bodies whose outlines touch or overlap are apart:
    in one drawing the cut between them would be lost."""
    parts: dict[int, list[Solid]] = {}
    for solid in model.solids:
        parts.setdefault(solid.part, []).append(solid)
    for solids in parts.values():
        if len(solids) == 1:
            yield solids
            continue
        try:
            groups = coplanar_groups(solids)
        except Error:
            # A body that the kernel can't look at fails alone, in its own drawing.
            groups = [[solid] for solid in solids]
        for group in groups:
            yield from without_contact(group)


def without_contact(group: Sequence[Solid]) -> Iterator[list[Solid]]:
    """The solids of a group, taken apart so that no two in one list have outlines that touch or overlap."""
    if len(group) == 1:
        yield list(group)
        return
    try:
        datum = auto_datum(group)
        outlines = [silhouette(solid, datum) for solid in group]
    except Error:
        yield list(group)  # says why when it is drawn
        return
    lists: list[list[int]] = []
    for i, outline in enumerate(outlines):
        for places in lists:
            if not any(in_contact(outline, outlines[j]) for j in places):
                places.append(i)
                break
        else:
            lists.append([i])
    yield from ([group[i] for i in places] for places in lists)


def in_contact(a: ProfileSet, b: ProfileSet) -> bool:
    """True if the union of two outlines has not all of both: then a cut between them would be lost."""
    (low_a, high_a), (low_b, high_b) = a.bounds, b.bounds
    near = max(a.tolerance, b.tolerance)
    if not all(low_a[k] <= high_b[k] + near and low_b[k] <= high_a[k] + near for k in (0, 1)):
        return False
    both = a | b
    return not (
        math.isclose(both.length, a.length + b.length, rel_tol=SAME)
        and math.isclose(both.area, a.area + b.area, rel_tol=SAME)
    )


def model_stem(source: Path) -> str:
    """The name of a model's file without folder and suffixes: ``a/b.stp.gz`` gives ``b``."""
    name = source.name
    for suffix in (".gz", ".stp", ".step", ".stpz", ".brep", ".brp"):
        if name.lower().endswith(suffix):
            name = name[: -len(suffix)]
    return name
