"""Profile sets of solids, written and read back: the same digest, roles, names."""

from __future__ import annotations

import itertools
import os
from pathlib import Path

import ezdxf.math
import planform
import pytest
from good_outlines import demo_outlines, not_empty, outlines_of_models, turned
from planform import Contour, EllipticalArc, Mark, Profile, ProfileSet, Spline
from sample_sets import plate

LONG = bool(os.environ.get("PLANFORM_LONG_TESTS"))
COUNT = 300 if LONG else 50

FLATTEST_IN_DXF = 1e-6
FLATTEST_IN_SVG = 1e-4
"""Ellipses with a smaller ratio of axes are written as arcs, also with exact curves (see the writers)."""


def sets_of_solids(folder: Path) -> list[ProfileSet]:
    """With PLANFORM_LONG_TESTS=1 those of occt-misc's models, too."""
    if LONG:
        sources = [not_empty(demo_outlines(folder)), not_empty(outlines_of_models())]
        mixed = (p for row in itertools.zip_longest(*sources) for p in row if p is not None)
        return list(itertools.islice(mixed, COUNT))
    straight = list(not_empty(demo_outlines(folder)))
    return (straight + [turned(profiles) for profiles in straight])[:COUNT]


def rewritten(profiles: ProfileSet, change) -> ProfileSet:
    """The set with each curve as the writer writes it."""

    def contour(old: Contour) -> Contour:
        return Contour([piece for curve in old.curves for piece in change(curve)])

    return ProfileSet(
        [
            Profile(contour(p.outer), [contour(h) for h in p.holes], name=p.name, parent=p.parent)
            for p in profiles.profiles
        ],
        [Mark(contour(mark.contour), mark.name) for mark in profiles.marks],
    )


def as_exact_dxf(tolerance: float):
    def change(curve):
        flat = isinstance(curve, EllipticalArc) and curve.ratio < FLATTEST_IN_DXF
        return curve.fit_arcs(tolerance) if flat else [curve]

    return change


def as_arcs(tolerance: float):
    def change(curve):
        other = isinstance(curve, EllipticalArc | Spline)
        return curve.fit_arcs(tolerance) if other else [curve]

    return change


def as_svg(tolerance: float):
    """Polynomial splines up to degree 3 in their Bezier pieces (ezdxf cuts them), others as arcs."""

    def change(curve):
        if isinstance(curve, EllipticalArc) and curve.ratio < FLATTEST_IN_SVG:
            return curve.fit_arcs(tolerance)
        if not isinstance(curve, Spline):
            return [curve]
        if len(curve.weights) or curve.degree > 3:
            return curve.fit_arcs(tolerance)
        if len(curve.poles) == curve.degree + 1:
            return [curve]
        low = curve.domain[0]
        tool = ezdxf.math.BSpline(
            [(x, y, 0) for x, y in curve.poles],
            order=curve.degree + 1,
            knots=[knot - low for knot in curve.knots],
        )
        degree = curve.degree
        return [
            Spline(degree, [0] * (degree + 1) + [1] * (degree + 1), [(p.x, p.y) for p in poles])
            for poles in tool.bezier_decomposition()
        ]

    return change


WRITERS = {
    "exact, mm": ({"curves": "exact", "unit": "mm"}, as_exact_dxf),
    "exact, inch": ({"curves": "exact", "unit": "inch"}, as_exact_dxf),
    "arcs, mm": ({"curves": "arcs", "unit": "mm"}, as_arcs),
    "arcs, inch": ({"curves": "arcs", "unit": "inch"}, as_arcs),
    "svg": (None, as_svg),
}


@pytest.mark.parametrize("how", WRITERS)
def test_read_back_is_what_was_written(how: str, tmp_path: Path) -> None:
    options, change = WRITERS[how]
    all_sets = [plate(), *sets_of_solids(tmp_path)]
    same = 0
    for number, profiles in enumerate(all_sets):
        if options is None:
            path = profiles.to_svg(tmp_path / "a.svg")
        else:
            path = profiles.to_dxf(tmp_path / "a.dxf", **options)
        closed = planform.read_drawing(path).close()
        assert planform.drawing_findings(closed) == [], number
        back = closed.profile_set()
        expected = rewritten(profiles, change(profiles.tolerance))
        assert back.area == pytest.approx(expected.area, rel=1e-9), number
        assert sorted(p.name for p in back.profiles) == sorted(p.name for p in profiles.profiles)
        assert sorted(len(p.holes) for p in back.profiles) == sorted(
            len(p.holes) for p in profiles.profiles
        )
        assert len(back.islands) == len(profiles.islands)
        assert [m.name for m in back.marks] == [m.name for m in profiles.marks]
        assert back.digest == expected.digest, number
        same += 1
        roles = {"outer": 0, "inner": 0, "mark": 0}
        for role, curves in itertools.groupby(
            sorted(zip(closed.roles, (c.group for c in closed.loose.curves), strict=True)),
            key=lambda pair: pair[0],
        ):
            roles[role] = len({group for _, group in curves})
        if options is None or options["curves"] == "arcs":  # one entity a contour
            assert roles == {
                "outer": len(profiles.profiles),
                "inner": sum(len(p.holes) for p in profiles.profiles),
                "mark": len(profiles.marks),
            }, number
    assert same == len(all_sets) >= (301 if LONG else 51)
