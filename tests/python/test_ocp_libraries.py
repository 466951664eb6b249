"""Objects of the libraries around OCP themselves, where they are installed (.ci/docs installs one); what they
look like is imitated in test_ocp.py. Tried with OCP 7.8, 7.9 and 8.0."""

from __future__ import annotations

import math
from typing import Any

import planform
import pytest


def seen(model: planform.Model) -> dict[str, tuple[Any, ...]]:
    return {
        solid.name: (
            solid.path,
            None if solid.color is None else tuple(round(part, 3) for part in solid.color),
            round(solid.volume, 6),
            *(round(float(x), 6) for x in solid.bounds[0]),
        )
        for solid in model
    }


def test_parts_with_labels_colours_and_children() -> None:
    bd = pytest.importorskip("build123d")
    post = bd.Box(4, 6, 40)
    post.label, post.color = "post", bd.Color(1, 0, 0)
    roof = bd.Pos(0, 0, 30) * bd.Box(60, 50, 3)
    roof.label = "roof"
    top = bd.Compound(label="top", children=[post, roof])
    station = bd.Pos(100, 0, 0) * bd.Compound(label="station", children=[top])
    assert seen(planform.from_ocp(station)) == {
        "post": (("station", "top", "post"), (1, 0, 0), 960, 98, -3, -20),
        "roof": (("station", "top", "roof"), None, 9000, 70, -25, 28.5),
    }
    with bd.BuildPart() as tray:
        bd.Box(40, 30, 5)
        bd.Hole(4)
    both = planform.from_ocp([tray, bd.Solid.make_box(1, 2, 3)])
    assert [s.volume for s in both] == pytest.approx([6000 - 80 * math.pi, 6], rel=1e-9)
    plate = bd.Plane.XZ * (bd.Rectangle(20, 10) - bd.Circle(3))
    outline = planform.ProfileSet.from_face(plate)
    assert outline.area == pytest.approx(200 - 9 * math.pi, rel=1e-9)
    assert outline.datum == planform.Datum.xz()
    with pytest.raises(planform.GeometryError, match="Compound, which holds none"):
        planform.from_ocp(bd.Compound(children=[]))


def test_chains_assemblies_and_sketches() -> None:
    cq = pytest.importorskip("cadquery")
    tray = cq.Workplane("XY").box(40, 30, 5).faces(">Z").workplane().hole(8)
    station = cq.Assembly(name="station", color=cq.Color(0, 0, 1))
    station.add(tray, name="tray", color=cq.Color(1, 0, 0), loc=cq.Location(cq.Vector(0, 0, 10)))
    roofs = cq.Assembly(name="roofs", loc=cq.Location(cq.Vector(0, 0, 100)))
    roofs.add(cq.Workplane().box(10, 10, 1), name="left", loc=cq.Location(cq.Vector(-20, 0, 0)))
    station.add(roofs)
    volume = 6000 - 80 * math.pi
    assert seen(planform.from_ocp(station)) == {
        "tray": (("station", "tray"), (1, 0, 0), round(volume, 6), -20, -15, 7.5),
        "left": (("station", "roofs", "left"), (0, 0, 1), 100, -25, -5, 99.5),
    }
    for given in (tray, tray.val(), [tray.val()]):
        assert planform.from_ocp(given)[0].volume == pytest.approx(volume, rel=1e-9)
    two = cq.Workplane().pushPoints([(0, 0), (50, 0)]).box(1, 2, 3, combine=False)
    assert len(planform.from_ocp(two)) == 2
    sketch = cq.Sketch().rect(20, 10).circle(3, mode="s")
    for given in (sketch, cq.Workplane().placeSketch(sketch)):
        outline = planform.ProfileSet.from_face(given)
        assert outline.area == pytest.approx(200 - 9 * math.pi, rel=1e-9)
    for given in (cq.Assembly(), cq.Workplane()):
        with pytest.raises(planform.GeometryError, match="from_ocp takes"):
            planform.from_ocp(given)
