"""Booleans of profile sets, judged by Shapely on fine chords; PLANFORM_LONG_TESTS=1 runs 5,000 pairs."""

from __future__ import annotations

import math
import os
from collections.abc import Callable

import planform
import pytest
import shapely
from planform import Arc, Contour, Datum, GeometryError, Mark, Profile, ProfileSet
from random_sets import random_pair

PAIRS = 5000 if os.environ.get("PLANFORM_LONG_TESTS") else 60
CHORD = 1e-3  # mm

Boolean = Callable[[ProfileSet, ProfileSet], ProfileSet]


def chords_of(profiles: ProfileSet) -> shapely.Geometry:
    """Where curves touch, their chords may cross: "structure" takes holes from shells, then unites."""
    polygons = profiles.to_shapely(CHORD)
    return polygons if polygons.is_valid else shapely.make_valid(polygons, method="structure")


def test_areas_of_random_pairs_agree_with_shapely_and_with_each_other() -> None:
    touching = 0
    for seed in range(PAIRS):
        a, b = random_pair(seed)
        chords_a, chords_b = chords_of(a), chords_of(b)
        either, both, first, one = a | b, a & b, a - b, a ^ b
        size = a.area + b.area
        # The chords stray by 1e-3 mm, our curves by no more than a hundredth of the tolerance.
        bound = (a.length + b.length) * (CHORD + 1e-4)
        for ours, theirs in (
            (either, shapely.union(chords_a, chords_b)),
            (both, shapely.intersection(chords_a, chords_b)),
            (first, shapely.difference(chords_a, chords_b)),
            (one, shapely.symmetric_difference(chords_a, chords_b)),
        ):
            assert abs(ours.area - theirs.area) <= bound, seed
            # Side by side but for the chords, which may cross where profiles touch.
            assert abs(chords_of(ours).area - ours.area) <= bound, seed
        assert abs(size - either.area - both.area) <= 1e-9 * size, seed
        # Where an ellipse and a circle of its tip's curvature are one over 0.3 mm (seed 774: 2.8e-8),
        # nothing tells where on that stretch the corner of a difference lies.
        assert abs(one.area - either.area + both.area) <= 1e-7 * size, seed
        touching += both.area > 0
    assert touching > PAIRS / 2


def disc(x: float, radius: float, **names: str) -> ProfileSet:
    return ProfileSet([Profile(Contour([Arc((x, 0), radius)]))], **names)


@pytest.mark.parametrize(
    ("sign", "word"),
    [
        ("__or__", "united"),
        ("__and__", "intersection"),
        ("__sub__", "difference"),
        ("__xor__", "symmetric_difference"),
    ],
)
def test_operators_are_the_methods(sign: str, word: str) -> None:
    a, b = disc(0, 10), disc(12, 10)
    assert getattr(a, sign)(b) == getattr(a, word)(b)
    assert getattr(a, sign)(3) is NotImplemented
    with pytest.raises(TypeError):
        getattr(a, word)(3)


def test_a_changed_model_is_compared_with_an_old_outline() -> None:
    plate = disc(0, 30)
    old, new = plate - disc(10, 4), plate - disc(10, 4) - disc(-10, 3)
    assert not (old ^ planform.ProfileSet.from_json(old.to_json())).profiles
    change = old ^ new
    assert change == disc(-10, 3)
    assert (new - old).profiles == []


def test_datums_that_do_not_fit_are_refused() -> None:
    a = disc(0, 10)
    with pytest.raises(GeometryError, match="not parallel") as caught:
        a | a.with_datum(Datum.xz())
    assert caught.value.kind == "invalid_argument"
    assert (a | a.with_datum(Datum((5, 0, 9), (0, 0, 1)))).bounds.tolist() == [[-10, -10], [15, 10]]


def test_merge_takes_any_iterable_and_words() -> None:
    sets = [disc(0, 3, name="button"), disc(0, 10, name="plate")]
    assert planform.merge(s for s in sets) == disc(0, 10)
    kept = planform.merge(sets, how="keep")
    assert [p.name for p in kept] == ["plate"] and [m.name for m in kept.marks] == ["button"]
    assert planform.merge([]) == ProfileSet()
    with pytest.raises(GeometryError, match="'union', 'keep'"):
        planform.merge(sets, how="stack")
    with pytest.raises((TypeError, RuntimeError)):
        planform.merge([1])


def test_marks_and_names_survive_every_format_that_can_hold_them() -> None:
    marks = [Mark(Contour([Arc((1, 2), 3)]), "raised <8>"), Mark(Contour([Arc((9, 2), 1)]), "0")]
    marked = ProfileSet([Profile(Contour([Arc((0, 0), 30)]), name="plate & co")], marks)
    again = ProfileSet.from_json(marked.to_json())
    assert again == marked and again != ProfileSet(marked.profiles)
    assert [m.name for m in again.marks] == ["raised <8>", "0"]
    assert [p.name for p in again] == ["plate & co"]
    assert "raised &lt;8&gt;" in marked.to_svg() and "plate &amp; co" in marked.to_svg()


def half_disc(
    radius: float, poles: int, moved: int = -1, inward: float = 0.0
) -> planform.ProfileSet:
    """A half disc whose round side is one spline of many spans; one of its poles may lie further in."""
    points = []
    for i in range(poles):
        angle = math.pi * i / (poles - 1)
        reach = radius - (inward if i == moved else 0.0)
        points.append((reach * math.cos(angle), reach * math.sin(angle)))
    knots = [0.0] * 4 + [float(k) for k in range(1, poles - 3)] + [float(poles - 3)] * 4
    side = planform.Spline(degree=3, knots=knots, poles=points)
    closing = planform.Line(points[-1], points[0])
    return planform.ProfileSet([planform.Profile(planform.Contour([side, closing]))])


@pytest.mark.parametrize("moved", range(5, 195, 19))
def test_one_pole_that_was_moved_is_a_difference(moved: int) -> None:
    """The second outline lies in the first, so that what a union and an intersection give is known; the areas
    of both are closed forms of their poles (Green's theorem)."""
    whole, dented = half_disc(100.0, 200), half_disc(100.0, 200, moved, 2.0)
    less = whole.area - dented.area
    assert less > 1.0
    for first, second in ((whole, dented), (dented, whole)):
        assert (first | second).area == pytest.approx(whole.area, abs=1e-3)
        assert (first & second).area == pytest.approx(dented.area, abs=1e-3)
    assert (whole - dented).area == pytest.approx(less, abs=1e-3)
    assert (dented - whole).area == pytest.approx(0.0, abs=1e-3)
