"""The long run, reading: with healing where it is needed and with full healing every STEP model gives the
same solids and the same outlines. Models of kicad-packages3d, occt-misc and gmsh-doc; run by ``.ci/long``."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy
import pytest

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import planform
from real_files import PLANES

LIBRARY = Path(os.environ.get("PLANFORM_LONG_MODELS", "/usr/share/kicad/3dmodels"))
FOLDERS = ("Heatsink", "MountingEquipment", "Connector_Dsub", "Package_QFP")
FILES = [
    *(path for name in FOLDERS for path in sorted((LIBRARY / f"{name}.3dshapes").glob("*.step"))),
    *sorted(Path("/usr/share/opencascade/data/step").glob("*.step")),
    *sorted(Path("/usr/share/doc/gmsh-doc").rglob("*.st*p.gz")),
]
BOX = 2e-7
"""Boxes of free-form edges may be too large by the kernel's confusion, 1e-7 mm, either way."""


@pytest.fixture(scope="module")
def healed() -> Iterator[list[planform.Healed]]:
    """What was healed in each file; the sum is printed at the end."""
    counts: list[planform.Healed] = []
    yield counts
    print(
        f"\nof {len(counts)} files {sum(each.shapes_in_full > 0 for each in counts)} needed full "
        f"healing and {sum(each.faces_alone > 0 for each in counts)} that of single faces; "
        f"of {sum(each.faces for each in counts)} faces {sum(each.faces_alone for each in counts)}"
    )


def read(path: Path, **options: str) -> planform.Model | str:
    try:
        return planform.load(path, **options)
    except planform.LoadError as error:
        return str(error)


def digest(solid: planform.Solid, datum: planform.Datum) -> str:
    try:
        return planform.silhouette(solid, datum).digest
    except planform.GeometryError as error:
        return str(error)


def test_the_models_are_there() -> None:
    assert len(FILES) > 150


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_same_with_full_healing(path: Path, healed: list[planform.Healed]) -> None:
    spared, full = read(path), read(path, heal="always")
    if isinstance(spared, str) or isinstance(full, str):
        assert spared == full
        return
    healed.append(spared.healed)
    assert spared.notes == full.notes
    assert len(spared) == len(full)
    for mine, theirs in zip(spared, full, strict=True):
        assert (mine.path, mine.color, mine.shape_index) == (
            theirs.path,
            theirs.color,
            theirs.shape_index,
        )
        assert mine.notes == theirs.notes
        assert (mine.face_count, mine.edge_count) == (theirs.face_count, theirs.edge_count)
        assert mine.volume == pytest.approx(theirs.volume, rel=1e-9)
        assert mine.surface_area == pytest.approx(theirs.surface_area, rel=1e-9)
        assert numpy.abs(mine.bounds - theirs.bounds).max() < BOX
        for datum in PLANES.values():
            assert digest(mine, datum) == digest(theirs, datum)
