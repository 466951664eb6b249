"""Makes the README's picture of a joint: a tab of the demo's post in its slot in the base plate.

Seen from below. On the left both are cut along the drawn lines: the beam takes half of its width off the tab
and off the walls of the slot. On the right the drawings have the width of cut and a fit in them. What is left
of a sheet is planform's own offset of the way of the tool; kerf and fit are exaggerated.

    python notebooks/pictures/make_joint_picture.py [--out DIR]
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

import numpy
import planform

KERF = 0.8
FIT = 0.25
"""mm; some five times those of a beam, so that they show."""
TAB = 6.0
"""Length of the post's tabs, mm: the thickness of the base plate."""

STYLE = """
text { font: 13px 'DejaVu Sans', 'Liberation Sans', Arial, sans-serif; fill: #1d2b36; }
.plate { fill: #e6d8b8; stroke: #3b3323; stroke-width: 1; stroke-linejoin: round; }
.tab { fill: #b9c7a4; stroke: #33452a; stroke-width: 1; stroke-linejoin: round; }
.way { fill: none; stroke: #b3261e; stroke-width: 1.4; stroke-dasharray: 6 4; stroke-linejoin: round; }
"""

SCALE = 17.0
"""Pixels a millimetre."""
HALF = numpy.array([11.0, 6.5])
"""Half of the window around the slot, mm."""


def path(kind: str, rings: list[numpy.ndarray], center: numpy.ndarray) -> str:
    """SVG of closed polylines in a window about a place; y turned to point downwards."""
    data = ""
    for ring in rings:
        placed = (ring - center + HALF) * SCALE
        placed[:, 1] = 2 * HALF[1] * SCALE - placed[:, 1]
        data += "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in placed) + "Z"
    return f'<path class="{kind}" fill-rule="evenodd" d="{data}"/>'


def rings_of(profiles: planform.ProfileSet) -> list[numpy.ndarray]:
    """All contours as polylines, arrays of shape (n, 2) in mm."""
    return [
        contour.points(0.01)
        for profile in profiles.profiles
        for contour in (profile.outer, *profile.holes)
    ]


def slot_of(base: planform.ProfileSet) -> planform.Contour:
    """A slot: of the holes that are no circles the first."""
    return next(hole for hole in base.profiles[0].holes if not hole.is_circle)


def tab_width(post: planform.ProfileSet) -> float:
    """Of the tab at one end of the part, half-way along the tab, mm."""
    lower, upper = post.bounds
    along = int(upper[1] - lower[1] > upper[0] - lower[0])
    middle = float(lower[along]) + TAB / 2
    low, high = numpy.array(lower) - 1.0, numpy.array(upper) + 1.0
    low[along], high[along] = middle - 0.1, middle + 0.1
    corners = [(low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1])]
    lines = [planform.Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)]
    strip = planform.ProfileSet([planform.Profile(planform.Contour(lines))], datum=post.datum)
    box = (post & strip).bounds
    return float(box[1][1 - along] - box[0][1 - along])


def panel(base: planform.CutListEntry, post: planform.CutListEntry) -> str:
    """The slot as it is left of the base plate, the section of the tab that stands in it, the tool's way."""
    assert base.way is not None and post.way is not None
    left_of_base, left_of_post = base.way.offset(-KERF / 2), post.way.offset(-KERF / 2)
    lower, upper = slot_of(base.outline).bounds
    center = (numpy.array(lower) + numpy.array(upper)) / 2
    extent = numpy.array([tab_width(left_of_post), post.plate.thickness])
    if upper[0] - lower[0] < upper[1] - lower[1]:
        extent = extent[::-1]
    corners = center + numpy.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * extent / 2
    way = slot_of(base.way).points(0.01)
    return (
        path("plate", rings_of(left_of_base), center)
        + path("tab", [corners], center)
        + path("way", [way], center)
    )


def picture(model: planform.Model) -> str:
    """The whole picture as SVG text."""
    width, height = 2 * HALF * SCALE
    panels = ""
    for number, ((kerf, fit), title) in enumerate(
        (
            ((0.0, 0.0), f"before: a beam of {KERF:g} mm along the drawn lines"),
            ((KERF, FIT), f"after: kerf {KERF:g} mm and a fit of {FIT:g} mm"),
        )
    ):
        cut_list = planform.CutList.from_model(model, kerf=kerf, fit=fit)
        named = {entry.name: entry for entry in cut_list.entries}
        x = 24 + number * (width + 32)
        panels += (
            f'<g transform="translate({x:g} 24)"><clipPath id="w{number}"><rect width="{width:g}" '
            f'height="{height:g}"/></clipPath><g clip-path="url(#w{number})">'
            f"{panel(named['base plate'], named['post'])}</g>"
            f'<text x="0" y="{height + 20:g}">{title}</text></g>\n'
        )
    total_x, total_y = 2 * width + 80, height + 62
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {total_x:g} {total_y:g}" '
        f'width="{total_x:g}" height="{total_y:g}">\n<style>{STYLE}</style>\n'
        f'<rect x="0.5" y="0.5" width="{total_x - 1:g}" height="{total_y - 1:g}" fill="#fdfcf8" '
        f'stroke="#1d2b36"/>\n{panels}</svg>\n'
    )


def main() -> None:
    """Write the picture."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--out", type=Path, default=Path(__file__).resolve().parent)
    folder = parser.parse_args().out
    with tempfile.TemporaryDirectory() as scratch:
        source = planform.write_demo_assembly(Path(scratch) / "station.step")
        text = picture(planform.load(source))
    planform.write_whole_file(folder / "joint.svg", text)


if __name__ == "__main__":
    main()
