"""Makes the pictures of the algorithm's page: each from planform's own output on the demo's parts.

    python notebooks/pictures/make_algorithm_pictures.py [--out DIR]

Strokes read on white and on black.
"""

from __future__ import annotations

import argparse
import math
import tempfile
from collections.abc import Iterable
from pathlib import Path

import numpy
import planform

BLUE, RED, GREY = "#2f7ad6", "#d9482b", "#8a8f98"
SLANTED = planform.Datum(origin=(0, 0, 0), normal=(0.5, -0.6, 0.62), x=(0.8, 0.6, 0.0))
FRONT = planform.Datum(origin=(0, 0, 0), normal=(0, -1, 0), x=(1, 0, 0))
WIDTH = 720.0


class Picture:
    """Curves in mm, scaled to fit."""

    def __init__(self) -> None:
        self._paths: list[tuple[list[numpy.ndarray], str, str]] = []

    def add(self, points: numpy.ndarray, style: str) -> None:
        self._paths.append(([points], "", style))

    def outline(self, outline: planform.ProfileSet, style: str, chord: float = 0.05) -> None:
        self._paths.append(([contour.points(chord) for contour in contours(outline)], "Z", style))

    def write(self, path: Path) -> None:
        every = numpy.vstack([points for rings, _, _ in self._paths for points in rings])
        lower, upper = every.min(axis=0), every.max(axis=0)
        scale = (WIDTH - 16) / (upper[0] - lower[0])
        height = (upper[1] - lower[1]) * scale + 16
        pieces = []
        for rings, end, style in self._paths:
            data = ""
            for points in rings:
                placed = (points - (lower[0], upper[1])) * (scale, -scale) + 8
                data += "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in placed) + end
            pieces.append(f'<path fill-rule="evenodd" style="{style}" d="{data}"/>')
        path.write_text(
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH:g}" height="{height:.0f}" '
            f'viewBox="0 0 {WIDTH:g} {height:.0f}">\n' + "\n".join(pieces) + "\n</svg>\n",
            encoding="utf-8",
        )


def contours(outline: planform.ProfileSet) -> Iterable[planform.Contour]:
    for profile in outline:
        yield from (profile.outer, *profile.holes)


def stroke(color: str, width: float, fill: str = "none", opacity: float = 1.0) -> str:
    return (
        f"fill:{fill};fill-opacity:0.18;stroke:{color};stroke-width:{width:g};stroke-opacity:{opacity:g};"
        "stroke-linejoin:round;stroke-linecap:round"
    )


def folds(station: planform.Model) -> Picture:
    """The shadow of the gutter on a slanted plane, coloured by where each curve came from."""
    picture = Picture()
    shadow = planform.silhouette(station[26], SLANTED)
    picture.outline(shadow, stroke("none", 0, fill=GREY))
    kinds = set()
    for contour in contours(shadow):
        for curve, origin in zip(contour, contour.provenance, strict=True):
            kinds.add(origin.kind)
            color = RED if origin.kind == "fold" else BLUE
            picture.add(curve.points(0.02), stroke(color, 3))
    assert {"edge", "fold"} <= kinds
    return picture


def union(station: planform.Model) -> Picture:
    """Each solid's shadow from the front, and that of all of them."""
    picture = Picture()
    whole = planform.silhouette(station, FRONT)
    picture.outline(whole, stroke(RED, 3, fill=GREY))
    for solid in station:
        picture.outline(planform.silhouette(solid, FRONT), stroke(BLUE, 1))
    return picture


def chords(station: planform.Model) -> Picture:
    """The gable by few chords and by its own curves."""
    picture = Picture()
    gable = planform.silhouette(station[20], "auto")
    picture.outline(gable, stroke(GREY, 3, fill=GREY), 0.01)
    picture.outline(gable, stroke(RED, 1.5), 4.0)
    return picture


def sections(station: planform.Model) -> Picture:
    """The station cut at heights, side by side."""
    picture = Picture()
    (left, front, low), (right, back, high) = station_box(station)
    heights = [low + share * (high - low) for share in (0.01, 0.2, 0.42, 0.47, 0.6, 0.8)]
    for number, cut in enumerate(planform.sections(station, "xy", heights)):
        place = (number % 3) * (right - left) * 1.1, -(number // 3) * (back - front) * 1.1
        picture.outline(cut.moved(place), stroke(BLUE, 1.2, fill=BLUE))
    return picture


def station_box(station: planform.Model) -> tuple[list[float], list[float]]:
    """Lower and upper corner of all solids, mm."""
    boxes = numpy.array([solid.bounds for solid in station])
    return boxes[:, 0].min(axis=0).tolist(), boxes[:, 1].max(axis=0).tolist()


def allowances(station: planform.Model) -> Picture:
    """The gable, moved outward, and what a round tool leaves of it."""
    picture = Picture()
    gable = planform.silhouette(station[20], "auto")
    left = gable.closed(10.0) - gable
    assert left.area > 1.0
    assert math.isclose(gable.offset(0.0).area, gable.area)
    picture.outline(gable.offset(4.0), stroke(BLUE, 2))
    picture.outline(gable, stroke(GREY, 2, fill=GREY))
    picture.outline(left, stroke(RED, 1.5, fill=RED))
    return picture


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--out", type=Path, default=Path(__file__).parent)
    out = parser.parse_args().out
    with tempfile.TemporaryDirectory() as folder:
        station = planform.load(planform.write_demo_assembly(Path(folder) / "station.step"))
    for make in (folds, union, chords, sections, allowances):
        make(station).write(out / f"algorithm_{make.__name__}.svg")


if __name__ == "__main__":
    main()
