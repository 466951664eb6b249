"""The long run, second part: the volume of every body from 200 sections (B. Cavalieri, Geometria
indivisibilibus, 1635) against the kernel's own volume of it. Run it by ``.ci/long``."""

from __future__ import annotations

import sys
from pathlib import Path

import numpy
import planform
import pytest
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.TopoDS import TopoDS_Shape

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from long_packages import FILES as PARTS
from mesh_oracle import bodies, read_shape

KERNEL = Path("/usr/share/opencascade/data")
FILES = [*PARTS, *sorted(KERNEL.glob("occ/*.brep")), *sorted(KERNEL.glob("step/*.step"))]

SECTIONS = 200
WITHIN = 0.005  # of the volume
SLANTED = planform.Datum((0, 0, 0), normal=(0.2, 0.35, 1.0))


def kernel_volume(body: TopoDS_Shape) -> float:
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(body, properties)
    return float(properties.Mass())


def sectioned_volume(model: planform.Model) -> float:
    lower, upper = numpy.array(model.solids[0].bounds)
    corners = numpy.array(numpy.meshgrid(*zip(lower, upper, strict=True))).reshape(3, 8).T
    heights = (corners - numpy.array(SLANTED.origin)) @ numpy.array(SLANTED.normal)
    step = (heights.max() - heights.min()) / SECTIONS
    offsets = heights.min() + step * (numpy.arange(SECTIONS) + 0.5)
    cuts = planform.sections(model, SLANTED, offsets=[float(offset) for offset in offsets])
    return step * sum(cut.area for cut in cuts)


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_volume_from_sections(path: Path, real_file_results: dict[str, list[str]]) -> None:
    seen: set[tuple[float, float]] = set()
    for number, body in enumerate(bodies(read_shape(path)), 1):
        label = f"{path.name}, body {number}"
        try:
            model = planform.from_ocp(body)
        except planform.LoadError as error:
            real_file_results.setdefault("no closed body", []).append(f"{label}: {error}")
            continue
        expected = abs(kernel_volume(body))
        solid = model.solids[0]
        shape = (round(expected, 6), round(solid.surface_area, 6))
        if shape in seen:
            continue
        seen.add(shape)
        found = sectioned_volume(model)
        assert solid.volume == pytest.approx(found, rel=WITHIN), label
        if abs(found - expected) <= WITHIN * expected:
            real_file_results.setdefault("closed sections, volume agrees", []).append(label)
            continue
        # The kernel itself must say that the body is wrong, else we are.
        assert not BRepCheck_Analyzer(body).IsValid(), f"{label}: {found} mm3, kernel {expected}"
        real_file_results.setdefault(
            "volume differs, invalid by the kernel's own check", []
        ).append(f"{label}: {found:.6g} mm3 from sections, {expected:.6g} by the kernel")
