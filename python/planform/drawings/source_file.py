"""What is asked of any drawing's file before it is read: that it is one, its size, its unit, its scale."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path

from planform.errors import GeometryError, LoadError

MOST_BYTES = 256 * 1024**2
"""Larger files are refused: a DXF takes some 13 times the size of an ASCII file in memory (measured on
10^6 lines)."""
MOST_CURVES = 4_000_000
"""Blocks in blocks can stand for any number of curves; more than this are refused."""

DRAWING_UNITS: Mapping[str, float] = {
    "mm": 1.0,
    "inch": 25.4,
    "foot": 304.8,
    "cm": 10.0,
    "m": 1000.0,
    "dm": 100.0,
    "mil": 0.0254,
    "microinch": 25.4e-6,
    "um": 1e-3,
    "yard": 914.4,
}
"""Units of drawings in mm. An inch is 25.4 mm by definition (international yard and pound, 1959)."""


def require_unit(unit: str) -> None:
    """Raise GeometryError unless the word is one of DRAWING_UNITS."""
    if unit not in DRAWING_UNITS:
        raise GeometryError.of_kind(
            "unknown_option", f"unit = {unit!r} is unknown; valid: {', '.join(DRAWING_UNITS)}"
        )


def require_scale(scale: float) -> None:
    """Raise GeometryError unless the scale is a positive finite number."""
    if not 0 < scale < math.inf:
        raise GeometryError.of_kind(
            "invalid_argument", f"scale = {scale!r} is no finite number above 0"
        )


def require_file(path: Path) -> None:
    """Raise LoadError unless the path is a file with content and of a size that can be read."""
    try:
        size = path.stat().st_size
    except FileNotFoundError:
        raise LoadError.of_kind("file_missing", f"{path}: the file does not exist", path) from None
    except OSError as error:
        raise LoadError.of_kind("file_unreadable", f"{path}: {error.strerror}") from error
    if not path.is_file():
        raise LoadError.of_kind("file_unreadable", f"{path}: this is no file")
    if size == 0:
        raise LoadError.of_kind("file_empty", f"{path}: the file is empty")
    if size > MOST_BYTES:
        raise LoadError.of_kind(
            "file_unreadable",
            f"{path}: {size / 1024**2:.0f} MiB are more than the {MOST_BYTES // 1024**2} MiB that are "
            "read; split the drawing",
        )
