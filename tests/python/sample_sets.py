"""Profile sets made by hand, with areas and lengths in closed form."""

from __future__ import annotations

import math
from dataclasses import dataclass

from planform import Arc, Contour, EllipticalArc, Line, Mark, Profile, ProfileSet, Spline


def polygon(*corners: tuple[float, float]) -> Contour:
    ends = (*corners[1:], corners[0])
    return Contour([Line(start, end) for start, end in zip(corners, ends, strict=True)])


def circle(x: float, y: float, radius: float) -> Contour:
    return Contour([Arc((x, y), radius)])


def slot(x: float, y: float, length: float, radius: float) -> Contour:
    left, right = x - length / 2, x + length / 2
    return Contour(
        [
            Line((left, y - radius), (right, y - radius)),
            Arc((right, y), radius, -math.pi / 2, math.pi),
            Line((right, y + radius), (left, y + radius)),
            Arc((left, y), radius, math.pi / 2, math.pi),
        ]
    )


def keyhole(radius: float, missing: float) -> Contour:
    """A circle whose last `missing` radians are cut off by a chord."""
    arc = Arc((0, 0), radius, missing / 2, 2 * math.pi - missing)
    return Contour([arc, Line(arc.end, arc.start)])


def half_ellipse(major: float, minor: float, turn: float = 0.0) -> Contour:
    axis = (major * math.cos(turn), major * math.sin(turn))
    arc = EllipticalArc((0, 0), axis, minor / major, 0.0, math.pi)
    return Contour([arc, Line(arc.end, arc.start)])


def parabola(width: float, height: float) -> Contour:
    """The arch y = 4 height x (width - x) / width^2 over its chord."""
    arch = Spline(2, [0, 0, 0, 1, 1, 1], [(width, 0), (width / 2, 2 * height), (0, 0)])
    return Contour([arch, Line((0, 0), (width, 0))])


def parabola_length(width: float, height: float) -> float:
    """Arc length of the arch (closed form of the integral of sqrt(1 + y'^2))."""
    slope = 4 * height / width
    root = math.sqrt(1 + slope**2)
    return width / 2 * (root + math.asinh(slope) / slope)


def rational_disc(radius: float) -> Contour:
    """A disc whose circle is four rational quadratic quarters in one spline."""
    corner = math.sqrt(0.5)
    poles = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]
    knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    weights = [1, corner, 1, corner, 1, corner, 1, corner, 1]
    return Contour([Spline(2, knots, [(radius * x, radius * y) for x, y in poles], weights)])


def one(contour: Contour) -> ProfileSet:
    return ProfileSet([Profile(contour)])


def plate() -> ProfileSet:
    """A plate with a slot and a round hole, in the hole an island, and a mark."""
    return ProfileSet(
        [
            Profile(
                polygon((0, 0), (120, 0), (120, 80), (0, 80)),
                [circle(40, 40, 25), slot(90, 40, 20, 6)],
                name="perch",
            ),
            Profile(circle(40, 40, 10), name="token", parent=0),
        ],
        marks=[Mark(polygon((5, 5), (15, 5), (15, 15)), "sun")],
        name="plate",
    )


PLATE_AREA = 120 * 80 - math.pi * 25**2 - (20 * 12 + math.pi * 36) + math.pi * 100
PLATE_LENGTH = 400 + 50 * math.pi + (40 + 12 * math.pi) + 20 * math.pi


@dataclass(frozen=True)
class Sample:
    """A contour with its area in mm^2 and its length in mm."""

    contour: Contour
    area: float
    length: float


MISSING = 1e-3
# Area of a circular segment: r^2 / 2 (angle - sin angle).
SAMPLES = {
    "triangle": Sample(polygon((0, 0), (3, 0), (3, 4)), 6.0, 12.0),
    "circle": Sample(circle(7, -3, 2.5), math.pi * 6.25, 5 * math.pi),
    "circle of two arcs": Sample(
        Contour([Arc((0, 0), 5, 0, math.pi), Arc((0, 0), 5, math.pi, math.pi)]),
        25 * math.pi,
        10 * math.pi,
    ),
    "slot": Sample(slot(100, 50, 20, 6), 240 + 36 * math.pi, 40 + 12 * math.pi),
    "keyhole": Sample(
        keyhole(10, 1.0),
        50 * (2 * math.pi - 1 + math.sin(1.0)),
        10 * (2 * math.pi - 1) + 20 * math.sin(0.5),
    ),
    "almost a circle": Sample(
        keyhole(10, MISSING),
        50 * (2 * math.pi - MISSING + math.sin(MISSING)),
        10 * (2 * math.pi - MISSING) + 20 * math.sin(MISSING / 2),
    ),
}
