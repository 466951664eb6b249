"""Pictures of an inspection: the outline with every finding marked and numbered, as SVG and PNG."""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

import numpy

from planform._planform import Finding
from planform.extras import needed
from planform.measured_outline import MeasuredOutline
from planform.pictures.outlines import horizontal_dimension, plot, vertical_dimension
from planform.pictures.placing import contours_of
from planform.units.figures import MM_FIGURES, Figures

COLORS = {"error": "#b3261e", "warning": "#a65f00", "note": "#1f5fa8"}
ROOM = 56.0
"""Pixels beside the outline: dimension lines on two sides, marks on all."""
RADIUS = 9.0
"""Of a mark, in pixels."""

STYLE = (
    "text{font-family:'DejaVu Sans','Liberation Sans',Arial,sans-serif}"
    ".material{fill:#e9e2cf}.cut{stroke:#1d2b36;stroke-width:1;stroke-linejoin:round}"
    ".dimension{fill:none;stroke:#1d2b36;stroke-width:.7}"
    ".figure{fill:#1d2b36;font-size:12px;text-anchor:middle}"
    ".open{fill:none;stroke:#b3261e;stroke-width:2.2;stroke-linecap:round}"
    ".doubled{fill:none;stroke:#1f5fa8;stroke-width:3;stroke-dasharray:5 4}"
)


@dataclass(frozen=True)
class View:
    """How the drawing lies in the picture: corners of what is shown, pixels a mm, the picture's size."""

    lower: tuple[float, float]
    upper: tuple[float, float]
    scale: float
    width: float
    height: float

    @classmethod
    def of(cls, inspection: MeasuredOutline, width: float, height: float) -> View:
        """The view that fits the outline, if there is one, and all findings into the picture."""
        shown = [finding.place for finding in inspection.findings]
        shown += [point for finding in inspection.findings for point in finding.points]
        if inspection.bounds:
            shown += [numpy.array(corner) for corner in inspection.bounds]
        shown = shown or [numpy.zeros(2)]
        lower, upper = numpy.min(shown, axis=0), numpy.max(shown, axis=0)
        extent = numpy.maximum(upper - lower, 1e-9)
        scale = min((width - 2 * ROOM) / extent[0], (height - 2 * ROOM) / extent[1])
        return cls(tuple(lower), tuple(upper), float(scale), width, height)

    def place(self, point: numpy.ndarray) -> tuple[float, float]:
        """A point of the drawing in pixels, from the upper left corner."""
        middle = (numpy.array(self.lower) + numpy.array(self.upper)) / 2
        offset = self.scale * (numpy.asarray(point) - middle)
        return self.width / 2 + float(offset[0]), self.height / 2 - float(offset[1])


def label_places(view: View, findings: tuple[Finding, ...]) -> list[tuple[float, float]]:
    """Where the numbers stand: beside their places, clear of each other, inside the picture.

    Each number takes the first free spot on a ring of spots around its place, ring after ring.
    """
    step = 2 * RADIUS + 2
    taken: dict[tuple[int, int], list[tuple[float, float]]] = {}

    def cell(x: float, y: float) -> tuple[int, int]:
        return round(x / step), round(y / step)

    def is_free(x: float, y: float) -> bool:
        column, row = cell(x, y)
        near = [taken.get((column + i, row + j), []) for i in (-1, 0, 1) for j in (-1, 0, 1)]
        return all(math.hypot(x - a, y - b) >= 2 * RADIUS for places in near for a, b in places)

    def is_inside(x: float, y: float) -> bool:
        edge = RADIUS + 1
        return edge <= x <= view.width - edge and edge <= y <= view.height - edge

    def spots(x: float, y: float) -> Iterator[tuple[float, float]]:
        for ring in range(1, 12):
            for spot in range(8 * ring):
                angle = 2 * math.pi * spot / (8 * ring) - math.pi / 4
                yield x + ring * step * math.cos(angle), y + ring * step * math.sin(angle)

    result = []
    for finding in findings:
        x, y = view.place(finding.place)
        # Where there is no room anywhere near, numbers lie on each other.
        crowded = (
            min(max(x, RADIUS + 1), view.width - RADIUS - 1),
            min(max(y, RADIUS + 1), view.height - RADIUS - 1),
        )
        free = (spot for spot in spots(x, y) if is_inside(*spot) and is_free(*spot))
        label = next(free, crowded)
        taken.setdefault(cell(*label), []).append(label)
        result.append(label)
    return result


def inspection_svg(
    inspection: MeasuredOutline,
    width: float = 900.0,
    height: float = 620.0,
    *,
    figures: Figures = MM_FIGURES,
    prefix: str = "",
    styled: bool = True,
) -> str:
    """Return an ``<svg>`` element: the outline, its dimensions, every finding marked and numbered.

    ``figures`` are those of the dimensions' unit, ``prefix`` goes before the marks' ids, and without
    ``styled`` the page that takes the picture has the styles.

    Numbers count the findings from 1, in their order. A width is drawn between the points that it was
    measured between; a line leads from each place to its number. All marks are inside the picture.
    """
    profiles = inspection.profiles
    view = View.of(inspection, width, height)
    outline = "".join(
        "M" + "L".join("{:.2f} {:.2f}".format(*view.place(point)) for point in points) + "Z"
        for points in (contour.points(0.1 / view.scale) for contour in contours_of(profiles))
    )
    pieces = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:g} {height:g}" '
        f'width="{width:g}" height="{height:g}" role="img">',
        f"<style>{STYLE}</style>" if styled else "",
        f'<path class="material cut" fill-rule="evenodd" d="{outline}"/>',
    ]
    pieces += drawn_paths(inspection, view)
    if inspection.bounds:
        lower, upper = (numpy.array(corner) for corner in inspection.bounds)
        (left, bottom), (right, top) = view.place(lower), view.place(upper)
        pieces.append(
            horizontal_dimension(left, right, bottom, figures.length(float(upper[0] - lower[0])))
        )
        pieces.append(
            vertical_dimension(top, bottom, right, figures.length(float(upper[1] - lower[1])))
        )
    labels = label_places(view, inspection.findings)
    for number, (finding, label) in enumerate(
        zip(inspection.findings, labels, strict=True), start=1
    ):
        pieces.append(mark_svg(view, number, finding, label, prefix))
    pieces.append("</svg>")
    return "".join(pieces)


