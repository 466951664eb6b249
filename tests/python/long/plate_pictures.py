"""Pictures of solids beside their outlines, with the verdict on each: plate or not, and why. For the eye.

    .venv/bin/python tests/python/long/plate_pictures.py FOLDER [FILE:SOLID ...]

Without solids it draws the twenty that DEVELOPERS.md lists; four to a picture. The mesh is the kernel's.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

import matplotlib as mpl

mpl.use("Agg")
import matplotlib.pyplot as plt
import numpy
import planform
from mpl_toolkits.mplot3d.art3d import Poly3DCollection

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from mesh_oracle import bodies, read_shape, triangles

LIBRARY = Path(os.environ.get("PLANFORM_LONG_MODELS", "/usr/share/kicad/3dmodels"))
DSUB = "Connector_Dsub.3dshapes/DSUB-"
QFP = "Package_QFP.3dshapes/"
LOOKED_AT = (
    "Heatsink.3dshapes/Heatsink_125x35x50mm_3xFixationM3.step:1",
    "Heatsink.3dshapes/Heatsink_AAVID_573300D00010G_TO-263.step:1",
    "Heatsink.3dshapes/Heatsink_Stonecold_HS-132_32x14mm_2xFixation1.5mm.step:1",
    f"{DSUB}15-HD_Female_Horizontal_P2.29x1.98mm_EdgePinOffset3.03mm_Housed_MountingHolesOffset4.94mm.step:1",
    f"{DSUB}15-HD_Female_Horizontal_P2.29x1.98mm_EdgePinOffset3.03mm_Housed_MountingHolesOffset4.94mm.step:2",
    f"{DSUB}15-HD_Female_Vertical_P2.29x1.98mm_MountingHoles.step:1",
    f"{DSUB}15-HD_Female_Vertical_P2.29x1.98mm_MountingHoles.step:2",
    f"{DSUB}15_Female_Horizontal_P2.77x2.84mm_EdgePinOffset14.56mm_Housed_MountingHolesOffset15.98mm.step:1",
    f"{DSUB}15_Female_Horizontal_P2.77x2.84mm_EdgePinOffset9.40mm.step:1",
    f"{DSUB}25_Female_Vertical_P2.77x2.84mm.step:1",
    f"{DSUB}37_Female_Vertical_P2.77x2.84mm.step:1",
    f"{DSUB}25_Male_Horizontal_P2.77x2.84mm_EdgePinOffset14.56mm_Housed_MountingHolesOffset15.98mm.step:1",
    f"{QFP}LQFP-32_7x7mm_P0.8mm.step:1",
    f"{QFP}LQFP-64_7x7mm_P0.4mm.step:1",
    f"{QFP}HTQFP-64-1EP_10x10mm_P0.5mm_EP8x8mm.step:1",
    f"{QFP}LQFP-36_7x7mm_P0.65mm.step:1",
    f"{QFP}TQFP-44-1EP_10x10mm_P0.8mm_EP4.5x4.5mm.step:1",
    f"{QFP}LQFP-48-1EP_7x7mm_P0.5mm_EP3.6x3.6mm.step:1",
    f"{QFP}LQFP-52_14x14mm_P1mm.step:1",
    f"{QFP}TQFP-48_7x7mm_P0.5mm.step:1",
)


def draw_solid(axes: object, mesh: numpy.ndarray) -> None:
    """The triangles, lit from above."""
    normals = numpy.cross(mesh[:, 1] - mesh[:, 0], mesh[:, 2] - mesh[:, 0])
    lengths = numpy.maximum(numpy.linalg.norm(normals, axis=1), 1e-30)
    light = numpy.abs(normals @ numpy.array([0.3, -0.5, 0.8])) / lengths
    colours = numpy.outer(0.35 + 0.6 * light / light.max(), [0.75, 0.85, 1.0]).clip(0, 1)
    axes.add_collection3d(Poly3DCollection(mesh, facecolors=colours, edgecolors="none"))
    low, high = mesh.reshape(-1, 3).min(axis=0), mesh.reshape(-1, 3).max(axis=0)
    middle, reach = (low + high) / 2, (high - low).max() / 2
    for set_limits, centre in zip(
        (axes.set_xlim, axes.set_ylim, axes.set_zlim), middle, strict=True
    ):
        set_limits(centre - reach, centre + reach)
    axes.set_box_aspect((1, 1, 1))
    axes.view_init(elev=35, azim=-55)
    axes.set_axis_off()


def draw_outline(axes: object, outline: planform.ProfileSet) -> None:
    for profile in outline:
        for contour in (profile.outer, *profile.holes):
            points = numpy.array(contour.points(0.02))
            points = numpy.vstack([points, points[:1]])
            axes.plot(points[:, 0], points[:, 1], color="black", linewidth=0.7)
    axes.set_aspect("equal")


def verdict_on(model: planform.Model) -> tuple[str, planform.ProfileSet]:
    found = planform.plates(model)
    if found.plates:
        (plate,) = found.plates
        return f"plate of {plate.thickness:g} mm", plate.outline
    (other,) = found.others
    solid = model.solids[0]
    return f"{other.word}: {other.text}", planform.silhouette(solid, planform.auto_datum(solid))


def main() -> None:
    folder = Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    wanted = sys.argv[2:] or LOOKED_AT
    for start in range(0, len(wanted), 4):
        figure = plt.figure(figsize=(14, 20))
        for row, which in enumerate(wanted[start : start + 4]):
            name, number = which.rsplit(":", 1)
            body = bodies(read_shape(LIBRARY / name))[int(number) - 1]
            text, outline = verdict_on(planform.from_ocp(body))
            print(f"{which}: {text}", flush=True)
            axes = figure.add_subplot(4, 2, 2 * row + 1, projection="3d")
            draw_solid(axes, triangles(body, 0.05))
            axes.set_title(f"{Path(name).stem}, {number}", fontsize=8)
            axes = figure.add_subplot(4, 2, 2 * row + 2)
            draw_outline(axes, outline)
            axes.set_title(text, fontsize=8, wrap=True)
        figure.tight_layout()
        figure.savefig(folder / f"plates_{start // 4 + 1}.png", dpi=55)
        plt.close(figure)


if __name__ == "__main__":
    main()
