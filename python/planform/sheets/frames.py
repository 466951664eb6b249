"""Rooms that are no rectangles, made ready for a search that knows nothing but strips.

What is not free of a room's box, with walls around, is one piece more: a *frame* as large as the strip, which
therefore stays where it is, with all others in it. The library knows no holes: a slit through the wall makes
the frame a polygon without any, bridges join to it what stands free in the room. What that costs in room is
filled afterwards.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy
from shapely import make_valid
from shapely.geometry import LineString, MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points, unary_union

from planform.sheets.search import StripItem
from planform.sheets.shapes import Ring, Rings, Room

WALL = 0.05
"""Of walls, as a share of the room's size: thick enough for the search to tell how deep something lies in
them."""
PLAY = 0.02
"""By so much the strip is larger than the frame: the library tries places at random and finds none for what
fits exactly."""
NARROW = 2e-4
"""Width of slits and bridges as a share of the room's size: well above single precision."""
FEWER = 4e-4
"""The room is made smaller by so much of its size, for fewer corners and for rounding."""


@dataclass(frozen=True, eq=False)
class Frame:
    """The frame of a room: a ring in the room's coordinates, mm."""

    ring: Ring

    @property
    def width(self) -> float:
        """Of the strip that it stands in with play, mm."""
        return (1 + PLAY) * float(numpy.ptp(self.ring[:, 0]))

    @property
    def height(self) -> float:
        """mm."""
        return (1 + PLAY) * float(numpy.ptp(self.ring[:, 1]))

    @property
    def item(self) -> StripItem:
        """As the search takes it."""
        return StripItem(tuple((float(x), float(y)) for x, y in self.ring), 1, (0.0,))


def frame_of(room: Room) -> Frame | None:
    """The frame of a room; None if the room has too odd a shape for one."""
    size = max(room.width, room.height)
    free = unary_union([polygon(rings) for rings in room.outlines])
    if room.obstacles:
        free = free.difference(unary_union([polygon(rings) for rings in room.obstacles]))
    free = free.buffer(-FEWER * size, join_style="mitre").simplify(0.9 * FEWER * size)
    left, low, right, high = room.box
    wall = WALL * size
    around = box(left - wall, low - wall, right + wall, high + wall)
    whole = slit(bridged(around.difference(free), NARROW * size), NARROW * size)
    if not isinstance(whole, Polygon) or whole.interiors or not whole.is_valid:
        return None
    ring = numpy.array(whole.exterior.coords)[:-1]
    return Frame(ring if whole.exterior.is_ccw else ring[::-1].copy())


def polygon(rings: Rings) -> BaseGeometry:
    """A polygon with holes."""
    return make_valid(Polygon(rings[0], rings[1:]))


def bridged(solid: BaseGeometry, width: float) -> BaseGeometry:
    """All parts joined to that with the longest edge, each by the shortest bridge."""
    parts = list(solid.geoms) if isinstance(solid, MultiPolygon) else [solid]
    parts.sort(key=lambda part: -part.length)
    whole = parts[0]
    for part in sorted(parts[1:], key=whole.distance):
        bridge = LineString(nearest_points(whole, part)).buffer(width / 2, cap_style="square")
        whole = unary_union([whole, part, bridge])
    return whole


def slit(solid: BaseGeometry, width: float) -> BaseGeometry:
    """The same without holes: from each a slit leads out the shortest way."""
    while isinstance(solid, Polygon) and solid.interiors:
        edge = solid.exterior
        hole = min(solid.interiors, key=edge.distance)
        way = LineString(nearest_points(hole, edge)).buffer(width / 2, cap_style="square")
        opened = solid.difference(way)
        if isinstance(opened, MultiPolygon):  # crumbs beside a slit
            opened = max(opened.geoms, key=lambda part: part.area)
        if not isinstance(opened, Polygon) or len(opened.interiors) >= len(solid.interiors):
            return solid
        solid = opened
    return solid
