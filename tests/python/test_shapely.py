"""Hand-over to Shapely and back: Shapely is the judge of areas, lengths and validity."""

from __future__ import annotations

import math

import numpy as np
import planform
import pytest
import shapely
import shapely.geometry
from planform import GeometryError, ProfileSet
from sample_sets import PLATE_AREA, PLATE_LENGTH, SAMPLES, one, parabola, plate


@pytest.mark.parametrize("tolerance", [0.1, 0.01, 0.0001])
def test_to_shapely_stays_within_tolerance(tolerance: float) -> None:
    polygons = plate().to_shapely(tolerance)
    assert polygons.is_valid
    assert len(polygons.geoms) == 2
    assert [len(polygon.interiors) for polygon in polygons.geoms] == [2, 0]
    assert abs(polygons.area - PLATE_AREA) < tolerance * PLATE_LENGTH
    assert abs(polygons.area - PLATE_AREA) > 0
    assert polygons.length < PLATE_LENGTH


def test_the_set_s_tolerance_is_the_default() -> None:
    profiles = ProfileSet(one(parabola(30, 9)).profiles, tolerance=0.05)
    assert profiles.to_shapely().equals_exact(profiles.to_shapely(0.05), 0)
    assert not profiles.to_shapely().equals_exact(profiles.to_shapely(0.001), 0)


@pytest.mark.parametrize("tolerance", [0, -1, math.nan, math.inf])
def test_tolerances_that_are_none(tolerance: float) -> None:
    with pytest.raises(GeometryError):
        plate().to_shapely(tolerance)


def test_polygons_come_back_exactly() -> None:
    outer = [(0, 0), (50, 0), (50, 40), (0, 40)]
    hole = [(10, 10), (30, 10), (30, 30), (10, 30)]
    island = shapely.box(15, 15, 20, 20)
    geometry = shapely.MultiPolygon([island, shapely.Polygon(outer, [hole])])
    profiles = ProfileSet.from_shapely(geometry, name="window", tolerance=0.5)
    assert profiles.area == geometry.area
    assert profiles.length == geometry.length
    assert [profile.parent for profile in profiles] == [1, -1]
    assert (profiles.name, profiles.tolerance) == ("window", 0.5)
    assert profiles.to_shapely().equals(geometry)
    assert ProfileSet.from_shapely(profiles.to_shapely()) == profiles


def test_nested_islands_have_the_nearest_parent() -> None:
    def frame(size: float, wall: float) -> shapely.Polygon:
        return shapely.box(-size, -size, size, size).difference(
            shapely.box(wall - size, wall - size, size - wall, size - wall)
        )

    nested = shapely.MultiPolygon(
        [frame(10, 1), frame(8, 1), frame(6, 1), shapely.box(20, 0, 21, 1)]
    )
    assert [p.parent for p in ProfileSet.from_shapely(nested)] == [-1, 0, 1, -1]


def test_direction_and_repeated_points_don_t_matter() -> None:
    ring = [(0, 0), (0, 10), (0, 10), (10, 10), (10, 0)]
    profiles = ProfileSet.from_shapely(shapely.Polygon(ring))
    assert profiles.area == 100
    assert len(profiles.profiles[0].outer) == 4
    with_height = shapely.Polygon([(0, 0, 5), (0, 10, 5), (10, 10, 5), (10, 0, 5)])
    assert ProfileSet.from_shapely(with_height) == profiles


def test_random_polygons_keep_area_and_length() -> None:
    generator = np.random.default_rng(20260101)
    compared = 0
    for _ in range(50):
        centers = generator.uniform(0, 100, (8, 2))
        union = shapely.union_all(
            [
                shapely.Point(c).buffer(r, 16)
                for c, r in zip(centers, generator.uniform(3, 20, 8), strict=True)
            ]
        )
        profiles = ProfileSet.from_shapely(union)
        assert profiles.area == pytest.approx(union.area, rel=1e-12)
        assert profiles.length == pytest.approx(union.length, rel=1e-12)
        assert profiles.bounds.ravel() == pytest.approx(union.bounds, abs=0)
        compared += len(profiles)
    assert compared > 50


def test_geo_interface() -> None:
    mapping = plate().__geo_interface__
    assert mapping["type"] == "MultiPolygon"
    assert shapely.geometry.shape(mapping).equals(plate().to_shapely())
    assert ProfileSet().__geo_interface__["coordinates"] in ([], ())


def test_empty_geometry() -> None:
    for empty in (shapely.Polygon(), shapely.MultiPolygon(), shapely.GeometryCollection()):
        assert len(ProfileSet.from_shapely(empty)) == 0
    assert ProfileSet().to_shapely().is_empty


@pytest.mark.parametrize(
    ("geometry", "reason"),
    [
        (shapely.Point(0, 0), "Point"),
        (shapely.LineString([(0, 0), (1, 1)]), "LineString"),
        (shapely.GeometryCollection([shapely.box(0, 0, 1, 1), shapely.Point(5, 5)]), "Point"),
        (shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]), "Self-intersection"),
        ("POLYGON EMPTY", "str"),
        (None, "NoneType"),
    ],
)
def test_what_is_no_outline_is_refused(geometry: object, reason: str) -> None:
    with pytest.raises(planform.GeometryError, match=reason) as caught:
        ProfileSet.from_shapely(geometry)
    assert caught.value.kind == "invalid_argument"


def test_circle_s_polygon_lies_within_tolerance_of_the_circle() -> None:
    ring = SAMPLES["circle"]
    (polygon,) = one(ring.contour).to_shapely(0.01).geoms
    distances = np.hypot(*(np.array(polygon.exterior.coords) - (7, -3)).T)
    assert np.abs(distances - 2.5).max() <= 0.01
    assert shapely.Point(7, -3).distance(polygon.exterior) >= 2.5 - 0.01
