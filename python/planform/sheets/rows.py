"""Several equal sheets as one strip: they stand in a row with walls between, and one search fills them all.

The walls are teeth of one piece more, a *comb*: a bar below the sheets, a tooth after each but the last, as
high as the strip, so that it can't move up or down. The search moves pieces from sheet to sheet as it moves
them about on one. The last sheet has no wall at its end: the strip gets shorter as that one gets emptier.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy

from planform.sheets.fill import Filling
from planform.sheets.one_strip import TRACE, Sides, Strip, moved, search_ring
from planform.sheets.patterns import Counts
from planform.sheets.search import StripItem, StripPlace, StripResult
from planform.sheets.shapes import Room, Spot

WALL = 0.05
"""Thickness of walls and bar as a share of a sheet's shorter side: thick enough for the search to tell how
deep something lies in them."""
PLAY = 5e-5
"""By so much of a sheet's height the comb is lower than the strip: places are tried at random, and none is
found for what fits exactly. What reaches over a tooth there is taken off again."""


@dataclass(frozen=True, eq=False)
class Row:
    """``number`` sheets of one plain room in a row, the last of them open; along x or, ``is_across``, y."""

    room: Room
    number: int
    is_across: bool = False

    @property
    def strip(self) -> Strip:
        """One of the sheets."""
        return Strip(self.room, self.is_across)

    @property
    def wall(self) -> float:
        """Thickness of walls and bar, mm."""
        return WALL * min(self.room.width, self.room.height)

    @property
    def step(self) -> float:
        """From a sheet to the next, mm."""
        return self.strip.width + self.wall

    @property
    def height(self) -> float:
        """Of the strip, mm."""
        return self.strip.height + self.wall

    @property
    def closed(self) -> float:
        """Length of the strip up to the last wall's end, mm: it can't be shorter."""
        return (self.number - 1) * self.step

    def width(self, last: float) -> float:
        """Length of the strip with so much (mm) of the last sheet in it."""
        return self.closed + last

    @property
    def comb(self) -> StripItem:
        """The walls as a piece of the search."""
        wall, top = self.wall, self.wall + (1 - PLAY) * self.strip.height
        corners = [(0.0, 0.0), (self.closed, 0.0)]
        for end in (i * self.step for i in range(self.number - 1, 0, -1)):
            if end < self.closed:
                corners.append((end, wall))
            corners += [(end, top), (end - wall, top), (end - wall, wall)]
        return StripItem((*corners, (0.0, wall)), 1, (0.0,))

    def items(self, offer: Sides) -> tuple[StripItem, ...]:
        """The pieces of the search."""
        return (self.comb, *(self.strip.item(*one) for one in offer))

    def taken(self, offer: Sides, result: StripResult) -> list[Filling]:
        """What of a strip lies on each of the sheets; what lies on none is left out."""
        comb = next(place for place in result.places if place.item == 0)
        axis = 1 if self.is_across else 0
        slack = TRACE * self.number * max(self.room.width, self.room.height)
        spots: list[list[Spot]] = [[] for _ in range(self.number)]
        for place in result.places:
            if place.item == 0:
                continue
            there = StripPlace(place.item, place.angle, place.x - comb.x, place.y - self.wall)
            spot = self.strip.spot(there, *offer[place.item - 1][:2])
            ring = search_ring(spot)
            low, high = float(numpy.min(ring[:, axis])), float(numpy.max(ring[:, axis]))
            number = math.floor((low + high) / 2 / self.step)
            start = number * self.step
            if number in range(self.number) and (
                low >= start - slack and high <= start + self.strip.width + slack
            ):
                spots[number] += moved([spot], *((0.0, -start) if axis else (-start, 0.0)))
        return [self.filling(ones) for ones in spots]

    def filling(self, spots: Sequence[Spot]) -> Filling:
        """A sheet with these on it, which still lie where they lay in the row's first."""
        filling = Filling(self.room)
        if not spots:
            return filling
        left, low, right, _ = self.room.box
        there = moved(spots, *((right, low) if self.is_across else (left, low)))
        rings = numpy.vstack([search_ring(spot) for spot in there])
        least, most = rings.min(axis=0), rings.max(axis=0)
        # Rounding may have them a trace too far on one side.
        shift = [within(self.room.box, axis, least[axis], most[axis]) for axis in (0, 1)]
        for spot in self.strip.pushed_apart(moved(there, *shift), is_closed=True):
            filling.accept(spot)
        return filling


def within(box: tuple[float, float, float, float], axis: int, least: float, most: float) -> float:
    """The least move along an axis that brings what reaches from ``least`` to ``most`` (mm) into a box, or
    its middle to that of the box where it is longer."""
    low, high = box[axis], box[2 + axis]
    if most - least > high - low:
        return float((low + high) / 2 - (least + most) / 2)
    return float(max(low - least, 0.0) + min(high - most, 0.0))


def missing(counts: Counts, fillings: Sequence[Filling]) -> Counts:
    """What of these lies on none of the sheets."""
    rest = dict(counts)
    for filling in fillings:
        for spot in filling.spots:
            rest[spot.unit] -= 1
    return {unit: n for unit, n in rest.items() if n > 0}
