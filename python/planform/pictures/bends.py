"""Pictures of blanks: the outline with its dimensions and its bend lines."""

from __future__ import annotations

import math
from collections.abc import Iterable

from planform._planform import Bend, Line, ProfileSet
from planform.pictures.outlines import NARROW_ROOM, ROOM, dimensioned_svg
from planform.pictures.placing import Placing, path, svg
from planform.units.figures import MM_FIGURES, Figures


def blank_svg(
    outline: ProfileSet,
    bends: Iterable[Bend],
    width: float = 400.0,
    height: float = 260.0,
    figures: Figures = MM_FIGURES,
) -> str:
    """Return an ``<svg>`` element that shows a blank with dimensions, bend lines and their numbers.

    Besides the classes of `dimensioned_svg`, bend lines have ``bend`` with ``up`` or ``down``, where they
    begin and end ``bend-limit``, and numbers ``bend-number``.
    """
    plain = dimensioned_svg(
        ProfileSet(outline.profiles, datum=outline.datum, validate=False),
        width,
        height,
        figures=figures,
    )
    placing = Placing.fitted(outline.bounds, width, height, ROOM)

    def drawn(lines: Iterable[Line], kind: str) -> str:
        return path(kind, "".join(placing.way((line.start, line.end), False) for line in lines))

    pieces = ""
    for bend in bends:
        pieces += drawn(bend.limits, "bend-limit")
        pieces += drawn(bend.lines, f"bend {bend.direction}")
        lines = bend.lines or bend.limits
        if lines:
            longest = max(lines, key=lambda line: math.dist(line.start, line.end))
            x, y = placing.place(*((longest.start + longest.end) / 2))
            pieces += f'<text class="bend-number" x="{x:.2f}" y="{y + 4:.2f}">{bend.number}</text>'
    return plain.removesuffix("</svg>") + pieces + "</svg>"


def overlap_svg(
    outline: ProfileSet, overlap: ProfileSet | None, width: float = 400.0, height: float = 260.0
) -> str:
    """Return an ``<svg>`` element of a blank that lies on itself, and where: class ``overlap``."""
    placing = Placing.fitted(outline.bounds, width, height, NARROW_ROOM)
    return svg(
        width,
        height,
        path("material cut", placing.contours(outline)),
        path("overlap", placing.contours(overlap)) if overlap else "",
    )
