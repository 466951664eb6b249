"""A plain layout: plates in rows, as many of each as are to be cut, none turned, none nested."""

from __future__ import annotations

from collections.abc import Sequence

from planform._planform import Mark, Profile, ProfileSet
from planform.cut_lists.entries import CutListEntry

GAP = 10.0
"""Between pieces and rows, mm: room for a cut on either side of thick plate (common practice, no source)."""
ROW_WIDTH = 2000.0
"""A row is closed before it grows wider than this, mm; a single piece may be wider."""


def rows_drawing(entries: Sequence[CutListEntry]) -> ProfileSet:
    """All pieces of the entries in one profile set, mm, as the tool goes: rows from the lower left corner,
    one entry after the other. Each profile is named ``NAME (number of quantity)``."""
    profiles: list[Profile] = []
    marks: list[Mark] = []
    x = y = row_height = 0.0
    for entry in entries:
        way = entry.way or entry.outline
        lower, upper = way.bounds
        width, height = float(upper[0] - lower[0]), float(upper[1] - lower[1])
        for number in range(1, entry.quantity + 1):
            if x > 0.0 and x + width > ROW_WIDTH:
                x, y, row_height = 0.0, y + row_height + GAP, 0.0
            moved = way.transformed([[1, 0, x - lower[0]], [0, 1, y - lower[1]]])
            first = len(profiles)
            title = f"{entry.name} ({number} of {entry.quantity})"
            for profile in moved.profiles:
                parent = profile.parent + first if profile.parent >= 0 else -1
                profiles.append(Profile(profile.outer, profile.holes, title, parent))
            marks += moved.marks
            x += width + GAP
            row_height = max(row_height, height)
    tolerance = max((entry.outline.tolerance for entry in entries), default=0.01)
    notes = dict.fromkeys(note for entry in entries if entry.way for note in added_notes(entry))
    return ProfileSet(profiles, marks, tolerance=tolerance, name="rows", notes=list(notes))


def added_notes(entry: CutListEntry) -> list[str]:
    """What the way of the tool says beyond its outline: the width of cut, fits, reliefs."""
    return list(entry.way.notes[len(entry.outline.notes) :]) if entry.way else []
