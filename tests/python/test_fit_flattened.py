"""Curves recognised in what was flattened: chains of known lines and arcs, sampled as exporters do, come back
with as many curves as they were made of; every result is within the tolerance, judged by Shapely."""

from __future__ import annotations

import itertools
import math
import os
import random

import numpy
import planform
import pytest
import shapely

CASES = 500 if os.environ.get("PLANFORM_LONG_TESTS") else 120
SAMPLED_WITHIN = 0.01
TOLERANCE = 0.02


def known_chain(random_source: random.Random) -> list[planform.Line | planform.Arc]:
    """A chain of lines and arcs, each tangent to the one before or at a corner to it, none like its
    neighbour."""
    x, y, heading = 0.0, 0.0, random_source.uniform(0, math.tau)
    curves: list[planform.Line | planform.Arc] = []
    last = 0.0
    for _ in range(random_source.randint(2, 9)):
        if curves and random_source.random() < 0.3:
            heading += math.radians(random_source.choice([-1, 1]) * random_source.uniform(35, 130))
        curvature = 0.0
        if not curves or last == 0.0 or random_source.random() < 0.6:
            radius = 10 ** random_source.uniform(0, 2)
            curvature = random_source.choice([-1, 1]) / radius
            # Two that follow each other with nearly one curvature are one within the tolerance.
            if last and 0.7 < curvature / last < 1.4:
                curvature = -curvature
        if curvature == 0.0:
            length = 10 ** random_source.uniform(0.3, 2)
            end = (x + length * math.cos(heading), y + length * math.sin(heading))
            curves.append(planform.Line((x, y), end))
            x, y = end
        else:
            radius = abs(1 / curvature)
            side = math.copysign(1, curvature)
            sweep = side * math.radians(random_source.uniform(25, 280))
            center = (x - side * radius * math.sin(heading), y + side * radius * math.cos(heading))
            start = math.atan2(y - center[1], x - center[0])
            curves.append(planform.Arc(center, radius, start, sweep))
            heading += sweep
            x = center[0] + radius * math.cos(start + sweep)
            y = center[1] + radius * math.sin(start + sweep)
        last = curvature
    return curves


def sampled(curves: list[planform.Line | planform.Arc], digits: int) -> list[planform.Line]:
    """Lines within SAMPLED_WITHIN of the curves, corners rounded as files do it."""
    points = [numpy.round(curves[0].start, digits)]
    for curve in curves:
        if isinstance(curve, planform.Arc):
            step = 2 * math.acos(1 - min(SAMPLED_WITHIN / curve.radius, 1))
            count = max(2, math.ceil(abs(curve.sweep) / step))
            angles = curve.start_angle + curve.sweep * numpy.arange(1, count + 1) / count
            own = numpy.array(curve.center) + curve.radius * numpy.column_stack(
                [numpy.cos(angles), numpy.sin(angles)]
            )
            points += list(numpy.round(own, digits))
        else:
            points.append(numpy.round(curve.end, digits))
    return [planform.Line(a, b) for a, b in itertools.pairwise(points)]


def distance(lines: list[planform.Line], fitted: list[planform.FittedCurve]) -> float:
    """The greatest distance of either from the other: of places along the lines from the curve by its
    formula, of places along the curve from the lines by Shapely."""
    worst = 0.0
    for piece in fitted:
        own = [lines[(piece.first + k) % len(lines)] for k in range(piece.count)]
        corners = numpy.array([own[0].start, *(line.end for line in own)])
        shares = numpy.linspace(0, 1, 9)[:, None, None]
        places = ((1 - shares) * corners[:-1] + shares * corners[1:]).reshape(-1, 2)
        if isinstance(piece.curve, planform.Arc):
            off = numpy.hypot(*(places - piece.curve.center).T) - piece.curve.radius
        else:
            along = piece.curve.end - piece.curve.start
            normal = numpy.array([-along[1], along[0]]) / numpy.hypot(*along)
            off = (places - piece.curve.start) @ normal
        reached = shapely.points(piece.curve.points(1e-4))
        back = shapely.distance(shapely.LineString(corners), reached)
        worst = max(worst, float(abs(off).max()), float(back.max()))
    return worst


@pytest.mark.parametrize("digits", [9, 4])
def test_known_chains_come_back(digits: int) -> None:
    random_source = random.Random(18 + digits)
    right = 0
    worst = 0.0
    arcs = 0
    for _ in range(CASES):
        curves = known_chain(random_source)
        lines = sampled(curves, digits)
        fitted = planform.fit_flattened(lines, TOLERANCE, closed=False)
        assert sum(piece.count for piece in fitted) == len(lines)
        assert len(fitted) <= len(curves)
        right += len(fitted) == len(curves)
        arcs += sum(isinstance(curve, planform.Arc) for curve in curves)
        worst = max(worst, distance(lines, fitted))
    assert arcs > 2 * CASES
    assert worst <= TOLERANCE * (1 + 1e-6)
    assert right >= 0.98 * CASES


