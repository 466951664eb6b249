"""SVG in: shapes, paths, groups, transforms and ``use``, as loose curves in mm.

The XML comes from the standard library's expat, which follows nothing outside the file; path data and lists
of transforms are read by svgelements. Its own walk through a document is not used, as it rounds a
millimetre to six digits.
"""

from __future__ import annotations

import os
from dataclasses import dataclass, replace
from pathlib import Path
from xml.etree.ElementTree import Element

import numpy as np
import svgelements
from numpy.typing import NDArray

from planform.curves import Curve
from planform.drawings.dxf_entities import Unreadable, require_sane
from planform.drawings.loose import LeftOver, LooseCurve, LooseCurves
from planform.drawings.source_file import DRAWING_UNITS, MOST_CURVES, require_file, require_scale
from planform.drawings.svg_document import (
    UNITS,
    Styles,
    attribute,
    local_name,
    parse_xml,
    split_length,
    user_length,
    view_box,
    view_scale,
    view_shift,
)
from planform.drawings.svg_shapes import SHAPES
from planform.errors import GeometryError, LoadError

__all__ = ["read_svg"]

GROUPS = ("g", "a", "switch")
NOT_DRAWN = ("defs", "symbol", "clipPath", "mask", "pattern", "marker", "linearGradient", "filter",
             "radialGradient", "style", "title", "desc", "metadata", "script", "animate")  # fmt: skip
DEEPEST_USE = 32
MOST_VISITS = 4_000_000


def read_svg(
    path: str | os.PathLike[str], *, unit: str | None = None, scale: float = 1.0
) -> LooseCurves:
    """Read the outlines of an SVG drawing.

    Paths (all commands), lines, polylines, polygons, rectangles, circles and ellipses, in groups, nested
    drawings and ``use``, under any transforms. Lines stay lines, arcs arcs (elliptical ones under a
    transform that needs it), Bezier curves become splines. y points up in the result, and the origin is
    that of the drawing's user space. Text, images and what can't be read are listed in ``left_over``.

    Parameters
    ----------
    path : path-like
    unit : str, optional
        Read a user unit as this, whatever the file says: ``"px"`` (1/96 inch), ``"pt"`` or one of the
        units of `read_dxf`. Without it width and height of the drawing say how large a user unit is;
        where they are absent or in px, CSS's 96 px an inch are assumed and ``unit_is_known`` is False.
    scale : float, optional
        Multiply all lengths by this (10 for a drawing at 1:10).

    Returns
    -------
    LooseCurves
        In mm. The layer of a curve is the label or id of the outermost group around it that has one.

    Raises
    ------
    LoadError
        If the file is missing, empty, no SVG, damaged, too large, or has entities that could grow.
    GeometryError
        For an unknown unit, or a scale that is not positive and finite.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "roof.svg"
    >>> _ = path.write_text(
    ...     '<svg xmlns="http://www.w3.org/2000/svg" width="80mm" height="40mm" viewBox="0 0 800 400">'
    ...     '<rect width="800" height="400"/><circle cx="200" cy="200" r="50"/></svg>')
    >>> loose = planform.read_svg(path)
    >>> round(loose.profile_set().area / (80 * 40 - 25 * 3.141592653589793), 9)
    1.0
    """
    units = {**DRAWING_UNITS, "px": UNITS["px"], "pt": UNITS["pt"]}
    if unit is not None and unit not in units:
        raise GeometryError.of_kind(
            "unknown_option", f"unit = {unit!r} is unknown; valid: {', '.join(units)}"
        )
    require_scale(scale)
    source = Path(path)
    require_file(source)
    try:
        data = source.read_bytes()
    except OSError as error:
        raise LoadError.of_kind("file_unreadable", f"{source}: {error.strerror}") from error
    root = parse_xml(data, source)
    if local_name(root) != "svg":
        raise LoadError.of_kind(
            "file_not_recognised", f"{source}: no SVG: its root is <{root.tag.rpartition('}')[2]}>"
        )
    return _Reader(root, source).read(units.get(unit or ""), unit, scale)


@dataclass(frozen=True)
class _Context:
    """What shapes have from the elements around them."""

    matrix: NDArray[np.float64]
    size: tuple[float, float]
    layer: str = ""
    color: str = ""
    name: str = ""
    hidden: bool = False
    uses: tuple[str, ...] = ()
    group: int = -1


