"""Union of many overlapping curved outlines: planform's exact curves against polygons of chords.

    python tests/benchmarks/union.py [--most 100000] [--repeat 3]

Outlines of four kinds (discs, slots, ellipses, closed splines), 4 to 12 mm, lie at random in a square so
that each overlaps about five others. The peers get their chords at 0.01 mm, made before the clock starts:
Shapely's `union_all` and, if it is installed, Clipper2's union (`pyclipr` on PyPI). Each time is the least of
the repeats.
"""

from __future__ import annotations

import argparse
import math
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import planform
import shapely
from planform import Arc, Contour, EllipticalArc, Line, Profile, ProfileSet, Spline

try:
    import pyclipr
except ImportError:
    pyclipr = None

CHORD = 0.01  # mm
SPACING = 6.0  # mm: the side of the square is this times the root of the number of outlines


def disc(x: float, y: float, size: float) -> Contour:
    return Contour([Arc((x, y), size)])


def slot(x: float, y: float, size: float) -> Contour:
    r = 0.4 * size
    return Contour(
        [
            Line((x - size, y - r), (x + size, y - r)),
            Arc((x + size, y), r, -math.pi / 2, math.pi),
            Line((x + size, y + r), (x - size, y + r)),
            Arc((x - size, y), r, math.pi / 2, math.pi),
        ]
    )


def ellipse(x: float, y: float, size: float) -> Contour:
    return Contour([EllipticalArc((x, y), (size, 0.3 * size), 0.6)])


def blob(x: float, y: float, size: float) -> Contour:
    angles = np.arange(7) * 2 * math.pi / 7
    sizes = size * (1.0 + 0.25 * np.cos(3 * angles))
    poles = [(x + s * math.cos(a), y + s * math.sin(a)) for s, a in zip(sizes, angles, strict=True)]
    return Contour(
        [Spline(degree=3, knots=[0, 0, 0, 0, 1, 2, 3, 4, 5, 5, 5, 5], poles=[*poles, poles[0]])]
    )


def outlines(count: int) -> ProfileSet:
    """The outlines as profiles of one set, overlapping."""
    random = np.random.default_rng(count)
    side = SPACING * math.sqrt(count)
    places = random.uniform(0.0, side, (count, 2))
    sizes = random.uniform(2.0, 6.0, count)
    kinds = [disc, slot, ellipse, blob]
    return ProfileSet(
        [
            Profile(kinds[i % 4](float(x), float(y), float(size)))
            for i, ((x, y), size) in enumerate(zip(places, sizes, strict=True))
        ]
    )


def least_time(work: Callable[[], Any], repeat: int) -> tuple[float, Any]:
    times, result = [], None
    for _ in range(repeat):
        start = time.perf_counter()
        result = work()
        times.append(time.perf_counter() - start)
    return min(times), result


def clipper_union(rings: list[np.ndarray]) -> float:
    """Area of Clipper2's union, on its own grid of 1e-5 mm."""
    clipper = pyclipr.Clipper()
    clipper.scaleFactor = 100000
    clipper.addPaths(rings, pyclipr.Subject)
    result = clipper.execute(pyclipr.Union, pyclipr.FillRule.NonZero)
    return sum(shapely.Polygon(path).area * orientation(path) for path in result)


def orientation(path: np.ndarray) -> float:
    x, y = np.asarray(path)[:, :2].T
    return math.copysign(1.0, float(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--most", type=int, default=100000, help="largest number of outlines")
    parser.add_argument("--repeat", type=int, default=3)
    options = parser.parse_args()
    print(
        "| outlines | chords | ours, s | us an outline | Shapely, s | ratio | Clipper2, s | ratio |",
        end="",
    )
    print(" difference of area |\n| ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    for count in (n for n in (100, 1000, 10000, 100000) if n <= options.most):
        given = outlines(count)
        rings = [profile.outer.points(CHORD) for profile in given]
        polygons = shapely.polygons([shapely.linearrings(ring) for ring in rings])
        repeat = options.repeat if count <= 10000 else 1
        ours, united = least_time(lambda given=given: planform.merge([given]), repeat)
        theirs, union = least_time(lambda p=polygons: shapely.union_all(p), repeat)
        row = f"| {count} | {sum(map(len, rings))} | {ours:.3f} | {1e6 * ours / count:.1f} | {theirs:.3f} "
        row += f"| {ours / theirs:.3f} "
        if pyclipr is None:
            row += "| | "
        else:
            clipped, _ = least_time(lambda r=rings: clipper_union(r), repeat)
            row += f"| {clipped:.3f} | {ours / clipped:.3f} "
        print(row + f"| {united.area / union.area - 1:.1e} |", flush=True)


if __name__ == "__main__":
    main()
