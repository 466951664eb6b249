"""Solids made with OCP (the ``cadquery-ocp`` package): another build of the kernel than planform's, as
an independent modeller for the tests, and the ways to hand them over as files."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

from OCP.BRep import BRep_Builder
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepBuilderAPI import (
    BRepBuilderAPI_MakeEdge,
    BRepBuilderAPI_MakeFace,
    BRepBuilderAPI_MakePolygon,
    BRepBuilderAPI_MakeWire,
    BRepBuilderAPI_Transform,
)
from OCP.BRepPrimAPI import (
    BRepPrimAPI_MakeBox,
    BRepPrimAPI_MakeCone,
    BRepPrimAPI_MakeCylinder,
    BRepPrimAPI_MakePrism,
    BRepPrimAPI_MakeSphere,
    BRepPrimAPI_MakeTorus,
)
from OCP.BRepTools import BRepTools
from OCP.GC import GC_MakeArcOfCircle
from OCP.gp import gp_Ax1, gp_Ax2, gp_Dir, gp_Pnt, gp_Trsf, gp_Vec
from OCP.IFSelect import IFSelect_RetDone
from OCP.Interface import Interface_Static
from OCP.STEPCAFControl import STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_AsIs
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS_Compound, TopoDS_Shape
from OCP.XCAFDoc import XCAFDoc_DocumentTool

Point = Sequence[float]


def box(x: float, y: float, z: float) -> TopoDS_Shape:
    """A box with one corner in the origin."""
    return BRepPrimAPI_MakeBox(x, y, z).Shape()


def cylinder(radius: float, height: float) -> TopoDS_Shape:
    """A cylinder on the xy plane around the z axis."""
    return BRepPrimAPI_MakeCylinder(radius, height).Shape()


def cone(lower_radius: float, upper_radius: float, height: float) -> TopoDS_Shape:
    """A truncated or whole cone on the xy plane around the z axis."""
    return BRepPrimAPI_MakeCone(lower_radius, upper_radius, height).Shape()


def sphere(radius: float) -> TopoDS_Shape:
    """A ball around the origin."""
    return BRepPrimAPI_MakeSphere(radius).Shape()


def torus(major_radius: float, minor_radius: float) -> TopoDS_Shape:
    """A ring around the z axis."""
    return BRepPrimAPI_MakeTorus(major_radius, minor_radius).Shape()


def prism(points: Sequence[tuple[float, float]], height: float) -> TopoDS_Shape:
    """A straight prism over a polygon in the xy plane."""
    polygon = BRepBuilderAPI_MakePolygon()
    for x, y in points:
        polygon.Add(gp_Pnt(x, y, 0.0))
    polygon.Close()
    face = BRepBuilderAPI_MakeFace(polygon.Wire()).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 0.0, height)).Shape()


def arc_prism(
    pieces: Sequence[tuple[Point, Point] | tuple[Point, Point, Point]], height: float
) -> TopoDS_Shape:
    """A straight prism over a closed chain of lines (start, end) and arcs (start, on it, end)."""
    wire = BRepBuilderAPI_MakeWire()
    for piece in pieces:
        ends = [gp_Pnt(x, y, 0.0) for x, y in piece]
        if len(ends) == 2:
            wire.Add(BRepBuilderAPI_MakeEdge(ends[0], ends[1]).Edge())
        else:
            wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(*ends).Value()).Edge())
    face = BRepBuilderAPI_MakeFace(wire.Wire()).Face()
    return BRepPrimAPI_MakePrism(face, gp_Vec(0.0, 0.0, height)).Shape()


def regular_prism(sides: int, across_flats: float, height: float) -> TopoDS_Shape:
    """A prism over a regular polygon of an even number of sides, centred on the z axis."""
    radius = across_flats / 2 / math.cos(math.pi / sides)
    corners = [
        (
            radius * math.cos(2 * math.pi * corner / sides),
            radius * math.sin(2 * math.pi * corner / sides),
        )
        for corner in range(sides)
    ]
    return prism(corners, height)


def cut(body: TopoDS_Shape, tools: Iterable[TopoDS_Shape]) -> TopoDS_Shape:
    """The body without the tools."""
    for tool in tools:
        body = BRepAlgoAPI_Cut(body, tool).Shape()
    return body


def fuse(body: TopoDS_Shape, other: TopoDS_Shape) -> TopoDS_Shape:
    """Both bodies as one."""
    return BRepAlgoAPI_Fuse(body, other).Shape()


def moved(shape: TopoDS_Shape, x: float, y: float, z: float = 0.0) -> TopoDS_Shape:
    """The shape, shifted."""
    transform = gp_Trsf()
    transform.SetTranslation(gp_Vec(x, y, z))
    return BRepBuilderAPI_Transform(shape, transform, True).Shape()


def turned(shape: TopoDS_Shape, axis: Point, angle: float) -> TopoDS_Shape:
    """The shape, turned about an axis through the origin by an angle in radians."""
    transform = gp_Trsf()
    transform.SetRotation(gp_Ax1(gp_Pnt(0, 0, 0), gp_Dir(*axis)), angle)
    return BRepBuilderAPI_Transform(shape, transform, True).Shape()


def through_hole(x: float, y: float, diameter: float, height: float) -> TopoDS_Shape:
    """A tool for a round hole through a plate that stands on the xy plane."""
    axis = gp_Ax2(gp_Pnt(x, y, -1.0), gp_Dir(0, 0, 1))
    return BRepPrimAPI_MakeCylinder(axis, diameter / 2, height + 2.0).Shape()


def compound(shapes: Iterable[TopoDS_Shape]) -> TopoDS_Shape:
    """Several shapes as one."""
    result = TopoDS_Compound()
    builder = BRep_Builder()
    builder.MakeCompound(result)
    for shape in shapes:
        builder.Add(result, shape)
    return result


def write_brep(shape: TopoDS_Shape, path: Path) -> Path:
    """Write BREP text."""
    assert BRepTools.Write_s(shape, str(path))
    return path


def write_step(
    parts: Sequence[tuple[str, TopoDS_Shape]],
    path: Path,
    unit: str = "MM",
    assembly: str = "",
    layers: Mapping[str, str] | None = None,
) -> Path:
    """Write named parts as one STEP file whose length unit is ``unit`` ("MM", "INCH", "M", ...).

    Coordinates are millimetres whatever the unit. With ``assembly`` the parts become components of
    one assembly of that name; a shape that occurs twice becomes two instances of one product. ``layers``
    names a layer by part.
    """
    document = TDocStd_Document(TCollection_ExtendedString("XmlOcaf"))
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    layer_tool = XCAFDoc_DocumentTool.LayerTool_s(document.Main())
    root: Any = tool.NewShape() if assembly else None
    if root is not None:
        TDataStd_Name.Set_s(root, TCollection_ExtendedString(assembly, True))
    for name, shape in parts:
        label = tool.AddShape(shape, False)
        TDataStd_Name.Set_s(label, TCollection_ExtendedString(name, True))
        if layers and name in layers:
            layer_tool.SetLayer(label, TCollection_ExtendedString(layers[name], True))
        if root is not None:
            component = tool.AddComponent(root, label, TopLoc_Location())
            TDataStd_Name.Set_s(component, TCollection_ExtendedString(name, True))
    if root is not None:
        tool.UpdateAssemblies()
    writer = STEPCAFControl_Writer()
    writer.SetNameMode(True)
    writer.SetLayerMode(True)
    before = Interface_Static.CVal_s("write.step.unit")
    assert Interface_Static.SetCVal_s("write.step.unit", unit)
    try:
        assert writer.Transfer(document, STEPControl_AsIs)
        assert writer.Write(str(path)) == IFSelect_RetDone
    finally:
        Interface_Static.SetCVal_s("write.step.unit", before)
    return path
