"""Outlines whose area and length are known in closed form, through the Python package."""

from __future__ import annotations

import math

import kernel_models as kernel
import numpy
import planform
import pytest
from scipy.special import ellipe

TILTS = [0.0, 0.1, math.pi / 6, 0.7853981, 1.2, math.pi / 2]


def seen_at(angle: float, turn: float = 0.3) -> planform.Datum:
    """A datum whose normal makes the angle with the z axis, towards the direction ``turn`` in xy."""
    return planform.Datum(
        origin=(1.0, -2.0, 3.0),
        normal=(
            math.sin(angle) * math.cos(turn),
            math.sin(angle) * math.sin(turn),
            math.cos(angle),
        ),
    )


def shadow(shape: object, datum: planform.Datum) -> planform.ProfileSet:
    return planform.silhouette(planform.from_ocp(shape), datum)


def test_box_in_general_position() -> None:
    sides = numpy.array([30.0, 20.0, 10.0])
    normal = numpy.array([0.3, -0.5, 0.8])
    normal /= numpy.linalg.norm(normal)
    outline = shadow(kernel.box(*sides), planform.Datum(origin=(0, 0, 0), normal=normal))
    # Each pair of faces shows one, foreshortened by the cosine between its normal and the view.
    area = sum(
        sides.prod() / side * abs(cosine) for side, cosine in zip(sides, normal, strict=True)
    )
    # The hexagon's sides are the projected edges, each twice.
    length = 2 * sum(
        side * math.sqrt(1 - cosine**2) for side, cosine in zip(sides, normal, strict=True)
    )
    assert outline.area == pytest.approx(area, rel=1e-9)
    assert outline.length == pytest.approx(length, rel=1e-9)
    assert len(outline.profiles[0].outer.curves) == 6


@pytest.mark.parametrize("angle", TILTS)
def test_cylinder(angle: float) -> None:
    radius, height = 7.0, 30.0
    outline = shadow(kernel.cylinder(radius, height), seen_at(angle))
    # Two half ellipses with the half-axes r and r cos(angle), and two lines h sin(angle) long.
    area = math.pi * radius**2 * math.cos(angle) + 2 * radius * height * math.sin(angle)
    length = 4 * radius * ellipe(math.sin(angle) ** 2) + 2 * height * math.sin(angle)
    assert outline.area == pytest.approx(area, rel=1e-9)
    assert outline.length == pytest.approx(length, rel=1e-9)


@pytest.mark.parametrize("angle", TILTS)
def test_cone(angle: float) -> None:
    radius, height = 8.0, 20.0
    outline = shadow(kernel.cone(radius, 0.0, height), seen_at(angle))
    # Across the view the base shrinks by cos(angle); stretched back, the outline is the hull of the
    # circle of the base and a point h tan(angle) from its centre.
    reach = height * math.sin(angle)
    if reach <= radius * math.cos(angle):
        area = math.pi * radius**2 * math.cos(angle)
    elif angle == math.pi / 2:
        area = radius * height
    else:
        distance = height * math.tan(angle)
        hull = radius**2 * (math.pi - math.acos(radius / distance)) + radius * math.sqrt(
            distance**2 - radius**2
        )
        area = hull * math.cos(angle)
    assert outline.area == pytest.approx(area, rel=1e-9)


@pytest.mark.parametrize("angle", TILTS)
def test_sphere(angle: float) -> None:
    outline = shadow(kernel.sphere(12.5), seen_at(angle))
    assert outline.area == pytest.approx(math.pi * 12.5**2, rel=1e-9)
    assert outline.length == pytest.approx(2 * math.pi * 12.5, rel=1e-9)
    assert outline.profiles[0].outer.is_circle


def test_torus_along_its_axis() -> None:
    outline = shadow(kernel.torus(20.0, 5.0), planform.Datum.xy())
    assert outline.area == pytest.approx(4 * math.pi * 20.0 * 5.0, rel=1e-9)
    assert outline.length == pytest.approx(4 * math.pi * 20.0, rel=1e-9)


def test_torus_across_its_axis() -> None:
    outline = shadow(kernel.torus(20.0, 5.0), planform.Datum.xz())
    # A strip of 2 R x 2 r with two half discs.
    assert outline.area == pytest.approx(4 * 20.0 * 5.0 + math.pi * 25.0, rel=1e-9)
    assert outline.length == pytest.approx(4 * 20.0 + 2 * math.pi * 5.0, rel=1e-9)


