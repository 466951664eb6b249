"""How an outline differs from the one of the run before: material added, material removed, a picture."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from planform._planform import ProfileSet
from planform.errors import Error
from planform.naming import one_line
from planform.pictures.outlines import change_svg

OUTLINE = ".{}.outline"
"""Name of the file beside a drawing that keeps its profile set (JSON) for the next run."""


@dataclass(frozen=True)
class Change:
    """One drawing that differs from the run before.

    Attributes
    ----------
    name : str
        The drawing's file stem.
    added, removed : float
        Area of new minus old and of old minus new, mm².
    picture : str
        An ``<svg>`` element: the old outline, what is added and what is removed.
    note : str
        Why there is no picture: a new or a gone drawing, or outlines that don't compare.
    """

    name: str
    added: float = 0.0
    removed: float = 0.0
    picture: str = ""
    note: str = ""


def read_outlines(folder: Path, names: Iterable[str]) -> dict[str, ProfileSet]:
    """The outlines that a run has kept, by file stem; what can't be read is left out."""
    prefix, suffix = OUTLINE.split("{}")
    outlines = {}
    for name in names:
        path = folder / name
        if not (name.startswith(prefix) and name.endswith(suffix)) or path.is_symlink():
            continue
        try:
            outlines[name[len(prefix) : -len(suffix)]] = ProfileSet.from_json(path, validate=False)
        except Error:
            continue
    return outlines


def change_of(name: str, old: ProfileSet | None, new: ProfileSet | None) -> Change | None:
    """How a drawing differs from before; None if it does not.

    Both are seen in the model: what moved there has changed, an origin of the drawing that moved has not.
    """
    if old is None:
        return Change(name, added=new.area if new else 0.0, note="new drawing")
    if new is None:
        return Change(name, removed=old.area, note="no longer drawn")
    if old == new:
        return None
    try:
        added, removed = new - old, old - new
        if not (added.profiles or removed.profiles):
            return None
        kept = new & old
    except Error as error:
        return Change(name, note=one_line(f"the outlines can't be compared: {error}"))
    picture = change_svg(kept, added, removed)
    return Change(name, added.area, removed.area, picture)
