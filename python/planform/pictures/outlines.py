"""Pictures of outlines: SVG fragments with dimensions for pages, and axes of matplotlib for notebooks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planform._planform import MatingCurve, MatingOutline, ProfileSet
from planform.extras import needed
from planform.pictures.placing import Placing, contours_of, path, svg
from planform.units.figures import INCH_FIGURES, MM_FIGURES, Figures

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from planform.curves import Curve


ROOM = 46.0
"""Beside and above an outline with dimensions, for the dimension lines, in pixels."""

NARROW_ROOM = 12.0
"""Around an outline without dimensions, in pixels."""


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
    placing = Placing.fitted(profiles.bounds, width, height, ROOM)
    (lower, upper), tolerance = profiles.bounds, placing.tolerance
    left, bottom = placing.place(*lower)
    right, top = placing.place(*upper)

    def mated(seat: bool) -> str:
        curves = mating.curves if mating else []
        return path(
            "seat" if seat else "mating",
            "".join(
                placing.way(curve_at(profiles, curve).points(tolerance), closed=False)
                for curve in curves
                if curve.is_seat == seat
            ),
        )

    marks = "".join(placing.way(mark.points(tolerance), mark.is_closed) for mark in profiles.marks)
    return svg(
        width,
        height,
        path("material cut", placing.contours(profiles), even_odd=True),
        path("mark", marks),
        mated(seat=True),
        mated(seat=False),
        horizontal_dimension(left, right, bottom, figures.length(float(upper[0] - lower[0]))),
        vertical_dimension(top, bottom, right, figures.length(float(upper[1] - lower[1]))),
    )


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
    lower = [min(float(box[0][axis]) for box in boxes) for axis in (0, 1)]
    upper = [max(float(box[1][axis]) for box in boxes) for axis in (0, 1)]
    placing = Placing.fitted((lower, upper), width, height, NARROW_ROOM)
    return svg(
        width,
        height,
        *(
            path(kind, placing.contours(outline), even_odd=True)
            for outline, kind in ((kept, "material"), (added, "added"), (removed, "removed"))
        ),
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
