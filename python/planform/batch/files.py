"""The files of a drawing: whole, or absent."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from planform._planform import (
    Allowance,
    ProfileSet,
)
from planform.batch.drawing import Drawing
from planform.batch.settings import Settings
from planform.errors import Error
from planform.layer_files import drawing_layers
from planform.naming import one_line


def written(drawing: Drawing, settings: Settings, folder: Path) -> Drawing:
    """Write the files of a drawing; a failure comes back in ``error``, nothing is raised.

    Where there is nothing to write, files that an earlier run wrote under these names go: an old drawing must
    not pass for a new one.
    """
    base = folder / drawing.stem
    if drawing.outcome != "drawn" or drawing.profiles is None or drawing.way is None:
        remove_earlier(base, settings)
        return drawing
    try:
        files = write(drawing.profiles, base, settings, drawing.way, drawing.allowance)
    except Error as error:
        remove_earlier(base, settings)
        return replace(drawing, outcome="failed", error=one_line(str(error)))
    return replace(drawing, files=tuple(files))


def remove_earlier(base: Path, settings: Settings) -> None:
    """Remove the files of a drawing, if there are any."""
    for path in file_paths(base, settings):
        with suppress(OSError):
            path.unlink(missing_ok=True)


def file_paths(base: Path, settings: Settings) -> list[Path]:
    """The files of a drawing: ``base`` with each format's suffix."""
    return [base.parent / f"{base.name}.{suffix}" for suffix in settings.formats]


def write(
    profiles: ProfileSet,
    base: Path,
    settings: Settings,
    way: ProfileSet | None = None,
    allowance: Allowance | None = None,
) -> list[Path]:
    """Write a profile set as ``base`` with each format's suffix; return the paths. Raises WriteError.

    DXF and SVG show ``way``, where there is one; JSON keeps the outline and the allowance. An earlier file of
    that name is replaced, also where it is a symbolic link: the link goes, what it points to is not touched.
    """
    shown = profiles if way is None else way
    layers = drawing_layers(settings.layers)
    paths = file_paths(base, settings)
    for suffix, path in zip(settings.formats, paths, strict=True):
        if suffix == "dxf":
            shown.to_dxf(path, curves=settings.curves, unit=settings.unit, layers=layers)
        elif suffix == "svg":
            stroke = {} if settings.svg_stroke is None else {"stroke_width": settings.svg_stroke}
            shown.to_svg(path, layers=layers, **stroke)
        elif suffix == "json":
            kept = {} if allowance is None or allowance.is_none else {"allowance": allowance}
            profiles.to_json(path, **kept)
        else:
            raise AssertionError(f"no writer for {suffix!r}")
    return paths
