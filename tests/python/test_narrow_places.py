"""Narrowest widths against closed forms and, on random outlines, against Shapely's negative buffers."""

from __future__ import annotations

import math
import os

import numpy as np
import planform as pf
import pytest
import shapely
import shapely.affinity
from random_outlines import circle, plate_with_holes, polygon, random_contour

LONG = os.environ.get("PLANFORM_LONG_TESTS") == "1"
"""The issue's 1,000 random outlines, instead of a share of them."""
OUTLINES = 1000 if LONG else 25
PLATES = 300 if LONG else 25

PLATE = polygon([(-50, -50), (50, -50), (50, 50), (-50, 50)])


def places_of(
    outer: pf.Contour, *holes: pf.Contour, at_most: float = 20.0, turn: float = 0.0
) -> list[pf.NarrowPlace]:
    cosine, sine = math.cos(turn), math.sin(turn)
    matrix = np.array([[cosine, -sine, 3.0], [sine, cosine, -7.0], [0.0, 0.0, 1.0]])
    moved = [
        pf.Contour([curve.transformed(matrix) for curve in contour.curves])
        for contour in (outer, *holes)
    ]
    return pf.narrow_places(pf.ProfileSet([pf.Profile(moved[0], moved[1:])]), at_most)


def slot(half: float, radius: float) -> pf.Contour:
    return pf.Contour(
        [
            pf.Line((-half, -radius), (half, -radius)),
            pf.Arc((half, 0), radius, -math.pi / 2, math.pi),
            pf.Line((half, radius), (-half, radius)),
            pf.Arc((-half, 0), radius, math.pi / 2, math.pi),
        ]
    )


def star(points: int, outer: float, inner: float) -> pf.Contour:
    radii = [outer, inner]
    return polygon(
        [
            (
                radii[k % 2] * math.cos(k * math.pi / points),
                radii[k % 2] * math.sin(k * math.pi / points),
            )
            for k in range(2 * points)
        ]
    )


def arc_slot(radius: float, width: float, sweep: float) -> pf.Contour:
    """A slot along an arc about the origin, with round ends."""
    inner, outer = radius - width / 2, radius + width / 2
    end = (radius * math.cos(sweep), radius * math.sin(sweep))
    return pf.Contour(
        [
            pf.Arc((0, 0), outer, 0.0, sweep),
            pf.Arc(end, width / 2, sweep, math.pi),
            pf.Arc((0, 0), inner, sweep, -sweep),
            pf.Arc((radius, 0), width / 2, math.pi, math.pi),
        ]
    )


def spline_channel(middle: float, bulge: float, length: float) -> pf.Contour:
    """Two cubic walls y = +-(middle + bulge (x / length)^2), closed by straight ends: narrowest at x = 0.

    A parabola is a cubic Bezier curve with its third difference nought."""

    def wall(sign: float) -> pf.Spline:
        high = sign * (middle + bulge)
        low = sign * (middle - bulge)
        # Quadratic with poles (high, low, high); raised to a cubic.
        third = (high + 2 * low) / 3
        poles = [(-length, high), (-length / 3, third), (length / 3, third), (length, high)]
        return pf.Spline(3, [0, 0, 0, 0, 1, 1, 1, 1], poles)

    lower = wall(-1.0)
    upper = wall(1.0).reversed()
    return pf.Contour(
        [
            lower,
            pf.Line((length, -middle - bulge), (length, middle + bulge)),
            upper,
            pf.Line((-length, middle + bulge), (-length, -middle - bulge)),
        ]
    )


TURNS = (0.0, 0.3, 2.0)


