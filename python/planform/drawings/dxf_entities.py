"""The curves of single DXF entities, in the plane that each is drawn in.

Source of the entities' meaning: the published DXF reference (group codes of LINE, ARC, CIRCLE, ELLIPSE,
LWPOLYLINE, POLYLINE, SPLINE, HATCH; arbitrary axis algorithm for the extrusion direction).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import ezdxf.entities as dxf
import numpy as np
from ezdxf.entities.boundary_paths import (
    ArcEdge,
    EllipseEdge,
    LineEdge,
    PolylinePath,
    SplineEdge,
)
from ezdxf.math import Matrix44, Vec3, fit_points_to_cad_cv
from numpy.typing import NDArray

from planform._planform import Arc, EllipticalArc, Line, Spline
from planform.curves import Curve
from planform.errors import GeometryError

LARGEST = 1e8
"""Coordinates beyond this many mm (100 km) are taken for damage."""

LEAST_BULGE = 1e-7
"""Flatter arcs of polylines are read as lines: the rounding of their centre is more than their height."""


class Unreadable(Exception):  # noqa: N818 - never leaves the readers
    """An entity that should give curves and doesn't; the text says why."""


def curves_of(entity: dxf.DXFEntity, placed: Matrix44) -> Iterator[Curve]:
    """The curves of an entity, seen from above.

    ``placed`` takes world coordinates of the entity (or of its block) to mm. Raises Unreadable.
    """
    try:
        for curve in _READERS[entity.dxftype()](entity, placed):
            require_sane(curve)
            yield curve
    except GeometryError as error:
        raise Unreadable(str(error)) from error
    except (ValueError, ArithmeticError, IndexError, TypeError, AttributeError) as error:
        raise Unreadable(f"its numbers make no sense ({error})") from error


@dataclass(frozen=True)
class Tilt:
    """How an entity leaves the plane z = 0."""

    text: str


LEAST_HEIGHT = 1e-6
"""mm: below it a z is the rounding of a transformation."""

HATCHES = ("HATCH", "MPOLYGON")


def tilt_of(entity: Any, placed: Matrix44) -> Tilt | None:
    """How an entity that gives curves leaves z = 0, if it does: by its points, or by the plane it is in."""
    points = _spatial_points(entity)
    if points is None:
        plane = object_plane(entity, placed)
        height = _elevation(entity)
        across, up = (plane.transform_direction(axis) for axis in (Vec3(1, 0, 0), Vec3(0, 1, 0)))
        tilt = max(abs(across.z), abs(up.z)) / max(across.magnitude, up.magnitude, 1e-300)
        if tilt > 1e-9:
            return Tilt(
                f"lies in a plane that is tilted by {math.degrees(math.asin(min(tilt, 1))):.6g}°"
            )
        points = [Vec3(0, 0, height)]
        placed = plane
    heights = [placed.transform(point).z for point in points]
    low, high = min(heights, default=0.0), max(heights, default=0.0)
    if not (math.isfinite(low) and math.isfinite(high)) or max(abs(low), abs(high)) <= LEAST_HEIGHT:
        return None
    if high - low <= LEAST_HEIGHT:
        return Tilt(f"lies at z = {low:.6g} mm")
    return Tilt(f"runs from z = {low:.6g} to {high:.6g} mm")


def _spatial_points(entity: Any) -> list[Vec3] | None:
    """The points of an entity that has them in space; None for one that lies in a plane of its own."""
    kind = entity.dxftype()
    if kind == "LINE":
        return [Vec3(entity.dxf.start), Vec3(entity.dxf.end)]
    if kind == "SPLINE":
        return [Vec3(point) for point in (*entity.control_points, *entity.fit_points)]
    if kind == "POLYLINE" and entity.is_3d_polyline:
        return [Vec3(vertex.dxf.location) for vertex in entity.vertices]
    if kind == "ELLIPSE":
        center, major = Vec3(entity.dxf.center), Vec3(entity.dxf.major_axis)
        minor = Vec3(entity.dxf.extrusion).normalize().cross(major) * entity.dxf.ratio
        return [center + major, center - major, center + minor, center - minor]
    return None


def _elevation(entity: Any) -> float:
    """The height of an entity in its own plane."""
    if entity.dxftype() in ("CIRCLE", "ARC"):
        return float(Vec3(entity.dxf.center).z)
    height = entity.dxf.get("elevation", 0.0)
    return float(height if isinstance(height, int | float) else Vec3(height).z)


