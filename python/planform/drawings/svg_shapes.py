"""The shapes of SVG as curves, in user units: what an element draws, before transforms.

Path data is read by svgelements.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from typing import Any
from xml.etree.ElementTree import Element

import svgelements

from planform._planform import Arc, EllipticalArc, Line, Spline
from planform.curves import Curve
from planform.drawings.svg_document import numbers_of, user_length

ROUNDING = 1e-12
PATH_CHARACTERS = re.compile(r"[MmZzLlHhVvCcSsQqTtAa0-9eE+\-.,\s]*")

Size = tuple[float, float]


def diagonal(size: Size) -> float:
    """What per cent of a radius are of (SVG 1.1, 7.10)."""
    return math.hypot(*size) / math.sqrt(2)


def _line(element: Element, size: Size) -> Iterator[Curve]:
    x1, x2 = (user_length(element.get(name), size[0]) for name in ("x1", "x2"))
    y1, y2 = (user_length(element.get(name), size[1]) for name in ("y1", "y2"))
    yield Line((x1, y1), (x2, y2))


def _polyline(element: Element, size: Size, closed: bool = False) -> Iterator[Curve]:
    numbers = numbers_of(re.sub(r"(?<=[\d.])-", " -", element.get("points") or ""))
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    if closed and len(points) > 1 and points[0] != points[-1]:
        points.append(points[0])
    for start, end in itertools.pairwise(points):
        yield Line(start, end)


def _polygon(element: Element, size: Size) -> Iterator[Curve]:
    yield from _polyline(element, size, closed=True)


def _circle(element: Element, size: Size) -> Iterator[Curve]:
    center = (user_length(element.get("cx"), size[0]), user_length(element.get("cy"), size[1]))
    radius = user_length(element.get("r"), diagonal(size))
    if radius != 0:
        yield Arc(center, radius)


def _ellipse(element: Element, size: Size) -> Iterator[Curve]:
    x, y = user_length(element.get("cx"), size[0]), user_length(element.get("cy"), size[1])
    rx = user_length(element.get("rx"), size[0])
    ry = user_length(element.get("ry"), size[1])
    if rx != 0 and ry != 0:
        yield whole_or_arc((x, y), rx, ry, 0.0, 0.0, math.tau)


def _rectangle(element: Element, size: Size) -> Iterator[Curve]:
    x, y = user_length(element.get("x"), size[0]), user_length(element.get("y"), size[1])
    width = user_length(element.get("width"), size[0])
    height = user_length(element.get("height"), size[1])
    if width < 0 or height < 0:
        raise ValueError("a side is negative")
    if width == 0 or height == 0:
        return
    rx = user_length(element.get("rx"), size[0], -1.0)
    ry = user_length(element.get("ry"), size[1], -1.0)
    rx, ry = (ry if rx < 0 else rx), (rx if ry < 0 else ry)
    rx, ry = min(max(rx, 0.0), width / 2), min(max(ry, 0.0), height / 2)
    if rx == 0 or ry == 0:
        rx = ry = 0.0
    right, top = x + width, y + height
    # From each side into the corner at its end: centre and angle at which the corner starts.
    sides = [
        ((x + rx, y), (right - rx, y), (right - rx, y + ry), -math.pi / 2),
        ((right, y + ry), (right, top - ry), (right - rx, top - ry), 0.0),
        ((right - rx, top), (x + rx, top), (x + rx, top - ry), math.pi / 2),
        ((x, top - ry), (x, y + ry), (x + rx, y + ry), math.pi),
    ]
    for start, end, center, angle in sides:
        if start != end:
            yield Line(start, end)
        if rx > 0:
            yield whole_or_arc(center, rx, ry, 0.0, angle, math.pi / 2)


def whole_or_arc(
    center: tuple[float, float], rx: float, ry: float, turn: float, start: float, sweep: float
) -> Curve:
    """An arc of an ellipse with half-axes rx and ry, turned; start and sweep are parameters."""
    if rx < 0 or ry < 0 or not math.isfinite(rx + ry):
        raise ValueError("a radius is negative or not finite")
    if rx == ry:
        return Arc(center, rx, start + turn, sweep)
    if rx > ry:
        return EllipticalArc(
            center, (rx * math.cos(turn), rx * math.sin(turn)), ry / rx, start, sweep
        )
    # The other axis is the longer one: parameters count from it.
    longer = (-ry * math.sin(turn), ry * math.cos(turn))
    return EllipticalArc(center, longer, rx / ry, start - math.pi / 2, sweep)


def _path(element: Element, size: Size) -> Iterator[Curve]:
    data = element.get("d") or ""
    if not PATH_CHARACTERS.fullmatch(data):
        raise ValueError("its path has characters that are no commands or numbers")
    # "1." is a number in SVG 1.1, and svgelements takes it for none.
    for segment in svgelements.Path(re.sub(r"(\d)\.(?!\d)", r"\1", data)):
        yield from _segment(segment)


def _segment(segment: Any) -> Iterator[Curve]:
    if isinstance(segment, svgelements.Move):
        return
    if isinstance(segment, svgelements.Close):
        start, end = _xy(segment.start), _xy(segment.end)
        # What rounding has left between a path's end and its start is no line.
        size = max(map(abs, (*start, *end)))
        if math.dist(start, end) > ROUNDING * size:
            yield Line(start, end)
    elif isinstance(segment, svgelements.Line):
        yield Line(_xy(segment.start), _xy(segment.end))
    elif isinstance(segment, svgelements.Arc):
        yield from _arc(segment)
    else:
        poles = [_xy(point) for point in segment]
        degree = len(poles) - 1
        yield Spline(degree, [0.0] * (degree + 1) + [1.0] * (degree + 1), poles)


def _arc(segment: Any) -> Iterator[Curve]:
    if segment.rx == 0 or segment.ry == 0 or segment.sweep == 0:
        yield Line(_xy(segment.start), _xy(segment.end))
        return
    turn = float(segment.get_rotation())
    center, start = _xy(segment.center), _xy(segment.start)
    dx, dy = start[0] - center[0], start[1] - center[1]
    rx, ry = float(segment.rx), float(segment.ry)
    along = (dx * math.cos(turn) + dy * math.sin(turn)) / rx
    across = (dy * math.cos(turn) - dx * math.sin(turn)) / ry
    yield whole_or_arc(center, rx, ry, turn, math.atan2(across, along), float(segment.sweep))


def _xy(point: Any) -> tuple[float, float]:
    return float(point.x), float(point.y)


SHAPES = {
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
    "circle": _circle,
    "ellipse": _ellipse,
    "rect": _rectangle,
    "path": _path,
}
"""By the name of the element: its curves, given the size that per cent are of."""
