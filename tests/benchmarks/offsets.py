"""Offsets: planform's exact curves against polygons of chords.

    python tests/benchmarks/offsets.py [--most 100000] [--repeat 3] [--growth]

Perforated plates of 10^2 to 10^5 holes (circles and slots), gears, a page of text, plates with spline
holes; each grown by 0.1 mm, shrunk by 0.1 mm and grown by 1 mm. The peers get chords at half of 0.01 mm, made
before the clock starts, and round corners within the other half: Shapely's `buffer` and, if it is
installed, `pyclipr` from PyPI. Processor time; the least of the repeats (one for what takes more than 2 s).
"""

from __future__ import annotations

import argparse
import math
import time
from collections.abc import Callable
from typing import Any

import numpy as np
import planform as pf
import shapely
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

try:
    import pyclipr
except ImportError:
    pyclipr = None

ACCURACY = 0.01  # mm
DISTANCES = (0.1, -0.1, 1.0)  # mm
SCALE = 10_000.0  # of the integers that pyclipr works with


def rectangle(x: float, y: float, width: float, height: float) -> pf.Contour:
    corners = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    return pf.Contour([pf.Line(corners[i], corners[(i + 1) % 4]) for i in range(4)])


def slot(x: float, y: float, r: float) -> pf.Contour:
    return pf.Contour(
        [
            pf.Line((x - r, y - r / 2), (x + r, y - r / 2)),
            pf.Arc((x + r, y), r / 2, -math.pi / 2, math.pi),
            pf.Line((x + r, y + r / 2), (x - r, y + r / 2)),
            pf.Arc((x - r, y), r / 2, math.pi / 2, math.pi),
        ]
    )


def blob(x: float, y: float, size: float) -> pf.Contour:
    angles = np.arange(9) * 2 * math.pi / 9
    points = np.array([x, y]) + size * np.c_[np.cos(angles), np.sin(angles)] * (
        1.0 + 0.3 * np.cos(3 * angles)
    ).reshape(-1, 1)
    curves = []
    for i in range(9):
        a, b, c, d = (points[(i + k) % 9] for k in range(4))
        poles = [(a + 4 * b + c) / 6, (2 * b + c) / 3, (b + 2 * c) / 3, (b + 4 * c + d) / 6]
        curves.append(pf.Spline(3, [0, 0, 0, 0, 1, 1, 1, 1], [tuple(pole) for pole in poles]))
    return pf.Contour(curves)


