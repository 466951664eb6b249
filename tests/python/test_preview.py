"""Solids as files for viewers and in notebooks: glTF 2.0 (ISO/IEC 12113:2022), read back by its layout."""

from __future__ import annotations

import io
import json
import math
import re
import struct
from pathlib import Path
from typing import Any

import kernel_models as kernel
import planform
import pytest
import trimesh


class Part:
    def __init__(self, shape: object, label: str, color: object = None) -> None:
        self.wrapped, self.label, self.color = shape, label, color


def feeder() -> planform.Model:
    from OCP.Quantity import Quantity_ColorRGBA

    post = Part(
        kernel.moved(kernel.cylinder(20, 300), 500, 0), "post", Quantity_ColorRGBA(0.5, 0.25, 0, 1)
    )
    return planform.from_ocp([post, Part(kernel.box(200, 100, 10), "tray")])


def json_of(data: bytes) -> dict[str, Any]:
    """The first chunk of a binary glTF (clause 4.4 of the standard, from memory)."""
    magic, version, length = struct.unpack("<4sII", data[:12])
    assert (magic, version, length) == (b"glTF", 2, len(data))
    size, kind = struct.unpack("<I4s", data[12:20])
    assert kind == b"JSON"
    words: dict[str, Any] = json.loads(data[20 : 20 + size])
    return words


def test_a_model_for_viewers(tmp_path: Path) -> None:
    model = feeder()
    data = model.to_glb()
    assert isinstance(data, bytes) and data == feeder().to_glb()
    path = model.to_glb(tmp_path / "feeder.glb")
    assert path == tmp_path / "feeder.glb" and path.read_bytes() == data
    words = json_of(data)
    assert {"post", "tray"} <= {node.get("name") for node in words["nodes"]}
    # The kernel's colours are linear, as those of the format are.
    first = words["materials"][0]["pbrMetallicRoughness"]["baseColorFactor"]
    assert first == pytest.approx([0.5, 0.25, 0, 1], abs=1 / 255)


def test_metres_and_y_up() -> None:
    """The post lies along z in the model: along y in the file. Volumes by the library that reads it."""
    data = feeder().to_glb(tolerance=0.01)
    assert isinstance(data, bytes)
    scene = trimesh.load_scene(io.BytesIO(data), file_type="glb")
    post, tray = scene.geometry["post"], scene.geometry["tray"]
    assert post.bounds[1] - post.bounds[0] == pytest.approx([0.04, 0.3, 0.04], abs=2e-5)
    assert post.bounds[0][0] == pytest.approx(0.48, abs=1e-5)
    assert tray.bounds.ravel() == pytest.approx([0, 0, -0.1, 0.2, 0.01, 0], abs=1e-7)
    assert tray.volume == pytest.approx(0.2 * 0.1 * 0.01, rel=1e-6)
    assert post.volume == pytest.approx(math.pi * 0.02**2 * 0.3, rel=5e-3)


@pytest.mark.parametrize("tolerance", [0.0, -1.0, math.nan])
def test_tolerances_that_are_none(tolerance: float) -> None:
    with pytest.raises(planform.GeometryError, match="tolerance"):
        feeder()["tray"].to_glb(tolerance=tolerance)


def test_solid_and_outline_side_by_side() -> None:
    tray = feeder()["tray"]
    html = tray.preview()._repr_html_()
    assert html.index("<iframe") < html.index("<svg")
    assert "200 x 100 mm" in html
    assert not re.search(r"(src|href)=(\"|&quot;|')https?:", html), "nothing comes from a network"
    other = tray.preview(planform.silhouette(tray, "xz")).html
    assert "200 x 10 mm" in other