def test_arcs_are_those_that_were_flattened() -> None:
    """Where the divisions fall on the ends of the curves, centres and radii come back to rounding."""
    corners = [(0.0, 0.0), (80.0, 0.0), (80.0, 50.0), (0.0, 50.0)]
    radii = [4.0, 12.0, 25.0, 7.0]
    curves: list[planform.Line | planform.Arc] = []
    for i, (corner, radius) in enumerate(zip(corners, radii, strict=True)):
        to_next = numpy.sign(numpy.subtract(corners[(i + 1) % 4], corner))
        from_last = numpy.sign(numpy.subtract(corner, corners[i - 1]))
        center = numpy.array(corner) + radius * (to_next - from_last)
        start = math.atan2(*(-to_next)[::-1])
        curves.append(planform.Arc(center, radius, start, math.pi / 2))
        curves.append(
            planform.Line(
                curves[-1].end,
                corner
                + to_next * numpy.abs(numpy.subtract(corners[(i + 1) % 4], corner))
                - to_next * radii[(i + 1) % 4],
            )
        )
    lines = sampled(curves, 9)
    for turn in (0, 5, len(lines) // 2):  # whichever line the file begins with
        fitted = planform.fit_flattened(lines[turn:] + lines[:turn], TOLERANCE)
        assert len(fitted) == 8
        found = sorted(p.curve.radius for p in fitted if isinstance(p.curve, planform.Arc))
        assert found == pytest.approx(sorted(radii), rel=1e-6)


def test_a_ring_of_4000_segments_is_one_circle() -> None:
    angles = numpy.linspace(0, math.tau, 4000, endpoint=False)
    points = numpy.round(30 * numpy.column_stack([numpy.cos(angles), numpy.sin(angles)]), 5)
    lines = [planform.Line(points[i], points[(i + 1) % 4000]) for i in range(4000)]
    (circle,) = planform.fit_flattened(lines, TOLERANCE)
    assert isinstance(circle.curve, planform.Arc)
    assert (circle.count, abs(circle.curve.sweep)) == (4000, math.tau)
    assert circle.curve.radius == pytest.approx(30, abs=1e-6)


def test_corners_stay_and_polygons_stay_polygons() -> None:
    for sides in (3, 4, 6, 12):
        angles = numpy.linspace(0, math.tau, sides, endpoint=False)
        points = 10 * numpy.column_stack([numpy.cos(angles), numpy.sin(angles)])
        lines = [planform.Line(points[i], points[(i + 1) % sides]) for i in range(sides)]
        fitted = planform.fit_flattened(lines, TOLERANCE)
        assert len(fitted) == sides
        assert all(isinstance(piece.curve, planform.Line) for piece in fitted)
    # A half disc: the two corners are points of the result.
    half = planform.Arc((0, 0), 15, 0, math.pi)
    lines = sampled([half, planform.Line((-15, 0), (15, 0))], 9)
    fitted = planform.fit_flattened(lines, TOLERANCE)
    assert sorted(type(piece.curve).__name__ for piece in fitted) == ["Arc", "Line"]
    ends = sorted(round(float(piece.curve.start[0]), 9) + 0.0 for piece in fitted)
    assert ends == [-15.0, 15.0]


def test_what_is_no_line_stays() -> None:
    curve = planform.EllipticalArc((0, 0), (20, 0), 0.5, 0, math.pi)
    back = [planform.Line((-20, 0), (-20, -30)), planform.Line((-20, -30), (20, -30)),
            planform.Line((20, -30), (20, 0))]  # fmt: skip
    fitted = planform.fit_flattened([curve, *back], TOLERANCE)
    assert [type(piece.curve).__name__ for piece in fitted].count("EllipticalArc") == 1
    assert len(fitted) == 4


def test_a_spline_takes_as_few_arcs_as_biarcs_or_fewer() -> None:
    """Sampled finely, an ellipse's outline takes no more arcs than `fit_arcs` makes of the curve itself
    (biarcs; D. S. Meek, D. J. Walton 1995), since ends need no common tangent here."""
    ring = planform.Contour([planform.EllipticalArc((0, 0), (60, 0), 0.4)])
    points = ring.points(1e-4)
    lines = [planform.Line(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]
    fitted = planform.fit_flattened(lines, TOLERANCE)
    assert distance(lines, fitted) <= TOLERANCE * (1 + 1e-6)
    dxf = planform.ProfileSet([planform.Profile(ring)]).to_dxf(tolerance=TOLERANCE)
    biarcs = dxf.count("\n 42\n") or dxf.count("\n42\n")
    assert 8 <= len(fitted) <= biarcs


def test_wrong_calls_say_what_is_wrong() -> None:
    lines = [planform.Line((0, 0), (1, 0)), planform.Line((2, 0), (2, 1))]
    with pytest.raises(planform.GeometryError, match="head to tail"):
        planform.fit_flattened(lines, TOLERANCE, closed=False)
    with pytest.raises(planform.GeometryError, match="tolerance"):
        planform.fit_flattened(lines[:1], 0.0, closed=False)
    assert planform.fit_flattened([], TOLERANCE) == []
