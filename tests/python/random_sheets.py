"""Seeded random sheets: pieces with holes, islands, pieces in holes and marks, packed loosely or tightly."""

from __future__ import annotations

import math

import numpy as np
import planform as pf
import shapely
from random_outlines import circle, polygon, random_contour

Point = tuple[float, float]
CELL = 80.0
"""mm: pieces lie in the cells of a grid of this width."""


def rectangle(center: Point, width: float, height: float, angle: float = 0.0) -> pf.Contour:
    """Four lines."""
    cosine, sine = math.cos(angle), math.sin(angle)
    corners = [(-width / 2, -height / 2), (width / 2, -height / 2)]
    corners += [(width / 2, height / 2), (-width / 2, height / 2)]
    return polygon(
        [(center[0] + cosine * x - sine * y, center[1] + sine * x + cosine * y) for x, y in corners]
    )


def small_holes(generator: np.random.Generator, outer: pf.Contour, count: int) -> list[pf.Contour]:
    """Holes of many shapes that keep half a millimetre off each other and the outline."""
    free = shapely.Polygon(outer.points(1e-2))
    holes: list[pf.Contour] = []
    for _ in range(8 * count):
        if len(holes) == count:
            break
        low_x, low_y, high_x, high_y = free.bounds
        center = (generator.uniform(low_x, high_x), generator.uniform(low_y, high_y))
        size = generator.uniform(0.6, 9.0)
        kind = generator.integers(0, 5)
        if kind <= 1:
            hole = circle(center, size)
        elif kind == 2:
            angle = generator.uniform(0, math.pi)
            hole = rectangle(center, 2 * size, generator.uniform(0.8, 5.0), angle)
        else:
            hole = random_contour(generator, center, size)
        area = shapely.Polygon(hole.points(1e-2))
        if free.contains(area.buffer(0.5)):
            free = free.difference(area)
            holes.append(hole)
    return holes


def outline_of(generator: np.random.Generator, center: Point, reach: float) -> pf.Contour:
    """An outer contour that stays within ``reach`` of its centre along x and y."""
    kind = generator.integers(0, 5)
    if kind <= 1:
        width, height = generator.uniform(0.6, 2.0, 2) * reach
        return rectangle(center, width, height)
    if kind == 2:
        return circle(center, generator.uniform(0.5, 1.0) * reach)
    return random_contour(generator, center, reach)


def pieces_in_cell(
    generator: np.random.Generator, center: Point, reach: float, number: int
) -> list[pf.ProfileSet]:
    """A plate with holes, a ring with a piece or an island in it, or a disc."""
    kind = generator.integers(0, 4)
    name = f"piece {number}"
    if kind == 0:  # a ring, and in it an island with a hole, or another piece
        ring = pf.Profile(circle(center, reach), [circle(center, 0.8 * reach)])
        middle = outline_of(generator, center, generator.uniform(0.2, 0.5) * reach)
        holes = small_holes(generator, middle, 1)
        if generator.random() < 0.5:
            return [pf.ProfileSet([ring, pf.Profile(middle, holes, parent=0)], name=name)]
        inner = pf.ProfileSet([pf.Profile(middle, holes)], name=f"{name} inside")
        return [pf.ProfileSet([ring], name=name), inner]
    outer = outline_of(generator, center, reach)
    holes = small_holes(generator, outer, int(generator.integers(0, 6)))
    marks = []
    if generator.random() < 0.3:
        marks.append(pf.Mark(circle(center, 0.1 * reach), "label"))
    return [pf.ProfileSet([pf.Profile(outer, holes)], marks, name=name)]


def random_sheet(
    generator: np.random.Generator, least_cuts: int
) -> tuple[list[pf.PlacedPiece], pf.ProfileSet]:
    """Pieces with at least so many contours in all, and the sheet that they lie on."""
    gap = float(generator.choice([0.6, 2.0, 5.0, 12.0]))
    pieces: list[pf.PlacedPiece] = []
    cuts = number = 0
    columns = max(1, math.ceil(math.sqrt(least_cuts / 5)))
    while cuts < least_cuts:
        center = ((number % columns + 0.5) * CELL, (number // columns + 0.5) * CELL)
        for outline in pieces_in_cell(generator, center, (CELL - gap) / 2, number):
            pieces.append(pf.PlacedPiece(outline.name, outline))
            cuts += sum(1 + len(profile.holes) for profile in outline.profiles)
        number += 1
    rows = math.ceil(number / columns)
    edge = polygon(
        [
            (-9, -9),
            (columns * CELL + 9, -9),
            (columns * CELL + 9, rows * CELL + 9),
            (-9, rows * CELL + 9),
        ]
    )
    return pieces, pf.ProfileSet([pf.Profile(edge)])
