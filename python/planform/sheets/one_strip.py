"""A room as a strip that is searched: what goes into the search, and what its places are on the sheet."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy

from planform._planform import _separated
from planform.sheets.fill import Filling
from planform.sheets.frames import Frame
from planform.sheets.patterns import Counts
from planform.sheets.search import StripItem, StripPlace, StripResult
from planform.sheets.shapes import Ring, Room, Spot, Unit, extent, turned
from planform.sheets.values import QUARTER

TRACE = 1e-5
"""Overlaps up to this share of a sheet's size are rounding: the library counts in single precision, which
keeps 1e-7 of it."""
LONG = 1.5
"""A side that is so many times the other is the strip's: what lies beyond its end, and is lost, is then
little."""
Sides = list[tuple[Unit, bool, int]]
"""What a strip is searched for: units, turned over or not, and how many of each."""


@dataclass(frozen=True, eq=False)
class Strip:
    """A room as a strip.

    It runs along x, or ``is_across``, along y: then the sheet is turned by a quarter, clockwise. With a
    ``frame`` the strip is the frame's, which is its first piece.
    """

    room: Room
    is_across: bool = False
    frame: Frame | None = field(default_factory=lambda: None)

    @property
    def height(self) -> float:
        """Of the strip, mm."""
        if self.frame:
            return self.frame.height
        return self.room.width if self.is_across else self.room.height

    @property
    def width(self) -> float:
        """What of its length lies on the sheet, mm."""
        if self.frame:
            return self.frame.width
        return self.room.height if self.is_across else self.room.width

    def items(self, offer: Sides) -> tuple[StripItem, ...]:
        """The pieces of the search."""
        items = [self.item(unit, mirrored, n) for unit, mirrored, n in offer]
        return (*([self.frame.item] if self.frame else []), *items)

    def item(self, unit: Unit, mirrored: bool, demand: int) -> StripItem:
        """A unit as the search takes it."""
        angles = fitting_angles(unit, self.room, mirrored)
        back = QUARTER if self.is_across else 0.0
        degrees = None
        if angles is not None:
            degrees = tuple(math.degrees(angle - back) % 360.0 for angle in angles)
        ring = turned(unit.shape.search, 0.0, mirrored)
        return StripItem(tuple((float(x), float(y)) for x, y in ring), demand, degrees)

    def taken(self, offer: Sides, result: StripResult) -> Filling:
        """What of a strip lies on the sheet, pushed apart where single precision has it overlap."""
        room = self.room
        filling = Filling(room)
        axis = 1 if self.is_across else 0
        slack = 1e-9 * max(room.width, room.height)
        ends = [(end_of(spot, axis), i, spot) for i, spot in enumerate(self.spots(offer, result))]
        for end, _, spot in sorted(ends, key=lambda one: one[:2]):
            if end <= room.box[2 + axis] + slack:
                filling.accept(spot)
        return filling

    def spots(self, offer: Sides, result: StripResult) -> list[Spot]:
        """A strip's places on the sheet: its beginning at the sheet's left, or low end."""
        first = 1 if self.frame else 0
        spots = [
            self.spot(place, *offer[place.item - first][:2])
            for place in result.places
            if place.item >= first
        ]
        if self.frame:
            frame = next(place for place in result.places if place.item == 0)
            there = moved(spots, -frame.x, -frame.y)
            return self.pushed_apart([s for s in there if lies_within(search_ring(s), self.room)])
        left, low, right, _ = self.room.box
        rings = numpy.vstack([search_ring(spot) for spot in spots])
        least, most = rings.min(axis=0), rings.max(axis=0)
        if self.is_across:  # the strip's height runs from x = 0 to the left
            over = float(most[0] - least[0]) - self.room.width
            start = max(float(most[0]), 0.0) if over <= 0 else float(most[0]) - over / 2
            return self.pushed_apart(moved(spots, right - start, low - float(least[1])))
        over = float(most[1] - least[1]) - self.room.height
        start = min(float(least[1]), 0.0) if over <= 0 else float(least[1]) + over / 2
        return self.pushed_apart(moved(spots, left - float(least[0]), low - start))

    def spot(self, place: StripPlace, unit: Unit, mirrored: bool) -> Spot:
        """A place of a strip, turned as the sheet is; angles that are given exactly so, not to single
        precision."""
        x, y, angle = place.x, place.y, place.angle
        if self.is_across:
            x, y, angle = -y, x, angle + QUARTER
        angles = unit.angles(self.room.stock.grain)
        if angles is not None:
            wanted = angle
            angle = min(angles, key=lambda a: abs(math.remainder(a - wanted, 2 * math.pi)))
        return Spot(unit, mirrored, angle, x, y)

    def pushed_apart(self, spots: Sequence[Spot], is_closed: bool = False) -> list[Spot]:
        """The spots moved by as little as makes their polygons no longer overlap, where that is found; they
        may reach over the strip's end, unless it ``is_closed``."""
        left, low, right, high = self.room.box
        far = [right, high]
        if not is_closed:
            far[1 if self.is_across else 0] = math.inf
        if not spots:
            return []
        rings = [search_ring(spot) for spot in spots]
        size = max(self.room.width, self.room.height)
        apart = _separated(rings, [[left, low], far], 1e-9 * size)
        if apart is None:
            return list(spots)
        return [
            Spot(s.unit, s.mirrored, s.angle, s.x + float(dx), s.y + float(dy))
            for s, (dx, dy) in zip(spots, apart, strict=True)
        ]


