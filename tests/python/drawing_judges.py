"""Judges of drawings that share no code with planform: ezdxf for DXF, svgelements for SVG."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import ezdxf
import numpy
from svgelements import SVG, Close, Group, Line, Move, Shape
from svgelements import Path as SvgPath


@dataclass(frozen=True)
class Measured:
    """What a drawing holds, in its own unit. Inner contours count as holes."""

    area: float
    length: float
    layers: Counter[str]
    circles: list[float]
    """Diameters, ascending."""


def audited(path: Path) -> ezdxf.document.Drawing:
    """Open a DXF; fail if the auditor finds errors or has anything to fix."""
    document = ezdxf.readfile(path)
    auditor = document.audit()
    assert not auditor.errors, [error.message for error in auditor.errors]
    assert not auditor.fixes, [fix.message for fix in auditor.fixes]
    return document


def measure_dxf(path: Path) -> Measured:
    """Area, length and counts of a DXF of circles and closed polylines."""
    area = length = 0.0
    layers: Counter[str] = Counter()
    circles = []
    for entity in audited(path).modelspace():
        if entity.dxftype() == "CIRCLE":
            radius = entity.dxf.radius
            entity_area, entity_length = math.pi * radius**2, 2 * math.pi * radius
            circles.append(2 * radius)
        else:
            assert entity.dxftype() == "LWPOLYLINE", entity.dxftype()
            assert entity.closed
            entity_area, entity_length = measure_polyline(list(entity.get_points("xyb")))
        layers[entity.dxf.layer] += 1
        area += -entity_area if entity.dxf.layer == "CUT_INNER" else entity_area
        length += entity_length
    return Measured(area, length, layers, sorted(circles))


def measure_polyline(vertices: list[tuple[float, float, float]]) -> tuple[float, float]:
    """Enclosed area (positive) and length of a closed polyline with bulges.

    A bulge is the tangent of a quarter of the arc's angle (DXF reference, LWPOLYLINE). The circular
    segment between chord and arc has the area r² / 2 (angle - sin angle).
    """
    doubled = length = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, vertices[1:] + vertices[:1], strict=True):
        doubled += x0 * y1 - x1 * y0
        chord = math.hypot(x1 - x0, y1 - y0)
        if bulge == 0:
            length += chord
            continue
        angle = 4 * math.atan(bulge)
        radius = chord / 2 / math.sin(angle / 2)
        doubled += radius**2 * (angle - math.sin(angle))
        length += abs(radius * angle)
    return abs(doubled) / 2, length


def svg_area(path: Path, pieces: int = 2000) -> float:
    """Area in mm² that an SVG with the groups cut-outer and cut-inner leaves standing.

    Curves are sampled finely, so the figure is good to about 1e-6 of each curved piece's extent.
    """
    total = 0.0
    # At 25.4 pixels an inch a pixel is a millimetre, whatever the viewBox is.
    for group in SVG.parse(str(path), ppi=25.4).select(lambda item: isinstance(item, Group)):
        sign = {"cut-outer": 1, "cut-inner": -1}.get(group.id, 0)
        for element in group:
            if isinstance(element, Shape):  # not the title of one
                total += sign * shape_area(SvgPath(element), pieces)
    return total


def shape_area(shape: SvgPath, pieces: int) -> float:
    """Area of a path, each curved segment sampled."""
    doubled = 0.0
    for subpath in shape.as_subpaths():
        points = []
        for segment in SvgPath(subpath):
            count = 1 if isinstance(segment, Move | Line | Close) else pieces
            for step in range(1, count + 1):
                point = segment.point(step / count)
                points.append((point.x, point.y))
        x, y = numpy.array(points).T
        doubled += float(numpy.sum(x * numpy.roll(y, -1) - numpy.roll(x, -1) * y))
    return abs(doubled) / 2
