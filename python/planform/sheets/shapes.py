"""Pieces as polygons that hold them, for the search: grown by half the gap, turned as they may be."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy
from numpy.typing import NDArray
from shapely.geometry import MultiPoint, Polygon

from planform._planform import Line, Profile, ProfileSet, _containing_polygons, _simplified_outward
from planform.sheets.values import QUARTER, Piece, Placement, Stock, Turns, direction, rectangle

Ring = NDArray[numpy.float64]
Rings = list[Ring]
"""An outer ring and the holes in it, (n, 2) arrays in mm."""

CLEARANCE = 2e-6
"""mm that polygons are grown by more than half the gap: what rounding of motions takes, and then exact
distances are still those asked for."""
CHORDS = 1e-4
"""Greatest distance of a polygon from its outline as a share of the outline's size: what it costs in material
stays below the differences between two runs of a search."""
FEWER = 4e-4
"""The same for leaving out corners, which makes the search quicker."""
LEAST_CHORD = 1e-3
"""mm: finer chords gain nothing."""
STRICTER: tuple[Turns, ...] = ("any", "90", "180", "none")
FREE_ANGLES = 8
"""So many directions are tried for a piece that may lie in any, besides that of its narrowest box."""


@dataclass(frozen=True)
class Rules:
    """What a layout has to keep: ``gap`` and ``margin`` in mm."""

    gap: float
    margin: float

    @property
    def growth(self) -> float:
        """mm by which polygons are grown: two of them that touch are the gap apart."""
        return self.gap / 2 + CLEARANCE if self.gap > 0 else 0.0


def turned(ring: Ring, angle: float, mirrored: bool = False) -> Ring:
    """A ring mirrored (x to -x), then turned about the origin; still in the same sense."""
    cosine, sine = direction(angle)
    sign = -1.0 if mirrored else 1.0
    matrix = numpy.array([[sign * cosine, -sine], [sign * sine, cosine]])
    moved: Ring = ring @ matrix.T
    return moved[::-1].copy() if mirrored else moved


def turned_rings(rings: Rings, angle: float, mirrored: bool = False) -> Rings:
    """All rings of a polygon, turned alike."""
    return [turned(ring, angle, mirrored) for ring in rings]


def moved_rings(rings: Rings, x: float, y: float) -> Rings:
    """All rings of a polygon, moved alike."""
    return [ring + numpy.array([x, y]) for ring in rings]


def extent(ring: Ring) -> tuple[float, float]:
    """Width and height of a ring's box, mm."""
    width, height = ring.max(axis=0) - ring.min(axis=0)
    return float(width), float(height)


def polygon_area(rings: Rings) -> float:
    """Holes taken off, mm²."""

    def signed(ring: Ring) -> float:
        x, y = ring[:, 0] - ring[0, 0], ring[:, 1] - ring[0, 1]
        return float(numpy.dot(x, numpy.roll(y, -1)) - numpy.dot(y, numpy.roll(x, -1))) / 2

    return sum(signed(ring) for ring in rings)


def one_polygon(parts: Sequence[Rings]) -> Rings:
    """One polygon that holds all of these: the first if the others lie in its holes, which are then closed;
    else their convex hull."""
    if len(parts) == 1:
        return list(parts[0])
    outers = [Polygon(part[0]) for part in parts]
    largest = max(range(len(parts)), key=lambda i: outers[i].area)
    if all(outers[largest].contains(outer) for i, outer in enumerate(outers) if i != largest):
        others = [outer for i, outer in enumerate(outers) if i != largest]
        holes = [
            hole
            for hole in parts[largest][1:]
            if not any(Polygon(hole).intersects(other) for other in others)
        ]
        return [parts[largest][0], *holes]
    hull = MultiPoint(numpy.vstack([part[0] for part in parts])).convex_hull
    ring = numpy.array(hull.exterior.coords)[:-1]
    return [ring if hull.exterior.is_ccw else ring[::-1].copy()]


@dataclass(frozen=True, eq=False)
class Shape:
    """A piece with its polygons.

    ``rings`` hold it for placing, holes free; ``search`` is one simple ring with few corners.
    """

    piece: Piece
    rings: Rings
    search: Ring

    @cached_property
    def size(self) -> float:
        """The diagonal of its box, mm."""
        return math.hypot(*extent(self.rings[0]))