@pytest.mark.parametrize("turn", TURNS)
@pytest.mark.parametrize(
    ("hole", "width", "center"),
    [
        (circle((4, 5), 3.0), 6.0, (4, 5)),  # a circle: its diameter
        (pf.Contour([pf.EllipticalArc((1, 2), (5, 0), 0.4)]), 4.0, (1, 2)),  # the minor axis
        (slot(6.0, 1.5), 3.0, (0, 0)),
        (polygon([(0, 0), (20, 0), (20, 2), (0, 2)]), 2.0, (10, 1)),
        # The inscribed circle of an equilateral triangle: side / (2 sqrt 3).
        (polygon([(0, 0), (6, 0), (3, 3 * math.sqrt(3))]), 6 / math.sqrt(3), (3, math.sqrt(3))),
        # Five inner corners at 2 mm from the middle.
        (star(5, 5.0, 2.0), 4.0, (0, 0)),
        (arc_slot(20.0, 2.5, 1.2), 2.5, (20 * math.cos(0.6), 20 * math.sin(0.6))),
        (spline_channel(1.5, 2.0, 12.0), 3.0, (0, 0)),
    ],
    ids=["circle", "ellipse", "slot", "rectangle", "triangle", "star", "arc slot", "channel"],
)
def test_width_of_a_hole(
    turn: float, hole: pf.Contour, width: float, center: tuple[float, float]
) -> None:
    inner = [place for place in places_of(PLATE, hole, turn=turn) if place.kind == "inner"]
    assert [place.width for place in inner] == pytest.approx([width], abs=1e-8)
    cosine, sine = math.cos(turn), math.sin(turn)
    there = (cosine * center[0] - sine * center[1] + 3, sine * center[0] + cosine * center[1] - 7)
    # Along walls that are parallel the middle stands for all, to within some chords.
    assert inner[0].center == pytest.approx(there, abs=0.5 if len(hole.curves) == 4 else 1e-2)
    assert inner[0].sides == ((0, 1), (0, 1))


@pytest.mark.parametrize("turn", TURNS)
def test_webs(turn: float) -> None:
    apart = math.hypot(8, 1)
    web = [
        p
        for p in places_of(PLATE, circle((-4, 0), 2), circle((4, 1), 2.5), turn=turn)
        if p.kind == "web"
    ]
    assert [p.width for p in web] == pytest.approx([apart - 4.5], abs=1e-9)  # d - r1 - r2
    assert web[0].sides == ((0, 1), (0, 2))
    edge = places_of(PLATE, circle((-44, 3), 4), at_most=5, turn=turn)
    assert [(p.kind, round(p.width, 8)) for p in edge] == [("web", 2.0)]  # 50 - 44 - 4
    assert edge[0].sides == ((0, 0), (0, 1))
    # A ring between circles whose centres are 0.5 mm apart is narrowest where they point.
    ring = places_of(circle((0, 0), 10), circle((0.5, 0), 8), at_most=5, turn=turn)
    assert [(p.kind, round(p.width, 8)) for p in ring] == [("web", 1.5)]
    ellipse = pf.Contour([pf.EllipticalArc((0, 0), (0, 6), 0.5)])
    web = [
        p
        for p in places_of(PLATE, ellipse, circle((8, 0), 3), at_most=4, turn=turn)
        if p.kind == "web"
    ]
    assert [p.width for p in web] == pytest.approx([2.0], abs=1e-9)  # 8 - 3 - 3


@pytest.mark.parametrize("turn", TURNS)
def test_necks(turn: float) -> None:
    angle = polygon([(0, 0), (30, 0), (30, 5), (6, 5), (6, 30), (0, 30)])
    assert [(p.kind, round(p.width, 8)) for p in places_of(angle, at_most=8, turn=turn)] == [
        ("neck", 5.0),
        ("neck", 6.0),
    ]
    # Two notches from opposite sides, 3 mm and 4 mm apart in x and y: the neck is the hypotenuse.
    lower = [(0, 0), (20, 0), (20, 8), (21, 8), (21, 0), (40, 0)]
    upper = [(40, 20), (25, 20), (25, 12), (24, 12), (24, 20), (0, 20)]
    zigzag = polygon(lower + upper)
    necks = [p for p in places_of(zigzag, at_most=5.5, turn=turn) if p.kind == "neck"]
    assert [p.width for p in necks] == pytest.approx([5.0], abs=1e-9)


def test_sharp_corners_are_no_narrow_places() -> None:
    wedge = polygon([(0, 0), (30, 0), (30, 20), (16, 20), (15.5, 5), (15, 20), (0, 20)])
    assert places_of(wedge, at_most=3) == []
    assert places_of(polygon([(0, 0), (40, 0), (0, 9)]), at_most=5) == []


def test_a_notch_that_opens_counts_at_its_bottom() -> None:
    # Walls that lean by 1:75 on both sides of a flat bottom of 1 mm: the disc that touches all three
    # has the radius r with r / tan(45 degrees - lean / 2) = 1/2 (half angle at the bottom's corners).
    notch = polygon(
        [(0, 0), (30, 0), (30, 20), (15.7, 20), (15.5, 5), (14.5, 5), (14.3, 20), (0, 20)]
    )
    lean = math.atan(0.2 / 15)
    radius = 0.5 * math.tan((math.pi / 2 + lean) / 2)
    places = places_of(notch, at_most=3)
    assert [(p.kind, p.sides) for p in places] == [("inner", ((0, 0), (0, 0)))]
    assert places[0].width == pytest.approx(2 * radius, abs=1e-9)
    assert places[0].center == pytest.approx((18, -2 + radius), abs=1e-9)


