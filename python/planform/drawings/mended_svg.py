"""A mended drawing as SVG: written anew, with a group a role, and one of what bounds nothing."""

from __future__ import annotations

from collections.abc import Iterable

from planform._planform import (
    Contour,
    DrawingLayer,
    FittedCurve,
    Mark,
    ProfileSet,
    nested_profiles,
)
from planform.drawings.loose import ClosedDrawing
from planform.naming import counted

STRAY_LAYER = "STRAY"
"""Layer, or in small letters group, of what bounds nothing."""

Fits = dict[int, tuple[float, list[FittedCurve]]]
"""By chain that is cut: the tolerance in mm, and what follows it."""


def _fitted_set(closed: ClosedDrawing, fits: Fits) -> ProfileSet:
    """The closed outlines with the curves that follow them."""
    profiles = closed.profile_set()
    if not fits:
        return profiles
    contours = [
        Contour([piece.curve for piece in fits[number][1]]) if number in fits else chain.contour
        for number, chain in enumerate(closed.cut.chains)
    ]
    names = [closed.chain_name(chain, closed.cut_curves) for chain in closed.cut.chains]
    return ProfileSet(
        nested_profiles(contours, names=names),
        profiles.marks,
        tolerance=profiles.tolerance,
        name=profiles.name,
        notes=profiles.notes,
    )


def mended_svg(
    closed: ClosedDrawing, fits: Fits, changes: Iterable[str]
) -> tuple[bytes, list[str]]:
    """The copy, and what it changes: what mending does, and what is left out."""
    text = _fitted_set(closed, fits).to_svg()
    if closed.cut.open:
        text = text.replace("</svg>", _strays_group(closed) + "</svg>")
    changes = list(changes)
    for item in closed.loose.left_over:
        if item.kind not in ("block", "uneven", "off_plane"):
            changes.append(f"{item.entity} was left out")
    ignored = sum(role == "ignore" for role in closed.roles)
    if ignored:
        were = "was" if ignored == 1 else "were"
        changes.append(f"{counted(ignored, 'curve')} of no role {were} left out")
    return text.encode("utf-8"), changes


def _strays_group(closed: ClosedDrawing) -> str:
    """What bounds nothing, as the writer gives marks: one path each, in a group of that name."""
    strays = ProfileSet(marks=[Mark.open(chain.pieces) for chain in closed.cut.open])
    layer = DrawingLayer(STRAY_LAYER.lower(), color="#777777")
    text = strays.to_svg(layers={"mark": layer})
    return text[text.index(f'  <g id="{layer.name}"') : text.index("</svg>")]
