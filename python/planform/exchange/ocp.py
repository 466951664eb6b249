"""Shapes of OCP (`cadquery-ocp` on PyPI) and of the libraries around it: taken over as BREP bytes.

The kernel in that package is another build than ours, so that no object may cross from one to the other;
bytes may. What an object says about itself (name, colour, parts) is read from the attributes that those
libraries give it, whatever version they are of; nothing of them is imported before a shape of theirs is at
hand.
"""

from __future__ import annotations

import importlib
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from planform import _planform
from planform._planform import Datum, Model, ProfileSet, Solid, from_brep, silhouette
from planform.errors import GeometryError

__all__ = ["from_face", "from_ocp", "to_ocp"]

DEEPEST = 100
"""Levels of an assembly; deeper ones hold themselves."""

Color = tuple[float, float, float]


@dataclass(frozen=True)
class Part:
    """A shape with what its object says about it. An empty name, no path: it says nothing."""

    shape: Any
    name: str = ""
    path: tuple[str, ...] = ()
    color: Color | None = None

    @property
    def is_plain(self) -> bool:
        """True if there is nothing to keep but the shape."""
        return not (self.name or self.path or self.color)


def from_ocp(obj: Any, *, unit: str | None = None, scale: float = 1.0) -> Model:
    """Take a shape, or an assembly of them, that another Python library holds in memory.

    Parameters
    ----------
    obj : OCP.TopoDS.TopoDS_Shape or object
        A shape of OCP; an object that holds one as ``.wrapped``; a builder, a chain of operations, an
        assembly, as libraries around OCP have them; or an iterable of any of these. Names (``label``,
        ``name``), colours and the tree of parts are kept.
    unit : {'mm', 'cm', 'm', 'um', 'inch', 'foot'}, optional
        Unit of the shape's lengths; mm without it.
    scale : float, optional
        Multiply all lengths by this, no unit.

    Returns
    -------
    Model
        Its lengths in mm.

    Raises
    ------
    GeometryError
        If `obj` holds no shape, or a null one, for an unknown unit, or for a scale that is not finite and
        positive.
    LoadError
        If the shape holds no solid and no closed shell.

    Examples
    --------
    >>> import planform
    >>> from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
    >>> board = planform.from_ocp(BRepPrimAPI_MakeBox(60, 40, 3).Shape())
    >>> round(board[0].volume, 6)
    7200.0
    """
    parts = list(_parts_of(obj))
    if len(parts) == 1 and parts[0].is_plain:
        return from_brep(_brep_bytes(parts[0].shape), unit=unit, scale=scale)
    data = _brep_bytes(_compound([part.shape for part in parts]))
    if all(part.is_plain for part in parts):
        return from_brep(data, unit=unit, scale=scale)
    labels = [(part.name, list(part.path), part.color) for part in parts]
    return _planform._from_brep_parts(data, labels, unit, scale)


def to_ocp(obj: Solid | Model) -> Any:
    """A solid as a shape of OCP, a model as a compound of its solids, in model coordinates and mm.

    Parameters
    ----------
    obj : Solid or Model

    Returns
    -------
    OCP.TopoDS.TopoDS_Shape

    Raises
    ------
    ImportError
        Without OCP (`cadquery-ocp` on PyPI).

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = planform.write_demo_assembly(pathlib.Path(tempfile.mkdtemp()) / "station.step")
    >>> solid = planform.load(path)[0]
    >>> again = planform.from_ocp(planform.to_ocp(solid))[0]
    >>> abs(again.volume - solid.volume) < 1e-6 * solid.volume
    True
    """
    if isinstance(obj, Model):
        return _compound([to_ocp(solid) for solid in obj])
    try:
        topology = importlib.import_module("OCP.TopoDS")
        builder = importlib.import_module("OCP.BRep").BRep_Builder()
        tools = importlib.import_module("OCP.BRepTools").BRepTools
    except ImportError as error:
        raise ImportError("to_ocp needs OCP: pip install cadquery-ocp") from error
    shape = topology.TopoDS_Shape()
    tools.Read_s(shape, io.BytesIO(obj.to_brep()), builder)
    return shape


