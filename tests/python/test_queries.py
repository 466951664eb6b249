"""What lies where: contains, distance and nearest against closed forms and against Shapely on fine chords;
centroid, moments, hull and smallest rectangle against closed forms and Shapely.

10^5 points run by default, 10^6 with PLANFORM_LONG_TESTS=1."""

from __future__ import annotations

import math
import os
from collections.abc import Callable

import numpy as np
import planform
import pytest
import sample_sets as sample
import shapely
from planform import Arc, Contour, GeometryError, Line, Profile, ProfileSet
from random_outlines import plate_with_holes

LONG = os.environ.get("PLANFORM_LONG_TESTS") == "1"
POINTS = 1_000_000 if LONG else 100_000
CHORD = 1e-5
"""mm: Shapely's polygons stray so far from the curves."""


def chords(outline: ProfileSet) -> shapely.MultiPolygon:
    return outline.to_shapely(CHORD)


def scattered(outline: ProfileSet, count: int, seed: int = 1) -> np.ndarray:
    lower, upper = outline.bounds
    margin = 0.2 * (upper - lower)
    generator = np.random.default_rng(seed)
    return generator.uniform(lower - margin, upper + margin, (count, 2))


def random_sets() -> list[ProfileSet]:
    generator = np.random.default_rng(23)
    return [plate_with_holes(generator, int(generator.integers(1, 30))) for _ in range(6)]


def test_disc_in_closed_form() -> None:
    disc = ProfileSet([Profile(Contour([Arc((3, -2), 10)]))])
    points = scattered(disc, POINTS)
    radius = np.hypot(points[:, 0] - 3, points[:, 1] + 2)
    assert np.array_equal(disc.contains(points), radius <= 10)
    np.testing.assert_allclose(disc.distance(points), np.abs(radius - 10), rtol=0, atol=1e-12)
    places = disc.nearest(points[:1000])
    on_circle = np.hypot(places.points[:, 0] - 3, places.points[:, 1] + 2)
    np.testing.assert_allclose(on_circle, 10, rtol=1e-14)
    np.testing.assert_allclose(
        np.linalg.norm(places.points - points[:1000], axis=1), places.distance, atol=1e-12
    )


def test_rectangle_in_closed_form() -> None:
    """Outside the distance of the nearest corner or side, inside that of the nearest side."""
    box = ProfileSet([Profile(sample.polygon((-4, -3), (4, -3), (4, 3), (-4, 3)))])
    points = scattered(box, POINTS)
    q = np.abs(points) - (4, 3)
    signed = np.linalg.norm(np.maximum(q, 0), axis=1) + np.minimum(q.max(axis=1), 0)
    assert np.array_equal(box.contains(points), signed <= 0)
    np.testing.assert_allclose(box.distance(points), np.abs(signed), rtol=0, atol=1e-14)


