"""Shapes of the real OCP package, handed over as bytes."""

from __future__ import annotations

import math
import subprocess
import sys

import kernel_models as kernel
import numpy as np
import planform
import pytest
from OCP.TopoDS import TopoDS_Shape
from planform import Datum, GeometryError, LoadError


class Holder:
    """What wrappers of that package look like."""

    def __init__(self, wrapped: object) -> None:
        self.wrapped = wrapped


def test_a_shape_and_its_holder_give_the_same_model() -> None:
    shape = kernel.cut(kernel.box(40, 30, 5), [kernel.through_hole(10, 10, 8, 5)])
    model = planform.from_ocp(shape)
    assert model.source == "memory"
    (solid,) = model.solids
    expected = 40 * 30 * 5 - math.pi * 16 * 5
    assert solid.volume == pytest.approx(expected, rel=1e-9)
    outline = planform.silhouette(solid, Datum.xy())
    assert outline.area == pytest.approx(expected / 5, rel=1e-9)
    assert outline.profiles[0].holes[0].is_circle
    assert planform.silhouette(planform.from_ocp(Holder(shape)), Datum.xy()) == outline


def test_several_solids_units_and_scale() -> None:
    compound = kernel.compound([kernel.box(1, 1, 1), kernel.moved(kernel.box(2, 2, 2), 10, 0)])
    model = planform.from_ocp(compound, unit="inch", scale=10)
    volumes = sorted(solid.volume for solid in model.solids)
    assert volumes == pytest.approx([254**3, 8 * 254**3], rel=1e-9)


@pytest.mark.parametrize("wrong", [None, "shape", 3, Holder("shape"), Holder(None)])
def test_other_objects_are_refused(wrong: object) -> None:
    with pytest.raises(GeometryError, match="OCP") as caught:
        planform.from_ocp(wrong)
    assert caught.value.kind == "invalid_argument"
    assert type(wrong).__name__ in str(caught.value)


def test_null_and_empty_shapes() -> None:
    with pytest.raises(GeometryError, match="null"):
        planform.from_ocp(TopoDS_Shape())
    with pytest.raises(LoadError) as caught:
        planform.from_ocp(kernel.compound([]))
    assert caught.value.kind == "no_solid"


class Part:
    """What a part of a tree looks like: a compound of what is below it."""

    def __init__(
        self, shape: object, label: str, color: object = None, children: object = ()
    ) -> None:
        self.wrapped, self.label, self.color, self.children = shape, label, color, list(children)


class Node:
    """What an assembly of located nodes looks like."""

    def __init__(self, obj: object, name: str, x: float = 0.0, color: object = None) -> None:
        from OCP.gp import gp_Trsf, gp_Vec
        from OCP.TopLoc import TopLoc_Location

        movement = gp_Trsf()
        movement.SetTranslation(gp_Vec(x, 0, 0))
        self.obj, self.name, self.color, self.children = obj, name, color, []
        self.loc = Holder(TopLoc_Location(movement))

    def add(self, *nodes: Node) -> Node:
        self.children += nodes
        return self


def orange() -> Holder:
    from OCP.Quantity import Quantity_ColorRGBA

    return Holder(Quantity_ColorRGBA(0.5, 0.25, 0.0, 1.0))


def test_trees_keep_names_colours_and_places() -> None:
    post = Part(kernel.box(2, 2, 40), "post", orange())
    roof = Part(kernel.moved(kernel.box(30, 20, 1), 0, 5), "roof")
    inner = Part(kernel.compound([post.wrapped, roof.wrapped]), "top", children=[post, roof])
    placed = kernel.moved(inner.wrapped, 100, 0)
    outer = Part(kernel.compound([placed]), "station", children=[inner])
    model = planform.from_ocp(outer)
    assert [solid.name for solid in model] == ["post", "roof"]
    assert [solid.path for solid in model] == [
        ("station", "top", "post"),
        ("station", "top", "roof"),
    ]
    # IEC 61966-2-1: linear 0.5 is 0.7354 of sRGB, 0.25 is 0.5371.
    assert model["post"].color == pytest.approx((0.735357, 0.537099, 0.0), abs=1e-5)
    assert model["roof"].color is None
    # The place of the whole counts for what is below it.
    assert model["post"].bounds[0].tolist() == pytest.approx([100, 0, 0], abs=1e-6)
    assert model["roof"].part_name == "roof"


def test_children_of_what_is_no_compound_stand_beside_it() -> None:
    """A body with a child has the one shell below it, which is not that child."""
    knob = Part(kernel.moved(kernel.box(2, 2, 2), 50, 0), "knob")
    model = planform.from_ocp(Part(kernel.box(10, 10, 10), "tray", children=[knob]))
    assert [(solid.name, round(solid.volume, 6)) for solid in model] == [("tray", 1e3), ("knob", 8)]
    assert model["knob"].path == ("tray", "knob")
    assert model["knob"].bounds[0][0] == pytest.approx(50)


