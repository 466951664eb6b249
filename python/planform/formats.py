"""Formats of files, by the ends of their names: one list for all that reads, writes, finds or watches them."""

from __future__ import annotations

__all__ = ["DRAWING_FORMATS", "DRAWING_SUFFIXES", "FORMATS", "MODEL_SUFFIXES", "OUTLINE_SUFFIXES"]

STEP_SUFFIXES = (".stp", ".step")
BREP_SUFFIXES = (".brep", ".brp")
MODEL_SUFFIXES = (
    *STEP_SUFFIXES,
    ".stpz",
    *BREP_SUFFIXES,
    *(f"{suffix}.gz" for suffix in (*STEP_SUFFIXES, *BREP_SUFFIXES)),
)
"""Models, in lower case. Compressed ones are told by their content."""

DRAWING_SUFFIXES = (".dxf", ".svg")
"""Drawings that come from elsewhere."""
OUTLINE_SUFFIXES = (*DRAWING_SUFFIXES, ".json")
"""Whatever outlines are read from without a model."""

DRAWING_FORMATS = ("dxf", "svg")
"""What sheets and plans are drawn in."""
FORMATS = (*DRAWING_FORMATS, "json")
"""What outlines are written in."""
