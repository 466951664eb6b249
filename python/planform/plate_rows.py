"""A plain layout: plates in rows, as many of each as are to be cut, none turned, none nested."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from . import Mark, Profile, ProfileSet

if TYPE_CHECKING:
    from .cut_list import CutListEntry

GAP = 10.0
"""Between pieces and rows, mm: room for a cut on either side of thick plate (common practice, no source)."""
ROW_WIDTH = 2000.0
"""A row is closed before it grows wider than this, mm; a single piece may be wider."""


def rows_drawing(entries: Sequence[CutListEntry]) -> ProfileSet:
    """All pieces of the entries in one profile set, mm: rows from the lower left corner, one entry after the
    other. Each profile is named ``NAME (number of quantity)``."""
    profiles: list[Profile] = []
    marks: list[Mark] = []
    x = y = row_height = 0.0
    for entry in entries:
        width, height = entry.size
        lower = entry.outline.bounds[0]
        for number in range(1, entry.quantity + 1):
            if x > 0.0 and x + width > ROW_WIDTH:
                x, y, row_height = 0.0, y + row_height + GAP, 0.0
            moved = entry.outline.transform([[1, 0, x - lower[0]], [0, 1, y - lower[1]]])
            first = len(profiles)
            title = f"{entry.name} ({number} of {entry.quantity})"
            for profile in moved.profiles:
                parent = profile.parent + first if profile.parent >= 0 else -1
                profiles.append(Profile(profile.outer, profile.holes, title, parent))
            marks += moved.marks
            x += width + GAP
            row_height = max(row_height, height)
    tolerance = max((entry.outline.tolerance for entry in entries), default=0.01)
    return ProfileSet(profiles, marks, tolerance=tolerance, name="rows")
