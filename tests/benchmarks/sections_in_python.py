"""planform.section against trimesh's ``section`` and manifold3d's ``slice``, in one run.

    benchmark_flatten --files | xargs -d '\\n' python tests/benchmarks/sections_in_python.py

The plane is the one of ``benchmark_flatten --sections``: square to Z, a little above the middle. Both peers
are handed a ready mesh within 0.01 mm, as in ``compare_in_python.py``, whose rules for times hold; ours
starts from the solids and gives exact curves. Prints Markdown.
"""

from __future__ import annotations

import math
import sys
from pathlib import Path

import manifold3d
import planform
import shapely
import trimesh
from compare_in_python import (
    TOLERANCE,
    XY,
    Ratios,
    as_manifold,
    fastest,
    mesh_all,
    on_one_processor,
    welded,
)
from mesh_oracle import bodies, read_shape, triangles

ABOVE_MIDDLE = 0.0123  # of the height


def height_of(model: planform.Model) -> float:
    low = min(solid.bounds[0][2] for solid in model.solids)
    high = max(solid.bounds[1][2] for solid in model.solids)
    return float(low + (0.5 + ABOVE_MIDDLE) * (high - low))


def by_planform(model: planform.Model, height: float) -> float:
    return planform.section(model, XY, offset=height, tolerance=TOLERANCE).area


def by_trimesh(meshes: list[trimesh.Trimesh], height: float) -> float:
    polygons: list[shapely.Polygon] = []
    for mesh in meshes:
        cut = mesh.section(plane_normal=[0, 0, 1], plane_origin=[0, 0, height])
        if cut is not None:
            polygons.extend(cut.to_2D()[0].polygons_full)
    return float(shapely.unary_union(polygons).area)


def by_manifold(solids: list[manifold3d.Manifold], height: float) -> float:
    cuts = [
        manifold3d.CrossSection(solid.slice(height).to_polygons(), manifold3d.FillRule.Positive)
        for solid in solids
    ]
    return float(manifold3d.CrossSection.batch_boolean(cuts, manifold3d.OpType.Add).area())


def main(files: list[str]) -> None:
    on_one_processor()
    print(
        "| model | triangles | ours, ms | mesh, ms | trimesh, ms | ratio | with mesh |"
        " manifold3d, ms | ratio | with mesh | area, mm² | trimesh | manifold3d |\n"
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |"
    )
    trimesh_ratios, manifold_ratios = Ratios("trimesh section"), Ratios("manifold3d slice")
    for name in files:
        path = Path(name)
        try:
            model = planform.load(path)
            height = height_of(model)
            ours, area = fastest(by_planform, model, height)
        except planform.Error as error:
            print(f"| {path.stem[:44]} | refused: {str(error)[:80]} |", flush=True)
            continue
        shapes = bodies(read_shape(path))
        mesh_time, _ = fastest(mesh_all, shapes)
        meshes = [welded(triangles(shape, TOLERANCE)) for shape in shapes]
        closed = [solid for solid in map(as_manifold, meshes) if not solid.is_empty()]
        their_area = other_area = math.nan
        try:
            theirs, their_area = fastest(by_trimesh, meshes, height)
            cells = trimesh_ratios.add(ours, theirs, mesh_time)
        except Exception as error:  # a peer that fails is left out of its mean
            cells = f"{type(error).__name__} | - | -"
        if len(closed) == len(meshes):
            other, other_area = fastest(by_manifold, closed, height)
            cells += " | " + manifold_ratios.add(ours, other, mesh_time)
        else:
            cells += " | mesh not closed | - | -"
        print(
            f"| {path.stem[:44]} | {sum(len(mesh.faces) for mesh in meshes)} | {ours:.2f} |"
            f" {mesh_time:.0f} | {cells} | {area:.3f} | {their_area:.3f} | {other_area:.3f} |",
            flush=True,
        )
    print()
    trimesh_ratios.report()
    manifold_ratios.report()


if __name__ == "__main__":
    main(sys.argv[1:])
