"""Seeded random outlines of every kind of curve, simple by construction or checked with Shapely."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import planform as pf
import shapely

Point = tuple[float, float]


def polygon(corners: Sequence[Point]) -> pf.Contour:
    """Straight lines from corner to corner."""
    return pf.Contour(
        [pf.Line(corners[i], corners[(i + 1) % len(corners)]) for i in range(len(corners))]
    )


def circle(center: Point, radius: float) -> pf.Contour:
    """One arc all round."""
    return pf.Contour([pf.Arc(center, radius)])


def closed_spline(corners: Sequence[Point]) -> pf.Contour:
    """A periodic cubic spline over the corners, clamped by one Bezier piece a span."""
    count = len(corners)
    points = np.array(corners, dtype=float)
    curves = []
    for i in range(count):
        a, b, c, d = (points[(i + k) % count] for k in range(4))
        poles = [(a + 4 * b + c) / 6, (2 * b + c) / 3, (b + 2 * c) / 3, (b + 4 * c + d) / 6]
        curves.append(pf.Spline(3, [0, 0, 0, 0, 1, 1, 1, 1], [tuple(pole) for pole in poles]))
    return pf.Contour(curves)


def rounded_polygon(corners: Sequence[Point], radius: float) -> pf.Contour:
    """Lines with an arc in each corner that has room for it."""
    count = len(corners)
    points = np.array(corners, dtype=float)
    curves: list[pf.Curve] = []
    starts, ends, arcs = [], [], []
    for i in range(count):
        before, here, after = points[i - 1], points[i], points[(i + 1) % count]
        into, out = here - before, after - here
        length_in, length_out = np.linalg.norm(into), np.linalg.norm(out)
        into, out = into / length_in, out / length_out
        turn = math.atan2(into[0] * out[1] - into[1] * out[0], float(into @ out))
        reach = radius * abs(math.tan(turn / 2))
        if abs(turn) < 0.05 or reach > 0.45 * min(length_in, length_out):
            starts.append(here)
            ends.append(here)
            arcs.append(None)
            continue
        start, end = here - reach * into, here + reach * out
        side = math.copysign(1.0, turn)
        center = start + side * radius * np.array([-into[1], into[0]])
        angle = math.atan2(*(start - center)[::-1])
        starts.append(start)
        ends.append(end)
        arcs.append(pf.Arc(tuple(center), radius, angle, turn))
    for i in range(count):
        arc = arcs[i]
        if arc is not None:
            curves.append(arc)
        curves.append(pf.Line(tuple(ends[i]), tuple(starts[(i + 1) % count])))
    return pf.Contour(curves)


def ring_of_corners(
    generator: np.random.Generator, count: int, center: Point, size: float, depth: float
) -> list[Point]:
    """Corners around a centre, at distances from (1 - depth) size to size: a star-shaped polygon."""
    angles = (np.arange(count) + generator.uniform(0.15, 0.85, count)) * (2 * math.pi / count)
    radii = size * (1 - depth * generator.uniform(0, 1, count))
    return [
        (center[0] + radius * math.cos(angle), center[1] + radius * math.sin(angle))
        for radius, angle in zip(radii, angles, strict=True)
    ]


def random_contour(
    generator: np.random.Generator, center: Point = (0.0, 0.0), size: float = 10.0
) -> pf.Contour:
    """A simple contour of lines, of lines and arcs, of splines, or an ellipse or a circle."""
    while True:
        kind = generator.integers(0, 6)
        count = int(generator.integers(5, 14))
        corners = ring_of_corners(generator, count, center, size, generator.uniform(0.2, 0.85))
        if kind <= 1:
            contour = polygon(corners)
        elif kind == 2:
            contour = rounded_polygon(corners, size * generator.uniform(0.02, 0.3))
        elif kind <= 4:
            contour = closed_spline(corners)
        else:
            angle = generator.uniform(0, math.pi)
            ratio = generator.uniform(0.1, 1.0)
            major = (size * math.cos(angle), size * math.sin(angle))
            contour = pf.Contour([pf.EllipticalArc(center, major, ratio)])
        if shapely.Polygon(contour.points(size * 1e-4)).is_valid:
            return contour


def plate_with_holes(generator: np.random.Generator, hole_count: int) -> pf.ProfileSet:
    """A random plate with random holes that keep off each other."""
    outer = random_contour(generator, size=50.0)
    free = shapely.Polygon(outer.points(1e-3))
    holes: list[pf.Contour] = []
    for _ in range(200):
        if len(holes) == hole_count:
            break
        low_x, low_y, high_x, high_y = free.bounds
        center = (generator.uniform(low_x, high_x), generator.uniform(low_y, high_y))
        hole = random_contour(generator, center, generator.uniform(2.0, 9.0))
        if generator.random() < 0.4:
            hole = circle(center, generator.uniform(1.0, 5.0))
        area = shapely.Polygon(hole.points(1e-3))
        if free.contains(area.buffer(1e-2)):
            free = free.difference(area)
            holes.append(hole)
    return pf.ProfileSet([pf.Profile(outer, holes)])