def test_ellipse_and_parabola_in_closed_form() -> None:
    egg = ProfileSet([Profile(sample.half_ellipse(12, 4))])
    points = scattered(egg, POINTS // 10)
    x, y = points.T
    inside = (x / 12) ** 2 + (y / 4) ** 2 - 1
    half = egg.bounds
    along = np.array([half[0] - 1e-9, half[1] + 1e-9])
    within = ((points >= along[0]) & (points <= along[1])).all(axis=1)
    assert np.array_equal(egg.contains(points), (inside <= 0) & within)
    bowl = ProfileSet([Profile(sample.parabola(20, 5))])
    lower, upper = bowl.bounds
    points = scattered(bowl, POINTS // 10)
    # Steiner: a parabola's area is two thirds of its box.
    share = bowl.contains(np.random.default_rng(5).uniform(lower, upper, (POINTS, 2))).mean()
    assert share == pytest.approx(2 / 3, abs=4 / math.sqrt(POINTS))


@pytest.mark.parametrize("number", range(6))
def test_random_sets_against_shapely(number: int) -> None:
    outline = random_sets()[number]
    judge = chords(outline)
    shapely.prepare(judge)
    count = POINTS // 6
    points = scattered(outline, count, number)
    near = on_the_outline(outline, count // 4)
    points = np.vstack([points, near])
    inside = outline.contains(points)
    distance = outline.distance(points)
    expected = shapely.contains_xy(judge, points[:, 0], points[:, 1])
    differs = inside != expected
    # The judge's chords stray: beside the curve it can't tell.
    assert (distance[differs] <= 2 * CHORD).all()
    assert differs.mean() < 0.2
    assert 0.05 < inside.mean() < 0.95
    asked = points[:: max(1, len(points) // 3000)]
    boundary = shapely.boundary(judge)
    np.testing.assert_allclose(
        outline.distance(asked),
        shapely.distance(boundary, shapely.points(asked)),
        rtol=0,
        atol=1.01 * CHORD,
    )


def on_the_outline(outline: ProfileSet, count: int) -> np.ndarray:
    """Within a few hundredths of the outline, on both sides."""
    chord = np.vstack([c.points(0.05) for p in outline for c in (p.outer, *p.holes)])
    generator = np.random.default_rng(3)
    return generator.choice(chord, count) + generator.normal(0, 0.02, (count, 2))


def test_nearest_names_the_curve_and_the_place() -> None:
    for outline in random_sets()[:3]:
        points = scattered(outline, 400)
        places = outline.nearest(points)
        np.testing.assert_allclose(places.distance, outline.distance(points), rtol=0, atol=1e-12)
        for i in range(len(points)):
            profile = outline[int(places.profile[i])]
            number = int(places.contour[i])
            contour = profile.outer if number == 0 else profile.holes[number - 1]
            curve = contour[int(places.curve[i])]
            place = curve.point_at(float(places.parameter[i]))
            np.testing.assert_allclose(place, places.points[i], atol=1e-8)
        others = np.vstack([c.points(1e-3) for p in outline for c in (p.outer, *p.holes)])
        for point, distance in zip(points[:50], places.distance[:50], strict=True):
            assert distance <= np.linalg.norm(others - point, axis=1).min() + 1e-12


def test_the_outline_belongs_to_the_material() -> None:
    """Each end and middle of each curve, whatever its kind, and wherever the outline lies."""
    for outline in (*random_sets(), sample.plate(), sample.one(sample.rational_disc(7))):
        for moved in (outline, outline.rotated(0.7).moved((1e4, -3e4))):
            for profile in moved:
                for contour in (profile.outer, *profile.holes):
                    places = [
                        curve.point_at(first + t * (last - first))
                        for curve in contour
                        for first, last in [curve.domain]
                        for t in (0, 0.25, 0.5, 1)
                    ]
                    assert moved.contains(places).all()
                    assert (moved.distance(places) < 1e-9).all()


def test_points_on_a_level_with_corners_and_chords() -> None:
    """Where a ray runs through corners, along edges and through the middle of arcs."""
    lattice = np.stack(np.meshgrid(np.arange(-6.0, 6.5, 0.5), np.arange(-6.0, 6.5, 0.5)), -1)
    star = sample.polygon(
        (0, 5), (-1, 1), (-5, 1), (-2, -1), (-3, -5), (0, -2), (3, -5), (2, -1), (5, 1), (1, 1)
    )
    cross = sample.polygon(
        (1, 5), (-1, 5), (-1, 1), (-5, 1), (-5, -1), (-1, -1), (-1, -5), (1, -5), (1, -1), (5, -1),
        (5, 1), (1, 1),
    )  # fmt: skip
    disc = Contour([Arc((0, 0), 5)])
    for contour in (star, cross, disc, disc.reversed()):
        outline = ProfileSet([Profile(contour)])
        judge = chords(outline)
        expected = shapely.intersects_xy(judge, lattice[..., 0], lattice[..., 1])
        found = outline.contains(lattice)
        assert found.shape == lattice.shape[:2]
        differs = found != expected
        assert (outline.distance(lattice)[differs] < CHORD).all()
        if contour is not disc and contour != disc.reversed():
            assert not differs.any()


def test_arrays_of_any_shape_and_bad_points() -> None:
    disc = ProfileSet([Profile(Contour([Arc((0, 0), 5)]))])
    index = planform.OutlineIndex(disc)
    for outline in (disc, index):
        assert bool(outline.contains((1, 2))) is True
        assert outline.contains((1, 2)).shape == ()
        assert outline.distance(np.zeros((0, 2))).shape == (0,)
        assert outline.distance(np.zeros((3, 4, 2))).shape == (3, 4)
        assert outline.nearest(np.zeros((3, 4, 2))).points.shape == (3, 4, 2)
        with pytest.raises(GeometryError, match="point 1 is not finite"):
            outline.contains([(0, 0), (math.nan, 0)])
        with pytest.raises(GeometryError, match="points"):
            outline.distance([1, 2, 3])
    assert index.profile_set == disc
    nothing = ProfileSet()
    assert not nothing.contains((0, 0))
    assert nothing.distance((0, 0)) == math.inf
    assert nothing.nearest([(0, 0)]).profile.tolist() == [-1]
    assert nothing.convex_hull() == nothing
    assert np.isnan(nothing.centroid).all() and np.isnan(nothing.smallest_rectangle).all()


def test_islands_and_holes() -> None:
    ring = Profile(Contour([Arc((0, 0), 10)]), [Contour([Arc((0, 0), 6)])])
    island = Profile(Contour([Arc((0, 0), 2)]), parent=0)
    target = ProfileSet([ring, island])
    assert target.contains([(0, 0), (4, 0), (8, 0), (11, 0)]).tolist() == [True, False, True, False]
    places = target.nearest([(3.5, 0), (5, 0), (0, 9)])
    assert places.profile.tolist() == [1, 0, 0]
    assert places.contour.tolist() == [0, 1, 0]


# Moments of area: J. M. Gere, B. J. Goodno, "Mechanics of Materials", appendix on properties of plane areas
# (from memory).
MOMENTS: list[tuple[Callable[[], Contour], float, float]] = [
    (lambda: sample.polygon((0, 0), (8, 0), (8, 3), (0, 3)), 3 * 8**3 / 12, 8 * 3**3 / 12),
    (lambda: sample.polygon((0, 0), (6, 0), (0, 4)), 4 * 6**3 / 36, 6 * 4**3 / 36),
    (lambda: Contour([Arc((7, 9), 5)]), math.pi * 5**4 / 4, math.pi * 5**4 / 4),
    (
        lambda: Contour([planform.EllipticalArc((7, 9), (5, 0), 0.4)]),
        math.pi * 5**3 * 2 / 4,
        math.pi * 5 * 2**3 / 4,
    ),
    (lambda: sample.rational_disc(5), math.pi * 5**4 / 4, math.pi * 5**4 / 4),
]


@pytest.mark.parametrize("number", range(len(MOMENTS)))
@pytest.mark.parametrize("far", [0.0, 1e5])
def test_moments_in_closed_form(number: int, far: float) -> None:
    make, along_x, along_y = MOMENTS[number]
    outline = sample.one(make()).moved((far, -far))
    moments = outline.area_moments
    assert moments[0, 0] == pytest.approx(along_x, rel=1e-12 if not far else 1e-9)
    assert moments[1, 1] == pytest.approx(along_y, rel=1e-12 if not far else 1e-9)
    assert moments[0, 1] == moments[1, 0]


def test_centroid_of_half_a_disc_and_of_a_parabola() -> None:
    """Archimedes: 4 r / 3 pi above the diameter; two fifths of the height above a parabola's chord."""
    half = Contour([Arc((0, 0), 6, 0, math.pi), Line((-6, 0), (6, 0))])
    np.testing.assert_allclose(
        sample.one(half).centroid, (0, 4 * 6 / (3 * math.pi)), rtol=0, atol=1e-14
    )
    bowl = sample.one(sample.parabola(20, 5))
    (x0, y0), (x1, y1) = bowl.bounds
    share = (bowl.centroid[1] - y0) / (y1 - y0)
    assert min(share, 1 - share) == pytest.approx(2 / 5, rel=1e-13)
    assert bowl.centroid[0] == pytest.approx((x0 + x1) / 2, abs=1e-13)


def test_moments_of_random_sets_against_shapely() -> None:
    for outline in random_sets():
        judge = chords(outline)
        # Chords that stray move the centroid by no more than this share of the strip's first moment.
        lower, upper = outline.bounds
        slack = CHORD * outline.length * float(np.linalg.norm(upper - lower)) / outline.area
        expected = shapely.get_coordinates(judge.centroid)[0]
        np.testing.assert_allclose(outline.centroid, expected, rtol=0, atol=slack)
        # A law: the trace does not depend on how the set is turned, and rotation by 90 degrees swaps.
        turned = outline.rotated(0.4).area_moments
        assert np.trace(turned) == pytest.approx(np.trace(outline.area_moments), rel=1e-11)
        assert np.linalg.det(turned) == pytest.approx(np.linalg.det(outline.area_moments), rel=1e-9)


def test_hulls() -> None:
    discs = [Profile(Contour([Arc((x, y), 2)])) for x, y in ((0, 0), (20, 0), (20, 15))]
    hull = ProfileSet(discs, tolerance=0.001).convex_hull()
    # Steiner's formula: a convex set grown by r has area + perimeter r + pi r^2.
    area, perimeter = 20 * 15 / 2, 20 + 15 + 25
    assert hull.area == pytest.approx(area + 2 * perimeter + math.pi * 4, abs=0.001 * hull.length)
    assert hull.length == pytest.approx(perimeter + 2 * math.pi * 2, rel=1e-4)
    kinds = [type(curve).__name__ for curve in hull[0].outer]
    assert sorted(kinds) == ["Arc"] * 3 + ["Line"] * 3
    assert ProfileSet(discs[:1]).convex_hull() == ProfileSet(discs[:1])
    for outline in random_sets():
        hull = outline.convex_hull()
        judge = chords(outline).convex_hull
        assert hull.area == pytest.approx(judge.area, abs=outline.tolerance * hull.length)
        assert hull.to_shapely(CHORD).hausdorff_distance(judge) < 2 * outline.tolerance
        assert hull.convex_hull().area == pytest.approx(hull.area, rel=1e-4)


def test_smallest_rectangles() -> None:
    bar = sample.one(sample.polygon((0, 0), (30, 0), (30, 7), (0, 7))).rotated(0.4, (3, 4))
    corners = bar.smallest_rectangle
    assert shapely.Polygon(corners).area == pytest.approx(210, rel=1e-9)
    assert np.linalg.norm(corners[1] - corners[0]) == pytest.approx(30, rel=1e-9)
    assert shapely.Polygon(corners).exterior.is_ccw
    for outline in random_sets():
        corners = outline.smallest_rectangle
        judge = shapely.minimum_rotated_rectangle(chords(outline))
        slack = outline.tolerance * judge.length
        assert shapely.Polygon(corners).area <= judge.area + slack
        assert shapely.Polygon(corners).buffer(outline.tolerance).contains(chords(outline))
