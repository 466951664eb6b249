"""Profile sets that are as they should be: of solids (the demo, the models of occt-misc) and made by hand,
for tests that damage drawings or send them round."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import islice
from pathlib import Path

import numpy as np
import planform
from planform import Arc, Contour, Datum, Line, Profile, ProfileSet
from random_sets import random_pair
from sample_sets import SAMPLES, half_ellipse, one, parabola, plate, polygon, slot

MODELS = Path("/usr/share/opencascade/data")
FILES = [*sorted(MODELS.glob("occ/*.brep")), *sorted(MODELS.glob("step/*.step"))]

TURN = 0.7311
"""An angle with which nothing lies on round numbers."""


def turned(profiles: ProfileSet, angle: float = TURN) -> ProfileSet:
    c, s = math.cos(angle), math.sin(angle)
    return profiles.transformed([[c, -s, 3.21], [s, c, -7.65]])


def demo_outlines(folder: Path) -> Iterator[ProfileSet]:
    """Silhouettes of the bird-feeding station's parts, and sections across them."""
    model = planform.load(planform.write_demo_assembly(folder / "station.step"))
    seen = set()
    for solid in model.solids:
        if solid.shape_index in seen:
            continue
        seen.add(solid.shape_index)
        yield planform.silhouette(solid, planform.auto_datum(solid))
        for datum in (Datum.xy(), Datum.xz(), Datum.yz()):
            yield planform.silhouette(solid, datum)
    low = np.min([solid.bounds[0] for solid in model.solids], axis=0)
    high = np.max([solid.bounds[1] for solid in model.solids], axis=0)
    for datum, axis in ((Datum.xy(), 2), (Datum.yz(), 0)):
        for share in np.linspace(0.07, 0.93, 12):
            height = float(low[axis] + share * (high[axis] - low[axis]))
            yield planform.section(model, datum, height)


def outlines_of_models() -> Iterator[ProfileSet]:
    """Silhouettes and sections of the solids of others; what planform refuses is left out."""
    for path in FILES:
        try:
            model = planform.load(path)
        except planform.LoadError:
            continue
        for solid in islice(model.solids, 6):
            low, high = solid.bounds
            for datum, axis in ((Datum.xy(), 2), (Datum.yz(), 0)):
                for share in (0.23, 0.71):
                    height = float(low[axis] + share * (high[axis] - low[axis]))
                    try:
                        yield planform.section(solid, datum, height)
                    except planform.GeometryError:
                        continue
                try:
                    yield planform.silhouette(solid, datum)
                except planform.GeometryError:
                    continue


def small_features() -> Iterator[ProfileSet]:
    """Outlines with features that are small and belong there."""
    for size in (0.002, 0.01, 0.1):
        # A chamfer, a fillet, a notch, a spike, a ring and two arcs that are all but tangent.
        yield one(polygon((0, 0), (40, 0), (40, 20 - size), (40 - size, 20), (0, 20)))
        yield one(
            Contour(
                [
                    Line((0, 0), (40 - size, 0)),
                    Arc((40 - size, size), size, -math.pi / 2, math.pi / 2),
                    Line((40, size), (40, 20)),
                    Line((40, 20), (0, 20)),
                    Line((0, 20), (0, 0)),
                ]
            )
        )
        yield one(
            polygon((0, 0), (20, 0), (20, 5), (20 + size, 5), (20 + size, 0), (40, 0), (20, 20))
        )
        yield one(polygon((0, 0), (20, 0), (20 + size / 2, 5), (20 + size, 0), (40, 0), (30, -9)))
        ring = Contour([Arc((3, 4), 10.0)])
        yield ProfileSet([Profile(ring, [Contour([Arc((3, 4), 10.0 - size)])])])
        yield ProfileSet(
            [Profile(Contour([Arc((0, 0), 30.0)]), [Contour([Arc((30 - 7 - size, 0), 7.0)])])]
        )
        sweep = 2 * math.asin(size / 20)
        bump = Arc((0, 0), 10.0, math.pi / 2 - sweep / 2, sweep)
        yield one(
            Contour(
                [bump, Line(bump.end, (-30, 0)), Line((-30, 0), (30, 0)), Line((30, 0), bump.start)]
            )
        )
    # A hole that touches the outline, and profiles that meet in a corner.
    yield ProfileSet([Profile(Contour([Arc((0, 0), 30.0)]), [Contour([Arc((23, 0), 7.0)])])])
    yield ProfileSet(
        [
            Profile(polygon((0, 0), (10, 0), (10, 10), (0, 10))),
            Profile(polygon((10, 10), (20, 10), (20, 20), (10, 20))),
        ]
    )


def outlines_by_hand() -> Iterator[ProfileSet]:
    yield from small_features()
    yield from (one(sample.contour) for sample in SAMPLES.values())
    yield plate()
    for i in range(1, 8):
        yield one(slot(2 * i, i, 3 * i, i))
        yield one(half_ellipse(5 * i, 2 * i, 0.2 * i))
        yield one(parabola(7 * i, 3 * i))
    seed = 0
    while True:
        yield from random_pair(seed)
        seed += 1


def not_empty(profile_sets: Iterator[ProfileSet]) -> Iterator[ProfileSet]:
    return (profiles for profiles in profile_sets if profiles.profiles)
