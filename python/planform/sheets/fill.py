"""Sheets filled piece by piece: each as far left, then as low as there is room.

It is the plain layout where nothing is searched, and it fills what searches leave: gaps between the pieces
of a strip, left-overs of any outline, sheets with clamps, holes of pieces.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from planform._planform import Line, _FreeSpace, _shelves
from planform.sheets.shapes import (
    Inside,
    Ring,
    Rings,
    Room,
    Shape,
    Spot,
    Unit,
    box_rings,
    extent,
    moved_rings,
    placed_pieces,
    polygon_area,
    turned_rings,
)
from planform.sheets.values import QUARTER

CELLS = 300
"""Cells of the search grid along the longer side of a room: finer finds little more and takes longer."""
FINEST_CELL = 0.2
"""mm."""
HOLE_CELLS = 120
"""The same along a hole of a piece."""


@dataclass(eq=False)
class Filling:
    """A sheet while it is filled: what lies on it, and the room that is left."""

    room: Room
    spots: list[Spot] = field(default_factory=list)
    spaces: list[_FreeSpace] = field(default_factory=list)
    variants: dict[Unit, list[tuple[bool, float, Rings]]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        cell = max(max(self.room.width, self.room.height) / CELLS, FINEST_CELL)
        for outline in self.room.outlines:
            space = _FreeSpace(outline, cell)
            for obstacle in self.room.obstacles:
                space.occupy(obstacle)
            self.spaces.append(space)

    @property
    def area(self) -> float:
        """Of all pieces on it, mm²."""
        return sum(spot.unit.area for spot in self.spots)

    def accept(self, spot: Spot) -> bool:
        """Take a spot that was found elsewhere, if it is free."""
        rings = turned_rings(spot.unit.taken_rings, spot.angle, spot.mirrored)
        for space in self.spaces:
            if space.is_free(moved_rings(rings, spot.x, spot.y)):
                self.take(spot)
                return True
        return False

    def take(self, spot: Spot) -> None:
        """Put a unit there."""
        for rings in spot.unit.occupied(spot):
            for space in self.spaces:
                space.occupy(rings)
        self.spots.append(spot)

    def add(self, unit: Unit) -> bool:
        """Find a place for a unit and put it there; False if none is found."""
        variants = self.variants.get(unit)
        if variants is None:
            variants = self.variants[unit] = variants_of(unit, self.room.stock.grain)
        offered = [rings for _, _, rings in variants]
        for space in self.spaces:
            found = space.find(offered, unit.number)
            if found is not None:
                number, x, y = found
                mirrored, angle, _ = variants[number]
                self.take(Spot(unit, mirrored, angle, x, y))
                return True
        return False

    def add_all(self, counts: Mapping[Unit, int], limit: int | None = None) -> dict[Unit, int]:
        """Put as many as there is room for, those of high priority first, then large ones; return how many of
        each were put. ``limit`` bounds them."""
        put: dict[Unit, int] = {}
        for unit in sorted(counts, key=lambda one: (-one.priority, -one.room, one.number)):
            for _ in range(counts[unit]):
                if limit is not None and sum(put.values()) >= limit:
                    return put
                if not self.add(unit):
                    break
                put[unit] = put.get(unit, 0) + 1
        return put


def variants_of(unit: Unit, grain: float | None) -> list[tuple[bool, float, Rings]]:
    """A unit's polygon in all ways that are tried: mirrored or not, angle, rings."""
    result = []
    for mirrored in (False, True) if unit.may_mirror else (False,):
        for angle in unit.tried_angles(grain):
            result.append((mirrored, angle, turned_rings(unit.taken_rings, angle, mirrored)))
    return result


def is_box(ring: Ring) -> bool:
    """Is a ring a rectangle along x and y?"""
    width, height = extent(ring)
    return len(ring) == 4 and abs(polygon_area([ring]) - width * height) <= 1e-9 * width * height


def box_shape(unit: Unit) -> tuple[float, float] | None:
    """Width and height of a unit whose outline is a rectangle along x and y, before it was grown; None if it
    is none or has others in its holes."""
    profiles = unit.shape.piece.outline.profiles
    if len(profiles) != 1 or unit.inside:
        return None
    (left, low), (right, high) = profiles[0].bounds
    width, height = float(right - left), float(high - low)
    outer = profiles[0].outer
    if not all(isinstance(curve, Line) for curve in outer.curves):
        return None
    return (width, height) if abs(outer.area - width * height) <= 1e-9 * width * height else None