def shape_of(piece: Piece, rules: Rules) -> Shape:
    """The polygons of a piece. Raises GeometryError where an outline can't be grown."""
    (left, low), (right, high) = piece.outline.bounds
    size = math.hypot(float(right - left), float(high - low))
    chords = max(CHORDS * size, LEAST_CHORD)
    rings = one_polygon(_containing_polygons(bare(piece.outline), rules.growth, chords))
    exact = rules.growth == 0 and all_lines(piece.outline)
    search = rings[0] if exact else _simplified_outward(rings[0], max(FEWER * size, LEAST_CHORD))
    return Shape(piece, rings, search)


def bare(outline: ProfileSet) -> ProfileSet:
    """What is cut: without marks."""
    return ProfileSet(outline.profiles, tolerance=outline.tolerance, validate=False)


def all_lines(outline: ProfileSet) -> bool:
    """Is the outline made of lines?"""
    return all(
        isinstance(curve, Line)
        for profile in outline.profiles
        for contour in (profile.outer, *profile.holes)
        for curve in contour.curves
    )


@dataclass(frozen=True)
class Inside:
    """A piece in a hole of another: where it lies in the other's coordinates."""

    shape: Shape
    mirrored: bool
    angle: float
    x: float
    y: float


@dataclass(frozen=True, eq=False)
class Unit:
    """What is placed as one: a piece with those that lie in its holes."""

    shape: Shape
    inside: tuple[Inside, ...] = ()
    number: int = field(default_factory=lambda: 0)
    """Counts the units of a group."""
    spare: bool = False

    @cached_property
    def turns(self) -> Turns:
        """The strictest of all pieces in it."""
        pieces = [self.shape.piece, *(one.shape.piece for one in self.inside)]
        return max((piece.turns for piece in pieces), key=STRICTER.index)

    @cached_property
    def may_mirror(self) -> bool:
        """Only if all pieces in it may."""
        return self.shape.piece.may_mirror and all(i.shape.piece.may_mirror for i in self.inside)

    @cached_property
    def priority(self) -> int:
        """The highest of all pieces in it."""
        return max(
            self.shape.piece.priority, *(i.shape.piece.priority for i in self.inside), -(10**9)
        )

    @cached_property
    def area(self) -> float:
        """Of all pieces in it, mm²."""
        return self.shape.piece.area + sum(i.shape.piece.area for i in self.inside)

    @property
    def taken_rings(self) -> Rings:
        """What must be free for it: its polygon, with its holes closed if anything lies in them."""
        return self.shape.rings[:1] if self.inside else self.shape.rings

    @cached_property
    def room(self) -> float:
        """What it takes on a sheet: the area of its search polygon, mm²."""
        return polygon_area([self.shape.search])

    def angles(self, grain: float | None) -> list[float] | None:
        """The turns that it may take, radians; None: any."""
        step = {"any": 0.0, "90": QUARTER, "180": math.pi, "none": 2 * math.pi}[self.turns]
        if not step:
            return None
        count = round(2 * math.pi / step)
        return [(grain or 0.0) + i * step for i in range(count)]

    def tried_angles(self, grain: float | None) -> list[float]:
        """Those that are tried one by one."""
        angles = self.angles(grain)
        if angles is not None:
            return angles
        start = -long_side(self.shape.search)
        quarters = [start + i * QUARTER for i in range(4)]
        even = [i * 2 * math.pi / FREE_ANGLES for i in range(FREE_ANGLES)]
        return even + [a for a in quarters if abs(math.remainder(a, QUARTER / 2)) > 1e-6]

    def occupied(self, spot: Spot) -> list[Rings]:
        """The polygons that it covers where it lies: its own, and those in its holes."""
        host = moved_rings(
            turned_rings(self.shape.rings, spot.angle, spot.mirrored), spot.x, spot.y
        )
        return [host, *(one.unit_rings() for one in placed_inside(spot))]


@dataclass(frozen=True)
class Spot:
    """Where a unit lies on a sheet."""

    unit: Unit
    mirrored: bool
    angle: float
    x: float
    y: float


@dataclass(frozen=True)
class Placed:
    """Where a piece of a unit lies on a sheet."""

    shape: Shape
    mirrored: bool
    angle: float
    x: float
    y: float

    def unit_rings(self) -> Rings:
        """Its polygon there."""
        rings = turned_rings(self.shape.rings, self.angle, self.mirrored)
        return moved_rings(rings, self.x, self.y)

    def placement(self) -> Placement:
        """As a value of the layout."""
        angle = math.remainder(self.angle, 2 * math.pi)
        return Placement(self.shape.piece, self.x, self.y, angle, self.mirrored)