def plate(count: int, hole: Callable[[int, float, float], pf.Contour]) -> pf.ProfileSet:
    side = math.ceil(math.sqrt(count))
    holes = [hole(i, 10.0 * (i % side) + 5, 10.0 * (i // side) + 5) for i in range(count)]
    return pf.ProfileSet([pf.Profile(rectangle(0, 0, 10 * side, 10 * side), holes)])


def round_or_slot(i: int, x: float, y: float) -> pf.Contour:
    r = 2.0 + 0.25 * (i * 7 % 5)
    return pf.Contour([pf.Arc((x, y), r)]) if i % 3 else slot(x, y, r)


def spline_hole(i: int, x: float, y: float) -> pf.Contour:
    return blob(x, y, 2.5 + 0.25 * (i % 3))


def gear(x: float, y: float, teeth: int) -> pf.Contour:
    root, tip = 0.45 * teeth, 0.45 * teeth + 2.25
    step = 2 * math.pi / teeth
    curves: list[pf.Curve] = []
    for i in range(teeth):
        angles = [(i + share) * step for share in (0.0, 0.3, 0.42, 0.68, 0.8)]
        _, b, c, d, e = angles

        def at(radius: float, angle: float) -> tuple[float, float]:
            return x + radius * math.cos(angle), y + radius * math.sin(angle)

        curves += [
            pf.Arc((x, y), root, e - step, b - e + step),
            pf.Line(at(root, b), at(tip, c)),
            pf.Arc((x, y), tip, c, d - c),
            pf.Line(at(tip, d), at(root, e)),
        ]
    return pf.Contour(curves)


def gears(count: int) -> pf.ProfileSet:
    return pf.ProfileSet(
        [pf.Profile(gear(80.0 * (i % 10), 80.0 * (i // 10), 20 + i % 40)) for i in range(count)]
    )


def text(lines: int) -> pf.ProfileSet:
    contours = []
    for row in range(lines):
        path = TextPath(
            (0, -14.0 * row), "Fresh water & seed, 24 perches", size=12, prop=FontProperties()
        )
        curves: list[pf.Curve] = []
        start = here = (0.0, 0.0)
        for points, code in path.iter_segments(curves=True):
            end = (float(points[-2]), float(points[-1]))
            if code == path.MOVETO:
                start = here = end
                continue
            if code == path.CLOSEPOLY:
                if math.dist(here, start) > 1e-9:
                    curves.append(pf.Line(here, start))
                contours.append(pf.Contour(curves))
                curves = []
                continue
            if code == path.CURVE3:
                middle = (float(points[0]), float(points[1]))
                curves.append(pf.Spline(2, [0, 0, 0, 1, 1, 1], [here, middle, end]))
            elif math.dist(here, end) > 1e-9:
                curves.append(pf.Line(here, end))
            here = end
    return pf.ProfileSet(pf.nested_profiles(contours))


def cases(most: int) -> dict[str, pf.ProfileSet]:
    found = {
        f"perforated, {n} holes": plate(n, round_or_slot)
        for n in (10**2, 10**3, 10**4, 10**5)
        if n <= most
    }
    found["gears, 100"] = gears(100)
    found["text, 20 lines"] = text(20)
    found["spline holes, 1000"] = plate(1000, spline_hole)
    return found


def polygons(profiles: pf.ProfileSet) -> shapely.MultiPolygon:
    chord = 0.5 * ACCURACY
    return shapely.MultiPolygon(
        [
            shapely.Polygon(
                profile.outer.points(chord), [hole.points(chord) for hole in profile.holes]
            )
            for profile in profiles
        ]
    )


def quarter_segments(distance: float) -> int:
    step = 2 * math.acos(1 - min(1.0, 0.5 * ACCURACY / abs(distance)))
    return max(1, math.ceil(0.5 * math.pi / step))


def pyclipr_offset(paths: list[Any], distance: float) -> Any:
    tool = pyclipr.ClipperOffset()
    tool.scaleFactor = SCALE
    tool.arcTolerance = 0.5 * ACCURACY * SCALE
    tool.addPaths(paths, pyclipr.JoinType.Round, pyclipr.EndType.Polygon)
    return tool.execute(distance)


def least_time(job: Callable[[], Any], repeat: int) -> tuple[float, Any]:
    """Seconds, and what came of it."""
    least, result = math.inf, None
    for _ in range(repeat):
        start = time.process_time()
        result = job()
        least = min(least, time.process_time() - start)
        if least > 2.0:
            break
    return least, result


def paths_of(shapes: shapely.MultiPolygon) -> list[Any]:
    paths = []
    for shape in shapes.geoms:
        oriented = shapely.geometry.polygon.orient(shape)
        paths.append(np.array(oriented.exterior.coords)[:-1])
        paths += [np.array(ring.coords)[:-1] for ring in oriented.interiors]
    return paths


def geometric_mean(values: list[float]) -> float:
    return math.exp(float(np.mean(np.log(values))))


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=10**4, help="holes of the largest plate")
    parser.add_argument("--repeat", type=int, default=3)
    parser.add_argument("--growth", action="store_true", help="ours alone, on plates only")
    options = parser.parse_args()
    if options.growth:
        for count in (10**2, 10**3, 10**4, 10**5):
            profiles = plate(count, round_or_slot)
            took, _ = least_time(lambda: profiles.offset(0.1), options.repeat)  # noqa: B023
            print(
                f"{count:>7} holes: {1e3 * took:9.2f} ms, "
                f"{1e6 * took / count / math.log2(count):6.3f} us / (n log2 n)"
            )
        return
    ratios: dict[str, list[float]] = {"Shapely": [], "pyclipr": []}
    small: dict[str, list[float]] = {"Shapely": [], "pyclipr": []}
    print("| outlines | distance, mm | ours, ms | Shapely, ms | pyclipr, ms | ours / Shapely |")
    print("| --- | ---: | ---: | ---: | ---: | ---: |")
    for name, profiles in cases(options.most).items():
        shapes = polygons(profiles)
        paths = paths_of(shapes)
        for distance in DISTANCES:
            ours, exact = least_time(lambda: profiles.offset(distance), options.repeat)  # noqa: B023
            segments = quarter_segments(distance)
            theirs, chords = least_time(
                lambda: shapes.buffer(distance, quad_segs=segments),  # noqa: B023
                options.repeat,
            )
            assert abs(exact.area - chords.area) < 2 * ACCURACY * profiles.length
            other = math.nan
            if pyclipr is not None:
                other, _ = least_time(lambda: pyclipr_offset(paths, distance), options.repeat)  # noqa: B023
            for peer, took in (("Shapely", theirs), ("pyclipr", other)):
                if math.isnan(took):
                    continue
                ratios[peer].append(ours / took)
                if f"{10**5} holes" not in name:
                    small[peer].append(ours / took)
            print(
                f"| {name} | {distance} | {1e3 * ours:.2f} | {1e3 * theirs:.2f} | {1e3 * other:.2f} "
                f"| {ours / theirs:.3f} |",
                flush=True,
            )
    print()
    for peer, rows in ratios.items():
        if rows:
            print(
                f"Against {peer}: geometric mean of {len(rows)} rows {geometric_mean(rows):.3f}, without the "
                f"plate of {10**5} holes {geometric_mean(small[peer]):.3f}, worst {max(rows):.3f}."
            )


if __name__ == "__main__":
    main()
