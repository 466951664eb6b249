"""DXF in: ASCII and binary, by ezdxf, as loose curves in mm."""

from __future__ import annotations

import math
import os
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import ezdxf
import ezdxf.document
import ezdxf.entities as dxf
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import Matrix44, Vec3

from planform.drawings.dxf_entities import HATCHES, Tilt, Unreadable, curves_of, is_curve, tilt_of
from planform.drawings.dxf_file import comments_of, open_dxf
from planform.drawings.loose import LeftOver, LooseCurve, LooseCurves
from planform.drawings.source_file import DRAWING_UNITS, MOST_CURVES, require_scale, require_unit
from planform.errors import LoadError
from planform.naming import counted

__all__ = ["read_dxf"]

DEEPEST_BLOCK = 32

NAME_APPLICATION = "PLANFORM"
"""Extended data of this application carries the name of the part."""

UNIT_CODES = {
    1: "inch",
    2: "foot",
    4: "mm",
    5: "cm",
    6: "m",
    8: "microinch",
    9: "mil",
    10: "yard",
    13: "um",
    14: "dm",
}
"""Values of $INSUNITS that a drawing for cutting may have; source: the published DXF reference, header
variables."""

TEXTS = (
    "TEXT", "MTEXT", "ATTRIB", "ATTDEF", "DIMENSION", "LEADER", "MULTILEADER", "ARC_DIMENSION",
    "LARGE_RADIAL_DIMENSION", "TOLERANCE",
)  # fmt: skip
AREAS = (
    "SOLID", "TRACE", "3DFACE", "3DSOLID", "REGION", "BODY", "SURFACE", "PLANESURFACE",
    "EXTRUDEDSURFACE", "LOFTEDSURFACE", "REVOLVEDSURFACE", "SWEPTSURFACE", "MESH", "RAY", "XLINE",
    "MLINE", "SHAPE", "ACAD_PROXY_ENTITY", "ACAD_TABLE",
)  # fmt: skip


def read_dxf(
    path: str | os.PathLike[str] | bytes, *, unit: str | None = None, scale: float = 1.0
) -> LooseCurves:
    """Read the curves of a DXF drawing: all of its model space, blocks taken apart.

    LINE, ARC, CIRCLE, ELLIPSE, LWPOLYLINE and POLYLINE (with bulges), SPLINE and the boundaries of HATCH
    become exact curves, seen from above whatever their extrusion direction and elevation; instances of
    blocks are placed, also nested, scaled, mirrored and in arrays. Text, points and what can't be read
    are listed in ``left_over``.

    Parameters
    ----------
    path : path-like, bytes or str
        ASCII or binary DXF of any version: the file, or its content. A str of several lines is content.
    unit : str, optional
        Read the numbers as this unit, whatever the file says: one of ``DRAWING_UNITS``. Without it
        $INSUNITS counts; where the file doesn't say, mm are assumed and ``unit_is_known`` is False.
    scale : float, optional
        Multiply all lengths by this (10 for a drawing at 1:10).

    Returns
    -------
    LooseCurves
        In mm.

    Raises
    ------
    LoadError
        If the file is missing, empty, no DXF, damaged or too large.
    GeometryError
        For an unknown unit, or a scale that is not positive and finite.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "perch.dxf"
    >>> disc = planform.Contour([planform.Arc((0, 0), radius=10)])
    >>> _ = planform.ProfileSet([planform.Profile(disc, name="perch")]).to_dxf(path)
    >>> loose = planform.read_dxf(path)
    >>> loose.curves[0].name, loose.curves[0].layer, round(loose.profile_set().area, 6)
    ('perch', 'CUT_OUTER', 314.159265)
    """
    if unit is not None:
        require_unit(unit)
    require_scale(scale)
    if isinstance(path, bytes) or (isinstance(path, str) and "\n" in path):
        return _read_content(path, unit, scale)
    source = Path(path)
    document = open_dxf(source)
    reader = _Reader(document, source, unit, scale)
    return reader.read()