class _Reader:
    def __init__(self, root: Element, source: Path) -> None:
        self.root = root
        self.source = source
        self.styles = Styles(root)
        self.by_id = {e.get("id"): e for e in root.iter() if e.get("id")}
        self.curves: list[LooseCurve] = []
        self.left_over: list[LeftOver] = []
        self.groups = 0
        self.visits = 0
        self.hidden = 0

    # --- size ------------------------------------------------------------------------------------

    def read(self, forced: float | None, word: str | None, factor: float) -> LooseCurves:
        (across, up), known, size = self.user_unit()
        if forced is not None:
            across = up = forced
            known = True
        across, up = factor * across, factor * up
        matrix = np.array([[across, 0.0, 0.0], [0.0, -up, 0.0]])
        context = _Context(matrix, size)
        for child in self.root:
            self.visit(child, context)
        title = next((e.text for e in self.root if local_name(e) == "title"), None)
        words = next((e.text for e in self.root if local_name(e) == "desc"), None) or ""
        loose = LooseCurves(
            tuple(self.curves),
            tuple(self.left_over),
            self.source,
            word or _stated_unit(self.root) or "px",
            known,
            name=(title or self.source.stem).strip(),
            notes=tuple(line.strip() for line in words.splitlines() if line.strip()),
        )
        return loose if known else replace(loose, unit_text=self.unit_question(loose, across))

    def user_unit(self) -> tuple[tuple[float, float], bool, tuple[float, float]]:
        """mm of a user unit in x and y, whether the file says so, and the viewport in user units."""
        box = view_box(self.root)
        lengths = [split_length(self.root.get(name)) for name in ("width", "height")]
        absolute = [
            length[0] * UNITS[length[1] or "px"]
            if length and (length[1] or "px") in UNITS and length[0] > 0
            else None
            for length in lengths
        ]
        known = any(
            length is not None and length[1] in UNITS and length[1] != "px" for length in lengths
        )
        px = UNITS["px"]
        if box is None:
            width, height = ((mm or 100 * px) / px for mm in absolute)
            return (px, px), known, (width, height)
        width_mm, height_mm = absolute
        if width_mm is None and height_mm is None:
            return (px, px), False, (box[2], box[3])
        if width_mm is None:
            width_mm = (height_mm or 0.0) * box[2] / box[3]
        if height_mm is None:
            height_mm = width_mm * box[3] / box[2]
        return view_scale(self.root, width_mm, height_mm), known, (box[2], box[3])

    def unit_question(self, loose: LooseCurves, scale: float) -> str:
        """What is unknown about the size, with both readings."""
        (x0, y0), (x1, y1) = loose.bounds
        width, height = x1 - x0, y1 - y0
        return (
            f"the drawing gives its size in px or not at all: at 96 px an inch it is {width:.6g} x "
            f"{height:.6g} mm, with a user unit of 1 mm {width / scale:.6g} x {height / scale:.6g} mm; "
            "give the unit (--read-unit mm; in Python unit='mm')"
        )

    # --- walk ------------------------------------------------------------------------------------

    def visit(self, element: Element, context: _Context) -> None:
        self.visits += 1
        if self.visits > MOST_VISITS or len(self.curves) > MOST_CURVES:
            raise LoadError.of_kind(
                "file_unreadable", f"{self.source}: it stands for more than {MOST_VISITS} elements"
            )
        kind = local_name(element)
        if kind == "" or kind in NOT_DRAWN:
            return
        label = f"{kind} #{element.get('id')}" if element.get("id") else f"{kind} {self.visits}"
        if self.styles.of(element, "display") == "none":
            self.left_over.append(LeftOver("hidden", label, context.layer))
            return
        try:
            inner = self.inside(element, context)
        except (ValueError, TypeError, ArithmeticError) as error:
            self.left_over.append(LeftOver("unread", label, context.layer, text=str(error)))
            return
        if kind in GROUPS:
            inner = self.as_group(element, inner, context)
            for child in element:
                self.visit(child, inner)
        elif kind == "svg":
            self.nested(element, element, inner, context)
        elif kind == "use":
            self.use(element, inner, label)
        elif kind in SHAPES:
            self.shape(element, kind, inner, label)
        elif kind in ("text", "tspan", "textPath"):
            text = " ".join("".join(element.itertext()).split())
            self.left_over.append(LeftOver("text", label, context.layer, text=text))
        else:
            self.left_over.append(LeftOver("other", label, context.layer))

    def inside(self, element: Element, context: _Context) -> _Context:
        """The context with the element's own transform, colour and visibility."""
        own = self.styles.of(element, "transform") or ""
        matrix = combined(context.matrix, transform_of(own)) if own else context.matrix
        color = _color(self.styles.of(element, "stroke"), self.styles.of(element, "color"))
        visibility = self.styles.of(element, "visibility")
        hidden = context.hidden if visibility is None else visibility in ("hidden", "collapse")
        title = next((e.text for e in element if local_name(e) == "title"), None)
        return replace(
            context,
            matrix=matrix,
            color=context.color if color is None else color,
            hidden=hidden,
            name=title.strip() if title else context.name,
        )

    def as_group(self, element: Element, inner: _Context, context: _Context) -> _Context:
        if context.layer:
            return inner
        label = attribute(element, "label") or element.get("id") or ""
        return replace(inner, layer=label)

    def nested(self, element: Element, sized: Element, inner: _Context, context: _Context) -> None:
        """A drawing or a symbol with a viewport of its own; ``sized`` says how large."""
        whole = context.size
        x = user_length(element.get("x"), whole[0]) if local_name(element) == "svg" else 0.0
        y = user_length(element.get("y"), whole[1]) if local_name(element) == "svg" else 0.0
        width = user_length(sized.get("width") or element.get("width"), whole[0], whole[0])
        height = user_length(sized.get("height") or element.get("height"), whole[1], whole[1])
        scales = view_scale(element, width, height)
        shift = view_shift(element, width, height, scales)
        fit = np.array([[scales[0], 0.0, x + shift[0]], [0.0, scales[1], y + shift[1]]])
        box = view_box(element)
        size = (box[2], box[3]) if box else (width, height)
        placed = replace(inner, matrix=combined(inner.matrix, fit), size=size)
        for child in element:
            self.visit(child, placed)

    def use(self, element: Element, inner: _Context, label: str) -> None:
        target = (attribute(element, "href") or "").strip()
        found = self.by_id.get(target[1:]) if target.startswith("#") else None
        if found is None:
            reason = f"what it refers to ({target[:80]!r}) is not in the file"
            self.left_over.append(LeftOver("unread", label, inner.layer, text=reason))
            return
        if target in inner.uses or len(inner.uses) >= DEEPEST_USE:
            raise LoadError.of_kind(
                "file_damaged", f"{self.source}: {label} refers to itself by way of {target!r}"
            )
        x = user_length(element.get("x"), inner.size[0])
        y = user_length(element.get("y"), inner.size[1])
        shift = np.array([[1.0, 0.0, x], [0.0, 1.0, y]])
        placed = replace(inner, matrix=combined(inner.matrix, shift), uses=(*inner.uses, target))
        if local_name(found) in ("symbol", "svg"):
            self.nested(found, element, self.inside(found, placed), placed)
        else:
            self.visit(found, placed)

    def shape(self, element: Element, kind: str, inner: _Context, label: str) -> None:
        if inner.hidden:
            self.left_over.append(LeftOver("hidden", label, inner.layer))
            return
        group = self.groups
        self.groups += 1
        try:
            curves = [_placed(curve, inner.matrix) for curve in SHAPES[kind](element, inner.size)]
        except (Unreadable, GeometryError, ValueError, ArithmeticError, TypeError,
                AttributeError, IndexError) as reason:  # fmt: skip
            self.left_over.append(LeftOver("unread", label, inner.layer, text=str(reason)))
            return
        for curve in curves:
            self.curves.append(
                LooseCurve(curve, label, inner.layer, inner.color, inner.name, group)
            )


