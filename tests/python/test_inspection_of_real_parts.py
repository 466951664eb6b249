"""Real outlines and handbook parts: no failure, no false alarm, widths that another measure confirms."""

from __future__ import annotations

import os
from pathlib import Path

import kernel_models as kernel
import numpy as np
import planform as pf
import pytest
import shapely
from planform.errors import Error
from test_handbook import FLANGES, WASHERS

LONG = os.environ.get("PLANFORM_LONG_TESTS") == "1"
"""All models on three planes, and those of the Debian package kicad-packages3d, instead of a share."""

MODELS = Path("/usr/share/opencascade/data")
ELECTRONIC = Path("/usr/share/kicad/3dmodels")
FOLDERS = ("Heatsink", "MountingEquipment", "Connector_Dsub", "Package_QFP")
FILES = [*sorted(MODELS.glob("occ/*.brep")), *sorted(MODELS.glob("step/*.step"))]
if not LONG:
    FILES = FILES[::3]
else:
    FILES += [
        f for folder in FOLDERS for f in sorted((ELECTRONIC / f"{folder}.3dshapes").glob("*.step"))
    ]

# ISO 7093-1, plain washers, large series (from memory): hole, outside, thickness in mm.
LARGE_WASHERS = {
    "M3": (3.2, 9.0, 0.8),
    "M4": (4.3, 12.0, 1.0),
    "M5": (5.3, 15.0, 1.0),
    "M6": (6.4, 18.0, 1.6),
    "M8": (8.4, 24.0, 2.0),
    "M10": (10.5, 30.0, 2.5),
    "M12": (13.0, 37.0, 3.0),
    "M16": (17.0, 50.0, 3.0),
    "M20": (22.0, 60.0, 4.0),
}


def outlines_of(path: Path) -> list[pf.ProfileSet]:
    try:
        solids = list(pf.load(path).solids)
    except pf.LoadError:
        return []
    planes = [pf.Datum.xy(), pf.Datum.xz(), pf.Datum.yz()] if LONG else [pf.Datum.xy()]
    result = []
    for solid in solids if LONG else solids[:4]:
        for datum in planes:
            try:
                result.append(pf.silhouette(solid, datum))
            except Error:
                continue  # refused: what tests/python/test_real_files.py looks at
    return result


def confirmed(outline: pf.ProfileSet, at_most: float) -> int:
    """Number of narrow places, each confirmed: as wide as twice the distance to dense chords, and both
    its points on the outline; the nearest contours' webs are among them."""
    error = 5e-4
    contours = {
        (i, j): shapely.LinearRing(contour.points(error))
        for i, profile in enumerate(outline.profiles)
        for j, contour in enumerate([profile.outer, *profile.holes])
    }
    tree = shapely.STRtree(list(contours.values()))
    places = pf.narrow_places(outline, at_most)
    for place in places:
        center = shapely.Point(place.center)
        nearest = min(
            (
                contours[list(contours)[k]].distance(center)
                for k in tree.query(center.buffer(place.width))
            ),
            default=place.width,
        )
        assert 2 * nearest == pytest.approx(place.width, abs=4 * error), place
        for point in place.touching:
            assert np.linalg.norm(point - place.center) == pytest.approx(
                place.width / 2, abs=4 * error
            )
    webs: dict[frozenset[tuple[int, int]], float] = {}
    for place in places:
        if place.kind == "web":
            webs.setdefault(frozenset(place.sides), place.width)
    # Two contours that are each other's nearest have nothing in between.
    keys = list(contours)
    if len(keys) < 400:
        best = {}
        for key in keys:
            others = [
                (contours[key].distance(contours[k]), k)
                for k in keys
                if k != key and k[0] == key[0]
            ]
            if others:
                best[key] = min(others)
        for key, (distance, other) in best.items():
            mutual = best[other][0] == distance
            if mutual and 1e-3 < distance < at_most - error:
                assert webs[frozenset((key, other))] == pytest.approx(distance, abs=4 * error)
    return len(places)


@pytest.mark.skipif(
    not MODELS.exists(), reason="needs the Debian package occt-misc (.ci/setup test)"
)
def test_real_outlines() -> None:
    outlines = places = 0
    for path in FILES:
        for outline in outlines_of(path):
            if not outline.profiles:
                continue
            extent = float(np.max(outline.bounds[1] - outline.bounds[0]))
            places += confirmed(outline, 0.1 * extent)
            for finding in pf.inspect(outline, 0.05 * extent):
                assert finding.text.endswith(".")
            outlines += 1
    assert outlines >= 8
    assert places >= 8


@pytest.mark.parametrize(
    ("hole", "outside", "thickness"), [*WASHERS.values(), *LARGE_WASHERS.values()]
)
def test_no_false_alarm_on_washers(hole: float, outside: float, thickness: float) -> None:
    washer = kernel.cut(
        kernel.cylinder(outside / 2, thickness), [kernel.through_hole(0, 0, hole, thickness)]
    )
    nothing_found(washer, thickness)


@pytest.mark.parametrize("size", FLANGES)
def test_no_false_alarm_on_motor_flanges(size: str) -> None:
    side, pattern, bolt, pilot = FLANGES[size]
    thickness = 4.0
    half = pattern / 2
    holes = [kernel.through_hole(side / 2, side / 2, pilot, thickness)]
    holes += [
        kernel.through_hole(side / 2 + x, side / 2 + y, bolt, thickness)
        for x in (-half, half)
        for y in (-half, half)
    ]
    nothing_found(kernel.cut(kernel.box(side, side, thickness), holes), thickness)


def nothing_found(shape: object, thickness: float) -> None:
    (solid,) = pf.from_ocp(shape).solids
    datum = pf.Datum.xy()
    cut = pf.straight_cut(solid, datum)
    assert cut.thickness == pytest.approx(thickness)
    outline = pf.silhouette(solid, datum)
    assert list(pf.inspect(outline, cut.thickness, features=cut.features)) == []
