"""Labels: names, numbers and quantities as single strokes in pieces, to tell them apart on the table."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from planform._planform import Mark, Profile, ProfileSet
from planform.lettering.outlines import stroke_mark
from planform.lettering.strokes import plain, strokes_of

__all__ = ["LABEL", "labelled"]

LABEL = "label"
"""The name of the marks."""
HEIGHTS = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0)
"""mm, the largest that fits is taken: from two arm's lengths off down to what a beam still draws clearly
(common practice, no source)."""
MARGIN = 0.5
"""Kept free around a label, as a share of its height."""
LEAST_MARGIN = 1.0
"""mm, kept free in any case: room for the cut."""


def labelled(profiles: ProfileSet, letters: str) -> ProfileSet:
    """The set with a label inside each piece: each profile that is no island. A label crosses no hole and
    no mark, stands upright or, where only that fits, runs up the piece; its height comes from the narrowest
    place that it has to pass. What has no room for it, or no letters, is said in a note."""
    known = plain(letters)
    if known is None or not known.strip():
        return profiles.with_notes(
            [f"no label: there are no single-stroke letters for {letters!r}"]
        )
    marks = list(profiles.marks)
    without = 0
    for profile in profiles.profiles:
        if profile.parent >= 0:
            continue
        label = label_of(profile, profiles.marks, known, profiles.tolerance)
        without += not label
        marks += label
    notes = [f"no room for the label {letters!r} in {without} of its pieces"] if without else []
    return profiles.with_marks(marks).with_notes(notes)


def label_of(profile: Profile, marks: Sequence[Mark], letters: str, tolerance: float) -> list[Mark]:
    """The strokes of the largest label that fits; none if none does."""
    import shapely

    piece = ProfileSet([Profile(profile.outer, profile.holes, validate=False)], tolerance=tolerance)
    material = shapely.union_all(list(piece.to_shapely().geoms))
    lower, upper = piece.bounds
    for height in HEIGHTS:
        strokes, width = strokes_of(letters, height)
        margin = max(MARGIN * height, LEAST_MARGIN)
        for upright in (True, False):
            across, up = (width, height) if upright else (height, width)
            if across + 2 * margin > upper[0] - lower[0] or up + 2 * margin > upper[1] - lower[1]:
                continue
            room = room_for(material, marks, (across / 2 + margin, up / 2 + margin), tolerance)
            if room.is_empty:
                continue
            center = shapely.Point(shapely.shortest_line(room, material.centroid).coords[0])
            return [
                stroke_mark(
                    [laid(point, width, height, upright, center) for point in stroke], LABEL
                )
                for stroke in strokes
            ]
    return []


def laid(
    point: Sequence[float], width: float, height: float, upright: bool, center: Any
) -> tuple[float, float]:
    """A point of a label that starts in the origin, with its middle in the centre."""
    x, y = point[0] - width / 2, point[1] - height / 2
    if not upright:
        x, y = -y, x
    return (center.x + x, center.y + y)


def room_for(
    material: Any, marks: Sequence[Mark], half: tuple[float, float], tolerance: float
) -> Any:
    """Where the middle of an upright box may lie that is all in the material and off all marks: the places
    that are in the material and that no edge, widened by the box, covers (Minkowski sums of the edges)."""
    import numpy as np
    import shapely

    lines = [np.asarray(ring.coords) for part in parts_of(material) for ring in rings_of(part)]
    lines += [mark_line(mark, tolerance) for mark in marks]
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * np.asarray(half)
    covers = []
    for line in lines:
        ends = np.concatenate([line[:-1, None, :] + corners, line[1:, None, :] + corners], axis=1)
        covers += list(shapely.convex_hull(shapely.multipoints(ends)))
    return material.difference(shapely.union_all(covers))


def mark_line(mark: Mark, tolerance: float) -> Any:
    """The vertices along a mark, a closed one with its first point again."""
    import numpy as np

    points = mark.points(tolerance)
    return np.concatenate([points, points[:1]]) if mark.is_closed else points


def parts_of(shape: Any) -> Any:
    """The polygons of a shape."""
    return getattr(shape, "geoms", [shape])


def rings_of(polygon: Any) -> list[Any]:
    """Its boundary and its holes."""
    return [polygon.exterior, *polygon.interiors]