def buffered(area: shapely.Polygon, inward: float, chords: int = 64) -> int:
    """Number of pieces left of an area after an inward offset, with so many chords a quarter turn."""
    rest = area.buffer(-inward, quad_segs=chords)
    return 0 if rest.is_empty else len(shapely.get_parts(rest))


def first_event(area: shapely.Polygon) -> float:
    """Twice the least inward offset at which an area falls apart or vanishes, as far as 120 steps tell."""
    low, high = 0.0, 0.51 * min(area.bounds[2] - area.bounds[0], area.bounds[3] - area.bounds[1])
    for step in np.linspace(low, high, 120)[1:]:
        if buffered(area, step) != 1:
            high = step
            break
        low = step
    if buffered(area, high) == 0:
        # GEOS drops the last triangle of an area too early; it has an inscribed circle of its own.
        return 2 * float(shapely.maximum_inscribed_circle(area, 1e-4).length)
    while high - low > 1e-5:
        middle = 0.5 * (low + high)
        if buffered(area, middle) == 1:
            low = middle
        else:
            high = middle
    return 2 * low


def is_notch(place: pf.NarrowPlace) -> bool:
    """Bottoms of notches are no event of the offset."""
    if len(place.touching) < 3:
        return False
    angles = np.sort(np.arctan2(*(place.touching - place.center).T[::-1]))
    return float(np.max(np.diff(np.append(angles, angles[0] + 2 * math.pi)))) > math.pi + 1e-5


def test_random_outlines_against_negative_buffers() -> None:
    # Oracle: GEOS' buffer of chords of 2e-4 mm; its own arcs stray by r (1 - cos(pi / 256)), 1e-3 mm.
    bound = 4e-3
    compared = 0
    for seed in range(OUTLINES):
        contour = random_contour(np.random.default_rng(seed))
        area = shapely.Polygon(contour.points(2e-4))
        places = places_of(contour, at_most=40.0)
        widths = [p.width for p in places if p.kind == "neck" and not is_notch(p)]
        event = first_event(area)
        if min(widths) < event - bound:
            # One of the halves vanishes at once: too short for the steps, so look closely.
            fine = shapely.Polygon(contour.points(1e-6))
            counts = {buffered(fine, min(widths) / 2 + d, 2000) for d in (1e-5, 1e-4, 1e-3, 4e-3)}
            assert counts != {1}, (seed, event, widths)
        else:
            assert min(widths) == pytest.approx(event, abs=bound), (seed, event, widths)
        for place in places:
            if place.kind == "neck":
                center = shapely.Point(place.center)
                moved = shapely.affinity.translate(area, 3.0, -7.0)
                assert 2 * moved.exterior.distance(center) == pytest.approx(place.width, abs=1e-3)
        compared += len(widths)
    assert compared >= OUTLINES


def test_random_plates_against_distances() -> None:
    # Oracle: GEOS' distance between chords of 1e-4 mm, for the least web and of each pair.
    webs = 0
    for seed in range(PLATES):
        plate = plate_with_holes(np.random.default_rng(seed), 8)
        profile = plate.profiles[0]
        rings = [
            shapely.LinearRing(contour.points(1e-4)) for contour in [profile.outer, *profile.holes]
        ]
        least: dict[tuple[int, int], float] = {}
        for place in pf.narrow_places(plate, 12.0):
            if place.kind == "web":
                pair = (place.sides[0][1], place.sides[1][1])
                least.setdefault((min(pair), max(pair)), place.width)
        distances = {
            (i, j): rings[i].distance(rings[j])
            for i in range(len(rings))
            for j in range(i + 1, len(rings))
        }
        nearest = {
            i: min(d for pair, d in distances.items() if i in pair) for i in range(len(rings))
        }
        for (i, j), width in least.items():
            assert width > distances[i, j] - 3e-4, (seed, i, j)
        for (i, j), distance in distances.items():
            # The nearest neighbour of a contour is one that nothing lies in between of.
            if distance < 11.9 and distance == min(nearest[i], nearest[j]):
                assert least[i, j] == pytest.approx(distance, abs=3e-4), (seed, i, j)
                webs += 1
    assert webs > 2 * PLATES
