"""Pictures of outlines: SVG fragments with dimensions for pages, and axes of matplotlib for notebooks."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from planform._planform import Contour, Mark, MatingCurve, MatingOutline, ProfileSet
from planform.extras import needed
from planform.units.figures import INCH_FIGURES, MM_FIGURES, Figures

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from planform.curves import Curve


def dimensioned_svg(
    profiles: ProfileSet,
    width: float = 400.0,
    height: float = 260.0,
    mating: MatingOutline | None = None,
    figures: Figures = MM_FIGURES,
) -> str:
    """Return an ``<svg>`` element that shows the profiles with their overall dimensions in a unit.

    Curves that meet other parts are drawn over the contours, with the class ``mating``, or ``seat`` where
    they only rest on a face.

    The drawing is scaled to fit ``width`` x ``height`` (CSS pixels), the dimensions outside of it. It
    carries no style of its own: material, contours, dimension lines and texts have the classes
    ``material``, ``cut``, ``mark``, ``dimension`` and ``figure``. Curves are shown as polylines within
    a tenth of a pixel. Texts are made of numbers only, so nothing needs escaping.
    """
    lower, upper = profiles.bounds
    extent_x, extent_y = float(upper[0] - lower[0]), float(upper[1] - lower[1])
    room = 46.0  # beside and above the outline, for the dimension lines
    scale = min((width - 2 * room) / max(extent_x, 1e-9), (height - 2 * room) / max(extent_y, 1e-9))
    left = (width - scale * extent_x) / 2
    right = left + scale * extent_x
    top = (height - scale * extent_y) / 2
    bottom = top + scale * extent_y

    def place(contour: Contour | Mark) -> str:
        points = contour.points(0.1 / scale)
        pairs = (
            f"{left + scale * (x - lower[0]):.2f} {bottom - scale * (y - lower[1]):.2f}"
            for x, y in points
        )
        is_open = isinstance(contour, Mark) and not contour.is_closed
        return "M" + "L".join(pairs) + ("" if is_open else "Z")

    cut = "".join(
        place(contour)
        for profile in profiles.profiles
        for contour in (profile.outer, *profile.holes)
    )
    marks = "".join(place(mark) for mark in profiles.marks)

    def mated(seat: bool) -> str:
        kind = "seat" if seat else "mating"
        curves = mating.curves if mating else []
        data = "".join(
            "M"
            + "L".join(
                f"{left + scale * (x - lower[0]):.2f} {bottom - scale * (y - lower[1]):.2f}"
                for x, y in curve_at(profiles, curve).points(0.1 / scale)
            )
            for curve in curves
            if curve.is_seat == seat
        )
        return f'<path class="{kind}" d="{data}"/>' if data else ""

    pieces = [
        f'<svg viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}" role="img">',
        f'<path class="material cut" fill-rule="evenodd" d="{cut}"/>',
        f'<path class="mark" d="{marks}"/>' if marks else "",
        mated(seat=True),
        mated(seat=False),
        horizontal_dimension(left, right, bottom, figures.length(extent_x)),
        vertical_dimension(top, bottom, right, figures.length(extent_y)),
        "</svg>",
    ]
    return "".join(pieces)


def curve_at(profiles: ProfileSet, place: MatingCurve) -> Curve:
    """The curve that mates."""
    profile = profiles.profiles[place.profile]
    contour = profile.holes[place.contour - 1] if place.contour else profile.outer
    return contour.curves[place.curve]


def change_svg(
    kept: ProfileSet,
    added: ProfileSet,
    removed: ProfileSet,
    width: float = 400.0,
    height: float = 260.0,
) -> str:
    """Return an ``<svg>`` element of a changed outline: what stayed, what came, what went.

    Scaled to fit ``width`` x ``height`` (CSS pixels); the three have the classes ``material``, ``added``
    and ``removed``. All must be on one datum.
    """
    boxes = [outline.bounds for outline in (kept, added, removed) if outline.profiles]
    left, low = (min(float(box[0][axis]) for box in boxes) for axis in (0, 1))
    right, high = (max(float(box[1][axis]) for box in boxes) for axis in (0, 1))
    room = 12.0
    scale = min(
        (width - 2 * room) / max(right - left, 1e-9), (height - 2 * room) / max(high - low, 1e-9)
    )
    shift_x = width / 2 - scale * (left + right) / 2
    shift_y = height / 2 + scale * (low + high) / 2

    def path(outline: ProfileSet, kind: str) -> str:
        data = "".join(
            "M"
            + "L".join(
                f"{shift_x + scale * x:.2f} {shift_y - scale * y:.2f}"
                for x, y in contour.points(0.1 / scale)
            )
            + "Z"
            for contour in contours_of(outline)
        )
        return f'<path class="{kind}" fill-rule="evenodd" d="{data}"/>' if data else ""

    return (
        f'<svg viewBox="0 0 {width:g} {height:g}" width="{width:g}" height="{height:g}" role="img">'
        f"{path(kept, 'material')}{path(added, 'added')}{path(removed, 'removed')}</svg>"
    )


SHORT = 34.0
"""Below this many pixels between extension lines, the arrow heads stand outside and the figure beside."""


def horizontal_dimension(left: float, right: float, y: float, figure: str) -> str:
    """A dimension below the outline: two extension lines, a line with arrow heads, the figure."""
    line = y + 20
    short = right - left < SHORT
    inward = -1 if short else 1
    overhang = 12.0 if short else 0.0
    return (
        f'<path class="dimension" d="M{left:.2f} {y + 4:.2f}V{line + 4:.2f}'
        f"M{right:.2f} {y + 4:.2f}V{line + 4:.2f}"
        f"M{left - overhang:.2f} {line:.2f}H{right + overhang:.2f}"
        f'{arrow(left, line, inward, 0)}{arrow(right, line, -inward, 0)}"/>'
        f'<text class="figure" x="{(left + right) / 2:.2f}" y="{line + 15:.2f}">'
        f"{figure}</text>"
    )


def vertical_dimension(top: float, bottom: float, x: float, figure: str) -> str:
    """A dimension to the right of the outline; its figure reads from the right, or stands upright
    beside a short one."""
    line = x + 20
    middle = (top + bottom) / 2
    short = bottom - top < SHORT
    inward = -1 if short else 1
    overhang = 12.0 if short else 0.0
    turn = "" if short else " rotate(-90)"
    place = f"{line + 17:.2f} {middle + 4:.2f}" if short else f"{line + 14:.2f} {middle:.2f}"
    return (
        f'<path class="dimension" d="M{x + 4:.2f} {top:.2f}H{line + 4:.2f}'
        f"M{x + 4:.2f} {bottom:.2f}H{line + 4:.2f}"
        f"M{line:.2f} {top - overhang:.2f}V{bottom + overhang:.2f}"
        f'{arrow(line, top, 0, inward)}{arrow(line, bottom, 0, -inward)}"/>'
        f'<text class="figure" transform="translate({place}){turn}">{figure}</text>'
    )


def arrow(x: float, y: float, along_x: float, along_y: float) -> str:
    """An open arrow head with its tip at (x, y); (along_x, along_y) points into the dimension line."""
    length, half_width = 7.0, 2.2
    base_x, base_y = x + length * along_x, y + length * along_y
    side_x, side_y = half_width * along_y, half_width * along_x
    return (
        f"M{base_x + side_x:.2f} {base_y + side_y:.2f}L{x:.2f} {y:.2f}"
        f"L{base_x - side_x:.2f} {base_y - side_y:.2f}"
    )


def millimetres(value: float) -> str:
    """A length in mm to a hundredth, without trailing zeros."""
    return MM_FIGURES.length(value)


def inches(value: float) -> str:
    """A length given in mm, as inches to a thousandth."""
    return INCH_FIGURES.length(value)


def contours_of(profiles: ProfileSet) -> Iterable[Contour]:
    """All contours that are cut, outer ones and holes."""
    for profile in profiles.profiles:
        yield profile.outer
        yield from profile.holes


def plot(profiles: ProfileSet, axes: Axes | None = None, tolerance: float = 0.05) -> Axes:
    """Draw the profiles into matplotlib axes, material filled, to scale; return the axes.

    ``tolerance`` (mm) bounds the distance of the picture's polylines from the curves. Needs the extra
    ``pictures``.
    """
    with needed():
        import matplotlib.pyplot as pyplot
        import numpy
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path

    if axes is None:
        _, axes = pyplot.subplots()
    rings = [contour.points(tolerance) for contour in contours_of(profiles)]
    if rings:
        vertices = [numpy.vstack([ring, ring[:1]]) for ring in rings]
        codes = [
            numpy.array([Path.MOVETO] + [Path.LINETO] * (len(ring) - 2) + [Path.CLOSEPOLY])
            for ring in vertices
        ]
        outline = Path(numpy.vstack(vertices), numpy.concatenate(codes))
        axes.add_patch(PathPatch(outline, facecolor="#d9d3c3", edgecolor="#1d2b36", linewidth=0.8))
    axes.set_aspect("equal")
    axes.autoscale_view()
    axes.set_xlabel("x in mm")
    axes.set_ylabel("y in mm")
    return axes