def runs_across(room: Room, number: int) -> bool:
    """Does a strip run along y? Along the longer side; where none is much longer, every second does."""
    if room.stock.roll or not room.is_plain or room.width >= LONG * room.height:
        return False
    return room.height >= LONG * room.width or number % 2 == 1


def sides(choice: Counts, room: Room, source: random.Random) -> Sides:
    """Which of a choice are turned over, where they may be: about half of them, at random."""
    result: Sides = []
    for unit, n in choice.items():
        over = 0
        if unit.may_mirror and lies_in(unit, room, True):
            straight = lies_in(unit, room, False)
            over = sum(source.random() < 0.5 for _ in range(n)) if straight else n
        result += [(unit, side, m) for side, m in ((False, n - over), (True, over)) if m > 0]
    return result


def moved(spots: Sequence[Spot], x: float, y: float) -> list[Spot]:
    """All spots moved alike, mm."""
    return [Spot(s.unit, s.mirrored, s.angle, s.x + x, s.y + y) for s in spots]


def lies_within(ring: Ring, room: Room) -> bool:
    """Does a ring lie in the room's box, but for rounding?"""
    left, low, right, high = room.box
    slack = TRACE * max(room.width, room.height)
    least, most = ring.min(axis=0), ring.max(axis=0)
    return bool(
        least[0] >= left - slack
        and least[1] >= low - slack
        and most[0] <= right + slack
        and most[1] <= high + slack
    )


def search_ring(spot: Spot) -> Ring:
    """The search polygon of a unit where it lies."""
    ring: Ring = turned(spot.unit.shape.search, spot.angle, spot.mirrored)
    there: Ring = ring + numpy.array([spot.x, spot.y])
    return there


def end_of(spot: Spot, axis: int = 0) -> float:
    """The right end (the upper with axis 1) of the polygon that holds a placed unit, mm."""
    ring = turned(spot.unit.shape.rings[0], spot.angle, spot.mirrored)
    return float(numpy.max(ring[:, axis])) + (spot.y if axis else spot.x)


def fitting_angles(unit: Unit, room: Room, mirrored: bool = False) -> list[float] | None:
    """The turns with which a unit's box is no larger than the room's; None: any may be."""
    angles = unit.angles(room.stock.grain)
    if angles is None:
        return None
    return [angle for angle in angles if box_fits(unit, angle, room, mirrored)]


def box_fits(unit: Unit, angle: float, room: Room, mirrored: bool = False) -> bool:
    """Is a unit's box no larger than the room's, turned so?"""
    slack = 1e-9 * max(room.width, room.height)
    width, height = extent(turned(unit.shape.search, angle, mirrored))
    return width <= room.width + slack and height <= room.height + slack


def may_fit(unit: Unit, room: Room) -> bool:
    """False if a unit can't lie in the room in any way that it may be turned: its box is too large."""
    return lies_in(unit, room, False) or (unit.may_mirror and lies_in(unit, room, True))


def lies_in(unit: Unit, room: Room, mirrored: bool) -> bool:
    """The same for one of its sides."""
    angles = unit.angles(room.stock.grain)
    if angles is None:
        angles = [*unit.tried_angles(None), *(i * math.pi / 90 for i in range(90))]
    return any(box_fits(unit, angle, room, mirrored) for angle in angles)