def on_shelves(
    counts: Mapping[Unit, int], room: Room, gap: float, growth: float
) -> list[Spot] | None:
    """Rectangles alone on one plain rectangular sheet, on shelves; None if it is another case."""
    if not room.is_plain:
        return None
    units = [unit for unit in counts for _ in range(counts[unit])]
    sizes = [box_shape(unit) for unit in units]
    grain = room.stock.grain or 0.0
    straight = abs(grain % QUARTER) < 1e-9
    if not straight or any(size is None for size in sizes):
        return None
    items, starts = [], []
    for unit, size in zip(units, sizes, strict=True):
        assert size is not None
        angles = unit.angles(room.stock.grain)
        start = 0.0 if angles is None else grain
        lying = round(start / QUARTER) % 2 == 1
        may_turn = unit.turns in ("any", "90")
        width, height = size[::-1] if lying else size
        items.append((width, height, may_turn))
        starts.append(start)
    order = sorted(range(len(units)), key=lambda i: -units[i].priority)
    left, low, right, high = room.box
    places = _shelves(
        [items[i] for i in order],
        right - left - 2 * growth,
        high - low - 2 * growth,
        gap,
        1,
    )
    spots = []
    for item, _, x, y, was_turned in places:
        index = order[item]
        unit, angle = units[index], starts[index] + (QUARTER if was_turned else 0.0)
        ring = turned_rings([corners_of(unit)], angle)[0]
        least = ring.min(axis=0)
        spots.append(
            Spot(
                unit,
                False,
                angle,
                left + growth + x - float(least[0]),
                low + growth + y - float(least[1]),
            )
        )
    return spots


def corners_of(unit: Unit) -> Ring:
    """The corners of a rectangle's outline as a ring."""
    (left, low), (right, high) = unit.shape.piece.outline.profiles[0].bounds
    return box_rings(float(left), float(low), float(right), float(high))[0]


def with_inside(shapes: Sequence[tuple[Shape, int]]) -> list[tuple[Unit, int]]:
    """The pass for holes: small pieces go into the holes of larger ones first, where they take no sheet.

    Pieces with small holes come first, so that a ring with discs in it may itself lie in a larger one.
    Returns units with how many there are of each; every piece is in exactly one.
    """
    left: dict[Unit, int] = {Unit(shape): count for shape, count in shapes if count > 0}
    hosts = [unit for unit in left if len(unit.shape.rings) > 1]
    hosts.sort(key=lambda unit: max(-polygon_area([r]) for r in unit.shape.rings[1:]))
    for host in hosts:
        while left.get(host, 0) > 0:
            others = {unit: n for unit, n in left.items() if unit is not host and n > 0}
            inside = filled_holes(host, others)
            if not inside:
                break
            used: dict[Unit, int] = {}
            for unit, _ in inside:
                used[unit] = used.get(unit, 0) + 1
            repeats = min(left[host], *(left[unit] // n for unit, n in used.items()))
            nested = tuple(one for _, ones in inside for one in ones)
            filled = Unit(host.shape, nested)
            left[host] -= repeats
            for unit, n in used.items():
                left[unit] -= n * repeats
            left[filled] = repeats
    return [(unit, n) for unit, n in left.items() if n > 0]


def filled_holes(host: Unit, others: Mapping[Unit, int]) -> list[tuple[Unit, list[Inside]]]:
    """What goes into the holes of a host, large pieces first: for each unit the pieces in it, in the host's
    coordinates."""
    counts = dict(others)
    result: list[tuple[Unit, list[Inside]]] = []
    for hole in host.shape.rings[1:]:
        ring = hole[::-1].copy()
        width, height = extent(ring)
        fitting = [
            unit
            for unit in counts
            if counts[unit] > 0
            and unit.room < polygon_area([ring])
            and min(extent(unit.shape.rings[0])) <= max(width, height)
        ]
        if not fitting:
            continue
        space = _FreeSpace([ring], max(max(width, height) / HOLE_CELLS, FINEST_CELL))
        for unit in sorted(fitting, key=lambda one: (-one.room, one.shape.piece.name)):
            # In the host's own frame: the direction of a grain is that of its x.
            variants = variants_of(Unit(unit.shape, unit.inside), None)
            while counts[unit] > 0:
                found = space.find([rings for _, _, rings in variants])
                if found is None:
                    break
                number, x, y = found
                mirrored, angle, _ = variants[number]
                spot = Spot(unit, mirrored, angle, x, y)
                for rings in unit.occupied(spot):
                    space.occupy(rings)
                counts[unit] -= 1
                result.append((unit, as_inside(spot)))
    return result


def as_inside(spot: Spot) -> list[Inside]:
    """The pieces of a unit as they lie in a host's coordinates."""
    return [Inside(one.shape, one.mirrored, one.angle, one.x, one.y) for one in placed_pieces(spot)]


def numbered(units: Iterable[tuple[Unit, int]]) -> list[tuple[Unit, int]]:
    """The same with their numbers, by which searches remember where there was no room."""
    return [
        (Unit(unit.shape, unit.inside, number), count) for number, (unit, count) in enumerate(units)
    ]
