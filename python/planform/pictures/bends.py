"""Pictures of blanks: the outline with its dimensions and its bend lines."""

from __future__ import annotations

import math
from collections.abc import Iterable

from planform._planform import Bend, ProfileSet
from planform.pictures.outlines import contours_of, dimensioned_svg

ROOM = 46.0
"""Beside and above the outline, for the dimension lines: that of `dimensioned_svg`."""


def blank_svg(
    outline: ProfileSet, bends: Iterable[Bend], width: float = 400.0, height: float = 260.0
) -> str:
    """Return an ``<svg>`` element that shows a blank with dimensions, bend lines and their numbers.

    Besides the classes of `dimensioned_svg`, bend lines have ``bend`` with ``up`` or ``down``, where they
    begin and end ``bend-limit``, and numbers ``bend-number``.
    """
    plain = dimensioned_svg(
        ProfileSet(outline.profiles, datum=outline.datum, validate=False), width, height
    )
    lower, upper = outline.bounds
    extent_x, extent_y = float(upper[0] - lower[0]), float(upper[1] - lower[1])
    scale = min((width - 2 * ROOM) / max(extent_x, 1e-9), (height - 2 * ROOM) / max(extent_y, 1e-9))
    left, bottom = (width - scale * extent_x) / 2, (height + scale * extent_y) / 2

    def place(x: float, y: float) -> tuple[float, float]:
        return left + scale * (x - float(lower[0])), bottom - scale * (y - float(lower[1]))

    def path(lines: Iterable[object], kind: str) -> str:
        data = ""
        for line in lines:
            (x0, y0), (x1, y1) = place(*line.start), place(*line.end)  # type: ignore[attr-defined]
            data += f"M{x0:.2f} {y0:.2f}L{x1:.2f} {y1:.2f}"
        return f'<path class="{kind}" d="{data}"/>' if data else ""

    drawn = ""
    for bend in bends:
        drawn += path(bend.limits, "bend-limit")
        drawn += path(bend.lines, f"bend {bend.direction}")
        lines = bend.lines or bend.limits
        if lines:
            longest = max(lines, key=lambda line: math.dist(line.start, line.end))
            x, y = place(*((longest.start + longest.end) / 2))
            drawn += f'<text class="bend-number" x="{x:.2f}" y="{y + 4:.2f}">{bend.number}</text>'
    return plain.removesuffix("</svg>") + drawn + "</svg>"


def overlap_svg(
    outline: ProfileSet, overlap: ProfileSet | None, width: float = 400.0, height: float = 260.0
) -> str:
    """Return an ``<svg>`` element of a blank that lies on itself, and where: class ``overlap``."""
    lower, upper = outline.bounds
    extent_x, extent_y = float(upper[0] - lower[0]), float(upper[1] - lower[1])
    room = 12.0
    scale = min((width - 2 * room) / max(extent_x, 1e-9), (height - 2 * room) / max(extent_y, 1e-9))
    left, bottom = (width - scale * extent_x) / 2, (height + scale * extent_y) / 2

    def path(profiles: ProfileSet, kind: str) -> str:
        data = "".join(
            "M"
            + "L".join(
                f"{left + scale * (x - lower[0]):.2f} {bottom - scale * (y - lower[1]):.2f}"
                for x, y in contour.points(0.1 / scale)
            )
            + "Z"
            for contour in contours_of(profiles)
        )
        return f'<path class="{kind}" d="{data}"/>' if data else ""

    return (
        f'<svg viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}" role="img">'
        f"{path(outline, 'material cut')}{path(overlap, 'overlap') if overlap else ''}</svg>"
    )
