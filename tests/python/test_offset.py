"""Offsets in Python, judged by Shapely's `buffer` and by hand.

Shapely 2 (GEOS) buffers polygons of chords; with 64 segments a quarter its rounds are within
d (1 - cos(pi / 256)) of true ones.
"""

from __future__ import annotations

import math
import os

import numpy as np
import planform
import pytest
import shapely
from random_outlines import plate_with_holes, polygon

SETS = 500 if os.environ.get("PLANFORM_LONG_TESTS") else 20
CHORD = 1e-4  # mm


def square(size: float) -> planform.ProfileSet:
    corners = [(0, 0), (size, 0), (size, size), (0, size)]
    return planform.ProfileSet([planform.Profile(polygon(corners))])


def as_shapely(profiles: planform.ProfileSet) -> shapely.Geometry:
    return shapely.union_all(
        [
            shapely.Polygon(p.outer.points(CHORD), [hole.points(CHORD) for hole in p.holes])
            for p in profiles
        ]
    )


def test_offsets_agree_with_buffers() -> None:
    seen = 0
    for seed in range(SETS):
        generator = np.random.default_rng(seed)
        profiles = plate_with_holes(generator, int(generator.integers(0, 8)))
        distance = float(np.exp(generator.uniform(math.log(0.01), math.log(15))))
        for d in (distance, -0.5 * distance):
            mine = profiles.offset(d)
            theirs = as_shapely(profiles).buffer(d, quad_segs=64)
            rounds = abs(d) * (1 - math.cos(math.pi / 256))
            bound = (0.1 * profiles.tolerance + 3 * CHORD + rounds) * (
                profiles.length + theirs.length
            )
            assert as_shapely(mine).symmetric_difference(theirs).area <= bound, (seed, d)
            seen += 1
    assert seen == 2 * SETS


def test_distances_in_every_form() -> None:
    base = square(10)
    assert base.offset(1, "sharp").area == pytest.approx(144, rel=1e-12)
    assert base.offset(-1).area == pytest.approx(64, rel=1e-12)
    assert base.offset({"outer": -1}).area == pytest.approx(64, rel=1e-12)
    assert base.offset({"hole": -1}) == base
    by_list = base.offset([0, 1, 0, -1])
    assert by_list.bounds.tolist() == [[1.0, 0.0], [11.0, 10.0]]
    by_call = base.offset(lambda place: 1.0 if place.curve == 1 else 0.0)
    assert by_call.area == pytest.approx(110, rel=1e-12)
    places = planform.curve_places(base)
    assert [(p.profile, p.contour, p.curve, p.role) for p in places] == [
        (0, 0, k, "outer") for k in range(4)
    ]


@pytest.mark.parametrize("bad", [math.nan, math.inf])
def test_numbers_that_make_no_sense(bad: float) -> None:
    for job in (
        lambda: square(10).offset(bad),
        lambda: square(10).offset(1, "sharp", limit=bad),
        lambda: square(10).closed(bad),
        lambda: square(10).opened(bad),
        lambda: square(10).relieved(bad),
        lambda: square(10).relieved(1, least_web=bad),
    ):
        with pytest.raises(planform.GeometryError):
            job()
    with pytest.raises(planform.GeometryError, match="3 distances for 4 curves"):
        square(10).offset([1, 2, 3])
    with pytest.raises(planform.GeometryError, match="round"):
        square(10).offset(1, "bevelled")  # type: ignore[arg-type]


def test_findings_and_notes() -> None:
    result = planform.offset(square(10), -6)
    assert len(result.profiles) == 0
    assert [f.rule for f in result.findings] == ["contour_gone", "contour_gone"]
    assert any("nothing is left" in note for note in square(10).offset(-6).notes)
    reached = planform.opened(square(10), 2)
    assert [f.rule for f in reached.findings] == ["unreached"] * 4
    assert all(f.unit == "mm^2" for f in reached.findings)
    assert reached.findings[0].measured == pytest.approx(4 - math.pi, rel=1e-6)


def test_reliefs() -> None:
    hole = polygon([(10, 10), (30, 10), (30, 25), (10, 25)])
    plate = planform.ProfileSet([planform.Profile(square(40).profiles[0].outer, [hole])])
    corner = plate.relieved(2)
    assert plate.area - corner.area == pytest.approx(4 * 4 * (math.pi / 2 - 1), rel=1e-9)
    side = plate.relieved(2, "side")
    assert plate.area - side.area == pytest.approx(4 * 4 * math.pi / 2, rel=1e-9)
    assert len(planform.relieved(plate, 2, least_web=11).findings) == 4