def from_face(
    cls: type[ProfileSet],
    obj: Any,
    *,
    datum: Datum | None = None,
    name: str | None = None,
    tolerance: float = 0.01,
) -> ProfileSet:
    """The outline of flat faces of OCP: of a face, a sketch, or several in one plane, united.

    Parameters
    ----------
    obj : OCP.TopoDS.TopoDS_Face or object
        As `from_ocp` takes it; all faces in it.
    datum : Datum, optional
        The plane of the outline's coordinates, parallel to the faces. Without it that of the first face: its
        origin is the foot of the model's origin, its x the model's X laid into it (Y where X is the normal).
    name : str, optional
        Free text for titles; without it the object's own.
    tolerance : float, optional
        Bound in mm on the distance between the true outline and the result; lines and arcs are exact.

    Returns
    -------
    ProfileSet
        In mm.

    Raises
    ------
    GeometryError
        If there is no face, one that is not flat, or one that lies in another plane.
    """
    parts = list(_parts_of(obj))
    faces = [face for part in parts for face in _faces_of(part.shape)]
    if not faces:
        raise GeometryError.of_kind("invalid_argument", "from_face: there is no face in the object")
    planes = [_plane_of(face) for face in faces]
    first = planes[0]
    for number, plane in enumerate(planes, 1):
        apart = abs(first.to_datum(plane.origin)[2])
        turned = 1.0 - abs(float(first.normal @ plane.normal))
        if apart > tolerance or turned > 1e-9:
            raise GeometryError.of_kind(
                "invalid_argument", f"from_face: face {number} lies in another plane than the first"
            )
    if datum is not None and 1.0 - abs(float(datum.normal @ first.normal)) > 1e-9:
        raise GeometryError.of_kind(
            "invalid_argument",
            "from_face: the datum is not parallel to the faces; take one that is",
        )
    prisms = _compound([_prism(face, first.normal) for face in faces])
    outline = silhouette(from_brep(_brep_bytes(prisms)), datum or first, tolerance)
    title = next((part.name for part in parts if part.name), "") if name is None else name
    return cls(
        [_planform.Profile(p.outer, p.holes, title, p.parent, validate=False) for p in outline],
        datum=outline.datum,
        tolerance=outline.tolerance,
        name=title,
    )


# --- what objects hold ------------------------------------------------------------------------------


def _is_shape(obj: Any) -> bool:
    """Told by the name of its class: OCP need not be imported to say no, nor be where it used to be."""
    return any(
        kind.__name__ == "TopoDS_Shape" and kind.__module__.split(".")[0] == "OCP"
        for kind in type(obj).__mro__
    )


def _wrapped(obj: Any) -> Any:
    """What an object holds as a shape, None if it holds none; the object itself if it is not of that kind."""
    try:
        return getattr(obj, "wrapped", obj)
    except Exception:  # of some libraries, where there is none
        return None


def _parts_of(obj: Any) -> Iterator[Part]:
    found = False
    for part in _walk(obj, (), None, DEEPEST):
        found = True
        yield part
    if not found:
        raise _refusal(obj)


def _refusal(obj: Any, why: str = "") -> GeometryError:
    return GeometryError.of_kind(  # type: ignore[return-value]
        "invalid_argument",
        "from_ocp takes a shape of OCP, an object that holds one as .wrapped, or several, "
        f"not {type(obj).__module__}.{type(obj).__qualname__}{', ' if why else ''}{why}",
    )


def _walk(obj: Any, path: tuple[str, ...], color: Color | None, levels: int) -> Iterator[Part]:
    """The parts of an object, its own colour for those that have none."""
    if levels == 0:
        raise GeometryError.of_kind("invalid_argument", "from_ocp: the assembly holds itself")
    shape = obj if _is_shape(obj) else _wrapped(obj)
    if _is_shape(shape):
        yield from _walk_shape(obj, shape, path, color, levels)
    elif obj is not None and shape is None:  # whatever else it could do needs its shape
        raise _refusal(obj, "which holds none")
    elif _is_located_assembly(obj):
        yield from _walk_assembly(obj, None, path, color, levels)
    elif (built := _built(obj)) is not None:  # before its selection, which may hold no shapes
        yield from _walk(built, path, color, levels - 1)
    elif callable(getattr(obj, "vals", None)):  # a chain of operations: what it holds now
        for each in obj.vals():
            yield from _walk(each, path, color, levels - 1)
    elif isinstance(obj, Iterable) and not isinstance(obj, str | bytes):
        for each in obj:
            yield from _walk(each, path, color, levels - 1)
    else:
        raise _refusal(obj)


def _walk_shape(
    obj: Any, shape: Any, path: tuple[str, ...], color: Color | None, levels: int
) -> Iterator[Part]:
    """A shape and the objects below it, which stand for its sub-shapes in their order."""
    if levels == 0:
        raise GeometryError.of_kind("invalid_argument", "from_ocp: the assembly holds itself")
    if shape.IsNull():
        raise GeometryError.of_kind("invalid_argument", "the shape is null: it holds nothing")
    name = _text(getattr(obj, "label", ""))
    own = _color_of(getattr(obj, "color", None)) or color
    children = list(getattr(obj, "children", ()) or ()) if obj is not shape else []
    below = _sub_shapes(shape) if children and _is_compound(shape) else []
    if children and len(children) == len(below):
        for child, placed in zip(children, below, strict=True):
            yield from _walk_shape(child, placed, (*path, name or "assembly"), own, levels - 1)
        return
    yield Part(shape, name, path, own)
    if not _is_compound(shape):  # its children are no parts of it but stand beside it
        for child in children:
            yield from _walk(child, (*path, name or "assembly"), own, levels - 1)


def _is_located_assembly(obj: Any) -> bool:
    return all(hasattr(obj, name) for name in ("loc", "children", "obj"))


