"""Drawings in, whatever their format."""

from __future__ import annotations

import os
from pathlib import Path

from planform.drawings.loose import LooseCurves
from planform.errors import LoadError
from planform.extras import needed
from planform.formats import DRAWING_SUFFIXES

__all__ = ["is_drawing", "read_drawing"]


def is_drawing(path: str | os.PathLike[str]) -> bool:
    """True if the name ends like that of a drawing: ``.dxf`` or ``.svg``, in any case."""
    return Path(path).suffix.lower() in DRAWING_SUFFIXES


def read_drawing(
    path: str | os.PathLike[str], *, unit: str | None = None, scale: float = 1.0
) -> LooseCurves:
    """Read a drawing, DXF or SVG by the end of its name; see `read_dxf` and `read_svg`.

    Parameters
    ----------
    path : path-like
    unit : str, optional
        Read the numbers as this unit, whatever the file says.
    scale : float, optional
        Multiply all lengths by this.

    Returns
    -------
    LooseCurves
        In mm.

    Raises
    ------
    LoadError
        If the name ends otherwise, or the file can't be read.
    GeometryError
        For an unknown unit, or a scale that is not positive and finite.

    Examples
    --------
    >>> import planform
    >>> corners = [(0, 0), (60, 0), (60, 40), (0, 40)]
    >>> sides = zip(corners, corners[1:] + corners[:1])
    >>> edge = planform.Contour([planform.Line(start, end) for start, end in sides])
    >>> roof = planform.ProfileSet([planform.Profile(edge)], name="roof")
    >>> import pathlib, tempfile
    >>> path = roof.to_svg(pathlib.Path(tempfile.mkdtemp()) / "roof.svg")
    >>> planform.read_drawing(path).profile_set().bounds.round(6).tolist()
    [[0.0, 0.0], [60.0, 40.0]]
    """
    # Most runs read no drawing: its libraries take longer to load than all else.
    with needed():
        from planform.drawings.dxf_reader import read_dxf
        from planform.drawings.source_file import require_file
        from planform.drawings.svg_reader import read_svg

    source = Path(path)
    reader = {".dxf": read_dxf, ".svg": read_svg}.get(source.suffix.lower())
    if reader is None:
        require_file(source)
        raise LoadError.of_kind(
            "file_not_recognised", f"{source}: drawings end in {' or '.join(DRAWING_SUFFIXES)}"
        )
    return reader(source, unit=unit, scale=scale)
