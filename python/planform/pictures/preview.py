"""Solids to look at: as a file for viewers, and turning in a notebook beside their outline.

The file is glTF 2.0 in its binary form (ISO/IEC 12113:2022): metres, y up, linear colours. trimesh writes
it, and has the view for a notebook.
"""

from __future__ import annotations

import importlib
import os
import pathlib
from html import escape
from typing import TYPE_CHECKING, Any

from planform._planform import (
    Model,
    ProfileSet,
    Solid,
    _surface_mesh,
    silhouette,
    write_whole_file,
)
from planform.extras import needed
from planform.pictures.notebook import HEIGHT, WIDTH, _figure, _outline_words, _picture

if TYPE_CHECKING:
    import planform.pictures.preview

__all__ = ["Preview", "preview", "to_glb"]

PLAIN = (0.78, 0.68, 0.52)
"""Colour of what has none, sRGB: bare wood."""
FROM = (-0.6, 0.6, 0.0)
"""From where a solid is seen at first, from above and from the right: turned by so much about the axes of
the file, rad."""
SHARE = 1 / 1000
"""Triangles stray from the surface by this share of the larger side, where nobody asks for less: a pixel of
a large screen."""


def to_glb(
    self: Solid | Model,
    path: str | os.PathLike[str] | None = None,
    *,
    tolerance: float | None = None,
) -> bytes | pathlib.Path:
    """The surface as triangles, for viewers: glTF 2.0, binary; names and colours are kept.

    Parameters
    ----------
    path : path-like, optional
    tolerance : float, optional
        How far triangles may stray from the surface, mm, about; a thousandth of the larger side without it.

    Returns
    -------
    bytes or pathlib.Path
        The bytes (lengths in m and y up, as the format wants it), or the path written.

    Raises
    ------
    ModuleNotFoundError
        Without trimesh: ``pip install 'planform[preview]'``.
    WriteError
        If the file can't be written.
    GeometryError
        If `tolerance` is not positive and finite, or the kernel can't mesh a face.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> post = planform.load(planform.write_demo_assembly(folder / "station.step"))[1]
    >>> post.to_glb()[:4]
    b'glTF'
    >>> post.to_glb(folder / "post.glb").name
    'post.glb'
    """
    scene = _scene([self] if isinstance(self, Solid) else list(self), tolerance)
    data: bytes = scene.export(file_type="glb")
    return data if path is None else write_whole_file(path, data)


def preview(self: Solid, outline: ProfileSet | None = None) -> planform.pictures.preview.Preview:
    """The solid, to be turned with the mouse, and its outline beside it: what a notebook shows.

    Parameters
    ----------
    outline : ProfileSet, optional
        Without it the shadow on the datum ``auto``.

    Returns
    -------
    planform.pictures.preview.Preview
        Shows itself in notebooks; ``html`` is the page, which needs no network. Lengths in captions are mm.

    Raises
    ------
    ModuleNotFoundError
        Without trimesh: ``pip install 'planform[preview]'``.
    GeometryError
        If the solid can't be flattened or meshed.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> post = planform.load(planform.write_demo_assembly(folder / "station.step"))[1]
    >>> "<iframe" in post.preview().html
    True
    """
    with needed():
        from trimesh.viewer.notebook import scene_to_html

    shown = silhouette(self, "auto") if outline is None else outline
    scene = _scene([self], None)
    scene.set_camera(angles=FROM, distance=1.9 * scene.scale)
    page: str = scene_to_html(scene)
    frame = (
        f'<iframe title="{escape(self.name)}" srcdoc="{escape(page)}" '
        f'style="border:0;width:100%;max-width:{WIDTH // 2}px;height:{HEIGHT}px"></iframe>'
    )
    picture = _figure(_picture(shown, WIDTH // 2, HEIGHT), _outline_words(shown))
    cells = "".join(
        f'<div style="flex:1 1 {WIDTH // 3}px;min-width:0">{each}</div>'
        for each in (frame, picture)
    )
    return Preview(
        f'<div style="display:flex;flex-wrap:wrap;gap:1em;align-items:center">{cells}</div>'
    )


class Preview:
    """A piece of a page; notebooks show it.

    Attributes
    ----------
    html : str
    """

    def __init__(self, html: str) -> None:
        self.html = html

    def _repr_html_(self) -> str:
        return self.html


def _scene(solids: list[Solid], tolerance: float | None) -> Any:
    with needed():
        trimesh: Any = importlib.import_module("trimesh")  # it has no types
    import numpy as np

    scene = trimesh.Scene()
    for solid in solids:
        lower, upper = solid.bounds
        points, triangles = _surface_mesh(
            solid, SHARE * float(max(upper - lower)) if tolerance is None else tolerance
        )
        x, y, z = points.T / 1000.0
        in_metres = np.column_stack([x, z, -y])  # y up
        color = [round(255 * _linear(part)) for part in solid.color or PLAIN]
        material = trimesh.visual.material.PBRMaterial(
            baseColorFactor=[*color, 255], metallicFactor=0.0, roughnessFactor=0.9
        )
        mesh = trimesh.Trimesh(in_metres, triangles, process=False)
        mesh.visual = trimesh.visual.TextureVisuals(material=material)
        scene.add_geometry(mesh, node_name=solid.name, geom_name=solid.name)
    return scene


def _linear(part: float) -> float:
    """From sRGB, by the curve of IEC 61966-2-1."""
    return part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