def is_curve(entity: dxf.DXFEntity) -> bool:
    """True for the kinds of entity that give curves."""
    return entity.dxftype() in _READERS


def require_sane(curve: Curve) -> None:
    """Raise Unreadable for coordinates that are not finite or beyond LARGEST."""
    # Plain numbers: for the four of a line, the most frequent curve, arrays take four times as long.
    numbers = [*curve.start.tolist(), *curve.end.tolist()]
    if isinstance(curve, Spline):
        numbers += curve.poles.ravel().tolist()
    elif isinstance(curve, Arc):
        numbers += [*curve.center.tolist(), curve.radius]
    elif isinstance(curve, EllipticalArc):
        numbers += [*curve.center.tolist(), *curve.major.tolist()]
    if not all(map(math.isfinite, numbers)):
        raise Unreadable("a coordinate is not a number")
    if max(map(abs, numbers)) > LARGEST:
        raise Unreadable(f"a coordinate is beyond {LARGEST:.0e} mm")


def flat(matrix: Matrix44, height: float = 0.0) -> NDArray[np.float64]:
    """The map of a plane at a height of the matrix's space to the drawing, as a (2, 3) matrix."""
    a, b, c, d = matrix.rows()
    return np.array(
        [
            [a[0], b[0], height * c[0] + d[0]],
            [a[1], b[1], height * c[1] + d[1]],
        ]
    )


def mapped(curve: Curve, matrix: NDArray[np.float64]) -> Curve:
    """The image of a curve; the very curve under the identity."""
    if not np.all(np.isfinite(matrix)):
        raise Unreadable("a number of its placement is not finite")
    if np.array_equal(matrix, [[1, 0, 0], [0, 1, 0]]):
        return curve
    return curve.transformed(matrix)


def object_plane(entity: dxf.DXFGraphic, placed: Matrix44) -> Matrix44:
    """The map from the entity's own coordinate system (given by its extrusion direction) to mm."""
    system = entity.ocs()
    if not system.transform:
        return placed
    return Matrix44.ucs(ux=system.ux, uy=system.uy, uz=system.uz) * placed


def _point(matrix: Matrix44, point: Vec3) -> tuple[float, float]:
    image = matrix.transform(point)
    return float(image.x), float(image.y)


