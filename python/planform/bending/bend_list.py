"""The bends of a blank as a table: CSV, JSON."""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Iterable
from typing import Any

from planform._planform import Bend, Blank, ProfileSet
from planform.arguments import positive

COLUMNS = (
    ("number", "number"),
    ("kind", "kind"),
    ("direction", "direction"),
    ("angle_degrees", "angle"),
    ("inside_radius_mm", "inside_radius"),
    ("length_mm", "length"),
    ("allowance_mm", "allowance"),
    ("deduction_mm", "deduction"),
    ("k_factor", "k_factor"),
)
"""Columns of the CSV, and the keys of the JSON that they come from."""

DIGITS = 6
"""Decimals of lengths and angles in files: a millionth of a mm is far below what any press holds."""


def bend_figures(bend: Bend) -> dict[str, Any]:
    """What a bend is, for files: angles in degrees, lengths in mm.

    Parameters
    ----------
    bend : Bend

    Returns
    -------
    dict
        ``number``, ``kind``, ``direction``, ``angle``, ``inside_radius``, ``length``, ``allowance``,
        ``deduction``, ``k_factor``, and ``lines`` and ``limits`` as lists of start and end.
    """

    def rounded(value: float) -> float:
        return round(value, DIGITS) + 0.0

    def pieces(lines: Iterable[Any]) -> list[list[list[float]]]:
        return [
            [[rounded(float(x)), rounded(float(y))] for x, y in (line.start, line.end)]
            for line in lines
        ]

    return {
        "number": bend.number,
        "kind": bend.kind,
        "direction": bend.direction,
        "angle": rounded(math.degrees(bend.angle)),
        "inside_radius": rounded(bend.inside_radius),
        "length": rounded(bend.length),
        "allowance": rounded(bend.allowance),
        "deduction": rounded(bend.deduction),
        "k_factor": rounded(bend.k_factor),
        "lines": pieces(bend.lines),
        "limits": pieces(bend.limits),
    }


def bends_csv(bends: Iterable[Bend]) -> str:
    """The bends as CSV: one row a bend, decimal points, commas between.

    Parameters
    ----------
    bends : iterable of Bend

    Returns
    -------
    str

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> text = planform.bends_csv(planform.unfold(station[26]).bends)
    >>> text.splitlines()[0].split(",")[:3]
    ['number', 'kind', 'direction']
    """
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\r\n")
    writer.writerow(title for title, _ in COLUMNS)
    for bend in bends:
        figures = bend_figures(bend)
        writer.writerow(figures[key] for _, key in COLUMNS)
    return stream.getvalue()


def bends_json(name: str, thickness: float, outline: ProfileSet, bends: Iterable[Bend]) -> str:
    """The bends as JSON, with the thickness and the size of the blank.

    Parameters
    ----------
    name : str
        Of the part.
    thickness : float
        mm.
    outline : ProfileSet
        The blank.
    bends : iterable of Bend

    Returns
    -------
    str
        Lengths in mm, angles in degrees.

    Examples
    --------
    >>> import pathlib, planform, tempfile
    >>> folder = pathlib.Path(tempfile.mkdtemp())
    >>> station = planform.load(planform.write_demo_assembly(folder / "station.step"))
    >>> import json
    >>> blank = planform.unfold(station[26])
    >>> list(json.loads(planform.bends_json("gutter", blank.thickness, blank.outline, blank.bends)))
    ['name', 'unit', 'angles', 'thickness', 'width', 'height', 'area', 'bends']
    """
    positive(thickness, "thickness")
    width, height = size_of(outline)
    data = {
        "name": name,
        "unit": "mm",
        "angles": "degrees",
        "thickness": round(thickness, DIGITS),
        "width": round(width, DIGITS),
        "height": round(height, DIGITS),
        "area": round(outline.area, DIGITS),
        "bends": [bend_figures(bend) for bend in bends],
    }
    return json.dumps(data, ensure_ascii=False, indent=1) + "\n"


def size_of(outline: ProfileSet) -> tuple[float, float]:
    """Width and height of an outline, mm."""
    lower, upper = outline.bounds
    return float(upper[0] - lower[0]), float(upper[1] - lower[1])


def summary(blank: Blank) -> str:
    """One line: thickness, size, how many bends each way."""
    width, height = size_of(blank.outline)
    up = sum(bend.up and bend.kind != "roll" for bend in blank.bends)
    rolls = sum(bend.kind == "roll" for bend in blank.bends)
    down = len(blank.bends) - up - rolls
    words = (
        f"{width:.2f} × {height:.2f} mm, {blank.thickness:g} mm thick, {up} bends up, {down} down"
    )
    return words + (f", {rolls} rolled" if rolls else "")
