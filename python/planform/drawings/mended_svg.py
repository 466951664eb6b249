"""A mended drawing as SVG: written anew, with a group a role; marks and strays that stay open have groups of
their own."""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Any

from planform._planform import (
    Arc,
    Contour,
    EllipticalArc,
    FittedCurve,
    Line,
    ProfileSet,
    nested_profiles,
)
from planform.drawings.loose import AnyCurve, ClosedDrawing
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
    groups = [
        ("mark", [piece for chain in closed.marks.open for piece in chain.pieces]),
        (STRAY_LAYER.lower(), [piece for chain in closed.cut.open for piece in chain.pieces]),
    ]
    for name, curves in groups:
        if not curves:
            continue
        paths = "".join(f'    <path d="{_path_data(curve)}"/>\n' for curve in curves)
        group = f'  <g id="{name}" stroke="#777777">\n{paths}  </g>\n'
        text = text.replace("</svg>", group + "</svg>")
    changes = list(changes)
    for item in closed.loose.left_over:
        if item.kind not in ("block", "uneven", "off_plane"):
            changes.append(f"{item.entity} was left out")
    ignored = sum(role == "ignore" for role in closed.roles)
    if ignored:
        were = "was" if ignored == 1 else "were"
        changes.append(f"{counted(ignored, 'curve')} of no role {were} left out")
    return text.encode("utf-8"), changes


def _path_data(curve: AnyCurve) -> str:
    """A path that starts anew; y points down in SVG."""
    start = "M" + _xy(curve.start)
    if isinstance(curve, Arc | EllipticalArc):
        return start + "".join(_arc_commands(curve))
    if isinstance(curve, Line):
        points = [curve.end]
    else:
        points = list(curve.points(1e-4))[1:]
    return start + "".join(" L" + _xy(point) for point in points)


def _xy(point: Any) -> str:
    return f" {float(point[0])!r} {-float(point[1])!r}"


def _arc_commands(curve: Arc | EllipticalArc) -> Iterable[str]:
    """In pieces of a third of a turn at most, as the format does not say well what is near a half."""
    if isinstance(curve, Arc):
        rx = ry = curve.radius
        turn = 0.0
    else:
        rx = math.hypot(*curve.major)
        ry, turn = rx * curve.ratio, -math.degrees(math.atan2(curve.major[1], curve.major[0]))
    count = max(1, math.ceil(abs(curve.sweep) / (math.tau / 3) - 1e-9))
    for piece in range(1, count + 1):
        end = _xy(curve.point_at(piece / count))
        yield f" A {rx!r} {ry!r} {turn!r} 0 {0 if curve.sweep > 0 else 1}{end}"
