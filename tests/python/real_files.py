"""Flattening models of others and comparing the shadows with the mesh oracle; shared by the tests on
real files and by the long run."""

from __future__ import annotations

import re
from pathlib import Path

import mesh_oracle
import numpy
import planform
import shapely

PLANES = {
    "xy": planform.Datum.xy(),
    "xz": planform.Datum.xz(),
    "yz": planform.Datum.yz(),
}

RELATIVE_DEFLECTION = 5e-4
"""Deflection of the oracle's mesh over the solid's diagonal: small enough to see a missing hole, large
enough for the whole set to take seconds."""

REFUSAL = re.compile(r"face \d+|edge \d+|free edge|open shell|no solid", re.IGNORECASE)
"""What an error about a model must name: the face (or edge), or that there is nothing closed."""


def matching_body(solid: planform.Solid, meshes: list[numpy.ndarray]) -> int:
    """Index of the mesh with the solid's box; fail if none fits within a few deflections."""
    assert meshes, f"the other reader finds no body in the file, and not {solid.name}"
    lower, upper = solid.bounds
    distances = [
        max(
            abs(mesh.min(axis=(0, 1)) - lower).max(),
            abs(mesh.max(axis=(0, 1)) - upper).max(),
        )
        for mesh in meshes
    ]
    best = int(numpy.argmin(distances))
    diagonal = float(numpy.linalg.norm(upper - lower))
    assert distances[best] <= 10 * RELATIVE_DEFLECTION * diagonal, (
        f"no body of the file has the box of {solid.name}: off by {distances[best]:g} mm"
    )
    return best


def meshes_of(path: Path) -> list[numpy.ndarray]:
    """A mesh of each body of a file that has any face, as triangles."""
    meshes = []
    for body in mesh_oracle.bodies(mesh_oracle.read_shape(path)):
        coarse = mesh_oracle.triangles(body, 1.0)
        if len(coarse) == 0:
            continue
        diagonal = float(numpy.linalg.norm(numpy.ptp(coarse.reshape(-1, 3), axis=0)))
        meshes.append(mesh_oracle.triangles(body, RELATIVE_DEFLECTION * diagonal))
    return meshes


def simple_polygons(outline: planform.ProfileSet, chord: float) -> shapely.MultiPolygon:
    """The outline on chords that stray by at most `chord` mm. Where the curves cross, chords of any
    fineness do; at a cusp coarse chords cross where no curves do: then on chords of 1 nm."""
    polygons = outline.to_shapely(chord)
    return polygons if polygons.is_valid else outline.to_shapely(1e-6)


def check_closed(outline: planform.ProfileSet) -> None:
    """Contours closed and simple, outer ones counter-clockwise and holes clockwise, no curve shorter
    than a thousandth of the default tolerance."""
    assert outline.profiles
    polygons = simple_polygons(outline, 1e-4)
    assert polygons.is_valid, shapely.is_valid_reason(polygons)
    for profile in outline.profiles:
        assert profile.outer.area > 0
        assert all(hole.area < 0 for hole in profile.holes)
        for contour in (profile.outer, *profile.holes):
            size = float(numpy.linalg.norm(contour.bounds[1] - contour.bounds[0]))
            curves = contour.curves
            for curve, following in zip(curves, [*curves[1:], curves[0]], strict=True):
                gap = numpy.linalg.norm(numpy.subtract(following.start, curve.end))
                assert gap <= 1e-6 * size
                assert curve.length > 1e-5
    assert outline.area > 0


def check_against_mesh(
    outline: planform.ProfileSet, mesh: numpy.ndarray, datum: planform.Datum
) -> None:
    """Same area as the mesh's shadow, within perimeter x deflection x 2; same place."""
    oracle = mesh_oracle.shadow(mesh, numpy.asarray(datum.x), numpy.asarray(datum.y))
    diagonal = float(numpy.linalg.norm(numpy.ptp(mesh.reshape(-1, 3), axis=0)))
    deflection = RELATIVE_DEFLECTION * diagonal
    allowed = 2 * deflection * outline.length
    assert abs(outline.area - oracle.area) <= allowed, (
        f"area {outline.area:.6g} mm2, the mesh's {oracle.area:.6g} mm2, allowed {allowed:.3g}"
    )
    shape = simple_polygons(outline, deflection)
    difference = shapely.symmetric_difference(shape, oracle)
    # The polygons of both sides are off by up to one deflection each, on either side of the outline.
    assert difference.area <= 2 * allowed
