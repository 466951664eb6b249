"""planform.silhouette against trimesh's ``projected`` and manifold3d's ``project``, in one run.

    benchmark_flatten --files | xargs -d '\\n' python tests/benchmarks/compare_in_python.py

Same solids, same tolerance: both peers are handed a ready mesh within 0.01 mm (the kernel's, made by
``cadquery-ocp``), welded into closed bodies. Each has two ratios: against its own time alone, and against
that with the time of the mesh, without which it has nothing to work on. Needs the extra ``test`` and
``manifold3d``, ``networkx``, ``scipy``, ``rtree`` and ``shapely``. Times are processor time (all threads),
the least of several runs after one that does not count, by the same rule for all. Prints Markdown.
"""

from __future__ import annotations

import math
import os
import sys
import time
from collections.abc import Callable
from pathlib import Path

import manifold3d
import numpy
import shapely
import trimesh
from OCP.BRepMesh import BRepMesh_IncrementalMesh
from OCP.BRepTools import BRepTools
from OCP.TopoDS import TopoDS_Shape

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "python"))

import planform
from mesh_oracle import bodies, read_shape, triangles

TOLERANCE = 0.01  # mm, ours and of the mesh
SLOWEST = 5.0  # s: a peer that takes longer in its first run is not run again
XY = planform.Datum.xy()


def fastest(work: Callable[..., float], *arguments: object) -> tuple[float, float]:
    """Milliseconds of the fastest run of ``work(*arguments)``, and what it returned: three runs at
    least, more until 0.2 s are used up, after one that does not count."""
    began = time.process_time()
    result = work(*arguments)
    first = time.process_time() - began
    if first > SLOWEST:
        return 1000.0 * first, result
    least, used, runs = math.inf, 0.0, 0
    while runs < 3 or (used < 0.2 and runs < 25):
        began = time.process_time()
        work(*arguments)
        took = time.process_time() - began
        least, used, runs = min(least, took), used + took, runs + 1
    return 1000.0 * least, result


def by_planform(model: planform.Model) -> float:
    return planform.silhouette(model, XY, tolerance=TOLERANCE).area


def mesh_all(shapes: list[TopoDS_Shape]) -> float:
    for shape in shapes:
        BRepTools.Clean_s(shape)
        BRepMesh_IncrementalMesh(shape, TOLERANCE, False, 0.5, False)
    return 0.0


def by_trimesh(meshes: list[trimesh.Trimesh]) -> float:
    outlines = [trimesh.path.polygons.projected(mesh, normal=[0, 0, 1]) for mesh in meshes]
    return float(shapely.unary_union([outline for outline in outlines if outline]).area)


def by_manifold(solids: list[manifold3d.Manifold]) -> float:
    # As its documentation says: the polygons become an outline by the positive fill rule.
    outlines = [
        manifold3d.CrossSection(solid.project().to_polygons(), manifold3d.FillRule.Positive)
        for solid in solids
    ]
    return float(
        manifold3d.CrossSection.batch_boolean(outlines, manifold3d.OpType.Add).area()
        if outlines
        else 0.0
    )


def welded(corners: numpy.ndarray) -> trimesh.Trimesh:
    return trimesh.Trimesh(corners.reshape(-1, 3), numpy.arange(3 * len(corners)).reshape(-1, 3))


def as_manifold(mesh: trimesh.Trimesh) -> manifold3d.Manifold:
    """Empty where the mesh is not closed: manifold3d takes closed ones only."""
    return manifold3d.Manifold(
        manifold3d.Mesh(
            numpy.asarray(mesh.vertices, dtype=numpy.float32),
            numpy.asarray(mesh.faces, dtype=numpy.uint32),
        )
    )


def on_one_processor() -> None:
    """The same for all of them."""
    if hasattr(os, "sched_setaffinity"):
        os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})


class Ratios:
    """Geometric mean and worst of our time against a peer's, without and with its mesh."""

    def __init__(self, peer: str) -> None:
        self.peer = peer
        self.alone: list[float] = []
        self.with_mesh: list[float] = []

    def add(self, ours: float, theirs: float, mesh: float) -> str:
        self.alone.append(ours / theirs)
        self.with_mesh.append(ours / (theirs + mesh))
        return f"{theirs:.1f} | {self.alone[-1]:.4f} | {self.with_mesh[-1]:.4f}"

    def report(self) -> None:
        for ratios, what in ((self.alone, "mesh handed over"), (self.with_mesh, "with its mesh")):
            if ratios:
                mean = math.exp(sum(math.log(ratio) for ratio in ratios) / len(ratios))
                print(
                    f"Against {self.peer}, {what}: geometric mean {mean:.4f}, "
                    f"worst {max(ratios):.3f}, over {len(ratios)} models."
                )


def main(files: list[str]) -> None:
    on_one_processor()
    print(
        "| model | triangles | ours, ms | mesh, ms | trimesh, ms | ratio | with mesh |"
        " manifold3d, ms | ratio | with mesh | area, mm² | trimesh | manifold3d |\n"
        "| --- | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: | ---: |"
    )
    trimesh_ratios, manifold_ratios = Ratios("trimesh projected"), Ratios("manifold3d project")
    for name in files:
        path = Path(name)
        try:
            model = planform.load(path)
            ours, area = fastest(by_planform, model)
        except planform.Error as error:
            print(f"| {path.stem[:44]} | refused: {str(error)[:80]} |", flush=True)
            continue
        shapes = bodies(read_shape(path))
        mesh_time, _ = fastest(mesh_all, shapes)
        meshes = [welded(triangles(shape, TOLERANCE)) for shape in shapes]
        closed = [solid for solid in map(as_manifold, meshes) if not solid.is_empty()]
        their_area = other_area = math.nan
        try:
            theirs, their_area = fastest(by_trimesh, meshes)
            cells = trimesh_ratios.add(ours, theirs, mesh_time)
        except Exception as error:  # a peer that fails is left out of its mean
            cells = f"{type(error).__name__} | - | -"
        if len(closed) == len(meshes):
            other, other_area = fastest(by_manifold, closed)
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