def _read_content(content: bytes | str, unit: str | None, scale: float) -> LooseCurves:
    """By way of a file, so that all that is asked of files is asked of content."""
    # Read as a file's: what a str can't say in UTF-8 stands for bytes of another encoding.
    data = content if isinstance(content, bytes) else content.encode(errors="surrogateescape")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "drawing.dxf"
        path.write_bytes(data)
        try:
            loose = read_dxf(path, unit=unit, scale=scale)
        except LoadError as error:
            message = str(error).replace(str(path), "memory")
            raise LoadError.of_kind(error.kind, message) from None
    return replace(loose, source=None)


@dataclass(frozen=True)
class _Context:
    """Where entities of a block go."""

    placed: Matrix44
    layer: str = "0"
    color: str = ""
    handle: str = ""
    group: int = -1
    blocks: tuple[str, ...] = ()
    name: str = ""
    inside: str = ""


class _Reader:
    """Walks through the model space."""

    def __init__(
        self, document: ezdxf.document.Drawing, source: Path, unit: str | None, scale: float
    ) -> None:
        self.scale = scale
        self.document = document
        self.source = source
        code = _header_number(document, "$INSUNITS")
        stated = UNIT_CODES.get(code)
        self.unit = unit or stated or "mm"
        self.known = unit is not None or stated is not None
        self.code = code
        self.curves: list[LooseCurve] = []
        self.left_over: list[LeftOver] = []
        self.groups = 0
        self.instances: dict[str, int] = {}
        self.off_plane: dict[str, list[tuple[str, Tilt, int]]] = {}
        self.uneven: dict[str, list[tuple[str, float, float]]] = {}
        self.visits = 0
        self.hidden = {
            layer.dxf.name.casefold()
            for layer in document.layers
            if layer.is_off() or layer.is_frozen()
        }
        self.layer_colors = {layer.dxf.name.casefold(): layer for layer in document.layers}

    def read(self) -> LooseCurves:
        factor = DRAWING_UNITS[self.unit] * self.scale
        context = _Context(Matrix44.scale(factor, factor, factor) if factor != 1 else Matrix44())
        for entity in self.document.modelspace():
            self.visit(entity, context)
        for block, count in self.instances.items():
            self.left_over.append(
                LeftOver("block", f"block {block}", text=f"taken apart, instances: {count}")
            )
        self.left_over += self.remarks()
        loose = LooseCurves(
            tuple(self.curves),
            tuple(self.left_over),
            self.source,
            self.unit,
            self.known,
            name=self.source.stem,
            notes=comments_of(self.source),
        )
        return loose if self.known else replace(loose, unit_text=self.unit_question(loose))

    def remarks(self) -> Iterator[LeftOver]:
        """What is said of curves that are read: one for each layer that leaves z = 0 and each block that is
        placed unevenly."""
        for layer, ((label, tilt, first), *more) in self.off_plane.items():
            others = (
                f", {counted(len(more), 'more entity', 'more entities')} on the layer"
                if more
                else ""
            )
            place = self.curves[first].curve.start if first < len(self.curves) else None
            yield LeftOver(
                "off_plane",
                label,
                layer,
                None if place is None else (float(place[0]), float(place[1])),
                f"{tilt.text}{others}: drawn as seen from above",
            )
        for block, scales in self.uneven.items():
            label, across, up = scales[0]
            yield LeftOver(
                "uneven",
                label,
                text=f"block {block} is placed with scale {across:.6g} along x and {up:.6g} along y"
                f"{f' ({len(scales)} times)' if scales[1:] else ''}: circles in it are ellipses",
            )

    def unit_question(self, loose: LooseCurves) -> str:
        """What is unknown about the unit, with both readings."""
        (x0, y0), (x1, y1) = loose.bounds
        width, height = x1 - x0, y1 - y0
        if self.code == 0:
            stated = "has no unit ($INSUNITS is absent or 0)"
        else:
            stated = f"has a unit that is not read ($INSUNITS is {self.code})"
        return (
            f"the drawing {stated}: read as mm it is {width:.6g} x {height:.6g} mm, as inch "
            f"{width * 25.4:.6g} x {height * 25.4:.6g} mm; give the unit (--read-unit inch; in Python "
            "unit='inch')"
        )

    def visit(self, entity: Any, context: _Context) -> None:
        self.visits += 1
        if len(self.curves) > MOST_CURVES or self.visits > MOST_CURVES:
            raise LoadError.of_kind(
                "file_unreadable",
                f"{self.source}: blocks in blocks stand for more than {MOST_CURVES} curves",
            )
        label = _clean(f"{entity.dxftype()} #{entity.dxf.handle}") + context.inside
        try:
            self.visit_kind(entity, context, label)
        except (LoadError, MemoryError):
            raise
        except (
            Exception
        ) as reason:  # see open_dxf: damage that shows only when an attribute is asked
            text = f"it is damaged ({type(reason).__name__}: {_clean(str(reason))})"
            self.left_over.append(LeftOver("unread", label, text=text))

    def visit_kind(self, entity: Any, context: _Context, label: str) -> None:
        kind = entity.dxftype()
        if isinstance(entity, dxf.DXFTagStorage):
            text = f"{_clean(kind)!r} is no kind of entity that is known here"
            self.left_over.append(LeftOver("unread", label, text=text))
            return
        layer = _clean(entity.dxf.get("layer", "0"))
        if layer == "0" and context.inside:
            layer = context.layer
        if layer.casefold() in self.hidden or entity.dxf.get("invisible", 0):
            self.left_over.append(LeftOver("hidden", label, layer))
        elif kind == "INSERT":
            self.insert(entity, context, layer, label)
        elif is_curve(entity):
            self.add_curves(entity, context, layer, label)
        elif kind == "POINT":
            place = _place(context.placed, entity.dxf.location)
            self.left_over.append(LeftOver("point", label, layer, place))
        elif kind in TEXTS:
            self.add_text(entity, context, layer, label)
        elif kind in AREAS:
            self.left_over.append(
                LeftOver(
                    "unread",
                    label,
                    layer,
                    text=f"a {kind} is not read; explode it or redraw its outline",
                )
            )
        elif kind != "VIEWPORT":
            self.left_over.append(LeftOver("other", label, layer))

    def add_curves(self, entity: Any, context: _Context, layer: str, label: str) -> None:
        group = self.groups
        self.groups += 1
        name = _part_name(entity) or context.name
        color = self.color_of(entity, layer, context)
        handle = context.handle or entity.dxf.handle
        try:
            curves = list(curves_of(entity, context.placed))
            tilt = tilt_of(entity, context.placed)
        except Unreadable as reason:
            self.left_over.append(LeftOver("unread", label, layer, text=str(reason)))
            return
        if tilt and curves:
            self.off_plane.setdefault(layer, []).append((label, tilt, len(self.curves)))
        is_hatch = entity.dxftype() in HATCHES
        for curve in curves:
            self.curves.append(
                LooseCurve(curve, label, layer, color, name, group, handle, is_hatch)
            )

    def add_text(self, entity: Any, context: _Context, layer: str, label: str) -> None:
        text = entity.plain_text() if entity.dxftype() in ("TEXT", "MTEXT") else ""
        place = None
        if entity.dxf.hasattr("insert"):
            place = _place(context.placed, entity.dxf.insert)
        self.left_over.append(LeftOver("text", label, layer, place, _clean(str(text))))

    def insert(self, entity: Any, context: _Context, layer: str, label: str) -> None:
        name = entity.dxf.name
        block = self.document.blocks.get(name)
        if block is None:
            self.left_over.append(
                LeftOver("unread", label, layer, text=f"its block {_clean(name)!r} is missing")
            )
            return
        if name.casefold() in context.blocks or len(context.blocks) >= DEEPEST_BLOCK:
            raise LoadError.of_kind(
                "file_damaged", f"{self.source}: block {_clean(name)!r} contains itself ({label})"
            )
        rows, columns = entity.dxf.get("row_count", 1), entity.dxf.get("column_count", 1)
        if max(1, rows) * max(1, columns) > MOST_CURVES:
            raise LoadError.of_kind(
                "file_unreadable", f"{self.source}: {label} is an array of {rows} by {columns}"
            )
        across, up = (entity.dxf.get(f"{axis}scale", 1.0) for axis in "xy")
        if not math.isclose(abs(across), abs(up), rel_tol=1e-9):
            self.uneven.setdefault(_clean(name), []).append((label, across, up))
        self.instances[_clean(name)] = self.instances.get(_clean(name), 0) + 1
        for attribute in entity.attribs:
            self.add_text(attribute, context, layer, f"ATTRIB #{attribute.dxf.handle}")
        inner = replace(
            context,
            layer=layer,
            color=self.color_of(entity, layer, context),
            handle=context.handle or entity.dxf.handle,
            blocks=(*context.blocks, name.casefold()),
            name=_part_name(entity) or context.name,
            inside=f" in block {_clean(name)}" + context.inside,
        )
        for placed in _placements(entity):
            for member in block:
                self.visit(member, replace(inner, placed=placed * context.placed))

    def color_of(self, entity: Any, layer: str, context: _Context) -> str:
        """Index or ``#rrggbb``, of the entity, its block or its layer."""
        by_block, by_layer = 0, 256
        if entity.dxf.hasattr("true_color"):
            return f"#{entity.dxf.true_color & 0xFFFFFF:06x}"
        index = entity.dxf.get("color", by_layer)
        if index == by_block and context.color:
            return context.color
        if index in (by_block, by_layer):
            of_layer = self.layer_colors.get(layer.casefold())
            if of_layer is None:
                return "7"
            if of_layer.dxf.hasattr("true_color"):
                return f"#{of_layer.dxf.true_color & 0xFFFFFF:06x}"
            index = abs(of_layer.dxf.get("color", 7))
        return str(index)


