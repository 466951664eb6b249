"""Bend tables in TOML: what was measured of bends, and the least radii of a material.

Lengths are millimetres, angles degrees by which the sheet is bent, as people read them off a protractor::

    [[bend]]
    thickness = 2.0
    inside_radius = 2.0
    angle = 90
    allowance = 4.4        # blank between the lines where the bend begins and ends

    [[bend]]
    thickness = 2.0
    inside_radius = 2.0
    angle = 120
    deduction = 2.1        # or: what the blank is shorter than the two outer lengths together

    [[least_radius]]
    thickness = 2.0
    inside_radius = 1.6
"""

from __future__ import annotations

import math
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from planform._planform import BendTableRow
from planform.arguments import positive
from planform.errors import LoadError

THICKNESS_SHARE = 0.01
"""A row counts for a sheet whose thickness differs by no more than this share."""


@dataclass(frozen=True)
class BendTable:
    """What was measured of bends in some material.

    Attributes
    ----------
    rows : tuple of BendTableRow
        Lengths of bends.
    least_radii : tuple of (float, float), optional
        Thickness and the least inside radius that the material takes in it, mm.
    source : str, optional
        Where it comes from: a file's name.

    Examples
    --------
    >>> import math, planform
    >>> row = planform.BendTableRow(thickness=1.0, inside_radius=1.0, angle=math.pi / 2, allowance=2.1)
    >>> planform.BendTable((row,), least_radii=((1.0, 0.8),)).least_radius(1.0)
    0.8
    """

    rows: tuple[BendTableRow, ...]
    least_radii: tuple[tuple[float, float], ...] = field(default_factory=tuple)
    source: str = field(default_factory=str)

    def least_radius(self, thickness: float) -> float | None:
        """The least inside radius that the table gives for a thickness, mm.

        Parameters
        ----------
        thickness : float
            mm.

        Returns
        -------
        float or None
            None if it gives none for this thickness (within 1 %).
        """
        positive(thickness, "thickness")
        radii = [
            radius
            for listed, radius in self.least_radii
            if abs(listed - thickness) <= THICKNESS_SHARE * thickness
        ]
        return max(radii) if radii else None


def read_bend_table(path: str | Path) -> BendTable:
    """Read a bend table from a TOML file.

    Parameters
    ----------
    path : str or pathlib.Path
        Arrays ``bend`` and ``least_radius`` of tables, as the module's text shows.

    Returns
    -------
    BendTable

    Raises
    ------
    LoadError
        If the file can't be read, or a row lacks a number, has one that makes no sense, or a key that does
        not exist; the message gives file and row.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> path = pathlib.Path(tempfile.mkdtemp()) / "bends.toml"
    >>> row = "thickness = 1, inside_radius = 1, angle = 90, allowance = 2.1"
    >>> _ = path.write_text(f"bend = [{{{row}}}]")
    >>> planform.read_bend_table(path).rows[0].allowance
    2.1
    """
    path = Path(path)
    try:
        data = tomllib.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError as error:
        raise LoadError.of_kind("file_missing", f"{path}: the file does not exist", path) from error
    except tomllib.TOMLDecodeError as error:
        raise LoadError.of_kind("file_damaged", f"{path}: {error}") from error
    except (OSError, ValueError) as error:  # of a path that is none, of bytes that are no text
        raise LoadError.of_kind("file_unreadable", f"{path}: can't be read: {error}") from error
    unknown = set(data) - {"bend", "least_radius"}
    if unknown:
        raise LoadError.of_kind(
            "file_damaged",
            f"{path}: '{sorted(unknown)[0]}' is unknown; valid: bend, least_radius",
        )
    rows = tuple(
        bend_row(row, f"{path}: bend {i}") for i, row in enumerate(rows_of(data, "bend", path), 1)
    )
    least = []
    for i, row in enumerate(rows_of(data, "least_radius", path), 1):
        where = f"{path}: least_radius {i}"
        known_keys(row, ("thickness", "inside_radius"), where)
        least.append((number(row, "thickness", where), number(row, "inside_radius", where, 0.0)))
    if not rows and not least:
        raise LoadError.of_kind("file_damaged", f"{path}: it has no rows; add a table [[bend]]")
    return BendTable(rows, tuple(least), str(path))


def rows_of(data: dict[str, Any], name: str, path: Path) -> list[dict[str, Any]]:
    """The array of tables of a name; empty if there is none."""
    rows = data.get(name, [])
    if not isinstance(rows, list) or not all(isinstance(row, dict) for row in rows):
        raise LoadError.of_kind("file_damaged", f"{path}: write each row of {name} as [[{name}]]")
    return rows


def known_keys(row: dict[str, Any], valid: tuple[str, ...], where: str) -> None:
    """Raise an error for a key that does not exist."""
    for key in row:
        if key not in valid:
            raise LoadError.of_kind(
                "file_damaged", f"{where}: '{key}' is unknown; valid: {', '.join(valid)}"
            )


def number(row: dict[str, Any], key: str, where: str, least: float | None = None) -> float:
    """A finite number of a row, above 0, or at least ``least``."""
    value = row.get(key)
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise LoadError.of_kind("file_damaged", f"{where}: {key} must be a number, not {value!r}")
    if value < least if least is not None else value <= 0:
        bound = "above 0" if least is None else f"{least:g} or more"
        raise LoadError.of_kind("file_damaged", f"{where}: {key} must be {bound}, not {value:g}")
    return float(value)


def bend_row(row: dict[str, Any], where: str) -> BendTableRow:
    """One row of bends."""
    known_keys(row, ("thickness", "inside_radius", "angle", "allowance", "deduction"), where)
    if ("allowance" in row) == ("deduction" in row):
        raise LoadError.of_kind("file_damaged", f"{where}: give either allowance or deduction")
    angle = number(row, "angle", where)
    if angle > 180:
        raise LoadError.of_kind("file_damaged", f"{where}: angle is in degrees, at most 180")
    if "allowance" in row:
        length: dict[str, float] = {"allowance": number(row, "allowance", where)}
    else:
        length = {"deduction": number(row, "deduction", where, -math.inf)}
    return BendTableRow(
        number(row, "thickness", where),
        number(row, "inside_radius", where, 0.0),
        math.radians(angle),
        **length,
    )