def drawn_paths(inspection: MeasuredOutline, view: View) -> list[str]:
    """The curves of a drawing that are in no closed outline: open ones, and those drawn twice."""
    if inspection.drawn is None:
        return []
    paths = []
    for kind, curves in (("open", inspection.drawn.open), ("doubled", inspection.drawn.doubled)):
        data = "".join(
            "M" + "L".join("{:.2f} {:.2f}".format(*view.place(p)) for p in points)
            for points in (curve.points(0.1 / view.scale) for curve in curves)
        )
        if data:
            paths.append(f'<path class="{kind}" d="{data}"/>')
    return paths


def mark_svg(
    view: View, number: int, finding: Finding, label: tuple[float, float], prefix: str = ""
) -> str:
    """One finding: its places, a line to its number, its text as a tooltip."""
    color = COLORS[finding.severity]
    x, y = view.place(finding.place)
    points = [view.place(point) for point in finding.points]
    shapes = []
    if finding.rule in ("inner_width", "web", "neck") and len(points) == 2:
        (x1, y1), (x2, y2) = points
        shapes.append(
            f'<path d="M{x1:.2f} {y1:.2f}L{x2:.2f} {y2:.2f}" stroke="{color}" stroke-width="1.6"/>'
        )
    shapes += [
        f'<circle cx="{px:.2f}" cy="{py:.2f}" r="1.8" fill="{color}"/>'
        for px, py in (points or [(x, y)])[:400]
    ]
    return (
        f'<g class="finding {finding.severity}" id="{prefix}mark-{number}">'
        f"<title>{number}: {escape(finding.text)}</title>"
        f'<path d="M{x:.2f} {y:.2f}L{label[0]:.2f} {label[1]:.2f}" stroke="{color}" '
        f'stroke-width=".7" fill="none"/>{"".join(shapes)}'
        f'<circle class="number" cx="{label[0]:.2f}" cy="{label[1]:.2f}" r="{RADIUS:g}" '
        f'fill="#fff" stroke="{color}"/>'
        f'<text x="{label[0]:.2f}" y="{label[1] + 3.5:.2f}" font-size="{9 if number < 100 else 7}" '
        f'text-anchor="middle" fill="{color}">{number}</text></g>'
    )


def inspection_png(
    inspection: MeasuredOutline, width: float = 900.0, height: float = 620.0
) -> bytes:
    """Return the same picture as a PNG, twice as fine, drawn by matplotlib."""
    with needed():
        from matplotlib.backends.backend_agg import FigureCanvasAgg
        from matplotlib.figure import Figure

    view = View.of(inspection, width, height)
    figure = Figure(figsize=(width / 100, height / 100), dpi=200)
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    plot(inspection.profiles, axes, tolerance=0.1 / view.scale)
    if inspection.drawn:
        for curves, color, style in (
            (inspection.drawn.open, COLORS["error"], "-"),
            (inspection.drawn.doubled, COLORS["note"], "--"),
        ):
            for curve in curves:
                points = curve.points(0.1 / view.scale)
                axes.plot(points[:, 0], points[:, 1], linestyle=style, linewidth=1.6, color=color)
    axes.axis("off")
    middle = (numpy.array(view.lower) + numpy.array(view.upper)) / 2
    half = numpy.array([width, height]) / (2 * view.scale)
    axes.set_xlim(middle[0] - half[0], middle[0] + half[0])
    axes.set_ylim(middle[1] - half[1], middle[1] + half[1])
    labels = label_places(view, inspection.findings)
    for number, (finding, label) in enumerate(
        zip(inspection.findings, labels, strict=True), start=1
    ):
        color = COLORS[finding.severity]
        points = finding.points if len(finding.points) else numpy.array([finding.place])
        spans = finding.rule in ("inner_width", "web", "neck") and len(points) == 2
        line = "-" if spans else "none"
        axes.plot(
            points[:, 0], points[:, 1], linestyle=line, marker=".", markersize=2.5, color=color
        )
        x = middle[0] + (label[0] - width / 2) / view.scale
        y = middle[1] - (label[1] - height / 2) / view.scale
        axes.plot([finding.place[0], x], [finding.place[1], y], linewidth=0.5, color=color)
        axes.text(
            x,
            y,
            str(number),
            color=color,
            fontsize=6,
            ha="center",
            va="center",
            bbox={"boxstyle": "circle", "facecolor": "white", "edgecolor": color, "linewidth": 0.6},
        )
    stream = io.BytesIO()
    figure.savefig(stream, format="png", metadata={"Software": None})
    return stream.getvalue()
