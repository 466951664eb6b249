"""Volumes of text plates against Green's theorem on the letters' own curves, wherever they lie."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import planform
import pytest
from kernel_models import moved
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.GeomAbs import GeomAbs_BSplineCurve
from OCP.gp import gp_Pnt, gp_Vec
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_FORWARD, TopAbs_REVERSED
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape
from text_models import FONT, LETTERS, letter

pytestmark = pytest.mark.skipif(not FONT.exists(), reason="fonts-dejavu-core is not installed")

THICKNESS = 2.0  # mm


def area_at(shape: TopoDS_Shape, height: float) -> float:
    """Area of the faces in the plane z = height: half the integral of x dy - y dx along their edges."""
    nodes, weights = np.polynomial.legendre.leggauss(6)
    area = 0.0
    faces = TopExp_Explorer(shape, TopAbs_FACE)
    while faces.More():
        face = faces.Current().Oriented(TopAbs_FORWARD)
        faces.Next()
        around, all_in_plane = 0.0, True
        edges = TopExp_Explorer(face, TopAbs_EDGE)
        while edges.More():
            edge = TopoDS.Edge(edges.Current())
            edges.Next()
            curve = BRepAdaptor_Curve(edge)
            stops = [curve.FirstParameter(), curve.LastParameter()]
            if curve.GetType() == GeomAbs_BSplineCurve:
                spline = curve.BSpline()
                knots = [spline.Knot(i) for i in range(1, spline.NbKnots() + 1)]
                stops[1:1] = [knot for knot in knots if stops[0] < knot < stops[-1]]
            way = -1.0 if edge.Orientation() == TopAbs_REVERSED else 1.0
            for first, last in pairwise(stops):
                for node, weight in zip(nodes, weights, strict=True):
                    point, speed = gp_Pnt(), gp_Vec()
                    curve.D1(0.5 * (first + last) + 0.5 * (last - first) * node, point, speed)
                    all_in_plane &= abs(point.Z() - height) < 1e-9
                    swept = point.X() * speed.Y() - point.Y() * speed.X()
                    around += 0.25 * way * (last - first) * weight * swept
        if all_in_plane:
            area += abs(around)
    return area


@pytest.mark.parametrize("character", LETTERS)
def test_a_letter_weighs_the_same_wherever_it_lies(character: str) -> None:
    plate = letter(character, 0.0, 0.0, 0.0, THICKNESS)
    volume = area_at(plate, 0.0) * THICKNESS
    assert volume > 50.0
    for place in [(0.0, 0.0, 0.0), (100.0, 70.0, 30.0), (-10000.0, 500.0, 8000.0)]:
        solids = planform.from_ocp(moved(plate, *place)).solids
        assert len(solids) == 1
        assert solids[0].volume == pytest.approx(volume, rel=1e-9)
        assert solids[0].notes == ()