def placed_inside(spot: Spot) -> list[Placed]:
    """The pieces in the holes of a placed unit: both motions one after the other."""
    cosine, sine = direction(spot.angle)
    sign = -1.0 if spot.mirrored else 1.0
    result = []
    for one in spot.unit.inside:
        x, y = sign * one.x, one.y
        result.append(
            Placed(
                one.shape,
                spot.mirrored != one.mirrored,
                spot.angle + sign * one.angle,
                spot.x + cosine * x - sine * y,
                spot.y + sine * x + cosine * y,
            )
        )
    return result


def placed_pieces(spot: Spot) -> list[Placed]:
    """All pieces of a placed unit, the outer one first."""
    host = Placed(spot.unit.shape, spot.mirrored, spot.angle, spot.x, spot.y)
    return [host, *placed_inside(spot)]


def long_side(ring: Ring) -> float:
    """The direction of the longer side of the narrowest rectangle about a ring, radians.

    It lies along an edge of the convex hull (H. Freeman, R. Shapira, "Determining the minimum-area
    encasing rectangle for an arbitrary closed curve", Commun. ACM 18 (1975); from memory).
    """
    corners = numpy.array(MultiPoint(ring).minimum_rotated_rectangle.exterior.coords)
    sides = numpy.diff(corners, axis=0)[:2]
    x, y = max(sides, key=lambda side: float(numpy.hypot(*side)))
    return math.atan2(y, x)


@dataclass(frozen=True, eq=False)
class Room:
    """Where the grown polygons of pieces may lie on one kind of stock."""

    stock: Stock
    box: tuple[float, float, float, float]
    """Left, low, right, high: of the room, mm."""
    outlines: tuple[Rings, ...]
    """Polygons within the edge, less the margin; several where the margin cuts it apart."""
    obstacles: tuple[Rings, ...]
    """Holes of the sheet and places to keep clear."""
    is_plain: bool
    """A rectangle without obstacles."""
    reference: float = field(default_factory=lambda: 0.0)
    """Area of the room, mm²."""

    @property
    def width(self) -> float:
        """mm."""
        return self.box[2] - self.box[0]

    @property
    def height(self) -> float:
        """mm."""
        return self.box[3] - self.box[1]


def room_of(stock: Stock, rules: Rules) -> Room | None:
    """The room on a kind of stock; None if the margin leaves nothing of it."""
    (left, low), (right, high) = (map(float, corner) for corner in stock.outline.bounds)
    inward = rules.margin - rules.growth
    obstacles = (
        list(_containing_polygons(bare(stock.keep_clear), 0.0, LEAST_CHORD))
        if stock.keep_clear.profiles
        else []
    )
    if stock.is_rectangle:
        box = (left + inward, low + inward, right - inward, high - inward)
        if box[2] <= box[0] or box[3] <= box[1]:
            return None
        outlines: tuple[Rings, ...] = (box_rings(*box),)
    else:
        profile = stock.outline.profiles[0]
        size = math.hypot(right - left, high - low)
        frame = ProfileSet(
            [
                Profile(
                    rectangle(left - size, low - size, right + size, high + size).outer,
                    [profile.outer],
                    validate=False,
                )
            ],
            tolerance=stock.outline.tolerance,
            validate=False,
        )
        around = max(inward, 0.0)
        parts = _containing_polygons(frame, around, max(CHORDS * size, LEAST_CHORD))
        outlines = tuple([hole[::-1].copy()] for part in parts for hole in part[1:])
        if not outlines:
            return None
        for hole in profile.holes:
            inner = ProfileSet(
                [Profile(hole.reversed(), validate=False)],
                tolerance=stock.outline.tolerance,
                validate=False,
            )
            obstacles += _containing_polygons(inner, around, LEAST_CHORD)
        corners = numpy.vstack([rings[0] for rings in outlines])
        box = tuple(map(float, (*corners.min(axis=0), *corners.max(axis=0))))  # type: ignore[assignment]
    area = sum(polygon_area(rings) for rings in outlines) - sum(
        polygon_area(rings) for rings in obstacles
    )
    is_plain = stock.is_rectangle and not obstacles
    return Room(stock, box, outlines, tuple(obstacles), is_plain, area)


def box_rings(left: float, low: float, right: float, high: float) -> Rings:
    """A rectangle as rings."""
    return [numpy.array([[left, low], [right, low], [right, high], [left, high]])]
