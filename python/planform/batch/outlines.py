"""The outline of a drawing, and the way of the tool; failures come back in the drawing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from planform._planform import (
    Datum,
    PlacedOutline,
    Plate,
    ProfileSet,
    Solid,
    auto_datum,
    feature_marks,
    section,
    silhouette,
)
from planform.allowances import allowances_for, as_cut, failure_text, of_blank
from planform.batch.drawing import Drawing
from planform.batch.settings import FIXED_DATUMS, Settings
from planform.errors import Error
from planform.finishing import finished, held_count
from planform.naming import one_line

UPRIGHT = 1.0 - 1e-8
"""Cosine of the angle up to which a datum looks squarely at a plate."""


def with_outline(planned: Drawing, settings: Settings) -> Drawing:
    """Flatten one drawing and finish its outline; a failure comes back in ``error``, nothing is raised."""
    try:
        outline = drawn_outline(planned, settings).with_name(planned.name)
        left_out = left_out_at(planned, settings)
        profiles = finished(
            outline,
            settings,
            name=planned.name,
            number=planned.number,
            quantity=planned.quantity,
        )
    except Error as error:
        return replace(planned, outcome="failed", error=one_line(str(error)))
    drawn = replace(
        planned,
        outcome="drawn" if profiles.profiles else "empty",
        profiles=profiles,
        held=held_count(outline, profiles),
        left_out=left_out,
    )
    # Into the files and pages, too.
    return replace(drawn, profiles=profiles.with_notes(drawn.warnings))


def drawn_outline(planned: Drawing, settings: Settings) -> ProfileSet:
    """The outline of a drawing with the marks of its features and what a person should know of it."""
    plate = planned.plate
    if plate is None or planned.no_plate is not None or settings.section is not None:
        return flatten(planned.solids, settings)
    if plate.bends:
        # A bent sheet is cut as its blank; seen as it stands only on a plane that was asked for.
        if settings.datum == "auto" and settings.at == "shadow":
            return plate.outline.with_notes(plate.notes[:1])
        return flatten(planned.solids, settings)
    if is_drawn_already(planned, settings):
        outline = plate.outline
    else:
        outline = outline_with_marks(planned, plate, settings)
    if plate.side.is_worked_from_both_sides:
        outline = outline.with_notes(
            ["features on both sides: the part must be turned over to make them"]
        )
    return outline


def is_drawn_already(planned: Drawing, settings: Settings) -> bool:
    """True if the outline that told the plate is the one that is asked for."""
    return (
        planned.plate is not None
        and len(planned.solids) == 1
        and settings.datum == "auto"
        and settings.at == "shadow"
        and settings.verify == "quick"
        and planned.plate.outline.tolerance == settings.tolerance
    )


def outline_with_marks(planned: Drawing, plate: Plate, settings: Settings) -> ProfileSet:
    """The outline, with marks where the datum looks squarely at the plate."""
    datum = datum_of(planned.solids, settings)
    outline = flatten(planned.solids, settings, datum)
    if settings.at == "shadow" and abs(float(datum.normal @ plate.datum.normal)) > UPRIGHT:
        outline = outline.with_marks(
            [
                *outline.marks,
                *(
                    mark
                    for solid in planned.solids
                    for mark in feature_marks(solid, datum, settings.marks, outline.tolerance)
                ),
            ]
        )
    return outline


def left_out_at(planned: Drawing, settings: Settings) -> str:
    """What an outline of another level than the shadow leaves out: the other features of a plate."""
    plate = planned.plate
    if settings.at == "shadow" or plate is None or planned.no_plate is not None:
        return ""
    count = len(plate.cut.features)
    return (
        f"all but --at {settings.at} of {count} feature{'' if count == 1 else 's'}" if count else ""
    )


def with_ways(
    solids: Sequence[Solid], drawings: Sequence[Drawing], settings: Settings
) -> Iterator[Drawing]:
    """Give drawings of an assembly the way of the tool; a failure comes back in ``error``.

    ``solids`` are those of the assembly, none where it needs not be known which parts meet.
    """
    drawn = [drawing for drawing in drawings if drawing.outcome == "drawn"]
    outlines = [drawing.profiles for drawing in drawn if drawing.profiles is not None]
    numbers = {solid: number for number, solid in enumerate(solids)}
    pieces = [
        PlacedOutline(i, [numbers[s] for s in instance], numbers[drawing.instances[0][0]])
        for i, drawing in enumerate(drawn if solids else ())
        for instance in drawing.instances
    ]
    try:
        allowed = iter(allowances_for(solids, outlines, pieces, settings))
    except Error as error:
        failure = one_line(str(error))
        for drawing in drawings:
            is_drawn = drawing.outcome == "drawn"
            yield replace(drawing, outcome="failed", error=failure) if is_drawn else drawing
        return
    for drawing in drawings:
        if drawing.outcome != "drawn" or drawing.profiles is None:
            yield drawing
            continue
        found = next(allowed)
        if drawing.plate is not None and drawing.plate.bends:
            found = of_blank(found, settings)
        profiles = drawing.profiles.with_notes(found.notes)
        try:
            way = as_cut(profiles, found.allowance)
        except Error as error:
            yield replace(drawing, outcome="failed", error=failure_text(profiles, error))
            continue
        yield replace(
            drawing, profiles=profiles, allowance=found.allowance, mating=found.mating, way=way
        )


def datum_of(solids: Sequence[Solid], settings: Settings) -> Datum:
    """The plane of a drawing. Raises GeometryError."""
    fixed = FIXED_DATUMS.get(settings.datum)
    return fixed() if fixed else auto_datum(solids)


def flatten(solids: Sequence[Solid], settings: Settings, datum: Datum | None = None) -> ProfileSet:
    """The profile set of some solids under the settings. Raises GeometryError."""
    datum = datum or datum_of(solids, settings)
    if settings.section is None:
        return silhouette(
            solids,
            datum,
            settings.tolerance,
            merge=settings.merge,
            at=settings.at,
            verify=settings.verify,
        )
    return section(solids, datum, settings.section, settings.tolerance, merge=settings.merge)
