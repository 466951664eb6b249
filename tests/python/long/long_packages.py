"""The long run: several hundred STEP models of electronic parts (Debian package kicad-packages3d), each
flattened whole on three planes and compared with an independent mesh. Run it by ``.ci/long``."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import numpy
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import planform
from real_files import PLANES, REFUSAL, check_against_mesh, check_closed, meshes_of

LIBRARY = Path(os.environ.get("PLANFORM_LONG_MODELS", "/usr/share/kicad/3dmodels"))
FOLDERS = (
    "Heatsink.3dshapes",
    "MountingEquipment.3dshapes",
    "Connector_Dsub.3dshapes",
    "Package_QFP.3dshapes",
)
FILES = [path for folder in FOLDERS for path in sorted((LIBRARY / folder).glob("*.step"))]


def test_the_models_are_there() -> None:
    assert len(FILES) > 100, f"no models under {LIBRARY}: run .ci/long"


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_shadow_of_a_whole_model(path: Path, real_file_results: dict[str, list[str]]) -> None:
    try:
        model = planform.load(path)
    except planform.LoadError as error:
        assert "no closed shell" in str(error), error
        real_file_results.setdefault("no closed body", []).append(str(error))
        return
    mesh = numpy.concatenate(meshes_of(path))
    for plane, datum in PLANES.items():
        label = f"{path.name}, {plane}"
        try:
            outline = planform.silhouette(model, datum)
        except planform.GeometryError as error:
            assert REFUSAL.search(str(error)), error
            real_file_results.setdefault("refused", []).append(f"{label}: {error}")
            continue
        check_closed(outline)
        check_against_mesh(outline, mesh, datum)
        real_file_results.setdefault("closed outlines that agree with the mesh", []).append(label)