def _stated_unit(root: Element) -> str:
    for name in ("width", "height"):
        parts = split_length(root.get(name))
        if parts and parts[1] in UNITS:
            return {"in": "inch"}.get(parts[1], parts[1])
    return ""


def _color(stroke: str | None, current: str | None) -> str | None:
    """A stroke's colour as ``#rrggbb``, empty for none, None if it is not stated."""
    if stroke is None:
        return None
    if stroke.strip().lower() == "currentcolor":
        stroke = current or "black"
    try:
        color = svgelements.Color(stroke)
    except (ValueError, TypeError):
        return ""
    if color.value is None:
        return ""
    return f"#{color.red:02x}{color.green:02x}{color.blue:02x}"


def transform_of(text: str) -> NDArray[np.float64]:
    """A list of transforms as a (2, 3) matrix. Raises ValueError."""
    matrix = svgelements.Matrix(text)
    result = np.array([[matrix.a, matrix.c, matrix.e], [matrix.b, matrix.d, matrix.f]], dtype=float)
    if not np.all(np.isfinite(result)):
        raise ValueError(f"the transform {text[:80]!r} is not finite")
    return result


def combined(outer: NDArray[np.float64], inner: NDArray[np.float64]) -> NDArray[np.float64]:
    """First the inner map, then the outer."""
    result: NDArray[np.float64] = outer @ np.vstack([inner, [0.0, 0.0, 1.0]])
    return result


def _placed(curve: Curve, matrix: NDArray[np.float64]) -> Curve:
    require_sane(curve)
    image = curve.transformed(matrix)
    require_sane(image)
    return image