def _line(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    yield Line(_point(placed, entity.dxf.start), _point(placed, entity.dxf.end))


def _circle(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    center = entity.dxf.center
    plane = flat(object_plane(entity, placed), center.z)
    yield mapped(Arc((center.x, center.y), entity.dxf.radius), plane)


def counter_clockwise(start: float, end: float, turn: float) -> float:
    """From start to end, above 0 and at most a whole turn."""
    sweep = math.fmod(end - start, turn)
    return sweep if sweep > 0 else sweep + turn


def _arc(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    center, start, end = entity.dxf.center, entity.dxf.start_angle, entity.dxf.end_angle
    plane = flat(object_plane(entity, placed), center.z)
    sweep = math.radians(counter_clockwise(start, end, 360.0))
    yield mapped(Arc((center.x, center.y), entity.dxf.radius, math.radians(start), sweep), plane)


def ellipse(
    center: tuple[float, float],
    major: tuple[float, float],
    ratio: float,
    start: float,
    sweep: float,
) -> Curve:
    """An elliptical arc, also where the ratio makes the second axis the longer one."""
    if 0 < ratio <= 1:
        return EllipticalArc(center, major, ratio, start, sweep)
    axes = [
        [major[0], -ratio * major[1], center[0]],
        [major[1], ratio * major[0], center[1]],
    ]
    return Arc((0, 0), 1.0, start, sweep).transformed(axes)


def _ellipse(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    center, major, ratio = entity.dxf.center, entity.dxf.major_axis, entity.dxf.ratio
    start, end = entity.dxf.start_param, entity.dxf.end_param
    whole = math.isclose(end - start, math.tau, rel_tol=1e-12)
    sweep = math.tau if whole else counter_clockwise(start, end, math.tau)
    up = Vec3(entity.dxf.extrusion).normalize()
    if up.isclose(Vec3(0, 0, 1), abs_tol=1e-12) and major.z == 0:
        own = ellipse((center.x, center.y), (major.x, major.y), ratio, start, sweep)
        yield mapped(own, flat(placed, center.z))
        return
    minor = up.cross(major) * ratio
    axes = Matrix44.ucs(ux=major, uy=minor, uz=up, origin=center) * placed
    yield mapped(Arc((0, 0), 1.0, start, sweep), flat(axes))


def polyline_curves(
    vertices: Sequence[tuple[float, float, float]], closed: bool
) -> Iterator[Curve]:
    """Lines and arcs between vertices (x, y, bulge): a bulge is the tangent of a quarter of the arc's
    angle, positive to the left."""
    following = [*vertices[1:], vertices[0]] if closed else list(vertices[1:])
    for index, ((x0, y0, bulge), (x1, y1, _)) in enumerate(zip(vertices, following, strict=False)):
        if (x0, y0) == (x1, y1) and closed and index == len(vertices) - 1:
            continue  # the last vertex is the first once more, as many programs write it
        if abs(bulge) < LEAST_BULGE or (x0, y0) == (x1, y1):
            yield Line((x0, y0), (x1, y1))
            continue
        # The centre lies off the middle of the chord by chord (1 - b^2) / (4 b), to the left.
        off = (1 - bulge * bulge) / (4 * bulge)
        center = ((x0 + x1) / 2 - off * (y1 - y0), (y0 + y1) / 2 + off * (x1 - x0))
        radius = math.hypot(x1 - x0, y1 - y0) * (1 + bulge * bulge) / (4 * abs(bulge))
        start = math.atan2(y0 - center[1], x0 - center[0])
        yield Arc(center, radius, start, 4 * math.atan(bulge))


def _light_polyline(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    plane = flat(object_plane(entity, placed), entity.dxf.get("elevation", 0.0))
    vertices = [(float(x), float(y), float(b)) for x, y, b in entity.get_points("xyb")]
    for curve in polyline_curves(vertices, entity.closed):
        yield mapped(curve, plane)


def _polyline(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    if entity.is_polygon_mesh or entity.is_poly_face_mesh:
        raise Unreadable("meshes have no outline")
    spline_frame = 16  # vertices of the control frame of a smoothed polyline are not on it
    vertices = [v for v in entity.vertices if not v.dxf.get("flags", 0) & spline_frame]
    if entity.is_3d_polyline:
        points = [_point(placed, vertex.dxf.location) for vertex in vertices]
        yield from polyline_curves([(x, y, 0.0) for x, y in points], entity.is_closed)
        return
    height = Vec3(entity.dxf.get("elevation", (0, 0, 0))).z
    plane = flat(object_plane(entity, placed), height)
    corners = [
        (v.dxf.location.x, v.dxf.location.y, float(v.dxf.get("bulge", 0.0))) for v in vertices
    ]
    for curve in polyline_curves(corners, entity.is_closed):
        yield mapped(curve, plane)


def _spline(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    poles = [Vec3(point) for point in entity.control_points]
    weights = [float(weight) for weight in entity.weights]
    knots = [float(knot) for knot in entity.knots]
    degree = int(entity.dxf.degree)
    if not poles:
        fit = [Vec3(point) for point in entity.fit_points]
        if len(fit) < 2:
            raise Unreadable("it has neither poles nor points to pass through")
        tangents = None
        if entity.dxf.hasattr("start_tangent") and entity.dxf.hasattr("end_tangent"):
            tangents = [entity.dxf.start_tangent, entity.dxf.end_tangent]
        through = fit_points_to_cad_cv(fit, tangents=tangents)
        poles, degree = list(through.control_points), through.degree
        knots, weights = list(through.knots()), list(through.weights())
    yield spline(degree, knots, [_point(placed, pole) for pole in poles], weights)


def spline(
    degree: int,
    knots: Sequence[float],
    poles: Sequence[tuple[float, float]],
    weights: Sequence[float],
) -> Spline:
    """A clamped spline, whatever the knots are: the ends of its domain are the knots number degree and
    number of poles, counted from 0. Weights that are all the same are none."""
    if len(knots) != len(poles) + degree + 1:
        raise Unreadable(
            f"{len(poles)} poles of degree {degree} need {len(poles) + degree + 1} knots, "
            f"it has {len(knots)}"
        )
    if weights and len(weights) != len(poles):
        raise Unreadable(f"it has {len(poles)} poles, but {len(weights)} weights")
    if not np.all(np.isfinite(knots)) or not np.all(np.isfinite(poles)):
        raise Unreadable("a number is not finite")
    plain = not weights or all(weight == weights[0] for weight in weights)
    scale = np.ones(len(poles)) if plain else np.asarray(weights, dtype=float)
    homogeneous = np.column_stack([np.asarray(poles, dtype=float) * scale[:, None], scale])
    values, controls = _clamped(degree, list(knots), homogeneous)
    points = controls[:, :2] / controls[:, 2:]
    return Spline(degree, values, points, [] if plain else list(controls[:, 2]))


def _clamped(
    degree: int, knots: list[float], controls: NDArray[np.float64]
) -> tuple[list[float], NDArray[np.float64]]:
    """Knots and poles (homogeneous) of the same curve with ends of full multiplicity. Source: L. Piegl,
    W. Tiller, "The NURBS Book", section 5.2 (Boehm's knot insertion)."""
    first, last = knots[degree], knots[len(controls)]
    for end in (first, last):
        while knots.count(end) < degree:
            knots, controls = _with_knot(degree, knots, controls, end)
    # The curve starts in the pole that lies `degree` before the last of the first knots, and stops in the
    # one before the first of the last knots; what is beyond bounds nothing.
    begin = len(knots) - 1 - knots[::-1].index(first)
    stop = knots.index(last)
    inner = knots[begin + 1 : stop]
    clean = [first] * (degree + 1) + inner + [last] * (degree + 1)
    return clean, controls[begin - degree : stop]


def _with_knot(
    degree: int, knots: list[float], controls: NDArray[np.float64], value: float
) -> tuple[list[float], NDArray[np.float64]]:
    """The same curve with one more knot."""
    span = max(i for i, knot in enumerate(knots) if knot <= value)
    multiplicity = knots.count(value)
    result = []
    for i in range(len(controls) + 1):
        if i <= span - degree:
            result.append(controls[i])
        elif i > span - multiplicity:
            result.append(controls[i - 1])
        else:
            share = (value - knots[i]) / (knots[i + degree] - knots[i])
            result.append(share * controls[i] + (1 - share) * controls[i - 1])
    return [*knots[: span + 1], value, *knots[span + 1 :]], np.asarray(result)


def _hatch(entity: Any, placed: Matrix44) -> Iterator[Curve]:
    height = Vec3(entity.dxf.get("elevation", (0, 0, 0))).z
    plane = flat(object_plane(entity, placed), height)
    for path in entity.paths:
        for curve in _hatch_path(path):
            yield mapped(curve, plane)


def _hatch_path(path: Any) -> Iterator[Curve]:
    if isinstance(path, PolylinePath):
        vertices = [(float(x), float(y), float(bulge)) for x, y, bulge in path.vertices]
        yield from polyline_curves(vertices, bool(path.is_closed))
        return
    for edge in path.edges:
        if isinstance(edge, LineEdge):
            yield Line((edge.start.x, edge.start.y), (edge.end.x, edge.end.y))
        elif isinstance(edge, ArcEdge):
            sweep = math.radians(counter_clockwise(edge.start_angle, edge.end_angle, 360.0))
            start = math.radians(edge.start_angle)
            yield Arc((edge.center.x, edge.center.y), edge.radius, start, sweep)
        elif isinstance(edge, EllipseEdge):
            center, major = edge.center, edge.major_axis
            whole = math.isclose(edge.end_angle - edge.start_angle, 360.0, rel_tol=1e-12)
            start = edge.start_param
            sweep = math.tau if whole else counter_clockwise(start, edge.end_param, math.tau)
            yield ellipse((center.x, center.y), (major.x, major.y), edge.ratio, start, sweep)
        elif isinstance(edge, SplineEdge):
            poles = [(float(point[0]), float(point[1])) for point in edge.control_points]
            yield spline(edge.degree, list(edge.knot_values), poles, list(edge.weights))


_READERS: dict[str, Any] = {
    "LINE": _line,
    "ARC": _arc,
    "CIRCLE": _circle,
    "ELLIPSE": _ellipse,
    "LWPOLYLINE": _light_polyline,
    "POLYLINE": _polyline,
    "SPLINE": _spline,
    "HELIX": _spline,
    "HATCH": _hatch,
    "MPOLYGON": _hatch,
}