def _walk_assembly(
    node: Any, above: Any, path: tuple[str, ...], color: Color | None, levels: int
) -> Iterator[Part]:
    """A node that holds an object and further nodes, each at a location relative to its parent's."""
    if levels == 0:
        raise GeometryError.of_kind("invalid_argument", "from_ocp: the assembly holds itself")
    own = getattr(node.loc, "wrapped", node.loc)
    location = own if above is None else above.Multiplied(own)
    color = _color_of(getattr(node, "color", None)) or color
    name = _text(getattr(node, "name", ""))
    if node.obj is not None:
        for part in _walk(node.obj, path, color, levels - 1):
            shape = part.shape.Moved(location)
            # The object's own name, if it has one, stands below that of the node.
            if part.name or len(part.path) > len(path):
                below = (*path, name, *part.path[len(path) :])
                yield Part(shape, part.name, below, part.color)
            else:
                yield Part(shape, name, path, part.color)
    for child in node.children:
        yield from _walk_assembly(child, location, (*path, name or "assembly"), color, levels - 1)


def _built(obj: Any) -> Any:
    """What a builder has made so far."""
    for name in ("part", "sketch", "line", "_faces"):
        built = getattr(obj, name, None)
        if _is_shape(getattr(built, "wrapped", None)):
            return built
    return None


def _text(value: Any) -> str:
    return value if isinstance(value, str) else ""


def _color_of(color: Any) -> Color | None:
    """sRGB. The kernel keeps colours linear: IEC 61966-2-1 has the curve between the two."""
    held = getattr(color, "wrapped", color)
    held = held.GetRGB() if hasattr(held, "GetRGB") else held
    if hasattr(held, "Red"):
        red, green, blue = (_srgb(part()) for part in (held.Red, held.Green, held.Blue))
        return red, green, blue
    return None


def _srgb(linear: float) -> float:
    return 12.92 * linear if linear <= 0.0031308 else 1.055 * linear ** (1 / 2.4) - 0.055


# --- shapes -----------------------------------------------------------------------------------------


def _ocp(module: str) -> Any:
    return importlib.import_module(f"OCP.{module}")


def _brep_bytes(shape: Any) -> bytes:
    stream = io.BytesIO()
    _ocp("BRepTools").BRepTools.Write_s(shape, stream)
    return stream.getvalue()


def _compound(shapes: list[Any]) -> Any:
    compound = _ocp("TopoDS").TopoDS_Compound()
    builder = _ocp("BRep").BRep_Builder()
    builder.MakeCompound(compound)
    for shape in shapes:
        builder.Add(compound, shape)
    return compound


def _sub_shapes(shape: Any) -> list[Any]:
    """Those right below, placed and turned as the shape is."""
    iterator = _ocp("TopoDS").TopoDS_Iterator(shape)
    shapes = []
    while iterator.More():
        shapes.append(iterator.Value())
        iterator.Next()
    return shapes


def _is_compound(shape: Any) -> bool:
    return bool(shape.ShapeType() == _ocp("TopAbs").TopAbs_ShapeEnum.TopAbs_COMPOUND)


def _faces_of(shape: Any) -> list[Any]:
    kinds = _ocp("TopAbs").TopAbs_ShapeEnum
    if shape.ShapeType() == kinds.TopAbs_FACE:
        return [shape]
    explorer = _ocp("TopExp").TopExp_Explorer(shape, kinds.TopAbs_FACE)
    faces = []
    while explorer.More():
        faces.append(explorer.Current())
        explorer.Next()
    return faces


def _plane_of(face: Any) -> Datum:
    """The plane of a flat face, its normal on the face's outer side."""
    topology = _ocp("TopoDS")
    # In the versions in use the cast is a function of the module, or a static one of a class.
    cast = getattr(topology, "TopoDS", topology)
    to_face = getattr(cast, "Face_s", None) or getattr(cast, "Face", None)
    surface = _ocp("BRepAdaptor").BRepAdaptor_Surface(to_face(face) if to_face else face)
    if surface.GetType() != _ocp("GeomAbs").GeomAbs_SurfaceType.GeomAbs_Plane:
        raise GeometryError.of_kind("invalid_argument", "from_face: a face is not flat")
    plane = surface.Plane()
    direction, place = plane.Axis().Direction(), plane.Location()
    normal = [direction.X(), direction.Y(), direction.Z()]
    if not plane.Direct():
        normal = [-part for part in normal]
    if face.Orientation() == _ocp("TopAbs").TopAbs_Orientation.TopAbs_REVERSED:
        normal = [-part for part in normal]
    height = sum(n * p for n, p in zip(normal, (place.X(), place.Y(), place.Z()), strict=True))
    return Datum([height * part for part in normal], normal)


def _prism(face: Any, normal: Any) -> Any:
    vector = _ocp("gp").gp_Vec(*(float(part) for part in normal))
    return _ocp("BRepPrimAPI").BRepPrimAPI_MakePrism(face, vector).Shape()