@pytest.mark.parametrize("angle", [0.2, 0.5, 0.9])
def test_torus_tilted(angle: float) -> None:
    major, minor = 20.0, 4.0
    outline = shadow(kernel.torus(major, minor), seen_at(angle))
    # The outline is the pair of parallel curves, at the distance r, of the ellipse with the half-axes R
    # and R cos(angle). As long as r stays below its least radius of curvature, Steiner's formula gives
    # both areas: pi a b + r L + pi r^2 outside, pi a b - r L + pi r^2 inside.
    assert minor < major * math.cos(angle) ** 2
    ellipse = 4 * major * ellipe(math.sin(angle) ** 2)
    inside = math.pi * major**2 * math.cos(angle) + math.pi * minor**2
    (ring,) = outline.profiles
    assert ring.outer.area == pytest.approx(inside + minor * ellipse, rel=1e-9)
    assert -ring.holes[0].area == pytest.approx(inside - minor * ellipse, rel=1e-9)
    assert outline.length == pytest.approx(2 * ellipse, rel=1e-9)


def test_plate_with_holes() -> None:
    plate = kernel.box(100.0, 60.0, 5.0)
    holes = [(20.0, 20.0, 8.0), (50.0, 30.0, 12.5), (80.0, 40.0, 6.0)]
    plate = kernel.cut(plate, [kernel.through_hole(*hole, 5.0) for hole in holes])
    tilted = kernel.turned(plate, (1.0, 1.0, 0.2), 1.1)
    solid = planform.from_ocp(tilted).solids[0]
    outline = planform.silhouette(solid, planform.auto_datum(solid))
    (profile,) = outline.profiles
    area = 6000.0 - math.pi / 4 * sum(diameter**2 for _, _, diameter in holes)
    length = 320.0 + math.pi * sum(diameter for _, _, diameter in holes)
    assert outline.area == pytest.approx(area, rel=1e-9)
    assert outline.length == pytest.approx(length, rel=1e-9)
    assert len(profile.outer.curves) == 4
    assert [hole.is_circle for hole in profile.holes] == [True, True, True]
    # auto_datum puts the corner of the shadow's box into the origin; the part's frame says which way round.
    assert outline.bounds[0] == pytest.approx([0, 0], abs=1e-9)
    lower, upper = outline.turned_to_smallest_rectangle().bounds
    assert sorted(upper - lower) == pytest.approx([60, 100], abs=1e-9)


CONVEX = {
    "box": (kernel.box(30.0, 20.0, 10.0), 2 * (600.0 + 200.0 + 300.0)),
    "cylinder": (kernel.cylinder(6.0, 25.0), 2 * math.pi * 6.0 * (6.0 + 25.0)),
    "cone": (kernel.cone(9.0, 0.0, 12.0), math.pi * 9.0 * (9.0 + 15.0)),
    "frustum": (
        kernel.cone(9.0, 4.0, 12.0),
        math.pi * (81.0 + 16.0 + (9.0 + 4.0) * math.hypot(5.0, 12.0)),
    ),
}


@pytest.mark.parametrize("name", CONVEX)
def test_cauchy_mean_shadow_is_a_quarter_of_the_surface(name: str) -> None:
    """Cauchy's theorem (A. Cauchy, 1850): averaged over all directions, the shadow of a convex body has
    a quarter of its surface area."""
    shape, surface = CONVEX[name]
    (solid,) = planform.from_ocp(shape).solids
    assert solid.surface_area == pytest.approx(surface, rel=1e-9)
    random = numpy.random.default_rng(1850)
    directions = random.normal(size=(2000, 3))
    areas = numpy.array(
        [
            planform.silhouette(solid, planform.Datum(origin=(0, 0, 0), normal=direction)).area
            for direction in directions
        ]
    )
    deviation = areas.std(ddof=1)
    assert deviation > 0.02 * surface / 4, "directions that all look alike would prove nothing"
    error = deviation / math.sqrt(len(areas))
    # Four standard errors: chance alone exceeds that once in 16,000 runs; the seed is fixed anyway.
    assert abs(areas.mean() - surface / 4) < 4 * error
