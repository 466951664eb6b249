"""Where a million points lie: planform on its exact curves, Shapely on chords at 0.01 mm.

    python tests/benchmarks/queries.py [--points 1000000] [--repeat 3]

`contains` against `shapely.contains_xy` with a prepared geometry; `distance` and `nearest` against
`shapely.STRtree.query_nearest` on all chords (Shapely prepares no distances; without a tree it looks at every
chord for every point). Preparing counts on both sides. Processor time of one thread, the least of the
repeats; a ratio below 1 says that planform is faster.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import shapely
from planform import Arc, Contour, Line, Profile, ProfileSet

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))
from random_outlines import plate_with_holes

CHORD = 0.01  # mm


def least_time(repeat: int, run: Callable[[], Any]) -> tuple[float, Any]:
    best, result = math.inf, None
    for _ in range(repeat):
        start = time.process_time()
        result = run()
        best = min(best, time.process_time() - start)
    return best, result


def perforated(count: int) -> ProfileSet:
    """A square with count x count round holes."""
    side = 10.0 * count
    corners = [(0, 0), (side, 0), (side, side), (0, side)]
    outer = Contour([Line(a, b) for a, b in zip(corners, corners[1:] + corners[:1], strict=True)])
    holes = [
        Contour([Arc((10 * i + 5, 10 * j + 5), 3)]) for i in range(count) for j in range(count)
    ]
    return ProfileSet([Profile(outer, holes, validate=False)], name=f"{count * count} holes")


def outlines() -> list[ProfileSet]:
    ring = ProfileSet([Profile(Contour([Arc((0, 0), 50)]), [Contour([Arc((0, 0), 30)])])])
    random = [
        plate_with_holes(np.random.default_rng(seed), holes).with_name(f"random, {holes} holes")
        for seed, holes in ((4, 3), (5, 12), (7, 40))
    ]
    rough = np.random.default_rng(1)
    angles = np.linspace(0, 2 * math.pi, 20000, endpoint=False)
    sizes = 50 + 5 * np.sin(7 * angles) + rough.uniform(-0.002, 0.002, len(angles))
    corners = np.stack([sizes * np.cos(angles), sizes * np.sin(angles)], 1)
    lines = [Line(a, b) for a, b in zip(corners, np.roll(corners, -1, 0), strict=True)]
    coast = ProfileSet([Profile(Contour(lines, validate=False))], name="20,000 lines")
    return [ring.with_name("ring"), *random, perforated(10), perforated(50), coast]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--points", type=int, default=1_000_000)
    parser.add_argument("--repeat", type=int, default=3)
    options = parser.parse_args()
    print("| outline | chords | contains, ms | Shapely | ratio | nearest, ms | Shapely | ratio |")
    print("| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: |")
    ratios: list[tuple[float, float]] = []
    for outline in outlines():
        lower, upper = outline.bounds
        margin = 0.1 * (upper - lower)
        points = np.random.default_rng(2).uniform(
            lower - margin, upper + margin, (options.points, 2)
        )
        ratios.append(compared(outline, points, options.repeat))
    means = [
        math.exp(sum(map(math.log, column)) / len(ratios)) for column in zip(*ratios, strict=True)
    ]
    print(f"| geometric mean | | | | {means[0]:.2f} | | | {means[1]:.3f} |")


def compared(outline: ProfileSet, points: np.ndarray, repeat: int) -> tuple[float, float]:
    polygons = outline.to_shapely(CHORD)
    coordinates = shapely.get_coordinates(shapely.boundary(polygons))

    def theirs() -> np.ndarray:
        fresh = shapely.MultiPolygon(list(polygons.geoms))
        shapely.prepare(fresh)
        return shapely.contains_xy(fresh, points[:, 0], points[:, 1])

    ours, inside = least_time(repeat, lambda: outline.contains(points))
    peer, expected = least_time(repeat, theirs)
    assert (inside != expected).mean() < 0.01
    few = points[: len(points) // 10]
    rings = [shapely.get_coordinates(r) for p in polygons.geoms for r in (p.exterior, *p.interiors)]
    chords = [shapely.linestrings(np.stack([ring[:-1], ring[1:]], 1)) for ring in rings]

    def their_nearest() -> np.ndarray:
        tree = shapely.STRtree(np.concatenate(chords))
        _, distance = tree.query_nearest(
            shapely.points(few), return_distance=True, all_matches=False
        )
        return distance

    our_nearest, distances = least_time(repeat, lambda: outline.distance(few))
    peer_nearest, others = least_time(repeat, their_nearest)
    assert np.abs(distances - others).max() < 2 * CHORD
    ratios = ours / peer, our_nearest / peer_nearest
    print(
        f"| {outline.name} | {len(coordinates)} | {1e3 * ours:.1f} | {1e3 * peer:.1f} | {ratios[0]:.2f} "
        f"| {1e3 * our_nearest:.1f} | {1e3 * peer_nearest:.1f} | {ratios[1]:.3f} |",
        flush=True,
    )
    return ratios


if __name__ == "__main__":
    main()
