"""Makes the README's picture: the demo assembly as it stands, and its plates as outlines.

Everything in it is planform's own output. The standing station is drawn plate by plate from the back to
the front: the shadow on the picture plane in a dark tone, then the plate's own outline, put back into
space on the face that is in view, in a light one.

    python notebooks/pictures/make_pictures.py [--out DIR]
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

import numpy
import planform

VIEW = planform.Datum(origin=(0, 0, 0), normal=(-0.62, -0.85, 0.5), x=(0.85, -0.62, 0.0))
"""The picture plane of the standing station: from the front, the left and above."""

STYLE = """
text { font: 13px 'DejaVu Sans', 'Liberation Sans', Arial, sans-serif; fill: #1d2b36; }
.edge { fill: #8a7756; stroke: #3b3323; stroke-width: 0.8; stroke-linejoin: round; }
.face { fill: #e6d8b8; stroke: #3b3323; stroke-width: 0.8; stroke-linejoin: round; }
.turned { fill: #d3c19a; stroke: #3b3323; stroke-width: 0.8; stroke-linejoin: round; }
.cut { fill: #e9e2cf; stroke: #b3261e; stroke-width: 1; stroke-linejoin: round; }
.arrow { fill: none; stroke: #1d2b36; stroke-width: 2; }
"""


def contours(profiles: planform.ProfileSet) -> list[numpy.ndarray]:
    """All contours as polylines, arrays of shape (n, 2) in mm."""
    return [
        contour.points(0.1)
        for profile in profiles.profiles
        for contour in (profile.outer, *profile.holes)
    ]


def path_data(rings: list[numpy.ndarray], scale: float, shift: numpy.ndarray) -> str:
    """SVG path data; y turned to point downwards."""
    pieces = []
    for ring in rings:
        placed = ring * (scale, -scale) + shift
        pieces.append("M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in placed) + "Z")
    return "".join(pieces)


def face_in_view(solid: planform.Solid) -> tuple[list[numpy.ndarray], float]:
    """The outline of a plate on the face that the viewer sees, in the picture plane, and how squarely
    that face is seen (cosine)."""
    datum = planform.auto_datum(solid)
    outline = planform.silhouette(solid, datum)
    cosine = float(numpy.dot(datum.normal, VIEW.normal))
    thickness = solid.volume / outline.area
    height = thickness if cosine > 0 else 0.0
    rings = [VIEW.to_datum(datum.to_model(ring, height))[:, :2] for ring in contours(outline)]
    return rings, abs(cosine)


def hides(front: planform.Solid, back: planform.Solid) -> bool:
    """Whether the first stands before the second, judged on the axis that parts their boxes best."""
    (front_lower, front_upper), (back_lower, back_upper) = front.bounds, back.bounds
    toward_viewer = numpy.sign(VIEW.normal)
    ahead = numpy.where(toward_viewer > 0, front_lower - back_upper, back_lower - front_upper)
    behind = numpy.where(toward_viewer > 0, back_lower - front_upper, front_lower - back_upper)
    return bool(ahead.max() > behind.max())


def back_to_front(solids: list[planform.Solid]) -> list[planform.Solid]:
    """The solids in an order in which each may be painted over those before it."""
    waiting = list(solids)
    ordered = []
    while waiting:
        hidden_by = [sum(hides(solid, other) for other in waiting) for solid in waiting]
        ordered.append(waiting.pop(int(numpy.argmin(hidden_by))))
    return ordered


def standing_station(model: planform.Model, width: float, height: float) -> str:
    """The assembly seen from the front, fitted into the size in pixels."""
    pieces = []
    for solid in back_to_front(list(model.solids)):
        shadow = contours(planform.silhouette(solid, VIEW))
        face, cosine = face_in_view(solid)
        pieces.append(("edge", shadow))
        pieces.append(("face" if cosine > 0.6 else "turned", face))
    points = numpy.vstack([ring for _, rings in pieces for ring in rings])
    lower, upper = points.min(axis=0), points.max(axis=0)
    extent = upper - lower
    scale = min(width / extent[0], height / extent[1])
    shift = numpy.array([width, height]) / 2 - scale * (lower + upper) / 2 * (1, -1)
    return "".join(
        f'<path class="{kind}" fill-rule="evenodd" d="{path_data(rings, scale, shift)}"/>'
        for kind, rings in pieces
    )


def flat_plates(model: planform.Model, width: float, height: float) -> str:
    """One outline for each distinct plate with its quantity, in rows, fitted into the size."""
    quantities: dict[int, int] = {}
    first: dict[int, planform.Solid] = {}
    for solid in model.solids:
        quantities[solid.shape_index] = quantities.get(solid.shape_index, 0) + 1
        first.setdefault(solid.shape_index, solid)
    plates = [
        (planform.silhouette(solid, planform.auto_datum(solid)), quantities[index])
        for index, solid in first.items()
    ]
    plates.sort(key=lambda plate: -float(numpy.ptp(plate[0].bounds[:, 1])))
    scale = 1.0
    while (rows := in_rows(plates, width, scale)) is None or rows[1] > height:
        scale *= 0.97
    return "".join(rows[0])


def in_rows(
    plates: list[tuple[planform.ProfileSet, int]], width: float, scale: float
) -> tuple[list[str], float] | None:
    """The plates in rows of the width at a scale, and the height that takes; None if one is too wide."""
    gap, label = 14.0, 18.0
    pieces = []
    x = y = row = 0.0
    for outline, quantity in plates:
        lower, upper = outline.bounds
        extent = scale * (upper - lower)
        if extent[0] > width:
            return None
        if x + extent[0] > width:
            x, y, row = 0.0, y + row + label + gap, 0.0
        shift = numpy.array([x - scale * lower[0], y + scale * upper[1]])
        pieces.append(
            f'<path class="cut" fill-rule="evenodd" d="{path_data(contours(outline), scale, shift)}"/>'
            f'<text x="{x:.1f}" y="{y + extent[1] + label - 3:.1f}">{quantity} ×</text>'
        )
        x += max(extent[0], 26.0) + gap
        row = max(row, extent[1])
    return pieces, y + row + label


def station_picture(model: planform.Model) -> str:
    """The whole picture as SVG text."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 460" width="1000" height="460">\n'
        f"<style>{STYLE}</style>\n"
        '<rect x="0.5" y="0.5" width="999" height="459" fill="#fdfcf8" stroke="#1d2b36"/>\n'
        f'<g transform="translate(24 24)">{standing_station(model, 380, 412)}</g>\n'
        '<path class="arrow" d="M425 230h46m-12-9l12 9l-12 9"/>\n'
        f'<g transform="translate(496 24)">{flat_plates(model, 480, 412)}</g>\n'
        "</svg>\n"
    )


def main() -> None:
    """Write the pictures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=Path, default=Path(__file__).resolve().parent)
    folder = parser.parse_args().out
    with tempfile.TemporaryDirectory() as scratch:
        source = planform.write_demo_assembly(Path(scratch) / "station.step")
        picture = station_picture(planform.load(source))
    planform.write_whole_file(folder / "station.svg", picture)


if __name__ == "__main__":
    main()