def _header_number(document: ezdxf.document.Drawing, name: str) -> int:
    try:
        return int(document.header.get(name, 0))
    except (TypeError, ValueError):
        return 0


def _placements(entity: dxf.Insert) -> Iterator[Matrix44]:
    """The map of the block to where it is placed, one an instance of the array. Rows and columns are
    counted along the axes of the reference, turned with it and not scaled."""
    first = entity.matrix44()
    rows, columns = max(1, entity.dxf.row_count), max(1, entity.dxf.column_count)
    if rows == columns == 1:
        yield first
        return
    system = entity.ocs()
    turn = Matrix44.axis_rotate(Vec3(system.uz), math.radians(entity.dxf.rotation))
    along = turn.transform(Vec3(system.ux)) * entity.dxf.column_spacing
    across = turn.transform(Vec3(system.uy)) * entity.dxf.row_spacing
    for row in range(rows):
        for column in range(columns):
            shift = along * column + across * row
            yield first * Matrix44.translate(shift.x, shift.y, shift.z)


def _place(placed: Matrix44, point: Any) -> tuple[float, float] | None:
    try:
        image = placed.transform(Vec3(point))
    except (TypeError, ValueError):
        return None
    return float(image.x), float(image.y)


def _clean(text: str) -> str:
    """Text without what is no character: bytes in another encoding become U+FFFD."""
    decoded = decode_dxf_unicode(text) if "\\U+" in text else text
    return decoded.encode("utf-8", "replace").decode("utf-8").replace("\ufffd", "?")


def _part_name(entity: Any) -> str:
    """The name of the part that planform's own writer has put into the extended data."""
    if not entity.has_xdata(NAME_APPLICATION):
        return ""
    for code, value in entity.get_xdata(NAME_APPLICATION):
        if code == 1000:
            return _clean(str(value))
    return ""
