"""Shapes of the real OCP package, handed over as bytes."""

from __future__ import annotations

import math

import kernel_models as kernel
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