def test_objects_without_a_shape_are_refused_in_our_words() -> None:
    class Empty(Part):
        """Raises whatever it is asked for, as the libraries do."""

        def __iter__(self) -> None:
            raise AssertionError

    class Raising:
        @property
        def wrapped(self) -> None:
            raise AssertionError

    empty = Empty(None, "empty")
    with pytest.raises(GeometryError, match="Raising, which holds none"):
        planform.from_ocp(Raising())
    for given in (empty, [kernel.box(1, 1, 1), empty]):
        with pytest.raises(GeometryError, match="Empty, which holds none"):
            planform.from_ocp(given)


def test_located_nodes_and_shapes_used_twice() -> None:
    tray = kernel.box(10, 10, 2)
    top = Node(None, "station").add(
        Node(Holder(tray), "left", 10, orange()).add(Node(Holder(tray), "cup", 5)),
        Node(tray, "right", 50),
    )
    model = planform.from_ocp(top)
    assert {solid.name: solid.bounds[0][0] for solid in model} == pytest.approx(
        {"left": 10, "cup": 15, "right": 50}, abs=1e-6
    )
    assert model["cup"].path == ("station", "left", "cup")
    assert model["cup"].color == model["left"].color
    assert model["right"].color is None
    # One shape in three places.
    assert model.shape_count == 1


def test_chains_builders_lists_and_generators() -> None:
    box, other = kernel.box(1, 2, 3), kernel.box(4, 5, 6)

    class Chain:
        def vals(self) -> list[object]:
            return [Holder(box), Holder(other)]

    class Builder:
        part = Holder(box)

    assert sorted(round(s.volume, 6) for s in planform.from_ocp(Chain())) == [6, 120]
    assert planform.from_ocp(Builder())[0].volume == pytest.approx(6)
    assert len(planform.from_ocp([box, [Holder(other)], Chain()])) == 4
    assert len(planform.from_ocp(each for each in (box, other))) == 2
    both = planform.from_ocp([Part(kernel.compound([box, kernel.moved(other, 9, 9)]), "pair")])
    assert [solid.name for solid in both] == ["pair (1)", "pair (2)"]
    assert {solid.part for solid in both} == {0}
    with pytest.raises(GeometryError, match="OCP"):
        planform.from_ocp([])
    with pytest.raises(GeometryError, match=r"builtins\.str"):
        planform.from_ocp([box, "text"])
    endless: list[object] = []
    endless.append(endless)
    with pytest.raises(GeometryError, match="holds itself"):
        planform.from_ocp(endless)


def test_shapes_go_back() -> None:
    shape = kernel.cut(kernel.box(40, 30, 5), [kernel.through_hole(10, 10, 8, 5)])
    model = planform.from_ocp([shape, kernel.moved(shape, 100, 0)])
    again = planform.from_ocp(planform.to_ocp(model))
    assert [solid.volume for solid in again] == pytest.approx([s.volume for s in model], rel=1e-12)
    assert planform.silhouette(again, "xy") == planform.silhouette(model, "xy")


def test_faces_and_sketches() -> None:
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Ax3, gp_Dir, gp_Pln, gp_Pnt

    def face(origin: tuple[float, float, float], normal: tuple[float, float, float]) -> object:
        plane = gp_Pln(gp_Ax3(gp_Pnt(*origin), gp_Dir(*normal)))
        return BRepBuilderAPI_MakeFace(plane, 0, 10, 0, 4).Face()

    outline = planform.ProfileSet.from_face(Part(face((1, 2, 3), (0, 0, 1)), "tray"))
    assert outline.name == "tray"
    assert outline.area == pytest.approx(40)
    np.testing.assert_allclose(outline.bounds, [[1, 2], [11, 6]], atol=1e-9)
    assert outline.datum == Datum((0, 0, 3), (0, 0, 1))
    turned_over = face((8, 0, 0), (0, 0, 1)).Reversed()  # type: ignore[attr-defined]
    two = planform.ProfileSet.from_face([face((0, 0, 0), (0, 0, 1)), turned_over])
    assert two.area == pytest.approx(18 * 4)
    from_model = planform.ProfileSet.from_face(kernel.moved(face((0, 0, 0), (0, 1, 1)), 5, 5))
    assert from_model.area == pytest.approx(40, rel=1e-9)
    with pytest.raises(GeometryError, match="another plane"):
        planform.ProfileSet.from_face([face((0, 0, 0), (0, 0, 1)), face((0, 0, 1), (0, 0, 1))])
    with pytest.raises(GeometryError, match="not flat"):
        planform.ProfileSet.from_face(kernel.through_hole(0, 0, 2, 3))
    with pytest.raises(GeometryError, match="no face"):
        planform.ProfileSet.from_face(kernel.compound([]))


def test_nothing_of_ocp_need_be_imported_before() -> None:
    script = """
import sys, pickle, planform
assert "OCP" not in sys.modules and not any(name.startswith("OCP.") for name in sys.modules)
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
print(planform.from_ocp(BRepPrimAPI_MakeBox(1.0, 2.0, 3.0).Shape())[0].volume)
"""
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    assert float(done.stdout) == pytest.approx(6)
