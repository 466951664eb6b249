"""The shadow of a solid by another way: mesh it with another build of the kernel, project every
triangle, unite them with Shapely. Slow and not exact, but it shares no line of code with planform."""

from __future__ import annotations

import gzip
import tempfile
from pathlib import Path

import numpy
import shapely
from OCP.BRep import BRep_Builder, BRep_Tool
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader
from OCP.StlAPI import StlAPI_Writer
from OCP.TopAbs import TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS_Shape

STL_TRIANGLE = numpy.dtype([("normal", "<f4", 3), ("corners", "<f4", (3, 3)), ("attribute", "<u2")])


def read_shape(path: Path) -> TopoDS_Shape:
    """Read a STEP (also gzip-compressed) or BREP file with OCP; lengths in mm."""
    if path.suffix == ".gz":
        with tempfile.TemporaryDirectory() as folder:
            plain = Path(folder) / path.stem
            plain.write_bytes(gzip.decompress(path.read_bytes()))
            return read_shape(plain)
    if path.suffix in (".brep", ".brp"):
        shape = TopoDS_Shape()
        assert BRepTools.Read_s(shape, str(path), BRep_Builder()), path
        return shape
    reader = STEPControl_Reader()
    assert reader.ReadFile(str(path)) == IFSelect_RetDone, path
    reader.TransferRoots()
    return reader.OneShape()


def bodies(shape: TopoDS_Shape) -> list[TopoDS_Shape]:
    """The solids of a shape, and the closed shells that are in none."""
    found = []
    explorer = TopExp_Explorer(shape, TopAbs_SOLID)
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    explorer = TopExp_Explorer(shape, TopAbs_SHELL, TopAbs_SOLID)
    while explorer.More():
        if BRep_Tool.IsClosed_s(explorer.Current()):
            found.append(explorer.Current())
        explorer.Next()
    return found


def triangles(shape: TopoDS_Shape, deflection: float) -> numpy.ndarray:
    """Corners of a mesh within ``deflection`` mm of the shape, array of shape (n, 3, 3) in mm."""
    BRepTools.Clean_s(shape)
    BRepMesh_IncrementalMesh(shape, deflection, False, 0.5, False)
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "mesh.stl"
        writer = StlAPI_Writer()
        writer.ASCIIMode = False
        writer.Write(shape, str(path))
        data = path.read_bytes() if path.exists() else b""
    if len(data) < 84:  # a body without faces: nothing is written
        return numpy.empty((0, 3, 3))
    # Binary STL: a header of 80 bytes, the number of triangles, 50 bytes a triangle.
    return numpy.frombuffer(data, STL_TRIANGLE, offset=84)["corners"].astype(float)


def shadow(
    corners: numpy.ndarray, x_axis: numpy.ndarray, y_axis: numpy.ndarray
) -> shapely.Geometry:
    """The union of the triangles as seen along x_axis × y_axis, in the plane of the two axes.

    All triangles count, not only those that face the viewer: meshes of real files have some that are
    turned the wrong way.
    """
    flat = numpy.stack([corners @ x_axis, corners @ y_axis], axis=-1)
    first, second = flat[:, 1] - flat[:, 0], flat[:, 2] - flat[:, 0]
    doubled = first[:, 0] * second[:, 1] - first[:, 1] * second[:, 0]
    size = numpy.ptp(flat.reshape(-1, 2), axis=0).max()
    flat = flat[numpy.abs(doubled) > 1e-12 * size * size]
    return shapely.unary_union(shapely.polygons(flat))
